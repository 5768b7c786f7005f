/* SPDX-License-Identifier: GPL-3.0-or-later */
/* History: the patterns a document has been, each with what was done. No limit;
 * since patterns share what did not change, a step costs what it changed. */
#pragma once

#include "pattern/pattern.h"

typedef struct _PatternHistory PatternHistory;

/* Takes a reference. The first step has no label. */
PatternHistory *pattern_history_new (const Pattern *first);
void pattern_history_free (PatternHistory *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PatternHistory, pattern_history_free)

const Pattern *pattern_history_get_current (const PatternHistory *history);
/* Puts a step after the current one and drops what was undone. label: what was
 * done, in the person's words ("shorten hem"), translated. */
void pattern_history_push (PatternHistory *history, const char *label,
                           const Pattern *pattern);
/* As push, but where the newest step has the same non-NULL merge key and nothing
 * was saved, undone or pushed in between, that step is replaced: a run of arrow-key nudges
 * is one step. */
void pattern_history_push_merged (PatternHistory *history, const char *label,
                                  const char *merge, const Pattern *pattern);
/* Ends merging with the newest step. */
void pattern_history_seal (PatternHistory *history);
gboolean pattern_history_undo (PatternHistory *history);
gboolean pattern_history_redo (PatternHistory *history);
/* Label of what undo / redo would take back / do again; NULL when nothing. */
const char *pattern_history_get_undo_label (const PatternHistory *history);
const char *pattern_history_get_redo_label (const PatternHistory *history);
guint pattern_history_get_length (const PatternHistory *history);
guint pattern_history_get_position (const PatternHistory *history);
const char *pattern_history_get_label (const PatternHistory *history,
                                       guint step);
const Pattern *pattern_history_get_pattern (const PatternHistory *history,
                                            guint step);
gboolean pattern_history_go (PatternHistory *history, guint step);
/* The current step is what the file holds. */
void pattern_history_mark_saved (PatternHistory *history);
/* The file holds none of the steps: a document found again after a crash. */
void pattern_history_mark_unsaved (PatternHistory *history);
/* At first the first step counts as saved. */
gboolean pattern_history_is_saved (const PatternHistory *history);
