/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tiller-hanson.h"

#define FEET 9
#define STEPS 8
#define NEAR 1e-6
#define DEEPEST 12

/* Where the lines through a along u and through b along v meet, or b where they
 * run the same way. */
static GeoPoint
meet (GeoPoint a, GeoPoint u, GeoPoint b, GeoPoint v)
{
  double across = geo_cross (u, v);
  if (fabs (across) < 1e-9)
    return b;
  return geo_along (a, u, geo_cross (geo_sub (b, a), v) / across);
}

static GeoCubic
move_legs (const GeoCubic *c, double d)
{
  const GeoPoint *p = c->p;
  GeoPoint u[3], a[3];
  for (int i = 0; i < 3; i++)
    {
      GeoPoint leg = geo_sub (p[i + 1], p[i]);
      double l = sqrt (geo_dot (leg, leg));
      u[i]
          = l > 1e-12 ? geo_scale (leg, 1 / l) : geo_cubic_tangent (c, i / 2.0);
      a[i] = geo_along (p[i], geo_left (u[i]), d);
    }
  return (GeoCubic){ { a[0], meet (a[0], u[0], a[1], u[1]),
                       meet (a[1], u[1], a[2], u[2]),
                       geo_along (p[3], geo_left (u[2]), d) } };
}

/* P (t) = p + t (k0 + t (k1 + t k2)) */
typedef struct
{
  GeoPoint p, k0, k1, k2;
} Powers;

static inline Powers
powers_of (const GeoCubic *c)
{
  const GeoPoint *p = c->p;
  GeoPoint a = geo_sub (p[1], p[0]), b = geo_sub (p[2], p[1]);
  GeoPoint e = geo_sub (p[3], p[2]);
  return (Powers){ p[0],
                   geo_scale (a, 3),
                   geo_scale (geo_sub (b, a), 3),
                   { a.x - 2 * b.x + e.x, a.y - 2 * b.y + e.y } };
}

static inline GeoPoint
point_at (const Powers *c, double t)
{
  return geo_point (c->p.x + t * (c->k0.x + t * (c->k1.x + t * c->k2.x)),
                    c->p.y + t * (c->k0.y + t * (c->k1.y + t * c->k2.y)));
}

/* The error at FEET places of the moved cubic, each with its foot on the source
 * by Newton's method. */
static bool
is_near (const GeoCubic *source, const GeoCubic *moved, double d,
         double tolerance)
{
  Powers c = powers_of (source), m = powers_of (moved);
  for (int i = 1; i <= FEET; i++)
    {
      double t = (double)i / (FEET + 1);
      GeoPoint q = point_at (&m, t), r = { 0, 0 };
      for (int step = 0; step < STEPS; step++)
        {
          GeoPoint v = { c.k0.x + t * (2 * c.k1.x + 3 * t * c.k2.x),
                         c.k0.y + t * (2 * c.k1.y + 3 * t * c.k2.y) };
          GeoPoint a
              = { 2 * c.k1.x + 6 * t * c.k2.x, 2 * c.k1.y + 6 * t * c.k2.y };
          r = geo_sub (q, point_at (&c, t));
          double slope = geo_dot (v, v) - geo_dot (r, a);
          if (!(slope > 0))
            return false;
          double shift = geo_dot (r, v) / slope;
          t += shift;
          t = t < 0 ? 0 : t > 1 ? 1 : t;
          if (fabs (shift) < NEAR)
            break;
        }
      r = geo_sub (q, point_at (&c, t));
      if (fabs (sqrt (geo_dot (r, r)) - fabs (d)) > tolerance)
        return false;
    }
  return true;
}

static void
lay (const GeoCubic *c, double d, double tolerance, int depth, GeoChain *out)
{
  GeoCubic moved = move_legs (c, d);
  if (depth >= DEEPEST || is_near (c, &moved, d, tolerance))
    {
      geo_chain_append (out, moved);
      return;
    }
  const GeoPoint *p = c->p;
  GeoPoint a = geo_lerp (p[0], p[1], 0.5), b = geo_lerp (p[1], p[2], 0.5);
  GeoPoint e = geo_lerp (p[2], p[3], 0.5), ab = geo_lerp (a, b, 0.5);
  GeoPoint be = geo_lerp (b, e, 0.5), m = geo_lerp (ab, be, 0.5);
  GeoCubic before = { { p[0], a, ab, m } }, after = { { m, be, e, p[3] } };
  lay (&before, d, tolerance, depth + 1, out);
  lay (&after, d, tolerance, depth + 1, out);
}

void
tiller_hanson (const GeoCubic *c, double d, double tolerance, GeoChain *out)
{
  lay (c, d, tolerance, 0, out);
}
