/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An eased stretch is the quintic with the slopes m0, m1 and no second
 * derivative at its ends. Its Bernstein coefficients are, of rise r over length
 * h from d,
 *
 *   d, d + m0 h/5, d + 2 m0 h/5, d + r - 2 m1 h/5, d + r - m1 h/5, d + r
 *
 * which ascend, and the quintic with them, where m0 + m1 <= 5/2 r/h. The slope
 * at an inner knot is the harmonic mean of those before and after (Fritsch and
 * Butland 1984), held to 5/4 of the lesser.
 */
#include "geometry/profile.h"

#include <math.h>

bool
geo_profile_is_sound (const GeoProfile *profile)
{
  const GeoProfileKnot *k = profile->knots;
  for (size_t i = 0; i < profile->count; i++)
    if (!isfinite (k[i].at) || !isfinite (k[i].d)
        || (i > 0 && !(k[i].at > k[i - 1].at)))
      return false;
  return profile->count > 0;
}

static double
rate (const GeoProfile *profile, size_t i)
{
  const GeoProfileKnot *k = &profile->knots[i];
  return (k[1].d - k[0].d) / (k[1].at - k[0].at);
}

/* Of an eased profile, at a knot. */
static double
knot_slope (const GeoProfile *profile, size_t i)
{
  if (i == 0 || i + 1 == profile->count)
    return 0;
  double a = rate (profile, i - 1), b = rate (profile, i);
  if (!(a * b > 0))
    return 0;
  double most = 1.25 * fmin (fabs (a), fabs (b));
  return copysign (fmin (2 * a / (a + b) * fabs (b), most), a);
}

static double
eased (const GeoProfile *profile, size_t i, double at, double *slope)
{
  const GeoProfileKnot *k = &profile->knots[i];
  double h = k[1].at - k[0].at, r = k[1].d - k[0].d;
  double x = (at - k[0].at) / h, y = 1 - x;
  double m0 = knot_slope (profile, i) * h, m1 = knot_slope (profile, i + 1) * h;
  /* Differences of neighbouring coefficients. */
  double c0 = m0 / 5, c2 = r - 2 * (m0 + m1) / 5, c4 = m1 / 5;
  double xx = x * x, yy = y * y;
  *slope = 5
           * (yy * yy * c0 + 4 * x * yy * y * c0 + 6 * xx * yy * c2
              + 4 * xx * x * y * c4 + xx * xx * c4)
           / h;
  double b1 = c0, b2 = 2 * c0, b3 = r - 2 * c4, b4 = r - c4;
  return k[0].d + 5 * x * yy * yy * b1 + 10 * xx * yy * y * b2
         + 10 * xx * x * yy * b3 + 5 * xx * xx * y * b4 + xx * xx * x * r;
}

double
geo_profile_on (const GeoProfile *profile, size_t stretch, double at,
                double *slope)
{
  const GeoProfileKnot *k = profile->knots;
  double own;
  slope = slope ? slope : &own;
  *slope = 0;
  if (stretch == 0)
    return k[0].d;
  if (stretch >= profile->count)
    return k[profile->count - 1].d;
  k += stretch - 1;
  if (geo_profile_is_level (profile, stretch))
    return k[0].d;
  at = fmin (fmax (at, k[0].at), k[1].at);
  if (profile->kind == GEO_PROFILE_EASED)
    return eased (profile, stretch - 1, at, slope);
  *slope = rate (profile, stretch - 1);
  return k[0].d + (at - k[0].at) * *slope;
}

double
geo_profile_at (const GeoProfile *profile, double at, double *slope)
{
  size_t low = 0, high = profile->count;
  while (low < high)
    {
      size_t middle = (low + high) / 2;
      if (profile->knots[middle].at <= at)
        low = middle + 1;
      else
        high = middle;
    }
  return geo_profile_on (profile, low, at, slope);
}

bool
geo_profile_is_level (const GeoProfile *profile, size_t stretch)
{
  const GeoProfileKnot *k = profile->knots;
  return stretch == 0 || stretch >= profile->count
         || k[stretch - 1].d == k[stretch].d;
}

size_t
geo_profile_swell (double at, double reach, double amount,
                   GeoProfileKnot knots[3])
{
  knots[0] = (GeoProfileKnot){ at - reach, 0 };
  knots[1] = (GeoProfileKnot){ at, amount };
  knots[2] = (GeoProfileKnot){ at + reach, 0 };
  return 3;
}
