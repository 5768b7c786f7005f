/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>

#include "drafting/cape.h"
#include "drafting/edit-private.h"
#include "geometry/length.h"

void
drafting_half_clear (DraftingHalf *half)
{
  geo_chain_clear (&half->neck);
}

static void
walked (const PatternPiece *piece, guint edge, gboolean reversed,
        GeoChain *chain)
{
  geo_chain_reset (chain);
  pattern_piece_edge_chain (piece, edge, chain);
  if (reversed)
    geo_chain_reverse (chain);
}

/* Indices of the neck, of the shoulder, and of the edge at the neck's other end. after: the
 * shoulder follows the neck on the outline. */
typedef struct
{
  const PatternPiece *piece;
  guint neck, shoulder, centre;
  gboolean after;
} Edges;

static gboolean
find_edges (const Pattern *p, PatternRun neck, PatternRun shoulder,
            Edges *found, GError **error)
{
  found->piece = drafting_find_piece (p, neck.piece, error);
  if (found->piece == NULL)
    return FALSE;
  int n = drafting_find_edge (found->piece, neck.edge, error);
  if (n < 0)
    return FALSE;
  int s = pattern_piece_find_edge (found->piece, shoulder.edge);
  guint count = found->piece->n_edges;
  found->neck = (guint)n;
  guint next = (found->neck + 1) % count;
  guint before = (found->neck + count - 1) % count;
  if (shoulder.piece != neck.piece || s < 0 || count < 3
      || ((guint)s != next && (guint)s != before))
    return drafting_refuse (
        error, DRAFTING_ERROR_SHAPE,
        _ ("The neck and the shoulder of a half have to be neighbours on one "
           "piece: they meet at the neck point."));
  found->shoulder = (guint)s;
  found->after = found->shoulder == next;
  found->centre = found->after ? before : next;
  return TRUE;
}

/* Puts the centre upright, downwards, with the shoulder to the right. */
static GeoMotion
upright (GeoPoint corner, GeoPoint down, GeoPoint shoulder)
{
  GeoMotion m = geo_motion_none ();
  m.flip = geo_cross (down, shoulder) > 0;
  GeoPoint d = m.flip ? geo_point (down.x, -down.y) : down;
  double turn = geo_angle_between (d, geo_point (0, 1));
  m.c = cos (turn);
  m.s = sin (turn);
  GeoPoint at = geo_motion_turn (m, corner);
  m.dx = -at.x;
  m.dy = -at.y;
  return m;
}

gboolean
drafting_half_take (const Pattern *p, PatternRun neck, PatternRun shoulder,
                    DraftingHalf *half, GError **error)
{
  *half = (DraftingHalf){ 0 };
  Edges edges = { 0 };
  if (!find_edges (p, neck, shoulder, &edges, error))
    return FALSE;
  GeoChain along = GEO_CHAIN_EMPTY, centre = GEO_CHAIN_EMPTY;
  walked (edges.piece, edges.neck, !edges.after, &half->neck);
  walked (edges.piece, edges.shoulder, !edges.after, &along);
  walked (edges.piece, edges.centre, edges.after, &centre);
  GeoPoint down = geo_cubic_tangent (&centre.cubics[0], 0);
  GeoPoint way = geo_sub (geo_chain_end (&along), geo_chain_start (&along));
  GeoMotion m = upright (geo_chain_start (&half->neck), down, way);
  GeoPoint point = geo_motion_apply (m, geo_chain_end (&half->neck));
  m.dy -= point.y;
  geo_chain_transform (&half->neck, m);
  half->centre = geo_chain_start (&half->neck);
  half->point = geo_chain_end (&half->neck);
  half->along = geo_unit (geo_motion_turn (m, way));
  half->shoulder = geo_norm (way);
  half->width = pattern_edge_width (&edges.piece->edges[edges.neck]);
  geo_chain_clear (&along);
  geo_chain_clear (&centre);
  if (half->along.x > 0.1 && half->point.x > 1 && half->shoulder > 1
      && half->centre.y > half->point.y)
    return TRUE;
  drafting_half_clear (half);
  return drafting_refuse (
      error, DRAFTING_ERROR_SHAPE,
      _ ("That does not look like half a sloper: its centre should lead "
         "straight down from the neck, its shoulder away from it."));
}
