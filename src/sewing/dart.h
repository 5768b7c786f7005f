/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands between a dart's legs once the dart is folded. */
#pragma once

#include "sewing/joints.h"

typedef struct
{
  GeoPoint mouth[2]; /* the ends of leg A and leg B */
  GeoPoint point;    /* where they meet, or come nearest */
  GeoPoint
      fold; /* where the fold leaves the cap; on the line that halves the intake */
  double intake; /* angle between the legs, radians */
} SewingDart;

/* The cap: the edge of the cloth from leg A's mouth to leg B's. It is what is cut when
 * the dart is pinned shut, folded to the side it is pressed to, and its edge cut
 * along the line that runs on across it: next to the leg it is folded over, the neighbouring edge
 * mirrored in that leg; next to the other, that mirrored in the fold. Pressed open, each
 * half is its own neighbour mirrored. The cap is appended to the chain, on the piece as it lies; it may be
 * NULL. Legs count as straight from mouth to point; a
 * curved leg is off by what it stands from that near its mouth. FALSE where
 * the seam is no dart with a mouth, or has no intake. */
gboolean sewing_dart_cap (SewingFacts *facts, const Pattern *pattern,
                          const PatternSeam *seam, SewingDart *dart,
                          GeoChain *cap);
