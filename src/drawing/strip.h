/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The seam strip: a seam unrolled to scale as two facing lines, side A over side
 * B, with notches joined across, each interval's difference in figures and as a
 * tint, curvature as a filled profile, clips and wedges in place. */
#pragma once

#include "drawing/paint.h"

/* In pixels: the caller's context is unscaled. */
void drawing_paint_strip (cairo_t *cr, SewingFacts *facts,
                          const Pattern *pattern, const PatternSeam *seam,
                          double width_px, double height_px, gboolean dark,
                          double lit_at);
/* The place on the seam under x, as a length on side A; for pointing. */
double drawing_strip_at (SewingFacts *facts, const Pattern *pattern,
                         const PatternSeam *seam, double width_px, double x_px);
