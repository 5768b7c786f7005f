/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading figures and recipes of the native document. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "file/document-reading.h"
#include "file/document-words.h"
#include "file/document.h"

#define FARTHEST 1e5 /* mm: 100 m */

static guint
take_id (FileReading *r, FileTaking *t)
{
  guint id = file_take_count (t, "id", G_MAXUINT - 2, FILE_REQUIRED);
  r->highest_id = MAX (r->highest_id, id);
  return id;
}

/* Not NULL. */
static const char *
take_text (FileTaking *t, const char *name)
{
  const char *text = file_take_text (t, name);
  return text != NULL ? text : "";
}

gboolean
file_start_figure (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  g_string_truncate (r->text, 0);
  g_free (r->figure.name);
  r->figure = (PatternFigure){
    .id = take_id (r, t),
    .name = g_strdup (take_text (t, "name")),
    .mm = file_take_number (t, "length", -FARTHEST, FARTHEST, NAN),
  };
  return TRUE;
}

gboolean
file_end_figure (FileReading *r, GError **error)
{
  if (pattern_get_figure (r->pattern, r->figure.id) != NULL)
    return file_reading_broken (error, _ ("two figures have the same id."));
  r->figure.note = r->text->str;
  pattern_put_figure (r->pattern, &r->figure);
  r->figure.note = NULL;
  return TRUE;
}

gboolean
file_start_recipe (FileReading *r, FileTaking *t, GError **error)
{
  guint id = take_id (r, t);
  const char *verb = file_take_text (t, "verb");
  if (t->error == NULL && verb == NULL)
    return file_reading_broken (error, _ ("the recipe names no verb."));
  g_autoptr (PatternStep) step = pattern_step_new (verb != NULL ? verb : "");
  g_clear_pointer (&r->recipe, pattern_recipe_unref);
  r->recipe = pattern_recipe_new (id, take_text (t, "name"), step);
  r->recipe->trouble = g_strdup (file_take_text (t, "trouble"));
  return TRUE;
}

gboolean
file_start_argument (FileReading *r, FileTaking *t, GError **error)
{
  const char *key = take_text (t, "key");
  PatternStep *step
      = file_reading_inmost (r) == IN_CHANGE ? r->step : r->recipe->step;
  if (step == NULL || *key == '\0' || pattern_step_get (step, key) != NULL)
    return file_reading_broken (
        error, _ ("an argument has no verb, no key, or the key of another."));
  pattern_step_set (step, key, take_text (t, "text"));
  return TRUE;
}

gboolean
file_start_made (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  GeoPoint none = { 0, 0 }, right = { 1, 0 };
  GeoPoint at = file_take_point (t, "at", &none);
  GeoPoint along = file_take_point (t, "along", &right);
  PatternMade made = {
    .part = g_strdup (take_text (t, "part")),
    .id = take_id (r, t),
    .frame = { along.x, along.y, at.x, at.y,
               file_take_word (t, "over", file_words_yes) != 0 },
  };
  PatternRecipe *recipe = r->recipe;
  recipe->made = g_renew (PatternMade, recipe->made, recipe->n_made + 1);
  recipe->made[recipe->n_made++] = made;
  return TRUE;
}

gboolean
file_start_hand (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  GeoPoint none = { 0, 0 };
  PatternHandChange hand = {
    .part = g_strdup (take_text (t, "part")),
    .gone = file_take_word (t, "gone", file_words_yes) != 0,
    .kind = -1,
    .at = file_take_point (t, "at", &none),
    .in = file_take_point (t, "in", &none),
    .out = file_take_point (t, "out", &none),
  };
  if (file_take_text (t, "kind") != NULL)
    hand.kind = (int)file_take_word (t, "kind", file_words_node_kind);
  PatternRecipe *recipe = r->recipe;
  recipe->changes
      = g_renew (PatternHandChange, recipe->changes, recipe->n_changes + 1);
  recipe->changes[recipe->n_changes++] = hand;
  return TRUE;
}

gboolean
file_end_recipe (FileReading *r, char *extra, GError **error)
{
  r->recipe->extra = extra;
  if (pattern_get_recipe (r->pattern, r->recipe->id) != NULL)
    return file_reading_broken (error, _ ("two recipes have the same id."));
  pattern_put_recipe (r->pattern, g_steal_pointer (&r->recipe));
  return TRUE;
}
