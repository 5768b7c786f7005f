/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Halves unfolded and folded.
 *
 * The mirror image of an outline in the line through its nodes i and j, walked the other way, passes them too; so
 * the outline is its own image exactly where for every k node i + k is the image of node i - k, its handles
 * exchanged. */
#include <glib/gi18n.h>

#include "drafting/join-private.h"
#include "geometry/region.h"
#include "sewing/words.h"

#define ALIKE 0.5     /* mm two halves may differ */
#define STRAIGHT 0.01 /* mm a fold may be off a straight line */

/* --- unfolding ------------------------------------------------------------------------------- */
static int
find_fold (const PatternPiece *piece, GError **error)
{
  g_autofree char *name = sewing_words_piece (piece);
  int fold = -1;
  for (guint e = 0; e < piece->n_edges; e++)
    if (piece->edges[e].kind == PATTERN_EDGE_FOLD)
      {
        if (fold >= 0)
          {
            drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                             _ ("%s lies on two folds; it can be unfolded on "
                                "one only. Nothing was changed."),
                             name);
            return -1;
          }
        fold = (int)e;
      }
  if (fold < 0)
    drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                     _ ("%s has no edge on the fold to be unfolded on. Nothing "
                        "was changed."),
                     name);
  return fold;
}

static gboolean
is_straight (const PatternPiece *piece, guint edge, GError **error)
{
  guint n = piece->n_nodes, first = piece->edges[edge].first;
  guint last = pattern_piece_edge_last (piece, edge);
  GeoPoint from = piece->nodes[first].at, to = piece->nodes[last % n].at;
  GeoPoint across = geo_left (geo_unit (geo_sub (to, from)));
  double off = 0;
  for (guint i = first; i < last; i++)
    {
      GeoCubic side = pattern_piece_cubic (piece, i % n);
      for (int k = 0; k < 4; k++)
        off = MAX (off, fabs (geo_dot (geo_sub (side.p[k], from), across)));
    }
  if (off <= STRAIGHT && geo_distance (from, to) > 1)
    return TRUE;
  g_autofree char *name = sewing_words_edge (piece, edge);
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("%s is not straight, and nothing can be folded on "
                             "it. Nothing was changed."),
                          name);
}

Pattern *
drafting_unfold (const Pattern *p, guint piece, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_change_begin (&c, p, piece, error))
    return NULL;
  int fold = find_fold (c.piece, error);
  if (fold < 0 || !is_straight (c.piece, (guint)fold, error))
    return NULL;
  guint n = c.piece->n_nodes;
  GeoPoint from = c.piece->nodes[c.piece->edges[fold].first].at;
  GeoPoint to
      = c.piece->nodes[pattern_piece_edge_last (c.piece, (guint)fold) % n].at;
  g_autoptr (PatternPiece) image = pattern_piece_dup (c.piece);
  for (guint i = image->n_texts; i-- > 0;)
    pattern_piece_remove_mark (image, image->texts[i].id);
  guint next = c.pattern->next_id;
  guint old_fold = image->edges[fold].id, new_fold = 0;
  g_autofree guint *old = g_new (guint, image->n_edges);
  for (guint e = 0; e < image->n_edges; e++)
    old[e] = image->edges[e].id;
  drafting_renumber (image, &next);
  c.pattern->next_id = next;
  for (guint e = 0; e < image->n_edges; e++)
    if (old[e] == old_fold)
      new_fold = image->edges[e].id;
  pattern_piece_move (image, geo_motion_mirror (from, geo_sub (to, from)));
  g_autofree gboolean *a_gone = g_new0 (gboolean, c.piece->n_edges);
  g_autofree gboolean *b_gone = g_new0 (gboolean, image->n_edges);
  a_gone[fold] = TRUE;
  b_gone[pattern_piece_find_edge (image, new_fold)] = TRUE;
  guint joints[2];
  if (!drafting_put_together (c.piece, a_gone, image, b_gone, joints))
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("There is nothing to unfold. Nothing was changed."));
      return NULL;
    }
  Pattern *result = drafting_change_finish (&c, error);
  if (result)
    pattern_drop_loose_ends (result);
  return result;
}

/* --- folding ------------------------------------------------------------------------------------ */
/* The largest distance of any node or handle from the image of its fellow, about nodes i and j. */
static double
unlike (const PatternPiece *piece, guint i, guint j)
{
  guint n = piece->n_nodes;
  GeoPoint on = piece->nodes[i].at;
  GeoMotion mirror = geo_motion_mirror (on, geo_sub (piece->nodes[j].at, on));
  double worst = 0;
  for (guint k = 0; k < n && worst <= ALIKE; k++)
    {
      const PatternNode *a = &piece->nodes[(i + k) % n];
      const PatternNode *b = &piece->nodes[(i + n - k) % n];
      worst
          = MAX (worst, geo_distance (geo_motion_apply (mirror, a->at), b->at));
      worst = MAX (worst,
                   geo_distance (geo_motion_apply (mirror, a->in), b->out));
      worst = MAX (worst,
                   geo_distance (geo_motion_apply (mirror, a->out), b->in));
    }
  return worst;
}

static gboolean
find_axis (const PatternPiece *piece, guint *from, guint *to, GError **error)
{
  guint n = piece->n_nodes;
  double longest = 0;
  for (guint i = 0; n % 2 == 0 && i < n / 2; i++)
    {
      guint j = i + n / 2;
      double length = geo_distance (piece->nodes[i].at, piece->nodes[j].at);
      if (length > MAX (longest, 1) && unlike (piece, i, j) <= ALIKE)
        {
          longest = length;
          *from = i;
          *to = j;
        }
    }
  if (longest > 0)
    return TRUE;
  g_autofree char *name = sewing_words_piece (piece);
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("%s is not its own mirror image about a line "
                             "through two of its nodes, "
                             "to within 0.5 mm. Nothing was changed."),
                          name);
}

static guint
age_of (const PatternPiece *piece, guint from, guint to)
{
  guint sum = 0, count = 0, n = piece->n_nodes;
  for (guint i = (from + 1) % n; i != to; i = (i + 1) % n, count++)
    sum += piece->nodes[i].id;
  return count ? sum / count : 0;
}

Pattern *
drafting_fold (const Pattern *p, guint piece, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  g_auto (DraftingChange) c = { 0 };
  guint i = 0, j = 0;
  if (!drafting_change_begin (&c, p, piece, error)
      || !find_axis (c.piece, &i, &j, error))
    return NULL;
  /* The half that was there first stays: what was unfolded folds back to what it was. */
  guint a = c.piece->nodes[i].id, b = c.piece->nodes[j].id;
  gboolean first_stays = age_of (c.piece, i, j) <= age_of (c.piece, j, i);
  GeoChain line = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&line, c.piece->nodes[i].at, c.piece->nodes[j].at);
  DraftingHalves halves = { 0 };
  gboolean good = drafting_cut_in_two (&c, a, b, &line, NULL, &halves, error);
  geo_chain_clear (&line);
  if (!good)
    return NULL;
  /* cut[0] is of the part from b round to a. */
  gboolean swap = halves.kept_first == first_stays;
  g_autoptr (PatternPiece) gone = halves.other;
  if (swap)
    {
      guint id = c.piece->id;
      g_autofree char *name = g_strdup (c.piece->name);
      c.piece->id = halves.other->id;
      gone = c.piece;
      c.piece = halves.other;
      c.piece->id = id;
      pattern_set_string (&c.piece->name, name);
      pattern_set_string (&c.piece->note, gone->note);
    }
  for (guint e = 0; e < c.piece->n_edges; e++)
    if (c.piece->edges[e].id == halves.cut[0]
        || c.piece->edges[e].id == halves.cut[1])
      {
        c.piece->edges[e].kind = PATTERN_EDGE_FOLD;
        c.piece->edges[e].allowance = 0;
        pattern_set_string (&c.piece->edges[e].name, _ ("fold"));
      }
  /* Runs had been turned over to the other half; those of the half that stays come back. */
  drafting_hand_over (c.pattern, gone->id, c.piece);
  Pattern *result = drafting_change_finish (&c, error);
  if (result)
    pattern_drop_loose_ends (result);
  return result;
}
