/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much darker than its paper each cell of a picture is.
 *
 * Paper is what is left when dark lines are taken away: a closing of the picture, here an opening of its darkness. A large dark
 * area stays in it, so it is no line, nor is its border; light that falls off slowly stays too. Where that is much darker than
 * the lightest of the picture, it is a table, and no paper. */
#include "tracing/stroke-private.h"

#include <math.h>
#include <string.h>

#define DARKEST_PAPER 0.5 /* of the lightest, in the numbers of the file */

/* The darkness of the picture, 255 for black. */
static ShapeMap
darkness (const TracingPicture *picture, guint shrink)
{
  guint w = tracing_picture_get_width (picture) / shrink;
  guint h = tracing_picture_get_height (picture) / shrink;
  ShapeMap map = { w, h, g_malloc ((gsize)w * h + 1) };
  gsize stride = tracing_picture_get_stride (picture);
  g_autofree guint32 *sum = g_new (guint32, w + 1);
  guint32 all = 256 * shrink * shrink;
  for (gsize y = 0; y < h; y++)
    {
      memset (sum, 0, w * sizeof *sum);
      for (gsize j = 0; j < shrink; j++)
        {
          const guint8 *p
              = tracing_picture_get_rgb (picture) + (y * shrink + j) * stride;
          for (guint x = 0; x < w; x++)
            for (guint i = 0; i < shrink; i++, p += 3)
              sum[x] += 77U * p[0] + 150U * p[1] + 29U * p[2];
        }
      for (guint x = 0; x < w; x++)
        map.at[y * w + x] = (guint8)(255 - sum[x] / all);
    }
  return map;
}

static void
mix_rows (guint8 *restrict to, const guint8 *restrict a,
          const guint8 *restrict b, const guint8 *restrict c, guint n)
{
  for (guint i = 0; i < n; i++)
    to[i] = (guint8)((a[i] + 2 * b[i] + c[i] + 2) >> 2);
}

/* By 1 2 1 each way, in place. */
static void
soften (ShapeMap *map)
{
  guint w = map->width, h = map->height;
  if (w < 3 || h < 3)
    return;
  g_autofree guint8 *above = g_malloc (w), *here = g_malloc (w),
                    *out = g_malloc (w);
  memcpy (above, map->at, w);
  for (gsize y = 0; y < h; y++)
    {
      guint8 *row = map->at + y * w;
      memcpy (here, row, w);
      mix_rows (out, above, here, y + 1 < h ? row + w : here, w);
      memcpy (row, out, w);
      mix_rows (row + 1, out, out + 1, out + 2, w - 2);
      memcpy (above, here, w);
    }
}

/* The value below which this share of the cells lies. */
static guint
quantile (const guint64 *count, guint from, double share)
{
  guint64 all = 0, sum = 0;
  for (guint i = from; i < 256; i++)
    all += count[i];
  for (guint i = from; i < 256; i++)
    {
      sum += count[i];
      if ((double)sum >= share * (double)all)
        return i;
    }
  return 255;
}

/* From how much bare paper differs from itself (a woven thing more than paper can), and from how dark its darkest things are. */
static void
choose_level (StrokeMap *map, const guint64 *count, double level)
{
  double half = fmin (quantile (count, 0, 0.5), 40);
  double sigma = CLAMP (quantile (count, 0, 0.84) - half, 0.7, 15);
  double noise = fmax (half + 7 * sigma, 14);
  double dark = quantile (count, (guint)fmin (noise, 255), 0.75);
  double high = level >= 0 ? 255 * level : fmax (noise, 0.35 * dark);
  double low = level >= 0 ? 0.6 * high : fmax (half + 4 * sigma, 0.6 * high);
  map->high = (guint8)CLAMP (high, 2, 254);
  map->low = (guint8)CLAMP (low, 1, map->high);
}

StrokeMap
stroke_map_new (const TracingPicture *picture, guint shrink, double widest,
                double level)
{
  StrokeMap map = { darkness (picture, shrink), shrink, 0, 0 };
  guint64 count[256] = { 0 };
  guint w = map.map.width, h = map.map.height;
  soften (&map.map);
  ShapeMap paper
      = shape_map_open (&map.map, (guint)CLAMP (ceil (0.5 * widest), 2, 40));
  guint64 shades[256] = { 0 };
  for (gsize i = 0; i < (gsize)w * h; i++)
    shades[255 - paper.at[i]]++;
  guint least = (guint)(DARKEST_PAPER * quantile (shades, 0, 0.95));
  for (gsize i = 0; i < (gsize)w * h; i++)
    {
      guint light = 255U - paper.at[i];
      guint over = 255U * (guint)(map.map.at[i] - paper.at[i]) / (light + 1);
      map.map.at[i] = light < least ? 0 : (guint8)over;
      count[map.map.at[i]]++;
    }
  g_free (paper.at);
  choose_level (&map, count, level);
  return map;
}
