/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole window on the demo: what its panels show and do. One part drives it
 * with real pointer events (xdotool). Skipped where there is no display. */
#include <gtk/gtk.h>
#include <string.h>

#include "app/amount-bar.h"
#include "app/canvas.h"
#include "app/draft.h"
#include "app/field.h"
#include "app/settings.h"
#include "app/start-page.h"
#include "app/window.h"
#include "driver.h"

static void
test_start_page (void)
{
  AppWindow *window = driver_open ();
  GtkWidget *page
      = driver_find (GTK_WIDGET (window), APP_TYPE_START_PAGE, NULL);
  g_assert_true (gtk_widget_get_mapped (page));
  const char *const choices[] = { "Trace a picture", "Open the demo",
                                  "Bring in a drawing", "Draw from nothing" };
  for (guint i = 0; i < G_N_ELEMENTS (choices); i++)
    {
      GtkWidget *choice = driver_find (page, GTK_TYPE_BUTTON, choices[i]);
      g_assert_nonnull (choice);
      g_assert_true (gtk_widget_get_sensitive (choice));
    }
  g_assert_false (
      g_action_group_get_action_enabled (G_ACTION_GROUP (window), "print"));
  driver_click (page, "Open the demo");
  driver_wait_until (app_window_get_session (window) != NULL);
  g_assert_true (
      g_action_group_get_action_enabled (G_ACTION_GROUP (window), "print"));
  driver_close (window);
}

static void
test_demo (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  g_assert_null (app_session_get_path (session));
  g_assert_true (driver_shows (GTK_WIDGET (window), "Ferry cape"));
  g_assert_true (driver_shows (GTK_WIDGET (window), "8 pieces"));
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), ==,
                    2);
  g_assert_true (driver_shows (GTK_WIDGET (window), "2 pins"));
  g_assert_true (
      driver_shows (GTK_WIDGET (window), "Collar fall 2.5 mm too short"));
  driver_close (window);
}

static void
test_typing (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  driver_pick_edge (session, "Front", "neck");
  driver_type (window, "Allowance", "5/8 in");
  /* 1 in = 25.4 mm (1959). */
  g_assert_cmpfloat_with_epsilon (
      driver_edge (session, "Front", "neck")->allowance, 15.875, 1e-9);

  double before = driver_edge_length (session, "Front", "neck");
  driver_type (window, "Length", "1 cm + 2 cm * 5");
  g_assert_cmpfloat_with_epsilon (driver_edge_length (session, "Front", "neck"),
                                  110, 0.01);
  driver_act (window, "undo");
  g_assert_cmpfloat_with_epsilon (driver_edge_length (session, "Front", "neck"),
                                  before, 1e-9);
  driver_close (window);
}

/* What can't be read stays, says why, and changes nothing. */
static void
test_unreadable (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  driver_pick_edge (session, "Front", "neck");
  double before = driver_edge (session, "Front", "neck")->allowance;
  guint steps = pattern_history_get_length (app_session_get_history (session));
  driver_type (window, "Allowance", "two thumbs");
  GtkWidget *field
      = driver_find (GTK_WIDGET (window), APP_TYPE_FIELD, "Allowance");
  GtkEntry *entry = app_field_get_entry (APP_FIELD (field));
  g_assert_true (app_field_is_unreadable (APP_FIELD (field)));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==,
                   "two thumbs");
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (entry), "error"));
  g_assert_cmpuint (strlen (gtk_label_get_text (
                        GTK_LABEL (gtk_widget_get_last_child (field)))),
                    >, 10);
  g_assert_cmpfloat (driver_edge (session, "Front", "neck")->allowance, ==,
                     before);
  g_assert_cmpuint (
      pattern_history_get_length (app_session_get_history (session)), ==,
      steps);
  driver_type (window, "Allowance", "-3 mm"); /* out of range */
  g_assert_true (app_field_is_unreadable (APP_FIELD (field)));
  driver_type (window, "Allowance", "12 mm");
  g_assert_false (app_field_is_unreadable (APP_FIELD (field)));
  g_assert_cmpfloat_with_epsilon (
      driver_edge (session, "Front", "neck")->allowance, 12, 1e-9);
  driver_close (window);
}

static void
test_undo (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  GActionGroup *actions = G_ACTION_GROUP (window);
  g_assert_false (g_action_group_get_action_enabled (actions, "undo"));
  app_session_pick_piece (session, driver_piece (session, "Welt")->id, FALSE);
  driver_type (window, "Name", "Arm welt");
  g_assert_true (g_action_group_get_action_enabled (actions, "undo"));
  g_assert_false (app_session_is_saved (session));
  driver_act (window, "undo");
  g_assert_nonnull (driver_piece (session, "Welt"));
  g_assert_true (app_session_is_saved (session));
  g_assert_true (g_action_group_get_action_enabled (actions, "redo"));
  driver_act (window, "redo");
  g_assert_nonnull (driver_piece (session, "Arm welt"));
  driver_close (window);
}

static void
begin_verb (AppWindow *window, const char *verb)
{
  g_action_group_activate_action (G_ACTION_GROUP (window), "draft",
                                  g_variant_new_string (verb));
}

/* The bar above the table: what is picked is filled in, what is typed is shown at once, and done
 * or left. */
static void
test_draft (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  const PatternHistory *history = app_session_get_history (session);
  driver_pick_edge (session, "Front", "hem");
  double before = pattern_piece_area (driver_piece (session, "Front"));
  begin_verb (window, "lengthen-hem");
  GtkWidget *bar = driver_find (GTK_WIDGET (window), APP_TYPE_AMOUNT_BAR, NULL);
  g_assert_true (gtk_widget_get_visible (bar));
  g_assert_true (driver_shows (bar, "hem (Front)"));
  g_assert_true (app_session_is_previewing (session));
  g_assert_false (
      g_action_group_get_action_enabled (G_ACTION_GROUP (window), "delete"));
  GtkWidget *by = driver_find (bar, GTK_TYPE_ENTRY, "Lengthen by");
  gtk_editable_set_text (GTK_EDITABLE (by), "3,5 cm");
  g_assert_cmpfloat (
      pattern_piece_area (app_session_get_shown (session)->pieces[2]), >,
      before + 3000);
  gtk_editable_set_text (GTK_EDITABLE (by), "3 apples");
  g_assert_false (app_session_is_previewing (session));
  g_assert_false (
      gtk_widget_get_sensitive (driver_find (bar, GTK_TYPE_BUTTON, "Do it")));
  gtk_editable_set_text (GTK_EDITABLE (by), "35 mm");
  driver_click (bar, "Do it");
  g_assert_false (gtk_widget_get_visible (bar));
  g_assert_cmpuint (pattern_history_get_length (history), ==, 2);
  driver_act (window, "undo");
  g_assert_cmpfloat_with_epsilon (
      pattern_piece_area (driver_piece (session, "Front")), before, 1e-6);
  begin_verb (window, "lengthen-hem");
  app_draft_end (session);
  g_assert_false (app_session_is_previewing (session));
  g_assert_false (gtk_widget_get_visible (bar));
  driver_close (window);
}

/* A linked piece's page, and a body figure its amount is written with. */
static void
test_linked (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  Pattern *p = pattern_dup (app_session_get_pattern (session));
  PatternFigure figure
      = { pattern_take_id (p), (char *)"hand width", 200, (char *)"" };
  pattern_put_figure (p, &figure);
  app_session_do (session, "figure", NULL, p, NULL);
  app_session_pick_piece (session, driver_piece (session, "Welt")->id, FALSE);
  begin_verb (window, "interfacing");
  driver_click (GTK_WIDGET (window), "Do it");
  g_assert_cmpuint (app_session_get_pattern (session)->n_recipes, ==, 1);
  driver_type (window, "Allowance kept", "hand width / 50");
  const PatternRecipe *recipe = app_session_get_pattern (session)->recipes[0];
  g_assert_cmpstr (pattern_step_get (recipe->step, "allowance"), ==,
                   "hand width / 50");
  app_session_pick_none (session);
  driver_type (window, "hand width", "21 cm");
  g_assert_cmpfloat_with_epsilon (
      app_session_get_pattern (session)->figures[0].mm, 210, 1e-9);
  g_assert_true (driver_shows (GTK_WIDGET (window), "used by"));
  guint made = pattern_recipe_get_made (
      app_session_get_pattern (session)->recipes[0],
      app_session_get_pattern (session)->recipes[0]->made[0].part);
  app_session_pick_piece (session, made, FALSE);
  driver_click (GTK_WIDGET (window), "Let it go");
  g_assert_cmpuint (app_session_get_pattern (session)->n_recipes, ==, 0);
  driver_act (window, "undo");
  g_assert_cmpuint (app_session_get_pattern (session)->n_recipes, ==, 1);
  driver_close (window);
}

static void
test_unit (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  GtkWidget *unit
      = driver_find (GTK_WIDGET (window), GTK_TYPE_DROP_DOWN, "Unit");
  /* At the rulers' corner and in the menu. */
  g_action_group_activate_action (G_ACTION_GROUP (window), "unit",
                                  g_variant_new_string ("mm"));
  g_assert_cmpint (app_session_get_pattern (session)->unit, ==, PATTERN_MM);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (unit)), ==,
                    PATTERN_MM);
  driver_act (window, "undo");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (unit), PATTERN_INCH);
  g_assert_cmpint (app_session_get_pattern (session)->unit, ==, PATTERN_INCH);
  driver_pick_edge (session, "Front", "neck");
  GtkWidget *field
      = driver_find (GTK_WIDGET (window), APP_TYPE_FIELD, "Allowance");
  g_assert_nonnull (strstr (gtk_editable_get_text (GTK_EDITABLE (
                                app_field_get_entry (APP_FIELD (field)))),
                            "in"));
  /* A bare number is inches now. */
  driver_type (window, "Allowance", "1/2");
  g_assert_cmpfloat_with_epsilon (
      driver_edge (session, "Front", "neck")->allowance, 12.7, 1e-9);
  driver_act (window, "undo");
  driver_act (window, "undo");
  g_assert_cmpint (app_session_get_pattern (session)->unit, ==, PATTERN_CM);
  driver_close (window);
}

static void
test_mend (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  driver_act (window, "pins");
  driver_wait_until (driver_shows (GTK_WIDGET (window), "shorter than"));
  GtkWidget *button = NULL;
  const GPtrArray *findings = app_session_get_findings (session);
  const SewingFinding *first = g_ptr_array_index (findings, 0);
  button
      = driver_find (GTK_WIDGET (window), GTK_TYPE_BUTTON, first->remedy.label);
  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), ==,
                    1);
  g_assert_true (driver_shows (GTK_WIDGET (window), "1 pin"));
  driver_act (window, "undo");
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), ==,
                    2);
  driver_close (window);
}

/* Another way to mend it, from the menu beside what is offered first: the other side. */
static void
test_mend_another_way (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  GtkWidget *root = GTK_WIDGET (window);
  double before = driver_edge_length (session, "Collar band", "upper edge");
  driver_act (window, "pins");
  GtkWidget *others = NULL;
  driver_wait_until ((others = driver_find (root, GTK_TYPE_MENU_BUTTON,
                                            "Other ways to mend it"))
                     != NULL);
  gtk_menu_button_popup (GTK_MENU_BUTTON (others));
  const SewingFinding *first = app_session_get_findings (session)->pdata[0];
  g_assert_cmpuint (first->n_others, >, 0);
  g_autofree char *label = g_strdup (first->others[0].label);
  driver_wait_until (driver_find (root, GTK_TYPE_BUTTON, label) != NULL);
  driver_click (root, label);
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), ==,
                    1);
  g_assert_cmpfloat_with_epsilon (
      driver_edge_length (session, "Collar band", "upper edge"), before - 2.5,
      0.01);
  driver_act (window, "undo");
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), ==,
                    2);
  driver_close (window);
}

/* A seam's page: sides are called by their pieces; ease is a positive amount with the side
 * that is longer; one allowance for all its edges is one step. */
static void
test_seam_page (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  GtkWidget *root = GTK_WIDGET (window);
  const Pattern *pattern = app_session_get_pattern (session);
  guint id = 0;
  for (guint i = 0; i < pattern->n_seams; i++)
    if (g_str_equal (pattern->seams[i]->name, "Collar seam"))
      id = pattern->seams[i]->id;
  app_session_pick_seam (session, id);
  driver_wait_until (driver_shows (root, "Turn Collar band's walk"));
  g_assert_true (driver_shows (root, "Collar band 0.25 cm longer"));

  /* The side that is longer already is proposed. */
  driver_type (window, "Ease meant", "2.5 mm");
  g_assert_cmpfloat_with_epsilon (
      pattern_get_seam (app_session_get_pattern (session), id)->ease, 2.5,
      1e-9);
  g_assert_false (driver_shows (root, "usually takes in"));
  driver_type (window, "Ease meant", "5");
  g_assert_true (driver_shows (root, "usually takes in"));
  GtkWidget *longer = driver_find (root, GTK_TYPE_DROP_DOWN, "Eased in");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (longer), 1);
  g_assert_cmpfloat_with_epsilon (
      pattern_get_seam (app_session_get_pattern (session), id)->ease, -50,
      1e-9);
  driver_act (window, "undo");
  g_assert_cmpint (gtk_drop_down_get_selected (GTK_DROP_DOWN (longer)), ==, 0);
  driver_act (window, "undo");
  driver_act (window, "undo");

  driver_type (window, "Allowance, both sides", "7 mm");
  g_assert_cmpfloat (
      driver_edge (session, "Collar band", "upper edge")->allowance, ==, 7);
  g_assert_cmpfloat (
      driver_edge (session, "Collar fall", "neck edge")->allowance, ==, 7);
  driver_act (window, "undo");
  g_assert_true (app_session_is_saved (session));

  /* One edge alone: told, and offered to be carried across. */
  driver_pick_edge (session, "Collar band", "upper edge");
  GtkWidget *same
      = driver_find (root, GTK_TYPE_BUTTON, "Same on the other side");
  g_assert_false (gtk_widget_get_visible (same));
  driver_type (window, "Allowance", "8 mm");
  g_assert_true (gtk_widget_get_visible (same));
  g_signal_emit_by_name (same, "clicked");
  g_assert_false (gtk_widget_get_visible (same));
  g_assert_cmpfloat (
      driver_edge (session, "Collar fall", "neck edge")->allowance, ==, 8);
  driver_close (window);
}

/* Ease between two notches in the seam's panel: meant, told another way, retyped, taken
 * away. */
static void
test_ease_between (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  GtkWidget *root = GTK_WIDGET (window);
  const Pattern *pattern = app_session_get_pattern (session);
  guint id = 0;
  for (guint i = 0; i < pattern->n_seams; i++)
    if (g_str_equal (pattern->seams[i]->name, "Back panel seam"))
      id = pattern->seams[i]->id;
  app_session_pick_seam (session, id);
  driver_wait_until (driver_find (root, GTK_TYPE_BUTTON, "Set ease here")
                     != NULL);
  GtkWidget *from = driver_find (root, GTK_TYPE_DROP_DOWN, "From");
  GtkWidget *to = driver_find (root, GTK_TYPE_DROP_DOWN, "To");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (from), 1);
  GtkWidget *add = driver_find (root, GTK_TYPE_BUTTON, "Set ease here");
  g_assert_false (gtk_widget_get_sensitive (add)); /* from 1 to 1 */
  gtk_drop_down_set_selected (GTK_DROP_DOWN (to), 1);
  g_assert_true (gtk_widget_get_sensitive (add));
  driver_click (root, "Set ease here");
#define SEAM() pattern_get_seam (app_session_get_pattern (session), id)
  g_assert_cmpuint (SEAM ()->n_spans, ==, 1);
  g_assert_cmpuint (SEAM ()->spans[0].from, !=, 0);
  g_assert_cmpuint (SEAM ()->spans[0].to, !=, 0);
  g_assert_true (driver_shows (root, "From 1 to 2"));
  g_assert_false (gtk_widget_get_sensitive (add));
  driver_type (window, "Ease between these marks", "4 mm");
  g_assert_cmpfloat_with_epsilon (SEAM ()->spans[0].amount, 4, 1e-9);
  GtkWidget *unit = driver_find (root, GTK_TYPE_DROP_DOWN, "Told as");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (unit), 1);
  g_assert_true (SEAM ()->spans[0].per_cent);
  const SewingSeam *facts
      = sewing_facts_seam (app_session_get_facts (session),
                           app_session_get_pattern (session), SEAM ());
  g_assert_cmpfloat_with_epsilon (facts->spans[0].ease, 4, 1e-9);
  driver_type (window, "Ease between these marks, per cent", "2");
  g_assert_cmpfloat_with_epsilon (SEAM ()->spans[0].amount, 2, 1e-9);
  driver_click (root, "Mean no ease here");
  g_assert_cmpuint (SEAM ()->n_spans, ==, 0);
  for (int i = 0; i < 5; i++)
    driver_act (window, "undo");
#undef SEAM
  g_assert_true (app_session_is_saved (session));
  driver_close (window);
}

/* Clips at a spacing of one's own, and as computed again. */
static void
test_clip_spacing (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  GtkWidget *root = GTK_WIDGET (window);
  driver_pick_edge (session, "Front", "neck");
  driver_wait_until (driver_shows (root, "Handbooks: every 6 to 13 mm"));
  driver_type (window, "Cut every", "8 mm");
  g_assert_cmpfloat_with_epsilon (
      driver_edge (session, "Front", "neck")->clip_spacing, 8, 1e-9);
  g_assert_true (driver_shows (root, "Computed: "));
  driver_type (window, "Cut every", "0");
  g_assert_cmpfloat (driver_edge (session, "Front", "neck")->clip_spacing, ==,
                     0);
  driver_act (window, "undo");
  driver_act (window, "undo");
  driver_close (window);
}

static void
test_panels (void)
{
  AppWindow *window = driver_open_demo ();
  GtkWidget *allowance_of
      = driver_find (GTK_WIDGET (window), APP_TYPE_FIELD, "Name");
  g_assert_true (gtk_widget_get_mapped (allowance_of));
  g_action_group_change_action_state (G_ACTION_GROUP (window), "show-pick",
                                      g_variant_new_boolean (FALSE));
  driver_pause_ms (100);
  g_assert_false (gtk_widget_get_mapped (allowance_of));
  /* And it is remembered. */
  g_autofree char *path = g_build_filename (g_get_user_config_dir (), "bodkin",
                                            "settings.ini", NULL);
  g_autofree char *text = NULL;
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_assert_nonnull (strstr (text, "pick=false"));
  g_action_group_change_action_state (G_ACTION_GROUP (window), "show-pick",
                                      g_variant_new_boolean (TRUE));
  driver_close (window);
}

static void
test_copy_paste (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  app_session_pick_piece (session, driver_piece (session, "Welt")->id, FALSE);
  driver_act (window, "copy");
  driver_act (window, "paste");
  driver_wait_until (app_session_get_pattern (session)->n_pieces == 9);
  g_autofree char *why = pattern_unsound (app_session_get_pattern (session));
  g_assert_null (why);
  g_assert_cmpuint (app_session_get_pattern (session)->n_cloths, ==, 3);
  driver_close (window);
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
            || driver_find (widget, GTK_TYPE_LABEL, NULL) != NULL;
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
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  guint n = 0;
  check_controls (GTK_WIDGET (window), &n);
  const PatternPiece *front = driver_piece (session, "Front");
  app_session_pick_piece (session, front->id, FALSE);
  driver_pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  driver_pick_edge (session, "Front", "neck");
  driver_pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  app_session_pick_nodes (session, front->id, front->edges[0].id,
                          &front->nodes[0].id, 1);
  driver_pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  app_session_pick_mark (session, front->id, front->notches[0].id);
  driver_pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  app_session_pick_mark (session, front->id, front->buttonholes[0].id);
  driver_pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  app_session_pick_seam (session,
                         app_session_get_pattern (session)->seams[0]->id);
  driver_pause_ms (100);
  check_controls (GTK_WIDGET (window), &n);
  g_assert_cmpuint (n, >, 100);
  driver_close (window);
}

/* --- with a real pointer
 * --------------------------------------------------------------- */

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
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  int x, y;
  driver_pause_ms (300);
  if (!driver_window_place (&x, &y))
    {
      g_test_skip ("no window manager");
      driver_close (window);
      return;
    }
  g_assert_cmpfloat_with_epsilon (seam_out (session, "Neck seam"), 0, 0.05);
  const PatternPiece *front = driver_piece (session, "Front");
  int i = pattern_piece_find_edge (front,
                                   driver_edge (session, "Front", "neck")->id);
  GeoCubic neck = pattern_piece_cubic (front, front->edges[i].first);
  GeoPoint from = driver_on_screen (window, geo_cubic_point (&neck, 0.5));
  driver_xdotool ("mousemove %.0f %.0f", from.x, from.y);
  driver_xdotool ("click 1");
  driver_wait_until (app_session_get_pick (session)->kind == APP_PICK_EDGE);
  g_assert_true (driver_shows (GTK_WIDGET (window), "Front · neck"));

  driver_xdotool ("mousedown 1");
  for (int step = 1; step <= 4; step++)
    driver_xdotool ("mousemove %.0f %.0f", from.x, from.y + 4 * step);
  g_assert_true (app_session_is_previewing (session));
  double out_while = seam_out (session, "Neck seam");
  g_assert_cmpfloat (fabs (out_while), >, 0.5);
  driver_xdotool ("mouseup 1");
  driver_wait_until (!app_session_is_previewing (session));
  g_assert_cmpfloat_with_epsilon (seam_out (session, "Neck seam"), out_while,
                                  1e-6);
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), >,
                    2);

  driver_xdotool ("key ctrl+z");
  driver_wait_until (app_session_is_saved (session));
  g_assert_cmpfloat_with_epsilon (seam_out (session, "Neck seam"), 0, 0.05);
  g_assert_cmpuint (sewing_checks_open (app_session_get_findings (session)), ==,
                    2);
  driver_close (window);
}

/* Letters change the tool on the table and are letters in a field. */
static void
test_keys (void)
{
  g_autofree char *found = g_find_program_in_path ("xdotool");
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  AppCanvas *canvas = APP_CANVAS (app_window_get_canvas (window));
  int x, y;
  driver_pause_ms (300);
  if (found == NULL || !driver_window_place (&x, &y))
    {
      g_test_skip ("no xdotool or no window manager");
      driver_close (window);
      return;
    }
  driver_xdotool ("key t");
  driver_wait_until (app_canvas_get_tool (canvas) == APP_TOOL_TAPE);
  driver_xdotool ("key r");
  driver_wait_until (app_canvas_get_tool (canvas) == APP_TOOL_RESHAPE);
  app_session_pick_piece (session, driver_piece (session, "Welt")->id, FALSE);
  GtkWidget *name = driver_find (GTK_WIDGET (window), APP_TYPE_FIELD, "Name");
  gtk_widget_grab_focus (name);
  driver_xdotool ("key ctrl+a");
  driver_xdotool ("type tab");
  driver_xdotool ("key Return");
  driver_wait_until (
      g_str_equal (app_field_get_text (APP_FIELD (name)), "tab"));
  g_assert_cmpint (app_canvas_get_tool (canvas), ==, APP_TOOL_RESHAPE);
  g_assert_nonnull (driver_piece (session, "tab"));
  /* Nor do these reach past a field that has no use for them. */
  driver_xdotool ("key End");
  driver_xdotool ("key Delete");
  driver_xdotool ("key ctrl+x");
  driver_pause_ms (100);
  g_assert_cmpuint (app_session_get_pattern (session)->n_pieces, ==, 8);
  driver_close (window);
}

/* From mend to mend by Enter; Ctrl+Z with the list open; and from the last on the keys
 * go to the table. */
static void
test_list_keys (void)
{
  g_autofree char *found = g_find_program_in_path ("xdotool");
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  GtkWidget *canvas = app_window_get_canvas (window);
  int x, y;
  driver_pause_ms (300);
  if (found == NULL || !driver_window_place (&x, &y))
    {
      g_test_skip ("no xdotool or no window manager");
      driver_close (window);
      return;
    }
  driver_xdotool ("key F8");
  driver_wait_until (driver_shows (GTK_WIDGET (window), "shorter than"));
  driver_pause_ms (200);
  driver_xdotool ("key Return");
  driver_wait_until (sewing_checks_open (app_session_get_findings (session))
                     == 1);
  driver_xdotool ("key ctrl+z");
  driver_wait_until (app_session_is_saved (session));
  driver_wait_until (driver_shows (GTK_WIDGET (window), "shorter than"));
  for (guint left = 2; left-- > 0;)
    {
      driver_xdotool ("key Return");
      driver_wait_until (sewing_checks_open (app_session_get_findings (session))
                         == left);
      driver_pause_ms (100);
    }
  driver_wait_until (gtk_widget_has_focus (canvas));
  driver_xdotool ("key d");
  driver_wait_until (app_canvas_get_tool (APP_CANVAS (canvas))
                     == APP_TOOL_DRAW);
  driver_xdotool ("key r");
  driver_xdotool ("key ctrl+z");
  driver_wait_until (sewing_checks_open (app_session_get_findings (session))
                     == 1);
  driver_close (window);
}

int
main (int argc, char **argv)
{
  if (!driver_start (&argc, &argv))
    return 0;
  g_test_add_func ("/window/draft", test_draft);
  g_test_add_func ("/window/linked", test_linked);
  g_test_add_func ("/window/start-page", test_start_page);
  g_test_add_func ("/window/demo", test_demo);
  g_test_add_func ("/window/typing", test_typing);
  g_test_add_func ("/window/unreadable", test_unreadable);
  g_test_add_func ("/window/undo", test_undo);
  g_test_add_func ("/window/unit", test_unit);
  g_test_add_func ("/window/mend", test_mend);
  g_test_add_func ("/window/mend-another-way", test_mend_another_way);
  g_test_add_func ("/window/seam-page", test_seam_page);
  g_test_add_func ("/window/ease-between", test_ease_between);
  g_test_add_func ("/window/clip-spacing", test_clip_spacing);
  g_test_add_func ("/window/panels", test_panels);
  g_test_add_func ("/window/copy-paste", test_copy_paste);
  g_test_add_func ("/window/controls", test_controls);
  g_test_add_func ("/window/drag", test_drag);
  g_test_add_func ("/window/keys", test_keys);
  g_test_add_func ("/window/list-keys", test_list_keys);
  return driver_end ();
}
