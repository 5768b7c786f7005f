/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What drafters of pieces share: room on the table, grain, edges. */
#pragma once

#include "drafting/shape.h"

/* Shapes moved, in a row, clear of all that lies on the table: below it, or beside it
 * where that keeps the whole nearer the shape of a window. */
void drafting_lay_out (const Pattern *p, DraftingShape *const *shapes, guint n);
/* A grainline through the middle along a direction, about half as long as the piece is
 * that way. */
void drafting_give_grain (DraftingDraftPiece *piece, const DraftingShape *shape,
                          GeoPoint along);
/* Extended corners. */
void drafting_give_edge (DraftingDraftPiece *piece, const DraftingShape *shape,
                         const char *edge, const char *name,
                         PatternEdgeKind kind, double allowance);
/* With corners ended as said; by_leaving: by the edge that starts there. */
void drafting_give_corner (DraftingDraftPiece *piece,
                           const DraftingShape *shape, const char *edge,
                           const char *name, PatternEdgeKind kind,
                           double allowance, GeoCornerKind corner,
                           gboolean by_leaving);
/* The direction of a straight edge, as drawn or turned. */
GeoPoint drafting_edge_way (const DraftingShape *shape, const char *edge);
/* Thickness of the first cloth of that use; 0.5 mm where there is none. */
double drafting_cloth_thickness (const Pattern *p, PatternClothUse use);
/* The number, or the other where it was left empty. */
double drafting_number_or (const DraftingValues *v, const char *key,
                           double otherwise);
