/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Corners and outlines of shapes drawn by others and rendered by librsvg: two stars and a cross of the
 * Debian package iso-flags-svg, whose own files say where their corners are. One of the file's units counts as a mm.
 *
 * The renderer mixes bytes of sRGB at an edge, where a camera mixes light, so that its edges lie up to a
 * quarter of a pixel off, all round alike: 0.06 mm at four pixels a mm.
 */
#include <cairo.h>
#include <librsvg/rsvg.h>
#include <string.h>

#include "line-measure.h"
#include "picture-maker.h"

#define DOTS 4
#define FOLDER "/usr/share/iso-flags-svg/country-4x3"

static TracingPicture *
render (const char *path)
{
  GError *error = NULL;
  RsvgHandle *handle = rsvg_handle_new_from_file (path, &error);
  g_assert_no_error (error);
  RsvgRectangle view = { 0, 0, 640 * DOTS, 480 * DOTS };
  cairo_surface_t *s
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 640 * DOTS, 480 * DOTS);
  cairo_t *cr = cairo_create (s);
  rsvg_handle_render_document (handle, cr, &view, &error);
  g_assert_no_error (error);
  cairo_surface_flush (s);
  guint8 *rgb = g_malloc (3 * 640 * 480 * DOTS * DOTS), *to = rgb;
  for (int y = 0; y < 480 * DOTS; y++)
    {
      const guint32 *row
          = (const guint32 *)(gpointer)(cairo_image_surface_get_data (s)
                                        + y
                                              * cairo_image_surface_get_stride (
                                                  s));
      for (int x = 0; x < 640 * DOTS; x++, to += 3)
        {
          to[0] = (guint8)(row[x] >> 16);
          to[1] = (guint8)(row[x] >> 8);
          to[2] = (guint8)row[x];
        }
    }
  g_object_unref (handle);
  cairo_destroy (cr);
  cairo_surface_destroy (s);
  return tracing_picture_new (640 * DOTS, 480 * DOTS, 3 * 640 * DOTS, rgb,
                              geo_point (0, 0), g_free, rgb);
}

/* Numbers in a row; a sign starts one too. */
static gsize
read_numbers (const char *at, double *v, gsize room)
{
  gsize n = 0;
  while (*at != '\0' && n < room)
    {
      char *end;
      if (*at == ' ' || *at == ',' || *at == '\n')
        {
          at++;
          continue;
        }
      double x = g_ascii_strtod (at, &end);
      if (end == at)
        break;
      v[n++] = x;
      at = end;
    }
  return n;
}

/* The file's first path with relative steps only, as its group moves it. */
static gsize
read_star (const char *text, GeoPoint *q)
{
  double v[22], m[6];
  const char *path = strstr (text, "<path"), *matrix;
  g_assert_nonnull (path);
  const char *d = strstr (path, " d=\"m");
  matrix = g_strrstr_len (text, path - text, "matrix(");
  g_assert_true (d != NULL && matrix != NULL);
  g_assert_cmpuint (read_numbers (matrix + 7, m, 6), ==, 6);
  gsize n = read_numbers (d + 5, v, 22) / 2;
  GeoPoint at = { 0, 0 };
  for (gsize i = 0; i < n; i++)
    {
      at = geo_add (at, geo_point (v[2 * i], v[2 * i + 1]));
      q[i] = geo_point (m[0] * at.x + m[2] * at.y + m[4],
                        m[1] * at.x + m[3] * at.y + m[5]);
    }
  /* the last step may lead back to the start */
  return geo_distance (q[0], q[n - 1]) < 1 ? n - 1 : n;
}

static double
read_attribute (const char *rect, const char *name)
{
  const char *at = strstr (rect, name);
  g_assert_nonnull (at);
  return g_ascii_strtod (at + strlen (name), NULL);
}

/* Two bars across each other. */
static gsize
read_cross (const char *text, GeoPoint *q)
{
  double m[6], x[4], y[4];
  const char *matrix = strstr (text, "matrix(");
  g_assert_nonnull (matrix);
  g_assert_cmpuint (read_numbers (matrix + 7, m, 6), ==, 6);
  const char *flat = strstr (matrix, "<rect"),
             *tall = strstr (flat + 1, "<rect");
  x[0] = read_attribute (flat, " x=\"");
  x[3] = x[0] + read_attribute (flat, " width=\"");
  y[1] = read_attribute (flat, " y=\"");
  y[2] = y[1] + read_attribute (flat, " height=\"");
  x[1] = read_attribute (tall, " x=\"");
  x[2] = x[1] + read_attribute (tall, " width=\"");
  y[0] = read_attribute (tall, " y=\"");
  y[3] = y[0] + read_attribute (tall, " height=\"");
  static const int ix[12] = { 1, 2, 2, 3, 3, 2, 2, 1, 1, 0, 0, 1 };
  static const int iy[12] = { 0, 0, 1, 1, 2, 2, 3, 3, 2, 2, 1, 1 };
  for (int i = 0; i < 12; i++)
    q[i] = geo_point (m[0] * x[ix[i]] + m[4], m[3] * y[iy[i]] + m[5]);
  return 12;
}

static void
test_shape (gconstpointer name)
{
  GError *error = NULL;
  g_autofree char *path
      = g_strdup_printf ("%s/%s.svg", FOLDER, (const char *)name);
  g_autofree char *text = NULL;
  if (!g_file_get_contents (path, &text, NULL, NULL))
    {
      g_test_skip ("iso-flags-svg is not installed");
      return;
    }
  GeoPoint q[16];
  GeoChain truth = GEO_CHAIN_EMPTY;
  TracingPlane plane;
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  gsize n
      = strcmp (name, "ch") == 0 ? read_cross (text, q) : read_star (text, q);
  maker_polygon (&truth, q, n);
  g_autoptr (TracingPicture) picture = render (path);
  tracing_plane_from_resolution (geo_point (DOTS, DOTS), &plane, &error);
  g_assert_no_error (error);
  g_autoptr (TracingParts) parts = tracing_parts_new (
      picture, &plane, TRACING_CARD_ANY, NULL, NULL, &error);
  g_assert_no_error (error);
  g_autoptr (GArray) lines
      = tracing_find_shapes (parts, &plane, &wish, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (lines->len, ==, 1);
  LineMeasure m = line_measure (&g_array_index (lines, TracingLine, 0), &truth);
  g_test_message ("%s: worst %.3f, mean %.3f, corners %.3f mm",
                  (const char *)name, m.worst, m.mean, m.corner);
  g_assert_cmpuint (m.true_corners, ==, n);
  g_assert_cmpuint (m.corners, ==, n);
  g_assert_cmpfloat (m.nodes, ==, 1);
  g_assert_cmpfloat (m.mean, <, 0.08);
  /* at a star's point, a third of a right angle, the same quarter of a pixel counts thrice, and noise with it */
  g_assert_cmpfloat (m.worst, <, 0.35);
  g_assert_cmpfloat (m.corner, <, 0.35);
  geo_chain_clear (&truth);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/open-shapes/cross", "ch", test_shape);
  g_test_add_data_func ("/open-shapes/star", "so", test_shape);
  g_test_add_data_func ("/open-shapes/large-star", "vn", test_shape);
  return g_test_run ();
}
