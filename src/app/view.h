/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the table is looked at: a scale and the point at the widget's corner.
 *
 * Zooming keeps the point under the pointer where it is. Steps in and the same steps out again, the
 * pointer still, give the same view bit for bit: the view a run of steps began with is kept, and
 * every view of the run is computed from it. Scale is held between 0.01
 * and 400 pixels a millimetre.
 */
#pragma once

#include "geometry/point.h"

typedef struct
{
  double scale;    /* pixels a millimetre */
  GeoPoint origin; /* of the table, mm, at pixel (0, 0) */
  /* The run of zoom steps under way. */
  bool running;
  GeoPoint about_px;
  double level; /* steps from where the run began */
  double scale0;
  GeoPoint origin0;
} AppView;

#define APP_VIEW_STEP 1.15 /* scale by one step */

AppView app_view_start (void); /* 1 px a mm, origin at the corner */
GeoPoint app_view_to_px (const AppView *view, GeoPoint mm);
GeoPoint app_view_to_mm (const AppView *view, GeoPoint px);
void app_view_zoom_steps (AppView *view, double steps, GeoPoint about_px);
void app_view_zoom_to (AppView *view, double scale, GeoPoint about_px);
void app_view_pan (AppView *view, double dx_px, double dy_px);
/* Puts the box in the middle of the area, as large as fits; a box without size, or an empty
 * one, keeps the scale. */
void app_view_fit (AppView *view, GeoBox box, GeoBox area_px);
/* Moves as little as brings the box into the area; fits it when it is too large. */
void app_view_show (AppView *view, GeoBox box, GeoBox area_px);
/* What of the table lies under a box of pixels. */
GeoBox app_view_box_to_mm (const AppView *view, GeoBox px);
GeoBox app_view_box_to_px (const AppView *view, GeoBox mm);
