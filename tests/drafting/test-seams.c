/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "sample.h"

/* Two plain rectangles 100 x 60, "front" at 0 and "back" at 150; edges top,
 * right, bottom, left. */
typedef struct
{
  Pattern *p;
  const PatternPiece *front, *back;
} Two;

static guint
rectangle (Pattern **p, const char *name, double x)
{
  PatternNode nodes[] = { sample_node (x, 0), sample_node (x + 100, 0),
                          sample_node (x + 100, 60), sample_node (x, 60) };
  guint id = 0;
  Pattern *more = drafting_add_piece_nodes (*p, name, nodes, 4, 10, &id, NULL);
  g_assert_nonnull (more);
  pattern_unref (*p);
  *p = more;
  return id;
}

static Two
two_rectangles (void)
{
  Two two = { pattern_new ("two"), NULL, NULL };
  guint front = rectangle (&two.p, "front", 0);
  guint back = rectangle (&two.p, "back", 150);
  two.front = pattern_get_piece (two.p, front);
  two.back = pattern_get_piece (two.p, back);
  return two;
}

static gboolean
paired_against (const Two *two, guint a, guint b)
{
  guint seam = 0;
  GError *error = NULL;
  g_autoptr (Pattern) sewn = drafting_pair_edges (
      two->p, two->front->id, two->front->edges[a].id, two->back->id,
      two->back->edges[b].id, &seam, &error);
  g_assert_no_error (error);
  assert_sound (sewn);
  const PatternSeam *own = pattern_get_seam (sewn, seam);
  g_assert_cmpint (own->join, ==, PATTERN_JOIN_SEAM);
  g_assert_false (own->sides[0].runs[0].reversed);
  return own->sides[1].runs[0].reversed;
}

/* Side by side: the front's right to the back's left, top to top. */
static void
test_pair_by_ends (void)
{
  Two two = two_rectangles ();
  g_assert_true (paired_against (&two, 1, 3));
  /* Both right sides, as of a facing drawn the same way up: top to top is the
   * same way along both. */
  g_assert_false (paired_against (&two, 1, 1));
  pattern_unref (two.p);
}

static Pattern *
with_notch (const Pattern *p, guint piece, guint edge, int count, double at)
{
  GError *error = NULL;
  Pattern *more = drafting_add_notch (p, piece, edge, count, PATTERN_FROM_START,
                                      at, NULL, &error);
  g_assert_no_error (error);
  return more;
}

/* Notches say more than the ends: left and right would go top to top, but a
 * notch near the one's top and the other's bottom turns it round. */
static void
test_pair_by_notches (void)
{
  Two two = two_rectangles ();
  guint right = two.front->edges[1].id, left = two.back->edges[3].id;
  g_autoptr (Pattern) a = with_notch (two.p, two.front->id, right, 1, 15);
  g_autoptr (Pattern) with = with_notch (a, two.back->id, left, 1, 15);
  g_autoptr (Pattern) against = with_notch (a, two.back->id, left, 1, 45);
  Two one = { with, pattern_get_piece (with, two.front->id),
              pattern_get_piece (with, two.back->id) };
  g_assert_false (paired_against (&one, 1, 3));
  Two other = { against, pattern_get_piece (against, two.front->id),
                pattern_get_piece (against, two.back->id) };
  g_assert_true (paired_against (&other, 1, 3));
  pattern_unref (two.p);
}

/* Walked as paired, the pieces lie on opposite sides of the seam and the walk
 * starts at the ends that belong together. */
static void
test_pair_walks (void)
{
  Two two = two_rectangles ();
  guint seam = 0;
  g_autoptr (Pattern) sewn
      = drafting_pair_edges (two.p, two.front->id, two.front->edges[1].id,
                             two.back->id, two.back->edges[3].id, &seam, NULL);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *own
      = sewing_facts_seam (facts, sewn, pattern_get_seam (sewn, seam));
  g_assert_cmpint (own->inside[0] * own->inside[1], ==, -1);
  assert_near (sewing_seam_point (own, 0, 0).y, 0, 1e-9);
  assert_near (sewing_seam_point (own, 1, 0).y, 0, 1e-9);
  assert_near (own->ease, 0, 1e-6);
  pattern_unref (two.p);
}

static void
test_pair_dart (void)
{
  g_autoptr (Pattern) p = pattern_new ("dart");
  PatternNode nodes[]
      = { sample_node (0, 0),  sample_node (60, 0),  sample_node (70, 80),
          sample_node (80, 0), sample_node (140, 0), sample_node (140, 200),
          sample_node (0, 200) };
  guint id = 0, seam = 0;
  GError *error = NULL;
  g_autoptr (Pattern) one
      = drafting_add_piece_nodes (p, "front", nodes, 7, 10, &id, &error);
  const PatternPiece *piece = pattern_get_piece (one, id);
  g_autoptr (Pattern) sewn = drafting_pair_edges (
      one, id, piece->edges[1].id, id, piece->edges[2].id, &seam, &error);
  g_assert_no_error (error);
  const PatternSeam *dart = pattern_get_seam (sewn, seam);
  g_assert_cmpint (dart->join, ==, PATTERN_JOIN_DART);
  g_assert_true (dart->sides[0].runs[0].reversed
                 != dart->sides[1].runs[0].reversed);
  /* Two edges that meet in an outer corner are no dart. */
  g_autoptr (Pattern) tube = drafting_pair_edges (
      one, id, piece->edges[4].id, id, piece->edges[5].id, &seam, &error);
  g_assert_cmpint (pattern_get_seam (tube, seam)->join, ==, PATTERN_JOIN_SEAM);
}

static void
name_edge (Pattern **p, guint piece, guint edge, const char *name)
{
  GError *error = NULL;
  Pattern *named = drafting_set_edge_name (*p, piece, edge, name, &error);
  g_assert_no_error (error);
  pattern_unref (*p);
  *p = named;
}

static void
assert_called (Pattern **p, guint a, guint a_edge, guint b, guint b_edge,
               const char *name)
{
  guint seam = 0;
  GError *error = NULL;
  Pattern *sewn = drafting_pair_edges (*p, a, a_edge, b, b_edge, &seam, &error);
  g_assert_no_error (error);
  assert_sound (sewn);
  g_assert_cmpstr (pattern_get_seam (sewn, seam)->name, ==, name);
  pattern_unref (*p);
  *p = sewn;
}

/* A new seam is called by what it joins, and by no name that stands. */
static void
test_pair_names (void)
{
  Two two = two_rectangles ();
  guint a = two.front->id, b = two.back->id, a_edges[4], b_edges[4];
  for (guint i = 0; i < 4; i++)
    {
      a_edges[i] = two.front->edges[i].id;
      b_edges[i] = two.back->edges[i].id;
    }
  assert_called (&two.p, a, a_edges[1], b, b_edges[3], "front to back");
  assert_called (&two.p, a, a_edges[0], b, b_edges[0], "front to back 2");
  name_edge (&two.p, a, a_edges[3], "side");
  name_edge (&two.p, b, b_edges[1], "hem");
  assert_called (&two.p, a, a_edges[3], b, b_edges[1], "front to back 3");
  name_edge (&two.p, a, a_edges[2], "Side");
  name_edge (&two.p, b, b_edges[2], "side");
  assert_called (&two.p, a, a_edges[2], b, b_edges[2], "Side seam");
  name_edge (&two.p, b, b_edges[0], "Shoulder seam");
  name_edge (&two.p, a, a_edges[1], "shoulder seam");
  assert_called (&two.p, b, b_edges[0], a, a_edges[1], "Shoulder seam");
  /* Within one piece. */
  assert_called (&two.p, a, a_edges[3], a, a_edges[1], "side to shoulder seam");
  name_edge (&two.p, a, a_edges[0], "");
  assert_called (&two.p, a, a_edges[0], a, a_edges[2], "front seam");
  pattern_unref (two.p);
}

static void
test_pair_refusals (void)
{
  Two two = two_rectangles ();
  guint a = two.front->id, b = two.back->id;
  guint right = two.front->edges[1].id, left = two.back->edges[3].id;
  GError *error = NULL;
  g_assert_null (drafting_pair_edges (two.p, a, right, a, right, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  g_autoptr (Pattern) sewn
      = drafting_pair_edges (two.p, a, right, b, left, NULL, &error);
  g_assert_null (drafting_pair_edges (sewn, b, left, a, right, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_assert_nonnull (strstr (error->message, "already"));
  g_clear_error (&error);
  g_autoptr (Pattern) folded
      = drafting_set_edge_kind (two.p, b, left, PATTERN_EDGE_FOLD, &error);
  g_assert_null (drafting_pair_edges (folded, a, right, b, left, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  g_assert_null (
      drafting_pair_edges (two.p, a, right, 4711, left, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  pattern_unref (two.p);
}

static void
test_seam_verbs (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  g_autoptr (Pattern) untouched = deep_copy (p);
  guint piece = 0, seam = p->seams[0]->id;
  const PatternPiece *front = p->pieces[0];
  GError *error = NULL;
  PatternRun hem = { front->id, front->edges[2].id, FALSE };
  g_autoptr (Pattern) longer = DO (drafting_extend_seam, seam, 0, hem);
  g_assert_cmpuint (longer->seams[0]->sides[0].n_runs, ==, 2);
  g_assert_null (drafting_extend_seam (longer, seam, 1, hem, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  g_autoptr (Pattern) turned = drafting_turn_seam (longer, seam, 0, &error);
  assert_done (turned, longer, 0, error);
  g_assert_cmpuint (turned->seams[0]->sides[0].runs[0].edge, ==, hem.edge);
  g_assert_true (turned->seams[0]->sides[0].runs[0].reversed);
  g_assert_true (turned->seams[0]->sides[0].runs[1].reversed);
  g_autoptr (Pattern) again = drafting_turn_seam (turned, seam, 0, &error);
  g_assert_true (pattern_equal (again, longer));
  g_autoptr (Pattern) set = DO (drafting_set_seam, seam, "panel", -3.5,
                                PATTERN_PRESS_TO_B, PATTERN_JOIN_SEAM);
  g_assert_cmpfloat (set->seams[0]->ease, ==, -3.5);
  g_assert_cmpint (set->seams[0]->press, ==, PATTERN_PRESS_TO_B);
  g_assert_null (drafting_set_seam (p, seam, "x", NAN, PATTERN_PRESS_OPEN,
                                    PATTERN_JOIN_SEAM, NULL));
  g_autoptr (Pattern) gone = DO (drafting_remove_seam, seam);
  g_assert_cmpuint (gone->n_seams, ==, 0);
  g_assert_null (drafting_remove_seam (gone, seam, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  g_assert_true (pattern_equal (p, untouched));
}

/* Where a notch lies on its side of a seam, by the walk. */
static double
walked (const Pattern *p, guint seam, int side, guint piece, guint notch)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *own
      = sewing_facts_seam (facts, p, pattern_get_seam (p, seam));
  const PatternPiece *on = pattern_get_piece (p, piece);
  const PatternNotch *mark = pattern_piece_get_notch (on, notch);
  for (guint r = 0; r < own->seam->sides[side].n_runs; r++)
    {
      const PatternRun *run = &own->seam->sides[side].runs[r];
      if (run->edge != mark->edge)
        continue;
      double length = own->joints[side][r + 1] - own->joints[side][r];
      double at = pattern_notch_place (mark, length);
      return own->joints[side][r] + (run->reversed ? length - at : at);
    }
  g_assert_not_reached ();
}

/* A seam of 60 against 60, a notch 15 from the start of the walk: it lands
 * at 15 on the other side, whichever way that edge runs, measured from the
 * same end of the seam. */
static void
test_strike (void)
{
  static const PatternNotchFrom froms[]
      = { PATTERN_FROM_START, PATTERN_FROM_END, PATTERN_FRACTION };
  for (guint way = 0; way < 6; way++)
    {
      Two two = two_rectangles ();
      guint a = two.front->id, b = two.back->id, seam = 0, notch = 0;
      GError *error = NULL;
      g_autoptr (Pattern) sewn
          = drafting_pair_edges (two.p, a, two.front->edges[1].id, b,
                                 two.back->edges[3].id, &seam, &error);
      g_autoptr (Pattern) walk
          = way < 3 ? pattern_ref (sewn)
                    : drafting_turn_seam (sewn, seam, 1, &error);
      PatternNotchFrom from = froms[way % 3];
      g_autoptr (Pattern) marked = drafting_add_notch (
          walk, a, two.front->edges[1].id, 2, from,
          from == PATTERN_FRACTION ? 0.25 : 15, &notch, &error);
      g_autoptr (Pattern) struck
          = drafting_strike_notch (marked, seam, a, notch, &error);
      assert_done (struck, marked, b, error);
      const PatternPiece *back = pattern_get_piece (struck, b);
      g_assert_cmpuint (back->n_notches, ==, 1);
      g_assert_cmpint (back->notches[0].count, ==, 2);
      double on_a = walked (struck, seam, 0, a, notch);
      double on_b = walked (struck, seam, 1, b, back->notches[0].id);
      assert_near (on_b, on_a, 1e-6);
      if (from != PATTERN_FRACTION)
        assert_near (back->notches[0].amount, 15, 1e-6);
      g_autoptr (Pattern) twice
          = drafting_strike_notch (struck, seam, a, notch, &error);
      g_assert_null (twice);
      g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
      g_clear_error (&error);
      pattern_unref (two.p);
    }
}

/* Between matched marks the walk is in proportion: the new notch lies at the
 * same share of its interval. */
static void
test_strike_in_proportion (void)
{
  Two two = two_rectangles ();
  guint a = two.front->id, b = two.back->id, seam = 0, notch = 0;
  GError *error = NULL;
  g_autoptr (Pattern) longer = drafting_set_edge_length (
      two.p, b, two.back->edges[3].id, 66, FALSE, &error);
  g_autoptr (Pattern) sewn
      = drafting_pair_edges (longer, a, two.front->edges[1].id, b,
                             two.back->edges[3].id, &seam, &error);
  g_autoptr (Pattern) marked
      = with_notch (sewn, a, two.front->edges[1].id, 1, 20);
  notch = pattern_get_piece (marked, a)->notches[0].id;
  g_autoptr (Pattern) struck
      = drafting_strike_notch (marked, seam, a, notch, &error);
  g_assert_no_error (error);
  const PatternPiece *back = pattern_get_piece (struck, b);
  double on_b = walked (struck, seam, 1, b, back->notches[0].id);
  assert_near (on_b, 22, 1e-6);
  pattern_unref (two.p);
}

static void
test_cloths (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  g_autoptr (Pattern) untouched = deep_copy (p);
  guint piece = 0, id = 0;
  GError *error = NULL;
  PatternCloth lining = {
    .name = (char *)"lining", .use = PATTERN_LINING, .width = 1400, .give = 0.04
  };
  g_autoptr (Pattern) more = DO (drafting_put_cloth, &lining, &id);
  g_assert_cmpuint (more->n_cloths, ==, 2);
  g_assert_cmpstr (pattern_get_cloth (more, id)->name, ==, "lining");
  g_autoptr (Pattern) less = drafting_remove_cloth (more, id, &error);
  assert_done (less, more, 0, error);
  g_assert_null (drafting_remove_cloth (p, p->cloths[0].id, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_assert_nonnull (strstr (error->message, "front"));
  g_clear_error (&error);
  lining.give = -1;
  g_assert_null (drafting_put_cloth (p, &lining, NULL, NULL));
  lining.give = NAN;
  g_assert_null (drafting_put_cloth (p, &lining, NULL, NULL));
  lining.give = 0.1;
  lining.id = 4711;
  g_assert_null (drafting_put_cloth (p, &lining, NULL, NULL));
  g_assert_true (pattern_equal (p, untouched));
}

/* Every edge with an allowance, of both sides and of several runs; a raw one
 * keeps none; and nothing else changes. */
static void
test_seam_allowance (void)
{
  Two two = two_rectangles ();
  GError *error = NULL;
  guint seam = 0, front = two.front->id, back = two.back->id;
  g_autoptr (Pattern) sewn
      = drafting_pair_edges (two.p, front, two.front->edges[1].id, back,
                             two.back->edges[3].id, &seam, &error);
  g_autoptr (Pattern) longer = drafting_extend_seam (
      sewn, seam, 1, (PatternRun){ back, two.back->edges[0].id, FALSE },
      &error);
  g_autoptr (Pattern) raw = drafting_set_edge_kind (
      longer, back, two.back->edges[0].id, PATTERN_EDGE_RAW, &error);
  g_assert_no_error (error);
  g_autoptr (Pattern) raw_as_it_was = deep_copy (raw);
  g_autoptr (Pattern) done
      = drafting_set_seam_allowance (raw, seam, 15.875, &error);
  g_assert_no_error (error);
  assert_sound (done);
  const PatternPiece *f = pattern_get_piece (done, front);
  const PatternPiece *b = pattern_get_piece (done, back);
  for (guint i = 0; i < 4; i++)
    {
      assert_near (f->edges[i].allowance, i == 1 ? 15.875 : 10, 0);
      assert_near (b->edges[i].allowance, i == 3 ? 15.875 : 10, 0);
    }
  assert_near (pattern_edge_width (&b->edges[0]), 0, 0);
  g_assert_true (pattern_equal (raw, raw_as_it_was));

  g_assert_null (drafting_set_seam_allowance (raw, seam, -1, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  g_clear_error (&error);
  g_assert_null (drafting_set_seam_allowance (raw, 4711, 10, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  pattern_unref (two.p);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/seams/pair-by-ends", test_pair_by_ends);
  g_test_add_func ("/seams/pair-by-notches", test_pair_by_notches);
  g_test_add_func ("/seams/pair-walks", test_pair_walks);
  g_test_add_func ("/seams/pair-dart", test_pair_dart);
  g_test_add_func ("/seams/pair-names", test_pair_names);
  g_test_add_func ("/seams/pair-refusals", test_pair_refusals);
  g_test_add_func ("/seams/verbs", test_seam_verbs);
  g_test_add_func ("/seams/allowance", test_seam_allowance);
  g_test_add_func ("/seams/strike", test_strike);
  g_test_add_func ("/seams/strike-in-proportion", test_strike_in_proportion);
  g_test_add_func ("/seams/cloths", test_cloths);
  return g_test_run ();
}
