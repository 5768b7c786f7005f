/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pages as printed, made into pixels by a renderer that isn't ours (pdftoppm of poppler), and traced back: the lines are
 * where the pattern has them, by the picture's resolution and by the corners of the printed test square. */
#include <glib/gstdio.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "file/document.h"
#include "file/sheets-private.h"
#include "geometry/nearest.h"
#include "tracing/stroke.h"

#define DPI 200

typedef struct
{
  double worst, sum;
  double corner; /* the worst within 2 mm of a corner */
  guint count, lines, missed;
} Sums;

static char *
render (FileSheets *sheets, const char *folder, guint page)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *pdf = g_build_filename (folder, "page.pdf", NULL);
  g_autofree char *root = g_build_filename (folder, "page", NULL);
  g_autofree char *number = g_strdup_printf ("%u", page + 1);
  g_autofree char *dpi = g_strdup_printf ("%d", DPI);
  const char *argv[]
      = { "pdftoppm", "-r",   dpi,           "-gray", "-f", number,
          "-l",       number, "-singlefile", pdf,     root, NULL };
  int status;
  file_sheets_save_pdf (sheets, pdf, NULL, NULL, &error);
  g_assert_no_error (error);
  g_spawn_sync (NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL,
                NULL, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_cmpint (status, ==, 0);
  g_remove (pdf);
  return g_strconcat (root, ".pgm", NULL);
}

static TracingPicture *
read_grey (const char *path)
{
  g_autofree char *text = NULL;
  gsize length;
  guint w = 0, h = 0, most = 0;
  int start = 0;
  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  g_assert_cmpint (sscanf (text, "P5 %u %u %u%n", &w, &h, &most, &start), ==,
                   3);
  g_assert_cmpuint (length, ==, (gsize)start + 1 + (gsize)w * h);
  guint8 *rgb = g_malloc (3 * (gsize)w * h);
  for (gsize i = 0; i < (gsize)w * h; i++)
    memset (rgb + 3 * i, text[(gsize)start + 1 + i], 3);
  g_remove (path);
  return tracing_picture_new (w, h, 3 * (gsize)w, rgb, geo_point (0, 0), g_free,
                              rgb);
}

static gboolean
is_near_corner (const GeoChain *truth, GeoPoint p)
{
  for (size_t i = 0; i < truth->count; i++)
    {
      const GeoCubic *before
          = &truth->cubics[(i + truth->count - 1) % truth->count];
      if (geo_distance (truth->cubics[i].p[0], p) < 2
          && fabs (geo_angle_between (geo_cubic_tangent (before, 1),
                                      geo_cubic_tangent (&truth->cubics[i], 0)))
                 > 0.3)
        return TRUE;
    }
  return FALSE;
}

/* How far places of the line lie from the other. */
static void
compare (const GeoChain *line, const GeoChain *other, const GeoChain *truth,
         Sums *sums)
{
  for (size_t i = 0; i < line->count; i++)
    for (int k = 0; k < 20; k++)
      {
        GeoPoint p = geo_cubic_point (&line->cubics[i], k / 20.0);
        double d = geo_chain_nearest (other, p, NULL);
        double *most = is_near_corner (truth, p) ? &sums->corner : &sums->worst;
        *most = fmax (*most, d);
        sums->sum += d;
        sums->count++;
      }
}

static void
trace_back (TracingPicture *picture, const TracingPlane *plane,
            const GeoChain *truth, Sums *sums)
{
  GeoChain rough = GEO_CHAIN_EMPTY, result = GEO_CHAIN_EMPTY;
  double seen, off;
  geo_chain_append_chain (&rough, truth);
  geo_chain_transform (&rough, geo_motion_move (0.4, -0.3));
  if (tracing_snap_chain (picture, plane, &rough, TRACING_TO_LINE, 1, 0.05,
                          &result, &seen, &off))
    {
      compare (&result, truth, truth, sums);
      compare (truth, &result, truth, sums);
      sums->lines++;
    }
  else
    sums->missed++;
  geo_chain_clear (&rough);
  geo_chain_clear (&result);
}

/* The square's corners, drawn to its own lines. */
static gboolean
plane_of_square (TracingPicture *picture, const TracingPlane *about,
                 GeoPoint corner, TracingPlane *plane)
{
  const GeoPoint at[4] = { { 0, 0 }, { 100, 0 }, { 100, 100 }, { 0, 100 } };
  GeoChain square = GEO_CHAIN_EMPTY, result = GEO_CHAIN_EMPTY;
  GeoPoint px[4];
  double seen, off;
  for (int k = 0; k < 4; k++)
    geo_chain_append_line (
        &square, geo_add (corner, geo_add (at[k], geo_point (0.3, 0.2))),
        geo_add (corner, geo_add (at[(k + 1) % 4], geo_point (0.3, 0.2))));
  gboolean good = tracing_snap_chain (picture, about, &square, TRACING_TO_LINE,
                                      1, 0.1, &result, &seen, &off);
  for (int k = 0; k < 4 && good; k++)
    {
      GeoPlace place;
      geo_chain_nearest (&result, geo_add (corner, at[k]), &place);
      px[k] = tracing_plane_to_px (about, geo_chain_point (&result, place));
    }
  good = good && tracing_plane_from_corners (px, 100, 100, plane, NULL);
  geo_chain_clear (&square);
  geo_chain_clear (&result);
  return good;
}

/* A tile's page in its own millimetres. */
static GeoPoint
page_offset (const FileSheets *s, GeoBox tile)
{
  return geo_point (s->options.margin - tile.x0, s->options.margin - tile.y0);
}

static gboolean
is_within (GeoBox box, GeoBox tile)
{
  return box.x0 > tile.x0 && box.y0 > tile.y0 && box.x1 < tile.x1
         && box.y1 < tile.y1;
}

static void
check_page (FileSheets *s, TracingPicture *picture, GeoBox tile, Sums by[2],
            guint *squares)
{
  TracingPlane plane, own;
  GeoPoint square = { 0, 0 };
  gboolean has_square = FALSE;
  GeoPoint move = page_offset (s, tile);
  g_assert_true (tracing_plane_from_resolution (
      geo_point (DPI / 25.4, DPI / 25.4), &plane, NULL));
  for (guint i = 0; i < s->items->len; i++)
    {
      const SheetItem *item = &g_array_index (s->items, SheetItem, i);
      GeoPoint corner = geo_add (geo_point (item->box.x0, item->box.y0), move);
      if (item->piece != NULL || !is_within (item->box, tile))
        continue;
      g_assert_true (plane_of_square (picture, &plane, corner, &own));
      (*squares)++;
      square = corner;
      has_square = TRUE;
      for (int k = 0; k < 4; k++)
        {
          GeoPoint at = geo_add (corner, geo_point (k % 2 * 100, k / 2 * 100));
          GeoPoint seen
              = tracing_plane_to_mm (&own, tracing_plane_to_px (&plane, at));
          g_assert_cmpfloat (geo_distance (seen, geo_sub (at, corner)), <, 0.1);
        }
    }
  for (guint i = 0; i < s->items->len; i++)
    {
      const SheetItem *item = &g_array_index (s->items, SheetItem, i);
      GeoChain truth = GEO_CHAIN_EMPTY;
      if (item->piece == NULL || !is_within (item->box, tile))
        continue;
      geo_chain_append_chain (&truth, &item->cut);
      geo_chain_transform (&truth, geo_motion_move (move.x, move.y));
      trace_back (picture, &plane, &truth, &by[0]);
      geo_chain_transform (&truth, geo_motion_move (-square.x, -square.y));
      if (has_square)
        trace_back (picture, &own, &truth, &by[1]);
      geo_chain_clear (&truth);
    }
}

static void
test_back (void)
{
  static const char *const names[] = { "ferry-cape.bodkin", "slopers.bodkin" };
  g_autofree char *found = g_find_program_in_path ("pdftoppm");
  if (found == NULL)
    {
      g_test_skip ("pdftoppm is not here");
      return;
    }
  g_autofree char *folder = g_dir_make_tmp ("printed-XXXXXX", NULL);
  Sums by[2] = { 0 };
  guint squares = 0;
  for (guint k = 0; k < G_N_ELEMENTS (names); k++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *path
          = g_build_filename (g_getenv ("BODKIN_DATA"), names[k], NULL);
      g_autoptr (Pattern) pattern = file_document_load (path, &error);
      g_assert_no_error (error);
      /* large enough that no piece lies over lines to trim by */
      FilePaper paper = { "B1", 707, 1000 };
      FileSheetOptions o = file_sheet_options_default (&paper);
      o.overview
          = TRUE; /* on paper as large the squares lie among the pieces */
      g_autoptr (FileSheets) s = file_sheets_plan (pattern, &o, &error);
      g_assert_no_error (error);
      for (guint page = 0; page < s->pages->len && page < 2; page++)
        {
          guint tile = g_array_index (s->pages, guint, page);
          g_autofree char *pgm = render (s, folder, page);
          g_autoptr (TracingPicture) picture = read_grey (pgm);
          check_page (s, picture,
                      file_sheet_tile (s, tile % s->columns, tile / s->columns),
                      by, &squares);
        }
    }
  g_rmdir (folder);
  for (int k = 0; k < 2; k++)
    {
      g_test_message ("by %s: %u lines (%u missed): worst %.3f, at corners "
                      "%.3f, mean %.3f mm",
                      k == 0 ? "the resolution" : "the square", by[k].lines,
                      by[k].missed, by[k].worst, by[k].corner,
                      by[k].sum / by[k].count);
      g_assert_cmpuint (by[k].lines, >=, 2);
      g_assert_cmpuint (by[k].missed, ==, 0);
    }
  g_assert_cmpuint (squares, >=, 1);
  g_assert_cmpfloat (by[0].worst, <, 0.1);
  g_assert_cmpfloat (by[0].corner, <, 0.15);
  /* pieces lie up to nine of the square's sides away from it */
  g_assert_cmpfloat (by[1].worst, <, 0.2);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/file/printed/traced-back", test_back);
  return g_test_run ();
}
