/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Points, directions, boxes and rigid motions of the plane.
 *
 * Conventions of the whole project, said once:
 * - lengths are millimetres, angles radians; any other unit stands in the name
 *   (width_px, angle_deg);
 * - x runs right, y runs down, as on a sheet of paper read from its top left;
 * - the left normal of a curve is N = (-y', x') / |P'|, curvature
 *   k = (P' x P'') / |P'|^3, both by the textbook formulas, so that a closed
 *   outline of positive area (integral of x dy) has its inside on the side of
 *   N and k > 0 where it bulges. Outlines of pieces are kept that way round;
 * - no function returns NaN or infinity for finite input, unless its contract
 *   names INFINITY as an answer; coordinates are taken to be below 1e9 mm.
 */
#pragma once

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

typedef struct
{
  double x, y;
} GeoPoint;

/* Empty when x0 > x1. */
typedef struct
{
  double x0, y0, x1, y1;
} GeoBox;

/* A rigid motion: first mirrored in the x axis when flip is set, then turned
 * by the angle whose cosine and sine are c and s, then moved by (dx, dy). */
typedef struct
{
  double c, s, dx, dy;
  bool flip;
} GeoMotion;

static inline GeoPoint
geo_point (double x, double y)
{
  return (GeoPoint){ x, y };
}
static inline GeoPoint
geo_add (GeoPoint a, GeoPoint b)
{
  return (GeoPoint){ a.x + b.x, a.y + b.y };
}
static inline GeoPoint
geo_sub (GeoPoint a, GeoPoint b)
{
  return (GeoPoint){ a.x - b.x, a.y - b.y };
}
static inline GeoPoint
geo_scale (GeoPoint a, double k)
{
  return (GeoPoint){ a.x * k, a.y * k };
}
/* a + k b */
static inline GeoPoint
geo_along (GeoPoint a, GeoPoint b, double k)
{
  return (GeoPoint){ a.x + b.x * k, a.y + b.y * k };
}
static inline GeoPoint
geo_lerp (GeoPoint a, GeoPoint b, double t)
{
  return (GeoPoint){ a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t };
}
static inline double
geo_dot (GeoPoint a, GeoPoint b)
{
  return a.x * b.x + a.y * b.y;
}
static inline double
geo_cross (GeoPoint a, GeoPoint b)
{
  return a.x * b.y - a.y * b.x;
}
static inline double
geo_norm (GeoPoint a)
{
  /* hypot's care is called for only where squares leave the range. */
  double square = a.x * a.x + a.y * a.y;
  if ((square > 1e-280 && square < 1e280) || (a.x == 0 && a.y == 0))
    return sqrt (square);
  return hypot (a.x, a.y);
}
static inline double
geo_distance (GeoPoint a, GeoPoint b)
{
  return geo_norm (geo_sub (a, b));
}
/* Turned a quarter from x towards y: the left normal of a direction. */
static inline GeoPoint
geo_left (GeoPoint a)
{
  return (GeoPoint){ -a.y, a.x };
}
/* Length 1, or (0, 0) where a is too short to have a direction. */
static inline GeoPoint
geo_unit (GeoPoint a)
{
  double n = geo_norm (a);
  return n > 1e-300 ? (GeoPoint){ a.x / n, a.y / n } : (GeoPoint){ 0, 0 };
}
static inline bool
geo_same (GeoPoint a, GeoPoint b)
{
  return a.x == b.x && a.y == b.y;
}
/* Angle from a to b, in (-pi, pi]; 0 where either is zero. */
static inline double
geo_angle_between (GeoPoint a, GeoPoint b)
{
  /* Plus nothing: a product of nothing and a negative number is -0, which atan2
   * takes for half a turn. */
  return atan2 (geo_cross (a, b), geo_dot (a, b) + 0.0);
}

/* Of two numbers that are numbers: fmin and fmax without the care for those
 * that are not, which costs a call. */
static inline double
geo_least (double a, double b)
{
  return a < b ? a : b;
}
static inline double
geo_most (double a, double b)
{
  return a > b ? a : b;
}

static inline GeoBox
geo_box_empty (void)
{
  return (GeoBox){ INFINITY, INFINITY, -INFINITY, -INFINITY };
}
static inline bool
geo_box_is_empty (GeoBox b)
{
  return b.x0 > b.x1 || b.y0 > b.y1;
}
static inline GeoBox
geo_box_add (GeoBox b, GeoPoint p)
{
  return (GeoBox){ geo_least (b.x0, p.x), geo_least (b.y0, p.y),
                   geo_most (b.x1, p.x), geo_most (b.y1, p.y) };
}
static inline GeoBox
geo_box_join (GeoBox a, GeoBox b)
{
  return (GeoBox){ geo_least (a.x0, b.x0), geo_least (a.y0, b.y0),
                   geo_most (a.x1, b.x1), geo_most (a.y1, b.y1) };
}
static inline GeoBox
geo_box_grow (GeoBox b, double d)
{
  return geo_box_is_empty (b)
             ? b
             : (GeoBox){ b.x0 - d, b.y0 - d, b.x1 + d, b.y1 + d };
}
static inline bool
geo_box_meets (GeoBox a, GeoBox b)
{
  return a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1;
}

static inline bool
geo_box_holds (GeoBox b, GeoPoint p)
{
  return b.x0 <= p.x && p.x <= b.x1 && b.y0 <= p.y && p.y <= b.y1;
}
static inline double
geo_box_width (GeoBox b)
{
  return geo_box_is_empty (b) ? 0 : b.x1 - b.x0;
}
static inline double
geo_box_height (GeoBox b)
{
  return geo_box_is_empty (b) ? 0 : b.y1 - b.y0;
}
/* (0, 0) for an empty box. */
static inline GeoPoint
geo_box_centre (GeoBox b)
{
  return geo_box_is_empty (b)
             ? geo_point (0, 0)
             : geo_point (0.5 * (b.x0 + b.x1), 0.5 * (b.y0 + b.y1));
}

static inline GeoMotion
geo_motion_none (void)
{
  return (GeoMotion){ 1, 0, 0, 0, false };
}
static inline GeoPoint
geo_motion_turn (GeoMotion m, GeoPoint v)
{
  double y = m.flip ? -v.y : v.y;
  return (GeoPoint){ m.c * v.x - m.s * y, m.s * v.x + m.c * y };
}
static inline GeoPoint
geo_motion_apply (GeoMotion m, GeoPoint p)
{
  GeoPoint q = geo_motion_turn (m, p);
  return (GeoPoint){ q.x + m.dx, q.y + m.dy };
}
static inline GeoMotion
geo_motion_move (double dx, double dy)
{
  return (GeoMotion){ 1, 0, dx, dy, false };
}
/* Turned by the angle about a centre that stays where it is. */
static inline GeoMotion
geo_motion_about (GeoPoint centre, double angle)
{
  GeoMotion m = { cos (angle), sin (angle), 0, 0, false };
  GeoPoint q = geo_motion_turn (m, centre);
  m.dx = centre.x - q.x;
  m.dy = centre.y - q.y;
  return m;
}
/* Mirrored in the line through a point along a direction; a direction of no
 * length counts as along x. */
static inline GeoMotion
geo_motion_mirror (GeoPoint on, GeoPoint direction)
{
  GeoPoint u = geo_unit (direction);
  if (u.x == 0 && u.y == 0)
    u.x = 1;
  GeoMotion m = { u.x * u.x - u.y * u.y, 2 * u.x * u.y, 0, 0, true };
  GeoPoint q = geo_motion_turn (m, on);
  m.dx = on.x - q.x;
  m.dy = on.y - q.y;
  return m;
}
/* First one motion, then the other, as one. */
static inline GeoMotion
geo_motion_then (GeoMotion first, GeoMotion then)
{
  GeoPoint d = geo_motion_apply (then, geo_point (first.dx, first.dy));
  double s = then.flip ? -first.s : first.s;
  return (GeoMotion){ then.c * first.c - then.s * s,
                      then.s * first.c + then.c * s, d.x, d.y,
                      first.flip != then.flip };
}
static inline GeoMotion
geo_motion_inverse (GeoMotion m)
{
  GeoMotion back = { m.c, m.flip ? m.s : -m.s, 0, 0, m.flip };
  GeoPoint d = geo_motion_turn (back, geo_point (m.dx, m.dy));
  back.dx = -d.x;
  back.dy = -d.y;
  return back;
}
