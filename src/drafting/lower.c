/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One end of an edge raised or lowered.
 *
 * The end M slides along the edge beside it to M + v. A node of the edge that stands at the share u of its length from the
 * far end F goes by w (u) v, with its handles, w = u^2 (3 - 2 u), which is level at both ends. At F
 * w = 0, so that F and the direction there stay; at M w = 1, so that the handle there goes
 * along as it is, and with it the direction. */
#include <glib/gi18n.h>

#include "drafting/shift-private.h"
#include "geometry/length.h"
#include "sewing/words.h"

#define LEAST_LEFT 0.5 /* mm of the edge beside */

typedef struct
{
  guint piece, edge;
  gboolean at_start;
  double by;
} Lower;

static gboolean
too_far (const Pattern *p, const PatternPiece *piece, guint beside,
         GError **error)
{
  g_autofree char *name = sewing_words_edge (piece, beside);
  g_autofree char *length
      = sewing_words_length (p, drafting_edge_length (piece, beside));
  return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                          _ ("The end can't slide that far: %s is %s long. "
                             "Nothing was changed."),
                          name, length);
}

/* The edge beside cut off, or drawn on straight, at the end that meets the edge. */
static gboolean
slide (GeoChain *beside, gboolean at_its_end, double by)
{
  double length = geo_chain_length (beside, DRAFTING_EXACT);
  if (by > length - LEAST_LEFT)
    return FALSE;
  if (at_its_end)
    geo_chain_reverse (beside);
  if (by >= 0)
    {
      GeoPlace from = geo_chain_at_length (beside, by, DRAFTING_EXACT);
      GeoPlace to = { beside->count - 1, 1 };
      GeoChain part = GEO_CHAIN_EMPTY;
      geo_chain_slice (beside, from, to, &part);
      geo_chain_copy (beside, &part);
      geo_chain_clear (&part);
    }
  else
    {
      GeoPoint start = geo_chain_start (beside);
      GeoPoint way = geo_chain_tangent (beside, (GeoPlace){ 0, 0 });
      GeoPoint to = geo_along (start, way, by);
      if (geo_cubic_is_straight (&beside->cubics[0], 1e-9))
        beside->cubics[0] = geo_cubic_line (to, beside->cubics[0].p[3]);
      else
        {
          GeoChain longer = GEO_CHAIN_EMPTY;
          geo_chain_append_line (&longer, to, start);
          geo_chain_append_chain (&longer, beside);
          geo_chain_copy (beside, &longer);
          geo_chain_clear (&longer);
        }
    }
  if (at_its_end)
    geo_chain_reverse (beside);
  return beside->count > 0;
}

static GeoPoint
gone (GeoPoint at, GeoPoint by, double share)
{
  return geo_along (at, by, share);
}

static void
draw_along (GeoChain *chain, gboolean at_start, GeoPoint by)
{
  double whole = geo_chain_length (chain, DRAFTING_EXACT), before = 0;
  for (size_t i = 0; i < chain->count; i++)
    {
      GeoCubic *c = &chain->cubics[i];
      double length = geo_cubic_length (c, DRAFTING_EXACT);
      double u0 = whole > 0 ? before / whole : 0;
      double u1 = whole > 0 ? (before + length) / whole : 1;
      if (at_start)
        {
          u0 = 1 - u0;
          u1 = 1 - u1;
        }
      if (i == 0)
        u0 = at_start ? 1 : 0;
      if (i + 1 == chain->count)
        u1 = at_start ? 0 : 1;
      double w0 = u0 * u0 * (3 - 2 * u0), w1 = u1 * u1 * (3 - 2 * u1);
      c->p[0] = gone (c->p[0], by, w0);
      c->p[1] = gone (c->p[1], by, w0);
      c->p[2] = gone (c->p[2], by, w1);
      c->p[3] = gone (c->p[3], by, w1);
      before += length;
    }
}

/* A straight side stays one. */
static gboolean
is_line (const GeoChain *chain)
{
  return chain->count == 1 && geo_cubic_is_straight (&chain->cubics[0], 1e-9);
}

static Pattern *
attempt (const Pattern *p, gconstpointer what, double share, GError **error)
{
  const Lower *lower = what;
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_change_begin (&c, p, lower->piece, error))
    return NULL;
  int found = drafting_find_edge (c.piece, lower->edge, error);
  if (found < 0)
    return NULL;
  guint m = c.piece->n_edges, edge = (guint)found;
  guint beside = lower->at_start ? (edge + m - 1) % m : (edge + 1) % m;
  if (beside == edge)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("This edge runs all the way round its piece and has "
                          "no end to move. Nothing was changed."));
      return NULL;
    }
  g_autofree GeoChain *chains = g_new0 (GeoChain, m);
  g_autofree gboolean *changed = g_new0 (gboolean, m);
  changed[edge] = changed[beside] = TRUE;
  pattern_piece_edge_chain (c.piece, edge, &chains[edge]);
  pattern_piece_edge_chain (c.piece, beside, &chains[beside]);
  GeoPoint old = lower->at_start ? geo_chain_start (&chains[edge])
                                 : geo_chain_end (&chains[edge]);
  gboolean good = slide (&chains[beside], lower->at_start, share * lower->by);
  if (!good)
    too_far (p, c.piece, beside, error);
  else
    {
      GeoPoint now = lower->at_start ? geo_chain_end (&chains[beside])
                                     : geo_chain_start (&chains[beside]);
      if (is_line (&chains[edge]))
        chains[edge].cubics[0]
            = lower->at_start
                  ? geo_cubic_line (now, chains[edge].cubics[0].p[3])
                  : geo_cubic_line (chains[edge].cubics[0].p[0], now);
      else
        draw_along (&chains[edge], lower->at_start, geo_sub (now, old));
      GeoCubic *last = lower->at_start
                           ? &chains[edge].cubics[0]
                           : &chains[edge].cubics[chains[edge].count - 1];
      last->p[lower->at_start ? 0 : 3] = now;
      drafting_lay_outline (c.pattern, c.piece, chains, changed);
    }
  geo_chain_clear (&chains[edge]);
  geo_chain_clear (&chains[beside]);
  return good ? drafting_change_finish (&c, error) : NULL;
}

Pattern *
drafting_lower_end (const Pattern *p, guint piece, guint edge,
                    gboolean at_start, double by, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!drafting_number_is_good (by, error))
    return NULL;
  Lower lower = { piece, edge, at_start, by };
  return drafting_try (p, attempt, &lower, by, DRAFTING_WORDS_LENGTH, error);
}
