/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first sheet: the test squares, how to put the sheets together, a map of them
 * and a list of the pieces. */
#include <glib/gi18n.h>

#include "drawing/paint.h"
#include "drawing/text.h"
#include "file/sheets-private.h"

#define BODY 2.3  /* capitals of reading text */
#define LIST 1.9  /* of the list and the cautions */
#define SMALL 1.8 /* the least: 7 points */

static double
block (cairo_t *cr, const char *words, double x, double y, double width,
       double capital, gboolean bold)
{
  DrawingTextLook look
      = { NULL, capital, width, bold ? DRAWING_TEXT_BOLD : DRAWING_TEXT_LEFT };
  return drawing_text_block (cr, words, x, y, &look);
}

static double
paint_title (FileSheets *s, cairo_t *cr, double width)
{
  DrawingTextLook look = { NULL, 5, width, DRAWING_TEXT_BOLD };
  const char *name = *s->pattern->name ? s->pattern->name : _ ("Pattern");
  drawing_text_line (cr, name, geo_point (0, 2.5), 0, &look);
  g_autofree char *sheets = g_strdup_printf (
      ngettext ("%u sheet of %s to put together, %u across and %u down",
                "%u sheets of %s to put together, %u across and %u down",
                s->pages->len),
      s->pages->len, s->options.paper.name, s->columns, s->rows);
  look.flags = DRAWING_TEXT_LEFT;
  look.capital = BODY;
  drawing_text_line (cr, sheets, geo_point (0, 9.5), 0, &look);
  return 14;
}

/* --- the map ----------------------------------------------------------------- */

static void
paint_map_tile (FileSheets *s, cairo_t *cr, guint column, guint row, double k)
{
  GeoBox t = file_sheet_tile (s, column, row);
  gboolean used = file_sheet_is_used (s, (int)column, (int)row);
  /* Each tile as far as it is seen when the sheets lie over each other. */
  double x1 = column + 1 < s->columns ? t.x0 + s->step_x : t.x1;
  double y1 = row + 1 < s->rows ? t.y0 + s->step_y : t.y1;
  cairo_rectangle (cr, t.x0 * k, t.y0 * k, (x1 - t.x0) * k, (y1 - t.y0) * k);
  if (!used)
    {
      cairo_set_source_rgb (cr, 0.93, 0.93, 0.93);
      cairo_fill_preserve (cr);
    }
  cairo_set_source_rgb (cr, 0.45, 0.45, 0.45);
  cairo_set_line_width (cr, 0.18);
  cairo_stroke (cr);
  if (!used)
    return;
  g_autofree char *name = file_sheet_tile_name (column, row);
  double capital = CLAMP (s->step_y * k * 0.14, SMALL, 3);
  DrawingTextLook look = { NULL, capital, 0, DRAWING_TEXT_BOLD };
  cairo_set_source_rgb (cr, 0.55, 0.55, 0.55);
  drawing_text_line (
      cr, name, geo_point (t.x0 * k + capital * 0.6, t.y0 * k + capital * 1.1),
      0, &look);
}

/* A piece with lines that stay as thin as the map's others. */
static void
paint_map_piece (FileSheets *s, cairo_t *cr, const SheetItem *item, double k)
{
  DrawingStyle style = drawing_style_paper ();
  cairo_matrix_t to_strip;
  style.line = 0.25 / k;
  style.dash = 1.2 / k;
  style.text = 2.6 / k;
  style.least = SMALL / k;
  style.folds = style.edge_names = style.clips = style.notches = style.inner
      = FALSE;
  style.stitch_line = FALSE;
  cairo_matrix_init (&to_strip, item->motion.c, item->motion.s, -item->motion.s,
                     item->motion.c, item->motion.dx, item->motion.dy);
  cairo_save (cr);
  cairo_scale (cr, k, k);
  cairo_transform (cr, &to_strip);
  drawing_paint_piece (cr, s->facts, s->pattern, item->piece, &style);
  cairo_restore (cr);
}

/* Returns the map's height. */
static double
paint_map (FileSheets *s, cairo_t *cr, double x, double y, double width,
           double height)
{
  double w = (s->columns - 1) * s->step_x + s->frame_w;
  double h = (s->rows - 1) * s->step_y + s->frame_h;
  double k = fmin (width / w, height / h);
  cairo_save (cr);
  cairo_translate (cr, x, y);
  for (guint r = 0; r < s->rows; r++)
    for (guint c = 0; c < s->columns; c++)
      paint_map_tile (s, cr, c, r, k);
  for (guint i = 0; i < s->items->len; i++)
    paint_map_piece (s, cr, &g_array_index (s->items, SheetItem, i), k);
  cairo_restore (cr);
  return h * k;
}

/* --- words --------------------------------------------------------------------- */

static void
paint_list (FileSheets *s, cairo_t *cr, double x, double y, double width,
            double height)
{
  double end = y + height;
  y += block (cr, _ ("Pieces"), x, y, width, BODY, TRUE) + 2;
  for (guint i = 0; i < s->items->len; i++)
    {
      const PatternPiece *piece = g_array_index (s->items, SheetItem, i).piece;
      g_autofree char *cut = drawing_cut_words (s->pattern, piece);
      g_auto (GStrv) cuts = g_strsplit (cut, "\n", -1);
      g_autofree char *joined = g_strjoinv ("; ", cuts);
      g_autofree char *line = g_strdup_printf (
          "%s: %s", piece->name, *cut ? joined : _ ("no cut count yet"));
      DrawingTextLook look = { NULL, LIST, width, DRAWING_TEXT_LEFT };
      double h;
      drawing_text_size (cr, line, &look, NULL, &h);
      if (y + h + 4 > end && i + 1 < s->items->len)
        {
          g_autofree char *rest = g_strdup_printf (
              ngettext ("and %u more, see the map", "and %u more, see the map",
                        s->items->len - i),
              s->items->len - i);
          block (cr, rest, x, y, width, LIST, FALSE);
          return;
        }
      y += block (cr, line, x, y, width, LIST, FALSE) + 1.8;
    }
}

static const char *
proof_words (void)
{
  return _ ("Both ways this square must measure 100 mm.\n\n"
            "Measure the squares before you cut.\n\n"
            "Print at 100 %, also called “actual size”, never “fit to page” "
            "or “shrink”. If a square is off, throw the print away, look for "
            "that setting, and print this sheet alone again first.");
}

static const char *
joining_words (void)
{
  return _ ("Both ways this square must measure 4 inches.\n\n"
            "Putting the sheets together\n"
            "1. Trim each sheet on the solid lines at its left and top.\n"
            "2. Lay it over its neighbour, to the dashed line, so that the "
            "halves of each diamond meet.\n"
            "3. Tape. Then cut the pieces out on the solid outer line; sew on "
            "the dashed one.");
}

static const char *
caution_words (void)
{
  return _ ("Lay each piece with its arrow along the grain of the cloth. "
            "Strokes across the allowance are notches to match; short strokes "
            "from the cut edge are places to clip after sewing, wedges are to "
            "be cut out. Places to clip are an estimate from curve and cloth: "
            "try them on a scrap.\n"
            "A rotary cutter is a rolling razor: close or lock its blade "
            "every time you put it down, keep your fingers back from the "
            "ruler's edge, wear shoes, and keep it out of children's reach. "
            "An iron stands on its heel and is switched off when you leave. "
            "Keep loose cloth from open flames; no cords at a child's neck; no "
            "cape on a bicycle or near moving machines. Local rules, safety "
            "standards and the makers' instructions come before anything "
            "printed here.");
}

/* --- what the lines mean ------------------------------------------------------ */

/* Each sample is 14 mm wide about its middle. */
static void
paint_sample (cairo_t *cr, int which, double x, double y)
{
  static const double dashes[3][4] = { { 4, 2.2 }, { 9.6, 2, 1, 2 } };
  DrawingStyle style = drawing_style_paper ();
  PatternPiece grain = { .has_grain = TRUE,
                         .grain_from = { x - 7, y },
                         .grain_to = { x + 7, y } };
  cairo_save (cr);
  cairo_set_line_width (cr, which == 0 ? 0.5 : 0.4);
  if (which == 1 || which == 2)
    cairo_set_dash (cr, dashes[which - 1], which == 1 ? 2 : 4, 0);
  if (which == 3)
    {
      style.text = 3;
      drawing_paint_grain (cr, &grain, &style);
      cairo_restore (cr);
      return;
    }
  cairo_move_to (cr, x - 7, y - (which > 3 ? 2.5 : 0));
  cairo_line_to (cr, x + 7, y - (which > 3 ? 2.5 : 0));
  cairo_stroke (cr);
  for (int i = -1; which == 4 && i <= 1; i += 2)
    {
      cairo_move_to (cr, x + i * 1.5, y - 2.5);
      cairo_line_to (cr, x + i * 1.5, y + 2.5);
    }
  if (which == 5)
    {
      cairo_move_to (cr, x - 3, y - 2.5);
      cairo_line_to (cr, x - 3, y + 1);
    }
  if (which == 6)
    {
      cairo_move_to (cr, x - 2, y - 2.5);
      cairo_line_to (cr, x, y + 1);
      cairo_line_to (cr, x + 2, y - 2.5);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
paint_legend (cairo_t *cr, double y, double width)
{
  const char *const words[]
      = { _ ("cut"),   _ ("sew"),  _ ("fold, other lines"), _ ("grain"),
          _ ("notch"), _ ("clip"), _ ("wedge to cut out") };
  double step = width / G_N_ELEMENTS (words);
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      double x = (i + 0.5) * step;
      DrawingTextLook look = { NULL, SMALL, step, DRAWING_TEXT_CENTRE };
      cairo_set_source_rgb (cr, 0, 0, 0);
      paint_sample (cr, (int)i, x, y + 3);
      cairo_set_source_rgb (cr, 0, 0, 0);
      drawing_text_line (cr, words[i], geo_point (x, y + 8.5), 0, &look);
    }
}

void
file_sheet_paint_overview (FileSheets *s, cairo_t *cr)
{
  double w = s->frame_w, h = s->frame_h, inch4 = 4 * FILE_SHEET_INCH;
  cairo_translate (cr, s->options.margin, s->options.margin);
  cairo_set_source_rgb (cr, 0, 0, 0);
  double top = paint_title (s, cr, w);
  gboolean stacked = h >= top + 100 + 5 + inch4 + 26;
  double x4 = stacked ? 0 : 105, y4 = stacked ? top + 105 : top;
  file_sheet_paint_square (cr, 0, top, 100, 10, _ ("100 mm"), proof_words ());
  file_sheet_paint_square (cr, x4, y4, inch4, FILE_SHEET_INCH / 2, _ ("4 in"),
                           joining_words ());
  /* The rest of the sheet: a column at the right, and the foot. */
  double x = x4 + inch4 + 6, foot = y4 + inch4 + 5;
  double column = w - x, height = (stacked ? foot : h) - top - 3;
  cairo_set_source_rgb (cr, 0, 0, 0);
  double map = 0;
  if (column > 30)
    {
      map = paint_map (s, cr, x, top, column, height * 0.62);
      cairo_set_source_rgb (cr, 0, 0, 0);
      paint_list (s, cr, x, top + map + 5, column, height - map - 5);
    }
  cairo_set_source_rgb (cr, 0, 0, 0);
  double across = stacked ? w : x - 6;
  foot += block (cr, caution_words (), 0, foot, across, LIST, FALSE) + 4;
  if (foot + 11 <= h)
    paint_legend (cr, foot, across);
}
