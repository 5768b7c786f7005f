/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One cubic Bezier segment. */
#pragma once

#include "geometry/point.h"

typedef struct
{
  GeoPoint p[4];
} GeoCubic;

GeoCubic geo_cubic_line (GeoPoint from, GeoPoint to);
/* Arc of a circle from angle a0 to a1 (radians, |a1 - a0| <= pi/2); the radius
 * is off by at most 2.8e-4 of itself at a quarter turn, falling with the sixth
 * power of the angle. */
GeoCubic geo_cubic_arc (GeoPoint centre, double radius, double a0, double a1);

GeoPoint geo_cubic_point (const GeoCubic *c, double t);
/* First and second derivative by t. */
GeoPoint geo_cubic_velocity (const GeoCubic *c, double t);
GeoPoint geo_cubic_acceleration (const GeoCubic *c, double t);
/* The third, the same all along. */
GeoPoint geo_cubic_jerk (const GeoCubic *c);
/* Unit tangent; at a collapsed handle the one-sided limit from inside the
 * segment, at a cusp inside it the limit from after; (0, 0) only where all
 * four points are one. */
GeoPoint geo_cubic_tangent (const GeoCubic *c, double t);
/* Signed curvature, 1/mm; clamped to +-1e9. */
double geo_cubic_curvature (const GeoCubic *c, double t);

void geo_cubic_split (const GeoCubic *c, double t, GeoCubic *before,
                      GeoCubic *after);
/* With the point at t moved by a vector and the end points left alone: the
 * handles take it up with the least change, each by its own weight there. t is
 * held to [0.01, 0.99], outside of which handles would fly off. */
GeoCubic geo_cubic_pull (const GeoCubic *c, double t, GeoPoint by);
/* The piece from t0 to t1; t0 > t1 gives it reversed. Ends are exact at 0, 1. */
GeoCubic geo_cubic_part (const GeoCubic *c, double t0, double t1);
GeoCubic geo_cubic_reverse (const GeoCubic *c);
GeoCubic geo_cubic_transform (const GeoCubic *c, GeoMotion m);
GeoBox geo_cubic_bounds (const GeoCubic *c);
/* No control point stands off the chord, or runs past its ends, by more than
 * tolerance. */
bool geo_cubic_is_straight (const GeoCubic *c, double tolerance);
/* All control points within tolerance of the first. */
bool geo_cubic_is_point (const GeoCubic *c, double tolerance);

/* How much the tangent turns from the end of one to the start of the next, 0 to pi. */
double geo_cubic_joint_turn (const GeoCubic *before, const GeoCubic *after);
/* Real roots strictly inside (0, 1), ascending; returns how many. A straight
 * or folded segment has none. */
int geo_cubic_inflections (const GeoCubic *c, double t[2]);
/* Places strictly inside (0, 1) where the curvature has an extremum: roots of
 * |P'|^2 (P' x P''') - 3 (P'.P'') (P' x P''). At most 5. */
int geo_cubic_curvature_extrema (const GeoCubic *c, double t[5]);
/* Where an unbounded line meets the curve: t in [0, 1] ascending, at most 3. A
 * touching point is given once or twice, to 1e-7 in t. 0 where the line has no
 * direction, or the curve lies in it. */
int geo_cubic_crossings_line (const GeoCubic *c, GeoPoint on,
                              GeoPoint direction, double t[3]);
/* Angle the tangent turns through from end to end, signed: the integral of
 * k ds. An exact cusp or fold adds half a turn, either way round. */
double geo_cubic_turning (const GeoCubic *c);
/* Places inside (0, 1) where the velocity vanishes or turns back on itself on
 * a folded line; at most 2. A velocity below 1e-6 of the control polygon's size
 * counts as none. */
int geo_cubic_cusps (const GeoCubic *c, double t[2]);
