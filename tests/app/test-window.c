/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole window on the demo: what its panels show and do. One part drives it
 * with real pointer events (xdotool). Skipped where there is no display. */
#include <glib/gstdio.h>
#include <gtk/gtk.h>
#include <string.h>

#include "app/application.h"
#include "app/canvas.h"
#include "app/field.h"
#include "app/print-job.h"
#include "app/settings.h"
#include "app/start-page.h"
#include "app/window.h"
#include "file/autosave.h"
#include "file/document.h"

static GtkApplication *app;
static char *folder; /* scratch */

/* --- waiting and finding
 * --------------------------------------------------------- */

static gboolean
on_time (gpointer data)
{
  *(gboolean *)data = TRUE;
  return G_SOURCE_REMOVE;
}

static void
pause_ms (guint ms)
{
  gboolean over = FALSE;
  g_timeout_add (ms, on_time, &over);
  while (!over)
    g_main_context_iteration (NULL, TRUE);
}

#define wait_until(condition)                                                  \
  G_STMT_START                                                                 \
  {                                                                            \
    for (int wait_ = 0; wait_ < 500 && !(condition); wait_++)                  \
      pause_ms (20);                                                           \
    g_assert_true (condition);                                                 \
  }                                                                            \
  G_STMT_END

static gboolean
has_name (GtkWidget *widget, const char *name)
{
  g_autofree char *other = gtk_test_accessible_check_property (
      GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name);
  return other == NULL;
}

/* The first widget of the type with that name, or that label; NULL where there
 * is none. */
static GtkWidget *
find (GtkWidget *root, GType type, const char *name)
{
  if (g_type_is_a (G_OBJECT_TYPE (root), type)
      && (name == NULL || has_name (root, name)
          || (GTK_IS_BUTTON (root)
              && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (root)), name)
                     == 0)))
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find (child, type, name);
      if (found != NULL)
        return found;
    }
  return NULL;
}

static gboolean
shows_text (GtkWidget *root, const char *text)
{
  if (GTK_IS_LABEL (root) && gtk_widget_get_mapped (root)
      && strstr (gtk_label_get_text (GTK_LABEL (root)), text) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (shows_text (child, text))
      return TRUE;
  return FALSE;
}

static GtkWindow *
window_titled (const char *start)
{
  GListModel *all = gtk_window_get_toplevels ();
  for (guint i = 0; i < g_list_model_get_n_items (all); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (all, i);
      const char *title = gtk_window_get_title (window);
      if (title != NULL && g_str_has_prefix (title, start))
        return window;
    }
  return NULL;
}

static guint
count_windows (void)
{
  return g_list_model_get_n_items (gtk_window_get_toplevels ());
}

static void
click (GtkWidget *root, const char *name)
{
  GtkWidget *button = find (root, GTK_TYPE_BUTTON, name);
  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
}

static void
act (AppWindow *window, const char *action)
{
  g_action_group_activate_action (G_ACTION_GROUP (window), action, NULL);
}

/* --- windows
 * ---------------------------------------------------------------------- */

static AppWindow *
open_window (void)
{
  AppWindow *window = app_window_new (app);
  gtk_window_present (GTK_WINDOW (window));
  wait_until (gtk_widget_get_width (GTK_WIDGET (window)) > 0);
  return window;
}

static AppWindow *
open_demo (void)
{
  AppWindow *window = open_window ();
  app_window_open_demo (window);
  g_assert_nonnull (app_window_get_session (window));
  GtkWidget *canvas = app_window_get_canvas (window);
  wait_until (gtk_widget_get_width (canvas) > 100
              && gtk_widget_has_focus (canvas));
  return window;
}

/* Closes it, giving up what changed. */
static void
close_window (AppWindow *window)
{
  gpointer alive = window;
  g_object_add_weak_pointer (G_OBJECT (window), &alive);
  gboolean saved = app_window_get_session (window) == NULL
                   || app_session_is_saved (app_window_get_session (window));
  gtk_window_close (GTK_WINDOW (window));
  if (!saved)
    {
      wait_until (window_titled ("Save what you changed") != NULL);
      click (GTK_WIDGET (window_titled ("Save what you changed")),
             "Close without saving");
    }
  wait_until (alive == NULL);
}

static const PatternPiece *
piece_named (AppSession *session, const char *name)
{
  const Pattern *pattern = app_session_get_pattern (session);
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (g_str_equal (pattern->pieces[i]->name, name))
      return pattern->pieces[i];
  g_assert_not_reached ();
}

static const PatternEdge *
edge_named (AppSession *session, const char *piece_name, const char *name)
{
  const PatternPiece *piece = piece_named (session, piece_name);
  for (guint i = 0; i < piece->n_edges; i++)
    if (g_str_equal (piece->edges[i].name, name))
      return &piece->edges[i];
  g_assert_not_reached ();
}

static void
pick_edge (AppSession *session, const char *piece, const char *edge)
{
  app_session_pick_edge (session, piece_named (session, piece)->id,
                         edge_named (session, piece, edge)->id);
}

static double
edge_length (AppSession *session, const char *piece_name, const char *name)
{
  const PatternPiece *piece = piece_named (session, piece_name);
  int i = pattern_piece_find_edge (piece,
                                   edge_named (session, piece_name, name)->id);
  return sewing_facts_piece (app_session_get_facts (session), piece)
      ->lengths[i];
}

static void
type_into (AppWindow *window, const char *name, const char *text)
{
  GtkWidget *field = find (GTK_WIDGET (window), APP_TYPE_FIELD, name);
  g_assert_nonnull (field);
  gtk_editable_set_text (GTK_EDITABLE (app_field_get_entry (APP_FIELD (field))),
                         text);
  app_field_take (APP_FIELD (field));
}

/* --- tests
 * ------------------------------------------------------------------------ */

static void
test_start_page (void)
{
  AppWindow *window = open_window ();
  GtkWidget *page = find (GTK_WIDGET (window), APP_TYPE_START_PAGE, NULL);
  g_assert_true (gtk_widget_get_mapped (page));
  const char *const choices[]
      = { "Bring in a drawing", "Open the demo", "Draw from nothing" };
  for (guint i = 0; i < G_N_ELEMENTS (choices); i++)
    {
      GtkWidget *choice = find (page, GTK_TYPE_BUTTON, choices[i]);
      g_assert_nonnull (choice);
      g_assert_true (gtk_widget_get_sensitive (choice));
    }
  g_assert_false (
      g_action_group_get_action_enabled (G_ACTION_GROUP (window), "print"));
  click (page, "Open the demo");
  wait_until (app_window_get_session (window) != NULL);
  g_assert_true (
      g_action_group_get_action_enabled (G_ACTION_GROUP (window), "print"));
  close_window (window);
}

static void
test_demo (void)
{
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  g_assert_null (app_session_get_path (session));
  g_assert_true (shows_text (GTK_WIDGET (window), "Ferry cape"));
  g_assert_true (shows_text (GTK_WIDGET (window), "8 pieces"));
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), ==,
                    2);
  g_assert_true (shows_text (GTK_WIDGET (window), "2 pins"));
  g_assert_true (shows_text (GTK_WIDGET (window), "Collar fall 2.5 mm too short"));
  close_window (window);
}

static void
test_typing (void)
{
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  pick_edge (session, "Front", "neck");
  type_into (window, "Allowance", "5/8 in");
  /* 1 in = 25.4 mm (1959). */
  g_assert_cmpfloat_with_epsilon (
      edge_named (session, "Front", "neck")->allowance, 15.875, 1e-9);

  double before = edge_length (session, "Front", "neck");
  type_into (window, "Length", "1 cm + 2 cm * 5");
  g_assert_cmpfloat_with_epsilon (edge_length (session, "Front", "neck"), 110,
                                  0.01);
  act (window, "undo");
  g_assert_cmpfloat_with_epsilon (edge_length (session, "Front", "neck"),
                                  before, 1e-9);
  close_window (window);
}

/* What can't be read stays, says why, and changes nothing. */
static void
test_unreadable (void)
{
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  pick_edge (session, "Front", "neck");
  double before = edge_named (session, "Front", "neck")->allowance;
  guint steps = pattern_history_get_length (app_session_get_history (session));
  type_into (window, "Allowance", "two thumbs");
  GtkWidget *field = find (GTK_WIDGET (window), APP_TYPE_FIELD, "Allowance");
  GtkEntry *entry = app_field_get_entry (APP_FIELD (field));
  g_assert_true (app_field_is_unreadable (APP_FIELD (field)));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==,
                   "two thumbs");
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (entry), "error"));
  g_assert_cmpuint (strlen (gtk_label_get_text (
                        GTK_LABEL (gtk_widget_get_last_child (field)))),
                    >, 10);
  g_assert_cmpfloat (edge_named (session, "Front", "neck")->allowance, ==,
                     before);
  g_assert_cmpuint (
      pattern_history_get_length (app_session_get_history (session)), ==,
      steps);
  type_into (window, "Allowance", "-3 mm"); /* out of range */
  g_assert_true (app_field_is_unreadable (APP_FIELD (field)));
  type_into (window, "Allowance", "12 mm");
  g_assert_false (app_field_is_unreadable (APP_FIELD (field)));
  g_assert_cmpfloat_with_epsilon (
      edge_named (session, "Front", "neck")->allowance, 12, 1e-9);
  close_window (window);
}

static void
test_undo (void)
{
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  GActionGroup *actions = G_ACTION_GROUP (window);
  g_assert_false (g_action_group_get_action_enabled (actions, "undo"));
  app_session_pick_piece (session, piece_named (session, "Welt")->id, FALSE);
  type_into (window, "Name", "Arm welt");
  g_assert_true (g_action_group_get_action_enabled (actions, "undo"));
  g_assert_false (app_session_is_saved (session));
  act (window, "undo");
  g_assert_nonnull (piece_named (session, "Welt"));
  g_assert_true (app_session_is_saved (session));
  g_assert_true (g_action_group_get_action_enabled (actions, "redo"));
  act (window, "redo");
  g_assert_nonnull (piece_named (session, "Arm welt"));
  close_window (window);
}

static void
test_unit (void)
{
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  GtkWidget *unit = find (GTK_WIDGET (window), GTK_TYPE_DROP_DOWN, "Unit");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (unit), PATTERN_INCH);
  g_assert_cmpint (app_session_get_pattern (session)->unit, ==, PATTERN_INCH);
  pick_edge (session, "Front", "neck");
  GtkWidget *field = find (GTK_WIDGET (window), APP_TYPE_FIELD, "Allowance");
  g_assert_nonnull (strstr (gtk_editable_get_text (GTK_EDITABLE (
                                app_field_get_entry (APP_FIELD (field)))),
                            "in"));
  /* A bare number is inches now. */
  type_into (window, "Allowance", "1/2");
  g_assert_cmpfloat_with_epsilon (
      edge_named (session, "Front", "neck")->allowance, 12.7, 1e-9);
  act (window, "undo");
  act (window, "undo");
  g_assert_cmpint (app_session_get_pattern (session)->unit, ==, PATTERN_CM);
  close_window (window);
}

static void
test_mend (void)
{
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  act (window, "pins");
  wait_until (shows_text (GTK_WIDGET (window), "shorter than"));
  GtkWidget *button = NULL;
  const GPtrArray *findings = app_session_get_findings (session);
  const SewingFinding *first = g_ptr_array_index (findings, 0);
  button = find (GTK_WIDGET (window), GTK_TYPE_BUTTON, first->remedy.label);
  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), ==,
                    1);
  g_assert_true (shows_text (GTK_WIDGET (window), "1 pin"));
  act (window, "undo");
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), ==,
                    2);
  close_window (window);
}

static void
test_panels (void)
{
  AppWindow *window = open_demo ();
  GtkWidget *allowance_of = find (GTK_WIDGET (window), APP_TYPE_FIELD, "Name");
  g_assert_true (gtk_widget_get_mapped (allowance_of));
  g_action_group_change_action_state (G_ACTION_GROUP (window), "show-pick",
                                      g_variant_new_boolean (FALSE));
  pause_ms (100);
  g_assert_false (gtk_widget_get_mapped (allowance_of));
  /* And it is remembered. */
  g_autofree char *path = g_build_filename (g_get_user_config_dir (), "bodkin",
                                            "settings.ini", NULL);
  g_autofree char *text = NULL;
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_assert_nonnull (strstr (text, "pick=false"));
  g_action_group_change_action_state (G_ACTION_GROUP (window), "show-pick",
                                      g_variant_new_boolean (TRUE));
  close_window (window);
}

static void
test_copy_paste (void)
{
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  app_session_pick_piece (session, piece_named (session, "Welt")->id, FALSE);
  act (window, "copy");
  act (window, "paste");
  wait_until (app_session_get_pattern (session)->n_pieces == 9);
  g_autofree char *why = pattern_unsound (app_session_get_pattern (session));
  g_assert_null (why);
  g_assert_cmpuint (app_session_get_pattern (session)->n_cloths, ==, 3);
  close_window (window);
}

static void
test_save_and_question (void)
{
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  g_autofree char *path = g_build_filename (folder, "cape.bodkin", NULL);
  g_autoptr (GError) error = NULL;
  g_assert_true (app_session_save (session, path, FALSE, &error));
  g_assert_true (shows_text (GTK_WIDGET (window), "cape.bodkin · saved"));

  pick_edge (session, "Front", "neck");
  type_into (window, "Allowance", "8 mm");
  g_assert_true (shows_text (GTK_WIDGET (window), "cape.bodkin · changed"));
  guint windows = count_windows ();
  gtk_window_close (GTK_WINDOW (window));
  wait_until (window_titled ("Save what you changed") != NULL);
  click (GTK_WIDGET (window_titled ("Save what you changed")), "Keep working");
  wait_until (count_windows () == windows);
  g_assert_false (app_session_is_saved (session));

  /* Saved while closing. */
  gpointer alive = window;
  g_object_add_weak_pointer (G_OBJECT (window), &alive);
  gtk_window_close (GTK_WINDOW (window));
  wait_until (window_titled ("Save what you changed") != NULL);
  click (GTK_WIDGET (window_titled ("Save what you changed")), "Save");
  wait_until (alive == NULL);
  g_autoptr (Pattern) again = file_document_load (path, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (again->n_pieces, ==, 8);

  /* What another program wrote is not replaced unasked. */
  window = open_window ();
  app_window_open_path (window, path);
  session = app_window_get_session (window);
  g_assert_cmpstr (app_session_get_path (session), ==, path);
  gsize length;
  g_autofree char *text = file_document_write (again, &length);
  g_autofree char *longer = g_strconcat (text, "<!-- later -->\n", NULL);
  g_assert_true (g_file_set_contents (path, longer, -1, NULL));
  pick_edge (session, "Front", "neck");
  type_into (window, "Allowance", "9 mm");
  act (window, "save");
  wait_until (window_titled ("The file was changed") != NULL);
  click (GTK_WIDGET (window_titled ("The file was changed")), "Don't save now");
  wait_until (window_titled ("The file was changed") == NULL);
  g_autofree char *kept = NULL;
  g_assert_true (g_file_get_contents (path, &kept, NULL, NULL));
  g_assert_cmpstr (kept, ==, longer);
  close_window (window);
}

static void
test_unopenable (void)
{
  AppWindow *window = open_window ();
  g_autofree char *path = g_build_filename (folder, "broken.bodkin", NULL);
  g_assert_true (g_file_set_contents (path, "not a pattern", -1, NULL));
  app_window_open_path (window, path);
  g_assert_null (app_window_get_session (window));
  pause_ms (300);
  g_assert_true (shows_text (GTK_WIDGET (window), "broken.bodkin"));
  close_window (window);
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
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  act (window, "print");
  wait_until (window_titled ("Print at full size") != NULL);
  GtkWindow *dialog = window_titled ("Print at full size");
  wait_until (shows_text (GTK_WIDGET (dialog), "overview"));
  g_assert_true (shows_text (GTK_WIDGET (dialog), "100 mm both ways"));
  gtk_window_close (dialog);
  wait_until (window_titled ("Print at full size") == NULL);

  FileSheetOptions options
      = file_sheet_options_default (file_paper_find ("A4"));
  g_autofree char *path = g_build_filename (folder, "sheets.pdf", NULL);
  Printed printed = { 0 };
  app_print_job_save (app_session_get_pattern (session), &options, path,
                      on_printed, &printed);
  wait_until (printed.finished);
  g_assert_false (printed.failed);
  g_assert_cmpuint (printed.n_pages, >, 4);
  g_autofree char *text = NULL;
  gsize length = 0;
  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  g_assert_true (g_str_has_prefix (text, "%PDF-"));
  g_assert_nonnull (memmem (text, length, "/PrintScaling", 13));

  /* Cancelled, nothing is left behind. */
  g_autofree char *other = g_build_filename (folder, "other.pdf", NULL);
  printed = (Printed){ 0 };
  AppPrintJob *job = app_print_job_save (app_session_get_pattern (session),
                                         &options, other, on_printed, &printed);
  app_print_job_cancel (job);
  wait_until (printed.finished);
  g_assert_true (printed.cancelled);
  g_assert_false (g_file_test (other, G_FILE_TEST_EXISTS));
  close_window (window);
}

/* What goes to a printer has its sheets' size and is not scaled. ISO 216: A4 is 210 x
 * 297 mm, in points 595.276 x 841.890. */
static void
test_printer (void)
{
  AppWindow *window = open_demo ();
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
  g_autofree char *path = g_build_filename (folder, "printer.pdf", NULL);
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
  close_window (window);
}

static void
on_import_window (const char *name)
{
  g_autofree char *title = g_strdup_printf ("Bring in “%s”", name);
  wait_until (window_titled (title) != NULL);
}

/* 96 px to the inch: a square of 96 px is 25.4 mm (SVG 1.1, 7.10). */
static void
test_import (void)
{
  AppWindow *window = open_window ();
  g_autofree char *path = g_build_filename (folder, "inch.svg", NULL);
  g_assert_true (g_file_set_contents (
      path,
      "<svg xmlns='http://www.w3.org/2000/svg' width='200' height='200'>"
      "<rect id='pocket' x='10' y='10' width='96' height='192'/></svg>",
      -1, NULL));
  app_window_open_path (window, path);
  on_import_window ("inch");
  click (GTK_WIDGET (window_titled ("Bring in “inch”")), "Bring in");
  wait_until (app_window_get_session (window) != NULL);
  AppSession *session = app_window_get_session (window);
  const PatternPiece *piece = piece_named (session, "pocket");
  g_assert_cmpuint (piece->n_edges, ==, 4);
  g_assert_cmpfloat_with_epsilon (
      sewing_facts_piece (app_session_get_facts (session), piece)->area,
      25.4 * 50.8, 1e-6);
  g_assert_false (app_session_is_saved (session));

  /* A second one, at the size she types, lands beside it as one step. */
  app_window_open_path (window, path);
  on_import_window ("inch");
  GtkWidget *dialog = GTK_WIDGET (window_titled ("Bring in “inch”"));
  GtkWidget *width = find (dialog, APP_TYPE_FIELD, "Width");
  gtk_editable_set_text (GTK_EDITABLE (app_field_get_entry (APP_FIELD (width))),
                         "50 mm");
  click (dialog, "Bring in");
  wait_until (app_session_get_pattern (session)->n_pieces == 2);
  const PatternPiece *second = app_session_get_pattern (session)->pieces[1];
  g_assert_cmpfloat_with_epsilon (
      sewing_facts_piece (app_session_get_facts (session), second)->area,
      50.0 * 100.0, 1e-6);
  act (window, "undo");
  g_assert_cmpuint (app_session_get_pattern (session)->n_pieces, ==, 1);
  close_window (window);
}

/* Every control a key can reach has a name, and none is too small to hit
 * (WCAG 2.2, 2.5.8: 24 px). */
static void
check_controls (GtkWidget *widget, guint *n)
{
  if (!gtk_widget_get_mapped (widget))
    return;
  gboolean control = GTK_IS_BUTTON (widget) || GTK_IS_ENTRY (widget)
                     || GTK_IS_DROP_DOWN (widget) || GTK_IS_TEXT_VIEW (widget)
                     || GTK_IS_CHECK_BUTTON (widget) || APP_IS_CANVAS (widget);
  /* The insides of these are named by what they are part of. */
  GtkWidget *parent = gtk_widget_get_parent (widget);
  gboolean inside = parent != NULL
                    && (GTK_IS_DROP_DOWN (parent) || GTK_IS_MENU_BUTTON (parent)
                        || GTK_IS_WINDOW_CONTROLS (parent));
  if (control && !inside)
    {
      (*n)++;
      gboolean labelled
          = gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget),
                                              GTK_ACCESSIBLE_PROPERTY_LABEL)
            || gtk_test_accessible_has_relation (
                GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_RELATION_LABELLED_BY)
            || find (widget, GTK_TYPE_LABEL, NULL) != NULL;
      if (!labelled)
        g_error ("a %s has no name", G_OBJECT_TYPE_NAME (widget));
      if (gtk_widget_get_width (widget) < 24
          || gtk_widget_get_height (widget) < 24)
        g_error ("a %s is %d x %d px", G_OBJECT_TYPE_NAME (widget),
                 gtk_widget_get_width (widget), gtk_widget_get_height (widget));
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    check_controls (child, n);
}

static void
test_controls (void)
{
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  guint n = 0;
  check_controls (GTK_WIDGET (window), &n);
  const PatternPiece *front = piece_named (session, "Front");
  app_session_pick_piece (session, front->id, FALSE);
  pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  pick_edge (session, "Front", "neck");
  pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  app_session_pick_nodes (session, front->id, front->edges[0].id,
                          &front->nodes[0].id, 1);
  pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  app_session_pick_mark (session, front->id, front->notches[0].id);
  pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  app_session_pick_mark (session, front->id, front->buttonholes[0].id);
  pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  app_session_pick_seam (session,
                         app_session_get_pattern (session)->seams[0]->id);
  pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  g_assert_cmpuint (n, >, 100);
  close_window (window);
}

/* --- with a real pointer
 * --------------------------------------------------------------- */

static gboolean
xdotool (const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *words = g_strdup_vprintf (format, args);
  va_end (args);
  g_autofree char *line = g_strdup_printf ("xdotool %s", words);
  g_auto (GStrv) argv = NULL;
  g_assert_true (g_shell_parse_argv (line, NULL, &argv, NULL));
  GPid pid;
  if (!g_spawn_async (NULL, argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &pid,
                      NULL))
    return FALSE;
  pause_ms (120);
  return TRUE;
}

/* The window's place on the screen, from the window manager's point of view. */
static gboolean
window_place (int *x, int *y)
{
  g_autofree char *out = NULL;
  if (!g_spawn_command_line_sync (
          "xdotool getactivewindow getwindowgeometry --shell", &out, NULL, NULL,
          NULL))
    return FALSE;
  const char *at_x = strstr (out, "X="), *at_y = strstr (out, "Y=");
  if (at_x == NULL || at_y == NULL)
    return FALSE;
  *x = atoi (at_x + 2);
  *y = atoi (at_y + 2);
  return TRUE;
}

static GeoPoint
on_screen (AppWindow *window, GeoPoint table)
{
  AppCanvas *canvas = APP_CANVAS (app_window_get_canvas (window));
  GeoPoint px = app_canvas_to_px (canvas, table);
  graphene_point_t at = GRAPHENE_POINT_INIT ((float)px.x, (float)px.y);
  graphene_point_t in_window;
  g_assert_true (gtk_widget_compute_point (
      GTK_WIDGET (canvas), GTK_WIDGET (window), &at, &in_window));
  double dx, dy;
  gtk_native_get_surface_transform (GTK_NATIVE (window), &dx, &dy);
  int x = 0, y = 0;
  g_assert_true (window_place (&x, &y));
  return geo_point (x + dx + in_window.x, y + dy + in_window.y);
}

static double
seam_out (AppSession *session, const char *name)
{
  const Pattern *pattern = app_session_get_shown (session);
  for (guint i = 0; i < pattern->n_seams; i++)
    if (g_str_equal (pattern->seams[i]->name, name))
      return sewing_facts_seam (app_session_get_facts (session), pattern,
                                pattern->seams[i])
          ->out;
  g_assert_not_reached ();
}

/* The first evening: she drags the neckline, the neck seam goes out, she takes
 * it back. */
static void
test_drag (void)
{
  g_autofree char *found = g_find_program_in_path ("xdotool");
  if (found == NULL)
    {
      g_test_skip ("xdotool is not installed");
      return;
    }
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  int x, y;
  pause_ms (300);
  if (!window_place (&x, &y))
    {
      g_test_skip ("no window manager");
      close_window (window);
      return;
    }
  g_assert_cmpfloat_with_epsilon (seam_out (session, "Neck seam"), 0, 0.05);
  const PatternPiece *front = piece_named (session, "Front");
  int i = pattern_piece_find_edge (front,
                                   edge_named (session, "Front", "neck")->id);
  GeoCubic neck = pattern_piece_cubic (front, front->edges[i].first);
  GeoPoint from = on_screen (window, geo_cubic_point (&neck, 0.5));
  xdotool ("mousemove %.0f %.0f", from.x, from.y);
  xdotool ("click 1");
  wait_until (app_session_get_pick (session)->kind == APP_PICK_EDGE);
  g_assert_true (shows_text (GTK_WIDGET (window), "Front · neck"));

  xdotool ("mousedown 1");
  for (int step = 1; step <= 4; step++)
    xdotool ("mousemove %.0f %.0f", from.x, from.y + 4 * step);
  g_assert_true (app_session_is_previewing (session));
  double out_while = seam_out (session, "Neck seam");
  g_assert_cmpfloat (fabs (out_while), >, 0.5);
  xdotool ("mouseup 1");
  wait_until (!app_session_is_previewing (session));
  g_assert_cmpfloat_with_epsilon (seam_out (session, "Neck seam"), out_while,
                                  1e-6);
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), >,
                    2);

  xdotool ("key ctrl+z");
  wait_until (app_session_is_saved (session));
  g_assert_cmpfloat_with_epsilon (seam_out (session, "Neck seam"), 0, 0.05);
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), ==,
                    2);
  close_window (window);
}

/* Letters change the tool on the table and are letters in a field. */
static void
test_keys (void)
{
  g_autofree char *found = g_find_program_in_path ("xdotool");
  AppWindow *window = open_demo ();
  AppSession *session = app_window_get_session (window);
  AppCanvas *canvas = APP_CANVAS (app_window_get_canvas (window));
  int x, y;
  pause_ms (300);
  if (found == NULL || !window_place (&x, &y))
    {
      g_test_skip ("no xdotool or no window manager");
      close_window (window);
      return;
    }
  xdotool ("key t");
  wait_until (app_canvas_get_tool (canvas) == APP_TOOL_TAPE);
  xdotool ("key r");
  wait_until (app_canvas_get_tool (canvas) == APP_TOOL_RESHAPE);
  app_session_pick_piece (session, piece_named (session, "Welt")->id, FALSE);
  GtkWidget *name = find (GTK_WIDGET (window), APP_TYPE_FIELD, "Name");
  gtk_widget_grab_focus (name);
  xdotool ("key ctrl+a");
  xdotool ("type tab");
  xdotool ("key Return");
  wait_until (g_str_equal (app_field_get_text (APP_FIELD (name)), "tab"));
  g_assert_cmpint (app_canvas_get_tool (canvas), ==, APP_TOOL_RESHAPE);
  g_assert_nonnull (piece_named (session, "tab"));
  /* Nor do these reach past a field that has no use for them. */
  xdotool ("key End");
  xdotool ("key Delete");
  xdotool ("key ctrl+x");
  pause_ms (100);
  g_assert_cmpuint (app_session_get_pattern (session)->n_pieces, ==, 8);
  close_window (window);
}

int
main (int argc, char **argv)
{
  g_setenv ("GTK_A11Y", "test", TRUE);
  if (!gtk_init_check ())
    {
      g_print ("1..0 # SKIP no display\n");
      return 0;
    }
  g_test_init (&argc, &argv, NULL);
  folder = g_dir_make_tmp ("bodkin-window-XXXXXX", NULL);
  app = app_application_new ();
  g_assert_true (g_application_register (G_APPLICATION (app), NULL, NULL));

  g_test_add_func ("/window/start-page", test_start_page);
  g_test_add_func ("/window/demo", test_demo);
  g_test_add_func ("/window/typing", test_typing);
  g_test_add_func ("/window/unreadable", test_unreadable);
  g_test_add_func ("/window/undo", test_undo);
  g_test_add_func ("/window/unit", test_unit);
  g_test_add_func ("/window/mend", test_mend);
  g_test_add_func ("/window/panels", test_panels);
  g_test_add_func ("/window/copy-paste", test_copy_paste);
  g_test_add_func ("/window/save-and-question", test_save_and_question);
  g_test_add_func ("/window/unopenable", test_unopenable);
  g_test_add_func ("/window/print", test_print);
  g_test_add_func ("/window/printer", test_printer);
  g_test_add_func ("/window/import", test_import);
  g_test_add_func ("/window/controls", test_controls);
  g_test_add_func ("/window/drag", test_drag);
  g_test_add_func ("/window/keys", test_keys);
  int status = g_test_run ();
  file_autosave_flush ();
  g_object_unref (app);
  return status;
}
