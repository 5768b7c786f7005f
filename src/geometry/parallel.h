/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parallel of a curve: the curve at a constant distance from it.
 *
 * d > 0 lies on the side of the left normal, O = P + d N. Given as cubics whose
 * two-sided distance from the exact parallel has been measured, not assumed, to
 * be at most tolerance. Method: see parallel.c.
 */
#pragma once

#include "geometry/chain.h"

/* Appends the raw parallel of one cubic: regular spans fitted, spans where
 * 1 - d k < 0 (which run backwards) kept so that the chain stays in one piece,
 * collapsed handles and exact cusps by arcs about the point. Returns false, and
 * appends nothing, only where the cubic is a single point. */
bool geo_cubic_parallel (const GeoCubic *c, double d, double tolerance, GeoChain *out);
/* Raw parallel of a chain, in one piece: where two cubics meet at an angle, the
 * parallels are joined by an arc about the joint on the opening side and, on
 * the closing side, by straight lines through the joint itself, which
 * trimming removes. Cubics that are points are left out; false if all are. */
bool geo_chain_parallel (const GeoChain *chain, double d, double tolerance, GeoChain *out);
