/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cubics through measured points. */
#pragma once

#include "geometry/chain.h"

/* The turn that makes a corner of a measured line, in radians. */
#define GEO_FIT_CORNER 0.6

/* Lays the fewest cubics found along points that are given in order (traced,
 * scanned, clicked), each point within tolerance (mm, above 0) of them, and
 * appends nothing else to the chain, which is emptied first. Corners are found
 * where the line turns by more than corner (radians; INFINITY for none) within
 * about twenty times the tolerance or three points; between them all is smooth,
 * and a closed line without corners is smooth throughout. An open line starts
 * and ends in its first and last point exactly. A stretch that is straight to
 * within tolerance comes out as a straight cubic. The tolerance should cover the
 * noise of the points: what is larger is followed.
 *
 * Points that repeat their neighbour are passed over; coordinates are finite.
 * False, with an empty chain, where fewer than two are left; two that are closed
 * give the line there and back. A corner that lies between points is put where its
 * sides meet, if that is near.
 *
 * Method: P. J. Schneider, "An algorithm for automatically fitting digitized
 * curves", Graphics Gems, 1990, for the structure; distances along normals as
 * in W. Wang, H. Pottmann, Y. Liu, "Fitting B-spline curves to point clouds by
 * curvature-based squared distance minimization", ACM TOG 25, 2006. */
bool geo_fit_points (const GeoPoint *points, size_t count, bool closed,
                     double corner, double tolerance, GeoChain *chain);
