/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files that find strokes share; nothing outside stroke*.c includes it.
 *
 * Cells are pixels of the picture, or squares of shrink x shrink of them where it is finer than strokes need. */
#pragma once

#include "tracing/profile.h"
#include "tracing/shape-private.h"
#include "tracing/stroke.h"

/* How much darker each cell is than its paper, 255 for black on white; at is freed by who has it. */
typedef struct
{
  ShapeMap map;
  guint shrink;
  guint8 low, high; /* a line is above low, and mostly above high */
} StrokeMap;

/* widest: cells. level as in the wish. */
StrokeMap stroke_map_new (const TracingPicture *picture, guint shrink,
                          double widest, double level);

/* What is above low to 1, all else to 0, in place, then thinned to lines a cell wide, 8-connected, ends
 * kept: 2 where above high, else 1. Returns the number of cells thinned, or 0 where there
 * are more than lines would be. before gets how many there were. */
gsize stroke_thin (StrokeMap *map, gsize *before);

/* A way between nodes, or round (both -1). */
typedef struct
{
  GArray *points; /* of GeoPoint, px, in order from node a to node b */
  gssize node[2];
  gboolean bridge; /* over a gap: nothing is drawn there */
  gboolean used;
  double length; /* px */
} StrokeWay;

typedef struct
{
  GArray *ways;  /* of StrokeWay */
  GArray *nodes; /* of GeoPoint */
} StrokeGraph;

/* Ways shorter than spur px that hang on others are passed over, and so is what is faint. */
StrokeGraph stroke_graph_new (const StrokeMap *map, double spur);
void stroke_graph_clear (StrokeGraph *graph);
/* How many ways end in each node (twice for one that comes back to it). */
guint *stroke_graph_degrees (const StrokeGraph *graph, gboolean unused_only);

/* Joins ends that look at each other within gap px. */
void stroke_bridge (StrokeGraph *graph, double gap, double dots);

/* A line followed: ways put together. */
typedef struct
{
  GArray *points;  /* of GeoPoint, px */
  GArray *bridged; /* of guint8, one a point: nothing is drawn there */
  gboolean closed;
  gboolean free_end[2]; /* ends in no other line */
  double length;        /* px */
} StrokeTrail;

void stroke_trail_clear (gpointer trail);
/* Of StrokeTrail. */
GArray *stroke_follow (StrokeGraph *graph, double dots);

/* Places in the middle of the stroke, mm, spacing px apart. width gets the stroke's own, mm: its median. NULL where
 * it is not seen for most of its length. */
GArray *stroke_centre (const TracingView *view, const TracingPlane *plane,
                       const StrokeTrail *trail, double spacing, double widest,
                       double *width);
