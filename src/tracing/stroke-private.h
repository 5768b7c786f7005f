/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files that follow strokes share; nothing outside stroke*.c includes it. */
#pragma once

#include "tracing/stroke.h"

/* --- ink, stroke-ink.c ------------------------------------------------------ */
typedef struct
{
  guint width, height;
  guint8 *ink; /* how much darker than the paper about it, a byte a pixel */
  guint8 *at;  /* 1: of a line's middle; border rows and columns are 0 */
  guint8 *far; /* thirds of a pixel to where there is no ink */
  double low;  /* of ink, that counts */
} StrokeInk;

void stroke_ink_clear (StrokeInk *ink);
/* widest: px. level: of 255; below 0 found. FALSE with the error set. */
gboolean stroke_ink_find (TracingPicture *picture, double widest, double level,
                          StrokeInk *ink, TracingTick tick, gpointer data,
                          GError **error);

/* --- runs of the middle, stroke-runs.c ------------------------------------------ */
typedef struct
{
  GArray *places; /* GeoPoint, px, in the ink's middle */
  double half;    /* px: half of the stroke's width, about */
  double cut;     /* px taken off both ends */
  gboolean round; /* its end is its start */
} StrokeRun;

void stroke_run_clear (gpointer run);
/* Of StrokeRun: between ends and places where lines meet. */
GArray *stroke_runs (StrokeInk *ink);

/* --- lines of runs, stroke-link.c ------------------------------------------------- */
typedef struct
{
  GArray *places; /* GeoPoint, mm */
  gboolean closed;
  double length, width;
} StrokeLine;

void stroke_line_clear (gpointer line);
/* Runs put on each other where they go on within gap mm; NULL where there are too many. */
GArray *stroke_link (const GArray *runs, const TracingPlane *plane, double gap);
