/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Darts turned: to another place, into flare.
 *
 * With the pivot Q, the mouth's ends A, B (in the outline's order, so that the cloth runs on
 * at B) and the place N, the paper is cut from N to Q. The part that runs from B round to N is
 * turned about Q by s a, a the signed angle from QB to QA; or else the other part by - s a.
 * Where QA = QB and s = 1 that lays B on A; the angle opened at N is s a, and both
 * new legs are QN long. */
#include <glib/gi18n.h>

#include "drafting/dart-private.h"
#include "geometry/length.h"
#include "sewing/words.h"

/* Legs that differ by more are no legs of one dart, mm. */
#define MOST_UNEQUAL 5
/* Paper left at the pivot where two darts would share it, mm: a sixteenth of an inch, as is
 * common practice with slashes. */
#define HINGE 1.5875

typedef struct
{
  guint dart;
  DraftingPlace to;
  double share;
  const GeoPoint *pivot;
  gboolean flare;
} Turn;

typedef struct
{
  guint first, second; /* nodes at the new place */
  guint a0;
  GeoPoint pivot;
  double angle; /* signed, the part from the mouth to the place is turned by */
} Cut;

static gboolean
can_turn (const Pattern *p, const Turn *turn, const DraftingDart *dart,
          GError **error)
{
  if (turn->to.piece != dart->piece->id)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("A dart can be turned to another place of its "
                               "own piece only. Nothing was changed."));
  if (turn->to.edge == dart->leg[0] || turn->to.edge == dart->leg[1])
    return drafting_refuse (
        error, DRAFTING_ERROR_SHAPE,
        _ ("That place is on the dart's own leg. Choose one on another edge. "
           "Nothing was changed."));
  GeoPoint q = turn->pivot ? *turn->pivot : dart->point;
  if (!drafting_point_is_good (q, error))
    return FALSE;
  double a = geo_distance (q, dart->mouth[0]);
  double b = geo_distance (q, dart->mouth[1]);
  if (fabs (a - b) > MOST_UNEQUAL || MIN (a, b) < 1)
    {
      g_autofree char *one = NULL, *two = NULL;
      sewing_words_two_lengths (p, a, b, &one, &two);
      return drafting_refuse (
          error, DRAFTING_ERROR_SHAPE,
          _ ("From there the ends of the dart's legs are %s and %s away, so "
             "that it can't be closed by turning about it. Turn it about a "
             "place on its middle line. Nothing was changed."),
          one, two);
    }
  return TRUE;
}

/* The region between the mouth's second end and the place. */
static void
region_of (const DraftingChange *c, const DraftingDart *dart, const Cut *cut,
           GeoChain *region)
{
  drafting_change_chain (c, dart->a1, cut->first, region);
  geo_chain_append_line (region, geo_chain_end (region), cut->pivot);
  if (geo_distance (cut->pivot, dart->point) > 1e-9)
    geo_chain_append_line (region, cut->pivot, dart->point);
  drafting_change_chain (c, dart->tip, dart->a1, region);
}

/* Turns one part, its marks and, where some of the dart is left, the leg on it. */
static void
turn_part (DraftingChange *c, const DraftingDart *dart, const Cut *cut)
{
  GeoChain region = GEO_CHAIN_EMPTY;
  region_of (c, dart, cut, &region);
  gboolean other = drafting_change_stays (c, &region, dart->a1, cut->first);
  if (other)
    {
      geo_chain_reset (&region);
      drafting_change_chain (c, cut->second, dart->tip, &region);
      if (geo_distance (cut->pivot, dart->point) > 1e-9)
        geo_chain_append_line (&region, dart->point, cut->pivot);
      geo_chain_append_line (&region, geo_chain_end (&region),
                             geo_chain_start (&region));
    }
  GeoMotion motion
      = geo_motion_about (cut->pivot, other ? -cut->angle : cut->angle);
  drafting_change_carry (c, &region, motion);
  geo_chain_clear (&region);
  PatternPiece *piece = c->piece;
  guint n = piece->n_nodes;
  guint tip = drafting_change_index (c, dart->tip);
  /* The point's handle on the part that turns. */
  PatternNode *point = &piece->nodes[tip];
  GeoPoint *handle = other ? &point->in : &point->out;
  if (!geo_same (*handle, point->at))
    *handle = geo_motion_apply (motion, *handle);
  guint from = other ? cut->second : piece->nodes[(tip + 1) % n].id;
  guint to = other ? piece->nodes[(tip + n - 1) % n].id : cut->first;
  drafting_change_move (c, from, to, motion);
  if (geo_distance (cut->pivot, dart->point) > 1e-9)
    {
      GeoMotion half = geo_motion_about (
          cut->pivot, (other ? -cut->angle : cut->angle) / 2);
      GeoPoint ends[2] = { dart->point, dart->point };
      ends[other ? 0 : 1] = geo_motion_apply (motion, dart->point);
      drafting_dart_lay_legs (c, dart, ends,
                              geo_motion_apply (half, dart->point));
    }
}

static gboolean
cut_to_pivot (DraftingChange *c, const Turn *turn, const DraftingDart *dart,
              Cut *cut, GError **error)
{
  guint node = drafting_change_node_at (c, turn->to.edge, turn->to.at, error);
  if (!node)
    return FALSE;
  if (node == dart->a0 || node == dart->a1)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("The dart is at that place already. Nothing "
                               "was changed."));
  cut->pivot = turn->pivot ? *turn->pivot : dart->point;
  if (!drafting_change_inside (c, drafting_change_node (c, node)->at,
                               cut->pivot, error))
    return FALSE;
  drafting_change_hold (c);
  cut->first = drafting_change_part (c, node);
  cut->second = node;
  cut->angle = turn->share * drafting_dart_turn (dart, cut->pivot);
  return TRUE;
}

/* The new dart's point: the pivot, or, where the old dart's point is there, drawn back a
 * little on the new one's middle line. */
static GeoPoint
short_of (const DraftingChange *c, const DraftingDart *dart, const Cut *cut)
{
  GeoPoint old = drafting_change_node (c, dart->tip)->at;
  if (geo_distance (old, cut->pivot) >= HINGE)
    return cut->pivot;
  GeoPoint middle = geo_lerp (drafting_change_node (c, cut->first)->at,
                              drafting_change_node (c, cut->second)->at, 0.5);
  return geo_along (cut->pivot, geo_unit (geo_sub (middle, cut->pivot)), HINGE);
}

static Pattern *
attempt (const Pattern *p, gconstpointer what, double share, GError **error)
{
  Turn turn = *(const Turn *)what;
  turn.share *= share;
  DraftingDart dart;
  if (!drafting_find_dart (p, turn.dart, &dart, error)
      || !can_turn (p, &turn, &dart, error))
    return NULL;
  g_auto (DraftingChange) c = { 0 };
  Cut cut = { 0 };
  if (!drafting_change_begin (&c, p, dart.piece->id, error)
      || !cut_to_pivot (&c, &turn, &dart, &cut, error))
    return NULL;
  const PatternEdge like
      = dart.piece->edges[pattern_piece_find_edge (dart.piece, turn.to.edge)];
  turn_part (&c, &dart, &cut);
  gboolean whole = turn.share > 1 - 1e-12;
  if (whole)
    {
      drafting_dart_remove (&c, &dart);
      drafting_change_rejoin (&c, dart.a1);
    }
  if (turn.flare)
    {
      if (!drafting_change_mend (&c, cut.first, cut.second, FALSE, TRUE, error))
        return NULL;
      if (whole)
        pattern_remove_seam (c.pattern, dart.seam->id);
    }
  else
    {
      drafting_change_cut_edge (&c, cut.second);
      drafting_dart_open (&c, cut.first, cut.second,
                          whole ? cut.pivot : short_of (&c, &dart, &cut), &like,
                          whole ? &dart : NULL);
      if (whole)
        drafting_dart_carry_drills (
            &c, &dart, cut.pivot,
            geo_lerp (drafting_change_node (&c, cut.first)->at,
                      drafting_change_node (&c, cut.second)->at, 0.5));
    }
  return drafting_change_finish (&c, error);
}

static Pattern *
turn_it (const Pattern *p, const Turn *turn, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!drafting_number_is_good (turn->share, error))
    return NULL;
  if (turn->share <= 0 || turn->share > 1)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("A dart can be turned by more than nothing and at "
                          "most by all of it. Nothing was changed."));
      return NULL;
    }
  return drafting_try (p, attempt, turn, 100 * turn->share,
                       DRAFTING_WORDS_PER_CENT, error);
}

Pattern *
drafting_turn_dart (const Pattern *p, guint dart, DraftingPlace to,
                    double share, const GeoPoint *pivot, GError **error)
{
  Turn turn = { dart, to, share, pivot, FALSE };
  return turn_it (p, &turn, error);
}

Pattern *
drafting_dart_to_flare (const Pattern *p, guint dart, DraftingPlace to,
                        double share, const GeoPoint *pivot, GError **error)
{
  Turn turn = { dart, to, share, pivot, TRUE };
  return turn_it (p, &turn, error);
}

/* --- over several places ----------------------------------------------------------- */
static gboolean
shares_are_good (const double *shares, guint n, GError **error)
{
  double sum = 0;
  gboolean good = n > 0;
  for (guint i = 0; i < n; i++)
    {
      good = good && isfinite (shares[i]) && shares[i] > 0;
      sum += shares[i];
    }
  if (good && sum <= 1 + 1e-9)
    return TRUE;
  return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                          _ ("The shares of a dart have to be above nothing "
                             "and together at most 100 %%. Nothing was "
                             "changed."));
}

/* A place is followed by a node put there beforehand. */
static Pattern *
mark_places (const Pattern *p, guint piece, const DraftingPlace *to, guint n,
             guint *nodes, GError **error)
{
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_change_begin (&c, p, piece, error))
    return NULL;
  /* The farthest first, so that lengths on one edge hold. */
  g_autofree gboolean *done = g_new0 (gboolean, n);
  for (guint k = 0; k < n; k++)
    {
      guint far = n;
      for (guint i = 0; i < n; i++)
        if (!done[i] && (far == n || to[i].at > to[far].at))
          far = i;
      done[far] = TRUE;
      nodes[far]
          = drafting_change_node_at (&c, to[far].edge, to[far].at, error);
      if (!nodes[far])
        return NULL;
    }
  return drafting_change_finish (&c, error);
}

/* Where a node is on its edge. */
static DraftingPlace
place_of (const Pattern *p, guint piece, guint node)
{
  const PatternPiece *own = pattern_get_piece (p, piece);
  guint i = (guint)pattern_piece_find_node (own, node);
  guint edge = pattern_piece_edge_of_node (own, i);
  double at = 0;
  for (guint k = own->edges[edge].first; k < i; k++)
    {
      GeoCubic side = pattern_piece_cubic (own, k);
      at += geo_cubic_length (&side, DRAFTING_EXACT);
    }
  return (DraftingPlace){ piece, own->edges[edge].id, at };
}

Pattern *
drafting_split_dart (const Pattern *p, guint dart, const DraftingPlace *to,
                     const double *shares, guint n, const GeoPoint *pivot,
                     GError **error)
{
  g_return_val_if_fail (p != NULL && (n == 0 || (to && shares)), NULL);
  DraftingDart d;
  if (!shares_are_good (shares, n, error)
      || !drafting_find_dart (p, dart, &d, error))
    return NULL;
  for (guint i = 0; i < n; i++)
    {
      Turn turn = { dart, to[i], shares[i], pivot, FALSE };
      if (!can_turn (p, &turn, &d, error))
        return NULL;
    }
  guint piece = d.piece->id;
  g_autofree guint *nodes = g_new0 (guint, n);
  g_autoptr (Pattern) now = mark_places (p, piece, to, n, nodes, error);
  double left = 1;
  for (guint i = 0; now && i < n; i++)
    {
      double share = CLAMP (shares[i] / left, 0, 1);
      if (share > 1 - 1e-9)
        share = 1;
      Pattern *next = drafting_turn_dart (
          now, dart, place_of (now, piece, nodes[i]), share, pivot, error);
      pattern_unref (now);
      now = next;
      left -= shares[i];
    }
  return g_steal_pointer (&now);
}
