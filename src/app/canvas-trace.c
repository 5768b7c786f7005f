/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table while a picture is traced: the picture itself, pointer and keys. */
#include "app/canvas-private.h"
#include "app/rulers.h"
#include "app/tracing.h"

/* The picture as it was painted last; painted anew where anything it shows is another. */
typedef struct
{
  AppSight *sight;
  TracingPlane plane;
  AppView view;
  int width, height;
  guint tint;
  gboolean tinted, dark;
} Shown;

struct _AppCanvasTrace
{
  gboolean on;
  AppTracingStage stage;
  gboolean picture;
  GeoBox box;
  Shown shown;
  cairo_surface_t *surface;
  AppView before;
  gboolean fitted_before;
};

AppTracing *
app_canvas_tracing (AppCanvas *canvas)
{
  return app_tracing_get (canvas->session);
}

/* --- the view ------------------------------------------------------------------------ */

static void
fit (AppCanvas *canvas, AppTracing *t)
{
  GeoBox area = geo_box_grow (app_canvas_clear_area (canvas), -14);
  app_view_fit (&canvas->view, app_tracing_get_box (t), area);
  app_canvas_view_moved (canvas);
  canvas->fitted = TRUE;
}

gboolean
app_canvas_trace_fit (AppCanvas *canvas)
{
  AppTracing *t = app_canvas_tracing (canvas);
  if (t != NULL)
    fit (canvas, t);
  return t != NULL;
}

static void
drop_surface (AppCanvasTrace *trace)
{
  g_clear_pointer (&trace->surface, cairo_surface_destroy);
  g_clear_pointer (&trace->shown.sight, app_sight_unref);
}

static void
begin (AppCanvas *canvas, AppTracing *t)
{
  AppCanvasTrace *trace = canvas->trace;
  app_canvas_set_tool (canvas, APP_TOOL_RESHAPE);
  app_session_pick_none (canvas->session);
  app_tool_leave (canvas->tool);
  trace->on = TRUE;
  trace->stage = app_tracing_get_stage (t);
  trace->before = canvas->view;
  trace->fitted_before = canvas->fitted;
  canvas->hovered_pin = 0;
  fit (canvas, t);
  gtk_widget_grab_focus (GTK_WIDGET (canvas));
}

static void
end (AppCanvas *canvas)
{
  AppCanvasTrace *trace = canvas->trace;
  trace->on = FALSE;
  drop_surface (trace);
  canvas->view = trace->before;
  app_canvas_view_moved (canvas);
  app_canvas_fit_all (canvas);
}

void
app_canvas_trace_changed (AppCanvas *canvas)
{
  AppTracing *t = app_canvas_tracing (canvas);
  if (canvas->trace == NULL)
    canvas->trace = g_new0 (AppCanvasTrace, 1);
  AppCanvasTrace *trace = canvas->trace;
  if (t != NULL && !trace->on)
    begin (canvas, t);
  else if (t == NULL && trace->on)
    end (canvas);
  else if (t != NULL && trace->stage != app_tracing_get_stage (t))
    {
      trace->stage = app_tracing_get_stage (t);
      fit (canvas, t);
    }
  app_canvas_tool_moved (canvas);
}

void
app_canvas_trace_free (AppCanvas *canvas)
{
  if (canvas->trace == NULL)
    return;
  drop_surface (canvas->trace);
  g_clear_pointer (&canvas->trace, g_free);
}

/* --- the pointer ------------------------------------------------------------------------- */

static GeoPoint
at_of (AppCanvas *canvas)
{
  return app_view_to_mm (&canvas->view, canvas->pointer);
}

void
app_canvas_trace_hover (AppCanvas *canvas)
{
  AppTracing *t = app_canvas_tracing (canvas);
  if (canvas->pointer_in)
    app_tracing_hover (t, at_of (canvas), 14 / canvas->view.scale);
}

void
app_canvas_trace_press (AppCanvas *canvas, gboolean touch)
{
  canvas->pressed = TRUE;
  app_tracing_press (app_canvas_tracing (canvas), at_of (canvas),
                     (touch ? 26 : 14) / canvas->view.scale);
}

void
app_canvas_trace_drag (AppCanvas *canvas)
{
  app_tracing_drag (app_canvas_tracing (canvas), at_of (canvas));
}

void
app_canvas_trace_release (AppCanvas *canvas, guint mods)
{
  canvas->pressed = FALSE;
  app_tracing_release (app_canvas_tracing (canvas), at_of (canvas),
                       (mods & APP_MOD_CTRL) != 0);
}

/* --- keys -------------------------------------------------------------------------------- */

static gboolean
on_arrow (AppCanvas *canvas, AppTracing *t, int dx, int dy, guint mods)
{
  int step = (mods & APP_MOD_SHIFT) ? 10 : 1;
  if (!app_tracing_nudge (t, dx * step, dy * step))
    app_canvas_move_view (canvas, -dx * 64, -dy * 64);
  return TRUE;
}

/* A number typed over the table goes to the bar's field. */
static gboolean
on_character (AppCanvas *canvas, guint key)
{
  gunichar c = gdk_keyval_to_unicode (key);
  if (c == 0 || !(g_unichar_isdigit (c) || c == '.' || c == ','))
    return FALSE;
  char text[8] = { 0 };
  g_unichar_to_utf8 (c, text);
  gtk_widget_activate_action (GTK_WIDGET (canvas), "win.trace-type", "s", text);
  return TRUE;
}

static gboolean
on_escape (AppCanvas *canvas, AppTracing *t)
{
  if (app_tracing_drop (t))
    canvas->pressed = FALSE;
  else if (!app_tracing_go_back (t))
    app_tracing_put_aside (canvas->session);
  return TRUE;
}

/* Every letter is taken: none of the table's tools has anything to do here. */
gboolean
app_canvas_trace_key (AppCanvas *canvas, guint key, guint mods)
{
  AppTracing *t = app_canvas_tracing (canvas);
  if (t == NULL || (mods & (APP_MOD_CTRL | APP_MOD_ALT)))
    return FALSE;
  switch (key)
    {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      return on_arrow (canvas, t, -1, 0, mods);
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      return on_arrow (canvas, t, 1, 0, mods);
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      return on_arrow (canvas, t, 0, -1, mods);
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      return on_arrow (canvas, t, 0, 1, mods);
    case GDK_KEY_Tab:
    case GDK_KEY_KP_Tab:
      app_tracing_step (t, 1);
      return TRUE;
    case GDK_KEY_ISO_Left_Tab:
      app_tracing_step (t, -1);
      return TRUE;
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      app_tracing_go_on (t);
      return TRUE;
    case GDK_KEY_Escape:
      return on_escape (canvas, t);
    case GDK_KEY_BackSpace:
      app_tracing_undo (t);
      return TRUE;
    case GDK_KEY_space:
      return app_tracing_toggle (t);
    case GDK_KEY_Home:
      fit (canvas, t);
      return TRUE;
    case GDK_KEY_plus:
    case GDK_KEY_KP_Add:
    case GDK_KEY_equal:
      app_canvas_zoom (canvas, APP_VIEW_STEP * APP_VIEW_STEP, NULL);
      return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      app_canvas_zoom (canvas, 1 / (APP_VIEW_STEP * APP_VIEW_STEP), NULL);
      return TRUE;
    default:
      return on_character (canvas, key)
             || g_unichar_isprint (gdk_keyval_to_unicode (key))
             || key == GDK_KEY_Delete || key == GDK_KEY_Menu;
    }
}

/* --- painting ------------------------------------------------------------------------------- */

static gboolean
is_same (const Shown *a, const Shown *b)
{
  return a->sight == b->sight && a->width == b->width && a->height == b->height
         && a->tint == b->tint && a->tinted == b->tinted && a->dark == b->dark
         && a->view.scale == b->view.scale
         && geo_same (a->view.origin, b->view.origin)
         && memcmp (a->plane.m, b->plane.m, sizeof a->plane.m) == 0;
}

static void
render (AppCanvas *canvas, const Shown *now, AppSightTint *tint)
{
  AppCanvasTrace *trace = canvas->trace;
  double m[9];
  DrawingColour c = app_palette (canvas->dark)->partner;
  tint->r = c.r, tint->g = c.g, tint->b = c.b;
  tint->alpha = 0.34;
  drop_surface (trace);
  if (!app_sight_matrix (&now->plane, now->view.scale, now->view.origin, m))
    return;
  trace->surface = app_sight_render (now->sight, m, now->width, now->height,
                                     now->tinted ? tint : NULL);
  trace->shown = *now;
  trace->shown.sight = app_sight_ref (now->sight);
}

static void
paint_picture (AppCanvas *canvas, AppTracing *t, GtkSnapshot *snapshot)
{
  AppCanvasTrace *trace = canvas->trace;
  AppSightTint tint;
  Shown now = { .sight = app_tracing_get_sight (t),
                .plane = *app_tracing_get_shown (t),
                .view = canvas->view,
                .width = gtk_widget_get_width (GTK_WIDGET (canvas)),
                .height = gtk_widget_get_height (GTK_WIDGET (canvas)),
                .dark = canvas->dark };
  if (now.sight == NULL)
    return;
  app_tracing_get_tint (t, &tint, &now.tint);
  now.tinted = tint.bytes != NULL;
  if (trace->surface == NULL || !is_same (&trace->shown, &now))
    render (canvas, &now, &tint);
  if (trace->surface == NULL)
    return;
  cairo_t *cr = app_canvas_layer (canvas, snapshot,
                                  (GeoBox){ 0, 0, now.width, now.height });
  cairo_set_source_surface (cr, trace->surface, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);
}

void
app_canvas_paint_trace (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  AppTracing *t = app_canvas_tracing (canvas);
  paint_picture (canvas, t, snapshot);
  cairo_t *cr = app_canvas_layer (canvas, snapshot, app_canvas_area (canvas));
  if (cr == NULL)
    return;
  app_tracing_paint (t, cr, &canvas->view, app_canvas_area (canvas),
                     canvas->dark);
  cairo_destroy (cr);
}
