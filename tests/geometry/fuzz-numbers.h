/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers made of a fuzzer's bytes: places on a grid, steps from the last place,
 * the last place again, and places a hair away, so that what breaks curves comes
 * often. */
#pragma once

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include "geometry/point.h"

#define assert_that(what)                                                      \
  do                                                                           \
    if (!(what))                                                               \
      {                                                                        \
        fprintf (stderr, "%s:%d: not so: %s\n", __FILE__, __LINE__, #what);    \
        abort ();                                                              \
      }                                                                        \
  while (0)

typedef struct
{
  const uint8_t *data;
  size_t size;
} FuzzNumbers;

static inline unsigned
fuzz_byte (FuzzNumbers *in)
{
  if (in->size == 0)
    return 0;
  in->size--;
  return *in->data++;
}

/* -1 to 1 */
static inline double
fuzz_share (FuzzNumbers *in)
{
  unsigned high = fuzz_byte (in), low = fuzz_byte (in);
  return ((double)(high * 256 + low) - 32768) / 32768;
}

static inline GeoPoint
fuzz_point (FuzzNumbers *in, GeoPoint last)
{
  unsigned kind = fuzz_byte (in);
  if (kind % 8 == 0)
    return last;
  if (kind % 8 < 4)
    {
      double x = (double)fuzz_byte (in) - 128, y = (double)fuzz_byte (in) - 128;
      return geo_point (2 * x, 2 * y);
    }
  double x = fuzz_share (in), y = fuzz_share (in);
  if (kind % 8 < 7)
    return geo_point (300 * x, 300 * y);
  double reach = pow (10, -(double)(kind / 8 % 12));
  return geo_point (last.x + 30 * reach * x, last.y + 30 * reach * y);
}
