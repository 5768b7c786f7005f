/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The geometry of collars: amounts and a neckline in, outlines out.
 *
 * The neckline runs from the centre back, where a collar has its fold, to the
 * front's end. Depths are measured square to it.
 */
#pragma once

#include "drafting/lay.h"
#include "drafting/shape.h"

/* --- flat collar ------------------------------------------------------------------ */

typedef struct
{
  double overlap;  /* of the shoulder tips */
  double shoulder; /* length it is measured at; 0: the shoulder's own */
  double depth_back, depth_front;
  /* The neck edge moved out of the garment (+) or into it (-); to nothing in between. */
  double raise_back, raise_shoulder, raise_front;
  double corner;  /* radius; 0: a point */
  double point;   /* the corner set forward, past the square */
  double ease;    /* how much longer the neckline is than the collar */
  gboolean whole; /* both ends are fronts, no centre back */
} DraftingCollarWish;

typedef struct
{
  double turned;      /* angle the front was swung by, in all */
  double turning;     /* of the neckline from the centre back to the shoulder */
  double shoulder;    /* length the overlap was measured at */
  double shoulder_at; /* on the finished neck edge, from its start */
  double neck;        /* length of the finished neck edge */
  double stand;       /* an estimate, mm */
} DraftingCollarFacts;

/* Edges: neck, end, tip (where it is rounded), outer, centre; for a whole one
 * other-tip and other-end in place of centre. less: smaller at the outer edges by that, at the neck
 * edge the same (an under collar). FALSE where the amounts can't be drawn. */
gboolean drafting_collar_shape (const DraftingLay *lay,
                                const DraftingCollarWish *wish, double less,
                                DraftingShape *shape,
                                DraftingCollarFacts *facts);
/* Which joint of the run is the shoulder; -1 for a run of one edge. For a whole collar the
 * first of the two. */
int drafting_collar_shoulder (const DraftingLay *lay, gboolean whole);
/* Longer by this on each side lies the outer of two layers that turn over through
 * half a turn, their middles a thickness apart. */
double drafting_turn_of_cloth (double thickness);
/* Angle that laps tips of a shoulder by an amount: 2 asin (d / 2 S). */
double drafting_overlap_angle (double overlap, double shoulder);

/* Rounds the corner at the end of an outer edge: that is cut short, and tip gets the arc from there to the
 * straight end that runs from the neck edge (from) to the corner. inside: the collar lies on the
 * left normal's side of a neck edge that runs along with it. FALSE where there is no room; outer and
 * tip are then as they were. */
gboolean drafting_collar_round (GeoChain *outer, GeoPoint from, double radius,
                                int inside, GeoChain *tip);

/* --- band and fall ------------------------------------------------------------------ */

typedef struct
{
  double neck;   /* length of the edge sewn to */
  double height; /* or depth */
  double
      bend; /* how much shorter the far edge is than the neck edge (-: longer) */
  double
      extension;  /* carried on past the front's end, at the neck edge's end */
  double corner;  /* radius at the front */
  double point;   /* far corner set forward; for falls */
  gboolean whole; /* no centre fold: as long as the neck, an end at each side */
} DraftingBandWish;

/* Edges: neck, (extension), end, tip, outer, centre. The neck edge is an arc of exactly the
 * length, the outer one its parallel. */
gboolean drafting_band_shape (const DraftingBandWish *wish,
                              DraftingShape *shape);
