/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strips an allowance ring is made of: one edge, its parallel, and how it
 * meets the strip before it. Inner parts of ring.c.
 */
#pragma once

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
  GeoChain stitch;
  GeoStripOrigin *origins; /* one a cubic of stitch */
  size_t origin_room;
  GeoTagged line;    /* the raw cutting line, whole */
  GeoPlace from, to; /* what is left of it between the two corners; from may
                        lie after to, and that part then runs backwards */
  GeoTagged lead;    /* from where the strip before ends to where this line starts,
                        for the corner */
} GeoStrip;

void geo_strip_clear (GeoStrip *strip);
void geo_strip_append (GeoStrip *strip, const GeoCubic *c, GeoStripOrigin origin);
/* Lays the cutting line; hollows met on the way are appended to ring. */
void geo_strip_lay (GeoStrip *strip, double tolerance, GeoRing *ring);
/* Joins two strips at the start of the second, which may be the first. */
void geo_strip_corner (GeoStrip *before, GeoStrip *strip, double tolerance);

/* Whether a strip cut short at the place of its line where way starts, and way,
 * which ends at the corner at the strip's end or start, cover all between them
 * and the stitch line positively. place is NULL where the strip is not cut and
 * way starts where its line ends. */
bool geo_strip_covers (const GeoStrip *strip, bool at_end, const GeoPlace *place, const GeoChain *way);

/* Tangents where a chain leaves its start and reaches its end. */
GeoPoint geo_strip_leaving (const GeoStrip *strip);
GeoPoint geo_strip_arriving (const GeoStrip *strip);

/* Corner point of two lines, on + s along and to - r back, both run on
 * outward: appends the path between the two, with the mitre limit about v. */
void geo_strip_extend (GeoTagged *path, GeoPoint v, GeoPoint from, GeoPoint along,
                       GeoPoint to, GeoPoint back, double limit);
