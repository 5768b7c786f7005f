/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Squaring an edge to a fold. */
#include <glib/gi18n.h>

#include "drafting/true-private.h"
#include "geometry/apart.h"
#include "geometry/blend.h"
#include "geometry/length.h"
#include "sewing/checks.h"

typedef struct
{
  guint edge, fold; /* indices */
  gboolean at_end;
  GeoPoint at, in; /* the corner, and along the fold into the piece */
  GeoPoint square; /* of the way on at the corner, along the edge to it */
} Corner;

static Pattern *
turn_handle (const Pattern *p, guint piece, guint edge, gboolean at_end,
             GError **error)
{
  SewingRemedy remedy = { .kind = SEWING_REMEDY_SQUARE,
                          .piece = piece,
                          .edge = edge,
                          .amount = at_end ? 1 : 0 };
  return drafting_mend (p, &remedy, error);
}

static gboolean
find_corner (const PatternPiece *piece, guint edge, gboolean at_end,
             Corner *corner, GError **error)
{
  guint n = piece->n_edges;
  *corner = (Corner){ .edge = edge, .at_end = at_end };
  corner->fold = at_end ? (edge + 1) % n : (edge + n - 1) % n;
  GeoChain fold = GEO_CHAIN_EMPTY, own = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, corner->fold, &fold);
  pattern_piece_edge_chain (piece, edge, &own);
  if (!at_end)
    {
      geo_chain_reverse (&fold);
      geo_chain_reverse (&own);
    }
  corner->at = geo_chain_end (&own);
  corner->in = geo_chain_tangent (&fold, (GeoPlace){ 0, 0 });
  GeoPoint way = geo_chain_tangent (&own, (GeoPlace){ own.count - 1, 1 });
  geo_chain_clear (&fold);
  geo_chain_clear (&own);
  corner->square = geo_left (corner->in);
  if (geo_dot (corner->square, way) < 0)
    corner->square = geo_scale (corner->square, -1);
  if (geo_norm (corner->in) > 0.5 && geo_norm (way) > 0.5
      && piece->edges[corner->fold].kind == PATTERN_EDGE_FOLD && n > 1)
    return TRUE;
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("The edge does not come to a fold there, so there "
                             "is nothing to be square to."));
}

static double
angle_at (const Corner *corner, const GeoChain *to_corner)
{
  GeoPoint way
      = geo_chain_tangent (to_corner, (GeoPlace){ to_corner->count - 1, 1 });
  return fabs (geo_angle_between (geo_scale (way, -1), corner->in));
}

/* part runs to the corner. */
static gboolean
blend_with_mirror (const Corner *corner, const GeoChain *part, GeoChain *made)
{
  GeoChain mirrored = GEO_CHAIN_EMPTY, other = GEO_CHAIN_EMPTY;
  geo_chain_copy (&mirrored, part);
  geo_chain_transform (&mirrored, geo_motion_mirror (corner->at, corner->in));
  geo_chain_reverse (&mirrored);
  mirrored.cubics[0].p[0] = corner->at;
  gboolean good = geo_blend (part, &mirrored, made, &other);
  geo_chain_clear (&mirrored);
  geo_chain_clear (&other);
  if (!good)
    return FALSE;
  /* Both sides being alike it comes out square to rounding; now exactly. */
  GeoCubic *last = &made->cubics[made->count - 1];
  last->p[3] = corner->at;
  last->p[2] = geo_along (corner->at, corner->square,
                          -geo_distance (last->p[2], last->p[3]));
  return TRUE;
}

static Pattern *
put_back (const Pattern *p, PatternPiece *copy, const Corner *corner,
          const GeoChain *made, const GeoChain *rest, GError **error)
{
  guint next = p->next_id, id = copy->id;
  GeoChain whole = GEO_CHAIN_EMPTY;
  geo_chain_append_chain (&whole, rest);
  geo_chain_append_chain (&whole, made);
  if (!corner->at_end)
    geo_chain_reverse (&whole);
  drafting_put_edge_chain (copy, corner->edge, &whole, &next);
  geo_chain_clear (&whole);
  g_autoptr (Pattern) result = drafting_finish (p, copy, &next, error);
  if (result == NULL || !drafting_outline_is_good (p, result, id, error))
    return NULL;
  return g_steal_pointer (&result);
}

Pattern *
drafting_square (const Pattern *p, guint piece, guint edge, gboolean at_end,
                 double reach, DraftingTrued *told, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  guint index;
  Corner corner;
  g_autoptr (PatternPiece) copy
      = drafting_begin_edge (p, piece, edge, &index, error);
  if (copy == NULL || !drafting_number_is_good (reach, error)
      || !find_corner (copy, index, at_end, &corner, error))
    return NULL;
  GeoChain own = GEO_CHAIN_EMPTY, part = GEO_CHAIN_EMPTY;
  GeoChain rest = GEO_CHAIN_EMPTY, made = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (copy, index, &own);
  if (!at_end)
    geo_chain_reverse (&own);
  double length = geo_chain_length (&own, DRAFTING_EXACT);
  double angle = angle_at (&corner, &own);
  Pattern *result = NULL;
  gboolean handle_only = reach <= 0;
  if (reach > length + 1e-9)
    {
      g_autofree char *most = pattern_length_format (length, p->unit, TRUE);
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("The edge is only %s long: it can be squared over "
                          "no more. Nothing was changed."),
                       most);
    }
  else if (handle_only)
    result = turn_handle (p, piece, edge, at_end, error);
  else
    {
      drafting_cut_chain (&own, reach, TRUE, &part, &rest);
      if (blend_with_mirror (&corner, &part, &made))
        result = put_back (p, g_steal_pointer (&copy), &corner, &made, &rest,
                           error);
      else
        drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                         _ ("No smooth curve was found over that reach. Try "
                            "another, or square by the handle alone with a "
                            "reach of 0. Nothing was changed."));
    }
  if (result != NULL && told != NULL)
    {
      const PatternPiece *after = pattern_get_piece (result, piece);
      GeoChain now = GEO_CHAIN_EMPTY;
      pattern_piece_edge_chain (
          after, (guint)pattern_piece_find_edge (after, edge), &now);
      if (!at_end)
        geo_chain_reverse (&now);
      *told = (DraftingTrued){
        .angle = { angle, angle_at (&corner, &now) },
        .length = { length, geo_chain_length (&now, DRAFTING_EXACT) },
        .moved = geo_chain_apart (&own, &now),
      };
      geo_chain_clear (&now);
    }
  geo_chain_clear (&own);
  geo_chain_clear (&part);
  geo_chain_clear (&rest);
  geo_chain_clear (&made);
  return result;
}
