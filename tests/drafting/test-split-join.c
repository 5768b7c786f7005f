/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces split, joined, unfolded, folded, extended. Areas are held against GEOS: the pieces as
 * polygons of many points, unlike anything here. */
#include <geos_c.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "dart-sample.h"

#define SAMPLE                                                                 \
  g_autoptr (Pattern) p = sample_pattern ();                                   \
  g_autoptr (Pattern) untouched = deep_copy (p);                               \
  g_autoptr (GError) error = NULL;                                             \
  const PatternPiece *front = p->pieces[0];                                    \
  guint piece = front->id
#define UNTOUCHED g_assert_true (pattern_equal (p, untouched))

/* --- polygons ------------------------------------------------------------------------------- */
static void
quiet (const char *format, ...)
{
  (void)format;
}

static GEOSGeometry *
polygon_of (const PatternPiece *piece, GeoPoint by)
{
  enum
  {
    STEPS = 400
  };
  guint n = piece->n_nodes * STEPS;
  GEOSCoordSequence *points = GEOSCoordSeq_create (n + 1, 2);
  for (guint i = 0; i <= n; i++)
    {
      GeoCubic side = pattern_piece_cubic (piece, i % n / STEPS);
      GeoPoint at = geo_cubic_point (&side, (i % STEPS) / (double)STEPS);
      GEOSCoordSeq_setX (points, i, at.x + by.x);
      GEOSCoordSeq_setY (points, i, at.y + by.y);
    }
  return GEOSGeom_createPolygon (GEOSGeom_createLinearRing (points), NULL, 0);
}

static double
area_shared (const PatternPiece *a, const PatternPiece *b, GeoPoint b_by)
{
  GEOSGeometry *one = polygon_of (a, geo_point (0, 0));
  GEOSGeometry *two = polygon_of (b, b_by);
  g_assert_cmpint (GEOSisValid (one), ==, 1);
  g_assert_cmpint (GEOSisValid (two), ==, 1);
  GEOSGeometry *both = GEOSIntersection (one, two);
  double area = 0;
  GEOSArea (both, &area);
  GEOSGeom_destroy (both);
  GEOSGeom_destroy (one);
  GEOSGeom_destroy (two);
  return area;
}

/* --- splitting ------------------------------------------------------------------------------- */
static void
curved_line (GeoChain *line)
{
  GeoCubic c = { { { -20, 120 }, { 60, 190 }, { 130, 90 }, { 230, 170 } } };
  geo_chain_append (line, c);
}

static void
test_split (void)
{
  SAMPLE;
  GeoChain line = GEO_CHAIN_EMPTY;
  curved_line (&line);
  guint other = 0, seam = 0;
  g_autoptr (Pattern) two = drafting_split_piece (p, piece, &line, 40, "yoke",
                                                  &other, &seam, &error);
  assert_good (two, piece, error);
  assert_good (two, other, error);
  const PatternPiece *a = piece_of (two, piece), *b = piece_of (two, other);
  g_assert_cmpuint (two->n_pieces, ==, 3);
  assert_near (pattern_piece_area (a) + pattern_piece_area (b),
               pattern_piece_area (front), 1e-6);
  /* The grainline's middle is below the line: the upper part is new, and was moved 40 up. */
  g_assert_cmpstr (b->name, ==, "yoke");
  GeoPoint back = { 0, 0 };
  for (guint i = 0; i < b->n_nodes; i++)
    for (guint k = 0; k < front->n_nodes; k++)
      if (b->nodes[i].id == front->nodes[k].id)
        back = geo_sub (front->nodes[k].at, b->nodes[i].at);
  assert_near (geo_norm (back), 40, 1e-9);
  assert_near (area_shared (front, a, geo_point (0, 0)), pattern_piece_area (a),
               0.5);
  assert_near (area_shared (front, b, back), pattern_piece_area (b), 0.5);
  assert_near (area_shared (a, b, back), 0, 0.5);
  /* A seam between, of one length; all notches are there, on the paper where they were. */
  const PatternSeam *between = pattern_get_seam (two, seam);
  g_assert_nonnull (between);
  double lengths[2];
  for (int k = 0; k < 2; k++)
    lengths[k] = edge_length (two, between->sides[k].runs[0].piece,
                              between->sides[k].runs[0].edge);
  assert_near (lengths[0], lengths[1], 1e-9);
  g_assert_cmpuint (a->n_notches + b->n_notches, ==, front->n_notches);
  g_assert_cmpuint (a->n_drills + b->n_drills, ==, 1);
  g_assert_true (a->has_grain && b->has_grain);
  /* The side seam now has a run on each of the two. */
  const PatternSeam *side = pattern_get_seam (two, p->seams[0]->id);
  g_assert_cmpuint (side->sides[0].n_runs, ==, 2);
  double sum = 0;
  for (guint r = 0; r < 2; r++)
    sum += edge_length (two, side->sides[0].runs[r].piece,
                        side->sides[0].runs[r].edge);
  assert_near (sum, edge_length (p, piece, front->edges[1].id), 1e-9);
  geo_chain_clear (&line);
  UNTOUCHED;
}

/* A line that ends inside goes on straight; one that misses is refused. */
static void
test_split_lines (void)
{
  SAMPLE;
  GeoChain line = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&line, geo_point (60, 180), geo_point (120, 180));
  g_autoptr (Pattern) two
      = drafting_split_piece (p, piece, &line, 30, NULL, NULL, NULL, &error);
  assert_good (two, piece, error);
  g_assert_nonnull (strstr (two->pieces[2]->name, "front"));
  geo_chain_reset (&line);
  geo_chain_append_line (&line, geo_point (0, 500), geo_point (200, 500));
  assert_refused (
      drafting_split_piece (p, piece, &line, 30, NULL, NULL, NULL, &error),
      &error, DRAFTING_ERROR_SHAPE, "misses the front");
  geo_chain_reset (&line);
  assert_refused (
      drafting_split_piece (p, piece, &line, 30, NULL, NULL, NULL, &error),
      &error, DRAFTING_ERROR_SHAPE, "misses the front");
  geo_chain_clear (&line);
  UNTOUCHED;
}

/* Joined again it is what it was: area, edges, notches, seams. */
static void
test_join (void)
{
  SAMPLE;
  GeoChain line = GEO_CHAIN_EMPTY;
  curved_line (&line);
  guint other = 0, seam = 0;
  g_autoptr (Pattern) two
      = drafting_split_piece (p, piece, &line, 40, NULL, &other, &seam, &error);
  geo_chain_clear (&line);
  assert_good (two, piece, error);
  /* Turned and moved first, as on a table. */
  GeoMotion away = geo_motion_about (geo_point (30, 40), 1.1);
  g_autoptr (Pattern) apart
      = drafting_move_pieces (two, &other, 1, away, &error);
  g_autoptr (Pattern) one = drafting_join_pieces (apart, seam, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (one->n_pieces, ==, 2);
  const PatternSeam *side = pattern_get_seam (one, p->seams[0]->id);
  guint kept = side->sides[0].runs[0].piece;
  assert_good (one, kept, error);
  const PatternPiece *own = piece_of (one, kept);
  assert_near (pattern_piece_area (own), pattern_piece_area (front), 1e-6);
  g_assert_cmpuint (own->n_edges, ==, 4);
  g_assert_cmpuint (own->n_notches, ==, 3);
  g_assert_cmpuint (one->n_seams, ==, 1);
  g_assert_cmpuint (side->sides[0].n_runs, ==, 1);
  assert_near (edge_length (one, kept, side->sides[0].runs[0].edge),
               edge_length (p, piece, front->edges[1].id), 1e-9);
  g_assert_cmpuint (kept, ==, piece);
  assert_near (area_shared (front, own, geo_point (0, 0)),
               pattern_piece_area (front), 0.5);
  UNTOUCHED;
}

/* A mirrored partner is turned over to lie beside; edges of different shape can't be one flat piece. */
static void
test_join_refused (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  g_autoptr (GError) error = NULL;
  assert_refused (drafting_join_pieces (p, p->seams[0]->id, &error), &error,
                  DRAFTING_ERROR_SHAPE, "shapes the cloth");
  assert_refused (drafting_join_pieces (p, 4711, &error), &error,
                  DRAFTING_ERROR_GONE, "no longer");
  g_autoptr (Pattern) q = pattern_new ("halves");
  PatternNode nodes[] = { sample_node (0, 0), sample_node (90, 0),
                          sample_node (60, 200), sample_node (0, 200) };
  gboolean starts[] = { TRUE, TRUE, TRUE, TRUE };
  const PatternPiece *both[2];
  for (int i = 0; i < 2; i++)
    {
      PatternPiece *half = pattern_piece_new (pattern_take_id (q), "half");
      pattern_piece_set_outline (half, nodes, 4, starts, &q->next_id);
      pattern_piece_move (half, geo_motion_move (200 * i, 0));
      both[i] = half;
      pattern_put_piece (q, half);
    }
  PatternSeam *seam = pattern_seam_new (pattern_take_id (q), "centre");
  for (int i = 0; i < 2; i++)
    pattern_seam_add_run (
        seam, i, (PatternRun){ both[i]->id, both[i]->edges[3].id, FALSE });
  guint first = both[0]->id, id = seam->id;
  double area = pattern_piece_area (both[0]);
  pattern_put_seam (q, seam);
  g_autoptr (Pattern) whole = drafting_join_pieces (q, id, &error);
  assert_good (whole, first, error);
  assert_near (area_of (whole, first), 2 * area, 1e-6);
  g_assert_cmpuint (whole->n_pieces, ==, 1);
}

static void
test_dart_to_seam (void)
{
  DartSample s = dart_sample ();
  g_autoptr (Pattern) p = s.p;
  g_autoptr (GError) error = NULL;
  DraftingPlace hem = { s.piece, s.edges[6], 260 };
  guint other = 0;
  g_autoptr (Pattern) two
      = drafting_dart_to_seam (p, s.dart, hem, 50, &other, &error);
  assert_good (two, s.piece, error);
  assert_good (two, other, error);
  assert_near (area_of (two, s.piece) + area_of (two, other),
               area_of (p, s.piece), 1e-6);
  g_assert_null (pattern_get_seam (two, s.dart));
  g_assert_cmpuint (two->n_seams, ==, 1);
  const PatternSeam *seam = two->seams[0];
  g_assert_cmpstr (seam->name, ==, "bust dart");
  g_assert_true (seam->join == PATTERN_JOIN_SEAM);
  for (int side = 0; side < 2; side++)
    {
      g_assert_cmpuint (seam->sides[side].n_runs, ==, 2);
      double length = 0;
      for (guint r = 0; r < 2; r++)
        length += edge_length (two, seam->sides[side].runs[r].piece,
                               seam->sides[side].runs[r].edge);
      assert_near (length, DART_LEG + 400, 1e-9);
    }
}

/* --- folding ---------------------------------------------------------------------------------- */
static void
test_unfold_and_fold (void)
{
  SAMPLE;
  g_autoptr (Pattern) half = drafting_set_edge_kind (
      p, piece, front->edges[3].id, PATTERN_EDGE_FOLD, &error);
  g_autoptr (Pattern) whole = drafting_unfold (half, piece, &error);
  assert_good (whole, piece, error);
  const PatternPiece *own = piece_of (whole, piece);
  assert_near (pattern_piece_area (own), 2 * pattern_piece_area (front), 1e-6);
  g_assert_cmpuint (own->n_edges, ==, 6);
  g_assert_cmpuint (own->n_notches, ==, 6);
  g_assert_cmpuint (own->n_drills, ==, 2);
  g_assert_false (pattern_piece_on_fold (own));
  g_autoptr (Pattern) again = drafting_fold (whole, piece, &error);
  assert_good (again, piece, error);
  const PatternPiece *folded = piece_of (again, piece);
  assert_near (pattern_piece_area (folded), pattern_piece_area (front), 1e-6);
  g_assert_cmpuint (folded->n_edges, ==, 4);
  g_assert_cmpuint (folded->n_notches, ==, 3);
  g_assert_true (pattern_piece_on_fold (folded));
  for (guint i = 0; i < folded->n_nodes; i++)
    {
      int k = pattern_piece_find_node (front, folded->nodes[i].id);
      if (k >= 0)
        assert_near (geo_distance (folded->nodes[i].at, front->nodes[k].at), 0,
                     1e-9);
    }
  /* Its seam is there still. */
  g_assert_cmpuint (pattern_get_seam (again, p->seams[0]->id)->sides[0].n_runs,
                    ==, 1);
  assert_refused (drafting_unfold (p, piece, &error), &error,
                  DRAFTING_ERROR_SHAPE, "no edge on the fold");
  assert_refused (drafting_fold (p, piece, &error), &error,
                  DRAFTING_ERROR_SHAPE, "mirror image");
  g_autoptr (Pattern) curved = drafting_set_edge_kind (
      p, piece, front->edges[1].id, PATTERN_EDGE_FOLD, &error);
  assert_refused (drafting_unfold (curved, piece, &error), &error,
                  DRAFTING_ERROR_SHAPE, "not straight");
  UNTOUCHED;
}

static void
test_extend (void)
{
  SAMPLE;
  guint centre = front->edges[3].id;
  g_autoptr (Pattern) stand = drafting_extend_edge (
      p, piece, centre, 18, DRAFTING_EXTEND_RUN_ON, &error);
  assert_good (stand, piece, error);
  const PatternPiece *own = piece_of (stand, piece);
  g_assert_cmpuint (own->n_lines, ==, front->n_lines + 1);
  g_assert_cmpstr (own->lines[own->n_lines - 1].name, ==, "centre");
  g_assert_cmpfloat (pattern_piece_area (own), >,
                     pattern_piece_area (front) + 18 * 290);
  g_autoptr (Pattern) facing = drafting_extend_edge (
      p, piece, centre, 60, DRAFTING_EXTEND_FACING, &error);
  assert_good (facing, piece, error);
  own = piece_of (facing, piece);
  /* What was added is the mirror image of the strip beside the edge: so much as GEOS finds of the piece
   * within 60 mm of it. */
  GEOSGeometry *polygon = polygon_of (front, geo_point (0, 0));
  GEOSGeometry *strip = GEOSClipByRect (polygon, -1, -100, 60, 400);
  double area = 0;
  GEOSArea (strip, &area);
  GEOSGeom_destroy (strip);
  GEOSGeom_destroy (polygon);
  assert_near (pattern_piece_area (own), pattern_piece_area (front) + area, 1);
  assert_refused (drafting_extend_edge (p, piece, front->edges[1].id, 60,
                                        DRAFTING_EXTEND_FACING, &error),
                  &error, DRAFTING_ERROR_SHAPE, "not straight");
  assert_refused (drafting_extend_edge (p, piece, centre, 0,
                                        DRAFTING_EXTEND_RUN_ON, &error),
                  &error, DRAFTING_ERROR_AMOUNT, "1 mm wide");
  UNTOUCHED;
}

/* Random straight lines: sound halves whose areas sum up, and that join again. */
static void
test_any (void)
{
  SAMPLE;
  guint done = 0;
  for (int round = 0; round < 150; round++)
    {
      GeoChain line = GEO_CHAIN_EMPTY;
      geo_chain_append_line (&line,
                             geo_point (g_test_rand_double_range (-50, 250),
                                        g_test_rand_double_range (-50, 350)),
                             geo_point (g_test_rand_double_range (-50, 250),
                                        g_test_rand_double_range (-50, 350)));
      guint other = 0, seam = 0;
      g_clear_error (&error);
      g_autoptr (Pattern) two = drafting_split_piece (p, piece, &line, 25, NULL,
                                                      &other, &seam, &error);
      geo_chain_clear (&line);
      if (!two)
        continue;
      done++;
      assert_good (two, piece, error);
      assert_good (two, other, error);
      assert_near (area_of (two, piece) + area_of (two, other),
                   pattern_piece_area (front), 1e-5);
      g_autoptr (Pattern) one = drafting_join_pieces (two, seam, &error);
      g_assert_no_error (error);
      assert_sound (one);
      double area = 0;
      for (guint i = 0; i < one->n_pieces; i++)
        area += pattern_piece_area (one->pieces[i]);
      assert_near (area, 2 * pattern_piece_area (front), 1e-5);
    }
  g_assert_cmpuint (done, >, 75);
  UNTOUCHED;
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  initGEOS (quiet, quiet);
  g_test_add_func ("/split-join/split", test_split);
  g_test_add_func ("/split-join/split-lines", test_split_lines);
  g_test_add_func ("/split-join/join", test_join);
  g_test_add_func ("/split-join/join-refused", test_join_refused);
  g_test_add_func ("/split-join/dart-to-seam", test_dart_to_seam);
  g_test_add_func ("/split-join/unfold-and-fold", test_unfold_and_fold);
  g_test_add_func ("/split-join/extend", test_extend);
  g_test_add_func ("/split-join/any", test_any);
  int result = g_test_run ();
  finishGEOS ();
  return result;
}
