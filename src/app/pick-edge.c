/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An edge picked. */
#include <glib/gi18n.h>
#include <math.h>

#include "app/pick-draw.h"
#include "app/pick-tape.h"
#include "drafting/edge-names.h"
#include "sewing/allowance.h"
#include "sewing/words.h"

typedef struct
{
  AppPage page;
  GtkWidget *title, *name, *kind, *allowance;
  GtkWidget *corners[2]; /* at its start, at its end */
  GtkWidget *corner_labels[2];
  GtkWidget *length, *which_end, *radius, *runs;
  GtkWidget *clips_label, *clips, *spacing_label, *spacing, *ply, *beside;
  GtkWidget *same, *seams_none, *seams, *tape, *square, *draw;
  char *seams_key;
} EdgePage;

static int
edge_index (AppPage *page, const Pattern *pattern, const PatternPiece **piece)
{
  *piece = pattern_get_piece (pattern, page->piece);
  return *piece != NULL ? pattern_piece_find_edge (*piece, page->id) : -1;
}

static void
set_name (AppPage *page, const char *name)
{
  GError *error = NULL;
  Pattern *p = drafting_set_edge_name (app_page_pattern (page), page->piece,
                                       page->id, name, &error);
  app_page_do (page, _ ("name an edge"), NULL, p, &error);
}

static void
name_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  set_name (page, app_field_get_text (field));
}

static void
trade_name_picked (GtkListBox *list, GtkListBoxRow *row, AppPage *page)
{
  GtkWidget *popover
      = gtk_widget_get_ancestor (GTK_WIDGET (list), GTK_TYPE_POPOVER);
  gtk_popover_popdown (GTK_POPOVER (popover));
  guint n;
  const DraftingEdgeName *names = drafting_edge_names (&n);
  GError *error = NULL;
  Pattern *p = drafting_name_edge (
      app_page_pattern (page), page->piece, page->id,
      _ (names[gtk_list_box_row_get_index (row)].name), &error);
  app_page_do (page, _ ("name an edge"), NULL, p, &error);
}

static void
kind_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  if (page->updating)
    return;
  GError *error = NULL;
  Pattern *p = drafting_set_edge_kind (
      app_page_pattern (page), page->piece, page->id,
      (PatternEdgeKind)gtk_drop_down_get_selected (drop), &error);
  app_page_do (page, _ ("change what an edge is"), NULL, p, &error);
}

static void
allowance_entered (AppField *field, gboolean step, AppPage *page)
{
  GError *error = NULL;
  Pattern *p
      = drafting_set_allowance (app_page_pattern (page), page->piece, page->id,
                                app_field_get_value (field), &error);
  app_page_do (page, _ ("set an allowance"), step ? "allowance" : NULL, p,
               &error);
}

/* 0 is as computed. */
static void
spacing_entered (AppField *field, gboolean step, AppPage *page)
{
  GError *error = NULL;
  Pattern *p = drafting_set_clip_spacing (app_page_pattern (page), page->piece,
                                          page->id, app_field_get_value (field),
                                          &error);
  app_page_do (page, _ ("set the spacing of clips"), step ? "clips" : NULL, p,
               &error);
}

static void
length_entered (AppField *field, gboolean step, AppPage *page)
{
  EdgePage *self = (EdgePage *)page;
  GError *error = NULL;
  gboolean at_start
      = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->which_end)) == 1;
  Pattern *p = drafting_set_edge_length (app_page_pattern (page), page->piece,
                                         page->id, app_field_get_value (field),
                                         at_start, &error);
  app_page_do (page, _ ("set an edge's length"), step ? "edge-length" : NULL, p,
               &error);
}

static void
which_end_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)drop;
  (void)spec;
  (void)page; /* looked at when a length is entered */
}

/* --- corners: a treatment and whose allowance governs, as one choice ------------------ */

enum
{
  CORNER_EXTENDED,
  CORNER_SQUARED_THIS,
  CORNER_SQUARED_OTHER,
  CORNER_MATCHED_THIS,
  CORNER_MATCHED_OTHER,
  CORNER_FOLDED_THIS,
  CORNER_FOLDED_OTHER,
};

/* At an edge's start it is the leaving edge, at its end the arriving one. */
static guint
corner_to_choice (GeoCorner corner, int end)
{
  GeoCornerGovernor this_one
      = end == 0 ? GEO_CORNER_BY_LEAVING : GEO_CORNER_BY_ARRIVING;
  guint other = corner.governor == this_one ? 0 : 1;
  switch (corner.kind)
    {
    case GEO_CORNER_SQUARED:
      return CORNER_SQUARED_THIS + other;
    case GEO_CORNER_MATCHED:
      return CORNER_MATCHED_THIS + other;
    case GEO_CORNER_FOLDED_BACK:
      return CORNER_FOLDED_THIS + other;
    case GEO_CORNER_EXTENDED:
    default:
      return CORNER_EXTENDED;
    }
}

static GeoCorner
corner_of_choice (guint choice, int end)
{
  static const GeoCornerKind kinds[]
      = { GEO_CORNER_EXTENDED,   GEO_CORNER_SQUARED, GEO_CORNER_SQUARED,
          GEO_CORNER_MATCHED,    GEO_CORNER_MATCHED, GEO_CORNER_FOLDED_BACK,
          GEO_CORNER_FOLDED_BACK };
  gboolean this_one = choice == CORNER_SQUARED_THIS
                      || choice == CORNER_MATCHED_THIS
                      || choice == CORNER_FOLDED_THIS;
  return (GeoCorner){ kinds[choice], this_one == (end == 0)
                                         ? GEO_CORNER_BY_LEAVING
                                         : GEO_CORNER_BY_ARRIVING };
}

/* The edge whose start is that end of this one. */
static const PatternEdge *
corner_edge (const PatternPiece *piece, int index, int end)
{
  return &piece->edges[((guint)index + (guint)end) % piece->n_edges];
}

static void
corner_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  const PatternPiece *piece;
  int index = edge_index (page, app_page_pattern (page), &piece);
  int end = drop == (gpointer)((EdgePage *)page)->corners[1];
  if (page->updating || index < 0)
    return;
  GError *error = NULL;
  GeoCorner corner = corner_of_choice (gtk_drop_down_get_selected (drop), end);
  Pattern *p = drafting_set_corner (app_page_pattern (page), page->piece,
                                    corner_edge (piece, index, end)->id, corner,
                                    &error);
  app_page_do (page, _ ("change a corner"), NULL, p, &error);
}

/* --- verbs ------------------------------------------------------------------- */

static void
notch_added (GtkButton *button, AppPage *page)
{
  (void)button;
  GError *error = NULL;
  guint notch = 0;
  AppSession *session = page->session;
  guint piece = page->piece;
  Pattern *p = drafting_add_notch (app_page_pattern (page), piece, page->id, 1,
                                   PATTERN_FRACTION, 0.5, &notch, &error);
  if (app_page_do (page, _ ("add a notch"), NULL, p, &error))
    app_session_pick_mark (session, piece, notch);
}

static void
joined (GtkButton *button, AppPage *page)
{
  (void)button;
  GError *error = NULL;
  Pattern *p = drafting_join_edge (app_page_pattern (page), page->piece,
                                   page->id, &error);
  app_page_do (page, _ ("join two edges"), NULL, p, &error);
}

static void
piece_picked (GtkButton *button, AppPage *page)
{
  (void)button;
  app_session_pick_piece (page->session, page->piece, FALSE);
}

static void
seam_picked (GtkButton *button, AppPage *page)
{
  app_session_pick_seam (page->session, GPOINTER_TO_UINT (g_object_get_data (
                                            G_OBJECT (button), "id")));
}

/* --- the allowance across the seam ------------------------------------------------------ */

/* The first seam of the edge whose other side is cut with another allowance, or 0. */
static guint
uneven_seam (AppPage *page, const Pattern *pattern)
{
  const PatternSeam *seam;
  for (guint n = 0; (seam = pattern_edge_seam (pattern, page->piece, page->id,
                                               n, NULL, NULL))
                    != NULL;
       n++)
    {
      const SewingSeam *facts = sewing_facts_seam (
          app_session_get_facts (page->session), pattern, seam);
      if (facts != NULL && !sewing_seam_allowances_match (pattern, facts))
        return seam->id;
    }
  return 0;
}

static void
same_clicked (GtkButton *button, AppPage *page)
{
  (void)button;
  const Pattern *pattern = app_page_pattern (page);
  const PatternEdge *edge
      = pattern_get_edge (pattern, page->piece, page->id, NULL);
  guint seam = uneven_seam (page, pattern);
  if (edge == NULL || seam == 0)
    return;
  GError *error = NULL;
  Pattern *p
      = drafting_set_seam_allowance (pattern, seam, edge->allowance, &error);
  app_page_do (page, _ ("set a seam's allowance"), NULL, p, &error);
}

/* --- showing ------------------------------------------------------------------- */

static void
add_seam_row (EdgePage *self, const PatternSeam *seam)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *name = app_ui_paragraph ("", NULL);
  GtkWidget *state = app_ui_paragraph ("", "dim");
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), state);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "seam-row");
  gtk_widget_set_tooltip_text (button, _ ("Pick this seam"));
  g_object_set_data (G_OBJECT (button), "id", GUINT_TO_POINTER (seam->id));
  g_object_set_data (G_OBJECT (button), "name", name);
  g_object_set_data (G_OBJECT (button), "state", state);
  g_signal_connect (button, "clicked", G_CALLBACK (seam_picked), self);
  gtk_box_append (GTK_BOX (self->seams), button);
}

static void
show_seam_row (EdgePage *self, const Pattern *pattern, GtkWidget *row,
               const PatternSeam *seam)
{
  GtkWidget *state = g_object_get_data (G_OBJECT (row), "state");
  g_autofree char *name = app_words_seam (pattern, seam);
  app_ui_set_text (g_object_get_data (G_OBJECT (row), "name"), name);
  const SewingSeam *facts = sewing_facts_seam (
      app_session_get_facts (self->page.session), pattern, seam);
  gboolean out = FALSE;
  g_autofree char *words = facts != NULL
                               ? app_words_seam_state (pattern, facts, &out)
                               : g_strdup (_ ("one side is empty"));
  app_ui_set_text (state, words);
  if (out)
    gtk_widget_add_css_class (state, "out");
  else
    gtk_widget_remove_css_class (state, "out");
}

static void
show_seams (EdgePage *self, const Pattern *pattern)
{
  guint piece = self->page.piece, edge = self->page.id;
  const PatternSeam *seam;
  g_autoptr (GString) key = g_string_new ("-");
  for (guint n = 0;
       (seam = pattern_edge_seam (pattern, piece, edge, n, NULL, NULL)) != NULL;
       n++)
    g_string_append_printf (key, "%u ", seam->id);
  if (g_strcmp0 (key->str, self->seams_key) != 0)
    {
      g_free (self->seams_key);
      self->seams_key = g_strdup (key->str);
      app_ui_clear (self->seams);
      for (guint n = 0;
           (seam = pattern_edge_seam (pattern, piece, edge, n, NULL, NULL))
           != NULL;
           n++)
        add_seam_row (self, seam);
    }
  GtkWidget *row = gtk_widget_get_first_child (self->seams);
  gtk_widget_set_visible (self->seams_none, row == NULL);
  for (guint n = 0; row != NULL; n++)
    {
      seam = pattern_edge_seam (pattern, piece, edge, n, NULL, NULL);
      if (seam != NULL)
        show_seam_row (self, pattern, row, seam);
      row = gtk_widget_get_next_sibling (row);
    }
}

static char *
neighbour_name (const PatternPiece *piece, int index, int by)
{
  guint i = ((guint)index + piece->n_edges + (guint)by) % piece->n_edges;
  const PatternEdge *edge = &piece->edges[i];
  return edge->name[0] != '\0' ? g_strdup (edge->name)
                               : g_strdup_printf (_ ("edge %u"), i + 1);
}

static void
show_corners (EdgePage *self, const PatternPiece *piece, int index)
{
  for (int end = 0; end < 2; end++)
    {
      g_autofree char *name = neighbour_name (piece, index, end == 0 ? -1 : 1);
      g_autofree char *label = g_strdup_printf (_ ("At %s"), name);
      app_ui_set_text (self->corner_labels[end], label);
      gtk_drop_down_set_selected (
          GTK_DROP_DOWN (self->corners[end]),
          corner_to_choice (corner_edge (piece, index, end)->corner, end));
    }
  g_autofree char *before = neighbour_name (piece, index, -1);
  g_autofree char *after = neighbour_name (piece, index, 1);
  g_autofree char *runs = g_strdup_printf (_ ("%s to %s"), before, after);
  app_ui_set_text (self->runs, runs);
}

/* Spacing by hand only where there is something to cut; the computed one and the
 * handbooks' beside it. */
static void
show_clips (EdgePage *self, const Pattern *pattern)
{
  SewingAllowance a;
  gboolean known
      = sewing_facts_allowance (app_session_get_facts (self->page.session),
                                pattern, self->page.piece, self->page.id, &a);
  gboolean cuts
      = known && a.seam != NULL && (a.computed->count > 0 || a.by_hand > 0);
  g_autofree char *text
      = known ? sewing_allowance_text (pattern, &a) : g_strdup ("");
  app_ui_set_text (self->ply, text);
  gtk_widget_set_visible (self->ply, known);
  gtk_widget_set_visible (self->spacing, cuts);
  gtk_widget_set_visible (self->spacing_label, cuts);
  gtk_widget_set_visible (self->beside, cuts);
  if (!cuts)
    return;
  app_field_set_unit (APP_FIELD (self->spacing), pattern->unit);
  if (a.by_hand > 0)
    app_field_set_value (APP_FIELD (self->spacing), a.by_hand);
  else
    app_field_set_mixed (APP_FIELD (self->spacing), _ ("as computed"));
  g_autofree char *computed = app_words_clips (a.computed, pattern->unit);
  g_autofree char *handbooks = sewing_handbook_text (pattern);
  g_autofree char *both
      = a.by_hand > 0
            ? g_strdup_printf (_ ("Computed: %s. %s"), computed, handbooks)
            : g_strdup (handbooks);
  app_ui_set_text (self->beside, both);
}

static void
show_measures (EdgePage *self, const Pattern *pattern,
               const PatternPiece *piece, int index)
{
  SewingFacts *all = app_session_get_facts (self->page.session);
  const SewingPiece *facts = sewing_facts_piece (all, piece);
  app_field_set_unit (APP_FIELD (self->length), pattern->unit);
  app_field_set_value (APP_FIELD (self->length), facts->lengths[index]);
  double radius = geo_chain_tightest (&facts->stitch[index], 0, NULL);
  g_autofree char *words = sewing_words_radius (pattern, radius);
  app_ui_set_text (self->radius, words);
  const GeoClipPlan *plan
      = sewing_facts_clips (all, pattern, self->page.piece, self->page.id);
  g_autofree char *clips = app_words_clips (plan, pattern->unit);
  app_ui_set_text (self->clips, clips);
  show_clips (self, pattern);
}

static void
update (AppPage *page)
{
  EdgePage *self = (EdgePage *)page;
  const Pattern *pattern = app_page_shown (page);
  const PatternPiece *piece;
  int index = edge_index (page, pattern, &piece);
  gtk_widget_set_sensitive (page->box, index >= 0);
  if (index < 0)
    return;
  const PatternEdge *edge = &piece->edges[index];
  g_autofree char *title = app_words_edge (pattern, page->piece, page->id);
  app_page_set_title (self->title, title);
  app_field_set_text (APP_FIELD (self->name), edge->name);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->kind), (guint)edge->kind);
  app_field_set_unit (APP_FIELD (self->allowance), pattern->unit);
  app_field_set_value (APP_FIELD (self->allowance), edge->allowance);
  /* Fold, bound and raw edges are cut on the line itself. */
  gtk_widget_set_sensitive (self->allowance,
                            edge->kind == PATTERN_EDGE_SEAM
                                || edge->kind == PATTERN_EDGE_HEM);
  gtk_widget_set_visible (self->same, gtk_widget_get_sensitive (self->allowance)
                                          && uneven_seam (page, pattern) != 0);
  show_corners (self, piece, index);
  show_measures (self, pattern, piece, index);
  show_seams (self, pattern);
  app_tape_line_show (self->tape, pattern);
  gtk_widget_set_visible (self->square, edge->kind == PATTERN_EDGE_FOLD);
  gtk_widget_set_visible (self->draw, pattern->n_pictures > 0);
}

static void
clear (AppPage *page)
{
  g_free (((EdgePage *)page)->seams_key);
}

static GtkWidget *
make_trade_names (EdgePage *self)
{
  GtkWidget *button = gtk_menu_button_new ();
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "pan-down-symbolic");
  app_ui_tip (button, _ ("Usual names"), NULL);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (
      GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroller),
                                              360);
  GtkWidget *list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (list, "names");
  guint n;
  const DraftingEdgeName *names = drafting_edge_names (&n);
  for (guint i = 0; i < n; i++)
    gtk_list_box_append (GTK_LIST_BOX (list),
                         app_ui_label (_ (names[i].name), NULL));
  g_signal_connect (list, "row-activated", G_CALLBACK (trade_name_picked),
                    self);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), list);
  gtk_popover_set_child (GTK_POPOVER (popover), scroller);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), popover);
  return button;
}

static void
make_name (EdgePage *self, GtkWidget *rows)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (line, "linked");
  self->name = app_field_new (APP_FIELD_TEXT, _ ("Name"));
  gtk_widget_set_hexpand (self->name, TRUE);
  g_signal_connect (self->name, "entered", G_CALLBACK (name_entered), self);
  gtk_box_append (GTK_BOX (line), self->name);
  gtk_box_append (GTK_BOX (line), make_trade_names (self));
  app_ui_rows_add (rows, _ ("Name"), line);
}

static void
make_corners (EdgePage *self)
{
  const char *const words[]
      = { _ ("Run on until they meet"),   _ ("Squared off this edge"),
          _ ("Squared off the other"),    _ ("Matched, this edge leads"),
          _ ("Matched, the other leads"), _ ("Folded back, this edge"),
          _ ("Folded back, the other"),   NULL };
  GtkWidget *rows = app_page_section (&self->page, _ ("Allowance at corners"));
  for (int end = 0; end < 2; end++)
    {
      self->corner_labels[end] = app_ui_label ("", "row-label");
      gtk_label_set_ellipsize (GTK_LABEL (self->corner_labels[end]),
                               PANGO_ELLIPSIZE_END);
      app_ui_rows_add_wide (rows, self->corner_labels[end]);
      self->corners[end]
          = app_ui_drop_down (words, end == 0 ? _ ("Corner at its start")
                                              : _ ("Corner at its end"));
      gtk_widget_set_tooltip_text (
          self->corners[end],
          _ ("How the cutting line goes round this corner, and which of the "
             "two edges it goes by"));
      g_signal_connect (self->corners[end], "notify::selected",
                        G_CALLBACK (corner_chosen), self);
      app_ui_rows_add_wide (rows, self->corners[end]);
    }
}

static void
make_spacing (EdgePage *self, GtkWidget *rows)
{
  self->spacing = app_field_new (APP_FIELD_LENGTH, _ ("Cut every"));
  self->spacing_label = app_ui_rows_add (rows, _ ("Cut every"), self->spacing);
  app_field_set_range (APP_FIELD (self->spacing), 0, 200);
  gtk_widget_set_tooltip_text (
      self->spacing, _ ("Slits and wedges at a spacing of your own; 0 has it "
                        "computed again"));
  g_signal_connect (self->spacing, "entered", G_CALLBACK (spacing_entered),
                    self);
  self->beside = app_ui_paragraph ("", "dim");
  app_ui_rows_add_wide (rows, self->beside);
  self->ply = app_ui_paragraph ("", "dim");
  app_ui_rows_add_wide (rows, self->ply);
}

static void
fair_clicked (GtkButton *button, AppPage *page)
{
  (void)button;
  gtk_widget_activate_action (page->box, "win.fair", NULL);
}

static void
true_clicked (GtkButton *button, AppPage *page)
{
  (void)button;
  gtk_widget_activate_action (page->box, "win.true", NULL);
}

static void
begin_verb (AppPage *page, const char *verb)
{
  gtk_widget_activate_action (page->box, "win.draft", "s", verb);
}

static void
straighten_clicked (GtkButton *button, AppPage *page)
{
  (void)button;
  begin_verb (page, "straighten-edge");
}

static void
square_clicked (GtkButton *button, AppPage *page)
{
  (void)button;
  begin_verb (page, "square-fold");
}

static void
names_clicked (GtkButton *button, AppPage *page)
{
  (void)button;
  gtk_widget_activate_action (page->box, "win.name-edges", NULL);
}

static void
draw_clicked (GtkButton *button, AppPage *page)
{
  (void)button;
  app_draw_edge (page);
}

AppPage *
app_page_edge_new (AppSession *session)
{
  EdgePage *self = app_page_new (sizeof *self, session, update);
  AppPage *page = &self->page;
  page->clear = clear;
  const char *const ends[]
      = { _ ("moving its end"), _ ("moving its start"), NULL };
  const char *const kinds[] = { app_words_edge_kind (PATTERN_EDGE_SEAM),
                                app_words_edge_kind (PATTERN_EDGE_HEM),
                                app_words_edge_kind (PATTERN_EDGE_FOLD),
                                app_words_edge_kind (PATTERN_EDGE_BOUND),
                                app_words_edge_kind (PATTERN_EDGE_RAW),
                                NULL };
  self->title = app_page_title (page, _ ("Edge"));
  GtkWidget *rows = app_page_section (page, NULL);
  make_name (self, rows);
  self->kind = app_page_drop (page, rows, kinds, _ ("Kind"), kind_chosen);
  gtk_widget_set_tooltip_text (self->kind,
                               _ ("What is done with this edge in sewing"));
  self->allowance = app_page_field (page, rows, APP_FIELD_LENGTH,
                                    _ ("Allowance"), allowance_entered);
  app_field_set_range (APP_FIELD (self->allowance), 0, 500);
  self->same = app_ui_text_button (
      _ ("Same on the other side"),
      _ ("Give the other edges of its seam this allowance too"));
  gtk_widget_add_css_class (self->same, "quiet");
  gtk_widget_set_halign (self->same, GTK_ALIGN_END);
  g_signal_connect (self->same, "clicked", G_CALLBACK (same_clicked), self);
  app_ui_rows_add_wide (rows, self->same);

  rows = app_page_section (page, _ ("Measure"));
  self->length = app_page_field (page, rows, APP_FIELD_LENGTH, _ ("Length"),
                                 length_entered);
  self->which_end
      = app_page_drop (page, rows, ends, _ ("Changed by"), which_end_chosen);
  self->radius = app_ui_value ();
  app_ui_rows_add (rows, _ ("Tightest radius"), self->radius);
  gtk_widget_set_tooltip_text (
      self->radius, _ ("Of the largest round thing that fits the edge's "
                       "tightest bend"));
  gtk_widget_set_tooltip_text (
      self->which_end, _ ("Which end of the edge gives way when you type a "
                          "length"));
  self->tape = app_tape_line_new (page);
  app_ui_rows_add_wide (rows, self->tape);
  self->runs = app_ui_value ();
  app_ui_rows_add (rows, _ ("Runs from"), self->runs);
  self->clips = app_ui_value ();
  self->clips_label = app_ui_rows_add (rows, _ ("Clips"), self->clips);
  make_spacing (self, rows);

  gtk_box_append (GTK_BOX (page->box), app_ui_heading (_ ("Its seams")));
  self->seams_none = app_ui_paragraph (
      _ ("Sewn to nothing yet. Baste (B) pairs two edges."), "dim");
  gtk_box_append (GTK_BOX (page->box), self->seams_none);
  self->seams = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (page->box), self->seams);
  make_corners (self);

  GtkWidget *buttons = app_page_buttons (page);
  app_page_button (page, buttons, _ ("Add a notch"),
                   _ ("Halfway along the edge"), notch_added);
  app_page_button (page, buttons, _ ("Make it fair"),
                   _ ("Even out its curvature within a distance (Shift+F)"),
                   fair_clicked);
  app_page_button (page, buttons, _ ("True it"),
                   _ ("Lay the pieces together where it runs on across a seam "
                      "(J)"),
                   true_clicked);
  app_page_button (page, buttons, _ ("Straighten"),
                   _ ("Make all of it one straight line"), straighten_clicked);
  self->square = app_page_button (
      page, buttons, _ ("Square to the fold"),
      _ ("Make both lines that meet this fold leave it at 90°"),
      square_clicked);
  self->draw = app_page_button (
      page, buttons, _ ("Draw to the picture"),
      _ ("Move it onto the line or border that the picture shows within 3 mm"),
      draw_clicked);
  app_page_button (page, buttons, _ ("Name the edges"),
                   _ ("All edges of the piece, one after the other (N)"),
                   names_clicked);
  app_page_button (page, buttons, _ ("Join to previous"),
                   _ ("Make one edge of this one and the one before it"),
                   joined);
  app_page_button (page, buttons, _ ("Pick the piece"), NULL, piece_picked);
  return page;
}
