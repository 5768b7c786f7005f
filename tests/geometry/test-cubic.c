/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Points, derivatives, pieces and special places of one cubic, and the roots
 * they rest on. */
#include "curve-samples.h"
#include "geometry/cubic.h"
#include "geometry/polynomial.h"

static void
test_point (void)
{
  GeoCubic c = { { { 0, 0 }, { 10, 40 }, { 60, 50 }, { 90, 0 } } };
  g_assert_true (geo_same (geo_cubic_point (&c, 0), c.p[0]));
  g_assert_true (geo_same (geo_cubic_point (&c, 1), c.p[3]));
  /* At t = 1/2 the weights are 1, 3, 3, 1 eighths. */
  NEAR_POINT (geo_cubic_point (&c, 0.5), geo_point (300 / 8.0, 270 / 8.0),
              1e-13);
  NEAR_POINT (geo_cubic_velocity (&c, 0.5), geo_point (0.75 * 140, 0.75 * 10),
              1e-12);
  GeoPoint far = geo_cubic_acceleration (&c, 1);
  NEAR_POINT (far, geo_point (6 * (90 - 120 + 10), 6 * (0 - 100 + 40)), 1e-12);
}

/* Derivatives against differences of points. */
static void
test_derivatives (void)
{
  for (int i = 0; i < 300; i++)
    {
      GeoCubic c = random_cubic (400);
      double t = g_test_rand_double_range (0.01, 0.99), h = 1e-4;
      GeoPoint a = geo_cubic_point (&c, t - h), b = geo_cubic_point (&c, t + h);
      GeoPoint m = geo_cubic_point (&c, t);
      GeoPoint v = geo_scale (geo_sub (b, a), 0.5 / h);
      NEAR_POINT (geo_cubic_velocity (&c, t), v, 1e-4);
      GeoPoint aa = geo_sub (geo_add (a, b), geo_scale (m, 2));
      NEAR_POINT (geo_cubic_acceleration (&c, t), geo_scale (aa, 1 / (h * h)),
                  1e-3);
      GeoPoint j = geo_sub (geo_cubic_acceleration (&c, 1),
                            geo_cubic_acceleration (&c, 0));
      NEAR_POINT (geo_cubic_jerk (&c), j, 1e-9);
    }
}

static void
test_arc (void)
{
  /* The stated error of the quarter, and its fall with the sixth power. */
  double worst[2] = { 0, 0 };
  for (int k = 0; k < 2; k++)
    {
      GeoCubic c
          = geo_cubic_arc (geo_point (30, 40), 100, 0.3, 0.3 + G_PI / (2 << k));
      for (int i = 0; i <= 1000; i++)
        {
          double r = geo_distance (geo_cubic_point (&c, i / 1000.0),
                                   geo_point (30, 40));
          worst[k] = fmax (worst[k], fabs (r - 100) / 100);
        }
    }
  g_assert_cmpfloat (worst[0], <=, 2.8e-4);
  g_assert_cmpfloat (worst[0], >, 2.6e-4);
  NEAR (worst[0] / worst[1], 64, 3);
  /* k = 1/r where the textbook formula says so: positive from x towards y. */
  GeoCubic c = geo_cubic_arc (geo_point (0, 0), 50, 0, 0.1);
  NEAR (geo_cubic_curvature (&c, 0.5), 1 / 50.0, 1e-7);
  GeoCubic back = geo_cubic_reverse (&c);
  NEAR (geo_cubic_curvature (&back, 0.5), -1 / 50.0, 1e-7);
  NEAR_POINT (geo_cubic_tangent (&c, 0), geo_point (0, 1), 1e-12);
}

static void
test_tangent_limits (void)
{
  GeoCubic start = { { { 0, 0 }, { 0, 0 }, { 30, 40 }, { 100, 0 } } };
  NEAR_POINT (geo_cubic_tangent (&start, 0), geo_point (0.6, 0.8), 1e-15);
  NEAR_POINT (geo_cubic_tangent (&start, 1e-7), geo_point (0.6, 0.8), 1e-5);
  GeoCubic end = geo_cubic_reverse (&start);
  NEAR_POINT (geo_cubic_tangent (&end, 1), geo_point (-0.6, -0.8), 1e-15);
  GeoCubic twice = { { { 0, 0 }, { 0, 0 }, { 0, 0 }, { 30, 40 } } };
  NEAR_POINT (geo_cubic_tangent (&twice, 0), geo_point (0.6, 0.8), 1e-15);
  NEAR_POINT (geo_cubic_tangent (&twice, 1), geo_point (0.6, 0.8), 1e-15);
  GeoCubic point = { { { 5, 6 }, { 5, 6 }, { 5, 6 }, { 5, 6 } } };
  g_assert_true (geo_same (geo_cubic_tangent (&point, 0.4), geo_point (0, 0)));
  g_assert_cmpfloat (geo_cubic_curvature (&point, 0.4), ==, 0);
  /* At a cusp, the limit from after. x = t^2, y = t^3 runs off along +x. */
  GeoCubic cusp
      = { { { 1, -1 }, { -1 / 3.0, 1 }, { -1 / 3.0, -1 }, { 1, 1 } } };
  NEAR_POINT (geo_cubic_tangent (&cusp, 0.5), geo_point (1, 0), 1e-12);
  /* No finite curvature at a collapsed handle, but a sign. */
  g_assert_cmpfloat (geo_cubic_curvature (&start, 0), ==, -1e9);
  GeoCubic line = { { { 0, 0 }, { 0, 0 }, { 10, 20 }, { 30, 60 } } };
  g_assert_cmpfloat (geo_cubic_curvature (&line, 0), ==, 0);
  g_assert_cmpfloat (geo_cubic_curvature (&line, 0.7), ==, 0);
}

static void
test_parts (void)
{
  for (int i = 0; i < 200; i++)
    {
      GeoCubic c = random_awkward_cubic (400), before, after;
      double t = g_test_rand_double (), u = g_test_rand_double ();
      geo_cubic_split (&c, t, &before, &after);
      g_assert_true (geo_same (before.p[0], c.p[0]));
      g_assert_true (geo_same (after.p[3], c.p[3]));
      g_assert_true (geo_same (before.p[3], after.p[0]));
      NEAR_POINT (geo_cubic_point (&before, u), geo_cubic_point (&c, t * u),
                  1e-10);
      NEAR_POINT (geo_cubic_point (&after, u),
                  geo_cubic_point (&c, t + (1 - t) * u), 1e-10);
      GeoCubic part = geo_cubic_part (&c, t, u),
               whole = geo_cubic_part (&c, 0, 1);
      NEAR_POINT (geo_cubic_point (&part, 0.3),
                  geo_cubic_point (&c, t + 0.3 * (u - t)), 1e-10);
      GeoCubic back = geo_cubic_part (&c, 1, 0),
               reverse = geo_cubic_reverse (&c);
      for (int k = 0; k < 4; k++)
        {
          g_assert_true (geo_same (whole.p[k], c.p[k]));
          g_assert_true (geo_same (back.p[k], reverse.p[k]));
        }
    }
}

static void
test_motions (void)
{
  for (int i = 0; i < 100; i++)
    {
      GeoPoint p = random_point (500), q = random_point (500),
               r = random_point (500);
      GeoMotion m = geo_motion_about (p, g_test_rand_double_range (-7, 7));
      GeoMotion n = geo_motion_mirror (q, geo_sub (r, q));
      if (i % 2)
        {
          GeoMotion swap = m;
          m = n;
          n = swap;
        }
      NEAR_POINT (geo_motion_apply (n, geo_motion_apply (m, r)),
                  geo_motion_apply (geo_motion_then (m, n), r), 1e-9);
      NEAR_POINT (
          geo_motion_apply (geo_motion_inverse (m), geo_motion_apply (m, r)), r,
          1e-9);
      NEAR_POINT (
          geo_motion_apply (geo_motion_inverse (n), geo_motion_apply (n, p)), p,
          1e-9);
      GeoCubic c = random_cubic (400), d = geo_cubic_transform (&c, m);
      NEAR_POINT (geo_motion_apply (m, geo_cubic_point (&c, 0.3)),
                  geo_cubic_point (&d, 0.3), 1e-9);
      double k = geo_cubic_curvature (&c, 0.3);
      NEAR (geo_cubic_curvature (&d, 0.3), m.flip ? -k : k,
            1e-6 * (1 + fabs (k)));
    }
  /* Mirrored in the line y = x; points of the line stay. */
  GeoMotion m = geo_motion_mirror (geo_point (3, 3), geo_point (-2, -2));
  NEAR_POINT (geo_motion_apply (m, geo_point (5, 1)), geo_point (1, 5), 1e-12);
  GeoMotion quarter = geo_motion_about (geo_point (1, 1), G_PI / 2);
  NEAR_POINT (geo_motion_apply (quarter, geo_point (2, 1)), geo_point (1, 2),
              1e-12);
  NEAR_POINT (geo_motion_apply (geo_motion_move (3, -4), geo_point (1, 1)),
              geo_point (4, -3), 0);
}

static void
test_bounds (void)
{
  /* x runs 0 to 1, y = 3t(1-t) up to 3/4. */
  GeoCubic c = { { { 0, 0 }, { 1 / 3.0, 1 }, { 2 / 3.0, 1 }, { 1, 0 } } };
  GeoBox box = geo_cubic_bounds (&c);
  NEAR (box.y1, 0.75, 1e-15);
  NEAR (box.x1, 1, 1e-15);
  for (int i = 0; i < 300; i++)
    {
      c = random_awkward_cubic (400);
      box = geo_cubic_bounds (&c);
      GeoBox dense = geo_box_empty ();
      for (int k = 0; k <= 2000; k++)
        dense = geo_box_add (dense, geo_cubic_point (&c, k / 2000.0));
      g_assert_cmpfloat (box.x0, <=, dense.x0 + 1e-10);
      g_assert_cmpfloat (box.y1, >=, dense.y1 - 1e-10);
      NEAR (box.x0, dense.x0, 1e-3);
      NEAR (box.x1, dense.x1, 1e-3);
      NEAR (box.y0, dense.y0, 1e-3);
      NEAR (box.y1, dense.y1, 1e-3);
    }
  g_assert_true (geo_box_is_empty (geo_box_empty ()));
  g_assert_true (geo_box_holds (box, geo_box_centre (box)));
}

static void
test_shapes (void)
{
  GeoCubic line = geo_cubic_line (geo_point (0, 0), geo_point (300, 400));
  g_assert_true (geo_cubic_is_straight (&line, 1e-12));
  line.p[1] = geo_along (line.p[1], geo_point (-0.8, 0.6), 0.02);
  g_assert_true (geo_cubic_is_straight (&line, 0.021));
  g_assert_false (geo_cubic_is_straight (&line, 0.019));
  GeoCubic past = { { { 0, 0 }, { -1, 0 }, { 50, 0 }, { 100, 0 } } };
  g_assert_false (geo_cubic_is_straight (&past, 0.5));
  g_assert_true (geo_cubic_is_straight (&past, 1.5));
  GeoCubic there_and_back = { { { 0, 0 }, { 9, 0 }, { 9, 0 }, { 0, 0 } } };
  g_assert_false (geo_cubic_is_straight (&there_and_back, 1));
  g_assert_false (geo_cubic_is_point (&there_and_back, 1));
  g_assert_true (geo_cubic_is_point (&there_and_back, 9));
  g_assert_true (geo_cubic_is_straight (&there_and_back, 9));
}

static void
test_inflections (void)
{
  double t[2];
  GeoCubic s = graph_cubic (1, 0, 0, 0, 100, false);
  g_assert_cmpint (geo_cubic_inflections (&s, t), ==, 1);
  NEAR (t[0], 0.5, 1e-12);
  GeoCubic c = graph_cubic (1, -0.9, 0, 0, 100, false);
  /* y'' = 6x - 1.8: at x = 0.3. */
  g_assert_cmpint (geo_cubic_inflections (&c, t), ==, 1);
  NEAR (t[0], 0.65, 1e-12);
  /* Two: the crossed handles of a flat loop pulled open. */
  GeoCubic two = { { { 0, 0 }, { 90, 100 }, { 10, 100 }, { 100, 0 } } };
  g_assert_cmpint (geo_cubic_inflections (&two, t), ==, 2);
  NEAR (t[0] + t[1], 1, 1e-12);
  g_assert_cmpfloat (t[0], <, t[1]);
  for (int i = 0; i < 2; i++)
    NEAR (geo_cross (geo_cubic_velocity (&two, t[i]),
                     geo_cubic_acceleration (&two, t[i])),
          0, 1e-6);
  GeoCubic line = { { { 0, 0 }, { 33, 11 }, { 60, 20 }, { 300, 100 } } };
  g_assert_cmpint (geo_cubic_inflections (&line, t), ==, 0);
  GeoCubic fold = { { { 0, 0 }, { 99, 33 }, { -60, -20 }, { 60, 20 } } };
  g_assert_cmpint (geo_cubic_inflections (&fold, t), ==, 0);
}

static void
test_curvature_extrema (void)
{
  double t[5];
  /* The parabola's vertex; and by symmetry the middle of an arch. */
  GeoCubic parabola = graph_cubic (0, 1, 0.4, 0, 100, false);
  g_assert_cmpint (geo_cubic_curvature_extrema (&parabola, t), ==, 1);
  NEAR (t[0], 0.4, 1e-12);
  GeoCubic line = geo_cubic_line (geo_point (0, 0), geo_point (300, 100));
  g_assert_cmpint (geo_cubic_curvature_extrema (&line, t), ==, 0);
  /* None is missed: between neighbours, as sampled, k is monotone. */
  for (int i = 0; i < 500; i++)
    {
      GeoCubic c = random_cubic (400);
      double cuts[7] = { 0 };
      int n = 1 + geo_cubic_curvature_extrema (&c, cuts + 1);
      cuts[n] = 1;
      for (int k = 0; k < n; k++)
        {
          g_assert_cmpfloat (cuts[k], <, cuts[k + 1]);
          int up = 0, down = 0;
          double last = geo_cubic_curvature (&c, cuts[k]);
          for (int j = 1; j <= 40; j++)
            {
              double here = geo_cubic_curvature (
                  &c, cuts[k] + (cuts[k + 1] - cuts[k]) * j / 40);
              double slack = 1e-9 * (fabs (here) + fabs (last));
              up += here > last + slack;
              down += here < last - slack;
              last = here;
            }
          g_assert_true (up == 0 || down == 0);
        }
    }
}

static void
test_cusps (void)
{
  double t[2];
  GeoCubic cusp = { { { 0, 0 }, { 100, 100 }, { 0, 100 }, { 100, 0 } } };
  g_assert_cmpint (geo_cubic_cusps (&cusp, t), ==, 1);
  NEAR (t[0], 0.5, 1e-9);
  cusp.p[1].x = 101;
  g_assert_cmpint (geo_cubic_cusps (&cusp, t), ==, 0);
  GeoCubic fold = { { { 0, 0 }, { 100, 0 }, { -50, 0 }, { 60, 0 } } };
  /* x'/3 = 100 s^2 - 300 s t + 110 t^2 */
  double disc = sqrt (150.0 * 150 - 100 * 110);
  g_assert_cmpint (geo_cubic_cusps (&fold, t), ==, 2);
  NEAR (t[0], (150 - disc) / 110 / (1 + (150 - disc) / 110), 1e-9);
  NEAR (t[1], (150 + disc) / 110 / (1 + (150 + disc) / 110), 1e-9);
  GeoCubic back = { { { 0, 0 }, { 120, 80 }, { 120, 80 }, { 0, 0 } } };
  g_assert_cmpint (geo_cubic_cusps (&back, t), ==, 1);
  NEAR (t[0], 0.5, 1e-9);
  /* Velocity vanishes without turning back: x = (2t-1)^3. */
  GeoCubic still = { { { -1, 0 }, { 1, 0 }, { -1, 0 }, { 1, 0 } } };
  g_assert_cmpint (geo_cubic_cusps (&still, t), ==, 1);
  NEAR (t[0], 0.5, 1e-5);
  GeoCubic collapsed = { { { 0, 0 }, { 0, 0 }, { 10, 20 }, { 30, 0 } } };
  g_assert_cmpint (geo_cubic_cusps (&collapsed, t), ==, 0);
}

/* The integral of k ds by a fine trapezium sum. */
static void
test_turning (void)
{
  GeoCubic arc = geo_cubic_arc (geo_point (0, 0), 70, 0.2, 1.3);
  NEAR (geo_cubic_turning (&arc), 1.1, 1e-12);
  GeoCubic loop = { { { 0, 0 }, { 150, 100 }, { -50, 100 }, { 100, 0 } } };
  /* From atan (2/3) above the x axis all the way round to as much below. */
  NEAR (geo_cubic_turning (&loop), 2 * G_PI - 2 * atan2 (100, 150), 1e-12);
  GeoCubic bare = { { { 0, 0 }, { 0, 0 }, { 100, 0 }, { 100, 100 } } };
  NEAR (geo_cubic_turning (&bare), G_PI / 2, 1e-12);
  GeoCubic line = { { { 0, 0 }, { 10, 5 }, { 20, 10 }, { 300, 150 } } };
  NEAR (geo_cubic_turning (&line), 0, 1e-12);
  for (int i = 0; i < 100; i++)
    {
      GeoCubic c = random_cubic (400);
      double sum = 0;
      GeoPoint last = geo_cubic_tangent (&c, 0);
      for (int k = 1; k <= 4000; k++)
        {
          GeoPoint here = geo_cubic_tangent (&c, k / 4000.0);
          sum += geo_angle_between (last, here);
          last = here;
        }
      NEAR (geo_cubic_turning (&c), sum, 1e-9);
    }
}

static void
test_line_crossings (void)
{
  double t[3];
  GeoCubic s = graph_cubic (4, 0, -3, 0, 10, false);
  /* 4x^3 - 3x = 0 at 0 and +-sqrt (3)/2. */
  g_assert_cmpint (
      geo_cubic_crossings_line (&s, geo_point (99, 0), geo_point (-2, 0), t),
      ==, 3);
  NEAR (t[0], 0.5 - sqrt (3) / 4, 1e-12);
  NEAR (t[1], 0.5, 1e-12);
  NEAR (t[2], 0.5 + sqrt (3) / 4, 1e-12);
  g_assert_cmpint (
      geo_cubic_crossings_line (&s, geo_point (0, 11), geo_point (1, 0), t), ==,
      0);
  GeoCubic line = geo_cubic_line (geo_point (0, 0), geo_point (90, 0));
  g_assert_cmpint (
      geo_cubic_crossings_line (&line, geo_point (0, 0), geo_point (1, 0), t),
      ==, 0);
  g_assert_cmpint (
      geo_cubic_crossings_line (&line, geo_point (30, 5), geo_point (0, 1), t),
      ==, 1);
  NEAR (t[0], 1 / 3.0, 1e-12);
  g_assert_cmpint (
      geo_cubic_crossings_line (&line, geo_point (0, 5), geo_point (0, 1), t),
      ==, 1);
  g_assert_cmpfloat (t[0], ==, 0);
}

static void
test_pull (void)
{
  for (int i = 0; i < 100; i++)
    {
      GeoCubic c = random_cubic (400);
      double t = g_test_rand_double_range (0.01, 0.99);
      GeoPoint by = random_point (50);
      GeoCubic d = geo_cubic_pull (&c, t, by);
      g_assert_true (geo_same (d.p[0], c.p[0]) && geo_same (d.p[3], c.p[3]));
      NEAR_POINT (geo_cubic_point (&d, t),
                  geo_add (geo_cubic_point (&c, t), by), 1e-10);
    }
}

/* Products of (t - r) have the roots they were made from. */
static void
test_polynomial (void)
{
  for (int round = 0; round < 2000; round++)
    {
      int degree = g_test_rand_int_range (1, 7), inside = 0;
      double wanted[9], roots[9], b[10] = { 1 }, apart = 1;
      for (int i = 0; i < degree; i++)
        wanted[i] = g_test_rand_double_range (-0.5, 1.5);
      /* Bernstein form of a product with (1-t) (-r) + t (1-r). */
      for (int n = 0; n < degree; n++)
        for (int k = n + 1; k >= 0; k--)
          b[k] = ((k <= n ? (n + 1 - k) * b[k] * -wanted[n] : 0)
                  + (k > 0 ? k * b[k - 1] * (1 - wanted[n]) : 0))
                 / (n + 1);
      for (int i = 0; i < degree; i++)
        for (int j = 0; j < i; j++)
          apart = fmin (apart, fabs (wanted[i] - wanted[j]));
      if (apart < 0.02)
        continue;
      int count = geo_polynomial_roots (b, degree, roots);
      for (int i = 0; i < degree; i++)
        inside += wanted[i] >= 0 && wanted[i] <= 1;
      g_assert_cmpint (count, ==, inside);
      for (int i = 0; i < count; i++)
        {
          double off = 1;
          for (int j = 0; j < degree; j++)
            off = fmin (off, fabs (roots[i] - wanted[j]));
          g_assert_cmpfloat (off, <, 1e-7);
          g_assert_true (i == 0 || roots[i] > roots[i - 1]);
        }
    }
  double roots[9];
  const double zero[4] = { 0, 0, 0, 0 }, ends[3] = { 0, 1, 0 };
  const double touch[3] = { 0.25, -0.25, 0.25 }, none[3] = { 1, 0.5, 2 };
  g_assert_cmpint (geo_polynomial_roots (zero, 3, roots), ==, 0);
  g_assert_cmpint (geo_polynomial_roots (none, 2, roots), ==, 0);
  g_assert_cmpint (geo_polynomial_roots (ends, 2, roots), ==, 2);
  g_assert_true (roots[0] == 0 && roots[1] == 1);
  g_assert_cmpint (geo_polynomial_roots (touch, 2, roots), ==, 1);
  NEAR (roots[0], 0.5, 1e-7);
}

/* Nothing but finite numbers, whatever comes in. */
static void
check_finite (const GeoCubic *c)
{
  double t[5];
  int n;
  for (int i = 0; i <= 32; i++)
    {
      GeoPoint tangent = geo_cubic_tangent (c, i / 32.0);
      assert_finite_point (tangent);
      g_assert_true (geo_same (tangent, geo_point (0, 0))
                     || fabs (geo_norm (tangent) - 1) < 1e-12);
      g_assert_cmpfloat (fabs (geo_cubic_curvature (c, i / 32.0)), <=, 1e9);
    }
  g_assert_true (isfinite (geo_cubic_turning (c)));
  g_assert_cmpfloat (fabs (geo_cubic_turning (c)), <, 10 * G_PI);
  for (int which = 0; which < 4; which++)
    {
      n = which == 0   ? geo_cubic_inflections (c, t)
          : which == 1 ? geo_cubic_curvature_extrema (c, t)
          : which == 2
              ? geo_cubic_cusps (c, t)
              : geo_cubic_crossings_line (c, c->p[1], geo_point (1, 0.3), t);
      for (int i = 0; i < n; i++)
        {
          g_assert_true (t[i] >= 0 && t[i] <= 1);
          g_assert_true (i == 0 || t[i] >= t[i - 1]);
        }
    }
  GeoBox box = geo_cubic_bounds (c);
  g_assert_true (isfinite (box.x0 + box.x1 + box.y0 + box.y1));
}

static void
test_finite (void)
{
  g_autoptr (GArray) degenerate = curve_samples_degenerate ();
  for (guint i = 0; i < degenerate->len; i++)
    check_finite (&g_array_index (degenerate, CurveSample, i).c);
  for (int i = 0; i < 5000; i++)
    {
      GeoCubic c = random_awkward_cubic (i % 3 ? 400 : 1e-5);
      check_finite (&c);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/cubic/point", test_point);
  g_test_add_func ("/geometry/cubic/derivatives", test_derivatives);
  g_test_add_func ("/geometry/cubic/arc", test_arc);
  g_test_add_func ("/geometry/cubic/tangent-limits", test_tangent_limits);
  g_test_add_func ("/geometry/cubic/parts", test_parts);
  g_test_add_func ("/geometry/cubic/motions", test_motions);
  g_test_add_func ("/geometry/cubic/bounds", test_bounds);
  g_test_add_func ("/geometry/cubic/shapes", test_shapes);
  g_test_add_func ("/geometry/cubic/inflections", test_inflections);
  g_test_add_func ("/geometry/cubic/curvature-extrema", test_curvature_extrema);
  g_test_add_func ("/geometry/cubic/cusps", test_cusps);
  g_test_add_func ("/geometry/cubic/turning", test_turning);
  g_test_add_func ("/geometry/cubic/line-crossings", test_line_crossings);
  g_test_add_func ("/geometry/cubic/pull", test_pull);
  g_test_add_func ("/geometry/cubic/polynomial", test_polynomial);
  g_test_add_func ("/geometry/cubic/finite", test_finite);
  return g_test_run ();
}
