/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib.h>
#include <string.h>

#include "app/rulers.h"
#include "app/view.h"

static gboolean
same_bits (const AppView *a, const AppView *b)
{
  return memcmp (&a->scale, &b->scale, sizeof a->scale) == 0
         && memcmp (&a->origin, &b->origin, sizeof a->origin) == 0;
}

static void
test_round_trip (void)
{
  for (int run = 0; run < 200; run++)
    {
      AppView view = app_view_start ();
      view.scale = g_test_rand_double_range (0.2, 3);
      view.origin = geo_point (g_test_rand_double_range (-2000, 2000),
                               g_test_rand_double_range (-2000, 2000));
      GeoPoint px = { g_test_rand_double_range (0, 1900),
                      g_test_rand_double_range (0, 1000) };
      AppView before = view;
      AppView middle[30];
      for (int i = 0; i < 30; i++)
        {
          middle[i] = view;
          app_view_zoom_steps (&view, 1, px);
        }
      g_assert_cmpfloat (view.scale, >, 60 * before.scale);
      for (int i = 29; i >= 0; i--)
        {
          app_view_zoom_steps (&view, -1, px);
          g_assert_true (same_bits (&view, &middle[i]));
        }
      g_assert_true (same_bits (&view, &before));
    }
}

/* Every step, also a touchpad's fractions, keeps what is under the pointer. */
static void
test_fixed_point (void)
{
  AppView view = app_view_start ();
  for (int i = 0; i < 5000; i++)
    {
      GeoPoint px = { g_test_rand_double_range (0, 1900),
                      g_test_rand_double_range (0, 1000) };
      GeoPoint before = app_view_to_mm (&view, px);
      app_view_zoom_steps (&view, g_test_rand_double_range (-3, 3), px);
      GeoPoint after = app_view_to_px (&view, before);
      g_assert_cmpfloat (geo_distance (after, px), <, 1e-6);
      g_assert_cmpfloat (view.scale, >=, 0.00999);
      g_assert_cmpfloat (view.scale, <=, 400.01);
    }
}

static void
test_fit (void)
{
  AppView view = app_view_start ();
  GeoBox box = { 100, 200, 500, 400 }, area = { 24, 24, 824, 624 };
  app_view_fit (&view, box, area);
  GeoBox px = app_view_box_to_px (&view, box);
  g_assert_cmpfloat_with_epsilon (view.scale, 2, 1e-12);
  g_assert_cmpfloat_with_epsilon (px.x0, 24, 1e-9);
  g_assert_cmpfloat_with_epsilon (px.x1, 824, 1e-9);
  g_assert_cmpfloat_with_epsilon ((px.y0 + px.y1) / 2, 324, 1e-9);
  /* A point has no size: the scale stays, the point comes to the middle. */
  app_view_fit (&view, (GeoBox){ 7, 7, 7, 7 }, area);
  g_assert_cmpfloat (view.scale, ==, 2);
  GeoPoint at = app_view_to_px (&view, geo_point (7, 7));
  g_assert_cmpfloat_with_epsilon (at.x, 424, 1e-9);
  app_view_fit (&view, geo_box_empty (), area);
  g_assert_cmpfloat (view.scale, ==, 2);
}

static void
test_show (void)
{
  AppView view = app_view_start ();
  GeoBox area = { 0, 0, 800, 600 };
  AppView before = view;
  app_view_show (&view, (GeoBox){ 100, 100, 200, 200 }, area);
  g_assert_true (same_bits (&view, &before));
  app_view_show (&view, (GeoBox){ 900, 100, 1000, 200 }, area);
  g_assert_cmpfloat (view.scale, ==, 1);
  g_assert_cmpfloat_with_epsilon (view.origin.x, 200, 1e-9);
  g_assert_cmpfloat (view.origin.y, ==, 0);
  app_view_show (&view, (GeoBox){ 0, 0, 8000, 100 }, area);
  g_assert_cmpfloat_with_epsilon (view.scale, 0.1, 1e-12);
}

static void
test_ruler (void)
{
  for (double px_per_mm = 0.01; px_per_mm < 400; px_per_mm *= 1.07)
    for (int unit = 0; unit < 3; unit++)
      {
        AppRulerScale s = app_ruler_scale ((PatternUnit)unit, px_per_mm);
        double base = unit == PATTERN_INCH ? 25.4 : unit == PATTERN_CM ? 10 : 1;
        g_assert_cmpfloat_with_epsilon (s.step_mm, s.figure * base, 1e-9);
        g_assert_cmpfloat (s.step_mm * px_per_mm, >=, 44);
        g_assert_cmpuint (s.parts, >=, 1);
        if (s.parts > 1)
          g_assert_cmpfloat (s.step_mm * px_per_mm / s.parts, >=, 4);
      }
  /* An inch of 100 px has room for its sixteenths, one of 50 px for eighths. */
  AppRulerScale s = app_ruler_scale (PATTERN_INCH, 100 / 25.4);
  g_assert_cmpfloat_with_epsilon (s.step_mm / s.parts, 25.4 / 16, 1e-9);
  s = app_ruler_scale (PATTERN_INCH, 50 / 25.4);
  g_assert_cmpfloat_with_epsilon (s.step_mm / s.parts, 25.4 / 8, 1e-9);
  s = app_ruler_scale (PATTERN_CM, 5);
  g_assert_cmpfloat_with_epsilon (s.figure, 1, 1e-12);
  g_assert_cmpuint (s.parts, ==, 10);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/view/round-trip", test_round_trip);
  g_test_add_func ("/view/fixed-point", test_fixed_point);
  g_test_add_func ("/view/fit", test_fit);
  g_test_add_func ("/view/show", test_show);
  g_test_add_func ("/view/ruler", test_ruler);
  return g_test_run ();
}
