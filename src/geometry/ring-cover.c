/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a corner cuts a strip short at a place of its cutting line, what is left
 * about the corner v is bounded by the foot F of that place on the stitch line, the
 * place p itself, the way from p to v, and the stitch line from v back to F. The
 * raw line winds positively about all it should if that loop does: if it does not
 * cross itself and has a positive area. A handle of a thousandth of a millimetre is
 * enough to turn the tangent at v, on which corners are built, anywhere; its
 * loop then shows that the way went through the piece.
 */
#include "geometry/ring-strip.h"

#include "geometry/crossing.h"
#include "geometry/nearest.h"
#include "geometry/region.h"

/* mm about v within which the loop may cross itself, and mm^2 that it may lack:
 * less than any tolerance shows. */
#define SLACK 0.02
#define LEAST_AREA -1e-3

/* The stitch line from the foot to the corner, or from the corner to it. */
static void
append_stitch (const GeoStrip *strip, bool at_end, GeoPlace foot,
               GeoChain *part)
{
  const GeoChain *stitch = &strip->stitch;
  GeoPlace start = { 0, 0 }, end = { stitch->count - 1, 1 };
  GeoPlace from = at_end ? foot : start, to = at_end ? end : foot;
  for (size_t i = from.cubic; i <= to.cubic; i++)
    {
      double t0 = i == from.cubic ? from.t : 0;
      double t1 = i == to.cubic ? to.t : 1;
      if (t1 > t0)
        geo_chain_append (part, geo_cubic_part (&stitch->cubics[i], t0, t1));
    }
}

/* The loop crosses itself about v only: the stitch line and the way come
 * together there. */
static bool
is_plain (const GeoChain *loop, GeoPoint v)
{
  GeoCrossings list;
  bool plain = true;
  geo_crossings_init (&list);
  geo_chain_self_crossings (loop, &list);
  for (size_t i = 0; i < list.count && plain; i++)
    plain = geo_distance (list.items[i].at, v) <= SLACK;
  geo_crossings_clear (&list);
  return plain;
}

bool
geo_strip_covers (const GeoStrip *strip, bool at_end, const GeoPlace *place,
                  const GeoChain *way)
{
  const GeoChain *stitch = &strip->stitch;
  GeoPoint v = at_end ? geo_chain_end (stitch) : geo_chain_start (stitch);
  GeoPoint p = geo_chain_start (way);
  GeoChain loop = GEO_CHAIN_EMPTY;
  if (place)
    {
      GeoPlace foot;
      geo_chain_nearest (stitch, p, &foot);
      append_stitch (strip, at_end, foot, &loop);
      if (at_end)
        geo_chain_reverse (&loop);
      if (loop.count > 0)
        geo_chain_append_line (&loop, geo_chain_end (&loop), p);
    }
  if (loop.count == 0)
    geo_chain_append_line (&loop, v, p);
  geo_chain_append_chain (&loop, way);
  loop.cubics[loop.count - 1].p[3] = loop.cubics[0].p[0];
  double area = geo_chain_area (&loop);
  bool covers = (at_end ? area : -area) > LEAST_AREA && is_plain (&loop, v);
  geo_chain_clear (&loop);
  return covers;
}
