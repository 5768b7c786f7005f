/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Guides, against plane trigonometry. */
#include <math.h>
#include <string.h>

#include "dart-sample.h"
#include "drafting/guides.h"
#include "geometry/nearest.h"

static GeoPoint
cross_of (const Pattern *p, const char *name)
{
  const PatternLine *line = drafting_find_guide (p, name);
  GeoPoint at = { NAN, NAN };
  g_assert_nonnull (line);
  g_assert_true (drafting_guide_is_point (line, &at));
  return at;
}

static double
line_length (const Pattern *p, const char *name)
{
  const PatternLine *line = drafting_find_guide (p, name);
  g_assert_nonnull (line);
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_line_chain (line, &chain);
  double length = geo_chain_length (&chain, 1e-10);
  geo_chain_clear (&chain);
  return length;
}

static void
test_points_and_lines (void)
{
  g_autoptr (Pattern) p = pattern_new ("guides");
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) a
      = drafting_guide_point (p, geo_point (10, 20), 100, 30, "Apex", &error);
  g_assert_no_error (error);
  assert_sound (a);
  GeoPoint at = cross_of (a, "apex");
  assert_near (at.x, 10 + 100 * sqrt (3) / 2, 1e-9);
  assert_near (at.y, 20 - 50, 1e-9); /* up the table is less y */
  g_autoptr (Pattern) b
      = drafting_guide_line (a, geo_point (0, 0), 200, -45, "one", &error);
  g_autoptr (Pattern) c
      = drafting_guide_line (b, geo_point (300, 0), 50, 225, "two", &error);
  g_assert_no_error (error);
  assert_near (line_length (c, "one"), 200, 1e-9);
  /* Drawn on, the two meet halfway, 150 down; they do not reach. */
  g_autoptr (Pattern) d
      = drafting_guide_meeting (c, "one", "two", "meeting", &error);
  g_assert_no_error (error);
  at = cross_of (d, "Meeting");
  assert_near (at.x, 150, 1e-6);
  assert_near (at.y, 150, 1e-6);
  assert_refused (drafting_guide_meeting (d, "one", "three", "x", &error),
                  &error, DRAFTING_ERROR_GONE, "no guide called");
  assert_refused (drafting_guide_meeting (d, "one", "apex", "x", &error),
                  &error, DRAFTING_ERROR_SHAPE, "is a point");
  g_autoptr (Pattern) e
      = drafting_guide_line (d, geo_point (0, 50), 50, -45, "beside", &error);
  assert_refused (drafting_guide_meeting (e, "one", "beside", "x", &error),
                  &error, DRAFTING_ERROR_SHAPE, "do not meet");
  assert_refused (
      drafting_guide_line (d, geo_point (0, 50), 0, -45, "none", &error),
      &error, DRAFTING_ERROR_AMOUNT, "some length");
  g_autoptr (Pattern) f = drafting_remove_guide (e, "BESIDE", &error);
  g_assert_cmpuint (f->n_lines, ==, e->n_lines - 1);
}

static void
test_on_edges (void)
{
  DartSample s = dart_sample ();
  g_autoptr (Pattern) p = s.p;
  g_autoptr (GError) error = NULL;
  DraftingPlace hem = { s.piece, s.edges[6], 110 };
  g_autoptr (Pattern) a = drafting_guide_on_edge (p, hem, "hem", &error);
  g_assert_no_error (error);
  GeoPoint at = cross_of (a, "hem");
  assert_near (at.x, 300, 1e-9);
  assert_near (at.y, 580, 1e-9);
  g_autoptr (Pattern) b = drafting_guide_square (a, hem, 80, "up", &error);
  g_assert_no_error (error);
  const PatternLine *line = drafting_find_guide (b, "up");
  assert_near (line->nodes[1].at.x, 300, 1e-9);
  assert_near (line->nodes[1].at.y, 500, 1e-9);
  hem.at = 411;
  assert_refused (drafting_guide_on_edge (p, hem, "x", &error), &error,
                  DRAFTING_ERROR_AMOUNT, "beyond the edge");
}

static void
test_arc (void)
{
  g_autoptr (Pattern) p = pattern_new ("guides");
  g_autoptr (GError) error = NULL;
  GeoPoint centre = { 5, 7 }, from = { 105, 7 };
  g_autoptr (Pattern) a
      = drafting_guide_arc (p, centre, from, 50 * G_PI, "quarter", &error);
  g_assert_no_error (error);
  const PatternLine *line = drafting_find_guide (a, "quarter");
  GeoPoint end = line->nodes[line->n_nodes - 1].at;
  assert_near (geo_distance (end, geo_point (5, -93)), 0, 1e-9);
  assert_near (line_length (a, "quarter"), 50 * G_PI, 1e-3);
  assert_refused (drafting_guide_arc (p, centre, from, 640, "x", &error),
                  &error, DRAFTING_ERROR_AMOUNT, "whole circle");
  assert_refused (drafting_guide_arc (p, centre, centre, 64, "x", &error),
                  &error, DRAFTING_ERROR_AMOUNT, "whole circle");
}

/* The curve passes its points; of a circle's points it makes the circle, to a few thousandths
 * of its radius where they stand 30 degrees apart; and it never gives what is no number. */
static void
test_curve (void)
{
  GeoPoint points[7];
  for (int i = 0; i < 7; i++)
    points[i] = geo_point (100 * cos (i * G_PI / 6), 100 * sin (i * G_PI / 6));
  GeoChain curve = GEO_CHAIN_EMPTY;
  drafting_curve_through (points, 7, &curve);
  g_assert_cmpuint (curve.count, ==, 6);
  for (size_t i = 0; i < curve.count; i++)
    for (int k = 0; k <= 20; k++)
      assert_near (geo_norm (geo_cubic_point (&curve.cubics[i], k / 20.0)), 100,
                   0.01);
  geo_chain_clear (&curve);
  for (int round = 0; round < 200; round++)
    {
      GeoPoint any[8];
      guint n = (guint)g_test_rand_int_range (0, 9);
      for (guint i = 0; i < n; i++)
        any[i] = i > 0 && g_test_rand_int_range (0, 8) == 0
                     ? any[i - 1]
                     : geo_point (g_test_rand_double_range (0, 300),
                                  g_test_rand_double_range (0, 300));
      GeoChain one = GEO_CHAIN_EMPTY;
      drafting_curve_through (any, n, &one);
      for (size_t i = 0; i < one.count; i++)
        for (int k = 0; k < 4; k++)
          g_assert_true (isfinite (one.cubics[i].p[k].x)
                         && isfinite (one.cubics[i].p[k].y));
      for (guint i = 0; one.count > 0 && i < n; i++)
        assert_near (geo_chain_nearest (&one, any[i], NULL), 0, 1e-6);
      geo_chain_clear (&one);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/guides/points-and-lines", test_points_and_lines);
  g_test_add_func ("/guides/on-edges", test_on_edges);
  g_test_add_func ("/guides/arc", test_arc);
  g_test_add_func ("/guides/curve", test_curve);
  return g_test_run ();
}
