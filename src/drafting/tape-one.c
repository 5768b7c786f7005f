/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One length brought to what the tape says.
 *
 * Bent: pattern_piece_bend_edge(), ends and directions kept. Spread: all nodes of the run, handles along, by
 * the factor f = wanted / length about the middle M of the chord: P -> M + f (P - M). Lengths
 * grow by exactly f and directions stay, so smooth nodes stay smooth; each end goes by |f - 1| / 2 of the
 * chord, which is the least that the farther of two ends can do where the shape is to stay alike. */
#include <glib/gi18n.h>

#include "drafting/edit-private.h"
#include "drafting/tape.h"
#include "geometry/apart.h"
#include "geometry/length.h"

/* Bent farther than this share of its length it is no longer the edge that was drawn. */
#define MOST_BENT 0.04
#define SHORTEST 0.1 /* mm */

/* --- the run ----------------------------------------------------------------------- */

typedef struct
{
  const PatternPiece *piece;
  gboolean *inside; /* a node of the run, its ends too */
  gboolean *leaves; /* the side from it on is of the run */
  GeoPoint from, to;
  double length;
} Run;

static void
run_clear (Run *run)
{
  g_free (run->inside);
  g_free (run->leaves);
}

static gboolean
follow_each_other (const PatternPiece *piece, const PatternRun *runs, guint n,
                   gboolean forward)
{
  for (guint i = 0; i + 1 < n; i++)
    {
      guint a = (guint)pattern_piece_find_edge (piece, runs[i].edge);
      guint b = (guint)pattern_piece_find_edge (piece, runs[i + 1].edge);
      if ((forward ? (a + 1) % piece->n_edges : a)
          != (forward ? b : (b + 1) % piece->n_edges))
        return FALSE;
    }
  return TRUE;
}

static gboolean
run_begin (const Pattern *p, const PatternRun *runs, guint n, Run *run,
           GError **error)
{
  *run = (Run){ 0 };
  const PatternPiece *piece
      = n > 0 ? drafting_find_piece (p, runs[0].piece, error) : NULL;
  for (guint i = 0; piece && i < n; i++)
    if (runs[i].piece != piece->id)
      return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                              _ ("The edges have to be of one piece."));
    else if (drafting_find_edge (piece, runs[i].edge, error) < 0)
      return FALSE;
  if (!piece)
    return FALSE;
  gboolean forward = follow_each_other (piece, runs, n, TRUE);
  if (!forward && !follow_each_other (piece, runs, n, FALSE))
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("The edges have to follow each other."));
  run->piece = piece;
  run->inside = g_new0 (gboolean, piece->n_nodes);
  run->leaves = g_new0 (gboolean, piece->n_nodes);
  for (guint i = 0; i < n; i++)
    {
      guint edge = (guint)pattern_piece_find_edge (piece, runs[i].edge);
      guint first = piece->edges[edge].first;
      guint last = pattern_piece_edge_last (piece, edge);
      for (guint k = first; k <= last; k++)
        run->inside[k % piece->n_nodes] = TRUE;
      for (guint k = first; k < last; k++)
        run->leaves[k % piece->n_nodes] = TRUE;
      run->length += drafting_edge_length (piece, edge);
      if (i == (forward ? 0 : n - 1))
        run->from = piece->nodes[first].at;
      if (i == (forward ? n - 1 : 0))
        run->to = piece->nodes[last % piece->n_nodes].at;
    }
  return TRUE;
}

/* --- spread -------------------------------------------------------------------------- */

static GeoPoint
spread_point (GeoPoint p, GeoPoint middle, double factor)
{
  return geo_along (middle, geo_sub (p, middle), factor);
}

static Pattern *
spread (const Pattern *p, const Run *run, double length, double *moved,
        GError **error)
{
  PatternPiece *copy = pattern_piece_dup (run->piece);
  double factor = length / run->length;
  GeoPoint middle = geo_lerp (run->from, run->to, 0.5);
  *moved = 0;
  for (guint i = 0; i < copy->n_nodes; i++)
    if (run->inside[i])
      {
        const PatternNode *old = &run->piece->nodes[i];
        PatternNode *node = &copy->nodes[i];
        gboolean arrives = run->leaves[(i + copy->n_nodes - 1) % copy->n_nodes];
        node->at = spread_point (old->at, middle, factor);
        GeoPoint by = geo_sub (node->at, old->at);
        node->in = arrives ? spread_point (old->in, middle, factor)
                           : geo_add (old->in, by);
        node->out = run->leaves[i] ? spread_point (old->out, middle, factor)
                                   : geo_add (old->out, by);
        if (node->kind == PATTERN_NODE_SYMMETRIC && arrives != run->leaves[i])
          node->kind = PATTERN_NODE_SMOOTH;
        *moved = fmax (*moved, geo_norm (by));
      }
  for (guint i = 0; i < copy->n_notches; i++)
    {
      int edge = pattern_piece_find_edge (copy, copy->notches[i].edge);
      if (edge >= 0 && run->leaves[copy->edges[edge].first]
          && copy->notches[i].from != PATTERN_FRACTION)
        copy->notches[i].amount *= factor;
    }
  pattern_piece_keep_in_line (copy, run->inside);
  return drafting_finish (p, copy, NULL, error);
}

/* --- bent -------------------------------------------------------------------------------- */

static double
bent_by (const Pattern *before, const Pattern *after, const PatternRun *run)
{
  GeoChain chains[2] = { GEO_CHAIN_EMPTY, GEO_CHAIN_EMPTY };
  const Pattern *patterns[2] = { before, after };
  for (int i = 0; i < 2; i++)
    {
      const PatternPiece *piece = pattern_get_piece (patterns[i], run->piece);
      pattern_piece_edge_chain (
          piece, (guint)pattern_piece_find_edge (piece, run->edge), &chains[i]);
    }
  double moved = geo_chain_apart (&chains[0], &chains[1]);
  geo_chain_clear (&chains[0]);
  geo_chain_clear (&chains[1]);
  return moved;
}

static Pattern *
bend (const Pattern *p, const PatternRun *runs, guint n, double length,
      double *moved, GError **error)
{
  if (n != 1)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("Only a single edge can be bent to a length. "
                          "Have the run spread instead."));
      return NULL;
    }
  Pattern *bent
      = drafting_bend_to_length (p, runs[0].piece, runs[0].edge, length, error);
  if (bent)
    *moved = bent_by (p, bent, &runs[0]);
  return bent;
}

Pattern *
drafting_fit_length (const Pattern *p, const PatternRun *runs, guint n_runs,
                     double length, DraftingFitWay way, double *moved,
                     GError **error)
{
  double far = 0;
  if (!drafting_number_is_good (length, error))
    return NULL;
  if (length < SHORTEST)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("An edge can't be brought to less than 0.1 mm."));
      return NULL;
    }
  Run run;
  Pattern *result = NULL;
  if (run_begin (p, runs, n_runs, &run, error))
    {
      if (way == DRAFTING_FIT_BEND)
        result = bend (p, runs, n_runs, length, &far, error);
      if (way == DRAFTING_FIT_LEAST && n_runs == 1)
        result = bend (p, runs, n_runs, length, &far, NULL);
      if (way == DRAFTING_FIT_LEAST && result && far > MOST_BENT * run.length)
        g_clear_pointer (&result, pattern_unref);
      if (!result && way != DRAFTING_FIT_BEND)
        result = spread (p, &run, length, &far, error);
    }
  run_clear (&run);
  if (moved)
    *moved = far;
  return result;
}

Pattern *
drafting_fit_distance (const Pattern *p, guint piece, const guint nodes[2],
                       double distance, GError **error)
{
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  int a = own ? drafting_find_node (own, nodes[0], error) : -1;
  int b = a >= 0 ? drafting_find_node (own, nodes[1], error) : -1;
  if (b < 0 || !drafting_number_is_good (distance, error))
    return NULL;
  GeoPoint way = geo_sub (own->nodes[b].at, own->nodes[a].at);
  double now = geo_norm (way);
  if (now < SHORTEST || distance < SHORTEST)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("Two nodes less than 0.1 mm apart can't be brought "
                          "to a distance."));
      return NULL;
    }
  GeoPoint by = geo_scale (way, (distance - now) / now / 2);
  g_autoptr (Pattern) first
      = drafting_move_nodes (p, piece, &nodes[1], 1, by, error);
  return first ? drafting_move_nodes (first, piece, &nodes[0], 1,
                                      geo_scale (by, -1), error)
               : NULL;
}
