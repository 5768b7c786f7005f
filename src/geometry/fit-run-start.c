/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/fit-run-task.h"

/* The last point at or before a length. */
static size_t
point_before (const GeoRunTask *task, double length)
{
  size_t lo = 0, hi = task->target->count - 1;
  while (lo < hi)
    {
      size_t mid = (lo + hi + 1) / 2;
      if (task->along[mid] <= length)
        lo = mid;
      else
        hi = mid - 1;
    }
  return lo;
}

static GeoPoint
point_at (const GeoRunTask *task, double length)
{
  size_t n = task->target->count, i = point_before (task, length);
  size_t j = i + 1 < n ? i + 1 : task->target->closed ? 0 : n - 1;
  double gap = task->along[i + 1 < n ? i + 1 : n] - task->along[i];
  double f = gap > 0 ? (length - task->along[i]) / gap : 0;
  return geo_lerp (task->target->points[i], task->target->points[j],
                   fmin (fmax (f, 0), 1));
}

/* Sums for a parabola through points about a place, by the length from it. */
typedef struct
{
  double s[5];
  GeoPoint q[3];
} Parabola;

static void
parabola_add (Parabola *p, double s, GeoPoint q)
{
  double power = 1;
  for (int i = 0; i < 5; i++)
    {
      p->s[i] += power;
      if (i < 3)
        p->q[i] = geo_along (p->q[i], q, power);
      power *= s;
    }
}

/* Its slope at the place, by Cramer's rule; (0, 0) where too few points. */
static GeoPoint
parabola_slope (const Parabola *p)
{
  const double *s = p->s;
  double a = s[2] * s[4] - s[3] * s[3], b = s[1] * s[4] - s[2] * s[3];
  double c = s[1] * s[3] - s[2] * s[2];
  double det = s[0] * a - s[1] * b + s[2] * c;
  if (!(fabs (det) > 1e-9 * s[0] * s[2] * s[4]))
    {
      det = s[0] * s[2] - s[1] * s[1];
      if (!(det > 1e-12 * s[0] * s[2]))
        return geo_point (0, 0);
      return geo_scale (
          geo_sub (geo_scale (p->q[1], s[0]), geo_scale (p->q[0], s[1])),
          1 / det);
    }
  GeoPoint sum = geo_scale (p->q[0], -b);
  sum = geo_along (sum, p->q[1], s[0] * s[4] - s[2] * s[2]);
  sum = geo_along (sum, p->q[2], -(s[0] * s[3] - s[1] * s[2]));
  return geo_scale (sum, 1 / det);
}

/* Direction of the points about a length, from as far as reach each way. */
static double
direction_at (const GeoRunTask *task, double length, double reach)
{
  const GeoRunTarget *t = task->target;
  size_t n = t->count, middle = point_before (task, length), seen = 0;
  Parabola p = { { 0 }, { { 0, 0 } } };
  GeoPoint origin = point_at (task, length);
  for (int way = -1; way <= 1; way += 2)
    for (size_t k = way < 0 ? 0 : 1; k < n; k++)
      {
        size_t i = way < 0 ? middle - k : middle + k;
        double turn = 0;
        if (i >= n && !t->closed)
          break;
        if (i >= n)
          {
            i = way < 0 ? i + n : i - n;
            turn = way * task->length;
          }
        double s = task->along[i] + turn - length;
        if (fabs (s) > reach && k > 2 && seen >= 3)
          break;
        parabola_add (&p, s / reach, geo_sub (t->points[i], origin));
        seen++;
      }
  GeoPoint slope = parabola_slope (&p);
  if (slope.x == 0 && slope.y == 0)
    slope = geo_sub (point_at (task, fmin (length + reach, task->length)),
                     point_at (task, fmax (length - reach, 0)));
  return atan2 (slope.y, slope.x);
}

static double
angle_of (GeoPoint v)
{
  return atan2 (v.y, v.x);
}

void
geo_run_start (GeoRunTask *task, size_t n)
{
  const GeoRunTarget *t = task->target;
  size_t nodes = t->closed ? n : n + 1;
  static const double reaches[GEO_RUN_SHARES] = { 0.3, 0.12, 0.3 };
  static const double handles[GEO_RUN_SHARES] = { 0.33, 0.28, 0.45 };
  double part = reaches[task->variant], handle = handles[task->variant];
  geo_node_run_reset (&task->now, t->closed);
  for (size_t i = 0; i < nodes; i++)
    {
      double before = i > 0 ? task->breaks[i] - task->breaks[i - 1]
                            : task->breaks[n] - task->breaks[n - 1];
      double after = i < n ? task->breaks[i + 1] - task->breaks[i] : before;
      bool first = i == 0 && !t->closed, last = i == n;
      double reach = part
                     * (first  ? after
                        : last ? before
                               : fmin (before, after));
      reach = fmax (reach, 1e-9 * task->length);
      GeoNode node = { .in = handle * before, .out = handle * after };
      node.at = first  ? t->points[0]
                : last ? t->points[t->count - 1]
                       : point_at (task, task->breaks[i]);
      node.angle = first && t->start_tangent ? angle_of (*t->start_tangent)
                   : last && t->end_tangent
                       ? angle_of (*t->end_tangent)
                       : direction_at (task, task->breaks[i], reach);
      geo_node_run_add (&task->now, node);
    }
  size_t k = 0;
  for (size_t i = 0; i < t->count; i++)
    {
      while (k + 1 < n && task->along[i] >= task->breaks[k + 1])
        k++;
      double gap = task->breaks[k + 1] - task->breaks[k];
      task->feet[i].cubic = k;
      task->feet[i].u
          = gap > 0 ? fmin (1, (task->along[i] - task->breaks[k]) / gap) : 0;
    }
}
