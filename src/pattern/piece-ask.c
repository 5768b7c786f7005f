/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be asked of a piece without changing it. */
#include <string.h>

#include "geometry/region.h"
#include "pattern/parts.h"

int
pattern_piece_find_edge (const PatternPiece *piece, guint id)
{
  g_return_val_if_fail (piece != NULL, -1);
  for (guint i = 0; i < piece->n_edges; i++)
    if (piece->edges[i].id == id)
      return (int)i;
  return -1;
}

int
pattern_piece_find_node (const PatternPiece *piece, guint id)
{
  g_return_val_if_fail (piece != NULL, -1);
  for (guint i = 0; i < piece->n_nodes; i++)
    if (piece->nodes[i].id == id)
      return (int)i;
  return -1;
}

guint
pattern_piece_edge_last (const PatternPiece *piece, guint edge_index)
{
  g_return_val_if_fail (piece != NULL && edge_index < piece->n_edges, 0);
  return edge_index + 1 < piece->n_edges
             ? piece->edges[edge_index + 1].first
             : piece->n_nodes + piece->edges[0].first;
}

guint
pattern_piece_edge_of_node (const PatternPiece *piece, guint node_index)
{
  g_return_val_if_fail (piece != NULL && node_index < piece->n_nodes, 0);
  guint edge = 0;
  while (edge + 1 < piece->n_edges
         && piece->edges[edge + 1].first <= node_index)
    edge++;
  return edge;
}

GeoCubic
pattern_side_cubic (const PatternNode *from, const PatternNode *to)
{
  if (geo_same (from->out, from->at) && geo_same (to->in, to->at))
    return geo_cubic_line (from->at, to->at);
  return (GeoCubic){ { from->at, from->out, to->in, to->at } };
}

GeoCubic
pattern_piece_cubic (const PatternPiece *piece, guint node_index)
{
  g_return_val_if_fail (piece != NULL && node_index < piece->n_nodes,
                        ((GeoCubic){ 0 }));
  guint next = (node_index + 1) % piece->n_nodes;
  return pattern_side_cubic (&piece->nodes[node_index], &piece->nodes[next]);
}

void
pattern_piece_edge_chain (const PatternPiece *piece, guint edge_index,
                          GeoChain *chain)
{
  g_return_if_fail (piece != NULL && edge_index < piece->n_edges);
  guint last = pattern_piece_edge_last (piece, edge_index);
  for (guint i = piece->edges[edge_index].first; i < last; i++)
    geo_chain_append (chain, pattern_piece_cubic (piece, i % piece->n_nodes));
}

void
pattern_piece_outline (const PatternPiece *piece, GeoChain *chain)
{
  g_return_if_fail (piece != NULL);
  for (guint i = 0; i < piece->n_nodes; i++)
    geo_chain_append (chain, pattern_piece_cubic (piece, i));
}

double
pattern_piece_area (const PatternPiece *piece)
{
  g_return_val_if_fail (piece != NULL, 0);
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_outline (piece, &chain);
  double area = chain.count > 0 ? geo_chain_area (&chain) : 0;
  geo_chain_clear (&chain);
  return area;
}

void
pattern_line_chain (const PatternLine *line, GeoChain *chain)
{
  g_return_if_fail (line != NULL);
  for (guint i = 0; i + 1 < line->n_nodes; i++)
    geo_chain_append (
        chain, pattern_side_cubic (&line->nodes[i], &line->nodes[i + 1]));
}

double
pattern_edge_width (const PatternEdge *edge)
{
  g_return_val_if_fail (edge != NULL, 0);
  switch (edge->kind)
    {
    case PATTERN_EDGE_SEAM:
    case PATTERN_EDGE_HEM:
      return edge->allowance;
    case PATTERN_EDGE_FOLD:
    case PATTERN_EDGE_BOUND:
    case PATTERN_EDGE_RAW:
      break;
    }
  return 0;
}

gboolean
pattern_piece_on_fold (const PatternPiece *piece)
{
  g_return_val_if_fail (piece != NULL, FALSE);
  for (guint i = 0; i < piece->n_edges; i++)
    if (piece->edges[i].kind == PATTERN_EDGE_FOLD)
      return TRUE;
  return FALSE;
}

const PatternNotch *
pattern_piece_get_notch (const PatternPiece *piece, guint id)
{
  g_return_val_if_fail (piece != NULL, NULL);
  for (guint i = 0; i < piece->n_notches; i++)
    if (piece->notches[i].id == id)
      return &piece->notches[i];
  return NULL;
}

gboolean
pattern_piece_has_mark (const PatternPiece *piece, guint id)
{
  if (pattern_piece_get_notch (piece, id) != NULL)
    return TRUE;
  for (guint i = 0; i < piece->n_buttonholes; i++)
    if (piece->buttonholes[i].id == id)
      return TRUE;
  for (guint i = 0; i < piece->n_drills; i++)
    if (piece->drills[i].id == id)
      return TRUE;
  for (guint i = 0; i < piece->n_texts; i++)
    if (piece->texts[i].id == id)
      return TRUE;
  for (guint i = 0; i < piece->n_lines; i++)
    if (piece->lines[i].id == id)
      return TRUE;
  return FALSE;
}

double
pattern_notch_place (const PatternNotch *notch, double edge_length)
{
  g_return_val_if_fail (notch != NULL, 0);
  double place = notch->amount;
  if (notch->from == PATTERN_FROM_END)
    place = edge_length - notch->amount;
  else if (notch->from == PATTERN_FRACTION)
    place = edge_length * notch->amount;
  return CLAMP (place, 0, edge_length);
}

const char *
pattern_edge_kind_word (PatternEdgeKind kind)
{
  switch (kind)
    {
    case PATTERN_EDGE_SEAM:
      return "seam";
    case PATTERN_EDGE_HEM:
      return "hem";
    case PATTERN_EDGE_FOLD:
      return "fold";
    case PATTERN_EDGE_BOUND:
      return "bound";
    case PATTERN_EDGE_RAW:
      return "raw";
    }
  g_return_val_if_reached ("seam");
}

/* --- sameness ----------------------------------------------------------------- */
gboolean
pattern_point_equal (GeoPoint a, GeoPoint b)
{
  return a.x == b.x && a.y == b.y;
}

gboolean
pattern_nodes_equal (const PatternNode *a, guint n_a, const PatternNode *b,
                     guint n_b)
{
  if (n_a != n_b)
    return FALSE;
  for (guint i = 0; i < n_a; i++)
    if (a[i].id != b[i].id || a[i].kind != b[i].kind
        || !pattern_point_equal (a[i].at, b[i].at)
        || !pattern_point_equal (a[i].in, b[i].in)
        || !pattern_point_equal (a[i].out, b[i].out))
      return FALSE;
  return TRUE;
}

gboolean
pattern_line_equal (const PatternLine *a, const PatternLine *b)
{
  return a->id == b->id && g_strcmp0 (a->name, b->name) == 0
         && pattern_nodes_equal (a->nodes, a->n_nodes, b->nodes, b->n_nodes);
}

static gboolean
edges_equal (const PatternPiece *a, const PatternPiece *b)
{
  if (a->n_edges != b->n_edges)
    return FALSE;
  for (guint i = 0; i < a->n_edges; i++)
    {
      const PatternEdge *p = &a->edges[i], *q = &b->edges[i];
      if (p->id != q->id || p->kind != q->kind || p->first != q->first
          || p->allowance != q->allowance || p->clip_spacing != q->clip_spacing
          || p->corner.kind != q->corner.kind
          || p->corner.governor != q->corner.governor
          || g_strcmp0 (p->name, q->name) != 0
          || g_strcmp0 (p->extra, q->extra) != 0)
        return FALSE;
    }
  return TRUE;
}

static gboolean
notches_and_cuts_equal (const PatternPiece *a, const PatternPiece *b)
{
  if (a->n_notches != b->n_notches || a->n_cuts != b->n_cuts)
    return FALSE;
  for (guint i = 0; i < a->n_notches; i++)
    {
      const PatternNotch *p = &a->notches[i], *q = &b->notches[i];
      if (p->id != q->id || p->edge != q->edge || p->count != q->count
          || p->from != q->from || p->amount != q->amount)
        return FALSE;
    }
  for (guint i = 0; i < a->n_cuts; i++)
    if (a->cuts[i].cloth != b->cuts[i].cloth
        || a->cuts[i].count != b->cuts[i].count
        || !a->cuts[i].mirrored != !b->cuts[i].mirrored)
      return FALSE;
  return TRUE;
}

static gboolean
marks_equal (const PatternPiece *a, const PatternPiece *b)
{
  if (a->n_buttonholes != b->n_buttonholes || a->n_drills != b->n_drills
      || a->n_texts != b->n_texts || a->n_lines != b->n_lines)
    return FALSE;
  for (guint i = 0; i < a->n_buttonholes; i++)
    {
      const PatternButtonhole *p = &a->buttonholes[i], *q = &b->buttonholes[i];
      if (p->id != q->id || !pattern_point_equal (p->at, q->at)
          || p->angle != q->angle || p->length != q->length)
        return FALSE;
    }
  for (guint i = 0; i < a->n_drills; i++)
    if (a->drills[i].id != b->drills[i].id
        || !pattern_point_equal (a->drills[i].at, b->drills[i].at))
      return FALSE;
  for (guint i = 0; i < a->n_texts; i++)
    {
      const PatternText *p = &a->texts[i], *q = &b->texts[i];
      if (p->id != q->id || !pattern_point_equal (p->at, q->at)
          || p->angle != q->angle || p->size != q->size
          || g_strcmp0 (p->text, q->text) != 0)
        return FALSE;
    }
  for (guint i = 0; i < a->n_lines; i++)
    if (!pattern_line_equal (&a->lines[i], &b->lines[i]))
      return FALSE;
  return TRUE;
}

static gboolean
grain_equal (const PatternPiece *a, const PatternPiece *b)
{
  if (!a->has_grain != !b->has_grain)
    return FALSE;
  return !a->has_grain
         || (pattern_point_equal (a->grain_from, b->grain_from)
             && pattern_point_equal (a->grain_to, b->grain_to)
             && !a->grain_both_ways == !b->grain_both_ways);
}

gboolean
pattern_piece_equal (const PatternPiece *a, const PatternPiece *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);
  return a == b
         || (a->id == b->id && g_strcmp0 (a->name, b->name) == 0
             && g_strcmp0 (a->note, b->note) == 0
             && g_strcmp0 (a->extra, b->extra) == 0
             && pattern_nodes_equal (a->nodes, a->n_nodes, b->nodes, b->n_nodes)
             && edges_equal (a, b) && notches_and_cuts_equal (a, b)
             && marks_equal (a, b) && grain_equal (a, b));
}
