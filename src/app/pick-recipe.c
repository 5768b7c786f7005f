/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pick-recipe.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/draft.h"
#include "pattern/figure.h"
#include "sewing/words.h"

typedef struct
{
  AppPage *page; /* borrowed; outlives the rows */
  char *key;     /* what the rows were made for */
} Rows;

static void
rows_free (gpointer data)
{
  Rows *self = data;
  g_free (self->key);
  g_free (self);
}

static guint
recipe_of (gpointer widget)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "recipe"));
}

static const DraftingParameter *
parameter_of (gpointer widget)
{
  return g_object_get_data (G_OBJECT (widget), "parameter");
}

/* The change as a verb: a bare length with its unit, so that it means the same later. */
static void
tell_step (AppPage *page, const Pattern *pattern,
           const DraftingParameter *parameter, const char *text)
{
  g_autofree char *piece = g_strdup_printf ("%u", page->id);
  g_autoptr (PatternStep) step = pattern_step_new ("change-amount");
  pattern_step_set (step, "piece", piece);
  pattern_step_set (step, "amount", parameter->key);
  double mm;
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *fixed = NULL;
  if (parameter->kind == DRAFTING_LENGTH
      && pattern_amount_needs_unit (pattern, text)
      && pattern_amount_evaluate (pattern, text, pattern->unit, &mm, NULL))
    fixed
        = g_strdup_printf ("%s mm", g_ascii_dtostr (number, sizeof number, mm));
  pattern_step_set (step, "to", fixed ? fixed : text);
  if (drafting_recipe_of (pattern, page->id) != NULL)
    app_session_tell_step (page->session, step);
}

/* --- edits ---------------------------------------------------------------------------- */
static void
set_argument (gpointer widget, const char *text, AppPage *page)
{
  const Pattern *pattern = app_page_pattern (page);
  const PatternRecipe *recipe
      = pattern_get_recipe (pattern, recipe_of (widget));
  const DraftingParameter *parameter = parameter_of (widget);
  if (recipe == NULL || page->updating)
    return;
  g_autoptr (PatternStep) step = pattern_step_dup (recipe->step);
  /* What is typed is in the pattern's unit, and so is the rest as it is shown. */
  pattern_step_set (step, parameter->key, text);
  const DraftingVerb *verb = drafting_verb_find (step->verb);
  for (guint i = 0; verb && i < verb->n_parameters; i++)
    {
      const char *other
          = pattern_step_get (recipe->step, verb->parameters[i].key);
      g_autofree char *own
          = other ? app_draft_argument_shown (pattern, recipe->step,
                                              &verb->parameters[i], other)
                  : NULL;
      if (own && &verb->parameters[i] != parameter)
        pattern_step_set (step, verb->parameters[i].key, own);
    }
  pattern_step_set (step, "unit", pattern_unit_word (pattern->unit));
  GError *error = NULL;
  Pattern *p = drafting_set_recipe (pattern, recipe->id, step, &error);
  if (p != NULL)
    tell_step (page, pattern, parameter, text);
  g_autofree char *label = g_strdup_printf (_ ("change %s of %s"),
                                            _ (parameter->label), recipe->name);
  app_page_do (page, label, NULL, p, &error);
}

static void
amount_entered (AppField *field, gboolean by_step, AppPage *page)
{
  (void)by_step;
  g_autofree char *text = g_strdup (app_field_get_text (field));
  set_argument (field, text, page);
}

static void
choice_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  guint i = gtk_drop_down_get_selected (drop);
  if (i != GTK_INVALID_LIST_POSITION)
    set_argument (drop, parameter_of (drop)->choices[i], page);
}

static void
yes_toggled (GtkCheckButton *check, AppPage *page)
{
  set_argument (check, gtk_check_button_get_active (check) ? "yes" : "no",
                page);
}

static void
change_clicked (GtkButton *button, AppPage *page)
{
  (void)page;
  gtk_widget_activate_action (GTK_WIDGET (button), "win.draft-recipe", "u",
                              recipe_of (button));
}

static void
let_go_clicked (GtkButton *button, AppPage *page)
{
  GError *error = NULL;
  Pattern *p
      = drafting_let_go (app_page_pattern (page), recipe_of (button), &error);
  app_page_do (page, _ ("let a linked piece go"), NULL, p, &error);
}

static void
take_back_clicked (GtkButton *button, AppPage *page)
{
  const char *part = g_object_get_data (G_OBJECT (button), "part");
  GError *error = NULL;
  Pattern *p = drafting_undo_hand (app_page_pattern (page), recipe_of (button),
                                   part, &error);
  app_page_do (page, _ ("take back a change by hand"), NULL, p, &error);
}

/* --- making ---------------------------------------------------------------------------- */
static void
set_data (GtkWidget *widget, guint recipe, const DraftingParameter *parameter)
{
  g_object_set_data (G_OBJECT (widget), "recipe", GUINT_TO_POINTER (recipe));
  g_object_set_data (G_OBJECT (widget), "parameter", (gpointer)parameter);
}

static GtkWidget *
make_choice (AppPage *page, GtkWidget *rows, const DraftingParameter *parameter)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  for (guint i = 0; parameter->choices[i] != NULL; i++)
    g_ptr_array_add (words, (gpointer)(parameter->choice_labels
                                           ? _ (parameter->choice_labels[i])
                                           : parameter->choices[i]));
  g_ptr_array_add (words, NULL);
  return app_page_drop (page, rows, (const char *const *)words->pdata,
                        _ (parameter->label), choice_chosen);
}

static GtkWidget *
make_amount (AppPage *page, GtkWidget *rows, const DraftingParameter *parameter)
{
  if (parameter->kind == DRAFTING_YES)
    return app_page_check (page, rows, _ (parameter->label), yes_toggled);
  if (parameter->kind == DRAFTING_CHOICE)
    return make_choice (page, rows, parameter);
  GtkWidget *field = app_page_field (page, rows, APP_FIELD_TEXT,
                                     _ (parameter->label), amount_entered);
  if (parameter->kind == DRAFTING_LENGTH)
    gtk_widget_set_tooltip_text (
        field, _ ("A length, or arithmetic on body figures: bust girth / 4 "
                  "+ 1 cm"));
  return field;
}

static char *
change_words (const Pattern *pattern, const PatternRecipe *recipe,
              const PatternHandChange *change)
{
  const char *name = strrchr (change->part, ':');
  name = name ? name + 1 : change->part;
  g_autofree char *by = sewing_words_amount (pattern, geo_norm (change->at));
  if (change->gone)
    return g_strdup_printf (_ ("%s is taken away"), name);
  if (pattern_recipe_change_waits (pattern, recipe, change))
    return g_strdup_printf (_ ("%s: not drafted now, waits"), name);
  if (strstr (change->part, "/n:") && geo_norm (change->at) < 0.05)
    return g_strdup_printf (_ ("%s: its curve"), name);
  if (strstr (change->part, "/grain"))
    return g_strdup (_ ("grainline"));
  return g_strdup_printf (_ ("%s moved %s"), name, by);
}

static void
make_changes (AppPage *page, GtkWidget *box, const Pattern *pattern,
              const PatternRecipe *recipe)
{
  if (recipe->n_changes == 0)
    return;
  GtkWidget *more = gtk_expander_new (NULL);
  g_autofree char *title = g_strdup_printf (
      ngettext ("%u change by hand, kept", "%u changes by hand, kept",
                recipe->n_changes),
      recipe->n_changes);
  gtk_expander_set_label (GTK_EXPANDER (more), title);
  GtkWidget *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_expander_set_child (GTK_EXPANDER (more), list);
  for (guint i = 0; i < recipe->n_changes; i++)
    {
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
      g_autofree char *words
          = change_words (pattern, recipe, &recipe->changes[i]);
      GtkWidget *label = app_ui_paragraph (words, NULL);
      gtk_box_append (GTK_BOX (line), label);
      GtkWidget *back = app_ui_icon_button (
          "edit-undo-symbolic", _ ("Take this change back"), NULL, NULL);
      set_data (back, recipe->id, NULL);
      g_object_set_data_full (G_OBJECT (back), "part",
                              g_strdup (recipe->changes[i].part), g_free);
      g_signal_connect (back, "clicked", G_CALLBACK (take_back_clicked), page);
      gtk_box_append (GTK_BOX (line), back);
      gtk_box_append (GTK_BOX (list), line);
    }
  GtkWidget *all = app_page_button (page, list, _ ("Take all back"), NULL,
                                    take_back_clicked);
  set_data (all, recipe->id, NULL);
  gtk_widget_set_halign (all, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (box), more);
}

static void
add_part (GtkWidget *box, const char *key, GtkWidget *part)
{
  g_object_set_data (G_OBJECT (box), key, part);
  gtk_box_append (GTK_BOX (box), part);
}

/* Folded away: a verb with groups has many amounts. */
static GtkWidget *
make_group (GtkWidget *box, const char *heading)
{
  GtkWidget *group = gtk_expander_new (_ (heading));
  GtkWidget *rows = app_ui_rows_new ();
  gtk_expander_set_child (GTK_EXPANDER (group), rows);
  gtk_box_append (GTK_BOX (box), group);
  return rows;
}

static GtkWidget *
make_recipe (AppPage *page, const Pattern *pattern, const PatternRecipe *recipe)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (box, "card");
  g_autofree char *title = g_strdup_printf (_ ("Linked: %s"), recipe->name);
  gtk_box_append (GTK_BOX (box), app_ui_heading (title));
  add_part (box, "trouble", app_ui_paragraph ("", "out"));
  add_part (box, "words", app_ui_paragraph ("", "dim"));
  const DraftingVerb *verb = drafting_verb_find (recipe->step->verb);
  GtkWidget *rows = app_ui_rows_new ();
  gtk_box_append (GTK_BOX (box), rows);
  const char *last = NULL;
  for (guint i = 0; verb && i < verb->n_parameters; i++)
    {
      const DraftingParameter *parameter = &verb->parameters[i];
      if (app_draft_is_pick (parameter))
        continue;
      const char *heading = drafting_verb_heading (verb, i);
      if (heading != last)
        rows = make_group (box, heading);
      last = heading;
      GtkWidget *control = make_amount (page, rows, parameter);
      set_data (control, recipe->id, parameter);
      g_object_set_data (G_OBJECT (box), parameter->key, control);
    }
  add_part (box, "sources", app_ui_paragraph ("", "dim"));
  make_changes (page, box, pattern, recipe);
  GtkWidget *outer = page->box;
  page->box = box;
  GtkWidget *buttons = app_page_buttons (page);
  page->box = outer;
  GtkWidget *change = app_page_button (
      page, buttons, _ ("Change…"),
      _ ("Other edges or amounts, shown as they are typed"), change_clicked);
  set_data (change, recipe->id, NULL);
  GtkWidget *go = app_page_button (
      page, buttons, _ ("Let it go"),
      _ ("The piece stays as it is and is no longer drafted again"),
      let_go_clicked);
  set_data (go, recipe->id, NULL);
  return box;
}

/* --- showing ---------------------------------------------------------------------------- */
static void
show_text (GtkWidget *box, const char *key, const char *text)
{
  GtkWidget *label = g_object_get_data (G_OBJECT (box), key);
  app_ui_set_text (label, text ? text : "");
  gtk_widget_set_visible (label, text && *text != '\0');
}

static void
show_amount (GtkWidget *control, const Pattern *pattern,
             const PatternRecipe *recipe, const DraftingParameter *parameter)
{
  const char *text = pattern_step_get (recipe->step, parameter->key);
  g_autofree char *shown
      = app_draft_argument_shown (pattern, recipe->step, parameter, text);
  if (APP_IS_FIELD (control))
    app_field_set_text (APP_FIELD (control), shown);
  else if (GTK_IS_CHECK_BUTTON (control))
    gtk_check_button_set_active (GTK_CHECK_BUTTON (control),
                                 g_ascii_strcasecmp (shown, "yes") == 0);
  else
    for (guint i = 0; parameter->choices[i] != NULL; i++)
      if (g_ascii_strcasecmp (parameter->choices[i], shown) == 0)
        gtk_drop_down_set_selected (GTK_DROP_DOWN (control), i);
}

static void
show_recipe (GtkWidget *box, const Pattern *pattern,
             const PatternRecipe *recipe)
{
  const DraftingVerb *verb = drafting_verb_find (recipe->step->verb);
  g_autofree char *words = drafting_recipe_words (pattern, recipe->id);
  show_text (box, "trouble", recipe->trouble);
  show_text (box, "words", words);
  g_autoptr (GString) sources = g_string_new (NULL);
  for (guint i = 0; verb && i < verb->n_parameters; i++)
    {
      const DraftingParameter *parameter = &verb->parameters[i];
      const char *text = pattern_step_get (recipe->step, parameter->key);
      GtkWidget *control = g_object_get_data (G_OBJECT (box), parameter->key);
      if (control != NULL && !app_draft_is_pick (parameter))
        show_amount (control, pattern, recipe, parameter);
      else if (text && *text != '\0' && parameter->kind < DRAFTING_POINT)
        {
          g_autofree char *of
              = drafting_argument_words (pattern, parameter, text);
          g_string_append_printf (sources, "%s%s: %s",
                                  sources->len > 0 ? "\n" : "",
                                  _ (parameter->label), of);
        }
    }
  show_text (box, "sources", sources->str);
}

/* Made the piece, or put marks on it. */
static gboolean
is_linked (const PatternRecipe *recipe, guint piece)
{
  g_autofree char *on = g_strdup_printf ("on%u/", piece);
  for (guint i = 0; i < recipe->n_made; i++)
    if ((recipe->made[i].id == piece
         && pattern_part_is_piece (recipe->made[i].part))
        || g_str_has_prefix (recipe->made[i].part, on))
      return TRUE;
  return FALSE;
}

void
app_recipe_rows_show (GtkWidget *widget, const Pattern *pattern, guint piece)
{
  Rows *self = g_object_get_data (G_OBJECT (widget), "rows");
  g_autoptr (GString) key = g_string_new ("-");
  g_autoptr (GPtrArray) recipes = g_ptr_array_new ();
  for (guint i = 0; i < pattern->n_recipes; i++)
    if (is_linked (pattern->recipes[i], piece))
      {
        const PatternRecipe *recipe = pattern->recipes[i];
        g_ptr_array_add (recipes, (gpointer)recipe);
        g_string_append_printf (key, " %u %d:", recipe->id, pattern->unit);
        for (guint k = 0; k < recipe->n_changes; k++)
          {
            g_autofree char *words
                = change_words (pattern, recipe, &recipe->changes[k]);
            g_string_append_printf (key, "%s;", words);
          }
      }
  gtk_widget_set_visible (widget, recipes->len > 0);
  if (g_strcmp0 (key->str, self->key) != 0)
    {
      g_free (self->key);
      self->key = g_strdup (key->str);
      app_ui_clear (widget);
      for (guint i = 0; i < recipes->len; i++)
        gtk_box_append (GTK_BOX (widget),
                        make_recipe (self->page, pattern, recipes->pdata[i]));
    }
  GtkWidget *box = gtk_widget_get_first_child (widget);
  for (guint i = 0; i < recipes->len && box != NULL; i++)
    {
      show_recipe (box, pattern, recipes->pdata[i]);
      box = gtk_widget_get_next_sibling (box);
    }
}

GtkWidget *
app_recipe_rows_new (AppPage *page)
{
  GtkWidget *widget = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  Rows *self = g_new0 (Rows, 1);
  self->page = page;
  g_object_set_data_full (G_OBJECT (widget), "rows", self, rows_free);
  return widget;
}
