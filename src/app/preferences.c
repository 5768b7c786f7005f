/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/preferences.h"

#include <glib/gi18n.h>

#include "app/field.h"
#include "app/scheme.h"
#include "app/settings.h"
#include "app/ui.h"

typedef struct
{
  GtkWidget *tolerance, *allowance;
} Prefs;

static void
on_look (GtkDropDown *drop)
{
  app_settings_get ()->look = (AppLook)gtk_drop_down_get_selected (drop);
  app_settings_save ();
  app_scheme_apply ();
}

static void
on_unit (GtkDropDown *drop, GParamSpec *spec, Prefs *prefs)
{
  (void)spec;
  AppSettings *settings = app_settings_get ();
  settings->unit = (PatternUnit)gtk_drop_down_get_selected (drop);
  app_settings_save ();
  app_field_set_unit (APP_FIELD (prefs->tolerance), settings->unit);
  app_field_set_unit (APP_FIELD (prefs->allowance), settings->unit);
}

static void
on_tolerance (AppField *field)
{
  app_settings_get ()->tolerance = app_field_get_value (field);
  app_settings_save ();
}

static void
on_allowance (AppField *field)
{
  app_settings_get ()->allowance = app_field_get_value (field);
  app_settings_save ();
}

static GtkWidget *
length_field (const char *name, double value, double most,
              void (*entered) (AppField *))
{
  GtkWidget *field = app_field_new (APP_FIELD_LENGTH, name);
  app_field_set_unit (APP_FIELD (field), app_settings_get ()->unit);
  app_field_set_range (APP_FIELD (field), 0, most);
  app_field_set_value (APP_FIELD (field), value);
  g_signal_connect (field, "entered", G_CALLBACK (entered), NULL);
  return field;
}

static const char *const unit_targets[] = { "mm", "cm", "in" };

static void
on_pattern_unit (GtkDropDown *drop, GParamSpec *spec, GActionGroup *parent)
{
  (void)spec;
  g_action_group_activate_action (
      parent, "unit",
      g_variant_new_string (
          unit_targets[MIN (gtk_drop_down_get_selected (drop), 2)]));
}

/* What belongs to the pattern that is open: nothing where none is. */
static void
make_pattern_rows (GtkWidget *box, GActionGroup *parent,
                   const char *const *units)
{
  if (!g_action_group_get_action_enabled (parent, "unit"))
    return;
  g_autoptr (GVariant) state = g_action_group_get_action_state (parent, "unit");
  gtk_box_append (GTK_BOX (box), app_ui_heading (_ ("This pattern")));
  GtkWidget *rows = app_ui_rows_new ();
  GtkWidget *unit = app_ui_drop_down (units, _ ("Unit of this pattern"));
  for (guint i = 0; i < G_N_ELEMENTS (unit_targets); i++)
    if (g_str_equal (unit_targets[i], g_variant_get_string (state, NULL)))
      gtk_drop_down_set_selected (GTK_DROP_DOWN (unit), i);
  g_signal_connect (unit, "notify::selected", G_CALLBACK (on_pattern_unit),
                    parent);
  app_ui_rows_add (rows, _ ("Unit"), unit);
  gtk_box_append (GTK_BOX (box), rows);
}

static void
make_rows (GtkWidget *box, Prefs *prefs, GActionGroup *parent)
{
  const AppSettings *settings = app_settings_get ();
  const char *const looks[]
      = { _ ("As the desktop asks"), _ ("Light"), _ ("Dark"), NULL };
  const char *const units[]
      = { _ ("Millimetres"), _ ("Centimetres"), _ ("Inches"), NULL };

  gtk_box_append (GTK_BOX (box), app_ui_heading (_ ("Looks")));
  GtkWidget *rows = app_ui_rows_new ();
  GtkWidget *look = app_ui_drop_down (looks, _ ("Light or dark"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (look), (guint)settings->look);
  g_signal_connect (look, "notify::selected", G_CALLBACK (on_look), NULL);
  app_ui_rows_add (rows, _ ("Light or dark"), look);
  gtk_box_append (GTK_BOX (box), rows);

  make_pattern_rows (box, parent, units);
  gtk_box_append (GTK_BOX (box), app_ui_heading (_ ("New patterns")));
  rows = app_ui_rows_new ();
  GtkWidget *unit = app_ui_drop_down (units, _ ("Unit"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (unit), (guint)settings->unit);
  g_signal_connect (unit, "notify::selected", G_CALLBACK (on_unit), prefs);
  app_ui_rows_add (rows, _ ("Unit"), unit);
  prefs->tolerance = length_field (_ ("Seams may differ by"),
                                   settings->tolerance, 50, on_tolerance);
  app_ui_rows_add (rows, _ ("Seams may differ by"), prefs->tolerance);
  prefs->allowance
      = length_field (_ ("Allowance"), settings->allowance, 200, on_allowance);
  app_ui_rows_add (rows, _ ("Allowance"), prefs->allowance);
  gtk_box_append (GTK_BOX (box), rows);
  GtkWidget *note = app_ui_paragraph (
      _ ("Sides of a seam that differ by more get a pin. The allowance is "
         "what outlines get that are brought in. A pattern that is open keeps "
         "its own: pick nothing, and they stand on the right."),
      "dim");
  gtk_label_set_max_width_chars (GTK_LABEL (note), 44);
  gtk_box_append (GTK_BOX (box), note);
}

void
app_preferences_open (GtkWindow *parent)
{
  GtkWidget *window = gtk_window_new ();
  gtk_window_set_title (GTK_WINDOW (window), _ ("Preferences"));
  gtk_window_set_transient_for (GTK_WINDOW (window), parent);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
  gtk_window_set_modal (GTK_WINDOW (window), TRUE);
  gtk_window_set_resizable (GTK_WINDOW (window), FALSE);
  gtk_window_set_titlebar (GTK_WINDOW (window), gtk_header_bar_new ());
  Prefs *prefs = g_new0 (Prefs, 1);
  g_object_set_data_full (G_OBJECT (window), "prefs", prefs, g_free);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_add_css_class (box, "prefs");
  make_rows (box, prefs, G_ACTION_GROUP (parent));
  gtk_window_set_child (GTK_WINDOW (window), box);
  app_ui_close_on_escape (GTK_WINDOW (window));
  gtk_window_present (GTK_WINDOW (window));
}
