/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/history.h"

typedef struct
{
  char *label;
  char *merge;
  Pattern *pattern;
} Step;

struct _PatternHistory
{
  GArray *steps;  /* of Step; never empty */
  guint position; /* the current step */
  gint64 saved;   /* -1 where the file holds none of the steps */
};

static void
clear_step (gpointer data)
{
  Step *step = data;
  g_free (step->label);
  g_free (step->merge);
  pattern_unref (step->pattern);
}

static Step *
nth (const PatternHistory *history, guint step)
{
  return &g_array_index (history->steps, Step, step);
}

PatternHistory *
pattern_history_new (const Pattern *first)
{
  g_return_val_if_fail (first != NULL, NULL);
  PatternHistory *history = g_new0 (PatternHistory, 1);
  history->steps = g_array_new (FALSE, TRUE, sizeof (Step));
  g_array_set_clear_func (history->steps, clear_step);
  Step step = { NULL, NULL, pattern_ref (first) };
  g_array_append_val (history->steps, step);
  return history;
}

void
pattern_history_free (PatternHistory *history)
{
  g_return_if_fail (history != NULL);
  g_array_unref (history->steps);
  g_free (history);
}

const Pattern *
pattern_history_get_current (const PatternHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);
  return nth (history, history->position)->pattern;
}

void
pattern_history_push_merged (PatternHistory *history, const char *label,
                             const char *merge, const Pattern *pattern)
{
  g_return_if_fail (history != NULL && pattern != NULL);
  Step step = { g_strdup (label ? label : ""), g_strdup (merge),
                pattern_ref (pattern) };
  guint last = history->steps->len - 1;
  Step *newest = nth (history, last);
  if (merge && history->position == last
      && g_strcmp0 (merge, newest->merge) == 0)
    {
      clear_step (newest);
      *newest = step;
      return;
    }
  if (history->position < last)
    g_array_remove_range (history->steps, history->position + 1,
                          last - history->position);
  if (history->saved > (gint64)history->position)
    history->saved = -1;
  g_array_append_val (history->steps, step);
  history->position++;
}

void
pattern_history_push (PatternHistory *history, const char *label,
                      const Pattern *pattern)
{
  pattern_history_push_merged (history, label, NULL, pattern);
}

void
pattern_history_seal (PatternHistory *history)
{
  g_return_if_fail (history != NULL);
  g_clear_pointer (&nth (history, history->steps->len - 1)->merge, g_free);
}

gboolean
pattern_history_go (PatternHistory *history, guint step)
{
  g_return_val_if_fail (history != NULL, FALSE);
  if (step >= history->steps->len)
    return FALSE;
  if (step != history->position)
    pattern_history_seal (history);
  history->position = step;
  return TRUE;
}

gboolean
pattern_history_undo (PatternHistory *history)
{
  g_return_val_if_fail (history != NULL, FALSE);
  return history->position > 0
         && pattern_history_go (history, history->position - 1);
}

gboolean
pattern_history_redo (PatternHistory *history)
{
  g_return_val_if_fail (history != NULL, FALSE);
  return pattern_history_go (history, history->position + 1);
}

const char *
pattern_history_get_undo_label (const PatternHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);
  return history->position > 0 ? nth (history, history->position)->label : NULL;
}

const char *
pattern_history_get_redo_label (const PatternHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);
  return pattern_history_get_label (history, history->position + 1);
}

guint
pattern_history_get_length (const PatternHistory *history)
{
  g_return_val_if_fail (history != NULL, 0);
  return history->steps->len;
}

guint
pattern_history_get_position (const PatternHistory *history)
{
  g_return_val_if_fail (history != NULL, 0);
  return history->position;
}

const char *
pattern_history_get_label (const PatternHistory *history, guint step)
{
  g_return_val_if_fail (history != NULL, NULL);
  return step < history->steps->len ? nth (history, step)->label : NULL;
}

const Pattern *
pattern_history_get_pattern (const PatternHistory *history, guint step)
{
  g_return_val_if_fail (history != NULL, NULL);
  return step < history->steps->len ? nth (history, step)->pattern : NULL;
}

void
pattern_history_mark_saved (PatternHistory *history)
{
  g_return_if_fail (history != NULL);
  pattern_history_seal (history);
  history->saved = history->position;
}

void
pattern_history_mark_unsaved (PatternHistory *history)
{
  g_return_if_fail (history != NULL);
  history->saved = -1;
}

gboolean
pattern_history_is_saved (const PatternHistory *history)
{
  g_return_val_if_fail (history != NULL, FALSE);
  return history->saved == (gint64)history->position;
}
