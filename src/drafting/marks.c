/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verbs on notches and the marks inside a piece. */
#include <glib/gi18n.h>

#include "drafting/edit-private.h"
#include "sewing/words.h"

#define SLACK 1e-6 /* mm a notch may lie past its edge's end by rounding */

static Pattern *
give (const Pattern *p, PatternPiece *piece, guint id, guint *new_mark)
{
  guint next = id + 1;
  if (new_mark)
    *new_mark = id;
  return drafting_finish_marks (p, piece, &next);
}

/* --- notches -------------------------------------------------------------------- */
static gboolean
notch_is_good (const Pattern *p, const PatternPiece *piece, guint edge_index,
               const PatternNotch *notch, GError **error)
{
  if (!drafting_number_is_good (notch->amount, error))
    return FALSE;
  if (notch->count < 1 || notch->count > 3)
    return drafting_refuse (
        error, DRAFTING_ERROR_AMOUNT,
        _ ("A notch is single, double or triple. Nothing was changed."));
  if (notch->from == PATTERN_FRACTION)
    return (notch->amount >= 0 && notch->amount <= 1)
           || drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                               _ ("A notch's share of its edge lies between 0 "
                                  "and 100 %%. Nothing was changed."));
  double length = drafting_edge_length (piece, edge_index);
  if (notch->amount < -SLACK || notch->amount > length + SLACK)
    {
      g_autofree char *words = sewing_words_length (p, length);
      return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                              _ ("The notch would lie off its edge, which is "
                                 "%s long. Nothing was changed."),
                              words);
    }
  return TRUE;
}

Pattern *
drafting_add_notch (const Pattern *p, guint piece, guint edge, int count,
                    PatternNotchFrom from, double amount, guint *new_notch,
                    GError **error)
{
  guint index;
  g_return_val_if_fail ((guint)from <= PATTERN_FRACTION, NULL);
  g_autoptr (PatternPiece) copy
      = drafting_begin_edge (p, piece, edge, &index, error);
  if (!copy)
    return NULL;
  PatternNotch notch = { p->next_id, edge, count, from, amount };
  if (!notch_is_good (p, copy, index, &notch, error))
    return NULL;
  pattern_piece_add_notch (copy, notch);
  return give (p, g_steal_pointer (&copy), notch.id, new_notch);
}

/* The notch to alter, and its edge. */
static PatternNotch *
find_notch (PatternPiece *piece, guint notch, guint *edge_index, GError **error)
{
  PatternNotch *own = (PatternNotch *)pattern_piece_get_notch (piece, notch);
  if (!own)
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("That notch is no longer there: it was deleted, or "
                          "its making was undone."));
      return NULL;
    }
  int index = drafting_find_edge (piece, own->edge, error);
  *edge_index = (guint)index;
  return index < 0 ? NULL : own;
}

Pattern *
drafting_move_notch (const Pattern *p, guint piece, guint notch, double at,
                     GError **error)
{
  guint index;
  if (!drafting_number_is_good (at, error))
    return NULL;
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  PatternNotch *own = copy ? find_notch (copy, notch, &index, error) : NULL;
  if (!own)
    return NULL;
  double length = drafting_edge_length (copy, index);
  at = CLAMP (at, 0, length);
  if (own->from == PATTERN_FROM_START)
    own->amount = at;
  else if (own->from == PATTERN_FROM_END)
    own->amount = length - at;
  else
    own->amount = length > 0 ? CLAMP (at / length, 0, 1) : 0;
  return drafting_finish (p, g_steal_pointer (&copy), NULL, error);
}

Pattern *
drafting_set_notch (const Pattern *p, guint piece, guint notch, int count,
                    PatternNotchFrom from, double amount, GError **error)
{
  guint index;
  g_return_val_if_fail ((guint)from <= PATTERN_FRACTION, NULL);
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  PatternNotch *own = copy ? find_notch (copy, notch, &index, error) : NULL;
  if (!own)
    return NULL;
  PatternNotch changed = { notch, own->edge, count, from, amount };
  if (!notch_is_good (p, copy, index, &changed, error))
    return NULL;
  *own = changed;
  return drafting_finish_marks (p, g_steal_pointer (&copy), NULL);
}

/* --- marks inside ----------------------------------------------------------------- */
Pattern *
drafting_add_buttonhole (const Pattern *p, guint piece, GeoPoint at,
                         double angle, double length, guint *new_mark,
                         GError **error)
{
  if (!drafting_point_is_good (at, error)
      || !drafting_number_is_good (angle, error)
      || !drafting_number_is_good (length, error))
    return NULL;
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  if (length <= 0)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("A buttonhole has to be longer than nothing."));
      return NULL;
    }
  PatternButtonhole hole = { p->next_id, at, angle, length };
  pattern_piece_add_buttonhole (copy, hole);
  return give (p, g_steal_pointer (&copy), hole.id, new_mark);
}

Pattern *
drafting_add_drill (const Pattern *p, guint piece, GeoPoint at, guint *new_mark,
                    GError **error)
{
  if (!drafting_point_is_good (at, error))
    return NULL;
  PatternPiece *copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  pattern_piece_add_drill (copy, (PatternDrill){ p->next_id, at });
  return give (p, copy, p->next_id, new_mark);
}

Pattern *
drafting_add_text (const Pattern *p, guint piece, GeoPoint at, double angle,
                   double size, const char *text, guint *new_mark,
                   GError **error)
{
  if (!drafting_point_is_good (at, error)
      || !drafting_number_is_good (angle, error)
      || !drafting_number_is_good (size, error))
    return NULL;
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  if (size <= 0 || !text || !*text)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("A text needs at least one letter, and a height "
                          "above nothing."));
      return NULL;
    }
  pattern_piece_add_text (copy, p->next_id, at, angle, size, text);
  return give (p, g_steal_pointer (&copy), p->next_id, new_mark);
}

static void
shift_line (PatternLine *line, GeoPoint by)
{
  for (guint i = 0; i < line->n_nodes; i++)
    {
      PatternNode *node = &line->nodes[i];
      gboolean in = !geo_same (node->in, node->at);
      gboolean out = !geo_same (node->out, node->at);
      node->at = geo_add (node->at, by);
      node->in = in ? geo_add (node->in, by) : node->at;
      node->out = out ? geo_add (node->out, by) : node->at;
    }
}

static gboolean
shift_mark (PatternPiece *piece, guint mark, GeoPoint by)
{
  for (guint i = 0; i < piece->n_buttonholes; i++)
    if (piece->buttonholes[i].id == mark)
      {
        piece->buttonholes[i].at = geo_add (piece->buttonholes[i].at, by);
        return TRUE;
      }
  for (guint i = 0; i < piece->n_drills; i++)
    if (piece->drills[i].id == mark)
      {
        piece->drills[i].at = geo_add (piece->drills[i].at, by);
        return TRUE;
      }
  for (guint i = 0; i < piece->n_texts; i++)
    if (piece->texts[i].id == mark)
      {
        piece->texts[i].at = geo_add (piece->texts[i].at, by);
        return TRUE;
      }
  for (guint i = 0; i < piece->n_lines; i++)
    if (piece->lines[i].id == mark)
      {
        shift_line (&piece->lines[i], by);
        return TRUE;
      }
  return FALSE;
}

static gboolean
mark_is_gone (GError **error)
{
  return drafting_refuse (error, DRAFTING_ERROR_GONE,
                          _ ("That mark is no longer there: it was deleted, "
                             "or its making was undone."));
}

Pattern *
drafting_move_mark (const Pattern *p, guint piece, guint mark, GeoPoint by,
                    GError **error)
{
  if (!drafting_point_is_good (by, error))
    return NULL;
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  if (pattern_piece_get_notch (copy, mark))
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("A notch moves along its edge and nowhere else."));
      return NULL;
    }
  if (!shift_mark (copy, mark, by))
    {
      mark_is_gone (error);
      return NULL;
    }
  return drafting_finish (p, g_steal_pointer (&copy), NULL, error);
}

Pattern *
drafting_remove_mark (const Pattern *p, guint piece, guint mark, GError **error)
{
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  if (!pattern_piece_remove_mark (copy, mark))
    {
      mark_is_gone (error);
      return NULL;
    }
  return drafting_finish_marks (p, g_steal_pointer (&copy), NULL);
}
