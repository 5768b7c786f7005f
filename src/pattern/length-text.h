/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lengths as people type and read them.
 *
 * Reading: a number (decimal point or comma), a fraction, a mixed number
 * (1 1/2, 1-1/2, one of the Unicode vulgar fractions, 1½), each with an
 * optional unit (mm, cm, m, in, ", inch, inches, ft, '), joined by + - * / and
 * brackets; a part without a unit takes the unit given. In a product a bare number
 * is a factor: 2 * 15mm, 1 m / 4. After feet, a number is inches: 5' 6 1/2. 1 in = 25.4 mm exactly
 * (international yard and pound agreement, 1959).
 */
#pragma once

#include <glib.h>

typedef enum
{
  PATTERN_MM,
  PATTERN_CM,
  PATTERN_INCH
} PatternUnit;

#define PATTERN_LENGTH_ERROR (pattern_length_error_quark ())
GQuark pattern_length_error_quark (void);
typedef enum
{
  PATTERN_LENGTH_ERROR_UNREADABLE,
  PATTERN_LENGTH_ERROR_RANGE
} PatternLengthError;

/* mm is exact to rounding and within +-100 m. On failure the message says what could not be
 * read and where, and mm is untouched. */
gboolean pattern_length_parse (const char *text, PatternUnit unit, double *mm,
                               GError **error);
/* "41.26 cm", "412.6 mm", "16 1/4 in". Inches to the nearest 1/16 in lowest
 * terms; with exact set and the value more than 0.05 mm off it, the rest is told: "16 1/4 in + 0.3 mm", or "0.3 mm" where no sixteenth is left. mm and cm to
 * 0.1 mm (0.01 cm) without trailing zeros after the first decimal. Decimal mark of the locale. A minus is U+2212. */
char *pattern_length_format (double mm, PatternUnit unit, gboolean exact);
/* The same without the unit's name, for narrow places. */
char *pattern_length_format_bare (double mm, PatternUnit unit);
/* With a leading + or minus, for changes; nothing before a change that rounds to
 * 0. Inches tell the rest: "+1/8 in + 0.3 mm", "+0.4 mm". */
char *pattern_length_format_change (double mm, PatternUnit unit);
/* A step natural to the unit: 1 mm, 1 mm, 1/16 in. */
double pattern_length_step (PatternUnit unit);
const char *pattern_unit_word (PatternUnit unit); /* "mm", "cm", "in" */
/* Area in cm2 or square inches, mass etc. are formatted by who shows them. */
/* From the locale's measurement system: inches for US, else centimetres. */
PatternUnit pattern_unit_of_locale (void);
