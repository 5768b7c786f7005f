/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>

#include "app/pick-seam-private.h"
#include "app/tool-tag.h"
#include "sewing/allowance.h"
#include "sewing/joints.h"
#include "sewing/words.h"

static void
run_picked (GtkButton *button, AppPage *page)
{
  GObject *o = G_OBJECT (button);
  app_session_pick_edge (page->session,
                         GPOINTER_TO_UINT (g_object_get_data (o, "piece")),
                         GPOINTER_TO_UINT (g_object_get_data (o, "edge")));
}
static void
add_run (SeamPage *self, GtkWidget *box, const Pattern *pattern,
         const PatternRun *run)
{
  g_autofree char *name = app_words_edge (pattern, run->piece, run->edge);
  GtkWidget *button = gtk_button_new ();
  gtk_button_set_child (GTK_BUTTON (button), app_ui_paragraph (name, NULL));
  gtk_widget_add_css_class (button, "seam-row");
  app_ui_tip (button, _ ("Pick this edge"), NULL);
  app_ui_name (button, name);
  g_object_set_data (G_OBJECT (button), "piece", GUINT_TO_POINTER (run->piece));
  g_object_set_data (G_OBJECT (button), "edge", GUINT_TO_POINTER (run->edge));
  g_signal_connect (button, "clicked", G_CALLBACK (run_picked), self);
  gtk_box_append (GTK_BOX (box), button);
}

static void
show_sides (SeamPage *self, const Pattern *pattern, const PatternSeam *seam)
{
  g_autoptr (GString) key = g_string_new ("-");
  for (int side = 0; side < 2; side++)
    for (guint i = 0; i < seam->sides[side].n_runs; i++)
      {
        const PatternRun *run = &seam->sides[side].runs[i];
        g_autofree char *name = app_words_edge (pattern, run->piece, run->edge);
        g_string_append_printf (key, "%d %u %u %s\n", side, run->piece,
                                run->edge, name);
      }
  if (g_strcmp0 (key->str, self->sides_key) == 0)
    return;
  g_free (self->sides_key);
  self->sides_key = g_strdup (key->str);
  app_ui_clear (self->sides);
  for (int side = 0; side < 2; side++)
    {
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
      GtkWidget *letter
          = app_ui_label (side == 0 ? _ ("A") : _ ("B"), "side-letter");
      gtk_widget_add_css_class (letter, side == 0 ? "side-a" : "side-b");
      gtk_widget_set_valign (letter, GTK_ALIGN_CENTER);
      GtkWidget *runs = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
      gtk_widget_set_hexpand (runs, TRUE);
      for (guint i = 0; i < seam->sides[side].n_runs; i++)
        add_run (self, runs, pattern, &seam->sides[side].runs[i]);
      gtk_box_append (GTK_BOX (line), letter);
      gtk_box_append (GTK_BOX (line), runs);
      gtk_box_append (GTK_BOX (self->sides), line);
    }
}

static void
put_cell (GtkGrid *grid, int column, int row, const char *text,
          const char *css_class)
{
  GtkWidget *label = app_ui_label (text, css_class);
  gtk_label_set_xalign (GTK_LABEL (label), column == 0 ? 0 : 1);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_grid_attach (grid, label, column, row, 1, 1);
}

static gboolean
interval_is_out (const Pattern *pattern, const SewingInterval *interval)
{
  return fabs (interval->difference - interval->meant) > pattern->tolerance;
}

static void
fill_table (SeamPage *self, const Pattern *pattern, const SewingSeam *facts)
{
  GtkGrid *grid = GTK_GRID (self->table);
  app_ui_clear (self->table);
  put_cell (grid, 0, 0, _ ("Between"), "column");
  put_cell (grid, 1, 0, _ ("A"), "column");
  put_cell (grid, 2, 0, _ ("B"), "column");
  put_cell (grid, 3, 0, _ ("A − B"), "column");
  for (guint i = 0; i < facts->n_intervals; i++)
    {
      const SewingInterval *v = &facts->intervals[i];
      int row = (int)i + 1;
      const char *css = interval_is_out (pattern, v) ? "out" : "figures";
      g_autofree char *from
          = i == 0 ? g_strdup (_ ("start")) : g_strdup_printf ("%u", i);
      g_autofree char *to = i + 1 == facts->n_intervals
                                ? g_strdup (_ ("end"))
                                : g_strdup_printf ("%u", i + 1);
      g_autofree char *place = g_strdup_printf ("%s – %s", from, to);
      g_autofree char *a
          = pattern_length_format_bare (v->a_to - v->a_from, pattern->unit);
      g_autofree char *b
          = pattern_length_format_bare (v->b_to - v->b_from, pattern->unit);
      g_autofree char *d
          = pattern_length_format_change (v->difference, pattern->unit);
      put_cell (grid, 0, row, place, "dim");
      put_cell (grid, 1, row, a, "figures");
      put_cell (grid, 2, row, b, "figures");
      put_cell (grid, 3, row, d, css);
    }
}

static void
show_table (SeamPage *self, const Pattern *pattern, const SewingSeam *facts)
{
  g_autoptr (GString) key = g_string_new ("-");
  g_string_append_printf (key, "%d %g %g ", pattern->unit, pattern->tolerance,
                          facts->seam->ease);
  for (guint i = 0; i < facts->n_intervals; i++)
    g_string_append_printf (key, "%.3f %.3f ", facts->intervals[i].a_to,
                            facts->intervals[i].b_to);
  if (g_strcmp0 (key->str, self->table_key) == 0)
    return;
  g_free (self->table_key);
  self->table_key = g_strdup (key->str);
  fill_table (self, pattern, facts);
}

/* Slits and wedges of all the runs of a side, each run's in its own words. */
static char *
side_clips (SeamPage *self, const Pattern *pattern, const PatternSide *side)
{
  g_autoptr (GString) words = g_string_new (NULL);
  for (guint i = 0; i < side->n_runs; i++)
    {
      g_autofree char *one = app_words_clips (
          sewing_facts_clips (app_session_get_facts (self->page.session),
                              pattern, side->runs[i].piece, side->runs[i].edge),
          pattern->unit);
      g_string_append_printf (words, "%s%s", i > 0 ? "\n" : "", one);
    }
  return g_string_free (g_steal_pointer (&words), FALSE);
}

/* What to do with a side's allowance; where its runs ask for different things, each by
 * its name. */
static char *
side_plies (SeamPage *self, const Pattern *pattern, const PatternSide *side)
{
  SewingFacts *facts = app_session_get_facts (self->page.session);
  g_autoptr (GString) words = g_string_new (NULL);
  for (guint i = 0; i < side->n_runs; i++)
    {
      SewingAllowance a;
      if (!sewing_facts_allowance (facts, pattern, side->runs[i].piece,
                                   side->runs[i].edge, &a))
        continue;
      g_autofree char *one = sewing_allowance_text (pattern, &a);
      g_autofree char *name
          = app_words_edge (pattern, side->runs[i].piece, side->runs[i].edge);
      g_autofree char *named = g_strdup_printf ("%s: %s", name, one);
      g_string_append_printf (words, "%s%s", words->len > 0 ? "\n" : "",
                              side->n_runs > 1 ? named : one);
    }
  return g_string_free (g_steal_pointer (&words), FALSE);
}

/* Both have cuts. */
static gboolean
is_staggered (SeamPage *self, const Pattern *pattern, const PatternSeam *seam)
{
  gboolean has[2] = { FALSE, FALSE };
  for (int side = 0; side < 2; side++)
    for (guint i = 0; i < seam->sides[side].n_runs; i++)
      has[side]
          |= sewing_facts_clips (app_session_get_facts (self->page.session),
                                 pattern, seam->sides[side].runs[i].piece,
                                 seam->sides[side].runs[i].edge)
                 ->count
             > 0;
  return has[0] && has[1];
}

static double
per_cent (const SewingSeam *facts, double amount)
{
  double shorter = fmin (facts->lengths[0], facts->lengths[1]);
  return shorter > 0 ? 100 * fabs (amount) / shorter : 0;
}

static char *
words_difference (const Pattern *pattern, const SewingSeam *facts)
{
  g_autofree char *none = pattern_length_format (0, pattern->unit, FALSE);
  g_autofree char *amount
      = pattern_length_format (fabs (facts->ease), pattern->unit, FALSE);
  if (g_str_equal (amount, none))
    return g_strdup (_ ("none"));
  g_autofree char *name
      = app_words_side_piece (pattern, facts->seam, facts->ease > 0 ? 0 : 1);
  return g_strdup_printf (_ ("%s %s longer (%.1f %%)"), name, amount,
                          per_cent (facts, facts->ease));
}

static void
show_ease (SeamPage *self, const Pattern *pattern, const SewingSeam *facts)
{
  double ease = facts->seam->ease;
  g_autofree char *share
      = g_strdup_printf (_ ("%.1f %%"), per_cent (facts, ease));
  app_ui_set_text (self->ease_share, share);
  gtk_widget_set_visible (self->ease_share, ease != 0);
  if (ease != 0 || !self->longer_known)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->longer),
                                (ease != 0 ? ease : facts->ease) < 0 ? 1 : 0);
  self->longer_known = TRUE;
  g_autofree char *warning = app_words_too_much_ease (pattern, facts);
  gtk_widget_set_visible (self->too_much, warning != NULL);
  app_ui_set_text (self->too_much, warning != NULL ? warning : "");
}

/* One figure where all edges that have an allowance agree. */
static void
show_allowance (SeamPage *self, const Pattern *pattern, const PatternSeam *seam)
{
  double value = -1;
  gboolean mixed = FALSE;
  for (int side = 0; side < 2; side++)
    for (guint i = 0; i < seam->sides[side].n_runs; i++)
      {
        const PatternRun *run = &seam->sides[side].runs[i];
        const PatternEdge *edge
            = pattern_get_edge (pattern, run->piece, run->edge, NULL);
        if (edge == NULL
            || (edge->kind != PATTERN_EDGE_SEAM
                && edge->kind != PATTERN_EDGE_HEM))
          continue;
        mixed |= value >= 0 && fabs (edge->allowance - value) > 1e-6;
        value = edge->allowance;
      }
  AppField *field = APP_FIELD (self->allowance);
  gtk_widget_set_sensitive (self->allowance, value >= 0);
  app_field_set_unit (field, pattern->unit);
  if (mixed)
    app_field_set_mixed (field, _ ("they differ"));
  else
    app_field_set_value (field, fmax (value, 0));
}

static gboolean
is_of_several (const PatternSide *side)
{
  for (guint i = 1; i < side->n_runs; i++)
    if (side->runs[i].piece != side->runs[0].piece)
      return TRUE;
  return FALSE;
}

/* Everything that calls the sides by their pieces. */
static void
show_names (SeamPage *self, const Pattern *pattern, const PatternSeam *seam)
{
  char *names[2], *over[2], *longer[2];
  for (int side = 0; side < 2; side++)
    {
      names[side] = app_words_side_piece (pattern, seam, side);
      over[side] = g_strdup_printf (_ ("Over %s"), names[side]);
      longer[side] = g_strdup_printf (is_of_several (&seam->sides[side])
                                          ? _ ("%s are longer")
                                          : _ ("%s is longer"),
                                      names[side]);
      app_ui_set_text (self->length_names[side], names[side]);
      app_ui_set_text (self->clip_names[side], names[side]);
      g_autofree char *turn
          = g_strdup_printf (_ ("Turn %s's walk"), names[side]);
      app_ui_set_text (gtk_button_get_child (GTK_BUTTON (self->turns[side])),
                       turn);
      app_ui_name (self->turns[side], turn);
    }
  app_ui_drop_down_set_words (
      self->press, (const char *const[]){ _ ("Open"), over[0], over[1],
                                          _ ("Enclosed, turned"), NULL });
  app_ui_drop_down_set_words (
      self->longer, (const char *const[]){ longer[0], longer[1], NULL });
  for (int side = 0; side < 2; side++)
    {
      g_free (names[side]);
      g_free (over[side]);
      g_free (longer[side]);
    }
}

static void
show_facts (SeamPage *self, const Pattern *pattern, const PatternSeam *seam)
{
  const SewingSeam *facts = sewing_facts_seam (
      app_session_get_facts (self->page.session), pattern, seam);
  gtk_widget_set_visible (self->table, facts != NULL);
  gtk_widget_set_visible (self->table_heading, facts != NULL);
  gtk_widget_set_visible (self->spans, facts != NULL && facts->n_intervals > 1);
  gtk_widget_set_visible (self->loose, facts != NULL && facts->n_loose > 0);
  gtk_widget_remove_css_class (self->state, "out");
  if (facts == NULL)
    {
      app_ui_set_text (self->state, _ ("One side is empty"));
      return;
    }
  gboolean out = FALSE;
  g_autofree char *state = app_words_seam_state (pattern, facts, &out);
  app_ui_set_text (self->state, state);
  if (out)
    gtk_widget_add_css_class (self->state, "out");
  for (int side = 0; side < 2; side++)
    {
      g_autofree char *length
          = pattern_length_format (facts->lengths[side], pattern->unit, FALSE);
      app_ui_set_text (self->lengths[side], length);
      g_autofree char *clips = side_clips (self, pattern, &seam->sides[side]);
      app_ui_set_text (self->clips[side], clips);
      g_autofree char *plies = side_plies (self, pattern, &seam->sides[side]);
      app_ui_set_text (self->plies[side], plies);
      gtk_widget_set_visible (self->plies[side], *plies != '\0');
    }
  gtk_widget_set_visible (self->stagger, is_staggered (self, pattern, seam));
  g_autofree char *difference = words_difference (pattern, facts);
  app_ui_set_text (self->difference, difference);
  show_ease (self, pattern, facts);
  g_autofree char *loose = g_strdup_printf (
      ngettext ("%u notch has no partner on the other side.",
                "%u notches have no partner on the other side.",
                facts->n_loose),
      facts->n_loose);
  app_ui_set_text (self->loose, loose);
  show_table (self, pattern, facts);
  g_autofree char *a = app_words_side_piece (pattern, seam, 0);
  g_autofree char *b = app_words_side_piece (pattern, seam, 1);
  app_ease_rows_show (self->spans, pattern, facts,
                      (const char *const[]){ a, b });
}
/* --- truing across its ends ------------------------------------------------------ */

/* "Hem: dip of 6.2°", "Waist: true". */
static char *
true_words (const Pattern *pattern, const SewingJoint *joint)
{
  const PatternPiece *piece = NULL;
  const PatternEdge *edge
      = pattern_get_edge (pattern, joint->a_piece, joint->a_edge, &piece);
  g_autofree char *name = *edge->name != '\0' ? g_strdup (edge->name)
                                              : app_edge_name (piece, edge);
  double out = joint->angle * 180 / G_PI - 180;
  char *words = fabs (out) < 0.5 ? g_strdup_printf (_ ("%s: true"), name)
                : out > 0
                    ? g_strdup_printf (_ ("%s: dip of %.1f°"), name, out)
                    : g_strdup_printf (_ ("%s: peak of %.1f°"), name, -out);
  return sewing_words_capital (words);
}

static void
show_trues (SeamPage *self, const Pattern *pattern, const PatternSeam *seam)
{
  gboolean any = FALSE;
  for (int end = 0; end < 2; end++)
    {
      SewingJoint joint;
      gboolean is
          = sewing_seam_joint (app_session_get_facts (self->page.session),
                               pattern, seam, end, &joint);
      g_autofree char *words = is ? true_words (pattern, &joint) : NULL;
      if (is)
        gtk_button_set_label (GTK_BUTTON (self->trues[end]), words);
      gtk_widget_set_visible (self->trues[end], is);
      any = any || is;
    }
  gtk_widget_set_visible (self->true_heading, any);
}

void
app_seam_page_show (AppPage *page)
{
  SeamPage *self = (SeamPage *)page;
  const Pattern *pattern = app_page_shown (page);
  const PatternSeam *seam = pattern_get_seam (pattern, page->id);
  gtk_widget_set_sensitive (page->box, seam != NULL);
  if (seam == NULL)
    return;
  g_autofree char *title = app_words_seam (pattern, seam);
  app_page_set_title (self->title, title);
  app_field_set_text (APP_FIELD (self->name), seam->name);
  app_field_set_unit (APP_FIELD (self->ease), pattern->unit);
  app_field_set_value (APP_FIELD (self->ease), fabs (seam->ease));
  show_names (self, pattern, seam);
  show_allowance (self, pattern, seam);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->press), (guint)seam->press);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->join), (guint)seam->join);
  show_sides (self, pattern, seam);
  show_facts (self, pattern, seam);
  show_trues (self, pattern, seam);
}
