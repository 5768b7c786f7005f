/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nothing picked: the pattern itself. */
#include <glib/gi18n.h>

#include "app/pick-figures.h"
#include "app/pick-pictures.h"
#include "app/pick-page.h"

typedef struct
{
  AppPage page;
  GtkWidget *rows, *add_cloth;
  GtkWidget *title, *name, *unit, *tolerance, *cloths, *figures, *pictures, *note;
  GtkWidget *lines_heading, *lines;
  char *cloths_key, *lines_key;
} PatternPage;

/* A copy to be altered; the page's verbs that concern the pattern as a whole. */
static Pattern *
altered (AppPage *page)
{
  return pattern_dup (app_page_pattern (page));
}

static void
name_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  Pattern *p = altered (page);
  pattern_set_string (&p->name, app_field_get_text (field));
  app_page_do (page, _ ("name the pattern"), NULL, p, NULL);
}

static void
unit_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  if (page->updating)
    return;
  Pattern *p = altered (page);
  p->unit = (PatternUnit)gtk_drop_down_get_selected (drop);
  app_page_do (page, _ ("change the unit"), NULL, p, NULL);
}

static void
tolerance_entered (AppField *field, gboolean step, AppPage *page)
{
  Pattern *p = altered (page);
  p->tolerance = app_field_get_value (field);
  app_page_do (page, _ ("change how far seams may differ"),
               step ? "tolerance" : NULL, p, NULL);
}

static void
note_entered (const char *text, AppPage *page)
{
  Pattern *p = altered (page);
  pattern_set_string (&p->note, text);
  app_page_do (page, _ ("write a note"), NULL, p, NULL);
}

/* --- cloths ---------------------------------------------------------------- */

static guint
id_of (gpointer widget)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "id"));
}

static void
put_cloth (AppPage *page, const PatternCloth *cloth, const char *merge)
{
  GError *error = NULL;
  Pattern *p
      = drafting_put_cloth (app_page_pattern (page), cloth, NULL, &error);
  app_page_do (page, _ ("change a cloth"), merge, p, &error);
}

static void
cloth_name_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  const PatternCloth *old
      = pattern_get_cloth (app_page_pattern (page), id_of (field));
  if (old == NULL)
    return;
  PatternCloth cloth = *old;
  cloth.name = (char *)app_field_get_text (field);
  put_cloth (page, &cloth, NULL);
}

static void
cloth_use_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  const PatternCloth *old
      = pattern_get_cloth (app_page_pattern (page), id_of (drop));
  if (page->updating || old == NULL)
    return;
  PatternCloth cloth = *old;
  cloth.use = (PatternClothUse)gtk_drop_down_get_selected (drop);
  put_cloth (page, &cloth, NULL);
}

typedef enum
{
  CLOTH_WIDTH,
  CLOTH_THICKNESS,
  CLOTH_GIVE,
  CLOTH_WEIGHT
} ClothPart;

static double *
cloth_part (PatternCloth *cloth, ClothPart part)
{
  switch (part)
    {
    case CLOTH_THICKNESS:
      return &cloth->thickness;
    case CLOTH_GIVE:
      return &cloth->give;
    case CLOTH_WEIGHT:
      return &cloth->weight;
    case CLOTH_WIDTH:
    default:
      return &cloth->width;
    }
}

static void
cloth_number_entered (AppField *field, gboolean step, AppPage *page)
{
  const PatternCloth *old
      = pattern_get_cloth (app_page_pattern (page), id_of (field));
  if (old == NULL)
    return;
  ClothPart part
      = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (field), "part"));
  PatternCloth cloth = *old;
  double value = app_field_get_value (field);
  *cloth_part (&cloth, part) = part == CLOTH_GIVE ? value / 100 : value;
  g_autofree char *merge = g_strdup_printf ("cloth-%u-%d", cloth.id, part);
  put_cloth (page, &cloth, step ? merge : NULL);
}

static void
cloth_removed (GtkButton *button, AppPage *page)
{
  GError *error = NULL;
  Pattern *p
      = drafting_remove_cloth (app_page_pattern (page), id_of (button), &error);
  app_page_do (page, _ ("remove a cloth"), NULL, p, &error);
}

static void
cloth_added (GtkButton *button, AppPage *page)
{
  (void)button;
  const Pattern *pattern = app_page_pattern (page);
  g_autofree char *name
      = g_strdup_printf (_ ("cloth %u"), pattern->n_cloths + 1);
  PatternCloth cloth = { .name = name,
                         .use = PATTERN_LINING,
                         .width = 1400,
                         .thickness = 0.3,
                         .give = 0.03,
                         .tint = pattern->n_cloths % 8 };
  GError *error = NULL;
  Pattern *p = drafting_put_cloth (pattern, &cloth, NULL, &error);
  app_page_do (page, _ ("add a cloth"), NULL, p, &error);
}

static GtkWidget *
cloth_field (PatternPage *self, GtkWidget *rows, guint id, ClothPart part,
             AppFieldKind kind, const char *label)
{
  GtkWidget *field
      = app_page_field (&self->page, rows, kind, label, cloth_number_entered);
  g_object_set_data (G_OBJECT (field), "id", GUINT_TO_POINTER (id));
  g_object_set_data (G_OBJECT (field), "part", GUINT_TO_POINTER (part));
  app_field_set_range (APP_FIELD (field), 0, part == CLOTH_GIVE ? 50 : 1e5);
  if (part == CLOTH_GIVE)
    gtk_widget_set_tooltip_text (
        field, _ ("How much of its length the cloth lets itself be eased or "
                  "pressed away"));
  return field;
}

static const char *
cloth_tint_class (guint tint)
{
  static const char *const names[] = { "tint-0", "tint-1", "tint-2", "tint-3",
                                       "tint-4", "tint-5", "tint-6", "tint-7" };
  return names[tint % G_N_ELEMENTS (names)];
}

static GtkWidget *
make_cloth_head (PatternPage *self, const PatternCloth *cloth)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *swatch = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (swatch, "swatch");
  gtk_widget_add_css_class (swatch, cloth_tint_class (cloth->tint));
  gtk_widget_set_valign (swatch, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (head), swatch);
  GtkWidget *name = app_field_new (APP_FIELD_TEXT, _ ("Name of the cloth"));
  gtk_widget_set_hexpand (name, TRUE);
  g_object_set_data (G_OBJECT (name), "id", GUINT_TO_POINTER (cloth->id));
  g_signal_connect (name, "entered", G_CALLBACK (cloth_name_entered), self);
  gtk_box_append (GTK_BOX (head), name);
  GtkWidget *remove = app_ui_icon_button ("user-trash-symbolic",
                                          _ ("Remove the cloth"), NULL, NULL);
  g_object_set_data (G_OBJECT (remove), "id", GUINT_TO_POINTER (cloth->id));
  g_signal_connect (remove, "clicked", G_CALLBACK (cloth_removed), self);
  gtk_box_append (GTK_BOX (head), remove);
  g_object_set_data (G_OBJECT (head), "name", name);
  return head;
}

static GtkWidget *
make_cloth (PatternPage *self, const PatternCloth *cloth)
{
  const char *const uses[] = { _ ("Shell"), _ ("Lining"), _ ("Interfacing"),
                               _ ("Other cloth"), NULL };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (box, "card");
  GtkWidget *head = make_cloth_head (self, cloth);
  gtk_box_append (GTK_BOX (box), head);
  GtkWidget *more = gtk_expander_new (_ ("Width, give, weight"));
  g_autofree char *more_name
      = g_strdup_printf (_ ("Width, give, weight of %s"), cloth->name);
  app_ui_name (more, more_name);
  GtkWidget *rows = app_ui_rows_new ();
  gtk_widget_set_margin_top (rows, 6);
  gtk_expander_set_child (GTK_EXPANDER (more), rows);
  gtk_box_append (GTK_BOX (box), more);

  GtkWidget *use = app_page_drop (&self->page, rows, uses, _ ("Used as"),
                                  cloth_use_chosen);
  g_object_set_data (G_OBJECT (use), "id", GUINT_TO_POINTER (cloth->id));
  GtkWidget *parts[4] = {
    cloth_field (self, rows, cloth->id, CLOTH_WIDTH, APP_FIELD_LENGTH,
                 _ ("Width")),
    cloth_field (self, rows, cloth->id, CLOTH_THICKNESS, APP_FIELD_NUMBER,
                 _ ("Thickness")),
    cloth_field (self, rows, cloth->id, CLOTH_GIVE, APP_FIELD_NUMBER,
                 _ ("Give")),
    cloth_field (self, rows, cloth->id, CLOTH_WEIGHT, APP_FIELD_NUMBER,
                 _ ("Weight")),
  };
  app_field_set_number (APP_FIELD (parts[CLOTH_THICKNESS]), " mm", 2, 0.1);
  app_field_set_number (APP_FIELD (parts[CLOTH_GIVE]), " %", 1, 0.5);
  app_field_set_number (APP_FIELD (parts[CLOTH_WEIGHT]), " g/m²", 0, 10);
  gtk_widget_set_tooltip_text (
      parts[CLOTH_GIVE],
      _ ("How much of a difference easing or pressing takes up. "
         "Clips are planned by it."));
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      g_autofree char *key = g_strdup_printf ("part-%u", i);
      g_object_set_data (G_OBJECT (box), key, parts[i]);
    }
  g_object_set_data (G_OBJECT (box), "name",
                     g_object_get_data (G_OBJECT (head), "name"));
  g_object_set_data (G_OBJECT (box), "use", use);
  return box;
}

static void
show_cloth (GtkWidget *box, PatternCloth *cloth, PatternUnit unit)
{
  app_field_set_text (g_object_get_data (G_OBJECT (box), "name"), cloth->name);
  gtk_drop_down_set_selected (g_object_get_data (G_OBJECT (box), "use"),
                              (guint)cloth->use);
  for (guint i = 0; i < 4; i++)
    {
      g_autofree char *key = g_strdup_printf ("part-%u", i);
      AppField *field = g_object_get_data (G_OBJECT (box), key);
      double value = *cloth_part (cloth, (ClothPart)i);
      app_field_set_unit (field, unit);
      app_field_set_value (field, i == CLOTH_GIVE ? value * 100 : value);
    }
}

static void
show_cloths (PatternPage *self, const Pattern *pattern)
{
  g_autoptr (GString) key = g_string_new (NULL);
  for (guint i = 0; i < pattern->n_cloths; i++)
    g_string_append_printf (key, "%u/%u ", pattern->cloths[i].id,
                            pattern->cloths[i].tint);
  if (g_strcmp0 (key->str, self->cloths_key) != 0)
    {
      g_free (self->cloths_key);
      self->cloths_key = g_strdup (key->str);
      app_ui_clear (self->cloths);
      for (guint i = 0; i < pattern->n_cloths; i++)
        gtk_box_append (GTK_BOX (self->cloths),
                        make_cloth (self, &pattern->cloths[i]));
    }
  GtkWidget *box = gtk_widget_get_first_child (self->cloths);
  for (guint i = 0; i < pattern->n_cloths && box != NULL; i++)
    {
      show_cloth (box, &pattern->cloths[i], pattern->unit);
      box = gtk_widget_get_next_sibling (box);
    }
}

/* --- construction lines ------------------------------------------------------- */

static void
line_removed (GtkButton *button, AppPage *page)
{
  Pattern *p = altered (page);
  if (pattern_remove_line (p, id_of (button)))
    app_page_do (page, _ ("remove a construction line"), NULL, p, NULL);
  else
    pattern_unref (p);
}

static void
line_picked (GtkButton *button, AppPage *page)
{
  app_session_pick_line (page->session, id_of (button));
}

static void
add_line_row (PatternPage *self, const PatternLine *line)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *name = app_page_button (&self->page, row,
                                     line->name != NULL && line->name[0] != '\0'
                                         ? line->name
                                         : _ ("unnamed line"),
                                     _ ("Pick this line"), line_picked);
  gtk_widget_add_css_class (name, "flat");
  gtk_widget_set_hexpand (name, TRUE);
  gtk_widget_set_halign (gtk_button_get_child (GTK_BUTTON (name)),
                         GTK_ALIGN_START);
  g_object_set_data (G_OBJECT (name), "id", GUINT_TO_POINTER (line->id));
  GtkWidget *remove = app_ui_icon_button ("user-trash-symbolic",
                                          _ ("Remove the line"), NULL, NULL);
  g_object_set_data (G_OBJECT (remove), "id", GUINT_TO_POINTER (line->id));
  g_signal_connect (remove, "clicked", G_CALLBACK (line_removed), self);
  gtk_box_append (GTK_BOX (row), remove);
  gtk_box_append (GTK_BOX (self->lines), row);
}

static void
show_lines (PatternPage *self, const Pattern *pattern)
{
  g_autoptr (GString) key = g_string_new ("-");
  for (guint i = 0; i < pattern->n_lines; i++)
    g_string_append_printf (key, "%u %s\n", pattern->lines[i].id,
                            pattern->lines[i].name);
  gtk_widget_set_visible (self->lines_heading, pattern->n_lines > 0);
  gtk_widget_set_visible (self->lines, pattern->n_lines > 0);
  if (g_strcmp0 (key->str, self->lines_key) == 0)
    return;
  g_free (self->lines_key);
  self->lines_key = g_strdup (key->str);
  app_ui_clear (self->lines);
  for (guint i = 0; i < pattern->n_lines; i++)
    add_line_row (self, &pattern->lines[i]);
}

static void
update (AppPage *page)
{
  PatternPage *self = (PatternPage *)page;
  const Pattern *pattern = app_page_shown (page);
  g_autofree char *title = app_session_dup_title (page->session);
  app_page_set_title (self->title, title);
  app_field_set_text (APP_FIELD (self->name), pattern->name);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->unit), (guint)pattern->unit);
  app_field_set_unit (APP_FIELD (self->tolerance), pattern->unit);
  app_field_set_value (APP_FIELD (self->tolerance), pattern->tolerance);
  app_page_set_note (self->note, pattern->note != NULL ? pattern->note : "");
  show_cloths (self, pattern);
  app_figure_rows_show (self->figures, pattern);
  app_picture_rows_show (self->pictures, pattern);
  /* What is there to be drafted comes first. */
  gtk_box_reorder_child_after (GTK_BOX (page->box), self->figures,
                               pattern->n_pieces == 0 && pattern->n_figures > 0
                                   ? self->rows
                                   : self->add_cloth);
  show_lines (self, pattern);
}

static void
clear (AppPage *page)
{
  PatternPage *self = (PatternPage *)page;
  g_free (self->cloths_key);
  g_free (self->lines_key);
}

AppPage *
app_page_pattern_new (AppSession *session)
{
  PatternPage *self = app_page_new (sizeof *self, session, update);
  AppPage *page = &self->page;
  page->clear = clear;
  const char *const units[]
      = { _ ("Millimetres"), _ ("Centimetres"), _ ("Inches"), NULL };

  self->title = app_page_title (page, _ ("Pattern"));
  GtkWidget *rows = app_page_section (page, NULL);
  self->name
      = app_page_field (page, rows, APP_FIELD_TEXT, _ ("Name"), name_entered);
  self->unit = app_page_drop (page, rows, units, _ ("Unit"), unit_chosen);
  self->tolerance
      = app_page_field (page, rows, APP_FIELD_LENGTH, _ ("Seams may differ by"),
                        tolerance_entered);
  app_field_set_range (APP_FIELD (self->tolerance), 0, 50);
  gtk_widget_set_tooltip_text (
      self->tolerance,
      _ ("How far the two sides of a seam may differ before a pin is put in"));

  gtk_box_append (GTK_BOX (page->box), app_ui_heading (_ ("Cloths")));
  self->cloths = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_box_append (GTK_BOX (page->box), self->cloths);
  self->add_cloth
      = app_page_button (page, page->box, _ ("Add a cloth"), NULL, cloth_added);
  gtk_widget_set_halign (self->add_cloth, GTK_ALIGN_START);
  self->rows = rows;

  self->figures = app_figure_rows_new (page);
  gtk_box_append (GTK_BOX (page->box), self->figures);
  self->pictures = app_picture_rows_new (page, 0);
  gtk_box_append (GTK_BOX (page->box), self->pictures);

  self->lines_heading = app_ui_heading (_ ("Construction lines"));
  gtk_box_append (GTK_BOX (page->box), self->lines_heading);
  self->lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (page->box), self->lines);
  self->note = app_page_note (page, _ ("Note"), note_entered);
  return page;
}
