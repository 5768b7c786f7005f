/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An edge drawn to a made picture's line: a circle of pencil on paper, and an edge clicked roughly along it. */
#include "drafting/draw-to.h"

#include <math.h>

/* 6 px a mm; a ring of radius mm about the middle, its stroke 0.6 mm wide. */
static TracingPicture *
ring (double radius, guint side)
{
  guint8 *rgb = g_malloc (3 * side * side);
  for (guint y = 0; y < side; y++)
    for (guint x = 0; x < side; x++)
      {
        double d = hypot (x + 0.5 - side / 2.0, y + 0.5 - side / 2.0) / 6;
        double ink = fmin (fmax ((0.3 - fabs (d - radius)) * 6 + 0.5, 0), 1);
        for (int k = 0; k < 3; k++)
          rgb[3 * (y * side + x) + (guint)k] = (guint8)(240 - 160 * ink);
      }
  return tracing_picture_new (side, side, 3 * side, rgb, geo_point (0, 0),
                              g_free, rgb);
}

static Pattern *
rough (double radius, double middle)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoPoint p[4];
  for (int i = 0; i < 4; i++)
    {
      double t = i * G_PI / 2, r = radius + (i % 2 ? 1.1 : -0.9);
      p[i] = geo_point (middle + r * cos (t), middle + r * sin (t));
    }
  for (int i = 0; i < 4; i++)
    {
      GeoPoint a = p[i], b = p[(i + 1) % 4];
      GeoPoint ra = geo_scale (geo_sub (a, geo_point (middle, middle)), 0.54);
      GeoPoint rb = geo_scale (geo_sub (b, geo_point (middle, middle)), 0.54);
      GeoCubic c = { { a, geo_add (a, geo_left (ra)),
                       geo_sub (b, geo_left (rb)), b } };
      geo_chain_append (&chain, c);
    }
  g_autoptr (Pattern) empty = pattern_new ("ring");
  GError *error = NULL;
  Pattern *made
      = drafting_add_piece (empty, "ring", &chain, 1, 10, NULL, &error);
  g_assert_no_error (error);
  geo_chain_clear (&chain);
  return made;
}

static void
test_ring (void)
{
  const double radius = 40;
  const guint side = 600;
  g_autoptr (TracingPicture) picture = ring (radius, side);
  g_autoptr (Pattern) p = rough (radius, 50);
  TracingPlane plane = { { 1 / 6.0, 0, 0, 0, 1 / 6.0, 0, 0, 0, 1 } };
  g_autoptr (Pattern) last = pattern_ref (p);
  const PatternPiece *piece = p->pieces[0];
  for (guint i = 0; i < piece->n_edges; i++)
    {
      GError *error = NULL;
      DraftingDrawn told;
      Pattern *next
          = drafting_draw_to_picture (last, piece->id, piece->edges[i].id,
                                      picture, &plane, 3, &told, &error);
      g_assert_no_error (error);
      g_test_message ("edge %u of %u: seen %.2f, off %.3f, moved %.2f", i,
                      piece->n_edges, told.seen, told.off, told.moved);
      g_assert_cmpfloat (told.seen, >, 0.9);
      g_assert_cmpfloat (told.moved, <, 3);
      pattern_unref (last);
      last = next;
    }
  GeoChain outline = GEO_CHAIN_EMPTY;
  pattern_piece_outline (last->pieces[0], &outline);
  double worst = 0;
  for (size_t i = 0; i < outline.count; i++)
    for (int k = 0; k < 20; k++)
      {
        GeoPoint q = geo_cubic_point (&outline.cubics[i], k / 20.0);
        worst = fmax (worst, fabs (hypot (q.x - 50, q.y - 50) - radius));
      }
  g_test_message ("worst %.3f mm", worst);
  g_assert_cmpfloat (worst, <, 0.35);
  geo_chain_clear (&outline);
  /* Ids stay, and nothing else moved. */
  g_assert_cmpuint (last->pieces[0]->id, ==, piece->id);
  g_assert_cmpuint (last->pieces[0]->n_edges, ==, piece->n_edges);
}

static void
test_far (void)
{
  g_autoptr (TracingPicture) picture = ring (40, 600);
  g_autoptr (Pattern) p = rough (25, 50);
  TracingPlane plane = { { 1 / 6.0, 0, 0, 0, 1 / 6.0, 0, 0, 0, 1 } };
  g_autoptr (GError) error = NULL;
  g_assert_null (drafting_draw_to_picture (p, p->pieces[0]->id,
                                           p->pieces[0]->edges[0].id, picture,
                                           &plane, 3, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drafting/draw-to/ring", test_ring);
  g_test_add_func ("/drafting/draw-to/far", test_far);
  return g_test_run ();
}
