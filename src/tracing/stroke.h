/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawn lines: the centre lines of pencil or pen strokes on paper, and curves and places laid by hand drawn to the
 * strokes and edges a picture shows near them. */
#pragma once

#include "tracing/shape.h"

typedef struct
{
  double
      level; /* 0..1 how much darker than its paper a line must be; below 0: found from the picture */
  double tolerance;    /* mm */
  double least_length; /* mm: shorter lines are passed over */
  double gap;          /* mm bridged where a line goes on beyond */
  double widest;       /* mm: what is wider is no line */
  gboolean clicked;    /* only the line nearest the place */
  GeoPoint at;         /* px */
} TracingStrokeWish;

#define TRACING_STROKE_WISH                                                    \
  ((TracingStrokeWish){ -1, 0.3, 30, 4, 3, FALSE, { 0, 0 } })

/* Of TracingLine, the longest first, closed ones with positive area; blur is how wide the stroke is, mm. Lines that cross go
 * straight on; one that meets another ends there. Short tails at corners drawn over are left out. Not followed: dashes
 * farther apart than the gap, a line nearer to another one than its own width, one along the picture's border, what lies on something less
 * than half as light as the lightest. A line that leaves from the very corner of an outline opens it there. Print or a pattern on the paper would be
 * lines too. Elements are cleared with the array. Fails with TRACING_ERROR_NOTHING, TRACING_ERROR_TOO_MUCH (a texture), TRACING_ERROR_CANCELLED. */
GArray *tracing_find_strokes (TracingPicture *picture,
                              const TracingPlane *plane,
                              const TracingStrokeWish *wish, TracingTick tick,
                              gpointer data, GError **error);

/* What a curve laid by hand is drawn to. */
typedef enum
{
  TRACING_TO_LINE, /* the middle of a stroke */
  TRACING_TO_EDGE, /* where light and dark meet */
  TRACING_TO_EITHER,
} TracingSnap;

/* A curve (mm) drawn to what the picture shows within reach (mm) of it: ends and corners kept within reach too, laid again
 * within tolerance. seen gets the share of its length where something was seen (0..1); FALSE, result empty, where it is below
 * a half. off: mm, as in TracingLine. */
gboolean tracing_snap_chain (TracingPicture *picture, const TracingPlane *plane,
                             const GeoChain *chain, TracingSnap to,
                             double reach, double tolerance, GeoChain *result,
                             double *seen, double *off);
/* The nearest place (px) within reach px that a line or edge of the picture runs through; FALSE: none. */
gboolean tracing_snap_point (TracingPicture *picture, GeoPoint px,
                             TracingSnap to, double reach, GeoPoint *snapped);
