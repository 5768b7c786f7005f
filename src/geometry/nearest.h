/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nearest point of a curve to a point. */
#pragma once

#include "geometry/chain.h"

/* Returns the distance; t may be NULL. Where several are equally near, the
 * smallest t. Place exact to 1e-9 mm. */
double geo_cubic_nearest (const GeoCubic *c, GeoPoint to, double *t);
/* INFINITY for an empty chain. */
double geo_chain_nearest (const GeoChain *chain, GeoPoint to, GeoPlace *place);
