/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chains: building, cutting, turning; and one cubic in place of several. */
#include "curve-samples.h"
#include "geometry/chain.h"
#include "geometry/fit.h"
#include "geometry/length.h"
#include "geometry/nearest.h"

/* Every cubic starts exactly where the one before ended. */
static void
assert_whole (const GeoChain *chain)
{
  for (size_t i = 1; i < chain->count; i++)
    g_assert_true (geo_same (chain->cubics[i - 1].p[3], chain->cubics[i].p[0]));
}

static void
test_empty (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY, other = GEO_CHAIN_EMPTY;
  GeoPlace place = { 3, 0.5 };
  geo_chain_reverse (&chain);
  geo_chain_copy (&other, &chain);
  geo_chain_append_chain (&other, &chain);
  geo_chain_slice (&chain, place, place, &other);
  g_assert_cmpuint (other.count, ==, 0);
  g_assert_false (geo_chain_is_closed (&chain));
  g_assert_true (geo_same (geo_chain_point (&chain, place), geo_point (0, 0)));
  g_assert_true (
      geo_same (geo_chain_tangent (&chain, place), geo_point (0, 0)));
  g_assert_cmpfloat (geo_chain_curvature (&chain, place), ==, 0);
  g_assert_cmpfloat (geo_chain_turning (&chain), ==, 0);
  g_assert_true (geo_box_is_empty (geo_chain_bounds (&chain)));
  g_assert_true (isinf (geo_chain_tightest (&chain, 0, NULL)));
  g_assert_cmpuint (geo_chain_insert_node (&chain, place), ==, 0);
  geo_chain_clear (&chain);
  geo_chain_clear (&other);
}

static void
test_building (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY, copy = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (0.1, 0.2));
  /* Within rounding: put exactly on the end. */
  geo_chain_append_line (&chain, geo_point (0.1 + 1e-16, 0.2),
                         geo_point (5, 5));
  assert_whole (&chain);
  g_assert_false (geo_chain_is_closed (&chain));
  geo_chain_append_line (&chain, geo_point (5, 5), geo_point (0, 0));
  g_assert_true (geo_chain_is_closed (&chain));
  geo_chain_copy (&copy, &chain);
  geo_chain_append_chain (&chain, &chain);
  g_assert_cmpuint (chain.count, ==, 6);
  assert_whole (&chain);
  geo_chain_copy (&chain, &chain);
  g_assert_cmpuint (chain.count, ==, 6);
  for (int i = 0; i < 6; i++)
    g_assert_cmpmem (&chain.cubics[i], sizeof (GeoCubic), &copy.cubics[i % 3],
                     sizeof (GeoCubic));
  geo_chain_reverse (&copy);
  assert_whole (&copy);
  NEAR_POINT (copy.cubics[0].p[3], geo_point (5, 5), 0);
  geo_chain_reverse (&copy);
  g_assert_cmpmem (copy.cubics, 3 * sizeof (GeoCubic), chain.cubics,
                   3 * sizeof (GeoCubic));
  geo_chain_reset (&copy);
  g_assert_cmpuint (copy.count, ==, 0);
  geo_chain_clear (&chain);
  geo_chain_clear (&copy);
}

static void
test_places (void)
{
  GeoPlace end = { 0, 1 }, start = { 1, 0 }, later = { 1, 0.5 };
  g_assert_cmpint (geo_place_compare (end, start), ==, 0);
  g_assert_cmpint (geo_place_compare (end, later), <, 0);
  g_assert_cmpint (geo_place_compare (later, start), >, 0);
}

static void
test_nodes (void)
{
  for (int round = 0; round < 50; round++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY, before = GEO_CHAIN_EMPTY;
      for (int i = 0; i < 3; i++)
        geo_chain_append (&chain, random_awkward_cubic (300));
      geo_chain_copy (&before, &chain);
      double length = geo_chain_length (&chain, 1e-9);
      GeoPlace place = { 1, g_test_rand_double_range (0.1, 0.9) };
      GeoPoint at = geo_chain_point (&chain, place);
      g_assert_cmpuint (geo_chain_insert_node (&chain, place), ==, 2);
      g_assert_cmpuint (chain.count, ==, 4);
      assert_whole (&chain);
      NEAR_POINT (chain.cubics[2].p[0], at, 1e-10);
      NEAR (geo_chain_length (&chain, 1e-9), length, 1e-8);
      g_assert_cmpfloat (geo_chain_stray (&chain, &before, 9, NULL), <, 1e-9);
      /* At a joint there is one already. */
      g_assert_cmpuint (geo_chain_insert_node (&chain, (GeoPlace){ 1, 1 }), ==,
                        2);
      g_assert_cmpuint (geo_chain_insert_node (&chain, (GeoPlace){ 1, 0 }), ==,
                        1);
      g_assert_cmpuint (chain.count, ==, 4);
      /* And out again, by putting back what was there. */
      GeoChain one = { &before.cubics[1], 1, 1 };
      geo_chain_replace (&chain, 1, 2, &one);
      g_assert_cmpuint (chain.count, ==, 3);
      g_assert_cmpmem (chain.cubics, 3 * sizeof (GeoCubic), before.cubics,
                       3 * sizeof (GeoCubic));
      GeoChain none = GEO_CHAIN_EMPTY;
      geo_chain_replace (&chain, 0, 1, &none);
      geo_chain_replace (&chain, 1, 99, &before);
      g_assert_cmpuint (chain.count, ==, 4);
      assert_whole (&chain);
      geo_chain_clear (&chain);
      geo_chain_clear (&before);
    }
}

static void
test_slice (void)
{
  GeoChain square = GEO_CHAIN_EMPTY, part = GEO_CHAIN_EMPTY;
  const double corners[8] = { 0, 0, 100, 0, 100, 100, 0, 100 };
  chain_append_polygon (&square, corners, 4);
  geo_chain_slice (&square, (GeoPlace){ 0, 0.5 }, (GeoPlace){ 2, 0.25 }, &part);
  g_assert_cmpuint (part.count, ==, 3);
  assert_whole (&part);
  NEAR (geo_chain_length (&part, 1e-9), 175, 1e-9);
  NEAR_POINT (geo_chain_start (&part), geo_point (50, 0), 1e-12);
  NEAR_POINT (geo_chain_end (&part), geo_point (75, 100), 1e-12);
  /* From a joint to a joint: whole cubics, untouched. */
  geo_chain_reset (&part);
  geo_chain_slice (&square, (GeoPlace){ 0, 1 }, (GeoPlace){ 3, 0 }, &part);
  g_assert_cmpuint (part.count, ==, 2);
  g_assert_cmpmem (part.cubics, 2 * sizeof (GeoCubic), &square.cubics[1],
                   2 * sizeof (GeoCubic));
  /* Past the start; and the whole way round. */
  geo_chain_reset (&part);
  geo_chain_slice (&square, (GeoPlace){ 3, 0.5 }, (GeoPlace){ 0, 0.5 }, &part);
  NEAR (geo_chain_length (&part, 1e-9), 100, 1e-9);
  NEAR_POINT (geo_chain_start (&part), geo_point (0, 50), 1e-12);
  assert_whole (&part);
  geo_chain_reset (&part);
  geo_chain_slice (&square, (GeoPlace){ 2, 0.3 }, (GeoPlace){ 2, 0.3 }, &part);
  NEAR (geo_chain_length (&part, 1e-9), 400, 1e-9);
  g_assert_true (geo_chain_is_closed (&part));
  geo_chain_reset (&part);
  geo_chain_slice (&square, (GeoPlace){ 2, 0.3 }, (GeoPlace){ 2, 0.1 }, &part);
  NEAR (geo_chain_length (&part, 1e-9), 380, 1e-9);
  geo_chain_reset (&part);
  /* On an open chain there is no way back. */
  square.count = 3;
  geo_chain_slice (&square, (GeoPlace){ 2, 0.3 }, (GeoPlace){ 2, 0.1 }, &part);
  g_assert_cmpuint (part.count, ==, 0);
  geo_chain_slice (&square, (GeoPlace){ 0, 0 }, (GeoPlace){ 99, 0 }, &part);
  NEAR (geo_chain_length (&part, 1e-9), 300, 1e-9);
  geo_chain_clear (&part);
  geo_chain_clear (&square);
}

/* Lines and arcs that start the negative way of both axes: nothing before the first
 * cubic is no half turn (a hem of 25 mm had 146 mm of fullness by it). */
static void
test_turning_from_nothing (void)
{
  GeoPoint nothing = { 0, 0 };
  for (int i = 0; i < 16; i++)
    {
      double a = i * G_PI / 8;
      GeoPoint way = { cos (a), sin (a) };
      g_assert_cmpfloat (fabs (geo_angle_between (nothing, way)), ==, 0);
      g_assert_cmpfloat (fabs (geo_angle_between (way, nothing)), ==, 0);
      GeoChain chain = GEO_CHAIN_EMPTY;
      GeoCubic c = {
        { nothing, geo_scale (way, 20),
          geo_add (geo_scale (way, 40), geo_scale (geo_left (way), 3)),
          geo_add (geo_scale (way, 60), geo_scale (geo_left (way), 9)) }
      };
      geo_chain_append (&chain, c);
      NEAR (geo_chain_turning (&chain), atan2 (6, 20), 1e-12);
      geo_chain_clear (&chain);
    }
}

static void
test_turning (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  const double corners[8] = { 0, 0, 100, 0, 100, 100, 0, 100 };
  chain_append_polygon (&chain, corners, 4);
  /* Three inner joints of a quarter turn each. */
  NEAR (geo_chain_turning (&chain), 1.5 * G_PI, 1e-12);
  geo_chain_reverse (&chain);
  NEAR (geo_chain_turning (&chain), -1.5 * G_PI, 1e-12);
  geo_chain_reset (&chain);
  chain_append_circle (&chain, geo_point (4, 5), 30, 4);
  NEAR (geo_chain_turning (&chain), 2 * G_PI, 1e-12);
  geo_chain_transform (&chain,
                       geo_motion_mirror (geo_point (0, 0), geo_point (1, 2)));
  assert_whole (&chain);
  NEAR (geo_chain_turning (&chain), -2 * G_PI, 1e-12);
  /* A cubic that is one point between two lines hides no joint. */
  geo_chain_reset (&chain);
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (10, 0));
  geo_chain_append_line (&chain, geo_point (10, 0), geo_point (10, 0));
  geo_chain_append_line (&chain, geo_point (10, 0), geo_point (10, 10));
  NEAR (geo_chain_turning (&chain), G_PI / 2, 1e-12);
  geo_chain_clear (&chain);
}

static void
test_bounds (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  chain_append_circle (&chain, geo_point (10, 20), 30, 8);
  GeoBox box = geo_chain_bounds (&chain);
  NEAR (box.x0, -20, 1e-9);
  NEAR (box.x1, 40, 1e-9);
  NEAR (box.y0, -10, 1e-9);
  NEAR (box.y1, 50, 1e-9);
  geo_chain_clear (&chain);
}

static void
test_tightest (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoPlace where = { 9, 9 };
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (50, 0));
  g_assert_true (isinf (geo_chain_tightest (&chain, 0, &where)));
  g_assert_cmpuint (where.cubic, ==, 9);
  /* y = x^2 on a scale of 100: radius 50 at the vertex, where k > 0. */
  geo_chain_reset (&chain);
  GeoCubic parabola = graph_cubic (0, 1, 0, 0, 100, false);
  geo_chain_append (&chain, parabola);
  NEAR (geo_chain_tightest (&chain, 0, &where), 50, 1e-9);
  NEAR (where.t, 0.5, 1e-9);
  NEAR (geo_chain_tightest (&chain, 1, NULL), 50, 1e-9);
  g_assert_true (isinf (geo_chain_tightest (&chain, -1, NULL)));
  geo_chain_reverse (&chain);
  NEAR (geo_chain_tightest (&chain, -1, NULL), 50, 1e-9);
  /* Two arcs of opposite hand. */
  geo_chain_reset (&chain);
  geo_chain_append (&chain, geo_cubic_arc (geo_point (0, 0), 40, -0.3, 0));
  geo_chain_append (&chain,
                    geo_cubic_arc (geo_point (100, 0), 60, G_PI, G_PI - 0.3));
  NEAR (geo_chain_tightest (&chain, 1, &where), 40, 1e-3);
  g_assert_cmpuint (where.cubic, ==, 0);
  NEAR (geo_chain_tightest (&chain, -1, &where), 60, 1e-3);
  g_assert_cmpuint (where.cubic, ==, 1);
  /* Cusps and collapsed handles count as radius 0; on a straight line not. */
  geo_chain_reset (&chain);
  geo_chain_append (
      &chain, (GeoCubic){ { { 0, 0 }, { 100, 100 }, { 0, 100 }, { 100, 0 } } });
  g_assert_cmpfloat (geo_chain_tightest (&chain, 0, &where), ==, 0);
  NEAR (where.t, 0.5, 1e-9);
  geo_chain_reset (&chain);
  geo_chain_append (
      &chain, (GeoCubic){ { { 0, 0 }, { 0, 0 }, { 0, 100 }, { 100, 100 } } });
  g_assert_cmpfloat (geo_chain_tightest (&chain, -1, &where), ==, 0);
  g_assert_cmpfloat (where.t, ==, 0);
  g_assert_true (isinf (geo_chain_tightest (&chain, 1, &where)));
  geo_chain_reset (&chain);
  geo_chain_append (
      &chain, (GeoCubic){ { { 0, 0 }, { 0, 0 }, { 100, 50 }, { 100, 50 } } });
  g_assert_true (isinf (geo_chain_tightest (&chain, 0, &where)));
  geo_chain_clear (&chain);
}

/* No tighter place than the one given, by sampling. */
static void
test_tightest_random (void)
{
  for (int i = 0; i < 300; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      geo_chain_append (&chain, random_awkward_cubic (400));
      GeoPlace where = { 0, 0 };
      double radius = geo_chain_tightest (&chain, 0, &where);
      g_assert_true (radius >= 0 && !isnan (radius));
      for (int k = 0; k <= 200; k++)
        {
          double bend
              = fabs (geo_cubic_curvature (&chain.cubics[0], k / 200.0));
          g_assert_cmpfloat (isinf (radius) ? bend : bend * radius - 1, <=,
                             1e-6);
        }
      geo_chain_clear (&chain);
    }
}

/* Taking out a node that was put in gives the curve back. */
static void
test_fit_whole (void)
{
  g_autoptr (GArray) pattern = curve_samples_pattern ();
  for (guint i = 0; i < pattern->len; i++)
    {
      CurveSample *s = &g_array_index (pattern, CurveSample, i);
      GeoChain chain = GEO_CHAIN_EMPTY;
      GeoCubic fit;
      double cusps[2];
      geo_chain_append (&chain, s->c);
      geo_chain_insert_node (&chain, (GeoPlace){ 0, 0.37 });
      if (i % 2)
        geo_chain_insert_node (&chain, (GeoPlace){ 1, 0.5 });
      double off = geo_chain_fit_single (&chain, &fit);
      g_assert_true (geo_same (fit.p[0], s->c.p[0])
                     && geo_same (fit.p[3], s->c.p[3]));
      /* A collapsed handle has no length to give back. */
      bool collapsed
          = geo_same (s->c.p[0], s->c.p[1]) || geo_same (s->c.p[2], s->c.p[3]);
      if (!collapsed && geo_cubic_cusps (&s->c, cusps) == 0 && off > 1e-6)
        g_error ("%s: off by %g", s->name, off);
      geo_chain_clear (&chain);
    }
}

static void
test_fit_others (void)
{
  GeoCubic fit;
  GeoChain chain = GEO_CHAIN_EMPTY;
  g_assert_cmpfloat (geo_chain_fit_single (&chain, &fit), ==, 0);
  /* An eighth and an eighth of a circle: the quarter arc is known to come
   * within 2.8e-4 of the radius, and the best with free handles within 2e-4. */
  geo_chain_append (&chain, geo_cubic_arc (geo_point (0, 0), 100, 0, G_PI / 4));
  geo_chain_append (&chain,
                    geo_cubic_arc (geo_point (0, 0), 100, G_PI / 4, G_PI / 2));
  double off = geo_chain_fit_single (&chain, &fit);
  g_assert_cmpfloat (off, <, 0.0245);
  g_assert_cmpfloat (off, >, 0.01);
  NEAR_POINT (geo_cubic_tangent (&fit, 0), geo_point (0, 1), 1e-9);
  NEAR_POINT (geo_cubic_tangent (&fit, 1), geo_point (-1, 0), 1e-9);
  /* Two lines in a line make one; a corner cannot, and says how far off. */
  geo_chain_reset (&chain);
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (30, 10));
  geo_chain_append_line (&chain, geo_point (30, 10), geo_point (90, 30));
  g_assert_cmpfloat (geo_chain_fit_single (&chain, &fit), <, 1e-9);
  geo_chain_reset (&chain);
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (100, 0));
  geo_chain_append_line (&chain, geo_point (100, 0), geo_point (100, 100));
  g_assert_cmpfloat (geo_chain_fit_single (&chain, &fit), >, 1);
  geo_chain_clear (&chain);
  for (int i = 0; i < 30; i++)
    {
      for (int k = 0; k < 3; k++)
        geo_chain_append (&chain, random_awkward_cubic (300));
      off = geo_chain_fit_single (&chain, &fit);
      g_assert_true (isfinite (off) && off >= 0);
      for (int k = 0; k < 4; k++)
        assert_finite_point (fit.p[k]);
      geo_chain_clear (&chain);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/chain/empty", test_empty);
  g_test_add_func ("/geometry/chain/building", test_building);
  g_test_add_func ("/geometry/chain/places", test_places);
  g_test_add_func ("/geometry/chain/nodes", test_nodes);
  g_test_add_func ("/geometry/chain/slice", test_slice);
  g_test_add_func ("/geometry/chain/turning", test_turning);
  g_test_add_func ("/geometry/chain/turning-from-nothing",
                   test_turning_from_nothing);
  g_test_add_func ("/geometry/chain/bounds", test_bounds);
  g_test_add_func ("/geometry/chain/tightest", test_tightest);
  g_test_add_func ("/geometry/chain/tightest-random", test_tightest_random);
  g_test_add_func ("/geometry/fit/whole", test_fit_whole);
  g_test_add_func ("/geometry/fit/others", test_fit_others);
  return g_test_run ();
}
