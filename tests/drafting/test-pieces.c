/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "sample.h"

#define BEGIN                                                                  \
  g_autoptr (Pattern) p = sample_pattern ();                                   \
  g_autoptr (Pattern) untouched = deep_copy (p);                               \
  const PatternPiece *front = p->pieces[0];                                    \
  guint piece = front->id;                                                     \
  GError *error = NULL
#define END                                                                    \
  g_assert_no_error (error);                                                   \
  g_assert_true (pattern_equal (p, untouched))

static GeoBox
bounds (const PatternPiece *piece)
{
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_outline (piece, &chain);
  GeoBox box = geo_chain_bounds (&chain);
  geo_chain_clear (&chain);
  return box;
}

/* A half disc on a rectangle, given the wrong way round and from the middle of
 * its straight side: three corners, an arc in one edge. */
static void
test_add (void)
{
  g_autoptr (Pattern) p = pattern_new ("p");
  GeoChain chain;
  geo_chain_init (&chain);
  GeoPoint a = { 0, 30 }, b = { 0, 60 }, c = { 100, 60 }, d = { 100, 0 },
           e = { 0, 0 };
  geo_chain_append_line (&chain, a, b);
  geo_chain_append_line (&chain, b, c);
  geo_chain_append_line (&chain, c, d);
  geo_chain_append (&chain,
                    geo_cubic_arc (geo_point (50, 0), 50, 0, -G_PI / 2));
  geo_chain_append (&chain,
                    geo_cubic_arc (geo_point (50, 0), 50, -G_PI / 2, -G_PI));
  chain.cubics[4].p[3] = e;
  geo_chain_append_line (&chain, e, a);
  guint piece = 0;
  GError *error = NULL;
  g_autoptr (Pattern) one
      = drafting_add_piece (p, "pocket", &chain, 0.3, 15, &piece, &error);
  geo_chain_clear (&chain);
  g_assert_no_error (error);
  assert_sound (one);
  const PatternPiece *own = pattern_get_piece (one, piece);
  g_assert_cmpstr (own->name, ==, "pocket");
  assert_near (pattern_piece_area (own), 6000 + G_PI * 1250, 3);
  /* The tangent does not turn where the arc leaves the sides. */
  g_assert_cmpuint (own->n_edges, ==, 2);
  g_assert_cmpuint (own->n_nodes, ==, 6);
  for (guint i = 0; i < own->n_edges; i++)
    assert_near (own->edges[i].allowance, 15, 0);
  guint smooth = 0;
  for (guint i = 0; i < own->n_nodes; i++)
    smooth += own->nodes[i].kind == PATTERN_NODE_SMOOTH;
  g_assert_cmpuint (smooth, ==, 1); /* the top of the arc */
}

/* An open chain is closed by a line; what encloses nothing is refused. */
static void
test_add_open (void)
{
  g_autoptr (Pattern) p = pattern_new ("p");
  GError *error = NULL;
  GeoChain chain;
  geo_chain_init (&chain);
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (100, 0));
  g_assert_null (drafting_add_piece (p, "x", &chain, 0.3, 15, NULL, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  geo_chain_append_line (&chain, geo_point (100, 0), geo_point (100, 0));
  geo_chain_append_line (&chain, geo_point (100, 0), geo_point (100, 80));
  guint piece = 0;
  g_autoptr (Pattern) one
      = drafting_add_piece (p, "x", &chain, 0.3, 15, &piece, &error);
  g_assert_no_error (error);
  assert_sound (one);
  const PatternPiece *own = pattern_get_piece (one, piece);
  g_assert_cmpuint (own->n_nodes, ==, 3);
  g_assert_cmpuint (own->n_edges, ==, 3);
  assert_near (pattern_piece_area (own), 4000, 1e-9);
  geo_chain_reset (&chain);
  g_assert_null (drafting_add_piece (p, "x", &chain, 0.3, 15, NULL, NULL));
  g_assert_null (drafting_add_line (p, "x", &chain, NULL));
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (9, 9));
  g_autoptr (Pattern) line = drafting_add_line (p, "bust", &chain, &error);
  assert_sound (line);
  g_assert_cmpuint (line->lines[0].n_nodes, ==, 2);
  geo_chain_clear (&chain);
}

static void
test_remove (void)
{
  BEGIN;
  g_autoptr (Pattern) less = DO (drafting_remove_piece, piece);
  g_assert_cmpuint (less->n_pieces, ==, 1);
  g_assert_cmpuint (less->n_seams, ==, 0);
  g_assert_null (drafting_remove_piece (less, piece, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  END;
}

static void
test_copy (void)
{
  BEGIN;
  for (int mirrored = 0; mirrored < 2; mirrored++)
    {
      guint id = 0;
      g_autoptr (Pattern) more = DO (drafting_copy_piece, piece, mirrored, &id);
      const PatternPiece *copy = pattern_get_piece (more, id);
      g_assert_true (pattern_get_piece (more, piece) == front);
      g_assert_cmpuint (copy->n_nodes, ==, front->n_nodes);
      g_assert_cmpuint (copy->n_notches, ==, front->n_notches);
      assert_near (pattern_piece_area (copy), pattern_piece_area (front), 1e-6);
      g_assert_cmpfloat (bounds (copy).x0, >, bounds (front).x1);
      g_assert_nonnull (strstr (copy->name, "front"));
      for (guint i = 0; i < copy->n_edges; i++)
        {
          int old = -1;
          for (guint k = 0; k < front->n_edges; k++)
            if (strcmp (front->edges[k].name, copy->edges[i].name) == 0)
              old = (int)k;
          assert_near (edge_length (more, id, copy->edges[i].id),
                       edge_length (p, piece, front->edges[old].id), 1e-9);
        }
    }
  END;
}

/* Turning and mirroring keep every length; mirrored seams are walked the other
 * way along the piece, so that they begin at the same place of it. */
static void
test_move_turn_mirror (void)
{
  BEGIN;
  guint both[] = { piece, p->pieces[1]->id, piece };
  GeoMotion right = { 1, 0, 40, 0, false };
  g_autoptr (Pattern) moved = drafting_move_pieces (p, both, 3, right, &error);
  g_assert_no_error (error);
  assert_sound (moved);
  assert_near (bounds (moved->pieces[0]).x0, bounds (front).x0 + 40, 1e-9);
  assert_near (bounds (moved->pieces[1]).x0, bounds (p->pieces[1]).x0 + 40,
               1e-9);
  g_autoptr (Pattern) turned = DO (drafting_turn_piece, piece, G_PI / 2);
  GeoBox old = bounds (front);
  GeoBox now = bounds (pattern_get_piece (turned, piece));
  assert_near (now.x1 - now.x0, old.y1 - old.y0, 1e-9);
  assert_near (now.x0 + now.x1, old.x0 + old.x1, 1e-9);
  g_autoptr (Pattern) over = DO (drafting_mirror_piece, piece);
  const PatternPiece *flipped = pattern_get_piece (over, piece);
  assert_near (bounds (flipped).x0, 200 - old.x1, 1e-9); /* grain at x 100 */
  for (guint i = 0; i < 4; i++)
    assert_near (edge_length (over, piece, front->edges[i].id),
                 edge_length (p, piece, front->edges[i].id), 1e-9);
  g_assert_true (over->seams[0]->sides[0].runs[0].reversed);
  g_assert_false (over->seams[0]->sides[1].runs[0].reversed);
  g_autoptr (Pattern) back = drafting_mirror_piece (over, piece, &error);
  assert_sound (back);
  g_assert_false (back->seams[0]->sides[0].runs[0].reversed);
  END;
}

/* A flat piece mirrored about its slanted grainline: the grain stays in place. */
static void
test_mirror_about_grain (void)
{
  BEGIN;
  GeoPoint from = { 20, 80 }, to = { 150, 260 };
  g_autoptr (Pattern) slant = DO (drafting_set_grain, piece, from, to, FALSE);
  g_autoptr (Pattern) over = drafting_mirror_piece (slant, piece, &error);
  assert_sound (over);
  const PatternPiece *now = pattern_get_piece (over, piece);
  g_assert_cmpfloat (geo_distance (now->grain_from, from), <, 1e-9);
  g_assert_cmpfloat (geo_distance (now->grain_to, to), <, 1e-9);
  END;
}

static void
test_settings (void)
{
  BEGIN;
  g_autoptr (Pattern) name = DO (drafting_set_piece_name, piece, "forepart");
  g_autoptr (Pattern) note = DO (drafting_set_piece_note, piece, "nap up");
  PatternCut cuts[] = { { p->cloths[0].id, 2, TRUE } };
  g_autoptr (Pattern) cut = DO (drafting_set_cuts, piece, cuts, 1);
  g_autoptr (Pattern) bare = DO (drafting_remove_grain, piece);
  g_autoptr (Pattern) grain = drafting_default_grain (bare, piece, &error);
  assert_done (grain, bare, piece, error);
  g_assert_cmpstr (pattern_get_piece (name, piece)->name, ==, "forepart");
  g_assert_cmpstr (pattern_get_piece (note, piece)->note, ==, "nap up");
  g_assert_cmpint (pattern_get_piece (cut, piece)->cuts[0].count, ==, 2);
  g_assert_false (pattern_get_piece (bare, piece)->has_grain);
  const PatternPiece *now = pattern_get_piece (grain, piece);
  g_assert_true (now->has_grain);
  assert_near (now->grain_from.x, now->grain_to.x, 0);
  GeoChain outline;
  geo_chain_init (&outline);
  pattern_piece_outline (now, &outline);
  g_assert_true (geo_chain_contains (&outline, now->grain_from)
                 && geo_chain_contains (&outline, now->grain_to));
  geo_chain_clear (&outline);
  cuts[0].cloth = 4711;
  g_assert_null (drafting_set_cuts (p, piece, cuts, 1, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  g_assert_null (drafting_set_grain (p, piece, now->grain_to, now->grain_to,
                                     TRUE, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  END;
}

static void
test_too_far (void)
{
  BEGIN;
  GeoMotion away = { 1, 0, 99950, 0, false };
  g_assert_null (drafting_move_pieces (p, &piece, 1, away, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  g_assert_nonnull (strstr (error->message, "100 m"));
  g_clear_error (&error);
  away.dx = NAN;
  g_assert_null (drafting_move_pieces (p, &piece, 1, away, NULL));
  g_assert_null (drafting_turn_piece (p, piece, INFINITY, NULL));
  END;
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/pieces/add", test_add);
  g_test_add_func ("/pieces/add-open", test_add_open);
  g_test_add_func ("/pieces/remove", test_remove);
  g_test_add_func ("/pieces/copy", test_copy);
  g_test_add_func ("/pieces/move-turn-mirror", test_move_turn_mirror);
  g_test_add_func ("/pieces/mirror-about-grain", test_mirror_about_grain);
  g_test_add_func ("/pieces/settings", test_settings);
  g_test_add_func ("/pieces/too-far", test_too_far);
  return g_test_run ();
}
