/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files and the window: saving, printing, bringing in; names that are no text, drawings
 * brought in two at a time, answers that come when the window has gone, copies that
 * can't be kept. Skipped where there is no display. */
#include <glib/gstdio.h>
#include <gtk/gtk.h>
#include <string.h>

#include "app/field.h"
#include "app/print-job.h"
#include "app/recent.h"
#include "driver.h"
#include "file/document.h"

#define DRAWING                                                                \
  "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='80mm' "       \
  "viewBox='0 0 100 80'><path id='%s' d='M10 10H90V60H10Z'/></svg>"

static void
on_import_window (const char *name)
{
  g_autofree char *title = g_strdup_printf ("Bring in “%s”", name);
  driver_wait_until (driver_window (title) != NULL);
}

static void
open_drawing (AppWindow *window, const char *name)
{
  g_autofree char *file = g_strconcat (name, ".svg", NULL);
  g_autofree char *path = g_build_filename (driver_folder (), file, NULL);
  g_autofree char *text = g_strdup_printf (DRAWING, name);
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  app_window_open_path (window, path);
  on_import_window (name);
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
  driver_act (window, "paste");
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
  driver_act (window, "mirror");
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

static void
test_save_and_question (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  g_autofree char *path
      = g_build_filename (driver_folder (), "cape.bodkin", NULL);
  g_autoptr (GError) error = NULL;
  g_assert_true (app_session_save (session, path, FALSE, &error));
  g_assert_true (driver_shows (GTK_WIDGET (window), "cape.bodkin · saved"));

  driver_pick_edge (session, "Front", "neck");
  driver_type (window, "Allowance", "8 mm");
  g_assert_true (driver_shows (GTK_WIDGET (window), "cape.bodkin · changed"));
  guint windows = driver_count_windows ();
  gtk_window_close (GTK_WINDOW (window));
  driver_wait_until (driver_window ("Save what you changed") != NULL);
  driver_click (GTK_WIDGET (driver_window ("Save what you changed")),
                "Keep working");
  driver_wait_until (driver_count_windows () == windows);
  g_assert_false (app_session_is_saved (session));

  /* Saved while closing. */
  gpointer alive = window;
  g_object_add_weak_pointer (G_OBJECT (window), &alive);
  gtk_window_close (GTK_WINDOW (window));
  driver_wait_until (driver_window ("Save what you changed") != NULL);
  driver_click (GTK_WIDGET (driver_window ("Save what you changed")), "Save");
  driver_wait_until (alive == NULL);
  g_autoptr (Pattern) again = file_document_load (path, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (again->n_pieces, ==, 8);

  /* What another program wrote is not replaced unasked. */
  window = driver_open ();
  app_window_open_path (window, path);
  session = app_window_get_session (window);
  g_assert_cmpstr (app_session_get_path (session), ==, path);
  gsize length;
  g_autofree char *text = file_document_write (again, &length);
  g_autofree char *longer = g_strconcat (text, "<!-- later -->\n", NULL);
  g_assert_true (g_file_set_contents (path, longer, -1, NULL));
  driver_pick_edge (session, "Front", "neck");
  driver_type (window, "Allowance", "9 mm");
  driver_act (window, "save");
  driver_wait_until (driver_window ("The file was changed") != NULL);
  driver_click (GTK_WIDGET (driver_window ("The file was changed")),
                "Don't save now");
  driver_wait_until (driver_window ("The file was changed") == NULL);
  g_autofree char *kept = NULL;
  g_assert_true (g_file_get_contents (path, &kept, NULL, NULL));
  g_assert_cmpstr (kept, ==, longer);
  driver_close (window);
}

static void
test_unopenable (void)
{
  AppWindow *window = driver_open ();
  g_autofree char *path
      = g_build_filename (driver_folder (), "broken.bodkin", NULL);
  g_assert_true (g_file_set_contents (path, "not a pattern", -1, NULL));
  app_window_open_path (window, path);
  g_assert_null (app_window_get_session (window));
  driver_pause_ms (300);
  g_assert_true (driver_shows (GTK_WIDGET (window), "broken.bodkin"));
  driver_close (window);
}

typedef struct
{
  gboolean finished, failed, cancelled;
  guint n_pages;
} Printed;

static void
on_printed (double done, gboolean finished, guint n_pages, const GError *error,
            gpointer data)
{
  Printed *printed = data;
  g_assert_cmpfloat (done, >=, 0);
  g_assert_cmpfloat (done, <=, 1);
  if (!finished)
    return;
  printed->finished = TRUE;
  printed->n_pages = n_pages;
  printed->failed = error != NULL;
  printed->cancelled
      = g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
test_print (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  driver_act (window, "print");
  driver_wait_until (driver_window ("Print at full size") != NULL);
  GtkWindow *dialog = driver_window ("Print at full size");
  driver_wait_until (driver_shows (GTK_WIDGET (dialog), "overview"));
  g_assert_true (driver_shows (GTK_WIDGET (dialog), "100 mm both ways"));
  gtk_window_close (dialog);
  driver_wait_until (driver_window ("Print at full size") == NULL);

  FileSheetOptions options
      = file_sheet_options_default (file_paper_find ("A4"));
  g_autofree char *path
      = g_build_filename (driver_folder (), "sheets.pdf", NULL);
  Printed printed = { 0 };
  app_print_job_save (app_session_get_pattern (session), &options, path,
                      on_printed, &printed);
  driver_wait_until (printed.finished);
  g_assert_false (printed.failed);
  g_assert_cmpuint (printed.n_pages, >, 4);
  g_autofree char *text = NULL;
  gsize length = 0;
  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  g_assert_true (g_str_has_prefix (text, "%PDF-"));
  g_assert_nonnull (memmem (text, length, "/PrintScaling", 13));

  /* Cancelled, nothing is left behind. */
  g_autofree char *other
      = g_build_filename (driver_folder (), "other.pdf", NULL);
  printed = (Printed){ 0 };
  AppPrintJob *job = app_print_job_save (app_session_get_pattern (session),
                                         &options, other, on_printed, &printed);
  app_print_job_cancel (job);
  driver_wait_until (printed.finished);
  g_assert_true (printed.cancelled);
  g_assert_false (g_file_test (other, G_FILE_TEST_EXISTS));
  driver_close (window);
}

/* What goes to a printer has its sheets' size and is not scaled. ISO 216: A4 is 210 x
 * 297 mm, in points 595.276 x 841.890. */
static void
test_printer (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  FileSheetOptions options
      = file_sheet_options_default (file_paper_find ("A4"));
  g_autoptr (GError) error = NULL;
  FileSheets *sheets
      = file_sheets_plan (app_session_get_pattern (session), &options, &error);
  g_assert_no_error (error);
  guint n_pages = file_sheets_count (sheets);
  g_autoptr (GtkPrintOperation) operation
      = app_print_operation_new (sheets, "cape");
  g_autofree char *path
      = g_build_filename (driver_folder (), "printer.pdf", NULL);
  gtk_print_operation_set_export_filename (operation, path);
  GtkPrintOperationResult result
      = gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_EXPORT,
                                 GTK_WINDOW (window), &error);
  g_assert_no_error (error);
  g_assert_cmpint (result, ==, GTK_PRINT_OPERATION_RESULT_APPLY);
  g_autofree char *text = NULL;
  gsize length = 0;
  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  guint pages = 0;
  const char *at = text;
  while ((at = memmem (at, length - (gsize)(at - text), "/MediaBox [", 11))
         != NULL)
    {
      double box[4];
      char *end = (char *)at + 11;
      for (int i = 0; i < 4; i++)
        box[i] = g_ascii_strtod (end, &end);
      g_assert_cmpfloat_with_epsilon (box[2] - box[0], 595.276, 0.01);
      g_assert_cmpfloat_with_epsilon (box[3] - box[1], 841.890, 0.01);
      pages++;
      at = end;
    }
  g_assert_cmpuint (pages, ==, n_pages);
  driver_close (window);
}

/* 96 px to the inch: a square of 96 px is 25.4 mm (SVG 1.1, 7.10). */
static void
test_import (void)
{
  AppWindow *window = driver_open ();
  g_autofree char *path = g_build_filename (driver_folder (), "inch.svg", NULL);
  g_assert_true (g_file_set_contents (
      path,
      "<svg xmlns='http://www.w3.org/2000/svg' width='200' height='200'>"
      "<rect id='pocket' x='10' y='10' width='96' height='192'/></svg>",
      -1, NULL));
  app_window_open_path (window, path);
  on_import_window ("inch");
  driver_click (GTK_WIDGET (driver_window ("Bring in “inch”")), "Bring in");
  driver_wait_until (app_window_get_session (window) != NULL);
  AppSession *session = app_window_get_session (window);
  const PatternPiece *piece = driver_piece (session, "pocket");
  g_assert_cmpuint (piece->n_edges, ==, 4);
  g_assert_cmpfloat_with_epsilon (
      sewing_facts_piece (app_session_get_facts (session), piece)->area,
      25.4 * 50.8, 1e-6);
  g_assert_false (app_session_is_saved (session));

  /* A second one, at the size she types, lands beside it as one step. */
  app_window_open_path (window, path);
  on_import_window ("inch");
  GtkWidget *dialog = GTK_WIDGET (driver_window ("Bring in “inch”"));
  GtkWidget *width = driver_find (dialog, APP_TYPE_FIELD, "Width");
  gtk_editable_set_text (GTK_EDITABLE (app_field_get_entry (APP_FIELD (width))),
                         "50 mm");
  driver_click (dialog, "Bring in");
  driver_wait_until (app_session_get_pattern (session)->n_pieces == 2);
  const PatternPiece *second = app_session_get_pattern (session)->pieces[1];
  g_assert_cmpfloat_with_epsilon (
      sewing_facts_piece (app_session_get_facts (session), second)->area,
      50.0 * 100.0, 1e-6);
  driver_act (window, "undo");
  g_assert_cmpuint (app_session_get_pattern (session)->n_pieces, ==, 1);
  driver_close (window);
}

int
main (int argc, char **argv)
{
  if (!driver_start (&argc, &argv))
    return 0;
  g_test_add_func ("/window-files/save-and-question", test_save_and_question);
  g_test_add_func ("/window-files/unopenable", test_unopenable);
  g_test_add_func ("/window-files/print", test_print);
  g_test_add_func ("/window-files/printer", test_printer);
  g_test_add_func ("/window-files/import", test_import);
  g_test_add_func ("/window-files/two-drawings", test_two_drawings);
  g_test_add_func ("/window-files/two-patterns", test_two_patterns);
  g_test_add_func ("/window-files/late-paste", test_late_paste);
  g_test_add_func ("/window-files/odd-name", test_odd_name);
  g_test_add_func ("/window-files/not-kept", test_not_kept);
  return driver_end ();
}
