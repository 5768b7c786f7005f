/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cut at its crossings the chain is arcs, each from one passage through a crossing
 * to the next. Going along, the winding number on the left changes at a passage
 * only: where the other branch comes from the right, cross (T, T') > 0, it was on
 * our right hand behind us, so that its left lies behind and its right ahead,
 *
 *   left after = left before - sign (cross (T, T'))
 *
 * and one number from outside, counted by a ray, tells all. Arcs with 1 on the left
 * have 0 on the right: they are the border. About a plain crossing of two branches
 * the numbers are w, w + 1, w + 2, w + 1, so that of the four arcs there either
 * none, or one that comes in and one that goes out, is border: no choice is left
 * in walking it.
 *
 * The numbers are held against rays at several arcs, and each loop is looked over for
 * crossings, so that a crossing that was not known cannot pass.
 */
#include "geometry/trim-crossed.h"

#include "geometry/memory.h"
#include "geometry/region.h"

#define FLATTEST 1e-3 /* sine of the angle of a plain crossing */
#define ASIDE 1e-4    /* mm from the arc where rays are counted */
#define RAYS 4

typedef struct
{
  GeoPlace place;
  GeoPoint at;
  size_t other; /* passage of the other branch */
  int step;     /* of the number on the left */
  int left;     /* after it */
  bool walked;  /* the arc after it */
} Passage;

typedef struct
{
  const GeoChain *raw;
  Passage *passages;
  size_t count;
} Arcs;

GeoCubic
geo_trim_moved (GeoCubic c, GeoPoint from, GeoPoint to)
{
  c.p[1] = geo_add (c.p[1], geo_sub (from, c.p[0]));
  c.p[2] = geo_add (c.p[2], geo_sub (to, c.p[3]));
  c.p[0] = from;
  c.p[3] = to;
  return c;
}

void
geo_trim_append (GeoTrimLoop *loop, GeoCubic part, GeoTrimOrigin origin)
{
  geo_chain_append (&loop->chain, part);
  loop->origins[loop->chain.count - 1] = origin;
}

static int
by_place (const void *a, const void *b)
{
  const Passage *p = a, *q = b;
  return geo_place_compare (p->place, q->place);
}

static bool
at_joint (const GeoChain *raw, GeoPlace place, GeoPoint at)
{
  const GeoPoint *p = raw->cubics[place.cubic].p;
  return geo_distance (at, p[0]) < 1e-6 || geo_distance (at, p[3]) < 1e-6;
}

/* Both passages of every crossing, in order along the chain. False where one is
 * not plain. */
static bool
lay_passages (Arcs *arcs, const GeoCrossings *list)
{
  Passage *p = arcs->passages;
  for (size_t i = 0; i < list->count; i++)
    {
      const GeoCrossing *c = &list->items[i];
      double turn = geo_cross (geo_chain_tangent (arcs->raw, c->a),
                               geo_chain_tangent (arcs->raw, c->b));
      if (fabs (turn) < FLATTEST || at_joint (arcs->raw, c->a, c->at)
          || at_joint (arcs->raw, c->b, c->at))
        return false;
      int step = turn > 0 ? -1 : 1;
      p[2 * i] = (Passage){ .place = c->a, .at = c->at, .other = i };
      p[2 * i].step = step;
      p[2 * i + 1] = (Passage){ .place = c->b, .at = c->at, .other = i };
      p[2 * i + 1].step = -step;
    }
  arcs->count = 2 * list->count;
  qsort (p, arcs->count, sizeof *p, by_place);
  return true;
}

/* Lets the two passages of a crossing know each other; where they are not yet
 * sorted both have the crossing's number. */
static void
link_passages (Arcs *arcs)
{
  size_t crossings = arcs->count / 2;
  size_t *first = geo_realloc (NULL, crossings, sizeof *first);
  for (size_t i = 0; i < crossings; i++)
    first[i] = SIZE_MAX;
  for (size_t i = 0; i < arcs->count; i++)
    {
      size_t crossing = arcs->passages[i].other;
      size_t mate = first[crossing];
      first[crossing] = i;
      if (mate == SIZE_MAX)
        continue;
      arcs->passages[i].other = mate;
      arcs->passages[mate].other = i;
    }
  free (first);
}

/* Some place on the arc after a passage that is well inside of a cubic, and how
 * much of that cubic belongs to the arc. */
static double
place_on_arc (const Arcs *arcs, size_t i, GeoPlace *place)
{
  GeoPlace from = arcs->passages[i].place;
  GeoPlace to = arcs->passages[(i + 1) % arcs->count].place;
  double t1 = to.cubic == from.cubic && to.t > from.t ? to.t : 1;
  *place = (GeoPlace){ from.cubic, 0.5 * (from.t + t1) };
  return t1 - from.t;
}

/* The number on the left of the arc after a passage, by rays on both sides.
 * False where the two do not differ by one. */
static bool
count_left (const Arcs *arcs, size_t i, int *left)
{
  GeoPlace place;
  place_on_arc (arcs, i, &place);
  GeoPoint p = geo_chain_point (arcs->raw, place);
  GeoPoint n = geo_left (geo_chain_tangent (arcs->raw, place));
  *left = geo_chain_winding (arcs->raw, geo_along (p, n, ASIDE));
  return *left == geo_chain_winding (arcs->raw, geo_along (p, n, -ASIDE)) + 1;
}

static bool
count_arcs (Arcs *arcs)
{
  int left = 0, counted;
  size_t best = 0;
  double longest = 0;
  for (size_t i = 0; i < arcs->count; i++)
    {
      GeoPlace place;
      double length = place_on_arc (arcs, i, &place);
      if (length > longest)
        {
          longest = length;
          best = i;
        }
    }
  if (!count_left (arcs, best, &left))
    return false;
  arcs->passages[best].left = left;
  for (size_t k = 1; k < arcs->count; k++)
    {
      Passage *p = &arcs->passages[(best + k) % arcs->count];
      left += p->step;
      p->left = left;
    }
  for (size_t k = 0; k < RAYS; k++)
    {
      size_t i = k * arcs->count / RAYS;
      GeoPlace place;
      if (place_on_arc (arcs, i, &place) > 0.01
          && (!count_left (arcs, i, &counted)
              || counted != arcs->passages[i].left))
        return false;
    }
  return true;
}

/* The parts of cubics from a passage to the next. */
static void
append_arc (const Arcs *arcs, size_t i, GeoTrimLoop *loop)
{
  const Passage *from = &arcs->passages[i];
  const Passage *to = &arcs->passages[(i + 1) % arcs->count];
  size_t n = arcs->raw->count, last = to->place.cubic;
  if (geo_place_compare (to->place, from->place) <= 0)
    last += n;
  for (size_t k = from->place.cubic; k <= last; k++)
    {
      double t0 = k == from->place.cubic ? from->place.t : 0;
      double t1 = k == last ? to->place.t : 1;
      GeoCubic part = geo_cubic_part (&arcs->raw->cubics[k % n], t0, t1);
      part
          = geo_trim_moved (part, k == from->place.cubic ? from->at : part.p[0],
                            k == last ? to->at : part.p[3]);
      if (!geo_cubic_is_point (&part, GEO_TRIM_SAME))
        geo_trim_append (loop, part, (GeoTrimOrigin){ k % n, t0, t1 });
    }
}

/* The border arc that goes on where the one after passage i ends; SIZE_MAX where
 * there is none, or two. */
static size_t
next_arc (const Arcs *arcs, size_t i)
{
  size_t on = (i + 1) % arcs->count, off = arcs->passages[on].other;
  bool stays = arcs->passages[on].left == 1;
  bool leaves = arcs->passages[off].left == 1;
  if (stays == leaves)
    return SIZE_MAX;
  return stays ? on : off;
}

static bool
walk_loop (Arcs *arcs, size_t start, GeoTrimLoop *loop)
{
  size_t room = arcs->raw->count + arcs->count, i = start;
  *loop = (GeoTrimLoop){ .chain = GEO_CHAIN_EMPTY };
  loop->origins = geo_realloc (NULL, room, sizeof *loop->origins);
  do
    {
      arcs->passages[i].walked = true;
      append_arc (arcs, i, loop);
      i = next_arc (arcs, i);
    }
  while (i != SIZE_MAX && i != start && !arcs->passages[i].walked);
  size_t kept = loop->chain.count;
  if (i != start || kept == 0)
    return false;
  loop->chain.cubics[kept - 1].p[3] = loop->chain.cubics[0].p[0];
  loop->area = geo_chain_area (&loop->chain);
  return true;
}

static int
by_area (const void *a, const void *b)
{
  double x = fabs (((const GeoTrimLoop *)a)->area);
  double y = fabs (((const GeoTrimLoop *)b)->area);
  return (x < y) - (x > y);
}

static bool
walk_loops (Arcs *arcs, GeoTrimResult *result)
{
  bool good = true;
  result->loops = geo_realloc (NULL, arcs->count, sizeof *result->loops);
  for (size_t i = 0; i < arcs->count && good; i++)
    if (arcs->passages[i].left == 1 && !arcs->passages[i].walked)
      {
        GeoTrimLoop *loop = &result->loops[result->count++];
        good = walk_loop (arcs, i, loop);
        if (good && fabs (loop->area) <= GEO_TRIM_SMALLEST)
          {
            geo_chain_clear (&loop->chain);
            free (loop->origins);
            result->count--;
          }
        else if (good)
          good = !geo_chain_crosses_itself (&loop->chain);
      }
  if (good)
    qsort (result->loops, result->count, sizeof *result->loops, by_area);
  return good && result->count > 0;
}

/* Where the number falls below nothing the other rule has more border. */
static bool
suits_rule (const Arcs *arcs, GeoInsideRule rule)
{
  for (size_t i = 0; i < arcs->count; i++)
    if (rule != GEO_INSIDE_POSITIVE && arcs->passages[i].left < 1)
      return false;
  return true;
}

bool
geo_trim_crossed (const GeoChain *raw, const GeoCrossings *list,
                  GeoInsideRule rule, GeoTrimResult *result)
{
  Arcs arcs = { .raw = raw };
  if (list->count == 0 || !geo_chain_is_closed (raw))
    return false;
  arcs.passages = geo_realloc (NULL, 2 * list->count, sizeof *arcs.passages);
  bool good = lay_passages (&arcs, list);
  if (good)
    {
      link_passages (&arcs);
      good = count_arcs (&arcs) && suits_rule (&arcs, rule)
             && walk_loops (&arcs, result);
    }
  free (arcs.passages);
  return good;
}
