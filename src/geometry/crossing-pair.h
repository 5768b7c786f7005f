/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where two cubics meet: the search behind crossing.h, for its use alone. */
#pragma once

#include "geometry/crossing.h"

#define GEO_CONTACT_TOLERANCE 1e-9

/* Ends the two are known to share, which are then not reported. */
typedef enum
{
  GEO_JOINED_NOT = 0,
  GEO_JOINED_A_END_B_START = 1,
  GEO_JOINED_B_END_A_START = 2,
} GeoJoined;

void geo_crossing_pair (const GeoCubic *a, const GeoCubic *b, int joined,
                        GeoCrossings *list);
/* How far apart rounding alone may leave two places that are one: mm. */
double geo_crossing_rounding (const GeoCubic *a, const GeoCubic *b);
void geo_crossings_append (GeoCrossings *list, GeoCrossing crossing);
