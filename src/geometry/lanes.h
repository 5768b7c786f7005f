/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Eight numbers worked on as one, by the compilers' portable vector types.
 *
 * Where the processor has wide registers a function marked GEO_WIDE runs in a
 * version made for them, chosen when the program is loaded; every lane goes
 * through the same operations in the same order whichever it is, so that
 * results do not depend on the machine. GEO_NARROW leaves only the plain
 * version.
 */
#pragma once

#include <math.h>

#define GEO_LANES 8

typedef double GeoLanes __attribute__ ((vector_size (64)));
typedef long long GeoLanesMask __attribute__ ((vector_size (64)));

#define GEO_INLINE static inline __attribute__ ((always_inline))

#if defined(__x86_64__) && defined(__linux__) && defined(__GLIBC__)            \
    && !defined(GEO_NARROW) && !defined(__clang__)
#define GEO_WIDE __attribute__ ((target_clones ("avx512f", "avx2", "default")))
#define GEO_WIDE_CLONES 1
#else
#define GEO_WIDE
#define GEO_WIDE_CLONES 0
#endif

/* To be called on the way out of wide code: where the upper halves of the
 * registers are left in use, plain code after it runs at a third of its speed,
 * and the compiler has been seen to leave them. */
GEO_INLINE void
geo_wide_leave (void)
{
#if GEO_WIDE_CLONES
  if (__builtin_cpu_supports ("avx"))
    __asm__ volatile("vzeroupper");
#endif
}

/* Chosen lane by lane. */
#define GEO_LANES_PICK(which, yes, no)                                         \
  ((GeoLanes)(((GeoLanesMask)(yes) & (which))                                  \
              | ((GeoLanesMask)(no) & ~(which))))
#define GEO_LANES_MIN(a, b) GEO_LANES_PICK ((a) < (b), a, b)
#define GEO_LANES_MAX(a, b) GEO_LANES_PICK ((a) > (b), a, b)

/* Two in a row moved by one: the last of a and the first seven of b; the last
 * seven of a and the first of b. */
#define GEO_LANES_BEFORE(a, b)                                                 \
  __builtin_shufflevector (a, b, 7, 8, 9, 10, 11, 12, 13, 14)
#define GEO_LANES_AFTER(a, b)                                                  \
  __builtin_shufflevector (a, b, 1, 2, 3, 4, 5, 6, 7, 8)

/* By pointers: vectors given by value would depend on the processor. */
GEO_INLINE void
geo_lanes_sqrt (const GeoLanes *a, GeoLanes *root)
{
  for (int i = 0; i < GEO_LANES; i++)
    (*root)[i] = __builtin_sqrt ((*a)[i]);
}

/* The sums over the lanes of eight, in their order: neighbours are added, then
 * pairs, then fours. */
GEO_INLINE void
geo_lanes_sums (const GeoLanes v[8], GeoLanes *sums)
{
  GeoLanes pair[4], four[2];
  for (int i = 0; i < 4; i++)
    {
      GeoLanes a = v[2 * i], b = v[2 * i + 1];
      pair[i] = __builtin_shufflevector (a, b, 0, 8, 2, 10, 4, 12, 6, 14)
                + __builtin_shufflevector (a, b, 1, 9, 3, 11, 5, 13, 7, 15);
    }
  for (int i = 0; i < 2; i++)
    {
      GeoLanes a = pair[2 * i], b = pair[2 * i + 1];
      four[i] = __builtin_shufflevector (a, b, 0, 1, 8, 9, 4, 5, 12, 13)
                + __builtin_shufflevector (a, b, 2, 3, 10, 11, 6, 7, 14, 15);
    }
  *sums = __builtin_shufflevector (four[0], four[1], 0, 1, 2, 3, 8, 9, 10, 11)
          + __builtin_shufflevector (four[0], four[1], 4, 5, 6, 7, 12, 13, 14,
                                     15);
}

GEO_INLINE double
geo_lanes_most (const GeoLanes *lanes)
{
  GeoLanes a = *lanes;
  GeoLanes b = __builtin_shufflevector (a, a, 4, 5, 6, 7, 0, 1, 2, 3);
  a = GEO_LANES_MAX (a, b);
  b = __builtin_shufflevector (a, a, 2, 3, 0, 1, 6, 7, 4, 5);
  a = GEO_LANES_MAX (a, b);
  return a[0] > a[1] ? a[0] : a[1];
}
