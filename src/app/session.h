/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One open pattern as the window sees it: history, what is picked, what a drag
 * shows at this moment, facts and findings. No toolkit: tools and tests use it
 * without a display.
 *
 * Signals:
 * - "shown-changed": app_session_get_shown() is another pattern (a step, an undo, or a
 *   frame of a drag); facts and findings follow;
 * - "pick-changed", "hover-changed", "tool-changed";
 * - "draft-changed": a verb with amounts was begun, filled in or left (app/draft.h);
 * - "tracing-changed": a picture's tracing began, came further or ended (app/tracing.h);
 * - "walk-changed": a walk began, moved or ended (app/walk.h);
 * - "laid-over-changed": what lies over the table;
 * - "picture-read": a picture under the table can be seen now (app/picture-sights.h);
 * - "state-changed": saved or not, path, undo labels;
 * - "problem" (const char *text): something could not be done; to be shown without stopping her;
 * - "look-at" (double x0, y0, x1, y1): the table should bring the box into view;
 * - "name-it": what is picked was just made and wants a name: its name can be typed at once;
 * - "hint" (const char *): the next useful thing, for the foot of the table; "" clears.
 */
#pragma once

#include <glib-object.h>

#include "drafting/verb.h"
#include "file/safe-save.h"
#include "pattern/history.h"
#include "sewing/checks.h"

#define APP_TYPE_SESSION (app_session_get_type ())
G_DECLARE_FINAL_TYPE (AppSession, app_session, APP, SESSION, GObject)

typedef enum
{
  APP_PICK_NONE,
  APP_PICK_PIECES,  /* ids: pieces */
  APP_PICK_EDGE,    /* piece, id: edge */
  APP_PICK_NODES,   /* piece, ids: nodes; edge: the edge they were picked on */
  APP_PICK_MARK,    /* piece, id: notch, buttonhole, drill, text, inner line */
  APP_PICK_SEAM,    /* id: seam */
  APP_PICK_LINE,    /* id: construction line */
  APP_PICK_PICTURE, /* id: picture under the table */
} AppPickKind;

typedef struct
{
  AppPickKind kind;
  guint piece;
  guint edge;
  guint *ids;
  guint n_ids;
} AppPick;

AppSession *app_session_new (Pattern *pattern); /* takes over */
/* Of a pattern found again after a crash, kept from now on in that slot: no step of it
 * is saved, and there is none before it to undo to. Takes over pattern. */
AppSession *app_session_new_recovered (Pattern *pattern, const char *slot);

/* --- the pattern ----------------------------------------------------------- */
const Pattern *app_session_get_pattern (AppSession *s); /* the current step */
const Pattern *app_session_get_shown (AppSession *s);   /* or the drag's */
const PatternHistory *app_session_get_history (AppSession *s);
SewingFacts *app_session_get_facts (AppSession *s);
/* Of what is shown; while a drag runs, of the drag's pattern too. Borrowed until the next change. */
const GPtrArray *app_session_get_findings (AppSession *s);

/* Does an edit (what is previewed is dropped first): takes over the result of a drafting verb. NULL means it failed:
 * error is told through "problem" and cleared; returns FALSE. merge may be NULL. */
gboolean app_session_do (AppSession *s, const char *label, const char *merge,
                         Pattern *result, GError **error);
/* Shows a pattern without making a step; takes over. Where the verb failed (NULL) what was
 * shown stays, nothing is told and the error is cleared: in the middle of a drag or a
 * half-typed number a shape that can't be made is no error to her. error may be NULL. */
void app_session_preview (AppSession *s, Pattern *result, GError **error);
/* Makes a step of what is shown; nothing where nothing is previewed. */
void app_session_commit (AppSession *s, const char *label);
void app_session_cancel (AppSession *s);
gboolean app_session_is_previewing (AppSession *s);
void app_session_undo (AppSession *s);
void app_session_redo (AppSession *s);
void app_session_go (AppSession *s, guint step);

/* The step the next do or commit is told by in the pattern's changes (drafting/fitting.h);
 * a failure lets go of it. */
void app_session_tell_step (AppSession *s, const PatternStep *step);
/* A fitting laid over another, or over what is shown (0); was 0: nothing is. "laid-over-changed". */
typedef struct
{
  guint was, is;
} AppLaidOver;
void app_session_lay_over (AppSession *s, AppLaidOver laid);
AppLaidOver app_session_get_laid_over (AppSession *s);

/* --- what is picked -------------------------------------------------------- */
const AppPick *app_session_get_pick (AppSession *s);
void app_session_pick_none (AppSession *s);
void app_session_pick_piece (AppSession *s, guint piece, gboolean add);
void app_session_pick_edge (AppSession *s, guint piece, guint edge);
void app_session_pick_nodes (AppSession *s, guint piece, guint edge,
                             const guint *nodes, guint n);
void app_session_pick_mark (AppSession *s, guint piece, guint mark);
void app_session_pick_seam (AppSession *s, guint seam);
void app_session_pick_line (AppSession *s, guint line);
void app_session_pick_picture (AppSession *s, guint picture);
void app_session_pick_finding (
    AppSession *s,
    const SewingFinding *finding); /* picks its place, and "look-at" */
/* The seam to show in the strip: the picked one, or that of the picked edge or its
 * nodes; 0 when none. */
guint app_session_get_strip_seam (AppSession *s);
/* A place on the strip's seam pointed at, as a length on side A; < 0 none. "hover-changed". */
void app_session_set_strip_at (AppSession *s, double at);
double app_session_get_strip_at (AppSession *s);
/* From the table: the place of the strip's seam that is nearest the point, within reach of it, mm;
 * else none. */
void app_session_point_strip (AppSession *s, GeoPoint at, double reach);
/* What is under the pointer. */
typedef struct
{
  guint piece, edge, node, mark, seam;
} AppHover;
AppHover app_session_get_hover (AppSession *s);
void app_session_set_hover (AppSession *s, AppHover hover);

/* --- verbs on what is picked, for keys, menus and panels alike ------------------- */
void app_session_delete_pick (AppSession *s);
void app_session_nudge (AppSession *s, double dx, double dy); /* mm */
void app_session_turn_pick (AppSession *s, double angle);
void app_session_mirror_pick (AppSession *s);
void app_session_copy_pick (AppSession *s, gboolean mirrored);
void app_session_select_all (AppSession *s);
void app_session_mend (AppSession *s, const SewingFinding *finding);
/* By one of its other remedies. */
void app_session_mend_by (AppSession *s, const SewingRemedy *remedy);
/* Next or previous piece, edge of the piece, node of the edge, mark of the piece, seam, for the
 * keyboard. Pieces do not go round: FALSE past the last and before the first,
 * where the pick is let go of and the focus may go on. */
gboolean app_session_step_pick (AppSession *s, int by);
/* Piece -> its first edge -> its first node. FALSE when there is nothing further in. */
gboolean app_session_step_into (AppSession *s);
/* Node -> edge -> piece -> nothing. FALSE when nothing was picked. */
gboolean app_session_step_out (AppSession *s);
/* What is picked in words: "front neck, edge of front, 203.4 mm"; "" for nothing. */
char *app_session_describe_pick (AppSession *s);
/* Box of what is picked; empty for nothing. */
GeoBox app_session_pick_box (AppSession *s);
/* Whether this piece, or this edge, is (part of) what is picked; a seam's pick includes
 * the edges of both its sides. */
gboolean app_session_is_picked (AppSession *s, guint piece, guint edge);

/* --- the document on disk -------------------------------------------------- */
const char *
app_session_get_path (AppSession *s); /* NULL before the first save */
char *app_session_dup_title (AppSession *s);
gboolean app_session_is_saved (AppSession *s);
/* FILE_ERROR_CHANGED where another program wrote it since; force saves all the same. */
gboolean app_session_save (AppSession *s, const char *path, gboolean force,
                           GError **error);
void app_session_set_path (AppSession *s, const char *path); /* after loading */
void app_session_mark_unsaved (AppSession *s); /* after bringing in */
/* Its place for file_autosave_keep(), made at first asking. The session keeps nothing of
 * itself; saving drops what was kept there. */
const char *app_session_get_slot (AppSession *s);
