/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verbs on whole pieces. */
#include <glib/gi18n.h>

#include "drafting/edit-private.h"
#include "sewing/words.h"

/* Between a piece and its copy, mm. */
#define ASIDE 30

Pattern *
drafting_remove_piece (const Pattern *p, guint piece, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!drafting_find_piece (p, piece, error))
    return NULL;
  Pattern *result = pattern_dup (p);
  pattern_remove_piece (result, piece);
  return result;
}

/* --- copying -------------------------------------------------------------------- */
static void
renumber_nodes (PatternNode *nodes, guint n, guint *next)
{
  for (guint i = 0; i < n; i++)
    nodes[i].id = (*next)++;
}

void
drafting_renumber (PatternPiece *piece, guint *next)
{
  piece->id = (*next)++;
  renumber_nodes (piece->nodes, piece->n_nodes, next);
  for (guint i = 0; i < piece->n_edges; i++)
    {
      guint old = piece->edges[i].id;
      piece->edges[i].id = (*next)++;
      /* New numbers are above all old ones, so none is met twice. */
      for (guint k = 0; k < piece->n_notches; k++)
        if (piece->notches[k].edge == old)
          piece->notches[k].edge = piece->edges[i].id;
    }
  for (guint i = 0; i < piece->n_notches; i++)
    piece->notches[i].id = (*next)++;
  for (guint i = 0; i < piece->n_buttonholes; i++)
    piece->buttonholes[i].id = (*next)++;
  for (guint i = 0; i < piece->n_drills; i++)
    piece->drills[i].id = (*next)++;
  for (guint i = 0; i < piece->n_texts; i++)
    piece->texts[i].id = (*next)++;
  for (guint i = 0; i < piece->n_lines; i++)
    {
      piece->lines[i].id = (*next)++;
      renumber_nodes (piece->lines[i].nodes, piece->lines[i].n_nodes, next);
    }
}

Pattern *
drafting_copy_piece (const Pattern *p, guint piece, gboolean mirrored,
                     guint *new_piece, GError **error)
{
  PatternPiece *copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  guint next = p->next_id;
  drafting_renumber (copy, &next);
  g_autofree char *name = g_strdup_printf (
      mirrored ? _ ("%s, turned over") : _ ("%s, copy"), copy->name);
  pattern_set_string (&copy->name, name);
  GeoBox box = drafting_bounds (copy);
  double step = box.x1 - box.x0 + ASIDE;
  /* Turned over about the upright through the middle, then moved aside. */
  GeoMotion motion = mirrored
                         ? (GeoMotion){ -1, 0, box.x0 + box.x1 + step, 0, TRUE }
                         : (GeoMotion){ 1, 0, step, 0, FALSE };
  pattern_piece_move (copy, motion);
  guint id = copy->id;
  Pattern *result = drafting_finish (p, copy, &next, error);
  if (result && new_piece)
    *new_piece = id;
  return result;
}

/* --- moving --------------------------------------------------------------------- */
/* The piece by the motion, its seams along. Takes over p. */
static Pattern *
move_one (Pattern *p, guint piece, GeoMotion motion, GError **error)
{
  g_autoptr (Pattern) own = p;
  PatternPiece *copy = drafting_begin (own, piece, error);
  if (!copy)
    return NULL;
  pattern_piece_move (copy, motion);
  Pattern *result = drafting_finish (own, copy, NULL, error);
  if (result && motion.flip)
    pattern_turn_runs (result, piece);
  return result;
}

Pattern *
drafting_move_pieces (const Pattern *p, const guint *pieces, guint n_pieces,
                      GeoMotion motion, GError **error)
{
  g_return_val_if_fail (p != NULL && (n_pieces == 0 || pieces != NULL), NULL);
  if (!drafting_number_is_good (motion.c, error)
      || !drafting_number_is_good (motion.s, error)
      || !drafting_number_is_good (motion.dx, error)
      || !drafting_number_is_good (motion.dy, error))
    return NULL;
  g_return_val_if_fail (fabs (hypot (motion.c, motion.s) - 1) < 1e-6, NULL);
  Pattern *result = pattern_dup (p);
  for (guint i = 0; i < n_pieces && result; i++)
    {
      gboolean again = FALSE;
      for (guint k = 0; k < i; k++)
        again = again || pieces[k] == pieces[i];
      if (!again)
        result = move_one (result, pieces[i], motion, error);
    }
  return result;
}

/* The motion followed by the shift that leaves a point where it is. */
static GeoMotion
about (GeoMotion motion, GeoPoint fixed)
{
  GeoPoint moved = geo_motion_turn (motion, fixed);
  motion.dx = fixed.x - moved.x;
  motion.dy = fixed.y - moved.y;
  return motion;
}

static GeoPoint
middle_of (const PatternPiece *piece)
{
  GeoBox box = drafting_bounds (piece);
  return geo_point ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2);
}

Pattern *
drafting_turn_piece (const Pattern *p, guint piece, double angle,
                     GError **error)
{
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  if (!own || !drafting_number_is_good (angle, error))
    return NULL;
  GeoMotion turn = { cos (angle), sin (angle), 0, 0, FALSE };
  return drafting_move_pieces (p, &piece, 1, about (turn, middle_of (own)),
                               error);
}

/* A reflection in the line at the angle a is the flip of y followed by a turn by
 * 2 a: cos 2a = gx^2 - gy^2 and sin 2a = 2 gx gy with the line's direction g. */
Pattern *
drafting_mirror_piece (const Pattern *p, guint piece, GError **error)
{
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  if (!own)
    return NULL;
  GeoPoint way = geo_point (0, 1), on = middle_of (own);
  if (own->has_grain && !geo_same (own->grain_from, own->grain_to))
    {
      way = geo_unit (geo_sub (own->grain_to, own->grain_from));
      on = own->grain_from;
    }
  GeoMotion flip
      = { way.x * way.x - way.y * way.y, 2 * way.x * way.y, 0, 0, TRUE };
  return drafting_move_pieces (p, &piece, 1, about (flip, on), error);
}

/* --- what is written on it ------------------------------------------------------- */
Pattern *
drafting_set_piece_name (const Pattern *p, guint piece, const char *name,
                         GError **error)
{
  PatternPiece *copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  pattern_set_string (&copy->name, name ? name : "");
  return drafting_finish_marks (p, copy, NULL);
}

Pattern *
drafting_set_piece_note (const Pattern *p, guint piece, const char *note,
                         GError **error)
{
  PatternPiece *copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  pattern_set_string (&copy->note, note ? note : "");
  return drafting_finish_marks (p, copy, NULL);
}

Pattern *
drafting_set_cuts (const Pattern *p, guint piece, const PatternCut *cuts,
                   guint n_cuts, GError **error)
{
  g_return_val_if_fail (n_cuts == 0 || cuts != NULL, NULL);
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  copy->n_cuts = 0;
  for (guint i = 0; i < n_cuts; i++)
    {
      if (!pattern_get_cloth (p, cuts[i].cloth))
        {
          drafting_refuse (error, DRAFTING_ERROR_GONE,
                           _ ("That cloth is no longer in the pattern."));
          return NULL;
        }
      if (cuts[i].count < 0)
        {
          drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                           _ ("A piece can't be cut fewer than no times."));
          return NULL;
        }
      pattern_piece_add_cut (copy, cuts[i]);
    }
  return drafting_finish_marks (p, g_steal_pointer (&copy), NULL);
}

Pattern *
drafting_set_grain (const Pattern *p, guint piece, GeoPoint from, GeoPoint to,
                    gboolean both_ways, GError **error)
{
  if (!drafting_point_is_good (from, error)
      || !drafting_point_is_good (to, error))
    return NULL;
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  if (geo_distance (from, to) < 1e-6)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("A grainline needs two places to run between. "
                          "Nothing was changed."));
      return NULL;
    }
  copy->has_grain = TRUE;
  copy->grain_from = from;
  copy->grain_to = to;
  copy->grain_both_ways = both_ways;
  return drafting_finish_marks (p, g_steal_pointer (&copy), NULL);
}

Pattern *
drafting_remove_grain (const Pattern *p, guint piece, GError **error)
{
  PatternPiece *copy = drafting_begin (p, piece, error);
  if (!copy)
    return NULL;
  copy->has_grain = FALSE;
  return drafting_finish_marks (p, copy, NULL);
}
