/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The measure to go by: the offset of W. Tiller and E. Hanson (IEEE CG&A 4,
 * 1984), plain and adaptive. The legs of the control polygon are moved sideways
 * by d and meet anew; where the error so measured is above tolerance the cubic
 * is halved.
 */
#pragma once

#include "geometry/chain.h"

void tiller_hanson (const GeoCubic *c, double d, double tolerance,
                    GeoChain *out);
