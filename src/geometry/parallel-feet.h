/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sixteen feet of a fit at once: the inner loops of parallel-fit.c.
 *
 * The ends of the fit and its end tangents are those of the parallel, so two
 * numbers are left, the lengths l0 and l1 of its handles:
 *
 *   C (u) = B0 p0 + B1 (p0 + l0 u0) + B2 (p3 - l1 u1) + B3 p3
 *
 * The feet are fixed places x of the stretch where the parallel's point O,
 * tangent T and normal N are known once and for all. Above each of them u is
 * looked for where C (u) lies on the normal:
 *
 *   slip = (C (u) - O) . T,    u -= slip / (C' (u) . T)    until slip = 0
 *   e    = (C (u) - O) . N
 *
 * With p0 the origin and p3 - p0 = c, and an = u0 . N and so on,
 *
 *   e    = l0 B1 an - l1 B2 bn + (B2 + B3) cn - on
 *   slip = l0 B1 at - l1 B2 bt + (B2 + B3) ct - ot
 *
 * and to first order e does not feel the movement of u, so that
 *
 *   de/dl0 = j0 = B1 an,    de/dl1 = j1 = -B2 bn.
 */
#pragma once

#include "geometry/lanes.h"
#include "geometry/parallel-fit.h"

#include <string.h>

#define GEO_FEET (2 * GEO_LANES)

/* Eight of them. */
typedef struct
{
  GeoLanes x; /* from 0 to 1 */
  GeoLanes tx, ty;
  GeoLanes on, ot, an, at, bn, bt, cn, ct;
  GeoLanes u, e, slip, j0, j1;
  GeoLanes k0, k1, pace; /* of slip: by l0 and l1, and u by it */
} Feet;

typedef struct
{
  const GeoParallelSource *source;
  double t0, span, tolerance;
  GeoPoint p0, u0, u1, c; /* c = p3 - p0 */
  double way;             /* -1 where the parallel runs backwards */
  double chord, bend;     /* length of c; curvature, about */
  double l0, l1;
  double rate0, rate1; /* du/dx - 1 at the ends, to start from */
  Feet feet[2];
} Fit;

/* u to start from: Hermite's cubic of x with its slopes at the ends. */
GEO_INLINE void
place_u (Fit *fit)
{
  for (int i = 0; i < 2; i++)
    {
      GeoLanes x = fit->feet[i].x, y = 1 - x;
      fit->feet[i].u = x + x * y * (fit->rate0 * y - fit->rate1 * x);
    }
}

/* x evenly, and u. */
GEO_INLINE void
place_feet (Fit *fit)
{
  static const GeoLanes ramp = { 1, 2, 3, 4, 5, 6, 7, 8 };
  fit->feet[0].x = ramp * (1.0 / (GEO_FEET + 1));
  fit->feet[1].x = (ramp + GEO_LANES) * (1.0 / (GEO_FEET + 1));
  place_u (fit);
}

/* Where O and T are told by a course: x and y become those of O. */
static void __attribute__ ((noinline))
follow_course (const Fit *fit, Feet *f, GeoLanes *x, GeoLanes *y)
{
  geo_wide_leave ();
  for (int i = 0; i < GEO_LANES; i++)
    {
      GeoParallelSample at;
      fit->source->course (fit->source, fit->t0 + fit->span * f->x[i], &at);
      (*x)[i] = at.at.x - fit->p0.x;
      (*y)[i] = at.at.y - fit->p0.y;
      f->tx[i] = at.tangent.x;
      f->ty[i] = at.tangent.y;
    }
}

/* O, from p0, and T of the parallel. */
GEO_INLINE void
follow_parallel (const Fit *fit, Feet *f, GeoLanes *x, GeoLanes *y)
{
  const GeoParallelSource *s = fit->source;
  const GeoPoint *k = s->k;
  GeoLanes t = fit->t0 + fit->span * f->x, one = t - t + 1, r;
  GeoLanes vx = k[0].x + t * (2 * k[1].x + 3 * k[2].x * t);
  GeoLanes vy = k[0].y + t * (2 * k[1].y + 3 * k[2].y * t);
  GeoLanes n2 = vx * vx + vy * vy + 1e-300;
  geo_lanes_sqrt (&n2, &r);
  r = fit->way * (one / r);
  f->tx = vx * r;
  f->ty = vy * r;
  double d = fit->way * s->d;
  double ox = s->c->p[0].x - fit->p0.x, oy = s->c->p[0].y - fit->p0.y;
  *x = ox + t * (k[0].x + t * (k[1].x + t * k[2].x)) - d * f->ty;
  *y = oy + t * (k[0].y + t * (k[1].y + t * k[2].y)) + d * f->tx;
}

GEO_INLINE void
sample_feet (const Fit *fit, Feet *f)
{
  GeoLanes x, y;
  if (fit->source->course)
    follow_course (fit, f, &x, &y);
  else
    follow_parallel (fit, f, &x, &y);
  f->ot = x * f->tx + y * f->ty;
  f->on = y * f->tx - x * f->ty;
  f->at = fit->u0.x * f->tx + fit->u0.y * f->ty;
  f->an = fit->u0.y * f->tx - fit->u0.x * f->ty;
  f->bt = fit->u1.x * f->tx + fit->u1.y * f->ty;
  f->bn = fit->u1.y * f->tx - fit->u1.x * f->ty;
  f->ct = fit->c.x * f->tx + fit->c.y * f->ty;
  f->cn = fit->c.y * f->tx - fit->c.x * f->ty;
}

/* e, slip and their slopes for u and the handles as they stand. */
GEO_INLINE void
measure (const Fit *fit, Feet *f)
{
  GeoLanes u = f->u, v = 1 - u, uv = 3 * u * v;
  GeoLanes b1 = uv * v, b2 = uv * u, s = u * u * (3 - 2 * u);
  f->j0 = b1 * f->an;
  f->j1 = -b2 * f->bn;
  f->k0 = b1 * f->at;
  f->k1 = -b2 * f->bt;
  f->e = fit->l0 * f->j0 + fit->l1 * f->j1 + s * f->cn - f->on;
  f->slip = fit->l0 * f->k0 + fit->l1 * f->k1 + s * f->ct - f->ot;
  GeoLanes a = fit->l0 * f->at, b = fit->l1 * f->bt;
  GeoLanes speed = 3 * (v * v * a + u * u * b) + 2 * uv * (f->ct - a - b);
  GeoLanes slowest = u - u + 0.05 * fit->chord;
  f->pace = 1 / GEO_LANES_MAX (speed, slowest);
}

/* Moves u to where slip, as measured, vanishes once the handles are longer by h0
 * and h1; by no more than a part of the whole, however flat the cubic. */
GEO_INLINE void
move (double h0, double h1, Feet *f)
{
  GeoLanes u = f->u, zero = u - u, one = zero + 1;
  GeoLanes least = u - 0.15, most = u + 0.15;
  u -= (f->slip + h0 * f->k0 + h1 * f->k1) * f->pace;
  least = GEO_LANES_MAX (least, zero);
  most = GEO_LANES_MIN (most, one);
  u = GEO_LANES_MAX (u, least);
  f->u = GEO_LANES_MIN (u, most);
}

GEO_INLINE void
measure_all (Fit *fit)
{
  measure (fit, &fit->feet[0]);
  measure (fit, &fit->feet[1]);
}

GEO_INLINE void
take_step (Fit *fit, double h0, double h1)
{
  move (h0, h1, &fit->feet[0]);
  move (h0, h1, &fit->feet[1]);
  fit->l0 = geo_least (geo_most (fit->l0 + h0, 0), 1.6 * fit->chord);
  fit->l1 = geo_least (geo_most (fit->l1 + h1, 0), 1.6 * fit->chord);
}

/* The linear least squares that would bring e to nothing. */
typedef struct
{
  double h0, h1;         /* the step */
  double ee, slip, gain; /* sums of squares; what the step takes off ee */
} Step;

/* Damped a little, for where the slopes are alike. */
GEO_INLINE void
find_step (const Fit *fit, Step *step)
{
  const Feet *f = &fit->feet[0], *g = &fit->feet[1];
  GeoLanes sums;
  GeoLanes v[8]
      = { f->j0 * f->j0 + g->j0 * g->j0,         f->j0 * f->j1 + g->j0 * g->j1,
          f->j1 * f->j1 + g->j1 * g->j1,         f->j0 * f->e + g->j0 * g->e,
          f->j1 * f->e + g->j1 * g->e,           f->e * f->e + g->e * g->e,
          f->slip * f->slip + g->slip * g->slip, f->e - f->e };
  geo_lanes_sums (v, &sums);
  double a00 = sums[0], a01 = sums[1], a11 = sums[2];
  double b0 = -sums[3], b1 = -sums[4];
  double damp = 1e-10 * (a00 + a11) + 1e-300, most = fit->chord / 2;
  a00 += damp;
  a11 += damp;
  double det = a00 * a11 - a01 * a01;
  step->h0 = step->h1 = 0;
  if (det > 0)
    {
      det = 1 / det;
      step->h0
          = geo_least (geo_most ((b0 * a11 - b1 * a01) * det, -most), most);
      step->h1
          = geo_least (geo_most ((a00 * b1 - a01 * b0) * det, -most), most);
    }
  step->gain = b0 * step->h0 + b1 * step->h1;
  step->ee = sums[5];
  step->slip = sums[6];
}

/* Largest |e|. */
GEO_INLINE double
worst_of (const Fit *fit)
{
  GeoLanes a = fit->feet[0].e, b = fit->feet[1].e;
  a = GEO_LANES_MAX (a, -a);
  b = GEO_LANES_MAX (b, -b);
  a = GEO_LANES_MAX (a, b);
  return geo_lanes_most (&a);
}

/* Largest distance of C (u) from O, the slip counted in. */
GEO_INLINE double
farthest_of (const Fit *fit)
{
  const Feet *f = &fit->feet[0], *g = &fit->feet[1];
  GeoLanes a = f->e * f->e + f->slip * f->slip;
  GeoLanes b = g->e * g->e + g->slip * g->slip;
  a = GEO_LANES_MAX (a, b);
  return sqrt (geo_lanes_most (&a));
}

/* A value at every foot, with those at both ends, in their order. */
GEO_INLINE void
lay_out (double first, const GeoLanes *low, const GeoLanes *high, double last,
         double row[GEO_FEET + 2])
{
  row[0] = first;
  memcpy (row + 1, low, sizeof *low);
  memcpy (row + 1 + GEO_LANES, high, sizeof *high);
  row[GEO_FEET + 1] = last;
}

/* The value of a row s places past i by the parabola through three. */
GEO_INLINE double
parabola (const double *row, int i, double s)
{
  double a = row[i - 1], b = row[i], c = row[i + 1];
  return b + s * ((c - a) / 2 + s * (a - 2 * b + c) / 2);
}
