/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the edge is, to a part of a pixel.
 *
 * The map is read across the loop, a line of values from the piece out over the table, each the mean of a few beside each
 * other along the loop. The edge is where it falls fastest (and not where it has fallen below some level: a
 * shadow's slow fall beside it doesn't count), and its place is where the value is half way between what the piece is just
 * inside of it and what the table, shadow and all, is just outside. A lens blurs an edge evenly to both sides, so that the
 * half-way place is true on straight edges whatever the blur; on one of radius r it is off by about sigma^2 / 2 r, a
 * hundredth of a pixel.
 *
 * Places whose edge lies apart from their neighbours' (a line of the table that meets the piece, a mark on the
 * card) are looked for again near those, and told off by weight where piece or table are not of their neighbours' kind.
 */
#include "tracing/shape-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FINE 2   /* values a px */
#define MOST 160 /* values either side */
#define LEAST_FALL (0.2 * SHAPE_SPAN)
#define BESIDE 7 /* neighbours asked, either way */
#define ODD (0.08 * SHAPE_SPAN)

typedef struct
{
  GeoPoint at, out; /* the normal away from the piece */
  gboolean rim;
  double t; /* px along out */
  double in, beyond, slope;
  double weight;
} Spot;

typedef struct
{
  const ShapeMap *map;
  double spacing;
  double sigma; /* of the edge, px */
  int reach;    /* values either side of the spot */
} Look;

/* --- the line along which is looked ------------------------------------------------ */

/* Means of neighbours with Gaussian weights, round and round. */
static void
smooth_round (const GeoPoint *from, GeoPoint *to, guint n, double sigma)
{
  int r = (int)ceil (2.5 * sigma);
  double weight[64];
  r = MIN (r, 31);
  for (int k = 0; k <= r; k++)
    weight[k] = exp (-0.5 * k * k / (sigma * sigma));
  for (guint i = 0; i < n; i++)
    {
      GeoPoint sum = from[i];
      double all = 1;
      for (int k = 1; k <= r; k++)
        {
          guint a = (i + (guint)k) % n;
          guint b = (i + n * (1 + (guint)k / n) - (guint)k) % n;
          sum = geo_along (sum, geo_add (from[a], from[b]), weight[k]);
          all += 2 * weight[k];
        }
      to[i] = geo_scale (sum, 1 / all);
    }
}

/* Evenly spaced spots along a closed line. */
static GArray *
space_out (const GeoPoint *q, const guint8 *rim, guint n, double spacing)
{
  GArray *spots = g_array_new (FALSE, TRUE, sizeof (Spot));
  double length = 0, done = 0;
  for (guint i = 0; i < n; i++)
    length += geo_distance (q[i], q[(i + 1) % n]);
  guint count = (guint)MAX (8, lround (length / spacing));
  double step = length / count, next = 0;
  for (guint i = 0; i < n && spots->len < count; i++)
    {
      GeoPoint a = q[i], b = q[(i + 1) % n];
      double l = geo_distance (a, b);
      while (next <= done + l && spots->len < count && l > 0)
        {
          Spot spot = { .at = geo_lerp (a, b, (next - done) / l) };
          spot.rim = rim != NULL && (rim[i] || rim[(i + 1) % n]);
          g_array_append_val (spots, spot);
          next = spots->len * step;
        }
      done += l;
    }
  return spots;
}

static void
turn_out (GArray *spots)
{
  Spot *s = (Spot *)(gpointer)spots->data;
  for (guint n = spots->len, i = 0; i < n; i++)
    {
      GeoPoint along = geo_sub (s[(i + 2) % n].at, s[(i + n - 2) % n].at);
      along = geo_unit (along);
      s[i].out = geo_point (along.y, -along.x);
    }
}

/* --- across it ------------------------------------------------------------------------ */

static inline float
sample (const ShapeMap *map, double x, double y)
{
  x = CLAMP (x - 0.5, 0, map->width - 1.001);
  y = CLAMP (y - 0.5, 0, map->height - 1.001);
  guint i = (guint)x, j = (guint)y;
  float u = (float)(x - i), v = (float)(y - j);
  const guint8 *p = map->at + (gsize)j * map->width + i;
  gsize down = j + 1 < map->height ? map->width : 0, right = i + 1 < map->width;
  float top = (float)p[0] + u * (float)(p[right] - p[0]);
  float foot = (float)p[down] + u * (float)(p[down + right] - p[down]);
  return top + v * (foot - top);
}

static void
read_across (const Look *look, const Spot *spot, float *f)
{
  int lines = (int)CLAMP (lround (look->spacing), 3, 9);
  memset (f, 0, sizeof *f * (gsize)(2 * look->reach + 1));
  for (int k = 0; k < lines; k++)
    {
      double aside = look->spacing * ((k + 0.5) / lines - 0.5);
      GeoPoint p = geo_along (spot->at, geo_left (spot->out), aside);
      for (int i = -look->reach; i <= look->reach; i++)
        f[i + look->reach] += sample (look->map, p.x + spot->out.x * i / FINE,
                                      p.y + spot->out.y * i / FINE);
    }
  for (int i = 0; i <= 2 * look->reach; i++)
    f[i] /= (float)lines;
}

/* The value at which the line falls fastest, from..to; -1 where it nowhere falls enough. */
static int
find_fall (const Look *look, const float *f, int from, int to, int wide)
{
  int best = -1;
  double most = 0, half = 0.5 * (to - from) + 1, middle = 0.5 * (from + to);
  from = MAX (from, wide);
  to = MIN (to, 2 * look->reach - wide);
  for (int i = from; i <= to; i++)
    {
      double fall = f[i - wide] - f[i + wide], off = (i - middle) / half;
      fall *= 1 - 0.3 * off * off;
      if (fall > most)
        {
          most = fall;
          best = i;
        }
    }
  return most > LEAST_FALL ? best : -1;
}

static double
mean (const float *f, int from, int to, int end)
{
  double sum = 0;
  from = CLAMP (from, 0, end);
  to = CLAMP (to, from, end);
  for (int i = from; i <= to; i++)
    sum += f[i];
  return sum / (to - from + 1);
}

/* The half-way place about the fall at value i. */
static void
measure (const Look *look, const float *f, int i, Spot *spot)
{
  int end = 2 * look->reach, wide = MAX (1, (int)lround (look->sigma));
  int off = (int)lround (FINE * (2.1 * look->sigma + 0.4)), long_ = 2 * FINE;
  spot->in = mean (f, i - off - long_, i - off, end);
  spot->beyond = mean (f, i + off, i + off + long_, end);
  double half = 0.5 * (spot->in + spot->beyond);
  int a = CLAMP (i - wide, 0, end), b = CLAMP (i + wide, 0, end);
  spot->slope = FINE * (f[a] - f[b]) / (double)(b - a);
  int k = i;
  while (k > 0 && f[k] < half)
    k--;
  while (k + 1 < end && f[k + 1] >= half)
    k++;
  double fall = f[k] - f[k + 1];
  double t = fall > 0 ? (f[k] - half) / fall : 0.5;
  spot->t = (k + CLAMP (t, 0, 1) - look->reach) / FINE;
  spot->weight = spot->in - spot->beyond > LEAST_FALL && abs (k - i) <= off;
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

typedef double (*Tell) (const Spot *spot);
static double
tell_t (const Spot *spot)
{
  return spot->t;
}
static double
tell_in (const Spot *spot)
{
  return spot->in;
}
static double
tell_beyond (const Spot *spot)
{
  return spot->beyond;
}

/* Of the neighbours that were seen; NAN where too few were. */
static double
median (const Spot *s, guint n, guint i, int beside, Tell tell)
{
  double v[64];
  int m = 0;
  for (int k = -beside; k <= beside; k++)
    {
      const Spot *spot = &s[(i + n * 8 + (guint)(k + 0)) % n];
      if (spot->weight > 0)
        v[m++] = tell (spot);
    }
  if (m < 3)
    return NAN;
  qsort (v, (gsize)m, sizeof *v, compare);
  return v[m / 2];
}

/* What lies apart from its neighbours is looked for near them. */
static void
look_again (const Look *look, GArray *spots)
{
  Spot *s = (Spot *)(gpointer)spots->data;
  guint n = spots->len;
  g_autofree double *middle = g_new (double, n);
  double apart = 1.2 + 0.5 * look->spacing;
  float f[2 * MOST + 1];
  for (guint i = 0; i < n; i++)
    middle[i] = median (s, n, i, BESIDE, tell_t);
  for (guint i = 0; i < n; i++)
    {
      if (s[i].rim || isnan (middle[i])
          || (s[i].weight > 0 && fabs (s[i].t - middle[i]) < apart))
        continue;
      int at = (int)lround (FINE * middle[i]) + look->reach;
      read_across (look, &s[i], f);
      int near = (int)lround (FINE * apart);
      int fall = find_fall (look, f, at - near, at + near, FINE);
      if (fall >= 0)
        measure (look, f, fall, &s[i]);
      if (fall < 0 || fabs (s[i].t - middle[i]) > 1.3 * apart)
        {
          s[i].t = middle[i];
          s[i].weight = 0;
        }
    }
}

static void
tell_off (GArray *spots)
{
  Spot *s = (Spot *)(gpointer)spots->data;
  guint n = spots->len;
  g_autofree guint8 *odd = g_malloc0 (n);
  for (guint i = 0; i < n; i++)
    if (s[i].weight > 0)
      {
        double in = median (s, n, i, 15, tell_in);
        double beyond = median (s, n, i, 15, tell_beyond);
        odd[i] = fabs (s[i].in - in) > ODD || fabs (s[i].beyond - beyond) > ODD;
      }
  for (guint i = 0; i < n; i++)
    if (odd[i])
      s[i].weight = 0;
}

static void
look_across (Look *look, GArray *spots, double far)
{
  float f[2 * MOST + 1];
  look->reach = (int)MIN (MOST, ceil (FINE * (far + 2.1 * look->sigma + 3)));
  int within = (int)ceil (FINE * far);
  for (guint i = 0; i < spots->len; i++)
    {
      Spot *spot = &g_array_index (spots, Spot, i);
      if (spot->rim)
        {
          spot->weight = 1;
          continue;
        }
      read_across (look, spot, f);
      int fall
          = find_fall (look, f, look->reach - within, look->reach + within, 3);
      if (fall >= 0)
        measure (look, f, fall, spot);
    }
  look_again (look, spots);
}

/* Sigma of the edge by the median of height over slope: (in - beyond) / (slope sqrt (2 pi)). */
static double
find_sigma (const GArray *spots, double before)
{
  g_autofree double *v = g_new (double, spots->len + 1);
  guint m = 0;
  for (guint i = 0; i < spots->len; i++)
    {
      const Spot *s = &g_array_index (spots, Spot, i);
      if (s->weight > 0 && !s->rim && s->slope > 0)
        v[m++] = (s->in - s->beyond) / (s->slope * sqrt (2 * G_PI));
    }
  if (m < 5)
    return before;
  qsort (v, m, sizeof *v, compare);
  return CLAMP (v[m / 2], 0.4, 6);
}

static void
move_out (GArray *spots)
{
  for (guint i = 0; i < spots->len; i++)
    {
      Spot *s = &g_array_index (spots, Spot, i);
      if (!s->rim)
        s->at = geo_along (s->at, s->out, s->t);
      s->t = 0;
    }
}

/* The line through the places found, a little smoothed, spaced out afresh. */
static GArray *
line_through (GArray *spots, double spacing)
{
  guint n = spots->len;
  g_autofree GeoPoint *q = g_new (GeoPoint, n), *r = g_new (GeoPoint, n);
  g_autofree guint8 *rim = g_new (guint8, n);
  for (guint i = 0; i < n; i++)
    {
      q[i] = g_array_index (spots, Spot, i).at;
      rim[i] = (guint8)g_array_index (spots, Spot, i).rim;
    }
  smooth_round (q, r, n, 1.0);
  return space_out (r, rim, n, spacing);
}

GArray *
shape_edge_places (const ShapeMap *map, const ShapeLoop *loop, guint shrink,
                   double spacing, double *blur)
{
  guint n = loop->points->len;
  Look look = { map, spacing, 1.2, 0 };
  g_autofree GeoPoint *q = g_new (GeoPoint, n);
  smooth_round ((const GeoPoint *)(gpointer)loop->points->data, q, n, 1.2);
  g_autoptr (GArray) first
      = space_out (q, (const guint8 *)loop->outside->data, n, spacing);
  turn_out (first);
  look_across (&look, first, 1.7 * shrink + 3);
  look.sigma = find_sigma (first, look.sigma);
  move_out (first);
  g_autoptr (GArray) spots = line_through (first, spacing);
  turn_out (spots);
  look_across (&look, spots, 2 + look.sigma + 0.8 * spacing);
  look.sigma = *blur = find_sigma (spots, look.sigma);
  tell_off (spots);
  move_out (spots);
  GArray *places
      = g_array_sized_new (FALSE, FALSE, sizeof (ShapePlace), spots->len);
  for (guint i = 0; i < spots->len; i++)
    {
      const Spot *s = &g_array_index (spots, Spot, i);
      ShapePlace place = { s->at, s->weight };
      g_array_append_val (places, place);
    }
  return places;
}
