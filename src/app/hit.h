/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What of a pattern lies under a point of the table. */
#pragma once

#include "app/session.h"

typedef enum
{
  APP_HIT_NOTHING,
  APP_HIT_HANDLE,
  APP_HIT_NODE,
  APP_HIT_MARK, /* notch, buttonhole, drill mark, text, inner line */
  APP_HIT_EDGE,
  APP_HIT_PIECE,
  APP_HIT_LINE,
  APP_HIT_PICTURE, /* see app_hit_picture() */
  APP_HIT_TURN, /* the handle picked pieces are turned by; see app_turn_handle() */
} AppHitKind;

typedef struct
{
  AppHitKind kind;
  guint piece, edge, node, mark, line, picture;
  DraftingHandle handle;
  guint cubic_node; /* APP_HIT_EDGE: node its cubic starts at, and t */
  double t;
  double at;      /* length along the edge */
  GeoPoint point; /* nearest point of what was hit */
} AppHit;

/* reach in mm, for nodes and handles; marks, edges and lines are finer things and
 * count within 0.75 of it. Nodes and handles count only on the active edge (below); among both
 * the nearest wins, a node before a handle that lies as near. Else the nearest of the
 * foremost kind wins, in the order mark, edge, line, piece; later pieces lie over
 * earlier ones. A notch beside an edge counts only within 0.25 of the reach from its stroke, and not
 * on the edge itself. */
AppHit app_hit (AppSession *session, GeoPoint at, double reach);
/* Looking for a notch only, wherever on its stroke: for the tool that makes them. */
AppHit app_hit_notch (AppSession *session, GeoPoint at, double reach);
/* Length along an edge of the piece at its place nearest to a point. */
double app_edge_at (const SewingPiece *facts, guint edge_index, GeoPoint point);
/* As above, looking for an edge only. */
AppHit app_hit_edge (AppSession *session, GeoPoint at, double reach);

/* Where nothing else lies: the topmost picture there that is seen and not locked. app_hit() does not look
 * for pictures. */
AppHit app_hit_picture (AppSession *session, GeoPoint at);

/* The edge whose nodes are shown to be taken hold of: the picked one, or that of the picked nodes.
 * FALSE when there is none. */
gboolean app_active_edge (AppSession *session, const PatternPiece **piece,
                          guint *edge_index);
/* Whether a node's handle stands apart from it, on the active edge: a node at the edge's end
 * shows only the handle that belongs to the edge. */
gboolean app_handle_shown (const PatternPiece *piece, guint edge_index,
                           guint node_index, DraftingHandle which,
                           GeoPoint *at);

/* The handle that turns the picked pieces: above them by so many pixels at any scale, so app_hit()
 * does not know of it. FALSE when no piece is picked. centre: what they turn about. */
gboolean app_turn_handle (AppSession *session, double mm_per_px,
                          GeoPoint *centre, GeoPoint *at);

/* --- snapping (app/snap.c) ------------------------------------------------- */

typedef struct
{
  GeoPoint point;
  gboolean snapped;
  GeoPoint from;   /* the guide runs from here to point */
  const char *why; /* "level", "on the grain", "node", translated */
  gboolean twice;  /* a second guide, where two cross at the point */
  GeoPoint from2;
  const char *why2;
} AppSnap;

/* A line a point may be drawn onto: through from, along a unit direction. */
typedef struct
{
  GeoPoint from, along;
  const char *why;
} AppSnapLine;

/* As a reach: the nearest line, however far off; crossings are not looked for. */
#define APP_SNAP_ALWAYS 1e30
/* Snapping of a point being dragged onto lines of the caller's; the nearest within reach, or the crossing of two that are.
 * A node within reach, and not in without, comes before any line; nodes FALSE: no nodes. */
AppSnap app_snap_lines (AppSession *session, GeoPoint at, double reach,
                        const AppSnapLine *lines, guint n_lines, gboolean nodes,
                        const guint *without, guint n_without);
/* Appends the upright and level through from and, where piece has a grainline that runs
 * otherwise, those along and square to it. Room for 4. How many. */
guint app_snap_directions (AppSession *session, guint piece, GeoPoint from,
                           AppSnapLine *lines);
