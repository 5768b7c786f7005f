/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of AppSession, for the session-*.c files only. */
#pragma once

#include "app/session.h"
#include "app/walk.h"

typedef struct _AppTracing AppTracing;

typedef struct _AppDraft AppDraft;

struct _AppSession
{
  GObject parent_instance;

  PatternHistory *history;
  Pattern *previewed; /* shown instead of the current step, or NULL */
  SewingFacts *facts;
  GPtrArray *findings; /* of what is shown; NULL until asked for */

  AppPick pick;
  AppHover hover;
  double strip_at;
  AppWalk *walk;       /* or NULL */
  AppDraft *draft;     /* or NULL */
  AppTracing *tracing; /* or NULL */
  gboolean tracing_aside;
  AppLaidOver laid_over;
  PatternStep *step; /* told of the next change, or NULL */

  char *path;
  FileStamp stamp;
  char *slot;
};

/* Without telling anybody. */
void app_session_drop_walk (AppSession *s);
void app_session_drop_draft (AppSession *s);
void app_session_drop_tracing (AppSession *s);
/* Another pattern is shown; drops the walk where its seam can't be walked in it. */
void app_session_follow_walk (AppSession *s);
/* Tells what an action could not do; takes over error. */
void app_session_tell (AppSession *s, GError *error);
/* Lets go of what is picked and not in the pattern shown any more; FALSE where nothing
 * had to go. */
gboolean app_session_prune_pick (AppSession *s);
/* Empty when it is gone. */
GeoBox app_session_edge_box (AppSession *s, guint piece, guint edge);
GeoBox app_session_piece_box (AppSession *s, guint piece);
