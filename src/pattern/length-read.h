/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of reading lengths and amounts, for this layer only. */
#pragma once

#include "pattern/length-text.h"

/* Reads a name at a place in a text: TRUE gives its length in mm and how many bytes it
 * takes; FALSE sets the error. Called where a letter stands in place of a number. */
typedef gboolean (*PatternNameReader) (const char *at, double *mm, gsize *used,
                                       gconstpointer data, GError **error);
/* As pattern_length_parse(), with names; name may be NULL. */
gboolean pattern_length_read (const char *text, PatternUnit unit,
                              PatternNameReader name, gconstpointer data,
                              double *mm, GError **error);
/* A plain number by the same grammar: a length is refused. */
gboolean pattern_number_read (const char *text, PatternNameReader name,
                              gconstpointer data, double *number,
                              GError **error);
gboolean pattern_word_is_unit (const char *word);
