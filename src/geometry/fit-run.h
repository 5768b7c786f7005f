/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fewest cubics, smoothly joined, along a run of points: the inner half of
 * fit-points.c and simplify.c, which see to corners and to what is exact.
 */
#pragma once

#include <stdint.h>

#include "geometry/node-run.h"

typedef struct
{
  const GeoPoint *points; /* no two neighbours the same */
  size_t count;
  bool closed; /* the last point joins the first */
  /* Of the way on, unit; NULL leaves that end's direction free. The places of
   * the ends are held in every case, but not those of a closed run. */
  const GeoPoint *start_tangent, *end_tangent;
} GeoRunTarget;

/* Whether a run that keeps to all points will do. */
typedef bool (*GeoRunHolds) (const GeoNodeRun *run, void *data);

/* Fills run with the fewest cubics found whose distance from each point is
 * within tolerance, and which holds (may be NULL). Looks for fewer than
 * limit cubics, and leaves run empty where there are none; with a limit of
 * SIZE_MAX joins all points at worst, by one cubic an interval. Returns the
 * largest distance. count is 2 or more, 3 for a closed run. */
double geo_run_fit (const GeoRunTarget *target, double tolerance,
                    GeoRunHolds holds, void *data, size_t limit,
                    GeoNodeRun *run);
