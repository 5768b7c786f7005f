/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fittings, and the changes made since.
 *
 * A fitting is the pattern as it was when a muslin was cut from it, kept whole. From the
 * first fitting on, every change is remembered: one told in words by its step, one made by hand
 * by what it touched, as it was and as it became. All this is part of the pattern, so
 * undoing a change takes its entry back, too.
 *
 * Both are immutable and reference-counted.
 */
#pragma once

#include "pattern/pattern.h"

struct _PatternFitting
{
  gatomicrefcount refs;
  guint id;
  char *name;    /* "muslin 1" */
  char *note;    /* never NULL */
  Pattern *kept; /* has no fittings and no changes of its own */
  guint at;      /* so many of the pattern's changes had been made */
};

struct _PatternChange
{
  gatomicrefcount refs;
  char *label;       /* as in the history, in her words */
  char *merge;       /* of a run of nudges; NULL; not kept in the document */
  guint next_id;     /* the pattern's, before the change */
  PatternStep *step; /* NULL where it was made by hand: then was and is hold
                        the pieces, seams, figures and recipes it touched, and
                        nothing else */
  Pattern *was, *is;
};

PatternFitting *pattern_fitting_new (guint id, const char *name,
                                     const char *note, const Pattern *kept,
                                     guint at);
PatternFitting *pattern_fitting_ref (const PatternFitting *fitting);
void pattern_fitting_unref (PatternFitting *fitting);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PatternFitting, pattern_fitting_unref)

/* One told in words. */
PatternChange *pattern_change_new (const char *label, guint next_id,
                                   const PatternStep *step);
/* One made by hand: what differs between the two; NULL where nothing does that is
 * remembered (the table's construction lines, cloths, notes, what is set aside and
 * settings are not). */
PatternChange *pattern_change_between (const char *label, const char *merge,
                                       const Pattern *before,
                                       const Pattern *now);
/* From parts read from a document. Takes over was and is. */
PatternChange *pattern_change_of_parts (const char *label, guint next_id,
                                        Pattern *was, Pattern *is);
/* Two changes by hand in a row as one. */
PatternChange *pattern_change_join (const PatternChange *first,
                                    const PatternChange *second);
PatternChange *pattern_change_ref (const PatternChange *change);
void pattern_change_unref (PatternChange *change);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PatternChange, pattern_change_unref)
gboolean pattern_fitting_equal (const PatternFitting *a,
                                const PatternFitting *b);
gboolean pattern_change_equal (const PatternChange *a, const PatternChange *b);

/* A pattern with no piece, seam, cloth or anything: to be filled with parts. */
Pattern *pattern_new_bare (void);
