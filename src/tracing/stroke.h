/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawn lines: the centre lines of pencil or pen strokes on paper, and a curve drawn to one. */
#pragma once

#include "tracing/shape.h"

typedef struct
{
  double
      level; /* 0..1: how much darker than its paper a line must be; below 0: found from the picture */
  double tolerance;    /* mm */
  double least_length; /* mm: shorter lines are passed over; 30 is a good one */
  double gap;    /* mm bridged where a line goes on beyond; 4 is a good one */
  double widest; /* mm: what is wider is no line; 3 is a good one */
  gboolean
      clicked; /* only the line nearest the place, and what it runs on into */
  GeoPoint at; /* px */
} TracingStrokeWish;

#define TRACING_STROKE_WISH                                                    \
  ((TracingStrokeWish){ -1, 0.3, 30, 4, 3, FALSE, { 0, 0 } })

/* Of TracingLine, the longest first; where lines meet in a point three or more ends lie there, each line ending in
 * it, but a closed outline with lines across is followed round and given closed. hole_of is -1. */
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
