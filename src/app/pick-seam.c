/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A seam picked. */
#include <glib/gi18n.h>
#include <math.h>

#include "app/pick-seam-private.h"

static const PatternSeam *
get_seam (AppPage *page)
{
  return pattern_get_seam (app_page_pattern (page), page->id);
}

static void
set_seam (AppPage *page, const PatternSeam *with, const char *label,
          const char *merge)
{
  GError *error = NULL;
  Pattern *p = drafting_set_seam (app_page_pattern (page), page->id, with->name,
                                  with->ease, with->press, with->join, &error);
  app_page_do (page, label, merge, p, &error);
}

static void
name_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  const PatternSeam *seam = get_seam (page);
  if (seam == NULL)
    return;
  PatternSeam with = *seam;
  with.name = (char *)app_field_get_text (field);
  set_seam (page, &with, _ ("name a seam"), NULL);
}

static void
ease_entered (AppField *field, gboolean step, AppPage *page)
{
  const PatternSeam *seam = get_seam (page);
  if (seam == NULL)
    return;
  SeamPage *self = (SeamPage *)page;
  guint longer = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->longer));
  PatternSeam with = *seam;
  with.ease = app_field_get_value (field) * (longer == 0 ? 1 : -1);
  set_seam (page, &with, _ ("set the ease"), step ? "ease" : NULL);
}

static void
longer_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  const PatternSeam *seam = get_seam (page);
  if (page->updating || seam == NULL)
    return;
  ((SeamPage *)page)->longer_known = TRUE;
  PatternSeam with = *seam;
  with.ease
      = fabs (seam->ease) * (gtk_drop_down_get_selected (drop) == 0 ? 1 : -1);
  if (with.ease != seam->ease)
    set_seam (page, &with, _ ("change which side is eased"), NULL);
}

static void
allowance_entered (AppField *field, gboolean step, AppPage *page)
{
  GError *error = NULL;
  Pattern *p = drafting_set_seam_allowance (
      app_page_pattern (page), page->id, app_field_get_value (field), &error);
  app_page_do (page, _ ("set a seam's allowance"),
               step ? "seam-allowance" : NULL, p, &error);
}

static void
press_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  const PatternSeam *seam = get_seam (page);
  if (page->updating || seam == NULL)
    return;
  PatternSeam with = *seam;
  with.press = (PatternPress)gtk_drop_down_get_selected (drop);
  set_seam (page, &with, _ ("change how a seam is pressed"), NULL);
}

static void
join_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  const PatternSeam *seam = get_seam (page);
  if (page->updating || seam == NULL)
    return;
  PatternSeam with = *seam;
  with.join = (PatternJoin)gtk_drop_down_get_selected (drop);
  set_seam (page, &with, _ ("change a seam's kind"), NULL);
}

static void
turn_side (AppPage *page, int side)
{
  GError *error = NULL;
  Pattern *p
      = drafting_turn_seam (app_page_pattern (page), page->id, side, &error);
  app_page_do (page, _ ("turn a seam's side"), NULL, p, &error);
}

static void
a_turned (GtkButton *button, AppPage *page)
{
  (void)button;
  turn_side (page, 0);
}

static void
b_turned (GtkButton *button, AppPage *page)
{
  (void)button;
  turn_side (page, 1);
}

static void
removed (GtkButton *button, AppPage *page)
{
  (void)button;
  app_session_delete_pick (page->session);
}

static void
true_at (AppPage *page, int end)
{
  gtk_widget_activate_action (page->box, "win.true-at", "i", end);
}

static void
true_start (GtkButton *button, AppPage *page)
{
  (void)button;
  true_at (page, 0);
}

static void
true_end (GtkButton *button, AppPage *page)
{
  (void)button;
  true_at (page, 1);
}

static void
make_trues (SeamPage *self)
{
  AppPage *page = &self->page;
  const char *tip = _ ("Lay the pieces together here, and true the line that "
                       "runs on across the seam (J)");
  self->true_heading = app_ui_heading (_ ("True across the seam"));
  gtk_box_append (GTK_BOX (page->box), self->true_heading);
  /* Long words: one under the other, so that the panel may be narrow. */
  GtkWidget *buttons = app_page_buttons (page);
  gtk_flow_box_set_min_children_per_line (GTK_FLOW_BOX (buttons), 1);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (buttons), 1);
  self->trues[0] = app_page_button (page, buttons, "", tip, true_start);
  self->trues[1] = app_page_button (page, buttons, "", tip, true_end);
}

static void
clear (AppPage *page)
{
  SeamPage *self = (SeamPage *)page;
  g_free (self->sides_key);
  g_free (self->table_key);
}

static void
make_measures (SeamPage *self)
{
  AppPage *page = &self->page;
  GtkWidget *rows = app_page_section (page, _ ("Measure"));
  for (int side = 0; side < 2; side++)
    {
      self->lengths[side] = app_ui_value ();
      self->length_names[side]
          = app_ui_rows_add (rows, "", self->lengths[side]);
    }
  self->difference = app_ui_value ();
  app_ui_rows_add (rows, _ ("Difference"), self->difference);

  self->table_heading = app_ui_heading (_ ("Between the notches"));
  gtk_box_append (GTK_BOX (page->box), self->table_heading);
  self->table = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->table), 6);
  gtk_grid_set_row_spacing (GTK_GRID (self->table), 3);
  gtk_widget_add_css_class (self->table, "table");
  gtk_box_append (GTK_BOX (page->box), self->table);
  self->loose = app_ui_paragraph ("", "out");
  gtk_box_append (GTK_BOX (page->box), self->loose);

  self->spans = app_ease_rows_new (page);
  gtk_box_append (GTK_BOX (page->box), self->spans);

  rows = app_page_section (page, _ ("Clips"));
  for (int side = 0; side < 2; side++)
    {
      self->clips[side] = app_ui_value ();
      self->clip_names[side] = app_ui_rows_add (rows, "", self->clips[side]);
      self->plies[side] = app_ui_paragraph ("", "dim");
      app_ui_rows_add_wide (rows, self->plies[side]);
    }
  self->stagger = app_ui_paragraph (
      _ ("The cuts of one ply lie between those of the other, so that no two "
         "face."),
      "dim");
  app_ui_rows_add_wide (rows, self->stagger);
}

static void
make_ease (SeamPage *self, GtkWidget *rows)
{
  const char *const unsaid[] = { "", "", NULL };
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->ease = app_field_new (APP_FIELD_LENGTH, _ ("Ease meant"));
  gtk_widget_set_hexpand (self->ease, TRUE);
  app_ui_name (self->ease, _ ("Ease meant"));
  app_field_set_range (APP_FIELD (self->ease), 0, 1000);
  gtk_widget_set_tooltip_text (
      self->ease, _ ("How much longer one side is meant to be than the other"));
  g_signal_connect (self->ease, "entered", G_CALLBACK (ease_entered), self);
  self->ease_share = app_ui_label ("", "figures");
  gtk_box_append (GTK_BOX (line), self->ease);
  gtk_box_append (GTK_BOX (line), self->ease_share);
  app_ui_rows_add (rows, _ ("Ease meant"), line);
  self->longer = app_ui_drop_down (unsaid, _ ("Eased in"));
  g_signal_connect (self->longer, "notify::selected",
                    G_CALLBACK (longer_chosen), self);
  app_ui_rows_add (rows, _ ("Eased in"), self->longer);
  self->too_much = app_ui_paragraph ("", "estimate");
  app_ui_rows_add_wide (rows, self->too_much);
}

/* Its words follow the piece's name. */
static GtkWidget *
make_turn (AppPage *page, void (*turned) (GtkButton *, AppPage *))
{
  GtkWidget *button = app_page_button (
      page, page->box, "",
      _ ("Sewn from its other end: for when the notches run the wrong way"),
      turned);
  GtkWidget *words = app_ui_paragraph ("", NULL);
  gtk_label_set_xalign (GTK_LABEL (words), 0.5F);
  gtk_label_set_justify (GTK_LABEL (words), GTK_JUSTIFY_CENTER);
  gtk_button_set_child (GTK_BUTTON (button), words);
  return button;
}

AppPage *
app_page_seam_new (AppSession *session)
{
  SeamPage *self = app_page_new (sizeof *self, session, app_seam_page_show);
  AppPage *page = &self->page;
  page->clear = clear;
  const char *const unsaid[] = { "", "", "", "", NULL };
  const char *const joins[] = { _ ("Seam"), _ ("Dart"), NULL };

  self->title = app_page_title (page, _ ("Seam"));
  self->state = app_ui_paragraph ("", "state");
  gtk_box_append (GTK_BOX (page->box), self->state);
  self->sides = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (page->box), self->sides);

  GtkWidget *rows = app_page_section (page, NULL);
  self->name
      = app_page_field (page, rows, APP_FIELD_TEXT, _ ("Name"), name_entered);
  self->allowance
      = app_page_field (page, rows, APP_FIELD_LENGTH,
                        _ ("Allowance, both sides"), allowance_entered);
  app_field_set_range (APP_FIELD (self->allowance), 0, 500);
  gtk_widget_set_tooltip_text (
      self->allowance,
      _ ("For every edge of the seam that is cut with an allowance"));
  make_ease (self, rows);
  self->press = app_page_drop (page, rows, unsaid, _ ("Pressed"), press_chosen);
  self->join = app_page_drop (page, rows, joins, _ ("Kind"), join_chosen);
  make_measures (self);
  make_trues (self);

  self->turns[0] = make_turn (page, a_turned);
  self->turns[1] = make_turn (page, b_turned);
  GtkWidget *buttons = app_page_buttons (page);
  GtkWidget *remove = app_page_button (
      page, buttons, _ ("Unpick"),
      _ ("Take the seam apart; the edges stay (Delete)"), removed);
  gtk_widget_add_css_class (remove, "destructive");
  return page;
}
