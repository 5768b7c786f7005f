/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/true-bar.h"

#include <glib/gi18n.h>

#include "app/field.h"
#include "app/tool-true.h"
#include "app/ui.h"
#include "app/verb-bar.h"

struct _AppTrueBar
{
  GtkBox parent;
  AppSession *session;
  AppCanvas *canvas; /* borrowed; beside the bar in the window */
  GtkWidget *title, *angle, *length, *trouble;
  GtkWidget *steps, *before, *after, *place;
  GtkWidget *blend, *reach, *all, *square, *comb, *done;
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (AppTrueBar, app_true_bar, GTK_TYPE_BOX)

static AppTool *
tool_of (AppTrueBar *bar)
{
  return app_canvas_get_truing (bar->canvas);
}

/* --- showing ---------------------------------------------------------------------- */

static void
show_words (AppTrueBar *bar, AppTool *tool)
{
  g_autofree char *title = app_true_title (tool);
  g_autofree char *angle = app_true_angle_words (tool);
  g_autofree char *length = app_true_length_words (tool);
  guint n = app_true_n_joints (tool);
  /* Translators: which joint of how many */
  g_autofree char *place
      = g_strdup_printf (_ ("%u of %u"), app_true_get_joint (tool) + 1, n);
  const char *trouble = app_true_get_trouble (tool);
  app_ui_set_text (bar->title, title);
  app_ui_set_text (bar->angle, angle);
  app_ui_set_text (bar->length, length);
  app_ui_set_text (bar->place, place);
  app_ui_set_text (bar->trouble, trouble != NULL ? trouble : "");
  gtk_widget_set_visible (bar->trouble, trouble != NULL);
  gtk_widget_set_visible (bar->steps, n > 1);
  gtk_widget_set_sensitive (bar->before, app_true_get_joint (tool) > 0);
  gtk_widget_set_sensitive (bar->after, app_true_get_joint (tool) + 1 < n);
  gtk_widget_set_visible (bar->all, n > 1);
}

static void
update (AppTrueBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (tool == NULL)
    {
      if (gtk_widget_get_visible (GTK_WIDGET (bar)))
        {
          gtk_widget_set_visible (GTK_WIDGET (bar), FALSE);
          gtk_widget_grab_focus (GTK_WIDGET (bar->canvas));
        }
      return;
    }
  bar->updating = TRUE;
  show_words (bar, tool);
  app_field_set_unit (APP_FIELD (bar->reach),
                      app_session_get_shown (bar->session)->unit);
  app_field_set_value (APP_FIELD (bar->reach), app_true_get_reach (tool));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (bar->blend),
                                app_true_is_blending (tool));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (bar->comb),
                                app_true_has_comb (tool));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (bar->all),
                               app_true_is_all (tool));
  gtk_widget_set_visible (bar->square, app_true_can_square (tool));
  gtk_widget_set_sensitive (bar->done, app_true_is_changed (tool));
  bar->updating = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (bar), TRUE);
}

/* --- doing ------------------------------------------------------------------------- */

/* What the tool was told shows on the table, and comes back here from there. */
static void
moved (AppTrueBar *bar, gboolean to_table)
{
  app_canvas_tool_told (bar->canvas);
  if (to_table)
    gtk_widget_grab_focus (GTK_WIDGET (bar->canvas));
}

static void
on_blend (AppTrueBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (bar->updating || tool == NULL)
    return;
  app_true_set_blending (
      tool, gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (bar->blend)));
  moved (bar, TRUE);
}

static void
on_all (AppTrueBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (bar->updating || tool == NULL)
    return;
  app_true_set_all (tool,
                    gtk_check_button_get_active (GTK_CHECK_BUTTON (bar->all)));
  moved (bar, TRUE);
}

static void
on_comb (AppTrueBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (bar->updating || tool == NULL)
    return;
  app_true_set_comb (
      tool, gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (bar->comb)));
  moved (bar, TRUE);
}

static void
on_square (AppTrueBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (tool == NULL)
    return;
  app_true_square (tool);
  moved (bar, TRUE);
}

static void
go (AppTrueBar *bar, int by)
{
  AppTool *tool = tool_of (bar);
  if (tool == NULL)
    return;
  app_true_set_joint (tool, app_true_get_joint (tool) + (guint)by);
  moved (bar, TRUE);
}

static void
on_before (AppTrueBar *bar)
{
  go (bar, -1);
}

static void
on_after (AppTrueBar *bar)
{
  go (bar, 1);
}

static void
on_done (AppTrueBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (tool == NULL)
    return;
  app_true_do (tool);
  moved (bar, TRUE);
}

static void
on_leave (AppTrueBar *bar)
{
  AppTool *tool = tool_of (bar);
  if (tool == NULL)
    return;
  app_true_leave (tool);
  moved (bar, TRUE);
}

static void
on_reach (AppField *field, gboolean step, AppTrueBar *bar)
{
  (void)step;
  AppTool *tool = tool_of (bar);
  if (bar->updating || tool == NULL)
    return;
  app_true_set_reach (tool, app_field_get_value (field));
  moved (bar, FALSE);
}

/* As it is typed, where it can be read already. */
static void
on_typed (GtkEditable *entry, AppTrueBar *bar)
{
  AppTool *tool = tool_of (bar);
  double reach;
  if (bar->updating || tool == NULL
      || !gtk_widget_has_focus (GTK_WIDGET (gtk_editable_get_delegate (entry))))
    return;
  if (!pattern_length_parse (gtk_editable_get_text (entry),
                             app_session_get_shown (bar->session)->unit, &reach,
                             NULL)
      || reach <= 0 || reach == app_true_get_reach (tool))
    return;
  app_true_set_reach (tool, reach);
  moved (bar, FALSE);
}

/* Entered, the next Enter is the table's. */
static void
on_activate (AppTrueBar *bar)
{
  gtk_widget_grab_focus (GTK_WIDGET (bar->canvas));
}

/* --- making ------------------------------------------------------------------------- */

static GtkWidget *
toggle (const char *text, const char *tip, const char *key)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (text);
  app_ui_tip (button, tip, key);
  app_ui_name (button, text);
  return button;
}

static GtkWidget *
make_heading (AppTrueBar *bar)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  bar->title = app_verb_bar_title ();
  bar->angle = app_ui_label ("", "figures");
  bar->length = app_ui_label ("", "figures");
  bar->steps = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 2);
  bar->before = app_ui_icon_button ("go-previous-symbolic",
                                    _ ("The joint before"), "←", NULL);
  bar->after = app_ui_icon_button ("go-next-symbolic", _ ("The next joint"),
                                   "→", NULL);
  bar->place = app_ui_label ("", "figures");
  app_verb_bar_add (bar->steps, bar->before);
  app_verb_bar_add (bar->steps, bar->place);
  app_verb_bar_add (bar->steps, bar->after);
  app_verb_bar_add (box, bar->title);
  app_verb_bar_add (box, bar->angle);
  app_verb_bar_add (box, bar->length);
  app_verb_bar_add (box, bar->steps);
  app_verb_bar_add_leave (box, GTK_BOX (bar), G_CALLBACK (on_leave));
  g_signal_connect_swapped (bar->before, "clicked", G_CALLBACK (on_before),
                            bar);
  g_signal_connect_swapped (bar->after, "clicked", G_CALLBACK (on_after), bar);
  return box;
}

static GtkWidget *
make_verbs (AppTrueBar *bar)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  bar->blend = toggle (
      _ ("Blend"), _ ("One fair curve over the seam, which keeps its length"),
      "B");
  bar->reach = app_field_new (APP_FIELD_LENGTH, _ ("Reach of the blend"));
  app_field_set_range (APP_FIELD (bar->reach), 1, 5000);
  gtk_editable_set_width_chars (
      GTK_EDITABLE (app_field_get_entry (APP_FIELD (bar->reach))), 8);
  gtk_widget_set_hexpand (bar->reach, FALSE);
  gtk_widget_set_tooltip_text (
      bar->reach, _ ("How far the blend reaches on either side of the seam"));
  bar->all = gtk_check_button_new_with_label (_ ("All joints"));
  app_ui_tip (bar->all, _ ("Blend every joint of the line"), "A");
  bar->square = app_ui_text_button (
      _ ("Square to the fold"),
      _ ("Make the line leave the fold square, over the same reach (Q)"));
  bar->comb
      = toggle (_ ("Curvature"),
                _ ("Show how strongly the line bends, as teeth on it"), "C");
  bar->done = app_ui_text_button (
      _ ("Make it so"), _ ("Put the line back into every piece (Enter)"));
  gtk_widget_add_css_class (bar->done, "suggested-action");
  gtk_widget_set_hexpand (bar->comb, TRUE);
  gtk_widget_set_halign (bar->comb, GTK_ALIGN_START);
  GtkWidget *parts[]
      = { bar->blend, bar->reach, bar->all, bar->square, bar->comb, bar->done };
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    app_verb_bar_add (box, parts[i]);
  g_signal_connect_swapped (bar->blend, "toggled", G_CALLBACK (on_blend), bar);
  g_signal_connect (bar->reach, "entered", G_CALLBACK (on_reach), bar);
  GtkEntry *entry = app_field_get_entry (APP_FIELD (bar->reach));
  g_signal_connect (entry, "changed", G_CALLBACK (on_typed), bar);
  g_signal_connect_object (entry, "activate", G_CALLBACK (on_activate), bar,
                           G_CONNECT_SWAPPED | G_CONNECT_AFTER);
  g_signal_connect_swapped (bar->all, "toggled", G_CALLBACK (on_all), bar);
  g_signal_connect_swapped (bar->square, "clicked", G_CALLBACK (on_square),
                            bar);
  g_signal_connect_swapped (bar->comb, "toggled", G_CALLBACK (on_comb), bar);
  g_signal_connect_swapped (bar->done, "clicked", G_CALLBACK (on_done), bar);
  return box;
}

static void
app_true_bar_dispose (GObject *object)
{
  AppTrueBar *bar = APP_TRUE_BAR (object);
  g_clear_object (&bar->session);
  G_OBJECT_CLASS (app_true_bar_parent_class)->dispose (object);
}

static void
app_true_bar_class_init (AppTrueBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_true_bar_dispose;
}

static void
app_true_bar_init (AppTrueBar *bar)
{
  GtkWidget *heading = make_heading (bar);
  bar->trouble = app_verb_bar_fill (GTK_BOX (bar), _ ("Truing"), heading,
                                    make_verbs (bar));
}

GtkWidget *
app_true_bar_new (AppSession *session, AppCanvas *canvas)
{
  AppTrueBar *bar = g_object_new (APP_TYPE_TRUE_BAR, NULL);
  bar->session = g_object_ref (session);
  bar->canvas = canvas;
  app_verb_bar_follow (GTK_BOX (bar), session, canvas, G_CALLBACK (update));
  return GTK_WIDGET (bar);
}
