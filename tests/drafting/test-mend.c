/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every remedy the checks offer, carried out, takes its finding away. */
#include <math.h>
#include <string.h>

#include "sample.h"

static const SewingFinding *
find (const GPtrArray *findings, SewingRemedyKind kind)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *finding = g_ptr_array_index (findings, i);
      if (finding->remedy.kind == kind)
        return finding;
    }
  return NULL;
}

static gboolean
has_key (const GPtrArray *findings, const char *key)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *finding = g_ptr_array_index (findings, i);
      if (strcmp (finding->key, key) == 0)
        return TRUE;
    }
  return FALSE;
}

/* Looks, mends, looks again. Gives the mended pattern. */
static Pattern *
assert_mended (const Pattern *p, SewingRemedyKind kind)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (Pattern) untouched = deep_copy (p);
  g_autoptr (GPtrArray) before = sewing_checks_run (facts, p);
  const SewingFinding *finding = find (before, kind);
  g_assert_nonnull (finding);
  GError *error = NULL;
  Pattern *mended = drafting_mend (p, &finding->remedy, &error);
  g_assert_no_error (error);
  g_assert_nonnull (mended);
  assert_sound (mended);
  g_autoptr (GPtrArray) after = sewing_checks_run (facts, mended);
  g_assert_false (has_key (after, finding->key));
  g_assert_true (pattern_equal (p, untouched));
  return mended;
}

static void
test_length (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  const PatternPiece *front = p->pieces[0], *back = p->pieces[1];
  guint side = front->edges[1].id;
  double length = edge_length (p, front->id, side);
  g_autoptr (Pattern) out
      = drafting_set_edge_length (p, front->id, side, length + 6, FALSE, NULL);
  g_autoptr (Pattern) mended = assert_mended (out, SEWING_REMEDY_LENGTH);
  assert_near (edge_length (mended, back->id, back->edges[1].id),
               edge_length (mended, front->id, side), 1e-6);
}

/* The remedy says which end moves: here the fold at the other stays. */
static void
test_length_at_fold (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  const PatternPiece *back = p->pieces[1];
  g_autoptr (Pattern) folded = drafting_set_edge_kind (
      p, back->id, back->edges[3].id, PATTERN_EDGE_FOLD, NULL);
  SewingRemedy remedy = { .kind = SEWING_REMEDY_LENGTH,
                          .piece = back->id,
                          .edge = back->edges[2].id, /* hem, ends at the fold */
                          .at_start = TRUE,
                          .amount = 215 };
  GError *error = NULL;
  g_autoptr (Pattern) mended = drafting_mend (folded, &remedy, &error);
  g_assert_no_error (error);
  assert_near (edge_length (mended, back->id, remedy.edge), 215, 1e-6);
  const PatternPiece *now = pattern_get_piece (mended, back->id);
  g_assert_true (geo_same (now->nodes[4].at, back->nodes[4].at));
  g_assert_true (geo_same (now->nodes[0].at, back->nodes[0].at));
}

static void
test_allowance (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  const PatternPiece *front = p->pieces[0];
  g_autoptr (Pattern) out
      = drafting_set_allowance (p, front->id, front->edges[1].id, 15, NULL);
  g_autoptr (Pattern) mended = assert_mended (out, SEWING_REMEDY_ALLOWANCE);
  double a = pattern_get_piece (mended, front->id)->edges[1].allowance;
  double b = pattern_get_piece (mended, p->pieces[1]->id)->edges[1].allowance;
  g_assert_cmpfloat (a, ==, b);
}

static void
test_square (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  const PatternPiece *front = p->pieces[0];
  g_autoptr (Pattern) folded = drafting_set_edge_kind (
      p, front->id, front->edges[3].id, PATTERN_EDGE_FOLD, NULL);
  GeoPoint to = geo_add (front->nodes[0].at, geo_point (55, 6));
  g_autoptr (Pattern) out = drafting_set_handle (
      folded, front->id, front->nodes[0].id, DRAFTING_HANDLE_OUT, to, NULL);
  g_autoptr (Pattern) mended = assert_mended (out, SEWING_REMEDY_SQUARE);
  const PatternNode *now = &pattern_get_piece (mended, front->id)->nodes[0];
  assert_near (now->out.y, now->at.y, 1e-9); /* the fold is upright */
  assert_near (geo_distance (now->out, now->at),
               geo_distance (to, front->nodes[0].at), 1e-9);
}

/* A straight hem a little off square is given a handle. */
static void
test_square_straight (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  const PatternPiece *front = p->pieces[0];
  g_autoptr (Pattern) folded = drafting_set_edge_kind (
      p, front->id, front->edges[3].id, PATTERN_EDGE_FOLD, NULL);
  g_autoptr (Pattern) out = drafting_set_node (
      folded, front->id, front->nodes[3].id, geo_point (200, 312), NULL);
  SewingRemedy remedy = { .kind = SEWING_REMEDY_SQUARE,
                          .piece = front->id,
                          .edge = front->edges[2].id,
                          .amount = 1 };
  GError *error = NULL;
  g_autoptr (Pattern) mended = drafting_mend (out, &remedy, &error);
  g_assert_no_error (error);
  assert_sound (mended);
  const PatternPiece *now = pattern_get_piece (mended, front->id);
  assert_near (now->nodes[4].in.y, 300, 1e-9);
  g_assert_cmpfloat (now->nodes[4].in.x, >, 50);
}

static void
test_grain_and_cut (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  guint front = p->pieces[0]->id;
  g_autoptr (Pattern) bare = drafting_remove_grain (p, front, NULL);
  g_autoptr (Pattern) grained = assert_mended (bare, SEWING_REMEDY_GRAIN);
  g_assert_true (pattern_get_piece (grained, front)->has_grain);
  g_autoptr (Pattern) uncut = drafting_set_cuts (p, front, NULL, 0, NULL);
  g_autoptr (Pattern) cut = assert_mended (uncut, SEWING_REMEDY_CUT);
  g_assert_cmpuint (pattern_get_piece (cut, front)->n_cuts, ==, 1);
}

static void
test_notch (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  const PatternPiece *front = p->pieces[0];
  g_autoptr (Pattern) out = drafting_add_notch (
      p, front->id, front->edges[1].id, 3, PATTERN_FROM_START, 120, NULL, NULL);
  g_autoptr (Pattern) mended = assert_mended (out, SEWING_REMEDY_NOTCH);
  g_assert_cmpuint (mended->pieces[1]->n_notches, ==,
                    p->pieces[1]->n_notches + 1);
}

static void
test_none (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  SewingRemedy none = { .kind = SEWING_REMEDY_NONE };
  GError *error = NULL;
  g_assert_null (drafting_mend (p, &none, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
}

static void
test_set_aside (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  GError *error = NULL;
  g_autoptr (Pattern) aside
      = drafting_set_aside (p, "grain:1", "paper only", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (aside->n_set_aside, ==, 1);
  g_assert_cmpuint (p->n_set_aside, ==, 0);
  g_autoptr (Pattern) up = drafting_take_up (aside, "grain:1", &error);
  g_assert_cmpuint (up->n_set_aside, ==, 0);
  g_assert_null (drafting_take_up (up, "grain:1", &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/mend/length", test_length);
  g_test_add_func ("/mend/length-at-fold", test_length_at_fold);
  g_test_add_func ("/mend/allowance", test_allowance);
  g_test_add_func ("/mend/square", test_square);
  g_test_add_func ("/mend/square-straight", test_square_straight);
  g_test_add_func ("/mend/grain-and-cut", test_grain_and_cut);
  g_test_add_func ("/mend/notch", test_notch);
  g_test_add_func ("/mend/none", test_none);
  g_test_add_func ("/mend/set-aside", test_set_aside);
  return g_test_run ();
}
