/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pins.h"

static const double shaft_px = 26, head_px = 7, near_px = 16, grab_px = 14;

GArray *
app_pins_lay (AppSession *session, const AppView *view)
{
  GArray *pins = g_array_new (FALSE, FALSE, sizeof (AppPin));
  const GPtrArray *findings = app_session_get_findings (session);
  for (guint i = 0; findings != NULL && i < findings->len; i++)
    {
      const SewingFinding *finding = g_ptr_array_index (findings, i);
      AppPin pin
          = { .point = app_view_to_px (view, finding->at), .finding = i };
      int beside = 0;
      for (guint k = 0; k < pins->len; k++)
        if (geo_distance (g_array_index (pins, AppPin, k).point, pin.point)
            < near_px)
          beside++;
      /* Up to the right, and each further one at the place a step round. */
      double angle = -G_PI / 3 + beside * 0.7;
      pin.head = geo_along (pin.point, geo_point (cos (angle), sin (angle)),
                            shaft_px);
      g_array_append_val (pins, pin);
    }
  return pins;
}

int
app_pins_hit (const GArray *pins, GeoPoint px)
{
  int best = -1;
  double nearest = grab_px;
  for (guint i = 0; pins != NULL && i < pins->len; i++)
    {
      double d = geo_distance (g_array_index (pins, AppPin, i).head, px);
      if (d < nearest)
        {
          nearest = d;
          best = (int)i;
        }
    }
  return best;
}

GeoBox
app_pin_box (const AppPin *pin)
{
  GeoBox box = geo_box_add (geo_box_empty (), pin->point);
  return geo_box_grow (geo_box_add (box, pin->head), head_px + 6);
}

static void
paint_shaft (cairo_t *cr, const AppPin *pin, const AppPalette *colours)
{
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_move_to (cr, pin->point.x + 2, pin->point.y + 2);
  cairo_line_to (cr, pin->head.x + 3, pin->head.y + 4);
  cairo_set_source_rgba (cr, 0, 0, 0, 0.15);
  cairo_set_line_width (cr, 2.5);
  cairo_stroke (cr);
  cairo_move_to (cr, pin->point.x, pin->point.y);
  cairo_line_to (cr, pin->head.x, pin->head.y);
  app_colour (cr, colours->pin_shaft);
  cairo_set_line_width (cr, 1.8);
  cairo_stroke (cr);
  /* The hole it is stuck through. */
  cairo_arc (cr, pin->point.x, pin->point.y, 1.8, 0, 2 * G_PI);
  cairo_fill (cr);
}

static void
head_path (cairo_t *cr, GeoPoint at, const SewingFinding *finding, double r)
{
  cairo_new_sub_path (cr);
  if (!finding->set_aside && finding->weight == SEWING_LOOK)
    cairo_rectangle (cr, at.x - r * 0.88, at.y - r * 0.88, r * 1.76, r * 1.76);
  else
    cairo_arc (cr, at.x, at.y, r, 0, 2 * G_PI);
}

void
app_paint_pin (cairo_t *cr, const AppPin *pin, const SewingFinding *finding,
               gboolean hovered, const AppPalette *colours)
{
  cairo_save (cr);
  cairo_new_path (cr);
  paint_shaft (cr, pin, colours);
  DrawingColour head = finding->set_aside               ? colours->pin_aside
                       : finding->weight == SEWING_MEND ? colours->pin_mend
                                                        : colours->pin_look;
  double r = hovered ? head_px + 2 : head_px;
  head_path (cr, pin->head, finding, r);
  app_colour (cr, colours->halo);
  cairo_set_line_width (cr, 3);
  cairo_stroke_preserve (cr);
  if (finding->set_aside)
    {
      app_colour (cr, colours->table);
      cairo_fill_preserve (cr);
      app_colour (cr, head);
      cairo_set_line_width (cr, 2.5);
      cairo_stroke (cr);
    }
  else
    {
      app_colour (cr, head);
      cairo_fill (cr);
      /* The glass catches the lamp. */
      cairo_arc (cr, pin->head.x - r * 0.3, pin->head.y - r * 0.35, r * 0.28, 0,
                 2 * G_PI);
      cairo_set_source_rgba (cr, 1, 1, 1, 0.65);
      cairo_fill (cr);
    }
  cairo_restore (cr);
}
