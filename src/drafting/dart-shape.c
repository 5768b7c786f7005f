/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Darts made, moved and shaped in place.
 *
 * The mouth's ends A, B and the point P of a sound dart form an isosceles triangle: everything here keeps
 * the legs mirror images of each other in the line from the mouth's middle to P. */
#include <glib/gi18n.h>

#include "drafting/dart-private.h"
#include "geometry/length.h"
#include "sewing/words.h"

#define LEAST_LEG 1.0 /* mm */

/* --- the point ------------------------------------------------------------------ */
typedef struct
{
  guint dart;
  double amount;
} Amount;

static GeoPoint
mouth_middle (const DraftingDart *dart)
{
  return geo_lerp (dart->mouth[0], dart->mouth[1], 0.5);
}

static Pattern *
attempt_point (const Pattern *p, gconstpointer what, double share,
               GError **error)
{
  const Amount *amount = what;
  double back = share * amount->amount;
  DraftingDart dart;
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_find_dart (p, amount->dart, &dart, error)
      || !drafting_change_begin (&c, p, dart.piece->id, error))
    return NULL;
  GeoPoint middle = mouth_middle (&dart);
  GeoPoint way = geo_sub (middle, dart.point);
  double depth = geo_norm (way);
  if (back > depth - LEAST_LEG)
    {
      g_autofree char *words = sewing_words_length (p, depth);
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("The dart is %s deep; its point can't go back that "
                          "far. Nothing was changed."),
                       words);
      return NULL;
    }
  drafting_change_hold (&c);
  GeoPoint ends[2] = { dart.point, dart.point };
  GeoPoint point = geo_along (dart.point, geo_unit (way), back);
  drafting_dart_lay_legs (&c, &dart, ends, point);
  drafting_dart_carry_drills (&c, &dart, point, middle);
  return drafting_change_finish (&c, error);
}

Pattern *
drafting_move_dart_point (const Pattern *p, guint dart, double back,
                          GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  Amount amount = { dart, back };
  if (!drafting_number_is_good (back, error))
    return NULL;
  return drafting_try (p, attempt_point, &amount, back, DRAFTING_WORDS_LENGTH,
                       error);
}

/* --- the legs' curve --------------------------------------------------------------- */
/* A cubic from a to b whose handles stand at the thirds of the chord, h off it to the side of
 * `off`: its middle stands 3/4 h off. */
static Pattern *
attempt_curve (const Pattern *p, gconstpointer what, double share,
               GError **error)
{
  const Amount *amount = what;
  double handle = share * amount->amount * 4 / 3;
  DraftingDart dart;
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_find_dart (p, amount->dart, &dart, error)
      || !drafting_change_begin (&c, p, dart.piece->id, error))
    return NULL;
  drafting_change_hold (&c);
  for (int leg = 0; leg < 2; leg++)
    {
      guint first = leg == 0 ? dart.a0 : dart.tip;
      guint last = leg == 0 ? dart.tip : dart.a1;
      drafting_change_remove_between (&c, first, last);
      PatternNode *from = drafting_change_node (&c, first);
      PatternNode *to = drafting_change_node (&c, last);
      GeoPoint chord = geo_sub (to->at, from->at);
      /* The cloth is on the left of the outline; more of it is taken to that side. */
      GeoPoint off = geo_scale (geo_unit (geo_left (chord)), handle);
      from->out = handle == 0
                      ? from->at
                      : geo_add (geo_along (from->at, chord, 1.0 / 3), off);
      to->in = handle == 0
                   ? to->at
                   : geo_add (geo_along (from->at, chord, 2.0 / 3), off);
      from->kind = to->kind = PATTERN_NODE_CORNER;
    }
  return drafting_change_finish (&c, error);
}

Pattern *
drafting_curve_dart (const Pattern *p, guint dart, double by, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  Amount amount = { dart, by };
  if (!drafting_number_is_good (by, error))
    return NULL;
  return drafting_try (p, attempt_curve, &amount, by, DRAFTING_WORDS_LENGTH,
                       error);
}

/* --- the intake ---------------------------------------------------------------------- */
/* Each leg turned about the point by half of what the angle gains; the edges' ends, and
 * their handles, go along. */
static Pattern *
attempt_intake (const Pattern *p, gconstpointer what, double share,
                GError **error)
{
  const Amount *amount = what;
  DraftingDart dart;
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_find_dart (p, amount->dart, &dart, error)
      || !drafting_change_begin (&c, p, dart.piece->id, error))
    return NULL;
  double leg = (geo_distance (dart.mouth[0], dart.point)
                + geo_distance (dart.mouth[1], dart.point))
               / 2;
  double now = geo_distance (dart.mouth[0], dart.mouth[1]);
  double intake = now + share * (amount->amount - now);
  if (intake < 0.1 || intake > 1.9 * leg)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("A dart with legs that long can't have that intake. "
                          "Nothing was changed."));
      return NULL;
    }
  double turn = drafting_dart_turn (&dart, dart.point);
  double angle = copysign (2 * asin (intake / (2 * leg)), turn);
  double half = (angle - turn) / 2;
  drafting_change_hold (&c);
  PatternPiece *piece = c.piece;
  guint n = piece->n_nodes, tip = drafting_change_index (&c, dart.tip);
  PatternNode *point = &piece->nodes[tip];
  for (int side = 0; side < 2; side++)
    {
      GeoMotion motion
          = geo_motion_about (dart.point, side == 0 ? half : -half);
      GeoPoint *handle = side == 0 ? &point->in : &point->out;
      if (!geo_same (*handle, point->at))
        *handle = geo_motion_apply (motion, *handle);
      guint a = piece->nodes[(tip + 1) % n].id;
      guint b = piece->nodes[(tip + n - 1) % n].id;
      drafting_change_move (&c, side == 0 ? dart.a0 : a,
                            side == 0 ? b : dart.a1, motion);
    }
  return drafting_change_finish (&c, error);
}

Pattern *
drafting_set_dart_intake (const Pattern *p, guint dart, double intake,
                          GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  DraftingDart d;
  Amount amount = { dart, intake };
  if (!drafting_number_is_good (intake, error)
      || !drafting_find_dart (p, dart, &d, error))
    return NULL;
  return drafting_try (p, attempt_intake, &amount, intake,
                       DRAFTING_WORDS_LENGTH, error);
}

/* --- made new -------------------------------------------------------------------------- */
typedef struct
{
  DraftingPlace at;
  double intake, length;
  const GeoPoint *point;
  guint *made;
} Making;

/* The two places on the edge, the same length from the middle, whose distance is the intake: the
 * chord grows with that length where the edge does not turn back on itself. FALSE where
 * the edge ends before. */
static gboolean
mouth_on_edge (const PatternPiece *piece, guint edge, double at, double intake,
               double *half)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, edge, &chain);
  GeoRuler ruler;
  geo_ruler_init (&ruler, &chain, DRAFTING_EXACT);
  double most = MIN (at, geo_ruler_length (&ruler) - at);
  double low = 0, high = most;
  for (int i = 0; i < 80; i++)
    {
      double middle = (low + high) / 2;
      GeoPoint a
          = geo_chain_point (&chain, geo_ruler_place (&ruler, at - middle));
      GeoPoint b
          = geo_chain_point (&chain, geo_ruler_place (&ruler, at + middle));
      if (geo_distance (a, b) < intake)
        low = middle;
      else
        high = middle;
    }
  geo_ruler_clear (&ruler);
  geo_chain_clear (&chain);
  *half = high;
  return most > 0 && high < most - 1e-3;
}

static gboolean
too_wide (const Pattern *p, const PatternPiece *piece, guint edge,
          GError **error)
{
  g_autofree char *name = sewing_words_edge (piece, edge);
  g_autofree char *length
      = sewing_words_length (p, drafting_edge_length (piece, edge));
  return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                          _ ("A dart of that intake is wider than %s, which "
                             "is %s long, leaves room for at that place. "
                             "Nothing was changed."),
                          name, length);
}

/* An end of the mouth is put so far from the point as the other. */
static void
level_leg (DraftingChange *c, guint node, GeoPoint point, double length)
{
  PatternNode *end = drafting_change_node (c, node);
  GeoPoint to = geo_along (point, geo_unit (geo_sub (end->at, point)), length);
  GeoPoint by = geo_sub (to, end->at);
  end->in = geo_add (end->in, by);
  end->out = geo_add (end->out, by);
  end->at = to;
}

static Pattern *
attempt_make (const Pattern *p, gconstpointer what, double share,
              GError **error)
{
  const Making *making = what;
  double intake = share * making->intake, half;
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_change_begin (&c, p, making->at.piece, error))
    return NULL;
  int edge = drafting_find_edge (c.piece, making->at.edge, error);
  if (edge < 0)
    return NULL;
  if (!mouth_on_edge (c.piece, (guint)edge, making->at.at, intake, &half))
    {
      too_wide (p, c.piece, (guint)edge, error);
      return NULL;
    }
  guint second = drafting_change_node_at (&c, making->at.edge,
                                          making->at.at + half, error);
  guint first = second ? drafting_change_node_at (&c, making->at.edge,
                                                  making->at.at - half, error)
                       : 0;
  if (!first)
    return NULL;
  const PatternEdge like = pattern_get_piece (p, making->at.piece)->edges[edge];
  drafting_change_hold (&c);
  drafting_change_cut_edge (&c, second);
  drafting_change_remove_between (&c, first, second);
  GeoPoint a = drafting_change_node (&c, first)->at;
  GeoPoint b = drafting_change_node (&c, second)->at;
  GeoPoint square = geo_unit (geo_left (geo_sub (b, a)));
  GeoPoint point = making->point ? *making->point
                                 : geo_along (geo_lerp (a, b, 0.5), square,
                                              making->length);
  if (!drafting_change_inside (&c, geo_lerp (a, b, 0.5), point, error))
    return NULL;
  if (making->point)
    {
      double leg = MIN (geo_distance (a, point), geo_distance (b, point));
      level_leg (&c, first, point, leg);
      level_leg (&c, second, point, leg);
    }
  for (int i = 0; i < 2; i++)
    {
      PatternNode *end = drafting_change_node (&c, i == 0 ? first : second);
      *(i == 0 ? &end->out : &end->in) = end->at;
      end->kind = PATTERN_NODE_CORNER;
    }
  guint made = drafting_dart_open (&c, first, second, point, &like, NULL);
  Pattern *result = drafting_change_finish (&c, error);
  if (result && making->made)
    *making->made = made;
  return result;
}

Pattern *
drafting_make_dart (const Pattern *p, DraftingPlace at, double intake,
                    double length, const GeoPoint *point, guint *new_dart,
                    GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!drafting_number_is_good (at.at, error)
      || !drafting_number_is_good (intake, error)
      || !drafting_number_is_good (length, error)
      || (point && !drafting_point_is_good (*point, error)))
    return NULL;
  if (intake < 0.1 || (!point && length < LEAST_LEG))
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("A dart needs an intake of at least 0.1 mm and legs "
                          "of at least 1 mm. Nothing was changed."));
      return NULL;
    }
  Making making = { at, intake, length, point, new_dart };
  return drafting_try (p, attempt_make, &making, intake, DRAFTING_WORDS_LENGTH,
                       error);
}

/* --- into ease -------------------------------------------------------------------------- */
/* Side A longer than B is ease above 0. */
static void
ease_more (Pattern *p, guint piece, guint edge, double by)
{
  for (guint i = 0; i < p->n_seams; i++)
    for (int k = 0; k < 2; k++)
      for (guint r = 0; r < p->seams[i]->sides[k].n_runs; r++)
        {
          const PatternRun *run = &p->seams[i]->sides[k].runs[r];
          if (run->piece != piece || run->edge != edge)
            continue;
          PatternSeam *seam = pattern_seam_dup (p->seams[i]);
          seam->ease += k == 0 ? by : -by;
          pattern_put_seam (p, seam);
          break;
        }
}

Pattern *
drafting_dart_to_ease (const Pattern *p, guint dart, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  DraftingDart d;
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_find_dart (p, dart, &d, error)
      || !drafting_change_begin (&c, p, d.piece->id, error))
    return NULL;
  int leg = pattern_piece_find_edge (c.piece, d.leg[0]);
  guint m = c.piece->n_edges;
  guint before = c.piece->edges[((guint)leg + m - 1) % m].id;
  double was = drafting_edge_length (c.piece, ((guint)leg + m - 1) % m)
               + drafting_edge_length (c.piece, ((guint)leg + 2) % m);
  guint after = c.piece->edges[((guint)leg + 2) % m].id;
  drafting_change_hold (&c);
  guint first = drafting_change_part (&c, d.a0);
  drafting_change_remove_between (&c, first, d.a1);
  /* The edge runs on across the mouth: the second begins where the mouth ended, and
   * is joined to the first where they are alike, before the gap is bridged. */
  drafting_change_rejoin (&c, d.a1);
  if (!drafting_change_mend (&c, first, d.a1, FALSE, TRUE, error))
    return NULL;
  int i = pattern_piece_find_edge (c.piece, before);
  int k = pattern_piece_find_edge (c.piece, after);
  double now = drafting_edge_length (c.piece, (guint)i)
               + (k >= 0 ? drafting_edge_length (c.piece, (guint)k) : 0);
  pattern_remove_seam (c.pattern, dart);
  ease_more (c.pattern, c.piece->id, before, now - was);
  return drafting_change_finish (&c, error);
}
