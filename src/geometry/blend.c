/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The start is made of two cubics a side, or more where these leave jumps of
 * curvature: each side is cut evenly by its length, its nodes are kept where they are, all directions but those of the outer ends and of
 * the joint are the side's own, the joint takes the mean of both sides', and the handles
 * are a third of the way. What is then to be found is the fairest run
 * with the joint pinned, and that is geometry/fair.h's.
 */
#include "geometry/blend.h"

#include "geometry/fair.h"
#include "geometry/length.h"

/* Nearer than this the two meet, mm. */
#define MEETS 1e-6
/* A blend turns no more in all than this more than what it replaces. */
#define MORE_TURN 2.5
#define MOST_A_SIDE 4
/* A jump of curvature that may stay, as a share of the most bent place. */
#define JUMP 0.05

typedef struct
{
  GeoPoint at, way;
} Pin;

static Pin
pin_at (const GeoChain *chain, double length)
{
  GeoPlace place = geo_chain_at_length (chain, length, 1e-9);
  return (Pin){ geo_chain_point (chain, place),
                geo_chain_tangent (chain, place) };
}

static void
append_between (GeoChain *chain, Pin from, Pin to)
{
  double third = geo_distance (from.at, to.at) / 3;
  geo_chain_append (chain,
                    (GeoCubic){ { from.at, geo_along (from.at, from.way, third),
                                  geo_along (to.at, to.way, -third), to.at } });
}

static bool
start (const GeoChain *before, const GeoChain *after, size_t per_side,
       GeoChain *rough)
{
  double a = geo_chain_length (before, 1e-9);
  double b = geo_chain_length (after, 1e-9);
  if (!(a > 1e-6) || !(b > 1e-6)
      || geo_distance (geo_chain_end (before), geo_chain_start (after)) > MEETS)
    return false;
  Pin pins[2 * MOST_A_SIDE + 1];
  for (size_t i = 0; i <= per_side; i++)
    {
      double share = (double)i / (double)per_side;
      pins[i] = pin_at (before, a * share);
      if (i > 0)
        pins[per_side + i] = pin_at (after, b * share);
    }
  GeoPoint on = pin_at (after, 0).way;
  pins[per_side].way = geo_unit (geo_add (pins[per_side].way, on));
  pins[0].at = geo_chain_start (before);
  pins[per_side].at = geo_chain_end (before);
  pins[2 * per_side].at = geo_chain_end (after);
  geo_chain_reset (rough);
  for (size_t i = 0; i <= 2 * per_side; i++)
    if (pins[i].way.x == 0 && pins[i].way.y == 0)
      return false;
  for (size_t i = 0; i < 2 * per_side; i++)
    append_between (rough, pins[i], pins[i + 1]);
  return true;
}

/* The turning of the tangent, all of it counted positive. */
static double
turned (const GeoChain *chain)
{
  double sum = 0;
  for (size_t i = 0; i < chain->count; i++)
    {
      double t[2], from = 0;
      const GeoCubic *c = &chain->cubics[i];
      int n = geo_cubic_inflections (c, t);
      for (int k = 0; k <= n; k++)
        {
          double to = k < n ? t[k] : 1;
          GeoCubic part = geo_cubic_part (c, from, to);
          sum += fabs (geo_cubic_turning (&part));
          from = to;
        }
    }
  return sum;
}

/* The run neither loops nor swings. */
static bool
is_calm (const GeoChain *run, const GeoChain *before, const GeoChain *after)
{
  double corner = fabs (geo_angle_between (
      geo_chain_tangent (before, (GeoPlace){ before->count - 1, 1 }),
      geo_chain_tangent (after, (GeoPlace){ 0, 0 })));
  return turned (run)
         < MORE_TURN * (turned (before) + turned (after) + corner + 0.05);
}

/* The largest jump of curvature at a joint, as a share of the most bent place. */
static double
worst_jump (const GeoChain *run)
{
  double most = 0, jump = 0;
  for (size_t i = 0; i < run->count; i++)
    {
      double from = geo_cubic_curvature (&run->cubics[i], 0);
      double to = geo_cubic_curvature (&run->cubics[i], 1);
      most = fmax (most, fmax (fabs (from), fabs (to)));
      if (i + 1 < run->count)
        jump = fmax (jump,
                     fabs (geo_cubic_curvature (&run->cubics[i + 1], 0) - to));
    }
  return most > 1e-6 ? jump / most : 0;
}

/* The fairest run, of so many cubics a side. */
static bool
find_run (const GeoChain *before, const GeoChain *after, size_t per_side,
          GeoChain *fair)
{
  GeoChain rough = GEO_CHAIN_EMPTY;
  bool made = start (before, after, per_side, &rough);
  if (made)
    {
      /* As far as the whole is long: no bound but the pin. */
      GeoFairWish wish = geo_fair_wish (geo_chain_length (&rough, 1e-6));
      wish.corner = INFINITY;
      wish.start_curvature = geo_chain_curvature (before, (GeoPlace){ 0, 0 });
      wish.end_curvature
          = geo_chain_curvature (after, (GeoPlace){ after->count - 1, 1 });
      wish.pins = &per_side;
      wish.pin_count = 1;
      made = geo_chain_fair (&rough, &wish, fair)
             && is_calm (fair, before, after);
    }
  geo_chain_clear (&rough);
  return made;
}

bool
geo_blend (const GeoChain *before, const GeoChain *after, GeoChain *left,
           GeoChain *right)
{
  GeoChain best = GEO_CHAIN_EMPTY, fair = GEO_CHAIN_EMPTY;
  bool some = before->count > 0 && after->count > 0;
  for (size_t n = 2; some && n <= MOST_A_SIDE
                     && (best.count == 0 || worst_jump (&best) > JUMP);
       n++)
    if (find_run (before, after, n, &fair)
        && (best.count == 0 || worst_jump (&fair) < worst_jump (&best)))
      geo_chain_copy (&best, &fair);
  geo_chain_reset (left);
  geo_chain_reset (right);
  bool made = best.count > 0;
  for (size_t i = 0; i < best.count; i++)
    geo_chain_append (i < best.count / 2 ? left : right, best.cubics[i]);
  if (!made)
    {
      geo_chain_append_chain (left, before);
      geo_chain_append_chain (right, after);
    }
  geo_chain_clear (&best);
  geo_chain_clear (&fair);
  return made;
}
