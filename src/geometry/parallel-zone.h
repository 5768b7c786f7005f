/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stretches of a cubic that can be taken for a point while the tangent swings:
 * about cusps and handles that have all but collapsed. Their parallel is arcs.
 */
#pragma once

#include "geometry/chain.h"
#include "geometry/parallel-fit.h"

/* From one place of the cubic to another, P within tolerance / 8 of that at a
 * third. */
typedef struct
{
  double from, to, at;
} GeoParallelZone;

#define GEO_PARALLEL_ZONES 5

/* Ascending, apart from each other; the whole where it is all but a point. */
int geo_parallel_zones (const GeoParallelSource *source, double tolerance,
                        GeoParallelZone zones[GEO_PARALLEL_ZONES]);
/* The parallel of a stretch that stays near q: arcs about q, back and forth
 * where the tangent turns back. Returns the sum of their angles. */
double geo_parallel_append_arcs (const GeoParallelSource *source, double from,
                                 double to, GeoPoint q, double tolerance,
                                 GeoChain *out);
