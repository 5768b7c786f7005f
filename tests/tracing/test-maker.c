/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The made pictures themselves: areas come out as they are, and places are seen where the
 * plane says. */
#include <glib.h>

#include "picture-cover.h"
#include "picture-maker.h"

static void
test_area (void)
{
  g_autoptr (CoverMask) mask = cover_mask_new (60, 50);
  GeoPoint q[3] = { { 3.3, 4.7 }, { 55.1, 11.2 }, { 20.9, 47.4 } };
  double area = 0, sum = 0;
  for (int i = 0; i < 3; i++)
    area += 0.5 * geo_cross (q[i], q[(i + 1) % 3]);
  cover_mask_add (mask, q, 3, area < 0);
  cover_mask_close (mask);
  for (guint y = 0; y < 50; y++)
    for (guint x = 0; x < 60; x++)
      sum += mask->share[y * 62 + x];
  g_assert_cmpfloat_with_epsilon (sum, fabs (area), 1e-3);
}

static void
test_seen (void)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 100, 60 });
  MakerLook look = MAKER_LOOK;
  TracingPlane truth;
  look.tilt = 0.4;
  look.dots = 4;
  maker_add_circle (maker, geo_point (30, 25), 2, MAKER_CARD);
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &truth);
  guint width = tracing_picture_get_width (picture);
  const guint8 *rgb = tracing_picture_get_rgb (picture);
  double light = 0, x = 0, y = 0;
  for (guint j = 0; j < tracing_picture_get_height (picture); j++)
    for (guint i = 0; i < width; i++)
      if (rgb[3 * (j * width + i)] > 150)
        {
          light++;
          x += i + 0.5;
          y += j + 0.5;
        }
  /* a circle's middle is not its picture's middle, but near it */
  GeoPoint seen = maker_see (&truth, geo_point (30, 25));
  g_assert_cmpfloat (geo_distance (seen, geo_point (x / light, y / light)), <,
                     0.2);
  /* the middle of the view is as large as asked for */
  GeoPoint a = maker_see (&truth, geo_point (49, 30)),
           b = maker_see (&truth, geo_point (51, 30)),
           c = maker_see (&truth, geo_point (50, 29)),
           d = maker_see (&truth, geo_point (50, 31));
  double area = fabs (geo_cross (geo_sub (b, a), geo_sub (d, c))) / 4;
  g_assert_cmpfloat_with_epsilon (area, 16 * cos (look.tilt), 0.05);
}

/* A ring is empty in its middle, and its line as dark as asked for. */
static void
test_stroke (void)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 60, 60 });
  MakerLook look = MAKER_LOOK;
  GeoChain ring = GEO_CHAIN_EMPTY;
  look.table = MAKER_PAPER;
  maker_circle (&ring, geo_point (30, 30), 20);
  maker_add_stroke (maker, &ring, 2, 0);
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, NULL);
  const guint8 *row = tracing_picture_get_rgb (picture) + 150 * 900;
  g_assert_cmpuint (row[3 * 150], ==, 0xf4);
  g_assert_cmpuint (row[3 * 50], ==, 0);
  g_assert_cmpuint (row[3 * 250], ==, 0);
  g_assert_cmpuint (row[3 * 40], ==, 0xf4);
  geo_chain_clear (&ring);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/maker/area", test_area);
  g_test_add_func ("/maker/seen", test_seen);
  g_test_add_func ("/maker/stroke", test_stroke);
  return g_test_run ();
}
