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
#include "geometry/parallel-look.h"

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
