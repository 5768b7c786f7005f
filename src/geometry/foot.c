/* SPDX-License-Identifier: GPL-3.0-or-later */
/* With r = q - C (u), the foot is where r . C' = 0. The slope of that is
 * -(|C'|^2 - r . C''), which past the centre of curvature has the wrong sign:
 * there |C'|^2 alone is taken, which still leads down.
 */
#include "geometry/foot.h"

/* One Newton step for the foot, from cubic to cubic. False at rest. */
static bool
step_foot (size_t n, bool closed, GeoPoint r, GeoPoint v, GeoPoint a,
           GeoFoot *foot)
{
  double dot = geo_dot (r, v), vv = geo_dot (v, v);
  double slope = vv - geo_dot (r, a);
  double step = dot / (slope > 0.2 * vv ? slope : vv);
  if (!(vv > 0) || fabs (step) < 1e-13)
    return false;
  double u = foot->u + fmin (fmax (step, -0.4), 0.4);
  if (u < 0 && foot->u <= 0 && (foot->cubic > 0 || closed))
    {
      foot->cubic = foot->cubic > 0 ? foot->cubic - 1 : n - 1;
      foot->u = 1;
      return true;
    }
  if (u > 1 && foot->u >= 1 && (foot->cubic + 1 < n || closed))
    {
      foot->cubic = foot->cubic + 1 < n ? foot->cubic + 1 : 0;
      foot->u = 0;
      return true;
    }
  u = fmin (fmax (u, 0), 1);
  bool moved = u != foot->u;
  foot->u = u;
  return moved;
}

void
geo_foot_find (const GeoCubic *cubics, size_t count, bool closed, GeoPoint q,
               int steps, GeoFoot *foot)
{
  for (int i = 0;; i++)
    {
      const GeoPoint *p = cubics[foot->cubic].p;
      double u = foot->u, s = 1 - u;
      double w0 = s * s * s, w1 = 3 * s * s * u, w2 = 3 * s * u * u,
             w3 = u * u * u;
      GeoPoint d0 = geo_sub (p[1], p[0]), d1 = geo_sub (p[2], p[1]);
      GeoPoint d2 = geo_sub (p[3], p[2]);
      GeoPoint r
          = { q.x - (w0 * p[0].x + w1 * p[1].x + w2 * p[2].x + w3 * p[3].x),
              q.y - (w0 * p[0].y + w1 * p[1].y + w2 * p[2].y + w3 * p[3].y) };
      double v0 = 3 * s * s, v1 = 6 * s * u, v2 = 3 * u * u;
      GeoPoint v = { v0 * d0.x + v1 * d1.x + v2 * d2.x,
                     v0 * d0.y + v1 * d1.y + v2 * d2.y };
      GeoPoint a = { 6 * (s * (d1.x - d0.x) + u * (d2.x - d1.x)),
                     6 * (s * (d1.y - d0.y) + u * (d2.y - d1.y)) };
      double speed = sqrt (geo_dot (v, v));
      foot->far = sqrt (geo_dot (r, r));
      foot->off = speed > 0 ? geo_cross (v, r) / speed : foot->far;
      if (i == steps || !step_foot (count, closed, r, v, a, foot))
        return;
    }
}
