/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves made fair. */
#include <gsl/gsl_integration.h>

#include "curve-samples.h"
#include "geometry/fair.h"
#include "geometry/length.h"
#include "geometry/nearest.h"

static int
runs (int usual)
{
  const char *many = g_getenv ("BODKIN_TEST_RUNS");
  return many ? MAX (1, atoi (many)) : usual;
}

/* Through points, each node's direction that from its neighbour before to the one
 * after. */
static void
through (GeoChain *chain, const GeoPoint *q, int n, bool closed)
{
  int cubics = closed ? n : n - 1;
  for (int i = 0; i < cubics; i++)
    {
      GeoPoint a = q[i], b = q[(i + 1) % n];
      GeoPoint before = closed || i > 0 ? q[(i + n - 1) % n] : a;
      GeoPoint after = closed || i + 2 < n ? q[(i + 2) % n] : b;
      double third = geo_distance (a, b) / 3;
      GeoPoint out = geo_unit (geo_sub (b, before));
      GeoPoint in = geo_unit (geo_sub (after, a));
      geo_chain_append (chain, (GeoCubic){ { a, geo_along (a, out, third),
                                             geo_along (b, in, -third), b } });
    }
  if (closed)
    chain->cubics[chain->count - 1].p[3] = chain->cubics[0].p[0];
}

static double
shake (double most)
{
  return g_test_rand_double_range (-most, most);
}

static void
check_fair (const GeoChain *chain, const GeoChain *fair, double within,
            double corner)
{
  g_assert_cmpuint (fair->count, ==, chain->count);
  g_assert_cmpfloat (geo_chain_stray (fair, chain, 33, NULL), <=,
                     within * 1.001 + 1e-9);
  g_assert_cmpfloat (geo_chain_stray (chain, fair, 33, NULL), <=,
                     within * 1.001 + 1e-9);
  g_assert_cmpfloat (geo_chain_roughness (fair, corner), <=,
                     geo_chain_roughness (chain, corner) * (1 + 1e-9));
}

/* A circle of 100 mm whose points shake by 0.3 mm comes back to within 0.1 mm of
 * it, bulging all round. Shaking has a deviation of 0.17 mm, so n points tell the
 * centre and the radius of the best circle to 0.17 sqrt (2 / n) and
 * 0.17 / sqrt (n): 96 of them leave room within 0.1 mm, half as many do not
 * always, whoever fits them. */
static void
test_circle (void)
{
  for (int round = 0; round < runs (10); round++)
    {
      enum
      {
        POINTS = 96
      };
      GeoPoint q[POINTS];
      GeoChain chain = GEO_CHAIN_EMPTY, fair = GEO_CHAIN_EMPTY;
      for (int i = 0; i < POINTS; i++)
        {
          double a = 2 * G_PI * i / POINTS, r = 100 + shake (0.3);
          q[i] = geo_point (300 + r * cos (a), r * sin (a));
        }
      through (&chain, q, POINTS, true);
      GeoFairWish wish = geo_fair_wish (0.4);
      g_assert_true (geo_chain_fair (&chain, &wish, &fair));
      check_fair (&chain, &fair, 0.4, wish.corner);
      double least = INFINITY, most = 0, bent = INFINITY;
      for (size_t i = 0; i < fair.count; i++)
        for (int k = 0; k <= 20; k++)
          {
            GeoPlace place = { i, k / 20.0 };
            double r = geo_distance (geo_chain_point (&fair, place),
                                     geo_point (300, 0));
            least = fmin (least, r);
            most = fmax (most, r);
            bent = fmin (bent, geo_chain_curvature (&fair, place));
          }
      g_test_message ("radius %g to %g, curvature from %g", least, most, bent);
      g_assert_cmpfloat (least, >, 99.9);
      g_assert_cmpfloat (most, <, 100.1);
      g_assert_cmpfloat (bent, >, 0);
      geo_chain_clear (&chain);
      geo_chain_clear (&fair);
    }
}

typedef struct
{
  const GeoCubic *c;
} Curve;

/* (dk/ds)^2 ds/dt by differences. */
static double
change_at (double t, void *data)
{
  const GeoCubic *c = ((Curve *)data)->c;
  double h = 1e-5, from = fmax (0, t - h), to = fmin (1, t + h);
  double dk = (geo_cubic_curvature (c, to) - geo_cubic_curvature (c, from))
              / (to - from);
  return dk * dk / geo_norm (geo_cubic_velocity (c, t));
}

/* The roughness of one cubic by GSL's adaptive quadrature of differences. */
static void
test_roughness (void)
{
  gsl_integration_workspace *room = gsl_integration_workspace_alloc (1000);
  for (int i = 0; i < 50; i++)
    {
      GeoCubic c = { { { 0, 0 },
                       { 30 + shake (10), shake (30) },
                       { 70 + shake (10), shake (30) },
                       { 100, 10 } } };
      GeoChain chain = { &c, 1, 1 };
      Curve curve = { &c };
      gsl_function f = { change_at, &curve };
      double sum, error;
      gsl_integration_qag (&f, 0, 1, 0, 1e-6, 1000, GSL_INTEG_GAUSS21, room,
                           &sum, &error);
      NEAR (geo_chain_roughness (&chain, 0.3), sum, 1e-3 * sum + 1e-12);
    }
  gsl_integration_workspace_free (room);
  GeoChain round = GEO_CHAIN_EMPTY;
  chain_append_circle (&round, geo_point (0, 0), 50, 16);
  g_assert_cmpfloat (geo_chain_roughness (&round, 0.3), <, 1e-6);
  geo_chain_clear (&round);
}

/* An arm's eye drawn with a shaking hand: ends and directions stay, also with
 * the length kept, and with the curvature of a neighbour asked for. */
static void
shaken (GeoChain *chain, double most)
{
  GeoCubic c = { { { 0, 0 }, { 10, 90 }, { 60, 150 }, { 140, 160 } } };
  GeoPoint q[9];
  for (int i = 0; i < 9; i++)
    {
      q[i] = geo_cubic_point (&c, i / 8.0);
      if (i > 0 && i < 8)
        q[i] = geo_add (q[i], geo_point (shake (most), shake (most)));
    }
  through (chain, q, 9, false);
  double out = geo_distance (q[0], q[1]) / 3,
         in = geo_distance (q[7], q[8]) / 3;
  chain->cubics[0].p[1] = geo_along (q[0], geo_cubic_tangent (&c, 0), out);
  chain->cubics[7].p[2] = geo_along (q[8], geo_cubic_tangent (&c, 1), -in);
}

static void
test_ends (void)
{
  for (int i = 0; i < 20; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY, fair = GEO_CHAIN_EMPTY;
      GeoFairWish wish = geo_fair_wish (1);
      shaken (&chain, 0.5);
      g_assert_true (geo_chain_fair (&chain, &wish, &fair));
      check_fair (&chain, &fair, 1, wish.corner);
      g_assert_cmpfloat (geo_chain_roughness (&fair, wish.corner), <,
                         0.2 * geo_chain_roughness (&chain, wish.corner));
      for (int end = 0; end < 2; end++)
        {
          GeoPlace place = { end * 7, end };
          NEAR_POINT (geo_chain_point (&fair, place),
                      geo_chain_point (&chain, place), 0);
          NEAR_POINT (geo_chain_tangent (&fair, place),
                      geo_chain_tangent (&chain, place), 1e-9);
        }
      for (size_t k = 1; k < fair.count; k++)
        NEAR_POINT (geo_cubic_tangent (&fair.cubics[k - 1], 1),
                    geo_cubic_tangent (&fair.cubics[k], 0), 1e-9);
      geo_chain_clear (&chain);
      geo_chain_clear (&fair);
    }
}

static void
test_wishes (void)
{
  int kept = 0, met = 0;
  for (int i = 0; i < 20; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY, fair = GEO_CHAIN_EMPTY;
      GeoFairWish wish = geo_fair_wish (1);
      shaken (&chain, 0.5);
      wish.keep_length = true;
      if (geo_chain_fair (&chain, &wish, &fair))
        {
          check_fair (&chain, &fair, 1, wish.corner);
          NEAR (geo_chain_length (&fair, 1e-10),
                geo_chain_length (&chain, 1e-10), 1e-6);
          kept++;
        }
      wish.keep_length = false;
      wish.start_curvature = 1 / 250.0 * (i % 2 ? -1 : -0.5);
      wish.end_curvature = -1 / 300.0;
      if (geo_chain_fair (&chain, &wish, &fair))
        {
          NEAR (geo_cubic_curvature (&fair.cubics[0], 0), wish.start_curvature,
                1e-6);
          NEAR (geo_cubic_curvature (&fair.cubics[7], 1), wish.end_curvature,
                1e-6);
          g_assert_cmpfloat (geo_chain_stray (&fair, &chain, 33, NULL), <=,
                             1.001);
          met++;
        }
      geo_chain_clear (&chain);
      geo_chain_clear (&fair);
    }
  g_test_message ("length kept %d times of 20, curvatures met %d", kept, met);
  g_assert_cmpint (kept, >=, 18);
  g_assert_cmpint (met, >=, 18);
}

/* Corners stay where they are; what is round or straight has nothing to gain. */
static void
test_corners (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY, fair = GEO_CHAIN_EMPTY;
  GeoFairWish wish = geo_fair_wish (0.5);
  const double xy[] = { 0, 0, 100, 0, 100, 60, 0, 60 };
  g_assert_false (geo_chain_fair (&chain, &wish, &fair));
  g_assert_cmpuint (fair.count, ==, 0);
  chain_append_polygon (&chain, xy, 4);
  geo_chain_fair (&chain, &wish, &fair);
  g_assert_cmpuint (fair.count, ==, 4);
  for (size_t i = 0; i < 4; i++)
    NEAR_POINT (fair.cubics[i].p[0], chain.cubics[i].p[0], 0);
  check_fair (&chain, &fair, 0.5, wish.corner);
  wish.within = 0;
  g_assert_false (geo_chain_fair (&chain, &wish, &fair));
  geo_chain_clear (&chain);
  geo_chain_clear (&fair);
}

/* Whatever comes in, what comes out is whole, finite, no rougher and within
 * reach. */
static void
test_random (void)
{
  int better = 0;
  for (int i = 0; i < runs (300); i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY, fair = GEO_CHAIN_EMPTY;
      GeoFairWish wish
          = geo_fair_wish (pow (10, g_test_rand_double_range (-2, 1)));
      wish.keep_length = i % 3 == 0;
      if (i % 2)
        {
          int n = g_test_rand_int_range (1, 5);
          for (int k = 0; k < n; k++)
            geo_chain_append (&chain, random_awkward_cubic (200));
          if (g_test_rand_bit ())
            chain.cubics[n - 1].p[3] = chain.cubics[0].p[0];
        }
      else
        shaken (&chain, 2);
      better += geo_chain_fair (&chain, &wish, &fair);
      g_assert_cmpuint (fair.count, ==, chain.count);
      for (size_t k = 0; k < fair.count; k++)
        for (int j = 0; j < 4; j++)
          assert_finite_point (fair.cubics[k].p[j]);
      g_assert_cmpfloat (geo_chain_stray (&fair, &chain, 17, NULL), <=,
                         wish.within * 1.01 + 1e-9);
      geo_chain_clear (&chain);
      geo_chain_clear (&fair);
    }
  g_test_message ("%d bettered", better);
  g_assert_cmpint (better, >, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/fair/circle", test_circle);
  g_test_add_func ("/geometry/fair/roughness", test_roughness);
  g_test_add_func ("/geometry/fair/ends", test_ends);
  g_test_add_func ("/geometry/fair/wishes", test_wishes);
  g_test_add_func ("/geometry/fair/corners", test_corners);
  g_test_add_func ("/geometry/fair/random", test_random);
  return g_test_run ();
}
