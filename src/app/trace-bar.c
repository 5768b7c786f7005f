/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/trace-bar.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/field.h"
#include "app/trace-jobs.h"
#include "app/ui.h"

enum
{
  N_BY = APP_TRACING_BY_FILE + 1
};

struct _AppTraceBar
{
  GtkBox parent;
  AppSession *session;
  AppTraceJobs *jobs;
  gboolean updating;
  GtkWidget *stages[3], *name;
  GtkWidget *says, *back, *on;
  GtkWidget *stack, *wait, *progress, *cancel;
  GtkWidget *trouble;
  /* True size. */
  GtkWidget *by[N_BY], *paper, *width, *times, *height, *distance, *residual;
  GtkWidget *doubt, *swap;
  /* Outline. */
  GtkWidget *what, *level_name, *level, *tolerance, *holes, *darts, *by_hand;
};

G_DEFINE_FINAL_TYPE (AppTraceBar, app_trace_bar, GTK_TYPE_BOX)

static AppTracing *
tracing_of (AppTraceBar *bar)
{
  return bar->session != NULL ? app_tracing_get (bar->session) : NULL;
}

static void
to_table (AppTraceBar *bar)
{
  gtk_widget_activate_action (GTK_WIDGET (bar), "win.table", NULL);
}

/* --- showing -------------------------------------------------------------------------- */

static void
show_stages (AppTraceBar *bar, AppTracing *t)
{
  int at = app_tracing_get_stage (t) == APP_TRACING_OUTLINE ? 1 : 0;
  for (int i = 0; i < 3; i++)
    {
      if (i == at)
        gtk_widget_add_css_class (bar->stages[i], "now");
      else
        gtk_widget_remove_css_class (bar->stages[i], "now");
      if (i < at)
        gtk_widget_add_css_class (bar->stages[i], "past");
      else
        gtk_widget_remove_css_class (bar->stages[i], "past");
    }
}

static void
show_size (AppTraceBar *bar, AppTracing *t)
{
  double dots;
  AppTracingBy by = app_tracing_get_by (t);
  gboolean sheet = by == APP_TRACING_BY_SHEET;
  gboolean other = app_tracing_get_paper (t) == APP_TRACING_OTHER;
  PatternUnit unit = app_session_get_pattern (bar->session)->unit;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (bar->by[by]), TRUE);
  gtk_widget_set_visible (bar->by[APP_TRACING_BY_FILE],
                          app_tracing_has_dots (t, &dots));
  gtk_widget_set_visible (bar->paper, sheet);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (bar->paper),
                              (guint)app_tracing_get_paper (t));
  GtkWidget *const sides[] = { bar->width, bar->times, bar->height };
  for (guint i = 0; i < G_N_ELEMENTS (sides); i++)
    gtk_widget_set_visible (sides[i], sheet && other);
  app_field_set_unit (APP_FIELD (bar->width), unit);
  app_field_set_unit (APP_FIELD (bar->height), unit);
  app_field_set_unit (APP_FIELD (bar->distance), unit);
  app_field_set_value (APP_FIELD (bar->width), app_tracing_get_width (t));
  app_field_set_value (APP_FIELD (bar->height), app_tracing_get_height (t));
  gtk_widget_set_visible (bar->distance, by == APP_TRACING_BY_DISTANCE);
  if (app_tracing_get_distance (t) > 0)
    app_field_set_value (APP_FIELD (bar->distance),
                         app_tracing_get_distance (t));
  g_autofree char *residual = app_tracing_residual_words (t);
  app_ui_set_text (bar->residual, residual != NULL ? residual : "");
  g_autofree char *doubt = app_tracing_doubt_words (t);
  app_ui_set_text (bar->doubt, doubt != NULL ? doubt : "");
  gtk_widget_set_visible (bar->doubt, doubt != NULL);
  gtk_widget_set_visible (bar->residual, doubt == NULL);
  gtk_widget_set_visible (bar->swap, sheet && app_tracing_n_handles (t) == 4);
}

static void
show_outline (AppTraceBar *bar, AppTracing *t)
{
  guint darts = app_tracing_n_darts (t);
  PatternUnit unit = app_session_get_pattern (bar->session)->unit;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (bar->what),
                              (guint)app_tracing_get_what (t));
  gtk_range_set_value (GTK_RANGE (bar->level), app_tracing_get_level (t));
  gboolean drawn = app_tracing_get_what (t) == APP_TRACING_DRAWN;
  gtk_widget_set_visible (bar->level, !drawn);
  gtk_widget_set_visible (bar->level_name, !drawn);
  gtk_widget_set_visible (bar->holes, !drawn);
  app_field_set_unit (APP_FIELD (bar->tolerance),
                      unit == PATTERN_CM ? PATTERN_MM : unit);
  app_field_set_value (APP_FIELD (bar->tolerance),
                       app_tracing_get_tolerance (t));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (bar->holes),
                               app_tracing_get_holes (t));
  g_autofree char *words
      = g_strdup_printf (ngettext ("%u dart mouth: make it a dart",
                                   "%u dart mouths: make them darts", darts),
                         darts);
  gtk_check_button_set_label (GTK_CHECK_BUTTON (bar->darts), words);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (bar->darts),
                               app_tracing_get_darts (t));
  gtk_widget_set_visible (bar->darts, darts > 0);
}

static void
show_going_on (AppTraceBar *bar, AppTracing *t)
{
  gboolean outline = app_tracing_get_stage (t) == APP_TRACING_OUTLINE;
  guint n = outline ? app_tracing_n_taken (t) : 0;
  g_autofree char *lay
      = n == 0 ? g_strdup (_ ("Lay the pieces"))
               : g_strdup_printf (ngettext ("Lay %u piece", "Lay %u pieces", n),
                                  n);
  gtk_button_set_label (GTK_BUTTON (bar->on), outline ? lay : _ ("Go on"));
  gtk_widget_set_sensitive (bar->on, app_tracing_can_go_on (t));
  gtk_widget_set_visible (bar->on,
                          app_tracing_get_stage (t) != APP_TRACING_READING);
  gtk_widget_set_visible (bar->back, outline);
}

static void
show_work (AppTraceBar *bar)
{
  double share = -1;
  const char *words = app_trace_jobs_get_words (bar->jobs, &share);
  gtk_widget_set_visible (bar->wait, words != NULL);
  if (words == NULL)
    return;
  GtkProgressBar *progress = GTK_PROGRESS_BAR (bar->progress);
  gtk_progress_bar_set_text (progress, words);
  if (share >= 0)
    gtk_progress_bar_set_fraction (progress, fmin (share, 1));
  else
    gtk_progress_bar_pulse (progress);
}

static void
show (AppTraceBar *bar, AppTracing *t)
{
  static const char *const pages[] = { "reading", "size", "outline" };
  const char *trouble = app_tracing_get_trouble (t);
  bar->updating = TRUE;
  show_stages (bar, t);
  app_ui_set_text (bar->name, app_tracing_get_name (t));
  app_ui_set_text (bar->says, app_tracing_says (t));
  gtk_stack_set_visible_child_name (GTK_STACK (bar->stack),
                                    pages[app_tracing_get_stage (t)]);
  if (app_tracing_get_stage (t) == APP_TRACING_SIZE)
    show_size (bar, t);
  else if (app_tracing_get_stage (t) == APP_TRACING_OUTLINE)
    show_outline (bar, t);
  show_going_on (bar, t);
  app_ui_set_text (bar->trouble, trouble != NULL ? trouble : "");
  gtk_widget_set_visible (bar->trouble, trouble != NULL);
  bar->updating = FALSE;
}

static void
update (AppTraceBar *bar)
{
  AppTracing *t = tracing_of (bar);
  gtk_widget_set_visible (GTK_WIDGET (bar), t != NULL);
  if (t != NULL)
    show (bar, t);
  show_work (bar);
}

/* --- doing -------------------------------------------------------------------------------- */

static AppTracing *
told (AppTraceBar *bar)
{
  return bar->updating ? NULL : tracing_of (bar);
}

static void
on_by (GtkToggleButton *button, AppTraceBar *bar)
{
  AppTracing *t = told (bar);
  if (t == NULL || !gtk_toggle_button_get_active (button))
    return;
  for (int i = 0; i < N_BY; i++)
    if (bar->by[i] == GTK_WIDGET (button))
      app_tracing_set_by (t, (AppTracingBy)i);
  to_table (bar);
}

static void
on_paper (AppTraceBar *bar)
{
  AppTracing *t = told (bar);
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (bar->paper));
  if (t == NULL || i > APP_TRACING_OTHER)
    return;
  app_tracing_set_paper (t, (AppTracingPaper)i);
  if (i == APP_TRACING_OTHER)
    gtk_widget_grab_focus (
        GTK_WIDGET (app_field_get_entry (APP_FIELD (bar->width))));
  else
    to_table (bar);
}

static void
on_sides (AppTraceBar *bar)
{
  AppTracing *t = told (bar);
  if (t != NULL)
    app_tracing_set_sides (t, app_field_get_value (APP_FIELD (bar->width)),
                           app_field_get_value (APP_FIELD (bar->height)));
}

static void
on_swap (AppTraceBar *bar)
{
  AppTracing *t = told (bar);
  if (t == NULL)
    return;
  app_tracing_swap_sides (t);
  to_table (bar);
}

static void
on_distance (AppTraceBar *bar)
{
  AppTracing *t = told (bar);
  if (t != NULL)
    app_tracing_set_distance (t,
                              app_field_get_value (APP_FIELD (bar->distance)));
}

static void
on_what (AppTraceBar *bar)
{
  AppTracing *t = told (bar);
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (bar->what));
  if (t == NULL || i > APP_TRACING_DRAWN)
    return;
  app_tracing_set_what (t, (AppTracingWhat)i);
  to_table (bar);
}

static void
on_level (AppTraceBar *bar)
{
  AppTracing *t = told (bar);
  if (t != NULL)
    app_tracing_set_level (t, gtk_range_get_value (GTK_RANGE (bar->level)));
}

static void
on_tolerance (AppTraceBar *bar)
{
  AppTracing *t = told (bar);
  if (t != NULL)
    app_tracing_set_tolerance (
        t, app_field_get_value (APP_FIELD (bar->tolerance)));
}

static void
on_holes (AppTraceBar *bar)
{
  AppTracing *t = told (bar);
  if (t != NULL)
    app_tracing_set_holes (
        t, gtk_check_button_get_active (GTK_CHECK_BUTTON (bar->holes)));
}

static void
on_darts (AppTraceBar *bar)
{
  AppTracing *t = told (bar);
  if (t != NULL)
    app_tracing_set_darts (
        t, gtk_check_button_get_active (GTK_CHECK_BUTTON (bar->darts)));
}

static void
go_on (AppTraceBar *bar)
{
  AppTracing *t = tracing_of (bar);
  if (t == NULL)
    return;
  to_table (bar);
  app_tracing_go_on (t);
}

static void
go_back (AppTraceBar *bar)
{
  AppTracing *t = tracing_of (bar);
  if (t == NULL)
    return;
  to_table (bar);
  app_tracing_go_back (t);
}

static void
leave (AppTraceBar *bar)
{
  to_table (bar);
  app_tracing_put_aside (bar->session);
}

/* Entered, the next Enter is the table's, which goes on. */
static void
on_activate (AppTraceBar *bar)
{
  to_table (bar);
}

static gboolean
on_key (AppTraceBar *bar, guint key)
{
  AppTracing *t = tracing_of (bar);
  if (key != GDK_KEY_Escape || t == NULL)
    return FALSE;
  to_table (bar);
  return TRUE;
}

void
app_trace_bar_type (AppTraceBar *bar, const char *text)
{
  AppTracing *t = tracing_of (bar);
  GtkWidget *field = NULL;
  if (t == NULL || app_tracing_get_stage (t) != APP_TRACING_SIZE)
    return;
  if (app_tracing_get_by (t) == APP_TRACING_BY_DISTANCE)
    field = bar->distance;
  else if (app_tracing_get_by (t) == APP_TRACING_BY_SHEET
           && app_tracing_get_paper (t) == APP_TRACING_OTHER)
    field = bar->width;
  if (field == NULL)
    return;
  GtkEditable *entry = GTK_EDITABLE (app_field_get_entry (APP_FIELD (field)));
  gtk_widget_grab_focus (GTK_WIDGET (entry));
  gtk_editable_set_text (entry, text);
  gtk_editable_set_position (entry, -1);
}

/* --- making it -------------------------------------------------------------------------------- */

static GtkWidget *
make_stage (const char *number, const char *words)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_add_css_class (box, "stage");
  GtkWidget *ring = app_ui_label (number, "stage-number");
  gtk_widget_set_valign (ring, GTK_ALIGN_CENTER);
  gtk_label_set_xalign (GTK_LABEL (ring), 0.5F);
  gtk_box_append (GTK_BOX (box), ring);
  gtk_box_append (GTK_BOX (box), app_ui_label (words, NULL));
  return box;
}

static void
make_head (AppTraceBar *bar)
{
  const char *const words[]
      = { _ ("True size"), _ ("Outline"), _ ("Lay the pieces") };
  const char *const numbers[] = { "1", "2", "3" };
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  for (int i = 0; i < 3; i++)
    {
      if (i > 0)
        {
          GtkWidget *line = gtk_separator_new (GTK_ORIENTATION_HORIZONTAL);
          gtk_widget_set_size_request (line, 24, -1);
          gtk_widget_set_valign (line, GTK_ALIGN_CENTER);
          gtk_box_append (GTK_BOX (row), line);
        }
      bar->stages[i] = make_stage (numbers[i], words[i]);
      gtk_box_append (GTK_BOX (row), bar->stages[i]);
    }
  bar->name = app_ui_label ("", "dim");
  gtk_label_set_ellipsize (GTK_LABEL (bar->name), PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_xalign (GTK_LABEL (bar->name), 1);
  gtk_widget_set_hexpand (bar->name, TRUE);
  gtk_box_append (GTK_BOX (row), bar->name);
  GtkWidget *close = app_ui_icon_button (
      "window-close-symbolic", _ ("Put the picture aside"), NULL, NULL);
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (leave), bar);
  gtk_box_append (GTK_BOX (row), close);
  gtk_box_append (GTK_BOX (bar), row);
}

static void
make_sentence (AppTraceBar *bar)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  bar->says = app_ui_label ("", "says");
  gtk_label_set_wrap (GTK_LABEL (bar->says), TRUE);
  gtk_label_set_xalign (GTK_LABEL (bar->says), 0);
  gtk_widget_set_hexpand (bar->says, TRUE);
  gtk_box_append (GTK_BOX (row), bar->says);
  bar->wait = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  bar->progress = gtk_progress_bar_new ();
  gtk_progress_bar_set_show_text (GTK_PROGRESS_BAR (bar->progress), TRUE);
  gtk_widget_set_size_request (bar->progress, 220, -1);
  gtk_widget_set_valign (bar->progress, GTK_ALIGN_CENTER);
  app_ui_name (bar->progress, _ ("How far it has come"));
  bar->cancel = app_ui_text_button (_ ("Cancel"), _ ("Leave this off"));
  gtk_widget_set_valign (bar->cancel, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (bar->wait), bar->progress);
  gtk_box_append (GTK_BOX (bar->wait), bar->cancel);
  gtk_box_append (GTK_BOX (row), bar->wait);
  bar->back = app_ui_text_button (_ ("Back"),
                                  _ ("Back to true size; nothing set is lost "
                                     "(Escape)"));
  bar->on = app_ui_text_button (_ ("Go on"), _ ("Go on (Enter)"));
  gtk_widget_add_css_class (bar->on, "suggested-action");
  GtkWidget *const buttons[] = { bar->back, bar->on };
  for (guint i = 0; i < G_N_ELEMENTS (buttons); i++)
    {
      gtk_widget_set_valign (buttons[i], GTK_ALIGN_CENTER);
      gtk_box_append (GTK_BOX (row), buttons[i]);
    }
  g_signal_connect_swapped (bar->back, "clicked", G_CALLBACK (go_back), bar);
  g_signal_connect_swapped (bar->on, "clicked", G_CALLBACK (go_on), bar);
  gtk_box_append (GTK_BOX (bar), row);
}

static GtkWidget *
make_length (AppTraceBar *bar, const char *name, double least,
             GCallback entered)
{
  GtkWidget *field = app_field_new (APP_FIELD_LENGTH, name);
  app_field_set_range (APP_FIELD (field), least, 100000);
  GtkEntry *entry = app_field_get_entry (APP_FIELD (field));
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 9);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 11);
  gtk_widget_set_hexpand (field, FALSE);
  gtk_widget_set_tooltip_text (field, name);
  g_signal_connect_swapped (field, "entered", entered, bar);
  g_signal_connect_object (entry, "activate", G_CALLBACK (on_activate), bar,
                           G_CONNECT_SWAPPED | G_CONNECT_AFTER);
  return field;
}

static void
add_all (GtkWidget *row, GtkWidget *const *parts, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      gtk_widget_set_valign (parts[i], GTK_ALIGN_CENTER);
      gtk_box_append (GTK_BOX (row), parts[i]);
    }
}

static GtkWidget *
make_by (AppTraceBar *bar)
{
  const char *const words[]
      = { _ ("Sheet in the picture"), _ ("Two places"), _ ("The file’s own") };
  const char *const tips[]
      = { _ ("A sheet of paper, or another rectangle of known sides, lies in "
             "the picture: this takes the slant out too"),
          _ ("The distance of two places is known; for a picture taken "
             "squarely from above"),
          _ ("A scanner wrote its resolution into the file") };
  GtkWidget *linked = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (linked, "linked");
  for (int i = 0; i < N_BY; i++)
    {
      bar->by[i] = gtk_toggle_button_new_with_label (words[i]);
      gtk_widget_set_tooltip_text (bar->by[i], tips[i]);
      if (i > 0)
        gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (bar->by[i]),
                                     GTK_TOGGLE_BUTTON (bar->by[0]));
      g_signal_connect (bar->by[i], "toggled", G_CALLBACK (on_by), bar);
      gtk_box_append (GTK_BOX (linked), bar->by[i]);
    }
  return linked;
}

static GtkWidget *
make_size (AppTraceBar *bar)
{
  const char *const papers[]
      = { _ ("A4, 210 × 297 mm"), _ ("Letter, 8½ × 11 in"), _ ("Other sides"),
          NULL };
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *by = make_by (bar);
  bar->paper = app_ui_drop_down (papers, _ ("The sheet"));
  bar->width
      = make_length (bar, _ ("Its first side"), 1, G_CALLBACK (on_sides));
  bar->times = app_ui_label ("×", NULL);
  bar->height
      = make_length (bar, _ ("Its second side"), 1, G_CALLBACK (on_sides));
  bar->distance = make_length (bar, _ ("How far apart they are"), 0.1,
                               G_CALLBACK (on_distance));
  bar->residual = app_ui_label ("", "figures");
  bar->doubt = app_ui_paragraph ("", "out");
  gtk_label_set_max_width_chars (GTK_LABEL (bar->doubt), 56);
  gtk_widget_set_hexpand (bar->doubt, TRUE);
  bar->swap = app_ui_text_button (_ ("Swap the sides"),
                                  _ ("The side marked as the first becomes "
                                     "the second"));
  gtk_widget_set_hexpand (bar->residual, TRUE);
  gtk_label_set_xalign (GTK_LABEL (bar->residual), 0);
  GtkWidget *const parts[]
      = { by,          bar->paper,    bar->width,    bar->times,
          bar->height, bar->distance, bar->residual, bar->doubt,
          bar->swap };
  add_all (row, parts, G_N_ELEMENTS (parts));
  g_signal_connect_swapped (bar->paper, "notify::selected",
                            G_CALLBACK (on_paper), bar);
  g_signal_connect_swapped (bar->swap, "clicked", G_CALLBACK (on_swap), bar);
  return row;
}

static GtkWidget *
make_level (AppTraceBar *bar)
{
  bar->level
      = gtk_scale_new_with_range (GTK_ORIENTATION_HORIZONTAL, 0, 1, 0.005);
  gtk_scale_set_draw_value (GTK_SCALE (bar->level), FALSE);
  gtk_widget_set_size_request (bar->level, 150, -1);
  gtk_widget_set_tooltip_text (
      bar->level, _ ("Where piece ends and table begins; the tint shows what "
                     "would be piece"));
  app_ui_name (bar->level, _ ("Level between table and piece"));
  g_signal_connect_swapped (bar->level, "value-changed", G_CALLBACK (on_level),
                            bar);
  return bar->level;
}

static GtkWidget *
make_outline (AppTraceBar *bar)
{
  const char *const whats[]
      = { _ ("Card on a table"),  _ ("Light card"),           _ ("Dark card"),
          _ ("A colour I click"), _ ("Lines drawn on paper"), NULL };
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  bar->what = app_ui_drop_down (whats, _ ("What is followed"));
  bar->level_name = app_ui_label (_ ("Level"), "dim");
  GtkWidget *level = make_level (bar);
  GtkWidget *within = app_ui_label (_ ("within"), "dim");
  bar->tolerance = make_length (bar,
                                _ ("How near the curves keep to the "
                                   "picture"),
                                0.05, G_CALLBACK (on_tolerance));
  gtk_editable_set_width_chars (
      GTK_EDITABLE (app_field_get_entry (APP_FIELD (bar->tolerance))), 7);
  bar->holes = gtk_check_button_new_with_label (_ ("Keep holes"));
  bar->darts = gtk_check_button_new_with_label ("");
  bar->by_hand = app_ui_text_button (
      _ ("Follow by hand…"),
      _ ("Lay the picture at true size and follow its lines yourself"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (bar->by_hand),
                                  "win.trace-by-hand");
  gtk_widget_set_hexpand (bar->darts, TRUE);
  gtk_widget_set_halign (bar->by_hand, GTK_ALIGN_END);
  gtk_widget_set_hexpand (bar->by_hand, TRUE);
  GtkWidget *const parts[]
      = { bar->what,      bar->level_name, level,      within,
          bar->tolerance, bar->holes,      bar->darts, bar->by_hand };
  add_all (row, parts, G_N_ELEMENTS (parts));
  g_signal_connect_swapped (bar->what, "notify::selected", G_CALLBACK (on_what),
                            bar);
  g_signal_connect_swapped (bar->holes, "toggled", G_CALLBACK (on_holes), bar);
  g_signal_connect_swapped (bar->darts, "toggled", G_CALLBACK (on_darts), bar);
  return row;
}

static void
on_cancel (AppTraceBar *bar)
{
  to_table (bar);
  app_trace_jobs_cancel (bar->jobs);
}

static void
app_trace_bar_dispose (GObject *object)
{
  AppTraceBar *bar = APP_TRACE_BAR (object);
  if (bar->session != NULL)
    g_signal_handlers_disconnect_by_data (bar->session, bar);
  if (bar->jobs != NULL)
    {
      g_signal_handlers_disconnect_by_data (bar->jobs, bar);
      app_trace_jobs_stop (bar->jobs);
    }
  g_clear_object (&bar->jobs);
  g_clear_object (&bar->session);
  G_OBJECT_CLASS (app_trace_bar_parent_class)->dispose (object);
}

static void
app_trace_bar_class_init (AppTraceBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_trace_bar_dispose;
}

static void
app_trace_bar_init (AppTraceBar *bar)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (bar),
                                  GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (bar), 8);
  gtk_widget_add_css_class (GTK_WIDGET (bar), "amount-bar");
  gtk_widget_add_css_class (GTK_WIDGET (bar), "trace-bar");
  app_ui_name (GTK_WIDGET (bar), _ ("Tracing"));
  make_head (bar);
  make_sentence (bar);
  bar->stack = gtk_stack_new ();
  gtk_stack_set_vhomogeneous (GTK_STACK (bar->stack), TRUE);
  gtk_stack_set_hhomogeneous (GTK_STACK (bar->stack), FALSE);
  gtk_stack_add_named (GTK_STACK (bar->stack),
                       gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), "reading");
  gtk_stack_add_named (GTK_STACK (bar->stack), make_size (bar), "size");
  gtk_stack_add_named (GTK_STACK (bar->stack), make_outline (bar), "outline");
  gtk_box_append (GTK_BOX (bar), bar->stack);
  bar->trouble = app_ui_paragraph ("", "out");
  gtk_widget_set_visible (bar->trouble, FALSE);
  gtk_box_append (GTK_BOX (bar), bar->trouble);
  g_signal_connect_swapped (bar->cancel, "clicked", G_CALLBACK (on_cancel),
                            bar);
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), bar);
  gtk_widget_add_controller (GTK_WIDGET (bar), keys);
}

GtkWidget *
app_trace_bar_new (AppSession *session)
{
  AppTraceBar *bar = g_object_new (APP_TYPE_TRACE_BAR, NULL);
  bar->session = g_object_ref (session);
  bar->jobs = app_trace_jobs_new (session);
  g_signal_connect_swapped (session, "tracing-changed", G_CALLBACK (update),
                            bar);
  g_signal_connect_swapped (bar->jobs, "changed", G_CALLBACK (show_work), bar);
  update (bar);
  return GTK_WIDGET (bar);
}
