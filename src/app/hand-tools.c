/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/hand-tools.h"

#include <glib/gi18n.h>

#include "app/ui.h"

struct _AppHandTools
{
  GtkBox parent;
  AppSession *session;
  AppCanvas *canvas; /* borrowed: both live in one window */
  GtkWidget *buttons[APP_N_TOOLS];
  GtkWidget *words[APP_N_TOOLS];
  GtkWidget *keys[APP_N_TOOLS];
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (AppHandTools, app_hand_tools, GTK_TYPE_BOX)

static const struct
{
  const char *icon, *key, *tip;
  guint keyval;
} tools[APP_N_TOOLS] = {
  [APP_TOOL_RESHAPE]
  = { "bodkin-reshape-symbolic", "R",
      N_ ("Pick and drag nodes, handles, edges and pieces"), GDK_KEY_r },
  [APP_TOOL_DRAW] = { "bodkin-draw-symbolic", "D",
                      N_ ("Draw a new outline, node by node"), GDK_KEY_d },
  [APP_TOOL_MARK]
  = { "bodkin-mark-symbolic", "M",
      N_ ("Put notches on edges and marks inside pieces"), GDK_KEY_m },
  [APP_TOOL_BASTE] = { "bodkin-baste-symbolic", "B",
                       N_ ("Pair two edges into a seam"), GDK_KEY_b },
  [APP_TOOL_TAPE]
  = { "bodkin-tape-symbolic", "T",
      N_ ("Measure between two places or along an edge"), GDK_KEY_t },
  [APP_TOOL_SLASH]
  = { "bodkin-slash-symbolic", "X",
      N_ ("Slash a piece along a line, to spread or split it"), GDK_KEY_x },
};

gboolean
app_hand_tool_of_key (guint keyval, AppToolKind *kind)
{
  for (guint i = 0; i < APP_N_TOOLS; i++)
    if (tools[i].keyval == gdk_keyval_to_lower (keyval))
      {
        *kind = (AppToolKind)i;
        return TRUE;
      }
  return FALSE;
}

static void
on_toggled (AppHandTools *rack, GtkToggleButton *button)
{
  if (rack->updating || !gtk_toggle_button_get_active (button))
    return;
  for (guint i = 0; i < APP_N_TOOLS; i++)
    if (rack->buttons[i] == GTK_WIDGET (button))
      app_canvas_set_tool (rack->canvas, (AppToolKind)i);
  gtk_widget_grab_focus (GTK_WIDGET (rack->canvas));
}

static void
on_tool_changed (AppHandTools *rack)
{
  rack->updating = TRUE;
  AppToolKind kind = app_canvas_get_tool (rack->canvas);
  for (guint i = 0; i < APP_N_TOOLS; i++)
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (rack->buttons[i]),
                                  i == (guint)kind);
  rack->updating = FALSE;
}

void
app_hand_tools_set_narrow (AppHandTools *rack, gboolean narrow)
{
  for (guint i = 0; i < APP_N_TOOLS; i++)
    {
      gtk_widget_set_visible (rack->words[i], !narrow);
      gtk_widget_set_visible (rack->keys[i], !narrow);
    }
}

static void
app_hand_tools_dispose (GObject *object)
{
  AppHandTools *rack = APP_HAND_TOOLS (object);
  if (rack->session != NULL)
    g_signal_handlers_disconnect_by_data (rack->session, rack);
  g_clear_object (&rack->session);
  G_OBJECT_CLASS (app_hand_tools_parent_class)->dispose (object);
}

static void
app_hand_tools_class_init (AppHandToolsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_hand_tools_dispose;
}

static void
add_button (AppHandTools *rack, guint i)
{
  GtkWidget *button = gtk_toggle_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  rack->words[i] = app_ui_label (app_tool_name ((AppToolKind)i), NULL);
  gtk_widget_set_hexpand (rack->words[i], TRUE);
  rack->keys[i] = app_ui_label (tools[i].key, "key");
  gtk_box_append (GTK_BOX (box), gtk_image_new_from_icon_name (tools[i].icon));
  gtk_box_append (GTK_BOX (box), rack->words[i]);
  gtk_box_append (GTK_BOX (box), rack->keys[i]);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "tool");
  app_ui_tip (button, _ (tools[i].tip), tools[i].key);
  app_ui_name (button, app_tool_name ((AppToolKind)i));
  gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button),
                               i > 0 ? GTK_TOGGLE_BUTTON (rack->buttons[0])
                                     : NULL);
  rack->buttons[i] = button;
  g_signal_connect_swapped (button, "toggled", G_CALLBACK (on_toggled), rack);
  gtk_box_append (GTK_BOX (rack), button);
}

static void
app_hand_tools_init (AppHandTools *rack)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (rack),
                                  GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (rack), 2);
  gtk_widget_add_css_class (GTK_WIDGET (rack), "tool-rack");
  app_ui_name (GTK_WIDGET (rack), _ ("Hand tools"));
  for (guint i = 0; i < APP_N_TOOLS; i++)
    add_button (rack, i);
}

GtkWidget *
app_hand_tools_new (AppSession *session, AppCanvas *canvas)
{
  AppHandTools *rack = g_object_new (APP_TYPE_HAND_TOOLS, NULL);
  rack->session = g_object_ref (session);
  rack->canvas = canvas;
  g_signal_connect_swapped (session, "tool-changed",
                            G_CALLBACK (on_tool_changed), rack);
  on_tool_changed (rack);
  return GTK_WIDGET (rack);
}
