/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A thinned line is taken apart where three ways meet; what is left between are runs, followed pixel by pixel. Then
 * each place is moved across the run to the middle of the ink there. */
#include <math.h>

#include "tracing/stroke-private.h"

#define AHEAD 4 /* px either side that tell the direction */

void
stroke_run_clear (gpointer data)
{
  StrokeRun *run = data;
  g_clear_pointer (&run->places, g_array_unref);
}

static const int aside[8][2] = { { 0, -1 }, { 1, 0 }, { 0, 1 },  { -1, 0 },
                                 { 1, -1 }, { 1, 1 }, { -1, 1 }, { -1, -1 } };

static guint
count_beside (const StrokeInk *ink, gssize p)
{
  guint n = 0;
  for (int k = 0; k < 8; k++)
    n += ink->at[p + aside[k][1] * (gssize)ink->width + aside[k][0]] != 0;
  return n;
}

/* Pixels with three or more beside them go: also some in the middle of a line with steps, whose two
 * halves find each other again. */
static void
take_apart (StrokeInk *ink)
{
  g_autoptr (GArray) meet = g_array_new (FALSE, FALSE, sizeof (gssize));
  for (guint y = 1; y + 1 < ink->height; y++)
    for (guint x = 1; x + 1 < ink->width; x++)
      {
        gssize p = (gssize)y * ink->width + x;
        if (ink->at[p] && count_beside (ink, p) > 2)
          g_array_append_val (meet, p);
      }
  for (guint i = 0; i < meet->len; i++)
    ink->at[g_array_index (meet, gssize, i)] = 0;
}

/* From a pixel on, each taken out as it is passed. */
static GArray *
follow (StrokeInk *ink, gssize p)
{
  GArray *pixels = g_array_new (FALSE, FALSE, sizeof (gssize));
  while (p >= 0)
    {
      gssize next = -1;
      ink->at[p] = 0;
      g_array_append_val (pixels, p);
      for (int k = 0; k < 8 && next < 0; k++)
        {
          gssize q = p + aside[k][1] * (gssize)ink->width + aside[k][0];
          if (ink->at[q])
            next = q;
        }
      p = next;
    }
  return pixels;
}

/* --- the middle of the ink ----------------------------------------------------------- */
static GeoPoint
middle_of (const StrokeInk *ink, gssize p)
{
  return geo_point ((double)(p % ink->width) + 0.5,
                    (double)(p / ink->width) + 0.5);
}

static double
ink_at (const StrokeInk *ink, GeoPoint at)
{
  double x = at.x - 0.5, y = at.y - 0.5;
  if (!(x >= 0 && y >= 0 && x < ink->width - 1 && y < ink->height - 1))
    return 0;
  guint i = (guint)x, j = (guint)y;
  double u = x - i, v = y - j;
  const guint8 *p = ink->ink + (gsize)j * ink->width + i;
  const guint8 *q = p + ink->width;
  return (p[0] * (1 - u) + p[1] * u) * (1 - v)
         + (q[0] * (1 - u) + q[1] * u) * v;
}

/* From at out to where the ink ends both ways across; its centre of mass. */
static GeoPoint
centre (const StrokeInk *ink, GeoPoint at, GeoPoint across, double half)
{
  double mass = 0, moment = 0, least = 0.4 * ink->low;
  double reach = half + 2.5;
  for (int way = -1; way <= 1; way += 2)
    for (double s = way < 0 ? 0.25 : 0; s <= reach; s += 0.25)
      {
        double m = ink_at (ink, geo_along (at, across, way * s)) - least;
        if (m <= 0)
          break;
        mass += m;
        moment += m * way * s;
      }
  return mass > 0 ? geo_along (at, across, moment / mass) : at;
}

static void
settle (const StrokeInk *ink, const GArray *pixels, StrokeRun *run)
{
  int n = (int)pixels->len;
  double sum = 0;
  for (int i = 0; i < n; i++)
    sum += ink->far[g_array_index (pixels, gssize, i)] / 3.0;
  run->half = sum / n;
  run->places
      = g_array_sized_new (FALSE, FALSE, sizeof (GeoPoint), pixels->len);
  for (int i = 0; i < n; i++)
    {
      int a = run->round ? (i - AHEAD + n) % n : MAX (i - AHEAD, 0);
      int b = run->round ? (i + AHEAD) % n : MIN (i + AHEAD, n - 1);
      GeoPoint from = middle_of (ink, g_array_index (pixels, gssize, a));
      GeoPoint to = middle_of (ink, g_array_index (pixels, gssize, b));
      GeoPoint at = middle_of (ink, g_array_index (pixels, gssize, i));
      GeoPoint along = geo_unit (geo_sub (to, from));
      if (along.x != 0 || along.y != 0)
        at = centre (ink, at, geo_left (along), run->half);
      g_array_append_val (run->places, at);
    }
}

/* Near its ends a run runs into what it meets: there the middle is not its own. */
static void
trim (StrokeRun *run)
{
  guint off = (guint)ceil (run->half) + 1;
  if (run->round || run->places->len < 3 * off)
    return;
  run->cut = off;
  g_array_remove_range (run->places, run->places->len - off, off);
  g_array_remove_range (run->places, 0, off);
}

static void
add_run (StrokeInk *ink, gssize p, gboolean round, GArray *runs)
{
  g_autoptr (GArray) pixels = follow (ink, p);
  StrokeRun run = { NULL, 0, 0, FALSE };
  gssize last = g_array_index (pixels, gssize, pixels->len - 1);
  gssize dx = last % ink->width - p % ink->width,
         dy = last / ink->width - p / ink->width;
  run.round = round && pixels->len > 8 && ABS (dx) <= 1 && ABS (dy) <= 1;
  if (pixels->len < 4)
    return;
  settle (ink, pixels, &run);
  /* a tail as short as the line is wide is the pen's */
  if (run.places->len < 1.5 * run.half + 3)
    {
      stroke_run_clear (&run);
      return;
    }
  trim (&run);
  g_array_append_val (runs, run);
}

GArray *
stroke_runs (StrokeInk *ink)
{
  GArray *runs = g_array_new (FALSE, FALSE, sizeof (StrokeRun));
  g_array_set_clear_func (runs, stroke_run_clear);
  take_apart (ink);
  /* Those with ends first; what is left is round. */
  for (int round = 0; round < 2; round++)
    for (guint y = 1; y + 1 < ink->height; y++)
      for (guint x = 1; x + 1 < ink->width; x++)
        {
          gssize p = (gssize)y * ink->width + x;
          if (ink->at[p] && (round || count_beside (ink, p) <= 1))
            add_run (ink, p, round != 0, runs);
        }
  return runs;
}
