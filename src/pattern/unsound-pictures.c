/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What unsound.c asks of pictures. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "pattern/unsound.h"

#define FARTHEST 1e5 /* mm: 100 m */
#define FARTHEST_PX 1e6
#define LARGEST 1e7 /* of a plane's numbers */
#define NOT_RIGID 1e-6

static gboolean
is_digest (const char *text)
{
  return text != NULL && strlen (text) == 64
         && strspn (text, "0123456789abcdef") == 64;
}

static gboolean
in_reach (double number)
{
  return isfinite (number) && fabs (number) <= FARTHEST;
}

/* The whole picture lies before the horizon, within reach, and is not pressed into a line: a projective
 * map that keeps the four corners before it keeps all between them there. */
static gboolean
plane_is_sound (const PatternPicture *p)
{
  double w = p->width, h = p->height;
  const double *m = p->plane;
  for (guint i = 0; i < 9; i++)
    if (!isfinite (m[i]) || fabs (m[i]) > LARGEST)
      return FALSE;
  GeoPoint px[4] = { { 0, 0 }, { w, 0 }, { w, h }, { 0, h } };
  double middle = m[6] * w / 2 + m[7] * h / 2 + m[8], area = 0;
  GeoPoint at[4];
  for (guint i = 0; i < 4; i++)
    if (!((m[6] * px[i].x + m[7] * px[i].y + m[8]) * middle > 0)
        || !pattern_picture_to_table (p, px[i], &at[i]) || !in_reach (at[i].x)
        || !in_reach (at[i].y))
      return FALSE;
  for (guint i = 0; i < 4; i++)
    area += geo_cross (at[i], at[(i + 1) % 4]) / 2;
  return fabs (area) > 1e-6 * w * h;
}

static gboolean
place_is_sound (const PatternPicture *p)
{
  return isfinite (p->place.c) && isfinite (p->place.s)
         && fabs (hypot (p->place.c, p->place.s) - 1) <= NOT_RIGID
         && in_reach (p->place.dx) && in_reach (p->place.dy);
}

static gboolean
size_is_sound (const PatternPicture *p)
{
  for (guint i = 0; i < 4; i++)
    if (!isfinite (p->places[i].x) || fabs (p->places[i].x) > FARTHEST_PX
        || !isfinite (p->places[i].y) || fabs (p->places[i].y) > FARTHEST_PX)
      return FALSE;
  return (guint)p->size <= PATTERN_SIZE_CORNERS && in_reach (p->true_width)
         && p->true_width >= 0 && in_reach (p->true_height)
         && p->true_height >= 0;
}

char *
pattern_picture_unsound (const PatternPicture *p)
{
  if (!p->name)
    return g_strdup (_ ("A picture has no name, not even an empty one."));
  if (p->width < 1 || p->width > PATTERN_PICTURE_MOST_SIDE || p->height < 1
      || p->height > PATTERN_PICTURE_MOST_SIDE)
    return g_strdup_printf (_ ("The picture “%s” has sides no picture has."),
                            p->name);
  if (!(p->strength >= 0 && p->strength <= 1) || !size_is_sound (p))
    return g_strdup_printf (_ ("A figure of the picture “%s” makes no sense."),
                            p->name);
  if (!place_is_sound (p))
    return g_strdup_printf (
        _ ("The picture “%s” lies more than 100 m away, or nowhere."), p->name);
  if (!plane_is_sound (p))
    return g_strdup_printf (
        _ ("The true size of the picture “%s” makes no sense: part of it would "
           "lie in a line, or more than 100 m away."),
        p->name);
  if (p->bytes == NULL ? p->beside == NULL : p->digest == NULL)
    return g_strdup_printf (_ ("The picture “%s” is kept nowhere."), p->name);
  if (p->digest != NULL && !is_digest (p->digest))
    return g_strdup_printf (
        _ ("What the picture “%s” is known by is no SHA-256 digest."), p->name);
  return NULL;
}

char *
pattern_unsound_pictures (const Pattern *pattern)
{
  for (guint i = 0; i < pattern->n_pictures; i++)
    {
      char *words = pattern_picture_unsound (pattern->pictures[i]);
      if (words)
        return words;
    }
  return NULL;
}
