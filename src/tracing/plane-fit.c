/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plane laid through places of a picture whose true places are known.
 *
 * With u = (x, y, 1) a pixel and (X, Y) its place, X (m6 x + m7 y + 1) = m0 x + m1 y + m2 and
 * likewise Y: two linear equations a place for eight unknowns, once both sides are moved to their middle and
 * made of size 1 (R. Hartley, "In defense of the eight-point algorithm", IEEE PAMI 19, 1997, from memory), where the
 * horizon can't run through the middle, so that 1 is no loss. With more than four places that weighs them by their
 * depth; a few steps of Gauss and Newton then bring down the distances in mm themselves.
 */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "tracing/plane.h"

#define MOST_MM 100000.0
#define N 8
#define STEPS 20
#define LEAST_DEPTH                                                            \
  0.02            /* of the nearest: slanted more is no view to measure in */
#define FLAT 0.01 /* a corner that turns less, by its sine, is in a line */

static gboolean
no_scale (GError **error, const char *why)
{
  g_set_error_literal (error, TRACING_ERROR, TRACING_ERROR_SCALE, why);
  return FALSE;
}

/* --- least squares ------------------------------------------------------------ */
/* Makes column k of the rows zero below its diagonal by mirroring (Householder); FALSE
 * where nothing is left in it. */
static gboolean
mirror_column (double *rows, gsize n, gsize k)
{
  double norm = 0;
  for (gsize i = k; i < n; i++)
    norm += rows[i * (N + 1) + k] * rows[i * (N + 1) + k];
  norm = sqrt (norm);
  if (!(norm > 1e-10))
    return FALSE;
  double *head = &rows[k * (N + 1) + k];
  double alpha = *head > 0 ? -norm : norm;
  double first = *head - alpha; /* v = column - alpha e1 */
  double vv = norm * norm - 2 * alpha * *head + alpha * alpha;
  for (gsize j = k + 1; j <= N; j++)
    {
      double dot = first * rows[k * (N + 1) + j];
      for (gsize i = k + 1; i < n; i++)
        dot += rows[i * (N + 1) + k] * rows[i * (N + 1) + j];
      double f = 2 * dot / vv;
      rows[k * (N + 1) + j] -= f * first;
      for (gsize i = k + 1; i < n; i++)
        rows[i * (N + 1) + j] -= f * rows[i * (N + 1) + k];
    }
  *head = alpha;
  return TRUE;
}

/* rows: n times N coefficients and the right side, which are spent. */
static gboolean
solve (double *rows, gsize n, double x[N])
{
  for (gsize k = 0; k < N; k++)
    if (!mirror_column (rows, n, k))
      return FALSE;
  for (gsize k = N; k-- > 0;)
    {
      double sum = rows[k * (N + 1) + N];
      for (gsize j = k + 1; j < N; j++)
        sum -= rows[k * (N + 1) + j] * x[j];
      x[k] = sum / rows[k * (N + 1) + k];
    }
  for (gsize k = 0; k < N; k++)
    if (!isfinite (x[k]))
      return FALSE;
  return TRUE;
}

/* --- moved to the middle, and of size 1 ------------------------------------------ */
typedef struct
{
  GeoPoint middle;
  double size;
} Frame;

static Frame
frame_of (const GeoPoint *p, gsize n)
{
  Frame f = { { 0, 0 }, 0 };
  for (gsize i = 0; i < n; i++)
    f.middle = geo_along (f.middle, p[i], 1.0 / (double)n);
  for (gsize i = 0; i < n; i++)
    f.size += geo_distance (p[i], f.middle) / (double)n;
  return f;
}

static GeoPoint
into (Frame f, GeoPoint p)
{
  return geo_scale (geo_sub (p, f.middle), 1 / f.size);
}

/* m = F^-1 h E: from pixels to their frame, over, and out to mm. */
static void
out_of_frames (const double h[N], Frame px, Frame mm, double m[9])
{
  double full[9];
  memcpy (full, h, N * sizeof *h);
  full[8] = 1;
  for (guint r = 0; r < 3; r++)
    {
      double *row = &full[3 * r];
      row[2] -= (row[0] * px.middle.x + row[1] * px.middle.y) / px.size;
      row[0] /= px.size;
      row[1] /= px.size;
    }
  for (guint c = 0; c < 3; c++)
    {
      m[c] = mm.size * full[c] + mm.middle.x * full[6 + c];
      m[3 + c] = mm.size * full[3 + c] + mm.middle.y * full[6 + c];
      m[6 + c] = full[6 + c];
    }
  double top = fabs (m[8]);
  if (top > 1e-9)
    for (guint i = 0; i < 9; i++)
      m[i] /= top;
}

static void
set_linear (double *rows, gsize i, GeoPoint p, GeoPoint q)
{
  const double x[N + 1] = { p.x, p.y, 1, 0, 0, 0, -q.x * p.x, -q.x * p.y, q.x };
  const double y[N + 1] = { 0, 0, 0, p.x, p.y, 1, -q.y * p.x, -q.y * p.y, q.y };
  memcpy (&rows[2 * i * (N + 1)], x, sizeof x);
  memcpy (&rows[(2 * i + 1) * (N + 1)], y, sizeof y);
}

static double
depth (const double h[N], GeoPoint p)
{
  return h[6] * p.x + h[7] * p.y + 1;
}

/* The derivatives of the place by h, and how far it is off. Returns that distance squared. */
static double
set_step (double *rows, gsize i, const double h[N], GeoPoint p, GeoPoint q)
{
  double w = depth (h, p);
  double x = (h[0] * p.x + h[1] * p.y + h[2]) / w;
  double y = (h[3] * p.x + h[4] * p.y + h[5]) / w;
  set_linear (rows, i, p, geo_point (x, y));
  double *row = &rows[2 * i * (N + 1)];
  for (guint j = 0; j < 2 * (N + 1); j++)
    row[j] /= w;
  row[N] = q.x - x;
  row[N + 1 + N] = q.y - y;
  return row[N] * row[N] + row[N + 1 + N] * row[N + 1 + N];
}

static double
sum_off (const double h[N], const GeoPoint *p, const GeoPoint *q, gsize n,
         double *rows)
{
  double sum = 0;
  for (gsize i = 0; i < n; i++)
    if (!(depth (h, p[i]) > LEAST_DEPTH / 10))
      return INFINITY;
    else
      sum += set_step (rows, i, h, p[i], q[i]);
  return sum;
}

/* Gauss and Newton, each step halved while it makes things worse. */
static void
refine (double h[N], const GeoPoint *p, const GeoPoint *q, gsize n,
        double *rows)
{
  double sum = sum_off (h, p, q, n, rows);
  for (guint step = 0; step < STEPS && isfinite (sum) && sum > 1e-26; step++)
    {
      double by[N], next[N];
      if (!solve (rows, 2 * n, by))
        return;
      double share = 1, now = INFINITY;
      for (; share > 1e-3; share *= 0.5)
        {
          for (guint k = 0; k < N; k++)
            next[k] = h[k] + share * by[k];
          now = sum_off (next, p, q, n, rows);
          if (now <= sum)
            break;
        }
      if (!(now <= sum))
        return;
      gboolean done = now > sum * (1 - 1e-12);
      memcpy (h, next, sizeof next);
      sum = now;
      if (done)
        return;
    }
}

/* --- planes ----------------------------------------------------------------------- */
static gboolean
is_slanted (const double h[N], const GeoPoint *p, gsize n)
{
  double least = INFINITY, most = -INFINITY;
  for (gsize i = 0; i < n; i++)
    {
      least = fmin (least, depth (h, p[i]));
      most = fmax (most, depth (h, p[i]));
    }
  return !(least > LEAST_DEPTH * most);
}

static gboolean
are_usable (const GeoPoint *p, gsize n)
{
  for (gsize i = 0; i < n; i++)
    if (!isfinite (p[i].x) || !isfinite (p[i].y) || fabs (p[i].x) > 1e9
        || fabs (p[i].y) > 1e9)
      return FALSE;
  return TRUE;
}

gboolean
tracing_plane_from_places (const GeoPoint *px, const GeoPoint *mm, gsize n,
                           TracingPlane *plane, double *residual,
                           GError **error)
{
  if (n < 4 || !are_usable (px, n) || !are_usable (mm, n))
    return no_scale (error,
                     _ ("four places or more are needed, each with where "
                        "it truly is"));
  Frame from = frame_of (px, n), to = frame_of (mm, n);
  if (!(from.size > 0.5) || !(to.size > 1e-3))
    return no_scale (error, _ ("the places are all one: set them far apart"));
  if (to.size > MOST_MM)
    return no_scale (error, _ ("a true length is above 0, and 100 m at most"));
  g_autofree GeoPoint *p = g_new (GeoPoint, n), *q = g_new (GeoPoint, n);
  g_autofree double *rows = g_new0 (double, 2 * n * (N + 1));
  for (gsize i = 0; i < n; i++)
    {
      p[i] = into (from, px[i]);
      q[i] = into (to, mm[i]);
      set_linear (rows, i, p[i], q[i]);
    }
  double h[N];
  if (!solve (rows, 2 * n, h))
    return no_scale (error, _ ("the places lie in a line: they must go round a "
                               "part of the table, as corners do"));
  if (is_slanted (h, p, n))
    return no_scale (error,
                     _ ("the picture is taken so slantwise that it can't "
                        "be measured; take it from above the table"));
  if (n > 4)
    refine (h, p, q, n, rows);
  out_of_frames (h, from, to, plane->m);
  double worst = 0;
  for (gsize i = 0; i < n; i++)
    worst = fmax (worst,
                  geo_distance (tracing_plane_to_mm (plane, px[i]), mm[i]));
  if (residual != NULL)
    *residual = worst;
  return TRUE;
}

/* The sine of the turn at corner i. */
static double
corner_turn (const GeoPoint c[4], guint i)
{
  GeoPoint in = geo_unit (geo_sub (c[i], c[(i + 3) % 4]));
  GeoPoint out = geo_unit (geo_sub (c[(i + 1) % 4], c[i]));
  return geo_cross (in, out);
}

/* 1 or -1 as they go round; 0 with the error set where they are no corners. */
static int
look_at_corners (const GeoPoint c[4], GError **error)
{
  int left = 0;
  gboolean flat = FALSE;
  for (guint i = 0; i < 4; i++)
    for (guint j = 0; j < i; j++)
      if (!(geo_distance (c[i], c[j]) >= 2))
        return no_scale (error, _ ("two corners are in one place: set them at "
                                   "the four corners of the sheet"));
  for (guint i = 0; i < 4; i++)
    {
      double turn = corner_turn (c, i);
      flat = flat || fabs (turn) < FLAT;
      left += turn > 0 ? 1 : -1;
    }
  if (flat)
    return no_scale (error, _ ("three of the corners lie in a line: set them "
                               "at the four corners of the sheet"));
  if (left == 0)
    return no_scale (error, _ ("the corners cross: give them in order round "
                               "the sheet"));
  if (left != 4 && left != -4)
    return no_scale (error, _ ("one corner lies between the others: set them "
                               "at the four corners of the sheet"));
  return left / 4;
}

/* Turned by quarter turns about the first corner until what lies right in the picture
 * lies most nearly right on the table. */
static void
set_upright (const GeoPoint px[4], GeoPoint mm[4])
{
  TracingPlane plane;
  if (!tracing_plane_from_places (px, mm, 4, &plane, NULL, NULL))
    return;
  GeoPoint middle = { 0, 0 };
  for (guint i = 0; i < 4; i++)
    middle = geo_along (middle, px[i], 0.25);
  GeoPoint way = geo_sub (
      tracing_plane_to_mm (&plane, geo_point (middle.x + 0.5, middle.y)),
      tracing_plane_to_mm (&plane, geo_point (middle.x - 0.5, middle.y)));
  guint turns = 0;
  if (fabs (way.y) > fabs (way.x))
    turns = way.y > 0 ? 3 : 1;
  else if (way.x < 0)
    turns = 2;
  for (; turns > 0; turns--)
    for (guint i = 0; i < 4; i++)
      mm[i] = geo_left (mm[i]);
}

gboolean
tracing_plane_from_corners (const GeoPoint corners[4], double width,
                            double height, TracingPlane *plane, GError **error)
{
  if (!(width > 0) || !(height > 0) || width > MOST_MM || height > MOST_MM)
    return no_scale (error, _ ("the sheet's sides are above 0, and 100 m at "
                               "most"));
  if (!are_usable (corners, 4))
    return no_scale (error, _ ("four corners are needed"));
  int way = look_at_corners (corners, error);
  if (way == 0)
    return FALSE;
  /* Gone round the other way it must not come out turned over. */
  double down = way > 0 ? height : -height;
  GeoPoint mm[4] = { { 0, 0 }, { width, 0 }, { width, down }, { 0, down } };
  set_upright (corners, mm);
  return tracing_plane_from_places (corners, mm, 4, plane, NULL, error);
}

/* --- the view's own word on the sides ------------------------------------------------ */
typedef struct
{
  double x, y, z;
} Three;

static Three
three_cross (Three a, Three b)
{
  return (Three){ a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z,
                  a.x * b.y - a.y * b.x };
}
static double
three_dot (Three a, Three b)
{
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
/* k a - b */
static Three
three_less (Three a, double k, Three b)
{
  return (Three){ k * a.x - b.x, k * a.y - b.y, k * a.z - b.z };
}

/* Width over height by a focal length (px). */
static double
ratio_by (Three across, Three down, double focal)
{
  double a = (across.x * across.x + across.y * across.y) / (focal * focal)
             + across.z * across.z;
  double d
      = (down.x * down.x + down.y * down.y) / (focal * focal) + down.z * down.z;
  return d > 0 ? sqrt (a / d) : 0;
}

/* The first corner seen at m1, the ones beside it at m2 (across) and m3 (down), the far one at m4, all as rays
 * (x, y, 1) about the picture's middle. The four rays' lengths to the rectangle follow from its being one:
 * k2 m2 - m1 is its width's direction, k3 m3 - m1 its height's, in a camera of focal length 1; that the two are square tells
 * the focal length f: (x x' + y y') / f^2 + z z' = 0. (Z. Zhang, L. He, "Whiteboard scanning and image
 * enhancement", Digital Signal Processing 17, 2007, from memory.) */
double
tracing_plane_side_ratio (const GeoPoint corners[4], double width,
                          double height, guint picture_width,
                          guint picture_height)
{
  if (look_at_corners (corners, NULL) == 0 || !(width > 0) || !(height > 0))
    return 0;
  double size = MAX (picture_width, picture_height);
  Three m[4];
  for (guint i = 0; i < 4; i++)
    m[i] = (Three){ (corners[i].x - 0.5 * picture_width) / size,
                    (corners[i].y - 0.5 * picture_height) / size, 1 };
  Three side = three_cross (m[0], m[2]);
  double k2
      = three_dot (side, m[3]) / three_dot (three_cross (m[1], m[2]), m[3]);
  double k3
      = three_dot (side, m[1]) / three_dot (three_cross (m[3], m[2]), m[1]);
  Three across = three_less (m[1], k2, m[0]);
  Three down = three_less (m[3], k3, m[0]);
  double square
      = -(across.x * down.x + across.y * down.y) / (across.z * down.z);
  double told = height / width;
  /* Lenses there are: 0.4 to 5 times the picture's longer side. */
  if (square > 0.16 && square < 25
      && fmin (fabs (across.z), fabs (down.z)) > 0.02)
    return told * ratio_by (across, down, sqrt (square));
  /* Nearly from above any lens gives about the same. */
  double wide = ratio_by (across, down, 0.6);
  double far = ratio_by (across, down, 2);
  return fabs (wide - far) < 0.1 * far ? told * 0.5 * (wide + far) : 0;
}
