/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fits: how many cubics along points of parallels, beside the fewest that a brute
 * force found with joints on the curve and along it; how long one cubic in place
 * of two takes; how long a shaking line takes to be made fair. */
#include "../geometry/curve-samples.h"
#include "bench.h"
#include "geometry/fair.h"
#include "geometry/fit-points.h"
#include "geometry/fit.h"
#include "geometry/nearest.h"

#define POINTS 400
#define ROUNDS 20

static bool
is_clean (const GeoCubic *c, double d)
{
  double size = 0;
  for (int k = 0; k < 3; k++)
    size += geo_distance (c->p[k], c->p[k + 1]);
  for (int k = 0; k <= 400; k++)
    if (geo_norm (geo_cubic_velocity (c, k / 400.0)) < 0.02 * size
        || 1 - d * geo_cubic_curvature (c, k / 400.0) < 0.05)
      return false;
  return true;
}

static void
bench_points (const GArray *pattern, double tolerance, double goal)
{
  static const double d[] = { 6, -6, 10, -10, 15, -15, 25, -25, 40, -40 };
  double cubics = 0, curves = 0, over = 0, seconds = 0;
  for (guint i = 0; i < pattern->len; i++)
    for (guint j = 0; j < G_N_ELEMENTS (d); j++)
      {
        const GeoCubic *c = &g_array_index (pattern, CurveSample, i).c;
        GeoPoint q[POINTS + 1];
        GeoChain chain = GEO_CHAIN_EMPTY;
        if (!is_clean (c, d[j]))
          continue;
        for (int k = 0; k <= POINTS; k++)
          {
            double t = k / (double)POINTS;
            GeoPoint normal = geo_left (geo_cubic_tangent (c, t));
            q[k] = geo_along (geo_cubic_point (c, t), normal, d[j]);
          }
        double start = bench_seconds ();
        geo_fit_points (q, POINTS + 1, false, INFINITY, tolerance, &chain);
        seconds += bench_seconds () - start;
        double far = 0;
        for (int k = 0; k <= POINTS; k++)
          far = fmax (far, geo_chain_nearest (&chain, q[k], NULL));
        over += far > tolerance * (1 + 1e-9);
        cubics += (double)chain.count;
        curves++;
        geo_chain_clear (&chain);
      }
  char what[80];
  g_snprintf (what, sizeof what, "cubics along a parallel's points, %g mm",
              tolerance);
  bench_line (what, cubics / curves, goal);
  bench_line ("  of these over tolerance at a point", over, 0);
  printf ("  %g curves, %.2f ms a curve of %d points\n", curves,
          1e3 * seconds / curves, POINTS + 1);
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static void
bench_single (const GArray *pattern, bool bent, const char *what)
{
  double times[300], sum = 0;
  guint n = 0;
  for (guint i = 0; i < pattern->len && n < 300; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      GeoCubic fit;
      geo_chain_append (&chain, g_array_index (pattern, CurveSample, i).c);
      geo_chain_insert_node (&chain, (GeoPlace){ 0, 0.4 });
      GeoCubic *c = &chain.cubics[0];
      if (bent)
        c->p[2] = geo_along (c->p[3], geo_sub (c->p[2], c->p[3]), 1.1);
      double start = bench_seconds ();
      for (int k = 0; k < ROUNDS; k++)
        geo_chain_fit_single (&chain, &fit);
      times[n] = (bench_seconds () - start) / ROUNDS;
      sum += times[n++];
      geo_chain_clear (&chain);
    }
  char line[80];
  qsort (times, n, sizeof *times, compare);
  g_snprintf (line, sizeof line, "%s, microseconds, median", what);
  bench_line (line, 1e6 * times[n / 2], 100);
  g_snprintf (line, sizeof line, "%s, microseconds, mean", what);
  bench_line (line, 1e6 * sum / n, 100);
}

static void
bench_fair (void)
{
  GeoCubic c = { { { 0, 0 }, { 10, 90 }, { 60, 150 }, { 140, 160 } } };
  GeoChain chain = GEO_CHAIN_EMPTY, fair = GEO_CHAIN_EMPTY;
  GeoFairWish wish = geo_fair_wish (1);
  for (int i = 0; i < 8; i++)
    {
      GeoCubic part = geo_cubic_part (&c, i / 8.0, (i + 1) / 8.0);
      /* Inner joints shake, the same way each time. */
      part.p[0].y += i > 0 ? 0.4 * sin (7.0 * i) : 0;
      part.p[1].y += i > 0 ? 0.4 * sin (7.0 * i) : 0;
      part.p[2].y += i < 7 ? 0.4 * sin (7.0 * (i + 1)) : 0;
      part.p[3].y += i < 7 ? 0.4 * sin (7.0 * (i + 1)) : 0;
      geo_chain_append (&chain, part);
    }
  double start = bench_seconds ();
  for (int k = 0; k < ROUNDS; k++)
    geo_chain_fair (&chain, &wish, &fair);
  double seconds = (bench_seconds () - start) / ROUNDS;
  bench_line ("a line of 9 nodes made fair, milliseconds", 1e3 * seconds, 50);
  bench_line ("  its roughness, of what it was",
              geo_chain_roughness (&fair, wish.corner)
                  / geo_chain_roughness (&chain, wish.corner),
              0.2);
  geo_chain_clear (&chain);
  geo_chain_clear (&fair);
}

int
main (void)
{
  g_autoptr (GArray) pattern = curve_samples_pattern ();
  bench_points (pattern, 0.1, 1.268);
  bench_points (pattern, 0.01, 1.664);
  bench_points (pattern, 0.001, 2.293);
  bench_single (pattern, false, "one cubic for two cut of it");
  bench_single (pattern, true, "one cubic for two not of one");
  bench_fair ();
  return 0;
}
