/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines found in made pictures, beside the truth they were made from. */
#include <glib.h>
#include <string.h>

#include "geometry/region.h"
#include "line-measure.h"
#include "picture-maker.h"

static GArray *
find (TracingPicture *picture, const TracingPlane *plane)
{
  GError *error = NULL;
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  g_autoptr (TracingParts) parts = tracing_parts_new (
      picture, plane, TRACING_CARD_ANY, NULL, NULL, &error);
  g_assert_no_error (error);
  GArray *lines = tracing_find_shapes (parts, plane, &wish, NULL, NULL, &error);
  g_assert_no_error (error);
  return lines;
}

static void
test_clean (void)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ -20, 0, 270, 460 });
  MakerLook look = MAKER_LOOK;
  TracingPlane plane;
  GeoChain truth = GEO_CHAIN_EMPTY;
  maker_bodice (&truth, geo_point (0, 0), 28, 110);
  maker_add_shape (maker, &truth, MAKER_CARD);
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
  g_autoptr (GArray) lines = find (picture, &plane);
  g_assert_cmpuint (lines->len, ==, 1);
  const TracingLine *line = &g_array_index (lines, TracingLine, 0);
  LineMeasure m = line_measure (line, &truth);
  g_assert_cmpfloat (m.worst, <, 0.3);
  g_assert_cmpfloat (m.mean, <, 0.05);
  g_assert_cmpfloat (m.corner, <, 0.1);
  g_assert_cmpfloat (m.nodes, <=, 1);
  g_assert_cmpuint (line->n_darts, ==, 1);
  g_assert_cmpfloat_with_epsilon (line->darts[0].width, 28, 0.3);
  geo_chain_clear (&truth);
}

/* Slant, blur, noise, light, a ruled mat, a shadow and JPEG all at once, in two ways. */
static void
test_all_at_once (void)
{
  for (int way = 0; way < 2; way++)
    {
      MakerLook look = MAKER_LOOK;
      TracingPlane plane;
      GeoChain truth = GEO_CHAIN_EMPTY;
      g_autoptr (Maker) maker = maker_new ((GeoBox){ -30, -20, 270, 470 });
      look.tilt = 25 * G_PI / 180;
      look.around = way ? 2 : 0.7;
      look.blur = way ? 2 : 1;
      look.noise = 8;
      look.light = 0.5;
      look.jpeg = 80;
      look.ruling = 10;
      look.shadow = 5;
      look.grain = 0.05;
      maker_bodice (&truth, geo_point (0, 0), 28, 110);
      maker_add_shape (maker, &truth, MAKER_CARD);
      g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
      g_autoptr (GArray) lines = find (picture, &plane);
      g_assert_cmpuint (lines->len, ==, 1);
      LineMeasure m
          = line_measure (&g_array_index (lines, TracingLine, 0), &truth);
      g_assert_cmpfloat (m.worst, <=, 0.5);
      g_assert_cmpfloat (m.mean, <=, 0.15);
      g_assert_cmpfloat (m.corner, <=, 0.5);
      g_assert_cmpfloat (m.nodes, <=, 1.3);
      g_assert_cmpuint (m.corners, ==, m.true_corners);
      geo_chain_clear (&truth);
    }
}

/* Dark card on a light table, its soft shadow on the side away from the light. */
static void
test_dark (void)
{
  MakerLook look = MAKER_LOOK;
  TracingPlane plane;
  GeoChain truth = GEO_CHAIN_EMPTY;
  GeoPoint p[5]
      = { { 0, 0 }, { 120, 10 }, { 140, 90 }, { 60, 130 }, { 5, 80 } };
  g_autoptr (Maker) maker = maker_new ((GeoBox){ -30, -30, 170, 160 });
  look.table = 0xe0d8c8;
  look.shadow = 6;
  look.light = 0.3;
  look.noise = 3;
  maker_polygon (&truth, p, 5);
  maker_add_shape (maker, &truth, 0x54382c);
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
  g_autoptr (GArray) lines = find (picture, &plane);
  g_assert_cmpuint (lines->len, ==, 1);
  LineMeasure m = line_measure (&g_array_index (lines, TracingLine, 0), &truth);
  g_assert_cmpfloat (m.worst, <, 0.3);
  g_assert_cmpuint (m.corners, ==, 5);
  g_assert_cmpfloat (m.nodes, ==, 1);
  geo_chain_clear (&truth);
}

typedef struct
{
  Maker *maker;
  TracingPicture *picture;
  TracingPlane plane;
  TracingParts *parts;
} Several;

/* A square with a round hole, a smaller square, and one that runs out of the picture. */
static void
several_init (Several *s)
{
  GeoChain hole = GEO_CHAIN_EMPTY;
  MakerLook look = MAKER_LOOK;
  GError *error = NULL;
  s->maker = maker_new ((GeoBox){ 0, 0, 300, 160 });
  maker_add_rectangle (s->maker, geo_point (20, 20), 100, 110, 0.1, MAKER_CARD,
                       NULL);
  maker_circle (&hole, geo_point (70, 80), 20);
  maker_add_hole (s->maker, &hole);
  maker_add_rectangle (s->maker, geo_point (160, 40), 60, 50, 0, MAKER_CARD,
                       NULL);
  maker_add_rectangle (s->maker, geo_point (250, 60), 90, 50, 0, MAKER_CARD,
                       NULL);
  s->picture = maker_make (s->maker, &look, &s->plane);
  s->parts = tracing_parts_new (s->picture, &s->plane, TRACING_CARD_ANY, NULL,
                                NULL, &error);
  g_assert_no_error (error);
  geo_chain_clear (&hole);
}

static void
several_clear (Several *s)
{
  tracing_parts_unref (s->parts);
  tracing_picture_unref (s->picture);
  maker_free (s->maker);
}

static GArray *
several_find (const Several *s, const TracingShapeWish *wish)
{
  GError *error = NULL;
  GArray *lines
      = tracing_find_shapes (s->parts, &s->plane, wish, NULL, NULL, &error);
  g_assert_no_error (error);
  return lines;
}

static void
test_several (void)
{
  Several s;
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  several_init (&s);
  GArray *lines = several_find (&s, &wish);
  const TracingLine *line = (const TracingLine *)(gpointer)lines->data;
  g_assert_cmpuint (lines->len, ==, 2);
  g_assert_cmpfloat_with_epsilon (geo_chain_area (&line[0].chain), 11000, 30);
  g_assert_cmpfloat_with_epsilon (geo_chain_area (&line[1].chain), 3000, 15);
  g_array_unref (lines);

  wish.holes = wish.touching = TRUE;
  lines = several_find (&s, &wish);
  line = (const TracingLine *)(gpointer)lines->data;
  g_assert_cmpuint (lines->len, ==, 4);
  g_assert_cmpint (line[1].hole_of, ==, 0);
  g_assert_cmpfloat_with_epsilon (geo_chain_area (&line[1].chain), G_PI * 400,
                                  5);
  g_assert_false (line[2].cut_off);
  g_assert_true (line[3].cut_off);
  g_array_unref (lines);

  wish = TRACING_SHAPE_WISH;
  wish.clicked = TRUE;
  wish.at = maker_see (&s.plane, geo_point (190, 60));
  lines = several_find (&s, &wish);
  line = (const TracingLine *)(gpointer)lines->data;
  g_assert_cmpuint (lines->len, ==, 1);
  g_assert_cmpfloat_with_epsilon (geo_chain_area (&line[0].chain), 3000, 15);
  g_array_unref (lines);

  wish = TRACING_SHAPE_WISH;
  wish.largest = TRUE;
  lines = several_find (&s, &wish);
  g_assert_cmpuint (lines->len, ==, 1);
  g_array_unref (lines);

  GError *error = NULL;
  wish.largest = FALSE;
  wish.clicked = TRUE;
  wish.at = geo_point (3, 3);
  g_assert_null (
      tracing_find_shapes (s.parts, &s.plane, &wish, NULL, NULL, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_NOTHING);
  g_error_free (error);
  several_clear (&s);
}

/* The preview shows the share that is piece, and its places agree with what is told of them. */
static void
test_preview (void)
{
  Several s;
  several_init (&s);
  guint width = tracing_picture_get_width (s.picture);
  guint height = tracing_picture_get_height (s.picture);
  double level = tracing_parts_get_level (s.parts);
  for (guint shrink = 1; shrink < 6; shrink += 2)
    {
      guint w = (width + shrink - 1) / shrink,
            h = (height + shrink - 1) / shrink;
      g_autofree guint8 *mask = g_malloc ((gsize)w * h);
      double sum = 0;
      tracing_parts_preview (s.parts, level, shrink, mask, w);
      for (guint i = 0; i < w * h; i++)
        sum += mask[i] / 255.0;
      double mm2 = sum * shrink * shrink / 25;
      g_test_message ("shrink %u level %.2f: %.1f mm2", shrink, level, mm2);
      g_assert_cmpfloat_with_epsilon (mm2, 11000 - G_PI * 400 + 3000 + 2500,
                                      120);
    }
  g_assert_cmpfloat (
      tracing_parts_at (s.parts, maker_see (&s.plane, geo_point (40, 40))), >,
      0.9);
  g_assert_cmpfloat (
      tracing_parts_at (s.parts, maker_see (&s.plane, geo_point (140, 40))), <,
      0.1);
  several_clear (&s);
}

/* Of a sheet and two cards, those like the one pointed at. */
static void
test_like (void)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 260, 120 });
  MakerLook look = MAKER_LOOK;
  TracingPlane plane;
  GError *error = NULL;
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  look.light = 0.3;
  maker_add_rectangle (maker, geo_point (20, 20), 60, 70, 0.1, 0x9a4034, NULL);
  maker_add_rectangle (maker, geo_point (110, 20), 50, 70, 0, MAKER_PAPER,
                       NULL);
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
  g_autoptr (TracingParts) parts = tracing_parts_new_like (
      picture, &plane, maker_see (&plane, geo_point (45, 60)), NULL, NULL,
      &error);
  g_assert_no_error (error);
  wish.clicked = TRUE;
  wish.at = maker_see (&plane, geo_point (45, 60));
  g_autoptr (GArray) lines
      = tracing_find_shapes (parts, &plane, &wish, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (lines->len, ==, 1);
  g_assert_cmpfloat_with_epsilon (
      geo_chain_area (&g_array_index (lines, TracingLine, 0).chain), 4200, 25);
}

/* --- bad input -------------------------------------------------------------- */

static TracingPicture *
plain (guint width, guint height, guint8 value, gboolean noisy)
{
  gsize n = 3 * (gsize)width * height;
  guint8 *rgb = g_malloc (n);
  memset (rgb, value, n);
  for (gsize i = 0; i < n && noisy; i++)
    rgb[i] = (guint8)g_test_rand_int_range (0, 256);
  return tracing_picture_new (width, height, 3 * (gsize)width, rgb,
                              geo_point (0, 0), g_free, rgb);
}

static void
test_one_colour (void)
{
  static const guint sides[] = { 1, 2, 16, 300 };
  for (guint i = 0; i < G_N_ELEMENTS (sides); i++)
    {
      GError *error = NULL;
      g_autoptr (TracingPicture) picture
          = plain (sides[i], sides[G_N_ELEMENTS (sides) - 1 - i], 120, FALSE);
      g_assert_null (tracing_parts_new (picture, NULL, TRACING_CARD_ANY, NULL,
                                        NULL, &error));
      g_assert_error (error, TRACING_ERROR, TRACING_ERROR_NOTHING);
      g_error_free (error);
    }
}

static void
test_noise (void)
{
  TracingPlane plane;
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  GError *error = NULL;
  g_autoptr (TracingPicture) picture = plain (900, 700, 0, TRUE);
  tracing_plane_from_resolution (geo_point (5, 5), &plane, NULL);
  wish.least_area = 1;
  wish.touching = TRUE;
  g_autoptr (TracingParts) parts = tracing_parts_new (
      picture, &plane, TRACING_CARD_ANY, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_null (
      tracing_find_shapes (parts, &plane, &wish, NULL, NULL, &error));
  g_assert_true (
      g_error_matches (error, TRACING_ERROR, TRACING_ERROR_TOO_MUCH)
      || g_error_matches (error, TRACING_ERROR, TRACING_ERROR_NOTHING));
  g_error_free (error);
}

/* A chequerboard of 2 mm: more pieces than could be. */
static void
test_texture (void)
{
  TracingPlane plane;
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  GError *error = NULL;
  guint8 *rgb = g_malloc (3 * 800 * 600);
  for (guint y = 0; y < 600; y++)
    for (guint x = 0; x < 800; x++)
      memset (rgb + 3 * (y * 800 + x), (x / 20 + y / 20) % 2 ? 220 : 40, 3);
  g_autoptr (TracingPicture) picture = tracing_picture_new (
      800, 600, 2400, rgb, geo_point (0, 0), g_free, rgb);
  tracing_plane_from_resolution (geo_point (10, 10), &plane, NULL);
  wish.least_area = 1;
  wish.touching = TRUE;
  g_autoptr (TracingParts) parts = tracing_parts_new (
      picture, &plane, TRACING_CARD_ANY, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_null (
      tracing_find_shapes (parts, &plane, &wish, NULL, NULL, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_TOO_MUCH);
  g_error_free (error);
}

static gboolean
stop (double share, gpointer data)
{
  double *last = data;
  g_assert_cmpfloat (share, >=, *last);
  *last = share;
  return share < 0.5;
}

static void
test_cancel (void)
{
  Several s;
  GError *error = NULL;
  double last = 0;
  several_init (&s);
  g_assert_null (tracing_parts_new (s.picture, &s.plane, TRACING_CARD_ANY, stop,
                                    &last, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_CANCELLED);
  g_error_free (error);
  several_clear (&s);
}

/* --- lines laid along points --------------------------------------------------- */

static void
test_points (void)
{
  GeoPoint q[400];
  TracingLine line;
  for (int i = 0; i < 400; i++)
    q[i] = geo_point (60 * cos (i * G_PI / 200), 60 * sin (i * G_PI / 200));
  g_assert_true (tracing_line_fit (q, 400, TRUE, 0.1, 0.9, &line));
  g_assert_cmpfloat_with_epsilon (geo_chain_area (&line.chain), G_PI * 3600,
                                  12);
  g_assert_cmpuint (line.chain.count, <=, 4);
  for (gsize i = 0; i < line.chain.count; i++)
    g_assert_false (line.corner[i]);
  tracing_line_clear (&line);

  /* an open line with one right angle */
  for (int i = 0; i < 200; i++)
    q[i] = i < 100 ? geo_point (i, 0) : geo_point (100, i - 100);
  g_assert_true (tracing_line_fit (q, 200, FALSE, 0.1, 1, &line));
  g_assert_cmpuint (line.chain.count, ==, 2);
  g_assert_true (line.corner[0] && line.corner[1] && line.corner[2]);
  g_assert_cmpfloat (
      geo_distance (line.chain.cubics[1].p[0], geo_point (100, 0)), <, 1e-6);
  g_assert_true (geo_same (geo_chain_start (&line.chain), q[0]));
  g_assert_true (geo_same (geo_chain_end (&line.chain), q[199]));
  tracing_line_clear (&line);
  g_assert_false (tracing_line_fit (q, 2, FALSE, 0.1, 1, &line));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/clean", test_clean);
  g_test_add_func ("/shape/all-at-once", test_all_at_once);
  g_test_add_func ("/shape/dark", test_dark);
  g_test_add_func ("/shape/several", test_several);
  g_test_add_func ("/shape/preview", test_preview);
  g_test_add_func ("/shape/like", test_like);
  g_test_add_func ("/shape/one-colour", test_one_colour);
  g_test_add_func ("/shape/noise", test_noise);
  g_test_add_func ("/shape/texture", test_texture);
  g_test_add_func ("/shape/cancel", test_cancel);
  g_test_add_func ("/shape/points", test_points);
  return g_test_run ();
}
