/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting a traced piece right: lines that were meant straight made straight, a fold left squarely by the
 * lines that meet it, the piece stood upright. In the manner of edit.h.
 */
#pragma once

#include "drafting/edit.h"

typedef enum
{
  DRAFTING_STRAIGHT_ENDS, /* the line between the edge's ends, which stay */
  DRAFTING_STRAIGHT_MEAN, /* the line that lies in the edge's middle, by least squares of the
                             distances from it; its ends move square to the line */
} DraftingStraight;

/* All of an edge becomes one straight line; nodes inside it go, notches keep their shares of its length. Smooth
 * nodes at its ends turn their other handle along. Refused where some place of the edge lies farther than
 * within (mm) from that line: what was drawn as a curve is not straightened by
 * mistake. off (may be NULL) gets the farthest. */
Pattern *drafting_straighten_edge (const Pattern *p, guint piece, guint edge,
                                   DraftingStraight how, double within,
                                   double *off, GError **error);
/* Both lines that meet a fold are made to leave it at 90 degrees, over a reach along each, mm, or over half of one
 * that is too short for it. fold is an edge laid on the fold. */
Pattern *drafting_square_fold (const Pattern *p, guint piece, guint fold,
                               double reach, GError **error);
/* The piece is turned about its middle, the shorter way, until an edge's line between its ends is upright; edge 0: its
 * fold, or else its grainline. */
Pattern *drafting_stand_upright (const Pattern *p, guint piece, guint edge,
                                 GError **error);
