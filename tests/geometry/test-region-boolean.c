/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Unions, differences and intersections of outlines, against closed forms and
 * against GEOS on fine polylines. */
#include <geos_c.h>

#include "curve-samples.h"
#include "geometry/region-boolean.h"
#include "geometry/region.h"

static int
runs (int usual)
{
  const char *many = g_getenv ("BODKIN_TEST_RUNS");
  return many ? MAX (1, atoi (many)) : usual;
}

static void
check_region (const GeoRegion *region)
{
  for (size_t i = 0; i < region->count; i++)
    {
      const GeoChain *c = &region->outlines[i];
      g_assert_true (geo_chain_is_closed (c));
      for (size_t k = 0; k < c->count; k++)
        for (int j = 0; j < 4; j++)
          assert_finite_point (c->cubics[k].p[j]);
    }
}

/* Areas of the three answers; 0 where nothing is left. */
static void
combine_all (const GeoChain *a, const GeoChain *b, double area[3],
             size_t count[3])
{
  for (int rule = 0; rule < 3; rule++)
    {
      GeoRegion region;
      bool any = geo_region_combine (a, b, (GeoRegionRule)rule, 0.01, &region);
      g_assert_true (any == (region.count > 0));
      check_region (&region);
      area[rule] = geo_region_area (&region);
      count[rule] = region.count;
      geo_region_clear (&region);
    }
}

static void
box (GeoChain *chain, double x0, double y0, double x1, double y1)
{
  const double xy[] = { x0, y0, x1, y0, x1, y1, x0, y1 };
  geo_chain_reset (chain);
  chain_append_polygon (chain, xy, 4);
}

static void
test_boxes (void)
{
  GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
  double area[3];
  size_t n[3];
  static const struct
  {
    double at[4], area[3];
    size_t n[3];
  } cases[] = {
    { { 50, 30, 150, 90 }, { 10500, 4500, 1500 }, { 1, 1, 1 } }, /* crossing */
    { { 20, 20, 40, 40 }, { 6000, 5600, 400 }, { 1, 2, 1 } },    /* a hole */
    { { -10, -10, 110, 70 }, { 9600, 0, 6000 }, { 1, 0, 1 } },   /* all round */
    { { 0, 0, 100, 60 }, { 6000, 0, 6000 }, { 1, 0, 1 } },       /* the same */
    { { 100, 0, 150, 60 }, { 9000, 6000, 0 }, { 1, 1, 0 } },  /* next to it */
    { { 0, 0, 40, 60 }, { 6000, 3600, 2400 }, { 1, 1, 1 } },  /* at its end */
    { { 20, 0, 40, 60 }, { 6000, 4800, 1200 }, { 1, 2, 1 } }, /* across it */
    { { 200, 0, 300, 10 }, { 7000, 6000, 0 }, { 2, 1, 0 } },  /* apart */
    { { 40, 0, 60, 20 }, { 6000, 5600, 400 }, { 1, 1, 1 } },  /* a notch */
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    for (int turn = 0; turn < 4; turn++)
      {
        const double *at = cases[i].at;
        box (&a, 0, 0, 100, 60);
        box (&b, at[0], at[1], at[2], at[3]);
        if (turn & 1)
          geo_chain_reverse (&b);
        GeoMotion m = geo_motion_about (geo_point (7, 3), turn > 1 ? 0.37 : 0);
        geo_chain_transform (&a, m);
        geo_chain_transform (&b, m);
        combine_all (&a, &b, area, n);
        for (int rule = 0; rule < 3; rule++)
          {
            NEAR (area[rule], cases[i].area[rule], 1e-4);
            g_assert_cmpuint (n[rule], ==, cases[i].n[rule]);
          }
      }
  geo_chain_clear (&a);
  geo_chain_clear (&b);
}

/* Two circles of radius r, d apart: the lens is
 * 2 r^2 acos (d / 2r) - d / 2 sqrt (4 r^2 - d^2). */
static void
test_circles (void)
{
  for (int i = 1; i < 20; i++)
    {
      GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
      double area[3], r = 80, d = 8.0 * i, whole;
      size_t n[3];
      chain_append_circle (&a, geo_point (0, 0), r, 12);
      chain_append_circle (&b, geo_point (d, 0.3 * i), r, 12);
      d = hypot (d, 0.3 * i);
      double lens
          = 2 * r * r * acos (d / (2 * r)) - d / 2 * sqrt (4 * r * r - d * d);
      combine_all (&a, &b, area, n);
      whole = geo_chain_area (&a);
      NEAR (area[GEO_REGION_INTERSECTION], lens, 0.1);
      NEAR (area[GEO_REGION_UNION], 2 * whole - lens, 0.1);
      NEAR (area[GEO_REGION_DIFFERENCE], whole - lens, 0.1);
      geo_chain_clear (&a);
      geo_chain_clear (&b);
    }
}

/* A facing cut from a bodice shares its neck and shoulder: what is left has the
 * shared curves' own cubics, and both together the whole area. */
static void
test_shared_edges (void)
{
  GeoChain bodice = GEO_CHAIN_EMPTY, facing = GEO_CHAIN_EMPTY;
  GeoCubic neck = { { { 70, 0 }, { 62, 50 }, { 40, 75 }, { 0, 80 } } };
  GeoCubic back = geo_cubic_reverse (&neck);
  GeoRegion region;
  double area[3];
  size_t n[3];
  geo_chain_append (&bodice, back);
  geo_chain_append_line (&bodice, geo_point (70, 0), geo_point (200, 40));
  geo_chain_append_line (&bodice, geo_point (200, 40), geo_point (220, 400));
  geo_chain_append_line (&bodice, geo_point (220, 400), geo_point (0, 400));
  geo_chain_append_line (&bodice, geo_point (0, 400), geo_point (0, 80));
  /* Its shoulder is part of the bodice's. */
  GeoPoint shoulder = geo_lerp (geo_point (70, 0), geo_point (200, 40), 0.4);
  geo_chain_append (&facing, geo_cubic_part (&back, 0, 0.35));
  geo_chain_append (&facing, geo_cubic_part (&back, 0.35, 1));
  geo_chain_append_line (&facing, geo_point (70, 0), shoulder);
  geo_chain_append (
      &facing,
      (GeoCubic){ { shoulder, { 110, 90 }, { 60, 130 }, { 0, 140 } } });
  geo_chain_append_line (&facing, geo_point (0, 140), geo_point (0, 80));
  combine_all (&bodice, &facing, area, n);
  double whole = geo_chain_area (&bodice), part = geo_chain_area (&facing);
  NEAR (area[GEO_REGION_UNION], whole, 1e-3);
  NEAR (area[GEO_REGION_DIFFERENCE], whole - part, 1e-3);
  NEAR (area[GEO_REGION_INTERSECTION], part, 1e-3);
  for (int i = 0; i < 3; i++)
    g_assert_cmpuint (n[i], ==, 1);
  g_assert_true (geo_region_combine (&bodice, &facing, GEO_REGION_DIFFERENCE,
                                     0.01, &region));
  g_assert_cmpuint (region.outlines[0].count, ==, 5);
  geo_region_clear (&region);
  g_assert_true (geo_region_contains (&bodice, &facing, 0.01));
  g_assert_false (geo_region_contains (&facing, &bodice, 0.01));
  geo_chain_clear (&bodice);
  geo_chain_clear (&facing);
}

static void
test_contains (void)
{
  GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
  g_assert_true (geo_region_contains (&a, &b, 0.1));
  box (&b, 0, 0, 10, 10);
  g_assert_false (geo_region_contains (&a, &b, 0.1));
  chain_append_circle (&a, geo_point (0, 0), 100, 8);
  g_assert_true (geo_region_contains (&a, &b, 0.1));
  g_assert_true (geo_region_contains (&a, &a, 0.1));
  box (&b, 0, 0, 100.05, 1);
  g_assert_true (geo_region_contains (&a, &b, 0.1));
  g_assert_false (geo_region_contains (&a, &b, 0.01));
  /* Its corners stand out, 80 sqrt 2 from the centre. */
  box (&b, -80, -80, 80, 80);
  g_assert_false (geo_region_contains (&a, &b, 0.1));
  /* An outer one that is left open is closed by a line. */
  geo_chain_reset (&a);
  geo_chain_append_line (&a, geo_point (0, 0), geo_point (200, 0));
  geo_chain_append_line (&a, geo_point (200, 0), geo_point (0, 200));
  box (&b, 1, 1, 90, 90);
  g_assert_true (geo_region_contains (&a, &b, 0.01));
  box (&b, -1, 1, 90, 90);
  g_assert_false (geo_region_contains (&a, &b, 0.01));
  geo_chain_clear (&a);
  geo_chain_clear (&b);
}

static GEOSGeometry *
polygon_of (const GeoChain *chain)
{
  const guint each = 64;
  guint total = (guint)chain->count * each;
  GEOSCoordSequence *seq = GEOSCoordSeq_create (total + 1, 2);
  for (guint i = 0; i <= total; i++)
    {
      guint k = i % total;
      GeoPoint p = geo_cubic_point (&chain->cubics[k / each],
                                    (k % each) / (double)each);
      GEOSCoordSeq_setXY (seq, i, p.x, p.y);
    }
  return GEOSGeom_createPolygon (GEOSGeom_createLinearRing (seq), NULL, 0);
}

static void
quiet (const char *format, ...)
{
  (void)format;
}

/* A wavy ring about a centre: it does not cross itself. */
static void
random_outline (GeoChain *chain)
{
  int n = g_test_rand_int_range (3, 9);
  double turn = g_test_rand_double_range (0, 6);
  GeoPoint centre = random_point (120), first = { 0, 0 }, before = first;
  for (int i = 0; i <= n; i++)
    {
      double angle = turn + 2 * G_PI * i / n;
      double r = g_test_rand_double_range (30, 110);
      GeoPoint p = geo_along (centre, geo_point (cos (angle), sin (angle)), r);
      if (i == 0)
        first = p;
      else
        {
          p = i == n ? first : p;
          GeoPoint a = geo_lerp (before, p, 0.33),
                   b = geo_lerp (before, p, 0.66);
          double bow = g_test_rand_double_range (-8, 8);
          GeoPoint side = geo_unit (geo_left (geo_sub (p, before)));
          geo_chain_append (chain,
                            (GeoCubic){ { before, geo_along (a, side, bow),
                                          geo_along (b, side, -bow), p } });
        }
      before = p;
    }
}

static void
check_geos (const GeoChain *a, const GeoChain *b)
{
  GEOSGeometry *p = polygon_of (a), *q = polygon_of (b);
  double area[3], want[3];
  size_t n[3];
  if (GEOSisValid (p) == 1 && GEOSisValid (q) == 1)
    {
      GEOSGeometry *by[3] = { GEOSUnion (p, q), GEOSDifference (p, q),
                              GEOSIntersection (p, q) };
      combine_all (a, b, area, n);
      for (int rule = 0; rule < 3; rule++)
        {
          GEOSArea (by[rule], &want[rule]);
          GEOSGeom_destroy (by[rule]);
          /* Chords of 64 to a cubic, and parts below 1 mm^2. */
          if (fabs (area[rule] - want[rule]) > 2.5)
            g_error ("rule %d: %g, not %g", rule, area[rule], want[rule]);
        }
    }
  GEOSGeom_destroy (p);
  GEOSGeom_destroy (q);
}

static void
test_geos (void)
{
  initGEOS (quiet, quiet);
  for (int i = 0; i < runs (400); i++)
    {
      GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
      random_outline (&a);
      if (i % 4 == 0) /* the same, moved a little: many shallow crossings */
        {
          geo_chain_copy (&b, &a);
          geo_chain_transform (&b, geo_motion_about (random_point (100), 0.05));
        }
      else
        random_outline (&b);
      check_geos (&a, &b);
      geo_chain_clear (&a);
      geo_chain_clear (&b);
    }
  finishGEOS ();
}

/* Whatever comes in, what comes out is closed and finite, and no larger than
 * both. */
static void
test_random (void)
{
  for (int i = 0; i < runs (600); i++)
    {
      GeoChain c[2] = { GEO_CHAIN_EMPTY, GEO_CHAIN_EMPTY };
      double area[3];
      size_t n[3];
      for (int k = 0; k < 2; k++)
        {
          int count = g_test_rand_int_range (0, 5);
          for (int j = 0; j < count; j++)
            geo_chain_append (&c[k], random_awkward_cubic (200));
        }
      combine_all (&c[0], &c[1], area, n);
      for (int rule = 0; rule < 3; rule++)
        g_assert_cmpfloat (area[rule], <, 4e5);
      geo_chain_clear (&c[0]);
      geo_chain_clear (&c[1]);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/region-boolean/boxes", test_boxes);
  g_test_add_func ("/geometry/region-boolean/circles", test_circles);
  g_test_add_func ("/geometry/region-boolean/shared-edges", test_shared_edges);
  g_test_add_func ("/geometry/region-boolean/contains", test_contains);
  g_test_add_func ("/geometry/region-boolean/geos", test_geos);
  g_test_add_func ("/geometry/region-boolean/random", test_random);
  return g_test_run ();
}
