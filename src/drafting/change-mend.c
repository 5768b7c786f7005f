/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outline made good where a cut has opened or closed it.
 *
 * A gap is bridged by the cubic that goes on as the line before ends and arrives as the line after
 * starts, with the least change of curvature. Where a straight edge is cut square and spread
 * about a hinge r away, that is an arc about the hinge, as a compass would draw it.
 *
 * Where parts overlap by g at the edge, each loses g / 2 of its own length there, and the two
 * ends, which then lie side by side, meet halfway. */
#include <glib/gi18n.h>

#include "drafting/change-private.h"
#include "geometry/fair.h"
#include "geometry/length.h"
#include "geometry/simplify.h"
#include "sewing/words.h"

#define TOGETHER 1e-9 /* mm: parts that meet */
#define ASKEW 0.15    /* radians: a gap runs with its edge */
#define CORNER 0.35   /* radians: a corner that is meant, in fairing */

static gboolean
too_little (const DraftingChange *c, GError **error)
{
  g_autofree char *name = sewing_words_piece (c->piece);
  return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                          _ ("There is not so much of the edge of %s to "
                             "overlap there. Nothing was changed."),
                          name);
}

/* Takes a length off the line that ends at the node (its end), or off the one
 * that starts there (its start). */
static gboolean
trim (DraftingChange *c, guint node, gboolean at_end, double length,
      GError **error)
{
  PatternPiece *piece = c->piece;
  for (;;)
    {
      guint n = piece->n_nodes, i = drafting_change_index (c, node);
      guint side = at_end ? (i + n - 1) % n : i;
      guint far = at_end ? side : (i + 1) % n;
      GeoCubic cubic = pattern_piece_cubic (piece, side);
      double whole = geo_cubic_length (&cubic, DRAFTING_EXACT);
      PatternNode *own = &piece->nodes[i], *other = &piece->nodes[far];
      if (whole > length + 1e-6)
        {
          gboolean straight = at_end ? pattern_nodes_are_straight (other, own)
                                     : pattern_nodes_are_straight (own, other);
          double left = at_end ? whole - length : length;
          double t = geo_cubic_at_length (&cubic, left, DRAFTING_EXACT);
          GeoCubic part = at_end ? geo_cubic_part (&cubic, 0, t)
                                 : geo_cubic_part (&cubic, t, 1);
          own->at = own->in = own->out = at_end ? part.p[3] : part.p[0];
          if (straight)
            return TRUE;
          *(at_end ? &own->in : &own->out) = at_end ? part.p[2] : part.p[1];
          *(at_end ? &other->out : &other->in) = at_end ? part.p[1] : part.p[2];
          return TRUE;
        }
      if (drafting_change_starts_edge (c, other->id) || piece->n_nodes < 4)
        return too_little (c, error);
      own->at = own->in = own->out = other->at;
      if (at_end)
        own->in = other->in;
      else
        own->out = other->out;
      length -= whole;
      pattern_piece_remove_node (piece, far);
      if (length < TOGETHER)
        return TRUE;
    }
}

/* Where a slash runs askew to the edge, its two ends stand off each other sideways; the bridge then
 * gets room to go from one to the other: each line is cut back by the gap's length, by at most two fifths
 * of its last side. */
static void
give_room (DraftingChange *c, guint first, guint second)
{
  PatternPiece *piece = c->piece;
  guint n = piece->n_nodes, i = drafting_change_index (c, first);
  GeoCubic in = pattern_piece_cubic (piece, (i + n - 1) % n);
  GeoCubic out = pattern_piece_cubic (piece, (i + 1) % n);
  GeoPoint gap = geo_sub (out.p[0], in.p[3]);
  GeoPoint way
      = geo_add (geo_cubic_tangent (&in, 1), geo_cubic_tangent (&out, 0));
  if (fabs (geo_angle_between (way, gap)) < ASKEW)
    return;
  double back = geo_norm (gap);
  double before = MIN (back, 0.4 * geo_cubic_length (&in, DRAFTING_EXACT));
  double after = MIN (back, 0.4 * geo_cubic_length (&out, DRAFTING_EXACT));
  trim (c, first, TRUE, before, NULL);
  trim (c, second, FALSE, after, NULL);
}

static void
fill_gap (DraftingChange *c, guint first, guint second)
{
  PatternPiece *piece = c->piece;
  guint n = piece->n_nodes;
  guint i = drafting_change_index (c, first), k = (i + 1) % n;
  if (piece->nodes[k].id != second || drafting_change_starts_edge (c, second)
      || drafting_change_starts_edge (c, first))
    return; /* the corner is cut: straight across */
  give_room (c, first, second);
  GeoChain before = GEO_CHAIN_EMPTY, after = GEO_CHAIN_EMPTY;
  geo_chain_append (&before, pattern_piece_cubic (piece, (i + n - 1) % n));
  geo_chain_append (&after, pattern_piece_cubic (piece, k));
  GeoCubic bridge = geo_chain_bridge (&before, &after);
  geo_chain_clear (&before);
  geo_chain_clear (&after);
  if (geo_cubic_is_straight (&bridge, 1e-9))
    return;
  piece->nodes[i].out = bridge.p[1];
  piece->nodes[k].in = bridge.p[2];
  drafting_set_kind_by_shape (piece, i);
  drafting_set_kind_by_shape (piece, k);
}

gboolean
drafting_change_mend (DraftingChange *c, guint first, guint second,
                      gboolean overlap, gboolean fair, GError **error)
{
  double gap = geo_distance (drafting_change_node (c, first)->at,
                             drafting_change_node (c, second)->at);
  if (gap < TOGETHER)
    {
      drafting_change_merge (c, first, second);
      return TRUE;
    }
  if (!overlap)
    {
      if (fair)
        fill_gap (c, first, second);
      return TRUE;
    }
  if (!trim (c, first, TRUE, gap / 2, error)
      || !trim (c, second, FALSE, gap / 2, error))
    return FALSE;
  drafting_change_merge (c, first, second);
  return TRUE;
}

/* Slight corners inside the edge become smooth nodes: their handles are turned into the mean of the
 * two directions, and drawn out to a third of a straight side that has none. A polygon of
 * sides l that turn by w is so rounded within l w / 8 of it. */
static void
round_off (PatternPiece *piece, guint edge)
{
  guint n = piece->n_nodes, first = piece->edges[edge].first;
  guint last = pattern_piece_edge_last (piece, edge);
  g_autofree GeoPoint *ways = g_new0 (GeoPoint, last - first + 1);
  for (guint k = 1; k < last - first; k++)
    {
      guint i = (first + k) % n;
      GeoCubic in = pattern_piece_cubic (piece, (i + n - 1) % n);
      GeoCubic out = pattern_piece_cubic (piece, i);
      GeoPoint a = geo_cubic_tangent (&in, 1), b = geo_cubic_tangent (&out, 0);
      double turn = fabs (geo_angle_between (a, b));
      if (turn > 1e-9 && turn < CORNER)
        ways[k] = geo_unit (geo_add (a, b));
    }
  for (guint k = 0; k < last - first; k++)
    {
      guint i = (first + k) % n;
      PatternNode *from = &piece->nodes[i], *to = &piece->nodes[(i + 1) % n];
      double third = geo_distance (from->at, to->at) / 3;
      gboolean straight = pattern_nodes_are_straight (from, to);
      gboolean round_from = ways[k].x != 0 || ways[k].y != 0;
      gboolean round_to = ways[k + 1].x != 0 || ways[k + 1].y != 0;
      GeoPoint side = geo_unit (geo_sub (to->at, from->at));
      if (!round_from && !round_to)
        continue;
      double out = straight ? third : geo_distance (from->at, from->out);
      double in = straight ? third : geo_distance (to->at, to->in);
      if (round_from || straight)
        from->out = geo_along (from->at, round_from ? ways[k] : side, out);
      if (round_to || straight)
        to->in = geo_along (to->at, round_to ? ways[k + 1] : side, -in);
    }
  for (guint k = 1; k < last - first; k++)
    drafting_set_kind_by_shape (piece, (first + k) % n);
}

void
drafting_change_fair (DraftingChange *c, guint edge, double within,
                      gboolean keep_length)
{
  PatternPiece *piece = c->piece;
  int index = pattern_piece_find_edge (piece, edge);
  if (index < 0)
    return;
  round_off (piece, (guint)index);
  GeoChain chain = GEO_CHAIN_EMPTY, fair = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, (guint)index, &chain);
  GeoFairWish wish = geo_fair_wish (within);
  wish.corner = CORNER;
  wish.keep_length = keep_length;
  if (chain.count > 1 && geo_chain_fair (&chain, &wish, &fair)
      && fair.count == chain.count)
    {
      guint n = piece->n_nodes, first = piece->edges[index].first;
      for (size_t i = 0; i < fair.count; i++)
        {
          PatternNode *from = &piece->nodes[(first + i) % n];
          PatternNode *to = &piece->nodes[(first + i + 1) % n];
          if (i > 0)
            from->at = fair.cubics[i].p[0];
          from->out = fair.cubics[i].p[1];
          to->in = fair.cubics[i].p[2];
        }
      for (size_t i = 1; i < fair.count; i++)
        drafting_set_kind_by_shape (piece, (guint)((first + i) % n));
    }
  geo_chain_clear (&chain);
  geo_chain_clear (&fair);
}
