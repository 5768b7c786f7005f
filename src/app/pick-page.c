/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pick-page.h"

#include <glib/gi18n.h>

gpointer
app_page_new (gsize size, AppSession *session, void (*update) (AppPage *page))
{
  AppPage *page = g_malloc0 (size);
  const AppPick *pick = app_session_get_pick (session);
  page->session = session;
  page->piece = pick->piece;
  page->id = pick->kind == APP_PICK_EDGE ? pick->edge
             : pick->n_ids > 0           ? pick->ids[0]
                                         : 0;
  page->update = update;
  page->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_add_css_class (page->box, "page");
  g_object_ref_sink (page->box);
  return page;
}

void
app_page_free (AppPage *page)
{
  if (page == NULL)
    return;
  if (page->clear != NULL)
    page->clear (page);
  g_object_unref (page->box);
  g_free (page);
}

void
app_page_update (AppPage *page)
{
  gboolean before = page->updating;
  page->updating = TRUE;
  page->update (page);
  page->updating = before;
}

gboolean
app_page_do (AppPage *page, const char *label, const char *merge,
             Pattern *result, GError **error)
{
  /* The edit may change the pick, and with it throw the page away. */
  AppSession *session = page->session;
  g_autoptr (GtkWidget) box = g_object_ref (page->box);
  if (app_session_do (session, label, merge, result, error))
    return TRUE;
  if (gtk_widget_get_parent (box) != NULL)
    app_page_update (page);
  return FALSE;
}

const Pattern *
app_page_pattern (AppPage *page)
{
  return app_session_get_pattern (page->session);
}

const Pattern *
app_page_shown (AppPage *page)
{
  return app_session_get_shown (page->session);
}

GtkWidget *
app_page_title (AppPage *page, const char *kind)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (box), app_ui_label (kind, "kind"));
  gtk_box_append (GTK_BOX (box), app_ui_paragraph ("", "pick-title"));
  gtk_box_append (GTK_BOX (page->box), box);
  return box;
}

void
app_page_set_title (GtkWidget *title, const char *text)
{
  app_ui_set_text (gtk_widget_get_last_child (title), text);
}

GtkWidget *
app_page_section (AppPage *page, const char *heading)
{
  if (heading != NULL)
    gtk_box_append (GTK_BOX (page->box), app_ui_heading (heading));
  GtkWidget *rows = app_ui_rows_new ();
  gtk_box_append (GTK_BOX (page->box), rows);
  return rows;
}

GtkWidget *
app_page_field (AppPage *page, GtkWidget *rows, AppFieldKind kind,
                const char *label,
                void (*entered) (AppField *, gboolean, AppPage *))
{
  GtkWidget *field = app_field_new (kind, label);
  app_ui_rows_add (rows, label, field);
  g_signal_connect (field, "entered", G_CALLBACK (entered), page);
  return field;
}

GtkWidget *
app_page_drop (AppPage *page, GtkWidget *rows, const char *const *words,
               const char *label,
               void (*chosen) (GtkDropDown *, GParamSpec *, AppPage *))
{
  GtkWidget *drop = app_ui_drop_down (words, label);
  app_ui_rows_add (rows, label, drop);
  g_signal_connect (drop, "notify::selected", G_CALLBACK (chosen), page);
  return drop;
}

GtkWidget *
app_page_check (AppPage *page, GtkWidget *rows, const char *label,
                void (*toggled) (GtkCheckButton *, AppPage *))
{
  GtkWidget *check = gtk_check_button_new_with_label (label);
  app_ui_rows_add_wide (rows, check);
  g_signal_connect (check, "toggled", G_CALLBACK (toggled), page);
  return check;
}

GtkWidget *
app_page_buttons (AppPage *page)
{
  GtkWidget *flow = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (flow), GTK_SELECTION_NONE);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (flow), 6);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (flow), 6);
  gtk_flow_box_set_min_children_per_line (GTK_FLOW_BOX (flow), 2);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (flow), 2);
  gtk_flow_box_set_homogeneous (GTK_FLOW_BOX (flow), TRUE);
  gtk_box_append (GTK_BOX (page->box), flow);
  return flow;
}

GtkWidget *
app_page_button (AppPage *page, GtkWidget *buttons, const char *label,
                 const char *tip, void (*clicked) (GtkButton *, AppPage *))
{
  GtkWidget *button = app_ui_text_button (label, tip);
  if (GTK_IS_FLOW_BOX (buttons))
    {
      gtk_flow_box_insert (GTK_FLOW_BOX (buttons), button, -1);
      /* The button takes the focus, not the place it lies in. */
      gtk_widget_set_focusable (gtk_widget_get_parent (button), FALSE);
    }
  else
    gtk_box_append (GTK_BOX (buttons), button);
  g_signal_connect (button, "clicked", G_CALLBACK (clicked), page);
  return button;
}

/* --- notes ----------------------------------------------------------------- */

typedef struct
{
  AppPage *page;
  void (*entered) (const char *text, AppPage *page);
  char *shown;
} Note;

static void
note_free (gpointer data)
{
  Note *note = data;
  g_free (note->shown);
  g_free (note);
}

static char *
note_text (GtkTextBuffer *buffer)
{
  GtkTextIter start, end;
  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

static Note *
note_of (GtkWidget *scroller, GtkTextBuffer **buffer)
{
  GtkWidget *view
      = gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (scroller));
  *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (view));
  return g_object_get_data (G_OBJECT (scroller), "note");
}

static void
note_leave (GtkWidget *scroller)
{
  GtkTextBuffer *buffer;
  Note *note = note_of (scroller, &buffer);
  g_autofree char *text = note_text (buffer);
  if (g_str_equal (text, note->shown))
    return;
  g_free (note->shown);
  note->shown = g_strdup (text);
  note->entered (text, note->page);
}

GtkWidget *
app_page_note (AppPage *page, const char *label,
               void (*entered) (const char *, AppPage *))
{
  gtk_box_append (GTK_BOX (page->box), app_ui_heading (label));
  GtkWidget *scroller = gtk_scrolled_window_new ();
  GtkWidget *view = gtk_text_view_new ();
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (view), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (view), FALSE);
  gtk_text_view_set_top_margin (GTK_TEXT_VIEW (view), 6);
  gtk_text_view_set_bottom_margin (GTK_TEXT_VIEW (view), 6);
  gtk_text_view_set_left_margin (GTK_TEXT_VIEW (view), 8);
  gtk_text_view_set_right_margin (GTK_TEXT_VIEW (view), 8);
  app_ui_name (view, label);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scroller),
                                              66);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), view);
  gtk_widget_add_css_class (scroller, "note");
  gtk_box_append (GTK_BOX (page->box), scroller);

  Note *note = g_new0 (Note, 1);
  note->page = page;
  note->entered = entered;
  note->shown = g_strdup ("");
  g_object_set_data_full (G_OBJECT (scroller), "note", note, note_free);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (note_leave), scroller);
  gtk_widget_add_controller (view, focus);
  return scroller;
}

void
app_page_set_note (GtkWidget *scroller, const char *text)
{
  GtkTextBuffer *buffer;
  Note *note = note_of (scroller, &buffer);
  g_autofree char *typed = note_text (buffer);
  gboolean dirty = !g_str_equal (typed, note->shown);
  if (dirty || g_str_equal (text, note->shown))
    return;
  g_free (note->shown);
  note->shown = g_strdup (text);
  gtk_text_buffer_set_text (buffer, text, -1);
}
