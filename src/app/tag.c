/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hang tag: a card on a string, with a line of words and a figure each. */
#include <pango/pangocairo.h>
#include <string.h>

#include "app/overlays.h"

static const double pad_x = 10, pad_y = 6, column_gap = 14, line_gap = 2;

static PangoLayout *
tag_layout (cairo_t *cr, const char *text, gssize length, gboolean figure)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *font = pango_font_description_new ();
  pango_font_description_set_family (font, "sans");
  pango_font_description_set_absolute_size (font, 13 * PANGO_SCALE);
  if (figure)
    pango_font_description_set_weight (font, PANGO_WEIGHT_SEMIBOLD);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  if (figure)
    {
      PangoAttrList *attributes = pango_attr_list_new ();
      pango_attr_list_insert (attributes,
                              pango_attr_font_features_new ("tnum=1"));
      pango_layout_set_attributes (layout, attributes);
      pango_attr_list_unref (attributes);
    }
  pango_layout_set_text (layout, text, (int)length);
  return layout;
}

/* Words and figures of a line, apart by the first two spaces in it. */
static void
split_line (const char *line, const char *end, const char **words_end,
            const char **figure)
{
  *words_end = end;
  *figure = NULL;
  for (const char *c = line; c + 2 < end; c++)
    if (c[0] == ' ' && c[1] == ' ')
      {
        *words_end = c;
        *figure = c + 2;
        return;
      }
}

typedef struct
{
  double words, figures, height;
  guint lines;
} TagLayout;

/* Measures, and where box is given paints. */
static TagLayout
run_lines (cairo_t *cr, const char *text, const GeoBox *box,
           const AppPalette *colours)
{
  TagLayout out = { 0 };
  double y = box != NULL ? box->y0 + pad_y : 0;
  for (const char *line = text; line != NULL && *line != '\0';)
    {
      const char *newline = strchr (line, '\n');
      const char *end = newline != NULL ? newline : line + strlen (line);
      const char *words_end, *figure;
      int w, h, fw = 0, fh;
      split_line (line, end, &words_end, &figure);
      PangoLayout *words = tag_layout (cr, line, words_end - line, FALSE);
      pango_layout_get_pixel_size (words, &w, &h);
      if (box != NULL)
        {
          app_colour (cr,
                      figure != NULL ? colours->tag_faint : colours->tag_ink);
          cairo_move_to (cr, box->x0 + pad_x, y);
          pango_cairo_show_layout (cr, words);
        }
      g_object_unref (words);
      if (figure != NULL)
        {
          PangoLayout *number = tag_layout (cr, figure, end - figure, TRUE);
          pango_layout_get_pixel_size (number, &fw, &fh);
          if (box != NULL)
            {
              app_colour (cr, colours->tag_ink);
              cairo_move_to (cr, box->x1 - pad_x - fw, y);
              pango_cairo_show_layout (cr, number);
            }
          g_object_unref (number);
        }
      out.words = fmax (out.words, w);
      out.figures = fmax (out.figures, fw);
      out.height += h + (out.lines > 0 ? line_gap : 0);
      out.lines++;
      y += h + line_gap;
      line = newline != NULL ? newline + 1 : NULL;
    }
  return out;
}

AppTagSize
app_tag_measure (cairo_t *cr, const char *text)
{
  TagLayout l = run_lines (cr, text, NULL, NULL);
  double width = l.words + (l.figures > 0 ? column_gap + l.figures : 0);
  return (AppTagSize){ ceil (width + 2 * pad_x), ceil (l.height + 2 * pad_y) };
}

static GeoBox
shift_within (GeoBox box, GeoBox area)
{
  double dx = box.x1 > area.x1 ? area.x1 - box.x1 : 0;
  double dy = box.y1 > area.y1 ? area.y1 - box.y1 : 0;
  if (box.x0 + dx < area.x0)
    dx = area.x0 - box.x0;
  if (box.y0 + dy < area.y0)
    dy = area.y0 - box.y0;
  return (GeoBox){ box.x0 + dx, box.y0 + dy, box.x1 + dx, box.y1 + dy };
}

static double
covering (GeoBox box, GeoPoint beside, const GeoPoint *points, guint n)
{
  double covered = 0;
  GeoBox grown = geo_box_grow (box, 8);
  for (guint i = 0; i < n; i++)
    if (points[i].x >= grown.x0 && points[i].x <= grown.x1
        && points[i].y >= grown.y0 && points[i].y <= grown.y1)
      covered += 1;
  if (beside.x >= grown.x0 && beside.x <= grown.x1 && beside.y >= grown.y0
      && beside.y <= grown.y1)
    covered += 1000;
  return covered;
}

GeoBox
app_tag_place (AppTagSize size, GeoPoint beside, GeoBox area,
               const GeoPoint *keep_clear, guint n_keep_clear,
               const GeoBox *before)
{
  static const double reaches[] = { 22, 48, 84, 130 };
  GeoBox best = { 0 };
  double best_cost = INFINITY;
  for (guint r = 0; r < G_N_ELEMENTS (reaches); r++)
    for (int side = 0; side < 8; side++)
      {
        /* Right below first, then the other corners, then straight beside. */
        static const int sx[] = { 1, -1, 1, -1, 1, -1, 0, 0 };
        static const int sy[] = { 1, 1, -1, -1, 0, 0, 1, -1 };
        double cx = beside.x + sx[side] * (reaches[r] + size.width / 2);
        double cy = beside.y + sy[side] * (reaches[r] + size.height / 2);
        GeoBox box = { cx - size.width / 2, cy - size.height / 2,
                       cx + size.width / 2, cy + size.height / 2 };
        box = shift_within (box, area);
        /* Near the pointer is worth a little covering: the root keeps a
           crowd of points from driving the tag across the table. */
        double cost
            = 40 * sqrt (covering (box, beside, keep_clear, n_keep_clear))
              + reaches[r] * 1.2 + side;
        if (before != NULL)
          cost += 0.02
                  * geo_distance (geo_point (box.x0, box.y0),
                                  geo_point (before->x0, before->y0));
        if (cost < best_cost)
          {
            best_cost = cost;
            best = box;
          }
      }
  return best;
}

static void
card_path (cairo_t *cr, GeoBox b, double r)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, b.x1 - r, b.y0 + r, r, -G_PI / 2, 0);
  cairo_arc (cr, b.x1 - r, b.y1 - r, r, 0, G_PI / 2);
  cairo_arc (cr, b.x0 + r, b.y1 - r, r, G_PI / 2, G_PI);
  cairo_arc (cr, b.x0 + r, b.y0 + r, r, G_PI, 3 * G_PI / 2);
  cairo_close_path (cr);
}

void
app_paint_tag (cairo_t *cr, const char *text, GeoBox box, GeoPoint beside,
               const AppPalette *colours)
{
  cairo_save (cr);
  cairo_new_path (cr);
  GeoPoint hole = { fmin (fmax (beside.x, box.x0), box.x1),
                    fmin (fmax (beside.y, box.y0), box.y1) };
  if (geo_distance (hole, beside) > 12)
    {
      /* The string stops short of what it points at. */
      GeoPoint end = geo_along (beside, geo_unit (geo_sub (hole, beside)), 9);
      app_colour (cr, colours->tag_edge);
      cairo_set_line_width (cr, 1);
      cairo_move_to (cr, hole.x, hole.y);
      cairo_line_to (cr, end.x, end.y);
      cairo_stroke (cr);
    }
  GeoBox shadow = { box.x0 + 1, box.y0 + 2, box.x1 + 1, box.y1 + 2 };
  card_path (cr, shadow, 5);
  cairo_set_source_rgba (cr, 0, 0, 0, 0.18);
  cairo_fill (cr);
  GeoBox card = geo_box_grow (box, -0.5);
  card_path (cr, card, 5);
  app_colour (cr, colours->tag);
  cairo_fill_preserve (cr);
  app_colour (cr, colours->tag_edge);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  run_lines (cr, text, &box, colours);
  cairo_restore (cr);
}
