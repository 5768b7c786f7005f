/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours of the table and of what lies over the pieces, light and dark. Every pair that must be
 * told apart also differs in shape or line, never in hue alone; the pick's colour and the table's are
 * those of drawing/style.c. */
#pragma once

#include <cairo.h>
#include <glib.h>

#include "drawing/paint.h"

typedef struct
{
  DrawingColour table, grid, grid_strong;
  DrawingColour ruler, ruler_line, ruler_ink;
  DrawingColour lit;     /* what is picked, and side A of a seam */
  DrawingColour partner; /* side B */
  DrawingColour hover;
  DrawingColour halo; /* under lit lines, so that they read on any tint */
  DrawingColour node; /* inside of a node's mark */
  DrawingColour guide;
  DrawingColour thread;
  DrawingColour tag, tag_edge, tag_ink, tag_faint;
  DrawingColour pin_mend, pin_look, pin_aside, pin_shaft, pin_ink;
} AppPalette;

const AppPalette *app_palette (gboolean dark);
void app_colour (cairo_t *cr, DrawingColour colour);
