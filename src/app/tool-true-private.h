/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of the truing tool, for the tool-true*.c files only. */
#pragma once

#include "app/tool-private.h"
#include "app/tool-true.h"

/* A node of the laid line. At a joint it is the end of the run before. */
typedef struct
{
  guint run, id;
  GeoPoint at;
  int joint; /* or -1 */
  PatternNodeKind kind;
} AppTrueNode;

typedef struct
{
  guint run, id; /* its node */
  DraftingHandle which;
  GeoPoint at, node;
} AppTrueHandle;

typedef enum
{
  APP_TRUE_NOTHING,
  APP_TRUE_NODE,
  APP_TRUE_HANDLE,
  APP_TRUE_CURVE,
  APP_TRUE_LABEL, /* of a joint */
} AppTrueHitKind;

typedef struct
{
  AppTrueHitKind kind;
  AppTrueNode node;     /* NODE */
  AppTrueHandle handle; /* HANDLE */
  guint run,
      id; /* CURVE: the node its cubic starts at, on the piece; and t there */
  double t;
  GeoPoint point;
} AppTrueHit;

typedef struct
{
  AppTool tool;
  guint seam; /* 0: not open */
  int end;
  Pattern *base;    /* the session's when it was taken up */
  GPtrArray *steps; /* of Pattern, base first: what was done since */
  SewingLine *line; /* of what is shown */
  SewingLine *old;  /* of base */
  guint joint;
  double reach;
  gboolean blending, all, comb;
  GString *typed; /* the reach being typed, or NULL */
  char *trouble;
  DraftingTrued told;
  gboolean has_node;
  guint run, node; /* the node picked */
  gboolean nudged; /* the last step was a nudge of it */
  AppTrueHit over;
  /* While something is held. */
  AppTrueHit held;
  GeoPoint from;
  gboolean dragged;
  SewingLine *held_line;
} AppTrue;

/* --- tool-true.c */
Pattern *app_true_work (const AppTrue *t); /* borrowed: the last step */
/* Shows the last step, blended where asked for. */
void app_true_refresh (AppTrue *t);
/* What is previewed becomes a step. */
void app_true_absorb (AppTrue *t);
/* Takes over the result of a verb: a step, or nothing where it failed. */
gboolean app_true_push (AppTrue *t, Pattern *result, GError **error);

/* Begun anew, or closed, where the pattern was changed by other means. */
void app_true_follow_session (AppTrue *t);

/* --- tool-true-keys.c */
gboolean app_true_key (AppTool *tool, AppKey key);
gboolean app_true_type (AppTool *tool, gunichar c);

/* --- tool-true-hold.c: what can be taken hold of */
/* Arrays of AppTrueNode in the line's order; of AppTrueHandle. New. */
GArray *app_true_nodes (const AppTrue *t, const SewingLine *line);
GArray *app_true_handles (const AppTrue *t, const SewingLine *line);
AppTrueHit app_true_hit (const AppTrue *t, const AppPointer *p);
void app_true_press (AppTool *tool, const AppPointer *p);
void app_true_drag (AppTool *tool, const AppPointer *p);
void app_true_release (AppTool *tool, const AppPointer *p);
void app_true_drop (AppTrue *t); /* what is held, where it was */
void app_true_next_node (AppTrue *t);
gboolean app_true_nudge (AppTrue *t, GeoPoint by);

/* --- tool-true-paint.c */
void app_true_paint (const AppTool *tool, cairo_t *cr,
                     const DrawingStyle *style, double mm_per_px);
GeoBox app_true_paint_box (const AppTool *tool);
/* Where a joint's label stands, mm; half its width is 46 px. */
GeoPoint app_true_label_at (const AppTrue *t, guint joint, double mm_per_px);
