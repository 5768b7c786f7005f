/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines that run between the same two vertices are one edge with the sum of
 * their directions as its weight. Crossing an edge of weight m from right to
 * left raises the winding number by m. The number on one side is counted by
 * a ray from the edge's middle, square to its steeper direction, over the other
 * edges:
 *
 *   an edge that crosses the ray going to the ray's left counts + weight,
 *   to its right - weight
 *
 * in coordinates twice as fine, where the middle is a grid point. From there it is
 * handed on about the edge's vertices, and so to all that hangs together: one ray
 * does for each part that stands alone.
 *
 * Edges with the inside on one side only are the border. At a vertex with
 * several borders the walk turns as far to the right as it can: it keeps to
 * the outer face it has on its right, so that nothing that hangs on by a point
 * is lost, and a gap that touches the outside stays a loop of its own.
 */
#include "geometry/arrangement.h"
#include "geometry/memory.h"

#include <string.h>

typedef struct
{
  GeoGridPoint at;
  size_t first, count; /* of its ends, in ends */
  bool told, seen;
} Vertex;

typedef struct
{
  size_t from, to; /* vertices */
  size_t line;     /* one that runs from from to to */
  size_t against;  /* one that runs the other way, or SIZE_MAX */
  int weight, left, right;
  bool counted, border, walked;
} Edge;

typedef struct
{
  const GeoGridLines *lines;
  Vertex *vertices;
  size_t vertex_count;
  Edge *edges;
  size_t edge_count;
  size_t *ends; /* edges by vertex */
  size_t *todo;
} Graph;

/* Numbers the distinct end points, which are looked up in a table of slots, a
 * power of 2 of them and at most half full. */
static size_t
find_vertex (Graph *g, size_t *slots, size_t mask, GeoGridPoint at)
{
  uint64_t hash = (uint64_t)at.x * UINT64_C (0x9e3779b97f4a7c15)
                  ^ (uint64_t)at.y * UINT64_C (0xc2b2ae3d27d4eb4f);
  size_t slot = (size_t)(hash ^ hash >> 29) & mask;
  while (slots[slot] != SIZE_MAX)
    {
      GeoGridPoint p = g->vertices[slots[slot]].at;
      if (p.x == at.x && p.y == at.y)
        return slots[slot];
      slot = (slot + 1) & mask;
    }
  slots[slot] = g->vertex_count;
  g->vertices[g->vertex_count] = (Vertex){ .at = at };
  return g->vertex_count++;
}

static void
find_edges (Graph *g)
{
  size_t count = g->lines->count, room = 4;
  while (room < 4 * count)
    room *= 2;
  size_t *slots = geo_realloc (NULL, room, sizeof *slots);
  memset (slots, 0xff, room * sizeof *slots);
  for (size_t i = 0; i < count; i++)
    {
      const GeoGridLine *l = &g->lines->lines[i];
      size_t from = find_vertex (g, slots, room - 1, l->a);
      size_t to = find_vertex (g, slots, room - 1, l->b);
      bool turned = from > to;
      g->edges[i] = (Edge){ .from = turned ? to : from,
                            .to = turned ? from : to,
                            .line = turned ? SIZE_MAX : i,
                            .against = turned ? i : SIZE_MAX,
                            .weight = turned ? -1 : 1 };
    }
  g->edge_count = count;
  free (slots);
}

/* Edges between the same vertices become one; those that cancel go. */
static void
join_edges (Graph *g)
{
  for (size_t i = 0; i < g->vertex_count; i++)
    for (size_t k = 0; k < g->vertices[i].count; k++)
      for (size_t m = 0; m < k; m++)
        {
          Edge *a = &g->edges[g->ends[g->vertices[i].first + m]];
          Edge *b = &g->edges[g->ends[g->vertices[i].first + k]];
          if (a->from != b->from || a->to != b->to || a->weight == 0
              || b->weight == 0 || a->from != i)
            continue;
          a->weight += b->weight;
          a->line = a->line == SIZE_MAX ? b->line : a->line;
          a->against = a->against == SIZE_MAX ? b->against : a->against;
          b->weight = 0;
          break;
        }
  size_t kept = 0;
  for (size_t i = 0; i < g->edge_count; i++)
    if (g->edges[i].weight != 0)
      g->edges[kept++] = g->edges[i];
  g->edge_count = kept;
}

static void
link_vertices (Graph *g)
{
  for (size_t i = 0; i < g->vertex_count; i++)
    g->vertices[i].count = 0;
  for (size_t i = 0; i < g->edge_count; i++)
    {
      g->vertices[g->edges[i].from].count++;
      g->vertices[g->edges[i].to].count++;
    }
  size_t first = 0;
  for (size_t i = 0; i < g->vertex_count; i++)
    {
      g->vertices[i].first = first;
      first += g->vertices[i].count;
      g->vertices[i].count = 0;
    }
  for (size_t i = 0; i < g->edge_count; i++)
    {
      Vertex *a = &g->vertices[g->edges[i].from];
      Vertex *b = &g->vertices[g->edges[i].to];
      g->ends[a->first + a->count++] = i;
      g->ends[b->first + b->count++] = i;
    }
}

/* The winding number beside the middle of an edge, on the side the ray leaves
 * it, by all other edges. */
static int
count_ray (const Graph *g, const Edge *self, bool along_x)
{
  GeoGridPoint a0 = g->vertices[self->from].at, b0 = g->vertices[self->to].at;
  GeoGridPoint m = { a0.x + b0.x, a0.y + b0.y };
  int sum = 0;
  for (size_t i = 0; i < g->edge_count; i++)
    {
      const Edge *e = &g->edges[i];
      GeoGridPoint a = g->vertices[e->from].at, b = g->vertices[e->to].at;
      bool before = along_x ? 2 * a.y <= m.y : 2 * a.x <= m.x;
      bool after = along_x ? 2 * b.y <= m.y : 2 * b.x <= m.x;
      if (before == after || e == self)
        continue;
      int64_t side = 2 * (b.x - a.x) * (m.y - 2 * a.y)
                     - 2 * (b.y - a.y) * (m.x - 2 * a.x);
      /* Going up past a ray along x, or down past one along y, is going left
       * of it. */
      bool left = before == along_x;
      if (left && side > 0)
        sum += e->weight;
      if (!left && side < 0)
        sum -= e->weight;
    }
  return sum;
}

static void
count_edge (Graph *g, Edge *e)
{
  GeoGridPoint a = g->vertices[e->from].at, b = g->vertices[e->to].at;
  int64_t x = b.x - a.x, y = b.y - a.y;
  bool along_x = llabs (y) >= llabs (x);
  int ahead = count_ray (g, e, along_x);
  /* Ahead of the ray lies the right of an edge going up, for one along x, or
   * the left of one going right, for one along y. */
  bool right_ahead = along_x ? y > 0 : x < 0;
  e->right = right_ahead ? ahead : ahead - e->weight;
  e->left = e->right + e->weight;
  e->counted = true;
}

static GeoGridPoint
direction (const Graph *g, size_t from, size_t to)
{
  GeoGridPoint a = g->vertices[from].at, b = g->vertices[to].at;
  return (GeoGridPoint){ b.x - a.x, b.y - a.y };
}

static inline int64_t
cross (GeoGridPoint a, GeoGridPoint b)
{
  return a.x * b.y - a.y * b.x;
}

/* Whether turning left from back one comes to a before b. */
static bool
comes_first (GeoGridPoint back, GeoGridPoint a, GeoGridPoint b)
{
  bool near = cross (back, a) > 0, other = cross (back, b) > 0;
  if (near != other)
    return near;
  return cross (a, b) > 0;
}

/* The way an edge leaves one of its vertices. */
static GeoGridPoint
way_out (const Graph *g, const Edge *e, size_t at)
{
  return e->from == at ? direction (g, e->from, e->to)
                       : direction (g, e->to, e->from);
}

/* The edge one comes to first turning left from edge i about a vertex. */
static size_t
next_about (const Graph *g, size_t at, size_t i)
{
  const Vertex *v = &g->vertices[at];
  GeoGridPoint back = way_out (g, &g->edges[i], at), best = { 0, 0 };
  size_t found = SIZE_MAX;
  for (size_t k = v->first; k < v->first + v->count; k++)
    {
      size_t j = g->ends[k];
      if (j == i)
        continue;
      GeoGridPoint way = way_out (g, &g->edges[j], at);
      if (found == SIZE_MAX || comes_first (back, way, best))
        {
          found = j;
          best = way;
        }
    }
  return found;
}

/* Turning left about a vertex from edge i, whose numbers are known, the number
 * changes by the weight of every edge passed. Returns how deep todo is then. */
static size_t
tell_vertex (Graph *g, size_t at, size_t i, size_t depth)
{
  Vertex *v = &g->vertices[at];
  if (v->told)
    return depth;
  v->told = true;
  for (size_t k = 1; k < v->count; k++)
    {
      const Edge *e = &g->edges[i];
      int between = e->from == at ? e->left : e->right;
      i = next_about (g, at, i);
      Edge *next = &g->edges[i];
      if (next->counted)
        continue;
      bool out = next->from == at;
      next->right = out ? between : between - next->weight;
      next->left = next->right + next->weight;
      next->counted = true;
      g->todo[depth++] = i;
    }
  return depth;
}

static void
hand_on (Graph *g, size_t start)
{
  size_t depth = 0;
  g->todo[depth++] = start;
  while (depth > 0)
    {
      size_t i = g->todo[--depth];
      size_t from = g->edges[i].from, to = g->edges[i].to;
      depth = tell_vertex (g, from, i, depth);
      depth = tell_vertex (g, to, i, depth);
    }
}

static bool
is_inside (int winding, GeoInsideRule rule)
{
  return rule == GEO_INSIDE_POSITIVE ? winding >= 1 : winding != 0;
}

static void
count_all (Graph *g, GeoInsideRule rule)
{
  for (size_t i = 0; i < g->edge_count; i++)
    if (!g->edges[i].counted)
      {
        count_edge (g, &g->edges[i]);
        hand_on (g, i);
      }
  for (size_t i = 0; i < g->edge_count; i++)
    {
      Edge *e = &g->edges[i];
      e->border = is_inside (e->left, rule) != is_inside (e->right, rule);
      if (e->border && is_inside (e->right, rule))
        {
          size_t vertex = e->from, line = e->line;
          int side = e->left;
          e->from = e->to;
          e->to = vertex;
          e->line = e->against;
          e->against = line;
          e->left = e->right;
          e->right = side;
        }
    }
}

/* Every outer face at a vertex has one border coming in and one going out, so
 * no edge is come to twice. */
static size_t
next_edge (const Graph *g, const Edge *e)
{
  const Vertex *v = &g->vertices[e->to];
  GeoGridPoint back = direction (g, e->to, e->from), best = { 0, 0 };
  size_t found = SIZE_MAX;
  for (size_t i = v->first; i < v->first + v->count; i++)
    {
      const Edge *next = &g->edges[g->ends[i]];
      if (!next->border || next->from != e->to)
        continue;
      GeoGridPoint way = direction (g, next->from, next->to);
      if (found == SIZE_MAX || comes_first (back, way, best))
        {
          found = g->ends[i];
          best = way;
        }
    }
  return found;
}

/* The edge's line in the border's direction. */
static GeoGridLine
border_line (const Graph *g, const Edge *e)
{
  if (e->line != SIZE_MAX)
    return g->lines->lines[e->line];
  GeoGridLine l = g->lines->lines[e->against];
  return (GeoGridLine){ l.b, l.a, l.cubic, l.t1, l.t0 };
}

static void
walk_loop (Graph *g, size_t start, GeoGridBorder *border)
{
  GeoGridLoop *loop = &border->loops[border->loop_count++];
  GeoGridPoint base = g->vertices[g->edges[start].from].at;
  *loop = (GeoGridLoop){ .first = border->line_count };
  size_t i = start;
  do
    {
      Edge *e = &g->edges[i];
      GeoGridPoint a = g->vertices[e->from].at, b = g->vertices[e->to].at;
      e->walked = true;
      border->lines[border->line_count++] = border_line (g, e);
      loop->area += 0.5
                    * ((double)(a.x - base.x) * (double)(b.y - base.y)
                       - (double)(a.y - base.y) * (double)(b.x - base.x));
      loop->pinched |= g->vertices[e->from].seen;
      g->vertices[e->from].seen = true;
      i = next_edge (g, e);
    }
  while (i != start && i != SIZE_MAX && !g->edges[i].walked);
  loop->count = border->line_count - loop->first;
}

void
geo_grid_border (const GeoGridLines *lines, GeoInsideRule rule,
                 GeoGridBorder *border)
{
  size_t count = lines->count;
  Graph g = { .lines = lines };
  *border = (GeoGridBorder){ NULL, 0, NULL, 0 };
  if (count == 0)
    return;
  g.vertices = geo_realloc (NULL, 2 * count, sizeof *g.vertices);
  g.edges = geo_realloc (NULL, count, sizeof *g.edges);
  g.ends = geo_realloc (NULL, 2 * count, sizeof *g.ends);
  g.todo = geo_realloc (NULL, count, sizeof *g.todo);
  find_edges (&g);
  link_vertices (&g);
  size_t all = g.edge_count;
  join_edges (&g);
  if (g.edge_count < all)
    link_vertices (&g);
  count_all (&g, rule);
  border->lines = geo_realloc (NULL, count, sizeof *border->lines);
  border->loops = geo_realloc (NULL, count, sizeof *border->loops);
  for (size_t i = 0; i < g.edge_count; i++)
    if (g.edges[i].border && !g.edges[i].walked)
      walk_loop (&g, i, border);
  free (g.vertices);
  free (g.edges);
  free (g.ends);
  free (g.todo);
}

void
geo_grid_border_clear (GeoGridBorder *border)
{
  free (border->lines);
  free (border->loops);
  *border = (GeoGridBorder){ NULL, 0, NULL, 0 };
}
