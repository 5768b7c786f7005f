/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From thinned strokes to their middle, to a part of a pixel.
 *
 * Light is read on short lines across; what is darker than half way to the paper on both sides is the stroke, and its centre of
 * gravity the middle. Where a reading is wider than the stroke's own (another meets it there), it is passed over. */
#include "tracing/stroke-private.h"

#include <math.h>

#define STEP 0.5
#define MOST 160

static const double grey[3] = { 0.25, 0.6, 0.15 };

typedef struct
{
  GeoPoint was, at; /* px */
  double width;     /* px; 0: not seen */
  gboolean bridged;
} Spot;

/* Evenly along the trail, smoothed over `about` px, so that its steps from cell to cell go. */
static GArray *
lay_spots (const StrokeTrail *trail, double spacing, double about)
{
  const GeoPoint *p = (const GeoPoint *)(gpointer)trail->points->data;
  gsize n = trail->points->len;
  GArray *spots = g_array_new (FALSE, FALSE, sizeof (Spot));
  g_autofree double *along = g_new (double, n + 2);
  along[0] = 0;
  for (gsize i = 1; i <= n; i++)
    along[i] = along[i - 1] + geo_distance (p[i - 1], p[i % n]);
  double all = along[trail->closed ? n : n - 1];
  gsize m = (gsize)CLAMP (all / spacing, 4, 40000), from = 0;
  for (gsize k = 0; k < m + (trail->closed ? 0 : 1); k++)
    {
      double s = all * (double)k / (double)m;
      while (from + 1 < n && along[from + 1] < s)
        from++;
      Spot spot = { .bridged = trail->bridged->data[from]
                               || trail->bridged->data[(from + 1) % n] };
      double reach = trail->closed ? about : fmin (about, fmin (s, all - s));
      GeoPoint sum = { 0, 0 };
      gsize i = from;
      for (gint j = -4; j <= 4; j++)
        {
          double t = s + 0.25 * j * reach;
          if (trail->closed)
            t -= all * floor (t / all);
          if (t < along[i] || t > along[i] + 4 * about)
            i = t < s ? 0 : from;
          if (t < along[i])
            i = 0;
          while (i + 1 < n && along[i + 1] < t)
            i++;
          double step = along[i + 1] - along[i];
          sum = geo_add (sum, geo_lerp (p[i], p[(i + 1) % n],
                                        step > 0 ? (t - along[i]) / step : 0));
        }
      spot.was = spot.at = geo_scale (sum, 1.0 / 9);
      g_array_append_val (spots, spot);
    }
  return spots;
}

/* The stroke's middle on a reading, in steps; its width in steps, or 0. */
static double
middle_of (const double *v, gint n, double *width)
{
  gint i = n / 2, near = n / 6;
  double left = 0, right = 0, sum = 0, first = 0;
  for (gint k = MAX (0, n / 2 - near); k <= MIN (n - 1, n / 2 + near); k++)
    if (v[k] < v[i])
      i = k;
  for (gint k = 0; k < n; k++)
    if (k < i)
      left = fmax (left, v[k]);
    else
      right = fmax (right, v[k]);
  double level = 0.5 * (v[i] + fmin (left, right));
  gint a = i, b = i;
  *width = 0;
  if (level - v[i] < 0.008)
    return n / 2;
  while (a > 0 && v[a - 1] < level)
    a--;
  while (b + 1 < n && v[b + 1] < level)
    b++;
  if (a == 0 || b == n - 1)
    return n / 2;
  for (gint k = a; k <= b; k++)
    {
      sum += level - v[k];
      first += (level - v[k]) * k;
    }
  /* where it crosses the level on both sides */
  double from = a - (level - v[a]) / (v[a - 1] - v[a]);
  double to = b + (level - v[b]) / (v[b + 1] - v[b]);
  *width = to - from;
  return 0.5 * first / sum + 0.25 * (from + to);
}

static int
compare (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double
median_width (const GArray *spots, guint *seen)
{
  g_autofree double *all = g_new (double, spots->len + 1);
  *seen = 0;
  for (guint i = 0; i < spots->len; i++)
    if (g_array_index (spots, Spot, i).width > 0)
      all[(*seen)++] = g_array_index (spots, Spot, i).width;
  qsort (all, *seen, sizeof *all, compare);
  return *seen > 0 ? all[*seen / 2] : 0;
}

static GeoPoint
direction (const GArray *spots, gboolean closed, guint i)
{
  guint n = spots->len;
  guint a = i >= 1 ? i - 1 : closed ? n - 1 : 0;
  guint b = i + 1 < n ? i + 1 : closed ? 0 : n - 1;
  return geo_unit (geo_sub (g_array_index (spots, Spot, b).was,
                            g_array_index (spots, Spot, a).was));
}

static void
read_spots (const TracingView *view, GArray *spots, gboolean closed,
            double half)
{
  gint n = (gint)CLAMP (2 * half / STEP, 12, MOST) | 1;
  double v[MOST + 2];
  for (guint i = 0; i < spots->len; i++)
    {
      Spot *spot = &g_array_index (spots, Spot, i);
      GeoPoint along = direction (spots, closed, i);
      GeoPoint across = geo_left (along);
      if (spot->bridged || geo_norm (along) < 0.5)
        continue;
      GeoPoint from = geo_along (spot->was, across, -(n / 2) * STEP);
      tracing_view_profile (view, from, across, STEP, (guint)n, along, 1, grey,
                            v);
      double at = middle_of (v, n, &spot->width);
      spot->width *= STEP;
      spot->at = geo_along (spot->was, across, (at - n / 2) * STEP);
    }
}

/* A free end: on from the last good places as far as it is dark. */
static GeoPoint
find_tip (const TracingView *view, GeoPoint from, GeoPoint out, double far)
{
  double v[MOST + 2];
  gint n = (gint)CLAMP (far / STEP, 4, MOST), i = 0;
  tracing_view_profile (view, from, out, STEP, (guint)n, geo_left (out), 0,
                        grey, v);
  double light = 0;
  for (gint k = 0; k < n; k++)
    light = fmax (light, v[k]);
  double level = 0.5 * (v[0] + light);
  while (i + 1 < n && v[i + 1] < level)
    i++;
  if (i + 1 >= n)
    return from;
  return geo_along (from, out, STEP * (i + (level - v[i]) / (v[i + 1] - v[i])));
}

static void
end_points (const TracingView *view, const StrokeTrail *trail, GArray *points,
            double width)
{
  for (guint e = 0; e < 2 && points->len >= 6; e++)
    {
      GeoPoint *p = (GeoPoint *)(gpointer)points->data;
      guint n = points->len, k = MIN (5, n - 1);
      GeoPoint was = e == 0 ? g_array_index (trail->points, GeoPoint, 0)
                            : g_array_index (trail->points, GeoPoint,
                                             trail->points->len - 1);
      GeoPoint last = e == 0 ? p[0] : p[n - 1];
      GeoPoint out = geo_unit (geo_sub (last, e == 0 ? p[k] : p[n - 1 - k]));
      GeoPoint tip = trail->free_end[e]
                         ? find_tip (view, last, out, 4 * width + 6)
                         : was;
      if (geo_distance (tip, last) < 0.2)
        continue;
      if (e == 0)
        g_array_prepend_val (points, tip);
      else
        g_array_append_val (points, tip);
    }
}

#define SIDE 6 /* places that tell where a side heads */

/* Straight on from SIDE places, towards the last (or, by step -1, the first). */
static void
side_line (const GeoPoint *p, gint step, GeoPoint *on, GeoPoint *way)
{
  GeoPoint half[2] = { { 0, 0 }, { 0, 0 } };
  for (guint i = 0; i < SIDE; i++)
    half[i >= SIDE / 2] = geo_add (half[i >= SIDE / 2], p[i]);
  *on = geo_scale (half[step > 0], 2.0 / SIDE);
  *way = geo_unit (geo_scale (geo_sub (half[1], half[0]), step));
}

/* Where nothing good was read between two sides, for their ink runs together there: by way of the place both head for. */
static void
add_corner (GArray *points, const GArray *spots, const gboolean *good, guint i,
            double own)
{
  GeoPoint after[SIDE], p, u, q, w;
  guint n = spots->len;
  for (guint k = 0; k < SIDE; k++)
    {
      if (!good[(i + k) % n])
        return;
      after[k] = g_array_index (spots, Spot, (i + k) % n).at;
    }
  if (points->len < SIDE)
    return;
  const GeoPoint *before
      = &g_array_index (points, GeoPoint, points->len - SIDE);
  GeoPoint last = before[SIDE - 1];
  side_line (before, 1, &p, &u);
  side_line (after, -1, &q, &w);
  double cross = geo_cross (u, w);
  /* headings that are nearly opposite go straight on */
  if (fabs (cross) < 0.1 || geo_dot (u, w) < -0.9)
    return;
  GeoPoint tip = geo_along (p, u, geo_cross (geo_sub (q, p), w) / cross);
  double most = 10 * own + 2;
  if (geo_dot (geo_sub (tip, last), u) <= 0
      || geo_dot (geo_sub (tip, after[0]), w) <= 0
      || geo_distance (tip, last) > most || geo_distance (tip, after[0]) > most)
    return;
  double step = fmax (geo_distance (before[0], last) / (SIDE - 1), 0.5);
  guint a = (guint)(geo_distance (last, tip) / step);
  guint b = (guint)(geo_distance (after[0], tip) / step);
  for (guint k = 1; k <= a; k++)
    {
      GeoPoint at = geo_lerp (last, tip, k / (a + 1.0));
      g_array_append_val (points, at);
    }
  g_array_append_val (points, tip);
  for (guint k = 1; k <= b; k++)
    {
      GeoPoint at = geo_lerp (tip, after[0], k / (b + 1.0));
      g_array_append_val (points, at);
    }
}

/* A few good places between bad ones are good by chance. */
static void
drop_short (gboolean *good, guint n)
{
  guint from = 0;
  for (guint i = 0; i <= n && n > 6 * SIDE; i++)
    {
      if (i < n && good[i])
        continue;
      if (i - from < SIDE && from > 0 && i < n)
        for (guint k = from; k < i; k++)
          good[k] = FALSE;
      from = i + 1;
    }
}

/* In a closed line, a place among good ones to begin at. */
static guint
find_start (const gboolean *good, guint n)
{
  guint run = 0;
  for (guint i = 0; i < 2 * n; i++)
    {
      run = good[i % n] ? run + 1 : 0;
      if (run == 2 * SIDE)
        return (i + n - SIDE) % n;
    }
  return 0;
}

/* The good places in order: seen, as wide as the stroke, away from the ends. */
static GArray *
take_spots (const GArray *spots, gboolean closed, double own)
{
  guint n = spots->len, bad = 0;
  GArray *points = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  g_autofree gboolean *good = g_new (gboolean, n + 1);
  GeoPoint head = g_array_index (spots, Spot, 0).was;
  GeoPoint tail = g_array_index (spots, Spot, n - 1).was;
  for (guint i = 0; i < n; i++)
    {
      const Spot *spot = &g_array_index (spots, Spot, i);
      good[i] = spot->bridged
                || (spot->width > 0.35 * own && spot->width < 1.35 * own
                    && geo_distance (spot->at, spot->was) < own + 1);
      if (!closed)
        good[i] = good[i] && geo_distance (spot->was, head) >= own
                  && geo_distance (spot->was, tail) >= own;
    }
  drop_short (good, n);
  guint start = closed ? find_start (good, n) : 0;
  for (guint k = 0; k < n; k++)
    {
      guint i = (start + k) % n;
      if (good[i])
        {
          if (bad > 0)
            add_corner (points, spots, good, i, own);
          g_array_append_val (points, g_array_index (spots, Spot, i).at);
        }
      bad = good[i] ? 0 : bad + 1;
    }
  return points;
}

GArray *
stroke_centre (const TracingView *view, const TracingPlane *plane,
               const StrokeTrail *trail, double spacing, double widest,
               double *width)
{
  double dots = tracing_plane_dots (
      plane, g_array_index (trail->points, GeoPoint, trail->points->len / 2));
  g_autoptr (GArray) spots = lay_spots (trail, spacing, fmax (2, 0.6 * dots));
  guint seen;
  read_spots (view, spots, trail->closed, 0.8 * widest + 5);
  double own = median_width (spots, &seen);
  /* once more, from nearer and no wider than need be */
  for (guint i = 0; i < spots->len; i++)
    g_array_index (spots, Spot, i).width = 0;
  read_spots (view, spots, trail->closed, fmin (1.5 * own + 5, widest + 5));
  own = median_width (spots, &seen);
  *width = own / dots;
  if (2 * seen < spots->len || own > 1.3 * widest)
    return NULL;
  GArray *points = take_spots (spots, trail->closed, own);
  if (!trail->closed)
    end_points (view, trail, points, own);
  for (guint i = 0; i < points->len; i++)
    {
      GeoPoint *p = &g_array_index (points, GeoPoint, i);
      *p = tracing_plane_to_mm (plane, *p);
    }
  return points;
}
