/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of the hand tools, for the tool-*.c files only. */
#pragma once

#include "app/hit.h"
#include "app/tool-tag.h"
#include "app/tool.h"

/* A tool's own calls; each may be NULL. */
typedef struct
{
  AppToolKind kind;
  gsize size;
  const char *cursor;
  void (*start) (AppTool *tool);
  const char *(*hint) (const AppTool *tool); /* translated, static */
  void (*clear) (AppTool *tool);
  void (*hover) (AppTool *tool, const AppPointer *p);
  void (*press) (AppTool *tool, const AppPointer *p);
  void (*drag) (AppTool *tool, const AppPointer *p);
  void (*release) (AppTool *tool, const AppPointer *p);
  void (*leave) (AppTool *tool);
  gboolean (*key) (AppTool *tool, AppKey key);
  gboolean (*type) (AppTool *tool, gunichar c);
  gboolean (*tag_place) (const AppTool *tool, GeoPoint *at);
  void (*paint) (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
                 double mm_per_px);
  GeoBox (*paint_box) (const AppTool *tool);
  gboolean (*is_busy) (const AppTool *tool);
} AppToolClass;

struct _AppTool
{
  const AppToolClass *class;
  AppSession *session;
  char *tag;
  const char *cursor; /* static; NULL: the class's */
  gboolean done;
};

extern const AppToolClass app_tool_reshape, app_tool_draw, app_tool_mark,
    app_tool_baste, app_tool_tape, app_tool_slash, app_tool_true, app_tool_fair,
    app_tool_follow;

/* How far things are taken hold of from: half of a 24 px target, wider for a finger. mm. */
double app_pointer_reach (const AppPointer *p);
/* How far a snap pulls, mm. */
double app_pointer_pull (const AppPointer *p);
/* Where a line drawn to the pointer ends: on guides and nodes first, then on lines at right
 * angles from its anchor (NULL: none yet); Shift keeps to these, Ctrl leaves out snapping. snap gets why. */
GeoPoint app_pointer_snap (AppSession *session, const AppPointer *p,
                           const GeoPoint *anchor, AppSnap *snap);
/* The pointer has moved so far from where it was pressed that a drag is meant. */
gboolean app_pointer_dragged (const AppPointer *p, GeoPoint from);
/* Takes over text. */
void app_tool_take_tag (AppTool *tool, char *text);

/* --- painting: the context's unit is a millimetre -------------------------- */

/* A line over a light one, so that it reads on every tint; width_px. */
void app_tool_stroke (cairo_t *cr, const DrawingStyle *style, double mm_per_px,
                      double width_px);
void app_tool_dot (cairo_t *cr, const DrawingStyle *style, GeoPoint at,
                   double mm_per_px);
void app_tool_paint_snap (cairo_t *cr, const DrawingStyle *style,
                          const AppSnap *snap, double mm_per_px);
GeoBox app_snap_box (const AppSnap *snap);
