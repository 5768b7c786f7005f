/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ring-outline.h"

#include "geometry/length.h"
#include "geometry/nearest.h"
#include "geometry/region.h"

static void
test_rectangle (void)
{
  const double p[][2] = { { 0, 0 }, { 100, 0 }, { 100, 60 }, { 0, 60 } };
  const double w[] = { 10, 10, 10, 10 };
  Outline *o = outline_polygon (p, 4, w);
  GeoRing ring = outline_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 120 * 80, 1e-9);
  g_assert_cmpuint (ring.outline.count, ==, 4);
  g_assert_cmpuint (ring.island_count, ==, 0);
  g_assert_cmpuint (ring.hollow_count, ==, 0);
  for (size_t i = 0; i < 4; i++)
    g_assert_cmpuint (ring_hits_at (&ring, i % 3 ? 110 : -10, i < 2 ? -10 : 70),
                      ==, 1);
  for (size_t i = 0; i < 4; i++)
    {
      size_t seen = 0;
      for (size_t j = 0; j < 4; j++)
        seen += ring.source[j] == i;
      g_assert_cmpuint (seen, ==, 1);
    }
  geo_ring_clear (&ring);
  outline_free (o);
  /* Square 100, 10 all round: area 14 400, perimeter 480. */
  const double q[][2] = { { 0, 0 }, { 100, 0 }, { 100, 100 }, { 0, 100 } };
  o = outline_polygon (q, 4, w);
  ring = outline_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 14400, 1e-9);
  g_assert_cmpfloat_with_epsilon (geo_chain_length (&ring.outline, 1e-9), 480,
                                  1e-6);
  geo_ring_clear (&ring);
  outline_free (o);
}

static void
test_circle (void)
{
  const double radius[] = { 3, 40, 200, 827.3 };
  for (int i = 0; i < 4; i++)
    for (double w = 6; w < 50; w += 11)
      {
        Outline *o = g_new0 (Outline, 1);
        outline_add_edge (o, w);
        outline_add_arc (o, geo_point (20, 30), radius[i], 0.3, 0.3 + 2 * M_PI);
        o->stitch[0].cubics[o->stitch[0].count - 1].p[3]
            = o->stitch[0].cubics[0].p[0];
        GeoRing ring = outline_ring (o);
        double r = radius[i] + w;
        /* Off by tolerance all round at the most, and by the arcs' own. */
        g_assert_cmpfloat_with_epsilon (ring.area, M_PI * r * r,
                                        2 * M_PI * r * 0.011);
        for (size_t j = 0; j < ring.outline.count; j++)
          for (int k = 0; k < 16; k++)
            g_assert_cmpfloat_with_epsilon (
                geo_distance (
                    geo_cubic_point (&ring.outline.cubics[j], k / 16.0),
                    geo_point (20, 30)),
                r, 0.011);
        geo_ring_clear (&ring);
        outline_free (o);
      }
}

static void
test_hem (void)
{
  /* A hem of depth h between sides that lean outward by b: folded back, the
   * allowance's top is narrower than the hem line by 2 h tan b; extended, it
   * is wider by the same. Sides without allowance, so that the hem line ends at
   * the piece. */
  const double beta[] = { 0, 5, 12, 20, -10 };
  for (int i = 0; i < 5; i++)
    for (int kind = 0; kind < 2; kind++)
      {
        double lean = 300 * tan (beta[i] * DEGREE), h = 40;
        const double p[][2] = {
          { -100, 0 }, { 100, 0 }, { 100 + lean, 300 }, { -100 - lean, 300 }
        };
        const double w[] = { 0, 0, h, 0 };
        Outline *o = outline_polygon (p, 4, w);
        GeoCornerKind k = kind ? GEO_CORNER_FOLDED_BACK : GEO_CORNER_EXTENDED;
        outline_set_corner (o, 2, k, GEO_CORNER_BY_LEAVING);
        outline_set_corner (o, 3, k, GEO_CORNER_BY_ARRIVING);
        GeoRing ring = outline_ring (o);
        double x = 100 + lean + (kind ? -1 : 1) * h * tan (beta[i] * DEGREE);
        g_assert_cmpuint (ring_hits_at (&ring, x, 300 + h), ==, 1);
        g_assert_cmpuint (ring_hits_at (&ring, -x, 300 + h), ==, 1);
        double mean = 100 + lean + (x - 100 - lean) / 2;
        g_assert_cmpfloat_with_epsilon (
            ring.area, (100 + 100 + lean) * 300 + 2 * mean * h, 1e-6);
        geo_ring_clear (&ring);
        outline_free (o);
      }
}

/* Where the cutting line of edge 0, y = -w, ends towards its end. */
static double
end_of_line (const GeoRing *ring, double w)
{
  double x = -INFINITY;
  for (size_t i = 0; i < ring->outline.count; i++)
    for (int j = 0; j < 4; j += 3)
      {
        GeoPoint p = ring->outline.cubics[i].p[j];
        if (fabs (p.y + w) < 1e-6)
          x = MAX (x, p.x);
      }
  return x;
}

static void
test_matched (void)
{
  /* 2 w cot (angle) between the neighbour's line carried on and mirrored. */
  const struct
  {
    double angle, width, error;
  } rows[]
      = { { 60, 6.35, 7.33 },     { 60, 10, 11.55 },      { 60, 15, 17.32 },
          { 60, 15.875, 18.33 },  { 75, 6.35, 3.40 },     { 75, 10, 5.36 },
          { 75, 15, 8.04 },       { 75, 15.875, 8.51 },   { 90, 10, 0 },
          { 100, 6.35, -2.24 },   { 100, 10, -3.53 },     { 100, 15, -5.29 },
          { 100, 15.875, -5.60 }, { 120, 6.35, -7.33 },   { 120, 10, -11.55 },
          { 120, 15, -17.32 },    { 120, 15.875, -18.33 } };
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    for (int kind = 2; kind < 4; kind++)
      {
        double a = rows[i].angle * DEGREE, w = rows[i].width;
        const double p[][2] = { { 0, 0 },
                                { 200, 0 },
                                { 200 - 150 * cos (a), 150 * sin (a) },
                                { 0, 150 * sin (a) } };
        const double widths[] = { w, 8, 8, 8 };
        Outline *o = outline_polygon (p, 4, widths);
        GeoRing plain = outline_ring (o);
        outline_set_corner (o, 1, (GeoCornerKind)kind, GEO_CORNER_BY_ARRIVING);
        GeoRing matched = outline_ring (o);
        double carried = end_of_line (&plain, w);
        double mirrored = end_of_line (&matched, w);
        g_assert_cmpfloat_with_epsilon (carried - mirrored, rows[i].error,
                                        0.006);
        g_assert_cmpfloat_with_epsilon (carried - mirrored, 2 * w / tan (a),
                                        1e-6);
        /* Mirrored in the stitch line, the end lies on the other cutting line. */
        g_assert_cmpfloat_with_epsilon (
            geo_chain_nearest (&matched.outline, geo_point (mirrored, w), NULL),
            0, 1e-6);
        geo_ring_clear (&plain);
        geo_ring_clear (&matched);
        outline_free (o);
      }
}

static void
test_folded_curve (void)
{
  /* A hem turned up onto curved sides: every point of its allowance, mirrored
   * in the hem line, lies inside or on the cutting line. */
  Outline *o = g_new0 (Outline, 1);
  outline_add_line (o, 10, -80, 0, 80, 0);
  outline_add_edge (o, 15);
  outline_add_cubic (
      o, (GeoCubic){ { { 80, 0 }, { 90, 90 }, { 100, 160 }, { 150, 220 } } });
  outline_add_line (o, 50, 150, 220, -150, 220);
  outline_add_edge (o, 15);
  outline_add_cubic (
      o,
      (GeoCubic){ { { -150, 220 }, { -100, 160 }, { -90, 90 }, { -80, 0 } } });
  outline_set_corner (o, 2, GEO_CORNER_FOLDED_BACK, GEO_CORNER_BY_LEAVING);
  outline_set_corner (o, 3, GEO_CORNER_FOLDED_BACK, GEO_CORNER_BY_ARRIVING);
  GeoRing ring = outline_ring (o);
  size_t seen = 0;
  for (size_t i = 0; i < ring.outline.count; i++)
    for (int k = 0; k <= 10; k++)
      {
        GeoPoint p = geo_cubic_point (&ring.outline.cubics[i], k / 10.0);
        if (p.y <= 220 + 1e-6)
          continue;
        GeoPoint m = geo_point (p.x, 440 - p.y);
        seen++;
        g_assert_true (geo_chain_winding (&ring.outline, m) == 1
                       || geo_chain_nearest (&ring.outline, m, NULL) < 0.01);
        if (p.y < 269.9)
          g_assert_cmpfloat (geo_chain_nearest (&ring.outline, m, NULL), <,
                             0.01);
      }
  g_assert_cmpuint (seen, >, 20);
  geo_ring_clear (&ring);
  outline_free (o);
}

static void
test_squared (void)
{
  /* The governing line's end stands square on its stitch line where that meets
   * the neighbour's cutting line. */
  const double angles[] = { 50, 70, 90, 110, 130 };
  for (int i = 0; i < 5; i++)
    for (int by = 0; by < 2; by++)
      {
        double a = angles[i] * DEGREE, w = 15, n = 10;
        const double p[][2] = { { 0, 0 },
                                { 200, 0 },
                                { 200 - 150 * cos (a), 150 * sin (a) },
                                { 200 * cos (a), 150 * sin (a) } };
        const double widths[] = { w, n, n, n };
        Outline *o = outline_polygon (p, 4, widths);
        if (by == 0)
          outline_set_corner (o, 1, GEO_CORNER_SQUARED, GEO_CORNER_BY_ARRIVING);
        else
          {
            o->edges[0].width = n;
            o->edges[1].width = w;
            outline_set_corner (o, 1, GEO_CORNER_SQUARED,
                                GEO_CORNER_BY_LEAVING);
          }
        GeoRing ring = outline_ring (o);
        GeoPoint q = { 200 + n / sin (a), 0 }, end = { q.x, -w };
        if (by == 1)
          {
            /* Up along the leaving edge's line to y = -n. */
            GeoPoint along = { cos (a), -sin (a) };
            q = geo_along (geo_point (200, 0), along, n / sin (a));
            end = geo_along (q, geo_point (sin (a), cos (a)), w);
          }
        g_assert_cmpuint (ring_hits_at (&ring, q.x, q.y), <=, 1);
        g_assert_cmpuint (ring_hits_at (&ring, end.x, end.y), ==, 1);
        g_assert_cmpfloat_with_epsilon (
            geo_chain_nearest (&ring.outline, q, NULL), 0, 1e-6);
        geo_ring_clear (&ring);
        outline_free (o);
      }
}

static void
test_widths (void)
{
  /* Hem 40, sides 15 and 0 (on the fold), top 10: all corners square, so that
   * the ring is the rectangle. */
  const double p[][2] = { { 0, 0 }, { 200, 0 }, { 200, 300 }, { 0, 300 } };
  const double w[] = { 10, 15, 40, 0 };
  for (int kind = 0; kind < 4; kind++)
    {
      Outline *o = outline_polygon (p, 4, w);
      for (size_t i = 0; i < 4; i++)
        outline_set_corner (o, i, (GeoCornerKind)kind,
                            i % 2 ? GEO_CORNER_BY_ARRIVING
                                  : GEO_CORNER_BY_LEAVING);
      GeoRing ring = outline_ring (o);
      g_assert_cmpfloat_with_epsilon (ring.area, 215 * 350, 1e-6);
      geo_ring_clear (&ring);
      outline_free (o);
    }
  /* Two widths on one straight line: a step. */
  const double q[][2]
      = { { 0, 0 }, { 100, 0 }, { 200, 0 }, { 200, 300 }, { 0, 300 } };
  const double v[] = { 10, 25, 10, 10, 10 };
  Outline *o = outline_polygon (q, 5, v);
  GeoRing ring = outline_ring (o);
  g_assert_cmpuint (ring_hits_at (&ring, 100, -10), ==, 1);
  g_assert_cmpuint (ring_hits_at (&ring, 100, -25), ==, 1);
  g_assert_cmpfloat_with_epsilon (ring.area, 220 * 320 + 110 * 15, 1e-6);
  geo_ring_clear (&ring);
  outline_free (o);
}

static void
test_no_allowance (void)
{
  const double p[][2]
      = { { 0, 0 }, { 200, 0 }, { 200, 300 }, { 90, 280 }, { 0, 300 } };
  const double w[] = { 0, 0, 0, 0, 0 };
  Outline *o = outline_polygon (p, 5, w);
  GeoRing ring = outline_ring (o);
  g_assert_cmpuint (ring.outline.count, ==, 5);
  g_assert_cmpfloat_with_epsilon (ring.area, 60000 - 0.5 * 200 * 20, 1e-6);
  geo_ring_clear (&ring);
  outline_free (o);
}

static void
test_spike (void)
{
  /* Down to a needle, no cutting point is farther from the tip than 3 widths,
   * but for the squared end's own corners. */
  for (double a = 60; a > 0.05; a *= 0.7)
    {
      double h = 300 * tan (a * DEGREE / 2);
      const double p[][2] = { { 0, -h }, { 300, 0 }, { 0, h } };
      const double w[] = { 10, 10, 10 };
      Outline *o = outline_polygon (p, 3, w);
      GeoRing ring = outline_ring (o);
      double far = 0;
      for (size_t i = 0; i < ring.outline.count; i++)
        far = MAX (far, ring.outline.cubics[i].p[0].x - 300);
      g_assert_cmpfloat_with_epsilon (far, MIN (10 / sin (a * DEGREE / 2), 30),
                                      1e-6);
      geo_ring_clear (&ring);
      outline_free (o);
    }
}

static void
test_hollow_corner (void)
{
  /* L shape: 100 x 100 less 60 x 60; 10 all round: 120 x 120 less 60 x 60. */
  const double p[][2] = { { 0, 0 },   { 100, 0 },  { 100, 40 },
                          { 40, 40 }, { 40, 100 }, { 0, 100 } };
  const double w[] = { 10, 10, 10, 10, 10, 10 };
  Outline *o = outline_polygon (p, 6, w);
  GeoRing ring = outline_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 120 * 120 - 60 * 60, 1e-6);
  g_assert_cmpuint (ring.outline.count, ==, 6);
  geo_ring_clear (&ring);
  outline_free (o);
}

/* A handle of 1e-3 mm turns the tangent at a corner anywhere, and with it the end
 * that a matched or folded corner draws: such ends once cut through the
 * piece. */
static void
test_hooked_handles (void)
{
  static const struct
  {
    double width;
    GeoCorner corner;
    GeoCubic c;
  } edges[] = {
    { 15,
      { GEO_CORNER_MATCHED, GEO_CORNER_BY_LEAVING },
      { { { 0, 0 },
          { -29.362430838333211, -26.459790609844134 },
          { 23.020803461754827, 3.0603964383547044 },
          { 23.019803461754826, 3.0603964383547044 } } } },
    { 0,
      { GEO_CORNER_MATCHED, GEO_CORNER_BY_ARRIVING },
      { { { 23.019803461754826, 3.0603964383547044 },
          { 15.346535641169885, 2.0402642922364698 },
          { 7.6732678205849432, 1.0201321461182351 },
          { 0, 0 } } } },
    { 22.5,
      { GEO_CORNER_FOLDED_BACK, GEO_CORNER_BY_LEAVING },
      { { { 0, 0 },
          { -30.817084618619035, -33.433384487141723 },
          { 5.9001067900280004, 6.4752312081157584 },
          { 5.8991067900280001, 6.4752312081157584 } } } },
    { 7.5,
      { GEO_CORNER_MATCHED, GEO_CORNER_BY_ARRIVING },
      { { { 5.8991067900280001, 6.4752312081157584 },
          { -20.687320503302701, -30.375674382439868 },
          { 9.5929295080432979, -7.64281300788927 },
          { 38.321313013279166, 35.03868235912644 } } } },
    { 7.5,
      { GEO_CORNER_FOLDED_BACK, GEO_CORNER_BY_ARRIVING },
      { { { 38.321313013279166, 35.03868235912644 },
          { 25.54754200885278, 23.359121572750961 },
          { 12.77377100442639, 11.679560786375482 },
          { 0, 0 } } } },
  };
  const size_t counts[] = { 2, 3 };
  for (size_t k = 0, at = 0; k < G_N_ELEMENTS (counts); at += counts[k++])
    {
      Outline *o = g_new0 (Outline, 1);
      for (size_t i = at; i < at + counts[k]; i++)
        {
          outline_add_edge (o, edges[i].width);
          outline_add_cubic (o, edges[i].c);
          o->edges[i - at].corner = edges[i].corner;
        }
      GeoRing ring = outline_ring (o);
      geo_ring_clear (&ring);
      outline_free (o);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ring-corner/rectangle", test_rectangle);
  g_test_add_func ("/ring-corner/circle", test_circle);
  g_test_add_func ("/ring-corner/hem", test_hem);
  g_test_add_func ("/ring-corner/matched", test_matched);
  g_test_add_func ("/ring-corner/folded-curve", test_folded_curve);
  g_test_add_func ("/ring-corner/squared", test_squared);
  g_test_add_func ("/ring-corner/widths", test_widths);
  g_test_add_func ("/ring-corner/no-allowance", test_no_allowance);
  g_test_add_func ("/ring-corner/spike", test_spike);
  g_test_add_func ("/ring-corner/hollow-corner", test_hollow_corner);
  g_test_add_func ("/ring-corner/hooked-handles", test_hooked_handles);
  return g_test_run ();
}
