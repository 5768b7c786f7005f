/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "geometry/nearest.h"
#include "sample.h"

/* Every test starts from the sample and its front, and ends by looking whether
 * the sample is as it was. */
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
outline_of (const Pattern *pattern, guint piece, GeoChain *chain)
{
  geo_chain_init (chain);
  pattern_piece_outline (pattern_get_piece (pattern, piece), chain);
}

/* The farthest that points of one outline lie from the other. */
static double
stray (const Pattern *a, const Pattern *b, guint piece)
{
  GeoChain x, y;
  outline_of (a, piece, &x);
  outline_of (b, piece, &y);
  double most = 0;
  for (size_t i = 0; i < x.count; i++)
    for (int k = 0; k <= 64; k++)
      most
          = fmax (most, geo_chain_nearest (
                            &y, geo_cubic_point (&x.cubics[i], k / 64.), NULL));
  geo_chain_clear (&x);
  geo_chain_clear (&y);
  return most;
}

static void
test_move (void)
{
  BEGIN;
  guint ids[] = { front->nodes[1].id, front->nodes[2].id, front->nodes[1].id };
  g_autoptr (Pattern) moved
      = DO (drafting_move_nodes, piece, ids, 3, geo_point (5, -7));
  const PatternPiece *now = pattern_get_piece (moved, piece);
  for (guint i = 0; i < 5; i++)
    {
      gboolean by = i == 1 || i == 2;
      GeoPoint shift = by ? geo_point (5, -7) : geo_point (0, 0);
      g_assert_true (
          geo_same (now->nodes[i].at, geo_add (front->nodes[i].at, shift)));
      g_assert_true (
          geo_same (now->nodes[i].in, geo_add (front->nodes[i].in, shift)));
      g_assert_true (
          geo_same (now->nodes[i].out, geo_add (front->nodes[i].out, shift)));
    }
  END;
}

static void
test_set_node (void)
{
  BEGIN;
  GeoPoint to = { 0.1, 0.3 };
  g_autoptr (Pattern) set
      = DO (drafting_set_node, piece, front->nodes[4].id, to);
  const PatternPiece *now = pattern_get_piece (set, piece);
  g_assert_true (geo_same (now->nodes[4].at, to));
  g_assert_true (geo_same (now->nodes[4].in, to));
  END;
}

static void
test_handles (void)
{
  BEGIN;
  guint node = front->nodes[1].id; /* symmetric */
  GeoPoint at = front->nodes[1].at;
  g_autoptr (Pattern) even = DO (drafting_set_handle, piece, node,
                                 DRAFTING_HANDLE_OUT, geo_point (130, 80));
  const PatternNode *now = &pattern_get_piece (even, piece)->nodes[1];
  g_assert_true (geo_same (now->in, geo_point (2 * at.x - 130, 2 * at.y - 80)));
  g_autoptr (Pattern) smooth
      = DO (drafting_set_node_kind, piece, node, PATTERN_NODE_SMOOTH);
  g_autoptr (Pattern) turned = drafting_set_handle (
      smooth, piece, node, DRAFTING_HANDLE_IN, geo_point (100, 10), &error);
  g_assert_no_error (error);
  now = &pattern_get_piece (turned, piece)->nodes[1];
  g_assert_true (geo_same (now->in, geo_point (100, 10)));
  assert_near (geo_distance (now->out, at), 40, 1e-9); /* as long as it was */
  assert_near (now->out.x, 100, 1e-9);
  assert_near (now->out.y, 100, 1e-9);
  g_autoptr (Pattern) corner
      = DO (drafting_set_handle, piece, front->nodes[2].id, DRAFTING_HANDLE_IN,
            geo_point (150, 10));
  now = &pattern_get_piece (corner, piece)->nodes[2];
  g_assert_true (geo_same (now->out, front->nodes[2].out));
  END;
}

static double
straightness (const PatternNode *node)
{
  return fabs (geo_angle_between (geo_sub (node->out, node->at),
                                  geo_sub (node->at, node->in)));
}

static void
test_kinds (void)
{
  BEGIN;
  /* Both handles: turned by the same angle, lengths kept. */
  const PatternNode *old = &front->nodes[2];
  g_autoptr (Pattern) a
      = DO (drafting_set_node_kind, piece, old->id, PATTERN_NODE_SMOOTH);
  const PatternNode *now = &pattern_get_piece (a, piece)->nodes[2];
  assert_near (straightness (now), 0, 1e-12);
  double in_turn = geo_angle_between (geo_sub (old->in, old->at),
                                      geo_sub (now->in, now->at));
  double out_turn = geo_angle_between (geo_sub (old->out, old->at),
                                       geo_sub (now->out, now->at));
  assert_near (in_turn, -out_turn, 1e-12);
  assert_near (geo_distance (now->in, now->at), geo_distance (old->in, old->at),
               1e-12);
  /* None: a third of the way to the neighbours. */
  g_autoptr (Pattern) b = DO (drafting_set_node_kind, piece, front->nodes[4].id,
                              PATTERN_NODE_SMOOTH);
  now = &pattern_get_piece (b, piece)->nodes[4];
  assert_near (straightness (now), 0, 1e-12);
  assert_near (geo_distance (now->in, now->at), 200. / 3, 1e-9);
  assert_near (geo_distance (now->out, now->at), 100, 1e-9);
  /* A straight side stays straight: the other handle turns into its line. */
  g_autoptr (Pattern) c = DO (drafting_set_node_kind, piece, front->nodes[3].id,
                              PATTERN_NODE_SMOOTH);
  now = &pattern_get_piece (c, piece)->nodes[3];
  g_assert_true (geo_same (now->out, now->at));
  assert_near (now->in.y, 300, 1e-12);
  g_assert_cmpfloat (now->in.x, >, 200);
  /* Symmetric: one line, one length. */
  g_autoptr (Pattern) d
      = DO (drafting_set_node_kind, piece, old->id, PATTERN_NODE_SYMMETRIC);
  now = &pattern_get_piece (d, piece)->nodes[2];
  assert_near (geo_distance (now->in, now->at),
               geo_distance (now->out, now->at), 1e-12);
  assert_near (straightness (now), 0, 1e-12);
  /* To corner nothing moves. */
  g_autoptr (Pattern) e = DO (drafting_set_node_kind, piece, front->nodes[1].id,
                              PATTERN_NODE_CORNER);
  now = &pattern_get_piece (e, piece)->nodes[1];
  g_assert_true (geo_same (now->in, front->nodes[1].in)
                 && geo_same (now->out, front->nodes[1].out));
  END;
}

/* A smooth node between a straight side and a curve stays smooth, whatever moves. */
static void
test_smooth_beside_straight (void)
{
  BEGIN;
  guint node = front->nodes[3].id; /* hem, straight, follows it */
  g_autoptr (Pattern) smooth
      = DO (drafting_set_node_kind, piece, node, PATTERN_NODE_SMOOTH);
  guint far = front->nodes[4].id;
  g_autoptr (Pattern) moved = drafting_move_nodes (smooth, piece, &far, 1,
                                                   geo_point (-5, 40), &error);
  g_autoptr (Pattern) set
      = drafting_set_node (moved, piece, node, geo_point (210, 290), &error);
  g_autoptr (Pattern) pulled = drafting_set_handle (
      set, piece, node, DRAFTING_HANDLE_IN, geo_point (250, 180), &error);
  const Pattern *steps[] = { moved, set, pulled };
  for (guint i = 0; i < 3; i++)
    {
      assert_sound (steps[i]);
      const PatternPiece *now = pattern_get_piece (steps[i], piece);
      GeoPoint hem = geo_sub (now->nodes[4].at, now->nodes[3].at);
      GeoPoint handle = geo_sub (now->nodes[3].at, now->nodes[3].in);
      assert_near (geo_angle_between (hem, handle), 0, 1e-9);
      g_assert_true (geo_same (now->nodes[3].out, now->nodes[3].at));
    }
  END;
}

/* The curve keeps its shape exactly and the new node sits at the length. */
static void
test_add_node (void)
{
  BEGIN;
  for (guint e = 0; e < 4; e++)
    {
      guint edge = front->edges[e].id, node = 0;
      double at = 0.37 * edge_length (p, piece, edge);
      g_autoptr (Pattern) added
          = DO (drafting_add_node, piece, edge, at, &node);
      const PatternPiece *now = pattern_get_piece (added, piece);
      g_assert_cmpuint (now->n_nodes, ==, 6);
      int index = pattern_piece_find_node (now, node);
      g_assert_cmpint (index, >=, 0);
      g_assert_cmpuint (
          now->edges[pattern_piece_edge_of_node (now, (guint)index)].id, ==,
          edge);
      g_assert_cmpfloat (stray (p, added, piece), <, 1e-9);
      g_assert_cmpfloat (stray (added, p, piece), <, 1e-9);
      assert_near (edge_length (added, piece, edge),
                   edge_length (p, piece, edge), 1e-9);
      g_autoptr (Pattern) parted
          = drafting_split_edge (added, piece, node, NULL, &error);
      g_assert_no_error (error);
      assert_near (edge_length (parted, piece, edge), at, 1e-6);
      /* Taken out again, the old curve is back. */
      g_autoptr (Pattern) back
          = drafting_remove_node (added, piece, node, &error);
      g_assert_no_error (error);
      g_assert_cmpfloat (stray (p, back, piece), <, 1e-4);
      /* At a node there is no room for another. */
      g_autoptr (Pattern) none
          = drafting_add_node (added, piece, edge, at, NULL, &error);
      g_assert_null (none);
      g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
      g_clear_error (&error);
    }
  END;
}

static void
test_remove_between_edges (void)
{
  BEGIN;
  guint neck = front->edges[0].id, side = front->edges[1].id;
  g_autoptr (Pattern) joined
      = DO (drafting_remove_node, piece, front->nodes[2].id);
  const PatternPiece *now = pattern_get_piece (joined, piece);
  g_assert_cmpuint (now->n_edges, ==, 3);
  g_assert_cmpint (pattern_piece_find_edge (now, side), ==, -1);
  g_assert_cmpint (pattern_piece_find_edge (now, neck), ==, 0);
  /* The seam is not lost: it runs along the edge that took the other up. */
  g_assert_cmpuint (joined->n_seams, ==, 1);
  g_assert_cmpuint (joined->seams[0]->sides[0].runs[0].edge, ==, neck);
  END;
}

static void
test_remove_keeps_enough (void)
{
  g_autoptr (Pattern) p = pattern_new ("p");
  PatternNode nodes[] = { sample_curved (0, 0, 0, 60, 0, -60),
                          sample_curved (100, 0, 100, -60, 100, 60) };
  nodes[1].kind = PATTERN_NODE_SMOOTH;
  guint piece = 0;
  GError *error = NULL;
  g_autoptr (Pattern) leaf
      = drafting_add_piece_nodes (p, "leaf", nodes, 2, 10, &piece, &error);
  g_assert_no_error (error);
  const PatternPiece *own = pattern_get_piece (leaf, piece);
  g_assert_cmpuint (own->n_edges, ==, 1);
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (Pattern) less
          = drafting_remove_node (leaf, piece, own->nodes[i].id, &error);
      g_assert_null (less);
      g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
      g_assert_nonnull (strstr (error->message, "leaf"));
      g_clear_error (&error);
    }
}

static void
test_bend (void)
{
  BEGIN;
  for (guint i = 0; i < 5; i++)
    for (double t = 0.1; t < 0.95; t += 0.2)
      {
        GeoPoint by = { 3, -4 };
        g_autoptr (Pattern) bent
            = DO (drafting_bend, piece, front->nodes[i].id, t, by);
        const PatternPiece *now = pattern_get_piece (bent, piece);
        GeoCubic old = pattern_piece_cubic (front, i);
        GeoCubic new = pattern_piece_cubic (now, i);
        GeoPoint want = geo_add (geo_cubic_point (&old, t), by);
        g_assert_cmpfloat (geo_distance (want, geo_cubic_point (&new, t)), <,
                           1e-9);
        g_assert_true (geo_same (old.p[0], new.p[0]));
        g_assert_true (geo_same (old.p[3], new.p[3]));
      }
  g_autoptr (Pattern) none = drafting_bend (p, piece, front->nodes[0].id, 0,
                                            geo_point (1, 1), &error);
  g_assert_null (none);
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  g_clear_error (&error);
  END;
}

static void
test_straighten (void)
{
  BEGIN;
  g_autoptr (Pattern) flat
      = DO (drafting_straighten, piece, front->nodes[2].id);
  assert_near (edge_length (flat, piece, front->edges[1].id), 300, 1e-9);
  END;
}

/* A piece dragged through itself is turned round; its seam goes with it. */
static void
test_turned_over (void)
{
  g_autoptr (Pattern) p = pattern_new ("p");
  PatternNode nodes[] = { sample_node (0, 0), sample_node (100, 0),
                          sample_node (100, 60), sample_node (0, 60) };
  guint piece = 0, other = 0, seam = 0;
  GError *error = NULL;
  g_autoptr (Pattern) one
      = drafting_add_piece_nodes (p, "front", nodes, 4, 10, &piece, &error);
  for (guint i = 0; i < 4; i++)
    nodes[i].at.x = nodes[i].in.x = nodes[i].out.x = nodes[i].at.x + 150;
  g_autoptr (Pattern) two
      = drafting_add_piece_nodes (one, "back", nodes, 4, 10, &other, &error);
  const PatternPiece *front = pattern_get_piece (two, piece);
  const PatternPiece *back = pattern_get_piece (two, other);
  g_autoptr (Pattern) sewn = drafting_pair_edges (
      two, piece, front->edges[1].id, other, back->edges[3].id, &seam, &error);
  g_assert_no_error (error);
  gboolean was = pattern_get_seam (sewn, seam)->sides[0].runs[0].reversed;
  /* The right side is carried to the left of the left one. */
  guint right[] = { front->nodes[1].id, front->nodes[2].id };
  g_autoptr (Pattern) over = drafting_move_nodes (sewn, piece, right, 2,
                                                  geo_point (-250, 0), &error);
  g_assert_no_error (error);
  assert_sound (over);
  assert_near (pattern_piece_area (pattern_get_piece (over, piece)), 9000,
               1e-9);
  const PatternSeam *now = pattern_get_seam (over, seam);
  g_assert_true (now->sides[0].runs[0].reversed != was);
  g_assert_true (now->sides[1].runs[0].reversed
                 == pattern_get_seam (sewn, seam)->sides[1].runs[0].reversed);
  /* Onto the left side exactly it would have no area: refused, in words. */
  g_autoptr (Pattern) flat = drafting_move_nodes (sewn, piece, right, 2,
                                                  geo_point (-100, 0), &error);
  g_assert_null (flat);
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_assert_nonnull (strstr (error->message, "front"));
  g_clear_error (&error);
}

static void
test_refusals (void)
{
  BEGIN;
  guint node = front->nodes[0].id;
  static const double bad[] = { NAN, INFINITY, -INFINITY, 1.1e5 };
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      GeoPoint to = geo_point (1, bad[i]);
      Pattern *results[] = {
        drafting_move_nodes (p, piece, &node, 1, to, NULL),
        drafting_set_node (p, piece, node, to, NULL),
        drafting_set_handle (p, piece, node, DRAFTING_HANDLE_IN, to, NULL),
        drafting_bend (p, piece, node, 0.5, to, NULL),
        drafting_bend (p, piece, node, bad[i], geo_point (1, 1), NULL),
        drafting_add_node (p, piece, front->edges[0].id, bad[i], NULL, NULL),
      };
      for (guint k = 0; k < G_N_ELEMENTS (results); k++)
        g_assert_null (results[k]);
    }
  g_assert_null (drafting_set_node (p, 4711, node, geo_point (0, 0), &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  g_assert_null (drafting_set_node (p, piece, 4711, geo_point (0, 0), &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  END;
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/nodes/move", test_move);
  g_test_add_func ("/nodes/set", test_set_node);
  g_test_add_func ("/nodes/handles", test_handles);
  g_test_add_func ("/nodes/kinds", test_kinds);
  g_test_add_func ("/nodes/smooth-beside-straight",
                   test_smooth_beside_straight);
  g_test_add_func ("/nodes/add", test_add_node);
  g_test_add_func ("/nodes/remove-between-edges", test_remove_between_edges);
  g_test_add_func ("/nodes/remove-keeps-enough", test_remove_keeps_enough);
  g_test_add_func ("/nodes/bend", test_bend);
  g_test_add_func ("/nodes/straighten", test_straighten);
  g_test_add_func ("/nodes/turned-over", test_turned_over);
  g_test_add_func ("/nodes/refusals", test_refusals);
  return g_test_run ();
}
