/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walking one seam along another: the map between marks and the motion of the
 * paper. */
#include "curve-samples.h"
#include "geometry/length.h"
#include "geometry/walk.h"

static void
test_map (void)
{
  const double a[4] = { 0, 50, 50, 157 }, b[4] = { 0, 60, 64, 160 };
  g_assert_cmpfloat (geo_walk_map (a, b, 4, 0), ==, 0);
  g_assert_cmpfloat (geo_walk_map (a, b, 4, -5), ==, 0);
  g_assert_cmpfloat (geo_walk_map (a, b, 4, 157), ==, 160);
  g_assert_cmpfloat (geo_walk_map (a, b, 4, 999), ==, 160);
  NEAR (geo_walk_map (a, b, 4, 25), 30, 1e-12);
  NEAR (geo_walk_map (a, b, 4, 103.5), 112, 1e-12);
  /* Marks that fall together on A: what lies between them on B is passed at
   * once. */
  NEAR (geo_walk_map (a, b, 4, 50), 60, 1e-12);
  NEAR (geo_walk_map (a, b, 4, 50 + 1e-9), 64, 1e-6);
  double last = 0;
  for (int i = 0; i <= 1570; i++)
    {
      double here = geo_walk_map (a, b, 4, i / 10.0);
      g_assert_cmpfloat (here, >=, last);
      last = here;
    }
}

static void
test_arcs (void)
{
  /* Arcs of radii R and R', one angle: lengths differ by (R - R') phi, and the
   * map is by the angle. */
  GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
  const double phi = 1.2;
  for (int i = 0; i < 24; i++)
    {
      geo_chain_append (&a, geo_cubic_arc (geo_point (0, 0), 130, phi * i / 24,
                                           phi * (i + 1) / 24));
      geo_chain_append (&b, geo_cubic_arc (geo_point (0, 0), 100, phi * i / 24,
                                           phi * (i + 1) / 24));
    }
  GeoRuler on_a, on_b;
  geo_ruler_init (&on_a, &a, 1e-10);
  geo_ruler_init (&on_b, &b, 1e-10);
  double la = geo_ruler_length (&on_a), lb = geo_ruler_length (&on_b);
  NEAR (la - lb, 30 * phi, 1e-8);
  const double a_marks[2] = { 0, la }, b_marks[2] = { 0, lb };
  for (int i = 0; i <= 20; i++)
    {
      double s = la * i / 20, angle = phi * i / 20;
      GeoPlace p
          = geo_ruler_place (&on_b, geo_walk_map (a_marks, b_marks, 2, s));
      NEAR_POINT (geo_chain_point (&b, p),
                  geo_point (100 * cos (angle), 100 * sin (angle)), 1e-6);
    }
  geo_ruler_clear (&on_a);
  geo_ruler_clear (&on_b);
  /* A quarter circle of R = 100 against a straight of 160: 2.9204 mm, 1.859 % of
   * the shorter. */
  geo_chain_reset (&a);
  for (int i = 0; i < 24; i++)
    geo_chain_append (&a,
                      geo_cubic_arc (geo_point (0, 0), 100, G_PI / 2 * i / 24,
                                     G_PI / 2 * (i + 1) / 24));
  double quarter = geo_chain_length (&a, 1e-10);
  NEAR (quarter, 157.0796, 5e-5);
  NEAR (160 - quarter, 2.9204, 5e-5);
  NEAR (100 * (160 - quarter) / quarter, 1.859, 5e-4);
  geo_chain_clear (&a);
  geo_chain_clear (&b);
}

/* Point on point, tangent along tangent, insides apart, nothing stretched. */
static void
check_motion (GeoPoint a, GeoPoint at, int a_side, GeoPoint b, GeoPoint bt,
              int b_side)
{
  GeoMotion m = geo_walk_motion (a, at, a_side, b, bt, b_side);
  NEAR_POINT (geo_motion_apply (m, b), a, 1e-9);
  NEAR_POINT (geo_motion_turn (m, bt), at, 1e-12);
  NEAR (m.c * m.c + m.s * m.s, 1, 1e-12);
  /* A step into B's inside is, once laid on, a step away from A's. */
  GeoPoint inside_b = geo_scale (geo_left (bt), b_side);
  GeoPoint inside_a = geo_scale (geo_left (at), a_side);
  NEAR (geo_dot (geo_motion_turn (m, inside_b), inside_a), -1, 1e-12);
  g_assert_cmpint (m.flip, ==, a_side == b_side);
}

static void
test_motion (void)
{
  for (int i = 0; i < 400; i++)
    {
      double u = g_test_rand_double_range (-4, 4),
             v = g_test_rand_double_range (-4, 4);
      check_motion (random_point (500), geo_point (cos (u), sin (u)),
                    i & 1 ? 1 : -1, random_point (500),
                    geo_point (cos (v), sin (v)), i & 2 ? 1 : -1);
    }
  /* Opposed and equal tangents. */
  check_motion (geo_point (1, 2), geo_point (1, 0), 1, geo_point (8, 9),
                geo_point (-1, 0), -1);
  check_motion (geo_point (1, 2), geo_point (0, 1), 1, geo_point (8, 9),
                geo_point (0, 1), 1);
  /* Where there is no tangent the paper is moved but not turned. */
  GeoMotion m = geo_walk_motion (geo_point (1, 2), geo_point (0, 0), 1,
                                 geo_point (8, 9), geo_point (0, 1), -1);
  NEAR_POINT (geo_motion_apply (m, geo_point (8, 9)), geo_point (1, 2), 1e-12);
  g_assert_cmpfloat (m.c, ==, 1);
}

/* A seam walked from end to end with pieces that are the same mirrored: at
 * every place the laid-on edge is A's mirror image in the tangent there. */
static void
test_mirrored (void)
{
  GeoCubic a = { { { 0, 0 }, { 60, 40 }, { 120, -30 }, { 200, 10 } } };
  for (int i = 0; i <= 10; i++)
    {
      double t = i / 10.0;
      GeoPoint p = geo_cubic_point (&a, t), tangent = geo_cubic_tangent (&a, t);
      GeoMotion lay = geo_walk_motion (p, tangent, 1, p, tangent, 1);
      GeoMotion mirror = geo_motion_mirror (p, tangent);
      for (int k = 0; k <= 10; k++)
        {
          GeoPoint q = geo_cubic_point (&a, k / 10.0);
          NEAR_POINT (geo_motion_apply (lay, q), geo_motion_apply (mirror, q),
                      1e-9);
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/walk/map", test_map);
  g_test_add_func ("/geometry/walk/arcs", test_arcs);
  g_test_add_func ("/geometry/walk/motion", test_motion);
  g_test_add_func ("/geometry/walk/mirrored", test_mirrored);
  return g_test_run ();
}
