/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever outline comes, its ring is closed, finite and never crosses itself, and
 * an outline of positive area that does not cross itself has one, which holds every
 * point of the stitch line and, where all corners are extended, keeps the narrowest width
 * from it. */
#include "../file/fuzz.h"
#include "fuzz-numbers.h"

#include "geometry/crossing.h"
#include "geometry/nearest.h"
#include "geometry/region.h"
#include "geometry/ring.h"

#define MOST 12
#define TOLERANCE 0.05

const char *const fuzz_folder = "fuzz-ring";

typedef struct
{
  GeoChain stitch[MOST];
  GeoRingEdge edges[MOST];
  size_t count;
  GeoChain all;
  double narrowest;
  bool plain; /* every corner extended */
} Outline;

static void
read_outline (FuzzNumbers *in, Outline *o)
{
  static const double widths[] = { 0, 6, 10, 10, 15, 40, 1, 3 };
  size_t count = 1 + fuzz_byte (in) % MOST;
  GeoPoint start = fuzz_point (in, geo_point (0, 0)), from = start;
  o->narrowest = INFINITY;
  o->plain = true;
  for (size_t i = 0; i < count; i++)
    {
      unsigned kind = fuzz_byte (in);
      GeoPoint to = i + 1 == count ? start : fuzz_point (in, from);
      GeoCubic c = geo_cubic_line (from, to);
      if (kind % 4 == 0)
        c.p[1] = fuzz_point (in, from);
      if (kind % 4 < 2)
        c.p[2] = fuzz_point (in, to);
      o->stitch[i] = GEO_CHAIN_EMPTY;
      geo_chain_append (&o->stitch[i], c);
      geo_chain_append (&o->all, c);
      GeoRingEdge *edge = &o->edges[o->count++];
      *edge = (GeoRingEdge){ .stitch = &o->stitch[i],
                             .width = widths[kind / 4 % 8] };
      edge->corner.kind = (GeoCornerKind)(kind / 32 % 4);
      edge->corner.governor = (GeoCornerGovernor)(kind / 128 % 2);
      o->narrowest = fmin (o->narrowest, edge->width);
      o->plain = o->plain && edge->corner.kind == GEO_CORNER_EXTENDED;
      from = to;
    }
}

static void
check_line (const GeoChain *line)
{
  assert_that (geo_chain_is_closed (line));
  for (size_t i = 0; i < line->count; i++)
    for (int k = 0; k < 4; k++)
      assert_that (isfinite (line->cubics[i].p[k].x)
                   && isfinite (line->cubics[i].p[k].y));
}

/* Spurs of no width are no part of the piece. */
static bool
is_on_piece (const Outline *o, const GeoCubic *c, double t)
{
  GeoPoint n = geo_left (geo_cubic_tangent (c, t));
  GeoPoint inward = geo_along (geo_cubic_point (c, t), n, TOLERANCE);
  return geo_chain_winding (&o->all, inward) == 1;
}

static void
check_distance (const Outline *o, const GeoRing *ring)
{
  for (size_t i = 0; i < o->all.count; i++)
    for (int k = 0; k < 4; k++)
      {
        const GeoCubic *c = &o->all.cubics[i];
        GeoPoint p = geo_cubic_point (c, k / 4.0);
        assert_that (!is_on_piece (o, c, k / 4.0)
                     || geo_chain_winding (&ring->outline, p) == 1
                     || geo_chain_nearest (&ring->outline, p, NULL)
                            <= 2 * TOLERANCE);
      }
  for (size_t i = 0; i < ring->outline.count && o->plain; i++)
    for (int k = 0; k < 3; k++)
      {
        GeoPoint q = geo_cubic_point (&ring->outline.cubics[i], k / 3.0);
        GeoPlace place;
        double near = geo_chain_nearest (&o->all, q, &place);
        assert_that (near >= o->narrowest - 2 * TOLERANCE
                     || !is_on_piece (o, &o->all.cubics[place.cubic], place.t));
      }
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  FuzzNumbers in = { data, size };
  Outline o = { .all = GEO_CHAIN_EMPTY };
  GeoRing ring;
  read_outline (&in, &o);
  geo_ring_init (&ring);
  bool made = geo_ring_make (o.edges, o.count, TOLERANCE, &ring);
  bool simple
      = geo_chain_area (&o.all) > 1 && !geo_chain_crosses_itself (&o.all);
  assert_that (made == (ring.outline.count > 0));
  assert_that (made || !simple);
  if (made)
    {
      check_line (&ring.outline);
      assert_that (ring.area > 0);
      for (size_t i = 0; i < ring.island_count; i++)
        check_line (&ring.islands[i]);
      if (simple)
        check_distance (&o, &ring);
      if (simple && o.narrowest > 0)
        assert_that (!geo_chain_crosses_itself (&ring.outline));
    }
  geo_ring_clear (&ring);
  for (size_t i = 0; i < o.count; i++)
    geo_chain_clear (&o.stitch[i]);
  geo_chain_clear (&o.all);
  return 0;
}
