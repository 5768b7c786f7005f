/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/polynomial.h"
#include "sewing/facts-private.h"
#include "sewing/strain.h"

#define LENGTH_TOLERANCE 1e-7
/* Half of the 45 degrees that are nearer to the bias than to either grain. */
#define EIGHTH (G_PI / 8)

/* Where the tangent crosses from bias to grain: P'(t) x d = 0 for the directions
 * d at 22.5, 67.5, 112.5 and 157.5 degrees to the grain. P' is of degree 2 with the
 * coefficients 3 (p[i + 1] - p[i]). */
static guint
crossings (const GeoCubic *c, double grain, double *t)
{
  guint n = 0;
  t[n++] = 0;
  for (int k = 0; k < 4; k++)
    {
      double angle = grain + (2 * k + 1) * EIGHTH;
      GeoPoint d = geo_point (cos (angle), sin (angle));
      double b[3], roots[2];
      for (int i = 0; i < 3; i++)
        b[i] = geo_cross (geo_sub (c->p[i + 1], c->p[i]), d);
      int found = geo_polynomial_roots (b, 2, roots);
      for (int i = 0; i < found; i++)
        t[n++] = roots[i];
    }
  t[n++] = 1;
  for (guint i = 1; i < n; i++)
    for (guint j = i; j > 0 && t[j] < t[j - 1]; j--)
      {
        double swap = t[j];
        t[j] = t[j - 1];
        t[j - 1] = swap;
      }
  return n;
}

static gboolean
is_bias (GeoPoint tangent, double grain)
{
  double off = fabs (remainder (atan2 (tangent.y, tangent.x) - grain, G_PI_2));
  return off > EIGHTH; /* of 45 degrees at most */
}

/* Stretches that touch are one. */
static void
add_run (GArray *runs, guint first, double from, double to)
{
  if (runs->len > first
      && g_array_index (runs, double, runs->len - 1) >= from - LENGTH_TOLERANCE)
    g_array_index (runs, double, runs->len - 1) = to;
  else
    {
      double pair[2] = { from, to };
      g_array_append_vals (runs, pair, 2);
    }
}

gboolean
sewing_bias_runs (const SewingPiece *piece, guint edge_index, GArray *runs)
{
  g_return_val_if_fail (piece != NULL && runs != NULL, FALSE);
  g_return_val_if_fail (edge_index < piece->piece->n_edges, FALSE);
  GeoPoint along = geo_sub (piece->piece->grain_to, piece->piece->grain_from);
  if (!piece->piece->has_grain || geo_norm (along) < 1e-9
      || !(piece->lengths[edge_index] > 0))
    return FALSE;
  double grain = atan2 (along.y, along.x), before = 0;
  const GeoChain *chain = &piece->stitch[edge_index];
  guint first = runs->len;
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      double t[10], from = 0;
      guint n = crossings (c, grain, t);
      for (guint k = 0; k + 1 < n; k++)
        {
          if (!(t[k + 1] > t[k]))
            continue;
          double to = geo_cubic_length_to (c, t[k + 1], LENGTH_TOLERANCE);
          if (is_bias (geo_cubic_tangent (c, (t[k] + t[k + 1]) / 2), grain))
            add_run (runs, first, before + from, before + to);
          from = to;
        }
      before += from;
    }
  return TRUE;
}

static gboolean
measure_share (const SewingPiece *piece, guint edge_index, double *share)
{
  g_return_val_if_fail (share != NULL, FALSE);
  g_autoptr (GArray) runs = g_array_new (FALSE, FALSE, sizeof (double));
  double bias = 0;
  if (!sewing_bias_runs (piece, edge_index, runs))
    return FALSE;
  for (guint i = 0; i + 1 < runs->len; i += 2)
    bias += g_array_index (runs, double, i + 1)
            - g_array_index (runs, double, i);
  *share = CLAMP (bias / piece->lengths[edge_index], 0, 1);
  return TRUE;
}

const SewingPieceEntry *
sewing_piece_run (const SewingPiece *piece)
{
  SewingPieceEntry *entry = (SewingPieceEntry *)piece;
  guint n = piece->piece->n_edges;
  if (entry->bias != NULL)
    return entry;
  entry->bias = g_new (double, n + 1);
  entry->turning = g_new (double, n + 1);
  for (guint i = 0; i < n; i++)
    {
      if (!measure_share (piece, i, &entry->bias[i]))
        entry->bias[i] = -1;
      entry->turning[i] = geo_chain_turning (&piece->stitch[i]);
    }
  return entry;
}

gboolean
sewing_bias_share (const SewingPiece *piece, guint edge_index, double *share)
{
  g_return_val_if_fail (piece != NULL && share != NULL, FALSE);
  g_return_val_if_fail (edge_index < piece->piece->n_edges, FALSE);
  double known = sewing_piece_run (piece)->bias[edge_index];
  if (known < 0)
    return FALSE;
  *share = known;
  return TRUE;
}
