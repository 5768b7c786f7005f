/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the verbs share: finding what is named, and putting a changed piece back
 * so that the pattern stays sound. */
#pragma once

#include "drafting/edit.h"

#define DRAFTING_FARTHEST 1e5      /* mm: 100 m */
#define DRAFTING_EXACT 1e-10       /* mm, of arc lengths */
#define DRAFTING_CLOSEST_CLIPS 2.0 /* mm */
#define DRAFTING_LEAST_AREA 1e-3   /* mm2: less is no piece */

/* --- refusing --------------------------------------------------------------- */
/* Sets the error; always FALSE, so that a check can return it. */
gboolean drafting_refuse (GError **error, DraftingError code,
                          const char *format, ...) G_GNUC_PRINTF (3, 4);
/* Finite and at most 100 m either way; else sets the error. */
gboolean drafting_number_is_good (double number, GError **error);
gboolean drafting_point_is_good (GeoPoint point, GError **error);

/* All of it is finite and at most 100 m away. */
gboolean drafting_piece_in_reach (const PatternPiece *piece);

/* --- finding ---------------------------------------------------------------- */
/* NULL, or -1, with the error set where it is gone. */
const PatternPiece *drafting_find_piece (const Pattern *p, guint piece,
                                         GError **error);
const PatternSeam *drafting_find_seam (const Pattern *p, guint seam,
                                       GError **error);
int drafting_find_edge (const PatternPiece *piece, guint edge, GError **error);
int drafting_find_node (const PatternPiece *piece, guint node, GError **error);

/* --- changing ---------------------------------------------------------------- */
/* A copy of the piece to alter; NULL with the error set where it is gone. */
PatternPiece *drafting_begin (const Pattern *p, guint piece, GError **error);
/* The same, and an index of an edge or node on it. */
PatternPiece *drafting_begin_edge (const Pattern *p, guint piece, guint edge,
                                   guint *index, GError **error);
PatternPiece *drafting_begin_node (const Pattern *p, guint piece, guint node,
                                   guint *index, GError **error);
/* Takes over the altered piece and gives the pattern with it: an outline that was
 * turned over by the change is turned round, seams along. NULL with the error
 * set where the change would take all its area, or put a part of it more than
 * 100 m away. next holds the numbers taken while altering; it may be NULL. */
Pattern *drafting_finish (const Pattern *p, PatternPiece *piece,
                          const guint *next, GError **error);
/* As finish, for changes that move no line. */
Pattern *drafting_finish_marks (const Pattern *p, PatternPiece *piece,
                                const guint *next);

/* New numbers for the piece and all its parts, from next on; all numbers it had must be
 * below next. */
void drafting_renumber (PatternPiece *piece, guint *next);

/* --- seams that follow edges ------------------------------------------------- */
/* The edge was cut in two: wherever it was walked, both are. */
void drafting_runs_split (Pattern *p, guint piece, guint edge, guint added);
/* An edge was joined to another: seams walk that one instead, once. */
void drafting_runs_join (Pattern *p, guint piece, guint gone, guint heir);

/* --- shapes ------------------------------------------------------------------- */
double drafting_edge_length (const PatternPiece *piece, guint edge_index);
/* The other handle follows the one that moved, as the kind asks. */
void drafting_follow_handle (PatternNode *node, DraftingHandle moved);
/* Bounds of the stitch line. */
GeoBox drafting_bounds (const PatternPiece *piece);
