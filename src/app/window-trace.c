/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a window does to trace a picture: asks for it, makes room for it, and puts it aside. */
#include <glib/gi18n.h>

#include "app/ask.h"
#include "app/import-dialog.h"
#include "app/trace-bar.h"
#include "app/tracing.h"
#include "app/window-private.h"
#include "file/picture.h"

/* By what the name ends in; what it truly is shows when it is read. */
gboolean
app_window_is_picture (const char *path)
{
  static const char *const endings[]
      = { ".png", ".jpg", ".jpeg", ".jpe", ".tif", ".tiff" };
  g_autofree char *lower = g_ascii_strdown (path, -1);
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_str_has_suffix (lower, endings[i]))
      return TRUE;
  return FALSE;
}

/* Into the open pattern, or a new one where nothing is open. Its header is read first, so that what is no picture
 * changes nothing. */
void
app_window_trace_path (AppWindow *window, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = file_picture_load (path, &error);
  FilePictureFacts facts;
  if (bytes == NULL || !file_picture_look (bytes, &facts, &error))
    {
      app_window_tell (window, error->message, FALSE);
      return;
    }
  if (window->session == NULL)
    app_window_open_session (window,
                             app_session_new (app_pattern_of_settings ("")));
  g_autofree char *name = g_filename_display_basename (path);
  if (!app_tracing_begin (window->session, bytes, path, name, &error))
    app_window_tell (window, error->message, FALSE);
  gtk_window_present (GTK_WINDOW (window));
}

static void
on_chosen (const char *path, gpointer data)
{
  app_window_trace_path (data, path);
}

static void
do_trace (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  app_ask_open (data, APP_FILES_PICTURE, on_chosen, data);
}

static void
do_resume (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  AppWindow *window = data;
  if (window->session != NULL)
    app_tracing_take_up (window->session);
}

static void
again (AppWindow *window, GVariant *value, gboolean outline)
{
  g_autoptr (GError) error = NULL;
  if (window->session != NULL
      && !app_tracing_begin_again (
          window->session, g_variant_get_uint32 (value), outline, &error))
    app_window_tell (window, error->message, FALSE);
}

static void
do_again (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  again (data, value, TRUE);
}

static void
do_size_again (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  again (data, value, FALSE);
}

static void
do_type (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  AppWindow *window = data;
  if (window->session != NULL)
    app_trace_bar_type (APP_TRACE_BAR (window->trace_bar),
                        g_variant_get_string (value, NULL));
}

/* The picture lies at true size, and the tool that follows it is taken up. */
static void
do_by_hand (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  AppWindow *window = data;
  AppTracing *t
      = window->session != NULL ? app_tracing_get (window->session) : NULL;
  if (t == NULL || app_tracing_lay_picture (t) == 0)
    return;
  app_canvas_set_tool (window->canvas, APP_TOOL_FOLLOW);
  gtk_widget_grab_focus (GTK_WIDGET (window->canvas));
}

void
app_window_add_trace_actions (AppWindow *window)
{
  static const GActionEntry entries[] = {
    { .name = "trace", .activate = do_trace },
    { .name = "trace-resume", .activate = do_resume },
    { .name = "trace-again", .activate = do_again, .parameter_type = "u" },
    { .name = "trace-size", .activate = do_size_again, .parameter_type = "u" },
    { .name = "trace-type", .activate = do_type, .parameter_type = "s" },
    { .name = "trace-by-hand", .activate = do_by_hand },
  };
  g_action_map_add_action_entries (G_ACTION_MAP (window), entries,
                                   G_N_ELEMENTS (entries), window);
}

/* The panels beside and below the table have nothing to do with a picture: they make room for
 * it. */
void
app_window_trace_changed (AppWindow *window)
{
  gboolean tracing = app_tracing_get (window->session) != NULL;
  if (tracing != window->tracing)
    {
      window->tracing = tracing;
      app_window_show_panels (window);
      app_window_header_rest (window, tracing);
      if (app_tracing_is_aside (window->session))
        app_notice_show (APP_NOTICE (window->notice),
                         _ ("The picture is put aside as it was."), FALSE,
                         _ ("Go on tracing"), "win.trace-resume");
      else
        app_notice_pass (APP_NOTICE (window->notice));
    }
  app_window_update_edit_actions (window);
  app_window_header_update (window);
}
