/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ends of the fit and its end tangents are those of the parallel, so two
 * numbers are left, the lengths l0 and l1 of its handles:
 *
 *   C (u) = B0 A0 + B1 (A0 + l0 U0) + B2 (A1 - l1 U1) + B3 A1
 *
 * with U the unit direction of travel (the source's tangent, turned about where
 * the parallel runs backwards). The distance of C (u) from the parallel is
 * measured at the foot t where (C (u) - P (t)) . T (t) = 0:
 *
 *   e = (C (u) - P (t)) . N (t) - d = (C (u) - O (t)) . N (t)
 *
 * Moving t by h moves O by speed h T, hence the foot by Newton is
 * t += (C (u) - O (t)) . T / speed. To first order e does not feel the
 * foot's own movement, so
 *
 *   de/dl0 = B1 (u) U0 . N (t),   de/dl1 = -B2 (u) U1 . N (t)
 *
 * and damped Gauss-Newton steps over FEET feet find both handles. The error
 * falls with the sixth power of the stretch. Weights w *= |e| / max |e|
 * (Lawson) then carry the least squares towards the least maximum.
 *
 * The final measurement takes three times as many feet, closer towards the ends, where
 * tight bends make narrow peaks, and refines every peak of |e| by the parabola
 * through three values. |C (u) - O (t)| bounds the distance
 * from the fit to the parallel whatever the foot's residual. Because the feet
 * advance from t0 to t1 without a gap that could hide a bend, every O (t) is
 * the foot of some C (u) at the same distance, which makes it two-sided.
 */
#include "geometry/parallel-fit.h"

#include <string.h>

#define FEET 8
#define CHECKS 24
#define TABLE 12
#define PASSES 9
/* More turning than this between two samples could hide a bend: radians. */
#define BLIND 0.55
/* And more than this between two feet asks for another. */
#define BEND 0.12
#define NO_VELOCITY 1e-12

typedef struct
{
  const GeoParallelSource *source;
  double t0, t1, tolerance;
  GeoPoint p0, p3, u0, u1;
  double chord, l0, l1;
  GeoParallelSample table[TABLE + 1];
} Fit;

typedef struct
{
  double u, t;
  double across, along; /* of C (u) - O (t), over N and T */
  GeoPoint normal;
} Foot;

static inline double
norm (GeoPoint a)
{
  return sqrt (a.x * a.x + a.y * a.y);
}

void
geo_parallel_source_init (GeoParallelSource *source, const GeoCubic *c,
                          double d)
{
  source->c = c;
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
}

GeoParallelSample
geo_parallel_sample (const GeoParallelSource *source, double t)
{
  const GeoPoint *v = source->v, *a = source->a, *p = source->c->p;
  double s = 1 - t, ss = s * s, st = 2 * s * t, tt = t * t;
  GeoPoint dp = { ss * v[0].x + st * v[1].x + tt * v[2].x,
                  ss * v[0].y + st * v[1].y + tt * v[2].y };
  GeoPoint ddp = { s * a[0].x + t * a[1].x, s * a[0].y + t * a[1].y };
  double w0 = ss * s, w1 = 3 * ss * t, w2 = 3 * s * tt, w3 = tt * t;
  GeoPoint at = { w0 * p[0].x + w1 * p[1].x + w2 * p[2].x + w3 * p[3].x,
                  w0 * p[0].y + w1 * p[1].y + w2 * p[2].y + w3 * p[3].y };
  double n2 = geo_dot (dp, dp), n = sqrt (n2);
  GeoParallelSample sample;
  if (n > NO_VELOCITY * source->size)
    {
      sample.tangent = geo_point (dp.x / n, dp.y / n);
      sample.speed = n - source->d * geo_cross (dp, ddp) / n2;
    }
  else
    {
      sample.tangent = geo_cubic_tangent (source->c, t);
      double near = t < 0.5 ? t + 1e-6 : t - 1e-6;
      dp = geo_cubic_velocity (source->c, near);
      n = norm (dp);
      sample.speed = 0;
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

static GeoCubic
fit_cubic (const Fit *f)
{
  return (GeoCubic){ { f->p0, geo_along (f->p0, f->u0, f->l0),
                       geo_along (f->p3, f->u1, -f->l1), f->p3 } };
}

/* Brings the foot of q, its t a guess, to where the residual along the tangent
 * is within enough. */
static void
find_foot (const Fit *f, GeoPoint q, int steps, double enough, Foot *foot)
{
  double longest = 0.3 * (f->t1 - f->t0);
  for (int i = 0;; i++)
    {
      GeoParallelSample o = geo_parallel_sample (f->source, foot->t);
      GeoPoint r = geo_sub (q, o.at);
      foot->normal = geo_left (o.tangent);
      foot->across = geo_dot (r, foot->normal);
      foot->along = geo_dot (r, o.tangent);
      if (i == steps || fabs (foot->along) <= enough)
        return;
      double step = fabs (foot->along) < longest * fabs (o.speed)
                        ? foot->along / o.speed
                        : copysign (longest, foot->along * o.speed);
      double t = fmin (fmax (foot->t + step, f->t0), f->t1);
      if (t == foot->t)
        return;
      foot->t = t;
    }
}

/* False where the parallel turns too fast to be seen by this many samples. */
static bool
fill_table (Fit *f)
{
  const GeoParallelSource *s = f->source;
  f->table[0] = geo_parallel_sample (s, f->t0);
  for (int i = 1; i <= TABLE; i++)
    {
      double t = i == TABLE ? f->t1 : f->t0 + (f->t1 - f->t0) * i / TABLE;
      f->table[i] = geo_parallel_sample (s, t);
      if (geo_dot (f->table[i].tangent, f->table[i - 1].tangent) < cos (BLIND))
        return false;
    }
  return true;
}

/* A stretch that has shrunk to within tolerance of a point. */
static bool
is_speck (const Fit *f)
{
  for (int i = 1; i <= TABLE; i++)
    if (norm (geo_sub (f->table[i].at, f->p0)) > f->tolerance / 2)
      return false;
  return true;
}

/* Hermite handles where they are of a likely length, else those that would
 * make an arc of this turning. */
static void
first_guess (Fit *f)
{
  double third = (f->t1 - f->t0) / 3;
  double turn = geo_angle_between (f->u0, f->u1), c = cos (turn / 4);
  double arc = f->chord / (3 * c * c);
  f->l0 = third * fabs (f->table[0].speed);
  f->l1 = third * fabs (f->table[TABLE].speed);
  if (!(f->l0 > 0.1 * f->chord && f->l0 < 0.8 * f->chord
        && f->l1 > 0.1 * f->chord && f->l1 < 0.8 * f->chord))
    f->l0 = f->l1 = arc;
}

/* crowd: how much closer the feet stand towards the ends, 0 to 1. */
static void
start_feet (const Fit *f, Foot *feet, int count, double crowd)
{
  GeoCubic c = fit_cubic (f);
  int at = 0;
  for (int i = 0; i < count; i++)
    {
      double u = (i + 1.0) / (count + 1);
      u -= crowd * sin (2 * M_PI * u) / (2 * M_PI);
      GeoPoint q = geo_cubic_point (&c, u);
      GeoPoint r = geo_sub (q, f->table[at].at);
      double here = geo_dot (r, r);
      while (at < TABLE)
        {
          r = geo_sub (q, f->table[at + 1].at);
          double next = geo_dot (r, r);
          if (next > here)
            break;
          here = next;
          at++;
        }
      feet[i].u = u;
      feet[i].t = f->t0 + (f->t1 - f->t0) * at / TABLE;
    }
}

static double
measure_feet (const Fit *f, Foot *feet, int count, int steps, double enough)
{
  GeoCubic c = fit_cubic (f);
  double worst = 0;
  for (int i = 0; i < count; i++)
    {
      find_foot (f, geo_cubic_point (&c, feet[i].u), steps, enough, &feet[i]);
      worst = fmax (worst, fabs (feet[i].across));
    }
  return worst;
}

static void
improve (Fit *f, const Foot *feet, const double *weight)
{
  double a00 = 0, a01 = 0, a11 = 0, b0 = 0, b1 = 0;
  for (int i = 0; i < FEET; i++)
    {
      double u = feet[i].u, v = 1 - u;
      double j0 = 3 * v * v * u * geo_dot (f->u0, feet[i].normal);
      double j1 = -3 * v * u * u * geo_dot (f->u1, feet[i].normal);
      double w = weight[i], e = feet[i].across;
      a00 += w * j0 * j0;
      a01 += w * j0 * j1;
      a11 += w * j1 * j1;
      b0 -= w * j0 * e;
      b1 -= w * j1 * e;
    }
  double damp = 1e-10 * (a00 + a11) + 1e-300;
  a00 += damp;
  a11 += damp;
  double det = a00 * a11 - a01 * a01, most = f->chord / 2;
  if (!(det > 0))
    return;
  double s0 = (b0 * a11 - b1 * a01) / det, s1 = (a00 * b1 - a01 * b0) / det;
  s0 = fmin (fmax (s0, -most), most);
  s1 = fmin (fmax (s1, -most), most);
  f->l0 = fmin (fmax (f->l0 + s0, 0), 1.6 * f->chord);
  f->l1 = fmin (fmax (f->l1 + s1, 0), 1.6 * f->chord);
}

/* The peak of |across| about feet[i], whose neighbours are lower. */
static double
peak (const Fit *f, const GeoCubic *c, const Foot *feet, int i)
{
  double a = fabs (feet[i - 1].across), b = fabs (feet[i].across);
  double d = fabs (feet[i + 1].across), bend = a - 2 * b + d;
  double shift = bend < 0 ? 0.5 * (a - d) / bend : 0;
  Foot top = feet[i];
  if (fabs (shift) < 0.02)
    return b;
  top.u += shift * (feet[i + 1].u - feet[i].u);
  find_foot (f, geo_cubic_point (c, top.u), 6, f->tolerance * 1e-3, &top);
  return fmax (b, hypot (top.across, top.along));
}

/* Where much turns between two feet, the places between them count as well. */
static bool
holds_between (const Fit *f, const GeoCubic *c, const Foot *a, const Foot *b,
               double most, int depth)
{
  if (geo_dot (a->normal, b->normal) > cos (BEND) || depth == 0)
    return true;
  Foot m = { .u = (a->u + b->u) / 2, .t = (a->t + b->t) / 2 };
  find_foot (f, geo_cubic_point (c, m.u), 8, f->tolerance * 1e-3, &m);
  return hypot (m.across, m.along) <= most
         && holds_between (f, c, a, &m, most, depth - 1)
         && holds_between (f, c, &m, b, most, depth - 1);
}

static bool
holds (const Fit *f)
{
  Foot feet[CHECKS + 2];
  GeoCubic c = fit_cubic (f);
  double most = 0.95 * f->tolerance;
  memset (feet, 0, sizeof feet);
  feet[0].t = f->t0;
  feet[0].normal = geo_left (f->table[0].tangent);
  feet[CHECKS + 1] = (Foot){ .u = 1, .t = f->t1 };
  feet[CHECKS + 1].normal = geo_left (f->table[TABLE].tangent);
  start_feet (f, feet + 1, CHECKS, 0.7);
  for (int i = 1; i <= CHECKS + 1; i++)
    {
      if (i <= CHECKS)
        find_foot (f, geo_cubic_point (&c, feet[i].u), 8, f->tolerance * 1e-3,
                   &feet[i]);
      if (feet[i].t < feet[i - 1].t
          || hypot (feet[i].across, feet[i].along) > most
          || geo_dot (feet[i].normal, feet[i - 1].normal) < cos (BLIND)
          || !holds_between (f, &c, &feet[i - 1], &feet[i], most, 4))
        return false;
    }
  for (int i = 1; i <= CHECKS; i++)
    {
      double e = fabs (feet[i].across);
      if (e >= fabs (feet[i - 1].across) && e >= fabs (feet[i + 1].across)
          && peak (f, &c, feet, i) > most)
        return false;
    }
  return true;
}

static void
weigh (const Foot *feet, double worst, double *weight)
{
  for (int i = 0; i < FEET; i++)
    weight[i] *= 0.02 + fabs (feet[i].across) / worst;
}

static bool
settle (Fit *f)
{
  Foot feet[FEET];
  double weight[FEET], before = INFINITY;
  for (int i = 0; i < FEET; i++)
    weight[i] = 1;
  start_feet (f, feet, FEET, 0);
  for (int pass = 0; pass < PASSES; pass++)
    {
      double worst = measure_feet (f, feet, FEET, pass == 0 ? 4 : 2,
                                   f->tolerance * 0.01);
      if (worst <= 0.95 * f->tolerance && holds (f))
        return true;
      bool level = worst > 0.7 * before;
      if ((pass >= 2 && worst > 30 * f->tolerance)
          || (level && worst > 2.5 * f->tolerance && pass >= 3))
        return false;
      if (level && worst > 0)
        weigh (feet, worst, weight);
      improve (f, feet, weight);
      before = worst;
    }
  return false;
}

bool
geo_parallel_fit (const GeoParallelSource *source, double t0, double t1,
                  double tolerance, GeoCubic *fit)
{
  Fit f = { .source = source, .t0 = t0, .t1 = t1, .tolerance = tolerance };
  bool seen = fill_table (&f);
  if (!seen)
    f.table[TABLE] = geo_parallel_sample (source, t1);
  double way = geo_parallel_sample (source, (t0 + t1) / 2).speed < 0 ? -1 : 1;
  f.p0 = f.table[0].at;
  f.p3 = f.table[TABLE].at;
  f.u0 = geo_scale (f.table[0].tangent, way);
  f.u1 = geo_scale (f.table[TABLE].tangent, way);
  f.chord = norm (geo_sub (f.p3, f.p0));
  if (seen && is_speck (&f))
    {
      *fit = geo_cubic_line (f.p0, f.p3);
      return true;
    }
  first_guess (&f);
  bool good = seen && f.chord > 1e-9 && settle (&f);
  *fit = fit_cubic (&f);
  return good;
}
