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
/* A length in the pattern's unit; in inches with millimetres behind it where
 * sixteenths don't tell it all, "1 9/16 in (40.0 mm)". */
char *sewing_words_length (const Pattern *pattern, double mm);
/* A difference, without its sign, in the pattern's unit; below a centimetre,
 * or what the inch rule's sixteenths can't tell, in millimetres. */
char *sewing_words_amount (const Pattern *pattern, double mm);
/* An area in square centimetres, or square inches where the pattern is in inches. */
char *sewing_words_area (const Pattern *pattern, double mm2);
/* Makes the first letter a capital. Frees what is given. */
char *sewing_words_capital (char *sentence);
