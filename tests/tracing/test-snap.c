/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves and places drawn to strokes and edges of made pictures. */
#include <math.h>

#include "geometry/nearest.h"
#include "picture-maker.h"
#include "tracing/stroke.h"

static const GeoCubic arc
    = { { { 20, 80 }, { 40, 20 }, { 110, 20 }, { 140, 70 } } };

static TracingPicture *
stroke_picture (const GeoChain *chain, double width, TracingPlane *truth)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 160, 110 });
  MakerLook look = MAKER_LOOK;
  look.table = MAKER_PAPER;
  look.tilt = 0.2;
  look.noise = 4;
  look.light = 0.3;
  maker_add_stroke (maker, chain, width, MAKER_PENCIL);
  return maker_make (maker, &look, truth);
}

static void
test_chain_to_line (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY, rough = GEO_CHAIN_EMPTY,
           result = GEO_CHAIN_EMPTY;
  TracingPlane truth;
  geo_chain_append (&chain, arc);
  g_autoptr (TracingPicture) picture = stroke_picture (&chain, 0.6, &truth);
  GeoCubic by_hand = arc;
  by_hand.p[1] = geo_add (by_hand.p[1], geo_point (2.5, -2));
  by_hand.p[2] = geo_add (by_hand.p[2], geo_point (-2, 2));
  geo_chain_append (&rough, by_hand);
  double seen, off;
  g_assert_true (tracing_snap_chain (picture, &truth, &rough, TRACING_TO_LINE,
                                     4, 0.3, &result, &seen, &off));
  double worst = geo_chain_stray (&result, &chain, 40, NULL);
  g_test_message ("snapped within %.3f mm, seen %.2f, off %.3f, %zu cubics",
                  worst, seen, off, result.count);
  g_assert_cmpfloat (worst, <, 0.4);
  g_assert_cmpfloat (seen, >, 0.9);
  /* Where nothing is drawn, nothing is made up. */
  geo_chain_transform (&rough, geo_motion_move (0, 30));
  g_assert_false (tracing_snap_chain (picture, &truth, &rough, TRACING_TO_LINE,
                                      2, 0.3, &result, &seen, &off));
  g_assert_cmpuint (result.count, ==, 0);
  geo_chain_clear (&chain);
  geo_chain_clear (&rough);
  geo_chain_clear (&result);
}

/* A card's outline with corners, drawn 1.5 mm off, comes to lie on it. */
static void
test_chain_to_edge (void)
{
  static const GeoPoint p[4]
      = { { 20, 20 }, { 130, 25 }, { 120, 90 }, { 30, 95 } };
  static const GeoPoint q[4]
      = { { 21, 19 }, { 131.2, 26 }, { 119, 88.8 }, { 29, 96 } };
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 160, 110 });
  MakerLook look = MAKER_LOOK;
  look.noise = 3;
  maker_add_polygon (maker, p, 4, MAKER_CARD);
  TracingPlane truth;
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &truth);
  GeoChain chain = GEO_CHAIN_EMPTY, rough = GEO_CHAIN_EMPTY,
           result = GEO_CHAIN_EMPTY;
  maker_polygon (&chain, p, 4);
  maker_polygon (&rough, q, 4);
  double seen, off;
  g_assert_true (tracing_snap_chain (picture, &truth, &rough, TRACING_TO_EDGE,
                                     3, 0.2, &result, &seen, &off));
  double worst = fmax (geo_chain_stray (&result, &chain, 40, NULL),
                       geo_chain_stray (&chain, &result, 40, NULL));
  g_test_message ("snapped within %.3f mm, seen %.2f, off %.3f, %zu cubics",
                  worst, seen, off, result.count);
  g_assert_cmpfloat (worst, <, 0.3);
  g_assert_true (geo_chain_is_closed (&result));
  geo_chain_clear (&chain);
  geo_chain_clear (&rough);
  geo_chain_clear (&result);
}

static void
test_point (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  TracingPlane truth;
  geo_chain_append (&chain, arc);
  g_autoptr (TracingPicture) picture = stroke_picture (&chain, 0.6, &truth);
  g_autoptr (GTimer) timer = g_timer_new ();
  double worst = 0;
  for (guint i = 0; i < 100; i++)
    {
      GeoPoint on = geo_cubic_point (&arc, g_test_rand_double_range (0.1, 0.9));
      GeoPoint px = maker_see (&truth, on), snapped;
      px.x += g_test_rand_double_range (-6, 6);
      px.y += g_test_rand_double_range (-6, 6);
      g_assert_true (
          tracing_snap_point (picture, px, TRACING_TO_LINE, 12, &snapped));
      worst = fmax (worst,
                    geo_chain_nearest (
                        &chain, tracing_plane_to_mm (&truth, snapped), NULL));
    }
  g_test_message ("places within %.3f mm, %.2f ms each", worst,
                  10 * g_timer_elapsed (timer, NULL));
  g_assert_cmpfloat (worst, <, 0.4);
  GeoPoint none, at = maker_see (&truth, geo_point (80, 95));
  g_assert_false (tracing_snap_point (picture, at, TRACING_TO_LINE, 10, &none));
  g_assert_false (tracing_snap_point (picture, geo_point (NAN, 0),
                                      TRACING_TO_EDGE, 10, &none));
  geo_chain_clear (&chain);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/tracing/snap/chain-to-line", test_chain_to_line);
  g_test_add_func ("/tracing/snap/chain-to-edge", test_chain_to_edge);
  g_test_add_func ("/tracing/snap/point", test_point);
  return g_test_run ();
}
