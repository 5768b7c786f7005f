/* SPDX-License-Identifier: GPL-3.0-or-later */
/* At a corner v the stitch line arrives along Ta and leaves along Tb; outward
 * normals Na, Nb, widths wa, wb, turn a from Ta to Tb. Where a <= 0 the two strips
 * overlap and the border of what they cover is the corner. Where a > 0 they
 * gape.
 *
 * Extended: the lines v + wa Na + s Ta and v + wb Nb - r Tb meet where
 *
 *   s = (wb - wa cos a) / sin a,   r = (wa - wb cos a) / sin a
 *
 * One of them is negative where a narrow allowance runs into a much wider
 * one at a blunt corner: the wider one is then cut off by the narrow one's
 * line. Past the limit from v a spike is cut off square to its own direction,
 * and a blunt corner steps from one width to the other.
 *
 * The other treatments have a governing edge g and a neighbour m; with Tg the
 * governing stitch line run on past v and Tm the neighbour's direction away from
 * v, the stitch line meets the neighbour's cutting line at
 *
 *   Q = v + Tg wm / (Tg . Nm)
 *
 * From there the governing allowance's end is drawn: square to Tg; or the
 * neighbour's cutting line mirrored in Tg, as the straight line it is at Q
 * (matched), or as it really runs (folded back); to where it first meets the
 * governing cutting line or its run-on. The neighbour's own line starts at Q.
 * Mirrored and straight, the end lies 2 wg cot(theta) along from where the
 * neighbour's line would have met it, theta the inside angle.
 */
#include "geometry/ring-strip.h"

#include "geometry/crossing.h"
#include "geometry/memory.h"
#include "geometry/nearest.h"

#define LIMIT 3.0     /* times the wider width */
#define END_LIMIT 4.0 /* the same for the far corner of a mirrored end */
#define STRAIGHT 1e-9
#define SLACK 0.02 /* mm by which a laid line may be nearer than its width */

typedef struct
{
  GeoPoint v, tg, tm, ng, nm; /* see above */
  double wg, wm, limit;
  GeoStrip *g, *m;
  bool arriving;         /* g arrives, m leaves */
  GeoPoint g_end, m_end; /* of their cutting lines, at the corner */
  GeoPoint q;
  bool m_cut; /* q lies on the neighbour's line, at: */
  GeoPlace m_place;
} Corner;

static GeoPoint
outward (GeoPoint tangent)
{
  return geo_point (tangent.y, -tangent.x);
}

/* Squared off at the limit from v, across the direction u. */
static int
square_off (GeoPoint v, GeoPoint from, GeoPoint along, GeoPoint to,
            GeoPoint back, double limit, GeoPoint u, GeoPoint path[3])
{
  int count = 0;
  double fa = geo_dot (u, along), fb = -geo_dot (u, back);
  double s = (limit - geo_dot (u, geo_sub (from, v))) / fa;
  double r = (limit - geo_dot (u, geo_sub (to, v))) / fb;
  if (fa > 0.05 && fb > 0.05 && s > 0 && r > 0)
    {
      path[count++] = geo_along (from, along, s);
      path[count++] = geo_along (to, back, -r);
    }
  path[count++] = to;
  return count;
}

int
geo_strip_extend (GeoPoint v, GeoPoint from, GeoPoint along, GeoPoint to,
                  GeoPoint back, double limit, GeoPoint path[3])
{
  double det = geo_cross (along, back);
  GeoPoint gap = geo_sub (to, from);
  double s = geo_cross (gap, back), r = -geo_cross (gap, along);
  /* from + s along = to - r back, both over det. */
  if (s >= 0 && r >= 0 && det > 1e-12)
    {
      GeoPoint x = geo_along (from, along, s / det);
      if (geo_distance (v, x) <= limit)
        {
          path[0] = x;
          path[1] = to;
          return 2;
        }
      return square_off (v, from, along, to, back, limit,
                         geo_unit (geo_sub (x, v)), path);
    }
  if (geo_dot (along, back) < 0)
    return square_off (v, from, along, to, back, limit, along, path);
  path[0] = to;
  return 1;
}

/* Not on a part of the raw line that its own strip covers. */
static bool
is_cutting_line (const GeoStrip *strip, GeoPoint p)
{
  return geo_chain_nearest (&strip->stitch, p, NULL) >= strip->width - SLACK;
}

/* Whether the stretch passes through the strip's stitch line, on to the other
 * side of the piece; not counting where it starts. */
static bool
crosses_stitch (const GeoStrip *strip, const GeoCubic *stretch)
{
  GeoBox box = geo_cubic_bounds (stretch);
  GeoCrossings list;
  bool any = false;
  geo_crossings_init (&list);
  for (size_t i = 0; i < strip->stitch.count && !any; i++)
    {
      const GeoCubic *c = &strip->stitch.cubics[i];
      list.count = 0;
      if (geo_box_meets (box, geo_cubic_bounds (c)))
        geo_cubic_crossings (stretch, c, &list);
      for (size_t j = 0; j < list.count; j++)
        any |= geo_distance (list.items[j].at, stretch->p[0]) > SLACK;
    }
  geo_crossings_clear (&list);
  return any;
}

/* The first place of a cutting line that the stretch from a to b comes to. */
static bool
first_hit (const GeoStrip *strip, GeoPoint a, GeoPoint b, GeoPlace *place)
{
  GeoPoint u = geo_sub (b, a);
  double length = geo_dot (u, u), best = INFINITY;
  GeoPlace found = *place;
  for (size_t i = 0; i < strip->line.chain.count; i++)
    {
      const GeoCubic *c = &strip->line.chain.cubics[i];
      double t[3];
      int count = geo_cubic_crossings_line (c, a, u, t);
      for (int j = 0; j < count; j++)
        {
          GeoPoint p = geo_cubic_point (c, t[j]);
          double s = geo_dot (geo_sub (p, a), u) / length;
          if (s > -1e-9 && s < 1 + 1e-9 && s < best
              && is_cutting_line (strip, p))
            {
              best = s;
              found = (GeoPlace){ i, t[j] };
            }
        }
    }
  GeoCubic way = geo_cubic_line (a, geo_lerp (a, b, fmin (best, 1)));
  if (best > 2 || crosses_stitch (strip, &way))
    return false;
  *place = found;
  return true;
}

static GeoPoint
line_point (const GeoStrip *strip, GeoPlace place)
{
  return geo_chain_point (&strip->line.chain, place);
}

/* first_hit, where going on from there by way of b to the corner covers all
 * that it should. */
static bool
first_good_hit (const GeoStrip *strip, bool at_end, GeoPoint a, GeoPoint b,
                GeoPoint by, GeoPlace *place)
{
  GeoPoint v = at_end ? geo_chain_end (&strip->stitch)
                      : geo_chain_start (&strip->stitch);
  GeoPlace found = { 0, 0 };
  if (!first_hit (strip, a, b, &found))
    return false;
  GeoChain way = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&way, line_point (strip, found), by);
  if (!geo_same (by, v))
    geo_chain_append_line (&way, by, v);
  bool good = geo_strip_covers (strip, at_end, &found, &way);
  geo_chain_clear (&way);
  if (good)
    *place = found;
  return good;
}

static void
start_lead (GeoStrip *strip, GeoPoint from, GeoPoint to)
{
  GeoTagged *lead = &strip->lead;
  geo_chain_reset (&lead->chain);
  if (!geo_same (from, to))
    geo_tagged_append (lead, geo_cubic_line (from, to), GEO_RING_CORNER);
}

/* A strip that starts or ends in a hollow it fills has no cutting line of its own
 * at the corner. Beside a narrower one, which would not cover that, its end
 * is drawn square from v to the first of its cutting line. */
static bool
step_out (const GeoStrip *strip, const GeoStrip *other, bool at_end, GeoPoint v,
          GeoPoint tangent, GeoPlace *place)
{
  if (other->width >= strip->width
      || is_cutting_line (strip, line_point (strip, *place)))
    return false;
  GeoPoint n = outward (tangent);
  return first_good_hit (strip, at_end, geo_along (v, n, 1e-3),
                         geo_along (v, n, END_LIMIT * strip->width), v, place);
}

static void
lead_through (GeoStrip *strip, GeoPoint from, GeoPoint v, GeoPoint to)
{
  start_lead (strip, from, v);
  if (strip->lead.chain.count == 0)
    start_lead (strip, v, to);
  else
    geo_tagged_line_to (&strip->lead, to, GEO_RING_CORNER);
}

/* Runs both lines on from where they end. */
static void
lead_mitre (GeoStrip *strip, GeoPoint v, GeoPoint from, GeoPoint ta,
            GeoPoint to, GeoPoint tb, double limit)
{
  GeoPoint path[3];
  int count = geo_strip_extend (v, from, ta, to, tb, limit, path);
  geo_chain_reset (&strip->lead.chain);
  for (int i = 0; i < count; i++)
    {
      GeoPoint last = i > 0 ? path[i - 1] : from;
      if (!geo_same (last, path[i]))
        geo_tagged_append (&strip->lead, geo_cubic_line (last, path[i]),
                           GEO_RING_CORNER);
    }
}

/* Through v where the strips overlap; else run on. The lead is empty where the
 * lines meet already. */
static void
lead_extended (GeoStrip *before, GeoStrip *strip, double tolerance)
{
  GeoPoint v = geo_chain_start (&strip->stitch);
  GeoPoint ta = before->arriving, tb = strip->leaving;
  double turn = geo_angle_between (ta, tb), det = geo_cross (ta, tb);
  double wa = before->width, wb = strip->width, wide = fmax (wa, wb);
  double s = (wb - wa * cos (turn)) / det, r = (wa - wb * cos (turn)) / det;
  bool opens = turn * wide >= tolerance / 8,
       closes = turn * wide <= -tolerance / 8;
  bool near = opens && det > 1e-12 && hypot (s, wa) <= LIMIT * wide;
  bool stepped = step_out (before, strip, true, v, ta, &before->to)
                 || step_out (strip, before, false, v, tb, &strip->from);
  GeoPoint from = line_point (before, before->to);
  GeoPoint to = line_point (strip, strip->from);
  if (closes)
    lead_through (strip, from, v, to);
  else if (stepped || !opens)
    start_lead (strip, from, to);
  else if (near && s < 0
           && first_good_hit (before, true, to,
                              geo_along (to, tb, -1.5 * r - wide), to,
                              &before->to))
    start_lead (strip, line_point (before, before->to), to);
  else if (near && r < 0
           && first_good_hit (strip, false, from,
                              geo_along (from, ta, 1.5 * s + wide), from,
                              &strip->from))
    start_lead (strip, from, line_point (strip, strip->from));
  else
    lead_mitre (strip, v, from, ta, to, tb, LIMIT * wide);
}

static Corner
set_corner (GeoStrip *before, GeoStrip *strip)
{
  bool arriving = strip->corner.governor == GEO_CORNER_BY_ARRIVING;
  GeoPoint ta = before->arriving, tb = strip->leaving;
  GeoPoint away = geo_scale (ta, -1), run_on = geo_scale (tb, -1);
  Corner c = { .v = geo_chain_start (&strip->stitch),
               .arriving = arriving,
               .g = arriving ? before : strip,
               .m = arriving ? strip : before,
               .tg = arriving ? ta : run_on,
               .tm = arriving ? tb : away,
               .ng = outward (arriving ? ta : tb),
               .nm = outward (arriving ? tb : ta) };
  GeoPoint from = line_point (before, before->to);
  GeoPoint to = line_point (strip, strip->from);
  c.g_end = arriving ? from : to;
  c.m_end = arriving ? to : from;
  c.wg = c.g->width;
  c.wm = c.m->width;
  c.limit = fmax (c.wg, c.wm);
  return c;
}

/* Where the governing stitch line, run on, meets the neighbour's cutting line. */
static bool
find_q (Corner *c)
{
  double rise = geo_dot (c->tg, c->nm);
  if (rise < 1e-3 || c->wm > LIMIT * c->limit * rise)
    return false;
  c->q = geo_along (c->v, c->tg, c->wm / rise);
  c->m_cut = geo_dot (geo_sub (c->q, c->v), c->tm) > 0 && c->wm > 0;
  if (!c->m_cut)
    return true;
  if (!first_good_hit (c->m, !c->arriving, c->v,
                       geo_along (c->v, c->tg, 1.5 * c->wm / rise + c->wm),
                       c->v, &c->m_place))
    return false;
  c->q = line_point (c->m, c->m_place);
  return true;
}

static GeoPoint
mirror (const Corner *c, GeoPoint p)
{
  double off = geo_dot (geo_sub (p, c->v), c->ng);
  return geo_along (p, c->ng, -2 * off);
}

/* The neighbour's cutting line from Q inward, cubic by cubic; false past its
 * end. */
static bool
neighbour_part (const Corner *c, size_t index, GeoCubic *part)
{
  const GeoChain *line = &c->m->line.chain;
  bool forward = c->arriving;
  if (!c->m_cut)
    {
      if (index == 0)
        {
          *part = geo_cubic_line (c->q, c->m_end);
          return true;
        }
      index--;
    }
  size_t first = c->m_cut ? c->m_place.cubic : forward ? 0 : line->count - 1;
  double t = c->m_cut ? c->m_place.t : forward ? 0 : 1;
  if (forward ? index >= line->count - first : index > first)
    return false;
  const GeoCubic *cubic
      = &line->cubics[forward ? first + index : first - index];
  double from = index == 0 ? t : forward ? 0 : 1;
  *part = geo_cubic_part (cubic, from, forward ? 1 : 0);
  return true;
}

typedef struct
{
  bool on_line; /* at place; else on the run-on */
  GeoPlace place;
  GeoPoint at;
  double t; /* of the end's last cubic */
} Meeting;

/* Where one cubic of the end first meets the governing line or its run-on. */
static bool
meets_line (const Corner *c, const GeoCubic *end, Meeting *meeting)
{
  const GeoChain *line = &c->g->line.chain;
  GeoCubic run_on = geo_cubic_line (
      c->g_end, geo_along (c->g_end, c->tg, 2 * END_LIMIT * c->limit));
  GeoBox box = geo_box_grow (geo_cubic_bounds (end), 1e-6);
  GeoCrossings list;
  bool any = false;
  geo_crossings_init (&list);
  for (size_t i = 0; i <= line->count; i++)
    {
      const GeoCubic *other = i < line->count ? &line->cubics[i] : &run_on;
      if (!geo_box_meets (box, geo_cubic_bounds (other)))
        continue;
      size_t first = list.count;
      geo_cubic_crossings (end, other, &list);
      for (size_t j = first; j < list.count; j++)
        if ((!any || list.items[j].a.t < meeting->t)
            && (i == line->count || is_cutting_line (c->g, list.items[j].at)))
          {
            any = true;
            *meeting = (Meeting){ .on_line = i < line->count,
                                  .place = { i, list.items[j].b.t },
                                  .at = list.items[j].at,
                                  .t = list.items[j].a.t };
          }
    }
  geo_crossings_clear (&list);
  return any;
}

static bool
end_crosses (const Corner *c, const GeoChain *end)
{
  for (size_t i = 0; i < end->count; i++)
    if (crosses_stitch (c->g, &end->cubics[i]))
      return true;
  return false;
}

/* The end of the governing allowance from Q to its cutting line, appended to
 * end. */
static bool
draw_end (const Corner *c, GeoCornerKind kind, GeoChain *end, Meeting *meeting)
{
  geo_chain_reset (end);
  for (size_t i = 0; i < 64 && kind == GEO_CORNER_FOLDED_BACK; i++)
    {
      GeoCubic part;
      if (!neighbour_part (c, i, &part))
        break;
      if (geo_cubic_is_point (&part, STRAIGHT))
        continue;
      for (int j = 0; j < 4; j++)
        part.p[j] = mirror (c, part.p[j]);
      if (meets_line (c, &part, meeting))
        {
          geo_chain_append (end, geo_cubic_part (&part, 0, meeting->t));
          return geo_distance (meeting->at, c->v) <= END_LIMIT * c->limit
                 && !end_crosses (c, end);
        }
      geo_chain_append (end, part);
    }
  geo_chain_reset (end);
  GeoPoint way = c->ng;
  if (kind != GEO_CORNER_SQUARED)
    {
      GeoPoint tm = c->tm;
      if (c->m_cut)
        tm = geo_scale (geo_chain_tangent (&c->m->line.chain, c->m_place),
                        c->arriving ? 1 : -1);
      way = geo_along (tm, c->ng, -2 * geo_dot (tm, c->ng));
    }
  GeoCubic line
      = geo_cubic_line (c->q, geo_along (c->q, way, 2 * END_LIMIT * c->limit));
  if (!meets_line (c, &line, meeting))
    return false;
  geo_chain_append_line (end, c->q, meeting->at);
  return geo_distance (meeting->at, c->v) <= END_LIMIT * c->limit
         && !end_crosses (c, end);
}

/* Whether what the governing strip keeps and the end, from its cutting line to Q
 * and on to v, cover all they should. */
static bool
end_covers (const Corner *c, const GeoChain *end, const Meeting *meeting)
{
  GeoChain way = GEO_CHAIN_EMPTY, back = GEO_CHAIN_EMPTY;
  geo_chain_copy (&back, end);
  geo_chain_reverse (&back);
  if (!meeting->on_line)
    geo_chain_append_line (&way, c->g_end, meeting->at);
  geo_chain_append_chain (&way, &back);
  if (!geo_same (c->q, c->v))
    geo_chain_append_line (&way, c->q, c->v);
  bool covers = geo_strip_covers (
      c->g, c->arriving, meeting->on_line ? &meeting->place : NULL, &way);
  geo_chain_clear (&back);
  geo_chain_clear (&way);
  return covers;
}

/* From the governing line's end to the neighbour's start, or the other way
 * round where the neighbour arrives. */
static void
lead_governed (const Corner *c, GeoStrip *strip, GeoChain *end,
               const Meeting *meeting)
{
  GeoTagged path = { .chain = GEO_CHAIN_EMPTY };
  GeoPlace *g_place = c->arriving ? &c->g->to : &c->g->from;
  GeoPlace *m_place = c->arriving ? &c->m->from : &c->m->to;
  if (meeting->on_line)
    *g_place = meeting->place;
  else
    geo_tagged_append (&path, geo_cubic_line (c->g_end, meeting->at),
                       GEO_RING_CORNER);
  geo_chain_reverse (end);
  for (size_t i = 0; i < end->count; i++)
    geo_tagged_append (&path, end->cubics[i], GEO_RING_CORNER);
  if (c->m_cut)
    *m_place = c->m_place;
  else if (path.chain.count > 0)
    geo_tagged_line_to (&path, c->m_end, GEO_RING_CORNER);
  if (!c->arriving)
    geo_chain_reverse (&path.chain);
  geo_chain_reset (&strip->lead.chain);
  for (size_t i = 0; i < path.chain.count; i++)
    geo_tagged_append (&strip->lead, path.chain.cubics[i], GEO_RING_CORNER);
  geo_tagged_clear (&path);
}

static bool
lead_by_kind (GeoStrip *before, GeoStrip *strip, GeoCornerKind kind)
{
  Corner c = set_corner (before, strip);
  GeoChain end = GEO_CHAIN_EMPTY;
  Meeting meeting = { 0 };
  bool drawn = c.wg > 0 && find_q (&c) && draw_end (&c, kind, &end, &meeting)
               && end_covers (&c, &end, &meeting);
  if (drawn)
    lead_governed (&c, strip, &end, &meeting);
  geo_chain_clear (&end);
  return drawn;
}

/* Whether run only carries a straight line on, or leads up to it. */
static bool
is_run_on (const GeoCubic *line, const GeoCubic *run)
{
  GeoPoint u = geo_unit (geo_sub (line->p[3], line->p[0]));
  GeoPoint way = geo_sub (run->p[3], run->p[0]);
  return geo_cubic_is_straight (line, STRAIGHT)
         && geo_cubic_is_straight (run, STRAIGHT)
         && fabs (geo_cross (u, way)) < STRAIGHT && geo_dot (u, way) > 0;
}

/* A straight line that runs on is one line. */
static void
absorb (GeoStrip *before, GeoStrip *strip)
{
  GeoChain *lead = &strip->lead.chain;
  GeoChain *a = &before->line.chain, *b = &strip->line.chain;
  GeoPlace end = { a->count - 1, 1 };
  if (lead->count > 0 && geo_place_compare (before->to, end) == 0
      && before->line.tags[a->count - 1] == before->edge)
    {
      GeoCubic *last = &a->cubics[a->count - 1];
      if (is_run_on (last, &lead->cubics[0]))
        {
          *last = geo_cubic_line (last->p[0], lead->cubics[0].p[3]);
          for (size_t i = 1; i < lead->count; i++)
            lead->cubics[i - 1] = lead->cubics[i];
          lead->count--;
        }
    }
  if (lead->count > 0 && strip->from.cubic == 0 && strip->from.t <= 0
      && strip->line.tags[0] == strip->edge)
    {
      const GeoCubic *run = &lead->cubics[lead->count - 1];
      if (is_run_on (&b->cubics[0], run))
        {
          b->cubics[0] = geo_cubic_line (run->p[0], b->cubics[0].p[3]);
          lead->count--;
        }
    }
}

void
geo_strip_corner (GeoStrip *before, GeoStrip *strip, double tolerance,
                  GeoStripRoom *room)
{
  GeoCornerKind kind = strip->corner.kind;
  GeoPoint ta = before->arriving, tb = strip->leaving;
  /* One edge cannot govern itself. */
  bool opens = before != strip && geo_angle_between (ta, tb) > 0;
  bool done = false;
  strip->lead = room->draft;
  geo_chain_reset (&strip->lead.chain);
  if (opens && kind != GEO_CORNER_EXTENDED)
    done = lead_by_kind (before, strip, kind);
  if (opens && !done && kind > GEO_CORNER_SQUARED)
    done = lead_by_kind (before, strip, GEO_CORNER_SQUARED);
  if (!done)
    lead_extended (before, strip, tolerance);
  absorb (before, strip);
  geo_strip_keep_draft (&strip->lead, room);
}
