/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What unsound.c asks of figures and recipes. */
#include <glib/gi18n.h>
#include <math.h>

#include "pattern/figure.h"
#include "pattern/unsound.h"

#define FARTHEST 1e5 /* mm: 100 m */

static gboolean
in_reach (GeoPoint p)
{
  return isfinite (p.x) && isfinite (p.y) && fabs (p.x) <= FARTHEST
         && fabs (p.y) <= FARTHEST;
}

static char *
look_at_figure (const Pattern *pattern, const PatternFigure *figure)
{
  if (!figure->name || !figure->note)
    return g_strdup (_ ("A figure has no name or note, not even an empty "
                        "one."));
  g_autofree char *unfit = pattern_figure_name_unfit (figure->name);
  if (unfit)
    return g_strdup_printf (_ ("The figure “%s” can't be called so. %s"),
                            figure->name, unfit);
  if (pattern_find_figure (pattern, figure->name) != figure)
    return g_strdup_printf (_ ("Two figures are called “%s”."), figure->name);
  if (!isfinite (figure->mm) || fabs (figure->mm) > FARTHEST)
    return g_strdup_printf (_ ("The figure “%s” is no length, or more than "
                               "100 m."),
                            figure->name);
  return NULL;
}

static char *
look_at_recipe (const PatternRecipe *recipe)
{
  if (!recipe->name || !recipe->step || !recipe->step->verb)
    return g_strdup (_ ("A linked piece has no recipe."));
  g_autoptr (GHashTable) parts = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < recipe->n_made; i++)
    {
      const PatternMade *made = &recipe->made[i];
      if (!made->part || !g_hash_table_add (parts, made->part))
        return g_strdup_printf (_ ("The recipe “%s” names a part twice."),
                                recipe->name);
      double length = hypot (made->frame.c, made->frame.s);
      if (!in_reach (geo_point (made->frame.dx, made->frame.dy))
          || !(fabs (length - 1) < 1e-6))
        return g_strdup_printf (_ ("The recipe “%s” lays a piece nowhere."),
                                recipe->name);
    }
  for (guint i = 0; i < recipe->n_changes; i++)
    {
      const PatternHandChange *c = &recipe->changes[i];
      if (!c->part || !in_reach (c->at) || !in_reach (c->in)
          || !in_reach (c->out) || c->kind < -1
          || c->kind > PATTERN_NODE_SYMMETRIC)
        return g_strdup_printf (
            _ ("A change by hand in the recipe “%s” makes no sense."),
            recipe->name);
    }
  return NULL;
}

char *
pattern_unsound_recipes (const Pattern *pattern)
{
  for (guint i = 0; i < pattern->n_figures; i++)
    {
      char *words = look_at_figure (pattern, &pattern->figures[i]);
      if (words)
        return words;
    }
  for (guint i = 0; i < pattern->n_recipes; i++)
    {
      char *words = look_at_recipe (pattern->recipes[i]);
      if (words)
        return words;
    }
  return NULL;
}
