/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The joint at a seam's end, seen as sewn: the two pieces laid together by the walk's motion,
 * and the edge that runs on across them. */
#pragma once

#include "sewing/facts.h"

typedef struct
{
  guint a_piece, a_edge; /* the edge beside the seam's end on side A */
  guint b_piece, b_edge;
  GeoPoint at;      /* the seam's end on side A's piece */
  double angle;     /* between the two edges as sewn; pi is true */
  GeoMotion motion; /* lays B's piece on A's */
  gboolean
      runs_on; /* the two edges are one line of the garment: both hems, or both in
                            one other seam's side, or both by the same name */
} SewingJoint;

/* end: 0 the seam's start, 1 its end. FALSE where a side has nothing there. */
gboolean sewing_seam_joint (SewingFacts *facts, const Pattern *pattern,
                            const PatternSeam *seam, int end,
                            SewingJoint *joint);
/* Angle of the cloth at the corner where the edge starts, in [0, 2 pi). FALSE where
 * one of the two edges has no direction there. */
gboolean sewing_corner_inside (const SewingPiece *piece, guint corner,
                               double *angle);
