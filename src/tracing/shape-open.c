/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Thin light lines taken out of a map, and the level that follows its edges best.
 *
 * Opening: the least of each byte's neighbourhood, then the most of that; what is narrower than the
 * neighbourhood goes, all else stays (J. Serra, 1982, from memory).
 */
#include "tracing/shape-private.h"

#include <math.h>
#include <string.h>

guint
shape_line_reach (double dots, guint shrink)
{
  return (guint)CLAMP (ceil (0.7 * dots / shrink), 1, 8);
}

/* The lesser (or greater) of each byte and another's; a plain loop, that many are done at a time. */
static void
take (guint8 *restrict to, const guint8 *restrict from, guint n, gboolean most)
{
  if (most)
    for (guint i = 0; i < n; i++)
      to[i] = to[i] > from[i] ? to[i] : from[i];
  else
    for (guint i = 0; i < n; i++)
      to[i] = to[i] < from[i] ? to[i] : from[i];
}

static void
row_extreme (const guint8 *from, guint8 *to, guint n, guint r, gboolean most)
{
  memcpy (to, from, n);
  for (guint k = 1; k <= r && k < n; k++)
    {
      take (to, from + k, n - k, most);
      take (to + k, from, n - k, most);
    }
}

static void
column_extreme (const ShapeMap *from, ShapeMap *to, guint r, gboolean most)
{
  guint w = from->width, h = from->height;
  for (guint y = 0; y < h; y++)
    {
      guint8 *out = to->at + (gsize)y * w;
      memcpy (out, from->at + (gsize)y * w, w);
      for (guint j = y > r ? y - r : 0; j < MIN (h, y + r + 1); j++)
        if (j != y)
          take (out, from->at + (gsize)j * w, w, most);
    }
}

ShapeMap
shape_map_open (const ShapeMap *map, guint r)
{
  gsize n = (gsize)map->width * map->height;
  ShapeMap a = { map->width, map->height, g_malloc (n) };
  ShapeMap b = { map->width, map->height, g_malloc (n) };
  for (gsize y = 0; y < map->height; y++)
    row_extreme (map->at + y * map->width, a.at + y * map->width, map->width, r,
                 FALSE);
  column_extreme (&a, &b, r, FALSE);
  for (gsize y = 0; y < map->height; y++)
    row_extreme (b.at + y * map->width, a.at + y * map->width, map->width, r,
                 TRUE);
  column_extreme (&a, &b, r, TRUE);
  g_free (a.at);
  return b;
}

/* Of each level the sum of the squares of the slope along it; a plateau wherever edges are of one kind, whose
 * middle is wanted: nearness to a half counts too. */
double
shape_map_level (const ShapeMap *map)
{
  double edge[256] = { 0 }, best = 0, level = 0.5;
  gsize w = map->width;
  for (gsize y = 1; y + 1 < map->height; y++)
    for (gsize x = 1; x + 1 < w; x++)
      {
        const guint8 *p = map->at + y * w + x;
        double dx = p[1] - p[-1], dy = p[w] - p[-(gssize)w];
        edge[*p] += dx * dx + dy * dy;
      }
  for (int k = 30; k <= 80; k++)
    {
      double p = k / 100.0, sum = 0;
      int at = (int)(SHAPE_ZERO + p * SHAPE_SPAN);
      for (int j = -12; j <= 12; j++)
        sum += edge[at + j];
      sum *= 1 - 5 * (p - 0.5) * (p - 0.5);
      if (sum > best)
        {
          best = sum;
          level = p;
        }
    }
  return level;
}
