/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line at a depth inside a run of edges, cut to the edges beside it: a facing's inner edge, a lining's
 * hem.
 */
#pragma once

#include <glib.h>

#include "geometry/chain.h"

typedef struct
{
  const GeoChain *runs; /* end to end */
  const double *depths; /* one a run, above 0 */
  guint n;
  int inside; /* +1: the piece lies on the left normal's side */
  /* The edges beside the run, walked away from its start and from its end. */
  const GeoChain *before, *after;
  double
      smooth; /* corners between runs are rounded from so far off on both sides */
} DraftingInset;

typedef struct
{
  GeoChain
      inner; /* from before to after; a set number of cubics for the runs */
  double before, after; /* lengths along those where it is cut */
} DraftingInsetLine;

void drafting_inset_clear (DraftingInsetLine *line);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DraftingInsetLine, drafting_inset_clear)
/* Lengths along two chains where they cross, of several crossings at that nearest a place; FALSE where
 * they do not. */
gboolean drafting_inset_cross (const GeoChain *a, const GeoChain *b,
                               GeoPoint near, double *on_a, double *on_b);
/* FALSE where the line does not reach the edges beside the run, or folds over itself. line need not be
 * initialised. */
gboolean drafting_inset (const DraftingInset *inset, DraftingInsetLine *line);
