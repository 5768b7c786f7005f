/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines found in made pictures, beside the truth they were made from. */
#include <glib.h>

#include "line-measure.h"
#include "picture-maker.h"

static GArray *
find (TracingPicture *picture, const TracingPlane *plane)
{
  GError *error = NULL;
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  g_autoptr (TracingParts) parts = tracing_parts_new (
      picture, plane, TRACING_CARD_ANY, NULL, NULL, &error);
  g_assert_no_error (error);
  GArray *lines
      = tracing_find_shapes (parts, plane, &wish, NULL, NULL, &error);
  g_assert_no_error (error);
  return lines;
}

static void
test_clean (void)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ -20, 0, 270, 460 });
  MakerLook look = MAKER_LOOK;
  TracingPlane plane;
  GeoChain truth = GEO_CHAIN_EMPTY;
  maker_bodice (&truth, geo_point (0, 0), 28, 110);
  maker_add_shape (maker, &truth, MAKER_CARD);
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
  g_autoptr (GArray) lines = find (picture, &plane);
  g_assert_cmpuint (lines->len, ==, 1);
  const TracingLine *line = &g_array_index (lines, TracingLine, 0);
  LineMeasure m = line_measure (line, &truth);
  g_assert_cmpfloat (m.worst, <, 0.3);
  g_assert_cmpfloat (m.mean, <, 0.05);
  g_assert_cmpfloat (m.corner, <, 0.1);
  g_assert_cmpfloat (m.nodes, <=, 1);
  g_assert_cmpuint (line->n_darts, ==, 1);
  g_assert_cmpfloat_with_epsilon (line->darts[0].width, 28, 0.3);
  geo_chain_clear (&truth);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/clean", test_clean);
  return g_test_run ();
}
