/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words at any size and angle. Sizes are heights of a capital in the context's
 * unit; glyphs are laid out at one large size and scaled, so that a name has the
 * same proportions on the table, on paper and in a thumbnail, and may be as
 * small or large as asked.
 */
#pragma once

#include <cairo.h>
#include <glib.h>

#include "geometry/point.h"

typedef enum
{
  DRAWING_TEXT_LEFT = 0,
  DRAWING_TEXT_CENTRE = 1,
  DRAWING_TEXT_RIGHT = 2,
  DRAWING_TEXT_BOLD = 4,
} DrawingTextFlags;

typedef struct
{
  const char *font; /* family, or several with commas; NULL: the usual one */
  double capital;   /* height of a capital */
  double most;      /* width beyond which the text is cut with "…", or, in a
                       block, wrapped; 0 for none */
  DrawingTextFlags flags;
} DrawingTextLook;

#define DRAWING_FONT "Cantarell,Sans"

/* Width and height of a text as drawing_text_block() would set it. */
void drawing_text_size (cairo_t *cr, const char *text,
                        const DrawingTextLook *look, double *width,
                        double *height);
/* One line. at is half the height of its capitals, at the start, the middle or the
 * end of the line by the flags. Painted in the current colour. */
void drawing_text_line (cairo_t *cr, const char *text, GeoPoint at,
                        double angle, const DrawingTextLook *look);
/* Several lines, upright; y is the top of the first line's capitals, x the
 * left, middle or right. Returns the height from there to the last line's foot. */
double drawing_text_block (cairo_t *cr, const char *text, double x, double y,
                           const DrawingTextLook *look);
/* The angle at which a line along this direction isn't read upside down, as the
 * context's turn leaves it. */
double drawing_text_upright (cairo_t *cr, double angle);
