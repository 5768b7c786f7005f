/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chain with fewer nodes, and two chains made one. */
#pragma once

#include "geometry/chain.h"

/* Puts into fewer the fewest cubics found that stay within tolerance (mm, both
 * ways round, measured with every peak refined; see geo_chain_apart) of the
 * chain. Joints where the direction turns by more than corner (radians) are
 * corners and kept, each where it is; so are the chain's ends and the directions
 * there and at corners. At other joints what comes out is smooth. A closed
 * chain without corners, its closing joint among them, has no ends to keep, and
 * starts near where it started. Cubics that are one point are dropped unless
 * they are all there is. Never gives more cubics than came; a stretch that
 * cannot do with fewer comes back as it was. fewer is another chain; what it
 * held is replaced. */
void geo_chain_simplify (const GeoChain *chain, double corner, double tolerance,
                         GeoChain *fewer);

/* The smoothest cubic from the end of one chain to the start of the next, going
 * on as the first ends and arriving as the next starts: that with the least
 * change of curvature along it, its jumps at both ends counted in. A straight
 * line where the two places are one, or either chain is empty. */
GeoCubic geo_chain_bridge (const GeoChain *before, const GeoChain *after);

/* Puts into joined the two chains as one: the gap, if any, bridged, and then with
 * as few cubics as stay within tolerance of that; the joint between the two is
 * no corner, whatever its angle, so that what cannot be kept within tolerance of
 * a sharp joint keeps it. joined is another chain. Returns whether the joint came
 * out smooth. */
bool geo_chain_join (const GeoChain *before, const GeoChain *after,
                     double corner, double tolerance, GeoChain *joined);
