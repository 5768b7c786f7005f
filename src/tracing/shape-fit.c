/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From places measured in order to corners and the fewest cubics.
 *
 * Between corners the places are evened out first: each is put on the parabola that fits its neighbours within reach best, which
 * takes the noise out and leaves what is bent less sharply than the reach (A. Savitzky, M. J. E. Golay, 1964, from
 * memory, here for places not evenly spaced). Then as few cubics as the tolerance allows are laid, and, as long
 * as they don't become more, within half of that, and half of that again: few nodes need not mean
 * a loose fit.
 */
#include "tracing/shape-private.h"

#include <math.h>

#include "geometry/fit-points.h"
#include "geometry/nearest.h"
#include "geometry/region.h"

#define REACH 3.0   /* mm either side */
#define PLACES 80.0 /* of a run that are left, about, */
#define GAP 2.5     /* but none farther apart, mm */
#define SHEET_PART                                                             \
  0.03 /* of its longer side, that a sheet's outline may be off */
#define LEAST_CUBIC 8.0 /* mm, on an average */

void
tracing_line_clear (gpointer data)
{
  TracingLine *line = data;
  geo_chain_clear (&line->chain);
  g_clear_pointer (&line->corner, g_free);
  g_clear_pointer (&line->darts, g_free);
  line->n_darts = 0;
}

gboolean
tracing_line_is_sheet (const TracingLine *line, const TracingPlane *plane,
                       const GeoPoint corners[4])
{
  GeoBox box = geo_chain_bounds (&line->chain), sheet = geo_box_empty ();
  for (int i = 0; i < 4; i++)
    sheet = geo_box_add (sheet, tracing_plane_to_mm (plane, corners[i]));
  double near
      = SHEET_PART * fmax (geo_box_width (sheet), geo_box_height (sheet));
  return line->closed && fabs (box.x0 - sheet.x0) < near
         && fabs (box.x1 - sheet.x1) < near && fabs (box.y0 - sheet.y0) < near
         && fabs (box.y1 - sheet.y1) < near;
}

/* Least squares parabola of values v over s about nought; its value there. */
static double
parabola_at (const double *s, const double *v, int n)
{
  double m[5] = { 0 }, t[3] = { 0 };
  for (int i = 0; i < n; i++)
    {
      double p = 1;
      for (int k = 0; k < 5; k++, p *= s[i])
        {
          m[k] += p;
          if (k < 3)
            t[k] += p * v[i];
        }
    }
  double m0 = m[2] * m[4] - m[3] * m[3], m1 = m[1] * m[4] - m[2] * m[3],
         m2 = m[1] * m[3] - m[2] * m[2];
  double det = m[0] * m0 - m[1] * m1 + m[2] * m2;
  if (n >= 5 && det > 1e-6 * m[0] * m[2] * m[4])
    return (m0 * t[0] - m1 * t[1] + m2 * t[2]) / det;
  return NAN;
}

/* Places of a run evened out, and thinned to about gap mm; ends that are corners stay. */
static void
even_run (const GArray *run, gboolean round, double reach, double gap,
          GArray *even)
{
  const GeoPoint *q = (const GeoPoint *)(gpointer)run->data;
  int n = (int)run->len;
  double s[128], x[128], y[128], done = INFINITY;
  for (int i = 0; i < n; i++)
    {
      done += i > 0 ? geo_distance (q[i], q[i - 1]) : 0;
      gboolean end = !round && (i == 0 || i == n - 1);
      if (done < gap && !end)
        continue;
      done = 0;
      GeoPoint p = q[i];
      int m = 1, left = 0;
      s[0] = 0;
      x[0] = p.x;
      y[0] = p.y;
      for (int way = -1; way <= 1 && !end; way += 2)
        {
          double along = 0;
          for (int k = 1; k < 60 && k < n / 2; k++)
            {
              int a = i + way * (k - 1), b = i + way * k;
              if (!round && (b < 0 || b >= n))
                break;
              a = (a + n) % n;
              b = (b + n) % n;
              along += geo_distance (q[a], q[b]);
              if (along > reach)
                break;
              s[m] = way * along / reach;
              x[m] = q[b].x;
              y[m++] = q[b].y;
              left += way < 0;
            }
        }
      /* about as many on either side */
      double px = left >= 2 && m - 1 - left >= 2 ? parabola_at (s, x, m) : NAN;
      if (isfinite (px))
        p = geo_point (px, parabola_at (s, y, m));
      g_array_append_val (even, p);
    }
}

/* How many straight lines follow the points within the tolerance, each as far as it goes. */
static double
count_bends (const GeoPoint *q, gsize n, double tolerance)
{
  double count = 1;
  for (gsize a = 0, b = 2; b < n; b++)
    {
      GeoPoint u = geo_unit (geo_sub (q[b], q[a]));
      gboolean near = b - a < 64;
      for (gsize i = a + 1; i < b && near; i++)
        near = fabs (geo_cross (u, geo_sub (q[i], q[a]))) <= tolerance;
      if (near)
        continue;
      count++;
      a = b - 1;
    }
  return count;
}

/* A line that needs a cubic for every few mm is noise: it is followed less closely. Else the same number
 * of cubics or fewer within less. */
static void
lay_run (const GeoPoint *q, gsize n, gboolean closed, double tolerance,
         double least, GeoChain *chain)
{
  GeoChain other = GEO_CHAIN_EMPTY;
  double length = 0;
  for (gsize i = 1; i < n; i++)
    length += geo_distance (q[i - 1], q[i]);
  double most = 4 + length / LEAST_CUBIC;
  for (int k = 0; k < 12 && count_bends (q, n, tolerance) > 2 * most; k++)
    tolerance *= 1.5;
  geo_fit_points (q, n, closed, INFINITY, tolerance, chain);
  for (int k = 0; k < 6 && (double)chain->count > most; k++)
    {
      tolerance *= 1.6;
      geo_fit_points (q, n, closed, INFINITY, tolerance, chain);
    }
  for (int k = 0; k < 3 && chain->count > 0 && 0.5 * tolerance >= least; k++)
    {
      tolerance *= 0.5;
      if (!geo_fit_points (q, n, closed, INFINITY, tolerance, &other)
          || other.count > chain->count)
        break;
      geo_chain_copy (chain, &other);
    }
  geo_chain_clear (&other);
}

static double
reach_of (const ShapeTrack *track)
{
  return fmax (REACH, 4 * track->spacing);
}

/* Places between two corners (NULL: the track's end) that can be trusted; corners themselves at the ends. */
static GArray *
gather_run (const ShapeTrack *track, const ShapeCorner *from,
            const ShapeCorner *to)
{
  GArray *run = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  double all = track->along[track->n];
  double start = from != NULL ? from->along : 0;
  double length = (to != NULL ? to->along : all) - start;
  if (from != NULL && to != NULL && length <= 1e-9)
    length += all;
  double skip0 = from != NULL ? from->clear : -1;
  double skip1 = to != NULL ? to->clear : -1;
  double most = 0.35 * length;
  skip0 = fmin (skip0, most);
  skip1 = fmin (skip1, most);
  if (from != NULL)
    g_array_append_val (run, from->at);
  gsize first = 0;
  while (first < track->n && track->along[first] < start)
    first++;
  for (gsize k = 0; k < track->n; k++)
    {
      gsize i = (first + k) % track->n;
      double d = track->along[i] - start;
      if (!track->closed && (d < 0 || d > length))
        continue;
      d += d < 0 ? all : 0;
      gboolean end = !track->closed && (i == 0 || i + 1 == track->n);
      if (d > skip0 && d < length - skip1
          && (track->places[i].weight > 0 || end))
        g_array_append_val (run, track->places[i].at);
    }
  if (to != NULL)
    g_array_append_val (run, to->at);
  return run;
}

static double
run_length (const GArray *run)
{
  double length = 0;
  for (guint i = 1; i < run->len; i++)
    length += geo_distance (g_array_index (run, GeoPoint, i - 1),
                            g_array_index (run, GeoPoint, i));
  return length;
}

static void
lay_between (const ShapeTrack *track, const ShapeCorner *from,
             const ShapeCorner *to, GeoChain *chain)
{
  g_autoptr (GArray) run = gather_run (track, from, to);
  g_autoptr (GArray) even = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  GeoChain part = GEO_CHAIN_EMPTY;
  gboolean round = track->closed && from == NULL;
  double gap = run_length (run) / PLACES;
  gap = fmax (track->spacing, CLAMP (gap, 0.8, GAP));
  even_run (run, round, reach_of (track), gap, even);
  lay_run ((const GeoPoint *)(gpointer)even->data, even->len, round,
           track->tolerance, 4 * track->noise, &part);
  if (part.count == 0 && from != NULL && to != NULL
      && !geo_same (from->at, to->at))
    geo_chain_append_line (&part, from->at, to->at);
  geo_chain_append_chain (chain, &part);
  geo_chain_clear (&part);
}

static void
mark_corner (GArray *flags, gsize at)
{
  if (flags->len <= at)
    g_array_set_size (flags, (guint)at + 1);
  g_array_index (flags, gboolean, at) = TRUE;
}

static gboolean
lay_all (const ShapeTrack *track, const GArray *corners, TracingLine *line)
{
  const ShapeCorner *c = (const ShapeCorner *)(gpointer)corners->data;
  guint n = corners->len;
  g_autoptr (GArray) flags = g_array_new (FALSE, TRUE, sizeof (gboolean));
  if (track->closed && n == 0)
    lay_between (track, NULL, NULL, &line->chain);
  else if (track->closed)
    for (guint i = 0; i < n; i++)
      {
        mark_corner (flags, line->chain.count);
        lay_between (track, &c[i], &c[(i + 1) % n], &line->chain);
      }
  else
    for (guint i = 0; i <= n; i++)
      {
        mark_corner (flags, line->chain.count);
        lay_between (track, i > 0 ? &c[i - 1] : NULL, i < n ? &c[i] : NULL,
                     &line->chain);
      }
  gsize count = line->chain.count;
  if (count == 0)
    return FALSE;
  g_array_set_size (flags, (guint)count + 1);
  if (track->closed)
    line->chain.cubics[count - 1].p[3] = line->chain.cubics[0].p[0];
  else
    g_array_index (flags, gboolean, count) = TRUE;
  line->corner = g_memdup2 (flags->data, (count + 1) * sizeof (gboolean));
  return TRUE;
}

/* The farthest place that was seen well, by looking along the chain as the places do. */
static double
find_off (const ShapeTrack *track, const GArray *corners, const GeoChain *chain)
{
  double off = 0;
  gsize every = MAX (1, track->n / 600);
  for (gsize i = 0; i < track->n; i += every)
    {
      gboolean near = track->places[i].weight <= 0;
      for (guint k = 0; k < corners->len && !near; k++)
        {
          const ShapeCorner *c = &g_array_index (corners, ShapeCorner, k);
          double d = fabs (track->along[i] - c->along);
          d = track->closed ? fmin (d, track->along[track->n] - d) : d;
          near = d < c->clear;
        }
      if (!near)
        off = fmax (off, geo_chain_nearest (chain, track->places[i].at, NULL));
    }
  return off;
}

gboolean
shape_lay_line (const ShapePlace *places, gsize n, gboolean closed,
                double tolerance, double spacing, double blur, double opened,
                TracingLine *line)
{
  *line = (TracingLine){ .chain = GEO_CHAIN_EMPTY,
                         .closed = closed,
                         .hole_of = -1 };
  if (n < 3)
    return FALSE;
  g_autofree double *along = g_new (double, n + 1);
  along[0] = 0;
  for (gsize i = 1; i < n; i++)
    along[i] = along[i - 1] + geo_distance (places[i - 1].at, places[i].at);
  along[n] = along[n - 1]
             + (closed ? geo_distance (places[n - 1].at, places[0].at) : 0);
  if (!(along[n] > 0))
    return FALSE;
  ShapeTrack track
      = { places, n, closed, tolerance, spacing, blur, along, 0, opened };
  /* what is noisier than the tolerance can't be followed as closely */
  track.noise = shape_track_noise (&track);
  track.tolerance = fmax (tolerance, 3 * track.noise);
  g_autoptr (GArray) corners = shape_find_corners (&track);
  if (!lay_all (&track, corners, line))
    {
      tracing_line_clear (line);
      return FALSE;
    }
  line->off = find_off (&track, corners, &line->chain);
  line->blur = 2.56 * blur;
  shape_find_darts (line);
  return TRUE;
}

gboolean
tracing_line_fit (const GeoPoint *points, gsize n, gboolean closed,
                  double tolerance, double spacing, TracingLine *line)
{
  g_return_val_if_fail (tolerance > 0 && spacing > 0, FALSE);
  g_autofree ShapePlace *places = g_new (ShapePlace, n + 1);
  gsize m = 0;
  for (gsize i = 0; i < n; i++)
    if (m == 0 || !geo_same (points[i], places[m - 1].at))
      places[m++] = (ShapePlace){ points[i], 1 };
  while (closed && m > 1 && geo_same (places[0].at, places[m - 1].at))
    m--;
  if (!shape_lay_line (places, m, closed, tolerance, spacing, 0.5 * spacing, 0,
                       line))
    return FALSE;
  if (closed && geo_chain_area (&line->chain) < 0)
    {
      tracing_line_clear (line);
      for (gsize i = 0; i < m / 2; i++)
        {
          ShapePlace t = places[i];
          places[i] = places[m - 1 - i];
          places[m - 1 - i] = t;
        }
      return shape_lay_line (places, m, closed, tolerance, spacing,
                             0.5 * spacing, 0, line);
    }
  return TRUE;
}
