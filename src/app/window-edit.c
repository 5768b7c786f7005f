/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a window does with what is picked, and with the view. */
#include <glib/gi18n.h>

#include "app/clipboard.h"
#include "app/draft-popover.h"
#include "app/draft.h"
#include "app/name-bar.h"
#include "app/tool-true.h"
#include "app/tracing.h"
#include "app/ui.h"
#include "app/walk.h"
#include "app/window-private.h"

#define ZOOM_STEP 1.25

static GdkClipboard *
clipboard (AppWindow *window)
{
  return gtk_widget_get_clipboard (GTK_WIDGET (window));
}

/* --- edits ------------------------------------------------------------------------------ */

static void
do_undo (AppWindow *window)
{
  AppTracing *tracing = app_tracing_get (window->session);
  if (tracing != NULL)
    {
      app_tracing_undo (tracing);
      return;
    }
  /* While a line is trued, what was done to it goes first. */
  AppTool *truing = app_canvas_get_truing (window->canvas);
  if (truing != NULL && app_true_take_back (truing))
    {
      app_canvas_tool_told (window->canvas);
      return;
    }
  app_session_undo (window->session);
}

static void
do_redo (AppWindow *window)
{
  AppTracing *tracing = app_tracing_get (window->session);
  if (tracing != NULL)
    {
      app_tracing_redo (tracing);
      return;
    }
  app_session_redo (window->session);
}

static void
do_copy (AppWindow *window)
{
  app_clipboard_copy (clipboard (window), window->session);
}

static void
do_cut (AppWindow *window)
{
  const AppPick *pick = app_session_get_pick (window->session);
  if (pick->kind == APP_PICK_PIECES
      && app_clipboard_copy (clipboard (window), window->session))
    app_session_delete_pick (window->session);
}

static void
on_svg_imported (Pattern *result, const char *name, AppSession *onto,
                 gpointer data)
{
  (void)name;
  (void)onto;
  AppWindow *window = data;
  if (app_session_do (window->session, _ ("paste a drawing"), NULL, result,
                      NULL))
    app_canvas_fit_all (window->canvas);
}

static void
on_svg_pasted (const char *text, gpointer data)
{
  AppWindow *window = data;
  app_import_svg_text (GTK_WINDOW (window), text, window->session,
                       on_svg_imported, window);
}

static void
do_paste (AppWindow *window)
{
  app_clipboard_paste (clipboard (window), window->session, on_svg_pasted,
                       G_OBJECT (window));
}

static void
do_select_all (AppWindow *window)
{
  app_session_select_all (window->session);
}

static void
do_select_none (AppWindow *window)
{
  app_session_pick_none (window->session);
}

static void
do_delete (AppWindow *window)
{
  app_session_delete_pick (window->session);
}

static void
do_mirror (AppWindow *window)
{
  app_session_mirror_pick (window->session);
}

static void
do_duplicate (AppWindow *window)
{
  app_session_copy_pick (window->session, FALSE);
}

static void
do_duplicate_mirrored (AppWindow *window)
{
  app_session_copy_pick (window->session, TRUE);
}

static void
do_turn_left (AppWindow *window)
{
  app_session_turn_pick (window->session, -G_PI / 2);
}

static void
do_turn_right (AppWindow *window)
{
  app_session_turn_pick (window->session, G_PI / 2);
}

static void
do_pick_piece (AppWindow *window)
{
  const AppPick *pick = app_session_get_pick (window->session);
  if (pick->piece != 0)
    app_session_pick_piece (window->session, pick->piece, FALSE);
}

static void
do_pick_seam (AppWindow *window)
{
  guint seam = app_session_get_strip_seam (window->session);
  if (seam != 0)
    app_session_pick_seam (window->session, seam);
}

static void
do_walk (AppWindow *window)
{
  app_walk_begin_picked (window->session);
}

static void
do_fair (AppWindow *window)
{
  app_canvas_fair_picked (window->canvas);
}

static void
do_true (AppWindow *window)
{
  app_canvas_true_picked (window->canvas);
}

/* At one end of the picked seam. */
static void
on_true_at (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  AppWindow *window = data;
  guint seam = window->session != NULL
                   ? app_session_get_strip_seam (window->session)
                   : 0;
  if (seam != 0)
    app_canvas_true (window->canvas, seam, g_variant_get_int32 (value));
}

static void
do_follow (AppWindow *window)
{
  app_canvas_set_tool (window->canvas, APP_TOOL_FOLLOW);
  gtk_widget_grab_focus (GTK_WIDGET (window->canvas));
}

static void
do_name_edges (AppWindow *window)
{
  app_name_bar_open (APP_NAME_BAR (window->name_bar));
}

static void
do_draft_list (AppWindow *window)
{
  app_draft_button_open (window->draft);
}

static void
do_add_notch (AppWindow *window)
{
  const AppPick *pick = app_session_get_pick (window->session);
  guint piece = pick->piece, notch = 0;
  GError *error = NULL;
  if (pick->kind != APP_PICK_EDGE)
    return;
  Pattern *p = drafting_add_notch (app_session_get_pattern (window->session),
                                   piece, pick->edge, 1, PATTERN_FRACTION, 0.5,
                                   &notch, &error);
  if (app_session_do (window->session, _ ("add a notch"), NULL, p, &error))
    app_session_pick_mark (window->session, piece, notch);
}

/* --- the view ----------------------------------------------------------------------------- */

static void
do_zoom_in (AppWindow *window)
{
  app_canvas_zoom (window->canvas, ZOOM_STEP, NULL);
}

static void
do_zoom_out (AppWindow *window)
{
  app_canvas_zoom (window->canvas, 1 / ZOOM_STEP, NULL);
}

static void
do_zoom_fit (AppWindow *window)
{
  app_canvas_fit_all (window->canvas);
}

static void
do_zoom_actual (AppWindow *window)
{
  app_canvas_actual_size (window->canvas);
}

static void
do_zoom_pick (AppWindow *window)
{
  app_canvas_fit_pick (window->canvas);
}

/* The keys go to the table again. */
static void
do_table (AppWindow *window)
{
  gtk_widget_grab_focus (GTK_WIDGET (window->canvas));
}

static void
do_pins (AppWindow *window)
{
  app_checks_button_open (window->checks);
}

/* --- the pattern's unit -------------------------------------------------------------------- */

static const struct
{
  PatternUnit unit;
  const char *target, *label;
} units[] = {
  { PATTERN_MM, "mm", N_ ("_Millimetres") },
  { PATTERN_CM, "cm", N_ ("_Centimetres") },
  { PATTERN_INCH, "in", N_ ("_Inches") },
};

GMenu *
app_window_unit_menu (void)
{
  GMenu *menu = g_menu_new ();
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    {
      g_autofree char *action
          = g_strdup_printf ("win.unit::%s", units[i].target);
      g_menu_append (menu, _ (units[i].label), action);
    }
  return menu;
}

static void
on_unit (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  AppWindow *window = data;
  if (window->session == NULL)
    return;
  const Pattern *pattern = app_session_get_pattern (window->session);
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_str_equal (units[i].target, g_variant_get_string (value, NULL))
        && units[i].unit != pattern->unit)
      {
        Pattern *p = pattern_dup (pattern);
        p->unit = units[i].unit;
        app_session_do (window->session, _ ("change the unit"), NULL, p, NULL);
        return;
      }
}

void
app_window_show_unit (AppWindow *window)
{
  PatternUnit unit = app_session_get_shown (window->session)->unit;
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (window), "unit");
  g_simple_action_set_state (G_SIMPLE_ACTION (action),
                             g_variant_new_string (units[unit].target));
  app_ui_set_text (gtk_menu_button_get_child (GTK_MENU_BUTTON (window->unit)),
                   pattern_unit_word (unit));
}

/* --- actions ------------------------------------------------------------------------------- */

static const struct
{
  const char *name;
  void (*run) (AppWindow *window);
  guint when;
} actions[] = {
  { "undo", do_undo, APP_BY_HISTORY },
  { "redo", do_redo, APP_BY_HISTORY },
  { "copy", do_copy, APP_FOR_PIECES | APP_FOR_PART },
  { "cut", do_cut, APP_FOR_PIECES },
  { "paste", do_paste, APP_FOR_ANY },
  { "select-all", do_select_all, APP_FOR_ANY },
  { "select-none", do_select_none, APP_FOR_ANY },
  { "delete", do_delete,
    APP_FOR_PIECES | APP_FOR_PART | APP_FOR_SEAM | APP_FOR_LINE },
  { "mirror", do_mirror, APP_FOR_PIECES },
  { "duplicate", do_duplicate, APP_FOR_PIECES },
  { "duplicate-mirrored", do_duplicate_mirrored, APP_FOR_PIECES },
  { "turn-left", do_turn_left, APP_FOR_PIECES },
  { "turn-right", do_turn_right, APP_FOR_PIECES },
  { "pick-piece", do_pick_piece, APP_FOR_PART },
  { "pick-seam", do_pick_seam, APP_FOR_EDGE },
  { "walk", do_walk, APP_FOR_EDGE | APP_FOR_PART | APP_FOR_SEAM },
  { "true", do_true, APP_FOR_EDGE | APP_FOR_PART | APP_FOR_SEAM },
  { "fair", do_fair, APP_FOR_EDGE | APP_FOR_PART },
  { "add-notch", do_add_notch, APP_FOR_EDGE },
  { "follow", do_follow, APP_FOR_ANY },
  { "name-edges", do_name_edges, APP_FOR_ANY },
  { "draft-list", do_draft_list, APP_FOR_ANY },
  { "zoom-in", do_zoom_in, APP_FOR_ANY },
  { "zoom-out", do_zoom_out, APP_FOR_ANY },
  { "zoom-fit", do_zoom_fit, APP_FOR_ANY },
  { "zoom-actual", do_zoom_actual, APP_FOR_ANY },
  { "zoom-pick", do_zoom_pick, APP_FOR_ANY },
  { "pins", do_pins, APP_FOR_ANY },
  { "table", do_table, APP_FOR_ANY },
};

static void
on_action (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)value;
  AppWindow *window = data;
  const char *name = g_action_get_name (G_ACTION (action));
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    if (g_str_equal (actions[i].name, name) && window->session != NULL)
      actions[i].run (window);
}

guint
app_window_pick_mask (AppSession *session)
{
  switch (app_session_get_pick (session)->kind)
    {
    case APP_PICK_PIECES:
      return APP_FOR_ANY | APP_FOR_PIECES;
    case APP_PICK_EDGE:
      return APP_FOR_ANY | APP_FOR_PART | APP_FOR_EDGE;
    case APP_PICK_NODES:
    case APP_PICK_MARK:
      return APP_FOR_ANY | APP_FOR_PART;
    case APP_PICK_SEAM:
      return APP_FOR_ANY | APP_FOR_SEAM;
    case APP_PICK_LINE:
    case APP_PICK_PICTURE:
      return APP_FOR_ANY | APP_FOR_LINE;
    case APP_PICK_NONE:
    default:
      return APP_FOR_ANY;
    }
}

/* The pattern and its panels are out of sight while a picture is traced. */
static void
rest_while_tracing (AppWindow *window)
{
  static const char *const seen[]
      = { "undo", "redo", "zoom-in", "zoom-out", "zoom-fit", "table" };
  static const char *const panels[]
      = { "show-pieces", "show-pick", "show-strip", "print" };
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    {
      gboolean stays = FALSE;
      for (guint k = 0; k < G_N_ELEMENTS (seen); k++)
        stays |= g_str_equal (actions[i].name, seen[k]);
      if (!stays)
        app_window_enable (window, actions[i].name, FALSE);
    }
  for (guint i = 0; i < G_N_ELEMENTS (panels); i++)
    app_window_enable (window, panels[i], FALSE);
}

void
app_window_update_edit_actions (AppWindow *window)
{
  static const char *const working[]
      = { "save",       "save-as",     "export-svg", "export-report",
          "print",      "show-pieces", "show-pick",  "show-strip",
          "show-clips", "show-combs",  "unit" };
  gboolean open = window->session != NULL;
  guint mask = open ? app_window_pick_mask (window->session) : 0;
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    if (actions[i].when != APP_BY_HISTORY || !open)
      app_window_enable (window, actions[i].name,
                         (actions[i].when & mask) != 0);
  if (open)
    app_window_enable (window, "pick-seam",
                       (mask & APP_FOR_EDGE) != 0
                           && app_session_get_strip_seam (window->session)
                                  != 0);
  if (open)
    app_window_enable (window, "walk",
                       app_session_get_strip_seam (window->session) != 0);
  if (open
      && (app_walk_get (window->session) != NULL
          || app_draft_get (window->session) != NULL))
    {
      app_window_enable (window, "delete", FALSE);
      app_window_enable (window, "cut", FALSE);
    }
  for (guint i = 0; i < G_N_ELEMENTS (working); i++)
    app_window_enable (window, working[i], open);
  if (open && app_tracing_get (window->session) != NULL)
    rest_while_tracing (window);
}

/* Keys that a field being typed in has to get first: they are looked at on the way
 * back up, while the program's other keys are looked at on the way down. */
typedef struct
{
  guint key;
  GdkModifierType mods;
  const char *action;
  gboolean in_text; /* also where a field has no use for it */
} EditKey;

static const EditKey edit_keys[] = {
  { GDK_KEY_z, GDK_CONTROL_MASK, "undo", TRUE },
  { GDK_KEY_z, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "redo", TRUE },
  { GDK_KEY_y, GDK_CONTROL_MASK, "redo", TRUE },
  { GDK_KEY_x, GDK_CONTROL_MASK, "cut", FALSE },
  { GDK_KEY_c, GDK_CONTROL_MASK, "copy", FALSE },
  { GDK_KEY_v, GDK_CONTROL_MASK, "paste", FALSE },
  { GDK_KEY_a, GDK_CONTROL_MASK, "select-all", FALSE },
  { GDK_KEY_a, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "select-none", FALSE },
  { GDK_KEY_Delete, 0, "delete", FALSE },
};

static gboolean
is_typing (AppWindow *window)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));
  return GTK_IS_EDITABLE (focus) || GTK_IS_TEXT_VIEW (focus);
}

static gboolean
run_key (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void)args;
  const EditKey *key = data;
  GActionGroup *group = G_ACTION_GROUP (widget);
  if ((is_typing (APP_WINDOW (widget)) && !key->in_text)
      || !g_action_group_get_action_enabled (group, key->action))
    return FALSE;
  g_action_group_activate_action (group, key->action, NULL);
  return TRUE;
}

static void
add_keys (AppWindow *window)
{
  GtkEventController *controller = gtk_shortcut_controller_new ();
  for (guint i = 0; i < G_N_ELEMENTS (edit_keys); i++)
    gtk_shortcut_controller_add_shortcut (
        GTK_SHORTCUT_CONTROLLER (controller),
        gtk_shortcut_new (
            gtk_keyval_trigger_new (edit_keys[i].key, edit_keys[i].mods),
            gtk_callback_action_new (run_key, (gpointer)&edit_keys[i], NULL)));
  gtk_widget_add_controller (GTK_WIDGET (window), controller);
}

/* Letters of the hand tools, wherever the focus is but in a field. */
static gboolean
on_letter (AppWindow *window, guint key, guint code, GdkModifierType mods)
{
  (void)code;
  AppToolKind kind;
  if (window->canvas == NULL || is_typing (window)
      || app_tracing_get (window->session) != NULL
      || (mods & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0)
    return FALSE;
  if (gdk_keyval_to_lower (key) == GDK_KEY_w
      && app_walk_get (window->session) == NULL)
    {
      app_walk_begin_picked (window->session);
      gtk_widget_grab_focus (GTK_WIDGET (window->canvas));
      return TRUE;
    }
  if (gdk_keyval_to_lower (key) == GDK_KEY_v
      && app_draft_get (window->session) == NULL)
    {
      do_draft_list (window);
      return TRUE;
    }
  if (!app_hand_tool_of_key (key, &kind))
    return FALSE;
  app_walk_end (window->session);
  app_canvas_set_tool (window->canvas, kind);
  gtk_widget_grab_focus (GTK_WIDGET (window->canvas));
  return TRUE;
}

static void
on_draft (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  AppWindow *window = data;
  if (window->session != NULL)
    app_draft_begin (window->session, g_variant_get_string (value, NULL));
}

static void
on_draft_recipe (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  AppWindow *window = data;
  if (window->session != NULL)
    app_draft_begin_recipe (window->session, g_variant_get_uint32 (value));
}

void
app_window_add_edit_actions (AppWindow *window)
{
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    {
      g_autoptr (GSimpleAction) action
          = g_simple_action_new (actions[i].name, NULL);
      g_signal_connect (action, "activate", G_CALLBACK (on_action), window);
      g_action_map_add_action (G_ACTION_MAP (window), G_ACTION (action));
    }
  g_autoptr (GSimpleAction) unit = g_simple_action_new_stateful (
      "unit", G_VARIANT_TYPE_STRING, g_variant_new_string ("cm"));
  g_signal_connect (unit, "activate", G_CALLBACK (on_unit), window);
  g_action_map_add_action (G_ACTION_MAP (window), G_ACTION (unit));
  g_autoptr (GSimpleAction) true_at
      = g_simple_action_new ("true-at", G_VARIANT_TYPE_INT32);
  g_signal_connect (true_at, "activate", G_CALLBACK (on_true_at), window);
  g_action_map_add_action (G_ACTION_MAP (window), G_ACTION (true_at));
  g_autoptr (GSimpleAction) draft
      = g_simple_action_new ("draft", G_VARIANT_TYPE_STRING);
  g_signal_connect (draft, "activate", G_CALLBACK (on_draft), window);
  g_action_map_add_action (G_ACTION_MAP (window), G_ACTION (draft));
  g_autoptr (GSimpleAction) recipe
      = g_simple_action_new ("draft-recipe", G_VARIANT_TYPE_UINT32);
  g_signal_connect (recipe, "activate", G_CALLBACK (on_draft_recipe), window);
  g_action_map_add_action (G_ACTION_MAP (window), G_ACTION (recipe));
  add_keys (window);
  GtkEventController *letters = gtk_event_controller_key_new ();
  g_signal_connect_swapped (letters, "key-pressed", G_CALLBACK (on_letter),
                            window);
  gtk_widget_add_controller (GTK_WIDGET (window), letters);
}
