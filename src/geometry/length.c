/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/length.h"

#include "geometry/speed.h"

double
geo_cubic_length (const GeoCubic *c, double tolerance)
{
  return geo_speed_whole (c, geo_speed_tolerance (tolerance));
}

double
geo_cubic_length_to (const GeoCubic *c, double t, double tolerance)
{
  GeoSpeed h;
  geo_speed_init (&h, c);
  return geo_speed_length (&h, 0, fmin (1, t), geo_speed_tolerance (tolerance));
}

/* Bracketed Newton on s (t) = length, s measured along from the last place.
 * Steps that leave the bracket, or that no longer halve it, are replaced by
 * its middle. */
static double
find_length (const GeoSpeed *h, double whole, double length, double tolerance)
{
  double lo = 0, hi = 1, t = length / whole, at = 0, s = 0;
  double enough = tolerance / 8, last = INFINITY;
  for (int step = 0; step < 100; step++)
    {
      double add = geo_speed_length (h, fmin (at, t), fmax (at, t), enough / 4);
      s += t > at ? add : -add;
      at = t;
      double off = length - s;
      if (fabs (off) <= enough)
        break;
      if (off > 0)
        lo = t;
      else
        hi = t;
      double speed = geo_speed_at (h, t);
      double next = speed > 0 ? t + off / speed : lo;
      if (!(next > lo && next < hi) || fabs (off) > 0.5 * last)
        next = 0.5 * (lo + hi);
      if (!(next > lo && next < hi))
        break;
      last = fabs (off);
      t = next;
    }
  return t;
}

/* The place at a length of a segment whose whole length is known.
 *
 * Lengths are put on a grid finer than the tolerance but coarser than the
 * residual of the search: two that fall on one grid line get the same place,
 * two that do not cannot change order. */
static double
place_at (const GeoSpeed *h, double whole, double length, double tolerance)
{
  if (!(length > 0))
    return 0;
  if (length >= whole)
    return 1;
  double grid = ldexp (1, (int)floor (log2 (tolerance)));
  double wanted = grid * floor (length / grid + 0.5);
  if (!(wanted > 0))
    return 0;
  if (wanted >= whole)
    return 1;
  return find_length (h, whole, wanted, grid);
}

double
geo_cubic_at_length (const GeoCubic *c, double length, double tolerance)
{
  GeoSpeed h;
  tolerance = geo_speed_tolerance (tolerance);
  geo_speed_init (&h, c);
  double whole = geo_speed_length (&h, 0, 1, tolerance / 8);
  return place_at (&h, whole, length, tolerance);
}

double
geo_chain_length (const GeoChain *chain, double tolerance)
{
  double sum = 0;
  for (size_t i = 0; i < chain->count; i++)
    sum += geo_cubic_length (&chain->cubics[i], tolerance);
  return sum;
}

double
geo_chain_length_to (const GeoChain *chain, GeoPlace place, double tolerance)
{
  double sum = 0;
  for (size_t i = 0; i < chain->count && i <= place.cubic; i++)
    sum += geo_cubic_length_to (&chain->cubics[i],
                                i < place.cubic ? 1 : place.t, tolerance);
  return sum;
}

GeoPlace
geo_chain_at_length (const GeoChain *chain, double length, double tolerance)
{
  double before = 0;
  tolerance = geo_speed_tolerance (tolerance);
  if (chain->count == 0 || !(length > 0))
    return (GeoPlace){ 0, 0 };
  for (size_t i = 0; i < chain->count; i++)
    {
      double whole = geo_speed_whole (&chain->cubics[i], tolerance / 8);
      if (length < before + whole)
        {
          GeoSpeed h;
          geo_speed_init (&h, &chain->cubics[i]);
          double t = place_at (&h, whole, length - before, tolerance);
          return (GeoPlace){ i, t };
        }
      before += whole;
    }
  return (GeoPlace){ chain->count - 1, 1 };
}
