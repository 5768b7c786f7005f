/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/crossing.h"

#include "geometry/crossing-hunt.h"
#include "geometry/crossing-pair.h"
#include "geometry/memory.h"

#include <stdlib.h>

void
geo_crossings_init (GeoCrossings *list)
{
  *list = (GeoCrossings){ NULL, 0, 0 };
}

void
geo_crossings_clear (GeoCrossings *list)
{
  free (list->items);
  geo_crossings_init (list);
}

void
geo_crossings_append (GeoCrossings *list, GeoCrossing crossing)
{
  list->items
      = geo_grow (list->items, list->count, &list->room, sizeof *list->items);
  list->items[list->count++] = crossing;
}

void
geo_cubic_crossings (const GeoCubic *a, const GeoCubic *b, GeoCrossings *list)
{
  geo_crossing_pair (a, b, GEO_JOINED_NOT, list);
}

/* Newton on P (t0) = P (t1): where the cubic is all but a folded line, A x B is all but
 * 0 and the closed form far off. False if the two places stay apart. */
static bool
close_loop (const GeoCubic *c, double *t0, double *t1)
{
  double off = INFINITY;
  for (int step = 0; step < 6 && off > 1e-11; step++)
    {
      GeoPoint gap
          = geo_sub (geo_cubic_point (c, *t1), geo_cubic_point (c, *t0));
      GeoPoint v0 = geo_cubic_velocity (c, *t0);
      GeoPoint v1 = geo_cubic_velocity (c, *t1);
      double det = geo_cross (v0, v1);
      off = geo_norm (gap);
      if (off <= 1e-11 || det == 0)
        break;
      *t0 += geo_cross (gap, v1) / det;
      *t1 += geo_cross (gap, v0) / det;
    }
  return geo_distance (geo_cubic_point (c, *t0), geo_cubic_point (c, *t1))
         <= fmax (GEO_CONTACT_TOLERANCE, geo_crossing_rounding (c, c));
}

/* With P = A t^3 + B t^2 + C t + D, P (t0) = P (t1) divided by t0 - t1 is
 * A (s^2 - p) + B s + C = 0 for the sum s and product p of the two. Crossed with
 * A and with B:
 *   s = -(A x C) / (A x B),  s^2 - p = (B x C) / (A x B). */
bool
geo_cubic_self_crossing (const GeoCubic *c, double *t0, double *t1)
{
  GeoPoint d0 = geo_sub (c->p[1], c->p[0]), d1 = geo_sub (c->p[2], c->p[1]);
  GeoPoint d2 = geo_sub (c->p[3], c->p[2]);
  GeoPoint C = geo_scale (d0, 3), B = geo_scale (geo_sub (d1, d0), 3);
  GeoPoint A = geo_add (geo_sub (d0, geo_scale (d1, 2)), d2);
  double size = geo_norm (d0) + geo_norm (d1) + geo_norm (d2);
  double ab = geo_cross (A, B);
  if (!(fabs (ab) > 1e-14 * size * size))
    return false;
  double s = -geo_cross (A, C) / ab;
  double p = s * s - geo_cross (B, C) / ab;
  double disc = 0.25 * s * s - p;
  if (!(disc > 0))
    return false;
  double root = sqrt (disc);
  double low = 0.5 * s - root, high = 0.5 * s + root;
  /* Ends that are one point come out as 0 and 1 only to rounding. */
  const double slack = 1e-12;
  if (!(low > -0.5 && high < 1.5) || !close_loop (c, &low, &high)
      || low < -slack || high > 1 + slack || high - low < 1e-7)
    return false;
  *t0 = fmax (0, low);
  *t1 = fmin (1, high);
  return true;
}

static int
compare_crossings (const void *p, const void *q)
{
  const GeoCrossing *a = p, *b = q;
  int order = geo_place_compare (a->a, b->a);
  return order ? order : geo_place_compare (a->b, b->b);
}

/* Whether two places are one, at most across a joint. */
static bool
same_place (const GeoChain *chain, GeoPlace a, GeoPlace b)
{
  const double close = 1e-7;
  if (geo_place_compare (a, b) > 0)
    {
      GeoPlace swap = a;
      a = b;
      b = swap;
    }
  if (a.cubic == b.cubic)
    {
      GeoCubic between = geo_cubic_part (&chain->cubics[a.cubic], a.t, b.t);
      if (geo_cubic_is_point (&between, close))
        return true;
    }
  bool wraps = a.cubic == 0 && b.cubic + 1 == chain->count
               && geo_chain_is_closed (chain);
  if (a.cubic + 1 != b.cubic && !wraps)
    return false;
  GeoPlace ends = a, starts = b;
  if (a.cubic + 1 != b.cubic || (wraps && b.t > 0.5 && a.t < 0.5))
    {
      ends = b;
      starts = a;
    }
  GeoCubic rest = geo_cubic_part (&chain->cubics[ends.cubic], ends.t, 1);
  GeoCubic first = geo_cubic_part (&chain->cubics[starts.cubic], 0, starts.t);
  return geo_cubic_is_point (&rest, close)
         && geo_cubic_is_point (&first, close);
}

static bool
is_known (const GeoCrossing *known, const GeoCrossing *item, const GeoChain *a,
          const GeoChain *b)
{
  return geo_distance (known->at, item->at) < 1e-7
         && same_place (a, known->a, item->a)
         && same_place (b, known->b, item->b);
}

/* Sorts what was found from first on and leaves one of each meeting at a
 * joint, which both cubics there have reported. */
static void
tidy (GeoCrossings *list, size_t first, const GeoChain *a, const GeoChain *b)
{
  if (list->count - first < 2)
    return;
  qsort (list->items + first, list->count - first, sizeof (GeoCrossing),
         compare_crossings);
  /* One place has cubics next to each other; the last and the first too. */
  size_t kept = first, near = first;
  for (size_t i = first; i < list->count; i++)
    {
      GeoCrossing item = list->items[i];
      bool known = false, last = item.a.cubic + 1 == a->count;
      while (near < kept && list->items[near].a.cubic + 1 < item.a.cubic)
        near++;
      for (size_t j = near; j < kept && !known; j++)
        known = is_known (&list->items[j], &item, a, b);
      for (size_t j = first; j < near && last && !known; j++)
        {
          if (list->items[j].a.cubic > 0)
            break;
          known = is_known (&list->items[j], &item, a, b);
        }
      if (!known)
        list->items[kept++] = item;
    }
  list->count = kept;
}

static GeoBox *
boxes_of (const GeoChain *chain)
{
  GeoBox *boxes = geo_realloc (NULL, chain->count, sizeof (GeoBox));
  for (size_t i = 0; i < chain->count; i++)
    boxes[i] = geo_box_grow (geo_hunt_box (&chain->cubics[i]),
                             GEO_CONTACT_TOLERANCE);
  return boxes;
}

static void
add_pair (const GeoChain *a, size_t i, const GeoChain *b, size_t j, int joined,
          GeoCrossings *list)
{
  size_t first = list->count;
  geo_crossing_pair (&a->cubics[i], &b->cubics[j], joined, list);
  for (size_t k = first; k < list->count; k++)
    {
      list->items[k].a.cubic = i;
      list->items[k].b.cubic = j;
    }
}

void
geo_chain_crossings (const GeoChain *a, const GeoChain *b, GeoCrossings *list)
{
  size_t first = list->count;
  if (a->count == 0 || b->count == 0)
    return;
  GeoBox *a_boxes = boxes_of (a), *b_boxes = boxes_of (b);
  for (size_t i = 0; i < a->count; i++)
    for (size_t j = 0; j < b->count; j++)
      if (geo_box_meets (a_boxes[i], b_boxes[j]))
        add_pair (a, i, b, j, GEO_JOINED_NOT, list);
  free (a_boxes);
  free (b_boxes);
  tidy (list, first, a, b);
}

/* Whether everything from one place to a later one, past the start if need be,
 * lies in one point. */
static bool
is_stretch_point (const GeoChain *chain, GeoPlace from, GeoPlace to)
{
  const double close = 1e-6;
  size_t last = to.cubic;
  if (geo_place_compare (from, to) > 0)
    last += chain->count;
  for (size_t i = from.cubic; i <= last; i++)
    {
      double t0 = i == from.cubic ? from.t : 0, t1 = i == last ? to.t : 1;
      GeoCubic part = geo_cubic_part (&chain->cubics[i % chain->count], t0, t1);
      if (!geo_cubic_is_point (&part, close))
        return false;
    }
  return true;
}

/* Takes out what is only a joint: places with nothing between them, but maybe
 * cubics too short to see. */
static void
drop_joints (GeoCrossings *list, size_t first, const GeoChain *chain)
{
  size_t kept = first;
  bool closed = geo_chain_is_closed (chain);
  for (size_t i = first; i < list->count; i++)
    {
      GeoCrossing item = list->items[i];
      if (!is_stretch_point (chain, item.a, item.b)
          && !(closed && is_stretch_point (chain, item.b, item.a)))
        list->items[kept++] = item;
    }
  list->count = kept;
}

static void
add_loop (const GeoChain *chain, size_t i, GeoCrossings *list)
{
  double t0, t1;
  const GeoCubic *c = &chain->cubics[i];
  if (!geo_cubic_self_crossing (c, &t0, &t1))
    return;
  if (t0 <= 0 && t1 >= 1 && chain->count == 1)
    return;
  size_t before = list->count;
  geo_crossings_append (
      list, (GeoCrossing){ { i, t0 }, { i, t1 }, geo_cubic_point (c, t0) });
  drop_joints (list, before, chain);
}

/* Pairs are looked for in a binary tree of boxes over the cubics in their order
 * along the chain, where neighbours in the tree are neighbours on the paper. */
typedef struct
{
  const GeoChain *chain;
  GeoBox *tree; /* node 1 is the root, i's halves are 2 i and 2 i + 1, cubic
                   j is leaf leaves + j */
  size_t leaves, first;
  bool closed, any; /* any will do */
  GeoCrossings *list;
} Search;

static void
grow_tree (Search *search)
{
  size_t count = search->chain->count, leaves = 1;
  while (leaves < count)
    leaves *= 2;
  search->leaves = leaves;
  search->tree = geo_realloc (NULL, 2 * leaves, sizeof (GeoBox));
  for (size_t i = 0; i < leaves; i++)
    search->tree[leaves + i]
        = i < count ? geo_box_grow (geo_hunt_box (&search->chain->cubics[i]),
                                    GEO_CONTACT_TOLERANCE)
                    : geo_box_empty ();
  for (size_t i = leaves - 1; i > 0; i--)
    search->tree[i]
        = geo_box_join (search->tree[2 * i], search->tree[2 * i + 1]);
}

static bool
is_done (const Search *search)
{
  return search->any && search->list->count > search->first;
}

static void
try_cubics (Search *search, size_t i, size_t j)
{
  const GeoChain *chain = search->chain;
  size_t before = search->list->count;
  int joined = GEO_JOINED_NOT;
  if (j == i + 1)
    joined |= GEO_JOINED_A_END_B_START;
  if (search->closed && i == 0 && j + 1 == chain->count)
    joined |= GEO_JOINED_B_END_A_START;
  add_pair (chain, i, chain, j, joined, search->list);
  if (search->list->count > before)
    drop_joints (search->list, before, chain);
}

/* All pairs of a cubic of one node with one of another on the same level. */
static void
try_nodes (Search *search, size_t a, size_t b)
{
  if (is_done (search) || !geo_box_meets (search->tree[a], search->tree[b]))
    return;
  if (a >= search->leaves)
    {
      try_cubics (search, a - search->leaves, b - search->leaves);
      return;
    }
  for (size_t i = 2 * a; i < 2 * a + 2; i++)
    for (size_t j = 2 * b; j < 2 * b + 2; j++)
      try_nodes (search, i, j);
}

static void
search_self (const GeoChain *chain, bool any, GeoCrossings *list)
{
  Search search = { .chain = chain, .first = list->count, .any = any };
  search.list = list;
  search.closed = geo_chain_is_closed (chain);
  if (chain->count == 0)
    return;
  for (size_t i = 0; i < chain->count && !is_done (&search); i++)
    add_loop (chain, i, list);
  grow_tree (&search);
  for (size_t i = 1; i < search.leaves; i++)
    try_nodes (&search, 2 * i, 2 * i + 1);
  free (search.tree);
}

void
geo_chain_self_crossings (const GeoChain *chain, GeoCrossings *list)
{
  size_t first = list->count;
  search_self (chain, false, list);
  tidy (list, first, chain, chain);
}

bool
geo_chain_crosses_itself (const GeoChain *chain)
{
  GeoCrossings list;
  geo_crossings_init (&list);
  search_self (chain, true, &list);
  bool any = list.count > 0;
  geo_crossings_clear (&list);
  return any;
}
