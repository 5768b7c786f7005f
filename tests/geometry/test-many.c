/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of any curves, over 20,000 random and degenerate ones a run, or as
 * many as BODKIN_TEST_CURVES asks for. */
#include <gsl/gsl_errno.h>

#include "curve-samples.h"
#include "geometry/crossing.h"
#include "geometry/fit-points.h"
#include "geometry/length.h"
#include "geometry/nearest.h"
#include "length-reference.h"
#include "ring-outline.h"

#define USUAL 20000

static int
how_many (void)
{
  const char *text = g_getenv ("BODKIN_TEST_CURVES");
#ifdef __SANITIZE_ADDRESS__
  const int usual = USUAL / 8;
#else
  const int usual = USUAL;
#endif
  return text ? (int)g_ascii_strtoll (text, NULL, 10) : usual;
}

static void
print_cubic (const char *name, const GeoCubic *c)
{
  g_test_message ("%s: %.17g %.17g  %.17g %.17g  %.17g %.17g  %.17g %.17g",
                  name, c->p[0].x, c->p[0].y, c->p[1].x, c->p[1].y, c->p[2].x,
                  c->p[2].y, c->p[3].x, c->p[3].y);
}

#define HOLDS(what)                                                            \
  do                                                                           \
    if (!(what))                                                               \
      {                                                                        \
        print_cubic ("curve", c);                                              \
        g_error ("not so: %s", #what);                                         \
      }                                                                        \
  while (0)

/* GSL's adaptive quadrature. Left to itself it can pass over a fold near an end,
 * 1e-3 mm of it, while claiming 4e-12; where the two do not agree it is led by
 * the hand. */
static double
gsl_length (const GeoCubic *c)
{
  static gsl_integration_workspace *room;
  if (!room)
    room = gsl_integration_workspace_alloc (2000);
  gsl_function f = { speed, (void *)c };
  double sum = 0, error;
  gsl_integration_qag (&f, 0, 1, 1e-11, 1e-12, 2000, GSL_INTEG_GAUSS21, room,
                       &sum, &error);
  return sum;
}

static double
check_length (const GeoCubic *c)
{
  double length = geo_cubic_length (c, 1e-10), all = 0, rough;
  double off = fabs (length - gsl_length (c));
  for (int i = 0; i < 3; i++)
    all += geo_distance (c->p[i], c->p[i + 1]);
  HOLDS (length >= geo_distance (c->p[0], c->p[3]) - 1e-9);
  HOLDS (length <= all + 1e-9);
  if (off > 5e-10)
    off = fabs (length - reference_length (c, 1));
  HOLDS (off <= 1e-9);
  rough = geo_cubic_length (c, 1e-4);
  HOLDS (fabs (rough - length) <= 1e-4);
  double want = length * g_test_rand_double ();
  double t = geo_cubic_at_length (c, want, 1e-9);
  HOLDS (t >= 0 && t <= 1);
  HOLDS (fabs (geo_cubic_length_to (c, t, 1e-9) - want) <= 3e-9);
  return off;
}

static void
test_length (void)
{
  double worst = 0;
  int count = how_many ();
  gsl_set_error_handler_off ();
  for (int i = 0; i < count; i++)
    {
      double size = i % 4 ? 400 : pow (10, g_test_rand_double_range (-1, 3));
      GeoCubic c = random_awkward_cubic (size);
      worst = fmax (worst, check_length (&c));
    }
  g_test_message ("%d lengths, at most %.2g mm from GSL's", count, worst);
}

/* Newton on A (t) = B (u) from a place where the polylines cross. */
static bool
refine (const GeoCubic *a, const GeoCubic *b, double *t, double *u)
{
  for (int i = 0; i < 12; i++)
    {
      GeoPoint gap = geo_sub (geo_cubic_point (b, *u), geo_cubic_point (a, *t));
      GeoPoint va = geo_cubic_velocity (a, *t), vb = geo_cubic_velocity (b, *u);
      double det = geo_cross (va, vb);
      if (fabs (det) < 1e-3 * geo_norm (va) * geo_norm (vb))
        return false;
      *t += geo_cross (gap, vb) / det;
      *u += geo_cross (gap, va) / det;
    }
  return *t > 0 && *t < 1 && *u > 0 && *u < 1
         && geo_distance (geo_cubic_point (a, *t), geo_cubic_point (b, *u))
                < 1e-11;
}

/* About t a lies on b, where all but the ends of the stretch goes unsaid. */
static bool
lies_along (const GeoCubic *a, double t, const GeoCubic *b)
{
  double near = fmin (1e-4, 0.5 * fmin (t, 1 - t));
  for (int side = -1; side <= 1; side += 2)
    {
      GeoPoint p = geo_cubic_point (a, t + side * near);
      if (geo_cubic_nearest (b, p, NULL) > 2e-9)
        return false;
    }
  return true;
}

#define LINES 20

/* Where polylines of the two cross, and a crossing of the curves is found from
 * there, that crossing is on the list. Returns how many were. */
static int
check_found (const GeoCubic *a, const GeoCubic *b, const GeoCrossings *list)
{
  const GeoCubic *c = a;
  GeoPoint p[LINES + 1], q[LINES + 1];
  int seen = 0;
  for (int i = 0; i <= LINES; i++)
    {
      p[i] = geo_cubic_point (a, (double)i / LINES);
      q[i] = geo_cubic_point (b, (double)i / LINES);
    }
  for (int i = 0; i < LINES; i++)
    for (int j = 0; j < LINES; j++)
      {
        GeoPoint u = geo_sub (p[i + 1], p[i]), v = geo_sub (q[j + 1], q[j]);
        GeoPoint gap = geo_sub (q[j], p[i]);
        double det = geo_cross (u, v);
        double s = geo_cross (gap, v) / det, r = geo_cross (gap, u) / det;
        if (!(s >= 0 && s <= 1 && r >= 0 && r <= 1))
          continue;
        double t = (i + s) / LINES, w = (j + r) / LINES;
        if (!refine (a, b, &t, &w))
          continue;
        bool found = lies_along (a, t, b);
        for (size_t k = 0; k < list->count; k++)
          found |= geo_distance (list->items[k].at, geo_cubic_point (a, t))
                   < 1e-7;
        if (!found)
          print_cubic ("other", b);
        HOLDS (found || list->count >= 64);
        seen++;
      }
  return seen;
}

static void
check_on_both (const GeoCubic *a, const GeoCubic *b, const GeoCrossings *list)
{
  const GeoCubic *c = a;
  for (size_t k = 0; k < list->count; k++)
    {
      const GeoCrossing *x = &list->items[k];
      HOLDS (x->a.t >= 0 && x->a.t <= 1 && x->b.t >= 0 && x->b.t <= 1);
      HOLDS (geo_distance (geo_cubic_point (a, x->a.t), x->at) <= 1e-9);
      HOLDS (geo_distance (geo_cubic_point (b, x->b.t), x->at) <= 1e-9);
    }
}

/* Another cubic that touches a, lies on it in part or all along, or comes as
 * near as a hair. */
static GeoCubic
close_cubic (const GeoCubic *a)
{
  double t = g_test_rand_double_range (-0.5, 1), u = g_test_rand_double ();
  GeoCubic b;
  switch (g_test_rand_int_range (0, 5))
    {
    case 0:
      return geo_cubic_part (a, fmax (t, 0), fmin (1, t + 0.5));
    case 1:
      return geo_cubic_reverse (a);
    case 2:
      b = *a;
      b.p[g_test_rand_int_range (0, 4)].x
          += pow (10, g_test_rand_double_range (-9, 1));
      return b;
    case 3:
      {
        GeoPoint at = geo_cubic_point (a, u), way = geo_cubic_tangent (a, u);
        GeoPoint off = geo_scale (geo_left (way), 30 * t);
        b.p[0] = geo_add (geo_along (at, way, -60), off);
        b.p[1] = geo_along (at, way, -20);
        b.p[2] = geo_along (at, way, 20);
        b.p[3] = geo_add (geo_along (at, way, 60), off);
        return b;
      }
    default:
      b = random_awkward_cubic (400);
      b.p[0] = geo_cubic_point (a, u);
      return b;
    }
}

static void
test_crossing (void)
{
  size_t listed = 0, seen = 0;
  int count = how_many ();
  GeoCrossings list, turned;
  geo_crossings_init (&list);
  geo_crossings_init (&turned);
  for (int i = 0; i < count; i += 2)
    {
      GeoCubic a = random_awkward_cubic (400);
      GeoCubic b = i % 3 ? random_awkward_cubic (400) : close_cubic (&a);
      list.count = turned.count = 0;
      geo_cubic_crossings (&a, &b, &list);
      geo_cubic_crossings (&b, &a, &turned);
      check_on_both (&a, &b, &list);
      check_on_both (&b, &a, &turned);
      seen += (size_t)check_found (&a, &b, &list);
      check_found (&b, &a, &turned);
      listed += list.count;
    }
  geo_crossings_clear (&list);
  geo_crossings_clear (&turned);
  g_test_message ("%d curves, %zu crossings, %zu of them from polylines too",
                  count, listed, seen);
  g_assert_cmpuint (seen, >, (guint)count / 8);
}

static void
check_loop (const GeoCubic *c)
{
  double t0, t1;
  if (!geo_cubic_self_crossing (c, &t0, &t1))
    return;
  HOLDS (t0 >= 0 && t0 < t1 && t1 <= 1);
  HOLDS (geo_distance (geo_cubic_point (c, t0), geo_cubic_point (c, t1))
         <= 2e-9);
}

static void
test_nearest (void)
{
  int count = how_many ();
  for (int i = 0; i < count; i++)
    {
      GeoCubic cubic = random_awkward_cubic (400);
      const GeoCubic *c = &cubic;
      GeoPoint p = i % 4 ? random_point (400)
                         : geo_cubic_point (c, g_test_rand_double ());
      double t, least = INFINITY, d = geo_cubic_nearest (c, p, &t);
      HOLDS (t >= 0 && t <= 1);
      HOLDS (fabs (geo_distance (geo_cubic_point (c, t), p) - d) <= 1e-9);
      for (int k = 0; k <= 64; k++)
        least = fmin (least, geo_distance (geo_cubic_point (c, k / 64.0), p));
      HOLDS (d <= least + 1e-9);
      HOLDS (i % 4 || d <= 1e-9);
      check_loop (c);
    }
}

/* One in ten, being slower: points along two cubics, or round an oval, with noise
 * or without. */
static void
test_fit (void)
{
  int count = how_many () / 10;
  size_t cubics = 0;
  GeoChain chain = GEO_CHAIN_EMPTY;
  for (int i = 0; i < count; i++)
    {
      GeoPoint q[40];
      bool closed = i % 5 == 0;
      double tolerance = pow (10, g_test_rand_double_range (-2, 0.3));
      double noise = i % 2 ? tolerance / 3 : 0;
      GeoCubic cubic = random_awkward_cubic (200), other = random_cubic (200);
      const GeoCubic *c = &cubic;
      size_t n = (size_t)g_test_rand_int_range (3, 41);
      for (size_t k = 0; k < n; k++)
        {
          double t = (double)k / (double)n, a = 2 * M_PI * t;
          q[k] = closed ? geo_point (90 * cos (a), 50 * sin (a + t * (1 - t)))
                        : geo_cubic_point (t < 0.5 ? c : &other, t);
          q[k] = geo_along (q[k], random_point (1), noise);
        }
      HOLDS (geo_fit_points (q, n, closed, GEO_FIT_CORNER, tolerance, &chain));
      HOLDS (geo_chain_is_closed (&chain) == closed
             || geo_same (q[0], q[n - 1]));
      for (size_t k = 0; k < n; k++)
        HOLDS (geo_chain_nearest (&chain, q[k], NULL) <= tolerance + 1e-9);
      cubics += chain.count;
    }
  geo_chain_clear (&chain);
  g_test_message ("%d fits, %zu cubics", count, cubics);
}

/* Outlines of so many curves in all. */
static void
test_ring (void)
{
  size_t curves = 0, rings = 0, wanted = (size_t)how_many ();
  for (int i = 0; curves < wanted; i++)
    {
      double w = g_test_rand_double_range (1, 45);
      double size = g_test_rand_double_range (60, 300);
      Outline *o = i % 2 ? outline_wild ((OutlineWild)(i / 2 % 3))
                         : outline_random (g_test_rand_int_range (3, 14), 30,
                                           size, i % 4 ? 5 : 60);
      for (size_t j = 0; j < o->count; j++)
        curves += o->stitch[j].count;
      for (size_t j = 0; j < o->count && i % 2 == 0; j++)
        o->edges[j].width = w;
      if (i % 2)
        rings += outline_check_wild (o, (OutlineWild)(i / 2 % 3));
      else if (outline_is_simple (o))
        {
          outline_check_even (o, w);
          rings++;
        }
      outline_free (o);
    }
  g_test_message ("%zu curves, %zu rings", curves, rings);
  g_assert_cmpuint (rings, >, wanted / 20);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/geometry/many/length", test_length);
  g_test_add_func ("/geometry/many/crossing", test_crossing);
  g_test_add_func ("/geometry/many/nearest", test_nearest);
  g_test_add_func ("/geometry/many/fit", test_fit);
  g_test_add_func ("/geometry/many/ring", test_ring);
  return g_test_run ();
}
