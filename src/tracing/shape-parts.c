/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The map of a picture: a byte a pixel, in one pass, and the same made smaller. */
#include "tracing/shape-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define SMALL_PIXELS 1.4e6 /* of the smaller map, about */
#define STEP 32 /* px from place to place where the light is asked for */

static gboolean
tell (TracingTick tick, gpointer data, double share, GError **error)
{
  if (tick == NULL || tick (share, data))
    return TRUE;
  g_set_error (error, TRACING_ERROR, TRACING_ERROR_CANCELLED,
               _ ("Tracing was left off; nothing was changed."));
  return FALSE;
}

/* One row of the map: three looked-up parts of each pixel's piece-ness, times one over the light. */
static void
map_row (const guint8 *rgb, guint8 *out, guint width,
         const float *const part[3], const float *even, float zero)
{
  for (guint x = 0; x < width; x += STEP)
    {
      guint end = MIN (width, x + STEP);
      float k = even[x / STEP], step = (even[x / STEP + 1] - k) / STEP;
      for (guint i = x; i < end; i++, rgb += 3, k += step)
        {
          float v = (part[0][rgb[0]] + part[1][rgb[1]] + part[2][rgb[2]]) * k
                    + zero;
          v = v < 0 ? 0 : v > 255 ? 255 : v;
          out[i] = (guint8)v;
        }
    }
}

static void
add_row (guint32 *sum, const guint8 *row, guint width, guint shrink)
{
  for (guint x = 0, i = 0; x < width; i++)
    {
      guint end = MIN (width, x + shrink), s = 0;
      for (; x < end; x++)
        s += row[x];
      sum[i] += s;
    }
}

static void
close_row (guint32 *sum, guint8 *row, const TracingParts *parts, guint rows)
{
  for (guint i = 0; i < parts->small.width; i++)
    {
      guint columns
          = MIN (parts->shrink, parts->full.width - i * parts->shrink);
      guint n = columns * rows;
      row[i] = (guint8)((sum[i] + n / 2) / n);
    }
  memset (sum, 0, parts->small.width * sizeof *sum);
}

static gboolean
draw_map (TracingParts *parts, const TracingPicture *picture,
          const ShapeMix *mix, TracingTick tick, gpointer data, GError **error)
{
  guint width = parts->full.width, height = parts->full.height;
  guint shrink = parts->shrink, steps = width / STEP + 2;
  const guint8 *rgb = tracing_picture_get_rgb (picture);
  gsize stride = tracing_picture_get_stride (picture);
  float part[3][256];
  for (guint i = 0; i < 256; i++)
    for (int c = 0; c < 3; c++)
      part[c][i]
          = (float)(mix->weight[c] * SHAPE_SPAN) * shape_linear ((guint8)i);
  const float *const parts3[3] = { part[0], part[1], part[2] };
  float zero = (float)(SHAPE_ZERO - SHAPE_SPAN * mix->zero) + 0.5f;
  g_autofree float *even = g_new (float, steps);
  g_autofree guint32 *sum = g_new0 (guint32, parts->small.width);
  for (guint y = 0; y < height; y++)
    {
      if (y % STEP == 0)
        {
          double v = 2 * MIN (y + STEP / 2.0, height) / height - 1;
          for (guint i = 0; i < steps; i++)
            even[i] = (float)exp (
                -shape_mix_light (mix, 2.0 * i * STEP / width - 1, v));
          if (!tell (tick, data, 0.1 + 0.9 * y / height, error))
            return FALSE;
        }
      guint8 *row = parts->full.at + (gsize)y * width;
      map_row (rgb + y * stride, row, width, parts3, even, zero);
      add_row (sum, row, width, shrink);
      if ((y + 1) % shrink == 0 || y + 1 == height)
        close_row (sum,
                   parts->small.at + (gsize)(y / shrink) * parts->small.width,
                   parts, y % shrink + 1);
    }
  return TRUE;
}

static TracingParts *
parts_new (TracingPicture *picture, const TracingPlane *plane, TracingCard card,
           const GeoPoint *at, TracingTick tick, gpointer data, GError **error)
{
  guint width = tracing_picture_get_width (picture);
  guint height = tracing_picture_get_height (picture);
  ShapeMix mix;
  if (!tell (tick, data, 0, error))
    return NULL;
  if (!shape_mix_find (picture, card, at, &mix))
    {
      g_set_error (error, TRACING_ERROR, TRACING_ERROR_NOTHING,
                   _ ("This picture is all of one colour: no piece can be told "
                      "from its table. Lay light card on a dark table, or dark "
                      "on light, and take another."));
      return NULL;
    }
  TracingParts *parts = g_new0 (TracingParts, 1);
  g_atomic_ref_count_init (&parts->refs);
  double n = (double)width * height;
  parts->shrink = (guint)MAX (1, lround (sqrt (n / SMALL_PIXELS)));
  parts->full = (ShapeMap){ width, height, g_malloc ((gsize)width * height) };
  parts->small.width = (width + parts->shrink - 1) / parts->shrink;
  parts->small.height = (height + parts->shrink - 1) / parts->shrink;
  parts->small.at = g_malloc ((gsize)parts->small.width * parts->small.height);
  if (!draw_map (parts, picture, &mix, tick, data, error))
    {
      tracing_parts_unref (parts);
      return NULL;
    }
  /* Not yet known: as if the picture showed 600 mm. */
  GeoPoint middle = { width / 2.0, height / 2.0 };
  double dots = plane != NULL ? tracing_plane_dots (plane, middle)
                              : MAX (width, height) / 600.0;
  ShapeMap open
      = shape_map_open (&parts->small, shape_line_reach (dots, parts->shrink));
  parts->level = shape_map_level (&open);
  g_free (open.at);
  return parts;
}

TracingParts *
tracing_parts_new (TracingPicture *picture, const TracingPlane *plane,
                   TracingCard card, TracingTick tick, gpointer data,
                   GError **error)
{
  return parts_new (picture, plane, card, NULL, tick, data, error);
}

TracingParts *
tracing_parts_new_like (TracingPicture *picture, const TracingPlane *plane,
                        GeoPoint at, TracingTick tick, gpointer data,
                        GError **error)
{
  return parts_new (picture, plane, TRACING_CARD_ANY, &at, tick, data, error);
}

TracingParts *
tracing_parts_ref (TracingParts *parts)
{
  g_atomic_ref_count_inc (&parts->refs);
  return parts;
}

void
tracing_parts_unref (TracingParts *parts)
{
  if (parts == NULL || !g_atomic_ref_count_dec (&parts->refs))
    return;
  g_free (parts->full.at);
  g_free (parts->small.at);
  g_free (parts);
}

double
tracing_parts_get_level (const TracingParts *parts)
{
  return parts->level;
}

double
tracing_parts_at (const TracingParts *parts, GeoPoint px)
{
  guint x = (guint)CLAMP (px.x, 0, parts->full.width - 1.0);
  guint y = (guint)CLAMP (px.y, 0, parts->full.height - 1.0);
  double v = parts->full.at[(gsize)y * parts->full.width + x];
  return CLAMP ((v - SHAPE_ZERO) / SHAPE_SPAN, 0, 1);
}

/* Steep about the level, so that a border is a little soft. */
static void
fill_soft (double level, guint8 soft[256])
{
  double at = SHAPE_ZERO + level * SHAPE_SPAN;
  for (int i = 0; i < 256; i++)
    {
      double v = 127.5 + (i - at) * 255 / 24;
      soft[i] = (guint8)CLAMP (v, 0, 255);
    }
}

/* The mean of a few of each square's pixels. */
void
tracing_parts_preview (const TracingParts *parts, double level, guint shrink,
                       guint8 *mask, gsize stride)
{
  g_return_if_fail (shrink > 0);
  guint8 soft[256];
  fill_soft (level, soft);
  /* a map that is small enough already serves as it is */
  gboolean small = shrink % parts->shrink == 0 && parts->shrink > 1;
  const ShapeMap *map = small ? &parts->small : &parts->full;
  guint each = small ? shrink / parts->shrink : shrink;
  guint width = (parts->full.width + shrink - 1) / shrink;
  guint height = (parts->full.height + shrink - 1) / shrink;
  guint step = MAX (1, each / 2);
  for (guint j = 0; j < height; j++)
    for (guint i = 0; i < width; i++)
      {
        guint sum = 0, n = 0;
        for (guint y = j * each; y < MIN ((j + 1) * each, map->height);
             y += step)
          for (guint x = i * each; x < MIN ((i + 1) * each, map->width);
               x += step, n++)
            sum += soft[map->at[(gsize)y * map->width + x]];
        mask[j * stride + i] = (guint8)(sum / MAX (n, 1));
      }
}
