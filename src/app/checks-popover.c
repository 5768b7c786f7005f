/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/checks-popover.h"

#include <glib/gi18n.h>

#include "app/palette.h"
#include "app/ui.h"

#define LIST_WIDTH_PX 420
#define LIST_MOST_HEIGHT_PX 460

struct _AppChecksButton
{
  GtkBox parent;
  AppSession *session;
  GtkWidget *button, *count, *pin, *popover, *scroller, *list, *summary;
  char *key; /* of what the list shows */
  gboolean dark;
};

G_DEFINE_FINAL_TYPE (AppChecksButton, app_checks_button, GTK_TYPE_BOX)

static const SewingFinding *
finding_of (AppChecksButton *checks, gpointer widget)
{
  const char *key = g_object_get_data (G_OBJECT (widget), "key");
  const GPtrArray *all = app_session_get_findings (checks->session);
  for (guint i = 0; key != NULL && i < all->len; i++)
    {
      const SewingFinding *finding = g_ptr_array_index (all, i);
      if (g_str_equal (finding->key, key))
        return finding;
    }
  return NULL;
}

static void
remember_key (GtkWidget *widget, const SewingFinding *finding)
{
  g_object_set_data_full (G_OBJECT (widget), "key", g_strdup (finding->key),
                          g_free);
}

/* --- pins --------------------------------------------------------------------- */

/* The pin's head as it is on the table: told apart by shape and colour. */
static void
paint_pin (GtkDrawingArea *area, cairo_t *cr, int width, int height,
           gpointer data)
{
  int what = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (area), "pin"));
  AppChecksButton *checks = data;
  const AppPalette *colours = app_palette (checks->dark);
  double x = width / 2.0, y = height / 2.0, r = 5.5;
  if (what == 0)
    {
      cairo_arc (cr, x, y, r, 0, 2 * G_PI);
      app_colour (cr, colours->pin_mend);
      cairo_fill (cr);
    }
  else if (what == 1)
    {
      cairo_rectangle (cr, x - r + 0.5, y - r + 0.5, 2 * r - 1, 2 * r - 1);
      app_colour (cr, colours->pin_look);
      cairo_fill (cr);
    }
  else
    {
      cairo_arc (cr, x, y, r - 1, 0, 2 * G_PI);
      app_colour (cr, colours->pin_aside);
      cairo_set_line_width (cr, 2);
      cairo_stroke (cr);
    }
}

static int
pin_of (const SewingFinding *finding)
{
  return finding->set_aside ? 2 : finding->weight == SEWING_MEND ? 0 : 1;
}

static GtkWidget *
make_pin (AppChecksButton *checks, int what)
{
  const char *const names[]
      = { _ ("To mend"), _ ("Worth a look"), _ ("Set aside") };
  GtkWidget *pin = gtk_drawing_area_new ();
  gtk_widget_set_size_request (pin, 16, 16);
  gtk_widget_set_valign (pin, GTK_ALIGN_START);
  g_object_set_data (G_OBJECT (pin), "pin", GINT_TO_POINTER (what));
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (pin), paint_pin, checks,
                                  NULL);
  gtk_widget_set_tooltip_text (pin, names[what]);
  app_ui_name (pin, names[what]);
  return pin;
}

/* --- what a row can do ------------------------------------------------------------- */

static void
on_row_activated (AppChecksButton *checks, GtkListBoxRow *row)
{
  const SewingFinding *finding = finding_of (checks, row);
  if (finding != NULL)
    app_session_pick_finding (checks->session, finding);
}

static void
on_mend (GtkButton *button, AppChecksButton *checks)
{
  app_session_cancel (checks->session);
  const SewingFinding *finding = finding_of (checks, button);
  if (finding == NULL)
    return;
  app_session_pick_finding (checks->session, finding);
  finding = finding_of (checks, button);
  if (finding != NULL)
    app_session_mend (checks->session, finding);
}

/* While the mend is shown the findings are those of the mended pattern; the list
 * waits until the pointer leaves. */
static void
on_mend_enter (GtkEventController *motion, double x, double y,
               AppChecksButton *checks)
{
  (void)x;
  (void)y;
  if (app_session_is_previewing (checks->session))
    return;
  const SewingFinding *finding
      = finding_of (checks, gtk_event_controller_get_widget (motion));
  if (finding == NULL)
    return;
  GError *error = NULL;
  Pattern *p = drafting_mend (app_session_get_pattern (checks->session),
                              &finding->remedy, &error);
  app_session_preview (checks->session, p, &error);
}

static void
on_mend_leave (AppChecksButton *checks)
{
  app_session_cancel (checks->session);
}

static void
set_aside (AppChecksButton *checks, gpointer widget, const char *note)
{
  const SewingFinding *finding = finding_of (checks, widget);
  if (finding == NULL)
    return;
  GError *error = NULL;
  Pattern *p = drafting_set_aside (app_session_get_pattern (checks->session),
                                   finding->key, note, &error);
  app_session_do (checks->session, _ ("set a finding aside"), NULL, p, &error);
}

static void
on_aside_entered (GtkEntry *entry, AppChecksButton *checks)
{
  g_autofree char *note
      = g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry)));
  set_aside (checks, entry, g_strstrip (note));
}

static void fit_list (AppChecksButton *checks);

static void
on_aside (GtkButton *button, AppChecksButton *checks)
{
  GtkWidget *entry = g_object_get_data (G_OBJECT (button), "entry");
  gtk_widget_set_visible (entry, TRUE);
  fit_list (checks);
  gtk_widget_grab_focus (entry);
}

static void
on_take_up (GtkButton *button, AppChecksButton *checks)
{
  const SewingFinding *finding = finding_of (checks, button);
  if (finding == NULL)
    return;
  GError *error = NULL;
  Pattern *p = drafting_take_up (app_session_get_pattern (checks->session),
                                 finding->key, &error);
  app_session_do (checks->session, _ ("take a finding up again"), NULL, p,
                  &error);
}

/* --- rows ---------------------------------------------------------------------- */

static GtkWidget *
make_mend (AppChecksButton *checks, const SewingFinding *finding)
{
  const char *label
      = finding->remedy.label != NULL ? finding->remedy.label : _ ("Mend");
  GtkWidget *button = gtk_button_new ();
  GtkWidget *text = app_ui_paragraph (label, NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (text), 34);
  gtk_button_set_child (GTK_BUTTON (button), text);
  gtk_widget_add_css_class (button, "mend");
  app_ui_name (button, label);
  remember_key (button, finding);
  g_signal_connect (button, "clicked", G_CALLBACK (on_mend), checks);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  g_signal_connect (motion, "enter", G_CALLBACK (on_mend_enter), checks);
  g_signal_connect_swapped (motion, "leave", G_CALLBACK (on_mend_leave),
                            checks);
  gtk_widget_add_controller (button, motion);
  return button;
}

static GtkWidget *
make_aside (AppChecksButton *checks, const SewingFinding *finding,
            GtkWidget *words)
{
  GtkWidget *button = gtk_button_new_with_label (
      finding->set_aside ? _ ("Take up again") : _ ("Set aside…"));
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  remember_key (button, finding);
  if (finding->set_aside)
    {
      g_signal_connect (button, "clicked", G_CALLBACK (on_take_up), checks);
      return button;
    }
  GtkWidget *entry = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry),
                                  _ ("Why it is meant so, then Enter"));
  app_ui_name (entry, _ ("Why it is set aside"));
  gtk_widget_set_visible (entry, FALSE);
  remember_key (entry, finding);
  g_signal_connect (entry, "activate", G_CALLBACK (on_aside_entered), checks);
  gtk_box_append (GTK_BOX (words), entry);
  g_object_set_data (G_OBJECT (button), "entry", entry);
  g_signal_connect (button, "clicked", G_CALLBACK (on_aside), checks);
  return button;
}

static void
add_row (AppChecksButton *checks, const SewingFinding *finding)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (line), make_pin (checks, pin_of (finding)));
  gtk_box_append (GTK_BOX (line), words);
  GtkWidget *text
      = app_ui_paragraph (finding->text, finding->set_aside ? "dim" : NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (text), 44);
  gtk_box_append (GTK_BOX (words), text);
  if (finding->set_aside && finding->note != NULL && finding->note[0] != '\0')
    {
      g_autofree char *note
          = g_strdup_printf (_ ("Set aside: %s"), finding->note);
      gtk_box_append (GTK_BOX (words), app_ui_paragraph (note, "dim"));
    }
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  if (finding->remedy.kind != SEWING_REMEDY_NONE && !finding->set_aside)
    gtk_box_append (GTK_BOX (buttons), make_mend (checks, finding));
  gtk_box_append (GTK_BOX (words), buttons);
  gtk_box_append (GTK_BOX (buttons), make_aside (checks, finding, words));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), line);
  app_ui_name (row, finding->text);
  remember_key (row, finding);
  gtk_list_box_append (GTK_LIST_BOX (checks->list), row);
}

/* As high as the list, up to a limit: a scrolled window by itself does not know
 * how the sentences will wrap. */
static void
fit_list (AppChecksButton *checks)
{
  int height = 0;
  gtk_widget_measure (checks->list, GTK_ORIENTATION_VERTICAL, LIST_WIDTH_PX,
                      NULL, &height, NULL, NULL);
  gtk_scrolled_window_set_min_content_height (
      GTK_SCROLLED_WINDOW (checks->scroller),
      MIN (height, LIST_MOST_HEIGHT_PX));
}

static char *
list_key (const GPtrArray *findings)
{
  GString *key = g_string_new ("-");
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *f = g_ptr_array_index (findings, i);
      g_string_append_printf (key, "%s|%d|%s|%s\n", f->key, f->set_aside,
                              f->text, f->note != NULL ? f->note : "");
    }
  return g_string_free (key, FALSE);
}

static void
show_list (AppChecksButton *checks)
{
  const GPtrArray *findings = app_session_get_findings (checks->session);
  g_autofree char *key = list_key (findings);
  if (g_strcmp0 (key, checks->key) == 0)
    return;
  g_free (checks->key);
  checks->key = g_steal_pointer (&key);
  app_ui_clear (checks->list);
  for (guint i = 0; i < findings->len; i++)
    add_row (checks, g_ptr_array_index (findings, i));
  fit_list (checks);
}

static void
show_count (AppChecksButton *checks)
{
  const GPtrArray *findings = app_session_get_findings (checks->session);
  guint open = sewing_checks_open (findings);
  gboolean mend = FALSE;
  for (guint i = 0; i < findings->len; i++)
    mend |= pin_of (g_ptr_array_index (findings, i)) == 0;
  g_autofree char *count
      = open == 0
            ? g_strdup (_ ("No pins"))
            : g_strdup_printf (ngettext ("%u pin", "%u pins", open), open);
  app_ui_set_text (checks->count, count);
  g_object_set_data (G_OBJECT (checks->pin), "pin",
                     GINT_TO_POINTER (open == 0 ? 2
                                      : mend    ? 0
                                                : 1));
  gtk_widget_queue_draw (checks->pin);
  app_ui_name (checks->button, count);
  g_autofree char *summary
      = open == 0
            ? g_strdup (_ ("Nothing to mend: everything checked fits."))
            : g_strdup_printf (
                ngettext ("%u place wants your eye. Click it to go there.",
                          "%u places want your eye. Click one to go there.",
                          open),
                open);
  app_ui_set_text (checks->summary, summary);
}

static void
on_shown_changed (AppChecksButton *checks)
{
  show_count (checks);
  if (gtk_widget_get_visible (checks->popover)
      && !app_session_is_previewing (checks->session))
    show_list (checks);
}

void
app_checks_button_open (AppChecksButton *checks)
{
  gtk_menu_button_popup (GTK_MENU_BUTTON (checks->button));
}

void
app_checks_button_set_dark (AppChecksButton *checks, gboolean dark)
{
  checks->dark = dark;
  gtk_widget_queue_draw (checks->pin);
}

static void
app_checks_button_dispose (GObject *object)
{
  AppChecksButton *checks = APP_CHECKS_BUTTON (object);
  if (checks->session != NULL)
    g_signal_handlers_disconnect_by_data (checks->session, checks);
  G_OBJECT_CLASS (app_checks_button_parent_class)->dispose (object);
  g_clear_object (&checks->session);
}

static void
app_checks_button_finalize (GObject *object)
{
  g_free (APP_CHECKS_BUTTON (object)->key);
  G_OBJECT_CLASS (app_checks_button_parent_class)->finalize (object);
}

static void
app_checks_button_class_init (AppChecksButtonClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_checks_button_dispose;
  G_OBJECT_CLASS (klass)->finalize = app_checks_button_finalize;
}

static GtkWidget *
make_popover (AppChecksButton *checks)
{
  GtkWidget *popover = gtk_popover_new ();
  gtk_widget_add_css_class (popover, "checks");
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_size_request (box, LIST_WIDTH_PX, -1);
  checks->summary = app_ui_paragraph ("", "summary");
  gtk_box_append (GTK_BOX (box), checks->summary);
  checks->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (checks->scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  checks->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (checks->list),
                                   GTK_SELECTION_NONE);
  app_ui_name (checks->list, _ ("Findings"));
  g_signal_connect_swapped (checks->list, "row-activated",
                            G_CALLBACK (on_row_activated), checks);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (checks->scroller),
                                 checks->list);
  gtk_box_append (GTK_BOX (box), checks->scroller);
  gtk_popover_set_child (GTK_POPOVER (popover), box);
  g_signal_connect_swapped (popover, "show", G_CALLBACK (show_list), checks);
  return popover;
}

static void
app_checks_button_init (AppChecksButton *checks)
{
  checks->button = gtk_menu_button_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  checks->pin = make_pin (checks, 2);
  gtk_widget_set_valign (checks->pin, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (checks->pin, NULL);
  checks->count = app_ui_label ("", NULL);
  gtk_box_append (GTK_BOX (line), checks->pin);
  gtk_box_append (GTK_BOX (line), checks->count);
  gtk_menu_button_set_child (GTK_MENU_BUTTON (checks->button), line);
  gtk_widget_add_css_class (checks->button, "pins");
  gtk_widget_set_valign (checks->button, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (checks->button,
                               _ ("What is doubtful, and where (F8)"));
  checks->popover = make_popover (checks);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (checks->button),
                               checks->popover);
  gtk_box_append (GTK_BOX (checks), checks->button);
}

GtkWidget *
app_checks_button_new (AppSession *session)
{
  AppChecksButton *checks = g_object_new (APP_TYPE_CHECKS_BUTTON, NULL);
  checks->session = g_object_ref (session);
  g_signal_connect_swapped (session, "shown-changed",
                            G_CALLBACK (on_shown_changed), checks);
  show_count (checks);
  return GTK_WIDGET (checks);
}
