/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two cubics are halved in turn, and a pair of pieces is dropped as soon as it
 * can be shown not to meet. What may stay is settled in one of four ways:
 *
 * - the directions of one piece keep clear of those of the other: then they
 *   meet once at most (the chord between two meetings would lie in both cones of
 *   directions), and Newton's method finds where;
 * - the pieces run alongside each other: seen as graphs y (x) over the chord of
 *   one, their gap is known to lie between the bounds worked out above gap (),
 *   and it keeps one sign, or stays within the tolerance all along, or neither;
 * - both pieces have become small: the nearest approach is sought from there;
 * - a common end of neighbours in a chain, which is not asked for, is set aside
 *   as soon as a line through it parts the two pieces.
 *
 * Depth and number of pairs are bounded, so the search ends on any input.
 */
#include "geometry/crossing-hunt.h"

#include "geometry/crossing-pair.h"
#include "geometry/nearest.h"

/* In pieces of this size, in mm, the meeting is looked for by Newton's method; if
 * that finds none they are halved on, but not below the smallest. */
#define SMALL 2e-5
#define SMALLEST 1e-8

typedef struct
{
  GeoCubic c;
  double t0, t1;
} Span;

void
geo_hunt_add (GeoHunt *hunt, double t, double u)
{
  double off = geo_distance (geo_cubic_point (&hunt->a, t),
                             geo_cubic_point (&hunt->b, u));
  if (hunt->count < GEO_HUNT_HITS)
    hunt->hits[hunt->count++] = (GeoHit){ t, u, off, false };
}

GeoBox
geo_hunt_box (const GeoCubic *c)
{
  GeoBox box = geo_box_empty ();
  for (int i = 0; i < 4; i++)
    box = geo_box_add (box, c->p[i]);
  return box;
}

/* Whether the strip about the chord of a that holds a keeps clear of b. */
static bool
strip_clear (const GeoCubic *a, const GeoCubic *b, double tolerance)
{
  GeoPoint u = geo_unit (geo_sub (a->p[3], a->p[0]));
  double a_low = 0, a_high = 0, b_low = INFINITY, b_high = -INFINITY;
  for (int i = 0; i < 4; i++)
    {
      double off_a = geo_cross (u, geo_sub (a->p[i], a->p[0]));
      double off_b = geo_cross (u, geo_sub (b->p[i], a->p[0]));
      a_low = geo_least (a_low, off_a);
      a_high = geo_most (a_high, off_a);
      b_low = geo_least (b_low, off_b);
      b_high = geo_most (b_high, off_b);
    }
  return b_low > a_high + tolerance || b_high < a_low - tolerance;
}

/* Half angle of the cone about the chord that holds every direction of the
 * piece; false where it is a right angle or more. */
static bool
cone (const GeoCubic *c, double *half)
{
  GeoPoint chord = geo_sub (c->p[3], c->p[0]);
  *half = 0;
  for (int i = 0; i < 3; i++)
    {
      GeoPoint d = geo_sub (c->p[i + 1], c->p[i]);
      if (d.x == 0 && d.y == 0)
        continue;
      double along = geo_dot (chord, d);
      if (!(along > 0))
        return false;
      *half = fmax (*half, atan (fabs (geo_cross (chord, d)) / along));
    }
  return *half > 0 || chord.x != 0 || chord.y != 0;
}

/* Newton on A (t) = B (u); what it ends with is up to the caller to judge. */
void
geo_hunt_meet (const GeoHunt *hunt, double *t, double *u)
{
  for (int step = 0; step < 40; step++)
    {
      GeoPoint gap = geo_sub (geo_cubic_point (&hunt->b, *u),
                              geo_cubic_point (&hunt->a, *t));
      GeoPoint va = geo_cubic_velocity (&hunt->a, *t);
      GeoPoint vb = geo_cubic_velocity (&hunt->b, *u);
      double det = geo_cross (va, vb);
      if (det == 0)
        return;
      double dt = geo_cross (gap, vb) / det, du = geo_cross (gap, va) / det;
      if (!(fabs (dt) < 2 && fabs (du) < 2))
        return;
      *t = fmax (-0.5, fmin (1.5, *t + dt));
      *u = fmax (-0.5, fmin (1.5, *u + du));
      if (fabs (dt) < 1e-16 && fabs (du) < 1e-16)
        return;
    }
}

/* Newton on the nearest approach of two curves that run alongside: tangents
 * parallel, A' x B' = 0, and the gap square to them, (A - B).A' = 0. */
void
geo_hunt_touch (const GeoHunt *hunt, double *t, double *u)
{
  for (int step = 0; step < 30; step++)
    {
      GeoPoint gap = geo_sub (geo_cubic_point (&hunt->a, *t),
                              geo_cubic_point (&hunt->b, *u));
      GeoPoint va = geo_cubic_velocity (&hunt->a, *t);
      GeoPoint vb = geo_cubic_velocity (&hunt->b, *u);
      GeoPoint aa = geo_cubic_acceleration (&hunt->a, *t);
      GeoPoint ab = geo_cubic_acceleration (&hunt->b, *u);
      double f = geo_cross (va, vb), g = geo_dot (gap, va);
      double ft = geo_cross (aa, vb), fu = geo_cross (va, ab);
      double gt = geo_dot (va, va) + geo_dot (gap, aa), gu = -geo_dot (vb, va);
      double det = ft * gu - fu * gt;
      if (det == 0)
        return;
      double dt = -(f * gu - fu * g) / det, du = -(ft * g - f * gt) / det;
      if (!(fabs (dt) < 0.1 && fabs (du) < 0.1))
        return;
      *t += dt;
      *u += du;
      if (fabs (dt) < 1e-16 && fabs (du) < 1e-16)
        return;
    }
}

static double
hold (double t, double t0, double t1)
{
  return fmax (t0, fmin (t1, t));
}

/* Takes the places, held to the spans, if the curves meet there. */
static bool
accept (GeoHunt *hunt, const Span *a, const Span *b, double t, double u)
{
  t = hold (t, a->t0, a->t1);
  u = hold (u, b->t0, b->t1);
  double off = geo_distance (geo_cubic_point (&hunt->a, t),
                             geo_cubic_point (&hunt->b, u));
  if (off > hunt->tolerance)
    return false;
  geo_hunt_add (hunt, t, u);
  return true;
}

/* For places without a regular solution (a cusp, say) or where Newton's method
 * runs off: the ends of one on the other, then nearest points by turns. */
static bool
contact_slowly (GeoHunt *hunt, const Span *a, const Span *b)
{
  GeoCubic part_a = geo_cubic_part (&hunt->a, a->t0, a->t1);
  GeoCubic part_b = geo_cubic_part (&hunt->b, b->t0, b->t1);
  double wide_a = a->t1 - a->t0, wide_b = b->t1 - b->t0, s = 0, v = 0;
  for (int end = 0; end < 2; end++)
    {
      geo_cubic_nearest (&part_b, part_a.p[3 * end], &v);
      geo_cubic_nearest (&part_a, part_b.p[3 * end], &s);
      if (accept (hunt, a, b, end ? a->t1 : a->t0, b->t0 + v * wide_b)
          || accept (hunt, a, b, a->t0 + s * wide_a, end ? b->t1 : b->t0))
        return true;
    }
  s = v = 0.5;
  for (int i = 0; i < 12; i++)
    {
      geo_cubic_nearest (&part_b, geo_cubic_point (&part_a, s), &v);
      geo_cubic_nearest (&part_a, geo_cubic_point (&part_b, v), &s);
    }
  return accept (hunt, a, b, a->t0 + s * wide_a, b->t0 + v * wide_b);
}

/* By the nearest approach, or the crossing, that Newton's method comes to. */
static bool
contact (GeoHunt *hunt, Span a, Span b, bool slowly)
{
  double mid_t = 0.5 * (a.t0 + a.t1), mid_u = 0.5 * (b.t0 + b.t1);
  double t = mid_t, u = mid_u;
  /* A little over the ends, for what lies on a cut between two pieces. */
  double reach_a = 0.5 * (a.t1 - a.t0), reach_b = 0.5 * (b.t1 - b.t0);
  a.t0 = fmax (hunt->a_low, a.t0 - reach_a);
  a.t1 = fmin (hunt->a_high, a.t1 + reach_a);
  b.t0 = fmax (hunt->b_low, b.t0 - reach_b);
  b.t1 = fmin (hunt->b_high, b.t1 + reach_b);
  geo_hunt_touch (hunt, &t, &u);
  if (accept (hunt, &a, &b, t, u))
    return true;
  t = mid_t;
  u = mid_u;
  geo_hunt_meet (hunt, &t, &u);
  return accept (hunt, &a, &b, t, u)
         || (slowly && contact_slowly (hunt, &a, &b));
}

/* Where the rising cubic x takes a value: bracketed Newton. */
static double
rising_at (const double x[4], double value)
{
  double lo = 0, hi = 1, t;
  if (value <= x[0])
    return 0;
  if (value >= x[3])
    return 1;
  t = (value - x[0]) / (x[3] - x[0]);
  for (int step = 0; step < 80; step++)
    {
      double s = 1 - t;
      double f = s * s * s * x[0] + 3 * s * s * t * x[1] + 3 * s * t * t * x[2]
                 + t * t * t * x[3] - value;
      double slope = 3
                     * (s * s * (x[1] - x[0]) + 2 * s * t * (x[2] - x[1])
                        + t * t * (x[3] - x[2]));
      if (f < 0)
        lo = t;
      else
        hi = t;
      double next = slope > 0 ? t - f / slope : lo;
      if (!(next > lo && next < hi))
        next = 0.5 * (lo + hi);
      if (fabs (next - t) < 1e-16)
        break;
      t = next;
    }
  return t;
}

typedef enum
{
  APART,
  ALONG,
  UNDECIDED
} Verdict;

typedef struct
{
  double x[4], y[4];
} Framed;

/* Seen along u from an origin; true where x rises all along. */
static bool
frame (const GeoCubic *c, GeoPoint origin, GeoPoint u, bool backwards,
       Framed *framed)
{
  bool rising = true;
  for (int i = 0; i < 4; i++)
    {
      GeoPoint d = geo_sub (c->p[backwards ? 3 - i : i], origin);
      framed->x[i] = geo_dot (u, d);
      framed->y[i] = geo_cross (u, d);
      rising = rising && (i == 0 || framed->x[i] > framed->x[i - 1]);
    }
  return rising;
}

/* Cuts the span to the x between low and high. */
static void
clip (const GeoCubic *whole, Span *span, const Framed *framed, double low,
      double high, bool backwards)
{
  double s0 = rising_at (framed->x, low), s1 = rising_at (framed->x, high);
  double width = span->t1 - span->t0, start = span->t0;
  if (backwards)
    {
      double swap = s0;
      s0 = 1 - s1;
      s1 = 1 - swap;
    }
  if (s1 < 1)
    span->t1 = start + width * s1;
  if (s0 > 0)
    span->t0 = start + width * s0;
  span->c = geo_cubic_part (whole, span->t0, span->t1);
}

/* Both pieces as graphs over the chord of a, cut to their common x. With D the
 * difference of their cubics taken at the same parameter, the mean value
 * theorem gives for the gap y_a (x) - y_b (x) at x = x_a (t)
 *
 *   D_y (t) - slope |D_x (t)| <= gap <= D_y (t) + slope |D_x (t)|
 *
 * where slope is the steepest of b. D is small where the curves are close, so
 * this tells them apart long before their boxes do. The spans come back cut. */
static Verdict
gap (const GeoHunt *hunt, Span *a, Span *b)
{
  GeoPoint origin = a->c.p[0];
  GeoPoint u = geo_unit (geo_sub (a->c.p[3], origin));
  bool backwards = geo_dot (u, geo_sub (b->c.p[3], b->c.p[0])) < 0;
  double tolerance = hunt->tolerance;
  Framed fa, fb;
  if (!frame (&a->c, origin, u, false, &fa)
      || !frame (&b->c, origin, u, backwards, &fb))
    return UNDECIDED;
  double low = fmax (fa.x[0], fb.x[0]), high = fmin (fa.x[3], fb.x[3]);
  if (low > high + tolerance)
    return APART;
  if (high - low <= 4 * tolerance)
    return UNDECIDED;
  clip (&hunt->a, a, &fa, low, high, false);
  clip (&hunt->b, b, &fb, low, high, backwards);
  if (!frame (&a->c, origin, u, false, &fa)
      || !frame (&b->c, origin, u, backwards, &fb))
    return UNDECIDED;
  double slope = 0, slip = 0, least = INFINITY, most = -INFINITY;
  for (int i = 0; i < 4; i++)
    {
      slip = fmax (slip, fabs (fa.x[i] - fb.x[i]));
      least = fmin (least, fa.y[i] - fb.y[i]);
      most = fmax (most, fa.y[i] - fb.y[i]);
      if (i > 0)
        slope = fmax (slope,
                      fabs (fb.y[i] - fb.y[i - 1]) / (fb.x[i] - fb.x[i - 1]));
    }
  slip *= slope;
  if (least - slip > tolerance || most + slip < -tolerance)
    return APART;
  if (most + slip <= tolerance && least - slip >= -tolerance)
    return ALONG;
  return UNDECIDED;
}

/* Within a factor of 1.42. */
static double
length_about (GeoPoint way)
{
  return geo_most (fabs (way.x), fabs (way.y));
}

static bool
parted_along (const GeoCubic *ends, const GeoCubic *starts, GeoPoint in,
              GeoPoint out)
{
  GeoPoint joint = starts->p[0];
  /* About half way between the two; any way will do. */
  GeoPoint along = geo_add (geo_scale (in, length_about (out)),
                            geo_scale (out, length_about (in)));
  if (!(geo_dot (along, in) > 0 && geo_dot (along, out) > 0))
    return false;
  for (int i = 0; i < 3; i++)
    if (geo_dot (along, geo_sub (ends->p[i], joint)) > 0
        || geo_dot (along, geo_sub (starts->p[i + 1], joint)) < 0)
      return false;
  return true;
}

/* Two pieces that end and start at a point they are known to share meet only
 * there if the line across the joint parts their control points. */
static bool
parted_at_joint (const GeoCubic *ends, const GeoCubic *starts)
{
  GeoPoint joint = starts->p[0];
  return parted_along (ends, starts, geo_sub (joint, ends->p[0]),
                       geo_sub (starts->p[3], joint))
         || parted_along (ends, starts, geo_sub (joint, ends->p[2]),
                          geo_sub (starts->p[1], joint));
}

bool
geo_hunt_apart (const GeoCubic *a, const GeoCubic *b, int joined,
                double tolerance)
{
  GeoBox box_a = geo_box_grow (geo_hunt_box (a), tolerance);
  if (!geo_box_meets (box_a, geo_hunt_box (b)))
    return true;
  /* Neighbours first as such: no strip parts what shares a point. */
  if ((joined & GEO_JOINED_A_END_B_START) && parted_at_joint (a, b))
    return true;
  if ((joined & GEO_JOINED_B_END_A_START) && parted_at_joint (b, a))
    return true;
  return joined == GEO_JOINED_NOT
         && (strip_clear (a, b, tolerance) || strip_clear (b, a, tolerance));
}

static bool
cannot_meet (const GeoHunt *hunt, const Span *a, const Span *b)
{
  int joined = hunt->joined;
  if (!(a->t1 == 1 && b->t0 == 0))
    joined &= ~GEO_JOINED_A_END_B_START;
  if (!(b->t1 == 1 && a->t0 == 0))
    joined &= ~GEO_JOINED_B_END_A_START;
  return geo_hunt_apart (&a->c, &b->c, joined, hunt->tolerance);
}

/* Directions that keep clear of each other: at most one meeting. True where it
 * has been found. */
static bool
settle_crossing (GeoHunt *hunt, const Span *a, const Span *b, double between)
{
  GeoPoint da = geo_sub (a->c.p[3], a->c.p[0]);
  GeoPoint db = geo_sub (b->c.p[3], b->c.p[0]);
  GeoPoint off = geo_sub (b->c.p[0], a->c.p[0]);
  double det = geo_cross (da, db);
  if (!(between > 0) || det == 0)
    return false;
  double s = hold (geo_cross (off, db) / det, 0, 1);
  double v = hold (geo_cross (off, da) / det, 0, 1);
  double t = a->t0 + s * (a->t1 - a->t0), u = b->t0 + v * (b->t1 - b->t0);
  geo_hunt_meet (hunt, &t, &u);
  return accept (hunt, a, b, t, u);
}

static double
extent (const GeoCubic *c)
{
  GeoBox box = geo_hunt_box (c);
  return fmax (box.x1 - box.x0, box.y1 - box.y0);
}

static void
halve (const GeoCubic *whole, const Span *span, Span *low, Span *high)
{
  double mid = 0.5 * (span->t0 + span->t1);
  *low = (Span){ geo_cubic_part (whole, span->t0, mid), span->t0, mid };
  *high = (Span){ geo_cubic_part (whole, mid, span->t1), mid, span->t1 };
}

static void
hunt_spans (GeoHunt *hunt, Span a, Span b, int depth)
{
  double half_a, half_b;
  if (hunt->budget-- <= 0 || hunt->count >= GEO_HUNT_HITS
      || cannot_meet (hunt, &a, &b))
    return;
  if (cone (&a.c, &half_a) && cone (&b.c, &half_b))
    {
      GeoPoint da = geo_sub (a.c.p[3], a.c.p[0]);
      GeoPoint db = geo_sub (b.c.p[3], b.c.p[0]);
      double between
          = atan2 (fabs (geo_cross (da, db)), fabs (geo_dot (da, db)));
      if (settle_crossing (hunt, &a, &b, between - half_a - half_b))
        return;
      Verdict verdict
          = between + half_a + half_b < 1 ? gap (hunt, &a, &b) : UNDECIDED;
      if (verdict == APART)
        return;
      if (verdict == ALONG)
        {
          contact (hunt, a, b, true);
          return;
        }
    }
  double size_a = extent (&a.c), size_b = extent (&b.c);
  double size = fmax (size_a, size_b);
  bool last = size <= fmax (SMALLEST, 4 * hunt->tolerance) || depth == 0;
  if ((size <= SMALL || last) && (contact (hunt, a, b, last) || last))
    return;
  Span a_parts[2] = { a, a }, b_parts[2] = { b, b };
  int a_count = 1, b_count = 1;
  if (size_a >= 0.5 * size_b)
    {
      halve (&hunt->a, &a, &a_parts[0], &a_parts[1]);
      a_count = 2;
    }
  if (size_b >= 0.5 * size_a)
    {
      halve (&hunt->b, &b, &b_parts[0], &b_parts[1]);
      b_count = 2;
    }
  for (int i = 0; i < a_count; i++)
    for (int j = 0; j < b_count; j++)
      hunt_spans (hunt, a_parts[i], b_parts[j], depth - 1);
}

void
geo_hunt_parts (GeoHunt *hunt, double t0, double t1, double u0, double u1)
{
  if (!(t0 < t1 && u0 < u1))
    return;
  hunt->a_low = t0;
  hunt->a_high = t1;
  hunt->b_low = u0;
  hunt->b_high = u1;
  hunt_spans (hunt, (Span){ geo_cubic_part (&hunt->a, t0, t1), t0, t1 },
              (Span){ geo_cubic_part (&hunt->b, u0, u1), u0, u1 }, 64);
}
