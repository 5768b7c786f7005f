/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "builder.h"
#include "sewing/walk.h"

typedef struct
{
  Pattern *pattern;
  SewingFacts *facts;
  SewingWalk *walk;
} Walked;

static Walked
walked (const char *text, const char *seam, int fixed, SewingWalkBy by)
{
  Walked w = { builder_read (text), sewing_facts_new (), NULL };
  w.walk = sewing_walk_new (w.facts, w.pattern, builder_seam (w.pattern, seam),
                            fixed, by);
  return w;
}

static void
walked_clear (Walked *w)
{
  sewing_walk_free (w->walk);
  sewing_facts_free (w->facts);
  pattern_unref (w->pattern);
}

static void
near (double value, double expected, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (value, expected, tolerance);
}

static void
maps (const SewingWalk *walk, const SewingWalkStep *step, int side, guint run,
      GeoPoint from, double x, double y)
{
  GeoPoint p
      = geo_motion_apply (sewing_walk_motion (walk, step, side, run), from);
  near (p.x, x, 2e-5);
  near (p.y, y, 2e-5);
}

/* A straight edge of 160 and a quarter circle of 100, whose inside lies on
 * either side of the line. */
static const char *const wheel = "unit mm\n"
                                 "piece road\n"
                                 "at 0 0\n"
                                 "edge top seam 10\n"
                                 "line 160 0\n"
                                 "edge rest raw 0\n"
                                 "line 160 50\n"
                                 "line 0 50\n"
                                 "piece wheel\n"
                                 "at 400 300\n"
                                 "edge rim seam 10\n"
                                 "arc 300 300 90\n"
                                 "edge spoke raw 0\n"
                                 "line 300 300\n"
                                 "seam rolling open 0 road.top / wheel.rim~\n";

/* Rolled one to one along a straight line a circle's centre goes along a
 * parallel, and a point of its rim draws a cycloid: x = R (u - sin u), y = R (1
 * - cos u) above the line at the angle u = s / R rolled (C. Huygens, Horologium
 * oscillatorium, 1673; in any table of plane curves). */
static void
test_cycloid (void)
{
  Walked w = walked (wheel, "rolling", 0, SEWING_WALK_PAPER);
  near (w.walk->whole, 160, 1e-7);
  double rim = 50 * G_PI;
  for (double s = 0; s <= rim; s += 6.5)
    {
      SewingWalkStep step;
      sewing_walk_step (w.walk, s, &step);
      double u = s / 100;
      near (step.at.x, s, 1e-6);
      near (step.at.y, 0, 1e-6);
      near (step.difference, 0, 1e-9);
      maps (w.walk, &step, 1, 0, geo_point (300, 300), s, -100);
      maps (w.walk, &step, 1, 0, geo_point (300, 400), 100 * (u - sin (u)),
            -100 * (1 - cos (u)));
    }
  SewingWalkStep end;
  sewing_walk_step (w.walk, 1e9, &end);
  near (end.walked, 160, 1e-7);
  near (end.along[1], rim, 1e-4);
  /* 160 against 157.0796: what the road is left over by. */
  near (end.difference, 2.9204, 1e-4);
  walked_clear (&w);
}

/* By the marks the difference grows with the way, and the ends meet. */
static void
test_matched (void)
{
  Walked w = walked (wheel, "rolling", 0, SEWING_WALK_MATCHED);
  SewingWalkStep step;
  for (int i = 0; i <= 8; i++)
    {
      sewing_walk_step (w.walk, 20 * i, &step);
      near (step.difference, 2.9204 * i / 8, 1e-4);
    }
  near (step.along[1], w.walk->seam->lengths[1], 1e-9);
  maps (w.walk, &step, 1, 0, geo_point (400, 300), 160, 0);
  walked_clear (&w);
  /* With the wheel still it is the road that goes round it; walked by the
     wheel's length. */
  w = walked (wheel, "rolling", 1, SEWING_WALK_MATCHED);
  near (w.walk->whole, 50 * G_PI, 1e-4);
  sewing_walk_step (w.walk, w.walk->whole, &step);
  maps (w.walk, &step, 0, 0, geo_point (160, 0), 400, 300);
  maps (w.walk, &step, 0, 0, geo_point (160, 50), 450, 300);
  maps (w.walk, &step, 1, 0, geo_point (160, 50), 160, 50);
  walked_clear (&w);
}

/* The waistband stays; front and back come along as joined at the side. */
static void
test_several (void)
{
  Walked w = walked (builder_skirt, "waist seam", 1, SEWING_WALK_MATCHED);
  g_assert_cmpuint (w.walk->n_runs[0], ==, 2);
  SewingWalkStep step;
  for (double s = 0; s <= 400; s += 40)
    {
      sewing_walk_step (w.walk, s, &step);
      g_assert_cmpuint (step.run[0], ==, s <= 200 ? 0 : 1);
      /* The band's lower edge runs from x = 0 to 400 at y = 440. */
      near (step.at.x, s, 1e-6);
      near (step.at.y, 440, 1e-6);
      maps (w.walk, &step, 0, 0, geo_point (0, 300), 0, 740);
      maps (w.walk, &step, 0, 1, geo_point (300, 300), 200, 740);
      maps (w.walk, &step, 0, 1, geo_point (500, 0), 400, 440);
    }
  walked_clear (&w);
}

/* The side of two pieces stays: the back is laid to the front. */
static void
test_several_stay (void)
{
  Walked w = walked (builder_skirt, "waist seam", 0, SEWING_WALK_MATCHED);
  SewingWalkStep step;
  sewing_walk_step (w.walk, 300, &step);
  near (step.at.x, 300, 1e-6);
  near (step.at.y, 0, 1e-6);
  maps (w.walk, &step, 0, 1, geo_point (400, 150), 300, 150);
  maps (w.walk, &step, 1, 0, geo_point (300, 440), 300, 0);
  maps (w.walk, &step, 1, 0, geo_point (300, 400), 300, -40);

  GeoChain trail = GEO_CHAIN_EMPTY;
  sewing_walk_trail (w.walk, &step, 0, &trail);
  near (geo_chain_length (&trail, 1e-7), 300, 1e-6);
  near (geo_chain_end (&trail).x, 300, 1e-6);
  geo_chain_reset (&trail);
  sewing_walk_trail (w.walk, &step, 1, &trail);
  near (geo_chain_length (&trail, 1e-7), 300, 1e-6);
  near (geo_chain_start (&trail).x, 0, 1e-6);
  near (geo_chain_end (&trail).x, 300, 1e-6);
  near (geo_chain_end (&trail).y, 0, 1e-6);
  geo_chain_clear (&trail);
  walked_clear (&w);
}

/* Where no seam joins two runs, the line runs on. */
static void
test_unjoined (void)
{
  g_autofree char *alone = builder_change (
      builder_skirt, "seam side_seam open 0 front.side / back.side~", "");
  Walked w = walked (alone, "waist seam", 1, SEWING_WALK_MATCHED);
  SewingWalkStep step;
  sewing_walk_step (w.walk, 100, &step);
  maps (w.walk, &step, 0, 1, geo_point (300, 300), 200, 740);
  walked_clear (&w);
}

static void
test_marks (void)
{
  Walked w = walked (builder_skirt, "side seam", 0, SEWING_WALK_MATCHED);
  const SewingInterval *in = w.walk->seam->intervals;
  g_assert_cmpuint (w.walk->seam->n_intervals, ==, 2);
  SewingWalkStep step;
  sewing_walk_step (w.walk, 149.9, &step);
  g_assert_cmpuint (step.interval, ==, 0);
  g_assert_false (sewing_walk_has_reached (&step, 0, in[0].a_to));
  g_assert_false (sewing_walk_has_reached (&step, 1, in[0].b_to));
  sewing_walk_step (w.walk, sewing_walk_to (w.walk, 1, in[0].b_to), &step);
  g_assert_true (sewing_walk_has_reached (&step, 0, in[0].a_to));
  g_assert_true (sewing_walk_has_reached (&step, 1, in[0].b_to));
  sewing_walk_step (w.walk, 151, &step);
  g_assert_cmpuint (step.interval, ==, 1);
  walked_clear (&w);

  /* On paper a notch 4 mm off is reached that much later. */
  g_autofree char *off = builder_change (builder_skirt, "notch side 2 end 150",
                                         "notch side 2 end 154");
  w = walked (off, "side seam", 0, SEWING_WALK_PAPER);
  in = w.walk->seam->intervals;
  sewing_walk_step (w.walk, 152, &step);
  g_assert_true (sewing_walk_has_reached (&step, 0, in[0].a_to));
  g_assert_false (sewing_walk_has_reached (&step, 1, in[0].b_to));
  near (sewing_walk_to (w.walk, 1, in[0].b_to), 154, 1e-6);
  walked_clear (&w);
}

/* The road is 160 long, the rim a quarter circle of 157.08 (50 pi): at its end the
 * wheel lies still and the pin goes on alone, 2.92 along the road; with the wheel
 * still it goes on along the road as it is laid, straight off the rim. */
static void
test_left_over (void)
{
  double rim = 50 * G_PI;
  for (int fixed = 0; fixed < 2; fixed++)
    {
      Walked w = walked (wheel, "rolling", fixed, SEWING_WALK_PAPER);
      SewingWalkStep held, step;
      sewing_walk_step (w.walk, rim, &held);
      sewing_walk_step (w.walk, 160, &step);
      near (step.along[0], 160, 1e-6);
      near (step.along[1], rim, 1e-5);
      /* Straight on, along the tangent that both had there. */
      near (geo_distance (held.at, step.at), 160 - rim, 1e-4);
      near (geo_dot (geo_sub (step.at, held.at), held.tangent), 160 - rim,
            1e-4);
      GeoPoint probe = { 37, -12 };
      GeoPoint before = geo_motion_apply (held.moving, probe);
      GeoPoint after = geo_motion_apply (step.moving, probe);
      near (geo_distance (before, after), 0, 1e-4);
      walked_clear (&w);
    }
}

static void
test_corner (void)
{
  Walked w = walked (builder_skirt, "side seam", 0, SEWING_WALK_MATCHED);
  SewingWalkCorner corner;
  sewing_walk_corner_init (&corner);
  for (int end = 0; end < 2; end++)
    {
      g_assert_true (
          sewing_walk_corner (w.walk, w.facts, w.pattern, end, &corner));
      near (corner.joint.angle, G_PI, 1e-9);
      double y = end == 0 ? 0 : 300;
      GeoPoint want[4] = { { 0, y }, { 200, y }, { 200, y }, { 400, y } };
      for (int k = 0; k < 4; k++)
        {
          const GeoChain *chain = &corner.across[k / 2];
          GeoPoint p = k % 2 ? geo_chain_end (chain) : geo_chain_start (chain);
          near (p.x, want[k].x, 1e-6);
          near (p.y, want[k].y, 1e-6);
        }
    }
  sewing_walk_corner_clear (&corner);
  walked_clear (&w);
}

/* Closing a dart of straight legs turns one leg about the point. */
static void
test_dart (void)
{
  static const char *const text = "unit mm\n"
                                  "piece panel\n"
                                  "at 0 0\n"
                                  "line 90 0\n"
                                  "edge left seam 0\n"
                                  "line 100 80\n"
                                  "edge right seam 0\n"
                                  "line 110 0\n"
                                  "edge top seam 0\n"
                                  "line 200 0\n"
                                  "line 200 200\n"
                                  "line 0 200\n"
                                  "dart d panel.left / panel.right~\n";
  g_autofree char *named = builder_change (text, "at 0 0",
                                           "at 0 0\nedge waist "
                                           "seam 0");
  Walked w = walked (named, "d", 0, SEWING_WALK_MATCHED);
  SewingWalkStep step;
  for (double s = 0; s < w.walk->whole; s += 7)
    {
      sewing_walk_step (w.walk, s, &step);
      g_assert_false (step.moving.flip);
      maps (w.walk, &step, 1, 0, geo_point (100, 80), 100, 80);
      maps (w.walk, &step, 1, 0, geo_point (110, 0), 90, 0);
    }
  SewingWalkCorner corner;
  sewing_walk_corner_init (&corner);
  g_assert_true (sewing_walk_corner (w.walk, w.facts, w.pattern, 0, &corner));
  g_assert_false (sewing_walk_corner (w.walk, w.facts, w.pattern, 1, &corner));
  sewing_walk_corner_clear (&corner);
  walked_clear (&w);
}

/* Whatever is walked: the two places lie on each other, tangents agree, and the
 * motion is rigid by its form. */
static void
test_any (void)
{
  for (int n = 0; n < 60; n++)
    {
      g_autofree char *text = g_strdup_printf (
          "unit mm\npiece a\nat 0 0\nedge e seam 10\n"
          "curve %.3f %.3f %.3f %.3f 200 0\nedge f raw 0\nline 200 300\n"
          "line 0 300\nnotch e 1 fraction %.4f\npiece b\nat 500 0\n"
          "edge e seam 10\ncurve %.3f %.3f %.3f %.3f 690 0\nedge f raw 0\n"
          "line 700 300\nline 500 300\nnotch e 1 fraction %.4f\n"
          "seam s open 0 a.e / b.e%s\n",
          g_test_rand_double_range (20, 80), g_test_rand_double_range (-60, 60),
          g_test_rand_double_range (120, 180),
          g_test_rand_double_range (-60, 60),
          g_test_rand_double_range (0.4, 0.6),
          g_test_rand_double_range (520, 570),
          g_test_rand_double_range (-60, 60),
          g_test_rand_double_range (630, 680),
          g_test_rand_double_range (-60, 60),
          g_test_rand_double_range (0.4, 0.6), n % 2 ? "~" : "");
      int fixed = n / 2 % 2;
      Walked w = walked (text, "s", fixed, (SewingWalkBy)(n / 4 % 2));
      double at = g_test_rand_double_range (0, w.walk->whole);
      SewingWalkStep step;
      sewing_walk_step (w.walk, at, &step);
      /* Same way round, so turned over, when neither run is reversed. */
      g_assert_cmpint (step.moving.flip, ==, n % 2 == 0);
      GeoChain trail = GEO_CHAIN_EMPTY;
      for (int side = 0; side < 2; side++)
        {
          geo_chain_reset (&trail);
          sewing_walk_trail (w.walk, &step, side, &trail);
          /* Beyond the end of a shorter side the pin is on the longer alone. */
          GeoPoint t
              = geo_chain_tangent (&trail, (GeoPlace){ trail.count - 1, 1 });
          if (w.walk->by == SEWING_WALK_MATCHED
              || step.along[side] >= step.along[1 - side] - 1e-6)
            {
              near (geo_distance (geo_chain_end (&trail), step.at), 0, 1e-6);
              near (geo_distance (t, step.tangent), 0, 1e-5);
            }
          near (geo_chain_length (&trail, 1e-7), step.along[side], 1e-5);
        }
      geo_chain_clear (&trail);
      walked_clear (&w);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/walk/cycloid", test_cycloid);
  g_test_add_func ("/walk/matched", test_matched);
  g_test_add_func ("/walk/several", test_several);
  g_test_add_func ("/walk/several-stay", test_several_stay);
  g_test_add_func ("/walk/unjoined", test_unjoined);
  g_test_add_func ("/walk/marks", test_marks);
  g_test_add_func ("/walk/left-over", test_left_over);
  g_test_add_func ("/walk/corner", test_corner);
  g_test_add_func ("/walk/dart", test_dart);
  g_test_add_func ("/walk/any", test_any);
  return g_test_run ();
}
