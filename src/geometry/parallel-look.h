/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a fit keeps its distance between the feet too: the second part of
 * parallel-fit.c.
 *
 * Peaks of e are refined where feet are near each other and the parallel turns
 * evenly. Where they are not, where a step has a bend of its own, and where
 * the cubic goes far between two feet, the stretch is looked at again by eight
 * feet, and its parts so again.
 */
#pragma once

#include "geometry/parallel-feet.h"

/* More turning than this between two feet is not looked into: 0.55 radians. */
#define COS_BLIND 0.853
/* More than this (0.2 radians), or feet farther apart than this, are looked at
 * more closely; and so are their neighbours when above the lesser limits. */
#define COS_SHARP 0.98
#define SHARP_NEAR 0.12
#define WIDE_GAP 0.12
#define WIDE_GAP_NEAR 0.08
/* A peak of e is narrow where its bend from foot to foot is such a share of it,
 * and then is looked at from such a share of what is allowed. */
#define NARROW 0.7
#define LOW 0.4
/* A cubic that goes so far between two feet, however near they are, may go out
 * and back. */
#define LEAP 0.1
/* How many stretches are looked at for one between feet, and how short. */
#define PILE 24
#define SHORTEST 1e-7
/* Of eight feet and those before and after each: whether there is a peak of e
 * near most, or a narrow one of some height. */
GEO_INLINE bool
is_peak (const GeoLanes *before, const GeoLanes *here, const GeoLanes *after,
         double most)
{
  GeoLanes bb = *here * *here, a = *before * *here, c = *after * *here;
  GeoLanesMask high = bb > 0.7 * most * most;
  GeoLanesMask low = bb > LOW * LOW * most * most;
  GeoLanesMask narrow = a + c < (2 - NARROW) * bb;
  GeoLanesMask peak = (a <= bb) & (c <= bb) & (high | (narrow & low));
  GeoLanes any = GEO_LANES_PICK (peak, bb, bb - bb);
  return geo_lanes_most (&any) > 0;
}

GEO_INLINE bool
has_peak (const Fit *f, double most)
{
  GeoLanes e = f->feet[0].e, g = f->feet[1].e, zero = e - e;
  GeoLanes before = GEO_LANES_BEFORE (zero, e), after = GEO_LANES_AFTER (e, g);
  if (is_peak (&before, &e, &after, most))
    return true;
  before = GEO_LANES_BEFORE (e, g);
  after = GEO_LANES_AFTER (g, zero);
  return is_peak (&before, &g, &after, most);
}

/* The highest of the peaks of e that by their parabolas come near most, measured
 * where the parabolas put them; worst where there is none; INFINITY where the
 * feet are too few for parabolas to tell. */
GEO_INLINE double
highest_peak (const Fit *f, double worst, double most)
{
  double e[GEO_FEET + 2], u[GEO_FEET + 2], expected[GEO_LANES];
  Feet feet;
  int count = 0;
  if (!has_peak (f, most))
    return worst;
  lay_out (0, &f->feet[0].e, &f->feet[1].e, 0, e);
  lay_out (0, &f->feet[0].u, &f->feet[1].u, 1, u);
  for (int i = 1; i <= GEO_FEET; i++)
    {
      double b = fabs (e[i]), sign = e[i] < 0 ? -1 : 1;
      double a = sign * e[i - 1], c = sign * e[i + 1], bend = a - 2 * b + c;
      if (!(b >= a && b >= c && bend < 0))
        continue;
      double s = (a - c) / (2 * bend), top = parabola (e, i, s);
      if (fabs (top) < (bend < -NARROW * b ? LOW : 0.95) * most)
        continue;
      if (count == GEO_LANES || bend < -NARROW * b)
        return INFINITY;
      int at = s < 0 ? i - 1 : i;
      feet.x[count] = (i + s) / (GEO_FEET + 1);
      feet.u[count] = u[at] + (i + s - at) * (u[at + 1] - u[at]);
      expected[count++] = top;
    }
  if (count == 0)
    return worst;
  for (int i = count; i < GEO_LANES; i++)
    {
      feet.x[i] = feet.x[0];
      feet.u[i] = feet.u[0];
      expected[i] = expected[0];
    }
  sample_feet (f, &feet);
  for (int i = 0; i < 2; i++)
    {
      measure (f, &feet);
      move (0, 0, &feet);
    }
  measure (f, &feet);
  for (int i = 0; i < GEO_LANES; i++)
    {
      double off = fabs (feet.e[i] - expected[i]);
      if (!(off < 0.03 * most))
        return INFINITY;
      worst = geo_most (worst, fabs (feet.e[i]) + off);
    }
  return worst;
}

/* From foot to foot: how far u goes, and the sine of the turning; the last
 * step apart. */
typedef struct
{
  GeoLanes u[2], turn[2];
  double last_u, last_turn;
  double least, widest; /* of the steps of u */
  double cosine;        /* least of the turning */
  double jump;          /* see jump_of */
} Gaps;

/* By how much the turning of a step stands out from those on both sides, beyond
 * a quarter of all three: a bend that one step has to itself. */
GEO_INLINE double
jump_of (double before, double here, double after)
{
  double all = fabs (before) + fabs (here) + fabs (after);
  return fabs (before - 2 * here + after) - 0.25 * all;
}

/* The largest of eight. */
GEO_INLINE double
jump_in (const GeoLanes *before, const GeoLanes *here, const GeoLanes *after)
{
  GeoLanes p = *before, q = *here, r = *after, s = p - 2 * q + r;
  p = GEO_LANES_MAX (p, -p);
  q = GEO_LANES_MAX (q, -q);
  r = GEO_LANES_MAX (r, -r);
  s = GEO_LANES_MAX (s, -s);
  s -= 0.25 * (p + q + r);
  return geo_lanes_most (&s);
}

GEO_INLINE void
find_jump (Gaps *gaps)
{
  GeoLanes a = gaps->turn[0], b = gaps->turn[1], zero = a - a;
  /* The first step has none before it: what goes on evenly is put there. */
  GeoLanes first = zero + (2 * a[0] - a[1]), last = zero + gaps->last_turn;
  GeoLanes before = GEO_LANES_BEFORE (first, a), after = GEO_LANES_AFTER (a, b);
  gaps->jump = jump_in (&before, &a, &after);
  before = GEO_LANES_BEFORE (a, b);
  after = GEO_LANES_AFTER (b, last);
  gaps->jump = geo_most (gaps->jump, jump_in (&before, &b, &after));
}

GEO_INLINE void
find_gaps (const Fit *f, Gaps *gaps)
{
  const Feet *a = &f->feet[0], *b = &f->feet[1];
  GeoLanes zero = a->u - a->u, x0 = zero + f->u0.x, y0 = zero + f->u0.y;
  GeoLanes u0 = a->u - GEO_LANES_BEFORE (zero, a->u);
  GeoLanes u1 = b->u - GEO_LANES_BEFORE (a->u, b->u);
  GeoLanes px = GEO_LANES_BEFORE (x0, a->tx), py = GEO_LANES_BEFORE (y0, a->ty);
  GeoLanes qx = GEO_LANES_BEFORE (a->tx, b->tx);
  GeoLanes qy = GEO_LANES_BEFORE (a->ty, b->ty);
  GeoLanes c0 = px * a->tx + py * a->ty, c1 = qx * b->tx + qy * b->ty;
  gaps->u[0] = u0;
  gaps->u[1] = u1;
  gaps->turn[0] = px * a->ty - py * a->tx;
  gaps->turn[1] = qx * b->ty - qy * b->tx;
  GeoPoint end = geo_point (b->tx[GEO_LANES - 1], b->ty[GEO_LANES - 1]);
  gaps->last_u = 1 - b->u[GEO_LANES - 1];
  gaps->last_turn = geo_cross (end, f->u1);
  GeoLanes lo = -GEO_LANES_MIN (u0, u1), hi = GEO_LANES_MAX (u0, u1);
  GeoLanes cosine = -GEO_LANES_MIN (c0, c1);
  gaps->least = geo_least (-geo_lanes_most (&lo), gaps->last_u);
  gaps->widest = geo_most (geo_lanes_most (&hi), gaps->last_u);
  gaps->cosine = geo_least (-geo_lanes_most (&cosine), geo_dot (end, f->u1));
  find_jump (gaps);
}

/* Whether a bend between two feet, step of u apart, of such a turning more than
 * next to it, could make a difference: the arrow of an arc. */
GEO_INLINE bool
is_jumpy (const Fit *f, double jump, double step)
{
  return jump * f->chord * step > 0.2 * f->tolerance;
}

/* A stretch between two feet; what is known at them. */
typedef struct
{
  double x, dx, u[2], e[2];
  GeoPoint t[2]; /* tangents */
} Between;

/* The same at eight feet in between and both ends. */
typedef struct
{
  double u[GEO_LANES + 2], e[GEO_LANES + 2];
  GeoPoint t[GEO_LANES + 2];
} Look;

GEO_INLINE double
look_at (const Fit *f, const Between *at, Look *look)
{
  static const GeoLanes ramp = { 1, 2, 3, 4, 5, 6, 7, 8 };
  Feet feet;
  feet.x = at->x + ramp * (at->dx / (GEO_LANES + 1));
  feet.u = at->u[0] + ramp * ((at->u[1] - at->u[0]) / (GEO_LANES + 1));
  sample_feet (f, &feet);
  for (int i = 0; i < 3; i++)
    {
      measure (f, &feet);
      move (0, 0, &feet);
    }
  measure (f, &feet);
  for (int i = 0; i < 2; i++)
    {
      look->u[i * (GEO_LANES + 1)] = at->u[i];
      look->e[i * (GEO_LANES + 1)] = at->e[i];
      look->t[i * (GEO_LANES + 1)] = at->t[i];
    }
  for (int i = 0; i < GEO_LANES; i++)
    {
      look->u[i + 1] = feet.u[i];
      look->e[i + 1] = feet.e[i];
      look->t[i + 1] = geo_point (feet.tx[i], feet.ty[i]);
    }
  GeoLanes r = feet.e * feet.e + feet.slip * feet.slip;
  return sqrt (geo_lanes_most (&r));
}

/* Those parts of the stretch that have a bend of their own, or that the cubic
 * leaps over, are put on the pile. */
GEO_INLINE bool
pile_up (const Fit *f, const Between *at, const Look *look, Between *pile,
         int *height)
{
  double turn[GEO_LANES + 1], dx = at->dx / (GEO_LANES + 1);
  const double *u = look->u, *e = look->e;
  const GeoPoint *t = look->t;
  for (int i = 0; i <= GEO_LANES; i++)
    {
      turn[i] = geo_cross (t[i], t[i + 1]);
      if (!(u[i + 1] > u[i] && geo_dot (t[i], t[i + 1]) > COS_BLIND))
        return false;
    }
  for (int i = 0; i <= GEO_LANES; i++)
    {
      int j = i < 1 ? 1 : i < GEO_LANES ? i : GEO_LANES - 1;
      double jump = jump_of (turn[j - 1], turn[j], turn[j + 1]);
      bool leap = u[i + 1] - u[i] > LEAP;
      if (!leap && (!is_jumpy (f, jump, u[i + 1] - u[i]) || dx < SHORTEST))
        continue;
      if (*height == PILE || dx < SHORTEST)
        return false;
      pile[(*height)++] = (Between){ at->x + dx * i,
                                     dx,
                                     { u[i], u[i + 1] },
                                     { e[i], e[i + 1] },
                                     { t[i], t[i + 1] } };
    }
  return true;
}

/* Largest distance there, the peaks of e by parabolas; INFINITY where the cubic
 * does not run on. */
GEO_INLINE double
look_between (const Fit *f, const Between *at, Between *pile, int *height)
{
  Look look;
  double worst = look_at (f, at, &look);
  if (!pile_up (f, at, &look, pile, height))
    return INFINITY;
  for (int i = 1; i <= GEO_LANES; i++)
    {
      double a = look.e[i - 1], b = look.e[i], c = look.e[i + 1];
      double bend = a - 2 * b + c, s = bend * b < 0 ? (a - c) / (2 * bend) : 0;
      if (fabs (s) < 1)
        worst = geo_most (worst, fabs (parabola (look.e, i, s)));
    }
  return worst;
}

/* The error between the feet where it must be looked for: where feet lie far
 * apart, the parallel turns much or with a jump, and near high places of e;
 * everywhere where all. */
GEO_INLINE double
look_closely (const Fit *f, const Gaps *gaps, bool all, double worst,
              double most)
{
  double e[GEO_FEET + 2], u[GEO_FEET + 2], tx[GEO_FEET + 2], ty[GEO_FEET + 2];
  double turn[GEO_FEET + 1], dx = 1.0 / (GEO_FEET + 1);
  const Feet *a = &f->feet[0], *b = &f->feet[1];
  bool doubt[GEO_FEET + 3] = { false };
  lay_out (0, &a->e, &b->e, 0, e);
  lay_out (0, &a->u, &b->u, 1, u);
  lay_out (f->u0.x, &a->tx, &b->tx, f->u1.x, tx);
  lay_out (f->u0.y, &a->ty, &b->ty, f->u1.y, ty);
  memcpy (turn, gaps->turn, sizeof gaps->turn);
  turn[GEO_FEET] = gaps->last_turn;
  for (int i = 0; i <= GEO_FEET; i++)
    {
      int j = i < 1 ? 1 : i < GEO_FEET ? i : GEO_FEET - 1;
      double step = u[i + 1] - u[i];
      double jump = jump_of (turn[j - 1], turn[j], turn[j + 1]);
      doubt[i + 1] = all || step > WIDE_GAP_NEAR || fabs (turn[i]) > SHARP_NEAR
                     || is_jumpy (f, jump, step);
    }
  for (int i = 0; i <= GEO_FEET; i++)
    {
      Between pile[PILE];
      int height = 0;
      double high = geo_most (fabs (e[i]), fabs (e[i + 1]));
      if (doubt[i] || doubt[i + 1] || doubt[i + 2] || high > LOW * most)
        pile[height++]
            = (Between){ dx * i,
                         dx,
                         { u[i], u[i + 1] },
                         { e[i], e[i + 1] },
                         { { tx[i], ty[i] }, { tx[i + 1], ty[i + 1] } } };
      while (height > 0 && worst <= most)
        {
          Between at = pile[--height];
          worst = geo_most (worst, look_between (f, &at, pile, &height));
        }
    }
  return worst;
}

/* The error between the feet too, which at them is worst: a larger number where
 * it is found to be above most; INFINITY where it cannot be told. */
GEO_INLINE double
verify (const Fit *f, double worst, double most, bool brief)
{
  Gaps gaps;
  find_gaps (f, &gaps);
  if (!(gaps.least > 0 && gaps.cosine > COS_BLIND))
    return 4 * f->tolerance;
  bool even = gaps.widest < WIDE_GAP && gaps.cosine > COS_SHARP
              && !is_jumpy (f, gaps.jump, gaps.widest);
  if (!even)
    return look_closely (f, &gaps, false, worst, most);
  double error = highest_peak (f, worst, most);
  if (error < INFINITY)
    return error;
  return brief ? 1.5 * f->tolerance
               : look_closely (f, &gaps, true, worst, most);
}
