/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "exact-parallel.h"

#include <stdlib.h>

#define PER_CUBIC 48
#define GOLDEN 0.6180339887498949

GeoPoint
exact_parallel_point (const ExactParallel *exact, double t)
{
  GeoPoint p = geo_cubic_point (exact->c, t);
  GeoPoint n = geo_left (geo_cubic_tangent (exact->c, t));
  return geo_along (p, n, exact->d);
}

void
exact_parallel_init (ExactParallel *exact, const GeoCubic *c, double d)
{
  exact->c = c;
  exact->d = d;
  for (int i = 0; i <= EXACT_POINTS; i++)
    exact->at[i] = exact_parallel_point (exact, (double)i / EXACT_POINTS);
}

/* A curve over [0, count] of which every whole number is tabled. */
typedef struct Curve
{
  const ExactParallel *exact; /* or, where NULL, the chain */
  const GeoChain *chain;
  const GeoPoint *table;
  int count;
} Curve;

static GeoPoint
curve_point (const Curve *curve, double x)
{
  if (curve->exact)
    return exact_parallel_point (curve->exact, x / curve->count);
  double whole = floor (x / PER_CUBIC);
  whole = fmin (whole, (double)curve->chain->count - 1);
  return geo_cubic_point (&curve->chain->cubics[(size_t)whole],
                          x / PER_CUBIC - whole);
}

static double
distance_from (const Curve *curve, double x, GeoPoint q)
{
  return geo_distance (curve_point (curve, x), q);
}

/* Golden section between two tabled places. */
static double
least_between (const Curve *curve, GeoPoint q, double a, double b)
{
  double x = b - GOLDEN * (b - a), y = a + GOLDEN * (b - a);
  double fx = distance_from (curve, x, q), fy = distance_from (curve, y, q);
  double best = fmin (fx, fy);
  for (int i = 0; i < 32; i++)
    {
      if (fx < fy)
        {
          b = y;
          y = x;
          fy = fx;
          x = b - GOLDEN * (b - a);
          fx = distance_from (curve, x, q);
        }
      else
        {
          a = x;
          x = y;
          fx = fy;
          y = a + GOLDEN * (b - a);
          fy = distance_from (curve, y, q);
        }
      best = fmin (best, fmin (fx, fy));
    }
  return best;
}

/* Least distance from q, looked for about every tabled point that is nearer
 * than its neighbours and near enough, their spacing considered, to be the
 * least. */
static double
distance_to (const Curve *curve, GeoPoint q)
{
  const GeoPoint *p = curve->table;
  double best = INFINITY, before = INFINITY;
  double here = geo_distance (p[0], q);
  for (int i = 0; i <= curve->count; i++)
    {
      double after = i < curve->count ? geo_distance (p[i + 1], q) : INFINITY;
      if (here <= before && here <= after)
        {
          int a = i > 0 ? i - 1 : 0, b = i < curve->count ? i + 1 : i;
          double gap
              = fmax (geo_distance (p[a], p[i]), geo_distance (p[i], p[b]));
          if (here - gap < best)
            best = fmin (fmin (best, here), least_between (curve, q, a, b));
        }
      before = here;
      here = after;
    }
  return best;
}

static double
refined_peak (const Curve *from, const Curve *to, double a, double b)
{
  double x = b - GOLDEN * (b - a), y = a + GOLDEN * (b - a);
  double fx = distance_to (to, curve_point (from, x));
  double fy = distance_to (to, curve_point (from, y));
  double worst = fmax (fx, fy);
  for (int i = 0; i < 12; i++)
    {
      if (fx > fy)
        {
          b = y;
          y = x;
          fy = fx;
          x = b - GOLDEN * (b - a);
          fx = distance_to (to, curve_point (from, x));
        }
      else
        {
          a = x;
          x = y;
          fx = fy;
          y = a + GOLDEN * (b - a);
          fy = distance_to (to, curve_point (from, y));
        }
      worst = fmax (worst, fmax (fx, fy));
    }
  return worst;
}

static double
one_sided (const Curve *from, const Curve *to)
{
  double *e = malloc (sizeof *e * (size_t)(from->count + 1)), worst = 0;
  for (int i = 0; i <= from->count; i++)
    {
      e[i] = distance_to (to, from->table[i]);
      worst = fmax (worst, e[i]);
    }
  for (int i = 1; i < from->count; i++)
    if (e[i] >= e[i - 1] && e[i] >= e[i + 1] && e[i] > 0.8 * worst)
      worst = fmax (worst, refined_peak (from, to, i - 1, i + 1));
  free (e);
  return worst;
}

double
exact_parallel_error (const ExactParallel *exact, const GeoChain *chain)
{
  int count = PER_CUBIC * (int)chain->count;
  GeoPoint *table = malloc (sizeof *table * (size_t)(count + 1));
  Curve given = { NULL, chain, table, count };
  Curve wanted = { exact, NULL, exact->at, EXACT_POINTS };
  for (int i = 0; i <= count; i++)
    table[i] = curve_point (&given, i);
  double error
      = fmax (one_sided (&given, &wanted), one_sided (&wanted, &given));
  free (table);
  return error;
}
