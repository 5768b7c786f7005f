/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture of card slopers that comes with the program gives both of them true to half a
 * millimetre, through the sheet of A4 that lies in it. */
#include <gdk-pixbuf/gdk-pixbuf.h>

#include "demo-slopers.h"
#include "line-measure.h"
#include "tracing/sheet.h"

static TracingPicture *
load (void)
{
  GError *error = NULL;
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_DATA"), "ferry-sloper.jpg", NULL);
  GdkPixbuf *p = gdk_pixbuf_new_from_file (path, &error);
  g_assert_no_error (error);
  g_assert_cmpint (gdk_pixbuf_get_n_channels (p), ==, 3);
  return tracing_picture_new (
      (guint)gdk_pixbuf_get_width (p), (guint)gdk_pixbuf_get_height (p),
      (gsize)gdk_pixbuf_get_rowstride (p), gdk_pixbuf_read_pixels (p),
      geo_point (0, 0), g_object_unref, p);
}

/* The motion from the sheet's own place to the table's. */
static void
lay_sheet (const DemoSlopers *demo, const TracingPlane *plane,
           const TracingSheet *sheet, GeoMotion *motion)
{
  GeoPoint mm[4], best[4];
  double least = INFINITY;
  for (int i = 0; i < 4; i++)
    mm[i] = tracing_plane_to_mm (plane, sheet->corners[i]);
  /* from which of its corners it was gone round isn't known */
  for (int turn = 0; turn < 8; turn++)
    {
      GeoMotion m;
      double off[4], worst = 0;
      for (int i = 0; i < 4; i++)
        best[i] = demo->sheet[(turn < 4 ? turn + i : turn - i) % 4];
      if (!tracing_lay_marks (best, mm, 4, &m, off))
        continue;
      for (int i = 0; i < 4; i++)
        worst = fmax (worst, off[i]);
      if (worst < least)
        {
          least = worst;
          *motion = m;
        }
    }
  g_test_message ("the sheet is off by %.3f mm", least);
  g_assert_cmpfloat (least, <, 0.3);
}

static void
compare (const GArray *lines, const GeoChain *truth, const char *name)
{
  const TracingLine *line = line_measure_nearest (lines, truth);
  g_assert_nonnull (line);
  LineMeasure m = line_measure (line, truth);
  g_test_message ("%s: worst %.3f, mean %.3f, corners %.3f mm, %.2f nodes",
                  name, m.worst, m.mean, m.corner, m.nodes);
  g_assert_cmpfloat (m.worst, <, 0.5);
  g_assert_cmpfloat (m.mean, <, 0.15);
  g_assert_cmpfloat (m.corner, <, 0.5);
  g_assert_cmpuint (m.corners, ==, m.true_corners);
  g_assert_cmpfloat (m.nodes, <=, 1.3);
  g_assert_cmpuint (line->n_darts, ==, 1);
}

static void
test_demo (void)
{
  DemoSlopers demo;
  TracingSheet sheet[2];
  TracingPlane plane;
  GeoMotion motion;
  GError *error = NULL;
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_DATA"), "slopers.bodkin", NULL);
  demo_slopers_init (&demo, path);
  g_autoptr (TracingPicture) picture = load ();
  g_assert_cmpuint (tracing_find_sheets (picture, 210, 297, NULL, sheet, 2), >,
                    0);
  tracing_plane_from_corners (sheet[0].corners, 210, 297, &plane, &error);
  g_assert_no_error (error);
  lay_sheet (&demo, &plane, &sheet[0], &motion);
  g_autoptr (TracingParts) parts = tracing_parts_new (
      picture, &plane, TRACING_CARD_ANY, NULL, NULL, &error);
  g_assert_no_error (error);
  g_autoptr (GArray) lines
      = tracing_find_shapes (parts, &plane, &wish, NULL, NULL, &error);
  g_assert_no_error (error);
  /* both pieces and the sheet itself */
  g_assert_cmpuint (lines->len, ==, 3);
  for (guint i = 0; i < lines->len; i++)
    geo_chain_transform (&g_array_index (lines, TracingLine, i).chain, motion);
  compare (lines, &demo.back, "back");
  compare (lines, &demo.front, "front");
  demo_slopers_clear (&demo);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/demo/slopers", test_demo);
  return g_test_run ();
}
