/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <cairo.h>

#include "app/overlays.h"
#include "app/pins.h"
#include "cape.h"

static gboolean
inside (GeoBox box, GeoPoint p)
{
  return p.x >= box.x0 && p.x <= box.x1 && p.y >= box.y0 && p.y <= box.y1;
}

/* Wherever the pointer, the tag lies in the view, off the pointer and off the
 * curve dragged. */
static void
test_place (void)
{
  GeoBox area = { 24, 24, 1024, 724 };
  AppTagSize size = { 210, 66 };
  for (int run = 0; run < 400; run++)
    {
      GeoPoint beside = { g_test_rand_double_range (24, 1024),
                          g_test_rand_double_range (24, 724) };
      double turn = g_test_rand_double_range (0, 2 * G_PI);
      GeoPoint points[80];
      for (int i = 0; i < 80; i++)
        {
          /* An arc of radius 260 through the pointer. */
          double a = turn + (i - 40) / 60.0;
          points[i] = geo_point (beside.x + 260 * (cos (a) - cos (turn)),
                                 beside.y + 260 * (sin (a) - sin (turn)));
        }
      GeoBox box = app_tag_place (size, beside, area, points, 80, NULL);
      g_assert_cmpfloat_with_epsilon (box.x1 - box.x0, size.width, 1e-9);
      g_assert_cmpfloat (box.x0, >=, area.x0);
      g_assert_cmpfloat (box.y0, >=, area.y0);
      g_assert_cmpfloat (box.x1, <=, area.x1);
      g_assert_cmpfloat (box.y1, <=, area.y1);
      g_assert_false (inside (box, beside));
      for (int i = 0; i < 80; i++)
        g_assert_false (inside (box, points[i]));
    }
}

/* A pixel's move does not make it jump to another side. */
static void
test_stays (void)
{
  GeoBox area = { 0, 0, 1000, 700 };
  AppTagSize size = { 200, 60 };
  GeoPoint beside = { 500, 350 };
  GeoBox box = app_tag_place (size, beside, area, NULL, 0, NULL);
  for (int i = 0; i < 100; i++)
    {
      beside.x += 1;
      GeoBox next = app_tag_place (size, beside, area, NULL, 0, &box);
      g_assert_cmpfloat (fabs (next.x0 - box.x0), <=, 1.001);
      g_assert_cmpfloat (fabs (next.y0 - box.y0), <=, 1.001);
      box = next;
    }
}

static void
test_measure (void)
{
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 10, 10);
  cairo_t *cr = cairo_create (surface);
  AppTagSize one = app_tag_measure (cr, "front neck  203.4 mm  +3.2");
  AppTagSize two
      = app_tag_measure (cr, "front neck  203.4 mm  +3.2\ncollar  matches");
  g_assert_cmpfloat (one.width, >, 100);
  g_assert_cmpfloat (two.height, >, one.height + 10);
  g_assert_cmpfloat (two.width, ==, one.width);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static void
test_pins (void)
{
  Cape c = cape_new ();
  AppView view = app_view_start ();
  const GPtrArray *findings = app_session_get_findings (c.session);
  GArray *pins = app_pins_lay (c.session, &view);
  g_assert_cmpuint (pins->len, ==, findings->len);
  g_assert_cmpuint (pins->len, >=, 2);
  for (guint i = 0; i < pins->len; i++)
    {
      const AppPin *pin = &g_array_index (pins, AppPin, i);
      g_assert_cmpint (app_pins_hit (pins, pin->head), ==, (int)i);
      const SewingFinding *finding = g_ptr_array_index (findings, pin->finding);
      g_assert_true (geo_same (pin->point, finding->at));
      for (guint k = 0; k < i; k++)
        g_assert_cmpfloat (
            geo_distance (g_array_index (pins, AppPin, k).head, pin->head), >,
            10);
    }
  g_assert_cmpint (app_pins_hit (pins, geo_point (-500, -500)), ==, -1);
  g_array_unref (pins);
  cape_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/tag/place", test_place);
  g_test_add_func ("/tag/stays", test_stays);
  g_test_add_func ("/tag/measure", test_measure);
  g_test_add_func ("/pins/lay", test_pins);
  return g_test_run ();
}
