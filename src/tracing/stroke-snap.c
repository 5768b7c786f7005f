/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves and places drawn to what a picture shows near them.
 *
 * Light is read on short lines across the curve. Each place of such a line is scored by how much darker than both its sides it
 * is (a stroke), or by how steeply light changes there (an edge); the path from reading to reading with the best sum, steps
 * sideways counted against it, is found exactly (R. Bellman's dynamic programming). It is then put in the
 * middle of the stroke or the rise.
 */
#include <math.h>
#include <string.h>

#include "geometry/fit-points.h"
#include "geometry/length.h"
#include "geometry/nearest.h"
#include "tracing/profile.h"
#include "tracing/stroke.h"

#define STEP 0.5      /* px along a reading */
#define MOST_K 400    /* values of a reading */
#define MOST_READ 600 /* readings of a run */
#define LEAST 0.03  /* of the light between black and white: less is not seen */
#define STRONG 0.2  /* more counts no more */
#define CORNER 0.35 /* radians */
#define SIDEWAYS 3  /* steps from reading to reading at most */
#define STROKE_PX 12 /* how far to each side paper is looked for, px at most */

static const double grey[3] = { 0.25, 0.6, 0.15 };

/* --- scores ---------------------------------------------------------------------- */
/* How much darker than the lightest on both sides, near by. */
static double
line_score (const double *v, guint n, guint i)
{
  guint w = (guint)(STROKE_PX / STEP);
  double left = 0, right = 0;
  for (guint k = 1; k <= w; k++)
    {
      left = fmax (left, i >= k ? v[i - k] : 0);
      right = fmax (right, i + k < n ? v[i + k] : 0);
    }
  return fmin (left, right) - v[i];
}

static double
edge_score (const double *v, guint n, guint i)
{
  guint w = (guint)(1.5 / STEP);
  return i < w || i + w >= n ? 0 : fabs (v[i + w] - v[i - w]);
}

static int
by_size (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* What counts as seen: seven times what half of the values differ by from the next pixel's, since noise
 * alone makes a lightest and a darkest one. */
static double
least_score (const double *v, guint n)
{
  double steps[MOST_K];
  guint apart = (guint)(1 / STEP);
  if (n <= apart)
    return LEAST;
  for (guint k = 0; k + apart < n; k++)
    steps[k] = fabs (v[k + apart] - v[k]);
  qsort (steps, n - apart, sizeof *steps, by_size);
  return fmax (LEAST, 7 * steps[(n - apart) / 2]);
}

static double
score_at (const double *v, guint n, guint i, TracingSnap to)
{
  double line = to == TRACING_TO_EDGE ? 0 : line_score (v, n, i);
  double edge = to == TRACING_TO_LINE ? 0 : edge_score (v, n, i);
  return fmax (line, 0.7 * edge);
}

/* The middle of the dark about i, by what is below half its depth. */
static double
line_middle (const double *v, guint n, guint i, double depth)
{
  double level = v[i] + 0.6 * depth, sum = 0, first = 0;
  guint from = i, to = i;
  while (from > 0 && v[from - 1] < level)
    from--;
  while (to + 1 < n && v[to + 1] < level)
    to++;
  for (guint k = from; k <= to; k++)
    {
      sum += level - v[k];
      first += (level - v[k]) * k;
    }
  return sum > 0 ? first / sum : i;
}

static double
edge_middle (const double *v, guint n, guint i)
{
  guint w = (guint)(4 / STEP), from = i > w ? i - w : 0;
  guint to = MIN (i + w, n - 1), best = i;
  double sum = 0, first = 0;
  double sign = v[to] > v[from] ? 1 : -1;
  for (guint k = from; k < to; k++)
    {
      double d = fmax (sign * (v[k + 1] - v[k]), 0);
      sum += d * d;
      first += d * d * (k + 0.5);
    }
  return sum > 0 ? first / sum : best;
}

static double
middle_at (const double *v, guint n, guint i, TracingSnap to)
{
  double line = line_score (v, n, i), edge = edge_score (v, n, i);
  gboolean is_line = to == TRACING_TO_LINE
                     || (to == TRACING_TO_EITHER && line >= 0.7 * edge);
  return is_line ? line_middle (v, n, i, line) : edge_middle (v, n, i);
}

/* --- a run between corners --------------------------------------------------------- */
typedef struct
{
  GeoPoint was, at; /* mm */
  GeoPoint normal;  /* mm */
  gboolean seen;
} Reading;

typedef struct
{
  TracingView view;
  const TracingPlane *plane;
  TracingSnap to;
  double reach;
} Snapping;

/* How many values a reading has, so that each is half a pixel from the next at this place. */
static guint
count_values (const Snapping *s, GeoPoint at)
{
  double dots
      = tracing_plane_dots (s->plane, tracing_plane_to_px (s->plane, at));
  double half = s->reach + fmin (2.5, STROKE_PX / fmax (dots, 0.1));
  return (guint)CLAMP (2 * half * dots / STEP, 8, MOST_K);
}

/* Light across the place, n values; returns how far one is from the next, mm. */
static double
read_across (const Snapping *s, const Reading *r, guint n, double *v)
{
  double dots
      = tracing_plane_dots (s->plane, tracing_plane_to_px (s->plane, r->was));
  double margin = fmin (2.5, STROKE_PX / fmax (dots, 0.1)); /* paper beyond */
  double step = 2 * (s->reach + margin) / n;
  for (guint k = 0; k < n; k++)
    {
      double light[3], sum = 0;
      for (int j = -1; j <= 1; j++)
        {
          GeoPoint mm
              = geo_along (r->was, r->normal, (k + 0.5 - 0.5 * n) * step);
          mm = geo_along (mm, geo_left (r->normal), j / dots);
          tracing_view_light (&s->view, tracing_plane_to_px (s->plane, mm),
                              light);
          for (guint c = 0; c < 3; c++)
            sum += light[c] * grey[c];
        }
      v[k] = sum / 3;
    }
  return step;
}

/* The best path through the scores; path gets an index a reading. */
static void
best_path (const float *score, guint m, guint n, guint16 *path)
{
  g_autofree float *sum = g_new (float, (gsize)m *n);
  g_autofree gint8 *from = g_new0 (gint8, (gsize)m * n);
  memcpy (sum, score, n * sizeof *sum);
  for (guint i = 1; i < m; i++)
    for (guint k = 0; k < n; k++)
      {
        float best = -1e30f;
        for (int d = -SIDEWAYS; d <= SIDEWAYS; d++)
          {
            int j = (int)k + d;
            if (j < 0 || j >= (int)n)
              continue;
            float now = sum[(i - 1) * n + (guint)j] - 0.02f * (float)(d * d);
            if (now > best)
              {
                best = now;
                from[i * n + k] = (gint8)d;
              }
          }
        sum[i * n + k] = best + score[i * n + k];
      }
  guint at = 0;
  for (guint k = 1; k < n; k++)
    if (sum[(m - 1) * n + k] > sum[(m - 1) * n + at])
      at = k;
  for (guint i = m; i-- > 0;)
    {
      path[i] = (guint16)at;
      at = (guint)((int)at + from[i * n + at]);
    }
}

static void
snap_run (const Snapping *s, Reading *r, guint m)
{
  guint n = count_values (s, r[0].was);
  g_autofree double *v = g_new (double, (gsize)m *(MOST_K + 1));
  g_autofree double *steps = g_new (double, m);
  g_autofree float *score = g_new0 (float, (gsize)m *n);
  g_autofree guint16 *path = g_new (guint16, m);
  g_autofree double *least = g_new (double, m);
  for (guint i = 0; i < m; i++)
    {
      double *row = v + (gsize)i * (MOST_K + 1);
      steps[i] = read_across (s, &r[i], n, row);
      least[i] = least_score (row, n);
      for (guint k = 0; k < n; k++)
        {
          double off = fabs ((k + 0.5 - 0.5 * n) * steps[i]) / s->reach;
          double what = score_at (row, n, k, s->to);
          score[(gsize)i * n + k]
              = off > 1
                    ? -1.0f
                    : (float)((what < least[i] ? 0 : fmin (what / STRONG, 1))
                              - 0.1 * off * off);
        }
    }
  best_path (score, m, n, path);
  for (guint i = 0; i < m; i++)
    {
      const double *row = v + (gsize)i * (MOST_K + 1);
      r[i].seen = score_at (row, n, path[i], s->to) >= least[i];
      double at = r[i].seen ? middle_at (row, n, path[i], s->to) : path[i];
      double off = CLAMP ((at + 0.5 - 0.5 * n) * steps[i], -s->reach, s->reach);
      r[i].at = geo_along (r[i].was, r[i].normal, off);
    }
}

/* Readings along cubics first to last - 1, evenly. */
static guint
lay_readings (const GeoChain *part, double spacing, Reading *r)
{
  double length = geo_chain_length (part, 1e-4);
  guint m = (guint)CLAMP (length / spacing, 5, MOST_READ);
  guint found = 0;
  double gone = 0;
  for (size_t c = 0; c < part->count; c++)
    {
      double own = geo_cubic_length (&part->cubics[c], 1e-4);
      for (; found < m && (found + 0.5) * length / m <= gone + own; found++)
        {
          double t = own > 0 ? ((found + 0.5) * length / m - gone) / own : 0;
          GeoPlace place = { c, CLAMP (t, 0, 1) };
          r[found] = (Reading){ .was = geo_chain_point (part, place) };
          r[found].at = r[found].was;
          r[found].normal = geo_left (geo_chain_tangent (part, place));
        }
      gone += own;
    }
  return found;
}

/* --- runs put together ----------------------------------------------------------- */
typedef struct
{
  GArray *points; /* what was seen, mm */
  GeoPoint start, end;
  GeoPoint off_start, off_end; /* how far its ends were moved */
} Run;

/* Straight on from the seen places nearest an end: a place and a direction. */
static gboolean
end_line (const GArray *points, gboolean at_end, GeoPoint *on, GeoPoint *way)
{
  guint n = points->len, k = MIN (n, 8);
  if (k < 3)
    return FALSE;
  const GeoPoint *p = (const GeoPoint *)(gpointer)points->data;
  guint a = at_end ? n - k : 0, b = at_end ? n - 1 : k - 1;
  GeoPoint head = geo_lerp (p[a], p[a + 1], 0.5);
  GeoPoint tail = geo_lerp (p[b - 1], p[b], 0.5);
  *on = at_end ? tail : head;
  *way = geo_unit (geo_sub (tail, head));
  return TRUE;
}

static GeoPoint
held_near (GeoPoint at, GeoPoint was, double reach)
{
  double off = geo_distance (at, was);
  return off > reach ? geo_lerp (was, at, reach / off) : at;
}

/* Where two runs meet, drawn on straight; was: the corner before. */
static GeoPoint
corner_of (const GArray *before, const GArray *after, GeoPoint was,
           double reach)
{
  GeoPoint p, u, q, w;
  gboolean a = before != NULL && end_line (before, TRUE, &p, &u);
  gboolean b = after != NULL && end_line (after, FALSE, &q, &w);
  if (a && b && fabs (geo_cross (u, w)) > 0.2)
    {
      double t = geo_cross (geo_sub (q, p), w) / geo_cross (u, w);
      return held_near (geo_along (p, u, t), was, reach);
    }
  if (a)
    return held_near (geo_along (p, u, geo_dot (geo_sub (was, p), u)), was,
                      reach);
  if (b)
    return held_near (geo_along (q, w, geo_dot (geo_sub (was, q), w)), was,
                      reach);
  return was;
}

/* What was seen, but for what lies so near a corner that the other side disturbs. */
static GArray *
keep_seen (const Reading *r, guint m, gboolean skip_start, gboolean skip_end,
           double reach)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  double clear
      = m > 0 ? fmin (reach, 0.15 * geo_distance (r[0].was, r[m - 1].was)) : 0;
  for (guint i = 0; i < m; i++)
    if (r[i].seen && !(skip_start && geo_distance (r[i].was, r[0].was) < clear)
        && !(skip_end && geo_distance (r[i].was, r[m - 1].was) < clear))
      g_array_append_val (points, r[i].at);
  return points;
}

static gboolean
is_corner (const GeoChain *chain, size_t joint)
{
  const GeoCubic *before
      = &chain->cubics[(joint + chain->count - 1) % chain->count];
  const GeoCubic *after = &chain->cubics[joint % chain->count];
  return fabs (geo_angle_between (geo_cubic_tangent (before, 1),
                                  geo_cubic_tangent (after, 0)))
         > CORNER;
}

/* Joints where runs start; a closed chain without corners has one run, from its start round. */
static GArray *
find_breaks (const GeoChain *chain, gboolean closed)
{
  GArray *breaks = g_array_new (FALSE, FALSE, sizeof (size_t));
  for (size_t i = 0; i < chain->count; i++)
    if ((i == 0 && !closed) || ((i > 0 || closed) && is_corner (chain, i)))
      g_array_append_val (breaks, i);
  return breaks;
}

static gboolean
append_fit (const GArray *points, GeoPoint from, GeoPoint to, gboolean closed,
            double tolerance, GeoChain *result)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  if (!closed)
    g_array_append_val (all, from);
  g_array_append_vals (all, points->data, points->len);
  if (!closed)
    g_array_append_val (all, to);
  GeoChain part = GEO_CHAIN_EMPTY;
  gboolean good = geo_fit_points ((const GeoPoint *)(gpointer)all->data,
                                  all->len, closed, INFINITY, tolerance, &part);
  if (good)
    geo_chain_append_chain (result, &part);
  geo_chain_clear (&part);
  return good;
}

gboolean
tracing_snap_chain (TracingPicture *picture, const TracingPlane *plane,
                    const GeoChain *chain, TracingSnap to, double reach,
                    double tolerance, GeoChain *result, double *seen,
                    double *off)
{
  geo_chain_reset (result);
  double unused;
  seen = seen != NULL ? seen : &unused;
  *seen = 0;
  if (chain->count == 0 || !(reach > 0) || !(tolerance > 0))
    return FALSE;
  gboolean closed = geo_chain_is_closed (chain);
  Snapping s = { tracing_view_of (picture), plane, to, fmin (reach, 50) };
  double dots = tracing_plane_dots (
      plane, tracing_plane_to_px (plane, geo_chain_start (chain)));
  if (!(dots > 0.05) || !isfinite (dots))
    return FALSE;
  g_autoptr (GArray) breaks = find_breaks (chain, closed);
  gboolean whole = breaks->len == 0;
  size_t zero = 0;
  if (whole)
    g_array_append_val (breaks, zero);
  guint n = breaks->len, asked = 0, got = 0;
  g_autofree Reading *r = g_new (Reading, MOST_READ + 1);
  g_autoptr (GPtrArray) runs
      = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  for (guint i = 0; i < n; i++)
    {
      size_t first = g_array_index (breaks, size_t, i);
      size_t last
          = i + 1 < n ? g_array_index (breaks, size_t, i + 1)
                      : chain->count
                            + (closed ? g_array_index (breaks, size_t, 0) : 0);
      GeoChain part = GEO_CHAIN_EMPTY;
      for (size_t c = first; c < last; c++)
        geo_chain_append (&part, chain->cubics[c % chain->count]);
      guint m = lay_readings (&part, fmax (2 / dots, 0.5), r);
      geo_chain_clear (&part);
      if (m > 0)
        snap_run (&s, r, m);
      for (guint k = 0; k < m; k++)
        got += r[k].seen;
      asked += m;
      g_ptr_array_add (runs,
                       keep_seen (r, m, !whole && (closed || i > 0),
                                  !whole && (closed || i + 1 < n), s.reach));
    }
  *seen = asked > 0 ? (double)got / asked : 0;
  gboolean good = *seen >= 0.5;
  g_autofree GeoPoint *corners = g_new (GeoPoint, n + 1);
  for (guint i = 0; i <= n; i++)
    {
      GArray *before = i > 0              ? runs->pdata[i - 1]
                       : closed && !whole ? runs->pdata[n - 1]
                                          : NULL;
      GArray *after = i < n ? runs->pdata[i] : closed ? runs->pdata[0] : NULL;
      GeoPoint was
          = i < n    ? chain->cubics[g_array_index (breaks, size_t, i)].p[0]
            : closed ? chain->cubics[g_array_index (breaks, size_t, 0)].p[0]
                     : geo_chain_end (chain);
      corners[i] = corner_of (before, after, was, s.reach);
    }
  if (closed)
    corners[n] = corners[0];
  for (guint i = 0; i < n && good; i++)
    good = append_fit (runs->pdata[i], corners[i], corners[i + 1], whole,
                       tolerance, result);
  double worst = 0;
  for (guint i = 0; i < n && good; i++)
    for (guint k = 0; k < ((GArray *)runs->pdata[i])->len; k++)
      worst = fmax (worst,
                    geo_chain_nearest (
                        result,
                        g_array_index ((GArray *)runs->pdata[i], GeoPoint, k),
                        NULL));
  if (good && closed)
    result->cubics[result->count - 1].p[3] = result->cubics[0].p[0];
  if (off != NULL)
    *off = worst;
  if (!good)
    geo_chain_reset (result);
  return good;
}

/* --- a place --------------------------------------------------------------------- */
/* The best place on a line through px; FALSE where nothing is seen. */
static gboolean
look_along (const TracingView *view, GeoPoint px, GeoPoint way, double reach,
            TracingSnap to, double *score, GeoPoint *found)
{
  double v[MOST_K], half = reach + STROKE_PX;
  guint n = MIN ((guint)(2 * half / STEP) + 1, MOST_K);
  GeoPoint from = geo_along (px, way, -0.5 * (n - 1) * STEP);
  tracing_view_profile (view, from, way, STEP, n, geo_left (way), 1, grey, v);
  double least = least_score (v, n);
  *score = 0;
  guint best = 0;
  for (guint k = 0; k < n; k++)
    {
      double off = fabs (k - 0.5 * (n - 1)) * STEP / reach;
      double what = off > 1 ? 0 : score_at (v, n, k, to);
      if (what >= least && fmin (what, STRONG) * (1 - 0.7 * off) > *score)
        {
          *score = fmin (what, STRONG) * (1 - 0.7 * off);
          best = k;
        }
    }
  if (*score > 0)
    *found = geo_along (from, way, middle_at (v, n, best, to) * STEP);
  return *score > 0;
}

gboolean
tracing_snap_point (TracingPicture *picture, GeoPoint px, TracingSnap to,
                    double reach, GeoPoint *snapped)
{
  TracingView view = tracing_view_of (picture);
  if (!isfinite (px.x) || !isfinite (px.y) || !(reach > 0) || px.x < -reach
      || px.y < -reach || px.x > view.width + reach
      || px.y > view.height + reach)
    return FALSE;
  GeoPoint at = px, best_at = px;
  double best = 0;
  reach = CLAMP (reach, 1, 80);
  for (guint i = 0; i < 16; i++)
    {
      GeoPoint way = { cos (i * G_PI / 16), sin (i * G_PI / 16) };
      double score;
      /* Straight across a line is the shortest way to it. */
      if (look_along (&view, px, way, reach, to, &score, &at)
          && geo_distance (at, px) <= reach)
        {
          score -= 0.02 * geo_distance (at, px) / reach;
          if (score > best)
            {
              best = score;
              best_at = at;
            }
        }
    }
  *snapped = best > 0 ? best_at : px;
  return best > 0;
}
