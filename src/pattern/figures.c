/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pattern's body figures and recipes: putting in, taking out, finding. */
#include <string.h>

#include "pattern/parts.h"

#define RETURN_VAL_IF_SHARED(pattern, val)                                     \
  g_return_val_if_fail (                                                       \
      (pattern) != NULL && g_atomic_ref_count_compare (&(pattern)->refs, 1),   \
      val)

/* --- with the pattern's life ----------------------------------------------------- */
static PatternFigure
copy_figure (const PatternFigure *figure)
{
  return (
      PatternFigure){ figure->id, g_strdup (figure->name ? figure->name : ""),
                      figure->mm, g_strdup (figure->note ? figure->note : "") };
}

static void
clear_figure (PatternFigure *figure)
{
  g_free (figure->name);
  g_free (figure->note);
}

void
pattern_copy_recipes (Pattern *copy, const Pattern *pattern)
{
  copy->figures = g_new (PatternFigure, pattern->n_figures);
  for (guint i = 0; i < copy->n_figures; i++)
    copy->figures[i] = copy_figure (&pattern->figures[i]);
  copy->recipes = g_memdup2 (pattern->recipes,
                             pattern->n_recipes * sizeof *pattern->recipes);
  for (guint i = 0; i < copy->n_recipes; i++)
    pattern_recipe_ref (copy->recipes[i]);
}

void
pattern_clear_recipes (Pattern *pattern)
{
  for (guint i = 0; i < pattern->n_figures; i++)
    clear_figure (&pattern->figures[i]);
  for (guint i = 0; i < pattern->n_recipes; i++)
    pattern_recipe_unref ((PatternRecipe *)pattern->recipes[i]);
  g_free (pattern->figures);
  g_free (pattern->recipes);
}

gboolean
pattern_recipes_equal (const Pattern *a, const Pattern *b)
{
  if (a->n_figures != b->n_figures || a->n_recipes != b->n_recipes)
    return FALSE;
  for (guint i = 0; i < a->n_figures; i++)
    if (a->figures[i].id != b->figures[i].id
        || a->figures[i].mm != b->figures[i].mm
        || g_strcmp0 (a->figures[i].name, b->figures[i].name) != 0
        || g_strcmp0 (a->figures[i].note, b->figures[i].note) != 0)
      return FALSE;
  for (guint i = 0; i < a->n_recipes; i++)
    if (!pattern_recipe_equal (a->recipes[i], b->recipes[i]))
      return FALSE;
  return TRUE;
}

/* --- altering a copy ------------------------------------------------------------ */
static void
pass_id (Pattern *pattern, guint id)
{
  if (id >= pattern->next_id && id < G_MAXUINT)
    pattern->next_id = id + 1;
}

void
pattern_put_figure (Pattern *pattern, const PatternFigure *figure)
{
  g_return_if_fail (pattern != NULL
                    && g_atomic_ref_count_compare (&pattern->refs, 1));
  g_return_if_fail (figure != NULL);
  PatternFigure copy = copy_figure (figure);
  pass_id (pattern, copy.id);
  for (guint i = 0; i < pattern->n_figures; i++)
    if (pattern->figures[i].id == copy.id)
      {
        clear_figure (&pattern->figures[i]);
        pattern->figures[i] = copy;
        return;
      }
  PATTERN_APPEND (pattern->figures, pattern->n_figures, copy);
}

gboolean
pattern_remove_figure (Pattern *pattern, guint id)
{
  RETURN_VAL_IF_SHARED (pattern, FALSE);
  for (guint i = 0; i < pattern->n_figures; i++)
    if (pattern->figures[i].id == id)
      {
        clear_figure (&pattern->figures[i]);
        PATTERN_TAKE_OUT (pattern->figures, pattern->n_figures, i);
        return TRUE;
      }
  return FALSE;
}

void
pattern_put_recipe (Pattern *pattern, PatternRecipe *recipe)
{
  g_return_if_fail (pattern != NULL
                    && g_atomic_ref_count_compare (&pattern->refs, 1));
  g_return_if_fail (recipe != NULL);
  pass_id (pattern, recipe->id);
  for (guint i = 0; i < recipe->n_made; i++)
    pass_id (pattern, recipe->made[i].id);
  for (guint i = 0; i < pattern->n_recipes; i++)
    if (pattern->recipes[i]->id == recipe->id)
      {
        pattern_recipe_unref ((PatternRecipe *)pattern->recipes[i]);
        pattern->recipes[i] = recipe;
        return;
      }
  PATTERN_APPEND (pattern->recipes, pattern->n_recipes, recipe);
}

gboolean
pattern_remove_recipe (Pattern *pattern, guint id)
{
  RETURN_VAL_IF_SHARED (pattern, FALSE);
  for (guint i = 0; i < pattern->n_recipes; i++)
    if (pattern->recipes[i]->id == id)
      {
        pattern_recipe_unref ((PatternRecipe *)pattern->recipes[i]);
        PATTERN_TAKE_OUT (pattern->recipes, pattern->n_recipes, i);
        return TRUE;
      }
  return FALSE;
}

/* --- asking --------------------------------------------------------------------- */
const PatternFigure *
pattern_get_figure (const Pattern *pattern, guint id)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  for (guint i = 0; i < pattern->n_figures; i++)
    if (pattern->figures[i].id == id)
      return &pattern->figures[i];
  return NULL;
}

const PatternRecipe *
pattern_get_recipe (const Pattern *pattern, guint id)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  for (guint i = 0; i < pattern->n_recipes; i++)
    if (pattern->recipes[i]->id == id)
      return pattern->recipes[i];
  return NULL;
}

gboolean
pattern_recipe_part_is_there (const Pattern *pattern,
                              const PatternRecipe *recipe, const char *part)
{
  g_return_val_if_fail (pattern != NULL && recipe != NULL && part != NULL,
                        FALSE);
  guint id = pattern_recipe_get_made (recipe, part);
  if (g_str_has_prefix (part, "s:"))
    return pattern_get_seam (pattern, id) != NULL;
  g_autofree char *piece_part = pattern_part_piece (part);
  guint piece_id = pattern_recipe_get_made (recipe, piece_part);
  if (piece_id == 0 && g_str_has_prefix (piece_part, "on"))
    piece_id = (guint)g_ascii_strtoull (piece_part + 2, NULL, 10);
  const PatternPiece *piece = pattern_get_piece (pattern, piece_id);
  const char *rest = part + strlen (piece_part);
  if (!piece || *rest == '\0' || strcmp (rest, "/grain") == 0)
    return piece != NULL;
  if (g_str_has_prefix (rest, "/n:"))
    return pattern_piece_find_node (piece, id) >= 0;
  if (g_str_has_prefix (rest, "/e:"))
    return pattern_piece_find_edge (piece, id) >= 0;
  return pattern_piece_has_mark (piece, id);
}

gboolean
pattern_recipe_change_waits (const Pattern *pattern,
                             const PatternRecipe *recipe,
                             const PatternHandChange *change)
{
  g_return_val_if_fail (change != NULL, FALSE);
  if (change->gone)
    return FALSE;
  g_autofree char *piece = pattern_part_piece (change->part);
  const PatternHandChange *all = pattern_recipe_get_change (recipe, piece);
  return !(all && all->gone)
         && !pattern_recipe_part_is_there (pattern, recipe, change->part);
}
