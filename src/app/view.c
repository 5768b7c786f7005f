/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view.h"

static const double least_scale = 0.01, most_scale = 400;

static double
hold (double scale)
{
  return fmin (fmax (scale, least_scale), most_scale);
}

AppView
app_view_start (void)
{
  return (AppView){ .scale = 1 };
}

GeoPoint
app_view_to_px (const AppView *view, GeoPoint mm)
{
  return geo_scale (geo_sub (mm, view->origin), view->scale);
}

GeoPoint
app_view_to_mm (const AppView *view, GeoPoint px)
{
  return geo_along (view->origin, px, 1 / view->scale);
}

/* The scale at a level of the run and the origin that keeps the point that was under the
 * pointer at the run's start there. Both come from the run's start alone, so that a level met
 * again gives the same bits. */
static void
place (AppView *view)
{
  if (view->level == 0)
    {
      view->scale = view->scale0;
      view->origin = view->origin0;
      return;
    }
  view->scale = view->scale0 * pow (APP_VIEW_STEP, view->level);
  GeoPoint fixed = geo_along (view->origin0, view->about_px, 1 / view->scale0);
  view->origin = geo_along (fixed, view->about_px, -1 / view->scale);
}

void
app_view_zoom_steps (AppView *view, double steps, GeoPoint about_px)
{
  if (!view->running || !geo_same (view->about_px, about_px))
    {
      view->running = true;
      view->about_px = about_px;
      view->level = 0;
      view->scale0 = view->scale;
      view->origin0 = view->origin;
    }
  double lowest = log (least_scale / view->scale0) / log (APP_VIEW_STEP);
  double highest = log (most_scale / view->scale0) / log (APP_VIEW_STEP);
  double level = view->level + steps;
  if (level >= lowest && level <= highest)
    view->level = level;
  place (view);
}

void
app_view_zoom_to (AppView *view, double scale, GeoPoint about_px)
{
  GeoPoint fixed = app_view_to_mm (view, about_px);
  view->running = false;
  view->scale = hold (scale);
  view->origin = geo_along (fixed, about_px, -1 / view->scale);
}

void
app_view_pan (AppView *view, double dx_px, double dy_px)
{
  view->running = false;
  view->origin
      = geo_along (view->origin, geo_point (dx_px, dy_px), -1 / view->scale);
}

static GeoPoint
middle_of (GeoBox b)
{
  return geo_point ((b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2);
}

void
app_view_fit (AppView *view, GeoBox box, GeoBox area_px)
{
  if (geo_box_is_empty (box) || geo_box_is_empty (area_px))
    return;
  double w = box.x1 - box.x0, h = box.y1 - box.y0;
  double scale = view->scale;
  if (w > 0 || h > 0)
    scale = fmin (w > 0 ? (area_px.x1 - area_px.x0) / w : INFINITY,
                  h > 0 ? (area_px.y1 - area_px.y0) / h : INFINITY);
  view->running = false;
  view->scale = hold (scale);
  view->origin
      = geo_along (middle_of (box), middle_of (area_px), -1 / view->scale);
}

/* How far [a0, a1] must move to lie within [b0, b1]. */
static double
shift_into (double a0, double a1, double b0, double b1)
{
  if (a0 < b0)
    return b0 - a0;
  return a1 > b1 ? b1 - a1 : 0;
}

void
app_view_show (AppView *view, GeoBox box, GeoBox area_px)
{
  if (geo_box_is_empty (box) || geo_box_is_empty (area_px))
    return;
  GeoBox px = app_view_box_to_px (view, box);
  if (px.x1 - px.x0 > area_px.x1 - area_px.x0
      || px.y1 - px.y0 > area_px.y1 - area_px.y0)
    {
      app_view_fit (view, box, area_px);
      return;
    }
  double dx = shift_into (px.x0, px.x1, area_px.x0, area_px.x1);
  double dy = shift_into (px.y0, px.y1, area_px.y0, area_px.y1);
  if (dx != 0 || dy != 0)
    app_view_pan (view, dx, dy);
}

GeoBox
app_view_box_to_mm (const AppView *view, GeoBox px)
{
  GeoPoint a = app_view_to_mm (view, geo_point (px.x0, px.y0));
  GeoPoint b = app_view_to_mm (view, geo_point (px.x1, px.y1));
  return (GeoBox){ a.x, a.y, b.x, b.y };
}

GeoBox
app_view_box_to_px (const AppView *view, GeoBox mm)
{
  GeoPoint a = app_view_to_px (view, geo_point (mm.x0, mm.y0));
  GeoPoint b = app_view_to_px (view, geo_point (mm.x1, mm.y1));
  return (GeoBox){ a.x, a.y, b.x, b.y };
}
