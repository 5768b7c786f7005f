/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/length.h"
#include "geometry/parallel.h"

#include <glib.h>
#include <stdio.h>

/* Longest step of the polylines that stand for exact curves, in mm; where
 * these bend it is shorter, so that arrows stay below 5e-5. */
#define STEP 0.25

typedef struct
{
  const GeoCubic *c;
  double d;
  bool exact; /* the parallel; else the cubic itself */
  GArray *points;
} Sampler;

/* P + d N, by nothing of the code under test. */
static GeoPoint
exact_point (const Sampler *s, double t)
{
  GeoPoint p = geo_cubic_point (s->c, t);
  if (!s->exact)
    return p;
  return geo_along (p, geo_left (geo_cubic_tangent (s->c, t)), s->d);
}

static double
to_segment (GeoPoint q, GeoPoint a, GeoPoint b)
{
  GeoPoint u = geo_sub (b, a), r = geo_sub (q, a);
  double l = geo_dot (u, u);
  double t = l > 0 ? CLAMP (geo_dot (r, u) / l, 0, 1) : 0;
  r = geo_sub (r, geo_scale (u, t));
  return sqrt (geo_dot (r, r));
}

static void
sample_between (Sampler *s, double t0, GeoPoint p0, double t1, GeoPoint p1,
                int depth)
{
  double middle = (t0 + t1) / 2;
  GeoPoint p = exact_point (s, middle);
  bool near = geo_distance (p0, p) + geo_distance (p, p1) <= STEP
              && to_segment (p, p0, p1) < 5e-5;
  if ((near && depth >= 9) || depth >= 45 || middle <= t0 || middle >= t1)
    {
      g_array_append_val (s->points, p1);
      return;
    }
  sample_between (s, t0, p0, middle, p, depth + 1);
  sample_between (s, middle, p, t1, p1, depth + 1);
}

static GArray *
sample_cubic (const GeoCubic *c, double d, bool exact, GArray *points)
{
  Sampler s = { c, d, exact, points };
  GeoPoint from = exact_point (&s, 0), to = exact_point (&s, 1);
  if (points->len == 0)
    g_array_append_val (points, from);
  sample_between (&s, 0, from, 1, to, 0);
  return points;
}

/* Both run the same way at nearly the same pace, so the nearest segment moves
 * on by a few at a time; where none near is close, all are tried. */
static double
farthest (const GArray *from, const GArray *to, double enough)
{
  double worst = 0;
  gint64 at = 0, last = (gint64)to->len - 1;
  for (guint i = 0; i < from->len; i++)
    {
      GeoPoint q = g_array_index (from, GeoPoint, i);
      double best = INFINITY;
      for (int whole = 0; whole < 2 && !(best <= enough); whole++)
        {
          gint64 j0 = whole ? 0 : MAX (at - 12, 0);
          gint64 j1 = whole ? last : MIN (at + 12, last);
          for (gint64 j = j0; j < j1; j++)
            {
              double e = to_segment (q, g_array_index (to, GeoPoint, j),
                                     g_array_index (to, GeoPoint, j + 1));
              if (e < best)
                {
                  best = e;
                  at = j;
                }
            }
        }
      worst = MAX (worst, best);
    }
  return worst;
}

static double
two_sided_error (const GeoCubic *c, double d, const GeoChain *parallel,
                 double enough)
{
  g_autoptr (GArray) exact = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  g_autoptr (GArray) given = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  sample_cubic (c, d, true, exact);
  for (size_t i = 0; i < parallel->count; i++)
    sample_cubic (&parallel->cubics[i], 0, false, given);
  return MAX (farthest (given, exact, enough), farthest (exact, given, enough));
}

/* Every point lies at |d| from some point of the source whose foot it is, or
 * about a cusp: the least of ||q - P (t)| - |d||. */
static double
distance_error (const GeoCubic *c, double d, const GeoChain *parallel)
{
  double worst = 0;
  for (size_t i = 0; i < parallel->count; i++)
    for (int j = 0; j <= 8; j++)
      {
        GeoPoint q = geo_cubic_point (&parallel->cubics[i], j / 8.0);
        double best = INFINITY;
        for (int k = 0; k <= 4000; k++)
          {
            GeoPoint p = geo_cubic_point (c, k / 4000.0);
            best = MIN (best, fabs (geo_distance (p, q) - fabs (d)));
          }
        worst = MAX (worst, best);
      }
  return worst;
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

/* At a cusp of the source or a fold the exact parallel has a gap that an arc
 * is put in, so only the distance can be checked. */
static bool
has_gap (const GeoCubic *c)
{
  double t[2];
  return geo_cubic_cusps (c, t) > 0;
}

static void
test_pattern_curves (void)
{
  const double d[] = { 6, 10, 15, 25, 40 };
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) curves = read_curves (names);
  double worst = 0;
  size_t count = 0, gaps = 0;
  g_assert_cmpuint (curves->len, >=, 200);
  for (guint i = 0; i < curves->len * 10; i++)
    {
      const GeoCubic *c = &g_array_index (curves, GeoCubic, i / 10);
      double side = i % 2 ? d[i / 2 % 5] : -d[i / 2 % 5];
      GeoChain out = GEO_CHAIN_EMPTY;
      g_assert_true (geo_cubic_parallel (c, side, 0.01, &out));
      assert_sound (&out);
      double error = has_gap (c) ? distance_error (c, side, &out)
                                 : two_sided_error (c, side, &out, 0.01);
      if (error > 0.01)
        g_test_message ("%s at %g: %g", (char *)names->pdata[i / 10], side,
                        error);
      g_assert_cmpfloat (error, <=, has_gap (c) ? 0.05 : 0.01);
      worst = has_gap (c) ? worst : MAX (worst, error);
      count += out.count;
      gaps += has_gap (c);
      geo_chain_clear (&out);
    }
  g_test_message ("%u cases, %zu with a cusp or fold; worst %.5f mm; %.3f "
                  "cubics each",
                  curves->len * 10, gaps, worst,
                  (double)count / (curves->len * 10));
}

static void
test_tolerances (void)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) curves = read_curves (names);
  const double tolerance[] = { 0.1, 0.001 };
  for (guint i = 0; i < curves->len; i += 7)
    for (int j = 0; j < 4; j++)
      {
        const GeoCubic *c = &g_array_index (curves, GeoCubic, i);
        double d = j < 2 ? -15 : 15, enough = tolerance[j % 2];
        GeoChain out = GEO_CHAIN_EMPTY;
        if (has_gap (c))
          continue;
        g_assert_true (geo_cubic_parallel (c, d, enough, &out));
        /* The polylines' own arrows are part of what is measured. */
        g_assert_cmpfloat (two_sided_error (c, d, &out, enough), <=,
                           enough + 2e-4);
        geo_chain_clear (&out);
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
random_point (double scale)
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
      GeoPoint a = random_point (scale), b = random_point (scale);
      GeoCubic c;
      int way = g_test_rand_int_range (0, 4);
      for (int j = 0; j < 4; j++)
        {
          c.p[j] = random_point (scale);
          if (way == 1)
            c.p[j] = geo_lerp (a, b, g_test_rand_int_range (0, 5) / 2.0);
          if (way == 2)
            c.p[j] = geo_along (geo_lerp (a, b, g_test_rand_double ()),
                                random_point (1), 1e-9 * scale);
        }
      if (way == 3)
        for (int j = g_test_rand_int_range (1, 4); j > 0; j--)
          {
            int to = g_test_rand_int_range (0, 4);
            double off = g_test_rand_int_range (0, 2) ? 0 : 1e-3;
            c.p[to] = geo_along (c.p[g_test_rand_int_range (0, 4)],
                                 random_point (scale), off);
          }
      double d = g_test_rand_double_range (-60, 60);
      assert_spans (&c, i % 50 ? d : 0, i % 3 ? 0.01 : 0.0);
    }
}

static void
test_random_curves (void)
{
  /* Any cubic without a cusp of its own, loops and hairpins among them. The
   * error is measured at feet, so a few hundredths are left for what lies
   * between them. */
  double worst = 0;
  for (int i = 0; i < 400; i++)
    {
      GeoCubic c;
      GeoChain out = GEO_CHAIN_EMPTY;
      for (int j = 0; j < 4; j++)
        c.p[j] = random_point (100);
      double d = g_test_rand_double_range (-40, 40), t[2];
      if (geo_cubic_cusps (&c, t) > 0)
        continue;
      g_assert_true (geo_cubic_parallel (&c, d, 0.01, &out));
      double error = two_sided_error (&c, d, &out, 0.01);
      if (error > 0.01)
        for (int j = 0; j < 4; j++)
          g_test_message ("%.17g %.17g at %.17g: %g", c.p[j].x, c.p[j].y, d,
                          error);
      g_assert_cmpfloat (error, <=, 0.0105);
      worst = MAX (worst, error);
      geo_chain_clear (&out);
    }
  g_test_message ("worst %.5f mm", worst);
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
      g_assert_cmpfloat (distance_error (&fold, 10, &out), <, 0.02);
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
  return g_test_run ();
}
