/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outline of a piece being drafted: edges with part names, each a chain, end to end
 * round a closed loop. What recipes' geometry gives, before it becomes a piece.
 */
#pragma once

#include "drafting/verb.h"

#define DRAFTING_SHAPE_EDGES 16

typedef struct
{
  const char *part; /* interned; as a DraftingDraftNode's edge */
  GeoChain chain;
} DraftingShapeEdge;

typedef struct
{
  DraftingShapeEdge edges[DRAFTING_SHAPE_EDGES];
  guint n_edges;
  gboolean turned; /* the edges now run the other way than they were drawn */
} DraftingShape;

/* All zero is an empty shape. */
void drafting_shape_clear (DraftingShape *shape);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DraftingShape, drafting_shape_clear)
/* A further edge, empty, to be filled in place; it is to start where the last one ends. */
GeoChain *drafting_shape_add (DraftingShape *shape, const char *part);
/* A further edge, straight from where the last one ends. */
void drafting_shape_add_line (DraftingShape *shape, const char *part,
                              GeoPoint to);
/* An empty chain where there is no such edge. */
const GeoChain *drafting_shape_get (const DraftingShape *shape,
                                    const char *part);
double drafting_shape_length (const DraftingShape *shape, const char *part);
void drafting_shape_outline (const DraftingShape *shape, GeoChain *outline);
void drafting_shape_move (DraftingShape *shape, GeoMotion motion);
void drafting_shape_copy (DraftingShape *target, const DraftingShape *source);
GeoBox drafting_shape_bounds (const DraftingShape *shape);
/* Finite, closed to 1e-6 mm, of 1 mm2 or more, not crossing itself, and no part name twice. */
gboolean drafting_shape_is_sound (const DraftingShape *shape);
/* Turns the outline round where its area is negative. */
void drafting_shape_settle (DraftingShape *shape);
/* As a piece of the draft, settled. Nodes are named by their edge: "neck", "neck-1"...;
 * where the direction runs on they are smooth. */
DraftingDraftPiece *drafting_shape_give (DraftingShape *shape,
                                         DraftingDraft *draft, const char *part,
                                         const char *name);
/* An edge of a given piece, for a seam, walked as it was drawn or against that. */
DraftingDraftRun drafting_shape_run (const DraftingShape *shape,
                                     const char *piece, const char *edge,
                                     gboolean reversed);
