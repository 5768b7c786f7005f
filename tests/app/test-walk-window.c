/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A seam walked in the window, on the demo: by its buttons, by real keys, by a real
 * pointer. Skipped where there is no display. */
#include <gtk/gtk.h>
#include <string.h>

#include "app/canvas.h"
#include "app/strip-area.h"
#include "app/walk-bar.h"
#include "app/walk.h"
#include "app/window.h"
#include "driver.h"

static guint
steps (AppSession *session)
{
  return pattern_history_get_length (app_session_get_history (session));
}

static double
walked (AppSession *session)
{
  return app_walk_get_step (app_walk_get (session))->walked;
}

static GtkWidget *
find_bar (AppWindow *window)
{
  return driver_find (GTK_WIDGET (window), APP_TYPE_WALK_BAR, NULL);
}

/* The neck seam: the collar's band rolls along back, side and front. */
static void
test_buttons (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  GActionGroup *actions = G_ACTION_GROUP (window);
  GtkWidget *bar = find_bar (window);
  g_assert_false (gtk_widget_get_visible (bar));
  g_assert_false (g_action_group_get_action_enabled (actions, "walk"));
  driver_pick_edge (session, "Front", "neck");
  g_assert_true (g_action_group_get_action_enabled (actions, "walk"));
  driver_click (GTK_WIDGET (window), "Walk");
  driver_wait_until (gtk_widget_get_mapped (bar));
  g_assert_true (driver_shows (bar, "Rolling Collar band along"));
  /* Nothing can be taken away meanwhile. */
  g_assert_false (g_action_group_get_action_enabled (actions, "delete"));

  GtkWidget *slider = driver_find (bar, GTK_TYPE_SCALE, NULL);
  driver_wait_until (gtk_widget_get_width (slider) > 100);
  gtk_range_set_value (GTK_RANGE (slider), 105);
  g_assert_cmpfloat_with_epsilon (walked (session), 105, 1e-9);
  g_assert_true (driver_shows (bar, "10.5 of 23.8 cm"));
  driver_click (bar, "One to one");
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (driver_find (
                                    bar, GTK_TYPE_TOGGLE_BUTTON, "One to one")),
                                TRUE);
  g_assert_cmpint (app_walk_get_walk (app_walk_get (session))->by, ==,
                   SEWING_WALK_PAPER);
  guint notches = driver_piece (session, "Collar band")->n_notches;
  guint before = steps (session);
  driver_click (bar, "Strike a notch on both");
  g_assert_cmpuint (steps (session), ==, before + 1);
  g_assert_cmpuint (driver_piece (session, "Collar band")->n_notches, ==,
                    notches + 1);
  driver_act (window, "undo");
  g_assert_cmpuint (driver_piece (session, "Collar band")->n_notches, ==,
                    notches);
  g_assert_nonnull (app_walk_get (session));
  driver_click (GTK_WIDGET (window), "Leave off walking");
  g_assert_null (app_walk_get (session));
  driver_wait_until (!gtk_widget_get_mapped (bar));
  g_assert_true (g_action_group_get_action_enabled (actions, "delete"));
  driver_close (window);
}

/* The view is taken to the seam and back again. */
static void
test_view (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  AppCanvas *canvas = APP_CANVAS (app_window_get_canvas (window));
  double before = app_canvas_get_mm_per_px (canvas);
  GeoPoint corner = app_canvas_to_px (canvas, geo_point (0, 0));
  driver_pick_edge (session, "Front", "neck");
  driver_act (window, "walk");
  g_assert_cmpfloat (app_canvas_get_mm_per_px (canvas), <, before / 2);
  AppWalk *walk = app_walk_get (session);
  for (int i = 0; i <= 4; i++)
    {
      app_walk_go (walk, app_walk_get_whole (walk) * i / 4, 0);
      GeoPoint px = app_canvas_to_px (canvas, app_walk_get_step (walk)->at);
      GtkWidget *widget = GTK_WIDGET (canvas);
      g_assert_cmpfloat (px.x, >, 24);
      g_assert_cmpfloat (px.y, >, 24);
      g_assert_cmpfloat (px.x, <, gtk_widget_get_width (widget));
      g_assert_cmpfloat (px.y, <, gtk_widget_get_height (widget));
      gtk_test_widget_wait_for_draw (widget);
    }
  app_walk_end (session);
  g_assert_cmpfloat (app_canvas_get_mm_per_px (canvas), ==, before);
  g_assert_true (
      geo_same (app_canvas_to_px (canvas, geo_point (0, 0)), corner));
  driver_close (window);
}

static gboolean
may_drive (AppWindow *window)
{
  g_autofree char *found = g_find_program_in_path ("xdotool");
  int x, y;
  driver_pause_ms (300);
  if (found != NULL && driver_window_place (&x, &y))
    return TRUE;
  g_test_skip ("no xdotool or no window manager");
  driver_close (window);
  return FALSE;
}

static void
test_keys (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  if (!may_drive (window))
    return;
  driver_pick_edge (session, "Front", "neck");
  driver_xdotool ("key w");
  driver_wait_until (app_walk_get (session) != NULL);
  double whole = app_walk_get_whole (app_walk_get (session));
  /* To the first notch, 40 mm from the centre back, gliding there. */
  driver_xdotool ("key Right");
  driver_wait_until (app_walk_get_way (app_walk_get (session)) == 0
                     && walked (session) > 1);
  g_assert_cmpfloat_with_epsilon (walked (session), 40, 0.1);
  driver_xdotool ("key shift+Right shift+Right shift+Right");
  driver_wait_until (walked (session) > 42.5);
  g_assert_cmpfloat_with_epsilon (walked (session), 43, 0.1);
  guint before = steps (session);
  driver_xdotool ("key n");
  driver_wait_until (steps (session) == before + 1);
  driver_xdotool ("key ctrl+z");
  driver_wait_until (app_session_is_saved (session));
  /* What would take the seam away does nothing. */
  driver_xdotool ("key Delete");
  driver_pause_ms (100);
  g_assert_true (app_session_is_saved (session));
  /* By itself to the end. */
  driver_xdotool ("key space");
  driver_wait_until (walked (session) > 50);
  driver_xdotool ("key space");
  driver_wait_until (app_walk_get_way (app_walk_get (session)) == 0);
  g_assert_cmpfloat (walked (session), <, whole);
  driver_xdotool ("key End");
  driver_wait_until (walked (session) == whole);
  driver_xdotool ("key x");
  driver_wait_until (app_walk_get_walk (app_walk_get (session))->fixed == 0);
  driver_xdotool ("key Escape");
  driver_wait_until (app_walk_get (session) == NULL);
  /* A hand tool's key leaves the walk for the tool. */
  driver_xdotool ("key w");
  driver_wait_until (app_walk_get (session) != NULL);
  driver_xdotool ("key t");
  driver_wait_until (app_walk_get (session) == NULL);
  g_assert_cmpint (
      app_canvas_get_tool (APP_CANVAS (app_window_get_canvas (window))), ==,
      APP_TOOL_TAPE);
  driver_close (window);
}

/* The pin is dragged along the seam on the table; the strip is pointed at, and from the
 * table. */
static void
test_pointer (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  if (!may_drive (window))
    return;
  driver_pick_edge (session, "Front", "neck");
  GtkWidget *strip
      = driver_find (GTK_WIDGET (window), APP_TYPE_STRIP_AREA, NULL);
  GtkWidget *area = driver_find (strip, GTK_TYPE_DRAWING_AREA, NULL);
  driver_wait_until (gtk_widget_get_mapped (area)
                     && gtk_widget_get_width (area) > 400);
  GeoPoint at = driver_widget_on_screen (
      window, area,
      geo_point (gtk_widget_get_width (area) / 2.0,
                 gtk_widget_get_height (area) / 3.0));
  driver_xdotool ("mousemove %.0f %.0f", at.x, at.y);
  driver_wait_until (app_session_get_strip_at (session) > 0);
  /* Half of the width between the names and the figures is near half of the seam. */
  g_assert_cmpfloat_with_epsilon (app_session_get_strip_at (session), 119, 25);
  const PatternPiece *front = driver_piece (session, "Front");
  int i = pattern_piece_find_edge (front,
                                   driver_edge (session, "Front", "neck")->id);
  GeoCubic neck = pattern_piece_cubic (front, front->edges[i].first);
  at = driver_on_screen (window, geo_cubic_point (&neck, 0.5));
  driver_xdotool ("mousemove %.0f %.0f", at.x, at.y);
  driver_pause_ms (400);
  /* The front's neck is the last of the side's runs. */
  g_assert_cmpfloat (app_session_get_strip_at (session), >, 130);
  g_assert_cmpfloat (app_session_get_strip_at (session), <, 238);

  driver_act (window, "walk");
  AppWalk *walk = app_walk_get (session);
  driver_pause_ms (200);
  at = driver_on_screen (window, app_walk_get_step (walk)->at);
  driver_xdotool ("mousemove %.0f %.0f", at.x, at.y);
  driver_xdotool ("mousedown 1");
  for (int k = 1; k <= 4; k++)
    driver_xdotool ("mousemove %.0f %.0f", at.x + 10 * k, at.y - 2 * k);
  driver_wait_until (walked (session) > 5);
  double while_down = walked (session);
  driver_xdotool ("mouseup 1");
  g_assert_cmpfloat_with_epsilon (walked (session), while_down, 1e-9);
  g_assert_true (app_session_is_saved (session));
  /* A press in the strip sends the pin there. */
  at = driver_widget_on_screen (window, area,
                                geo_point (gtk_widget_get_width (area) * 0.7,
                                           gtk_widget_get_height (area) / 3.0));
  driver_xdotool ("mousemove %.0f %.0f", at.x, at.y);
  driver_pause_ms (100);
  g_assert_cmpfloat_with_epsilon (walked (session), while_down, 1e-9);
  driver_xdotool ("click 1");
  driver_wait_until (walked (session) > 140);
  driver_close (window);
}

/* One thing at a time: a walk leaves truing, and truing and a tool leave the
 * walk. */
static void
test_turns (void)
{
  AppWindow *window = driver_open_demo ();
  AppSession *session = app_window_get_session (window);
  AppCanvas *canvas = APP_CANVAS (app_window_get_canvas (window));
  double before = app_canvas_get_mm_per_px (canvas);
  driver_pick_edge (session, "Back", "panel seam");
  g_assert_true (app_canvas_true_picked (canvas));
  g_assert_nonnull (app_canvas_get_truing (canvas));
  g_assert_true (app_walk_begin_picked (session));
  g_assert_null (app_canvas_get_truing (canvas));
  g_assert_true (app_canvas_true_picked (canvas));
  g_assert_null (app_walk_get (session));
  app_canvas_set_tool (canvas, APP_TOOL_RESHAPE);
  g_assert_true (app_walk_begin_picked (session));
  app_canvas_set_tool (canvas, APP_TOOL_RESHAPE);
  g_assert_null (app_walk_get (session));
  /* And the table is seen as at first. */
  g_assert_cmpfloat (app_canvas_get_mm_per_px (canvas), ==, before);
  driver_close (window);
}

int
main (int argc, char **argv)
{
  if (!driver_start (&argc, &argv))
    return 0;
  g_test_add_func ("/walk-window/buttons", test_buttons);
  g_test_add_func ("/walk-window/view", test_view);
  g_test_add_func ("/walk-window/turns", test_turns);
  g_test_add_func ("/walk-window/keys", test_keys);
  g_test_add_func ("/walk-window/pointer", test_pointer);
  return driver_end ();
}
