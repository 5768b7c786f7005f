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
 * Overlaps are looked for first. Their ends are ends of a or b that lie on the
 * other, once both have been cut at their folds, cusps and loops; and two different
 * cubics share at most 9 points (Bezout), so a stretch on which the ends and
 * seven places between lie on the other curve is one, within the tolerance.
 */
#include "geometry/crossing-pair.h"

#include "geometry/nearest.h"

#define BUDGET 20000
#define RAW_HITS 256
#define MOST_HITS 64
#define SMALLEST 2e-5

typedef struct
{
  GeoCubic c;
  double t0, t1;
} Span;

typedef struct
{
  double t, u, off;
} Hit;

typedef struct
{
  GeoCubic a, b;
  double tolerance;
  double a_low, a_high, b_low, b_high; /* of the parts now searched */
  int joined, budget;
  Hit hits[RAW_HITS];
  int count;
} Hunt;

static void
hunt_add (Hunt *hunt, double t, double u)
{
  double off = geo_distance (geo_cubic_point (&hunt->a, t),
                             geo_cubic_point (&hunt->b, u));
  if (hunt->count < RAW_HITS)
    hunt->hits[hunt->count++] = (Hit){ t, u, off };
}

static GeoBox
control_box (const GeoCubic *c)
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
      a_low = fmin (a_low, off_a);
      a_high = fmax (a_high, off_a);
      b_low = fmin (b_low, off_b);
      b_high = fmax (b_high, off_b);
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
static void
newton_meet (const Hunt *hunt, double *t, double *u)
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
static void
newton_touch (const Hunt *hunt, double *t, double *u)
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
accept (Hunt *hunt, const Span *a, const Span *b, double t, double u)
{
  t = hold (t, a->t0, a->t1);
  u = hold (u, b->t0, b->t1);
  double off = geo_distance (geo_cubic_point (&hunt->a, t),
                             geo_cubic_point (&hunt->b, u));
  if (off > hunt->tolerance)
    return false;
  hunt_add (hunt, t, u);
  return true;
}

static void
contact (Hunt *hunt, Span a, Span b)
{
  double mid_t = 0.5 * (a.t0 + a.t1), mid_u = 0.5 * (b.t0 + b.t1);
  double t = mid_t, u = mid_u;
  /* A little over the ends, for what lies on a cut between two pieces. */
  double reach_a = 0.5 * (a.t1 - a.t0), reach_b = 0.5 * (b.t1 - b.t0);
  a.t0 = fmax (hunt->a_low, a.t0 - reach_a);
  a.t1 = fmin (hunt->a_high, a.t1 + reach_a);
  b.t0 = fmax (hunt->b_low, b.t0 - reach_b);
  b.t1 = fmin (hunt->b_high, b.t1 + reach_b);
  newton_touch (hunt, &t, &u);
  if (accept (hunt, &a, &b, t, u))
    return;
  t = mid_t;
  u = mid_u;
  newton_meet (hunt, &t, &u);
  if (accept (hunt, &a, &b, t, u))
    return;
  /* Neither has a regular solution (a cusp, say): nearest points by turns. */
  GeoCubic part_a = geo_cubic_part (&hunt->a, a.t0, a.t1);
  GeoCubic part_b = geo_cubic_part (&hunt->b, b.t0, b.t1);
  double s = 0.5, v = 0.5;
  for (int i = 0; i < 4; i++)
    {
      geo_cubic_nearest (&part_b, geo_cubic_point (&part_a, s), &v);
      geo_cubic_nearest (&part_a, geo_cubic_point (&part_b, v), &s);
    }
  accept (hunt, &a, &b, a.t0 + s * (a.t1 - a.t0), b.t0 + v * (b.t1 - b.t0));
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
gap (const Hunt *hunt, Span *a, Span *b)
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

/* Two pieces that end and start at a point they are known to share meet only
 * there if the line across the joint parts their control points. */
static bool
parted_at_joint (const GeoCubic *ends, const GeoCubic *starts)
{
  GeoPoint joint = starts->p[0];
  GeoPoint in = geo_unit (geo_sub (joint, ends->p[0]));
  GeoPoint out = geo_unit (geo_sub (starts->p[3], joint));
  GeoPoint along = geo_add (in, out);
  if (!(geo_dot (along, in) > 0 && geo_dot (along, out) > 0))
    return false;
  for (int i = 0; i < 3; i++)
    if (geo_dot (along, geo_sub (ends->p[i], joint)) > 0
        || geo_dot (along, geo_sub (starts->p[i + 1], joint)) < 0)
      return false;
  return true;
}

static bool
cannot_meet (const Hunt *hunt, const Span *a, const Span *b)
{
  GeoBox box_a = geo_box_grow (control_box (&a->c), hunt->tolerance);
  if (!geo_box_meets (box_a, control_box (&b->c))
      || strip_clear (&a->c, &b->c, hunt->tolerance)
      || strip_clear (&b->c, &a->c, hunt->tolerance))
    return true;
  if ((hunt->joined & GEO_JOINED_A_END_B_START) && a->t1 == 1 && b->t0 == 0
      && parted_at_joint (&a->c, &b->c))
    return true;
  return (hunt->joined & GEO_JOINED_B_END_A_START) && b->t1 == 1 && a->t0 == 0
         && parted_at_joint (&b->c, &a->c);
}

/* Directions that keep clear of each other: at most one meeting. True where it
 * has been found. */
static bool
settle_crossing (Hunt *hunt, const Span *a, const Span *b, double between)
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
  newton_meet (hunt, &t, &u);
  return accept (hunt, a, b, t, u);
}

static double
extent (const GeoCubic *c)
{
  GeoBox box = control_box (c);
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
hunt_spans (Hunt *hunt, Span a, Span b, int depth)
{
  double half_a, half_b;
  if (hunt->budget-- <= 0 || hunt->count >= RAW_HITS
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
          contact (hunt, a, b);
          return;
        }
    }
  double size_a = extent (&a.c), size_b = extent (&b.c);
  if ((size_a <= SMALLEST && size_b <= SMALLEST) || depth == 0)
    {
      contact (hunt, a, b);
      return;
    }
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

static void
hunt_parts (Hunt *hunt, double t0, double t1, double u0, double u1)
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

/* Whether a runs on b between two hits. */
static bool
runs_along (const Hunt *hunt, const Hit *from, const Hit *to, int samples,
            double tolerance)
{
  GeoCubic part_a = geo_cubic_part (&hunt->a, from->t, to->t);
  GeoCubic part_b = geo_cubic_part (&hunt->b, from->u, to->u);
  for (int i = 1; i <= samples; i++)
    {
      GeoPoint p = geo_cubic_point (&part_a, i / (samples + 1.0));
      if (geo_cubic_nearest (&part_b, p, NULL) > tolerance)
        return false;
    }
  return true;
}

static void
sort_hits (Hit *hits, int count)
{
  for (int i = 1; i < count; i++)
    for (int j = i;
         j > 0
         && (hits[j].t < hits[j - 1].t
             || (hits[j].t == hits[j - 1].t && hits[j].u < hits[j - 1].u));
         j--)
      {
        Hit swap = hits[j];
        hits[j] = hits[j - 1];
        hits[j - 1] = swap;
      }
}

/* Ends of either that lie on the other. */
static int
ends_on_other (const Hunt *hunt, Hit ends[4])
{
  int count = 0;
  for (int i = 0; i < 2; i++)
    {
      double t, off;
      off = geo_cubic_nearest (&hunt->b, hunt->a.p[3 * i], &t);
      if (off <= hunt->tolerance)
        ends[count++] = (Hit){ i, t, off };
      off = geo_cubic_nearest (&hunt->a, hunt->b.p[3 * i], &t);
      if (off <= hunt->tolerance)
        ends[count++] = (Hit){ t, i, off };
    }
  sort_hits (ends, count);
  return count;
}

/* Finds the overlaps; true where there are any, with the stretch from the
 * first's start to the last's end. Two cubics without fold or loop overlap in
 * one stretch at most. */
static bool
find_overlap (Hunt *hunt, Hit *from, Hit *to)
{
  Hit ends[4];
  int count = ends_on_other (hunt, ends);
  for (int i = 0; i < count; i++)
    for (int j = count - 1; j > i; j--)
      {
        GeoCubic part = geo_cubic_part (&hunt->a, ends[i].t, ends[j].t);
        if (geo_cubic_is_point (&part, 10 * hunt->tolerance)
            || !runs_along (hunt, &ends[i], &ends[j], 7, 2 * hunt->tolerance))
          continue;
        *from = ends[i];
        *to = ends[j];
        return true;
      }
  return false;
}

static bool
same_contact (const Hunt *hunt, const Hit *p, const Hit *q)
{
  double tolerance = 4 * hunt->tolerance;
  GeoPoint at_p = geo_cubic_point (&hunt->a, p->t);
  GeoPoint at_q = geo_cubic_point (&hunt->a, q->t);
  if (geo_distance (at_p, at_q) > 0.5)
    return false;
  if (geo_distance (at_p, at_q) <= tolerance)
    {
      /* The same point, but maybe the two ways through a loop. */
      GeoCubic part_a = geo_cubic_part (&hunt->a, p->t, q->t);
      GeoCubic part_b = geo_cubic_part (&hunt->b, p->u, q->u);
      return geo_cubic_is_point (&part_a, 1e-6)
             && geo_cubic_is_point (&part_b, 1e-6);
    }
  return runs_along (hunt, p, q, 3, tolerance);
}

/* Where the curves run alongside, any place within the tolerance will have been
 * taken; the nearest approach is the one to give. */
static void
polish (const Hunt *hunt, Hit *hit)
{
  GeoPoint ta = geo_cubic_tangent (&hunt->a, hit->t);
  GeoPoint tb = geo_cubic_tangent (&hunt->b, hit->u);
  double t = hit->t, u = hit->u;
  if (fabs (geo_cross (ta, tb)) > 1e-3)
    return;
  newton_touch (hunt, &t, &u);
  if (!(t >= 0 && t <= 1 && u >= 0 && u <= 1))
    return;
  double off = geo_distance (geo_cubic_point (&hunt->a, t),
                             geo_cubic_point (&hunt->b, u));
  Hit better = { t, u, off };
  if (off <= hunt->tolerance && same_contact (hunt, hit, &better))
    *hit = better;
}

/* Hits of one contact become the closest of them. */
static void
merge_hits (Hunt *hunt)
{
  int kept = 0;
  sort_hits (hunt->hits, hunt->count);
  for (int i = 0; i < hunt->count; i++)
    {
      const Hit *hit = &hunt->hits[i];
      int j = kept - 1;
      while (j >= 0 && !same_contact (hunt, &hunt->hits[j], hit))
        j = j > 0 && kept - j < 4 ? j - 1 : -1;
      if (j < 0)
        hunt->hits[kept++] = *hit;
      else if (hit->off < hunt->hits[j].off)
        hunt->hits[j] = *hit;
    }
  hunt->count = kept;
  for (int i = 0; i < kept; i++)
    polish (hunt, &hunt->hits[i]);
  sort_hits (hunt->hits, kept);
}

/* The whole search over two cubics without fold, cusp or loop inside. */
static void
hunt_run (Hunt *hunt)
{
  Hit from, to;
  if (!find_overlap (hunt, &from, &to))
    {
      hunt_parts (hunt, 0, 1, 0, 1);
      merge_hits (hunt);
      return;
    }
  /* Beyond the stretch the two may still cross: what is left of a with all of
   * b, and the stretch of a with what is left of b. */
  double u0 = fmin (from.u, to.u), u1 = fmax (from.u, to.u);
  hunt_parts (hunt, 0, from.t, 0, 1);
  hunt_parts (hunt, to.t, 1, 0, 1);
  hunt_parts (hunt, from.t, to.t, 0, u0);
  hunt_parts (hunt, from.t, to.t, u1, 1);
  int kept = 0;
  for (int i = 0; i < hunt->count; i++)
    {
      Hit hit = hunt->hits[i];
      GeoCubic to_start = geo_cubic_part (&hunt->a, hit.t, from.t);
      GeoCubic to_end = geo_cubic_part (&hunt->a, hit.t, to.t);
      if (!geo_cubic_is_point (&to_start, 1e-5)
          && !geo_cubic_is_point (&to_end, 1e-5))
        hunt->hits[kept++] = hit;
    }
  hunt->count = kept;
  merge_hits (hunt);
  hunt_add (hunt, from.t, from.u);
  hunt_add (hunt, to.t, to.u);
  sort_hits (hunt->hits, hunt->count);
}

/* Cuts at folds and cusps, where a cubic may run back over itself, and in the
 * middle of a loop. A cubic has either, not both. in_loop is -1 without one. */
static int
cut_places (const GeoCubic *c, double t[4], double *in_loop)
{
  double loop[2];
  *in_loop = -1;
  t[0] = 0;
  int count = 1 + geo_cubic_cusps (c, t + 1);
  if (count == 1 && geo_cubic_self_crossing (c, &loop[0], &loop[1]))
    t[count++] = *in_loop = 0.5 * (loop[0] + loop[1]);
  t[count] = 1;
  return count;
}

static bool
at_joint (const Hunt *hunt, const Hit *hit)
{
  if (hunt->joined & GEO_JOINED_A_END_B_START)
    {
      GeoCubic rest_a = geo_cubic_part (&hunt->a, hit->t, 1);
      GeoCubic rest_b = geo_cubic_part (&hunt->b, 0, hit->u);
      if (geo_cubic_is_point (&rest_a, 1e-6)
          && geo_cubic_is_point (&rest_b, 1e-6))
        return true;
    }
  if (hunt->joined & GEO_JOINED_B_END_A_START)
    {
      GeoCubic rest_b = geo_cubic_part (&hunt->b, hit->u, 1);
      GeoCubic rest_a = geo_cubic_part (&hunt->a, 0, hit->t);
      return geo_cubic_is_point (&rest_a, 1e-6)
             && geo_cubic_is_point (&rest_b, 1e-6);
    }
  return false;
}

static void
hunt_report (const Hunt *hunt, GeoCrossings *list)
{
  int given = 0;
  for (int i = 0; i < hunt->count && given < MOST_HITS; i++)
    {
      const Hit *hit = &hunt->hits[i];
      if (at_joint (hunt, hit))
        continue;
      GeoPoint at = geo_lerp (geo_cubic_point (&hunt->a, hit->t),
                              geo_cubic_point (&hunt->b, hit->u), 0.5);
      geo_crossings_append (list,
                            (GeoCrossing){ { 0, hit->t }, { 0, hit->u }, at });
      given++;
    }
}

/* Takes over the hits of a hunt for pieces of the two cubics. */
static void
hunt_gather (Hunt *whole, const Hunt *part, const double ta[2],
             const double tb[2])
{
  for (int i = 0; i < part->count; i++)
    hunt_add (whole, ta[0] + part->hits[i].t * (ta[1] - ta[0]),
              tb[0] + part->hits[i].u * (tb[1] - tb[0]));
}

static void
hunt_pieces (Hunt *whole, const double *ta, int a_count, const double *tb,
             int b_count)
{
  for (int i = 0; i < a_count; i++)
    for (int j = 0; j < b_count; j++)
      {
        Hunt part = { .tolerance = whole->tolerance, .budget = BUDGET };
        part.a = geo_cubic_part (&whole->a, ta[i], ta[i + 1]);
        part.b = geo_cubic_part (&whole->b, tb[j], tb[j + 1]);
        hunt_run (&part);
        hunt_gather (whole, &part, ta + i, tb + j);
      }
}

/* Of an overlap that runs on across the middle of a loop, the cut there is no
 * end. */
static void
drop_loop_cuts (Hunt *hunt, double cut_a, double cut_b)
{
  int kept = 0;
  for (int i = 0; i < hunt->count; i++)
    {
      Hit hit = hunt->hits[i];
      bool runs_on = hit.t == cut_a || hit.u == cut_b;
      for (int side = -1; side <= 1 && runs_on; side += 2)
        {
          double t = hit.t + side * 1e-3;
          GeoPoint p = geo_cubic_point (&hunt->a, hold (t, 0, 1));
          runs_on
              = t >= 0 && t <= 1
                && geo_cubic_nearest (&hunt->b, p, NULL) <= 2 * hunt->tolerance;
        }
      if (!runs_on)
        hunt->hits[kept++] = hit;
    }
  hunt->count = kept;
}

static double
rounding_of (const GeoCubic *a, const GeoCubic *b)
{
  GeoBox box = geo_box_join (control_box (a), control_box (b));
  return 1e-14
         * fmax (fmax (fabs (box.x0), fabs (box.x1)),
                 fmax (fabs (box.y0), fabs (box.y1)));
}

void
geo_crossing_pair (const GeoCubic *a, const GeoCubic *b, int joined,
                   GeoCrossings *list)
{
  Hunt hunt = { .a = *a, .b = *b, .joined = joined, .budget = BUDGET };
  hunt.tolerance = fmax (GEO_CONTACT_TOLERANCE, rounding_of (a, b));
  GeoBox box = geo_box_grow (control_box (a), hunt.tolerance);
  if (!geo_box_meets (box, control_box (b)))
    return;
  double t, ta[4], tb[4];
  if (geo_cubic_is_point (a, hunt.tolerance))
    {
      if (geo_cubic_nearest (b, a->p[0], &t) <= hunt.tolerance)
        hunt_add (&hunt, 0, t);
    }
  else if (geo_cubic_is_point (b, hunt.tolerance))
    {
      if (geo_cubic_nearest (a, b->p[0], &t) <= hunt.tolerance)
        hunt_add (&hunt, t, 0);
    }
  else
    {
      double loop_a, loop_b;
      int a_count = cut_places (a, ta, &loop_a);
      int b_count = cut_places (b, tb, &loop_b);
      if (a_count == 1 && b_count == 1)
        hunt_run (&hunt);
      else
        {
          hunt_pieces (&hunt, ta, a_count, tb, b_count);
          merge_hits (&hunt);
          drop_loop_cuts (&hunt, loop_a, loop_b);
        }
    }
  hunt_report (&hunt, list);
}
