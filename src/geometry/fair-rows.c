/* SPDX-License-Identifier: GPL-3.0-or-later */
/* With A = P' x P''', B = P' x P'', D = P' . P'' and n = |P'|^2
 *
 *   k = B n^(-3/2),   dk/dt = (A n - 3 D B) n^(-5/2),
 *   dk/ds |P'|^(1/2) = G n^(-11/4),   G = A n - 3 D B
 *
 * (B' = P' x P''' = A, n' = 2 D). Each is made of P', P'' and P''', which are
 * linear in the points, so the rates are those by P', P'' and P''' spread over
 * the points by the Bernstein weights' derivatives:
 *
 *   dA = dP' x P''' + P' x dP''',  dB = dP' x P'' + P' x dP'',
 *   dD = dP' . P'' + P' . dP'',    dn = 2 P' . dP'.
 */
#include "geometry/fair-rows.h"

/* NIST DLMF table 3.5.2, moved from [-1, 1] to [0, 1]. */
const double geo_fair_nodes[GEO_FAIR_NODES][2] = {
  { 0.019855071751231884, 0.050614268145188130 },
  { 0.101666761293186630, 0.111190517226687235 },
  { 0.237233795041835507, 0.156853322938943644 },
  { 0.408282678752175098, 0.181341891689180991 },
  { 0.591717321247824902, 0.181341891689180991 },
  { 0.762766204958164493, 0.156853322938943644 },
  { 0.898333238706813370, 0.111190517226687235 },
  { 0.980144928248768116, 0.050614268145188130 },
};

typedef struct
{
  GeoPoint v, a, j; /* P', P'', P''' */
} Motion;

static Motion
motion_at (const GeoCubic *c, double t)
{
  return (Motion){ geo_cubic_velocity (c, t), geo_cubic_acceleration (c, t),
                   geo_cubic_jerk (c) };
}

/* Rates by P', P'' and P''' spread over the points. */
static void
spread (double t, const Motion *by, double rate[8])
{
  double s = 1 - t;
  const double v[4]
      = { -3 * s * s, 3 * s * s - 6 * s * t, 6 * s * t - 3 * t * t, 3 * t * t };
  const double a[4] = { 6 * s, 6 * t - 12 * s, 6 * s - 12 * t, 6 * t };
  const double j[4] = { -6, 18, -18, 6 };
  for (int i = 0; i < 4; i++)
    {
      rate[2 * i] = v[i] * by->v.x + a[i] * by->a.x + j[i] * by->j.x;
      rate[2 * i + 1] = v[i] * by->v.y + a[i] * by->a.y + j[i] * by->j.y;
    }
}

static double
nothing (double rate[8])
{
  for (int i = 0; i < 8; i++)
    rate[i] = 0;
  return 0;
}

double
geo_fair_change (const GeoCubic *c, double t, double rate[8])
{
  Motion m = motion_at (c, t);
  double n = geo_dot (m.v, m.v);
  if (!(n > 1e-12))
    return nothing (rate);
  double A = geo_cross (m.v, m.j), B = geo_cross (m.v, m.a);
  double D = geo_dot (m.v, m.a), G = A * n - 3 * D * B;
  double f = pow (n, -2.75);
  GeoPoint right_j = { m.j.y, -m.j.x }, right_a = { m.a.y, -m.a.x };
  GeoPoint left = geo_left (m.v);
  Motion by;
  by.v = geo_scale (right_j, n * f);
  by.v = geo_along (by.v, m.v, 2 * A * f - 5.5 * G * f / n);
  by.v = geo_along (by.v, m.a, -3 * B * f);
  by.v = geo_along (by.v, right_a, -3 * D * f);
  by.a = geo_scale (m.v, -3 * B * f);
  by.a = geo_along (by.a, left, -3 * D * f);
  by.j = geo_scale (left, n * f);
  spread (t, &by, rate);
  return G * f;
}

double
geo_fair_curvature (const GeoCubic *c, double t, double rate[8])
{
  Motion m = motion_at (c, t);
  double n = geo_dot (m.v, m.v);
  if (!(n > 1e-12))
    return nothing (rate);
  double B = geo_cross (m.v, m.a), f = 1 / (n * sqrt (n));
  GeoPoint right_a = { m.a.y, -m.a.x };
  Motion by
      = { geo_scale (right_a, f), geo_scale (geo_left (m.v), f), { 0, 0 } };
  by.v = geo_along (by.v, m.v, -3 * B * f / n);
  spread (t, &by, rate);
  return B * f;
}

double
geo_fair_speed (const GeoCubic *c, double t, double rate[8])
{
  Motion m = motion_at (c, t);
  double n = sqrt (geo_dot (m.v, m.v));
  if (!(n > 1e-6))
    return nothing (rate);
  Motion by = { geo_scale (m.v, 1 / n), { 0, 0 }, { 0, 0 } };
  spread (t, &by, rate);
  return n;
}

double
geo_fair_rough_length (const GeoCubic *c)
{
  double sum = 0, rate[8];
  for (int i = 0; i < GEO_FAIR_NODES; i++)
    sum += geo_fair_nodes[i][1]
           * geo_fair_speed (c, geo_fair_nodes[i][0], rate);
  return sum;
}

double
geo_fair_change_of (const GeoCubic *c)
{
  double sum = 0, rate[8];
  for (int i = 0; i < GEO_FAIR_NODES; i++)
    {
      double r = geo_fair_change (c, geo_fair_nodes[i][0], rate);
      sum += geo_fair_nodes[i][1] * r * r;
    }
  return sum;
}
