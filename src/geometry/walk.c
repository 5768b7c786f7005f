/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/walk.h"

GeoMotion
geo_walk_motion (GeoPoint a, GeoPoint a_tangent, int a_side, GeoPoint b,
                 GeoPoint b_tangent, int b_side)
{
  GeoMotion m = geo_motion_none ();
  m.flip = (a_side > 0) == (b_side > 0);
  GeoPoint from = m.flip ? geo_point (b_tangent.x, -b_tangent.y) : b_tangent;
  /* Cosine and sine of the angle between the tangents, without the angle. */
  GeoPoint turn = geo_unit (
      geo_point (geo_dot (from, a_tangent), geo_cross (from, a_tangent)));
  if (turn.x != 0 || turn.y != 0)
    {
      m.c = turn.x;
      m.s = turn.y;
    }
  GeoPoint q = geo_motion_turn (m, b);
  m.dx = a.x - q.x;
  m.dy = a.y - q.y;
  return m;
}

double
geo_walk_map (const double *a_marks, const double *b_marks, size_t count,
              double s)
{
  if (count < 2)
    return 0;
  if (s <= a_marks[0])
    return b_marks[0];
  if (s >= a_marks[count - 1])
    return b_marks[count - 1];
  size_t i = 1;
  while (s > a_marks[i])
    i++;
  double length = a_marks[i] - a_marks[i - 1];
  double share = length > 0 ? (s - a_marks[i - 1]) / length : 0;
  return b_marks[i - 1] * (1 - share) + b_marks[i] * share;
}
