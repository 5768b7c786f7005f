/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/chain.h"

#include "geometry/memory.h"

#include <string.h>

void
geo_chain_init (GeoChain *chain)
{
  *chain = GEO_CHAIN_EMPTY;
}

void
geo_chain_clear (GeoChain *chain)
{
  free (chain->cubics);
  *chain = GEO_CHAIN_EMPTY;
}

void
geo_chain_reset (GeoChain *chain)
{
  chain->count = 0;
}

static void
make_room (GeoChain *chain, size_t count)
{
  if (count <= chain->room)
    return;
  size_t room = chain->room ? chain->room * 2 : 8;
  if (room < count)
    room = count;
  chain->cubics = geo_realloc (chain->cubics, room, sizeof (GeoCubic));
  chain->room = room;
}

void
geo_chain_append (GeoChain *chain, GeoCubic cubic)
{
  make_room (chain, chain->count + 1);
  if (chain->count > 0)
    cubic.p[0] = chain->cubics[chain->count - 1].p[3];
  chain->cubics[chain->count++] = cubic;
}

void
geo_chain_append_chain (GeoChain *chain, const GeoChain *more)
{
  size_t count = more->count;
  make_room (chain, chain->count + count);
  for (size_t i = 0; i < count; i++)
    geo_chain_append (chain, more->cubics[i]);
}

void
geo_chain_append_line (GeoChain *chain, GeoPoint from, GeoPoint to)
{
  geo_chain_append (chain, geo_cubic_line (from, to));
}

void
geo_chain_copy (GeoChain *target, const GeoChain *source)
{
  if (target == source)
    return;
  target->count = 0;
  make_room (target, source->count);
  if (source->count > 0)
    memcpy (target->cubics, source->cubics, source->count * sizeof (GeoCubic));
  target->count = source->count;
}

void
geo_chain_reverse (GeoChain *chain)
{
  for (size_t i = 0, j = chain->count; i < j; i++)
    {
      j--;
      GeoCubic first = geo_cubic_reverse (&chain->cubics[i]);
      chain->cubics[i] = geo_cubic_reverse (&chain->cubics[j]);
      chain->cubics[j] = first;
    }
}

void
geo_chain_transform (GeoChain *chain, GeoMotion motion)
{
  for (size_t i = 0; i < chain->count; i++)
    chain->cubics[i] = geo_cubic_transform (&chain->cubics[i], motion);
}

size_t
geo_chain_insert_node (GeoChain *chain, GeoPlace place)
{
  if (place.cubic >= chain->count || place.t <= 0)
    return place.cubic < chain->count ? place.cubic : chain->count;
  if (place.t >= 1)
    return place.cubic + 1;
  GeoCubic before, after;
  geo_cubic_split (&chain->cubics[place.cubic], place.t, &before, &after);
  make_room (chain, chain->count + 1);
  GeoCubic *at = chain->cubics + place.cubic;
  memmove (at + 1, at, (chain->count - place.cubic) * sizeof (GeoCubic));
  at[0] = before;
  at[1] = after;
  chain->count++;
  return place.cubic + 1;
}

void
geo_chain_replace (GeoChain *chain, size_t first, size_t count,
                   const GeoChain *with)
{
  if (first > chain->count)
    first = chain->count;
  if (count > chain->count - first)
    count = chain->count - first;
  make_room (chain, chain->count - count + with->count);
  GeoCubic *at = chain->cubics + first;
  size_t rest = chain->count - first - count;
  if (rest > 0)
    memmove (at + with->count, at + count, rest * sizeof (GeoCubic));
  if (with->count > 0)
    memcpy (at, with->cubics, with->count * sizeof (GeoCubic));
  chain->count = first + with->count + rest;
  /* Only the two joints at the ends of what was put in can gape. */
  size_t joints[2] = { first, first + with->count };
  for (int i = 0; i < 2; i++)
    if (joints[i] > 0 && joints[i] < chain->count)
      chain->cubics[joints[i]].p[0] = chain->cubics[joints[i] - 1].p[3];
}

bool
geo_chain_is_closed (const GeoChain *chain)
{
  return chain->count > 0
         && geo_same (geo_chain_start (chain), geo_chain_end (chain));
}

GeoPoint
geo_chain_start (const GeoChain *chain)
{
  return chain->count > 0 ? chain->cubics[0].p[0] : geo_point (0, 0);
}

GeoPoint
geo_chain_end (const GeoChain *chain)
{
  return chain->count > 0 ? chain->cubics[chain->count - 1].p[3]
                          : geo_point (0, 0);
}

int
geo_place_compare (GeoPlace a, GeoPlace b)
{
  if (a.t >= 1)
    a = (GeoPlace){ a.cubic + 1, 0 };
  if (b.t >= 1)
    b = (GeoPlace){ b.cubic + 1, 0 };
  if (a.cubic != b.cubic)
    return a.cubic < b.cubic ? -1 : 1;
  return (a.t > b.t) - (a.t < b.t);
}

static const GeoCubic *
cubic_at (const GeoChain *chain, GeoPlace *place)
{
  if (place->cubic >= chain->count)
    *place = (GeoPlace){ chain->count - 1, 1 };
  return &chain->cubics[place->cubic];
}

GeoPoint
geo_chain_point (const GeoChain *chain, GeoPlace place)
{
  if (chain->count == 0)
    return geo_point (0, 0);
  const GeoCubic *c = cubic_at (chain, &place);
  return geo_cubic_point (c, place.t);
}

GeoPoint
geo_chain_tangent (const GeoChain *chain, GeoPlace place)
{
  if (chain->count == 0)
    return geo_point (0, 0);
  const GeoCubic *c = cubic_at (chain, &place);
  return geo_cubic_tangent (c, place.t);
}

double
geo_chain_curvature (const GeoChain *chain, GeoPlace place)
{
  if (chain->count == 0)
    return 0;
  const GeoCubic *c = cubic_at (chain, &place);
  return geo_cubic_curvature (c, place.t);
}

GeoBox
geo_chain_bounds (const GeoChain *chain)
{
  GeoBox box = geo_box_empty ();
  for (size_t i = 0; i < chain->count; i++)
    box = geo_box_join (box, geo_cubic_bounds (&chain->cubics[i]));
  return box;
}

double
geo_chain_turning (const GeoChain *chain)
{
  double turning = 0;
  GeoPoint before = geo_point (0, 0);
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      GeoPoint start = geo_cubic_tangent (c, 0);
      if (geo_same (start, geo_point (0, 0)))
        continue;
      turning += geo_angle_between (before, start) + geo_cubic_turning (c);
      before = geo_cubic_tangent (c, 1);
    }
  return turning;
}

void
geo_chain_slice (const GeoChain *chain, GeoPlace from, GeoPlace to,
                 GeoChain *part)
{
  size_t count = chain->count;
  if (count == 0)
    return;
  const GeoPlace end = { count - 1, 1 };
  if (geo_place_compare (from, end) > 0)
    from = end;
  if (geo_place_compare (to, end) > 0)
    to = end;
  size_t last = to.cubic;
  if (geo_place_compare (from, to) >= 0)
    {
      if (!geo_chain_is_closed (chain))
        return;
      last += count;
    }
  for (size_t i = from.cubic; i <= last; i++)
    {
      double t0 = i == from.cubic ? from.t : 0, t1 = i == last ? to.t : 1;
      if (t1 > t0)
        geo_chain_append (part,
                          geo_cubic_part (&chain->cubics[i % count], t0, t1));
    }
}

/* The largest curvature of the wanted sign in one cubic: it lies at an end, at
 * an extremum, or at a cusp. */
static double
sharpest (const GeoCubic *c, int sign, double *t)
{
  double places[9] = { 0, 1 }, sharp = 0;
  int count = 2, cusps;
  count += geo_cubic_curvature_extrema (c, places + count);
  cusps = geo_cubic_cusps (c, places + count);
  for (int i = 0; i < count + cusps; i++)
    {
      double k = geo_cubic_curvature (c, places[i]);
      double size = sign == 0 ? fabs (k) : sign > 0 ? k : -k;
      if (i >= count)
        size = INFINITY;
      if (size > sharp)
        {
          sharp = size;
          *t = places[i];
        }
    }
  return sharp;
}

double
geo_chain_tightest (const GeoChain *chain, int sign, GeoPlace *where)
{
  double sharp = 0;
  for (size_t i = 0; i < chain->count; i++)
    {
      double t = 0;
      double k = sharpest (&chain->cubics[i], sign, &t);
      if (k > sharp)
        {
          sharp = k;
          if (where)
            *where = (GeoPlace){ i, t };
        }
    }
  if (sharp >= 1e9)
    return 0;
  return sharp > 0 ? 1 / sharp : INFINITY;
}
