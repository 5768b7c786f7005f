/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ring-outline.h"

#include "geometry/nearest.h"

#include <geos_c.h>

static void
test_random_even (void)
{
  size_t made = 0;
  for (int i = 0; i < 250; i++)
    {
      double w = g_test_rand_double_range (1, 45);
      Outline *o
          = outline_random (g_test_rand_int_range (3, 14), 30,
                            g_test_rand_double_range (60, 300), i % 2 ? 5 : 60);
      for (size_t j = 0; j < o->count; j++)
        o->edges[j].width = w;
      if (outline_is_simple (o))
        {
          outline_check_even (o, w);
          made++;
        }
      outline_free (o);
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
          = outline_random (g_test_rand_int_range (3, 12), 50,
                            g_test_rand_double_range (80, 400), i % 2 ? 5 : 40);
      for (size_t j = 0; j < o->count; j++)
        {
          o->edges[j].width = widths[g_test_rand_int_range (0, 6)];
          outline_set_corner (o, j, (GeoCornerKind)g_test_rand_int_range (0, 4),
                              (GeoCornerGovernor)g_test_rand_int_range (0, 2));
        }
      if (outline_is_simple (o))
        {
          GeoRing ring = outline_ring (o);
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
                  outline_print (o);
                  ring_print (&ring);
                }
              g_assert_cmpfloat (near, >=, w - 0.01);
            }
          geo_ring_clear (&ring);
        }
      outline_free (o);
    }
  g_test_message ("%zu rings, %zu points", made, judged);
  g_assert_cmpuint (judged, >, 200);
  g_assert_cmpuint (made, >, 100);
}

static void
test_random_wild (void)
{
  size_t made = 0;
  for (int i = 0; i < 300; i++)
    {
      Outline *o = outline_wild ((OutlineWild)(i % 3));
      made += outline_check_wild (o, (OutlineWild)(i % 3));
      outline_free (o);
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
      Outline *o = outline_random (g_test_rand_int_range (4, 10), 90, 200, 5);
      GeoChain all = GEO_CHAIN_EMPTY;
      for (size_t j = 0; j < o->count; j++)
        {
          o->edges[j].width = w;
          geo_chain_append_chain (&all, &o->stitch[j]);
        }
      if (outline_is_simple (o))
        {
          GeoRing ring = outline_ring (o);
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
      outline_free (o);
    }
  finishGEOS_r (geos);
  g_test_message ("%zu rings, mean distance at most %.5f of the width", made,
                  worst);
  g_assert_cmpuint (made, >, 20);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ring/random-even", test_random_even);
  g_test_add_func ("/ring/random-uneven", test_random_uneven);
  g_test_add_func ("/ring/random-wild", test_random_wild);
  g_test_add_func ("/ring/geos", test_geos);
  return g_test_run ();
}
