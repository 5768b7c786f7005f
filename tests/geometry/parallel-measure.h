/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far a chain lies from an exact parallel, both ways, by polylines of both
 * that leave them by no more than arrow. The parallel is had by its definition,
 * P + d N, and by nothing of the code that is tested. */
#pragma once

#include <stdlib.h>

#include "geometry/chain.h"

typedef GeoPoint (*MeasurePoint) (const void *curve, double t);

typedef struct
{
  GeoPoint *p;
  size_t count, room;
} MeasureLine;

static inline void
measure_add (MeasureLine *line, GeoPoint p)
{
  if (line->count == line->room)
    {
      line->room = line->room ? 2 * line->room : 256;
      line->p = realloc (line->p, line->room * sizeof *line->p);
      if (!line->p)
        abort ();
    }
  line->p[line->count++] = p;
}

static inline double
measure_squared (GeoPoint q, GeoPoint a, GeoPoint b)
{
  GeoPoint u = geo_sub (b, a), r = geo_sub (q, a);
  double l = geo_dot (u, u), along = geo_dot (r, u);
  double t = along <= 0 ? 0 : along >= l ? 1 : along / l;
  r = geo_along (r, u, -t);
  return geo_dot (r, r);
}

static inline double
measure_to_segment (GeoPoint q, GeoPoint a, GeoPoint b)
{
  return sqrt (measure_squared (q, a, b));
}

typedef struct
{
  MeasurePoint point;
  const void *curve;
  double step, arrow;
  MeasureLine *line;
} MeasureSampler;

/* Short, near its chord, not turning back, and gone along at some pace rather
 * than in a jump, by the place halfway. */
static inline bool
measure_is_flat (const MeasureSampler *s, double t0, GeoPoint p0, double t1,
                 GeoPoint p1)
{
  GeoPoint p = s->point (s->curve, (t0 + t1) / 2);
  double a = geo_distance (p0, p), b = geo_distance (p, p1), way = a + b;
  return way <= s->step
         && ((a < 0.95 * way && b < 0.95 * way) || way < s->arrow)
         && way - geo_distance (p0, p1) < s->arrow / 4
         && measure_to_segment (p, p0, p1) < s->arrow / 2;
}

static inline void
measure_between (const MeasureSampler *s, double t0, GeoPoint p0, double t1,
                 GeoPoint p1, int depth)
{
  double middle = (t0 + t1) / 2;
  if (depth >= 70 || middle <= t0 || middle >= t1)
    {
      measure_add (s->line, p1);
      return;
    }
  GeoPoint p = s->point (s->curve, middle);
  if (depth >= 7 && measure_is_flat (s, t0, p0, middle, p)
      && measure_is_flat (s, middle, p, t1, p1)
      && measure_to_segment (p, p0, p1) < s->arrow / 2)
    {
      measure_add (s->line, p);
      measure_add (s->line, p1);
      return;
    }
  measure_between (s, t0, p0, middle, p, depth + 1);
  measure_between (s, middle, p, t1, p1, depth + 1);
}

static inline void
measure_sample (MeasurePoint point, const void *curve, double arrow,
                MeasureLine *line)
{
  MeasureSampler s = { point, curve, 2, arrow, line };
  GeoPoint from = point (curve, 0), to = point (curve, 1);
  if (line->count == 0)
    measure_add (line, from);
  measure_between (&s, 0, from, 1, to, 0);
}

static inline GeoPoint
measure_cubic_point (const void *curve, double t)
{
  const GeoPoint *p = ((const GeoCubic *)curve)->p;
  double s = 1 - t, a = s * s * s, b = 3 * s * s * t, c = 3 * s * t * t;
  double d = t * t * t;
  return geo_point (a * p[0].x + b * p[1].x + c * p[2].x + d * p[3].x,
                    a * p[0].y + b * p[1].y + c * p[2].y + d * p[3].y);
}

/* The segments from j0 to j1, squared. */
static inline double
measure_nearest (const MeasureLine *line, GeoPoint q, size_t j0, size_t j1,
                 double best, size_t *at)
{
  for (size_t j = j0; j < j1; j++)
    {
      double e = measure_squared (q, line->p[j], line->p[j + 1]);
      if (e < best)
        {
          best = e;
          *at = j;
        }
    }
  return best;
}

/* The farthest any point of one is from the other. They run the same way at
 * nearly the same pace, so that the nearest segment moves on by a few at a
 * time; where none near is within enough, more are tried, and then all. */
static inline double
measure_farthest (const MeasureLine *from, const MeasureLine *to, double enough)
{
  double worst = 0, square = enough * enough;
  size_t at = 0, last = to->count - 1;
  for (size_t i = 0; i < from->count; i++)
    {
      static const size_t reach[] = { 1, 8 };
      double best = INFINITY;
      for (int k = 0; k < 2 && !(best <= 0.9 * square); k++)
        {
          size_t j0 = at > reach[k] ? at - reach[k] : 0;
          size_t j1 = at + reach[k] + 2 < last ? at + reach[k] + 2 : last;
          best = measure_nearest (to, from->p[i], j0, j1, best, &at);
        }
      if (!(best <= square))
        best = measure_nearest (to, from->p[i], 0, last, best, &at);
      worst = best > worst ? best : worst;
    }
  return sqrt (worst);
}

/* Two-sided distance of chain from the curve point gives. */
static inline double
measure_two_sided (MeasurePoint point, const void *curve, const GeoChain *chain,
                   double arrow, double enough)
{
  MeasureLine exact = { NULL, 0, 0 }, given = { NULL, 0, 0 };
  measure_sample (point, curve, arrow, &exact);
  for (size_t i = 0; i < chain->count; i++)
    measure_sample (measure_cubic_point, &chain->cubics[i], arrow, &given);
  double there = measure_farthest (&given, &exact, enough);
  double back = measure_farthest (&exact, &given, enough);
  free (exact.p);
  free (given.p);
  return there > back ? there : back;
}

typedef struct
{
  const GeoCubic *c;
  double d, size;
} MeasureParallel;

static inline GeoPoint
measure_parallel_point (const void *curve, double t)
{
  const MeasureParallel *m = curve;
  const GeoPoint *p = m->c->p;
  double s = 1 - t, a = s * s, b = 2 * s * t, c = t * t;
  GeoPoint v = geo_scale (geo_sub (p[1], p[0]), a);
  v = geo_along (v, geo_sub (p[2], p[1]), b);
  v = geo_along (v, geo_sub (p[3], p[2]), c);
  double n = sqrt (geo_dot (v, v));
  GeoPoint q = measure_cubic_point (m->c, t);
  if (!(n > 1e-6 * m->size))
    return geo_along (q, geo_left (geo_cubic_tangent (m->c, t)), m->d);
  return geo_along (q, geo_left (v), m->d / n);
}

static inline MeasureParallel
measure_parallel (const GeoCubic *c, double d)
{
  double size = 0;
  for (int i = 0; i < 3; i++)
    size += geo_distance (c->p[i], c->p[i + 1]);
  return (MeasureParallel){ c, d, size };
}

/* At a cusp of the source or a fold the exact parallel has a gap that an arc is
 * put in: there only the distance from the source can be checked. */
static inline bool
measure_has_gap (const GeoCubic *c)
{
  double t[2];
  return geo_cubic_cusps (c, t) > 0;
}

/* How far the distances of q from the points of a line are from holding d. */
static inline double
measure_off_distance (const MeasureLine *line, GeoPoint q, double d)
{
  double best = INFINITY;
  for (size_t i = 0; i + 1 < line->count; i++)
    {
      double least = measure_to_segment (q, line->p[i], line->p[i + 1]);
      double most = geo_most (geo_distance (q, line->p[i]),
                              geo_distance (q, line->p[i + 1]));
      best = geo_least (best, geo_most (geo_most (least - d, d - most), 0));
    }
  return best;
}

/* The largest, over parallel, of the least of ||q - P (t)| - |d||; P by a
 * polyline. */
static inline double
measure_distance (const GeoCubic *c, double d, const GeoChain *parallel)
{
  MeasureLine source = { NULL, 0, 0 };
  double worst = 0;
  measure_sample (measure_cubic_point, c, 1e-3, &source);
  for (size_t i = 0; i < parallel->count; i++)
    for (int j = 0; j <= 8; j++)
      {
        GeoPoint q = measure_cubic_point (&parallel->cubics[i], j / 8.0);
        worst = geo_most (worst, measure_off_distance (&source, q, fabs (d)));
      }
  free (source.p);
  return worst;
}
