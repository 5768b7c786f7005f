/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/draft-help.h"

#include <math.h>

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

#define GRAIN_STEPS 24  /* a cubic is taken as so many straight lines */
#define GRAIN_PLACES 16 /* tried across the piece */

static int
compare_numbers (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
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

/* Where a straight line along u, so far across, leaves and enters the outline, ascending. */
static GArray *
crossings_across (const GeoChain *outline, GeoPoint u, double across)
{
  GArray *at = g_array_new (FALSE, FALSE, sizeof (double));
  GeoPoint v = geo_point (-u.y, u.x);
  for (size_t i = 0; i < outline->count; i++)
    {
      GeoPoint a = outline->cubics[i].p[0];
      for (int k = 1; k <= GRAIN_STEPS; k++)
        {
          GeoPoint b
              = geo_cubic_point (&outline->cubics[i], (double)k / GRAIN_STEPS);
          double p = geo_dot (a, v) - across, q = geo_dot (b, v) - across;
          if ((p > 0) != (q > 0))
            {
              double along = geo_dot (a, u)
                             + (geo_dot (b, u) - geo_dot (a, u)) * p / (p - q);
              g_array_append_val (at, along);
            }
          a = b;
        }
    }
  g_array_sort (at, compare_numbers);
  return at;
}

/* Where the piece is longest along the grain, and not at its very side; a quarter of that
 * is left free at either end. */
void
drafting_give_grain (DraftingDraftPiece *piece, const DraftingShape *shape,
                     GeoPoint along)
{
  GeoPoint u = geo_unit (along), v = geo_point (-u.y, u.x);
  GeoChain outline = GEO_CHAIN_EMPTY;
  drafting_shape_outline (shape, &outline);
  double low = INFINITY, high = -INFINITY;
  for (size_t i = 0; i < outline.count; i++)
    {
      double d = geo_dot (outline.cubics[i].p[0], v);
      low = fmin (low, d);
      high = fmax (high, d);
    }
  double longest = 1, from = 0, across = 0;
  for (int k = 1; k < GRAIN_PLACES && high > low; k++)
    {
      double share = (double)k / GRAIN_PLACES;
      double place = low + (high - low) * share;
      g_autoptr (GArray) at = crossings_across (&outline, u, place);
      for (guint i = 0; i + 1 < at->len; i += 2)
        {
          double start = g_array_index (at, double, i);
          double length = g_array_index (at, double, i + 1) - start;
          /* In the middle as long as that is nearly as good. */
          if (length * (1 - 0.3 * fabs (share - 0.5)) > longest)
            {
              longest = length * (1 - 0.3 * fabs (share - 0.5));
              from = start + 0.25 * length;
              across = place;
            }
        }
    }
  geo_chain_clear (&outline);
  if (!(longest > 1))
    return;
  GeoPoint start = geo_add (geo_scale (u, from), geo_scale (v, across));
  drafting_draft_set_grain (piece, start, geo_along (start, u, longest / 2));
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
