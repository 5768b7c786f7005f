/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trade's names for edges, what each says of its edge, and a guess from a piece's shape. */
#pragma once

#include "drafting/edit.h"

/* A fold is cut without allowance, a hem is turned up; a seam is what was neither bound nor raw. */
typedef struct
{
  const char *name; /* N_(): kept translated, as any name is */
  int kind;         /* a PatternEdgeKind, or -1: says nothing of it */
} DraftingEdgeName;

const DraftingEdgeName *drafting_edge_names (guint *n);
/* The place in the list of a name as kept; -1 for one of her own. Capitals do not matter. */
int drafting_edge_name_find (const char *name);
/* The name; and the kind it says, but bound and raw edges stay so. */
Pattern *drafting_name_edge (const Pattern *p, guint piece, guint edge,
                             const char *name, GError **error);

/* What the edges of a piece may be, by its shape and, where it says front or back or sleeve, its
 * name: for each edge of the outline up to room places in the list, likeliest first, those it already has a name for
 * included; -1 after the last. A guess only: it is offered, never done unasked. out holds n_edges x room. */
void drafting_guess_edge_names (const PatternPiece *piece, guint room,
                                int *out);
