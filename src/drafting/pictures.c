/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures under the table: put there, moved, shown, taken away. */
#include <glib/gi18n.h>
#include <math.h>

#include "drafting/edit-private.h"

static const PatternPicture *
find_picture (const Pattern *p, guint picture, GError **error)
{
  const PatternPicture *found = pattern_get_picture (p, picture);
  if (!found)
    drafting_refuse (error, DRAFTING_ERROR_GONE,
                     _ ("That picture is no longer under the table: it was "
                        "removed, or its bringing in was undone."));
  return found;
}

static PatternPicture *
begin (const Pattern *p, guint picture, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  const PatternPicture *found = find_picture (p, picture, error);
  return found ? pattern_picture_dup (found) : NULL;
}

/* Takes over the altered picture. */
static Pattern *
finish (const Pattern *p, PatternPicture *altered, GError **error)
{
  g_autofree char *unsound = pattern_picture_unsound (altered);
  if (unsound)
    {
      pattern_picture_unref (altered);
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       /* Translators: %s is a whole sentence. */
                       _ ("%s Nothing was changed."), unsound);
      return NULL;
    }
  Pattern *result = pattern_dup (p);
  if (altered->id == 0)
    altered->id = pattern_take_id (result);
  pattern_put_picture (result, altered);
  return result;
}

Pattern *
drafting_put_picture (const Pattern *p, const PatternPicture *picture,
                      guint *new_picture, GError **error)
{
  g_return_val_if_fail (p != NULL && picture != NULL, NULL);
  if (picture->id != 0 && !find_picture (p, picture->id, error))
    return NULL;
  Pattern *result = finish (p, pattern_picture_dup (picture), error);
  if (result && new_picture)
    *new_picture = picture->id != 0 ? picture->id : result->next_id - 1;
  return result;
}

Pattern *
drafting_remove_picture (const Pattern *p, guint picture, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!find_picture (p, picture, error))
    return NULL;
  Pattern *result = pattern_dup (p);
  pattern_remove_picture (result, picture);
  return result;
}

static gboolean
can_be_moved (const PatternPicture *picture, GError **error)
{
  if (!picture->locked)
    return TRUE;
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("“%s” is locked where it lies. Unlock it to move "
                             "it."),
                          picture->name);
}

Pattern *
drafting_place_picture (const Pattern *p, guint picture, GeoMotion place,
                        GError **error)
{
  g_autoptr (PatternPicture) own = begin (p, picture, error);
  if (!own || !can_be_moved (own, error)
      || !drafting_point_is_good (geo_point (place.dx, place.dy), error)
      || !drafting_point_is_good (geo_point (place.c, place.s), error))
    return NULL;
  double size = hypot (place.c, place.s);
  if (size > 0.5)
    {
      /* Many small turns would let rounding make it larger or smaller. */
      place.c /= size;
      place.s /= size;
    }
  own->place = place;
  return finish (p, g_steal_pointer (&own), error);
}

Pattern *
drafting_move_picture (const Pattern *p, guint picture, GeoPoint by,
                       double angle, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  const PatternPicture *own = find_picture (p, picture, error);
  if (!own || !drafting_point_is_good (by, error)
      || !drafting_number_is_good (angle, error))
    return NULL;
  GeoPoint middle = { 0, 0 };
  if (!pattern_picture_to_table (
          own, geo_point (own->width / 2.0, own->height / 2.0), &middle))
    middle = geo_point (own->place.dx, own->place.dy);
  GeoMotion place = own->place;
  if (angle != 0)
    place = geo_motion_then (place, geo_motion_about (middle, angle));
  place.dx += by.x;
  place.dy += by.y;
  return drafting_place_picture (p, picture, place, error);
}

Pattern *
drafting_show_picture (const Pattern *p, guint picture, double strength,
                       gboolean hidden, gboolean locked, GError **error)
{
  g_autoptr (PatternPicture) own = begin (p, picture, error);
  if (!own)
    return NULL;
  if (!(strength >= 0 && strength <= 1))
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("A picture can be seen by 0 to 100 %%. Nothing was "
                          "changed."));
      return NULL;
    }
  own->strength = strength;
  own->hidden = hidden;
  own->locked = locked;
  return finish (p, g_steal_pointer (&own), error);
}

Pattern *
drafting_set_picture_name (const Pattern *p, guint picture, const char *name,
                           GError **error)
{
  g_return_val_if_fail (name != NULL, NULL);
  g_autoptr (PatternPicture) own = begin (p, picture, error);
  if (!own)
    return NULL;
  pattern_set_string (&own->name, name);
  return finish (p, g_steal_pointer (&own), error);
}

Pattern *
drafting_keep_picture (const Pattern *p, guint picture, const char *beside,
                       GError **error)
{
  g_autoptr (PatternPicture) own = begin (p, picture, error);
  if (!own)
    return NULL;
  if (!beside && !own->bytes)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("“%s” was not found, so it can't be put inside the "
                          "document. Nothing was changed."),
                       own->name);
      return NULL;
    }
  if (beside && !g_path_is_absolute (beside))
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("“%s” is no whole path to a file. Nothing was "
                          "changed."),
                       beside);
      return NULL;
    }
  g_free (own->beside);
  own->beside = beside ? g_canonicalize_filename (beside, "/") : NULL;
  return finish (p, g_steal_pointer (&own), error);
}
