/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/sight.h"

#include <math.h>
#include <string.h>

#define MOST_COPIES 12
#define LEAST_SIDE 64

typedef struct
{
  guint width, height, shrink;
  gsize stride;
  const guint8 *rgb;
  guint8 *own; /* NULL: the picture's */
} Copy;

struct _AppSight
{
  gatomicrefcount refs;
  TracingPicture *picture;
  Copy copies[MOST_COPIES]; /* each half as large as the one before */
  guint n_copies;
};

/* --- smaller copies ------------------------------------------------------------------ */

/* Each pixel the mean of four; an odd last row or column is left out. */
static void
halve (const Copy *from, Copy *to)
{
  to->width = from->width / 2;
  to->height = from->height / 2;
  to->shrink = from->shrink * 2;
  to->stride = (gsize)to->width * 3;
  to->own = g_malloc (to->stride * to->height);
  to->rgb = to->own;
  for (guint y = 0; y < to->height; y++)
    {
      const guint8 *a = from->rgb + 2 * (gsize)y * from->stride;
      const guint8 *b = a + from->stride;
      guint8 *out = to->own + (gsize)y * to->stride;
      for (guint x = 0; x < to->width; x++, a += 6, b += 6, out += 3)
        for (int k = 0; k < 3; k++)
          out[k] = (guint8)((a[k] + a[k + 3] + b[k] + b[k + 3] + 2) / 4);
    }
}

AppSight *
app_sight_new (TracingPicture *picture)
{
  AppSight *sight = g_new0 (AppSight, 1);
  g_atomic_ref_count_init (&sight->refs);
  sight->picture = tracing_picture_ref (picture);
  sight->copies[0] = (Copy){ tracing_picture_get_width (picture),
                             tracing_picture_get_height (picture),
                             1,
                             tracing_picture_get_stride (picture),
                             tracing_picture_get_rgb (picture),
                             NULL };
  sight->n_copies = 1;
  while (sight->n_copies < MOST_COPIES)
    {
      const Copy *last = &sight->copies[sight->n_copies - 1];
      if (MIN (last->width, last->height) < 2 * LEAST_SIDE)
        break;
      halve (last, &sight->copies[sight->n_copies++]);
    }
  return sight;
}

AppSight *
app_sight_ref (AppSight *sight)
{
  g_atomic_ref_count_inc (&sight->refs);
  return sight;
}

void
app_sight_unref (AppSight *sight)
{
  if (sight == NULL || !g_atomic_ref_count_dec (&sight->refs))
    return;
  for (guint i = 0; i < sight->n_copies; i++)
    g_free (sight->copies[i].own);
  tracing_picture_unref (sight->picture);
  g_free (sight);
}

TracingPicture *
app_sight_get_picture (AppSight *sight)
{
  return sight->picture;
}

/* --- what is seen --------------------------------------------------------------------- */

static gboolean
place (const double m[9], double x, double y, double *px, double *py)
{
  double w = m[6] * x + m[7] * y + m[8];
  if (!(w > 1e-12))
    return FALSE;
  *px = (m[0] * x + m[1] * y + m[2]) / w;
  *py = (m[3] * x + m[4] * y + m[5]) / w;
  return TRUE;
}

/* Pixels of the picture to one of the screen, in the middle of what is seen. */
static double
pixels_to_one (const double m[9], int width, int height)
{
  double x[3], y[3];
  double cx = width / 2.0, cy = height / 2.0;
  if (!place (m, cx, cy, &x[0], &y[0]) || !place (m, cx + 1, cy, &x[1], &y[1])
      || !place (m, cx, cy + 1, &x[2], &y[2]))
    return 1;
  double area = (x[1] - x[0]) * (y[2] - y[0]) - (x[2] - x[0]) * (y[1] - y[0]);
  return sqrt (fabs (area));
}

static const Copy *
copy_for (const AppSight *sight, double pixels)
{
  guint i = 0;
  while (i + 1 < sight->n_copies && sight->copies[i + 1].shrink <= pixels * 1.2)
    i++;
  return &sight->copies[i];
}

/* Between four pixels, in 256ths. x and y: in the copy's pixels, of whose middles there are whole
 * numbers. */
static inline guint32
between (const Copy *copy, double x, double y)
{
  int fx = (int)lrint (fmax (0, fmin (x, copy->width - 1.0)) * 256);
  int fy = (int)lrint (fmax (0, fmin (y, copy->height - 1.0)) * 256);
  guint ix = MIN ((guint)fx >> 8, copy->width - 2);
  guint iy = MIN ((guint)fy >> 8, copy->height - 2);
  guint u = (guint)fx - (ix << 8), v = (guint)fy - (iy << 8);
  const guint8 *a = copy->rgb + iy * copy->stride + 3 * (gsize)ix;
  const guint8 *b = a + copy->stride;
  guint32 rgb = 0;
  for (int k = 0; k < 3; k++)
    {
      guint top = a[k] * (256 - u) + a[k + 3] * u;
      guint foot = b[k] * (256 - u) + b[k + 3] * u;
      rgb = (rgb << 8) | ((top * (256 - v) + foot * v + 32768) >> 16);
    }
  return rgb;
}

static inline guint32
mixed (guint32 rgb, guint32 with, guint part)
{
  guint32 out = 0;
  for (int shift = 16; shift >= 0; shift -= 8)
    {
      guint a = (rgb >> shift) & 255, b = (with >> shift) & 255;
      out = (out << 8) | ((a * (256 - part) + b * part) >> 8);
    }
  return out;
}

typedef struct
{
  guint32 colour;
  guint alpha; /* of 256 */
} Tint;

static inline guint32
tinted (guint32 rgb, const AppSightTint *tint, Tint how, double x, double y)
{
  guint mx = MIN ((guint)(x / tint->shrink), tint->width - 1);
  guint my = MIN ((guint)(y / tint->shrink), tint->height - 1);
  guint part = tint->bytes[my * tint->stride + mx];
  return part == 0 ? rgb : mixed (rgb, how.colour, part * how.alpha / 255);
}

static void
render_row (const AppSight *sight, const Copy *copy, const double m[9],
            double sy, int width, const AppSightTint *tint, Tint how,
            guint32 *row)
{
  double w = sight->copies[0].width, h = sight->copies[0].height;
  double shrink = copy->shrink;
  for (int i = 0; i < width; i++)
    {
      double x, y;
      if (!place (m, i + 0.5, sy, &x, &y) || x < 0 || y < 0 || x >= w || y >= h)
        {
          row[i] = 0;
          continue;
        }
      guint32 rgb = between (copy, x / shrink - 0.5, y / shrink - 0.5);
      if (tint != NULL)
        rgb = tinted (rgb, tint, how, x, y);
      row[i] = 0xff000000u | rgb;
    }
}

cairo_surface_t *
app_sight_render (AppSight *sight, const double to_px[9], int width, int height,
                  const AppSightTint *tint)
{
  cairo_surface_t *surface = cairo_image_surface_create (
      CAIRO_FORMAT_ARGB32, MAX (width, 1), MAX (height, 1));
  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS)
    return surface;
  const Copy *copy = copy_for (sight, pixels_to_one (to_px, width, height));
  if (copy->width < 2 || copy->height < 2)
    return surface;
  if (tint != NULL && (tint->bytes == NULL || tint->shrink == 0))
    tint = NULL;
  Tint how = { 0, 0 };
  if (tint != NULL)
    {
      how.colour = (guint32)lrint (tint->r * 255) << 16
                   | (guint32)lrint (tint->g * 255) << 8
                   | (guint32)lrint (tint->b * 255);
      how.alpha = (guint)lrint (tint->alpha * 256);
    }
  cairo_surface_flush (surface);
  guint8 *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  for (int y = 0; y < height; y++)
    render_row (sight, copy, to_px, y + 0.5, width, tint, how,
                (guint32 *)(void *)(data + (gsize)y * (gsize)stride));
  cairo_surface_mark_dirty (surface);
  return surface;
}

/* A plane takes places in the picture to the table; its adjugate takes them back, but for a factor,
 * whose sign is set so that what is seen has w > 0. A pixel of the view lies on the table
 * at origin + pixel / scale. */
gboolean
app_sight_matrix (const TracingPlane *plane, double scale, GeoPoint origin,
                  double to_px[9])
{
  const double *m = plane->m;
  double back[9] = {
    m[4] * m[8] - m[5] * m[7], m[2] * m[7] - m[1] * m[8],
    m[1] * m[5] - m[2] * m[4], m[5] * m[6] - m[3] * m[8],
    m[0] * m[8] - m[2] * m[6], m[2] * m[3] - m[0] * m[5],
    m[3] * m[7] - m[4] * m[6], m[1] * m[6] - m[0] * m[7],
    m[0] * m[4] - m[1] * m[3],
  };
  double det = m[0] * back[0] + m[1] * back[3] + m[2] * back[6];
  if (!isfinite (det) || det == 0 || !(scale > 0))
    return FALSE;
  for (int i = 0; i < 3; i++)
    {
      double a = back[3 * i] / det, b = back[3 * i + 1] / det,
             c = back[3 * i + 2] / det;
      to_px[3 * i] = a / scale;
      to_px[3 * i + 1] = b / scale;
      to_px[3 * i + 2] = a * origin.x + b * origin.y + c;
    }
  return TRUE;
}
