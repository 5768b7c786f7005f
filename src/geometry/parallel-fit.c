/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The handles are found in three steps (parallel-feet.h has the equations).
 *
 * 1. Damped Gauss-Newton steps of the least squares of e over the feet, a step
 *    that made it worse cut down. Its start is Hermite's proportion of the
 *    handles with the sum of an arc's. The error falls with the sixth power
 *    of the stretch.
 * 2. Where that is not enough, peaks of e with alternating signs are brought to
 *    one height (Remez' exchange): three equations e + j0 h0 + j1 h1 = +-E in
 *    h0, h1 and E. The least maximum is about a seventh below the least
 *    squares'.
 * 3. Handles of one sum have their errors alike to first order, and which of
 *    them is the longer is told by terms of higher order. Towards the middle
 *    of that valley, where j0 and j1 are nearly proportional, steps get
 *    stuck, so that both sides are tried.
 *
 * |C (u) - O| bounds the distance from the fit to the parallel whatever is left
 * of slip. As u advances from foot to foot without a gap that could hide a
 * bend, every O is the foot of some C (u) at the same distance, which makes
 * the measure two-sided.
 */
#include "geometry/parallel-feet.h"

/* More turning than this between two feet is not looked into: 0.55 radians. */
#define COS_BLIND 0.853
/* More than this (0.2 radians), or feet farther apart than this, are looked at
 * more closely; and so are their neighbours when above the lesser limits. */
#define COS_SHARP 0.98
#define SHARP_NEAR 0.12
#define WIDE_GAP 0.12
#define WIDE_GAP_NEAR 0.08
/* A peak of e is narrow where its bend from foot to foot is such a share of it,
 * and then is looked at from such a share of what is allowed. */
#define NARROW 0.7
#define LOW 0.4
/* A cubic that goes so far between two feet, however near they are, may go out
 * and back. */
#define LEAP 0.1
/* How many stretches are looked at for one between feet, and how short. */
#define PILE 24
#define SHORTEST 1e-7
#define NO_VELOCITY 1e-12
/* Share of the tolerance that may be used. */
#define SAFE 0.99
#define MOST_PASSES 12
#define FEW_PASSES 6
#define SQUARE(a) ((a) * (a))

void
geo_parallel_source_init (GeoParallelSource *source, const GeoCubic *c,
                          double d)
{
  source->c = c;
  source->course = NULL;
  source->d = d;
  source->size = 0;
  for (int i = 0; i < 3; i++)
    {
      GeoPoint leg = geo_sub (c->p[i + 1], c->p[i]);
      source->v[i] = geo_scale (leg, 3);
      source->size += fabs (leg.x) + fabs (leg.y);
    }
  for (int i = 0; i < 2; i++)
    source->a[i] = geo_scale (geo_sub (source->v[i + 1], source->v[i]), 2);
  source->k[0] = source->v[0];
  source->k[1] = geo_scale (source->a[0], 0.5);
  source->k[2] = geo_scale (geo_sub (source->a[1], source->a[0]), 1.0 / 6);
}

GeoParallelSample
geo_parallel_sample (const GeoParallelSource *source, double t)
{
  GeoParallelSample sample;
  if (source->course)
    {
      source->course (source, t, &sample);
      return sample;
    }
  const GeoPoint *v = source->v, *a = source->a, *p = source->c->p;
  double s = 1 - t, ss = s * s, st = 2 * s * t, tt = t * t;
  GeoPoint dp = { ss * v[0].x + st * v[1].x + tt * v[2].x,
                  ss * v[0].y + st * v[1].y + tt * v[2].y };
  GeoPoint ddp = { s * a[0].x + t * a[1].x, s * a[0].y + t * a[1].y };
  double w0 = ss * s, w1 = 3 * ss * t, w2 = 3 * s * tt, w3 = tt * t;
  GeoPoint at = { w0 * p[0].x + w1 * p[1].x + w2 * p[2].x + w3 * p[3].x,
                  w0 * p[0].y + w1 * p[1].y + w2 * p[2].y + w3 * p[3].y };
  double n2 = geo_dot (dp, dp), n = sqrt (n2);
  sample.t = t;
  if (n > NO_VELOCITY * source->size)
    {
      double r = 1 / n;
      sample.tangent = geo_point (dp.x * r, dp.y * r);
      sample.turn = geo_cross (dp, ddp) * r * r;
      sample.speed = n - source->d * sample.turn;
    }
  else
    {
      sample.tangent = geo_cubic_tangent (source->c, t);
      double near = t < 0.5 ? t + 1e-6 : t - 1e-6;
      dp = geo_cubic_velocity (source->c, near);
      n = geo_norm (dp);
      sample.turn = sample.speed = 0;
      if (n > NO_VELOCITY * source->size)
        sample.speed
            = n
              - source->d
                    * geo_cross (dp, geo_cubic_acceleration (source->c, near))
                    / (n * n);
    }
  sample.at = geo_along (at, geo_left (sample.tangent), source->d);
  return sample;
}

GeoCubic
geo_parallel_fit_cubic (const GeoParallelSample *from,
                        const GeoParallelSample *to, const GeoParallelFit *fit)
{
  if (fit->speck)
    return geo_cubic_line (from->at, to->at);
  double l0 = copysign (fit->l0, from->speed + to->speed);
  double l1 = copysign (fit->l1, from->speed + to->speed);
  return (GeoCubic){ { from->at, geo_along (from->at, from->tangent, l0),
                       geo_along (to->at, to->tangent, -l1), to->at } };
}

typedef struct
{
  double x, e, j0, j1;
} Peak;

/* The value of a row s places past i by the parabola through three. */
GEO_INLINE double
parabola (const double *row, int i, double s)
{
  double a = row[i - 1], b = row[i], c = row[i + 1];
  return b + s * ((c - a) / 2 + s * (a - 2 * b + c) / 2);
}

/* The highest place of every stretch of e that has one sign. */
GEO_INLINE int
find_peaks (const Fit *fit, Peak *peaks)
{
  const Feet *f = &fit->feet[0], *g = &fit->feet[1];
  double e[GEO_FEET + 2], j0[GEO_FEET + 2], j1[GEO_FEET + 2];
  int count = 0, top = 1;
  lay_out (0, &f->e, &g->e, 0, e);
  lay_out (0, &f->j0, &g->j0, 0, j0);
  lay_out (0, &f->j1, &g->j1, 0, j1);
  for (int i = 2; i <= GEO_FEET + 1; i++)
    {
      if (i == GEO_FEET + 1 || (e[i] > 0) != (e[top] > 0))
        {
          double a = e[top - 1], b = e[top], c = e[top + 1];
          double bend = a - 2 * b + c;
          double s = bend * b < 0 ? (a - c) / (2 * bend) : 0;
          s = geo_least (geo_most (s, -0.5), 0.5);
          peaks[count++]
              = (Peak){ (top + s) / (GEO_FEET + 1), parabola (e, top, s),
                        parabola (j0, top, s), parabola (j1, top, s) };
          top = i;
        }
      else if (fabs (e[i]) > fabs (e[top]))
        top = i;
    }
  return count;
}

/* The step that brings the three neighbouring peaks whose least is highest to
 * one height, and that height; INFINITY where there is none. */
GEO_INLINE double
find_level (const Fit *fit, const Peak *peaks, int count, Step *step)
{
  double best = -1;
  const Peak *p = peaks;
  step->h0 = step->h1 = 0;
  for (int i = 0; i + 2 < count; i++)
    {
      double least = geo_least (fabs (peaks[i].e), fabs (peaks[i + 2].e));
      least = geo_least (least, fabs (peaks[i + 1].e));
      if (least > best)
        {
          best = least;
          p = &peaks[i];
        }
    }
  if (best < 0)
    return INFINITY;
  /* e + j0 h0 + j1 h1 = +E, -E, +E, neighbours added. */
  double a0 = p[0].j0 + p[1].j0, a1 = p[0].j1 + p[1].j1, a = p[0].e + p[1].e;
  double b0 = p[1].j0 + p[2].j0, b1 = p[1].j1 + p[2].j1, b = p[1].e + p[2].e;
  double det = a0 * b1 - a1 * b0, most = fit->chord / 4;
  if (!(fabs (det) > 1e-14 * (fabs (a0 * b1) + fabs (a1 * b0))))
    return INFINITY;
  double h0 = (a1 * b - b1 * a) / det, h1 = (b0 * a - a0 * b) / det;
  if (!(fabs (h0) < most && fabs (h1) < most))
    return INFINITY;
  step->h0 = h0;
  step->h1 = h1;
  return fabs (p[0].e + p[0].j0 * h0 + p[0].j1 * h1);
}

/* du/dx at an end, where O moves at such a speed, less one; held to where u
 * goes forward. */
static double
start_rate (double speed, double handle)
{
  return geo_least (geo_most (speed / (3 * handle + 1e-300), 0.2), 2.5) - 1;
}

/* Towards the handles that have the parallel's curvature at both ends, whose
 * error falls with the sixth power too, by two steps of Newton's method:
 *
 *   3/2 k0 l0^2 + l1 u0 x u1 = u0 x c,    3/2 k1 l1^2 + l0 u0 x u1 = c x u1
 *
 * The start is left as it is where they lie far off. */
static void
bend_handles (Fit *f, double k0, double k1)
{
  double x = geo_cross (f->u0, f->u1), l0 = f->l0, l1 = f->l1;
  double a = geo_cross (f->u0, f->c), b = geo_cross (f->c, f->u1);
  for (int i = 0; i < 2; i++)
    {
      double f0 = 1.5 * k0 * l0 * l0 + l1 * x - a, j0 = 3 * k0 * l0;
      double f1 = 1.5 * k1 * l1 * l1 + l0 * x - b, j1 = 3 * k1 * l1;
      double part = 1 / (j0 * j1 - x * x);
      l0 -= (f0 * j1 - x * f1) * part;
      l1 -= (j0 * f1 - x * f0) * part;
    }
  if ((k0 != 0 || k1 != 0) && fabs (l0 - f->l0) < 0.3 * f->l0
      && fabs (l1 - f->l1) < 0.3 * f->l1)
    {
      f->l0 = l0;
      f->l1 = l1;
    }
}

static void
init (Fit *f, const GeoParallelSample *from, const GeoParallelSample *to)
{
  f->t0 = from->t;
  f->span = to->t - from->t;
  f->way = from->speed + to->speed < 0 ? -1 : 1;
  f->p0 = from->at;
  f->c = geo_sub (to->at, from->at);
  f->u0 = geo_scale (from->tangent, f->way);
  f->u1 = geo_scale (to->tangent, f->way);
  f->chord = geo_norm (f->c);
  /* Of the turning: its cosine, twice the sine of its half, and
   * 2 cos^2 of its quarter. */
  double cosine = geo_dot (f->u0, f->u1);
  double turn = sqrt (geo_most (2 - 2 * cosine, 0));
  double quarter = 1 + sqrt (geo_most ((1 + cosine) / 2, 0));
  f->bend = (0.1 + turn) / (f->chord + 1e-300);
  double arc = f->chord / (1.5 * quarter);
  double s0 = fabs (from->speed), s1 = fabs (to->speed);
  double k = 2 * arc / (s0 + s1 + 1e-300);
  f->l0 = geo_least (geo_most (s0 * k, 0.3 * arc), 1.7 * arc);
  f->l1 = geo_least (geo_most (s1 * k, 0.3 * arc), 1.7 * arc);
  bend_handles (f, from->turn / s0, to->turn / s1);
  f->rate0 = start_rate (s0 * f->span, f->l0);
  f->rate1 = start_rate (s1 * f->span, f->l1);
}

/* Of eight feet and those before and after each: whether there is a peak of e
 * near most, or a narrow one of some height. */
GEO_INLINE bool
is_peak (const GeoLanes *before, const GeoLanes *here, const GeoLanes *after,
         double most)
{
  GeoLanes bb = *here * *here, a = *before * *here, c = *after * *here;
  GeoLanesMask high = bb > 0.7 * most * most;
  GeoLanesMask low = bb > LOW * LOW * most * most;
  GeoLanesMask narrow = a + c < (2 - NARROW) * bb;
  GeoLanesMask peak = (a <= bb) & (c <= bb) & (high | (narrow & low));
  GeoLanes any = GEO_LANES_PICK (peak, bb, bb - bb);
  return geo_lanes_most (&any) > 0;
}

GEO_INLINE bool
has_peak (const Fit *f, double most)
{
  GeoLanes e = f->feet[0].e, g = f->feet[1].e, zero = e - e;
  GeoLanes before = GEO_LANES_BEFORE (zero, e), after = GEO_LANES_AFTER (e, g);
  if (is_peak (&before, &e, &after, most))
    return true;
  before = GEO_LANES_BEFORE (e, g);
  after = GEO_LANES_AFTER (g, zero);
  return is_peak (&before, &g, &after, most);
}

/* The highest of the peaks of e that by their parabolas come near most, measured
 * where the parabolas put them; worst where there is none; INFINITY where the
 * feet are too few for parabolas to tell. */
GEO_INLINE double
highest_peak (const Fit *f, double worst, double most)
{
  double e[GEO_FEET + 2], u[GEO_FEET + 2], expected[GEO_LANES];
  Feet feet;
  int count = 0;
  if (!has_peak (f, most))
    return worst;
  lay_out (0, &f->feet[0].e, &f->feet[1].e, 0, e);
  lay_out (0, &f->feet[0].u, &f->feet[1].u, 1, u);
  for (int i = 1; i <= GEO_FEET; i++)
    {
      double b = fabs (e[i]), sign = e[i] < 0 ? -1 : 1;
      double a = sign * e[i - 1], c = sign * e[i + 1], bend = a - 2 * b + c;
      if (!(b >= a && b >= c && bend < 0))
        continue;
      double s = (a - c) / (2 * bend), top = parabola (e, i, s);
      if (fabs (top) < (bend < -NARROW * b ? LOW : 0.95) * most)
        continue;
      if (count == GEO_LANES || bend < -NARROW * b)
        return INFINITY;
      int at = s < 0 ? i - 1 : i;
      feet.x[count] = (i + s) / (GEO_FEET + 1);
      feet.u[count] = u[at] + (i + s - at) * (u[at + 1] - u[at]);
      expected[count++] = top;
    }
  if (count == 0)
    return worst;
  for (int i = count; i < GEO_LANES; i++)
    {
      feet.x[i] = feet.x[0];
      feet.u[i] = feet.u[0];
      expected[i] = expected[0];
    }
  sample_feet (f, &feet);
  for (int i = 0; i < 2; i++)
    {
      measure (f, &feet);
      move (0, 0, &feet);
    }
  measure (f, &feet);
  for (int i = 0; i < GEO_LANES; i++)
    {
      double off = fabs (feet.e[i] - expected[i]);
      if (!(off < 0.03 * most))
        return INFINITY;
      worst = geo_most (worst, fabs (feet.e[i]) + off);
    }
  return worst;
}

/* From foot to foot: how far u goes, and the sine of the turning; the last
 * step apart. */
typedef struct
{
  GeoLanes u[2], turn[2];
  double last_u, last_turn;
  double least, widest; /* of the steps of u */
  double cosine;        /* least of the turning */
  double jump;          /* see jump_of */
} Gaps;

/* By how much the turning of a step stands out from those on both sides, beyond
 * a quarter of all three: a bend that one step has to itself. */
GEO_INLINE double
jump_of (double before, double here, double after)
{
  double all = fabs (before) + fabs (here) + fabs (after);
  return fabs (before - 2 * here + after) - 0.25 * all;
}

/* The largest of eight. */
GEO_INLINE double
jump_in (const GeoLanes *before, const GeoLanes *here, const GeoLanes *after)
{
  GeoLanes p = *before, q = *here, r = *after, s = p - 2 * q + r;
  p = GEO_LANES_MAX (p, -p);
  q = GEO_LANES_MAX (q, -q);
  r = GEO_LANES_MAX (r, -r);
  s = GEO_LANES_MAX (s, -s);
  s -= 0.25 * (p + q + r);
  return geo_lanes_most (&s);
}

GEO_INLINE void
find_jump (Gaps *gaps)
{
  GeoLanes a = gaps->turn[0], b = gaps->turn[1], zero = a - a;
  /* The first step has none before it: what goes on evenly is put there. */
  GeoLanes first = zero + (2 * a[0] - a[1]), last = zero + gaps->last_turn;
  GeoLanes before = GEO_LANES_BEFORE (first, a), after = GEO_LANES_AFTER (a, b);
  gaps->jump = jump_in (&before, &a, &after);
  before = GEO_LANES_BEFORE (a, b);
  after = GEO_LANES_AFTER (b, last);
  gaps->jump = geo_most (gaps->jump, jump_in (&before, &b, &after));
}

GEO_INLINE void
find_gaps (const Fit *f, Gaps *gaps)
{
  const Feet *a = &f->feet[0], *b = &f->feet[1];
  GeoLanes zero = a->u - a->u, x0 = zero + f->u0.x, y0 = zero + f->u0.y;
  GeoLanes u0 = a->u - GEO_LANES_BEFORE (zero, a->u);
  GeoLanes u1 = b->u - GEO_LANES_BEFORE (a->u, b->u);
  GeoLanes px = GEO_LANES_BEFORE (x0, a->tx), py = GEO_LANES_BEFORE (y0, a->ty);
  GeoLanes qx = GEO_LANES_BEFORE (a->tx, b->tx);
  GeoLanes qy = GEO_LANES_BEFORE (a->ty, b->ty);
  GeoLanes c0 = px * a->tx + py * a->ty, c1 = qx * b->tx + qy * b->ty;
  gaps->u[0] = u0;
  gaps->u[1] = u1;
  gaps->turn[0] = px * a->ty - py * a->tx;
  gaps->turn[1] = qx * b->ty - qy * b->tx;
  GeoPoint end = geo_point (b->tx[GEO_LANES - 1], b->ty[GEO_LANES - 1]);
  gaps->last_u = 1 - b->u[GEO_LANES - 1];
  gaps->last_turn = geo_cross (end, f->u1);
  GeoLanes lo = -GEO_LANES_MIN (u0, u1), hi = GEO_LANES_MAX (u0, u1);
  GeoLanes cosine = -GEO_LANES_MIN (c0, c1);
  gaps->least = geo_least (-geo_lanes_most (&lo), gaps->last_u);
  gaps->widest = geo_most (geo_lanes_most (&hi), gaps->last_u);
  gaps->cosine = geo_least (-geo_lanes_most (&cosine), geo_dot (end, f->u1));
  find_jump (gaps);
}

/* Whether a bend between two feet, step of u apart, of such a turning more than
 * next to it, could make a difference: the arrow of an arc. */
GEO_INLINE bool
is_jumpy (const Fit *f, double jump, double step)
{
  return jump * f->chord * step > 0.2 * f->tolerance;
}

/* A stretch between two feet; what is known at them. */
typedef struct
{
  double x, dx, u[2], e[2];
  GeoPoint t[2]; /* tangents */
} Between;

/* The same at eight feet in between and both ends. */
typedef struct
{
  double u[GEO_LANES + 2], e[GEO_LANES + 2];
  GeoPoint t[GEO_LANES + 2];
} Look;

GEO_INLINE double
look_at (const Fit *f, const Between *at, Look *look)
{
  static const GeoLanes ramp = { 1, 2, 3, 4, 5, 6, 7, 8 };
  Feet feet;
  feet.x = at->x + ramp * (at->dx / (GEO_LANES + 1));
  feet.u = at->u[0] + ramp * ((at->u[1] - at->u[0]) / (GEO_LANES + 1));
  sample_feet (f, &feet);
  for (int i = 0; i < 3; i++)
    {
      measure (f, &feet);
      move (0, 0, &feet);
    }
  measure (f, &feet);
  for (int i = 0; i < 2; i++)
    {
      look->u[i * (GEO_LANES + 1)] = at->u[i];
      look->e[i * (GEO_LANES + 1)] = at->e[i];
      look->t[i * (GEO_LANES + 1)] = at->t[i];
    }
  for (int i = 0; i < GEO_LANES; i++)
    {
      look->u[i + 1] = feet.u[i];
      look->e[i + 1] = feet.e[i];
      look->t[i + 1] = geo_point (feet.tx[i], feet.ty[i]);
    }
  GeoLanes r = feet.e * feet.e + feet.slip * feet.slip;
  return sqrt (geo_lanes_most (&r));
}

/* Those parts of the stretch that have a bend of their own, or that the cubic
 * leaps over, are put on the pile. */
GEO_INLINE bool
pile_up (const Fit *f, const Between *at, const Look *look, Between *pile,
         int *height)
{
  double turn[GEO_LANES + 1], dx = at->dx / (GEO_LANES + 1);
  const double *u = look->u, *e = look->e;
  const GeoPoint *t = look->t;
  for (int i = 0; i <= GEO_LANES; i++)
    {
      turn[i] = geo_cross (t[i], t[i + 1]);
      if (!(u[i + 1] > u[i] && geo_dot (t[i], t[i + 1]) > COS_BLIND))
        return false;
    }
  for (int i = 0; i <= GEO_LANES; i++)
    {
      int j = i < 1 ? 1 : i < GEO_LANES ? i : GEO_LANES - 1;
      double jump = jump_of (turn[j - 1], turn[j], turn[j + 1]);
      bool leap = u[i + 1] - u[i] > LEAP;
      if (!leap && (!is_jumpy (f, jump, u[i + 1] - u[i]) || dx < SHORTEST))
        continue;
      if (*height == PILE || dx < SHORTEST)
        return false;
      pile[(*height)++] = (Between){ at->x + dx * i,
                                     dx,
                                     { u[i], u[i + 1] },
                                     { e[i], e[i + 1] },
                                     { t[i], t[i + 1] } };
    }
  return true;
}

/* Largest distance there, the peaks of e by parabolas; INFINITY where the cubic
 * does not run on. */
GEO_INLINE double
look_between (const Fit *f, const Between *at, Between *pile, int *height)
{
  Look look;
  double worst = look_at (f, at, &look);
  if (!pile_up (f, at, &look, pile, height))
    return INFINITY;
  for (int i = 1; i <= GEO_LANES; i++)
    {
      double a = look.e[i - 1], b = look.e[i], c = look.e[i + 1];
      double bend = a - 2 * b + c, s = bend * b < 0 ? (a - c) / (2 * bend) : 0;
      if (fabs (s) < 1)
        worst = geo_most (worst, fabs (parabola (look.e, i, s)));
    }
  return worst;
}

/* The error between the feet where it must be looked for: where feet lie far
 * apart, the parallel turns much or with a jump, and near high places of e;
 * everywhere where all. */
GEO_INLINE double
look_closely (const Fit *f, const Gaps *gaps, bool all, double worst,
              double most)
{
  double e[GEO_FEET + 2], u[GEO_FEET + 2], tx[GEO_FEET + 2], ty[GEO_FEET + 2];
  double turn[GEO_FEET + 1], dx = 1.0 / (GEO_FEET + 1);
  const Feet *a = &f->feet[0], *b = &f->feet[1];
  bool doubt[GEO_FEET + 3] = { false };
  lay_out (0, &a->e, &b->e, 0, e);
  lay_out (0, &a->u, &b->u, 1, u);
  lay_out (f->u0.x, &a->tx, &b->tx, f->u1.x, tx);
  lay_out (f->u0.y, &a->ty, &b->ty, f->u1.y, ty);
  memcpy (turn, gaps->turn, sizeof gaps->turn);
  turn[GEO_FEET] = gaps->last_turn;
  for (int i = 0; i <= GEO_FEET; i++)
    {
      int j = i < 1 ? 1 : i < GEO_FEET ? i : GEO_FEET - 1;
      double step = u[i + 1] - u[i];
      double jump = jump_of (turn[j - 1], turn[j], turn[j + 1]);
      doubt[i + 1] = all || step > WIDE_GAP_NEAR || fabs (turn[i]) > SHARP_NEAR
                     || is_jumpy (f, jump, step);
    }
  for (int i = 0; i <= GEO_FEET; i++)
    {
      Between pile[PILE];
      int height = 0;
      double high = geo_most (fabs (e[i]), fabs (e[i + 1]));
      if (doubt[i] || doubt[i + 1] || doubt[i + 2] || high > LOW * most)
        pile[height++]
            = (Between){ dx * i,
                         dx,
                         { u[i], u[i + 1] },
                         { e[i], e[i + 1] },
                         { { tx[i], ty[i] }, { tx[i + 1], ty[i + 1] } } };
      while (height > 0 && worst <= most)
        {
          Between at = pile[--height];
          worst = geo_most (worst, look_between (f, &at, pile, &height));
        }
    }
  return worst;
}

/* The error between the feet too, which at them is worst: a larger number where
 * it is found to be above most; INFINITY where it cannot be told. */
GEO_INLINE double
verify (const Fit *f, double worst, double most, bool brief)
{
  Gaps gaps;
  find_gaps (f, &gaps);
  if (!(gaps.least > 0 && gaps.cosine > COS_BLIND))
    return 4 * f->tolerance;
  bool even = gaps.widest < WIDE_GAP && gaps.cosine > COS_SHARP
              && !is_jumpy (f, gaps.jump, gaps.widest);
  if (!even)
    return look_closely (f, &gaps, false, worst, most);
  double error = highest_peak (f, worst, most);
  if (error < INFINITY)
    return error;
  return brief ? 1.5 * f->tolerance
               : look_closely (f, &gaps, true, worst, most);
}

/* How the difficulty adds up from foot to foot, by the turning and by t. The
 * share of t, 2, is the one that put first breaks nearest to where they came to
 * lie, over tests/data/pattern-curves.txt. */
GEO_INLINE void
add_up (const Fit *f, GeoParallelTrace *trace)
{
  const Feet *a = &f->feet[0], *b = &f->feet[1];
  double tx[GEO_FEET + 2], ty[GEO_FEET + 2];
  lay_out (f->u0.x, &a->tx, &b->tx, f->u1.x, tx);
  lay_out (f->u0.y, &a->ty, &b->ty, f->u1.y, ty);
  trace->past[0] = 0;
  for (int i = 0; i <= GEO_FEET; i++)
    {
      double s = tx[i] * ty[i + 1] - ty[i] * tx[i + 1];
      trace->past[i + 1]
          = trace->past[i] + sqrt (s * s + 2.0 / SQUARE (GEO_FEET + 1));
    }
}

/* What a step is taken back to. */
typedef struct
{
  GeoLanes u0, u1;
  double l0, l1;
  Step step;
} Mark;

GEO_INLINE void
mark (const Fit *f, const Step *step, Mark *m)
{
  m->u0 = f->feet[0].u;
  m->u1 = f->feet[1].u;
  m->l0 = f->l0;
  m->l1 = f->l1;
  m->step = *step;
}

GEO_INLINE void
take_back (Fit *f, Mark *m)
{
  f->feet[0].u = m->u0;
  f->feet[1].u = m->u1;
  f->l0 = m->l0;
  f->l1 = m->l1;
  m->step.h0 *= 0.3;
  m->step.h1 *= 0.3;
  measure_all (f);
  take_step (f, m->step.h0, m->step.h1);
}

/* Least squares until a step would gain little, or the error is below enough:
 * the largest at the feet. */
GEO_INLINE double
settle (Fit *f, double enough, int passes)
{
  Mark last = { .step = { .ee = INFINITY } };
  double reach = f->chord;
  for (int pass = 0; pass < passes; pass++)
    {
      Step step;
      measure_all (f);
      find_step (f, &step);
      /* What the slip hides of e is of second order. */
      double hidden = f->bend * step.slip, usual = sqrt (step.ee / GEO_FEET);
      if (hidden > 0.8 * usual)
        {
          take_step (f, 0, 0);
          continue;
        }
      if (step.ee > 1.5 * last.step.ee)
        {
          take_back (f, &last);
          reach = fabs (last.step.h0) + fabs (last.step.h1);
          continue;
        }
      if (hidden < 0.03 * usual
          && (step.gain < 0.03 * step.ee
              || (usual < 0.7 * enough && worst_of (f) < enough)))
        return worst_of (f);
      double h = fabs (step.h0) + fabs (step.h1);
      double part = h > reach ? reach / h : 1;
      step.h0 *= part;
      step.h1 *= part;
      reach *= 1.5;
      mark (f, &step, &last);
      take_step (f, step.h0, step.h1);
    }
  measure_all (f);
  return worst_of (f);
}

/* From the handles as they stand to the best near them: the error left. */
GEO_INLINE double
attempt (Fit *f, double enough, bool brief)
{
  double worst = settle (f, enough, brief ? FEW_PASSES : MOST_PASSES);
  double most = SAFE * f->tolerance;
  if (!(worst < (brief ? 1.2 : 2) * f->tolerance))
    return worst * 0.87; /* about where levelling would bring it */
  for (int pass = 0; pass < 6; pass++)
    {
      Peak peaks[GEO_FEET + 1];
      Step step;
      if (worst < (brief ? 1 : 0.85) * most && farthest_of (f) < most)
        return worst;
      int count = find_peaks (f, peaks);
      for (int i = 0; i < count; i++)
        worst = geo_most (worst, fabs (peaks[i].e));
      double height = find_level (f, peaks, count, &step);
      if (worst <= most || height == INFINITY || worst < 1.005 * height)
        {
          if (farthest_of (f) <= 1.02 * worst)
            return worst;
          step.h0 = step.h1 = 0;
        }
      take_step (f, step.h0, step.h1);
      measure_all (f);
      worst = worst_of (f);
    }
  return worst;
}

static void
keep (const Fit *f, double error, GeoParallelFit *fit)
{
  fit->l0 = f->l0;
  fit->l1 = f->l1;
  fit->error = error;
}

/* A stretch that has shrunk to within half the tolerance of its start. */
GEO_INLINE bool
is_speck (const Fit *f)
{
  if (f->chord > f->tolerance)
    return false;
  const Feet *a = &f->feet[0], *b = &f->feet[1];
  GeoLanes r = a->on * a->on + a->ot * a->ot;
  GeoLanes s = b->on * b->on + b->ot * b->ot;
  r = GEO_LANES_MAX (r, s);
  double most = geo_most (geo_lanes_most (&r), f->chord * f->chord);
  return most <= f->tolerance * f->tolerance / 4;
}

/* From one start after another until one holds. */
GEO_INLINE void
try_starts (Fit *f, GeoParallelEffort effort, GeoParallelFit *fit)
{
  bool brief = effort == GEO_PARALLEL_BRIEF;
  double most = SAFE * f->tolerance;
  double enough = f->tolerance * (effort == GEO_PARALLEL_WEIGHED ? 0.1 : 0.9);
  double mean = (f->l0 + f->l1) / 2, off = (f->l0 - f->l1) / 2;
  double other = copysign (geo_most (fabs (off), 0.25 * mean), -off);
  for (int start = 0;; start++)
    {
      double error = attempt (f, enough, brief);
      if (error < fit->error)
        {
          double seen = error;
          if (error <= most)
            seen = verify (f, geo_most (error, farthest_of (f)), most, brief);
          fit->holds = seen <= most;
          error = fit->holds ? error : seen;
          if (error < fit->error)
            keep (f, error, fit);
        }
      if (fit->holds || brief || fit->error > 1000 * f->tolerance || start == 2
          || (start == 1 && fabs (off) > 0.15 * mean))
        return;
      f->l0 = mean + other;
      f->l1 = mean - other;
      place_u (f);
      other = -other;
    }
}

GEO_WIDE static void
fit_wide (Fit *f, GeoParallelEffort effort, GeoParallelFit *fit,
          GeoParallelTrace *trace)
{
  place_feet (f);
  sample_feet (f, &f->feet[0]);
  sample_feet (f, &f->feet[1]);
  fit->speck = is_speck (f);
  fit->holds = fit->speck;
  if (fit->speck)
    {
      fit->error = f->tolerance / 2;
      return;
    }
  try_starts (f, effort, fit);
  if (trace && !fit->holds)
    add_up (f, trace);
}

void
geo_parallel_fit (const GeoParallelSource *source,
                  const GeoParallelSample *from, const GeoParallelSample *to,
                  double tolerance, GeoParallelEffort effort,
                  GeoParallelFit *fit, GeoParallelTrace *trace)
{
  Fit f;
  f.source = source;
  f.tolerance = tolerance;
  init (&f, from, to);
  keep (&f, INFINITY, fit);
  fit_wide (&f, effort, fit, trace);
  geo_wide_leave ();
}
