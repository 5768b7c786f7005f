/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pointer, touch and wheel: turned into what the tool, the view and the session do. */
#include "app/canvas-private.h"
#include "app/draft.h"
#include "app/hit.h"
#include "app/rulers.h"
#include "app/tracing.h"

static const double wheel_pan_px = 64, touchpad_pan_px = 12;

guint
app_canvas_mods (GdkModifierType state)
{
  guint mods = 0;
  if (state & GDK_SHIFT_MASK)
    mods |= APP_MOD_SHIFT;
  if (state & GDK_CONTROL_MASK)
    mods |= APP_MOD_CTRL;
  if (state & GDK_ALT_MASK)
    mods |= APP_MOD_ALT;
  return mods;
}

static gboolean
is_touch (GtkEventController *controller)
{
  GdkDevice *device
      = gtk_event_controller_get_current_event_device (controller);
  return device != NULL
         && gdk_device_get_source (device) == GDK_SOURCE_TOUCHSCREEN;
}

static AppPointer
pointer_at (AppCanvas *canvas, GeoPoint px, guint mods)
{
  return (AppPointer){ .at = app_view_to_mm (&canvas->view, px),
                       .mm_per_px = 1 / canvas->view.scale,
                       .mods = mods,
                       .presses = 1 };
}

void
app_canvas_move_view (AppCanvas *canvas, double dx, double dy)
{
  app_view_pan (&canvas->view, dx, dy);
  app_canvas_view_moved (canvas);
}

void
app_canvas_hover_again (AppCanvas *canvas, guint mods)
{
  if (!canvas->pointer_in || canvas->moving || canvas->space || canvas->walking)
    return;
  if (app_canvas_tracing (canvas) != NULL)
    {
      if (!canvas->pressed)
        app_canvas_trace_hover (canvas);
      return;
    }
  AppPointer p = pointer_at (canvas, canvas->pointer, mods);
  if (canvas->pressed)
    app_tool_drag (canvas->tool, &p);
  else
    {
      app_tool_hover (canvas->tool, &p);
      app_session_point_strip (canvas->session, p.at, 9 * p.mm_per_px);
    }
}

/* --- moving about ---------------------------------------------------------- */

static void
hover_pin (AppCanvas *canvas)
{
  int pin = canvas->pins != NULL ? app_pins_hit (canvas->pins, canvas->pointer)
                                 : -1;
  if (app_tool_is_busy (canvas->tool) || app_canvas_tracing (canvas) != NULL)
    pin = -1;
  canvas->hovered_pin = (guint)(pin + 1);
}

static void
on_motion (GtkEventControllerMotion *motion, double x, double y,
           AppCanvas *canvas)
{
  GeoPoint px = geo_point (x, y);
  if (!geo_same (px, canvas->pointer))
    {
      app_canvas_end_nudges (canvas);
      canvas->by_keys = FALSE;
    }
  canvas->pointer = px;
  canvas->pointer_in = TRUE;
  GdkModifierType state = gtk_event_controller_get_current_event_state (
      GTK_EVENT_CONTROLLER (motion));
  if (!canvas->pressed && !canvas->moving && !canvas->walking)
    {
      hover_pin (canvas);
      if (canvas->hovered_pin > 0)
        app_tool_leave (canvas->tool);
      else
        app_canvas_hover_again (canvas, app_canvas_mods (state));
    }
  app_canvas_tool_moved (canvas);
}

static void
on_leave (GtkEventControllerMotion *motion, AppCanvas *canvas)
{
  (void)motion;
  if (canvas->pressed || canvas->moving)
    return;
  canvas->pointer_in = FALSE;
  canvas->hovered_pin = 0;
  app_tool_leave (canvas->tool);
  if (app_canvas_tracing (canvas) != NULL)
    app_tracing_leave (app_canvas_tracing (canvas));
  if (!canvas->walking)
    app_session_set_strip_at (canvas->session, -1);
  app_canvas_tool_moved (canvas);
}

/* --- the first button, or a finger ----------------------------------------- */

static int
count_presses (AppCanvas *canvas, GtkGestureDrag *drag, GeoPoint px)
{
  guint32 now = gtk_event_controller_get_current_event_time (
      GTK_EVENT_CONTROLLER (drag));
  int time = 400, distance = 5;
  g_object_get (gtk_widget_get_settings (GTK_WIDGET (canvas)),
                "gtk-double-click-time", &time, "gtk-double-click-distance",
                &distance, NULL);
  gboolean again = canvas->last_press_time != 0
                   && now - canvas->last_press_time <= (guint32)time
                   && geo_distance (px, canvas->last_press_px) <= distance;
  /* A third press begins anew. */
  canvas->last_press_time = again ? 0 : now;
  canvas->last_press_px = px;
  return again ? 2 : 1;
}

static void
on_drag_begin (GtkGestureDrag *drag, double x, double y, AppCanvas *canvas)
{
  GtkEventController *controller = GTK_EVENT_CONTROLLER (drag);
  GeoPoint px = geo_point (x, y);
  gtk_widget_grab_focus (GTK_WIDGET (canvas));
  canvas->by_keys = FALSE;
  canvas->pointer = px;
  canvas->pointer_in = TRUE;
  canvas->press_px = px;
  if (x < APP_RULER_PX || y < APP_RULER_PX)
    {
      gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  if (canvas->space)
    {
      canvas->moving = canvas->space_used = TRUE;
      canvas->moving_from = px;
      app_canvas_tool_moved (canvas);
      return;
    }
  if (app_canvas_tracing (canvas) != NULL)
    {
      app_canvas_trace_press (canvas, is_touch (controller));
      return;
    }
  if (canvas->walking)
    {
      canvas->walk_drag = TRUE;
      app_canvas_walk_drag (canvas);
      return;
    }
  AppDraft *draft = app_draft_get (canvas->session);
  if (draft != NULL)
    {
      double reach = (is_touch (controller) ? 24 : 12) / canvas->view.scale;
      app_draft_click (draft, app_view_to_mm (&canvas->view, px), reach);
      gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  hover_pin (canvas);
  const SewingFinding *finding = app_canvas_pin_finding (canvas);
  if (finding != NULL)
    {
      app_session_pick_finding (canvas->session, finding);
      gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  guint mods = app_canvas_mods (
      gtk_event_controller_get_current_event_state (controller));
  AppPointer p = pointer_at (canvas, px, mods);
  p.presses = count_presses (canvas, drag, px);
  p.touch = is_touch (controller);
  canvas->pressed = TRUE;
  app_tool_press (canvas->tool, &p);
  app_canvas_tool_moved (canvas);
}

/* Near the table's border a drag takes the view along. */
static void
creep (AppCanvas *canvas)
{
  GeoBox area = geo_box_grow (app_canvas_area (canvas), -18);
  GeoPoint p = canvas->pointer;
  double dx = p.x < area.x0 ? area.x0 - p.x : p.x > area.x1 ? area.x1 - p.x : 0;
  double dy = p.y < area.y0 ? area.y0 - p.y : p.y > area.y1 ? area.y1 - p.y : 0;
  if (geo_distance (p, canvas->press_px) > 24 && (dx != 0 || dy != 0))
    app_canvas_move_view (canvas, fmin (fmax (dx, -18), 18) * 0.5,
                          fmin (fmax (dy, -18), 18) * 0.5);
}

static void
on_drag_update (GtkGestureDrag *drag, double dx, double dy, AppCanvas *canvas)
{
  double x, y;
  if (!gtk_gesture_drag_get_start_point (drag, &x, &y))
    x = canvas->press_px.x, y = canvas->press_px.y;
  canvas->pointer = geo_point (x + dx, y + dy);
  if (canvas->moving)
    {
      app_canvas_move_view (canvas, canvas->pointer.x - canvas->moving_from.x,
                            canvas->pointer.y - canvas->moving_from.y);
      canvas->moving_from = canvas->pointer;
      return;
    }
  if (canvas->walk_drag)
    app_canvas_walk_drag (canvas);
  if (!canvas->pressed)
    return;
  creep (canvas);
  if (app_canvas_tracing (canvas) != NULL)
    {
      app_canvas_trace_drag (canvas);
      return;
    }
  GtkEventController *controller = GTK_EVENT_CONTROLLER (drag);
  AppPointer p = pointer_at (
      canvas, canvas->pointer,
      app_canvas_mods (
          gtk_event_controller_get_current_event_state (controller)));
  p.touch = is_touch (controller);
  app_tool_drag (canvas->tool, &p);
  app_canvas_tool_moved (canvas);
}

static void
on_drag_end (GtkGestureDrag *drag, double dx, double dy, AppCanvas *canvas)
{
  double x, y;
  if (!gtk_gesture_drag_get_start_point (drag, &x, &y))
    x = canvas->press_px.x, y = canvas->press_px.y;
  canvas->pointer = geo_point (x + dx, y + dy);
  if (canvas->pressed)
    {
      canvas->pressed = FALSE;
      GtkEventController *controller = GTK_EVENT_CONTROLLER (drag);
      guint mods = app_canvas_mods (
          gtk_event_controller_get_current_event_state (controller));
      AppPointer p = pointer_at (canvas, canvas->pointer, mods);
      p.touch = is_touch (controller);
      if (app_canvas_tracing (canvas) != NULL)
        app_canvas_trace_release (canvas, mods);
      else
        app_tool_release (canvas->tool, &p);
    }
  canvas->moving = canvas->walk_drag = FALSE;
  app_canvas_tool_moved (canvas);
}

/* What is held goes back to where it was. */
static void
let_go (AppCanvas *canvas)
{
  if (app_canvas_tracing (canvas) != NULL)
    app_tracing_drop (app_canvas_tracing (canvas));
  else
    app_tool_key (canvas->tool, APP_KEY_ESCAPE);
}

/* The desktop took the pointer away: nothing half done stays. */
static void
on_drag_cancel (GtkGesture *gesture, GdkEventSequence *sequence,
                AppCanvas *canvas)
{
  (void)gesture;
  (void)sequence;
  if (canvas->pressed)
    let_go (canvas);
  canvas->pressed = canvas->moving = canvas->walk_drag = FALSE;
  app_canvas_tool_moved (canvas);
}

/* --- the middle and the secondary button ----------------------------------- */

static void
on_middle_begin (GtkGestureDrag *drag, double x, double y, AppCanvas *canvas)
{
  (void)drag;
  canvas->moving = TRUE;
  canvas->moving_from = canvas->press_px = geo_point (x, y);
  app_canvas_tool_moved (canvas);
}

static void
pick_under (AppCanvas *canvas, GeoPoint px)
{
  AppHit hit = app_hit (canvas->session, app_view_to_mm (&canvas->view, px),
                        12 / canvas->view.scale);
  const AppPick *pick = app_session_get_pick (canvas->session);
  switch (hit.kind)
    {
    case APP_HIT_NODE:
    case APP_HIT_HANDLE:
      app_session_pick_nodes (canvas->session, hit.piece, hit.edge, &hit.node,
                              1);
      break;
    case APP_HIT_MARK:
      app_session_pick_mark (canvas->session, hit.piece, hit.mark);
      break;
    case APP_HIT_EDGE:
      if (pick->kind != APP_PICK_SEAM
          || !app_session_is_picked (canvas->session, hit.piece, hit.edge))
        app_session_pick_edge (canvas->session, hit.piece, hit.edge);
      break;
    case APP_HIT_PIECE:
      if (!app_session_is_picked (canvas->session, hit.piece, 0))
        app_session_pick_piece (canvas->session, hit.piece, FALSE);
      break;
    case APP_HIT_LINE:
      app_session_pick_line (canvas->session, hit.line);
      break;
    case APP_HIT_TURN:
    case APP_HIT_NOTHING:
    default:
      app_session_pick_none (canvas->session);
      break;
    }
}

static void
on_secondary (GtkGestureClick *click, int presses, double x, double y,
              AppCanvas *canvas)
{
  (void)click;
  (void)presses;
  gtk_widget_grab_focus (GTK_WIDGET (canvas));
  if (app_tool_is_busy (canvas->tool) || canvas->walking
      || app_canvas_tracing (canvas) != NULL
      || app_draft_get (canvas->session) != NULL)
    return;
  pick_under (canvas, geo_point (x, y));
  g_signal_emit_by_name (canvas, "context-menu", x, y);
}

/* A finger that stays asks for the menu. */
static void
on_long_press (GtkGestureLongPress *press, double x, double y,
               AppCanvas *canvas)
{
  (void)press;
  if (canvas->pressed)
    let_go (canvas);
  canvas->pressed = FALSE;
  on_secondary (NULL, 1, x, y, canvas);
}

/* --- wheel, touchpad, pinch ------------------------------------------------ */

static gboolean
on_scroll (GtkEventControllerScroll *scroll, double dx, double dy,
           AppCanvas *canvas)
{
  GtkEventController *controller = GTK_EVENT_CONTROLLER (scroll);
  GdkModifierType state
      = gtk_event_controller_get_current_event_state (controller);
  GdkDevice *device
      = gtk_event_controller_get_current_event_device (controller);
  gboolean pixels = gtk_event_controller_scroll_get_unit (scroll)
                    == GDK_SCROLL_UNIT_SURFACE;
  gboolean touchpad
      = pixels
        || (device != NULL
            && gdk_device_get_source (device) == GDK_SOURCE_TOUCHPAD);
  if (state & GDK_CONTROL_MASK)
    {
      app_view_zoom_steps (&canvas->view, pixels ? -dy / 40 : -dy,
                           canvas->pointer);
      app_canvas_view_moved (canvas);
    }
  else
    {
      double unit = pixels ? 1 : touchpad ? touchpad_pan_px : wheel_pan_px;
      /* A wheel turns one way only: Shift turns it sideways. */
      gboolean sideways = !touchpad && (state & GDK_SHIFT_MASK) && dx == 0;
      app_canvas_move_view (canvas, -(sideways ? dy : dx) * unit,
                            sideways ? 0 : -dy * unit);
    }
  app_canvas_hover_again (canvas, app_canvas_mods (state));
  app_canvas_tool_moved (canvas);
  return TRUE;
}

static void
on_pinch_begin (GtkGesture *pinch, GdkEventSequence *sequence,
                AppCanvas *canvas)
{
  (void)sequence;
  double x = canvas->pointer.x, y = canvas->pointer.y;
  gtk_gesture_get_bounding_box_center (pinch, &x, &y);
  canvas->pinch_scale = canvas->view.scale;
  canvas->pinch_px = geo_point (x, y);
  if (canvas->pressed)
    {
      let_go (canvas);
      canvas->pressed = FALSE;
    }
}

/* Zooms about the fingers and goes along with them. */
static void
on_pinch (GtkGestureZoom *pinch, double scale, AppCanvas *canvas)
{
  double x = canvas->pinch_px.x, y = canvas->pinch_px.y;
  gtk_gesture_get_bounding_box_center (GTK_GESTURE (pinch), &x, &y);
  app_canvas_move_view (canvas, x - canvas->pinch_px.x, y - canvas->pinch_px.y);
  canvas->pinch_px = geo_point (x, y);
  app_view_zoom_to (&canvas->view, canvas->pinch_scale * scale,
                    canvas->pinch_px);
  app_canvas_view_moved (canvas);
  app_canvas_tool_moved (canvas);
}

static void
on_focus_out (GtkEventControllerFocus *focus, AppCanvas *canvas)
{
  (void)focus;
  canvas->space = FALSE;
  app_canvas_tool_moved (canvas);
}

static void
add_drag (AppCanvas *canvas, guint button, GCallback begin)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), button);
  g_signal_connect (drag, "drag-begin", begin, canvas);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), canvas);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), canvas);
  g_signal_connect (drag, "cancel", G_CALLBACK (on_drag_cancel), canvas);
  gtk_widget_add_controller (GTK_WIDGET (canvas), GTK_EVENT_CONTROLLER (drag));
}

void
app_canvas_init_input (AppCanvas *canvas)
{
  GtkWidget *widget = GTK_WIDGET (canvas);
  GtkEventController *controller = gtk_event_controller_motion_new ();
  g_signal_connect (controller, "enter", G_CALLBACK (on_motion), canvas);
  g_signal_connect (controller, "motion", G_CALLBACK (on_motion), canvas);
  g_signal_connect (controller, "leave", G_CALLBACK (on_leave), canvas);
  gtk_widget_add_controller (widget, controller);

  add_drag (canvas, GDK_BUTTON_PRIMARY, G_CALLBACK (on_drag_begin));
  add_drag (canvas, GDK_BUTTON_MIDDLE, G_CALLBACK (on_middle_begin));
  GtkGesture *click = gtk_gesture_click_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (click),
                                 GDK_BUTTON_SECONDARY);
  g_signal_connect (click, "pressed", G_CALLBACK (on_secondary), canvas);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (click));

  GtkGesture *stay = gtk_gesture_long_press_new ();
  gtk_gesture_single_set_touch_only (GTK_GESTURE_SINGLE (stay), TRUE);
  g_signal_connect (stay, "pressed", G_CALLBACK (on_long_press), canvas);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (stay));

  controller
      = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  g_signal_connect (controller, "scroll", G_CALLBACK (on_scroll), canvas);
  gtk_widget_add_controller (widget, controller);
  GtkGesture *pinch = gtk_gesture_zoom_new ();
  g_signal_connect (pinch, "begin", G_CALLBACK (on_pinch_begin), canvas);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (on_pinch), canvas);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (pinch));

  app_canvas_init_keys (canvas);
  controller = gtk_event_controller_focus_new ();
  g_signal_connect (controller, "leave", G_CALLBACK (on_focus_out), canvas);
  gtk_widget_add_controller (widget, controller);
}
