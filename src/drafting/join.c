/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces joined along a seam. */
#include <glib/gi18n.h>

#include "drafting/join-private.h"
#include "geometry/apart.h"
#include "sewing/facts.h"
#include "sewing/words.h"

#define FIT_WITHIN 1.0 /* mm the two edges may stand off each other */

/* --- two outlines -------------------------------------------------------------------------- */
/* The nodes at which the run of edges that goes starts and ends. */
static gboolean
find_run (const PatternPiece *piece, const gboolean *gone, guint *start,
          guint *end)
{
  guint m = piece->n_edges, starts = 0;
  for (guint e = 0; e < m; e++)
    {
      guint before = (e + m - 1) % m;
      if (gone[e] && !gone[before])
        {
          *start = piece->edges[e].first;
          starts++;
        }
      if (!gone[e] && gone[before])
        *end = piece->edges[e].first;
    }
  return starts == 1;
}

void
drafting_take_marks (PatternPiece *a, const PatternPiece *b)
{
  for (guint i = 0; i < b->n_notches; i++)
    pattern_piece_add_notch (a, b->notches[i]);
  for (guint i = 0; i < b->n_buttonholes; i++)
    pattern_piece_add_buttonhole (a, b->buttonholes[i]);
  for (guint i = 0; i < b->n_drills; i++)
    pattern_piece_add_drill (a, b->drills[i]);
  for (guint i = 0; i < b->n_texts; i++)
    pattern_piece_add_text (a, b->texts[i].id, b->texts[i].at,
                            b->texts[i].angle, b->texts[i].size,
                            b->texts[i].text);
  for (guint i = 0; i < b->n_lines; i++)
    pattern_piece_add_line (a, b->lines[i].id, b->lines[i].name,
                            b->lines[i].nodes, b->lines[i].n_nodes);
}

/* The node where one outline goes over into the other: ends the one, starts the other. */
static PatternNode
between (const PatternNode *last, const PatternNode *first)
{
  PatternNode node = *first;
  node.kind = PATTERN_NODE_CORNER;
  node.at = geo_lerp (last->at, first->at, 0.5);
  node.in = geo_same (last->in, last->at)
                ? node.at
                : geo_add (last->in, geo_sub (node.at, last->at));
  node.out = geo_same (first->out, first->at)
                 ? node.at
                 : geo_add (first->out, geo_sub (node.at, first->at));
  return node;
}

/* Appends from the node where the run ends to where it starts, the last left out. */
static void
add_rest (DraftingLoop *loop, const PatternPiece *piece, guint end, guint start)
{
  drafting_loop_add_run (loop, piece, end, start);
  g_array_set_size (loop->nodes, loop->nodes->len - 1);
}

gboolean
drafting_put_together (PatternPiece *a, const gboolean *a_gone,
                       const PatternPiece *b, const gboolean *b_gone,
                       guint joints[2])
{
  guint a_start, a_end, b_start, b_end;
  if (!find_run (a, a_gone, &a_start, &a_end)
      || !find_run (b, b_gone, &b_start, &b_end))
    return FALSE;
  g_auto (DraftingLoop) loop;
  drafting_loop_init (&loop);
  add_rest (&loop, a, a_end, a_start);
  guint second = loop.nodes->len;
  add_rest (&loop, b, b_end, b_start);
  g_array_index (loop.nodes, PatternNode, 0)
      = between (&b->nodes[b_start], &a->nodes[a_end]);
  g_array_index (loop.nodes, PatternNode, second)
      = between (&a->nodes[a_start], &b->nodes[b_end]);
  joints[0] = a->nodes[a_end].id;
  joints[1] = b->nodes[b_end].id;
  drafting_loop_close (&loop, a);
  drafting_take_marks (a, b);
  for (guint i = a->n_notches; i-- > 0;)
    if (pattern_piece_find_edge (a, a->notches[i].edge) < 0)
      pattern_piece_remove_mark (a, a->notches[i].id);
  for (int k = 0; k < 2; k++)
    drafting_set_kind_by_shape (a,
                                (guint)pattern_piece_find_node (a, joints[k]));
  return TRUE;
}

/* --- along a seam ------------------------------------------------------------------------------ */
static gboolean
flag_side (const PatternPiece *piece, const PatternSide *side, gboolean *gone)
{
  for (guint r = 0; r < side->n_runs; r++)
    {
      int edge = side->runs[r].piece == piece->id
                     ? pattern_piece_find_edge (piece, side->runs[r].edge)
                     : -1;
      if (edge < 0)
        return FALSE;
      gone[edge] = TRUE;
    }
  return TRUE;
}

static gboolean
cannot_join (const PatternSeam *seam, GError **error)
{
  g_autofree char *name = sewing_words_seam (seam);
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("%s does not join two pieces, each by edges in a "
                             "row, so that there is nothing to join flat. "
                             "Nothing was changed."),
                          name);
}

/* Lays side B's chord on side A's, middle on middle, B on the other side of the line. */
static GeoMotion
laying (const SewingSeam *s)
{
  GeoMotion over = s->inside[0] == s->inside[1]
                       ? (GeoMotion){ 1, 0, 0, 0, TRUE }
                       : geo_motion_none ();
  GeoPoint a0 = geo_chain_start (&s->chains[0]);
  GeoPoint a1 = geo_chain_end (&s->chains[0]);
  GeoPoint b0 = geo_motion_apply (over, geo_chain_start (&s->chains[1]));
  GeoPoint b1 = geo_motion_apply (over, geo_chain_end (&s->chains[1]));
  double angle = geo_angle_between (geo_sub (b1, b0), geo_sub (a1, a0));
  GeoMotion turn = geo_motion_about (geo_point (0, 0), angle);
  GeoMotion m = geo_motion_then (over, turn);
  GeoPoint middle = geo_motion_apply (turn, geo_lerp (b0, b1, 0.5));
  GeoPoint by = geo_sub (geo_lerp (a0, a1, 0.5), middle);
  return geo_motion_then (m, geo_motion_move (by.x, by.y));
}

static gboolean
fits (const Pattern *p, const SewingSeam *s, GeoMotion motion, GError **error)
{
  GeoChain laid = GEO_CHAIN_EMPTY;
  geo_chain_copy (&laid, &s->chains[1]);
  geo_chain_transform (&laid, motion);
  double apart = geo_chain_apart (&s->chains[0], &laid);
  apart = MAX (apart, geo_distance (geo_chain_start (&s->chains[0]),
                                    geo_chain_start (&laid)));
  geo_chain_clear (&laid);
  if (apart <= FIT_WITHIN)
    return TRUE;
  g_autofree char *name = sewing_words_seam (s->seam);
  g_autofree char *words = sewing_words_amount (p, apart);
  return drafting_refuse (
      error, DRAFTING_ERROR_SHAPE,
      _ ("Laid together, the two sides of %s stand up to %s off each other: "
         "the "
         "seam shapes the cloth, and one flat piece can't. Nothing was "
         "changed."),
      name, words);
}

static Pattern *
join_laid (const Pattern *p, const PatternSeam *seam, GeoMotion motion,
           GError **error)
{
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_change_begin (&c, p, seam->sides[0].runs[0].piece, error))
    return NULL;
  const PatternPiece *other
      = drafting_find_piece (p, seam->sides[1].runs[0].piece, error);
  if (!other)
    return NULL;
  g_autoptr (PatternPiece) b = pattern_piece_dup (other);
  pattern_piece_move (b, motion);
  if (motion.flip)
    pattern_turn_runs (c.pattern, b->id);
  g_autofree gboolean *a_gone = g_new0 (gboolean, c.piece->n_edges);
  g_autofree gboolean *b_gone = g_new0 (gboolean, b->n_edges);
  guint joints[2];
  if (b->id == c.piece->id || !flag_side (c.piece, &seam->sides[0], a_gone)
      || !flag_side (b, &seam->sides[1], b_gone)
      || !drafting_put_together (c.piece, a_gone, b, b_gone, joints))
    {
      cannot_join (seam, error);
      return NULL;
    }
  pattern_remove_seam (c.pattern, seam->id);
  drafting_hand_over (c.pattern, b->id, c.piece);
  pattern_remove_piece (c.pattern, b->id);
  drafting_change_hold (&c);
  for (int k = 0; k < 2; k++)
    drafting_change_rejoin (&c, joints[k]);
  Pattern *result = drafting_change_finish (&c, error);
  if (!result)
    return NULL;
  pattern_drop_loose_ends (result);
  return result;
}

Pattern *
drafting_join_pieces (const Pattern *p, guint seam, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  const PatternSeam *own = drafting_find_seam (p, seam, error);
  if (!own)
    return NULL;
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *s = sewing_facts_seam (facts, p, own);
  if (!s || own->join == PATTERN_JOIN_DART
      || own->sides[0].runs[0].piece == own->sides[1].runs[0].piece)
    {
      cannot_join (own, error);
      return NULL;
    }
  GeoMotion motion = laying (s);
  return fits (p, s, motion, error) ? join_laid (p, own, motion, error) : NULL;
}
