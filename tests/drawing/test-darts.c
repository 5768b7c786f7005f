/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A dart's cap and fold on the piece. */
#include "../sewing/builder.h"
#include "drawing/paint.h"

/* The intake is 20 mm wide at the waist; where both legs have an allowance that covers it, it
 * is cloth. */
static const char *const darted
    = "unit mm\npiece panel\nat 0 0\nedge waist seam 10\nline 90 0\n"
      "edge leg_one seam 14\nline 100 80\nedge leg_two seam 14\nline 110 0\n"
      "edge Waist seam 10\nline 200 0\nedge rest seam 10\nline 200 200\n"
      "line 0 200\ndart d panel.leg_one / panel.leg_two~\n";

/* How much ink there is, in a small square about a place, with lines alone. */
static double
ink_at (const char *text, double x, double y)
{
  enum
  {
    SIZE = 24
  };
  g_autoptr (Pattern) p = builder_read (text);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  DrawingStyle style = drawing_style_paper ();
  style.fill = style.words = style.edge_names = style.grain = FALSE;
  style.cutting_line = style.stitch_line = style.notches = FALSE;
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIZE, SIZE);
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, 4, 4);
  cairo_translate (cr, SIZE / 8.0 - x, SIZE / 8.0 - y);
  drawing_paint_piece (cr, facts, p, p->pieces[0], &style);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  const guint8 *data = cairo_image_surface_get_data (surface);
  double sum = 0;
  for (int i = 0; i < SIZE * SIZE; i++)
    sum += data[4 * i + 3] / 255.0;
  cairo_surface_destroy (surface);
  return sum;
}

/* Pressed to A the fold runs up the middle, and the cap rises from the mouth at twice the
 * leg's slant to the fold, 10 tan 2g above the waist; see the derivation with the
 * cap's own test. Nothing stands between legs that are cut apart. */
static void
test_cap (void)
{
  double g = atan (10.0 / 80), top = -10 * tan (2 * g);
  g_assert_cmpfloat (ink_at (darted, 100, top), >, 3);
  g_assert_cmpfloat (ink_at (darted, 95, top / 2), >, 3);
  g_assert_cmpfloat (ink_at (darted, 100, 40), >, 3);
  g_assert_cmpfloat (ink_at (darted, 60, 40), ==, 0);
  g_autofree char *one
      = builder_change (darted, "edge leg_one seam 14", "edge leg_one seam 4");
  g_autofree char *cut
      = builder_change (one, "edge leg_two seam 14", "edge leg_two seam 4");
  g_assert_cmpfloat (ink_at (cut, 100, top), ==, 0);
  g_assert_cmpfloat (ink_at (cut, 100, 10), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing/darts/cap", test_cap);
  return g_test_run ();
}
