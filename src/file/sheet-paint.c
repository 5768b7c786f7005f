/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One tile. Nothing is drawn outside the frame, since printers lose what lies
 * near the edge of a sheet. Marks at joins are drawn where they lie on the strip,
 * so both sheets show the same mark and its halves meet when the sheets do. */
#include <glib/gi18n.h>

#include "drawing/paint.h"
#include "drawing/text.h"
#include "file/sheets-private.h"

#define MARK 4.0  /* half a join mark's diagonal */
#define SMALL 1.9 /* capitals of words to the side */

static void
text (cairo_t *cr, const char *words, double x, double y, double angle,
      double capital, DrawingTextFlags flags)
{
  DrawingTextLook look = { NULL, capital, 0, flags };
  drawing_text_line (cr, words, geo_point (x, y), angle, &look);
}

static void
grey (cairo_t *cr, double g)
{
  cairo_set_source_rgb (cr, g, g, g);
}

static void
thin_line (cairo_t *cr, double x0, double y0, double x1, double y1)
{
  cairo_move_to (cr, x0, y0);
  cairo_line_to (cr, x1, y1);
  cairo_stroke (cr);
}

/* --- test squares and rulers ------------------------------------------------- */

void
file_sheet_paint_square (cairo_t *cr, double x, double y, double side,
                         double unit, const char *title, const char *words)
{
  cairo_save (cr);
  grey (cr, 0);
  cairo_set_line_width (cr, words ? 0.3 : 0.2);
  cairo_rectangle (cr, x, y, side, side);
  cairo_stroke (cr);
  cairo_set_line_width (cr, 0.18);
  int n = (int)round (side / unit);
  for (int i = 1; i < n; i++)
    {
      double at = i * unit, length = 2 * i == n ? 3.5 : 2;
      thin_line (cr, x + at, y, x + at, y + length);
      thin_line (cr, x + at, y + side, x + at, y + side - length);
      thin_line (cr, x, y + at, x + length, y + at);
      thin_line (cr, x + side, y + at, x + side - length, y + at);
    }
  DrawingTextLook big = { NULL, words ? 6 : 3, side - 16,
                          DRAWING_TEXT_CENTRE | DRAWING_TEXT_BOLD };
  DrawingTextLook small = { NULL, 2.3, side - 18, DRAWING_TEXT_LEFT };
  double top = y + 12;
  top += drawing_text_block (cr, title, x + side / 2, top, &big) + 6;
  if (words)
    drawing_text_block (cr, words, x + 9, top, &small);
  cairo_restore (cr);
}

void
file_sheet_paint_block (FileSheets *s, cairo_t *cr)
{
  file_sheet_paint_square (
      cr, 0, 0, 100, 10, _ ("100 mm"),
      _ ("Both ways this square must measure 100 mm. Measure it before you "
         "cut.\n\nPrint at 100 %, “actual size”, never “fit to page”. If the "
         "square is off, throw the print away and look for the setting."));
  file_sheet_paint_square (cr, 105, 0, 4 * FILE_SHEET_INCH, FILE_SHEET_INCH / 2,
                           _ ("4 in"),
                           _ ("Both ways this square must measure 4 inches."));
  g_autofree char *about = g_strdup_printf (
      _ ("%s. Cut on the solid line, sew on the dashed one. Turn the arrow "
         "along the grain of the cloth.\nA rotary cutter is a rolling razor: "
         "close its blade whenever you put it down, keep your fingers back "
         "from the ruler's edge, wear shoes, and keep it out of the reach of "
         "children. Local rules and the maker's instructions come first."),
      s->pattern->name);
  grey (cr, 0);
  DrawingTextLook look
      = { NULL, 2.3, FILE_SHEET_BLOCK_W - 6, DRAWING_TEXT_LEFT };
  drawing_text_block (cr, about, 0, 4 * FILE_SHEET_INCH + 6, &look);
}

/* Where a box is free of everything on the strip, inside a tile and off its
 * overlaps; FALSE where nowhere. */
static gboolean
find_room (FileSheets *s, GeoBox tile, double w, double h, GeoBox avoid,
           GeoPoint *at)
{
  double x1 = fmin (tile.x1, tile.x0 + s->step_x) - 3 - w;
  double y1 = fmin (tile.y1, tile.y0 + s->step_y) - 8 - h;
  for (double y = y1; y >= tile.y0 + s->options.overlap + 2; y -= 10)
    for (double x = x1; x >= tile.x0 + s->options.overlap + 2; x -= 10)
      {
        GeoBox box = { x, y, x + w, y + h };
        gboolean is_free = !geo_box_meets (box, avoid);
        for (guint i = 0; i < s->items->len && is_free; i++)
          is_free = !file_sheet_item_meets (
              &g_array_index (s->items, SheetItem, i), geo_box_grow (box, 3));
        if (is_free)
          {
            *at = geo_point (x, y);
            return TRUE;
          }
      }
  return FALSE;
}

static void
paint_ruler (cairo_t *cr, GeoPoint at, gboolean down)
{
  cairo_save (cr);
  cairo_translate (cr, at.x, at.y);
  if (down)
    cairo_transform (cr, &(cairo_matrix_t){ 0, 1, 1, 0, 0, 0 });
  cairo_set_line_width (cr, 0.15);
  grey (cr, 0);
  thin_line (cr, 0, 0, 50, 0);
  for (int i = 0; i <= 50; i++)
    thin_line (cr, i, 0, i, i % 10 == 0 ? 3 : i % 5 == 0 ? 2.2 : 1.4);
  cairo_restore (cr);
  grey (cr, 0.25);
  text (cr, _ ("50 mm"), at.x + (down ? 5 : 25), at.y + (down ? 25 : 5.2),
        down ? -G_PI / 2 : 0, SMALL, DRAWING_TEXT_CENTRE);
}

static gboolean
has_block (FileSheets *s, GeoBox tile)
{
  for (guint i = 0; i < s->items->len; i++)
    {
      const SheetItem *item = &g_array_index (s->items, SheetItem, i);
      if (item->piece == NULL && geo_box_meets (item->box, tile))
        return TRUE;
    }
  return FALSE;
}

/* A square to measure where there is room for one, else rulers, else nothing. */
static void
paint_proof (FileSheets *s, GeoBox tile, cairo_t *cr)
{
  GeoBox none = geo_box_empty ();
  double inch4 = 4 * FILE_SHEET_INCH;
  GeoPoint at, also;
  if (find_room (s, tile, 100, 100, none, &at))
    {
      GeoBox first = { at.x, at.y, at.x + 100, at.y + 100 };
      file_sheet_paint_square (cr, at.x, at.y, 100, 10, _ ("100 mm"), NULL);
      if (find_room (s, tile, inch4, inch4, geo_box_grow (first, 4), &also))
        file_sheet_paint_square (cr, also.x, also.y, inch4, FILE_SHEET_INCH / 2,
                                 _ ("4 in"), NULL);
      return;
    }
  if (find_room (s, tile, 51, 7, none, &at))
    paint_ruler (cr, at, FALSE);
  GeoBox first = { at.x, at.y, at.x + 51, at.y + 7 };
  if (find_room (s, tile, 7, 51, first, &also))
    paint_ruler (cr, also, TRUE);
}

/* --- joins ------------------------------------------------------------------- */

static void
diamond (cairo_t *cr, double x, double y)
{
  cairo_move_to (cr, x - MARK, y);
  cairo_line_to (cr, x, y - MARK);
  cairo_line_to (cr, x + MARK, y);
  cairo_line_to (cr, x, y + MARK);
  cairo_close_path (cr);
  grey (cr, 0.86);
  cairo_fill_preserve (cr);
  grey (cr, 0);
  cairo_set_line_width (cr, 0.2);
  cairo_stroke (cr);
}

typedef struct
{
  int dc, dr;    /* to the neighbour */
  gboolean trim; /* this sheet is cut there and laid over the other */
  double x, y;   /* the line's place; the one along it is not looked at */
} Join;

/* The join's marks lie at quarters of the stretch that both sheets share. */
static void
paint_join (FileSheets *s, cairo_t *cr, const Join *join, GeoBox frame,
            const char *name)
{
  const double dashes[2] = { 3, 2 };
  gboolean upright = join->dc != 0;
  double length = upright ? frame.y1 : frame.x1;
  cairo_set_line_width (cr, 0.18);
  grey (cr, 0.25);
  cairo_set_dash (cr, dashes, join->trim ? 0 : 2, 0);
  if (upright)
    thin_line (cr, join->x, 0, join->x, length);
  else
    thin_line (cr, 0, join->y, length, join->y);
  cairo_set_dash (cr, NULL, 0, 0);
  g_autofree char *words = g_strdup_printf (
      join->trim ? _ ("trim here, lay over %s") : _ ("%s comes to this line"),
      name);
  double inward = join->trim ? 2 : fmin (3, s->options.overlap / 2);
  for (int i = 0; i < 2; i++)
    {
      double at = length * (i ? 0.75 : 0.25);
      double x = upright ? join->x : at, y = upright ? at : join->y;
      diamond (cr, x, y);
      grey (cr, 0);
      if (upright)
        text (cr, name, x + (join->trim ? 1 : -1) * (MARK + 1.5), y, 0, 2.4,
              (join->trim ? DRAWING_TEXT_LEFT : DRAWING_TEXT_RIGHT)
                  | DRAWING_TEXT_BOLD);
      else
        text (cr, name, x, y + (join->trim ? 1 : -1) * (MARK + 2.5), 0, 2.4,
              DRAWING_TEXT_CENTRE | DRAWING_TEXT_BOLD);
    }
  grey (cr, 0.35);
  if (s->options.overlap < 4 && !join->trim)
    return;
  if (upright)
    text (cr, words, join->x + inward, length / 2, -G_PI / 2, 1.75,
          DRAWING_TEXT_CENTRE);
  else
    text (cr, words, length / 2, join->y + inward, 0, 1.75,
          DRAWING_TEXT_CENTRE);
}

/* Corners of the frame, so that a sheet without neighbours shows its edge too. */
static void
paint_corners (cairo_t *cr, GeoBox frame)
{
  cairo_set_line_width (cr, 0.18);
  grey (cr, 0.25);
  for (int i = 0; i < 4; i++)
    {
      double x = i & 1 ? frame.x1 : 0, y = i & 2 ? frame.y1 : 0;
      double dx = i & 1 ? -5 : 5, dy = i & 2 ? -5 : 5;
      cairo_move_to (cr, x + dx, y);
      cairo_line_to (cr, x, y);
      cairo_line_to (cr, x, y + dy);
      cairo_stroke (cr);
    }
}

static void
paint_joins (FileSheets *s, guint column, guint row, GeoBox frame, cairo_t *cr)
{
  const Join joins[4] = { { -1, 0, TRUE, 0, 0 },
                          { 1, 0, FALSE, s->step_x, 0 },
                          { 0, -1, TRUE, 0, 0 },
                          { 0, 1, FALSE, 0, s->step_y } };
  paint_corners (cr, frame);
  for (int i = 0; i < 4; i++)
    {
      int c = (int)column + joins[i].dc, r = (int)row + joins[i].dr;
      if (!file_sheet_is_used (s, c, r))
        continue;
      g_autofree char *name = file_sheet_tile_name ((guint)c, (guint)r);
      GeoBox shared = frame;
      /* Lengths of a roll may differ; what both show is the shorter. */
      if (s->roll && joins[i].dc == 0)
        shared.y1 = s->frame_h;
      paint_join (s, cr, &joins[i], shared, name);
    }
}

/* --- the whole tile -------------------------------------------------------------- */

/* A line of the strip, or a place, as the piece has it. */
static void
add_from_strip (GArray *points, const SheetItem *item, double x, double y)
{
  GeoPoint p
      = geo_motion_apply (geo_motion_inverse (item->motion), geo_point (x, y));
  g_array_append_val (points, p);
}

/* Where the item's sheets meet: a band about each join, so that words stay clear
 * of what is printed along it. */
static void
list_joins (const FileSheets *s, const SheetItem *item, GArray *lines)
{
  const double band[2] = { -2, 6 };
  GeoBox b = item->box;
  for (int i = 0; i < 2; i++)
    {
      for (guint c = 1; c < s->columns; c++)
        {
          double x = c * s->step_x + band[i];
          if (x <= b.x0 || x >= b.x1)
            continue;
          add_from_strip (lines, item, x, b.y0);
          add_from_strip (lines, item, x, b.y1);
        }
      for (guint r = 1; r < s->rows; r++)
        {
          double y = r * s->step_y + band[i];
          if (y <= b.y0 || y >= b.y1)
            continue;
          add_from_strip (lines, item, b.x0, y);
          add_from_strip (lines, item, b.x1, y);
        }
    }
}

/* Five places in the part of the item's box that each tile shows. */
static void
list_spots (const FileSheets *s, const SheetItem *item, GArray *spots)
{
  static const double at[5][2] = {
    { 0.5, 0.5 }, { 0.5, 0.3 }, { 0.5, 0.7 }, { 0.3, 0.5 }, { 0.7, 0.5 }
  };
  GeoBox b = item->box;
  for (guint r = 0; r < s->rows; r++)
    for (guint c = 0; c < s->columns; c++)
      {
        double x0 = fmax (b.x0, c * s->step_x);
        double x1 = fmin (b.x1, (c + 1) * s->step_x);
        double y0 = fmax (b.y0, r * s->step_y);
        double y1 = fmin (b.y1, (r + 1) * s->step_y);
        for (int i = 0; i < 5 && x1 > x0 && y1 > y0; i++)
          add_from_strip (spots, item, x0 + at[i][0] * (x1 - x0),
                          y0 + at[i][1] * (y1 - y0));
      }
}

static void
paint_piece (FileSheets *s, const SheetItem *item, cairo_t *cr)
{
  g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  g_autoptr (GArray) spots = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  list_joins (s, item, lines);
  list_spots (s, item, spots);
  DrawingJoins joins
      = { (const GeoPoint *)(gpointer)lines->data, lines->len / 2,
          (const GeoPoint *)(gpointer)spots->data, spots->len };
  DrawingStyle style = drawing_style_paper ();
  style.clips = s->options.clips;
  style.stitch_line = s->options.stitch_lines;
  style.joins = lines->len > 0 ? &joins : NULL;
  drawing_paint_piece (cr, s->facts, s->pattern, item->piece, &style);
}

static void
paint_item (FileSheets *s, const SheetItem *item, cairo_t *cr)
{
  cairo_matrix_t to_strip;
  cairo_matrix_init (&to_strip, item->motion.c, item->motion.s, -item->motion.s,
                     item->motion.c, item->motion.dx, item->motion.dy);
  cairo_save (cr);
  cairo_transform (cr, &to_strip);
  if (item->piece == NULL)
    file_sheet_paint_block (s, cr);
  else
    paint_piece (s, item, cr);
  cairo_restore (cr);
}

/* At the foot: what this sheet is and which pieces it bears. */
static void
paint_foot (FileSheets *s, GeoBox tile, guint column, guint row, GeoBox frame,
            cairo_t *cr)
{
  g_autofree char *name = file_sheet_tile_name (column, row);
  GString *words = g_string_new (NULL);
  g_string_append_printf (words, _ ("%s · sheet %s · print at 100 %%"),
                          s->pattern->name, name);
  for (guint i = 0; i < s->items->len; i++)
    {
      const SheetItem *item = &g_array_index (s->items, SheetItem, i);
      if (item->piece && file_sheet_item_meets (item, tile))
        g_string_append_printf (words, " · %s", item->piece->name);
    }
  gboolean below = file_sheet_is_used (s, (int)column, (int)row + 1);
  /* Where the next sheet will cover it, so that it doesn't stay on the pattern. */
  gboolean covered = below && s->options.overlap >= 8;
  double y = covered ? s->step_y + s->options.overlap - 2.2 : frame.y1 - 2.2;
  DrawingTextLook look = { NULL, 1.75, frame.x1 - 16, DRAWING_TEXT_LEFT };
  grey (cr, 0.25);
  drawing_text_line (cr, words->str, geo_point (6, y), 0, &look);
  g_string_free (words, TRUE);
}

void
file_sheet_paint_tile (FileSheets *s, guint column, guint row, cairo_t *cr)
{
  GeoBox tile = file_sheet_tile (s, column, row);
  GeoBox frame = { 0, 0, s->frame_w, s->frame_h };
  if (s->roll)
    {
      double low = 0;
      for (guint i = 0; i < s->items->len; i++)
        {
          GeoBox box = g_array_index (s->items, SheetItem, i).box;
          if (box.y0 < tile.y1)
            low = fmax (low, box.y1);
        }
      tile.y1 = fmin (tile.y1, low);
      frame.y1 = tile.y1 - tile.y0;
    }
  cairo_translate (cr, s->options.margin, s->options.margin);
  /* Half of a line that lies on the frame itself would be lost otherwise. */
  cairo_rectangle (cr, -0.3, -0.3, frame.x1 + 0.6, frame.y1 + 0.6);
  cairo_clip (cr);
  g_autofree char *name = file_sheet_tile_name (column, row);
  grey (cr, 0.88);
  if (s->columns * s->rows > 1)
    text (cr, name, frame.x1 / 2, frame.y1 / 2, 0, 16,
          DRAWING_TEXT_CENTRE | DRAWING_TEXT_BOLD);
  cairo_save (cr);
  cairo_translate (cr, -tile.x0, -tile.y0);
  for (guint i = 0; i < s->items->len; i++)
    {
      const SheetItem *item = &g_array_index (s->items, SheetItem, i);
      if (file_sheet_item_meets (item, geo_box_grow (tile, 1)))
        paint_item (s, item, cr);
    }
  if (!has_block (s, tile))
    paint_proof (s, tile, cr);
  cairo_restore (cr);
  paint_joins (s, column, row, frame, cr);
  paint_foot (s, tile, column, row, frame, cr);
}
