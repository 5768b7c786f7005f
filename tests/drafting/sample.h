/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Patterns for tests of the verbs, and what is asked of every result. */
#pragma once

#include "drafting/edit.h"
#include "geometry/length.h"
#include "geometry/region.h"

#define assert_near(a, b, within)                                              \
  g_assert_cmpfloat (fabs ((a) - (b)), <=, (within))

static inline PatternNode
sample_node (double x, double y)
{
  GeoPoint p = { x, y };
  return (PatternNode){ 0, PATTERN_NODE_CORNER, p, p, p };
}

static inline PatternNode
sample_curved (double x, double y, double in_x, double in_y, double out_x,
               double out_y)
{
  return (PatternNode){
    0, PATTERN_NODE_CORNER, { x, y }, { in_x, in_y }, { out_x, out_y }
  };
}

/* A bodice half at x: top (curved neck, two sides with a smooth node between),
 * right (side seam, curved), bottom (hem), left (straight). 200 wide, 300 high. */
static inline PatternPiece *
sample_bodice (Pattern *pattern, const char *name, double x)
{
  PatternPiece *piece = pattern_piece_new (pattern_take_id (pattern), name);
  PatternNode nodes[] = {
    sample_curved (x, 0, x, 0, x + 30, 40),
    sample_curved (x + 100, 60, x + 60, 60, x + 140, 60),
    sample_curved (x + 200, 0, x + 180, 30, x + 190, 100),
    sample_curved (x + 200, 300, x + 170, 220, x + 200, 300),
    sample_node (x, 300),
  };
  nodes[1].kind = PATTERN_NODE_SYMMETRIC;
  gboolean starts[] = { TRUE, FALSE, TRUE, TRUE, TRUE };
  static const char *const names[] = { "neck", "side", "hem", "centre" };
  pattern_piece_set_outline (piece, nodes, 5, starts, &pattern->next_id);
  for (guint i = 0; i < 4; i++)
    {
      pattern_set_string (&piece->edges[i].name, names[i]);
      piece->edges[i].allowance = 10;
    }
  piece->edges[2].kind = PATTERN_EDGE_HEM;
  static const PatternNotch notches[] = { { 0, 1, 1, PATTERN_FROM_START, 70 },
                                          { 0, 1, 2, PATTERN_FROM_END, 50 },
                                          { 0, 0, 1, PATTERN_FRACTION, 0.25 } };
  for (guint i = 0; i < 3; i++)
    {
      PatternNotch notch = notches[i];
      notch.id = pattern_take_id (pattern);
      notch.edge = piece->edges[notch.edge].id;
      pattern_piece_add_notch (piece, notch);
    }
  pattern_piece_add_cut (piece,
                         (PatternCut){ pattern->cloths[0].id, 1, FALSE });
  GeoPoint in = { x + 50, 150 };
  pattern_piece_add_buttonhole (
      piece, (PatternButtonhole){ pattern_take_id (pattern), in, 0.2, 20 });
  pattern_piece_add_drill (piece,
                           (PatternDrill){ pattern_take_id (pattern), in });
  pattern_piece_add_text (piece, pattern_take_id (pattern), in, 0, 5, "lap");
  PatternNode line[] = { sample_node (x + 20, 200), sample_node (x + 90, 210) };
  line[0].id = pattern_take_id (pattern);
  line[1].id = pattern_take_id (pattern);
  pattern_piece_add_line (piece, pattern_take_id (pattern), "pocket", line, 2);
  piece->has_grain = TRUE;
  piece->grain_from = geo_point (x + 100, 100);
  piece->grain_to = geo_point (x + 100, 250);
  return piece;
}

/* "front" and "back", their sides sewn to each other. */
static inline Pattern *
sample_pattern (void)
{
  Pattern *pattern = pattern_new ("sample");
  PatternPiece *front = sample_bodice (pattern, "front", 0);
  PatternPiece *back = sample_bodice (pattern, "back", 300);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (pattern), "side");
  pattern_seam_add_run (seam, 0,
                        (PatternRun){ front->id, front->edges[1].id, FALSE });
  pattern_seam_add_run (seam, 1,
                        (PatternRun){ back->id, back->edges[1].id, FALSE });
  pattern_put_piece (pattern, front);
  pattern_put_piece (pattern, back);
  pattern_put_seam (pattern, seam);
  return pattern;
}

/* A copy that shares nothing, to tell whether something was changed in place. */
static inline Pattern *
deep_copy (const Pattern *from)
{
  Pattern *copy = pattern_dup (from);
  for (guint i = 0; i < from->n_pieces; i++)
    pattern_put_piece (copy, pattern_piece_dup (from->pieces[i]));
  for (guint i = 0; i < from->n_seams; i++)
    pattern_put_seam (copy, pattern_seam_dup (from->seams[i]));
  return copy;
}

static inline void
assert_sound (const Pattern *pattern)
{
  g_autofree char *words = pattern_unsound (pattern);
  g_assert_cmpstr (words, ==, NULL);
}

/* The verb's result: there, sound, and sharing every other piece. */
static inline Pattern *
assert_done (Pattern *result, const Pattern *from, guint piece, GError *error)
{
  g_assert_no_error (error);
  g_assert_nonnull (result);
  assert_sound (result);
  for (guint i = 0; i < from->n_pieces; i++)
    if (from->pieces[i]->id != piece)
      g_assert_true (pattern_get_piece (result, from->pieces[i]->id)
                     == from->pieces[i]);
  return result;
}

/* Runs a verb on `p`; `p` and `error` are in the caller's scope. */
#define DO(verb, ...)                                                          \
  assert_done (verb (p, __VA_ARGS__, &error), p, piece, error)

static inline double
edge_length (const Pattern *pattern, guint piece, guint edge)
{
  const PatternPiece *own = pattern_get_piece (pattern, piece);
  int index = pattern_piece_find_edge (own, edge);
  g_assert_cmpint (index, >=, 0);
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_edge_chain (own, (guint)index, &chain);
  double length = geo_chain_length (&chain, 1e-10);
  geo_chain_clear (&chain);
  return length;
}
