/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ink on paper: how much darker a pixel is than the mean about it; what is dark enough, or hangs together with what
 * is; and its middle line. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "tracing/stroke-private.h"

#define INK_SHARE 0.25 /* of the picture: more is no drawing */
#define LEAST_INK 8.0

void
stroke_ink_clear (StrokeInk *ink)
{
  g_clear_pointer (&ink->ink, g_free);
  g_clear_pointer (&ink->at, g_free);
  g_clear_pointer (&ink->far, g_free);
}

static gboolean
go_on (TracingTick tick, gpointer data, double share, GError **error)
{
  if (tick == NULL || tick (share, data))
    return TRUE;
  g_set_error_literal (error, TRACING_ERROR, TRACING_ERROR_CANCELLED,
                       _ ("left off"));
  return FALSE;
}

/* --- contrast -------------------------------------------------------------------- */
static guint8 *
make_grey (TracingPicture *picture)
{
  guint w = tracing_picture_get_width (picture);
  guint h = tracing_picture_get_height (picture);
  gsize stride = tracing_picture_get_stride (picture);
  const guint8 *rgb = tracing_picture_get_rgb (picture);
  guint8 *grey = g_malloc ((gsize)w * h);
  for (guint y = 0; y < h; y++)
    for (guint x = 0; x < w; x++)
      {
        const guint8 *p = rgb + y * stride + 3 * (gsize)x;
        grey[(gsize)y * w + x]
            = (guint8)((77u * p[0] + 150u * p[1] + 29u * p[2]) >> 8);
      }
  return grey;
}

/* Of how much each pixel is darker than the mean of the square of 2 r + 1 about it, from -255 to 255, how
 * many there are; and into ink what is darker, from 0. Sums of columns roll down, sums of
 * these roll right. */
static void
find_contrast (const guint8 *grey, StrokeInk *ink, guint r, gsize counts[511])
{
  guint w = ink->width, h = ink->height;
  g_autofree guint32 *columns = g_new0 (guint32, w);
  for (guint y = 0; y < MIN (r, h); y++)
    for (guint x = 0; x < w; x++)
      columns[x] += grey[(gsize)y * w + x];
  for (guint y = 0; y < h; y++)
    {
      guint top = y > r ? y - r : 0, bottom = MIN (y + r, h - 1);
      if (y + r < h)
        for (guint x = 0; x < w; x++)
          columns[x] += grey[(gsize)(y + r) * w + x];
      if (y > r)
        for (guint x = 0; x < w; x++)
          columns[x] -= grey[(gsize)(y - r - 1) * w + x];
      guint64 sum = 0;
      for (guint x = 0; x < MIN (r, w); x++)
        sum += columns[x];
      for (guint x = 0; x < w; x++)
        {
          guint left = x > r ? x - r : 0, right = MIN (x + r, w - 1);
          if (x + r < w)
            sum += columns[x + r];
          if (x > r)
            sum -= columns[x - r - 1];
          guint n = (bottom - top + 1) * (right - left + 1);
          int d = (int)(sum / n) - grey[(gsize)y * w + x];
          ink->ink[(gsize)y * w + x] = (guint8)MAX (d, 0);
          counts[255 + d]++;
        }
    }
}

/* What is lighter than the mean about it is noise, and as much of what is darker. */
static double
find_sigma (const gsize counts[511])
{
  gsize all = 0, sum = 0;
  for (int d = 0; d < 255; d++)
    all += counts[d];
  for (int d = 254; d >= 0; d--)
    if ((sum += counts[d]) * 2 >= all)
      return MAX (255 - d, 1)
             / 0.6745; /* the median of a normal law's distances */
  return 2;
}

/* FALSE where nothing stands out. */
static gboolean
find_levels (const gsize counts[511], double *low, double *high)
{
  double sigma = find_sigma (counts);
  int from = (int)fmax (6 * sigma, LEAST_INK);
  double n = 0, sum = 0;
  for (int d = from; d < 256; d++)
    {
      n += (double)counts[255 + d];
      sum += (double)counts[255 + d] * d;
    }
  if (n < 40)
    return FALSE;
  *low = fmax (4 * sigma, 0.35 * sum / n);
  *high = fmax (6 * sigma, 0.6 * sum / n);
  return TRUE;
}

/* --- what hangs together ------------------------------------------------------------ */
static const int aside[8][2] = { { 0, -1 }, { 1, -1 }, { 1, 0 },  { 1, 1 },
                                 { 0, 1 },  { -1, 1 }, { -1, 0 }, { -1, -1 } };

/* All ink from low on that hangs together with ink from high on; their indices. */
static GArray *
spread (StrokeInk *ink, double low, double high)
{
  guint w = ink->width, h = ink->height;
  GArray *all = g_array_new (FALSE, FALSE, sizeof (guint32));
  for (guint y = 1; y + 1 < h; y++)
    for (guint x = 1; x + 1 < w; x++)
      {
        guint32 i = y * w + x;
        if (ink->at[i] || ink->ink[i] < high)
          continue;
        guint next = all->len;
        ink->at[i] = 1;
        g_array_append_val (all, i);
        for (; next < all->len; next++)
          {
            guint32 p = g_array_index (all, guint32, next);
            for (int k = 0; k < 8; k++)
              {
                guint32 q
                    = (guint32)((int)p + aside[k][1] * (int)w + aside[k][0]);
                guint qx = q % w, qy = q / w;
                if (ink->at[q] || ink->ink[q] < low || qx == 0 || qy == 0
                    || qx + 1 == w || qy + 1 == h)
                  continue;
                ink->at[q] = 1;
                g_array_append_val (all, q);
              }
          }
        if (all->len > INK_SHARE * w * h)
          return all;
      }
  return all;
}

/* Chamfers of 3 and 4 (G. Borgefors, 1986, from memory). */
static void
find_distances (StrokeInk *ink)
{
  guint w = ink->width, h = ink->height;
  guint8 *f = ink->far;
  for (gsize i = 0; i < (gsize)w * h; i++)
    f[i] = ink->at[i] ? 255 : 0;
  for (int way = 1; way >= -1; way -= 2)
    for (guint y = 1; y + 1 < h; y++)
      for (guint x = 1; x + 1 < w; x++)
        {
          gssize i = way > 0 ? (gssize)y * w + x
                             : (gssize)(h - 1 - y) * w + (w - 1 - x);
          if (f[i] == 0)
            continue;
          gssize row = way * (gssize)w;
          int least = MIN (f[i - way], f[i - row]) + 3;
          least = MIN (least, MIN (f[i - row - way], f[i - row + way]) + 4);
          if (least < f[i])
            f[i] = (guint8)least;
        }
}

/* --- thinning ------------------------------------------------------------------------- */
/* Whether a pixel whose neighbours are these may go, in the first or second pass; neighbours from above
 * clockwise, a bit each. */
static gboolean
may_go (guint around, int pass)
{
  int n = 0, steps = 0;
  for (int k = 0; k < 8; k++)
    {
      n += (around >> k) & 1;
      steps += !((around >> k) & 1) && ((around >> ((k + 1) % 8)) & 1);
    }
  gboolean up = around & 1, right = around & 4, down = around & 16,
           left = around & 64;
  if (n < 2 || n > 6 || steps != 1)
    return FALSE;
  return pass == 0 ? !(up && right && down) && !(right && down && left)
                   : !(up && right && left) && !(up && down && left);
}

/* Whether those beside a pixel hang together without it: next to each other round it, or an upper, right, lower,
 * left one with the next such. */
static gboolean
hang_together (guint around)
{
  guint group[8], n = 0, parts = 0;
  for (guint k = 0; k < 8; k++)
    group[k] = k;
  for (guint turn = 0; turn < 8; turn++)
    for (guint k = 0; k < 8; k++)
      for (guint by = 1; by <= 2; by++)
        {
          guint j = (k + by) % 8;
          if ((around >> k & 1) && (around >> j & 1) && (by == 1 || k % 2 == 0))
            group[k] = group[j] = MIN (group[k], group[j]);
        }
  for (guint k = 0; k < 8; k++)
    {
      n += around >> k & 1;
      parts += (around >> k & 1) && group[k] == k;
    }
  return n >= 2 && parts == 1;
}

/* Steps of a thinned line that are two wide. */
static void
take_steps_off (StrokeInk *ink, const GArray *all)
{
  gboolean goes[256];
  int w = (int)ink->width;
  for (guint a = 0; a < 256; a++)
    goes[a] = hang_together (a);
  for (guint i = 0; i < all->len; i++)
    {
      guint32 p = g_array_index (all, guint32, i);
      guint around = 0;
      for (int k = 0; k < 8 && ink->at[p]; k++)
        around |= (guint)ink->at[(int)p + aside[k][1] * w + aside[k][0]] << k;
      if (goes[around])
        ink->at[p] = 0;
    }
}

static void
thin (StrokeInk *ink, GArray *all, guint most)
{
  gboolean goes[2][256];
  int w = (int)ink->width;
  g_autoptr (GArray) gone = g_array_new (FALSE, FALSE, sizeof (guint32));
  for (guint a = 0; a < 256; a++)
    for (int pass = 0; pass < 2; pass++)
      goes[pass][a] = may_go (a, pass);
  for (guint round = 0; round < 2 * most; round++)
    {
      g_array_set_size (gone, 0);
      guint kept = 0;
      for (guint i = 0; i < all->len; i++)
        {
          guint32 p = g_array_index (all, guint32, i);
          guint around = 0;
          if (!ink->at[p])
            continue;
          for (int k = 0; k < 8; k++)
            around |= (guint)ink->at[(int)p + aside[k][1] * w + aside[k][0]]
                      << k;
          if (goes[round % 2][around])
            g_array_append_val (gone, p);
          g_array_index (all, guint32, kept++) = p;
        }
      g_array_set_size (all, kept);
      for (guint i = 0; i < gone->len; i++)
        ink->at[g_array_index (gone, guint32, i)] = 0;
      if (gone->len == 0 && round > 0)
        break;
    }
}

gboolean
stroke_ink_find (TracingPicture *picture, double widest, double level,
                 StrokeInk *ink, TracingTick tick, gpointer data,
                 GError **error)
{
  gsize counts[511] = { 0 };
  double low = 255 * level, high = 1.3 * low;
  guint w = tracing_picture_get_width (picture);
  guint h = tracing_picture_get_height (picture);
  gsize n = (gsize)w * h;
  *ink = (StrokeInk){ .width = w, .height = h };
  ink->ink = g_malloc0 (n);
  g_autofree guint8 *grey = make_grey (picture);
  if (!go_on (tick, data, 0.1, error))
    return FALSE;
  find_contrast (grey, ink, (guint)CLAMP (2.5 * widest, 8, 300), counts);
  g_clear_pointer (&grey, g_free);
  if (!go_on (tick, data, 0.4, error))
    return FALSE;
  if (w < 16 || h < 16 || (level < 0 && !find_levels (counts, &low, &high)))
    {
      g_set_error_literal (
          error, TRACING_ERROR, TRACING_ERROR_NOTHING,
          _ ("no drawn line was found: draw over it with a softer pencil or a "
             "pen, or take the picture in better light"));
      return FALSE;
    }
  ink->low = low;
  ink->at = g_malloc0 (n);
  g_autoptr (GArray) all = spread (ink, low, fmin (high, 254));
  if (all->len > INK_SHARE * w * h)
    {
      g_set_error_literal (
          error, TRACING_ERROR, TRACING_ERROR_TOO_MUCH,
          _ ("the picture is dark nearly everywhere: these are no lines on "
             "paper. Choose card on a table, or move the level"));
      return FALSE;
    }
  ink->far = g_malloc (n);
  find_distances (ink);
  if (!go_on (tick, data, 0.6, error))
    return FALSE;
  thin (ink, all, (guint)(widest / 2) + 3);
  take_steps_off (ink, all);
  /* What is wider is no line. */
  double widest_far = fmin (3 * (widest / 2 + 1), 250);
  for (guint i = 0; i < all->len; i++)
    {
      guint32 p = g_array_index (all, guint32, i);
      if (ink->far[p] > widest_far)
        ink->at[p] = 0;
    }
  return go_on (tick, data, 0.8, error);
}
