/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "builder.h"
#include "geometry/nearest.h"
#include "geometry/region.h"
#include "sewing/cutting.h"
#include "sewing/facts.h"

static void
near (double value, double expected, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (value, expected, tolerance);
}

/* --- pieces ------------------------------------------------------------------ */

/* Rectangle 100 x 60 with 10 all round: 120 x 80 (closed form). */
static void
test_rectangle (void)
{
  g_autoptr (Pattern) p = builder_read ("piece card\n"
                                        "at 0 0\n"
                                        "edge top seam 10\n"
                                        "line 100 0\n"
                                        "edge right seam 10\n"
                                        "line 100 60\n"
                                        "edge bottom seam 10\n"
                                        "line 0 60\n"
                                        "edge left seam 10\n");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingPiece *piece = sewing_facts_piece (facts, p->pieces[0]);
  near (piece->area, 6000, 1e-9);
  near (piece->perimeter, 320, 1e-9);
  near (piece->lengths[0], 100, 1e-9);
  near (piece->lengths[3], 60, 1e-9);
  near (piece->ring.area, 120 * 80, 1e-6);
  near (piece->bounds.x0, -10, 1e-6);
  near (piece->bounds.y1, 70, 1e-6);
  g_assert_false (piece->crosses);
}

/* Circle of radius 50, width 10: pi 60^2 (closed form). */
static void
test_circle (void)
{
  g_autoptr (Pattern) p = builder_read ("piece disc\n"
                                        "at 50 0\n"
                                        "edge rim seam 10\n"
                                        "arc 0 0 360\n");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingPiece *piece = sewing_facts_piece (facts, p->pieces[0]);
  near (piece->area, G_PI * 2500, 1e-3);
  near (piece->perimeter, 2 * G_PI * 50, 1e-5);
  /* The cutting line is within 0.01 mm of the true one. */
  near (piece->ring.area, G_PI * 3600, 0.01 * 2 * G_PI * 60);
  near (geo_norm (piece->middle), 0, 0.04 * 100);
}

static void
test_crossing (void)
{
  g_autoptr (Pattern) p = builder_read ("piece bow\n"
                                        "at 0 0\n"
                                        "edge a seam 10\n"
                                        "line 100 0\n"
                                        "edge b seam 10\n"
                                        "line 20 120\n"
                                        "edge c seam 10\n"
                                        "line 80 120\n"
                                        "edge d seam 10\n");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingPiece *piece = sewing_facts_piece (facts, p->pieces[0]);
  g_assert_true (piece->crosses);
  /* Lines (100,0)-(20,120) and (80,120)-(0,0): both at x = 50, y = 75. */
  near (piece->crosses_at.x, 50, 1e-6);
  near (piece->crosses_at.y, 75, 1e-6);
}

/* The middle lies inside, and no point of a fine grid is farther from the
 * outline than it by more than was promised. */
static void
check_middle (const char *text)
{
  g_autoptr (Pattern) p = builder_read (text);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingPiece *piece = sewing_facts_piece (facts, p->pieces[0]);
  GeoChain outline = GEO_CHAIN_EMPTY;
  pattern_piece_outline (p->pieces[0], &outline);
  g_assert_true (geo_chain_contains (&outline, piece->middle));
  double got = geo_chain_nearest (&outline, piece->middle, NULL);
  GeoBox box = geo_chain_bounds (&outline);
  double best = 0;
  for (int i = 1; i < 40; i++)
    for (int j = 1; j < 40; j++)
      {
        GeoPoint at = geo_point (box.x0 + (box.x1 - box.x0) * i / 40,
                                 box.y0 + (box.y1 - box.y0) * j / 40);
        if (geo_chain_contains (&outline, at))
          best = fmax (best, geo_chain_nearest (&outline, at, NULL));
      }
  double side = fmin (box.x1 - box.x0, box.y1 - box.y0);
  /* 0.5 mm more: curves are taken as short lines. */
  g_assert_cmpfloat (got, >=, best - 0.04 * side - 0.5);
  geo_chain_clear (&outline);
}

static void
test_middle (void)
{
  check_middle ("piece card\nat 0 0\nedge a seam 10\nline 300 0\nline 300 60\n"
                "line 0 60\n");
  /* An L, whose centre of bounds is outside. */
  check_middle ("piece ell\nat 0 0\nedge a seam 10\nline 200 0\nline 200 40\n"
                "line 40 40\nline 40 300\nline 0 300\n");
  /* A crescent. */
  check_middle ("piece moon\nat 100 0\nedge a seam 10\narc 0 0 180\n"
                "curve -60 60 60 60 100 0\n");
  /* A sliver of no area still has a place. */
  g_autoptr (Pattern) p = builder_read (
      "piece hair\nat 0 0\nedge a seam 10\nline 300 0\nline 300 0.5\n");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  GeoPoint m = sewing_facts_piece (facts, p->pieces[0])->middle;
  g_assert_true (isfinite (m.x) && isfinite (m.y));
}

static void
test_notch_place (void)
{
  g_autoptr (Pattern) p = builder_read (builder_skirt);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const PatternPiece *back = builder_piece (p, "back");
  GeoPoint at, outward;
  g_assert_true (sewing_notch_place (sewing_facts_piece (facts, back),
                                     &back->notches[0], &at, &outward));
  near (at.x, 300, 1e-6);
  near (at.y, 150, 1e-6);
  near (outward.x, -1, 1e-9);
  near (outward.y, 0, 1e-9);
}

/* --- seams ------------------------------------------------------------------- */

/* A quarter circle of radius 100 is 157.0796 mm; against a straight of 160 it
 * is 2.9204 mm short, 1.859 % of the shorter (closed form). */
static void
test_arc_and_straight (void)
{
  g_autoptr (Pattern) p
      = builder_read ("piece wedge\n"
                      "at 0 0\n"
                      "edge side seam 10\n"
                      "line 100 0\n"
                      "edge arc seam 10\n"
                      "arc 0 0 90\n"
                      "edge other seam 10\n"
                      "piece strip\n"
                      "at 0 0\n"
                      "edge long seam 10\n"
                      "line 160 0\n"
                      "edge rest seam 10\n"
                      "line 160 30\n"
                      "line 0 30\n"
                      "seam s open 0 wedge.arc / strip.long~\n");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *seam = sewing_facts_seam (facts, p, p->seams[0]);
  near (seam->lengths[0], 50 * G_PI, 1e-5);
  near (seam->lengths[1], 160, 1e-9);
  near (seam->ease, -2.9204, 5e-5);
  near (seam->out, -2.9204, 5e-5);
  g_assert_cmpuint (seam->n_intervals, ==, 1);
  near (seam->intervals[0].difference, -2.9204, 5e-5);
  near (seam->intervals[0].per_cent, -1.859, 5e-4);
  g_assert_cmpint (seam->inside[0], ==, 1);
  g_assert_cmpint (seam->inside[1], ==, -1);
}

/* Two arcs of one angle: (R - R') phi (closed form). */
static void
test_two_arcs (void)
{
  g_autoptr (Pattern) p
      = builder_read ("piece inner\n"
                      "at 0 0\n"
                      "edge side seam 10\n"
                      "line 120 0\n"
                      "edge arc seam 10\n"
                      "arc 0 0 60\n"
                      "edge other seam 10\n"
                      "piece outer\n"
                      "at 200 0\n"
                      "edge side seam 10\n"
                      "line 300 0\n"
                      "edge rim seam 10\n"
                      "arc 0 0 60\n"
                      "edge other seam 10\n"
                      "line 100 173.20508075688772\n"
                      "edge arc seam 10\n"
                      "arc 0 0 -60\n"
                      "seam s open 0 inner.arc / outer.arc~\n");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *seam = sewing_facts_seam (facts, p, p->seams[0]);
  near (seam->ease, (120 - 200) * G_PI / 3, 1e-5);
}

static void
test_intervals (void)
{
  g_autoptr (Pattern) p = builder_read (builder_skirt);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *side
      = sewing_facts_seam (facts, p, builder_seam (p, "side seam"));
  g_assert_cmpuint (side->n_intervals, ==, 2);
  g_assert_cmpuint (side->n_loose, ==, 0);
  g_assert_cmpuint (side->intervals[0].a_notch, ==,
                    builder_piece (p, "front")->notches[1].id);
  g_assert_cmpuint (side->intervals[0].b_notch, ==,
                    builder_piece (p, "back")->notches[0].id);
  near (side->intervals[0].a_to, 150, 1e-6);
  near (side->intervals[0].b_to, 150, 1e-6);
  g_assert_cmpuint (side->intervals[1].a_notch, ==, 0);
  near (side->intervals[1].b_to, 300, 1e-6);

  /* Two runs against one: the joint at 200 has no mark to face. */
  const SewingSeam *waist
      = sewing_facts_seam (facts, p, builder_seam (p, "waist seam"));
  near (waist->lengths[0], 400, 1e-6);
  near (waist->joints[0][1], 200, 1e-6);
  near (waist->joints[0][2], 400, 1e-6);
  near (waist->joints[1][1], 400, 1e-6);
  g_assert_cmpuint (waist->n_intervals, ==, 2);
  near (waist->ease, 0, 1e-6);
  GeoPoint at = sewing_seam_point (waist, 0, 250);
  near (at.x, 350, 1e-6);
  at = sewing_seam_point (waist, 1, 250);
  near (at.x, 250, 1e-6);
  near (at.y, 440, 1e-6);
}

/* A notch that faces a joint; notches at a joint and at the seam's ends. */
static void
test_joint_marks (void)
{
  g_autofree char *notched = builder_change (
      builder_skirt, "notch lower_edge 1 end 100",
      "notch lower_edge 1 end 100\nnotch lower_edge 2 end 198\n"
      "notch lower_edge 3 end 0");
  g_autoptr (Pattern) p = builder_read (notched);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *waist
      = sewing_facts_seam (facts, p, builder_seam (p, "waist seam"));
  g_assert_cmpuint (waist->n_intervals, ==, 3);
  g_assert_cmpuint (waist->n_loose, ==, 0);
  g_assert_cmpuint (waist->intervals[1].a_notch, ==, 0);
  g_assert_cmpuint (waist->intervals[1].b_notch, !=, 0);
  near (waist->intervals[1].a_to, 200, 1e-6);
  near (waist->intervals[1].difference, 100 - 98, 1e-6);

  /* A notch on each piece at the joint is one mark. */
  g_autofree char *ends
      = builder_change (notched, "notch waist 1 start 100",
                        "notch waist 1 start 100\nnotch waist 2 end 0");
  g_autoptr (Pattern) q = builder_read (ends);
  const SewingSeam *again
      = sewing_facts_seam (facts, q, builder_seam (q, "waist seam"));
  g_assert_cmpuint (again->n_intervals, ==, 3);
  g_assert_cmpuint (again->intervals[1].a_notch, !=, 0);
}

static void
test_loose (void)
{
  g_autofree char *text
      = builder_change (builder_skirt, "notch side 2 end 150",
                        "notch side 2 end 150\nnotch side 3 start 40");
  g_autoptr (Pattern) p = builder_read (text);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *side
      = sewing_facts_seam (facts, p, builder_seam (p, "side seam"));
  g_assert_cmpuint (side->n_intervals, ==, 2);
  g_assert_cmpuint (side->n_loose, ==, 1);
  g_assert_cmpint (side->loose[0].side, ==, 1);
  g_assert_cmpuint (side->loose[0].piece, ==, builder_piece (p, "back")->id);
  near (side->loose[0].at, 260, 1e-6); /* the back is walked from its end */
}

static void
test_points_nowhere (void)
{
  g_autoptr (Pattern) p = builder_read (builder_skirt);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  PatternSeam *empty = pattern_seam_new (900, "empty");
  g_assert_null (sewing_facts_seam (facts, p, empty));
  guint front = builder_piece (p, "front")->id;
  pattern_seam_add_run (empty, 0, (PatternRun){ front, 12345, FALSE });
  pattern_seam_add_run (empty, 1, (PatternRun){ front, 12345, FALSE });
  g_assert_null (sewing_facts_seam (facts, p, empty));
  pattern_seam_unref (empty);
}

/* --- keeping ----------------------------------------------------------------- */

/* An edit of one piece makes new facts of that piece and its seams, and
 * leaves every other address as it was. */
static void
test_keep (void)
{
  g_autoptr (Pattern) p = builder_read (builder_skirt);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const PatternPiece *front = builder_piece (p, "front");
  const PatternPiece *band = builder_piece (p, "waistband");
  const SewingPiece *front_facts = sewing_facts_piece (facts, front);
  const SewingPiece *band_facts = sewing_facts_piece (facts, band);
  const SewingSeam *side
      = sewing_facts_seam (facts, p, builder_seam (p, "side seam"));
  const SewingSeam *waist
      = sewing_facts_seam (facts, p, builder_seam (p, "waist seam"));
  g_assert_true (sewing_facts_piece (facts, front) == front_facts);

  g_autoptr (Pattern) q = pattern_dup (p);
  PatternPiece *moved = pattern_piece_dup (band);
  moved->nodes[0].at.y -= 5;
  pattern_put_piece (q, moved);
  g_assert_true (sewing_facts_piece (facts, builder_piece (q, "front"))
                 == front_facts);
  g_assert_true (sewing_facts_seam (facts, q, builder_seam (q, "side seam"))
                 == side);
  const SewingSeam *new_waist
      = sewing_facts_seam (facts, q, builder_seam (q, "waist seam"));
  g_assert_true (new_waist != waist);
  /* The pattern before is still known beside the new one. */
  sewing_facts_keep (facts, q, p);
  g_assert_true (sewing_facts_seam (facts, p, builder_seam (p, "waist seam"))
                 == waist);
  g_assert_true (sewing_facts_piece (facts, band) == band_facts);
  g_assert_true (sewing_facts_seam (facts, q, builder_seam (q, "waist seam"))
                 == new_waist);
  /* And is let go: what stays is what the new one has. */
  sewing_facts_keep (facts, q, NULL);
  g_assert_true (sewing_facts_piece (facts, front) == front_facts);
  g_assert_true (sewing_facts_seam (facts, q, builder_seam (q, "side seam"))
                 == side);
  g_assert_true (sewing_facts_seam (facts, q, builder_seam (q, "waist seam"))
                 == new_waist);
}

/* --- cutting list -------------------------------------------------------------- */

static void
test_cutting (void)
{
  g_autofree char *text
      = builder_change (builder_skirt, "unit mm", "unit mm\ncloth facing 0.03");
  g_autofree char *cut
      = builder_change (text, "grain 100 420 300 420",
                        "grain 100 420 300 420\ncut facing 2 mirrored");
  g_autoptr (Pattern) p = builder_read (cut);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GArray) list = sewing_cutting_list (facts, p);
  g_assert_cmpuint (list->len, ==, 4);
  const SewingCutting *front = &g_array_index (list, SewingCutting, 0);
  g_assert_cmpuint (front->piece, ==, builder_piece (p, "front")->id);
  g_assert_true (front->on_fold);
  /* 200 + 15 wide and 300 + 10 + 40 high, and again on the other side of the fold. */
  near (front->area, 2 * 215 * 350, 1e-3);
  const SewingCutting *band = &g_array_index (list, SewingCutting, 3);
  g_assert_cmpint (band->count, ==, 2);
  g_assert_true (band->mirrored);
  near (sewing_cutting_area (list, band->cloth), 2 * band->area, 1e-6);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/facts/rectangle", test_rectangle);
  g_test_add_func ("/facts/circle", test_circle);
  g_test_add_func ("/facts/crossing", test_crossing);
  g_test_add_func ("/facts/middle", test_middle);
  g_test_add_func ("/facts/notch-place", test_notch_place);
  g_test_add_func ("/facts/arc-and-straight", test_arc_and_straight);
  g_test_add_func ("/facts/two-arcs", test_two_arcs);
  g_test_add_func ("/facts/intervals", test_intervals);
  g_test_add_func ("/facts/joint-marks", test_joint_marks);
  g_test_add_func ("/facts/loose", test_loose);
  g_test_add_func ("/facts/points-nowhere", test_points_nowhere);
  g_test_add_func ("/facts/keep", test_keep);
  g_test_add_func ("/facts/cutting", test_cutting);
  return g_test_run ();
}
