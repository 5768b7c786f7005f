/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever the points, the cubics laid along them are whole and finite, start and
 * end where they should and keep to every point; whatever the chain, what has
 * fewer nodes stays within tolerance of it, and so does what is made fair;
 * outlines combined are closed and finite. */
#include "../file/fuzz.h"
#include "fuzz-numbers.h"

#include "geometry/fair.h"
#include "geometry/fit-points.h"
#include "geometry/fit.h"
#include "geometry/nearest.h"
#include "geometry/region-boolean.h"
#include "geometry/simplify.h"

#define MOST_POINTS 24

const char *const fuzz_folder = "fuzz-fit";

static void
check_chain (const GeoChain *chain)
{
  for (size_t i = 0; i < chain->count; i++)
    {
      for (int k = 0; k < 4; k++)
        {
          GeoPoint p = chain->cubics[i].p[k];
          assert_that (fabs (p.x) < 1e6 && fabs (p.y) < 1e6);
        }
      assert_that (
          i == 0
          || geo_same (chain->cubics[i - 1].p[3], chain->cubics[i].p[0]));
    }
}

static void
check_points (FuzzNumbers *in, unsigned kind)
{
  GeoPoint q[MOST_POINTS] = { { 0, 0 } };
  size_t n = 0;
  GeoChain chain = GEO_CHAIN_EMPTY;
  bool closed = kind & 1;
  double tolerance = 0.01 * exp2 (kind / 2 % 10);
  double corner = kind & 32 ? INFINITY : GEO_FIT_CORNER;
  while (in->size > 0 && n < MOST_POINTS)
    {
      q[n] = fuzz_point (in, n > 0 ? q[n - 1] : geo_point (0, 0));
      n++;
    }
  if (geo_fit_points (q, n, closed, corner, tolerance, &chain))
    {
      check_chain (&chain);
      for (size_t i = 0; i < n; i++)
        assert_that (geo_chain_nearest (&chain, q[i], NULL)
                     <= tolerance * (1 + 1e-6) + 1e-9);
      assert_that (!closed || geo_chain_is_closed (&chain));
      assert_that (closed || geo_same (geo_chain_start (&chain), q[0]));
      assert_that (closed || geo_same (geo_chain_end (&chain), q[n - 1]));
    }
  geo_chain_clear (&chain);
}

static void
read_chain (FuzzNumbers *in, size_t most, GeoChain *chain)
{
  GeoPoint last = fuzz_point (in, geo_point (0, 0));
  for (size_t i = 0; i < most && (i == 0 || in->size > 0); i++)
    {
      GeoCubic c = { { last, last, last, last } };
      for (int k = 1; k < 4; k++)
        c.p[k] = fuzz_point (in, c.p[k - 1]);
      geo_chain_append (chain, c);
      last = c.p[3];
    }
}

static void
check_fewer (FuzzNumbers *in, unsigned kind)
{
  GeoChain chain = GEO_CHAIN_EMPTY, fewer = GEO_CHAIN_EMPTY;
  double tolerance = 0.01 * exp2 (kind / 2 % 10);
  GeoCubic single;
  read_chain (in, 4, &chain);
  if (kind & 1)
    chain.cubics[chain.count - 1].p[3] = chain.cubics[0].p[0];
  geo_chain_simplify (&chain, 0.2, tolerance, &fewer);
  check_chain (&fewer);
  assert_that (fewer.count > 0 && fewer.count <= chain.count);
  assert_that (geo_chain_stray (&fewer, &chain, 17, NULL)
               <= 1.02 * tolerance + 1e-8);
  assert_that (geo_chain_stray (&chain, &fewer, 17, NULL)
               <= 1.02 * tolerance + 1e-8);
  GeoFairWish wish = geo_fair_wish (tolerance);
  wish.keep_length = kind & 64;
  geo_chain_fair (&chain, &wish, &fewer);
  check_chain (&fewer);
  assert_that (fewer.count == chain.count);
  assert_that (geo_chain_stray (&fewer, &chain, 17, NULL)
               <= 1.02 * tolerance + 1e-8);
  double off = geo_chain_fit_single (&chain, &single);
  GeoChain one = { &single, 1, 1 };
  check_chain (&one);
  assert_that (off >= 0 && off < 1e6);
  geo_chain_clear (&chain);
  geo_chain_clear (&fewer);
}

static void
check_regions (FuzzNumbers *in, unsigned kind)
{
  GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
  GeoRegion region;
  read_chain (in, 3, &a);
  read_chain (in, 3, &b);
  geo_region_combine (&a, &b, (GeoRegionRule)(kind % 3), 0.01, &region);
  for (size_t i = 0; i < region.count; i++)
    {
      check_chain (&region.outlines[i]);
      assert_that (geo_chain_is_closed (&region.outlines[i]));
    }
  assert_that (fabs (geo_region_area (&region)) < 1e7);
  geo_region_clear (&region);
  geo_chain_clear (&a);
  geo_chain_clear (&b);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  FuzzNumbers in = { data, size };
  unsigned what = fuzz_byte (&in), kind = fuzz_byte (&in);
  if (what % 4 < 2)
    check_points (&in, kind);
  else if (what % 4 == 2)
    check_fewer (&in, kind);
  else
    check_regions (&in, kind);
  return 0;
}
