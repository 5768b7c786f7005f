/* SPDX-License-Identifier: GPL-3.0-or-later */
/* True size: planes against the matrix of the camera that saw them, and against what any view of a
 * plane keeps (lines, cross ratios). */
#include <math.h>
#include <string.h>

#include "tracing/plane.h"

#define assert_near(a, b, tolerance)                                           \
  g_assert_cmpfloat_with_epsilon (a, b, tolerance)

static void
assert_at (GeoPoint a, GeoPoint b, double tolerance)
{
  if (geo_distance (a, b) > tolerance)
    g_test_message ("(%g, %g) is not (%g, %g)", a.x, a.y, b.x, b.y);
  g_assert_cmpfloat (geo_distance (a, b), <=, tolerance);
}

static double
random_in (double from, double to)
{
  return g_test_rand_double_range (from, to);
}

/* A pinhole camera: focal length and middle in px, its axis leaning by tilt towards the direction around, turned about
 * its axis; the table's origin at distance mm before it. By the textbook, x ~ K [r1 r2 t] (X, Y, 1). */
typedef struct
{
  double focal, tilt, around, turn, distance;
  GeoPoint middle;
} Camera;

static GeoPoint
camera_see (const Camera *k, GeoPoint mm)
{
  double ca = cos (k->around), sa = sin (k->around);
  double u = ca * mm.x + sa * mm.y, v = -sa * mm.x + ca * mm.y;
  double near = u * cos (k->tilt), z = k->distance + u * sin (k->tilt);
  double x = ca * near - sa * v, y = sa * near + ca * v;
  double ct = cos (k->turn), st = sin (k->turn);
  return geo_point (k->middle.x + k->focal * (ct * x - st * y) / z,
                    k->middle.y + k->focal * (st * x + ct * y) / z);
}

static Camera
random_camera (void)
{
  return (Camera){ random_in (2500, 4500), random_in (0, 0.6),
                   random_in (-3, 3),      random_in (-3, 3),
                   random_in (700, 1500),  { 2000, 1500 } };
}

static void
test_camera (void)
{
  for (guint round = 0; round < 400; round++)
    {
      Camera k = random_camera ();
      double w = random_in (80, 400), h = random_in (80, 400);
      GeoPoint at = { random_in (-200, 0), random_in (-200, 0) };
      GeoPoint mm[4] = {
        at, { at.x + w, at.y }, { at.x + w, at.y + h }, { at.x, at.y + h }
      };
      gboolean back = round % 2 == 1;
      GeoPoint px[4];
      for (guint i = 0; i < 4; i++)
        px[i] = camera_see (&k, mm[back ? (4 - i) % 4 : i]);
      TracingPlane plane;
      g_autoptr (GError) error = NULL;
      g_assert_true (tracing_plane_from_corners (px, back ? h : w, back ? w : h,
                                                 &plane, &error));
      g_assert_no_error (error);
      assert_at (tracing_plane_to_mm (&plane, px[0]), geo_point (0, 0), 1e-9);
      /* Distances anywhere about are the camera's own; nothing is turned over. */
      for (guint i = 0; i < 20; i++)
        {
          GeoPoint a = { random_in (-300, 300), random_in (-300, 300) };
          GeoPoint b = { random_in (-300, 300), random_in (-300, 300) };
          GeoPoint c = { random_in (-300, 300), random_in (-300, 300) };
          GeoPoint ma = tracing_plane_to_mm (&plane, camera_see (&k, a));
          GeoPoint mb = tracing_plane_to_mm (&plane, camera_see (&k, b));
          GeoPoint mc = tracing_plane_to_mm (&plane, camera_see (&k, c));
          assert_near (geo_distance (ma, mb), geo_distance (a, b), 1e-7);
          assert_near (geo_cross (geo_sub (mb, ma), geo_sub (mc, ma)),
                       geo_cross (geo_sub (b, a), geo_sub (c, a)), 1e-4);
          assert_at (tracing_plane_to_px (&plane, ma), camera_see (&k, a),
                     1e-7);
        }
    }
}

/* The picture comes to lie on the table as it is seen: its right stays right. */
static void
test_upright (void)
{
  static const GeoPoint px[4]
      = { { 100, 110 }, { 700, 100 }, { 710, 500 }, { 90, 505 } };
  for (guint first = 0; first < 4; first++)
    for (int way = -1; way <= 1; way += 2)
      {
        GeoPoint c[4];
        for (guint i = 0; i < 4; i++)
          c[i] = px[(first + 4 + (guint)(way * (int)i)) % 4];
        gboolean upright = (first % 2 == 0) != (way > 0);
        TracingPlane plane;
        g_assert_true (tracing_plane_from_corners (
            c, upright ? 200 : 300, upright ? 300 : 200, &plane, NULL));
        GeoPoint a = tracing_plane_to_mm (&plane, px[0]);
        assert_at (geo_sub (tracing_plane_to_mm (&plane, px[1]), a),
                   geo_point (300, 0), 1e-9);
        assert_at (geo_sub (tracing_plane_to_mm (&plane, px[2]), a),
                   geo_point (300, 200), 1e-9);
        assert_at (tracing_plane_to_mm (&plane, c[0]), geo_point (0, 0), 1e-9);
      }
}

/* Four places in a line keep their cross ratio in every view. */
static void
test_cross_ratio (void)
{
  for (guint round = 0; round < 200; round++)
    {
      GeoPoint px[4] = { { random_in (0, 50), random_in (0, 50) },
                         { random_in (150, 250), random_in (0, 50) },
                         { random_in (150, 250), random_in (150, 250) },
                         { random_in (0, 50), random_in (150, 250) } };
      TracingPlane plane;
      if (!tracing_plane_from_corners (px, 300, 200, &plane, NULL))
        continue;
      GeoPoint from = { random_in (50, 90), random_in (50, 90) };
      GeoPoint way = { random_in (5, 12), random_in (5, 12) };
      static const double at[4] = { 0, 1, 3, 7 };
      GeoPoint q[4];
      for (guint i = 0; i < 4; i++)
        q[i] = tracing_plane_to_mm (&plane, geo_along (from, way, at[i]));
      GeoPoint u = geo_unit (geo_sub (q[3], q[0]));
      double s[4];
      for (guint i = 0; i < 4; i++)
        {
          s[i] = geo_dot (geo_sub (q[i], q[0]), u);
          assert_near (geo_cross (geo_sub (q[i], q[0]), u), 0, 1e-8);
        }
      assert_near (((s[2] - s[0]) * (s[3] - s[1]))
                       / ((s[3] - s[0]) * (s[2] - s[1])),
                   (3.0 * 6) / (7.0 * 2), 1e-8);
    }
}

/* The unit square's view in closed form (P. Heckbert, "Fundamentals of texture mapping and image warping", 1989,
 * from memory). */
static void
test_closed_form (void)
{
  static const GeoPoint c[4]
      = { { 12, 9 }, { 520, 61 }, { 600, 470 }, { -20, 390 } };
  double sx = c[0].x - c[1].x + c[2].x - c[3].x;
  double sy = c[0].y - c[1].y + c[2].y - c[3].y;
  double dx1 = c[1].x - c[2].x, dx2 = c[3].x - c[2].x;
  double dy1 = c[1].y - c[2].y, dy2 = c[3].y - c[2].y;
  double det = dx1 * dy2 - dx2 * dy1;
  double g = (sx * dy2 - dx2 * sy) / det, h = (dx1 * sy - sx * dy1) / det;
  TracingPlane plane;
  g_assert_true (tracing_plane_from_corners (c, 600, 450, &plane, NULL));
  for (double u = -0.3; u < 1.4; u += 0.17)
    for (double v = -0.3; v < 1.4; v += 0.17)
      {
        double w = g * u + h * v + 1;
        GeoPoint seen = { ((c[1].x - c[0].x + g * c[1].x) * u
                           + (c[3].x - c[0].x + h * c[3].x) * v + c[0].x)
                              / w,
                          ((c[1].y - c[0].y + g * c[1].y) * u
                           + (c[3].y - c[0].y + h * c[3].y) * v + c[0].y)
                              / w };
        assert_at (tracing_plane_to_px (&plane, geo_point (600 * u, 450 * v)),
                   seen, 1e-7);
      }
}

/* A circle is seen as a conic: with M from px to mm and C the circle's matrix, every pixel on it
 * has x' (M' C M) x = 0, and the conic is an ellipse with the outline's middle elsewhere than the centre's. */
static void
test_circle (void)
{
  Camera k = { 3000, 0.4, 0.8, 0.3, 900, { 2000, 1500 } };
  GeoPoint px[4], mm[4] = { { 0, 0 }, { 210, 0 }, { 210, 297 }, { 0, 297 } };
  for (guint i = 0; i < 4; i++)
    px[i] = camera_see (&k, mm[i]);
  TracingPlane plane;
  g_assert_true (tracing_plane_from_places (px, mm, 4, &plane, NULL, NULL));
  const double *m = plane.m;
  const double circle[9]
      = { 1, 0, -50, 0, 1, -60, -50, -60, 50 * 50 + 60 * 60 - 1600 };
  double conic[9] = { 0 };
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      for (guint a = 0; a < 3; a++)
        for (guint b = 0; b < 3; b++)
          conic[3 * i + j] += m[3 * a + i] * circle[3 * a + b] * m[3 * b + j];
  g_assert_cmpfloat (conic[0] * conic[4] - conic[1] * conic[1], >, 0);
  for (guint i = 0; i < 90; i++)
    {
      double t = i * G_PI / 45;
      GeoPoint p
          = camera_see (&k, geo_point (50 + 40 * cos (t), 60 + 40 * sin (t)));
      double value = conic[0] * p.x * p.x + 2 * conic[1] * p.x * p.y
                     + conic[4] * p.y * p.y + 2 * conic[2] * p.x
                     + 2 * conic[5] * p.y + conic[8];
      double slope = hypot (conic[0] * p.x + conic[1] * p.y + conic[2],
                            conic[1] * p.x + conic[4] * p.y + conic[5]);
      assert_near (value / slope, 0, 1e-7); /* px off the conic */
    }
  /* And its size there: pixels a mm against a small square as seen. */
  GeoPoint p = camera_see (&k, geo_point (50, 60));
  GeoPoint a = camera_see (&k, geo_point (50.001, 60));
  GeoPoint b = camera_see (&k, geo_point (50, 60.001));
  double area = fabs (geo_cross (geo_sub (a, p), geo_sub (b, p)));
  assert_near (tracing_plane_dots (&plane, p), 1000 * sqrt (area), 1e-4);
}

static void
test_places (void)
{
  for (guint round = 0; round < 50; round++)
    {
      Camera k = random_camera ();
      GeoPoint px[12], mm[12];
      double spread = 0.2;
      for (guint i = 0; i < 12; i++)
        {
          GeoPoint at = { random_in (-250, 250), random_in (-250, 250) };
          px[i] = camera_see (&k, at);
          mm[i] = at;
        }
      TracingPlane plane;
      double residual;
      g_assert_true (
          tracing_plane_from_places (px, mm, 12, &plane, &residual, NULL));
      assert_near (residual, 0, 1e-7);
      for (guint i = 0; i < 12; i++)
        {
          mm[i].x += random_in (-spread, spread);
          mm[i].y += random_in (-spread, spread);
        }
      g_assert_true (
          tracing_plane_from_places (px, mm, 12, &plane, &residual, NULL));
      g_assert_cmpfloat (residual, <, 2 * spread);
      /* At a least sum no small change of any number brings it down. */
      double sum = 0;
      for (guint i = 0; i < 12; i++)
        {
          double off
              = geo_distance (tracing_plane_to_mm (&plane, px[i]), mm[i]);
          sum += off * off;
        }
      for (guint j = 0; j < 8; j++)
        for (int way = -1; way <= 1; way += 2)
          {
            TracingPlane other = plane;
            other.m[j] *= 1 + way * 1e-5;
            double changed = 0;
            for (guint i = 0; i < 12; i++)
              {
                double off
                    = geo_distance (tracing_plane_to_mm (&other, px[i]), mm[i]);
                changed += off * off;
              }
            g_assert_cmpfloat (changed, >=, sum * (1 - 1e-9));
          }
    }
}

static void
test_plain_scales (void)
{
  TracingPlane plane;
  g_assert_true (tracing_plane_from_resolution (
      geo_point (300 / 25.4, 150 / 25.4), &plane, NULL));
  assert_at (tracing_plane_to_mm (&plane, geo_point (300, 150)),
             geo_point (25.4, 25.4), 1e-12);
  assert_near (tracing_plane_dots (&plane, geo_point (5, 5)),
               sqrt (300.0 * 150) / 25.4, 1e-9);
  g_assert_true (tracing_plane_from_distance (
      geo_point (10, 10), geo_point (310, 410), 100, &plane, NULL));
  GeoBox box = tracing_plane_box (&plane, 1000, 500);
  assert_near (box.x1, 200, 1e-9);
  assert_near (box.y1, 100, 1e-9);
  g_assert_true (tracing_plane_is_fit (&plane, 1000, 500));
  g_assert_true (tracing_plane_from_distance (
      geo_point (0, 0), geo_point (300, 400), 99999, &plane, NULL));
  g_assert_false (tracing_plane_is_fit (&plane, 1000, 500));
}

static void
refused (gboolean done, GError **error, const char *words)
{
  g_assert_false (done);
  g_assert_error (*error, TRACING_ERROR, TRACING_ERROR_SCALE);
  if (strstr ((*error)->message, words) == NULL)
    g_error ("“%s” does not say “%s”", (*error)->message, words);
  g_clear_error (error);
}

static void
test_refused (void)
{
  TracingPlane plane = { { 7, 0, 0, 0, 7, 0, 0, 0, 1 } }, was = plane;
  GError *error = NULL;
  refused (tracing_plane_from_resolution (geo_point (0, 0), &plane, &error),
           &error, "does not say how many dots");
  refused (tracing_plane_from_resolution (geo_point (NAN, 3), &plane, &error),
           &error, "does not say");
  refused (
      tracing_plane_from_resolution (geo_point (4000, 4000), &plane, &error),
      &error, "can't be its true size");
  GeoPoint a = { 10, 10 }, b = { 500, 10 };
  refused (tracing_plane_from_distance (a, b, 0, &plane, &error), &error,
           "above 0");
  refused (tracing_plane_from_distance (a, b, NAN, &plane, &error), &error,
           "above 0");
  refused (tracing_plane_from_distance (a, b, 100001, &plane, &error), &error,
           "100 m at most");
  refused (tracing_plane_from_distance (a, a, 100, &plane, &error), &error,
           "are one");
  static const struct
  {
    GeoPoint c[4];
    double width, height;
    const char *words;
  } rows[] = {
    { { { 0, 0 }, { 90, 0 }, { 90, 60 }, { 0, 60 } }, 0, 60, "above 0" },
    { { { 0, 0 }, { 90, 0 }, { 90, 60 }, { 0, 60 } }, 90, -1, "above 0" },
    { { { 0, 0 }, { 90, 0 }, { 0, 60 }, { 90, 60 } }, 90, 60, "cross" },
    { { { 0, 0 }, { 90, 60 }, { 90, 0 }, { 0, 60 } }, 90, 60, "cross" },
    { { { 0, 0 }, { 90, 0 }, { 90, 0.5 }, { 0, 60 } }, 90, 60, "one place" },
    { { { 0, 0 }, { 45, 0 }, { 90, 0 }, { 0, 60 } }, 90, 60, "in a line" },
    { { { 0, 0 }, { 30, 0 }, { 60, 0 }, { 90, 0 } }, 90, 60, "in a line" },
    { { { 0, 0 }, { 90, 0 }, { 25, 20 }, { 0, 60 } }, 90, 60, "between" },
    { { { 0, 0 }, { 1000, 0 }, { 505, 400 }, { 495, 400 } },
      90,
      60,
      "slantwise" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      refused (tracing_plane_from_corners (rows[i].c, rows[i].width,
                                           rows[i].height, &plane, &error),
               &error, rows[i].words);
      if (i < 7)
        g_assert_cmpfloat (
            tracing_plane_side_ratio (rows[i].c, 90, 60, 900, 600), >=, 0);
    }
  const GeoPoint line[5]
      = { { 0, 0 }, { 10, 1 }, { 20, 2 }, { 50, 5 }, { 70, 7 } };
  refused (tracing_plane_from_places (line, line, 5, &plane, NULL, &error),
           &error, "in a line");
  refused (tracing_plane_from_places (line, line, 3, &plane, NULL, &error),
           &error, "four places");
  g_assert_cmpmem (&plane, sizeof plane, &was, sizeof was);
}

/* A picture that reaches the horizon is none to measure in, though the sheet in it is. */
static void
test_horizon (void)
{
  Camera k = { 2000, 1.1, -G_PI / 2, 0, 1500, { 2000, 1500 } };
  GeoPoint px[4], mm[4] = { { 0, 0 }, { 210, 0 }, { 210, 297 }, { 0, 297 } };
  for (guint i = 0; i < 4; i++)
    px[i] = camera_see (&k, mm[i]);
  TracingPlane plane;
  g_assert_true (tracing_plane_from_corners (px, 210, 297, &plane, NULL));
  g_assert_false (tracing_plane_is_fit (&plane, 4000, 3000));
  for (double y = -500; y < 500; y += 0.25)
    {
      GeoPoint at = tracing_plane_to_mm (&plane, geo_point (2000, y));
      g_assert_true (isfinite (at.x) && isfinite (at.y));
    }
}

static void
test_side_ratio (void)
{
  guint told = 0;
  for (guint round = 0; round < 200; round++)
    {
      Camera k = random_camera ();
      k.tilt = random_in (0.2, 0.5);
      GeoPoint px[4];
      GeoPoint mm[4]
          = { { -150, -100 }, { 150, -100 }, { 150, 100 }, { -150, 100 } };
      for (guint i = 0; i < 4; i++)
        px[i] = camera_see (&k, mm[i]);
      double right = tracing_plane_side_ratio (px, 300, 200, 4000, 3000);
      double wrong = tracing_plane_side_ratio (px, 200, 300, 4000, 3000);
      if (right == 0)
        continue;
      told++;
      assert_near (right, 1, 0.1);
      assert_near (wrong, 2.25, 0.25);
    }
  g_assert_cmpuint (told, >, 120);
  static const GeoPoint square_on[4]
      = { { 1000, 1000 }, { 2500, 1000 }, { 2500, 2000 }, { 1000, 2000 } };
  assert_near (tracing_plane_side_ratio (square_on, 300, 200, 4000, 3000), 1,
               1e-9);
}

static void
test_marks (void)
{
  for (guint round = 0; round < 200; round++)
    {
      gsize n = 2 + (gsize)g_test_rand_int_range (0, 6);
      GeoPoint a[8], b[8];
      double off[8];
      GeoMotion truth = geo_motion_about (geo_point (random_in (-500, 500), 90),
                                          random_in (-3.1, 3.1));
      truth.dx += 300;
      for (gsize i = 0; i < n; i++)
        {
          b[i] = geo_point (random_in (0, 300), random_in (0, 300));
          a[i] = geo_motion_apply (truth, b[i]);
        }
      GeoMotion m;
      g_assert_true (tracing_lay_marks (a, b, n, &m, off));
      assert_near (m.c, truth.c, 1e-9);
      assert_near (m.s, truth.s, 1e-9);
      g_assert_false (m.flip);
      for (gsize i = 0; i < n; i++)
        assert_near (off[i], 0, 1e-9);
    }
  /* Two marks 2 mm too far apart: each is 1 mm off, by symmetry. */
  const GeoPoint a[2] = { { 0, 0 }, { 102, 0 } };
  const GeoPoint b[2] = { { 10, 10 }, { 10, 110 } };
  double off[2];
  GeoMotion m;
  g_assert_true (tracing_lay_marks (a, b, 2, &m, off));
  assert_near (off[0], 1, 1e-12);
  assert_near (off[1], 1, 1e-12);
  assert_at (geo_motion_apply (m, geo_point (10, 60)), geo_point (51, 0),
             1e-12);
  g_assert_false (tracing_lay_marks (a, b, 1, &m, off));
  const GeoPoint same[2] = { { 5, 5 }, { 5, 5 } };
  g_assert_false (tracing_lay_marks (a, same, 2, &m, off));
  g_assert_false (tracing_lay_marks (same, b, 2, &m, off));
}

/* Whichever way the corners went round, and from which: the picture lies as it is seen, its
 * box at the origin, no mirror. */
static void
test_set_upright (void)
{
  const GeoPoint seen[4]
      = { { 812, 640 }, { 1903, 702 }, { 1810, 2250 }, { 760, 2190 } };
  TracingPlane first = { { 0 } };
  for (int turn = 0; turn < 8; turn++)
    {
      GeoPoint corners[4];
      TracingPlane plane;
      GError *error = NULL;
      for (int i = 0; i < 4; i++)
        corners[i] = seen[(turn < 4 ? turn + i : turn + 4 - i) % 4];
      gboolean long_first = (turn + (turn >= 4)) % 2;
      tracing_plane_from_corners (corners, long_first ? 297 : 210,
                                  long_first ? 210 : 297, &plane, &error);
      g_assert_no_error (error);
      tracing_plane_set_upright (&plane, 2400, 3000);
      GeoBox box = tracing_plane_box (&plane, 2400, 3000);
      g_assert_cmpfloat_with_epsilon (box.x0, 0, 1e-9);
      g_assert_cmpfloat_with_epsilon (box.y0, 0, 1e-9);
      if (turn == 0)
        first = plane;
      for (int i = 0; i < 4; i++)
        {
          GeoPoint a = tracing_plane_to_mm (&first, seen[i]);
          GeoPoint b = tracing_plane_to_mm (&plane, seen[i]);
          g_assert_cmpfloat (geo_distance (a, b), <, 1e-6);
        }
      GeoPoint a = tracing_plane_to_mm (&plane, seen[0]);
      GeoPoint b = tracing_plane_to_mm (&plane, seen[1]);
      GeoPoint c = tracing_plane_to_mm (&plane, seen[3]);
      g_assert_cmpfloat (b.x - a.x, >, 200);
      g_assert_cmpfloat (c.y - a.y, >, 290);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/tracing/plane/set-upright", test_set_upright);
  g_test_add_func ("/tracing/plane/camera", test_camera);
  g_test_add_func ("/tracing/plane/upright", test_upright);
  g_test_add_func ("/tracing/plane/cross-ratio", test_cross_ratio);
  g_test_add_func ("/tracing/plane/closed-form", test_closed_form);
  g_test_add_func ("/tracing/plane/circle", test_circle);
  g_test_add_func ("/tracing/plane/places", test_places);
  g_test_add_func ("/tracing/plane/plain-scales", test_plain_scales);
  g_test_add_func ("/tracing/plane/refused", test_refused);
  g_test_add_func ("/tracing/plane/horizon", test_horizon);
  g_test_add_func ("/tracing/plane/side-ratio", test_side_ratio);
  g_test_add_func ("/tracing/plane/marks", test_marks);
  return g_test_run ();
}
