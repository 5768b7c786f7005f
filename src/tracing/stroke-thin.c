/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strokes thinned to lines a cell wide, and these made a graph.
 *
 * Cells are taken from one side at a time, one after the other, where their eight neighbours stay connected without
 * them (the connectivity number of Yokoi is 1) and they end no line: S. Yokoi et al., 1975, from memory. */
#include "tracing/stroke-private.h"

#include <math.h>

#define MOST_SHARE 0.3 /* of the picture; more is no drawing */
#define BORDER 2       /* cells nothing is followed in */

/* The eight neighbours, round from the right. */
static void
set_steps (gssize w, gssize step[8])
{
  step[0] = 1, step[1] = 1 - w, step[2] = -w, step[3] = -w - 1;
  step[4] = -1, step[5] = w - 1, step[6] = w, step[7] = w + 1;
}

static gboolean
may_go (guint8 around)
{
  guint n = 0, number = 0;
  for (guint k = 0; k < 8; k++)
    n += (around >> k) & 1;
  for (guint k = 0; k < 8; k += 2)
    {
      guint a = !((around >> k) & 1), b = !((around >> (k + 1)) & 1),
            c = !((around >> ((k + 2) % 8)) & 1);
      number += a - a * b * c;
    }
  return n >= 2 && number == 1;
}

static guint8
look_round (const guint8 *at, const gssize step[8])
{
  guint around = 0;
  for (guint k = 0; k < 8; k++)
    around |= (guint)(at[step[k]] != 0) << k;
  return (guint8)around;
}

/* Indices of what is above low; the map becomes 0, 1 and 2. */
static GArray *
take_cells (StrokeMap *map)
{
  GArray *cells = g_array_new (FALSE, FALSE, sizeof (guint32));
  guint w = map->map.width, h = map->map.height;
  for (guint y = 0; y < h; y++)
    for (guint x = 0; x < w; x++)
      {
        guint32 i = (guint32)((gsize)y * w + x);
        guint8 v = map->map.at[i];
        gboolean in = x >= BORDER && y >= BORDER && x + BORDER < w
                      && y + BORDER < h && v >= map->low;
        map->map.at[i] = !in ? 0 : v >= map->high ? 2 : 1;
        if (in)
          g_array_append_val (cells, i);
      }
  return cells;
}

gsize
stroke_thin (StrokeMap *map, gsize *before)
{
  guint8 *at = map->map.at;
  gssize step[8];
  gboolean go[256], changed = TRUE;
  set_steps (map->map.width, step);
  for (guint k = 0; k < 256; k++)
    go[k] = may_go ((guint8)k);
  g_autoptr (GArray) cells = take_cells (map);
  guint32 *c = (guint32 *)(gpointer)cells->data;
  guint n = cells->len;
  *before = n;
  if (n > MOST_SHARE * map->map.width * (double)map->map.height)
    return 0;
  g_autofree guint32 *rim = g_new (guint32, n + 1);
  while (changed)
    {
      changed = FALSE;
      for (guint side = 0; side < 8; side += 2)
        {
          guint m = 0, left = 0;
          for (guint i = 0; i < n; i++)
            if (at[(gssize)c[i] + step[side]] == 0)
              rim[m++] = c[i];
          for (guint i = 0; i < m; i++)
            if (go[look_round (at + rim[i], step)])
              {
                at[rim[i]] = 0;
                changed = TRUE;
              }
          for (guint i = 0; i < n; i++)
            if (at[c[i]] != 0)
              c[left++] = c[i];
          n = left;
        }
    }
  return n;
}

/* --- the graph --------------------------------------------------------------- */

typedef struct
{
  const StrokeMap *map;
  gssize step[8];
  GHashTable *node_of; /* cell + 1 to node + 1: ends and crossings */
  GHashTable *done;    /* cells on ways followed */
  StrokeGraph graph;
} Walk;

static GeoPoint
middle_of (const StrokeMap *map, gsize cell)
{
  return geo_point (((double)(cell % map->map.width) + 0.5) * map->shrink,
                    ((double)(cell / map->map.width) + 0.5) * map->shrink);
}

static gssize
node_at (const Walk *walk, gsize cell)
{
  return (gssize)GPOINTER_TO_SIZE (
             g_hash_table_lookup (walk->node_of, GSIZE_TO_POINTER (cell + 1)))
         - 1;
}

/* All the crossing's cells that touch become one node, in their middle. */
static void
make_node (Walk *walk, gsize cell, const GHashTable *crossings)
{
  GHashTable *all = (GHashTable *)crossings;
  g_autoptr (GArray) open = g_array_new (FALSE, FALSE, sizeof (gsize));
  gsize id = walk->graph.nodes->len + 1;
  GeoPoint sum = { 0, 0 };
  g_array_append_val (open, cell);
  g_hash_table_insert (walk->node_of, GSIZE_TO_POINTER (cell + 1),
                       GSIZE_TO_POINTER (id));
  for (guint i = 0; i < open->len; i++)
    {
      gsize at = g_array_index (open, gsize, i);
      sum = geo_add (sum, middle_of (walk->map, at));
      if (!g_hash_table_contains (all, GSIZE_TO_POINTER (at + 1)))
        continue;
      for (guint k = 0; k < 8; k++)
        {
          gsize next = (gsize)((gssize)at + walk->step[k]);
          if (g_hash_table_contains (all, GSIZE_TO_POINTER (next + 1))
              && node_at (walk, next) < 0)
            {
              g_hash_table_insert (walk->node_of, GSIZE_TO_POINTER (next + 1),
                                   GSIZE_TO_POINTER (id));
              g_array_append_val (open, next);
            }
        }
    }
  sum = geo_scale (sum, 1.0 / open->len);
  g_array_append_val (walk->graph.nodes, sum);
}

static void
measure (StrokeWay *way)
{
  way->length = 0;
  for (guint i = 1; i < way->points->len; i++)
    way->length += geo_distance (g_array_index (way->points, GeoPoint, i - 1),
                                 g_array_index (way->points, GeoPoint, i));
}

/* On from a cell next to `from` until a node, or round to the start. */
static void
follow (Walk *walk, gssize node, gsize from, gsize cell)
{
  const guint8 *map = walk->map->map.at;
  StrokeWay way = { .points = g_array_new (FALSE, FALSE, sizeof (GeoPoint)),
                    .node = { node, -1 } };
  guint high = 0, all = 0;
  gsize start = cell;
  if (node >= 0)
    g_array_append_val (way.points,
                        g_array_index (walk->graph.nodes, GeoPoint, node));
  while (way.node[1] < 0)
    {
      GeoPoint p = middle_of (walk->map, cell);
      gsize next = 0;
      g_array_append_val (way.points, p);
      g_hash_table_add (walk->done, GSIZE_TO_POINTER (cell + 1));
      high += map[cell] == 2;
      all++;
      for (guint k = 0; k < 8; k++)
        {
          gsize to = (gsize)((gssize)cell + walk->step[k]);
          gssize there = map[to] != 0 ? node_at (walk, to) : -1;
          if (map[to] == 0 || to == from
              || (there >= 0 && there == node && all < 2))
            continue;
          if (there >= 0)
            way.node[1] = there;
          else if (!g_hash_table_contains (walk->done,
                                           GSIZE_TO_POINTER (to + 1)))
            next = to;
        }
      if (way.node[1] >= 0 || next == 0)
        break;
      from = cell;
      cell = next;
    }
  GeoPoint last = way.node[1] >= 0
                      ? g_array_index (walk->graph.nodes, GeoPoint, way.node[1])
                      : middle_of (walk->map, start);
  if (way.node[1] >= 0 || node < 0)
    g_array_append_val (way.points, last);
  measure (&way);
  if (3 * high >= all && (way.node[1] >= 0 || node < 0))
    g_array_append_val (walk->graph.ways, way);
  else
    g_array_unref (way.points);
}

static void
find_nodes (Walk *walk)
{
  guint w = walk->map->map.width, h = walk->map->map.height;
  const guint8 *map = walk->map->map.at;
  g_autoptr (GHashTable) crossings = g_hash_table_new (NULL, NULL);
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (gsize));
  for (gsize y = 1; y + 1 < h; y++)
    for (gsize x = 1; x + 1 < w; x++)
      {
        gsize i = y * w + x;
        if (map[i] == 0)
          continue;
        guint n = (guint)__builtin_popcount (look_round (map + i, walk->step));
        if (n == 2 || n == 0)
          continue;
        if (n > 2)
          g_hash_table_add (crossings, GSIZE_TO_POINTER (i + 1));
        g_array_append_val (cells, i);
      }
  for (guint k = 0; k < cells->len; k++)
    if (node_at (walk, g_array_index (cells, gsize, k)) < 0)
      make_node (walk, g_array_index (cells, gsize, k), crossings);
}

guint *
stroke_graph_degrees (const StrokeGraph *graph, gboolean unused_only)
{
  guint *degree = g_new0 (guint, graph->nodes->len + 1);
  for (guint i = 0; i < graph->ways->len; i++)
    {
      const StrokeWay *way = &g_array_index (graph->ways, StrokeWay, i);
      for (guint e = 0; e < 2; e++)
        if (way->node[e] >= 0 && !(unused_only && way->used))
          degree[way->node[e]]++;
    }
  return degree;
}

static void
clear_way (gpointer data)
{
  g_array_unref (((StrokeWay *)data)->points);
}

/* Hairs that thinning leaves on a stroke; and specks. */
static void
prune (StrokeGraph *graph, double spur)
{
  g_autofree guint *degree = stroke_graph_degrees (graph, FALSE);
  for (guint i = graph->ways->len; i-- > 0;)
    {
      const StrokeWay *way = &g_array_index (graph->ways, StrokeWay, i);
      gboolean loose = way->node[0] < 0 || degree[way->node[0]] < 2
                       || degree[way->node[1]] < 2;
      if (loose && way->length < spur)
        g_array_remove_index_fast (graph->ways, i);
    }
}

/* All that ends in one node ends in the other, which is put between them. */
static void
unite_nodes (StrokeGraph *graph, gssize keep, gssize go)
{
  GeoPoint *at = (GeoPoint *)(gpointer)graph->nodes->data;
  at[keep] = geo_lerp (at[keep], at[go], 0.5);
  for (guint i = 0; i < graph->ways->len; i++)
    {
      StrokeWay *way = &g_array_index (graph->ways, StrokeWay, i);
      for (guint e = 0; e < 2; e++)
        if (way->node[e] == go || way->node[e] == keep)
          {
            guint end = e == 0 ? 0 : way->points->len - 1;
            way->node[e] = keep;
            g_array_index (way->points, GeoPoint, end) = at[keep];
          }
    }
}

/* Where two lines cross, thinning makes two meetings with a short way between them. */
static void
unite_crossings (StrokeGraph *graph, double most)
{
  g_autofree guint *degree = stroke_graph_degrees (graph, FALSE);
  for (guint i = graph->ways->len; i-- > 0;)
    {
      StrokeWay way = g_array_index (graph->ways, StrokeWay, i);
      if (way.node[0] < 0 || way.node[0] == way.node[1] || way.length >= most
          || degree[way.node[0]] != 3 || degree[way.node[1]] != 3)
        continue;
      g_array_remove_index_fast (graph->ways, i);
      degree[way.node[0]] = 4;
      degree[way.node[1]] = 0;
      unite_nodes (graph, way.node[0], way.node[1]);
    }
}

StrokeGraph
stroke_graph_new (const StrokeMap *map, double spur)
{
  Walk walk = { .map = map,
                .node_of = g_hash_table_new (NULL, NULL),
                .done = g_hash_table_new (NULL, NULL),
                .graph = { g_array_new (FALSE, FALSE, sizeof (StrokeWay)),
                           g_array_new (FALSE, FALSE, sizeof (GeoPoint)) } };
  gsize w = map->map.width, h = map->map.height;
  g_array_set_clear_func (walk.graph.ways, clear_way);
  set_steps ((gssize)w, walk.step);
  find_nodes (&walk);
  /* from nodes first; what is left then goes round */
  for (guint rounds = 0; rounds < 2; rounds++)
    for (gsize i = w; i + w < w * h; i++)
      {
        if (map->map.at[i] == 0)
          continue;
        gssize node = node_at (&walk, i);
        if (rounds == 1 && node < 0
            && !g_hash_table_contains (walk.done, GSIZE_TO_POINTER (i + 1)))
          follow (&walk, -1, i, i);
        for (guint k = 0; rounds == 0 && node >= 0 && k < 8; k++)
          {
            gsize to = (gsize)((gssize)i + walk.step[k]);
            if (map->map.at[to] != 0 && node_at (&walk, to) < 0
                && !g_hash_table_contains (walk.done,
                                           GSIZE_TO_POINTER (to + 1)))
              follow (&walk, node, i, to);
          }
      }
  g_hash_table_unref (walk.node_of);
  g_hash_table_unref (walk.done);
  prune (&walk.graph, spur);
  unite_crossings (&walk.graph, 1.5 * spur);
  return walk.graph;
}

void
stroke_graph_clear (StrokeGraph *graph)
{
  g_array_unref (graph->ways);
  g_array_unref (graph->nodes);
}
