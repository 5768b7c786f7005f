/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Overlaps are looked for first. Their ends are ends of a or b that lie on the
 * other, once both have been cut at their folds, cusps and loops; and two
 * different cubics share at most 9 points (Bezout), so a stretch on which the
 * ends and eight places between lie on the other curve is one, within the
 * tolerance. What is left is searched by crossing-hunt.c.
 */
#include "geometry/crossing-pair.h"

#include "geometry/crossing-hunt.h"
#include "geometry/nearest.h"

#define MOST_HITS 64

/* Whether places of one lie on the other, in the same order. */
static bool
lies_on (const GeoCubic *part, const GeoCubic *other, int samples,
         double tolerance)
{
  double before = 0, at;
  for (int i = 1; i <= samples; i++)
    {
      GeoPoint p = geo_cubic_point (part, i / (samples + 1.0));
      if (geo_cubic_nearest (other, p, &at) > tolerance || at < before - 1e-6)
        return false;
      before = at;
    }
  return true;
}

/* Whether the two run on each other between two hits: either on the other, for one
 * may go round a loop between. */
static bool
runs_along (const GeoHunt *hunt, const GeoHit *from, const GeoHit *to,
            int samples, double tolerance)
{
  GeoCubic part_a = geo_cubic_part (&hunt->a, from->t, to->t);
  GeoCubic part_b = geo_cubic_part (&hunt->b, from->u, to->u);
  return lies_on (&part_a, &part_b, samples, tolerance)
         && lies_on (&part_b, &part_a, samples, tolerance);
}

static void
sort_hits (GeoHit *hits, int count)
{
  for (int i = 1; i < count; i++)
    for (int j = i;
         j > 0
         && (hits[j].t < hits[j - 1].t
             || (hits[j].t == hits[j - 1].t && hits[j].u < hits[j - 1].u));
         j--)
      {
        GeoHit swap = hits[j];
        hits[j] = hits[j - 1];
        hits[j - 1] = swap;
      }
}

/* Whether a point is outside of what the control points of c span, by their box
 * or by the strip along the chord. */
static bool
is_off (const GeoCubic *c, GeoPoint at, double tolerance)
{
  if (!geo_box_holds (geo_box_grow (geo_hunt_box (c), tolerance), at))
    return true;
  GeoPoint u = geo_unit (geo_sub (c->p[3], c->p[0]));
  double first = geo_cross (u, geo_sub (c->p[1], c->p[0]));
  double second = geo_cross (u, geo_sub (c->p[2], c->p[0]));
  double off = geo_cross (u, geo_sub (at, c->p[0]));
  return off > geo_most (0, geo_most (first, second)) + tolerance
         || off < geo_least (0, geo_least (first, second)) - tolerance;
}

/* Whether an end of one lies on the other, and where. joined_at is the other's
 * end if the two are known to be one, else below 0. */
static bool
end_is_on (const GeoCubic *other, GeoPoint end, double joined_at,
           double tolerance, double *at, double *off)
{
  if (joined_at >= 0 && geo_same (end, other->p[joined_at > 0 ? 3 : 0]))
    {
      *at = joined_at;
      *off = 0;
      return true;
    }
  if (is_off (other, end, tolerance))
    return false;
  *off = geo_cubic_nearest (other, end, at);
  return *off <= tolerance;
}

/* Ends of either that lie on the other. */
static int
ends_on_other (const GeoHunt *hunt, GeoHit ends[4])
{
  bool a_then_b = hunt->joined & GEO_JOINED_A_END_B_START;
  bool b_then_a = hunt->joined & GEO_JOINED_B_END_A_START;
  int count = 0;
  for (int i = 0; i < 2; i++)
    {
      double t, off, a_joined = -1, b_joined = -1;
      if (i == 1 ? a_then_b : b_then_a)
        a_joined = 1 - i;
      if (i == 1 ? b_then_a : a_then_b)
        b_joined = 1 - i;
      if (end_is_on (&hunt->b, hunt->a.p[3 * i], a_joined, hunt->tolerance, &t,
                     &off))
        ends[count++] = (GeoHit){ i, t, off, true };
      if (end_is_on (&hunt->a, hunt->b.p[3 * i], b_joined, hunt->tolerance, &t,
                     &off))
        ends[count++] = (GeoHit){ t, i, off, true };
    }
  sort_hits (ends, count);
  return count;
}

/* Finds the overlaps; true where there are any, with the stretch from the
 * first's start to the last's end. Two cubics without fold or loop overlap in
 * one stretch at most. */
static bool
find_overlap (GeoHunt *hunt, GeoHit *from, GeoHit *to)
{
  GeoHit ends[4];
  int count = ends_on_other (hunt, ends);
  for (int i = 0; i < count; i++)
    for (int j = count - 1; j > i; j--)
      {
        GeoCubic part = geo_cubic_part (&hunt->a, ends[i].t, ends[j].t);
        if (geo_cubic_is_point (&part, 10 * hunt->tolerance)
            || !runs_along (hunt, &ends[i], &ends[j], 8, 2 * hunt->tolerance))
          continue;
        *from = ends[i];
        *to = ends[j];
        return true;
      }
  return false;
}

static bool
same_contact (const GeoHunt *hunt, const GeoHit *p, const GeoHit *q)
{
  double tolerance = 4 * hunt->tolerance;
  GeoPoint at_p = geo_cubic_point (&hunt->a, p->t);
  GeoPoint at_q = geo_cubic_point (&hunt->a, q->t);
  if (geo_distance (at_p, at_q) > 0.5)
    return false;
  if (geo_distance (at_p, at_q) <= tolerance)
    {
      /* The same point, but maybe the two ways through a loop. */
      GeoCubic part_a = geo_cubic_part (&hunt->a, p->t, q->t);
      GeoCubic part_b = geo_cubic_part (&hunt->b, p->u, q->u);
      return geo_cubic_is_point (&part_a, 1e-6)
             && geo_cubic_is_point (&part_b, 1e-6);
    }
  /* However short a stretch, its two ends are two. */
  return !(p->end && q->end) && runs_along (hunt, p, q, 3, tolerance);
}

/* Moves a hit to (t, u), where that is as good and near. */
static void
improve (const GeoHunt *hunt, GeoHit *hit, double t, double u, double allowed,
         double near)
{
  if (!(t >= 0 && t <= 1 && u >= 0 && u <= 1))
    return;
  GeoPoint p = geo_cubic_point (&hunt->a, t);
  double off = geo_distance (p, geo_cubic_point (&hunt->b, u));
  if (off > allowed
      || geo_distance (p, geo_cubic_point (&hunt->a, hit->t)) > near)
    return;
  *hit = (GeoHit){ t, u, off, hit->end };
}

/* Where the curves run alongside, any place within the tolerance will have been
 * taken. The crossing itself is the one to give; and where that is a touching,
 * which Newton on a crossing only creeps up to, the place of nearest approach. */
static void
polish (const GeoHunt *hunt, GeoHit *hit)
{
  GeoPoint ta = geo_cubic_tangent (&hunt->a, hit->t);
  GeoPoint tb = geo_cubic_tangent (&hunt->b, hit->u);
  if (hit->end || fabs (geo_cross (ta, tb)) > 1e-3)
    return;
  double t = hit->t, u = hit->u;
  geo_hunt_meet (hunt, &t, &u);
  improve (hunt, hit, t, u, hit->off, 0.5);
  t = hit->t;
  u = hit->u;
  geo_hunt_touch (hunt, &t, &u);
  improve (hunt, hit, t, u, hunt->tolerance, 1e-4);
}

/* Hits of one contact become the closest of them. */
static void
merge_once (GeoHunt *hunt)
{
  int kept = 0;
  sort_hits (hunt->hits, hunt->count);
  for (int i = 0; i < hunt->count; i++)
    {
      const GeoHit *hit = &hunt->hits[i];
      int j = kept - 1;
      while (j >= 0 && !same_contact (hunt, &hunt->hits[j], hit))
        j = j > 0 && kept - j < 4 ? j - 1 : -1;
      if (j < 0)
        hunt->hits[kept++] = *hit;
      else if (hit->end || (!hunt->hits[j].end && hit->off < hunt->hits[j].off))
        hunt->hits[j] = *hit;
    }
  hunt->count = kept;
  sort_hits (hunt->hits, kept);
}

static void
merge_hits (GeoHunt *hunt)
{
  merge_once (hunt);
  for (int i = 0; i < hunt->count; i++)
    polish (hunt, &hunt->hits[i]);
  merge_once (hunt);
}

static void
add_end (GeoHunt *hunt, double t, double u)
{
  int before = hunt->count;
  geo_hunt_add (hunt, t, u);
  if (hunt->count > before)
    hunt->hits[before].end = true;
}

/* The whole search over two cubics without fold, cusp or loop inside. */
static void
hunt_run (GeoHunt *hunt)
{
  GeoHit from, to;
  if (!find_overlap (hunt, &from, &to))
    {
      geo_hunt_parts (hunt, 0, 1, 0, 1);
      merge_hits (hunt);
      return;
    }
  /* Beyond the stretch the two may still cross: what is left of a with all of
   * b, and the stretch of a with what is left of b. */
  double u0 = fmin (from.u, to.u), u1 = fmax (from.u, to.u);
  geo_hunt_parts (hunt, 0, from.t, 0, 1);
  geo_hunt_parts (hunt, to.t, 1, 0, 1);
  geo_hunt_parts (hunt, from.t, to.t, 0, u0);
  geo_hunt_parts (hunt, from.t, to.t, u1, 1);
  int kept = 0;
  for (int i = 0; i < hunt->count; i++)
    {
      GeoHit hit = hunt->hits[i];
      GeoCubic to_start = geo_cubic_part (&hunt->a, hit.t, from.t);
      GeoCubic to_end = geo_cubic_part (&hunt->a, hit.t, to.t);
      if (!geo_cubic_is_point (&to_start, 1e-5)
          && !geo_cubic_is_point (&to_end, 1e-5))
        hunt->hits[kept++] = hit;
    }
  hunt->count = kept;
  merge_hits (hunt);
  add_end (hunt, from.t, from.u);
  add_end (hunt, to.t, to.u);
  sort_hits (hunt->hits, hunt->count);
}

/* Cuts at folds and cusps, where a cubic may run back over itself, and in the
 * middle of a loop. A cubic has either, not both. in_loop is -1 without one. */
static int
cut_places (const GeoCubic *c, double t[4], double *in_loop)
{
  double loop[2];
  *in_loop = -1;
  t[0] = 0;
  int count = 1 + geo_cubic_cusps (c, t + 1);
  if (count == 1 && geo_cubic_self_crossing (c, &loop[0], &loop[1]))
    t[count++] = *in_loop = 0.5 * (loop[0] + loop[1]);
  t[count] = 1;
  return count;
}

static bool
at_joint (const GeoHunt *hunt, const GeoHit *hit)
{
  if (hunt->joined & GEO_JOINED_A_END_B_START)
    {
      GeoCubic rest_a = geo_cubic_part (&hunt->a, hit->t, 1);
      GeoCubic rest_b = geo_cubic_part (&hunt->b, 0, hit->u);
      if (geo_cubic_is_point (&rest_a, 1e-6)
          && geo_cubic_is_point (&rest_b, 1e-6))
        return true;
    }
  if (hunt->joined & GEO_JOINED_B_END_A_START)
    {
      GeoCubic rest_b = geo_cubic_part (&hunt->b, hit->u, 1);
      GeoCubic rest_a = geo_cubic_part (&hunt->a, 0, hit->t);
      return geo_cubic_is_point (&rest_a, 1e-6)
             && geo_cubic_is_point (&rest_b, 1e-6);
    }
  return false;
}

static void
hunt_report (const GeoHunt *hunt, GeoCrossings *list)
{
  int given = 0;
  for (int i = 0; i < hunt->count && given < MOST_HITS; i++)
    {
      const GeoHit *hit = &hunt->hits[i];
      if (at_joint (hunt, hit))
        continue;
      GeoPoint at = geo_lerp (geo_cubic_point (&hunt->a, hit->t),
                              geo_cubic_point (&hunt->b, hit->u), 0.5);
      geo_crossings_append (list,
                            (GeoCrossing){ { 0, hit->t }, { 0, hit->u }, at });
      given++;
    }
}

/* Takes over the hits of a hunt for pieces of the two cubics. */
static void
hunt_gather (GeoHunt *whole, const GeoHunt *part, const double ta[2],
             const double tb[2])
{
  for (int i = 0; i < part->count; i++)
    {
      const GeoHit *hit = &part->hits[i];
      double t = ta[0] + hit->t * (ta[1] - ta[0]);
      double u = tb[0] + hit->u * (tb[1] - tb[0]);
      if (hit->end)
        add_end (whole, t, u);
      else
        geo_hunt_add (whole, t, u);
    }
}

static void
hunt_pieces (GeoHunt *whole, const double *ta, int a_count, const double *tb,
             int b_count)
{
  for (int i = 0; i < a_count; i++)
    for (int j = 0; j < b_count; j++)
      {
        GeoHunt part
            = { .tolerance = whole->tolerance, .budget = GEO_HUNT_BUDGET };
        part.a = geo_cubic_part (&whole->a, ta[i], ta[i + 1]);
        part.b = geo_cubic_part (&whole->b, tb[j], tb[j + 1]);
        hunt_run (&part);
        hunt_gather (whole, &part, ta + i, tb + j);
      }
}

/* Of an overlap that runs on across the middle of a loop, the cut there is no
 * end. */
static void
drop_loop_cuts (GeoHunt *hunt, double cut_a, double cut_b)
{
  int kept = 0;
  for (int i = 0; i < hunt->count; i++)
    {
      GeoHit hit = hunt->hits[i];
      bool runs_on = hit.t == cut_a || hit.u == cut_b;
      for (int side = -1; side <= 1 && runs_on; side += 2)
        {
          double t = hit.t + side * 1e-3;
          GeoPoint p = geo_cubic_point (&hunt->a, fmax (0, fmin (1, t)));
          runs_on
              = t >= 0 && t <= 1
                && geo_cubic_nearest (&hunt->b, p, NULL) <= 2 * hunt->tolerance;
        }
      if (!runs_on)
        hunt->hits[kept++] = hit;
    }
  hunt->count = kept;
}

double
geo_crossing_rounding (const GeoCubic *a, const GeoCubic *b)
{
  GeoBox box = geo_box_join (geo_hunt_box (a), geo_hunt_box (b));
  return 1e-14
         * geo_most (geo_most (fabs (box.x0), fabs (box.x1)),
                     geo_most (fabs (box.y0), fabs (box.y1)));
}

void
geo_crossing_pair (const GeoCubic *a, const GeoCubic *b, int joined,
                   GeoCrossings *list)
{
  double tolerance = fmax (GEO_CONTACT_TOLERANCE, geo_crossing_rounding (a, b));
  if (geo_hunt_apart (a, b, joined, tolerance))
    return;
  GeoHunt hunt
      = { .a = *a, .b = *b, .joined = joined, .budget = GEO_HUNT_BUDGET };
  hunt.tolerance = tolerance;
  double t, ta[4], tb[4];
  if (geo_cubic_is_point (a, hunt.tolerance))
    {
      if (geo_cubic_nearest (b, a->p[0], &t) <= hunt.tolerance)
        geo_hunt_add (&hunt, 0, t);
    }
  else if (geo_cubic_is_point (b, hunt.tolerance))
    {
      if (geo_cubic_nearest (a, b->p[0], &t) <= hunt.tolerance)
        geo_hunt_add (&hunt, t, 0);
    }
  else
    {
      double loop_a, loop_b;
      int a_count = cut_places (a, ta, &loop_a);
      int b_count = cut_places (b, tb, &loop_b);
      if (a_count == 1 && b_count == 1)
        hunt_run (&hunt);
      else
        {
          hunt_pieces (&hunt, ta, a_count, tb, b_count);
          merge_hits (&hunt);
          drop_loop_cuts (&hunt, loop_a, loop_b);
        }
    }
  hunt_report (&hunt, list);
}
