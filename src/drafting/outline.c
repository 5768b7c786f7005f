/* SPDX-License-Identifier: GPL-3.0-or-later */
/* New pieces and lines out of curves and drawn nodes. */
#include <glib/gi18n.h>

#include "drafting/edit-private.h"

#define ON_ONE_POINT 1e-6    /* mm: nodes this near are one */
#define STRAIGHT_WITHIN 1e-7 /* mm: no handles needed */
/* A turn below this at a node counts as smooth, radians (0.5 degrees). */
#define SMOOTH_TURN 0.00873

/* --- nodes from a chain ------------------------------------------------------- */
/* The node at the end of `nodes` is left along c, and the next one appended. */
static void
add_side (GArray *nodes, const GeoCubic *c)
{
  PatternNode *from = &g_array_index (nodes, PatternNode, nodes->len - 1);
  PatternNode to = {
    .kind = PATTERN_NODE_CORNER, .at = c->p[3], .in = c->p[3], .out = c->p[3]
  };
  if (geo_cubic_is_straight (c, STRAIGHT_WITHIN))
    from->out = from->at;
  else
    {
      from->out = c->p[1];
      to.in = c->p[2];
    }
  g_array_append_val (nodes, to);
}

static GArray *
nodes_of (const GeoChain *chain)
{
  GArray *nodes = g_array_new (FALSE, FALSE, sizeof (PatternNode));
  if (chain->count == 0)
    return nodes;
  GeoPoint start = geo_chain_start (chain);
  PatternNode first
      = { .kind = PATTERN_NODE_CORNER, .at = start, .in = start, .out = start };
  g_array_append_val (nodes, first);
  for (size_t i = 0; i < chain->count; i++)
    if (!geo_cubic_is_point (&chain->cubics[i], ON_ONE_POINT))
      add_side (nodes, &chain->cubics[i]);
  return nodes;
}

/* Makes the open run a loop: the last node is the first one where they meet. */
static void
close_loop (GArray *nodes)
{
  if (nodes->len < 2)
    return;
  PatternNode *first = &g_array_index (nodes, PatternNode, 0);
  PatternNode *last = &g_array_index (nodes, PatternNode, nodes->len - 1);
  if (geo_distance (first->at, last->at) > ON_ONE_POINT)
    return;
  gboolean in = !geo_same (last->in, last->at);
  first->in = in ? last->in : first->at;
  g_array_set_size (nodes, nodes->len - 1);
}

/* --- corners -------------------------------------------------------------------- */
static double
turn_at (const GArray *nodes, guint i)
{
  guint n = nodes->len;
  const PatternNode *node = &g_array_index (nodes, PatternNode, i);
  const PatternNode *before
      = &g_array_index (nodes, PatternNode, (i + n - 1) % n);
  const PatternNode *after = &g_array_index (nodes, PatternNode, (i + 1) % n);
  GeoCubic in = { { before->at, before->out, node->in, node->at } };
  GeoCubic out = { { node->at, node->out, after->in, after->at } };
  return fabs (geo_angle_between (geo_cubic_tangent (&in, 1),
                                  geo_cubic_tangent (&out, 0)));
}

static gboolean *
find_corners (GArray *nodes, double corner_angle)
{
  gboolean *corners = g_new0 (gboolean, nodes->len);
  for (guint i = 0; i < nodes->len; i++)
    {
      PatternNode *node = &g_array_index (nodes, PatternNode, i);
      double turn = turn_at (nodes, i);
      gboolean handles
          = !geo_same (node->in, node->at) && !geo_same (node->out, node->at);
      corners[i] = turn > corner_angle;
      node->kind = handles && turn < SMOOTH_TURN ? PATTERN_NODE_SMOOTH
                                                 : PATTERN_NODE_CORNER;
    }
  return corners;
}

/* The loop begun at the first corner, so that no edge runs past its start. */
static void
begin_at_corner (GArray *nodes, gboolean *corners)
{
  guint n = nodes->len, shift = 0;
  while (shift < n && !corners[shift])
    shift++;
  if (shift == 0 || shift == n)
    return;
  g_autofree PatternNode *old = g_memdup2 (nodes->data, n * sizeof *old);
  g_autofree gboolean *flags = g_memdup2 (corners, n * sizeof *flags);
  for (guint i = 0; i < n; i++)
    {
      g_array_index (nodes, PatternNode, i) = old[(i + shift) % n];
      corners[i] = flags[(i + shift) % n];
    }
}

/* --- verbs ---------------------------------------------------------------------- */
static Pattern *
add_outline (const Pattern *p, const char *name, GArray *nodes,
             gboolean *corners, double allowance, guint *new_piece,
             GError **error)
{
  begin_at_corner (nodes, corners);
  guint next = p->next_id;
  PatternPiece *piece = pattern_piece_new (next++, name);
  pattern_piece_set_outline (piece, (const PatternNode *)(gpointer)nodes->data,
                             nodes->len, corners, &next);
  for (guint i = 0; i < piece->n_edges; i++)
    piece->edges[i].allowance = allowance;
  guint id = piece->id;
  Pattern *result = drafting_finish (p, piece, &next, error);
  if (result && new_piece)
    *new_piece = id;
  return result;
}

static gboolean
can_be_outline (guint n_nodes, double allowance, GError **error)
{
  if (!drafting_number_is_good (allowance, error))
    return FALSE;
  if (allowance < 0)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("An allowance can't be less than nothing."));
  if (n_nodes < 2)
    return drafting_refuse (
        error, DRAFTING_ERROR_SHAPE,
        _ ("An outline needs at least two nodes. Nothing was added."));
  return TRUE;
}

Pattern *
drafting_add_piece (const Pattern *p, const char *name, const GeoChain *outline,
                    double corner_angle, double allowance, guint *new_piece,
                    GError **error)
{
  g_return_val_if_fail (p != NULL && outline != NULL, NULL);
  g_autoptr (GArray) nodes = nodes_of (outline);
  close_loop (nodes);
  if (!can_be_outline (nodes->len, allowance, error))
    return NULL;
  g_autofree gboolean *corners = find_corners (nodes, corner_angle);
  return add_outline (p, name, nodes, corners, allowance, new_piece, error);
}

Pattern *
drafting_add_piece_nodes (const Pattern *p, const char *name,
                          const PatternNode *nodes, guint n_nodes,
                          double allowance, guint *new_piece, GError **error)
{
  g_return_val_if_fail (p != NULL && (n_nodes == 0 || nodes != NULL), NULL);
  if (!can_be_outline (n_nodes, allowance, error))
    return NULL;
  g_autoptr (GArray) own = g_array_new (FALSE, FALSE, sizeof (PatternNode));
  g_array_append_vals (own, nodes, n_nodes);
  g_autofree gboolean *corners = g_new0 (gboolean, n_nodes);
  for (guint i = 0; i < n_nodes; i++)
    corners[i] = nodes[i].kind == PATTERN_NODE_CORNER;
  return add_outline (p, name, own, corners, allowance, new_piece, error);
}

Pattern *
drafting_add_line (const Pattern *p, const char *name, const GeoChain *line,
                   GError **error)
{
  g_return_val_if_fail (p != NULL && line != NULL, NULL);
  g_autoptr (GArray) nodes = nodes_of (line);
  if (nodes->len < 2)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("A line needs two places to run between. Nothing "
                          "was added."));
      return NULL;
    }
  for (guint i = 0; i < nodes->len; i++)
    {
      PatternNode *node = &g_array_index (nodes, PatternNode, i);
      if (!drafting_point_is_good (node->at, error)
          || !drafting_point_is_good (node->in, error)
          || !drafting_point_is_good (node->out, error))
        return NULL;
    }
  Pattern *result = pattern_dup (p);
  pattern_add_line (result, name, (const PatternNode *)(gpointer)nodes->data,
                    nodes->len);
  return result;
}
