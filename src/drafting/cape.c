/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cape. Each half is drafted by itself, its centre upright: the shoulder is carried on past its end
 * by the ease to C, where it turns into the side line, which falls at the slope; the turn is rounded from a
 * reach before C to A, the same reach behind it. Joined along the side lines, from A down, the two halves are
 * one piece, and what stands open above A is the shoulder's dart, its legs the two
 * shoulder lines: rounded, so that it ends without a point.
 *
 * The hem is level: every place of it as far below the neck point as the length says, going down the
 * centres, and down the side line from C, which lies lower by what the shoulder falls.
 *
 * Panel seams run straight from the neck to the hem, and both edges of a seam bow out from that line by
 * flare (s / length)^2: a parabola, so exactly one cubic, and the two are mirror images, so exactly
 * of one length. The hem meets each edge at the angle it met the line: turned by as much as the edge
 * is, so that it runs on across the seam.
 */
#include "drafting/cape.h"

#include "drafting/trace.h"

#define DEGREES (G_PI / 180)
#define LEAST_TURN (5 * DEGREES) /* of the shoulder into the side line */
#define LEAST_NECK 5.0           /* mm left of each part of the neck */
#define LEAST_LENGTH 100.0

/* One half, drafted. */
typedef struct
{
  GeoChain neck;                /* lowered, from the centre to the neck point */
  double neck_length, panel_at; /* length of it where the panel seam starts */
  GeoPoint k, h;                /* the panel seam's line */
  GeoPoint hem_way;             /* of the hem there, away from the centre */
  GeoCubic inner,
      outer; /* panel edges of the centre's and of the side's part */
  GeoPoint inner_way, outer_way; /* of the hem at their ends */
  GeoChain leg;                  /* from the neck point to a */
  GeoPoint c, a, v;              /* v: the side line's direction */
  GeoPoint hem_centre, hem_side;
} Part;

static void
part_clear (Part *part)
{
  geo_chain_clear (&part->neck);
  geo_chain_clear (&part->leg);
}

/* --- neck ---------------------------------------------------------------------- */

typedef struct
{
  GeoRuler ruler;
  GeoPoint at_centre, at_point;
} Lowered;

/* Both ends move, the one going over into the other; level at both, so that
 * directions there stay. */
static GeoPoint
lowered_at (double s, const void *data)
{
  const Lowered *l = data;
  double share = drafting_trace_step (s / geo_ruler_length (&l->ruler));
  GeoPoint p = geo_chain_point (l->ruler.chain, geo_ruler_place (&l->ruler, s));
  return geo_add (p, geo_lerp (l->at_centre, l->at_point, share));
}

static gboolean
draw_neck (const DraftingHalf *half, double lower_centre, double lower_side,
           double panel, Part *part)
{
  Lowered l = { .at_centre = { 0, lower_centre },
                .at_point = geo_scale (half->along, lower_side) };
  geo_ruler_init (&l.ruler, &half->neck, 1e-10);
  GeoChain dense = GEO_CHAIN_EMPTY;
  drafting_trace (lowered_at, &l, 0, geo_ruler_length (&l.ruler), &dense);
  geo_ruler_clear (&l.ruler);
  double length = geo_chain_length (&dense, 1e-9);
  double at[] = { 0, length - panel, length };
  gboolean fits = panel >= LEAST_NECK && length - panel >= LEAST_NECK;
  if (fits)
    {
      drafting_trace_fit (&dense, at, 3, &part->neck);
      part->k = part->neck.cubics[0].p[3];
    }
  geo_chain_clear (&dense);
  return fits;
}

/* --- shoulder ------------------------------------------------------------------- */

static gboolean
draw_leg (const DraftingHalf *half, const DraftingCapeWish *w, Part *part)
{
  double slope = w->slope * DEGREES;
  part->v = geo_point (cos (slope), sin (slope));
  double turn = geo_angle_between (half->along, part->v);
  part->c = geo_along (half->point, half->along, half->shoulder + w->ease);
  part->a = geo_along (part->c, part->v, w->round);
  GeoPoint neck = geo_chain_end (&part->neck);
  GeoPoint from = geo_along (part->c, half->along, -w->round);
  double straight = geo_dot (geo_sub (from, neck), half->along);
  if (turn < LEAST_TURN || slope > G_PI_2 || w->round <= 0 || straight < 1)
    return FALSE;
  geo_chain_append_line (&part->leg, neck, from);
  geo_chain_append (&part->leg,
                    drafting_trace_arc (from, half->along, part->a, part->v));
  return TRUE;
}

/* --- panel seams and hem ---------------------------------------------------------- */

/* Straight from k to h, bowed to one side by the flare at the hem. */
static GeoCubic
panel_edge (const Part *part, double flare)
{
  GeoPoint line = geo_sub (part->h, part->k);
  GeoPoint end = geo_along (part->h, geo_left (geo_unit (line)), flare);
  GeoPoint middle = geo_lerp (part->k, part->h, 0.5);
  return (GeoCubic){ { part->k, geo_lerp (part->k, middle, 2.0 / 3),
                       geo_lerp (end, middle, 2.0 / 3), end } };
}

static GeoPoint
turned_like (GeoPoint way, GeoPoint from, GeoPoint to)
{
  double a = geo_angle_between (from, to), c = cos (a), s = sin (a);
  return geo_point (way.x * c - way.y * s, way.x * s + way.y * c);
}

static gboolean
draw_panel (double centre_length, double side_length, double share,
            const DraftingCapeWish *w, Part *part)
{
  part->hem_centre = geo_point (0, centre_length);
  part->hem_side = geo_along (part->c, part->v, side_length);
  if (side_length < w->round + 10)
    return FALSE;
  GeoPoint level = geo_point (1, 0);
  GeoPoint square = geo_point (part->v.y, -part->v.x);
  GeoCubic hem
      = drafting_trace_arc (part->hem_centre, level, part->hem_side, square);
  double t
      = geo_cubic_at_length (&hem, share * geo_cubic_length (&hem, 1e-9), 1e-9);
  part->h = geo_cubic_point (&hem, t);
  part->hem_way = geo_cubic_tangent (&hem, t);
  /* Away from the centre is to the right of the seam's left normal: the line
     runs down. */
  part->inner = panel_edge (part, -w->flare);
  part->outer = panel_edge (part, w->flare);
  GeoPoint line = geo_sub (part->h, part->k);
  part->inner_way
      = turned_like (part->hem_way, line, geo_cubic_tangent (&part->inner, 1));
  part->outer_way
      = turned_like (part->hem_way, line, geo_cubic_tangent (&part->outer, 1));
  return geo_norm (line) > LEAST_LENGTH;
}

/* The seam of a panel in three: down to the opening, it, and the rest. from and to are
 * lengths. */
static void
cut_panel (const GeoCubic *edge, double from, double to, GeoCubic parts[3])
{
  double t0 = geo_cubic_at_length (edge, from, 1e-10);
  double t1 = geo_cubic_at_length (edge, to, 1e-10);
  parts[0] = geo_cubic_part (edge, 0, t0);
  parts[1] = geo_cubic_part (edge, t0, t1);
  parts[2] = geo_cubic_part (edge, t1, 1);
}

/* --- pieces --------------------------------------------------------------------- */

static void
add_cubic (DraftingShape *shape, const char *part, GeoCubic cubic)
{
  geo_chain_append (drafting_shape_add (shape, part), cubic);
}

/* The hem from a panel edge's end to the centre. */
static GeoCubic
hem_to_centre (const Part *part)
{
  return drafting_trace_arc (part->inner.p[3], geo_scale (part->inner_way, -1),
                             part->hem_centre, geo_point (-1, 0));
}

static void
build_back (const Part *part, DraftingShape *shape)
{
  drafting_shape_clear (shape);
  add_cubic (shape, "neck", part->neck.cubics[0]);
  add_cubic (shape, "panel", part->inner);
  add_cubic (shape, "hem", hem_to_centre (part));
  drafting_shape_add_line (shape, "centre", part->neck.cubics[0].p[0]);
}

/* Turned over, so that the centre is at the right. */
static void
build_front (const Part *part, const DraftingCapeWish *w, DraftingShape *shape)
{
  drafting_shape_clear (shape);
  GeoPoint top = part->neck.cubics[0].p[0], foot = part->hem_centre;
  GeoCubic hem = hem_to_centre (part), parts[3];
  add_cubic (shape, "neck", geo_cubic_reverse (&part->neck.cubics[0]));
  if (w->stand > 0)
    {
      drafting_shape_add_line (shape, "stand", geo_point (-w->stand, top.y));
      drafting_shape_add_line (shape, "front", geo_point (-w->stand, foot.y));
    }
  else
    drafting_shape_add_line (shape, "front", foot);
  GeoChain *edge = drafting_shape_add (shape, "hem");
  if (w->stand > 0)
    geo_chain_append_line (edge, geo_point (-w->stand, foot.y), foot);
  geo_chain_append (edge, geo_cubic_reverse (&hem));
  if (w->opening_length > 0)
    {
      cut_panel (&part->inner, w->opening_from,
                 w->opening_from + w->opening_length, parts);
      add_cubic (shape, "panel-lower", geo_cubic_reverse (&parts[2]));
      add_cubic (shape, "opening", geo_cubic_reverse (&parts[1]));
      add_cubic (shape, "panel-upper", geo_cubic_reverse (&parts[0]));
    }
  else
    add_cubic (shape, "panel-upper", geo_cubic_reverse (&part->inner));
  drafting_shape_move (shape, (GeoMotion){ -1, 0, 0, 0, true });
}

static GeoCubic
moved (const GeoCubic *c, GeoMotion m)
{
  return geo_cubic_transform (c, m);
}

/* Lays the front half so that the side lines are one: turned over, then turned. */
static GeoMotion
front_motion (const Part *back, const Part *front)
{
  GeoMotion m = { 1, 0, 0, 0, true };
  GeoPoint v = geo_motion_turn (m, front->v);
  double turn = geo_angle_between (v, back->v);
  m.c = cos (turn);
  m.s = sin (turn);
  GeoPoint a = geo_motion_turn (m, front->a);
  m.dx = back->a.x - a.x;
  m.dy = back->a.y - a.y;
  return m;
}

static void
add_side_seams (const Part *front, const DraftingCapeWish *w, GeoMotion m,
                DraftingShape *shape)
{
  GeoCubic parts[3];
  if (w->opening_length <= 0)
    {
      add_cubic (shape, "panel-upper", moved (&front->outer, m));
      return;
    }
  cut_panel (&front->outer, w->opening_from,
             w->opening_from + w->opening_length, parts);
  add_cubic (shape, "panel-upper", moved (&parts[0], m));
  add_cubic (shape, "opening", moved (&parts[1], m));
  add_cubic (shape, "panel-lower", moved (&parts[2], m));
}

static void
build_side (const Part *back, const Part *front, const DraftingCapeWish *w,
            DraftingShape *shape)
{
  drafting_shape_clear (shape);
  GeoMotion m = front_motion (back, front);
  add_cubic (shape, "neck-back", back->neck.cubics[1]);
  geo_chain_copy (drafting_shape_add (shape, "dart-back"), &back->leg);
  GeoChain *leg = drafting_shape_add (shape, "dart-front");
  geo_chain_copy (leg, &front->leg);
  geo_chain_reverse (leg);
  geo_chain_transform (leg, m);
  leg->cubics[0].p[0] = back->a;
  GeoCubic neck = moved (&front->neck.cubics[1], m);
  add_cubic (shape, "neck-front", geo_cubic_reverse (&neck));
  add_side_seams (front, w, m, shape);
  GeoPoint square = geo_point (back->v.y, -back->v.x);
  GeoPoint front_end = geo_motion_apply (m, front->outer.p[3]);
  GeoPoint front_way = geo_motion_turn (m, front->outer_way);
  GeoChain *hem = drafting_shape_add (shape, "hem");
  geo_chain_append (hem,
                    drafting_trace_arc (front_end, front_way, back->hem_side,
                                        geo_scale (square, -1)));
  geo_chain_append (hem,
                    drafting_trace_arc (back->hem_side, geo_scale (square, -1),
                                        back->outer.p[3],
                                        geo_scale (back->outer_way, -1)));
  add_cubic (shape, "panel-back", geo_cubic_reverse (&back->outer));
  /* Hung by its side line. */
  double turn = geo_angle_between (back->v, geo_point (0, 1));
  drafting_shape_move (shape, geo_motion_about (back->a, turn));
}

static void
tell (const DraftingHalf *back, const DraftingCapeWish *w, const Part *b,
      const Part *f, const DraftingShape *panels[3], DraftingCapeFacts *facts)
{
  double back_leg = geo_chain_length (&b->leg, 1e-9);
  double front_leg = geo_chain_length (&f->leg, 1e-9);
  facts->back_length = b->hem_centre.y - b->neck.cubics[0].p[0].y;
  facts->front_length = f->hem_centre.y - f->neck.cubics[0].p[0].y;
  facts->side_length = back_leg + geo_distance (b->a, b->hem_side);
  facts->sweep = 0;
  for (int i = 0; i < 3; i++)
    facts->sweep += 2 * drafting_shape_length (panels[i], "hem");
  facts->sweep -= 2 * w->stand;
  facts->dart = 0;
  GeoPoint bv = b->v, fv = f->v;
  facts->dart
      = (geo_angle_between (back->along, bv)
         + geo_angle_between (geo_cubic_tangent (&f->leg.cubics[0], 0), fv))
        / DEGREES;
  facts->dart_ease = back_leg - front_leg;
  facts->dart_tip = w->ease + w->round;
}

gboolean
drafting_cape_shape (const DraftingHalf *back, const DraftingHalf *front,
                     const DraftingCapeWish *w, DraftingShape *back_panel,
                     DraftingShape *side_panel, DraftingShape *front_panel,
                     DraftingCapeFacts *facts)
{
  Part b = { 0 }, f = { 0 };
  gboolean drawn
      = w->length >= LEAST_LENGTH && w->stand >= 0 && w->back_share > 0
        && w->back_share < 1 && w->front_share > 0 && w->front_share < 1
        && draw_neck (back, w->lower_back, w->lower_side, w->back_panel, &b)
        && draw_neck (front, w->lower_front, w->lower_side, w->front_panel, &f)
        && draw_leg (back, w, &b) && draw_leg (front, w, &f);
  /* The side lines are one: as long in both. */
  double side = w->length + w->longer_side - (b.c.y + f.c.y) / 2;
  drawn = drawn && draw_panel (w->length, side, w->back_share, w, &b)
          && draw_panel (w->length + w->longer_front, side, w->front_share, w,
                         &f);
  if (drawn && w->opening_length > 0)
    drawn = w->opening_from > 1
            && w->opening_from + w->opening_length
                   < geo_cubic_length (&f.inner, 1e-9) - 1;
  if (drawn)
    {
      build_back (&b, back_panel);
      build_side (&b, &f, w, side_panel);
      build_front (&f, w, front_panel);
      const DraftingShape *panels[] = { back_panel, side_panel, front_panel };
      tell (back, w, &b, &f, panels, facts);
      drawn = drafting_shape_is_sound (back_panel)
              && drafting_shape_is_sound (side_panel)
              && drafting_shape_is_sound (front_panel);
    }
  part_clear (&b);
  part_clear (&f);
  return drawn;
}

/* --- circular cape ---------------------------------------------------------------- */

double
drafting_circle_radius (double girth, double share)
{
  return girth / (2 * G_PI * share);
}

/* Arcs about the middle, from a0 to a1; a set number of them, at most an eighth of a turn
 * each: off by 1.1e-8 of the radius. */
static void
add_arc (DraftingShape *shape, const char *part, double radius, double a0,
         double a1)
{
  GeoChain *chain = drafting_shape_add (shape, part);
  for (int i = 0; i < 8; i++)
    geo_chain_append (chain, geo_cubic_arc (geo_point (0, 0), radius,
                                            a0 + (a1 - a0) * i / 8,
                                            a0 + (a1 - a0) * (i + 1) / 8));
}

gboolean
drafting_circle_shape (double girth, double share, double length,
                       DraftingShape *shape)
{
  drafting_shape_clear (shape);
  if (!(girth > 1) || !(share > 0) || share > 1 || !(length > 1))
    return FALSE;
  double r = drafting_circle_radius (girth, share), half = G_PI * share;
  /* The centre back points straight down, the front goes round to the left of
     it; the neck runs against the outline's way. */
  double down = G_PI_2;
  add_arc (shape, "neck", r, down + half, down);
  drafting_shape_add_line (shape, "centre", geo_point (0, r + length));
  add_arc (shape, "hem", r + length, down, down + half);
  drafting_shape_add_line (shape, "front",
                           geo_chain_start (&shape->edges[0].chain));
  return drafting_shape_is_sound (shape);
}
