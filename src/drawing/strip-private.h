/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of the strip share: its measures, and small helpers. */
#pragma once

#include "drawing/parts.h"
#include "drawing/strip.h"
#include "drawing/text.h"
#include "sewing/shaping.h"

#define TICK 11.0                /* room for clip marks inside each line, px */
#define STITCHES_IN (TICK + 2.5) /* rows of stitches lie beyond those */
#define CORD 5.0 /* thickness of a line that runs on the bias, px */

typedef struct
{
  cairo_t *cr;
  SewingFacts *facts;
  const Pattern *pattern;
  const PatternSeam *seam;
  const SewingSeam *known;
  const SewingShaping *shaping; /* NULL: the seam says nothing of it */
  const SewingStrain *strain;
  DrawingStyle style;
  double width, height;
  double x0, x1, scale;       /* px a mm */
  double y[2];                /* of the two lines */
  double profile;             /* most a profile may stand out */
  double fills;               /* the radius, mm, whose profile does */
  double flat;                /* y where shaping is none */
  double dome, saddle;        /* most it may stand up and hang down */
  double tape;                /* y of the tape's upper edge */
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
/* The piece of a side's run. */
const SewingPiece *drawing_strip_piece (const DrawingStrip *s, int side,
                                        guint run, guint *edge);
/* taken holds pairs of x between which something is written already. TRUE, and the
 * stretch is taken, where there is still room. */
gboolean drawing_strip_take (GArray *taken, double from, double to);
gboolean drawing_strip_is_open (const GArray *taken, double from, double to);
/* y of the words that stand in a row at a side's outermost. */
double drawing_strip_words_y (const DrawingStrip *s, int side);

/* strip-profile.c: the curvature of a side away from its line; and the tightest radius of
 * both sides, mm, between 20 and 150. */
double drawing_strip_tightest (const DrawingStrip *s);
void drawing_strip_paint_profile (const DrawingStrip *s, int side,
                                  GArray *taken);
/* strip-line.c: a side's line, striped where it runs on the bias, its cuts, what is advised
 * for it; and the share of it on the bias, < 0 where the grain is not known. */
void drawing_strip_paint_line (const DrawingStrip *s, int side);
void drawing_strip_paint_cuts (const DrawingStrip *s, int side);
void drawing_strip_paint_advice (const DrawingStrip *s, int side,
                                 GArray *taken);
double drawing_strip_bias (const DrawingStrip *s, int side);
/* strip-between.c: what lies between the lines. */
void drawing_strip_paint_tint (const DrawingStrip *s, const SewingInterval *i);
void drawing_strip_paint_figure (const DrawingStrip *s,
                                 const SewingInterval *i);
void drawing_strip_paint_threads (const DrawingStrip *s);
/* strip-shaping.c: what the seam does to the cloth, and the tape below it. */
void drawing_strip_paint_shaping (const DrawingStrip *s);
void drawing_strip_paint_tape (const DrawingStrip *s);
/* A place on side A and one on side B. */
void drawing_strip_paint_lit (const DrawingStrip *s, const double at[2]);
