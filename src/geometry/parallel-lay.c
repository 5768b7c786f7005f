/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The error of a fit goes as the sixth power of its stretch, so that
 * w = (error / tolerance)^(1/6) grows about evenly with it: the sum of w over
 * n pieces is about what one piece would have, and n pieces do where their
 * breaks can be put so that every w is at most 1.
 *
 * A longer stretch around another never has the lesser error. Hence, whatever
 * the breaks, n pieces that all hold are an answer, and where none holds n are
 * too few: breaks need to be evened out only until the one or the other is the
 * case. One more piece is taken, or one less where the sum leaves hope, until
 * n do and n - 1 do not.
 */
#include "geometry/parallel-lay.h"

#include <stdint.h>
#include <string.h>

#define MOST 32
/* Up to here every number of pieces is tried. */
#define EVERY 8

typedef struct
{
  int n;
  GeoParallelSample s[MOST + 1];
  GeoParallelFit fit[MOST];
  bool known[MOST];
  double w[MOST]; /* sixth root of error / tolerance */
} Breaks;

typedef struct
{
  const GeoParallelSource *source;
  double tolerance;
  bool quality;
} Lay;

/* Within a thousandth, for numbers that are neither 0 nor near the ends of what
 * there is: a sixth of the exponent, then Newton's method. */
static double
sixth_root (double a)
{
  int64_t bits;
  double r;
  memcpy (&bits, &a, sizeof bits);
  bits = bits / 6 + (int64_t)(0x3ff0000000000000 / 6 * 5);
  memcpy (&r, &bits, sizeof r);
  for (int i = 0; i < 2; i++)
    {
      double rr = r * r;
      r = (5 * r + a / (rr * rr * r)) / 6;
    }
  return r;
}

/* The slope at an end from those of the first two stretches, kept to where the
 * cubic does not turn back. */
static double
end_slope (double w, double rate, double next_w, double next_rate)
{
  double slope = ((2 * w + next_w) * rate - w * next_rate) / (w + next_w);
  return geo_least (geo_most (slope, 0.1 * rate), 2.9 * rate);
}

/* dt/dw at the breaks; sum is the running sum of w. */
static void
find_slopes (const Breaks *b, double *sum, double *slope)
{
  double rate[MOST] = { 0 };
  const double *w = b->w;
  int n = b->n;
  sum[0] = 0;
  for (int i = 0; i < n; i++)
    {
      sum[i + 1] = sum[i] + w[i];
      rate[i] = (b->s[i + 1].t - b->s[i].t) / w[i];
    }
  slope[0] = n > 1 ? end_slope (w[0], rate[0], w[1], rate[1]) : rate[0];
  for (int i = 1; i < n; i++)
    slope[i] = 3 * (w[i - 1] + w[i])
               / ((2 * w[i] + w[i - 1]) / rate[i - 1]
                  + (w[i] + 2 * w[i - 1]) / rate[i]);
  slope[n] = n > 1 ? end_slope (w[n - 1], rate[n - 1], w[n - 2], rate[n - 2])
                   : rate[0];
}

/* The places of n - 1 breaks that would give every piece the same w: t as a
 * function of the sum of w, by a monotone cubic through the old breaks (the
 * slopes are Fritsch and Butland's). */
static void
share_out (const Breaks *old, int n, double *t)
{
  double sum[MOST + 1], slope[MOST + 1];
  find_slopes (old, sum, slope);
  int at = 0;
  for (int i = 1; i < n; i++)
    {
      double want = sum[old->n] * i / n;
      while (at < old->n - 1 && sum[at + 1] < want)
        at++;
      double h = old->w[at], x = (want - sum[at]) / h, y = 1 - x;
      double t0 = old->s[at].t, t1 = old->s[at + 1].t;
      t[i] = y * y * (1 + 2 * x) * t0 + x * x * (1 + 2 * y) * t1
             + x * y * h * (y * slope[at] - x * slope[at + 1]);
    }
}

static void
place (const Lay *lay, Breaks *b, int n, const double *t)
{
  b->s[n] = b->s[b->n];
  for (int i = 1; i < n; i++)
    b->s[i] = geo_parallel_sample (lay->source, t[i]);
  memset (b->known, 0, sizeof b->known);
  b->n = n;
}

static void
weigh (const Lay *lay, Breaks *b, int i)
{
  double e = b->fit[i].error / lay->tolerance;
  b->w[i] = isfinite (e) ? sixth_root (geo_least (geo_most (e, 1e-6), 1e9)) : 4;
}

/* How many pieces hold. */
static int
fit_pieces (const Lay *lay, Breaks *b)
{
  int held = 0;
  for (int i = 0; i < b->n; i++)
    {
      if (!b->known[i])
        {
          geo_parallel_fit (lay->source, &b->s[i], &b->s[i + 1], lay->tolerance,
                            lay->quality ? GEO_PARALLEL_WEIGHED
                                         : GEO_PARALLEL_BRIEF,
                            &b->fit[i], NULL);
          weigh (lay, b, i);
        }
      b->known[i] = true;
      held += b->fit[i].holds;
    }
  return held;
}

static double
sum_of (const double *w, int n)
{
  double sum = 0;
  for (int i = 0; i < n; i++)
    sum += w[i];
  return sum;
}

/* With two pieces the break is between those seen to be too early and too late,
 * and the last two places tell where w would be even. */
typedef struct
{
  double low, high, before_t, before_f;
  bool any;
} Search;

static double
next_break (Search *search, const Breaks *b, double guess)
{
  double f = b->w[0] - b->w[1], at = b->s[1].t;
  if (f < 0)
    search->low = at;
  else
    search->high = at;
  if (search->any && f != search->before_f)
    guess = at - f * (at - search->before_t) / (f - search->before_f);
  search->before_t = at;
  search->before_f = f;
  search->any = true;
  return guess > search->low && guess < search->high
             ? guess
             : (search->low + search->high) / 2;
}

/* Whether so many pieces do: breaks are moved until all hold or none. */
static bool
try_count (const Lay *lay, Breaks *b)
{
  Search search = { .low = b->s[0].t, .high = b->s[b->n].t };
  int rounds = lay->quality ? 7 : 2;
  for (int round = 0;; round++)
    {
      int held = fit_pieces (lay, b);
      double t[MOST + 1];
      if (held == b->n)
        return true;
      if (held == 0 || round >= rounds
          || (round >= 1 && sum_of (b->w, b->n) > 1.05 * b->n))
        return false;
      share_out (b, b->n, t);
      if (b->n == 2)
        t[1] = next_break (&search, b, t[1]);
      place (lay, b, b->n, t);
    }
}

/* As seen over tests/data/pattern-curves.txt: w of the whole up to 1.85 asks
 * for two, and three quarters more for each one more; in fast mode two are not
 * tried for so long. */
static int
first_count (const Lay *lay, double w)
{
  double n = lay->quality ? (w - 1.1) / 0.75 : (w - 0.9) / 0.83;
  return (int)geo_least (geo_most (2, floor (2 + n)), MOST);
}

static void
share_first (const Breaks *b, const GeoParallelTrace *trace, int n, double *t)
{
  const double *past = trace->past;
  int at = 0;
  for (int i = 1; i < n; i++)
    {
      double want = past[GEO_PARALLEL_TRACE - 1] * i / n;
      while (past[at + 1] < want)
        at++;
      double x = (at + (want - past[at]) / (past[at + 1] - past[at]))
                 / (GEO_PARALLEL_TRACE - 1);
      t[i] = b->s[0].t + x * (b->s[1].t - b->s[0].t);
    }
}

/* More than one. */
static bool
lay_pieces (const Lay *lay, const GeoParallelSample ends[2],
            const GeoParallelFit *whole, const GeoParallelTrace *trace,
            Breaks *good)
{
  Breaks b;
  double t[MOST + 1];
  int least = 2;
  b.n = 1;
  b.s[0] = ends[0];
  b.s[1] = ends[1];
  b.fit[0] = *whole;
  weigh (lay, &b, 0);
  int n = first_count (lay, isfinite (whole->error) ? b.w[0] : 1.5);
  share_first (&b, trace, n, t);
  place (lay, &b, n, t);
  good->n = 0;
  for (;;)
    {
      if (try_count (lay, &b))
        {
          *good = b;
          n = b.n - 1;
          if (n < least || sum_of (b.w, b.n) > 1.02 * n || !lay->quality)
            return true;
        }
      else
        {
          least = b.n + 1;
          if (good->n)
            return true;
          n = b.n + 1;
          if (n > EVERY)
            n = (int)geo_most (n, ceil (0.95 * sum_of (b.w, b.n)));
          if (n > MOST)
            return false;
        }
      share_out (&b, n, t);
      place (lay, &b, n, t);
    }
}

bool
geo_parallel_lay (const GeoParallelSource *source, double t0, double t1,
                  double tolerance, GeoParallelMode mode, GeoChain *out)
{
  Lay lay = { source, tolerance, mode == GEO_PARALLEL_QUALITY };
  GeoParallelSample ends[2]
      = { geo_parallel_sample (source, t0), geo_parallel_sample (source, t1) };
  GeoParallelFit whole;
  GeoParallelTrace trace;
  geo_parallel_fit (source, &ends[0], &ends[1], tolerance,
                    lay.quality ? GEO_PARALLEL_THOROUGH : GEO_PARALLEL_BRIEF,
                    &whole, &trace);
  if (whole.holds)
    {
      geo_chain_append (out,
                        geo_parallel_fit_cubic (&ends[0], &ends[1], &whole));
      return true;
    }
  Breaks good;
  if (!lay_pieces (&lay, ends, &whole, &trace, &good))
    return false;
  for (int i = 0; i < good.n; i++)
    geo_chain_append (
        out, geo_parallel_fit_cubic (&good.s[i], &good.s[i + 1], &good.fit[i]));
  return true;
}

void
geo_parallel_lay_one (const GeoParallelSource *source, double t0, double t1,
                      double tolerance, GeoChain *out)
{
  GeoParallelSample from = geo_parallel_sample (source, t0);
  GeoParallelSample to = geo_parallel_sample (source, t1);
  GeoParallelFit fit;
  geo_parallel_fit (source, &from, &to, tolerance, GEO_PARALLEL_THOROUGH, &fit,
                    NULL);
  geo_chain_append (out, geo_parallel_fit_cubic (&from, &to, &fit));
}
