/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Carrying out what the checks list offers. */
#include <glib/gi18n.h>
#include <math.h>

#include "drafting/edit-private.h"
#include "drafting/true.h"
#include "geometry/region.h"
#include "sewing/middle.h"

/* A grainline's length where the piece gives room, mm, and its share of the
 * piece's height where not. */
#define GRAIN_LONGEST 300
#define GRAIN_SHARE 0.5

/* --- squaring to a fold ------------------------------------------------------------- */
/* The tangent at the corner, pointing away from it: back along the edge that
 * arrives there, or on along the one that leaves. */
static GeoPoint
away_from (const PatternPiece *piece, guint corner, gboolean arriving)
{
  guint n = piece->n_nodes;
  GeoCubic c
      = pattern_piece_cubic (piece, (corner + (arriving ? n - 1 : 0)) % n);
  return arriving ? geo_scale (geo_cubic_tangent (&c, 1), -1)
                  : geo_cubic_tangent (&c, 0);
}

/* Turns the edge's handle at the corner square to the neighbour (the fold),
 * keeping its length; a side without one is given it a third of the way. */
static gboolean
square_handle (PatternPiece *piece, guint edge, gboolean at_end, GError **error)
{
  guint n = piece->n_nodes;
  guint corner = at_end ? pattern_piece_edge_last (piece, edge) % n
                        : piece->edges[edge].first;
  PatternNode *node = &piece->nodes[corner];
  PatternNode *next = &piece->nodes[(corner + (at_end ? n - 1 : 1)) % n];
  GeoPoint fold = away_from (piece, corner, !at_end);
  GeoPoint now = away_from (piece, corner, at_end);
  if ((fold.x == 0 && fold.y == 0) || (now.x == 0 && now.y == 0))
    return drafting_refuse (
        error, DRAFTING_ERROR_SHAPE,
        _ ("The corner has no direction to be squared: its nodes lie on one "
           "point. Draw them apart first."));
  GeoPoint square = geo_left (fold);
  if (geo_dot (square, now) < 0)
    square = geo_scale (square, -1);
  GeoPoint *handle = at_end ? &node->in : &node->out;
  double length = geo_distance (*handle, node->at);
  if (length == 0)
    length = geo_distance (node->at, next->at) / 3;
  *handle = geo_along (node->at, square, length);
  node->kind = PATTERN_NODE_CORNER;
  return TRUE;
}

static Pattern *
mend_square (const Pattern *p, const SewingRemedy *remedy, GError **error)
{
  guint index;
  g_autoptr (PatternPiece) copy
      = drafting_begin_edge (p, remedy->piece, remedy->edge, &index, error);
  if (!copy || !square_handle (copy, index, remedy->amount > 0.5, error))
    return NULL;
  return drafting_finish (p, g_steal_pointer (&copy), NULL, error);
}

/* --- grain and cut ------------------------------------------------------------------ */
Pattern *
drafting_default_grain (const Pattern *p, guint piece, GError **error)
{
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  if (!own)
    return NULL;
  GeoChain outline;
  geo_chain_init (&outline);
  pattern_piece_outline (own, &outline);
  if (outline.count == 0)
    {
      geo_chain_clear (&outline);
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("The piece has no outline yet to lay a grainline "
                          "in."));
      return NULL;
    }
  GeoPoint middle = sewing_middle (&outline);
  GeoBox box = geo_chain_bounds (&outline);
  double half = fmin (GRAIN_SHARE * (box.y1 - box.y0), GRAIN_LONGEST) / 2;
  GeoPoint from, to;
  for (int i = 0;; i++)
    {
      from = geo_point (middle.x, middle.y - half);
      to = geo_point (middle.x, middle.y + half);
      if (i == 12
          || (geo_chain_contains (&outline, from)
              && geo_chain_contains (&outline, to)))
        break;
      half *= 0.8;
    }
  geo_chain_clear (&outline);
  return drafting_set_grain (p, piece, from, to, TRUE, error);
}

static Pattern *
mend_cut (const Pattern *p, const SewingRemedy *remedy, GError **error)
{
  if (p->n_cloths == 0)
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("The pattern has no cloth to cut the piece from. "
                          "Add a cloth first."));
      return NULL;
    }
  PatternCut cut = { p->cloths[0].id, 1, FALSE };
  return drafting_set_cuts (p, remedy->piece, &cut, 1, error);
}

Pattern *
drafting_mend (const Pattern *p, const SewingRemedy *remedy, GError **error)
{
  g_return_val_if_fail (p != NULL && remedy != NULL, NULL);
  switch (remedy->kind)
    {
    case SEWING_REMEDY_LENGTH:
      return drafting_set_edge_length (p, remedy->piece, remedy->edge,
                                       remedy->amount, remedy->at_start, error);
    case SEWING_REMEDY_ALLOWANCE:
      return drafting_set_allowance (p, remedy->piece, remedy->edge,
                                     remedy->amount, error);
    case SEWING_REMEDY_SQUARE:
      return mend_square (p, remedy, error);
    case SEWING_REMEDY_GRAIN:
      return drafting_default_grain (p, remedy->piece, error);
    case SEWING_REMEDY_CUT:
      return mend_cut (p, remedy, error);
    case SEWING_REMEDY_NOTCH:
      return drafting_strike_notch (p, remedy->seam, remedy->piece,
                                    remedy->notch, error);
    case SEWING_REMEDY_SPAN:
      return drafting_remove_ease_span (p, remedy->seam, remedy->from,
                                        remedy->to, error);
    case SEWING_REMEDY_BLEND:
      return drafting_blend (p, remedy->seam, remedy->at_start ? 0 : 1,
                             remedy->amount, NULL, error);
    case SEWING_REMEDY_BEND:
      return drafting_bend_to_length (p, remedy->piece, remedy->edge,
                                      remedy->amount, error);
    case SEWING_REMEDY_TAPER:
      return drafting_taper (p, remedy->seam, error);
    case SEWING_REMEDY_NONE:
    default:
      break;
    }
  drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                   _ ("There is no one way to mend this. Look at the place "
                      "and change it by hand, or set it aside."));
  return NULL;
}

/* --- setting aside ------------------------------------------------------------------- */
Pattern *
drafting_set_aside (const Pattern *p, const char *key, const char *note,
                    GError **error)
{
  (void)error;
  g_return_val_if_fail (p != NULL && key != NULL, NULL);
  Pattern *result = pattern_dup (p);
  pattern_put_set_aside (result, key, note);
  return result;
}

Pattern *
drafting_take_up (const Pattern *p, const char *key, GError **error)
{
  g_return_val_if_fail (p != NULL && key != NULL, NULL);
  g_autoptr (Pattern) result = pattern_dup (p);
  if (!pattern_remove_set_aside (result, key))
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("That finding is not set aside any more."));
      return NULL;
    }
  return g_steal_pointer (&result);
}
