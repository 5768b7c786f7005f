/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/shape.h"

#define SMOOTH 1e-4 /* radians */

/* Handles in one line, and not both straight sides of a corner of 0 degrees. */
static PatternNodeKind
node_kind (const GeoCubic *before, const GeoCubic *after)
{
  GeoPoint in = geo_cubic_tangent (before, 1),
           out = geo_cubic_tangent (after, 0);
  return fabs (geo_angle_between (in, out)) < SMOOTH
                 && !geo_same (before->p[2], before->p[3])
                 && !geo_same (after->p[0], after->p[1])
             ? PATTERN_NODE_SMOOTH
             : PATTERN_NODE_CORNER;
}

/* A side that is straight has no handles. */
static GeoCubic
plain (const GeoCubic *c)
{
  GeoCubic straight = *c;
  GeoPoint chord = geo_sub (c->p[3], c->p[0]);
  double length = geo_norm (chord);
  if (length > 0 && geo_cubic_is_straight (c, 1e-9))
    {
      straight.p[1] = straight.p[0];
      straight.p[2] = straight.p[3];
    }
  return straight;
}

DraftingDraftPiece *
drafting_shape_give (DraftingShape *shape, DraftingDraft *draft,
                     const char *part, const char *name)
{
  drafting_shape_settle (shape);
  g_autoptr (GArray) nodes
      = g_array_new (FALSE, TRUE, sizeof (DraftingDraftNode));
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  GeoChain outline = GEO_CHAIN_EMPTY;
  drafting_shape_outline (shape, &outline);
  size_t at = 0;
  for (guint e = 0; e < shape->n_edges; e++)
    for (size_t i = 0; i < shape->edges[e].chain.count; i++, at++)
      {
        const char *edge = shape->edges[e].part;
        char *own
            = i == 0 ? g_strdup (edge) : g_strdup_printf ("%s-%zu", edge, i);
        g_ptr_array_add (names, own);
        GeoCubic after = plain (&outline.cubics[at]);
        GeoCubic before
            = plain (&outline.cubics[(at + outline.count - 1) % outline.count]);
        DraftingDraftNode node = { own,
                                   { 0, node_kind (&before, &after), after.p[0],
                                     before.p[2], after.p[1] },
                                   i == 0 ? edge : NULL };
        g_array_append_val (nodes, node);
      }
  geo_chain_clear (&outline);
  return drafting_draft_add_piece (
      draft, part, name, (const DraftingDraftNode *)(void *)nodes->data,
      nodes->len);
}

DraftingDraftRun
drafting_shape_run (const DraftingShape *shape, const char *piece,
                    const char *edge, gboolean reversed)
{
  return (DraftingDraftRun){
    piece, edge, { 0, 0, (reversed != 0) != (shape->turned != 0) }
  };
}
