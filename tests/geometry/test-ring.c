/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/crossing.h"
#include "geometry/length.h"
#include "geometry/nearest.h"
#include "geometry/region.h"
#include "geometry/ring.h"

#include <geos_c.h>
#include <glib.h>

#define DEGREE (M_PI / 180)
#define MOST 64

/* An outline under test, edge by edge. */
typedef struct
{
  GeoChain stitch[MOST];
  GeoRingEdge edges[MOST];
  size_t count;
} Outline;

static void
add_edge (Outline *o, double width)
{
  o->stitch[o->count] = GEO_CHAIN_EMPTY;
  o->edges[o->count]
      = (GeoRingEdge){ .stitch = &o->stitch[o->count], .width = width };
  o->count++;
}

static void
add_cubic (Outline *o, GeoCubic c)
{
  geo_chain_append (&o->stitch[o->count - 1], c);
}

static void
add_line (Outline *o, double width, double x0, double y0, double x1, double y1)
{
  add_edge (o, width);
  add_cubic (o, geo_cubic_line (geo_point (x0, y0), geo_point (x1, y1)));
}

/* The corner at the end of the last edge but at the start of the next. */
static void
set_corner (Outline *o, size_t edge, GeoCornerKind kind, GeoCornerGovernor by)
{
  o->edges[edge].corner = (GeoCorner){ kind, by };
}

static Outline *
polygon (const double (*p)[2], size_t count, const double *widths)
{
  Outline *o = g_new0 (Outline, 1);
  for (size_t i = 0; i < count; i++)
    add_line (o, widths[i], p[i][0], p[i][1], p[(i + 1) % count][0],
              p[(i + 1) % count][1]);
  return o;
}

static void
free_outline (Outline *o)
{
  for (size_t i = 0; i < o->count; i++)
    geo_chain_clear (&o->stitch[i]);
  g_free (o);
}

/* One arc, in parts of at most 30 degrees, on the last edge. */
static void
add_arc (Outline *o, GeoPoint centre, double radius, double a0, double a1)
{
  int n = (int)ceil (fabs (a1 - a0) / (30 * DEGREE) - 1e-9);
  for (int i = 0; i < n; i++)
    add_cubic (o, geo_cubic_arc (centre, radius, a0 + (a1 - a0) * i / n,
                                 a0 + (a1 - a0) * (i + 1) / n));
}

static void
print_outline (const Outline *o)
{
  for (size_t i = 0; i < o->count; i++)
    for (size_t j = 0; j < o->stitch[i].count; j++)
      {
        const GeoPoint *p = o->stitch[i].cubics[j].p;
        g_test_message ("edge %zu width %.17g corner %d %d: %.17g %.17g  %.17g "
                        "%.17g  %.17g %.17g  %.17g %.17g",
                        i, o->edges[i].width, (int)o->edges[i].corner.kind,
                        (int)o->edges[i].corner.governor, p[0].x, p[0].y,
                        p[1].x, p[1].y, p[2].x, p[2].y, p[3].x, p[3].y);
      }
}

static void
print_ring (const GeoRing *ring)
{
  for (size_t i = 0; i < ring->outline.count; i++)
    {
      const GeoPoint *p = ring->outline.cubics[i].p;
      g_test_message ("ring %zd: %.9g %.9g  %.9g %.9g  %.9g %.9g  %.9g %.9g",
                      (gssize)ring->source[i], p[0].x, p[0].y, p[1].x, p[1].y,
                      p[2].x, p[2].y, p[3].x, p[3].y);
    }
}

/* What every ring must be: closed, joined, finite, in order, never crossing
 * itself, the stitch line inside or on it. */
static bool
is_sound (const Outline *o, const GeoRing *ring)
{
  const GeoChain *line = &ring->outline;
  GeoCrossings crossings;
  if (!geo_chain_is_closed (line) || !(ring->area > 0))
    return false;
  for (size_t i = 0; i < line->count; i++)
    {
      const GeoPoint *p = line->cubics[i].p;
      for (int j = 0; j < 4; j++)
        if (!isfinite (p[j].x) || !isfinite (p[j].y))
          return false;
      if (i > 0 && !geo_same (line->cubics[i - 1].p[3], p[0]))
        return false;
      if (ring->source[i] != GEO_RING_CORNER && ring->source[i] >= o->count)
        return false;
    }
  geo_crossings_init (&crossings);
  geo_chain_self_crossings (line, &crossings);
  for (size_t i = 0; i < crossings.count; i++)
    g_test_message ("crosses itself at %.9g %.9g: %zu %g, %zu %g",
                    crossings.items[i].at.x, crossings.items[i].at.y,
                    crossings.items[i].a.cubic, crossings.items[i].a.t,
                    crossings.items[i].b.cubic, crossings.items[i].b.t);
  bool sound = crossings.count == 0;
  geo_crossings_clear (&crossings);
  return sound;
}

static bool
holds_stitch (const Outline *o, const GeoRing *ring)
{
  for (size_t i = 0; i < o->count; i++)
    for (size_t j = 0; j < o->stitch[i].count; j++)
      for (int k = 0; k < 8; k++)
        {
          GeoPoint p = geo_cubic_point (&o->stitch[i].cubics[j], (k + 0.5) / 8);
          if (geo_chain_winding (&ring->outline, p) != 1
              && geo_chain_nearest (&ring->outline, p, NULL) > 0.02)
            {
              g_test_message ("stitch point %g %g is outside", p.x, p.y);
              return false;
            }
        }
  return true;
}

static GeoRing
make_ring (const Outline *o)
{
  GeoRing ring;
  geo_ring_init (&ring);
  bool made = geo_ring_make (o->edges, o->count, 0.01, &ring);
  if (!made || !is_sound (o, &ring) || !holds_stitch (o, &ring))
    {
      print_outline (o);
      print_ring (&ring);
      g_assert_not_reached ();
    }
  return ring;
}

static size_t
hits_at (const GeoRing *ring, double x, double y)
{
  size_t hits = 0;
  for (size_t i = 0; i < ring->outline.count; i++)
    hits
        += geo_distance (ring->outline.cubics[i].p[0], geo_point (x, y)) < 1e-6;
  return hits;
}

static void
test_rectangle (void)
{
  const double p[][2] = { { 0, 0 }, { 100, 0 }, { 100, 60 }, { 0, 60 } };
  const double w[] = { 10, 10, 10, 10 };
  Outline *o = polygon (p, 4, w);
  GeoRing ring = make_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 120 * 80, 1e-9);
  g_assert_cmpuint (ring.outline.count, ==, 4);
  g_assert_cmpuint (ring.island_count, ==, 0);
  g_assert_cmpuint (ring.hollow_count, ==, 0);
  for (size_t i = 0; i < 4; i++)
    g_assert_cmpuint (hits_at (&ring, i % 3 ? 110 : -10, i < 2 ? -10 : 70), ==,
                      1);
  for (size_t i = 0; i < 4; i++)
    {
      size_t seen = 0;
      for (size_t j = 0; j < 4; j++)
        seen += ring.source[j] == i;
      g_assert_cmpuint (seen, ==, 1);
    }
  geo_ring_clear (&ring);
  free_outline (o);
  /* Square 100, 10 all round: area 14 400, perimeter 480. */
  const double q[][2] = { { 0, 0 }, { 100, 0 }, { 100, 100 }, { 0, 100 } };
  o = polygon (q, 4, w);
  ring = make_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 14400, 1e-9);
  g_assert_cmpfloat_with_epsilon (geo_chain_length (&ring.outline, 1e-9), 480,
                                  1e-6);
  geo_ring_clear (&ring);
  free_outline (o);
}

static void
test_circle (void)
{
  const double radius[] = { 3, 40, 200, 827.3 };
  for (int i = 0; i < 4; i++)
    for (double w = 6; w < 50; w += 11)
      {
        Outline *o = g_new0 (Outline, 1);
        add_edge (o, w);
        add_arc (o, geo_point (20, 30), radius[i], 0.3, 0.3 + 2 * M_PI);
        o->stitch[0].cubics[o->stitch[0].count - 1].p[3]
            = o->stitch[0].cubics[0].p[0];
        GeoRing ring = make_ring (o);
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
        free_outline (o);
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
        Outline *o = polygon (p, 4, w);
        GeoCornerKind k = kind ? GEO_CORNER_FOLDED_BACK : GEO_CORNER_EXTENDED;
        set_corner (o, 2, k, GEO_CORNER_BY_LEAVING);
        set_corner (o, 3, k, GEO_CORNER_BY_ARRIVING);
        GeoRing ring = make_ring (o);
        double x = 100 + lean + (kind ? -1 : 1) * h * tan (beta[i] * DEGREE);
        g_assert_cmpuint (hits_at (&ring, x, 300 + h), ==, 1);
        g_assert_cmpuint (hits_at (&ring, -x, 300 + h), ==, 1);
        double mean = 100 + lean + (x - 100 - lean) / 2;
        g_assert_cmpfloat_with_epsilon (
            ring.area, (100 + 100 + lean) * 300 + 2 * mean * h, 1e-6);
        geo_ring_clear (&ring);
        free_outline (o);
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
        Outline *o = polygon (p, 4, widths);
        GeoRing plain = make_ring (o);
        set_corner (o, 1, (GeoCornerKind)kind, GEO_CORNER_BY_ARRIVING);
        GeoRing matched = make_ring (o);
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
        free_outline (o);
      }
}

static void
test_folded_curve (void)
{
  /* A hem turned up onto curved sides: every point of its allowance, mirrored
   * in the hem line, lies inside or on the cutting line. */
  Outline *o = g_new0 (Outline, 1);
  add_line (o, 10, -80, 0, 80, 0);
  add_edge (o, 15);
  add_cubic (
      o, (GeoCubic){ { { 80, 0 }, { 90, 90 }, { 100, 160 }, { 150, 220 } } });
  add_line (o, 50, 150, 220, -150, 220);
  add_edge (o, 15);
  add_cubic (
      o,
      (GeoCubic){ { { -150, 220 }, { -100, 160 }, { -90, 90 }, { -80, 0 } } });
  set_corner (o, 2, GEO_CORNER_FOLDED_BACK, GEO_CORNER_BY_LEAVING);
  set_corner (o, 3, GEO_CORNER_FOLDED_BACK, GEO_CORNER_BY_ARRIVING);
  GeoRing ring = make_ring (o);
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
  free_outline (o);
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
        Outline *o = polygon (p, 4, widths);
        if (by == 0)
          set_corner (o, 1, GEO_CORNER_SQUARED, GEO_CORNER_BY_ARRIVING);
        else
          {
            o->edges[0].width = n;
            o->edges[1].width = w;
            set_corner (o, 1, GEO_CORNER_SQUARED, GEO_CORNER_BY_LEAVING);
          }
        GeoRing ring = make_ring (o);
        GeoPoint q = { 200 + n / sin (a), 0 }, end = { q.x, -w };
        if (by == 1)
          {
            /* Up along the leaving edge's line to y = -n. */
            GeoPoint along = { cos (a), -sin (a) };
            q = geo_along (geo_point (200, 0), along, n / sin (a));
            end = geo_along (q, geo_point (sin (a), cos (a)), w);
          }
        g_assert_cmpuint (hits_at (&ring, q.x, q.y), <=, 1);
        g_assert_cmpuint (hits_at (&ring, end.x, end.y), ==, 1);
        g_assert_cmpfloat_with_epsilon (
            geo_chain_nearest (&ring.outline, q, NULL), 0, 1e-6);
        geo_ring_clear (&ring);
        free_outline (o);
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
      Outline *o = polygon (p, 4, w);
      for (size_t i = 0; i < 4; i++)
        set_corner (o, i, (GeoCornerKind)kind,
                    i % 2 ? GEO_CORNER_BY_ARRIVING : GEO_CORNER_BY_LEAVING);
      GeoRing ring = make_ring (o);
      g_assert_cmpfloat_with_epsilon (ring.area, 215 * 350, 1e-6);
      geo_ring_clear (&ring);
      free_outline (o);
    }
  /* Two widths on one straight line: a step. */
  const double q[][2]
      = { { 0, 0 }, { 100, 0 }, { 200, 0 }, { 200, 300 }, { 0, 300 } };
  const double v[] = { 10, 25, 10, 10, 10 };
  Outline *o = polygon (q, 5, v);
  GeoRing ring = make_ring (o);
  g_assert_cmpuint (hits_at (&ring, 100, -10), ==, 1);
  g_assert_cmpuint (hits_at (&ring, 100, -25), ==, 1);
  g_assert_cmpfloat_with_epsilon (ring.area, 220 * 320 + 110 * 15, 1e-6);
  geo_ring_clear (&ring);
  free_outline (o);
}

static void
test_no_allowance (void)
{
  const double p[][2]
      = { { 0, 0 }, { 200, 0 }, { 200, 300 }, { 90, 280 }, { 0, 300 } };
  const double w[] = { 0, 0, 0, 0, 0 };
  Outline *o = polygon (p, 5, w);
  GeoRing ring = make_ring (o);
  g_assert_cmpuint (ring.outline.count, ==, 5);
  g_assert_cmpfloat_with_epsilon (ring.area, 60000 - 0.5 * 200 * 20, 1e-6);
  geo_ring_clear (&ring);
  free_outline (o);
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
      Outline *o = polygon (p, 3, w);
      GeoRing ring = make_ring (o);
      double far = 0;
      for (size_t i = 0; i < ring.outline.count; i++)
        far = MAX (far, ring.outline.cubics[i].p[0].x - 300);
      g_assert_cmpfloat_with_epsilon (far, MIN (10 / sin (a * DEGREE / 2), 30),
                                      1e-6);
      geo_ring_clear (&ring);
      free_outline (o);
    }
}

static void
test_hollow_corner (void)
{
  /* L shape: 100 x 100 less 60 x 60; 10 all round: 120 x 120 less 60 x 60. */
  const double p[][2] = { { 0, 0 },   { 100, 0 },  { 100, 40 },
                          { 40, 40 }, { 40, 100 }, { 0, 100 } };
  const double w[] = { 10, 10, 10, 10, 10, 10 };
  Outline *o = polygon (p, 6, w);
  GeoRing ring = make_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 120 * 120 - 60 * 60, 1e-6);
  g_assert_cmpuint (ring.outline.count, ==, 6);
  geo_ring_clear (&ring);
  free_outline (o);
}

static void
test_slit (void)
{
  /* A slit 12 wide between allowances of 10: closed by them from its mouth to
   * its end. */
  const double p[][2] = { { 0, 0 },   { 100, 0 }, { 100, 200 }, { 56, 200 },
                          { 56, 60 }, { 44, 60 }, { 44, 200 },  { 0, 200 } };
  const double w[] = { 10, 10, 10, 10, 10, 10, 10, 10 };
  Outline *o = polygon (p, 8, w);
  GeoRing ring = make_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 120 * 220, 1e-3);
  g_assert_cmpuint (ring.island_count, ==, 0);
  geo_ring_clear (&ring);
  /* Exactly two allowances wide. */
  for (int i = 2; i < 6; i++)
    {
      GeoPoint *q = o->stitch[i].cubics[0].p;
      for (int j = 0; j < 4; j++)
        if (q[j].x > 40 && q[j].x < 60 && !(i == 4))
          q[j].x += i <= 3 ? 4 : i >= 5 ? -4 : 0;
    }
  free_outline (o);
  const double q[][2] = { { 0, 0 },   { 100, 0 }, { 100, 200 }, { 60, 200 },
                          { 60, 60 }, { 40, 60 }, { 40, 200 },  { 0, 200 } };
  o = polygon (q, 8, w);
  ring = make_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 120 * 220, 0.1);
  geo_ring_clear (&ring);
  free_outline (o);
}

static void
test_island (void)
{
  /* A room 80 x 80 with a door 10 wide: the door is closed, a gap of 60 x 60
   * stays in the room. */
  const double p[][2] = { { 0, 0 },    { 120, 0 },   { 120, 120 }, { 65, 120 },
                          { 65, 100 }, { 100, 100 }, { 100, 20 },  { 20, 20 },
                          { 20, 100 }, { 55, 100 },  { 55, 120 },  { 0, 120 } };
  double w[12];
  for (int i = 0; i < 12; i++)
    w[i] = 10;
  Outline *o = polygon (p, 12, w);
  GeoRing ring = make_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 140 * 140, 1e-3);
  g_assert_cmpuint (ring.island_count, ==, 1);
  g_assert_cmpfloat_with_epsilon (fabs (geo_chain_area (&ring.islands[0])),
                                  60 * 60, 1e-3);
  geo_ring_clear (&ring);
  free_outline (o);
}

/* A 200 x 100 piece whose top edge has a half circle of this radius let into
 * it, as one edge or with corners at its ends. */
static Outline *
scallop (double radius, double width, bool one_edge)
{
  Outline *o = g_new0 (Outline, 1);
  add_line (o, width, 0, 0, 100 - radius, 0);
  if (!one_edge)
    add_edge (o, width);
  add_arc (o, geo_point (100, 0), radius, M_PI, 0);
  if (one_edge)
    add_cubic (
        o, geo_cubic_line (geo_point (100 + radius, 0), geo_point (200, 0)));
  else
    add_line (o, width, 100 + radius, 0, 200, 0);
  add_line (o, width, 200, 0, 200, 100);
  add_line (o, width, 200, 100, 0, 100);
  add_line (o, width, 0, 100, 0, 0);
  return o;
}

static void
test_scallop (void)
{
  for (int one = 0; one < 2; one++)
    {
      /* Deeper than the hollow: closed, and said. */
      Outline *o = scallop (20, 25, one);
      GeoRing ring = make_ring (o);
      g_assert_cmpfloat_with_epsilon (ring.area, 250 * 150, 0.1);
      g_assert_cmpuint (ring.hollow_count, ==, 1);
      g_assert_cmpuint (ring.hollows[0].edge, ==, one ? 0 : 1);
      g_assert_cmpfloat_with_epsilon (ring.hollows[0].radius, 20, 0.02);
      geo_ring_clear (&ring);
      free_outline (o);
      /* Not as deep: the hollow's own parallel shows, radius 40 - 10. */
      o = scallop (40, 10, one);
      ring = make_ring (o);
      g_assert_cmpuint (ring.hollow_count, ==, 0);
      GeoPlace place;
      g_assert_cmpfloat_with_epsilon (
          geo_chain_nearest (&ring.outline, geo_point (100, 0), &place), 30,
          0.02);
      g_assert_cmpuint (ring.source[place.cubic], ==, one ? 0 : 1);
      geo_ring_clear (&ring);
      free_outline (o);
    }
}

static void
test_hollow_neck (void)
{
  /* A neckline that tightens to a radius of about 8 mm under an allowance of
   * 15: the swallow-tail is trimmed and told. */
  Outline *o = g_new0 (Outline, 1);
  add_edge (o, 15);
  add_cubic (o, (GeoCubic){ { { 0, 0 }, { 80, 20 }, { 78, 60 }, { 85, 60 } } });
  add_cubic (o,
             (GeoCubic){ { { 85, 60 }, { 92, 60 }, { 90, 20 }, { 170, 0 } } });
  add_line (o, 15, 170, 0, 170, 200);
  add_line (o, 15, 170, 200, 0, 200);
  add_line (o, 15, 0, 200, 0, 0);
  GeoRing ring = make_ring (o);
  g_assert_cmpuint (ring.hollow_count, ==, 1);
  g_assert_cmpfloat (ring.hollows[0].radius, <, 15);
  for (size_t i = 0; i < ring.outline.count; i++)
    for (int k = 0; k < 16; k++)
      {
        GeoPoint q = geo_cubic_point (&ring.outline.cubics[i], k / 16.0);
        for (size_t e = 0; e < o->count; e++)
          g_assert_cmpfloat (geo_chain_nearest (&o->stitch[e], q, NULL), >=,
                             15 - 0.01);
      }
  geo_ring_clear (&ring);
  free_outline (o);
}

static void
test_crossing_outline (void)
{
  /* A bow tie with unequal lobes: the outer line about both. */
  const double p[][2] = { { 0, 0 }, { 200, 150 }, { 200, 0 }, { 0, 100 } };
  const double w[] = { 10, 10, 10, 10 };
  Outline *o = polygon (p, 4, w);
  GeoRing ring;
  geo_ring_init (&ring);
  if (geo_ring_make (o->edges, o->count, 0.01, &ring))
    {
      g_assert_true (is_sound (o, &ring));
      g_assert_true (holds_stitch (o, &ring));
    }
  else
    {
      /* The other way round, then. */
      for (size_t i = 0; i < 2; i++)
        {
          GeoChain swap = o->stitch[i];
          o->stitch[i] = o->stitch[3 - i];
          o->stitch[3 - i] = swap;
        }
      for (size_t i = 0; i < 4; i++)
        geo_chain_reverse (&o->stitch[i]);
      g_assert_true (geo_ring_make (o->edges, o->count, 0.01, &ring));
      g_assert_true (is_sound (o, &ring));
      g_assert_true (holds_stitch (o, &ring));
    }
  geo_ring_clear (&ring);
  free_outline (o);
}

static void
test_nothing (void)
{
  GeoRing ring;
  geo_ring_init (&ring);
  g_assert_false (geo_ring_make (NULL, 0, 0.01, &ring));
  const double p[][2] = { { 0, 0 }, { 0, 100 }, { 100, 100 }, { 100, 0 } };
  const double w[] = { 10, 10, 10, 10 };
  Outline *o = polygon (p, 4, w);
  g_assert_false (geo_ring_make (o->edges, 4, 0.01, &ring)); /* clockwise */
  g_assert_cmpuint (ring.outline.count, ==, 0);
  free_outline (o);
  const double q[][2] = { { 0, 0 }, { 50, 0 }, { 100, 0 } };
  o = polygon (q, 3, w);
  g_assert_false (geo_ring_make (o->edges, 3, 0.01, &ring)); /* no area */
  free_outline (o);
  geo_ring_clear (&ring);
}

/* Random outlines about a centre: nodes at uneven angles and radii, joined
 * by lines and curves, smooth or not. */
static Outline *
random_outline (int nodes, double inner, double outer, double rough)
{
  Outline *o = g_new0 (Outline, 1);
  GeoPoint p[MOST], tangent[MOST];
  for (int i = 0; i < nodes; i++)
    {
      double a = 2 * M_PI * (i + g_test_rand_double_range (-0.3, 0.3)) / nodes;
      double r = g_test_rand_double_range (inner, outer);
      p[i] = geo_point (r * cos (a), r * sin (a));
    }
  for (int i = 0; i < nodes; i++)
    tangent[i] = geo_scale (
        geo_sub (p[(i + 1) % nodes], p[(i + nodes - 1) % nodes]), 0.17);
  for (int i = 0; i < nodes; i++)
    {
      int j = (i + 1) % nodes;
      if (i == 0 || g_test_rand_int_range (0, 3))
        add_edge (o, 0);
      GeoCubic c = geo_cubic_line (p[i], p[j]);
      if (g_test_rand_int_range (0, 4))
        {
          GeoPoint off = { g_test_rand_double_range (-rough, rough),
                           g_test_rand_double_range (-rough, rough) };
          c.p[1] = geo_add (geo_add (p[i], tangent[i]), off);
          c.p[2] = geo_sub (p[j], tangent[j]);
        }
      add_cubic (o, c);
    }
  return o;
}

static bool
is_simple (const Outline *o)
{
  GeoChain all = GEO_CHAIN_EMPTY;
  GeoCrossings list;
  for (size_t i = 0; i < o->count; i++)
    geo_chain_append_chain (&all, &o->stitch[i]);
  geo_crossings_init (&list);
  geo_chain_self_crossings (&all, &list);
  bool simple = list.count == 0 && geo_chain_area (&all) > 100;
  geo_crossings_clear (&list);
  geo_chain_clear (&all);
  return simple;
}

static double
stitch_distance (const Outline *o, GeoPoint q)
{
  double near = INFINITY;
  for (size_t i = 0; i < o->count; i++)
    near = MIN (near, geo_chain_nearest (&o->stitch[i], q, NULL));
  return near;
}

static void
test_random_even (void)
{
  /* One width all round, corners extended: no cutting point nearer than the
   * width, none farther than the mitre's limit. */
  size_t made = 0;
  for (int i = 0; i < 250; i++)
    {
      double w = g_test_rand_double_range (1, 45);
      Outline *o
          = random_outline (g_test_rand_int_range (3, 14), 30,
                            g_test_rand_double_range (60, 300), i % 2 ? 5 : 60);
      for (size_t j = 0; j < o->count; j++)
        o->edges[j].width = w;
      if (is_simple (o))
        {
          GeoRing ring = make_ring (o);
          made++;
          for (size_t j = 0; j < ring.outline.count; j++)
            for (int k = 0; k < 7; k++)
              {
                GeoPoint q = geo_cubic_point (&ring.outline.cubics[j], k / 7.0);
                double near = stitch_distance (o, q);
                if (near < w - 0.01 || near > 3.2 * w + 0.01)
                  {
                    g_test_message ("%g %g at %g of %g", q.x, q.y, near, w);
                    print_outline (o);
                  }
                g_assert_cmpfloat (near, >=, w - 0.01);
                g_assert_cmpfloat (near, <=, 3.2 * w + 0.01);
              }
          geo_ring_clear (&ring);
        }
      free_outline (o);
    }
  g_test_message ("%zu rings", made);
  g_assert_cmpuint (made, >, 100);
}

static void
test_random_uneven (void)
{
  /* Any widths and corners: sound, the stitch line inside, and every point
   * that comes from an edge at least its width from it. */
  const double widths[] = { 0, 0, 6, 10, 15, 40 };
  size_t made = 0, judged = 0;
  for (int i = 0; i < 250; i++)
    {
      Outline *o
          = random_outline (g_test_rand_int_range (3, 12), 50,
                            g_test_rand_double_range (80, 400), i % 2 ? 5 : 40);
      for (size_t j = 0; j < o->count; j++)
        {
          o->edges[j].width = widths[g_test_rand_int_range (0, 6)];
          set_corner (o, j, (GeoCornerKind)g_test_rand_int_range (0, 4),
                      (GeoCornerGovernor)g_test_rand_int_range (0, 2));
        }
      if (is_simple (o))
        {
          GeoRing ring = make_ring (o);
          made++;
          for (size_t j = 0; j < ring.outline.count; j++)
            {
              size_t e = ring.source[j];
              GeoPoint q = geo_cubic_point (&ring.outline.cubics[j], 0.5);
              if (e == GEO_RING_CORNER)
                continue;
              /* About the ends of an edge corners have their say, for as far as
               * 3 times the wider width. */
              double w = o->edges[e].width, wide = w;
              wide = MAX (wide, o->edges[(e + 1) % o->count].width);
              wide = MAX (wide, o->edges[(e + o->count - 1) % o->count].width);
              double near = geo_chain_nearest (&o->stitch[e], q, NULL);
              if (geo_distance (q, geo_chain_start (&o->stitch[e])) < 3.5 * wide
                  || geo_distance (q, geo_chain_end (&o->stitch[e]))
                         < 3.5 * wide)
                continue;
              judged++;
              if (near < w - 0.01)
                {
                  print_outline (o);
                  print_ring (&ring);
                }
              g_assert_cmpfloat (near, >=, w - 0.01);
            }
          geo_ring_clear (&ring);
        }
      free_outline (o);
    }
  g_test_message ("%zu rings, %zu points", made, judged);
  g_assert_cmpuint (judged, >, 200);
  g_assert_cmpuint (made, >, 100);
}

static void
test_random_wild (void)
{
  /* Outlines that cross themselves, with collapsed handles and cubics of no
   * length: no outline, or a sound one. On a lattice, where edges lie on each
   * other and spurs of no width come about, the stitch line need not be inside;
   * without allowance the line about two parts that cross touches itself. */
  size_t made = 0;
  for (int i = 0; i < 300; i++)
    {
      Outline *o = g_new0 (Outline, 1);
      int n = g_test_rand_int_range (2, 9);
      double scale = g_test_rand_int_range (0, 4) ? 100 : 8;
      GeoPoint first = { 0, 0 }, from = first;
      for (int j = 0; j < n; j++)
        {
          GeoPoint to = j == n - 1
                            ? first
                            : geo_point (g_test_rand_int_range (-4, 5) * scale,
                                         g_test_rand_int_range (-4, 5) * scale);
          if (i % 3 && j < n - 1)
            to = geo_point (g_test_rand_double_range (-4, 5) * scale,
                            g_test_rand_double_range (-4, 5) * scale);
          GeoCubic c = geo_cubic_line (from, to);
          int way = g_test_rand_int_range (0, 5);
          for (int k = 1; k < 3 && way < 3; k++)
            c.p[k] = geo_point (g_test_rand_double_range (-5, 5) * scale,
                                g_test_rand_double_range (-5, 5) * scale);
          if (way == 1)
            c.p[1] = c.p[0];
          if (way == 2)
            c.p[2] = geo_along (c.p[3], geo_point (1, 0), 1e-3);
          add_edge (o, g_test_rand_int_range (i % 3 == 1, 4) * 7.5);
          set_corner (o, o->count - 1,
                      (GeoCornerKind)g_test_rand_int_range (0, 4),
                      (GeoCornerGovernor)g_test_rand_int_range (0, 2));
          add_cubic (o, c);
          from = to;
        }
      GeoRing ring;
      geo_ring_init (&ring);
      if (geo_ring_make (o->edges, o->count, 0.01, &ring))
        {
          made++;
          for (size_t j = 0; j < ring.outline.count; j++)
            for (int k = 0; k < 4; k++)
              g_assert_true (isfinite (ring.outline.cubics[j].p[k].x)
                             && isfinite (ring.outline.cubics[j].p[k].y));
          g_assert_true (geo_chain_is_closed (&ring.outline));
          if ((i % 3 == 1 && !is_sound (o, &ring))
              || (i % 3 && !holds_stitch (o, &ring)))
            {
              print_outline (o);
              print_ring (&ring);
              g_assert_not_reached ();
            }
        }
      geo_ring_clear (&ring);
      free_outline (o);
    }
  g_test_message ("%zu rings", made);
}

static void
mute (const char *format, ...)
{
  (void)format;
}

static GEOSGeometry *
to_geos (GEOSContextHandle_t geos, const GeoChain *chain, int steps)
{
  size_t n = chain->count * (size_t)steps;
  GEOSCoordSequence *seq = GEOSCoordSeq_create_r (geos, (unsigned)n + 1, 2);
  for (size_t i = 0; i <= n; i++)
    {
      GeoPoint p = geo_cubic_point (&chain->cubics[i % n / (size_t)steps],
                                    (double)(i % n % (size_t)steps) / steps);
      GEOSCoordSeq_setXY_r (geos, seq, (unsigned)i, p.x, p.y);
    }
  return GEOSGeom_createPolygon_r (
      geos, GEOSGeom_createLinearRing_r (geos, seq), NULL, 0);
}

static void
test_geos (void)
{
  /* Against GEOS's mitred buffer of a fine polyline. It is off by about 0.004 d
   * whatever the input, measured; the ring is allowed no more than that. */
  GEOSContextHandle_t geos = initGEOS_r (mute, mute);
  double worst = 0;
  size_t made = 0;
  for (int i = 0; i < 40; i++)
    {
      double w = g_test_rand_double_range (3, 40), far = 0;
      Outline *o = random_outline (g_test_rand_int_range (4, 10), 90, 200, 5);
      GeoChain all = GEO_CHAIN_EMPTY;
      for (size_t j = 0; j < o->count; j++)
        {
          o->edges[j].width = w;
          geo_chain_append_chain (&all, &o->stitch[j]);
        }
      if (is_simple (o))
        {
          GeoRing ring = make_ring (o);
          GEOSGeometry *stitch = to_geos (geos, &all, 64);
          GEOSGeometry *own = to_geos (geos, &ring.outline, 64);
          GEOSGeometry *buffer = GEOSBufferWithStyle_r (
              geos, stitch, w, 64, GEOSBUF_CAP_ROUND, GEOSBUF_JOIN_MITRE, 3);
          GEOSGeometry *shell = GEOSGeom_createPolygon_r (
              geos,
              GEOSGeom_clone_r (geos, GEOSGetExteriorRing_r (geos, buffer)),
              NULL, 0);
          GEOSGeometry *odd = GEOSSymDifference_r (geos, own, shell);
          double area = 0, length = 0;
          GEOSArea_r (geos, odd, &area);
          GEOSLength_r (geos, own, &length);
          far = area / length;
          worst = MAX (worst, far / w);
          g_assert_cmpfloat (far, <, 0.0045 * w + 0.01);
          made++;
          GEOSGeom_destroy_r (geos, odd);
          GEOSGeom_destroy_r (geos, shell);
          GEOSGeom_destroy_r (geos, buffer);
          GEOSGeom_destroy_r (geos, own);
          GEOSGeom_destroy_r (geos, stitch);
          geo_ring_clear (&ring);
        }
      geo_chain_clear (&all);
      free_outline (o);
    }
  finishGEOS_r (geos);
  g_test_message ("%zu rings, mean distance at most %.5f of the width", made,
                  worst);
  g_assert_cmpuint (made, >, 20);
}

static void
test_time (void)
{
  /* Told, not judged: an eight-edge piece, as it is made in a drag. */
  Outline *o = scallop (40, 10, false);
  o->edges[2].width = 15;
  GeoRing ring;
  geo_ring_init (&ring);
  gint64 start = g_get_monotonic_time ();
  for (int i = 0; i < 200; i++)
    geo_ring_make (o->edges, o->count, 0.01, &ring);
  g_test_message ("%.3f ms a ring",
                  (double)(g_get_monotonic_time () - start) / 200e3);
  geo_ring_clear (&ring);
  free_outline (o);
}

/* Handles shorter than a rounding error, corners that all but fold: wild, but an
 * outline that does not cross itself, and such a one has a ring. */
static void
test_wild_handles (void)
{
  const GeoCubic cubics[] = {
    {{{221.6236341778266,0},{221.6236341778266,0},{159.96945690803813,183.03990947282776},{145.96945690803813,183.03990947284498}}},
    {{{145.96945690803813,183.03990947284498},{144.27268357589315,181.93990947284499},{-50.805204299457138,222.59214391651278},{-50.805204299457138,222.59214391651278}}},
    {{{-50.805204299457138,222.59214391651278},{-50.805204299457138,222.59214391651278},{-324.78034472181326,175.09947599968979},{-324.78034472179633,156.40597070557686}}},
    {{{-324.78034472179633,156.40597070557686},{-341.20090513995405,159.96736387520238},{-199.46463376694527,-101.75027160768047},{-184.29183794495489,-88.750271607680475}}},
    {{{-184.29183794495489,-88.750271607680475},{-184.29183794495489,-88.750271607680475},{-49.638386605387268,-224.24678897013095},{-48.72774558469731,-213.49020257816477}}},
    {{{-48.72774558469731,-213.49020257816477},{25.926902251563369,-215.57321569198112},{100.58155008782404,-217.65622880579744},{175.23619792408473,-219.73924191961379}}},
    {{{175.23619792408473,-219.73924191961379},{190.69867667533202,-146.49282794640919},{206.16115542657931,-73.246413973204596},{221.6236341778266,0}}},
  };
  for (double w = 5; w < 30; w += 6)
    {
      Outline *o = g_new0 (Outline, 1);
      add_edge (o, w);
      for (size_t i = 0; i < G_N_ELEMENTS (cubics); i++)
        add_cubic (o, cubics[i]);
      set_corner (o, 0, GEO_CORNER_SQUARED, GEO_CORNER_BY_LEAVING);
      GeoRing ring = make_ring (o);
      for (size_t i = 0; i < ring.outline.count; i++)
        for (int k = 0; k < 8; k++)
          g_assert_cmpfloat (
              stitch_distance (
                  o, geo_cubic_point (&ring.outline.cubics[i], k / 8.0)),
              >=, w - 0.01);
      geo_ring_clear (&ring);
      free_outline (o);
    }
}

/* A U between two legs that run a little more than two allowances apart, and
 * a little less: the cutting line goes in, and does not. */
static void
test_u_turn (void)
{
  for (int narrow = 0; narrow < 2; narrow++)
    {
      double r = narrow ? 9 : 13, w = 10;
      Outline *o = g_new0 (Outline, 1);
      add_edge (o, w);
      add_cubic (o, geo_cubic_line (geo_point (-100, 0), geo_point (-r, 0)));
      add_cubic (o, geo_cubic_line (geo_point (-r, 0), geo_point (-r, 150)));
      add_arc (o, geo_point (0, 150), r, M_PI, 0);
      add_cubic (o, geo_cubic_line (geo_point (r, 150), geo_point (r, 0)));
      add_cubic (o, geo_cubic_line (geo_point (r, 0), geo_point (100, 0)));
      add_line (o, w, 100, 0, 100, 250);
      add_line (o, w, 100, 250, -100, 250);
      add_line (o, w, -100, 250, -100, 0);
      GeoRing ring = make_ring (o);
      double inside = 220 * 270;
      /* The slot left open: 2 (r - w) wide, a half circle at its end. */
      if (!narrow)
        inside -= 2 * (r - w) * 160 + M_PI * (r - w) * (r - w) / 2;
      g_assert_cmpfloat_with_epsilon (ring.area, inside, 1);
      g_assert_cmpuint (ring.island_count, ==, 0);
      g_assert_cmpuint (ring.hollow_count, ==, narrow ? 1 : 0);
      for (size_t i = 0; i < ring.outline.count; i++)
        for (int k = 0; k < 8; k++)
          g_assert_cmpfloat (
              stitch_distance (
                  o, geo_cubic_point (&ring.outline.cubics[i], k / 8.0)),
              >=, w - 0.01);
      geo_ring_clear (&ring);
      free_outline (o);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ring/rectangle", test_rectangle);
  g_test_add_func ("/ring/circle", test_circle);
  g_test_add_func ("/ring/hem", test_hem);
  g_test_add_func ("/ring/matched", test_matched);
  g_test_add_func ("/ring/folded-curve", test_folded_curve);
  g_test_add_func ("/ring/squared", test_squared);
  g_test_add_func ("/ring/widths", test_widths);
  g_test_add_func ("/ring/no-allowance", test_no_allowance);
  g_test_add_func ("/ring/spike", test_spike);
  g_test_add_func ("/ring/hollow-corner", test_hollow_corner);
  g_test_add_func ("/ring/slit", test_slit);
  g_test_add_func ("/ring/island", test_island);
  g_test_add_func ("/ring/scallop", test_scallop);
  g_test_add_func ("/ring/hollow-neck", test_hollow_neck);
  g_test_add_func ("/ring/crossing-outline", test_crossing_outline);
  g_test_add_func ("/ring/nothing", test_nothing);
  g_test_add_func ("/ring/random-even", test_random_even);
  g_test_add_func ("/ring/random-uneven", test_random_uneven);
  g_test_add_func ("/ring/random-wild", test_random_wild);
  g_test_add_func ("/ring/geos", test_geos);
  g_test_add_func ("/ring/wild-handles", test_wild_handles);
  g_test_add_func ("/ring/u-turn", test_u_turn);
  g_test_add_func ("/ring/time", test_time);
  return g_test_run ();
}
