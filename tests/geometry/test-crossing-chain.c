/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Crossings of chains with others and with themselves, joints left out. */
#include <geos_c.h>
#include <stdarg.h>

#include "curve-samples.h"
#include "geometry/crossing.h"

static void
quiet (const char *format, ...)
{
  (void)format;
}

static void
test_chains (void)
{
  /* A circle of four arcs, through two of whose joints a line runs, and one
   * that touches at a joint: each joint once. */
  GeoChain circle = GEO_CHAIN_EMPTY, other = GEO_CHAIN_EMPTY;
  GeoCrossings list;
  geo_crossings_init (&list);
  chain_append_circle (&circle, geo_point (0, 0), 50, 4);
  geo_chain_append_line (&other, geo_point (-90, 0), geo_point (0, 0));
  geo_chain_append_line (&other, geo_point (0, 0), geo_point (90, 0));
  geo_chain_crossings (&circle, &other, &list);
  g_assert_cmpuint (list.count, ==, 2);
  NEAR_POINT (list.items[0].at, geo_point (50, 0), 1e-9);
  NEAR_POINT (list.items[1].at, geo_point (-50, 0), 1e-9);
  /* After what is in the list already. */
  geo_chain_reset (&other);
  geo_chain_append_line (&other, geo_point (-90, 50), geo_point (90, 50));
  geo_chain_crossings (&circle, &other, &list);
  g_assert_cmpuint (list.count, ==, 3);
  NEAR_POINT (list.items[2].at, geo_point (0, 50), 1e-6);
  list.count = 0;
  /* Two circles cross where Pythagoras says, (30, +-40). */
  geo_chain_reset (&other);
  chain_append_circle (&other, geo_point (60, 0), 50, 64);
  geo_chain_reset (&circle);
  chain_append_circle (&circle, geo_point (0, 0), 50, 64);
  geo_chain_crossings (&circle, &other, &list);
  g_assert_cmpuint (list.count, ==, 2);
  NEAR_POINT (list.items[0].at, geo_point (30, 40), 1e-8);
  NEAR_POINT (list.items[1].at, geo_point (30, -40), 1e-8);
  list.count = 0;
  geo_chain_reset (&other);
  geo_chain_crossings (&circle, &other, &list);
  geo_chain_self_crossings (&other, &list);
  geo_chain_self_crossings (&circle, &list);
  g_assert_cmpuint (list.count, ==, 0);
  geo_crossings_clear (&list);
  geo_chain_clear (&circle);
  geo_chain_clear (&other);
}

static void
test_chain_self (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoCrossings list;
  geo_crossings_init (&list);
  /* A bow tie; the pentagram, five crossings; both closed. */
  const double bow[8] = { 0, 0, 100, 100, 100, 0, 0, 100 };
  chain_append_polygon (&chain, bow, 4);
  geo_chain_self_crossings (&chain, &list);
  g_assert_cmpuint (list.count, ==, 1);
  NEAR_POINT (list.items[0].at, geo_point (50, 50), 1e-9);
  g_assert_true (list.items[0].a.cubic == 0 && list.items[0].b.cubic == 2);
  list.count = 0;
  geo_chain_reset (&chain);
  double star[10];
  for (int i = 0; i < 5; i++)
    {
      star[2 * i] = 90 * cos (4 * G_PI * i / 5);
      star[2 * i + 1] = 90 * sin (4 * G_PI * i / 5);
    }
  chain_append_polygon (&chain, star, 5);
  geo_chain_self_crossings (&chain, &list);
  g_assert_cmpuint (list.count, ==, 5);
  /* Inner pentagon: the outer radius over the golden ratio squared. */
  double golden = (1 + sqrt (5)) / 2;
  for (size_t i = 0; i < 5; i++)
    {
      NEAR (geo_norm (list.items[i].at), 90 / (golden * golden), 1e-9);
      g_assert_cmpint (geo_place_compare (list.items[i].a, list.items[i].b), <,
                       0);
    }
  list.count = 0;
  /* A corner that touches another edge; a loop inside one cubic; an edge that
   * runs back over its neighbour. */
  geo_chain_reset (&chain);
  const double touching[12] = { 0, 0, 100, 0, 100, 60, 50, 0, 0, 60, 0, 30 };
  chain_append_polygon (&chain, touching, 6);
  geo_chain_self_crossings (&chain, &list);
  g_assert_cmpuint (list.count, ==, 1);
  NEAR_POINT (list.items[0].at, geo_point (50, 0), 1e-9);
  list.count = 0;
  geo_chain_reset (&chain);
  geo_chain_append (
      &chain,
      (GeoCubic){ { { 0, 0 }, { 150, 100 }, { -50, 100 }, { 100, 0 } } });
  geo_chain_self_crossings (&chain, &list);
  g_assert_cmpuint (list.count, ==, 1);
  list.count = 0;
  geo_chain_reset (&chain);
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (90, 30));
  geo_chain_append_line (&chain, geo_point (90, 30), geo_point (30, 10));
  geo_chain_self_crossings (&chain, &list);
  g_assert_cmpuint (list.count, ==, 1);
  NEAR_POINT (list.items[0].at, geo_point (30, 10), 1e-9);
  geo_crossings_clear (&list);
  geo_chain_clear (&chain);
}

/* Smooth joints are not crossings, wherever a curve is cut. */
static void
test_joints (void)
{
  g_autoptr (GArray) pattern = curve_samples_pattern ();
  GeoCrossings list;
  geo_crossings_init (&list);
  for (guint i = 0; i < pattern->len; i++)
    {
      GeoCubic *c = &g_array_index (pattern, CurveSample, i).c;
      double t0, t1, folds[2];
      if (geo_cubic_self_crossing (c, &t0, &t1)
          || geo_cubic_cusps (c, folds) > 0)
        continue;
      GeoChain chain = GEO_CHAIN_EMPTY;
      geo_chain_append (&chain, *c);
      for (int k = 0; k < 4; k++)
        geo_chain_insert_node (&chain,
                               (GeoPlace){ (size_t)k, g_test_rand_double () });
      list.count = 0;
      geo_chain_self_crossings (&chain, &list);
      if (list.count > 0)
        g_error ("%s: %zu crossings at its joints",
                 g_array_index (pattern, CurveSample, i).name, list.count);
      geo_chain_clear (&chain);
    }
  geo_crossings_clear (&list);
}

/* Outlines that do or do not cross themselves, as GEOS sees them. */
static void
test_simple_outlines (void)
{
  int crossed = 0, simple = 0;
  GeoCrossings list;
  geo_crossings_init (&list);
  initGEOS (quiet, quiet);
  for (int round = 0; round < 60; round++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      const int corners = 7;
      double swing = g_test_rand_double_range (10, 120);
      GeoPoint nodes[8];
      for (int i = 0; i < corners; i++)
        {
          double angle = 2 * G_PI * i / corners,
                 r = g_test_rand_double_range (100, 250);
          nodes[i] = geo_point (300 + r * cos (angle), 300 + r * sin (angle));
        }
      nodes[corners] = nodes[0];
      for (int i = 0; i < corners; i++)
        {
          GeoCubic c = geo_cubic_line (nodes[i], nodes[i + 1]);
          for (int k = 1; k < 3; k++)
            c.p[k] = geo_along (
                c.p[k], geo_sub (random_point (2), geo_point (1, 1)), swing);
          geo_chain_append (&chain, c);
        }
      const unsigned pieces = 500, total = 7 * 500;
      GEOSCoordSequence *seq = GEOSCoordSeq_create (total + 1, 2);
      for (unsigned i = 0; i <= total; i++)
        {
          /* Finer towards the corners, where edges may cross close by. */
          double w = (double)(i % pieces) / pieces;
          double t = w * w * w * (10 - 15 * w + 6 * w * w);
          GeoPlace place = { (i % total) / pieces, t };
          GeoPoint p = geo_chain_point (&chain, place);
          GEOSCoordSeq_setXY (seq, i, p.x, p.y);
        }
      GEOSGeometry *ring = GEOSGeom_createLinearRing (seq);
      list.count = 0;
      geo_chain_self_crossings (&chain, &list);
      bool is_simple = GEOSisSimple (ring) == 1;
      if (is_simple != (list.count == 0))
        {
          for (size_t i = 0; i < list.count; i++)
            g_test_message ("%zu %.9g with %zu %.9g at %.9g %.9g, angle %g",
                            list.items[i].a.cubic, list.items[i].a.t,
                            list.items[i].b.cubic, list.items[i].b.t,
                            list.items[i].at.x, list.items[i].at.y,
                            geo_angle_between (
                                geo_chain_tangent (&chain, list.items[i].a),
                                geo_chain_tangent (&chain, list.items[i].b)));
          g_error ("round %d: GEOS says %d", round, is_simple);
        }
      crossed += !is_simple;
      simple += is_simple;
      for (size_t i = 0; i < list.count; i++)
        NEAR_POINT (geo_chain_point (&chain, list.items[i].a),
                    geo_chain_point (&chain, list.items[i].b), 1e-9);
      GEOSGeom_destroy (ring);
      geo_chain_clear (&chain);
    }
  g_test_message ("%d simple, %d crossed", simple, crossed);
  g_assert_true (simple > 5 && crossed > 5);
  finishGEOS ();
  geo_crossings_clear (&list);
}

/* Whether there are any is the same question as how many. */
static void
test_any (void)
{
  size_t with = 0;
  for (int i = 0; i < 400; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      GeoCrossings list;
      int count = g_test_rand_int_range (1, 9);
      for (int k = 0; k < count; k++)
        geo_chain_append (&chain, random_awkward_cubic (200));
      geo_crossings_init (&list);
      geo_chain_self_crossings (&chain, &list);
      g_assert_true (geo_chain_crosses_itself (&chain) == (list.count > 0));
      with += list.count > 0;
      geo_crossings_clear (&list);
      geo_chain_clear (&chain);
    }
  g_assert_cmpuint (with, >, 50);
  g_assert_cmpuint (with, <, 400);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/crossing-chain/chains", test_chains);
  g_test_add_func ("/geometry/crossing-chain/chain-self", test_chain_self);
  g_test_add_func ("/geometry/crossing-chain/joints", test_joints);
  g_test_add_func ("/geometry/crossing-chain/simple-outlines",
                   test_simple_outlines);
  g_test_add_func ("/geometry/crossing-chain/any", test_any);
  return g_test_run ();
}
