/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A seam's other side made as long. */
#include <glib/gi18n.h>

#include "drafting/change-private.h"
#include "sewing/facts.h"

#define ALIKE 1e-9 /* mm */

Pattern *
drafting_carry_over (const Pattern *p, guint seam, int from, GError **error)
{
  g_return_val_if_fail (p != NULL && (from == 0 || from == 1), NULL);
  const PatternSeam *own = drafting_find_seam (p, seam, error);
  if (!own)
    return NULL;
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *s = sewing_facts_seam (facts, p, own);
  if (!s || own->join == PATTERN_JOIN_DART)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("A length can be carried over in a seam of two sides "
                          "only. Nothing was changed."));
      return NULL;
    }
  int to = 1 - from;
  double change = from == 0 ? s->out : -s->out;
  guint best = 0;
  for (guint r = 1; r < own->sides[to].n_runs; r++)
    if (s->joints[to][r + 1] - s->joints[to][r]
        > s->joints[to][best + 1] - s->joints[to][best])
      best = r;
  double length = s->joints[to][best + 1] - s->joints[to][best];
  const PatternRun *run = &own->sides[to].runs[best];
  if (fabs (change) < ALIKE)
    return pattern_ref (p);
  /* The seam's end moves where the longest run is last, else its start, so that joints inside
   * the side stay. */
  gboolean last = best + 1 == own->sides[to].n_runs;
  return drafting_set_edge_length (p, run->piece, run->edge, length + change,
                                   last == run->reversed, error);
}
