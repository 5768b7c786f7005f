/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/name-bar.h"

#include <glib/gi18n.h>

#include "app/naming.h"
#include "app/ui.h"
#include "app/verb-bar.h"

#define OFFERS 4

struct _AppNameBar
{
  GtkBox parent;
  AppSession *session;
  AppCanvas *canvas; /* borrowed; beside the bar in the window */
  GtkWidget *title, *words, *entry, *guess;
  GtkWidget *offers[OFFERS];
  guint piece; /* being named; 0: closed */
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (AppNameBar, app_name_bar, GTK_TYPE_BOX)

static gboolean
is_open (AppNameBar *bar)
{
  return bar->piece != 0;
}

static void
close_bar (AppNameBar *bar)
{
  if (!is_open (bar))
    return;
  bar->piece = 0;
  app_canvas_set_under_bar (bar->canvas, FALSE);
  gtk_widget_set_visible (GTK_WIDGET (bar), FALSE);
  gtk_widget_grab_focus (GTK_WIDGET (bar->canvas));
}

static void
show_offers (AppNameBar *bar)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (bar->entry));
  g_autoptr (GArray) offers = app_naming_offers (bar->session, typed, OFFERS);
  gboolean guess = FALSE;
  for (guint i = 0; i < OFFERS; i++)
    {
      const AppNameOffer *offer
          = i < offers->len ? &g_array_index (offers, AppNameOffer, i) : NULL;
      gtk_widget_set_visible (bar->offers[i], offer != NULL);
      if (!offer)
        continue;
      g_autofree char *label = offer->typed
                                   ? g_strdup_printf (_ ("“%s”"), offer->name)
                                   : g_strdup (offer->name);
      guess |= offer->guess && i == 0;
      gtk_button_set_label (GTK_BUTTON (bar->offers[i]), label);
      GtkWidget *child = gtk_button_get_child (GTK_BUTTON (bar->offers[i]));
      /* "centre front" and "centre back" must be told apart. */
      gtk_label_set_wrap (GTK_LABEL (child), TRUE);
      gtk_label_set_lines (GTK_LABEL (child), 2);
      gtk_label_set_justify (GTK_LABEL (child), GTK_JUSTIFY_CENTER);
      gtk_label_set_ellipsize (GTK_LABEL (child), PANGO_ELLIPSIZE_END);
      g_object_set_data_full (G_OBJECT (bar->offers[i]), "name",
                              g_strdup (offer->name), g_free);
      g_autofree char *tip
          = i == 0
                ? g_strdup (offer->guess ? _ ("A guess from the piece's shape: "
                                              "Enter takes it")
                                         : _ ("Enter takes it"))
            : offer->typed ? g_strdup (_ ("As you typed it"))
                           : g_strdup (_ ("Give the edge this name"));
      gtk_widget_set_tooltip_text (bar->offers[i], tip);
    }
  app_ui_set_text (bar->guess, guess ? _ ("A guess:") : _ ("Names:"));
}

static void
update (AppNameBar *bar)
{
  if (!is_open (bar))
    return;
  const AppPick *pick = app_session_get_pick (bar->session);
  if (pick->kind != APP_PICK_EDGE)
    {
      close_bar (bar);
      return;
    }
  bar->piece = pick->piece;
  g_autofree char *title = app_naming_title (bar->session);
  g_autofree char *words = app_naming_words (bar->session);
  app_ui_set_text (bar->title, title);
  app_ui_set_text (bar->words, words);
  show_offers (bar);
}

/* Another edge in hand: what was typed for the last one goes. */
static void
on_pick (AppNameBar *bar)
{
  if (!is_open (bar))
    return;
  bar->updating = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (bar->entry), "");
  bar->updating = FALSE;
  update (bar);
  if (is_open (bar))
    {
      GeoBox box = app_session_pick_box (bar->session);
      g_signal_emit_by_name (bar->session, "look-at", box.x0, box.y0, box.x1,
                             box.y1);
      gtk_widget_grab_focus (bar->entry);
    }
}

static void
on_typed (AppNameBar *bar)
{
  if (!bar->updating && is_open (bar))
    show_offers (bar);
}

static void
take (AppNameBar *bar, GtkWidget *offer)
{
  const char *kept = g_object_get_data (G_OBJECT (offer), "name");
  if (!is_open (bar) || !kept || !gtk_widget_get_visible (offer))
    return;
  g_autofree char *name = g_strdup (kept);
  const AppPick *pick = app_session_get_pick (bar->session);
  guint edge = pick->edge;
  if (!app_naming_take (bar->session, name))
    return;
  /* The last one is named: that was it. */
  if (app_session_get_pick (bar->session)->edge == edge
      && app_naming_left (bar->session, NULL, NULL) == 0)
    {
      guint piece = bar->piece;
      close_bar (bar);
      app_session_pick_piece (bar->session, piece, FALSE);
    }
}

static void
on_enter (AppNameBar *bar)
{
  take (bar, bar->offers[0]);
}

static void
on_offer (GtkWidget *offer, AppNameBar *bar)
{
  take (bar, offer);
}

static gboolean
on_key (AppNameBar *bar, guint key)
{
  if (!is_open (bar))
    return FALSE;
  if (key == GDK_KEY_Tab || key == GDK_KEY_KP_Tab)
    app_naming_step (bar->session, 1);
  else if (key == GDK_KEY_ISO_Left_Tab)
    app_naming_step (bar->session, -1);
  else
    return FALSE;
  return TRUE;
}

static void
on_next (AppNameBar *bar)
{
  app_naming_step (bar->session, 1);
}

static void
on_before (AppNameBar *bar)
{
  app_naming_step (bar->session, -1);
}

static GtkWidget *
make_heading (AppNameBar *bar)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  bar->title = app_verb_bar_title ();
  bar->words = app_ui_label ("", "figures");
  GtkWidget *before = app_ui_icon_button (
      "go-previous-symbolic", _ ("The edge before"), "Shift+Tab", NULL);
  GtkWidget *next = app_ui_icon_button ("go-next-symbolic", _ ("The next edge"),
                                        "Tab", NULL);
  app_verb_bar_add (box, bar->title);
  app_verb_bar_add (box, bar->words);
  app_verb_bar_add (box, before);
  app_verb_bar_add (box, next);
  g_signal_connect_swapped (before, "clicked", G_CALLBACK (on_before), bar);
  g_signal_connect_swapped (next, "clicked", G_CALLBACK (on_next), bar);
  app_verb_bar_add_leave (box, GTK_BOX (bar), G_CALLBACK (close_bar));
  app_ui_tip (g_object_get_data (G_OBJECT (bar), "leave"), _ ("Enough names"),
              _ ("Escape"));
  return box;
}

static GtkWidget *
make_names (AppNameBar *bar)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  bar->entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (bar->entry), 12);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (bar->entry), 12);
  gtk_entry_set_placeholder_text (GTK_ENTRY (bar->entry), _ ("type a name"));
  app_ui_name (bar->entry, _ ("Name of the edge"));
  bar->guess = app_ui_label ("", "dim");
  app_verb_bar_add (box, bar->entry);
  app_verb_bar_add (box, bar->guess);
  for (guint i = 0; i < OFFERS; i++)
    {
      bar->offers[i] = gtk_button_new_with_label ("");
      if (i == 0)
        gtk_widget_add_css_class (bar->offers[i], "suggested-action");
      app_verb_bar_add (box, bar->offers[i]);
      g_signal_connect (bar->offers[i], "clicked", G_CALLBACK (on_offer), bar);
    }
  g_signal_connect_swapped (bar->entry, "changed", G_CALLBACK (on_typed), bar);
  g_signal_connect_swapped (bar->entry, "activate", G_CALLBACK (on_enter), bar);
  return box;
}

static void
app_name_bar_dispose (GObject *object)
{
  AppNameBar *bar = APP_NAME_BAR (object);
  bar->piece = 0;
  g_clear_object (&bar->session);
  G_OBJECT_CLASS (app_name_bar_parent_class)->dispose (object);
}

static void
app_name_bar_class_init (AppNameBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_name_bar_dispose;
}

static void
app_name_bar_init (AppNameBar *bar)
{
  GtkWidget *heading = make_heading (bar);
  app_verb_bar_fill (GTK_BOX (bar), _ ("Names of edges"), heading,
                     make_names (bar));
  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), bar);
  gtk_widget_add_controller (GTK_WIDGET (bar), keys);
}

GtkWidget *
app_name_bar_new (AppSession *session, AppCanvas *canvas)
{
  AppNameBar *bar = g_object_new (APP_TYPE_NAME_BAR, NULL);
  bar->session = g_object_ref (session);
  bar->canvas = canvas;
  app_verb_bar_follow (GTK_BOX (bar), session, canvas, G_CALLBACK (update));
  g_signal_connect_object (session, "pick-changed", G_CALLBACK (on_pick), bar,
                           G_CONNECT_SWAPPED);
  /* A verb's amounts, a walk and another tool's bar want the room. */
  g_signal_connect_object (session, "draft-changed", G_CALLBACK (close_bar),
                           bar, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "walk-changed", G_CALLBACK (close_bar), bar,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "tool-changed", G_CALLBACK (close_bar), bar,
                           G_CONNECT_SWAPPED);
  return GTK_WIDGET (bar);
}

/* All of it, so that the table keeps still from edge to edge. */
static void
look_at_piece (AppNameBar *bar)
{
  const Pattern *p = app_session_get_pattern (bar->session);
  const PatternPiece *piece = pattern_get_piece (p, bar->piece);
  const SewingPiece *facts
      = piece ? sewing_facts_piece (app_session_get_facts (bar->session), piece)
              : NULL;
  if (facts)
    app_canvas_look_at (bar->canvas, facts->bounds);
}

void
app_name_bar_open (AppNameBar *bar)
{
  g_return_if_fail (APP_IS_NAME_BAR (bar));
  if (app_canvas_get_tool (bar->canvas) != APP_TOOL_RESHAPE)
    app_canvas_set_tool (bar->canvas, APP_TOOL_RESHAPE);
  if (!app_naming_begin (bar->session))
    return;
  bar->piece = app_session_get_pick (bar->session)->piece;
  app_canvas_set_under_bar (bar->canvas, TRUE);
  look_at_piece (bar);
  gtk_widget_set_visible (GTK_WIDGET (bar), TRUE);
  on_pick (bar);
}
