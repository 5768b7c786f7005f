/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Areas: each edge of a polygon leaves, in each row it crosses, the area to its right as differences from pixel to
 * pixel; their running sum is the share of each pixel inside. Exact but for rounding where edges don't
 * overlap. sRGB's curve is that of IEC 61966-2-1 (from memory).
 */
#include "picture-cover.h"

#include <string.h>

CoverMask *
cover_mask_new (guint width, guint height)
{
  CoverMask *mask = g_new (CoverMask, 1);
  *mask = (CoverMask){ width, height,
                       g_new0 (float, (gsize)(width + 2) * height) };
  return mask;
}

void
cover_mask_free (CoverMask *mask)
{
  g_free (mask->share);
  g_free (mask);
}

void
cover_mask_reset (CoverMask *mask)
{
  memset (mask->share, 0,
          sizeof (float) * (gsize)(mask->width + 2) * mask->height);
}

/* An edge's part within one row, which covers height dy (signed), from x0 to x1. */
static void
add_part (float *row, guint width, double x0, double x1, double dy)
{
  double most = width;
  x0 = CLAMP (x0, 0, most);
  x1 = CLAMP (x1, 0, most);
  if (x0 > x1)
    {
      double t = x0;
      x0 = x1;
      x1 = t;
    }
  guint first = (guint)x0, last = (guint)x1;
  if (first == last)
    {
      double mid = 0.5 * (x0 + x1) - first;
      row[first] += (float)(dy * (1 - mid));
      row[first + 1] += (float)(dy * mid);
      return;
    }
  double slope = dy / (x1 - x0), before = 0;
  for (guint x = first; x <= last; x++)
    {
      /* the area right of the edge within this pixel, then what is left for the next */
      double a = fmax (x0, x), b = fmin (x1, x + 1.0);
      double part = slope * (b - a);
      double own = part * (x + 1 - 0.5 * (a + b));
      row[x] += (float)(own + before);
      before = part - own;
    }
  row[last + 1] += (float)before;
}

static void
add_edge (CoverMask *mask, GeoPoint a, GeoPoint b)
{
  double sign = 1;
  if (a.y > b.y)
    {
      GeoPoint t = a;
      a = b;
      b = t;
      sign = -1;
    }
  double y0 = fmax (a.y, 0), y1 = fmin (b.y, mask->height);
  if (!(y0 < y1))
    return;
  double slope = (b.x - a.x) / (b.y - a.y);
  for (guint y = (guint)y0; y < y1; y++)
    {
      double top = fmax (y0, y), foot = fmin (y1, y + 1.0);
      if (foot > top)
        add_part (mask->share + (gsize)y * (mask->width + 2), mask->width,
                  a.x + (top - a.y) * slope, a.x + (foot - a.y) * slope,
                  sign * (foot - top));
    }
}

double
cover_area (const GeoPoint *px, guint n)
{
  double area = 0;
  for (guint i = 0; i < n; i++)
    area += 0.5 * geo_cross (px[i], px[(i + 1) % n]);
  return area;
}

void
cover_mask_add (CoverMask *mask, const GeoPoint *px, guint n, gboolean turned)
{
  for (guint i = 0; i < n; i++)
    if (turned)
      add_edge (mask, px[i], px[(i + 1) % n]);
    else
      add_edge (mask, px[(i + 1) % n], px[i]);
}

void
cover_mask_close (CoverMask *mask)
{
  for (guint y = 0; y < mask->height; y++)
    {
      float *row = mask->share + (gsize)y * (mask->width + 2);
      double sum = 0;
      for (guint x = 0; x < mask->width + 2; x++)
        {
          sum += row[x];
          row[x] = (float)CLAMP (sum, 0, 1);
        }
    }
}

/* One pass of a running mean over values gap apart. */
static void
mean_pass (float *v, gsize gap, guint n, guint r, float *line)
{
  double sum = 0;
  for (guint i = 0; i < n; i++)
    line[i] = v[i * gap];
  for (guint i = 0; i < MIN (r, n); i++)
    sum += line[i];
  guint count = MIN (r, n);
  for (guint i = 0; i < n; i++)
    {
      if (i + r < n)
        {
          sum += line[i + r];
          count++;
        }
      if (i > r)
        {
          sum -= line[i - r - 1];
          count--;
        }
      v[i * gap] = (float)(sum / count);
    }
}

void
cover_mask_soften (CoverMask *mask, double sigma)
{
  guint r = (guint)MAX (1, lround (sigma));
  gsize stride = mask->width + 2;
  g_autofree float *line = g_new (float, MAX (mask->width, mask->height) + 2);
  for (int pass = 0; pass < 3; pass++)
    {
      for (guint y = 0; y < mask->height; y++)
        mean_pass (mask->share + y * stride, 1, mask->width, r, line);
      for (guint x = 0; x < mask->width; x++)
        mean_pass (mask->share + x, stride, mask->height, r, line);
    }
}

void
cover_mask_cut (CoverMask *mask, const CoverMask *out)
{
  gsize n = (gsize)(mask->width + 2) * mask->height;
  for (gsize i = 0; i < n; i++)
    mask->share[i] = MAX (0, mask->share[i] - out->share[i]);
}

CoverImage *
cover_image_new (guint width, guint height, const float rgb[3])
{
  gsize n = (gsize)width * height;
  CoverImage *image = g_new (CoverImage, 1);
  *image = (CoverImage){ width, height, g_new (float, 3 * n) };
  for (gsize i = 0; i < n; i++)
    memcpy (image->rgb + 3 * i, rgb, 3 * sizeof (float));
  return image;
}

void
cover_image_free (CoverImage *image)
{
  g_free (image->rgb);
  g_free (image);
}

void
cover_image_paint (CoverImage *image, const CoverMask *mask, const float rgb[3],
                   double strength)
{
  for (guint y = 0; y < image->height; y++)
    {
      const float *share = mask->share + (gsize)y * (mask->width + 2);
      float *px = image->rgb + 3 * (gsize)y * image->width;
      for (guint x = 0; x < image->width; x++, px += 3)
        for (int k = 0; k < 3; k++)
          px[k] += (rgb[k] - px[k]) * share[x] * (float)strength;
    }
}

/* Of a number, another that tells nothing of it (Marsaglia's xorshift, 2003). */
static guint32
next (guint32 *state)
{
  guint32 s = *state;
  s ^= s << 13;
  s ^= s >> 17;
  s ^= s << 5;
  return *state = s;
}

/* Sum of four uniform numbers: near enough Gaussian, sigma 1. */
static float
normal (guint32 *state)
{
  float sum = 0;
  for (int i = 0; i < 2; i++)
    {
      guint32 s = next (state);
      sum += (float)(s & 0xffff) + (float)(s >> 16);
    }
  return (sum / 65535.0f - 2) * 1.7320508f;
}

void
cover_image_grain (CoverImage *image, double share, guint32 seed)
{
  guint32 state = seed * 2654435761u | 1;
  g_autoptr (CoverMask) fine = cover_mask_new (image->width, image->height);
  g_autoptr (CoverMask) broad = cover_mask_new (image->width, image->height);
  gsize n = (gsize)(image->width + 2) * image->height;
  for (gsize i = 0; i < n; i++)
    {
      fine->share[i] = normal (&state);
      broad->share[i] = 30 * normal (&state);
    }
  cover_mask_soften (fine, 1);
  cover_mask_soften (broad, 20);
  for (guint y = 0; y < image->height; y++)
    for (guint x = 0; x < image->width; x++)
      {
        gsize i = (gsize)y * (image->width + 2) + x;
        float k = (float)(1 + share * (fine->share[i] + broad->share[i]));
        for (int c = 0; c < 3; c++)
          image->rgb[3 * ((gsize)y * image->width + x) + c] *= MAX (k, 0);
      }
}

static void
blur_line (float *v, gsize gap, guint n, const float *weight, int r,
           float *line)
{
  for (int i = -r; i < (int)n + r; i++)
    line[i + r] = v[(gsize)CLAMP (i, 0, (int)n - 1) * gap];
  for (guint i = 0; i < n; i++)
    {
      float sum = 0;
      for (int k = 0; k <= 2 * r; k++)
        sum += weight[k] * line[i + (guint)k];
      v[i * gap] = sum;
    }
}

void
cover_image_blur (CoverImage *image, double sigma)
{
  if (!(sigma > 0))
    return;
  int r = (int)ceil (3.5 * sigma);
  g_autofree float *weight = g_new (float, 2 * r + 1);
  g_autofree float *line
      = g_new (float, MAX (image->width, image->height) + 2 * (guint)r);
  double sum = 0;
  for (int k = -r; k <= r; k++)
    sum += exp (-0.5 * k * k / (sigma * sigma));
  for (int k = -r; k <= r; k++)
    weight[k + r] = (float)(exp (-0.5 * k * k / (sigma * sigma)) / sum);
  gsize row = 3 * (gsize)image->width;
  for (guint y = 0; y < image->height; y++)
    for (guint c = 0; c < 3; c++)
      blur_line (image->rgb + y * row + c, 3, image->width, weight, r, line);
  for (gsize x = 0; x < row; x++)
    blur_line (image->rgb + x, row, image->height, weight, r, line);
}

float
cover_linear (double srgb)
{
  return (float)(srgb <= 0.04045 ? srgb / 12.92
                                 : pow ((srgb + 0.055) / 1.055, 2.4));
}

guint8 *
cover_image_develop (const CoverImage *image, double light, double noise,
                     guint32 seed)
{
  guint8 *bytes = g_malloc (3 * (gsize)image->width * image->height),
         *b = bytes;
  const float *px = image->rgb;
  guint32 state = seed * 747796405u | 1;
  g_autofree float *code = g_new (float, 4097);
  for (int i = 0; i <= 4096; i++)
    {
      double v = i / 4096.0;
      code[i] = (float)(255
                        * (v <= 0.0031308 ? 12.92 * v
                                          : 1.055 * pow (v, 1 / 2.4) - 0.055));
    }
  for (guint y = 0; y < image->height; y++)
    for (guint x = 0; x < image->width; x++)
      {
        double u = x / (double)image->width, v = y / (double)image->height;
        double far = (0.6 * u + 0.4 * v) * (0.6 * u + 0.4 * v);
        double fall = 1 - light * (0.7 * far + 0.3 * v * u);
        for (int c = 0; c < 3; c++, px++)
          {
            float at = CLAMP (*px * (float)fall, 0, 1) * 4096;
            guint i = (guint)MIN (at, 4095.0f);
            float s = code[i] + (code[i + 1] - code[i]) * (at - (float)i);
            if (noise > 0)
              s += (float)noise * normal (&state);
            *b++ = (guint8)CLAMP (s + 0.5f, 0, 255);
          }
      }
  return bytes;
}
