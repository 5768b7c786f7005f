/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/picture.h"

#include <math.h>

PatternPicture *
pattern_picture_new (guint id, const char *name, GBytes *bytes, guint width,
                     guint height)
{
  PatternPicture *picture = g_new0 (PatternPicture, 1);
  g_atomic_ref_count_init (&picture->refs);
  picture->id = id;
  picture->name = g_strdup (name);
  if (bytes != NULL)
    {
      picture->bytes = g_bytes_ref (bytes);
      picture->digest = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
    }
  picture->width = width;
  picture->height = height;
  picture->plane[0] = picture->plane[4] = picture->plane[8] = 1;
  picture->place = (GeoMotion){ .c = 1 };
  picture->strength = 0.5;
  return picture;
}

PatternPicture *
pattern_picture_dup (const PatternPicture *picture)
{
  PatternPicture *copy = g_new (PatternPicture, 1);
  *copy = *picture;
  g_atomic_ref_count_init (&copy->refs);
  copy->name = g_strdup (picture->name);
  copy->bytes = picture->bytes != NULL ? g_bytes_ref (picture->bytes) : NULL;
  copy->beside = g_strdup (picture->beside);
  copy->digest = g_strdup (picture->digest);
  copy->extra = g_strdup (picture->extra);
  return copy;
}

PatternPicture *
pattern_picture_ref (const PatternPicture *picture)
{
  PatternPicture *shared = (PatternPicture *)picture;
  g_atomic_ref_count_inc (&shared->refs);
  return shared;
}

void
pattern_picture_unref (PatternPicture *picture)
{
  if (picture == NULL || !g_atomic_ref_count_dec (&picture->refs))
    return;
  g_free (picture->name);
  g_clear_pointer (&picture->bytes, g_bytes_unref);
  g_free (picture->beside);
  g_free (picture->digest);
  g_free (picture->extra);
  g_free (picture);
}

gboolean
pattern_picture_equal (const PatternPicture *a, const PatternPicture *b)
{
  if (a == b)
    return TRUE;
  if (a->id != b->id || a->width != b->width || a->height != b->height
      || a->size != b->size || a->hidden != b->hidden || a->locked != b->locked
      || g_strcmp0 (a->name, b->name) != 0
      || g_strcmp0 (a->digest, b->digest) != 0
      || g_strcmp0 (a->beside, b->beside) != 0
      || g_strcmp0 (a->extra, b->extra) != 0)
    return FALSE;
  for (guint i = 0; i < 4; i++)
    if (a->places[i].x != b->places[i].x || a->places[i].y != b->places[i].y)
      return FALSE;
  for (guint i = 0; i < 9; i++)
    if (a->plane[i] != b->plane[i])
      return FALSE;
  return a->true_width == b->true_width && a->true_height == b->true_height
         && a->strength == b->strength && a->place.c == b->place.c
         && a->place.s == b->place.s && a->place.dx == b->place.dx
         && a->place.dy == b->place.dy && a->place.flip == b->place.flip;
}

/* Which side of the horizon is before the camera: the one the picture's middle lies on. */
static double
middle_depth (const PatternPicture *p)
{
  return p->plane[6] * p->width / 2 + p->plane[7] * p->height / 2 + p->plane[8];
}

gboolean
pattern_picture_to_table (const PatternPicture *picture, GeoPoint px,
                          GeoPoint *at)
{
  const double *m = picture->plane;
  double w = m[6] * px.x + m[7] * px.y + m[8];
  if (!(w * middle_depth (picture) > 0))
    return FALSE;
  GeoPoint sheet = { (m[0] * px.x + m[1] * px.y + m[2]) / w,
                     (m[3] * px.x + m[4] * px.y + m[5]) / w };
  *at = geo_motion_apply (picture->place, sheet);
  return isfinite (at->x) && isfinite (at->y);
}

/* By the adjugate: the inverse but for a factor, which homogeneous coordinates do not
 * feel. */
gboolean
pattern_picture_to_px (const PatternPicture *picture, GeoPoint at, GeoPoint *px)
{
  const double *m = picture->plane;
  GeoPoint s = geo_motion_apply (geo_motion_inverse (picture->place), at);
  double x = (m[4] * m[8] - m[5] * m[7]) * s.x
             + (m[2] * m[7] - m[1] * m[8]) * s.y + m[1] * m[5] - m[2] * m[4];
  double y = (m[5] * m[6] - m[3] * m[8]) * s.x
             + (m[0] * m[8] - m[2] * m[6]) * s.y + m[2] * m[3] - m[0] * m[5];
  double w = (m[3] * m[7] - m[4] * m[6]) * s.x
             + (m[1] * m[6] - m[0] * m[7]) * s.y + m[0] * m[4] - m[1] * m[3];
  GeoPoint back = { x / w, y / w }, again;
  if (!isfinite (back.x) || !isfinite (back.y)
      || !pattern_picture_to_table (picture, back, &again))
    return FALSE;
  *px = back;
  return TRUE;
}

void
pattern_picture_corners (const PatternPicture *picture, GeoPoint corners[4])
{
  double w = picture->width, h = picture->height;
  GeoPoint px[4] = { { 0, 0 }, { w, 0 }, { w, h }, { 0, h } };
  for (guint i = 0; i < 4; i++)
    if (!pattern_picture_to_table (picture, px[i], &corners[i]))
      corners[i] = geo_motion_apply (picture->place, geo_point (0, 0));
}
