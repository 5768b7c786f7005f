/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fittings: the pattern kept as it was when a muslin was cut, what was changed since, and
 * taking back or revising one change among many.
 *
 * A change is taken back by doing all that was done since the fitting before it again without it;
 * revised, by doing it with other amounts. What comes after and can't be done then is told,
 * and nothing is changed. Fittings kept later stay as they were: they are what
 * was sewn. */
#pragma once

#include "drafting/edit.h"
#include "pattern/change.h"

/* Keeps the pattern as it stands. name NULL: "muslin 1" and on. */
Pattern *drafting_keep_fitting (const Pattern *p, const char *name,
                                const char *note, guint *new_fitting,
                                GError **error);
Pattern *drafting_set_fitting (const Pattern *p, guint fitting,
                               const char *name, const char *note,
                               GError **error);
/* Changes before the first fitting left are forgotten; the pattern's pieces stay. */
Pattern *drafting_remove_fitting (const Pattern *p, guint fitting,
                                  GError **error);

/* Writes into the changes what made now out of before, where a fitting is kept: told by step, or by hand
 * where that is NULL. A run of nudges with the same merge, not NULL, is one change. Takes over now and
 * gives it, or a copy with the entry. */
Pattern *drafting_record (const Pattern *before, Pattern *now,
                          const char *label, const char *merge,
                          const PatternStep *step);

/* change: its place in the pattern's changes. */
Pattern *drafting_take_back (const Pattern *p, guint change, GError **error);
Pattern *drafting_revise (const Pattern *p, guint change,
                          const PatternStep *step, GError **error);
/* The fitting the change was made on: the last kept before it; NULL where there is no
 * such change. */
const PatternFitting *drafting_fitting_of (const Pattern *p, guint change);
