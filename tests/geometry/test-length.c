/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arc length against closed forms (NIST Digital Library of Mathematical
 * Functions) and GSL's adaptive quadrature; places against lengths. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_ellint.h>

#include "curve-samples.h"
#include "geometry/length.h"
#include "length-reference.h"

static void
test_ellipse (void)
{
  /* A quarter of the ellipse with half axes 100 and 60 is 100 E (k) long with
   * k^2 = 1 - (60/100)^2: DLMF 19.30.2. The cubics are cut so finely that
   * they stand off the ellipse by less than its own tolerance. */
  GeoChain chain = GEO_CHAIN_EMPTY;
  const int n = 400;
  for (int i = 0; i < n; i++)
    {
      double a0 = G_PI / 2 * i / n, a1 = G_PI / 2 * (i + 1) / n;
      GeoCubic c = geo_cubic_arc (geo_point (0, 0), 1, a0, a1);
      for (int k = 0; k < 4; k++)
        c.p[k] = geo_point (100 * c.p[k].x, 60 * c.p[k].y);
      geo_chain_append (&chain, c);
    }
  double exact = 100 * gsl_sf_ellint_Ecomp (sqrt (1 - 0.36), GSL_PREC_DOUBLE);
  NEAR (geo_chain_length (&chain, 1e-10), exact, 1e-9);
  geo_chain_clear (&chain);
}

static void
test_closed_forms (void)
{
  /* A parabola y = x^2 from x = 0 to 1, lengthened 100 times:
   * (2 sqrt 5 + asinh 2) / 4, by the elementary integral. */
  GeoCubic half = graph_cubic (0, 1, 0, 0, 100, false);
  GeoCubic c = geo_cubic_part (&half, 0.5, 1);
  NEAR (geo_cubic_length (&c, 1e-10), 25 * (2 * sqrt (5) + asinh (2)), 1e-10);
  NEAR (geo_cubic_length (&half, 1e-10), 50 * (2 * sqrt (5) + asinh (2)),
        1e-10);
  /* The semicubical parabola x = t^2, y = t^3, t from 0 to 1 (end handle
   * collapsed to a cusp): (13 sqrt 13 - 8) / 27. */
  GeoCubic neile = { { { 0, 0 }, { 0, 0 }, { 100 / 3.0, 0 }, { 100, 100 } } };
  NEAR (geo_cubic_length (&neile, 1e-10), 100 * (13 * sqrt (13) - 8) / 27,
        1e-10);
  /* and through its cusp, t from -1 to 1 */
  GeoCubic cusp = {
    { { 100, -100 }, { -100 / 3.0, 100 }, { -100 / 3.0, -100 }, { 100, 100 } }
  };
  NEAR (geo_cubic_length (&cusp, 1e-10), 200 * (13 * sqrt (13) - 8) / 27,
        1e-10);
  /* Straight and folded lines: sums of differences. x = 300 t (1-t)^2 - 150
   * t^2 (1-t) + 60 t^3 turns where x' = 0. */
  GeoCubic line = geo_cubic_line (geo_point (0, 0), geo_point (30, 40));
  NEAR (geo_cubic_length (&line, 1e-10), 50, 1e-12);
  GeoCubic fold = { { { 0, 0 }, { 100, 0 }, { -50, 0 }, { 60, 0 } } };
  double t[2];
  g_assert_cmpint (geo_cubic_cusps (&fold, t), ==, 2);
  double x0 = geo_cubic_point (&fold, t[0]).x,
         x1 = geo_cubic_point (&fold, t[1]).x;
  NEAR (geo_cubic_length (&fold, 1e-10), x0 + (x0 - x1) + (60 - x1), 1e-9);
  GeoCubic point = { { { 7, 8 }, { 7, 8 }, { 7, 8 }, { 7, 8 } } };
  g_assert_cmpfloat (geo_cubic_length (&point, 1e-10), ==, 0);
  g_assert_cmpfloat (geo_cubic_length_to (&point, 0.5, 1e-10), ==, 0);
}

static void
check_against_quadrature (GArray *samples)
{
  for (guint i = 0; i < samples->len; i++)
    {
      CurveSample *s = &g_array_index (samples, CurveSample, i);
      double exact = reference_length (&s->c, 1);
      double found = geo_cubic_length (&s->c, 1e-10);
      if (fabs (found - exact) > 2e-10)
        g_error ("%s: %.15g, quadrature %.15g", s->name, found, exact);
      exact = reference_length (&s->c, 0.37);
      NEAR (geo_cubic_length_to (&s->c, 0.37, 1e-10), exact, 2e-10);
      double coarse = geo_cubic_length (&s->c, 1e-3);
      NEAR (coarse, found, 1e-3);
    }
}

static void
test_quadrature (void)
{
  g_autoptr (GArray) pattern = curve_samples_pattern ();
  g_autoptr (GArray) degenerate = curve_samples_degenerate ();
  check_against_quadrature (pattern);
  check_against_quadrature (degenerate);
}

static void
test_quadrature_random (void)
{
  for (int i = 0; i < 300; i++)
    {
      GeoCubic c = random_awkward_cubic (400);
      double exact = reference_length (&c, 1);
      double found = geo_cubic_length (&c, 1e-10);
      if (fabs (found - exact) > 3e-10)
        g_error ("%.17g,%.17g %.17g,%.17g %.17g,%.17g %.17g,%.17g: %.15g, "
                 "quadrature %.15g",
                 c.p[0].x, c.p[0].y, c.p[1].x, c.p[1].y, c.p[2].x, c.p[2].y,
                 c.p[3].x, c.p[3].y, found, exact);
    }
}

/* Place to length and back, order kept. */
static void
check_round_trip (const GeoCubic *c, const char *name, int steps)
{
  double whole = geo_cubic_length (c, 1e-10), last = 0;
  for (int i = 0; i <= steps; i++)
    {
      double length = whole * i / steps;
      double t = geo_cubic_at_length (c, length, 1e-10);
      double back = geo_cubic_length_to (c, t, 1e-10);
      g_assert_true (t >= last && t <= 1);
      if (fabs (back - length) > 1e-9)
        g_error ("%s: asked %.15g, came to %.15g", name, length, back);
      last = t;
    }
  g_assert_cmpfloat (geo_cubic_at_length (c, -1, 1e-10), ==, 0);
  g_assert_cmpfloat (geo_cubic_at_length (c, 0, 1e-10), ==, 0);
  if (whole > 0)
    g_assert_cmpfloat (geo_cubic_at_length (c, whole + 1, 1e-10), ==, 1);
}

static void
test_round_trip (void)
{
  g_autoptr (GArray) pattern = curve_samples_pattern ();
  g_autoptr (GArray) degenerate = curve_samples_degenerate ();
  for (guint i = 0; i < pattern->len; i++)
    {
      CurveSample *s = &g_array_index (pattern, CurveSample, i);
      check_round_trip (&s->c, s->name, 60);
    }
  for (guint i = 0; i < degenerate->len; i++)
    {
      CurveSample *s = &g_array_index (degenerate, CurveSample, i);
      check_round_trip (&s->c, s->name, 300);
    }
  for (int i = 0; i < 1000; i++)
    {
      GeoCubic c = random_awkward_cubic (400);
      check_round_trip (&c, "random", 20);
    }
}

/* Lengths as close as doubles can be never come out in the wrong order. */
static void
test_monotone (void)
{
  g_autoptr (GArray) degenerate = curve_samples_degenerate ();
  for (guint i = 0; i < degenerate->len; i++)
    {
      GeoCubic *c = &g_array_index (degenerate, CurveSample, i).c;
      double whole = geo_cubic_length (c, 1e-10);
      double start = whole * g_test_rand_double ();
      double tolerance = i % 2 ? 1e-10 : 1e-6, last = 0;
      for (int k = 0; k < 400; k++)
        {
          double t
              = geo_cubic_at_length (c, start + k * tolerance / 37, tolerance);
          g_assert_cmpfloat (t, >=, last);
          last = t;
        }
    }
}

static void
test_chain (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoRuler ruler;
  /* An empty chain and one of points have no length and no trouble. */
  geo_ruler_init (&ruler, &chain, 1e-9);
  g_assert_cmpfloat (geo_ruler_length (&ruler), ==, 0);
  g_assert_cmpuint (geo_ruler_place (&ruler, 5).cubic, ==, 0);
  geo_ruler_clear (&ruler);
  g_assert_cmpfloat (geo_chain_length (&chain, 1e-9), ==, 0);
  geo_chain_append_line (&chain, geo_point (1, 1), geo_point (1, 1));
  g_assert_cmpfloat (geo_chain_length (&chain, 1e-9), ==, 0);
  assert_finite_point (
      geo_chain_point (&chain, geo_chain_at_length (&chain, 3, 1e-9)));
  geo_chain_reset (&chain);
  /* Two sides of a rectangle with a point between. */
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (100, 0));
  geo_chain_append_line (&chain, geo_point (100, 0), geo_point (100, 0));
  geo_chain_append_line (&chain, geo_point (100, 0), geo_point (100, 60));
  geo_ruler_init (&ruler, &chain, 1e-10);
  NEAR (geo_ruler_length (&ruler), 160, 1e-10);
  NEAR_POINT (geo_chain_point (&chain, geo_ruler_place (&ruler, 130)),
              geo_point (100, 30), 1e-9);
  NEAR_POINT (geo_chain_point (&chain, geo_chain_at_length (&chain, 25, 1e-10)),
              geo_point (25, 0), 1e-9);
  NEAR_POINT (geo_chain_point (&chain, geo_ruler_place (&ruler, 999)),
              geo_point (100, 60), 0);
  NEAR_POINT (geo_chain_point (&chain, geo_ruler_place (&ruler, -1)),
              geo_point (0, 0), 0);
  /* At the joint the later cubic is named, the point past by. */
  g_assert_cmpuint (geo_ruler_place (&ruler, 100).cubic, ==, 2);
  for (int i = 0; i <= 320; i++)
    {
      GeoPlace place = geo_ruler_place (&ruler, i / 2.0);
      NEAR (geo_ruler_length_to (&ruler, place), i / 2.0, 1e-9);
      NEAR (geo_chain_length_to (&chain, place, 1e-10), i / 2.0, 1e-9);
    }
  geo_ruler_clear (&ruler);
  geo_chain_clear (&chain);
}

static void
test_chain_round_trip (void)
{
  for (int round = 0; round < 60; round++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      int count = g_test_rand_int_range (1, 12);
      for (int i = 0; i < count; i++)
        geo_chain_append (&chain, random_awkward_cubic (300));
      GeoRuler ruler;
      geo_ruler_init (&ruler, &chain, 1e-10);
      GeoPlace last = { 0, 0 };
      double whole = geo_ruler_length (&ruler);
      NEAR (whole, geo_chain_length (&chain, 1e-10), 1e-8);
      for (int i = 0; i <= 100; i++)
        {
          GeoPlace place = geo_ruler_place (&ruler, whole * i / 100);
          g_assert_cmpint (geo_place_compare (last, place), <=, 0);
          NEAR (geo_ruler_length_to (&ruler, place), whole * i / 100, 1e-9);
          last = place;
        }
      geo_ruler_clear (&ruler);
      geo_chain_clear (&chain);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/geometry/length/ellipse", test_ellipse);
  g_test_add_func ("/geometry/length/closed-forms", test_closed_forms);
  g_test_add_func ("/geometry/length/quadrature", test_quadrature);
  g_test_add_func ("/geometry/length/quadrature-random",
                   test_quadrature_random);
  g_test_add_func ("/geometry/length/round-trip", test_round_trip);
  g_test_add_func ("/geometry/length/monotone", test_monotone);
  g_test_add_func ("/geometry/length/chain", test_chain);
  g_test_add_func ("/geometry/length/chain-round-trip", test_chain_round_trip);
  return g_test_run ();
}
