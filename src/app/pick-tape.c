/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pick-tape.h"

#include <glib/gi18n.h>
#include <math.h>

#include "drafting/tape.h"
#include "sewing/words.h"

typedef struct
{
  AppPage *page;
  GtkWidget *list, *words, *even, *two, *none;
  char *key;
} Rows;

static guint
figure_of (gpointer widget)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "figure"));
}

static void
set_argument (PatternStep *step, const char *key, double mm)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *text
      = g_strdup_printf ("%s mm", g_ascii_dtostr (number, sizeof number, mm));
  pattern_step_set (step, key, text);
}

/* "12/7 12/8", or NULL for a distance. */
static char *
edges_text (const DraftingTape *tape)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < tape->n_runs; i++)
    g_string_append_printf (text, "%s%u/%u", i ? " " : "", tape->runs[i].piece,
                            tape->runs[i].edge);
  return g_string_free (text, tape->n_runs == 0);
}

static void
told (AppPage *page, const DraftingTape *tape, const char *verb, double mm)
{
  g_autoptr (PatternStep) step = pattern_step_new (verb);
  g_autofree char *edges = edges_text (tape);
  if (edges)
    pattern_step_set (step, "edges", edges);
  else
    for (int i = 0; i < 2; i++)
      {
        g_autofree char *node
            = g_strdup_printf ("%u/n%u", tape->piece, tape->nodes[i]);
        pattern_step_set (step, i == 0 ? "from" : "to", node);
      }
  set_argument (step, "length", mm);
  app_session_tell_step (page->session, step);
}

static void
set_tape (AppPage *page, const DraftingTape *tape, double mm)
{
  GError *error = NULL;
  Pattern *p
      = drafting_set_tape (app_page_pattern (page), tape->runs, tape->n_runs,
                           tape->piece, tape->nodes, mm, NULL, &error);
  if (p)
    told (page, tape, "set-tape", mm);
  app_page_do (page, _ ("note what the tape says"), NULL, p, &error);
}

static void
forget (AppPage *page, guint figure)
{
  Pattern *p = pattern_dup (app_page_pattern (page));
  pattern_remove_figure (p, figure);
  app_page_do (page, _ ("forget a measure"), NULL, p, NULL);
}

static void
bring (AppPage *page, const DraftingTape *tape)
{
  GError *error = NULL;
  const Pattern *now = app_page_pattern (page);
  Pattern *p
      = tape->n_runs > 0
            ? drafting_fit_length (now, tape->runs, tape->n_runs, tape->tape,
                                   DRAFTING_FIT_LEAST, NULL, &error)
            : drafting_fit_distance (now, tape->piece, tape->nodes, tape->tape,
                                     &error);
  if (p)
    told (page, tape, "fit-tape", tape->tape);
  app_page_do (page, _ ("bring to the tape"), NULL, p, &error);
}

/* "+1.2 mm on the piece"; "as the tape says". */
static char *
difference (const Pattern *p, double off)
{
  if (fabs (off) < 0.05)
    return g_strdup (_ ("as the tape says"));
  g_autofree char *words = sewing_words_amount (p, fabs (off));
  return off > 0 ? g_strdup_printf (_ ("the piece has %s more"), words)
                 : g_strdup_printf (_ ("the piece has %s less"), words);
}

static gboolean
find_figure (AppPage *page, guint figure, DraftingTape *found)
{
  g_autoptr (GArray) tapes = drafting_tapes (app_page_pattern (page), 0);
  for (guint i = 0; i < tapes->len; i++)
    {
      DraftingTape *tape = &g_array_index (tapes, DraftingTape, i);
      if (tape->figure != figure)
        continue;
      *found = *tape;
      tape->runs = NULL;
      return TRUE;
    }
  return FALSE;
}

/* --- the piece's table -------------------------------------------------------------- */

static void
row_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  DraftingTape tape;
  if (page->updating || !find_figure (page, figure_of (field), &tape))
    return;
  set_tape (page, &tape, app_field_get_value (field));
  drafting_tape_clear (&tape);
}

static void
row_forgotten (GtkButton *button, AppPage *page)
{
  forget (page, figure_of (button));
}

static void
row_brought (GtkButton *button, AppPage *page)
{
  DraftingTape tape;
  if (!find_figure (page, figure_of (button), &tape))
    return;
  bring (page, &tape);
  drafting_tape_clear (&tape);
}

static void
scale (AppPage *page, gboolean two)
{
  GError *error = NULL;
  Pattern *p
      = drafting_tape_scale (app_page_pattern (page), page->id, two, &error);
  if (p)
    {
      g_autoptr (PatternStep) step = pattern_step_new ("tape-scale");
      g_autofree char *piece = g_strdup_printf ("%u", page->id);
      pattern_step_set (step, "piece", piece);
      pattern_step_set (step, "way", two ? "two" : "even");
      app_session_tell_step (page->session, step);
    }
  app_page_do (page, _ ("even out to the tape"), NULL, p, &error);
}

static void
evened (GtkButton *button, AppPage *page)
{
  (void)button;
  scale (page, FALSE);
}

static void
evened_two (GtkButton *button, AppPage *page)
{
  (void)button;
  scale (page, TRUE);
}

/* What was measured: "neck", "neck and 2 more", "between two nodes". */
static char *
words_of (const Pattern *p, const DraftingTape *tape)
{
  const PatternPiece *piece = pattern_get_piece (p, tape->piece);
  if (tape->n_runs == 0)
    return g_strdup (_ ("between two nodes"));
  int index = pattern_piece_find_edge (piece, tape->runs[0].edge);
  const char *name = piece->edges[index].name;
  g_autofree char *number = g_strdup_printf (_ ("edge %d"), index + 1);
  const char *first = *name ? name : number;
  return tape->n_runs == 1
             ? g_strdup (first)
             : g_strdup_printf (_ ("%s and %u more"), first, tape->n_runs - 1);
}

static GtkWidget *
icon (AppPage *page, const char *name, const char *tip, guint figure,
      GCallback clicked)
{
  GtkWidget *button = app_ui_icon_button (name, tip, NULL, NULL);
  g_object_set_data (G_OBJECT (button), "figure", GUINT_TO_POINTER (figure));
  g_signal_connect (button, "clicked", clicked, page);
  return button;
}

static void
add_row (Rows *self, guint figure)
{
  AppPage *page = self->page;
  GtkWidget *card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_add_css_class (card, "card");
  GtkWidget *what = app_ui_paragraph ("", NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *field = app_field_new (APP_FIELD_LENGTH, _ ("By tape"));
  app_field_set_range (APP_FIELD (field), 0.1, 1e5);
  gtk_widget_set_tooltip_text (field, _ ("What the tape says"));
  gtk_widget_set_hexpand (field, TRUE);
  g_object_set_data (G_OBJECT (field), "figure", GUINT_TO_POINTER (figure));
  g_signal_connect (field, "entered", G_CALLBACK (row_entered), page);
  gtk_box_append (GTK_BOX (line), field);
  gtk_box_append (GTK_BOX (line),
                  icon (page, "object-select-symbolic",
                        _ ("Bring only this one to what the tape says"), figure,
                        G_CALLBACK (row_brought)));
  gtk_box_append (GTK_BOX (line),
                  icon (page, "user-trash-symbolic", _ ("Forget this measure"),
                        figure, G_CALLBACK (row_forgotten)));
  GtkWidget *off = app_ui_paragraph ("", "dim");
  gtk_box_append (GTK_BOX (card), what);
  gtk_box_append (GTK_BOX (card), line);
  gtk_box_append (GTK_BOX (card), off);
  g_object_set_data (G_OBJECT (card), "what", what);
  g_object_set_data (G_OBJECT (card), "field", field);
  g_object_set_data (G_OBJECT (card), "off", off);
  gtk_box_append (GTK_BOX (self->list), card);
}

static void
show_row (GtkWidget *card, const Pattern *p, const DraftingTape *tape)
{
  GObject *o = G_OBJECT (card);
  g_autofree char *what = words_of (p, tape);
  g_autofree char *length = sewing_words_length (p, tape->length);
  g_autofree char *both = g_strdup_printf (_ ("%s: %s"), what, length);
  g_autofree char *off = difference (p, tape->length - tape->tape);
  app_ui_set_text (g_object_get_data (o, "what"), both);
  app_ui_set_text (g_object_get_data (o, "off"), off);
  AppField *field = g_object_get_data (o, "field");
  app_field_set_unit (field, p->unit);
  app_field_set_value (field, tape->tape);
}

/* What evening out would do, or why it would not. */
static void
show_fit (Rows *self, const Pattern *p)
{
  DraftingTapeFit fit;
  g_autoptr (GError) error = NULL;
  gboolean can = drafting_tape_fit (p, self->page->id, FALSE, &fit, &error);
  if (can)
    {
      g_autofree char *before = sewing_words_amount (p, fit.worst[0]);
      g_autofree char *after = sewing_words_amount (p, fit.worst[1]);
      double by = 100 * (fit.across - 1);
      g_autofree char *words = g_strdup_printf (
          by >= 0 ? _ ("Evened out it grows by %.2f %%; at worst it is then %s "
                       "off the tape, now %s.")
                  : _ ("Evened out it shrinks by %.2f %%; at worst it is then "
                       "%s off the tape, now %s."),
          fabs (by), after, before);
      app_ui_set_text (self->words, words);
    }
  else
    app_ui_set_text (self->words, error->message);
  drafting_tape_fit_clear (&fit);
  gtk_widget_set_sensitive (self->even, can);
  gtk_widget_set_sensitive (
      self->two, drafting_tape_fit (p, self->page->id, TRUE, &fit, NULL));
  drafting_tape_fit_clear (&fit);
}

void
app_tape_rows_show (GtkWidget *widget, const Pattern *pattern)
{
  Rows *self = g_object_get_data (G_OBJECT (widget), "rows");
  g_autoptr (GArray) tapes = drafting_tapes (pattern, self->page->id);
  g_autoptr (GString) key = g_string_new ("-");
  for (guint i = 0; i < tapes->len; i++)
    g_string_append_printf (key, "%u ",
                            g_array_index (tapes, DraftingTape, i).figure);
  if (g_strcmp0 (key->str, self->key) != 0)
    {
      g_free (self->key);
      self->key = g_strdup (key->str);
      app_ui_clear (self->list);
      for (guint i = 0; i < tapes->len; i++)
        add_row (self, g_array_index (tapes, DraftingTape, i).figure);
    }
  GtkWidget *card = gtk_widget_get_first_child (self->list);
  for (guint i = 0; i < tapes->len && card != NULL; i++)
    {
      show_row (card, pattern, &g_array_index (tapes, DraftingTape, i));
      card = gtk_widget_get_next_sibling (card);
    }
  gtk_widget_set_visible (self->none, tapes->len == 0);
  GtkWidget *const some[] = { self->list, self->words, self->even, self->two };
  for (guint i = 0; i < G_N_ELEMENTS (some); i++)
    gtk_widget_set_visible (some[i], tapes->len > 0);
  if (tapes->len > 0)
    show_fit (self, pattern);
}

static void
rows_free (gpointer data)
{
  g_free (((Rows *)data)->key);
  g_free (data);
}

GtkWidget *
app_tape_rows_new (AppPage *page)
{
  Rows *self = g_new0 (Rows, 1);
  self->page = page;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  g_object_set_data_full (G_OBJECT (box), "rows", self, rows_free);
  gtk_box_append (GTK_BOX (box), app_ui_heading (_ ("By tape")));
  self->none = app_ui_paragraph (
      _ ("To compare with the card or paper: pick an edge, or two nodes, and "
         "type what the tape says."),
      "dim");
  gtk_box_append (GTK_BOX (box), self->none);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_box_append (GTK_BOX (box), self->list);
  self->words = app_ui_paragraph ("", "dim");
  gtk_box_append (GTK_BOX (box), self->words);
  GtkWidget *outer = page->box;
  page->box = box;
  GtkWidget *buttons = app_page_buttons (page);
  self->even = app_page_button (
      page, buttons, _ ("Even out"),
      _ ("Make the whole piece larger or smaller, as near to all measures as "
         "can be"),
      evened);
  self->two = app_page_button (
      page, buttons, _ ("Each way"),
      _ ("Even out by one amount across the grain and another along it"),
      evened_two);
  page->box = outer;
  return box;
}

/* --- the line of an edge or two nodes --------------------------------------------------- */

typedef struct
{
  AppPage *page;
  GtkWidget *field, *off, *bring, *forget;
} Line;

/* What is picked, as it would be measured; FALSE where that is neither an edge nor two nodes. */
static gboolean
picked (AppPage *page, const Pattern *p, PatternRun *run, DraftingTape *tape)
{
  const AppPick *pick = app_session_get_pick (page->session);
  *tape = (DraftingTape){ .piece = pick->piece };
  if (pick->kind == APP_PICK_EDGE
      && pattern_get_edge (p, pick->piece, pick->edge, NULL))
    {
      *run = (PatternRun){ pick->piece, pick->edge, FALSE };
      tape->runs = run;
      tape->n_runs = 1;
      return TRUE;
    }
  if (pick->kind != APP_PICK_NODES || pick->n_ids != 2)
    return FALSE;
  tape->nodes[0] = MIN (pick->ids[0], pick->ids[1]);
  tape->nodes[1] = MAX (pick->ids[0], pick->ids[1]);
  return TRUE;
}

static gboolean
is_same (const DraftingTape *a, const DraftingTape *b)
{
  if (a->piece != b->piece || a->n_runs != b->n_runs)
    return FALSE;
  return a->n_runs == 1
             ? a->runs[0].edge == b->runs[0].edge
             : a->n_runs == 0 && MIN (a->nodes[0], a->nodes[1]) == b->nodes[0]
                   && MAX (a->nodes[0], a->nodes[1]) == b->nodes[1];
}

/* The measure kept of it; FALSE for none. */
static gboolean
find_kept (AppPage *page, const Pattern *p, DraftingTape *kept)
{
  PatternRun run;
  DraftingTape wanted;
  if (!picked (page, p, &run, &wanted))
    return FALSE;
  g_autoptr (GArray) tapes = drafting_tapes (p, wanted.piece);
  for (guint i = 0; i < tapes->len; i++)
    {
      DraftingTape *tape = &g_array_index (tapes, DraftingTape, i);
      if (!is_same (tape, &wanted))
        continue;
      *kept = *tape;
      tape->runs = NULL;
      return TRUE;
    }
  return FALSE;
}

static void
line_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  PatternRun run;
  DraftingTape tape;
  if (!page->updating && picked (page, app_page_pattern (page), &run, &tape))
    set_tape (page, &tape, app_field_get_value (field));
}

static void
line_brought (GtkButton *button, AppPage *page)
{
  (void)button;
  DraftingTape tape;
  if (!find_kept (page, app_page_pattern (page), &tape))
    return;
  bring (page, &tape);
  drafting_tape_clear (&tape);
}

static void
line_forgotten (GtkButton *button, AppPage *page)
{
  (void)button;
  DraftingTape tape;
  if (!find_kept (page, app_page_pattern (page), &tape))
    return;
  forget (page, tape.figure);
  drafting_tape_clear (&tape);
}

void
app_tape_line_show (GtkWidget *widget, const Pattern *pattern)
{
  Line *self = g_object_get_data (G_OBJECT (widget), "line");
  PatternRun run;
  DraftingTape tape;
  gboolean can = picked (self->page, pattern, &run, &tape);
  gtk_widget_set_visible (widget, can);
  if (!can)
    return;
  gboolean kept = find_kept (self->page, pattern, &tape);
  app_field_set_unit (APP_FIELD (self->field), pattern->unit);
  gtk_widget_set_visible (self->off, kept);
  gtk_widget_set_visible (self->bring, kept);
  gtk_widget_set_visible (self->forget, kept);
  if (!kept)
    {
      app_field_set_mixed (APP_FIELD (self->field), _ ("not measured"));
      return;
    }
  app_field_set_value (APP_FIELD (self->field), tape.tape);
  g_autofree char *off = difference (pattern, tape.length - tape.tape);
  app_ui_set_text (self->off, off);
  gtk_widget_set_sensitive (self->bring, fabs (tape.length - tape.tape) > 1e-6);
  drafting_tape_clear (&tape);
}

GtkWidget *
app_tape_line_new (AppPage *page)
{
  Line *self = g_new0 (Line, 1);
  self->page = page;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_object_set_data_full (G_OBJECT (box), "line", self, g_free);
  GtkWidget *rows = app_ui_rows_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->field = app_field_new (APP_FIELD_LENGTH, _ ("By tape"));
  app_field_set_range (APP_FIELD (self->field), 0.1, 1e5);
  gtk_widget_set_hexpand (self->field, TRUE);
  gtk_widget_set_tooltip_text (
      self->field, _ ("What the tape says on the card or paper: it is kept "
                      "with the pattern and can be used in amounts"));
  g_signal_connect (self->field, "entered", G_CALLBACK (line_entered), page);
  self->bring
      = app_ui_icon_button ("object-select-symbolic",
                            _ ("Bring it to what the tape says"), NULL, NULL);
  g_signal_connect (self->bring, "clicked", G_CALLBACK (line_brought), page);
  self->forget = app_ui_icon_button ("user-trash-symbolic",
                                     _ ("Forget this measure"), NULL, NULL);
  g_signal_connect (self->forget, "clicked", G_CALLBACK (line_forgotten), page);
  gtk_box_append (GTK_BOX (line), self->field);
  gtk_box_append (GTK_BOX (line), self->bring);
  gtk_box_append (GTK_BOX (line), self->forget);
  app_ui_rows_add (rows, _ ("By tape"), line);
  self->off = app_ui_paragraph ("", "dim");
  app_ui_rows_add_wide (rows, self->off);
  gtk_box_append (GTK_BOX (box), rows);
  return box;
}
