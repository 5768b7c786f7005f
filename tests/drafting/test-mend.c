/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every remedy the checks offer, carried out, takes its finding away. */
#include <math.h>
#include <string.h>

#include "sample.h"
#include "sewing/shaping.h"

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

/* Each of the other ways does it, too: by another end, by bending what is curved with
 * its ends kept, by the other side. */
static void
test_other_ways (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  const PatternPiece *front = p->pieces[0];
  guint side = front->edges[1].id, kinds = 0;
  double length = edge_length (p, front->id, side);
  g_autoptr (Pattern) out
      = drafting_set_edge_length (p, front->id, side, length + 3, FALSE, NULL);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, out);
  const SewingFinding *finding = find (findings, SEWING_REMEDY_LENGTH);
  g_assert_nonnull (finding);
  g_assert_cmpuint (finding->n_others, >=, 2);
  for (guint i = 0; i < finding->n_others; i++)
    {
      const SewingRemedy *way = &finding->others[i];
      GError *error = NULL;
      g_assert_nonnull (way->label);
      g_test_message ("%s", way->label);
      g_autoptr (Pattern) mended = drafting_mend (out, way, &error);
      g_assert_no_error (error);
      assert_sound (mended);
      assert_near (edge_length (mended, way->piece, way->edge), way->amount,
                   1e-6);
      g_autoptr (GPtrArray) after = sewing_checks_run (facts, mended);
      g_assert_false (has_key (after, finding->key));
      kinds |= 1u << way->kind;
      if (way->kind != SEWING_REMEDY_BEND)
        continue;
      /* Both ends are where they were. */
      const PatternPiece *was = pattern_get_piece (out, way->piece);
      const PatternPiece *is = pattern_get_piece (mended, way->piece);
      int e = pattern_piece_find_edge (was, way->edge);
      int f = pattern_piece_find_edge (is, way->edge);
      GeoCubic a = pattern_piece_cubic (was, was->edges[e].first);
      GeoCubic b = pattern_piece_cubic (is, is->edges[f].first);
      assert_near (geo_distance (a.p[0], b.p[0]), 0, 1e-9);
      assert_near (geo_angle_between (geo_cubic_tangent (&a, 0),
                                      geo_cubic_tangent (&b, 0)),
                   0, 1e-6);
    }
  g_assert_true (kinds & (1u << SEWING_REMEDY_BEND));
  g_assert_true (kinds & (1u << SEWING_REMEDY_LENGTH));
}

/* A straight-legged dart of so many degrees and so long. */
static Pattern *
dart_of (double deg, double length)
{
  Pattern *p = pattern_new ("dart");
  double half = length * tan (deg * G_PI / 360);
  PatternNode nodes[] = {
    sample_node (0, 0),
    sample_node (150 - half, 0),
    sample_node (150, length),
    sample_node (150 + half, 0),
    sample_node (300, 0),
    sample_node (300, length + 200),
    sample_node (0, length + 200),
  };
  guint piece = 0, seam = 0;
  Pattern *with
      = drafting_add_piece_nodes (p, "waist", nodes, 7, 10, &piece, NULL);
  const PatternPiece *own = pattern_get_piece (with, piece);
  Pattern *sewn = drafting_pair_edges (with, piece, own->edges[1].id, piece,
                                       own->edges[2].id, &seam, NULL);
  PatternSeam *dart = pattern_seam_dup (pattern_get_seam (sewn, seam));
  dart->join = PATTERN_JOIN_DART;
  pattern_put_seam (sewn, dart);
  pattern_unref (p);
  pattern_unref (with);
  return sewn;
}

/* Tapered: below the limit, as much taken up in all as before (Gauss and Bonnet), the
 * legs alike and nothing else out. */
static void
test_taper_dart (void)
{
  static const double degs[] = { 14, 18, 22, 26 };
  for (guint i = 0; i < G_N_ELEMENTS (degs); i++)
    {
      g_autoptr (Pattern) p = dart_of (degs[i], 120);
      g_autoptr (Pattern) mended = assert_mended (p, SEWING_REMEDY_TAPER);
      g_autoptr (SewingFacts) facts = sewing_facts_new ();
      const PatternSeam *seam = mended->seams[0];
      const SewingShaping *shaping = sewing_facts_shaping (facts, mended, seam);
      g_test_message ("%g degrees: %.2f sharp, total %.3f", degs[i],
                      shaping->sharp_deg, shaping->total_deg);
      g_assert_cmpfloat (shaping->sharp_deg, <, SEWING_SHARP_DEG);
      assert_near (shaping->total_deg, degs[i], 0.02);
      const SewingSeam *known = sewing_facts_seam (facts, mended, seam);
      assert_near (known->out, 0, 1e-6);
      /* A little longer, for they are no longer straight. */
      double straight = 120 / cos (degs[i] * G_PI / 360);
      g_assert_cmpfloat (known->lengths[0], >=, straight - 1e-6);
      g_assert_cmpfloat (known->lengths[0], <, straight + 2);
      g_autoptr (GPtrArray) after = sewing_checks_run (facts, mended);
      for (guint k = 0; k < after->len; k++)
        g_assert_cmpint (((SewingFinding *)after->pdata[k])->check, !=,
                         SEWING_CHECK_JOINT);
    }
}

static void
test_taper_refused (void)
{
  g_autoptr (Pattern) p = dart_of (40, 45);
  g_autoptr (GError) error = NULL;
  g_assert_null (drafting_taper (p, p->seams[0]->id, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  g_autoptr (Pattern) mild = dart_of (8, 120);
  g_assert_null (drafting_taper (mild, mild->seams[0]->id, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
}

/* Two panels whose curves both turn within a few centimetres. */
static Pattern *
panels (void)
{
  Pattern *p = pattern_new ("panels");
  PatternNode left[] = {
    sample_node (0, 0),
    sample_curved (100, 0, 100, 0, 108, 60),
    sample_curved (114, 118, 113.5, 105, 114.5, 131),
    sample_curved (100, 240, 108, 180, 100, 240),
    sample_node (0, 240),
  };
  PatternNode right[] = {
    sample_curved (200, 0, 192, 60, 200, 0),
    sample_node (300, 0),
    sample_node (300, 240),
    sample_curved (200, 240, 200, 240, 192, 180),
    sample_curved (186, 118, 185.5, 131, 186.5, 105),
  };
  left[2].kind = PATTERN_NODE_SMOOTH;
  right[4].kind = PATTERN_NODE_SMOOTH;
  PatternPiece *pieces[2];
  const gboolean left_starts[] = { TRUE, TRUE, FALSE, TRUE, TRUE };
  const gboolean right_starts[] = { TRUE, TRUE, TRUE, TRUE, FALSE };
  for (int i = 0; i < 2; i++)
    {
      pieces[i]
          = pattern_piece_new (pattern_take_id (p), i == 0 ? "left" : "right");
      pattern_piece_set_outline (pieces[i], i == 0 ? left : right, 5,
                                 i == 0 ? left_starts : right_starts,
                                 &p->next_id);
      pattern_piece_add_cut (pieces[i],
                             (PatternCut){ p->cloths[0].id, 1, FALSE });
      pattern_put_piece (p, pieces[i]);
    }
  PatternSeam *seam = pattern_seam_new (pattern_take_id (p), "panel");
  pattern_seam_add_run (
      seam, 0, (PatternRun){ pieces[0]->id, pieces[0]->edges[1].id, FALSE });
  pattern_seam_add_run (
      seam, 1, (PatternRun){ pieces[1]->id, pieces[1]->edges[3].id, TRUE });
  pattern_put_seam (p, seam);
  return p;
}

static void
test_taper_seam (void)
{
  g_autoptr (Pattern) p = panels ();
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingShaping *before = sewing_facts_shaping (facts, p, p->seams[0]);
  g_test_message ("sharp %.2f of %.2f", before->sharp_deg, before->total_deg);
  g_assert_cmpfloat (before->sharp_deg, >, SEWING_SHARP_DEG);
  double total = before->total_deg;
  const SewingSeam *known = sewing_facts_seam (facts, p, p->seams[0]);
  double lengths[2] = { known->lengths[0], known->lengths[1] };
  g_autoptr (Pattern) mended = assert_mended (p, SEWING_REMEDY_TAPER);
  const SewingShaping *after
      = sewing_facts_shaping (facts, mended, mended->seams[0]);
  g_assert_cmpfloat (after->sharp_deg, <, SEWING_SHARP_DEG);
  assert_near (after->total_deg, total, 0.01);
  known = sewing_facts_seam (facts, mended, mended->seams[0]);
  assert_near (known->lengths[0], lengths[0], 1e-5);
  assert_near (known->lengths[1], lengths[1], 1e-5);
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
  g_test_add_func ("/mend/other-ways", test_other_ways);
  g_test_add_func ("/mend/taper-dart", test_taper_dart);
  g_test_add_func ("/mend/taper-refused", test_taper_refused);
  g_test_add_func ("/mend/taper-seam", test_taper_seam);
  g_test_add_func ("/mend/none", test_none);
  g_test_add_func ("/mend/set-aside", test_set_aside);
  return g_test_run ();
}
