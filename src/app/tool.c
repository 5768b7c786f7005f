/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/tool.h"

#include <glib/gi18n.h>

#include "app/tool-private.h"

static const AppToolClass *const classes[APP_N_ALL_TOOLS] = {
  [APP_TOOL_RESHAPE] = &app_tool_reshape, [APP_TOOL_DRAW] = &app_tool_draw,
  [APP_TOOL_MARK] = &app_tool_mark,       [APP_TOOL_BASTE] = &app_tool_baste,
  [APP_TOOL_TAPE] = &app_tool_tape,       [APP_TOOL_SLASH] = &app_tool_slash,
  [APP_TOOL_TRUE] = &app_tool_true,       [APP_TOOL_FAIR] = &app_tool_fair,
  [APP_TOOL_FOLLOW] = &app_tool_follow,
};

AppTool *
app_tool_new (AppToolKind kind, AppSession *session)
{
  g_return_val_if_fail (kind < APP_N_ALL_TOOLS, NULL);
  AppTool *tool = g_malloc0 (classes[kind]->size);
  tool->class = classes[kind];
  tool->session = g_object_ref (session);
  if (tool->class->start != NULL)
    tool->class->start (tool);
  return tool;
}

void
app_tool_free (AppTool *tool)
{
  if (tool == NULL)
    return;
  if (app_tool_is_busy (tool))
    app_session_cancel (tool->session);
  if (tool->class->clear != NULL)
    tool->class->clear (tool);
  app_session_set_hover (tool->session, (AppHover){ 0 });
  g_free (tool->tag);
  g_object_unref (tool->session);
  g_free (tool);
}

AppToolKind
app_tool_get_kind (const AppTool *tool)
{
  return tool->class->kind;
}

const char *
app_tool_name (AppToolKind kind)
{
  static const char *const names[APP_N_ALL_TOOLS]
      = { N_ ("Reshape"), N_ ("Draw"), N_ ("Mark"),
          N_ ("Baste"),   N_ ("Tape"), N_ ("Slash"),
          N_ ("True"),    N_ ("Fair"), N_ ("Over a picture") };
  g_return_val_if_fail (kind < APP_N_ALL_TOOLS, "");
  return _ (names[kind]);
}

const char *
app_tool_hint (const AppTool *tool)
{
  return tool->class->hint != NULL ? tool->class->hint (tool) : "";
}

void
app_tool_hover (AppTool *tool, const AppPointer *p)
{
  if (tool->class->hover != NULL)
    tool->class->hover (tool, p);
}

void
app_tool_press (AppTool *tool, const AppPointer *p)
{
  if (tool->class->press != NULL)
    tool->class->press (tool, p);
}

void
app_tool_drag (AppTool *tool, const AppPointer *p)
{
  if (tool->class->drag != NULL)
    tool->class->drag (tool, p);
}

void
app_tool_release (AppTool *tool, const AppPointer *p)
{
  if (tool->class->release != NULL)
    tool->class->release (tool, p);
}

void
app_tool_leave (AppTool *tool)
{
  app_session_set_hover (tool->session, (AppHover){ 0 });
  if (tool->class->leave != NULL)
    tool->class->leave (tool);
}

gboolean
app_tool_key (AppTool *tool, AppKey key)
{
  return tool->class->key != NULL && tool->class->key (tool, key);
}

gboolean
app_tool_type (AppTool *tool, gunichar c)
{
  return tool->class->type != NULL && tool->class->type (tool, c);
}

gboolean
app_tool_is_done (const AppTool *tool)
{
  return tool->done;
}

gboolean
app_tool_get_tag_place (const AppTool *tool, GeoPoint *at)
{
  return tool->class->tag_place != NULL && tool->class->tag_place (tool, at);
}

const char *
app_tool_get_tag (const AppTool *tool)
{
  return tool->tag;
}

void
app_tool_take_tag (AppTool *tool, char *text)
{
  g_free (tool->tag);
  tool->tag = text;
}

void
app_tool_paint (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
                double mm_per_px)
{
  if (tool->class->paint == NULL)
    return;
  cairo_save (cr);
  cairo_new_path (cr);
  tool->class->paint (tool, cr, style, mm_per_px);
  cairo_restore (cr);
}

GeoBox
app_tool_get_paint_box (const AppTool *tool)
{
  return tool->class->paint_box != NULL ? tool->class->paint_box (tool)
                                        : geo_box_empty ();
}

gboolean
app_tool_is_busy (const AppTool *tool)
{
  return tool->class->is_busy != NULL && tool->class->is_busy (tool);
}

const char *
app_tool_get_cursor (const AppTool *tool)
{
  return tool->cursor != NULL ? tool->cursor : tool->class->cursor;
}

/* --- shared by the tools --------------------------------------------------- */

double
app_pointer_reach (const AppPointer *p)
{
  return (p->touch ? 22 : 12) * p->mm_per_px;
}

double
app_pointer_pull (const AppPointer *p)
{
  return (p->touch ? 10 : 7) * p->mm_per_px;
}

GeoPoint
app_pointer_snap (AppSession *session, const AppPointer *p,
                  const GeoPoint *anchor, AppSnap *snap)
{
  *snap = (AppSnap){ .point = p->at };
  if (p->mods & APP_MOD_CTRL)
    return p->at;
  AppSnapLine lines[4];
  guint n
      = anchor != NULL ? app_snap_directions (session, 0, *anchor, lines) : 0;
  gboolean kept = (p->mods & APP_MOD_SHIFT) != 0 && anchor != NULL;
  *snap = app_snap_lines (session, p->at,
                          kept ? APP_SNAP_ALWAYS : app_pointer_pull (p), lines,
                          n, !kept, NULL, 0);
  return snap->snapped ? snap->point : p->at;
}

gboolean
app_pointer_dragged (const AppPointer *p, GeoPoint from)
{
  return geo_distance (p->at, from) > (p->touch ? 10 : 4) * p->mm_per_px;
}

void
app_tool_stroke (cairo_t *cr, const DrawingStyle *style, double mm_per_px,
                 double width_px)
{
  gboolean is_dark = style->ink.r + style->ink.g + style->ink.b > 1.5;
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_source_rgba (cr, is_dark ? 0 : 1, is_dark ? 0 : 1, is_dark ? 0 : 1,
                         0.75);
  cairo_set_line_width (cr, (width_px + 2.5) * mm_per_px);
  cairo_stroke_preserve (cr);
  cairo_set_source_rgba (cr, style->lit.r, style->lit.g, style->lit.b,
                         style->lit.a);
  cairo_set_line_width (cr, width_px * mm_per_px);
  cairo_stroke (cr);
}

void
app_tool_dot (cairo_t *cr, const DrawingStyle *style, GeoPoint at,
              double mm_per_px)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, at.x, at.y, 4.5 * mm_per_px, 0, 2 * G_PI);
  cairo_set_source_rgba (cr, style->lit.r, style->lit.g, style->lit.b,
                         style->lit.a);
  cairo_fill (cr);
}

/* A little past both ends, so that it reads as a line and not as an edge. */
static void
guide (cairo_t *cr, GeoPoint from, GeoPoint to, double mm_per_px)
{
  GeoPoint along = geo_scale (geo_unit (geo_sub (to, from)), 30 * mm_per_px);
  GeoPoint a = geo_sub (from, along), b = geo_add (to, along);
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, b.x, b.y);
}

void
app_tool_paint_snap (cairo_t *cr, const DrawingStyle *style,
                     const AppSnap *snap, double mm_per_px)
{
  if (!snap->snapped)
    return;
  double dashes[] = { 4 * mm_per_px, 4 * mm_per_px };
  cairo_save (cr);
  cairo_set_dash (cr, dashes, 2, 0);
  if (!geo_same (snap->from, snap->point))
    guide (cr, snap->from, snap->point, mm_per_px);
  if (snap->twice && !geo_same (snap->from2, snap->point))
    guide (cr, snap->from2, snap->point, mm_per_px);
  app_tool_stroke (cr, style, mm_per_px, 1);
  cairo_restore (cr);
  cairo_new_sub_path (cr);
  cairo_arc (cr, snap->point.x, snap->point.y, 8 * mm_per_px, 0, 2 * G_PI);
  app_tool_stroke (cr, style, mm_per_px, 1.5);
}

GeoBox
app_snap_box (const AppSnap *snap)
{
  GeoBox box = geo_box_empty ();
  if (!snap->snapped)
    return box;
  box = geo_box_add (geo_box_add (box, snap->point), snap->from);
  if (snap->twice)
    box = geo_box_add (box, snap->from2);
  /* Guides run on past their ends; how far in mm depends on the view. */
  double on = fmax (fmax (box.x1 - box.x0, box.y1 - box.y0), 20);
  return geo_box_grow (box, on);
}
