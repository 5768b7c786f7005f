/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "curve-samples.h"
#include "geometry/length.h"
#include "geometry/parallel.h"
#include "parallel-measure.h"

#include <glib.h>

/* Of the polylines that stand for exact curves: arrows this small a part of the
 * tolerance; the coarse ones, where they leave no doubt. */
#define FINE 200
#define COARSE 50

static double
two_sided_error (const GeoCubic *c, double d, const GeoChain *parallel,
                 double tolerance)
{
  MeasureParallel exact = measure_parallel (c, d);
  double arrow = tolerance / COARSE;
  double error = measure_two_sided (measure_parallel_point, &exact, parallel,
                                    arrow, tolerance);
  if (error + 2 * arrow < tolerance)
    return error;
  return measure_two_sided (measure_parallel_point, &exact, parallel,
                            tolerance / FINE, tolerance);
}

static void
assert_sound (const GeoChain *chain)
{
  for (size_t i = 0; i < chain->count; i++)
    {
      for (int j = 0; j < 4; j++)
        g_assert_true (isfinite (chain->cubics[i].p[j].x)
                       && isfinite (chain->cubics[i].p[j].y));
      if (i > 0)
        g_assert_true (
            geo_same (chain->cubics[i - 1].p[3], chain->cubics[i].p[0]));
    }
}

static void
test_arc (void)
{
  /* Closed form: the parallel of an arc is the arc of radius R - d, k > 0
   * meaning that the centre lies on the left. R 70, a quarter: 109.96, and
   * 125.66 and 94.25 at 10 mm outside and inside. */
  const double d[] = { -10, 10, -40, 25, 69, 90 };
  GeoChain chain = GEO_CHAIN_EMPTY;
  for (int i = 0; i < 3; i++)
    geo_chain_append (&chain, geo_cubic_arc (geo_point (5, -3), 70,
                                             i * M_PI / 6, (i + 1) * M_PI / 6));
  g_assert_cmpfloat_with_epsilon (geo_chain_length (&chain, 1e-6), 109.9557,
                                  1e-3);
  for (gsize i = 0; i < G_N_ELEMENTS (d); i++)
    {
      GeoChain out = GEO_CHAIN_EMPTY;
      double r = fabs (70 - d[i]);
      g_assert_true (geo_chain_parallel (&chain, d[i], 0.001, &out));
      assert_sound (&out);
      g_assert_cmpfloat_with_epsilon (geo_chain_length (&out, 1e-6),
                                      r * M_PI / 2, 5e-3);
      for (size_t j = 0; j < out.count; j++)
        for (int k = 0; k <= 16; k++)
          {
            GeoPoint q = geo_cubic_point (&out.cubics[j], k / 16.0);
            g_assert_cmpfloat_with_epsilon (geo_distance (q, geo_point (5, -3)),
                                            r, 0.0015);
          }
      geo_chain_clear (&out);
    }
  geo_chain_clear (&chain);
}

static void
test_line (void)
{
  GeoCubic line = geo_cubic_line (geo_point (1, 2), geo_point (31, 42));
  GeoChain out = GEO_CHAIN_EMPTY;
  g_assert_true (geo_cubic_parallel (&line, 10, 0.01, &out));
  g_assert_cmpuint (out.count, ==, 1);
  g_assert_cmpfloat_with_epsilon (out.cubics[0].p[0].x, 1 - 8, 1e-12);
  g_assert_cmpfloat_with_epsilon (out.cubics[0].p[0].y, 2 + 6, 1e-12);
  g_assert_cmpfloat_with_epsilon (out.cubics[0].p[3].x, 31 - 8, 1e-12);
  g_assert_cmpfloat_with_epsilon (out.cubics[0].p[3].y, 42 + 6, 1e-12);
  geo_chain_clear (&out);
  GeoPoint p = { 3, 4 };
  GeoCubic point = { { p, p, p, p } };
  g_assert_false (geo_cubic_parallel (&point, 10, 0.01, &out));
  g_assert_cmpuint (out.count, ==, 0);
  g_assert_true (geo_cubic_parallel (&line, 0, 0.01, &out));
  g_assert_true (geo_same (out.cubics[0].p[1], line.p[1]));
  geo_chain_clear (&out);
}

static void
test_square (void)
{
  /* Perimeter with rounded corners 400 + 2 pi 10; inside, the corners are
   * joined through the joints: 4 (100 + 2 x 10). */
  GeoPoint p[5] = { { 0, 0 }, { 100, 0 }, { 100, 100 }, { 0, 100 }, { 0, 0 } };
  GeoChain square = GEO_CHAIN_EMPTY, out = GEO_CHAIN_EMPTY;
  for (int i = 0; i < 4; i++)
    geo_chain_append_line (&square, p[i], p[i + 1]);
  g_assert_true (geo_chain_parallel (&square, -10, 0.001, &out));
  assert_sound (&out);
  g_assert_true (geo_chain_is_closed (&out));
  g_assert_cmpfloat_with_epsilon (geo_chain_length (&out, 1e-6), 462.8319,
                                  0.005);
  geo_chain_reset (&out);
  g_assert_true (geo_chain_parallel (&square, 10, 0.001, &out));
  g_assert_true (geo_chain_is_closed (&out));
  g_assert_cmpfloat_with_epsilon (geo_chain_length (&out, 1e-6), 480, 1e-6);
  geo_chain_clear (&out);
  geo_chain_clear (&square);
}

static GArray *
read_curves (GPtrArray *names)
{
  g_autofree char *path = g_build_filename (g_getenv ("BODKIN_TEST_DATA"),
                                            "pattern-curves.txt", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  GArray *curves = g_array_new (FALSE, FALSE, sizeof (GeoCubic));
  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (int i = 0; lines[i]; i++)
    {
      g_auto (GStrv) words = g_strsplit (g_strstrip (lines[i]), " ", -1);
      if (lines[i][0] == '#' || g_strv_length (words) != 9)
        continue;
      GeoCubic c;
      for (int j = 0; j < 4; j++)
        c.p[j] = geo_point (g_ascii_strtod (words[1 + 2 * j], NULL),
                            g_ascii_strtod (words[2 + 2 * j], NULL));
      g_array_append_val (curves, c);
      g_ptr_array_add (names, g_strdup (words[0]));
    }
  return curves;
}

typedef struct
{
  double worst;
  size_t cases, cubics, gaps;
} Tally;

/* One case, its error asserted. */
static void
assert_parallel (const char *name, const GeoCubic *c, double d,
                 double tolerance, GeoParallelMode mode, Tally *tally)
{
  GeoChain out = GEO_CHAIN_EMPTY;
  g_assert_true (geo_cubic_parallel_in (c, d, tolerance, mode, &out));
  assert_sound (&out);
  tally->cases++;
  tally->cubics += out.count;
  if (measure_has_gap (c))
    {
      g_assert_cmpfloat (measure_distance (c, d, &out), <=, tolerance + 0.002);
      tally->gaps++;
    }
  else
    {
      double error = two_sided_error (c, d, &out, tolerance);
      if (error > tolerance)
        for (int i = 0; i < 4; i++)
          g_test_message ("%s %.17g %.17g at %.17g within %g, mode %d: %g",
                          name, c->p[i].x, c->p[i].y, d, tolerance, mode,
                          error);
      g_assert_cmpfloat (error, <=, tolerance);
      tally->worst = MAX (tally->worst, error / tolerance);
    }
  geo_chain_clear (&out);
}

static void
tell (const Tally *tally)
{
  g_test_message ("%zu cases, %zu with a cusp or fold; worst %.4f of the "
                  "tolerance; %.3f cubics each",
                  tally->cases, tally->gaps, tally->worst,
                  (double)tally->cubics / (double)tally->cases);
}

static void
test_pattern_curves (void)
{
  const double d[] = { 6, 10, 15, 25, 40 };
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) curves = read_curves (names);
  Tally tally[2] = { 0 };
  g_assert_cmpuint (curves->len, >=, 200);
  for (guint i = 0; i < curves->len * 20; i++)
    {
      const GeoCubic *c = &g_array_index (curves, GeoCubic, i / 20);
      GeoParallelMode mode
          = i / 10 % 2 ? GEO_PARALLEL_FAST : GEO_PARALLEL_QUALITY;
      double side = i % 2 ? d[i / 2 % 5] : -d[i / 2 % 5];
      assert_parallel (names->pdata[i / 20], c, side, 0.01, mode, &tally[mode]);
    }
  tell (&tally[0]);
  tell (&tally[1]);
}

static void
test_tolerances (void)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) curves = read_curves (names);
  const double tolerance[] = { 1, 0.1, 1e-3, 1e-4, 1e-5, 1e-6 };
  for (guint j = 0; j < G_N_ELEMENTS (tolerance); j++)
    {
      Tally tally = { 0 };
      /* The finer, the longer the polylines. */
      for (guint i = j; i < curves->len; i += j < 3 ? 7 : j < 5 ? 20 : 97)
        for (int side = -1; side <= 1; side += 2)
          assert_parallel (names->pdata[i],
                           &g_array_index (curves, GeoCubic, i), side * 15.0,
                           tolerance[j], (GeoParallelMode)(i % 2), &tally);
      tell (&tally);
    }
}

/* The spans cover the source from end to end and their cubics the chain. */
static void
assert_spans (const GeoCubic *c, double d, double tolerance)
{
  GeoParallelSpan spans[GEO_PARALLEL_SPANS];
  GeoChain out = GEO_CHAIN_EMPTY;
  int count = geo_cubic_parallel_spans (c, d, tolerance, &out, spans);
  assert_sound (&out);
  g_assert_cmpint (count, <, GEO_PARALLEL_SPANS);
  g_assert_cmpuint (out.count, <, 600);
  size_t next = 0;
  double t = 0;
  for (int i = 0; i < count; i++)
    {
      g_assert_cmpuint (spans[i].first, ==, next);
      g_assert_cmpfloat (spans[i].t0, ==, t);
      g_assert_cmpfloat (spans[i].t1, >=, t);
      next += spans[i].count;
      t = spans[i].t1;
    }
  g_assert_cmpuint (next, ==, out.count);
  if (count > 0)
    g_assert_cmpfloat (t, ==, 1);
  geo_chain_clear (&out);
}

static GeoPoint
random_place (double scale)
{
  return geo_point (g_test_rand_double_range (-1, 1) * scale,
                    g_test_rand_double_range (-1, 1) * scale);
}

static void
test_degenerate (void)
{
  const double scales[] = { 1e-7, 1e-3, 0.1, 1, 30, 300, 1e4 };
  for (int i = 0; i < 6000; i++)
    {
      double scale = scales[g_test_rand_int_range (0, 7)];
      GeoPoint a = random_place (scale), b = random_place (scale);
      GeoCubic c;
      int way = g_test_rand_int_range (0, 4);
      for (int j = 0; j < 4; j++)
        {
          c.p[j] = random_place (scale);
          if (way == 1)
            c.p[j] = geo_lerp (a, b, g_test_rand_int_range (0, 5) / 2.0);
          if (way == 2)
            c.p[j] = geo_along (geo_lerp (a, b, g_test_rand_double ()),
                                random_place (1), 1e-9 * scale);
        }
      if (way == 3)
        for (int j = g_test_rand_int_range (1, 4); j > 0; j--)
          {
            int to = g_test_rand_int_range (0, 4);
            double off = g_test_rand_int_range (0, 2) ? 0 : 1e-3;
            c.p[to] = geo_along (c.p[g_test_rand_int_range (0, 4)],
                                 random_place (scale), off);
          }
      double d = g_test_rand_double_range (-60, 60);
      assert_spans (&c, i % 50 ? d : 0, i % 3 ? 0.01 : 0.0);
    }
}

/* How many curves: 20,000, fewer under the sanitizers, or what a long run asks
 * for (1,000,000 take some five minutes). */
static int
how_many (void)
{
  const char *text = g_getenv ("BODKIN_TEST_CURVES");
#ifdef __SANITIZE_ADDRESS__
  const int usual = 3000;
#else
  const int usual = 20000;
#endif
  return text ? (int)g_ascii_strtoll (text, NULL, 10) : usual;
}

static void
test_random_curves (void)
{
  /* Any cubic, loops, hairpins, collapsed and tiny handles, cusps and folds
   * among them. */
  static const double tolerances[] = { 0.3, 0.1, 0.03, 0.01 };
  Tally tally = { 0 };
  int count = how_many ();
  for (int i = 0; i < count; i++)
    {
      double size = i % 8 ? 100 : pow (10, g_test_rand_double_range (-1, 3));
      GeoCubic c = i % 2 ? random_cubic (size) : random_awkward_cubic (size);
      double d = g_test_rand_double_range (-40, 40);
      if (geo_cubic_is_point (&c, 0))
        continue;
      assert_parallel ("random", &c, d,
                       tolerances[g_test_rand_int_range (0, 4)],
                       (GeoParallelMode)(i / 2 % 2), &tally);
    }
  tell (&tally);
}

/* An end handle of next to no length in line with the far one: k goes from 0 to its greatest and back within
 * the last 1e-9 of the parameter. The first was 0.028 mm off. */
static void
test_tiny_in_line (void)
{
  Tally tally = { 0 };
  GeoCubic first = { { { -178, 60 },
                       { 71.759033203125, 71.759033203125 },
                       { 299.9908447265625, 299.9908447265625 },
                       { 299.99084772647097, 299.99084772647097 } } };
  assert_parallel ("tiny in line", &first, 39.999, 0.01, GEO_PARALLEL_QUALITY,
                   &tally);
  int count = how_many () / 8;
  for (int i = 0; i < count; i++)
    {
      GeoCubic c = random_cubic (100);
      double length = pow (10, g_test_rand_double_range (-9, -2));
      GeoPoint far = geo_unit (geo_sub (c.p[2], c.p[1]));
      c.p[3] = geo_along (c.p[2], far, length);
      if (i % 2)
        c = geo_cubic_reverse (&c);
      assert_parallel ("tiny in line", &c, g_test_rand_double_range (-40, 40),
                       0.01, (GeoParallelMode)(i / 2 % 2), &tally);
    }
  tell (&tally);
}

static void
test_fold (void)
{
  /* Out and back to 40: two lines and a half turn about the far end. */
  GeoCubic fold = { { { 0, 0 }, { 60, 0 }, { 130, 0 }, { 40, 0 } } };
  for (int side = -1; side <= 1; side += 2)
    {
      GeoChain out = GEO_CHAIN_EMPTY;
      g_assert_true (geo_cubic_parallel (&fold, side * 10, 0.01, &out));
      assert_sound (&out);
      g_assert_cmpfloat (measure_distance (&fold, 10, &out), <, 0.02);
      g_assert_cmpfloat_with_epsilon (geo_chain_end (&out).x, 40, 1e-9);
      g_assert_cmpfloat_with_epsilon (geo_chain_end (&out).y, -side * 10, 1e-9);
      GeoBox box = geo_chain_bounds (&out), own = geo_cubic_bounds (&fold);
      g_assert_cmpfloat_with_epsilon (box.x1, own.x1 + 10, 0.01);
      geo_chain_clear (&out);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/parallel/arc", test_arc);
  g_test_add_func ("/parallel/line", test_line);
  g_test_add_func ("/parallel/square", test_square);
  g_test_add_func ("/parallel/fold", test_fold);
  g_test_add_func ("/parallel/pattern-curves", test_pattern_curves);
  g_test_add_func ("/parallel/tolerances", test_tolerances);
  g_test_add_func ("/parallel/random-curves", test_random_curves);
  g_test_add_func ("/parallel/degenerate", test_degenerate);
  g_test_add_func ("/parallel/tiny-in-line", test_tiny_in_line);
  return g_test_run ();
}
