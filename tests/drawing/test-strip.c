/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing/strip.h"
#include "sample.h"
#include "sewing/walk.h"

#define HEIGHT 200

typedef struct
{
  Pattern *pattern;
  const PatternSeam *seam;
  SewingFacts *facts;
} Case;

/* A hollow quarter circle of radius 100 above, a straight line of a length
 * below: the methods' example, 157.0796 mm against 160 mm. */
static Case
case_new (double length)
{
  Case c = { .pattern = pattern_new ("test"), .facts = sewing_facts_new () };
  PatternPiece *neck = sample_hollow (c.pattern, "neck", 0, 0, 100);
  PatternPiece *band = sample_band (c.pattern, "band", 300, 0, length);
  guint id = pattern_take_id (c.pattern);
  PatternSeam *seam = pattern_seam_new (id, "neck");
  pattern_seam_add_run (seam, 0,
                        (PatternRun){ neck->id, neck->edges[0].id, FALSE });
  pattern_seam_add_run (seam, 1,
                        (PatternRun){ band->id, band->edges[0].id, FALSE });
  pattern_put_piece (c.pattern, neck);
  pattern_put_piece (c.pattern, band);
  pattern_put_seam (c.pattern, seam);
  c.seam = pattern_get_seam (c.pattern, id);
  return c;
}

static void
case_clear (Case *c)
{
  sewing_facts_free (c->facts);
  pattern_unref (c->pattern);
}

static cairo_surface_t *
paint (Case *c, int width, int height, gboolean dark, double lit)
{
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  g_autoptr (SewingStrain) strain = sewing_strain_new (c->facts, c->pattern);
  DrawingStripLook look = { dark, strain };
  drawing_paint_strip (cr, c->facts, c->pattern, c->seam, width, height, &look);
  if (lit >= 0)
    {
      const SewingSeam *known
          = sewing_facts_seam (c->facts, c->pattern, c->seam);
      double at[2]
          = { lit, known != NULL ? sewing_seam_facing (known, 0, lit) : lit };
      drawing_paint_strip_lit (cr, c->facts, c->pattern, c->seam, width, height,
                               dark, at);
    }
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static DrawingColour
pixel (cairo_surface_t *surface, int x, int y)
{
  const guint8 *c = cairo_image_surface_get_data (surface)
                    + y * cairo_image_surface_get_stride (surface) + 4 * x;
  return (DrawingColour){ c[2] / 255.0, c[1] / 255.0, c[0] / 255.0, 1 };
}

static double
distance (DrawingColour a, DrawingColour b)
{
  return fabs (a.r - b.r) + fabs (a.g - b.g) + fabs (a.b - b.b);
}

/* First and last pixel of a row that are nearly the ink's colour, and the row.
 */
static void
find_line (cairo_surface_t *s, int from, int to, double *first, double *last,
           int *row)
{
  DrawingColour ink = drawing_style_table (1, FALSE).ink;
  int most = 0, width = cairo_image_surface_get_width (s);
  *row = -1;
  for (int y = from; y < to; y++)
    {
      int count = 0;
      for (int x = 0; x < width; x++)
        count += distance (pixel (s, x, y), ink) < 0.2;
      if (count > most)
        {
          most = count;
          *row = y;
        }
    }
  g_assert_cmpint (most, >, width / 4);
  *first = width;
  *last = 0;
  /* The ends are covered by a thread's knots; names and figures are off it. */
  DrawingColour paper = drawing_style_table (1, FALSE).paper;
  for (int x = 150; x < width - 90; x++)
    if (distance (pixel (s, x, *row), paper) > 0.8)
      {
        *first = fmin (*first, x);
        *last = fmax (*last, x);
      }
}

/* Both lines are drawn to one scale. */
static void
test_to_scale (void)
{
  Case c = case_new (160);
  cairo_surface_t *s = paint (&c, 1000, HEIGHT, FALSE, -1);
  double a0, a1, b0, b1;
  int row_a, row_b;
  find_line (s, 20, 80, &a0, &a1, &row_a);
  find_line (s, 80, 140, &b0, &b1, &row_b);
  g_assert_cmpint (row_a, <, row_b);
  /* A knot stands out by 2.6 pixels at either end. */
  double scale = (b1 - b0 + 1 - 5.2) / 160;
  /* A quarter of a circle of radius 100. */
  g_assert_cmpfloat_with_epsilon ((a1 - a0 + 1 - 5.2) / scale, 50 * G_PI,
                                  1 / scale);
  g_assert_cmpfloat_with_epsilon (a0, b0, 1);
  /* Pointing and painting agree. */
  double at = drawing_strip_at (c.facts, c.pattern, c.seam, 1000, a0 + 2.6);
  g_assert_cmpfloat_with_epsilon (at, 0, 1 / scale);
  at = drawing_strip_at (c.facts, c.pattern, c.seam, 1000, (a0 + a1) / 2);
  g_assert_cmpfloat_with_epsilon (at, 25 * G_PI, 1 / scale);
  at = drawing_strip_at (c.facts, c.pattern, c.seam, 1000, 5000);
  g_assert_cmpfloat_with_epsilon (at, 50 * G_PI, 1e-3);
  at = drawing_strip_at (c.facts, c.pattern, c.seam, 1000, -5000);
  g_assert_cmpfloat (at, ==, 0);
  cairo_surface_destroy (s);
  case_clear (&c);
}

/* Nearer to the longer's colour, > 0, or to the shorter's, < 0, beside a line.
 */
static double
leaning (cairo_surface_t *s, int x, int y)
{
  DrawingStyle style = drawing_style_table (1, FALSE);
  DrawingColour c = pixel (s, x, y);
  double blue = c.b - c.r, paper = style.paper.b - style.paper.r;
  return blue - paper;
}

static void
test_tints (void)
{
  for (int longer = 0; longer < 3; longer++)
    {
      /* Below longer, below shorter, equal. */
      Case c = case_new (longer == 0 ? 160 : longer == 1 ? 154 : 50 * G_PI);
      cairo_surface_t *s = paint (&c, 1000, HEIGHT, FALSE, -1);
      double first, last;
      int row_a, row_b;
      find_line (s, 20, 80, &first, &last, &row_a);
      find_line (s, 80, 140, &first, &last, &row_b);
      /* Off the figures, the clips and the threads. */
      double a = 0, b = 0;
      for (int x = 200; x < 260; x++)
        {
          a += leaning (s, x, row_a + 17);
          b += leaning (s, x, row_b - 17);
        }
      if (longer == 0)
        {
          g_assert_cmpfloat (a, <, -1);
          g_assert_cmpfloat (b, >, 1);
        }
      else if (longer == 1)
        {
          g_assert_cmpfloat (a, >, 1);
          g_assert_cmpfloat (b, <, -1);
        }
      else
        g_assert_cmpfloat_with_epsilon (a, b, 0.1);
      cairo_surface_destroy (s);
      case_clear (&c);
    }
}

/* The hollow side has a profile above its line, the straight one none below. */
static void
test_profile (void)
{
  Case c = case_new (50 * G_PI);
  cairo_surface_t *s = paint (&c, 1000, HEIGHT, FALSE, -1);
  DrawingColour paper = drawing_style_table (1, FALSE).paper;
  double first, last;
  int row_a, row_b;
  find_line (s, 20, 80, &first, &last, &row_a);
  find_line (s, 80, 140, &first, &last, &row_b);
  int above = 0, below = 0;
  for (int x = 250; x < 350; x++)
    {
      above += distance (pixel (s, x, row_a - 8), paper) > 0.03;
      below += distance (pixel (s, x, row_b + 8), paper) > 0.03;
    }
  g_assert_cmpint (above, ==, 100);
  g_assert_cmpint (below, ==, 0);
  cairo_surface_destroy (s);
  case_clear (&c);
}

static void
test_lit (void)
{
  Case c = case_new (160);
  DrawingColour lit = drawing_style_table (1, FALSE).lit;
  double first, last, at = 25 * G_PI;
  int row_a, row_b;
  cairo_surface_t *bare = paint (&c, 1000, HEIGHT, FALSE, -1);
  cairo_surface_t *s = paint (&c, 1000, HEIGHT, FALSE, at);
  find_line (bare, 20, 80, &first, &last, &row_a);
  int x = (int)round ((first + last) / 2), seen = 0;
  find_line (bare, 80, 140, &first, &last, &row_b);
  /* Half of A lies against half of B. */
  int xb = (int)round ((first + last) / 2);
  for (int side = 0; side < 2; side++)
    for (int dx = -7; dx <= 7; dx++)
      for (int dy = -7; dy <= 7; dy++)
        {
          int px = (side ? xb : x) + dx, py = (side ? row_b : row_a) + dy;
          seen += distance (pixel (s, px, py), lit) < 0.15;
          g_assert_cmpfloat (distance (pixel (bare, px, py), lit), >, 0.1);
        }
  g_assert_cmpint (seen, >, 20);
  cairo_surface_destroy (s);
  cairo_surface_destroy (bare);
  case_clear (&c);
}

/* How many pixels of a colour there are in a box. */
static int
count_of (cairo_surface_t *s, DrawingColour colour, int x0, int y0, int x1,
          int y1)
{
  int count = 0;
  for (int x = x0; x < x1; x++)
    for (int y = y0; y < y1; y++)
      count += distance (pixel (s, x, y), colour) < 0.12;
  return count;
}

/* A hollow quarter circle on a straight line: a saddle of a quarter turn, even all
 * along. Turned, the same seam lies double and shows none. */
static void
test_shaping (void)
{
  Case c = case_new (50 * G_PI);
  DrawingColour shaping = drawing_style_table (1, FALSE).shaping;
  cairo_surface_t *s = paint (&c, 1000, HEIGHT, FALSE, -1);
  /* The outline of the hollow, over nearly all the seam's length. */
  int along = 0;
  for (int x = 180; x < 860; x++)
    along += count_of (s, shaping, x, 130, x + 1, 182) > 0;
  g_assert_cmpint (along, >, 640);
  cairo_surface_destroy (s);
  PatternSeam *turned = pattern_seam_dup (c.seam);
  turned->press = PATTERN_PRESS_TURNED;
  pattern_put_seam (c.pattern, turned);
  c.seam = pattern_get_seam (c.pattern, turned->id);
  s = paint (&c, 1000, HEIGHT, FALSE, -1);
  g_assert_cmpint (count_of (s, shaping, 0, 0, 1000, HEIGHT), ==, 0);
  cairo_surface_destroy (s);
  case_clear (&c);
}

/* With a grain across the diagonal, the whole straight edge runs on the bias and its
 * line is striped: as much paper as ink in it. With the grain along the edge it is
 * full. */
static void
test_bias (void)
{
  for (int bias = 0; bias < 2; bias++)
    {
      Case c = case_new (50 * G_PI);
      PatternPiece *band = pattern_piece_dup (
          pattern_get_piece (c.pattern, c.seam->sides[1].runs[0].piece));
      band->has_grain = TRUE;
      band->grain_from = geo_point (320, 20);
      band->grain_to = bias ? geo_point (340, 40) : geo_point (340, 20);
      pattern_put_piece (c.pattern, band);
      cairo_surface_t *s = paint (&c, 1000, HEIGHT, FALSE, -1);
      DrawingColour paper = drawing_style_table (1, FALSE).paper;
      int light = count_of (s, paper, 300, 98, 700, 99);
      if (bias)
        g_assert_cmpint (light, >, 60);
      else
        g_assert_cmpint (light, ==, 0);
      cairo_surface_destroy (s);
      case_clear (&c);
    }
}

/* A side of two pieces that lie apart on the table: nothing is measured across
 * the gap. Once the second began where the first ended. */
static void
test_two_pieces (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("test");
  PatternPiece *back = sample_hollow (pattern, "back neck", 0, 0, 40);
  PatternPiece *front = sample_hollow (pattern, "front neck", 900, 50, 60);
  PatternPiece *band = sample_band (pattern, "band", 300, 400, 50 * G_PI);
  guint id = pattern_take_id (pattern);
  PatternSeam *seam = pattern_seam_new (id, "neck");
  pattern_seam_add_run (seam, 0,
                        (PatternRun){ back->id, back->edges[0].id, FALSE });
  pattern_seam_add_run (seam, 0,
                        (PatternRun){ front->id, front->edges[0].id, TRUE });
  pattern_seam_add_run (seam, 1,
                        (PatternRun){ band->id, band->edges[0].id, FALSE });
  pattern_put_piece (pattern, back);
  pattern_put_piece (pattern, front);
  pattern_put_piece (pattern, band);
  pattern_put_seam (pattern, seam);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *known
      = sewing_facts_seam (facts, pattern, pattern_get_seam (pattern, id));
  /* Quarter circles of radius 40 and 60. */
  g_assert_cmpfloat_with_epsilon (known->lengths[0], 50 * G_PI, 1e-2);
  g_assert_cmpfloat_with_epsilon (geo_ruler_length (&known->rulers[0]),
                                  known->lengths[0], 1e-6);
  g_assert_cmpfloat_with_epsilon (known->lengths[1], 50 * G_PI, 1e-6);
  GeoPoint end = sewing_seam_point (known, 0, known->lengths[0]);
  g_assert_cmpfloat_with_epsilon (geo_distance (end, front->nodes[0].at), 0,
                                  1e-6);
}

/* Any size, any place, sides without edges: painted without a complaint. */
static void
test_odd_sizes (void)
{
  Case c = case_new (160);
  const int sizes[][2]
      = { { 1, 1 }, { 20, 160 }, { 170, 30 }, { 600, 160 }, { 3000, 400 } };
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    for (int dark = 0; dark < 2; dark++)
      cairo_surface_destroy (paint (&c, sizes[i][0], sizes[i][1], dark, 1e6));
  g_autoptr (Pattern) other = pattern_new ("none");
  PatternSeam *half = pattern_seam_new (pattern_take_id (other), "half");
  Pattern *kept = c.pattern;
  const PatternSeam *seam = c.seam;
  c.pattern = other;
  c.seam = half;
  cairo_surface_destroy (paint (&c, 600, HEIGHT, TRUE, 5));
  g_assert_cmpfloat (drawing_strip_at (c.facts, other, half, 600, 300), ==, 0);
  c.pattern = kept;
  c.seam = seam;
  pattern_seam_unref (half);
  case_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/strip/to-scale", test_to_scale);
  g_test_add_func ("/strip/tints", test_tints);
  g_test_add_func ("/strip/profile", test_profile);
  g_test_add_func ("/strip/lit", test_lit);
  g_test_add_func ("/strip/shaping", test_shaping);
  g_test_add_func ("/strip/bias", test_bias);
  g_test_add_func ("/strip/two-pieces", test_two_pieces);
  g_test_add_func ("/strip/odd-sizes", test_odd_sizes);
  return g_test_run ();
}
