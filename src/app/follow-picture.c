/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a picture has a line near a place.
 *
 * The neighbourhood is brought to about four px a mm by averaging, and smoothed by (1 2 1) / 4 four times each way, a
 * Gaussian of variance 2. With g the slope and H the second derivatives of that, a dark line's middle is where H's larger
 * eigenvalue l, across the line along n, is strong and t = -g.n / l is within a pixel; beside a mere edge t is the Gaussian's
 * own width, so that it is not taken for one (C. Steger, 1998, from memory). An edge is where |g| has its
 * peak along g, by a parabola through three. */
#include "app/follow-picture.h"

#include <string.h>

#include "app/picture-sights.h"

#define DOTS_MM 4.0
#define MOST_SIDE 160 /* px of the neighbourhood: a larger reach is cut */
#define MARGIN 6
#define LEAST_LINE 4.0 /* of 255, second difference */
#define LEAST_EDGE 4.0 /* of 255 a px */

/* --- the neighbourhood ---------------------------------------------------------------- */

typedef struct
{
  int side, shrink, x0, y0; /* x0, y0: px of the picture at its corner */
  float *light, *other;
} Patch;

static float
light_of (TracingPicture *pixels, int x, int y, int shrink)
{
  int w = (int)tracing_picture_get_width (pixels);
  int h = (int)tracing_picture_get_height (pixels);
  gsize stride = tracing_picture_get_stride (pixels);
  const guint8 *rgb = tracing_picture_get_rgb (pixels);
  int sum = 0;
  for (int dy = 0; dy < shrink; dy++)
    for (int dx = 0; dx < shrink; dx++)
      {
        const guint8 *p = rgb + (gsize)CLAMP (y + dy, 0, h - 1) * stride
                          + 3 * (gsize)CLAMP (x + dx, 0, w - 1);
        sum += 77 * p[0] + 150 * p[1] + 29 * p[2];
      }
  return (float)sum / (256.0f * (float)(shrink * shrink));
}

static void
smooth (Patch *p)
{
  int n = p->side;
  for (int turn = 0; turn < 8; turn++)
    {
      int step = turn % 2 ? n : 1;
      for (int y = 0; y < n; y++)
        for (int x = 0; x < n; x++)
          {
            int i = y * n + x, k = turn % 2 ? y : x;
            float before = p->light[k > 0 ? i - step : i];
            float after = p->light[k < n - 1 ? i + step : i];
            p->other[i] = (before + 2 * p->light[i] + after) / 4;
          }
      float *swap = p->light;
      p->light = p->other;
      p->other = swap;
    }
}

static Patch
patch_new (TracingPicture *pixels, GeoPoint at, double reach, double dots)
{
  int shrink = (int)CLAMP (lround (dots / DOTS_MM), 1, 16);
  int half = (int)ceil (reach / shrink) + MARGIN;
  half = MIN (half, MOST_SIDE / 2);
  Patch p = { .side = 2 * half + 1,
              .shrink = shrink,
              .x0 = (int)floor (at.x) - half * shrink,
              .y0 = (int)floor (at.y) - half * shrink };
  p.light = g_new (float, (gsize)p.side *(gsize)p.side);
  p.other = g_new (float, (gsize)p.side *(gsize)p.side);
  for (int y = 0; y < p.side; y++)
    for (int x = 0; x < p.side; x++)
      p.light[y * p.side + x]
          = light_of (pixels, p.x0 + x * shrink, p.y0 + y * shrink, shrink);
  smooth (&p);
  return p;
}

static double
at_px (const Patch *p, int x, int y)
{
  return (double)p->light[y * p->side + x];
}

static GeoPoint
slope_at (const Patch *p, int x, int y)
{
  return geo_point ((at_px (p, x + 1, y) - at_px (p, x - 1, y)) / 2,
                    (at_px (p, x, y + 1) - at_px (p, x, y - 1)) / 2);
}

/* --- lines and edges ------------------------------------------------------------------- */

/* The place of a line's middle in the pixel, in px of the patch. */
static gboolean
line_in (const Patch *p, int x, int y, GeoPoint *place)
{
  GeoPoint g = slope_at (p, x, y);
  double xx = at_px (p, x + 1, y) - 2 * at_px (p, x, y) + at_px (p, x - 1, y);
  double yy = at_px (p, x, y + 1) - 2 * at_px (p, x, y) + at_px (p, x, y - 1);
  double xy = (at_px (p, x + 1, y + 1) - at_px (p, x - 1, y + 1)
               - at_px (p, x + 1, y - 1) + at_px (p, x - 1, y - 1))
              / 4;
  double l = (xx + yy) / 2 + hypot ((xx - yy) / 2, xy);
  double turn = 0.5 * atan2 (2 * xy, xx - yy);
  GeoPoint n = { cos (turn), sin (turn) };
  if (l < LEAST_LINE)
    return FALSE;
  double t = -geo_dot (g, n) / l;
  *place = geo_along (geo_point (x + 0.5, y + 0.5), n, t);
  return fabs (t * n.x) <= 0.6 && fabs (t * n.y) <= 0.6;
}

static gboolean
edge_in (const Patch *p, int x, int y, GeoPoint *place)
{
  GeoPoint g = slope_at (p, x, y);
  double here = geo_norm (g);
  if (here < LEAST_EDGE)
    return FALSE;
  GeoPoint way = geo_unit (g);
  /* Neighbours along the slope, by the four pixels about them. */
  double beside[2];
  for (int k = 0; k < 2; k++)
    {
      GeoPoint q = geo_along (geo_point (x, y), way, k ? 1 : -1);
      int x0 = (int)floor (q.x), y0 = (int)floor (q.y);
      double u = q.x - x0, v = q.y - y0;
      beside[k] = (1 - v)
                      * ((1 - u) * geo_norm (slope_at (p, x0, y0))
                         + u * geo_norm (slope_at (p, x0 + 1, y0)))
                  + v
                        * ((1 - u) * geo_norm (slope_at (p, x0, y0 + 1))
                           + u * geo_norm (slope_at (p, x0 + 1, y0 + 1)));
    }
  double bend = beside[0] - 2 * here + beside[1];
  if (here < beside[0] || here < beside[1] || bend >= 0)
    return FALSE;
  double t = (beside[0] - beside[1]) / (2 * bend);
  *place = geo_along (geo_point (x + 0.5, y + 0.5), way, t);
  return TRUE;
}

gboolean
app_follow_picture_find (TracingPicture *pixels, GeoPoint at, double reach,
                         double dots, GeoPoint *found)
{
  g_return_val_if_fail (pixels != NULL && found != NULL, FALSE);
  Patch p = patch_new (pixels, at, reach, dots);
  double least[2] = { reach, reach };
  GeoPoint best[2];
  gboolean any[2] = { FALSE, FALSE };
  for (int y = 3; y < p.side - 3; y++)
    for (int x = 3; x < p.side - 3; x++)
      for (int kind = 0; kind < 2; kind++)
        {
          GeoPoint q;
          if (!(kind == 0 ? line_in (&p, x, y, &q) : edge_in (&p, x, y, &q)))
            continue;
          q = geo_point (p.x0 + q.x * p.shrink, p.y0 + q.y * p.shrink);
          double far = geo_distance (q, at);
          if (far > least[kind])
            continue;
          least[kind] = far;
          best[kind] = q;
          any[kind] = TRUE;
        }
  g_free (p.light);
  g_free (p.other);
  if (any[0] || any[1])
    *found = any[0] ? best[0] : best[1];
  return any[0] || any[1];
}

/* --- snapping --------------------------------------------------------------------------------- */

static gboolean
snap (AppSession *session, GeoPoint at, double reach, GeoPoint *snapped,
      gpointer data)
{
  (void)data;
  const Pattern *p = app_session_get_shown (session);
  GeoPoint px, beside, found;
  const PatternPicture *picture
      = pattern_get_picture (p, app_picture_at (p, at, &px));
  AppSight *sight
      = picture != NULL ? app_picture_sight (session, picture) : NULL;
  if (sight == NULL
      || !pattern_picture_to_table (picture, geo_add (px, geo_point (1, 0)),
                                    &beside))
    return FALSE;
  double dots = 1 / fmax (geo_distance (beside, at), 1e-6);
  return app_follow_picture_find (app_sight_get_picture (sight), px,
                                  reach * dots, dots, &found)
         && pattern_picture_to_table (picture, found, snapped);
}

void
app_follow_picture_start (AppSession *session)
{
  app_follow_set_snap (session, snap, NULL, NULL);
}
