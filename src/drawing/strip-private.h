/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of the strip share: its measures, and small helpers. */
#pragma once

#include "drawing/parts.h"
#include "drawing/strip.h"
#include "drawing/text.h"

#define TICK 10.0 /* room for clip marks inside each line, px */

typedef struct
{
  cairo_t *cr;
  SewingFacts *facts;
  const Pattern *pattern;
  const PatternSeam *seam;
  const SewingSeam *known;
  DrawingStyle style;
  double width, height;
  double x0, x1, scale;       /* px a mm */
  double y[2];                /* of the two lines */
  double profile;             /* most a profile may stand out */
  double name, figure, small; /* capitals */
} DrawingStrip;

double drawing_strip_x (const DrawingStrip *s, double length);
/* -1 above, towards which side A's profile stands; +1 below. */
double drawing_strip_outward (int side);
DrawingColour drawing_with_alpha (DrawingColour colour, double a);
/* By how much an interval differs from its share of the ease that is meant. */
double drawing_strip_out (const SewingInterval *i);
double drawing_strip_text_width (const DrawingStrip *s, const char *text,
                                 double capital, DrawingTextFlags flags);
void drawing_strip_text (const DrawingStrip *s, const char *text, double x,
                         double y, double capital, double most,
                         DrawingTextFlags flags, DrawingColour colour);

/* strip-profile.c: the curvature of a side away from its line. taken holds pairs of
 * x between which something is written already; more is added. */
void drawing_strip_paint_profile (const DrawingStrip *s, int side,
                                  GArray *taken);
/* strip-between.c: what lies between the lines. */
void drawing_strip_paint_tint (const DrawingStrip *s, const SewingInterval *i);
void drawing_strip_paint_figure (const DrawingStrip *s,
                                 const SewingInterval *i);
void drawing_strip_paint_threads (const DrawingStrip *s);
/* A place on side A and what it lies against on side B. */
void drawing_strip_paint_lit (const DrawingStrip *s, double at);
