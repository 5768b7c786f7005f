/* SPDX-License-Identifier: GPL-3.0-or-later */
/* As few cubics as will do along a regular stretch of a parallel.
 */
#pragma once

#include "geometry/parallel-fit.h"
#include "geometry/parallel.h"

/* Appends cubics to out from t0 to t1, inside of which the speed of the
 * parallel keeps its sign; each is verified to be within tolerance. False,
 * with nothing appended, where the stretch is too long or too hard for one go
 * and should be halved. */
bool geo_parallel_lay (const GeoParallelSource *source, double t0, double t1,
                       double tolerance, GeoParallelMode mode, GeoChain *out);
/* The best that one cubic can do. */
void geo_parallel_lay_one (const GeoParallelSource *source, double t0,
                           double t1, double tolerance, GeoChain *out);
