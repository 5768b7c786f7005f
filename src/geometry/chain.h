/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chain: cubics end to end, each starting exactly where the last one ended.
 *
 * The one growable array of this layer. A chain with count 0 is empty; a chain
 * whose last point equals its first exactly is closed. Running out of memory
 * ends the program, as it does everywhere above.
 */
#pragma once

#include "geometry/cubic.h"

typedef struct
{
  GeoCubic *cubics;
  size_t count, room;
} GeoChain;

/* A place on a chain: t in [0, 1] of one cubic. */
typedef struct
{
  size_t cubic;
  double t;
} GeoPlace;

#define GEO_CHAIN_EMPTY ((GeoChain){ NULL, 0, 0 })

void geo_chain_init (GeoChain *chain);
void geo_chain_clear (GeoChain *chain);
/* Empties without giving the storage back. */
void geo_chain_reset (GeoChain *chain);
/* The cubic is taken to start where the chain ends, within rounding; its first
 * point is put there exactly. */
void geo_chain_append (GeoChain *chain, GeoCubic cubic);
/* more may be the chain itself. */
void geo_chain_append_chain (GeoChain *chain, const GeoChain *more);
void geo_chain_append_line (GeoChain *chain, GeoPoint from, GeoPoint to);
/* Replaces what target held by a copy. */
void geo_chain_copy (GeoChain *target, const GeoChain *source);
void geo_chain_reverse (GeoChain *chain);
void geo_chain_transform (GeoChain *chain, GeoMotion motion);
/* Puts a node at the place without changing the shape; nothing at a joint.
 * Returns the index of the joint: the cubic that now starts there (count at
 * the chain's end). */
size_t geo_chain_insert_node (GeoChain *chain, GeoPlace place);
/* Puts the cubics of with in place of those from first to first + count - 1;
 * with may be empty (the gap is then closed by moving the start of what
 * follows) and is not the chain itself. */
void geo_chain_replace (GeoChain *chain, size_t first, size_t count,
                        const GeoChain *with);

/* An empty chain gives (0, 0) and 0; a cubic beyond the last counts as the
 * chain's end. */
bool geo_chain_is_closed (const GeoChain *chain);
GeoPoint geo_chain_start (const GeoChain *chain);
GeoPoint geo_chain_end (const GeoChain *chain);
/* -1, 0 or 1 as a comes before, with or after b; a joint is one place under
 * either name. */
int geo_place_compare (GeoPlace a, GeoPlace b);
GeoPoint geo_chain_point (const GeoChain *chain, GeoPlace place);
/* Unit tangent, by the limit where a handle is collapsed; (0, 0) only where the
 * whole cubic is one point. */
GeoPoint geo_chain_tangent (const GeoChain *chain, GeoPlace place);
/* Signed curvature in 1/mm, clamped to +-1e9 where it has no finite value. */
double geo_chain_curvature (const GeoChain *chain, GeoPlace place);
GeoBox geo_chain_bounds (const GeoChain *chain);
/* Total turning of the tangent, joints between cubics included: the integral
 * of k ds, plus at each inner joint the angle there, in (-pi, pi]. The closing
 * joint of a closed chain is not counted. Radians, signed. */
double geo_chain_turning (const GeoChain *chain);
/* The part from one place to a later one, appended to part. On a closed chain a
 * place that is not later is reached past the start, and equal places give the
 * whole way round; on an open one they give nothing. part is another chain. */
void geo_chain_slice (const GeoChain *chain, GeoPlace from, GeoPlace to,
                      GeoChain *part);
/* Longest radius that fits the tightest place: 1 / max |k|; INFINITY when the
 * chain is straight. sign > 0 looks only at k > 0, sign < 0 only at k < 0,
 * 0 at both. where may be NULL, and is left alone where there is none. A cusp,
 * and a collapsed handle that does not lie straight, count as radius 0 (a cusp
 * for either sign). */
double geo_chain_tightest (const GeoChain *chain, int sign, GeoPlace *where);
