/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/session.h"

#include <glib/gi18n.h>

#include "app/session-private.h"
#include "drafting/fitting.h"
#include "file/autosave.h"
#include "file/document.h"

enum
{
  SHOWN_CHANGED,
  PICK_CHANGED,
  HOVER_CHANGED,
  TOOL_CHANGED,
  STATE_CHANGED,
  LAID_OVER_CHANGED,
  NAME_IT,
  WALK_CHANGED,
  DRAFT_CHANGED,
  TRACING_CHANGED,
  PICTURE_READ,
  PROBLEM,
  LOOK_AT,
  HINT,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (AppSession, app_session, G_TYPE_OBJECT)

static void
app_session_finalize (GObject *object)
{
  AppSession *s = APP_SESSION (object);
  app_session_drop_walk (s);
  app_session_drop_draft (s);
  app_session_drop_tracing (s);
  g_clear_pointer (&s->findings, g_ptr_array_unref);
  g_clear_pointer (&s->facts, sewing_facts_free);
  g_clear_pointer (&s->previewed, pattern_unref);
  g_clear_pointer (&s->history, pattern_history_free);
  g_clear_pointer (&s->step, pattern_step_free);
  g_free (s->pick.ids);
  g_free (s->path);
  g_free (s->slot);
  G_OBJECT_CLASS (app_session_parent_class)->finalize (object);
}

static void
app_session_class_init (AppSessionClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  object_class->finalize = app_session_finalize;
  static const char *const plain[]
      = { "shown-changed", "pick-changed",      "hover-changed", "tool-changed",
          "state-changed", "laid-over-changed", "name-it",       "walk-changed",
          "draft-changed", "tracing-changed",   "picture-read" };
  for (guint i = 0; i < G_N_ELEMENTS (plain); i++)
    signals[SHOWN_CHANGED + i]
        = g_signal_new (plain[i], APP_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL,
                        NULL, NULL, G_TYPE_NONE, 0);
  signals[PROBLEM]
      = g_signal_new ("problem", APP_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL,
                      NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[LOOK_AT]
      = g_signal_new ("look-at", APP_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL,
                      NULL, NULL, G_TYPE_NONE, 4, G_TYPE_DOUBLE, G_TYPE_DOUBLE,
                      G_TYPE_DOUBLE, G_TYPE_DOUBLE);
  signals[HINT]
      = g_signal_new ("hint", APP_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL,
                      NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
app_session_init (AppSession *s)
{
  s->facts = sewing_facts_new ();
  s->strip_at = -1;
}

AppSession *
app_session_new (Pattern *pattern)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  AppSession *s = g_object_new (APP_TYPE_SESSION, NULL);
  s->history = pattern_history_new (pattern);
  pattern_history_mark_saved (s->history);
  pattern_unref (pattern);
  return s;
}

AppSession *
app_session_new_recovered (Pattern *pattern, const char *slot)
{
  g_return_val_if_fail (slot != NULL, NULL);
  AppSession *s = app_session_new (pattern);
  s->slot = g_strdup (slot);
  pattern_history_mark_unsaved (s->history);
  return s;
}

/* --- the pattern ----------------------------------------------------------- */

const Pattern *
app_session_get_pattern (AppSession *s)
{
  return pattern_history_get_current (s->history);
}

const Pattern *
app_session_get_shown (AppSession *s)
{
  return s->previewed != NULL ? s->previewed : app_session_get_pattern (s);
}

const PatternHistory *
app_session_get_history (AppSession *s)
{
  return s->history;
}

SewingFacts *
app_session_get_facts (AppSession *s)
{
  return s->facts;
}

const GPtrArray *
app_session_get_findings (AppSession *s)
{
  if (s->findings == NULL)
    s->findings = sewing_checks_run (s->facts, app_session_get_shown (s));
  return s->findings;
}

/* What was shown is still alive here, so that no address the facts know can have been used
 * anew. The current step's facts are kept through a drag: it ends there when
 * she lets go of it. */
static void
shown_changed (AppSession *s)
{
  g_clear_pointer (&s->findings, g_ptr_array_unref);
  sewing_facts_keep (s->facts, app_session_get_shown (s),
                     app_session_get_pattern (s));
  gboolean pruned = app_session_prune_pick (s), walked = s->walk != NULL;
  app_session_follow_walk (s);
  g_signal_emit (s, signals[SHOWN_CHANGED], 0);
  if (pruned)
    g_signal_emit (s, signals[PICK_CHANGED], 0);
  if (walked && s->walk == NULL)
    g_signal_emit (s, signals[WALK_CHANGED], 0);
}

void
app_session_tell (AppSession *s, GError *error)
{
  if (error == NULL)
    return;
  g_signal_emit (s, signals[PROBLEM], 0, error->message);
  g_error_free (error);
}

/* Makes a step, unless it is what stands already. Takes over result. */
static void
push_step (AppSession *s, const char *label, const char *merge, Pattern *result)
{
  g_autoptr (PatternStep) step = g_steal_pointer (&s->step);
  if (!pattern_equal (result, app_session_get_pattern (s)))
    result = drafting_record (app_session_get_pattern (s), result, label, merge,
                              step);
  g_autoptr (Pattern) kept = result;
  g_autoptr (Pattern) dropped = g_steal_pointer (&s->previewed);
  if (!pattern_equal (result, app_session_get_pattern (s)))
    {
      g_autoptr (Pattern) before = pattern_ref (app_session_get_pattern (s));
      if (merge != NULL)
        pattern_history_push_merged (s->history, label, merge, result);
      else
        pattern_history_push (s->history, label, result);
      shown_changed (s);
      g_signal_emit (s, signals[STATE_CHANGED], 0);
    }
  else if (dropped != NULL)
    shown_changed (s);
}

/* What she did, with all that follows from it drafted again; NULL with the error set where a
 * linked piece can't take it. Takes over result. */
static Pattern *
follow (AppSession *s, Pattern *result, GError **error)
{
  g_autoptr (Pattern) own = result;
  return drafting_follow (app_session_get_pattern (s), own, error);
}

gboolean
app_session_do (AppSession *s, const char *label, const char *merge,
                Pattern *result, GError **error)
{
  g_return_val_if_fail (APP_IS_SESSION (s), FALSE);
  GError *refused = NULL;
  if (result != NULL)
    result = follow (s, result, &refused);
  if (result == NULL)
    {
      app_session_tell_step (s, NULL);
      app_session_cancel (s);
      if (refused != NULL)
        app_session_tell (s, refused);
      else if (error != NULL)
        app_session_tell (s, g_steal_pointer (error));
      return FALSE;
    }
  push_step (s, label, merge, result);
  return TRUE;
}

void
app_session_preview (AppSession *s, Pattern *result, GError **error)
{
  g_return_if_fail (APP_IS_SESSION (s));
  if (result != NULL)
    result = follow (s, result, NULL);
  if (result == NULL)
    {
      if (error != NULL)
        g_clear_error (error);
      return;
    }
  g_autoptr (Pattern) before = g_steal_pointer (&s->previewed);
  s->previewed = result;
  shown_changed (s);
}

void
app_session_commit (AppSession *s, const char *label)
{
  g_return_if_fail (APP_IS_SESSION (s));
  if (s->previewed != NULL)
    push_step (s, label, NULL, pattern_ref (s->previewed));
}

void
app_session_cancel (AppSession *s)
{
  g_autoptr (Pattern) before = g_steal_pointer (&s->previewed);
  if (before != NULL)
    shown_changed (s);
}

gboolean
app_session_is_previewing (AppSession *s)
{
  return s->previewed != NULL;
}

/* where: -1 undo, -2 redo, else a step. */
static void
travel (AppSession *s, int where)
{
  g_autoptr (Pattern) previewed = g_steal_pointer (&s->previewed);
  g_autoptr (Pattern) before = pattern_ref (app_session_get_pattern (s));
  gboolean went = where == -1   ? pattern_history_undo (s->history)
                  : where == -2 ? pattern_history_redo (s->history)
                                : pattern_history_go (s->history, (guint)where);
  if (!went && previewed == NULL)
    return;
  shown_changed (s);
  g_signal_emit (s, signals[STATE_CHANGED], 0);
}

void
app_session_undo (AppSession *s)
{
  travel (s, -1);
}

void
app_session_redo (AppSession *s)
{
  travel (s, -2);
}

void
app_session_go (AppSession *s, guint step)
{
  g_return_if_fail (step < pattern_history_get_length (s->history));
  travel (s, (int)step);
}

void
app_session_tell_step (AppSession *s, const PatternStep *step)
{
  g_return_if_fail (APP_IS_SESSION (s));
  g_clear_pointer (&s->step, pattern_step_free);
  s->step = step != NULL ? pattern_step_dup (step) : NULL;
}

void
app_session_lay_over (AppSession *s, AppLaidOver laid)
{
  g_return_if_fail (APP_IS_SESSION (s));
  if (laid.was == s->laid_over.was && laid.is == s->laid_over.is)
    return;
  s->laid_over = laid;
  g_signal_emit (s, signals[LAID_OVER_CHANGED], 0);
}

AppLaidOver
app_session_get_laid_over (AppSession *s)
{
  return s->laid_over;
}

/* --- the document on disk -------------------------------------------------- */

const char *
app_session_get_path (AppSession *s)
{
  return s->path;
}

char *
app_session_dup_title (AppSession *s)
{
  const Pattern *p = app_session_get_pattern (s);
  if (p->name != NULL && p->name[0] != '\0')
    return g_strdup (p->name);
  if (s->path == NULL)
    return g_strdup (_ ("Untitled pattern"));
  char *base = g_path_get_basename (s->path);
  if (g_str_has_suffix (base, FILE_DOCUMENT_SUFFIX))
    base[strlen (base) - strlen (FILE_DOCUMENT_SUFFIX)] = '\0';
  char *title = g_filename_display_name (base);
  g_free (base);
  return title;
}

gboolean
app_session_is_saved (AppSession *s)
{
  return pattern_history_is_saved (s->history);
}

gboolean
app_session_save (AppSession *s, const char *path, gboolean force,
                  GError **error)
{
  g_return_val_if_fail (path != NULL, FALSE);
  gboolean same = s->path != NULL && strcmp (path, s->path) == 0;
  if (same && !force && s->stamp.known)
    {
      FileStamp now = file_stamp_of (path);
      if (now.known && !file_stamp_equal (&now, &s->stamp))
        {
          g_autofree char *name = g_filename_display_basename (path);
          g_set_error (error, FILE_ERROR, FILE_ERROR_CHANGED,
                       _ ("“%s” was changed by another program since it was "
                          "opened here. Nothing was written; what you have "
                          "here is safe. Save under another name to keep "
                          "both, or save all the same to replace it."),
                       name);
          return FALSE;
        }
    }
  if (!file_document_save (app_session_get_pattern (s), path, error))
    return FALSE;
  if (!same)
    {
      g_free (s->path);
      s->path = g_strdup (path);
    }
  s->stamp = file_stamp_of (path);
  pattern_history_mark_saved (s->history);
  if (s->slot != NULL)
    file_autosave_drop (s->slot);
  g_signal_emit (s, signals[STATE_CHANGED], 0);
  return TRUE;
}

void
app_session_set_path (AppSession *s, const char *path)
{
  char *copy = g_strdup (path);
  g_free (s->path);
  s->path = copy;
  s->stamp = path != NULL ? file_stamp_of (path) : (FileStamp){ 0 };
  g_signal_emit (s, signals[STATE_CHANGED], 0);
}

void
app_session_mark_unsaved (AppSession *s)
{
  pattern_history_mark_unsaved (s->history);
  g_signal_emit (s, signals[STATE_CHANGED], 0);
}

const char *
app_session_get_slot (AppSession *s)
{
  if (s->slot == NULL)
    s->slot = file_autosave_new_slot ();
  return s->slot;
}
