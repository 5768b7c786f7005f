/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Centre lines of drawn strokes, in made pictures whose truth is known. */
#include <math.h>
#include <string.h>

#include "geometry/length.h"
#include "geometry/nearest.h"
#include "geometry/region.h"
#include "line-measure.h"
#include "picture-maker.h"
#include "tracing/stroke.h"

static const GeoCubic arc
    = { { { 20, 80 }, { 40, 20 }, { 110, 20 }, { 140, 70 } } };

static MakerLook
rough_look (void)
{
  MakerLook look = MAKER_LOOK;
  look.table = MAKER_PAPER;
  look.tilt = 15 * G_PI / 180;
  look.noise = 5;
  look.light = 0.4;
  look.blur = 0.8;
  look.grain = 0.01;
  return look;
}

static GArray *
find (TracingPicture *picture, const TracingPlane *plane)
{
  g_autoptr (GError) error = NULL;
  TracingStrokeWish wish = TRACING_STROKE_WISH;
  GArray *lines
      = tracing_find_strokes (picture, plane, &wish, NULL, NULL, &error);
  g_assert_no_error (error);
  return lines;
}

static void
check_line (const TracingLine *line, const GeoChain *truth)
{
  LineMeasure m = line_measure (line, truth);
  g_test_message ("worst %.3f mean %.3f mm, corner %.3f, nodes %.2f, wide "
                  "%.2f mm",
                  m.worst, m.mean, m.corner, m.nodes, line->blur);
  g_assert_cmpfloat (m.mean, <, 0.15);
  g_assert_cmpfloat (m.worst, <, 0.4);
}

/* A curve, by the light, the width and the pixels a mm. */
static void
test_open (void)
{
  static const double widths[3] = { 0.4, 0.7, 1.5 };
  static const double dots[3] = { 5, 8, 12 };
  GeoChain truth = GEO_CHAIN_EMPTY;
  geo_chain_append (&truth, arc);
  for (guint i = 0; i < 9; i++)
    {
      g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 160, 110 });
      MakerLook look = rough_look ();
      TracingPlane plane;
      look.dots = dots[i / 3];
      look.seed = i + 1;
      maker_add_stroke (maker, &truth, widths[i % 3], MAKER_PENCIL);
      g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
      g_autoptr (GArray) lines = find (picture, &plane);
      g_assert_cmpuint (lines->len, ==, 1);
      const TracingLine *line = &g_array_index (lines, TracingLine, 0);
      g_assert_false (line->closed);
      g_assert_cmpint (line->hole_of, ==, -1);
      check_line (line, &truth);
      g_assert_cmpfloat_with_epsilon (line->blur, widths[i % 3], 0.35);
    }
  geo_chain_clear (&truth);
}

/* A piece's outline with corners, and lines across that end at it. */
static void
test_closed (void)
{
  GeoChain truth = GEO_CHAIN_EMPTY, across = GEO_CHAIN_EMPTY;
  maker_bodice (&truth, geo_point (0, 0), 28, 110);
  GeoBox box = geo_chain_bounds (&truth);
  geo_chain_append_line (&across, geo_point (box.x0 - 8, 250),
                         geo_point (box.x1 + 8, 250));
  g_autoptr (Maker) maker = maker_new (geo_box_grow (box, 25));
  MakerLook look = rough_look ();
  TracingPlane plane;
  maker_add_stroke (maker, &truth, 0.7, MAKER_PENCIL);
  maker_add_stroke (maker, &across, 0.7, MAKER_PENCIL);
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
  g_autoptr (GArray) lines = find (picture, &plane);
  const TracingLine *line = &g_array_index (lines, TracingLine, 0);
  g_assert_true (line->closed);
  g_assert_true (geo_chain_is_closed (&line->chain));
  g_assert_cmpfloat (geo_chain_area (&line->chain), >, 0);
  check_line (line, &truth);
  g_test_message ("%u lines", lines->len);
  g_assert_cmpuint (lines->len, ==, 2);
  const TracingLine *side = &g_array_index (lines, TracingLine, 1);
  g_assert_false (side->closed);
  g_assert_cmpfloat (geo_chain_stray (&side->chain, &across, 40, NULL), <, 0.4);
  geo_chain_clear (&truth);
  geo_chain_clear (&across);
}

/* 4 mm are missing; what is 9 mm away is another line. */
static void
test_gap (void)
{
  for (guint wide = 0; wide < 2; wide++)
    {
      GeoChain truth = GEO_CHAIN_EMPTY;
      geo_chain_append (&truth, arc);
      double length = geo_chain_length (&truth, 1e-6);
      double half = (wide ? 4.5 : 2.15) / length;
      GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
      GeoCubic first, last, none;
      geo_cubic_split (&arc, 0.5 - half, &first, &none);
      geo_cubic_split (&arc, 0.5 + half, &none, &last);
      geo_chain_append (&a, first);
      geo_chain_append (&b, last);
      g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 160, 110 });
      MakerLook look = rough_look ();
      TracingPlane plane;
      maker_add_stroke (maker, &a, 0.6, MAKER_PENCIL);
      maker_add_stroke (maker, &b, 0.6, MAKER_PENCIL);
      g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
      g_autoptr (GArray) lines = find (picture, &plane);
      g_test_message ("gap %.2f mm: %u lines",
                      geo_distance (first.p[3], last.p[0]), lines->len);
      g_assert_cmpuint (lines->len, ==, wide ? 2 : 1);
      if (!wide)
        check_line (&g_array_index (lines, TracingLine, 0), &truth);
      geo_chain_clear (&truth);
      geo_chain_clear (&a);
      geo_chain_clear (&b);
    }
}

/* A paper on a dark table, with a dark patch on it, a circle, a line and a short one; and one clicked. */
static void
test_several (void)
{
  GeoChain circle = GEO_CHAIN_EMPTY, line = GEO_CHAIN_EMPTY,
           small = GEO_CHAIN_EMPTY;
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 200, 150 });
  MakerLook look = MAKER_LOOK;
  TracingPlane plane;
  g_autoptr (GError) error = NULL;
  look.tilt = 0.2;
  look.noise = 4;
  look.light = 0.3;
  look.shadow = 4;
  maker_add_rectangle (maker, geo_point (10, 10), 180, 130, 0.05, MAKER_PAPER,
                       NULL);
  maker_circle (&circle, geo_point (60, 70), 35);
  geo_chain_append_line (&line, geo_point (110, 60), geo_point (180, 75));
  geo_chain_append_line (&small, geo_point (120, 40), geo_point (130, 40));
  maker_add_stroke (maker, &circle, 0.6, MAKER_PENCIL);
  maker_add_stroke (maker, &line, 0.6, MAKER_PENCIL);
  maker_add_stroke (maker, &small, 0.6, MAKER_PENCIL);
  maker_add_rectangle (maker, geo_point (120, 90), 40, 25, 0.3, 0x302e30, NULL);
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
  g_autoptr (GArray) lines = find (picture, &plane);
  for (guint i = 0; i < lines->len; i++)
    {
      const TracingLine *l = &g_array_index (lines, TracingLine, i);
      GeoPoint p = geo_chain_start (&l->chain);
      g_test_message ("%s, %.1f mm, from %.1f %.1f",
                      l->closed ? "closed" : "open",
                      geo_chain_length (&l->chain, 1e-3), p.x, p.y);
    }
  g_assert_cmpuint (lines->len, ==, 2);
  g_assert_true (g_array_index (lines, TracingLine, 0).closed);
  check_line (&g_array_index (lines, TracingLine, 0), &circle);
  check_line (&g_array_index (lines, TracingLine, 1), &line);
  TracingStrokeWish wish = TRACING_STROKE_WISH;
  wish.clicked = TRUE;
  wish.at = maker_see (&plane, geo_point (150, 67));
  g_autoptr (GArray) one
      = tracing_find_strokes (picture, &plane, &wish, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (one->len, ==, 1);
  check_line (&g_array_index (one, TracingLine, 0), &line);
  geo_chain_clear (&circle);
  geo_chain_clear (&line);
  geo_chain_clear (&small);
}

static gboolean
leave_off (double share, gpointer data)
{
  double *last = data;
  g_assert_cmpfloat (share, >=, *last);
  *last = share;
  return share < 0.2;
}

/* Bare paper, a texture, a dot; and leaving off. */
static void
test_nothing (void)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 100, 80 });
  MakerLook look = rough_look ();
  TracingPlane plane;
  TracingStrokeWish wish = TRACING_STROKE_WISH;
  g_autoptr (GError) error = NULL;
  double last = 0;
  g_autoptr (TracingPicture) bare = maker_make (maker, &look, &plane);
  g_assert_null (
      tracing_find_strokes (bare, &plane, &wish, NULL, NULL, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_NOTHING);
  g_clear_error (&error);
  g_assert_null (
      tracing_find_strokes (bare, &plane, &wish, leave_off, &last, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_CANCELLED);
  g_clear_error (&error);
  guint8 *rgb = g_malloc (3 * 400 * 400);
  for (guint i = 0; i < 400 * 400; i++)
    memset (rgb + 3 * (gsize)i, (i % 400 / 3 + i / 1200) % 2 == 0 ? 250 : 30,
            3);
  g_autoptr (TracingPicture) woven = tracing_picture_new (
      400, 400, 1200, rgb, geo_point (0, 0), g_free, rgb);
  g_assert_null (
      tracing_find_strokes (woven, &plane, &wish, NULL, NULL, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_TOO_MUCH);
  g_clear_error (&error);
  static const guint8 dot[3] = { 0, 0, 0 };
  g_autoptr (TracingPicture) one
      = tracing_picture_new (1, 1, 3, dot, geo_point (0, 0), NULL, NULL);
  g_assert_null (tracing_find_strokes (one, &plane, &wish, NULL, NULL, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_NOTHING);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/tracing/stroke-paper/open", test_open);
  g_test_add_func ("/tracing/stroke-paper/closed", test_closed);
  g_test_add_func ("/tracing/stroke-paper/gap", test_gap);
  g_test_add_func ("/tracing/stroke-paper/several", test_several);
  g_test_add_func ("/tracing/stroke-paper/nothing", test_nothing);
  return g_test_run ();
}
