/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each cubic is cut at knots so that 8 Gauss nodes give the length of every
 * part of the stretch between two (speed.c). The place at a length is then
 * found between two knots: a guess by the cubic t (s) with the knots' places
 * and slopes dt/ds = 1 / |P'|, and Newton's method, every step of which costs
 * one look at 8 nodes. A step of dt from t leaves |P''| dt^2 / 2 at the most,
 * so the last one is taken without looking again.
 */
#include "geometry/length.h"

#include "geometry/memory.h"
#include "geometry/speed.h"

#define DEEPEST 60

static void
add_knot (GeoRuler *ruler, double t, double length, double slope)
{
  ruler->knots = geo_grow (ruler->knots, ruler->knot_count, &ruler->knot_room,
                           sizeof *ruler->knots);
  ruler->knots[ruler->knot_count++] = (GeoKnot){ t, length, slope };
}

/* Knots after a, up to b. */
static void
add_knots (GeoRuler *ruler, const GeoSpeed *speed, double a, double b,
           double tolerance, int depth)
{
  double cut;
  if (geo_speed_is_easy (speed, a, b, tolerance, &cut) || depth == 0)
    {
      double before = ruler->knots[ruler->knot_count - 1].length;
      double length = before + geo_speed_easy_length (speed, a, b);
      add_knot (ruler, b, length, geo_speed_at (speed, b));
      return;
    }
  add_knots (ruler, speed, a, cut, tolerance / 2, depth - 1);
  add_knots (ruler, speed, cut, b, tolerance / 2, depth - 1);
}

void
geo_ruler_init (GeoRuler *ruler, const GeoChain *chain, double tolerance)
{
  size_t n = chain->count;
  *ruler = (GeoRuler){ .chain = chain };
  ruler->tolerance = geo_speed_tolerance (tolerance);
  ruler->grid = ldexp (1, (int)floor (log2 (ruler->tolerance)));
  ruler->before = geo_realloc (NULL, n + 1, sizeof *ruler->before);
  ruler->first = geo_realloc (NULL, n + 1, sizeof *ruler->first);
  ruler->before[0] = 0;
  for (size_t i = 0; i < n; i++)
    {
      GeoSpeed speed;
      geo_speed_init (&speed, &chain->cubics[i]);
      ruler->first[i] = ruler->knot_count;
      add_knot (ruler, 0, 0, geo_speed_at (&speed, 0));
      add_knots (ruler, &speed, 0, 1, ruler->tolerance / 8, DEEPEST);
      double length = ruler->knots[ruler->knot_count - 1].length;
      ruler->before[i + 1] = ruler->before[i] + length;
    }
  ruler->first[n] = ruler->knot_count;
}

void
geo_ruler_clear (GeoRuler *ruler)
{
  free (ruler->before);
  free (ruler->first);
  free (ruler->knots);
  *ruler = (GeoRuler){ .chain = NULL };
}

double
geo_ruler_length (const GeoRuler *ruler)
{
  return ruler->chain ? ruler->before[ruler->chain->count] : 0;
}

/* The last of the knots from low to high whose length, or place, is at most
 * the value; never the very last. */
static const GeoKnot *
find_knot (const GeoRuler *ruler, size_t cubic, double value, bool by_place)
{
  const GeoKnot *low = ruler->knots + ruler->first[cubic];
  size_t count = ruler->first[cubic + 1] - ruler->first[cubic] - 1;
  while (count > 1)
    {
      const GeoKnot *mid = low + count / 2;
      bool after = by_place ? mid->t <= value : mid->length <= value;
      low = after ? mid : low;
      count = after ? count - count / 2 : count / 2;
    }
  return low;
}

/* The cubic t (s) between two knots; straight where a speed is too low for
 * it. */
static double
guess (const GeoKnot *a, const GeoKnot *b, double length)
{
  double whole = b->length - a->length, width = b->t - a->t;
  if (!(whole > 0))
    return a->t;
  double x = (length - a->length) / whole, y = 1 - x;
  double mean = whole / width;
  if (a->speed < 0.2 * mean || b->speed < 0.2 * mean)
    return a->t + x * width;
  double from = mean / a->speed, to = mean / b->speed;
  return a->t + width * x * (x * (3 - 2 * x) + y * (y * from - x * to));
}

/* An upper bound of |P''|, which runs straight from v1 to v1 + 2 v2. */
static double
most_acceleration (const GeoSpeed *speed)
{
  GeoPoint a = speed->v1, b = geo_along (a, speed->v2, 2);
  return fmax (fabs (a.x) + fabs (a.y), fabs (b.x) + fabs (b.y));
}

/* Bracketed Newton between two knots. */
static double
find_length (const GeoSpeed *speed, const GeoKnot *a, const GeoKnot *b,
             double length, double enough)
{
  double bend = most_acceleration (speed);
  double lo = a->t, hi = b->t, t = guess (a, b, length), last = INFINITY;
  for (int step = 0; step < 100; step++)
    {
      double off = length - a->length - geo_speed_easy_length (speed, a->t, t);
      if (fabs (off) <= enough)
        break;
      if (off > 0)
        lo = t;
      else
        hi = t;
      double v = geo_speed_at (speed, t), add = v > 0 ? off / v : 0;
      double next = t + add;
      bool inside = v > 0 && next > lo && next < hi;
      if (inside && 0.5 * bend * add * add <= enough)
        return next;
      if (!inside || fabs (off) > 0.5 * last)
        next = 0.5 * (lo + hi);
      if (!(next > lo && next < hi))
        break;
      last = fabs (off);
      t = next;
    }
  return t;
}

/* Lengths are put on a grid finer than the tolerance but coarser than the
 * residual of the search: two that fall on one grid line get the same place,
 * two that do not cannot change order. */
static double
place_in (const GeoRuler *ruler, size_t cubic, double length)
{
  double whole = ruler->knots[ruler->first[cubic + 1] - 1].length;
  double wanted = ruler->grid * floor (length / ruler->grid + 0.5);
  if (!(wanted > 0))
    return 0;
  if (wanted >= whole)
    return 1;
  GeoSpeed speed;
  geo_speed_init (&speed, &ruler->chain->cubics[cubic]);
  const GeoKnot *knot = find_knot (ruler, cubic, wanted, false);
  return find_length (&speed, knot, knot + 1, wanted, ruler->grid / 8);
}

GeoPlace
geo_ruler_place (const GeoRuler *ruler, double length)
{
  if (!ruler->chain || ruler->chain->count == 0 || !(length > 0))
    return (GeoPlace){ 0, 0 };
  size_t low = 0, high = ruler->chain->count;
  if (length >= ruler->before[high])
    return (GeoPlace){ high - 1, 1 };
  while (high - low > 1)
    {
      size_t mid = low + (high - low) / 2;
      if (ruler->before[mid] <= length)
        low = mid;
      else
        high = mid;
    }
  return (GeoPlace){ low, place_in (ruler, low, length - ruler->before[low]) };
}

double
geo_ruler_length_to (const GeoRuler *ruler, GeoPlace place)
{
  if (!ruler->chain || ruler->chain->count == 0)
    return 0;
  if (place.cubic >= ruler->chain->count)
    return geo_ruler_length (ruler);
  if (place.t >= 1)
    return ruler->before[place.cubic + 1];
  if (!(place.t > 0))
    return ruler->before[place.cubic];
  GeoSpeed speed;
  geo_speed_init (&speed, &ruler->chain->cubics[place.cubic]);
  const GeoKnot *knot = find_knot (ruler, place.cubic, place.t, true);
  return ruler->before[place.cubic] + knot->length
         + geo_speed_easy_length (&speed, knot->t, place.t);
}
