/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "builder.h"
#include "sewing/joints.h"

#define DEGREE (G_PI / 180)

static void
near (double value, double expected, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (value, expected, tolerance);
}

static gboolean
joint_of (const char *text, const char *seam, int end, SewingJoint *joint)
{
  g_autoptr (Pattern) p = builder_read (text);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  return sewing_seam_joint (facts, p, builder_seam (p, seam), end, joint);
}

static void
maps (const SewingJoint *joint, double x, double y, double to_x, double to_y)
{
  GeoPoint p = geo_motion_apply (joint->motion, geo_point (x, y));
  near (p.x, to_x, 1e-6);
  near (p.y, to_y, 1e-6);
}

/* Two right angles make a straight line, and the back lies beside the
 * front. */
static void
test_skirt (void)
{
  g_autoptr (Pattern) p = builder_read (builder_skirt);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const PatternSeam *side = builder_seam (p, "side seam");
  SewingJoint joint;
  g_assert_true (sewing_seam_joint (facts, p, side, 0, &joint));
  near (joint.angle, G_PI, 1e-9);
  near (joint.at.x, 200, 1e-9);
  near (joint.at.y, 0, 1e-9);
  g_assert_cmpuint (joint.a_piece, ==, builder_piece (p, "front")->id);
  g_assert_cmpuint (joint.a_edge, ==, builder_edge (p, "front", "waist")->id);
  g_assert_cmpuint (joint.b_edge, ==, builder_edge (p, "back", "waist")->id);
  g_assert_true (joint.runs_on); /* neighbours in the waist seam */
  maps (&joint, 300, 0, 200, 0);
  maps (&joint, 300, 300, 200, 300);
  maps (&joint, 400, 150, 300, 150);

  g_assert_true (sewing_seam_joint (facts, p, side, 1, &joint));
  near (joint.angle, G_PI, 1e-9);
  g_assert_cmpuint (joint.a_edge, ==, builder_edge (p, "front", "hem")->id);
  g_assert_true (joint.runs_on); /* both hems */
  maps (&joint, 300, 300, 200, 300);
  maps (&joint, 400, 150, 300, 150);

  /* The waist seam ends at folds: nothing runs on there. */
  const PatternSeam *waist = builder_seam (p, "waist seam");
  for (int end = 0; end < 2; end++)
    {
      g_assert_true (sewing_seam_joint (facts, p, waist, end, &joint));
      g_assert_false (joint.runs_on);
    }
}

/* A hem that falls 10 mm over 200 meets the side at 90 + atan (1/20) degrees:
 * both pieces so make a dip of twice that. */
static void
test_dip (void)
{
  g_autofree char *front
      = builder_change (builder_skirt, "line 0 300", "line 0 310");
  SewingJoint joint;
  g_assert_true (joint_of (front, "side seam", 1, &joint));
  near (joint.angle, G_PI + atan (10.0 / 200), 1e-9);
  g_autofree char *both
      = builder_change (front, "line 500 300", "line 500 310");
  g_assert_true (joint_of (both, "side seam", 1, &joint));
  near (joint.angle, G_PI + 2 * atan (10.0 / 200), 1e-9);
}

/* A facing drawn the same way up as what it faces has to be turned over to be
 * sewn to it. */
static void
test_turned_over (void)
{
  static const char *const text = "piece shell\n"
                                  "at 0 0\n"
                                  "edge neck seam 10\n"
                                  "line 100 0\n"
                                  "edge front seam 10\n"
                                  "line 100 200\n"
                                  "line 0 200\n"
                                  "piece facing\n"
                                  "at 0 500\n"
                                  "edge neck seam 10\n"
                                  "line 100 500\n"
                                  "edge front seam 10\n"
                                  "line 100 700\n"
                                  "line 50 700\n"
                                  "seam s turned 0 shell.front / "
                                  "facing.front\n";
  SewingJoint joint;
  g_assert_true (joint_of (text, "s", 0, &joint));
  g_assert_true (joint.motion.flip);
  maps (&joint, 100, 500, 100, 0);
  maps (&joint, 100, 600, 100, 100);
  maps (&joint, 80, 500, 120, 0);
  g_assert_true (joint.runs_on); /* by name */
}

/* A dart with straight legs in a straight edge: each leg stands atan (10/80)
 * off the square, so the closed edge has a dip of the intake angle. */
static void
test_dart (void)
{
  static const char *const text = "piece panel\n"
                                  "at 0 0\n"
                                  "edge waist seam 10\n"
                                  "line 90 0\n"
                                  "edge leg_one raw 0\n"
                                  "line 100 80\n"
                                  "edge leg_two raw 0\n"
                                  "line 110 0\n"
                                  "edge Waist seam 10\n"
                                  "line 200 0\n"
                                  "edge rest seam 10\n"
                                  "line 200 200\n"
                                  "line 0 200\n"
                                  "dart d panel.leg_one / panel.leg_two~\n";
  SewingJoint joint;
  g_assert_true (joint_of (text, "d", 0, &joint));
  near (joint.angle, G_PI + 2 * atan (10.0 / 80), 1e-9);
  g_assert_true (joint.runs_on);
  /* Folding the dart is a turn about its point by the intake angle. */
  maps (&joint, 110, 0, 90, 0);
  maps (&joint, 100, 80, 100, 80);
  g_assert_false (joint_of (text, "d", 1, &joint));
}

/* Edges sewn to each other are one seam's two plies, not one line. */
static void
test_sewn_together (void)
{
  static const char *const text = "piece one\n"
                                  "at 0 0\n"
                                  "edge panel seam 10\n"
                                  "line 100 0\n"
                                  "edge end seam 10\n"
                                  "line 100 100\n"
                                  "edge rest seam 10\n"
                                  "line 0 100\n"
                                  "piece two\n"
                                  "at 300 0\n"
                                  "edge end seam 10\n"
                                  "line 400 0\n"
                                  "edge panel seam 10\n"
                                  "line 400 100\n"
                                  "edge rest seam 10\n"
                                  "line 300 100\n"
                                  "seam first open 0 one.panel / two.panel~\n";
  SewingJoint joint;
  g_assert_true (joint_of (text, "first", 1, &joint));
  g_assert_true (joint.runs_on);
  g_autofree char *both
      = g_strconcat (text, "seam second open 0 one.end / two.end~\n", NULL);
  g_assert_true (joint_of (both, "first", 1, &joint));
  g_assert_false (joint.runs_on);
}

/* Neither names, hems nor a seam make them one line. */
static void
test_unrelated (void)
{
  g_autofree char *text
      = builder_change (builder_skirt, "edge hem hem 40", "edge low seam 40");
  SewingJoint joint;
  g_assert_true (joint_of (text, "side seam", 1, &joint));
  g_assert_false (joint.runs_on);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/joints/skirt", test_skirt);
  g_test_add_func ("/joints/dip", test_dip);
  g_test_add_func ("/joints/turned-over", test_turned_over);
  g_test_add_func ("/joints/dart", test_dart);
  g_test_add_func ("/joints/sewn-together", test_sewn_together);
  g_test_add_func ("/joints/unrelated", test_unrelated);
  return g_test_run ();
}
