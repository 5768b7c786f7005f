/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/parallel-arc.h"

void
geo_parallel_append_arc (GeoChain *out, GeoPoint centre, GeoPoint from,
                         GeoPoint to, double radius, double sweep,
                         double tolerance)
{
  double quarter = M_PI / 2, off = 2.8e-4 * radius / (tolerance / 4);
  double pieces = fabs (sweep) / quarter * geo_most (1, pow (off, 1.0 / 6));
  int n = (int)ceil (geo_least (geo_most (pieces, 1), 64));
  GeoPoint r = geo_sub (from, centre);
  double start = atan2 (r.y, r.x);
  for (int i = 0; i < n; i++)
    {
      GeoCubic c = geo_cubic_arc (centre, radius, start + sweep * i / n,
                                  start + sweep * (i + 1) / n);
      GeoPoint before = geo_sub (from, c.p[0]), after = geo_sub (to, c.p[3]);
      if (i == 0)
        {
          c.p[0] = from;
          c.p[1] = geo_add (c.p[1], before);
        }
      if (i == n - 1)
        {
          c.p[3] = to;
          c.p[2] = geo_add (c.p[2], after);
        }
      geo_chain_append (out, c);
    }
}

void
geo_parallel_append_joint (GeoChain *out, GeoPoint joint, GeoPoint arriving,
                           GeoPoint leaving, double d, double tolerance)
{
  double turn = geo_angle_between (arriving, leaving);
  GeoPoint from = geo_chain_end (out);
  GeoPoint to = geo_along (joint, geo_left (leaving), d);
  if (geo_distance (from, to) <= 1e-12 * (fabs (d) + geo_norm (joint)))
    return;
  if (fabs (turn * d) < tolerance / 8)
    geo_chain_append_line (out, from, to);
  else if (turn * d < 0)
    geo_parallel_append_arc (out, joint, from, to, fabs (d), turn, tolerance);
  else
    {
      geo_chain_append_line (out, from, joint);
      geo_chain_append_line (out, joint, to);
    }
}
