/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/walk.h"

#include "geometry/walk.h"

/* A mark this near has been reached; lengths are known to 1e-7. */
#define REACHED 1e-6
/* Corners laid on each other by a seam's motion agree to this. */
#define MEETS 1e-4

/* --- laying a side end to end ---------------------------------------------- */

typedef struct
{
  GeoPoint at, tangent; /* the way it is walked */
} Pin;

/* at: length from where the walk enters the run. */
static Pin
run_pin (const SewingWalkRun *run, double at)
{
  const GeoRuler *ruler = &run->piece->rulers[run->edge];
  double length = run->to - run->from;
  GeoPlace place = geo_ruler_place (ruler, run->reversed ? length - at : at);
  Pin pin = { geo_chain_point (ruler->chain, place),
              geo_chain_tangent (ruler->chain, place) };
  if (run->reversed)
    pin.tangent = geo_scale (pin.tangent, -1);
  return pin;
}

static int
inside_of (const SewingWalkRun *run)
{
  return run->reversed ? -1 : 1;
}

static int
laid_inside (const SewingWalkRun *run)
{
  return run->lay.flip ? -inside_of (run) : inside_of (run);
}

static gboolean
side_ends_on (const PatternSide *side, guint x, guint y)
{
  for (int end = 0; end < 2; end++)
    {
      guint piece = side->runs[end == 0 ? 0 : side->n_runs - 1].piece;
      if (piece == x || piece == y)
        return TRUE;
    }
  return FALSE;
}

/* How the seam that ends where two runs meet lays the second one's piece on the
 * first one's: told by the edges beside the seam's end, and by where they
 * meet. */
static gboolean
joining_motion (SewingFacts *facts, const Pattern *pattern,
                const SewingWalkRun *first, const SewingWalkRun *second,
                GeoMotion *motion)
{
  const PatternPiece *p = first->piece->piece, *q = second->piece->piece;
  GeoPoint leaves = run_pin (first, first->to - first->from).at;
  GeoPoint enters = run_pin (second, 0).at;
  guint p_edge = p->edges[first->edge].id, q_edge = q->edges[second->edge].id;
  for (guint i = 0; i < pattern->n_seams; i++)
    {
      const PatternSeam *seam = pattern->seams[i];
      if (seam->sides[0].n_runs == 0 || seam->sides[1].n_runs == 0
          || !side_ends_on (&seam->sides[0], p->id, q->id)
          || !side_ends_on (&seam->sides[1], p->id, q->id))
        continue;
      for (int end = 0; end < 2; end++)
        {
          SewingJoint joint;
          if (!sewing_seam_joint (facts, pattern, seam, end, &joint))
            continue;
          gboolean along = joint.a_piece == p->id && joint.b_piece == q->id
                           && joint.a_edge == p_edge && joint.b_edge == q_edge;
          gboolean back = joint.a_piece == q->id && joint.b_piece == p->id
                          && joint.a_edge == q_edge && joint.b_edge == p_edge;
          if (!along && !back)
            continue;
          *motion = along ? joint.motion : geo_motion_inverse (joint.motion);
          if (geo_distance (geo_motion_apply (*motion, enters), leaves) < MEETS)
            return TRUE;
        }
    }
  return FALSE;
}

/* As though the line ran on: the pieces stay on the same side of it. */
static GeoMotion
running_on (const SewingWalkRun *first, const SewingWalkRun *second)
{
  Pin a = run_pin (first, first->to - first->from);
  Pin b = run_pin (second, 0);
  return geo_walk_motion (a.at, a.tangent, inside_of (first), b.at, b.tangent,
                          -inside_of (second));
}

static void
lay_runs (SewingWalk *walk, SewingFacts *facts, const Pattern *pattern,
          int side)
{
  const PatternSide *from = &walk->seam->seam->sides[side];
  walk->n_runs[side] = from->n_runs;
  walk->runs[side] = g_new0 (SewingWalkRun, from->n_runs);
  for (guint r = 0; r < from->n_runs; r++)
    {
      SewingWalkRun *run = &walk->runs[side][r];
      const PatternPiece *piece
          = pattern_get_piece (pattern, from->runs[r].piece);
      run->piece = sewing_facts_piece (facts, piece);
      run->edge = (guint)pattern_piece_find_edge (piece, from->runs[r].edge);
      run->reversed = from->runs[r].reversed;
      run->from = walk->seam->joints[side][r];
      run->to = walk->seam->joints[side][r + 1];
      run->lay = geo_motion_none ();
      if (r == 0)
        continue;
      const SewingWalkRun *before = &walk->runs[side][r - 1];
      GeoMotion motion;
      if (!joining_motion (facts, pattern, before, run, &motion))
        motion = running_on (before, run);
      run->lay = geo_motion_then (motion, before->lay);
    }
}

SewingWalk *
sewing_walk_new (SewingFacts *facts, const Pattern *pattern,
                 const PatternSeam *seam, int fixed, SewingWalkBy by)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL && seam != NULL, NULL);
  g_return_val_if_fail (fixed == 0 || fixed == 1, NULL);
  const SewingSeam *known = sewing_facts_seam (facts, pattern, seam);
  if (known == NULL || !(known->lengths[0] > 0) || !(known->lengths[1] > 0))
    return NULL;
  SewingWalk *walk = g_new0 (SewingWalk, 1);
  walk->seam = known;
  walk->fixed = fixed;
  walk->by = by;
  walk->whole = by == SEWING_WALK_PAPER
                    ? fmax (known->lengths[0], known->lengths[1])
                    : known->lengths[fixed];
  for (int side = 0; side < 2; side++)
    lay_runs (walk, facts, pattern, side);
  return walk;
}

void
sewing_walk_free (SewingWalk *walk)
{
  if (walk == NULL)
    return;
  g_free (walk->runs[0]);
  g_free (walk->runs[1]);
  g_free (walk);
}

/* --- one step ---------------------------------------------------------------- */

double
sewing_seam_facing (const SewingSeam *seam, int side, double at)
{
  g_return_val_if_fail (seam != NULL && (side == 0 || side == 1), 0);
  guint i = 0;
  const SewingInterval *in = seam->intervals;
  while (i + 1 < seam->n_intervals
         && at > (side == 0 ? in[i].a_to : in[i].b_to))
    i++;
  double from = side == 0 ? in[i].a_from : in[i].b_from;
  double to = side == 0 ? in[i].a_to : in[i].b_to;
  double other_from = side == 0 ? in[i].b_from : in[i].a_from;
  double other_to = side == 0 ? in[i].b_to : in[i].a_to;
  double share = to > from ? CLAMP ((at - from) / (to - from), 0, 1) : 0;
  return other_from * (1 - share) + other_to * share;
}

static guint
run_at (const SewingWalk *walk, int side, double at)
{
  guint r = 0;
  while (r + 1 < walk->n_runs[side] && at > walk->runs[side][r].to)
    r++;
  return r;
}

/* A place of a side, laid end to end. */
static Pin
side_pin (const SewingWalk *walk, int side, double along)
{
  const SewingWalkRun *run = &walk->runs[side][run_at (walk, side, along)];
  Pin pin = run_pin (run, along - run->from);
  return (Pin){ geo_motion_apply (run->lay, pin.at),
                geo_motion_turn (run->lay, pin.tangent) };
}

/* One to one, both papers lie still once the shorter side has ended; the pin goes on along the
 * longer one alone, and what is left over is seen. */
static void
lay_step (const SewingWalk *walk, SewingWalkStep *step)
{
  int fixed = walk->fixed, moving = 1 - fixed;
  double held[2] = { step->along[0], step->along[1] };
  if (walk->by == SEWING_WALK_PAPER)
    held[0] = held[1] = fmin (step->along[0], step->along[1]);
  const SewingWalkRun *still
      = &walk->runs[fixed][run_at (walk, fixed, held[fixed])];
  const SewingWalkRun *rolls
      = &walk->runs[moving][run_at (walk, moving, held[moving])];
  Pin a = side_pin (walk, fixed, held[fixed]);
  Pin b = side_pin (walk, moving, held[moving]);
  step->moving = geo_walk_motion (a.at, a.tangent, laid_inside (still), b.at,
                                  b.tangent, laid_inside (rolls));
  if (step->along[fixed] > held[fixed])
    a = side_pin (walk, fixed, step->along[fixed]);
  else if (step->along[moving] > held[moving])
    {
      b = side_pin (walk, moving, step->along[moving]);
      a = (Pin){ geo_motion_apply (step->moving, b.at),
                 geo_motion_turn (step->moving, b.tangent) };
    }
  step->at = a.at;
  step->tangent = a.tangent;
}

void
sewing_walk_step (const SewingWalk *walk, double walked, SewingWalkStep *step)
{
  g_return_if_fail (walk != NULL && step != NULL);
  *step = (SewingWalkStep){ .walked = CLAMP (walked, 0, walk->whole) };
  for (int side = 0; side < 2; side++)
    {
      double at
          = walk->by == SEWING_WALK_MATCHED && side != walk->fixed
                ? sewing_seam_facing (walk->seam, walk->fixed, step->walked)
                : step->walked;
      step->along[side] = fmin (at, walk->seam->lengths[side]);
      step->run[side] = run_at (walk, side, step->along[side]);
    }
  step->difference = step->along[0] - step->along[1];
  while (step->interval + 1 < walk->seam->n_intervals
         && step->along[0] > walk->seam->intervals[step->interval].a_to)
    step->interval++;
  lay_step (walk, step);
}

GeoMotion
sewing_walk_motion (const SewingWalk *walk, const SewingWalkStep *step,
                    int side, guint run)
{
  g_return_val_if_fail (walk != NULL && step != NULL, geo_motion_none ());
  g_return_val_if_fail (side == 0 || side == 1, geo_motion_none ());
  g_return_val_if_fail (run < walk->n_runs[side], geo_motion_none ());
  GeoMotion lay = walk->runs[side][run].lay;
  return side == walk->fixed ? lay : geo_motion_then (lay, step->moving);
}

gboolean
sewing_walk_has_reached (const SewingWalkStep *step, int side, double at)
{
  g_return_val_if_fail (step != NULL && (side == 0 || side == 1), FALSE);
  return step->along[side] >= at - REACHED;
}

double
sewing_walk_to (const SewingWalk *walk, int side, double at)
{
  g_return_val_if_fail (walk != NULL && (side == 0 || side == 1), 0);
  if (walk->by == SEWING_WALK_MATCHED && side != walk->fixed)
    at = sewing_seam_facing (walk->seam, side, at);
  return CLAMP (at, 0, walk->whole);
}

void
sewing_walk_trail (const SewingWalk *walk, const SewingWalkStep *step, int side,
                   GeoChain *trail)
{
  g_return_if_fail (walk != NULL && step != NULL && trail != NULL);
  for (guint r = 0; r <= step->run[side]; r++)
    {
      const SewingWalkRun *run = &walk->runs[side][r];
      const GeoRuler *ruler = &run->piece->rulers[run->edge];
      double length = run->to - run->from;
      double at = CLAMP (step->along[side] - run->from, 0, length);
      GeoChain part = GEO_CHAIN_EMPTY;
      GeoPlace ends[2]
          = { geo_ruler_place (ruler, run->reversed ? length - at : 0),
              geo_ruler_place (ruler, run->reversed ? length : at) };
      geo_chain_slice (ruler->chain, ends[0], ends[1], &part);
      if (run->reversed)
        geo_chain_reverse (&part);
      geo_chain_transform (&part, sewing_walk_motion (walk, step, side, r));
      for (size_t i = 0; i < part.count; i++)
        {
          geo_chain_append (trail, part.cubics[i]);
          /* Appending ties ends together; a gap is to stay one. */
          trail->cubics[trail->count - 1] = part.cubics[i];
        }
      geo_chain_clear (&part);
    }
}

/* --- the corner at either end -------------------------------------------------- */

void
sewing_walk_corner_init (SewingWalkCorner *corner)
{
  geo_chain_init (&corner->across[0]);
  geo_chain_init (&corner->across[1]);
}

void
sewing_walk_corner_clear (SewingWalkCorner *corner)
{
  geo_chain_clear (&corner->across[0]);
  geo_chain_clear (&corner->across[1]);
}

/* Reversed where its far end, not its near one, touches the corner: so that A's
 * chain ends there and B's begins there. */
static void
edge_across (const SewingWalk *walk, const SewingWalkStep *step, int side,
             int end, guint edge_id, GeoChain *across)
{
  guint r = end == 0 ? 0 : walk->n_runs[side] - 1;
  const SewingPiece *piece = walk->runs[side][r].piece;
  int edge = pattern_piece_find_edge (piece->piece, edge_id);
  geo_chain_copy (across, &piece->stitch[edge]);
  geo_chain_transform (across, sewing_walk_motion (walk, step, side, r));
  /* The seam's end on this side's own piece. */
  const SewingWalkRun *run = &walk->runs[side][r];
  GeoPoint corner
      = geo_motion_apply (sewing_walk_motion (walk, step, side, r),
                          run_pin (run, end == 0 ? 0 : run->to - run->from).at);
  double start = geo_distance (geo_chain_start (across), corner);
  double far = geo_distance (geo_chain_end (across), corner);
  if ((side == 0) == (start < far))
    geo_chain_reverse (across);
}

gboolean
sewing_walk_corner (const SewingWalk *walk, SewingFacts *facts,
                    const Pattern *pattern, int end, SewingWalkCorner *corner)
{
  g_return_val_if_fail (walk != NULL && corner != NULL, FALSE);
  if (!sewing_seam_joint (facts, pattern, walk->seam->seam, end,
                          &corner->joint))
    return FALSE;
  SewingWalkStep step;
  sewing_walk_step (walk, end == 0 ? 0 : walk->whole, &step);
  edge_across (walk, &step, 0, end, corner->joint.a_edge, &corner->across[0]);
  edge_across (walk, &step, 1, end, corner->joint.b_edge, &corner->across[1]);
  return TRUE;
}
