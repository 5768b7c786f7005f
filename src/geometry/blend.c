/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The start is made of four cubics: each side is cut in half by its length, its
 * nodes are kept where they are, all directions but those of the outer ends and of
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
start (const GeoChain *before, const GeoChain *after, GeoChain *rough)
{
  double a = geo_chain_length (before, 1e-9);
  double b = geo_chain_length (after, 1e-9);
  if (!(a > 1e-6) || !(b > 1e-6)
      || geo_distance (geo_chain_end (before), geo_chain_start (after)) > MEETS)
    return false;
  Pin pins[5]
      = { pin_at (before, 0), pin_at (before, a / 2), pin_at (before, a),
          pin_at (after, b / 2), pin_at (after, b) };
  GeoPoint on = pin_at (after, 0).way;
  pins[2].way = geo_unit (geo_add (pins[2].way, on));
  for (int i = 0; i < 5; i++)
    if (pins[i].way.x == 0 && pins[i].way.y == 0)
      return false;
  for (int i = 0; i < 4; i++)
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

bool
geo_blend (const GeoChain *before, const GeoChain *after, GeoChain *left,
           GeoChain *right)
{
  static const size_t joint = 2;
  GeoChain rough = GEO_CHAIN_EMPTY, fair = GEO_CHAIN_EMPTY;
  bool made
      = before->count > 0 && after->count > 0 && start (before, after, &rough);
  if (made)
    {
      /* As far as the whole is long: no bound but the pin. */
      GeoFairWish wish = geo_fair_wish (geo_chain_length (&rough, 1e-6));
      wish.corner = INFINITY;
      wish.start_curvature = geo_chain_curvature (before, (GeoPlace){ 0, 0 });
      wish.end_curvature
          = geo_chain_curvature (after, (GeoPlace){ after->count - 1, 1 });
      wish.pins = &joint;
      wish.pin_count = 1;
      made = geo_chain_fair (&rough, &wish, &fair)
             && is_calm (&fair, before, after);
    }
  geo_chain_reset (left);
  geo_chain_reset (right);
  if (made)
    for (size_t i = 0; i < fair.count; i++)
      geo_chain_append (i < joint ? left : right, fair.cubics[i]);
  else
    {
      geo_chain_append_chain (left, before);
      geo_chain_append_chain (right, after);
    }
  geo_chain_clear (&rough);
  geo_chain_clear (&fair);
  return made;
}
