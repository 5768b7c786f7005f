/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces split along a line. */
#include <glib/gi18n.h>

#include "drafting/dart-private.h"
#include "drafting/join-private.h"
#include "geometry/crossing.h"
#include "geometry/length.h"
#include "geometry/region.h"
#include "sewing/middle.h"
#include "sewing/words.h"

#define NEW_ALLOWANCE 10.0 /* mm, where no edge beside has one */

void
drafting_hand_over (Pattern *p, guint from, const PatternPiece *to)
{
  for (guint i = 0; i < p->n_seams; i++)
    {
      g_autoptr (PatternSeam) seam = pattern_seam_dup (p->seams[i]);
      gboolean changed = FALSE;
      for (int k = 0; k < 2; k++)
        for (guint r = 0; r < seam->sides[k].n_runs; r++)
          {
            PatternRun *run = &seam->sides[k].runs[r];
            if (run->piece != from
                || pattern_piece_find_edge (to, run->edge) < 0)
              continue;
            run->piece = to->id;
            changed = TRUE;
          }
      if (changed)
        pattern_put_seam (p, g_steal_pointer (&seam));
    }
}

/* --- the two halves --------------------------------------------------------------------- */
/* A closed outline: the run from one node to another, and back along the line. */
static guint
close_half (DraftingChange *c, PatternPiece *into, guint first, guint last,
            const GeoChain *back, PatternEdge cut)
{
  g_auto (DraftingLoop) loop;
  guint fresh = c->pattern->next_id;
  drafting_loop_init (&loop);
  drafting_loop_add_run (&loop, c->piece, drafting_change_index (c, first),
                         drafting_change_index (c, last));
  cut.id = pattern_take_id (c->pattern);
  cut.first = loop.nodes->len - 1;
  g_array_append_val (loop.edges, cut);
  GeoPoint arrive;
  drafting_loop_add_chain (&loop, back, c->pattern, &arrive);
  g_array_index (loop.nodes, PatternNode, 0).in = arrive;
  drafting_loop_close (&loop, into);
  for (guint i = 0; i < into->n_nodes; i++)
    if (into->nodes[i].id >= fresh)
      drafting_set_kind_by_shape (into, i);
  return cut.id;
}

/* Leaves the piece what is on its own paper. */
static void
keep_own_marks (PatternPiece *piece)
{
  GeoChain outline = GEO_CHAIN_EMPTY;
  pattern_piece_outline (piece, &outline);
  for (guint i = piece->n_notches; i-- > 0;)
    if (pattern_piece_find_edge (piece, piece->notches[i].edge) < 0)
      pattern_piece_remove_mark (piece, piece->notches[i].id);
  for (guint i = piece->n_buttonholes; i-- > 0;)
    if (!geo_chain_contains (&outline, piece->buttonholes[i].at))
      pattern_piece_remove_mark (piece, piece->buttonholes[i].id);
  for (guint i = piece->n_drills; i-- > 0;)
    if (!geo_chain_contains (&outline, piece->drills[i].at))
      pattern_piece_remove_mark (piece, piece->drills[i].id);
  for (guint i = piece->n_texts; i-- > 0;)
    if (!geo_chain_contains (&outline, piece->texts[i].at))
      pattern_piece_remove_mark (piece, piece->texts[i].id);
  if (piece->has_grain)
    {
      GeoPoint middle = geo_lerp (piece->grain_from, piece->grain_to, 0.5);
      if (!geo_chain_contains (&outline, middle))
        {
          GeoPoint by = geo_sub (sewing_middle (&outline), middle);
          piece->grain_from = geo_add (piece->grain_from, by);
          piece->grain_to = geo_add (piece->grain_to, by);
        }
    }
  geo_chain_clear (&outline);
}

/* An inner line goes to the piece most of its nodes lie in. */
static void
share_lines (PatternPiece *a, PatternPiece *b)
{
  GeoChain outline = GEO_CHAIN_EMPTY;
  pattern_piece_outline (a, &outline);
  for (guint i = a->n_lines; i-- > 0;)
    {
      const PatternLine *line = &a->lines[i];
      guint in[2] = { 0, 0 };
      for (guint k = 0; k < line->n_nodes; k++)
        in[geo_chain_contains (&outline, line->nodes[k].at) ? 0 : 1]++;
      pattern_piece_remove_mark (in[0] >= in[1] ? b : a, line->id);
    }
  geo_chain_clear (&outline);
}

static gboolean
is_sound_half (const PatternPiece *piece, GError **error)
{
  GeoChain outline = GEO_CHAIN_EMPTY;
  pattern_piece_outline (piece, &outline);
  gboolean good
      = geo_chain_area (&outline) > 1 && !geo_chain_crosses_itself (&outline);
  geo_chain_clear (&outline);
  return good
         || drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                             _ ("The line would leave a part without area, or "
                                "one that lies over itself. Nothing was "
                                "changed."));
}

gboolean
drafting_cut_in_two (DraftingChange *c, guint a, guint b, const GeoChain *line,
                     const char *name, DraftingHalves *halves, GError **error)
{
  guint a_first = drafting_change_part (c, a);
  guint b_first = drafting_change_part (c, b);
  drafting_change_cut_edge (c, a);
  drafting_change_cut_edge (c, b);
  guint at = drafting_change_index (c, a);
  const PatternEdge *beside
      = &c->piece->edges[pattern_piece_edge_of_node (c->piece, at)];
  double width = pattern_edge_width (beside);
  PatternEdge cut = { .name = (char *)_ ("split"),
                      .allowance = width > 0 ? width : NEW_ALLOWANCE };
  PatternPiece *parts[2]
      = { pattern_piece_dup (c->piece), pattern_piece_dup (c->piece) };
  GeoChain back = GEO_CHAIN_EMPTY;
  geo_chain_copy (&back, line);
  /* From b round to a, then along the line; from a round to b, then back. */
  halves->cut[0] = close_half (c, parts[0], b, a_first, &back, cut);
  geo_chain_reverse (&back);
  halves->cut[1] = close_half (c, parts[1], a, b_first, &back, cut);
  geo_chain_clear (&back);
  GeoChain region = GEO_CHAIN_EMPTY;
  pattern_piece_outline (parts[0], &region);
  halves->kept_first = drafting_change_stays (c, &region, b, a_first);
  geo_chain_clear (&region);
  PatternPiece *kept = parts[halves->kept_first ? 0 : 1];
  PatternPiece *other = parts[halves->kept_first ? 1 : 0];
  if (!is_sound_half (kept, error) || !is_sound_half (other, error))
    {
      pattern_piece_unref (kept);
      pattern_piece_unref (other);
      return FALSE;
    }
  other->id = pattern_take_id (c->pattern);
  g_autofree char *own = g_strdup_printf (_ ("%s, part 2"), kept->name);
  pattern_set_string (&other->name, name && *name ? name : own);
  share_lines (kept, other);
  keep_own_marks (kept);
  keep_own_marks (other);
  drafting_hand_over (c->pattern, kept->id, other);
  pattern_piece_unref (c->piece);
  c->piece = kept;
  halves->other = other;
  return TRUE;
}

/* --- along a drawn line ------------------------------------------------------------------ */
/* The longest stretch of the line inside, by two crossings; its ends are the outline's points. */
static gboolean
stretch_inside (const PatternPiece *piece, const GeoChain *line,
                GeoChain *inside, GError **error)
{
  GeoBox box = drafting_bounds (piece);
  double reach = geo_box_width (box) + geo_box_height (box);
  GeoChain outline = GEO_CHAIN_EMPTY, whole = GEO_CHAIN_EMPTY;
  pattern_piece_outline (piece, &outline);
  if (line->count > 0)
    {
      GeoPoint start = geo_chain_start (line), end = geo_chain_end (line);
      GeoPoint back = geo_chain_tangent (line, (GeoPlace){ 0, 0 });
      GeoPoint on = geo_chain_tangent (line, (GeoPlace){ line->count - 1, 1 });
      geo_chain_append_line (&whole, geo_along (start, back, -reach), start);
      geo_chain_append_chain (&whole, line);
      geo_chain_append_line (&whole, end, geo_along (end, on, reach));
    }
  GeoCrossings met;
  geo_crossings_init (&met);
  if (whole.count > 0)
    geo_chain_crossings (&whole, &outline, &met);
  double best = 0;
  for (size_t i = 0; i + 1 < met.count; i++)
    {
      GeoChain part = GEO_CHAIN_EMPTY, drawn = GEO_CHAIN_EMPTY;
      GeoPlace from = met.items[i].a, to = met.items[i + 1].a;
      geo_chain_slice (&whole, from, to, &part);
      /* Only what was drawn counts in choosing. */
      GeoPlace first = { 1, 0 }, last = { whole.count - 2, 1 };
      if (geo_place_compare (from, first) < 0)
        from = first;
      if (geo_place_compare (to, last) > 0)
        to = last;
      if (geo_place_compare (from, to) < 0)
        geo_chain_slice (&whole, from, to, &drawn);
      double length = geo_chain_length (&drawn, 1e-6);
      if (part.count > 0 && length > best
          && geo_chain_contains (
              &outline,
              geo_chain_point (
                  &part, geo_chain_at_length (
                             &part, geo_chain_length (&part, 1e-6) / 2, 1e-6))))
        {
          best = length;
          geo_chain_copy (inside, &part);
        }
      geo_chain_clear (&part);
      geo_chain_clear (&drawn);
    }
  geo_crossings_clear (&met);
  geo_chain_clear (&whole);
  geo_chain_clear (&outline);
  g_autofree char *name = sewing_words_piece (piece);
  return best > 0
         || drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                             _ ("The line misses %s. Draw it across the piece, "
                                "from outside to outside. Nothing was "
                                "changed."),
                             name);
}

/* Nodes where the line's ends meet the outline; the ends are put on them. */
static gboolean
put_end_nodes (DraftingChange *c, GeoChain *line, guint *a, guint *b,
               GError **error)
{
  DraftingPlace from, to;
  if (!drafting_place_near (c->piece, geo_chain_start (line), &from)
      || !drafting_place_near (c->piece, geo_chain_end (line), &to))
    return FALSE;
  gboolean swap = from.edge == to.edge && from.at < to.at;
  for (int i = 0; i < 2; i++)
    {
      gboolean is_to = swap ? i == 0 : i == 1;
      const DraftingPlace *place = is_to ? &to : &from;
      guint node = drafting_change_node_at (c, place->edge, place->at, error);
      if (!node)
        return FALSE;
      *(is_to ? b : a) = node;
    }
  if (*a == *b)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("The line ends where it starts. Nothing was "
                               "changed."));
  line->cubics[0].p[0] = drafting_change_node (c, *a)->at;
  line->cubics[line->count - 1].p[3] = drafting_change_node (c, *b)->at;
  return TRUE;
}

static PatternSeam *
seam_between (DraftingChange *c, const DraftingHalves *halves)
{
  PatternSeam *seam
      = pattern_seam_new (pattern_take_id (c->pattern), _ ("Split seam"));
  guint first = halves->kept_first ? c->piece->id : halves->other->id;
  guint second = halves->kept_first ? halves->other->id : c->piece->id;
  pattern_seam_add_run (seam, 0, (PatternRun){ first, halves->cut[0], FALSE });
  pattern_seam_add_run (seam, 1, (PatternRun){ second, halves->cut[1], TRUE });
  return seam;
}

/* The new piece is moved aside, and both are put into the pattern. */
static Pattern *
finish_two (DraftingChange *c, DraftingHalves *halves, GeoPoint along,
            double apart, PatternSeam *seam, guint *new_piece, guint *new_seam,
            GError **error)
{
  /* The part of cut[0] lies on the left of the line from a to b. */
  GeoPoint aside = geo_scale (geo_left (geo_unit (along)),
                              halves->kept_first ? -apart : apart);
  pattern_piece_move (halves->other, geo_motion_move (aside.x, aside.y));
  guint piece = halves->other->id, id = seam->id;
  pattern_put_piece (c->pattern, g_steal_pointer (&halves->other));
  pattern_put_seam (c->pattern, seam);
  Pattern *result = drafting_change_finish (c, error);
  if (result && new_piece)
    *new_piece = piece;
  if (result && new_seam)
    *new_seam = id;
  return result;
}

Pattern *
drafting_split_piece (const Pattern *p, guint piece, const GeoChain *line,
                      double apart, const char *name, guint *new_piece,
                      guint *new_seam, GError **error)
{
  g_return_val_if_fail (p != NULL && line != NULL, NULL);
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_number_is_good (apart, error)
      || !drafting_change_begin (&c, p, piece, error))
    return NULL;
  for (size_t i = 0; i < line->count; i++)
    for (int k = 0; k < 4; k++)
      if (!drafting_point_is_good (line->cubics[i].p[k], error))
        return NULL;
  GeoChain inside = GEO_CHAIN_EMPTY;
  guint a = 0, b = 0;
  DraftingHalves halves = { 0 };
  gboolean good
      = stretch_inside (c.piece, line, &inside, error)
        && put_end_nodes (&c, &inside, &a, &b, error)
        && drafting_cut_in_two (&c, a, b, &inside, name, &halves, error);
  GeoPoint along = inside.count > 0 ? geo_sub (geo_chain_end (&inside),
                                               geo_chain_start (&inside))
                                    : geo_point (0, 0);
  geo_chain_clear (&inside);
  if (!good)
    return NULL;
  return finish_two (&c, &halves, along, apart, seam_between (&c, &halves),
                     new_piece, new_seam, error);
}

/* --- a dart into a seam ----------------------------------------------------------------------- */
Pattern *
drafting_dart_to_seam (const Pattern *p, guint dart, DraftingPlace to,
                       double apart, guint *new_piece, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  DraftingDart d;
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_number_is_good (apart, error)
      || !drafting_find_dart (p, dart, &d, error))
    return NULL;
  if (to.piece != d.piece->id || to.edge == d.leg[0] || to.edge == d.leg[1])
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("The seam has to go from the dart's point to another "
                          "edge of the same piece. Nothing was changed."));
      return NULL;
    }
  if (!drafting_change_begin (&c, p, to.piece, error))
    return NULL;
  guint b = drafting_change_node_at (&c, to.edge, to.at, error);
  if (!b)
    return NULL;
  GeoPoint end = drafting_change_node (&c, b)->at;
  if (b == d.a0 || b == d.a1
      || !drafting_change_inside (&c, d.point, end, error))
    {
      if (error && !*error)
        drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                         _ ("The dart is at that place already. Nothing was "
                            "changed."));
      return NULL;
    }
  GeoChain line = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&line, d.point, end);
  DraftingHalves halves = { 0 };
  g_autofree char *seam_name = g_strdup (d.seam->name);
  gboolean good
      = drafting_cut_in_two (&c, d.tip, b, &line, NULL, &halves, error);
  geo_chain_clear (&line);
  if (!good)
    return NULL;
  pattern_remove_seam (c.pattern, dart);
  /* Each side: its leg from the mouth to the point, then the cut. */
  PatternSeam *seam = seam_between (&c, &halves);
  guint pieces[2]
      = { seam->sides[0].runs[0].piece, seam->sides[1].runs[0].piece };
  PatternSeam *whole = pattern_seam_new (seam->id, seam_name);
  pattern_seam_add_run (whole, 0, (PatternRun){ pieces[0], d.leg[0], FALSE });
  pattern_seam_add_run (whole, 0, seam->sides[0].runs[0]);
  pattern_seam_add_run (whole, 1, (PatternRun){ pieces[1], d.leg[1], TRUE });
  pattern_seam_add_run (whole, 1, seam->sides[1].runs[0]);
  pattern_seam_unref (seam);
  return finish_two (&c, &halves, geo_sub (end, d.point), apart, whole,
                     new_piece, NULL, error);
}
