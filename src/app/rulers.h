/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rulers along the table's top and left, and the grid on it, in her unit: inches are divided
 * in halves down to sixteenths, centimetres in tenths, as far as there is room. In pixels. */
#pragma once

#include "app/palette.h"
#include "app/view.h"

#define APP_RULER_PX 24

void app_paint_rulers (cairo_t *cr, const AppView *view, double width,
                       double height, PatternUnit unit,
                       const AppPalette *colours);

/* The grid's lines, to be painted by whoever has the quickest way to. */
typedef struct
{
  double step_px;
  double x, y; /* the first upright and the first level line */
  gboolean strong;
} AppGrid;
/* Up to two grids, fine and strong; only those whose squares are neither a haze nor
 * larger than half the view. */
guint app_grid (const AppView *view, double width, double height,
                PatternUnit unit, AppGrid grids[2]);

/* The ruler's marks at a scale, for painting and for tests: a number every step_mm, with parts
 * marks from number to number, the finest that are at least 4 px apart. */
typedef struct
{
  double step_mm;
  guint parts;   /* marks from one number to the next, 1 for none between */
  double figure; /* what a step counts: 1 or 10 cm, 1/4 ... in */
} AppRulerScale;
AppRulerScale app_ruler_scale (PatternUnit unit, double px_per_mm);
