/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The foot of a point on a run of cubics, followed from a guess: quick where
 * many points are asked about in order. geometry/nearest.h is for the rest.
 */
#pragma once

#include "geometry/cubic.h"

typedef struct
{
  size_t cubic;
  double u;
  double off; /* distance to the left of the way on, signed */
  double far; /* distance */
} GeoFoot;

/* Newton's method from the foot as it stands, from one cubic over to the next
 * where need be; in a closed run past its ends. The distance is never less than
 * the true one, and is that where the guess was near. */
void geo_foot_find (const GeoCubic *cubics, size_t count, bool closed,
                    GeoPoint q, int steps, GeoFoot *foot);
