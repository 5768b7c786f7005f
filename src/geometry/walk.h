/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walking one seam line along another. */
#pragma once

#include "geometry/chain.h"

/* The motion that lays B on A at a walked place: B's point on A's point, B's
 * tangent along A's. Both tangents point the way the seam is walked. a_side and
 * b_side say on which side of that direction each piece has its inside (+1 the
 * left normal's, -1 the other); where they are the same, B is turned over. */
GeoMotion geo_walk_motion (GeoPoint a, GeoPoint a_tangent, int a_side,
                           GeoPoint b, GeoPoint b_tangent, int b_side);

/* Matched marks, as lengths from the start of each side, ascending, first 0 and
 * last the whole side. The place on B for a place on A: proportional inside
 * the interval. count >= 2. */
double geo_walk_map (const double *a_marks, const double *b_marks, size_t count,
                     double s);
