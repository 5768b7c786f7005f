/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever the picture, drawn lines found in it are finite, in one piece, the longest first, and closed ones closed
 * and the right way round. */
#include "../file/fuzz.h"
#include "../geometry/fuzz-numbers.h"

#include <string.h>

#include "geometry/region.h"
#include "tracing/stroke.h"

const char *const fuzz_folder = "fuzz-stroke";

static void
check_line (const TracingLine *line)
{
  const GeoChain *chain = &line->chain;
  assert_that (chain->count > 0);
  assert_that (isfinite (line->off) && line->off >= 0);
  assert_that (isfinite (line->blur) && line->blur > 0);
  assert_that (line->hole_of == -1);
  for (size_t i = 0; i < chain->count; i++)
    {
      for (int k = 0; k < 4; k++)
        assert_that (fabs (chain->cubics[i].p[k].x) < 1e7
                     && fabs (chain->cubics[i].p[k].y) < 1e7);
      assert_that (
          i == 0
          || geo_same (chain->cubics[i - 1].p[3], chain->cubics[i].p[0]));
    }
  assert_that (!line->closed || geo_chain_is_closed (chain));
}

/* Bars of any slant and width, crossing as they may; then the bytes themselves. */
static void
paint (FuzzNumbers *in, guint8 *rgb, int width, int height)
{
  size_t all = 3 * (size_t)width * (size_t)height;
  unsigned bars = fuzz_byte (in) % 14;
  memset (rgb, 128 + (int)fuzz_byte (in) / 2, all);
  for (unsigned t = 0; t < bars; t++)
    {
      double x = fuzz_byte (in) % (unsigned)width;
      double y = fuzz_byte (in) % (unsigned)height;
      double dx = fuzz_share (in), dy = fuzz_share (in);
      int wide = 1 + (int)fuzz_byte (in) % 9, far = (int)fuzz_byte (in);
      guint8 colour = (guint8)fuzz_byte (in);
      for (int k = 0; k < far; k++, x += dx, y += dy)
        for (int j = 0; j < wide; j++)
          for (int i = 0; i < wide; i++)
            if (x + i >= 0 && x + i < width && y + j >= 0 && y + j < height)
              memset (
                  rgb + 3 * ((size_t)(y + j) * (size_t)width + (size_t)(x + i)),
                  colour, 3);
    }
  for (size_t i = 0; in->size > 0 && i < all; i++)
    rgb[i] = (guint8)(rgb[i] ^ (in->data[i % in->size] >> 4));
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  FuzzNumbers in = { data, size };
  unsigned flags = fuzz_byte (&in);
  unsigned width = 1 + fuzz_byte (&in), height = 1 + fuzz_byte (&in);
  double dots = 0.5 + fuzz_byte (&in) / 15.0;
  TracingPlane plane;
  TracingStrokeWish wish = TRACING_STROKE_WISH;
  if (!tracing_plane_from_resolution (geo_point (dots, dots), &plane, NULL))
    return 0;
  plane.m[6] = 0.3 * fuzz_share (&in) / width;
  plane.m[7] = 0.3 * fuzz_share (&in) / height;
  wish.clicked = (flags & 1) != 0;
  wish.level = flags & 2 ? -1 : (flags >> 4) / 15.0;
  wish.at = geo_point (width / 2.0, height / 2.0);
  wish.least_length = flags & 4 ? 3 : 30;
  wish.gap = flags & 8 ? 0 : 4;
  guint8 *rgb = g_malloc (3 * (size_t)width * height);
  paint (&in, rgb, (int)width, (int)height);
  TracingPicture *picture = tracing_picture_new (
      width, height, 3 * (gsize)width, rgb, geo_point (0, 0), g_free, rgb);
  g_autoptr (GError) error = NULL;
  GArray *lines
      = tracing_find_strokes (picture, &plane, &wish, NULL, NULL, &error);
  assert_that ((lines == NULL) == (error != NULL));
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    check_line (&g_array_index (lines, TracingLine, i));
  assert_that (lines == NULL || lines->len > 0);
  assert_that (lines == NULL || !wish.clicked || lines->len == 1);
  if (lines != NULL)
    g_array_unref (lines);
  tracing_picture_unref (picture);
  return 0;
}
