/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where curves cross or touch. */
#pragma once

#include "geometry/chain.h"

typedef struct {
  GeoPlace a, b;
  GeoPoint at;
} GeoCrossing;

typedef struct {
  GeoCrossing *items;
  size_t count, room;
} GeoCrossings;

void geo_crossings_init (GeoCrossings *list);
void geo_crossings_clear (GeoCrossings *list);

/* All crossings and tangencies, to 1e-9 mm, found after those already in the
 * list, in order of a. Where the curves run on top of each other over a
 * stretch, the two ends of the stretch are given. At most 64 a pair. */
void geo_cubic_crossings (const GeoCubic *a, const GeoCubic *b, GeoCrossings *list);
/* The loop of one cubic: the two t of its crossing with itself. */
bool geo_cubic_self_crossing (const GeoCubic *c, double *t0, double *t1);
void geo_chain_crossings (const GeoChain *a, const GeoChain *b, GeoCrossings *list);
/* A chain with itself; joints between neighbours (and the closing joint of a
 * closed chain) are not crossings. a comes before b along the chain. */
void geo_chain_self_crossings (const GeoChain *chain, GeoCrossings *list);
