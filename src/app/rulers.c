/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/rulers.h"

#include <pango/pangocairo.h>

static const double least_number_px = 44, least_mark_px = 4;

/* Metric: a number every 1, 2, 5, 10, ... ; the parts are what a tape has. */
static AppRulerScale
metric_scale (double unit_mm, double px_per_mm)
{
  static const double steps[]
      = { 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000 };
  static const guint parts[] = { 10, 5, 2, 1 };
  AppRulerScale scale = { 5000 * unit_mm, 1, 5000 };
  for (guint i = G_N_ELEMENTS (steps); i-- > 0;)
    if (steps[i] * unit_mm * px_per_mm >= least_number_px)
      {
        scale.step_mm = steps[i] * unit_mm;
        scale.figure = steps[i];
      }
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    if (scale.step_mm * px_per_mm / parts[i] >= least_mark_px)
      {
        scale.parts = parts[i];
        break;
      }
  return scale;
}

/* Inches: numbers at 1, 2, 6, 12 ... inches; parts by halves to sixteenths. */
static AppRulerScale
inch_scale (double px_per_mm)
{
  static const double steps[] = { 0.25, 0.5, 1, 2, 6, 12, 36, 72, 180 };
  AppRulerScale scale = { 360 * 25.4, 1, 360 };
  for (guint i = G_N_ELEMENTS (steps); i-- > 0;)
    if (steps[i] * 25.4 * px_per_mm >= least_number_px)
      {
        scale.step_mm = steps[i] * 25.4;
        scale.figure = steps[i];
      }
  guint most
      = scale.figure <= 2 ? (guint)(16 * scale.figure) : (guint)scale.figure;
  scale.parts = 1;
  for (guint n = most; n > 1; n /= 2)
    if (scale.step_mm * px_per_mm / n >= least_mark_px)
      {
        scale.parts = n;
        break;
      }
    else if (n % 2 != 0)
      break;
  return scale;
}

AppRulerScale
app_ruler_scale (PatternUnit unit, double px_per_mm)
{
  if (unit == PATTERN_INCH)
    return inch_scale (px_per_mm);
  return metric_scale (unit == PATTERN_MM ? 1 : 10, px_per_mm);
}

/* Longer marks at the halves and quarters. 0 .. 1 of the ruler's depth. */
static double
mark_depth (const AppRulerScale *scale, long index)
{
  long n = (long)scale->parts;
  long part = ((index % n) + n) % n;
  if (part == 0)
    return 1;
  if (part * 2 % n == 0)
    return 0.5;
  return n % 4 == 0 && part * 4 % n == 0 ? 0.38 : 0.25;
}

static void
figure_text (char *text, gsize size, double value)
{
  static const char *const quarters[] = { "", "¼", "½", "¾" };
  const char *sign = value < 0 ? "−" : "";
  double whole = floor (fabs (value));
  int quarter = (int)round ((fabs (value) - whole) * 4);
  gboolean fraction = fabs (fabs (value) - whole - quarter / 4.0) < 1e-9
                      && quarter > 0 && quarter < 4;
  if (fraction && whole == 0)
    g_snprintf (text, size, "%s%s", sign, quarters[quarter]);
  else if (fraction)
    g_snprintf (text, size, "%s%g%s", sign, whole, quarters[quarter]);
  else
    g_snprintf (text, size, "%s%g", sign, fabs (value));
}

static void
paint_figure (cairo_t *cr, PangoLayout *layout, double x, double y,
              double value, gboolean upright)
{
  char text[32];
  figure_text (text, sizeof text, value);
  pango_layout_set_text (layout, text, -1);
  cairo_save (cr);
  cairo_move_to (cr, x, y);
  if (upright)
    cairo_rotate (cr, -G_PI / 2);
  pango_cairo_show_layout (cr, layout);
  cairo_restore (cr);
}

static PangoLayout *
ruler_layout (cairo_t *cr)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *font = pango_font_description_new ();
  pango_font_description_set_family (font, "sans");
  pango_font_description_set_absolute_size (font, 10 * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  return layout;
}

static void
paint_ruler (cairo_t *cr, PangoLayout *layout, double from_mm, double px_per_mm,
             double length, const AppRulerScale *scale, gboolean upright)
{
  double mark_mm = scale->step_mm / scale->parts;
  long first = (long)floor ((from_mm + APP_RULER_PX / px_per_mm) / mark_mm);
  long last = (long)ceil ((from_mm + length / px_per_mm) / mark_mm);
  for (long i = first; i <= last; i++)
    {
      double px = ((double)i * mark_mm - from_mm) * px_per_mm;
      if (px < APP_RULER_PX)
        continue;
      double at = floor (px) + 0.5;
      double depth = mark_depth (scale, i) * (APP_RULER_PX - 2);
      cairo_move_to (cr, upright ? APP_RULER_PX : at,
                     upright ? at : APP_RULER_PX);
      cairo_rel_line_to (cr, upright ? -depth : 0, upright ? 0 : -depth);
    }
  cairo_stroke (cr);
  for (long i = first; i <= last; i++)
    if (i % (long)scale->parts == 0)
      {
        double px = ((double)i * mark_mm - from_mm) * px_per_mm;
        double value = (double)(i / (long)scale->parts) * scale->figure;
        if (px >= APP_RULER_PX)
          paint_figure (cr, layout, upright ? 2 : px + 3, upright ? px - 3 : 2,
                        value, upright);
      }
}

void
app_paint_rulers (cairo_t *cr, const AppView *view, double width, double height,
                  PatternUnit unit, const AppPalette *colours)
{
  AppRulerScale scale = app_ruler_scale (unit, view->scale);
  PangoLayout *layout = ruler_layout (cr);
  cairo_save (cr);
  app_colour (cr, colours->ruler);
  cairo_rectangle (cr, 0, 0, width, APP_RULER_PX);
  cairo_rectangle (cr, 0, 0, APP_RULER_PX, height);
  cairo_fill (cr);
  cairo_set_line_width (cr, 1);
  app_colour (cr, colours->ruler_ink);
  paint_ruler (cr, layout, view->origin.x, view->scale, width, &scale, FALSE);
  paint_ruler (cr, layout, view->origin.y, view->scale, height, &scale, TRUE);
  /* The corner where they meet tells the unit. */
  app_colour (cr, colours->ruler);
  cairo_rectangle (cr, 0, 0, APP_RULER_PX, APP_RULER_PX);
  cairo_fill (cr);
  app_colour (cr, colours->ruler_ink);
  pango_layout_set_text (layout, pattern_unit_word (unit), -1);
  cairo_move_to (cr, 3, 5);
  pango_cairo_show_layout (cr, layout);
  app_colour (cr, colours->ruler_line);
  cairo_set_line_width (cr, 1);
  cairo_move_to (cr, 0, APP_RULER_PX + 0.5);
  cairo_line_to (cr, width, APP_RULER_PX + 0.5);
  cairo_move_to (cr, APP_RULER_PX + 0.5, 0);
  cairo_line_to (cr, APP_RULER_PX + 0.5, height);
  cairo_stroke (cr);
  cairo_restore (cr);
  g_object_unref (layout);
}

/* The first line right of, or below, the view's border. */
static double
first_line (double origin, double step_mm, double scale)
{
  double over = fmod (origin, step_mm);
  return (over > 0 ? step_mm - over : -over) * scale;
}

guint
app_grid (const AppView *view, double width, double height, PatternUnit unit,
          AppGrid grids[2])
{
  const double steps[2] = { unit == PATTERN_INCH ? 25.4 : 10,
                            unit == PATTERN_INCH ? 304.8 : 100 };
  double most = fmin (width, height) / 2;
  guint n = 0;
  for (int i = 0; i < 2; i++)
    {
      double px = steps[i] * view->scale;
      if (px < 14 || px > most)
        continue;
      grids[n++]
          = (AppGrid){ px, first_line (view->origin.x, steps[i], view->scale),
                       first_line (view->origin.y, steps[i], view->scale),
                       i == 1 };
    }
  return n;
}
