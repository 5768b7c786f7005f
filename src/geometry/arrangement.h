/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Closed polylines cut at all their crossings, and the border of what they
 * wind around. Whole numbers throughout, so that nothing depends on rounding: the
 * border's loops never cross themselves or each other, whatever comes in.
 */
#pragma once

#include <stdint.h>

#include "geometry/point.h"

/* Coordinates lie within +-GEO_GRID, so that all products fit 63 bits. */
#define GEO_GRID (INT64_C (1) << 28)

typedef struct {
  int64_t x, y;
} GeoGridPoint;

/* A directed line, part of cubic number cubic from t0 to t1. */
typedef struct {
  GeoGridPoint a, b;
  size_t cubic;
  double t0, t1;
} GeoGridLine;

typedef struct {
  GeoGridLine *lines;
  size_t count, room;
  size_t cuts; /* made so far; 0 for a simple polyline that only meets itself at
                  vertices */
} GeoGridLines;

/* One border loop: lines from first to first + count - 1, inside on the left. */
typedef struct {
  size_t first, count;
  double area;   /* in grid units, signed: negative for the border of a gap */
  bool pinched;  /* passes some vertex twice */
} GeoGridLoop;

typedef struct {
  GeoGridLine *lines; /* turned about where the border runs against them */
  size_t line_count;
  GeoGridLoop *loops;
  size_t loop_count;
} GeoGridBorder;

typedef enum {
  GEO_INSIDE_POSITIVE, /* winding number 1 or more */
  GEO_INSIDE_NONZERO,
} GeoInsideRule;

void geo_grid_lines_append (GeoGridLines *lines, GeoGridLine line);
void geo_grid_lines_clear (GeoGridLines *lines);
/* Cuts lines until they meet at end points only; a crossing is moved to the
 * nearest grid point. False if that does not settle. */
bool geo_grid_lines_cut (GeoGridLines *lines);
/* The border of the inside. lines must have been cut. */
void geo_grid_border (const GeoGridLines *lines, GeoInsideRule rule, GeoGridBorder *border);
void geo_grid_border_clear (GeoGridBorder *border);
