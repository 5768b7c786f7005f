/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Guides.
 *
 * The curve through points leaves each inner one along the tangent of the circle through it and its two
 * neighbours, and the ends as the circle through the last three does. Where chord c and tangent
 * make the angle b, the handle is c / (3 cos^2 (b / 2)) long: exact for an arc's usual cubic
 * (4/3 tan (a / 4) R, with c = 2 R sin (a / 2), b = a / 2). So points of a circle give its arcs. Then the curve is made fair,
 * the points held. */
#include "drafting/guides.h"

#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edit-private.h"
#include "geometry/crossing.h"
#include "geometry/fair.h"
#include "geometry/length.h"
#include "geometry/nearest.h"

#define APART 1e-6   /* mm: points nearer are one */
#define WITHIN 2.0   /* mm the fairing may leave the first curve by */
#define FLATTEST 3.0 /* radians: b at most; the handle grows without bound */

/* --- the curve ------------------------------------------------------------------------------ */
/* Direction at b of the circle through a, b, c: the chords' directions, each weighed by
 * the other's length. */
static GeoPoint
tangent_at (GeoPoint a, GeoPoint b, GeoPoint c)
{
  GeoPoint in = geo_sub (b, a), out = geo_sub (c, b);
  double l = geo_norm (in), m = geo_norm (out);
  GeoPoint way = geo_add (geo_scale (in, m / l), geo_scale (out, l / m));
  way = geo_unit (way);
  return geo_norm (way) > 0 ? way : geo_unit (geo_left (in));
}

/* The direction mirrored in a chord: what the circle that leaves its start by it arrives at its end by. */
static GeoPoint
mirrored (GeoPoint way, GeoPoint chord)
{
  GeoPoint on = geo_unit (chord);
  return geo_sub (geo_scale (on, 2 * geo_dot (way, on)), way);
}

static double
handle_of (GeoPoint chord, GeoPoint way)
{
  double b = fabs (geo_angle_between (chord, way));
  double half = cos (fmin (b, FLATTEST) / 2);
  return geo_norm (chord) / (3 * half * half);
}

static GArray *
distinct (const GeoPoint *points, guint n)
{
  GArray *kept = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  for (guint i = 0; i < n; i++)
    if (kept->len == 0
        || geo_distance (points[i],
                         g_array_index (kept, GeoPoint, kept->len - 1))
               > APART)
      g_array_append_val (kept, points[i]);
  return kept;
}

static void
append_spans (const GeoPoint *p, guint n, GeoChain *curve)
{
  g_autofree GeoPoint *ways = g_new (GeoPoint, n);
  for (guint i = 1; i + 1 < n; i++)
    ways[i] = tangent_at (p[i - 1], p[i], p[i + 1]);
  ways[0] = mirrored (ways[1], geo_sub (p[1], p[0]));
  ways[n - 1] = mirrored (ways[n - 2], geo_sub (p[n - 1], p[n - 2]));
  for (guint i = 0; i + 1 < n; i++)
    {
      GeoPoint chord = geo_sub (p[i + 1], p[i]);
      GeoCubic c = {
        { p[i], geo_along (p[i], ways[i], handle_of (chord, ways[i])),
          geo_along (p[i + 1], ways[i + 1], -handle_of (chord, ways[i + 1])),
          p[i + 1] }
      };
      geo_chain_append (curve, c);
    }
}

void
drafting_curve_through (const GeoPoint *points, guint n, GeoChain *curve)
{
  g_autoptr (GArray) kept = distinct (points, n);
  const GeoPoint *p = (const GeoPoint *)(gpointer)kept->data;
  if (kept->len < 2)
    return;
  if (kept->len == 2)
    {
      geo_chain_append_line (curve, p[0], p[1]);
      return;
    }
  GeoChain raw = GEO_CHAIN_EMPTY, fair = GEO_CHAIN_EMPTY;
  append_spans (p, kept->len, &raw);
  g_autofree size_t *pins = g_new (size_t, raw.count);
  for (size_t i = 1; i < raw.count; i++)
    pins[i - 1] = i;
  GeoFairWish wish = geo_fair_wish (WITHIN);
  wish.pins = pins;
  wish.pin_count = raw.count - 1;
  gboolean better = raw.count > 1 && geo_chain_fair (&raw, &wish, &fair);
  geo_chain_append_chain (curve, better ? &fair : &raw);
  geo_chain_clear (&raw);
  geo_chain_clear (&fair);
}

/* --- points --------------------------------------------------------------------------------- */
/* A cross: out and back along four strokes would fill a line with nodes; an x of two strokes
 * through the middle does with five. */
static Pattern *
add_cross (const Pattern *p, GeoPoint at, const char *name, GError **error)
{
  if (!drafting_point_is_good (at, error))
    return NULL;
  double r = DRAFTING_CROSS;
  const GeoPoint ends[]
      = { { at.x - r, at.y - r }, at, { at.x + r, at.y + r }, at,
          { at.x + r, at.y - r }, at, { at.x - r, at.y + r } };
  GeoChain cross = GEO_CHAIN_EMPTY;
  for (guint i = 0; i + 1 < G_N_ELEMENTS (ends); i++)
    geo_chain_append_line (&cross, ends[i], ends[i + 1]);
  Pattern *result = drafting_add_line (p, name, &cross, error);
  geo_chain_clear (&cross);
  return result;
}

gboolean
drafting_guide_is_point (const PatternLine *line, GeoPoint *at)
{
  if (line->n_nodes != 7)
    return FALSE;
  GeoPoint middle = line->nodes[1].at;
  for (guint i = 0; i < 7; i++)
    {
      double far = geo_distance (line->nodes[i].at, middle);
      if (i % 2 == 1 ? far > 1e-6
                     : fabs (far - DRAFTING_CROSS * G_SQRT2) > 1e-3)
        return FALSE;
    }
  *at = middle;
  return TRUE;
}

const PatternLine *
drafting_find_guide (const Pattern *p, const char *name)
{
  g_autofree char *wanted = g_utf8_casefold (name ? name : "", -1);
  for (guint i = 0; i < p->n_lines; i++)
    {
      g_autofree char *own = g_utf8_casefold (p->lines[i].name, -1);
      if (strcmp (own, wanted) == 0)
        return &p->lines[i];
    }
  return NULL;
}

static GeoPoint
way_of (double angle)
{
  return geo_point (cos (angle * G_PI / 180), -sin (angle * G_PI / 180));
}

static gboolean
are_good (GeoPoint from, double distance, double angle, GError **error)
{
  return drafting_point_is_good (from, error)
         && drafting_number_is_good (distance, error)
         && drafting_number_is_good (angle, error);
}

Pattern *
drafting_guide_point (const Pattern *p, GeoPoint from, double distance,
                      double angle, const char *name, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!are_good (from, distance, angle, error))
    return NULL;
  return add_cross (p, geo_along (from, way_of (angle), distance), name, error);
}

static Pattern *
add_straight (const Pattern *p, GeoPoint from, GeoPoint to, const char *name,
              GError **error)
{
  if (geo_distance (from, to) < APART)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("A line needs some length. Nothing was added."));
      return NULL;
    }
  GeoChain line = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&line, from, to);
  Pattern *result = drafting_add_line (p, name, &line, error);
  geo_chain_clear (&line);
  return result;
}

Pattern *
drafting_guide_line (const Pattern *p, GeoPoint from, double distance,
                     double angle, const char *name, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!are_good (from, distance, angle, error))
    return NULL;
  return add_straight (p, from, geo_along (from, way_of (angle), distance),
                       name, error);
}

/* --- on an edge -------------------------------------------------------------------------------- */
static gboolean
on_edge (const Pattern *p, const DraftingPlace *place, GeoPoint *at,
         GeoPoint *inward, GError **error)
{
  const PatternPiece *piece = drafting_find_piece (p, place->piece, error);
  int edge = piece ? drafting_find_edge (piece, place->edge, error) : -1;
  if (edge < 0 || !drafting_number_is_good (place->at, error))
    return FALSE;
  double length = drafting_edge_length (piece, (guint)edge);
  if (place->at < -APART || place->at > length + APART)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("That place is beyond the edge's end. Nothing "
                               "was added."));
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, (guint)edge, &chain);
  GeoPlace on = geo_chain_at_length (&chain, place->at, DRAFTING_EXACT);
  *at = geo_chain_point (&chain, on);
  *inward = geo_left (geo_chain_tangent (&chain, on));
  geo_chain_clear (&chain);
  return TRUE;
}

Pattern *
drafting_guide_on_edge (const Pattern *p, DraftingPlace at, const char *name,
                        GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  GeoPoint point, inward;
  return on_edge (p, &at, &point, &inward, error)
             ? add_cross (p, point, name, error)
             : NULL;
}

Pattern *
drafting_guide_square (const Pattern *p, DraftingPlace at, double length,
                       const char *name, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  GeoPoint point, inward;
  if (!drafting_number_is_good (length, error)
      || !on_edge (p, &at, &point, &inward, error))
    return NULL;
  return add_straight (p, point, geo_along (point, inward, length), name,
                       error);
}

/* --- the meeting of two ------------------------------------------------------------------------ */
static gboolean
guide_chain (const Pattern *p, const char *name, double reach, GeoChain *chain,
             GError **error)
{
  const PatternLine *line = drafting_find_guide (p, name);
  GeoPoint middle;
  if (!line)
    return drafting_refuse (error, DRAFTING_ERROR_GONE,
                            _ ("There is no guide called “%s”."), name);
  if (drafting_guide_is_point (line, &middle))
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("“%s” is a point; two lines are needed to "
                               "meet."),
                            name);
  GeoChain own = GEO_CHAIN_EMPTY;
  pattern_line_chain (line, &own);
  GeoPoint start = geo_chain_start (&own), end = geo_chain_end (&own);
  GeoPoint back = geo_chain_tangent (&own, (GeoPlace){ 0, 0 });
  GeoPoint on = geo_chain_tangent (&own, (GeoPlace){ own.count - 1, 1 });
  geo_chain_append_line (chain, geo_along (start, back, -reach), start);
  geo_chain_append_chain (chain, &own);
  geo_chain_append_line (chain, end, geo_along (end, on, reach));
  geo_chain_clear (&own);
  return TRUE;
}

/* How far a place is from what was drawn of both lines. */
static double
beyond (const Pattern *p, const char *one, const char *two, GeoPoint at)
{
  const char *names[2] = { one, two };
  double far = 0;
  for (int i = 0; i < 2; i++)
    {
      GeoChain own = GEO_CHAIN_EMPTY;
      pattern_line_chain (drafting_find_guide (p, names[i]), &own);
      far += geo_chain_nearest (&own, at, NULL);
      geo_chain_clear (&own);
    }
  return far;
}

Pattern *
drafting_guide_meeting (const Pattern *p, const char *one, const char *two,
                        const char *name, GError **error)
{
  g_return_val_if_fail (p != NULL && one != NULL && two != NULL, NULL);
  GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
  Pattern *result = NULL;
  const double reach = 2000; /* mm: a table's length */
  if (guide_chain (p, one, reach, &a, error)
      && guide_chain (p, two, reach, &b, error))
    {
      GeoCrossings met;
      geo_crossings_init (&met);
      geo_chain_crossings (&a, &b, &met);
      double least = INFINITY;
      GeoPoint at = { 0, 0 };
      for (size_t i = 0; i < met.count; i++)
        {
          double far = beyond (p, one, two, met.items[i].at);
          if (far < least)
            {
              least = far;
              at = met.items[i].at;
            }
        }
      geo_crossings_clear (&met);
      if (least < INFINITY)
        result = add_cross (p, at, name, error);
      else
        drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                         _ ("“%s” and “%s” do not meet, even drawn on by 2 m. "
                            "Nothing was added."),
                         one, two);
    }
  geo_chain_clear (&a);
  geo_chain_clear (&b);
  return result;
}

/* --- arcs and curves ------------------------------------------------------------------------------ */
Pattern *
drafting_guide_arc (const Pattern *p, GeoPoint centre, GeoPoint from,
                    double length, const char *name, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!drafting_point_is_good (centre, error)
      || !drafting_point_is_good (from, error)
      || !drafting_number_is_good (length, error))
    return NULL;
  double radius = geo_distance (centre, from);
  double turn = radius > APART ? length / radius : 0;
  if (radius <= APART || fabs (length) < APART || fabs (turn) > 2 * G_PI + 1e-9)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("An arc needs a centre apart from its start, and a "
                          "length of at most the whole circle. Nothing was "
                          "added."));
      return NULL;
    }
  guint n = (guint)ceil (fabs (turn) / (G_PI / 4));
  double at = atan2 (from.y - centre.y, from.x - centre.x);
  GeoChain arc = GEO_CHAIN_EMPTY;
  /* Against the clock is against y, which runs down. */
  for (guint i = 0; i < n; i++)
    geo_chain_append (&arc, geo_cubic_arc (centre, radius, at - turn * i / n,
                                           at - turn * (i + 1) / n));
  Pattern *result = drafting_add_line (p, name, &arc, error);
  geo_chain_clear (&arc);
  return result;
}

Pattern *
drafting_guide_curve (const Pattern *p, const GeoPoint *points, guint n,
                      const char *name, GError **error)
{
  g_return_val_if_fail (p != NULL && (n == 0 || points != NULL), NULL);
  for (guint i = 0; i < n; i++)
    if (!drafting_point_is_good (points[i], error))
      return NULL;
  GeoChain curve = GEO_CHAIN_EMPTY;
  drafting_curve_through (points, n, &curve);
  Pattern *result = drafting_add_line (p, name, &curve, error);
  geo_chain_clear (&curve);
  return result;
}

Pattern *
drafting_remove_guide (const Pattern *p, const char *name, GError **error)
{
  g_return_val_if_fail (p != NULL && name != NULL, NULL);
  const PatternLine *line = drafting_find_guide (p, name);
  if (!line)
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("There is no guide called “%s”."), name);
      return NULL;
    }
  Pattern *result = pattern_dup (p);
  pattern_remove_line (result, line->id);
  return result;
}
