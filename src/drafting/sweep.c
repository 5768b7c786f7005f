/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many slashes at once. */
#include <glib/gi18n.h>

#include "drafting/slash-private.h"
#include "geometry/length.h"
#include "sewing/words.h"

#define MOST_SLASHES 60
#define FAIR_WITHIN 2.0 /* mm: what the eye does not miss in a hem */

typedef struct
{
  const PatternRun *runs[2];
  guint n_runs[2];
  guint count;
  double total[2];
  gboolean smooth;
} Sweep;

/* A place at a share of a run of edges. */
static gboolean
place_on_runs (const PatternPiece *piece, const PatternRun *runs, guint n,
               double share, DraftingPlace *place, GError **error)
{
  g_autofree double *lengths = g_new (double, n);
  double whole = 0;
  for (guint i = 0; i < n; i++)
    {
      int edge = drafting_find_edge (piece, runs[i].edge, error);
      if (edge < 0)
        return FALSE;
      lengths[i] = drafting_edge_length (piece, (guint)edge);
      whole += lengths[i];
    }
  double left = share * whole;
  guint i = 0;
  for (; i + 1 < n && left > lengths[i]; i++)
    left -= lengths[i];
  left = MIN (left, lengths[i]);
  *place = (DraftingPlace){ piece->id, runs[i].edge,
                            runs[i].reversed ? lengths[i] - left : left };
  return TRUE;
}

static int
farther_first (gconstpointer a, gconstpointer b)
{
  const DraftingPlace *one = a, *two = b;
  return one->at > two->at ? -1 : one->at < two->at;
}

typedef struct
{
  DraftingPlace place;
  guint *node;
} Wanted;

/* Nodes at all the places; on each edge the farthest first, so that lengths from its start
 * hold. */
static gboolean
put_nodes (DraftingChange *c, const Sweep *sweep, DraftingCut *cuts,
           GError **error)
{
  g_autoptr (GArray) wanted = g_array_new (FALSE, FALSE, sizeof (Wanted));
  for (guint k = 0; k < 2 * sweep->count; k++)
    {
      guint i = k / 2, end = k % 2;
      Wanted want = { .node = end == 0 ? &cuts[i].from : &cuts[i].to };
      if (!place_on_runs (c->piece, sweep->runs[end], sweep->n_runs[end],
                          (i + 1.0) / (sweep->count + 1), &want.place, error))
        return FALSE;
      g_array_append_val (wanted, want);
    }
  g_array_sort (wanted, farther_first);
  for (guint k = 0; k < wanted->len; k++)
    {
      Wanted *want = &g_array_index (wanted, Wanted, k);
      *want->node = drafting_change_node_at (c, want->place.edge,
                                             want->place.at, error);
      if (*want->node == 0)
        return FALSE;
    }
  return TRUE;
}

static gboolean
cross (GeoPoint a, GeoPoint b, GeoPoint c, GeoPoint d)
{
  GeoPoint ab = geo_sub (b, a), cd = geo_sub (d, c);
  return geo_cross (ab, geo_sub (c, a)) * geo_cross (ab, geo_sub (d, a)) < 0
         && geo_cross (cd, geo_sub (a, c)) * geo_cross (cd, geo_sub (b, c)) < 0;
}

/* Where the second run was walked so that slashes cross, it is walked the other way: its
 * places are the same. */
static void
uncross (const DraftingChange *c, DraftingCut *cuts, guint n)
{
  if (!cross (drafting_change_node (c, cuts[0].from)->at,
              drafting_change_node (c, cuts[0].to)->at,
              drafting_change_node (c, cuts[n - 1].from)->at,
              drafting_change_node (c, cuts[n - 1].to)->at))
    return;
  for (guint i = 0, k = n - 1; i < k; i++, k--)
    {
      guint to = cuts[i].to;
      cuts[i].to = cuts[k].to;
      cuts[k].to = to;
    }
}

static Pattern *
attempt (const Pattern *p, gconstpointer what, double share, GError **error)
{
  const Sweep *sweep = what;
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_change_begin (&c, p, sweep->runs[0][0].piece, error))
    return NULL;
  g_autofree DraftingCut *cuts = g_new0 (DraftingCut, sweep->count);
  if (!put_nodes (&c, sweep, cuts, error))
    return NULL;
  uncross (&c, cuts, sweep->count);
  drafting_change_hold (&c);
  for (guint i = 0; i < sweep->count; i++)
    {
      cuts[i].open_from = share * sweep->total[0] / sweep->count;
      cuts[i].open_to = share * sweep->total[1] / sweep->count;
      cuts[i].fair = TRUE;
      if (!drafting_slash_cut (&c, &cuts[i], error)
          || !drafting_slash_spread (&c, &cuts[i], error))
        return NULL;
    }
  for (guint i = 0; i < sweep->count; i++)
    if (!drafting_slash_mend (&c, &cuts[i], error))
      return NULL;
  for (guint end = 0; sweep->smooth && end < 2; end++)
    for (guint r = 0; r < sweep->n_runs[end]; r++)
      drafting_change_fair (&c, sweep->runs[end][r].edge, FAIR_WITHIN,
                            sweep->total[end] == 0);
  return drafting_change_finish (&c, error);
}

Pattern *
drafting_sweep (const Pattern *p, const PatternRun *open, guint n_open,
                const PatternRun *hinge, guint n_hinge, guint count,
                double total, double total_to, gboolean smooth, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!drafting_number_is_good (total, error)
      || !drafting_number_is_good (total_to, error))
    return NULL;
  gboolean one_piece = n_open > 0 && n_hinge > 0;
  for (guint i = 0; one_piece && i < n_open; i++)
    one_piece = open[i].piece == open[0].piece;
  for (guint i = 0; one_piece && i < n_hinge; i++)
    one_piece = hinge[i].piece == open[0].piece;
  if (!one_piece)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("Slashes run from one edge of a piece to another of "
                          "the same piece. Nothing was changed."));
      return NULL;
    }
  if (count < 1 || count > MOST_SLASHES)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("There can be 1 to %d slashes. Nothing was "
                          "changed."),
                       MOST_SLASHES);
      return NULL;
    }
  Sweep sweep = {
    { open, hinge }, { n_open, n_hinge }, count, { total, total_to }, smooth
  };
  double amount = fabs (total) >= fabs (total_to) ? total : total_to;
  return drafting_try (p, attempt, &sweep, amount, DRAFTING_WORDS_LENGTH,
                       error);
}
