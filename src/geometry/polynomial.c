/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/polynomial.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#define ROOM (GEO_POLYNOMIAL_DEGREE + 1)

typedef struct
{
  double *roots;
  int count, degree;
} Found;

/* de Casteljau: slower than Horner's rule, but its rounding stays small
 * everywhere in [0, 1], which the bracketing below leans on. */
double
geo_polynomial_value (const double *b, int degree, double t)
{
  double w[ROOM];
  memcpy (w, b, sizeof (double) * (size_t)(degree + 1));
  for (int k = degree; k > 0; k--)
    for (int i = 0; i < k; i++)
      w[i] = w[i] * (1 - t) + w[i + 1] * t;
  return w[0];
}

static int
sign_changes (const double *b, int degree)
{
  int changes = 0, last = 0;
  for (int i = 0; i <= degree; i++)
    {
      int sign = (b[i] > 0) - (b[i] < 0);
      if (sign != 0 && last != 0 && sign != last)
        changes++;
      if (sign != 0)
        last = sign;
    }
  return changes;
}

static void
halve (const double *b, int degree, double *low, double *high)
{
  double w[ROOM];
  memcpy (w, b, sizeof (double) * (size_t)(degree + 1));
  low[0] = w[0];
  high[degree] = w[degree];
  for (int k = degree; k > 0; k--)
    {
      for (int i = 0; i < k; i++)
        w[i] = 0.5 * (w[i] + w[i + 1]);
      low[degree - k + 1] = w[0];
      high[k - 1] = w[k - 1];
    }
}

/* near is how far apart two findings must lie to be two. */
static void
found_add (Found *found, double t, double near)
{
  if (found->count < found->degree
      && (found->count == 0 || found->roots[found->count - 1] + near < t))
    found->roots[found->count++] = t;
}

/* The one root of b in [0, 1], ends of opposite sign: the secant's guess
 * with the far end's value halved when it stands still (the Illinois rule),
 * and a plain halving whenever three steps have not shrunk the bracket to a
 * quarter. */
static double
single_root (const double *b, int degree)
{
  double lo = 0, hi = 1, f_lo = b[0], f_hi = b[degree];
  double width = 1;
  int kept = 0;
  if (f_lo == 0)
    return 0;
  if (f_hi == 0)
    return 1;
  for (int step = 1; step < 200 && hi - lo > 1e-16; step++)
    {
      double t = lo + (hi - lo) * (f_lo / (f_lo - f_hi));
      bool slow = step % 3 == 0 && hi - lo > 0.25 * width;
      if (step % 3 == 0)
        width = hi - lo;
      if (slow || !(t > lo && t < hi))
        t = 0.5 * (lo + hi);
      if (!(t > lo && t < hi))
        break;
      double f = geo_polynomial_value (b, degree, t);
      if (f == 0)
        return t;
      if ((f < 0) == (f_lo < 0))
        {
          lo = t;
          f_lo = f;
          if (kept == 1)
            f_hi *= 0.5;
          kept = 1;
        }
      else
        {
          hi = t;
          f_hi = f;
          if (kept == -1)
            f_lo *= 0.5;
          kept = -1;
        }
    }
  return fabs (f_lo) < fabs (f_hi) ? lo : hi;
}

/* Roots in [t0, t1). By Descartes' rule the sign changes bound the number of
 * roots strictly inside: none and one are settled at once, the rest halved. */
static void
search (const double *b, double t0, double t1, double noise, int depth,
        Found *found)
{
  int degree = found->degree;
  double largest = 0;
  for (int i = 0; i <= degree; i++)
    largest = fmax (largest, fabs (b[i]));
  if (largest <= noise)
    {
      found_add (found, 0.5 * (t0 + t1), 4 * (t1 - t0));
      return;
    }
  if (b[0] == 0)
    found_add (found, t0, 0);
  int changes = sign_changes (b, degree);
  if (changes == 0)
    return;
  if (changes == 1 && b[0] != 0 && b[degree] != 0)
    {
      found_add (found, t0 + (t1 - t0) * single_root (b, degree), 0);
      return;
    }
  if (depth == 0)
    {
      found_add (found, 0.5 * (t0 + t1), 4 * (t1 - t0));
      return;
    }
  double low[ROOM], high[ROOM];
  double mid = 0.5 * (t0 + t1);
  halve (b, degree, low, high);
  search (low, t0, mid, noise, depth - 1, found);
  search (high, mid, t1, noise, depth - 1, found);
}

int
geo_polynomial_roots (const double *b, int degree, double *roots)
{
  double scale = 0;
  for (int i = 0; i <= degree; i++)
    scale = fmax (scale, fabs (b[i]));
  if (!(scale > 0) || degree < 1)
    return 0;
  Found found = { roots, 0, degree };
  search (b, 0, 1, 1e-16 * scale, 50, &found);
  if (b[degree] == 0)
    found_add (&found, 1, 0);
  return found.count;
}
