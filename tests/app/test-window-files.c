/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files in the window: names that are no text, drawings brought in two at a time,
 * answers that come when the window has gone, copies that can't be kept. Skipped
 * where there is no display. */
#include <glib/gstdio.h>
#include <gtk/gtk.h>

#include "app/recent.h"
#include "driver.h"
#include "file/document.h"

#define DRAWING                                                                \
  "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='80mm' "       \
  "viewBox='0 0 100 80'><path id='%s' d='M10 10H90V60H10Z'/></svg>"

static void
open_drawing (AppWindow *window, const char *name)
{
  g_autofree char *file = g_strconcat (name, ".svg", NULL);
  g_autofree char *path = g_build_filename (driver_folder (), file, NULL);
  g_autofree char *text = g_strdup_printf (DRAWING, name);
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  app_window_open_path (window, path);
  g_autofree char *title = g_strdup_printf ("Bring in “%s”", name);
  driver_wait_until (driver_window (title) != NULL);
}

static void
bring_in (const char *name)
{
  g_autofree char *title = g_strdup_printf ("Bring in “%s”", name);
  driver_click (GTK_WIDGET (driver_window (title)), "Bring in");
}

static gboolean
has_piece (AppWindow *window, const char *name)
{
  const Pattern *pattern
      = app_session_get_pattern (app_window_get_session (window));
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (g_str_equal (pattern->pieces[i]->name, name))
      return TRUE;
  return FALSE;
}

/* Two drawings dropped on a pattern together: the second once threw out the pieces of
 * the first, since both had been added to the pattern as it was at the drop. */
static void
test_two_drawings (void)
{
  AppWindow *window = driver_open_demo ();
  open_drawing (window, "flap");
  open_drawing (window, "strap");
  bring_in ("strap");
  bring_in ("flap");
  g_assert_true (has_piece (window, "strap"));
  g_assert_true (has_piece (window, "flap"));
  g_assert_true (has_piece (window, "Welt"));
  driver_close (window);
}

/* On a window with nothing open each becomes a pattern of its own. */
static void
test_two_patterns (void)
{
  AppWindow *window = driver_open ();
  open_drawing (window, "flap");
  open_drawing (window, "strap");
  bring_in ("flap");
  g_assert_true (has_piece (window, "flap"));
  bring_in ("strap");
  g_assert_false (has_piece (window, "strap"));
  GtkWindow *other = driver_window ("• strap");
  g_assert_nonnull (other);
  g_assert_true (has_piece (APP_WINDOW (other), "strap"));
  driver_close (APP_WINDOW (other));
  driver_close (window);
}

/* What was asked of the clipboard is answered when the window has gone. */
static void
test_late_paste (void)
{
  AppWindow *window = driver_open_demo ();
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (window));
  g_autofree char *text = g_strdup_printf (DRAWING, "late");
  gdk_clipboard_set_text (clipboard, text);
  g_action_group_activate_action (G_ACTION_GROUP (window), "paste", NULL);
  gtk_window_destroy (GTK_WINDOW (window));
  driver_pause_ms (400);
  g_assert_null (driver_window ("Bring in"));
}

/* Names of files are bytes; these are no UTF-8, and hold what a URI can't. */
static void
test_odd_name (void)
{
  AppWindow *window = driver_open_demo ();
  g_autofree char *path
      = g_build_filename (driver_folder (), "caf\xe9 %20_#.bodkin", NULL);
  g_autoptr (GError) error = NULL;
  g_assert_true (file_document_save (
      app_session_get_pattern (app_window_get_session (window)), path, &error));
  driver_close (window);

  window = driver_open ();
  app_window_open_path (window, path);
  g_assert_cmpstr (app_session_get_path (app_window_get_session (window)), ==,
                   path);
  g_autoptr (GPtrArray) list = NULL;
  for (guint i = 0; i < 100 && (list == NULL || list->len == 0); i++)
    {
      g_clear_pointer (&list, g_ptr_array_unref);
      driver_pause_ms (20);
      list = app_recent_list (1, TRUE);
    }
  g_assert_cmpuint (list->len, ==, 1);
  const AppRecent *recent = g_ptr_array_index (list, 0);
  g_assert_cmpstr (recent->path, ==, path);
  g_assert_true (g_utf8_validate (recent->name, -1, NULL));
  driver_close (window);

  /* And from the list of the start page. */
  window = driver_open ();
  driver_click (GTK_WIDGET (window), recent->name);
  g_assert_cmpstr (app_session_get_path (app_window_get_session (window)), ==,
                   path);
  driver_close (window);
}

/* The header does not say "kept safe" of what is not. */
static void
test_not_kept (void)
{
  g_autofree char *kept
      = g_build_filename (g_get_user_state_dir (), "bodkin", NULL);
  g_autofree char *aside = g_strconcat (kept, ".aside", NULL);
  g_assert_cmpint (g_mkdir_with_parents (g_get_user_state_dir (), 0700), ==, 0);
  (void)g_rename (kept, aside);
  g_assert_true (g_file_set_contents (kept, "in the way", -1, NULL));

  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  const Pattern *pattern = app_session_get_pattern (session);
  app_session_pick_piece (session, pattern->pieces[0]->id, FALSE);
  g_action_group_activate_action (G_ACTION_GROUP (window), "mirror", NULL);
  g_assert_true (driver_shows (GTK_WIDGET (window), "kept safe"));
  driver_wait_until (driver_shows (GTK_WIDGET (window), "not kept safe"));
  driver_wait_until (driver_shows (GTK_WIDGET (window), "can't be kept"));

  g_assert_cmpint (g_unlink (kept), ==, 0);
  (void)g_rename (aside, kept);
  /* Tried again on its own. */
  driver_wait_until (!driver_shows (GTK_WIDGET (window), "not kept safe"));
  g_assert_true (driver_shows (GTK_WIDGET (window), "kept safe"));
  driver_close (window);
}

int
main (int argc, char **argv)
{
  if (!driver_start (&argc, &argv))
    return 0;
  g_test_add_func ("/window-files/two-drawings", test_two_drawings);
  g_test_add_func ("/window-files/two-patterns", test_two_patterns);
  g_test_add_func ("/window-files/late-paste", test_late_paste);
  g_test_add_func ("/window-files/odd-name", test_odd_name);
  g_test_add_func ("/window-files/not-kept", test_not_kept);
  return driver_end ();
}
