/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A photo made ready to be looked at on the table, flat and at any size: smaller copies of it are kept, and of these
 * the one is shown that fits the table's scale, its pixels laid between. No toolkit. Immutable and counted; it may be made
 * and painted on any thread.
 */
#pragma once

#include <cairo.h>

#include "tracing/plane.h"

typedef struct _AppSight AppSight;

/* Keeps a reference to the picture; a third of its bytes more. */
AppSight *app_sight_new (TracingPicture *picture);
AppSight *app_sight_ref (AppSight *sight);
void app_sight_unref (AppSight *sight);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (AppSight, app_sight_unref)
TracingPicture *app_sight_get_picture (AppSight *sight); /* borrowed */

/* Laid over the picture: a byte for each shrink x shrink pixels; where it is 255 the colour is laid on by alpha. */
typedef struct
{
  const guint8 *bytes; /* NULL: nothing */
  gsize stride;
  guint width, height, shrink;
  double r, g, b, alpha;
} AppSightTint;

/* What is seen in width x height pixels of a screen, whose pixel (x, y) shows the picture's place
 * to_px (x, y, 1), homogeneous, row after row; places behind the horizon and beyond the
 * picture are left clear. tint may be NULL. A new surface with alpha. */
cairo_surface_t *app_sight_render (AppSight *sight, const double to_px[9],
                                   int width, int height,
                                   const AppSightTint *tint);
/* The matrix for that: of pixels of a view at scale (pixels a mm) with the table's origin at its corner,
 * onto a picture lying by the plane. FALSE where the plane can't be turned round. */
gboolean app_sight_matrix (const TracingPlane *plane, double scale,
                           GeoPoint origin, double to_px[9]);
