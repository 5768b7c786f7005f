/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The flat collar. Front and back are joined at the shoulder and the front is swung
 * about the neck point until the shoulder tips lap by d:
 *
 *   phi = 2 asin (d / 2 S).
 *
 * The swing is not left as an angle at the neck point: it is spread along the
 * neckline as far as there is room on both sides (trace.h), so that the neck edge
 * is smooth and of the neckline's length whatever the overlap. Its parallel at a
 * depth c is L + c t long, t the turning of the neck edge; the swing takes phi off t,
 * and so c phi off the outer edge, wherever it is spread.
 *
 * The stand: the collar rolls over by h, mostly along the back neck, until its outer edge
 * fits what lies under it. A collar that comes to lie h higher and h less deep needs an outer edge shorter by
 * 2 h times the turning there, so h = c phi / (2 t_back): an estimate.
 */
#include "drafting/collar.h"

#include "drafting/trace.h"
#include "geometry/nearest.h"

#define HALF_SHOULDER 0.42  /* of a half neckline: where shoulders lie */
#define WHOLE_SHOULDER 0.29 /* of a whole one, from each end */
#define JOINT_REACH 15.0    /* mm a joint is smoothed over */
#define SWING_REACH 0.95    /* of the way to the nearer end */
#define LEAST_RATIO 0.05    /* of the outer edge's speed: less folds over */

double
drafting_turn_of_cloth (double thickness)
{
  return G_PI * thickness;
}

double
drafting_overlap_angle (double overlap, double shoulder)
{
  double x = shoulder > 0 ? overlap / (2 * shoulder) : 0;
  return 2 * asin (fmin (fmax (x, -1), 1));
}

int
drafting_collar_shoulder (const DraftingLay *lay, gboolean whole)
{
  int best = -1;
  double length = drafting_lay_length (lay), least = INFINITY;
  double want = whole ? WHOLE_SHOULDER : HALF_SHOULDER;
  for (guint i = 0; i + 1 < lay->n; i++)
    {
      if (lay->joints[i].corner)
        continue;
      double off = fabs (lay->joints[i].at / length - want);
      if (off < least)
        {
          least = off;
          best = (int)i;
        }
    }
  return best;
}

/* --- the neck edge --------------------------------------------------------------- */

typedef struct
{
  const DraftingLay *lay;
  const DraftingCollarWish *wish;
  double length; /* of the neckline */
  double swing, shoulder_at, other_at;
  GeoChain neck; /* finished, dense */
  GeoRuler ruler;
  double less;
} Draft;

static void
draft_clear (Draft *d)
{
  geo_ruler_clear (&d->ruler);
  geo_chain_clear (&d->neck);
}

static void
bend_neck (Draft *d, GeoChain *out)
{
  DraftingBend bends[DRAFTING_LAY_MOST];
  guint n = 0;
  for (guint i = 0; i + 1 < d->lay->n; i++)
    {
      double at = d->lay->joints[i].at;
      double room = fmin (at, d->length - at) * SWING_REACH;
      gboolean swung = fabs (at - d->shoulder_at) < 1e-9
                       || (d->wish->whole && fabs (at - d->other_at) < 1e-9);
      bends[n++] = (DraftingBend){
        at, d->swing != 0 && swung ? room : fmin (room, JOINT_REACH),
        swung ? d->swing * d->lay->inside : 0
      };
    }
  drafting_trace_bend (&d->lay->chain, bends, n, out);
}

/* Between the places where amounts are given they go over into each other, level
 * at each. */
static double
between (const Draft *d, double s, double back, double shoulder, double front)
{
  if (d->wish->whole)
    {
      /* Fronts at both ends, the centre back in the middle. */
      double half = d->length / 2;
      s = fabs (s - half);
      double at = fmax (half - d->shoulder_at, 1e-6);
      return s < at ? back + (shoulder - back) * drafting_trace_step (s / at)
                    : shoulder
                          + (front - shoulder)
                                * drafting_trace_step ((s - at) / (half - at));
    }
  double at = d->shoulder_at > 0 ? d->shoulder_at : d->length * HALF_SHOULDER;
  return s < at ? back + (shoulder - back) * drafting_trace_step (s / at)
                : shoulder
                      + (front - shoulder)
                            * drafting_trace_step ((s - at) / (d->length - at));
}

typedef struct
{
  const Draft *d;
  const GeoRuler *on;
} Raised;

static GeoPoint
normal_at (const GeoRuler *ruler, double s, GeoPoint *at)
{
  GeoPlace place = geo_ruler_place (ruler, s);
  *at = geo_chain_point (ruler->chain, place);
  return geo_left (geo_chain_tangent (ruler->chain, place));
}

static GeoPoint
raised_at (double s, const void *data)
{
  const Raised *r = data;
  GeoPoint at, n = normal_at (r->on, s, &at);
  const DraftingCollarWish *w = r->d->wish;
  double up
      = between (r->d, s, w->raise_back, w->raise_shoulder, w->raise_front);
  return geo_along (at, n, -up * r->d->lay->inside);
}

/* To exactly the length, about its start: a per cent or two. */
static void
scale_to (GeoChain *chain, double length)
{
  double now = geo_chain_length (chain, 1e-10);
  GeoPoint start = geo_chain_start (chain);
  for (size_t i = 0; i < chain->count; i++)
    for (int k = 0; k < 4; k++)
      chain->cubics[i].p[k]
          = geo_lerp (start, chain->cubics[i].p[k], length / now);
}

/* False where nothing is left of the edge. */
static gboolean
draw_neck (Draft *d)
{
  double length = d->length - d->wish->ease;
  if (!(length > 1))
    return FALSE;
  GeoChain bent = GEO_CHAIN_EMPTY, raised = GEO_CHAIN_EMPTY;
  bend_neck (d, &bent);
  const DraftingCollarWish *w = d->wish;
  GeoRuler on;
  geo_ruler_init (&on, &bent, 1e-10);
  Raised r = { d, &on };
  if (w->raise_back != 0 || w->raise_shoulder != 0 || w->raise_front != 0)
    drafting_trace (raised_at, &r, 0, geo_ruler_length (&on), &raised);
  else
    geo_chain_copy (&raised, &bent);
  geo_ruler_clear (&on);
  size_t cubics = d->lay->n <= 2 ? 4 : 6;
  drafting_trace_fit_even (&raised, cubics, &d->neck);
  scale_to (&d->neck, length);
  geo_ruler_init (&d->ruler, &d->neck, 1e-10);
  geo_chain_clear (&bent);
  geo_chain_clear (&raised);
  return TRUE;
}

/* --- the outer edge -------------------------------------------------------------- */

static double
depth_at (const Draft *d, double s)
{
  const DraftingCollarWish *w = d->wish;
  double length = geo_ruler_length (&d->ruler);
  double far = w->whole ? fabs (2 * s / length - 1) : s / length;
  return w->depth_back
         + (w->depth_front - w->depth_back) * drafting_trace_step (far)
         - d->less;
}

static GeoPoint
outer_at (double s, const void *data)
{
  const Draft *d = data;
  double length = geo_ruler_length (&d->ruler);
  GeoPoint at, n = normal_at (&d->ruler, s, &at);
  GeoPoint p = geo_along (at, n, depth_at (d, s) * d->lay->inside);
  /* The corners go forward, and an under collar's back, from half way on. */
  double forward = d->wish->point - d->less, half = length / 2;
  GeoPlace last = { d->neck.count - 1, 1 }, first = { 0, 0 };
  if (d->wish->whole)
    p = geo_along (p, geo_chain_tangent (&d->neck, first),
                   -forward * drafting_trace_step (1 - 2 * s / half));
  double share = d->wish->whole ? 2 * s / half - 3 : 2 * s / length - 1;
  return geo_along (p, geo_chain_tangent (&d->neck, last),
                    forward * drafting_trace_step (share));
}

/* The parallel runs the same way as the neck edge everywhere. */
static gboolean
outer_runs_on (const Draft *d)
{
  double length = geo_ruler_length (&d->ruler), h = length / 400;
  for (int i = 0; i < 400; i++)
    {
      double s = h * i;
      GeoPlace place = geo_ruler_place (&d->ruler, s + h / 2);
      GeoPoint step = geo_sub (outer_at (s + h, d), outer_at (s, d));
      if (geo_dot (step, geo_chain_tangent (&d->neck, place)) < LEAST_RATIO * h)
        return FALSE;
    }
  return TRUE;
}

/* --- corners ---------------------------------------------------------------------- */

/* How far the centre of the corner's arc, touching the outer edge at s, lies from the
 * end's line. */
typedef struct
{
  const GeoRuler *outer;
  GeoPoint from, along; /* of the end, away from the neck */
  double radius;
  int side; /* of the neck edge, seen along the outer edge: -inside */
} Corner;

static GeoPoint
corner_centre (const Corner *c, double s, GeoPoint *touch)
{
  GeoPoint n = normal_at (c->outer, s, touch);
  return geo_along (*touch, n, c->radius * c->side);
}

static double
from_end (const Corner *c, double s)
{
  GeoPoint touch, centre = corner_centre (c, s, &touch);
  return fabs (geo_cross (c->along, geo_sub (centre, c->from))) - c->radius;
}

gboolean
drafting_collar_round (GeoChain *outer, GeoPoint from, double radius,
                       int inside, GeoChain *tip)
{
  GeoPoint corner = geo_chain_end (outer);
  GeoRuler ruler;
  geo_ruler_init (&ruler, outer, 1e-10);
  Corner c
      = { &ruler, from, geo_unit (geo_sub (corner, from)), radius, -inside };
  double high = geo_ruler_length (&ruler), low = high;
  while (low > 0 && from_end (&c, low) < 0)
    low = fmax (0, low - radius / 4);
  gboolean there = from_end (&c, low) >= 0;
  for (int i = 0; there && i < 60; i++)
    {
      double half = (low + high) / 2;
      if (from_end (&c, half) >= 0)
        low = half;
      else
        high = half;
    }
  GeoPoint touch, centre = corner_centre (&c, low, &touch);
  double along = geo_dot (c.along, geo_sub (centre, from));
  there = there && along > 1;
  if (there)
    {
      GeoPoint foot = geo_along (from, c.along, along);
      GeoPoint a = geo_sub (touch, centre), b = geo_sub (foot, centre);
      double a0 = atan2 (a.y, a.x), turn = geo_angle_between (a, b);
      for (int i = 0; i < 2; i++)
        {
          GeoCubic arc = geo_cubic_arc (centre, radius, a0 + turn * i / 2,
                                        a0 + turn * (i + 1) / 2);
          if (i == 0)
            arc.p[0] = touch;
          else
            arc.p[3] = foot;
          geo_chain_append (tip, arc);
        }
      GeoChain part = GEO_CHAIN_EMPTY;
      drafting_trace_part (outer, 0, low, &part);
      part.cubics[part.count - 1].p[3] = touch;
      geo_chain_clear (outer);
      *outer = part;
    }
  geo_ruler_clear (&ruler);
  return there;
}

static double
corner_radius (const Draft *d)
{
  return d->wish->corner > 0 ? fmax (d->wish->corner - d->less, 0) : 0;
}

/* The outer edge from start to end, its corners rounded. */
static gboolean
draw_outer (const Draft *d, GeoChain *outer, GeoChain *tip, GeoChain *other_tip)
{
  drafting_trace (outer_at, d, 0, geo_ruler_length (&d->ruler), outer);
  double radius = corner_radius (d);
  if (radius <= 0)
    return TRUE;
  if (!drafting_collar_round (outer, geo_chain_end (&d->neck), radius,
                              d->lay->inside, tip))
    return FALSE;
  if (!d->wish->whole)
    return TRUE;
  geo_chain_reverse (outer);
  gboolean there = drafting_collar_round (outer, geo_chain_start (&d->neck),
                                          radius, -d->lay->inside, other_tip);
  geo_chain_reverse (outer);
  return there;
}

static void
build (const Draft *d, const GeoChain *outer, GeoChain *tip,
       GeoChain *other_tip, DraftingShape *shape)
{
  geo_chain_copy (drafting_shape_add (shape, "neck"), &d->neck);
  drafting_shape_add_line (shape, "end",
                           tip->count > 0 ? geo_chain_end (tip)
                                          : geo_chain_end (outer));
  if (tip->count > 0)
    {
      geo_chain_reverse (tip);
      geo_chain_copy (drafting_shape_add (shape, "tip"), tip);
    }
  GeoChain *edge = drafting_shape_add (shape, "outer");
  drafting_trace_fit_even (outer, d->lay->n <= 2 ? 4 : 6, edge);
  geo_chain_reverse (edge);
  if (other_tip->count > 0)
    geo_chain_copy (drafting_shape_add (shape, "other-tip"), other_tip);
  drafting_shape_add_line (shape, d->wish->whole ? "other-end" : "centre",
                           geo_chain_start (&d->neck));
}

static void
tell (const Draft *d, DraftingCollarFacts *facts)
{
  double ratio = geo_ruler_length (&d->ruler) / d->length;
  facts->turned = d->swing;
  facts->neck = geo_ruler_length (&d->ruler);
  facts->shoulder_at = d->shoulder_at * ratio;
  GeoChain back = GEO_CHAIN_EMPTY;
  double from = d->wish->whole ? d->length / 2 : 0;
  double to = d->shoulder_at > 0 ? d->shoulder_at : d->length * HALF_SHOULDER;
  drafting_trace_part (&d->lay->chain, from, to, &back);
  facts->turning = fabs (geo_chain_turning (&back));
  geo_chain_clear (&back);
  facts->stand = facts->turning > 0.05
                     ? d->wish->depth_back * d->swing / (2 * facts->turning)
                     : 0;
}

/* Overlaps that turn the front by more than a sixth of a turn are beyond any
 * collar. */
static gboolean
find_swing (Draft *d, DraftingCollarFacts *facts)
{
  int joint = drafting_collar_shoulder (d->lay, d->wish->whole);
  d->shoulder_at = joint >= 0 ? d->lay->joints[joint].at : 0;
  d->other_at = d->length - d->shoulder_at;
  if (d->wish->whole && joint >= 0)
    {
      double least = INFINITY;
      for (guint i = (guint)joint + 1; i + 1 < d->lay->n; i++)
        {
          double off
              = fabs (d->lay->joints[i].at - (d->length - d->shoulder_at));
          if (off < least && !d->lay->joints[i].corner)
            {
              least = off;
              d->other_at = d->lay->joints[i].at;
            }
        }
    }
  facts->shoulder = d->wish->shoulder;
  if (facts->shoulder <= 0 && joint >= 0)
    facts->shoulder = d->lay->joints[joint].shoulder;
  if (d->wish->overlap == 0)
    return TRUE;
  if (joint < 0 || facts->shoulder <= 0
      || fabs (d->wish->overlap) > facts->shoulder)
    return FALSE;
  d->swing = drafting_overlap_angle (d->wish->overlap, facts->shoulder);
  return TRUE;
}

gboolean
drafting_collar_shape (const DraftingLay *lay, const DraftingCollarWish *wish,
                       double less, DraftingShape *shape,
                       DraftingCollarFacts *facts)
{
  drafting_shape_clear (shape);
  *facts = (DraftingCollarFacts){ 0 };
  Draft d = {
    .lay = lay, .wish = wish, .length = drafting_lay_length (lay), .less = less
  };
  if (!(d.length > 1) || wish->depth_back - less < 1
      || wish->depth_front - less < 1 || !find_swing (&d, facts)
      || !draw_neck (&d))
    return FALSE;
  GeoChain outer = GEO_CHAIN_EMPTY, tip = GEO_CHAIN_EMPTY,
           other_tip = GEO_CHAIN_EMPTY;
  gboolean drawn
      = outer_runs_on (&d) && draw_outer (&d, &outer, &tip, &other_tip);
  if (drawn)
    {
      build (&d, &outer, &tip, &other_tip, shape);
      tell (&d, facts);
      drawn = drafting_shape_is_sound (shape);
    }
  geo_chain_clear (&outer);
  geo_chain_clear (&tip);
  geo_chain_clear (&other_tip);
  draft_clear (&d);
  return drawn;
}
