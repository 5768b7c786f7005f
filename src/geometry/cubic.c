/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/cubic.h"

#include "geometry/polynomial.h"

#define CURVATURE_LIMIT 1e9

/* A velocity this small against the size of the control polygon has no
 * direction left that rounding has not made. */
#define NO_VELOCITY 1e-12
/* Cross products this small against the coordinates are rounding. */
#define NO_CROSS 4e-15

GeoCubic
geo_cubic_line (GeoPoint from, GeoPoint to)
{
  return (GeoCubic){ { from, geo_lerp (from, to, 1.0 / 3),
                       geo_lerp (from, to, 2.0 / 3), to } };
}

GeoCubic
geo_cubic_arc (GeoPoint centre, double radius, double a0, double a1)
{
  /* Handles of length 4/3 tan (a/4) put the middle of the cubic on the
   * circle; everywhere else it lies outside by at most the stated error. */
  double h = radius * 4 / 3 * tan ((a1 - a0) / 4);
  GeoPoint u0 = geo_point (cos (a0), sin (a0));
  GeoPoint u1 = geo_point (cos (a1), sin (a1));
  GeoPoint p0 = geo_along (centre, u0, radius);
  GeoPoint p3 = geo_along (centre, u1, radius);
  return (GeoCubic){ { p0, geo_along (p0, geo_left (u0), h),
                       geo_along (p3, geo_left (u1), -h), p3 } };
}

/* Weighted so that the ends come out exact, which a + (b - a) t does not. */
static GeoPoint
mix (GeoPoint a, GeoPoint b, double t)
{
  return geo_point (a.x * (1 - t) + b.x * t, a.y * (1 - t) + b.y * t);
}

GeoPoint
geo_cubic_point (const GeoCubic *c, double t)
{
  double s = 1 - t;
  double w0 = s * s * s, w1 = 3 * s * s * t, w2 = 3 * s * t * t, w3 = t * t * t;
  return geo_point (
      w0 * c->p[0].x + w1 * c->p[1].x + w2 * c->p[2].x + w3 * c->p[3].x,
      w0 * c->p[0].y + w1 * c->p[1].y + w2 * c->p[2].y + w3 * c->p[3].y);
}

GeoPoint
geo_cubic_velocity (const GeoCubic *c, double t)
{
  double s = 1 - t;
  GeoPoint v = geo_scale (geo_sub (c->p[1], c->p[0]), 3 * s * s);
  v = geo_along (v, geo_sub (c->p[2], c->p[1]), 6 * s * t);
  return geo_along (v, geo_sub (c->p[3], c->p[2]), 3 * t * t);
}

static GeoPoint
second_difference (const GeoCubic *c, int i)
{
  GeoPoint a = geo_sub (c->p[i + 1], c->p[i]);
  GeoPoint b = geo_sub (c->p[i + 2], c->p[i + 1]);
  return geo_sub (b, a);
}

GeoPoint
geo_cubic_acceleration (const GeoCubic *c, double t)
{
  GeoPoint a = geo_scale (second_difference (c, 0), 6 * (1 - t));
  return geo_along (a, second_difference (c, 1), 6 * t);
}

GeoPoint
geo_cubic_jerk (const GeoCubic *c)
{
  return geo_scale (
      geo_sub (second_difference (c, 1), second_difference (c, 0)), 6);
}

/* Farthest control point from the first: the size of the polygon, within a
 * factor of 2. */
static double
size_of (const GeoCubic *c)
{
  double size = 0;
  for (int i = 1; i < 4; i++)
    size = geo_most (size, geo_most (fabs (c->p[i].x - c->p[0].x),
                                     fabs (c->p[i].y - c->p[0].y)));
  return size;
}

static double
largest_coordinate (const GeoCubic *c)
{
  double largest = 0;
  for (int i = 0; i < 4; i++)
    largest = geo_most (largest, geo_most (fabs (c->p[i].x), fabs (c->p[i].y)));
  return largest;
}

GeoPoint
geo_cubic_tangent (const GeoCubic *c, double t)
{
  double none = NO_VELOCITY * size_of (c);
  GeoPoint v = geo_cubic_velocity (c, t);
  double speed = geo_norm (v);
  if (speed > none)
    return geo_point (v.x / speed, v.y / speed);
  /* P (t + h) - P (t) = h^2 P''/2 + h^3 P'''/6; at the far end h < 0. */
  bool from_before = t > 1 - 1e-6;
  GeoPoint a = geo_cubic_acceleration (c, t);
  if (geo_norm (a) > none)
    return geo_unit (from_before ? geo_scale (a, -1) : a);
  return geo_unit (geo_cubic_jerk (c));
}

double
geo_cubic_curvature (const GeoCubic *c, double t)
{
  double size = size_of (c);
  double rounding = NO_CROSS * largest_coordinate (c);
  GeoPoint v = geo_cubic_velocity (c, t);
  GeoPoint a = geo_cubic_acceleration (c, t);
  double speed = geo_norm (v);
  double turn, k;
  if (speed > NO_VELOCITY * size)
    {
      turn = geo_cross (v, a);
      if (fabs (turn) <= rounding * speed)
        return 0;
      k = turn / (speed * speed * speed);
    }
  else
    {
      /* With P' = 0 the curvature goes as (P'' x P''') / (2 |P''|^3 |h|): no
       * finite value, but a sign. */
      turn = geo_cross (a, geo_cubic_jerk (c));
      if (fabs (turn) <= 12 * rounding * geo_norm (a))
        return 0;
      k = copysign (CURVATURE_LIMIT, turn);
    }
  return fmax (-CURVATURE_LIMIT, fmin (CURVATURE_LIMIT, k));
}

/* The symmetric three-argument form of the cubic: equal arguments give the
 * point, and the pieces' control points are its mixed values. */
static GeoPoint
blossom (const GeoCubic *c, double u, double v, double w)
{
  GeoPoint a = mix (c->p[0], c->p[1], u), b = mix (c->p[1], c->p[2], u);
  GeoPoint d = mix (c->p[2], c->p[3], u);
  return mix (mix (a, b, v), mix (b, d, v), w);
}

GeoCubic
geo_cubic_part (const GeoCubic *c, double t0, double t1)
{
  return (GeoCubic){ { blossom (c, t0, t0, t0), blossom (c, t0, t0, t1),
                       blossom (c, t0, t1, t1), blossom (c, t1, t1, t1) } };
}

void
geo_cubic_split (const GeoCubic *c, double t, GeoCubic *before, GeoCubic *after)
{
  GeoCubic whole = *c;
  *before = geo_cubic_part (&whole, 0, t);
  *after = geo_cubic_part (&whole, t, 1);
}

/* With b1 = 3 (1 - t)^2 t and b2 = 3 (1 - t) t^2 the point at t moves by
 * b1 d1 + b2 d2 when the handles move by d1 and d2. Of all pairs that give the
 * wanted move the one with the least |d1|^2 + |d2|^2 is
 *   d1 = by b1 / (b1^2 + b2^2),  d2 = by b2 / (b1^2 + b2^2). */
GeoCubic
geo_cubic_pull (const GeoCubic *c, double t, GeoPoint by)
{
  t = fmax (0.01, fmin (0.99, t));
  double s = 1 - t, w1 = 3 * s * s * t, w2 = 3 * s * t * t;
  double k = 1 / (w1 * w1 + w2 * w2);
  return (GeoCubic){ { c->p[0], geo_along (c->p[1], by, w1 * k),
                       geo_along (c->p[2], by, w2 * k), c->p[3] } };
}

GeoCubic
geo_cubic_reverse (const GeoCubic *c)
{
  return (GeoCubic){ { c->p[3], c->p[2], c->p[1], c->p[0] } };
}

GeoCubic
geo_cubic_transform (const GeoCubic *c, GeoMotion m)
{
  GeoCubic moved;
  for (int i = 0; i < 4; i++)
    moved.p[i] = geo_motion_apply (m, c->p[i]);
  return moved;
}

/* Roots inside (0, 1) of the quadratic with Bernstein coefficients a, b, c,
 * ascending, double roots left out: a function only touched is not crossed. */
static int
quadratic_roots (double a, double b, double c, double t[2])
{
  double qa = a - 2 * b + c, half = a - b, root[2];
  double disc = half * half - qa * a;
  int count = 0, inside = 0;
  if (!(disc > 0))
    return 0;
  /* q = half with the root added on its own side: nothing cancels. */
  double q = half + copysign (sqrt (disc), half);
  if (qa != 0)
    root[count++] = q / qa;
  if (q != 0)
    root[count++] = a / q;
  if (count == 2 && root[0] > root[1])
    {
      double swap = root[0];
      root[0] = root[1];
      root[1] = swap;
    }
  for (int i = 0; i < count; i++)
    if (root[i] > 0 && root[i] < 1)
      t[inside++] = root[i];
  return inside;
}

GeoBox
geo_cubic_bounds (const GeoCubic *c)
{
  const GeoPoint *p = c->p;
  GeoBox box = geo_box_add (geo_box_empty (), p[0]);
  box = geo_box_add (box, p[3]);
  double t[4];
  int n = 0;
  if (!(geo_box_holds (box, p[1]) && geo_box_holds (box, p[2])))
    {
      n = quadratic_roots (p[1].x - p[0].x, p[2].x - p[1].x, p[3].x - p[2].x,
                           t);
      n += quadratic_roots (p[1].y - p[0].y, p[2].y - p[1].y, p[3].y - p[2].y,
                            t + n);
    }
  for (int i = 0; i < n; i++)
    box = geo_box_add (box, geo_cubic_point (c, t[i]));
  return box;
}

bool
geo_cubic_is_point (const GeoCubic *c, double tolerance)
{
  for (int i = 1; i < 4; i++)
    {
      GeoPoint off = geo_sub (c->p[i], c->p[0]);
      if (fabs (off.x) > tolerance || fabs (off.y) > tolerance
          || geo_norm (off) > tolerance)
        return false;
    }
  return true;
}

bool
geo_cubic_is_straight (const GeoCubic *c, double tolerance)
{
  GeoPoint chord = geo_sub (c->p[3], c->p[0]);
  double length = geo_norm (chord);
  GeoPoint u = geo_unit (chord);
  if (u.x == 0 && u.y == 0)
    return geo_cubic_is_point (c, tolerance);
  for (int i = 1; i < 3; i++)
    {
      GeoPoint q = geo_sub (c->p[i], c->p[0]);
      double along = geo_dot (q, u);
      if (fabs (geo_cross (u, q)) > tolerance || along < -tolerance
          || along > length + tolerance)
        return false;
    }
  return true;
}

/* Bernstein coefficients of (P' x P'') / 18 for d the differences of the
 * control points: d0 x d1, (d0 x d2) / 2, d1 x d2, with rounding set to 0. */
static void
turn_coefficients (const GeoCubic *c, double turn[3])
{
  GeoPoint d0 = geo_sub (c->p[1], c->p[0]), d1 = geo_sub (c->p[2], c->p[1]);
  GeoPoint d2 = geo_sub (c->p[3], c->p[2]);
  double rounding = NO_CROSS * largest_coordinate (c) * size_of (c);
  turn[0] = geo_cross (d0, d1);
  turn[1] = geo_cross (d0, d2) / 2;
  turn[2] = geo_cross (d1, d2);
  for (int i = 0; i < 3; i++)
    if (fabs (turn[i]) <= rounding)
      turn[i] = 0;
}

double
geo_cubic_joint_turn (const GeoCubic *before, const GeoCubic *after)
{
  return fabs (geo_angle_between (geo_cubic_tangent (before, 1),
                                  geo_cubic_tangent (after, 0)));
}

int
geo_cubic_inflections (const GeoCubic *c, double t[2])
{
  double turn[3];
  turn_coefficients (c, turn);
  return quadratic_roots (turn[0], turn[1], turn[2], t);
}

int
geo_cubic_crossings_line (const GeoCubic *c, GeoPoint on, GeoPoint direction,
                          double t[3])
{
  GeoPoint u = geo_unit (direction);
  double off[4];
  double rounding = NO_CROSS * fmax (largest_coordinate (c), geo_norm (on));
  bool inside = true;
  for (int i = 0; i < 4; i++)
    {
      off[i] = geo_cross (u, geo_sub (c->p[i], on));
      inside = inside && fabs (off[i]) <= rounding;
    }
  return inside ? 0 : geo_polynomial_roots (off, 3, t);
}

/* Keeps what lies strictly inside (0, 1). */
static int
inside_only (double *t, int count)
{
  int kept = 0;
  for (int i = 0; i < count; i++)
    if (t[i] > 0 && t[i] < 1)
      t[kept++] = t[i];
  return kept;
}

/* Bernstein product: the coefficient of degree m + n at k is the sum over
 * i + j = k of C(m,i) C(n,j) / C(m+n,k) a_i b_j; here for the dot product of
 * the linear and quadratic parts of the hodograph. */
static void
speed_change_coefficients (const GeoCubic *c, double b[4])
{
  GeoPoint d0 = geo_sub (c->p[1], c->p[0]), d1 = geo_sub (c->p[2], c->p[1]);
  GeoPoint d2 = geo_sub (c->p[3], c->p[2]);
  GeoPoint e0 = geo_sub (d1, d0), e1 = geo_sub (d2, d1);
  b[0] = geo_dot (d0, e0);
  b[1] = (2 * geo_dot (d1, e0) + geo_dot (d0, e1)) / 3;
  b[2] = (geo_dot (d2, e0) + 2 * geo_dot (d1, e1)) / 3;
  b[3] = geo_dot (d2, e1);
}

int
geo_cubic_cusps (const GeoCubic *c, double t[2])
{
  /* Where the speed vanishes it is least, so P'.P'' is 0 there. */
  double b[4], least[3];
  double none = 1e-6 * size_of (c);
  int cusps = 0;
  speed_change_coefficients (c, b);
  int count = inside_only (least, geo_polynomial_roots (b, 3, least));
  for (int i = 0; i < count && cusps < 2; i++)
    if (geo_norm (geo_cubic_velocity (c, least[i])) <= none)
      t[cusps++] = least[i];
  return cusps;
}

/* |P'|^2 (P' x P''') - 3 (P'.P'') (P' x P'') has degree 5: with P' = v0 + v1 t
 * + v2 t^2 the sixth-degree terms cancel. Its values at six places of [0, 1]
 * would fix it; summing the products of power coefficients is as exact and
 * shorter. */
static void
curvature_change_powers (const GeoCubic *c, double f[6])
{
  GeoPoint v0 = geo_scale (geo_sub (c->p[1], c->p[0]), 3);
  GeoPoint v1 = geo_scale (second_difference (c, 0), 6);
  GeoPoint v2 = geo_scale (geo_cubic_jerk (c), 0.5);
  /* |P'|^2, P' x P''', P'.P'', P' x P'' */
  double speed[5] = { geo_dot (v0, v0), 2 * geo_dot (v0, v1),
                      geo_dot (v1, v1) + 2 * geo_dot (v0, v2),
                      2 * geo_dot (v1, v2), geo_dot (v2, v2) };
  double jerk[2] = { 2 * geo_cross (v0, v2), 2 * geo_cross (v1, v2) };
  double change[4] = { speed[1] / 2, speed[2], 1.5 * speed[3], 2 * speed[4] };
  double turn[3]
      = { geo_cross (v0, v1), 2 * geo_cross (v0, v2), geo_cross (v1, v2) };
  for (int i = 0; i < 6; i++)
    {
      f[i] = 0;
      for (int j = 0; j < 2; j++)
        if (i >= j && i - j < 5)
          f[i] += speed[i - j] * jerk[j];
      for (int j = 0; j < 3; j++)
        if (i >= j && i - j < 4)
          f[i] -= 3 * change[i - j] * turn[j];
    }
}

int
geo_cubic_curvature_extrema (const GeoCubic *c, double t[5])
{
  static const double choose[6] = { 1, 5, 10, 10, 5, 1 };
  double f[6], b[6], turn[3];
  turn_coefficients (c, turn);
  if (turn[0] == 0 && turn[1] == 0 && turn[2] == 0)
    return 0;
  curvature_change_powers (c, f);
  /* Power to Bernstein: b_i = sum over j of C(i,j) / C(5,j) f_j, the running
   * sums of the scaled coefficients. */
  for (int i = 0; i < 6; i++)
    b[i] = f[i] / choose[i];
  for (int k = 1; k < 6; k++)
    for (int i = 5; i >= k; i--)
      b[i] += b[i - 1];
  return inside_only (t, geo_polynomial_roots (b, 5, t));
}

/* Whether the triangle, flat ones included, holds the origin. */
static bool
holds_origin (const GeoPoint d[3])
{
  double a = geo_cross (d[0], d[1]), b = geo_cross (d[1], d[2]);
  double e = geo_cross (d[2], d[0]);
  if (geo_dot (d[0], d[1]) > 0 && geo_dot (d[1], d[2]) > 0
      && geo_dot (d[2], d[0]) > 0)
    return false;
  return (a >= 0 && b >= 0 && e >= 0) || (a <= 0 && b <= 0 && e <= 0);
}

/* The angle the quadratic with control points d sweeps as seen from the
 * origin. Where the triangle of its control points leaves the origin out, the
 * sweep stays below a half turn and is the angle between the ends; else halve.
 * Points at the origin itself (collapsed handles) give their direction over to
 * the next. */
static double
sweep (const GeoPoint d[3], double none, int depth)
{
  GeoPoint from = d[0], to = d[2];
  if (geo_norm (from) <= none)
    from = geo_norm (d[1]) > none ? d[1] : d[2];
  if (geo_norm (to) <= none)
    to = geo_norm (d[1]) > none ? d[1] : d[0];
  if (depth == 0 || !holds_origin (d) || geo_same (from, d[1])
      || geo_same (to, d[1]))
    return geo_angle_between (from, to);
  GeoPoint low = geo_lerp (d[0], d[1], 0.5), high = geo_lerp (d[1], d[2], 0.5);
  GeoPoint mid = geo_lerp (low, high, 0.5);
  GeoPoint before[3] = { d[0], low, mid }, after[3] = { mid, high, d[2] };
  return sweep (before, none, depth - 1) + sweep (after, none, depth - 1);
}

double
geo_cubic_turning (const GeoCubic *c)
{
  GeoPoint d[3];
  double size = size_of (c);
  if (!(size > 0))
    return 0;
  for (int i = 0; i < 3; i++)
    d[i] = geo_sub (c->p[i + 1], c->p[i]);
  return sweep (d, NO_VELOCITY * size, 40);
}
