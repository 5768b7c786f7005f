/* SPDX-License-Identifier: GPL-3.0-or-later */
/* By Green's theorem every integral over what a chain encloses is one along
 * it: of x dy for the area, x^2/2 dy for the first moments, x^3/3 dy and so on
 * for the second. On cubics these are polynomials in t of degree 5, 8 and 11.
 * The area is written out; for the moments six Gauss-Legendre nodes, exact up to
 * degree 11, sum them without error but rounding. Coordinates are taken from
 * the chain's start, so that a piece far from the origin loses nothing.
 */
#include "geometry/region.h"

/* Half the integral of P x dP over one cubic, seen from the origin:
 * (6 p0xp1 + 3 p0xp2 + p0xp3 + 3 p1xp2 + 3 p1xp3 + 6 p2xp3) / 20. */
static double
sector (const GeoPoint p[4])
{
  return (6 * geo_cross (p[0], p[1]) + 3 * geo_cross (p[0], p[2])
          + geo_cross (p[0], p[3]) + 3 * geo_cross (p[1], p[2])
          + 3 * geo_cross (p[1], p[3]) + 6 * geo_cross (p[2], p[3]))
         / 20;
}

static GeoCubic
seen_from (const GeoCubic *c, GeoPoint origin)
{
  GeoCubic seen;
  for (int i = 0; i < 4; i++)
    seen.p[i] = geo_sub (c->p[i], origin);
  return seen;
}

double
geo_chain_area (const GeoChain *chain)
{
  double area = 0;
  GeoPoint origin = geo_chain_start (chain);
  /* The closing line runs back to the origin, and adds no sector. */
  for (size_t i = 0; i < chain->count; i++)
    {
      GeoCubic c = seen_from (&chain->cubics[i], origin);
      area += sector (c.p);
    }
  return area;
}

/* Nodes and weights on [0, 1], the six of degree 11. */
static const double nodes[6][2] = {
  { 0.033765242898423986, 0.085662246189585173 },
  { 0.169395306766867743, 0.180380786524069304 },
  { 0.380690406958401546, 0.233956967286345524 },
  { 0.619309593041598454, 0.233956967286345524 },
  { 0.830604693233132257, 0.180380786524069304 },
  { 0.966234757101576014, 0.085662246189585173 },
};

typedef struct
{
  double area, x, y, xx, yy, xy;
} Moments;

/* Moments of the fan from the origin to the cubic: a triangle fan element
 * with P x dP / 2 of area has its centre at 2/3 P and second moments P P / 2
 * about the origin. */
static void
add_moments (const GeoCubic *c, Moments *m)
{
  for (int i = 0; i < 6; i++)
    {
      GeoPoint p = geo_cubic_point (c, nodes[i][0]);
      GeoPoint v = geo_cubic_velocity (c, nodes[i][0]);
      double area = 0.5 * nodes[i][1] * geo_cross (p, v);
      m->area += area;
      m->x += area * p.x * 2 / 3;
      m->y += area * p.y * 2 / 3;
      m->xx += area * p.x * p.x / 2;
      m->yy += area * p.y * p.y / 2;
      m->xy += area * p.x * p.y / 2;
    }
}

static Moments
moments_about (const GeoChain *chain, GeoPoint origin)
{
  Moments m = { 0, 0, 0, 0, 0, 0 };
  for (size_t i = 0; i < chain->count; i++)
    {
      GeoCubic c = seen_from (&chain->cubics[i], origin);
      add_moments (&c, &m);
    }
  if (chain->count > 0 && !geo_chain_is_closed (chain))
    {
      GeoCubic line
          = geo_cubic_line (geo_chain_end (chain), geo_chain_start (chain));
      line = seen_from (&line, origin);
      add_moments (&line, &m);
    }
  return m;
}

GeoPoint
geo_chain_centroid (const GeoChain *chain)
{
  if (chain->count == 0)
    return geo_point (0, 0);
  GeoPoint start = geo_chain_start (chain);
  GeoBox box = geo_chain_bounds (chain);
  GeoPoint centre = geo_box_centre (box);
  double size = geo_box_width (box) + geo_box_height (box);
  Moments m = moments_about (chain, start);
  if (!(fabs (m.area) > 1e-12 * size * size))
    return centre;
  return geo_point (start.x + m.x / m.area, start.y + m.y / m.area);
}

void
geo_chain_second_moments (const GeoChain *chain, double *xx, double *yy,
                          double *xy)
{
  Moments m = moments_about (chain, geo_chain_centroid (chain));
  *xx = m.xx;
  *yy = m.yy;
  *xy = m.xy;
}

/* Crossings of the cubic with the ray from the origin along +x, upward (to
 * larger y) counted as 1 and downward as -1. An end on the ray itself counts
 * as below it, for the cubic that ends there and the next alike. */
static int
ray_crossings (const GeoPoint p[4], int depth)
{
  bool above = false, below = false, right = false, left = false;
  for (int i = 0; i < 4; i++)
    {
      *(p[i].y > 0 ? &above : &below) = true;
      *(p[i].x > 0 ? &right : &left) = true;
    }
  int net = (p[3].y > 0) - (p[0].y > 0);
  if (!above || !below || !right)
    return 0;
  if (!left)
    return net;
  if (depth == 0)
    return p[0].x + p[3].x > 0 ? net : 0;
  GeoPoint a = geo_lerp (p[0], p[1], 0.5), b = geo_lerp (p[1], p[2], 0.5);
  GeoPoint c = geo_lerp (p[2], p[3], 0.5), d = geo_lerp (a, b, 0.5);
  GeoPoint e = geo_lerp (b, c, 0.5), mid = geo_lerp (d, e, 0.5);
  GeoPoint low[4] = { p[0], a, d, mid }, high[4] = { mid, e, c, p[3] };
  return ray_crossings (low, depth - 1) + ray_crossings (high, depth - 1);
}

int
geo_chain_winding (const GeoChain *chain, GeoPoint p)
{
  int winding = 0;
  for (size_t i = 0; i < chain->count; i++)
    {
      GeoCubic c = seen_from (&chain->cubics[i], p);
      winding += ray_crossings (c.p, 52);
    }
  if (chain->count > 0 && !geo_chain_is_closed (chain))
    {
      GeoCubic line
          = geo_cubic_line (geo_chain_end (chain), geo_chain_start (chain));
      line = seen_from (&line, p);
      winding += ray_crossings (line.p, 52);
    }
  return winding;
}

bool
geo_chain_contains (const GeoChain *chain, GeoPoint p)
{
  return geo_chain_winding (chain, p) != 0;
}
