/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of DraftingValues: the arguments of a step, read and looked up in a pattern. */
#pragma once

#include "drafting/verb.h"

/* NULL with the error set, in her words and led by the parameter's label, where an argument is
 * missing, unreadable, names what is not in the pattern, or is beyond its
 * parameter's limits. bad gets the parameter; it may be NULL. */
DraftingValues *drafting_values_new (const Pattern *p, const DraftingVerb *verb,
                                     const PatternStep *step,
                                     const DraftingParameter **bad,
                                     GError **error);
void drafting_values_free (DraftingValues *v);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DraftingValues, drafting_values_free)
/* The unit amounts of the step without one are in. */
PatternUnit drafting_step_unit (const Pattern *p, const PatternStep *step);
const DraftingParameter *drafting_verb_parameter (const DraftingVerb *verb,
                                                  const char *key);
/* The step's own text, or the parameter's start; NULL where neither is. */
const char *drafting_step_text (const PatternStep *step,
                                const DraftingParameter *parameter,
                                gboolean *from_start);
