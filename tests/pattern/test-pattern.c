/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "sample.h"

static void
test_new (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("cape");
  g_assert_cmpstr (pattern->name, ==, "cape");
  g_assert_cmpuint (pattern->n_pieces, ==, 0);
  g_assert_cmpuint (pattern->n_cloths, ==, 1);
  g_assert_cmpstr (pattern->cloths[0].name, ==, "shell");
  g_assert_cmpfloat (pattern->cloths[0].give, ==, 0.04);
  g_assert_cmpfloat (pattern->tolerance, ==, 0.5);
  g_assert_cmpint (pattern->unit, ==, PATTERN_CM);
  g_autofree char *words = pattern_unsound (pattern);
  g_assert_cmpstr (words, ==, NULL);
}

/* A copy shares every piece and seam; changing one leaves the other alone. */
static void
test_sharing (void)
{
  g_autoptr (Pattern) first = sample_pattern ();
  g_autoptr (Pattern) second = pattern_dup (first);
  g_assert_true (pattern_equal (first, second));
  for (guint i = 0; i < first->n_pieces; i++)
    g_assert_true (first->pieces[i] == second->pieces[i]);
  g_assert_true (first->seams[0] == second->seams[0]);
  PatternPiece *changed = pattern_piece_dup (first->pieces[0]);
  pattern_set_string (&changed->name, "forepart");
  pattern_put_piece (second, changed);
  g_assert_cmpstr (first->pieces[0]->name, ==, "front");
  g_assert_cmpstr (second->pieces[0]->name, ==, "forepart");
  g_assert_true (first->pieces[1] == second->pieces[1]);
  g_assert_cmpuint (second->n_pieces, ==, 2);
  g_assert_false (pattern_equal (first, second));
}

static void
test_held_by_others (void)
{
  g_autoptr (Pattern) pattern = sample_pattern ();
  const PatternPiece *front = pattern->pieces[0];
  const PatternSeam *seam = pattern->seams[0];
  g_autoptr (PatternPiece) held = pattern_piece_ref (front);
  g_autoptr (PatternSeam) held_seam = pattern_seam_ref (seam);
  g_assert_true (pattern_remove_piece (pattern, front->id));
  g_assert_false (pattern_remove_piece (pattern, front->id));
  g_assert_cmpstr (held->name, ==, "front");
  g_assert_cmpuint (held_seam->sides[0].n_runs, ==, 1);
  /* The seam had one side left, so it went. */
  g_assert_cmpuint (pattern->n_seams, ==, 0);
}

/* A pattern that others hold refuses to be altered. */
static void
test_no_change_when_shared (void)
{
  if (g_test_subprocess ())
    {
      g_autoptr (Pattern) pattern = sample_pattern ();
      g_autoptr (Pattern) other = pattern_ref (pattern);
      pattern_remove_piece (pattern, pattern->pieces[0]->id);
      return;
    }
  g_test_trap_subprocess (NULL, 0, 0);
  g_test_trap_assert_failed ();
  g_test_trap_assert_stderr ("*pattern*");
}

static void
test_removed_run (void)
{
  g_autoptr (Pattern) pattern = sample_pattern ();
  PatternSeam *seam = pattern_seam_dup (pattern->seams[0]);
  pattern_seam_add_run (seam, 0,
                        (PatternRun){ pattern->pieces[1]->id,
                                      pattern->pieces[1]->edges[0].id, FALSE });
  pattern_put_seam (pattern, seam);
  g_autoptr (Pattern) before = pattern_dup (pattern);
  /* An edge goes: its run goes, the rest of the seam stays. */
  PatternPiece *front = pattern_piece_dup (pattern->pieces[0]);
  pattern_piece_remove_edge (front, 1);
  pattern_put_piece (pattern, front);
  pattern_drop_loose_ends (pattern);
  g_assert_cmpuint (pattern->n_seams, ==, 1);
  g_assert_cmpuint (pattern->seams[0]->sides[0].n_runs, ==, 1);
  g_assert_cmpuint (before->seams[0]->sides[0].n_runs, ==, 2);
  g_autofree char *words = pattern_unsound (pattern);
  g_assert_cmpstr (words, ==, NULL);
}

static void
test_loose_cut (void)
{
  g_autoptr (Pattern) pattern = sample_pattern ();
  PatternCloth lining = { .name = (char *)"lining",
                          .use = PATTERN_LINING,
                          .id = pattern_take_id (pattern) };
  pattern_put_cloth (pattern, &lining);
  g_assert_true (pattern->cloths[1].name != lining.name);
  PatternPiece *front = pattern_piece_dup (pattern->pieces[0]);
  pattern_piece_add_cut (front, (PatternCut){ lining.id, 1, FALSE });
  pattern_put_piece (pattern, front);
  g_assert_false (pattern_remove_cloth (pattern, lining.id));
  front = pattern_piece_dup (pattern->pieces[0]);
  front->cuts[1].cloth = 4711;
  pattern_put_piece (pattern, front);
  g_assert_true (pattern_remove_cloth (pattern, lining.id));
  g_assert_false (pattern_remove_cloth (pattern, lining.id));
  pattern_drop_loose_ends (pattern);
  g_assert_cmpuint (pattern->pieces[0]->n_cuts, ==, 1);
  lining.id = pattern->cloths[0].id;
  pattern_put_cloth (pattern, &lining);
  g_assert_cmpuint (pattern->n_cloths, ==, 1);
  g_assert_cmpstr (pattern->cloths[0].name, ==, "lining");
}

static void
test_lines_and_notes (void)
{
  g_autoptr (Pattern) pattern = sample_pattern ();
  PatternNode nodes[] = { sample_node (0, 0), sample_node (10, 0) };
  pattern_add_line (pattern, "bust line", nodes, 2);
  guint id = pattern->lines[0].id;
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_line_chain (&pattern->lines[0], &chain);
  g_assert_cmpuint (chain.count, ==, 1);
  geo_chain_clear (&chain);
  pattern_put_set_aside (pattern, "grain:1", "paper only");
  pattern_put_set_aside (pattern, "grain:1", "a trial");
  g_assert_cmpuint (pattern->n_set_aside, ==, 1);
  g_assert_cmpstr (pattern->set_aside[0].note, ==, "a trial");
  g_autofree char *words = pattern_unsound (pattern);
  g_assert_cmpstr (words, ==, NULL);
  g_autoptr (Pattern) copy = pattern_dup (pattern);
  g_assert_true (pattern_equal (pattern, copy));
  g_assert_true (pattern_remove_line (pattern, id));
  g_assert_false (pattern_remove_line (pattern, id));
  g_assert_true (pattern_remove_set_aside (pattern, "grain:1"));
  g_assert_false (pattern_remove_set_aside (pattern, "grain:1"));
  g_assert_cmpuint (copy->n_lines, ==, 1);
}

static void
test_asking (void)
{
  g_autoptr (Pattern) pattern = sample_pattern ();
  const PatternPiece *front = pattern->pieces[0], *owner = NULL;
  guint right = front->edges[1].id;
  g_assert_true (pattern_get_piece (pattern, front->id) == front);
  g_assert_null (pattern_get_piece (pattern, 4711));
  g_assert_true (pattern_get_edge (pattern, front->id, right, &owner)
                 == &front->edges[1]);
  g_assert_true (owner == front);
  g_assert_null (pattern_get_edge (pattern, front->id, 4711, &owner));
  g_assert_null (owner);
  int side = 9;
  guint run = 9;
  g_assert_true (pattern_edge_seam (pattern, front->id, right, 0, &side, &run)
                 == pattern->seams[0]);
  g_assert_cmpint (side, ==, 0);
  g_assert_cmpuint (run, ==, 0);
  g_assert_null (pattern_edge_seam (pattern, front->id, right, 1, NULL, NULL));
  g_assert_null (pattern_edge_seam (pattern, front->id, front->edges[0].id, 0,
                                    NULL, NULL));
}

static void
test_turn_runs (void)
{
  g_autoptr (Pattern) pattern = sample_pattern ();
  g_autoptr (Pattern) before = pattern_dup (pattern);
  pattern_turn_runs (pattern, pattern->pieces[1]->id);
  g_assert_false (pattern->seams[0]->sides[0].runs[0].reversed);
  g_assert_false (pattern->seams[0]->sides[1].runs[0].reversed);
  g_assert_true (before->seams[0]->sides[1].runs[0].reversed);
  pattern_turn_runs (pattern, pattern->pieces[1]->id);
  g_assert_true (pattern_equal (pattern, before));
}

/* Each way of being unsound is found, and said in words that name the piece. */
static void
test_unsound (void)
{
  for (int i = 0; i < 24; i++)
    {
      g_autoptr (Pattern) pattern = sample_pattern ();
      PatternPiece *front = pattern_piece_dup (pattern->pieces[0]);
      PatternSeam *seam = pattern_seam_dup (pattern->seams[0]);
      const char *named = "front";
      switch (i)
        {
        case 0:
          front->nodes[1].at.x = NAN;
          break;
        case 1:
          front->nodes[1].out.y = 1.1e5;
          break;
        case 2:
          front->edges[1].first = 0;
          break;
        case 3:
          front->edges[0].first = 1;
          break;
        case 4:
          front->edges[3].first = 4;
          break;
        case 5:
          front->edges[1].allowance = -1;
          break;
        case 6:
          front->edges[1].allowance = INFINITY;
          break;
        case 7:
          front->notches[0].edge = 4711;
          break;
        case 8:
          front->notches[0].count = 4;
          break;
        case 9:
          front->notches[2].amount = 1.5;
          break;
        case 10:
          front->cuts[0].cloth = 4711;
          break;
        case 11:
          front->cuts[0].count = -1;
          break;
        case 12:
          front->grain_to.x = NAN;
          break;
        case 13:
          front->buttonholes[0].length = NAN;
          break;
        case 14:
          front->drills[0].at.x = -INFINITY;
          break;
        case 15:
          front->texts[0].size = NAN;
          break;
        case 16:
          front->n_edges = 0;
          break;
        case 17:
          pattern_piece_turn_round (front);
          break;
        case 18:
          front->lines[0].nodes[0].at.x = NAN;
          named = "pocket";
          break;
        case 19:
          front->nodes[0].id = front->nodes[1].id;
          named = "Number";
          break;
        case 20:
          front->nodes[0].id = 0;
          named = "number 0";
          break;
        case 21:
          seam->sides[0].runs[0].edge = 4711;
          named = "side";
          break;
        case 22:
          seam->sides[1].n_runs = 0;
          named = "side";
          break;
        case 23:
          seam->ease = NAN;
          named = "side";
          break;
        }
      pattern_put_piece (pattern, front);
      pattern_put_seam (pattern, seam);
      g_autofree char *words = pattern_unsound (pattern);
      g_assert_nonnull (words);
      if (!strstr (words, named))
        g_error ("case %d says: %s", i, words);
      /* Give back what leaving the count short would leak. */
      if (i == 16)
        front->n_edges = 4;
    }
}

static void
test_unsound_numbers (void)
{
  g_autoptr (Pattern) pattern = sample_pattern ();
  pattern->tolerance = -1;
  g_autofree char *words = pattern_unsound (pattern);
  g_assert_nonnull (words);
  pattern->tolerance = 0.5;
  pattern->next_id = 10;
  g_autofree char *ids = pattern_unsound (pattern);
  g_assert_nonnull (ids);
}

static PatternSeam *
own_seam (Pattern *pattern)
{
  PatternSeam *seam = pattern_seam_dup (pattern->seams[0]);
  pattern_put_seam (pattern, seam);
  return seam;
}

/* Spans of meant ease: one for a pair of marks, copied, compared, sound. */
static void
test_spans (void)
{
  g_autoptr (Pattern) plain = sample_pattern ();
  g_autoptr (Pattern) pattern = pattern_dup (plain);
  PatternSeam *seam = own_seam (pattern);
  pattern_seam_put_span (seam, (PatternEaseSpan){ 0, 7, 4, FALSE });
  pattern_seam_put_span (seam, (PatternEaseSpan){ 7, 0, 2, TRUE });
  pattern_seam_put_span (seam, (PatternEaseSpan){ 0, 7, 3, FALSE });
  g_assert_cmpuint (seam->n_spans, ==, 2);
  g_assert_cmpfloat (pattern_seam_get_span (seam, 0, 7)->amount, ==, 3);
  g_assert_false (pattern_equal (pattern, plain));
  g_autofree char *sound = pattern_unsound (pattern);
  g_assert_null (sound);

  g_autoptr (Pattern) other = pattern_dup (pattern);
  PatternSeam *copy = own_seam (other);
  g_assert_true (pattern_equal (pattern, other));
  copy->spans[1].per_cent = FALSE;
  g_assert_false (pattern_equal (pattern, other));
  g_assert_true (seam->spans[1].per_cent);
  copy->spans[1] = copy->spans[0];
  g_autofree char *twice = pattern_unsound (other);
  g_assert_nonnull (twice);
  copy->spans[1] = (PatternEaseSpan){ 7, 7, 1, FALSE };
  g_autofree char *nowhere = pattern_unsound (other);
  g_assert_nonnull (nowhere);
  copy->spans[1] = (PatternEaseSpan){ 7, 0, 2e5, FALSE };
  g_autofree char *far = pattern_unsound (other);
  g_assert_nonnull (far);

  g_assert_true (pattern_seam_remove_span (seam, 0, 7));
  g_assert_false (pattern_seam_remove_span (seam, 0, 7));
  g_assert_null (pattern_seam_get_span (seam, 0, 7));
  g_assert_cmpuint (seam->n_spans, ==, 1);
}

static void
test_clip_spacing (void)
{
  g_autoptr (Pattern) plain = sample_pattern ();
  g_autoptr (Pattern) pattern = pattern_dup (plain);
  PatternPiece *piece = pattern_piece_dup (plain->pieces[0]);
  piece->edges[0].clip_spacing = 8;
  pattern_put_piece (pattern, piece);
  g_assert_false (pattern_equal (pattern, plain));
  g_autofree char *sound = pattern_unsound (pattern);
  g_assert_null (sound);
  piece->edges[0].clip_spacing = -1;
  g_autofree char *words = pattern_unsound (pattern);
  g_assert_nonnull (words);
}

/* Readers on other threads may hold and let go of a pattern at any time. */
static gpointer
hold_and_let_go (gpointer data)
{
  for (int i = 0; i < 20000; i++)
    {
      g_autoptr (Pattern) own = pattern_ref (data);
      g_autoptr (Pattern) copy = pattern_dup (own);
      g_assert_cmpuint (copy->n_pieces, ==, 2);
    }
  return NULL;
}

static void
test_threads (void)
{
  g_autoptr (Pattern) pattern = sample_pattern ();
  GThread *threads[4];
  for (guint i = 0; i < 4; i++)
    threads[i] = g_thread_new ("holder", hold_and_let_go, pattern);
  for (guint i = 0; i < 4; i++)
    g_thread_join (threads[i]);
  g_assert_true (g_atomic_ref_count_compare (&pattern->refs, 1));
  PatternPiece *front = (PatternPiece *)pattern->pieces[0];
  g_assert_true (g_atomic_ref_count_compare (&front->refs, 1));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/pattern/new", test_new);
  g_test_add_func ("/pattern/sharing", test_sharing);
  g_test_add_func ("/pattern/held-by-others", test_held_by_others);
  g_test_add_func ("/pattern/no-change-when-shared",
                   test_no_change_when_shared);
  g_test_add_func ("/pattern/removed-run", test_removed_run);
  g_test_add_func ("/pattern/loose-cut", test_loose_cut);
  g_test_add_func ("/pattern/lines-and-notes", test_lines_and_notes);
  g_test_add_func ("/pattern/asking", test_asking);
  g_test_add_func ("/pattern/turn-runs", test_turn_runs);
  g_test_add_func ("/pattern/unsound", test_unsound);
  g_test_add_func ("/pattern/unsound-numbers", test_unsound_numbers);
  g_test_add_func ("/pattern/spans", test_spans);
  g_test_add_func ("/pattern/clip-spacing", test_clip_spacing);
  g_test_add_func ("/pattern/threads", test_threads);
  return g_test_run ();
}
