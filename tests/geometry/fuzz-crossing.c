/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever two cubics come, every crossing given lies on both, in order; b with a
 * gives some where a with b does; a chain of the two says the same whether asked
 * for all or any; and lines that cross plainly, told by the signs of areas, are
 * found to. */
#include "../file/fuzz.h"
#include "fuzz-numbers.h"

#include "geometry/crossing.h"
#include "geometry/nearest.h"

const char *const fuzz_folder = "fuzz-crossing";

static void
check_places (const GeoCubic *a, const GeoCubic *b, const GeoCrossings *list)
{
  for (size_t i = 0; i < list->count; i++)
    {
      const GeoCrossing *c = &list->items[i];
      assert_that (c->a.cubic == 0 && c->b.cubic == 0);
      assert_that (c->a.t >= 0 && c->a.t <= 1 && c->b.t >= 0 && c->b.t <= 1);
      assert_that (geo_distance (geo_cubic_point (a, c->a.t), c->at) <= 2e-9);
      assert_that (geo_distance (geo_cubic_point (b, c->b.t), c->at) <= 2e-9);
      assert_that (i == 0 || list->items[i - 1].a.t <= c->a.t);
    }
}

/* Curves that only come within the tolerance of each other may be found one way
 * round and not the other; those that meet may not. */
static bool
has_plain (const GeoCubic *a, const GeoCubic *b, const GeoCrossings *list)
{
  for (size_t i = 0; i < list->count; i++)
    {
      const GeoCrossing *c = &list->items[i];
      if (geo_distance (geo_cubic_point (a, c->a.t),
                        geo_cubic_point (b, c->b.t))
          < 1e-10)
        return true;
    }
  return false;
}

/* The chords as lines: crossing by signs with room to spare. */
static void
check_chords (const GeoCubic *a, const GeoCubic *b)
{
  GeoPoint p = a->p[0], q = a->p[3], r = b->p[0], s = b->p[3];
  GeoPoint u = geo_sub (q, p), v = geo_sub (s, r);
  double room = 1e-3 * (1 + geo_norm (u)) * (1 + geo_norm (v));
  double c = geo_cross (u, geo_sub (r, p)), d = geo_cross (u, geo_sub (s, p));
  double e = geo_cross (v, geo_sub (p, r)), f = geo_cross (v, geo_sub (q, r));
  if (fmin (fabs (c), fabs (d)) < room || fmin (fabs (e), fabs (f)) < room)
    return;
  GeoCubic l = geo_cubic_line (p, q), m = geo_cubic_line (r, s);
  GeoCrossings list;
  geo_crossings_init (&list);
  geo_cubic_crossings (&l, &m, &list);
  bool cross = (c > 0) != (d > 0) && (e > 0) != (f > 0);
  assert_that (list.count == (cross ? 1 : 0));
  geo_crossings_clear (&list);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  FuzzNumbers in = { data, size };
  GeoCubic a, b;
  GeoCrossings list, turned;
  for (int i = 0; i < 4; i++)
    a.p[i] = fuzz_point (&in, i > 0 ? a.p[i - 1] : geo_point (0, 0));
  for (int i = 0; i < 4; i++)
    b.p[i] = fuzz_point (&in, i > 0 ? b.p[i - 1] : a.p[3]);
  geo_crossings_init (&list);
  geo_crossings_init (&turned);
  geo_cubic_crossings (&a, &b, &list);
  geo_cubic_crossings (&b, &a, &turned);
  check_places (&a, &b, &list);
  check_places (&b, &a, &turned);
  check_chords (&a, &b);
  assert_that (turned.count > 0 || !has_plain (&a, &b, &list));
  assert_that (list.count > 0 || !has_plain (&b, &a, &turned));
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoCubic link = geo_cubic_line (a.p[3], b.p[0]);
  geo_chain_append (&chain, a);
  geo_chain_append (&chain, link);
  geo_chain_append (&chain, b);
  geo_crossings_clear (&turned);
  geo_chain_self_crossings (&chain, &turned);
  assert_that ((turned.count > 0) == geo_chain_crosses_itself (&chain));
  double t0, t1;
  if (geo_cubic_self_crossing (&a, &t0, &t1))
    {
      assert_that (0 <= t0 && t0 < t1 && t1 <= 1);
      GeoPoint p = geo_cubic_point (&a, t0), q = geo_cubic_point (&a, t1);
      assert_that (geo_distance (p, q) <= 1e-6);
    }
  geo_chain_clear (&chain);
  geo_crossings_clear (&list);
  geo_crossings_clear (&turned);
  return 0;
}
