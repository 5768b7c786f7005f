/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A mark picked: notch, buttonhole, drill mark, text or inner line. */
#include <glib/gi18n.h>
#include <math.h>

#include "app/pick-page.h"

typedef enum
{
  MARK_NONE,
  MARK_NOTCH,
  MARK_BUTTONHOLE,
  MARK_DRILL,
  MARK_TEXT,
  MARK_LINE
} MarkKind;

/* A mark of a piece; one of the pointers is set. */
typedef struct
{
  MarkKind kind;
  const PatternPiece *piece;
  const PatternNotch *notch;
  const PatternButtonhole *hole;
  const PatternDrill *drill;
  const PatternText *text;
  const PatternLine *line;
} Mark;

typedef struct
{
  AppPage page;
  GtkWidget *title;
  GtkWidget *notch_box, *place_box;
  GtkWidget *count, *from, *amount, *share, *at;
  GtkWidget *x, *y, *angle, *size, *words;
  GtkWidget *size_label, *words_label, *angle_label;
} MarkPage;

static Mark
find_mark (const Pattern *pattern, guint piece_id, guint id)
{
  Mark mark = { MARK_NONE };
  const PatternPiece *piece = pattern_get_piece (pattern, piece_id);
  mark.piece = piece;
  if (piece == NULL)
    return mark;
  mark.notch = pattern_piece_get_notch (piece, id);
  if (mark.notch != NULL)
    mark.kind = MARK_NOTCH;
  for (guint i = 0; i < piece->n_buttonholes; i++)
    if (piece->buttonholes[i].id == id)
      {
        mark.kind = MARK_BUTTONHOLE;
        mark.hole = &piece->buttonholes[i];
      }
  for (guint i = 0; i < piece->n_drills; i++)
    if (piece->drills[i].id == id)
      {
        mark.kind = MARK_DRILL;
        mark.drill = &piece->drills[i];
      }
  for (guint i = 0; i < piece->n_texts; i++)
    if (piece->texts[i].id == id)
      {
        mark.kind = MARK_TEXT;
        mark.text = &piece->texts[i];
      }
  for (guint i = 0; i < piece->n_lines; i++)
    if (piece->lines[i].id == id)
      {
        mark.kind = MARK_LINE;
        mark.line = &piece->lines[i];
      }
  return mark;
}

/* --- notches ------------------------------------------------------------------ */

static double
edge_length (AppPage *page, const Mark *mark)
{
  int edge = pattern_piece_find_edge (mark->piece, mark->notch->edge);
  if (edge < 0)
    return 0;
  return sewing_facts_piece (app_session_get_facts (page->session), mark->piece)
      ->lengths[edge];
}

static void
set_notch (AppPage *page, int count, PatternNotchFrom from, double amount,
           const char *merge)
{
  GError *error = NULL;
  Pattern *p = drafting_set_notch (app_page_pattern (page), page->piece,
                                   page->id, count, from, amount, &error);
  app_page_do (page, _ ("change a notch"), merge, p, &error);
}

static void
count_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  Mark mark = find_mark (app_page_pattern (page), page->piece, page->id);
  if (page->updating || mark.notch == NULL)
    return;
  set_notch (page, (int)gtk_drop_down_get_selected (drop) + 1, mark.notch->from,
             mark.notch->amount, NULL);
}

/* The notch stays where it is; only what holds it there is another. */
static void
from_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  Mark mark = find_mark (app_page_pattern (page), page->piece, page->id);
  if (page->updating || mark.notch == NULL)
    return;
  PatternNotchFrom from = (PatternNotchFrom)gtk_drop_down_get_selected (drop);
  double length = edge_length (page, &mark);
  double at = pattern_notch_place (mark.notch, length);
  double amount = from == PATTERN_FROM_START ? at
                  : from == PATTERN_FROM_END ? length - at
                  : length > 0               ? at / length
                                             : 0;
  set_notch (page, mark.notch->count, from, amount, NULL);
}

static void
amount_entered (AppField *field, gboolean step, AppPage *page)
{
  Mark mark = find_mark (app_page_pattern (page), page->piece, page->id);
  if (mark.notch == NULL)
    return;
  double amount = app_field_get_value (field);
  if (field == APP_FIELD (((MarkPage *)page)->share))
    amount /= 100;
  set_notch (page, mark.notch->count, mark.notch->from, amount,
             step ? "notch-amount" : NULL);
}

static void
show_notch (MarkPage *self, const Pattern *pattern, const Mark *mark)
{
  const PatternNotch *notch = mark->notch;
  gboolean fraction = notch->from == PATTERN_FRACTION;
  double length = edge_length (&self->page, mark);
  g_autofree char *title
      = app_words_edge (pattern, self->page.piece, notch->edge);
  app_page_set_title (self->title, title);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->count),
                              (guint)CLAMP (notch->count, 1, 3) - 1);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->from), (guint)notch->from);
  gtk_widget_set_visible (self->share, fraction);
  gtk_widget_set_visible (self->amount, !fraction);
  app_field_set_unit (APP_FIELD (self->amount), pattern->unit);
  app_field_set_range (APP_FIELD (self->amount), 0, length);
  if (fraction)
    app_field_set_value (APP_FIELD (self->share), notch->amount * 100);
  else
    app_field_set_value (APP_FIELD (self->amount), notch->amount);
  double at = pattern_notch_place (notch, length);
  g_autofree char *before = pattern_length_format (at, pattern->unit, FALSE);
  g_autofree char *after
      = pattern_length_format (length - at, pattern->unit, FALSE);
  g_autofree char *words = g_strdup_printf (
      _ ("%s from the edge's start, %s from its end"), before, after);
  app_ui_set_text (self->at, words);
}

/* --- marks inside the piece ------------------------------------------------------ */

static void
place_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)field;
  MarkPage *self = (MarkPage *)page;
  const Pattern *pattern = app_page_pattern (page);
  Mark mark = find_mark (pattern, page->piece, page->id);
  GError *error = NULL;
  Pattern *p = NULL;
  GeoPoint at = { app_field_get_value (APP_FIELD (self->x)),
                  app_field_get_value (APP_FIELD (self->y)) };
  double angle = -app_field_get_value (APP_FIELD (self->angle)) * G_PI / 180;
  double size = app_field_get_value (APP_FIELD (self->size));
  const char *words = app_field_get_text (APP_FIELD (self->words));
  if (mark.kind == MARK_BUTTONHOLE)
    p = drafting_set_buttonhole (pattern, page->piece, page->id, at, angle,
                                 size, &error);
  else if (mark.kind == MARK_DRILL)
    p = drafting_set_drill (pattern, page->piece, page->id, at, &error);
  else if (mark.kind == MARK_TEXT)
    p = drafting_set_text (pattern, page->piece, page->id, at, angle, size,
                           words, &error);
  else
    return;
  app_page_do (page, _ ("change a mark"), step ? "mark" : NULL, p, &error);
}

static void
show_inside (MarkPage *self, const Pattern *pattern, const Mark *mark)
{
  gboolean turned = mark->kind == MARK_BUTTONHOLE || mark->kind == MARK_TEXT;
  GtkWidget *const angles[]
      = { self->angle, self->angle_label, self->size, self->size_label };
  for (guint i = 0; i < G_N_ELEMENTS (angles); i++)
    gtk_widget_set_visible (angles[i], turned);
  gtk_widget_set_visible (self->words, mark->kind == MARK_TEXT);
  gtk_widget_set_visible (self->words_label, mark->kind == MARK_TEXT);
  GtkWidget *const lengths[] = { self->x, self->y, self->size };
  for (guint i = 0; i < G_N_ELEMENTS (lengths); i++)
    app_field_set_unit (APP_FIELD (lengths[i]), pattern->unit);

  GeoPoint at = mark->hole != NULL    ? mark->hole->at
                : mark->drill != NULL ? mark->drill->at
                                      : mark->text->at;
  app_field_set_value (APP_FIELD (self->x), at.x);
  app_field_set_value (APP_FIELD (self->y), at.y);
  if (!turned)
    return;
  double angle = mark->hole != NULL ? mark->hole->angle : mark->text->angle;
  app_field_set_value (APP_FIELD (self->angle), -angle * 180 / G_PI);
  app_field_set_value (APP_FIELD (self->size), mark->hole != NULL
                                                   ? mark->hole->length
                                                   : mark->text->size);
  app_ui_set_text (self->size_label,
                   mark->hole != NULL ? _ ("Length") : _ ("Letter height"));
  if (mark->text != NULL)
    app_field_set_text (APP_FIELD (self->words), mark->text->text);
}

static void
removed (GtkButton *button, AppPage *page)
{
  (void)button;
  app_session_delete_pick (page->session);
}

static const char *
mark_word (MarkKind kind)
{
  switch (kind)
    {
    case MARK_NOTCH:
      return _ ("Notch");
    case MARK_BUTTONHOLE:
      return _ ("Buttonhole");
    case MARK_DRILL:
      return _ ("Drill mark");
    case MARK_TEXT:
      return _ ("Text");
    case MARK_LINE:
      return _ ("Line inside the piece");
    case MARK_NONE:
    default:
      return _ ("Mark");
    }
}

static void
update (AppPage *page)
{
  MarkPage *self = (MarkPage *)page;
  const Pattern *pattern = app_page_shown (page);
  Mark mark = find_mark (pattern, page->piece, page->id);
  gtk_widget_set_sensitive (page->box, mark.kind != MARK_NONE);
  gtk_widget_set_visible (self->notch_box, mark.kind == MARK_NOTCH);
  gtk_widget_set_visible (self->place_box, mark.kind == MARK_BUTTONHOLE
                                               || mark.kind == MARK_DRILL
                                               || mark.kind == MARK_TEXT);
  if (mark.kind == MARK_NONE)
    return;
  app_ui_set_text (gtk_widget_get_first_child (self->title),
                   mark_word (mark.kind));
  app_page_set_title (self->title, mark.piece->name);
  if (mark.kind == MARK_NOTCH)
    show_notch (self, pattern, &mark);
  else if (mark.kind == MARK_LINE)
    app_page_set_title (self->title, mark.line->name);
  else
    show_inside (self, pattern, &mark);
}

static void
make_notch_box (MarkPage *self)
{
  AppPage *page = &self->page;
  const char *const counts[]
      = { _ ("Single"), _ ("Double"), _ ("Triple"), NULL };
  const char *const froms[] = { _ ("The edge's start"), _ ("The edge's end"),
                                _ ("A share of its length"), NULL };
  GtkWidget *outer = page->box;
  self->notch_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_box_append (GTK_BOX (outer), self->notch_box);
  page->box = self->notch_box;
  GtkWidget *rows = app_page_section (page, NULL);
  self->count = app_page_drop (page, rows, counts, _ ("Strokes"), count_chosen);
  self->from = app_page_drop (page, rows, froms, _ ("Held by"), from_chosen);
  gtk_widget_set_tooltip_text (
      self->from, _ ("What the notch keeps its distance from when the edge is "
                     "reshaped"));
  gtk_widget_set_tooltip_text (
      self->count, _ ("Double at the back and single at the front, by custom"));
  GtkWidget *either = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->amount = app_field_new (APP_FIELD_LENGTH, _ ("Distance"));
  g_signal_connect (self->amount, "entered", G_CALLBACK (amount_entered), self);
  self->share = app_field_new (APP_FIELD_NUMBER, _ ("Distance"));
  app_field_set_number (APP_FIELD (self->share), " %", 2, 1);
  app_field_set_range (APP_FIELD (self->share), 0, 100);
  g_signal_connect (self->share, "entered", G_CALLBACK (amount_entered), self);
  gtk_box_append (GTK_BOX (either), self->amount);
  gtk_box_append (GTK_BOX (either), self->share);
  app_ui_rows_add (rows, _ ("Distance"), either);
  self->at = app_ui_paragraph ("", "dim");
  app_ui_rows_add_wide (rows, self->at);
  page->box = outer;
}

static GtkWidget *
place_field (MarkPage *self, GtkWidget *rows, AppFieldKind kind,
             const char *text, GtkWidget **label)
{
  GtkWidget *field = app_field_new (kind, text);
  *label = app_ui_rows_add (rows, text, field);
  g_signal_connect (field, "entered", G_CALLBACK (place_entered), self);
  return field;
}

static void
make_place_box (MarkPage *self)
{
  AppPage *page = &self->page;
  GtkWidget *label;
  GtkWidget *rows = app_ui_rows_new ();
  self->place_box = rows;
  gtk_box_append (GTK_BOX (page->box), rows);
  self->words = place_field (self, rows, APP_FIELD_TEXT, _ ("Text"),
                             &self->words_label);
  self->x = place_field (self, rows, APP_FIELD_LENGTH, _ ("Across"), &label);
  self->y = place_field (self, rows, APP_FIELD_LENGTH, _ ("Down"), &label);
  self->angle = place_field (self, rows, APP_FIELD_NUMBER, _ ("Slant"),
                             &self->angle_label);
  app_field_set_number (APP_FIELD (self->angle), "°", 1, 1);
  app_field_set_range (APP_FIELD (self->angle), -360, 360);
  self->size = place_field (self, rows, APP_FIELD_LENGTH, _ ("Length"),
                            &self->size_label);
  app_field_set_range (APP_FIELD (self->size), 0.5, 500);
}

AppPage *
app_page_mark_new (AppSession *session)
{
  MarkPage *self = app_page_new (sizeof *self, session, update);
  AppPage *page = &self->page;
  self->title = app_page_title (page, _ ("Mark"));
  make_notch_box (self);
  make_place_box (self);
  GtkWidget *buttons = app_page_buttons (page);
  GtkWidget *remove = app_page_button (page, buttons, _ ("Remove"),
                                       _ ("Remove (Delete)"), removed);
  gtk_widget_add_css_class (remove, "destructive");
  return page;
}
