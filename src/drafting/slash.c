/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces slashed and spread.
 *
 * The slash runs from F to T, L long, d its direction. The part on its right is turned by w about F
 * and then moved so that F opens by a and T by b: the gap is a trapezoid with two sides L, and
 * both openings lie along n, which is the part's outward normal n0 = -left (d) turned by w / 2.
 * From L rot (d, w) = L d + (b - a) n and rot (d, w) - d = 2 sin (w / 2) rot (left (d), w / 2):
 *
 *     sin (w / 2) = (a - b) / (2 L)
 *
 * The area gained between the parts is (a + b) / 2 L cos (w / 2). */
#include <glib/gi18n.h>

#include "drafting/slash-private.h"
#include "geometry/crossing.h"
#include "geometry/length.h"
#include "geometry/region.h"
#include "sewing/words.h"

#define STEEPEST 0.5 /* sin (w / 2) at most: the halves turn by 60 degrees */

gboolean
drafting_slash_cut (DraftingChange *c, DraftingCut *cut, GError **error)
{
  GeoPoint from = drafting_change_node (c, cut->from)->at;
  GeoPoint to = drafting_change_node (c, cut->to)->at;
  if (cut->from == cut->to || geo_distance (from, to) < 1)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("The slash needs two places on the outline "
                               "that are apart. Nothing was changed."));
  if (!drafting_change_inside (c, from, to, error))
    return FALSE;
  cut->from_first = drafting_change_part (c, cut->from);
  cut->to_first = drafting_change_part (c, cut->to);
  return TRUE;
}

gboolean
drafting_slash_spread (DraftingChange *c, const DraftingCut *cut,
                       GError **error)
{
  GeoPoint from = drafting_change_node (c, cut->from)->at;
  GeoPoint to = drafting_change_node (c, cut->to)->at;
  double length = geo_distance (from, to);
  double sine = (cut->open_from - cut->open_to) / (2 * length);
  if (fabs (sine) > STEEPEST)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("That would turn one part of the piece too far "
                               "about the other. Nothing was changed."));
  double turn = 2 * asin (sine);
  GeoPoint d = geo_unit (geo_sub (to, from));
  GeoPoint normal = geo_scale (geo_left (d), -1);
  GeoPoint way
      = geo_motion_turn (geo_motion_about (geo_point (0, 0), turn / 2), normal);
  GeoMotion motion = geo_motion_then (
      geo_motion_about (from, turn),
      geo_motion_move (cut->open_from * way.x, cut->open_from * way.y));
  GeoChain right = GEO_CHAIN_EMPTY;
  drafting_change_chain (c, cut->from, cut->to_first, &right);
  geo_chain_append_line (&right, to, from);
  guint first = cut->from, last = cut->to_first;
  if (drafting_change_stays (c, &right, first, last))
    {
      motion = geo_motion_inverse (motion);
      first = cut->to;
      last = cut->from_first;
      geo_chain_reset (&right);
      drafting_change_chain (c, first, last, &right);
      geo_chain_append_line (&right, from, to);
    }
  drafting_change_carry (c, &right, motion);
  geo_chain_clear (&right);
  drafting_change_move (c, first, last, motion);
  return TRUE;
}

gboolean
drafting_slash_mend (DraftingChange *c, const DraftingCut *cut, GError **error)
{
  return drafting_change_mend (c, cut->from_first, cut->from,
                               cut->open_from < 0, cut->fair, error)
         && drafting_change_mend (c, cut->to_first, cut->to, cut->open_to < 0,
                                  cut->fair, error);
}

/* --- one slash ------------------------------------------------------------------------ */
typedef struct
{
  DraftingPlace from, to;
  double open_from, open_to;
  gboolean fair;
} Slash;

static Pattern *
attempt (const Pattern *p, gconstpointer what, double share, GError **error)
{
  const Slash *slash = what;
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_change_begin (&c, p, slash->from.piece, error))
    return NULL;
  DraftingCut cut = { .open_from = share * slash->open_from,
                      .open_to = share * slash->open_to,
                      .fair = slash->fair };
  gboolean swap
      = slash->from.edge == slash->to.edge && slash->from.at < slash->to.at;
  for (int i = 0; i < 2; i++)
    {
      gboolean is_to = swap ? i == 0 : i == 1;
      const DraftingPlace *place = is_to ? &slash->to : &slash->from;
      guint node = drafting_change_node_at (&c, place->edge, place->at, error);
      if (!node)
        return NULL;
      *(is_to ? &cut.to : &cut.from) = node;
    }
  drafting_change_hold (&c);
  if (!drafting_slash_cut (&c, &cut, error)
      || !drafting_slash_spread (&c, &cut, error)
      || !drafting_slash_mend (&c, &cut, error))
    return NULL;
  return drafting_change_finish (&c, error);
}

Pattern *
drafting_slash (const Pattern *p, DraftingPlace from, DraftingPlace to,
                double open_from, double open_to, gboolean fair, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!drafting_number_is_good (open_from, error)
      || !drafting_number_is_good (open_to, error))
    return NULL;
  if (from.piece != to.piece)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("A slash runs across one piece; its two ends are on "
                          "different ones. Nothing was changed."));
      return NULL;
    }
  Slash slash = { from, to, open_from, open_to, fair };
  double amount = fabs (open_from) >= fabs (open_to) ? open_from : open_to;
  return drafting_try (p, attempt, &slash, amount, DRAFTING_WORDS_LENGTH,
                       error);
}

/* --- along a drawn line ------------------------------------------------------------------ */
gboolean
drafting_line_across (const PatternPiece *piece, GeoPoint a, GeoPoint b,
                      DraftingPlace *from, DraftingPlace *to, GError **error)
{
  g_autofree char *name = sewing_words_piece (piece);
  GeoChain outline = GEO_CHAIN_EMPTY, line = GEO_CHAIN_EMPTY;
  pattern_piece_outline (piece, &outline);
  GeoBox box = drafting_bounds (piece);
  double reach = geo_box_width (box) + geo_box_height (box);
  GeoPoint way = geo_unit (geo_sub (b, a));
  geo_chain_append_line (&line, geo_along (a, way, -reach),
                         geo_along (b, way, reach));
  GeoCrossings met;
  geo_crossings_init (&met);
  if (way.x != 0 || way.y != 0)
    geo_chain_crossings (&line, &outline, &met);
  /* The longest of the stretches inside, as far as it is between the two points; a
   * line drawn within the piece is taken to mean the stretch it is on. */
  double best = 0;
  for (size_t i = 0; i + 1 < met.count; i++)
    {
      GeoPoint p = met.items[i].at, q = met.items[i + 1].at;
      double low = MAX (geo_dot (geo_sub (p, a), way), 0);
      double high = MIN (geo_dot (geo_sub (q, a), way), geo_distance (a, b));
      if (high - low > best
          && geo_chain_contains (&outline, geo_lerp (p, q, 0.5)))
        {
          best = high - low;
          drafting_place_near (piece, p, from);
          drafting_place_near (piece, q, to);
        }
    }
  geo_crossings_clear (&met);
  geo_chain_clear (&line);
  geo_chain_clear (&outline);
  if (best > 0)
    return TRUE;
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("The line misses %s. Draw it across the piece, "
                             "from outside to outside. Nothing was changed."),
                          name);
}

gboolean
drafting_stretch_across (const PatternPiece *piece, GeoPoint a, GeoPoint b,
                         GeoPoint *from, GeoPoint *to)
{
  GeoChain outline = GEO_CHAIN_EMPTY, line = GEO_CHAIN_EMPTY;
  pattern_piece_outline (piece, &outline);
  geo_chain_append_line (&line, a, b);
  GeoCrossings met;
  geo_crossings_init (&met);
  if (outline.count > 0 && geo_distance (a, b) > 1e-6)
    geo_chain_crossings (&line, &outline, &met);
  double best = 0;
  for (size_t i = 0; i + 1 < met.count; i++)
    {
      GeoPoint p = met.items[i].at, q = met.items[i + 1].at;
      if (geo_distance (p, q) <= best
          || !geo_chain_contains (&outline, geo_lerp (p, q, 0.5)))
        continue;
      best = geo_distance (p, q);
      *from = p;
      *to = q;
    }
  geo_crossings_clear (&met);
  geo_chain_clear (&line);
  geo_chain_clear (&outline);
  return best > 0;
}

Pattern *
drafting_slash_line (const Pattern *p, guint piece, GeoPoint a, GeoPoint b,
                     double open_a, double open_b, gboolean fair,
                     GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!drafting_point_is_good (a, error) || !drafting_point_is_good (b, error))
    return NULL;
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  DraftingPlace from, to;
  if (!own || !drafting_line_across (own, a, b, &from, &to, error))
    return NULL;
  return drafting_slash (p, from, to, open_a, open_b, fair, error);
}

Pattern *
drafting_lengthen_at (const Pattern *p, guint piece, GeoPoint at, double by,
                      GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  if (!own || !drafting_point_is_good (at, error)
      || !drafting_number_is_good (by, error))
    return NULL;
  GeoPoint grain = geo_point (0, 1);
  if (own->has_grain && !geo_same (own->grain_from, own->grain_to))
    grain = geo_unit (geo_sub (own->grain_to, own->grain_from));
  GeoBox box = drafting_bounds (own);
  double reach = geo_box_width (box) + geo_box_height (box);
  GeoPoint across = geo_left (grain);
  return drafting_slash_line (p, piece, geo_along (at, across, -reach),
                              geo_along (at, across, reach), by, by, TRUE,
                              error);
}
