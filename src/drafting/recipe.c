/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipes started, changed, let go and told. */
#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edit-private.h"
#include "drafting/recipe.h"
#include "drafting/values.h"
#include "sewing/words.h"

DraftingDraft *
drafting_recipe_draft (const Pattern *p, const PatternStep *step,
                       GError **error)
{
  const DraftingVerb *verb = drafting_step_verb (step, error);
  if (!verb)
    return NULL;
  if (!verb->draft)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("“%s” drafts nothing that could be linked."),
                       _ (verb->title));
      return NULL;
    }
  g_autoptr (DraftingValues) values
      = drafting_values_new (p, verb, step, NULL, error);
  g_autoptr (DraftingDraft) draft = drafting_draft_new ();
  if (!values || !verb->draft (p, values, draft, error))
    return NULL;
  return g_steal_pointer (&draft);
}

/* Drafts the recipe's step and lays it; takes over the recipe. */
static Pattern *
draft_and_lay (const Pattern *p, PatternRecipe *own, GError **error)
{
  g_autoptr (PatternRecipe) recipe = own;
  g_autoptr (DraftingDraft) draft
      = drafting_recipe_draft (p, recipe->step, error);
  if (!draft)
    return NULL;
  g_autoptr (Pattern) result = pattern_dup (p);
  if (!drafting_recipe_lay (result, recipe, draft, error))
    return NULL;
  g_clear_pointer (&recipe->trouble, g_free);
  pattern_put_recipe (result, g_steal_pointer (&recipe));
  return g_steal_pointer (&result);
}

Pattern *
drafting_recipe_start (const Pattern *p, const PatternStep *step,
                       GError **error)
{
  const DraftingVerb *verb = drafting_step_verb (step, error);
  if (!verb)
    return NULL;
  g_autoptr (PatternStep) own = drafting_step_with_unit (p, step);
  g_autoptr (Pattern) numbered = pattern_dup (p);
  guint id = pattern_take_id (numbered);
  return draft_and_lay (numbered, pattern_recipe_new (id, _ (verb->title), own),
                        error);
}

static PatternRecipe *
dup_recipe (const Pattern *p, guint id, GError **error)
{
  const PatternRecipe *recipe = pattern_get_recipe (p, id);
  if (!recipe)
    drafting_refuse (error, DRAFTING_ERROR_GONE,
                     _ ("That piece is linked to no recipe any more."));
  return recipe ? pattern_recipe_dup (recipe) : NULL;
}

/* What is drafted from it follows. Takes over changed. */
static Pattern *
with_what_follows (const Pattern *p, Pattern *changed, GError **error)
{
  g_autoptr (Pattern) own = changed;
  return own ? drafting_follow (p, own, error) : NULL;
}

/* --- rounds ------------------------------------------------------------------------ */
static gboolean
is_drafted_from (const Pattern *p, const PatternRecipe *recipe,
                 const PatternRecipe *other, guint depth)
{
  if (depth == 0)
    return TRUE;
  for (guint i = 0; i < other->n_made; i++)
    if (pattern_part_is_piece (other->made[i].part)
        && drafting_recipe_reads (p, recipe, other->made[i].id))
      return TRUE;
  for (guint k = 0; k < p->n_recipes; k++)
    {
      const PatternRecipe *between = p->recipes[k];
      if (between->id == recipe->id || between->id == other->id)
        continue;
      for (guint i = 0; i < between->n_made; i++)
        if (pattern_part_is_piece (between->made[i].part)
            && drafting_recipe_reads (p, recipe, between->made[i].id)
            && is_drafted_from (p, between, other, depth - 1))
          return TRUE;
    }
  return FALSE;
}

Pattern *
drafting_set_recipe (const Pattern *p, guint recipe, const PatternStep *step,
                     GError **error)
{
  g_return_val_if_fail (p != NULL && step != NULL, NULL);
  g_autoptr (PatternRecipe) own = dup_recipe (p, recipe, error);
  if (!own)
    return NULL;
  if (strcmp (own->step->verb, step->verb) != 0)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("A linked piece can't be drafted by another verb."));
      return NULL;
    }
  pattern_step_free (own->step);
  own->step = drafting_step_with_unit (p, step);
  if (is_drafted_from (p, own, own, p->n_recipes + 1))
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("%s would be drafted from itself. Pick something "
                          "that does not come from it."),
                       own->name);
      return NULL;
    }
  return with_what_follows (p, draft_and_lay (p, g_steal_pointer (&own), error),
                            error);
}

Pattern *
drafting_undo_hand (const Pattern *p, guint recipe, const char *part,
                    GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  g_autoptr (PatternRecipe) own = dup_recipe (p, recipe, error);
  if (!own)
    return NULL;
  if (part && !pattern_recipe_remove_change (own, part))
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("There is no such change by hand any more."));
      return NULL;
    }
  while (!part && own->n_changes > 0)
    pattern_recipe_remove_change (own, own->changes[0].part);
  return with_what_follows (p, draft_and_lay (p, g_steal_pointer (&own), error),
                            error);
}

Pattern *
drafting_let_go (const Pattern *p, guint recipe, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!pattern_get_recipe (p, recipe))
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("That piece is linked to no recipe any more."));
      return NULL;
    }
  Pattern *result = pattern_dup (p);
  pattern_remove_recipe (result, recipe);
  return result;
}

/* --- asking ------------------------------------------------------------------------ */
const PatternRecipe *
drafting_recipe_of (const Pattern *p, guint piece)
{
  g_return_val_if_fail (p != NULL, NULL);
  for (guint i = 0; i < p->n_recipes; i++)
    {
      const PatternMade *made = pattern_recipe_find_made (p->recipes[i], piece);
      if (made && pattern_part_is_piece (made->part))
        return p->recipes[i];
    }
  return NULL;
}

char *
drafting_recipe_words (const Pattern *p, guint recipe)
{
  g_return_val_if_fail (p != NULL, NULL);
  const PatternRecipe *own = pattern_get_recipe (p, recipe);
  g_autoptr (DraftingDraft) draft
      = own ? drafting_recipe_draft (p, own->step, NULL) : NULL;
  g_autoptr (GString) words = g_string_new (draft ? draft->words->str : "");
  for (guint i = 0; own && i < own->n_changes; i++)
    if (pattern_recipe_change_waits (p, own, &own->changes[i]))
      g_string_append_printf (words, "%s%s", words->len > 0 ? "\n" : "",
                              _ ("A change by hand waits: what it moved is "
                                 "not drafted at present."));
  return g_strdup (words->str);
}
