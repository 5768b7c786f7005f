/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two pictures of one piece laid together by marks that are in both. */
#include <math.h>

#include "tracing/plane.h"

/* About the middles a' and b' of the marks the sum of |a - R b|^2 is least where sum a . R b is largest. With R the turn by t
 * that is c sum (b . a) + s sum (b x a), so (c, s) goes along (sum b . a, sum b x a). */
gboolean
tracing_lay_marks (const GeoPoint *a, const GeoPoint *b, gsize n,
                   GeoMotion *motion, double *off)
{
  if (n < 2)
    return FALSE;
  GeoPoint middle_a = { 0, 0 }, middle_b = { 0, 0 };
  for (gsize i = 0; i < n; i++)
    {
      middle_a = geo_along (middle_a, a[i], 1.0 / (double)n);
      middle_b = geo_along (middle_b, b[i], 1.0 / (double)n);
    }
  double c = 0, s = 0, spread_a = 0, spread_b = 0;
  for (gsize i = 0; i < n; i++)
    {
      GeoPoint p = geo_sub (b[i], middle_b), q = geo_sub (a[i], middle_a);
      c += geo_dot (p, q);
      s += geo_cross (p, q);
      spread_a += geo_dot (q, q);
      spread_b += geo_dot (p, p);
    }
  double size = hypot (c, s);
  if (!(spread_a > 1e-12) || !(spread_b > 1e-12)
      || !(size > 1e-9 * sqrt (spread_a * spread_b)))
    return FALSE;
  GeoMotion m = { c / size, s / size, 0, 0, false };
  GeoPoint turned = geo_motion_turn (m, middle_b);
  m.dx = middle_a.x - turned.x;
  m.dy = middle_a.y - turned.y;
  *motion = m;
  for (gsize i = 0; off != NULL && i < n; i++)
    off[i] = geo_distance (geo_motion_apply (m, b[i]), a[i]);
  return TRUE;
}
