/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/window.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "app/amount-bar.h"
#include "app/ask.h"
#include "app/draft.h"
#include "app/fair-bar.h"
#include "app/name-bar.h"
#include "app/rulers.h"
#include "app/scheme.h"
#include "app/settings.h"
#include "app/trace-bar.h"
#include "app/tracing.h"
#include "app/true-bar.h"
#include "app/ui.h"
#include "app/walk-bar.h"
#include "app/walk.h"
#include "app/window-private.h"

#define LEAST_STRIP_PX 150
/* Of the window's height; the table stays the largest by far. */
#define STRIP_SHARE 0.285

G_DEFINE_FINAL_TYPE (AppWindow, app_window, GTK_TYPE_APPLICATION_WINDOW)

void
app_window_tell (AppWindow *window, const char *text, gboolean passing)
{
  app_notice_show (APP_NOTICE (window->notice), text, passing, NULL, NULL);
}

void
app_window_enable (AppWindow *window, const char *action, gboolean enabled)
{
  GAction *it = g_action_map_lookup_action (G_ACTION_MAP (window), action);
  g_simple_action_set_enabled (G_SIMPLE_ACTION (it), enabled);
}

AppSession *
app_window_get_session (AppWindow *window)
{
  g_return_val_if_fail (APP_IS_WINDOW (window), NULL);
  return window->session;
}

GtkWidget *
app_window_get_canvas (AppWindow *window)
{
  g_return_val_if_fail (APP_IS_WINDOW (window), NULL);
  return GTK_WIDGET (window->canvas);
}

/* --- light and dark ------------------------------------------------------------------ */

static void
on_scheme (gpointer owner)
{
  AppWindow *window = owner;
  gboolean dark = app_scheme_is_dark ();
  if (window->session == NULL)
    return;
  app_canvas_set_dark (window->canvas, dark);
  app_pieces_panel_set_dark (APP_PIECES_PANEL (window->pieces), dark);
  app_strip_area_set_dark (APP_STRIP_AREA (window->strip), dark);
  app_checks_button_set_dark (window->checks, dark);
}

/* The list of seams alone makes room for the bar of a verb: there is more to see on the
 * table then. */
static void
show_strip (AppWindow *window)
{
  gboolean makes_room = app_draft_get (window->session) != NULL
                        && app_session_get_strip_seam (window->session) == 0;
  gtk_widget_set_visible (window->strip, app_settings_get ()->strip
                                             && !makes_room
                                             && !window->tracing);
}

/* --- panels that fold away --------------------------------------------------------------- */

void
app_window_show_panels (AppWindow *window)
{
  const AppSettings *settings = app_settings_get ();
  if (window->session == NULL)
    return;
  gtk_widget_set_visible (window->left, !window->tracing);
  gtk_widget_set_visible (window->pieces, settings->pieces);
  /* The rack alone is as narrow as can be. */
  gtk_paned_set_position (
      GTK_PANED (window->left_pane),
      settings->pieces && settings->left_px > 0 ? settings->left_px : -1);
  app_hand_tools_set_narrow (APP_HAND_TOOLS (window->rack), !settings->pieces);
  gtk_widget_set_visible (window->pick, settings->pick && !window->tracing);
  show_strip (window);
  app_canvas_set_show_clips (window->canvas, settings->clips);
  app_canvas_set_show_combs (window->canvas, settings->combs);
}

typedef struct
{
  const char *action;
  size_t offset; /* of the setting */
} Panel;

static const Panel panels[] = {
  { "show-pieces", offsetof (AppSettings, pieces) },
  { "show-pick", offsetof (AppSettings, pick) },
  { "show-strip", offsetof (AppSettings, strip) },
  { "show-clips", offsetof (AppSettings, clips) },
  { "show-combs", offsetof (AppSettings, combs) },
};

static gboolean *
panel_setting (const char *action)
{
  for (guint i = 0; i < G_N_ELEMENTS (panels); i++)
    if (g_str_equal (panels[i].action, action))
      return (gboolean *)(void *)((char *)app_settings_get ()
                                  + panels[i].offset);
  return NULL;
}

static void
on_panel (GSimpleAction *action, GVariant *value, gpointer data)
{
  gboolean *setting = panel_setting (g_action_get_name (G_ACTION (action)));
  *setting = g_variant_get_boolean (value);
  g_simple_action_set_state (action, value);
  app_window_show_panels (data);
  app_settings_save ();
}

static void
add_panel_actions (AppWindow *window)
{
  for (guint i = 0; i < G_N_ELEMENTS (panels); i++)
    {
      g_autoptr (GSimpleAction) action = g_simple_action_new_stateful (
          panels[i].action, NULL,
          g_variant_new_boolean (*panel_setting (panels[i].action)));
      g_signal_connect (action, "change-state", G_CALLBACK (on_panel), window);
      g_action_map_add_action (G_ACTION_MAP (window), G_ACTION (action));
    }
}

/* --- what the session tells ----------------------------------------------------------- */

static void
on_problem (AppWindow *window, const char *text)
{
  app_window_tell (window, text, TRUE);
}

static void
on_hint (AppWindow *window, const char *text)
{
  app_ui_set_text (window->hint, text);
  gtk_widget_set_visible (window->hint, text[0] != '\0');
}

static void
on_look_at (AppWindow *window, double x0, double y0, double x1, double y1)
{
  app_canvas_look_at (window->canvas, (GeoBox){ x0, y0, x1, y1 });
}

static void
on_state_changed (AppWindow *window)
{
  app_notice_pass (APP_NOTICE (window->notice));
  app_window_header_update (window);
  app_window_update_edit_actions (window);
  app_window_keep_soon (window);
}

/* Nothing is cut or taken away while a seam is walked. */
static void
on_walk_changed (AppWindow *window)
{
  gboolean walking = app_walk_get (window->session) != NULL;
  if (walking == window->walking)
    return;
  window->walking = walking;
  app_window_update_edit_actions (window);
}

/* Nor while amounts are filled in. */
static void
on_draft_changed (AppWindow *window)
{
  gboolean drafting = app_draft_get (window->session) != NULL;
  if (drafting == window->drafting)
    return;
  window->drafting = drafting;
  app_window_update_edit_actions (window);
}

static void
on_pick_changed (AppWindow *window)
{
  app_window_update_edit_actions (window);
}

/* Once the panel shows the new piece, and is there to be typed into. */
static gboolean
focus_name (gpointer data)
{
  AppWindow *window = data;
  if (window->session != NULL)
    app_pick_panel_focus_name (APP_PICK_PANEL (window->pick));
  g_object_unref (window);
  return G_SOURCE_REMOVE;
}

static void
on_name_it (AppWindow *window)
{
  g_idle_add (focus_name, g_object_ref (window));
}

/* --- the work area -------------------------------------------------------------------- */

static GtkWidget *
make_zoom (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (box, "pill");
  gtk_widget_set_halign (box, GTK_ALIGN_END);
  gtk_widget_set_valign (box, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (box),
                  app_ui_icon_button ("zoom-out-symbolic", _ ("Smaller"),
                                      "Ctrl+−", "win.zoom-out"));
  gtk_box_append (GTK_BOX (box),
                  app_ui_icon_button ("bodkin-fit-symbolic", _ ("All of it"),
                                      "Ctrl+0", "win.zoom-fit"));
  gtk_box_append (GTK_BOX (box),
                  app_ui_icon_button ("zoom-in-symbolic", _ ("Larger"),
                                      "Ctrl++", "win.zoom-in"));
  return box;
}

/* In the corner where the rulers meet: tells the unit, and changes it. */
static GtkWidget *
make_unit (void)
{
  GtkWidget *button = gtk_menu_button_new ();
  gtk_widget_add_css_class (button, "unit-corner");
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_set_size_request (button, APP_RULER_PX, APP_RULER_PX);
  gtk_menu_button_set_always_show_arrow (GTK_MENU_BUTTON (button), FALSE);
  g_autoptr (GMenu) menu = app_window_unit_menu ();
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button),
                                  G_MENU_MODEL (menu));
  app_ui_tip (button, _ ("Unit of this pattern"), NULL);
  gtk_menu_button_set_child (GTK_MENU_BUTTON (button), gtk_label_new (""));
  return button;
}

static GtkWidget *
make_table (AppWindow *window)
{
  GtkWidget *overlay = gtk_overlay_new ();
  gtk_widget_set_hexpand (overlay, TRUE);
  gtk_widget_set_vexpand (overlay, TRUE);
  window->canvas = APP_CANVAS (app_canvas_new (window->session));
  gtk_overlay_set_child (GTK_OVERLAY (overlay), GTK_WIDGET (window->canvas));
  window->hint = app_ui_label ("", "hint");
  gtk_label_set_wrap (GTK_LABEL (window->hint), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (window->hint), 90);
  gtk_label_set_justify (GTK_LABEL (window->hint), GTK_JUSTIFY_CENTER);
  gtk_widget_set_halign (window->hint, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (window->hint, GTK_ALIGN_END);
  gtk_widget_set_can_target (window->hint, FALSE);
  gtk_widget_set_visible (window->hint, FALSE);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), window->hint);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay),
                           app_true_bar_new (window->session, window->canvas));
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay),
                           app_fair_bar_new (window->session, window->canvas));
  window->name_bar = app_name_bar_new (window->session, window->canvas);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), window->name_bar);
  window->zoom = make_zoom ();
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), window->zoom);
  window->walk_bar = app_walk_bar_new (window->session);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), window->walk_bar);
  window->unit = make_unit ();
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), window->unit);
  window->amount_bar = app_amount_bar_new (window->session);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  window->trace_bar = app_trace_bar_new (window->session);
  gtk_box_append (GTK_BOX (box), window->trace_bar);
  gtk_box_append (GTK_BOX (box), window->amount_bar);
  gtk_box_append (GTK_BOX (box), overlay);
  return box;
}

static GtkWidget *
make_left (AppWindow *window)
{
  window->left = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (window->left, "panel");
  gtk_widget_add_css_class (window->left, "left-panel");
  window->pieces = app_pieces_panel_new (window->session);
  gtk_widget_set_vexpand (window->pieces, TRUE);
  window->rack = app_hand_tools_new (window->session, window->canvas);
  gtk_widget_set_valign (window->rack, GTK_ALIGN_END);
  /* Room that is to spare is the table's. */
  gtk_widget_set_hexpand (window->left, FALSE);
  gtk_box_append (GTK_BOX (window->left), window->pieces);
  gtk_box_append (GTK_BOX (window->left), window->rack);
  return window->left;
}

/* A panel and what is beside it; the panel keeps its width, the rest takes what room
 * there is. */
static GtkWidget *
make_pane (GtkWidget *start, GtkWidget *end, gboolean panel_first)
{
  GtkWidget *pane = gtk_paned_new (GTK_ORIENTATION_HORIZONTAL);
  GtkPaned *p = GTK_PANED (pane);
  gtk_paned_set_start_child (p, start);
  gtk_paned_set_end_child (p, end);
  gtk_paned_set_resize_start_child (p, !panel_first);
  gtk_paned_set_resize_end_child (p, panel_first);
  gtk_paned_set_shrink_start_child (p, FALSE);
  gtk_paned_set_shrink_end_child (p, FALSE);
  return pane;
}

static GtkWidget *
make_work (AppWindow *window)
{
  GtkWidget *table = make_table (window);
  window->pick = app_pick_panel_new (window->session);
  gtk_widget_set_hexpand (window->pick, FALSE);
  window->pick_pane = make_pane (table, window->pick, FALSE);
  window->left_pane = make_pane (make_left (window), window->pick_pane, TRUE);
  GtkWidget *line = window->left_pane;
  gtk_widget_set_vexpand (line, TRUE);
  window->strip = app_strip_area_new (window->session);
  g_signal_connect_object (window->session, "draft-changed",
                           G_CALLBACK (show_strip), window, G_CONNECT_SWAPPED);
  g_signal_connect_object (window->session, "pick-changed",
                           G_CALLBACK (show_strip), window, G_CONNECT_SWAPPED);
  gtk_widget_set_size_request (window->strip, -1, LEAST_STRIP_PX);
  window->strip_pane = gtk_paned_new (GTK_ORIENTATION_VERTICAL);
  GtkPaned *pane = GTK_PANED (window->strip_pane);
  gtk_paned_set_start_child (pane, line);
  gtk_paned_set_end_child (pane, window->strip);
  gtk_paned_set_resize_start_child (pane, TRUE);
  gtk_paned_set_resize_end_child (pane, FALSE);
  gtk_paned_set_shrink_start_child (pane, FALSE);
  gtk_paned_set_shrink_end_child (pane, FALSE);
  return window->strip_pane;
}

static void
connect_session (AppWindow *window)
{
  AppSession *s = window->session;
  const struct
  {
    const char *signal;
    GCallback handler;
  } handlers[] = {
    { "problem", G_CALLBACK (on_problem) },
    { "hint", G_CALLBACK (on_hint) },
    { "look-at", G_CALLBACK (on_look_at) },
    { "state-changed", G_CALLBACK (on_state_changed) },
    { "pick-changed", G_CALLBACK (on_pick_changed) },
    { "shown-changed", G_CALLBACK (app_window_show_unit) },
    { "name-it", G_CALLBACK (on_name_it) },
    { "walk-changed", G_CALLBACK (on_walk_changed) },
    { "draft-changed", G_CALLBACK (on_draft_changed) },
    { "tracing-changed", G_CALLBACK (app_window_trace_changed) },
  };
  for (guint i = 0; i < G_N_ELEMENTS (handlers); i++)
    g_signal_connect_object (s, handlers[i].signal, handlers[i].handler, window,
                             G_CONNECT_SWAPPED);
  g_signal_connect_object (window->canvas, "context-menu",
                           G_CALLBACK (app_window_context_menu), window,
                           G_CONNECT_SWAPPED);
}

static void
lay_strip (AppWindow *window)
{
  int height = gtk_widget_get_height (window->strip_pane);
  int strip = app_settings_get ()->strip_px;
  window->strip_px = CLAMP ((int)(height * STRIP_SHARE), LEAST_STRIP_PX, 340);
  if (strip <= 0 || strip > height * 2 / 3)
    strip = window->strip_px;
  gtk_paned_set_position (GTK_PANED (window->strip_pane), height - strip);
}

/* The view is fitted, and the keys go to the table, once it has its size. */
static gboolean
fit_at_first (GtkWidget *canvas, GdkFrameClock *clock, gpointer data)
{
  (void)clock;
  if (gtk_widget_get_width (canvas) < 50)
    return G_SOURCE_CONTINUE;
  AppWindow *window = data;
  int room = gtk_widget_get_width (window->pick_pane);
  int pick = app_settings_get ()->pick_px;
  if (pick > 0)
    gtk_paned_set_position (GTK_PANED (window->pick_pane), room - pick);
  lay_strip (window);
  app_canvas_fit_all (APP_CANVAS (canvas));
  gtk_widget_grab_focus (canvas);
  return G_SOURCE_REMOVE;
}

void
app_window_open_session (AppWindow *window, AppSession *session)
{
  g_return_if_fail (APP_IS_WINDOW (window) && window->session == NULL);
  window->session = session;
  GtkWidget *work = make_work (window);
  gtk_stack_add_named (GTK_STACK (window->stack), work, "work");
  connect_session (window);
  app_window_header_opened (window);
  gtk_stack_set_visible_child (GTK_STACK (window->stack), work);
  gtk_stack_remove (GTK_STACK (window->stack), window->start);
  window->start = NULL;
  app_window_show_panels (window);
  on_scheme (window);
  on_state_changed (window);
  app_window_show_unit (window);
  gtk_widget_add_tick_callback (GTK_WIDGET (window->canvas), fit_at_first,
                                window, NULL);
}

/* --- the window itself ------------------------------------------------------------------ */

/* A panel's width where it is wider than it has to be, else 0. */
static int
drawn_width (GtkWidget *panel)
{
  int least, width = gtk_widget_get_width (panel);
  gtk_widget_measure (panel, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL,
                      NULL);
  return width > least + 2 ? width : 0;
}

static void
remember_size (AppWindow *window)
{
  AppSettings *settings = app_settings_get ();
  if (window->session != NULL && settings->pieces)
    settings->left_px = drawn_width (window->left);
  if (window->session != NULL && settings->pick)
    settings->pick_px = drawn_width (window->pick);
  if (window->session != NULL && settings->strip)
    {
      int strip = gtk_widget_get_height (window->strip);
      settings->strip_px = abs (strip - window->strip_px) > 6 ? strip : 0;
    }
  settings->maximized = gtk_window_is_maximized (GTK_WINDOW (window));
  if (!settings->maximized)
    gtk_window_get_default_size (GTK_WINDOW (window), &settings->width_px,
                                 &settings->height_px);
  app_settings_save ();
}

/* A popover that is open when its window goes would keep the pointer to itself. */
static void
close_popovers (GtkWidget *widget)
{
  if (GTK_IS_POPOVER (widget))
    gtk_popover_popdown (GTK_POPOVER (widget));
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    close_popovers (child);
}

static gboolean
app_window_close_request (GtkWindow *gtk_window)
{
  AppWindow *window = APP_WINDOW (gtk_window);
  close_popovers (GTK_WIDGET (window));
  if (!window->close_ok && !app_window_may_close (window))
    return TRUE;
  remember_size (window);
  if (window->session != NULL)
    {
      app_window_keep_no_more (window);
      /* Saved, or given up on purpose. */
      file_autosave_drop (app_session_get_slot (window->session));
    }
  return GTK_WINDOW_CLASS (app_window_parent_class)->close_request (gtk_window);
}

static void
app_window_dispose (GObject *object)
{
  AppWindow *window = APP_WINDOW (object);
  app_window_keep_no_more (window);
  G_OBJECT_CLASS (app_window_parent_class)->dispose (object);
  g_clear_object (&window->session);
  g_clear_object (&window->recent);
  g_clear_pointer (&window->recovered, g_free);
}

static void
app_window_class_init (AppWindowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = app_window_close_request;
}

/* Escape from a field or a button leads back to the table. */
static gboolean
on_key (AppWindow *window, guint key)
{
  if (key != GDK_KEY_Escape || window->canvas == NULL
      || gtk_widget_has_focus (GTK_WIDGET (window->canvas)))
    return FALSE;
  return gtk_widget_grab_focus (GTK_WIDGET (window->canvas));
}

static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y,
         AppWindow *window)
{
  (void)target;
  (void)x;
  (void)y;
  GSList *files = g_value_get_boxed (value);
  for (GSList *l = files; l != NULL; l = l->next)
    {
      g_autofree char *path = g_file_get_path (l->data);
      if (path != NULL)
        app_window_open_path (window, path);
      else
        app_tell_far (GTK_WINDOW (window));
    }
  return files != NULL;
}

static void
on_recover (AppWindow *window, const FileRecovery *recovery)
{
  app_window_recover (window, recovery);
}

static void
app_window_init (AppWindow *window)
{
  const AppSettings *settings = app_settings_get ();
  GtkWindow *self = GTK_WINDOW (window);
  gtk_window_set_default_size (self, settings->width_px, settings->height_px);
  if (settings->maximized)
    gtk_window_maximize (self);
  gtk_widget_set_size_request (GTK_WIDGET (window), 720, 480);
  gtk_window_set_icon_name (self, "page.bodkin.bodkin");

  GtkWidget *overlay = gtk_overlay_new ();
  window->stack = gtk_stack_new ();
  gtk_stack_set_hhomogeneous (GTK_STACK (window->stack), FALSE);
  gtk_stack_set_vhomogeneous (GTK_STACK (window->stack), FALSE);
  window->start = app_start_page_new ();
  g_signal_connect_swapped (window->start, "recover", G_CALLBACK (on_recover),
                            window);
  gtk_stack_add_named (GTK_STACK (window->stack), window->start, "start");
  gtk_overlay_set_child (GTK_OVERLAY (overlay), window->stack);
  window->notice = app_notice_new ();
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), window->notice);
  gtk_window_set_child (self, overlay);

  add_panel_actions (window);
  app_window_add_file_actions (window);
  app_window_add_trace_actions (window);
  app_window_add_edit_actions (window);
  app_window_make_header (window);
  app_window_update_edit_actions (window);

  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), window);
  gtk_widget_add_controller (GTK_WIDGET (window), keys);
  GtkDropTarget *drop
      = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect (drop, "drop", G_CALLBACK (on_drop), window);
  gtk_widget_add_controller (GTK_WIDGET (window), GTK_EVENT_CONTROLLER (drop));
  app_scheme_watch (G_OBJECT (window), on_scheme);
}

AppWindow *
app_window_new (GtkApplication *app)
{
  AppWindow *window = g_object_new (APP_TYPE_WINDOW, "application", app, NULL);
  gtk_widget_grab_focus (window->start);
  return window;
}
