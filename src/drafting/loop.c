/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An outline put together from runs of others. */
#include "drafting/change-private.h"

void
drafting_loop_init (DraftingLoop *loop)
{
  loop->nodes = g_array_new (FALSE, FALSE, sizeof (PatternNode));
  loop->edges = g_array_new (FALSE, FALSE, sizeof (PatternEdge));
}

void
drafting_loop_clear (DraftingLoop *loop)
{
  g_clear_pointer (&loop->nodes, g_array_unref);
  g_clear_pointer (&loop->edges, g_array_unref);
}

void
drafting_loop_add (DraftingLoop *loop, const PatternNode *node,
                   const PatternEdge *edge)
{
  if (edge)
    {
      PatternEdge own = *edge;
      own.first = loop->nodes->len;
      g_array_append_val (loop->edges, own);
    }
  g_array_append_vals (loop->nodes, node, 1);
}

void
drafting_loop_add_run (DraftingLoop *loop, const PatternPiece *piece,
                       guint first, guint last)
{
  for (guint i = first;; i = (i + 1) % piece->n_nodes)
    {
      guint edge = pattern_piece_edge_of_node (piece, i);
      gboolean starts = piece->edges[edge].first == i && i != last;
      drafting_loop_add (loop, &piece->nodes[i],
                         starts ? &piece->edges[edge] : NULL);
      if (i == last)
        return;
    }
}

void
drafting_loop_add_chain (DraftingLoop *loop, const GeoChain *chain,
                         Pattern *numbers, GeoPoint *arrive)
{
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      gboolean straight = geo_cubic_is_straight (c, 1e-9);
      PatternNode *last
          = &g_array_index (loop->nodes, PatternNode, loop->nodes->len - 1);
      last->out = straight ? last->at : c->p[1];
      GeoPoint in = straight ? c->p[3] : c->p[2];
      if (i + 1 == chain->count)
        {
          *arrive = in;
          return;
        }
      PatternNode node = { .id = pattern_take_id (numbers),
                           .kind = PATTERN_NODE_CORNER,
                           .at = c->p[3],
                           .in = in,
                           .out = c->p[3] };
      drafting_loop_add (loop, &node, NULL);
    }
}

/* The piece's own strings are freed last: the loop may borrow them. */
void
drafting_loop_close (const DraftingLoop *loop, PatternPiece *piece)
{
  guint n = loop->nodes->len, m = loop->edges->len;
  g_return_if_fail (n > 0 && m > 0);
  const PatternNode *nodes = (const PatternNode *)(gpointer)loop->nodes->data;
  const PatternEdge *edges = (const PatternEdge *)(gpointer)loop->edges->data;
  guint shift = edges[0].first;
  PatternNode *own_nodes = g_new (PatternNode, n);
  PatternEdge *own_edges = g_new (PatternEdge, m);
  for (guint i = 0; i < n; i++)
    own_nodes[i] = nodes[(i + shift) % n];
  for (guint i = 0; i < m; i++)
    {
      own_edges[i] = edges[i];
      own_edges[i].first = edges[i].first - shift;
      own_edges[i].name = g_strdup (edges[i].name);
      own_edges[i].extra = g_strdup (edges[i].extra);
    }
  for (guint i = 0; i < piece->n_edges; i++)
    {
      g_free (piece->edges[i].name);
      g_free (piece->edges[i].extra);
    }
  g_free (piece->edges);
  g_free (piece->nodes);
  piece->nodes = own_nodes;
  piece->n_nodes = n;
  piece->edges = own_edges;
  piece->n_edges = m;
}
