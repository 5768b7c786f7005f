/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Centre lines of drawn strokes, in pictures whose truth is known. */
#include <math.h>

#include "geometry/length.h"
#include "geometry/nearest.h"
#include "geometry/region.h"
#include "picture-maker.h"
#include "tracing/stroke.h"

static MakerLook
look (double dots, double tilt, double noise, double light, int jpeg)
{
  MakerLook l = MAKER_LOOK;
  l.dots = dots;
  l.tilt = tilt;
  l.blur = 0.8;
  l.noise = noise;
  l.light = light;
  l.jpeg = jpeg;
  l.table = MAKER_PAPER;
  return l;
}

static GArray *
find (const Maker *maker, const MakerLook *l, const TracingStrokeWish *wish)
{
  TracingPlane truth;
  GError *error = NULL;
  g_autoptr (TracingPicture) picture = maker_make (maker, l, &truth);
  GArray *lines
      = tracing_find_strokes (picture, &truth, wish, NULL, NULL, &error);
  g_assert_no_error (error);
  return lines;
}

/* How far the found line's places lie from the truth, and the other way; mm. */
static void
compare (const GeoChain *found, const GeoChain *truth, double *worst,
         double *mean)
{
  const GeoChain *pair[2] = { found, truth };
  double sum = 0;
  int n = 0;
  *worst = 0;
  for (int way = 0; way < 2; way++)
    for (size_t i = 0; i < pair[way]->count; i++)
      for (int k = 0; k < 20; k++, n++)
        {
          GeoPoint p = geo_cubic_point (&pair[way]->cubics[i], k / 20.0);
          double d = geo_chain_nearest (pair[!way], p, NULL);
          *worst = fmax (*worst, d);
          sum += d;
        }
  *mean = sum / n;
}

static void
bodice (GeoChain *chain)
{
  geo_chain_init (chain);
  maker_bodice (chain, geo_point (20, 20), 30, 120);
}

/* A drawn bodice, closed. */
static void
test_closed (void)
{
  const struct
  {
    double dots, tilt, noise, light;
    int jpeg;
  } cases[] = {
    { 5, 0, 0, 0, 0 },
    { 5, 0.26, 4, 0.35, 80 },
    { 8, 0.1, 3, 0.2, 85 },
  };
  GeoChain truth;
  bodice (&truth);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 290, 500 });
      MakerLook l = look (cases[i].dots, cases[i].tilt, cases[i].noise,
                          cases[i].light, cases[i].jpeg);
      TracingStrokeWish wish = TRACING_STROKE_WISH;
      maker_add_stroke (maker, &truth, 0.7, MAKER_PENCIL);
      g_autoptr (GArray) lines = find (maker, &l, &wish);
      const TracingLine *line = &g_array_index (lines, TracingLine, 0);
      double worst, mean;
      g_assert_cmpuint (lines->len, ==, 1);
      g_assert_true (line->closed);
      g_assert_cmpfloat (geo_chain_area (&line->chain), >, 0);
      compare (&line->chain, &truth, &worst, &mean);
      g_test_message ("%g px/mm: worst %.3f, mean %.3f mm, %zu cubics (%d), "
                      "stroke %.2f mm",
                      cases[i].dots, worst, mean, line->chain.count,
                      MAKER_BODICE_CUBICS, line->blur);
      g_assert_cmpfloat (worst, <, 0.4);
      g_assert_cmpfloat (mean, <, 0.15);
      g_assert_cmpfloat (line->chain.count, <=, 1.3 * MAKER_BODICE_CUBICS);
    }
  geo_chain_clear (&truth);
}

static void
add_line (Maker *maker, GeoPoint a, GeoPoint b, double width)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&chain, a, b);
  maker_add_stroke (maker, &chain, width, MAKER_PENCIL);
  geo_chain_clear (&chain);
}

static double
length_of (const GArray *lines, guint i)
{
  return geo_chain_length (&g_array_index (lines, TracingLine, i).chain, 1e-6);
}

/* Gaps up to what is asked are bridged, one beyond is not. */
static void
test_gaps (void)
{
  MakerLook l = look (6, 0, 2, 0, 0);
  TracingStrokeWish wish = TRACING_STROKE_WISH;
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 220, 100 });
  add_line (maker, geo_point (10, 20), geo_point (100, 30), 0.6);
  add_line (maker, geo_point (103.7, 30.4), geo_point (200, 41), 0.6);
  add_line (maker, geo_point (10, 60), geo_point (100, 60), 0.6);
  add_line (maker, geo_point (112, 60), geo_point (200, 60), 0.6);
  g_autoptr (GArray) lines = find (maker, &l, &wish);
  g_assert_cmpuint (lines->len, ==, 3);
  g_assert_cmpfloat (fabs (length_of (lines, 0) - 191.1), <, 1);
  g_assert_cmpfloat (fabs (length_of (lines, 1) - 90), <, 0.8);
  g_assert_cmpfloat (fabs (length_of (lines, 2) - 88), <, 0.8);
  for (guint i = 0; i < 3; i++)
    g_assert_false (g_array_index (lines, TracingLine, i).closed);
}

/* Lines that cross go straight on; one that meets another ends there; what is wide, and what is short, is left
 * out; the one clicked is told apart. */
static void
test_crossing (void)
{
  MakerLook l = look (6, 0, 2, 0.2, 0);
  TracingStrokeWish wish = TRACING_STROKE_WISH;
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 220, 160 });
  add_line (maker, geo_point (10, 20), geo_point (200, 140), 0.6);
  add_line (maker, geo_point (20, 130), geo_point (190, 15), 0.6);
  add_line (maker, geo_point (10, 150), geo_point (210, 150), 8);
  add_line (maker, geo_point (180, 60), geo_point (200, 60), 0.6);
  g_autoptr (GArray) lines = find (maker, &l, &wish);
  g_assert_cmpuint (lines->len, ==, 2);
  g_assert_cmpfloat (fabs (length_of (lines, 0) - hypot (190, 120)), <, 1);
  g_assert_cmpfloat (fabs (length_of (lines, 1) - hypot (170, 115)), <, 1);
  TracingPlane truth;
  GError *error = NULL;
  g_autoptr (TracingPicture) picture = maker_make (maker, &l, &truth);
  wish.clicked = TRUE;
  wish.at = maker_see (&truth, geo_point (40, 118));
  g_autoptr (GArray) one
      = tracing_find_strokes (picture, &truth, &wish, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (one->len, ==, 1);
  g_assert_cmpfloat (fabs (length_of (one, 0) - hypot (170, 115)), <, 1);
}

static gboolean
refuse (double share, gpointer data)
{
  (void)data;
  return share < 0.3;
}

static void
test_nothing (void)
{
  MakerLook l = look (5, 0, 4, 0.3, 80);
  TracingStrokeWish wish = TRACING_STROKE_WISH;
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 150, 100 });
  TracingPlane truth;
  g_autoptr (TracingPicture) picture = maker_make (maker, &l, &truth);
  g_autoptr (GError) error = NULL;
  g_assert_null (
      tracing_find_strokes (picture, &truth, &wish, NULL, NULL, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_NOTHING);
  g_clear_error (&error);
  g_assert_null (
      tracing_find_strokes (picture, &truth, &wish, refuse, NULL, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_CANCELLED);
}

/* Noise of any kind ends soon, with words or with lines. */
static void
test_noise (void)
{
  const guint side = 400;
  for (guint kind = 0; kind < 4; kind++)
    {
      guint8 *rgb = g_malloc (3 * side * side);
      for (guint i = 0; i < side * side; i++)
        {
          guint x = i % side, y = i / side;
          guint8 v = kind == 0   ? (guint8)g_test_rand_int_range (0, 256)
                     : kind == 1 ? (x + y) % 2 ? 255 : 0
                     : kind == 2 ? (x / 3 + y / 3) % 2 ? 255 : 0
                     : (x % 4 == 0 || y % 9 == 0) ? 0
                                                  : 255;
          rgb[3 * i] = rgb[3 * i + 1] = rgb[3 * i + 2] = v;
        }
      g_autoptr (TracingPicture) picture = tracing_picture_new (
          side, side, 3 * side, rgb, geo_point (0, 0), g_free, rgb);
      TracingPlane plane = { { 0.2, 0, 0, 0, 0.2, 0, 0, 0, 1 } };
      TracingStrokeWish wish = TRACING_STROKE_WISH;
      g_autoptr (GError) error = NULL;
      g_autoptr (GArray) lines
          = tracing_find_strokes (picture, &plane, &wish, NULL, NULL, &error);
      g_assert_true ((lines == NULL) == (error != NULL));
      g_test_message ("%u: %s", kind, error != NULL ? error->message : "lines");
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/tracing/stroke/closed", test_closed);
  g_test_add_func ("/tracing/stroke/gaps", test_gaps);
  g_test_add_func ("/tracing/stroke/crossing", test_crossing);
  g_test_add_func ("/tracing/stroke/nothing", test_nothing);
  g_test_add_func ("/tracing/stroke/noise", test_noise);
  return g_test_run ();
}
