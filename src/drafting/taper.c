/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shaping that is crowded into a point, spread over a longer stretch.
 *
 * A dart of straight legs has all its angle at the tip. Each leg's last stretch, from
 * a place Q to the tip T, is drawn anew: it leaves Q the way the leg ran, and comes to
 * T nearly along the middle line of the dart, beta off it, so that only 2 beta are
 * left at the tip. Nothing changes before Q, so the dart takes up as much as before,
 * and by Gauss and Bonnet the angle that has gone from the tip lies along the legs
 * now. The shortest stretch that brings the sharpest 20 mm below the limit is
 * taken. Both legs grow by the same, a little: the second one's handle at Q is
 * found so. (Handbooks: curve the last part of the dart inward to a fine taper.)
 *
 * Of a seam the curvature about the sharpest place is evened out on both sides, at
 * the same lengths, as little as serves. */
#include <glib/gi18n.h>

#include "drafting/true-private.h"
#include "geometry/length.h"
#include "sewing/shaping.h"

/* Somewhat below the limit, so that the finding goes. */
#define TARGET_DEG (SEWING_SHARP_DEG - 0.5)
#define DEGREES (180 / G_PI)
#define SHORTEST 30.0 /* mm */
#define STEP 10.0     /* mm */
#define MOST_STEPS 64
#define SAMPLE 1.0 /* mm */
#define STEPS 48   /* a cubic */

/* --- a dart ------------------------------------------------------------------ */

typedef struct
{
  guint edge;      /* index */
  gboolean to_tip; /* the outline runs along it to the tip */
  GeoChain chain;  /* as it was, towards the tip */
  double length;
} Leg;

typedef struct
{
  double stretch, beta;
  double near_q, share; /* of the chord: the handles at Q and at the tip */
} Shape;

static void
clear_legs (Leg legs[2])
{
  geo_chain_clear (&legs[0].chain);
  geo_chain_clear (&legs[1].chain);
}

/* The leg's chain with its last stretch drawn anew. */
static void
draw_leg (const Leg *leg, const Shape *shape, GeoPoint way, double near_q,
          GeoChain *to)
{
  geo_chain_reset (to);
  GeoPoint q = geo_chain_start (&leg->chain);
  GeoPoint u = geo_chain_tangent (&leg->chain, (GeoPlace){ 0, 0 });
  if (shape->stretch < leg->length - 1)
    {
      drafting_cut_chain (&leg->chain, shape->stretch, TRUE, NULL, to);
      q = geo_chain_end (to);
      u = geo_chain_tangent (to, (GeoPlace){ to->count - 1, 1 });
    }
  GeoPoint t = geo_chain_end (&leg->chain);
  double chord = geo_distance (q, t);
  GeoCubic c = { { q, geo_along (q, u, near_q * chord),
                   geo_along (t, way, -shape->share * chord), t } };
  geo_chain_append (to, c);
}

/* Where a leg comes to the tip from: over the stretch. */
static GeoPoint
chord_way (const Leg *leg, double stretch)
{
  double at = fmax (leg->length - stretch, 0);
  GeoPlace place = geo_chain_at_length (&leg->chain, at, DRAFTING_EXACT);
  return geo_unit (geo_sub (geo_chain_end (&leg->chain),
                            geo_chain_point (&leg->chain, place)));
}

/* How each comes to the tip. */
static void
leg_ways (const Leg legs[2], const Shape *shape, GeoPoint ways[2])
{
  for (int i = 0; i < 2; i++)
    ways[i] = chord_way (&legs[i], shape->stretch);
  GeoPoint middle = geo_unit (geo_add (ways[0], ways[1]));
  for (int i = 0; i < 2; i++)
    {
      double side = geo_cross (middle, ways[i]) < 0 ? -1 : 1;
      ways[i]
          = geo_add (geo_scale (middle, cos (shape->beta)),
                     geo_scale (geo_left (middle), side * sin (shape->beta)));
    }
}

/* Both legs; FALSE where they can't grow by the same. */
static gboolean
draw_legs (const Leg legs[2], const Shape *shape, GeoChain *to)
{
  GeoPoint ways[2];
  leg_ways (legs, shape, ways);
  draw_leg (&legs[0], shape, ways[0], shape->near_q, &to[0]);
  double grown = geo_chain_length (&to[0], DRAFTING_EXACT) - legs[0].length;
  double low = 0.02, high = 0.9;
  for (int i = 0; i < 60; i++)
    {
      double middle_share = (low + high) / 2;
      draw_leg (&legs[1], shape, ways[1], middle_share, &to[1]);
      double other = geo_chain_length (&to[1], DRAFTING_EXACT) - legs[1].length;
      if (fabs (other - grown) < 1e-9)
        return TRUE;
      if (other < grown)
        low = middle_share;
      else
        high = middle_share;
    }
  return fabs (geo_chain_length (&to[1], DRAFTING_EXACT) - legs[1].length
               - grown)
         < 1e-6;
}

/* Turning, in degrees, of a leg's last stretch up to each millimetre from the tip, by
 * tangents and chords at equal steps of each cubic. */
static void
turns_from_tip (const GeoChain *leg, double sign, double *turn, guint n)
{
  double back = 0, sum = 0;
  guint i = 1;
  turn[0] = 0;
  for (size_t k = leg->count; k-- > 0 && i <= n;)
    for (int step = STEPS; step-- > 0 && i <= n;)
      {
        const GeoCubic *c = &leg->cubics[k];
        double from = (double)step / STEPS, to = (step + 1.0) / STEPS;
        double ds
            = geo_distance (geo_cubic_point (c, from), geo_cubic_point (c, to));
        double more = sign * DEGREES
                      * geo_angle_between (geo_cubic_tangent (c, from),
                                           geo_cubic_tangent (c, to));
        for (; i <= n && i * SAMPLE <= back + ds; i++)
          turn[i] = sum + more * (i * SAMPLE - back) / ds;
        back += ds;
        sum += more;
      }
  for (; i <= n; i++)
    turn[i] = sum;
}

/* The largest shaping over any 20 mm of the two legs, n of turns each, and the tip's
 * own. */
static double
sharpest (const double *a, const double *b, guint n, double tip)
{
  guint window = (guint)lround (SEWING_SHARP_WINDOW / SAMPLE);
  double most = 0;
  for (guint i = 0; i + 1 <= n; i++)
    {
      guint to = MIN (i + window, n);
      most = fmax (most, a[to] - a[i] + b[to] - b[i] + (i == 0 ? tip : 0));
    }
  return most;
}

static GeoPoint
way_in (const GeoChain *leg)
{
  return geo_chain_tangent (leg, (GeoPlace){ leg->count - 1, 1 });
}

/* sign: +1 where the piece bulges when the first leg turns left towards the tip. */
typedef struct
{
  const Leg *legs;
  double sign;
  guint n;
  double *turns[2];
  GeoChain trial[2], best[2];
  double found; /* of the best, degrees; TARGET_DEG where there is none */
  gboolean any;
} Hunt;

/* The first leg alone tells nearly what both will do, and most shapes fail by it. */
static void
try_shape (Hunt *h, const Shape *shape)
{
  GeoPoint ways[2];
  leg_ways (h->legs, shape, ways);
  draw_leg (&h->legs[0], shape, ways[0], shape->near_q, &h->trial[0]);
  turns_from_tip (&h->trial[0], h->sign, h->turns[0], h->n);
  double tip = 2 * shape->beta * DEGREES;
  if (sharpest (h->turns[0], h->turns[0], h->n, tip) > h->found + 1
      || !draw_legs (h->legs, shape, h->trial))
    return;
  turns_from_tip (&h->trial[1], -h->sign, h->turns[1], h->n);
  tip = fabs (geo_angle_between (way_in (&h->trial[0]), way_in (&h->trial[1])))
        * DEGREES;
  double sharp = sharpest (h->turns[0], h->turns[1], h->n, tip);
  if (sharp > h->found)
    return;
  h->found = sharp;
  h->any = TRUE;
  geo_chain_copy (&h->best[0], &h->trial[0]);
  geo_chain_copy (&h->best[1], &h->trial[1]);
}

static void
try_stretch (Hunt *h, double stretch)
{
  static const double near_q[] = { 1.0 / 3, 0.2, 0.5 };
  for (guint q = 0; q < G_N_ELEMENTS (near_q); q++)
    for (int s = 0; s < 9; s++)
      for (int d = 0; d < 5; d++)
        try_shape (h, &(Shape){ .stretch = stretch,
                                .beta = d * 1.25 / DEGREES,
                                .share = 0.25 + 0.05 * s,
                                .near_q = near_q[q] });
}

/* The shortest stretch that does. FALSE where none does. */
static gboolean
find_shape (const Leg legs[2], double sign, GeoChain best[2])
{
  double longest = fmin (legs[0].length, legs[1].length);
  Hunt h = { .legs = legs, .sign = sign, .found = TARGET_DEG };
  h.n = (guint)fmin (ceil (longest / SAMPLE), 5000);
  for (int i = 0; i < 2; i++)
    {
      h.turns[i] = g_new0 (double, h.n + 1);
      geo_chain_init (&h.trial[i]);
      geo_chain_init (&h.best[i]);
    }
  for (int i = 0; i < MOST_STEPS && !h.any; i++)
    {
      double stretch = fmin (SHORTEST + STEP * i, longest);
      try_stretch (&h, stretch);
      if (stretch >= longest)
        break;
    }
  for (int i = 0; i < 2; i++)
    {
      geo_chain_copy (&best[i], &h.best[i]);
      geo_chain_clear (&h.trial[i]);
      geo_chain_clear (&h.best[i]);
      g_free (h.turns[i]);
    }
  return h.any;
}

static void
take_leg (const PatternPiece *piece, const PatternSide *side, int tip_end,
          Leg *leg)
{
  const PatternRun *run = &side->runs[0];
  leg->edge = (guint)pattern_piece_find_edge (piece, run->edge);
  leg->to_tip = (tip_end == 1) != !!run->reversed;
  pattern_piece_edge_chain (piece, leg->edge, &leg->chain);
  if (!leg->to_tip)
    geo_chain_reverse (&leg->chain);
  leg->length = geo_chain_length (&leg->chain, DRAFTING_EXACT);
}

/* Puts the later edge in first, so that the other's nodes keep their place. */
static void
put_legs (PatternPiece *piece, const Leg legs[2], GeoChain drawn[2],
          guint *next)
{
  int later = legs[0].edge > legs[1].edge ? 0 : 1;
  for (int i = 0; i < 2; i++)
    {
      int k = i == 0 ? later : 1 - later;
      if (!legs[k].to_tip)
        geo_chain_reverse (&drawn[k]);
      drafting_put_edge_chain (piece, legs[k].edge, &drawn[k], next);
    }
}

static Pattern *
taper_dart (const Pattern *p, const PatternSeam *seam, int tip_end,
            GError **error)
{
  guint next = p->next_id;
  g_autoptr (PatternPiece) copy
      = drafting_begin (p, seam->sides[0].runs[0].piece, error);
  if (!copy)
    return NULL;
  guint id = copy->id;
  Leg legs[2] = { { .chain = GEO_CHAIN_EMPTY }, { .chain = GEO_CHAIN_EMPTY } };
  GeoChain drawn[2] = { GEO_CHAIN_EMPTY, GEO_CHAIN_EMPTY };
  for (int i = 0; i < 2; i++)
    take_leg (copy, &seam->sides[i], tip_end, &legs[i]);
  Pattern *result = NULL;
  /* Inside is on the left of the outline, and so of a leg that runs with it. */
  if (find_shape (legs, legs[0].to_tip ? 1 : -1, drawn))
    {
      put_legs (copy, legs, drawn, &next);
      result = drafting_finish (p, g_steal_pointer (&copy), &next, error);
      if (result && !drafting_outline_is_good (p, result, id, error))
        g_clear_pointer (&result, pattern_unref);
    }
  else
    drafting_refuse (
        error, DRAFTING_ERROR_SHAPE,
        _ ("The dart is too short for so much: even over its whole "
           "length it stays pointed. Make it longer, or take a part "
           "of it up in a second dart. Nothing was changed."));
  clear_legs (legs);
  geo_chain_clear (&drawn[0]);
  geo_chain_clear (&drawn[1]);
  return result;
}

/* --- a seam ------------------------------------------------------------------ */

static double
sharp_of (const Pattern *p, guint seam, double *middle)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingShaping *shaping
      = sewing_facts_shaping (facts, p, pattern_get_seam (p, seam));
  if (!shaping)
    return INFINITY;
  if (middle)
    *middle = (shaping->sharp_from + shaping->sharp_to) / 2;
  return shaping->sharp_deg;
}

/* The run of a side that the place lies on. */
static const PatternRun *
run_at (const SewingSeam *facts, int side, double at)
{
  const PatternSide *runs = &facts->seam->sides[side];
  guint r = 0;
  while (r + 1 < runs->n_runs && at > facts->joints[side][r + 1])
    r++;
  return &runs->runs[r];
}

/* Both sides made fairer there; NULL where neither could be. */
static Pattern *
even_out (const Pattern *p, guint seam, const PatternRun runs[2], double within)
{
  DraftingFairing how = { .within = within, .keep_length = TRUE };
  Pattern *result = NULL;
  for (int side = 0; side < 2; side++)
    {
      const Pattern *from = result ? result : p;
      Pattern *more = drafting_fair_edge (from, runs[side].piece,
                                          runs[side].edge, &how, NULL, NULL);
      if (!more)
        continue;
      /* One side alone may make it worse. */
      if (sharp_of (more, seam, NULL) >= sharp_of (from, seam, NULL))
        pattern_unref (more);
      else
        {
          g_clear_pointer (&result, pattern_unref);
          result = more;
        }
    }
  return result;
}

static Pattern *
taper_seam (const Pattern *p, const PatternSeam *seam, double at,
            GError **error)
{
  static const double withins[] = { 0.5, 1, 2, 3, 5, 8, 12 };
  PatternRun runs[2];
  {
    g_autoptr (SewingFacts) facts = sewing_facts_new ();
    const SewingSeam *known = sewing_facts_seam (facts, p, seam);
    double share = known->lengths[0] > 0 ? at / known->lengths[0] : 0;
    runs[0] = *run_at (known, 0, at);
    runs[1] = *run_at (known, 1, share * known->lengths[1]);
  }
  for (guint i = 0; i < G_N_ELEMENTS (withins); i++)
    {
      Pattern *more = even_out (p, seam->id, runs, withins[i]);
      if (more && sharp_of (more, seam->id, NULL) <= TARGET_DEG)
        return more;
      g_clear_pointer (&more, pattern_unref);
    }
  drafting_refuse (
      error, DRAFTING_ERROR_SHAPE,
      _ ("Within 12 mm the curve can't be spread so far that it is "
         "no longer pointed, with its length kept. Draw it anew "
         "over a longer stretch, or move a part of its shaping to "
         "another seam. Nothing was changed."));
  return NULL;
}

/* Two edges of one piece that meet in the dart's point. */
static gboolean
is_plain_dart (const PatternSeam *seam)
{
  return seam->sides[0].n_runs == 1 && seam->sides[1].n_runs == 1
         && seam->sides[0].runs[0].piece == seam->sides[1].runs[0].piece
         && seam->sides[0].runs[0].edge != seam->sides[1].runs[0].edge;
}

Pattern *
drafting_taper (const Pattern *p, guint seam, GError **error)
{
  const PatternSeam *own = drafting_find_seam (p, seam, error);
  if (!own)
    return NULL;
  int tip_end = -1;
  double at = 0;
  {
    g_autoptr (SewingFacts) facts = sewing_facts_new ();
    const SewingShaping *shaping = sewing_facts_shaping (facts, p, own);
    if (shaping)
      {
        at = (shaping->sharp_from + shaping->sharp_to) / 2;
        tip_end = shaping->point_deg[1] > 0   ? 1
                  : shaping->point_deg[0] > 0 ? 0
                                              : -1;
      }
    if (!shaping || shaping->sharp_deg <= SEWING_SHARP_DEG)
      {
        drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                         _ ("Nothing in this seam is pointed any more."));
        return NULL;
      }
  }
  return is_plain_dart (own) && tip_end >= 0
             ? taper_dart (p, own, tip_end, error)
             : taper_seam (p, own, at, error);
}
