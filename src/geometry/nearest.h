/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nearest point of a curve to a point. */
#pragma once

#include "geometry/chain.h"

/* Returns the distance; t may be NULL. Where several are equally near, the
 * smallest t. Place exact to 1e-9 mm. */
double geo_cubic_nearest (const GeoCubic *c, GeoPoint to, double *t);
/* INFINITY for an empty chain. */
double geo_chain_nearest (const GeoChain *chain, GeoPoint to, GeoPlace *place);

/* Farthest any point of chain lies from the chain `from`: one-sided, so ask
 * both ways round for the distance of two curves. Sampled at samples (2 or
 * more) places of each cubic, ends among them, and each local peak refined.
 * where may be NULL. 0 for an empty chain, INFINITY for an empty `from`. */
double geo_chain_stray (const GeoChain *chain, const GeoChain *from,
                        size_t samples, GeoPlace *where);
