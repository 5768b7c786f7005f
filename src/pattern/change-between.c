/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What differs between two patterns, as two bare patterns that hold the parts that do. */
#include "pattern/change.h"
#include "pattern/parts.h"

Pattern *
pattern_new_bare (void)
{
  Pattern *pattern = g_new0 (Pattern, 1);
  g_atomic_ref_count_init (&pattern->refs);
  pattern->name = g_strdup ("");
  pattern->note = g_strdup ("");
  pattern->unit = PATTERN_CM;
  pattern->tolerance = 0.5;
  pattern->next_id = 1;
  return pattern;
}

static void
keep_piece (Pattern *bare, const PatternPiece *piece)
{
  if (piece != NULL)
    pattern_put_piece (bare, pattern_piece_ref (piece));
}

static void
keep_seam (Pattern *bare, const PatternSeam *seam)
{
  if (seam != NULL)
    pattern_put_seam (bare, pattern_seam_ref (seam));
}

static void
keep_figure (Pattern *bare, const PatternFigure *figure)
{
  if (figure != NULL)
    pattern_put_figure (bare, figure);
}

static void
keep_recipe (Pattern *bare, const PatternRecipe *recipe)
{
  if (recipe != NULL)
    pattern_put_recipe (bare, pattern_recipe_ref (recipe));
}

static gboolean
figures_alike (const PatternFigure *a, const PatternFigure *b)
{
  return a != NULL && b != NULL && a->mm == b->mm
         && g_strcmp0 (a->name, b->name) == 0
         && g_strcmp0 (a->note, b->note) == 0;
}

static void
between_pieces (PatternChange *change, const Pattern *before,
                const Pattern *now)
{
  for (guint i = 0; i < now->n_pieces; i++)
    {
      const PatternPiece *is = now->pieces[i];
      const PatternPiece *was = pattern_get_piece (before, is->id);
      if (was == is || (was != NULL && pattern_piece_equal (was, is)))
        continue;
      keep_piece (change->was, was);
      keep_piece (change->is, is);
    }
  for (guint i = 0; i < before->n_pieces; i++)
    if (pattern_get_piece (now, before->pieces[i]->id) == NULL)
      keep_piece (change->was, before->pieces[i]);
}

static void
between_seams (PatternChange *change, const Pattern *before, const Pattern *now)
{
  for (guint i = 0; i < now->n_seams; i++)
    {
      const PatternSeam *is = now->seams[i];
      const PatternSeam *was = pattern_get_seam (before, is->id);
      if (was == is || (was != NULL && pattern_seam_equal (was, is)))
        continue;
      keep_seam (change->was, was);
      keep_seam (change->is, is);
    }
  for (guint i = 0; i < before->n_seams; i++)
    if (pattern_get_seam (now, before->seams[i]->id) == NULL)
      keep_seam (change->was, before->seams[i]);
}

static void
between_figures (PatternChange *change, const Pattern *before,
                 const Pattern *now)
{
  for (guint i = 0; i < now->n_figures; i++)
    {
      const PatternFigure *is = &now->figures[i];
      const PatternFigure *was = pattern_get_figure (before, is->id);
      if (figures_alike (was, is))
        continue;
      keep_figure (change->was, was);
      keep_figure (change->is, is);
    }
  for (guint i = 0; i < before->n_figures; i++)
    if (pattern_get_figure (now, before->figures[i].id) == NULL)
      keep_figure (change->was, &before->figures[i]);
}

static void
between_recipes (PatternChange *change, const Pattern *before,
                 const Pattern *now)
{
  for (guint i = 0; i < now->n_recipes; i++)
    {
      const PatternRecipe *is = now->recipes[i];
      const PatternRecipe *was = pattern_get_recipe (before, is->id);
      if (was == is || (was != NULL && pattern_recipe_equal (was, is)))
        continue;
      keep_recipe (change->was, was);
      keep_recipe (change->is, is);
    }
  for (guint i = 0; i < before->n_recipes; i++)
    if (pattern_get_recipe (now, before->recipes[i]->id) == NULL)
      keep_recipe (change->was, before->recipes[i]);
}

static gboolean
holds_nothing (const Pattern *bare)
{
  return bare->n_pieces + bare->n_seams + bare->n_figures + bare->n_recipes
         == 0;
}

PatternChange *
pattern_change_between (const char *label, const char *merge,
                        const Pattern *before, const Pattern *now)
{
  g_return_val_if_fail (before != NULL && now != NULL, NULL);
  PatternChange *change = pattern_change_of_parts (
      label, before->next_id, pattern_new_bare (), pattern_new_bare ());
  change->merge = g_strdup (merge);
  between_pieces (change, before, now);
  between_seams (change, before, now);
  between_figures (change, before, now);
  between_recipes (change, before, now);
  if (holds_nothing (change->was) && holds_nothing (change->is))
    g_clear_pointer (&change, pattern_change_unref);
  return change;
}

/* The parts of from that are in neither of the others, which may be NULL. */
static void
keep_others (Pattern *into, const Pattern *from, const Pattern *a,
             const Pattern *b)
{
#define IS_OTHER(get, id)                                                      \
  ((a == NULL || get (a, id) == NULL) && (b == NULL || get (b, id) == NULL))
  for (guint i = 0; i < from->n_pieces; i++)
    if (IS_OTHER (pattern_get_piece, from->pieces[i]->id))
      keep_piece (into, from->pieces[i]);
  for (guint i = 0; i < from->n_seams; i++)
    if (IS_OTHER (pattern_get_seam, from->seams[i]->id))
      keep_seam (into, from->seams[i]);
  for (guint i = 0; i < from->n_figures; i++)
    if (IS_OTHER (pattern_get_figure, from->figures[i].id))
      keep_figure (into, &from->figures[i]);
  for (guint i = 0; i < from->n_recipes; i++)
    if (IS_OTHER (pattern_get_recipe, from->recipes[i]->id))
      keep_recipe (into, from->recipes[i]);
#undef IS_OTHER
}

/* A part the second touched that the first did not is as the second has it; one both
 * touched was as it was before the first. One made by the first and taken away by
 * the second was never there. */
PatternChange *
pattern_change_join (const PatternChange *first, const PatternChange *second)
{
  g_return_val_if_fail (first != NULL && first->step == NULL, NULL);
  g_return_val_if_fail (second != NULL && second->step == NULL, NULL);
  g_autoptr (Pattern) before = pattern_new_bare ();
  g_autoptr (Pattern) now = pattern_new_bare ();
  keep_others (before, second->was, first->was, first->is);
  keep_others (before, first->was, NULL, NULL);
  keep_others (now, first->is, second->was, second->is);
  keep_others (now, second->is, NULL, NULL);
  PatternChange *change
      = pattern_change_between (second->label, second->merge, before, now);
  if (change != NULL)
    change->next_id = first->next_id;
  return change;
}
