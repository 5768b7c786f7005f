/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/checks-popover.h"

#include <glib/gi18n.h>

#include "app/pin-head.h"
#include "app/ui.h"

#define LIST_WIDTH_PX 420
#define LIST_MOST_HEIGHT_PX 460

struct _AppChecksButton
{
  GtkBox parent;
  AppSession *session;
  GtkWidget *button, *count, *pin, *popover, *scroller, *list, *summary;
  GPtrArray *rows; /* Row, in the list's order */
  gboolean dark;
  gboolean mend_shown; /* what is previewed is a mend pointed at in the list */
  gboolean pressed;    /* a button is held down over the list, */
  gboolean stale;      /* which therefore waits to be brought up to date */
};

/* One finding's line, made once and then kept up to date in place: what is under the
 * pointer stays there. */
typedef struct
{
  char *key; /* the finding's */
  AppChecksButton *checks;
  GtkWidget *row, *pin, *text, *note;
  GtkWidget *mend, *mend_text, *others, *lay, *aside, *why;
} Row;

G_DEFINE_FINAL_TYPE (AppChecksButton, app_checks_button, GTK_TYPE_BOX)

static void
row_free (gpointer data)
{
  Row *row = data;
  g_free (row->key);
  g_free (row);
}

static const SewingFinding *
finding_of (const Row *row)
{
  const GPtrArray *all = app_session_get_findings (row->checks->session);
  for (guint i = 0; i < all->len; i++)
    {
      const SewingFinding *finding = g_ptr_array_index (all, i);
      if (g_str_equal (finding->key, row->key))
        return finding;
    }
  return NULL;
}

static AppPinHead
pin_of (const SewingFinding *finding)
{
  return finding->set_aside               ? APP_PIN_ASIDE
         : finding->weight == SEWING_MEND ? APP_PIN_MEND
                                          : APP_PIN_LOOK;
}

/* --- what a row can do ------------------------------------------------------------- */

static void fit_list (AppChecksButton *checks);

static void
on_row_activated (AppChecksButton *checks, GtkListBoxRow *widget)
{
  int index = gtk_list_box_row_get_index (widget);
  if (index < 0 || (guint)index >= checks->rows->len)
    return;
  const SewingFinding *finding
      = finding_of (g_ptr_array_index (checks->rows, index));
  if (finding != NULL)
    app_session_pick_finding (checks->session, finding);
}

static void
on_mend (GtkButton *button, Row *row)
{
  (void)button;
  AppSession *session = row->checks->session;
  app_session_cancel (session);
  const SewingFinding *finding = finding_of (row);
  if (finding == NULL)
    return;
  app_session_pick_finding (session, finding);
  finding = finding_of (row);
  if (finding != NULL)
    app_session_mend (session, finding);
}

/* A joint can be looked at as sewn, and trued there. */
static void
on_lay (GtkButton *button, Row *row)
{
  (void)button;
  AppSession *session = row->checks->session;
  app_session_cancel (session);
  const SewingFinding *finding = finding_of (row);
  if (finding == NULL)
    return;
  int end = g_str_has_suffix (finding->key, ":start") ? 0 : 1;
  app_session_pick_finding (session, finding);
  GtkWidget *checks = GTK_WIDGET (row->checks);
  gtk_popover_popdown (GTK_POPOVER (row->checks->popover));
  gtk_widget_activate_action (checks, "win.true-at", "i", end);
}

/* Another way, chosen from the menu. */
static void
on_other (GtkButton *button, Row *row)
{
  guint n = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "other"));
  AppSession *session = row->checks->session;
  gtk_menu_button_popdown (GTK_MENU_BUTTON (row->others));
  app_session_cancel (session);
  const SewingFinding *finding = finding_of (row);
  if (finding == NULL || n >= finding->n_others)
    return;
  app_session_pick_finding (session, finding);
  finding = finding_of (row);
  if (finding != NULL && n < finding->n_others)
    app_session_mend_by (session, &finding->others[n]);
}

/* While the mend is shown the findings are those of the mended pattern; the list
 * and the count stay as they are. */
static void
on_mend_enter (GtkEventController *motion, double x, double y, Row *row)
{
  (void)motion;
  (void)x;
  (void)y;
  AppChecksButton *checks = row->checks;
  if (app_session_is_previewing (checks->session))
    return;
  const SewingFinding *finding = finding_of (row);
  if (finding == NULL)
    return;
  GError *error = NULL;
  Pattern *p = drafting_mend (app_session_get_pattern (checks->session),
                              &finding->remedy, &error);
  checks->mend_shown = TRUE;
  app_session_preview (checks->session, p, &error);
}

static void
end_preview (AppChecksButton *checks)
{
  if (!checks->mend_shown)
    return;
  checks->mend_shown = FALSE;
  app_session_cancel (checks->session);
}

static void
on_aside_entered (GtkEntry *entry, Row *row)
{
  g_autofree char *note
      = g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry)));
  const SewingFinding *finding = finding_of (row);
  if (finding == NULL)
    return;
  AppSession *session = row->checks->session;
  GError *error = NULL;
  Pattern *p = drafting_set_aside (app_session_get_pattern (session),
                                   finding->key, g_strstrip (note), &error);
  app_session_do (session, _ ("set a finding aside"), NULL, p, &error);
}

static void
on_aside (GtkButton *button, Row *row)
{
  (void)button;
  AppSession *session = row->checks->session;
  const SewingFinding *finding = finding_of (row);
  if (finding == NULL)
    return;
  if (!finding->set_aside)
    {
      gtk_widget_set_visible (row->why, TRUE);
      fit_list (row->checks);
      gtk_widget_grab_focus (row->why);
      return;
    }
  GError *error = NULL;
  Pattern *p = drafting_take_up (app_session_get_pattern (session),
                                 finding->key, &error);
  app_session_do (session, _ ("take a finding up again"), NULL, p, &error);
}

/* --- rows ---------------------------------------------------------------------- */

static void
make_mend (Row *row, GtkWidget *buttons)
{
  row->mend = gtk_button_new ();
  row->mend_text = app_ui_paragraph ("", NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (row->mend_text), 34);
  gtk_button_set_child (GTK_BUTTON (row->mend), row->mend_text);
  gtk_widget_add_css_class (row->mend, "mend");
  /* A focus taken on the press would scroll the list from under the pointer. */
  gtk_widget_set_focus_on_click (row->mend, FALSE);
  g_signal_connect (row->mend, "clicked", G_CALLBACK (on_mend), row);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  g_signal_connect (motion, "enter", G_CALLBACK (on_mend_enter), row);
  g_signal_connect_swapped (motion, "leave", G_CALLBACK (end_preview),
                            row->checks);
  gtk_widget_add_controller (row->mend, motion);
  gtk_box_append (GTK_BOX (buttons), row->mend);
}

/* Filled anew each time it opens: the amounts follow the pattern. */
static void
fill_others (GtkMenuButton *button, gpointer data)
{
  Row *row = data;
  const SewingFinding *finding = finding_of (row);
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  for (guint i = 0; finding != NULL && i < finding->n_others; i++)
    {
      GtkWidget *way = gtk_button_new ();
      GtkWidget *words = app_ui_paragraph (finding->others[i].label, NULL);
      gtk_label_set_max_width_chars (GTK_LABEL (words), 38);
      gtk_button_set_child (GTK_BUTTON (way), words);
      gtk_widget_add_css_class (way, "mend");
      app_ui_name (way, finding->others[i].label);
      g_object_set_data (G_OBJECT (way), "other", GUINT_TO_POINTER (i));
      g_signal_connect (way, "clicked", G_CALLBACK (on_other), row);
      gtk_box_append (GTK_BOX (box), way);
    }
  gtk_popover_set_child (GTK_POPOVER (popover), box);
  app_ui_pass_keys (popover);
  gtk_menu_button_set_popover (button, popover);
}

static void
make_others (Row *row, GtkWidget *buttons)
{
  row->others = gtk_menu_button_new ();
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (row->others),
                                 "pan-down-symbolic");
  app_ui_tip (row->others, _ ("Other ways to mend it"), NULL);
  gtk_widget_set_valign (row->others, GTK_ALIGN_CENTER);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (row->others),
                                         fill_others, row, NULL);
  gtk_box_append (GTK_BOX (buttons), row->others);
}

static void
make_aside (Row *row, GtkWidget *buttons, GtkWidget *words)
{
  row->aside = gtk_button_new_with_label ("");
  gtk_widget_add_css_class (row->aside, "flat");
  gtk_widget_set_valign (row->aside, GTK_ALIGN_CENTER);
  gtk_widget_set_focus_on_click (row->aside, FALSE);
  g_signal_connect (row->aside, "clicked", G_CALLBACK (on_aside), row);
  gtk_box_append (GTK_BOX (buttons), row->aside);
  row->why = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (row->why),
                                  _ ("Why it is meant so, then Enter"));
  app_ui_name (row->why, _ ("Why it is set aside"));
  gtk_widget_set_visible (row->why, FALSE);
  g_signal_connect (row->why, "activate", G_CALLBACK (on_aside_entered), row);
  gtk_box_append (GTK_BOX (words), row->why);
}

static Row *
row_new (AppChecksButton *checks, const char *key)
{
  Row *row = g_new0 (Row, 1);
  row->key = g_strdup (key);
  row->checks = checks;
  row->row = gtk_list_box_row_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_hexpand (words, TRUE);
  row->pin = app_pin_head_new (&checks->dark);
  gtk_box_append (GTK_BOX (line), row->pin);
  gtk_box_append (GTK_BOX (line), words);
  row->text = app_ui_paragraph ("", NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (row->text), 44);
  row->note = app_ui_paragraph ("", "dim");
  gtk_box_append (GTK_BOX (words), row->text);
  gtk_box_append (GTK_BOX (words), row->note);
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_box_append (GTK_BOX (words), buttons);
  make_mend (row, buttons);
  make_others (row, buttons);
  row->lay = app_ui_text_button (
      _ ("Lay together"),
      _ ("See the pieces laid together along their seam, and true the line"));
  gtk_widget_set_valign (row->lay, GTK_ALIGN_CENTER);
  g_signal_connect (row->lay, "clicked", G_CALLBACK (on_lay), row);
  gtk_box_append (GTK_BOX (buttons), row->lay);
  make_aside (row, buttons, words);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row->row), line);
  return row;
}

static void
show_row (Row *row, const SewingFinding *finding)
{
  gboolean aside = finding->set_aside;
  app_pin_head_set (row->pin, pin_of (finding));
  app_ui_set_text (row->text, finding->text);
  if (aside)
    gtk_widget_add_css_class (row->text, "dim");
  else
    gtk_widget_remove_css_class (row->text, "dim");
  gboolean has_note
      = aside && finding->note != NULL && finding->note[0] != '\0';
  gtk_widget_set_visible (row->note, has_note);
  if (has_note)
    {
      g_autofree char *note
          = g_strdup_printf (_ ("Set aside: %s"), finding->note);
      app_ui_set_text (row->note, note);
    }
  const char *label
      = finding->remedy.label != NULL ? finding->remedy.label : _ ("Mend");
  app_ui_set_text (row->mend_text, label);
  app_ui_name (row->mend, label);
  gtk_widget_set_visible (row->mend,
                          !aside && finding->remedy.kind != SEWING_REMEDY_NONE);
  gtk_widget_set_visible (row->others, !aside && finding->n_others > 0);
  gtk_widget_set_visible (row->lay,
                          !aside && finding->check == SEWING_CHECK_JOINT);
  gtk_button_set_label (GTK_BUTTON (row->aside),
                        aside ? _ ("Take up again") : _ ("Set aside…"));
  if (aside)
    gtk_widget_set_visible (row->why, FALSE);
  app_ui_name (row->row, finding->text);
}

/* --- the list -------------------------------------------------------------------- */

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

/* The row the focus is in, or -1. */
static int
focused_row (AppChecksButton *checks)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (checks));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  for (guint i = 0; focus != NULL && i < checks->rows->len; i++)
    {
      GtkWidget *row = ((Row *)g_ptr_array_index (checks->rows, i))->row;
      if (focus == row || gtk_widget_is_ancestor (focus, row))
        return (int)i;
    }
  return -1;
}

/* To that row's mend, or its other button; from the end of the list to the last; out of an
 * empty one to the table. */
static void
focus_row (AppChecksButton *checks, int index)
{
  if (checks->rows->len == 0)
    {
      gtk_popover_popdown (GTK_POPOVER (checks->popover));
      return;
    }
  guint i = MIN ((guint)MAX (index, 0), checks->rows->len - 1);
  const Row *row = g_ptr_array_index (checks->rows, i);
  gtk_widget_grab_focus (gtk_widget_get_visible (row->mend) ? row->mend
                                                            : row->aside);
}

static void
remove_row (AppChecksButton *checks, guint index)
{
  Row *row = g_ptr_array_index (checks->rows, index);
  gtk_list_box_remove (GTK_LIST_BOX (checks->list), row->row);
  g_ptr_array_remove_index (checks->rows, index);
}

/* Puts the finding's row at that index, made anew only where there was none. */
static void
place_row (AppChecksButton *checks, guint index, const SewingFinding *finding)
{
  GtkListBox *list = GTK_LIST_BOX (checks->list);
  guint at = index;
  while (at < checks->rows->len
         && !g_str_equal (((Row *)g_ptr_array_index (checks->rows, at))->key,
                          finding->key))
    at++;
  Row *row = NULL;
  if (at == checks->rows->len)
    {
      row = row_new (checks, finding->key);
      gtk_list_box_insert (list, row->row, (int)index);
      g_ptr_array_insert (checks->rows, (int)index, row);
    }
  else if (at > index)
    {
      row = g_ptr_array_steal_index (checks->rows, at);
      g_object_ref (row->row);
      gtk_list_box_remove (list, row->row);
      gtk_list_box_insert (list, row->row, (int)index);
      g_object_unref (row->row);
      g_ptr_array_insert (checks->rows, (int)index, row);
    }
  else
    row = g_ptr_array_index (checks->rows, index);
  show_row (row, finding);
}

static gboolean
is_found (const GPtrArray *findings, const char *key)
{
  for (guint i = 0; i < findings->len; i++)
    if (g_str_equal (
            ((const SewingFinding *)g_ptr_array_index (findings, i))->key, key))
      return TRUE;
  return FALSE;
}

static void
show_list (AppChecksButton *checks)
{
  const GPtrArray *findings = app_session_get_findings (checks->session);
  checks->stale = checks->pressed;
  if (checks->pressed)
    return;
  int focus = focused_row (checks);
  for (guint i = checks->rows->len; i > 0; i--)
    if (!is_found (findings,
                   ((Row *)g_ptr_array_index (checks->rows, i - 1))->key))
      remove_row (checks, i - 1);
  for (guint i = 0; i < findings->len; i++)
    place_row (checks, i, g_ptr_array_index (findings, i));
  fit_list (checks);
  if (!gtk_widget_get_mapped (checks->popover))
    return;
  gboolean gone = focus >= 0 && focused_row (checks) < 0;
  if (gone || findings->len == 0)
    focus_row (checks, focus);
}

static void
show_count (AppChecksButton *checks)
{
  const GPtrArray *findings = app_session_get_findings (checks->session);
  guint open = sewing_checks_open (findings);
  gboolean mend = FALSE;
  for (guint i = 0; i < findings->len; i++)
    mend |= pin_of (g_ptr_array_index (findings, i)) == APP_PIN_MEND;
  g_autofree char *count
      = open == 0
            ? g_strdup (_ ("No pins"))
            : g_strdup_printf (ngettext ("%u pin", "%u pins", open), open);
  app_ui_set_text (checks->count, count);
  app_pin_head_set (checks->pin, open == 0 ? APP_PIN_ASIDE
                                 : mend    ? APP_PIN_MEND
                                           : APP_PIN_LOOK);
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
  gboolean previewing = app_session_is_previewing (checks->session);
  if (!previewing)
    checks->mend_shown = FALSE;
  if (!checks->mend_shown)
    show_count (checks);
  if (gtk_widget_get_visible (checks->popover) && !previewing)
    show_list (checks);
}

/* --- the popover's own keys and pointer -------------------------------------------- */

static gboolean
on_released (gpointer data)
{
  AppChecksButton *checks = data;
  if (checks->stale && !checks->pressed
      && gtk_widget_get_visible (checks->popover)
      && !app_session_is_previewing (checks->session))
    show_list (checks);
  g_object_unref (checks);
  return G_SOURCE_REMOVE;
}

static gboolean
on_event (AppChecksButton *checks, GdkEvent *event)
{
  GdkEventType type = gdk_event_get_event_type (event);
  if (type == GDK_BUTTON_PRESS || type == GDK_TOUCH_BEGIN)
    checks->pressed = TRUE;
  else if (type == GDK_BUTTON_RELEASE || type == GDK_TOUCH_END
           || type == GDK_TOUCH_CANCEL)
    {
      checks->pressed = FALSE;
      /* After the click itself. */
      g_idle_add (on_released, g_object_ref (checks));
    }
  return FALSE;
}

static void
on_show (AppChecksButton *checks)
{
  checks->pressed = FALSE;
  show_list (checks);
}

static gboolean
focus_first (GtkWidget *popover, GdkFrameClock *clock, gpointer data)
{
  (void)clock;
  AppChecksButton *checks = data;
  if (gtk_widget_get_mapped (popover) && focused_row (checks) < 0
      && checks->rows->len > 0)
    focus_row (checks, 0);
  return G_SOURCE_REMOVE;
}

static void
on_map (AppChecksButton *checks)
{
  gtk_widget_add_tick_callback (checks->popover, focus_first, checks, NULL);
}

static void
on_closed (AppChecksButton *checks)
{
  end_preview (checks);
  gtk_widget_activate_action (GTK_WIDGET (checks), "win.table", NULL);
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
  g_ptr_array_unref (APP_CHECKS_BUTTON (object)->rows);
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
  g_signal_connect_swapped (popover, "show", G_CALLBACK (on_show), checks);
  g_signal_connect_swapped (popover, "map", G_CALLBACK (on_map), checks);
  g_signal_connect_swapped (popover, "closed", G_CALLBACK (on_closed), checks);
  GtkEventController *events = gtk_event_controller_legacy_new ();
  gtk_event_controller_set_propagation_phase (events, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (events, "event", G_CALLBACK (on_event), checks);
  gtk_widget_add_controller (popover, events);
  app_ui_pass_keys (popover);
  return popover;
}

static void
app_checks_button_init (AppChecksButton *checks)
{
  checks->rows = g_ptr_array_new_with_free_func (row_free);
  checks->button = gtk_menu_button_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  checks->pin = app_pin_head_new (&checks->dark);
  gtk_widget_set_valign (checks->pin, GTK_ALIGN_CENTER);
  gtk_widget_set_has_tooltip (checks->pin, FALSE);
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
