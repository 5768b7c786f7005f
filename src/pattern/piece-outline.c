/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Altering the loop of nodes and edges of a piece that is not yet in a
 * pattern. */
#include <string.h>

#include "geometry/length.h"
#include "pattern/parts.h"

#define LENGTH_TOLERANCE 1e-9

static double
edge_length (const PatternPiece *piece, guint edge_index)
{
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_edge_chain (piece, edge_index, &chain);
  double length = geo_chain_length (&chain, LENGTH_TOLERANCE);
  geo_chain_clear (&chain);
  return length;
}

/* The loop begins at another node: the one edge number turn starts at. */
static void
turn_start (PatternPiece *piece, guint turn)
{
  guint shift = piece->edges[turn].first;
  if (turn == 0 && shift == 0)
    return;
  guint n = piece->n_nodes, m = piece->n_edges;
  PatternNode *nodes = g_new (PatternNode, n);
  PatternEdge *edges = g_new (PatternEdge, m);
  for (guint i = 0; i < n; i++)
    nodes[i] = piece->nodes[(i + shift) % n];
  for (guint i = 0; i < m; i++)
    {
      edges[i] = piece->edges[(i + turn) % m];
      edges[i].first = (edges[i].first + n - shift) % n;
    }
  g_free (piece->nodes);
  g_free (piece->edges);
  piece->nodes = nodes;
  piece->edges = edges;
}

void
pattern_piece_insert_node (PatternPiece *piece, guint index, PatternNode node)
{
  g_return_if_fail (piece != NULL && index <= piece->n_nodes);
  if (index == 0)
    index = piece->n_nodes;
  PATTERN_APPEND (piece->nodes, piece->n_nodes, node);
  memmove (piece->nodes + index + 1, piece->nodes + index,
           (piece->n_nodes - 1 - index) * sizeof node);
  piece->nodes[index] = node;
  for (guint i = 1; i < piece->n_edges; i++)
    if (piece->edges[i].first >= index)
      piece->edges[i].first++;
}

void
pattern_piece_remove_node (PatternPiece *piece, guint index)
{
  g_return_if_fail (piece != NULL && index < piece->n_nodes);
  guint id = piece->nodes[index].id;
  guint edge = pattern_piece_edge_of_node (piece, index);
  if (piece->n_edges > 0 && piece->edges[edge].first == index)
    {
      g_return_if_fail (piece->n_edges > 1);
      pattern_piece_remove_edge (piece, edge);
      index = (guint)pattern_piece_find_node (piece, id);
    }
  PATTERN_TAKE_OUT (piece->nodes, piece->n_nodes, index);
  for (guint i = 0; i < piece->n_edges; i++)
    if (piece->edges[i].first > index)
      piece->edges[i].first--;
}

/* A notch's place, kept where it is while its edge goes from one length to
 * another that begins `before` earlier. What it is measured from stays. */
static void
keep_notch (PatternNotch *notch, double place, double length)
{
  switch (notch->from)
    {
    case PATTERN_FROM_START:
      notch->amount = place;
      break;
    case PATTERN_FROM_END:
      notch->amount = length - place;
      break;
    case PATTERN_FRACTION:
      notch->amount = length > 0 ? CLAMP (place / length, 0, 1) : 0;
      break;
    }
}

static void
share_notches (PatternPiece *piece, guint cut_off, guint added)
{
  double before = edge_length (piece, cut_off);
  double after = edge_length (piece, added);
  for (guint i = 0; i < piece->n_notches; i++)
    {
      PatternNotch *notch = &piece->notches[i];
      if (notch->edge != piece->edges[cut_off].id)
        continue;
      double place = pattern_notch_place (notch, before + after);
      if (place > before)
        {
          notch->edge = piece->edges[added].id;
          if (notch->from != PATTERN_FROM_END)
            keep_notch (notch, place - before, after);
        }
      else if (notch->from != PATTERN_FROM_START)
        keep_notch (notch, place, before);
    }
}

void
pattern_piece_insert_edge (PatternPiece *piece, guint node_index,
                           PatternEdge edge)
{
  g_return_if_fail (piece != NULL && node_index < piece->n_nodes);
  guint place = 0;
  while (place < piece->n_edges && piece->edges[place].first < node_index)
    place++;
  g_return_if_fail (place == piece->n_edges
                    || piece->edges[place].first != node_index);
  edge.first = node_index;
  edge.name = g_strdup (edge.name ? edge.name : "");
  edge.extra = g_strdup (edge.extra);
  PATTERN_APPEND (piece->edges, piece->n_edges, edge);
  memmove (piece->edges + place + 1, piece->edges + place,
           (piece->n_edges - 1 - place) * sizeof edge);
  piece->edges[place] = edge;
  if (piece->n_edges == 1)
    turn_start (piece, 0);
  else
    share_notches (piece, place - 1, place);
}

static void
join_notches (PatternPiece *piece, guint before, guint gone)
{
  double head = edge_length (piece, before);
  double tail = edge_length (piece, gone);
  for (guint i = 0; i < piece->n_notches; i++)
    {
      PatternNotch *notch = &piece->notches[i];
      if (notch->edge == piece->edges[before].id)
        {
          double place = pattern_notch_place (notch, head);
          if (notch->from != PATTERN_FROM_START)
            keep_notch (notch, place, head + tail);
        }
      else if (notch->edge == piece->edges[gone].id)
        {
          double place = head + pattern_notch_place (notch, tail);
          notch->edge = piece->edges[before].id;
          if (notch->from != PATTERN_FROM_END)
            keep_notch (notch, place, head + tail);
        }
    }
}

void
pattern_piece_remove_edge (PatternPiece *piece, guint index)
{
  g_return_if_fail (piece != NULL && index < piece->n_edges);
  if (piece->n_edges == 1)
    return;
  if (index == 0)
    {
      turn_start (piece, 1);
      index = piece->n_edges - 1;
    }
  join_notches (piece, index - 1, index);
  g_free (piece->edges[index].name);
  g_free (piece->edges[index].extra);
  PATTERN_TAKE_OUT (piece->edges, piece->n_edges, index);
}

/* --- turning and moving ---------------------------------------------------------- */
static void
turn_corner_governor (GeoCorner *corner)
{
  corner->governor = corner->governor == GEO_CORNER_BY_ARRIVING
                         ? GEO_CORNER_BY_LEAVING
                         : GEO_CORNER_BY_ARRIVING;
}

/* Edge j ran from node f(j) to node f(j + 1). Walked the other way it starts at
 * node f(j + 1), whose corner was edge j + 1's, and the edges follow each other
 * from last to first. Node 0 stays first, so node i comes to n - i. */
static void
turn_edges (PatternPiece *piece)
{
  guint n = piece->n_nodes, m = piece->n_edges;
  PatternEdge *edges = g_new (PatternEdge, m);
  for (guint j = 0; j < m; j++)
    {
      PatternEdge edge = piece->edges[j];
      edge.first = (n - pattern_piece_edge_last (piece, j) % n) % n;
      edge.corner = piece->edges[(j + 1) % m].corner;
      turn_corner_governor (&edge.corner);
      edges[m - 1 - j] = edge;
    }
  g_free (piece->edges);
  piece->edges = edges;
}

void
pattern_piece_turn_round (PatternPiece *piece)
{
  g_return_if_fail (piece != NULL);
  guint n = piece->n_nodes;
  if (n == 0)
    return;
  turn_edges (piece);
  PatternNode *nodes = g_new (PatternNode, n);
  for (guint i = 0; i < n; i++)
    {
      nodes[i] = piece->nodes[(n - i) % n];
      GeoPoint in = nodes[i].in;
      nodes[i].in = nodes[i].out;
      nodes[i].out = in;
    }
  g_free (piece->nodes);
  piece->nodes = nodes;
  for (guint i = 0; i < piece->n_notches; i++)
    {
      PatternNotch *notch = &piece->notches[i];
      if (notch->from == PATTERN_FRACTION)
        notch->amount = 1 - notch->amount;
      else
        notch->from = notch->from == PATTERN_FROM_START ? PATTERN_FROM_END
                                                        : PATTERN_FROM_START;
    }
}

static void
move_nodes (PatternNode *nodes, guint n, GeoMotion motion)
{
  for (guint i = 0; i < n; i++)
    {
      /* A handle that is none must stay exactly none. */
      gboolean in = !geo_same (nodes[i].in, nodes[i].at);
      gboolean out = !geo_same (nodes[i].out, nodes[i].at);
      nodes[i].at = geo_motion_apply (motion, nodes[i].at);
      nodes[i].in = in ? geo_motion_apply (motion, nodes[i].in) : nodes[i].at;
      nodes[i].out
          = out ? geo_motion_apply (motion, nodes[i].out) : nodes[i].at;
    }
}

static double
move_angle (double angle, GeoMotion motion)
{
  if (!motion.flip && motion.s == 0 && motion.c > 0)
    return angle;
  GeoPoint way = geo_motion_turn (motion, geo_point (cos (angle), sin (angle)));
  return atan2 (way.y, way.x);
}

void
pattern_piece_move (PatternPiece *piece, GeoMotion motion)
{
  g_return_if_fail (piece != NULL);
  move_nodes (piece->nodes, piece->n_nodes, motion);
  if (motion.flip)
    pattern_piece_turn_round (piece);
  if (piece->has_grain)
    {
      piece->grain_from = geo_motion_apply (motion, piece->grain_from);
      piece->grain_to = geo_motion_apply (motion, piece->grain_to);
    }
  for (guint i = 0; i < piece->n_buttonholes; i++)
    {
      PatternButtonhole *hole = &piece->buttonholes[i];
      hole->at = geo_motion_apply (motion, hole->at);
      hole->angle = move_angle (hole->angle, motion);
    }
  for (guint i = 0; i < piece->n_drills; i++)
    piece->drills[i].at = geo_motion_apply (motion, piece->drills[i].at);
  for (guint i = 0; i < piece->n_texts; i++)
    {
      piece->texts[i].at = geo_motion_apply (motion, piece->texts[i].at);
      piece->texts[i].angle = move_angle (piece->texts[i].angle, motion);
    }
  for (guint i = 0; i < piece->n_lines; i++)
    move_nodes (piece->lines[i].nodes, piece->lines[i].n_nodes, motion);
}

/* mm off its chord: what is nearer needs no handles */
#define STRAIGHT 1e-6

PatternNode
pattern_node_of_chain (const GeoChain *chain, size_t i, gboolean closed)
{
  size_t n = chain->count;
  const GeoCubic *after = i < n ? &chain->cubics[i] : NULL;
  const GeoCubic *before = i > 0    ? &chain->cubics[i - 1]
                           : closed ? &chain->cubics[n - 1]
                                    : NULL;
  GeoPoint at = after != NULL ? after->p[0] : before->p[3];
  PatternNode node
      = { .kind = PATTERN_NODE_CORNER, .at = at, .in = at, .out = at };
  if (after != NULL && !geo_cubic_is_straight (after, STRAIGHT))
    node.out = after->p[1];
  if (before != NULL && !geo_cubic_is_straight (before, STRAIGHT))
    node.in = before->p[2];
  return node;
}
