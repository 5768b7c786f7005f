/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The torso sloper's lines. Both halves are drafted alike, their centre at x 0 and the side to the
 * right; the front is mirrored in the end.
 *
 * A shoulder dart is opened in two steps. Its mouth is what the point's angle opens at the
 * shoulder; but it is sewn from nearer than the bust point, and on legs that may be tapered, so that
 * sewing turns the outer shoulder by more than that angle: by the angle of the two legs at the
 * mouth. The outer shoulder is drawn turned by just that, and so the sewn shoulder is straight.
 *
 * At the waist each part of the edge is an arc square to what it meets: the fold, a dart's leg, the side. An
 * arc's chord lies half way between its end directions; that gives the heights of its ends. They depend on
 * the darts' angles, these on the lengths of the darts, and all on what is taken in; so they
 * are found together, in rounds, until nothing moves.
 */
#include "drafting/torso.h"

#include "drafting/torso-dart.h"
#include "drafting/trace.h"
#include "geometry/length.h"

#define ROUNDS 400
#define STILL 1e-10 /* mm */
#define HALVINGS 80
#define EXACT 1e-10          /* mm */
#define ELLIPSE 0.5522847498 /* handle of a quarter circle by one cubic */
/* Handles of a neckline, of the way to where its two tangents meet. */
#define NECK_CENTRE 0.75
#define NECK_POINT 0.85
/* The armhole's lower part is a quarter ellipse hollowed lower: its handles are so many times as long. */
#define HOLLOW_TOP 1.25
#define HOLLOW_UNDER 0.92
/* Least room, mm: below it there is no garment, whatever the body. */
#define LEAST_SCYE 50.0   /* underarm line below the shoulder's end */
#define LEAST_ARM 60.0    /* width of the armhole under the arm */
#define LEAST_LENGTH 60.0 /* waist below the underarm line */
#define LEAST_DART 30.0   /* long */
#define LEAST_WAIST 15.0  /* between a dart and the centre or the side */
#define LEAST_DEPTH 15.0  /* of the front neck */
#define LEAST_BELOW 10.0  /* hip below the waist darts */
#define LEAST_BUST 20.0   /* bust point from the centre */
#define MOST_INSIDE 20.0  /* the shoulder ends inside the armhole's line by */

typedef struct
{
  GeoPoint neck, place,
      tip; /* neck point, dart's place, shoulder's end: dart closed */
  GeoPoint outer, end; /* where the outer shoulder starts and ends, dart open */
  GeoPoint way;        /* of the outer shoulder */
  GeoPoint middle,
      middle_way; /* of the armhole; where it is narrowest across */
  double depth;   /* centre of the neck below the neck point */
  double width;   /* on the underarm line */
  DraftingTorsoDart dart, waist;
  gboolean has_dart, has_waist;
  double waist_x, half;     /* of the waist dart */
  double centre_y, mouth_y; /* of the waist edge */
  double armhole;
} Half;

typedef struct
{
  const DraftingTorsoWish *w;
  Half back, front;
  GeoPoint point; /* bust */
  double under;   /* y of the underarm line */
  double side;    /* taken in there, each half */
  double side_y;  /* of the side's lower end */
  double taken;   /* in all, half a body */
  double moved;   /* in the last round */
  DraftingTorsoTrouble trouble;
} Torso;

/* A quarter of an ellipse from one point to another, leaving and arriving by unit directions that meet
 * ahead of both. */
static GeoCubic
quarter (GeoPoint from, GeoPoint out, GeoPoint to, GeoPoint in)
{
  double cross = geo_cross (out, in);
  GeoPoint chord = geo_sub (to, from);
  double a = fabs (cross) > 1e-9 ? geo_cross (chord, in) / cross : 0;
  double b = fabs (cross) > 1e-9 ? geo_cross (out, chord) / cross : 0;
  return (GeoCubic){ { from, geo_along (from, out, ELLIPSE * a),
                       geo_along (to, in, -ELLIPSE * b), to } };
}

/* A curve that turns little, with handles of a third of its chord; it may bend twice. The handle at its end is
 * shorter or longer where that lets it end with the curvature of what follows, k: by
 * |k| = 2/3 d / h^2, d how far its other handle's end is off the end's tangent. */
static GeoCubic
gentle (GeoPoint from, GeoPoint out, GeoPoint to, GeoPoint in, double k)
{
  double chord = geo_distance (from, to);
  GeoPoint handle = geo_along (from, out, chord / 3);
  double d = geo_cross (in, geo_sub (handle, to));
  double h = d * k > 0 ? sqrt (2.0 / 3 * d / k) : chord / 3;
  h = fmin (fmax (h, chord / 6), chord / 2);
  return (GeoCubic){ { from, handle, geo_along (to, in, -h), to } };
}

static GeoPoint
turned (GeoPoint v, double angle)
{
  return geo_point (v.x * cos (angle) - v.y * sin (angle),
                    v.x * sin (angle) + v.y * cos (angle));
}

static GeoPoint
turned_about (GeoPoint centre, GeoPoint p, double angle)
{
  return geo_add (centre, turned (geo_sub (p, centre), angle));
}

static GeoPoint
level (double slope)
{
  return geo_point (cos (slope), sin (slope));
}

/* --- neck ----------------------------------------------------------------------------------- */

/* From the centre to the neck point: level at the centre, square to the shoulder. Flatter than an ellipse, whose
 * end at the back's neck point would be too tight for any allowance. */
static GeoCubic
neck_curve (GeoPoint point, double depth, double slope)
{
  GeoCubic c = quarter (geo_point (0, point.y + depth), geo_point (1, 0), point,
                        geo_point (sin (slope), -cos (slope)));
  c.p[1] = geo_lerp (c.p[0], c.p[1], NECK_CENTRE / ELLIPSE);
  c.p[2] = geo_lerp (c.p[3], c.p[2], NECK_POINT / ELLIPSE);
  return c;
}

static double
neck_length (double width, double depth, double slope)
{
  GeoCubic c = neck_curve (geo_point (width, 0), depth, slope);
  return geo_cubic_length (&c, EXACT);
}

/* The depth in front that makes the whole neckline as long as the neck and its ease. */
static gboolean
find_depth (Torso *t)
{
  const DraftingTorsoWish *w = t->w;
  t->back.depth = w->back_rise;
  double wanted = (w->neck + w->neck_ease) / 2
                  - neck_length (w->back_neck, w->back_rise, w->back_slope);
  double low = LEAST_DEPTH;
  double high = 0.95 * w->front_neck / tan (fmax (w->front_slope, 0.05));
  if (high <= low || neck_length (w->front_neck, low, w->front_slope) > wanted
      || neck_length (w->front_neck, high, w->front_slope) < wanted)
    return FALSE;
  for (int i = 0; i < HALVINGS; i++)
    {
      double half = (low + high) / 2;
      if (neck_length (w->front_neck, half, w->front_slope) < wanted)
        low = half;
      else
        high = half;
    }
  t->front.depth = low;
  return TRUE;
}

/* --- shoulders ------------------------------------------------------------------------------ */

/* Neck point, dart's place and end with the dart closed, and half way down from there. */
static void
lay_shoulder (const Torso *t, Half *h, GeoPoint neck, double slope,
              double length)
{
  h->neck = neck;
  h->place = geo_along (neck, level (slope), length * t->w->place);
  h->tip = geo_along (neck, level (slope), length);
  h->outer = h->place;
  h->end = h->tip;
  h->way = level (slope);
}

/* The outer shoulder drawn on from the dart's other leg. */
static void
open_shoulder (const Torso *t, Half *h, GeoPoint point, double slope,
               double length)
{
  drafting_torso_dart (&h->dart, point, h->place, h->outer, t->w->taper);
  h->way = turned (level (slope), 2 * h->dart.half_angle);
  h->end = geo_along (h->outer, h->way, length * (1 - t->w->place));
}

static gboolean
back_shoulder (Torso *t)
{
  const DraftingTorsoWish *w = t->w;
  Half *h = &t->back;
  double length = w->shoulder + w->shoulder_ease;
  lay_shoulder (t, h, geo_point (w->back_neck, -w->back_rise), w->back_slope,
                length);
  double ym = (h->tip.y + t->under) / 2;
  h->middle = geo_point ((w->back_width + w->back_ease) / 2, ym);
  h->middle_way = geo_point (0, 1);
  h->has_dart = w->back_dart > 0.5;
  if (h->has_dart)
    {
      GeoPoint down = geo_left (level (w->back_slope));
      GeoPoint point = geo_along (h->place, down, w->back_dart_length);
      point.x -= w->back_dart_in;
      double leg = geo_distance (point, h->place);
      if (!(leg > w->back_dart) || !(point.x > 5) || !(point.y < t->under))
        return FALSE;
      h->outer
          = turned_about (point, h->place, 2 * asin (w->back_dart / 2 / leg));
      open_shoulder (t, h, point, w->back_slope, length);
    }
  return TRUE;
}

/* The armhole's middle goes round the bust point with the outer shoulder. */
static gboolean
front_shoulder (Torso *t)
{
  const DraftingTorsoWish *w = t->w;
  Half *h = &t->front;
  double across = t->point.x - w->front_neck;
  double down = sqrt (
      fmax (w->point_shoulder * w->point_shoulder - across * across, 1));
  lay_shoulder (t, h, geo_point (w->front_neck, t->point.y - down),
                w->front_slope, w->shoulder);
  double ym = (h->tip.y + t->under) / 2;
  GeoPoint closed = geo_point ((w->front_width + w->front_ease) / 2, ym);
  h->has_dart = w->bust_dart > 1e-3;
  double angle = h->has_dart ? w->bust_dart : 0;
  /* A bust point as high as the middle of the armhole turns nothing there. */
  h->middle = turned_about (t->point, closed, angle);
  h->middle_way = turned (geo_point (0, 1), angle);
  if (!h->has_dart)
    return TRUE;
  double leg = geo_distance (t->point, h->place);
  if (!(leg > w->bust_short + LEAST_DART))
    return FALSE;
  h->outer = turned_about (t->point, h->place, angle);
  GeoPoint axis
      = geo_unit (geo_sub (geo_lerp (h->place, h->outer, 0.5), t->point));
  open_shoulder (t, h, geo_along (t->point, axis, w->bust_short),
                 w->front_slope, w->shoulder);
  return TRUE;
}

/* --- waist ---------------------------------------------------------------------------------- */

static void
put (double *value, double to, double *moved)
{
  *moved = fmax (*moved, fabs (to - *value));
  *value = to;
}

static bool
to_hip (const Torso *t)
{
  return t->w->hip > 0;
}

/* The dart of a half, its mouth as high as it now is. */
static void
lay_waist_dart (const Torso *t, Half *h, double x, double point_y, double share)
{
  h->waist_x = x;
  h->half = fmax (t->taken * share / 2, 0);
  h->has_waist = h->half > 0.25;
  if (!h->has_waist)
    h->half = 0;
  GeoPoint centre = geo_point (x - h->half, h->mouth_y);
  GeoPoint side = geo_point (x + h->half, h->mouth_y);
  drafting_torso_dart (&h->waist, geo_point (x, point_y), centre, side,
                       to_hip (t) ? 0 : t->w->taper);
}

/* Off the upright, at the underarm. To the hip the side is an arc that ends upright. */
static double
side_lean (const Torso *t)
{
  double chord = atan2 (t->side, fmax (t->side_y - t->under, 1));
  return to_hip (t) ? 2 * chord : chord;
}

/* How much lower the side's end is than the dart's mouth. To the hip the waist is a level line. */
static double
side_drop (const Torso *t, const Half *h)
{
  if (to_hip (t))
    return 0;
  double across = h->width - t->side - h->waist_x - h->half;
  return across * tan ((side_lean (t) - h->waist.half_angle) / 2);
}

static double
centre_drop (const Torso *t, const Half *h)
{
  if (to_hip (t))
    return 0;
  return (h->waist_x - h->half) * tan (h->waist.half_angle / 2);
}

static void
waist_arcs (const Torso *t, const Half *h, GeoCubic *side, GeoCubic *centre)
{
  double lean = side_lean (t), a = h->waist.half_angle;
  GeoPoint end = geo_point (h->width - t->side, t->side_y);
  *side = drafting_trace_arc (end, geo_point (-cos (lean), -sin (lean)),
                              geo_point (h->waist_x + h->half, h->mouth_y),
                              geo_point (-cos (a), sin (a)));
  *centre = drafting_trace_arc (geo_point (h->waist_x - h->half, h->mouth_y),
                                geo_point (-cos (a), -sin (a)),
                                geo_point (0, h->centre_y), geo_point (-1, 0));
}

static double
waist_length (const Torso *t, const Half *h)
{
  if (to_hip (t))
    return h->width - t->side - 2 * h->half;
  GeoCubic side, centre;
  waist_arcs (t, h, &side, &centre);
  return geo_cubic_length (&side, EXACT) + geo_cubic_length (&centre, EXACT);
}

static void
round_back (Torso *t)
{
  const DraftingTorsoWish *w = t->w;
  Half *h = &t->back;
  lay_waist_dart (t, h, w->back_dart_from, t->under + w->back_dart_below,
                  w->back_share);
  h->centre_y = w->back_waist;
  put (&h->mouth_y, h->centre_y + centre_drop (t, h), &t->moved);
  put (&t->side_y, h->mouth_y + side_drop (t, h), &t->moved);
}

/* From the bust point to the waist, along the sewn dart, is what the figures leave. */
static void
round_front (Torso *t)
{
  const DraftingTorsoWish *w = t->w;
  Half *h = &t->front;
  double leg = w->front_waist - w->point_shoulder - w->front_short;
  lay_waist_dart (t, h, t->point.x, t->point.y + w->front_short,
                  w->front_share);
  put (&h->mouth_y, t->side_y - side_drop (t, h), &t->moved);
  double length
      = h->has_waist ? h->waist.leg : h->mouth_y - t->point.y - w->front_short;
  double deep = h->mouth_y - t->point.y - w->front_short + leg - length;
  put (&t->point.y, h->mouth_y - w->front_short - fmax (deep, 1), &t->moved);
  h->centre_y = h->mouth_y - centre_drop (t, h);
}

static void
round_widths (Torso *t)
{
  const DraftingTorsoWish *w = t->w;
  double whole = (w->bust + w->bust_ease) / 2;
  double arm = whole - t->back.middle.x - t->front.middle.x;
  put (&t->back.width, t->back.middle.x + w->side_place * arm, &t->moved);
  t->front.width = whole - t->back.width;
  t->side = t->taken * (1 - w->front_share - w->back_share) / 2;
}

static DraftingTorsoTrouble
solve (Torso *t)
{
  const DraftingTorsoWish *w = t->w;
  t->under = w->scye + w->scye_ease;
  if (!find_depth (t))
    return DRAFTING_TORSO_NECK;
  if (!back_shoulder (t))
    return DRAFTING_TORSO_SHOULDER;
  t->point = geo_point (w->point_width / 2,
                        w->back_waist - w->front_waist + w->point_shoulder);
  t->taken = (w->bust + w->bust_ease - w->waist - w->waist_ease) / 2;
  t->side_y = t->back.mouth_y = t->front.mouth_y = w->back_waist;
  if (!(w->front_waist - w->point_shoulder - w->front_short > LEAST_DART)
      || !(w->point_shoulder > fabs (t->point.x - w->front_neck) + 50))
    return DRAFTING_TORSO_BUST_POINT;
  if (!(t->taken > 1))
    return DRAFTING_TORSO_WAIST_WIDE;
  double wanted = (w->waist + w->waist_ease) / 2;
  for (int i = 0; i < ROUNDS; i++)
    {
      t->moved = 0;
      if (!front_shoulder (t))
        return DRAFTING_TORSO_BUST_POINT;
      round_widths (t);
      round_back (t);
      round_front (t);
      double length = waist_length (t, &t->back) + waist_length (t, &t->front);
      put (&t->taken, t->taken + length - wanted, &t->moved);
      if (!isfinite (t->moved) || fabs (t->taken) > 2 * w->bust)
        return DRAFTING_TORSO_WAIST_NARROW;
      if (t->moved < STILL)
        return DRAFTING_TORSO_SOUND;
    }
  return t->moved < 1e-7 ? DRAFTING_TORSO_SOUND : DRAFTING_TORSO_OUTLINE;
}

/* --- what can be --------------------------------------------------------------------------- */

static gboolean
has_room (const Torso *t, const Half *h)
{
  return h->waist_x - h->half > LEAST_WAIST
         && h->width - t->side - h->waist_x - h->half > LEAST_WAIST
         && (!h->has_waist || h->waist.length > LEAST_DART);
}

static DraftingTorsoTrouble
look_at (const Torso *t)
{
  const Half *b = &t->back, *f = &t->front;
  double arm = b->width - b->middle.x + f->width - f->middle.x;
  if (!(arm > LEAST_ARM) || !(f->middle.x > t->point.x * 0.5))
    return DRAFTING_TORSO_ACROSS;
  if (!(t->under - b->end.y > LEAST_SCYE))
    return DRAFTING_TORSO_SCYE;
  if (!(t->side_y - t->under > LEAST_LENGTH))
    return DRAFTING_TORSO_LENGTH;
  if (!(t->point.x > LEAST_BUST) || !(t->point.x < f->width - 30))
    return DRAFTING_TORSO_BUST_POINT;
  if (!(t->under - f->end.y > LEAST_SCYE / 2)
      || !(f->centre_y - f->neck.y - f->depth > LEAST_LENGTH)
      || !(t->point.y > f->end.y) || !(t->point.y + LEAST_DART < f->mouth_y))
    return DRAFTING_TORSO_FRONT;
  if (!has_room (t, b) || !has_room (t, f))
    return DRAFTING_TORSO_WAIST_NARROW;
  if (!(b->end.x > b->middle.x - MOST_INSIDE)
      || !(f->end.x > f->middle.x - MOST_INSIDE)
      || !(b->middle.y > b->end.y + 10) || !(f->middle.y > f->end.y + 10)
      || !(f->middle.y < t->under - 5))
    return DRAFTING_TORSO_SHOULDER;
  return DRAFTING_TORSO_SOUND;
}

static DraftingTorsoTrouble
look_at_hip (const Torso *t)
{
  const DraftingTorsoWish *w = t->w;
  double wider = (w->hip + w->hip_ease - w->bust - w->bust_ease) / 4;
  double down = w->waist_hip - fmax (w->front_tail, w->back_tail);
  return wider > -t->side && down > LEAST_BELOW ? DRAFTING_TORSO_SOUND
                                                : DRAFTING_TORSO_HIP;
}

/* --- outlines ------------------------------------------------------------------------------ */

static void
add_armhole (const Torso *t, Half *h, DraftingShape *s)
{
  double lean = side_lean (t);
  GeoChain *armhole = drafting_shape_add (s, "armhole");
  GeoCubic lower = quarter (h->middle, h->middle_way,
                            geo_point (h->width, t->under), level (lean));
  lower.p[1] = geo_lerp (lower.p[0], lower.p[1], HOLLOW_TOP);
  lower.p[2] = geo_lerp (lower.p[3], lower.p[2], HOLLOW_UNDER);
  GeoCubic upper = gentle (h->end, geo_left (h->way), h->middle, h->middle_way,
                           geo_cubic_curvature (&lower, 0));
  geo_chain_append (armhole, upper);
  geo_chain_append (armhole, lower);
  h->armhole = geo_chain_length (armhole, EXACT);
}

static void
add_leg (DraftingShape *s, const char *part, const DraftingTorsoDart *dart,
         int leg, gboolean to_point)
{
  GeoChain *chain = drafting_shape_add (s, part);
  for (int i = 0; i < 2; i++)
    {
      GeoCubic c = dart->legs[leg][to_point ? i : 1 - i];
      geo_chain_append (chain, to_point ? c : geo_cubic_reverse (&c));
    }
}

static void
add_waist (const Torso *t, const Half *h, DraftingShape *s)
{
  GeoCubic side, centre;
  waist_arcs (t, h, &side, &centre);
  geo_chain_append (drafting_shape_add (s, "waist-side"), side);
  if (h->has_waist)
    {
      add_leg (s, "waist-dart-side", &h->waist, 1, TRUE);
      add_leg (s, "waist-dart-centre", &h->waist, 0, FALSE);
    }
  geo_chain_append (drafting_shape_add (s, "waist-centre"), centre);
}

/* From the underarm to the waist an arc that ends upright, on to the hip a curve upright at both ends. */
static void
add_hip (const Torso *t, const Half *h, DraftingShape *s)
{
  const DraftingTorsoWish *w = t->w;
  double lean = side_lean (t);
  double wider = (w->hip + w->hip_ease - w->bust - w->bust_ease) / 4;
  GeoPoint down = geo_point (0, 1);
  GeoPoint waist = geo_point (h->width - t->side, t->side_y);
  GeoPoint hip = geo_point (h->width + wider, t->side_y + w->waist_hip);
  GeoChain *side = drafting_shape_add (s, "side");
  geo_chain_append (side,
                    drafting_trace_arc (geo_point (h->width, t->under),
                                        geo_point (-sin (lean), cos (lean)),
                                        waist, down));
  geo_chain_append (
      side, (GeoCubic){ { waist, geo_along (waist, down, w->waist_hip / 3),
                          geo_along (hip, down, -w->waist_hip / 3), hip } });
  drafting_shape_add_line (s, "hip", geo_point (0, hip.y));
}

static void
tell_dart (const Half *h, double tail, double way, GeoPoint points[4])
{
  double x = h->waist_x * way, half = h->half * way, y = h->mouth_y;
  points[0] = geo_point (x, y - h->waist.length);
  points[1] = geo_point (x - half, y);
  points[2] = geo_point (x, y + tail);
  points[3] = geo_point (x + half, y);
}

static void
add_half (const Torso *t, Half *h, double slope, DraftingShape *s)
{
  GeoCubic neck = neck_curve (h->neck, h->depth, slope);
  geo_chain_append (drafting_shape_add (s, "neck"), neck);
  if (!h->has_dart)
    drafting_shape_add_line (s, "shoulder", h->end);
  else
    {
      drafting_shape_add_line (s, "shoulder-neck", h->place);
      add_leg (s, "dart-neck", &h->dart, 0, TRUE);
      add_leg (s, "dart-arm", &h->dart, 1, FALSE);
      drafting_shape_add_line (s, "shoulder-arm", h->end);
    }
  add_armhole (t, h, s);
  if (to_hip (t))
    add_hip (t, h, s);
  else
    {
      drafting_shape_add_line (s, "side",
                               geo_point (h->width - t->side, t->side_y));
      add_waist (t, h, s);
    }
  drafting_shape_add_line (s, "centre", neck.p[0]);
}

gboolean
drafting_torso_shape (const DraftingTorsoWish *wish, DraftingShape *back,
                      DraftingShape *front, DraftingTorsoFacts *facts)
{
  drafting_shape_clear (back);
  drafting_shape_clear (front);
  *facts = (DraftingTorsoFacts){ 0 };
  Torso t = { .w = wish };
  facts->trouble = solve (&t);
  if (facts->trouble == DRAFTING_TORSO_SOUND)
    facts->trouble = look_at (&t);
  if (facts->trouble == DRAFTING_TORSO_SOUND && to_hip (&t))
    facts->trouble = look_at_hip (&t);
  if (facts->trouble != DRAFTING_TORSO_SOUND)
    return FALSE;
  add_half (&t, &t.back, wish->back_slope, back);
  add_half (&t, &t.front, wish->front_slope, front);
  drafting_shape_move (front,
                       geo_motion_mirror (geo_point (0, 0), geo_point (0, 1)));
  facts->front_depth = t.front.depth;
  facts->suppression = t.taken;
  facts->back_armhole = t.back.armhole;
  facts->front_armhole = t.front.armhole;
  facts->back_width = t.back.width;
  facts->front_width = t.front.width;
  facts->armhole_width
      = t.back.width - t.back.middle.x + t.front.width - t.front.middle.x;
  facts->bust_intake = geo_distance (t.front.place, t.front.outer);
  facts->bust_point = geo_point (-t.point.x, t.point.y);
  tell_dart (&t.back, wish->back_tail, 1, facts->waist_dart[0]);
  tell_dart (&t.front, wish->front_tail, -1, facts->waist_dart[1]);
  facts->bust_below = t.point.y - t.under;
  if (!drafting_shape_is_sound (back) || !drafting_shape_is_sound (front))
    facts->trouble = DRAFTING_TORSO_OUTLINE;
  return facts->trouble == DRAFTING_TORSO_SOUND;
}
