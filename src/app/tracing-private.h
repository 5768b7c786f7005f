/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of AppTracing, for the tracing*.c files only. */
#pragma once

#include "app/session-private.h"
#include "app/tracing.h"
#include "tracing/sheet.h"

#define APP_TRACING_MOST_CLICKS 64
#define APP_TRACING_MOST_SHEETS 6

/* What she set: kept whole for each step back. */
typedef struct
{
  AppTracingStage stage;
  AppTracingBy by;
  AppTracingPaper paper;
  double width, height; /* mm */
  gboolean has_corners, by_hand;
  guint
      guessed; /* corners, a bit each, that lie where they were put by nobody yet */
  GeoPoint corners[4]; /* px */
  double off;          /* px: of the sides; NAN not known */
  GeoPoint ends[2];
  guint n_ends;
  double distance;
  AppTracingWhat what;
  GeoPoint like;
  gboolean has_like;
  double level; /* below 0: as found */
  double tolerance;
  gboolean holes, darts;
  /* On lines, to take them or leave them: the other of what it was. */
  GeoPoint clicks[APP_TRACING_MOST_CLICKS];
  guint n_clicks;
} AppTracingSet;

typedef enum
{
  APP_TRACING_STEP_OTHER,
  APP_TRACING_STEP_LEVEL,
  APP_TRACING_STEP_NUDGE,
} AppTracingStep;

struct _AppTracing
{
  AppSession *session;
  GBytes *bytes;
  char *path, *name;
  guint again;         /* the picture traced again; 0 a new one */
  gboolean to_outline; /* as soon as it is read */
  guint width, height;
  GeoPoint dots_mm;

  AppTracingSet set;
  GArray *before, *after; /* AppTracingSet: to go back to, and forth again */
  AppTracingStep step;    /* the last one made */

  AppSight *sight;
  TracingPlane plane; /* upright, of what is set */
  gboolean has_plane;
  char *trouble;       /* why there is no plane, or no lines */
  TracingPlane pixels; /* as shown while true size is set */

  GeoPoint near; /* a sheet with this place in it is wanted */
  gboolean has_near;
  double reach; /* px: how far a corner may be off that is to be refined */

  TracingParts *parts;
  GArray *lines; /* TracingLine */
  gboolean *taken;
  guint8 *mask;
  gsize mask_stride;
  guint mask_width, mask_height, mask_shrink, mask_serial;
  double mask_level;
  const TracingParts *mask_for; /* compared only */

  guint want[APP_TRACING_N_WORK], have[APP_TRACING_N_WORK];
  gboolean outlined; /* outlines were asked for, by this plane */

  int active; /* handle or line gone to by keys */
  int hover;  /* handle or line */
  int held;   /* handle; -1 */
  gboolean pressed, dragged;
  GeoPoint press_at, held_from, held_by;
  double press_reach;
  AppTracingSet held_set;
};

/* A change of what is set: begin, change t->set, end. Derives what follows, asks for the work that is now to
 * be done, tells. */
AppTracingSet app_tracing_change_begin (const AppTracing *t);
void app_tracing_change_end (AppTracing *t, const AppTracingSet *was,
                             AppTracingStep step);
/* The same without a step to take back: what was found. */
void app_tracing_follow_change (AppTracing *t, const AppTracingSet *was);
void app_tracing_tell (AppTracing *t);
void app_tracing_want (AppTracing *t, AppTracingWorkKind kind);
/* What was asked for, or is under way, is not wanted any more. */
void app_tracing_unwant (AppTracing *t, AppTracingWorkKind kind);
void app_tracing_set_trouble (AppTracing *t, const char *text);
void app_tracing_drop_outlines (AppTracing *t);
/* --- tracing-size.c */
void app_tracing_derive_plane (AppTracing *t);
GeoPoint app_tracing_paper_size (AppTracingPaper paper);
/* --- tracing-outline.c */
void app_tracing_drop_lines (AppTracing *t);
void app_tracing_take_lines (AppTracing *t, GArray *lines);
void app_tracing_count_clicks (AppTracing *t);
int app_tracing_line_at (const AppTracing *t, GeoPoint at, double reach);
void app_tracing_click_line (AppTracing *t, GeoPoint at, double reach);
/* --- tracing-lay.c */
gboolean app_tracing_lay (AppTracing *t);
