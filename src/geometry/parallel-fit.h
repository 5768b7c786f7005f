/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One cubic laid along a regular stretch of a parallel: the inmost part of
 * parallel.c, which sees to cusps and folds; parallel-lay.c sees to splitting.
 */
#pragma once

#include "geometry/cubic.h"

typedef struct GeoParallelSource GeoParallelSource;
typedef struct GeoParallelSample GeoParallelSample;

/* A cubic and the distance of its parallel, made ready for sampling. Where
 * course is given, what is followed is not the parallel but the curve that
 * course tells, its tangents its own and its speed > 0. */
struct GeoParallelSource
{
  const GeoCubic *c;
  void (*course) (const GeoParallelSource *source, double t,
                  GeoParallelSample *sample);
  double d;
  GeoPoint v[3]; /* Bernstein coefficients of P' */
  GeoPoint a[2]; /* of P'' */
  GeoPoint k[3]; /* P (t) = P (0) + k0 t + k1 t^2 + k2 t^3 */
  double size;   /* of the control polygon, within a factor of 2 */
};

struct GeoParallelSample
{
  double t;
  GeoPoint at;      /* O = P + d N */
  GeoPoint tangent; /* of the source; (0, 0) only where it is one point */
  double turn;      /* of the tangent, by t; 0 where it is not known */
  double speed;     /* of O along tangent: |P'| (1 - d k); signed */
};

/* A cubic from one sample to another, its end tangents theirs. */
typedef struct
{
  double l0, l1; /* lengths of the handles */
  double error;  /* largest distance measured; INFINITY where unseen */
  bool holds;    /* error is verified and within tolerance */
  bool speck;    /* all within tolerance of a point: a line will do */
} GeoParallelFit;

void geo_parallel_source_init (GeoParallelSource *source, const GeoCubic *c,
                               double d);
/* Where P' = 0 the tangent is its limit and speed that of a neighbouring
 * place. */
GeoParallelSample geo_parallel_sample (const GeoParallelSource *source,
                                       double t);
/* How much is done for a fit. */
typedef enum
{
  GEO_PARALLEL_BRIEF,    /* one start */
  GEO_PARALLEL_THOROUGH, /* as many as it takes */
  GEO_PARALLEL_WEIGHED   /* and the error is wanted even where it is small */
} GeoParallelEffort;

#define GEO_PARALLEL_TRACE 18

/* What a fit that does not hold leaves, at evenly spaced places from end to
 * end: how the difficulty adds up. */
typedef struct
{
  double past[GEO_PARALLEL_TRACE];
} GeoParallelTrace;

/* Fits one cubic to the stretch from one sample to a later one, inside of which
 * speed keeps its sign. trace may be NULL. */
void geo_parallel_fit (const GeoParallelSource *source,
                       const GeoParallelSample *from,
                       const GeoParallelSample *to, double tolerance,
                       GeoParallelEffort effort, GeoParallelFit *fit,
                       GeoParallelTrace *trace);
GeoCubic geo_parallel_fit_cubic (const GeoParallelSample *from,
                                 const GeoParallelSample *to,
                                 const GeoParallelFit *fit);
