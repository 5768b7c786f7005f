/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edges shifted, hems lengthened, ends lowered. Closed forms: a straight edge let out by a profile gains
 * the profile's integral, and an eased profile runs from nothing to the amount over a reach as
 * much above half as below: amount times reach / 2. A sector's hem shifted by h keeps its centre. */
#include <math.h>
#include <string.h>

#include "dart-sample.h"

/* 400 wide, 600 high, at (x, 0): edges 0 top (rightward), 1 right, 2 hem (leftward), 3 left. */
static PatternPiece *
panel (Pattern *p, double x)
{
  PatternPiece *own = pattern_piece_new (pattern_take_id (p), "panel");
  PatternNode nodes[] = { sample_node (x, 0), sample_node (x + 400, 0),
                          sample_node (x + 400, 600), sample_node (x, 600) };
  gboolean starts[4] = { TRUE, TRUE, TRUE, TRUE };
  static const char *const names[] = { "top", "side", "hem", "centre" };
  pattern_piece_set_outline (own, nodes, 4, starts, &p->next_id);
  for (guint i = 0; i < 4; i++)
    {
      pattern_set_string (&own->edges[i].name, names[i]);
      own->edges[i].allowance = 10;
    }
  own->edges[2].kind = PATTERN_EDGE_HEM;
  PatternNotch notches[]
      = { { pattern_take_id (p), own->edges[1].id, 1, PATTERN_FROM_START, 120 },
          { pattern_take_id (p), own->edges[1].id, 1, PATTERN_FROM_END, 90 } };
  pattern_piece_add_notch (own, notches[0]);
  pattern_piece_add_notch (own, notches[1]);
  pattern_put_piece (p, own);
  return own;
}

/* Two panels, the first's side sewn to the second's centre, which runs the other way. */
static Pattern *
two_panels (const PatternPiece **a, const PatternPiece **b)
{
  Pattern *p = pattern_new ("panels");
  *a = panel (p, 0);
  *b = panel (p, 600);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (p), "panel seam");
  pattern_seam_add_run (seam, 0,
                        (PatternRun){ (*a)->id, (*a)->edges[1].id, 0 });
  pattern_seam_add_run (seam, 1,
                        (PatternRun){ (*b)->id, (*b)->edges[3].id, 1 });
  pattern_put_seam (p, seam);
  return p;
}

#define SAMPLE                                                                 \
  const PatternPiece *a, *b;                                                   \
  g_autoptr (Pattern) p = two_panels (&a, &b);                                 \
  g_autoptr (Pattern) untouched = deep_copy (p);                               \
  g_autoptr (GError) error = NULL
#define UNTOUCHED g_assert_true (pattern_equal (p, untouched))

static void
test_even (void)
{
  SAMPLE;
  PatternRun side = { a->id, a->edges[1].id, FALSE };
  DraftingShift shift = { .by = 15 };
  g_autoptr (Pattern) out = drafting_shift_edges (p, &side, 1, &shift, &error);
  assert_good (out, a->id, error);
  assert_near (area_of (out, a->id), 415 * 600, 1e-6);
  g_assert_true (pattern_get_piece (out, b->id) == b);
  shift.by = -15;
  g_autoptr (Pattern) in = drafting_shift_edges (p, &side, 1, &shift, &error);
  assert_good (in, a->id, error);
  assert_near (area_of (in, a->id), 385 * 600, 1e-6);
  g_assert_cmpuint (piece_of (in, a->id)->n_nodes, ==, 4);
  /* Both sides by the same. */
  shift.both = TRUE;
  g_autoptr (Pattern) both = drafting_shift_edges (p, &side, 1, &shift, &error);
  assert_good (both, a->id, error);
  assert_near (area_of (both, b->id), 385 * 600, 1e-6);
  shift.by = -450;
  assert_refused (drafting_shift_edges (p, &side, 1, &shift, &error), &error,
                  DRAFTING_ERROR_AMOUNT, "The most that works here is");
  UNTOUCHED;
}

/* Let out 7 mm at the hem, easing to nothing over 150 mm, on both sides of the seam. */
static void
test_eased (void)
{
  SAMPLE;
  PatternRun side = { a->id, a->edges[1].id, FALSE };
  DraftingShift shift
      = { .by = 7, .shape = DRAFTING_SHIFT_END, .reach = 150, .both = TRUE };
  g_autoptr (Pattern) now = drafting_shift_edges (p, &side, 1, &shift, &error);
  assert_good (now, a->id, error);
  assert_near (area_of (now, a->id), 240000 + 7 * 150 / 2.0, 0.1);
  assert_near (area_of (now, b->id), 240000 + 7 * 150 / 2.0, 0.1);
  /* Both sides are as long as each other, and their hems 7 mm wider. */
  assert_near (edge_length (now, a->id, a->edges[1].id),
               edge_length (now, b->id, b->edges[3].id), 1e-3);
  assert_near (edge_length (now, a->id, a->edges[2].id), 407, 1e-6);
  assert_near (edge_length (now, b->id, b->edges[2].id), 407, 1e-6);
  assert_near (edge_length (now, a->id, a->edges[0].id), 400, 1e-9);
  /* Notches keep their distance from the end they are measured from. */
  g_assert_cmpfloat (piece_of (now, a->id)->notches[0].amount, ==, 120);
  g_assert_cmpfloat (piece_of (now, a->id)->notches[1].amount, ==, 90);
  /* The same from the other end, walked the other way. */
  side.reversed = TRUE;
  shift.shape = DRAFTING_SHIFT_START;
  g_autoptr (Pattern) same = drafting_shift_edges (p, &side, 1, &shift, &error);
  assert_good (same, a->id, error);
  assert_near (area_of (same, a->id), area_of (now, a->id), 1e-6);
  UNTOUCHED;
}

static void
test_swell (void)
{
  SAMPLE;
  PatternRun side = { a->id, a->edges[1].id, FALSE };
  DraftingShift shift = { .by = -4,
                          .shape = DRAFTING_SHIFT_SWELL,
                          .at = 300,
                          .reach = 100,
                          .both = TRUE };
  g_autoptr (Pattern) now = drafting_shift_edges (p, &side, 1, &shift, &error);
  assert_good (now, a->id, error);
  assert_near (area_of (now, a->id), 240000 - 400, 0.1);
  assert_near (area_of (now, b->id), 240000 - 400, 0.1);
  assert_near (edge_length (now, a->id, a->edges[2].id), 400, 1e-9);
  shift.reach = 0;
  assert_refused (drafting_shift_edges (p, &side, 1, &shift, &error), &error,
                  DRAFTING_ERROR_AMOUNT, "1 mm at least");
  UNTOUCHED;
}

/* A quarter circle's hem, 500 from the centre, shifted 35: a quarter of 535. The straight sides go
 * on. */
static void
test_sector (void)
{
  g_autoptr (Pattern) p = pattern_new ("cape");
  g_autoptr (GError) error = NULL;
  GeoChain outline = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&outline, geo_point (0, 100), geo_point (0, 500));
  GeoChain arc = GEO_CHAIN_EMPTY;
  for (int i = 0; i < 4; i++)
    {
      GeoCubic one
          = geo_cubic_arc (geo_point (0, 0), 500, G_PI / 2 - i * G_PI / 8,
                           G_PI / 2 - (i + 1) * G_PI / 8);
      geo_chain_append (&outline, one);
    }
  geo_chain_clear (&arc);
  geo_chain_append_line (&outline, geo_chain_end (&outline),
                         geo_point (100, 0));
  geo_chain_append (&outline,
                    geo_cubic_arc (geo_point (0, 0), 100, 0, G_PI / 2));
  outline.cubics[outline.count - 1].p[3] = geo_point (0, 100);
  guint piece = 0;
  g_autoptr (Pattern) cape
      = drafting_add_piece (p, "cape", &outline, 0.35, 10, &piece, &error);
  geo_chain_clear (&outline);
  g_assert_no_error (error);
  const PatternPiece *own = piece_of (cape, piece);
  g_assert_cmpuint (own->n_edges, ==, 4);
  guint hem = 0;
  for (guint i = 0; i < 4; i++)
    if (edge_length (cape, piece, own->edges[i].id) > 700)
      hem = own->edges[i].id;
  static const double by[] = { 35, -35 };
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (Pattern) now
          = drafting_lengthen_hem (cape, piece, hem, by[i], TRUE, &error);
      assert_good (now, piece, error);
      double outer = 500 + by[i];
      assert_near (edge_length (now, piece, hem), G_PI / 2 * outer, 0.01);
      assert_near (area_of (now, piece), G_PI / 4 * (outer * outer - 100 * 100),
                   3);
    }
}

/* All hems that run on into each other: three panels in a row; one that is not sewn to them stays. */
static void
test_hems (void)
{
  SAMPLE;
  const PatternPiece *third = panel (p, 1200), *alone = panel (p, 1800);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (p), "next");
  pattern_seam_add_run (seam, 0, (PatternRun){ b->id, b->edges[1].id, 0 });
  pattern_seam_add_run (seam, 1,
                        (PatternRun){ third->id, third->edges[3].id, 1 });
  pattern_put_seam (p, seam);
  g_autoptr (Pattern) all
      = drafting_lengthen_hem (p, b->id, b->edges[2].id, 35, TRUE, &error);
  g_assert_no_error (error);
  assert_sound (all);
  assert_near (area_of (all, a->id), 400 * 635, 1e-6);
  assert_near (area_of (all, b->id), 400 * 635, 1e-6);
  assert_near (area_of (all, third->id), 400 * 635, 1e-6);
  g_assert_true (pattern_get_piece (all, alone->id) == alone);
  g_autoptr (Pattern) one
      = drafting_lengthen_hem (p, b->id, b->edges[2].id, 35, FALSE, &error);
  g_assert_true (pattern_get_piece (one, a->id) == a);
  (void)untouched;
}

/* Edges that run on smoothly: one alone would leave a step. */
static void
test_smooth_neighbour (void)
{
  SAMPLE;
  guint node = 0;
  g_autoptr (Pattern) split
      = drafting_add_node (p, a->id, a->edges[1].id, 250, &node, &error);
  guint lower = 0;
  g_autoptr (Pattern) two
      = drafting_split_edge (split, a->id, node, &lower, &error);
  g_assert_no_error (error);
  PatternRun runs[]
      = { { a->id, a->edges[1].id, FALSE }, { a->id, lower, FALSE } };
  DraftingShift shift = { .by = 10 };
  assert_refused (drafting_shift_edges (two, runs, 1, &shift, &error), &error,
                  DRAFTING_ERROR_SHAPE, "run on smoothly");
  g_autoptr (Pattern) both
      = drafting_shift_edges (two, runs, 2, &shift, &error);
  assert_good (both, a->id, error);
  assert_near (area_of (both, a->id), 410 * 600, 1e-6);
  /* A swell across the joint. */
  DraftingShift swell = { .by = 10,
                          .shape = DRAFTING_SHIFT_SWELL,
                          .at = 260,
                          .reach = 200,
                          .both = TRUE };
  g_autoptr (Pattern) over
      = drafting_shift_edges (two, runs, 2, &swell, &error);
  assert_good (over, a->id, error);
  assert_near (area_of (over, a->id), 240000 + 2000, 0.2);
  assert_near (area_of (over, b->id), 240000 + 2000, 0.2);
}

/* The neck of the bodice: lowered where it meets the centre; the far end and both directions stay. */
static void
test_lower (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  g_autoptr (GError) error = NULL;
  const PatternPiece *front = p->pieces[0];
  guint neck = front->edges[0].id;
  static const double by[] = { 9, -9 };
  for (guint i = 0; i < 2; i++)
    for (guint start = 0; start < 2; start++)
      {
        g_autoptr (Pattern) now = drafting_lower_end (
            p, front->id, neck, start == 1, by[i], &error);
        assert_good (now, front->id, error);
        const PatternPiece *own = piece_of (now, front->id);
        GeoChain was = GEO_CHAIN_EMPTY, is = GEO_CHAIN_EMPTY;
        pattern_piece_edge_chain (front, 0, &was);
        pattern_piece_edge_chain (
            own, (guint)pattern_piece_find_edge (own, neck), &is);
        GeoPlace first = { 0, 0 }, last = { is.count - 1, 1 };
        GeoPlace far = start ? last : first, near = start ? first : last;
        assert_near (geo_distance (geo_chain_point (&was, far),
                                   geo_chain_point (&is, far)),
                     0, 1e-12);
        assert_near (geo_distance (geo_chain_tangent (&was, far),
                                   geo_chain_tangent (&is, far)),
                     0, 1e-9);
        assert_near (geo_distance (geo_chain_tangent (&was, near),
                                   geo_chain_tangent (&is, near)),
                     0, 1e-9);
        /* The neck starts at the centre's end, and ends at the side's start; the centre is straight. */
        guint beside = start ? 3 : 1;
        assert_near (
            edge_length (now, front->id, front->edges[beside].id),
            edge_length (p, front->id, front->edges[beside].id) - by[i], 1e-6);
        geo_chain_clear (&was);
        geo_chain_clear (&is);
      }
  assert_refused (drafting_lower_end (p, front->id, neck, TRUE, 400, &error),
                  &error, DRAFTING_ERROR_AMOUNT, "The most that works here is");
}

/* The other side gets as long as this one, with the ease that is meant. */
static void
test_carry_over (void)
{
  SAMPLE;
  PatternSeam *seam = pattern_seam_dup (p->seams[0]);
  seam->ease = 5;
  pattern_put_seam (p, seam);
  for (int from = 0; from < 2; from++)
    {
      g_autoptr (Pattern) now = drafting_carry_over (p, seam->id, from, &error);
      assert_good (now, a->id, error);
      double one = edge_length (now, a->id, a->edges[1].id);
      double two = edge_length (now, b->id, b->edges[3].id);
      assert_near (one - two, 5, 1e-6);
      assert_near (from == 0 ? one : two, 600, 1e-9);
    }
  (void)untouched;
}

/* Random shifts of curved edges: sound or refused. */
static void
test_any (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  guint done = 0;
  for (int round = 0; round < 200; round++)
    {
      g_autoptr (GError) error = NULL;
      const PatternPiece *piece = p->pieces[g_test_rand_int_range (0, 2)];
      PatternRun run
          = { piece->id, piece->edges[g_test_rand_int_range (0, 4)].id,
              g_test_rand_int_range (0, 2) };
      DraftingShift shift
          = { g_test_rand_double_range (-40, 40),
              (DraftingShiftShape)g_test_rand_int_range (0, 4),
              g_test_rand_double_range (-10, 310),
              g_test_rand_double_range (2, 200), g_test_rand_int_range (0, 2) };
      g_autoptr (Pattern) now
          = round % 4 == 0 ? drafting_lower_end (p, piece->id, run.edge,
                                                 run.reversed, shift.by, &error)
                           : drafting_shift_edges (p, &run, 1, &shift, &error);
      g_assert_true ((now == NULL) == (error != NULL));
      if (!now)
        continue;
      done++;
      assert_good (now, piece->id, error);
    }
  g_assert_cmpuint (done, >, 80);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shifts/even", test_even);
  g_test_add_func ("/shifts/eased", test_eased);
  g_test_add_func ("/shifts/swell", test_swell);
  g_test_add_func ("/shifts/sector", test_sector);
  g_test_add_func ("/shifts/hems", test_hems);
  g_test_add_func ("/shifts/smooth-neighbour", test_smooth_neighbour);
  g_test_add_func ("/shifts/lower", test_lower);
  g_test_add_func ("/shifts/carry-over", test_carry_over);
  g_test_add_func ("/shifts/any", test_any);
  return g_test_run ();
}
