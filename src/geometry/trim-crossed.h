/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The border of a closed chain whose crossings are known: inner part of trim.c.
 */
#pragma once

#include "geometry/crossing.h"
#include "geometry/trim.h"

#define GEO_TRIM_SAME 1e-9    /* mm; points as near as this are one */
#define GEO_TRIM_SMALLEST 1.0 /* mm^2; smaller gaps are of no use to anyone */

/* False, with anything in result, where it cannot be told surely: curves that touch
 * or overlap, or meet at a joint or with a third; then polylines must
 * settle it. */
bool geo_trim_crossed (const GeoChain *raw, const GeoCrossings *list,
                       GeoInsideRule rule, GeoTrimResult *result);

/* The cubic with its ends put where they belong, the handles going along. */
GeoCubic geo_trim_moved (GeoCubic c, GeoPoint from, GeoPoint to);
/* Appends to a loop that has room for the origin. */
void geo_trim_append (GeoTrimLoop *loop, GeoCubic part, GeoTrimOrigin origin);
