/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a window does with files: open, bring in, save, print, recover, close. */
#include <glib/gi18n.h>
#include <string.h>

#include "app/about.h"
#include "app/ask.h"
#include "app/help-window.h"
#include "app/preferences.h"
#include "app/print-dialog.h"
#include "app/recent.h"
#include "app/settings.h"
#include "app/tracing.h"
#include "app/ui.h"
#include "app/window-private.h"
#include "file/report.h"
#include "file/svg-out.h"

/* What is kept for a crash is written this long after a change. */
#define KEEP_MS 700
/* Where that failed, it is tried again after this long. */
#define AGAIN_S 4

/* This window while nothing is open in it, else a new one. */
static AppWindow *
free_window (AppWindow *window)
{
  if (window->session == NULL)
    return window;
  AppWindow *other
      = app_window_new (gtk_window_get_application (GTK_WINDOW (window)));
  return other;
}

/* Gives the window it is shown in. */
static AppWindow *
show_pattern (AppWindow *window, Pattern *pattern, const char *path)
{
  AppWindow *where = free_window (window);
  AppSession *session = app_session_new (pattern);
  if (path != NULL)
    app_session_set_path (session, path);
  app_window_open_session (where, session);
  gtk_window_present (GTK_WINDOW (where));
  return where;
}

/* --- opening ---------------------------------------------------------------------------- */

/* The window a file is open in already, or NULL. */
static AppWindow *
window_of_path (AppWindow *window, const char *path)
{
  GtkApplication *app = gtk_window_get_application (GTK_WINDOW (window));
  for (GList *l = app != NULL ? gtk_application_get_windows (app) : NULL;
       l != NULL; l = l->next)
    {
      AppWindow *other = APP_IS_WINDOW (l->data) ? l->data : NULL;
      if (other != NULL && other->session != NULL
          && g_strcmp0 (app_session_get_path (other->session), path) == 0)
        return other;
    }
  return NULL;
}

/* Where something is kept from a crash and a document was opened all the same, it
 * is told there. */
static void
tell_of_kept (AppWindow *window)
{
  g_autoptr (GPtrArray) kept = file_autosave_list ();
  if (kept != NULL && kept->len > 0)
    app_notice_show (
        APP_NOTICE (window->notice),
        _ ("Something is kept from a time Bodkin ended before you saved."),
        FALSE, _ ("Look at it"), "win.start-page");
}

static void
open_document (AppWindow *window, const char *path)
{
  AppWindow *there = window_of_path (window, path);
  if (there != NULL)
    {
      gtk_window_present (GTK_WINDOW (there));
      return;
    }
  g_autoptr (GError) error = NULL;
  Pattern *pattern = file_document_load (path, &error);
  if (pattern == NULL)
    {
      app_window_tell (window, error->message, FALSE);
      return;
    }
  g_autofree char *missing = file_document_missing (pattern);
  AppWindow *where = show_pattern (window, pattern, path);
  tell_of_kept (where);
  if (missing != NULL)
    app_window_tell (where, missing, FALSE);
  app_recent_add (path);
}

/* A drawing was brought in: into the open pattern as one step, or as a new one. */
static void
on_imported (Pattern *result, const char *name, AppSession *onto, gpointer data)
{
  AppWindow *window = data;
  if (onto == NULL)
    {
      AppWindow *where = free_window (window);
      AppSession *session = app_session_new (result);
      app_session_mark_unsaved (session);
      app_window_open_session (where, session);
      gtk_window_present (GTK_WINDOW (where));
      app_window_tell (where,
                       _ ("Brought in. Pick a piece to name it; pick an edge "
                          "to say what it is sewn as."),
                       TRUE);
      return;
    }
  g_autofree char *label = g_strdup_printf (_ ("bring in “%s”"), name);
  if (app_session_do (window->session, label, NULL, result, NULL))
    app_canvas_fit_all (window->canvas);
}

static void
import (AppWindow *window, const char *path)
{
  app_import_svg (GTK_WINDOW (window), path, window->session, on_imported,
                  window);
}

static gboolean
is_svg (const char *path)
{
  g_autofree char *lower = g_ascii_strdown (path, -1);
  return g_str_has_suffix (lower, ".svg");
}

void
app_window_open_path (AppWindow *window, const char *path)
{
  g_return_if_fail (APP_IS_WINDOW (window));
  if (is_svg (path))
    import (window, path);
  else if (app_window_is_picture (path))
    app_window_trace_path (window, path);
  else
    open_document (window, path);
}

/* What comes with the program has no file of its own to be saved to: it can't be
 * spoilt. */
static void
open_own (AppWindow *window, const char *name)
{
  const char *source = g_getenv ("BODKIN_DATA");
  g_autofree char *path
      = g_build_filename (source != NULL ? source : APP_PKGDATADIR, name, NULL);
  g_autoptr (GError) error = NULL;
  Pattern *pattern = file_document_load (path, &error);
  if (pattern == NULL)
    app_window_tell (window, error->message, FALSE);
  else
    show_pattern (window, pattern, NULL);
}

void
app_window_open_demo (AppWindow *window)
{
  open_own (window, "ferry-cape.bodkin");
}

void
app_window_recover (AppWindow *window, const FileRecovery *recovery)
{
  g_autofree char *name = recovery->path != NULL
                              ? g_filename_display_name (recovery->path)
                              : g_strdup ("");
  g_autoptr (GError) error = NULL;
  g_autofree char *slot = file_autosave_new_slot ();
  Pattern *pattern = file_autosave_recover (recovery, slot, &error);
  if (pattern == NULL)
    {
      app_window_tell (window, error->message, FALSE);
      return;
    }
  AppSession *session = app_session_new_recovered (pattern, slot);
  AppWindow *where = free_window (window);
  where->recovered = g_strdup (recovery->path);
  app_window_open_session (where, session);
  gtk_window_present (GTK_WINDOW (where));
  g_autofree char *text
      = name[0] != '\0'
            ? g_strdup_printf (_ ("Brought back as it was last. Your file "
                                  "“%s” is untouched; save to replace it or "
                                  "to keep both."),
                               name)
            : g_strdup (_ ("Brought back as it was last. Save it to keep it "
                           "as a file."));
  app_window_tell (where, text, FALSE);
}

/* --- saving ----------------------------------------------------------------------------- */

static void
after_save (AppWindow *window, const char *path)
{
  app_recent_add (path);
  if (window->close_after_save)
    gtk_window_close (GTK_WINDOW (window));
}

static void save_as (AppWindow *window);

static void
on_changed_answer (int answer, gpointer data)
{
  AppWindow *window = data;
  g_autofree char *path = g_strdup (app_session_get_path (window->session));
  g_autoptr (GError) error = NULL;
  if (answer == 2)
    save_as (window);
  else if (answer == 1)
    {
      if (app_session_save (window->session, path, TRUE, &error))
        after_save (window, path);
      else
        app_window_tell (window, error->message, FALSE);
    }
}

static void
save_to (AppWindow *window, const char *path)
{
  g_autoptr (GError) error = NULL;
  if (app_session_save (window->session, path, FALSE, &error))
    {
      after_save (window, path);
      return;
    }
  if (g_error_matches (error, FILE_ERROR, FILE_ERROR_CHANGED))
    {
      const char *const buttons[] = { _ ("Don't save now"), _ ("Replace it"),
                                      _ ("Save under another name…"), NULL };
      app_ask (GTK_WINDOW (window),
               _ ("The file was changed by another program"), error->message,
               buttons, 1, on_changed_answer, window);
      return;
    }
  app_notice_show (APP_NOTICE (window->notice), error->message, FALSE,
                   _ ("Save elsewhere…"), "win.save-as");
}

static void
on_save_chosen (const char *path, gpointer data)
{
  save_to (data, path);
}

/* Where the pattern is a file; of one brought back, where it was. */
static const char *
its_path (AppWindow *window)
{
  const char *path = app_session_get_path (window->session);
  return path != NULL ? path : window->recovered;
}

static void
save_as (AppWindow *window)
{
  g_autofree char *title = app_session_dup_title (window->session);
  const char *path = its_path (window);
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  g_autofree char *name
      = path != NULL ? g_filename_display_basename (path) : g_strdup (title);
  app_ask_save (GTK_WINDOW (window), APP_FILES_DOCUMENT, name, folder,
                on_save_chosen, window);
}

static void
save (AppWindow *window)
{
  g_autofree char *path = g_strdup (app_session_get_path (window->session));
  if (path == NULL)
    save_as (window);
  else
    save_to (window, path);
}

static void
on_svg_chosen (const char *path, gpointer data)
{
  AppWindow *window = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *name = g_filename_display_basename (path);
  if (!file_svg_save (app_session_get_pattern (window->session), path, &error))
    {
      app_window_tell (window, error->message, FALSE);
      return;
    }
  g_autofree char *text = g_strdup_printf (_ ("Saved “%s”."), name);
  app_window_tell (window, text, TRUE);
}

static void
on_report_chosen (const char *path, gpointer data)
{
  AppWindow *window = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *name = g_filename_display_basename (path);
  g_autofree char *report = file_report (
      app_session_get_pattern (window->session), FILE_REPORT_TEXT);
  if (!file_safe_save (path, report, strlen (report), FALSE, &error))
    {
      app_window_tell (window, error->message, FALSE);
      return;
    }
  g_autofree char *text = g_strdup_printf (_ ("Saved “%s”."), name);
  app_window_tell (window, text, TRUE);
}

/* --- keeping what is not saved ------------------------------------------------------------ */

static void
keep (AppWindow *window)
{
  if (window->session != NULL && !app_session_is_saved (window->session))
    file_autosave_keep (app_session_get_slot (window->session),
                        app_session_get_pattern (window->session),
                        its_path (window));
}

static gboolean
on_keep (gpointer data)
{
  AppWindow *window = data;
  window->keep = 0;
  keep (window);
  return G_SOURCE_REMOVE;
}

static gboolean
on_again (gpointer data)
{
  AppWindow *window = data;
  window->again = 0;
  keep (window);
  return G_SOURCE_REMOVE;
}

void
app_window_keep_soon (AppWindow *window)
{
  if (window->keep == 0 && !app_session_is_saved (window->session))
    window->keep = g_timeout_add (KEEP_MS, on_keep, window);
}

void
app_window_keep_no_more (AppWindow *window)
{
  g_clear_handle_id (&window->keep, g_source_remove);
  g_clear_handle_id (&window->again, g_source_remove);
}

void
app_window_kept (AppWindow *window, const char *slot, gboolean kept)
{
  g_return_if_fail (APP_IS_WINDOW (window));
  if (window->session == NULL
      || g_strcmp0 (app_session_get_slot (window->session), slot) != 0)
    return;
  gboolean news = window->not_kept == kept;
  window->not_kept = !kept;
  if (!kept && window->again == 0)
    window->again = g_timeout_add_seconds (AGAIN_S, on_again, window);
  if (!news)
    return;
  app_window_header_update (window);
  if (kept)
    return;
  g_autofree char *folder = g_filename_display_name (g_get_user_state_dir ());
  g_autofree char *text = g_strdup_printf (
      _ ("What you change can't be kept for after a crash just now: “%s” can't "
         "be written to. Your work is safe while this window is open; save it "
         "yourself until this goes away."),
      folder);
  app_window_tell (window, text, FALSE);
}

/* --- closing ------------------------------------------------------------------------------ */

static void
on_close_answer (int answer, gpointer data)
{
  AppWindow *window = data;
  if (answer == 1)
    {
      window->close_ok = TRUE;
      gtk_window_close (GTK_WINDOW (window));
    }
  else if (answer == 2)
    {
      window->close_after_save = TRUE;
      save (window);
    }
}

gboolean
app_window_may_close (AppWindow *window)
{
  if (window->session == NULL || app_session_is_saved (window->session))
    return TRUE;
  g_autofree char *title = app_session_dup_title (window->session);
  g_autofree char *question
      = g_strdup_printf (_ ("Save what you changed in “%s”?"), title);
  const char *const buttons[]
      = { _ ("Keep working"), _ ("Close without saving"), _ ("Save"), NULL };
  app_ask (GTK_WINDOW (window), question,
           _ ("Closed without saving, the changes since the last save are "
              "gone."),
           buttons, 1, on_close_answer, window);
  return FALSE;
}

/* --- actions ------------------------------------------------------------------------------- */

static void
on_open_chosen (const char *path, gpointer data)
{
  app_window_open_path (data, path);
}

static void
do_new (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  show_pattern (data, app_pattern_of_settings (""), NULL);
}

static void
do_start_page (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  gtk_window_present (GTK_WINDOW (
      app_window_new (gtk_window_get_application (GTK_WINDOW (data)))));
}

static void
do_new_drawing (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  AppWindow *where = free_window (data);
  app_window_open_session (where,
                           app_session_new (app_pattern_of_settings ("")));
  app_canvas_set_tool (where->canvas, APP_TOOL_DRAW);
  gtk_window_present (GTK_WINDOW (where));
}

static void
do_open (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  app_ask_open (data, APP_FILES_DOCUMENT, on_open_chosen, data);
}

static void
do_open_path (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  app_window_open_path (data, g_variant_get_bytestring (value));
}

static void
do_import (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  app_ask_open (data, APP_FILES_SVG, on_open_chosen, data);
}

static void
do_demo (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  app_window_open_demo (data);
}

static void
do_slopers (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  open_own (data, "slopers.bodkin");
}

static void
do_measurements (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  open_own (data, "measurements.bodkin");
}

static void
do_save (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  ((AppWindow *)data)->close_after_save = FALSE;
  save (data);
}

static void
do_save_as (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  ((AppWindow *)data)->close_after_save = FALSE;
  save_as (data);
}

static void
do_export (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)value;
  AppWindow *window = data;
  gboolean svg
      = g_str_equal (g_action_get_name (G_ACTION (action)), "export-svg");
  g_autofree char *title = app_session_dup_title (window->session);
  const char *path = app_session_get_path (window->session);
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  app_ask_save (GTK_WINDOW (window), svg ? APP_FILES_SVG : APP_FILES_TEXT,
                title, folder, svg ? on_svg_chosen : on_report_chosen, window);
}

static void
do_print (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  AppWindow *window = data;
  app_print_open (GTK_WINDOW (window), window->session);
}

static void
do_close (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  gtk_window_close (data);
}

/* The page about what she is at. */
static const char *
help_page (AppWindow *window)
{
  static const char *const of_tools[APP_N_ALL_TOOLS]
      = { [APP_TOOL_RESHAPE] = NULL,           [APP_TOOL_DRAW] = "outlines",
          [APP_TOOL_MARK] = "clips",           [APP_TOOL_BASTE] = "seams",
          [APP_TOOL_TAPE] = "lengths",         [APP_TOOL_SLASH] = "slash",
          [APP_TOOL_TRUE] = "truing",          [APP_TOOL_FAIR] = "fairing",
          [APP_TOOL_FOLLOW] = "over-a-picture" };
  if (window->session == NULL)
    return "index";
  if (app_tracing_get (window->session) != NULL)
    return "trace-a-picture";
  const char *page = of_tools[app_canvas_get_tool (window->canvas)];
  if (page != NULL)
    return page;
  switch (app_session_get_pick (window->session)->kind)
    {
    case APP_PICK_SEAM:
      return "seams";
    case APP_PICK_EDGE:
      return "allowances";
    case APP_PICK_NODES:
      return "reshape";
    case APP_PICK_MARK:
      return "clips";
    case APP_PICK_PICTURE:
      return "trace-a-picture";
    case APP_PICK_NONE:
    case APP_PICK_PIECES:
    case APP_PICK_LINE:
    default:
      return "index";
    }
}

static void
do_help (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  app_help_open (data, help_page (data));
}

static void
do_shortcuts (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  app_shortcuts_open (data);
}

static void
do_about (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  app_about_open (data);
}

static void
do_preferences (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  app_preferences_open (data);
}

void
app_window_add_file_actions (AppWindow *window)
{
  static const GActionEntry entries[] = {
    { .name = "new", .activate = do_new },
    { .name = "start-page", .activate = do_start_page },
    { .name = "new-drawing", .activate = do_new_drawing },
    { .name = "open", .activate = do_open },
    { .name = "open-path", .activate = do_open_path, .parameter_type = "ay" },
    { .name = "import-svg", .activate = do_import },
    { .name = "demo", .activate = do_demo },
    { .name = "slopers", .activate = do_slopers },
    { .name = "measurements", .activate = do_measurements },
    { .name = "save", .activate = do_save },
    { .name = "save-as", .activate = do_save_as },
    { .name = "export-svg", .activate = do_export },
    { .name = "export-report", .activate = do_export },
    { .name = "print", .activate = do_print },
    { .name = "close", .activate = do_close },
    { .name = "help", .activate = do_help },
    { .name = "shortcuts", .activate = do_shortcuts },
    { .name = "about", .activate = do_about },
    { .name = "preferences", .activate = do_preferences },
  };
  g_action_map_add_action_entries (G_ACTION_MAP (window), entries,
                                   G_N_ELEMENTS (entries), window);
}
