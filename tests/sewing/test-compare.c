/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "builder.h"
#include "sewing/compare.h"

static void
near (double value, double expected, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (value, expected, tolerance);
}

/* A piece of one edge a side. */
static PatternPiece *
polygon (const GeoPoint *corners, guint n, guint *next)
{
  PatternPiece *piece = pattern_piece_new ((*next)++, "front");
  g_autofree PatternNode *nodes = g_new0 (PatternNode, n);
  g_autofree gboolean *starts = g_new (gboolean, n);
  for (guint i = 0; i < n; i++)
    {
      nodes[i].at = nodes[i].in = nodes[i].out = corners[i];
      starts[i] = TRUE;
    }
  pattern_piece_set_outline (piece, nodes, n, starts, next);
  return piece;
}

static Pattern *
pattern_of (PatternPiece *piece)
{
  Pattern *p = pattern_new ("fitting");
  pattern_put_piece (p, piece);
  return p;
}

static const GeoPoint oblong[]
    = { { 0, 0 }, { 100, 0 }, { 100, 200 }, { 50, 200 }, { 0, 200 } };

/* By hand: the lower right corner 10 mm out: the hem's half is 10 longer, the
 * side is hypot (200, 10), both have moved 10 at that corner. */
static void
test_corner (void)
{
  guint next = 10;
  PatternPiece *was = polygon (oblong, G_N_ELEMENTS (oblong), &next);
  PatternPiece *is = pattern_piece_dup (was);
  is->nodes[2].at.x += 10;
  is->nodes[2].in = is->nodes[2].out = is->nodes[2].at;
  g_autoptr (Pattern) a = pattern_of (was), b = pattern_of (is);
  g_autoptr (GArray) all = sewing_compare (a, b);
  g_assert_cmpuint (all->len, ==, 1);
  const SewingPieceDifference *d
      = &g_array_index (all, SewingPieceDifference, 0);
  g_assert_cmpuint (d->n_edges, ==, 2);
  near (d->edges[0].is, hypot (200, 10), 1e-9);
  near (d->edges[0].was, 200, 1e-9);
  near (d->edges[0].apart, 10, 0.05);
  near (d->edges[1].is, 60, 1e-9);
  near (d->edges[1].apart, 10, 1e-6);
  near (d->area_is - d->area_was, 1000, 1e-6);
}

/* A piece moved and turned on the table is the same piece; what was reshaped on
 * it is found all the same. */
static void
test_moved (void)
{
  guint next = 10;
  PatternPiece *was = polygon (oblong, G_N_ELEMENTS (oblong), &next);
  for (int reshaped = 0; reshaped < 2; reshaped++)
    {
      PatternPiece *is = pattern_piece_dup (was);
      if (reshaped)
        {
          is->nodes[3].at.y += 7;
          is->nodes[3].in = is->nodes[3].out = is->nodes[3].at;
        }
      GeoMotion m = geo_motion_about (geo_point (30, 40), 0.7);
      m.dx += 312;
      pattern_piece_move (is, m);
      g_autoptr (Pattern) a = pattern_of (pattern_piece_dup (was));
      g_autoptr (Pattern) b = pattern_of (is);
      g_autoptr (GArray) all = sewing_compare (a, b);
      g_assert_cmpuint (all->len, ==, (guint)reshaped);
      if (!reshaped)
        continue;
      const SewingPieceDifference *d
          = &g_array_index (all, SewingPieceDifference, 0);
      near (d->lay.c, cos (0.7), 1e-6);
      near (d->lay.dx, m.dx, 1e-3);
      g_assert_cmpuint (d->n_edges, ==, 2);
      near (d->apart, 7, 0.1);
      near (d->area_is - d->area_was, 350, 1e-6);
    }
  pattern_piece_unref (was);
}

static void
test_made_and_gone (void)
{
  guint next = 10;
  PatternPiece *one = polygon (oblong, 5, &next);
  PatternPiece *other = polygon (oblong, 5, &next);
  g_autoptr (Pattern) a = pattern_of (one), b = pattern_of (other);
  g_autoptr (GArray) all = sewing_compare (a, b);
  g_assert_cmpuint (all->len, ==, 2);
  g_assert_null (g_array_index (all, SewingPieceDifference, 0).was);
  g_assert_null (g_array_index (all, SewingPieceDifference, 1).is);
  g_autoptr (GArray) same = sewing_compare (a, a);
  g_assert_cmpuint (same->len, ==, 0);
}

/* Whatever the motion, and whichever third of the nodes was reshaped, the
 * others are laid on themselves. */
static void
test_random (void)
{
  for (int round = 0; round < 400; round++)
    {
      guint next = 10, n = 9;
      GeoPoint corners[9];
      for (guint i = 0; i < n; i++)
        {
          double a = 2 * G_PI * i / n, r = g_test_rand_double_range (80, 200);
          corners[i] = geo_point (r * cos (a), r * sin (a));
        }
      g_autoptr (PatternPiece) was = polygon (corners, n, &next);
      g_autoptr (PatternPiece) is = pattern_piece_dup (was);
      for (guint i = 0; i < 2; i++)
        {
          PatternNode *node
              = &is->nodes[(guint)g_test_rand_int_range (0, (int)n)];
          node->at.x += g_test_rand_double_range (-20, 20);
          node->at.y += g_test_rand_double_range (-20, 20);
        }
      double angle = g_test_rand_double_range (-3, 3);
      pattern_piece_move (is, geo_motion_about (geo_point (50, 0), angle));
      GeoMotion m = sewing_lay_on (was, is);
      near (m.c, cos (angle), 1e-4);
      near (m.s, sin (angle), 1e-4);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/compare/corner", test_corner);
  g_test_add_func ("/compare/moved", test_moved);
  g_test_add_func ("/compare/made-and-gone", test_made_and_gone);
  g_test_add_func ("/compare/random", test_random);
  return g_test_run ();
}
