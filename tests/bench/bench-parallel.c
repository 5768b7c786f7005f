/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parallel of the pattern curves at 6, 10, 15, 25 and 40 mm to both sides:
 * how many cubics, how far off, how long it takes beside a plain adaptive
 * Tiller-Hanson in the same run, with wide registers and without.
 *
 * Of every curve and distance it is told whether it is clean (1 - d k > 0.05
 * everywhere), cuspy (not so), or degenerate (|P'| somewhere below 2 % of the
 * control polygon). The goals for cubics are 0.98 of 1.329, 1.729 and 2.379,
 * what kurbo 0.13.1's fit_to_bezpath_opt was measured to take on the clean
 * ones. */
#include "../geometry/curve-samples.h"
#include "../geometry/parallel-measure.h"
#include "bench.h"
#include "exact-parallel.h"
#include "geometry/parallel.h"
#include "tiller-hanson.h"

#define BATCHES 7

typedef enum
{
  CLEAN,
  CUSPY,
  DEGENERATE
} Class;

typedef struct
{
  GeoCubic c;
  double d;
  Class class;
} Case;

typedef void (*Method) (const GeoCubic *c, double d, double tolerance,
                        GeoChain *out);

bool narrow_cubic_parallel_in (const GeoCubic *c, double d, double tolerance,
                               GeoParallelMode mode, GeoChain *out);

/* Storage asked for, by the wrapping of the linker. */
void *__real_realloc (void *old, size_t size);
void *__wrap_realloc (void *old, size_t size);
void *__real_malloc (size_t size);
void *__wrap_malloc (size_t size);

static size_t allocations;

void *
__wrap_realloc (void *old, size_t size)
{
  allocations++;
  return __real_realloc (old, size);
}

void *
__wrap_malloc (size_t size)
{
  allocations++;
  return __real_malloc (size);
}

static GArray *cases;
static guint class_count[3];
static GeoChain chain;

static const Case *
case_at (guint i)
{
  return &g_array_index (cases, Case, i);
}

static Class
classify (const GeoCubic *c, double d)
{
  double polygon = 0, slowest = INFINITY, least = INFINITY;
  for (int i = 0; i < 3; i++)
    polygon += geo_distance (c->p[i], c->p[i + 1]);
  for (int i = 0; i <= 4000; i++)
    {
      double t = i / 4000.0;
      slowest = fmin (slowest, geo_norm (geo_cubic_velocity (c, t)));
      least = fmin (least, 1 - d * geo_cubic_curvature (c, t));
    }
  return slowest < 0.02 * polygon ? DEGENERATE : least > 0.05 ? CLEAN : CUSPY;
}

static void
lay_out_cases (void)
{
  static const double widths[] = { 6, 10, 15, 25, 40 };
  g_autoptr (GArray) samples = curve_samples_pattern ();
  cases = g_array_new (FALSE, FALSE, sizeof (Case));
  for (guint i = 0; i < samples->len * 10; i++)
    {
      Case k = { g_array_index (samples, CurveSample, i / 10).c,
                 (i % 2 ? 1 : -1) * widths[i % 10 / 2], CLEAN };
      k.class = classify (&k.c, k.d);
      class_count[k.class]++;
      g_array_append_val (cases, k);
    }
}

static void
quality (const GeoCubic *c, double d, double tolerance, GeoChain *out)
{
  geo_cubic_parallel_in (c, d, tolerance, GEO_PARALLEL_QUALITY, out);
}

static void
fast (const GeoCubic *c, double d, double tolerance, GeoChain *out)
{
  geo_cubic_parallel_in (c, d, tolerance, GEO_PARALLEL_FAST, out);
}

static void
quality_narrow (const GeoCubic *c, double d, double tolerance, GeoChain *out)
{
  narrow_cubic_parallel_in (c, d, tolerance, GEO_PARALLEL_QUALITY, out);
}

static void
fast_narrow (const GeoCubic *c, double d, double tolerance, GeoChain *out)
{
  narrow_cubic_parallel_in (c, d, tolerance, GEO_PARALLEL_FAST, out);
}

/* Nanoseconds a clean case. */
static double
time_batch (Method method, double tolerance)
{
  double start = bench_seconds ();
  for (guint i = 0; i < cases->len; i++)
    if (case_at (i)->class == CLEAN)
      {
        geo_chain_reset (&chain);
        method (&case_at (i)->c, case_at (i)->d, tolerance, &chain);
      }
  return 1e9 * (bench_seconds () - start) / class_count[CLEAN];
}

static bool
is_finite (const GeoChain *out)
{
  for (size_t i = 0; i < out->count; i++)
    for (int j = 0; j < 4; j++)
      if (!isfinite (out->cubics[i].p[j].x)
          || !isfinite (out->cubics[i].p[j].y))
        return false;
  return out->count > 0;
}

/* In tolerances: clean ones by the exact measure, the rest by polylines, which
 * follow jumps; at a cusp of the source, where an arc stands, by the distance
 * from the source. */
static double
error_of (const Case *k, double tolerance, const GeoChain *out)
{
  if (!is_finite (out))
    return INFINITY;
  if (k->class == CLEAN)
    {
      ExactParallel exact;
      exact_parallel_init (&exact, &k->c, k->d);
      return exact_parallel_error (&exact, out) / tolerance;
    }
  if (measure_has_gap (&k->c))
    return measure_distance (&k->c, k->d, out) < tolerance + 0.002 ? 0
                                                                   : INFINITY;
  MeasureParallel exact = measure_parallel (&k->c, k->d);
  return measure_two_sided (measure_parallel_point, &exact, out,
                            tolerance / 500, tolerance)
         / tolerance;
}

typedef struct
{
  size_t cubics[3], over[3], asked;
  double worst[3];
} Tally;

static void
judge (Method method, double tolerance, Tally *tally)
{
  *tally = (Tally){ .asked = 0 };
  for (guint i = 0; i < cases->len; i++)
    {
      const Case *k = case_at (i);
      geo_chain_reset (&chain);
      allocations = 0;
      method (&k->c, k->d, tolerance, &chain);
      tally->asked += allocations;
      double error = error_of (k, tolerance, &chain);
      tally->cubics[k->class] += chain.count;
      tally->over[k->class] += !(error <= 1);
      tally->worst[k->class] = fmax (tally->worst[k->class], error);
    }
}

static double
per_case (const Tally *tally, Class class)
{
  return (double)tally->cubics[class] / class_count[class];
}

static void
print_mode (const char *name, Method method, double tolerance, double goal)
{
  Tally tally;
  char what[80];
  judge (method, tolerance, &tally);
  g_snprintf (what, sizeof what, "%s at %g: cubics a clean case", name,
              tolerance);
  bench_line (what, per_case (&tally, CLEAN), goal);
  g_snprintf (what, sizeof what, "  over tolerance (worst %.4f of it)",
              tally.worst[CLEAN]);
  bench_line (what, (double)tally.over[CLEAN], 0);
  g_snprintf (what, sizeof what, "  failures, cuspy (%.2f cubics each)",
              per_case (&tally, CUSPY));
  bench_line (what, (double)tally.over[CUSPY], 0);
  g_snprintf (what, sizeof what, "  failures, degenerate (%.2f cubics each)",
              per_case (&tally, DEGENERATE));
  bench_line (what, (double)tally.over[DEGENERATE], 0);
  bench_line ("  allocations once the result has its room", (double)tally.asked,
              0);
}

/* The methods in turn, the best batch of each. */
static void
print_times (double tolerance, double goal, double fast_goal)
{
  static const Method methods[]
      = { tiller_hanson, quality, fast, quality_narrow, fast_narrow };
  double best[G_N_ELEMENTS (methods)];
  for (guint m = 0; m < G_N_ELEMENTS (methods); m++)
    best[m] = INFINITY;
  for (int batch = 0; batch < BATCHES; batch++)
    for (guint m = 0; m < G_N_ELEMENTS (methods); m++)
      best[m] = fmin (best[m], time_batch (methods[m], tolerance));
  printf ("time a clean case at %g: Tiller-Hanson %.0f ns, quality %.0f, "
          "fast %.0f; without wide registers %.0f, %.0f\n",
          tolerance, best[0], best[1], best[2], best[3], best[4]);
  if (isfinite (goal))
    {
      bench_line ("  quality / Tiller-Hanson", best[1] / best[0], goal);
      bench_line ("    without wide registers", best[3] / best[0], goal);
    }
  if (isfinite (fast_goal))
    {
      bench_line ("  fast / Tiller-Hanson", best[2] / best[0], fast_goal);
      bench_line ("    without wide registers", best[4] / best[0], fast_goal);
    }
}

static void
print_tiller_hanson (double tolerance)
{
  size_t count = 0;
  for (guint i = 0; i < cases->len; i++)
    if (case_at (i)->class == CLEAN)
      {
        geo_chain_reset (&chain);
        tiller_hanson (&case_at (i)->c, case_at (i)->d, tolerance, &chain);
        count += chain.count;
      }
  printf ("Tiller-Hanson at %g: %.2f cubics a clean case\n", tolerance,
          (double)count / class_count[CLEAN]);
}

int
main (void)
{
  lay_out_cases ();
  printf ("%u cases: %u clean, %u cuspy, %u degenerate\n", cases->len,
          class_count[CLEAN], class_count[CUSPY], class_count[DEGENERATE]);
  for (double tolerance = 0.1; tolerance > 0.0005; tolerance /= 10)
    print_tiller_hanson (tolerance);
  print_times (0.1, INFINITY, INFINITY);
  print_times (0.01, 0.6, 0.2);
  print_times (0.001, 0.25, INFINITY);
  print_mode ("quality", quality, 0.1, 1.30);
  print_mode ("quality", quality, 0.01, 1.69);
  print_mode ("quality", quality, 0.001, 2.33);
  print_mode ("fast", fast, 0.1, 1.03 * 1.329);
  print_mode ("fast", fast, 0.01, 1.03 * 1.729);
  print_mode ("fast", fast, 0.001, 1.03 * 2.379);
  geo_chain_clear (&chain);
  g_array_unref (cases);
  return 0;
}
