/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Path data against the rules of W3C SVG 1.1, chapter 8 and appendix F.2 (errors), F.6
 * (arcs), and against areas in closed form. */
#include <math.h>
#include <string.h>

#include "file/svg-path.h"
#include "file/svg-units.h"
#include "geometry/region.h"

#define TOLERANCE 1e-4

static GArray *
parse (const char *d, gboolean good)
{
  GArray *subpaths = file_svg_subpaths_new ();
  gboolean ok = file_svg_path_parse (d, TOLERANCE, subpaths);
  if (ok != good)
    g_error ("“%s” is said to be %s", d, ok ? "good" : "in error");
  return subpaths;
}

/* What was understood, in one plain way: absolute lines and curves. */
static char *
plain (const char *d, gboolean good)
{
  GArray *subpaths = parse (d, good);
  GString *out = g_string_new (NULL);
  for (guint i = 0; i < subpaths->len; i++)
    {
      const FileSvgSubpath *s = &g_array_index (subpaths, FileSvgSubpath, i);
      GeoPoint p = geo_chain_start (&s->chain);
      g_string_append_printf (out, "M%.6g %.6g", p.x, p.y);
      for (size_t k = 0; k < s->chain.count; k++)
        {
          const GeoCubic *c = &s->chain.cubics[k];
          if (k > 0)
            g_assert_true (geo_same (c->p[0], c[-1].p[3]));
          if (geo_cubic_is_straight (c, 1e-12))
            g_string_append_printf (out, "L%.6g %.6g", c->p[3].x, c->p[3].y);
          else
            g_string_append_printf (out, "C%.6g %.6g %.6g %.6g %.6g %.6g",
                                    c->p[1].x, c->p[1].y, c->p[2].x, c->p[2].y,
                                    c->p[3].x, c->p[3].y);
        }
      if (s->closed)
        {
          g_assert_true (geo_chain_is_closed (&s->chain));
          g_string_append_c (out, 'Z');
        }
    }
  g_array_free (subpaths, TRUE);
  return g_string_free (out, FALSE);
}

static void
test_grammar (void)
{
  static const struct
  {
    const char *d, *means;
    gboolean good;
  } cases[] = {
    /* 8.3.1: what may be left out */
    { "M 100 100 L 200 200", "M100 100L200 200", TRUE },
    { "M100 100L200 200", "M100 100L200 200", TRUE },
    { "M 100 200 L 200 100 -100 -200", "M100 200L200 100L-100 -200", TRUE },
    { "M 100-200L0-.5-.5.5", "M100 -200L0 -0.5L-0.5 0.5", TRUE },
    { "M 0.6.5L1.1.2e1", "M0.6 0.5L1.1 2", TRUE },
    { "\n\tM 1,2\r3 , 4,5\f6 ", "M1 2L3 4L5 6", TRUE },
    { "M1e1 1E-1l+1+1", "M10 0.1L11 1.1", TRUE },
    /* further pairs of a moveto are lines, of a relative one relative */
    { "m 1 2 3 4 5 6", "M1 2L4 6L9 12", TRUE },
    { "M 1 2 3 4", "M1 2L3 4", TRUE },
    { "M10 10m5 5l1 0", "M15 15L16 15", TRUE },
    /* one line each way */
    { "M1 1H5 7V9h-1v-2-3", "M1 1L5 1L7 1L7 9L6 9L6 7L6 4", TRUE },
    /* closing, and what comes after it */
    { "M1 1h4v4z", "M1 1L5 1L5 5L1 1Z", TRUE },
    { "M1 1h4v4H1V1z", "M1 1L5 1L5 5L1 5L1 1Z", TRUE },
    { "M1 1h4v4zl-2 0 0-2Z", "M1 1L5 1L5 5L1 1ZM1 1L-1 1L-1 -1L1 1Z", TRUE },
    { "M1 1h4v4zm1 0h1", "M1 1L5 1L5 5L1 1ZM2 1L3 1", TRUE },
    { "M1 1zM2 2", "", TRUE },
    /* smooth curves mirror the last handle, of their own kind only */
    { "M0 0C1 2 3 4 5 6S9 9 10 10", "M0 0C1 2 3 4 5 6C7 8 9 9 10 10", TRUE },
    { "M0 0c1 2 3 4 5 6s4 3 5 4", "M0 0C1 2 3 4 5 6C7 8 9 9 10 10", TRUE },
    { "M0 0L5 6S9 9 10 20", "M0 0L5 6C5 6 9 9 10 20", TRUE },
    { "M0 0Q3 3 6 0T12 0", "M0 0C2 2 4 2 6 0C8 -2 10 -2 12 0", TRUE },
    { "M0 0Q3 3 6 0t6 0 6 0", "M0 0C2 2 4 2 6 0C8 -2 10 -2 12 0C14 2 16 2 18 0",
      TRUE },
    { "M0 0C1 2 3 4 6 0T12 0", "M0 0C1 2 3 4 6 0L12 0", TRUE },
    { "M0 0Q3 3 6 0S9 9 12 0", "M0 0C2 2 4 2 6 0C6 0 9 9 12 0", TRUE },
    /* arcs that are lines, or nothing */
    { "M0 0A0 5 0 0 1 9 9", "M0 0L9 9", TRUE },
    { "M0 0a5 0 0 0 1 9 9", "M0 0L9 9", TRUE },
    { "M0 0A5 5 0 0 1 0 0h1", "M0 0L1 0", TRUE },
    /* F.2: up to, not including, the part in error */
    { "M 10,10 L 20,20,30", "M10 10L20 20", FALSE },
    { "M10 10L20 20 30 30 40", "M10 10L20 20L30 30", FALSE },
    { "M10 10L20 20x5 5", "M10 10L20 20", FALSE },
    { "M10 10L20 20#", "M10 10L20 20", FALSE },
    { "M10 10,L20 20", "", FALSE },
    { "M,10 10 20 20", "", FALSE },
    { "M10 10 20 20,", "M10 10L20 20", FALSE },
    { "M10 10,,20 20", "", FALSE },
    { "M10 10C1 2 3 4 5", "", FALSE },
    { "M10 10h5v", "M10 10L15 10", FALSE },
    { "M10 10h1A5 5 0 2 1 20 20", "M10 10L11 10", FALSE },
    { "M10 10h1A5 5 0 0.5 1 20 20", "M10 10L11 10", FALSE },
    { "M10 10h0x10", "M10 10L10 10", FALSE },
    { "M10 10hinf", "", FALSE },
    { "M10 10h1e999", "", FALSE },
    { "L10 10 20 20", "", FALSE },
    { "z", "", FALSE },
    { "10 10", "", FALSE },
    { "", "", TRUE },
    { "   ", "", TRUE },
    { "M10 10", "", TRUE },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *means = plain (cases[i].d, cases[i].good);
      if (strcmp (means, cases[i].means) != 0)
        g_error ("“%s” is read as “%s”, not “%s”", cases[i].d, means,
                 cases[i].means);
    }
}

static double
area_of (const char *d)
{
  GArray *subpaths = parse (d, TRUE);
  g_assert_cmpuint (subpaths->len, ==, 1);
  double area
      = geo_chain_area (&g_array_index (subpaths, FileSvgSubpath, 0).chain);
  g_array_free (subpaths, TRUE);
  return area;
}

static void
assert_near (double a, double b, double by)
{
  if (!(fabs (a - b) <= by))
    g_error ("%.12g is not %.12g within %g", a, b, by);
}

/* A curve off by at most d, of length l, is off in area by d l. */
static void
test_areas (void)
{
  /* the example of 8.3.8: three quarters and one quarter of a circle */
  assert_near (area_of ("M300,200 h-150 a150,150 0 1,0 150,-150 z"),
               -0.75 * G_PI * 150 * 150, 750 * TOLERANCE);
  assert_near (area_of ("M275,175 v-150 a150,150 0 0,0 -150,150 z"),
               -0.25 * G_PI * 150 * 150, 250 * TOLERANCE);
  /* flags without blanks */
  assert_near (area_of ("M275,175v-150a150,150 0 00-150,150z"),
               -0.25 * G_PI * 150 * 150, 250 * TOLERANCE);
  assert_near (area_of ("M0 0A40 20 30 1150 1A40 20 30 010 0"), G_PI * 40 * 20,
               200 * TOLERANCE);
  /* a segment of a parabola: two thirds of the triangle (Archimedes) */
  assert_near (area_of ("M0 0Q5 -10 10 0Z"), 2.0 / 3 * 10 * 5, 1e-12);
  /* F.6.6: radii that do not reach are grown until they do */
  assert_near (area_of ("M0 0A1 1 0 0 1 10 0Z"), G_PI * 25 / 2, 20 * TOLERANCE);
  assert_near (area_of ("M0 0A-1 2 0 0 1 10 0Z"), G_PI * 5 * 10 / 2,
               30 * TOLERANCE);
}

/* All four arcs of the figure in 8.3.8, at random turn: every point is on the ellipse, as
 * near as promised, and the flags say which arc it is. */
static void
test_arcs (void)
{
  for (guint i = 0; i < 4000; i++)
    {
      double rx = exp (g_test_rand_double_range (-3, 7));
      double ry = rx * exp (g_test_rand_double_range (-3, 3));
      double turn = g_test_rand_double_range (-400, 400);
      double c = cos (turn * G_PI / 180), s = sin (turn * G_PI / 180);
      double a0 = g_test_rand_double_range (0, 2 * G_PI);
      double by = g_test_rand_double_range (0.01, 2 * G_PI - 0.01);
      gboolean sweep = g_test_rand_bit ();
      GeoPoint centre = { g_test_rand_double_range (-100, 100), 7 };
      GeoPoint ends[2];
      for (guint k = 0; k < 2; k++)
        {
          double a = a0 + (k == 0 ? 0 : sweep ? by : -by);
          ends[k] = geo_point (centre.x + c * rx * cos (a) - s * ry * sin (a),
                               centre.y + s * rx * cos (a) + c * ry * sin (a));
        }
      if (fabs (by - G_PI) < 1e-3)
        continue;
      GeoChain chain = GEO_CHAIN_EMPTY;
      file_svg_arc (&chain, ends[0], rx, ry, turn, by > G_PI, sweep, ends[1],
                    TOLERANCE);
      g_assert_true (geo_same (geo_chain_start (&chain), ends[0]));
      g_assert_true (geo_same (geo_chain_end (&chain), ends[1]));
      double turned = 0, last = a0;
      for (size_t k = 0; k < chain.count; k++)
        for (guint j = 1; j <= 16; j++)
          {
            GeoPoint p = geo_sub (geo_cubic_point (&chain.cubics[k], j / 16.0),
                                  centre);
            GeoPoint u = { (c * p.x + s * p.y) / rx, (c * p.y - s * p.x) / ry };
            /* in the circle's units off by this; the ellipse by no more than
             * the larger radius times it */
            double off = fabs (geo_norm (u) - 1) * fmax (rx, ry);
            if (off > TOLERANCE + 1e-9 * fmax (rx, ry))
              g_error ("off by %g: radii %g %g", off, rx, ry);
            double a = atan2 (u.y, u.x);
            turned += remainder (a - last, 2 * G_PI);
            last = a;
          }
      assert_near (turned, sweep ? by : -by, 1e-6);
      geo_chain_clear (&chain);
    }
}

static void
test_points (void)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  g_assert_cmpuint (file_svg_points_parse ("1,2 3-4 , 5.5.5", points), ==, 3);
  g_assert_cmpfloat (g_array_index (points, GeoPoint, 1).y, ==, -4);
  g_assert_cmpfloat (g_array_index (points, GeoPoint, 2).y, ==, 0.5);
  g_assert_cmpuint (file_svg_points_parse ("1 2 3", points), ==, 1);
  g_assert_cmpuint (file_svg_points_parse ("1 2 a 3 4", points), ==, 1);
  g_assert_cmpuint (file_svg_points_parse ("", points), ==, 0);
}

/* CSS 2.1, 4.3.2: 1 in = 2.54 cm = 96 px = 72 pt = 6 pc. */
static void
test_lengths (void)
{
  static const struct
  {
    const char *text;
    double px;
  } cases[]
      = { { "96", 96 },     { "96px", 96 }, { "1in", 96 },   { "2.54cm", 96 },
          { "25.4mm", 96 }, { "72pt", 96 }, { "6pc", 96 },   { "101.6Q", 96 },
          { " 1IN ", 96 },  { "50%", 40 },  { "1e1px", 10 }, { "2em", 32 },
          { "-3", -3 },     { "wide", -1 }, { "", -1 },      { "3 4", -1 },
          { "5parsec", -1 } };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_near (file_svg_length (cases[i].text, 80, -1), cases[i].px, 1e-9);
  assert_near (file_svg_length (NULL, 80, 7), 7, 0);
}

static void
assert_maps (const char *transform, double x, double y, double x1, double y1)
{
  GeoPoint p = file_svg_matrix_apply (file_svg_transform (transform),
                                      geo_point (x, y));
  assert_near (p.x, x1, 1e-9);
  assert_near (p.y, y1, 1e-9);
}

static void
test_transforms (void)
{
  assert_maps (NULL, 3, 4, 3, 4);
  assert_maps ("", 3, 4, 3, 4);
  assert_maps ("translate(10)", 3, 4, 13, 4);
  assert_maps ("translate(10,-5)", 3, 4, 13, -1);
  assert_maps ("scale(2)", 3, 4, 6, 8);
  assert_maps ("scale(2 -1)", 3, 4, 6, -4);
  assert_maps ("rotate(90)", 3, 4, -4, 3);
  assert_maps ("rotate(90, 10, 10)", 10, 0, 20, 10);
  assert_maps ("skewX(45)", 3, 4, 7, 4);
  assert_maps ("skewY(45)", 3, 4, 3, 7);
  assert_maps ("matrix(1,2,3,4,5,6)", 1, 1, 9, 12);
  /* 7.6.1: the last of the list works first */
  assert_maps ("translate(50,90),rotate(-90) scale(2)", 1, 0, 50, 88);
  /* in error: as if there were none */
  assert_maps ("rotate(90", 3, 4, -4, 3); /* but for the bracket at the end */
  assert_maps ("rotate(1,2)", 3, 4, 3, 4);
  assert_maps ("turn(90)", 3, 4, 3, 4);
  assert_maps ("scale(2) 5", 3, 4, 3, 4);
  assert_maps ("scale(2)scale(a)", 3, 4, 3, 4);
}

static void
test_fit (void)
{
  FileSvgBox box = { 10, 10, 100, 50 }, view = { 0, 0, 300, 300 };
  static const struct
  {
    const char *preserve;
    double x, y, scale_x, scale_y; /* of the box's corner */
  } cases[] = {
    { NULL, 0, 75, 3, 3 },
    { "xMidYMid", 0, 75, 3, 3 },
    { "xMinYMin meet", 0, 0, 3, 3 },
    { "xMaxYMax", 0, 150, 3, 3 },
    { "none", 0, 0, 3, 6 },
    { "xMidYMid slice", -150, 0, 6, 6 },
    { "xMinYMax slice", 0, 0, 6, 6 },
    { "xMaxYMid slice", -300, 0, 6, 6 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      FileSvgMatrix m = file_svg_fit (box, view, cases[i].preserve);
      GeoPoint p = file_svg_matrix_apply (m, geo_point (10, 10));
      assert_near (p.x, cases[i].x, 1e-9);
      assert_near (p.y, cases[i].y, 1e-9);
      assert_near (m.a, cases[i].scale_x, 1e-12);
      assert_near (m.d, cases[i].scale_y, 1e-12);
    }
  g_assert_false (file_svg_view_box ("0 0 10", &box));
  g_assert_false (file_svg_view_box ("0 0 0 10", &box));
  g_assert_false (file_svg_view_box ("0 0 10 10 10", &box));
  g_assert_true (file_svg_view_box (" -1,-2 , 3 4 ", &box));
  g_assert_cmpfloat (box.y, ==, -2);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/file/svg-path/grammar", test_grammar);
  g_test_add_func ("/file/svg-path/areas", test_areas);
  g_test_add_func ("/file/svg-path/arcs", test_arcs);
  g_test_add_func ("/file/svg-path/points", test_points);
  g_test_add_func ("/file/svg-path/lengths", test_lengths);
  g_test_add_func ("/file/svg-path/transforms", test_transforms);
  g_test_add_func ("/file/svg-path/fit", test_fit);
  return g_test_run ();
}
