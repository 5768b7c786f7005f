/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One stretch being made fair: inner part of fair.c, which tells the method. */
#pragma once

#include "geometry/fair.h"
#include "geometry/foot.h"
#include "geometry/node-run.h"

#define GEO_FAIR_SAMPLES 8 /* a cubic */
#define GEO_FAIR_JUMP 0.02 /* of the neighbour's length: h */

typedef struct
{
  const GeoChain *stretch;
  const GeoFairWish *wish;
  size_t from; /* the chain's cubic that the stretch starts with */
  bool closed, holds_start, holds_end; /* curvatures at the ends */
  double length, wall, barrier;        /* d and m above */
  GeoPoint *samples;
  GeoFoot *feet, *tried;
  size_t count;
  GeoCubic *cubics;
  GeoNodeRun now, next;
  GeoNodeSystem system;
  double (*by_length)[GEO_FREEDOMS]; /* a above */
  double push;            /* the largest l met */
} GeoFairTask;

/* A node of the stretch is to keep its place. */
bool geo_fair_is_pinned (const GeoFairTask *task, size_t node);

/* Where to begin (fair-start.c). */
void geo_fair_take_samples (GeoFairTask *task);
/* The fewest cubics within reach, cut at as many places as the stretch has
 * joints, each as far along: smooth from the start, where the stretch's own
 * nodes, shaking, would have to find the way together. False where fewer do not
 * serve. */
bool geo_fair_find_smooth (GeoFairTask *task, GeoChain *smooth);
void geo_fair_start_run (GeoFairTask *task, const GeoChain *s);
/* False where a sample is beyond the wall. */
bool geo_fair_start_feet (GeoFairTask *task);

/* The way down (fair-step.c). */
/* F and the wall; INFINITY beyond it. */
double geo_fair_value (GeoFairTask *task, const GeoNodeRun *run, GeoFoot *feet, double *length);
void geo_fair_run_down (GeoFairTask *task);
