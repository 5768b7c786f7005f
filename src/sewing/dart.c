/* SPDX-License-Identifier: GPL-3.0-or-later */
/* With the dart closed leg B lies on leg A. Folded to A's side the intake lies on A: the half
 * next to leg A is turned over about that leg, and the other half lies on it,
 * turned back about the fold. Cut along A's edge, and opened, the first half's edge is
 * A's mirrored in leg A, and the second's that mirrored in the fold: two
 * mirrorings about lines through the dart's point, together the turn by the intake that
 * closes it.
 */
#include "sewing/dart.h"

/* Less is no intake, radians. */
#define LEAST_INTAKE 1e-6

/* The running edge beside leg `side`, from the mouth on. */
static gboolean
neighbour (SewingFacts *facts, const Pattern *pattern, const SewingJoint *joint,
           int side, GeoPoint mouth, GeoChain *chain)
{
  const PatternPiece *piece = NULL;
  const PatternEdge *edge
      = pattern_get_edge (pattern, side == 0 ? joint->a_piece : joint->b_piece,
                          side == 0 ? joint->a_edge : joint->b_edge, &piece);
  if (edge == NULL)
    return FALSE;
  const SewingPiece *known = sewing_facts_piece (facts, piece);
  geo_chain_copy (chain, &known->stitch[edge - piece->edges]);
  if (chain->count == 0)
    return FALSE;
  if (geo_distance (geo_chain_end (chain), mouth)
      < geo_distance (geo_chain_start (chain), mouth))
    geo_chain_reverse (chain);
  return TRUE;
}

/* Cut off where it meets the line through a point; carried on straight where it does
 * not come so far. */
static gboolean
cut_at (GeoChain *chain, GeoPoint on, GeoPoint along)
{
  for (size_t i = 0; i < chain->count; i++)
    {
      double t[3];
      if (geo_cubic_crossings_line (&chain->cubics[i], on, along, t) == 0)
        continue;
      chain->cubics[i] = geo_cubic_part (&chain->cubics[i], 0, t[0]);
      chain->count = i + 1;
      return TRUE;
    }
  GeoPoint end = geo_chain_end (chain);
  GeoPoint way = geo_chain_tangent (chain, (GeoPlace){ chain->count - 1, 1 });
  double across = geo_cross (along, way);
  if (fabs (across) < 1e-9)
    return FALSE;
  double far = geo_cross (along, geo_sub (on, end)) / across;
  if (far < 0)
    return FALSE;
  geo_chain_append_line (chain, end, geo_along (end, way, far));
  return TRUE;
}

/* From the mouth of leg `side` to the fold. */
static gboolean
half_cap (SewingFacts *facts, const Pattern *pattern, const SewingJoint *joint,
          const SewingDart *dart, int side, GeoChain *half)
{
  GeoPoint leg = geo_sub (dart->mouth[side], dart->point);
  GeoPoint a = geo_unit (geo_sub (dart->mouth[0], dart->point));
  GeoPoint b = geo_unit (geo_sub (dart->mouth[1], dart->point));
  if (!neighbour (facts, pattern, joint, side, dart->mouth[side], half))
    return FALSE;
  geo_chain_transform (half, geo_motion_mirror (dart->point, leg));
  return cut_at (half, dart->point, geo_unit (geo_add (a, b)));
}

static gboolean
find_dart (SewingFacts *facts, const Pattern *pattern, const PatternSeam *seam,
           SewingJoint *joint, SewingDart *dart)
{
  if (seam->join != PATTERN_JOIN_DART)
    return FALSE;
  for (int end = 0; end < 2; end++)
    {
      const SewingSeam *known = sewing_facts_seam (facts, pattern, seam);
      if (known == NULL
          || !sewing_seam_joint (facts, pattern, seam, end, joint))
        continue;
      dart->mouth[0] = joint->at;
      dart->mouth[1]
          = geo_motion_apply (geo_motion_inverse (joint->motion), joint->at);
      dart->point = geo_lerp (
          sewing_seam_point (known, 0, end == 0 ? known->lengths[0] : 0),
          sewing_seam_point (known, 1, end == 0 ? known->lengths[1] : 0), 0.5);
      dart->intake
          = fabs (geo_angle_between (geo_sub (dart->mouth[0], dart->point),
                                     geo_sub (dart->mouth[1], dart->point)));
      return dart->intake > LEAST_INTAKE && dart->intake < G_PI - LEAST_INTAKE;
    }
  return FALSE;
}

gboolean
sewing_dart_cap (SewingFacts *facts, const Pattern *pattern,
                 const PatternSeam *seam, SewingDart *dart, GeoChain *cap)
{
  g_return_val_if_fail (
      facts != NULL && pattern != NULL && seam != NULL && dart != NULL, FALSE);
  SewingJoint joint;
  if (!find_dart (facts, pattern, seam, &joint, dart))
    return FALSE;
  GeoPoint way = geo_add (geo_unit (geo_sub (dart->mouth[0], dart->point)),
                          geo_unit (geo_sub (dart->mouth[1], dart->point)));
  GeoMotion fold = geo_motion_mirror (dart->point, way);
  GeoChain halves[2] = { GEO_CHAIN_EMPTY, GEO_CHAIN_EMPTY };
  /* The side it lies on, whose edge both halves take; each its own where open. */
  int over = seam->press == PATTERN_PRESS_TO_A   ? 0
             : seam->press == PATTERN_PRESS_TO_B ? 1
                                                 : -1;
  gboolean good = TRUE;
  for (int side = 0; side < 2 && good; side++)
    {
      good = half_cap (facts, pattern, &joint, dart, over < 0 ? side : over,
                       &halves[side]);
      if (good && over >= 0 && side != over)
        geo_chain_transform (&halves[side], fold);
    }
  if (good)
    {
      dart->fold = geo_chain_end (&halves[over == 1 ? 1 : 0]);
      geo_chain_reverse (&halves[1]);
      GeoPoint to = geo_chain_start (&halves[1]);
      if (geo_distance (geo_chain_end (&halves[0]), to) > 1e-9)
        geo_chain_append_line (&halves[0], geo_chain_end (&halves[0]), to);
      for (int side = 0; side < 2 && cap != NULL; side++)
        for (size_t i = 0; i < halves[side].count; i++)
          geo_chain_append (cap, halves[side].cubics[i]);
    }
  geo_chain_clear (&halves[0]);
  geo_chain_clear (&halves[1]);
  return good;
}
