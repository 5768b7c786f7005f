/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces slashed and spread. Closed forms: the gap a straight slash of length L opens, a wide at one end
 * and b at the other, is a trapezoid of area (a + b) / 2 L cos (w / 2), sin (w / 2) =
 * (a - b) / 2L; a rectangle spread by many hinged slashes nears the sector of a ring. */
#include <math.h>
#include <string.h>

#include "dart-sample.h"

/* 400 wide, 600 high, at (0, 0): edges 0 top (rightward), 1 right, 2 hem (leftward), 3 left. */
static Pattern *
rectangle (guint *piece, guint edges[4])
{
  Pattern *p = pattern_new ("rectangle");
  PatternPiece *own = pattern_piece_new (pattern_take_id (p), "panel");
  PatternNode nodes[] = { sample_node (0, 0), sample_node (400, 0),
                          sample_node (400, 600), sample_node (0, 600) };
  gboolean starts[4] = { TRUE, TRUE, TRUE, TRUE };
  pattern_piece_set_outline (own, nodes, 4, starts, &p->next_id);
  *piece = own->id;
  for (guint i = 0; i < 4; i++)
    {
      edges[i] = own->edges[i].id;
      own->edges[i].allowance = 10;
    }
  own->edges[2].kind = PATTERN_EDGE_HEM;
  PatternNotch notches[]
      = { { pattern_take_id (p), edges[2], 1, PATTERN_FROM_START, 50 },
          { pattern_take_id (p), edges[2], 1, PATTERN_FROM_START, 350 },
          { pattern_take_id (p), edges[2], 1, PATTERN_FROM_END, 30 },
          { pattern_take_id (p), edges[1], 1, PATTERN_FRACTION, 0.25 } };
  for (guint i = 0; i < 4; i++)
    pattern_piece_add_notch (own, notches[i]);
  pattern_piece_add_drill (own,
                           (PatternDrill){ pattern_take_id (p), { 100, 300 } });
  pattern_piece_add_drill (own,
                           (PatternDrill){ pattern_take_id (p), { 300, 300 } });
  PatternNode line[] = { sample_node (150, 400), sample_node (250, 400) };
  line[0].id = pattern_take_id (p);
  line[1].id = pattern_take_id (p);
  pattern_piece_add_line (own, pattern_take_id (p), "pocket", line, 2);
  own->has_grain = TRUE;
  own->grain_from = geo_point (80, 200);
  own->grain_to = geo_point (80, 500);
  pattern_put_piece (p, own);
  return p;
}

#define SAMPLE                                                                 \
  guint piece, edges[4];                                                       \
  g_autoptr (Pattern) p = rectangle (&piece, edges);                           \
  g_autoptr (Pattern) untouched = deep_copy (p);                               \
  g_autoptr (GError) error = NULL
#define UNTOUCHED g_assert_true (pattern_equal (p, untouched))

static void
test_hinged (void)
{
  SAMPLE;
  DraftingPlace hem = { piece, edges[2], 200 }, top = { piece, edges[0], 200 };
  g_autoptr (Pattern) now = drafting_slash (p, hem, top, 60, 0, FALSE, &error);
  assert_good (now, piece, error);
  double turn = 2 * asin (60.0 / 1200);
  assert_near (area_of (now, piece), 240000 + 0.5 * 600 * 600 * sin (turn),
               1e-6);
  assert_near (edge_length (now, piece, edges[2]), 460, 1e-9);
  for (guint i = 0; i < 4; i++)
    if (i != 2)
      assert_near (edge_length (now, piece, edges[i]),
                   edge_length (p, piece, edges[i]), 1e-9);
  const PatternPiece *own = piece_of (now, piece);
  /* The part with the grainline stays. */
  g_assert_true (geo_same (own->drills[0].at, geo_point (100, 300)));
  assert_near (geo_distance (own->drills[1].at, geo_point (200, 0)),
               hypot (100, 300), 1e-9);
  /* Notches stay on their paper: one of the moved half from the start as it was, the other
   * one beyond the gap. */
  assert_near (own->notches[0].amount, 50, 1e-9);
  assert_near (own->notches[1].amount, 410, 1e-9);
  assert_near (own->notches[2].amount, 30, 1e-9);
  assert_near (own->notches[3].amount, 0.25, 1e-12);
  /* Rounded about the hinge, the gap is a sector: radius 600. */
  g_autoptr (Pattern) round = drafting_slash (p, hem, top, 60, 0, TRUE, &error);
  assert_good (round, piece, error);
  assert_near (area_of (round, piece), 240000 + 0.5 * 600 * 600 * turn, 2);
  assert_near (edge_length (round, piece, edges[2]), 400 + 600 * turn, 0.01);
  UNTOUCHED;
}

static void
test_parallel_and_uneven (void)
{
  SAMPLE;
  DraftingPlace hem = { piece, edges[2], 150 }, top = { piece, edges[0], 250 };
  g_autoptr (Pattern) both = drafting_slash (p, hem, top, 40, 40, TRUE, &error);
  assert_good (both, piece, error);
  assert_near (area_of (both, piece), 240000 + 40 * 600, 1e-6);
  assert_near (edge_length (both, piece, edges[0]), 440, 1e-9);
  assert_near (edge_length (both, piece, edges[2]), 440, 1e-9);
  g_autoptr (Pattern) uneven
      = drafting_slash (p, hem, top, 70, 10, FALSE, &error);
  assert_good (uneven, piece, error);
  double sine = 60.0 / 1200, cosine = sqrt (1 - sine * sine);
  assert_near (area_of (uneven, piece), 240000 + 40 * 600 * cosine, 1e-6);
  assert_near (edge_length (uneven, piece, edges[0]), 410, 1e-9);
  assert_near (edge_length (uneven, piece, edges[2]), 470, 1e-9);
  /* And taken out again by the same amounts below 0, at the same slash. */
  g_autoptr (Pattern) pinched
      = drafting_slash (p, hem, top, -40, -40, TRUE, &error);
  assert_good (pinched, piece, error);
  assert_near (area_of (pinched, piece), 240000 - 40 * 600, 1e-6);
  assert_near (edge_length (pinched, piece, edges[2]), 360, 1e-9);
  g_autoptr (Pattern) wedge
      = drafting_slash (p, hem, top, -40, 0, TRUE, &error);
  assert_good (wedge, piece, error);
  assert_near (edge_length (wedge, piece, edges[2]), 360, 0.2);
  assert_near (area_of (wedge, piece), 240000 - 0.5 * 40 * 600, 60);
  UNTOUCHED;
}

/* A skewed slash through a curved piece: area against the trapezoid all the same, with straight
 * gaps; edges that are not cut keep their length. */
static void
test_curved (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  g_autoptr (GError) error = NULL;
  guint piece = p->pieces[0]->id;
  GeoPoint a = { -30, 210 }, b = { 260, 150 };
  const PatternPiece *old = p->pieces[0];
  g_autoptr (Pattern) now
      = drafting_slash_line (p, piece, a, b, 20, 5, FALSE, &error);
  assert_good (now, piece, error);
  for (guint i = 0; i < 3; i += 2)
    assert_near (edge_length (now, piece, old->edges[i].id),
                 edge_length (p, piece, old->edges[i].id), 1e-9);
  /* The seam's side is longer by its gap, 5, and no longer. */
  assert_near (edge_length (now, piece, old->edges[1].id),
               edge_length (p, piece, old->edges[1].id) + 5, 1e-9);
  assert_near (edge_length (now, piece, old->edges[3].id),
               edge_length (p, piece, old->edges[3].id) + 20, 1e-9);
  double gained = area_of (now, piece) - area_of (p, piece);
  GeoChain outline = GEO_CHAIN_EMPTY, line = GEO_CHAIN_EMPTY;
  pattern_piece_outline (old, &outline);
  geo_chain_append_line (&line, a, b);
  GeoCrossings met;
  geo_crossings_init (&met);
  geo_chain_crossings (&line, &outline, &met);
  g_assert_cmpuint (met.count, ==, 2);
  double length = geo_distance (met.items[0].at, met.items[1].at);
  double sine = 15 / (2 * length);
  assert_near (gained, 0.5 * 25 * length * sqrt (1 - sine * sine), 1e-6);
  geo_crossings_clear (&met);
  geo_chain_clear (&line);
  geo_chain_clear (&outline);
  GeoPoint far_a = { -30, 400 }, far_b = { 260, 400 };
  assert_refused (
      drafting_slash_line (p, piece, far_a, far_b, 20, 5, FALSE, &error),
      &error, DRAFTING_ERROR_SHAPE, "misses the front");
  assert_refused (
      drafting_slash_line (p, piece, far_a, far_a, 20, 5, FALSE, &error),
      &error, DRAFTING_ERROR_SHAPE, "misses the front");
}

/* A rectangle h high spread by n hinged slashes at its hem is, as they grow in number, the sector
 * of a ring: angle = total / h at most; the top keeps its length, the hem gains the total. */
static void
test_sweep (void)
{
  SAMPLE;
  PatternRun hem = { piece, edges[2], FALSE }, top = { piece, edges[0], TRUE };
  g_autoptr (Pattern) now
      = drafting_sweep (p, &hem, 1, &top, 1, 8, 240, 0, TRUE, &error);
  assert_good (now, piece, error);
  double turn = 8 * 2 * asin (30.0 / 1200);
  assert_near (edge_length (now, piece, edges[0]), 400, 0.1);
  assert_near (edge_length (now, piece, edges[2]), 400 + 600 * turn, 1);
  /* Both lines near circles about one centre: radius 400 / turn, and 600 more. Area of
   * the sector between them. */
  double inner = 400 / turn, outer = inner + 600;
  double sector = 0.5 * turn * (outer * outer - inner * inner);
  assert_near (area_of (now, piece), sector, 0.004 * sector);
  const PatternPiece *own = piece_of (now, piece);
  for (guint e = 0; e < 4; e += 2)
    {
      int index = pattern_piece_find_edge (own, edges[e]);
      guint first = own->edges[index].first;
      guint last = pattern_piece_edge_last (own, (guint)index);
      for (guint i = first + 1; i < last; i++)
        g_assert_cmpint (own->nodes[i % own->n_nodes].kind, !=,
                         PATTERN_NODE_CORNER);
    }
  /* Without fairing every part of the paper is left as it is. */
  g_autoptr (Pattern) plain
      = drafting_sweep (p, &hem, 1, &top, 1, 8, 240, 0, FALSE, &error);
  assert_good (plain, piece, error);
  assert_near (edge_length (plain, piece, edges[0]), 400, 1e-9);
  /* Pleats: the same at both ends. */
  g_autoptr (Pattern) pleats
      = drafting_sweep (p, &hem, 1, &top, 1, 4, 200, 200, TRUE, &error);
  assert_good (pleats, piece, error);
  assert_near (area_of (pleats, piece), 600 * 600, 1e-6);
  UNTOUCHED;
}

static void
test_lengthen (void)
{
  SAMPLE;
  g_autoptr (Pattern) longer
      = drafting_lengthen_at (p, piece, geo_point (10, 350), 35, &error);
  assert_good (longer, piece, error);
  assert_near (area_of (longer, piece), 400 * 635, 1e-6);
  assert_near (edge_length (longer, piece, edges[1]), 635, 1e-9);
  g_autoptr (Pattern) shorter
      = drafting_lengthen_at (p, piece, geo_point (10, 350), -35, &error);
  assert_good (shorter, piece, error);
  assert_near (area_of (shorter, piece), 400 * 565, 1e-6);
  UNTOUCHED;
}

/* A gaping neckline lapped out: cut from the neck to the hem 2 in from the centre front, hinged at the
 * hem, lapped at the neck by half the excess, which costs width on the way down in
 * proportion (L. Cutting on neckline excess, Threads, 22 March 2019). */
static void
test_gaping_neck (void)
{
  SAMPLE;
  DraftingPlace neck = { piece, edges[0], 50.8 };
  DraftingPlace hem = { piece, edges[2], 400 - 50.8 };
  g_autoptr (Pattern) now = drafting_slash (p, neck, hem, -9, 0, TRUE, &error);
  assert_good (now, piece, error);
  assert_near (edge_length (now, piece, edges[0]), 391, 0.05);
  assert_near (edge_length (now, piece, edges[2]), 400, 1e-9);
  assert_near (area_of (p, piece) - area_of (now, piece), 0.5 * 9 * 600, 40);
  UNTOUCHED;
}

/* Refused in words, with the most that works; and that works. */
static void
test_refused (void)
{
  SAMPLE;
  DraftingPlace hem = { piece, edges[2], 200 }, top = { piece, edges[0], 200 };
  assert_refused (drafting_slash (p, hem, hem, 10, 0, TRUE, &error), &error,
                  DRAFTING_ERROR_SHAPE, "two places");
  assert_refused (drafting_slash (p, hem, top, 700, 0, TRUE, &error), &error,
                  DRAFTING_ERROR_AMOUNT, "The most that works here is 59.99");
  assert_refused (drafting_slash (p, hem, top, -500, -500, TRUE, &error),
                  &error, DRAFTING_ERROR_AMOUNT, "The most that works here is");
  assert_refused (drafting_slash (p, hem, top, INFINITY, 0, TRUE, &error),
                  &error, DRAFTING_ERROR_AMOUNT, "no number");
  PatternRun one = { piece, edges[2], FALSE }, two = { piece, edges[0], TRUE };
  assert_refused (drafting_sweep (p, &one, 1, &two, 1, 0, 100, 0, TRUE, &error),
                  &error, DRAFTING_ERROR_AMOUNT, "1 to 60");
  assert_refused (drafting_sweep (p, &one, 1, &two, 0, 3, 100, 0, TRUE, &error),
                  &error, DRAFTING_ERROR_SHAPE, "same piece");
  /* Walked the wrong way round the slashes would cross; they are not. */
  g_autoptr (Pattern) one_way
      = drafting_sweep (p, &one, 1, &two, 1, 3, 100, 0, TRUE, &error);
  two.reversed = FALSE;
  g_autoptr (Pattern) other_way
      = drafting_sweep (p, &one, 1, &two, 1, 3, 100, 0, TRUE, &error);
  assert_good (other_way, piece, error);
  assert_near (area_of (one_way, piece), area_of (other_way, piece), 1e-6);
  UNTOUCHED;
}

/* Random slashes through curved pieces: sound or refused. */
static void
test_any (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  const PatternPiece *old = p->pieces[0];
  guint done = 0;
  for (int round = 0; round < 300; round++)
    {
      g_autoptr (GError) error = NULL;
      GeoPoint a = { g_test_rand_double_range (-50, 250),
                     g_test_rand_double_range (-50, 350) };
      GeoPoint b = { g_test_rand_double_range (-50, 250),
                     g_test_rand_double_range (-50, 350) };
      g_autoptr (Pattern) now = drafting_slash_line (
          p, old->id, a, b, g_test_rand_double_range (-40, 60),
          round % 3 == 0 ? 0 : g_test_rand_double_range (-40, 60), round % 2,
          &error);
      g_assert_true ((now == NULL) == (error != NULL));
      if (!now)
        continue;
      done++;
      assert_good (now, old->id, error);
      g_assert_cmpuint (piece_of (now, old->id)->n_notches, ==, 3);
      g_assert_cmpuint (piece_of (now, old->id)->n_edges, ==, 4);
    }
  g_assert_cmpuint (done, >, 60);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/slashes/hinged", test_hinged);
  g_test_add_func ("/slashes/parallel-and-uneven", test_parallel_and_uneven);
  g_test_add_func ("/slashes/curved", test_curved);
  g_test_add_func ("/slashes/sweep", test_sweep);
  g_test_add_func ("/slashes/gaping-neck", test_gaping_neck);
  g_test_add_func ("/slashes/lengthen", test_lengthen);
  g_test_add_func ("/slashes/refused", test_refused);
  g_test_add_func ("/slashes/any", test_any);
  return g_test_run ();
}
