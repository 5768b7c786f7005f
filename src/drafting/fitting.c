/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/fitting.h"

#include <glib/gi18n.h>

#include "drafting/edit-private.h"
#include "drafting/patch.h"
#include "drafting/verb.h"

#define MOST_FITTINGS 100
#define MOST_CHANGES 2000
#define MOST_PARTS 4000 /* pieces in all changes by hand */

/* --- keeping ------------------------------------------------------------------------ */
static gboolean
has_fitting_called (const Pattern *p, const char *name)
{
  for (guint i = 0; i < p->n_fittings; i++)
    if (g_strcmp0 (p->fittings[i]->name, name) == 0)
      return TRUE;
  return FALSE;
}

static char *
next_name (const Pattern *p)
{
  for (guint i = p->n_fittings + 1;; i++)
    {
      char *name = g_strdup_printf (_ ("muslin %u"), i);
      if (!has_fitting_called (p, name))
        return name;
      g_free (name);
    }
}

Pattern *
drafting_keep_fitting (const Pattern *p, const char *name, const char *note,
                       guint *new_fitting, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (p->n_fittings >= MOST_FITTINGS)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("There are %d fittings already. Forget an old one "
                          "first."),
                       MOST_FITTINGS);
      return NULL;
    }
  g_autofree char *own
      = name != NULL && *name != '\0' ? g_strdup (name) : next_name (p);
  Pattern *kept = pattern_dup (p);
  guint id = pattern_take_id (kept);
  pattern_put_fitting (kept,
                       pattern_fitting_new (id, own, note, p, p->n_changes));
  if (new_fitting != NULL)
    *new_fitting = id;
  return kept;
}

static const PatternFitting *
find_fitting (const Pattern *p, guint fitting, GError **error)
{
  const PatternFitting *found = pattern_get_fitting (p, fitting);
  if (found == NULL)
    drafting_refuse (error, DRAFTING_ERROR_GONE,
                     _ ("That fitting is no longer there."));
  return found;
}

Pattern *
drafting_set_fitting (const Pattern *p, guint fitting, const char *name,
                      const char *note, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  const PatternFitting *old = find_fitting (p, fitting, error);
  if (old == NULL)
    return NULL;
  Pattern *set = pattern_dup (p);
  pattern_put_fitting (
      set, pattern_fitting_new (fitting, name, note, old->kept, old->at));
  return set;
}

Pattern *
drafting_remove_fitting (const Pattern *p, guint fitting, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (find_fitting (p, fitting, error) == NULL)
    return NULL;
  Pattern *without = pattern_dup (p);
  pattern_remove_fitting (without, fitting);
  return without;
}

/* --- when there are too many ------------------------------------------------------- */
static gboolean
is_full (const Pattern *p)
{
  guint parts = 0;
  for (guint i = 0; i < p->n_changes; i++)
    if (p->changes[i]->step == NULL)
      parts += p->changes[i]->was->n_pieces + p->changes[i]->is->n_pieces;
  return p->n_changes >= MOST_CHANGES || parts >= MOST_PARTS;
}

/* The changes are forgotten, and the pattern as it was after the last of them is kept in
 * their place: what comes after rests on that. */
static void
begin_anew (Pattern *now, const Pattern *before)
{
  pattern_cut_changes (now, 0);
  for (guint i = 0; i < now->n_fittings; i++)
    {
      const PatternFitting *f = now->fittings[i];
      pattern_put_fitting (
          now, pattern_fitting_new (f->id, f->name, f->note, f->kept, 0));
    }
  pattern_put_fitting (
      now,
      pattern_fitting_new (
          pattern_take_id (now), _ ("kept by itself"),
          _ ("The list of changes was full; it begins anew here."), before, 0));
}

/* --- recording ---------------------------------------------------------------------- */
static gboolean
same_lists (const Pattern *a, const Pattern *b)
{
  if (a->n_fittings != b->n_fittings || a->n_changes != b->n_changes)
    return FALSE;
  for (guint i = 0; i < a->n_fittings; i++)
    if (a->fittings[i]->id != b->fittings[i]->id)
      return FALSE;
  for (guint i = 0; i < a->n_changes; i++)
    if (a->changes[i] != b->changes[i])
      return FALSE;
  return TRUE;
}

Pattern *
drafting_record (const Pattern *before, Pattern *now, const char *label,
                 const char *merge, const PatternStep *step)
{
  g_return_val_if_fail (before != NULL && now != NULL, NULL);
  /* A step that changes the fittings or the list itself (a change taken back or revised) is none
   * of the changes. */
  if (now->n_fittings == 0 || !same_lists (before, now))
    return now;
  g_autoptr (PatternChange) change
      = step != NULL ? pattern_change_new (label, before->next_id, step)
                     : pattern_change_between (label, merge, before, now);
  if (change == NULL)
    return now;
  g_autoptr (Pattern) own = now;
  Pattern *with = pattern_dup (now);
  if (is_full (with))
    {
      begin_anew (with, before);
      pattern_add_change (with, g_steal_pointer (&change));
      return with;
    }
  const PatternChange *last
      = now->n_changes > now->fittings[now->n_fittings - 1]->at
            ? now->changes[now->n_changes - 1]
            : NULL;
  if (merge != NULL && last != NULL && last->step == NULL && step == NULL
      && g_strcmp0 (last->merge, merge) == 0)
    {
      PatternChange *joined = pattern_change_join (last, change);
      pattern_cut_changes (with, with->n_changes - 1);
      if (joined != NULL)
        pattern_add_change (with, joined);
    }
  else
    pattern_add_change (with, g_steal_pointer (&change));
  return with;
}

/* --- doing again -------------------------------------------------------------------- */
const PatternFitting *
drafting_fitting_of (const Pattern *p, guint change)
{
  g_return_val_if_fail (p != NULL, NULL);
  const PatternFitting *found = NULL;
  if (change < p->n_changes)
    for (guint i = 0; i < p->n_fittings && p->fittings[i]->at <= change; i++)
      found = p->fittings[i];
  return found;
}

/* The pattern as it was kept, with the settings of today: what is not a change of the
 * garment is not taken back. */
static Pattern *
base_of (const Pattern *p, const PatternFitting *fitting)
{
  Pattern *base = pattern_dup (p);
  while (base->n_recipes > 0)
    pattern_remove_recipe (base, base->recipes[0]->id);
  while (base->n_figures > 0)
    pattern_remove_figure (base, base->figures[0].id);
  while (base->n_seams > 0)
    pattern_remove_seam (base, base->seams[0]->id);
  while (base->n_pieces > 0)
    pattern_remove_piece (base, base->pieces[0]->id);
  pattern_clear_fittings (base);
  const Pattern *kept = fitting->kept;
  for (guint i = 0; i < kept->n_cloths; i++)
    if (pattern_get_cloth (base, kept->cloths[i].id) == NULL)
      pattern_put_cloth (base, &kept->cloths[i]);
  for (guint i = 0; i < kept->n_pieces; i++)
    pattern_put_piece (base, pattern_piece_ref (kept->pieces[i]));
  for (guint i = 0; i < kept->n_seams; i++)
    pattern_put_seam (base, pattern_seam_ref (kept->seams[i]));
  for (guint i = 0; i < kept->n_figures; i++)
    pattern_put_figure (base, &kept->figures[i]);
  for (guint i = 0; i < kept->n_recipes; i++)
    pattern_put_recipe (base, pattern_recipe_ref (kept->recipes[i]));
  base->next_id = kept->next_id;
  return base;
}

/* Numbers are taken as they were then, so that what comes after finds what it
 * names. */
static Pattern *
do_again (const Pattern *at, const PatternChange *change, GError **error)
{
  g_autoptr (Pattern) from = pattern_dup (at);
  from->next_id = MAX (from->next_id, change->next_id);
  if (change->step == NULL)
    return drafting_patch (from, change, error);
  return drafting_step_do (from, change->step, NULL, error);
}

/* Gives the pattern its settings, fittings and changes back, one of these replaced, or
 * left out where instead is NULL; fittings after it move along. */
static Pattern *
with_changes (const Pattern *p, Pattern *shape, guint change,
              const PatternChange *instead)
{
  for (guint i = 0; i < p->n_fittings; i++)
    {
      const PatternFitting *f = p->fittings[i];
      guint at = instead == NULL && f->at > change ? f->at - 1 : f->at;
      pattern_put_fitting (
          shape, pattern_fitting_new (f->id, f->name, f->note, f->kept, at));
    }
  for (guint i = 0; i < p->n_changes; i++)
    if (i != change)
      pattern_add_change (shape, pattern_change_ref (p->changes[i]));
    else if (instead != NULL)
      pattern_add_change (shape, pattern_change_ref (instead));
  shape->next_id = MAX (shape->next_id, p->next_id);
  /* Cloths no piece is cut from any more, and that are not of today, go again. */
  for (guint i = shape->n_cloths; i-- > 0;)
    if (pattern_get_cloth (p, shape->cloths[i].id) == NULL)
      pattern_remove_cloth (shape, shape->cloths[i].id);
  return shape;
}

static Pattern *
do_all_again (const Pattern *p, guint change, const PatternChange *instead,
              GError **error)
{
  const PatternFitting *fitting = drafting_fitting_of (p, change);
  if (fitting == NULL)
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("That change is no longer there."));
      return NULL;
    }
  g_autoptr (Pattern) at = base_of (p, fitting);
  for (guint i = fitting->at; i < p->n_changes; i++)
    {
      const PatternChange *next = i == change ? instead : p->changes[i];
      if (next == NULL)
        continue;
      g_autoptr (GError) cause = NULL;
      Pattern *done = do_again (at, next, &cause);
      if (done == NULL && i == change)
        {
          g_propagate_error (error, g_steal_pointer (&cause));
          return NULL;
        }
      if (done == NULL)
        {
          drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                           _ ("“%s”, which was done after it, rests on it and "
                              "can't be done then: %s Nothing was changed; "
                              "take that one back first."),
                           next->label, cause->message);
          return NULL;
        }
      pattern_unref (at);
      at = done;
    }
  Pattern *shape = with_changes (p, pattern_dup (at), change, instead);
  /* More parts than the change made then may have taken numbers given out since. */
  g_autofree char *unsound = pattern_unsound (shape);
  if (unsound == NULL)
    return shape;
  pattern_unref (shape);
  drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                   _ ("That would make other parts than were made then, and "
                      "what was done since rests on their numbers. Nothing "
                      "was changed; take back what came after it first."));
  return NULL;
}

Pattern *
drafting_take_back (const Pattern *p, guint change, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  return do_all_again (p, change, NULL, error);
}

Pattern *
drafting_revise (const Pattern *p, guint change, const PatternStep *step,
                 GError **error)
{
  g_return_val_if_fail (p != NULL && step != NULL, NULL);
  if (change < p->n_changes && p->changes[change]->step == NULL)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("“%s” was done by hand and has no amount. Take it "
                          "back, and do it again."),
                       p->changes[change]->label);
      return NULL;
    }
  if (change >= p->n_changes)
    return do_all_again (p, change, NULL, error);
  g_autofree char *label = drafting_step_describe (p, step);
  g_autoptr (PatternChange) instead
      = pattern_change_new (label, p->changes[change]->next_id, step);
  return do_all_again (p, change, instead, error);
}
