/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What unsound.c asks of fittings and changes. */
#include <glib/gi18n.h>

#include "pattern/change.h"
#include "pattern/unsound.h"

static char *
look_at_fitting (const Pattern *pattern, guint i)
{
  const PatternFitting *fitting = pattern->fittings[i];
  if (!fitting->name || !fitting->note)
    return g_strdup (_ ("A fitting has no name or note, not even an empty "
                        "one."));
  if (fitting->at > pattern->n_changes
      || (i == 0 ? fitting->at != 0
                 : fitting->at < pattern->fittings[i - 1]->at))
    return g_strdup_printf (
        _ ("The fitting “%s” does not stand among the changes."),
        fitting->name);
  if (fitting->kept->n_fittings > 0 || fitting->kept->n_changes > 0)
    return g_strdup_printf (_ ("The fitting “%s” keeps a fitting of its own."),
                            fitting->name);
  g_autofree char *words = pattern_unsound (fitting->kept);
  if (words)
    /* Translators: the second is a whole sentence. */
    return g_strdup_printf (_ ("In the fitting “%s”: %s"), fitting->name,
                            words);
  return NULL;
}

static char *
look_at_change (const PatternChange *change)
{
  if (!change->label)
    return g_strdup (_ ("A change has no name, not even an empty one."));
  if (change->step ? change->was || change->is || !change->step->verb
                   : !change->was || !change->is)
    return g_strdup_printf (_ ("The change “%s” says neither what was done "
                               "nor what it touched."),
                            change->label);
  if (change->step)
    return NULL;
  g_autofree char *was = pattern_unsound_parts (change->was);
  g_autofree char *is = pattern_unsound_parts (change->is);
  if (was || is)
    /* Translators: the second is a whole sentence. */
    return g_strdup_printf (_ ("In the change “%s”: %s"), change->label,
                            was ? was : is);
  return NULL;
}

char *
pattern_unsound_fittings (const Pattern *pattern)
{
  if (pattern->n_fittings == 0 && pattern->n_changes > 0)
    return g_strdup (_ ("There are changes since a fitting, but no "
                        "fitting."));
  for (guint i = 0; i < pattern->n_fittings; i++)
    {
      char *words = look_at_fitting (pattern, i);
      if (words)
        return words;
    }
  for (guint i = 0; i < pattern->n_changes; i++)
    {
      char *words = look_at_change (pattern->changes[i]);
      if (words)
        return words;
    }
  return NULL;
}
