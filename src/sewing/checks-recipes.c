/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Linked pieces: one that could not be drafted again shows the last outline that could, which
 * nobody should cut unknowing. */
#include "sewing/checks-private.h"

#include <glib/gi18n.h>

/* A piece the recipe made and that is there, or one it marks; NULL where none is. */
static const PatternPiece *
first_piece (const Pattern *pattern, const PatternRecipe *recipe)
{
  for (guint i = 0; i < recipe->n_made; i++)
    {
      const char *part = recipe->made[i].part;
      guint id = recipe->made[i].id;
      if (!pattern_part_is_piece (part) && g_str_has_prefix (part, "on"))
        id = (guint)g_ascii_strtoull (part + 2, NULL, 10);
      const PatternPiece *piece = pattern_get_piece (pattern, id);
      if (piece)
        return piece;
    }
  return NULL;
}

static void
add (SewingCheckRun *run, const PatternRecipe *recipe, const char *what,
     SewingWeight weight, char *text)
{
  const PatternPiece *piece = first_piece (run->pattern, recipe);
  const SewingPiece *facts
      = piece ? sewing_facts_piece (run->facts, piece) : NULL;
  SewingFinding *finding
      = sewing_finding_add (run, SEWING_CHECK_RECIPE, weight,
                            g_strdup_printf ("r%u:%s", recipe->id, what), text,
                            facts ? facts->middle : geo_point (0, 0), 0);
  finding->piece = piece ? piece->id : 0;
}

static void
check_recipe (SewingCheckRun *run, const PatternRecipe *recipe)
{
  const PatternPiece *piece = first_piece (run->pattern, recipe);
  g_autofree char *name
      = piece ? sewing_words_piece (piece) : g_strdup (recipe->name);
  if (recipe->trouble)
    add (run, recipe, "trouble", SEWING_MEND,
         g_strdup_printf (_ ("%s could not be drafted again and shows its last "
                             "outline. %s"),
                          name, recipe->trouble));
  guint waiting = 0;
  for (guint i = 0; i < recipe->n_changes; i++)
    if (pattern_recipe_change_waits (run->pattern, recipe, &recipe->changes[i]))
      waiting++;
  if (waiting > 0 && !recipe->trouble)
    add (run, recipe, "waits", SEWING_LOOK,
         g_strdup_printf (
             ngettext ("%s has a change by hand whose place is not drafted at "
                       "present; it is kept, and laid on when it is again.",
                       "%s has changes by hand whose places are not drafted "
                       "at present; they are kept, and laid on when they are "
                       "again.",
                       waiting),
             name));
}

void
sewing_check_recipes (SewingCheckRun *run)
{
  for (guint i = 0; i < run->pattern->n_recipes; i++)
    check_recipe (run, run->pattern->recipes[i]);
}
