/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A strip is swept by the stitch line moving outward along its normals,
 * P + s w N for s from 0 to 1 with N outward, and covers the plane positively
 * while 1 + s w k > 0, k < 0 being hollow. Where 1 + w k < 0 it would turn
 * back on itself past the depth 1 / |k|. Points beyond that depth have a
 * nearer place on the stitch line, so the sweep may stop there: such a span of
 * the parallel is left out and the line goes along the centres of curvature
 * instead. Then every part of every strip counts positively, and the ring is
 * simply the border of what is covered at all, with no swallow-tails to tell
 * from the rest. The centres are nearer than w to the stitch line, hence
 * only on the border about the end of an edge.
 */
#include "geometry/ring-strip.h"

#include "geometry/memory.h"
#include "geometry/parallel.h"

#include <string.h>

#define DEEPEST 9  /* halvings of a span along its centres */
#define CHORD 1e-3 /* mm by which a line may stand off them */
/* Hollows shorter than this are a matter of how a curve ends: mm. */
#define SHORTEST_HOLLOW 0.5

void
geo_strip_room_clear (GeoStripRoom *room)
{
  geo_pool_clear (&room->pool);
  geo_tagged_clear (&room->draft);
  geo_chain_clear (&room->parallel);
}

void
geo_strip_keep_draft (GeoTagged *drafted, GeoStripRoom *room)
{
  size_t count = drafted->chain.count;
  GeoTagged kept = { .chain = { NULL, count, 0 } };
  if (count > 0)
    {
      kept.chain.cubics = geo_pool_take (&room->pool, count, sizeof (GeoCubic));
      kept.tags = geo_pool_take (&room->pool, count, sizeof *kept.tags);
      memcpy (kept.chain.cubics, drafted->chain.cubics,
              count * sizeof (GeoCubic));
      memcpy (kept.tags, drafted->tags, count * sizeof *kept.tags);
    }
  room->draft = *drafted;
  *drafted = kept;
}

static double
depth_at (const GeoCubic *c, double t, double width)
{
  double k = geo_cubic_curvature (c, t);
  return k < 0 ? fmin (width, -1 / k) : width;
}

static void
line_to (GeoTagged *line, GeoPoint start, GeoPoint to)
{
  if (line->chain.count > 0)
    geo_tagged_line_to (line, to, GEO_RING_CORNER);
  else if (geo_distance (start, to) > 0)
    geo_tagged_append (line, geo_cubic_line (start, to), GEO_RING_CORNER);
}

/* P + depth N at t: on the evolute, or on the parallel. */
static GeoPoint
centre_at (const GeoStrip *strip, const GeoCubic *c, double t)
{
  GeoPoint n = geo_left (geo_cubic_tangent (c, t));
  return geo_along (geo_cubic_point (c, t), n, -depth_at (c, t, strip->width));
}

typedef struct
{
  double t;
  GeoPoint at;
} Centre;

static void
lay_centres_between (GeoStrip *strip, const GeoCubic *c, GeoPoint start,
                     Centre a, Centre b, int depth)
{
  Centre m = { .t = (a.t + b.t) / 2 };
  m.at = centre_at (strip, c, m.t);
  GeoPoint u = geo_sub (b.at, a.at), r = geo_sub (m.at, a.at);
  double length = geo_norm (u);
  double off = length > 0 ? fabs (geo_cross (u, r)) / length : geo_norm (r);
  bool inside = geo_dot (u, r) >= 0 && geo_dot (u, geo_sub (b.at, m.at)) >= 0;
  if (depth >= DEEPEST
      || (depth >= 3 && off < CHORD && (inside || length < CHORD)))
    {
      line_to (&strip->line, start, b.at);
      return;
    }
  lay_centres_between (strip, c, start, a, m, depth + 1);
  lay_centres_between (strip, c, start, m, b, depth + 1);
}

static void
lay_centres (GeoStrip *strip, const GeoCubic *c, const GeoParallelSpan *span,
             GeoPoint start, GeoPoint end)
{
  Centre a = { span->t0, centre_at (strip, c, span->t0) };
  Centre b = { span->t1, centre_at (strip, c, span->t1) };
  line_to (&strip->line, start, a.at);
  lay_centres_between (strip, c, start, a, b, 0);
  line_to (&strip->line, start, end);
}

/* Tightest radius in the stretch, looked for where it can be. */
static double
tightest_in (const GeoCubic *c, double t0, double t1, double width)
{
  double places[5 + 17], tight = width;
  int count = geo_cubic_curvature_extrema (c, places);
  for (int i = 0; i <= 16; i++)
    places[count++] = t0 + (t1 - t0) * i / 16;
  for (int i = 0; i < count; i++)
    if (places[i] >= t0 && places[i] <= t1)
      tight = fmin (tight, depth_at (c, places[i], width));
  return tight < 1e-8 ? 0 : tight;
}

static void
note_hollow (const GeoStrip *strip, size_t index, const GeoParallelSpan *span,
             GeoRing *ring)
{
  const GeoCubic *c = &strip->stitch.cubics[index];
  GeoStripOrigin origin = geo_strip_origin (strip, index);
  double t0 = origin.t0 + (origin.t1 - origin.t0) * span->t0;
  double t1 = origin.t0 + (origin.t1 - origin.t0) * span->t1;
  GeoHollow hollow = { strip->edge,
                       { origin.cubic, fmin (t0, t1) },
                       { origin.cubic, fmax (t0, t1) },
                       tightest_in (c, span->t0, span->t1, strip->width) };
  GeoHollow *last
      = ring->hollow_count ? &ring->hollows[ring->hollow_count - 1] : NULL;
  if (last && last->edge == hollow.edge
      && (geo_place_compare (last->to, hollow.from) == 0
          || (last->to.cubic == hollow.from.cubic
              && fabs (last->to.t - hollow.from.t) < 1e-6)))
    {
      last->to = hollow.to;
      last->radius = fmin (last->radius, hollow.radius);
      return;
    }
  GeoCubic part = geo_cubic_part (c, span->t0, span->t1);
  if (geo_cubic_is_point (&part, SHORTEST_HOLLOW))
    return;
  ring->hollows = geo_realloc (ring->hollows, ring->hollow_count + 1,
                               sizeof *ring->hollows);
  ring->hollows[ring->hollow_count++] = hollow;
}

/* The joint between two cubics of one edge: run on where it opens, through the
 * joint where it closes. */
static void
lay_joint (GeoStrip *strip, size_t index, double tolerance)
{
  const GeoCubic *before = &strip->stitch.cubics[index - 1];
  const GeoCubic *c = &strip->stitch.cubics[index];
  GeoPoint arriving = geo_cubic_tangent (before, 1);
  GeoPoint leaving = geo_cubic_tangent (c, 0), v = c->p[0];
  GeoPoint from = geo_chain_end (&strip->line.chain);
  GeoPoint to = geo_along (v, geo_left (leaving), -strip->width);
  double turn = geo_angle_between (arriving, leaving);
  if (geo_distance (from, to) < 1e-9)
    return;
  if (fabs (turn) * strip->width < tolerance / 8)
    geo_tagged_line_to (&strip->line, to, strip->edge);
  else if (turn > 0)
    {
      GeoPoint path[3];
      int count = geo_strip_extend (v, from, arriving, to, leaving,
                                    3 * strip->width, path);
      for (int i = 0; i < count; i++)
        geo_tagged_line_to (&strip->line, path[i], GEO_RING_CORNER);
    }
  else
    {
      geo_tagged_line_to (&strip->line, v, GEO_RING_CORNER);
      geo_tagged_line_to (&strip->line, to, GEO_RING_CORNER);
    }
}

void
geo_strip_lay (GeoStrip *strip, double tolerance, GeoStripRoom *room,
               GeoRing *ring)
{
  GeoParallelSpan spans[GEO_PARALLEL_SPANS];
  GeoChain *raw = &room->parallel;
  size_t n = strip->stitch.count;
  strip->leaving = geo_cubic_tangent (&strip->stitch.cubics[0], 0);
  strip->arriving = geo_cubic_tangent (&strip->stitch.cubics[n - 1], 1);
  strip->line = room->draft;
  geo_chain_reset (&strip->line.chain);
  for (size_t i = 0; i < n; i++)
    {
      const GeoCubic *c = &strip->stitch.cubics[i];
      geo_chain_reset (raw);
      int count
          = geo_cubic_parallel_spans (c, -strip->width, tolerance, raw, spans);
      if (i > 0)
        lay_joint (strip, i, tolerance);
      for (int k = 0; k < count; k++)
        {
          const GeoParallelSpan *span = &spans[k];
          const GeoCubic *first = &raw->cubics[span->first];
          if (span->backwards)
            {
              lay_centres (strip, c, span, first->p[0],
                           first[span->count - 1].p[3]);
              note_hollow (strip, i, span, ring);
            }
          else
            for (size_t j = 0; j < span->count; j++)
              geo_tagged_append (&strip->line, first[j], strip->edge);
        }
    }
  geo_strip_keep_draft (&strip->line, room);
  strip->from = (GeoPlace){ 0, 0 };
  strip->to = (GeoPlace){ strip->line.chain.count - 1, 1 };
}
