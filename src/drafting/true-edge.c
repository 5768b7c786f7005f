/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Putting changed curves back into the edges of pieces. */
#include <glib/gi18n.h>

#include "drafting/true-private.h"
#include "geometry/crossing.h"
#include "geometry/length.h"
#include "sewing/words.h"

#define SAME_PLACE 1e-7 /* mm: a node that is where one was */
#define STRAIGHT 1e-9   /* mm: no handles needed */
#define ONE_LINE 1e-6   /* radians: handles are in one line */
#define ONE_LENGTH 1e-9 /* mm: handles are of one length */

static gboolean
has_handle (GeoPoint handle, const PatternNode *node)
{
  return !geo_same (handle, node->at);
}

/* The kind the node may keep with the handles it has now. */
static PatternNodeKind
kind_of (const PatternNode *node, PatternNodeKind wish)
{
  GeoPoint in = geo_sub (node->at, node->in);
  GeoPoint out = geo_sub (node->out, node->at);
  if (!has_handle (node->in, node) || !has_handle (node->out, node))
    return wish == PATTERN_NODE_SMOOTH ? wish : PATTERN_NODE_CORNER;
  if (fabs (geo_angle_between (in, out)) > ONE_LINE)
    return PATTERN_NODE_CORNER;
  if (wish == PATTERN_NODE_SYMMETRIC
      && fabs (geo_norm (in) - geo_norm (out)) > ONE_LENGTH)
    return PATTERN_NODE_SMOOTH;
  return wish;
}

static void
lay_cubic (PatternNode *from, PatternNode *to, const GeoCubic *c)
{
  gboolean straight = geo_cubic_is_straight (c, STRAIGHT);
  from->out = straight ? from->at : c->p[1];
  to->in = straight ? to->at : c->p[2];
}

/* Nodes that were inside the edge. */
static GArray *
take_inner (PatternPiece *piece, guint edge)
{
  GArray *old = g_array_new (FALSE, FALSE, sizeof (PatternNode));
  guint first = piece->edges[edge].first;
  guint count = pattern_piece_edge_last (piece, edge) - first - 1;
  for (guint i = 0; i < count; i++)
    {
      g_array_append_val (old, piece->nodes[first + 1]);
      pattern_piece_remove_node (piece, first + 1);
    }
  return old;
}

/* A node there, as it was called before where one was there. */
static PatternNode
node_at (const GArray *old, GeoPoint at, guint *next)
{
  PatternNode node
      = { .kind = PATTERN_NODE_SMOOTH, .at = at, .in = at, .out = at };
  for (guint i = 0; i < old->len; i++)
    {
      const PatternNode *was = &g_array_index (old, PatternNode, i);
      if (geo_distance (was->at, at) > SAME_PLACE)
        continue;
      node.id = was->id;
      node.kind = was->kind;
      return node;
    }
  node.id = (*next)++;
  return node;
}

void
drafting_put_edge_chain (PatternPiece *piece, guint edge, const GeoChain *chain,
                         guint *next)
{
  g_return_if_fail (piece != NULL && chain != NULL && chain->count > 0);
  g_autoptr (GArray) old = take_inner (piece, edge);
  guint first = piece->edges[edge].first;
  for (size_t i = 1; i < chain->count; i++)
    pattern_piece_insert_node (piece, first + (guint)i,
                               node_at (old, chain->cubics[i].p[0], next));
  guint last = first + (guint)chain->count;
  for (guint i = first; i < last; i++)
    lay_cubic (&piece->nodes[i], &piece->nodes[(i + 1) % piece->n_nodes],
               &chain->cubics[i - first]);
  for (guint i = first; i <= last; i++)
    {
      PatternNode *node = &piece->nodes[i % piece->n_nodes];
      gboolean inner = i > first && i < last;
      gboolean smooth
          = has_handle (node->in, node) || has_handle (node->out, node);
      if (inner && !smooth)
        node->kind = PATTERN_NODE_CORNER;
      node->kind = kind_of (node, node->kind);
    }
}

void
drafting_cut_chain (const GeoChain *edge, double reach, gboolean at_end,
                    GeoChain *part, GeoChain *rest)
{
  GeoPlace start = { 0, 0 }, end = { edge->count - 1, 1 };
  double length = geo_chain_length (edge, DRAFTING_EXACT);
  double at = at_end ? length - reach : reach;
  GeoPlace cut = geo_chain_at_length (edge, at, DRAFTING_EXACT);
  /* A cut a hair from a node would leave a cubic of no length. */
  double from
      = geo_chain_length_to (edge, (GeoPlace){ cut.cubic, 0 }, DRAFTING_EXACT);
  double to
      = geo_chain_length_to (edge, (GeoPlace){ cut.cubic, 1 }, DRAFTING_EXACT);
  if (at - from < SAME_PLACE)
    cut.t = 0;
  else if (to - at < SAME_PLACE)
    cut.t = 1;
  GeoChain *before = at_end ? rest : part, *after = at_end ? part : rest;
  if (before && geo_place_compare (start, cut) < 0)
    geo_chain_slice (edge, start, cut, before);
  if (after && geo_place_compare (cut, end) < 0)
    geo_chain_slice (edge, cut, end, after);
}

static gboolean
crosses (const Pattern *p, guint piece)
{
  const PatternPiece *own = pattern_get_piece (p, piece);
  GeoChain outline = GEO_CHAIN_EMPTY;
  pattern_piece_outline (own, &outline);
  gboolean any = geo_chain_crosses_itself (&outline);
  geo_chain_clear (&outline);
  return any;
}

gboolean
drafting_outline_is_good (const Pattern *before, const Pattern *after,
                          guint piece, GError **error)
{
  if (!crosses (after, piece) || crosses (before, piece))
    return TRUE;
  g_autofree char *name = sewing_words_piece (pattern_get_piece (after, piece));
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("The outline of %s would cross itself. Nothing "
                             "was changed."),
                          name);
}
