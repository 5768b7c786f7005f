/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever cubic comes, its parallel is finite, in one piece, told by its spans
 * from end to end, and within tolerance of the exact one both ways; and so is
 * the line at a distance that varies by whatever profile. */
#include "../file/fuzz.h"
#include "fuzz-numbers.h"
#include "parallel-measure.h"

#include "geometry/parallel-varying.h"
#include "geometry/parallel.h"

const char *const fuzz_folder = "fuzz-parallel";

static void
check_chain (const GeoChain *chain)
{
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoPoint *p = chain->cubics[i].p;
      for (int j = 0; j < 4; j++)
        assert_that (isfinite (p[j].x) && isfinite (p[j].y));
      assert_that (i == 0 || geo_same (chain->cubics[i - 1].p[3], p[0]));
    }
  assert_that (chain->count < 2000);
}

static void
check_spans (const GeoParallelSpan *spans, int count, const GeoChain *chain)
{
  size_t next = 0;
  double t = 0;
  assert_that (count < GEO_PARALLEL_SPANS);
  for (int i = 0; i < count; i++)
    {
      assert_that (spans[i].first == next && spans[i].t0 == t);
      assert_that (spans[i].t1 >= t);
      next += spans[i].count;
      t = spans[i].t1;
    }
  assert_that (next == chain->count && (count == 0 || t == 1));
}

/* A leg so short that it has a direction by its last digits alone, or a little one
 * next to none: where the exact line turns about it is not found by sampling. */
static bool
has_speck (const GeoCubic *c)
{
  double least = 1e-8;
  for (int i = 0; i < 3; i++)
    if (geo_same (c->p[i], c->p[i + 1]))
      least = 1e-3;
  for (int i = 0; i < 3; i++)
    {
      double leg = geo_distance (c->p[i], c->p[i + 1]);
      if (leg > 0 && leg < least)
        return true;
    }
  return false;
}

static void
check_error (const GeoCubic *c, double d, double tolerance,
             const GeoChain *chain)
{
  double arrow = tolerance / 200;
  if (has_speck (c))
    return;
  if (measure_has_gap (c))
    {
      assert_that (measure_distance (c, d, chain) < tolerance + 0.002);
      return;
    }
  MeasureParallel exact = measure_parallel (c, d);
  double error = measure_two_sided (measure_parallel_point, &exact, chain,
                                    arrow, tolerance);
  if (error > tolerance + arrow)
    for (int i = 0; i < 4; i++)
      fprintf (stderr, "%.17g %.17g  at %.17g within %g: %g\n", c->p[i].x,
               c->p[i].y, d, tolerance, error);
  assert_that (error <= tolerance + arrow);
}

#define TABLE 2048

/* By its definition, the lengths from a table of five-point Gauss-Legendre
 * sums. */
typedef struct
{
  MeasureParallel base;
  GeoProfile profile;
  double length[TABLE + 1];
} Varying;

static double
length_between (const GeoCubic *c, double a, double b)
{
  const double x1 = sqrt (5 - 2 * sqrt (10 / 7.0)) / 3;
  const double x2 = sqrt (5 + 2 * sqrt (10 / 7.0)) / 3;
  const double w1 = (322 + 13 * sqrt (70)) / 900;
  const double w2 = (322 - 13 * sqrt (70)) / 900;
  const double x[] = { 0, x1, -x1, x2, -x2 };
  const double w[] = { 128 / 225.0, w1, w1, w2, w2 };
  double sum = 0;
  for (int i = 0; i < 5; i++)
    {
      double t = (a + b) / 2 + x[i] * (b - a) / 2;
      sum += w[i] * geo_norm (geo_cubic_velocity (c, t));
    }
  return sum * (b - a) / 2;
}

static GeoPoint
varying_point (const void *curve, double t)
{
  const Varying *v = curve;
  int i = (int)(t * TABLE);
  double at = v->length[i < TABLE ? i : TABLE];
  MeasureParallel m = v->base;
  if (i < TABLE)
    at += length_between (m.c, (double)i / TABLE, t);
  m.d = geo_profile_at (&v->profile, at, NULL);
  return measure_parallel_point (&m, t);
}

static void
check_varying (const GeoCubic *c, double tolerance, FuzzNumbers *in)
{
  GeoProfileKnot knots[4];
  unsigned how = fuzz_byte (in);
  size_t n = 2 + how % 3;
  double at = 60 * fuzz_share (in);
  for (size_t i = 0; i < n; i++)
    {
      knots[i] = (GeoProfileKnot){ at, fuzz_byte (in) % 4 == 0
                                           ? 0
                                           : 40 * fuzz_share (in) };
      at += 1 + fuzz_byte (in);
    }
  static Varying v;
  v.base = measure_parallel (c, 0);
  v.profile
      = (GeoProfile){ knots, n,
                      how / 4 % 2 ? GEO_PROFILE_EASED : GEO_PROFILE_STRAIGHT };
  GeoChain out = GEO_CHAIN_EMPTY;
  bool any = geo_cubic_parallel_varying (c, knots, n, v.profile.kind, tolerance,
                                         &out);
  assert_that (any == (out.count > 0));
  check_chain (&out);
  /* A closed one is given a joint, a cusp an arc. */
  if (any && !has_speck (c) && !measure_has_gap (c)
      && !geo_same (c->p[0], c->p[3]))
    {
      for (int i = 0; i < TABLE; i++)
        v.length[i + 1]
            = v.length[i]
              + length_between (c, (double)i / TABLE, (double)(i + 1) / TABLE);
      double error = measure_two_sided (varying_point, &v, &out,
                                        tolerance / 200, tolerance);
      assert_that (error <= tolerance * 1.005);
    }
  geo_chain_clear (&out);
}

static void
check_constant (const GeoCubic *c, double d, double tolerance)
{
  GeoChain out = GEO_CHAIN_EMPTY;
  GeoParallelSpan spans[GEO_PARALLEL_SPANS];
  int count = geo_cubic_parallel_spans (c, d, tolerance, &out, spans);
  assert_that ((count > 0) == (out.count > 0));
  check_spans (spans, count, &out);
  check_chain (&out);
  if (count > 0)
    {
      check_error (c, d, tolerance, &out);
      geo_chain_reset (&out);
      assert_that (
          geo_cubic_parallel_in (c, d, tolerance, GEO_PARALLEL_FAST, &out));
      check_chain (&out);
      check_error (c, d, tolerance, &out);
    }
  geo_chain_clear (&out);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static const double tolerances[] = { 1, 0.1, 0.01, 0.003 };
  static const double widths[] = { 0.01, 1, 6, 10, 15, 25, 40, 200 };
  FuzzNumbers in = { data, size };
  GeoCubic c;
  unsigned kind = fuzz_byte (&in), how = fuzz_byte (&in);
  double d = widths[kind % 8] * (kind / 8 % 2 ? -1 : 1);
  double tolerance = tolerances[how % 4];
  if (kind / 16 % 4 == 0)
    d *= 1 + fuzz_share (&in);
  for (int i = 0; i < 4; i++)
    c.p[i] = fuzz_point (&in, i > 0 ? c.p[i - 1] : geo_point (0, 0));
  if (kind >= 160)
    check_varying (&c, tolerance, &in);
  else
    check_constant (&c, d, tolerance);
  return 0;
}
