/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What keys do while the table has the focus. */
#include "app/canvas-private.h"
#include "app/draft.h"

void
app_canvas_end_nudges (AppCanvas *canvas)
{
  g_clear_handle_id (&canvas->nudge_timer, g_source_remove);
  g_clear_pointer (&canvas->nudge_tag, g_free);
  canvas->nudged.n = 0;
}

static gboolean
on_nudges_over (gpointer data)
{
  AppCanvas *canvas = data;
  canvas->nudge_timer = 0;
  app_canvas_end_nudges (canvas);
  gtk_widget_queue_draw (GTK_WIDGET (canvas));
  return G_SOURCE_REMOVE;
}

/* A run of nudges is told as one drag is: by what it has changed since it began. */
static void
nudge (AppCanvas *canvas, double dx, double dy)
{
  if (canvas->nudged.n == 0)
    app_tag_start_pick (&canvas->nudged, canvas->session);
  app_session_nudge (canvas->session, dx, dy);
  g_free (canvas->nudge_tag);
  canvas->nudge_tag = app_tag_changes (&canvas->nudged, canvas->session);
  g_clear_handle_id (&canvas->nudge_timer, g_source_remove);
  canvas->nudge_timer = g_timeout_add (3000, on_nudges_over, canvas);
}

static gboolean
on_arrow (AppCanvas *canvas, double x, double y, guint mods)
{
  AppKey key = x < 0   ? APP_KEY_LEFT
               : x > 0 ? APP_KEY_RIGHT
               : y < 0 ? APP_KEY_UP
                       : APP_KEY_DOWN;
  if (app_tool_key (canvas->tool, key))
    return TRUE;
  if (app_session_get_pick (canvas->session)->kind == APP_PICK_NONE)
    {
      app_canvas_move_view (canvas, -x * 64, -y * 64);
      return TRUE;
    }
  double step
      = pattern_length_step (app_session_get_shown (canvas->session)->unit);
  if (mods & APP_MOD_SHIFT)
    step *= 10;
  if (mods & APP_MOD_ALT)
    step /= 10;
  nudge (canvas, x * step, y * step);
  return TRUE;
}

static gboolean
on_escape (AppCanvas *canvas)
{
  if (app_tool_key (canvas->tool, APP_KEY_ESCAPE))
    return TRUE;
  if (app_session_is_previewing (canvas->session))
    {
      app_session_cancel (canvas->session);
      return TRUE;
    }
  if (app_tool_get_kind (canvas->tool) != APP_TOOL_RESHAPE)
    {
      app_canvas_set_tool (canvas, APP_TOOL_RESHAPE);
      return TRUE;
    }
  return app_session_step_out (canvas->session);
}

/* The seam of the picked edge, node or notch. */
static gboolean
pick_seam (AppCanvas *canvas)
{
  guint seam = app_session_get_strip_seam (canvas->session);
  if (seam == 0)
    return FALSE;
  app_session_pick_seam (canvas->session, seam);
  return TRUE;
}

static gboolean
on_letter (AppCanvas *canvas, guint key)
{
  static const guint letters[APP_N_TOOLS]
      = { GDK_KEY_r, GDK_KEY_d, GDK_KEY_m, GDK_KEY_b, GDK_KEY_t, GDK_KEY_x };
  for (int i = 0; i < APP_N_TOOLS; i++)
    if (gdk_keyval_to_lower (key) == letters[i])
      {
        app_canvas_set_tool (canvas, (AppToolKind)i);
        return TRUE;
      }
  if (key == GDK_KEY_F)
    app_canvas_fair_picked (canvas);
  else if (gdk_keyval_to_lower (key) == GDK_KEY_c)
    gtk_widget_activate_action (GTK_WIDGET (canvas), "win.show-combs", NULL);
  else if (gdk_keyval_to_lower (key) == GDK_KEY_f)
    app_canvas_fit_pick (canvas);
  else if (gdk_keyval_to_lower (key) == GDK_KEY_s)
    return pick_seam (canvas);
  else if (gdk_keyval_to_lower (key) == GDK_KEY_w)
    app_walk_begin_picked (canvas->session);
  else if (gdk_keyval_to_lower (key) == GDK_KEY_j)
    app_canvas_true_picked (canvas);
  else if (gdk_keyval_to_lower (key) == GDK_KEY_o)
    app_canvas_set_tool (canvas, APP_TOOL_FOLLOW);
  else if (gdk_keyval_to_lower (key) == GDK_KEY_n)
    gtk_widget_activate_action (GTK_WIDGET (canvas), "win.name-edges", NULL);
  else if (key == GDK_KEY_Home)
    app_canvas_fit_all (canvas);
  else if (key == GDK_KEY_plus || key == GDK_KEY_KP_Add || key == GDK_KEY_equal)
    app_canvas_zoom (canvas, APP_VIEW_STEP * APP_VIEW_STEP, NULL);
  else if (key == GDK_KEY_minus || key == GDK_KEY_KP_Subtract)
    app_canvas_zoom (canvas, 1 / (APP_VIEW_STEP * APP_VIEW_STEP), NULL);
  else
    return FALSE;
  return TRUE;
}

static gboolean
on_menu_key (AppCanvas *canvas)
{
  GeoBox box = app_session_pick_box (canvas->session);
  GeoBox area = app_canvas_area (canvas);
  GeoPoint px = geo_point ((area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2);
  if (!geo_box_is_empty (box))
    px = app_view_to_px (&canvas->view, geo_point ((box.x0 + box.x1) / 2,
                                                   (box.y0 + box.y1) / 2));
  px.x = fmin (fmax (px.x, area.x0), area.x1);
  px.y = fmin (fmax (px.y, area.y0), area.y1);
  g_signal_emit_by_name (canvas, "context-menu", px.x, px.y);
  return TRUE;
}

/* While amounts are filled in, Enter and Escape are the verb's, and what would change the pattern or the
 * pick is no key. */
static gboolean
on_draft_key (AppCanvas *canvas, guint key)
{
  AppDraft *draft = app_draft_get (canvas->session);
  switch (key)
    {
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      app_draft_do (draft);
      return TRUE;
    case GDK_KEY_Escape:
      if (!app_draft_take_back (draft))
        app_draft_end (canvas->session);
      return TRUE;
    case GDK_KEY_BackSpace:
      app_draft_take_back (draft);
      return TRUE;
    case GDK_KEY_Left:
    case GDK_KEY_Right:
    case GDK_KEY_Up:
    case GDK_KEY_Down:
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
      return TRUE;
    case GDK_KEY_Tab:
      app_draft_move_active (draft, 1);
      return TRUE;
    case GDK_KEY_ISO_Left_Tab:
      app_draft_move_active (draft, -1);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
on_plain_key (AppCanvas *canvas, guint key, guint mods)
{
  if (app_draft_get (canvas->session) != NULL && on_draft_key (canvas, key))
    return TRUE;
  switch (key)
    {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      return on_arrow (canvas, -1, 0, mods);
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      return on_arrow (canvas, 1, 0, mods);
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      return on_arrow (canvas, 0, -1, mods);
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      return on_arrow (canvas, 0, 1, mods);
    case GDK_KEY_Tab:
    case GDK_KEY_KP_Tab:
      return app_tool_key (canvas->tool, APP_KEY_TAB)
             || app_session_step_pick (canvas->session, 1);
    case GDK_KEY_ISO_Left_Tab:
      return app_tool_key (canvas->tool, APP_KEY_TAB)
             || app_session_step_pick (canvas->session, -1);
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      return app_tool_key (canvas->tool, APP_KEY_ENTER)
             || app_session_step_into (canvas->session);
    case GDK_KEY_Escape:
      return on_escape (canvas);
    case GDK_KEY_BackSpace:
      if (app_tool_key (canvas->tool, APP_KEY_BACKSPACE))
        return TRUE;
      app_session_delete_pick (canvas->session);
      return TRUE;
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
      /* What is trued is not to be thrown away by a slip. */
      if (app_canvas_get_truing (canvas) == NULL
          && app_canvas_get_fairing (canvas) == NULL)
        app_session_delete_pick (canvas->session);
      return TRUE;
    case GDK_KEY_Menu:
      return on_menu_key (canvas);
    case GDK_KEY_F10:
      return (mods & APP_MOD_SHIFT) ? on_menu_key (canvas) : FALSE;
    default:
      return (mods & APP_MOD_ALT) ? FALSE : on_letter (canvas, key);
    }
}

static gboolean
on_key (GtkEventControllerKey *keys, guint key, guint code,
        GdkModifierType state, AppCanvas *canvas)
{
  (void)keys;
  (void)code;
  guint mods = app_canvas_mods (state);
  if ((key != GDK_KEY_space || app_canvas_tracing (canvas) != NULL)
      && app_canvas_trace_key (canvas, key, mods))
    {
      canvas->by_keys = TRUE;
      app_canvas_tool_moved (canvas);
      return TRUE;
    }
  if (app_canvas_walk_key (canvas, key, mods))
    {
      canvas->by_keys = TRUE;
      return TRUE;
    }
  if (!(mods & (APP_MOD_CTRL | APP_MOD_ALT)) && !canvas->space
      && app_tool_type (canvas->tool, gdk_keyval_to_unicode (key)))
    {
      app_canvas_tool_moved (canvas);
      return TRUE;
    }
  if (key == GDK_KEY_space && !(mods & APP_MOD_CTRL))
    {
      if (!canvas->space && !canvas->pressed)
        {
          canvas->space = TRUE;
          canvas->space_used = FALSE;
          app_tool_leave (canvas->tool);
        }
      app_canvas_tool_moved (canvas);
      return TRUE;
    }
  if (mods & APP_MOD_CTRL)
    return FALSE;
  gboolean used = on_plain_key (canvas, key, mods);
  /* Who works by keys is shown where she is, until she takes up the pointer again. */
  canvas->by_keys |= used;
  if (used)
    app_canvas_tool_moved (canvas);
  return used;
}

static void
on_key_released (GtkEventControllerKey *keys, guint key, guint code,
                 GdkModifierType state, AppCanvas *canvas)
{
  (void)keys;
  (void)code;
  if (key == GDK_KEY_space && canvas->space)
    {
      canvas->space = FALSE;
      /* Space alone is a key of the tool's. */
      if (!canvas->space_used)
        app_tool_key (canvas->tool, APP_KEY_SPACE);
      app_canvas_hover_again (canvas, app_canvas_mods (state));
      app_canvas_tool_moved (canvas);
    }
}

/* A modifier pressed or let go in the middle of a drag counts at once. */
static gboolean
on_modifiers (GtkEventControllerKey *keys, GdkModifierType state,
              AppCanvas *canvas)
{
  (void)keys;
  app_canvas_hover_again (canvas, app_canvas_mods (state));
  app_canvas_tool_moved (canvas);
  return FALSE;
}

void
app_canvas_init_keys (AppCanvas *canvas)
{
  GtkEventController *controller;
  controller = gtk_event_controller_key_new ();
  g_signal_connect (controller, "key-pressed", G_CALLBACK (on_key), canvas);
  g_signal_connect (controller, "key-released", G_CALLBACK (on_key_released),
                    canvas);
  g_signal_connect (controller, "modifiers", G_CALLBACK (on_modifiers), canvas);
  gtk_widget_add_controller (GTK_WIDGET (canvas), controller);
}
