/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Printing, measured on what the files themselves say. */
#include <glib/gstdio.h>
#include <string.h>

#include "../drawing/sample.h"
#include "file/sheets-private.h"
#include "geometry/region.h"
#include "pdf-lines.h"

static char *folder;

static FileSheets *
plan (const Pattern *pattern, const char *paper, gboolean overview)
{
  GError *error = NULL;
  FileSheetOptions o = file_sheet_options_default (file_paper_find (paper));
  o.overview = overview;
  FileSheets *sheets = file_sheets_plan (pattern, &o, &error);
  g_assert_no_error (error);
  return sheets;
}

static PdfFile *
save_and_read (FileSheets *sheets, const char *name)
{
  GError *error = NULL;
  g_autofree char *path = g_build_filename (folder, name, NULL);
  file_sheets_save_pdf (sheets, path, NULL, NULL, &error);
  g_assert_no_error (error);
  g_autofree char *words = NULL;
  int status = pdf_check (path, &words);
  g_test_message ("%s", words);
  g_assert_cmpint (status, ==, 0);
  g_assert_null (strstr (words, "WARNING"));
  g_assert_nonnull (strstr (words, "No syntax or stream encoding errors"));
  PdfFile *file = pdf_file_read (path);
  g_remove (path);
  g_assert_cmpuint (file->sizes->len, ==, file_sheets_count (sheets));
  return file;
}

static Pattern *
one_rectangle (double w, double h)
{
  Pattern *pattern = pattern_new ("test");
  pattern_put_piece (pattern, sample_rectangle (pattern, "Front", -30, 70, w, h,
                                                PATTERN_EDGE_RAW, 0));
  return pattern;
}

/* --- paper -------------------------------------------------------------------
 */

static void
test_papers (void)
{
  /* ISO 216:2007, table 1 (A series); 8.5 x 11 and 11 x 17 in; 24 and 36 in. */
  static const FilePaper known[]
      = { { "a4", 210, 297 },          { "A3", 297, 420 },
          { "A2", 420, 594 },          { "A1", 594, 841 },
          { "A0", 841, 1189 },         { "Letter", 215.9, 279.4 },
          { "TABLOID", 279.4, 431.8 }, { "roll 24 in", 609.6, 0 },
          { "roll-36", 914.4, 0 } };
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    {
      const FilePaper *p = file_paper_find (known[i].name);
      g_assert_nonnull (p);
      g_assert_cmpfloat (p->width, ==, known[i].width);
      g_assert_cmpfloat (p->height, ==, known[i].height);
    }
  g_assert_null (file_paper_find ("papyrus"));
  g_assert_null (file_paper_find (""));
}

static void
test_media_boxes (void)
{
  static const char *const names[] = { "A4", "letter", "A3", "tabloid", "A0" };
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    for (int landscape = 0; landscape < 2; landscape++)
      {
        g_autoptr (Pattern) pattern = one_rectangle (300, 300);
        const FilePaper *paper = file_paper_find (names[i]);
        FileSheetOptions o = file_sheet_options_default (paper);
        o.landscape = landscape;
        g_autoptr (FileSheets) sheets = file_sheets_plan (pattern, &o, NULL);
        PdfFile *file = save_and_read (sheets, "box.pdf");
        for (guint k = 0; k < file->sizes->len; k++)
          {
            /* 0.01 pt is 0.0035 mm. */
            GeoPoint size = g_array_index (file->sizes, GeoPoint, k);
            g_assert_cmpfloat_with_epsilon (
                size.x, landscape ? paper->height : paper->width, 0.0035);
            g_assert_cmpfloat_with_epsilon (
                size.y, landscape ? paper->width : paper->height, 0.0035);
          }
        pdf_file_free (file);
      }
}

/* --- how many
 * ------------------------------------------------------------------ */

/* Sheets with margins of 10 mm and an overlap of 10 mm, worked out by hand:
 * steps of 180 x 267 on A4 and 185.9 x 249.4 on letter. */
static void
test_counts (void)
{
  static const struct
  {
    double w, h;
    guint a4, letter, columns, rows;
  } known[] = { { 600, 900, 16, 16, 4, 4 },
                { 400, 500, 6, 6, 3, 2 },
                { 1000, 830, 24, 24, 6, 4 },
                { 190, 277, 1, 2, 1, 1 },
                { 191, 277, 2, 0, 2, 1 } };
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    {
      g_autoptr (Pattern) pattern = one_rectangle (known[i].w, known[i].h);
      g_autoptr (FileSheets) a4 = plan (pattern, "A4", FALSE);
      g_assert_cmpuint (file_sheets_count (a4), ==, known[i].a4);
      g_assert_cmpuint (file_sheets_columns (a4), ==, known[i].columns);
      g_assert_cmpuint (file_sheets_rows (a4), ==, known[i].rows);
      g_autoptr (FileSheets) letter = plan (pattern, "letter", FALSE);
      if (known[i].letter)
        g_assert_cmpuint (file_sheets_count (letter), ==, known[i].letter);
      g_autoptr (FileSheets) more = plan (pattern, "A4", TRUE);
      g_assert_cmpuint (file_sheets_count (more), ==, known[i].a4 + 1);
      g_assert_cmpstr (file_sheets_page_name (more, 0), ==, "overview");
      g_assert_cmpstr (file_sheets_page_name (more, 1), ==, "A1");
    }
}

static void
test_names (void)
{
  static const struct
  {
    guint column, row;
    const char *name;
  } known[] = { { 0, 0, "A1" },    { 1, 2, "B3" },    { 25, 9, "Z10" },
                { 26, 0, "AA1" },  { 51, 0, "AZ1" },  { 52, 0, "BA1" },
                { 701, 0, "ZZ1" }, { 702, 0, "AAA1" } };
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    {
      g_autofree char *name
          = file_sheet_tile_name (known[i].column, known[i].row);
      g_assert_cmpstr (name, ==, known[i].name);
    }
}

/* Every point of every piece is on a sheet, every sheet has a point of a piece.
 * Found out point by point, not by the way sheets are chosen. */
static void
check_cover (const FileSheets *s)
{
  g_autofree gboolean *met = g_new0 (gboolean, s->columns * s->rows);
  for (guint i = 0; i < s->items->len; i++)
    {
      const SheetItem *item = &g_array_index (s->items, SheetItem, i);
      for (double y = item->box.y0; y < item->box.y1; y += 2.3)
        for (double x = item->box.x0; x < item->box.x1; x += 2.3)
          {
            if (!geo_chain_contains (&item->cut, geo_point (x, y)))
              continue;
            gboolean shown = FALSE;
            for (guint t = 0; t < s->columns * s->rows; t++)
              {
                GeoBox tile
                    = file_sheet_tile (s, t % s->columns, t / s->columns);
                if (x >= tile.x0 - 1e-6 && x <= tile.x1 + 1e-6
                    && y >= tile.y0 - 1e-6 && y <= tile.y1 + 1e-6)
                  {
                    met[t] = TRUE;
                    shown |= s->used[t];
                  }
              }
            g_assert_true (shown);
          }
    }
  for (guint t = 0; t < s->columns * s->rows; t++)
    if (s->used[t])
      g_assert_true (met[t]);
}

static void
check_apart (const FileSheets *s)
{
  double width = (s->columns - 1) * s->step_x + s->frame_w;
  double height = (s->rows - 1) * s->step_y + s->frame_h;
  for (guint i = 0; i < s->items->len; i++)
    {
      GeoBox a = g_array_index (s->items, SheetItem, i).box;
      g_assert_cmpfloat (a.x0, >, -1e-6);
      g_assert_cmpfloat (a.y0, >, -1e-6);
      g_assert_cmpfloat (a.x1, <, width + 1e-3);
      g_assert_cmpfloat (a.y1, <, height + 1e-3);
      for (guint k = 0; k < i; k++)
        g_assert_false (
            geo_box_meets (geo_box_grow (a, FILE_SHEET_GAP - 1e-3),
                           g_array_index (s->items, SheetItem, k).box));
    }
}

/* An L leaves the sheets in its corner out. */
static void
test_empty_left_out (void)
{
  const GeoPoint corners[6] = { { 0, 0 },     { 180, 0 },   { 180, 700 },
                                { 700, 700 }, { 700, 800 }, { 0, 800 } };
  g_autoptr (Pattern) pattern = pattern_new ("test");
  pattern_put_piece (pattern, sample_polygon (pattern, "Corner", corners, 6,
                                              PATTERN_EDGE_RAW, 0));
  g_autoptr (FileSheets) s = plan (pattern, "A4", FALSE);
  g_assert_cmpuint (file_sheets_columns (s), ==, 4);
  g_assert_cmpuint (file_sheets_rows (s), ==, 3);
  /* First column 3; the foot, from 700 to 800 in tiles that begin at 534: 3. */
  g_assert_cmpuint (file_sheets_count (s), ==, 6);
  check_cover (s);
}

static void
test_layouts (void)
{
  static const char *const papers[] = { "A4", "letter", "A3", "A0" };
  for (int turn = 0; turn < 12; turn++)
    {
      g_autoptr (Pattern) pattern = pattern_new ("test");
      int count = turn == 11 ? 80 : g_test_rand_int_range (1, 14);
      for (int i = 0; i < count; i++)
        {
          GeoPoint corners[5];
          double rx = g_test_rand_double_range (20, 350);
          double ry = g_test_rand_double_range (20, 350);
          for (int k = 0; k < 5; k++)
            {
              double a = k * 2 * G_PI / 5 + g_test_rand_double_range (0, 0.8);
              corners[k] = geo_point (rx * cos (a), ry * sin (a));
            }
          PatternPiece *piece = sample_polygon (pattern, "Piece", corners, 5,
                                                PATTERN_EDGE_RAW, 0);
          piece->has_grain = g_test_rand_bit ();
          piece->grain_to = geo_point (g_test_rand_double_range (-9, 9), 10);
          pattern_put_piece (pattern, piece);
        }
      g_autoptr (FileSheets) s = plan (pattern, papers[turn % 4], FALSE);
      check_cover (s);
      check_apart (s);
      for (guint i = 0; i < s->items->len; i++)
        {
          const SheetItem *item = &g_array_index (s->items, SheetItem, i);
          GeoPoint grain = geo_motion_turn (
              item->motion,
              geo_sub (item->piece->grain_to, item->piece->grain_from));
          if (item->piece->has_grain)
            g_assert_cmpfloat_with_epsilon (grain.x, 0, 1e-9);
        }
    }
}

static void
test_chosen_pieces (void)
{
  g_autoptr (Pattern) pattern = one_rectangle (400, 500);
  PatternPiece *small
      = sample_rectangle (pattern, "Welt", 0, 0, 100, 40, PATTERN_EDGE_RAW, 0);
  guint id = small->id, none = 99999;
  pattern_put_piece (pattern, small);
  FileSheetOptions o = file_sheet_options_default (file_paper_find ("A4"));
  o.overview = FALSE;
  o.pieces = &id;
  o.n_pieces = 1;
  g_autoptr (FileSheets) s = file_sheets_plan (pattern, &o, NULL);
  g_assert_cmpuint (file_sheets_count (s), ==, 1);
  GError *error = NULL;
  o.pieces = &none;
  g_assert_null (file_sheets_plan (pattern, &o, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  o.margin = 100;
  g_assert_null (file_sheets_plan (pattern, &o, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
}

/* --- the file
 * --------------------------------------------------------------------- */

/* A stroked rectangle of a size on a page; how many. */
static int
count_squares (const PdfFile *file, guint page, double side)
{
  int count = 0;
  for (guint i = 0; i < file->lines->len; i++)
    {
      const PdfLine *line = g_ptr_array_index (file->lines, i);
      if (line->page != page || !line->stroked || !line->closed || line->curved
          || line->points->len < 4)
        continue;
      GeoBox box = geo_box_empty ();
      for (guint k = 0; k < line->points->len; k++)
        box = geo_box_add (box, g_array_index (line->points, GeoPoint, k));
      count += fabs (box.x1 - box.x0 - side) <= 0.05
               && fabs (box.y1 - box.y0 - side) <= 0.05;
    }
  return count;
}

static void
test_squares (void)
{
  static const char *const papers[]
      = { "A4", "letter", "A3", "tabloid", "A0", "roll 24", "roll 36" };
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    for (int landscape = 0; landscape < 2; landscape++)
      {
        g_autoptr (Pattern) pattern = one_rectangle (333, 444);
        FileSheetOptions o
            = file_sheet_options_default (file_paper_find (papers[i]));
        o.landscape = landscape;
        g_autoptr (FileSheets) sheets = file_sheets_plan (pattern, &o, NULL);
        PdfFile *file = save_and_read (sheets, "squares.pdf");
        g_assert_cmpint (count_squares (file, 0, 100), ==, 1);
        g_assert_cmpint (count_squares (file, 0, 101.6), ==, 1);
        g_assert_cmpint (count_squares (file, 0, 97), ==, 0);
        pdf_file_free (file);
      }
}

static void
test_never_scaled (void)
{
  g_autoptr (Pattern) pattern = one_rectangle (400, 500);
  g_autoptr (FileSheets) sheets = plan (pattern, "A4", TRUE);
  PdfFile *file = save_and_read (sheets, "scaling.pdf");
  const char *catalog = strstr (file->text, "/Type /Catalog");
  g_assert_nonnull (catalog);
  g_assert_nonnull (strstr (file->text, "/PrintScaling /None"));
  g_assert_nonnull (strstr (file->text, "/PickTrayByPDFSize true"));
  pdf_file_free (file);
}

/* A circle over 3 x 3 sheets: on each its centre and its cutting line, of
 * radius 250 + 12, lie where they do on all the others, steps apart. */
static void
test_true_across_joins (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("test");
  pattern_put_piece (
      pattern, sample_circle (pattern, "Disc", geo_point (7, -3), 250, 12));
  g_autoptr (FileSheets) sheets = plan (pattern, "A4", TRUE);
  PdfFile *file = save_and_read (sheets, "disc.pdf");
  g_assert_cmpuint (file_sheets_columns (sheets), ==, 3);
  g_assert_cmpuint (file_sheets_rows (sheets), ==, 2);
  guint found = 0;
  for (guint i = 0; i < file->lines->len; i++)
    {
      const PdfLine *line = g_ptr_array_index (file->lines, i);
      if (!line->stroked || !line->curved || line->page == 0
          || line->points->len < 16)
        continue;
      GeoBox box = geo_box_empty ();
      for (guint k = 0; k < line->points->len; k++)
        box = geo_box_add (box, g_array_index (line->points, GeoPoint, k));
      double radius = (box.x1 - box.x0) / 2;
      if (fabs (radius - 262) > 5)
        continue;
      g_assert_cmpfloat_with_epsilon (radius, 262, 0.05);
      /* The strip's origin on this sheet: 10 mm in, less steps of 180 x 267;
       * the disc lies 5 mm off the first trim lines. */
      const char *name = file_sheets_page_name (sheets, line->page);
      double x = 10 + 5 + 262 - 180 * (name[0] - 'A');
      double y = 10 + 5 + 262 - 267 * (name[1] - '1');
      for (guint k = 0; k < line->points->len; k++)
        {
          GeoPoint p = g_array_index (line->points, GeoPoint, k);
          g_assert_cmpfloat_with_epsilon (geo_distance (p, geo_point (x, y)),
                                          262, 0.05);
        }
      found++;
    }
  g_assert_cmpuint (found, ==, 6);
  pdf_file_free (file);
}

/* Pieces that leave room for it lie 5 mm inside their sheet, so that a cutting
 * line is never the line a sheet is trimmed at; one that just fits a sheet
 * still has one. */
static void
test_off_trim_lines (void)
{
  for (guint i = 0; i < 30; i++)
    {
      double w = g_test_rand_double_range (20, 180);
      double h = g_test_rand_double_range (20, 267);
      g_autoptr (Pattern) pattern = one_rectangle (w, h);
      pattern_put_piece (pattern,
                         sample_rectangle (pattern, "Back", 0, 0, w / 2, h,
                                           PATTERN_EDGE_RAW, 0));
      g_autoptr (FileSheets) sheets = plan (pattern, "A4", FALSE);
      for (guint k = 0; k < sheets->items->len; k++)
        {
          GeoBox b = g_array_index (sheets->items, SheetItem, k).box;
          double x = fmod (b.x0, sheets->step_x),
                 y = fmod (b.y0, sheets->step_y);
          g_assert_cmpfloat (x, >=, 5 - 1e-6);
          g_assert_cmpfloat (y, >=, 5 - 1e-6);
          g_assert_cmpfloat (x + b.x1 - b.x0, <=, sheets->frame_w - 5 + 1e-6);
          g_assert_cmpfloat (y + b.y1 - b.y0, <=, sheets->frame_h - 5 + 1e-6);
        }
    }
  g_autoptr (Pattern) full = one_rectangle (190, 277);
  g_autoptr (FileSheets) one = plan (full, "A4", FALSE);
  g_assert_cmpuint (file_sheets_count (one), ==, 1);
}

/* Each join's mark is on both of its sheets, at the place where they lie on
 * each other. */
static void
test_joins_meet (void)
{
  g_autoptr (Pattern) pattern = one_rectangle (500, 500);
  g_autoptr (FileSheets) sheets = plan (pattern, "A4", FALSE);
  g_assert_cmpuint (file_sheets_count (sheets), ==, 6);
  PdfFile *file = save_and_read (sheets, "joins.pdf");
  g_autoptr (GArray) marks = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  for (guint i = 0; i < file->lines->len; i++)
    {
      const PdfLine *line = g_ptr_array_index (file->lines, i);
      if (!line->closed || line->curved || line->points->len != 4
          || !line->stroked)
        continue;
      const GeoPoint *p = (const GeoPoint *)(void *)line->points->data;
      /* A square of 8 mm on its corner. */
      if (fabs (geo_distance (p[0], p[2]) - 8) > 0.05
          || fabs (geo_distance (p[1], p[3]) - 8) > 0.05
          || fabs (p[0].y - p[2].y) > 0.05)
        continue;
      const char *name = file_sheets_page_name (sheets, line->page);
      GeoPoint on_strip = geo_lerp (p[0], p[2], 0.5);
      on_strip.x += 180 * (name[0] - 'A');
      on_strip.y += 267 * (name[1] - '1');
      g_array_append_val (marks, on_strip);
    }
  /* 3 x 2 sheets have 4 + 3 joins, of two marks, each on two sheets. */
  g_assert_cmpuint (marks->len, ==, 28);
  for (guint i = 0; i < marks->len; i++)
    {
      int same = 0;
      for (guint k = 0; k < marks->len; k++)
        same += geo_distance (g_array_index (marks, GeoPoint, i),
                              g_array_index (marks, GeoPoint, k))
                <= 0.05;
      g_assert_cmpint (same, ==, 2);
    }
  pdf_file_free (file);
}

/* 14,400 points are the most a page may be (ISO 32000-1, annex C). */
static void
test_long_roll (void)
{
  g_autoptr (Pattern) pattern = one_rectangle (400, 12000);
  g_autoptr (FileSheets) sheets = plan (pattern, "roll 24", TRUE);
  PdfFile *file = save_and_read (sheets, "roll.pdf");
  g_assert_cmpuint (file->sizes->len, ==, 3);
  double sum = 0;
  for (guint i = 0; i < file->sizes->len; i++)
    {
      GeoPoint size = g_array_index (file->sizes, GeoPoint, i);
      g_assert_cmpfloat (size.y, <=, 14400 * 25.4 / 72 + 1e-6);
      g_assert_cmpfloat_with_epsilon (size.x, 609.6, 0.0035);
      sum += size.y;
    }
  /* All of it and little more: margins, overlaps, and what the squares take. */
  g_assert_cmpfloat (sum, >, 12000);
  g_assert_cmpfloat (sum, <, 12000 + 3 * 20 + 2 * 10 + 160);
  g_autoptr (Pattern) less = one_rectangle (400, 300);
  g_autoptr (FileSheets) one = plan (less, "roll 36", FALSE);
  double width, height;
  file_sheets_size (one, 0, &width, &height);
  g_assert_cmpfloat_with_epsilon (height, 325, 1e-6);
  pdf_file_free (file);
}

static char *
bytes_of (FileSheets *sheets, gsize *length)
{
  char *bytes = NULL;
  GError *error = NULL;
  g_autofree char *path = g_build_filename (folder, "again.pdf", NULL);
  file_sheets_save_pdf (sheets, path, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &bytes, length, NULL));
  g_remove (path);
  return bytes;
}

/* The same pattern gives the same bytes, a second later too. */
static void
test_same_bytes (void)
{
  g_autoptr (Pattern) pattern = one_rectangle (400, 500);
  char *bytes[3];
  gsize length[3];
  for (int i = 0; i < 3; i++)
    {
      if (i == 1)
        g_usleep (1100 * 1000);
      if (i == 2)
        g_setenv ("SOURCE_DATE_EPOCH", "1700000000", TRUE);
      g_autoptr (FileSheets) sheets = plan (pattern, "A4", TRUE);
      bytes[i] = bytes_of (sheets, &length[i]);
    }
  g_unsetenv ("SOURCE_DATE_EPOCH");
  g_assert_cmpmem (bytes[0], length[0], bytes[1], length[1]);
  /* 1,700,000,000 s after 1970 is 14 November 2023, 22:13:20 UTC. */
  g_assert_nonnull (memmem (bytes[2], length[2], "(D:20231114221320Z)", 19));
  g_assert_null (memmem (bytes[0], length[0], "(D:2023", 7));
  for (int i = 0; i < 3; i++)
    g_free (bytes[i]);
}

typedef struct
{
  int calls, stop_at;
  double last;
} Watch;

static gboolean
watch (double done, gpointer data)
{
  Watch *w = data;
  w->calls++;
  g_assert_cmpfloat (done, >, w->last);
  g_assert_cmpfloat (done, <=, 1);
  w->last = done;
  return w->calls != w->stop_at;
}

static void
test_progress (void)
{
  g_autoptr (Pattern) pattern = one_rectangle (400, 500);
  g_autoptr (FileSheets) sheets = plan (pattern, "A4", TRUE);
  g_autofree char *path = g_build_filename (folder, "progress.pdf", NULL);
  GError *error = NULL;
  Watch w = { 0 };
  g_assert_true (file_sheets_save_pdf (sheets, path, watch, &w, &error));
  g_assert_cmpint (w.calls, ==, 7);
  g_assert_cmpfloat (w.last, ==, 1);
  g_remove (path);
  Watch stop = { .stop_at = 3 };
  g_assert_false (file_sheets_save_pdf (sheets, path, watch, &stop, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpint (stop.calls, ==, 3);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  g_clear_error (&error);
  /* And where it can't be written it says so. */
  g_autofree char *nowhere
      = g_build_filename (folder, "no", "such", "folder.pdf", NULL);
  g_assert_false (file_sheets_save_pdf (sheets, nowhere, NULL, NULL, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  folder = g_dir_make_tmp ("bodkin-sheets-XXXXXX", NULL);
  g_test_add_func ("/sheets/papers", test_papers);
  g_test_add_func ("/sheets/media-boxes", test_media_boxes);
  g_test_add_func ("/sheets/counts", test_counts);
  g_test_add_func ("/sheets/names", test_names);
  g_test_add_func ("/sheets/empty-left-out", test_empty_left_out);
  g_test_add_func ("/sheets/layouts", test_layouts);
  g_test_add_func ("/sheets/chosen", test_chosen_pieces);
  g_test_add_func ("/sheets/squares", test_squares);
  g_test_add_func ("/sheets/never-scaled", test_never_scaled);
  g_test_add_func ("/sheets/true-across-joins", test_true_across_joins);
  g_test_add_func ("/sheets/off-trim-lines", test_off_trim_lines);
  g_test_add_func ("/sheets/joins-meet", test_joins_meet);
  g_test_add_func ("/sheets/long-roll", test_long_roll);
  g_test_add_func ("/sheets/same-bytes", test_same_bytes);
  g_test_add_func ("/sheets/progress", test_progress);
  int status = g_test_run ();
  g_rmdir (folder);
  g_free (folder);
  return status;
}
