/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pick-panel.h"

#include <glib/gi18n.h>

#include "app/pick-page.h"

struct _AppPickPanel
{
  GtkBox parent;
  AppSession *session;
  GtkWidget *scroller;
  AppPage *page;
  char *key; /* what the page was made for */
};

G_DEFINE_FINAL_TYPE (AppPickPanel, app_pick_panel, GTK_TYPE_BOX)

/* A line picked has no settings; the list of lines in the pattern's page has it. */
static AppPage *
make_page (AppSession *session)
{
  switch (app_session_get_pick (session)->kind)
    {
    case APP_PICK_PIECES:
      return app_page_piece_new (session);
    case APP_PICK_EDGE:
      return app_page_edge_new (session);
    case APP_PICK_NODES:
      return app_page_node_new (session);
    case APP_PICK_MARK:
      return app_page_mark_new (session);
    case APP_PICK_SEAM:
      return app_page_seam_new (session);
    case APP_PICK_PICTURE:
      return app_page_picture_new (session);
    case APP_PICK_NONE:
    case APP_PICK_LINE:
    default:
      return app_page_pattern_new (session);
    }
}

static char *
pick_key (const AppPick *pick)
{
  GString *key = g_string_new (NULL);
  g_string_append_printf (key, "%d %u %u", pick->kind, pick->piece, pick->edge);
  for (guint i = 0; i < pick->n_ids; i++)
    g_string_append_printf (key, " %u", pick->ids[i]);
  return g_string_free (key, FALSE);
}

/* What is being typed is taken before its page goes. */
static void
take_typed (AppPickPanel *panel)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (panel));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  if (focus == NULL || !gtk_widget_is_ancestor (focus, GTK_WIDGET (panel)))
    return;
  GtkWidget *field = gtk_widget_get_ancestor (focus, APP_TYPE_FIELD);
  if (field != NULL)
    app_field_take (APP_FIELD (field));
}

static gboolean
has_focus (AppPickPanel *panel)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (panel));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  return focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (panel));
}

static void
on_pick_changed (AppPickPanel *panel)
{
  g_autofree char *key = pick_key (app_session_get_pick (panel->session));
  if (g_strcmp0 (key, panel->key) == 0)
    {
      app_page_update (panel->page);
      return;
    }
  g_free (panel->key);
  panel->key = g_steal_pointer (&key);
  take_typed (panel);
  /* What had the focus goes with its page: the keys go to the table. */
  if (has_focus (panel))
    gtk_widget_activate_action (GTK_WIDGET (panel), "win.table", NULL);
  AppPage *old = g_steal_pointer (&panel->page);
  panel->page = make_page (panel->session);
  app_page_update (panel->page);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (panel->scroller),
                                 panel->page->box);
  app_page_free (old);
}

void
app_pick_panel_focus_name (AppPickPanel *panel)
{
  g_return_if_fail (APP_IS_PICK_PANEL (panel));
  GtkWidget *name = panel->page != NULL ? panel->page->name : NULL;
  if (name == NULL || !gtk_widget_get_mapped (name))
    return;
  GtkEntry *entry = app_field_get_entry (APP_FIELD (name));
  gtk_widget_grab_focus (GTK_WIDGET (entry));
  gtk_editable_select_region (GTK_EDITABLE (entry), 0, -1);
}

static void
on_shown_changed (AppPickPanel *panel)
{
  if (panel->page != NULL)
    app_page_update (panel->page);
}

static void
app_pick_panel_dispose (GObject *object)
{
  AppPickPanel *panel = APP_PICK_PANEL (object);
  if (panel->session != NULL)
    g_signal_handlers_disconnect_by_data (panel->session, panel);
  G_OBJECT_CLASS (app_pick_panel_parent_class)->dispose (object);
  g_clear_pointer (&panel->page, app_page_free);
  g_clear_object (&panel->session);
}

static void
app_pick_panel_finalize (GObject *object)
{
  g_free (APP_PICK_PANEL (object)->key);
  G_OBJECT_CLASS (app_pick_panel_parent_class)->finalize (object);
}

static void
app_pick_panel_class_init (AppPickPanelClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_pick_panel_dispose;
  G_OBJECT_CLASS (klass)->finalize = app_pick_panel_finalize;
}

static void
app_pick_panel_init (AppPickPanel *panel)
{
  GtkWidget *self = GTK_WIDGET (panel);
  gtk_widget_add_css_class (self, "panel");
  gtk_widget_add_css_class (self, "pick-panel");
  gtk_widget_set_size_request (self, 316, -1);
  panel->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (panel->scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (panel->scroller, TRUE);
  gtk_widget_set_hexpand (panel->scroller, TRUE);
  gtk_box_append (GTK_BOX (panel), panel->scroller);
  app_ui_name (self, _ ("What is picked"));
}

GtkWidget *
app_pick_panel_new (AppSession *session)
{
  AppPickPanel *panel = g_object_new (APP_TYPE_PICK_PANEL, NULL);
  panel->session = g_object_ref (session);
  g_signal_connect_swapped (session, "pick-changed",
                            G_CALLBACK (on_pick_changed), panel);
  g_signal_connect_swapped (session, "shown-changed",
                            G_CALLBACK (on_shown_changed), panel);
  on_pick_changed (panel);
  return GTK_WIDGET (panel);
}
