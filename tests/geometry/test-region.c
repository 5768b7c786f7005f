/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Areas and moments against closed forms and against GEOS polygons. */
#include <geos_c.h>
#include <stdarg.h>

#include "curve-samples.h"
#include "geometry/region.h"

static void
test_rectangle (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  const double corners[8] = { 500, 700, 600, 700, 600, 760, 500, 760 };
  double xx, yy, xy;
  chain_append_polygon (&chain, corners, 4);
  NEAR (geo_chain_area (&chain), 6000, 1e-9);
  NEAR_POINT (geo_chain_centroid (&chain), geo_point (550, 730), 1e-9);
  /* b h^3 / 12 */
  geo_chain_second_moments (&chain, &xx, &yy, &xy);
  NEAR (xx, 60 * 1e6 / 12, 1e-5);
  NEAR (yy, 100 * 216000 / 12.0, 1e-5);
  NEAR (xy, 0, 1e-5);
  /* Open: closed by a straight line. */
  chain.count = 3;
  NEAR (geo_chain_area (&chain), 6000, 1e-9);
  NEAR_POINT (geo_chain_centroid (&chain), geo_point (550, 730), 1e-9);
  g_assert_true (geo_chain_contains (&chain, geo_point (501, 731)));
  geo_chain_reverse (&chain);
  NEAR (geo_chain_area (&chain), -6000, 1e-9);
  NEAR_POINT (geo_chain_centroid (&chain), geo_point (550, 730), 1e-9);
  geo_chain_clear (&chain);
}

static void
test_triangle (void)
{
  /* Right triangle with legs 60 and 30 along the axes: centroid at a third;
   * I = b h^3 / 36, product of inertia -b^2 h^2 / 72 about the centroid. */
  GeoChain chain = GEO_CHAIN_EMPTY;
  const double corners[6] = { 0, 0, 60, 0, 0, 30 };
  double xx, yy, xy;
  chain_append_polygon (&chain, corners, 3);
  NEAR (geo_chain_area (&chain), 900, 1e-9);
  NEAR_POINT (geo_chain_centroid (&chain), geo_point (20, 10), 1e-10);
  geo_chain_second_moments (&chain, &xx, &yy, &xy);
  NEAR (xx, 30 * 216000 / 36.0, 1e-6);
  NEAR (yy, 60 * 27000 / 36.0, 1e-6);
  NEAR (xy, -3600 * 900 / 72.0, 1e-6);
  geo_chain_clear (&chain);
}

static void
test_ellipse (void)
{
  /* Cut into so many arcs that the cubics' own error does not show:
   * pi a b; pi a^3 b / 4 and pi a b^3 / 4. */
  GeoChain chain = GEO_CHAIN_EMPTY;
  double xx, yy, xy;
  chain_append_circle (&chain, geo_point (0, 0), 1, 96);
  for (size_t i = 0; i < chain.count; i++)
    for (int k = 0; k < 4; k++)
      chain.cubics[i].p[k] = geo_point (320 + 100 * chain.cubics[i].p[k].x,
                                        210 + 60 * chain.cubics[i].p[k].y);
  NEAR (geo_chain_area (&chain), G_PI * 6000, 1e-6);
  NEAR_POINT (geo_chain_centroid (&chain), geo_point (320, 210), 1e-9);
  geo_chain_second_moments (&chain, &xx, &yy, &xy);
  NEAR (xx, G_PI * 1e6 * 60 / 4, 1e-2);
  NEAR (yy, G_PI * 100 * 216000 / 4, 1e-2);
  NEAR (xy, 0, 1e-3);
  geo_chain_clear (&chain);
}

static void
test_parabola (void)
{
  /* Archimedes: the segment under a parabola is 2/3 of its rectangle; its
   * centre lies 3/5 of the height from the vertex. Exact for cubics. */
  GeoChain chain = GEO_CHAIN_EMPTY;
  geo_chain_append (&chain, graph_cubic (0, 1, 0, 0, 100, false));
  geo_chain_append_line (&chain, geo_point (100, 100), geo_point (-100, 100));
  NEAR (geo_chain_area (&chain), 2 / 3.0 * 20000, 1e-9);
  NEAR_POINT (geo_chain_centroid (&chain), geo_point (0, 60), 1e-10);
  /* Four arcs lie outside their circle, by less than 2.8e-4 of the radius. */
  geo_chain_reset (&chain);
  chain_append_circle (&chain, geo_point (0, 0), 100, 4);
  NEAR (geo_chain_area (&chain) / 1e4, G_PI, 2 * 2.8e-4 * G_PI);
  g_assert_cmpfloat (geo_chain_area (&chain), >, G_PI * 1e4);
  geo_chain_clear (&chain);
}

static void
test_winding (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  chain_append_circle (&chain, geo_point (0, 0), 50, 4);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (0, 0)), ==, 1);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (49.9, 0)), ==, 1);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (50.1, 0)), ==, 0);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (-60, 0)), ==, 0);
  /* Level with the joints, and with the top and bottom. */
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (-60, 50)), ==, 0);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (-60, -50)), ==, 0);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (-49, 0)), ==, 1);
  chain_append_circle (&chain, geo_point (0, 0), 50, 4);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (3, 4)), ==, 2);
  geo_chain_reverse (&chain);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (3, 4)), ==, -2);
  g_assert_true (geo_chain_contains (&chain, geo_point (3, 4)));
  /* A figure of eight: one lobe each way round. */
  geo_chain_reset (&chain);
  const double eight[8] = { 0, 0, 100, 100, 100, 0, 0, 100 };
  chain_append_polygon (&chain, eight, 4);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (90, 50)), ==, -1);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (10, 50)), ==, 1);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (50, 80)), ==, 0);
  NEAR (geo_chain_area (&chain), 0, 1e-9);
  NEAR_POINT (geo_chain_centroid (&chain), geo_point (50, 50), 1e-9);
  geo_chain_clear (&chain);
  g_assert_cmpint (geo_chain_winding (&chain, geo_point (0, 0)), ==, 0);
  g_assert_cmpfloat (geo_chain_area (&chain), ==, 0);
  assert_finite_point (geo_chain_centroid (&chain));
}

static void
quiet (const char *format, ...)
{
  (void)format;
}

/* An outline like a piece's: a ring of smooth cubics round a centre. */
static void
random_outline (GeoChain *chain)
{
  int corners = g_test_rand_int_range (3, 9);
  GeoPoint first = geo_point (0, 0), from = first;
  for (int i = 0; i <= corners; i++)
    {
      double angle = 2 * G_PI * i / corners;
      double r = g_test_rand_double_range (150, 300);
      GeoPoint to = geo_point (400 + r * cos (angle), 400 + r * sin (angle));
      if (i == corners)
        to = first;
      if (i == 0)
        first = to;
      else
        {
          GeoCubic c = geo_cubic_line (from, to);
          for (int k = 1; k < 3; k++)
            c.p[k] = geo_add (c.p[k],
                              geo_sub (random_point (40), geo_point (20, 20)));
          geo_chain_append (chain, c);
        }
      from = to;
    }
}

static void
test_geos (void)
{
  initGEOS (quiet, quiet);
  for (int round = 0; round < 20; round++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      random_outline (&chain);
      const unsigned pieces = 2000;
      unsigned total = (unsigned)chain.count * pieces;
      GEOSCoordSequence *seq = GEOSCoordSeq_create (total + 1, 2);
      for (unsigned i = 0; i <= total; i++)
        {
          GeoPlace place
              = { (i % total) / pieces, (double)(i % pieces) / pieces };
          GeoPoint p = geo_chain_point (&chain, place);
          GEOSCoordSeq_setXY (seq, i, p.x, p.y);
        }
      GEOSGeometry *polygon
          = GEOSGeom_createPolygon (GEOSGeom_createLinearRing (seq), NULL, 0);
      double area, x, y;
      GEOSArea (polygon, &area);
      NEAR (geo_chain_area (&chain), area, 1e-6 * area);
      GEOSGeometry *centre = GEOSGetCentroid (polygon);
      GEOSGeomGetX (centre, &x);
      GEOSGeomGetY (centre, &y);
      NEAR_POINT (geo_chain_centroid (&chain), geo_point (x, y), 1e-3);
      const GEOSPreparedGeometry *prepared = GEOSPrepare (polygon);
      for (int i = 0; i < 200; i++)
        {
          GeoPoint p = geo_add (random_point (600), geo_point (100, 100));
          GEOSGeometry *point = GEOSGeom_createPointFromXY (p.x, p.y);
          g_assert_cmpint (geo_chain_contains (&chain, p), ==,
                           GEOSPreparedContains (prepared, point));
          GEOSGeom_destroy (point);
        }
      GEOSPreparedGeom_destroy (prepared);
      GEOSGeom_destroy (centre);
      GEOSGeom_destroy (polygon);
      geo_chain_clear (&chain);
    }
  finishGEOS ();
}

/* Cutting, turning and moving change no area; nothing gives NaN. */
static void
test_awkward (void)
{
  for (int round = 0; round < 300; round++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      for (int i = 0; i < 4; i++)
        geo_chain_append (&chain, random_awkward_cubic (300));
      double area = geo_chain_area (&chain), xx, yy, xy;
      geo_chain_insert_node (&chain, (GeoPlace){ 2, g_test_rand_double () });
      NEAR (geo_chain_area (&chain), area, 1e-6);
      geo_chain_transform (&chain, geo_motion_about (random_point (300), 1.1));
      NEAR (geo_chain_area (&chain), area, 1e-6);
      geo_chain_transform (
          &chain, geo_motion_mirror (random_point (300), random_point (1)));
      NEAR (geo_chain_area (&chain), -area, 1e-6);
      assert_finite_point (geo_chain_centroid (&chain));
      geo_chain_second_moments (&chain, &xx, &yy, &xy);
      g_assert_true (isfinite (xx + yy + xy));
      for (int i = 0; i < 20; i++)
        {
          /* On the line itself either answer will do, but there is one. */
          GeoPlace place = { (size_t)i % 4, g_test_rand_double () };
          int winding
              = geo_chain_winding (&chain, geo_chain_point (&chain, place));
          g_assert_cmpint (abs (winding), <=, 8);
        }
      geo_chain_clear (&chain);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/region/rectangle", test_rectangle);
  g_test_add_func ("/geometry/region/triangle", test_triangle);
  g_test_add_func ("/geometry/region/ellipse", test_ellipse);
  g_test_add_func ("/geometry/region/parabola", test_parabola);
  g_test_add_func ("/geometry/region/winding", test_winding);
  g_test_add_func ("/geometry/region/geos", test_geos);
  g_test_add_func ("/geometry/region/awkward", test_awkward);
  return g_test_run ();
}
