/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tracing/profile.h"

#include <math.h>

#define WINDOW 2.5 /* px on each side of an edge */
#define MOST_VALUES 1024

const float *
tracing_light_table (void)
{
  static float table[256];
  static gsize made = 0;
  if (g_once_init_enter (&made))
    {
      for (guint i = 0; i < 256; i++)
        {
          double v = i / 255.0;
          table[i] = (float)(v <= 0.04045 ? v / 12.92
                                          : pow ((v + 0.055) / 1.055, 2.4));
        }
      g_once_init_leave (&made, 1);
    }
  return table;
}

TracingView
tracing_view_of (const TracingPicture *picture)
{
  return (TracingView){ tracing_picture_get_rgb (picture),
                        tracing_picture_get_stride (picture),
                        tracing_picture_get_width (picture),
                        tracing_picture_get_height (picture),
                        tracing_light_table () };
}

static inline guint
held (double at, guint size)
{
  return at <= 0 ? 0 : at >= size - 1 ? size - 1 : (guint)at;
}

void
tracing_view_light (const TracingView *view, GeoPoint px, double light[3])
{
  double x = px.x - 0.5, y = px.y - 0.5, fx = x - floor (x), fy = y - floor (y);
  guint x0 = held (floor (x), view->width), x1 = held (x + 1, view->width);
  guint y0 = held (floor (y), view->height), y1 = held (y + 1, view->height);
  const guint8 *above = view->rgb + y0 * view->stride;
  const guint8 *below = view->rgb + y1 * view->stride;
  for (guint c = 0; c < 3; c++)
    {
      double a = view->light[above[3 * x0 + c]] * (1 - fx)
                 + view->light[above[3 * x1 + c]] * fx;
      double b = view->light[below[3 * x0 + c]] * (1 - fx)
                 + view->light[below[3 * x1 + c]] * fx;
      light[c] = a * (1 - fy) + b * fy;
    }
}

void
tracing_view_profile (const TracingView *view, GeoPoint from, GeoPoint along,
                      double step, guint n, GeoPoint beside, guint wide,
                      const double weights[3], double *values)
{
  for (guint i = 0; i < n; i++)
    {
      GeoPoint at = geo_along (from, along, i * step);
      double sum = 0;
      for (int k = -(int)wide; k <= (int)wide; k++)
        {
          double light[3];
          tracing_view_light (view, geo_along (at, beside, k), light);
          sum += light[0] * weights[0] + light[1] * weights[1]
                 + light[2] * weights[2];
        }
      values[i] = sum / (2 * wide + 1);
    }
}

/* The rise from value i to the next, evened a little. */
static double
slope (const double *values, guint n, guint i)
{
  double d = values[i + 1] - values[i];
  double before = i > 0 ? values[i] - values[i - 1] : d;
  double after = i + 2 < n ? values[i + 2] - values[i + 1] : d;
  return 0.25 * before + 0.5 * d + 0.25 * after;
}

/* The mean slope just beyond the window on both sides: what is no part of the edge. */
static double
slope_about (const double *slopes, guint n, double middle, double reach)
{
  double sum = 0;
  guint count = 0;
  for (guint i = 0; i < n; i++)
    {
      double off = fabs (i + 0.5 - middle);
      if (off > reach && off < 1.8 * reach)
        {
          sum += slopes[i];
          count++;
        }
    }
  return count > 2 ? sum / count : 0;
}

gboolean
tracing_profile_edge (const double *values, guint n, double step, double least,
                      double *at, double *rise)
{
  double slopes[MOST_VALUES];
  double reach = WINDOW / step;
  guint best = 0;
  if (n < 4 || n > MOST_VALUES)
    return FALSE;
  for (guint i = 0; i + 1 < n; i++)
    {
      slopes[i] = slope (values, n, i);
      if (slopes[i] > slopes[best])
        best = i;
    }
  double middle = best + 0.5, sum = 0;
  for (guint round = 0; round < 4; round++)
    {
      if (middle < reach || middle > n - 1 - reach)
        return FALSE;
      double plain = slope_about (slopes, n - 1, middle, reach), first = 0;
      sum = 0;
      for (guint i = 0; i + 1 < n; i++)
        {
          /* the share of the step that lies in the window */
          double in = reach + 0.5 - fabs (i + 0.5 - middle);
          if (in <= 0)
            continue;
          double w = fmax (slopes[i] - plain, 0) * fmin (in, 1);
          sum += w;
          first += w * (i + 0.5);
        }
      if (!(sum >= least))
        return FALSE;
      middle = first / sum;
    }
  *at = middle;
  if (rise != NULL)
    *rise = sum;
  return TRUE;
}
