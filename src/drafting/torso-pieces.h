/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The torso sloper's two halves as pieces of a draft: edges with their trade names, notches, points,
 * grain, cuts and seams. */
#pragma once

#include "drafting/torso.h"

typedef struct
{
  DraftingShape *back, *front; /* moved to their places and settled */
  const DraftingTorsoFacts *facts;
  double allowance, neck_allowance;
  double notch; /* of the armholes, from the underarm */
  double shoulder_ease;
  gboolean to_hip;
} DraftingTorsoPieces;

void drafting_torso_give (const Pattern *p, const DraftingTorsoPieces *pieces,
                          DraftingDraft *draft);
