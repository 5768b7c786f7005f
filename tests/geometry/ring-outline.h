/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines for the tests of the ring, laid edge by edge, and what every ring must
 * be. */
#pragma once

#include <glib.h>

#include "geometry/ring.h"

#define DEGREE (M_PI / 180)
#define MOST 64

typedef struct
{
  GeoChain stitch[MOST];
  GeoRingEdge edges[MOST];
  size_t count;
} Outline;

void outline_add_edge (Outline *o, double width);
void outline_add_cubic (Outline *o, GeoCubic c);
void outline_add_line (Outline *o, double width, double x0, double y0,
                       double x1, double y1);
/* The corner at the end of the last edge but at the start of the next. */
void outline_set_corner (Outline *o, size_t edge, GeoCornerKind kind,
                         GeoCornerGovernor by);
Outline *outline_polygon (const double (*p)[2], size_t count,
                          const double *widths);
void outline_free (Outline *o);
/* One arc, in parts of at most 30 degrees, on the last edge. */
void outline_add_arc (Outline *o, GeoPoint centre, double radius, double a0,
                      double a1);
void outline_print (const Outline *o);
void ring_print (const GeoRing *ring);
/* What every ring must be: closed, joined, finite, in order, never crossing
 * itself, the stitch line inside or on it. */
bool ring_is_sound (const Outline *o, const GeoRing *ring);
bool ring_holds_stitch (const Outline *o, const GeoRing *ring);
GeoRing outline_ring (const Outline *o);
size_t ring_hits_at (const GeoRing *ring, double x, double y);
/* Random outlines about a centre: nodes at uneven angles and radii, joined
 * by lines and curves, smooth or not. */
Outline *outline_random (int nodes, double inner, double outer, double rough);
bool outline_is_simple (const Outline *o);
double outline_distance (const Outline *o, GeoPoint q);

typedef enum
{
  OUTLINE_LATTICE, /* corners on a lattice, widths of 0 among others */
  OUTLINE_WIDE,    /* corners anywhere, no width of 0 */
  OUTLINE_ANY,
} OutlineWild;

/* Outlines that cross themselves, with collapsed handles and some of 1e-3 mm. */
Outline *outline_wild (OutlineWild kind);
/* No outline, or a sound one: returns whether there was one. On a lattice, where
 * edges lie on each other and spurs of no width come about, the stitch line need
 * not be inside; without allowance the line about two parts that cross touches
 * itself. */
bool outline_check_wild (const Outline *o, OutlineWild kind);
/* One width w all round, corners extended: no point of the ring nearer than that
 * to the stitch line, none farther than the mitre's limit. */
void outline_check_even (const Outline *o, double w);
