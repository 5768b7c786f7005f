/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A line beside a line, at a distance that varies along it: for letting out here
 * and taking in there.
 *
 * O (s) = P (s) + d (s) N (s), s the length gone along the chain and N its left
 * normal, as with the parallel; given as cubics within tolerance of it both
 * ways, measured as the parallel's are. They meet with one tangent wherever O
 * has one: it has corners where a straight profile has, and slight ones where
 * the curvature of the source jumps while the distance changes. Where the
 * source has a corner, a cusp or a fold, what the parallel has there is given,
 * at the distance there. Like the parallel, raw: nothing is trimmed. Method: see
 * parallel-varying.c. A tolerance below 1e-6 is taken as 1e-6.
 */
#pragma once

#include "geometry/chain.h"
#include "geometry/profile.h"

/* Knots may lie before the start and past the end. out must be empty or end
 * where this line starts. False, with nothing appended, where the knots are
 * none, not ascending or not finite, or the chain is a point. A closed chain
 * gives a closed line where the profile comes back to the width it started
 * from. */
bool geo_chain_parallel_varying (const GeoChain *chain,
                                 const GeoProfileKnot *knots, size_t n,
                                 GeoProfileKind kind, double tolerance,
                                 GeoChain *out);
bool geo_cubic_parallel_varying (const GeoCubic *c, const GeoProfileKnot *knots,
                                 size_t n, GeoProfileKind kind,
                                 double tolerance, GeoChain *out);
