/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nodes picked. */
#include <glib/gi18n.h>
#include <math.h>

#include "app/pick-page.h"
#include "app/pick-tape.h"

typedef struct
{
  AppPage page;
  GtkWidget *title, *one, *many;
  GtkWidget *x, *y, *kinds[3];
  GtkWidget *towards[2];
  GtkWidget *reach[2], *turn[2]; /* of the handles in and out */
  GtkWidget *dx, *dy;
  GtkWidget *split, *tape;
} NodePage;

static const PatternNode *
get_node (AppPage *page, const Pattern *pattern)
{
  const PatternPiece *piece = pattern_get_piece (pattern, page->piece);
  int i = piece != NULL ? pattern_piece_find_node (piece, page->id) : -1;
  return i >= 0 ? &piece->nodes[i] : NULL;
}

static void
place_entered (AppField *field, gboolean step, AppPage *page)
{
  NodePage *self = (NodePage *)page;
  const PatternNode *node = get_node (page, app_page_pattern (page));
  if (node == NULL)
    return;
  GeoPoint to = node->at;
  if (field == APP_FIELD (self->x))
    to.x = app_field_get_value (field);
  else
    to.y = app_field_get_value (field);
  GError *error = NULL;
  Pattern *p = drafting_set_node (app_page_pattern (page), page->piece,
                                  page->id, to, &error);
  app_page_do (page, _ ("place a node"), step ? "node-place" : NULL, p, &error);
}

static void
kind_toggled (GtkToggleButton *button, AppPage *page)
{
  if (page->updating || !gtk_toggle_button_get_active (button))
    return;
  NodePage *self = (NodePage *)page;
  guint kind = 0;
  while (kind < 2 && self->kinds[kind] != GTK_WIDGET (button))
    kind++;
  GError *error = NULL;
  Pattern *p = drafting_set_node_kind (app_page_pattern (page), page->piece,
                                       page->id, (PatternNodeKind)kind, &error);
  app_page_do (page, _ ("change a node's kind"), NULL, p, &error);
}

static GeoPoint
handle_of (const PatternNode *node, int which)
{
  return geo_sub (which == 0 ? node->in : node->out, node->at);
}

/* Degrees from rightwards, anticlockwise as on paper. */
static double
handle_degrees (GeoPoint handle)
{
  return handle.x == 0 && handle.y == 0
             ? 0
             : atan2 (handle.y == 0 ? 0 : -handle.y, handle.x) * 180 / G_PI;
}

static void
handle_entered (AppField *field, gboolean step, AppPage *page)
{
  NodePage *self = (NodePage *)page;
  const PatternNode *node = get_node (page, app_page_pattern (page));
  if (node == NULL)
    return;
  int which = field == APP_FIELD (self->reach[1])
              || field == APP_FIELD (self->turn[1]);
  double reach = app_field_get_value (APP_FIELD (self->reach[which]));
  double angle
      = app_field_get_value (APP_FIELD (self->turn[which])) * G_PI / 180;
  /* The one not typed in is taken exactly, not as it is shown. */
  GeoPoint old = handle_of (node, which);
  if (field == APP_FIELD (self->turn[which]))
    reach = geo_norm (old);
  else if (geo_norm (old) > 0)
    angle = atan2 (-old.y, old.x);
  GeoPoint to = geo_add (node->at,
                         geo_point (reach * cos (angle), -reach * sin (angle)));
  GError *error = NULL;
  Pattern *p = drafting_set_handle (
      app_page_pattern (page), page->piece, page->id,
      which == 0 ? DRAFTING_HANDLE_IN : DRAFTING_HANDLE_OUT, to, &error);
  app_page_do (page, _ ("set a handle"), step ? "handle" : NULL, p, &error);
}

static void
move_entered (AppField *field, gboolean step, AppPage *page)
{
  NodePage *self = (NodePage *)page;
  double by = app_field_get_value (field);
  GeoPoint move
      = field == APP_FIELD (self->dx) ? geo_point (by, 0) : geo_point (0, by);
  const AppPick *pick = app_session_get_pick (page->session);
  GError *error = NULL;
  app_field_set_value (field, 0);
  if (by == 0)
    return;
  Pattern *p = drafting_move_nodes (app_page_pattern (page), page->piece,
                                    pick->ids, pick->n_ids, move, &error);
  app_page_do (page, _ ("move nodes"), step ? "nodes-by" : NULL, p, &error);
}

static void
removed (GtkButton *button, AppPage *page)
{
  (void)button;
  app_session_delete_pick (page->session);
}

static void
straightened (GtkButton *button, AppPage *page)
{
  (void)button;
  GError *error = NULL;
  Pattern *p = drafting_straighten (app_page_pattern (page), page->piece,
                                    page->id, &error);
  app_page_do (page, _ ("straighten"), NULL, p, &error);
}

static gboolean
starts_edge (AppPage *page, const Pattern *pattern)
{
  const PatternPiece *piece = pattern_get_piece (pattern, page->piece);
  int i = piece != NULL ? pattern_piece_find_node (piece, page->id) : -1;
  for (guint e = 0; i >= 0 && e < piece->n_edges; e++)
    if (piece->edges[e].first == (guint)i)
      return TRUE;
  return FALSE;
}

static void
split (GtkButton *button, AppPage *page)
{
  (void)button;
  GError *error = NULL;
  gboolean joins = starts_edge (page, app_page_pattern (page));
  Pattern *p = drafting_split_edge (app_page_pattern (page), page->piece,
                                    page->id, NULL, &error);
  app_page_do (page, joins ? _ ("join two edges") : _ ("split an edge"), NULL,
               p, &error);
}

/* "Curve handle, shoulder side": of the edge it bends; within an edge, towards its start
 * or its end. */
static char *
words_handle (const PatternPiece *piece, int node, int which)
{
  guint own = 0, before = 0;
  gboolean starts = FALSE;
  for (guint e = 0; e < piece->n_edges; e++)
    {
      starts |= piece->edges[e].first == (guint)node;
      if (piece->edges[e].first <= (guint)node)
        own = e;
    }
  before = starts ? (own + piece->n_edges - 1) % piece->n_edges : own;
  if (before == own)
    return g_strdup (which == 0 ? _ ("Curve handle, towards the edge's start")
                                : _ ("Curve handle, towards the edge's end"));
  const char *name = piece->edges[which == 0 ? before : own].name;
  if (name[0] == '\0')
    return g_strdup (which == 0 ? _ ("Curve handle, edge before")
                                : _ ("Curve handle, edge after"));
  return g_strdup_printf (_ ("Curve handle, %s side"), name);
}

static void
update (AppPage *page)
{
  NodePage *self = (NodePage *)page;
  const Pattern *pattern = app_page_shown (page);
  const AppPick *pick = app_session_get_pick (page->session);
  const PatternNode *node = get_node (page, pattern);
  gtk_widget_set_sensitive (page->box, node != NULL);
  gtk_widget_set_visible (self->one, pick->n_ids <= 1);
  gtk_widget_set_visible (self->many, pick->n_ids > 1);
  if (node == NULL)
    return;
  GtkWidget *const lengths[] = { self->x,        self->y,  self->reach[0],
                                 self->reach[1], self->dx, self->dy };
  for (guint i = 0; i < G_N_ELEMENTS (lengths); i++)
    app_field_set_unit (APP_FIELD (lengths[i]), pattern->unit);
  if (pick->n_ids > 1)
    {
      g_autofree char *title = g_strdup_printf (
          ngettext ("%u node", "%u nodes", pick->n_ids), pick->n_ids);
      app_page_set_title (self->title, title);
      app_tape_line_show (self->tape, pattern);
      return;
    }
  g_autofree char *title = app_words_edge (pattern, page->piece, pick->edge);
  app_page_set_title (self->title, title);
  app_field_set_value (APP_FIELD (self->x), node->at.x);
  app_field_set_value (APP_FIELD (self->y), node->at.y);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->kinds[node->kind]),
                                TRUE);
  const PatternPiece *piece = pattern_get_piece (pattern, page->piece);
  for (int i = 0; i < 2; i++)
    {
      g_autofree char *towards
          = words_handle (piece, pattern_piece_find_node (piece, page->id), i);
      app_ui_set_text (self->towards[i], towards);
      GeoPoint handle = handle_of (node, i);
      app_field_set_value (APP_FIELD (self->reach[i]), geo_norm (handle));
      app_field_set_value (APP_FIELD (self->turn[i]), handle_degrees (handle));
    }
  gtk_button_set_label (GTK_BUTTON (self->split), starts_edge (page, pattern)
                                                      ? _ ("Join edges")
                                                      : _ ("Split edge"));
}

static void
make_kinds (NodePage *self)
{
  const char *const words[] = { _ ("Corner"), _ ("Smooth"), _ ("Even") };
  const char *const tips[]
      = { _ ("The line may turn sharply here: each curve handle goes its own "
             "way"),
          _ ("The line runs on without a kink: the curve handles stay in line"),
          _ ("Without a kink, and bent alike on both sides: the curve handles "
             "stay in line and equally long") };
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (line, "linked");
  gtk_widget_add_css_class (line, "kinds");
  for (int i = 0; i < 3; i++)
    {
      self->kinds[i] = gtk_toggle_button_new_with_label (words[i]);
      gtk_widget_set_tooltip_text (self->kinds[i], tips[i]);
      gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (self->kinds[i]),
                                   i > 0 ? GTK_TOGGLE_BUTTON (self->kinds[0])
                                         : NULL);
      g_signal_connect (self->kinds[i], "toggled", G_CALLBACK (kind_toggled),
                        self);
      gtk_widget_set_hexpand (self->kinds[i], TRUE);
      gtk_box_append (GTK_BOX (line), self->kinds[i]);
    }
  gtk_box_append (GTK_BOX (self->page.box), line);
}

static void
make_handles (NodePage *self)
{
  for (int i = 0; i < 2; i++)
    {
      self->towards[i] = app_ui_heading ("");
      gtk_label_set_wrap (GTK_LABEL (self->towards[i]), TRUE);
      gtk_box_append (GTK_BOX (self->page.box), self->towards[i]);
      GtkWidget *rows = app_page_section (&self->page, NULL);
      self->reach[i] = app_page_field (&self->page, rows, APP_FIELD_LENGTH,
                                       _ ("Length"), handle_entered);
      app_field_set_range (APP_FIELD (self->reach[i]), 0, 1e5);
      self->turn[i] = app_page_field (&self->page, rows, APP_FIELD_NUMBER,
                                      _ ("Slant"), handle_entered);
      gtk_widget_set_tooltip_text (
          self->turn[i], _ ("0° points to the right, 90° up, 180° to the left, "
                            "−90° down"));
      gtk_widget_set_tooltip_text (
          self->reach[i], _ ("The longer the handle, the farther the line "
                             "keeps to its direction"));
      app_field_set_number (APP_FIELD (self->turn[i]), "°", 1, 1);
      app_field_set_range (APP_FIELD (self->turn[i]), -360, 360);
    }
}

AppPage *
app_page_node_new (AppSession *session)
{
  NodePage *self = app_page_new (sizeof *self, session, update);
  AppPage *page = &self->page;
  GtkWidget *outer = page->box;
  self->title = app_page_title (page, _ ("Node"));

  self->one = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_box_append (GTK_BOX (outer), self->one);
  page->box = self->one;
  make_kinds (self);
  GtkWidget *rows = app_page_section (page, _ ("Place"));
  self->x = app_page_field (page, rows, APP_FIELD_LENGTH, _ ("Across"),
                            place_entered);
  self->y = app_page_field (page, rows, APP_FIELD_LENGTH, _ ("Down"),
                            place_entered);
  make_handles (self);
  GtkWidget *buttons = app_page_buttons (page);
  self->split
      = app_page_button (page, buttons, _ ("Split edge"),
                         _ ("Whether a new edge begins at this node"), split);
  app_page_button (page, buttons, _ ("Straighten"),
                   _ ("Make the side after this node straight"), straightened);

  self->many = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_box_append (GTK_BOX (outer), self->many);
  page->box = self->many;
  rows = app_page_section (page, _ ("Move by"));
  self->dx = app_page_field (page, rows, APP_FIELD_LENGTH, _ ("Across"),
                             move_entered);
  self->dy
      = app_page_field (page, rows, APP_FIELD_LENGTH, _ ("Down"), move_entered);
  self->tape = app_tape_line_new (page);
  gtk_box_append (GTK_BOX (self->many), self->tape);
  page->box = outer;

  buttons = app_page_buttons (page);
  GtkWidget *remove = app_page_button (page, buttons, _ ("Remove"),
                                       _ ("Remove (Delete)"), removed);
  gtk_widget_add_css_class (remove, "destructive");
  return page;
}
