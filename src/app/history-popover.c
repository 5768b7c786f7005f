/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/history-popover.h"

#include <glib/gi18n.h>

#include "app/ui.h"

/* Beyond this the oldest steps are left off the list; undo still reaches them. */
#define MOST_STEPS 200
#define LIST_WIDTH_PX 360

static void
on_row_activated (GtkListBox *list, GtkListBoxRow *row, AppSession *session)
{
  (void)list;
  guint step = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "step"));
  if (step < pattern_history_get_length (app_session_get_history (session)))
    app_session_go (session, step);
}

static void
add_row (GtkWidget *list, const PatternHistory *history, guint step)
{
  const char *label = pattern_history_get_label (history, step);
  guint now = pattern_history_get_position (history);
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *mark = gtk_image_new_from_icon_name ("object-select-symbolic");
  gtk_widget_set_opacity (mark, step == now ? 1 : 0);
  gtk_box_append (GTK_BOX (line), mark);
  GtkWidget *text = app_ui_label (
      step == 0 || label == NULL ? _ ("as it was opened") : label,
      step > now ? "undone" : NULL);
  gtk_label_set_ellipsize (GTK_LABEL (text), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (GTK_LABEL (text), 48);
  gtk_widget_set_hexpand (text, TRUE);
  gtk_box_append (GTK_BOX (line), text);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), line);
  g_object_set_data (G_OBJECT (row), "step", GUINT_TO_POINTER (step));
  gtk_list_box_append (GTK_LIST_BOX (list), row);
}

static void
fill (GtkWidget *list)
{
  AppSession *session = g_object_get_data (G_OBJECT (list), "session");
  const PatternHistory *history = app_session_get_history (session);
  guint n = pattern_history_get_length (history);
  app_ui_clear (list);
  guint last = n > MOST_STEPS ? n - MOST_STEPS : 0;
  for (guint i = n; i > last; i--)
    add_row (list, history, i - 1);
}

static void
on_state_changed (AppSession *session, GtkWidget *list)
{
  (void)session;
  if (gtk_widget_get_mapped (list))
    fill (list);
}

static void
to_table (GtkWidget *list)
{
  gtk_widget_activate_action (list, "win.table", NULL);
}

GtkWidget *
app_history_button_new (AppSession *session)
{
  GtkWidget *button = gtk_menu_button_new ();
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button),
                                 "document-open-recent-symbolic");
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  app_ui_tip (button, _ ("Everything done so far"), NULL);

  GtkWidget *popover = gtk_popover_new ();
  gtk_widget_add_css_class (popover, "history");
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (
      GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroller),
                                              400);
  gtk_scrolled_window_set_min_content_width (GTK_SCROLLED_WINDOW (scroller),
                                             LIST_WIDTH_PX);
  GtkWidget *list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  app_ui_name (list, _ ("Steps, the newest first"));
  g_object_set_data_full (G_OBJECT (list), "session", g_object_ref (session),
                          g_object_unref);
  g_signal_connect_object (list, "row-activated", G_CALLBACK (on_row_activated),
                           session, 0);
  g_signal_connect_object (session, "state-changed",
                           G_CALLBACK (on_state_changed), list, 0);
  g_signal_connect_swapped (popover, "show", G_CALLBACK (fill), list);
  g_signal_connect_swapped (popover, "closed", G_CALLBACK (to_table), list);
  app_ui_pass_keys (popover);
  /* The list's own width, not only the frame's: its lines are cut short at it. */
  gtk_widget_set_size_request (list, LIST_WIDTH_PX, -1);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), list);
  gtk_popover_set_child (GTK_POPOVER (popover), scroller);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), popover);
  return button;
}
