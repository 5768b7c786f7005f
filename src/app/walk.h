/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A seam being walked in the session: one side rolls along the other, by hand or by itself. No
 * toolkit; the table and the bar over it feed it and paint what it says. Nothing in the pattern
 * changes by walking, but where she strikes a notch.
 *
 * The session tells each move by "walk-changed", the beginning and the end too. The walk follows the
 * pattern shown; it ends when its seam can't be walked any more, or another one is
 * picked. */
#pragma once

#include "app/palette.h"
#include "app/session.h"
#include "app/view.h"
#include "sewing/walk.h"

typedef struct _AppWalk AppWalk;

/* A place to stop at: the seam's ends, notches of either side, joints of a side. */
typedef struct
{
  double walked;
  int side;    /* -1 for an end of the walk */
  double at;   /* length along that side */
  guint piece; /* 0 for an end */
  guint notch; /* 0 for an end and a joint */
  int strokes;
  GeoPoint place; /* of the walk's step: on the table as laid */
  gboolean reached;
} AppWalkMark;

/* Picks the seam and puts the moving side at its start: the side of fewer runs, a collar,
 * moves; of two that have as many, B. FALSE, and the reason told as a problem, where the seam
 * can't be walked. What is previewed is dropped. */
gboolean app_walk_begin (AppSession *session, guint seam);
/* Of the seam that is picked, or whose edge is; where there is none, that is told. */
gboolean app_walk_begin_picked (AppSession *session);
void app_walk_end (AppSession *session);
/* NULL while none is walked. Borrowed until the next "walk-changed". */
AppWalk *app_walk_get (AppSession *session);

guint app_walk_get_seam (const AppWalk *walk);
const SewingWalk *app_walk_get_walk (const AppWalk *walk);
const SewingWalkStep *app_walk_get_step (const AppWalk *walk);
double app_walk_get_whole (const AppWalk *walk);

/* --- moving ---------------------------------------------------------------- */
/* Held to the walk. Within snap, mm walked, of a mark it is that mark's place. Stops what runs. */
void app_walk_go (AppWalk *walk, double walked, double snap);
/* To the place of the still side, as it is laid, that is nearest the point. */
void app_walk_go_near (AppWalk *walk, GeoPoint at, double snap);
/* To the next mark that way, or the end; by: +1 or -1. FALSE where there is none further. It
 * glides there while time is told by app_walk_tick(), unless motion is not wanted. */
gboolean app_walk_to_mark (AppWalk *walk, int by);
/* Runs by itself to the end that way, or stops; from the end it begins anew. Where motion is not
 * wanted it goes to the next mark instead. */
void app_walk_run (AppWalk *walk, int way);
void app_walk_stop (AppWalk *walk);
/* +1, -1, or 0 while it stands still. */
int app_walk_get_way (const AppWalk *walk);
/* Time has passed: moves on. TRUE while it still runs. */
gboolean app_walk_tick (AppWalk *walk, double seconds);
/* No motion by itself; what is asked for is there at once. */
void app_walk_set_still (AppWalk *walk, gboolean still);

/* --- how it is walked -------------------------------------------------------- */
void app_walk_set_by (AppWalk *walk, SewingWalkBy by);
void app_walk_set_fixed (AppWalk *walk, int side);

/* --- notches ------------------------------------------------------------------ */
/* Array of AppWalkMark, ascending. New. */
GArray *app_walk_marks (const AppWalk *walk);
typedef enum
{
  APP_STRIKE_BOTH, /* no notch here: one on either side */
  APP_STRIKE_ON_A, /* B has one here, A is given the like */
  APP_STRIKE_ON_B,
  APP_STRIKE_NONE, /* both have one, or this is the end of a side */
} AppStrike;
AppStrike app_walk_can_strike (const AppWalk *walk);
/* One step of history. FALSE where it can't be done; why is told. */
gboolean app_walk_strike (AppWalk *walk);

/* --- what it says (app/walk-words.c); all new strings ----------------------------- */
/* Lines for the hang tag at the pin. */
char *app_walk_tag (AppWalk *walk);
/* "12.3 of 23.8 cm" */
char *app_walk_words_place (const AppWalk *walk);
/* "Collar band rolls along Back and 2 more" */
char *app_walk_words_sides (const AppWalk *walk);
/* "Strike it on Collar band"; and for a narrow button, "Strike on Collar band". */
char *app_walk_words_strike (const AppWalk *walk);
char *app_walk_words_strike_short (const AppWalk *walk);
/* For the foot of the table. */
const char *app_walk_hint (const AppWalk *walk);

/* --- what it shows (app/walk-paint.c) ----------------------------------------------- */
/* Pieces of the pattern as they lie that are not part of the picture now: shown faint. */
gboolean app_walk_is_aside (const AppWalk *walk, guint piece);
/* The pieces as laid, trail, notches, pin; in the context's pixels. */
void app_walk_paint (AppWalk *walk, cairo_t *cr, const AppView *view,
                     gboolean dark);
/* Points of the outlines of the pieces as they are laid, pixels (GeoPoint), appended: what a tag
 * keeps clear of. */
void app_walk_outlines (const AppWalk *walk, const AppView *view,
                        GArray *points);
/* What to look at: the still side as it is laid and a hand's breadth about it; table mm. */
GeoBox app_walk_box (const AppWalk *walk);
