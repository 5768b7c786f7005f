/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parallels that are known in closed form, and of shapes that others have tried
 * their methods on. */
#include "curve-samples.h"
#include "geometry/length.h"
#include "geometry/parallel.h"
#include "parallel-measure.h"

#define FINE 200

/* y = x^2 / (2 p) from x = -half to half, exactly: a quadratic raised to a
 * cubic. */
static GeoCubic
parabola (double p, double half)
{
  double y = half * half / (2 * p);
  GeoPoint a = { -half, y }, b = { half, y }, top = { 0, -y };
  return (GeoCubic){ { a, geo_lerp (a, top, 2 / 3.0),
                       geo_lerp (b, top, 2 / 3.0), b } };
}

typedef struct
{
  double p, half, d;
} Parabola;

/* Left normal (-x, p) / sqrt (x^2 + p^2) of (p, x). */
static GeoPoint
parabola_parallel (const void *curve, double t)
{
  const Parabola *q = curve;
  double x = q->half * (2 * t - 1), n = sqrt (x * x + q->p * q->p);
  return geo_point (x - q->d * x / n, x * x / (2 * q->p) + q->d * q->p / n);
}

static void
test_parabola (void)
{
  static const double d[] = { -40, -5, 5, 19, 25, 60 };
  for (guint i = 0; i < G_N_ELEMENTS (d) * 8; i++)
    {
      double tolerance = pow (10, -1 - (int)(i / 2 % 4));
      GeoParallelMode mode = (GeoParallelMode)(i % 2);
      Parabola q = { 20, 70, d[i / 8] };
      GeoCubic c = parabola (q.p, q.half);
      GeoChain out = GEO_CHAIN_EMPTY;
      g_assert_true (geo_cubic_parallel_in (&c, q.d, tolerance, mode, &out));
      g_assert_cmpfloat (measure_two_sided (parabola_parallel, &q, &out,
                                            tolerance / FINE, tolerance),
                         <=, tolerance);
      geo_chain_clear (&out);
    }
}

static void
test_parabola_cusps (void)
{
  /* The radius of curvature is p (1 + x^2 / p^2)^(3/2), so that the parallel
   * turns where x = +-p sqrt ((d / p)^(2/3) - 1), and nowhere for d < p. */
  const double p = 20, half = 70;
  GeoCubic c = parabola (p, half);
  for (double d = 5; d < 100; d += 7.3)
    {
      GeoParallelSpan spans[GEO_PARALLEL_SPANS];
      GeoChain out = GEO_CHAIN_EMPTY;
      int n = geo_cubic_parallel_spans (&c, d, 0.01, &out, spans);
      if (d < p)
        g_assert_cmpint (n, ==, 1);
      else
        {
          double x = p * sqrt (pow (d / p, 2 / 3.0) - 1);
          g_assert_cmpint (n, ==, 3);
          NEAR (spans[1].t0, (1 - x / half) / 2, 1e-9);
          NEAR (spans[1].t1, (1 + x / half) / 2, 1e-9);
          g_assert_true (spans[1].backwards && !spans[0].backwards
                         && !spans[2].backwards);
        }
      geo_chain_clear (&out);
    }
}

typedef struct
{
  double a, b, d;
} Ellipse;

static GeoPoint
ellipse_parallel (const void *curve, double t)
{
  const Ellipse *q = curve;
  double x = cos (2 * G_PI * t), y = sin (2 * G_PI * t);
  double n = hypot (q->b * x, q->a * y);
  return geo_point (x * (q->a - q->d * q->b / n), y * (q->b - q->d * q->a / n));
}

static void
test_ellipse (void)
{
  static const double d[] = { -30, -10, 12, 25 };
  for (int i = 0; i < 16; i++)
    {
      /* A circle's arcs, squeezed: within 3e-8 of the ellipse. */
      Ellipse q = { 90, 60, d[i / 4] };
      GeoChain ellipse = GEO_CHAIN_EMPTY, out = GEO_CHAIN_EMPTY;
      double tolerance = pow (10, -1 - i % 4);
      chain_append_circle (&ellipse, geo_point (0, 0), 1, 32);
      for (size_t j = 0; j < ellipse.count; j++)
        for (int k = 0; k < 4; k++)
          {
            GeoPoint *p = &ellipse.cubics[j].p[k];
            *p = geo_point (q.a * p->x, q.b * p->y);
          }
      g_assert_true (geo_chain_parallel (&ellipse, q.d, tolerance, &out));
      g_assert_true (geo_chain_is_closed (&out));
      g_assert_cmpfloat (measure_two_sided (ellipse_parallel, &q, &out,
                                            tolerance / FINE, tolerance),
                         <=, tolerance * 1.005);
      /* Steiner: the parallel of a convex curve is longer by 2 pi per mm. */
      NEAR (geo_chain_length (&out, 1e-9),
            geo_chain_length (&ellipse, 1e-9) - 2 * G_PI * q.d, 8 * tolerance);
      geo_chain_clear (&out);
      geo_chain_clear (&ellipse);
    }
}

/* As it is, wherever the last one ended. */
static void
add (GeoChain *chain, GeoCubic c)
{
  geo_chain_append (chain, c);
  chain->cubics[chain->count - 1] = c;
}

/* A uniform cubic B-spline as Bezier segments. */
static void
append_spline (GeoChain *chain, const GeoPoint *b, int count, bool closed)
{
  for (int i = 0; i < (closed ? count : count - 3); i++)
    {
      GeoPoint p = b[i % count], q = b[(i + 1) % count];
      GeoPoint r = b[(i + 2) % count], s = b[(i + 3) % count];
      GeoPoint u = geo_lerp (q, r, 1 / 3.0), v = geo_lerp (q, r, 2 / 3.0);
      GeoPoint from = geo_lerp (geo_lerp (p, q, 2 / 3.0), u, 0.5);
      GeoPoint to = geo_lerp (v, geo_lerp (r, s, 1 / 3.0), 0.5);
      add (chain, (GeoCubic){ { from, u, v, to } });
    }
}

/* After the descriptions in G. Elber, I.-K. Lee, M.-S. Kim, Comparing Offset
 * Curve Approximation Methods (IEEE CG&A 17, 1997): cubic B-splines, open and
 * periodic, and single Bezier curves, offset to both sides, also by so much
 * that the offset has loops. The coordinates are our own. */
static void
append_elber_lee_kim (GeoChain *chain)
{
  const GeoPoint wave[] = { { 0, 0 },    { 30, 60 },  { 80, 70 },  { 110, 10 },
                            { 160, -5 }, { 200, 60 }, { 250, 40 }, { 270, 0 } };
  const GeoPoint loop[] = { { 0, 0 },     { 60, -30 }, { 130, 0 }, { 90, 60 },
                            { 140, 120 }, { 50, 140 }, { 20, 80 } };
  append_spline (chain, wave, G_N_ELEMENTS (wave), false);
  append_spline (chain, loop, G_N_ELEMENTS (loop), true);
  add (chain, (GeoCubic){ { { 0, 0 }, { 40, 90 }, { 90, 90 }, { 130, 0 } } });
}

/* After R. Levien, Parallel curves of cubic Beziers (2022): an S, an arch whose
 * parallel has one cusp, a pair of cusps close together inside, four cusps, a
 * tight bend and a loop. The coordinates are our own. */
static void
append_levien (GeoChain *chain)
{
  static const GeoCubic all[]
      = { { { { 0, 0 }, { 120, 0 }, { 30, 90 }, { 150, 90 } } },
          { { { 0, 0 }, { 5, 80 }, { 60, 100 }, { 180, 105 } } },
          { { { 0, 0 }, { 60, 62 }, { 80, 62 }, { 140, 0 } } },
          { { { 0, 0 }, { 150, 100 }, { -20, 100 }, { 130, 0 } } },
          { { { 0, 0 }, { 190, 30 }, { 190, 50 }, { 0, 80 } } },
          { { { 0, 0 }, { 170, 130 }, { -60, 130 }, { 110, 0 } } } };
  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    add (chain, all[i]);
}

static void
test_shapes (void (*append) (GeoChain *chain))
{
  static const double widths[] = { 2, 10, 25, 60 };
  size_t cubics[6] = { 0 };
  GeoChain chain = GEO_CHAIN_EMPTY, out = GEO_CHAIN_EMPTY;
  append (&chain);
  for (guint i = 0; i < chain.count * 96; i++)
    {
      const GeoCubic *c = &chain.cubics[i / 96];
      guint fine = i % 6;
      double tolerance = pow (10, -1 - (double)fine);
      double d = (i / 6 % 2 ? 1 : -1) * widths[i / 12 % 4];
      GeoParallelMode mode = (GeoParallelMode)(i / 48 % 2);
      MeasureParallel exact = measure_parallel (c, d);
      geo_chain_reset (&out);
      g_assert_true (geo_cubic_parallel_in (c, d, tolerance, mode, &out));
      if (mode == GEO_PARALLEL_QUALITY)
        cubics[fine] += out.count;
      if (fine < 4)
        g_assert_cmpfloat (measure_two_sided (measure_parallel_point, &exact,
                                              &out, tolerance / FINE,
                                              tolerance),
                           <=, tolerance);
    }
  for (int i = 0; i < 6; i++)
    g_test_message ("within 1e-%d: %.2f cubics each", i + 1,
                    (double)cubics[i] / (double)(chain.count * 8));
  /* With an error of the sixth order the number grows by 10^(1/6), 1.47, a
   * tenth, and by no more. */
  for (int i = 3; i < 6; i++)
    g_assert_cmpfloat ((double)cubics[i] / (double)cubics[i - 1], <, 1.55);
  geo_chain_clear (&out);
  geo_chain_clear (&chain);
}

static void
test_elber_lee_kim (void)
{
  test_shapes (append_elber_lee_kim);
}

static void
test_levien (void)
{
  test_shapes (append_levien);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/parallel-shapes/parabola", test_parabola);
  g_test_add_func ("/parallel-shapes/parabola-cusps", test_parabola_cusps);
  g_test_add_func ("/parallel-shapes/ellipse", test_ellipse);
  g_test_add_func ("/parallel-shapes/elber-lee-kim", test_elber_lee_kim);
  g_test_add_func ("/parallel-shapes/levien", test_levien);
  return g_test_run ();
}
