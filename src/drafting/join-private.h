/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines cut in two and put together. */
#pragma once

#include "drafting/change-private.h"

/* Cuts the piece being changed from one node of its outline to another along a line between them (from
 * a to b). It becomes one part, and other gets the second: a new piece, not yet in the pattern, whose edges' runs have been
 * turned over to it. cut[0], cut[1] get the new edges: cut[0] of the part that runs on from b to a, its edge
 * walked from a to b; cut[1] of the other, walked from b to a. kept_first: whether the part that keeps the number is
 * the one of cut[0]. FALSE with the error set. */
typedef struct
{
  PatternPiece *other;
  guint cut[2];
  gboolean kept_first;
} DraftingHalves;
gboolean drafting_cut_in_two (DraftingChange *c, guint a, guint b,
                              const GeoChain *line, const char *name,
                              DraftingHalves *halves, GError **error);
/* Puts two outlines together along a run of edges of each, flagged, which go; b lies where it is to be and
 * runs the same way round. b's marks and notches come along, its grainline does not. FALSE where a run is the whole outline or no
 * run. joints get the nodes where the two meet. */
gboolean drafting_put_together (PatternPiece *a, const gboolean *a_gone,
                                const PatternPiece *b, const gboolean *b_gone,
                                guint joints[2]);
/* b's marks, inner lines and notches into a; with their numbers. */
void drafting_take_marks (PatternPiece *a, const PatternPiece *b);
/* All runs on one piece's edges that another has now are turned over to it. */
void drafting_hand_over (Pattern *p, guint from, const PatternPiece *to);
