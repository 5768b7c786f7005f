/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A sheet's sides to a part of a pixel, once they are known to a few.
 *
 * Along each side the light is read on short lines across it, as the share that is sheet rather than
 * table; where that steps up is a place of the side. A line is laid through most of them: first the one that most agree
 * with, out of many through two, then by least squares with weights that let go of what lies off (Tukey's). What a
 * piece covers, or a second edge nearby, thus has no say. Corners are where lines meet.
 */
#include "tracing/sheet.h"

#include <math.h>

#include "tracing/profile.h"

#define STEP 0.5 /* px along a profile */
#define MOST_PLACES 500
#define WIDE 2         /* px to each side that are evened */
#define LEAST_RISE 0.2 /* of the difference of sheet and table */
#define LEAST_SEEN 0.25
#define LEAST_PLACES 8
#define LEAST_LIGHT 0.004 /* difference of light, squared */
#define BINS 16

typedef struct
{
  GeoPoint at;
  double along; /* of the side, 0..1 */
  double off;   /* from the line */
} Place;

typedef struct
{
  GeoPoint on, way; /* a line; way of length 1, along the side */
  double seen;      /* share of its length */
  double off;       /* px */
} Side;

/* --- reading ------------------------------------------------------------------- */
/* Mean light in a band beside the side, at `from` to `to` px along its normal. */
static void
band_light (const TracingView *view, GeoPoint a, GeoPoint b, GeoPoint normal,
            double from, double to, double light[3])
{
  light[0] = light[1] = light[2] = 0;
  guint n = 0;
  for (guint i = 1; i < 24; i++)
    for (guint k = 0; k < 4; k++)
      {
        double one[3];
        GeoPoint at = geo_along (geo_lerp (a, b, i / 24.0), normal,
                                 from + (to - from) * k / 3.0);
        tracing_view_light (view, at, one);
        for (guint c = 0; c < 3; c++)
          light[c] += one[c];
        n++;
      }
  for (guint c = 0; c < 3; c++)
    light[c] /= n;
}

/* So that light . weights rises by 1 from table to sheet. */
static gboolean
find_weights (const TracingView *view, GeoPoint a, GeoPoint b, GeoPoint inward,
              double reach, double weights[3])
{
  double in[3], out[3], square = 0;
  band_light (view, a, b, inward, reach + 2, reach + 8, in);
  band_light (view, a, b, inward, -reach - 8, -reach - 2, out);
  for (guint c = 0; c < 3; c++)
    {
      weights[c] = in[c] - out[c];
      square += weights[c] * weights[c];
    }
  if (!(square > LEAST_LIGHT * LEAST_LIGHT))
    return FALSE;
  for (guint c = 0; c < 3; c++)
    weights[c] /= square;
  return TRUE;
}

static guint
read_side (const TracingView *view, GeoPoint a, GeoPoint b, GeoPoint inward,
           double reach, Place places[MOST_PLACES], guint *asked)
{
  double length = geo_distance (a, b), weights[3];
  double edge = fmin (reach + 6, 0.1 * length); /* corners are no sides */
  guint n = (guint)CLAMP ((length - 2 * edge) / 3, 0, MOST_PLACES), found = 0;
  *asked = n;
  if (n < LEAST_PLACES || !find_weights (view, a, b, inward, reach, weights))
    return 0;
  GeoPoint along = geo_unit (geo_sub (b, a));
  double half = reach + 5;
  guint values = (guint)(2 * half / STEP) + 1;
  g_autofree double *profile = g_new (double, values);
  for (guint i = 0; i < n; i++)
    {
      double t = (edge + (length - 2 * edge) * (i + 0.5) / n) / length;
      GeoPoint middle = geo_lerp (a, b, t);
      double at;
      if (middle.x < 0 || middle.y < 0 || middle.x > view->width
          || middle.y > view->height)
        continue;
      GeoPoint from = geo_along (middle, inward, -half);
      tracing_view_profile (view, from, inward, STEP, values, along, WIDE,
                            weights, profile);
      if (tracing_profile_edge (profile, values, STEP, LEAST_RISE, &at, NULL))
        places[found++] = (Place){ geo_along (from, inward, at * STEP), t, 0 };
    }
  return found;
}

/* --- a line through most ------------------------------------------------------------ */
static guint
count_near (const Place *p, guint n, GeoPoint on, GeoPoint way, double within)
{
  guint near = 0;
  for (guint i = 0; i < n; i++)
    near += fabs (geo_cross (way, geo_sub (p[i].at, on))) < within;
  return near;
}

/* Of lines through two places a third of the side apart or more, the one with most on it. */
static gboolean
most_agreed (const Place *p, guint n, double within, GeoPoint *on,
             GeoPoint *way)
{
  guint best = 0, stride = MAX (n / 40, 1);
  for (guint i = 0; i < n; i += stride)
    for (guint j = i + stride; j < n; j += stride)
      {
        GeoPoint d = geo_unit (geo_sub (p[j].at, p[i].at));
        if (p[j].along - p[i].along < 0.15)
          continue;
        guint near = count_near (p, n, p[i].at, d, within);
        if (near <= best)
          continue;
        best = near;
        *on = p[i].at;
        *way = d;
      }
  return best >= LEAST_PLACES;
}

/* The line through the weighed places' middle, along the axis of least moment. */
static gboolean
lay_line (const Place *p, guint n, double within, GeoPoint *on, GeoPoint *way)
{
  double sum = 0, xx = 0, xy = 0, yy = 0;
  GeoPoint middle = { 0, 0 };
  for (guint pass = 0; pass < 2; pass++)
    {
      for (guint i = 0; i < n; i++)
        {
          double u = geo_cross (*way, geo_sub (p[i].at, *on)) / within;
          double w = u * u < 1 ? (1 - u * u) * (1 - u * u) : 0;
          if (pass == 0)
            {
              sum += w;
              middle = geo_along (middle, p[i].at, w);
            }
          else
            {
              GeoPoint d = geo_sub (p[i].at, middle);
              xx += w * d.x * d.x;
              xy += w * d.x * d.y;
              yy += w * d.y * d.y;
            }
        }
      if (pass == 0 && !(sum > 1))
        return FALSE;
      if (pass == 0)
        middle = geo_scale (middle, 1 / sum);
    }
  double angle = 0.5 * atan2 (2 * xy, xx - yy);
  GeoPoint now = { cos (angle), sin (angle) };
  *way = geo_dot (now, *way) < 0 ? geo_scale (now, -1) : now;
  *on = middle;
  return TRUE;
}

static int
by_off (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* Bins of the side, the middle one of each's places: how far the worst lies off. */
static double
straightness (const Place *p, guint n, double within)
{
  double worst = 0;
  g_autofree double *offs = g_new (double, n);
  for (guint bin = 0; bin < BINS; bin++)
    {
      guint count = 0;
      for (guint i = 0; i < n; i++)
        if ((guint)(p[i].along * BINS) == bin && fabs (p[i].off) < within)
          offs[count++] = p[i].off;
      if (count < 3)
        continue;
      qsort (offs, count, sizeof *offs, by_off);
      worst = fmax (worst, fabs (offs[count / 2]));
    }
  return worst;
}

static gboolean
find_side (const TracingView *view, GeoPoint a, GeoPoint b, GeoPoint inward,
           double reach, Side *side)
{
  Place places[MOST_PLACES];
  guint asked, n = read_side (view, a, b, inward, reach, places, &asked);
  double within = fmax (1.5, 0.002 * geo_distance (a, b));
  side->off = NAN;
  side->seen = 0;
  if (n < LEAST_PLACES
      || !most_agreed (places, n, within, &side->on, &side->way))
    return FALSE;
  if (geo_dot (side->way, geo_sub (b, a)) < 0)
    side->way = geo_scale (side->way, -1);
  for (guint round = 0; round < 6; round++)
    if (!lay_line (places, n, 1.5 * within, &side->on, &side->way))
      return FALSE;
  guint near = 0;
  for (guint i = 0; i < n; i++)
    {
      places[i].off = geo_cross (side->way, geo_sub (places[i].at, side->on));
      near += fabs (places[i].off) < within;
    }
  side->seen = (double)near / asked;
  side->off = straightness (places, n, within);
  return side->seen >= LEAST_SEEN;
}

/* --- the sheet ------------------------------------------------------------------------ */
static gboolean
meet (const Side *a, const Side *b, GeoPoint *at)
{
  double across = geo_cross (a->way, b->way);
  if (fabs (across) < 0.05)
    return FALSE;
  double t = geo_cross (geo_sub (b->on, a->on), b->way) / across;
  *at = geo_along (a->on, a->way, t);
  return TRUE;
}

static gboolean
refine_once (const TracingView *view, GeoPoint corners[4], double reach,
             TracingSheet *sheet)
{
  Side sides[4];
  double area = 0;
  for (guint i = 0; i < 4; i++)
    area += geo_cross (corners[i], corners[(i + 1) % 4]);
  sheet->quality = 0;
  sheet->off = 0;
  for (guint i = 0; i < 4; i++)
    {
      GeoPoint a = corners[i], b = corners[(i + 1) % 4];
      GeoPoint inward = geo_left (geo_unit (geo_sub (b, a)));
      if (area < 0)
        inward = geo_scale (inward, -1);
      if (!find_side (view, a, b, inward, reach, &sides[i]))
        return FALSE;
      sheet->quality += sides[i].seen / 4;
      sheet->off = fmax (sheet->off, sides[i].off);
    }
  for (guint i = 0; i < 4; i++)
    {
      GeoPoint at;
      if (!meet (&sides[(i + 3) % 4], &sides[i], &at)
          || geo_distance (at, corners[i]) > 2.5 * reach + 2)
        return FALSE;
      sheet->corners[i] = at;
    }
  return TRUE;
}

gboolean
tracing_refine_sheet (TracingPicture *picture, const GeoPoint corners[4],
                      double reach, TracingSheet *sheet)
{
  TracingView view = tracing_view_of (picture);
  GeoPoint now[4];
  gboolean good = isfinite (reach) && reach > 0;
  for (guint i = 0; i < 4; i++)
    {
      now[i] = sheet->corners[i] = corners[i];
      good = good && isfinite (now[i].x) && isfinite (now[i].y)
             && fabs (now[i].x) < 1e6 && fabs (now[i].y) < 1e6;
    }
  reach = CLAMP (reach, 2, 200);
  for (guint i = 0; good && i < 4; i++)
    good = geo_distance (now[i], now[(i + 1) % 4]) > 3 * reach + 20;
  /* Coarsely first; then near by, where nothing else disturbs. */
  good = good && refine_once (&view, now, reach, sheet);
  for (guint i = 0; good && i < 4; i++)
    now[i] = sheet->corners[i];
  good = good && refine_once (&view, now, fmin (reach, 4), sheet);
  if (good)
    return TRUE;
  for (guint i = 0; i < 4; i++)
    sheet->corners[i] = corners[i];
  sheet->off = NAN;
  sheet->quality = 0;
  return FALSE;
}
