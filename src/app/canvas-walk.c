/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table while a seam is walked: keys, the pin dragged, time, and what is seen. */
#include "app/canvas-private.h"
#include "app/hand-tools.h"
#include "app/walk.h"

/* Room for the bar over the table. */
#define BAR_PX 96
#define SNAP_PX 8

AppWalk *
app_canvas_walk (AppCanvas *canvas)
{
  return app_walk_get (canvas->session);
}

static gboolean
wants_motion (AppCanvas *canvas)
{
  gboolean motion = TRUE;
  g_object_get (gtk_widget_get_settings (GTK_WIDGET (canvas)),
                "gtk-enable-animations", &motion, NULL);
  return motion;
}

/* --- time ------------------------------------------------------------------------ */

static gboolean
on_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  (void)data;
  AppCanvas *canvas = APP_CANVAS (widget);
  AppWalk *walk = app_canvas_walk (canvas);
  gint64 now = gdk_frame_clock_get_frame_time (clock);
  /* A frame that comes late moves the pin no further than she can follow. */
  double seconds = fmin ((double)(now - canvas->walk_time) / 1e6, 0.1);
  canvas->walk_time = now;
  if (walk != NULL && app_walk_tick (walk, fmax (seconds, 1e-4)))
    return G_SOURCE_CONTINUE;
  canvas->walk_tick = 0;
  return G_SOURCE_REMOVE;
}

static void
start_time (AppCanvas *canvas)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (canvas));
  if (canvas->walk_tick != 0 || clock == NULL)
    return;
  canvas->walk_time = gdk_frame_clock_get_frame_time (clock);
  canvas->walk_tick
      = gtk_widget_add_tick_callback (GTK_WIDGET (canvas), on_tick, NULL, NULL);
}

/* --- the view ---------------------------------------------------------------------- */

static GeoBox
walk_area (AppCanvas *canvas)
{
  GeoBox area = app_canvas_clear_area (canvas);
  if (area.y1 - area.y0 > 4 * BAR_PX)
    area.y0 += BAR_PX;
  return area;
}

static void
fit (AppCanvas *canvas, AppWalk *walk)
{
  app_view_fit (&canvas->view, app_walk_box (walk), walk_area (canvas));
  app_canvas_view_moved (canvas);
  canvas->walk_fitted = TRUE;
}

static void
begin (AppCanvas *canvas, AppWalk *walk)
{
  app_canvas_leave_truing (canvas);
  app_canvas_leave_truing (canvas);
  canvas->walking = TRUE;
  canvas->before_walk = canvas->view;
  canvas->fitted_before_walk = canvas->fitted;
  canvas->hovered_pin = 0;
  app_tool_key (canvas->tool, APP_KEY_ESCAPE);
  app_tool_leave (canvas->tool);
  app_walk_set_still (walk, !wants_motion (canvas));
  fit (canvas, walk);
}

void
app_canvas_walk_resized (AppCanvas *canvas)
{
  AppWalk *walk = app_canvas_walk (canvas);
  if (walk != NULL && canvas->walk_fitted && !canvas->walk_drag)
    fit (canvas, walk);
}

static void
end (AppCanvas *canvas)
{
  canvas->walking = canvas->walk_drag = FALSE;
  if (canvas->walk_tick != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (canvas), canvas->walk_tick);
  canvas->walk_tick = 0;
  canvas->view = canvas->before_walk;
  app_canvas_view_moved (canvas);
  canvas->fitted = canvas->fitted_before_walk;
}

/* The pin stays in sight where the view was moved or made larger. */
static void
follow (AppCanvas *canvas, AppWalk *walk)
{
  GeoBox area = geo_box_grow (walk_area (canvas), -48);
  GeoPoint px = app_view_to_px (&canvas->view, app_walk_get_step (walk)->at);
  double dx = px.x < area.x0   ? area.x0 - px.x
              : px.x > area.x1 ? area.x1 - px.x
                               : 0;
  double dy = px.y < area.y0   ? area.y0 - px.y
              : px.y > area.y1 ? area.y1 - px.y
                               : 0;
  if (!canvas->walk_drag && !canvas->moving && (dx != 0 || dy != 0))
    app_canvas_move_view (canvas, dx, dy);
}

/* What the tag shows is said as well, where the pin comes to stand. */
static void
describe (AppCanvas *canvas, AppWalk *walk)
{
  g_autofree char *tag = app_walk_tag (walk);
  g_auto (GStrv) lines = g_strsplit (tag, "\n", -1);
  g_autofree char *text = g_strjoinv (", ", lines);
  gtk_accessible_update_property (
      GTK_ACCESSIBLE (canvas), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
}

void
app_canvas_walk_changed (AppCanvas *canvas)
{
  AppWalk *walk = app_canvas_walk (canvas);
  if (walk != NULL && !canvas->walking)
    begin (canvas, walk);
  else if (walk == NULL && canvas->walking)
    end (canvas);
  if (walk != NULL)
    {
      if (app_walk_get_way (walk) != 0)
        start_time (canvas);
      else
        describe (canvas, walk);
      follow (canvas, walk);
    }
  app_canvas_tool_moved (canvas);
}

/* --- the pointer ---------------------------------------------------------------------- */

void
app_canvas_walk_drag (AppCanvas *canvas)
{
  AppWalk *walk = app_canvas_walk (canvas);
  if (walk != NULL)
    app_walk_go_near (walk, app_view_to_mm (&canvas->view, canvas->pointer),
                      SNAP_PX / canvas->view.scale);
}

/* --- keys ------------------------------------------------------------------------------- */

static void
on_arrow (AppCanvas *canvas, AppWalk *walk, int way, guint mods)
{
  double step
      = pattern_length_step (app_session_get_shown (canvas->session)->unit);
  if ((mods & (APP_MOD_SHIFT | APP_MOD_ALT)) == 0)
    app_walk_to_mark (walk, way);
  else
    app_walk_go (walk,
                 app_walk_get_step (walk)->walked
                     + way * step * (mods & APP_MOD_ALT ? 0.1 : 1),
                 0);
}

static void
on_space (AppWalk *walk, guint mods)
{
  if (app_walk_get_way (walk) != 0)
    app_walk_stop (walk);
  else
    app_walk_run (walk, mods & APP_MOD_SHIFT ? -1 : 1);
}

gboolean
app_canvas_walk_key (AppCanvas *canvas, guint key, guint mods)
{
  AppWalk *walk = app_canvas_walk (canvas);
  AppToolKind kind;
  if (walk == NULL || (mods & APP_MOD_CTRL))
    return FALSE;
  /* X is the walk's own while it lasts: the other side moves. */
  if (app_hand_tool_of_key (key, &kind) && kind != APP_TOOL_SLASH
      && !(mods & APP_MOD_ALT))
    {
      app_walk_end (canvas->session); /* the tool is taken up then */
      return FALSE;
    }
  switch (gdk_keyval_to_lower (key))
    {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      on_arrow (canvas, walk, -1, mods);
      return TRUE;
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      on_arrow (canvas, walk, 1, mods);
      return TRUE;
    case GDK_KEY_Home:
    case GDK_KEY_KP_Home:
      app_walk_go (walk, 0, 0);
      return TRUE;
    case GDK_KEY_End:
    case GDK_KEY_KP_End:
      app_walk_go (walk, app_walk_get_whole (walk), 0);
      return TRUE;
    case GDK_KEY_space:
      on_space (walk, mods);
      return TRUE;
    case GDK_KEY_n:
      app_walk_strike (walk);
      return TRUE;
    case GDK_KEY_x:
      app_walk_set_fixed (walk, 1 - app_walk_get_walk (walk)->fixed);
      return TRUE;
    case GDK_KEY_o:
      app_walk_set_by (walk, app_walk_get_walk (walk)->by == SEWING_WALK_PAPER
                                 ? SEWING_WALK_MATCHED
                                 : SEWING_WALK_PAPER);
      return TRUE;
    case GDK_KEY_w:
    case GDK_KEY_Escape:
      app_walk_end (canvas->session);
      return TRUE;
    /* What would take away or pick something else waits for the end. */
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
    case GDK_KEY_BackSpace:
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
    case GDK_KEY_Up:
    case GDK_KEY_Down:
    case GDK_KEY_s:
    case GDK_KEY_Menu:
      return TRUE;
    default:
      return FALSE;
    }
}

/* --- painting ------------------------------------------------------------------------------ */

void
app_canvas_paint_walk (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  AppWalk *walk = app_canvas_walk (canvas);
  cairo_t *cr = app_canvas_layer (canvas, snapshot, app_canvas_area (canvas));
  if (cr == NULL)
    return;
  app_walk_paint (walk, cr, &canvas->view, canvas->dark);
  cairo_destroy (cr);
}
