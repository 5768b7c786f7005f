/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names of pieces, edges and seams as they stand inside a sentence, and
 * lengths as findings give them. All return new, translated strings. */
#pragma once

#include "pattern/pattern.h"

/* "the collar". */
char *sewing_words_piece (const PatternPiece *piece);
/* "the collar's neck edge"; without a name, "the collar's edge 3". */
char *sewing_words_edge (const PatternPiece *piece, guint edge_index);
/* The same by ids; never NULL. */
char *sewing_words_edge_of (const Pattern *pattern, guint piece, guint edge);
/* All runs of a side: "the neckline" where they share that name, else "the
 * front's neck and the back's neck", from four on "side A of the collar
 * seam". */
char *sewing_words_side (const Pattern *pattern, const PatternSeam *seam,
                         int side);
/* "the collar seam"; without a name, "their seam". */
char *sewing_words_seam (const PatternSeam *seam);
/* "single notch", "double notch", "triple notch". */
const char *sewing_words_notch (int count);
/* A length in the pattern's unit, to 0.1 mm or to the nearest sixteenth, where one
 * that is off by more than 0.2 mm is "scant 1 9/16 in" or "full 1 9/16 in";
 * below a sixteenth there is 1/32. */
char *sewing_words_length (const Pattern *pattern, double mm);
/* A difference, without its sign: the same, but in a pattern in centimetres
 * those below 1 cm are in millimetres. One way for sentences, strip and tags. */
char *sewing_words_amount (const Pattern *pattern, double mm);
/* The unit of such a difference. */
PatternUnit sewing_words_unit (const Pattern *pattern, double mm);
/* A difference with + or U+2212 before it, for tables: "+1/8 in scant"; "0"
 * where it is below 0.05 mm. */
char *sewing_words_change (const Pattern *pattern, double mm);
/* A radius of curvature: to the millimetre from 10 cm on; "straight", "corner". */
char *sewing_words_radius (const Pattern *pattern, double mm);
/* Two lengths that differ, so that their words do, too: where rounding would hide it
 * they are told in millimetres. */
void sewing_words_two_lengths (const Pattern *pattern, double a, double b,
                               char **a_words, char **b_words);
/* An area in square centimetres, or square inches where the pattern is in inches. */
char *sewing_words_area (const Pattern *pattern, double mm2);
/* Makes the first letter a capital. Frees what is given. */
char *sewing_words_capital (char *sentence);
