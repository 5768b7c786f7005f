/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The speed |P'| of a cubic and its integral: inner part of length.c and
 * ruler.c. The method is told in speed.c.
 */
#pragma once

#include "geometry/cubic.h"

#define GEO_SPEED_FINEST 1e-10

/* P' = v0 + v1 t + v2 t^2. */
typedef struct
{
  GeoPoint v0, v1, v2;
  GeoPoint roots[2]; /* of P' as a complex number, moved to where [0, 1] is
                        [-1, 1] */
  int root_count;
  double reach; /* upper bound of the speed in [0, 1] */
} GeoSpeed;

/* Tolerances as the rules take them. */
static inline double
geo_speed_tolerance (double tolerance)
{
  return tolerance > GEO_SPEED_FINEST ? tolerance : GEO_SPEED_FINEST;
}

void geo_speed_init (GeoSpeed *speed, const GeoCubic *c);
double geo_speed_at (const GeoSpeed *speed, double t);
/* The integral from a to b, 0 <= a <= b <= 1; 0 for b <= a. */
double geo_speed_length (const GeoSpeed *speed, double a, double b,
                         double tolerance);
/* The whole length, without the way by way of a GeoSpeed. */
double geo_speed_whole (const GeoCubic *c, double tolerance);
/* Whether 8 nodes will do for [a, b], and so for every part of it; where they
 * will not, *cut is where to cut it. */
bool geo_speed_is_easy (const GeoSpeed *speed, double a, double b,
                        double tolerance, double *cut);
/* The same integral by 8 nodes, whatever the error; b may lie before a. */
double geo_speed_easy_length (const GeoSpeed *speed, double a, double b);
