/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/draft-help.h"

#define GAP 120.0 /* mm between pieces laid out */
#define WIDE 1.5  /* how a table lies well in a window */

static GeoBox
table_bounds (const Pattern *p)
{
  GeoBox box = geo_box_empty ();
  GeoChain outline = GEO_CHAIN_EMPTY;
  for (guint i = 0; i < p->n_pieces; i++)
    {
      geo_chain_reset (&outline);
      pattern_piece_outline (p->pieces[i], &outline);
      if (outline.count > 0)
        box = geo_box_join (box, geo_chain_bounds (&outline));
    }
  geo_chain_clear (&outline);
  return box;
}

void
drafting_lay_out (const Pattern *p, DraftingShape *const *shapes, guint n)
{
  GeoBox table = table_bounds (p);
  GeoPoint at = geo_point (GAP, GAP);
  if (!geo_box_is_empty (table))
    at = geo_box_width (table) > WIDE * geo_box_height (table)
             ? geo_point (table.x0, table.y1 + GAP)
             : geo_point (table.x1 + GAP, table.y0);
  for (guint i = 0; i < n; i++)
    {
      GeoBox box = drafting_shape_bounds (shapes[i]);
      drafting_shape_move (shapes[i],
                           geo_motion_move (at.x - box.x0, at.y - box.y0));
      at.x += geo_box_width (box) + GAP;
    }
}

void
drafting_give_grain (DraftingDraftPiece *piece, const DraftingShape *shape,
                     GeoPoint along)
{
  GeoPoint u = geo_unit (along);
  GeoPoint middle = geo_box_centre (drafting_shape_bounds (shape));
  GeoChain outline = GEO_CHAIN_EMPTY;
  drafting_shape_outline (shape, &outline);
  double low = INFINITY, high = -INFINITY;
  for (size_t i = 0; i < outline.count; i++)
    {
      double d = geo_dot (geo_sub (outline.cubics[i].p[0], middle), u);
      low = fmin (low, d);
      high = fmax (high, d);
    }
  geo_chain_clear (&outline);
  if (!(high - low > 1))
    return;
  double from = low + 0.25 * (high - low), to = low + 0.75 * (high - low);
  drafting_draft_set_grain (piece, geo_along (middle, u, from),
                            geo_along (middle, u, to));
}

void
drafting_give_corner (DraftingDraftPiece *piece, const DraftingShape *shape,
                      const char *edge, const char *name, PatternEdgeKind kind,
                      double allowance, GeoCornerKind corner,
                      gboolean by_leaving)
{
  if (drafting_shape_get (shape, edge)->count == 0)
    return;
  gboolean none = kind == PATTERN_EDGE_FOLD || kind == PATTERN_EDGE_BOUND
                  || kind == PATTERN_EDGE_RAW;
  drafting_draft_set_edge (piece, edge, name, kind, none ? 0 : allowance,
                           (GeoCorner){ corner, by_leaving
                                                    ? GEO_CORNER_BY_LEAVING
                                                    : GEO_CORNER_BY_ARRIVING });
}

void
drafting_give_edge (DraftingDraftPiece *piece, const DraftingShape *shape,
                    const char *edge, const char *name, PatternEdgeKind kind,
                    double allowance)
{
  drafting_give_corner (piece, shape, edge, name, kind, allowance,
                        GEO_CORNER_EXTENDED, TRUE);
}

GeoPoint
drafting_edge_way (const DraftingShape *shape, const char *edge)
{
  const GeoChain *chain = drafting_shape_get (shape, edge);
  return geo_unit (geo_sub (geo_chain_end (chain), geo_chain_start (chain)));
}

double
drafting_cloth_thickness (const Pattern *p, PatternClothUse use)
{
  for (guint i = 0; i < p->n_cloths; i++)
    if (p->cloths[i].use == use)
      return p->cloths[i].thickness;
  return 0.5;
}

double
drafting_number_or (const DraftingValues *v, const char *key, double otherwise)
{
  return drafting_values_has (v, key) ? drafting_values_get_number (v, key)
                                      : otherwise;
}
