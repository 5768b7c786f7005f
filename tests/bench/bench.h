/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the benchmarks share: a clock, and a line that sets a result beside its
 * goal. They judge nothing: a slow machine fails no test. */
#pragma once

#include <stdio.h>
#include <time.h>

/* Seconds this thread has run. */
static inline double
bench_seconds (void)
{
  struct timespec ts;
  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &ts);
  return (double)ts.tv_sec + 1e-9 * (double)ts.tv_nsec;
}

static inline void
bench_line (const char *what, double result, double goal)
{
  printf ("%-58s %10.4g   goal <= %-8.3g %s\n", what, result, goal,
          result <= goal ? "met" : "SHORT");
}
