/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The mixture of colours that tells piece and table apart best, with the light evened out.
 *
 * Light falls on the table as a factor that changes slowly from place to place, so that the
 * logarithm of what the camera saw is
 *
 *   log I (x, y) = P (x, y) (1, 1, 1) + log of the colour there,
 *
 * P a polynomial of the second degree. Which direction of log colour changes most over a short way doesn't depend on P: it is
 * the main axis of the differences of near places. Along it the picture is split in two (N. Otsu, "A threshold
 * selection method from gray-level histograms", 1979); then P is laid by least squares along both classes at once, each with
 * a colour of its own, with less weight on what fits neither (shadows, lines, other things; Tukey's
 * biweight), the direction is bettered by Fisher's discriminant, and all of it is repeated. In the end the discriminant is
 * taken once more in light itself, not its logarithm, since at an edge it is light that mixes in a pixel. (R. A.
 * Fisher, 1936; all from memory.)
 *
 * A shadow changes the table's colour towards black. Where that is also towards the piece's colour it counts as
 * spread within the class, and the discriminant turns away from it as far as hue allows.
 */
#include "tracing/shape-private.h"

#include <math.h>
#include <string.h>

#define CELLS 180.0 /* along the longer side */
#define FLOOR 0.004f
#define BINS 256
#define ROUNDS 4

typedef struct
{
  guint columns, rows, n;
  float *lin;   /* 3 a cell: linear light */
  float *log;   /* 3 a cell */
  float *grey;  /* mean of the logarithms */
  float *light; /* P there */
  float *along; /* evened log colour along the direction */
  float *weight;
  guint8 *piece;
  guint border; /* cells of the picture's rim */
} Cells;

float
shape_linear (guint8 srgb)
{
  double s = srgb / 255.0;
  return (float)(s <= 0.04045 ? s / 12.92 : pow ((s + 0.055) / 1.055, 2.4));
}

static void
terms (double x, double y, double t[SHAPE_TERMS])
{
  t[0] = 1;
  t[1] = x;
  t[2] = y;
  t[3] = x * x;
  t[4] = x * y;
  t[5] = y * y;
}

double
shape_mix_light (const ShapeMix *mix, double x, double y)
{
  double t[SHAPE_TERMS], sum = 0;
  terms (x, y, t);
  for (int k = 0; k < SHAPE_TERMS; k++)
    sum += mix->light[k] * t[k];
  return sum;
}

/* Gauss with pivots; FALSE where it has no answer. */
static gboolean
solve (double *a, double *b, int n)
{
  for (int i = 0; i < n; i++)
    {
      int best = i;
      for (int r = i + 1; r < n; r++)
        if (fabs (a[r * n + i]) > fabs (a[best * n + i]))
          best = r;
      if (!(fabs (a[best * n + i]) > 1e-12))
        return FALSE;
      for (int c = 0; c < n && best != i; c++)
        {
          double t = a[i * n + c];
          a[i * n + c] = a[best * n + c];
          a[best * n + c] = t;
        }
      double t = b[i];
      b[i] = b[best];
      b[best] = t;
      for (int r = i + 1; r < n; r++)
        {
          double f = a[r * n + i] / a[i * n + i];
          for (int c = i; c < n; c++)
            a[r * n + c] -= f * a[i * n + c];
          b[r] -= f * b[i];
        }
    }
  for (int i = n - 1; i >= 0; i--)
    {
      for (int c = i + 1; c < n; c++)
        b[i] -= a[i * n + c] * b[c];
      b[i] /= a[i * n + i];
    }
  return TRUE;
}

/* --- cells ---------------------------------------------------------------------- */

static double
cell_x (const Cells *cells, guint i)
{
  return 2 * (i % cells->columns + 0.5) / cells->columns - 1;
}

static double
cell_y (const Cells *cells, guint i)
{
  return 2 * (i / cells->columns + 0.5) / cells->rows - 1;
}

static gboolean
on_rim (const Cells *cells, guint i)
{
  guint x = i % cells->columns, y = i / cells->columns;
  guint rim = cells->border;
  return x < rim || y < rim || x + rim >= cells->columns
         || y + rim >= cells->rows;
}

/* The mean of up to 3 x 3 px about a place. */
static void
read_patch (const TracingPicture *picture, const float *linear, guint px,
            guint py, float lin[3])
{
  guint width = tracing_picture_get_width (picture);
  guint height = tracing_picture_get_height (picture);
  gsize stride = tracing_picture_get_stride (picture);
  const guint8 *rgb = tracing_picture_get_rgb (picture);
  guint count = 0;
  lin[0] = lin[1] = lin[2] = 0;
  for (guint y = py > 0 ? py - 1 : 0; y < MIN (py + 2, height); y++)
    for (guint x = px > 0 ? px - 1 : 0; x < MIN (px + 2, width); x++, count++)
      for (int k = 0; k < 3; k++)
        lin[k] += linear[rgb[y * stride + 3 * (gsize)x + k]];
  for (int k = 0; k < 3; k++)
    lin[k] /= (float)count;
}

static void
cells_init (Cells *cells, const TracingPicture *picture)
{
  guint width = tracing_picture_get_width (picture);
  guint height = tracing_picture_get_height (picture);
  double size = MAX (1, MAX (width, height) / CELLS);
  float linear[256];
  for (guint i = 0; i < 256; i++)
    linear[i] = shape_linear ((guint8)i);
  cells->columns = (guint)MAX (1, floor (width / size));
  cells->rows = (guint)MAX (1, floor (height / size));
  cells->n = cells->columns * cells->rows;
  cells->border = 1 + MIN (cells->columns, cells->rows) / 20;
  cells->lin = g_new (float, 3 * cells->n);
  cells->log = g_new (float, 3 * cells->n);
  cells->grey = g_new (float, cells->n);
  cells->light = g_new0 (float, cells->n);
  cells->along = g_new (float, cells->n);
  cells->weight = g_new (float, cells->n);
  cells->piece = g_new0 (guint8, cells->n);
  for (guint i = 0; i < cells->n; i++)
    {
      guint x = (guint)((i % cells->columns + 0.5) * width / cells->columns);
      guint y = (guint)((i / cells->columns + 0.5) * height / cells->rows);
      read_patch (picture, linear, MIN (x, width - 1), MIN (y, height - 1),
                  cells->lin + 3 * i);
      for (int k = 0; k < 3; k++)
        cells->log[3 * i + k] = logf (cells->lin[3 * i + k] + FLOOR);
      cells->grey[i]
          = (cells->log[3 * i] + cells->log[3 * i + 1] + cells->log[3 * i + 2])
            / 3;
    }
}

static void
cells_clear (Cells *cells)
{
  g_free (cells->lin);
  g_free (cells->log);
  g_free (cells->grey);
  g_free (cells->light);
  g_free (cells->along);
  g_free (cells->weight);
  g_free (cells->piece);
}

/* --- steps ------------------------------------------------------------------------ */

/* The main axis of the differences of cells two apart, by repeated multiplication. */
static void
find_axis (const Cells *cells, double axis[3])
{
  double m[9] = { 0 };
  for (guint i = 0; i < cells->n; i++)
    for (int way = 0; way < 2; way++)
      {
        guint x = i % cells->columns, y = i / cells->columns;
        if ((way ? y + 2 >= cells->rows : x + 2 >= cells->columns))
          continue;
        const float *a = cells->log + 3 * i;
        const float *b = a + 3 * (way ? 2 * cells->columns : 2);
        double d[3] = { b[0] - a[0], b[1] - a[1], b[2] - a[2] };
        for (int r = 0; r < 9; r++)
          m[r] += d[r / 3] * d[r % 3];
      }
  double v[3] = { 1, 1.1, 0.9 };
  for (int round = 0; round < 60; round++)
    {
      double w[3];
      for (int r = 0; r < 3; r++)
        w[r] = m[3 * r] * v[0] + m[3 * r + 1] * v[1] + m[3 * r + 2] * v[2];
      double n = sqrt (w[0] * w[0] + w[1] * w[1] + w[2] * w[2]);
      if (!(n > 0))
        break;
      for (int r = 0; r < 3; r++)
        v[r] = w[r] / n;
    }
  memcpy (axis, v, sizeof v);
}

static void
lay_along (Cells *cells, const double axis[3])
{
  double all = axis[0] + axis[1] + axis[2];
  for (guint i = 0; i < cells->n; i++)
    cells->along[i]
        = (float)(axis[0] * cells->log[3 * i] + axis[1] * cells->log[3 * i + 1]
                  + axis[2] * cells->log[3 * i + 2] - all * cells->light[i]);
}

/* The k-th of n values in order, by parting them about one of them again and again (C. A. R. Hoare's FIND, 1961); v is
 * mixed up. */
static float
select_one (float *v, guint n, guint k)
{
  guint low = 0, high = n - 1;
  while (low < high)
    {
      float pivot = v[low + (high - low) / 2];
      guint i = low, j = high;
      for (;;)
        {
          while (v[i] < pivot)
            i++;
          while (v[j] > pivot)
            j--;
          if (i >= j)
            break;
          float t = v[i];
          v[i++] = v[j];
          v[j--] = t;
        }
      /* up to j none is above it, from j + 1 on none below */
      if (k <= j)
        high = j;
      else
        low = j + 1;
    }
  return v[k];
}

/* Value below which the share of them lies. */
static void
find_quantiles (const float *v, guint n, const double *share, int count,
                double *value)
{
  guint every = MAX (1, n / 3000), m = 0;
  g_autofree float *some = g_new (float, n / every + 1);
  for (guint i = 0; i < n; i += every)
    some[m++] = v[i];
  for (int k = 0; k < count; k++)
    value[k] = select_one (some, m, MIN (m - 1, (guint)(share[k] * m)));
}

/* Otsu's threshold along the direction; FALSE where all is one. */
static gboolean
split (Cells *cells)
{
  double ends[2], hist[BINS] = { 0 }, total = 0, sum = 0;
  find_quantiles (cells->along, cells->n, (const double[]){ 0.003, 0.997 }, 2,
                  ends);
  double range = ends[1] - ends[0];
  if (!(range > 0.02))
    return FALSE;
  for (guint i = 0; i < cells->n; i++)
    {
      double at = (cells->along[i] - ends[0]) / range * (BINS - 1);
      hist[(guint)CLAMP (at, 0, BINS - 1)]++;
    }
  for (int k = 0; k < BINS; k++)
    {
      total += hist[k];
      sum += k * hist[k];
    }
  double below = 0, low = 0, best = -1, at = BINS / 2;
  for (int k = 0; k + 1 < BINS; k++)
    {
      below += hist[k];
      low += k * hist[k];
      if (!(below > 0) || !(below < total))
        continue;
      double apart = low / below - (sum - low) / (total - below);
      double between = below * (total - below) * apart * apart;
      if (between > best * (1 + 1e-12))
        {
          best = between;
          at = k + 1;
        }
    }
  double cut = ends[0] + at / (BINS - 1) * range;
  for (guint i = 0; i < cells->n; i++)
    cells->piece[i] = cells->along[i] >= cut;
  return TRUE;
}

/* P along cells of weight above 0, each class with a colour of its own; classes
 * is 1 where all count as one. */
static gboolean
fit_light (Cells *cells, int classes, double light[SHAPE_TERMS])
{
  double a[49] = { 0 }, b[7] = { 0 }, t[7];
  int n = SHAPE_TERMS - 1 + classes;
  for (guint i = 0; i < cells->n; i++)
    {
      double w = cells->weight[i];
      if (!(w > 0))
        continue;
      terms (cell_x (cells, i), cell_y (cells, i), t);
      gboolean piece = classes > 1 && cells->piece[i];
      t[0] = piece ? 0 : 1;
      t[6] = piece ? 1 : 0;
      for (int r = 0; r < n; r++)
        {
          double part = w * t[r];
          for (int c = r; c < n; c++)
            a[r * n + c] += part * t[c];
          b[r] += part * cells->grey[i];
        }
    }
  for (int r = 0; r < n; r++)
    for (int c = 0; c < r; c++)
      a[r * n + c] = a[c * n + r];
  for (int r = 0; r < n; r++)
    a[r * n + r] += 1e-6 * (a[0] + 1);
  if (!solve (a, b, n))
    return FALSE;
  /* as a factor that is 1 in the middle of the picture */
  light[0] = 0;
  for (int k = 1; k < SHAPE_TERMS; k++)
    light[k] = b[k];
  ShapeMix mix = { 0 };
  memcpy (mix.light, light, sizeof mix.light);
  for (guint i = 0; i < cells->n; i++)
    cells->light[i]
        = (float)shape_mix_light (&mix, cell_x (cells, i), cell_y (cells, i));
  return TRUE;
}

/* Tukey's weights about each class' median of evened grey. */
static void
weigh (Cells *cells)
{
  for (guint class = 0; class < 2; class ++)
    {
      double middle, spread;
      guint m = 0;
      g_autofree float *v = g_new (float, cells->n + 1);
      for (guint i = 0; i < cells->n; i++)
        if (cells->piece[i] == class)
          v[m++] = cells->grey[i] - cells->light[i];
      if (m == 0)
        continue;
      find_quantiles (v, m, (const double[]){ 0.5 }, 1, &middle);
      for (guint i = 0; i < m; i++)
        v[i] = fabsf (v[i] - (float)middle);
      find_quantiles (v, m, (const double[]){ 0.5 }, 1, &spread);
      double reach = 4.7 * 1.5 * spread + 0.02;
      for (guint i = 0; i < cells->n; i++)
        if (cells->piece[i] == class)
          {
            double u = (cells->grey[i] - cells->light[i] - middle) / reach;
            double w = fabs (u) < 1 ? (1 - u * u) * (1 - u * u) : 0;
            cells->weight[i] = (float)w;
          }
    }
}

/* A cell's colour with the light taken out: of light itself, or of its logarithm. */
static void
even_out (const Cells *cells, guint i, gboolean logs, double colour[3])
{
  double k = logs ? 1 : exp (-cells->light[i]);
  for (int c = 0; c < 3; c++)
    colour[c] = logs ? cells->log[3 * i + c] - cells->light[i]
                     : cells->lin[3 * i + c] * k;
}

/* Means of both classes and the spread within them; FALSE where there is only one. */
static gboolean
gather (const Cells *cells, gboolean logs, double mean[2][3], double within[9])
{
  double count[2] = { 0 }, v[3];
  memset (mean, 0, 6 * sizeof (double));
  memset (within, 0, 9 * sizeof (double));
  for (guint i = 0; i < cells->n; i++)
    {
      even_out (cells, i, logs, v);
      count[cells->piece[i]] += cells->weight[i];
      for (int c = 0; c < 3; c++)
        mean[cells->piece[i]][c] += cells->weight[i] * v[c];
    }
  for (int class = 0; class < 2; class ++)
    for (int c = 0; c < 3; c++)
      mean[class][c] /= MAX (count[class], 1e-9);
  for (guint i = 0; i < cells->n; i++)
    {
      even_out (cells, i, logs, v);
      for (int c = 0; c < 3; c++)
        v[c] -= mean[cells->piece[i]][c];
      for (int r = 0; r < 9; r++)
        within[r] += cells->weight[i] * v[r / 3] * v[r % 3];
    }
  for (int r = 0; r < 9; r++)
    within[r] /= count[0] + count[1] + 1e-9;
  return count[0] > 0.5 && count[1] > 0.5;
}

/* Fisher's direction, from class 0 to class 1; how far apart they are in spreads, squared. */
static double
discriminate (double mean[2][3], const double within[9], double floor,
              double axis[3])
{
  double a[9], d[3], apart = 0;
  memcpy (a, within, sizeof a);
  for (int c = 0; c < 3; c++)
    {
      a[4 * c] += floor * floor;
      axis[c] = d[c] = mean[1][c] - mean[0][c];
    }
  if (!solve (a, axis, 3))
    return 0;
  for (int c = 0; c < 3; c++)
    apart += axis[c] * d[c];
  return apart;
}

/* From where the light seems to be, or from none, to both classes; how well they are apart. */
static double
alternate (Cells *cells, double axis[3], double light[SHAPE_TERMS])
{
  double mean[2][3], within[9], apart = 0;
  for (int round = 0; round < ROUNDS; round++)
    {
      lay_along (cells, axis);
      if (!split (cells))
        return 0;
      weigh (cells);
      if (!fit_light (cells, 2, light))
        return 0;
      weigh (cells);
      if (!gather (cells, TRUE, mean, within))
        return 0;
      apart = discriminate (mean, within, 0.05, axis);
      double n
          = sqrt (axis[0] * axis[0] + axis[1] * axis[1] + axis[2] * axis[2]);
      if (!(n > 0))
        return 0;
      for (int c = 0; c < 3; c++)
        axis[c] /= n;
    }
  return apart;
}

/* The light as the picture's rim tells it, most of which is table. */
static void
start_at_rim (Cells *cells, double light[SHAPE_TERMS])
{
  for (guint i = 0; i < cells->n; i++)
    cells->weight[i] = on_rim (cells, i);
  memset (cells->light, 0, cells->n * sizeof (float));
  for (int round = 0; round < 5; round++)
    {
      if (!fit_light (cells, 1, light))
        return;
      double middle, spread;
      guint m = 0;
      g_autofree float *v = g_new (float, cells->n);
      for (guint i = 0; i < cells->n; i++)
        if (on_rim (cells, i))
          v[m++] = cells->grey[i] - cells->light[i];
      find_quantiles (v, m, (const double[]){ 0.5 }, 1, &middle);
      for (guint i = 0; i < m; i++)
        v[i] = fabsf (v[i] - (float)middle);
      find_quantiles (v, m, (const double[]){ 0.5 }, 1, &spread);
      for (guint i = 0; i < cells->n; i++)
        if (on_rim (cells, i))
          {
            double u = (cells->grey[i] - cells->light[i] - middle)
                       / (5 * spread + 0.03);
            cells->weight[i]
                = (float)(fabs (u) < 1 ? (1 - u * u) * (1 - u * u) : 0);
          }
    }
}

/* Whether class 1 is the table: it has more of the rim, or is not as light (or dark) as asked for. */
static gboolean
is_turned (const Cells *cells, TracingCard card, double mean[2][3])
{
  double bright[2], rim[2] = { 0, 0 };
  for (int k = 0; k < 2; k++)
    bright[k] = mean[k][0] + 2 * mean[k][1] + mean[k][2];
  if (card != TRACING_CARD_ANY)
    return (bright[1] < bright[0]) == (card == TRACING_CARD_LIGHT);
  for (guint i = 0; i < cells->n; i++)
    if (on_rim (cells, i))
      rim[cells->piece[i]]++;
  return rim[1] > rim[0];
}

static void
turn_classes (Cells *cells, double mean[2][3])
{
  for (guint i = 0; i < cells->n; i++)
    cells->piece[i] = !cells->piece[i];
  for (int c = 0; c < 3; c++)
    {
      double t = mean[0][c];
      mean[0][c] = mean[1][c];
      mean[1][c] = t;
    }
}

/* Parts the cells by whether they look like the one at the place rather than like the rim. */
static void
split_like (Cells *cells, const TracingPicture *picture, GeoPoint at)
{
  guint x = (guint)CLAMP (at.x * cells->columns
                              / tracing_picture_get_width (picture),
                          0, cells->columns - 1);
  guint y
      = (guint)CLAMP (at.y * cells->rows / tracing_picture_get_height (picture),
                      0, cells->rows - 1);
  double seed[3], v[3], far[2] = { 0.1, 0.1 };
  even_out (cells, y * cells->columns + x, TRUE, seed);
  g_autofree float *off = g_new (float, cells->n),
                   *rim = g_new (float, cells->n);
  guint m = 0;
  for (guint i = 0; i < cells->n; i++)
    {
      double sum = 0;
      even_out (cells, i, TRUE, v);
      for (int c = 0; c < 3; c++)
        sum += (v[c] - seed[c]) * (v[c] - seed[c]);
      off[i] = (float)sqrt (sum);
      if (on_rim (cells, i))
        rim[m++] = off[i];
    }
  find_quantiles (rim, m, (const double[]){ 0.5 }, 1, far);
  for (guint i = 0; i < cells->n; i++)
    cells->piece[i] = off[i] < 0.5 * far[0];
}

/* The discriminant of light itself, so that it is 0 on the table and 1 on the piece. */
static gboolean
lay_mix (Cells *cells, TracingCard card, gboolean known, ShapeMix *mix)
{
  double mean[2][3], within[9], zero = 0, one = 0, towards = 0;
  if (!gather (cells, FALSE, mean, within))
    return FALSE;
  if (!known && is_turned (cells, card, mean))
    turn_classes (cells, mean);
  for (int c = 0; c < 3; c++)
    towards -= mean[0][c] * (mean[1][c] - mean[0][c]);
  for (int r = 0; r < 9 && towards > 0; r++)
    within[r] += 0.0625 * mean[0][r / 3] * mean[0][r % 3];
  if (!(discriminate (mean, within, 0.01, mix->weight) > 0))
    return FALSE;
  for (int c = 0; c < 3; c++)
    {
      zero += mix->weight[c] * mean[0][c];
      one += mix->weight[c] * mean[1][c];
    }
  double apart = 0;
  for (int c = 0; c < 3; c++)
    apart += fabs (mean[1][c] - mean[0][c]);
  if (!(one - zero > 1e-9) || apart < 0.006)
    return FALSE;
  for (int c = 0; c < 3; c++)
    mix->weight[c] /= one - zero;
  mix->zero = zero / (one - zero);
  return TRUE;
}

static gboolean
find_like (Cells *cells, const TracingPicture *picture, GeoPoint at,
           ShapeMix *mix)
{
  start_at_rim (cells, mix->light);
  split_like (cells, picture, at);
  weigh (cells);
  if (!fit_light (cells, 2, mix->light))
    return FALSE;
  split_like (cells, picture, at);
  weigh (cells);
  return lay_mix (cells, TRACING_CARD_ANY, TRUE, mix);
}

static gboolean
find_any (Cells *cells, TracingCard card, ShapeMix *mix)
{
  double first[3], axis[3], flat[SHAPE_TERMS] = { 0 };
  find_axis (cells, first);
  memcpy (axis, first, sizeof axis);
  double even = alternate (cells, axis, flat);
  memcpy (axis, first, sizeof axis);
  start_at_rim (cells, mix->light);
  double uneven = alternate (cells, axis, mix->light);
  /* mostly both come to the same */
  if (even > 1.02 * uneven)
    {
      memset (cells->light, 0, cells->n * sizeof (float));
      memcpy (axis, first, sizeof axis);
      alternate (cells, axis, mix->light);
    }
  return fmax (even, uneven) > 0 && lay_mix (cells, card, FALSE, mix);
}

gboolean
shape_mix_find (const TracingPicture *picture, TracingCard card,
                const GeoPoint *at, ShapeMix *mix)
{
  Cells cells;
  *mix = (ShapeMix){ 0 };
  cells_init (&cells, picture);
  gboolean found = at != NULL ? find_like (&cells, picture, *at, mix)
                              : find_any (&cells, card, mix);
  cells_clear (&cells);
  return found;
}
