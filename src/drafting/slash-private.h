/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One slash among several. */
#pragma once

#include "drafting/change-private.h"

typedef struct
{
  guint from, to; /* nodes; after the cut, those that start what comes after */
  guint from_first, to_first; /* those that end what comes before */
  double open_from, open_to;
  gboolean fair;
} DraftingCut;

gboolean drafting_slash_cut (DraftingChange *c, DraftingCut *cut,
                             GError **error);
gboolean drafting_slash_spread (DraftingChange *c, const DraftingCut *cut,
                                GError **error);
gboolean drafting_slash_mend (DraftingChange *c, const DraftingCut *cut,
                              GError **error);
/* Where a straight line through two points goes across a piece. */
gboolean drafting_line_across (const PatternPiece *piece, GeoPoint a,
                               GeoPoint b, DraftingPlace *from,
                               DraftingPlace *to, GError **error);
