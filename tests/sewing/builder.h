/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Patterns written as a few lines of text, for tests. One thing a line; an
 * underscore in a name stands for a space; anything not understood ends the test.
 *
 *   unit mm|cm|in
 *   tolerance MM
 *   cloth NAME GIVE                  further cloths; "shell" is there already
 *   piece NAME
 *   at X Y                           the outline starts
 *   edge NAME KIND WIDTH             an edge starts at the point reached ("-": no name)
 *   line X Y | curve X Y X Y X Y | arc CX CY DEGREES
 *   notch EDGE COUNT start|end|fraction AMOUNT
 *   grain X Y X Y
 *   cut CLOTH COUNT [mirrored]
 *   seam NAME PRESS EASE RUN... / RUN...   RUN: PIECE.EDGE, with ~ behind it reversed
 *   dart NAME RUN... / RUN...
 *   ease SEAM MARK MARK AMOUNT       MARK: PIECE.N, its Nth notch, or "-"; AMOUNT
 *                                    in mm, or with % behind it
 *   aside KEY NOTE
 *
 * Outlines are closed by a line where they do not end at their start, and must
 * run round a positive area. Arcs are taken in steps of 15 degrees, which
 * are off the circle by 6e-9 of the radius.
 */
#pragma once

#include "pattern/pattern.h"

Pattern *builder_read (const char *text);
/* The text with one line, which must be there, replaced. The result is
 * the caller's. */
char *builder_change (const char *text, const char *line, const char *by);
const PatternPiece *builder_piece (const Pattern *pattern, const char *name);
const PatternEdge *builder_edge (const Pattern *pattern, const char *piece,
                                 const char *edge);
const PatternSeam *builder_seam (const Pattern *pattern, const char *name);
/* A skirt of front, back and waistband that nothing is wrong with. */
extern const char *const builder_skirt;
