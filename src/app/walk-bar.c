/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/walk-bar.h"

#include <glib/gi18n.h>

#include "app/ui.h"
#include "app/walk.h"

#define SNAP_PX 5

struct _AppWalkBar
{
  GtkBox parent;
  AppSession *session;
  GtkWidget *slider, *place;
  GtkWidget *run;
  GtkWidget *sides, *by[2], *strike, *strike_words;
  char *marks; /* of the slider, as text */
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (AppWalkBar, app_walk_bar, GTK_TYPE_BOX)

static AppWalk *
walk_of (AppWalkBar *bar)
{
  return bar->session != NULL ? app_walk_get (bar->session) : NULL;
}

/* The keys are the table's again. */
static void
to_table (AppWalkBar *bar)
{
  gtk_widget_activate_action (GTK_WIDGET (bar), "win.table", NULL);
}

/* --- what she does ------------------------------------------------------------------ */

static void
on_slid (AppWalkBar *bar)
{
  AppWalk *walk = walk_of (bar);
  if (walk == NULL || bar->updating)
    return;
  int width = MAX (gtk_widget_get_width (bar->slider), 50);
  app_walk_go (walk, gtk_range_get_value (GTK_RANGE (bar->slider)),
               app_walk_get_whole (walk) * SNAP_PX / width);
}

static void
on_before (AppWalkBar *bar)
{
  if (walk_of (bar) != NULL)
    app_walk_to_mark (walk_of (bar), -1);
  to_table (bar);
}

static void
on_after (AppWalkBar *bar)
{
  if (walk_of (bar) != NULL)
    app_walk_to_mark (walk_of (bar), 1);
  to_table (bar);
}

static void
on_run (AppWalkBar *bar)
{
  AppWalk *walk = walk_of (bar);
  if (walk != NULL && app_walk_get_way (walk) != 0)
    app_walk_stop (walk);
  else if (walk != NULL)
    app_walk_run (walk, 1);
  to_table (bar);
}

static void
on_by (AppWalkBar *bar)
{
  AppWalk *walk = walk_of (bar);
  if (walk == NULL || bar->updating)
    return;
  app_walk_set_by (walk,
                   gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (bar->by[1]))
                       ? SEWING_WALK_PAPER
                       : SEWING_WALK_MATCHED);
  to_table (bar);
}

static void
on_swap (AppWalkBar *bar)
{
  AppWalk *walk = walk_of (bar);
  if (walk != NULL)
    app_walk_set_fixed (walk, 1 - app_walk_get_walk (walk)->fixed);
  to_table (bar);
}

static void
on_strike (AppWalkBar *bar)
{
  if (walk_of (bar) != NULL)
    app_walk_strike (walk_of (bar));
  to_table (bar);
}

static void
on_done (AppWalkBar *bar)
{
  to_table (bar);
  app_walk_end (bar->session);
}

static gboolean
on_key (AppWalkBar *bar, guint key)
{
  if (key != GDK_KEY_Escape || walk_of (bar) == NULL)
    return FALSE;
  on_done (bar);
  return TRUE;
}

/* --- what it shows ------------------------------------------------------------------ */

/* Small strokes under the slider where notches are. */
static void
show_marks (AppWalkBar *bar, AppWalk *walk)
{
  g_autoptr (GArray) marks = app_walk_marks (walk);
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < marks->len; i++)
    g_string_append_printf (text, "%.3f ",
                            g_array_index (marks, AppWalkMark, i).walked);
  if (g_strcmp0 (text->str, bar->marks) == 0)
    return;
  g_free (bar->marks);
  bar->marks = g_strdup (text->str);
  GtkScale *scale = GTK_SCALE (bar->slider);
  gtk_scale_clear_marks (scale);
  gtk_range_set_range (GTK_RANGE (scale), 0, app_walk_get_whole (walk));
  double last = -1;
  for (guint i = 0; i < marks->len; i++)
    {
      const AppWalkMark *mark = &g_array_index (marks, AppWalkMark, i);
      if (mark->side >= 0 && mark->walked - last > 0.5)
        gtk_scale_add_mark (scale, mark->walked, GTK_POS_BOTTOM, NULL);
      last = mark->walked;
    }
}

static void
update (AppWalkBar *bar)
{
  AppWalk *walk = walk_of (bar);
  gtk_widget_set_visible (GTK_WIDGET (bar), walk != NULL);
  if (walk == NULL)
    return;
  bar->updating = TRUE;
  show_marks (bar, walk);
  gtk_range_set_value (GTK_RANGE (bar->slider),
                       app_walk_get_step (walk)->walked);
  gboolean paper = app_walk_get_walk (walk)->by == SEWING_WALK_PAPER;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (bar->by[paper ? 1 : 0]),
                                TRUE);
  bar->updating = FALSE;
  g_autofree char *place = app_walk_words_place (walk);
  g_autofree char *sides = app_walk_words_sides (walk);
  g_autofree char *strike = app_walk_words_strike (walk);
  app_ui_set_text (bar->place, place);
  app_ui_set_text (bar->sides, sides);
  g_autofree char *words = app_walk_words_strike_short (walk);
  app_ui_set_text (bar->strike_words, words);
  app_ui_name (bar->strike, strike);
  gtk_widget_set_sensitive (bar->strike,
                            app_walk_can_strike (walk) != APP_STRIKE_NONE);
  gboolean runs = app_walk_get_way (walk) != 0;
  gtk_button_set_icon_name (GTK_BUTTON (bar->run),
                            runs ? "media-playback-pause-symbolic"
                                 : "media-playback-start-symbolic");
  app_ui_tip (bar->run, runs ? _ ("Stop") : _ ("Let it run"), _ ("Space"));
}

/* --- making it ------------------------------------------------------------------------- */

static GtkWidget *
add_icon (AppWalkBar *bar, GtkWidget *row, const char *icon, const char *tip,
          const char *key, GCallback done)
{
  GtkWidget *button = app_ui_icon_button (icon, tip, key, NULL);
  g_signal_connect_swapped (button, "clicked", done, bar);
  gtk_box_append (GTK_BOX (row), button);
  return button;
}

static void
add_upper (AppWalkBar *bar)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 2);
  add_icon (bar, row, "go-previous-symbolic", _ ("Back to the notch before"),
            "←", G_CALLBACK (on_before));
  bar->run = add_icon (bar, row, "media-playback-start-symbolic",
                       _ ("Let it run"), _ ("Space"), G_CALLBACK (on_run));
  add_icon (bar, row, "go-next-symbolic", _ ("On to the next notch"), "→",
            G_CALLBACK (on_after));
  bar->slider
      = gtk_scale_new_with_range (GTK_ORIENTATION_HORIZONTAL, 0, 100, 1);
  gtk_scale_set_draw_value (GTK_SCALE (bar->slider), FALSE);
  gtk_widget_set_hexpand (bar->slider, TRUE);
  gtk_widget_set_size_request (bar->slider, 90, -1);
  app_ui_name (bar->slider, _ ("How far the seam is walked"));
  g_signal_connect_swapped (bar->slider, "value-changed", G_CALLBACK (on_slid),
                            bar);
  gtk_box_append (GTK_BOX (row), bar->slider);
  bar->place = app_ui_label ("", "figure");
  gtk_label_set_width_chars (GTK_LABEL (bar->place), 17);
  gtk_label_set_xalign (GTK_LABEL (bar->place), 1);
  gtk_box_append (GTK_BOX (row), bar->place);
  GtkWidget *done = app_ui_icon_button (
      "window-close-symbolic", _ ("Leave off walking"), _ ("Esc"), NULL);
  g_signal_connect_swapped (done, "clicked", G_CALLBACK (on_done), bar);
  gtk_widget_set_margin_start (done, 6);
  gtk_box_append (GTK_BOX (row), done);
  gtk_box_append (GTK_BOX (bar), row);
}

static void
add_by (AppWalkBar *bar, GtkWidget *row)
{
  GtkWidget *both = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (both, "linked");
  const char *const words[2] = { _ ("Matched"), _ ("One to one") };
  const char *const tips[2]
      = { _ ("Matched notches meet: ease is spread between them"),
          _ ("As paper does it: what is longer is left over at the end") };
  for (int i = 0; i < 2; i++)
    {
      bar->by[i] = gtk_toggle_button_new_with_label (words[i]);
      app_ui_tip (bar->by[i], tips[i], "O");
      gtk_box_append (GTK_BOX (both), bar->by[i]);
    }
  gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (bar->by[1]),
                               GTK_TOGGLE_BUTTON (bar->by[0]));
  g_signal_connect_swapped (bar->by[1], "toggled", G_CALLBACK (on_by), bar);
  gtk_box_append (GTK_BOX (row), both);
}

static void
add_lower (AppWalkBar *bar)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_add_css_class (row, "walk-choices");
  add_by (bar, row);
  GtkWidget *swap = app_ui_icon_button (
      "bodkin-swap-symbolic", _ ("Let the other side move"), "X", NULL);
  g_signal_connect_swapped (swap, "clicked", G_CALLBACK (on_swap), bar);
  gtk_box_append (GTK_BOX (row), swap);
  bar->sides = app_ui_label ("", "dim");
  gtk_label_set_ellipsize (GTK_LABEL (bar->sides), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (bar->sides), 3);
  gtk_label_set_max_width_chars (GTK_LABEL (bar->sides), 28);
  gtk_widget_set_hexpand (bar->sides, TRUE);
  gtk_box_append (GTK_BOX (row), bar->sides);
  bar->strike = gtk_button_new ();
  bar->strike_words = app_ui_label ("", NULL);
  gtk_label_set_ellipsize (GTK_LABEL (bar->strike_words), PANGO_ELLIPSIZE_END);
  /* The bar keeps its width while the pin moves. */
  gtk_label_set_width_chars (GTK_LABEL (bar->strike_words), 18);
  gtk_label_set_max_width_chars (GTK_LABEL (bar->strike_words), 18);
  gtk_label_set_xalign (GTK_LABEL (bar->strike_words), 0.5F);
  gtk_button_set_child (GTK_BUTTON (bar->strike), bar->strike_words);
  app_ui_tip (bar->strike,
              _ ("A notch at the pin, on the side that has none here"), "N");
  g_signal_connect_swapped (bar->strike, "clicked", G_CALLBACK (on_strike),
                            bar);
  gtk_box_append (GTK_BOX (row), bar->strike);
  gtk_box_append (GTK_BOX (bar), row);
}

static void
app_walk_bar_dispose (GObject *object)
{
  AppWalkBar *bar = APP_WALK_BAR (object);
  if (bar->session != NULL)
    g_signal_handlers_disconnect_by_data (bar->session, bar);
  g_clear_object (&bar->session);
  g_clear_pointer (&bar->marks, g_free);
  G_OBJECT_CLASS (app_walk_bar_parent_class)->dispose (object);
}

static void
app_walk_bar_class_init (AppWalkBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_walk_bar_dispose;
}

static void
app_walk_bar_init (AppWalkBar *bar)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (bar),
                                  GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class (GTK_WIDGET (bar), "walk-bar");
  gtk_widget_set_halign (GTK_WIDGET (bar), GTK_ALIGN_CENTER);
  gtk_widget_set_valign (GTK_WIDGET (bar), GTK_ALIGN_START);
  app_ui_name (GTK_WIDGET (bar), _ ("Walking a seam"));
  add_upper (bar);
  add_lower (bar);
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), bar);
  gtk_widget_add_controller (GTK_WIDGET (bar), keys);
}

GtkWidget *
app_walk_bar_new (AppSession *session)
{
  AppWalkBar *bar = g_object_new (APP_TYPE_WALK_BAR, NULL);
  bar->session = g_object_ref (session);
  g_signal_connect_swapped (session, "walk-changed", G_CALLBACK (update), bar);
  update (bar);
  return GTK_WIDGET (bar);
}
