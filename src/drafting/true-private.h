/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of truing, for the true*.c files only. */
#pragma once

#include "drafting/edit-private.h"
#include "drafting/true.h"

/* Puts a chain in place of an edge's cubics. It starts and ends where the edge does; nodes at places
 * where the edge had one stay the same nodes. Ids for new ones are taken from *next on. */
void drafting_put_edge_chain (PatternPiece *piece, guint edge_index,
                              const GeoChain *chain, guint *next);
/* The last of an edge's chain (at_end), or the first, over a length: appended, the way
 * the edge runs. rest gets the other part. Each may be NULL. */
void drafting_cut_chain (const GeoChain *edge, double reach, gboolean at_end,
                         GeoChain *part, GeoChain *rest);
/* Refuses what left an outline crossing itself that did not before. */
gboolean drafting_outline_is_good (const Pattern *before, const Pattern *after,
                                   guint piece, GError **error);
