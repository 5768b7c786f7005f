/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/patch.h"

#include <glib/gi18n.h>

#include "drafting/edit-private.h"
#include "drafting/verb.h"
#include "sewing/compare.h"

/* --- figures ---------------------------------------------------------------------- */
static void
lay_figures (Pattern *p, const PatternChange *change)
{
  for (guint i = 0; i < change->was->n_figures; i++)
    if (pattern_get_figure (change->is, change->was->figures[i].id) == NULL)
      pattern_remove_figure (p, change->was->figures[i].id);
  for (guint i = 0; i < change->is->n_figures; i++)
    pattern_put_figure (p, &change->is->figures[i]);
}

/* --- pieces ------------------------------------------------------------------------ */

/* What a recipe drafts follows by itself; what she did to it by hand is with the
 * recipe. */
static gboolean
is_drafted (const Pattern *p, const PatternChange *change, guint piece)
{
  return drafting_recipe_of (p, piece) != NULL
         || drafting_recipe_of (change->is, piece) != NULL
         || drafting_recipe_of (change->was, piece) != NULL;
}

/* The change in the place where the piece lies now: a piece that is shifted or turned against
 * what the change was made on takes it along. */
static PatternPiece *
in_place (const PatternPiece *piece, GeoMotion lay)
{
  PatternPiece *laid = pattern_piece_dup (piece);
  if (lay.c != 1 || lay.s != 0 || lay.dx != 0 || lay.dy != 0)
    pattern_piece_move (laid, lay);
  return laid;
}

static gboolean
lay_piece (Pattern *p, const PatternPiece *was, const PatternPiece *is,
           GError **error)
{
  const PatternPiece *now = pattern_get_piece (p, is->id);
  if (was == NULL)
    {
      if (now != NULL)
        return drafting_refuse (error, DRAFTING_ERROR_GONE,
                                _ ("another piece has the number of “%s”"),
                                is->name);
      pattern_put_piece (p, pattern_piece_ref (is));
      return TRUE;
    }
  if (now == NULL)
    return drafting_refuse (error, DRAFTING_ERROR_GONE,
                            _ ("the piece “%s” is no longer there"), was->name);
  if (pattern_piece_equal (now, was))
    {
      pattern_put_piece (p, pattern_piece_ref (is));
      return TRUE;
    }
  GeoMotion lay = sewing_lay_on (was, now);
  g_autoptr (PatternPiece) from = in_place (was, lay);
  g_autoptr (PatternPiece) to = in_place (is, lay);
  g_autoptr (PatternPiece) laid = drafting_patch_piece (from, to, now, error);
  if (laid == NULL)
    return FALSE;
  if (!(pattern_piece_area (laid) > DRAFTING_LEAST_AREA)
      && pattern_piece_area (is) > 0)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("“%s” would be folded over itself"), was->name);
  pattern_put_piece (p, g_steal_pointer (&laid));
  return TRUE;
}

static gboolean
lay_pieces (Pattern *p, const PatternChange *change, GError **error)
{
  for (guint i = 0; i < change->was->n_pieces; i++)
    {
      guint id = change->was->pieces[i]->id;
      if (pattern_get_piece (change->is, id) == NULL)
        pattern_remove_piece (p, id);
    }
  for (guint i = 0; i < change->is->n_pieces; i++)
    {
      const PatternPiece *is = change->is->pieces[i];
      if (!is_drafted (p, change, is->id)
          && !lay_piece (p, pattern_get_piece (change->was, is->id), is, error))
        return FALSE;
    }
  return TRUE;
}

/* --- seams ------------------------------------------------------------------------- */
static gboolean
sides_alike (const PatternSide *a, const PatternSide *b)
{
  if (a->n_runs != b->n_runs)
    return FALSE;
  for (guint i = 0; i < a->n_runs; i++)
    if (a->runs[i].piece != b->runs[i].piece
        || a->runs[i].edge != b->runs[i].edge
        || a->runs[i].reversed != b->runs[i].reversed)
      return FALSE;
  return TRUE;
}

static void
take_side (PatternSeam *seam, int s, const PatternSeam *from)
{
  g_free (seam->sides[s].runs);
  seam->sides[s].runs = g_memdup2 (from->sides[s].runs,
                                   from->sides[s].n_runs * sizeof (PatternRun));
  seam->sides[s].n_runs = from->sides[s].n_runs;
}

/* Spans set or taken away. */
static void
lay_spans (PatternSeam *seam, const PatternSeam *was, const PatternSeam *is)
{
  for (guint i = 0; i < was->n_spans; i++)
    if (pattern_seam_get_span (is, was->spans[i].from, was->spans[i].to)
        == NULL)
      pattern_seam_remove_span (seam, was->spans[i].from, was->spans[i].to);
  for (guint i = 0; i < is->n_spans; i++)
    {
      const PatternEaseSpan *old
          = pattern_seam_get_span (was, is->spans[i].from, is->spans[i].to);
      if (old == NULL || old->amount != is->spans[i].amount
          || old->per_cent != is->spans[i].per_cent)
        pattern_seam_put_span (seam, is->spans[i]);
    }
}

static PatternSeam *
patched_seam (const PatternSeam *now, const PatternSeam *was,
              const PatternSeam *is)
{
  PatternSeam *seam = pattern_seam_dup (now);
  if (g_strcmp0 (was->name, is->name) != 0)
    pattern_set_string (&seam->name, is->name);
  if (was->join != is->join)
    seam->join = is->join;
  if (was->ease != is->ease)
    seam->ease = is->ease;
  if (was->press != is->press)
    seam->press = is->press;
  for (int s = 0; s < 2; s++)
    if (!sides_alike (&was->sides[s], &is->sides[s]))
      take_side (seam, s, is);
  lay_spans (seam, was, is);
  return seam;
}

static gboolean
lay_seams (Pattern *p, const PatternChange *change, GError **error)
{
  for (guint i = 0; i < change->was->n_seams; i++)
    if (pattern_get_seam (change->is, change->was->seams[i]->id) == NULL)
      pattern_remove_seam (p, change->was->seams[i]->id);
  for (guint i = 0; i < change->is->n_seams; i++)
    {
      const PatternSeam *is = change->is->seams[i];
      const PatternSeam *was = pattern_get_seam (change->was, is->id);
      const PatternSeam *now = pattern_get_seam (p, is->id);
      if (was == NULL && now == NULL)
        pattern_put_seam (p, pattern_seam_ref (is));
      else if (was != NULL && now != NULL)
        pattern_put_seam (p, patched_seam (now, was, is));
      else if (was != NULL)
        return drafting_refuse (error, DRAFTING_ERROR_GONE,
                                _ ("the seam “%s” is no longer there"),
                                was->name);
    }
  pattern_drop_loose_ends (p);
  return TRUE;
}

/* --- recipes ----------------------------------------------------------------------- */

/* The arguments that were set anew, on the step as it is now. */
static PatternStep *
patched_step (const PatternStep *now, const PatternStep *was,
              const PatternStep *is)
{
  PatternStep *step = pattern_step_dup (now);
  for (guint i = 0; i < was->n_arguments; i++)
    if (pattern_step_get (is, was->arguments[i].key) == NULL)
      pattern_step_set (step, was->arguments[i].key, NULL);
  for (guint i = 0; i < is->n_arguments; i++)
    {
      const PatternArgument *a = &is->arguments[i];
      if (g_strcmp0 (pattern_step_get (was, a->key), a->text) != 0)
        pattern_step_set (step, a->key, a->text);
    }
  return step;
}

static gboolean
hand_changes_alike (const PatternHandChange *a, const PatternHandChange *b)
{
  return a != NULL && b != NULL && a->gone == b->gone && a->kind == b->kind
         && geo_same (a->at, b->at) && geo_same (a->in, b->in)
         && geo_same (a->out, b->out);
}

static void
lay_hand_changes (PatternRecipe *recipe, const PatternRecipe *was,
                  const PatternRecipe *is)
{
  for (guint i = 0; i < was->n_changes; i++)
    if (pattern_recipe_get_change (is, was->changes[i].part) == NULL)
      pattern_recipe_remove_change (recipe, was->changes[i].part);
  for (guint i = 0; i < is->n_changes; i++)
    {
      const PatternHandChange *c = &is->changes[i];
      if (hand_changes_alike (pattern_recipe_get_change (was, c->part), c))
        continue;
      PatternHandChange *own = pattern_recipe_change (recipe, c->part);
      char *part = own->part;
      *own = *c;
      own->part = part;
    }
}

static Pattern *
lay_recipe (const Pattern *p, const PatternRecipe *was, const PatternRecipe *is,
            GError **error)
{
  const PatternRecipe *now = pattern_get_recipe (p, is->id);
  if (was == NULL || now == NULL)
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("the recipe “%s” is no longer there"), is->name);
      return NULL;
    }
  g_autoptr (PatternStep) step = patched_step (now->step, was->step, is->step);
  g_autoptr (Pattern) with = pattern_dup (p);
  PatternRecipe *changed = pattern_recipe_dup (now);
  if (g_strcmp0 (was->name, is->name) != 0)
    pattern_set_string (&changed->name, is->name);
  lay_hand_changes (changed, was, is);
  pattern_put_recipe (with, changed);
  return drafting_set_recipe (with, is->id, step, error);
}

static Pattern *
lay_recipes (const Pattern *p, const PatternChange *change, GError **error)
{
  g_autoptr (Pattern) at = pattern_ref (p);
  for (guint i = 0; i < change->was->n_recipes; i++)
    {
      guint id = change->was->recipes[i]->id;
      if (pattern_get_recipe (change->is, id) != NULL
          || pattern_get_recipe (at, id) == NULL)
        continue;
      Pattern *free = pattern_dup (at);
      pattern_remove_recipe (free, id);
      pattern_unref (at);
      at = free;
    }
  for (guint i = 0; i < change->is->n_recipes; i++)
    {
      const PatternRecipe *is = change->is->recipes[i];
      Pattern *laid = lay_recipe (at, pattern_get_recipe (change->was, is->id),
                                  is, error);
      if (laid == NULL)
        return NULL;
      pattern_unref (at);
      at = laid;
    }
  return g_steal_pointer (&at);
}

/* --- the whole --------------------------------------------------------------------- */
Pattern *
drafting_patch (const Pattern *now, const PatternChange *change, GError **error)
{
  g_return_val_if_fail (now != NULL && change != NULL, NULL);
  g_return_val_if_fail (change->step == NULL, NULL);
  g_autoptr (Pattern) p = pattern_dup (now);
  lay_figures (p, change);
  if (!lay_pieces (p, change, error) || !lay_seams (p, change, error))
    return NULL;
  g_autoptr (Pattern) followed = drafting_follow (now, p, error);
  return followed != NULL ? lay_recipes (followed, change, error) : NULL;
}
