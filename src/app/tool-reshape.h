/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of the reshape tool, for tool-reshape*.c only. */
#pragma once

#include "app/tool-private.h"

typedef enum
{
  IDLE,
  PRESSED, /* not known yet whether a click or a drag */
  DRAGGING,
  BAND, /* a box drawn over the table to pick by */
  DEAD, /* left by Escape with the button still down */
} ReshapeState;

typedef struct
{
  AppTool tool;
  ReshapeState state;
  AppHit hit;      /* what was pressed on */
  GeoPoint from;   /* where */
  GeoPoint offset; /* from the pointer to what it holds */
  Pattern *base;   /* what the drag began with */
  AppTagStart start;
  AppSnap snap;
  GeoPoint band; /* its other corner */
  gboolean picked_before;
  gboolean moves_edge; /* what the drag on the edge does now */
  double pull;
  GeoPoint centre;      /* what is turned about */
  double turned;        /* by how much now */
  const char *why_turn; /* what the turn is drawn to, or NULL */
} Reshape;

/* The press has become a drag: takes note of what it begins with. */
void app_reshape_begin (Reshape *r, const AppPointer *p);
/* Previews what the drag makes with the pointer at p, and tells it. */
void app_reshape_show (Reshape *r, const AppPointer *p);
/* Length from both ends of the notch that was hit; NULL where it is none. */
char *app_reshape_notch_tag (AppSession *session, const AppHit *hit);
gboolean app_reshape_node_is_picked (const AppPick *pick, guint node);
/* As app_hit(), the handle for turning included. */
AppHit app_reshape_hit (Reshape *r, const AppPointer *p);
