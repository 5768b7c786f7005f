/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/parallel-zone.h"

#include "geometry/parallel-arc.h"
#include "geometry/polynomial.h"

#define MAX_TURNINGS 15

/* The places where |P'| has an extremum: the roots of P'.P''. */
static int
find_paces (const GeoParallelSource *s, double t[3])
{
  const GeoPoint *v = s->v, *a = s->a;
  double b[4] = { geo_dot (v[0], a[0]),
                  (2 * geo_dot (v[1], a[0]) + geo_dot (v[0], a[1])) / 3,
                  (geo_dot (v[2], a[0]) + 2 * geo_dot (v[1], a[1])) / 3,
                  geo_dot (v[2], a[1]) };
  return geo_polynomial_roots (b, 3, t);
}

/* P' x P'' in Bernstein form: the inflections, even where they are so slight
 * that rounding may have made them. */
static void
find_bend (const GeoParallelSource *s, double bend[3])
{
  const GeoPoint *v = s->v;
  bend[0] = 2 * geo_cross (v[0], v[1]);
  bend[1] = geo_cross (v[0], v[2]);
  bend[2] = 2 * geo_cross (v[1], v[2]);
}

/* Between the places of a stretch the tangent turns one way: its ends,
 * inflections and paces, ascending, and the middles between them. */
static int
find_turnings (const GeoParallelSource *s, double from, double to,
               double places[MAX_TURNINGS])
{
  double t[7], bend[3];
  find_bend (s, bend);
  int count = geo_polynomial_roots (bend, 2, t), kept = 1, n = 0;
  count += find_paces (s, t + count);
  t[count++] = to;
  for (int i = 1; i < count; i++)
    for (int j = i; j > 0 && t[j] < t[j - 1]; j--)
      {
        double swap = t[j];
        t[j] = t[j - 1];
        t[j - 1] = swap;
      }
  double all[8] = { from };
  for (int i = 0; i < count; i++)
    if (t[i] > all[kept - 1] && t[i] <= to)
      all[kept++] = t[i];
  for (int i = 0; i < kept; i++)
    {
      if (i > 0)
        places[n++] = (all[i - 1] + all[i]) / 2;
      places[n++] = all[i];
    }
  return n;
}

double
geo_parallel_append_arcs (const GeoParallelSource *s, double from, double to,
                          GeoPoint q, double tolerance, GeoChain *out)
{
  double places[MAX_TURNINGS], sweep = 0, sum = 0, radius = fabs (s->d);
  double bend[3];
  find_bend (s, bend);
  int count = find_turnings (s, from, to, places);
  GeoParallelSample start = geo_parallel_sample (s, from), last = start;
  for (int i = 1; i < count; i++)
    {
      GeoParallelSample next = geo_parallel_sample (s, places[i]);
      double v = geo_norm (geo_cubic_velocity (s->c, places[i]));
      bool cusp = v <= 1e-9 * s->size && places[i] > 0 && places[i] < 1
                  && geo_dot (last.tangent, next.tangent) < 0;
      GeoPoint arriving = cusp ? geo_scale (next.tangent, -1) : next.tangent;
      double turn = geo_angle_between (last.tangent, arriving);
      double middle = (places[i - 1] + places[i]) / 2;
      double way = geo_polynomial_value (bend, 2, middle);
      /* More than half of a turn, which an angle does not tell. */
      if (turn * way < 0 && fabs (turn) > 1)
        turn += copysign (2 * M_PI, way);
      /* An exact cusp turns either way; the arc is taken round the point. */
      if (cusp)
        turn -= copysign (M_PI, s->d);
      double less = geo_least (fabs (turn), fabs (sweep));
      if (turn * sweep < 0 && less * radius > tolerance / 8)
        {
          geo_parallel_append_arc (out, q, start.at, last.at, radius, sweep,
                                   tolerance);
          start = last;
          sweep = 0;
        }
      sweep += turn;
      sum += turn;
      last = next;
    }
  geo_parallel_append_arc (out, q, start.at, last.at, radius, sweep, tolerance);
  return sum;
}

/* Whether the tangent turns much from t to the end of its zone, or most of it
 * in the nearest eighth of the way, which feet would miss. (From an exactly
 * collapsed handle it turns in step with the way.) */
static bool
swings (const GeoParallelSource *s, double tolerance, double t, double end)
{
  GeoPoint at = geo_parallel_sample (s, t).tangent;
  GeoPoint to = geo_parallel_sample (s, end).tangent;
  GeoPoint near = geo_parallel_sample (s, t + (end - t) / 8).tangent;
  double all = fabs (geo_angle_between (at, to));
  double part = fabs (geo_angle_between (at, near));
  return all > 0.1 || (all * fabs (s->d) > tolerance / 8 && part > 0.5 * all);
}

/* The stretch about t that can be taken for a point, if the tangent swings
 * inside of it. */
static bool
find_zone (const GeoParallelSource *s, double tolerance, double t,
           GeoParallelZone *zone)
{
  double v = geo_norm (geo_cubic_velocity (s->c, t)), near = tolerance / 8;
  double a = geo_norm (geo_cubic_acceleration (s->c, t));
  double jerk = geo_norm (geo_cubic_jerk (s->c));
  /* The velocity takes v / a, or sqrt (2 v / jerk), to turn. */
  if (v * v > 3 * a * tolerance && v * v * v > 18 * jerk * tolerance * tolerance
      && v > 1e-9 * s->size)
    return false;
  double h = 2 * near / (v + sqrt (v * v + 2 * a * near) + 1e-300);
  h = geo_least (h, cbrt (3 * near / (jerk + 1e-300)));
  h = geo_least (h, 0.25);
  *zone = (GeoParallelZone){ geo_most (t - h, 0), geo_least (t + h, 1), t };
  if (t > 0 && t < 1 && v <= 1e-9 * s->size)
    return true;
  return swings (s, tolerance, t, zone->from)
         || swings (s, tolerance, t, zone->to);
}

int
geo_parallel_zones (const GeoParallelSource *source, double tolerance,
                    GeoParallelZone zones[GEO_PARALLEL_ZONES])
{
  double least[GEO_PARALLEL_ZONES] = { 0 };
  int count = 1, kept = 0;
  if (geo_cubic_is_point (source->c, tolerance / 8))
    {
      zones[0] = (GeoParallelZone){ 0, 1, 0.5 };
      return 1;
    }
  count += find_paces (source, least + 1);
  least[count++] = 1;
  for (int i = 0; i < count; i++)
    {
      GeoParallelZone zone;
      if (!find_zone (source, tolerance, least[i], &zone))
        continue;
      if (kept > 0 && zone.from <= zones[kept - 1].to)
        {
          /* Two in one: the stretch is a dot on its own. */
          zones[kept - 1].to = geo_most (zone.to, zones[kept - 1].to);
          continue;
        }
      zones[kept++] = zone;
    }
  return kept;
}
