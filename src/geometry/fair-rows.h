/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What fair.c asks of one cubic: values, and their rates by the eight
 * coordinates x0, y0 ... x3, y3 of its points. */
#pragma once

#include "geometry/cubic.h"

#define GEO_FAIR_NODES 8 /* of Gauss and Legendre, on [0, 1] */

extern const double geo_fair_nodes[GEO_FAIR_NODES][2]; /* place, weight */

/* dk/ds times the root of the speed: its square integrates over t to what it
 * does over s. 0 where there is no speed. */
double geo_fair_change (const GeoCubic *c, double t, double rate[8]);
double geo_fair_curvature (const GeoCubic *c, double t, double rate[8]);
double geo_fair_speed (const GeoCubic *c, double t, double rate[8]);
/* Its length, and the integral of (dk/ds)^2 ds, by as few places as there are
 * nodes: near enough to step by. */
double geo_fair_rough_length (const GeoCubic *c);
double geo_fair_change_of (const GeoCubic *c);
