/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The allowance ring of a closed outline beside GEOS's buffer of the polyline
 * that keeps within 0.01 mm of it, and how the time grows with the edges. */
#include <geos_c.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>

#include "bench.h"
#include "geometry/ring.h"

#define WIDTH 10
#define TOLERANCE 0.01
#define MOST 1000

typedef struct
{
  GeoChain stitch[MOST];
  GeoRingEdge edges[MOST];
  size_t count;
} Outline;

/* A piece with as many edges as asked for, about 60 mm an edge, its corners
 * on an ellipse that goes in and out, every edge one curve. */
static void
lay_outline (Outline *o, size_t count)
{
  double size = 60.0 * (double)count / 5;
  GeoPoint p[MOST];
  for (size_t i = 0; i < count; i++)
    {
      double a = 2 * M_PI * (double)i / (double)count;
      double r = size * (1 + 0.12 * sin (5 * a) + 0.03 * sin (17 * a));
      p[i] = geo_point (r * cos (a), 0.7 * r * sin (a));
    }
  o->count = count;
  for (size_t i = 0; i < count; i++)
    {
      GeoPoint before = p[(i + count - 1) % count], from = p[i];
      GeoPoint to = p[(i + 1) % count], after = p[(i + 2) % count];
      GeoCubic c = { { from, geo_along (from, geo_sub (to, before), 1 / 5.5),
                       geo_along (to, geo_sub (from, after), 1 / 5.5), to } };
      o->stitch[i] = GEO_CHAIN_EMPTY;
      geo_chain_append (&o->stitch[i], c);
      o->edges[i] = (GeoRingEdge){ .stitch = &o->stitch[i], .width = WIDTH };
    }
}

static void
clear_outline (Outline *o)
{
  for (size_t i = 0; i < o->count; i++)
    geo_chain_clear (&o->stitch[i]);
}

/* Of so many lines an edge that none stands off by more than TOLERANCE. */
static GEOSGeometry *
polygon_of (const Outline *o, size_t *points)
{
  double *xy = malloc (sizeof *xy * 2 * (400 * o->count + 1));
  size_t n = 0;
  for (size_t i = 0; i < o->count; i++)
    {
      const GeoCubic *c = &o->stitch[i].cubics[0];
      double bend = fmax (geo_norm (geo_cubic_acceleration (c, 0)),
                          geo_norm (geo_cubic_acceleration (c, 1)));
      int lines = (int)ceil (sqrt (bend / (8 * TOLERANCE)));
      for (int k = 0; k < lines; k++, n++)
        {
          GeoPoint q = geo_cubic_point (c, (double)k / lines);
          xy[2 * n] = q.x;
          xy[2 * n + 1] = q.y;
        }
    }
  xy[2 * n] = xy[0];
  xy[2 * n + 1] = xy[1];
  *points = n;
  GEOSCoordSequence *seq
      = GEOSCoordSeq_copyFromBuffer (xy, (unsigned)n + 1, 0, 0);
  free (xy);
  return GEOSGeom_createPolygon (GEOSGeom_createLinearRing (seq), NULL, 0);
}

/* Mitred, as the ring's corners are. */
static GEOSGeometry *
buffer (const GEOSGeometry *polygon)
{
  return GEOSBufferWithStyle (polygon, WIDTH, 18, GEOSBUF_CAP_ROUND,
                              GEOSBUF_JOIN_MITRE, 3);
}

/* The same on the parallel without wide registers (narrow-ring.h). */
bool narrow_ring_make (const GeoRingEdge *edges, size_t count, double tolerance,
                       GeoRing *ring);

typedef bool (*RingMaker) (const GeoRingEdge *edges, size_t count,
                           double tolerance, GeoRing *ring);

/* Seconds a run, the best of some batches that take about 20 ms each. */
static double
time_ring (const Outline *o, RingMaker make)
{
  GeoRing ring;
  double best = INFINITY;
  geo_ring_init (&ring);
  for (int batch = 0; batch < 12; batch++)
    {
      int runs = 0;
      double start = bench_seconds (), spent;
      do
        {
          make (o->edges, o->count, TOLERANCE, &ring);
          runs++;
          spent = bench_seconds () - start;
        }
      while (spent < 0.02);
      best = fmin (best, spent / runs);
    }
  geo_ring_clear (&ring);
  return best;
}

static double
time_buffer (const GEOSGeometry *polygon)
{
  double best = INFINITY;
  for (int batch = 0; batch < 8; batch++)
    {
      int runs = 0;
      double start = bench_seconds (), spent;
      do
        {
          GEOSGeom_destroy (buffer (polygon));
          runs++;
          spent = bench_seconds () - start;
        }
      while (spent < 0.02);
      best = fmin (best, spent / runs);
    }
  return best;
}

static void
beside_geos (Outline *o)
{
  size_t points;
  lay_outline (o, 40);
  GEOSGeometry *polygon = polygon_of (o, &points);
  GEOSGeometry *grown = buffer (polygon);
  GeoRing ring;
  double area = 0, ours = time_ring (o, geo_ring_make);
  double narrow = time_ring (o, narrow_ring_make),
         theirs = time_buffer (polygon);
  geo_ring_init (&ring);
  geo_ring_make (o->edges, o->count, TOLERANCE, &ring);
  GEOSArea (grown, &area);
  printf ("closed allowance of 40 edges: %.3f ms, %.3f ms without wide "
          "registers, GEOS %.3f ms on %zu points; areas %.1f and %.1f mm^2\n",
          1e3 * ours, 1e3 * narrow, 1e3 * theirs, points, ring.area, area);
  bench_line ("  time / GEOS buffer of the 0.01 mm polyline", ours / theirs,
              0.1);
  bench_line ("  the same without wide registers", narrow / theirs, 0.1);
  geo_ring_clear (&ring);
  GEOSGeom_destroy (grown);
  GEOSGeom_destroy (polygon);
  clear_outline (o);
}

/* The exponent e of time ~ n^e between the two ends; the goal is what
 * n log n has there. */
static void
growth (Outline *o)
{
  static const size_t counts[] = { 10, 30, 100, 300, 1000 };
  double times[5];
  for (int i = 0; i < 5; i++)
    {
      lay_outline (o, counts[i]);
      times[i] = time_ring (o, geo_ring_make);
      printf ("  %4zu edges: %8.3f ms, %.2f us an edge\n", counts[i],
              1e3 * times[i], 1e6 * times[i] / (double)counts[i]);
      clear_outline (o);
    }
  bench_line ("  exponent of the growth from 10 to 1000 edges",
              log (times[4] / times[0]) / log (100),
              log (100 * log (1000) / log (10)) / log (100));
}

static void
quiet (const char *format, ...)
{
  (void)format;
}

int
main (void)
{
  static Outline outline;
  initGEOS (quiet, quiet);
  beside_geos (&outline);
  growth (&outline);
  finishGEOS ();
  return 0;
}
