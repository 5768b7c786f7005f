/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/notice.h"

#include <glib/gi18n.h>

#include "app/ui.h"

#define PASSES_AFTER_S 12

struct _AppNotice
{
  GtkBox parent;
  GtkWidget *revealer, *text, *action;
  gboolean passing;
  guint timeout;
};

G_DEFINE_FINAL_TYPE (AppNotice, app_notice, GTK_TYPE_BOX)

void
app_notice_hide (AppNotice *notice)
{
  g_clear_handle_id (&notice->timeout, g_source_remove);
  gtk_revealer_set_reveal_child (GTK_REVEALER (notice->revealer), FALSE);
  gtk_widget_set_can_target (GTK_WIDGET (notice), FALSE);
}

void
app_notice_pass (AppNotice *notice)
{
  if (notice->passing)
    app_notice_hide (notice);
}

static gboolean
on_timeout (gpointer data)
{
  AppNotice *notice = data;
  notice->timeout = 0;
  app_notice_hide (notice);
  return G_SOURCE_REMOVE;
}

void
app_notice_show (AppNotice *notice, const char *text, gboolean passing,
                 const char *action_label, const char *action)
{
  app_ui_set_text (notice->text, text);
  notice->passing = passing;
  gtk_widget_set_visible (notice->action, action != NULL);
  if (action != NULL)
    {
      gtk_button_set_label (GTK_BUTTON (notice->action), action_label);
      gtk_actionable_set_action_name (GTK_ACTIONABLE (notice->action), action);
    }
  g_clear_handle_id (&notice->timeout, g_source_remove);
  if (passing)
    notice->timeout
        = g_timeout_add_seconds (PASSES_AFTER_S, on_timeout, notice);
  gtk_revealer_set_reveal_child (GTK_REVEALER (notice->revealer), TRUE);
  gtk_widget_set_can_target (GTK_WIDGET (notice), TRUE);
}

static void
app_notice_dispose (GObject *object)
{
  g_clear_handle_id (&APP_NOTICE (object)->timeout, g_source_remove);
  G_OBJECT_CLASS (app_notice_parent_class)->dispose (object);
}

static void
app_notice_class_init (AppNoticeClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_notice_dispose;
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass),
                                        GTK_ACCESSIBLE_ROLE_ALERT);
}

static void
app_notice_init (AppNotice *notice)
{
  gtk_widget_set_valign (GTK_WIDGET (notice), GTK_ALIGN_START);
  gtk_widget_set_halign (GTK_WIDGET (notice), GTK_ALIGN_CENTER);
  gtk_widget_set_can_target (GTK_WIDGET (notice), FALSE);
  notice->revealer = gtk_revealer_new ();
  gtk_revealer_set_transition_type (GTK_REVEALER (notice->revealer),
                                    GTK_REVEALER_TRANSITION_TYPE_SLIDE_DOWN);
  gtk_revealer_set_transition_duration (GTK_REVEALER (notice->revealer), 150);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  gtk_widget_add_css_class (box, "notice");
  GtkWidget *icon
      = gtk_image_new_from_icon_name ("dialog-information-symbolic");
  gtk_widget_set_valign (icon, GTK_ALIGN_START);
  gtk_widget_set_margin_top (icon, 4);
  notice->text = app_ui_paragraph ("", NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (notice->text), 60);
  gtk_label_set_selectable (GTK_LABEL (notice->text), TRUE);
  gtk_widget_set_focusable (notice->text, FALSE);
  gtk_widget_set_valign (notice->text, GTK_ALIGN_CENTER);
  notice->action = gtk_button_new_with_label ("");
  gtk_widget_set_valign (notice->action, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (notice->action, "clicked",
                            G_CALLBACK (app_notice_hide), notice);
  GtkWidget *close
      = app_ui_icon_button ("window-close-symbolic", _ ("Close"), NULL, NULL);
  gtk_widget_set_valign (close, GTK_ALIGN_START);
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (app_notice_hide),
                            notice);
  gtk_box_append (GTK_BOX (box), icon);
  gtk_box_append (GTK_BOX (box), notice->text);
  gtk_box_append (GTK_BOX (box), notice->action);
  gtk_box_append (GTK_BOX (box), close);
  gtk_revealer_set_child (GTK_REVEALER (notice->revealer), box);
  gtk_box_append (GTK_BOX (notice), notice->revealer);
}

GtkWidget *
app_notice_new (void)
{
  return g_object_new (APP_TYPE_NOTICE, NULL);
}
