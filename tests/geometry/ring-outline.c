/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ring-outline.h"

#include "geometry/crossing.h"
#include "geometry/nearest.h"
#include "geometry/region.h"

void
outline_add_edge (Outline *o, double width)
{
  o->stitch[o->count] = GEO_CHAIN_EMPTY;
  o->edges[o->count]
      = (GeoRingEdge){ .stitch = &o->stitch[o->count], .width = width };
  o->count++;
}

void
outline_add_cubic (Outline *o, GeoCubic c)
{
  geo_chain_append (&o->stitch[o->count - 1], c);
}

void
outline_add_line (Outline *o, double width, double x0, double y0, double x1,
                  double y1)
{
  outline_add_edge (o, width);
  outline_add_cubic (o,
                     geo_cubic_line (geo_point (x0, y0), geo_point (x1, y1)));
}

/* The corner at the end of the last edge but at the start of the next. */
void
outline_set_corner (Outline *o, size_t edge, GeoCornerKind kind,
                    GeoCornerGovernor by)
{
  o->edges[edge].corner = (GeoCorner){ kind, by };
}

Outline *
outline_polygon (const double (*p)[2], size_t count, const double *widths)
{
  Outline *o = g_new0 (Outline, 1);
  for (size_t i = 0; i < count; i++)
    outline_add_line (o, widths[i], p[i][0], p[i][1], p[(i + 1) % count][0],
                      p[(i + 1) % count][1]);
  return o;
}

void
outline_free (Outline *o)
{
  for (size_t i = 0; i < o->count; i++)
    geo_chain_clear (&o->stitch[i]);
  g_free (o);
}

/* One arc, in parts of at most 30 degrees, on the last edge. */
void
outline_add_arc (Outline *o, GeoPoint centre, double radius, double a0,
                 double a1)
{
  int n = (int)ceil (fabs (a1 - a0) / (30 * DEGREE) - 1e-9);
  for (int i = 0; i < n; i++)
    outline_add_cubic (o, geo_cubic_arc (centre, radius, a0 + (a1 - a0) * i / n,
                                         a0 + (a1 - a0) * (i + 1) / n));
}

void
outline_print (const Outline *o)
{
  for (size_t i = 0; i < o->count; i++)
    for (size_t j = 0; j < o->stitch[i].count; j++)
      {
        const GeoPoint *p = o->stitch[i].cubics[j].p;
        g_test_message ("edge %zu width %.17g corner %d %d: %.17g %.17g  %.17g "
                        "%.17g  %.17g %.17g  %.17g %.17g",
                        i, o->edges[i].width, (int)o->edges[i].corner.kind,
                        (int)o->edges[i].corner.governor, p[0].x, p[0].y,
                        p[1].x, p[1].y, p[2].x, p[2].y, p[3].x, p[3].y);
      }
}

void
ring_print (const GeoRing *ring)
{
  for (size_t i = 0; i < ring->outline.count; i++)
    {
      const GeoPoint *p = ring->outline.cubics[i].p;
      g_test_message ("ring %zd: %.9g %.9g  %.9g %.9g  %.9g %.9g  %.9g %.9g",
                      (gssize)ring->source[i], p[0].x, p[0].y, p[1].x, p[1].y,
                      p[2].x, p[2].y, p[3].x, p[3].y);
    }
}

/* What every ring must be: closed, joined, finite, in order, never crossing
 * itself, the stitch line inside or on it. */
bool
ring_is_sound (const Outline *o, const GeoRing *ring)
{
  const GeoChain *line = &ring->outline;
  GeoCrossings crossings;
  if (!geo_chain_is_closed (line) || !(ring->area > 0))
    return false;
  for (size_t i = 0; i < line->count; i++)
    {
      const GeoPoint *p = line->cubics[i].p;
      for (int j = 0; j < 4; j++)
        if (!isfinite (p[j].x) || !isfinite (p[j].y))
          return false;
      if (i > 0 && !geo_same (line->cubics[i - 1].p[3], p[0]))
        return false;
      if (ring->source[i] != GEO_RING_CORNER && ring->source[i] >= o->count)
        return false;
    }
  geo_crossings_init (&crossings);
  geo_chain_self_crossings (line, &crossings);
  for (size_t i = 0; i < crossings.count; i++)
    g_test_message ("crosses itself at %.9g %.9g: %zu %g, %zu %g",
                    crossings.items[i].at.x, crossings.items[i].at.y,
                    crossings.items[i].a.cubic, crossings.items[i].a.t,
                    crossings.items[i].b.cubic, crossings.items[i].b.t);
  bool sound = crossings.count == 0;
  geo_crossings_clear (&crossings);
  return sound;
}

/* A spur that is all but out and back on the same line has none. */
static bool
has_inside (const Outline *o, const GeoCubic *c, double t)
{
  GeoPoint n = geo_left (geo_cubic_tangent (c, t));
  bool any = false;
  GeoChain all = GEO_CHAIN_EMPTY;
  for (size_t i = 0; i < o->count; i++)
    geo_chain_append_chain (&all, &o->stitch[i]);
  for (int side = -1; side <= 1; side += 2)
    {
      GeoPoint p = geo_along (geo_cubic_point (c, t), n, 0.02 * side);
      any |= geo_chain_winding (&all, p) != 0;
    }
  geo_chain_clear (&all);
  return any;
}

bool
ring_holds_stitch (const Outline *o, const GeoRing *ring)
{
  for (size_t i = 0; i < o->count; i++)
    for (size_t j = 0; j < o->stitch[i].count; j++)
      for (int k = 0; k < 8; k++)
        {
          GeoPoint p = geo_cubic_point (&o->stitch[i].cubics[j], (k + 0.5) / 8);
          if (geo_chain_winding (&ring->outline, p) != 1
              && geo_chain_nearest (&ring->outline, p, NULL) > 0.02
              && has_inside (o, &o->stitch[i].cubics[j], (k + 0.5) / 8))
            {
              g_test_message ("stitch point %g %g is outside", p.x, p.y);
              return false;
            }
        }
  return true;
}

GeoRing
outline_ring (const Outline *o)
{
  GeoRing ring;
  geo_ring_init (&ring);
  bool made = geo_ring_make (o->edges, o->count, 0.01, &ring);
  if (!made || !ring_is_sound (o, &ring) || !ring_holds_stitch (o, &ring))
    {
      outline_print (o);
      ring_print (&ring);
      g_assert_not_reached ();
    }
  return ring;
}

size_t
ring_hits_at (const GeoRing *ring, double x, double y)
{
  size_t hits = 0;
  for (size_t i = 0; i < ring->outline.count; i++)
    hits
        += geo_distance (ring->outline.cubics[i].p[0], geo_point (x, y)) < 1e-6;
  return hits;
}

/* Random outlines about a centre: nodes at uneven angles and radii, joined
 * by lines and curves, smooth or not. */
Outline *
outline_random (int nodes, double inner, double outer, double rough)
{
  Outline *o = g_new0 (Outline, 1);
  GeoPoint p[MOST], tangent[MOST];
  for (int i = 0; i < nodes; i++)
    {
      double a = 2 * M_PI * (i + g_test_rand_double_range (-0.3, 0.3)) / nodes;
      double r = g_test_rand_double_range (inner, outer);
      p[i] = geo_point (r * cos (a), r * sin (a));
    }
  for (int i = 0; i < nodes; i++)
    tangent[i] = geo_scale (
        geo_sub (p[(i + 1) % nodes], p[(i + nodes - 1) % nodes]), 0.17);
  for (int i = 0; i < nodes; i++)
    {
      int j = (i + 1) % nodes;
      if (i == 0 || g_test_rand_int_range (0, 3))
        outline_add_edge (o, 0);
      GeoCubic c = geo_cubic_line (p[i], p[j]);
      if (g_test_rand_int_range (0, 4))
        {
          GeoPoint off = { g_test_rand_double_range (-rough, rough),
                           g_test_rand_double_range (-rough, rough) };
          c.p[1] = geo_add (geo_add (p[i], tangent[i]), off);
          c.p[2] = geo_sub (p[j], tangent[j]);
        }
      outline_add_cubic (o, c);
    }
  return o;
}

bool
outline_is_simple (const Outline *o)
{
  GeoChain all = GEO_CHAIN_EMPTY;
  GeoCrossings list;
  for (size_t i = 0; i < o->count; i++)
    geo_chain_append_chain (&all, &o->stitch[i]);
  geo_crossings_init (&list);
  geo_chain_self_crossings (&all, &list);
  bool simple = list.count == 0 && geo_chain_area (&all) > 100;
  geo_crossings_clear (&list);
  geo_chain_clear (&all);
  return simple;
}

double
outline_distance (const Outline *o, GeoPoint q)
{
  double near = INFINITY;
  for (size_t i = 0; i < o->count; i++)
    near = MIN (near, geo_chain_nearest (&o->stitch[i], q, NULL));
  return near;
}

static GeoPoint
wild_place (OutlineWild kind, double scale)
{
  if (kind == OUTLINE_LATTICE)
    {
      double x = g_test_rand_int_range (-4, 5) * scale;
      return geo_point (x, g_test_rand_int_range (-4, 5) * scale);
    }
  double x = g_test_rand_double_range (-4, 5) * scale;
  return geo_point (x, g_test_rand_double_range (-4, 5) * scale);
}

static GeoCubic
wild_cubic (GeoPoint from, GeoPoint to, double scale)
{
  GeoCubic c = geo_cubic_line (from, to);
  int way = g_test_rand_int_range (0, 5);
  for (int k = 1; k < 3 && way < 3; k++)
    {
      double x = g_test_rand_double_range (-5, 5) * scale;
      c.p[k] = geo_point (x, g_test_rand_double_range (-5, 5) * scale);
    }
  if (way == 1)
    c.p[1] = c.p[0];
  if (way == 2)
    c.p[2] = geo_along (c.p[3], geo_point (1, 0), 1e-3);
  return c;
}

Outline *
outline_wild (OutlineWild kind)
{
  Outline *o = g_new0 (Outline, 1);
  int n = g_test_rand_int_range (2, 9);
  double scale = g_test_rand_int_range (0, 4) ? 100 : 8;
  GeoPoint first = { 0, 0 }, from = first;
  for (int j = 0; j < n; j++)
    {
      GeoPoint to = j == n - 1 ? first : wild_place (kind, scale);
      GeoCubic c = wild_cubic (from, to, scale);
      outline_add_edge (o,
                        g_test_rand_int_range (kind == OUTLINE_WIDE, 4) * 7.5);
      GeoCornerKind corner = (GeoCornerKind)g_test_rand_int_range (0, 4);
      outline_set_corner (o, o->count - 1, corner,
                          (GeoCornerGovernor)g_test_rand_int_range (0, 2));
      outline_add_cubic (o, c);
      from = to;
    }
  return o;
}

bool
outline_check_wild (const Outline *o, OutlineWild kind)
{
  GeoRing ring;
  geo_ring_init (&ring);
  bool made = geo_ring_make (o->edges, o->count, 0.01, &ring);
  bool good = !made || geo_chain_is_closed (&ring.outline);
  for (size_t j = 0; j < ring.outline.count; j++)
    for (int k = 0; k < 4; k++)
      good = good && isfinite (ring.outline.cubics[j].p[k].x)
             && isfinite (ring.outline.cubics[j].p[k].y);
  if (made && kind == OUTLINE_WIDE)
    good = good && ring_is_sound (o, &ring);
  if (made && kind != OUTLINE_LATTICE)
    good = good && ring_holds_stitch (o, &ring);
  if (!good)
    {
      outline_print (o);
      ring_print (&ring);
      g_assert_not_reached ();
    }
  geo_ring_clear (&ring);
  return made;
}

void
outline_check_even (const Outline *o, double w)
{
  GeoRing ring = outline_ring (o);
  for (size_t j = 0; j < ring.outline.count; j++)
    for (int k = 0; k < 7; k++)
      {
        GeoPoint q = geo_cubic_point (&ring.outline.cubics[j], k / 7.0);
        double near = outline_distance (o, q);
        if (near < w - 0.01 || near > 3.2 * w + 0.01)
          {
            g_test_message ("%g %g at %g of %g", q.x, q.y, near, w);
            outline_print (o);
          }
        g_assert_cmpfloat (near, >=, w - 0.01);
        g_assert_cmpfloat (near, <=, 3.2 * w + 0.01);
      }
  geo_ring_clear (&ring);
}
