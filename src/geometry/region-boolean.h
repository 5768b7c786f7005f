/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines added to, cut from and held against each other. */
#pragma once

#include "geometry/chain.h"

typedef enum
{
  GEO_REGION_UNION,
  GEO_REGION_DIFFERENCE, /* what of the first is not in the second */
  GEO_REGION_INTERSECTION,
} GeoRegionRule;

typedef struct
{
  GeoChain *outlines; /* closed; area above 0 round a part, below 0 round a hole
                         of it; the largest first */
  size_t count;
} GeoRegion;

/* What is left of two outlines, closed chains whichever way round, closed by a
 * straight line where they are not; one that crosses itself counts by what it
 * winds around. Their crossings are exact to 1e-9 mm, and edges that both share
 * are taken as one; everywhere else the outlines come back as they were, cubic
 * by cubic. Where curves keep within tolerance (mm) of each other without
 * crossing clearly, the answer is right to within that. Parts and holes below 1
 * mm^2 are left out. result is emptied first. False, with nothing in it, where
 * nothing is left or neither outline encloses anything. */
bool geo_region_combine (const GeoChain *a, const GeoChain *b,
                         GeoRegionRule rule, double tolerance,
                         GeoRegion *result);
void geo_region_clear (GeoRegion *region);
/* Sum of the areas, mm^2. */
double geo_region_area (const GeoRegion *region);
/* Whether a closed outline lies in another, edges that touch allowed: nothing
 * of it stands out by more than tolerance (mm). */
bool geo_region_contains (const GeoChain *outer, const GeoChain *inner,
                          double tolerance);
