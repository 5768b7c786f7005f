/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/fittings-popover.h"

#include <glib/gi18n.h>

#include "app/field.h"
#include "app/laid-over.h"
#include "app/ui.h"
#include "drafting/fitting.h"
#include "drafting/verb.h"

#define LIST_WIDTH_PX 400
#define LIST_MOST_HEIGHT_PX 520
/* Beyond this the oldest changes of a fitting are left off the list; they are still there. */
#define MOST_CHANGES 60
#define MOST_LINES 40

typedef struct
{
  AppSession *session;
  GtkWidget *popover, *list;
  gboolean stale; /* changed while something in it is being done */
} Fittings;

static void on_changed (Fittings *f);

static guint
number_of (gpointer widget)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "number"));
}

static void
set_number (gpointer widget, guint number)
{
  g_object_set_data (G_OBJECT (widget), "number", GUINT_TO_POINTER (number));
}

/* --- what can be done ----------------------------------------------------------------- */
static void
on_keep (GtkButton *button, Fittings *f)
{
  (void)button;
  GError *error = NULL;
  guint id = 0;
  const Pattern *p = app_session_get_pattern (f->session);
  Pattern *kept = drafting_keep_fitting (p, NULL, NULL, &id, &error);
  g_autofree char *label
      = kept == NULL ? NULL
                     : g_strdup_printf (_ ("keep “%s”"),
                                        pattern_get_fitting (kept, id)->name);
  app_session_do (f->session, label, NULL, kept, &error);
}

static void
on_forget (GtkButton *button, Fittings *f)
{
  GError *error = NULL;
  const Pattern *p = app_session_get_pattern (f->session);
  const PatternFitting *fitting = pattern_get_fitting (p, number_of (button));
  g_autofree char *label
      = fitting != NULL ? g_strdup_printf (_ ("forget “%s”"), fitting->name)
                        : NULL;
  app_session_do (f->session, label, NULL,
                  drafting_remove_fitting (p, number_of (button), &error),
                  &error);
}

static void
on_renamed (AppField *field, gboolean step, Fittings *f)
{
  (void)step;
  GError *error = NULL;
  const Pattern *p = app_session_get_pattern (f->session);
  const PatternFitting *old = pattern_get_fitting (p, number_of (field));
  gboolean is_note = g_object_get_data (G_OBJECT (field), "note") != NULL;
  if (old == NULL)
    return;
  Pattern *set = drafting_set_fitting (
      p, old->id, is_note ? old->name : app_field_get_text (field),
      is_note ? app_field_get_text (field) : old->note, &error);
  app_session_do (f->session,
                  is_note ? _ ("write what the fitting showed")
                          : _ ("name a fitting"),
                  NULL, set, &error);
}

static void
on_take_back (GtkButton *button, Fittings *f)
{
  guint change = number_of (button);
  GError *error = NULL;
  const Pattern *p = app_session_get_pattern (f->session);
  if (change >= p->n_changes)
    return;
  g_autofree char *label
      = g_strdup_printf (_ ("take back “%s”"), p->changes[change]->label);
  app_session_do (f->session, label, NULL,
                  drafting_take_back (p, change, &error), &error);
}

/* An amount typed anew. What can't be done then is told, and the old amount stands
 * again. */
static void
on_revised (GtkEntry *entry, Fittings *f)
{
  guint change = number_of (entry);
  const char *key = g_object_get_data (G_OBJECT (entry), "key");
  const Pattern *p = app_session_get_pattern (f->session);
  if (change >= p->n_changes || p->changes[change]->step == NULL)
    return;
  const PatternStep *old = p->changes[change]->step;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));
  if (g_strcmp0 (pattern_step_get (old, key), text) == 0)
    return;
  g_autoptr (PatternStep) step = pattern_step_dup (old);
  pattern_step_set (step, key, text);
  GError *error = NULL;
  Pattern *revised = drafting_revise (p, change, step, &error);
  g_autofree char *label
      = g_strdup_printf (_ ("revise “%s”"), p->changes[change]->label);
  if (!app_session_do (f->session, label, NULL, revised, &error))
    on_changed (f); /* the old amount stands again */
}

static void
on_lay_over (GtkToggleButton *toggle, Fittings *f)
{
  guint fitting = number_of (toggle);
  AppLaidOver laid = app_session_get_laid_over (f->session);
  if (gtk_toggle_button_get_active (toggle))
    app_session_lay_over (f->session, (AppLaidOver){ fitting, 0 });
  else if (laid.was == fitting)
    app_session_lay_over (f->session, (AppLaidOver){ 0, 0 });
}

/* What the fitting is laid over: another, or the pattern as it stands. */
static void
on_against (GtkDropDown *drop, GParamSpec *spec, Fittings *f)
{
  (void)spec;
  const Pattern *p = app_session_get_pattern (f->session);
  AppLaidOver laid = app_session_get_laid_over (f->session);
  guint chosen = gtk_drop_down_get_selected (drop), n = 0;
  laid.is = 0;
  for (guint i = 0; i < p->n_fittings; i++)
    if (p->fittings[i]->id != laid.was && ++n == chosen)
      laid.is = p->fittings[i]->id;
  app_session_lay_over (f->session, laid);
}

/* --- the list ------------------------------------------------------------------------- */
static GtkWidget *
add_box (GtkWidget *parent, GtkOrientation way, int spacing)
{
  GtkWidget *box = gtk_box_new (way, spacing);
  gtk_box_append (GTK_BOX (parent), box);
  return box;
}

/* A short field for each amount of the step. */
static void
add_amounts (Fittings *f, GtkWidget *row, const PatternStep *step, guint change)
{
  const DraftingVerb *verb = drafting_verb_find (step->verb);
  for (guint i = 0; verb != NULL && i < verb->n_parameters; i++)
    {
      const DraftingParameter *par = &verb->parameters[i];
      const char *text = pattern_step_get (step, par->key);
      if (par->kind > DRAFTING_COUNT || text == NULL)
        continue;
      GtkWidget *entry = gtk_entry_new ();
      gtk_editable_set_text (GTK_EDITABLE (entry), text);
      gtk_editable_set_width_chars (GTK_EDITABLE (entry), 7);
      gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 7);
      gtk_widget_add_css_class (entry, "figures");
      app_ui_tip (entry, _ (par->label), NULL);
      set_number (entry, change);
      g_object_set_data (G_OBJECT (entry), "key", (gpointer)par->key);
      g_signal_connect (entry, "activate", G_CALLBACK (on_revised), f);
      gtk_box_append (GTK_BOX (row), entry);
    }
}

/* What was done, and to which pieces: "move edge · Back, Front". */
static char *
change_words (const PatternChange *change)
{
  if (change->step != NULL || change->is->n_pieces == 0)
    return g_strdup (change->label);
  g_autoptr (GString) words = g_string_new (change->label);
  for (guint i = 0; i < change->is->n_pieces && i < 3; i++)
    g_string_append_printf (words, "%s%s", i == 0 ? " · " : ", ",
                            change->is->pieces[i]->name);
  if (change->is->n_pieces > 3)
    g_string_append (words, "…");
  return g_string_free (g_steal_pointer (&words), FALSE);
}

static void
add_change (Fittings *f, GtkWidget *box, const PatternChange *change, guint i)
{
  GtkWidget *row = add_box (box, GTK_ORIENTATION_HORIZONTAL, 6);
  g_autofree char *words = change_words (change);
  GtkWidget *text = app_ui_paragraph (words, NULL);
  gtk_widget_set_hexpand (text, TRUE);
  gtk_widget_set_valign (text, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (row), text);
  g_autofree char *name = g_strdup_printf (_ ("Take back: %s"), change->label);
  if (change->step != NULL)
    add_amounts (f, row, change->step, i);
  GtkWidget *back = app_ui_icon_button ("edit-undo-symbolic", name, NULL, NULL);
  gtk_widget_set_valign (back, GTK_ALIGN_CENTER);
  set_number (back, i);
  g_signal_connect (back, "clicked", G_CALLBACK (on_take_back), f);
  gtk_box_append (GTK_BOX (row), back);
}

static void
add_changes (Fittings *f, GtkWidget *box, const Pattern *p, guint from,
             guint to)
{
  if (from == to)
    {
      gtk_box_append (GTK_BOX (box),
                      app_ui_paragraph (_ ("Nothing changed since."), "dim"));
      return;
    }
  guint first = to - from > MOST_CHANGES ? to - MOST_CHANGES : from;
  for (guint i = to; i > first; i--)
    add_change (f, box, p->changes[i - 1], i - 1);
  if (first > from)
    {
      g_autofree char *more
          = g_strdup_printf (ngettext ("and %u earlier change",
                                       "and %u earlier changes", first - from),
                             first - from);
      gtk_box_append (GTK_BOX (box), app_ui_paragraph (more, "dim"));
    }
}

static void
add_differences (Fittings *f, GtkWidget *box, const PatternFitting *fitting)
{
  const Pattern *was, *is;
  AppLaidOver laid = app_session_get_laid_over (f->session);
  const Pattern *p = app_session_get_pattern (f->session);
  if (laid.was != fitting->id || !app_laid_over (f->session, &was, &is))
    return;
  g_autoptr (GStrvBuilder) names = g_strv_builder_new ();
  g_strv_builder_add (names, _ ("over the pattern as it stands"));
  guint chosen = 0, n = 0;
  for (guint i = 0; i < p->n_fittings; i++)
    if (p->fittings[i]->id != fitting->id)
      {
        g_autofree char *over
            = g_strdup_printf (_ ("over %s"), p->fittings[i]->name);
        g_strv_builder_add (names, over);
        n++;
        if (p->fittings[i]->id == laid.is)
          chosen = n;
      }
  g_auto (GStrv) words = g_strv_builder_end (names);
  if (n > 0)
    {
      GtkWidget *drop
          = app_ui_drop_down ((const char *const *)words, _ ("Laid over what"));
      gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), chosen);
      g_signal_connect (drop, "notify::selected", G_CALLBACK (on_against), f);
      gtk_box_append (GTK_BOX (box), drop);
    }
  g_auto (GStrv) lines = app_laid_over_words (was, is, p->unit);
  for (guint i = 0; lines[i] != NULL && i < MOST_LINES; i++)
    gtk_box_append (GTK_BOX (box), app_ui_paragraph (lines[i], "dim"));
  if (lines[0] == NULL)
    gtk_box_append (GTK_BOX (box),
                    app_ui_paragraph (_ ("No outline differs."), "dim"));
}

static void
add_fitting_head (Fittings *f, GtkWidget *card, const PatternFitting *fitting)
{
  GtkWidget *head = add_box (card, GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *name = app_field_new (APP_FIELD_TEXT, _ ("Name of the fitting"));
  app_field_set_text (APP_FIELD (name), fitting->name);
  gtk_widget_set_hexpand (name, TRUE);
  set_number (name, fitting->id);
  g_signal_connect (name, "entered", G_CALLBACK (on_renamed), f);
  gtk_box_append (GTK_BOX (head), name);
  GtkWidget *over = gtk_toggle_button_new_with_label (_ ("Lay over"));
  app_ui_tip (over, _ ("Show its outlines over the pieces on the table"), NULL);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (over),
                                app_session_get_laid_over (f->session).was
                                    == fitting->id);
  set_number (over, fitting->id);
  g_signal_connect (over, "toggled", G_CALLBACK (on_lay_over), f);
  gtk_box_append (GTK_BOX (head), over);
  GtkWidget *forget = app_ui_icon_button (
      "user-trash-symbolic",
      _ ("Forget this fitting; the pattern stays as it is"), NULL, NULL);
  set_number (forget, fitting->id);
  g_signal_connect (forget, "clicked", G_CALLBACK (on_forget), f);
  gtk_box_append (GTK_BOX (head), forget);
}

static void
add_fitting (Fittings *f, const Pattern *p, guint i)
{
  const PatternFitting *fitting = p->fittings[i];
  GtkWidget *card = add_box (f->list, GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (card, "card");
  add_fitting_head (f, card, fitting);
  GtkWidget *note = app_field_new (APP_FIELD_TEXT, _ ("What it showed"));
  app_field_set_text (APP_FIELD (note), fitting->note);
  gtk_entry_set_placeholder_text (app_field_get_entry (APP_FIELD (note)),
                                  _ ("What it showed: tight at the shoulder…"));
  g_object_set_data (G_OBJECT (note), "note", GINT_TO_POINTER (1));
  set_number (note, fitting->id);
  g_signal_connect (note, "entered", G_CALLBACK (on_renamed), f);
  gtk_box_append (GTK_BOX (card), note);
  add_differences (f, card, fitting);
  gtk_box_append (GTK_BOX (card), app_ui_heading (_ ("Changed since")));
  add_changes (f, card, p, fitting->at,
               i + 1 < p->n_fittings ? p->fittings[i + 1]->at : p->n_changes);
}

static void
fill (Fittings *f)
{
  const Pattern *p = app_session_get_pattern (f->session);
  f->stale = FALSE;
  app_ui_clear (f->list);
  GtkWidget *keep = app_ui_text_button (
      _ ("Keep the pattern as a fitting"),
      _ ("As it stands now: the muslin you are about to cut"));
  g_signal_connect (keep, "clicked", G_CALLBACK (on_keep), f);
  gtk_box_append (GTK_BOX (f->list), keep);
  if (p->n_fittings == 0)
    gtk_box_append (
        GTK_BOX (f->list),
        app_ui_paragraph (_ ("Keep one for every muslin you sew. From then on "
                             "each change is listed here; any one of them can "
                             "be taken back or given another amount, and the "
                             "outlines can be laid over each other."),
                          "dim"));
  for (guint i = p->n_fittings; i > 0; i--)
    add_fitting (f, p, i - 1);
}

/* Not from within a signal of one of the list's own widgets. */
static gboolean
refill (gpointer data)
{
  Fittings *f = data;
  if (f->stale && gtk_widget_get_mapped (f->list))
    fill (f);
  return G_SOURCE_REMOVE;
}

static void
on_changed (Fittings *f)
{
  if (!f->stale)
    g_idle_add (refill, f);
  f->stale = TRUE;
}

static void
on_destroy (GtkWidget *widget, Fittings *f)
{
  (void)widget;
  g_idle_remove_by_data (f);
  g_signal_handlers_disconnect_by_data (f->session, f);
  g_object_unref (f->session);
  g_free (f);
}

static void
to_table (GtkWidget *list)
{
  gtk_widget_activate_action (list, "win.table", NULL);
}

GtkWidget *
app_fittings_button_new (AppSession *session)
{
  Fittings *f = g_new0 (Fittings, 1);
  f->session = g_object_ref (session);
  GtkWidget *button = gtk_menu_button_new ();
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button),
                                 "bodkin-fitting-symbolic");
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  app_ui_tip (button, _ ("Fittings: muslins kept, and changes since"), NULL);
  f->popover = gtk_popover_new ();
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (
      GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroller),
                                              LIST_MOST_HEIGHT_PX);
  f->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_set_margin_start (f->list, 6);
  gtk_widget_set_margin_end (f->list, 6);
  gtk_widget_set_margin_top (f->list, 6);
  gtk_widget_set_margin_bottom (f->list, 6);
  gtk_widget_set_size_request (f->list, LIST_WIDTH_PX, -1);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), f->list);
  gtk_popover_set_child (GTK_POPOVER (f->popover), scroller);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), f->popover);
  app_ui_pass_keys (f->popover);
  g_signal_connect_swapped (f->popover, "show", G_CALLBACK (fill), f);
  g_signal_connect_swapped (f->popover, "closed", G_CALLBACK (to_table),
                            f->list);
  g_signal_connect_swapped (session, "state-changed", G_CALLBACK (on_changed),
                            f);
  g_signal_connect_swapped (session, "laid-over-changed",
                            G_CALLBACK (on_changed), f);
  g_signal_connect (button, "destroy", G_CALLBACK (on_destroy), f);
  return button;
}
