/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pieces-panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/ui.h"
#include "drawing/paint.h"

#define THUMB_PX 56

struct _AppPiecesPanel
{
  GtkBox parent;
  AppSession *session;
  GtkWidget *heading, *list, *scroller;
  guint shown;     /* the piece that was last brought into sight */
  guint scroll;    /* an idle source, or 0 */
  GPtrArray *rows; /* Row, in the pattern's order */
  gboolean dark;
};

typedef struct
{
  AppPiecesPanel *panel;
  GtkWidget *row, *thumb, *name, *cut;
  guint id;
  PatternPiece *painted; /* a reference: what the picture shows */
} Row;

G_DEFINE_FINAL_TYPE (AppPiecesPanel, app_pieces_panel, GTK_TYPE_BOX)

static void
row_free (gpointer data)
{
  Row *row = data;
  g_clear_pointer (&row->painted, pattern_piece_unref);
  g_free (row);
}

static void
paint_thumb (GtkDrawingArea *area, cairo_t *cr, int width, int height,
             gpointer data)
{
  (void)area;
  Row *row = data;
  AppSession *session = row->panel->session;
  const Pattern *pattern = app_session_get_shown (session);
  const PatternPiece *piece = pattern_get_piece (pattern, row->id);
  if (piece == NULL)
    return;
  SewingFacts *facts = app_session_get_facts (session);
  GeoBox box = sewing_facts_piece (facts, piece)->bounds;
  if (geo_box_is_empty (box))
    return;
  double room = 3;
  double scale = fmin ((width - 2 * room) / fmax (box.x1 - box.x0, 1),
                       (height - 2 * room) / fmax (box.y1 - box.y0, 1));
  GeoPoint middle = geo_box_centre (box);
  cairo_translate (cr, width / 2.0, height / 2.0);
  cairo_scale (cr, scale, scale);
  cairo_translate (cr, -middle.x, -middle.y);
  DrawingStyle style = drawing_style_thumbnail (1 / scale, row->panel->dark);
  style.grain = FALSE;
  drawing_paint_piece (cr, facts, pattern, piece, &style);
}

static gboolean
modifier_held (AppPiecesPanel *panel)
{
  GdkSeat *seat = gdk_display_get_default_seat (
      gtk_widget_get_display (GTK_WIDGET (panel)));
  GdkDevice *keyboard = seat != NULL ? gdk_seat_get_keyboard (seat) : NULL;
  return keyboard != NULL
         && (gdk_device_get_modifier_state (keyboard)
             & (GDK_CONTROL_MASK | GDK_SHIFT_MASK))
                != 0;
}

static void
on_row_activated (AppPiecesPanel *panel, GtkListBoxRow *row)
{
  int index = gtk_list_box_row_get_index (row);
  if (index < 0 || (guint)index >= panel->rows->len)
    return;
  const Row *which = g_ptr_array_index (panel->rows, index);
  app_session_pick_piece (panel->session, which->id, modifier_held (panel));
}

static void
on_row_pressed (Row *row, int presses)
{
  if (presses != 2)
    return;
  const PatternPiece *piece = pattern_get_piece (
      app_session_get_shown (row->panel->session), row->id);
  if (piece == NULL)
    return;
  GeoBox box
      = sewing_facts_piece (app_session_get_facts (row->panel->session), piece)
            ->bounds;
  g_signal_emit_by_name (row->panel->session, "look-at", box.x0, box.y0, box.x1,
                         box.y1);
}

static Row *
add_row (AppPiecesPanel *panel, guint id)
{
  Row *row = g_new0 (Row, 1);
  row->panel = panel;
  row->id = id;
  row->row = gtk_list_box_row_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  row->thumb = gtk_drawing_area_new ();
  gtk_widget_set_size_request (row->thumb, THUMB_PX, THUMB_PX);
  gtk_widget_add_css_class (row->thumb, "thumb");
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (row->thumb), paint_thumb,
                                  row, NULL);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (words, TRUE);
  row->name = app_ui_label ("", "piece-name");
  gtk_label_set_ellipsize (GTK_LABEL (row->name), PANGO_ELLIPSIZE_END);
  row->cut = app_ui_label ("", "dim");
  gtk_label_set_ellipsize (GTK_LABEL (row->cut), PANGO_ELLIPSIZE_END);
  gtk_box_append (GTK_BOX (words), row->name);
  gtk_box_append (GTK_BOX (words), row->cut);
  gtk_box_append (GTK_BOX (line), row->thumb);
  gtk_box_append (GTK_BOX (line), words);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row->row), line);
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (on_row_pressed), row);
  gtk_widget_add_controller (row->row, GTK_EVENT_CONTROLLER (click));
  gtk_list_box_append (GTK_LIST_BOX (panel->list), row->row);
  return row;
}

static gboolean
same_rows (AppPiecesPanel *panel, const Pattern *pattern)
{
  if (panel->rows->len != pattern->n_pieces)
    return FALSE;
  for (guint i = 0; i < pattern->n_pieces; i++)
    {
      const Row *row = g_ptr_array_index (panel->rows, i);
      if (row->id != pattern->pieces[i]->id)
        return FALSE;
    }
  return TRUE;
}

/* "2 pairs", not a line a cloth: there is little room. */
static char *
short_cut_words (const PatternPiece *piece)
{
  int count = 0;
  for (guint i = 0; i < piece->n_cuts; i++)
    count += piece->cuts[i].count;
  if (count == 0)
    return g_strdup (_ ("no cut count"));
  if (pattern_piece_on_fold (piece))
    return g_strdup_printf (_ ("cut %d, on the fold"), count);
  return g_strdup_printf (_ ("cut %d"), count);
}

static void
show_row (Row *row, const Pattern *pattern, const PatternPiece *piece)
{
  const char *name = piece->name[0] != '\0' ? piece->name : _ ("unnamed piece");
  app_ui_set_text (row->name, name);
  g_autofree char *cut = short_cut_words (piece);
  app_ui_set_text (row->cut, cut);
  if (row->painted == piece)
    return;
  g_autofree char *words = drawing_cut_words (pattern, piece);
  g_autofree char *tip = g_strdup_printf ("%s\n%s", name, words);
  gtk_widget_set_tooltip_text (row->row, words[0] != '\0' ? tip : name);
  app_ui_name (row->row, name);
  g_clear_pointer (&row->painted, pattern_piece_unref);
  row->painted = pattern_piece_ref (piece);
  gtk_widget_queue_draw (row->thumb);
}

static gboolean
row_is_picked (const AppPick *pick, guint id)
{
  if (pick->kind != APP_PICK_PIECES)
    return FALSE;
  for (guint i = 0; i < pick->n_ids; i++)
    if (pick->ids[i] == id)
      return TRUE;
  return FALSE;
}

/* Once the rows have their places. */
static gboolean
scroll_to_shown (gpointer data)
{
  AppPiecesPanel *panel = data;
  panel->scroll = 0;
  GtkAdjustment *up = gtk_scrolled_window_get_vadjustment (
      GTK_SCROLLED_WINDOW (panel->scroller));
  for (guint i = 0; i < panel->rows->len; i++)
    {
      const Row *row = g_ptr_array_index (panel->rows, i);
      graphene_rect_t place;
      if (row->id == panel->shown
          && gtk_widget_compute_bounds (row->row, panel->list, &place))
        gtk_adjustment_clamp_page (
            up, (double)place.origin.y,
            (double)(place.origin.y + place.size.height));
    }
  return G_SOURCE_REMOVE;
}

static void
bring_into_sight (AppPiecesPanel *panel, guint piece)
{
  if (piece == 0 || piece == panel->shown)
    return;
  panel->shown = piece;
  if (panel->scroll == 0)
    panel->scroll = g_idle_add_full (GDK_PRIORITY_REDRAW + 10, scroll_to_shown,
                                     panel, NULL);
}

static void
show_picked (AppPiecesPanel *panel)
{
  const AppPick *pick = app_session_get_pick (panel->session);
  for (guint i = 0; i < panel->rows->len; i++)
    {
      Row *row = g_ptr_array_index (panel->rows, i);
      gboolean whole = row_is_picked (pick, row->id);
      gboolean within
          = !whole && pick->kind != APP_PICK_NONE && pick->piece == row->id;
      gtk_widget_remove_css_class (row->row, "picked");
      gtk_widget_remove_css_class (row->row, "within");
      if (whole || within)
        gtk_widget_add_css_class (row->row, whole ? "picked" : "within");
    }
  if (pick->kind == APP_PICK_NONE)
    panel->shown = 0;
  else
    bring_into_sight (panel, pick->kind == APP_PICK_PIECES && pick->n_ids > 0
                                 ? pick->ids[pick->n_ids - 1]
                                 : pick->piece);
}

static guint
newest_row (AppPiecesPanel *panel)
{
  guint newest = 0;
  for (guint i = 0; i < panel->rows->len; i++)
    newest = MAX (newest, ((Row *)g_ptr_array_index (panel->rows, i))->id);
  return newest;
}

static void
on_shown_changed (AppPiecesPanel *panel)
{
  const Pattern *pattern = app_session_get_shown (panel->session);
  if (!same_rows (panel, pattern))
    {
      guint before = panel->rows->len, newest = newest_row (panel);
      app_ui_clear (panel->list);
      g_ptr_array_set_size (panel->rows, 0);
      for (guint i = 0; i < pattern->n_pieces; i++)
        g_ptr_array_add (panel->rows, add_row (panel, pattern->pieces[i]->id));
      panel->shown = 0;
      show_picked (panel);
      /* Ids only ever grow. */
      if (before > 0 && newest_row (panel) > newest)
        bring_into_sight (panel, newest_row (panel));
    }
  for (guint i = 0; i < pattern->n_pieces; i++)
    show_row (g_ptr_array_index (panel->rows, i), pattern, pattern->pieces[i]);
  g_autofree char *heading = g_strdup_printf (
      ngettext ("%u piece", "%u pieces", pattern->n_pieces), pattern->n_pieces);
  app_ui_set_text (panel->heading,
                   pattern->n_pieces == 0 ? _ ("Pieces") : heading);
}

void
app_pieces_panel_set_dark (AppPiecesPanel *panel, gboolean dark)
{
  if (panel->dark == dark)
    return;
  panel->dark = dark;
  for (guint i = 0; i < panel->rows->len; i++)
    gtk_widget_queue_draw (((Row *)g_ptr_array_index (panel->rows, i))->thumb);
}

static void
app_pieces_panel_dispose (GObject *object)
{
  AppPiecesPanel *panel = APP_PIECES_PANEL (object);
  if (panel->session != NULL)
    g_signal_handlers_disconnect_by_data (panel->session, panel);
  G_OBJECT_CLASS (app_pieces_panel_parent_class)->dispose (object);
  g_clear_handle_id (&panel->scroll, g_source_remove);
  g_clear_pointer (&panel->rows, g_ptr_array_unref);
  g_clear_object (&panel->session);
}

static void
app_pieces_panel_class_init (AppPiecesPanelClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_pieces_panel_dispose;
}

static void
app_pieces_panel_init (AppPiecesPanel *panel)
{
  panel->rows = g_ptr_array_new_with_free_func (row_free);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (panel),
                                  GTK_ORIENTATION_VERTICAL);
  gtk_widget_set_size_request (GTK_WIDGET (panel), 208, -1);
  panel->heading = app_ui_heading ("");
  gtk_widget_add_css_class (panel->heading, "panel-heading");
  gtk_box_append (GTK_BOX (panel), panel->heading);

  GtkWidget *scroller = gtk_scrolled_window_new ();
  panel->scroller = scroller;
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (scroller, TRUE);
  panel->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (panel->list),
                                   GTK_SELECTION_NONE);
  gtk_widget_add_css_class (panel->list, "pieces");
  app_ui_name (panel->list, _ ("Pieces"));
  g_signal_connect_swapped (panel->list, "row-activated",
                            G_CALLBACK (on_row_activated), panel);
  GtkWidget *none = app_ui_paragraph (
      _ ("No pieces yet. Draw one (D), or bring in a drawing."), "dim");
  gtk_widget_add_css_class (none, "panel-empty");
  gtk_list_box_set_placeholder (GTK_LIST_BOX (panel->list), none);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), panel->list);
  gtk_box_append (GTK_BOX (panel), scroller);
}

GtkWidget *
app_pieces_panel_new (AppSession *session)
{
  AppPiecesPanel *panel = g_object_new (APP_TYPE_PIECES_PANEL, NULL);
  panel->session = g_object_ref (session);
  g_signal_connect_swapped (session, "shown-changed",
                            G_CALLBACK (on_shown_changed), panel);
  g_signal_connect_swapped (session, "pick-changed", G_CALLBACK (show_picked),
                            panel);
  on_shown_changed (panel);
  return GTK_WIDGET (panel);
}
