/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table as a widget, in a window of its own. Skipped where there is no
 * display. */
#include "app/canvas.h"
#include "cape.h"

static GtkWidget *window, *canvas;

static void
open_table (Cape *c)
{
  window = gtk_window_new ();
  canvas = app_canvas_new (c->session);
  gtk_window_set_default_size (GTK_WINDOW (window), 900, 600);
  gtk_window_set_child (GTK_WINDOW (window), canvas);
  gtk_window_present (GTK_WINDOW (window));
  while (gtk_widget_get_width (canvas) == 0)
    g_main_context_iteration (NULL, TRUE);
  gtk_test_widget_wait_for_draw (canvas);
}

static void
close_table (Cape *c)
{
  gtk_window_destroy (GTK_WINDOW (window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  cape_clear (c);
}

static GtkEventController *
controller (GType type, guint button)
{
  g_autoptr (GListModel) list = gtk_widget_observe_controllers (canvas);
  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (GtkEventController) item = g_list_model_get_item (list, i);
      if (g_type_is_a (G_OBJECT_TYPE (item), type)
          && (button == 0
              || gtk_gesture_single_get_button (GTK_GESTURE_SINGLE (item))
                     == button))
        return item;
    }
  g_assert_not_reached ();
}

static gboolean
press_key (guint key, GdkModifierType state)
{
  gboolean used = FALSE;
  g_signal_emit_by_name (controller (GTK_TYPE_EVENT_CONTROLLER_KEY, 0),
                         "key-pressed", key, 0u, state, &used);
  return used;
}

static void
release_key (guint key)
{
  g_signal_emit_by_name (controller (GTK_TYPE_EVENT_CONTROLLER_KEY, 0),
                         "key-released", key, 0u, 0);
}

static void
point_at (double x, double y)
{
  g_signal_emit_by_name (controller (GTK_TYPE_EVENT_CONTROLLER_MOTION, 0),
                         "motion", x, y);
}

static void
drag (guint button, GeoPoint from, double dx, double dy)
{
  GtkEventController *gesture = controller (GTK_TYPE_GESTURE_DRAG, button);
  point_at (from.x, from.y);
  g_signal_emit_by_name (gesture, "drag-begin", from.x, from.y);
  for (int i = 1; i <= 4; i++)
    {
      g_signal_emit_by_name (gesture, "drag-update", dx * i / 4, dy * i / 4);
      gtk_test_widget_wait_for_draw (canvas);
    }
  g_signal_emit_by_name (gesture, "drag-end", dx, dy);
}

static GeoPoint
px (double x, double y)
{
  return app_canvas_to_px (APP_CANVAS (canvas), geo_point (x, y));
}

static void
test_view (void)
{
  Cape c = cape_new ();
  open_table (&c);
  /* Everything is seen from the start. */
  GeoPoint a = px (-10, -10), b = px (510, 310);
  g_assert_cmpfloat (a.x, >, 24);
  g_assert_cmpfloat (a.y, >, 24);
  g_assert_cmpfloat (b.x, <, gtk_widget_get_width (canvas));
  g_assert_cmpfloat (b.y, <, gtk_widget_get_height (canvas));
  /* 30 steps in, 30 out, about a point: there and back bit for bit, the point
   * where it was. */
  GeoPoint about = { 333.3, 222.7 };
  double before = app_canvas_get_mm_per_px (APP_CANVAS (canvas));
  for (int i = 0; i < 30; i++)
    app_canvas_zoom (APP_CANVAS (canvas), 1.15, &about);
  gtk_test_widget_wait_for_draw (canvas);
  g_assert_cmpfloat (app_canvas_get_mm_per_px (APP_CANVAS (canvas)), <,
                     before / 60);
  for (int i = 0; i < 30; i++)
    app_canvas_zoom (APP_CANVAS (canvas), 1 / 1.15, &about);
  g_assert_cmpfloat (app_canvas_get_mm_per_px (APP_CANVAS (canvas)), ==,
                     before);
  g_assert_true (geo_same (px (-10, -10), a));
  g_assert_true (geo_same (px (510, 310), b));
  /* The middle button moves the view by what it was dragged. */
  drag (GDK_BUTTON_MIDDLE, geo_point (400, 300), 40, -24);
  GeoPoint moved = px (-10, -10);
  g_assert_cmpfloat_with_epsilon (moved.x - a.x, 40, 1e-9);
  g_assert_cmpfloat_with_epsilon (moved.y - a.y, -24, 1e-9);
  /* So does Space with a drag, and picks nothing. */
  g_assert_true (press_key (GDK_KEY_space, 0));
  drag (GDK_BUTTON_PRIMARY, geo_point (400, 300), -40, 24);
  release_key (GDK_KEY_space);
  g_assert_cmpfloat_with_epsilon (px (-10, -10).x, a.x, 1e-9);
  g_assert_cmpint (app_session_get_pick (c.session)->kind, ==, APP_PICK_NONE);
  /* The wheel moves it, too. */
  gboolean used = FALSE;
  g_signal_emit_by_name (controller (GTK_TYPE_EVENT_CONTROLLER_SCROLL, 0),
                         "scroll", 0.0, 1.0, &used);
  g_assert_true (used);
  g_assert_cmpfloat (px (-10, -10).y, <, a.y - 10);
  app_session_pick_piece (c.session, c.collar, FALSE);
  app_canvas_fit_pick (APP_CANVAS (canvas));
  g_assert_cmpfloat (px (300, 0).x, >, 24);
  g_assert_cmpfloat (px (500, 60).x, <, gtk_widget_get_width (canvas));
  g_assert_cmpfloat (px (500, 60).x - px (300, 0).x, >,
                     gtk_widget_get_width (canvas) * 0.6);
  close_table (&c);
}

static void
test_drag (void)
{
  Cape c = cape_new ();
  open_table (&c);
  app_session_pick_edge (c.session, c.front, c.side);
  double mm = app_canvas_get_mm_per_px (APP_CANVAS (canvas));
  /* By exactly as many mm as the pointer went: level is snapped to, and it went
   * level. */
  drag (GDK_BUTTON_PRIMARY, px (200, 300), 30, 0);
  g_assert_cmpfloat_with_epsilon (cape_front (&c)->nodes[2].at.x, 200 + 30 * mm,
                                  1e-6);
  g_assert_cmpfloat_with_epsilon (cape_front (&c)->nodes[2].at.y, 300, 1e-6);
  /* A press in the ruler is none on the table. */
  drag (GDK_BUTTON_PRIMARY, geo_point (400, 8), 50, 100);
  g_assert_cmpuint (app_session_get_pick (c.session)->piece, ==, c.front);
  close_table (&c);
}

static void
keep_place (GtkWidget *widget, double x, double y, GeoPoint *place)
{
  (void)widget;
  *place = geo_point (x, y);
}

static void
test_keys (void)
{
  Cape c = cape_new ();
  open_table (&c);
  const AppPick *pick = app_session_get_pick (c.session);
  g_assert_true (press_key (GDK_KEY_Tab, 0));
  g_assert_cmpuint (pick->piece, ==, c.front);
  g_assert_true (press_key (GDK_KEY_Return, 0));
  g_assert_true (press_key (GDK_KEY_Tab, 0));
  g_assert_cmpuint (pick->edge, ==, c.side);
  g_assert_true (press_key (GDK_KEY_Return, 0));
  g_assert_cmpint (pick->kind, ==, APP_PICK_NODES);
  press_key (GDK_KEY_Right, 0);
  press_key (GDK_KEY_Right, GDK_SHIFT_MASK);
  press_key (GDK_KEY_Right, GDK_ALT_MASK);
  g_assert_cmpfloat_with_epsilon (cape_front (&c)->nodes[1].at.x, 211.1, 1e-9);
  g_assert_cmpuint (
      pattern_history_get_length (app_session_get_history (c.session)), ==, 2);
  g_assert_true (press_key (GDK_KEY_Escape, 0));
  g_assert_cmpint (pick->kind, ==, APP_PICK_EDGE);
  g_assert_true (press_key (GDK_KEY_Escape, 0));
  g_assert_true (press_key (GDK_KEY_Escape, 0));
  g_assert_false (press_key (GDK_KEY_Escape, 0));
  /* Past the last piece the focus may go on. */
  press_key (GDK_KEY_Tab, 0);
  press_key (GDK_KEY_Tab, 0);
  g_assert_false (press_key (GDK_KEY_Tab, 0));
  app_session_pick_edge (c.session, c.front, c.neck);
  g_assert_true (press_key (GDK_KEY_s, 0));
  g_assert_cmpint (pick->kind, ==, APP_PICK_SEAM);
  gtk_test_widget_wait_for_draw (canvas);
  g_assert_true (press_key (GDK_KEY_Delete, 0));
  g_assert_null (
      pattern_get_seam (app_session_get_pattern (c.session), c.seam));
  /* Letters take up the tools; Escape lays them down. */
  static const guint letters[] = { GDK_KEY_d, GDK_KEY_m, GDK_KEY_b, GDK_KEY_t };
  for (int i = 0; i < 4; i++)
    {
      g_assert_true (press_key (letters[i], 0));
      g_assert_cmpint (app_canvas_get_tool (APP_CANVAS (canvas)), ==, i + 1);
    }
  g_assert_true (press_key (GDK_KEY_Escape, 0));
  g_assert_cmpint (app_canvas_get_tool (APP_CANVAS (canvas)), ==,
                   APP_TOOL_RESHAPE);
  /* With Ctrl they are the window's. */
  g_assert_false (press_key (GDK_KEY_d, GDK_CONTROL_MASK));
  GeoPoint place = { -1, -1 };
  g_signal_connect (canvas, "context-menu", G_CALLBACK (keep_place), &place);
  g_assert_true (press_key (GDK_KEY_Menu, 0));
  g_assert_cmpfloat (place.x, >=, 24);
  close_table (&c);
}

static void
count_one (AppSession *session, guint *count)
{
  (void)session;
  (*count)++;
}

/* An outline with typed sides; once it is closed the tool is laid down and the piece wants its
 * name. */
static void
test_draw (void)
{
  Cape c = cape_new ();
  open_table (&c);
  guint named = 0;
  g_signal_connect (c.session, "name-it", G_CALLBACK (count_one), &named);
  g_assert_true (press_key (GDK_KEY_d, 0));
  drag (GDK_BUTTON_PRIMARY, px (320, 120), 0, 0);
  static const guint keys[]
      = { GDK_KEY_1,      GDK_KEY_0,    GDK_KEY_0,      GDK_KEY_Right,
          GDK_KEY_Return, GDK_KEY_1,    GDK_KEY_5,      GDK_KEY_KP_0,
          GDK_KEY_space,  GDK_KEY_m,    GDK_KEY_m,      GDK_KEY_Tab,
          GDK_KEY_minus,  GDK_KEY_1,    GDK_KEY_3,      GDK_KEY_5,
          GDK_KEY_Return, GDK_KEY_plus, GDK_KEY_Return, 0 };
  for (guint i = 0; keys[i] != 0; i++)
    {
      g_assert_cmpuint (named, ==, 0);
      g_assert_true (press_key (keys[i], 0));
      gtk_test_widget_wait_for_draw (canvas);
    }
  g_assert_cmpuint (named, ==, 1);
  g_assert_cmpint (app_canvas_get_tool (APP_CANVAS (canvas)), ==,
                   APP_TOOL_RESHAPE);
  const PatternPiece *piece = app_session_get_pattern (c.session)->pieces[2];
  g_assert_cmpuint (app_session_get_pick (c.session)->piece, ==, piece->id);
  double sides[3];
  for (guint i = 0; i < 3; i++)
    sides[i] = geo_distance (piece->nodes[i].at, piece->nodes[(i + 1) % 3].at);
  /* Law of cosines, 45 degrees between the two that were typed. */
  double third = sqrt (100 * 100 + 150 * 150 - 100 * 150 * sqrt (2));
  double sum = sides[0] + sides[1] + sides[2];
  g_assert_cmpfloat_with_epsilon (sum, 250 + third, 1e-6);
  close_table (&c);
}

static void
take_size (int width, int height)
{
  gtk_window_set_default_size (GTK_WINDOW (window), width, height);
  while (gtk_widget_get_width (canvas) != width)
    g_main_context_iteration (NULL, TRUE);
  gtk_test_widget_wait_for_draw (canvas);
}

/* A larger table shows the whole pattern larger, until she moves the view herself. */
static void
test_refit (void)
{
  Cape c = cape_new ();
  open_table (&c);
  double small = app_canvas_get_mm_per_px (APP_CANVAS (canvas));
  int width = gtk_widget_get_width (canvas);
  take_size (width + 300, 900);
  double large = app_canvas_get_mm_per_px (APP_CANVAS (canvas));
  g_assert_cmpfloat (large, <, small * 0.8);
  app_canvas_zoom (APP_CANVAS (canvas), 1.3, NULL);
  double own = app_canvas_get_mm_per_px (APP_CANVAS (canvas));
  take_size (width, 600);
  g_assert_cmpfloat (app_canvas_get_mm_per_px (APP_CANVAS (canvas)), ==, own);
  app_canvas_fit_all (APP_CANVAS (canvas));
  take_size (width + 300, 900);
  g_assert_cmpfloat (app_canvas_get_mm_per_px (APP_CANVAS (canvas)), <,
                     small * 0.8);
  close_table (&c);
}

static void
test_accessible (void)
{
  Cape c = cape_new ();
  open_table (&c);
  gtk_test_accessible_assert_role (canvas, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_test_accessible_assert_property (canvas, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Cutting table");
  gtk_test_accessible_assert_property (
      canvas, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "Nothing is picked");
  app_session_pick_edge (c.session, c.front, c.side);
  gtk_test_accessible_assert_property (canvas,
                                       GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                       "side, edge of front, 300.0 mm");
  app_session_nudge (c.session, 0, 0.5);
  app_session_pick_edge (c.session, c.front, c.hem);
  app_session_nudge (c.session, 0, 2);
  app_session_pick_edge (c.session, c.front, c.side);
  gtk_test_accessible_assert_property (canvas,
                                       GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                       "side, edge of front, 302.0 mm");
  g_assert_true (gtk_widget_get_focusable (canvas));
  close_table (&c);
}

/* Every way it can look is painted at every zoom without a warning. */
static void
test_looks (void)
{
  Cape c = cape_new ();
  open_table (&c);
  AppCanvas *table = APP_CANVAS (canvas);
  for (int dark = 0; dark < 2; dark++)
    for (int what = 0; what < 5; what++)
      {
        app_canvas_set_dark (table, dark == 1);
        app_canvas_set_show_clips (table, what == 1);
        if (what == 2)
          app_session_pick_edge (c.session, c.front, c.neck);
        if (what == 3)
          app_session_pick_seam (c.session, c.seam);
        if (what == 4)
          app_session_select_all (c.session);
        for (int i = 0; i < 12; i++)
          {
            app_canvas_zoom (table, i < 6 ? 2.2 : 1 / 4.0, NULL);
            point_at (300 + i * 20, 200 + i * 10);
            gtk_test_widget_wait_for_draw (canvas);
          }
        app_canvas_fit_all (table);
        app_canvas_actual_size (table);
        gtk_test_widget_wait_for_draw (canvas);
      }
  close_table (&c);
}

int
main (int argc, char **argv)
{
  g_setenv ("GTK_A11Y", "test", TRUE);
  g_test_init (&argc, &argv, NULL);
  if (!gtk_init_check ())
    {
      g_print ("1..0 # SKIP no display\n");
      return 0;
    }
  g_test_add_func ("/canvas/view", test_view);
  g_test_add_func ("/canvas/drag", test_drag);
  g_test_add_func ("/canvas/keys", test_keys);
  g_test_add_func ("/canvas/draw", test_draw);
  g_test_add_func ("/canvas/refit", test_refit);
  g_test_add_func ("/canvas/accessible", test_accessible);
  g_test_add_func ("/canvas/looks", test_looks);
  return g_test_run ();
}
