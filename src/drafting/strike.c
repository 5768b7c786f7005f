/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A notch struck on a seam's side at a walked place. */
#include <glib/gi18n.h>
#include <math.h>

#include "drafting/edit-private.h"
#include "sewing/words.h"

/* Two notches this near are one. */
#define SAME_PLACE 0.05

typedef struct
{
  const PatternRun *run;
  double at, length; /* from the edge's start; of the edge */
} Struck;

static gboolean
find_run (SewingFacts *facts, const Pattern *p, const PatternSeam *seam,
          int side, double at, Struck *struck)
{
  const SewingSeam *known = sewing_facts_seam (facts, p, seam);
  const PatternSide *runs = &seam->sides[side];
  if (known == NULL)
    return FALSE;
  const double *joints = known->joints[side];
  guint r = 0;
  while (r + 1 < runs->n_runs && at > joints[r + 1])
    r++;
  struck->run = &runs->runs[r];
  struck->length = joints[r + 1] - joints[r];
  double walked = CLAMP (at - joints[r], 0, struck->length);
  struck->at = struck->run->reversed ? struck->length - walked : walked;
  return struck->length > 0;
}

static gboolean
is_free (const Pattern *p, const PatternPiece *piece, const Struck *struck,
         GError **error)
{
  for (guint i = 0; i < piece->n_notches; i++)
    if (piece->notches[i].edge == struck->run->edge
        && fabs (pattern_notch_place (&piece->notches[i], struck->length)
                 - struck->at)
               < SAME_PLACE)
      {
        g_autofree char *name
            = sewing_words_edge_of (p, struck->run->piece, struck->run->edge);
        return drafting_refuse (
            error, DRAFTING_ERROR_SHAPE,
            _ ("There is a notch at that place on %s already."), name);
      }
  return TRUE;
}

Pattern *
drafting_strike_on_side (const Pattern *p, guint seam, int side, double at,
                         int count, guint *new_notch, GError **error)
{
  g_return_val_if_fail (p != NULL && (side == 0 || side == 1), NULL);
  g_return_val_if_fail (count >= 1 && count <= 3, NULL);
  const PatternSeam *own = drafting_find_seam (p, seam, error);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  Struck struck;
  if (own == NULL || !drafting_number_is_good (at, error))
    return NULL;
  if (!find_run (facts, p, own, side, at, &struck))
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("That side of the seam has no edge to strike a notch "
                          "on."));
      return NULL;
    }
  g_autoptr (PatternPiece) copy = drafting_begin (p, struck.run->piece, error);
  if (copy == NULL || !is_free (p, copy, &struck, error))
    return NULL;
  /* From the nearer end, which she would lay her tape to. */
  gboolean from_end = struck.at > struck.length / 2;
  guint next = p->next_id;
  PatternNotch notch
      = { .id = next++,
          .edge = struck.run->edge,
          .count = count,
          .from = from_end ? PATTERN_FROM_END : PATTERN_FROM_START,
          .amount = from_end ? struck.length - struck.at : struck.at };
  pattern_piece_add_notch (copy, notch);
  if (new_notch != NULL)
    *new_notch = notch.id;
  return drafting_finish_marks (p, g_steal_pointer (&copy), &next);
}
