/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One cubic in place of several. */
#pragma once

#include "geometry/chain.h"

/* The single cubic nearest to a chain that keeps the chain's end points and end
 * tangent directions: what is left when inner nodes are taken out. Returns the
 * largest distance between the two, measured both ways round (see
 * geo_chain_stray), in mm; a chain that was one cubic cut in pieces gives that
 * cubic back. An empty chain gives a point at (0, 0) and 0. */
double geo_chain_fit_single (const GeoChain *chain, GeoCubic *fit);
