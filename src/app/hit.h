/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What of a pattern lies under a point of the table. */
#pragma once

#include "app/session.h"

typedef enum
{
  APP_HIT_NOTHING,
  APP_HIT_HANDLE,
  APP_HIT_NODE,
  APP_HIT_MARK,
  APP_HIT_EDGE,
  APP_HIT_PIECE,
  APP_HIT_LINE
} AppHitKind;

typedef struct
{
  AppHitKind kind;
  guint piece, edge, node, mark, line;
  DraftingHandle handle;
  guint cubic_node; /* APP_HIT_EDGE: node its cubic starts at, and t */
  double t;
  double at;      /* length along the edge */
  GeoPoint point; /* nearest point of what was hit */
} AppHit;

/* reach in mm. Nodes and handles count only on what is picked. Nearest of the
 * foremost kind wins; later pieces lie over earlier ones. */
AppHit app_hit (AppSession *session, GeoPoint at, double reach);

/* Snapping of a point being dragged: to nodes, to the upright and level of anchor, to the grain and
 * square to it through anchor. Nodes in without are not snapped to. */
typedef struct
{
  GeoPoint point;
  gboolean snapped;
  GeoPoint from;   /* the guide runs from here to point */
  const char *why; /* "level", "on the grain", "node", translated */
} AppSnap;
AppSnap app_snap (AppSession *session, GeoPoint at, double reach,
                  const GeoPoint *anchor, guint piece, const guint *without,
                  guint n_without);
