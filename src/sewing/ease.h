/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much longer one edge may be than the one it is eased into. Handbooks give
 * ranges by place in the garment, and differ; Bodkin tells the place by the form of
 * the two edges. Figures are estimates; their sources stand beside the tests. */
#pragma once

#include "sewing/facts.h"

typedef enum
{
  SEWING_EASE_PLAIN,  /* a shoulder, a waist: to 12.7 mm (1/2 in) */
  SEWING_EASE_SHAPED, /* the longer edge bulges over a fuller place, as over the
                         bust: to 6.4 mm (1/4 in) */
  SEWING_EASE_SET_IN, /* a round edge into a hollow, as a sleeve's cap: to
                         38.1 mm (1 1/2 in) */
  SEWING_EASE_TURNED, /* two plies that lie on each other: no more than the turn
                         of the cloth, to 3.2 mm (1/8 in) */
} SewingEaseKind;

SewingEaseKind sewing_ease_kind (SewingFacts *facts, const Pattern *pattern,
                                 const SewingSeam *seam);
/* mm over the whole seam. */
double sewing_ease_most (SewingEaseKind kind);
/* Per cent of the shorter edge that a cloth takes up, by its give (0.04 is 4 %) and
 * the share of the longer edge that runs on the bias. */
double sewing_ease_per_cent (double give, double bias);
