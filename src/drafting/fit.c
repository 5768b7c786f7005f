/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One cubic for a chain of several.
 *
 * The ends P, Q and the unit tangents T, S there are the chain's, so only the
 * two handle lengths a, b are free:
 *
 *   C(u) = (B0 + B1) P + B1 a T + (B2 + B3) Q - B2 b S,  B the Bernstein basis.
 *
 * Samples X_i of the chain, evenly spaced along it, have their feet C(u_i). A
 * step of Gauss and Newton reduces the sum of squared distances: with the
 * normal n_i of C at u_i, the distance e_i = (C(u_i) - X_i) . n_i changes by
 *
 *   de_i = B1(u_i) (T . n_i) da - B2(u_i) (S . n_i) db,
 *
 * feet being let slide along the curve. Two unknowns make a 2 x 2 system; a
 * little damping keeps it solvable where the chain is straight and lengths
 * don't matter. A step that makes it worse is halved. */
#include <math.h>

#include "drafting/edit-private.h"
#include "geometry/length.h"
#include "geometry/nearest.h"

#define SAMPLES 48
#define STEPS 40

typedef struct
{
  GeoPoint from, to, start, end; /* ends, and unit tangents there */
  GeoPoint at[SAMPLES];
} Target;

static GeoCubic
cubic_of (const Target *target, double a, double b)
{
  return (GeoCubic){ { target->from, geo_along (target->from, target->start, a),
                       geo_along (target->to, target->end, -b), target->to } };
}

static double
squares (const Target *target, double a, double b)
{
  GeoCubic c = cubic_of (target, a, b);
  double sum = 0;
  for (int i = 0; i < SAMPLES; i++)
    {
      double d = geo_cubic_nearest (&c, target->at[i], NULL);
      sum += d * d;
    }
  return sum;
}

static void
newton_step (const Target *target, double a, double b, double *da, double *db)
{
  GeoCubic c = cubic_of (target, a, b);
  double m[3] = { 0 }, g[2] = { 0 };
  for (int i = 0; i < SAMPLES; i++)
    {
      double u;
      geo_cubic_nearest (&c, target->at[i], &u);
      GeoPoint normal = geo_left (geo_cubic_tangent (&c, u));
      double e
          = geo_dot (geo_sub (geo_cubic_point (&c, u), target->at[i]), normal);
      double ja = 3 * (1 - u) * (1 - u) * u * geo_dot (target->start, normal);
      double jb = -3 * (1 - u) * u * u * geo_dot (target->end, normal);
      m[0] += ja * ja;
      m[1] += ja * jb;
      m[2] += jb * jb;
      g[0] -= ja * e;
      g[1] -= jb * e;
    }
  double damp = 1e-9 * (m[0] + m[2]) + 1e-15;
  m[0] += damp;
  m[2] += damp;
  double det = m[0] * m[2] - m[1] * m[1];
  *da = (g[0] * m[2] - g[1] * m[1]) / det;
  *db = (g[1] * m[0] - g[0] * m[1]) / det;
}

/* TRUE while it goes on getting better. */
static gboolean
improve (const Target *target, double *a, double *b, double *sum)
{
  double da, db, least = 1e-3 * geo_distance (target->from, target->to);
  newton_step (target, *a, *b, &da, &db);
  for (int half = 0; half < 12; half++, da /= 2, db /= 2)
    {
      double na = fmax (*a + da, least), nb = fmax (*b + db, least);
      double next = squares (target, na, nb);
      if (next < *sum)
        {
          gboolean more = *sum - next > 1e-14 * *sum && *sum > 1e-22;
          *a = na;
          *b = nb;
          *sum = next;
          return more;
        }
    }
  return FALSE;
}

GeoCubic
drafting_fit_cubic (const GeoChain *chain)
{
  size_t last = chain->count - 1;
  Target target = { .from = geo_chain_start (chain),
                    .to = geo_chain_end (chain),
                    .start = geo_chain_tangent (chain, (GeoPlace){ 0, 0 }),
                    .end = geo_chain_tangent (chain, (GeoPlace){ last, 1 }) };
  GeoRuler ruler;
  geo_ruler_init (&ruler, chain, 1e-9);
  double length = geo_ruler_length (&ruler);
  for (int i = 0; i < SAMPLES; i++)
    target.at[i] = geo_chain_point (
        chain, geo_ruler_place (&ruler, length * (i + 1) / (SAMPLES + 1)));
  geo_ruler_clear (&ruler);

  double best = INFINITY, a = length / 3, b = length / 3;
  static const double starts[][2]
      = { { 1. / 3, 1. / 3 }, { 0.15, 0.6 }, { 0.6, 0.15 } };
  for (guint s = 0; s < G_N_ELEMENTS (starts); s++)
    {
      double na = length * starts[s][0], nb = length * starts[s][1];
      double sum = squares (&target, na, nb);
      for (int step = 0; step < STEPS; step++)
        if (!improve (&target, &na, &nb, &sum))
          break;
      if (sum < best)
        {
          best = sum;
          a = na;
          b = nb;
        }
      if (best < 1e-12)
        break;
    }
  return cubic_of (&target, a, b);
}
