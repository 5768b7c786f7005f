/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verbs that give a mark inside a piece another place, direction or size. */
#include <glib/gi18n.h>

#include "drafting/edit-private.h"

static gboolean
mark_is_gone (GError **error)
{
  return drafting_refuse (error, DRAFTING_ERROR_GONE,
                          _ ("That mark is no longer there: it was deleted, "
                             "or its making was undone."));
}

static gboolean
numbers_are_good (GeoPoint at, double angle, double size, GError **error)
{
  return drafting_point_is_good (at, error)
         && drafting_number_is_good (angle, error)
         && drafting_number_is_good (size, error);
}

Pattern *
drafting_set_buttonhole (const Pattern *p, guint piece, guint mark, GeoPoint at,
                         double angle, double length, GError **error)
{
  if (!numbers_are_good (at, angle, length, error))
    return NULL;
  if (length <= 0)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("A buttonhole has to be longer than nothing."));
      return NULL;
    }
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  for (guint i = 0; copy && i < copy->n_buttonholes; i++)
    if (copy->buttonholes[i].id == mark)
      {
        copy->buttonholes[i] = (PatternButtonhole){ mark, at, angle, length };
        return drafting_finish_marks (p, g_steal_pointer (&copy), NULL);
      }
  if (copy)
    mark_is_gone (error);
  return NULL;
}

Pattern *
drafting_set_drill (const Pattern *p, guint piece, guint mark, GeoPoint at,
                    GError **error)
{
  if (!drafting_point_is_good (at, error))
    return NULL;
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  for (guint i = 0; copy && i < copy->n_drills; i++)
    if (copy->drills[i].id == mark)
      {
        copy->drills[i].at = at;
        return drafting_finish_marks (p, g_steal_pointer (&copy), NULL);
      }
  if (copy)
    mark_is_gone (error);
  return NULL;
}

Pattern *
drafting_set_text (const Pattern *p, guint piece, guint mark, GeoPoint at,
                   double angle, double size, const char *text, GError **error)
{
  if (!numbers_are_good (at, angle, size, error))
    return NULL;
  if (size <= 0 || !text || !*text)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("A text needs at least one letter, and a height "
                          "above nothing."));
      return NULL;
    }
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  for (guint i = 0; copy && i < copy->n_texts; i++)
    if (copy->texts[i].id == mark)
      {
        PatternText *own = &copy->texts[i];
        own->at = at;
        own->angle = angle;
        own->size = size;
        pattern_set_string (&own->text, text);
        return drafting_finish_marks (p, g_steal_pointer (&copy), NULL);
      }
  if (copy)
    mark_is_gone (error);
  return NULL;
}
