/* SPDX-License-Identifier: GPL-3.0-or-later */
/* With the ends and their tangents fixed only the two handle lengths are
 * free. Gauss-Newton brings the normal distances e_i of samples C (u_i) from
 * their feet on the chain down:
 *
 *   C (u) moves by 3 (1-u)^2 u T0 da + 3 (1-u) u^2 T1 db,
 *   so de_i = N_i . that, and (J'WJ + damping) (da, db) = -J'W e.
 *
 * T0 and T1 point into the curve from its two ends. The weights are Lawson's:
 * multiplied by |e_i| in each round they lead from the least squares to nearly
 * the least largest error. Several starts, for there may be several minima; the
 * best by the largest error is taken, and measured anew all over.
 */
#include "geometry/fit.h"

#include "geometry/length.h"
#include "geometry/nearest.h"

#define SAMPLES 24
#define ROUNDS 24
#define LEAST_SQUARES_ROUNDS 10

typedef struct
{
  const GeoChain *chain;
  GeoPoint start, end, t0, t1;
  double length;
} Task;

static GeoCubic
with_handles (const Task *task, double a, double b)
{
  return (GeoCubic){ { task->start, geo_along (task->start, task->t0, a),
                       geo_along (task->end, task->t1, b), task->end } };
}

/* Errors and their rates at the samples; returns the largest. */
static double
measure (const Task *task, double a, double b, double e[SAMPLES],
         double rate[SAMPLES][2])
{
  GeoCubic c = with_handles (task, a, b);
  double largest = 0;
  for (int i = 0; i < SAMPLES; i++)
    {
      double u = (i + 0.5) / SAMPLES, s = 1 - u;
      GeoPlace foot = { 0, 0 };
      GeoPoint p = geo_cubic_point (&c, u);
      geo_chain_nearest (task->chain, p, &foot);
      GeoPoint normal = geo_left (geo_chain_tangent (task->chain, foot));
      GeoPoint off = geo_sub (p, geo_chain_point (task->chain, foot));
      e[i] = geo_dot (off, normal);
      rate[i][0] = 3 * s * s * u * geo_dot (task->t0, normal);
      rate[i][1] = 3 * s * u * u * geo_dot (task->t1, normal);
      largest = fmax (largest, geo_norm (off));
    }
  return largest;
}

static void
step (double e[SAMPLES], double rate[SAMPLES][2], double weight[SAMPLES],
      double *da, double *db)
{
  double aa = 0, ab = 0, bb = 0, ae = 0, be = 0;
  for (int i = 0; i < SAMPLES; i++)
    {
      aa += weight[i] * rate[i][0] * rate[i][0];
      ab += weight[i] * rate[i][0] * rate[i][1];
      bb += weight[i] * rate[i][1] * rate[i][1];
      ae += weight[i] * rate[i][0] * e[i];
      be += weight[i] * rate[i][1] * e[i];
    }
  double damping = 1e-9 * (aa + bb) + 1e-14;
  aa += damping;
  bb += damping;
  double det = aa * bb - ab * ab;
  *da = *db = 0;
  if (det > 0)
    {
      *da = -(ae * bb - be * ab) / det;
      *db = -(be * aa - ae * ab) / det;
    }
}

/* From one start; the best handles met on the way. */
static double
improve (const Task *task, double *a, double *b)
{
  double e[SAMPLES], rate[SAMPLES][2], weight[SAMPLES];
  double best = INFINITY, best_a = *a, best_b = *b;
  for (int i = 0; i < SAMPLES; i++)
    weight[i] = 1;
  for (int round = 0; round < ROUNDS; round++)
    {
      double largest = measure (task, *a, *b, e, rate), da, db;
      if (largest < best)
        {
          best = largest;
          best_a = *a;
          best_b = *b;
        }
      if (best < 1e-12 * task->length)
        break;
      if (round >= LEAST_SQUARES_ROUNDS)
        for (int i = 0; i < SAMPLES; i++)
          weight[i] *= 0.05 + fabs (e[i]) / largest;
      step (e, rate, weight, &da, &db);
      double most = 0.25 * task->length;
      *a = fmax (1e-3 * task->length, *a + fmax (-most, fmin (most, da)));
      *b = fmax (1e-3 * task->length, *b + fmax (-most, fmin (most, db)));
      *a = fmin (*a, 2 * task->length);
      *b = fmin (*b, 2 * task->length);
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
  return true;
}

double
geo_chain_fit_single (const GeoChain *chain, GeoCubic *fit)
{
  GeoPoint start = geo_chain_start (chain), end = geo_chain_end (chain);
  *fit = geo_cubic_line (start, end);
  Task task = { chain, start, end, { 0, 0 }, { 0, 0 }, 0 };
  task.length = geo_chain_length (chain, 1e-6);
  if (chain->count == 0 || !(task.length > 0))
    return 0;
  GeoPlace first = { 0, 0 }, last = { chain->count - 1, 1 };
  task.t0 = geo_chain_tangent (chain, first);
  task.t1 = geo_scale (geo_chain_tangent (chain, last), -1);
  static const double starts[3][2]
      = { { 0.33, 0.33 }, { 0.5, 0.2 }, { 0.2, 0.5 } };
  double best = INFINITY, a, b;
  for (int i = -1; i < 3; i++)
    {
      if (i >= 0)
        {
          a = starts[i][0] * task.length;
          b = starts[i][1] * task.length;
        }
      else if (!handles_of_whole (chain, &a, &b))
        continue;
      double largest = improve (&task, &a, &b);
      if (largest < best)
        {
          best = largest;
          *fit = with_handles (&task, a, b);
        }
      if (best < 1e-9)
        break;
    }
  GeoChain single = { fit, 1, 1 };
  return fmax (geo_chain_stray (&single, chain, 33, NULL),
               geo_chain_stray (chain, &single, 33, NULL));
}
