/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours and sizes. The colours were chosen by lightness and hue in an even
 * colour space: text stands at 4.5:1 or better against the table, lines at 3:1 (WCAG
 * 2.2, 1.4.3 and 1.4.11); longer and shorter differ along blue and orange, which
 * every common kind of colour blindness keeps apart, and never carry a
 * meaning that isn't also in words or figures. */
#include "drawing/paint.h"

#include "drawing/text.h"

#define RGB(r, g, b)                                                           \
  {                                                                            \
    r, g, b, 1                                                                 \
  }

static const DrawingStyle light = {
  .paper = RGB (0.962, 0.942, 0.904),
  .ink = RGB (0.163, 0.135, 0.113),
  .stitch = RGB (0.200, 0.345, 0.492),
  .faint = RGB (0.455, 0.400, 0.340),
  .lit = RGB (0.581, 0.160, 0.435),
  .longer = RGB (0.157, 0.369, 0.625),
  .shorter = RGB (0.667, 0.290, 0.035),
  .even = RGB (0.265, 0.447, 0.369),
  .shaping = RGB (0.408, 0.306, 0.572),
  .tints = { { 0.878, 0.750, 0.518, 0.26 },
             { 0.526, 0.696, 0.799, 0.26 },
             { 0.669, 0.847, 0.701, 0.30 },
             { 0.825, 0.569, 0.546, 0.24 },
             { 0.784, 0.701, 0.888, 0.30 },
             { 0.456, 0.638, 0.624, 0.24 },
             { 0.882, 0.861, 0.552, 0.32 },
             { 0.510, 0.520, 0.598, 0.21 } },
};

static const DrawingStyle dark = {
  .paper = RGB (0.115, 0.140, 0.162),
  .ink = RGB (0.923, 0.907, 0.875),
  .stitch = RGB (0.608, 0.767, 0.882),
  .faint = RGB (0.580, 0.630, 0.665),
  .lit = RGB (0.976, 0.606, 0.819),
  .longer = RGB (0.436, 0.710, 0.937),
  .shorter = RGB (0.950, 0.640, 0.350),
  .even = RGB (0.543, 0.731, 0.645),
  .shaping = RGB (0.749, 0.675, 0.953),
  .tints = { { 0.627, 0.506, 0.279, 0.17 },
             { 0.264, 0.460, 0.571, 0.19 },
             { 0.409, 0.604, 0.448, 0.15 },
             { 0.588, 0.326, 0.307, 0.19 },
             { 0.552, 0.448, 0.673, 0.18 },
             { 0.211, 0.433, 0.419, 0.21 },
             { 0.657, 0.635, 0.331, 0.14 },
             { 0.331, 0.339, 0.411, 0.25 } },
};

DrawingStyle
drawing_style_table (double mm_per_px, gboolean is_dark)
{
  DrawingStyle style = is_dark ? dark : light;
  double px = isfinite (mm_per_px) && mm_per_px > 0 ? mm_per_px : 1;
  style.font = DRAWING_FONT;
  style.line = 1.4 * px;
  style.dash = 6 * px;
  /* Names grow with what they name until they are easy to read, then stay. */
  style.text = CLAMP (7.0, 9.5 * px, 15 * px);
  style.least = 5 * px;
  style.mark = CLAMP (6.0, 5 * px, 12 * px);
  style.fill = TRUE;
  style.stitch_line = style.cutting_line = style.notches = style.clips = TRUE;
  style.folds = style.grain = style.words = style.inner = TRUE;
  style.edge_names = FALSE;
  return style;
}

DrawingStyle
drawing_style_thumbnail (double mm_per_px, gboolean is_dark)
{
  DrawingStyle style = drawing_style_table (mm_per_px, is_dark);
  double px = isfinite (mm_per_px) && mm_per_px > 0 ? mm_per_px : 1;
  style.paper.a = 0;
  style.line = 1.2 * px;
  style.dash = 3 * px;
  style.words = style.clips = style.inner = style.notches = FALSE;
  return style;
}

DrawingStyle
drawing_style_paper (void)
{
  DrawingStyle style = light;
  style.paper = (DrawingColour){ 1, 1, 1, 0 };
  style.ink = style.stitch = (DrawingColour){ 0, 0, 0, 1 };
  style.faint = (DrawingColour){ 0.35, 0.35, 0.35, 1 };
  style.lit = style.ink;
  style.font = DRAWING_FONT;
  style.line = 0.5;
  style.dash = 4;
  style.text = 6;
  style.least = 1.2;
  style.mark = 6;
  style.fill = FALSE;
  style.stitch_line = style.cutting_line = style.notches = style.clips = TRUE;
  style.folds = style.grain = style.words = style.inner = style.edge_names
      = TRUE;
  return style;
}
