/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Light along short lines across an edge or a stroke; shared by the files of this folder.
 *
 * A lens mixes light, not the numbers in a file: where an edge is blurred, the middle
 * of the light is where it lies, the middle of the numbers is not. So sRGB is undone
 * first (IEC 61966-2-1, from memory). */
#pragma once

#include "tracing/picture.h"

typedef struct
{
  const guint8 *rgb;
  gsize stride;
  guint width, height;
  const float *light; /* of a number 0..255, 0..1 */
} TracingView;

const float *tracing_light_table (void);
TracingView tracing_view_of (const TracingPicture *picture);
/* Between pixels, by the four about it; at the border what is nearest. */
void tracing_view_light (const TracingView *view, GeoPoint px, double light[3]);

/* n values `step` px apart from `from` on along the unit vector `along`, each the mean
 * of 2 * wide + 1 beside it, 1 px apart along `beside`, of light . weights. */
void tracing_view_profile (const TracingView *view, GeoPoint from,
                           GeoPoint along, double step, guint n,
                           GeoPoint beside, guint wide, const double weights[3],
                           double *values);

/* Where a profile steps up, in steps from its start: the middle of its rise about the steepest place, what it rises by
 * anyway on both sides taken off. FALSE where it rises by less than least within the window, or only
 * at its end. rise (may be NULL): by how much. */
gboolean tracing_profile_edge (const double *values, guint n, double step,
                               double least, double *at, double *rise);
