/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Darts turned, split, made and shaped. Figures: a dart moved about its point keeps its angle, so
 * that its width goes with the distance from the point to the edge (Goodheart-Willcox, Apparel,
 * 2012, on dart transfer; common practice of flat pattern books). 40 mm at 180 mm are 12.76 degrees;
 * at 150 mm 33.33 mm, at 260 mm 57.78 mm, at a hem 400 mm below 88.89 mm; halves at 180 mm are
 * 20.03 mm each: plain trigonometry, worked out by hand. */
#include <math.h>
#include <string.h>

#include "dart-sample.h"

#define SAMPLE                                                                 \
  DartSample s = dart_sample ();                                               \
  g_autoptr (Pattern) p = s.p;                                                 \
  g_autoptr (Pattern) untouched = deep_copy (p);                               \
  g_autoptr (GError) error = NULL
#define UNTOUCHED g_assert_true (pattern_equal (p, untouched))

static void
test_turn (void)
{
  SAMPLE;
  assert_near (drafting_dart_angle (p, s.dart) * DEGREES, 12.76, 0.005);
  double top = 180 - DART_LEG * cos (drafting_dart_angle (p, s.dart) / 2);
  /* Left edge runs up from 580; the right one down from the top; the hem leftward from 410. */
  const struct
  {
    DraftingPlace to;
    double width;
  } turns[] = {
    { { s.piece, s.edges[0], 400 }, 33.33 },
    { { s.piece, s.edges[5], 180 - top }, 57.78 },
    { { s.piece, s.edges[6], 260 }, 88.89 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (turns); i++)
    {
      g_autoptr (Pattern) now
          = drafting_turn_dart (p, s.dart, turns[i].to, 1, NULL, &error);
      assert_good (now, s.piece, error);
      assert_near (dart_mouth (now, s.dart), turns[i].width, 0.005);
      assert_near (drafting_dart_angle (now, s.dart),
                   drafting_dart_angle (p, s.dart), 1e-12);
      assert_near (dart_leg (now, s.dart, 0), dart_leg (now, s.dart, 1), 1e-9);
      /* Cloth is turned, not made or lost. */
      assert_near (area_of (now, s.piece), area_of (p, s.piece), 1e-6);
      g_assert_cmpuint (now->n_seams, ==, 1);
      /* The two parts of the top are one edge again, of both their lengths. */
      assert_near (edge_length (now, s.piece, s.edges[1]), 410 - DART_INTAKE,
                   1e-9);
      for (guint k = 0; k < 7; k += 1)
        if (k != 1 && k != 2 && k != 3 && k != 4
            && s.edges[k] != turns[i].to.edge)
          assert_near (edge_length (now, s.piece, s.edges[k]),
                       edge_length (p, s.piece, s.edges[k]), 1e-9);
    }
  UNTOUCHED;
}

/* Turned there and back: the pattern it was, by its shape. */
static void
test_there_and_back (void)
{
  SAMPLE;
  DraftingPlace right = { s.piece, s.edges[5], 170 };
  g_autoptr (Pattern) there
      = drafting_turn_dart (p, s.dart, right, 1, NULL, &error);
  assert_good (there, s.piece, error);
  DraftingPlace top = { s.piece, s.edges[1], 150 - DART_INTAKE / 2 };
  g_autoptr (Pattern) back
      = drafting_turn_dart (there, s.dart, top, 1, NULL, &error);
  assert_good (back, s.piece, error);
  const PatternPiece *old = piece_of (p, s.piece);
  const PatternPiece *now = piece_of (back, s.piece);
  g_assert_cmpuint (now->n_edges, ==, old->n_edges);
  assert_near (dart_mouth (back, s.dart), DART_INTAKE, 1e-9);
  assert_near (pattern_piece_area (now), pattern_piece_area (old), 1e-6);
  for (guint i = 0; i < old->n_nodes; i++)
    {
      double least = INFINITY;
      for (guint k = 0; k < now->n_nodes; k++)
        least = fmin (least, geo_distance (now->nodes[k].at, old->nodes[i].at));
      assert_near (least, 0, 1e-9);
    }
  for (guint i = 0; i < 2; i++)
    assert_near (geo_distance (now->drills[i].at, old->drills[i].at), 0, 1e-9);
  g_assert_true (geo_same (now->grain_from, old->grain_from));
}

/* A mark on the part that turns goes along; its distance to the point stays. The notch keeps
 * its place on its edge. */
static void
test_marks_go_along (void)
{
  SAMPLE;
  DraftingPlace hem = { s.piece, s.edges[6], 260 };
  g_autoptr (Pattern) now
      = drafting_turn_dart (p, s.dart, hem, 1, NULL, &error);
  assert_good (now, s.piece, error);
  const PatternPiece *old = piece_of (p, s.piece);
  const PatternPiece *own = piece_of (now, s.piece);
  g_assert_true (geo_same (own->grain_from, old->grain_from));
  g_assert_true (geo_same (own->drills[1].at, old->drills[1].at));
  g_assert_cmpfloat (geo_distance (own->drills[0].at, old->drills[0].at), >, 5);
  assert_near (geo_distance (own->drills[0].at, s.point),
               geo_distance (old->drills[0].at, s.point), 1e-9);
  g_assert_cmpfloat (own->notches[0].amount, ==, 100);
  g_assert_cmpuint (own->notches[0].edge, ==, s.edges[5]);
}

/* A drill mark in the dart's opening stays with the dart's point. */
static void
test_drill_in_opening (void)
{
  DartSample s = dart_sample ();
  g_autoptr (Pattern) p = s.p;
  g_autoptr (GError) error = NULL;
  PatternPiece *piece = pattern_piece_dup (piece_of (p, s.piece));
  piece->drills[0].at = geo_point (150, 167);
  pattern_put_piece (p, piece);
  DraftingPlace left = { s.piece, s.edges[0], 400 };
  g_autoptr (Pattern) turned
      = drafting_turn_dart (p, s.dart, left, 1, NULL, &error);
  assert_good (turned, s.piece, error);
  GeoPoint drill = piece_of (turned, s.piece)->drills[0].at;
  assert_near (geo_distance (drill, s.point), 13, 1e-9);
  g_assert_cmpfloat (drill.x, <, 138);
  g_autoptr (Pattern) back = drafting_move_dart_point (p, s.dart, 25, &error);
  assert_near (geo_distance (piece_of (back, s.piece)->drills[0].at,
                             geo_point (150, 142)),
               0, 1e-9);
  /* Slashed, it goes with the part that has the dart. */
  DraftingPlace a = { s.piece, s.edges[0], 300 },
                b = { s.piece, s.edges[5], 280 };
  g_autoptr (Pattern) slashed = drafting_slash (p, a, b, 30, 30, TRUE, &error);
  assert_good (slashed, s.piece, error);
  const PatternPiece *own = piece_of (slashed, s.piece);
  const PatternEdge *leg
      = &own->edges[pattern_piece_find_edge (own, s.edges[3])];
  assert_near (geo_distance (own->drills[0].at, own->nodes[leg->first].at), 13,
               1e-9);
}

/* Half and half by angle: 20.03 mm each, not 20. */
static void
test_share (void)
{
  SAMPLE;
  DraftingPlace top = { s.piece, s.edges[4], 100 };
  g_autoptr (Pattern) half
      = drafting_turn_dart (p, s.dart, top, 0.5, NULL, &error);
  assert_good (half, s.piece, error);
  g_assert_cmpuint (half->n_seams, ==, 2);
  guint other = half->seams[1]->id;
  double angle = drafting_dart_angle (p, s.dart) / 2;
  assert_near (drafting_dart_angle (half, s.dart), angle, 1e-12);
  assert_near (dart_angle_at (half, other, s.point), angle, 1e-12);
  /* A hinge of a sixteenth of an inch between the two points. */
  const PatternPiece *own = piece_of (half, s.piece);
  int second = pattern_piece_find_edge (
      own, pattern_get_seam (half, other)->sides[1].runs[0].edge);
  assert_near (geo_distance (own->nodes[own->edges[second].first].at, s.point),
               25.4 / 16, 1e-9);
  assert_near (dart_mouth (half, s.dart), 20.03, 0.005);
  assert_near (dart_leg (half, s.dart, 0), DART_LEG, 1e-9);
  assert_near (dart_leg (half, s.dart, 1), DART_LEG, 1e-9);
  g_assert_true (half->seams[1]->join == PATTERN_JOIN_DART);
  UNTOUCHED;
}

static void
test_split (void)
{
  SAMPLE;
  DraftingPlace to[] = { { s.piece, s.edges[0], 400 },
                         { s.piece, s.edges[5], 180 },
                         { s.piece, s.edges[5], 60 } };
  double shares[] = { 0.25, 0.25, 0.5 };
  g_autoptr (Pattern) now
      = drafting_split_dart (p, s.dart, to, shares, 3, NULL, &error);
  assert_good (now, s.piece, error);
  g_assert_cmpuint (now->n_seams, ==, 3);
  double sum = 0, whole = drafting_dart_angle (p, s.dart);
  for (guint i = 0; i < 3; i++)
    sum += dart_angle_at (now, now->seams[i]->id, s.point);
  assert_near (sum, whole, 1e-9);
  assert_near (drafting_dart_angle (now, s.dart), whole / 2, 1e-9);
  double hinges = 25.4 / 32
                  * (dart_mouth (now, now->seams[1]->id)
                     + dart_mouth (now, now->seams[2]->id));
  assert_near (area_of (now, s.piece), area_of (p, s.piece) + hinges, 1e-6);
  shares[2] = 0.6;
  assert_refused (drafting_split_dart (p, s.dart, to, shares, 3, NULL, &error),
                  &error, DRAFTING_ERROR_AMOUNT, "100 %");
  UNTOUCHED;
}

/* A dart drawn short of the bust point is turned about that: the angle there counts. */
static void
test_pivot (void)
{
  SAMPLE;
  GeoPoint pivot = { 150, 205 };
  double half
      = atan2 (DART_INTAKE / 2,
               25 + DART_LEG * cos (drafting_dart_angle (p, s.dart) / 2));
  DraftingPlace left = { s.piece, s.edges[0], 580 - 205 };
  g_autoptr (Pattern) all
      = drafting_turn_dart (p, s.dart, left, 1, &pivot, &error);
  assert_good (all, s.piece, error);
  assert_near (drafting_dart_angle (all, s.dart), 2 * half, 1e-12);
  assert_near (dart_leg (all, s.dart, 0), 150, 1e-9);
  assert_near (dart_mouth (all, s.dart), 2 * 150 * sin (half), 1e-9);
  g_autoptr (Pattern) some
      = drafting_turn_dart (p, s.dart, left, 0.3, &pivot, &error);
  assert_good (some, s.piece, error);
  /* Law of cosines: the point stays 25 mm from the pivot, on the middle line. */
  double far = 20 / sin (half);
  double leg = sqrt (far * far + 25 * 25 - 50 * far * cos (0.7 * half));
  assert_near (dart_leg (some, s.dart, 0), leg, 1e-9);
  assert_near (dart_leg (some, s.dart, 1), leg, 1e-9);
  GeoPoint aside = { 180, 205 };
  assert_refused (drafting_turn_dart (p, s.dart, left, 1, &aside, &error),
                  &error, DRAFTING_ERROR_SHAPE, "middle line");
}

/* All versions of a piece whose dart was turned nest on each other once the dart is closed at one and the same
 * place: the rule of dart manipulation as taught in "Dress making (CITS)", National Instructional Media
 * Institute, p. 180, and "Practical dress design", p. 31. Nodes of two versions, turned by whatever way
 * round to one place, keep all their distances from each other. */
static void
test_nest (void)
{
  SAMPLE;
  DraftingPlace base = { s.piece, s.edges[0], 100 };
  g_autoptr (Pattern) direct
      = drafting_turn_dart (p, s.dart, base, 1, NULL, &error);
  assert_good (direct, s.piece, error);
  const PatternPiece *one = piece_of (direct, s.piece);
  static const guint ways[] = { 1, 4, 5, 6 };
  for (int round = 0; round < 40; round++)
    {
      guint edge = s.edges[ways[round % 4]];
      DraftingPlace by = { s.piece, edge,
                           g_test_rand_double_range (0.1, 0.9)
                               * edge_length (p, s.piece, edge) };
      g_autoptr (Pattern) there
          = drafting_turn_dart (p, s.dart, by, 1, NULL, &error);
      assert_good (there, s.piece, error);
      g_autoptr (Pattern) round_about
          = drafting_turn_dart (there, s.dart, base, 1, NULL, &error);
      assert_good (round_about, s.piece, error);
      const PatternPiece *two = piece_of (round_about, s.piece);
      for (guint i = 0; i < one->n_nodes; i++)
        for (guint k = 0; k < i; k++)
          {
            int a = pattern_piece_find_node (two, one->nodes[i].id);
            int b = pattern_piece_find_node (two, one->nodes[k].id);
            /* Numbers from there on are of nodes that either way made. */
            if (a < 0 || b < 0 || one->nodes[i].id >= p->next_id
                || one->nodes[k].id >= p->next_id)
              continue;
            assert_near (geo_distance (one->nodes[i].at, one->nodes[k].at),
                         geo_distance (two->nodes[a].at, two->nodes[b].at),
                         1e-8);
          }
    }
  UNTOUCHED;
}

/* The bust dart of a published worked block for bust 88 cm ("Pattern making: adult close fitting bodice block",
 * angelfire.com/empire/radhika): 7 cm wide from 6.7 cm, bust point 9.85 cm from the centre and 25.5 cm down. Taken
 * literally its legs are 25.69 and 25.79 cm, and the angle 15.63 degrees; turned, the legs are equal. */
static void
test_published_block (void)
{
  SAMPLE;
  PatternPiece *piece = pattern_piece_dup (piece_of (p, s.piece));
  static const double at[7][2]
      = { { 0, 400 }, { 0, 0 },   { 67, 0 },   { 98.5, 255 },
          { 137, 0 }, { 245, 0 }, { 245, 400 } };
  for (guint i = 0; i < 7; i++)
    piece->nodes[i].at = piece->nodes[i].in = piece->nodes[i].out
        = geo_point (at[i][0], at[i][1]);
  pattern_put_piece (p, piece);
  assert_near (dart_leg (p, s.dart, 0), 256.94, 0.005);
  assert_near (dart_leg (p, s.dart, 1), 257.89, 0.005);
  assert_near (drafting_dart_angle (p, s.dart) * DEGREES, 15.63, 0.005);
  DraftingPlace side = { s.piece, s.edges[5], 255 };
  g_autoptr (Pattern) now
      = drafting_turn_dart (p, s.dart, side, 1, NULL, &error);
  assert_good (now, s.piece, error);
  assert_near (drafting_dart_angle (now, s.dart) * DEGREES, 15.63, 0.005);
  assert_near (dart_leg (now, s.dart, 0), 146.5, 1e-9);
  assert_near (dart_leg (now, s.dart, 1), 146.5, 1e-9);
  /* 2 sin (15.63 / 2) times the distance. */
  assert_near (dart_mouth (now, s.dart), 39.84, 0.02);
  (void)untouched;
}

/* Closed dart, opened hem: no dart is left; the hem gains the wedge, rounded
 * about the point, 400 mm away: an arc of 400 times the angle. */
static void
test_flare (void)
{
  SAMPLE;
  DraftingPlace hem = { s.piece, s.edges[6], 260 };
  double angle = drafting_dart_angle (p, s.dart);
  g_autoptr (Pattern) now
      = drafting_dart_to_flare (p, s.dart, hem, 1, NULL, &error);
  assert_good (now, s.piece, error);
  g_assert_cmpuint (now->n_seams, ==, 0);
  g_assert_cmpuint (piece_of (now, s.piece)->n_edges, ==, 4);
  assert_near (edge_length (now, s.piece, s.edges[6]), 410 + 400 * angle,
               400 * angle * 1e-4);
  /* The piece had lost the dart's triangle; now it has the sector. */
  assert_near (area_of (now, s.piece),
               area_of (p, s.piece) + 0.5 * 400 * 400 * angle,
               0.5 * 400 * 400 * angle * 1e-3);
  g_autoptr (Pattern) half
      = drafting_dart_to_flare (p, s.dart, hem, 0.5, NULL, &error);
  assert_good (half, s.piece, error);
  assert_near (drafting_dart_angle (half, s.dart), angle / 2, 1e-12);
}

/* The edge keeps what the dart took, and its seam is to ease it in. */
static void
test_ease (void)
{
  SAMPLE;
  PatternPiece *yoke = sample_bodice (p, "yoke", 600);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (p), "yoke seam");
  pattern_seam_add_run (seam, 1, (PatternRun){ s.piece, s.edges[1], FALSE });
  pattern_seam_add_run (seam, 1, (PatternRun){ s.piece, s.edges[4], FALSE });
  pattern_seam_add_run (seam, 0,
                        (PatternRun){ yoke->id, yoke->edges[0].id, FALSE });
  guint id = seam->id;
  pattern_put_piece (p, yoke);
  pattern_put_seam (p, seam);
  g_autoptr (Pattern) now = drafting_dart_to_ease (p, s.dart, &error);
  assert_good (now, s.piece, error);
  g_assert_null (pattern_get_seam (now, s.dart));
  assert_near (edge_length (now, s.piece, s.edges[1]), 410, 1e-9);
  assert_near (pattern_get_seam (now, id)->ease, -DART_INTAKE, 1e-9);
  assert_near (area_of (now, s.piece),
               area_of (p, s.piece)
                   + DART_INTAKE / 2 * DART_LEG
                         * cos (drafting_dart_angle (p, s.dart) / 2),
               1e-6);
}

static void
test_make (void)
{
  SAMPLE;
  DraftingPlace hem = { s.piece, s.edges[6], 200 };
  guint made = 0;
  g_autoptr (Pattern) now
      = drafting_make_dart (p, hem, 30, 120, NULL, &made, &error);
  assert_good (now, s.piece, error);
  assert_near (dart_mouth (now, made), 30, 1e-9);
  assert_near (dart_leg (now, made, 0), hypot (15, 120), 1e-9);
  assert_near (area_of (now, s.piece), area_of (p, s.piece) - 15 * 120, 1e-6);
  /* Towards a place aside: the legs are equal all the same. */
  GeoPoint point = { 260, 440 };
  g_autoptr (Pattern) leaning
      = drafting_make_dart (p, hem, 30, 0, &point, &made, &error);
  assert_good (leaning, s.piece, error);
  assert_near (dart_leg (leaning, made, 0), dart_leg (leaning, made, 1), 1e-9);
  /* Wider than the edge: 410 at 200 leaves 400. */
  assert_refused (drafting_make_dart (p, hem, 420, 120, NULL, NULL, &error),
                  &error, DRAFTING_ERROR_AMOUNT, "wider than");
  g_assert_null (drafting_make_dart (p, hem, 420, 120, NULL, NULL, &error));
  g_assert_nonnull (
      strstr (error->message, "The most that works here is 39.9"));
  g_clear_error (&error);
  assert_refused (drafting_make_dart (p, hem, 0, 120, NULL, NULL, &error),
                  &error, DRAFTING_ERROR_AMOUNT, "0.1 mm");
  GeoPoint out = { 800, 440 };
  assert_refused (drafting_make_dart (p, hem, 30, 0, &out, NULL, &error),
                  &error, DRAFTING_ERROR_SHAPE, "leaves the front");
  UNTOUCHED;
}

static void
test_shape (void)
{
  SAMPLE;
  g_autoptr (Pattern) back = drafting_move_dart_point (p, s.dart, 51, &error);
  assert_good (back, s.piece, error);
  double depth = DART_LEG * cos (drafting_dart_angle (p, s.dart) / 2);
  assert_near (dart_leg (back, s.dart, 0), hypot (20, depth - 51), 1e-9);
  assert_near (dart_leg (back, s.dart, 1), hypot (20, depth - 51), 1e-9);
  assert_near (dart_mouth (back, s.dart), DART_INTAKE, 1e-12);
  assert_refused (drafting_move_dart_point (p, s.dart, 200, &error), &error,
                  DRAFTING_ERROR_AMOUNT, "can't go back that far");
  /* Bowed by h = 5 mm: a cubic with its handles k = 4/3 h off the thirds of its chord is, above
   * the chord, a polynomial with Bernstein ordinates 0, k, k, 0, whose mean is k / 2. */
  for (int sign = -1; sign <= 1; sign++)
    {
      g_autoptr (Pattern) bowed
          = drafting_curve_dart (p, s.dart, 5 * sign, &error);
      assert_good (bowed, s.piece, error);
      assert_near (dart_leg (bowed, s.dart, 0), dart_leg (bowed, s.dart, 1),
                   1e-9);
      assert_near (area_of (bowed, s.piece) - area_of (p, s.piece),
                   -2 * sign * DART_LEG * (20.0 / 3) / 2, 1e-6);
      /* And drawn back it is still mirrored. */
      g_autoptr (Pattern) short_one
          = drafting_move_dart_point (bowed, s.dart, 30, &error);
      assert_good (short_one, s.piece, error);
      assert_near (dart_leg (short_one, s.dart, 0),
                   dart_leg (short_one, s.dart, 1), 1e-9);
    }
  g_assert_null (drafting_curve_dart (p, s.dart, -60, &error));
  g_assert_nonnull (strstr (error->message, "The most that works"));
  g_clear_error (&error);
  g_autoptr (Pattern) wide = drafting_set_dart_intake (p, s.dart, 60, &error);
  assert_good (wide, s.piece, error);
  assert_near (dart_mouth (wide, s.dart), 60, 1e-9);
  assert_near (dart_leg (wide, s.dart, 0), DART_LEG, 1e-9);
  UNTOUCHED;
}

static void
test_refused (void)
{
  SAMPLE;
  DraftingPlace leg = { s.piece, s.edges[2], 50 };
  assert_refused (drafting_turn_dart (p, s.dart, leg, 1, NULL, &error), &error,
                  DRAFTING_ERROR_SHAPE, "own leg");
  DraftingPlace beyond = { s.piece, s.edges[6], 500 };
  assert_refused (drafting_turn_dart (p, s.dart, beyond, 1, NULL, &error),
                  &error, DRAFTING_ERROR_AMOUNT, "beyond the end");
  DraftingPlace mouth = { s.piece, s.edges[4], 0 };
  assert_refused (drafting_turn_dart (p, s.dart, mouth, 1, NULL, &error),
                  &error, DRAFTING_ERROR_SHAPE, "already");
  DraftingPlace hem = { s.piece, s.edges[6], 100 };
  assert_refused (drafting_turn_dart (p, 4711, hem, 1, NULL, &error), &error,
                  DRAFTING_ERROR_GONE, "no longer");
  assert_refused (drafting_turn_dart (p, s.dart, hem, 0, NULL, &error), &error,
                  DRAFTING_ERROR_AMOUNT, "more than nothing");
  assert_refused (drafting_turn_dart (p, s.dart, hem, NAN, NULL, &error),
                  &error, DRAFTING_ERROR_AMOUNT, "no number");
  g_autoptr (Pattern) sides = sample_pattern ();
  DraftingPlace place
      = { sides->pieces[0]->id, sides->pieces[0]->edges[2].id, 50 };
  assert_refused (
      drafting_turn_dart (sides, sides->seams[0]->id, place, 1, NULL, &error),
      &error, DRAFTING_ERROR_SHAPE, "no dart");
  UNTOUCHED;
}

/* Random places, shares and pivots: never a bad pattern; area kept; angles add up. */
static void
test_any (void)
{
  for (int round = 0; round < 200; round++)
    {
      DartSample s = dart_sample ();
      g_autoptr (Pattern) p = s.p;
      g_autoptr (GError) error = NULL;
      static const guint to[] = { 0, 1, 4, 5, 6 };
      guint edge = s.edges[to[g_test_rand_int_range (0, 5)]];
      DraftingPlace place = { s.piece, edge,
                              g_test_rand_double_range (0, 1)
                                  * edge_length (p, s.piece, edge) };
      double share = g_test_rand_int_range (0, 2)
                         ? 1
                         : g_test_rand_double_range (0.01, 1);
      GeoPoint pivot
          = geo_point (150, 180 + g_test_rand_double_range (-60, 90));
      g_autoptr (Pattern) now = drafting_turn_dart (
          p, s.dart, place, share, round % 3 ? NULL : &pivot, &error);
      if (!now)
        {
          g_assert_error (error, DRAFTING_ERROR, (int)error->code);
          continue;
        }
      assert_good (now, s.piece, error);
      if (round % 3 == 0)
        continue;
      double sum = 0;
      for (guint i = 0; i < now->n_seams; i++)
        sum += dart_angle_at (now, now->seams[i]->id, s.point);
      assert_near (sum, drafting_dart_angle (p, s.dart), 1e-9);
      /* What is left at the hinge is the new dart's mouth wide there. */
      double hinge
          = share < 1 ? 25.4 / 32 * dart_mouth (now, now->seams[1]->id) : 0;
      assert_near (area_of (now, s.piece), area_of (p, s.piece) + hinge, 1e-5);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/darts/turn", test_turn);
  g_test_add_func ("/darts/there-and-back", test_there_and_back);
  g_test_add_func ("/darts/marks-go-along", test_marks_go_along);
  g_test_add_func ("/darts/drill-in-opening", test_drill_in_opening);
  g_test_add_func ("/darts/share", test_share);
  g_test_add_func ("/darts/split", test_split);
  g_test_add_func ("/darts/pivot", test_pivot);
  g_test_add_func ("/darts/nest", test_nest);
  g_test_add_func ("/darts/published-block", test_published_block);
  g_test_add_func ("/darts/flare", test_flare);
  g_test_add_func ("/darts/ease", test_ease);
  g_test_add_func ("/darts/make", test_make);
  g_test_add_func ("/darts/shape", test_shape);
  g_test_add_func ("/darts/refused", test_refused);
  g_test_add_func ("/darts/any", test_any);
  return g_test_run ();
}
