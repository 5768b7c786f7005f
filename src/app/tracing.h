/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a photo or scan to pieces: what she has set so far, what was found, what is to be done next. No toolkit, and no
 * thread: long work is given out by app_tracing_next_work(), done wherever that suits, and taken back. The
 * session tells each change by "tracing-changed", the beginning and the end too.
 *
 * Three stages. READING: the file is read. SIZE: true size is set; the table shows the picture as it is, a pixel
 * for a unit. OUTLINE: the table shows it flat and true, and on it what would become pieces. Enter goes on, Escape goes back,
 * and nothing set is lost by that; each thing set can be taken back.
 *
 * Places on the table ("at") are in the units the table shows at the stage: pixels of the picture, or mm.
 */
#pragma once

#include "app/palette.h"
#include "app/session.h"
#include "app/sight.h"
#include "app/view.h"
#include "tracing/shape.h"

typedef struct _AppTracing AppTracing;

typedef enum
{
  APP_TRACING_READING,
  APP_TRACING_SIZE,
  APP_TRACING_OUTLINE,
} AppTracingStage;

/* What true size is known by. */
typedef enum
{
  APP_TRACING_BY_SHEET,    /* a rectangle of known sides */
  APP_TRACING_BY_DISTANCE, /* two places */
  APP_TRACING_BY_FILE,     /* the resolution the file tells */
} AppTracingBy;

typedef enum
{
  APP_TRACING_A4,
  APP_TRACING_LETTER,
  APP_TRACING_OTHER, /* sides typed */
} AppTracingPaper;

/* What is followed. */
typedef enum
{
  APP_TRACING_CARD, /* pieces on a table of another colour: which is which is found out */
  APP_TRACING_LIGHT, /* the pieces are the lighter */
  APP_TRACING_DARK,
  APP_TRACING_LIKE, /* of the colour clicked on */
  APP_TRACING_DRAWN, /* lines on paper, by the middle of their strokes; the level is found */
} AppTracingWhat;

/* Begins with a picture's file; bytes borrowed, path for keeping it beside (NULL: none). What was being traced is
 * left. FALSE with the error set where its header already tells that it is none. */
gboolean app_tracing_begin (AppSession *session, GBytes *bytes,
                            const char *path, const char *name, GError **error);
/* A picture that lies on the table: true size again from what was set then, or at once to its outline. What it
 * comes to takes that picture's place. FALSE with the error set where its file is not at hand. */
gboolean app_tracing_begin_again (AppSession *session, guint picture,
                                  gboolean outline, GError **error);
/* NULL while nothing is traced. Borrowed until the next "tracing-changed". */
AppTracing *app_tracing_get (AppSession *session);
/* Leaves it. It is kept, and can be gone on with until another is begun. */
void app_tracing_put_aside (AppSession *session);
gboolean app_tracing_is_aside (AppSession *session);
void app_tracing_take_up (AppSession *session);
/* Leaves it for good. */
void app_tracing_end (AppSession *session);

AppTracingStage app_tracing_get_stage (const AppTracing *t);
const char *app_tracing_get_name (const AppTracing *t);
/* NULL while it is read. */
AppSight *app_tracing_get_sight (AppTracing *t);
/* How the picture lies on the table at this stage. */
const TracingPlane *app_tracing_get_shown (const AppTracing *t);
GeoBox app_tracing_get_box (const AppTracing *t);

/* --- true size ------------------------------------------------------------------------ */
AppTracingBy app_tracing_get_by (const AppTracing *t);
void app_tracing_set_by (AppTracing *t, AppTracingBy by);
/* Whether the file tells a resolution; dots a millimetre. */
gboolean app_tracing_has_dots (const AppTracing *t, double *dots_mm);
AppTracingPaper app_tracing_get_paper (const AppTracing *t);
void app_tracing_set_paper (AppTracing *t, AppTracingPaper paper);
/* Of the rectangle, mm. */
double app_tracing_get_width (const AppTracing *t);
double app_tracing_get_height (const AppTracing *t);
void app_tracing_set_sides (AppTracing *t, double width, double height);
/* Its first side becomes its second. */
void app_tracing_swap_sides (AppTracing *t);
/* Whether the view tells that the sides are the wrong way round. An estimate. */
gboolean app_tracing_seems_swapped (const AppTracing *t);
/* What speaks against the true size as it is set, a sentence and what to do; NULL for nothing. New. */
char *app_tracing_doubt_words (const AppTracing *t);
/* Of the two places, mm; 0: not typed yet. */
double app_tracing_get_distance (const AppTracing *t);
void app_tracing_set_distance (AppTracing *t, double mm);
/* Handles on the table: four corners or up to two ends, picture's pixels. */
guint app_tracing_n_handles (const AppTracing *t);
GeoPoint app_tracing_get_handle (const AppTracing *t, guint i);
/* The one that is held, hovered over, or gone to with Tab; -1 none. */
int app_tracing_get_active (const AppTracing *t);
gboolean app_tracing_is_holding (const AppTracing *t);
/* How true it is, in plain words: "sides straight to within 0.2 mm"; NULL where nothing is
 * known. New. */
char *app_tracing_residual_words (const AppTracing *t);
/* Pixels to mm, upright; FALSE while that is not known. */
gboolean app_tracing_get_plane (const AppTracing *t, TracingPlane *plane);

/* --- outlines -------------------------------------------------------------------------- */
AppTracingWhat app_tracing_get_what (const AppTracing *t);
void app_tracing_set_what (AppTracing *t, AppTracingWhat what);
/* 0..1. Steps of one drag of a slider are one thing to take back. */
double app_tracing_get_level (const AppTracing *t);
void app_tracing_set_level (AppTracing *t, double level);
double app_tracing_get_tolerance (const AppTracing *t);
void app_tracing_set_tolerance (AppTracing *t, double mm);
gboolean app_tracing_get_holes (const AppTracing *t);
void app_tracing_set_holes (AppTracing *t, gboolean keep);
gboolean app_tracing_get_darts (const AppTracing *t);
void app_tracing_set_darts (AppTracing *t, gboolean make);
/* Of what is taken. */
guint app_tracing_n_darts (const AppTracing *t);
guint app_tracing_n_lines (const AppTracing *t);
const TracingLine *app_tracing_get_line (const AppTracing *t, guint i);
gboolean app_tracing_is_taken (const AppTracing *t, guint i);
guint app_tracing_n_taken (const AppTracing *t); /* pieces: no holes */
int app_tracing_get_hover (const AppTracing *t);
/* What would be piece, to be laid over the picture; bytes NULL: nothing to show. Colours are
 * left alone. serial changes with what is shown. */
void app_tracing_get_tint (AppTracing *t, AppSightTint *tint, guint *serial);

/* --- words ------------------------------------------------------------------------------ */
/* One sentence: the next thing. */
const char *app_tracing_says (const AppTracing *t);
/* What hinders, in her words; NULL for nothing. */
const char *app_tracing_get_trouble (const AppTracing *t);
/* For the foot of the table: keys and clicks. */
const char *app_tracing_hint (const AppTracing *t);

/* --- going on ---------------------------------------------------------------------------- */
gboolean app_tracing_can_go_on (const AppTracing *t);
/* To the outline, or, from there, lays the pieces: one step of history. FALSE where it can't, told by
 * the trouble. */
gboolean app_tracing_go_on (AppTracing *t);
/* FALSE at the first stage. */
gboolean app_tracing_go_back (AppTracing *t);
gboolean app_tracing_can_undo (const AppTracing *t);
void app_tracing_undo (AppTracing *t);
gboolean app_tracing_can_redo (const AppTracing *t);
void app_tracing_redo (AppTracing *t);
/* Only the picture, at true size: for following it by hand. Gives its id; 0 where it can't be. */
guint app_tracing_lay_picture (AppTracing *t);

/* --- pointer and keys ---------------------------------------------------------------------- */
/* reach: how far things are taken hold of from, table units. */
void app_tracing_hover (AppTracing *t, GeoPoint at, double reach);
void app_tracing_leave (AppTracing *t);
void app_tracing_press (AppTracing *t, GeoPoint at, double reach);
void app_tracing_drag (AppTracing *t, GeoPoint at);
/* exact: stays where it was put, instead of going to the sheet's corner near. */
void app_tracing_release (AppTracing *t, GeoPoint at, gboolean exact);
/* What is held goes back. FALSE where nothing is. */
gboolean app_tracing_drop (AppTracing *t);
/* Tab: the next handle or line, or the one before. */
void app_tracing_step (AppTracing *t, int by);
/* Arrows: the active handle by so many of the picture's pixels. FALSE where none is. */
gboolean app_tracing_nudge (AppTracing *t, double dx, double dy);
/* Space: takes or leaves the line gone to with Tab. */
gboolean app_tracing_toggle (AppTracing *t);
const char *app_tracing_get_cursor (const AppTracing *t);

/* --- long work ------------------------------------------------------------------------------- */
typedef enum
{
  APP_TRACING_READ,
  APP_TRACING_FIND_SHEETS,
  APP_TRACING_REFINE,
  APP_TRACING_PART,   /* pieces from table */
  APP_TRACING_FOLLOW, /* outlines */
  APP_TRACING_N_WORK
} AppTracingWorkKind;

typedef struct _AppTracingWork AppTracingWork;

/* The next thing that is to be done; NULL for nothing. New; holds all it needs. */
AppTracingWork *app_tracing_next_work (AppTracing *t);
AppTracingWorkKind app_tracing_work_kind (const AppTracingWork *work);
/* "Reading the picture…" */
const char *app_tracing_work_words (const AppTracingWork *work);
/* Whether it is still wanted; else it should be left off. */
gboolean app_tracing_wants (const AppTracing *t, const AppTracingWork *work);
/* On any thread, once. cancellable may be NULL. */
void app_tracing_work_run (AppTracingWork *work, GCancellable *cancellable,
                           TracingTick tick, gpointer data);
/* Takes over work that was run. What is not wanted any more is dropped. */
void app_tracing_take_work (AppTracing *t, AppTracingWork *work);
/* She would not wait for it: what it was for is left off. */
void app_tracing_refuse_work (AppTracing *t, const AppTracingWork *work);
void app_tracing_work_free (AppTracingWork *work);

/* --- on the table (app/tracing-paint.c) --------------------------------------------------------- */
/* What lies over the picture; in the context's pixels. */
void app_tracing_paint (AppTracing *t, cairo_t *cr, const AppView *view,
                        GeoBox area, gboolean dark);
