/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The seam strip: a seam unrolled to scale as two facing lines, side A over side
 * B. Notches are joined across by threads, each interval has its difference or ease in
 * figures and as a tint; away from each line stands its curvature as a filled profile,
 * bulges full, hollows pale; clips and wedges lie in place, stretches on the bias are
 * striped as a twisted cord. Below lie the shaping, degrees per cm, with its sharpest
 * 20 mm marked, and a tape. */
#pragma once

#include "drawing/paint.h"
#include "sewing/strain.h"

typedef struct
{
  gboolean dark;
  const SewingStrain
      *strain; /* whose advice for this seam is told; NULL: none */
} DrawingStripLook;

/* In pixels: the caller's context is unscaled. */
void drawing_paint_strip (cairo_t *cr, SewingFacts *facts,
                          const Pattern *pattern, const PatternSeam *seam,
                          double width_px, double height_px,
                          const DrawingStripLook *look);
/* Over it, two places that touch or are pointed at: lengths on side A and on side B. */
void drawing_paint_strip_lit (cairo_t *cr, SewingFacts *facts,
                              const Pattern *pattern, const PatternSeam *seam,
                              double width_px, double height_px, gboolean dark,
                              const double at[2]);
/* The place on the seam under x, as a length on side A; for pointing. */
double drawing_strip_at (SewingFacts *facts, const Pattern *pattern,
                         const PatternSeam *seam, double width_px, double x_px);
/* Whether y is in the row of a strip that tells of shaping. */
gboolean drawing_strip_is_shaping (double height_px, double y_px);
