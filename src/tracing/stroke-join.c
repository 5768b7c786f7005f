/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strokes put together: over gaps, and through places where others meet them. */
#include "tracing/stroke-private.h"

#include <math.h>

#define STRAIGHT 0.7 /* radians a line may turn where others meet it */
#define GAP_TURN 0.6 /* radians between an end and the way over a gap */
#define MOST_ENDS 4000

static GeoPoint
point_from (const GArray *points, guint end, guint i)
{
  return g_array_index (points, GeoPoint, end ? points->len - 1 - i : i);
}

/* The way's direction out of an end, by what lies from near to far px from it. */
static GeoPoint
out_of (const StrokeWay *way, guint end, double near, double far)
{
  GeoPoint tip = point_from (way->points, end, 0), a = tip, b = tip;
  near = fmin (near, 0.3 * way->length);
  guint i = 0;
  for (; i + 1 < way->points->len
         && geo_distance (point_from (way->points, end, i), tip) < near;
       i++)
    ;
  a = point_from (way->points, end, i);
  for (; i + 1 < way->points->len
         && geo_distance (point_from (way->points, end, i), tip) < far;
       i++)
    ;
  b = point_from (way->points, end, i);
  return geo_unit (geo_sub (a, b));
}

/* --- gaps -------------------------------------------------------------------------- */

typedef struct
{
  guint way, end;
  gssize node;
  GeoPoint tip, out;
  gboolean taken;
} End;

typedef struct
{
  guint a, b;
  double cost;
  GeoPoint over; /* where they meet, for a corner */
  gboolean corner;
} Bridge;

static int
by_cost (gconstpointer a, gconstpointer b)
{
  double x = ((const Bridge *)a)->cost, y = ((const Bridge *)b)->cost;
  return (x > y) - (x < y);
}

/* Whether two ends look at each other, on straight or round a corner that both lack. */
static gboolean
look_at (const End *a, const End *b, double gap, double dots, Bridge *bridge)
{
  GeoPoint d = geo_sub (b->tip, a->tip);
  double far = geo_norm (d);
  if (far > gap || a->node == b->node)
    return FALSE;
  GeoPoint u = far > 0 ? geo_scale (d, 1 / far) : a->out;
  double turn = fmax (acos (CLAMP (geo_dot (a->out, u), -1, 1)),
                      acos (CLAMP (-geo_dot (b->out, u), -1, 1)));
  bridge->corner = FALSE;
  bridge->cost = far * (1 + 2 * turn);
  if (turn < GAP_TURN || far < dots)
    return TRUE;
  double cross = geo_cross (a->out, b->out);
  if (fabs (cross) < 0.25)
    return FALSE;
  double s = geo_cross (d, b->out) / cross, t = geo_cross (d, a->out) / cross;
  bridge->corner = TRUE;
  bridge->over = geo_along (a->tip, a->out, s);
  bridge->cost = 1.5 * (s + t);
  return s > -0.5 * dots && t > -0.5 * dots && s < 0.8 * gap && t < 0.8 * gap;
}

static GArray *
find_ends (const StrokeGraph *graph, double dots)
{
  GArray *ends = g_array_new (FALSE, FALSE, sizeof (End));
  g_autofree guint *degree = stroke_graph_degrees (graph, FALSE);
  for (guint i = 0; i < graph->ways->len; i++)
    {
      const StrokeWay *way = &g_array_index (graph->ways, StrokeWay, i);
      for (guint e = 0; e < 2; e++)
        if (way->node[e] >= 0 && degree[way->node[e]] == 1)
          {
            End end = { i,
                        e,
                        way->node[e],
                        point_from (way->points, e, 0),
                        out_of (way, e, 0.4 * dots, 3 * dots),
                        FALSE };
            g_array_append_val (ends, end);
          }
    }
  return ends;
}

static void
add_bridge (StrokeGraph *graph, const End *a, const End *b, const Bridge *by)
{
  StrokeWay way = { .points = g_array_new (FALSE, FALSE, sizeof (GeoPoint)),
                    .node = { a->node, b->node },
                    .bridge = TRUE };
  GeoPoint tip[2] = { a->tip, b->tip };
  g_array_append_val (way.points, tip[0]);
  if (by->corner)
    g_array_append_val (way.points, by->over);
  g_array_append_val (way.points, tip[1]);
  way.length = geo_distance (tip[0], tip[1]);
  g_array_append_val (graph->ways, way);
}

void
stroke_bridge (StrokeGraph *graph, double gap, double dots)
{
  g_autoptr (GArray) ends = find_ends (graph, dots);
  g_autoptr (GArray) bridges = g_array_new (FALSE, FALSE, sizeof (Bridge));
  if (ends->len > MOST_ENDS)
    return;
  for (guint i = 0; i < ends->len; i++)
    for (guint k = i + 1; k < ends->len; k++)
      {
        Bridge bridge = { .a = i, .b = k };
        if (look_at (&g_array_index (ends, End, i),
                     &g_array_index (ends, End, k), gap, dots, &bridge))
          g_array_append_val (bridges, bridge);
      }
  g_array_sort (bridges, by_cost);
  for (guint i = 0; i < bridges->len; i++)
    {
      const Bridge *by = &g_array_index (bridges, Bridge, i);
      End *a = &g_array_index (ends, End, by->a);
      End *b = &g_array_index (ends, End, by->b);
      if (a->taken || b->taken)
        continue;
      a->taken = b->taken = TRUE;
      add_bridge (graph, a, b, by);
    }
}

/* --- following ------------------------------------------------------------------------ */

/* Ways that are still in: the rest ends blindly, if only cores are asked for. */
static gboolean *
find_core (const StrokeGraph *graph, gboolean core_only)
{
  guint n = graph->ways->len;
  gboolean *in = g_new0 (gboolean, n + 1), changed = core_only;
  for (guint i = 0; i < n; i++)
    in[i] = !g_array_index (graph->ways, StrokeWay, i).used;
  g_autofree guint *degree = stroke_graph_degrees (graph, TRUE);
  while (changed)
    {
      changed = FALSE;
      for (guint i = 0; i < n; i++)
        {
          const StrokeWay *way = &g_array_index (graph->ways, StrokeWay, i);
          if (!in[i] || way->node[0] < 0
              || (degree[way->node[0]] > 1 && degree[way->node[1]] > 1))
            continue;
          in[i] = FALSE;
          degree[way->node[0]]--;
          degree[way->node[1]]--;
          changed = TRUE;
        }
    }
  return in;
}

/* At one node: two ways that are alone go on into each other; else the straightest do. */
static void
pair_node (const StrokeGraph *graph, const GArray *at, gboolean alone,
           double dots, gssize *next)
{
  guint n = at->len;
  if (n == 2 && alone)
    {
      gssize a = g_array_index (at, gssize, 0),
             b = g_array_index (at, gssize, 1);
      next[a] = b;
      next[b] = a;
    }
  for (guint tries = 0; tries < n / 2 && !(n == 2 && alone); tries++)
    {
      double best = STRAIGHT;
      gssize best_a = -1, best_b = -1;
      for (guint i = 0; i < n; i++)
        for (guint k = i + 1; k < n; k++)
          {
            gssize a = g_array_index (at, gssize, i),
                   b = g_array_index (at, gssize, k);
            if (next[a] >= 0 || next[b] >= 0)
              continue;
            GeoPoint u = out_of (&g_array_index (graph->ways, StrokeWay, a / 2),
                                 (guint)(a % 2), dots, 4 * dots);
            GeoPoint v = out_of (&g_array_index (graph->ways, StrokeWay, b / 2),
                                 (guint)(b % 2), dots, 4 * dots);
            double turn = acos (CLAMP (-geo_dot (u, v), -1, 1));
            if (turn < best)
              {
                best = turn;
                best_a = a;
                best_b = b;
              }
          }
      if (best_a < 0)
        break;
      next[best_a] = best_b;
      next[best_b] = best_a;
    }
}

/* What each end of each way goes on to: 2 x way + end, or -1. degree: of all ways; or NULL, where what is in is all. */
static gssize *
pair_ends (const StrokeGraph *graph, const gboolean *in, const guint *degree,
           double dots)
{
  guint n = graph->ways->len, m = graph->nodes->len;
  gssize *next = g_new (gssize, 2 * n + 1);
  g_autofree GArray **at = g_new0 (GArray *, m + 1);
  for (guint i = 0; i < 2 * n; i++)
    {
      gssize node = g_array_index (graph->ways, StrokeWay, i / 2).node[i % 2];
      gssize end = (gssize)i;
      next[i] = -1;
      if (node < 0 || !in[i / 2])
        continue;
      if (at[node] == NULL)
        at[node] = g_array_new (FALSE, FALSE, sizeof (gssize));
      g_array_append_val (at[node], end);
    }
  for (guint i = 0; i < m; i++)
    if (at[i] != NULL)
      {
        pair_node (graph, at[i], degree == NULL || degree[i] == 2, dots, next);
        g_array_unref (at[i]);
      }
  return next;
}

void
stroke_trail_clear (gpointer data)
{
  StrokeTrail *trail = data;
  g_array_unref (trail->points);
  g_array_unref (trail->bridged);
}

/* A way's points, from one end on; what is there already at the joint is not doubled. */
static void
append_way (StrokeTrail *trail, const StrokeWay *way, guint from)
{
  guint8 bridge = way->bridge;
  for (guint i = 0; i < way->points->len; i++)
    {
      GeoPoint p = point_from (way->points, from, i);
      if (trail->points->len > 0 && i == 0)
        continue;
      g_array_append_val (trail->points, p);
      g_array_append_val (trail->bridged, bridge);
    }
  trail->length += way->length;
}

/* From an end of a way on; all of them used. */
static StrokeTrail
walk_from (StrokeGraph *graph, const gssize *next, gssize start)
{
  StrokeTrail trail = { g_array_new (FALSE, FALSE, sizeof (GeoPoint)),
                        g_array_new (FALSE, FALSE, sizeof (guint8)),
                        FALSE,
                        { TRUE, TRUE },
                        0 };
  gssize at = start;
  do
    {
      StrokeWay *way = &g_array_index (graph->ways, StrokeWay, at / 2);
      append_way (&trail, way, (guint)(at % 2));
      way->used = TRUE;
      at = next[at ^ 1];
    }
  while (at >= 0 && at != start);
  trail.closed = at == start;
  return trail;
}

/* Whether going on from the end comes back to it. */
static gboolean
comes_round (const gssize *next, gssize start, gsize most)
{
  gssize at = start;
  for (gsize i = 0; i <= most; i++)
    {
      at = next[at ^ 1];
      if (at < 0)
        return FALSE;
      if (at == start)
        return TRUE;
    }
  return FALSE;
}

static void
take_closed (StrokeGraph *graph, const gssize *next, GArray *trails)
{
  guint n = graph->ways->len;
  for (guint i = 0; i < n; i++)
    {
      StrokeWay *way = &g_array_index (graph->ways, StrokeWay, i);
      if (way->used)
        continue;
      if (way->node[0] >= 0 && !comes_round (next, 2 * (gssize)i, 2 * n))
        continue;
      StrokeTrail trail = walk_from (graph, next, 2 * (gssize)i);
      trail.closed = TRUE;
      /* its first place again */
      g_array_set_size (trail.points, trail.points->len - 1);
      g_array_set_size (trail.bridged, trail.points->len);
      g_array_append_val (trails, trail);
    }
}

GArray *
stroke_follow (StrokeGraph *graph, double dots)
{
  GArray *trails = g_array_new (FALSE, FALSE, sizeof (StrokeTrail));
  g_array_set_clear_func (trails, stroke_trail_clear);
  g_autofree guint *degree = stroke_graph_degrees (graph, FALSE);
  guint before;
  do
    {
      before = trails->len;
      g_autofree gboolean *in = find_core (graph, TRUE);
      g_autofree gssize *next = pair_ends (graph, in, NULL, dots);
      take_closed (graph, next, trails);
    }
  while (trails->len > before);
  /* the rest is open: where more than two meet, what was taken before counts */
  g_autofree gboolean *in = find_core (graph, FALSE);
  g_autofree gssize *next = pair_ends (graph, in, degree, dots);
  guint n = graph->ways->len;
  for (gssize i = 0; i < 2 * (gssize)n; i++)
    {
      const StrokeWay *way = &g_array_index (graph->ways, StrokeWay, i / 2);
      if (way->used || next[i] >= 0)
        continue;
      gssize last = i ^ 1;
      while (next[last] >= 0)
        last = next[last] ^ 1;
      gssize ends[2]
          = { way->node[i % 2],
              g_array_index (graph->ways, StrokeWay, last / 2).node[last % 2] };
      StrokeTrail trail = walk_from (graph, next, i);
      for (guint e = 0; e < 2; e++)
        trail.free_end[e] = ends[e] >= 0 && degree[ends[e]] == 1;
      g_array_append_val (trails, trail);
    }
  return trails;
}
