/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The border of what a closed chain winds around, as closed chains that do not
 * cross themselves.
 */
#pragma once

#include "geometry/arrangement.h"
#include "geometry/tagged.h"

/* The part of a cubic of the raw chain that a cubic of the border is; t0 > t1
 * where the border runs against it. */
typedef struct {
  size_t cubic;
  double t0, t1;
} GeoTrimOrigin;

typedef struct {
  GeoChain chain;
  GeoTrimOrigin *origins; /* one a cubic of chain */
  double area;            /* signed; negative for the border of a gap */
} GeoTrimLoop;

typedef struct {
  GeoTrimLoop *loops; /* the largest first */
  size_t count;
  bool untouched; /* the raw chain was its own border */
} GeoTrimResult;

/* False where there is no border with an inside. */
bool geo_trim (const GeoChain *raw, GeoInsideRule rule, double tolerance, GeoTrimResult *result);
void geo_trim_result_clear (GeoTrimResult *result);
