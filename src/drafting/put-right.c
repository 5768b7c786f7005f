/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/put-right.h"

#include <glib/gi18n.h>

#include "drafting/edit-private.h"
#include "drafting/true.h"
#include "geometry/length.h"
#include "geometry/nearest.h"
#include "sewing/words.h"

#define SAMPLES 400 /* of an edge, evenly along it, for its mean line */

/* --- straight ------------------------------------------------------------------- */

/* The mean line of places spread evenly along the chain: through their centre, along the direction in which they
 * spread most (the larger eigenvector of their second moments; K. Pearson, 1901, from memory). The
 * way runs as the chain does. */
static void
mean_line (const GeoChain *chain, GeoPoint *on, GeoPoint *way)
{
  GeoRuler ruler;
  geo_ruler_init (&ruler, chain, DRAFTING_EXACT);
  double length = geo_ruler_length (&ruler);
  GeoPoint at[SAMPLES], sum = { 0, 0 };
  for (int i = 0; i < SAMPLES; i++)
    {
      at[i] = geo_chain_point (
          chain, geo_ruler_place (&ruler, length * (i + 0.5) / SAMPLES));
      sum = geo_add (sum, at[i]);
    }
  geo_ruler_clear (&ruler);
  *on = geo_scale (sum, 1.0 / SAMPLES);
  double xx = 0, xy = 0, yy = 0;
  for (int i = 0; i < SAMPLES; i++)
    {
      GeoPoint d = geo_sub (at[i], *on);
      xx += d.x * d.x;
      xy += d.x * d.y;
      yy += d.y * d.y;
    }
  double turn = 0.5 * atan2 (2 * xy, xx - yy);
  *way = geo_point (cos (turn), sin (turn));
  GeoPoint chord = geo_sub (geo_chain_end (chain), geo_chain_start (chain));
  if (geo_dot (*way, chord) < 0)
    *way = geo_scale (*way, -1);
}

static GeoPoint
foot_on (GeoPoint p, GeoPoint on, GeoPoint way)
{
  return geo_along (on, way, geo_dot (geo_sub (p, on), way));
}

static void
move_node (PatternNode *node, GeoPoint to)
{
  GeoPoint by = geo_sub (to, node->at);
  node->at = to;
  node->in = geo_add (node->in, by);
  node->out = geo_add (node->out, by);
}

/* Notches keep their shares of the edge. */
static void
share_notches (PatternPiece *piece, guint edge, double ratio)
{
  for (guint i = 0; i < piece->n_notches; i++)
    if (piece->notches[i].edge == edge
        && piece->notches[i].from != PATTERN_FRACTION)
      piece->notches[i].amount *= ratio;
}

static void
lay_straight (PatternPiece *piece, guint index, GeoPoint from, GeoPoint to)
{
  guint id = piece->edges[index].id;
  double old = drafting_edge_length (piece, index);
  while (pattern_piece_edge_last (piece, index) - piece->edges[index].first > 1)
    {
      pattern_piece_remove_node (piece, (piece->edges[index].first + 1)
                                            % piece->n_nodes);
      index = (guint)pattern_piece_find_edge (piece, id);
    }
  guint i = piece->edges[index].first, k = (i + 1) % piece->n_nodes;
  PatternNode *a = &piece->nodes[i], *b = &piece->nodes[k];
  move_node (a, from);
  move_node (b, to);
  a->out = a->at;
  b->in = b->at;
  if (a->kind == PATTERN_NODE_SYMMETRIC)
    a->kind = PATTERN_NODE_SMOOTH;
  if (b->kind == PATTERN_NODE_SYMMETRIC)
    b->kind = PATTERN_NODE_SMOOTH;
  g_autofree gboolean *moved = g_new0 (gboolean, piece->n_nodes);
  moved[i] = moved[k] = TRUE;
  pattern_piece_keep_in_line (piece, moved);
  if (old > 0)
    share_notches (piece, id, geo_distance (from, to) / old);
}

Pattern *
drafting_straighten_edge (const Pattern *p, guint piece, guint edge,
                          DraftingStraight how, double within, double *off,
                          GError **error)
{
  guint index;
  g_autoptr (PatternPiece) copy
      = drafting_number_is_good (within, error)
            ? drafting_begin_edge (p, piece, edge, &index, error)
            : NULL;
  if (!copy)
    return NULL;
  GeoChain chain = GEO_CHAIN_EMPTY, line = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (copy, index, &chain);
  GeoPoint from = geo_chain_start (&chain), to = geo_chain_end (&chain);
  if (how == DRAFTING_STRAIGHT_MEAN && copy->n_edges > 1)
    {
      GeoPoint on, way;
      mean_line (&chain, &on, &way);
      from = foot_on (from, on, way);
      to = foot_on (to, on, way);
    }
  geo_chain_append_line (&line, from, to);
  double far = geo_chain_stray (&chain, &line, 32, NULL);
  geo_chain_clear (&chain);
  geo_chain_clear (&line);
  if (off)
    *off = far;
  if (copy->n_edges < 2 || geo_distance (from, to) < 0.1)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("This edge comes back to where it starts, so there "
                          "is no straight line for it. Begin another edge at "
                          "one of its nodes first."));
      return NULL;
    }
  if (far > within)
    {
      g_autofree char *words = sewing_words_amount (p, far);
      g_autofree char *most = sewing_words_amount (p, within);
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("It lies up to %s from the straight line, and %s is "
                          "the most it may move. Nothing was changed."),
                       words, most);
      return NULL;
    }
  lay_straight (copy, index, from, to);
  return drafting_finish (p, g_steal_pointer (&copy), NULL, error);
}

/* --- square to the fold ------------------------------------------------------------- */

static Pattern *
square_one (const Pattern *p, guint piece, guint edge, gboolean at_end,
            double reach, GError **error)
{
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  int index = own ? drafting_find_edge (own, edge, error) : -1;
  if (index < 0)
    return NULL;
  double room = drafting_edge_length (own, (guint)index) / 2;
  return drafting_square (p, piece, edge, at_end, fmin (reach, room), NULL,
                          error);
}

Pattern *
drafting_square_fold (const Pattern *p, guint piece, guint fold, double reach,
                      GError **error)
{
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  int index = own ? drafting_find_edge (own, fold, error) : -1;
  if (index < 0 || !drafting_number_is_good (reach, error))
    return NULL;
  guint n = own->n_edges, i = (guint)index;
  if (own->edges[i].kind != PATTERN_EDGE_FOLD || n < 3)
    {
      g_autofree char *name = sewing_words_edge (own, i);
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("%s is not laid on the fold. Name it a fold, or "
                          "choose that kind for it, first."),
                       name);
      return NULL;
    }
  g_autoptr (Pattern) first = square_one (
      p, piece, own->edges[(i + n - 1) % n].id, TRUE, reach, error);
  return first ? square_one (first, piece, own->edges[(i + 1) % n].id, FALSE,
                             reach, error)
               : NULL;
}

/* --- upright --------------------------------------------------------------------------- */

static gboolean
find_line (const PatternPiece *piece, guint edge, GeoPoint *line,
           GError **error)
{
  int index = edge ? drafting_find_edge (piece, edge, error) : -1;
  if (edge && index < 0)
    return FALSE;
  for (guint i = 0; index < 0 && i < piece->n_edges; i++)
    if (piece->edges[i].kind == PATTERN_EDGE_FOLD)
      index = (int)i;
  if (index < 0 && !piece->has_grain)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("The piece has neither a fold nor a grainline. "
                               "Pick the edge that is to be upright."));
  *line = geo_sub (piece->grain_to, piece->grain_from);
  if (index >= 0)
    {
      guint last = pattern_piece_edge_last (piece, (guint)index);
      *line = geo_sub (piece->nodes[last % piece->n_nodes].at,
                       piece->nodes[piece->edges[index].first].at);
    }
  if (geo_norm (*line) < 0.1)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("That line comes back to where it starts, so "
                               "it has no direction."));
  return TRUE;
}

Pattern *
drafting_stand_upright (const Pattern *p, guint piece, guint edge,
                        GError **error)
{
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  GeoPoint line;
  if (!own || !find_line (own, edge, &line, error))
    return NULL;
  if (line.y < 0)
    line = geo_scale (line, -1);
  double turn = geo_angle_between (line, geo_point (0, 1));
  GeoPoint middle = geo_box_centre (drafting_bounds (own));
  return drafting_move_pieces (p, &piece, 1, geo_motion_about (middle, turn),
                               error);
}
