/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/draw-to.h"

#include <glib/gi18n.h>

#include "drafting/true-private.h"
#include "geometry/apart.h"

#define TOLERANCE 0.15 /* mm */

/* A node with its handles; what is beside it follows. */
static void
move_node (PatternNode *node, GeoPoint to)
{
  GeoPoint by = geo_sub (to, node->at);
  node->at = to;
  node->in = geo_add (node->in, by);
  node->out = geo_add (node->out, by);
}

static Pattern *
lay (const Pattern *p, PatternPiece *copy, guint index, const GeoChain *drawn,
     GError **error)
{
  guint next = p->next_id;
  guint after = index + 1 < copy->n_edges ? copy->edges[index + 1].first : 0;
  move_node (&copy->nodes[copy->edges[index].first], geo_chain_start (drawn));
  if (copy->n_edges > 1)
    move_node (&copy->nodes[after], geo_chain_end (drawn));
  drafting_put_edge_chain (copy, index, drawn, &next);
  return drafting_finish (p, copy, &next, error);
}

Pattern *
drafting_draw_to_picture (const Pattern *p, guint piece, guint edge,
                          TracingPicture *picture, const TracingPlane *plane,
                          double reach, DraftingDrawn *told, GError **error)
{
  g_return_val_if_fail (p != NULL && picture != NULL && plane != NULL, NULL);
  guint index;
  DraftingDrawn drawn = { 0 };
  g_autoptr (PatternPiece) copy
      = drafting_begin_edge (p, piece, edge, &index, error);
  if (copy == NULL)
    return NULL;
  GeoChain own = GEO_CHAIN_EMPTY, found = GEO_CHAIN_EMPTY;
  Pattern *result = NULL;
  pattern_piece_edge_chain (copy, index, &own);
  /* The middle of a stroke is meant before its sides, which are borders too. */
  gboolean seen
      = tracing_snap_chain (picture, plane, &own, TRACING_TO_LINE, reach,
                            TOLERANCE, &found, &drawn.seen, &drawn.off)
        || tracing_snap_chain (picture, plane, &own, TRACING_TO_EDGE, reach,
                               TOLERANCE, &found, &drawn.seen, &drawn.off);
  if (!seen)
    drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                     _ ("The picture shows no line within %.1f mm along most "
                        "of the edge (%.0f %% of it). Nothing was changed. "
                        "Move the edge nearer to the line first."),
                     reach, 100 * drawn.seen);
  else
    {
      /* All round: its end is its start. */
      if (geo_chain_is_closed (&own))
        found.cubics[found.count - 1].p[3] = geo_chain_start (&found);
      drawn.moved = geo_chain_apart (&own, &found);
      result = lay (p, g_steal_pointer (&copy), index, &found, error);
    }
  geo_chain_clear (&own);
  geo_chain_clear (&found);
  if (result != NULL && !drafting_outline_is_good (p, result, piece, error))
    g_clear_pointer (&result, pattern_unref);
  if (result != NULL && told != NULL)
    *told = drawn;
  return result;
}
