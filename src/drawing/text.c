/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing/text.h"

#include <pango/pangocairo.h>

/* The size everything is laid out at: large, so that rounding to layout units
 * doesn't show at any scale. */
#define LAID_OUT 100.0

static PangoLayout *
layout_new (cairo_t *cr, const DrawingTextLook *look)
{
  /* Not at the scale of the moment: close up that would ask for a font of
   * hundreds of thousands of pixels, only to be measured. */
  cairo_save (cr);
  cairo_identity_matrix (cr);
  PangoLayout *layout = pango_cairo_create_layout (cr);
  cairo_restore (cr);
  PangoContext *context = pango_layout_get_context (layout);
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (context, options);
  pango_cairo_context_set_resolution (context, 72);
  pango_context_set_round_glyph_positions (context, FALSE);
  cairo_font_options_destroy (options);

  PangoFontDescription *font = pango_font_description_new ();
  pango_font_description_set_family (font,
                                     look->font ? look->font : DRAWING_FONT);
  if (look->flags & DRAWING_TEXT_BOLD)
    pango_font_description_set_weight (font, PANGO_WEIGHT_BOLD);
  pango_font_description_set_absolute_size (font, LAID_OUT * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);

  PangoAttrList *attributes = pango_attr_list_new ();
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  return layout;
}

/* Height of a capital in layout units. Fonts differ little in it beside what
 * a person sees, so it is measured once, on the first font asked for. */
static double
capital_of (PangoLayout *layout)
{
  static gsize known = 0;
  if (g_once_init_enter (&known))
    {
      PangoRectangle ink;
      pango_layout_set_text (layout, "H", -1);
      pango_layout_get_extents (layout, &ink, NULL);
      g_once_init_leave (&known, (gsize)MAX (ink.height, PANGO_SCALE));
    }
  return (double)known / PANGO_SCALE;
}

/* Gives the layout its text and returns the scale that brings it to size. */
static double
layout_set (PangoLayout *layout, const char *text, const DrawingTextLook *look,
            gboolean wrap)
{
  double scale = look->capital / capital_of (layout);
  if (look->most > 0 && scale > 0)
    {
      pango_layout_set_width (
          layout, (int)CLAMP (look->most / scale * PANGO_SCALE, 1, 1e9));
      if (wrap)
        pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
      else
        pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  if (look->flags & DRAWING_TEXT_CENTRE)
    pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  else if (look->flags & DRAWING_TEXT_RIGHT)
    pango_layout_set_alignment (layout, PANGO_ALIGN_RIGHT);
  if (!wrap)
    pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_text (layout, text, -1);
  return scale;
}

void
drawing_text_size (cairo_t *cr, const char *text, const DrawingTextLook *look,
                   double *width, double *height)
{
  g_return_if_fail (cr != NULL && text != NULL && look != NULL);
  PangoLayout *layout = layout_new (cr, look);
  double scale = layout_set (layout, text, look, TRUE);
  PangoRectangle box;
  pango_layout_get_extents (layout, NULL, &box);
  double first = pango_layout_get_baseline (layout) * 1.0 / PANGO_SCALE;
  PangoLayoutIter *iter = pango_layout_get_iter (layout);
  while (pango_layout_iter_next_line (iter))
    ;
  double last = pango_layout_iter_get_baseline (iter) * 1.0 / PANGO_SCALE;
  pango_layout_iter_free (iter);
  if (width)
    *width = box.width * scale / PANGO_SCALE;
  if (height)
    *height = (last - first) * scale + look->capital;
  g_object_unref (layout);
}

void
drawing_text_line (cairo_t *cr, const char *text, GeoPoint at, double angle,
                   const DrawingTextLook *look)
{
  g_return_if_fail (cr != NULL && text != NULL && look != NULL);
  if (!(look->capital > 0) || *text == '\0')
    return;
  PangoLayout *layout = layout_new (cr, look);
  double scale = layout_set (layout, text, look, FALSE);
  PangoRectangle box;
  pango_layout_get_extents (layout, NULL, &box);
  double width = (double)box.width / PANGO_SCALE;
  double base = (double)pango_layout_get_baseline (layout) / PANGO_SCALE;
  double left = look->flags & DRAWING_TEXT_CENTRE  ? width / 2
                : look->flags & DRAWING_TEXT_RIGHT ? width
                                                   : 0;
  cairo_save (cr);
  cairo_translate (cr, at.x, at.y);
  cairo_rotate (cr, angle);
  cairo_scale (cr, scale, scale);
  cairo_move_to (cr, -left - (double)box.x / PANGO_SCALE,
                 look->capital / scale / 2 - base);
  pango_cairo_show_layout (cr, layout);
  cairo_new_path (cr);
  cairo_restore (cr);
  g_object_unref (layout);
}

double
drawing_text_block (cairo_t *cr, const char *text, double x, double y,
                    const DrawingTextLook *look)
{
  g_return_val_if_fail (cr != NULL && text != NULL && look != NULL, 0);
  double height = 0;
  drawing_text_size (cr, text, look, NULL, &height);
  PangoLayout *layout = layout_new (cr, look);
  double scale = layout_set (layout, text, look, TRUE);
  PangoRectangle box;
  pango_layout_get_extents (layout, NULL, &box);
  double base = (double)pango_layout_get_baseline (layout) / PANGO_SCALE;
  double width = look->most > 0 && scale > 0 ? look->most / scale
                                             : (double)box.width / PANGO_SCALE;
  double left = look->flags & DRAWING_TEXT_CENTRE  ? width / 2
                : look->flags & DRAWING_TEXT_RIGHT ? width
                                                   : 0;
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, scale, scale);
  cairo_move_to (cr, -left, look->capital / scale - base);
  pango_cairo_show_layout (cr, layout);
  cairo_new_path (cr);
  cairo_restore (cr);
  g_object_unref (layout);
  return height;
}

double
drawing_text_upright (cairo_t *cr, double angle)
{
  /* Just past the upright on one side, so that a line nearly along the grain
   * doesn't turn over with every small change of it. */
  const double slack = 5 * G_PI / 180;
  double x = cos (angle), y = sin (angle);
  cairo_user_to_device_distance (cr, &x, &y);
  double seen = atan2 (y, x);
  gboolean over = seen < -G_PI / 2 - slack || seen >= G_PI / 2 - slack;
  return remainder (over ? angle + G_PI : angle, 2 * G_PI);
}
