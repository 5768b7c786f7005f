/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/fair-bar.h"

#include <glib/gi18n.h>

#include "app/field.h"
#include "app/tool-fair.h"
#include "app/ui.h"

struct _AppFairBar
{
  GtkBox parent;
  AppSession *session;
  AppCanvas *canvas; /* borrowed; beside the bar in the window */
  GtkWidget *title, *words, *trouble;
  GtkWidget *within, *keep, *comb, *done;
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (AppFairBar, app_fair_bar, GTK_TYPE_BOX)

static AppTool *
tool_of (AppFairBar *bar)
{
  return app_canvas_get_fairing (bar->canvas);
}

static void
show (AppFairBar *bar, AppTool *tool)
{
  g_autofree char *title = app_fair_title (tool);
  g_autofree char *words = app_fair_words (tool);
  const char *trouble = app_fair_get_trouble (tool);
  app_ui_set_text (bar->title, title);
  app_ui_set_text (bar->words, words);
  app_ui_set_text (bar->trouble, trouble != NULL ? trouble : "");
  gtk_widget_set_visible (bar->trouble, trouble != NULL);
  app_field_set_unit (APP_FIELD (bar->within), app_fair_get_unit (tool));
  app_field_set_value (APP_FIELD (bar->within), app_fair_get_within (tool));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (bar->keep),
                               app_fair_keeps_length (tool));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (bar->comb),
                                app_fair_has_comb (tool));
  gtk_widget_set_sensitive (bar->done, app_fair_is_changed (tool));
}

static void
update (AppFairBar *bar)
{
  AppTool *tool = tool_of (bar);
  gboolean was = gtk_widget_get_visible (GTK_WIDGET (bar));
  if (tool != NULL)
    {
      bar->updating = TRUE;
      show (bar, tool);
      bar->updating = FALSE;
    }
  gtk_widget_set_visible (GTK_WIDGET (bar), tool != NULL);
  if (was && tool == NULL)
    gtk_widget_grab_focus (GTK_WIDGET (bar->canvas));
}

static void
moved (AppFairBar *bar, gboolean to_table)
{
  app_canvas_tool_told (bar->canvas);
  if (to_table)
    gtk_widget_grab_focus (GTK_WIDGET (bar->canvas));
}

static void
on_keep (AppFairBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (bar->updating || tool == NULL)
    return;
  app_fair_set_keep_length (
      tool, gtk_check_button_get_active (GTK_CHECK_BUTTON (bar->keep)));
  moved (bar, TRUE);
}

static void
on_comb (AppFairBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (bar->updating || tool == NULL)
    return;
  app_fair_set_comb (
      tool, gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (bar->comb)));
  moved (bar, TRUE);
}

static void
on_within (AppField *field, gboolean step, AppFairBar *bar)
{
  (void)step;
  AppTool *tool = tool_of (bar);
  if (bar->updating || tool == NULL)
    return;
  app_fair_set_within (tool, app_field_get_value (field));
  moved (bar, FALSE);
}

static void
on_activate (AppFairBar *bar)
{
  gtk_widget_grab_focus (GTK_WIDGET (bar->canvas));
}

static void
on_done (AppFairBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (tool == NULL)
    return;
  app_fair_do (tool);
  moved (bar, TRUE);
}

static void
on_leave (AppFairBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (tool == NULL)
    return;
  app_fair_leave (tool);
  moved (bar, TRUE);
}

static gboolean
on_key (AppFairBar *bar, guint key)
{
  if (key != GDK_KEY_Escape)
    return FALSE;
  on_leave (bar);
  return TRUE;
}

static void
add (GtkWidget *box, GtkWidget *child)
{
  gtk_widget_set_valign (child, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), child);
}

static GtkWidget *
make_heading (AppFairBar *bar)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  bar->title = app_ui_label ("", "heading");
  gtk_label_set_ellipsize (GTK_LABEL (bar->title), PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (GTK_LABEL (bar->title), 0);
  gtk_widget_set_hexpand (bar->title, TRUE);
  bar->words = app_ui_label ("", "figures");
  GtkWidget *leave = app_ui_icon_button (
      "window-close-symbolic", _ ("Leave all as it was"), _ ("Escape"), NULL);
  add (box, bar->title);
  add (box, bar->words);
  add (box, leave);
  g_signal_connect_swapped (leave, "clicked", G_CALLBACK (on_leave), bar);
  return box;
}

static GtkWidget *
make_verbs (AppFairBar *bar)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  bar->within = app_field_new (APP_FIELD_LENGTH, _ ("It may move"));
  app_field_set_range (APP_FIELD (bar->within), 0.01, 200);
  gtk_editable_set_width_chars (
      GTK_EDITABLE (app_field_get_entry (APP_FIELD (bar->within))), 8);
  gtk_widget_set_hexpand (bar->within, FALSE);
  gtk_widget_set_tooltip_text (bar->within,
                               _ ("How far any place of the edge may move"));
  bar->keep = gtk_check_button_new_with_label (_ ("Keep its length"));
  app_ui_tip (bar->keep, _ ("Fair at the very length it has"), "L");
  bar->comb = gtk_toggle_button_new_with_label (_ ("Curvature"));
  app_ui_tip (bar->comb, _ ("Show how strongly the edge bends, as teeth on it"),
              "C");
  app_ui_name (bar->comb, _ ("Curvature"));
  gtk_widget_set_hexpand (bar->comb, TRUE);
  gtk_widget_set_halign (bar->comb, GTK_ALIGN_START);
  bar->done
      = app_ui_text_button (_ ("Make it so"), _ ("Make the edge fair (Enter)"));
  gtk_widget_add_css_class (bar->done, "suggested-action");
  GtkWidget *parts[] = { app_ui_label (_ ("May move"), NULL), bar->within,
                         bar->keep, bar->comb, bar->done };
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    add (box, parts[i]);
  g_signal_connect (bar->within, "entered", G_CALLBACK (on_within), bar);
  g_signal_connect_object (app_field_get_entry (APP_FIELD (bar->within)),
                           "activate", G_CALLBACK (on_activate), bar,
                           G_CONNECT_SWAPPED | G_CONNECT_AFTER);
  g_signal_connect_swapped (bar->keep, "toggled", G_CALLBACK (on_keep), bar);
  g_signal_connect_swapped (bar->comb, "toggled", G_CALLBACK (on_comb), bar);
  g_signal_connect_swapped (bar->done, "clicked", G_CALLBACK (on_done), bar);
  return box;
}

static void
app_fair_bar_dispose (GObject *object)
{
  AppFairBar *bar = APP_FAIR_BAR (object);
  if (bar->session != NULL)
    g_signal_handlers_disconnect_by_data (bar->session, bar);
  g_clear_object (&bar->session);
  G_OBJECT_CLASS (app_fair_bar_parent_class)->dispose (object);
}

static void
app_fair_bar_class_init (AppFairBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_fair_bar_dispose;
}

static void
app_fair_bar_init (AppFairBar *bar)
{
  GtkWidget *widget = GTK_WIDGET (bar);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (bar),
                                  GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (bar), 8);
  gtk_widget_add_css_class (widget, "verb-bar");
  gtk_widget_set_halign (widget, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (widget, GTK_ALIGN_START);
  gtk_widget_set_visible (widget, FALSE);
  app_ui_name (widget, _ ("Fairing"));
  gtk_box_append (GTK_BOX (bar), make_heading (bar));
  gtk_box_append (GTK_BOX (bar), make_verbs (bar));
  bar->trouble = app_ui_paragraph ("", "trouble");
  gtk_widget_set_visible (bar->trouble, FALSE);
  gtk_box_append (GTK_BOX (bar), bar->trouble);
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), bar);
  gtk_widget_add_controller (widget, keys);
}

GtkWidget *
app_fair_bar_new (AppSession *session, AppCanvas *canvas)
{
  AppFairBar *bar = g_object_new (APP_TYPE_FAIR_BAR, NULL);
  bar->session = g_object_ref (session);
  bar->canvas = canvas;
  g_signal_connect_object (canvas, "tool-moved", G_CALLBACK (update), bar,
                           G_CONNECT_SWAPPED);
  g_signal_connect_swapped (session, "tool-changed", G_CALLBACK (update), bar);
  g_signal_connect_swapped (session, "shown-changed", G_CALLBACK (update), bar);
  return GTK_WIDGET (bar);
}
