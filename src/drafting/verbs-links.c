/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verbs on body figures and on linked pieces that are there already. */
#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edit-private.h"
#include "drafting/values.h"
#include "pattern/figure.h"
#include "sewing/words.h"

/* --- figures ------------------------------------------------------------------------ */
static const DraftingParameter figure_parameters[] = {
  { "name", DRAFTING_TEXT, N_ ("Name"), NULL, NULL, NULL, 0, 0 },
  { "length", DRAFTING_LENGTH, N_ ("Length"), NULL, NULL, NULL, 0, 0 },
};

static Pattern *
run_figure (const Pattern *p, const DraftingValues *v, GError **error)
{
  const char *name = drafting_values_get_text (v, "name");
  g_autofree char *unfit = pattern_figure_name_unfit (name);
  if (unfit)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT, "%s", unfit);
      return NULL;
    }
  const PatternFigure *old = pattern_find_figure (p, name);
  Pattern *result = pattern_dup (p);
  PatternFigure figure = { old ? old->id : pattern_take_id (result),
                           old ? old->name : (char *)name,
                           drafting_values_get_number (v, "length"),
                           old ? old->note : (char *)"" };
  pattern_put_figure (result, &figure);
  return result;
}

static char *
describe_figure (const Pattern *p, const DraftingValues *v)
{
  g_autofree char *length
      = sewing_words_length (p, drafting_values_get_number (v, "length"));
  return g_strdup_printf (_ ("Set %s to %s"),
                          drafting_values_get_text (v, "name"), length);
}

/* --- linked pieces ---------------------------------------------------------------------- */
#define PIECE                                                                  \
  {                                                                            \
    "piece", DRAFTING_PIECE, N_ ("Linked piece"), NULL, NULL, NULL, 0, 0       \
  }

static const DraftingParameter amount_parameters[] = {
  PIECE,
  { "amount", DRAFTING_TEXT, N_ ("Amount"), NULL, NULL, NULL, 0, 0 },
  { "to", DRAFTING_TEXT, N_ ("New"), NULL, NULL, NULL, 0, 0 },
};
static const DraftingParameter piece_parameters[] = { PIECE };

static const PatternRecipe *
recipe_of (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint id = drafting_values_get_piece (v, "piece");
  const PatternRecipe *recipe = drafting_recipe_of (p, id);
  const PatternPiece *piece = pattern_get_piece (p, id);
  if (!recipe && piece)
    {
      g_autofree char *name = sewing_words_piece (piece);
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("%s is linked to nothing: it is a piece of its "
                          "own."),
                       name);
    }
  return recipe;
}

/* By its key, or as its field is called. */
static const DraftingParameter *
find_amount (const PatternRecipe *recipe, const char *name, GError **error)
{
  const DraftingVerb *verb = drafting_verb_find (recipe->step->verb);
  g_autoptr (GString) keys = g_string_new (NULL);
  for (guint i = 0; verb && i < verb->n_parameters; i++)
    {
      const DraftingParameter *parameter = &verb->parameters[i];
      g_autofree char *label = g_utf8_casefold (_ (parameter->label), -1);
      g_autofree char *asked = g_utf8_casefold (name, -1);
      if (strcmp (parameter->key, name) == 0 || strcmp (label, asked) == 0)
        return parameter;
      g_string_append_printf (keys, "%s%s", keys->len > 0 ? ", " : "",
                              parameter->key);
    }
  drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                   _ ("“%s” is none of its amounts: %s."), name, keys->str);
  return NULL;
}

static Pattern *
run_amount (const Pattern *p, const DraftingValues *v, GError **error)
{
  const PatternRecipe *recipe = recipe_of (p, v, error);
  const DraftingParameter *parameter
      = recipe ? find_amount (recipe, drafting_values_get_text (v, "amount"),
                              error)
               : NULL;
  if (!parameter)
    return NULL;
  g_autoptr (PatternStep) step = pattern_step_dup (recipe->step);
  pattern_step_set (step, parameter->key, drafting_values_get_text (v, "to"));
  return drafting_set_recipe (p, recipe->id, step, error);
}

static char *
describe_amount (const Pattern *p, const DraftingValues *v)
{
  const PatternRecipe *recipe = recipe_of (p, v, NULL);
  const DraftingParameter *parameter
      = recipe
            ? find_amount (recipe, drafting_values_get_text (v, "amount"), NULL)
            : NULL;
  return parameter ? g_strdup_printf (_ ("%s of %s: %s"), _ (parameter->label),
                                      recipe->name,
                                      drafting_values_get_text (v, "to"))
                   : NULL;
}

static Pattern *
run_let_go (const Pattern *p, const DraftingValues *v, GError **error)
{
  const PatternRecipe *recipe = recipe_of (p, v, error);
  return recipe ? drafting_let_go (p, recipe->id, error) : NULL;
}

static Pattern *
run_take_back (const Pattern *p, const DraftingValues *v, GError **error)
{
  const PatternRecipe *recipe = recipe_of (p, v, error);
  if (recipe && recipe->n_changes == 0)
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("Nothing was changed on it by hand."));
      return NULL;
    }
  return recipe ? drafting_undo_hand (p, recipe->id, NULL, error) : NULL;
}

static const DraftingVerb verbs[] = {
  { "set-figure", N_ ("Set body figure"),
    N_ ("Give a body figure its length, or add one: what is drafted with it "
        "follows."),
    DRAFTING_GROUP_GUIDE, figure_parameters, G_N_ELEMENTS (figure_parameters),
    run_figure, NULL, describe_figure },
  { "change-amount", N_ ("Change an amount"),
    N_ ("Pick a linked piece, and say which of its amounts becomes what."),
    DRAFTING_GROUP_DRAFT, amount_parameters, G_N_ELEMENTS (amount_parameters),
    run_amount, NULL, describe_amount },
  { "take-back-hand", N_ ("Take back changes by hand"),
    N_ ("Pick a linked piece: it is drafted without what was changed on it by "
        "hand."),
    DRAFTING_GROUP_DRAFT, piece_parameters, G_N_ELEMENTS (piece_parameters),
    run_take_back, NULL, NULL },
  { "let-go", N_ ("Let a linked piece go"),
    N_ ("Pick a linked piece: it stays as it is and is no longer drafted "
        "again."),
    DRAFTING_GROUP_DRAFT, piece_parameters, G_N_ELEMENTS (piece_parameters),
    run_let_go, NULL, NULL },
};

const DraftingVerb *
drafting_verbs_of_links (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}
