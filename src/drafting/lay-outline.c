/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An outline laid along new lines, and corners found between them. */
#include "drafting/shift-private.h"
#include "geometry/crossing.h"

#define NOTHING 1e-7 /* mm: not worth a side of its own */

/* The node that starts the edge, with what it was; inner nodes of a line that is new are new, unless there are
 * as many as before. */
static void
add_edge (DraftingLoop *loop, Pattern *numbers, const PatternPiece *piece,
          guint e, const GeoChain *chain, GeoPoint *arrive)
{
  guint n = piece->n_nodes, first = piece->edges[e].first;
  guint count = pattern_piece_edge_last (piece, e) - first;
  guint start = loop->nodes->len;
  PatternNode node = piece->nodes[first];
  node.at = node.in = node.out = geo_chain_start (chain);
  drafting_loop_add (loop, &node, &piece->edges[e]);
  drafting_loop_add_chain (loop, chain, numbers, arrive);
  if (chain->count != count)
    return;
  for (guint k = 1; k < count; k++)
    g_array_index (loop->nodes, PatternNode, start + k).id
        = piece->nodes[(first + k) % n].id;
}

static void
keep_edge (DraftingLoop *loop, const PatternPiece *piece, guint e,
           GeoPoint *arrive)
{
  guint n = piece->n_nodes, first = piece->edges[e].first;
  guint last = pattern_piece_edge_last (piece, e);
  for (guint i = first; i < last; i++)
    drafting_loop_add (loop, &piece->nodes[i % n],
                       i == first ? &piece->edges[e] : NULL);
  *arrive = piece->nodes[last % n].in;
}

void
drafting_lay_outline (Pattern *numbers, PatternPiece *piece,
                      const GeoChain *chains, const gboolean *changed)
{
  g_auto (DraftingLoop) loop;
  drafting_loop_init (&loop);
  guint m = piece->n_edges;
  g_autofree GeoPoint *arrive = g_new0 (GeoPoint, m);
  g_autofree guint *starts = g_new0 (guint, m);
  for (guint e = 0; e < m; e++)
    {
      starts[e] = loop.nodes->len;
      if (changed[e])
        add_edge (&loop, numbers, piece, e, &chains[e], &arrive[e]);
      else
        keep_edge (&loop, piece, e, &arrive[e]);
    }
  for (guint e = 0; e < m; e++)
    g_array_index (loop.nodes, PatternNode, starts[e]).in
        = arrive[(e + m - 1) % m];
  drafting_loop_close (&loop, piece);
  for (guint e = 0; e < m; e++)
    {
      guint before = (e + m - 1) % m;
      guint first = piece->edges[e].first;
      guint last = pattern_piece_edge_last (piece, e);
      if ((changed[e] || changed[before])
          && piece->nodes[first].kind != PATTERN_NODE_CORNER)
        drafting_set_kind_by_shape (piece, first);
      for (guint i = first + 1; changed[e] && i < last; i++)
        drafting_set_kind_by_shape (piece, i % piece->n_nodes);
    }
}

/* --- corners -------------------------------------------------------------------------- */
/* Without a side too short to be one; a straight side and one that goes straight on are one. */
static void
tidy (GeoChain *chain)
{
  for (size_t i = 0; i < chain->count && chain->count > 1;)
    if (geo_cubic_is_point (&chain->cubics[i], NOTHING))
      {
        GeoChain none = GEO_CHAIN_EMPTY;
        GeoPoint end = chain->cubics[i].p[3];
        geo_chain_replace (chain, i, 1, &none);
        if (i == chain->count)
          chain->cubics[i - 1].p[3] = end;
      }
    else
      i++;
  for (size_t i = 0; i + 1 < chain->count;)
    {
      const GeoCubic *a = &chain->cubics[i], *b = &chain->cubics[i + 1];
      GeoCubic whole = geo_cubic_line (a->p[0], b->p[3]);
      if (geo_cubic_is_straight (a, NOTHING)
          && geo_cubic_is_straight (b, NOTHING)
          && fabs (geo_angle_between (geo_sub (a->p[3], a->p[0]),
                                      geo_sub (b->p[3], b->p[0])))
                 < 1e-9)
        {
          GeoChain one = GEO_CHAIN_EMPTY;
          geo_chain_append (&one, whole);
          geo_chain_replace (chain, i, 2, &one);
          geo_chain_clear (&one);
        }
      else
        i++;
    }
}

static void
slice (GeoChain *chain, GeoPlace from, GeoPlace to)
{
  GeoChain part = GEO_CHAIN_EMPTY;
  geo_chain_slice (chain, from, to, &part);
  geo_chain_copy (chain, &part);
  geo_chain_clear (&part);
  tidy (chain);
}

gboolean
drafting_meet (GeoChain *before, GeoChain *after, GeoPoint corner, double reach)
{
  GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
  size_t last = before->count - 1;
  GeoPoint end = geo_chain_end (before), start = geo_chain_start (after);
  GeoPoint on = geo_chain_tangent (before, (GeoPlace){ last, 1 });
  GeoPoint back = geo_chain_tangent (after, (GeoPlace){ 0, 0 });
  geo_chain_copy (&a, before);
  geo_chain_append_line (&a, end, geo_along (end, on, reach));
  geo_chain_append_line (&b, geo_along (start, back, -reach), start);
  geo_chain_append_chain (&b, after);
  GeoCrossings met;
  geo_crossings_init (&met);
  geo_chain_crossings (&a, &b, &met);
  size_t best = met.count;
  for (size_t i = 0; i < met.count; i++)
    if (best == met.count
        || geo_distance (met.items[i].at, corner)
               < geo_distance (met.items[best].at, corner))
      best = i;
  gboolean found = best < met.count;
  if (found)
    {
      GeoCrossing x = met.items[best];
      slice (&a, (GeoPlace){ 0, 0 }, x.a);
      slice (&b, x.b, (GeoPlace){ b.count - 1, 1 });
      found = a.count > 0 && b.count > 0;
    }
  if (found)
    {
      GeoPoint at = met.items[best].at;
      a.cubics[a.count - 1].p[3] = at;
      b.cubics[0].p[0] = at;
      geo_chain_copy (before, &a);
      geo_chain_copy (after, &b);
    }
  geo_crossings_clear (&met);
  geo_chain_clear (&a);
  geo_chain_clear (&b);
  return found;
}
