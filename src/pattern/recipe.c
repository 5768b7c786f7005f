/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "pattern/parts.h"

/* --- life ---------------------------------------------------------------------- */
PatternRecipe *
pattern_recipe_new (guint id, const char *name, const PatternStep *step)
{
  g_return_val_if_fail (step != NULL, NULL);
  PatternRecipe *recipe = g_new0 (PatternRecipe, 1);
  g_atomic_ref_count_init (&recipe->refs);
  recipe->id = id;
  recipe->name = g_strdup (name ? name : "");
  recipe->step = pattern_step_dup (step);
  return recipe;
}

PatternRecipe *
pattern_recipe_dup (const PatternRecipe *recipe)
{
  g_return_val_if_fail (recipe != NULL, NULL);
  PatternRecipe *copy
      = pattern_recipe_new (recipe->id, recipe->name, recipe->step);
  copy->made = g_memdup2 (recipe->made, recipe->n_made * sizeof *recipe->made);
  copy->n_made = recipe->n_made;
  for (guint i = 0; i < copy->n_made; i++)
    copy->made[i].part = g_strdup (recipe->made[i].part);
  copy->changes = g_memdup2 (recipe->changes,
                             recipe->n_changes * sizeof *recipe->changes);
  copy->n_changes = recipe->n_changes;
  for (guint i = 0; i < copy->n_changes; i++)
    copy->changes[i].part = g_strdup (recipe->changes[i].part);
  copy->trouble = g_strdup (recipe->trouble);
  copy->extra = g_strdup (recipe->extra);
  return copy;
}

PatternRecipe *
pattern_recipe_ref (const PatternRecipe *recipe)
{
  g_return_val_if_fail (recipe != NULL, NULL);
  PatternRecipe *own = (PatternRecipe *)recipe;
  g_atomic_ref_count_inc (&own->refs);
  return own;
}

void
pattern_recipe_unref (PatternRecipe *recipe)
{
  g_return_if_fail (recipe != NULL);
  if (!g_atomic_ref_count_dec (&recipe->refs))
    return;
  for (guint i = 0; i < recipe->n_made; i++)
    g_free (recipe->made[i].part);
  for (guint i = 0; i < recipe->n_changes; i++)
    g_free (recipe->changes[i].part);
  g_free (recipe->made);
  g_free (recipe->changes);
  pattern_step_free (recipe->step);
  g_free (recipe->name);
  g_free (recipe->trouble);
  g_free (recipe->extra);
  g_free (recipe);
}

static gboolean
motions_equal (GeoMotion a, GeoMotion b)
{
  return a.c == b.c && a.s == b.s && a.dx == b.dx && a.dy == b.dy
         && a.flip == b.flip;
}

static gboolean
made_equal (const PatternRecipe *a, const PatternRecipe *b)
{
  if (a->n_made != b->n_made)
    return FALSE;
  for (guint i = 0; i < a->n_made; i++)
    if (a->made[i].id != b->made[i].id
        || strcmp (a->made[i].part, b->made[i].part) != 0
        || !motions_equal (a->made[i].frame, b->made[i].frame))
      return FALSE;
  return TRUE;
}

static gboolean
changes_equal (const PatternRecipe *a, const PatternRecipe *b)
{
  if (a->n_changes != b->n_changes)
    return FALSE;
  for (guint i = 0; i < a->n_changes; i++)
    {
      const PatternHandChange *p = &a->changes[i], *q = &b->changes[i];
      if (strcmp (p->part, q->part) != 0 || p->gone != q->gone
          || p->kind != q->kind || !pattern_point_equal (p->at, q->at)
          || !pattern_point_equal (p->in, q->in)
          || !pattern_point_equal (p->out, q->out))
        return FALSE;
    }
  return TRUE;
}

gboolean
pattern_recipe_equal (const PatternRecipe *a, const PatternRecipe *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);
  return a == b
         || (a->id == b->id && strcmp (a->name, b->name) == 0
             && g_strcmp0 (a->trouble, b->trouble) == 0
             && g_strcmp0 (a->extra, b->extra) == 0
             && pattern_step_equal (a->step, b->step) && made_equal (a, b)
             && changes_equal (a, b));
}

/* --- altering a copy -------------------------------------------------------------- */
PatternMade *
pattern_recipe_put_made (PatternRecipe *recipe, const char *part, guint id)
{
  g_return_val_if_fail (recipe != NULL && part != NULL, NULL);
  for (guint i = 0; i < recipe->n_made; i++)
    if (strcmp (recipe->made[i].part, part) == 0)
      {
        recipe->made[i].id = id;
        return &recipe->made[i];
      }
  PatternMade made = { g_strdup (part), id, geo_motion_none () };
  PATTERN_APPEND (recipe->made, recipe->n_made, made);
  return &recipe->made[recipe->n_made - 1];
}

void
pattern_recipe_remove_made (PatternRecipe *recipe, const char *part)
{
  g_return_if_fail (recipe != NULL && part != NULL);
  for (guint i = 0; i < recipe->n_made; i++)
    if (strcmp (recipe->made[i].part, part) == 0)
      {
        g_free (recipe->made[i].part);
        PATTERN_TAKE_OUT (recipe->made, recipe->n_made, i);
        return;
      }
}

PatternHandChange *
pattern_recipe_change (PatternRecipe *recipe, const char *part)
{
  g_return_val_if_fail (recipe != NULL && part != NULL, NULL);
  for (guint i = 0; i < recipe->n_changes; i++)
    if (strcmp (recipe->changes[i].part, part) == 0)
      return &recipe->changes[i];
  PatternHandChange change = { .part = g_strdup (part), .kind = -1 };
  PATTERN_APPEND (recipe->changes, recipe->n_changes, change);
  return &recipe->changes[recipe->n_changes - 1];
}

gboolean
pattern_recipe_remove_change (PatternRecipe *recipe, const char *part)
{
  g_return_val_if_fail (recipe != NULL && part != NULL, FALSE);
  for (guint i = 0; i < recipe->n_changes; i++)
    if (strcmp (recipe->changes[i].part, part) == 0)
      {
        g_free (recipe->changes[i].part);
        PATTERN_TAKE_OUT (recipe->changes, recipe->n_changes, i);
        return TRUE;
      }
  return FALSE;
}

/* --- asking --------------------------------------------------------------------- */
guint
pattern_recipe_get_made (const PatternRecipe *recipe, const char *part)
{
  g_return_val_if_fail (recipe != NULL && part != NULL, 0);
  for (guint i = 0; i < recipe->n_made; i++)
    if (strcmp (recipe->made[i].part, part) == 0)
      return recipe->made[i].id;
  return 0;
}

const PatternMade *
pattern_recipe_find_made (const PatternRecipe *recipe, guint id)
{
  g_return_val_if_fail (recipe != NULL, NULL);
  for (guint i = 0; i < recipe->n_made; i++)
    if (recipe->made[i].id == id)
      return &recipe->made[i];
  return NULL;
}

const PatternHandChange *
pattern_recipe_get_change (const PatternRecipe *recipe, const char *part)
{
  g_return_val_if_fail (recipe != NULL && part != NULL, NULL);
  for (guint i = 0; i < recipe->n_changes; i++)
    if (strcmp (recipe->changes[i].part, part) == 0)
      return &recipe->changes[i];
  return NULL;
}

gboolean
pattern_part_is_piece (const char *part)
{
  g_return_val_if_fail (part != NULL, FALSE);
  return strpbrk (part, "/:") == NULL;
}

char *
pattern_part_piece (const char *part)
{
  g_return_val_if_fail (part != NULL, NULL);
  return g_strndup (part, strcspn (part, "/"));
}
