/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The borders of what lies above a level, followed along the cracks between bytes.
 *
 * The piece is on the side of the left normal (below a crack that runs right). Bytes that
 * touch at a corner only are not joined. Every loop runs upwards somewhere, so it is met by a scan for
 * cracks with the piece to their right that none has passed yet. The place for each crack is where, from middle to middle
 * of the two bytes, the level lies.
 */
#include "tracing/shape-private.h"

#include <math.h>

#define MOST_LOOPS 250

typedef struct
{
  const ShapeMap *map;
  guint8 *passed; /* by the left side of the byte */
  double level;
  guint shrink;
} Follow;

typedef struct
{
  int x, y, way; /* a corner of bytes, and 0 right 1 down 2 left 3 up */
} Crack;

static const int step_x[4] = { 1, 0, -1, 0 }, step_y[4] = { 0, 1, 0, -1 };
static const int in_x[4] = { 0, -1, -1, 0 }, in_y[4] = { 0, 0, -1, -1 };
static const int out_x[4] = { 0, 0, -1, -1 }, out_y[4] = { -1, 0, 0, -1 };

void
shape_loop_clear (gpointer data)
{
  ShapeLoop *loop = data;
  g_array_unref (loop->points);
  g_array_unref (loop->outside);
}

static gboolean
is_within (const Follow *f, int x, int y)
{
  return x >= 0 && y >= 0 && x < (int)f->map->width && y < (int)f->map->height;
}

static double
value (const Follow *f, int x, int y)
{
  return f->map->at[(gsize)y * f->map->width + (gsize)x];
}

static gboolean
is_piece (const Follow *f, int x, int y)
{
  return is_within (f, x, y) && value (f, x, y) >= f->level;
}

static void
add_place (const Follow *f, Crack c, ShapeLoop *loop)
{
  int xi = c.x + in_x[c.way], yi = c.y + in_y[c.way];
  int xo = c.x + out_x[c.way], yo = c.y + out_y[c.way];
  guint8 rim = !is_within (f, xo, yo);
  double in = value (f, xi, yi);
  double t = rim ? 0.5 : (in - f->level) / (in - value (f, xo, yo));
  GeoPoint p = { f->shrink * (xi + 0.5 + t * (xo - xi)),
                 f->shrink * (yi + 0.5 + t * (yo - yi)) };
  g_array_append_val (loop->points, p);
  g_array_append_val (loop->outside, rim);
  loop->touches |= rim;
  loop->box = geo_box_add (loop->box, p);
}

static void
follow_one (Follow *f, Crack start, ShapeLoop *loop)
{
  Crack c = start;
  g_array_set_size (loop->points, 0);
  g_array_set_size (loop->outside, 0);
  loop->touches = FALSE;
  loop->box = geo_box_empty ();
  loop->area = 0;
  do
    {
      add_place (f, c, loop);
      if (c.way == 3)
        f->passed[(gsize)(c.y - 1) * f->map->width + (gsize)c.x] = 1;
      c.x += step_x[c.way];
      c.y += step_y[c.way];
      if (!is_piece (f, c.x + in_x[c.way], c.y + in_y[c.way]))
        c.way = (c.way + 1) & 3;
      else if (is_piece (f, c.x + out_x[c.way], c.y + out_y[c.way]))
        c.way = (c.way + 3) & 3;
    }
  while (c.x != start.x || c.y != start.y || c.way != start.way);
  const GeoPoint *q = (const GeoPoint *)(gpointer)loop->points->data;
  for (guint n = loop->points->len, i = 0; i < n; i++)
    loop->area += 0.5 * geo_cross (q[i], q[(i + 1) % n]);
}

gboolean
shape_loop_holds (const ShapeLoop *loop, GeoPoint p)
{
  gboolean in = FALSE;
  const GeoPoint *q = (const GeoPoint *)(gpointer)loop->points->data;
  guint n = loop->points->len;
  if (!geo_box_holds (loop->box, p))
    return FALSE;
  for (guint i = 0, j = n - 1; i < n; j = i++)
    if ((q[i].y > p.y) != (q[j].y > p.y)
        && p.x < (q[j].x - q[i].x) * (p.y - q[i].y) / (q[j].y - q[i].y)
                     + q[i].x)
      in = !in;
  return in;
}

static void
find_parents (GArray *loops)
{
  for (guint i = 0; i < loops->len; i++)
    {
      ShapeLoop *hole = &g_array_index (loops, ShapeLoop, i);
      double least = INFINITY;
      if (hole->area > 0)
        continue;
      for (guint k = 0; k < loops->len; k++)
        {
          const ShapeLoop *loop = &g_array_index (loops, ShapeLoop, k);
          GeoPoint p = g_array_index (hole->points, GeoPoint, 0);
          if (loop->area > 0 && loop->area < least
              && shape_loop_holds (loop, p))
            {
              least = loop->area;
              hole->parent = (gssize)k;
            }
        }
    }
}

GArray *
shape_follow (const ShapeMap *map, guint shrink, double level,
              double least_area)
{
  Follow f
      = { map, g_malloc0 ((gsize)map->width * map->height), level, shrink };
  GArray *loops = g_array_new (FALSE, FALSE, sizeof (ShapeLoop));
  ShapeLoop loop = { g_array_new (FALSE, FALSE, sizeof (GeoPoint)),
                     g_array_new (FALSE, FALSE, 1),
                     0,
                     FALSE,
                     geo_box_empty (),
                     -1 };
  g_array_set_clear_func (loops, shape_loop_clear);
  for (int y = 0; y < (int)map->height && loops->len <= MOST_LOOPS; y++)
    for (int x = 0; x < (int)map->width && loops->len <= MOST_LOOPS; x++)
      {
        if (!is_piece (&f, x, y) || is_piece (&f, x - 1, y)
            || f.passed[(gsize)y * map->width + (gsize)x])
          continue;
        follow_one (&f, (Crack){ x, y + 1, 3 }, &loop);
        if (fabs (loop.area) < least_area)
          continue;
        g_array_append_val (loops, loop);
        loop.points = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
        loop.outside = g_array_new (FALSE, FALSE, 1);
      }
  shape_loop_clear (&loop);
  g_free (f.passed);
  if (loops->len > MOST_LOOPS)
    {
      g_array_unref (loops);
      return NULL;
    }
  find_parents (loops);
  return loops;
}
