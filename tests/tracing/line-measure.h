/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far a traced line is from the true one. */
#pragma once

#include "tracing/shape.h"

typedef struct
{
  double worst; /* mm, of either from the other */
  double mean;  /* mm, of both from each other */
  double
      corner; /* mm: the worst true corner from the nearest one found; INFINITY: none */
  size_t corners; /* found, and */
  size_t true_corners;
  double nodes; /* of the true line's */
} LineMeasure;

LineMeasure line_measure (const TracingLine *line, const GeoChain *truth);
/* The line nearest the true one; NULL where there is none. */
const TracingLine *line_measure_nearest (const GArray *lines,
                                         const GeoChain *truth);
