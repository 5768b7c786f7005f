/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands in a parallel where its source turns at a point. */
#pragma once

#include "geometry/chain.h"

/* An arc about centre from one end to the other through the signed angle
 * sweep, within tolerance / 4. The ends need only be near the circle: what they
 * are off is spread over the first and last piece. */
void geo_parallel_append_arc (GeoChain *out, GeoPoint centre, GeoPoint from,
                              GeoPoint to, double radius, double sweep,
                              double tolerance);
/* From where out ends to where the parallel leaving the joint starts: about the
 * joint on the opening side, through it on the closing side. */
void geo_parallel_append_joint (GeoChain *out, GeoPoint joint,
                                GeoPoint arriving, GeoPoint leaving, double d,
                                double tolerance);
