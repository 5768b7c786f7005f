/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/facts-private.h"

#include "geometry/crossing.h"
#include "geometry/region.h"
#include "sewing/middle.h"

/* Lengths and cutting lines are shown to 0.1 mm; these leave room to add up. */
#define LENGTH_TOLERANCE 1e-7
#define RING_TOLERANCE 0.01

static void
piece_free (gpointer data)
{
  SewingPiece *p = data;
  for (guint i = 0; i < p->piece->n_edges; i++)
    {
      geo_ruler_clear (&p->rulers[i]);
      geo_chain_clear (&p->stitch[i]);
    }
  g_free (p->rulers);
  g_free (p->stitch);
  g_free (p->lengths);
  geo_ring_clear (&p->ring);
  g_free (((SewingPieceEntry *)p)->bias);
  g_free (((SewingPieceEntry *)p)->turning);
  pattern_piece_unref ((PatternPiece *)p->piece);
  g_free (p);
}

static void
find_crossing (SewingPiece *p, const GeoChain *outline)
{
  GeoCrossings crossings;
  geo_crossings_init (&crossings);
  geo_chain_self_crossings (outline, &crossings);
  p->crosses = crossings.count > 0;
  if (p->crosses)
    p->crosses_at = crossings.items[0].at;
  geo_crossings_clear (&crossings);
}

static void
make_ring (SewingPiece *p)
{
  const PatternPiece *piece = p->piece;
  g_autofree GeoRingEdge *edges = g_new0 (GeoRingEdge, piece->n_edges);
  for (guint i = 0; i < piece->n_edges; i++)
    edges[i] = (GeoRingEdge){ .stitch = &p->stitch[i],
                              .width = pattern_edge_width (&piece->edges[i]),
                              .corner = piece->edges[i].corner };
  geo_ring_init (&p->ring);
  geo_ring_make (edges, piece->n_edges, RING_TOLERANCE, &p->ring);
}

static SewingPiece *
piece_make (const PatternPiece *piece)
{
  SewingPieceEntry *entry = g_new0 (SewingPieceEntry, 1);
  SewingPiece *p = &entry->known;
  guint n = piece->n_edges;
  p->piece = pattern_piece_ref (piece);
  p->stitch = g_new0 (GeoChain, n);
  p->rulers = g_new0 (GeoRuler, n);
  p->lengths = g_new0 (double, n);
  GeoChain outline = GEO_CHAIN_EMPTY;
  for (guint i = 0; i < n; i++)
    {
      geo_chain_init (&p->stitch[i]);
      pattern_piece_edge_chain (piece, i, &p->stitch[i]);
      geo_ruler_init (&p->rulers[i], &p->stitch[i], LENGTH_TOLERANCE);
      p->lengths[i] = geo_ruler_length (&p->rulers[i]);
      p->perimeter += p->lengths[i];
      geo_chain_append_chain (&outline, &p->stitch[i]);
    }
  p->area = geo_chain_area (&outline);
  p->bounds = geo_chain_bounds (&outline);
  p->middle = sewing_middle (&outline);
  find_crossing (p, &outline);
  make_ring (p);
  if (p->ring.outline.count > 0)
    p->bounds = geo_box_join (p->bounds, geo_chain_bounds (&p->ring.outline));
  geo_chain_clear (&outline);
  return p;
}

SewingFacts *
sewing_facts_new (void)
{
  SewingFacts *facts = g_new0 (SewingFacts, 1);
  facts->pieces = g_hash_table_new_full (NULL, NULL, NULL, piece_free);
  facts->seams
      = g_hash_table_new_full (sewing_seam_entry_hash, sewing_seam_entry_equal,
                               (GDestroyNotify)sewing_seam_entry_free, NULL);
  return facts;
}

void
sewing_facts_free (SewingFacts *facts)
{
  if (facts == NULL)
    return;
  sewing_edge_index_clear (&facts->index);
  g_hash_table_unref (facts->seams);
  g_hash_table_unref (facts->pieces);
  g_free (facts);
}

const SewingPiece *
sewing_facts_piece (SewingFacts *facts, const PatternPiece *piece)
{
  g_return_val_if_fail (facts != NULL && piece != NULL, NULL);
  SewingPiece *p = g_hash_table_lookup (facts->pieces, piece);
  if (p == NULL)
    {
      p = piece_make (piece);
      g_hash_table_insert (facts->pieces, (gpointer)piece, p);
    }
  return p;
}

/* --- letting go ---------------------------------------------------------------- */

/* Kept beyond what the patterns have, before it is worth looking for what to let go: each
 * frame of a drag leaves a piece and its seams. */
#define SPARE_PIECES 64
#define SPARE_SEAMS 256

static gboolean
is_worth_it (const SewingFacts *facts, const Pattern *pattern,
             const Pattern *old)
{
  guint pieces = pattern != NULL ? pattern->n_pieces : 0;
  guint seams = pattern != NULL ? pattern->n_seams : 0;
  if (old == NULL)
    return TRUE;
  pieces = MAX (pieces, old->n_pieces);
  seams = MAX (seams, old->n_seams);
  return g_hash_table_size (facts->pieces) > pieces + SPARE_PIECES
         || g_hash_table_size (facts->seams) > seams + SPARE_SEAMS;
}

static GHashTable *
addresses (gconstpointer *of_one, guint n, gconstpointer *of_other, guint m)
{
  GHashTable *set = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < n; i++)
    g_hash_table_add (set, (gpointer)of_one[i]);
  for (guint i = 0; i < m; i++)
    g_hash_table_add (set, (gpointer)of_other[i]);
  return set;
}

static gboolean
is_known (const SewingSeamEntry *entry, GHashTable *pieces, GHashTable *seams,
          const Pattern *pattern, const Pattern *old)
{
  if (!g_hash_table_contains (seams, entry->seam))
    return FALSE;
  for (guint i = 0; i < entry->n_pieces; i++)
    if (!g_hash_table_contains (pieces, entry->pieces[i]))
      return FALSE;
  /* All of one pattern, not some of either. */
  return (pattern != NULL && sewing_seam_entry_is_of (entry, pattern))
         || (old != NULL && sewing_seam_entry_is_of (entry, old));
}

void
sewing_facts_keep (SewingFacts *facts, const Pattern *pattern,
                   const Pattern *old)
{
  g_return_if_fail (facts != NULL);
  if (!is_worth_it (facts, pattern, old))
    return;
  static const Pattern none;
  const Pattern *a = pattern != NULL ? pattern : &none;
  const Pattern *b = old != NULL ? old : &none;
  g_autoptr (GHashTable) pieces
      = addresses ((gconstpointer *)a->pieces, a->n_pieces,
                   (gconstpointer *)b->pieces, b->n_pieces);
  g_autoptr (GHashTable) seams
      = addresses ((gconstpointer *)a->seams, a->n_seams,
                   (gconstpointer *)b->seams, b->n_seams);
  GHashTableIter iter;
  gpointer key;
  g_hash_table_iter_init (&iter, facts->seams);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    if (!is_known (key, pieces, seams, pattern, old))
      g_hash_table_iter_remove (&iter);
  g_hash_table_iter_init (&iter, facts->pieces);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    if (!g_hash_table_contains (pieces, key))
      g_hash_table_iter_remove (&iter);
}

const SewingSeam *
sewing_facts_seam (SewingFacts *facts, const Pattern *pattern,
                   const PatternSeam *seam)
{
  SewingSeamEntry *entry = sewing_seam_entry (facts, pattern, seam);
  return entry != NULL ? &entry->facts : NULL;
}

gboolean
sewing_notch_place (const SewingPiece *piece, const PatternNotch *notch,
                    GeoPoint *at, GeoPoint *outward)
{
  g_return_val_if_fail (piece != NULL && notch != NULL, FALSE);
  int edge = pattern_piece_find_edge (piece->piece, notch->edge);
  if (edge < 0 || piece->stitch[edge].count == 0)
    return FALSE;
  const GeoRuler *ruler = &piece->rulers[edge];
  GeoPlace place = geo_ruler_place (
      ruler, pattern_notch_place (notch, piece->lengths[edge]));
  *at = geo_chain_point (ruler->chain, place);
  GeoPoint inward = geo_left (geo_chain_tangent (ruler->chain, place));
  *outward = geo_scale (inward, -1);
  return TRUE;
}

GeoPoint
sewing_seam_point (const SewingSeam *seam, int side, double at)
{
  g_return_val_if_fail (seam != NULL && (side == 0 || side == 1),
                        geo_point (0, 0));
  return geo_chain_point (&seam->chains[side],
                          geo_ruler_place (&seam->rulers[side], at));
}
