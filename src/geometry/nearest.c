/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/nearest.h"

#include "geometry/polynomial.h"

/* Bernstein coefficients of w.w' for w = P - to: the products of the cubic's
 * and the quadratic's, b_k = sum over i + j = k of C(3,i) C(2,j) / C(5,k)
 * w_i.d_j. Half the slope of the squared distance, up to a factor of 3. */
static void
slope_coefficients (const GeoCubic *c, GeoPoint to, double b[6])
{
  static const double choose3[4] = { 1, 3, 3, 1 }, choose2[3] = { 1, 2, 1 };
  static const double choose5[6] = { 1, 5, 10, 10, 5, 1 };
  for (int k = 0; k < 6; k++)
    b[k] = 0;
  for (int i = 0; i < 4; i++)
    {
      GeoPoint w = geo_sub (c->p[i], to);
      for (int j = 0; j < 3; j++)
        b[i + j] += choose3[i] * choose2[j] / choose5[i + j]
                    * geo_dot (w, geo_sub (c->p[j + 1], c->p[j]));
    }
}

static double
nearest_once (const GeoCubic *c, GeoPoint to, double *t)
{
  double b[6], places[7] = { 0 };
  slope_coefficients (c, to, b);
  int count = 1 + geo_polynomial_roots (b, 5, places + 1);
  places[count++] = 1;
  double best = INFINITY;
  for (int i = 0; i < count; i++)
    {
      double d = geo_distance (geo_cubic_point (c, places[i]), to);
      if (d < best)
        {
          best = d;
          *t = places[i];
        }
    }
  return best;
}

double
geo_cubic_nearest (const GeoCubic *c, GeoPoint to, double *t)
{
  double at = 0, best = nearest_once (c, to, &at), size = 0;
  for (int i = 1; i < 4; i++)
    size = fmax (size, geo_distance (c->p[0], c->p[i]));
  /* Where the curve hardly moves (a collapsed handle, a cusp) the slope is lost
   * in the rounding of coefficients made for the whole of it; made for ever
   * shorter pieces about the place they show it. */
  if (geo_norm (geo_cubic_velocity (c, at)) < 0.05 * size)
    for (double reach = 0.1; reach > 1e-8; reach *= 0.1)
      {
        double t0 = fmax (0, at - reach), t1 = fmin (1, at + reach), s = 0;
        GeoCubic part = geo_cubic_part (c, t0, t1);
        nearest_once (&part, to, &s);
        double found = t0 + s * (t1 - t0);
        double d = geo_distance (geo_cubic_point (c, found), to);
        if (d < best)
          {
            best = d;
            at = found;
          }
      }
  if (t)
    *t = at;
  return best;
}

/* No point of the cubic is nearer than the box of its control points. */
static double
no_nearer (const GeoCubic *c, GeoPoint to)
{
  double x0 = fmin (fmin (c->p[0].x, c->p[1].x), fmin (c->p[2].x, c->p[3].x));
  double x1 = fmax (fmax (c->p[0].x, c->p[1].x), fmax (c->p[2].x, c->p[3].x));
  double y0 = fmin (fmin (c->p[0].y, c->p[1].y), fmin (c->p[2].y, c->p[3].y));
  double y1 = fmax (fmax (c->p[0].y, c->p[1].y), fmax (c->p[2].y, c->p[3].y));
  double dx = fmax (0, fmax (x0 - to.x, to.x - x1));
  double dy = fmax (0, fmax (y0 - to.y, to.y - y1));
  return sqrt (dx * dx + dy * dy);
}

double
geo_chain_nearest (const GeoChain *chain, GeoPoint to, GeoPlace *place)
{
  double best = INFINITY;
  for (size_t i = 0; i < chain->count; i++)
    {
      double t;
      if (no_nearer (&chain->cubics[i], to) >= best)
        continue;
      double d = geo_cubic_nearest (&chain->cubics[i], to, &t);
      if (d < best)
        {
          best = d;
          if (place)
            *place = (GeoPlace){ i, t };
        }
    }
  return best;
}

static double
stray_at (const GeoCubic *c, double t, const GeoChain *from)
{
  return geo_chain_nearest (from, geo_cubic_point (c, t), NULL);
}

/* Golden section: the peak between lo and hi, to a thousandth of their gap. */
static double
refine_peak (const GeoCubic *c, const GeoChain *from, double lo, double hi,
             double *t)
{
  const double golden = 0.6180339887498949;
  double a = hi - golden * (hi - lo), b = lo + golden * (hi - lo);
  double at_a = stray_at (c, a, from), at_b = stray_at (c, b, from);
  for (int i = 0; i < 14; i++)
    {
      if (at_a > at_b)
        {
          hi = b;
          b = a;
          at_b = at_a;
          a = hi - golden * (hi - lo);
          at_a = stray_at (c, a, from);
        }
      else
        {
          lo = a;
          a = b;
          at_a = at_b;
          b = lo + golden * (hi - lo);
          at_b = stray_at (c, b, from);
        }
    }
  *t = at_a > at_b ? a : b;
  return fmax (at_a, at_b);
}

double
geo_chain_stray (const GeoChain *chain, const GeoChain *from, size_t samples,
                 GeoPlace *where)
{
  double most = 0;
  double gap = 1 / (double)(samples > 2 ? samples - 1 : 1);
  if (chain->count > 0 && from->count == 0)
    return INFINITY;
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      double before = 0, here = stray_at (c, 0, from);
      for (double t = 0; t < 1 + gap / 2; t += gap)
        {
          double after = t < 1 - gap / 2 ? stray_at (c, t + gap, from) : 0;
          double peak = here, at = fmin (1, t);
          if (here >= before && here >= after && here > 0.5 * most)
            {
              double t1, d = refine_peak (c, from, fmax (0, t - gap),
                                          fmin (1, t + gap), &t1);
              if (d > peak)
                {
                  peak = d;
                  at = t1;
                }
            }
          if (peak > most)
            {
              most = peak;
              if (where)
                *where = (GeoPlace){ i, at };
            }
          before = here;
          here = after;
        }
    }
  return most;
}
