/* SPDX-License-Identifier: GPL-3.0-or-later */
/* 1. The stitch lines, end to end, are one closed chain. Where it crosses itself it
 *    is replaced by the outer border of what it encloses, whose stretches keep
 *    their edges and widths (trim.c).
 * 2. Each edge's cutting line is laid (ring-strip.c) and joined to the one
 *    before by its corner (ring-corner.c) into one raw closed chain, which covers
 *    positively whatever it should cover.
 * 3. The border of what the raw chain winds around at least once is the ring:
 *    the largest loop its outline, loops the other way round its islands.
 */
#include "geometry/ring.h"

#include "geometry/memory.h"
#include "geometry/region.h"
#include "geometry/ring-strip.h"
#include "geometry/trim.h"

#include <string.h>

/* mm^2; what has less is no outline. */
#define SMALLEST 1e-3

typedef struct
{
  GeoStrip *strips;
  size_t count;
  GeoStripRoom room;
} Strips;

void
geo_ring_init (GeoRing *ring)
{
  memset (ring, 0, sizeof *ring);
}

void
geo_ring_clear (GeoRing *ring)
{
  geo_chain_clear (&ring->outline);
  for (size_t i = 0; i < ring->island_count; i++)
    geo_chain_clear (&ring->islands[i]);
  free (ring->source);
  free (ring->islands);
  free (ring->hollows);
  geo_ring_init (ring);
}

/* There is room for it. */
static GeoStrip *
add_strip (Strips *strips, size_t edge, double width, GeoCorner corner)
{
  GeoStrip *strip = &strips->strips[strips->count++];
  memset (strip, 0, sizeof *strip);
  strip->edge = edge;
  strip->width = width > 0 ? width : 0;
  strip->corner = corner;
  return strip;
}

/* The edge's own cubics, or a copy without those that are points. */
static void
read_stitch (const GeoChain *stitch, GeoStripRoom *room, GeoStrip *strip)
{
  size_t kept = 0;
  for (size_t j = 0; j < stitch->count; j++)
    kept += !geo_cubic_is_point (&stitch->cubics[j], 0);
  strip->stitch = (GeoChain){ stitch->cubics, kept, 0 };
  if (kept == stitch->count)
    return;
  GeoCubic *cubics = geo_pool_take (&room->pool, kept, sizeof *cubics);
  GeoStripOrigin *origins = geo_pool_take (&room->pool, kept, sizeof *origins);
  kept = 0;
  for (size_t j = 0; j < stitch->count; j++)
    if (!geo_cubic_is_point (&stitch->cubics[j], 0))
      {
        origins[kept] = (GeoStripOrigin){ j, 0, 1 };
        cubics[kept++] = stitch->cubics[j];
      }
  strip->stitch.cubics = cubics;
  strip->origins = origins;
}

/* Edges that are a point are left out. */
static void
read_edges (const GeoRingEdge *edges, size_t count, Strips *strips)
{
  strips->strips
      = geo_pool_take (&strips->room.pool, count, sizeof *strips->strips);
  for (size_t i = 0; i < count; i++)
    {
      GeoStrip *strip = add_strip (strips, i, edges[i].width, edges[i].corner);
      read_stitch (edges[i].stitch, &strips->room, strip);
      if (strip->stitch.count == 0)
        strips->count--;
    }
}

static void
join_stitches (const Strips *strips, GeoTagged *all)
{
  for (size_t i = 0; i < strips->count; i++)
    for (size_t j = 0; j < strips->strips[i].stitch.count; j++)
      geo_tagged_append (all, strips->strips[i].stitch.cubics[j], i);
  if (all->chain.count > 0)
    geo_tagged_line_to (all, all->chain.cubics[0].p[0], strips->count - 1);
}

static bool
carries_on (const GeoTagged *all, GeoTrimOrigin a, GeoTrimOrigin b)
{
  bool forward = a.t1 > a.t0;
  if (all->tags[a.cubic] != all->tags[b.cubic] || forward != (b.t1 > b.t0))
    return false;
  if (a.cubic == b.cubic)
    return a.t1 == b.t0;
  return forward ? b.cubic == a.cubic + 1 && a.t1 == 1 && b.t0 == 0
                 : a.cubic == b.cubic + 1 && a.t1 == 0 && b.t0 == 1;
}

/* The treatment where the border passes from a to b: an edge's own where it
 * passes an old corner, which seen backwards has its governor exchanged. */
static GeoCorner
corner_between (const Strips *old, const GeoTagged *all, GeoTrimOrigin a,
                GeoTrimOrigin b)
{
  size_t n = old->count, s = all->tags[a.cubic], t = all->tags[b.cubic];
  GeoCorner corner = { GEO_CORNER_EXTENDED, GEO_CORNER_BY_ARRIVING };
  if (t == (s + 1) % n && a.t1 == 1 && b.t0 == 0)
    return old->strips[t].corner;
  if (s == (t + 1) % n && a.t1 == 0 && b.t0 == 1)
    {
      corner = old->strips[s].corner;
      corner.governor = corner.governor == GEO_CORNER_BY_ARRIVING
                            ? GEO_CORNER_BY_LEAVING
                            : GEO_CORNER_BY_ARRIVING;
    }
  return corner;
}

/* Strips along the border of an outline that crosses itself. */
static void
resolve (Strips *strips, const GeoTagged *all, const GeoTrimLoop *loop)
{
  GeoPool *pool = &strips->room.pool;
  size_t n = loop->chain.count, start = 0;
  GeoCubic *cubics = geo_pool_take (pool, n, sizeof *cubics);
  GeoStripOrigin *origins = geo_pool_take (pool, n, sizeof *origins);
  Strips fresh = { .strips = geo_pool_take (pool, n, sizeof (GeoStrip)) };
  while (start < n
         && carries_on (all, loop->origins[(start + n - 1) % n],
                        loop->origins[start]))
    start++;
  for (size_t i = 0; i < n; i++)
    {
      GeoTrimOrigin at = loop->origins[(start + i) % n];
      GeoTrimOrigin before = loop->origins[(start + i + n - 1) % n];
      size_t old = all->tags[at.cubic], first = 0;
      const GeoStrip *source = &strips->strips[old];
      while (all->tags[first] != old)
        first++;
      /* The line that closes a gaping outline is nobody's cubic. */
      size_t index = at.cubic - first;
      GeoStripOrigin whole = index < source->stitch.count
                                 ? geo_strip_origin (source, index)
                                 : (GeoStripOrigin){ 0, 0, 0 };
      double span = whole.t1 - whole.t0;
      cubics[i] = loop->chain.cubics[(start + i) % n];
      origins[i] = (GeoStripOrigin){ whole.cubic, whole.t0 + span * at.t0,
                                     whole.t0 + span * at.t1 };
      if (i == 0 || !carries_on (all, before, at))
        {
          GeoStrip *strip
              = add_strip (&fresh, source->edge, source->width,
                           corner_between (strips, all, before, at));
          strip->stitch.cubics = cubics + i;
          strip->origins = origins + i;
        }
      fresh.strips[fresh.count - 1].stitch.count++;
    }
  strips->strips = fresh.strips;
  strips->count = fresh.count;
}

/* Gives strips whose stitch lines do not cross. False where they enclose
 * nothing. */
static bool
prepare (Strips *strips, double tolerance)
{
  GeoTagged all = { .chain = GEO_CHAIN_EMPTY };
  GeoTrimResult outer = { NULL, 0, false };
  join_stitches (strips, &all);
  bool good = geo_chain_area (&all.chain) > SMALLEST;
  if (good)
    {
      good = geo_trim (&all.chain, GEO_INSIDE_NONZERO, tolerance, &outer);
      if (good && !outer.untouched)
        resolve (strips, &all, &outer.loops[0]);
      geo_trim_result_clear (&outer);
    }
  geo_tagged_clear (&all);
  return good;
}

static void
append_after (GeoTagged *raw, const GeoCubic *c, size_t tag)
{
  if (geo_cubic_is_point (c, 0))
    return;
  if (raw->chain.count > 0
      && geo_distance (geo_chain_end (&raw->chain), c->p[0]) > 1e-9)
    geo_tagged_line_to (raw, c->p[0], GEO_RING_CORNER);
  geo_tagged_append (raw, *c, tag);
}

/* What the corners left of a strip's line. */
static void
append_line (GeoTagged *raw, const GeoStrip *strip)
{
  GeoPlace from = strip->from, to = strip->to;
  const GeoTagged *line = &strip->line;
  bool forward = geo_place_compare (from, to) <= 0;
  size_t count = 1 + (forward ? to.cubic - from.cubic : from.cubic - to.cubic);
  if (forward && from.cubic > to.cubic)
    return;
  for (size_t k = 0; k < count; k++)
    {
      size_t i = forward ? from.cubic + k : from.cubic - k;
      double t0 = k == 0 ? from.t : forward ? 0 : 1;
      double t1 = k == count - 1 ? to.t : forward ? 1 : 0;
      GeoCubic part = geo_cubic_part (&line->chain.cubics[i], t0, t1);
      if (t0 != t1)
        append_after (raw, &part, line->tags[i]);
    }
}

static void
lay_raw (Strips *strips, double tolerance, GeoRing *ring, GeoTagged *raw)
{
  size_t n = strips->count;
  for (size_t i = 0; i < n; i++)
    geo_strip_lay (&strips->strips[i], 0.6 * tolerance, &strips->room, ring);
  for (size_t i = 0; i < n; i++)
    geo_strip_corner (&strips->strips[(i + n - 1) % n], &strips->strips[i],
                      tolerance, &strips->room);
  for (size_t i = 0; i < n; i++)
    {
      const GeoTagged *lead = &strips->strips[i].lead;
      for (size_t j = 0; j < lead->chain.count; j++)
        append_after (raw, &lead->chain.cubics[j], lead->tags[j]);
      append_line (raw, &strips->strips[i]);
    }
  if (raw->chain.count == 0)
    return;
  GeoPoint start = raw->chain.cubics[0].p[0];
  if (geo_distance (geo_chain_end (&raw->chain), start) > 1e-9)
    geo_tagged_line_to (raw, start, GEO_RING_CORNER);
  raw->chain.cubics[raw->chain.count - 1].p[3] = start;
}

static void
take_result (GeoTrimResult *result, const GeoTagged *raw, GeoRing *ring)
{
  GeoTrimLoop *outer = &result->loops[0];
  ring->outline = outer->chain;
  ring->area = outer->area;
  outer->chain = GEO_CHAIN_EMPTY;
  ring->source = geo_realloc (NULL, ring->outline.count, sizeof *ring->source);
  for (size_t i = 0; i < ring->outline.count; i++)
    ring->source[i] = raw->tags[outer->origins[i].cubic];
  for (size_t i = 1; i < result->count; i++)
    if (result->loops[i].area < 0)
      {
        ring->islands = geo_realloc (ring->islands, ring->island_count + 1,
                                     sizeof *ring->islands);
        ring->islands[ring->island_count++] = result->loops[i].chain;
        result->loops[i].chain = GEO_CHAIN_EMPTY;
      }
}

bool
geo_ring_make (const GeoRingEdge *edges, size_t count, double tolerance,
               GeoRing *ring)
{
  Strips strips = { .count = 0 };
  GeoTagged raw = { .chain = GEO_CHAIN_EMPTY };
  GeoTrimResult result = { NULL, 0, false };
  tolerance = fmax (tolerance, 1e-5);
  geo_ring_clear (ring);
  read_edges (edges, count, &strips);
  bool good = strips.count > 0 && prepare (&strips, tolerance);
  if (good)
    {
      lay_raw (&strips, tolerance, ring, &raw);
      good = geo_trim (&raw.chain, GEO_INSIDE_POSITIVE, tolerance, &result);
    }
  if (good)
    take_result (&result, &raw, ring);
  else
    geo_ring_clear (ring);
  geo_trim_result_clear (&result);
  geo_tagged_clear (&raw);
  geo_strip_room_clear (&strips.room);
  return good;
}
