/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "curve-samples.h"
#include "geometry/parallel-varying.h"
#include "geometry/parallel.h"
#include "parallel-measure.h"

#include <gsl/gsl_integration.h>

/* Of the polylines that stand for exact curves: arrows this small a part of the
 * tolerance. */
#define FINE 200
#define TABLE 2048

/* O by its definition, its lengths by GSL's fixed Gauss-Legendre rule between
 * entries of a table. */
typedef struct
{
  GeoCubic c;
  GeoProfile profile;
  gsl_integration_glfixed_table *rule;
  double length[TABLE + 1];
} Exact;

static double
speed (double t, void *data)
{
  const GeoPoint *p = ((const GeoCubic *)data)->p;
  double s = 1 - t;
  GeoPoint v = geo_scale (geo_sub (p[1], p[0]), 3 * s * s);
  v = geo_along (v, geo_sub (p[2], p[1]), 6 * s * t);
  v = geo_along (v, geo_sub (p[3], p[2]), 3 * t * t);
  return sqrt (geo_dot (v, v));
}

static void
exact_init (Exact *exact, const GeoCubic *c, GeoProfile profile)
{
  gsl_function f = { speed, &exact->c };
  exact->c = *c;
  exact->profile = profile;
  exact->rule = gsl_integration_glfixed_table_alloc (12);
  exact->length[0] = 0;
  for (int i = 0; i < TABLE; i++)
    exact->length[i + 1]
        = exact->length[i]
          + gsl_integration_glfixed (&f, i / (double)TABLE,
                                     (i + 1) / (double)TABLE, exact->rule);
}

static double
exact_length (const Exact *exact, double t)
{
  int i = (int)(t * TABLE);
  if (i >= TABLE)
    return exact->length[TABLE];
  gsl_function f = { speed, (void *)&exact->c };
  return exact->length[i]
         + gsl_integration_glfixed (&f, i / (double)TABLE, t, exact->rule);
}

static GeoPoint
exact_point (const void *curve, double t)
{
  const Exact *exact = curve;
  double d = geo_profile_at (&exact->profile, exact_length (exact, t), NULL);
  MeasureParallel m = measure_parallel (&exact->c, d);
  return measure_parallel_point (&m, t);
}

static bool
is_sound (const GeoChain *chain)
{
  for (size_t i = 0; i < chain->count; i++)
    for (int j = 0; j < 4; j++)
      {
        GeoPoint p = chain->cubics[i].p[j];
        if (!isfinite (p.x) || !isfinite (p.y)
            || (i > 0 && j == 0 && !geo_same (chain->cubics[i - 1].p[3], p)))
          return false;
      }
  return true;
}

static void
test_profile (void)
{
  /* From knot to knot of a swell: 10 x^3 - 15 x^4 + 6 x^5, the least quintic
   * that is level, and bends not, at both ends (closed form). */
  GeoProfileKnot swell[3];
  GeoProfile profile
      = { swell, geo_profile_swell (100, 40, 8, swell), GEO_PROFILE_EASED };
  for (int i = -20; i <= 160; i++)
    {
      double at = 60 + i * 0.5, x = CLAMP ((at - 60) / 40, 0, 2), slope;
      x = x > 1 ? 2 - x : x;
      double want = 8 * x * x * x * (10 - 15 * x + 6 * x * x);
      double rise = 8 * 30 * x * x * (1 - x) * (1 - x) / 40;
      NEAR (geo_profile_at (&profile, at, &slope), want, 1e-12);
      NEAR (fabs (slope), rise, 1e-12);
    }
  profile.kind = GEO_PROFILE_STRAIGHT;
  NEAR (geo_profile_at (&profile, 70, NULL), 2, 1e-12);
  NEAR (geo_profile_at (&profile, 130, NULL), 2, 1e-12);
  NEAR (geo_profile_at (&profile, -1e6, NULL), 0, 1e-12);
}

static void
test_profile_smooth (void)
{
  for (int round = 0; round < 300; round++)
    {
      GeoProfileKnot k[6] = { { 0, g_test_rand_double_range (-9, 9) } };
      GeoProfile profile = { k, 6, GEO_PROFILE_EASED };
      for (int i = 1; i < 6; i++)
        k[i] = (GeoProfileKnot){ k[i - 1].at + g_test_rand_double_range (1, 50),
                                 g_test_rand_double_range (-9, 9) };
      g_assert_true (geo_profile_is_sound (&profile));
      for (int i = 0; i < 6; i++)
        NEAR (geo_profile_at (&profile, k[i].at, NULL), k[i].d, 1e-12);
      for (int i = 1; i < 6; i++)
        {
          double h = (k[i].at - k[i - 1].at) / 64, way = k[i].d - k[i - 1].d;
          for (int j = 0; j < 64; j++)
            {
              double a = geo_profile_at (&profile, k[i - 1].at + j * h, NULL);
              double b
                  = geo_profile_at (&profile, k[i - 1].at + (j + 1) * h, NULL);
              g_assert_cmpfloat ((b - a) * way, >=, -1e-12);
            }
        }
      for (int i = 1; i < 5; i++)
        {
          /* Slope and second derivative from both sides. */
          double before, after, far, h = 1e-5;
          geo_profile_at (&profile, k[i].at - 1e-9, &before);
          geo_profile_at (&profile, k[i].at, &after);
          NEAR (before, after, 1e-6);
          geo_profile_at (&profile, k[i].at + h, &far);
          NEAR ((far - after) / h, 0, 0.02);
          geo_profile_at (&profile, k[i].at - h, &far);
          NEAR ((far - after) / h, 0, 0.02);
        }
    }
}

static void
test_unsound (void)
{
  GeoCubic c = { { { 0, 0 }, { 30, 0 }, { 70, 40 }, { 100, 40 } } };
  GeoProfileKnot none[] = { { 0, 1 }, { 0, 2 }, { 5, NAN }, { 9, 1 } };
  GeoChain out = GEO_CHAIN_EMPTY;
  GeoProfileKind kind = GEO_PROFILE_EASED;
  g_assert_false (geo_cubic_parallel_varying (&c, none, 0, kind, 0.01, &out));
  g_assert_false (geo_cubic_parallel_varying (&c, none, 2, kind, 0.01, &out));
  g_assert_false (
      geo_cubic_parallel_varying (&c, none + 1, 3, kind, 0.01, &out));
  GeoCubic point = { { { 3, 4 }, { 3, 4 }, { 3, 4 }, { 3, 4 } } };
  GeoProfileKnot two[] = { { 0, 1 }, { 5, 2 } };
  g_assert_false (geo_cubic_parallel_varying (&point, two, 2, kind, 1, &out));
  g_assert_cmpuint (out.count, ==, 0);
}

static void
test_constant (void)
{
  g_autoptr (GArray) samples = curve_samples_pattern ();
  GeoProfileKnot k[] = { { -10, 7 }, { 20, 7 }, { 80, 7 } };
  for (guint i = 0; i < samples->len; i++)
    {
      const GeoCubic *c = &g_array_index (samples, CurveSample, i).c;
      GeoChain out = GEO_CHAIN_EMPTY, plain = GEO_CHAIN_EMPTY;
      g_assert_true (geo_cubic_parallel_varying (
          c, k, i % 3 + 1, GEO_PROFILE_EASED, 0.01, &out));
      g_assert_true (geo_cubic_parallel (c, 7, 0.01, &plain));
      g_assert_cmpuint (out.count, ==, plain.count);
      for (size_t j = 0; j < out.count; j++)
        for (int m = 0; m < 4; m++)
          g_assert_true (geo_same (out.cubics[j].p[m], plain.cubics[j].p[m]));
      geo_chain_clear (&out);
      geo_chain_clear (&plain);
    }
}

static void
test_straight (void)
{
  /* Exact: from 2 mm to 12 mm along a straight edge is one straight line; with
   * knots inside the edge, three. The left of (0.6, 0.8) is (-0.8, 0.6). */
  GeoCubic line = geo_cubic_line (geo_point (1, 2), geo_point (61, 82));
  GeoProfileKnot ends[] = { { 0, 2 }, { 100, 12 } };
  GeoProfileKnot inside[] = { { 20, 2 }, { 70, 12 } };
  GeoChain out = GEO_CHAIN_EMPTY;
  g_assert_true (geo_cubic_parallel_varying (&line, ends, 2,
                                             GEO_PROFILE_STRAIGHT, 0.01, &out));
  g_assert_cmpuint (out.count, ==, 1);
  NEAR_POINT (geo_chain_start (&out), geo_point (1 - 1.6, 2 + 1.2), 1e-9);
  NEAR_POINT (geo_chain_end (&out), geo_point (61 - 9.6, 82 + 7.2), 1e-9);
  g_assert_true (geo_cubic_is_straight (&out.cubics[0], 1e-9));
  geo_chain_reset (&out);
  g_assert_true (geo_cubic_parallel_varying (&line, inside, 2,
                                             GEO_PROFILE_STRAIGHT, 0.01, &out));
  g_assert_cmpuint (out.count, ==, 3);
  NEAR_POINT (out.cubics[1].p[0], geo_point (13 - 1.6, 18 + 1.2), 1e-8);
  NEAR_POINT (out.cubics[2].p[0], geo_point (43 - 9.6, 58 + 7.2), 1e-8);
  geo_chain_clear (&out);
}

/* Beside a circle, in closed form: (R - d (R a)) (cos a, sin a). */
typedef struct
{
  double radius;
  GeoProfile profile;
} Round;

static GeoPoint
round_point (const void *curve, double t)
{
  const Round *r = curve;
  double a = 2 * G_PI * t;
  double d = geo_profile_at (&r->profile, r->radius * a, NULL);
  return geo_point ((r->radius - d) * cos (a), (r->radius - d) * sin (a));
}

static void
test_circle (void)
{
  static const double tolerances[] = { 0.1, 0.01, 1e-3, 1e-4, 1e-5 };
  GeoChain circle = GEO_CHAIN_EMPTY;
  GeoProfileKnot k[3];
  /* Arcs of a thirty-second leave the circle by 2e-9. */
  chain_append_circle (&circle, geo_point (0, 0), 100, 64);
  for (int i = 0; i < 40; i++)
    {
      double tolerance = tolerances[i / 2 % 5];
      double amount = i % 4 < 2 ? 30 : -30, at = i < 20 ? 300 : 100;
      geo_profile_swell (at, i < 10 ? 250 : 90, amount, k);
      Round r = { 100, { k, 3, (GeoProfileKind)(i % 2) } };
      GeoChain out = GEO_CHAIN_EMPTY;
      g_assert_true (geo_chain_parallel_varying (&circle, k, 3, r.profile.kind,
                                                 tolerance, &out));
      g_assert_true (is_sound (&out));
      g_assert_true (geo_chain_is_closed (&out));
      double error = measure_two_sided (round_point, &r, &out, tolerance / FINE,
                                        tolerance);
      g_assert_cmpfloat (error, <=, tolerance * 1.005);
      geo_chain_clear (&out);
    }
  geo_chain_clear (&circle);
}

static GeoProfile
random_profile (GeoProfileKnot *knots, double length)
{
  size_t n = (size_t)g_test_rand_int_range (2, 6);
  double at = g_test_rand_double_range (-0.3, 0.6) * length, most = 25;
  for (size_t i = 0; i < n; i++)
    {
      knots[i] = (GeoProfileKnot){ at, g_test_rand_double_range (-most, most) };
      if (i > 0 && g_test_rand_int_range (0, 5) == 0)
        knots[i].d = knots[i - 1].d;
      if (g_test_rand_int_range (0, 4) == 0)
        knots[i].d = 0;
      at += g_test_rand_double_range (0.05, 0.5) * length + 0.01;
    }
  GeoProfileKind kind
      = g_test_rand_int_range (0, 2) ? GEO_PROFILE_EASED : GEO_PROFILE_STRAIGHT;
  return (GeoProfile){ knots, n, kind };
}

/* One curve with one profile, its error asserted. Where the source has a cusp
 * or a fold, arcs stand in gaps of O: only sound is asserted. */
static double
assert_varying (const char *name, const GeoCubic *c, GeoProfile profile,
                double tolerance, size_t *cubics)
{
  GeoChain out = GEO_CHAIN_EMPTY;
  double error = 0;
  g_assert_true (geo_cubic_parallel_varying (c, profile.knots, profile.count,
                                             profile.kind, tolerance, &out));
  g_assert_true (is_sound (&out));
  *cubics += out.count;
  if (measure_has_gap (c))
    error = is_sound (&out) ? 0 : INFINITY;
  else if (is_sound (&out))
    {
      Exact exact;
      exact_init (&exact, c, profile);
      error = measure_two_sided (exact_point, &exact, &out, tolerance / FINE,
                                 tolerance);
      gsl_integration_glfixed_table_free (exact.rule);
    }
  if (error > tolerance)
    {
      for (int i = 0; i < 4; i++)
        g_test_message ("%s %.17g %.17g", name, c->p[i].x, c->p[i].y);
      for (size_t i = 0; i < profile.count; i++)
        g_test_message ("  at %.17g width %.17g", profile.knots[i].at,
                        profile.knots[i].d);
      g_test_message ("kind %d within %g: %g with %zu", profile.kind, tolerance,
                      error, out.count);
    }
  g_assert_cmpfloat (error, <=, tolerance);
  geo_chain_clear (&out);
  return error / tolerance;
}

static void
test_pattern_curves (void)
{
  g_autoptr (GArray) samples = curve_samples_pattern ();
  size_t cubics = 0;
  double worst = 0;
  for (guint i = 0; i < samples->len; i++)
    {
      const CurveSample *sample = &g_array_index (samples, CurveSample, i);
      GeoProfileKnot knots[6];
      double length = geo_distance (sample->c.p[0], sample->c.p[3]) + 20;
      worst = fmax (worst, assert_varying (sample->name, &sample->c,
                                           random_profile (knots, length),
                                           i % 2 ? 0.01 : 0.1, &cubics));
    }
  g_test_message ("worst %.4f of the tolerance, %.2f cubics each", worst,
                  (double)cubics / samples->len);
}

static void
test_random_curves (void)
{
  size_t cubics = 0;
  double worst = 0;
  const int count = 1000;
  for (int i = 0; i < count; i++)
    {
      GeoProfileKnot knots[6];
      GeoCubic c = i % 2 ? random_cubic (100) : random_awkward_cubic (100);
      /* Closed ones are given a joint. */
      if (geo_same (c.p[0], c.p[3]))
        continue;
      worst = fmax (worst,
                    assert_varying ("random", &c, random_profile (knots, 150),
                                    i % 3 ? 0.1 : 0.01, &cubics));
    }
  g_test_message ("worst %.4f of the tolerance, %.2f cubics each", worst,
                  (double)cubics / count);
}

static void
test_outside_reach (void)
{
  /* Where the width is nothing the source stays as it is. */
  GeoChain chain = GEO_CHAIN_EMPTY, out = GEO_CHAIN_EMPTY;
  GeoCubic c[3]
      = { { { { 0, 0 }, { 40, 10 }, { 70, 30 }, { 100, 30 } } },
          { { { 100, 30 }, { 140, 30 }, { 180, 0 }, { 200, -30 } } },
          { { { 200, -30 }, { 210, -45 }, { 230, -50 }, { 280, -50 } } } };
  GeoProfileKnot k[3];
  for (int i = 0; i < 3; i++)
    geo_chain_append (&chain, c[i]);
  geo_profile_swell (170, 30, -4, k);
  g_assert_true (
      geo_chain_parallel_varying (&chain, k, 3, GEO_PROFILE_EASED, 0.01, &out));
  g_assert_true (is_sound (&out));
  for (int m = 0; m < 4; m++)
    {
      g_assert_true (geo_same (out.cubics[0].p[m], c[0].p[m]));
      g_assert_true (geo_same (out.cubics[out.count - 1].p[m], c[2].p[m]));
    }
  /* One tangent at every joint. */
  for (size_t i = 1; i < out.count; i++)
    {
      GeoPoint u = geo_cubic_tangent (&out.cubics[i - 1], 1);
      GeoPoint v = geo_cubic_tangent (&out.cubics[i], 0);
      NEAR_POINT (u, v, 1e-6);
    }
  geo_chain_clear (&out);
  geo_chain_clear (&chain);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/parallel-varying/profile", test_profile);
  g_test_add_func ("/parallel-varying/profile-smooth", test_profile_smooth);
  g_test_add_func ("/parallel-varying/unsound", test_unsound);
  g_test_add_func ("/parallel-varying/constant", test_constant);
  g_test_add_func ("/parallel-varying/straight", test_straight);
  g_test_add_func ("/parallel-varying/circle", test_circle);
  g_test_add_func ("/parallel-varying/outside-reach", test_outside_reach);
  g_test_add_func ("/parallel-varying/pattern-curves", test_pattern_curves);
  g_test_add_func ("/parallel-varying/random-curves", test_random_curves);
  return g_test_run ();
}
