/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever the picture, the outlines found in it are closed, finite, the right way round and told of
 * truly; whatever the points, so is the line laid along them. */
#include "../file/fuzz.h"
#include "../geometry/fuzz-numbers.h"

#include <string.h>

#include "geometry/region.h"
#include "tracing/shape.h"

const char *const fuzz_folder = "fuzz-shape";

static void
check_line (const TracingLine *line, bool whole)
{
  const GeoChain *chain = &line->chain;
  assert_that (chain->count > 0);
  assert_that (isfinite (line->off) && line->off >= 0);
  assert_that (isfinite (line->blur) && line->blur >= 0);
  for (size_t i = 0; i < chain->count; i++)
    {
      for (int k = 0; k < 4; k++)
        {
          GeoPoint p = chain->cubics[i].p[k];
          assert_that (fabs (p.x) < 1e7 && fabs (p.y) < 1e7);
        }
      assert_that (
          i == 0
          || geo_same (chain->cubics[i - 1].p[3], chain->cubics[i].p[0]));
    }
  assert_that (!line->closed || geo_chain_is_closed (chain));
  assert_that (!whole || geo_chain_area (chain) > 0);
  for (gsize k = 0; k < line->n_darts; k++)
    assert_that (line->darts[k].start < chain->count
                 && line->darts[k].tip < chain->count
                 && line->darts[k].end < chain->count);
}

static void
check_points (FuzzNumbers *in)
{
  GeoPoint q[200];
  gsize n = 0;
  TracingLine line;
  gboolean closed = fuzz_byte (in) & 1;
  double tolerance = 0.05 + fuzz_byte (in) / 200.0;
  double spacing = 0.1 + fuzz_byte (in) / 100.0;
  GeoPoint at = { 0, 0 };
  while (in->size > 0 && n < G_N_ELEMENTS (q))
    {
      at.x += 4 * fuzz_share (in);
      at.y += 4 * fuzz_share (in);
      q[n++] = at;
    }
  if (tracing_line_fit (q, n, closed, tolerance, spacing, &line))
    {
      check_line (&line, false);
      tracing_line_clear (&line);
    }
}

/* Rectangles of colours, or the bytes themselves over and over. */
static void
paint (FuzzNumbers *in, guint8 *rgb, unsigned width, unsigned height)
{
  size_t all = 3 * (size_t)width * height;
  unsigned things = fuzz_byte (in) % 12;
  memset (rgb, (int)fuzz_byte (in), all);
  for (unsigned t = 0; t < things; t++)
    {
      unsigned x0 = fuzz_byte (in) % width, y0 = fuzz_byte (in) % height;
      unsigned x1 = x0 + fuzz_byte (in) % 90, y1 = y0 + fuzz_byte (in) % 90;
      guint8 colour[3] = { (guint8)fuzz_byte (in), (guint8)fuzz_byte (in),
                           (guint8)fuzz_byte (in) };
      unsigned slant = fuzz_byte (in) % 4;
      for (unsigned y = y0; y < MIN (y1, height); y++)
        for (unsigned x = x0 + slant * (y - y0) / 4; x < MIN (x1, width); x++)
          memcpy (rgb + 3 * ((size_t)y * width + x), colour, 3);
    }
  for (size_t i = 0; in->size > 0 && i < all; i++)
    rgb[i] = (guint8)(rgb[i] ^ (in->data[i % in->size] >> (i % 3)));
}

static void
check_shapes (const TracingParts *parts, const TracingPlane *plane,
              const TracingShapeWish *wish)
{
  g_autoptr (GError) error = NULL;
  GArray *lines = tracing_find_shapes (parts, plane, wish, NULL, NULL, &error);
  assert_that ((lines == NULL) == (error != NULL));
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    {
      const TracingLine *line = &g_array_index (lines, TracingLine, i);
      check_line (line, false);
      assert_that (line->closed);
      assert_that (line->hole_of < (gssize)i);
      assert_that (wish->holes || line->hole_of == -1);
      assert_that (wish->touching || !line->cut_off);
    }
  if (lines != NULL)
    g_array_unref (lines);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  FuzzNumbers in = { data, size };
  unsigned kind = fuzz_byte (&in);
  if (kind % 4 == 0)
    {
      check_points (&in);
      return 0;
    }
  unsigned width = 1 + fuzz_byte (&in) % 160,
           height = 1 + fuzz_byte (&in) % 160;
  TracingPlane plane;
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  double dots = 0.5 + fuzz_byte (&in) / 20.0;
  if (!tracing_plane_from_resolution (geo_point (dots, dots), &plane, NULL))
    return 0;
  plane.m[6] = 0.3 * fuzz_share (&in) / width;
  plane.m[7] = 0.3 * fuzz_share (&in) / height;
  unsigned flags = fuzz_byte (&in);
  wish.holes = flags & 1;
  wish.largest = (flags & 2) != 0;
  wish.clicked = (flags & 4) != 0;
  wish.touching = (flags & 8) != 0;
  wish.level = flags & 16 ? -1 : (flags >> 5) / 7.0;
  wish.at = geo_point (width / 2.0, height / 2.0);
  wish.least_area = 5 + fuzz_byte (&in);
  guint8 *rgb = g_malloc (3 * (size_t)width * height);
  paint (&in, rgb, width, height);
  TracingPicture *picture = tracing_picture_new (
      width, height, 3 * (gsize)width, rgb, geo_point (0, 0), g_free, rgb);
  g_autoptr (GError) error = NULL;
  TracingParts *parts
      = kind & 4
            ? tracing_parts_new_like (picture, &plane, wish.at, NULL, NULL,
                                      &error)
            : tracing_parts_new (picture, &plane, (TracingCard)(kind / 8 % 3),
                                 NULL, NULL, &error);
  assert_that ((parts == NULL) == (error != NULL));
  if (parts != NULL)
    {
      double level = tracing_parts_get_level (parts);
      assert_that (level > 0 && level < 1);
      check_shapes (parts, &plane, &wish);
      guint shrink = 1 + kind % 7;
      guint w = (width + shrink - 1) / shrink,
            h = (height + shrink - 1) / shrink;
      g_autofree guint8 *mask = g_malloc ((gsize)w * h);
      tracing_parts_preview (parts, level, shrink, mask, w);
      tracing_parts_unref (parts);
    }
  tracing_picture_unref (picture);
  return 0;
}
