/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/ui.h"

#include <glib/gi18n.h>

void
app_ui_name (GtkWidget *widget, const char *name)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

void
app_ui_tip (GtkWidget *widget, const char *tip, const char *key)
{
  g_autofree char *text
      = key != NULL ? g_strdup_printf ("%s (%s)", tip, key) : g_strdup (tip);
  gtk_widget_set_tooltip_text (widget, text);
  app_ui_name (widget, tip);
}

static void
dress_icon_button (GtkWidget *button, const char *tip, const char *key,
                   const char *action)
{
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  app_ui_tip (button, tip, key);
  if (action != NULL)
    gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
}

GtkWidget *
app_ui_icon_button (const char *icon, const char *tip, const char *key,
                    const char *action)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  dress_icon_button (button, tip, key, action);
  return button;
}

GtkWidget *
app_ui_icon_toggle (const char *icon, const char *tip, const char *key,
                    const char *action)
{
  GtkWidget *button = gtk_toggle_button_new ();
  gtk_button_set_icon_name (GTK_BUTTON (button), icon);
  dress_icon_button (button, tip, key, action);
  return button;
}

GtkWidget *
app_ui_text_button (const char *text, const char *tip)
{
  GtkWidget *button = gtk_button_new_with_label (text);
  if (tip != NULL)
    gtk_widget_set_tooltip_text (button, tip);
  return button;
}

GtkWidget *
app_ui_label (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

GtkWidget *
app_ui_heading (const char *text)
{
  return app_ui_label (text, "section");
}

GtkWidget *
app_ui_paragraph (const char *text, const char *css_class)
{
  GtkWidget *label = app_ui_label (text, css_class);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 30);
  gtk_widget_set_hexpand (label, TRUE);
  return label;
}

GtkWidget *
app_ui_rows_new (void)
{
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  return grid;
}

static int
rows_next (GtkWidget *rows)
{
  int *next = g_object_get_data (G_OBJECT (rows), "rows-next");
  if (next == NULL)
    {
      next = g_new0 (int, 1);
      g_object_set_data_full (G_OBJECT (rows), "rows-next", next, g_free);
    }
  return (*next)++;
}

GtkWidget *
app_ui_rows_add (GtkWidget *rows, const char *text, GtkWidget *control)
{
  int row = rows_next (rows);
  GtkWidget *label = app_ui_paragraph (text, "row-label");
  gtk_widget_set_hexpand (label, FALSE);
  gtk_label_set_width_chars (GTK_LABEL (label), 10);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 12);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_widget_set_hexpand (control, TRUE);
  gtk_grid_attach (GTK_GRID (rows), label, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (rows), control, 1, row, 1, 1);
  if (!GTK_IS_LABEL (control))
    app_ui_name (control, text);
  return label;
}

void
app_ui_rows_add_wide (GtkWidget *rows, GtkWidget *control)
{
  gtk_widget_set_hexpand (control, TRUE);
  gtk_grid_attach (GTK_GRID (rows), control, 0, rows_next (rows), 2, 1);
}

GtkWidget *
app_ui_value (void)
{
  GtkWidget *label = app_ui_paragraph ("", "value");
  gtk_label_set_max_width_chars (GTK_LABEL (label), 18);
  return label;
}

void
app_ui_set_text (GtkWidget *label, const char *text)
{
  if (!g_str_equal (gtk_label_get_text (GTK_LABEL (label)), text))
    gtk_label_set_text (GTK_LABEL (label), text);
}

void
app_ui_leave_wheel (GtkWidget *range)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (range);
  for (guint i = g_list_model_get_n_items (all); i-- > 0;)
    {
      g_autoptr (GtkEventController) one = g_list_model_get_item (all, i);
      if (GTK_IS_EVENT_CONTROLLER_SCROLL (one))
        gtk_widget_remove_controller (range, one);
    }
}

GtkWidget *
app_ui_drop_down (const char *const *words, const char *name)
{
  GtkWidget *drop = gtk_drop_down_new_from_strings (words);
  app_ui_name (drop, name);
  return drop;
}

void
app_ui_drop_down_set_words (GtkWidget *drop, const char *const *words)
{
  GtkDropDown *d = GTK_DROP_DOWN (drop);
  GtkStringList *old = GTK_STRING_LIST (gtk_drop_down_get_model (d));
  guint n = g_strv_length ((char **)words);
  gboolean same = g_list_model_get_n_items (G_LIST_MODEL (old)) == n;
  for (guint i = 0; same && i < n; i++)
    same = g_str_equal (gtk_string_list_get_string (old, i), words[i]);
  if (same)
    return;
  guint chosen = gtk_drop_down_get_selected (d);
  g_autoptr (GtkStringList) list = gtk_string_list_new (words);
  gtk_drop_down_set_model (d, G_LIST_MODEL (list));
  gtk_drop_down_set_selected (d, chosen < n ? chosen : 0);
}

void
app_ui_clear (GtkWidget *box)
{
  GtkWidget *child;
  if (GTK_IS_LIST_BOX (box))
    {
      /* Rows only: a placeholder stays. */
      GtkListBox *list = GTK_LIST_BOX (box);
      GtkListBoxRow *row;
      while ((row = gtk_list_box_get_row_at_index (list, 0)) != NULL)
        gtk_list_box_remove (list, GTK_WIDGET (row));
      return;
    }
  while ((child = gtk_widget_get_first_child (box)) != NULL)
    if (GTK_IS_GRID (box))
      gtk_grid_remove (GTK_GRID (box), child);
    else if (GTK_IS_FLOW_BOX (box))
      gtk_flow_box_remove (GTK_FLOW_BOX (box), child);
    else
      gtk_box_remove (GTK_BOX (box), child);
}

static gboolean
escape_closes (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void)args;
  (void)data;
  gtk_window_close (GTK_WINDOW (widget));
  return TRUE;
}

void
app_ui_close_on_escape (GtkWindow *window)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                        gtk_callback_action_new (escape_closes, NULL, NULL)));
  gtk_widget_add_controller (GTK_WIDGET (window), keys);
}

/* The program's keys reach what is in an open popover too; the letters of the hand tools
 * do not. */
static gboolean
on_popover_key (GtkEventControllerKey *keys, guint key, guint code,
                GdkModifierType mods, gpointer data)
{
  (void)code;
  (void)data;
  static const struct
  {
    guint key;
    GdkModifierType mods;
    const char *action;
  } edits[] = {
    { GDK_KEY_z, GDK_CONTROL_MASK, "win.undo" },
    { GDK_KEY_z, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "win.redo" },
    { GDK_KEY_y, GDK_CONTROL_MASK, "win.redo" },
  };
  GtkWidget *popover
      = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (keys));
  GtkRoot *root = gtk_widget_get_root (popover);
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  guint lower = gdk_keyval_to_lower (key);
  mods &= GDK_CONTROL_MASK | GDK_SHIFT_MASK | GDK_ALT_MASK;
  for (guint i = 0; i < G_N_ELEMENTS (edits) && !GTK_IS_EDITABLE (focus); i++)
    if (edits[i].key == lower && edits[i].mods == mods)
      return gtk_widget_activate_action (popover, edits[i].action, NULL);
  GApplication *app = g_application_get_default ();
  if (!GTK_IS_APPLICATION (app) || !gtk_accelerator_valid (key, mods)
      || ((mods & GDK_CONTROL_MASK) == 0
          && (key < GDK_KEY_F1 || key > GDK_KEY_F9)))
    return FALSE;
  g_autofree char *name = gtk_accelerator_name (lower, mods);
  g_auto (GStrv) actions
      = gtk_application_get_actions_for_accel (GTK_APPLICATION (app), name);
  for (guint i = 0; actions[i] != NULL; i++)
    if (gtk_widget_activate_action (popover, actions[i], NULL))
      return TRUE;
  return FALSE;
}

void
app_ui_pass_keys (GtkWidget *popover)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_popover_key), NULL);
  gtk_widget_add_controller (popover, keys);
}
