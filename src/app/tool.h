/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hand tools as state machines: (state, pointer in millimetres) -> an edit or a
 * preview in the session. No toolkit; the table feeds them and paints what they show. */
#pragma once

#include <cairo.h>

#include "app/session.h"
#include "drawing/paint.h"

typedef enum
{
  APP_TOOL_RESHAPE, /* r: pick, drag nodes, handles, edges, pieces */
  APP_TOOL_DRAW,    /* d: a new outline, node by node */
  APP_TOOL_MARK, /* m: click an edge for a notch, inside a piece for a drill mark, drag
                     inside a piece for a buttonhole */
  APP_TOOL_BASTE, /* b: pair two edges into a seam */
  APP_TOOL_TAPE,  /* t: measure between two places, or along an edge */
  APP_TOOL_SLASH, /* x: a line across a piece, to spread or split it there */
  APP_N_TOOLS,    /* of those in the rack */
  APP_TOOL_TRUE = APP_N_TOOLS, /* app/tool-true.h; taken up for a seam */
  APP_TOOL_FAIR,               /* app/tool-fair.h; taken up for an edge */
  APP_TOOL_FOLLOW,             /* o: app/tool-follow.h; over a picture */
  APP_N_ALL_TOOLS
} AppToolKind;

typedef enum
{
  APP_MOD_SHIFT = 1 << 0, /* keep to right angles / add to the pick */
  APP_MOD_CTRL = 1 << 1,  /* no snapping */
  APP_MOD_ALT = 1 << 2,
} AppMods;

typedef struct
{
  GeoPoint at; /* table, mm */
  double mm_per_px;
  guint mods;
  int presses;    /* 1 click, 2 double click */
  gboolean touch; /* a finger: everything is taken hold of from further off */
} AppPointer;

typedef struct _AppTool AppTool;

AppTool *app_tool_new (AppToolKind kind, AppSession *session);
void app_tool_free (AppTool *tool); /* what it previews is cancelled */
AppToolKind app_tool_get_kind (const AppTool *tool);
const char *app_tool_name (AppToolKind kind);    /* "Reshape", translated */
const char *app_tool_hint (const AppTool *tool); /* one line: what to do next */

void app_tool_hover (AppTool *tool, const AppPointer *p);
void app_tool_press (AppTool *tool, const AppPointer *p);
void app_tool_drag (AppTool *tool, const AppPointer *p);
void app_tool_release (AppTool *tool, const AppPointer *p);
/* The pointer left the table. */
void app_tool_leave (AppTool *tool);
typedef enum
{
  APP_KEY_ESCAPE,
  APP_KEY_ENTER,
  APP_KEY_BACKSPACE,
  APP_KEY_SPACE,
  APP_KEY_TAB,
  APP_KEY_LEFT,
  APP_KEY_RIGHT,
  APP_KEY_UP,
  APP_KEY_DOWN
} AppKey;
/* TRUE: used. Enter closes what is drawn; with the Baste tool it takes the picked edge as a click
 * on it would, with Mark it puts a notch in the picked edge's middle or counts the picked
 * notch up: no tool but Draw needs a pointer. */
gboolean app_tool_key (AppTool *tool, AppKey key);
/* A character typed over the table; TRUE: used, and no key of the table's any more. With Draw,
 * once there is a corner, a digit opens a field for the next side's length; Tab goes to
 * its angle, Enter sets the corner, Escape leaves the field. */
gboolean app_tool_type (AppTool *tool, gunichar c);
/* What the tool was taken up for is done: the outline is a piece. The table lays it down then. */
gboolean app_tool_is_done (const AppTool *tool);

/* The hang tag: what to show beside the pointer now ("front neck 203.4 mm  +3.2"), lines
 * by \n; NULL for none. Owned by the tool. */
const char *app_tool_get_tag (const AppTool *tool);
/* TRUE where the tag belongs to a place of the table and not to the pointer. */
gboolean app_tool_get_tag_place (const AppTool *tool, GeoPoint *at);
/* What the tool shows of its own (rubber lines, snaps, tape), over the pieces. */
void app_tool_paint (const AppTool *tool, cairo_t *cr,
                     const DrawingStyle *style, double mm_per_px);
/* Where app_tool_paint() may paint now, table mm; empty for nowhere. Line widths and marks
 * stand out at most 12 px. */
GeoBox app_tool_get_paint_box (const AppTool *tool);
/* In the middle of a drag or of something half done: Escape leaves that first. */
gboolean app_tool_is_busy (const AppTool *tool);
/* "crosshair", "grab", ... a CSS cursor name. */
const char *app_tool_get_cursor (const AppTool *tool);
