/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/fair-bar.h"

#include <glib/gi18n.h>

#include "app/field.h"
#include "app/tool-fair.h"
#include "app/ui.h"
#include "app/verb-bar.h"

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

static GtkWidget *
make_heading (AppFairBar *bar)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  bar->title = app_verb_bar_title ();
  bar->words = app_ui_label ("", "figures");
  app_verb_bar_add (box, bar->title);
  app_verb_bar_add (box, bar->words);
  app_verb_bar_add_leave (box, GTK_BOX (bar), G_CALLBACK (on_leave));
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
    app_verb_bar_add (box, parts[i]);
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
  GtkWidget *heading = make_heading (bar);
  bar->trouble = app_verb_bar_fill (GTK_BOX (bar), _ ("Fairing"), heading,
                                    make_verbs (bar));
}

GtkWidget *
app_fair_bar_new (AppSession *session, AppCanvas *canvas)
{
  AppFairBar *bar = g_object_new (APP_TYPE_FAIR_BAR, NULL);
  bar->session = g_object_ref (session);
  bar->canvas = canvas;
  app_verb_bar_follow (GTK_BOX (bar), session, canvas, G_CALLBACK (update));
  return GTK_WIDGET (bar);
}
