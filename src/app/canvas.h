/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table: a widget that shows a session's pattern with rulers, pins, the pick, threads of the
 * picked seam and the hang tag, and feeds the current tool.
 *
 * With the focus on it: arrows nudge what is picked by the unit's natural step (Shift ten of them,
 * Alt a tenth) or move the view when nothing is; Tab and Shift+Tab go from piece to piece, edge to edge,
 * node to node, Enter goes in and Escape out; Delete takes away; r d m b t change the tool; s picks the seam of the picked edge, j lays its pieces together to true them; f fits
 * what is picked, Home everything; Space held with a drag, or the middle button, moves the
 * view. Ctrl with the wheel and pinching zoom.
 *
 * Signals: "context-menu" (double x, y in the widget's pixels): what lies there has been picked and a
 * menu is wanted; emitted for the secondary button, the Menu key and Shift+F10; "tool-moved": the
 * tool may show something else now. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"
#include "app/tool.h"

#define APP_TYPE_CANVAS (app_canvas_get_type ())
G_DECLARE_FINAL_TYPE (AppCanvas, app_canvas, APP, CANVAS, GtkWidget)

GtkWidget *app_canvas_new (AppSession *session);
void app_canvas_set_tool (
    AppCanvas *canvas,
    AppToolKind kind); /* notify through session "tool-changed" */
AppToolKind app_canvas_get_tool (AppCanvas *canvas);
/* Lays the pieces together at the seam's end (0, 1) to true the line
 * across it; see app/tool-true.h. Nothing else is shown until that is done or left, and the view comes
 * back then. FALSE, and told as a problem, where no line runs on there. */
gboolean app_canvas_true (AppCanvas *canvas, guint seam, int end);
/* The same for what is picked. */
gboolean app_canvas_true_picked (AppCanvas *canvas);
/* The tool while that is so, else NULL. */
AppTool *app_canvas_get_truing (AppCanvas *canvas);
/* Takes the edge up to make it fair; see app/tool-fair.h. */
gboolean app_canvas_fair (AppCanvas *canvas, guint piece, guint edge);
/* The picked edge. */
gboolean app_canvas_fair_picked (AppCanvas *canvas);
AppTool *app_canvas_get_fairing (AppCanvas *canvas);
/* Curvature as teeth on what is picked. */
void app_canvas_set_show_combs (AppCanvas *canvas, gboolean show);
/* The tool was told something by others than the table. */
void app_canvas_tool_told (AppCanvas *canvas);
void app_canvas_zoom (AppCanvas *canvas, double factor,
                      const GeoPoint *about); /* about NULL: the middle */
void app_canvas_fit_all (AppCanvas *canvas);
void app_canvas_fit_pick (AppCanvas *canvas);
void app_canvas_actual_size (AppCanvas *canvas);
void app_canvas_look_at (AppCanvas *canvas, GeoBox box);
/* A bar stands over the upper part: what is looked at comes to lie below it. */
void app_canvas_set_under_bar (AppCanvas *canvas, gboolean under_bar);
double app_canvas_get_mm_per_px (AppCanvas *canvas);
void app_canvas_set_dark (AppCanvas *canvas, gboolean dark);
/* Where a point of the table is shown, in the widget's pixels; for tests and for popovers. */
GeoPoint app_canvas_to_px (AppCanvas *canvas, GeoPoint at);
/* Clip marks always, or only of what is picked. */
void app_canvas_set_show_clips (AppCanvas *canvas, gboolean always);
