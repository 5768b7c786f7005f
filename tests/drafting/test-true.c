/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Truing across seams, darts and folds, and fairing. */
#include <math.h>
#include <string.h>

#include "../sewing/builder.h"
#include "drafting/true.h"
#include "drafting/verb.h"
#include "geometry/fair.h"
#include "geometry/nearest.h"
#include "sample.h"
#include "sewing/dart.h"

#define DEGREE (G_PI / 180)

static const Pattern *
same (const Pattern *p)
{
  assert_sound (p);
  return p;
}

static double
length_of (const Pattern *p, const char *piece, const char *edge)
{
  return edge_length (p, builder_piece (p, piece)->id,
                      builder_edge (p, piece, edge)->id);
}

static guint
seam_of (const Pattern *p, const char *name)
{
  return builder_seam (p, name)->id;
}

static SewingLine *
line_of (SewingFacts *facts, const Pattern *p, const char *seam, int end)
{
  return sewing_line_new (facts, p, builder_seam (p, seam), end);
}

static double
angle_of (const Pattern *p, const char *seam, int end)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  SewingJoint joint;
  g_assert_true (
      sewing_seam_joint (facts, p, builder_seam (p, seam), end, &joint));
  return joint.angle;
}

/* Front and back whose hems fall 10 mm over 200 to the folds: at the side seam
 * they meet in a dip of twice atan (1/20). */
static Pattern *
dipped (void)
{
  g_autofree char *one
      = builder_change (builder_skirt, "line 0 300", "line 0 310");
  g_autofree char *both = builder_change (one, "line 500 300", "line 500 310");
  return builder_read (both);
}

/* --- the line
 * ---------------------------------------------------------------------- */

/* The skirt's hem runs from fold to fold over the side seam. */
static void
test_line (void)
{
  g_autoptr (Pattern) p = dipped ();
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingLine) line = line_of (facts, p, "side seam", 1);
  g_assert_nonnull (line);
  g_assert_cmpuint (line->n_runs, ==, 2);
  g_assert_cmpuint (line->asked, ==, 0);
  assert_near (line->length, 2 * hypot (200, 10), 1e-6);
  assert_near (line->joints[0].angle, G_PI + 2 * atan (0.05), 1e-9);
  assert_near (line->joints[0].step, 0, 1e-9);
  assert_near (line->joints[0].at.x, 200, 1e-9);
  assert_near (line->joints[0].out.y, 1, 1e-9);
  for (int i = 0; i < 2; i++)
    {
      g_assert_true (line->ends[i].fold);
      assert_near (line->ends[i].angle, G_PI / 2 - atan (0.05), 1e-9);
      assert_near (line->ends[i].in.y, -1, 1e-9);
    }
  assert_near (line->ends[0].at.x, 0, 1e-9);
  assert_near (line->ends[1].at.x, 400, 1e-9);
  assert_near (line->ends[1].at.y, 310, 1e-9);
  GeoChain chain = GEO_CHAIN_EMPTY;
  sewing_line_chain (line, &chain);
  assert_near (geo_chain_length (&chain, 1e-9), line->length, 1e-6);
  geo_chain_clear (&chain);
}

/* --- blending
 * ------------------------------------------------------------------------- */

/* Two straight edges that meet at a known angle: smooth at the joint, and not
 * one seam of the pattern has another length. */
static void
test_blend (void)
{
  g_autoptr (Pattern) p = dipped ();
  GError *error = NULL;
  DraftingTrued told;
  g_autoptr (Pattern) q
      = drafting_blend (p, seam_of (p, "side seam"), 1, 60, &told, &error);
  g_assert_no_error (error);
  same (q);
  assert_near (told.angle[0], G_PI + 2 * atan (0.05), 1e-9);
  assert_near (told.angle[1], G_PI, 1e-9);
  assert_near (angle_of (q, "side seam", 1), G_PI, 1e-9);
  assert_near (length_of (q, "front", "side"), 300, 1e-6);
  assert_near (length_of (q, "back", "side"), 300, 1e-6);
  assert_near (length_of (q, "front", "waist"), 200, 1e-6);
  assert_near (told.length[0], 2 * hypot (200, 10), 1e-6);
  assert_near (told.length[1],
               length_of (q, "front", "hem") + length_of (q, "back", "hem"),
               1e-6);
  /* The wave of geometry/blend.h, 0.134 r d. */
  assert_near (told.moved, 0.134 * 60 * atan (0.05), 0.03);
  /* What lies beyond the reach is as it was, and the rest of the front. */
  GeoChain hem = GEO_CHAIN_EMPTY, was = GEO_CHAIN_EMPTY;
  const PatternPiece *front = builder_piece (q, "front");
  pattern_piece_edge_chain (front, 2, &hem);
  pattern_piece_edge_chain (builder_piece (p, "front"), 2, &was);
  g_assert_cmpuint (hem.count, ==, 3);
  assert_near (hem.cubics[2].p[3].x, 0, 0);
  assert_near (geo_distance (hem.cubics[2].p[0], geo_point (200, 300)), 60,
               1e-9);
  assert_near (geo_chain_nearest (&was, hem.cubics[2].p[0], NULL), 0, 1e-9);
  g_assert_true (geo_same (geo_chain_start (&hem), geo_point (200, 300)));
  geo_chain_clear (&hem);
  geo_chain_clear (&was);
}

/* Curvature is kept where the reach ends on a curve, and joins at the seam. */
static void
test_blend_curves (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  const PatternSeam *seam = p->seams[0];
  g_autoptr (PatternSeam) turned = pattern_seam_dup (seam);
  turned->sides[1].runs[0].reversed = TRUE;
  pattern_put_seam (p, g_steal_pointer (&turned));
  GError *error = NULL;
  guint id = p->seams[0]->id;
  for (int end = 0; end < 2; end++)
    {
      DraftingTrued told;
      g_autoptr (Pattern) q = drafting_blend (p, id, end, 40, &told, &error);
      g_assert_no_error (error);
      same (q);
      assert_near (told.angle[1], G_PI, 1e-6);
      g_autoptr (SewingFacts) facts = sewing_facts_new ();
      g_autoptr (SewingLine) line
          = sewing_line_new (facts, q, q->seams[0], end);
      GeoChain chain = GEO_CHAIN_EMPTY;
      sewing_line_chain (line, &chain);
      double most = 0;
      for (size_t i = 0; i < chain.count; i++)
        most = fmax (most, fabs (geo_cubic_curvature (&chain.cubics[i], 1)));
      for (size_t i = 0; i + 1 < chain.count; i++)
        {
          double from = geo_cubic_curvature (&chain.cubics[i], 1);
          double to = geo_cubic_curvature (&chain.cubics[i + 1], 0);
          GeoPoint a = geo_cubic_tangent (&chain.cubics[i], 1);
          GeoPoint b = geo_cubic_tangent (&chain.cubics[i + 1], 0);
          if (geo_distance (geo_cubic_point (&chain.cubics[i], 1),
                            line->joints[0].at)
              < 41)
            {
              assert_near (geo_angle_between (a, b), 0, 1e-6);
              assert_near (from, to, 0.05 * most);
            }
        }
      geo_chain_clear (&chain);
      for (guint k = 0; k < 2; k++)
        assert_near (
            edge_length (q, p->pieces[k]->id, p->pieces[k]->edges[1].id),
            edge_length (p, p->pieces[k]->id, p->pieces[k]->edges[1].id), 1e-6);
    }
}

static void
test_blend_refused (void)
{
  g_autoptr (Pattern) p = dipped ();
  g_autoptr (GError) error = NULL;
  guint seam = seam_of (p, "side seam");
  g_assert_null (drafting_blend (p, seam, 1, 250, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  /* The shorter hem is 200.25 mm long. */
  g_assert_nonnull (strstr (error->message, "200.0 mm"));
  assert_near (drafting_blend_most (p, seam, 1), hypot (200, 10), 1e-6);
  assert_near (drafting_blend_start (p, seam, 1), 50, 1e-9);
  g_clear_error (&error);
  g_assert_null (drafting_blend (p, seam, 1, 0, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  g_clear_error (&error);
  g_assert_null (drafting_blend (p, 99999, 1, 50, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
}

/* Four panels: the hem has three joints, trued in one step. */
static const char *const panels
    = "unit mm\n"
      "piece one\nat 0 0\nedge top seam 10\nline 100 0\nedge right seam 10\n"
      "line 100 300\nedge hem hem 40\nline 0 306\nedge left fold 0\n"
      "piece two\nat 200 0\nedge top seam 10\nline 300 0\nedge right seam 10\n"
      "line 300 300\nedge hem hem 40\nline 250 308\nline 200 300\n"
      "edge left seam 10\n"
      "piece three\nat 400 0\nedge top seam 10\nline 500 0\n"
      "edge right seam 10\nline 500 300\nedge hem hem 40\n"
      "curve 470 312 430 312 400 300\nedge left seam 10\n"
      "piece four\nat 600 0\nedge top seam 10\nline 700 0\nedge right fold 0\n"
      "line 700 305\nedge hem hem 40\nline 600 300\nedge left seam 10\n"
      "seam a open 0 one.right / two.left~\n"
      "seam b open 0 two.right / three.left~\n"
      "seam c open 0 three.right / four.left~\n";

static void
test_blend_line (void)
{
  g_autoptr (Pattern) p = builder_read (panels);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  GError *error = NULL;
  /* From whichever joint it is asked for, the line is the same. */
  for (int i = 0; i < 3; i++)
    {
      const char *const names[] = { "a", "b", "c" };
      g_autoptr (SewingLine) line = line_of (facts, p, names[i], 1);
      g_assert_cmpuint (line->n_runs, ==, 4);
      g_assert_cmpuint (line->asked, ==, (guint)i);
      DraftingTrued told;
      g_autoptr (Pattern) q = drafting_blend_line (p, seam_of (p, names[i]), 1,
                                                   40, &told, &error);
      g_assert_no_error (error);
      same (q);
      for (int k = 0; k < 3; k++)
        assert_near (angle_of (q, names[k], 1), G_PI, 1e-6);
      g_autoptr (SewingFacts) after = sewing_facts_new ();
      g_autoptr (SewingLine) now = line_of (after, q, names[i], 1);
      assert_near (told.length[0], line->length, 1e-6);
      assert_near (told.length[1], now->length, 1e-5);
      const char *const pieces[] = { "one", "two", "three", "four" };
      for (int k = 0; k < 4; k++)
        {
          assert_near (length_of (q, pieces[k], "left"),
                       length_of (p, pieces[k], "left"), 1e-6);
          assert_near (length_of (q, pieces[k], "right"),
                       length_of (p, pieces[k], "right"), 1e-6);
        }
    }
}

/* The checks offer it, and once it is done the finding is gone. */
static void
test_mend (void)
{
  g_autoptr (Pattern) p = dipped ();
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
  const SewingFinding *found = NULL;
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *f = g_ptr_array_index (findings, i);
      if (f->check == SEWING_CHECK_JOINT)
        found = f;
    }
  g_assert_nonnull (found);
  g_assert_cmpint (found->remedy.kind, ==, SEWING_REMEDY_BLEND);
  assert_near (found->remedy.amount, 50, 1e-9);
  g_assert_cmpstr (found->remedy.label, ==,
                   "Blend them over 50.0 mm on either side");
  GError *error = NULL;
  g_autoptr (Pattern) q = drafting_mend (p, &found->remedy, &error);
  g_assert_no_error (error);
  same (q);
  g_autoptr (GPtrArray) after = sewing_checks_run (facts, q);
  for (guint i = 0; i < after->len; i++)
    {
      const SewingFinding *f = g_ptr_array_index (after, i);
      g_assert_cmpint (f->check, !=, SEWING_CHECK_JOINT);
    }
}

/* A tube: one edge runs into itself. */
static void
test_tube (void)
{
  g_autoptr (Pattern) p = builder_read (
      "unit mm\npiece tube\nat 0 0\nedge top seam 10\nline 200 0\n"
      "edge right seam 10\nline 200 100\nedge hem hem 20\n"
      "line 100 110\nline 0 100\nedge left seam 10\n"
      "seam s open 0 tube.right / tube.left~\n");
  GError *error = NULL;
  g_autoptr (Pattern) q
      = drafting_blend (p, seam_of (p, "s"), 1, 50, NULL, &error);
  g_assert_no_error (error);
  same (q);
  assert_near (angle_of (q, "s", 1), G_PI, 1e-6);
  assert_near (length_of (q, "tube", "right"), 100, 1e-6);
  g_assert_null (drafting_blend (p, seam_of (p, "s"), 1, 110, NULL, &error));
  g_clear_error (&error);
}

/* --- folds
 * ----------------------------------------------------------------------------
 */

static void
test_square (void)
{
  g_autoptr (Pattern) p = dipped ();
  const PatternPiece *front = builder_piece (p, "front");
  guint hem = builder_edge (p, "front", "hem")->id;
  GError *error = NULL;
  for (double reach = 0; reach < 200; reach += 60)
    {
      DraftingTrued told;
      g_autoptr (Pattern) q
          = drafting_square (p, front->id, hem, TRUE, reach, &told, &error);
      g_assert_no_error (error);
      same (q);
      assert_near (told.angle[0], G_PI / 2 - atan (0.05), 1e-9);
      assert_near (told.angle[1], G_PI / 2, 1e-9);
      assert_near (length_of (q, "front", "centre front"), 310, 1e-9);
      assert_near (length_of (q, "front", "side"), 300, 1e-9);
    }
  g_assert_null (drafting_square (p, front->id, hem, FALSE, 40, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  g_assert_null (drafting_square (p, front->id, hem, TRUE, 400, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  g_clear_error (&error);
}

/* --- darts
 * ----------------------------------------------------------------------------
 */

static const char *const darted
    = "unit mm\npiece panel\nat 0 0\nedge waist seam 10\nline 90 0\n"
      "edge leg_one raw 0\nline 100 80\nedge leg_two raw 0\nline 110 0\n"
      "edge Waist seam 10\nline 200 0\nedge rest seam 10\nline 200 200\n"
      "line 0 200\ndart d panel.leg_one / panel.leg_two~\n";

/* Closed, drawn through, opened again: smooth across the closed dart, the legs
 * as long as they were. */
static void
test_dart (void)
{
  g_autoptr (Pattern) p = builder_read (darted);
  GError *error = NULL;
  DraftingTrued told;
  g_autoptr (Pattern) q
      = drafting_blend (p, seam_of (p, "d"), 0, 60, &told, &error);
  g_assert_no_error (error);
  same (q);
  assert_near (told.angle[0], G_PI + 2 * atan (10.0 / 80), 1e-9);
  assert_near (angle_of (q, "d", 0), G_PI, 1e-9);
  assert_near (length_of (q, "panel", "leg one"), hypot (10, 80), 1e-6);
  assert_near (length_of (q, "panel", "leg two"), hypot (10, 80), 1e-6);
}

/* By reflection alone. The waist is level and the legs stand atan (10/80) = g
 * off the upright, so next to the leg it is folded over the cap rises from the
 * mouth at an angle of 2 g to the level, to where it meets the upright through
 * the point: after 10 / cos 2g, at a height of 10 tan 2g. Folding about the
 * upright lays the other half on it. */
static void
test_cap (void)
{
  g_autoptr (Pattern) p = builder_read (darted);
  double g = atan (10.0 / 80);
  for (int press = 0; press < 3; press++)
    {
      static const PatternPress presses[]
          = { PATTERN_PRESS_TO_A, PATTERN_PRESS_TO_B, PATTERN_PRESS_OPEN };
      g_autoptr (SewingFacts) facts = sewing_facts_new ();
      g_autoptr (PatternSeam) seam = pattern_seam_dup (builder_seam (p, "d"));
      seam->press = presses[press];
      g_autoptr (Pattern) q = pattern_dup (p);
      pattern_put_seam (q, g_steal_pointer (&seam));
      SewingDart dart;
      GeoChain cap = GEO_CHAIN_EMPTY;
      g_assert_true (
          sewing_dart_cap (facts, q, builder_seam (q, "d"), &dart, &cap));
      assert_near (dart.intake, 2 * g, 1e-12);
      assert_near (dart.fold.x, 100, 1e-9);
      assert_near (dart.fold.y, -10 * tan (2 * g), 1e-9);
      assert_near (geo_chain_length (&cap, 1e-10), 20 / cos (2 * g), 1e-8);
      g_assert_cmpfloat (
          geo_distance (geo_chain_start (&cap), geo_point (90, 0)), <, 1e-9);
      g_assert_cmpfloat (
          geo_distance (geo_chain_end (&cap), geo_point (110, 0)), <, 1e-9);
      geo_chain_clear (&cap);
    }
}

/* A true waist and a lop-sided dart: folded over its fold line, and cut along
 * the line over which it lies, the cap comes from the reflection of that line.
 * Every place of the half next to the leg it lies over, mirrored in that leg,
 * lies on the waist; every place of the other half, mirrored in the fold first,
 * too. */
static void
test_cap_reflects (void)
{
  g_autofree char *text
      = builder_change (darted, "line 200 0", "curve 140 4 170 10 200 20");
  g_autoptr (Pattern) p = builder_read (text);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  for (int over = 0; over < 2; over++)
    {
      g_autoptr (PatternSeam) seam = pattern_seam_dup (builder_seam (p, "d"));
      seam->press = over == 0 ? PATTERN_PRESS_TO_A : PATTERN_PRESS_TO_B;
      g_autoptr (Pattern) q = pattern_dup (p);
      pattern_put_seam (q, g_steal_pointer (&seam));
      SewingDart dart;
      GeoChain cap = GEO_CHAIN_EMPTY, waist = GEO_CHAIN_EMPTY;
      g_assert_true (
          sewing_dart_cap (facts, q, builder_seam (q, "d"), &dart, &cap));
      const PatternPiece *panel = builder_piece (q, "panel");
      pattern_piece_edge_chain (panel, over == 0 ? 0 : 3, &waist);
      GeoMotion leg = geo_motion_mirror (
          dart.point, geo_sub (dart.mouth[over], dart.point));
      GeoMotion fold
          = geo_motion_mirror (dart.point, geo_sub (dart.fold, dart.point));
      double length = geo_chain_length (&cap, 1e-10);
      for (int i = 0; i <= 40; i++)
        {
          GeoPoint at = geo_chain_point (
              &cap, geo_chain_at_length (&cap, length * i / 40, 1e-10));
          gboolean near_over = geo_distance (at, dart.mouth[over])
                               < geo_distance (at, dart.mouth[1 - over]);
          if (!near_over)
            at = geo_motion_apply (fold, at);
          at = geo_motion_apply (leg, at);
          g_assert_cmpfloat (geo_chain_nearest (&waist, at, NULL), <, 1e-9);
        }
      geo_chain_clear (&cap);
      geo_chain_clear (&waist);
    }
}

/* --- the line as one curve
 * -------------------------------------------------------------- */

static void
test_drag_handle (void)
{
  g_autoptr (Pattern) p = builder_read (panels);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingLine) line = line_of (facts, p, "b", 1);
  GError *error = NULL;
  const PatternPiece *three = builder_piece (p, "three");
  /* The hem of three comes to seam b at its end, its handle is the last
   * node's in. */
  int edge
      = pattern_piece_find_edge (three, builder_edge (p, "three", "hem")->id);
  guint last = pattern_piece_edge_last (three, (guint)edge) % three->n_nodes;
  GeoPoint to = geo_add (line->joints[1].at, geo_point (20, 9));
  g_autoptr (Pattern) q = drafting_line_set_handle (
      p, line, 2, three->nodes[last].id, DRAFTING_HANDLE_IN, to, &error);
  g_assert_no_error (error);
  same (q);
  assert_near (angle_of (q, "b", 1), G_PI, 1e-9);
  g_autoptr (SewingFacts) after = sewing_facts_new ();
  g_autoptr (SewingLine) now = line_of (after, q, "b", 1);
  const GeoCubic *c = &now->runs[2].laid.cubics[0];
  g_assert_cmpfloat (geo_distance (c->p[1], to), <, 1e-9);
  assert_near (length_of (q, "three", "left"), 300, 1e-9);
  assert_near (length_of (q, "two", "right"), 300, 1e-9);
}

static void
test_drag_node (void)
{
  g_autoptr (Pattern) p = builder_read (panels);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingLine) line = line_of (facts, p, "a", 1);
  GError *error = NULL;
  /* The middle node of two's hem, laid: where it is dropped it lies. */
  const PatternPiece *two = builder_piece (p, "two");
  int edge = pattern_piece_find_edge (two, builder_edge (p, "two", "hem")->id);
  const PatternNode *node = &two->nodes[two->edges[edge].first + 1];
  GeoPoint to = { 152, 311 };
  g_autoptr (Pattern) q
      = drafting_line_move_node (p, line, 1, node->id, to, &error);
  g_assert_no_error (error);
  g_autoptr (SewingFacts) after = sewing_facts_new ();
  g_autoptr (SewingLine) now = line_of (after, same (q), "a", 1);
  g_assert_cmpfloat (
      geo_distance (geo_cubic_point (&now->runs[1].laid.cubics[0], 1), to), <,
      1e-9);
  /* The joint slides down its seam, and both sides grow alike. */
  edge = pattern_piece_find_edge (two, builder_edge (p, "two", "left")->id);
  guint corner = two->nodes[two->edges[edge].first].id;
  to = geo_add (line->joints[0].at, geo_point (3, 5));
  g_autoptr (Pattern) r
      = drafting_line_move_node (p, line, 1, corner, to, &error);
  g_assert_no_error (error);
  same (r);
  assert_near (length_of (r, "one", "right"), 305, 1e-6);
  assert_near (length_of (r, "two", "left"), 305, 1e-6);
}

static void
test_bend (void)
{
  g_autoptr (Pattern) p = builder_read (panels);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingLine) line = line_of (facts, p, "c", 1);
  GError *error = NULL;
  const PatternPiece *three = builder_piece (p, "three");
  int edge
      = pattern_piece_find_edge (three, builder_edge (p, "three", "hem")->id);
  const PatternNode *node = &three->nodes[three->edges[edge].first];
  GeoPoint was = geo_cubic_point (&line->runs[2].laid.cubics[0], 0.6);
  g_autoptr (Pattern) q = drafting_line_bend (p, line, 2, node->id, 0.4,
                                              geo_point (0, 7), &error);
  g_assert_no_error (error);
  g_autoptr (SewingFacts) after = sewing_facts_new ();
  g_autoptr (SewingLine) now = line_of (after, same (q), "c", 1);
  GeoPoint is = geo_cubic_point (&now->runs[2].laid.cubics[0], 0.6);
  assert_near (is.x - was.x, 0, 1e-9);
  assert_near (is.y - was.y, 7, 1e-9);
  /* Smooth on either side now. */
  assert_near (angle_of (q, "b", 1), G_PI, 1e-9);
  assert_near (angle_of (q, "c", 1), G_PI, 1e-9);
}

/* --- fairing
 * ----------------------------------------------------------------------------
 */

/* A hem of shaken nodes on a circle of 400 mm. */
static Pattern *
shaken (double most)
{
  Pattern *p = pattern_new ("shaken");
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), "flare");
  enum
  {
    N = 9
  };
  PatternNode nodes[N + 1];
  gboolean starts[N + 1] = { TRUE };
  for (int i = 0; i < N; i++)
    {
      double a = 0.35 * G_PI + 0.3 * G_PI * i / (N - 1);
      double r = 400 + (i > 0 && i < N - 1 ? most * (i % 2 ? 1 : -1) : 0);
      double h = 400 * 4.0 / 3 * tan (0.3 * G_PI / (N - 1) / 4);
      GeoPoint at = { r * cos (a), r * sin (a) };
      GeoPoint way = { -sin (a), cos (a) };
      nodes[i]
          = (PatternNode){ 0, PATTERN_NODE_SMOOTH, at, geo_along (at, way, -h),
                           geo_along (at, way, h) };
    }
  nodes[0].kind = nodes[N - 1].kind = PATTERN_NODE_CORNER;
  nodes[0].in = nodes[0].at;
  nodes[N - 1].out = nodes[N - 1].at;
  nodes[N] = sample_node (0, 0);
  starts[N - 1] = starts[N] = TRUE;
  pattern_piece_set_outline (piece, nodes, N + 1, starts, &p->next_id);
  pattern_set_string (&piece->edges[0].name, "hem");
  pattern_put_piece (p, piece);
  return p;
}

static void
test_fair (void)
{
  g_autoptr (Pattern) p = shaken (0.4);
  const PatternPiece *piece = p->pieces[0];
  GError *error = NULL;
  double length = edge_length (p, piece->id, piece->edges[0].id);
  for (int keep = 0; keep < 2; keep++)
    {
      DraftingFairing how = { 1.0, keep, 0, 0 };
      DraftingFaired told;
      g_autoptr (Pattern) q = drafting_fair_edge (
          p, piece->id, piece->edges[0].id, &how, &told, &error);
      g_assert_no_error (error);
      same (q);
      g_assert_cmpfloat (told.roughness[1], <, 0.01 * told.roughness[0]);
      g_assert_cmpfloat (told.moved, <=, 1.0);
      assert_near (told.length[0], length, 1e-6);
      if (keep)
        assert_near (told.length[1], length, 1e-6);
      GeoChain hem = GEO_CHAIN_EMPTY;
      pattern_piece_edge_chain (q->pieces[0], 0, &hem);
      assert_near (geo_chain_length (&hem, 1e-9), told.length[1], 1e-6);
      /* Without a length to keep the circle comes back. */
      for (int i = 0; i <= 100 && !keep; i++)
        {
          GeoPoint at = geo_chain_point (
              &hem, geo_chain_at_length (&hem, told.length[1] * i / 100, 1e-9));
          assert_near (geo_norm (at), 400, 0.4);
        }
      geo_chain_clear (&hem);
    }
}

/* A stretch: the rest is untouched, and the joints have one curvature. */
static void
test_fair_stretch (void)
{
  g_autoptr (Pattern) p = shaken (0.4);
  const PatternPiece *piece = p->pieces[0];
  GError *error = NULL;
  double length = edge_length (p, piece->id, piece->edges[0].id);
  DraftingFairing how = { 1.0, FALSE, 0.2 * length, 0.8 * length };
  g_autoptr (Pattern) q = drafting_fair_edge (p, piece->id, piece->edges[0].id,
                                              &how, NULL, &error);
  g_assert_no_error (error);
  same (q);
  GeoChain was = GEO_CHAIN_EMPTY, is = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, 0, &was);
  pattern_piece_edge_chain (q->pieces[0], 0, &is);
  for (int i = 0; i < 20; i++)
    {
      GeoPoint at = geo_chain_point (
          &was, geo_chain_at_length (&was, length * 0.2 * i / 20, 1e-9));
      g_assert_cmpfloat (geo_chain_nearest (&is, at, NULL), <, 1e-8);
    }
  for (size_t i = 0; i + 1 < is.count; i++)
    assert_near (geo_angle_between (geo_cubic_tangent (&is.cubics[i], 1),
                                    geo_cubic_tangent (&is.cubics[i + 1], 0)),
                 0, 1e-6);
  geo_chain_clear (&was);
  geo_chain_clear (&is);
}

static void
test_fair_refused (void)
{
  g_autoptr (Pattern) p = shaken (0);
  const PatternPiece *piece = p->pieces[0];
  GError *error = NULL;
  DraftingFairing how = { 0, FALSE, 0, 0 };
  g_assert_null (drafting_fair_edge (p, piece->id, piece->edges[0].id, &how,
                                     NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  g_clear_error (&error);
  /* A straight edge is fair. */
  how.within = 1;
  g_assert_null (drafting_fair_edge (p, piece->id, piece->edges[1].id, &how,
                                     NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
}

/* --- as verbs -------------------------------------------------------------------------- */

static Pattern *
step (const Pattern *p, const char *const *words)
{
  GError *error = NULL;
  int n = 0;
  while (words[n] != NULL)
    n++;
  g_autoptr (PatternStep) told
      = drafting_step_parse (p, n, (char *const *)(gpointer)words, &error);
  g_assert_no_error (error);
  Pattern *result = drafting_step_run (p, told, &error);
  g_assert_no_error (error);
  same (result);
  return result;
}

static void
test_verbs (void)
{
  g_autoptr (Pattern) p = dipped ();
  const char *const blend[]
      = { "blend-joint", "seam=side seam", "reach=60 mm", NULL };
  const char *const square[]
      = { "square-to-fold", "edge=front/hem", "reach=40 mm", NULL };
  g_autoptr (Pattern) q = step (p, blend);
  g_autoptr (Pattern) direct
      = drafting_blend (p, seam_of (p, "side seam"), 1, 60, NULL, NULL);
  g_assert_true (pattern_equal (q, direct));
  g_autoptr (Pattern) r = step (q, square);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingLine) line = line_of (facts, r, "side seam", 1);
  assert_near (line->ends[0].angle, G_PI / 2, 1e-9);
  assert_near (line->joints[0].angle, G_PI, 1e-9);
  g_autoptr (Pattern) flare = shaken (0.4);
  const char *const fair[]
      = { "fair-edge", "edge=flare/hem", "within=1 mm", "keep=yes", NULL };
  g_autoptr (Pattern) s = step (flare, fair);
  const PatternPiece *piece = flare->pieces[0];
  assert_near (edge_length (s, piece->id, piece->edges[0].id),
               edge_length (flare, piece->id, piece->edges[0].id), 1e-5);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drafting/true/line", test_line);
  g_test_add_func ("/drafting/true/blend", test_blend);
  g_test_add_func ("/drafting/true/blend-curves", test_blend_curves);
  g_test_add_func ("/drafting/true/blend-refused", test_blend_refused);
  g_test_add_func ("/drafting/true/blend-line", test_blend_line);
  g_test_add_func ("/drafting/true/mend", test_mend);
  g_test_add_func ("/drafting/true/tube", test_tube);
  g_test_add_func ("/drafting/true/square", test_square);
  g_test_add_func ("/drafting/true/dart", test_dart);
  g_test_add_func ("/drafting/true/cap", test_cap);
  g_test_add_func ("/drafting/true/cap-reflects", test_cap_reflects);
  g_test_add_func ("/drafting/true/drag-handle", test_drag_handle);
  g_test_add_func ("/drafting/true/drag-node", test_drag_node);
  g_test_add_func ("/drafting/true/bend", test_bend);
  g_test_add_func ("/drafting/true/fair", test_fair);
  g_test_add_func ("/drafting/true/fair-stretch", test_fair_stretch);
  g_test_add_func ("/drafting/true/fair-refused", test_fair_refused);
  g_test_add_func ("/drafting/true/verbs", test_verbs);
  return g_test_run ();
}
