/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arc length and the place at a length, beside GSL's adaptive quadrature and
 * its root finding over that quadrature, in one run on the pattern curves. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>

#include "../geometry/curve-samples.h"
#include "../geometry/length-reference.h"
#include "bench.h"
#include "geometry/length.h"

#define PLACES 7
#define BATCHES 9

static GArray *curves;
static gsl_integration_workspace *room;
static double sink;

static const GeoCubic *
curve (guint i)
{
  return &g_array_index (curves, CurveSample, i).c;
}

/* The integrand with its coefficients at hand, as cheap as it can be. */
typedef struct
{
  GeoPoint v0, v1, v2;
} Quadratic;

static double
quick_speed (double t, void *data)
{
  const Quadratic *q = data;
  double x = q->v0.x + t * (q->v1.x + t * q->v2.x);
  double y = q->v0.y + t * (q->v1.y + t * q->v2.y);
  return sqrt (x * x + y * y);
}

static Quadratic
quadratic (const GeoCubic *c)
{
  GeoPoint d0 = geo_sub (c->p[1], c->p[0]), d1 = geo_sub (c->p[2], c->p[1]);
  GeoPoint d2 = geo_sub (c->p[3], c->p[2]);
  GeoPoint e0 = geo_sub (d1, d0), e1 = geo_sub (d2, d1);
  return (Quadratic){ geo_scale (d0, 3), geo_scale (e0, 6),
                      geo_scale (geo_sub (e1, e0), 3) };
}

static double
gsl_length (const GeoCubic *c, double to, double tolerance)
{
  Quadratic q = quadratic (c);
  gsl_function f = { quick_speed, &q };
  double sum = 0, error;
  gsl_integration_qag (&f, 0, to, tolerance, 0, 2000, GSL_INTEG_GAUSS15, room,
                       &sum, &error);
  return sum;
}

typedef struct
{
  const GeoCubic *c;
  double length, tolerance;
} Wanted;

static double
surplus (double t, void *data)
{
  const Wanted *w = data;
  return gsl_length (w->c, t, w->tolerance / 4) - w->length;
}

static double
gsl_place (const GeoCubic *c, double length, double tolerance)
{
  static gsl_root_fsolver *solver;
  if (!solver)
    solver = gsl_root_fsolver_alloc (gsl_root_fsolver_brent);
  Wanted w = { c, length, tolerance };
  gsl_function f = { surplus, &w };
  gsl_root_fsolver_set (solver, &f, 0, 1);
  for (int i = 0; i < 100; i++)
    {
      gsl_root_fsolver_iterate (solver);
      double t = gsl_root_fsolver_root (solver);
      double least = fmax (speed (t, (void *)c), 1);
      if (gsl_root_test_interval (gsl_root_fsolver_x_lower (solver),
                                  gsl_root_fsolver_x_upper (solver),
                                  tolerance / least, 0)
          == GSL_SUCCESS)
        break;
    }
  return gsl_root_fsolver_root (solver);
}

/* The same without wide registers (narrow-length.h). */
double narrow_cubic_length (const GeoCubic *c, double tolerance);

typedef double (*LengthOf) (const GeoCubic *c, double tolerance);

static double
gsl_whole (const GeoCubic *c, double tolerance)
{
  return gsl_length (c, 1, tolerance);
}

/* Nanoseconds a curve, the best of some batches. */
static double
time_lengths (double tolerance, LengthOf length)
{
  double best = INFINITY;
  for (int batch = 0; batch < BATCHES; batch++)
    {
      double start = bench_seconds ();
      for (int round = 0; round < 20; round++)
        for (guint i = 0; i < curves->len; i++)
          sink += length (curve (i), tolerance);
      best = fmin (best, (bench_seconds () - start) / (20 * curves->len));
    }
  return 1e9 * best;
}

/* The goal is set for one tolerance; 0 where there is none. */
static void
bench_lengths (double tolerance, const char *name, double goal)
{
  double ours = time_lengths (tolerance, geo_cubic_length);
  double narrow = time_lengths (tolerance, narrow_cubic_length);
  double theirs = time_lengths (tolerance, gsl_whole), worst = 0;
  for (guint i = 0; i < curves->len; i++)
    worst = fmax (worst, fabs (geo_cubic_length (curve (i), tolerance)
                               - reference_length (curve (i), 1)));
  printf ("arc length to %s mm: %.0f ns a curve, %.0f ns without wide "
          "registers, GSL %.0f ns\n",
          name, ours, narrow, theirs);
  if (goal > 0)
    {
      bench_line ("  time / GSL qag (15)", ours / theirs, goal);
      bench_line ("  the same without wide registers", narrow / theirs, goal);
    }
  else
    printf ("  time / GSL qag (15) %.3f, without wide registers %.3f\n",
            ours / theirs, narrow / theirs);
  bench_line ("  worst error, mm", worst, fmax (tolerance, 1e-9));
}

typedef struct
{
  GeoChain chain;
  GeoRuler ruler;
} Measured;

static double
time_places (Measured *all, double tolerance, bool own)
{
  double best = INFINITY;
  for (int batch = 0; batch < BATCHES; batch++)
    {
      double start = bench_seconds ();
      for (guint i = 0; i < curves->len; i++)
        for (int k = 1; k <= PLACES; k++)
          {
            double length = geo_ruler_length (&all[i].ruler) * k / (PLACES + 1);
            sink += own ? geo_ruler_place (&all[i].ruler, length).t
                        : gsl_place (curve (i), length, tolerance);
          }
      best = fmin (best, (bench_seconds () - start) / (PLACES * curves->len));
    }
  return 1e9 * best;
}

static void
bench_places (double tolerance, const char *name)
{
  Measured *all = g_new0 (Measured, curves->len);
  double start = bench_seconds (), worst = 0;
  for (guint i = 0; i < curves->len; i++)
    {
      geo_chain_append (&all[i].chain, *curve (i));
      geo_ruler_init (&all[i].ruler, &all[i].chain, tolerance);
    }
  double table = (bench_seconds () - start) / curves->len;
  double ours = time_places (all, tolerance, true);
  double theirs = time_places (all, tolerance, false);
  for (guint i = 0; i < curves->len; i++)
    for (int k = 1; k <= PLACES; k++)
      {
        double length = geo_ruler_length (&all[i].ruler) * k / (PLACES + 1);
        double t = geo_ruler_place (&all[i].ruler, length).t;
        worst = fmax (worst, fabs (reference_length (curve (i), t) - length));
      }
  printf ("place at a length to %s mm: %.0f ns, GSL %.0f ns; table made in "
          "%.0f ns a curve\n",
          name, ours, theirs, 1e9 * table);
  bench_line ("  time / GSL brent over qag (15)", ours / theirs, 0.1);
  bench_line ("  worst error, mm", worst, fmax (tolerance, 1e-9));
  for (guint i = 0; i < curves->len; i++)
    {
      geo_ruler_clear (&all[i].ruler);
      geo_chain_clear (&all[i].chain);
    }
  g_free (all);
}

int
main (void)
{
  gsl_set_error_handler_off ();
  room = gsl_integration_workspace_alloc (2000);
  curves = curve_samples_pattern ();
  /* Once for the caches and the clock's speed. */
  time_lengths (1e-6, geo_cubic_length);
  bench_lengths (1e-3, "1e-3", 0);
  bench_lengths (1e-6, "1e-6", 0.15);
  bench_lengths (1e-10, "1e-10", 0);
  bench_places (1e-6, "1e-6");
  bench_places (1e-10, "1e-10");
  gsl_integration_workspace_free (room);
  g_array_unref (curves);
  return sink == 0;
}
