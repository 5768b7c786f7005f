/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/verb-bar.h"

#include <glib/gi18n.h>

#include "app/ui.h"

GtkWidget *
app_verb_bar_fill (GtkBox *bar, const char *name, GtkWidget *heading,
                   GtkWidget *verbs)
{
  GtkWidget *widget = GTK_WIDGET (bar);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (bar),
                                  GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (bar, 8);
  gtk_widget_add_css_class (widget, "verb-bar");
  gtk_widget_set_halign (widget, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (widget, GTK_ALIGN_START);
  gtk_widget_set_visible (widget, FALSE);
  app_ui_name (widget, name);
  gtk_box_append (bar, heading);
  gtk_box_append (bar, verbs);
  GtkWidget *trouble = app_ui_paragraph ("", "trouble");
  gtk_widget_set_visible (trouble, FALSE);
  gtk_box_append (bar, trouble);
  return trouble;
}

/* Escape in the bar is its button to leave. */
static gboolean
on_key (GtkBox *bar, guint key)
{
  GtkWidget *leave = g_object_get_data (G_OBJECT (bar), "leave");
  if (key != GDK_KEY_Escape || leave == NULL)
    return FALSE;
  g_signal_emit_by_name (leave, "clicked");
  return TRUE;
}

void
app_verb_bar_follow (GtkBox *bar, AppSession *session, AppCanvas *canvas,
                     GCallback update)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), bar);
  gtk_widget_add_controller (GTK_WIDGET (bar), keys);
  g_signal_connect_object (canvas, "tool-moved", update, bar,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "tool-changed", update, bar,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "shown-changed", update, bar,
                           G_CONNECT_SWAPPED);
}

GtkWidget *
app_verb_bar_title (void)
{
  GtkWidget *title = app_ui_label ("", "heading");
  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_set_hexpand (title, TRUE);
  return title;
}

void
app_verb_bar_add (GtkWidget *box, GtkWidget *child)
{
  gtk_widget_set_valign (child, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), child);
}

void
app_verb_bar_add_leave (GtkWidget *heading, GtkBox *bar, GCallback leave)
{
  GtkWidget *button = app_ui_icon_button (
      "window-close-symbolic", _ ("Leave all as it was"), _ ("Escape"), NULL);
  app_verb_bar_add (heading, button);
  g_signal_connect_swapped (button, "clicked", leave, bar);
  g_object_set_data (G_OBJECT (bar), "leave", button);
}
