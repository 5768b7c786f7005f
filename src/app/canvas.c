/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/canvas.h"

#include <glib/gi18n.h>

#include "app/canvas-private.h"
#include "app/draft.h"
#include "app/follow-picture.h"
#include "app/rulers.h"
#include "app/tool-fair.h"
#include "app/tool-true.h"
#include "app/tracing.h"

G_DEFINE_FINAL_TYPE (AppCanvas, app_canvas, GTK_TYPE_WIDGET)

static void
describe (AppCanvas *canvas)
{
  g_autofree char *text = app_session_describe_pick (canvas->session);
  gtk_accessible_update_property (
      GTK_ACCESSIBLE (canvas), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
      text[0] != '\0' ? text : _ ("Nothing is picked"), -1);
}

static void
on_shown_changed (AppCanvas *canvas)
{
  canvas->generation++;
  canvas->hovered_pin = 0;
  g_clear_pointer (&canvas->pins, g_array_unref);
  gtk_widget_queue_draw (GTK_WIDGET (canvas));
}

static void
on_pick_changed (AppCanvas *canvas)
{
  const AppPick *pick = app_session_get_pick (canvas->session);
  AppTool *truing = app_canvas_get_truing (canvas);
  app_canvas_end_nudges (canvas);
  describe (canvas);
  /* She has turned to something else. */
  if (truing != NULL
      && (pick->kind != APP_PICK_SEAM
          || pick->ids[0] != app_true_get_seam (truing)))
    app_canvas_set_tool (canvas, APP_TOOL_RESHAPE);
  AppTool *fairing = app_canvas_get_fairing (canvas);
  if (fairing != NULL
      && (pick->kind != APP_PICK_EDGE
          || !app_fair_is_of (fairing, pick->piece, pick->edge)))
    app_canvas_set_tool (canvas, APP_TOOL_RESHAPE);
  /* The next useful thing is another now. */
  app_canvas_tool_moved (canvas);
}

static void
on_look_at (AppCanvas *canvas, double x0, double y0, double x1, double y1)
{
  app_canvas_look_at (canvas, (GeoBox){ x0, y0, x1, y1 });
}

static void
app_canvas_dispose (GObject *object)
{
  AppCanvas *canvas = APP_CANVAS (object);
  if (canvas->session != NULL)
    g_signal_handlers_disconnect_by_data (canvas->session, canvas);
  app_canvas_end_nudges (canvas);
  app_canvas_trace_free (canvas);
  app_canvas_pictures_free (canvas);
  g_clear_pointer (&canvas->tool, app_tool_free);
  g_clear_object (&canvas->session);
  g_clear_pointer (&canvas->pins, g_array_unref);
  g_clear_pointer (&canvas->pictures, g_hash_table_unref);
  g_clear_pointer (&canvas->rulers, gsk_render_node_unref);
  g_clear_pointer (&canvas->lines, gsk_render_node_unref);
  g_clear_pointer (&canvas->hint, g_free);
  G_OBJECT_CLASS (app_canvas_parent_class)->dispose (object);
}

static void
app_canvas_measure (GtkWidget *widget, GtkOrientation orientation, int for_size,
                    int *minimum, int *natural, int *minimum_baseline,
                    int *natural_baseline)
{
  (void)widget;
  (void)for_size;
  *minimum = 160;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 800 : 600;
  *minimum_baseline = *natural_baseline = -1;
}

static double
top_in_window (GtkWidget *widget)
{
  GtkWidget *root = GTK_WIDGET (gtk_widget_get_root (widget));
  graphene_point_t at = { 0, 0 };
  if (root != NULL)
    (void)!gtk_widget_compute_point (widget, root, &GRAPHENE_POINT_INIT (0, 0),
                                     &at);
  return at.y;
}

static void
app_canvas_size_allocate (GtkWidget *widget, int width, int height,
                          int baseline)
{
  (void)baseline;
  AppCanvas *canvas = APP_CANVAS (widget);
  if (width <= 4 * APP_RULER_PX || height <= 4 * APP_RULER_PX)
    return;
  /* What she holds in her hand stays under the pointer, and so does what she is about to click, while a
   * verb's bar above the table grows and shrinks. */
  gboolean drafts = app_draft_get (canvas->session) != NULL;
  double top = top_in_window (widget);
  if (canvas->placed && drafts && canvas->held)
    canvas->view.origin.y += (top - canvas->top_px) / canvas->view.scale;
  else if (!canvas->placed || (canvas->fitted && !canvas->pressed))
    app_canvas_fit_all (canvas);
  canvas->top_px = top;
  canvas->held = drafts;
  app_canvas_walk_resized (canvas);
}

static gboolean
app_canvas_focus (GtkWidget *widget, GtkDirectionType direction)
{
  (void)direction;
  /* Tab inside is the key controller's; here the focus goes on. */
  if (gtk_widget_has_focus (widget))
    return FALSE;
  return gtk_widget_grab_focus (widget);
}

/* The outline of the focus goes by these as well as by the focus itself, and nothing else says
 * that the table has to be painted anew for them. */
static void
app_canvas_root (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (app_canvas_parent_class)->root (widget);
  GtkRoot *root = gtk_widget_get_root (widget);
  static const char *const properties[]
      = { "notify::focus-visible", "notify::is-active",
          "notify::focus-widget" };
  for (guint i = 0; GTK_IS_WINDOW (root) && i < G_N_ELEMENTS (properties); i++)
    g_signal_connect_object (root, properties[i],
                             G_CALLBACK (gtk_widget_queue_draw), widget,
                             G_CONNECT_SWAPPED);
}

static void
app_canvas_unroot (GtkWidget *widget)
{
  g_signal_handlers_disconnect_by_data (gtk_widget_get_root (widget), widget);
  GTK_WIDGET_CLASS (app_canvas_parent_class)->unroot (widget);
}

static void
app_canvas_class_init (AppCanvasClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  object_class->dispose = app_canvas_dispose;
  widget_class->snapshot = app_canvas_snapshot;
  widget_class->measure = app_canvas_measure;
  widget_class->size_allocate = app_canvas_size_allocate;
  widget_class->focus = app_canvas_focus;
  widget_class->root = app_canvas_root;
  widget_class->unroot = app_canvas_unroot;
  gtk_widget_class_set_css_name (widget_class, "table-view");
  gtk_widget_class_set_accessible_role (widget_class,
                                        GTK_ACCESSIBLE_ROLE_GROUP);
  g_signal_new ("context-menu", APP_TYPE_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL,
                NULL, NULL, G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
  g_signal_new ("tool-moved", APP_TYPE_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                NULL, G_TYPE_NONE, 0);
}

static void
app_canvas_init (AppCanvas *canvas)
{
  GtkWidget *widget = GTK_WIDGET (canvas);
  canvas->view = app_view_start ();
  app_canvas_init_pictures (canvas);
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_hexpand (widget, TRUE);
  gtk_widget_set_vexpand (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (canvas),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Cutting table"), -1);
}

/* Things are picked for a verb with the hand that picks; Slash, which begins one in the middle of its
 * work, stays taken up for the next line. */
static void
on_draft_changed (AppCanvas *canvas)
{
  if (app_draft_get (canvas->session) != NULL
      && app_tool_get_kind (canvas->tool) != APP_TOOL_RESHAPE
      && app_tool_get_kind (canvas->tool) != APP_TOOL_SLASH)
    app_canvas_set_tool (canvas, APP_TOOL_RESHAPE);
  app_canvas_tool_moved (canvas);
}

GtkWidget *
app_canvas_new (AppSession *session)
{
  g_return_val_if_fail (APP_IS_SESSION (session), NULL);
  AppCanvas *canvas = g_object_new (APP_TYPE_CANVAS, NULL);
  canvas->session = g_object_ref (session);
  canvas->tool = app_tool_new (APP_TOOL_RESHAPE, session);
  g_signal_connect_swapped (session, "shown-changed",
                            G_CALLBACK (on_shown_changed), canvas);
  g_signal_connect_swapped (session, "pick-changed",
                            G_CALLBACK (on_pick_changed), canvas);
  g_signal_connect_swapped (session, "state-changed", G_CALLBACK (describe),
                            canvas);
  g_signal_connect_swapped (session, "hover-changed",
                            G_CALLBACK (gtk_widget_queue_draw), canvas);
  g_signal_connect_swapped (session, "laid-over-changed",
                            G_CALLBACK (gtk_widget_queue_draw), canvas);
  g_signal_connect_swapped (session, "picture-read",
                            G_CALLBACK (gtk_widget_queue_draw), canvas);
  g_signal_connect_swapped (session, "look-at", G_CALLBACK (on_look_at),
                            canvas);
  g_signal_connect_swapped (session, "walk-changed",
                            G_CALLBACK (app_canvas_walk_changed), canvas);
  g_signal_connect_swapped (session, "draft-changed",
                            G_CALLBACK (on_draft_changed), canvas);
  g_signal_connect_swapped (session, "tracing-changed",
                            G_CALLBACK (app_canvas_trace_changed), canvas);
  app_canvas_init_input (canvas);
  /* Once it is seen, so that the foot of the table can be listening. */
  g_signal_connect (canvas, "map", G_CALLBACK (app_canvas_tool_moved), NULL);
  describe (canvas);
  return GTK_WIDGET (canvas);
}

void
app_canvas_tool_moved (AppCanvas *canvas)
{
  GtkWidget *widget = GTK_WIDGET (canvas);
  if (app_tool_is_done (canvas->tool))
    {
      AppToolKind kind = app_tool_get_kind (canvas->tool);
      gboolean made = kind == APP_TOOL_DRAW || kind == APP_TOOL_FOLLOW;
      app_canvas_set_tool (canvas, APP_TOOL_RESHAPE);
      if (made)
        g_signal_emit_by_name (canvas->session, "name-it");
      return;
    }
  AppWalk *walk = app_canvas_walk (canvas);
  AppDraft *draft = app_draft_get (canvas->session);
  AppTracing *tracing = app_canvas_tracing (canvas);
  const char *hint = tracing != NULL ? app_tracing_hint (tracing)
                     : walk != NULL  ? app_walk_hint (walk)
                     : draft != NULL ? app_draft_hint (draft)
                                     : app_tool_hint (canvas->tool);
  if (g_strcmp0 (hint, canvas->hint) != 0)
    {
      g_free (canvas->hint);
      canvas->hint = g_strdup (hint);
      g_signal_emit_by_name (canvas->session, "hint", hint != NULL ? hint : "");
    }
  const char *cursor = canvas->moving    ? "grabbing"
                       : canvas->space   ? "grab"
                       : tracing != NULL ? app_tracing_get_cursor (tracing)
                       : walk != NULL    ? "pointer"
                       : draft != NULL   ? "crosshair"
                       : canvas->hovered_pin > 0
                           ? "pointer"
                           : app_tool_get_cursor (canvas->tool);
  gtk_widget_set_cursor_from_name (widget, cursor);
  gtk_widget_queue_draw (widget);
  g_signal_emit_by_name (canvas, "tool-moved");
}

void
app_canvas_tool_told (AppCanvas *canvas)
{
  g_return_if_fail (APP_IS_CANVAS (canvas));
  app_canvas_tool_moved (canvas);
}

AppTool *
app_canvas_get_truing (AppCanvas *canvas)
{
  g_return_val_if_fail (APP_IS_CANVAS (canvas), NULL);
  return app_tool_get_kind (canvas->tool) == APP_TOOL_TRUE
                 && app_true_is_open (canvas->tool)
             ? canvas->tool
             : NULL;
}

gboolean
app_canvas_true (AppCanvas *canvas, guint seam, int end)
{
  g_return_val_if_fail (APP_IS_CANVAS (canvas), FALSE);
  app_canvas_set_tool (canvas, APP_TOOL_TRUE);
  if (!app_true_open (canvas->tool, seam, end))
    {
      app_canvas_set_tool (canvas, APP_TOOL_RESHAPE);
      return FALSE;
    }
  app_canvas_fit_all (canvas);
  gtk_widget_grab_focus (GTK_WIDGET (canvas));
  app_canvas_tool_moved (canvas);
  return TRUE;
}

gboolean
app_canvas_true_picked (AppCanvas *canvas)
{
  g_return_val_if_fail (APP_IS_CANVAS (canvas), FALSE);
  guint seam = 0;
  int end = 0;
  if (app_true_find_picked (canvas->session, &seam, &end))
    return app_canvas_true (canvas, seam, end);
  g_signal_emit_by_name (
      canvas->session, "problem",
      _ ("Pick a seam, or an edge that runs on across one, to lay its pieces "
         "together."));
  return FALSE;
}

AppTool *
app_canvas_get_fairing (AppCanvas *canvas)
{
  g_return_val_if_fail (APP_IS_CANVAS (canvas), NULL);
  return app_tool_get_kind (canvas->tool) == APP_TOOL_FAIR
                 && app_fair_is_open (canvas->tool)
             ? canvas->tool
             : NULL;
}

gboolean
app_canvas_fair (AppCanvas *canvas, guint piece, guint edge)
{
  g_return_val_if_fail (APP_IS_CANVAS (canvas), FALSE);
  app_canvas_set_tool (canvas, APP_TOOL_FAIR);
  if (!app_fair_open (canvas->tool, piece, edge))
    {
      app_canvas_set_tool (canvas, APP_TOOL_RESHAPE);
      return FALSE;
    }
  /* Not under the bar. */
  app_canvas_look_at (canvas, app_session_pick_box (canvas->session));
  gtk_widget_grab_focus (GTK_WIDGET (canvas));
  app_canvas_tool_moved (canvas);
  return TRUE;
}

gboolean
app_canvas_fair_picked (AppCanvas *canvas)
{
  g_return_val_if_fail (APP_IS_CANVAS (canvas), FALSE);
  const AppPick *pick = app_session_get_pick (canvas->session);
  if (pick->kind == APP_PICK_EDGE || pick->kind == APP_PICK_NODES)
    return app_canvas_fair (canvas, pick->piece, pick->edge);
  g_signal_emit_by_name (canvas->session, "problem",
                         _ ("Pick an edge to make it fair."));
  return FALSE;
}

static void
change_tool (AppCanvas *canvas, AppToolKind kind)
{
  AppToolKind before = app_tool_get_kind (canvas->tool);
  if (kind == before)
    return;
  if (kind == APP_TOOL_TRUE)
    {
      canvas->before_truing = canvas->view;
      canvas->before_fitted = canvas->fitted;
    }
  if (kind == APP_TOOL_FOLLOW)
    app_follow_picture_start (canvas->session);
  app_tool_free (canvas->tool);
  canvas->tool = app_tool_new (kind, canvas->session);
  canvas->pressed = FALSE;
  if (before == APP_TOOL_TRUE)
    {
      canvas->view = canvas->before_truing;
      app_canvas_view_moved (canvas);
      canvas->fitted = canvas->before_fitted;
    }
  g_signal_emit_by_name (canvas->session, "tool-changed");
  app_canvas_hover_again (canvas, 0);
  app_canvas_tool_moved (canvas);
}

void
app_canvas_set_tool (AppCanvas *canvas, AppToolKind kind)
{
  g_return_if_fail (APP_IS_CANVAS (canvas) && kind < APP_N_ALL_TOOLS);
  app_walk_end (canvas->session);
  if (kind != APP_TOOL_RESHAPE)
    app_draft_end (canvas->session);
  change_tool (canvas, kind);
}

void
app_canvas_leave_truing (AppCanvas *canvas)
{
  AppTool *truing = app_canvas_get_truing (canvas);
  if (truing == NULL)
    return;
  app_true_leave (truing);
  change_tool (canvas, APP_TOOL_RESHAPE);
}

AppToolKind
app_canvas_get_tool (AppCanvas *canvas)
{
  return app_tool_get_kind (canvas->tool);
}

/* --- the view -------------------------------------------------------------- */

GeoBox
app_canvas_area (AppCanvas *canvas)
{
  GtkWidget *widget = GTK_WIDGET (canvas);
  return (GeoBox){ APP_RULER_PX, APP_RULER_PX, gtk_widget_get_width (widget),
                   gtk_widget_get_height (widget) };
}

GeoBox
app_canvas_clear_area (AppCanvas *canvas)
{
  static const double foot_px = 48;
  GeoBox area = app_canvas_area (canvas);
  if (area.y1 - area.y0 > 6 * foot_px)
    area.y1 -= foot_px;
  return area;
}

void
app_canvas_view_moved (AppCanvas *canvas)
{
  canvas->placed = TRUE;
  canvas->fitted = canvas->walk_fitted = FALSE;
  canvas->tag_shown = FALSE;
  g_clear_pointer (&canvas->pins, g_array_unref);
  /* Something else lies under the pointer now. */
  if (!canvas->pressed && canvas->hovered_pin == 0)
    app_canvas_hover_again (canvas, 0);
  canvas->hovered_pin = 0;
  gtk_widget_queue_draw (GTK_WIDGET (canvas));
}

/* Round a box there is room for pins and for the rulers' width, and for the bar that stands
 * over the upper part while something is trued or made fair. */
static GeoBox
fit_area (AppCanvas *canvas)
{
  static const double bar_px = 112;
  GeoBox area = app_canvas_clear_area (canvas);
  double room = fmin (area.x1 - area.x0, area.y1 - area.y0) * 0.06;
  area = geo_box_grow (area, -room);
  gboolean bar = app_canvas_get_truing (canvas) != NULL
                 || app_canvas_get_fairing (canvas) != NULL
                 || canvas->under_bar;
  if (bar && area.y1 - area.y0 > 3 * bar_px)
    area.y0 += bar_px;
  return area;
}

void
app_canvas_set_under_bar (AppCanvas *canvas, gboolean under_bar)
{
  g_return_if_fail (APP_IS_CANVAS (canvas));
  canvas->under_bar = under_bar;
}

void
app_canvas_zoom (AppCanvas *canvas, double factor, const GeoPoint *about)
{
  g_return_if_fail (APP_IS_CANVAS (canvas) && factor > 0);
  GeoBox area = app_canvas_area (canvas);
  AppWalk *walk = app_canvas_walk (canvas);
  GeoPoint px
      = about != NULL ? *about
        : walk != NULL /* she looks at the pin */
            ? app_view_to_px (&canvas->view, app_walk_get_step (walk)->at)
            : geo_point ((area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2);
  /* Rounded, so that a factor and its inverse are the same steps both ways. */
  double steps = log (factor) / log (APP_VIEW_STEP);
  app_view_zoom_steps (&canvas->view, round (steps * 1e9) / 1e9, px);
  app_canvas_view_moved (canvas);
}

/* With room for the cards beside the line. */
static void
fit_truing (AppCanvas *canvas, GeoBox box)
{
  static const double side_px = 60;
  GeoBox area = fit_area (canvas);
  if (area.x1 - area.x0 > 6 * side_px)
    area = (GeoBox){ area.x0 + side_px, area.y0, area.x1 - side_px, area.y1 };
  app_view_fit (&canvas->view, box, area);
  app_canvas_view_moved (canvas);
  canvas->fitted = TRUE;
}

void
app_canvas_fit_all (AppCanvas *canvas)
{
  const Pattern *p = app_session_get_shown (canvas->session);
  SewingFacts *facts = app_session_get_facts (canvas->session);
  GeoBox box = geo_box_empty ();
  AppTool *truing = app_canvas_get_truing (canvas);
  if (app_canvas_trace_fit (canvas))
    return;
  if (truing != NULL)
    {
      fit_truing (canvas, app_true_view_box (truing));
      return;
    }
  for (guint i = 0; i < p->n_pieces; i++)
    {
      const SewingPiece *piece = sewing_facts_piece (facts, p->pieces[i]);
      if (piece != NULL)
        box = geo_box_join (box, piece->bounds);
    }
  for (guint i = 0; i < p->n_lines; i++)
    for (guint k = 0; k < p->lines[i].n_nodes; k++)
      box = geo_box_add (box, p->lines[i].nodes[k].at);
  if (geo_box_is_empty (box))
    box = (GeoBox){ 0, 0, 600, 450 };
  app_view_fit (&canvas->view, box, fit_area (canvas));
  app_canvas_view_moved (canvas);
  canvas->fitted = TRUE;
}

void
app_canvas_fit_pick (AppCanvas *canvas)
{
  GeoBox box = app_session_pick_box (canvas->session);
  if (geo_box_is_empty (box) || app_canvas_get_truing (canvas) != NULL
      || app_canvas_tracing (canvas) != NULL)
    {
      app_canvas_fit_all (canvas);
      return;
    }
  /* A single node is shown with what is about it: at least 160 mm across. */
  double size = fmax (box.x1 - box.x0, box.y1 - box.y0);
  app_view_fit (&canvas->view, geo_box_grow (box, fmax (15, (160 - size) / 2)),
                fit_area (canvas));
  app_canvas_view_moved (canvas);
}

/* What the desktop says of the monitor, in pixels a millimetre; else 96 to
 * the inch. */
static double
monitor_px_per_mm (GtkWidget *widget)
{
  GdkSurface *surface = NULL;
  GtkNative *native = gtk_widget_get_native (widget);
  if (native != NULL)
    surface = gtk_native_get_surface (native);
  if (surface == NULL)
    return 96 / 25.4;
  GdkMonitor *monitor = gdk_display_get_monitor_at_surface (
      gtk_widget_get_display (widget), surface);
  GdkRectangle size;
  if (monitor == NULL || gdk_monitor_get_width_mm (monitor) <= 0)
    return 96 / 25.4;
  gdk_monitor_get_geometry (monitor, &size);
  double scale = (double)size.width / gdk_monitor_get_width_mm (monitor);
  return scale > 1.5 && scale < 20 ? scale : 96 / 25.4;
}

void
app_canvas_actual_size (AppCanvas *canvas)
{
  GeoBox area = app_canvas_area (canvas);
  app_view_zoom_to (
      &canvas->view, monitor_px_per_mm (GTK_WIDGET (canvas)),
      geo_point ((area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2));
  app_canvas_view_moved (canvas);
}

void
app_canvas_look_at (AppCanvas *canvas, GeoBox box)
{
  /* The laid pieces are elsewhere. */
  if (app_canvas_get_truing (canvas) != NULL
      || app_canvas_tracing (canvas) != NULL)
    return;
  AppView before = canvas->view;
  app_view_show (&canvas->view, box, fit_area (canvas));
  if (before.scale != canvas->view.scale
      || !geo_same (before.origin, canvas->view.origin))
    app_canvas_view_moved (canvas);
}

double
app_canvas_get_mm_per_px (AppCanvas *canvas)
{
  return 1 / canvas->view.scale;
}

void
app_canvas_set_dark (AppCanvas *canvas, gboolean dark)
{
  if (canvas->dark == dark)
    return;
  canvas->dark = dark;
  g_hash_table_remove_all (canvas->pictures);
  gtk_widget_queue_draw (GTK_WIDGET (canvas));
}

GeoPoint
app_canvas_to_px (AppCanvas *canvas, GeoPoint at)
{
  return app_view_to_px (&canvas->view, at);
}

void
app_canvas_set_show_combs (AppCanvas *canvas, gboolean show)
{
  canvas->combs = show;
  gtk_widget_queue_draw (GTK_WIDGET (canvas));
}

void
app_canvas_set_show_clips (AppCanvas *canvas, gboolean always)
{
  canvas->all_clips = always;
  gtk_widget_queue_draw (GTK_WIDGET (canvas));
}

const SewingFinding *
app_canvas_pin_finding (AppCanvas *canvas)
{
  if (canvas->hovered_pin == 0 || canvas->pins == NULL
      || canvas->hovered_pin > canvas->pins->len)
    return NULL;
  const GPtrArray *findings = app_session_get_findings (canvas->session);
  guint i
      = g_array_index (canvas->pins, AppPin, canvas->hovered_pin - 1).finding;
  return i < findings->len ? g_ptr_array_index (findings, i) : NULL;
}
