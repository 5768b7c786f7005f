/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Crossings against algebra where it gives them, and against GEOS on fine
 * polylines where it does not. */
#include <geos_c.h>
#include <stdarg.h>

#include "curve-samples.h"
#include "geometry/crossing.h"
#include "geometry/nearest.h"

static GeoCrossings
crossings_of (const GeoCubic *a, const GeoCubic *b)
{
  GeoCrossings list;
  geo_crossings_init (&list);
  geo_cubic_crossings (a, b, &list);
  for (size_t i = 0; i < list.count; i++)
    {
      GeoCrossing *x = &list.items[i];
      g_assert_true (x->a.t >= 0 && x->a.t <= 1 && x->b.t >= 0 && x->b.t <= 1);
      g_assert_true (i == 0 || x->a.t >= x[-1].a.t);
      NEAR_POINT (geo_cubic_point (a, x->a.t), x->at, 1e-9);
      NEAR_POINT (geo_cubic_point (b, x->b.t), x->at, 1e-9);
    }
  g_assert_cmpuint (list.count, <=, 64);
  return list;
}

static void
assert_count (const GeoCubic *a, const GeoCubic *b, const GeoCrossings *list,
              size_t count)
{
  if (list->count == count)
    return;
  for (int i = 0; i < 4; i++)
    g_test_message ("%.17g,%.17g  %.17g,%.17g", a->p[i].x, a->p[i].y, b->p[i].x,
                    b->p[i].y);
  for (size_t i = 0; i < list->count; i++)
    g_test_message ("%.17g %.17g at %.12g,%.12g", list->items[i].a.t,
                    list->items[i].b.t, list->items[i].at.x,
                    list->items[i].at.y);
  g_error ("%zu crossings, not %zu", list->count, count);
}

/* Exactly these points, in this order along a. */
static void
assert_crossings (GeoCubic a, GeoCubic b, size_t count, const double *xy,
                  double tolerance)
{
  GeoCrossings list = crossings_of (&a, &b);
  assert_count (&a, &b, &list, count);
  for (size_t i = 0; i < count; i++)
    NEAR_POINT (list.items[i].at, geo_point (xy[2 * i], xy[2 * i + 1]),
                tolerance);
  geo_crossings_clear (&list);
  /* The other way round there are as many. */
  list = crossings_of (&b, &a);
  assert_count (&b, &a, &list, count);
  geo_crossings_clear (&list);
}

static GeoCubic
line (double x0, double y0, double x1, double y1)
{
  return geo_cubic_line (geo_point (x0, y0), geo_point (x1, y1));
}

static void
test_nine (void)
{
  /* y = T3 (x) and x = T3 (y), T3 the Chebyshev polynomial: T9 (x) = x, which x
   * = cos (pi k/4) and cos (pi k/5) solve, nine of them. */
  GeoCubic a = graph_cubic (4, 0, -3, 0, 50, false);
  GeoCubic b = graph_cubic (4, 0, -3, 0, 50, true);
  const double angle[9]
      = { 1, 4 / 5.0, 3 / 4.0, 3 / 5.0, 1 / 2.0, 2 / 5.0, 1 / 4.0, 1 / 5.0, 0 };
  double xy[18];
  for (int i = 0; i < 9; i++)
    {
      xy[2 * i] = 50 * cos (G_PI * angle[i]);
      xy[2 * i + 1] = 50 * cos (3 * G_PI * angle[i]);
    }
  assert_crossings (a, b, 9, xy, 1e-9);
}

static void
test_lines (void)
{
  assert_crossings (line (0, 0, 100, 50), line (0, 50, 100, 0), 1,
                    (double[]){ 50, 25 }, 1e-12);
  assert_crossings (line (0, 0, 100, 50), line (0, 1e-8, 100, 50 + 1e-8), 0,
                    NULL, 0);
  /* End to end, and running on over each other. */
  assert_crossings (line (0, 0, 100, 50), line (100, 50, 200, 100), 1,
                    (double[]){ 100, 50 }, 1e-9);
  assert_crossings (line (0, 0, 100, 50), line (50, 25, 200, 100), 2,
                    (double[]){ 50, 25, 100, 50 }, 1e-9);
  assert_crossings (line (0, 0, 100, 50), line (80, 40, 20, 10), 2,
                    (double[]){ 20, 10, 80, 40 }, 1e-9);
  /* A foot on it, and a foot 1e-6 short of it. */
  assert_crossings (line (0, 0, 100, 0), line (30, 0, 60, 70), 1,
                    (double[]){ 30, 0 }, 1e-9);
  assert_crossings (line (0, 0, 100, 0), line (30, 1e-6, 60, 70), 0, NULL, 0);
}

static void
test_tangencies (void)
{
  GeoCubic axis = graph_cubic (0, 0, 0, 0, 50, false);
  /* y = x^2: touching; at depth d two crossings at +-sqrt (d); above, none. */
  assert_crossings (graph_cubic (0, 1, 0, 0, 50, false), axis, 1,
                    (double[]){ 0, 0 }, 1e-6);
  assert_crossings (graph_cubic (0, 1, 0, -1e-6, 50, false), axis, 2,
                    (double[]){ -0.05, 0, 0.05, 0 }, 1e-9);
  assert_crossings (graph_cubic (0, 1, 0, 1e-9, 50, false), axis, 0, NULL, 0);
  assert_crossings (graph_cubic (0, 1, 0, -1e-8, 50, false), axis, 2,
                    (double[]){ -0.005, 0, 0.005, 0 }, 1e-8);
  /* Crossing along the tangent, y = x^3; and contact of third order between
   * y = x^2 and y = x^2 + x^3. */
  assert_crossings (graph_cubic (1, 0, 0, 0, 50, false), axis, 1,
                    (double[]){ 0, 0 }, 0.05);
  assert_crossings (graph_cubic (0, 1, 0, 0, 50, false),
                    graph_cubic (1, 1, 0, 0, 50, false), 1, (double[]){ 0, 0 },
                    0.05);
  /* Arcs of circles touching from outside and from inside. */
  GeoCubic arc = geo_cubic_arc (geo_point (0, 0), 100, -0.7, 0.7);
  assert_crossings (
      arc, geo_cubic_arc (geo_point (140, 0), 40, G_PI - 0.7, G_PI + 0.7), 1,
      (double[]){ 100, 0 }, 1e-6);
  assert_crossings (arc, geo_cubic_arc (geo_point (60, 0), 40, -0.7, 0.7), 1,
                    (double[]){ 100, 0 }, 1e-6);
}

static void
test_overlaps (void)
{
  GeoCubic c = { { { 0, 0 }, { 40, 90 }, { 120, -60 }, { 150, 50 } } };
  for (int i = 0; i < 40; i++)
    {
      double a0 = g_test_rand_double_range (0, 0.3),
             a1 = g_test_rand_double_range (0.6, 1);
      double b0 = g_test_rand_double_range (0.3, 0.5),
             b1 = g_test_rand_double_range (1, 1.3);
      GeoCubic a = geo_cubic_part (&c, a0, a1), b = geo_cubic_part (&c, b0, b1);
      if (i % 2)
        b = geo_cubic_reverse (&b);
      GeoPoint p = geo_cubic_point (&c, b0), q = geo_cubic_point (&c, a1);
      assert_crossings (a, b, 2, (double[]){ p.x, p.y, q.x, q.y }, 1e-8);
    }
  GeoPoint p = c.p[0], q = c.p[3];
  const double ends[4] = { p.x, p.y, q.x, q.y };
  assert_crossings (c, c, 2, ends, 1e-9);
  assert_crossings (c, geo_cubic_reverse (&c), 2, ends, 1e-9);
  /* Laid on by a motion and back: the same but for rounding. */
  GeoMotion m = geo_motion_about (geo_point (311, 77), 0.7);
  GeoCubic d = geo_cubic_transform (&c, m);
  d = geo_cubic_transform (&d, geo_motion_inverse (m));
  assert_crossings (c, d, 2, ends, 1e-9);
  /* A curve with a loop on itself: its ends, and the loop's crossing either
   * way round. */
  GeoCubic loop = { { { 0, 0 }, { 150, 100 }, { -50, 100 }, { 100, 0 } } };
  GeoPoint x = geo_point (50, 300 / 7.0);
  assert_crossings (loop, loop, 4,
                    (double[]){ 0, 0, x.x, x.y, x.x, x.y, 100, 0 }, 1e-9);
  /* A short piece out of a loop, across the loop's middle. */
  GeoCubic tight = { { { 251, 189 }, { 371, 282 }, { 333, 128 }, { 3, 342 } } };
  GeoCubic bit = geo_cubic_part (&tight, 0.32, 0.363);
  assert_crossings (
      tight, bit, 2,
      (double[]){ bit.p[0].x, bit.p[0].y, bit.p[3].x, bit.p[3].y }, 1e-9);
  /* Two parts of a loop that share a stretch and cross elsewhere. */
  GeoCubic part = geo_cubic_part (&loop, 0, 0.6),
           rest = geo_cubic_part (&loop, 0.5, 1);
  GeoPoint from = geo_cubic_point (&loop, 0.5),
           to = geo_cubic_point (&loop, 0.6);
  assert_crossings (part, rest, 3,
                    (double[]){ x.x, x.y, from.x, from.y, to.x, to.y }, 1e-8);
}

static void
test_degenerate_known (void)
{
  /* A line across a folded one, run over three times. */
  GeoCubic fold = { { { 0, 0 }, { 100, 0 }, { -50, 0 }, { 60, 0 } } };
  assert_crossings (fold, line (20, -20, 20, 20), 3,
                    (double[]){ 20, 0, 20, 0, 20, 0 }, 1e-9);
  /* Through the tip of a cusp, and into a collapsed handle. */
  GeoCubic cusp = { { { 0, 0 }, { 100, 100 }, { 0, 100 }, { 100, 0 } } };
  assert_crossings (cusp, line (0, 75, 100, 75), 1, (double[]){ 50, 75 }, 1e-7);
  assert_crossings (cusp, line (0, 74, 100, 76), 1, (double[]){ 50, 75 }, 1e-7);
  GeoCubic bare = { { { 0, 0 }, { 0, 0 }, { 30, 90 }, { 100, 0 } } };
  assert_crossings (bare, line (-10, 0, 50, 0), 1, (double[]){ 0, 0 }, 1e-9);
  assert_crossings (bare, line (0, -10, 0, 10), 1, (double[]){ 0, 0 }, 1e-9);
  GeoCubic point = { { { 50, 75 }, { 50, 75 }, { 50, 75 }, { 50, 75 } } };
  assert_crossings (cusp, point, 1, (double[]){ 50, 75 }, 1e-9);
  assert_crossings (point, point, 1, (double[]){ 50, 75 }, 1e-9);
  assert_crossings (point, line (0, 0, 100, 100), 0, NULL, 0);
}

static void
quiet (const char *format, ...)
{
  (void)format;
}

static GEOSGeometry *
fine_line (const GeoCubic *c, int pieces)
{
  GEOSCoordSequence *seq = GEOSCoordSeq_create ((unsigned)pieces + 1, 2);
  for (int i = 0; i <= pieces; i++)
    {
      GeoPoint p = geo_cubic_point (c, (double)i / pieces);
      GEOSCoordSeq_setXY (seq, (unsigned)i, p.x, p.y);
    }
  return GEOSGeom_createLineString (seq);
}

/* How far the point is from a geometry. */
static double
geos_distance (const GEOSGeometry *to, GeoPoint p)
{
  GEOSGeometry *point = GEOSGeom_createPointFromXY (p.x, p.y);
  double d = INFINITY;
  if (!GEOSisEmpty (to))
    GEOSDistance (to, point, &d);
  GEOSGeom_destroy (point);
  return d;
}

/* Smallest angle at which the two cross, and smallest gap between crossings: where
 * both are ample a polyline tells as much as the curve. */
static bool
is_plain (const GeoCubic *a, const GeoCubic *b, const GeoCrossings *list)
{
  for (size_t i = 0; i < list->count; i++)
    {
      GeoPoint u = geo_cubic_tangent (a, list->items[i].a.t);
      GeoPoint v = geo_cubic_tangent (b, list->items[i].b.t);
      if (fabs (geo_cross (u, v)) < 0.05)
        return false;
      for (size_t j = 0; j < i; j++)
        if (geo_distance (list->items[i].at, list->items[j].at) < 0.1)
          return false;
    }
  return true;
}

static void
test_geos (void)
{
  initGEOS (quiet, quiet);
  int compared = 0, crossings = 0;
  for (int round = 0; round < 150; round++)
    {
      GeoCubic a = random_cubic (400), b = random_cubic (400);
      GeoCrossings list = crossings_of (&a, &b);
      GEOSGeometry *line_a = fine_line (&a, 3000),
                   *line_b = fine_line (&b, 3000);
      GEOSGeometry *both = GEOSIntersection (line_a, line_b);
      int found = GEOSisEmpty (both) ? 0 : GEOSGetNumGeometries (both);
      for (size_t i = 0;
           i < list.count && found > 0 && is_plain (&a, &b, &list); i++)
        g_assert_cmpfloat (geos_distance (both, list.items[i].at), <, 0.01);
      if (is_plain (&a, &b, &list))
        {
          compared++;
          crossings += found;
          /* What GEOS finds beyond ours can only be a near miss: a grazing
           * contact the polylines make of it. */
          if (found != (int)list.count)
            g_error ("round %d: GEOS finds %d, not %zu", round, found,
                     list.count);
        }
      GEOSGeom_destroy (both);
      GEOSGeom_destroy (line_a);
      GEOSGeom_destroy (line_b);
      geo_crossings_clear (&list);
    }
  g_test_message ("%d pairs compared, %d crossings", compared, crossings);
  g_assert_cmpint (compared, >, 100);
  g_assert_cmpint (crossings, >, 50);
  finishGEOS ();
}

/* Two graphs that differ by e (x - r1) (x - r2) (x - r3) cross at r1, r2 and r3
 * however small e is: curves as close as 1e-6 mm, at angles to match. */
static void
test_bundles (void)
{
  for (int round = 0; round < 200; round++)
    {
      double r[3], a[4], e = pow (10, g_test_rand_double_range (-6, 0));
      r[0] = g_test_rand_double_range (-0.9, -0.3);
      r[1] = g_test_rand_double_range (-0.2, 0.2);
      r[2] = g_test_rand_double_range (0.3, 0.9);
      for (int i = 0; i < 4; i++)
        a[i] = g_test_rand_double_range (-1, 1);
      GeoCubic p = graph_cubic (a[3], a[2], a[1], a[0], 100, false);
      GeoCubic q
          = graph_cubic (a[3] + e, a[2] - e * (r[0] + r[1] + r[2]),
                         a[1] + e * (r[0] * r[1] + r[1] * r[2] + r[2] * r[0]),
                         a[0] - e * r[0] * r[1] * r[2], 100, false);
      GeoMotion turn
          = geo_motion_about (random_point (100), 7 * g_test_rand_double ());
      GeoCubic p2 = geo_cubic_transform (&p, turn),
               q2 = geo_cubic_transform (&q, turn);
      if (round % 2)
        q2 = geo_cubic_reverse (&q2);
      GeoCrossings list = crossings_of (&p2, &q2);
      assert_count (&p2, &q2, &list, 3);
      for (int i = 0; i < 3; i++)
        NEAR (list.items[i].a.t, 0.5 + 0.5 * r[i], 1e-12 / e + 1e-12);
      geo_crossings_clear (&list);
    }
}

/* Signs of the distance across a straight line tell the crossings with it. */
static void
test_against_line (void)
{
  for (int round = 0; round < 300; round++)
    {
      GeoCubic c = random_cubic (400);
      GeoPoint p = random_point (400), q = random_point (400);
      GeoPoint u = geo_unit (geo_sub (q, p));
      GeoCubic across
          = geo_cubic_line (geo_along (p, u, -2000), geo_along (p, u, 2000));
      double t[3];
      int count = geo_cubic_crossings_line (&c, p, u, t);
      GeoCrossings list = crossings_of (&c, &across);
      g_assert_cmpuint (list.count, ==, (size_t)count);
      for (int i = 0; i < count; i++)
        NEAR_POINT (list.items[i].at, geo_cubic_point (&c, t[i]), 1e-8);
      geo_crossings_clear (&list);
    }
}

static void
test_self (void)
{
  double t0, t1;
  GeoCubic loop = { { { 0, 0 }, { 150, 100 }, { -50, 100 }, { 100, 0 } } };
  g_assert_true (geo_cubic_self_crossing (&loop, &t0, &t1));
  NEAR_POINT (geo_cubic_point (&loop, t0), geo_cubic_point (&loop, t1), 1e-11);
  NEAR_POINT (geo_cubic_point (&loop, t0), geo_point (50, 300 / 7.0), 1e-11);
  GeoCubic cusp = { { { 0, 0 }, { 100, 100 }, { 0, 100 }, { 100, 0 } } };
  g_assert_false (geo_cubic_self_crossing (&cusp, &t0, &t1));
  GeoCubic fold = { { { 0, 0 }, { 100, 0 }, { -50, 0 }, { 60, 0 } } };
  g_assert_false (geo_cubic_self_crossing (&fold, &t0, &t1));
  GeoCubic closed = { { { 7, 9 }, { 150, 100 }, { -150, 100 }, { 7, 9 } } };
  g_assert_true (geo_cubic_self_crossing (&closed, &t0, &t1));
  g_assert_true (t0 < 1e-9 && t1 > 1 - 1e-9);
  /* Of random cubics: what is found is one, and where the polyline of the curve
   * crosses itself something is found. */
  int loops = 0;
  for (int round = 0; round < 300; round++)
    {
      GeoCubic c = random_cubic (400);
      bool found = geo_cubic_self_crossing (&c, &t0, &t1);
      loops += found;
      if (found)
        {
          NEAR_POINT (geo_cubic_point (&c, t0), geo_cubic_point (&c, t1), 1e-8);
          g_assert_cmpfloat (t0, <, t1);
        }
      const int n = 150;
      bool crosses = false;
      /* Not at the ends nor across a hairpin, where the chords of a curve may
       * cross that does not itself. */
      for (int i = 1; i < n && !crosses; i++)
        for (int j = i + 4; j < n - 1 && !crosses; j++)
          {
            GeoPoint p = geo_cubic_point (&c, (double)i / n),
                     q = geo_cubic_point (&c, (i + 1.0) / n);
            GeoPoint r = geo_cubic_point (&c, (double)j / n),
                     s = geo_cubic_point (&c, (j + 1.0) / n);
            crosses = geo_cross (geo_sub (q, p), geo_sub (r, p))
                              * geo_cross (geo_sub (q, p), geo_sub (s, p))
                          < 0
                      && geo_cross (geo_sub (s, r), geo_sub (p, r))
                                 * geo_cross (geo_sub (s, r), geo_sub (q, r))
                             < 0;
          }
      if (crosses && !found)
        g_error ("%.17g,%.17g %.17g,%.17g %.17g,%.17g %.17g,%.17g", c.p[0].x,
                 c.p[0].y, c.p[1].x, c.p[1].y, c.p[2].x, c.p[2].y, c.p[3].x,
                 c.p[3].y);
      if (found && !crosses)
        g_assert_true (t1 - t0 < 0.1 || t0 < 0.01 || t1 > 0.99);
    }
  g_assert_cmpint (loops, >, 5);
}

/* No wrong answer and no endless search on anything. */
static void
test_awkward (void)
{
  g_autoptr (GArray) degenerate = curve_samples_degenerate ();
  gint64 start = g_get_monotonic_time ();
  for (guint i = 0; i < degenerate->len; i++)
    for (guint j = 0; j < degenerate->len; j++)
      {
        GeoCrossings list
            = crossings_of (&g_array_index (degenerate, CurveSample, i).c,
                            &g_array_index (degenerate, CurveSample, j).c);
        geo_crossings_clear (&list);
      }
  for (int i = 0; i < 3000; i++)
    {
      GeoCubic a = random_awkward_cubic (400), b = random_awkward_cubic (400);
      if (i % 4 == 0)
        b.p[g_test_rand_int_range (0, 4)] = a.p[g_test_rand_int_range (0, 4)];
      if (i % 7 == 0)
        b = geo_cubic_part (&a, g_test_rand_double (), g_test_rand_double ());
      if (i % 11 == 0)
        for (int k = 0; k < 4; k++)
          b.p[k] = geo_along (a.p[k], random_point (1),
                              pow (10, g_test_rand_double_range (-12, -3)));
      GeoCrossings list = crossings_of (&a, &b);
      if (i % 7 == 0 && i % 11 != 0)
        if (list.count < 1)
          assert_count (&a, &b, &list, 1);
      geo_crossings_clear (&list);
    }
  g_test_message ("%.1f s", (double)(g_get_monotonic_time () - start) / 1e6);
}

/* A curve a few millionths long that starts where another ends: Newton's method
 * ran off, and nothing was found. */
static void
test_tiny_neighbour (void)
{
  GeoPoint end = { -80.2825927734375, 272.4884033203125 };
  GeoCubic a = { { { 216, 216 }, { 216, 216 }, { 38, 238 }, end } };
  GeoCubic b = { { end,
                   { -80.282593207946775, 272.48840080123904 },
                   { -80.282593207946775, 272.48840080123904 },
                   { -80.282590039306641, 272.48840212692261 } } };
  for (int turn = 0; turn < 2; turn++)
    {
      GeoCrossings list;
      geo_crossings_init (&list);
      geo_cubic_crossings (turn ? &b : &a, turn ? &a : &b, &list);
      g_assert_cmpuint (list.count, ==, 1);
      NEAR_POINT (list.items[0].at, end, 1e-9);
      geo_crossings_clear (&list);
    }
}

/* Two curves that keep to each other about the ends of their loops: the loop's
 * crossing is two of theirs, one way through and the other, and neither is a
 * place where they run along. */
static void
test_near_loops (void)
{
  const struct
  {
    GeoCubic a, b;
    size_t count;
  } pairs[] = {
    { { { { 285.55130726701202, 40.644566202085194 },
          { 377.19344060025077, 129.27691382829599 },
          { 305.95639320092351, 357.60471996808951 },
          { 285.5541898953623, 40.646779796529678 } } },
      { { { 285.55130726701202, 40.644566202085194 },
          { 377.19344060025077, 129.27691382829599 },
          { 306.61033280888915, 357.60471996808951 },
          { 285.5541898953623, 40.646779796529678 } } },
      5 },
    { { { { 118.30136137567173, 36.739568456523926 },
          { 222.93574426558868, 185.04535184882531 },
          { 398.73114787198045, 327.48189693209832 },
          { 289.04983903907765, 230.78936143722569 } } },
      { { { 118.30136130813121, 36.739568456523926 },
          { 222.93574426558868, 185.04535184882531 },
          { 398.73114787198045, 327.48189693209832 },
          { 289.04983903907765, 230.78936143722569 } } },
      0 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      GeoCrossings list = crossings_of (&pairs[i].a, &pairs[i].b);
      double t0, t1;
      bool ways[2] = { false, false };
      if (pairs[i].count > 0)
        assert_count (&pairs[i].a, &pairs[i].b, &list, pairs[i].count);
      g_assert_true (geo_cubic_self_crossing (&pairs[i].a, &t0, &t1));
      for (size_t k = 0; k < list.count; k++)
        for (int way = 0; way < 2; way++)
          ways[way] |= fabs (list.items[k].a.t - (way ? t1 : t0)) < 1e-6
                       && fabs (list.items[k].b.t - (way ? t0 : t1)) < 1e-6;
      g_assert_true (ways[0] && ways[1]);
      geo_crossings_clear (&list);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/crossing/nine", test_nine);
  g_test_add_func ("/geometry/crossing/lines", test_lines);
  g_test_add_func ("/geometry/crossing/tangencies", test_tangencies);
  g_test_add_func ("/geometry/crossing/overlaps", test_overlaps);
  g_test_add_func ("/geometry/crossing/degenerate", test_degenerate_known);
  g_test_add_func ("/geometry/crossing/geos", test_geos);
  g_test_add_func ("/geometry/crossing/bundles", test_bundles);
  g_test_add_func ("/geometry/crossing/against-line", test_against_line);
  g_test_add_func ("/geometry/crossing/self", test_self);
  g_test_add_func ("/geometry/crossing/awkward", test_awkward);
  g_test_add_func ("/geometry/crossing/tiny-neighbour", test_tiny_neighbour);
  g_test_add_func ("/geometry/crossing/near-loops", test_near_loops);
  return g_test_run ();
}
