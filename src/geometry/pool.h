/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Storage taken piece by piece and given back all at once. */
#pragma once

#include <stddef.h>

typedef struct GeoPoolBlock GeoPoolBlock;

typedef struct {
  GeoPoolBlock *last;
  size_t used, room; /* of its bytes */
} GeoPool;

#define GEO_POOL_EMPTY ((GeoPool){ NULL, 0, 0 })

/* For any kind of value but the widest vectors; lives until the pool is cleared. */
void *geo_pool_take (GeoPool *pool, size_t count, size_t size);
void geo_pool_clear (GeoPool *pool);
