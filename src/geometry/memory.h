/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Storage for this layer: running out of it ends the program. */
#pragma once

#include <stdio.h>
#include <stdlib.h>

static inline void *
geo_realloc (void *old, size_t count, size_t size)
{
  void *room = realloc (old, count * size);
  if (!room && count * size > 0)
    {
      fputs ("out of memory\n", stderr);
      abort ();
    }
  return room;
}

/* Room for one more than count, doubling. */
static inline void *
geo_grow (void *old, size_t count, size_t *room, size_t size)
{
  if (count < *room)
    return old;
  *room = *room ? *room * 2 : 16;
  return geo_realloc (old, *room, size);
}
