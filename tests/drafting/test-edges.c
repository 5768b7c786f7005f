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

static void
chain_of (const Pattern *pattern, guint piece, guint edge, GeoChain *chain)
{
  const PatternPiece *own = pattern_get_piece (pattern, piece);
  geo_chain_init (chain);
  pattern_piece_edge_chain (own, (guint)pattern_piece_find_edge (own, edge),
                            chain);
}

/* A whole edge moves with both its ends: its length stays exactly. */
static void
test_move (void)
{
  BEGIN;
  for (guint e = 0; e < 4; e++)
    {
      guint edge = front->edges[e].id;
      g_autoptr (Pattern) moved
          = DO (drafting_move_edge, piece, edge, geo_point (6, 11));
      assert_near (edge_length (moved, piece, edge),
                   edge_length (p, piece, edge), 1e-9);
      const PatternPiece *now = pattern_get_piece (moved, piece);
      guint first = front->edges[e].first;
      guint last = pattern_piece_edge_last (front, e) % 5;
      g_assert_true (
          geo_same (now->nodes[first].at,
                    geo_add (front->nodes[first].at, geo_point (6, 11))));
      g_assert_true (
          geo_same (now->nodes[last].at,
                    geo_add (front->nodes[last].at, geo_point (6, 11))));
    }
  END;
}

/* The length asked for to 1e-6 mm, the far end and its tangent where they were. */
static void
assert_length_set (const Pattern *p, guint piece, guint edge, double length,
                   gboolean at_start)
{
  GError *error = NULL;
  g_autoptr (Pattern) set
      = drafting_set_edge_length (p, piece, edge, length, at_start, &error);
  assert_done (set, p, piece, error);
  assert_near (edge_length (set, piece, edge), length, 1e-6);
  GeoChain old, new;
  chain_of (p, piece, edge, &old);
  chain_of (set, piece, edge, &new);
  g_assert_cmpuint (old.count, ==, new.count);
  GeoPlace start = { 0, 0 }, end = { old.count - 1, 1 };
  GeoPlace far = at_start ? end : start, near = at_start ? start : end;
  g_assert_true (
      geo_same (geo_chain_point (&old, far), geo_chain_point (&new, far)));
  GeoPoint far_way = geo_chain_tangent (&old, far);
  GeoPoint near_way = geo_chain_tangent (&old, near);
  assert_near (geo_angle_between (far_way, geo_chain_tangent (&new, far)), 0,
               1e-9);
  assert_near (geo_angle_between (near_way, geo_chain_tangent (&new, near)), 0,
               1e-9);
  /* The end that moves stays on its tangent. */
  GeoPoint moved
      = geo_sub (geo_chain_point (&new, near), geo_chain_point (&old, near));
  assert_near (geo_cross (moved, near_way), 0, 1e-7);
  geo_chain_clear (&old);
  geo_chain_clear (&new);
}

static void
test_set_length (void)
{
  BEGIN;
  for (guint e = 0; e < 4; e++)
    {
      guint edge = front->edges[e].id;
      double old = edge_length (p, piece, edge);
      static const double shares[] = { 1, 1.0001, 0.99, 1.05, 0.95, 1.5 };
      for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
        for (int at_start = 0; at_start < 2; at_start++)
          assert_length_set (p, piece, edge, old * shares[i], at_start);
    }
  END;
}

/* An arch whose end can only swing away along its tangent is drawn together: the
 * length and both tangents are as asked, the far end stays. */
static void
test_set_length_short (void)
{
  BEGIN;
  guint neck = front->edges[0].id;
  for (int at_start = 0; at_start < 2; at_start++)
    {
      g_autoptr (Pattern) set
          = DO (drafting_set_edge_length, piece, neck, 120, (gboolean)at_start);
      assert_near (edge_length (set, piece, neck), 120, 1e-6);
      GeoChain old, new;
      chain_of (p, piece, neck, &old);
      chain_of (set, piece, neck, &new);
      GeoPlace start = { 0, 0 }, end = { old.count - 1, 1 };
      GeoPlace far = at_start ? end : start;
      g_assert_true (
          geo_same (geo_chain_point (&old, far), geo_chain_point (&new, far)));
      assert_near (geo_angle_between (geo_chain_tangent (&old, start),
                                      geo_chain_tangent (&new, start)),
                   0, 1e-9);
      assert_near (geo_angle_between (geo_chain_tangent (&old, end),
                                      geo_chain_tangent (&new, end)),
                   0, 1e-9);
      geo_chain_clear (&old);
      geo_chain_clear (&new);
    }
  END;
}

/* A straight edge lengthens by moving its end by the difference. */
static void
test_set_length_straight (void)
{
  BEGIN;
  guint hem = front->edges[2].id;
  g_autoptr (Pattern) longer
      = DO (drafting_set_edge_length, piece, hem, 235, FALSE);
  const PatternPiece *now = pattern_get_piece (longer, piece);
  assert_near (now->nodes[4].at.x, -35, 1e-8);
  assert_near (now->nodes[4].at.y, 300, 1e-8);
  assert_near (now->nodes[3].at.x, 200, 0);
  END;
}

/* Notches keep their distance from the end they are measured from. */
static void
test_notches_keep (void)
{
  BEGIN;
  guint side = front->edges[1].id;
  double length = edge_length (p, piece, side);
  g_autoptr (Pattern) longer
      = DO (drafting_set_edge_length, piece, side, length + 40, FALSE);
  const PatternPiece *now = pattern_get_piece (longer, piece);
  double after = edge_length (longer, piece, side);
  assert_near (pattern_notch_place (&now->notches[0], after), 70, 1e-9);
  assert_near (after - pattern_notch_place (&now->notches[1], after), 50, 1e-9);
  END;
}

static void
test_length_refusals (void)
{
  BEGIN;
  guint neck = front->edges[0].id;
  static const double bad[] = { 0, -5, 0.01, NAN, INFINITY, 2e5 };
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_assert_null (
          drafting_set_edge_length (p, piece, neck, bad[i], FALSE, &error));
      g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
      g_clear_error (&error);
    }
  END;
}

static void
test_settings (void)
{
  BEGIN;
  guint edge = front->edges[1].id;
  g_autoptr (Pattern) name
      = DO (drafting_set_edge_name, piece, edge, "panel seam");
  g_autoptr (Pattern) kind
      = DO (drafting_set_edge_kind, piece, edge, PATTERN_EDGE_BOUND);
  g_autoptr (Pattern) width = DO (drafting_set_allowance, piece, edge, 15.875);
  GeoCorner corner = { GEO_CORNER_MATCHED, GEO_CORNER_BY_LEAVING };
  g_autoptr (Pattern) ends = DO (drafting_set_corner, piece, edge, corner);
  g_assert_cmpstr (pattern_get_piece (name, piece)->edges[1].name, ==,
                   "panel seam");
  g_assert_cmpint (pattern_get_piece (kind, piece)->edges[1].kind, ==,
                   PATTERN_EDGE_BOUND);
  g_assert_cmpfloat (pattern_get_piece (width, piece)->edges[1].allowance, ==,
                     15.875);
  g_assert_cmpint (pattern_get_piece (ends, piece)->edges[1].corner.kind, ==,
                   GEO_CORNER_MATCHED);
  static const double bad[] = { -1, NAN, INFINITY, 2e5 };
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_assert_null (drafting_set_allowance (p, piece, edge, bad[i], &error));
      g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
      g_clear_error (&error);
    }
  END;
}

/* An edge cut in two inside a seam: both parts are walked, in order, and the
 * seam is as long as it was. Joined again, all is as before. */
static void
test_split_and_join (void)
{
  BEGIN;
  guint side = front->edges[1].id, node = 0, added = 0;
  double whole = edge_length (p, piece, side);
  g_autoptr (Pattern) more = DO (drafting_add_node, piece, side, 100, &node);
  g_autoptr (Pattern) cut
      = drafting_split_edge (more, piece, node, &added, &error);
  assert_done (cut, more, piece, error);
  const PatternSide *runs = &cut->seams[0]->sides[0];
  g_assert_cmpuint (runs->n_runs, ==, 2);
  g_assert_cmpuint (runs->runs[0].edge, ==, side);
  g_assert_cmpuint (runs->runs[1].edge, ==, added);
  assert_near (edge_length (cut, piece, side) + edge_length (cut, piece, added),
               whole, 1e-7);
  const PatternPiece *now = pattern_get_piece (cut, piece);
  g_assert_cmpstr (now->edges[2].name, ==, "side");
  g_assert_cmpuint (now->notches[0].edge, ==, side);  /* 70 from the start */
  g_assert_cmpuint (now->notches[1].edge, ==, added); /* 50 from the end */
  g_autoptr (Pattern) joined = drafting_join_edge (cut, piece, added, &error);
  assert_done (joined, cut, piece, error);
  g_assert_cmpuint (joined->seams[0]->sides[0].n_runs, ==, 1);
  g_assert_cmpuint (joined->seams[0]->sides[0].runs[0].edge, ==, side);
  assert_near (edge_length (joined, piece, side), whole, 1e-7);
  /* Splitting at a node that starts an edge joins, too. */
  guint heir = 0;
  g_autoptr (Pattern) again
      = drafting_split_edge (cut, piece, node, &heir, &error);
  assert_done (again, cut, piece, error);
  g_assert_cmpuint (heir, ==, side);
  END;
}

static void
test_reversed_split (void)
{
  BEGIN;
  guint side = front->edges[1].id, node = 0, added = 0;
  g_autoptr (Pattern) turned
      = drafting_turn_seam (p, p->seams[0]->id, 0, &error);
  g_autoptr (Pattern) more
      = drafting_add_node (turned, piece, side, 100, &node, &error);
  g_autoptr (Pattern) cut
      = drafting_split_edge (more, piece, node, &added, &error);
  assert_done (cut, more, piece, error);
  const PatternSide *runs = &cut->seams[0]->sides[0];
  g_assert_cmpuint (runs->runs[0].edge, ==, added);
  g_assert_true (runs->runs[0].reversed);
  g_assert_cmpuint (runs->runs[1].edge, ==, side);
  END;
}

static void
test_only_edge (void)
{
  g_autoptr (Pattern) p = pattern_new ("p");
  GeoChain circle;
  geo_chain_init (&circle);
  for (int i = 0; i < 4; i++)
    geo_chain_append (&circle,
                      geo_cubic_arc (geo_point (0, 0), 100, i * G_PI / 2,
                                     (i + 1) * G_PI / 2));
  guint piece = 0;
  GError *error = NULL;
  g_autoptr (Pattern) one
      = drafting_add_piece (p, "disc", &circle, 0.5, 10, &piece, &error);
  geo_chain_clear (&circle);
  g_assert_no_error (error);
  assert_sound (one);
  const PatternPiece *disc = pattern_get_piece (one, piece);
  g_assert_cmpuint (disc->n_edges, ==, 1);
  g_assert_cmpuint (disc->n_nodes, ==, 4);
  guint edge = disc->edges[0].id;
  g_assert_null (drafting_join_edge (one, piece, edge, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  g_assert_null (
      drafting_set_edge_length (one, piece, edge, 500, FALSE, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/edges/move", test_move);
  g_test_add_func ("/edges/set-length", test_set_length);
  g_test_add_func ("/edges/set-length-short", test_set_length_short);
  g_test_add_func ("/edges/set-length-straight", test_set_length_straight);
  g_test_add_func ("/edges/notches-keep", test_notches_keep);
  g_test_add_func ("/edges/length-refusals", test_length_refusals);
  g_test_add_func ("/edges/settings", test_settings);
  g_test_add_func ("/edges/split-and-join", test_split_and_join);
  g_test_add_func ("/edges/reversed-split", test_reversed_split);
  g_test_add_func ("/edges/only-edge", test_only_edge);
  return g_test_run ();
}
