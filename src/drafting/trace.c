/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A traced curve is taken at steps of about 2 mm as cubics with the curve's own
 * points and velocities at the ends: off by d^4 |P''''| / 384, with d 2 mm and a
 * fourth derivative of 1 / R^3 that is 5e-6 mm at a radius of 20 mm.
 *
 * Bending works on the direction t(s) alone. With H the step of a joint's own
 * turn k at s_j, and W the spread step,
 *
 *   t'(s) = t(s) - sum k_j H (s - s_j) + sum (k_j + a_j) W ((s - s_j) / h_j),
 *
 * and the curve is its integral, by Simpson's rule on each step. The length can
 * not change, for the speed stays 1.
 */
#include "drafting/trace.h"

#include <glib.h>

#include "geometry/fit.h"
#include "geometry/nearest.h"

#define STEP 2.0
#define LEAST_STEPS 8
#define MOST_STEPS 4000
#define SPREAD 2.0 /* mm, of a joint nothing is said of */
#define KINK 1e-9  /* radians */
#define EXACT 1e-9

double
drafting_trace_step (double x)
{
  if (x <= 0)
    return 0;
  if (x >= 1)
    return 1;
  return x * x * x * (10 + x * (6 * x - 15));
}

static int
steps_for (double length)
{
  return (int)fmin (fmax (ceil (length / STEP), LEAST_STEPS), MOST_STEPS);
}

/* Of second order, also at the ends. */
static GeoPoint
velocity (DraftingTraceAt at, const void *data, double s, double from,
          double to, double d)
{
  double h = fabs (d) * 0.02 * (to > from ? 1 : -1);
  double low = fmin (from, to), high = fmax (from, to);
  if (s - fabs (h) < low - 1e-12 || s + fabs (h) > high + 1e-12)
    {
      double way = s - fabs (h) < low - 1e-12 ? fabs (h) : -fabs (h);
      GeoPoint a = at (s, data), b = at (s + way, data),
               c = at (s + 2 * way, data);
      GeoPoint v = geo_sub (geo_scale (b, 4), geo_along (c, a, 3));
      return geo_scale (v, d / (2 * way));
    }
  return geo_scale (geo_sub (at (s + h, data), at (s - h, data)), d / (2 * h));
}

void
drafting_trace (DraftingTraceAt at, const void *data, double from, double to,
                GeoChain *out)
{
  int n = steps_for (fabs (to - from));
  double d = (to - from) / n;
  GeoPoint p = at (from, data), v = velocity (at, data, from, from, to, d);
  for (int i = 1; i <= n; i++)
    {
      double s = i == n ? to : from + d * i;
      GeoPoint q = at (s, data), w = velocity (at, data, s, from, to, d);
      geo_chain_append (out, (GeoCubic){ { p, geo_along (p, v, 1.0 / 3),
                                           geo_along (q, w, -1.0 / 3), q } });
      p = q;
      v = w;
    }
}

/* --- bending ------------------------------------------------------------------ */

typedef struct
{
  GeoRuler ruler;
  double *joints, *kinks; /* where the chain itself turns at once */
  double *reach, *angle;  /* there, and at bends on no joint */
  size_t n;
  GeoPlace place;
} Bending;

static void
add_turn (Bending *b, double at, double kink, double reach, double angle)
{
  b->joints[b->n] = at;
  b->kinks[b->n] = kink;
  b->reach[b->n] = reach;
  b->angle[b->n] = angle;
  b->n++;
}

static void
bending_init (Bending *b, const GeoChain *chain, const DraftingBend *bends,
              size_t n)
{
  geo_ruler_init (&b->ruler, chain, 1e-10);
  size_t room = chain->count + n;
  b->joints = g_new (double, room);
  b->kinks = g_new (double, room);
  b->reach = g_new (double, room);
  b->angle = g_new (double, room);
  b->n = 0;
  g_autofree gboolean *used = g_new0 (gboolean, n + 1);
  for (size_t i = 1; i < chain->count; i++)
    {
      double at = b->ruler.before[i];
      double kink
          = geo_angle_between (geo_cubic_tangent (&chain->cubics[i - 1], 1),
                               geo_cubic_tangent (&chain->cubics[i], 0));
      double reach = SPREAD, angle = 0;
      gboolean named = FALSE;
      for (size_t k = 0; k < n; k++)
        if (fabs (bends[k].at - at) < 1e-6)
          {
            reach = bends[k].reach;
            angle += bends[k].angle;
            used[k] = named = TRUE;
          }
      if (named || fabs (kink) > KINK)
        add_turn (b, at, kink, reach, angle);
    }
  for (size_t k = 0; k < n; k++)
    if (!used[k])
      add_turn (b, bends[k].at, 0, bends[k].reach, bends[k].angle);
}

static void
bending_clear (Bending *b)
{
  geo_ruler_clear (&b->ruler);
  g_free (b->joints);
  g_free (b->kinks);
  g_free (b->reach);
  g_free (b->angle);
}

/* The turn to be added to the chain's own direction at s. */
static double
added_turn (const Bending *b, double s)
{
  double turn = 0;
  for (size_t j = 0; j < b->n; j++)
    {
      double x = (s - b->joints[j]) / b->reach[j];
      turn += (b->kinks[j] + b->angle[j]) * drafting_trace_step ((x + 1) / 2);
      if (s > b->joints[j])
        turn -= b->kinks[j];
    }
  return turn;
}

static GeoPoint
bent_tangent (const Bending *b, double s)
{
  GeoPoint t
      = geo_chain_tangent (b->ruler.chain, geo_ruler_place (&b->ruler, s));
  double turn = added_turn (b, s);
  double c = cos (turn), d = sin (turn);
  return geo_point (t.x * c - t.y * d, t.x * d + t.y * c);
}

/* One step from s0 to s1, no joint inside it. */
static void
bend_step (const Bending *b, double s0, double s1, GeoPoint *at, GeoChain *out)
{
  double d = s1 - s0, inside = fmin (1e-9, d / 4);
  /* Just inside, so that a joint counts once. */
  GeoPoint t0 = bent_tangent (b, s0 + inside);
  GeoPoint t1 = bent_tangent (b, s1 - inside);
  GeoPoint tm = bent_tangent (b, (s0 + s1) / 2);
  GeoPoint sum = geo_along (geo_add (t0, t1), tm, 4);
  GeoPoint to = geo_along (*at, sum, d / 6);
  geo_chain_append (out, (GeoCubic){ { *at, geo_along (*at, t0, d / 3),
                                       geo_along (to, t1, -d / 3), to } });
  *at = to;
}

static int
ascending (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return x < y ? -1 : x > y;
}

void
drafting_trace_bend (const GeoChain *chain, const DraftingBend *bends, size_t n,
                     GeoChain *out)
{
  geo_chain_reset (out);
  if (chain->count == 0)
    return;
  Bending b;
  bending_init (&b, chain, bends, n);
  double length = geo_ruler_length (&b.ruler);
  /* Steps end at every joint of the chain, where curvature jumps. */
  size_t stops = chain->count + 1 + b.n;
  g_autofree double *stop = g_new (double, stops);
  for (size_t i = 0; i <= chain->count; i++)
    stop[i] = b.ruler.before[i];
  for (size_t i = 0; i < b.n; i++)
    stop[chain->count + 1 + i] = fmin (fmax (b.joints[i], 0), length);
  qsort (stop, stops, sizeof *stop, ascending);
  GeoPoint at = geo_chain_start (chain);
  for (size_t i = 0; i + 1 < stops; i++)
    {
      double part = stop[i + 1] - stop[i];
      if (part < 1e-9)
        continue;
      int k = (int)fmin (fmax (ceil (part / STEP), 2), MOST_STEPS);
      for (int j = 0; j < k; j++)
        bend_step (&b, stop[i] + part * j / k, stop[i] + part * (j + 1) / k,
                   &at, out);
    }
  bending_clear (&b);
}

/* --- fewer cubics --------------------------------------------------------------- */

void
drafting_trace_part (const GeoChain *chain, double from, double to,
                     GeoChain *out)
{
  geo_chain_reset (out);
  double low = fmin (from, to), high = fmax (from, to);
  geo_chain_slice (chain, geo_chain_at_length (chain, low, EXACT),
                   geo_chain_at_length (chain, high, EXACT), out);
  if (to < from)
    geo_chain_reverse (out);
}

double
drafting_trace_fit (const GeoChain *chain, const double *at, size_t n,
                    GeoChain *out)
{
  GeoRuler ruler;
  geo_ruler_init (&ruler, chain, EXACT);
  GeoChain part = GEO_CHAIN_EMPTY;
  geo_chain_reset (out);
  double worst = 0;
  for (size_t i = 0; i + 1 < n; i++)
    {
      geo_chain_reset (&part);
      GeoPlace from
          = i == 0 ? (GeoPlace){ 0, 0 } : geo_ruler_place (&ruler, at[i]);
      GeoPlace to = i + 2 == n ? (GeoPlace){ chain->count - 1, 1 }
                               : geo_ruler_place (&ruler, at[i + 1]);
      geo_chain_slice (chain, from, to, &part);
      GeoCubic fit;
      worst = fmax (worst, geo_chain_fit_single (&part, &fit));
      geo_chain_append (out, fit);
    }
  geo_chain_clear (&part);
  geo_ruler_clear (&ruler);
  return worst;
}

double
drafting_trace_fit_even (const GeoChain *chain, size_t cubics, GeoChain *out)
{
  double length = geo_chain_length (chain, EXACT);
  g_autofree double *at = g_new (double, cubics + 1);
  for (size_t i = 0; i <= cubics; i++)
    at[i] = length * (double)i / (double)cubics;
  return drafting_trace_fit (chain, at, cubics + 1, out);
}

GeoCubic
drafting_trace_arc (GeoPoint from, GeoPoint out, GeoPoint to, GeoPoint in)
{
  double turn = fabs (geo_angle_between (out, in));
  double chord = geo_distance (from, to);
  /* Handle 4/3 tan (turn / 4) R, chord 2 R sin (turn / 2). */
  double share = turn < 1e-6 ? 1.0 / 3
                             : (2.0 / 3) * tan (fmin (turn, 3) / 4)
                                   / sin (fmin (turn, 3) / 2);
  return (GeoCubic){ { from, geo_along (from, out, share * chord),
                       geo_along (to, in, -share * chord), to } };
}
