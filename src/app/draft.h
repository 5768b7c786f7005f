/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A verb of drafting with its amounts, as she fills them in: what stands in its fields, which field the
 * table's clicks go to, the preview, and why it can't be done. No toolkit; the bar over the
 * table shows it, the table feeds it. Once done it is one step of history.
 *
 * The session tells each change by "draft-changed", the beginning and the end too. Undo, redo and edits made
 * elsewhere are followed; it ends where its recipe goes.
 */
#pragma once

#include "app/hit.h"
#include "app/palette.h"
#include "app/session.h"
#include "app/view.h"

typedef struct _AppDraft AppDraft;

/* Fills in what is picked. What was being drafted is left. FALSE where there is no such verb. */
gboolean app_draft_begin (AppSession *session, const char *verb);
/* Other amounts for a linked piece. */
gboolean app_draft_begin_recipe (AppSession *session, guint recipe);
/* Leaves it; what is previewed goes. */
void app_draft_end (AppSession *session);
/* NULL while nothing is drafted. Borrowed until the next "draft-changed". */
AppDraft *app_draft_get (AppSession *session);

const DraftingVerb *app_draft_get_verb (const AppDraft *draft);
/* 0 for a new one. */
guint app_draft_get_recipe (const AppDraft *draft);
/* What stands in a field; never NULL. Lengths that a verb starts with are in the pattern's
 * unit. */
const char *app_draft_get_text (const AppDraft *draft, guint parameter);
/* The same as words: "the front's neck"; new. */
char *app_draft_get_words (const AppDraft *draft, guint parameter);
void app_draft_set_text (AppDraft *draft, guint parameter, const char *text);
/* A length, angle or number by so many steps natural to it. FALSE where it is none now. */
gboolean app_draft_step (AppDraft *draft, guint parameter, int by);

/* An argument of a recipe as it is shown and typed in the pattern's unit; text NULL: where the parameter
 * starts. New. */
char *app_draft_argument_shown (const Pattern *p, const PatternStep *step,
                                const DraftingParameter *parameter,
                                const char *text);
/* Whether a parameter is filled by clicking on the table. */
gboolean app_draft_is_pick (const DraftingParameter *parameter);
/* The field that clicks go to or that is typed in. */
guint app_draft_get_active (const AppDraft *draft);
void app_draft_set_active (AppDraft *draft, guint parameter);
/* The next field, or the one before, round. */
void app_draft_move_active (AppDraft *draft, int by);

/* A click on the table: goes to the active field where that takes it, else to the first that does.
 * In a field of several a second click takes it out again. FALSE where no field does. */
gboolean app_draft_click (AppDraft *draft, GeoPoint at, double reach);
/* Takes the last click back, and what was typed since. FALSE where there is none. */
gboolean app_draft_take_back (AppDraft *draft);

/* What to do next, or what hinders: a sentence; NULL where it can be done as it stands. bad: it is an
 * error and no mere lack. */
const char *app_draft_get_trouble (const AppDraft *draft, gboolean *bad);
/* Linked pieces' recipes that doing it lets go of, for it gives them other nodes or edges; NULL for none. */
const char *app_draft_get_lets_go (const AppDraft *draft);
/* The field the trouble is in; -1 where it is in none. */
int app_draft_get_trouble_field (const AppDraft *draft);
/* For the foot of the table. */
const char *app_draft_hint (const AppDraft *draft);
/* Makes a step of it and ends. FALSE where it can't be done: the reason is told as a
 * problem. */
gboolean app_draft_do (AppDraft *draft);

/* Whether what is picked can fill a field of the verb's, so that it is offered for it. */
gboolean app_draft_fits_pick (AppSession *session, const DraftingVerb *verb);
/* "Darts", "Edges", ... translated. */
const char *app_draft_group_name (DraftingGroup group);
/* All words typed stand in its title, name or hint; capitals do not matter. */
gboolean app_draft_matches (const DraftingVerb *verb, const char *typed);

/* What stands in the fields, on the table; in the context's pixels. */
void app_draft_paint (const AppDraft *draft, cairo_t *cr, const AppView *view,
                      gboolean dark);
