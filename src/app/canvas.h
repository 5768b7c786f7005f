/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table: a widget that shows a session's pattern with rulers, pins, the pick, threads of the
 * picked seam and the hang tag, and feeds the current tool. */
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
void app_canvas_zoom (AppCanvas *canvas, double factor,
                      const GeoPoint *about); /* about NULL: the middle */
void app_canvas_fit_all (AppCanvas *canvas);
void app_canvas_fit_pick (AppCanvas *canvas);
void app_canvas_actual_size (AppCanvas *canvas);
void app_canvas_look_at (AppCanvas *canvas, GeoBox box);
double app_canvas_get_mm_per_px (AppCanvas *canvas);
void app_canvas_set_dark (AppCanvas *canvas, gboolean dark);
/* Where a point of the table is shown, in the widget's pixels; for tests and for popovers. */
GeoPoint app_canvas_to_px (AppCanvas *canvas, GeoPoint at);
/* Clip marks always, or only of what is picked. */
void app_canvas_set_show_clips (AppCanvas *canvas, gboolean always);
