/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/comb.h"

#include "geometry/length.h"

#define STEP_PX 7.0
#define MOST_BENT (1 / 15.0) /* 1/mm */
#define LEAST_BENT 1e-4
/* A tooth is cut off beyond so many times the usual height. */
#define MOST_TIMES 2

double
app_comb_scale (const GeoChain *chains, guint n, double tall)
{
  double most = LEAST_BENT;
  for (guint c = 0; c < n; c++)
    for (size_t i = 0; i < chains[c].count; i++)
      for (int k = 0; k <= 8; k++)
        {
          double bend
              = fabs (geo_cubic_curvature (&chains[c].cubics[i], k / 8.0));
          if (bend <= MOST_BENT)
            most = fmax (most, bend);
        }
  return tall / most;
}

static void
path (cairo_t *cr, const GeoChain *chain, double scale, double px,
      gboolean teeth)
{
  GeoRuler ruler;
  geo_ruler_init (&ruler, chain, 1e-3);
  double length = geo_ruler_length (&ruler);
  double most = MOST_TIMES * APP_COMB_PX * px;
  int n = (int)CLAMP (length / (STEP_PX * px), 4, 600);
  for (int i = 0; i <= n; i++)
    {
      GeoPlace place = geo_ruler_place (&ruler, length * i / n);
      GeoPoint foot = geo_chain_point (chain, place);
      double far
          = CLAMP (geo_chain_curvature (chain, place) * scale, -most, most);
      GeoPoint tip
          = geo_along (foot, geo_left (geo_chain_tangent (chain, place)), -far);
      if (teeth)
        cairo_move_to (cr, foot.x, foot.y);
      if (teeth || i > 0)
        cairo_line_to (cr, tip.x, tip.y);
      else
        cairo_move_to (cr, tip.x, tip.y);
    }
  geo_ruler_clear (&ruler);
}

void
app_comb_paint (cairo_t *cr, const GeoChain *chain, double scale,
                double mm_per_px, DrawingColour c, gboolean old)
{
  if (chain->count == 0)
    return;
  double dots[] = { 3 * mm_per_px, 4 * mm_per_px };
  cairo_save (cr);
  cairo_new_path (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  if (!old)
    {
      path (cr, chain, scale, mm_per_px, TRUE);
      cairo_set_source_rgba (cr, c.r, c.g, c.b, c.a * 0.55);
      cairo_set_line_width (cr, mm_per_px);
      cairo_stroke (cr);
    }
  else
    cairo_set_dash (cr, dots, 2, 0);
  path (cr, chain, scale, mm_per_px, FALSE);
  cairo_set_source_rgba (cr, c.r, c.g, c.b, c.a);
  cairo_set_line_width (cr, (old ? 1 : 1.6) * mm_per_px);
  cairo_stroke (cr);
  cairo_restore (cr);
}
