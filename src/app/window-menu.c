/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The menu of the table: what can be done with what is picked. */
#include <glib/gi18n.h>

#include "app/draft.h"
#include "app/window-private.h"

static void
append_some (GMenu *menu, const char *const (*items)[2], guint n)
{
  g_autoptr (GMenu) section = g_menu_new ();
  for (guint i = 0; i < n; i++)
    g_menu_append (section, _ (items[i][0]), items[i][1]);
  g_menu_append_section (menu, NULL, G_MENU_MODEL (section));
}

/* Verbs that what is picked can fill a field of. */
static void
append_verbs (AppWindow *window, GMenu *menu)
{
  g_autoptr (GMenu) all = g_menu_new ();
  for (int g = DRAFTING_GROUP_DART; g <= DRAFTING_GROUP_DRAFT; g++)
    {
      g_autoptr (GMenu) group = g_menu_new ();
      const DraftingVerb *verb;
      for (guint i = 0; (verb = drafting_verb_nth (i)) != NULL; i++)
        if ((int)verb->group == g
            && app_draft_fits_pick (window->session, verb))
          {
            g_autoptr (GMenuItem) item
                = g_menu_item_new (_ (verb->title), NULL);
            g_menu_item_set_action_and_target (item, "win.draft", "s",
                                               verb->name);
            g_menu_append_item (group, item);
          }
      if (g_menu_model_get_n_items (G_MENU_MODEL (group)) > 0)
        g_menu_append_submenu (all, app_draft_group_name ((DraftingGroup)g),
                               G_MENU_MODEL (group));
    }
  if (g_menu_model_get_n_items (G_MENU_MODEL (all)) > 0)
    g_menu_append_section (menu, _ ("Draft"), G_MENU_MODEL (all));
}

static GMenu *
make_context_menu (AppWindow *window)
{
  static const char *const piece[][2]
      = { { N_ ("Copy"), "win.copy" },
          { N_ ("Duplicate"), "win.duplicate" },
          { N_ ("Mirrored duplicate"), "win.duplicate-mirrored" },
          { N_ ("Name its edges"), "win.name-edges" },
          { N_ ("Turn left"), "win.turn-left" },
          { N_ ("Turn right"), "win.turn-right" },
          { N_ ("Mirror"), "win.mirror" } };
  static const char *const edge[][2]
      = { { N_ ("Name the edges"), "win.name-edges" },
          { N_ ("Add a notch"), "win.add-notch" },
          { N_ ("Pick its seam"), "win.pick-seam" },
          { N_ ("Walk its seam"), "win.walk" },
          { N_ ("True across its seam"), "win.true" },
          { N_ ("Make it fair"), "win.fair" } };
  static const char *const part[][2]
      = { { N_ ("Pick the whole piece"), "win.pick-piece" } };
  static const char *const any[][2]
      = { { N_ ("Draw over a picture"), "win.follow" },
          { N_ ("Paste"), "win.paste" },
          { N_ ("Pick all pieces"), "win.select-all" },
          { N_ ("Show all of it"), "win.zoom-fit" } };
  static const char *const gone[][2] = { { N_ ("Remove"), "win.delete" } };
  guint mask = app_window_pick_mask (window->session);
  GMenu *menu = g_menu_new ();
  if (mask & APP_FOR_PIECES)
    append_some (menu, piece, G_N_ELEMENTS (piece));
  if (mask & APP_FOR_EDGE)
    append_some (menu, edge, G_N_ELEMENTS (edge));
  if (mask & APP_FOR_PART)
    append_some (menu, part, G_N_ELEMENTS (part));
  if (mask != APP_FOR_ANY)
    append_verbs (window, menu);
  if (mask == APP_FOR_ANY)
    append_some (menu, any, G_N_ELEMENTS (any));
  else if (!(mask & APP_FOR_EDGE))
    append_some (menu, gone, G_N_ELEMENTS (gone));
  return menu;
}

/* In an idle moment, so that the item picked has been activated first. */
static gboolean
unparent (gpointer popover)
{
  gtk_widget_unparent (popover);
  g_object_unref (popover);
  return G_SOURCE_REMOVE;
}

static void
on_menu_closed (GtkPopover *popover)
{
  g_idle_add (unparent, g_object_ref (popover));
}

void
app_window_context_menu (AppWindow *window, double x, double y)
{
  g_autoptr (GMenu) menu = make_context_menu (window);
  GtkWidget *popover = gtk_popover_menu_new_from_model (G_MENU_MODEL (menu));
  /* The overlay about the table keeps its popovers' sizes up to date. */
  gtk_widget_set_parent (popover,
                         gtk_widget_get_parent (GTK_WIDGET (window->canvas)));
  gtk_popover_set_pointing_to (GTK_POPOVER (popover),
                               &(GdkRectangle){ (int)x, (int)y, 1, 1 });
  /* Where there is more room. */
  gtk_popover_set_position (
      GTK_POPOVER (popover),
      y > gtk_widget_get_height (GTK_WIDGET (window->canvas)) / 2.0
          ? GTK_POS_TOP
          : GTK_POS_BOTTOM);
  g_signal_connect (popover, "closed", G_CALLBACK (on_menu_closed), NULL);
  gtk_popover_popup (GTK_POPOVER (popover));
}
