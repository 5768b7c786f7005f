/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves made fair: the least uneven change of curvature within reach. */
#pragma once

#include "geometry/chain.h"

typedef struct
{
  double within;    /* farthest any place may move, mm */
  double corner;    /* joints that turn more than this, radians, stay corners */
  bool keep_length; /* of the whole stretch between two corners */
  /* Curvature to arrive at in the ends, 1/mm: a neighbour's. NAN for any. */
  double start_curvature, end_curvature;
  /* Joints that keep their place, each told by the cubic that starts there,
   * ascending; their directions are free. NULL for none. */
  const size_t *pins;
  size_t pin_count;
} GeoFairWish;

/* Within 'within', corners at 0.35 radians, length and curvatures free. */
GeoFairWish geo_fair_wish (double within);

/* The integral of (dk/ds)^2 ds over the cubics, 1/mm^3, with the jump of
 * curvature j at each smooth joint counted as if it were spread over a
 * fiftieth of the shorter neighbour, j^2 / (l / 50). corner as above. 0 where
 * all is straight or round. Large, but finite, at cusps. */
double geo_chain_roughness (const GeoChain *chain, double corner);

/* Moves the nodes and handles of a chain so that its roughness is the least that
 * is found within the distance asked for, measured both ways round. Ends and
 * the directions there stay, so do corners and the directions at them; a closed
 * chain without corners moves as a whole. Joints come out smooth, and of one
 * curvature as nearly as that serves. With keep_length the length of each
 * stretch between corners comes out as it was, to 1e-6 mm. There are as many
 * cubics as before. fair is another chain; what it held is replaced. False, with
 * a copy of the chain, where no stretch could be bettered (its cusps, loops or
 * collapsed handles may forbid it, or the wishes together).
 *
 * After H. P. Moreton, C. H. Sequin, "Functional optimization for fair surface
 * design", SIGGRAPH 1992, for what is minimised. */
bool geo_chain_fair (const GeoChain *chain, const GeoFairWish *wish,
                     GeoChain *fair);
