/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A change told in words: a verb and its arguments, as text. What she did can so
 * be listed, kept in the document, done again, and done again with another amount.
 *
 * Arguments name things by number: a piece "12", an edge "12/7" (walked against the outline:
 * "-12/7"), several edges in order "12/7 -15/3", a node "12/n5", a seam "s4", a
 * point "120.5,80". Lists are parted by spaces. Amounts are arithmetic as typed ("2 cm", "bust girth / 4 + 1 cm"; see figure.h),
 * angles are degrees, shares per cent, both as plain numbers. Text written here is
 * of the C locale. The argument "unit" (mm, cm, in) is every verb's: it is what an amount
 * without a unit is in, so that it means the same when the pattern is shown in another.
 */
#pragma once

#include <glib.h>

#include "geometry/point.h"

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
 * the pattern: "collar", "collar/e:neck", "collar/n:shoulder", "collar/m:back", "s:neck".
 * A part that is not drafted at present keeps its number for when it is again.
 * frame: of a piece only: where it lies. Its drafted frame (see drafting/recipe.h) is put on the
 * table by it. */
typedef struct
{
  char *part;
  guint id;
  GeoMotion frame;
} PatternMade;

/* What she did by hand to a part of a linked piece: laid on again after each
 * drafting. Lengths and directions are in the piece's drafted frame. */
typedef struct
{
  char *part;
  gboolean gone; /* taken away: a mark, a seam, or a piece of several */
  int kind;      /* of a node: a PatternNodeKind; -1 as drafted */
  GeoPoint at; /* a node's or mark's displacement; x: a notch's along its edge,
                    a seam's meant ease, an angle; "collar/grain": of its start */
  GeoPoint in, out; /* of a node's handles as they stand off the node; in: of
                       the grain's end; in.x: of a buttonhole's length, in.y: angle */
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
  char *extra;
} PatternRecipe;

PatternRecipe *pattern_recipe_new (guint id, const char *name,
                                   const PatternStep *step);
PatternRecipe *pattern_recipe_dup (const PatternRecipe *recipe);
PatternRecipe *pattern_recipe_ref (const PatternRecipe *recipe);
void pattern_recipe_unref (PatternRecipe *recipe);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PatternRecipe, pattern_recipe_unref)
gboolean pattern_recipe_equal (const PatternRecipe *a, const PatternRecipe *b);

/* --- altering a copy that is not yet in a pattern ----------------------------- */
/* Replaces or adds; the frame of one that is there stays. Borrowed until the next. */
PatternMade *pattern_recipe_put_made (PatternRecipe *recipe, const char *part,
                                      guint id);
void pattern_recipe_remove_made (PatternRecipe *recipe, const char *part);
/* The hand change of a part, added as none where there is none; borrowed until the next. */
PatternHandChange *pattern_recipe_change (PatternRecipe *recipe,
                                          const char *part);
gboolean pattern_recipe_remove_change (PatternRecipe *recipe, const char *part);

/* --- asking ------------------------------------------------------------------- */
/* 0 where there is none. */
guint pattern_recipe_get_made (const PatternRecipe *recipe, const char *part);
/* The part that has the number; NULL. Numbers of pieces, edges, nodes, marks and seams never
 * meet. */
const PatternMade *pattern_recipe_find_made (const PatternRecipe *recipe,
                                             guint id);
const PatternHandChange *pattern_recipe_get_change (const PatternRecipe *recipe,
                                                    const char *part);
/* TRUE for the part of a piece: no stroke in it, and no seam's. */
gboolean pattern_part_is_piece (const char *part);
/* "collar" of "collar/n:shoulder". */
char *pattern_part_piece (const char *part);
