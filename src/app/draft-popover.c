/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/draft-popover.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/draft.h"
#include "app/ui.h"

#define LIST_WIDTH_PX 430
#define LIST_HEIGHT_PX 460

typedef struct
{
  AppSession *session;
  GtkWidget *button, *popover, *search, *list, *nothing;
} DraftList;

static void
list_free (gpointer data)
{
  DraftList *self = data;
  g_object_unref (self->session);
  g_free (self);
}

static void
add_heading (DraftList *self, const char *text)
{
  GtkWidget *row = gtk_list_box_row_new ();
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_list_box_row_set_selectable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_widget_set_focusable (row, FALSE);
  GtkWidget *label = app_ui_heading (text);
  gtk_widget_set_margin_top (label, 8);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), label);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

static void
add_verb (DraftList *self, const DraftingVerb *verb)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (box), app_ui_label (_ (verb->title), NULL));
  GtkWidget *hint = app_ui_paragraph (_ (verb->hint), "dim");
  gtk_label_set_max_width_chars (GTK_LABEL (hint), 54);
  gtk_box_append (GTK_BOX (box), hint);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  g_object_set_data (G_OBJECT (row), "verb", (gpointer)verb->name);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

/* Verbs of one group that match; under their heading. group -1: those that fit the pick. */
static guint
add_group (DraftList *self, int group, const char *typed)
{
  guint n = 0;
  const DraftingVerb *verb;
  for (guint i = 0; (verb = drafting_verb_nth (i)) != NULL; i++)
    {
      gboolean here = group < 0 ? app_draft_fits_pick (self->session, verb)
                                : (int)verb->group == group;
      if (!here || !app_draft_matches (verb, typed))
        continue;
      if (n++ == 0)
        add_heading (self, group < 0
                               ? _ ("For what is picked")
                               : app_draft_group_name ((DraftingGroup)group));
      add_verb (self, verb);
    }
  return n;
}

static void
fill (DraftList *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->search));
  app_ui_clear (self->list);
  guint n = 0;
  if (*typed == '\0')
    n += add_group (self, -1, typed);
  for (int g = DRAFTING_GROUP_DART; g <= DRAFTING_GROUP_DRAFT; g++)
    n += add_group (self, g, typed);
  gtk_widget_set_visible (self->nothing, n == 0);
}

static void
begin (DraftList *self, GtkListBoxRow *row)
{
  const char *verb = g_object_get_data (G_OBJECT (row), "verb");
  if (verb == NULL)
    return;
  gtk_popover_popdown (GTK_POPOVER (self->popover));
  gtk_widget_activate_action (self->button, "win.draft", "s", verb);
}

/* The verb whose whole title was typed, else the first that has it in its
 * title, else the first. */
static GtkListBoxRow *
first_verb (DraftList *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->search));
  g_autofree char *wanted = g_utf8_casefold (typed, -1);
  g_strstrip (wanted);
  GtkListBoxRow *row, *best = NULL;
  int best_rank = 0;
  for (int i = 0;
       (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), i))
       != NULL;
       i++)
    {
      const char *name = g_object_get_data (G_OBJECT (row), "verb");
      const DraftingVerb *verb
          = name != NULL ? drafting_verb_find (name) : NULL;
      if (verb == NULL)
        continue;
      g_autofree char *title = g_utf8_casefold (_ (verb->title), -1);
      int rank = *wanted == '\0'                    ? 1
                 : strcmp (title, wanted) == 0      ? 4
                 : g_str_has_prefix (title, wanted) ? 3
                 : strstr (title, wanted) != NULL   ? 2
                                                    : 1;
      if (rank > best_rank)
        {
          best = row;
          best_rank = rank;
        }
    }
  return best;
}

static void
on_search_entered (DraftList *self)
{
  GtkListBoxRow *row = first_verb (self);
  if (row != NULL)
    begin (self, row);
}

static gboolean
on_search_key (DraftList *self, guint key)
{
  GtkListBoxRow *row = key == GDK_KEY_Down ? first_verb (self) : NULL;
  if (row == NULL)
    return FALSE;
  gtk_widget_grab_focus (GTK_WIDGET (row));
  return TRUE;
}

static void
on_shown (DraftList *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  fill (self);
  gtk_widget_grab_focus (self->search);
}

static GtkWidget *
make_content (DraftList *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->search = gtk_search_entry_new ();
  g_object_set (self->search, "placeholder-text",
                _ ("Type to find: dart, flare, collar…"), NULL);
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (fill),
                            self);
  g_signal_connect_swapped (self->search, "activate",
                            G_CALLBACK (on_search_entered), self);
  g_signal_connect_swapped (self->search, "stop-search",
                            G_CALLBACK (gtk_popover_popdown), self->popover);
  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_search_key),
                            self);
  gtk_widget_add_controller (self->search, keys);
  gtk_box_append (GTK_BOX (box), self->search);
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list),
                                   GTK_SELECTION_NONE);
  app_ui_name (self->list, _ ("Verbs of drafting"));
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (begin),
                            self);
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->list);
  gtk_widget_set_size_request (scroller, LIST_WIDTH_PX, LIST_HEIGHT_PX);
  gtk_box_append (GTK_BOX (box), scroller);
  self->nothing = app_ui_label (_ ("No verb is called that."), "dim");
  gtk_box_append (GTK_BOX (box), self->nothing);
  return box;
}

GtkWidget *
app_draft_button_new (AppSession *session)
{
  DraftList *self = g_new0 (DraftList, 1);
  self->session = g_object_ref (session);
  self->button = gtk_menu_button_new ();
  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->button), _ ("Draft"));
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (self->button), FALSE);
  app_ui_tip (self->button, _ ("Draft: change the pattern by amounts"), "V");
  self->popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (self->popover), make_content (self));
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->button), self->popover);
  app_ui_pass_keys (self->popover);
  g_signal_connect_swapped (self->popover, "show", G_CALLBACK (on_shown), self);
  g_object_set_data_full (G_OBJECT (self->button), "draft-list", self,
                          list_free);
  return self->button;
}

void
app_draft_button_open (GtkWidget *button)
{
  gtk_menu_button_popup (GTK_MENU_BUTTON (button));
}
