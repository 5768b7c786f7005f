/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What comes after tracing: names and guesses, straight lines, squared folds, and the tape. */
#include <gsl/gsl_sf_ellint.h>
#include <string.h>

#include "sample.h"
#include "drafting/edge-names.h"
#include "drafting/put-right.h"
#include "drafting/tape.h"
#include "drafting/verb.h"
#include "pattern/figure.h"

static guint
add (Pattern *p, const char *name, const PatternNode *nodes, guint n,
     const gboolean *starts)
{
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), name);
  pattern_piece_set_outline (piece, nodes, n, starts, &p->next_id);
  guint id = piece->id;
  pattern_put_piece (p, piece);
  return id;
}

static guint
add_corners (Pattern *p, const char *name, const double (*at)[2], guint n)
{
  PatternNode nodes[24];
  gboolean starts[24];
  for (guint i = 0; i < n; i++)
    {
      nodes[i] = sample_node (at[i][0], at[i][1]);
      starts[i] = TRUE;
    }
  return add (p, name, nodes, n, starts);
}

static const PatternPiece *
piece_of (const Pattern *p, guint id)
{
  const PatternPiece *piece = pattern_get_piece (p, id);
  g_assert_nonnull (piece);
  return piece;
}

static void
curve (PatternNode *nodes, guint i, guint k, double ax, double ay, double bx,
       double by)
{
  nodes[i].out = geo_point (ax, ay);
  nodes[k].in = geo_point (bx, by);
}

/* --- names ----------------------------------------------------------------------- */

static void
test_name (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  GError *error = NULL;
  guint piece = p->pieces[0]->id;
  const PatternPiece *own = p->pieces[0];
  g_autoptr (Pattern) fold = drafting_name_edge (p, piece, own->edges[3].id,
                                                 "centre front fold", &error);
  g_assert_no_error (error);
  const PatternEdge *edge = &piece_of (fold, piece)->edges[3];
  g_assert_cmpstr (edge->name, ==, "centre front fold");
  g_assert_cmpint (edge->kind, ==, PATTERN_EDGE_FOLD);
  g_autoptr (Pattern) side
      = drafting_name_edge (fold, piece, own->edges[3].id, "Side Seam", &error);
  g_assert_cmpint (piece_of (side, piece)->edges[3].kind, ==,
                   PATTERN_EDGE_SEAM);
  g_autoptr (Pattern) bound = drafting_set_edge_kind (
      p, piece, own->edges[0].id, PATTERN_EDGE_BOUND, &error);
  g_autoptr (Pattern) neck = drafting_name_edge (bound, piece, own->edges[0].id,
                                                 "front neck", &error);
  g_assert_cmpint (piece_of (neck, piece)->edges[0].kind, ==,
                   PATTERN_EDGE_BOUND);
  g_autoptr (Pattern) odd = drafting_name_edge (fold, piece, own->edges[3].id,
                                                "where the moth was", &error);
  g_assert_cmpint (piece_of (odd, piece)->edges[3].kind, ==, PATTERN_EDGE_FOLD);
  g_assert_null (drafting_name_edge (p, piece, 999, "hem", &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
}

static void
assert_guess (const Pattern *p, guint id, const char *const *wanted)
{
  const PatternPiece *piece = piece_of (p, id);
  guint n, room = 5;
  const DraftingEdgeName *names = drafting_edge_names (&n);
  g_autofree int *out = g_new (int, piece->n_edges *room);
  drafting_guess_edge_names (piece, room, out);
  for (guint i = 0; i < piece->n_edges; i++)
    {
      int first = out[i * room];
      if (wanted == NULL)
        {
          g_assert_cmpint (first, ==, -1);
          continue;
        }
      g_assert_cmpint (first, >=, 0);
      g_assert_cmpstr (names[first].name, ==, wanted[i]);
      for (guint k = 1; k < room; k++)
        for (guint j = 0; j < k; j++)
          g_assert_true (out[i * room + k] < 0
                         || out[i * room + k] != out[i * room + j]);
    }
}

/* A front with a waist dart and a bust dart in the side, its centre to the left. */
static guint
add_front (Pattern *p, const char *name)
{
  PatternNode nodes[12];
  static const double at[][2]
      = { { 0, 90 },    { 75, 0 },    { 195, 40 },  { 230, 205 },
          { 236, 240 }, { 110, 250 }, { 239, 268 }, { 225, 410 },
          { 140, 415 }, { 125, 280 }, { 112, 416 }, { 0, 420 } };
  gboolean starts[12];
  for (guint i = 0; i < 12; i++)
    {
      nodes[i] = sample_node (at[i][0], at[i][1]);
      starts[i] = TRUE;
    }
  curve (nodes, 0, 1, 40, 90, 70, 50);
  curve (nodes, 2, 3, 175, 110, 180, 190);
  return add (p, name, nodes, 12, starts);
}

static void
test_guess_bodice (void)
{
  static const char *const front[]
      = { "front neck", "shoulder", "armhole",   "side seam",
          "dart leg",   "dart leg", "side seam", "waist",
          "dart leg",   "dart leg", "waist",     "centre front" };
  g_autoptr (Pattern) p = pattern_new ("guess");
  guint id = add_front (p, "from the photo");
  assert_guess (p, id, front);
  /* Lying on its side, mirrored, upside down; and with a grainline that says which way is up. */
  GError *error = NULL;
  for (int quarter = 1; quarter < 4; quarter++)
    {
      g_autoptr (Pattern) turned
          = drafting_turn_piece (p, id, quarter * G_PI / 2, &error);
      assert_guess (turned, id, front);
    }
  g_autoptr (Pattern) mirrored = drafting_mirror_piece (p, id, &error);
  static const char *const back_to_front[]
      = { "centre front", "waist",     "dart leg", "dart leg",
          "waist",        "side seam", "dart leg", "dart leg",
          "side seam",    "armhole",   "shoulder", "front neck" };
  const PatternPiece *piece = piece_of (mirrored, id);
  guint first = 0;
  while (fabs (geo_distance (piece->nodes[piece->edges[first].first].at,
                             piece
                                 ->nodes[pattern_piece_edge_last (piece, first)
                                         % piece->n_nodes]
                                 .at)
               - 330)
         > 1e-6)
    first++;
  const char *wanted[12];
  for (guint i = 0; i < 12; i++)
    wanted[(first + i) % 12] = back_to_front[i];
  assert_guess (mirrored, id, wanted);
  g_autoptr (Pattern) leaning
      = drafting_turn_piece (p, id, 40 * G_PI / 180, &error);
  g_autoptr (Pattern) told
      = drafting_set_grain (leaning, id, geo_point (120, 100),
                            geo_point (120 - 100 * sin (40 * G_PI / 180),
                                       100 + 100 * cos (40 * G_PI / 180)),
                            FALSE, &error);
  assert_guess (told, id, front);
}

static void
test_guess_others (void)
{
  g_autoptr (Pattern) p = pattern_new ("guess");
  PatternNode back[6];
  static const double at[][2] = { { 0, 25 },    { 75, 0 },    { 190, 45 },
                                  { 225, 210 }, { 215, 400 }, { 0, 405 } };
  gboolean all[8] = { TRUE, TRUE, TRUE, TRUE, TRUE, TRUE, TRUE, TRUE };
  for (guint i = 0; i < 6; i++)
    back[i] = sample_node (at[i][0], at[i][1]);
  curve (back, 0, 1, 40, 25, 68, 15);
  curve (back, 2, 3, 175, 100, 185, 195);
  static const char *const back_names[]
      = { "back neck", "shoulder", "armhole",
          "side seam", "waist",    "centre back" };
  assert_guess (p, add (p, "Piece 2", back, 6, all), back_names);

  PatternNode skirt[4] = { sample_node (0, 12), sample_node (180, 0),
                           sample_node (240, 600), sample_node (0, 620) };
  curve (skirt, 0, 1, 70, 12, 130, 8);
  curve (skirt, 1, 2, 205, 100, 220, 200);
  curve (skirt, 2, 3, 160, 612, 80, 620);
  static const char *const skirt_names[]
      = { "waist", "side seam", "hem", "centre front" };
  assert_guess (p, add (p, "skirt", skirt, 4, all), skirt_names);

  PatternNode sleeve[5]
      = { sample_node (0, 150), sample_node (165, 0), sample_node (330, 150),
          sample_node (290, 580), sample_node (40, 580) };
  curve (sleeve, 0, 1, 60, 140, 80, 0);
  curve (sleeve, 1, 2, 250, 0, 270, 140);
  static const char *const sleeve_names[]
      = { "sleeve cap", "sleeve cap", "underarm", "hem", "underarm" };
  assert_guess (p, add (p, "Sleeve", sleeve, 5, all), sleeve_names);

  /* A star is none of them. */
  double star[10][2];
  for (int i = 0; i < 10; i++)
    {
      double r = i % 2 ? 40 : 120;
      star[i][0] = r * cos (i * G_PI / 5);
      star[i][1] = r * sin (i * G_PI / 5);
    }
  assert_guess (p, add_corners (p, "star", (const double (*)[2])star, 10),
                NULL);
}

/* --- straight ------------------------------------------------------------------------ */

static void
test_straighten (void)
{
  /* The top runs 3, 4 and 5 mm off the line between its ends. */
  g_autoptr (Pattern) p = pattern_new ("line");
  PatternNode nodes[]
      = { sample_node (0, 0),   sample_node (50, 3),  sample_node (100, -4),
          sample_node (150, 5), sample_node (200, 0), sample_node (200, 100),
          sample_node (0, 100) };
  gboolean starts[] = { TRUE, FALSE, FALSE, FALSE, TRUE, TRUE, TRUE };
  guint piece = add (p, "line", nodes, 7, starts);
  guint edge = piece_of (p, piece)->edges[0].id;
  GError *error = NULL;
  double whole = edge_length (p, piece, edge);
  guint notch = 0;
  g_autoptr (Pattern) marked = drafting_add_notch (
      p, piece, edge, 1, PATTERN_FROM_START, whole / 2, &notch, &error);
  double off = 0;
  g_autoptr (Pattern) done = drafting_straighten_edge (
      marked, piece, edge, DRAFTING_STRAIGHT_ENDS, 5.001, &off, &error);
  g_assert_no_error (error);
  assert_sound (done);
  const PatternPiece *own = piece_of (done, piece);
  g_assert_cmpuint (own->n_nodes, ==, 4);
  assert_near (off, 5, 1e-9);
  assert_near (edge_length (done, piece, edge), 200, 1e-12);
  assert_near (pattern_piece_area (own), 20000, 1e-9);
  assert_near (pattern_notch_place (pattern_piece_get_notch (own, notch), 200),
               100, 1e-9);
  g_assert_null (drafting_straighten_edge (
      p, piece, edge, DRAFTING_STRAIGHT_ENDS, 4.9, &off, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  g_clear_error (&error);
}

/* Half an ellipse flat as a thumb: by symmetry its mean line is level, at the height of its centre of mass, and a slanted
 * straight edge of three nodes is its own mean. */
static void
test_straighten_mean (void)
{
  g_autoptr (Pattern) p = pattern_new ("line");
  PatternNode nodes[]
      = { sample_node (0, 0), sample_node (100, 1), sample_node (200, 0),
          sample_node (200, 100), sample_node (0, 100) };
  gboolean starts[] = { TRUE, FALSE, TRUE, TRUE, TRUE };
  guint piece = add (p, "roof", nodes, 5, starts);
  guint edge = piece_of (p, piece)->edges[0].id;
  GError *error = NULL;
  g_autoptr (Pattern) done = drafting_straighten_edge (
      p, piece, edge, DRAFTING_STRAIGHT_MEAN, 3, NULL, &error);
  g_assert_no_error (error);
  const PatternPiece *own = piece_of (done, piece);
  guint first = own->edges[0].first;
  /* A roof's mean height is half its ridge's. */
  assert_near (own->nodes[first].at.y, 0.5, 1e-6);
  assert_near (own->nodes[(first + 1) % own->n_nodes].at.y, 0.5, 1e-6);
  assert_near (own->nodes[first].at.x, 0, 1e-6);

  PatternNode slant[] = { sample_node (0, 0), sample_node (60, 80),
                          sample_node (120, 160), sample_node (0, 160) };
  gboolean three[] = { TRUE, FALSE, TRUE, TRUE };
  guint other = add (p, "slant", slant, 4, three);
  double off = 1;
  g_autoptr (Pattern) same
      = drafting_straighten_edge (p, other, piece_of (p, other)->edges[0].id,
                                  DRAFTING_STRAIGHT_MEAN, 1e-6, &off, &error);
  g_assert_no_error (error);
  assert_near (off, 0, 1e-9);
  assert_near (edge_length (same, other, piece_of (p, other)->edges[0].id), 200,
               1e-9);
}

/* --- square, upright ------------------------------------------------------------------- */

static double
angle_at_fold (const PatternPiece *piece, guint fold, gboolean at_start)
{
  GeoChain line = GEO_CHAIN_EMPTY, beside = GEO_CHAIN_EMPTY;
  guint n = piece->n_edges;
  pattern_piece_edge_chain (piece, fold, &line);
  pattern_piece_edge_chain (
      piece, at_start ? (fold + n - 1) % n : (fold + 1) % n, &beside);
  GeoPoint along = geo_chain_tangent (
      &line, at_start ? (GeoPlace){ 0, 0 } : (GeoPlace){ line.count - 1, 1 });
  GeoPoint way
      = geo_chain_tangent (&beside, at_start ? (GeoPlace){ beside.count - 1, 1 }
                                             : (GeoPlace){ 0, 0 });
  geo_chain_clear (&line);
  geo_chain_clear (&beside);
  return fabs (geo_angle_between (along, way)) * 180 / G_PI;
}

static void
test_square (void)
{
  g_autoptr (Pattern) p = pattern_new ("fold");
  PatternNode nodes[]
      = { sample_node (0, 90), sample_node (75, 0), sample_node (150, 30),
          sample_node (150, 400), sample_node (0, 410) };
  curve (nodes, 0, 1, 40, 80, 70, 50);
  gboolean starts[] = { TRUE, TRUE, TRUE, TRUE, TRUE };
  guint piece = add (p, "front", nodes, 5, starts);
  guint fold = piece_of (p, piece)->edges[4].id;
  GError *error = NULL;
  g_assert_null (drafting_square_fold (p, piece, fold, 20, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  g_autoptr (Pattern) named
      = drafting_name_edge (p, piece, fold, "centre front fold", &error);
  g_assert_cmpfloat (
      fabs (angle_at_fold (piece_of (named, piece), 4, FALSE) - 90), >, 5);
  g_autoptr (Pattern) done
      = drafting_square_fold (named, piece, fold, 20, &error);
  g_assert_no_error (error);
  assert_sound (done);
  const PatternPiece *own = piece_of (done, piece);
  guint at = (guint)pattern_piece_find_edge (own, fold);
  assert_near (angle_at_fold (own, at, TRUE), 90, 1e-6);
  assert_near (angle_at_fold (own, at, FALSE), 90, 1e-6);
  /* Only near the fold. */
  assert_near (edge_length (done, piece, fold), 320, 1e-9);
  assert_near (edge_length (done, piece, own->edges[2].id), 370, 1e-9);
}

static void
test_upright (void)
{
  GError *error = NULL;
  for (int degrees = -170; degrees < 180; degrees += 23)
    {
      g_autoptr (Pattern) p = sample_pattern ();
      guint piece = p->pieces[0]->id;
      double angle = degrees * G_PI / 180;
      g_autoptr (Pattern) turned
          = drafting_turn_piece (p, piece, angle, &error);
      g_autoptr (Pattern) done
          = drafting_stand_upright (turned, piece, 0, &error);
      g_assert_no_error (error);
      const PatternPiece *own = piece_of (done, piece);
      GeoPoint grain = geo_sub (own->grain_to, own->grain_from);
      assert_near (grain.x, 0, 1e-9);
      /* The shorter way: never upside down unless it was. */
      g_assert_true ((grain.y > 0) == (abs (degrees) < 90));
      g_autoptr (Pattern) by_edge
          = drafting_stand_upright (turned, piece, own->edges[2].id, &error);
      const PatternPiece *hem = piece_of (by_edge, piece);
      guint first = hem->edges[2].first;
      assert_near (hem->nodes[first].at.x,
                   hem->nodes[(first + 1) % hem->n_nodes].at.x, 1e-9);
    }
}

/* --- the tape ---------------------------------------------------------------------------- */

static Pattern *
note (Pattern *p, guint piece, guint edge, double mm)
{
  GError *error = NULL;
  PatternRun run = { piece, piece_of (p, piece)->edges[edge].id, FALSE };
  Pattern *result = drafting_set_tape (p, &run, 1, 0, NULL, mm, NULL, &error);
  g_assert_no_error (error);
  pattern_unref (p);
  return result;
}

static Pattern *
rectangle (double width, double height, guint *piece)
{
  Pattern *p = pattern_new ("tape");
  const double at[][2]
      = { { 0, 0 }, { width, 0 }, { width, height }, { 0, height } };
  *piece = add_corners (p, "Card", at, 4);
  return p;
}

static void
test_tape_rows (void)
{
  guint piece;
  g_autoptr (Pattern) p = rectangle (200, 300, &piece);
  const PatternPiece *own = piece_of (p, piece);
  GError *error = NULL;
  PatternRun runs[] = { { piece, own->edges[0].id, FALSE },
                        { piece, own->edges[1].id, FALSE } };
  guint nodes[2] = { own->nodes[0].id, own->nodes[2].id };
  guint figure = 0;
  g_autoptr (Pattern) one
      = drafting_set_tape (p, runs, 2, 0, NULL, 505, &figure, &error);
  g_autoptr (Pattern) two
      = drafting_set_tape (one, NULL, 0, piece, nodes, 360, NULL, &error);
  g_assert_no_error (error);
  assert_sound (two);
  g_autoptr (GArray) rows = drafting_tapes (two, piece);
  g_assert_cmpuint (rows->len, ==, 2);
  const DraftingTape *row = &g_array_index (rows, DraftingTape, 0);
  g_assert_cmpuint (row->figure, ==, figure);
  g_assert_cmpstr (row->name, ==, "Card edge 1 by tape");
  assert_near (row->length, 500, 1e-9);
  assert_near (row->tape, 505, 0);
  row = &g_array_index (rows, DraftingTape, 1);
  g_assert_cmpstr (row->name, ==, "Card distance by tape");
  assert_near (row->length, hypot (200, 300), 1e-9);
  double mm = 0;
  g_assert_true (pattern_amount_evaluate (two, "card edge 1 by tape / 5",
                                          PATTERN_MM, &mm, &error));
  assert_near (mm, 101, 1e-9);
  /* Measured again: replaced. An edge gone: left out, and nothing else. */
  g_autoptr (Pattern) again
      = drafting_set_tape (two, runs, 2, 0, NULL, 501, &figure, &error);
  g_assert_cmpuint (again->n_figures, ==, 2);
  g_autoptr (Pattern) joined
      = drafting_join_edge (again, piece, own->edges[1].id, &error);
  g_autoptr (GArray) left = drafting_tapes (joined, 0);
  g_assert_cmpuint (left->len, ==, 1);
  /* Refused: nothing, two pieces, one node twice. */
  guint same[2] = { nodes[0], nodes[0] };
  g_assert_null (drafting_set_tape (p, runs, 2, 0, NULL, 0, NULL, &error));
  g_clear_error (&error);
  g_assert_null (drafting_set_tape (p, NULL, 0, piece, same, 10, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
}

/* One factor: f = sum l t / sum l^2, by hand: (200 * 202 + 300 * 306) / (200^2 + 300^2) = 132200 / 130000. */
static void
test_scale_even (void)
{
  guint piece;
  Pattern *p = rectangle (200, 300, &piece);
  p = note (p, piece, 0, 202);
  p = note (p, piece, 1, 306);
  GError *error = NULL;
  DraftingTapeFit fit;
  g_assert_true (drafting_tape_fit (p, piece, FALSE, &fit, &error));
  double f = 132200.0 / 130000;
  assert_near (fit.across, f, 1e-14);
  assert_near (fit.along, f, 1e-14);
  assert_near (fit.worst[0], 6, 1e-9);
  assert_near (fit.worst[1], 200 * f - 202, 1e-9);
  g_assert_cmpuint (fit.worst_row, ==, 0);
  assert_near (fit.rms[1], hypot (200 * f - 202, 300 * f - 306) / sqrt (2),
               1e-9);
  drafting_tape_fit_clear (&fit);
  g_autoptr (Pattern) done = drafting_tape_scale (p, piece, FALSE, &error);
  g_assert_no_error (error);
  assert_sound (done);
  assert_near (pattern_piece_area (piece_of (done, piece)), 60000 * f * f,
               1e-6);
  GeoBox box = geo_box_empty ();
  for (guint i = 0; i < 4; i++)
    box = geo_box_add (box, piece_of (done, piece)->nodes[i].at);
  assert_near (geo_box_centre (box).x, 100, 1e-9);
  pattern_unref (p);
}

static void
test_scale_two (void)
{
  guint piece;
  Pattern *p = rectangle (200, 300, &piece);
  p = note (p, piece, 0, 202);
  GError *error = NULL;
  DraftingTapeFit fit;
  /* One line, and lines that run one way, tell one factor only. */
  g_assert_false (drafting_tape_fit (p, piece, TRUE, &fit, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  drafting_tape_fit_clear (&fit);
  p = note (p, piece, 2, 203);
  g_assert_false (drafting_tape_fit (p, piece, TRUE, &fit, &error));
  g_clear_error (&error);
  drafting_tape_fit_clear (&fit);
  p = note (p, piece, 1, 306);
  g_assert_true (drafting_tape_fit (p, piece, TRUE, &fit, &error));
  /* Two measures of one line are met in their middle. */
  assert_near (fit.across, 202.5 / 200, 1e-12);
  assert_near (fit.along, 306.0 / 300, 1e-12);
  drafting_tape_fit_clear (&fit);
  /* The grainline is what is along: lying level, it takes the width. */
  g_autoptr (Pattern) grain = drafting_set_grain (
      p, piece, geo_point (20, 50), geo_point (150, 50), FALSE, &error);
  g_assert_true (drafting_tape_fit (grain, piece, TRUE, &fit, &error));
  assert_near (fit.along, 202.5 / 200, 1e-12);
  drafting_tape_fit_clear (&fit);
  pattern_unref (p);
}

/* A quarter circle under two factors is a quarter ellipse, whose length is b E (1 - a^2/b^2) in closed form (NIST
 * DLMF 19.30.5; E by GSL). Told the ellipse's length and the width, the fit finds both axes. */
static void
test_scale_ellipse (void)
{
  double r = 100, k = 0.5522847498307936 * r, a = 1.02, b = 0.97;
  Pattern *p = pattern_new ("round");
  PatternNode nodes[]
      = { sample_node (0, 0), sample_node (r, 0), sample_node (0, r) };
  curve (nodes, 1, 2, r, k, k, r);
  gboolean starts[] = { TRUE, TRUE, TRUE };
  guint piece = add (p, "round", nodes, 3, starts);
  double arc
      = a * r
        * gsl_sf_ellint_Ecomp (sqrt (1 - b * b / (a * a)), GSL_PREC_DOUBLE);
  p = note (p, piece, 0, a * r);
  p = note (p, piece, 1, arc);
  GError *error = NULL;
  DraftingTapeFit fit;
  g_assert_true (drafting_tape_fit (p, piece, TRUE, &fit, &error));
  /* A cubic is a circle's quarter to 2.7e-4 of its radius. */
  assert_near (fit.across, a, 1e-12);
  assert_near (fit.along, b, 5e-4);
  assert_near (fit.worst[1], 0, 1e-9);
  drafting_tape_fit_clear (&fit);
  g_autoptr (Pattern) done = drafting_tape_scale (p, piece, TRUE, &error);
  g_assert_no_error (error);
  assert_near (edge_length (done, piece, piece_of (done, piece)->edges[1].id),
               arc, 1e-8);
  pattern_unref (p);
}

static void
test_scale_limits (void)
{
  guint piece;
  Pattern *p = rectangle (200, 300, &piece);
  GError *error = NULL;
  g_assert_null (drafting_tape_scale (p, piece, FALSE, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  p = note (p, piece, 0, 209.9);
  g_autoptr (Pattern) good = drafting_tape_scale (p, piece, FALSE, &error);
  g_assert_no_error (error);
  p = note (p, piece, 0, 210.1);
  g_assert_null (drafting_tape_scale (p, piece, FALSE, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  g_assert_nonnull (strstr (error->message, "true size"));
  g_clear_error (&error);
  pattern_unref (p);
}

/* Whatever is scaled: lengths by the factor, areas by its square, and notches at the shares they had. */
static void
test_scale_any (void)
{
  GError *error = NULL;
  for (int turn = 0; turn < 20; turn++)
    {
      Pattern *p = sample_pattern ();
      guint piece = p->pieces[0]->id;
      double f = g_test_rand_double_range (0.955, 1.045);
      for (guint i = 0; i < 4; i++)
        p = note (p, piece, i,
                  f * edge_length (p, piece, piece_of (p, piece)->edges[i].id));
      g_autoptr (Pattern) done
          = drafting_tape_scale (p, piece, turn % 2, &error);
      g_assert_no_error (error);
      assert_sound (done);
      const PatternPiece *was = piece_of (p, piece);
      const PatternPiece *is = piece_of (done, piece);
      assert_near (pattern_piece_area (is), f * f * pattern_piece_area (was),
                   1e-5);
      for (guint i = 0; i < was->n_notches; i++)
        {
          double old = edge_length (p, piece, was->notches[i].edge);
          double now = edge_length (done, piece, was->notches[i].edge);
          assert_near (now, f * old, 1e-8);
          assert_near (pattern_notch_place (&is->notches[i], now) / now,
                       pattern_notch_place (&was->notches[i], old) / old, 1e-9);
        }
      pattern_unref (p);
    }
}

/* --- one length --------------------------------------------------------------------------- */

static void
test_fit_spread (void)
{
  guint piece;
  g_autoptr (Pattern) p = rectangle (200, 300, &piece);
  const PatternPiece *own = piece_of (p, piece);
  GError *error = NULL;
  double moved = 0;
  PatternRun run = { piece, own->edges[0].id, FALSE };
  g_autoptr (Pattern) done = drafting_fit_length (
      p, &run, 1, 203, DRAFTING_FIT_LEAST, &moved, &error);
  g_assert_no_error (error);
  assert_sound (done);
  /* A straight edge's ends go by half of what is wanting each. */
  assert_near (moved, 1.5, 1e-12);
  assert_near (edge_length (done, piece, run.edge), 203, 1e-9);
  assert_near (piece_of (done, piece)->nodes[0].at.x, -1.5, 1e-12);
  assert_near (piece_of (done, piece)->nodes[1].at.x, 201.5, 1e-12);
  g_assert_null (
      drafting_fit_length (p, &run, 1, 203, DRAFTING_FIT_BEND, &moved, &error));
  g_clear_error (&error);

  PatternRun two[] = { { piece, own->edges[2].id, FALSE },
                       { piece, own->edges[1].id, FALSE } };
  g_autoptr (Pattern) both
      = drafting_fit_length (p, two, 2, 510, DRAFTING_FIT_LEAST, NULL, &error);
  g_assert_no_error (error);
  assert_near (edge_length (both, piece, two[0].edge), 204, 1e-9);
  assert_near (edge_length (both, piece, two[1].edge), 306, 1e-9);
  PatternRun apart[] = { { piece, own->edges[0].id, FALSE },
                         { piece, own->edges[2].id, FALSE } };
  g_assert_null (
      drafting_fit_length (p, apart, 2, 410, DRAFTING_FIT_LEAST, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);

  guint nodes[2] = { own->nodes[0].id, own->nodes[1].id };
  g_autoptr (Pattern) distance
      = drafting_fit_distance (p, piece, nodes, 190, &error);
  g_assert_no_error (error);
  assert_near (piece_of (distance, piece)->nodes[0].at.x, 5, 1e-9);
  assert_near (piece_of (distance, piece)->nodes[1].at.x, 195, 1e-9);
}

static void
test_fit_bend (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  guint piece = p->pieces[0]->id;
  const PatternPiece *own = p->pieces[0];
  PatternRun neck = { piece, own->edges[0].id, FALSE };
  double length = edge_length (p, piece, neck.edge), moved = 0;
  GError *error = NULL;
  g_autoptr (Pattern) bent = drafting_fit_length (
      p, &neck, 1, length + 2, DRAFTING_FIT_LEAST, &moved, &error);
  g_assert_no_error (error);
  assert_near (edge_length (bent, piece, neck.edge), length + 2, 1e-6);
  const PatternPiece *is = piece_of (bent, piece);
  g_assert_true (geo_same (is->nodes[is->edges[0].first].at,
                           own->nodes[own->edges[0].first].at));
  g_assert_cmpfloat (moved, >, 0);
  g_assert_cmpfloat (moved, <, 0.04 * length);
  /* As much as would bend it out of shape: spread, smooth still. */
  g_autoptr (Pattern) spread = drafting_fit_length (
      p, &neck, 1, length * 1.15, DRAFTING_FIT_LEAST, &moved, &error);
  g_assert_no_error (error);
  assert_near (edge_length (spread, piece, neck.edge), length * 1.15, 1e-6);
  is = piece_of (spread, piece);
  GeoPoint way[2] = { geo_sub (is->nodes[1].at, is->nodes[1].in),
                      geo_sub (is->nodes[1].out, is->nodes[1].at) };
  assert_near (geo_angle_between (way[0], way[1]), 0, 1e-9);
}

/* --- by words ------------------------------------------------------------------------------- */

static void
test_words (void)
{
  guint piece;
  Pattern *p = rectangle (200, 300, &piece);
  static const char *const steps[][5] = {
    { "name-edge", "edge=Card/1", "name=waist" },
    { "set-tape", "edges=Card/waist", "length=203 mm" },
    { "fit-tape", "edges=Card/waist", "length=202 mm", "way=spread" },
    { "tape-scale", "piece=Card" },
    { "stand-upright", "piece=Card", "edge=Card/waist" },
    { "straighten-edge", "edge=Card/waist", "line=mean" },
    { "name-edge", "edge=Card/2", "name=centre back fold" },
    { "square-fold", "fold=Card/centre back fold", "reach=10 mm" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      GError *error = NULL;
      guint n = 0;
      char *words[5];
      while (n < 5 && steps[i][n])
        {
          words[n] = (char *)steps[i][n];
          n++;
        }
      g_autofree char *by_number = NULL;
      for (guint k = 1; k < n; k++)
        {
          /* Edges without a name go by number. */
          const char *slash = strstr (words[k], "Card/");
          if (!slash || !g_ascii_isdigit (slash[5]))
            continue;
          guint index = (guint)(slash[5] - '1');
          by_number = g_strdup_printf ("edge=%u/%u", piece,
                                       piece_of (p, piece)->edges[index].id);
          words[k] = by_number;
        }
      g_autoptr (PatternStep) step
          = drafting_step_parse (p, (int)n, words, &error);
      g_assert_no_error (error);
      Pattern *next = drafting_step_run (p, step, &error);
      g_assert_no_error (error);
      g_autofree char *told = drafting_step_describe (p, step);
      g_assert_cmpuint (strlen (told), >, 4);
      pattern_unref (p);
      p = next;
    }
  assert_near (edge_length (p, piece, piece_of (p, piece)->edges[0].id), 203,
               0.2);
  pattern_unref (p);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/traced/name", test_name);
  g_test_add_func ("/traced/guess-bodice", test_guess_bodice);
  g_test_add_func ("/traced/guess-others", test_guess_others);
  g_test_add_func ("/traced/straighten", test_straighten);
  g_test_add_func ("/traced/straighten-mean", test_straighten_mean);
  g_test_add_func ("/traced/square", test_square);
  g_test_add_func ("/traced/upright", test_upright);
  g_test_add_func ("/traced/tape-rows", test_tape_rows);
  g_test_add_func ("/traced/scale-even", test_scale_even);
  g_test_add_func ("/traced/scale-two", test_scale_two);
  g_test_add_func ("/traced/scale-ellipse", test_scale_ellipse);
  g_test_add_func ("/traced/scale-limits", test_scale_limits);
  g_test_add_func ("/traced/scale-any", test_scale_any);
  g_test_add_func ("/traced/fit-spread", test_fit_spread);
  g_test_add_func ("/traced/fit-bend", test_fit_bend);
  g_test_add_func ("/traced/words", test_words);
  return g_test_run ();
}
