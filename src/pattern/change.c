/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/change.h"

#include "pattern/parts.h"

/* --- fittings ---------------------------------------------------------------------- */
PatternFitting *
pattern_fitting_new (guint id, const char *name, const char *note,
                     const Pattern *kept, guint at)
{
  g_return_val_if_fail (kept != NULL, NULL);
  PatternFitting *fitting = g_new0 (PatternFitting, 1);
  g_atomic_ref_count_init (&fitting->refs);
  fitting->id = id;
  fitting->name = g_strdup (name ? name : "");
  fitting->note = g_strdup (note ? note : "");
  fitting->at = at;
  if (kept->n_fittings == 0 && kept->n_changes == 0 && kept->n_pictures == 0
      && kept->extra == NULL)
    fitting->kept = pattern_ref (kept);
  else
    {
      fitting->kept = pattern_dup (kept);
      pattern_clear_fittings (fitting->kept);
      /* Pictures are how a pattern is made, not how it was. */
      pattern_free_pictures (fitting->kept);
      /* What a newer version wrote of the whole document is the document's. */
      g_clear_pointer (&fitting->kept->extra, g_free);
    }
  return fitting;
}

PatternFitting *
pattern_fitting_ref (const PatternFitting *fitting)
{
  g_return_val_if_fail (fitting != NULL, NULL);
  PatternFitting *own = (PatternFitting *)fitting;
  g_atomic_ref_count_inc (&own->refs);
  return own;
}

void
pattern_fitting_unref (PatternFitting *fitting)
{
  g_return_if_fail (fitting != NULL);
  if (!g_atomic_ref_count_dec (&fitting->refs))
    return;
  g_free (fitting->name);
  g_free (fitting->note);
  pattern_unref (fitting->kept);
  g_free (fitting);
}

gboolean
pattern_fitting_equal (const PatternFitting *a, const PatternFitting *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);
  return a == b
         || (a->id == b->id && a->at == b->at
             && g_strcmp0 (a->name, b->name) == 0
             && g_strcmp0 (a->note, b->note) == 0
             && pattern_equal (a->kept, b->kept));
}

/* --- changes ----------------------------------------------------------------------- */
static PatternChange *
change_of (const char *label, guint next_id)
{
  PatternChange *change = g_new0 (PatternChange, 1);
  g_atomic_ref_count_init (&change->refs);
  change->label = g_strdup (label ? label : "");
  change->next_id = next_id;
  return change;
}

PatternChange *
pattern_change_new (const char *label, guint next_id, const PatternStep *step)
{
  g_return_val_if_fail (step != NULL, NULL);
  PatternChange *change = change_of (label, next_id);
  change->step = pattern_step_dup (step);
  return change;
}

PatternChange *
pattern_change_of_parts (const char *label, guint next_id, Pattern *was,
                         Pattern *is)
{
  g_return_val_if_fail (was != NULL && is != NULL, NULL);
  PatternChange *change = change_of (label, next_id);
  change->was = was;
  change->is = is;
  return change;
}

PatternChange *
pattern_change_ref (const PatternChange *change)
{
  g_return_val_if_fail (change != NULL, NULL);
  PatternChange *own = (PatternChange *)change;
  g_atomic_ref_count_inc (&own->refs);
  return own;
}

void
pattern_change_unref (PatternChange *change)
{
  g_return_if_fail (change != NULL);
  if (!g_atomic_ref_count_dec (&change->refs))
    return;
  g_free (change->label);
  g_free (change->merge);
  g_clear_pointer (&change->step, pattern_step_free);
  g_clear_pointer (&change->was, pattern_unref);
  g_clear_pointer (&change->is, pattern_unref);
  g_free (change);
}

gboolean
pattern_change_equal (const PatternChange *a, const PatternChange *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);
  if (a == b)
    return TRUE;
  if (a->next_id != b->next_id || g_strcmp0 (a->label, b->label) != 0
      || (a->step == NULL) != (b->step == NULL))
    return FALSE;
  if (a->step != NULL)
    return pattern_step_equal (a->step, b->step);
  return pattern_equal (a->was, b->was) && pattern_equal (a->is, b->is);
}
