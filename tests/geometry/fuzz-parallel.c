/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever cubic comes, its parallel is finite, in one piece, told by its spans
 * from end to end, and within tolerance of the exact one both ways. */
#include "../file/fuzz.h"
#include "fuzz-numbers.h"
#include "parallel-measure.h"

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

static void
check_error (const GeoCubic *c, double d, double tolerance,
             const GeoChain *chain)
{
  double arrow = tolerance / 200;
  if (measure_has_gap (c))
    {
      assert_that (measure_distance (c, d, chain) < tolerance + 0.6);
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

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static const double tolerances[] = { 1, 0.1, 0.01, 0.003 };
  static const double widths[] = { 0.01, 1, 6, 10, 15, 25, 40, 200 };
  FuzzNumbers in = { data, size };
  GeoChain out = GEO_CHAIN_EMPTY;
  GeoParallelSpan spans[GEO_PARALLEL_SPANS];
  GeoCubic c;
  unsigned kind = fuzz_byte (&in), how = fuzz_byte (&in);
  double d = widths[kind % 8] * (kind / 8 % 2 ? -1 : 1);
  double tolerance = tolerances[how % 4];
  if (kind / 16 % 4 == 0)
    d *= 1 + fuzz_share (&in);
  for (int i = 0; i < 4; i++)
    c.p[i] = fuzz_point (&in, i > 0 ? c.p[i - 1] : geo_point (0, 0));
  int count = geo_cubic_parallel_spans (&c, d, tolerance, &out, spans);
  assert_that ((count > 0) == (out.count > 0));
  check_spans (spans, count, &out);
  check_chain (&out);
  if (count > 0)
    {
      check_error (&c, d, tolerance, &out);
      geo_chain_reset (&out);
      assert_that (
          geo_cubic_parallel_in (&c, d, tolerance, GEO_PARALLEL_FAST, &out));
      check_chain (&out);
      check_error (&c, d, tolerance, &out);
    }
  geo_chain_clear (&out);
  return 0;
}
