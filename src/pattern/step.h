/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A change told in words: a verb and its arguments, as text. What she did can so
 * be listed, kept in the document, done again, and done again with another amount.
 *
 * Arguments name things by number: a piece "12", an edge "12/7" (walked against the outline:
 * "-12/7"), several edges in order "12/7 -15/3", a node "12/n5", a seam "s4", a
 * point "120.5,80". Amounts are arithmetic as typed ("2 cm", "bust girth / 4 + 1 cm"; see amount.h),
 * angles are degrees, shares per cent, both as plain numbers. Text written here is
 * of the C locale.
 */
#pragma once

#include <glib.h>

typedef struct
{
  char *key;  /* "by", "edge": a parameter of the verb */
  char *text; /* as above */
} PatternArgument;

typedef struct
{
  char *verb; /* "turn-dart" */
  PatternArgument *arguments;
  guint n_arguments;
} PatternStep;

PatternStep *pattern_step_new (const char *verb);
PatternStep *pattern_step_dup (const PatternStep *step);
void pattern_step_free (PatternStep *step);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PatternStep, pattern_step_free)
/* Replaces or adds; NULL takes it out. */
void pattern_step_set (PatternStep *step, const char *key, const char *text);
const char *pattern_step_get (const PatternStep *step, const char *key);
gboolean pattern_step_equal (const PatternStep *a, const PatternStep *b);

/* --- a linked piece ---------------------------------------------------------- */

/* A part the recipe made: its name in the recipe, which never changes, and the number it has in
 * the pattern. "collar", "collar/e:neck", "collar/n:shoulder", "collar/m:back", "s:neck". */
typedef struct
{
  char *part;
  guint id;
} PatternMade;

/* What she moved by hand on a linked piece: laid on again after each drafting. In the
 * frame of the drafted piece. */
typedef struct
{
  char *part; /* of a node */
  double at[2], in[2], out[2];
} PatternHandChange;

/* A recipe: a step that is done again whenever what it was drafted from changes. */
typedef struct
{
  gatomicrefcount refs;
  guint id;
  char *name;        /* "flat collar" */
  PatternStep *step; /* of a verb that drafts */
  PatternMade *made;
  guint n_made;
  PatternHandChange *changes;
  guint n_changes;
  char *trouble; /* why the last drafting could not be done, in her words; NULL
                    when it was: the pieces then are of the last that could */
} PatternRecipe;

PatternRecipe *pattern_recipe_new (guint id, const char *name,
                                   const PatternStep *step);
PatternRecipe *pattern_recipe_dup (const PatternRecipe *recipe);
PatternRecipe *pattern_recipe_ref (const PatternRecipe *recipe);
void pattern_recipe_unref (PatternRecipe *recipe);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PatternRecipe, pattern_recipe_unref)
guint pattern_recipe_get_made (const PatternRecipe *recipe, const char *part);
