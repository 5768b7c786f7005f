/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The search for the meetings of two pieces of cubics: for crossing-pair.c
 * alone. */
#pragma once

#include "geometry/cubic.h"

#define GEO_HUNT_BUDGET 20000
#define GEO_HUNT_HITS 256

typedef struct
{
  double t, u; /* on a, on b */
  double off;  /* distance of the two points */
  bool end;    /* of an overlap */
} GeoHit;

typedef struct
{
  GeoCubic a, b;
  double tolerance;
  double a_low, a_high, b_low, b_high; /* of the parts now searched */
  int joined;                          /* GeoJoined */
  int budget; /* pairs of pieces still to be looked at */
  GeoHit hits[GEO_HUNT_HITS];
  int count;
} GeoHunt;

/* Takes a meeting at (t, u); beyond GEO_HUNT_HITS nothing is taken. */
void geo_hunt_add (GeoHunt *hunt, double t, double u);
/* Adds the meetings of a from t0 to t1 with b from u0 to u1, some of them more
 * than once, in no order. */
void geo_hunt_parts (GeoHunt *hunt, double t0, double t1, double u0, double u1);
/* Newton on A (t) = B (u); leaves (t, u) anywhere, inside or not, if it fails. */
void geo_hunt_meet (const GeoHunt *hunt, double *t, double *u);
/* The same on the nearest approach of two curves that run alongside. */
void geo_hunt_touch (const GeoHunt *hunt, double *t, double *u);
/* Box of the control points, larger than the bounds but cheaper. */
GeoBox geo_hunt_box (const GeoCubic *c);
/* Whether it can be shown cheaply that a and b keep more than the tolerance
 * apart, but for the ends they share. */
bool geo_hunt_apart (const GeoCubic *a, const GeoCubic *b, int joined,
                     double tolerance);
