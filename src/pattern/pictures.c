/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pattern's pictures: putting in, taking out, finding. */
#include <string.h>

#include "pattern/parts.h"

/* --- with the pattern's life ----------------------------------------------------- */
void
pattern_copy_pictures (Pattern *copy, const Pattern *pattern)
{
  copy->pictures = g_memdup2 (pattern->pictures,
                              pattern->n_pictures * sizeof *pattern->pictures);
  for (guint i = 0; i < copy->n_pictures; i++)
    pattern_picture_ref (copy->pictures[i]);
}

void
pattern_free_pictures (Pattern *pattern)
{
  for (guint i = 0; i < pattern->n_pictures; i++)
    pattern_picture_unref ((PatternPicture *)pattern->pictures[i]);
  g_clear_pointer (&pattern->pictures, g_free);
  pattern->n_pictures = 0;
}

gboolean
pattern_pictures_equal (const Pattern *a, const Pattern *b)
{
  if (a->n_pictures != b->n_pictures)
    return FALSE;
  for (guint i = 0; i < a->n_pictures; i++)
    if (!pattern_picture_equal (a->pictures[i], b->pictures[i]))
      return FALSE;
  return TRUE;
}

/* --- altering a copy ------------------------------------------------------------ */
void
pattern_put_picture (Pattern *pattern, PatternPicture *picture)
{
  g_return_if_fail (pattern != NULL
                    && g_atomic_ref_count_compare (&pattern->refs, 1));
  g_return_if_fail (picture != NULL);
  if (picture->id >= pattern->next_id && picture->id < G_MAXUINT)
    pattern->next_id = picture->id + 1;
  for (guint i = 0; i < pattern->n_pictures; i++)
    if (pattern->pictures[i]->id == picture->id)
      {
        pattern_picture_unref ((PatternPicture *)pattern->pictures[i]);
        pattern->pictures[i] = picture;
        return;
      }
  PATTERN_APPEND (pattern->pictures, pattern->n_pictures, picture);
}

gboolean
pattern_remove_picture (Pattern *pattern, guint id)
{
  g_return_val_if_fail (
      pattern != NULL && g_atomic_ref_count_compare (&pattern->refs, 1), FALSE);
  for (guint i = 0; i < pattern->n_pictures; i++)
    if (pattern->pictures[i]->id == id)
      {
        pattern_picture_unref ((PatternPicture *)pattern->pictures[i]);
        PATTERN_TAKE_OUT (pattern->pictures, pattern->n_pictures, i);
        return TRUE;
      }
  return FALSE;
}

/* --- asking --------------------------------------------------------------------- */
const PatternPicture *
pattern_get_picture (const Pattern *pattern, guint id)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  for (guint i = 0; i < pattern->n_pictures; i++)
    if (pattern->pictures[i]->id == id)
      return pattern->pictures[i];
  return NULL;
}
