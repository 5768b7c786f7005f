/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/strip-area.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/ui.h"
#include "app/walk.h"
#include "drawing/strip.h"
#include "sewing/shaping.h"

/* Degrees a cm that no cloth shows. */
#define LIES_FLAT 0.05

struct _AppStripArea
{
  GtkBox parent;
  AppSession *session;
  GtkWidget *head, *name, *state, *pick, *walk;
  GtkWidget *stack, *area, *empty, *seams, *seams_box;
  char *seams_key; /* what the list of seams shows */
  gboolean dark;
  /* All but what is lit, kept from frame to frame. */
  cairo_surface_t *picture;
  int width, height, scale; /* it was painted at */
  SewingStrain *strain;     /* of the pattern last shown that is no drag's */
  gboolean pressed;
};

G_DEFINE_FINAL_TYPE (AppStripArea, app_strip_area, GTK_TYPE_BOX)

static const PatternSeam *
get_seam (AppStripArea *strip)
{
  return pattern_get_seam (app_session_get_shown (strip->session),
                           app_session_get_strip_seam (strip->session));
}

static void
forget_picture (AppStripArea *strip)
{
  g_clear_pointer (&strip->picture, cairo_surface_destroy);
  gtk_widget_queue_draw (strip->area);
}

static void
make_picture (AppStripArea *strip, const PatternSeam *seam)
{
  const Pattern *pattern = app_session_get_shown (strip->session);
  SewingFacts *facts = app_session_get_facts (strip->session);
  if (strip->strain == NULL)
    strip->strain = sewing_strain_new (facts, pattern);
  DrawingStripLook look = { .dark = strip->dark, .strain = strip->strain };
  strip->picture = cairo_image_surface_create (CAIRO_FORMAT_RGB24,
                                               strip->width * strip->scale,
                                               strip->height * strip->scale);
  cairo_surface_set_device_scale (strip->picture, strip->scale, strip->scale);
  cairo_t *cr = cairo_create (strip->picture);
  drawing_paint_strip (cr, facts, pattern, seam, strip->width, strip->height,
                       &look);
  cairo_destroy (cr);
}

/* The two places to light: where the walk is, or what is pointed at and what lies against it. */
static gboolean
lit_places (AppStripArea *strip, const PatternSeam *seam, double at[2])
{
  AppWalk *walk = app_walk_get (strip->session);
  const SewingSeam *facts
      = sewing_facts_seam (app_session_get_facts (strip->session),
                           app_session_get_shown (strip->session), seam);
  at[0] = app_session_get_strip_at (strip->session);
  if (facts == NULL || at[0] < 0)
    return FALSE;
  at[1] = sewing_seam_facing (facts, 0, at[0]);
  if (walk != NULL && app_walk_get_seam (walk) == seam->id)
    memcpy (at, app_walk_get_step (walk)->along, 2 * sizeof (double));
  return TRUE;
}

static void
paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  AppStripArea *strip = data;
  const PatternSeam *seam = get_seam (strip);
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (area));
  double at[2];
  if (seam == NULL)
    return;
  if (width != strip->width || height != strip->height || scale != strip->scale)
    g_clear_pointer (&strip->picture, cairo_surface_destroy);
  strip->width = width;
  strip->height = height;
  strip->scale = scale;
  if (strip->picture == NULL)
    make_picture (strip, seam);
  cairo_set_source_surface (cr, strip->picture, 0, 0);
  cairo_paint (cr);
  if (lit_places (strip, seam, at))
    drawing_paint_strip_lit (cr, app_session_get_facts (strip->session),
                             app_session_get_shown (strip->session), seam,
                             width, height, strip->dark, at);
}

/* While a seam is walked, only pressing moves the pin. */
static void
on_motion (AppStripArea *strip, double x, double y)
{
  (void)y;
  const PatternSeam *seam = get_seam (strip);
  AppWalk *walk = app_walk_get (strip->session);
  if (seam == NULL || (walk != NULL && !strip->pressed))
    return;
  double at = drawing_strip_at (app_session_get_facts (strip->session),
                                app_session_get_shown (strip->session), seam,
                                gtk_widget_get_width (strip->area), x);
  if (walk != NULL)
    app_walk_go (walk, sewing_walk_to (app_walk_get_walk (walk), 0, at),
                 app_walk_get_whole (walk) * 5
                     / MAX (gtk_widget_get_width (strip->area), 100));
  else
    app_session_set_strip_at (strip->session, at);
}

/* What a dome and a saddle are, where one is pointed at. */
static char *
shaping_words (const SewingShaping *shaping, double at)
{
  double rate = sewing_shaping_rate (shaping, at);
  if (fabs (rate) < LIES_FLAT)
    return g_strdup (_ ("Here the two edges follow each other, and the sewn "
                        "cloth lies flat."));
  return g_strdup_printf (
      rate > 0 ? _ ("A dome, %.1f° a centimetre: the two edges together bulge, "
                    "so the sewn cloth rounds out, as over a bust or a "
                    "shoulder.")
               : _ ("A saddle, %.1f° a centimetre: the two edges together "
                    "hollow, so the sewn cloth bends two ways at once, as at a "
                    "waist or a neck."),
      fabs (rate));
}

static gboolean
on_tooltip (GtkWidget *area, int x, int y, gboolean by_keys,
            GtkTooltip *tooltip, AppStripArea *strip)
{
  const PatternSeam *seam = get_seam (strip);
  if (seam == NULL || by_keys
      || (seam->press == PATTERN_PRESS_TURNED
          && seam->join != PATTERN_JOIN_DART)
      || !drawing_strip_is_shaping (gtk_widget_get_height (area), y))
    return FALSE;
  SewingFacts *facts = app_session_get_facts (strip->session);
  const Pattern *shown = app_session_get_shown (strip->session);
  const SewingShaping *shaping = sewing_facts_shaping (facts, shown, seam);
  if (shaping == NULL)
    return FALSE;
  double at
      = drawing_strip_at (facts, shown, seam, gtk_widget_get_width (area), x);
  g_autofree char *words = shaping_words (shaping, at);
  gtk_tooltip_set_text (tooltip, words);
  return TRUE;
}

static void
on_leave (AppStripArea *strip)
{
  if (app_walk_get (strip->session) == NULL)
    app_session_set_strip_at (strip->session, -1);
}

static void
on_pick_clicked (AppStripArea *strip)
{
  guint seam = app_session_get_strip_seam (strip->session);
  if (seam != 0)
    app_session_pick_seam (strip->session, seam);
}

static void
on_pressed (AppStripArea *strip, int presses, double x, double y)
{
  strip->pressed = TRUE;
  if (presses == 1 && app_walk_get (strip->session) == NULL)
    on_pick_clicked (strip);
  on_motion (strip, x, y);
}

static void
on_released (AppStripArea *strip)
{
  strip->pressed = FALSE;
}

/* A finger gives no motion of its own. */
static void
on_dragged (AppStripArea *strip, double dx, double dy, GtkGestureDrag *drag)
{
  double x, y;
  if (strip->pressed && gtk_gesture_drag_get_start_point (drag, &x, &y))
    on_motion (strip, x + dx, y + dy);
}

static void
on_walk_clicked (AppStripArea *strip)
{
  gtk_widget_activate_action (GTK_WIDGET (strip), "win.table", NULL);
  if (app_walk_get (strip->session) != NULL)
    app_walk_end (strip->session);
  else
    app_walk_begin_picked (strip->session);
}

static void
describe (AppStripArea *strip, const char *name, const char *state)
{
  g_autofree char *text = g_strdup_printf (_ ("%s: %s"), name, state);
  gtk_accessible_update_property (GTK_ACCESSIBLE (strip->area),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text,
                                  -1);
}

/* --- the list of all seams, while none is unrolled -------------------------------- */

static void
on_chip (GtkButton *button, AppStripArea *strip)
{
  /* The list gives way to the seam: the keys go to the table. */
  gtk_widget_activate_action (GTK_WIDGET (strip), "win.table", NULL);
  app_session_pick_seam (strip->session, GPOINTER_TO_UINT (g_object_get_data (
                                             G_OBJECT (button), "id")));
}

static void
add_chip (AppStripArea *strip, guint id, const char *name, const char *state,
          gboolean out)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *words = app_ui_label (name, NULL);
  gtk_label_set_ellipsize (GTK_LABEL (words), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (line), words);
  gtk_box_append (GTK_BOX (line), app_ui_label (state, out ? "out" : "dim"));
  gtk_button_set_child (GTK_BUTTON (button), line);
  gtk_widget_add_css_class (button, "seam-row");
  g_autofree char *both = g_strdup_printf (_ ("%s: %s"), name, state);
  app_ui_tip (button, both, NULL);
  g_object_set_data (G_OBJECT (button), "id", GUINT_TO_POINTER (id));
  g_signal_connect (button, "clicked", G_CALLBACK (on_chip), strip);
  gtk_flow_box_insert (GTK_FLOW_BOX (strip->seams), button, -1);
  gtk_widget_set_focusable (gtk_widget_get_parent (button), FALSE);
}

static void
show_seams (AppStripArea *strip)
{
  const Pattern *pattern = app_session_get_shown (strip->session);
  g_autoptr (GString) key = g_string_new ("-");
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) states = g_ptr_array_new_with_free_func (g_free);
  g_autofree gboolean *out = g_new0 (gboolean, pattern->n_seams + 1);
  for (guint i = 0; i < pattern->n_seams; i++)
    {
      const PatternSeam *seam = pattern->seams[i];
      const SewingSeam *facts = sewing_facts_seam (
          app_session_get_facts (strip->session), pattern, seam);
      g_ptr_array_add (names, app_words_seam (pattern, seam));
      g_ptr_array_add (
          states, facts != NULL ? app_words_seam_state (pattern, facts, &out[i])
                                : g_strdup (_ ("one side is empty")));
      g_string_append_printf (key, "%u %s %s\n", seam->id,
                              (char *)g_ptr_array_index (names, i),
                              (char *)g_ptr_array_index (states, i));
    }
  if (g_strcmp0 (key->str, strip->seams_key) == 0)
    return;
  g_free (strip->seams_key);
  strip->seams_key = g_strdup (key->str);
  app_ui_clear (strip->seams);
  for (guint i = 0; i < pattern->n_seams; i++)
    add_chip (strip, pattern->seams[i]->id, g_ptr_array_index (names, i),
              g_ptr_array_index (states, i), out[i]);
}

static void
update_empty (AppStripArea *strip)
{
  gboolean some = app_session_get_shown (strip->session)->n_seams > 0;
  gtk_stack_set_visible_child (GTK_STACK (strip->stack),
                               some ? strip->seams_box : strip->empty);
  if (some)
    show_seams (strip);
}

static void
update (AppStripArea *strip)
{
  const Pattern *pattern = app_session_get_shown (strip->session);
  const PatternSeam *seam = get_seam (strip);
  if (!app_session_is_previewing (strip->session))
    g_clear_pointer (&strip->strain, sewing_strain_free);
  forget_picture (strip);
  gtk_widget_set_visible (strip->head, seam != NULL);
  if (seam == NULL)
    {
      update_empty (strip);
      return;
    }
  gtk_stack_set_visible_child (GTK_STACK (strip->stack), strip->area);
  const SewingSeam *facts = sewing_facts_seam (
      app_session_get_facts (strip->session), pattern, seam);
  gboolean out = FALSE;
  g_autofree char *name = app_words_seam (pattern, seam);
  g_autofree char *state = facts != NULL
                               ? app_words_seam_state (pattern, facts, &out)
                               : g_strdup (_ ("one side is empty"));
  app_ui_set_text (strip->name, name);
  app_ui_set_text (strip->state, state);
  if (out)
    gtk_widget_add_css_class (strip->state, "out");
  else
    gtk_widget_remove_css_class (strip->state, "out");
  const AppPick *pick = app_session_get_pick (strip->session);
  gtk_widget_set_visible (strip->pick, pick->kind != APP_PICK_SEAM);
  describe (strip, name, state);
  gtk_widget_queue_draw (strip->area);
}

static void
on_hover_changed (AppStripArea *strip)
{
  gtk_widget_queue_draw (strip->area);
}

static void
on_walk_changed (AppStripArea *strip)
{
  gtk_button_set_label (GTK_BUTTON (strip->walk),
                        app_walk_get (strip->session) != NULL
                            ? _ ("Leave off walking")
                            : _ ("Walk"));
  gtk_widget_queue_draw (strip->area);
}

void
app_strip_area_set_dark (AppStripArea *strip, gboolean dark)
{
  strip->dark = dark;
  forget_picture (strip);
}

static void
app_strip_area_dispose (GObject *object)
{
  AppStripArea *strip = APP_STRIP_AREA (object);
  if (strip->session != NULL)
    g_signal_handlers_disconnect_by_data (strip->session, strip);
  g_clear_pointer (&strip->picture, cairo_surface_destroy);
  g_clear_pointer (&strip->strain, sewing_strain_free);
  G_OBJECT_CLASS (app_strip_area_parent_class)->dispose (object);
  g_clear_object (&strip->session);
}

static void
app_strip_area_finalize (GObject *object)
{
  g_free (APP_STRIP_AREA (object)->seams_key);
  G_OBJECT_CLASS (app_strip_area_parent_class)->finalize (object);
}

static void
app_strip_area_class_init (AppStripAreaClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = app_strip_area_finalize;
  G_OBJECT_CLASS (klass)->dispose = app_strip_area_dispose;
}

static void
make_head (AppStripArea *strip)
{
  strip->head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  gtk_widget_add_css_class (strip->head, "strip-head");
  strip->name = app_ui_label ("", "strip-name");
  gtk_label_set_ellipsize (GTK_LABEL (strip->name), PANGO_ELLIPSIZE_END);
  strip->state = app_ui_label ("", "strip-state");
  gtk_widget_set_hexpand (strip->state, TRUE);
  strip->pick = gtk_button_new_with_label (_ ("Pick this seam"));
  gtk_widget_add_css_class (strip->pick, "flat");
  g_signal_connect_swapped (strip->pick, "clicked",
                            G_CALLBACK (on_pick_clicked), strip);
  gtk_box_append (GTK_BOX (strip->head), strip->name);
  gtk_box_append (GTK_BOX (strip->head), strip->state);
  gtk_box_append (GTK_BOX (strip->head), strip->pick);
  strip->walk = app_ui_text_button (
      _ ("Walk"), _ ("Roll one piece along the other on the table"));
  app_ui_tip (strip->walk, _ ("Roll one piece along the other on the table"),
              "W");
  gtk_widget_add_css_class (strip->walk, "walk-button");
  g_signal_connect_swapped (strip->walk, "clicked",
                            G_CALLBACK (on_walk_clicked), strip);
  gtk_box_append (GTK_BOX (strip->head), strip->walk);
  gtk_box_append (GTK_BOX (strip), strip->head);
}

static GtkWidget *
make_seams (AppStripArea *strip)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (box, "strip-seams");
  gtk_box_append (GTK_BOX (box),
                  app_ui_heading (_ ("Seams: pick one to see it unrolled")));
  strip->seams = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (strip->seams),
                                   GTK_SELECTION_NONE);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (strip->seams), 6);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (strip->seams), 6);
  gtk_flow_box_set_homogeneous (GTK_FLOW_BOX (strip->seams), TRUE);
  gtk_flow_box_set_min_children_per_line (GTK_FLOW_BOX (strip->seams), 2);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (strip->seams), 4);
  gtk_widget_set_valign (strip->seams, GTK_ALIGN_START);
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), strip->seams);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_box_append (GTK_BOX (box), scroller);
  return box;
}

static void
app_strip_area_init (AppStripArea *strip)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (strip),
                                  GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class (GTK_WIDGET (strip), "strip");
  make_head (strip);
  strip->stack = gtk_stack_new ();
  gtk_widget_set_vexpand (strip->stack, TRUE);
  strip->area = gtk_drawing_area_new ();
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (strip->area), paint, strip,
                                  NULL);
  app_ui_name (strip->area,
               _ ("The seam unrolled, its two sides one over the other"));
  strip->empty = app_ui_label (
      _ ("No seams yet. Baste (B) pairs two edges; the seam is unrolled here."),
      "dim");
  gtk_label_set_xalign (GTK_LABEL (strip->empty), 0.5F);
  gtk_label_set_wrap (GTK_LABEL (strip->empty), TRUE);
  gtk_stack_add_child (GTK_STACK (strip->stack), strip->area);
  gtk_stack_add_child (GTK_STACK (strip->stack), strip->empty);
  strip->seams_box = make_seams (strip);
  gtk_stack_add_child (GTK_STACK (strip->stack), strip->seams_box);
  gtk_box_append (GTK_BOX (strip), strip->stack);

  GtkEventController *motion = gtk_event_controller_motion_new ();
  g_signal_connect_swapped (motion, "motion", G_CALLBACK (on_motion), strip);
  g_signal_connect_swapped (motion, "leave", G_CALLBACK (on_leave), strip);
  gtk_widget_add_controller (strip->area, motion);
  gtk_widget_set_has_tooltip (strip->area, TRUE);
  g_signal_connect (strip->area, "query-tooltip", G_CALLBACK (on_tooltip),
                    strip);
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (on_pressed), strip);
  g_signal_connect_swapped (click, "released", G_CALLBACK (on_released), strip);
  GtkGesture *drag = gtk_gesture_drag_new ();
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (on_dragged),
                            strip);
  g_signal_connect_swapped (drag, "drag-end", G_CALLBACK (on_released), strip);
  gtk_widget_add_controller (strip->area, GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (strip->area, GTK_EVENT_CONTROLLER (click));
}

GtkWidget *
app_strip_area_new (AppSession *session)
{
  AppStripArea *strip = g_object_new (APP_TYPE_STRIP_AREA, NULL);
  strip->session = g_object_ref (session);
  g_signal_connect_swapped (session, "shown-changed", G_CALLBACK (update),
                            strip);
  g_signal_connect_swapped (session, "pick-changed", G_CALLBACK (update),
                            strip);
  g_signal_connect_swapped (session, "hover-changed",
                            G_CALLBACK (on_hover_changed), strip);
  g_signal_connect_swapped (session, "walk-changed",
                            G_CALLBACK (on_walk_changed), strip);
  update (strip);
  return GTK_WIDGET (strip);
}
