/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What has to be cut from which cloth. */
#pragma once

#include "sewing/facts.h"

typedef struct
{
  guint cloth, piece; /* ids */
  int count;          /* how many in all, mirrored ones included */
  gboolean mirrored;  /* half of them the other way up */
  gboolean on_fold;
  double area; /* of one as cut: with its allowance, unfolded; mm2. 0 where
                  the outline encloses nothing */
} SewingCutting;

/* Array of SewingCutting by cloths and then pieces, in the order of the
 * pattern. */
GArray *sewing_cutting_list (SewingFacts *facts, const Pattern *pattern);
/* Area of everything cut from the cloth, mm2: the cloth itself, not the length
 * of cloth to buy, which depends on how the pieces are laid. */
double sewing_cutting_area (const GArray *list, guint cloth);
