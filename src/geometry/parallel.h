/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parallel of a curve: the curve at a constant distance from it.
 *
 * d > 0 lies on the side of the left normal, O = P + d N. Given as cubics whose
 * two-sided distance from the exact parallel has been measured, not assumed, to
 * be at most tolerance. Method: see parallel.c. A tolerance below 1e-6 is taken
 * as 1e-6.
 */
#pragma once

#include "geometry/chain.h"

/* As few cubics as will do; or nearly as few in less time, for what follows a
 * drag. Both keep the tolerance. */
typedef enum
{
  GEO_PARALLEL_QUALITY,
  GEO_PARALLEL_FAST
} GeoParallelMode;

/* A stretch of a raw parallel: all of it regular and fitted, or all of it an
 * arc about a cusp. */
typedef struct
{
  double t0, t1;
  bool backwards;      /* 1 - d k < 0: it runs against the source */
  size_t first, count; /* its cubics in the chain appended to */
} GeoParallelSpan;

#define GEO_PARALLEL_SPANS 24

/* Appends the raw parallel of one cubic: regular spans fitted, spans where
 * 1 - d k < 0 (which run backwards) kept so that the chain stays in one piece,
 * collapsed handles and exact cusps by arcs about the point. The chain is empty
 * or ends where this parallel starts. Returns false, and appends nothing, only
 * where the cubic is a single point. */
bool geo_cubic_parallel (const GeoCubic *c, double d, double tolerance,
                         GeoChain *out);
/* geo_cubic_parallel gives GEO_PARALLEL_QUALITY. */
bool geo_cubic_parallel_in (const GeoCubic *c, double d, double tolerance,
                            GeoParallelMode mode, GeoChain *out);
/* As GEO_PARALLEL_FAST does, telling the spans; returns how many, 0 for a point. */
int geo_cubic_parallel_spans (const GeoCubic *c, double d, double tolerance,
                              GeoChain *out,
                              GeoParallelSpan spans[GEO_PARALLEL_SPANS]);
/* Raw parallel of a chain, in one piece: where two cubics meet at an angle, the
 * parallels are joined by an arc about the joint on the opening side and, on
 * the closing side, by straight lines through the joint itself, which
 * trimming removes; the closing joint of a closed chain likewise. Cubics that
 * are points are left out; false if all are. out must be empty or end where this
 * parallel starts. */
bool geo_chain_parallel (const GeoChain *chain, double d, double tolerance,
                         GeoChain *out);
