/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <cairo.h>

#include "app/overlays.h"
#include "app/pins.h"
#include "app/tool-tag.h"
#include "app/words.h"
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

/* The tag, the strip's heading and the thread say the same of a seam that is eased as meant,
 * and of one that is not: figures by hand from the chain's own length. */
static void
test_seam_words (void)
{
  static const double meant[] = { 0, 1, -3 };
  Cape c = cape_new ();
  for (guint i = 0; i < 4; i++)
    {
      const Pattern *p = app_session_get_pattern (c.session);
      const SewingSeam *facts = sewing_facts_seam (
          app_session_get_facts (c.session), p, pattern_get_seam (p, c.seam));
      /* The collar's neck edge is 200 mm long. */
      double longer = facts->lengths[0] - 200;
      double ease = i < 3 ? meant[i] : longer;
      GError *error = NULL;
      app_session_do (c.session, "ease", NULL,
                      drafting_set_seam (p, c.seam, "collar seam", ease,
                                         PATTERN_PRESS_OPEN, PATTERN_JOIN_SEAM,
                                         &error),
                      &error);
      p = app_session_get_pattern (c.session);
      facts = sewing_facts_seam (app_session_get_facts (c.session), p,
                                 pattern_get_seam (p, c.seam));
      g_autofree char *tag
          = app_tag_seam (c.session, pattern_get_seam (p, c.seam));
      g_autofree char *state = app_words_seam_state (p, facts, NULL);
      g_autofree char *both = g_strdup_printf ("collar seam  %s", state);
      g_assert_cmpstr (tag, ==, both);
      g_autofree char *expected
          = i < 3 ? g_strdup_printf ("collar %.1f mm too short", longer - ease)
                  : g_strdup_printf ("eased %.1f mm, as meant", longer);
      g_assert_cmpstr (state, ==, expected);
      int side;
      gboolean is_out;
      g_assert_cmpuint (facts->n_intervals, ==, 1);
      g_autofree char *thread
          = app_words_interval (p, facts, 0, &side, &is_out);
      g_autofree char *figure
          = i < 3 ? g_strdup_printf ("%.1f mm short", longer - ease)
                  : g_strdup_printf ("%.1f mm eased", longer);
      g_assert_cmpstr (thread, ==, figure);
      g_assert_cmpint (is_out, ==, i < 3);
      /* The collar is short; of two that fit as meant, the front is eased in. */
      g_assert_cmpint (side, ==, i < 3 ? 1 : 0);
    }
  cape_clear (&c);
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

/* Wherever the pattern lies: what sticks on the table has a pin, with its whole head on the table,
 * off the other heads and off the names. */
static void
test_pins (void)
{
  Cape c = cape_new ();
  AppView view = app_view_start ();
  GeoBox area = { 24, 24, 700, 500 };
  const GPtrArray *findings = app_session_get_findings (c.session);
  g_assert_cmpuint (findings->len, >=, 2);
  for (int run = 0; run < 200; run++)
    {
      view.origin = geo_point (g_test_rand_double_range (-400, 300),
                               g_test_rand_double_range (-400, 300));
      /* A name on every finding's right side, where a head would lie. */
      GeoBox boxes[8];
      guint n = MIN (findings->len, 8), seen = 0;
      for (guint i = 0; i < findings->len; i++)
        {
          const SewingFinding *finding = g_ptr_array_index (findings, i);
          GeoPoint at = app_view_to_px (&view, finding->at);
          if (i < n)
            boxes[i] = (GeoBox){ at.x + 4, at.y - 40, at.x + 60, at.y - 12 };
          seen += inside (area, at) ? 1 : 0;
        }
      GArray *pins = app_pins_lay (c.session, &view, area, boxes, n);
      g_assert_cmpuint (pins->len, ==, seen);
      for (guint i = 0; i < pins->len; i++)
        {
          const AppPin *pin = &g_array_index (pins, AppPin, i);
          g_assert_cmpint (app_pins_hit (pins, pin->head), ==, (int)i);
          const SewingFinding *finding
              = g_ptr_array_index (findings, pin->finding);
          g_assert_true (
              geo_same (pin->point, app_view_to_px (&view, finding->at)));
          g_assert_true (inside (geo_box_grow (area, -9), pin->head));
          for (guint k = 0; k < n; k++)
            g_assert_false (inside (geo_box_grow (boxes[k], 7), pin->head));
          for (guint k = 0; k < i; k++)
            g_assert_cmpfloat (
                geo_distance (g_array_index (pins, AppPin, k).head, pin->head),
                >, 14);
        }
      g_assert_cmpint (app_pins_hit (pins, geo_point (-500, -500)), ==, -1);
      g_array_unref (pins);
    }
  cape_clear (&c);
}

/* With room all round the shaft is a short one. */
static void
test_pin_habit (void)
{
  Cape c = cape_new ();
  AppView view = app_view_start ();
  view.origin = geo_point (-300, -300);
  GeoBox area = { 0, 0, 2000, 2000 };
  GArray *pins = app_pins_lay (c.session, &view, area, NULL, 0);
  const AppPin *pin = &g_array_index (pins, AppPin, 0);
  g_assert_cmpfloat_with_epsilon (geo_distance (pin->head, pin->point), 26,
                                  1e-9);
  g_array_unref (pins);
  cape_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/tag/place", test_place);
  g_test_add_func ("/tag/stays", test_stays);
  g_test_add_func ("/tag/seam-words", test_seam_words);
  g_test_add_func ("/tag/measure", test_measure);
  g_test_add_func ("/pins/lay", test_pins);
  g_test_add_func ("/pins/habit", test_pin_habit);
  return g_test_run ();
}
