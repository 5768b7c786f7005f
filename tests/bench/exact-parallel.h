/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The exact parallel of a cubic by its definition, P + d N, and how far a chain
 * lies from it, both ways, each peak refined by golden section. None of the
 * code that is measured is used here. For regular parallels only.
 */
#pragma once

#include "geometry/chain.h"

#define EXACT_POINTS 512

typedef struct
{
  const GeoCubic *c;
  double d;
  GeoPoint at[EXACT_POINTS + 1];
} ExactParallel;

void exact_parallel_init (ExactParallel *exact, const GeoCubic *c, double d);
GeoPoint exact_parallel_point (const ExactParallel *exact, double t);
/* The larger of: the farthest any point of chain is from the parallel, and the
 * farthest any point of the parallel is from chain. */
double exact_parallel_error (const ExactParallel *exact, const GeoChain *chain);
