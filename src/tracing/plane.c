/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Using a plane: places and sizes; the cases without perspective. What is laid
 * through places stands in plane-fit.c. */
#include "tracing/plane.h"

#include <glib/gi18n.h>
#include <math.h>

#define MOST_MM 100000.0
#define LEAST_DOTS 0.2
#define MOST_DOTS 200.0
#define NEARLY_SQUARE                                                          \
  (12 * G_PI / 180)       /* the sheet lies square, the camera not */
#define LEAST_SHARE 1e-12 /* of the third coordinate: the horizon */

/* The third coordinate at a pixel: above 0 before the horizon. */
static double
depth (const double m[9], GeoPoint p)
{
  return m[6] * p.x + m[7] * p.y + m[8];
}

/* Held off 0, so that what lies on the horizon is only very far. */
static GeoPoint
apply (const double m[9], GeoPoint p)
{
  double w = depth (m, p);
  double least
      = LEAST_SHARE * (fabs (m[6] * p.x) + fabs (m[7] * p.y) + fabs (m[8]));
  if (fabs (w) < least)
    w = w < 0 ? -least : least;
  if (w == 0)
    return p;
  return geo_point ((m[0] * p.x + m[1] * p.y + m[2]) / w,
                    (m[3] * p.x + m[4] * p.y + m[5]) / w);
}

static double
determinant (const double m[9])
{
  return m[0] * (m[4] * m[8] - m[5] * m[7]) - m[1] * (m[3] * m[8] - m[5] * m[6])
         + m[2] * (m[3] * m[7] - m[4] * m[6]);
}

GeoPoint
tracing_plane_to_mm (const TracingPlane *plane, GeoPoint px)
{
  return apply (plane->m, px);
}

/* By the adjugate, which is the inverse but for a factor. */
GeoPoint
tracing_plane_to_px (const TracingPlane *plane, GeoPoint mm)
{
  const double *m = plane->m;
  const double back[9] = {
    m[4] * m[8] - m[5] * m[7], m[2] * m[7] - m[1] * m[8],
    m[1] * m[5] - m[2] * m[4], m[5] * m[6] - m[3] * m[8],
    m[0] * m[8] - m[2] * m[6], m[2] * m[3] - m[0] * m[5],
    m[3] * m[7] - m[4] * m[6], m[1] * m[6] - m[0] * m[7],
    m[0] * m[4] - m[1] * m[3],
  };
  return apply (back, mm);
}

/* The areas' ratio of X ~ M x is det M / w^3. */
double
tracing_plane_dots (const TracingPlane *plane, GeoPoint px)
{
  double w = fabs (depth (plane->m, px));
  double det = fabs (determinant (plane->m));
  return det > 0 ? sqrt (w * w * w / det) : 0;
}

static void
picture_corners (guint width, guint height, GeoPoint corners[4])
{
  corners[0] = geo_point (0, 0);
  corners[1] = geo_point (width, 0);
  corners[2] = geo_point (width, height);
  corners[3] = geo_point (0, height);
}

/* w is linear and the size goes with its power, so the corners tell for all. */
gboolean
tracing_plane_is_fit (const TracingPlane *plane, guint width, guint height)
{
  GeoPoint corners[4];
  picture_corners (width, height, corners);
  for (guint i = 0; i < 4; i++)
    {
      double dots = tracing_plane_dots (plane, corners[i]);
      if (!(depth (plane->m, corners[i]) > 0) || !(dots >= LEAST_DOTS)
          || !(dots <= MOST_DOTS))
        return FALSE;
    }
  return TRUE;
}

GeoBox
tracing_plane_box (const TracingPlane *plane, guint width, guint height)
{
  GeoPoint corners[4];
  picture_corners (width, height, corners);
  GeoBox box = geo_box_empty ();
  for (guint i = 0; i < 4; i++)
    box = geo_box_add (box, tracing_plane_to_mm (plane, corners[i]));
  return box;
}

/* m becomes a m. */
static void
multiply (const double a[9], double m[9])
{
  double r[9];
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      r[3 * i + j]
          = a[3 * i] * m[j] + a[3 * i + 1] * m[3 + j] + a[3 * i + 2] * m[6 + j];
  for (int i = 0; i < 9; i++)
    m[i] = r[i];
}

void
tracing_plane_set_upright (TracingPlane *plane, guint width, guint height)
{
  GeoPoint c = geo_point (width / 2.0, height / 2.0);
  GeoPoint o = tracing_plane_to_mm (plane, c);
  GeoPoint u
      = geo_sub (tracing_plane_to_mm (plane, geo_point (c.x + 1, c.y)), o);
  GeoPoint v
      = geo_sub (tracing_plane_to_mm (plane, geo_point (c.x, c.y + 1)), o);
  if (geo_cross (u, v) < 0)
    {
      multiply ((double[9]){ 1, 0, 0, 0, -1, 0, 0, 0, 1 }, plane->m);
      u.y = -u.y;
    }
  double angle = atan2 (u.y, u.x);
  double square = round (angle / G_PI_2) * G_PI_2;
  if (fabs (angle - square) < NEARLY_SQUARE)
    angle = square;
  double cs = cos (angle), sn = sin (angle);
  multiply ((double[9]){ cs, sn, 0, -sn, cs, 0, 0, 0, 1 }, plane->m);
  GeoBox box = tracing_plane_box (plane, width, height);
  multiply ((double[9]){ 1, 0, -box.x0, 0, 1, -box.y0, 0, 0, 1 }, plane->m);
}

void
tracing_plane_move (TracingPlane *plane, GeoMotion motion)
{
  double k = motion.flip ? -1 : 1;
  multiply ((double[9]){ motion.c, -motion.s * k, motion.dx, motion.s,
                         motion.c * k, motion.dy, 0, 0, 1 },
            plane->m);
}

gboolean
tracing_plane_from_resolution (GeoPoint dots_mm, TracingPlane *plane,
                               GError **error)
{
  if (!(dots_mm.x > 0) || !(dots_mm.y > 0) || !isfinite (dots_mm.x)
      || !isfinite (dots_mm.y))
    {
      g_set_error_literal (error, TRACING_ERROR, TRACING_ERROR_SCALE,
                           _ ("the file does not say how many dots it has to "
                              "the inch; give a length in it, or the corners "
                              "of a sheet"));
      return FALSE;
    }
  if (dots_mm.x < LEAST_DOTS || dots_mm.x > MOST_DOTS || dots_mm.y < LEAST_DOTS
      || dots_mm.y > MOST_DOTS)
    {
      g_set_error (error, TRACING_ERROR, TRACING_ERROR_SCALE,
                   _ ("%.3g dots to the inch, as the file says, can't be its "
                      "true size; give a length in it, or the corners of a "
                      "sheet"),
                   25.4 * sqrt (dots_mm.x * dots_mm.y));
      return FALSE;
    }
  *plane
      = (TracingPlane){ { 1 / dots_mm.x, 0, 0, 0, 1 / dots_mm.y, 0, 0, 0, 1 } };
  return TRUE;
}

gboolean
tracing_plane_from_distance (GeoPoint a, GeoPoint b, double mm,
                             TracingPlane *plane, GError **error)
{
  if (!(mm > 0) || mm > MOST_MM)
    {
      g_set_error_literal (error, TRACING_ERROR, TRACING_ERROR_SCALE,
                           _ ("a true length is above 0, and 100 m at most"));
      return FALSE;
    }
  double px = geo_distance (a, b);
  if (!isfinite (px) || px < 1)
    {
      g_set_error_literal (error, TRACING_ERROR, TRACING_ERROR_SCALE,
                           _ ("the two places are one: set them far apart, at "
                              "the ends of a length that you know"));
      return FALSE;
    }
  double scale = mm / px;
  *plane = (TracingPlane){ { scale, 0, 0, 0, scale, 0, 0, 0, 1 } };
  return TRUE;
}
