/* SPDX-License-Identifier: GPL-3.0-or-later */
/* With the ends and their tangents fixed only the two handle lengths are
 * free. Places q_i of the chain have feet C (u_i) on the cubic, at distances
 * e_i along its normals N_i there. C (u) moves by
 *
 *   3 (1-u)^2 u T0 da + 3 (1-u) u^2 T1 db,
 *
 * T0 and T1 pointing into the curve from its ends, so that with J_i the normal
 * parts of the two, Gauss-Newton steps are (J'J + damping) (da, db) = J'e.
 *
 * From the least squares on, the step that makes the largest |e_i - J_i . d|
 * least is found instead. Two unknowns are settled by three samples: for
 * numbers l with the sum of l_i J_i = 0, the sum of l_i e_i does not feel d, so
 * three equal distances h with the signs of l must have
 *
 *   h = sum l_i e_i / sum |l_i|,   l_0 = J_1 x J_2 and so on round,
 *
 * and no d does better on these three. Another sample that comes out larger is
 * taken in for one of them, that which leaves h largest, until none does
 * (Stiefel's exchange): h rises each time, so it ends.
 *
 * There may be several minima, so several starts are tried unless the first
 * is good. The feet lie on one cubic, which makes a round cheap: the chain is
 * sampled once.
 */
#include "geometry/fit.h"

#include "geometry/apart.h"
#include "geometry/foot.h"

#define MOST_SAMPLES 64
#define ROUNDS 24
#define EXCHANGES 24
#define FOOT_STEPS 2
/* A fit within this part of the length is taken to be in the right valley. */
#define GOOD 3e-5
#define ROUGH 0.03 /* and one above this in none */
#define STRAY_POINTS 24

typedef struct
{
  const GeoChain *chain;
  GeoPoint q[MOST_SAMPLES];
  GeoPlace place[MOST_SAMPLES];
  double part[MOST_SAMPLES]; /* of the way to each */
  int samples;
  GeoPoint start, end, t0, t1;
  double length;
} Task;

static GeoCubic
with_handles (const Task *task, double a, double b)
{
  return (GeoCubic){ { task->start, geo_along (task->start, task->t0, a),
                       geo_along (task->end, task->t1, b), task->end } };
}

/* Inner places, as many on each cubic as there is room for; on a long chain
 * only on every so many. */
static void
take_samples (Task *task, const GeoChain *chain)
{
  size_t every = 1 + (chain->count - 1) / (MOST_SAMPLES / 2);
  size_t each = 24 / chain->count < 2 ? 2 : 24 / chain->count;
  GeoPoint before = geo_chain_start (chain);
  task->samples = 0;
  task->length = 0;
  for (size_t i = 0; i < chain->count; i++)
    for (size_t k = 1; k <= each; k++)
      {
        GeoPoint q = k == each ? chain->cubics[i].p[3]
                               : geo_cubic_point (&chain->cubics[i],
                                                  (double)k / (double)each);
        task->length += geo_distance (before, q);
        before = q;
        if (i % every != 0 || task->samples == MOST_SAMPLES
            || (i + 1 == chain->count && k == each))
          continue;
        task->place[task->samples] = (GeoPlace){ i, (double)k / (double)each };
        task->part[task->samples] = task->length;
        task->q[task->samples++] = q;
      }
  for (int i = 0; i < task->samples && task->length > 0; i++)
    task->part[i] /= task->length;
}

/* Feet of the samples; returns the largest distance. */
static double
measure (const Task *task, double a, double b, GeoFoot *feet)
{
  GeoCubic c = with_handles (task, a, b);
  double largest = 0;
  for (int i = 0; i < task->samples; i++)
    {
      geo_foot_find (&c, 1, false, task->q[i], FOOT_STEPS, &feet[i]);
      largest = fmax (largest, feet[i].far);
    }
  return largest;
}

static double
held_within (double x, double least, double most)
{
  return fmin (fmax (x, least), most);
}

/* The rates at which handles move the feet along their normals. */
static void
find_rates (const Task *task, double a, double b, const GeoFoot *feet,
            double rate[][2])
{
  GeoCubic c = with_handles (task, a, b);
  for (int i = 0; i < task->samples; i++)
    {
      double u = feet[i].u, s = 1 - u;
      GeoPoint v = geo_cubic_velocity (&c, u);
      double speed = sqrt (geo_dot (v, v));
      GeoPoint normal
          = speed > 0 ? geo_scale (geo_left (v), 1 / speed) : geo_point (0, 0);
      rate[i][0] = 3 * s * s * u * geo_dot (task->t0, normal);
      rate[i][1] = 3 * s * u * u * geo_dot (task->t1, normal);
    }
}

static GeoPoint
least_squares (const Task *task, const GeoFoot *feet, double rate[][2])
{
  double aa = 0, ab = 0, bb = 0, ae = 0, be = 0;
  for (int i = 0; i < task->samples; i++)
    {
      aa += rate[i][0] * rate[i][0];
      ab += rate[i][0] * rate[i][1];
      bb += rate[i][1] * rate[i][1];
      ae += rate[i][0] * feet[i].off;
      be += rate[i][1] * feet[i].off;
    }
  double damping = 1e-9 * (aa + bb) + 1e-14;
  aa += damping;
  bb += damping;
  double det = aa * bb - ab * ab;
  if (!(det > 0))
    return geo_point (0, 0);
  return geo_point ((ae * bb - be * ab) / det, (be * aa - ae * ab) / det);
}

/* The level of three samples: |level| is the least largest distance they can
 * have, step what leads to it. False where their rates leave it open. */
static bool
level_of (const GeoFoot *feet, double rate[][2], const int at[3], double *level,
          GeoPoint *step)
{
  const double *i = rate[at[0]], *j = rate[at[1]], *k = rate[at[2]];
  double l[3] = { j[0] * k[1] - j[1] * k[0], k[0] * i[1] - k[1] * i[0],
                  i[0] * j[1] - i[1] * j[0] };
  double sum = fabs (l[0]) + fabs (l[1]) + fabs (l[2]), e[3];
  if (!(sum > 1e-9))
    return false;
  *level = 0;
  for (int n = 0; n < 3; n++)
    *level += l[n] * feet[at[n]].off / sum;
  for (int n = 0; n < 3; n++)
    e[n] = feet[at[n]].off - copysign (*level, *level * l[n]);
  /* The two equations that tell the handles apart best. */
  int n = fabs (l[0]) > fabs (l[1]) ? 0 : 1;
  n = fabs (l[2]) > fabs (l[n]) ? 2 : n;
  const double *p = rate[at[(n + 1) % 3]], *q = rate[at[(n + 2) % 3]];
  double ep = e[(n + 1) % 3], eq = e[(n + 2) % 3];
  *step = geo_point ((ep * q[1] - eq * p[1]) / l[n],
                     (eq * p[0] - ep * q[0]) / l[n]);
  return true;
}

/* Brings one more sample in for the one that leaves the level highest. */
static bool
exchange (const GeoFoot *feet, double rate[][2], int worst, int at[3])
{
  double best = -1, level;
  int out = 0;
  GeoPoint step;
  for (int n = 0; n < 3; n++)
    {
      int with[3] = { at[0], at[1], at[2] };
      with[n] = worst;
      if (level_of (feet, rate, with, &level, &step) && fabs (level) > best)
        {
          best = fabs (level);
          out = n;
        }
    }
  at[out] = worst;
  return best >= 0;
}

/* The step that makes the largest of |off - rate . step| least. */
static GeoPoint
least_largest (const Task *task, const GeoFoot *feet, double rate[][2])
{
  int at[3] = { task->samples / 6, task->samples / 2, task->samples * 5 / 6 };
  GeoPoint step = { 0, 0 }, none = { 0, 0 };
  double level, before = -1;
  for (int round = 0; round < EXCHANGES; round++)
    {
      double most = -1;
      int worst = 0;
      if (!level_of (feet, rate, at, &level, &step))
        return none;
      for (int i = 0; i < task->samples; i++)
        {
          double e
              = fabs (feet[i].off - rate[i][0] * step.x - rate[i][1] * step.y);
          if (e > most)
            {
              most = e;
              worst = i;
            }
        }
      if (most <= 1.001 * fabs (level) || fabs (level) <= before
          || !exchange (feet, rate, worst, at))
        break;
      before = fabs (level);
    }
  return step;
}

static void
start_feet (const Task *task, GeoFoot *feet)
{
  for (int i = 0; i < task->samples; i++)
    feet[i] = (GeoFoot){ .u = task->part[i] };
}

/* From where the feet are; the best handles met on the way. */
static double
improve (const Task *task, GeoFoot *feet, double *a, double *b)
{
  double rate[MOST_SAMPLES][2], l = task->length;
  double best = INFINITY, best_a = *a, best_b = *b;
  int idle = 0;
  double least = fmin (1e-3 * l, fmin (*a, *b));
  bool level = false;
  measure (task, *a, *b, feet);
  for (int round = 0; round < ROUNDS && idle < 3; round++)
    {
      double largest = measure (task, *a, *b, feet);
      idle = largest < 0.998 * best ? 0 : idle + 1;
      level = level || largest > 0.9 * best;
      if (largest < best)
        {
          best = largest;
          best_a = *a;
          best_b = *b;
        }
      if (best < 1e-12 * l)
        break;
      find_rates (task, *a, *b, feet, rate);
      GeoPoint d = level ? least_largest (task, feet, rate)
                         : least_squares (task, feet, rate);
      *a += held_within (d.x, -0.25 * l, 0.25 * l);
      *b += held_within (d.y, -0.25 * l, 0.25 * l);
      *a = held_within (*a, least, 2 * l);
      *b = held_within (*b, least, 2 * l);
    }
  *a = best_a;
  *b = best_b;
  return best;
}

/* Handles if the chain is one cubic cut in pieces: the parameter widths of
 * neighbours are in the ratio of their handles at the joint. */
static bool
handles_of_whole (const GeoChain *chain, double *a, double *b)
{
  double width = 1, sum = 1;
  for (size_t i = 1; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i - 1], *d = &chain->cubics[i];
      double in = geo_distance (c->p[2], c->p[3]);
      double out = geo_distance (d->p[0], d->p[1]);
      if (!(in > 0) || !(out > 0))
        return false;
      width *= out / in;
      sum += width;
    }
  const GeoCubic *first = chain->cubics, *last = first + chain->count - 1;
  *a = geo_distance (first->p[0], first->p[1]) * sum;
  *b = geo_distance (last->p[2], last->p[3]) * sum / width;
  return *a < 1e9 && *b < 1e9;
}

/* Part of the way from one place to the next sample's. */
static GeoPlace
between (GeoPlace from, GeoPlace to, double f)
{
  if (from.cubic == to.cubic)
    return (GeoPlace){ from.cubic, from.t + f * (to.t - from.t) };
  if (from.t >= 1)
    return (GeoPlace){ to.cubic, f * to.t };
  return (GeoPlace){ from.cubic, from.t + f * (1 - from.t) };
}

/* Moves samples that are farther off than both neighbours to the top of the
 * parabola through the three, but by half of a gap at most. */
static void
move_to_peaks (Task *task, const GeoFoot *feet)
{
  GeoPlace was[MOST_SAMPLES];
  double part[MOST_SAMPLES];
  for (int i = 0; i < task->samples; i++)
    {
      was[i] = task->place[i];
      part[i] = task->part[i];
    }
  for (int i = 1; i + 1 < task->samples; i++)
    {
      double before = part[i] - part[i - 1], after = part[i + 1] - part[i];
      double rise = (feet[i].off - feet[i - 1].off) / before;
      double fall = (feet[i].off - feet[i + 1].off) / after;
      double slope = (rise * after - fall * before) / (before + after);
      double bend = (rise + fall) / (before + after);
      if (!(before > 0) || !(after > 0) || rise * fall <= 0 || bend == 0)
        continue;
      double move = 0.5 * slope / bend;
      double f = move > 0 ? fmin (move / after, 0.5)
                          : 1 + fmax (move / before, -0.5);
      task->place[i] = move > 0 ? between (was[i], was[i + 1], f)
                                : between (was[i - 1], was[i], f);
      task->part[i] += move > 0 ? f * after : (f - 1) * before;
      task->q[i] = geo_chain_point (task->chain, task->place[i]);
    }
}

/* Roughly, how far the cubic and the samples stray from each other, by a few
 * points of both: for what has no feet to follow. */
static double
stray (const Task *task, double a, double b)
{
  GeoCubic c = with_handles (task, a, b);
  double nearest[MOST_SAMPLES], most = 0;
  for (int i = 0; i < task->samples; i++)
    nearest[i] = INFINITY;
  for (int k = 0; k <= STRAY_POINTS; k++)
    {
      GeoPoint p = geo_cubic_point (&c, k / (double)STRAY_POINTS);
      double near = INFINITY;
      for (int i = 0; i < task->samples; i++)
        {
          GeoPoint r = geo_sub (p, task->q[i]);
          double d = geo_dot (r, r);
          near = fmin (near, d);
          nearest[i] = fmin (nearest[i], d);
        }
      if (k > 0 && k < STRAY_POINTS)
        most = fmax (most, near);
    }
  for (int i = 0; i < task->samples; i++)
    most = fmax (most, nearest[i]);
  return sqrt (most);
}

/* Handles where the chain turns a corner no cubic can follow: the best of a
 * grid, then of ever smaller steps about it. */
static void
search (const Task *task, double *a, double *b)
{
  double l = task->length, best = stray (task, *a, *b);
  int moves = 0;
  for (int i = 0; i < 64; i++)
    {
      double p = l * 0.02 * exp2 (0.7 * (i % 8));
      double q = l * 0.02 * exp2 (0.7 * (i / 8));
      double far = stray (task, p, q);
      if (far < best)
        {
          best = far;
          *a = p;
          *b = q;
        }
    }
  for (double move = 0.3; move > 0.01; move /= 2)
    for (int i = 0; i < 4; i++)
      {
        double p = *a * (i == 0 ? 1 + move : i == 1 ? 1 - move : 1);
        double q = *b * (i == 2 ? 1 + move : i == 3 ? 1 - move : 1);
        double far = stray (task, p, q);
        if (far < best)
          {
            best = far;
            *a = p;
            *b = q;
            i = moves++ < 12 ? -1 : i;
          }
      }
}

static void
try_starts (Task *task, GeoCubic *fit)
{
  static const double starts[4][2]
      = { { 0, 0 }, { 0.33, 0.33 }, { 0.5, 0.2 }, { 0.2, 0.5 } };
  double best = INFINITY, best_a = 0, best_b = 0;
  GeoFoot feet[MOST_SAMPLES];
  for (int i = 0; i < 4 && !(best < GOOD * task->length); i++)
    {
      double a = starts[i][0] * task->length, b = starts[i][1] * task->length;
      if (i == 0 && !handles_of_whole (task->chain, &a, &b))
        continue;
      start_feet (task, feet);
      double largest = improve (task, feet, &a, &b);
      if (largest < best)
        {
          best = largest;
          best_a = a;
          best_b = b;
        }
    }
  if (best > ROUGH * task->length)
    search (task, &best_a, &best_b);
  else if (best > 1e-9)
    {
      for (int i = 0; i < 3; i++)
        {
          start_feet (task, feet);
          measure (task, best_a, best_b, feet);
          measure (task, best_a, best_b, feet);
          move_to_peaks (task, feet);
          improve (task, feet, &best_a, &best_b);
        }
    }
  *fit = with_handles (task, best_a, best_b);
}

double
geo_chain_fit_single (const GeoChain *chain, GeoCubic *fit)
{
  Task task = { .start = geo_chain_start (chain),
                .end = geo_chain_end (chain),
                .chain = chain };
  *fit = geo_cubic_line (task.start, task.end);
  if (chain->count == 0)
    return 0;
  take_samples (&task, chain);
  if (!(task.length > 0))
    return 0;
  GeoPlace first = { 0, 0 }, last = { chain->count - 1, 1 };
  task.t0 = geo_chain_tangent (chain, first);
  task.t1 = geo_scale (geo_chain_tangent (chain, last), -1);
  GeoChain single = { fit, 1, 1 };
  double in, out;
  if (handles_of_whole (chain, &in, &out))
    {
      *fit = with_handles (&task, in, out);
      double off = geo_chain_apart (chain, &single);
      if (off <= 1e-9 * task.length)
        return off;
    }
  try_starts (&task, fit);
  return geo_chain_apart (chain, &single);
}
