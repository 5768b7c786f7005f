/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How large a box of words may be where it is to lie: it must not touch any of a set of
 * lines. Lines are taken as short straight stretches, which is near enough for words. */
#pragma once

#include <glib.h>

#include "geometry/chain.h"

typedef struct
{
  GeoPoint from, to;
} DrawingStretch;

/* Appends a chain's stretches to an array of DrawingStretch. */
void drawing_fit_add_chain (GArray *lines, const GeoChain *chain);
void drawing_fit_add_line (GArray *lines, GeoPoint from, GeoPoint to);
/* The largest share of a box, of width and height, about its middle and turned by
 * angle, that touches none of the lines. INFINITY where there are none; 0 where one runs
 * through the middle. */
double drawing_fit_share (const GArray *lines, GeoPoint middle, double angle,
                          double width, double height);
/* Whether a point is inside the first count stretches, taken as closed lines. */
gboolean drawing_fit_inside (const GArray *lines, guint count, GeoPoint p);
