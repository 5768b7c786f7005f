/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/shaping.h"

#include "sewing/facts-private.h"
#include "sewing/joints.h"
#include "sewing/walk.h"

#define DEGREES (180 / G_PI)
/* Knots this near are one. */
#define SAME_PLACE 1e-6
/* Divides the window, so that its two ends are knots. */
#define STEP (SEWING_SHARP_WINDOW / 10)
#define RATE_REACH 3.0

/* --- turning of one side --------------------------------------------------------- */

/* A side on its way along the seam: how far it has turned. */
typedef struct
{
  const SewingSeamEntry *entry;
  int side;
  guint run;
  double at;        /* along the side */
  GeoPoint tangent; /* there; (0, 0) before the first */
  double turned;    /* radians, positive where the run's piece bulges */
} Turn;

static const PatternRun *
turn_run (const Turn *t)
{
  return &t->entry->seam->sides[t->side].runs[t->run];
}

static const PatternPiece *
turn_piece (const Turn *t, guint run)
{
  guint n_a = t->entry->seam->sides[0].n_runs;
  return t->entry->pieces[t->side == 0 ? run : n_a + run];
}

/* Inside its run, so that a joint never gives the neighbour's tangent. */
static GeoPoint
tangent_at (const Turn *t, SewingFacts *facts, double at)
{
  const PatternPiece *piece = turn_piece (t, t->run);
  const SewingPiece *known = sewing_facts_piece (facts, piece);
  int edge = pattern_piece_find_edge (piece, turn_run (t)->edge);
  const double *joints = t->entry->facts.joints[t->side];
  double length = joints[t->run + 1] - joints[t->run];
  double from = CLAMP (at - joints[t->run], 0, length);
  gboolean back = turn_run (t)->reversed;
  const GeoRuler *ruler = &known->rulers[edge];
  GeoPoint tangent = geo_chain_tangent (
      ruler->chain, geo_ruler_place (ruler, back ? length - from : from));
  return back ? geo_scale (tangent, -1) : tangent;
}

static void
turn_to (Turn *t, SewingFacts *facts, double at)
{
  GeoPoint tangent = tangent_at (t, facts, at);
  double turn = geo_angle_between (t->tangent, tangent);
  t->turned += turn_run (t)->reversed ? -turn : turn;
  if (tangent.x != 0 || tangent.y != 0)
    t->tangent = tangent;
  t->at = at;
}

/* Index of the corner a run comes from (end 0) or goes to (end 1). */
static guint
corner_of (const PatternPiece *piece, const PatternRun *run, int end)
{
  guint edge = (guint)pattern_piece_find_edge (piece, run->edge);
  return (end == 0) == !run->reversed ? edge : (edge + 1) % piece->n_edges;
}

/* Over the joint to the next run: half a turn less the corners' angles. */
static void
turn_over_joint (Turn *t, SewingFacts *facts)
{
  const PatternRun *runs = t->entry->seam->sides[t->side].runs;
  const PatternPiece *p = turn_piece (t, t->run);
  const PatternPiece *q = turn_piece (t, t->run + 1);
  double leaves, enters;
  if (sewing_corner_inside (sewing_facts_piece (facts, p),
                            corner_of (p, &runs[t->run], 1), &leaves)
      && sewing_corner_inside (sewing_facts_piece (facts, q),
                               corner_of (q, &runs[t->run + 1], 0), &enters))
    t->turned += G_PI - leaves - enters;
  t->run++;
  t->tangent = tangent_at (t, facts, t->at);
}

/* --- knots --------------------------------------------------------------------- */

static int
compare_places (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return x < y ? -1 : x > y;
}

/* Marks of A, joints of both sides, and steps between them: ascending. */
static GArray *
knot_places (const SewingSeam *seam)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (double));
  double length = seam->lengths[0];
  for (double at = 0; at < length; at += STEP)
    g_array_append_val (places, at);
  g_array_append_val (places, length);
  for (guint i = 0; i + 1 < seam->n_intervals; i++)
    g_array_append_val (places, seam->intervals[i].a_to);
  for (int side = 0; side < 2; side++)
    for (guint r = 1; r < seam->seam->sides[side].n_runs; r++)
      {
        double at = seam->joints[side][r];
        if (side == 1)
          at = sewing_seam_facing (seam, 1, at);
        g_array_append_val (places, at);
      }
  /* The last window of the seam starts here. */
  double last = length - SEWING_SHARP_WINDOW;
  if (last > 0)
    g_array_append_val (places, last);
  g_array_sort (places, compare_places);
  return places;
}

static gboolean
joint_is_at (const Turn *t, double at)
{
  const PatternSide *runs = &t->entry->seam->sides[t->side];
  return t->run + 1 < runs->n_runs
         && at > t->entry->facts.joints[t->side][t->run + 1] - SAME_PLACE;
}

static void
add_knot (SewingShaping *shaping, SewingFacts *facts, Turn turns[2], double at)
{
  const SewingSeam *seam = &turns[0].entry->facts;
  double before = 0, after = 0;
  for (int side = 0; side < 2; side++)
    {
      Turn *t = &turns[side];
      turn_to (t, facts, side == 0 ? at : sewing_seam_facing (seam, 0, at));
      before += t->turned;
      while (joint_is_at (t, t->at))
        turn_over_joint (t, facts);
      after += t->turned;
    }
  shaping->knots[shaping->n_knots++]
      = (SewingShapingKnot){ at, before * DEGREES, after * DEGREES };
}

/* Both legs of a dart meet in one corner: the cloth is short of a whole turn there
 * by the dart's angle. */
static double
point_at_end (SewingFacts *facts, const SewingSeamEntry *entry, int end)
{
  const PatternSide *sides = entry->seam->sides;
  guint last[2] = { end == 0 ? 0 : sides[0].n_runs - 1,
                    end == 0 ? 0 : sides[1].n_runs - 1 };
  const PatternPiece *p = entry->pieces[last[0]];
  const PatternPiece *q = entry->pieces[sides[0].n_runs + last[1]];
  guint corner = corner_of (p, &sides[0].runs[last[0]], end);
  double inside;
  if (p != q || corner != corner_of (q, &sides[1].runs[last[1]], end)
      || sides[0].runs[last[0]].edge == sides[1].runs[last[1]].edge
      || !sewing_corner_inside (sewing_facts_piece (facts, p), corner, &inside))
    return 0;
  return (2 * G_PI - inside) * DEGREES;
}

/* A piece sewn to itself along the whole of one edge has no end of its own. */
static void
put_points (SewingShaping *shaping, SewingFacts *facts,
            const SewingSeamEntry *entry)
{
  SewingShapingKnot *first = &shaping->knots[0];
  SewingShapingKnot *last = &shaping->knots[shaping->n_knots - 1];
  for (int end = 0; end < 2; end++)
    shaping->point_deg[end] = point_at_end (facts, entry, end);
  first->before_deg -= shaping->point_deg[0];
  last->after_deg += shaping->point_deg[1];
  shaping->total_deg = last->after_deg - first->before_deg;
}

/* Windows that begin at a knot, and the one that ends with the seam. */
static void
find_sharpest (SewingShaping *shaping, double length)
{
  double window = fmin (SEWING_SHARP_WINDOW, length);
  for (guint i = 0; i < shaping->n_knots; i++)
    {
      double from = shaping->knots[i].at, to = from + window;
      if (to > length + SAME_PLACE)
        break;
      double deg = sewing_shaping_between (shaping, from, fmin (to, length));
      if (deg > shaping->sharp_deg)
        {
          shaping->sharp_deg = deg;
          shaping->sharp_from = from;
          shaping->sharp_to = to;
        }
      if (deg < shaping->hollow_deg)
        {
          shaping->hollow_deg = deg;
          shaping->hollow_from = from;
          shaping->hollow_to = to;
        }
    }
}

static SewingShaping *
shaping_make (SewingFacts *facts, const SewingSeamEntry *entry)
{
  SewingShaping *shaping = g_new0 (SewingShaping, 1);
  const SewingSeam *seam = &entry->facts;
  Turn turns[2]
      = { { .entry = entry, .side = 0 }, { .entry = entry, .side = 1 } };
  g_autoptr (GArray) places = knot_places (seam);
  shaping->knots = g_new (SewingShapingKnot, places->len);
  for (guint i = 0; i < places->len; i++)
    {
      double at = g_array_index (places, double, i);
      if (shaping->n_knots == 0
          || at > shaping->knots[shaping->n_knots - 1].at + SAME_PLACE)
        add_knot (shaping, facts, turns, at);
    }
  put_points (shaping, facts, entry);
  find_sharpest (shaping, seam->lengths[0]);
  return shaping;
}

void
sewing_shaping_free (SewingShaping *shaping)
{
  if (shaping == NULL)
    return;
  g_free (shaping->knots);
  g_free (shaping);
}

const SewingShaping *
sewing_facts_shaping (SewingFacts *facts, const Pattern *pattern,
                      const PatternSeam *seam)
{
  SewingSeamEntry *entry = sewing_seam_entry (facts, pattern, seam);
  if (entry == NULL)
    return NULL;
  if (entry->shaping == NULL)
    entry->shaping = shaping_make (facts, entry);
  return entry->shaping;
}

/* --- asking -------------------------------------------------------------------- */

/* The first knot at the place or after it. */
static guint
knot_from (const SewingShaping *shaping, double at)
{
  guint low = 0, high = shaping->n_knots - 1;
  while (low < high)
    {
      guint middle = (low + high) / 2;
      if (shaping->knots[middle].at < at - SAME_PLACE)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

/* Up to a place; with what sits at it, or without. Between knots in
 * proportion. */
static double
up_to (const SewingShaping *shaping, double at, gboolean with)
{
  guint i = knot_from (shaping, at);
  const SewingShapingKnot *knot = &shaping->knots[i];
  if (i == 0 || fabs (knot->at - at) <= SAME_PLACE || at > knot->at)
    return with ? knot->after_deg : knot->before_deg;
  const SewingShapingKnot *last = knot - 1;
  double share = (at - last->at) / (knot->at - last->at);
  return last->after_deg * (1 - share) + knot->before_deg * share;
}

double
sewing_shaping_between (const SewingShaping *shaping, double from, double to)
{
  g_return_val_if_fail (shaping != NULL && shaping->n_knots > 0, 0);
  return to < from ? 0
                   : up_to (shaping, to, TRUE) - up_to (shaping, from, FALSE);
}

double
sewing_shaping_rate (const SewingShaping *shaping, double at)
{
  g_return_val_if_fail (shaping != NULL && shaping->n_knots > 0, 0);
  double whole = shaping->knots[shaping->n_knots - 1].at;
  double from = CLAMP (at - RATE_REACH, 0, whole);
  double to = CLAMP (at + RATE_REACH, 0, whole);
  if (!(to - from > SAME_PLACE))
    return 0;
  return 10 * sewing_shaping_between (shaping, from, to) / (to - from);
}
