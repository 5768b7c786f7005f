/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a seam asks of the cloth: ease it must take up, shaping it must not crowd
 * into a point. Both by rules of thumb, so worth a look and no more, and the
 * sentences say so. */
#include <glib/gi18n.h>

#include "sewing/checks-private.h"
#include "sewing/ease.h"
#include "sewing/facts-private.h"
#include "sewing/shaping.h"
#include "sewing/strain.h"

#define DEGREES (180 / G_PI)
/* Tangents taken of each cubic when a bend is measured. */
#define BEND_STEPS 12
/* Turned by less an edge is as good as straight. */
#define BULGES_DEG 20.0
/* A hollow that something is set into, and what is set in. */
#define SET_IN_DEG 60.0
/* Sharper than any dart: a corner that was drawn on purpose, as a bag's. */
#define MEANT_DEG 60.0

/* --- kinds ------------------------------------------------------------------- */

/* The stretch of a side that turns most to one way: a sleeve's cap is hollow at both
 * its ends, and round all the same between them. */
typedef struct
{
  double way;        /* +1: bulges, -1: hollows */
  double here, most; /* radians: of the stretch that ends here, of any */
  gboolean reversed;
} Bend;

static void
bend_on (Bend *bend, const GeoCubic *cubic)
{
  GeoPoint last = geo_cubic_tangent (cubic, bend->reversed ? 1 : 0);
  for (int i = 1; i <= BEND_STEPS; i++)
    {
      double t = (double)i / BEND_STEPS;
      GeoPoint next = geo_cubic_tangent (cubic, bend->reversed ? 1 - t : t);
      double turn = atan2 (geo_cross (last, next), geo_dot (last, next));
      turn *= bend->way * (bend->reversed ? -1 : 1);
      bend->here = fmax (bend->here + turn, 0);
      bend->most = fmax (bend->most, bend->here);
      last = next;
    }
}

/* Degrees; what it turns at the joints of its runs left out. */
static double
side_bend (SewingFacts *facts, const Pattern *pattern, const PatternSide *side,
           double way)
{
  Bend bend = { .way = way };
  for (guint r = 0; r < side->n_runs; r++)
    {
      const PatternPiece *piece
          = pattern_get_piece (pattern, side->runs[r].piece);
      int edge = pattern_piece_find_edge (piece, side->runs[r].edge);
      const GeoChain *chain = &sewing_facts_piece (facts, piece)->stitch[edge];
      bend.reversed = side->runs[r].reversed;
      for (size_t i = 0; i < chain->count; i++)
        bend_on (&bend,
                 &chain->cubics[bend.reversed ? chain->count - 1 - i : i]);
    }
  return bend.most * DEGREES;
}

SewingEaseKind
sewing_ease_kind (SewingFacts *facts, const Pattern *pattern,
                  const SewingSeam *seam)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL && seam != NULL,
                        SEWING_EASE_PLAIN);
  if (seam->seam->press == PATTERN_PRESS_TURNED)
    return SEWING_EASE_TURNED;
  int longer = seam->ease >= 0 ? 0 : 1;
  double own = side_bend (facts, pattern, &seam->seam->sides[longer], 1);
  double other = side_bend (facts, pattern, &seam->seam->sides[1 - longer], -1);
  if (own >= SET_IN_DEG && other >= SET_IN_DEG)
    return SEWING_EASE_SET_IN;
  return own > BULGES_DEG ? SEWING_EASE_SHAPED : SEWING_EASE_PLAIN;
}

double
sewing_ease_most (SewingEaseKind kind)
{
  static const double most[] = { 12.7, 6.35, 38.1, 3.175 };
  g_return_val_if_fail ((guint)kind < G_N_ELEMENTS (most), 0);
  return most[kind];
}

/* A cloth eases by somewhat more than lies flat by pressing alone. */
double
sewing_ease_per_cent (double give, double bias)
{
  double straight = fmax (give, 0) * 100 * 4 / 3;
  return bias > 0.5 ? fmax (straight, 10) : straight;
}

/* --- ease ---------------------------------------------------------------------- */

/* A stretch of the longer side, and what its cloth is. */
typedef struct
{
  guint piece, edge;
  double at;
  double give, bias;
} Longer;

static Longer
longer_at (const SewingCheckRun *run, const SewingSeam *seam, int side,
           double at)
{
  const PatternSide *runs = &seam->seam->sides[side];
  guint r = 0;
  while (r + 1 < runs->n_runs && at > seam->joints[side][r + 1])
    r++;
  const PatternPiece *piece
      = pattern_get_piece (run->pattern, runs->runs[r].piece);
  int edge = pattern_piece_find_edge (piece, runs->runs[r].edge);
  Longer longer = { piece->id, runs->runs[r].edge, at, 0, 0 };
  longer.give = sewing_give_of (run->pattern, piece);
  sewing_bias_share (sewing_facts_piece (run->facts, piece), (guint)edge,
                     &longer.bias);
  return longer;
}

static void
report_ease (SewingCheckRun *run, const SewingSeam *seam, int side,
             const Longer *longer, double amount, const char *limit)
{
  g_autofree char *own = sewing_words_side (run->pattern, seam->seam, side);
  g_autofree char *other
      = sewing_words_side (run->pattern, seam->seam, 1 - side);
  g_autofree char *excess = sewing_words_amount (run->pattern, amount);
  SewingFinding *finding = sewing_finding_add (
      run, SEWING_CHECK_EASE, SEWING_LOOK,
      g_strdup_printf ("s%u", seam->seam->id),
      g_strdup_printf (_ ("%s has %s to be eased into %s. By rule of thumb %s; "
                          "more shows as gathers. An estimate: try it on a "
                          "scrap."),
                       own, excess, other, limit),
      sewing_seam_point (seam, side, longer->at), amount);
  finding->seam = seam->seam->id;
  finding->piece = longer->piece;
  finding->edge = longer->edge;
}

/* The interval that asks most of its cloth; TRUE when it was told. */
static gboolean
check_cloth (SewingCheckRun *run, const SewingSeam *seam, int side)
{
  double worst = 1;
  Longer where = { 0 };
  double amount = 0, most = 0;
  for (guint i = 0; i < seam->n_intervals; i++)
    {
      const SewingInterval *in = &seam->intervals[i];
      double excess = side == 0 ? in->difference : -in->difference;
      double asked = side == 0 ? in->per_cent : -in->per_cent;
      if (excess <= run->pattern->tolerance + CHECK_ROUNDING)
        continue;
      double at = side == 0 ? (in->a_from + in->a_to) / 2
                            : (in->b_from + in->b_to) / 2;
      Longer longer = longer_at (run, seam, side, at);
      double limit = sewing_ease_per_cent (longer.give, longer.bias);
      if (asked <= worst * limit + 1e-9)
        continue;
      worst = limit > 0 ? asked / limit : asked;
      where = longer;
      amount = excess;
      most = limit;
    }
  if (where.piece == 0)
    return FALSE;
  g_autofree char *limit = g_strdup_printf (
      seam->n_intervals > 1
          ? _ ("that cloth takes up about %.0f %%, and between two of its "
               "marks it is asked for more")
          : _ ("that cloth takes up about %.0f %%"),
      most);
  report_ease (run, seam, side, &where,
               seam->n_intervals > 1 ? amount : fabs (seam->ease), limit);
  return TRUE;
}

/* As it stands in the middle of a sentence. */
static char *
kind_limit (SewingEaseKind kind, const char *most)
{
  switch (kind)
    {
    case SEWING_EASE_SHAPED:
      return g_strdup_printf (
          _ ("an edge shaped over a fuller place takes up to %s"), most);
    case SEWING_EASE_SET_IN:
      return g_strdup_printf (
          _ ("a round edge set into a hollow takes up to %s"), most);
    case SEWING_EASE_TURNED:
      return g_strdup_printf (
          _ ("two plies that lie on each other differ by up to %s"), most);
    case SEWING_EASE_PLAIN:
    default:
      return g_strdup_printf (_ ("a plain seam takes up to %s"), most);
    }
}

/* A ply smaller all round by the turn of cloth is shorter by that for each radian its edge
 * turns, corners and all. Only on one piece is a turn of the whole side known. */
static double
turns_of_cloth (const SewingSeam *seam, int side)
{
  const PatternSide *runs = &seam->seam->sides[side];
  for (guint r = 1; r < runs->n_runs; r++)
    if (runs->runs[r].piece != runs->runs[0].piece)
      return 1;
  return fmax (1, fabs (geo_chain_turning (&seam->chains[side])));
}

static void
check_kind (SewingCheckRun *run, const SewingSeam *seam, int side)
{
  SewingEaseKind kind = sewing_ease_kind (run->facts, run->pattern, seam);
  double most = sewing_ease_most (kind), excess = fabs (seam->ease);
  if (kind == SEWING_EASE_TURNED)
    most *= turns_of_cloth (seam, side);
  if (excess <= most + run->pattern->tolerance)
    return;
  g_autofree char *amount = sewing_words_amount (run->pattern, most);
  g_autofree char *limit = kind_limit (kind, amount);
  Longer longer = longer_at (run, seam, side, seam->lengths[side] / 2);
  report_ease (run, seam, side, &longer, excess, limit);
}

/* A cap shorter than its armhole can't be set in at all. */
static gboolean
check_cap (SewingCheckRun *run, const SewingSeam *seam, int longer)
{
  const PatternSide *sides = seam->seam->sides;
  double own = side_bend (run->facts, run->pattern, &sides[longer], -1);
  double other = side_bend (run->facts, run->pattern, &sides[1 - longer], 1);
  if (own < SET_IN_DEG || other < SET_IN_DEG)
    return FALSE;
  g_autofree char *cap
      = sewing_words_side (run->pattern, seam->seam, 1 - longer);
  g_autofree char *hole = sewing_words_side (run->pattern, seam->seam, longer);
  g_autofree char *amount = sewing_words_amount (run->pattern, seam->meant);
  SewingFinding *finding = sewing_finding_add (
      run, SEWING_CHECK_EASE, SEWING_LOOK,
      g_strdup_printf ("s%u", seam->seam->id),
      g_strdup_printf (_ ("%s is meant to be %s shorter than %s, the hollow it "
                          "is set into; it should never be the shorter one."),
                       cap, amount, hole),
      sewing_seam_point (seam, 1 - longer, seam->lengths[1 - longer] / 2),
      seam->ease);
  finding->seam = seam->seam->id;
  return TRUE;
}

/* Ease that is not meant is a fault of lengths, and told there. */
static void
check_ease (SewingCheckRun *run, const SewingSeam *seam)
{
  if (seam->seam->join == PATTERN_JOIN_DART || seam->meant == 0
      || fabs (seam->ease) <= run->pattern->tolerance + CHECK_ROUNDING)
    return;
  int longer = seam->ease > 0 ? 0 : 1;
  if (seam->seam->press != PATTERN_PRESS_TURNED
      && (check_cap (run, seam, longer) || check_cloth (run, seam, longer)))
    return;
  check_kind (run, seam, longer);
}

/* --- points -------------------------------------------------------------------- */

static gboolean
is_pointed (double deg)
{
  return deg > SEWING_SHARP_DEG && deg < MEANT_DEG;
}

static void
check_seam_point (SewingCheckRun *run, const SewingSeam *seam)
{
  gboolean dart = seam->seam->join == PATTERN_JOIN_DART;
  const SewingShaping *shaping
      = sewing_facts_shaping (run->facts, run->pattern, seam->seam);
  if ((!dart && seam->seam->press == PATTERN_PRESS_TURNED)
      || !is_pointed (shaping->sharp_deg))
    return;
  g_autofree char *name = dart && *seam->seam->name == '\0'
                              ? g_strdup (_ ("the dart"))
                              : sewing_words_seam (seam->seam);
  g_autofree char *window
      = sewing_words_length (run->pattern, SEWING_SHARP_WINDOW);
  double at = (shaping->sharp_from + shaping->sharp_to) / 2;
  if (shaping->point_deg[1] > 0 && shaping->sharp_to > seam->lengths[0] - 1e-3)
    at = seam->lengths[0];
  else if (shaping->point_deg[0] > 0 && shaping->sharp_from < 1e-3)
    at = 0;
  SewingFinding *finding = sewing_finding_add (
      run, SEWING_CHECK_POINTED, SEWING_LOOK,
      g_strdup_printf ("s%u", seam->seam->id),
      g_strdup_printf (
          dart ? _ ("%s is pointed: it takes up %.0f° within %s of its "
                    "point. Beyond %.0f° cloth shows a point there: taper "
                    "the last part over a longer stretch. An estimate.")
               : _ ("%s is pointed: it does the work of a dart of %.0f° within "
                    "%s. Beyond %.0f° cloth shows a point there: spread the "
                    "curve over a longer stretch. An estimate."),
          name, shaping->sharp_deg, window, SEWING_SHARP_DEG),
      sewing_seam_point (seam, 0, at), shaping->sharp_deg);
  finding->seam = seam->seam->id;
  finding->piece = seam->seam->sides[0].runs[0].piece;
  finding->edge = seam->seam->sides[0].runs[0].edge;
  sewing_finding_set_remedy (
      finding, SEWING_REMEDY_TAPER, finding->piece, finding->edge,
      shaping->sharp_deg,
      g_strdup (dart ? _ ("Taper the dart over a longer stretch")
                     : _ ("Spread the curve over a longer stretch")));
  finding->remedy.seam = seam->seam->id;
}

/* Where several seams end in one point, which none of them tells alone. */
static void
check_meeting_points (SewingCheckRun *run)
{
  g_autoptr (GArray) points = sewing_shaping_points (run->facts, run->pattern);
  for (guint i = 0; i < points->len; i++)
    {
      const SewingShapingPoint *point
          = &g_array_index (points, SewingShapingPoint, i);
      if (point->dart || point->turned || !is_pointed (point->angle_deg))
        continue;
      g_autofree char *edge
          = sewing_words_edge_of (run->pattern, point->piece, point->edge);
      SewingFinding *finding = sewing_finding_add (
          run, SEWING_CHECK_POINTED, SEWING_LOOK,
          g_strdup_printf ("p%u:e%u", point->piece, point->edge),
          g_strdup_printf (_ ("The seams that meet where %s starts make a "
                              "point of %.0f°. Beyond %.0f° cloth shows it: "
                              "round the edges towards it. An estimate."),
                           edge, point->angle_deg, SEWING_SHARP_DEG),
          point->at, point->angle_deg);
      finding->piece = point->piece;
      finding->edge = point->edge;
    }
}

void
sewing_check_shaping (SewingCheckRun *run)
{
  for (guint i = 0; i < run->pattern->n_seams; i++)
    {
      const SewingSeam *seam = sewing_facts_seam (run->facts, run->pattern,
                                                  run->pattern->seams[i]);
      if (seam == NULL || !(seam->lengths[0] > 0) || !(seam->lengths[1] > 0))
        continue;
      check_ease (run, seam);
      check_seam_point (run, seam);
    }
  check_meeting_points (run);
}
