/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far apart two chains run. */
#pragma once

#include "geometry/chain.h"

/* The largest distance of any point of either chain from the other, in mm, for
 * chains that run along each other from end to end. Feet are followed and each
 * peak refined; where the chains do not run side by side (a loop, a fold, a
 * corner on one only) it is measured by geo_chain_stray both ways round
 * instead, some hundred times as slowly. Never less than it is, but for what
 * hides between samples (a few parts in a thousand); more where a foot that was
 * followed is not the nearest place, as on the inside of a tight bend. 0 where both are empty, INFINITY where
 * one is. */
double geo_chain_apart (const GeoChain *a, const GeoChain *b);
