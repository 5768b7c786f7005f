/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which seams an edge is in. Patterns that differ in a piece share their seams, so a
 * drag asks the same index in each of its frames; whether the list of seams is
 * still the same is told by comparing addresses, which are held. */
#include <string.h>

#include "sewing/facts-private.h"

typedef struct
{
  guint piece, edge;
} Key;

static guint
key_hash (gconstpointer data)
{
  const Key *key = data;
  return key->piece * 2654435761u ^ key->edge * 40503u;
}

static gboolean
key_equal (gconstpointer a, gconstpointer b)
{
  const Key *x = a, *y = b;
  return x->piece == y->piece && x->edge == y->edge;
}

void
sewing_edge_index_clear (SewingEdgeIndex *index)
{
  for (guint i = 0; i < index->n_seams; i++)
    pattern_seam_unref ((PatternSeam *)index->seams[i]);
  g_free (index->seams);
  g_clear_pointer (&index->edges, g_hash_table_unref);
  *index = (SewingEdgeIndex){ 0 };
}

static gboolean
is_of (const SewingEdgeIndex *index, const Pattern *pattern)
{
  return index->edges != NULL && index->n_seams == pattern->n_seams
         && (index->n_seams == 0
             || memcmp (index->seams, pattern->seams,
                        index->n_seams * sizeof *index->seams)
                    == 0);
}

static void
add (SewingEdgeIndex *index, Key key, SewingWalked walked)
{
  GArray *list = g_hash_table_lookup (index->edges, &key);
  if (list == NULL)
    {
      list = g_array_new (FALSE, FALSE, sizeof (SewingWalked));
      g_hash_table_insert (index->edges, g_memdup2 (&key, sizeof key), list);
    }
  g_array_append_val (list, walked);
}

static void
make (SewingEdgeIndex *index, const Pattern *pattern)
{
  sewing_edge_index_clear (index);
  index->edges = g_hash_table_new_full (key_hash, key_equal, g_free,
                                        (GDestroyNotify)g_array_unref);
  index->n_seams = pattern->n_seams;
  index->seams = g_new (const PatternSeam *, pattern->n_seams + 1);
  for (guint i = 0; i < pattern->n_seams; i++)
    {
      const PatternSeam *seam = pattern->seams[i];
      index->seams[i] = pattern_seam_ref (seam);
      for (int side = 0; side < 2; side++)
        for (guint r = 0; r < seam->sides[side].n_runs; r++)
          {
            const PatternRun *run = &seam->sides[side].runs[r];
            add (index, (Key){ run->piece, run->edge },
                 (SewingWalked){ i, side, r });
          }
    }
}

const PatternSeam *
sewing_facts_edge_seam (SewingFacts *facts, const Pattern *pattern,
                        guint piece_id, guint edge_id, guint n, int *side,
                        guint *run)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL, NULL);
  if (!is_of (&facts->index, pattern))
    make (&facts->index, pattern);
  Key key = { piece_id, edge_id };
  const GArray *list = g_hash_table_lookup (facts->index.edges, &key);
  if (list == NULL || n >= list->len)
    return NULL;
  const SewingWalked *walked = &g_array_index (list, SewingWalked, n);
  if (side != NULL)
    *side = walked->side;
  if (run != NULL)
    *run = walked->run;
  return pattern->seams[walked->seam];
}
