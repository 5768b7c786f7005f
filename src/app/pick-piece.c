/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One piece picked, or several. */
#include <glib/gi18n.h>
#include <math.h>

#include "app/pick-page.h"
#include "app/pick-recipe.h"
#include "app/pick-tape.h"
#include "drawing/paint.h"
#include "sewing/words.h"

typedef struct
{
  AppPage page;
  GtkWidget *title;
  GtkWidget *one; /* what only a single piece has */
  GtkWidget *name, *area, *size, *fold, *words;
  GtkWidget *recipes, *tapes;
  GtkWidget *cuts, *add_cut, *note;
  GtkWidget *grain, *both_ways, *grain_button, *ungrain_button;
  GtkWidget *across, *down, *turn;
  char *cuts_key;
} PiecePage;

static const PatternPiece *
get_piece (AppPage *page, const Pattern *pattern)
{
  return pattern_get_piece (pattern, page->id);
}

static void
name_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  GError *error = NULL;
  Pattern *p = drafting_set_piece_name (app_page_pattern (page), page->id,
                                        app_field_get_text (field), &error);
  app_page_do (page, _ ("name a piece"), NULL, p, &error);
}

static void
note_entered (const char *text, AppPage *page)
{
  GError *error = NULL;
  Pattern *p = drafting_set_piece_note (app_page_pattern (page), page->id, text,
                                        &error);
  app_page_do (page, _ ("write a note"), NULL, p, &error);
}

/* --- how it is cut ---------------------------------------------------------- */

static guint
index_of (gpointer widget)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "index"));
}

static void
put_cuts (AppPage *page, GArray *cuts, const char *merge)
{
  GError *error = NULL;
  Pattern *p = drafting_set_cuts (app_page_pattern (page), page->id,
                                  (const PatternCut *)(void *)cuts->data,
                                  cuts->len, &error);
  app_page_do (page, _ ("change how it is cut"), merge, p, &error);
}

static GArray *
dup_cuts (AppPage *page)
{
  const PatternPiece *piece = get_piece (page, app_page_pattern (page));
  GArray *cuts = g_array_new (FALSE, FALSE, sizeof (PatternCut));
  if (piece != NULL && piece->n_cuts > 0)
    g_array_append_vals (cuts, piece->cuts, piece->n_cuts);
  return cuts;
}

static PatternCut *
cut_of (GArray *cuts, gpointer widget)
{
  guint i = index_of (widget);
  return i < cuts->len ? &g_array_index (cuts, PatternCut, i) : NULL;
}

static void
cut_count_entered (AppField *field, gboolean step, AppPage *page)
{
  g_autoptr (GArray) cuts = dup_cuts (page);
  PatternCut *cut = cut_of (cuts, field);
  if (cut == NULL)
    return;
  cut->count = (int)lround (app_field_get_value (field));
  if (cut->count < 2)
    cut->mirrored = FALSE;
  put_cuts (page, cuts, step ? "cut-count" : NULL);
}

static void
cut_cloth_chosen (GtkDropDown *drop, GParamSpec *spec, AppPage *page)
{
  (void)spec;
  g_autoptr (GArray) cuts = dup_cuts (page);
  PatternCut *cut = cut_of (cuts, drop);
  const Pattern *pattern = app_page_pattern (page);
  guint chosen = gtk_drop_down_get_selected (drop);
  if (page->updating || cut == NULL || chosen >= pattern->n_cloths)
    return;
  cut->cloth = pattern->cloths[chosen].id;
  put_cuts (page, cuts, NULL);
}

static void
cut_mirrored_toggled (GtkCheckButton *check, AppPage *page)
{
  g_autoptr (GArray) cuts = dup_cuts (page);
  PatternCut *cut = cut_of (cuts, check);
  if (page->updating || cut == NULL)
    return;
  cut->mirrored = gtk_check_button_get_active (check);
  put_cuts (page, cuts, NULL);
}

static void
cut_removed (GtkButton *button, AppPage *page)
{
  g_autoptr (GArray) cuts = dup_cuts (page);
  if (cut_of (cuts, button) == NULL)
    return;
  g_array_remove_index (cuts, index_of (button));
  put_cuts (page, cuts, NULL);
}

static void
cut_added (GtkButton *button, AppPage *page)
{
  (void)button;
  const Pattern *pattern = app_page_pattern (page);
  g_autoptr (GArray) cuts = dup_cuts (page);
  if (pattern->n_cloths == 0)
    return;
  PatternCut cut = { .cloth = pattern->cloths[0].id, .count = 1 };
  /* The first cloth that the piece is not cut from yet. */
  for (guint i = 0; i < pattern->n_cloths; i++)
    {
      gboolean used = FALSE;
      for (guint k = 0; k < cuts->len; k++)
        used |= g_array_index (cuts, PatternCut, k).cloth
                == pattern->cloths[i].id;
      if (used)
        continue;
      cut.cloth = pattern->cloths[i].id;
      break;
    }
  g_array_append_val (cuts, cut);
  put_cuts (page, cuts, NULL);
}

static void
make_cut_row (PiecePage *self, const Pattern *pattern, guint index)
{
  AppPage *page = &self->page;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_add_css_class (box, "card");
  gtk_box_append (GTK_BOX (box), line);

  GtkWidget *count = app_field_new (APP_FIELD_NUMBER, _ ("How many"));
  app_field_set_range (APP_FIELD (count), 1, 99);
  gtk_widget_set_hexpand (GTK_WIDGET (app_field_get_entry (APP_FIELD (count))),
                          FALSE);
  gtk_editable_set_width_chars (
      GTK_EDITABLE (app_field_get_entry (APP_FIELD (count))), 3);
  gtk_editable_set_max_width_chars (
      GTK_EDITABLE (app_field_get_entry (APP_FIELD (count))), 3);
  g_signal_connect (count, "entered", G_CALLBACK (cut_count_entered), self);

  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  for (guint i = 0; i < pattern->n_cloths; i++)
    g_ptr_array_add (names, pattern->cloths[i].name);
  g_ptr_array_add (names, NULL);
  GtkWidget *cloth = app_ui_drop_down (
      (const char *const *)(void *)names->pdata, _ ("Cloth"));
  gtk_widget_set_hexpand (cloth, TRUE);
  g_signal_connect (cloth, "notify::selected", G_CALLBACK (cut_cloth_chosen),
                    self);
  GtkWidget *remove = app_ui_icon_button (
      "user-trash-symbolic", _ ("Don't cut it from this cloth"), NULL, NULL);
  g_signal_connect (remove, "clicked", G_CALLBACK (cut_removed), self);
  GtkWidget *mirrored
      = gtk_check_button_new_with_label (_ ("In mirrored pairs"));
  gtk_widget_set_tooltip_text (
      mirrored, _ ("Half of them turned over: a left and a right one each"));
  g_signal_connect (mirrored, "toggled", G_CALLBACK (cut_mirrored_toggled),
                    self);

  GtkWidget *const parts[] = { count, cloth, remove, mirrored };
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    g_object_set_data (G_OBJECT (parts[i]), "index", GUINT_TO_POINTER (index));
  gtk_box_append (GTK_BOX (line), count);
  gtk_box_append (GTK_BOX (line), cloth);
  gtk_box_append (GTK_BOX (line), remove);
  gtk_box_append (GTK_BOX (box), mirrored);
  g_object_set_data (G_OBJECT (box), "count", count);
  g_object_set_data (G_OBJECT (box), "cloth", cloth);
  g_object_set_data (G_OBJECT (box), "mirrored", mirrored);
  gtk_box_append (GTK_BOX (self->cuts), box);
  (void)page;
}

static void
show_cuts (PiecePage *self, const Pattern *pattern, const PatternPiece *piece)
{
  g_autoptr (GString) key = g_string_new ("-");
  g_string_append_printf (key, "%u ", piece->n_cuts);
  for (guint i = 0; i < pattern->n_cloths; i++)
    g_string_append_printf (key, "%u %s\n", pattern->cloths[i].id,
                            pattern->cloths[i].name);
  if (g_strcmp0 (key->str, self->cuts_key) != 0)
    {
      g_free (self->cuts_key);
      self->cuts_key = g_strdup (key->str);
      app_ui_clear (self->cuts);
      for (guint i = 0; i < piece->n_cuts; i++)
        make_cut_row (self, pattern, i);
    }
  GtkWidget *box = gtk_widget_get_first_child (self->cuts);
  for (guint i = 0; i < piece->n_cuts && box != NULL; i++)
    {
      GObject *o = G_OBJECT (box);
      const PatternCut *cut = &piece->cuts[i];
      app_field_set_value (g_object_get_data (o, "count"), cut->count);
      for (guint k = 0; k < pattern->n_cloths; k++)
        if (pattern->cloths[k].id == cut->cloth)
          gtk_drop_down_set_selected (g_object_get_data (o, "cloth"), k);
      gtk_check_button_set_active (g_object_get_data (o, "mirrored"),
                                   cut->mirrored);
      gtk_widget_set_sensitive (g_object_get_data (o, "mirrored"),
                                cut->count > 1);
      box = gtk_widget_get_next_sibling (box);
    }
}

/* --- grain ------------------------------------------------------------------- */

static void
grain_laid (GtkButton *button, AppPage *page)
{
  (void)button;
  GError *error = NULL;
  Pattern *p
      = drafting_default_grain (app_page_pattern (page), page->id, &error);
  app_page_do (page, _ ("lay the grainline"), NULL, p, &error);
}

static void
grain_removed (GtkButton *button, AppPage *page)
{
  (void)button;
  GError *error = NULL;
  Pattern *p
      = drafting_remove_grain (app_page_pattern (page), page->id, &error);
  app_page_do (page, _ ("remove the grainline"), NULL, p, &error);
}

static void
set_grain (AppPage *page, GeoPoint from, GeoPoint to, gboolean both_ways,
           const char *merge)
{
  GError *error = NULL;
  Pattern *p = drafting_set_grain (app_page_pattern (page), page->id, from, to,
                                   both_ways, &error);
  app_page_do (page, _ ("change the grainline"), merge, p, &error);
}

static void
both_ways_toggled (GtkCheckButton *check, AppPage *page)
{
  const PatternPiece *piece = get_piece (page, app_page_pattern (page));
  if (page->updating || piece == NULL || !piece->has_grain)
    return;
  set_grain (page, piece->grain_from, piece->grain_to,
             gtk_check_button_get_active (check), NULL);
}

/* Degrees the grainline is turned from the upright, clockwise on the table, in
 * (-180, 180]. */
static double
grain_degrees (const PatternPiece *piece)
{
  GeoPoint d = geo_sub (piece->grain_from, piece->grain_to);
  return geo_angle_between (geo_point (0, -1), d) * 180 / G_PI;
}

static void
grain_angle_entered (AppField *field, gboolean step, AppPage *page)
{
  const PatternPiece *piece = get_piece (page, app_page_pattern (page));
  if (piece == NULL || !piece->has_grain)
    return;
  double angle = app_field_get_value (field) * G_PI / 180;
  GeoPoint middle = geo_lerp (piece->grain_from, piece->grain_to, 0.5);
  double half = geo_distance (piece->grain_from, piece->grain_to) / 2;
  GeoPoint up = geo_point (sin (angle) * half, -cos (angle) * half);
  set_grain (page, geo_add (middle, up), geo_sub (middle, up),
             piece->grain_both_ways, step ? "grain-angle" : NULL);
}

static void
show_grain (PiecePage *self, const PatternPiece *piece)
{
  gtk_widget_set_sensitive (self->grain, piece->has_grain);
  gtk_widget_set_visible (self->both_ways, piece->has_grain);
  gtk_widget_set_visible (self->ungrain_button, piece->has_grain);
  gtk_button_set_label (GTK_BUTTON (self->grain_button),
                        piece->has_grain ? _ ("Lay it upright")
                                         : _ ("Lay a grainline"));
  app_field_set_value (APP_FIELD (self->grain),
                       piece->has_grain ? grain_degrees (piece) : 0);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->both_ways),
                               piece->grain_both_ways);
}

/* --- turning, copying, removing -------------------------------------------------- */

static void
move_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  double by = app_field_get_value (field);
  gboolean across = field == APP_FIELD (((PiecePage *)page)->across);
  AppSession *session = page->session;
  app_field_set_value (field, 0);
  if (by != 0)
    app_session_nudge (session, across ? by : 0, across ? 0 : by);
}

static void
turn_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  double angle = app_field_get_value (field);
  AppSession *session = page->session;
  app_field_set_value (field, 0);
  if (angle != 0)
    app_session_turn_pick (session, angle * G_PI / 180);
}

static void
turned_left (GtkButton *button, AppPage *page)
{
  (void)button;
  app_session_turn_pick (page->session, -G_PI / 2);
}

static void
turned_right (GtkButton *button, AppPage *page)
{
  (void)button;
  app_session_turn_pick (page->session, G_PI / 2);
}

static void
stood_upright (GtkButton *button, AppPage *page)
{
  (void)button;
  gtk_widget_activate_action (page->box, "win.draft", "s", "stand-upright");
}

static void
mirrored (GtkButton *button, AppPage *page)
{
  (void)button;
  app_session_mirror_pick (page->session);
}

static void
copied (GtkButton *button, AppPage *page)
{
  (void)button;
  app_session_copy_pick (page->session, FALSE);
}

static void
copied_mirrored (GtkButton *button, AppPage *page)
{
  (void)button;
  app_session_copy_pick (page->session, TRUE);
}

static void
removed (GtkButton *button, AppPage *page)
{
  (void)button;
  app_session_delete_pick (page->session);
}

/* --- showing ------------------------------------------------------------------- */

static void
show_facts (PiecePage *self, const Pattern *pattern, const PatternPiece *piece)
{
  const SewingPiece *facts
      = sewing_facts_piece (app_session_get_facts (self->page.session), piece);
  g_autofree char *area = sewing_words_area (pattern, facts->area);
  app_ui_set_text (self->area, area);
  g_autofree char *width = pattern_length_format_bare (
      facts->bounds.x1 - facts->bounds.x0, pattern->unit);
  g_autofree char *height = pattern_length_format (
      facts->bounds.y1 - facts->bounds.y0, pattern->unit, FALSE);
  g_autofree char *size = g_strdup_printf (_ ("%s × %s"), width, height);
  app_ui_set_text (self->size, size);
  gtk_widget_set_visible (self->fold, pattern_piece_on_fold (piece));
  g_autofree char *words = drawing_cut_words (pattern, piece);
  app_ui_set_text (self->words, words);
  gtk_widget_set_visible (self->words, words[0] != '\0');
}

static void
show_several (PiecePage *self, const Pattern *pattern, const AppPick *pick)
{
  double area = 0;
  for (guint i = 0; i < pick->n_ids; i++)
    {
      const PatternPiece *piece = pattern_get_piece (pattern, pick->ids[i]);
      if (piece == NULL)
        continue;
      area += sewing_facts_piece (app_session_get_facts (self->page.session),
                                  piece)
                  ->area;
    }
  g_autofree char *title = g_strdup_printf (
      ngettext ("%u piece", "%u pieces", pick->n_ids), pick->n_ids);
  g_autofree char *words = sewing_words_area (pattern, area);
  g_autofree char *whole = g_strdup_printf (_ ("%s, %s in all"), title, words);
  app_page_set_title (self->title, whole);
}

static void
update (AppPage *page)
{
  PiecePage *self = (PiecePage *)page;
  const Pattern *pattern = app_page_shown (page);
  const AppPick *pick = app_session_get_pick (page->session);
  const PatternPiece *piece = get_piece (page, pattern);
  gboolean single = pick->n_ids <= 1;
  gtk_widget_set_visible (self->one, single);
  app_field_set_unit (APP_FIELD (self->across), pattern->unit);
  app_field_set_unit (APP_FIELD (self->down), pattern->unit);
  gtk_widget_set_sensitive (page->box, piece != NULL);
  if (piece == NULL)
    return;
  if (!single)
    {
      show_several (self, pattern, pick);
      return;
    }
  app_page_set_title (
      self->title, piece->name[0] != '\0' ? piece->name : _ ("unnamed piece"));
  app_field_set_text (APP_FIELD (self->name), piece->name);
  app_page_set_note (self->note, piece->note);
  show_facts (self, pattern, piece);
  app_recipe_rows_show (self->recipes, pattern, page->id);
  app_tape_rows_show (self->tapes, pattern);
  show_cuts (self, pattern, piece);
  show_grain (self, piece);
}

static void
clear (AppPage *page)
{
  g_free (((PiecePage *)page)->cuts_key);
}

static void
make_cutting (PiecePage *self)
{
  AppPage *page = &self->page;
  gtk_box_append (GTK_BOX (page->box), app_ui_heading (_ ("Cut")));
  self->words = app_ui_paragraph ("", "dim");
  gtk_box_append (GTK_BOX (page->box), self->words);
  self->cuts = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_box_append (GTK_BOX (page->box), self->cuts);
  self->fold = app_ui_paragraph (
      _ ("Laid on the fold: each count is one whole piece."), "dim");
  gtk_box_append (GTK_BOX (page->box), self->fold);
  self->add_cut = app_page_button (page, page->box, _ ("Add a cut"),
                                   _ ("Say how many are cut, and from which "
                                      "cloth"),
                                   cut_added);
  gtk_widget_set_halign (self->add_cut, GTK_ALIGN_START);
}

static void
make_grain (PiecePage *self)
{
  AppPage *page = &self->page;
  GtkWidget *rows = app_page_section (page, _ ("Grain"));
  self->grain = app_page_field (page, rows, APP_FIELD_NUMBER,
                                _ ("From upright"), grain_angle_entered);
  app_field_set_number (APP_FIELD (self->grain), "°", 1, 1);
  app_field_set_range (APP_FIELD (self->grain), -360, 360);
  self->both_ways
      = app_page_check (page, rows, _ ("Either way up"), both_ways_toggled);
  gtk_widget_set_tooltip_text (
      self->both_ways, _ ("May be laid end for end: for cloth without a nap or "
                          "a print that has a way up"));
  gtk_widget_set_tooltip_text (
      self->grain, _ ("How far the grainline is turned from upright, "
                      "clockwise"));
  GtkWidget *buttons = app_page_buttons (page);
  self->grain_button = app_page_button (page, buttons, _ ("Lay a grainline"),
                                        NULL, grain_laid);
  self->ungrain_button
      = app_page_button (page, buttons, _ ("Remove it"), NULL, grain_removed);
}

static void
make_place (PiecePage *self)
{
  AppPage *page = &self->page;
  GtkWidget *rows = app_page_section (page, _ ("On the table"));
  self->across = app_page_field (page, rows, APP_FIELD_LENGTH,
                                 _ ("Move across"), move_entered);
  self->down = app_page_field (page, rows, APP_FIELD_LENGTH, _ ("Move down"),
                               move_entered);
  self->turn = app_page_field (page, rows, APP_FIELD_NUMBER, _ ("Turn by"),
                               turn_entered);
  app_field_set_number (APP_FIELD (self->turn), "°", 2, 1);
  app_field_set_range (APP_FIELD (self->turn), -360, 360);
  gtk_widget_set_tooltip_text (self->turn,
                               _ ("Clockwise; a minus turns the other way"));
  GtkWidget *buttons = app_page_buttons (page);
  app_page_button (page, buttons, _ ("Turn left"), _ ("A quarter turn"),
                   turned_left);
  app_page_button (page, buttons, _ ("Turn right"), _ ("A quarter turn"),
                   turned_right);
  app_page_button (page, buttons, _ ("Stand upright"),
                   _ ("Turn it until its fold, its grainline or an edge you "
                      "pick is upright"),
                   stood_upright);
  app_page_button (page, buttons, _ ("Mirror"),
                   _ ("Turn it over about its grain"), mirrored);
  app_page_button (page, buttons, _ ("Copy"), NULL, copied);
  app_page_button (page, buttons, _ ("Mirrored copy"), NULL, copied_mirrored);
  GtkWidget *remove = app_page_button (page, buttons, _ ("Remove"),
                                       _ ("Remove (Delete)"), removed);
  gtk_widget_add_css_class (remove, "destructive");
}

static void
names_clicked (GtkButton *button, AppPage *page)
{
  (void)button;
  gtk_widget_activate_action (page->box, "win.name-edges", NULL);
}

/* Everything a single piece has goes into a box of its own. */
static void
make_single (PiecePage *self)
{
  AppPage *page = &self->page;
  GtkWidget *outer = page->box;
  page->box = self->one;
  GtkWidget *rows = app_page_section (page, NULL);
  self->name
      = app_page_field (page, rows, APP_FIELD_TEXT, _ ("Name"), name_entered);
  page->name = self->name;
  self->area = app_ui_value ();
  app_ui_rows_add (rows, _ ("Area"), self->area);
  self->size = app_ui_value ();
  app_ui_rows_add (rows, _ ("Size, cut"), self->size);
  self->recipes = app_recipe_rows_new (page);
  gtk_box_append (GTK_BOX (page->box), self->recipes);
  GtkWidget *buttons = app_page_buttons (page);
  app_page_button (page, buttons, _ ("Name its edges"),
                   _ ("One after the other, with the trade's names (N)"),
                   names_clicked);
  make_cutting (self);
  make_grain (self);
  self->tapes = app_tape_rows_new (page);
  gtk_box_append (GTK_BOX (page->box), self->tapes);
  page->box = outer;
}

AppPage *
app_page_piece_new (AppSession *session)
{
  PiecePage *self = app_page_new (sizeof *self, session, update);
  AppPage *page = &self->page;
  page->clear = clear;
  self->title = app_page_title (page, _ ("Piece"));
  self->one = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_box_append (GTK_BOX (page->box), self->one);
  make_single (self);
  make_place (self);
  GtkWidget *box = page->box;
  page->box = self->one;
  self->note = app_page_note (page, _ ("Note"), note_entered);
  page->box = box;
  return page;
}
