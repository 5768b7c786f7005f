/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pattern's fittings and changes: putting in, taking out, finding. */
#include <string.h>

#include "pattern/change.h"
#include "pattern/parts.h"

#define RETURN_IF_SHARED(pattern)                                              \
  g_return_if_fail ((pattern) != NULL                                          \
                    && g_atomic_ref_count_compare (&(pattern)->refs, 1))

/* --- with the pattern's life ----------------------------------------------------- */
void
pattern_copy_fittings (Pattern *copy, const Pattern *pattern)
{
  copy->fittings = g_memdup2 (pattern->fittings,
                              pattern->n_fittings * sizeof *pattern->fittings);
  for (guint i = 0; i < copy->n_fittings; i++)
    pattern_fitting_ref (copy->fittings[i]);
  copy->changes = g_memdup2 (pattern->changes,
                             pattern->n_changes * sizeof *pattern->changes);
  for (guint i = 0; i < copy->n_changes; i++)
    pattern_change_ref (copy->changes[i]);
}

void
pattern_free_fittings (Pattern *pattern)
{
  for (guint i = 0; i < pattern->n_fittings; i++)
    pattern_fitting_unref ((PatternFitting *)pattern->fittings[i]);
  for (guint i = 0; i < pattern->n_changes; i++)
    pattern_change_unref ((PatternChange *)pattern->changes[i]);
  g_clear_pointer (&pattern->fittings, g_free);
  g_clear_pointer (&pattern->changes, g_free);
  pattern->n_fittings = pattern->n_changes = 0;
}

gboolean
pattern_fittings_equal (const Pattern *a, const Pattern *b)
{
  if (a->n_fittings != b->n_fittings || a->n_changes != b->n_changes)
    return FALSE;
  for (guint i = 0; i < a->n_fittings; i++)
    if (!pattern_fitting_equal (a->fittings[i], b->fittings[i]))
      return FALSE;
  for (guint i = 0; i < a->n_changes; i++)
    if (!pattern_change_equal (a->changes[i], b->changes[i]))
      return FALSE;
  return TRUE;
}

/* --- altering a copy ------------------------------------------------------------ */
void
pattern_put_fitting (Pattern *pattern, PatternFitting *fitting)
{
  RETURN_IF_SHARED (pattern);
  g_return_if_fail (fitting != NULL);
  if (fitting->id >= pattern->next_id && fitting->id < G_MAXUINT)
    pattern->next_id = fitting->id + 1;
  for (guint i = 0; i < pattern->n_fittings; i++)
    if (pattern->fittings[i]->id == fitting->id)
      {
        pattern_fitting_unref ((PatternFitting *)pattern->fittings[i]);
        pattern->fittings[i] = fitting;
        return;
      }
  PATTERN_APPEND (pattern->fittings, pattern->n_fittings, fitting);
}

/* Forgets the first n changes: fittings count from there. */
static void
forget_changes (Pattern *pattern, guint n)
{
  if (n == 0)
    return;
  for (guint i = 0; i < n; i++)
    pattern_change_unref ((PatternChange *)pattern->changes[i]);
  pattern->n_changes -= n;
  memmove (pattern->changes, pattern->changes + n,
           pattern->n_changes * sizeof *pattern->changes);
  for (guint i = 0; i < pattern->n_fittings; i++)
    {
      const PatternFitting *f = pattern->fittings[i];
      pattern->fittings[i]
          = pattern_fitting_new (f->id, f->name, f->note, f->kept, f->at - n);
      pattern_fitting_unref ((PatternFitting *)f);
    }
}

gboolean
pattern_remove_fitting (Pattern *pattern, guint id)
{
  g_return_val_if_fail (
      pattern != NULL && g_atomic_ref_count_compare (&pattern->refs, 1), FALSE);
  for (guint i = 0; i < pattern->n_fittings; i++)
    if (pattern->fittings[i]->id == id)
      {
        pattern_fitting_unref ((PatternFitting *)pattern->fittings[i]);
        PATTERN_TAKE_OUT (pattern->fittings, pattern->n_fittings, i);
        forget_changes (pattern, pattern->n_fittings == 0
                                     ? pattern->n_changes
                                     : pattern->fittings[0]->at);
        return TRUE;
      }
  return FALSE;
}

void
pattern_add_change (Pattern *pattern, PatternChange *change)
{
  RETURN_IF_SHARED (pattern);
  g_return_if_fail (change != NULL);
  PATTERN_APPEND (pattern->changes, pattern->n_changes, change);
}

void
pattern_cut_changes (Pattern *pattern, guint n)
{
  RETURN_IF_SHARED (pattern);
  for (guint i = n; i < pattern->n_changes; i++)
    pattern_change_unref ((PatternChange *)pattern->changes[i]);
  pattern->n_changes = MIN (n, pattern->n_changes);
}

void
pattern_clear_fittings (Pattern *pattern)
{
  RETURN_IF_SHARED (pattern);
  pattern_free_fittings (pattern);
}

/* --- asking --------------------------------------------------------------------- */
const PatternFitting *
pattern_get_fitting (const Pattern *pattern, guint id)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  for (guint i = 0; i < pattern->n_fittings; i++)
    if (pattern->fittings[i]->id == id)
      return pattern->fittings[i];
  return NULL;
}
