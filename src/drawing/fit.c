/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing/fit.h"

#define STEPS 10

void
drawing_fit_add_line (GArray *lines, GeoPoint from, GeoPoint to)
{
  DrawingStretch s = { from, to };
  g_array_append_val (lines, s);
}

void
drawing_fit_add_chain (GArray *lines, const GeoChain *chain)
{
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      if (geo_cubic_is_straight (c, 0.05))
        {
          drawing_fit_add_line (lines, c->p[0], c->p[3]);
          continue;
        }
      GeoPoint from = c->p[0];
      for (int k = 1; k <= STEPS; k++)
        {
          GeoPoint to
              = k == STEPS ? c->p[3] : geo_cubic_point (c, (double)k / STEPS);
          drawing_fit_add_line (lines, from, to);
          from = to;
        }
    }
}

/* Least of max (|u|, |v|) along a straight stretch. It is convex, so it is
 * least at an end, where u or v vanishes, or where |u| = |v|. */
static double
least_square_norm (GeoPoint a, GeoPoint b)
{
  double du = b.x - a.x, dv = b.y - a.y;
  double t[6] = { 0, 1, 0, 0, 0, 0 };
  if (du != 0)
    t[2] = -a.x / du;
  if (dv != 0)
    t[3] = -a.y / dv;
  if (du != dv)
    t[4] = (a.y - a.x) / (du - dv);
  if (du != -dv)
    t[5] = -(a.x + a.y) / (du + dv);
  double least = INFINITY;
  for (int i = 0; i < 6; i++)
    if (t[i] >= 0 && t[i] <= 1)
      least
          = fmin (least, fmax (fabs (a.x + du * t[i]), fabs (a.y + dv * t[i])));
  return least;
}

double
drawing_fit_share (const GArray *lines, GeoPoint middle, double angle,
                   double width, double height)
{
  double c = cos (angle), s = sin (angle);
  double w = fmax (width / 2, 1e-9), h = fmax (height / 2, 1e-9);
  double share = INFINITY;
  for (guint i = 0; i < lines->len; i++)
    {
      const DrawingStretch *line = &g_array_index (lines, DrawingStretch, i);
      GeoPoint a = geo_sub (line->from, middle);
      GeoPoint b = geo_sub (line->to, middle);
      GeoPoint u = { (c * a.x + s * a.y) / w, (-s * a.x + c * a.y) / h };
      GeoPoint v = { (c * b.x + s * b.y) / w, (-s * b.x + c * b.y) / h };
      /* No nearer than what is known already? */
      if (fmin (u.x, v.x) > share || fmax (u.x, v.x) < -share
          || fmin (u.y, v.y) > share || fmax (u.y, v.y) < -share)
        continue;
      share = fmin (share, least_square_norm (u, v));
    }
  return share;
}

gboolean
drawing_fit_inside (const GArray *lines, guint count, GeoPoint p)
{
  gboolean inside = FALSE;
  for (guint i = 0; i < MIN (count, lines->len); i++)
    {
      const DrawingStretch *l = &g_array_index (lines, DrawingStretch, i);
      if ((l->from.y > p.y) != (l->to.y > p.y)
          && p.x < l->from.x
                       + (l->to.x - l->from.x) * (p.y - l->from.y)
                             / (l->to.y - l->from.y))
        inside = !inside;
    }
  return inside;
}
