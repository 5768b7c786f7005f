/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One fair curve in place of two that meet at an angle. */
#include <glib.h>

#include "geometry/blend.h"
#include "geometry/length.h"
#include "geometry/nearest.h"

#define DEGREE (G_PI / 180)

typedef struct
{
  GeoChain before, after, left, right;
  bool made;
} Blend;

static void
blend_clear (Blend *b)
{
  geo_chain_clear (&b->before);
  geo_chain_clear (&b->after);
  geo_chain_clear (&b->left);
  geo_chain_clear (&b->right);
}

static GeoPoint
start_way (const GeoChain *chain)
{
  return geo_chain_tangent (chain, (GeoPlace){ 0, 0 });
}

static GeoPoint
end_way (const GeoChain *chain)
{
  return geo_chain_tangent (chain, (GeoPlace){ chain->count - 1, 1 });
}

static double
start_bend (const GeoChain *chain)
{
  return geo_chain_curvature (chain, (GeoPlace){ 0, 0 });
}

static double
end_bend (const GeoChain *chain)
{
  return geo_chain_curvature (chain, (GeoPlace){ chain->count - 1, 1 });
}

static void
check_promises (const Blend *b)
{
  g_assert_true (b->made);
  g_assert_true (
      geo_same (geo_chain_start (&b->left), geo_chain_start (&b->before)));
  g_assert_true (
      geo_same (geo_chain_end (&b->left), geo_chain_end (&b->before)));
  g_assert_true (
      geo_same (geo_chain_start (&b->right), geo_chain_end (&b->before)));
  g_assert_cmpfloat (
      geo_distance (geo_chain_end (&b->right), geo_chain_end (&b->after)), <,
      1e-12);
  g_assert_cmpfloat (
      fabs (geo_angle_between (start_way (&b->left), start_way (&b->before))),
      <, 1e-9);
  g_assert_cmpfloat (
      fabs (geo_angle_between (end_way (&b->right), end_way (&b->after))), <,
      1e-9);
  g_assert_cmpfloat (
      fabs (geo_angle_between (end_way (&b->left), start_way (&b->right))), <,
      1e-9);
  g_assert_cmpfloat (fabs (start_bend (&b->left) - start_bend (&b->before)), <,
                     1.1e-6);
  g_assert_cmpfloat (fabs (end_bend (&b->right) - end_bend (&b->after)), <,
                     1.1e-6);
}

/* Two lines of length r that meet at the origin, turned by 2 d there. */
static Blend
blend_lines (double r, double d)
{
  Blend b = { 0 };
  geo_chain_append_line (&b.before, geo_point (-r * cos (d), -r * sin (d)),
                         geo_point (0, 0));
  geo_chain_append_line (&b.after, geo_point (0, 0),
                         geo_point (r * cos (d), -r * sin (d)));
  b.made = geo_blend (&b.before, &b.after, &b.left, &b.right);
  return b;
}

/* The least integral of f'''^2, which is what the fairest curve comes to where
 * slopes are small, with f (0) = f (r) = f' (r) = f'' (r) = 0, f' (0) = d and,
 * for the two sides are alike, f''' (0) = 0: f = d s (1 + s/r) (1 - s/r)^3, and
 * f'' (0) = -4 d / r. */
static void
test_lines (void)
{
  double r = 60, d = 2 * DEGREE, highest = 0;
  Blend b = blend_lines (r, d);
  check_promises (&b);
  for (int i = 1; i < 100; i++)
    {
      double x = i / 100.0, f = d * r * x * (1 + x) * pow (1 - x, 3);
      GeoPoint line = geo_point (r * x * cos (d), -r * x * sin (d));
      GeoPoint want = geo_along (line, geo_point (sin (d), cos (d)), f);
      g_assert_cmpfloat (geo_chain_nearest (&b.right, want, NULL), <,
                         0.02 * 0.134 * d * r);
      highest = fmax (highest, f);
    }
  g_assert_cmpfloat_with_epsilon (highest, 0.134 * d * r, 0.01 * d * r);
  /* Turning by 2 d over the whole, so hollow at first, then most bulging. */
  g_assert_cmpfloat_with_epsilon (fabs (start_bend (&b.right)), 4 * d / r,
                                  0.05 * 4 * d / r);
  g_assert_cmpfloat_with_epsilon (start_bend (&b.right), end_bend (&b.left),
                                  0.01 * 4 * d / r);
  blend_clear (&b);
}

static void
test_line_stays (void)
{
  Blend b = blend_lines (60, 0);
  check_promises (&b);
  g_assert_cmpfloat (geo_chain_stray (&b.left, &b.before, 20, NULL), <, 1e-7);
  g_assert_cmpfloat (geo_chain_stray (&b.right, &b.after, 20, NULL), <, 1e-7);
  blend_clear (&b);
}

/* Two quarter circles that run on into each other are smooth already. */
static void
test_circle_stays (void)
{
  Blend b = { 0 };
  GeoPoint o = { 0, 0 };
  geo_chain_append (&b.before, geo_cubic_arc (o, 100, 0, G_PI / 4));
  geo_chain_append (&b.after, geo_cubic_arc (o, 100, G_PI / 4, G_PI / 2));
  b.made = geo_blend (&b.before, &b.after, &b.left, &b.right);
  check_promises (&b);
  g_assert_cmpfloat (geo_chain_stray (&b.left, &b.before, 20, NULL), <, 0.01);
  g_assert_cmpfloat (geo_chain_stray (&b.right, &b.after, 20, NULL), <, 0.01);
  blend_clear (&b);
}

/* A neckline: a hollow arc runs into a line at an angle. */
static void
test_arc_and_line (void)
{
  for (int deg = -30; deg <= 30; deg += 5)
    for (double reach = 15; reach < 80; reach += 20)
      {
        Blend b = { 0 };
        double turn = deg * DEGREE;
        geo_chain_append (&b.before,
                          geo_cubic_arc (geo_point (0, 0), 80, -0.9, 0));
        geo_chain_append_line (
            &b.after, geo_point (80, 0),
            geo_point (80 - reach * sin (turn), reach * cos (turn)));
        b.made = geo_blend (&b.before, &b.after, &b.left, &b.right);
        check_promises (&b);
        blend_clear (&b);
      }
}

static void
test_no_answer (void)
{
  Blend b = { 0 };
  geo_chain_append_line (&b.before, geo_point (0, 0), geo_point (10, 0));
  g_assert_false (geo_blend (&b.before, &b.after, &b.left, &b.right));
  g_assert_cmpuint (b.left.count, ==, 1);
  g_assert_cmpuint (b.right.count, ==, 0);
  geo_chain_append_line (&b.after, geo_point (11, 0), geo_point (20, 0));
  g_assert_false (geo_blend (&b.before, &b.after, &b.left, &b.right));
  blend_clear (&b);
}

static void
test_any (void)
{
  int made = 0;
  for (int i = 0; i < 60; i++)
    {
      Blend b = { 0 };
      double a = g_test_rand_double_range (-0.4, 0.4);
      GeoPoint j = { 0, 0 };
      GeoPoint p = { g_test_rand_double_range (-150, -30),
                     g_test_rand_double_range (-30, 30) };
      GeoPoint q = { g_test_rand_double_range (30, 150),
                     g_test_rand_double_range (-30, 30) };
      GeoCubic c = geo_cubic_line (p, j), e = geo_cubic_line (j, q);
      c.p[1].y += g_test_rand_double_range (-15, 15);
      c.p[2].y += 40 * a;
      e.p[1].y += g_test_rand_double_range (-15, 15);
      e.p[2].y += 30 * a;
      geo_chain_append (&b.before, c);
      geo_chain_append (&b.after, e);
      b.made = geo_blend (&b.before, &b.after, &b.left, &b.right);
      if (b.made)
        check_promises (&b);
      made += b.made;
      blend_clear (&b);
    }
  g_test_message ("%d of 60 blended", made);
  g_assert_cmpint (made, >=, 54);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/blend/lines", test_lines);
  g_test_add_func ("/geometry/blend/line-stays", test_line_stays);
  g_test_add_func ("/geometry/blend/circle-stays", test_circle_stays);
  g_test_add_func ("/geometry/blend/arc-and-line", test_arc_and_line);
  g_test_add_func ("/geometry/blend/no-answer", test_no_answer);
  g_test_add_func ("/geometry/blend/any", test_any);
  return g_test_run ();
}
