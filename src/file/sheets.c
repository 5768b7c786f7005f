/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/sheets.h"

#include <cairo-pdf.h>
#include <glib/gi18n.h>
#include <string.h>

#include "file/document.h"
#include "file/pdf-finish.h"
#include "file/safe-save.h"
#include "file/sheets-private.h"

#define POINT (25.4 / 72)

FileSheetOptions
file_sheet_options_default (const FilePaper *paper)
{
  g_return_val_if_fail (paper != NULL, (FileSheetOptions){ 0 });
  return (FileSheetOptions){ .paper = *paper,
                             .margin = 10,
                             .overlap = 10,
                             .clips = TRUE,
                             .stitch_lines = TRUE,
                             .overview = TRUE };
}

/* --- planning -------------------------------------------------------------- */

static void
item_clear (gpointer data)
{
  geo_chain_clear (&((SheetItem *)data)->cut);
}

/* The smallest turn that brings the grain upright. */
static double
grain_turn (const PatternPiece *piece)
{
  GeoPoint d = geo_sub (piece->grain_to, piece->grain_from);
  if (!piece->has_grain || geo_norm (d) < 1e-9)
    return 0;
  return -remainder (atan2 (d.y, d.x) - G_PI / 2, G_PI);
}

static gboolean
is_wanted (const FileSheets *s, guint id)
{
  for (guint i = 0; i < s->options.n_pieces; i++)
    if (s->wanted[i] == id)
      return TRUE;
  return s->wanted == NULL;
}

static void
add_piece (FileSheets *s, const PatternPiece *piece)
{
  const SewingPiece *known = sewing_facts_piece (s->facts, piece);
  if (known == NULL || piece->n_nodes == 0)
    return;
  SheetItem item = { .piece = piece, .motion = geo_motion_none () };
  double turn = grain_turn (piece);
  item.motion.c = cos (turn);
  item.motion.s = sin (turn);
  geo_chain_init (&item.cut);
  if (known->ring.outline.count > 0)
    geo_chain_copy (&item.cut, &known->ring.outline);
  else
    pattern_piece_outline (piece, &item.cut);
  geo_chain_transform (&item.cut, item.motion);
  item.box = geo_chain_bounds (&item.cut);
  g_array_append_val (s->items, item);
}

/* Sheets that are no trouble to print for the map alone have it on a sheet of its own;
 * on larger paper the test squares lie among the pieces. */
static gboolean
is_large (const FileSheets *s)
{
  return s->roll || fmin (s->width, s->height) > 400;
}

static void
add_block (FileSheets *s)
{
  SheetItem item = { .motion = geo_motion_none () };
  geo_chain_init (&item.cut);
  item.box = (GeoBox){ 0, 0, FILE_SHEET_BLOCK_W, FILE_SHEET_BLOCK_H };
  g_array_append_val (s->items, item);
}

static gboolean
take_measures (FileSheets *s, GError **error)
{
  const FileSheetOptions *o = &s->options;
  s->roll = o->paper.height == 0;
  s->width = o->paper.width;
  s->height = s->roll ? FILE_SHEET_LONGEST : o->paper.height;
  if (o->landscape && !s->roll)
    {
      s->width = o->paper.height;
      s->height = o->paper.width;
    }
  s->frame_w = s->width - 2 * o->margin;
  s->frame_h = s->height - 2 * o->margin;
  s->step_x = s->frame_w - o->overlap;
  s->step_y = s->frame_h - o->overlap;
  if (o->margin >= 0 && o->overlap >= 0 && s->step_x >= 40 && s->step_y >= 40
      && s->height <= FILE_SHEET_LONGEST && s->width <= FILE_SHEET_LONGEST)
    return TRUE;
  g_set_error (error, FILE_ERROR, FILE_ERROR_WRITE,
               _ ("With these margins and this overlap too little of each "
                  "sheet is left to print on. Make them smaller, or take "
                  "larger paper."));
  return FALSE;
}

char *
file_sheet_tile_name (guint column, guint row)
{
  char letters[8];
  int at = 7;
  letters[at] = '\0';
  for (guint n = column + 1; n > 0 && at > 0; n = (n - 1) / 26)
    letters[--at] = (char)('A' + (n - 1) % 26);
  return g_strdup_printf ("%s%u", letters + at, row + 1);
}

static void
list_pages (FileSheets *s)
{
  if (s->overview)
    g_ptr_array_add (s->names, g_strdup ("overview"));
  for (guint i = 0; i < s->columns * s->rows; i++)
    if (s->used[i])
      {
        g_array_append_val (s->pages, i);
        g_ptr_array_add (s->names,
                         file_sheet_tile_name (i % s->columns, i / s->columns));
      }
}

FileSheets *
file_sheets_plan (const Pattern *pattern, const FileSheetOptions *options,
                  GError **error)
{
  g_return_val_if_fail (pattern != NULL && options != NULL, NULL);
  g_autoptr (FileSheets) s = g_new0 (FileSheets, 1);
  s->pattern = pattern_ref ((Pattern *)pattern);
  s->facts = sewing_facts_new ();
  s->options = *options;
  if (options->pieces)
    s->wanted = g_memdup2 (options->pieces,
                           sizeof (guint) * MAX (options->n_pieces, 1));
  s->options.pieces = s->wanted;
  s->items = g_array_new (FALSE, TRUE, sizeof (SheetItem));
  g_array_set_clear_func (s->items, item_clear);
  s->pages = g_array_new (FALSE, FALSE, sizeof (guint));
  s->names = g_ptr_array_new_with_free_func (g_free);
  if (!take_measures (s, error))
    return NULL;
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (is_wanted (s, pattern->pieces[i]->id))
      add_piece (s, pattern->pieces[i]);
  if (s->items->len == 0)
    {
      g_set_error (error, FILE_ERROR, FILE_ERROR_WRITE,
                   _ ("There is no piece to print yet."));
      return NULL;
    }
  s->overview = options->overview && !is_large (s);
  if (options->overview && is_large (s))
    add_block (s);
  file_sheet_lay_out (s);
  list_pages (s);
  return g_steal_pointer (&s);
}

void
file_sheets_free (FileSheets *s)
{
  if (s == NULL)
    return;
  g_clear_pointer (&s->items, g_array_unref);
  g_clear_pointer (&s->pages, g_array_unref);
  g_clear_pointer (&s->names, g_ptr_array_unref);
  g_clear_pointer (&s->facts, sewing_facts_free);
  g_clear_pointer (&s->pattern, pattern_unref);
  g_free (s->used);
  g_free (s->wanted);
  g_free (s);
}

/* --- asking ---------------------------------------------------------------- */

guint
file_sheets_count (const FileSheets *s)
{
  g_return_val_if_fail (s != NULL, 0);
  return s->names->len;
}

guint
file_sheets_columns (const FileSheets *s)
{
  g_return_val_if_fail (s != NULL, 0);
  return s->columns;
}

guint
file_sheets_rows (const FileSheets *s)
{
  g_return_val_if_fail (s != NULL, 0);
  return s->rows;
}

const char *
file_sheets_page_name (const FileSheets *s, guint page)
{
  g_return_val_if_fail (s != NULL && page < s->names->len, NULL);
  return g_ptr_array_index (s->names, page);
}

/* The tile on a page; FALSE for the overview. */
static gboolean
tile_of (const FileSheets *s, guint page, guint *column, guint *row)
{
  if (s->overview && page-- == 0)
    return FALSE;
  guint tile = g_array_index (s->pages, guint, page);
  *column = tile % s->columns;
  *row = tile / s->columns;
  return TRUE;
}

void
file_sheets_size (const FileSheets *s, guint page, double *width,
                  double *height)
{
  g_return_if_fail (s != NULL && page < s->names->len);
  double h = s->height;
  guint column, row;
  if (s->roll && tile_of (s, page, &column, &row))
    {
      /* As much of the roll as the lowest piece on this length needs. */
      double top = row * s->step_y, low = 0;
      for (guint i = 0; i < s->items->len; i++)
        {
          GeoBox box = g_array_index (s->items, SheetItem, i).box;
          if (box.y0 < top + s->frame_h)
            low = fmax (low, box.y1 - top);
        }
      h = fmin (low, s->frame_h) + 2 * s->options.margin;
    }
  if (width)
    *width = s->width;
  if (height)
    *height = h;
}

void
file_sheets_paint (FileSheets *s, guint page, cairo_t *cr)
{
  g_return_if_fail (s != NULL && page < s->names->len && cr != NULL);
  guint column, row;
  cairo_save (cr);
  if (tile_of (s, page, &column, &row))
    file_sheet_paint_tile (s, column, row, cr);
  else
    file_sheet_paint_overview (s, cr);
  cairo_restore (cr);
}

/* --- the file ---------------------------------------------------------------- */

static cairo_status_t
append_bytes (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* All pages; FALSE with error set where it was cancelled or cairo gave up. */
static gboolean
paint_pages (FileSheets *s, cairo_surface_t *surface, FileProgress progress,
             gpointer data, GError **error)
{
  cairo_t *cr = cairo_create (surface);
  guint count = file_sheets_count (s);
  gboolean go_on = TRUE;
  for (guint page = 0; page < count && go_on; page++)
    {
      double width, height;
      file_sheets_size (s, page, &width, &height);
      cairo_pdf_surface_set_size (surface, width / POINT, height / POINT);
      cairo_save (cr);
      cairo_scale (cr, 1 / POINT, 1 / POINT);
      file_sheets_paint (s, page, cr);
      cairo_restore (cr);
      cairo_show_page (cr);
      if (progress)
        go_on = progress ((page + 1.0) / count, data);
    }
  cairo_status_t status = cairo_status (cr);
  cairo_destroy (cr);
  if (go_on && status == CAIRO_STATUS_SUCCESS)
    return TRUE;
  if (!go_on)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED,
                 _ ("The print file was not written, as you asked."));
  else
    g_set_error (error, FILE_ERROR, FILE_ERROR_WRITE,
                 _ ("The sheets could not be drawn (%s). No file was written."),
                 cairo_status_to_string (status));
  return FALSE;
}

gboolean
file_sheets_save_pdf (FileSheets *s, const char *path, FileProgress progress,
                      gpointer data, GError **error)
{
  g_return_val_if_fail (s != NULL && path != NULL, FALSE);
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (
      append_bytes, bytes, s->width / POINT, s->height / POINT);
  cairo_pdf_surface_restrict_to_version (surface, CAIRO_PDF_VERSION_1_4);
  /* A day that is no news: file_pdf_finish() leaves the date out or gives it. */
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                  "2000-01-01T00:00:00Z");
  gboolean painted = paint_pages (s, surface, progress, data, error);
  cairo_surface_finish (surface);
  cairo_status_t status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (!painted)
    return FALSE;
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, FILE_ERROR, FILE_ERROR_WRITE,
                   _ ("The sheets could not be drawn (%s). No file was "
                      "written."),
                   cairo_status_to_string (status));
      return FALSE;
    }
  const char *title = *s->pattern->name ? s->pattern->name : _ ("Pattern");
  return file_pdf_finish (bytes, title, error)
         && file_safe_save (path, (const char *)bytes->data, bytes->len, FALSE,
                            error);
}
