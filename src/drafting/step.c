/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps done and told. */
#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edit-private.h"
#include "drafting/recipe.h"
#include "drafting/values.h"
#include "pattern/figure.h"
#include "sewing/words.h"

const DraftingVerb *
drafting_step_verb (const PatternStep *step, GError **error)
{
  const DraftingVerb *verb = drafting_verb_find (step->verb);
  if (!verb)
    drafting_refuse (error, DRAFTING_ERROR_GONE,
                     _ ("There is no verb “%s” in this Bodkin; it may be one "
                        "of a newer one."),
                     step->verb);
  return verb;
}

gboolean
drafting_step_check (const Pattern *p, const PatternStep *step,
                     const DraftingParameter **bad, GError **error)
{
  g_return_val_if_fail (p != NULL && step != NULL, FALSE);
  if (bad)
    *bad = NULL;
  const DraftingVerb *verb = drafting_step_verb (step, error);
  if (!verb)
    return FALSE;
  g_autoptr (DraftingValues) values
      = drafting_values_new (p, verb, step, bad, error);
  return values != NULL;
}

Pattern *
drafting_step_run (const Pattern *p, const PatternStep *step, GError **error)
{
  g_return_val_if_fail (p != NULL && step != NULL, NULL);
  const DraftingVerb *verb = drafting_step_verb (step, error);
  if (!verb)
    return NULL;
  if (verb->draft)
    return drafting_recipe_start (p, step, error);
  g_autoptr (DraftingValues) values
      = drafting_values_new (p, verb, step, NULL, error);
  return values ? verb->run (p, values, error) : NULL;
}

Pattern *
drafting_step_do (const Pattern *p, const PatternStep *step, char **let_go,
                  GError **error)
{
  g_return_val_if_fail (p != NULL && step != NULL, NULL);
  g_autoptr (Pattern) from = pattern_ref (p);
  g_autoptr (GString) names = g_string_new (NULL);
  if (let_go)
    *let_go = NULL;
  for (guint tries = 0; tries <= p->n_recipes; tries++)
    {
      g_autoptr (Pattern) done = drafting_step_run (from, step, error);
      if (!done)
        return NULL;
      guint unkept = drafting_recipe_unkept (from, done);
      Pattern *followed
          = drafting_follow (from, done, unkept == 0 ? error : NULL);
      if (followed || unkept == 0)
        {
          if (followed && let_go && names->len > 0)
            *let_go = g_strdup (names->str);
          return followed;
        }
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "",
                              pattern_get_recipe (from, unkept)->name);
      Pattern *freed = drafting_let_go (from, unkept, error);
      pattern_unref (from);
      from = freed;
    }
  return NULL;
}

/* Amounts that begin with a body figure are written down, so that they are seen to use it. */
static void
tell_figures (const Pattern *p, const DraftingVerb *verb, PatternStep *step)
{
  for (guint i = 0; i < verb->n_parameters; i++)
    {
      const DraftingParameter *parameter = &verb->parameters[i];
      if (parameter->kind > DRAFTING_COUNT || !parameter->start
          || pattern_step_get (step, parameter->key))
        continue;
      g_auto (GStrv) names = pattern_amount_figures (p, parameter->start);
      if (names[0] != NULL)
        pattern_step_set (step, parameter->key, parameter->start);
    }
}

PatternStep *
drafting_step_with_unit (const Pattern *p, const PatternStep *step)
{
  PatternStep *copy = pattern_step_dup (step);
  const DraftingVerb *verb = drafting_verb_find (step->verb);
  if (verb)
    tell_figures (p, verb, copy);
  if (!verb || pattern_step_get (step, "unit"))
    return copy;
  for (guint i = 0; i < verb->n_parameters; i++)
    {
      const char *text = pattern_step_get (step, verb->parameters[i].key);
      if (verb->parameters[i].kind == DRAFTING_LENGTH && text
          && pattern_amount_needs_unit (p, text))
        {
          pattern_step_set (copy, "unit", pattern_unit_word (p->unit));
          break;
        }
    }
  return copy;
}

/* --- telling ---------------------------------------------------------------------- */
static char *
join_words (GPtrArray *words)
{
  g_ptr_array_add (words, NULL);
  return g_strjoinv (", ", (char **)words->pdata);
}

/* The edge first: it is what tells it from others where there is little room. */
static char *
edge_words (const PatternPiece *piece, guint edge)
{
  int index = pattern_piece_find_edge (piece, edge);
  if (index < 0)
    return g_strdup (_ ("gone"));
  if (*piece->edges[index].name != '\0')
    return g_strdup_printf ("%s (%s)", piece->edges[index].name, piece->name);
  return g_strdup_printf (_ ("edge %d (%s)"), index + 1, piece->name);
}

char *
drafting_argument_words (const Pattern *p, const DraftingParameter *parameter,
                         const char *text)
{
  g_return_val_if_fail (p != NULL && parameter != NULL, NULL);
  if (!text || parameter->kind < DRAFTING_PIECE
      || parameter->kind >= DRAFTING_POINT)
    return g_strdup (text ? text : "");
  DraftingParameter only = *parameter;
  only.start = "";
  DraftingVerb verb = { .name = "", .parameters = &only, .n_parameters = 1 };
  g_autoptr (PatternStep) step = pattern_step_new ("");
  pattern_step_set (step, only.key, text);
  g_autoptr (DraftingValues) v
      = drafting_values_new (p, &verb, step, NULL, NULL);
  if (!v)
    return g_strdup (_ ("gone"));
  if (only.kind == DRAFTING_SEAM || only.kind == DRAFTING_DART)
    {
      const PatternSeam *seam
          = pattern_get_seam (p, drafting_values_get_seam (v, only.key));
      return seam ? sewing_words_seam (seam) : g_strdup ("");
    }
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, only.key, &n);
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < n; i++)
    {
      const PatternPiece *piece = pattern_get_piece (p, runs[i].piece);
      if (only.kind == DRAFTING_NODE)
        {
          g_autofree char *name = sewing_words_piece (piece);
          g_ptr_array_add (words, g_strdup_printf (_ ("a node of %s"), name));
        }
      else if (runs[i].edge == 0)
        g_ptr_array_add (words, g_strdup (piece->name));
      else
        g_ptr_array_add (words, edge_words (piece, runs[i].edge));
    }
  return join_words (words);
}

/* The title and the first amount: "Lengthen 35 mm". */
static char *
describe_plainly (const Pattern *p, const DraftingVerb *verb,
                  const DraftingValues *v)
{
  for (guint i = 0; i < verb->n_parameters; i++)
    {
      const DraftingParameter *parameter = &verb->parameters[i];
      double number = parameter->kind <= DRAFTING_COUNT
                          ? drafting_values_get_number (v, parameter->key)
                          : 0;
      g_autofree char *amount = NULL;
      if (parameter->kind == DRAFTING_LENGTH)
        amount = sewing_words_length (p, number);
      else if (parameter->kind == DRAFTING_ANGLE)
        amount = g_strdup_printf ("%.3g°", number);
      else if (parameter->kind == DRAFTING_SHARE)
        amount = g_strdup_printf ("%.3g %%", number);
      if (amount && drafting_values_has (v, parameter->key))
        return g_strdup_printf ("%s %s", _ (verb->title), amount);
    }
  return g_strdup (_ (verb->title));
}

char *
drafting_step_describe (const Pattern *p, const PatternStep *step)
{
  g_return_val_if_fail (p != NULL && step != NULL, NULL);
  const DraftingVerb *verb = drafting_verb_find (step->verb);
  if (!verb)
    return g_strdup (step->verb);
  g_autoptr (DraftingValues) v
      = drafting_values_new (p, verb, step, NULL, NULL);
  if (!v)
    return g_strdup (_ (verb->title));
  char *words = verb->describe ? verb->describe (p, v) : NULL;
  return words ? words : describe_plainly (p, verb, v);
}
