/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From measurements to a sloper with its sleeve in the real window: the figures that come with the program, the draft by
 * one click, a figure changed, one that is missing. */
#include "app/canvas.h"
#include "app/draft.h"
#include "app/field.h"
#include "app/pick-figures.h"
#include "driver.h"
#include "pattern/figure.h"
#include "sewing/checks.h"

static AppWindow *
open_measurements (AppSession **session)
{
  AppWindow *window = driver_open ();
  driver_act (window, "measurements");
  driver_wait_until (app_window_get_session (window) != NULL);
  *session = app_window_get_session (window);
  GtkWidget *canvas = app_window_get_canvas (window);
  driver_wait_until (gtk_widget_get_width (canvas) > 100);
  return window;
}

static guint
count_findings (AppSession *session)
{
  g_autoptr (GPtrArray) findings = sewing_checks_run (
      app_session_get_facts (session), app_session_get_pattern (session));
  return findings->len;
}

/* Every figure a verb begins with is there, and says whether it is published or invented. */
static void
test_prefilled (void)
{
  AppSession *session;
  AppWindow *window = open_measurements (&session);
  const Pattern *p = app_session_get_pattern (session);
  g_assert_cmpuint (p->n_pieces, ==, 0);
  g_assert_cmpuint (p->n_figures, ==, 16);
  for (guint i = 0; i < p->n_figures; i++)
    g_assert_cmpstr (p->figures[i].note, !=, "");
  g_assert_true (
      driver_shows (GTK_WIDGET (window), "Published for a bust of 88 cm."));
  g_assert_true (driver_shows (GTK_WIDGET (window), "Invented."));
  /* One's own is neither. */
  driver_type (window, "waist girth", "72 cm");
  p = app_session_get_pattern (session);
  const PatternFigure *waist = pattern_find_figure (p, "waist girth");
  g_assert_cmpfloat (waist->mm, ==, 720);
  g_assert_cmpstr (waist->note, ==, "");
  driver_close (window);
}

static void
test_by_one_click (void)
{
  AppSession *session;
  AppWindow *window = open_measurements (&session);
  driver_click (GTK_WIDGET (window), "Draft the torso sloper");
  g_assert_cmpuint (app_session_get_pattern (session)->n_pieces, ==, 2);
  g_assert_cmpuint (count_findings (session), ==, 0);
  driver_click (GTK_WIDGET (window), "Draft the sleeve");
  g_assert_cmpuint (app_session_get_pattern (session)->n_pieces, ==, 3);
  g_assert_cmpuint (count_findings (session), ==, 0);
  double waist = driver_edge_length (session, "Front", "waist");
  driver_type (window, "waist girth", "74 cm");
  g_assert_cmpfloat (driver_edge_length (session, "Front", "waist"), >,
                     waist + 1);
  g_assert_cmpuint (count_findings (session), ==, 0);
  /* A figure that can't be is refused by its name, and nothing changes. */
  const Pattern *p = app_session_get_pattern (session);
  driver_type (window, "back width", "60 cm");
  p = app_session_get_pattern (session);
  const PatternRecipe *recipe = p->recipes[0];
  g_assert_nonnull (recipe->trouble);
  g_assert_nonnull (strstr (recipe->trouble, "Back width"));
  driver_act (window, "undo");
  g_assert_null (app_session_get_pattern (session)->recipes[0]->trouble);
  driver_close (window);
}

/* A figure that is not there is asked for where the verb is filled in, and in the panel. */
static void
test_missing (void)
{
  AppSession *session;
  AppWindow *window = open_measurements (&session);
  GError *error = NULL;
  Pattern *p = pattern_dup (app_session_get_pattern (session));
  pattern_remove_figure (p, pattern_find_figure (p, "scye depth")->id);
  app_session_do (session, "remove", NULL, p, &error);
  g_assert_no_error (error);
  g_assert_true (driver_shows (GTK_WIDGET (window),
                               "A torso sloper wants 1 figure more:"));
  g_assert_true (app_draft_begin (session, "torso-sloper"));
  gboolean bad = FALSE;
  const char *trouble = app_draft_get_trouble (app_draft_get (session), &bad);
  g_assert_true (bad);
  g_assert_nonnull (strstr (trouble, "“scye depth”"));
  g_assert_true (driver_shows (GTK_WIDGET (window), "Enter “scye depth”"));
  driver_type (window, "scye depth", "21 cm");
  g_assert_null (app_draft_get_trouble (app_draft_get (session), &bad));
  g_assert_true (app_draft_do (app_draft_get (session)));
  g_assert_cmpuint (app_session_get_pattern (session)->n_pieces, ==, 2);
  driver_close (window);
}

/* The amounts are in groups, and a field in trouble brings its group up. */
static void
test_groups (void)
{
  AppSession *session;
  AppWindow *window = open_measurements (&session);
  g_assert_true (app_draft_begin (session, "torso-sloper"));
  static const char *const groups[]
      = { "Body", "Ease", "Neck and shoulders", "Darts", "Finish" };
  for (guint i = 0; i < G_N_ELEMENTS (groups); i++)
    g_assert_true (driver_shows (GTK_WIDGET (window), groups[i]));
  const DraftingVerb *verb = app_draft_get_verb (app_draft_get (session));
  const char *last = NULL;
  guint n = 0;
  for (guint i = 0; i < verb->n_parameters; i++)
    {
      const char *heading = drafting_verb_heading (verb, i);
      g_assert_nonnull (heading);
      n += heading != last;
      last = heading;
    }
  g_assert_cmpuint (n, ==, G_N_ELEMENTS (groups));
  for (guint i = 0; i < verb->n_parameters; i++)
    if (g_str_equal (verb->parameters[i].key, "allowance"))
      {
        app_draft_set_text (app_draft_get (session), i, "90 cm");
        driver_pause_ms (50);
        GtkWidget *entry = driver_find (GTK_WIDGET (window), GTK_TYPE_ENTRY,
                                        "Seam allowance");
        g_assert_true (gtk_widget_get_mapped (entry));
      }
  driver_close (window);
}

int
main (int argc, char **argv)
{
  if (!driver_start (&argc, &argv))
    return 0;
  g_test_add_func ("/measure-window/prefilled", test_prefilled);
  g_test_add_func ("/measure-window/by-one-click", test_by_one_click);
  g_test_add_func ("/measure-window/missing", test_missing);
  g_test_add_func ("/measure-window/groups", test_groups);
  return driver_end ();
}
