/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pick-figures.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/figure-needs.h"
#include "pattern/figure.h"

typedef struct
{
  AppPage *page; /* borrowed; outlives the rows */
  GtkWidget *list, *menu, *known, *own, *needs;
  char *key; /* what the rows were made for */
} Rows;

static void
rows_free (gpointer data)
{
  Rows *self = data;
  g_free (self->key);
  g_free (self);
}

static guint
id_of (gpointer widget)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "id"));
}

static const PatternKnownFigure *
known_figure (const char *name)
{
  guint n;
  const PatternKnownFigure *known = pattern_known_figures (&n);
  for (guint i = 0; i < n; i++)
    if (g_ascii_strcasecmp (known[i].name, name) == 0)
      return &known[i];
  return NULL;
}

/* --- edits ---------------------------------------------------------------------------- */
static void
length_entered (AppField *field, gboolean step, AppPage *page)
{
  const Pattern *pattern = app_page_pattern (page);
  const PatternFigure *old = pattern_get_figure (pattern, id_of (field));
  if (old == NULL)
    return;
  PatternFigure figure = *old;
  figure.mm = app_field_get_value (field);
  figure.note = (char *)""; /* it told of the old one */
  Pattern *p = pattern_dup (pattern);
  pattern_put_figure (p, &figure);
  g_autoptr (PatternStep) told = pattern_step_new ("set-figure");
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *length = g_strdup_printf (
      "%s mm", g_ascii_dtostr (number, sizeof number, figure.mm));
  pattern_step_set (told, "name", figure.name);
  pattern_step_set (told, "length", length);
  app_session_tell_step (page->session, told);
  g_autofree char *label = g_strdup_printf (_ ("set %s"), old->name);
  g_autofree char *merge = g_strdup_printf ("figure-%u", figure.id);
  app_page_do (page, label, step ? merge : NULL, p, NULL);
}

static void
removed (GtkButton *button, AppPage *page)
{
  Pattern *p = pattern_dup (app_page_pattern (page));
  if (pattern_remove_figure (p, id_of (button)))
    app_page_do (page, _ ("remove a body figure"), NULL, p, NULL);
  else
    pattern_unref (p);
}

static void
add (Rows *self, const char *name)
{
  AppPage *page = self->page;
  const Pattern *pattern = app_page_pattern (page);
  g_autofree char *unfit = pattern_figure_name_unfit (name);
  if (unfit == NULL && pattern_find_figure (pattern, name) != NULL)
    unfit
        = g_strdup_printf (_ ("There is a figure called “%s” already."), name);
  if (unfit != NULL)
    {
      g_signal_emit_by_name (page->session, "problem", unfit);
      return;
    }
  const PatternKnownFigure *known = known_figure (name);
  Pattern *p = pattern_dup (pattern);
  /* A start between the bounds, to be typed over at once. */
  PatternFigure figure
      = { pattern_take_id (p), (char *)name,
          known ? (known->least + known->most) / 2 : 100, (char *)"" };
  figure.mm = (double)(long)(figure.mm / 10) * 10;
  pattern_put_figure (p, &figure);
  gtk_popover_popdown (GTK_POPOVER (self->menu));
  guint id = figure.id;
  g_autofree char *label = g_strdup_printf (_ ("add %s"), name);
  if (!app_page_do (page, label, NULL, p, NULL))
    return;
  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    {
      GtkWidget *field = g_object_get_data (G_OBJECT (row), "field");
      if (field == NULL || id_of (field) != id)
        continue;
      GtkEntry *entry = app_field_get_entry (APP_FIELD (field));
      gtk_widget_grab_focus (GTK_WIDGET (entry));
      gtk_editable_select_region (GTK_EDITABLE (entry), 0, -1);
    }
}

static void
known_chosen (Rows *self, GtkListBoxRow *row)
{
  add (self, g_object_get_data (G_OBJECT (row), "name"));
}

static void
own_entered (GtkEntry *entry, Rows *self)
{
  g_autofree char *name
      = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
  if (*name != '\0')
    add (self, name);
}

/* --- what uses it ------------------------------------------------------------------------- */
static char *
used_by (const Pattern *pattern, const PatternFigure *figure)
{
  g_autoptr (GString) users = g_string_new (NULL);
  for (guint r = 0; r < pattern->n_recipes; r++)
    {
      const PatternStep *step = pattern->recipes[r]->step;
      gboolean uses = FALSE;
      for (guint i = 0; i < step->n_arguments && !uses; i++)
        {
          g_auto (GStrv) names
              = pattern_amount_figures (pattern, step->arguments[i].text);
          uses = g_strv_contains ((const char *const *)names, figure->name);
        }
      if (uses)
        g_string_append_printf (users, "%s%s", users->len > 0 ? ", " : "",
                                pattern->recipes[r]->name);
    }
  return g_strdup (users->str);
}

/* --- rows ------------------------------------------------------------------------------- */
static void
add_row (Rows *self, const PatternFigure *figure)
{
  AppPage *page = self->page;
  const PatternKnownFigure *known = known_figure (figure->name);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *name
      = app_ui_paragraph (known ? _ (known->title) : figure->name, NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (name), 16);
  gtk_label_set_width_chars (GTK_LABEL (name), 16);
  gtk_box_append (GTK_BOX (line), name);
  GtkWidget *field = app_field_new (APP_FIELD_LENGTH, figure->name);
  app_ui_name (field, figure->name);
  gtk_editable_set_width_chars (
      GTK_EDITABLE (app_field_get_entry (APP_FIELD (field))), 9);
  gtk_editable_set_max_width_chars (
      GTK_EDITABLE (app_field_get_entry (APP_FIELD (field))), 9);
  g_object_set_data (G_OBJECT (field), "id", GUINT_TO_POINTER (figure->id));
  g_signal_connect (field, "entered", G_CALLBACK (length_entered), page);
  gtk_box_append (GTK_BOX (line), field);
  GtkWidget *remove = app_ui_icon_button ("user-trash-symbolic",
                                          _ ("Remove the figure"), NULL, NULL);
  g_object_set_data (G_OBJECT (remove), "id", GUINT_TO_POINTER (figure->id));
  g_signal_connect (remove, "clicked", G_CALLBACK (removed), page);
  gtk_widget_set_valign (remove, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (line), remove);
  gtk_box_append (GTK_BOX (row), line);
  if (known)
    gtk_widget_set_tooltip_text (line, _ (known->how));
  GtkWidget *says = app_ui_paragraph ("", "dim");
  gtk_box_append (GTK_BOX (row), says);
  g_object_set_data (G_OBJECT (row), "field", field);
  g_object_set_data (G_OBJECT (row), "remove", remove);
  g_object_set_data (G_OBJECT (row), "says", says);
  gtk_box_append (GTK_BOX (self->list), row);
}

static void
show_row (GtkWidget *row, const Pattern *pattern, const PatternFigure *figure)
{
  AppField *field = g_object_get_data (G_OBJECT (row), "field");
  app_field_set_unit (field, pattern->unit);
  app_field_set_value (field, figure->mm);
  g_autofree char *users = used_by (pattern, figure);
  const PatternKnownFigure *known = known_figure (figure->name);
  GtkWidget *says = g_object_get_data (G_OBJECT (row), "says");
  g_autofree char *words = NULL;
  gboolean odd
      = known && (figure->mm < known->least || figure->mm > known->most);
  if (odd)
    words = g_strdup (_ ("Not what one expects of a grown person: measured "
                         "again?"));
  else if (*figure->note != '\0')
    words = g_strdup (figure->note);
  else if (*users != '\0')
    words = g_strdup_printf (_ ("used by %s"), users);
  app_ui_set_text (says, words ? words : "");
  gtk_widget_set_visible (says, words != NULL);
  GtkWidget *remove = g_object_get_data (G_OBJECT (row), "remove");
  gtk_widget_set_sensitive (remove, *users == '\0');
}

void
app_figure_rows_show (GtkWidget *widget, const Pattern *pattern)
{
  Rows *self = g_object_get_data (G_OBJECT (widget), "rows");
  g_autoptr (GString) key = g_string_new ("-");
  for (guint i = 0; i < pattern->n_figures; i++)
    g_string_append_printf (key, " %u", pattern->figures[i].id);
  if (g_strcmp0 (key->str, self->key) != 0)
    {
      g_free (self->key);
      self->key = g_strdup (key->str);
      app_ui_clear (self->list);
      for (guint i = 0; i < pattern->n_figures; i++)
        add_row (self, &pattern->figures[i]);
    }
  GtkWidget *row = gtk_widget_get_first_child (self->list);
  for (guint i = 0; i < pattern->n_figures && row != NULL; i++)
    {
      show_row (row, pattern, &pattern->figures[i]);
      row = gtk_widget_get_next_sibling (row);
    }
  /* Not of what is only previewed. */
  app_figure_needs_show (self->needs, app_page_pattern (self->page));
}

/* --- adding ------------------------------------------------------------------------------- */
static void
fill_known (Rows *self)
{
  const Pattern *pattern = app_page_pattern (self->page);
  gtk_editable_set_text (GTK_EDITABLE (self->own), "");
  app_ui_clear (self->known);
  guint n;
  const PatternKnownFigure *known = pattern_known_figures (&n);
  for (guint i = 0; i < n; i++)
    {
      if (pattern_find_figure (pattern, known[i].name))
        continue;
      GtkWidget *row = gtk_list_box_row_new ();
      GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
      gtk_box_append (GTK_BOX (box), app_ui_label (_ (known[i].title), NULL));
      GtkWidget *how = app_ui_paragraph (_ (known[i].how), "dim");
      gtk_label_set_max_width_chars (GTK_LABEL (how), 44);
      gtk_box_append (GTK_BOX (box), how);
      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
      g_object_set_data (G_OBJECT (row), "name", (gpointer)known[i].name);
      gtk_list_box_append (GTK_LIST_BOX (self->known), row);
    }
}

static GtkWidget *
make_menu (Rows *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->own = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->own),
                                  _ ("A name of your own"));
  app_ui_name (self->own, _ ("A name of your own"));
  g_signal_connect (self->own, "activate", G_CALLBACK (own_entered), self);
  gtk_box_append (GTK_BOX (box), self->own);
  self->known = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->known),
                                   GTK_SELECTION_NONE);
  app_ui_name (self->known, _ ("Known figures"));
  g_signal_connect_swapped (self->known, "row-activated",
                            G_CALLBACK (known_chosen), self);
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->known);
  gtk_widget_set_size_request (scroller, 340, 320);
  gtk_box_append (GTK_BOX (box), scroller);
  GtkWidget *popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (popover), box);
  app_ui_pass_keys (popover);
  g_signal_connect_swapped (popover, "show", G_CALLBACK (fill_known), self);
  return popover;
}

GtkWidget *
app_figure_rows_new (AppPage *page)
{
  GtkWidget *widget = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  Rows *self = g_new0 (Rows, 1);
  self->page = page;
  g_object_set_data_full (G_OBJECT (widget), "rows", self, rows_free);
  gtk_box_append (GTK_BOX (widget), app_ui_heading (_ ("Body figures")));
  self->needs = app_figure_needs_new (page);
  gtk_box_append (GTK_BOX (widget), self->needs);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (widget), self->list);
  GtkWidget *button = gtk_menu_button_new ();
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), _ ("Add a figure"));
  gtk_widget_set_tooltip_text (
      button, _ ("A measurement that amounts may be written with"));
  self->menu = make_menu (self);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), self->menu);
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (widget), button);
  return widget;
}
