/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curvature shown as a comb: teeth square to a curve, as long as it is bent, on the side it bulges
 * to, and a line over their tips. Where the line jumps the eye sees an edge; where it crosses the
 * curve, that swings from hollow to bulging. The context's unit is a millimetre. */
#pragma once

#include "app/palette.h"
#include "geometry/chain.h"

/* Length of a tooth, mm, where the curvature is 1/mm, so that the most bent place of the chains (but none
 * tighter than 15 mm) gets one of this height. Straight chains get a scale that shows
 * nothing. */
double app_comb_scale (const GeoChain *chains, guint n, double tall);
/* old: as it was, the tips alone, dotted. */
void app_comb_paint (cairo_t *cr, const GeoChain *chain, double scale,
                     double mm_per_px, DrawingColour colour, gboolean old);
#define APP_COMB_PX 60.0 /* the usual height */
