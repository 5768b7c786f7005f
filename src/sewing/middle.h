/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A place well inside an outline, for its name. */
#pragma once

#include "geometry/chain.h"

/* A point of the inside that is nearly as far from the outline as any can be:
 * within 4 % of the narrower extent of the bounds (the pole of
 * inaccessibility, by halving cells as long as one could hold a better
 * point). Where the outline has no inside, the centre of its bounds. */
GeoPoint sewing_middle (const GeoChain *outline);
