/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/figure-needs.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "drafting/verb.h"

#define TORSO "torso-sloper"
#define SLEEVE "sleeve-sloper"

typedef struct
{
  AppPage *page; /* borrowed; outlives the rows */
  GtkWidget *says, *list, *button;
  char *key; /* what the rows were made for */
} Needs;

static void
needs_free (gpointer data)
{
  Needs *self = data;
  g_free (self->key);
  g_free (self);
}

/* --- which ---------------------------------------------------------------------------- */

const PatternKnownFigure *
app_figure_missing (const Pattern *pattern, const char *text)
{
  guint n;
  const PatternKnownFigure *known = pattern_known_figures (&n);
  const PatternKnownFigure *found = NULL;
  for (guint i = 0; i < n; i++)
    if (strstr (text, known[i].name) != NULL
        && pattern_find_figure (pattern, known[i].name) == NULL
        && (found == NULL || strlen (known[i].name) > strlen (found->name)))
      found = &known[i];
  return found;
}

static const PatternKnownFigure *
known_figure (const char *name)
{
  guint n;
  const PatternKnownFigure *known = pattern_known_figures (&n);
  for (guint i = 0; i < n; i++)
    if (strcmp (known[i].name, name) == 0)
      return &known[i];
  return NULL;
}

/* Figures the verb's amounts begin with; those the pattern has not. n_there gets how many it has. */
static GPtrArray *
missing_for (const Pattern *pattern, const char *name, guint *n_there)
{
  GPtrArray *missing = g_ptr_array_new ();
  const DraftingVerb *verb = drafting_verb_find (name);
  *n_there = 0;
  for (guint i = 0; verb != NULL && i < verb->n_parameters; i++)
    {
      const char *start = verb->parameters[i].start;
      const PatternKnownFigure *known = start ? known_figure (start) : NULL;
      if (known == NULL)
        continue;
      if (pattern_find_figure (pattern, known->name) != NULL)
        ++*n_there;
      else
        g_ptr_array_add (missing, (gpointer)known);
    }
  return missing;
}

static const PatternRecipe *
recipe_of (const Pattern *pattern, const char *verb)
{
  for (guint i = 0; i < pattern->n_recipes; i++)
    if (strcmp (pattern->recipes[i]->step->verb, verb) == 0)
      return pattern->recipes[i];
  return NULL;
}

/* --- entering -------------------------------------------------------------------------- */

gboolean
app_figure_add (AppSession *session, const PatternKnownFigure *known, double mm)
{
  g_autoptr (PatternStep) told = pattern_step_new ("set-figure");
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *length
      = g_strdup_printf ("%s mm", g_ascii_dtostr (number, sizeof number, mm));
  pattern_step_set (told, "name", known->name);
  pattern_step_set (told, "length", length);
  GError *error = NULL;
  Pattern *p = drafting_step_do (app_session_get_pattern (session), told, NULL,
                                 &error);
  if (p != NULL)
    app_session_tell_step (session, told);
  g_autofree char *label = g_strdup_printf (_ ("add %s"), _ (known->title));
  return app_session_do (session, label, NULL, p, &error);
}

const PatternKnownFigure *
app_figure_of (gpointer field)
{
  return g_object_get_data (G_OBJECT (field), "known");
}

GtkWidget *
app_figure_field (const PatternKnownFigure *known, PatternUnit unit,
                  GCallback entered, gpointer data)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *name = app_ui_paragraph (_ (known->title), NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (name), 16);
  gtk_widget_set_hexpand (name, TRUE);
  gtk_box_append (GTK_BOX (line), name);
  GtkWidget *field = app_field_new (APP_FIELD_LENGTH, known->name);
  app_ui_name (field, _ (known->title));
  app_field_set_unit (APP_FIELD (field), unit);
  app_field_set_mixed (APP_FIELD (field), "");
  GtkEditable *entry = GTK_EDITABLE (app_field_get_entry (APP_FIELD (field)));
  gtk_editable_set_width_chars (entry, 9);
  gtk_editable_set_max_width_chars (entry, 9);
  g_object_set_data (G_OBJECT (field), "known", (gpointer)known);
  g_signal_connect (field, "entered", entered, data);
  gtk_box_append (GTK_BOX (line), field);
  gtk_box_append (GTK_BOX (box), line);
  GtkWidget *how = app_ui_paragraph (_ (known->how), "dim");
  gtk_label_set_max_width_chars (GTK_LABEL (how), 34);
  gtk_box_append (GTK_BOX (box), how);
  g_object_set_data (G_OBJECT (box), "field", field);
  return box;
}

static void
figure_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  const PatternKnownFigure *known = app_figure_of (field);
  const Pattern *pattern = app_page_pattern (page);
  double mm = app_field_get_value (field);
  if (isfinite (mm) && pattern_find_figure (pattern, known->name) == NULL)
    app_figure_add (page->session, known, mm);
}

/* --- drafting -------------------------------------------------------------------------- */

static PatternStep *
step_for (const Pattern *pattern)
{
  const PatternRecipe *torso = recipe_of (pattern, TORSO);
  if (torso == NULL)
    return pattern_step_new (TORSO);
  PatternStep *step = pattern_step_new (SLEEVE);
  g_autofree char *edges
      = g_strdup_printf ("%u/%u %u/%u", pattern_recipe_get_made (torso, "back"),
                         pattern_recipe_get_made (torso, "back/e:armhole"),
                         pattern_recipe_get_made (torso, "front"),
                         pattern_recipe_get_made (torso, "front/e:armhole"));
  pattern_step_set (step, "armhole", edges);
  return step;
}

static void
draft_clicked (Needs *self)
{
  AppPage *page = self->page;
  AppSession *session = page->session;
  const Pattern *pattern = app_page_pattern (page);
  g_autoptr (PatternStep) step = step_for (pattern);
  g_autofree char *label = drafting_step_describe (pattern, step);
  GError *error = NULL;
  Pattern *p = drafting_step_do (pattern, step, NULL, &error);
  if (p != NULL)
    app_session_tell_step (session, step);
  if (app_session_do (session, label, NULL, p, &error))
    gtk_widget_activate_action (self->button, "win.zoom-fit", NULL);
}

/* --- showing --------------------------------------------------------------------------- */

static char *
words_for (const char *verb, guint n_missing)
{
  gboolean torso = strcmp (verb, TORSO) == 0;
  if (n_missing == 0)
    return g_strdup (
        torso ? _ ("All that a torso sloper wants is there. Put in your own "
                   "figures, then draft it; it follows those you change "
                   "afterwards.")
              : _ ("The torso sloper follows these figures. Its sleeve is "
                   "drafted from its armholes."));
  return g_strdup_printf (
      torso ? ngettext ("A torso sloper wants %u figure more:",
                        "A torso sloper wants %u figures more:", n_missing)
            : ngettext ("The sleeve wants %u figure more:",
                        "The sleeve wants %u figures more:", n_missing),
      n_missing);
}

static void
make_rows (Needs *self, const Pattern *pattern, const GPtrArray *missing)
{
  app_ui_clear (self->list);
  for (guint i = 0; i < missing->len; i++)
    gtk_box_append (GTK_BOX (self->list),
                    app_figure_field (missing->pdata[i], pattern->unit,
                                      G_CALLBACK (figure_entered), self->page));
}

void
app_figure_needs_show (GtkWidget *widget, const Pattern *pattern)
{
  Needs *self = g_object_get_data (G_OBJECT (widget), "needs");
  gboolean torso = recipe_of (pattern, TORSO) == NULL;
  const char *verb = torso ? TORSO : SLEEVE;
  guint there;
  g_autoptr (GPtrArray) missing = missing_for (pattern, verb, &there);
  /* Of a pattern that is about something else, one or two figures mean no sloper. */
  gboolean wanted
      = there > 0 && (pattern->n_pieces == 0 || there > missing->len);
  gtk_widget_set_visible (widget,
                          torso ? wanted : recipe_of (pattern, SLEEVE) == NULL);
  g_autoptr (GString) key = g_string_new (verb);
  g_string_append_printf (key, " %d", (int)pattern->unit);
  for (guint i = 0; i < missing->len; i++)
    g_string_append_printf (
        key, " %s", ((const PatternKnownFigure *)missing->pdata[i])->name);
  if (g_strcmp0 (key->str, self->key) == 0)
    return;
  g_free (self->key);
  self->key = g_strdup (key->str);
  g_autofree char *words = words_for (verb, missing->len);
  app_ui_set_text (self->says, words);
  make_rows (self, pattern, missing);
  gtk_button_set_label (GTK_BUTTON (self->button),
                        torso ? _ ("Draft the torso sloper")
                              : _ ("Draft the sleeve"));
  gtk_widget_set_sensitive (self->button, missing->len == 0);
}

GtkWidget *
app_figure_needs_new (AppPage *page)
{
  GtkWidget *widget = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (widget, "card");
  Needs *self = g_new0 (Needs, 1);
  self->page = page;
  g_object_set_data_full (G_OBJECT (widget), "needs", self, needs_free);
  self->says = app_ui_paragraph ("", NULL);
  gtk_box_append (GTK_BOX (widget), self->says);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (widget), self->list);
  self->button = gtk_button_new_with_label ("");
  gtk_widget_add_css_class (self->button, "suggested-action");
  gtk_widget_set_halign (self->button, GTK_ALIGN_START);
  g_signal_connect_swapped (self->button, "clicked", G_CALLBACK (draft_clicked),
                            self);
  gtk_box_append (GTK_BOX (widget), self->button);
  gtk_widget_set_visible (widget, FALSE);
  return widget;
}
