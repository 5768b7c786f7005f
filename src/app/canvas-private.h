/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of AppCanvas, for the canvas-*.c files only. */
#pragma once

#include "app/canvas.h"
#include "app/pins.h"
#include "app/tool-tag.h"
#include "app/view.h"
#include "app/walk.h"

typedef struct _AppCanvasTrace AppCanvasTrace;
typedef struct _AppCanvasPictures AppCanvasPictures;
typedef struct _AppTracing AppTracing;

struct _AppCanvas
{
  GtkWidget parent_instance;

  AppSession *session;
  AppTool *tool;
  gboolean held; /* laid out since a verb was begun */
  double
      top_px; /* the table's upper edge in the window, when it was last laid out */
  AppView view;
  gboolean placed; /* the view has been fitted once */
  gboolean
      fitted; /* and nothing has moved it since: it is fitted again with the table's size */
  gboolean dark;
  gboolean all_clips;
  gboolean under_bar; /* something stands over the upper part */
  gboolean combs;
  char *hint; /* last told */

  AppView before_truing;
  gboolean before_fitted;

  GeoPoint pointer; /* px */
  gboolean pointer_in;
  gboolean space; /* held */
  gboolean space_used;
  gboolean by_keys;     /* the last she did here was a key */
  gboolean moving;      /* the view, with the button down */
  GeoPoint moving_from; /* last point of it */
  gboolean pressed;     /* the tool has the button */
  GeoPoint press_px;
  guint press_mods;
  guint32 last_press_time;
  GeoPoint last_press_px;
  double pinch_scale; /* when the pinch began */
  GeoPoint pinch_px;

  GArray *pins;
  guint hovered_pin; /* index + 1, 0 none */

  gboolean walking; /* a seam is; the table shows it */
  gboolean walk_drag;
  gboolean
      walk_fitted; /* the view is the walk's still, as laid out at its beginning */
  AppView before_walk;
  gboolean fitted_before_walk;
  guint walk_tick;
  gint64 walk_time; /* of the last frame, us */
  /* Kept from frame to frame; see canvas-paint.c. */
  GHashTable *pictures; /* PatternPiece -> Picture */
  GskRenderNode *rulers, *lines;
  guint rulers_key, lines_key;
  AppTagStart nudged; /* lengths before a run of nudges */
  char *nudge_tag;
  guint nudge_timer;
  AppCanvasTrace *trace; /* canvas-trace.c; NULL until a picture was traced */
  AppCanvasPictures *under; /* canvas-pictures.c; NULL until one was painted */
  guint generation;         /* counts patterns shown */
  gboolean tag_shown;
  GeoBox tag_box;
};

void app_canvas_snapshot (GtkWidget *widget, GtkSnapshot *snapshot);
/* A context for a layer that stays inside box, pixels; NULL where none of it is seen. */
cairo_t *app_canvas_layer (AppCanvas *canvas, GtkSnapshot *snapshot,
                           GeoBox box);
void app_canvas_paint_tag (AppCanvas *canvas, GtkSnapshot *snapshot);
void app_canvas_init_pictures (AppCanvas *canvas);
void app_canvas_init_input (AppCanvas *canvas);
void app_canvas_init_keys (AppCanvas *canvas);
/* canvas-walk.c: NULL while no seam is walked. */
AppWalk *app_canvas_walk (AppCanvas *canvas);
void app_canvas_walk_changed (AppCanvas *canvas);
/* The table has another size: the seam is fitted again, unless she moved the view since. */
void app_canvas_walk_resized (AppCanvas *canvas);
/* The pin goes where the pointer is. */
void app_canvas_walk_drag (AppCanvas *canvas);
/* TRUE: a key of the walk's. */
gboolean app_canvas_walk_key (AppCanvas *canvas, guint key, guint mods);
void app_canvas_paint_walk (AppCanvas *canvas, GtkSnapshot *snapshot);
/* canvas-pictures.c */
void app_canvas_paint_pictures (AppCanvas *canvas, GtkSnapshot *snapshot);
void app_canvas_pictures_free (AppCanvas *canvas);
/* canvas-trace.c: NULL while no picture is traced. */
AppTracing *app_canvas_tracing (AppCanvas *canvas);
void app_canvas_trace_changed (AppCanvas *canvas);
void app_canvas_trace_free (AppCanvas *canvas);
/* FALSE while no picture is traced. */
gboolean app_canvas_trace_fit (AppCanvas *canvas);
void app_canvas_trace_hover (AppCanvas *canvas);
void app_canvas_trace_press (AppCanvas *canvas, gboolean touch);
void app_canvas_trace_drag (AppCanvas *canvas);
void app_canvas_trace_release (AppCanvas *canvas, guint mods);
gboolean app_canvas_trace_key (AppCanvas *canvas, guint key, guint mods);
void app_canvas_paint_trace (AppCanvas *canvas, GtkSnapshot *snapshot);
/* AppMods of an event's state. */
guint app_canvas_mods (GdkModifierType state);
void app_canvas_move_view (AppCanvas *canvas, double dx_px, double dy_px);
/* Pixels that are table, not ruler. */
GeoBox app_canvas_area (AppCanvas *canvas);
/* Of these, those over which nothing is laid: the hint line and the zoom buttons stand at the
 * foot of the table. */
GeoBox app_canvas_clear_area (AppCanvas *canvas);
/* After anything the tool did: cursor, hint, a new frame. */
void app_canvas_tool_moved (AppCanvas *canvas);
/* To another tool where a line is trued; what was done to it is dropped. */
void app_canvas_leave_truing (AppCanvas *canvas);
/* After the view changed. */
void app_canvas_view_moved (AppCanvas *canvas);
/* The pointer feeds the tool again where it is, after the view moved under it. */
void app_canvas_hover_again (AppCanvas *canvas, guint mods);
/* Takes down what nudges told. */
void app_canvas_end_nudges (AppCanvas *canvas);
const SewingFinding *app_canvas_pin_finding (AppCanvas *canvas);
