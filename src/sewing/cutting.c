/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/cutting.h"

GArray *
sewing_cutting_list (SewingFacts *facts, const Pattern *pattern)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL, NULL);
  GArray *list = g_array_new (FALSE, FALSE, sizeof (SewingCutting));
  for (guint c = 0; c < pattern->n_cloths; c++)
    for (guint p = 0; p < pattern->n_pieces; p++)
      {
        const PatternPiece *piece = pattern->pieces[p];
        for (guint i = 0; i < piece->n_cuts; i++)
          {
            const PatternCut *cut = &piece->cuts[i];
            if (cut->cloth != pattern->cloths[c].id || cut->count <= 0)
              continue;
            gboolean on_fold = pattern_piece_on_fold (piece);
            double area = sewing_facts_piece (facts, piece)->ring.area;
            SewingCutting item = { .cloth = cut->cloth,
                                   .piece = piece->id,
                                   .count = cut->count,
                                   .mirrored = cut->mirrored,
                                   .on_fold = on_fold,
                                   .area = on_fold ? 2 * area : area };
            g_array_append_val (list, item);
          }
      }
  return list;
}

double
sewing_cutting_area (const GArray *list, guint cloth)
{
  double area = 0;
  for (guint i = 0; i < list->len; i++)
    {
      const SewingCutting *item = &g_array_index (list, SewingCutting, i);
      if (item->cloth == cloth)
        area += item->area * item->count;
    }
  return area;
}
