/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipes follow what they were drafted from. */
#include <string.h>

#include "drafting/recipe.h"
#include "drafting/values.h"
#include "pattern/figure.h"

/* --- what a recipe reads ------------------------------------------------------------- */
/* Numbers in an argument: of pieces, or of seams (which begin with s). Calls until one
 * answers TRUE. */
static gboolean
any_named (const PatternRecipe *recipe, gboolean seams,
           gboolean (*test) (guint id, gpointer data), gpointer data)
{
  const DraftingVerb *verb = drafting_verb_find (recipe->step->verb);
  for (guint i = 0; verb && i < verb->n_parameters; i++)
    {
      DraftingParameterKind kind = verb->parameters[i].kind;
      gboolean is_seam = kind == DRAFTING_SEAM || kind == DRAFTING_DART;
      const char *text
          = pattern_step_get (recipe->step, verb->parameters[i].key);
      if (!text || kind < DRAFTING_PIECE || kind >= DRAFTING_POINT
          || is_seam != seams)
        continue;
      g_auto (GStrv) words = g_strsplit (text, " ", -1);
      for (guint k = 0; words[k]; k++)
        {
          guint id = (guint)g_ascii_strtoull (
              words[k] + strspn (words[k], "-s"), NULL, 10);
          if (id != 0 && test (id, data))
            return TRUE;
        }
    }
  return FALSE;
}

typedef struct
{
  const Pattern *before, *now; /* before: NULL where only asked of */
  guint piece;
  gboolean reshaped; /* only what changes the draft's shape counts */
} Asked;

static gboolean
is_piece_asked (guint id, gpointer data)
{
  return ((const Asked *)data)->piece == id;
}

static gboolean
is_seam_on_piece (guint id, gpointer data)
{
  const Asked *asked = data;
  const PatternSeam *seam = pattern_get_seam (asked->now, id);
  for (int s = 0; seam && s < 2; s++)
    for (guint r = 0; r < seam->sides[s].n_runs; r++)
      if (seam->sides[s].runs[r].piece == asked->piece)
        return TRUE;
  return FALSE;
}

gboolean
drafting_recipe_reads (const Pattern *p, const PatternRecipe *recipe,
                       guint piece)
{
  Asked asked = { NULL, p, piece, FALSE };
  return any_named (recipe, FALSE, is_piece_asked, &asked)
         || any_named (recipe, TRUE, is_seam_on_piece, &asked);
}

/* --- what changed ------------------------------------------------------------------- */
static gboolean
same_shape (const PatternPiece *a, const PatternPiece *b)
{
  if (!a || !b || a->n_nodes != b->n_nodes)
    return FALSE;
  for (guint i = 0; i < a->n_nodes; i++)
    if (!geo_same (a->nodes[i].at, b->nodes[i].at)
        || !geo_same (a->nodes[i].in, b->nodes[i].in)
        || !geo_same (a->nodes[i].out, b->nodes[i].out))
      return FALSE;
  return TRUE;
}

static gboolean
piece_changed (guint id, gpointer data)
{
  const Asked *asked = data;
  const PatternPiece *b = pattern_get_piece (asked->before, id);
  const PatternPiece *n = pattern_get_piece (asked->now, id);
  return b != n && !(asked->reshaped && same_shape (b, n));
}

/* The seam itself, or a piece it is on. */
static gboolean
seam_changed (guint id, gpointer data)
{
  Asked *asked = data;
  const PatternSeam *b = pattern_get_seam (asked->before, id);
  const PatternSeam *n = pattern_get_seam (asked->now, id);
  if (b != n)
    return TRUE;
  for (int s = 0; n && s < 2; s++)
    for (guint r = 0; r < n->sides[s].n_runs; r++)
      if (piece_changed (n->sides[s].runs[r].piece, asked))
        return TRUE;
  return FALSE;
}

/* Seams on its sources that came, went or changed: drafters look for shoulder seams
 * and darts. Its own are its own. */
static gboolean
neighbour_seams_changed (const PatternRecipe *recipe, const Asked *asked)
{
  if (asked->before->seams == asked->now->seams)
    return FALSE;
  for (int way = 0; way < 2; way++)
    {
      const Pattern *a = way ? asked->now : asked->before;
      const Pattern *b = way ? asked->before : asked->now;
      for (guint i = 0; i < a->n_seams; i++)
        {
          const PatternSeam *seam = a->seams[i];
          if (pattern_get_seam (b, seam->id) == seam
              || pattern_recipe_find_made (recipe, seam->id))
            continue;
          for (int s = 0; s < 2; s++)
            for (guint r = 0; r < seam->sides[s].n_runs; r++)
              if (drafting_recipe_reads (a, recipe,
                                         seam->sides[s].runs[r].piece))
                return TRUE;
        }
    }
  return FALSE;
}

static gboolean
amount_of (const Pattern *p, DraftingParameterKind kind, const char *text,
           double *amount)
{
  return kind == DRAFTING_LENGTH
             ? pattern_amount_evaluate (p, text, PATTERN_MM, amount, NULL)
             : pattern_amount_evaluate_number (p, text, amount, NULL);
}

static gboolean
figures_changed (const PatternRecipe *recipe, const Pattern *before,
                 const Pattern *now)
{
  const DraftingVerb *verb = drafting_verb_find (recipe->step->verb);
  for (guint i = 0; verb && i < verb->n_parameters; i++)
    {
      const char *text
          = pattern_step_get (recipe->step, verb->parameters[i].key);
      if (!text || verb->parameters[i].kind > DRAFTING_COUNT)
        continue;
      double a = 0, b = 0;
      DraftingParameterKind kind = verb->parameters[i].kind;
      gboolean had = amount_of (before, kind, text, &a);
      gboolean has = amount_of (now, kind, text, &b);
      if (had != has || a != b)
        return TRUE;
    }
  return FALSE;
}

static gboolean
cloths_changed (const Pattern *before, const Pattern *now)
{
  if (before->n_cloths != now->n_cloths)
    return TRUE;
  for (guint i = 0; i < now->n_cloths; i++)
    if (before->cloths[i].id != now->cloths[i].id
        || before->cloths[i].use != now->cloths[i].use
        || before->cloths[i].thickness != now->cloths[i].thickness
        || before->cloths[i].give != now->cloths[i].give)
      return TRUE;
  return FALSE;
}

/* reshaped: changes that leave every source's outline as it lies do not count. */
static gboolean
sources_changed (const PatternRecipe *recipe, const Pattern *before,
                 const Pattern *now, gboolean reshaped)
{
  Asked asked = { before, now, 0, reshaped };
  return any_named (recipe, FALSE, piece_changed, &asked)
         || any_named (recipe, TRUE, seam_changed, &asked)
         || (!reshaped && neighbour_seams_changed (recipe, &asked))
         || figures_changed (recipe, before, now)
         || cloths_changed (before, now);
}

/* --- order -------------------------------------------------------------------------- */
static void
visit (const Pattern *p, guint index, gboolean *seen, GArray *order)
{
  if (seen[index])
    return;
  seen[index] = TRUE;
  for (guint k = 0; k < p->n_recipes; k++)
    for (guint i = 0; k != index && i < p->recipes[k]->n_made; i++)
      if (pattern_part_is_piece (p->recipes[k]->made[i].part)
          && drafting_recipe_reads (p, p->recipes[index],
                                    p->recipes[k]->made[i].id))
        {
          visit (p, k, seen, order);
          break;
        }
  g_array_append_val (order, p->recipes[index]->id);
}

static GArray *
recipes_in_order (const Pattern *p)
{
  g_autofree gboolean *seen = g_new0 (gboolean, p->n_recipes);
  GArray *order = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < p->n_recipes; i++)
    visit (p, i, seen, order);
  return order;
}

/* --- following ---------------------------------------------------------------------- */
static gboolean
has_anything (const Pattern *p, const PatternRecipe *recipe)
{
  gboolean made_pieces = FALSE;
  for (guint i = 0; i < recipe->n_made; i++)
    if (pattern_part_is_piece (recipe->made[i].part))
      {
        made_pieces = TRUE;
        if (pattern_get_piece (p, recipe->made[i].id))
          return TRUE;
      }
  return !made_pieces;
}

/* Drafts again; what can't be keeps what it has and gets its trouble. */
static Pattern *
draft_again (const Pattern *now, PatternRecipe *recipe)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DraftingDraft) draft
      = drafting_recipe_draft (now, recipe->step, &error);
  g_autoptr (Pattern) result = pattern_dup (now);
  g_autoptr (PatternRecipe) laid = pattern_recipe_dup (recipe);
  if (draft && drafting_recipe_lay (result, laid, draft, &error))
    {
      g_clear_pointer (&laid->trouble, g_free);
      if (!pattern_recipe_equal (laid, recipe)
          || !pattern_recipe_equal (laid, pattern_get_recipe (now, recipe->id)))
        pattern_put_recipe (result, g_steal_pointer (&laid));
      return g_steal_pointer (&result);
    }
  Pattern *kept = pattern_dup (now);
  pattern_set_string (&recipe->trouble, error->message);
  pattern_put_recipe (kept, pattern_recipe_dup (recipe));
  return kept;
}

/* One recipe; takes over now. */
static Pattern *
follow_one (const Pattern *before, Pattern *now, guint id, GError **error)
{
  g_autoptr (Pattern) own = now;
  const PatternRecipe *was = pattern_get_recipe (before, id);
  const PatternRecipe *is = pattern_get_recipe (own, id);
  if (!was || !is)
    return g_steal_pointer (&own);
  gboolean dirty = sources_changed (is, before, own, FALSE);
  g_autoptr (PatternRecipe) recipe = pattern_recipe_dup (is);
  if (was == is && !(dirty && sources_changed (is, before, own, TRUE))
      && !drafting_recipe_absorb (before, own, recipe, error))
    return NULL;
  if (!has_anything (own, recipe))
    {
      Pattern *without = pattern_dup (own);
      pattern_remove_recipe (without, id);
      return without;
    }
  if (dirty)
    return draft_again (own, recipe);
  if (!pattern_recipe_equal (recipe, is))
    {
      Pattern *changed = pattern_dup (own);
      pattern_put_recipe (changed, g_steal_pointer (&recipe));
      return changed;
    }
  return g_steal_pointer (&own);
}

Pattern *
drafting_follow (const Pattern *before, const Pattern *now, GError **error)
{
  g_return_val_if_fail (before != NULL && now != NULL, NULL);
  g_autoptr (Pattern) result = pattern_ref (now);
  if (before == now || now->n_recipes == 0)
    return g_steal_pointer (&result);
  g_autoptr (GArray) order = recipes_in_order (now);
  for (guint i = 0; result && i < order->len; i++)
    result = follow_one (before, g_steal_pointer (&result),
                         g_array_index (order, guint, i), error);
  return g_steal_pointer (&result);
}
