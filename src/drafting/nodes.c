/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verbs on nodes and handles. */
#include <glib/gi18n.h>

#include "drafting/edit-private.h"
#include "geometry/fit.h"
#include "geometry/length.h"
#include "sewing/words.h"

/* Nearer to a node than this is at it, mm. */
#define AT_NODE 1e-4

static void
shift_node (PatternNode *node, GeoPoint by)
{
  gboolean in = !geo_same (node->in, node->at);
  gboolean out = !geo_same (node->out, node->at);
  node->at = geo_add (node->at, by);
  node->in = in ? geo_add (node->in, by) : node->at;
  node->out = out ? geo_add (node->out, by) : node->at;
}

Pattern *
drafting_move_nodes (const Pattern *p, guint piece, const guint *nodes,
                     guint n_nodes, GeoPoint by, GError **error)
{
  g_return_val_if_fail (n_nodes == 0 || nodes != NULL, NULL);
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  if (!copy || !drafting_point_is_good (by, error))
    return NULL;
  g_autofree gboolean *moves = g_new0 (gboolean, copy->n_nodes + 1);
  for (guint i = 0; i < n_nodes; i++)
    {
      int index = drafting_find_node (copy, nodes[i], error);
      if (index < 0)
        return NULL;
      moves[index] = TRUE;
    }
  for (guint i = 0; i < copy->n_nodes; i++)
    if (moves[i])
      shift_node (&copy->nodes[i], by);
  pattern_piece_keep_in_line (copy, moves);
  return drafting_finish (p, g_steal_pointer (&copy), NULL, error);
}

Pattern *
drafting_set_node (const Pattern *p, guint piece, guint node, GeoPoint to,
                   GError **error)
{
  guint index;
  if (!drafting_point_is_good (to, error))
    return NULL;
  PatternPiece *copy = drafting_begin_node (p, piece, node, &index, error);
  if (!copy)
    return NULL;
  PatternNode *own = &copy->nodes[index];
  GeoPoint by = geo_sub (to, own->at);
  shift_node (own, by);
  /* Exactly where it was asked for, which adding the difference may miss. */
  if (geo_same (own->in, own->at))
    own->in = to;
  if (geo_same (own->out, own->at))
    own->out = to;
  own->at = to;
  g_autofree gboolean *moved = g_new0 (gboolean, copy->n_nodes);
  moved[index] = TRUE;
  pattern_piece_keep_in_line (copy, moved);
  return drafting_finish (p, copy, NULL, error);
}

/* --- handles -------------------------------------------------------------------- */
void
drafting_follow_handle (PatternNode *node, DraftingHandle moved)
{
  GeoPoint *lead = moved == DRAFTING_HANDLE_IN ? &node->in : &node->out;
  GeoPoint *other = moved == DRAFTING_HANDLE_IN ? &node->out : &node->in;
  GeoPoint away = geo_sub (node->at, *lead);
  if (node->kind == PATTERN_NODE_SYMMETRIC)
    *other = geo_same (*lead, node->at) ? node->at : geo_add (node->at, away);
  else if (node->kind == PATTERN_NODE_SMOOTH && !geo_same (*other, node->at)
           && !geo_same (*lead, node->at))
    *other = geo_along (node->at, geo_unit (away),
                        geo_distance (*other, node->at));
}

Pattern *
drafting_set_handle (const Pattern *p, guint piece, guint node,
                     DraftingHandle which, GeoPoint to, GError **error)
{
  guint index;
  if (!drafting_point_is_good (to, error))
    return NULL;
  PatternPiece *copy = drafting_begin_node (p, piece, node, &index, error);
  if (!copy)
    return NULL;
  PatternNode *own = &copy->nodes[index];
  GeoPoint way;
  GeoPoint *handle = pattern_piece_handle_in_line (copy, index, &way);
  if (handle == (which == DRAFTING_HANDLE_IN ? &own->in : &own->out))
    to = geo_along (own->at, way,
                    fmax (geo_dot (geo_sub (to, own->at), way), 0));
  if (which == DRAFTING_HANDLE_IN)
    own->in = to;
  else
    own->out = to;
  drafting_follow_handle (own, which);
  return drafting_finish (p, copy, NULL, error);
}

typedef struct
{
  PatternNode *node;
  const PatternNode *before, *after; /* round the loop */
} Place;

/* Both handles turned by the same angle into one line. */
static void
line_up (PatternNode *node, double in_length, double out_length, GeoPoint to_in,
         GeoPoint to_out)
{
  GeoPoint way = geo_unit (geo_sub (geo_unit (to_out), geo_unit (to_in)));
  if (way.x == 0 && way.y == 0) /* both the same way: square to it */
    way = geo_left (geo_unit (to_out));
  node->in = geo_along (node->at, way, -in_length);
  node->out = geo_along (node->at, way, out_length);
}

static void
smooth_node (const Place *place)
{
  PatternNode *node = place->node;
  GeoPoint in = geo_sub (node->in, node->at);
  GeoPoint out = geo_sub (node->out, node->at);
  gboolean has_in = geo_norm (in) > 0, has_out = geo_norm (out) > 0;
  GeoPoint back = geo_sub (place->before->at, node->at);
  GeoPoint on = geo_sub (place->after->at, node->at);
  double in_length = has_in ? geo_norm (in) : geo_norm (back) / 3;
  double out_length = has_out ? geo_norm (out) : geo_norm (on) / 3;
  if (has_in == has_out)
    line_up (node, in_length, out_length, has_in ? in : back,
             has_out ? out : on);
  else if (has_out && pattern_nodes_are_straight (place->before, node))
    node->out = geo_along (node->at, geo_unit (back), -out_length);
  else if (has_in && pattern_nodes_are_straight (node, place->after))
    node->in = geo_along (node->at, geo_unit (on), -in_length);
  else if (has_out)
    node->in = geo_along (node->at, geo_unit (out), -in_length);
  else
    node->out = geo_along (node->at, geo_unit (in), -out_length);
}

static void
even_node (const Place *place)
{
  PatternNode *node = place->node;
  smooth_node (place);
  double in = geo_distance (node->in, node->at);
  double out = geo_distance (node->out, node->at);
  GeoPoint way = out > 0 ? geo_unit (geo_sub (node->out, node->at))
                         : geo_unit (geo_sub (node->at, node->in));
  double length = in > 0 && out > 0 ? (in + out) / 2 : fmax (in, out);
  node->in = geo_along (node->at, way, -length);
  node->out = geo_along (node->at, way, length);
}

Pattern *
drafting_set_node_kind (const Pattern *p, guint piece, guint node,
                        PatternNodeKind kind, GError **error)
{
  guint i;
  PatternPiece *copy = drafting_begin_node (p, piece, node, &i, error);
  if (!copy)
    return NULL;
  guint n = copy->n_nodes;
  Place place = { &copy->nodes[i], &copy->nodes[(i + n - 1) % n],
                  &copy->nodes[(i + 1) % n] };
  if (kind == PATTERN_NODE_SMOOTH)
    smooth_node (&place);
  else if (kind == PATTERN_NODE_SYMMETRIC)
    even_node (&place);
  copy->nodes[i].kind = kind;
  return drafting_finish (p, copy, NULL, error);
}

/* --- adding and taking out -------------------------------------------------------- */
/* A node whose one handle was altered alone is not symmetric any more. */
static void
no_longer_even (PatternNode *node)
{
  if (node->kind == PATTERN_NODE_SYMMETRIC)
    node->kind = PATTERN_NODE_SMOOTH;
}

static PatternNode
split_side (PatternNode *from, PatternNode *to, double t)
{
  PatternNode node = { .kind = PATTERN_NODE_CORNER };
  if (pattern_nodes_are_straight (from, to))
    {
      node.at = node.in = node.out = geo_lerp (from->at, to->at, t);
      return node;
    }
  GeoCubic c = { { from->at, from->out, to->in, to->at } }, a, b;
  geo_cubic_split (&c, t, &a, &b);
  node.kind = PATTERN_NODE_SMOOTH;
  node.at = a.p[3];
  node.in = a.p[2];
  node.out = b.p[1];
  if (!geo_same (from->out, from->at))
    from->out = a.p[1];
  if (!geo_same (to->in, to->at))
    to->in = b.p[2];
  no_longer_even (from);
  no_longer_even (to);
  return node;
}

/* Where on the edge; FALSE with the error set where there is no room. */
static gboolean
place_for_node (const PatternPiece *piece, guint edge, double at,
                GeoPlace *place, GError **error)
{
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_edge_chain (piece, edge, &chain);
  GeoRuler ruler;
  geo_ruler_init (&ruler, &chain, DRAFTING_EXACT);
  gboolean off = at < 0 || at > geo_ruler_length (&ruler);
  *place = geo_ruler_place (&ruler, at);
  gboolean taken = at - ruler.before[place->cubic] < AT_NODE
                   || ruler.before[place->cubic + 1] - at < AT_NODE;
  geo_ruler_clear (&ruler);
  geo_chain_clear (&chain);
  if (off)
    return drafting_refuse (
        error, DRAFTING_ERROR_AMOUNT,
        _ ("That place is beyond the edge's end. Nothing was changed."));
  if (taken)
    return drafting_refuse (
        error, DRAFTING_ERROR_SHAPE,
        _ ("There is a node at that place already. Nothing was changed."));
  return TRUE;
}

Pattern *
drafting_add_node (const Pattern *p, guint piece, guint edge, double at,
                   guint *new_node, GError **error)
{
  guint index, next = p->next_id;
  GeoPlace place;
  if (!drafting_number_is_good (at, error))
    return NULL;
  g_autoptr (PatternPiece) copy
      = drafting_begin_edge (p, piece, edge, &index, error);
  if (!copy || !place_for_node (copy, index, at, &place, error))
    return NULL;
  guint from = copy->edges[index].first + (guint)place.cubic;
  PatternNode node = split_side (
      &copy->nodes[from], &copy->nodes[(from + 1) % copy->n_nodes], place.t);
  node.id = next++;
  pattern_piece_insert_node (copy, from + 1, node);
  if (new_node)
    *new_node = node.id;
  return drafting_finish (p, g_steal_pointer (&copy), &next, error);
}

/* The two sides at the node become one. */
static void
merge_sides (PatternPiece *piece, guint i)
{
  guint n = piece->n_nodes;
  PatternNode *before = &piece->nodes[(i + n - 1) % n];
  PatternNode *after = &piece->nodes[(i + 1) % n];
  if (pattern_nodes_are_straight (before, &piece->nodes[i])
      && pattern_nodes_are_straight (&piece->nodes[i], after))
    return;
  GeoChain chain;
  geo_chain_init (&chain);
  geo_chain_append (&chain, pattern_piece_cubic (piece, (i + n - 1) % n));
  geo_chain_append (&chain, pattern_piece_cubic (piece, i));
  GeoCubic c;
  geo_chain_fit_single (&chain, &c);
  geo_chain_clear (&chain);
  before->out = c.p[1];
  after->in = c.p[2];
  no_longer_even (before);
  no_longer_even (after);
}

Pattern *
drafting_remove_node (const Pattern *p, guint piece, guint node, GError **error)
{
  guint i;
  g_autoptr (PatternPiece) copy
      = drafting_begin_node (p, piece, node, &i, error);
  if (!copy)
    return NULL;
  guint edge = pattern_piece_edge_of_node (copy, i);
  gboolean starts = copy->edges[edge].first == i;
  if (copy->n_nodes <= 2 || (starts && copy->n_edges == 1))
    {
      g_autofree char *name = sewing_words_piece (copy);
      drafting_refuse (
          error, DRAFTING_ERROR_SHAPE,
          copy->n_nodes <= 2
              ? _ ("The outline of %s has only two nodes and can't do without "
                   "either. To be rid of the piece, delete the whole piece.")
              : _ ("The only edge of %s begins and ends at this node. Begin "
                   "an edge at another node first, then take this one out."),
          name);
      return NULL;
    }
  guint gone = copy->edges[edge].id;
  guint heir = copy->edges[(edge + copy->n_edges - 1) % copy->n_edges].id;
  merge_sides (copy, i);
  pattern_piece_remove_node (copy, i);
  Pattern *result = drafting_finish (p, g_steal_pointer (&copy), NULL, error);
  if (result && starts)
    drafting_runs_join (result, piece, gone, heir);
  return result;
}
