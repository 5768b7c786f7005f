/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bands and falls: the neck edge an arc of the neckline's length, the far edge its parallel. An edge that
 * turns by t has a parallel at h shorter by h t, so the turn is bend / height: bands
 * that lean in to the neck bend up (bend > 0), falls that lie over them down.
 */
#include "drafting/collar.h"
#include "drafting/trace.h"

#define MOST_TURN 3.0 /* radians */

typedef struct
{
  double turn, length; /* over the length */
} Arc;

/* x along, y up the sheet negative; at s from the start, off it by h towards the far
 * edge (up). The arc starts level. */
static GeoPoint
arc_at (const Arc *arc, double s, double h)
{
  double k = arc->turn / arc->length, a = k * s;
  /* (1 - cos a) / k and sin a / k, also for k near 0. */
  double half = a / 2;
  double sinc = fabs (half) < 1e-9 ? 1 : sin (half) / half;
  double chord = s * sinc;
  return geo_point (chord * cos (half) - h * sin (a),
                    -chord * sin (half) - h * cos (a));
}

/* Arcs of at most an eighth of a turn, from s0 to s1. */
static void
add_arc (const Arc *arc, double s0, double s1, double h, GeoChain *out)
{
  int n = (int)ceil (fabs (arc->turn / arc->length * (s1 - s0)) / (G_PI / 8)
                     - 1e-9);
  n = MAX (n, 2);
  for (int i = 0; i < n; i++)
    {
      double a = s0 + (s1 - s0) * i / n, b = s0 + (s1 - s0) * (i + 1) / n;
      double k = arc->turn / arc->length, t0 = k * a, t1 = k * b;
      GeoPoint way = geo_point (s1 > s0 ? 1 : -1, 0);
      GeoPoint out_way = geo_point (way.x * cos (t0), -way.x * sin (t0));
      GeoPoint in_way = geo_point (way.x * cos (t1), -way.x * sin (t1));
      geo_chain_append (out, drafting_trace_arc (arc_at (arc, a, h), out_way,
                                                 arc_at (arc, b, h), in_way));
    }
}

/* An arc is drawn a trifle too short or too long by cubics: less than 1e-6 of it. */
static gboolean
fits (const DraftingBandWish *w)
{
  return w->neck > 1 && w->height >= 1 && w->corner >= 0 && w->extension >= 0
         && fabs (w->bend) < w->height * MOST_TURN && w->bend < w->neck * 0.95
         && w->point > -w->neck / 2;
}

/* Leads the far edge straight on past its end, where the direction is known. */
static void
carry_on (GeoChain *outer, double by)
{
  if (by == 0)
    return;
  GeoPlace last = { outer->count - 1, 1 };
  GeoPoint end = geo_chain_end (outer);
  geo_chain_append_line (outer, end,
                         geo_along (end, geo_chain_tangent (outer, last), by));
}

static gboolean
build (const DraftingBandWish *w, const Arc *arc, DraftingShape *shape)
{
  double from = w->whole ? -w->neck / 2 : 0;
  double to = w->whole ? w->neck / 2 : w->neck;
  double out_to = to + w->extension;
  double out_from = w->whole ? from - w->extension : from;
  GeoChain *neck = drafting_shape_add (shape, "neck");
  add_arc (arc, from, to, 0, neck);
  if (w->extension > 0)
    add_arc (arc, to, out_to, 0, drafting_shape_add (shape, "extension"));
  GeoPoint end = arc_at (arc, out_to, 0), start = arc_at (arc, out_from, 0);
  GeoChain outer = GEO_CHAIN_EMPTY, tip = GEO_CHAIN_EMPTY,
           other = GEO_CHAIN_EMPTY;
  add_arc (arc, out_from, out_to, w->height, &outer);
  carry_on (&outer, w->point);
  if (w->whole)
    {
      geo_chain_reverse (&outer);
      carry_on (&outer, w->point);
      geo_chain_reverse (&outer);
    }
  gboolean drawn = w->corner <= 0
                   || drafting_collar_round (&outer, end, w->corner, -1, &tip);
  if (drawn && w->whole && w->corner > 0)
    {
      geo_chain_reverse (&outer);
      drawn = drafting_collar_round (&outer, start, w->corner, 1, &other);
      geo_chain_reverse (&outer);
    }
  drafting_shape_add_line (shape, "end",
                           tip.count > 0 ? geo_chain_end (&tip)
                                         : geo_chain_end (&outer));
  geo_chain_reverse (&tip);
  if (tip.count > 0)
    geo_chain_copy (drafting_shape_add (shape, "tip"), &tip);
  geo_chain_reverse (&outer);
  geo_chain_copy (drafting_shape_add (shape, "outer"), &outer);
  if (other.count > 0)
    geo_chain_copy (drafting_shape_add (shape, "other-tip"), &other);
  drafting_shape_add_line (shape, w->whole ? "other-end" : "centre", start);
  if (w->whole && w->extension > 0)
    add_arc (arc, out_from, from, 0,
             drafting_shape_add (shape, "other-extension"));
  geo_chain_clear (&outer);
  geo_chain_clear (&tip);
  geo_chain_clear (&other);
  return drawn;
}

gboolean
drafting_band_shape (const DraftingBandWish *wish, DraftingShape *shape)
{
  drafting_shape_clear (shape);
  if (!fits (wish))
    return FALSE;
  Arc arc = { wish->bend / wish->height, wish->neck };
  return build (wish, &arc, shape) && drafting_shape_is_sound (shape);
}
