/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One run being fitted: inner part of fit-run.c, which tells the method. */
#pragma once

#include "geometry/fit-run.h"
#include "geometry/foot.h"

#define GEO_RUN_SHARES 3 /* starts tried */

typedef struct
{
  const GeoRunTarget *target;
  double tolerance;
  double *along; /* lengths to each point; one more for a closed run */
  double length;
  GeoFoot *feet, *tried;
  double *weight;
  int variant;    /* of the start */
  double *breaks; /* lengths where cubics start, and the whole */
  GeoCubic *cubics;
  double *errors; /* the largest of each cubic */
  size_t room;
  GeoNodeRun now, next;
  GeoNodeSystem system;
} GeoRunTask;

/* Nodes on the points at the breaks; feet by length (fit-run-start.c). */
void geo_run_start (GeoRunTask *task, size_t n);
