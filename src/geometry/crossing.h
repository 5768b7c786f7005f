/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where curves cross or touch. */
#pragma once

#include "geometry/chain.h"

typedef struct
{
  GeoPlace a, b;
  GeoPoint at;
} GeoCrossing;

typedef struct
{
  GeoCrossing *items;
  size_t count, room;
} GeoCrossings;

void geo_crossings_init (GeoCrossings *list);
void geo_crossings_clear (GeoCrossings *list);

/* All crossings and tangencies, found after those already in the list, in order
 * of a; the point lies within 1e-9 mm of both curves. Where the curves run on
 * top of each other over a stretch, the two ends of the stretch are given.
 * Contacts between which the curves stay within a few times 1e-9 mm of each other
 * count as one. At most 64 a pair; curves that keep within about 1e-7 mm of
 * each other over long stretches without lying on each other may give fewer
 * than there are, for the search is cut off then. */
void geo_cubic_crossings (const GeoCubic *a, const GeoCubic *b,
                          GeoCrossings *list);
/* The loop of one cubic: the two t of its crossing with itself, t0 < t1; a
 * cubic that ends where it starts gives 0 and 1. False for a folded line. */
bool geo_cubic_self_crossing (const GeoCubic *c, double *t0, double *t1);
/* A stretch of overlap running over several cubics gives a point at each joint
 * as well. A crossing at a joint is given once. */
void geo_chain_crossings (const GeoChain *a, const GeoChain *b,
                          GeoCrossings *list);
/* A chain with itself; joints between neighbours (and the closing joint of a
 * closed chain) are not crossings. a comes before b along the chain. */
void geo_chain_self_crossings (const GeoChain *chain, GeoCrossings *list);
/* Whether there are any such. */
bool geo_chain_crosses_itself (const GeoChain *chain);
