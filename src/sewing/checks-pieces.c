/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be seen on one piece: its outline, fold, hollows, grain and cuts. */
#include "sewing/checks-private.h"

#include <glib/gi18n.h>

#define DEGREES (180 / G_PI)
/* A fold is creased along a straight line; cloth hides less than this. */
#define FOLD_STRAIGHT 0.5
/* What an allowance is rounded down to when it is to fit into a hollow. */
#define WIDTH_STEP 0.5
/* Narrower nobody sews. */
#define LEAST_WIDTH 2.0

static SewingFinding *
add (SewingCheckRun *run, SewingCheck check, SewingWeight weight,
     const SewingPiece *piece, char *key, char *text, GeoPoint at,
     double amount)
{
  SewingFinding *finding
      = sewing_finding_add (run, check, weight, key, text, at, amount);
  finding->piece = piece->piece->id;
  return finding;
}

static void
check_outline (SewingCheckRun *run, const SewingPiece *piece)
{
  g_autofree char *name = sewing_words_piece (piece->piece);
  char *key = g_strdup_printf ("p%u", piece->piece->id);
  if (piece->crosses)
    add (run, SEWING_CHECK_OUTLINE, SEWING_MEND, piece, key,
         g_strdup_printf (_ ("%s's outline crosses itself, so there is no one "
                             "way to cut it."),
                          name),
         piece->crosses_at, 0);
  else if (piece->area <= 0 || piece->ring.outline.count == 0)
    add (run, SEWING_CHECK_OUTLINE, SEWING_MEND, piece, key,
         g_strdup_printf (_ ("%s's outline encloses nothing."), name),
         piece->middle, 0);
  else
    g_free (key);
}

/* --- fold ------------------------------------------------------------------ */

static gboolean
tangent_at_end (const SewingPiece *piece, guint edge, gboolean at_start,
                GeoPoint *tangent)
{
  const GeoChain *chain = &piece->stitch[edge];
  if (chain->count == 0)
    return FALSE;
  GeoPlace place
      = at_start ? (GeoPlace){ 0, 0 } : (GeoPlace){ chain->count - 1, 1 };
  *tangent = geo_chain_tangent (chain, place);
  return tangent->x != 0 || tangent->y != 0;
}

/* The corner where the fold meets its neighbour; at_start: of the fold. */
static void
check_fold_corner (SewingCheckRun *run, const SewingPiece *piece, guint fold,
                   gboolean at_start)
{
  const PatternPiece *p = piece->piece;
  guint n = p->n_edges;
  guint other = at_start ? (fold + n - 1) % n : (fold + 1) % n;
  if (other == fold || p->edges[other].kind == PATTERN_EDGE_FOLD)
    return;
  GeoPoint along, beside;
  if (!tangent_at_end (piece, fold, at_start, &along)
      || !tangent_at_end (piece, other, !at_start, &beside))
    return;
  /* Angle of the cloth, from the edge that leaves the corner to the one that
     arrives; see joints.c. */
  double inside = at_start ? geo_angle_between (along, geo_scale (beside, -1))
                           : geo_angle_between (beside, geo_scale (along, -1));
  double deg = inside * DEGREES;
  if (deg < 0)
    deg += 360;
  double out = deg - 90;
  if (fabs (out) <= CHECK_LOOK_ANGLE)
    return;
  g_autofree char *name = sewing_words_edge (p, other);
  char *text = g_strdup_printf (
      out < 0 ? _ ("%s meets the fold at %.0f°, not 90°: opened out, "
                   "the piece has a point there.")
              : _ ("%s meets the fold at %.0f°, not 90°: opened out, "
                   "the piece has a dip there."),
      name, deg);
  const GeoChain *chain = &piece->stitch[fold];
  SewingFinding *finding = add (
      run, SEWING_CHECK_FOLD_SQUARE, sewing_weigh_angle (out), piece,
      g_strdup_printf ("p%u:e%u:e%u", p->id, p->edges[fold].id,
                       p->edges[other].id),
      text, at_start ? geo_chain_start (chain) : geo_chain_end (chain), out);
  finding->edge = p->edges[other].id;
  if (fabs (out) < CHECK_MEANT_ANGLE)
    sewing_finding_set_remedy (
        finding, SEWING_REMEDY_SQUARE, p->id, p->edges[other].id,
        at_start ? 1 : 0, g_strdup_printf (_ ("Square %s to the fold"), name));
}

/* How far the edge stands off the line between its ends, at its nodes and
 * handles: an upper bound that is 0 for a straight line. */
static double
off_straight (const GeoChain *chain)
{
  GeoPoint from = geo_chain_start (chain);
  GeoPoint along = geo_unit (geo_sub (geo_chain_end (chain), from));
  double most = 0;
  for (size_t i = 0; i < chain->count; i++)
    for (int k = 0; k < 4; k++)
      most = fmax (most, fabs (geo_cross (
                             along, geo_sub (chain->cubics[i].p[k], from))));
  return most;
}

static void
check_fold (SewingCheckRun *run, const SewingPiece *piece, guint fold)
{
  const PatternPiece *p = piece->piece;
  const GeoChain *chain = &piece->stitch[fold];
  if (chain->count == 0)
    return;
  double off = off_straight (chain);
  if (off > FOLD_STRAIGHT)
    {
      g_autofree char *name = sewing_words_edge (p, fold);
      g_autofree char *amount = sewing_words_amount (run->pattern, off);
      GeoPlace half
          = geo_ruler_place (&piece->rulers[fold], piece->lengths[fold] / 2);
      SewingFinding *finding = add (
          run, SEWING_CHECK_FOLD_SQUARE, SEWING_MEND, piece,
          g_strdup_printf ("p%u:e%u", p->id, p->edges[fold].id),
          g_strdup_printf (_ ("%s lies on the fold of the cloth but is not "
                              "straight: it bows by up to %s."),
                           name, amount),
          geo_chain_point (chain, half), 0);
      finding->edge = p->edges[fold].id;
      return;
    }
  check_fold_corner (run, piece, fold, TRUE);
  check_fold_corner (run, piece, fold, FALSE);
}

/* --- hollows ----------------------------------------------------------------- */

static void
check_hollow (SewingCheckRun *run, const SewingPiece *piece,
              const GeoHollow *hollow)
{
  const PatternPiece *p = piece->piece;
  guint index = (guint)hollow->edge;
  const PatternEdge *edge = &p->edges[index];
  double width = pattern_edge_width (edge);
  g_autofree char *name = sewing_words_edge (p, index);
  g_autofree char *deep = sewing_words_length (run->pattern, width);
  g_autofree char *radius = sewing_words_length (run->pattern, hollow->radius);
  const GeoChain *chain = &piece->stitch[index];
  double from = geo_ruler_length_to (&piece->rulers[index], hollow->from);
  double to = geo_ruler_length_to (&piece->rulers[index], hollow->to);
  SewingFinding *finding = add (
      run, SEWING_CHECK_HOLLOW, SEWING_LOOK, piece,
      g_strdup_printf ("p%u:e%u", p->id, edge->id),
      g_strdup_printf (_ ("The %s allowance of %s is deeper than the hollow it "
                          "lies in, which has a radius of %s. The cutting line "
                          "is trimmed there."),
                       deep, name, radius),
      geo_chain_point (
          chain, geo_ruler_place (&piece->rulers[index], (from + to) / 2)),
      width - hollow->radius);
  finding->edge = edge->id;
  double fits = floor (hollow->radius / WIDTH_STEP - 1e-9) * WIDTH_STEP;
  if (fits >= LEAST_WIDTH && fits < width)
    {
      g_autofree char *to_width = sewing_words_length (run->pattern, fits);
      sewing_finding_set_remedy (
          finding, SEWING_REMEDY_ALLOWANCE, p->id, edge->id, fits,
          g_strdup_printf (_ ("Set the allowance of %s to %s"), name,
                           to_width));
    }
}

/* The tightest hollow of each edge. An inner corner (no radius at all) is no
 * hollow: its cutting lines simply meet. */
static void
check_hollows (SewingCheckRun *run, const SewingPiece *piece)
{
  const GeoRing *ring = &piece->ring;
  for (guint edge = 0; edge < piece->piece->n_edges; edge++)
    {
      const GeoHollow *tightest = NULL;
      for (size_t i = 0; i < ring->hollow_count; i++)
        {
          const GeoHollow *hollow = &ring->hollows[i];
          if (hollow->edge == edge && hollow->radius > 1e-6
              && hollow->radius
                     < pattern_edge_width (&piece->piece->edges[edge])
                           - CHECK_ROUNDING
              && (tightest == NULL || hollow->radius < tightest->radius))
            tightest = hollow;
        }
      if (tightest != NULL)
        check_hollow (run, piece, tightest);
    }
}

/* --- grain and cuts ---------------------------------------------------------- */

static void
check_grain (SewingCheckRun *run, const SewingPiece *piece)
{
  const PatternPiece *p = piece->piece;
  if (p->has_grain && geo_distance (p->grain_from, p->grain_to) > 0)
    return;
  g_autofree char *name = sewing_words_piece (p);
  SewingFinding *finding = add (
      run, SEWING_CHECK_GRAIN, SEWING_LOOK, piece,
      g_strdup_printf ("p%u", p->id),
      g_strdup_printf (_ ("%s has no grainline, so nobody can tell how to lay "
                          "it on the cloth."),
                       name),
      piece->middle, 0);
  sewing_finding_set_remedy (
      finding, SEWING_REMEDY_GRAIN, p->id, 0, 0,
      g_strdup_printf (_ ("Lay a grainline down the middle of %s"), name));
}

static void
check_cut (SewingCheckRun *run, const SewingPiece *piece)
{
  const PatternPiece *p = piece->piece;
  for (guint i = 0; i < p->n_cuts; i++)
    if (p->cuts[i].count > 0
        && pattern_get_cloth (run->pattern, p->cuts[i].cloth) != NULL)
      return;
  g_autofree char *name = sewing_words_piece (p);
  SewingFinding *finding = add (
      run, SEWING_CHECK_CUT, SEWING_LOOK, piece, g_strdup_printf ("p%u", p->id),
      g_strdup_printf (_ ("%s does not say how many are cut, and from what."),
                       name),
      piece->middle, 0);
  if (run->pattern->n_cloths > 0)
    sewing_finding_set_remedy (finding, SEWING_REMEDY_CUT, p->id, 0, 1,
                               g_strdup_printf (_ ("Cut %s once from the %s"),
                                                name,
                                                run->pattern->cloths[0].name));
}

void
sewing_check_piece (SewingCheckRun *run, const PatternPiece *p)
{
  const SewingPiece *piece = sewing_facts_piece (run->facts, p);
  check_outline (run, piece);
  for (guint i = 0; i < p->n_edges; i++)
    if (p->edges[i].kind == PATTERN_EDGE_FOLD)
      check_fold (run, piece, i);
  check_hollows (run, piece);
  check_grain (run, piece);
  check_cut (run, piece);
}
