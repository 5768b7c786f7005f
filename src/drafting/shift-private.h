/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edges laid anew, corner by corner. */
#pragma once

#include "drafting/change-private.h"
#include "geometry/profile.h"

/* How far an edge is to go, outward, by the length from its start. */
typedef struct
{
  guint piece, edge;
  GeoProfileKnot knots[3];
  guint n;
} DraftingShifted;

/* All edges told, of whatever pieces; share scales all widths. NULL with the error set
 * where a corner can't be made. */
Pattern *drafting_shift_all (const Pattern *p, const DraftingShifted *edges,
                             guint n, double share, GError **error);
/* Adds those that face them across seams, by the same widths where they face each other. */
gboolean drafting_shift_facing (const Pattern *p, GArray *edges,
                                GError **error);
/* Lays the outline along the chains, one for each edge, end to end; those flagged are new, the others as the piece
 * has them. */
void drafting_lay_outline (Pattern *numbers, PatternPiece *piece,
                           const GeoChain *chains, const gboolean *changed);
/* Two lines in a row, each cut off or drawn on straight so that they meet nearest the corner. */
gboolean drafting_meet (GeoChain *before, GeoChain *after, GeoPoint corner,
                        double reach);
