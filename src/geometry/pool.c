/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/pool.h"

#include "geometry/memory.h"

#define LEAST 16384 /* bytes in a block */
#define ALIGNED 16

struct GeoPoolBlock
{
  _Alignas(ALIGNED) GeoPoolBlock *before;
};

void *
geo_pool_take (GeoPool *pool, size_t count, size_t size)
{
  size_t bytes = (count * size + ALIGNED - 1) / ALIGNED * ALIGNED;
  if (!pool->last || bytes > pool->room - pool->used)
    {
      size_t room = bytes > LEAST ? bytes : LEAST;
      GeoPoolBlock *block = geo_realloc (NULL, 1, sizeof *block + room);
      block->before = pool->last;
      *pool = (GeoPool){ block, 0, room };
    }
  char *start = (char *)(pool->last + 1) + pool->used;
  pool->used += bytes;
  return start;
}

void
geo_pool_clear (GeoPool *pool)
{
  while (pool->last)
    {
      GeoPoolBlock *block = pool->last;
      pool->last = block->before;
      free (block);
    }
  *pool = GEO_POOL_EMPTY;
}
