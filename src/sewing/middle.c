/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/middle.h"

#include <glib.h>

#define SAMPLES 6      /* straight pieces a curve is taken as */
#define PRECISION 0.04 /* of the narrower extent */
#define MOST_CELLS 2000

typedef struct
{
  GeoPoint centre;
  double half;     /* half the side of the square */
  double distance; /* from the outline, negative outside */
  double most;     /* no point of the cell can be farther from it */
} Cell;

/* Distance to a closed polygon, negative outside (even-odd). */
static double
inside_distance (const GArray *polygon, GeoPoint p)
{
  const GeoPoint *v = (const GeoPoint *)(gpointer)polygon->data;
  gboolean inside = FALSE;
  double least = INFINITY;
  for (guint i = 0, j = polygon->len - 1; i < polygon->len; j = i++)
    {
      GeoPoint a = v[j], b = v[i];
      if ((a.y > p.y) != (b.y > p.y)
          && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x)
        inside = !inside;
      GeoPoint along = geo_sub (b, a);
      double square = geo_dot (along, along);
      double t = square > 0 ? geo_dot (geo_sub (p, a), along) / square : 0;
      GeoPoint off = geo_sub (p, geo_along (a, along, CLAMP (t, 0, 1)));
      least = fmin (least, geo_dot (off, off));
    }
  return (inside ? 1 : -1) * sqrt (least);
}

static GArray *
flatten (const GeoChain *outline)
{
  GArray *polygon = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  for (size_t i = 0; i < outline->count; i++)
    {
      const GeoCubic *c = &outline->cubics[i];
      int n = geo_cubic_is_straight (c, 0.5) ? 1 : SAMPLES;
      for (int k = 0; k < n; k++)
        {
          GeoPoint p = geo_cubic_point (c, (double)k / n);
          g_array_append_val (polygon, p);
        }
    }
  return polygon;
}

static Cell
make_cell (const GArray *polygon, GeoPoint centre, double half)
{
  double d = inside_distance (polygon, centre);
  return (Cell){ centre, half, d, d + half * G_SQRT2 };
}

/* Squares over the bounds; the queue is searched best first, and a square that
 * can't beat the best by the precision is dropped. */
GeoPoint
sewing_middle (const GeoChain *outline)
{
  GeoBox box = geo_chain_bounds (outline);
  if (outline->count == 0 || geo_box_is_empty (box))
    return geo_point (0, 0);
  GeoPoint centre = geo_point ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2);
  double width = box.x1 - box.x0, height = box.y1 - box.y0;
  double side = fmin (width, height);
  /* A sliver would want cells without number. */
  if (side <= 0 || fmax (width, height) > 200 * side)
    return centre;

  g_autoptr (GArray) polygon = flatten (outline);
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (Cell));
  for (double x = box.x0; x < box.x1; x += side)
    for (double y = box.y0; y < box.y1; y += side)
      {
        Cell cell = make_cell (polygon, geo_point (x + side / 2, y + side / 2),
                               side / 2);
        g_array_append_val (cells, cell);
      }
  Cell best = make_cell (polygon, centre, 0);
  double precision = PRECISION * side;
  for (guint made = cells->len; cells->len > 0 && made < MOST_CELLS;)
    {
      guint top = 0;
      for (guint i = 1; i < cells->len; i++)
        if (g_array_index (cells, Cell, i).most
            > g_array_index (cells, Cell, top).most)
          top = i;
      Cell cell = g_array_index (cells, Cell, top);
      g_array_remove_index_fast (cells, top);
      if (cell.distance > best.distance)
        best = cell;
      if (cell.most - best.distance <= precision)
        break; /* it had the highest bound of all */
      double half = cell.half / 2;
      for (int k = 0; k < 4; k++)
        {
          GeoPoint c = geo_point (cell.centre.x + (k & 1 ? half : -half),
                                  cell.centre.y + (k & 2 ? half : -half));
          Cell part = make_cell (polygon, c, half);
          if (part.most - best.distance > precision)
            g_array_append_val (cells, part);
          made++;
        }
    }
  return best.distance > 0 ? best.centre : centre;
}
