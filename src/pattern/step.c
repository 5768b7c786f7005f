/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/step.h"

#include <string.h>

#include "pattern/parts.h"

PatternStep *
pattern_step_new (const char *verb)
{
  g_return_val_if_fail (verb != NULL, NULL);
  PatternStep *step = g_new0 (PatternStep, 1);
  step->verb = g_strdup (verb);
  return step;
}

PatternStep *
pattern_step_dup (const PatternStep *step)
{
  g_return_val_if_fail (step != NULL, NULL);
  PatternStep *copy = pattern_step_new (step->verb);
  for (guint i = 0; i < step->n_arguments; i++)
    pattern_step_set (copy, step->arguments[i].key, step->arguments[i].text);
  return copy;
}

void
pattern_step_free (PatternStep *step)
{
  if (step == NULL)
    return;
  for (guint i = 0; i < step->n_arguments; i++)
    {
      g_free (step->arguments[i].key);
      g_free (step->arguments[i].text);
    }
  g_free (step->arguments);
  g_free (step->verb);
  g_free (step);
}

static PatternArgument *
find_argument (const PatternStep *step, const char *key)
{
  for (guint i = 0; i < step->n_arguments; i++)
    if (strcmp (step->arguments[i].key, key) == 0)
      return &step->arguments[i];
  return NULL;
}

void
pattern_step_set (PatternStep *step, const char *key, const char *text)
{
  g_return_if_fail (step != NULL && key != NULL);
  PatternArgument *found = find_argument (step, key);
  if (found && text)
    pattern_set_string (&found->text, text);
  else if (found)
    {
      g_free (found->key);
      g_free (found->text);
      PATTERN_TAKE_OUT (step->arguments, step->n_arguments,
                        found - step->arguments);
    }
  else if (text)
    {
      PatternArgument argument = { g_strdup (key), g_strdup (text) };
      PATTERN_APPEND (step->arguments, step->n_arguments, argument);
    }
}

const char *
pattern_step_get (const PatternStep *step, const char *key)
{
  g_return_val_if_fail (step != NULL && key != NULL, NULL);
  const PatternArgument *found = find_argument (step, key);
  return found ? found->text : NULL;
}

gboolean
pattern_step_equal (const PatternStep *a, const PatternStep *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);
  if (strcmp (a->verb, b->verb) != 0 || a->n_arguments != b->n_arguments)
    return FALSE;
  for (guint i = 0; i < a->n_arguments; i++)
    if (strcmp (a->arguments[i].key, b->arguments[i].key) != 0
        || strcmp (a->arguments[i].text, b->arguments[i].text) != 0)
      return FALSE;
  return TRUE;
}
