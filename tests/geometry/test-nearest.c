/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nearest points against closed forms, against dense sampling, and against the
 * distance GEOS finds to a fine polyline. */
#include <geos_c.h>
#include <stdarg.h>

#include "curve-samples.h"
#include "geometry/nearest.h"

static void
test_known (void)
{
  double t;
  GeoCubic line = geo_cubic_line (geo_point (0, 0), geo_point (90, 0));
  NEAR (geo_cubic_nearest (&line, geo_point (30, 40), &t), 40, 1e-12);
  NEAR (t, 1 / 3.0, 1e-12);
  NEAR (geo_cubic_nearest (&line, geo_point (-3, 4), &t), 5, 1e-12);
  g_assert_cmpfloat (t, ==, 0);
  NEAR (geo_cubic_nearest (&line, geo_point (93, -4), &t), 5, 1e-12);
  g_assert_cmpfloat (t, ==, 1);
  NEAR (geo_cubic_nearest (&line, geo_point (45, 0), NULL), 0, 1e-12);
  /* The parabola y = x^2: from (0, a) the feet lie at x = +-sqrt (a - 1/2), at
   * distance sqrt (a - 1/4); for a <= 1/2 at the vertex. Of two as near, the
   * first. */
  GeoCubic parabola = graph_cubic (0, 1, 0, 0, 100, false);
  NEAR (geo_cubic_nearest (&parabola, geo_point (0, 80), &t), 100 * sqrt (0.55),
        1e-10);
  NEAR (t, 0.5 - 0.5 * sqrt (0.3), 1e-9);
  NEAR (geo_cubic_nearest (&parabola, geo_point (0, 40), &t), 40, 1e-12);
  NEAR (t, 0.5, 1e-9);
  /* On the centre of curvature the foot is a root of high order. */
  NEAR (geo_cubic_nearest (&parabola, geo_point (0, 50), &t), 50, 1e-12);
  NEAR (t, 0.5, 1e-4);
  GeoCubic point = { { { 3, 4 }, { 3, 4 }, { 3, 4 }, { 3, 4 } } };
  NEAR (geo_cubic_nearest (&point, geo_point (0, 0), &t), 5, 0.0001);
  g_assert_true (t >= 0 && t <= 1);
}

/* Never farther than any of many samples, and at one of them nearly. */
static void
check_dense (const GeoCubic *c, GeoPoint p)
{
  double t, best = INFINITY, d = geo_cubic_nearest (c, p, &t);
  g_assert_true (t >= 0 && t <= 1 && isfinite (d));
  NEAR (geo_distance (geo_cubic_point (c, t), p), d, 1e-12 + 1e-12 * d);
  for (int i = 0; i <= 500; i++)
    best = fmin (best, geo_distance (geo_cubic_point (c, i / 500.0), p));
  g_assert_cmpfloat (d, <=, best + 1e-9);
}

static void
test_dense (void)
{
  g_autoptr (GArray) degenerate = curve_samples_degenerate ();
  for (guint i = 0; i < degenerate->len; i++)
    {
      GeoCubic *c = &g_array_index (degenerate, CurveSample, i).c;
      for (int k = 0; k < 20; k++)
        {
          check_dense (c, random_point (300));
          GeoPoint on = geo_cubic_point (c, g_test_rand_double ());
          check_dense (c, on);
          double off = geo_cubic_nearest (c, on, NULL);
          if (off > 1e-9)
            g_error ("%s: %g off itself at %.17g, %.17g",
                     g_array_index (degenerate, CurveSample, i).name, off, on.x,
                     on.y);
        }
    }
  for (int i = 0; i < 3000; i++)
    {
      GeoCubic c = random_awkward_cubic (400);
      check_dense (&c, random_point (400));
    }
}

/* A point put off the curve along the normal, by less than the radius there:
 * unless the curve comes nearer elsewhere the foot is where it was put. */
static void
test_normals (void)
{
  g_autoptr (GArray) pattern = curve_samples_pattern ();
  int checked = 0;
  for (guint i = 0; i < pattern->len; i++)
    {
      GeoCubic *c = &g_array_index (pattern, CurveSample, i).c;
      for (int k = 1; k < 10; k++)
        {
          double t = k / 10.0, found, off = g_test_rand_double_range (-3, 3);
          if (geo_norm (geo_cubic_velocity (c, t)) < 20
              || fabs (off * geo_cubic_curvature (c, t)) > 0.5)
            continue;
          GeoPoint foot = geo_cubic_point (c, t);
          GeoPoint p
              = geo_along (foot, geo_left (geo_cubic_tangent (c, t)), off);
          double d = geo_cubic_nearest (c, p, &found);
          if (d > fabs (off) + 1e-11)
            g_error ("%s: %g %g %g",
                     g_array_index (pattern, CurveSample, i).name,
                     d - fabs (off), t, found);
          if (d < fabs (off) - 1e-9)
            continue;
          NEAR_POINT (geo_cubic_point (c, found), foot, 1e-9);
          checked++;
        }
    }
  g_assert_cmpint (checked, >, 1500);
}

static void
test_chain (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoPlace place = { 7, 7 };
  g_assert_true (isinf (geo_chain_nearest (&chain, geo_point (1, 2), &place)));
  g_assert_cmpuint (place.cubic, ==, 7);
  chain_append_circle (&chain, geo_point (0, 0), 50, 16);
  for (int i = 0; i < 200; i++)
    {
      GeoPoint p = geo_sub (random_point (200), geo_point (100, 100));
      double d = geo_chain_nearest (&chain, p, &place);
      /* Sixteen arcs stand off the circle by less than 1e-7 of its radius. */
      NEAR (d, fabs (geo_norm (p) - 50), 1e-5);
      NEAR (geo_distance (geo_chain_point (&chain, place), p), d, 1e-12);
    }
  geo_chain_clear (&chain);
}

static void
quiet (const char *format, ...)
{
  (void)format;
}

static void
test_geos (void)
{
  initGEOS (quiet, quiet);
  for (int round = 0; round < 20; round++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      for (int i = 0; i < 4; i++)
        geo_chain_append (&chain, random_cubic (400));
      const unsigned pieces = 4000;
      GEOSCoordSequence *seq = GEOSCoordSeq_create (4 * pieces + 1, 2);
      for (unsigned i = 0; i <= 4 * pieces; i++)
        {
          GeoPlace place = { i / pieces, (double)(i % pieces) / pieces };
          GeoPoint p = geo_chain_point (&chain, place);
          GEOSCoordSeq_setXY (seq, i, p.x, p.y);
        }
      GEOSGeometry *line = GEOSGeom_createLineString (seq);
      for (int i = 0; i < 10; i++)
        {
          GeoPoint p = random_point (500);
          GEOSGeometry *point = GEOSGeom_createPointFromXY (p.x, p.y);
          double d;
          GEOSDistance (line, point, &d);
          NEAR (geo_chain_nearest (&chain, p, NULL), d, 1e-4);
          GEOSGeom_destroy (point);
        }
      GEOSGeom_destroy (line);
      geo_chain_clear (&chain);
    }
  finishGEOS ();
}

static void
test_stray (void)
{
  GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
  GeoPlace where = { 9, 9 };
  g_assert_cmpfloat (geo_chain_stray (&a, &b, 9, NULL), ==, 0);
  geo_chain_append_line (&a, geo_point (0, 0), geo_point (100, 0));
  g_assert_true (isinf (geo_chain_stray (&a, &b, 9, NULL)));
  geo_chain_append_line (&b, geo_point (0, 3), geo_point (80, 3));
  /* One-sided: the far end of a stands farther off b than b of a. */
  NEAR (geo_chain_stray (&a, &b, 9, &where), hypot (20, 3), 1e-9);
  g_assert_true (where.cubic == 0 && where.t == 1);
  NEAR (geo_chain_stray (&b, &a, 9, NULL), 3, 1e-12);
  /* A peak between samples: the parabola y = x^2 against its chord, deepest at
   * x = 0.2 for the part from -0.6 to 1. */
  geo_chain_reset (&a);
  geo_chain_reset (&b);
  GeoCubic parabola = graph_cubic (0, 1, 0, 0, 100, false);
  geo_chain_append (&a, geo_cubic_part (&parabola, 0.2, 1));
  geo_chain_append_line (&b, a.cubics[0].p[0], a.cubics[0].p[3]);
  double slope = 0.4,
         depth = 100 * (0.36 - 0.04 + slope * (0.2 + 0.6)) / hypot (1, slope);
  NEAR (geo_chain_stray (&a, &b, 4, &where), depth, 1e-6);
  NEAR (geo_chain_point (&a, where).x, 20, 0.1);
  geo_chain_clear (&a);
  geo_chain_clear (&b);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/nearest/known", test_known);
  g_test_add_func ("/geometry/nearest/dense", test_dense);
  g_test_add_func ("/geometry/nearest/normals", test_normals);
  g_test_add_func ("/geometry/nearest/chain", test_chain);
  g_test_add_func ("/geometry/nearest/geos", test_geos);
  g_test_add_func ("/geometry/nearest/stray", test_stray);
  return g_test_run ();
}
