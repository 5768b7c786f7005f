/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verbs on edges. */
#include <glib/gi18n.h>

#include "drafting/edit-private.h"
#include "sewing/words.h"

#define SHORTEST 0.1 /* mm: an edge can't be brought to less */

Pattern *
drafting_move_edge (const Pattern *p, guint piece, guint edge, GeoPoint by,
                    GError **error)
{
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  int index = own ? drafting_find_edge (own, edge, error) : -1;
  if (index < 0)
    return NULL;
  guint first = own->edges[index].first;
  guint count = pattern_piece_edge_last (own, (guint)index) - first + 1;
  g_autofree guint *nodes = g_new (guint, count);
  for (guint i = 0; i < count; i++)
    nodes[i] = own->nodes[(first + i) % own->n_nodes].id;
  return drafting_move_nodes (p, piece, nodes, count, by, error);
}

Pattern *
drafting_set_edge_name (const Pattern *p, guint piece, guint edge,
                        const char *name, GError **error)
{
  guint index;
  PatternPiece *copy = drafting_begin_edge (p, piece, edge, &index, error);
  if (!copy)
    return NULL;
  pattern_set_string (&copy->edges[index].name, name ? name : "");
  return drafting_finish_marks (p, copy, NULL);
}

Pattern *
drafting_set_edge_kind (const Pattern *p, guint piece, guint edge,
                        PatternEdgeKind kind, GError **error)
{
  guint index;
  g_return_val_if_fail ((guint)kind <= PATTERN_EDGE_RAW, NULL);
  PatternPiece *copy = drafting_begin_edge (p, piece, edge, &index, error);
  if (!copy)
    return NULL;
  copy->edges[index].kind = kind;
  return drafting_finish_marks (p, copy, NULL);
}

Pattern *
drafting_set_allowance (const Pattern *p, guint piece, guint edge,
                        double allowance, GError **error)
{
  guint index;
  if (!drafting_number_is_good (allowance, error))
    return NULL;
  if (allowance < 0)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("An allowance can't be less than nothing. To cut "
                          "inside the stitch line, move the edge instead."));
      return NULL;
    }
  PatternPiece *copy = drafting_begin_edge (p, piece, edge, &index, error);
  if (!copy)
    return NULL;
  copy->edges[index].allowance = allowance;
  return drafting_finish_marks (p, copy, NULL);
}

Pattern *
drafting_set_clip_spacing (const Pattern *p, guint piece, guint edge,
                           double spacing, GError **error)
{
  guint index;
  if (!drafting_number_is_good (spacing, error))
    return NULL;
  if (spacing != 0 && spacing < DRAFTING_CLOSEST_CLIPS)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("Cuts nearer to each other than %g mm would cut the "
                          "allowance off. Leave it empty to have the spacing "
                          "computed."),
                       DRAFTING_CLOSEST_CLIPS);
      return NULL;
    }
  PatternPiece *copy = drafting_begin_edge (p, piece, edge, &index, error);
  if (!copy)
    return NULL;
  copy->edges[index].clip_spacing = spacing;
  return drafting_finish_marks (p, copy, NULL);
}

Pattern *
drafting_set_corner (const Pattern *p, guint piece, guint edge,
                     GeoCorner corner, GError **error)
{
  guint index;
  g_return_val_if_fail ((guint)corner.kind <= GEO_CORNER_FOLDED_BACK
                            && (guint)corner.governor <= GEO_CORNER_BY_LEAVING,
                        NULL);
  PatternPiece *copy = drafting_begin_edge (p, piece, edge, &index, error);
  if (!copy)
    return NULL;
  copy->edges[index].corner = corner;
  return drafting_finish_marks (p, copy, NULL);
}

/* Joins the edge to the one before it. */
static Pattern *
join (const Pattern *p, PatternPiece *piece, guint index, guint *heir,
      GError **error)
{
  if (piece->n_edges == 1)
    {
      g_autofree char *name = sewing_words_piece (piece);
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("This is the only edge of %s: there is none before "
                          "it to join it to."),
                       name);
      pattern_piece_unref (piece);
      return NULL;
    }
  guint id = piece->id, gone = piece->edges[index].id;
  *heir = piece->edges[(index + piece->n_edges - 1) % piece->n_edges].id;
  pattern_piece_remove_edge (piece, index);
  Pattern *result = drafting_finish (p, piece, NULL, error);
  if (result)
    drafting_runs_join (result, id, gone, *heir);
  return result;
}

Pattern *
drafting_split_edge (const Pattern *p, guint piece, guint node, guint *new_edge,
                     GError **error)
{
  guint i, next = p->next_id, id = 0;
  PatternPiece *copy = drafting_begin_node (p, piece, node, &i, error);
  if (!copy)
    return NULL;
  guint index = pattern_piece_edge_of_node (copy, i);
  Pattern *result;
  if (copy->edges[index].first == i)
    result = join (p, copy, index, &id, error);
  else
    {
      const PatternEdge *cut = &copy->edges[index];
      guint old = cut->id;
      id = next++;
      PatternEdge edge = { .id = id,
                           .name = cut->name,
                           .kind = cut->kind,
                           .allowance = cut->allowance,
                           .clip_spacing = cut->clip_spacing };
      pattern_piece_insert_edge (copy, i, edge);
      result = drafting_finish_marks (p, copy, &next);
      drafting_runs_split (result, piece, old, id);
    }
  if (result && new_edge)
    *new_edge = id;
  return result;
}

Pattern *
drafting_join_edge (const Pattern *p, guint piece, guint edge, GError **error)
{
  guint index, heir;
  PatternPiece *copy = drafting_begin_edge (p, piece, edge, &index, error);
  return copy ? join (p, copy, index, &heir, error) : NULL;
}

Pattern *
drafting_set_edge_length (const Pattern *p, guint piece, guint edge,
                          double length, gboolean at_start, GError **error)
{
  guint index;
  if (!drafting_number_is_good (length, error))
    return NULL;
  g_autoptr (PatternPiece) copy
      = drafting_begin_edge (p, piece, edge, &index, error);
  if (!copy)
    return NULL;
  if (length < SHORTEST)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("An edge can't be brought to less than 0.1 mm. To "
                          "be rid of it, take out the node at its end."));
      return NULL;
    }
  if (copy->n_edges == 1)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("This edge runs all the way round its piece and has "
                          "no end to move. Begin another edge at one of its "
                          "nodes first."));
      return NULL;
    }
  if (!pattern_piece_stretch_edge (copy, index, length, at_start))
    {
      drafting_refuse (
          error, DRAFTING_ERROR_SHAPE,
          _ ("That end of the edge has no direction to move in: its nodes lie "
             "on one point. Draw them apart first."));
      return NULL;
    }
  return drafting_finish (p, g_steal_pointer (&copy), NULL, error);
}
