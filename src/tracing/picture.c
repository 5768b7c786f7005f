/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tracing/picture.h"

struct _TracingPicture
{
  gatomicrefcount refs;
  guint width, height;
  gsize stride;
  const guint8 *rgb;
  GeoPoint dots_mm;
  GDestroyNotify free_rgb;
  gpointer data;
};

G_DEFINE_QUARK (tracing - error - quark, tracing_error)

TracingPicture *
tracing_picture_new (guint width, guint height, gsize stride, const guint8 *rgb,
                     GeoPoint dots_mm, GDestroyNotify free_rgb, gpointer data)
{
  TracingPicture *picture = g_new0 (TracingPicture, 1);
  g_atomic_ref_count_init (&picture->refs);
  picture->width = width;
  picture->height = height;
  picture->stride = stride;
  picture->rgb = rgb;
  picture->dots_mm = dots_mm;
  picture->free_rgb = free_rgb;
  picture->data = data;
  return picture;
}

TracingPicture *
tracing_picture_ref (TracingPicture *picture)
{
  g_atomic_ref_count_inc (&picture->refs);
  return picture;
}

void
tracing_picture_unref (TracingPicture *picture)
{
  if (picture == NULL || !g_atomic_ref_count_dec (&picture->refs))
    return;
  if (picture->free_rgb != NULL)
    picture->free_rgb (picture->data);
  g_free (picture);
}

guint
tracing_picture_get_width (const TracingPicture *picture)
{
  return picture->width;
}

guint
tracing_picture_get_height (const TracingPicture *picture)
{
  return picture->height;
}

gsize
tracing_picture_get_stride (const TracingPicture *picture)
{
  return picture->stride;
}

const guint8 *
tracing_picture_get_rgb (const TracingPicture *picture)
{
  return picture->rgb;
}

GeoPoint
tracing_picture_get_dots_mm (const TracingPicture *picture)
{
  return picture->dots_mm;
}
