/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One cubic laid along a regular stretch of a parallel: the inner half of
 * parallel.c, which sees to cusps, folds and splitting.
 */
#pragma once

#include "geometry/cubic.h"

/* A cubic and the distance of its parallel, made ready for sampling. */
typedef struct {
  const GeoCubic *c;
  double d;
  GeoPoint v[3]; /* Bernstein coefficients of P' */
  GeoPoint a[2]; /* of P'' */
  double size;   /* of the control polygon, within a factor of 2 */
} GeoParallelSource;

typedef struct {
  GeoPoint at;      /* O = P + d N */
  GeoPoint tangent; /* of the source; (0, 0) only where it is one point */
  double speed;     /* of O along tangent: |P'| (1 - d k); signed */
} GeoParallelSample;

void geo_parallel_source_init (GeoParallelSource *source, const GeoCubic *c, double d);
/* Where P' = 0 the tangent is its limit and speed that of a neighbouring
 * place. */
GeoParallelSample geo_parallel_sample (const GeoParallelSource *source, double t);
/* Fits one cubic to the stretch from t0 to t1, inside of which speed keeps its
 * sign. Its ends and their tangents are the parallel's own. True when the
 * measured two-sided distance is within tolerance; else fit holds the best
 * that was found and the stretch should be split. */
bool geo_parallel_fit (const GeoParallelSource *source, double t0, double t1,
                       double tolerance, GeoCubic *fit);
