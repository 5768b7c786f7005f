/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a closed chain encloses. */
#pragma once

#include "geometry/chain.h"

/* Signed area, the integral of x dy, in closed form (Green); a chain that is not closed
 * is closed by a straight line. mm^2. */
double geo_chain_area (const GeoChain *chain);
/* Centre of the area; of the bounds where the area is 0. */
GeoPoint geo_chain_centroid (const GeoChain *chain);
/* Second moments about the centroid: integrals of x^2, y^2 and xy. mm^4. */
void geo_chain_second_moments (const GeoChain *chain, double *xx, double *yy,
                               double *xy);
/* Winding number of a chain about a point, positive round an outline of positive area;
 * a chain that is not closed is closed by a straight line. A point on the line
 * itself may count either way. */
int geo_chain_winding (const GeoChain *chain, GeoPoint p);
/* Winding number other than 0. */
bool geo_chain_contains (const GeoChain *chain, GeoPoint p);
