/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Body figures and the arithmetic amounts are written in.
 *
 * A figure is a named length: "bust girth" 880 mm. An amount is what pattern_length_parse()
 * reads, and the names of figures beside: "bust girth / 4 + 1 cm". The
 * longest name that fits is taken; capitals do not matter. Names begin with a letter and hold
 * letters, digits, spaces and hyphens; no name of a unit is one.
 */
#pragma once

#include "pattern/pattern.h"

#define PATTERN_AMOUNT_ERROR (pattern_amount_error_quark ())
GQuark pattern_amount_error_quark (void);
typedef enum
{
  PATTERN_AMOUNT_ERROR_UNREADABLE,
  PATTERN_AMOUNT_ERROR_FIGURE, /* a name that is no figure of the pattern */
  PATTERN_AMOUNT_ERROR_RANGE
} PatternAmountError;

/* mm is untouched on failure; the message says what could not be read and where, or which
 * figure is missing. */
gboolean pattern_amount_evaluate (const Pattern *p, const char *text,
                                  PatternUnit unit, double *mm, GError **error);
/* A plain number by the same arithmetic; a length is refused, a length divided by a length is not. */
gboolean pattern_amount_evaluate_number (const Pattern *p, const char *text,
                                         double *number, GError **error);
/* Whether an amount means something else in another unit: it has a number without one. */
gboolean pattern_amount_needs_unit (const Pattern *p, const char *text);
/* The names of figures an amount uses, each once; free with g_strfreev(). */
char **pattern_amount_figures (const Pattern *p, const char *text);
/* Why the name can't be one, in her words, or NULL. */
char *pattern_figure_name_unfit (const char *name);

/* The measurements a sewist may take, under the names of ISO 8559-1:2017 where it has one; for filling the
 * table. Explanations are our own. */
typedef struct
{
  const char *name;   /* untranslated: it is what amounts are written with */
  const char *title;  /* N_(): the name as it is shown */
  const char *how;    /* N_(): how to take it, one sentence */
  double least, most; /* mm between which an adult's is expected; an estimate */
} PatternKnownFigure;
const PatternKnownFigure *pattern_known_figures (guint *n);
