/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/help-window.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/ask.h"
#include "app/help-page.h"
#include "app/ui.h"

typedef struct
{
  GtkWidget *window, *search, *list, *scroller;
  char *folder;
  char **wanted; /* words searched for; NULL for none */
} Help;

static Help *help; /* one window for all */

/* In the order they are to be read. */
static const char *const pages[]
    = { "index",   "first-evening", "trace-a-picture", "outlines",
        "reshape", "lengths",       "seams",           "checks",
        "clips",   "allowances",    "print",           "safety",
        "files",   "keyboard",      "terminal",        "estimates",
        "words" };

static void on_link (const char *page, gpointer data);

static void
show_page (const char *page)
{
  GtkWidget *content = app_help_render (help->folder, page, on_link, NULL);
  if (content == NULL)
    return;
  gtk_widget_add_css_class (content, "help-page");
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (help->scroller), content);
  g_object_unref (content);
  GtkAdjustment *up = gtk_scrolled_window_get_vadjustment (
      GTK_SCROLLED_WINDOW (help->scroller));
  gtk_adjustment_set_value (up, 0);
}

static void
select_page (const char *page)
{
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      GtkListBoxRow *row
          = gtk_list_box_get_row_at_index (GTK_LIST_BOX (help->list), (int)i);
      if (!g_str_equal (pages[i], page) || row == NULL)
        continue;
      gtk_list_box_select_row (GTK_LIST_BOX (help->list), row);
      return;
    }
  show_page (page);
}

/* In an idle moment: the label that was clicked goes with its page. */
static gboolean
follow_link (gpointer data)
{
  g_autofree char *page = data;
  if (help != NULL)
    select_page (page);
  return G_SOURCE_REMOVE;
}

static void
on_link (const char *page, gpointer data)
{
  (void)data;
  g_idle_add (follow_link, g_strdup (page));
}

static void
on_row_selected (GtkListBox *list, GtkListBoxRow *row)
{
  (void)list;
  if (row != NULL)
    show_page (pages[gtk_list_box_row_get_index (row)]);
}

static void
on_destroy (void)
{
  g_free (help->folder);
  g_strfreev (help->wanted);
  g_clear_pointer (&help, g_free);
}

/* --- searching --------------------------------------------------------------------- */

/* Pages that have every word. */
static gboolean
is_wanted (GtkListBoxRow *row, gpointer data)
{
  (void)data;
  const char *words = g_object_get_data (G_OBJECT (row), "words");
  for (guint i = 0; help->wanted != NULL && help->wanted[i] != NULL; i++)
    if (words == NULL || strstr (words, help->wanted[i]) == NULL)
      return FALSE;
  return TRUE;
}

static void
on_search (GtkEditable *search)
{
  g_autofree char *lower = g_utf8_casefold (gtk_editable_get_text (search), -1);
  g_strfreev (help->wanted);
  help->wanted = g_strsplit_set (lower, " ", -1);
  gtk_list_box_invalidate_filter (GTK_LIST_BOX (help->list));
}

/* Enter: the first page found. */
static void
on_found (GtkEditable *search)
{
  on_search (search); /* it may not have been told yet */
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      GtkListBoxRow *row
          = gtk_list_box_get_row_at_index (GTK_LIST_BOX (help->list), (int)i);
      if (row == NULL || !gtk_widget_get_visible (GTK_WIDGET (row))
          || !is_wanted (row, NULL))
        continue;
      gtk_list_box_select_row (GTK_LIST_BOX (help->list), row);
      return;
    }
}

/* Escape takes the search back, and then closes. */
static void
on_stop (GtkEditable *search)
{
  if (gtk_editable_get_text (search)[0] != '\0')
    gtk_editable_set_text (search, "");
  else
    gtk_window_close (GTK_WINDOW (help->window));
}

static GtkWidget *
make_search (void)
{
  help->search = gtk_search_entry_new ();
  app_ui_name (help->search, _ ("Search the help"));
  g_object_set (help->search, "placeholder-text", _ ("Search"), NULL);
  gtk_widget_add_css_class (help->search, "help-search");
  g_signal_connect (help->search, "search-changed", G_CALLBACK (on_search),
                    NULL);
  g_signal_connect (help->search, "activate", G_CALLBACK (on_found), NULL);
  g_signal_connect (help->search, "stop-search", G_CALLBACK (on_stop), NULL);
  return help->search;
}

static void
prepare_search (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      GtkListBoxRow *row
          = gtk_list_box_get_row_at_index (GTK_LIST_BOX (help->list), (int)i);
      g_object_set_data_full (G_OBJECT (row), "words",
                              app_help_words (help->folder, pages[i]), g_free);
    }
  GtkWidget *none
      = app_ui_paragraph (_ ("No page has all these words."), "dim");
  gtk_widget_add_css_class (none, "panel-empty");
  gtk_list_box_set_placeholder (GTK_LIST_BOX (help->list), none);
  gtk_list_box_set_filter_func (GTK_LIST_BOX (help->list), is_wanted, NULL,
                                NULL);
}

static GtkWidget *
make_list (void)
{
  help->list = gtk_list_box_new ();
  gtk_widget_add_css_class (help->list, "help-list");
  app_ui_name (help->list, _ ("Help pages"));
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      g_autofree char *title = app_help_title (help->folder, pages[i]);
      gtk_list_box_append (
          GTK_LIST_BOX (help->list),
          app_ui_label (title != NULL ? title : pages[i], NULL));
      if (title == NULL)
        gtk_widget_set_visible (GTK_WIDGET (gtk_list_box_get_row_at_index (
                                    GTK_LIST_BOX (help->list), (int)i)),
                                FALSE);
    }
  prepare_search ();
  g_signal_connect (help->list, "row-selected", G_CALLBACK (on_row_selected),
                    NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (box, "panel");
  gtk_widget_set_hexpand (box, FALSE);
  gtk_box_append (GTK_BOX (box), make_search ());
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), help->list);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_widget_set_size_request (scroller, 220, -1);
  gtk_box_append (GTK_BOX (box), scroller);
  return box;
}

static void
make_window (GtkWindow *parent, char *folder)
{
  help = g_new0 (Help, 1);
  help->folder = folder;
  help->window = gtk_window_new ();
  GtkWindow *window = GTK_WINDOW (help->window);
  gtk_window_set_title (window, _ ("Help"));
  gtk_window_set_default_size (window, 900, 640);
  gtk_window_set_transient_for (window, parent);
  gtk_window_set_destroy_with_parent (window, TRUE);
  gtk_window_set_titlebar (window, gtk_header_bar_new ());
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_box_append (GTK_BOX (line), make_list ());
  help->scroller = gtk_scrolled_window_new ();
  gtk_widget_set_hexpand (help->scroller, TRUE);
  gtk_box_append (GTK_BOX (line), help->scroller);
  gtk_window_set_child (window, line);
  app_ui_close_on_escape (window);
  g_signal_connect (window, "destroy", G_CALLBACK (on_destroy), NULL);
}

static gboolean
open_in_viewer (GtkWindow *parent, const char *page)
{
  g_autoptr (GAppInfo) viewer = g_app_info_get_default_for_uri_scheme ("help");
  if (viewer == NULL || g_getenv ("BODKIN_DATA") != NULL)
    return FALSE; /* run from the source tree: its own pages, not installed ones */
  g_autofree char *uri = g_strdup_printf ("help:bodkin/%s", page);
  gtk_show_uri (parent, uri, GDK_CURRENT_TIME);
  return TRUE;
}

void
app_help_open (GtkWindow *parent, const char *page)
{
  if (open_in_viewer (parent, page))
    return;
  if (help == NULL)
    {
      char *folder = app_help_folder ();
      if (folder == NULL)
        {
          app_tell (parent, _ ("The help pages were not found"),
                    _ ("They are installed together with Bodkin. Install it "
                       "again, or read them in the folder “help” of its "
                       "source."));
          return;
        }
      make_window (parent, folder);
    }
  select_page (page);
  gtk_window_present (GTK_WINDOW (help->window));
  gtk_widget_grab_focus (help->search);
}
