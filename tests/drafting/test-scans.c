/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two scans of one piece: laid together by marks, and made one outline. */
#include <string.h>

#include "drafting/scans.h"
#include "drafting/verb.h"
#include "sample.h"

static guint
add_box (Pattern *p, const char *name, double x0, double y0, double x1,
         double y1)
{
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), name);
  PatternNode nodes[] = { sample_node (x0, y0), sample_node (x1, y0),
                          sample_node (x1, y1), sample_node (x0, y1) };
  gboolean starts[] = { TRUE, TRUE, TRUE, TRUE };
  static const char *const names[] = { "top", "right", "hem", "left" };
  pattern_piece_set_outline (piece, nodes, 4, starts, &p->next_id);
  for (guint i = 0; i < 4; i++)
    pattern_set_string (&piece->edges[i].name, names[i]);
  guint id = piece->id;
  pattern_put_piece (p, piece);
  return id;
}

static guint
add_picture (Pattern *p, double x, double y, guint width, guint height)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static ("picture", 7);
  PatternPicture *picture
      = pattern_picture_new (pattern_take_id (p), "scan", bytes, width, height);
  picture->place = geo_motion_move (x, y);
  guint id = picture->id;
  pattern_put_picture (p, picture);
  return id;
}

static void
assert_at (GeoPoint a, GeoPoint b, double within)
{
  assert_near (geo_distance (a, b), 0, within);
}

/* --- laying ---------------------------------------------------------------------- */

/* Marks moved by a known motion: picture and pieces on it come back by its inverse. */
static void
test_lay (void)
{
  for (int turn = 0; turn < 20; turn++)
    {
      g_autoptr (Pattern) p = pattern_new ("scans");
      guint first = add_picture (p, 0, 0, 300, 400);
      guint second = add_picture (p, 500, 0, 300, 400);
      guint stays = add_box (p, "stays", 50, 50, 200, 350);
      guint goes = add_box (p, "goes", 550, 40, 700, 300);
      guint aside = add_box (p, "aside", 750, 40, 900, 300);
      GeoMotion motion = geo_motion_then (
          geo_motion_about (geo_point (600, 200),
                            g_test_rand_double_range (-3, 3)),
          geo_motion_move (-550, g_test_rand_double_range (-30, 30)));
      GeoPoint b[3] = { { 560, 60 }, { 690, 80 }, { 600, 290 } }, a[3];
      for (int i = 0; i < 3; i++)
        a[i] = geo_motion_apply (motion, b[i]);
      GError *error = NULL;
      double off[3];
      g_autoptr (Pattern) laid
          = drafting_lay_on_marks (p, a, b, 3, second, NULL, 0, 1, off, &error);
      g_assert_no_error (error);
      assert_sound (laid);
      for (int i = 0; i < 3; i++)
        assert_near (off[i], 0, 1e-9);
      const PatternPiece *was = pattern_get_piece (p, goes);
      const PatternPiece *is = pattern_get_piece (laid, goes);
      for (guint i = 0; i < 4; i++)
        assert_at (is->nodes[i].at, geo_motion_apply (motion, was->nodes[i].at),
                   1e-9);
      g_assert_true (pattern_get_piece (laid, stays)
                     == pattern_get_piece (p, stays));
      g_assert_true (pattern_get_piece (laid, aside)
                     == pattern_get_piece (p, aside));
      g_assert_true (pattern_get_picture (laid, first)
                     == pattern_get_picture (p, first));
      GeoPoint before, after;
      g_assert_true (pattern_picture_to_table (pattern_get_picture (p, second),
                                               geo_point (17, 230), &before));
      g_assert_true (pattern_picture_to_table (
          pattern_get_picture (laid, second), geo_point (17, 230), &after));
      assert_at (after, geo_motion_apply (motion, before), 1e-9);
    }
}

/* Two marks 100 apart on one and 101 on the other: the half millimetre at each end is left, in closed form. */
static void
test_residual (void)
{
  g_autoptr (Pattern) p = pattern_new ("scans");
  guint piece = add_box (p, "goes", 0, 0, 101, 50);
  GeoPoint a[] = { { 200, 0 }, { 200, 100 } }, b[] = { { 0, 0 }, { 101, 0 } };
  GError *error = NULL;
  double off[2];
  g_autoptr (Pattern) laid
      = drafting_lay_on_marks (p, a, b, 2, 0, &piece, 1, 0.6, off, &error);
  g_assert_no_error (error);
  assert_near (off[0], 0.5, 1e-12);
  assert_near (off[1], 0.5, 1e-12);
  assert_at (pattern_get_piece (laid, piece)->nodes[0].at,
             geo_point (200, -0.5), 1e-9);
  g_assert_null (
      drafting_lay_on_marks (p, a, b, 2, 0, &piece, 1, 0.4, off, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  g_clear_error (&error);
  g_assert_null (
      drafting_lay_on_marks (p, a, b, 1, 0, &piece, 1, 5, off, &error));
  g_clear_error (&error);
  GeoPoint same[] = { { 3, 3 }, { 3, 3 } };
  g_assert_null (
      drafting_lay_on_marks (p, a, same, 2, 0, &piece, 1, 500, off, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  g_assert_null (
      drafting_lay_on_marks (p, a, b, 2, 0, NULL, 0, 5, off, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
}

static void
test_locked (void)
{
  g_autoptr (Pattern) p = pattern_new ("scans");
  guint picture = add_picture (p, 0, 0, 100, 100);
  GError *error = NULL;
  g_autoptr (Pattern) locked
      = drafting_show_picture (p, picture, 0.5, FALSE, TRUE, &error);
  GeoPoint a[] = { { 10, 10 }, { 90, 10 } }, b[] = { { 20, 10 }, { 100, 10 } };
  g_assert_null (drafting_lay_on_marks (locked, a, b, 2, picture, NULL, 0, 1,
                                        NULL, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
}

/* --- uniting ------------------------------------------------------------------------ */

static void
test_unite (void)
{
  g_autoptr (Pattern) p = pattern_new ("scans");
  guint a = add_box (p, "upper", 0, 0, 200, 300);
  guint b = add_box (p, "lower", 0, 280, 200, 500);
  GError *error = NULL;
  const PatternPiece *lower = pattern_get_piece (p, b);
  guint hem = lower->edges[2].id, notch = 0, gone = 0;
  g_autoptr (Pattern) one = drafting_add_notch (
      p, b, hem, 1, PATTERN_FROM_START, 60, &notch, &error);
  g_autoptr (Pattern) marked = drafting_add_notch (
      one, b, lower->edges[0].id, 1, PATTERN_FROM_START, 60, &gone, &error);
  g_autoptr (Pattern) done = drafting_unite_pieces (marked, a, b, &error);
  g_assert_no_error (error);
  assert_sound (done);
  g_assert_cmpuint (done->n_pieces, ==, 1);
  const PatternPiece *own = pattern_get_piece (done, a);
  g_assert_cmpstr (own->name, ==, "upper");
  assert_near (pattern_piece_area (own), 200 * 500, 1e-6);
  int at = pattern_piece_find_edge (own, hem);
  g_assert_cmpint (at, >=, 0);
  g_assert_cmpstr (own->edges[at].name, ==, "hem");
  assert_near (edge_length (done, a, hem), 200, 1e-9);
  assert_near (pattern_notch_place (pattern_piece_get_notch (own, notch), 200),
               60, 1e-9);
  g_assert_null (pattern_piece_get_notch (own, gone));
}

/* Crossed like a plus: area by inclusion and exclusion; twelve corners; the two cut edges each come in two parts. */
static void
test_unite_plus (void)
{
  g_autoptr (Pattern) p = pattern_new ("scans");
  guint a = add_box (p, "across", 0, 100, 300, 200);
  guint b = add_box (p, "down", 100, 0, 200, 300);
  guint top = pattern_get_piece (p, a)->edges[0].id, notch = 0;
  GError *error = NULL;
  g_autoptr (Pattern) marked = drafting_add_notch (
      p, a, top, 1, PATTERN_FROM_START, 260, &notch, &error);
  g_autoptr (Pattern) done = drafting_unite_pieces (marked, a, b, &error);
  g_assert_no_error (error);
  assert_sound (done);
  const PatternPiece *own = pattern_get_piece (done, a);
  assert_near (pattern_piece_area (own), 30000 + 30000 - 10000, 1e-5);
  g_assert_cmpuint (own->n_nodes, ==, 12);
  g_assert_cmpuint (own->n_edges, ==, 12);
  /* The notch is where it was on the paper: on the right one of the two parts. */
  const PatternNotch *mark = pattern_piece_get_notch (own, notch);
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (
      own, (guint)pattern_piece_find_edge (own, mark->edge), &chain);
  double length = geo_chain_length (&chain, 1e-10);
  GeoPoint there = geo_chain_point (
      &chain,
      geo_chain_at_length (&chain, pattern_notch_place (mark, length), 1e-10));
  geo_chain_clear (&chain);
  assert_at (there, geo_point (260, 100), 1e-6);
}

static void
test_unite_refused (void)
{
  g_autoptr (Pattern) p = pattern_new ("scans");
  guint a = add_box (p, "one", 0, 0, 100, 100);
  guint b = add_box (p, "far", 200, 0, 300, 100);
  GError *error = NULL;
  g_assert_null (drafting_unite_pieces (p, a, b, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  g_assert_null (drafting_unite_pieces (p, a, a, &error));
  g_clear_error (&error);
}

static void
test_words (void)
{
  g_autoptr (Pattern) p = pattern_new ("scans");
  add_picture (p, 0, 0, 300, 400);
  guint second = add_picture (p, 500, 0, 300, 400);
  guint a = add_box (p, "upper", 20, 20, 220, 320);
  add_box (p, "lower", 520, 20, 720, 320);
  char *lay[] = { (char *)"lay-on-marks",
                  (char *)"marks=20,300 520,20 220,300 720,20" };
  GError *error = NULL;
  g_autoptr (PatternStep) step = drafting_step_parse (p, 2, lay, &error);
  g_assert_no_error (error);
  g_autoptr (Pattern) laid = drafting_step_run (p, step, &error);
  g_assert_no_error (error);
  g_autofree char *told = drafting_step_describe (p, step);
  g_assert_nonnull (strstr (told, "worst"));
  GeoPoint corners[4];
  pattern_picture_corners (pattern_get_picture (laid, second), corners);
  assert_at (corners[0], geo_point (0, 280), 1e-9);
  char *unite[]
      = { (char *)"unite-pieces", (char *)"piece=upper", (char *)"with=lower" };
  g_autoptr (PatternStep) next = drafting_step_parse (laid, 3, unite, &error);
  g_autoptr (Pattern) done = drafting_step_run (laid, next, &error);
  g_assert_no_error (error);
  assert_near (pattern_piece_area (pattern_get_piece (done, a)), 200 * 580,
               1e-6);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/scans/lay", test_lay);
  g_test_add_func ("/scans/residual", test_residual);
  g_test_add_func ("/scans/locked", test_locked);
  g_test_add_func ("/scans/unite", test_unite);
  g_test_add_func ("/scans/unite-plus", test_unite_plus);
  g_test_add_func ("/scans/unite-refused", test_unite_refused);
  g_test_add_func ("/scans/words", test_words);
  return g_test_run ();
}
