/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves and places laid by hand, drawn to the strokes and edges a picture shows near them. Strokes that nobody
 * laid a curve near are not followed. */
#pragma once

#include "tracing/shape.h"

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
