/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading fittings and changes of the native document: patterns, and parts of patterns, within the
 * pattern. While one is read it stands in the place of the document's own. */
#include <glib/gi18n.h>
#include <string.h>

#include "file/document-reading.h"
#include "file/document.h"

/* So many times as many parts as one pattern may have may stand in all fittings and changes
 * together. */
#define INNER_SHARE 20

static const char *
take_text (FileTaking *t, const char *name)
{
  const char *text = file_take_text (t, name);
  return text != NULL ? text : "";
}

void
file_settle_lines (FileReading *r)
{
  Pattern *p = r->pattern;
  if (r->table->len == 0)
    return;
  p->lines = g_renew (PatternLine, p->lines, p->n_lines + r->table->len);
  memcpy (p->lines + p->n_lines, r->table->data,
          r->table->len * sizeof (PatternLine));
  p->n_lines += r->table->len;
  g_array_set_size (r->table, 0);
}

/* An outline turned inside out while it was being drawn is put the right way
 * round: nothing of it is lost, and everything else may rely on it. */
void
file_turn_outlines (Pattern *pattern)
{
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (pattern_piece_area (pattern->pieces[i]) < 0)
      {
        PatternPiece *piece = pattern_piece_dup (pattern->pieces[i]);
        pattern_piece_turn_round (piece);
        pattern_put_piece (pattern, piece);
        pattern_turn_runs (pattern, piece->id);
      }
}

/* --- one within the other ------------------------------------------------------------ */

/* What is limited by number is counted for each pattern anew. */
static void
enter (FileReading *r, Pattern *inner)
{
  file_settle_lines (r);
  r->outer = r->pattern;
  r->pattern = inner;
  memcpy (r->outer_counts, r->counts, sizeof r->counts);
  memset (r->counts, 0, sizeof r->counts);
}

static gboolean
leave (FileReading *r, Pattern **inner, GError **error)
{
  file_settle_lines (r);
  file_turn_outlines (r->pattern);
  *inner = r->pattern;
  r->pattern = g_steal_pointer (&r->outer);
  gboolean too_many = FALSE;
  for (guint i = 0; i < FILE_N_ELEMENTS; i++)
    {
      r->inner_counts[i] += r->counts[i];
      too_many
          = too_many
            || (file_elements[i].most > 0
                && r->inner_counts[i] / INNER_SHARE > file_elements[i].most);
    }
  memcpy (r->counts, r->outer_counts, sizeof r->counts);
  if (too_many)
    {
      g_set_error_literal (error, FILE_ERROR, FILE_ERROR_TOO_BIG,
                           _ ("the fittings and changes hold too much."));
      return FALSE;
    }
  return TRUE;
}

/* --- fittings ------------------------------------------------------------------------ */
gboolean
file_start_fitting (FileReading *r, FileTaking *t, GError **error)
{
  guint id = file_take_count (t, "id", G_MAXUINT - 2, FILE_REQUIRED);
  guint at = file_take_count (t, "at", G_MAXUINT - 2, 0);
  r->highest_id = MAX (r->highest_id, id);
  if (t->error == NULL && pattern_get_fitting (r->pattern, id) != NULL)
    return file_reading_broken (error, _ ("two fittings have the same id."));
  g_autoptr (Pattern) none = pattern_new_bare ();
  g_clear_pointer (&r->fitting, pattern_fitting_unref);
  r->fitting = pattern_fitting_new (id, take_text (t, "name"),
                                    take_text (t, "note"), none, at);
  return TRUE;
}

gboolean
file_start_kept (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  Pattern *kept = pattern_new_bare ();
  file_take_pattern (t, kept);
  enter (r, kept);
  return TRUE;
}

gboolean
file_end_kept (FileReading *r, GError **error)
{
  g_autoptr (Pattern) kept = NULL;
  if (!leave (r, &kept, error))
    return FALSE;
  PatternFitting *old = r->fitting;
  r->fitting
      = pattern_fitting_new (old->id, old->name, old->note, kept, old->at);
  pattern_fitting_unref (old);
  return TRUE;
}

gboolean
file_end_fitting (FileReading *r, GError **error)
{
  (void)error;
  pattern_put_fitting (r->pattern, g_steal_pointer (&r->fitting));
  return TRUE;
}

/* --- changes ------------------------------------------------------------------------- */
gboolean
file_start_change (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  g_free (r->label);
  r->label = g_strdup (take_text (t, "label"));
  r->change_next = file_take_count (t, "next", G_MAXUINT - 1, 1);
  const char *verb = file_take_text (t, "verb");
  g_clear_pointer (&r->step, pattern_step_free);
  if (verb != NULL)
    r->step = pattern_step_new (verb);
  return TRUE;
}

gboolean
file_start_parts (FileReading *r, FileTaking *t, GError **error)
{
  gboolean was = strcmp (t->tag->name, "was") == 0;
  if (r->step != NULL || (was ? r->was : r->is) != NULL)
    return file_reading_broken (
        error, _ ("a change says twice what it was, or was told by a verb."));
  enter (r, pattern_new_bare ());
  /* Which of the two: the other pointer stays NULL until its own end. */
  if (was)
    r->was = r->pattern;
  else
    r->is = r->pattern;
  return TRUE;
}

gboolean
file_end_parts (FileReading *r, GError **error)
{
  Pattern *parts = NULL;
  return leave (r, &parts, error);
}

gboolean
file_end_change (FileReading *r, GError **error)
{
  if (r->step == NULL && (r->was == NULL || r->is == NULL))
    return file_reading_broken (
        error, _ ("a change says neither what was done nor what it touched."));
  if (r->step != NULL)
    pattern_add_change (r->pattern,
                        pattern_change_new (r->label, r->change_next, r->step));
  else
    pattern_add_change (r->pattern,
                        pattern_change_of_parts (r->label, r->change_next,
                                                 g_steal_pointer (&r->was),
                                                 g_steal_pointer (&r->is)));
  g_clear_pointer (&r->step, pattern_step_free);
  return TRUE;
}

/* What is left of reading that failed. */
void
file_clear_fittings (FileReading *r)
{
  if (r->outer != NULL && (r->pattern == r->was || r->pattern == r->is))
    r->pattern = NULL;
  if (r->outer != NULL)
    g_clear_pointer (&r->pattern, pattern_unref);
  g_clear_pointer (&r->outer, pattern_unref);
  g_clear_pointer (&r->was, pattern_unref);
  g_clear_pointer (&r->is, pattern_unref);
  g_clear_pointer (&r->fitting, pattern_fitting_unref);
  g_clear_pointer (&r->step, pattern_step_free);
  g_free (r->label);
}
