/* SPDX-License-Identifier: GPL-3.0-or-later */
/* With both outlines of positive area and w_a, w_b their winding numbers, 0 or
 * 1 once each has been trimmed to what it encloses,
 *
 *   union         w_a + w_b >= 1
 *   difference    w_a - w_b >= 1
 *   intersection  w_a + w_b - 1 >= 1
 *
 * so all three are the border of the places wound about at least once by both
 * outlines laid together, the second turned about for the difference, and a
 * frame turned about round everything for the intersection. That is what
 * geo_trim finds.
 *
 * Beforehand both are cut where they cross, so that the exact crossings are
 * joints, and where a cut piece of the second lies on one of the first it is
 * put in its place, so that shared edges cancel or join without slivers.
 * Afterwards pieces of one cubic that follow each other are one again.
 */
#include "geometry/region-boolean.h"

#include "geometry/crossing.h"
#include "geometry/memory.h"
#include "geometry/nearest.h"
#include "geometry/region.h"
#include "geometry/trim.h"

#include <string.h>

#define SAME 1e-6  /* mm */
#define POINT 1e-9 /* mm */

/* Cubics laid together, each a part of one of the two outlines. */
typedef struct
{
  GeoChain chain;         /* not one chain, but the loops one after another */
  GeoTrimOrigin *origins; /* numbered through both outlines */
  size_t room;
} Pieces;

static void
add_piece (Pieces *pieces, GeoCubic c, GeoTrimOrigin origin)
{
  GeoChain *chain = &pieces->chain;
  pieces->origins = geo_grow (pieces->origins, chain->count, &pieces->room,
                              sizeof *pieces->origins);
  pieces->origins[chain->count] = origin;
  chain->cubics
      = geo_grow (chain->cubics, chain->count, &chain->room, sizeof c);
  chain->cubics[chain->count++] = c;
}

/* Closed, of positive area, not crossing itself: its outermost loop, where it
 * falls into several. False where it encloses nothing. */
static bool
clean (const GeoChain *outline, double tolerance, GeoChain *clean)
{
  GeoChain turned = GEO_CHAIN_EMPTY;
  GeoTrimResult trimmed;
  geo_chain_copy (&turned, outline);
  if (turned.count > 0 && !geo_chain_is_closed (&turned))
    geo_chain_append_line (&turned, geo_chain_end (&turned),
                           geo_chain_start (&turned));
  if (geo_chain_area (&turned) < 0)
    geo_chain_reverse (&turned);
  bool good = geo_trim (&turned, GEO_INSIDE_NONZERO, tolerance, &trimmed);
  if (good)
    geo_chain_copy (clean, &trimmed.loops[0].chain);
  geo_trim_result_clear (&trimmed);
  geo_chain_clear (&turned);
  return good;
}

static int
by_place (const void *a, const void *b)
{
  return geo_place_compare (*(const GeoPlace *)a, *(const GeoPlace *)b);
}

/* The outline's cubics cut at places, with crossing points for ends. */
static void
cut_at (const GeoChain *outline, size_t first_origin, const GeoCrossings *list,
        bool second, Pieces *pieces)
{
  typedef struct
  {
    GeoPlace place; /* first, for by_place */
    GeoPoint at;
  } Cut;
  Cut *cuts = geo_realloc (NULL, list->count + 1, sizeof *cuts);
  for (size_t i = 0; i < list->count; i++)
    cuts[i] = (Cut){ second ? list->items[i].b : list->items[i].a,
                     list->items[i].at };
  qsort (cuts, list->count, sizeof *cuts, by_place);
  size_t next = 0, first = pieces->chain.count;
  for (size_t i = 0; i < outline->count; i++)
    {
      const GeoCubic *c = &outline->cubics[i];
      double from = 0;
      for (; next < list->count && cuts[next].place.cubic == i; next++)
        {
          double to = cuts[next].place.t;
          GeoCubic part = geo_cubic_part (c, from, to);
          if (!(to < 1) || geo_cubic_is_point (&part, POINT))
            continue;
          part.p[3] = cuts[next].at;
          add_piece (pieces, part,
                     (GeoTrimOrigin){ first_origin + i, from, to });
          from = to;
        }
      add_piece (pieces, geo_cubic_part (c, from, 1),
                 (GeoTrimOrigin){ first_origin + i, from, 1 });
    }
  GeoChain *chain = &pieces->chain;
  for (size_t i = first; i < chain->count; i++)
    chain->cubics[i].p[0]
        = chain->cubics[i > first ? i - 1 : chain->count - 1].p[3];
  free (cuts);
}

static bool
lies_on (const GeoCubic *c, const GeoCubic *other)
{
  for (int i = 1; i < 8; i++)
    if (geo_cubic_nearest (other, geo_cubic_point (c, i / 8.0), NULL) > SAME)
      return false;
  return true;
}

/* Pieces of the second outline that lie on one of the first are put there to the
 * last bit. */
static void
share (Pieces *pieces, size_t split)
{
  GeoChain *chain = &pieces->chain;
  for (size_t j = split; j < chain->count; j++)
    for (size_t i = 0; i < split; i++)
      {
        GeoCubic a = chain->cubics[i], *b = &chain->cubics[j];
        bool along = geo_distance (a.p[0], b->p[0]) <= SAME
                     && geo_distance (a.p[3], b->p[3]) <= SAME;
        bool against = geo_distance (a.p[0], b->p[3]) <= SAME
                       && geo_distance (a.p[3], b->p[0]) <= SAME;
        if ((!along && !against) || !lies_on (b, &a) || !lies_on (&a, b))
          continue;
        *b = along ? a : geo_cubic_reverse (&a);
        break;
      }
}

static void
turn_about (Pieces *pieces, size_t first)
{
  GeoChain *chain = &pieces->chain;
  for (size_t i = first, j = chain->count; i < j--; i++)
    {
      GeoCubic c = chain->cubics[i];
      GeoTrimOrigin o = pieces->origins[i];
      chain->cubics[i] = chain->cubics[j];
      pieces->origins[i] = pieces->origins[j];
      chain->cubics[j] = c;
      pieces->origins[j] = o;
    }
  for (size_t i = first; i < chain->count; i++)
    {
      GeoTrimOrigin *o = &pieces->origins[i];
      chain->cubics[i] = geo_cubic_reverse (&chain->cubics[i]);
      *o = (GeoTrimOrigin){ o->cubic, o->t1, o->t0 };
    }
}

/* Negative area, round all there is. */
static void
add_frame (Pieces *pieces)
{
  GeoBox box = geo_box_empty ();
  for (size_t i = 0; i < pieces->chain.count; i++)
    box = geo_box_join (box, geo_cubic_bounds (&pieces->chain.cubics[i]));
  box = geo_box_grow (box, 0.05 * (geo_box_width (box) + geo_box_height (box)));
  GeoPoint p[4] = { { box.x0, box.y0 },
                    { box.x0, box.y1 },
                    { box.x1, box.y1 },
                    { box.x1, box.y0 } };
  for (int i = 0; i < 4; i++)
    add_piece (pieces, geo_cubic_line (p[i], p[(i + 1) % 4]),
               (GeoTrimOrigin){ SIZE_MAX, 0, 1 });
}

/* A loop's cubic as part of its outline's. */
static GeoTrimOrigin
whole_origin (const Pieces *pieces, GeoTrimOrigin part)
{
  GeoTrimOrigin o = pieces->origins[part.cubic];
  double span = o.t1 - o.t0;
  return (GeoTrimOrigin){ o.cubic,
                          part.t0 <= 0   ? o.t0
                          : part.t0 >= 1 ? o.t1
                                         : o.t0 + part.t0 * span,
                          part.t1 >= 1   ? o.t1
                          : part.t1 <= 0 ? o.t0
                                         : o.t0 + part.t1 * span };
}

/* Appends a loop, pieces that were one cubic made one again. */
static void
append_loop (const Pieces *pieces, const GeoChain *sources,
             const GeoTrimLoop *loop, GeoChain *outline)
{
  GeoTrimOrigin before = { SIZE_MAX, 0, 0 };
  for (size_t i = 0; i < loop->chain.count; i++)
    {
      GeoCubic c = loop->chain.cubics[i];
      GeoTrimOrigin o = whole_origin (pieces, loop->origins[i]);
      bool goes_on = outline->count > 0 && o.cubic == before.cubic
                     && o.cubic != SIZE_MAX && fabs (o.t0 - before.t1) < 1e-12
                     && (o.t1 > o.t0) == (before.t1 > before.t0);
      if (goes_on)
        {
          size_t first = sources[0].count;
          const GeoCubic *whole = o.cubic < first
                                      ? &sources[0].cubics[o.cubic]
                                      : &sources[1].cubics[o.cubic - first];
          GeoCubic *last = &outline->cubics[outline->count - 1];
          GeoCubic one = geo_cubic_part (whole, before.t0, o.t1);
          one.p[0] = last->p[0];
          one.p[3] = c.p[3];
          *last = one;
          before.t1 = o.t1;
          continue;
        }
      geo_chain_append (outline, c);
      before = o;
    }
  if (outline->count > 0)
    outline->cubics[outline->count - 1].p[3] = outline->cubics[0].p[0];
}

static void
take_loops (const Pieces *pieces, const GeoChain *sources,
            const GeoTrimResult *trimmed, GeoRegion *result)
{
  result->outlines
      = geo_realloc (NULL, trimmed->count, sizeof *result->outlines);
  for (size_t i = 0; i < trimmed->count; i++)
    {
      GeoChain *outline = &result->outlines[result->count];
      if (fabs (trimmed->loops[i].area) < 1)
        continue;
      geo_chain_init (outline);
      append_loop (pieces, sources, &trimmed->loops[i], outline);
      result->count++;
    }
}

static void
lay_together (const GeoChain *outlines, GeoRegionRule rule, Pieces *pieces)
{
  GeoCrossings list;
  geo_crossings_init (&list);
  geo_chain_crossings (&outlines[0], &outlines[1], &list);
  cut_at (&outlines[0], 0, &list, false, pieces);
  size_t split = pieces->chain.count;
  cut_at (&outlines[1], outlines[0].count, &list, true, pieces);
  geo_crossings_clear (&list);
  share (pieces, split);
  if (rule == GEO_REGION_DIFFERENCE)
    turn_about (pieces, split);
  if (rule == GEO_REGION_INTERSECTION)
    add_frame (pieces);
}

bool
geo_region_combine (const GeoChain *a, const GeoChain *b, GeoRegionRule rule,
                    double tolerance, GeoRegion *result)
{
  GeoChain outlines[2] = { GEO_CHAIN_EMPTY, GEO_CHAIN_EMPTY };
  Pieces pieces = { GEO_CHAIN_EMPTY, NULL, 0 };
  GeoTrimResult trimmed;
  *result = (GeoRegion){ NULL, 0 };
  tolerance = fmax (tolerance, 1e-6);
  bool has_a = clean (a, tolerance, &outlines[0]);
  bool has_b = clean (b, tolerance, &outlines[1]);
  if ((has_a || has_b) && (rule == GEO_REGION_UNION || has_a)
      && (rule != GEO_REGION_INTERSECTION || has_b))
    {
      lay_together (outlines, rule, &pieces);
      if (geo_trim (&pieces.chain, GEO_INSIDE_POSITIVE, tolerance, &trimmed))
        take_loops (&pieces, outlines, &trimmed, result);
      geo_trim_result_clear (&trimmed);
    }
  geo_chain_clear (&pieces.chain);
  free (pieces.origins);
  geo_chain_clear (&outlines[0]);
  geo_chain_clear (&outlines[1]);
  return result->count > 0;
}

void
geo_region_clear (GeoRegion *region)
{
  for (size_t i = 0; i < region->count; i++)
    geo_chain_clear (&region->outlines[i]);
  free (region->outlines);
  *region = (GeoRegion){ NULL, 0 };
}

double
geo_region_area (const GeoRegion *region)
{
  double area = 0;
  for (size_t i = 0; i < region->count; i++)
    area += geo_chain_area (&region->outlines[i]);
  return area;
}

/* Places of the inner outline that lie outside are within tolerance of the outer
 * one; each cut piece lies wholly on one side. */
bool
geo_region_contains (const GeoChain *outer, const GeoChain *inner,
                     double tolerance)
{
  if (outer->count == 0 || inner->count == 0)
    return inner->count == 0;
  GeoChain closed = GEO_CHAIN_EMPTY;
  bool contains = true;
  geo_chain_copy (&closed, outer);
  if (!geo_chain_is_closed (&closed))
    geo_chain_append_line (&closed, geo_chain_end (&closed),
                           geo_chain_start (&closed));
  for (size_t i = 0; i < inner->count && contains; i++)
    for (int k = 0; k < 32 && contains; k++)
      {
        GeoPoint p = geo_cubic_point (&inner->cubics[i], k / 32.0);
        contains = geo_chain_contains (&closed, p)
                   || geo_chain_nearest (&closed, p, NULL) <= tolerance;
      }
  if (contains)
    {
      GeoRegion out;
      if (geo_region_combine (inner, &closed, GEO_REGION_DIFFERENCE, tolerance,
                              &out))
        for (size_t i = 0; i < out.count && contains; i++)
          for (size_t k = 0; k < out.outlines[i].count && contains; k++)
            contains
                = geo_chain_nearest (
                      &closed,
                      geo_cubic_point (&out.outlines[i].cubics[k], 0.5), NULL)
                  <= tolerance;
      geo_region_clear (&out);
    }
  geo_chain_clear (&closed);
  return contains;
}
