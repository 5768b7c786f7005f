/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/compare.h"

#include <math.h>

#include "geometry/apart.h"
#include "geometry/length.h"

#define SEEN 0.005 /* mm: less is not worth a line */
#define EXACT 1e-9

typedef struct
{
  GeoPoint was, is;
  double weight;
} Pair;

static GArray *
common_nodes (const PatternPiece *was, const PatternPiece *is)
{
  GArray *pairs = g_array_sized_new (FALSE, FALSE, sizeof (Pair), was->n_nodes);
  for (guint i = 0; i < was->n_nodes; i++)
    {
      int at = pattern_piece_find_node (is, was->nodes[i].id);
      if (at < 0)
        continue;
      Pair pair = { was->nodes[i].at, is->nodes[at].at, 1 };
      g_array_append_val (pairs, pair);
    }
  return pairs;
}

/* The rotation about the weighted middles that brings them nearest in the sense of least squares:
 * its angle is that of sum w (p . q, p x q), p and q from their middles. */
static GeoMotion
least_squares (const GArray *pairs)
{
  GeoPoint p = { 0, 0 }, q = { 0, 0 };
  double sum = 0;
  for (guint i = 0; i < pairs->len; i++)
    {
      const Pair *pair = &g_array_index (pairs, Pair, i);
      p = geo_add (p, geo_scale (pair->was, pair->weight));
      q = geo_add (q, geo_scale (pair->is, pair->weight));
      sum += pair->weight;
    }
  p = geo_scale (p, 1 / sum);
  q = geo_scale (q, 1 / sum);
  double along = 0, across = 0;
  for (guint i = 0; i < pairs->len; i++)
    {
      const Pair *pair = &g_array_index (pairs, Pair, i);
      GeoPoint a = geo_sub (pair->was, p), b = geo_sub (pair->is, q);
      along += pair->weight * geo_dot (a, b);
      across += pair->weight * geo_cross (a, b);
    }
  double size = hypot (along, across);
  GeoMotion m = geo_motion_none ();
  if (size > 0)
    {
      m.c = along / size;
      m.s = across / size;
    }
  GeoPoint turned = geo_motion_turn (m, p);
  m.dx = q.x - turned.x;
  m.dy = q.y - turned.y;
  return m;
}

static double
distances (const GArray *pairs, GeoMotion m)
{
  double sum = 0;
  for (guint i = 0; i < pairs->len; i++)
    {
      const Pair *pair = &g_array_index (pairs, Pair, i);
      sum += geo_distance (geo_motion_apply (m, pair->was), pair->is);
    }
  return sum;
}

GeoMotion
sewing_lay_on (const PatternPiece *was, const PatternPiece *is)
{
  g_autoptr (GArray) pairs = common_nodes (was, is);
  GeoMotion best = geo_motion_none ();
  if (pairs->len == 0)
    return best;
  double least = distances (pairs, best);
  for (int round = 0; round < 60 && least > 0; round++)
    {
      GeoMotion m = least_squares (pairs);
      double sum = distances (pairs, m);
      /* One that is no better than lying still is not wanted: it would show what did
       * not move as moved by a hair. */
      if (sum < least * (1 - 1e-9) - 1e-9)
        {
          least = sum;
          best = m;
        }
      for (guint i = 0; i < pairs->len; i++)
        {
          Pair *pair = &g_array_index (pairs, Pair, i);
          double off = geo_distance (geo_motion_apply (m, pair->was), pair->is);
          pair->weight = 1 / MAX (off, 1e-7);
        }
    }
  return best;
}

static void
compare_edge (SewingPieceDifference *d, guint index, GArray *edges)
{
  const PatternEdge *edge = &d->is->edges[index];
  SewingEdgeDifference e = { .edge = edge->id, .name = edge->name };
  GeoChain now, then;
  geo_chain_init (&now);
  geo_chain_init (&then);
  pattern_piece_edge_chain (d->is, index, &now);
  e.is = geo_chain_length (&now, EXACT);
  int old = d->was != NULL ? pattern_piece_find_edge (d->was, edge->id) : -1;
  if (old >= 0)
    {
      pattern_piece_edge_chain (d->was, (guint)old, &then);
      geo_chain_transform (&then, d->lay);
      e.was = geo_chain_length (&then, EXACT);
      e.apart = geo_chain_apart (&then, &now);
    }
  geo_chain_clear (&now);
  geo_chain_clear (&then);
  if (old < 0 || e.apart > SEEN || fabs (e.is - e.was) > SEEN)
    g_array_append_val (edges, e);
  d->apart = MAX (d->apart, e.apart);
}

/* FALSE where nothing is seen of a difference. */
static gboolean
compare_piece (const PatternPiece *was, const PatternPiece *is,
               SewingPieceDifference *d)
{
  *d = (SewingPieceDifference){ .piece = is != NULL ? is->id : was->id,
                                .was = was,
                                .is = is,
                                .lay = geo_motion_none () };
  d->area_was = was != NULL ? pattern_piece_area (was) : 0;
  d->area_is = is != NULL ? pattern_piece_area (is) : 0;
  if (was == NULL || is == NULL)
    return TRUE;
  if (was == is)
    return FALSE;
  d->lay = sewing_lay_on (was, is);
  GArray *edges = g_array_new (FALSE, FALSE, sizeof (SewingEdgeDifference));
  for (guint i = 0; i < is->n_edges; i++)
    compare_edge (d, i, edges);
  d->n_edges = edges->len;
  d->edges = (SewingEdgeDifference *)(gpointer)g_array_free (edges, FALSE);
  return d->n_edges > 0 || was->n_edges != is->n_edges;
}

static void
clear_difference (gpointer data)
{
  SewingPieceDifference *d = data;
  g_free (d->edges);
}

GArray *
sewing_compare (const Pattern *was, const Pattern *is)
{
  g_return_val_if_fail (was != NULL && is != NULL, NULL);
  GArray *all = g_array_new (FALSE, FALSE, sizeof (SewingPieceDifference));
  g_array_set_clear_func (all, clear_difference);
  for (guint i = 0; i < is->n_pieces; i++)
    {
      SewingPieceDifference d;
      if (compare_piece (pattern_get_piece (was, is->pieces[i]->id),
                         is->pieces[i], &d))
        g_array_append_val (all, d);
      else
        clear_difference (&d);
    }
  for (guint i = 0; i < was->n_pieces; i++)
    {
      SewingPieceDifference d;
      if (pattern_get_piece (is, was->pieces[i]->id) == NULL
          && compare_piece (was->pieces[i], NULL, &d))
        g_array_append_val (all, d);
    }
  return all;
}
