/* SPDX-License-Identifier: GPL-3.0-or-later */
/* True size: how places in a picture (pixels) lie on the flat table that was photographed
 * (mm, x right, y down as in the picture).
 *
 * A plane seen by a camera without lens distortion is its projective image, X ~ M x in homogeneous
 * coordinates; a scan is the case without perspective. (R. Hartley, A. Zisserman, Multiple View Geometry in
 * Computer Vision, 2nd ed., 2004, 4.1, from memory.)
 */
#pragma once

#include "tracing/picture.h"

/* Row after row; m6 x + m7 y + m8 is above 0 before the horizon. m[8] is 1 unless the
 * pixel (0, 0) lies beyond it. */
typedef struct
{
  double m[9];
} TracingPlane;

/* Each fails with TRACING_ERROR_SCALE and leaves the plane alone: lengths not
 * above 0 or beyond 100 m, places that coincide, lie in a line or are crossed, a view so
 * slanted that the picture reaches the horizon. */
gboolean tracing_plane_from_resolution (GeoPoint dots_mm, TracingPlane *plane,
                                        GError **error);
/* The same scale everywhere and both ways: for a scan, or a photo taken squarely. */
gboolean tracing_plane_from_distance (GeoPoint a, GeoPoint b, double mm,
                                      TracingPlane *plane, GError **error);
/* Four corners of a rectangle, in order round it either way, the first side being
 * width: its first corner goes to (0, 0), and the sheet is turned by quarter turns, never over,
 * so that the picture comes to lie most nearly as it is seen. Takes the perspective out. width and height in mm. */
gboolean tracing_plane_from_corners (const GeoPoint corners[4], double width,
                                     double height, TracingPlane *plane,
                                     GError **error);
/* Any four or more places with where they truly are, by least squares of the distances in mm; residual (may be
 * NULL) gets how far the worst is off. */
gboolean tracing_plane_from_places (const GeoPoint *px, const GeoPoint *mm,
                                    gsize n, TracingPlane *plane,
                                    double *residual, GError **error);
/* How unlike a plain camera's the view of such a rectangle is: the ratio of its sides as the view itself tells them
 * (square pixels, the lens' axis in the picture's middle) over the ratio given, 1 when they agree; 0 where the view
 * can't tell. For saying "are these sides the wrong way round?". An estimate. */
double tracing_plane_side_ratio (const GeoPoint corners[4], double width,
                                 double height, guint picture_width,
                                 guint picture_height);

/* Turned, by quarter turns where that nearly does, so that the picture's top is above as she sees it; never
 * mirrored, whichever way the corners went round; the picture's box begins at (0, 0). */
void tracing_plane_set_upright (TracingPlane *plane, guint width, guint height);

/* The mm it tells are moved by the motion. */
void tracing_plane_move (TracingPlane *plane, GeoMotion motion);

GeoPoint tracing_plane_to_mm (const TracingPlane *plane, GeoPoint px);
GeoPoint tracing_plane_to_px (const TracingPlane *plane, GeoPoint mm);
/* Pixels a mm there: the root of the areas' ratio. */
double tracing_plane_dots (const TracingPlane *plane, GeoPoint px);
/* Whether the whole picture lies before the horizon, at a size that can be believed (0.2
 * to 200 pixels a mm). */
gboolean tracing_plane_is_fit (const TracingPlane *plane, guint width,
                               guint height);
/* Where the picture lies, mm. */
GeoBox tracing_plane_box (const TracingPlane *plane, guint width, guint height);

/* Two pictures of one piece: the rigid motion that lays marks b on marks a (n >= 2, mm)
 * with the least sum of squares, never turned over; off (n, may be NULL) gets how far each is off then. FALSE where all
 * marks of one coincide. (B. K. P. Horn, 1987, and others; in the plane a closed form.) */
gboolean tracing_lay_marks (const GeoPoint *a, const GeoPoint *b, gsize n,
                            GeoMotion *motion, double *off);
