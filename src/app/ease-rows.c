/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/ease-rows.h"

#include <glib/gi18n.h>
#include <math.h>

typedef struct
{
  AppPage *page;
  GtkWidget *cards;
  GtkWidget *adding, *from, *to, *add;
  char *key; /* of the cards there are */
} EaseRows;

/* One span's widgets; freed with its card. */
typedef struct
{
  EaseRows *rows;
  guint from, to; /* notches, as in PatternEaseSpan */
  GtkWidget *where, *amounts[2], *unit, *longer,
      *lost; /* as length, per cent */
} Card;

static const char KEY[] = "bodkin-ease-rows";

static const PatternSeam *
get_seam (EaseRows *rows)
{
  return pattern_get_seam (app_page_pattern (rows->page), rows->page->id);
}

/* What the page shows, and the seam's facts in it; NULL where it is gone. */
static const SewingSeam *
get_facts (EaseRows *rows)
{
  const PatternSeam *seam = get_seam (rows);
  return seam != NULL
             ? sewing_facts_seam (app_session_get_facts (rows->page->session),
                                  app_page_pattern (rows->page), seam)
             : NULL;
}

static const SewingEaseSpan *
find (const SewingSeam *facts, guint from, guint to)
{
  for (guint i = 0; facts != NULL && i < facts->n_spans; i++)
    if (facts->spans[i].span->from == from && facts->spans[i].span->to == to)
      return &facts->spans[i];
  return NULL;
}

static void
set_span (EaseRows *rows, PatternEaseSpan span, const char *label,
          const char *merge)
{
  GError *error = NULL;
  Pattern *p = drafting_set_ease_span (app_page_pattern (rows->page),
                                       rows->page->id, span, &error);
  app_page_do (rows->page, label, merge, p, &error);
}

/* --- marks ------------------------------------------------------------------- */

/* 0 is the seam's start, n_intervals its end. */
static char *
mark_words (const SewingSeam *facts, guint mark)
{
  if (mark == 0)
    return g_strdup (_ ("start"));
  if (mark == facts->n_intervals)
    return g_strdup (_ ("end"));
  return g_strdup_printf ("%u", mark);
}

/* A joint between two pieces has no notch, and no ease can be meant from it. */
static guint
mark_notch (const SewingSeam *facts, guint mark)
{
  if (mark == 0 || mark >= facts->n_intervals)
    return 0;
  const SewingInterval *before = &facts->intervals[mark - 1];
  return before->a_notch != 0 ? before->a_notch : before->b_notch;
}

/* --- a card ------------------------------------------------------------------ */

static void
amount_entered (AppField *field, gboolean step, Card *card)
{
  const PatternSeam *seam = get_seam (card->rows);
  const PatternEaseSpan *old
      = seam != NULL ? pattern_seam_get_span (seam, card->from, card->to)
                     : NULL;
  if (old == NULL)
    return;
  PatternEaseSpan span = *old;
  gboolean a = gtk_drop_down_get_selected (GTK_DROP_DOWN (card->longer)) == 0;
  span.amount = app_field_get_value (field) * (a ? 1 : -1);
  set_span (card->rows, span, _ ("set the ease between notches"),
            step ? "ease-span" : NULL);
}

/* The same ease, told the other way. */
static void
unit_chosen (GtkDropDown *drop, GParamSpec *spec, Card *card)
{
  (void)spec;
  const SewingEaseSpan *known
      = find (get_facts (card->rows), card->from, card->to);
  if (card->rows->page->updating || known == NULL)
    return;
  PatternEaseSpan span = *known->span;
  gboolean per_cent = gtk_drop_down_get_selected (drop) == 1;
  double shorter
      = fmin (known->a_to - known->a_from, known->b_to - known->b_from);
  if (!span.per_cent == !per_cent || known->lost || !(shorter > 0))
    return;
  span.per_cent = per_cent;
  span.amount = per_cent ? 100 * known->ease / shorter : known->ease;
  set_span (card->rows, span, _ ("tell ease in another unit"), NULL);
}

static void
longer_chosen (GtkDropDown *drop, GParamSpec *spec, Card *card)
{
  (void)spec;
  const PatternSeam *seam = get_seam (card->rows);
  const PatternEaseSpan *old
      = seam != NULL ? pattern_seam_get_span (seam, card->from, card->to)
                     : NULL;
  if (card->rows->page->updating || old == NULL)
    return;
  PatternEaseSpan span = *old;
  span.amount
      = fabs (span.amount) * (gtk_drop_down_get_selected (drop) == 0 ? 1 : -1);
  if (span.amount != old->amount)
    set_span (card->rows, span, _ ("change which side is eased"), NULL);
}

static void
removed (GtkButton *button, Card *card)
{
  (void)button;
  GError *error = NULL;
  EaseRows *rows = card->rows;
  Pattern *p = drafting_remove_ease_span (app_page_pattern (rows->page),
                                          rows->page->id, card->from, card->to,
                                          &error);
  app_page_do (rows->page, _ ("mean no ease between notches"), NULL, p, &error);
}

/* Of the two fields one is shown: a drop-down must not go while it is used. */
static void
add_amounts (Card *card, GtkWidget *line, const Pattern *pattern)
{
  for (int i = 0; i < 2; i++)
    {
      const char *name = i == 0 ? _ ("Ease between these marks")
                                : _ ("Ease between these marks, per cent");
      GtkWidget *field
          = app_field_new (i == 0 ? APP_FIELD_LENGTH : APP_FIELD_NUMBER, name);
      app_ui_name (field, name);
      app_field_set_range (APP_FIELD (field), 0, 1000);
      if (i == 0)
        app_field_set_unit (APP_FIELD (field), pattern->unit);
      else
        app_field_set_number (APP_FIELD (field), "%", 1, 0.5);
      gtk_widget_set_hexpand (field, TRUE);
      g_signal_connect (field, "entered", G_CALLBACK (amount_entered), card);
      gtk_box_append (GTK_BOX (line), field);
      card->amounts[i] = field;
    }
}

static void
add_card (EaseRows *rows, const Pattern *pattern, const PatternEaseSpan *span)
{
  const char *const units[] = { _ ("as length"), _ ("per cent"), NULL };
  const char *const unsaid[] = { "", "", NULL };
  Card *card = g_new0 (Card, 1);
  card->rows = rows;
  card->from = span->from;
  card->to = span->to;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (box, "card");
  g_object_set_data_full (G_OBJECT (box), KEY, card, g_free);

  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  card->where = app_ui_label ("", NULL);
  gtk_widget_set_hexpand (card->where, TRUE);
  GtkWidget *remove = app_ui_icon_button ("user-trash-symbolic",
                                          _ ("Mean no ease here"), NULL, NULL);
  g_signal_connect (remove, "clicked", G_CALLBACK (removed), card);
  gtk_box_append (GTK_BOX (line), card->where);
  gtk_box_append (GTK_BOX (line), remove);
  gtk_box_append (GTK_BOX (box), line);

  line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  add_amounts (card, line, pattern);
  card->unit = app_ui_drop_down (units, _ ("Told as"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (card->unit), !!span->per_cent);
  g_signal_connect (card->unit, "notify::selected", G_CALLBACK (unit_chosen),
                    card);
  gtk_box_append (GTK_BOX (line), card->unit);
  gtk_box_append (GTK_BOX (box), line);

  card->longer = app_ui_drop_down (unsaid, _ ("Eased in"));
  g_signal_connect (card->longer, "notify::selected",
                    G_CALLBACK (longer_chosen), card);
  gtk_box_append (GTK_BOX (box), card->longer);
  card->lost = app_ui_paragraph (
      _ ("One of its notches is gone or has no partner, so it counts for "
         "nothing."),
      "out");
  gtk_box_append (GTK_BOX (box), card->lost);
  gtk_box_append (GTK_BOX (rows->cards), box);
}

static void
show_card (Card *card, const SewingSeam *facts, const SewingEaseSpan *span,
           const char *const names[2])
{
  g_autofree char *from = mark_words (facts, span->first);
  g_autofree char *to = mark_words (facts, span->last);
  g_autofree char *where
      = span->lost ? g_strdup (_ ("Between two marks"))
                   : g_strdup_printf (_ ("From %s to %s"), from, to);
  app_ui_set_text (card->where, where);
  int told = span->span->per_cent ? 1 : 0;
  app_field_set_value (APP_FIELD (card->amounts[told]),
                       fabs (span->span->amount));
  gtk_widget_set_visible (card->amounts[told], TRUE);
  gtk_widget_set_visible (card->amounts[1 - told], FALSE);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (card->unit), (guint)told);
  g_autofree char *a = g_strdup_printf (_ ("%s is longer"), names[0]);
  g_autofree char *b = g_strdup_printf (_ ("%s is longer"), names[1]);
  app_ui_drop_down_set_words (card->longer,
                              (const char *const[]){ a, b, NULL });
  if (span->span->amount != 0)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (card->longer),
                                span->span->amount < 0 ? 1 : 0);
  gtk_widget_set_visible (card->lost, span->lost);
}

/* --- adding ------------------------------------------------------------------ */

/* What is there now is what is meant at first: true, until another figure is
 * typed. */
static void
add_clicked (GtkButton *button, EaseRows *rows)
{
  (void)button;
  const SewingSeam *facts = get_facts (rows);
  if (facts == NULL)
    return;
  guint from = gtk_drop_down_get_selected (GTK_DROP_DOWN (rows->from));
  guint to = 1 + gtk_drop_down_get_selected (GTK_DROP_DOWN (rows->to));
  if (from >= to || to > facts->n_intervals)
    return;
  PatternEaseSpan span
      = { mark_notch (facts, from), mark_notch (facts, to), 0, FALSE };
  for (guint i = from; i < to; i++)
    span.amount += facts->intervals[i].difference - facts->intervals[i].meant;
  if (fabs (span.amount) < app_page_pattern (rows->page)->tolerance)
    span.amount = 0;
  if (find (facts, span.from, span.to) == NULL)
    set_span (rows, span, _ ("set ease between notches"), NULL);
}

/* From a mark to a later one, between which none is meant yet. */
static void
choice_changed (GtkDropDown *drop, GParamSpec *spec, EaseRows *rows)
{
  (void)drop;
  (void)spec;
  const SewingSeam *facts = get_facts (rows);
  guint from = gtk_drop_down_get_selected (GTK_DROP_DOWN (rows->from));
  guint to = 1 + gtk_drop_down_get_selected (GTK_DROP_DOWN (rows->to));
  gboolean can
      = facts != NULL && from < to && to <= facts->n_intervals
        && (from == 0 || mark_notch (facts, from) != 0)
        && (to == facts->n_intervals || mark_notch (facts, to) != 0)
        && find (facts, mark_notch (facts, from), mark_notch (facts, to))
               == NULL;
  gtk_widget_set_sensitive (rows->add, can);
}

static void
show_adding (EaseRows *rows, const SewingSeam *facts)
{
  guint n = facts->n_intervals;
  g_auto (GStrv) from = g_new0 (char *, n + 1);
  g_auto (GStrv) to = g_new0 (char *, n + 1);
  for (guint i = 0; i < n; i++)
    {
      from[i] = mark_words (facts, i);
      to[i] = mark_words (facts, i + 1);
    }
  app_ui_drop_down_set_words (rows->from, (const char *const *)from);
  app_ui_drop_down_set_words (rows->to, (const char *const *)to);
  choice_changed (NULL, NULL, rows);
}

/* --- the whole --------------------------------------------------------------- */

void
app_ease_rows_show (GtkWidget *widget, const Pattern *pattern,
                    const SewingSeam *facts, const char *const names[2])
{
  EaseRows *rows = g_object_get_data (G_OBJECT (widget), KEY);
  g_autoptr (GString) key = g_string_new ("-");
  g_string_append_printf (key, "%d ", pattern->unit);
  for (guint i = 0; i < facts->n_spans; i++)
    g_string_append_printf (key, "%u %u, ", facts->spans[i].span->from,
                            facts->spans[i].span->to);
  if (g_strcmp0 (key->str, rows->key) != 0)
    {
      g_free (rows->key);
      rows->key = g_strdup (key->str);
      app_ui_clear (rows->cards);
      for (guint i = 0; i < facts->n_spans; i++)
        add_card (rows, pattern, facts->spans[i].span);
    }
  GtkWidget *box = gtk_widget_get_first_child (rows->cards);
  for (guint i = 0; i < facts->n_spans && box != NULL; i++)
    {
      show_card (g_object_get_data (G_OBJECT (box), KEY), facts,
                 &facts->spans[i], names);
      box = gtk_widget_get_next_sibling (box);
    }
  gtk_widget_set_visible (rows->cards, facts->n_spans > 0);
  show_adding (rows, facts);
}

static void
rows_free (gpointer data)
{
  EaseRows *rows = data;
  g_free (rows->key);
  g_free (rows);
}

GtkWidget *
app_ease_rows_new (AppPage *page)
{
  const char *const none[] = { NULL };
  EaseRows *rows = g_new0 (EaseRows, 1);
  rows->page = page;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_object_set_data_full (G_OBJECT (box), KEY, rows, rows_free);
  rows->cards = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (box), rows->cards);
  /* The button has a line of its own, so that the panel may be narrow. */
  rows->adding = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *between = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  rows->from = app_ui_drop_down (none, _ ("From"));
  rows->to = app_ui_drop_down (none, _ ("To"));
  rows->add = app_ui_text_button (_ ("Set ease here"),
                                  _ ("Ease between these two notches only: "
                                     "what is there now at first, then "
                                     "what you type"));
  gtk_widget_set_hexpand (rows->from, TRUE);
  gtk_widget_set_hexpand (rows->to, TRUE);
  g_signal_connect (rows->from, "notify::selected", G_CALLBACK (choice_changed),
                    rows);
  g_signal_connect (rows->to, "notify::selected", G_CALLBACK (choice_changed),
                    rows);
  g_signal_connect (rows->add, "clicked", G_CALLBACK (add_clicked), rows);
  gtk_box_append (GTK_BOX (between), rows->from);
  gtk_box_append (GTK_BOX (between), app_ui_label (_ ("to"), "dim"));
  gtk_box_append (GTK_BOX (between), rows->to);
  gtk_box_append (GTK_BOX (rows->adding), between);
  gtk_box_append (GTK_BOX (rows->adding), rows->add);
  gtk_box_append (GTK_BOX (box), rows->adding);
  return box;
}
