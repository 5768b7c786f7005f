/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strips an allowance ring is made of: one edge, its parallel, and how it
 * meets the strip before it. Inner parts of ring.c.
 */
#pragma once

#include "geometry/pool.h"
#include "geometry/ring.h"
#include "geometry/tagged.h"

/* A stitch cubic's place in the edge it came from. */
typedef struct {
  size_t cubic;
  double t0, t1;
} GeoStripOrigin;

typedef struct {
  size_t edge;
  double width;
  GeoCorner corner; /* at its start */
  GeoChain stitch;   /* borrowed */
  const GeoStripOrigin *origins; /* one a cubic of stitch; NULL where they are those
                                    of the edge */
  GeoPoint leaving, arriving;    /* tangents at its ends */
  GeoTagged line;    /* the raw cutting line, whole */
  GeoPlace from, to; /* what is left of it between the two corners; from may
                        lie after to, and that part then runs backwards */
  GeoTagged lead;    /* from where the strip before ends to where this line starts,
                        for the corner */
} GeoStrip;

/* What strips keep lies in the pool. */
typedef struct {
  GeoPool pool;
  GeoTagged draft;
  GeoChain parallel;
} GeoStripRoom;

static inline GeoStripOrigin
geo_strip_origin (const GeoStrip *strip, size_t index)
{
  return strip->origins ? strip->origins[index] : (GeoStripOrigin){ index, 0, 1 };
}

void geo_strip_room_clear (GeoStripRoom *room);
/* Puts what was drafted, in the draft borrowed from the room, into the pool and
 * gives the draft back. */
void geo_strip_keep_draft (GeoTagged *drafted, GeoStripRoom *room);

/* Lays the cutting line; hollows met on the way are appended to ring. */
void geo_strip_lay (GeoStrip *strip, double tolerance, GeoStripRoom *room, GeoRing *ring);
/* Joins two strips at the start of the second, which may be the first. */
void geo_strip_corner (GeoStrip *before, GeoStrip *strip, double tolerance, GeoStripRoom *room);

/* Whether a strip cut short at the place of its line where way starts, and way,
 * which ends at the corner at the strip's end or start, cover all between them
 * and the stitch line positively. place is NULL where the strip is not cut and
 * way starts where its line ends. */
bool geo_strip_covers (const GeoStrip *strip, bool at_end, const GeoPlace *place, const GeoChain *way);

/* Corner point of two lines, from + s along and to - r back, both run on
 * outward: the path between the two, with the mitre limit about v, as the points
 * after from, the last of which is to. Returns how many. */
int geo_strip_extend (GeoPoint v, GeoPoint from, GeoPoint along, GeoPoint to,
                      GeoPoint back, double limit, GeoPoint path[3]);
