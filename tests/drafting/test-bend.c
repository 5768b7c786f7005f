/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bending and lengthening beside straight sides: the handle of a smooth node there stays in the
 * side's line. */
#include <math.h>

#include "geometry/chain.h"
#include "sample.h"

/* From A straight to B, a curve to C, straight to D and back. B is smooth, C as asked: the curve
 * leaves level and, where C is smooth, comes in upright or level. Edges: "side" from A to C, so that
 * it has the straight and the curve, "end" from C to D, "back" from D to A. */
static Pattern *
hook (PatternNodeKind c_kind, gboolean level)
{
  Pattern *p = pattern_new ("hook");
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), "hook");
  PatternNode nodes[] = {
    sample_node (0, 0),
    sample_curved (100, 0, 100, 0, 140, 0),
    sample_curved (200, 80, level ? 160 : 200, level ? 80 : 30, 200, 80),
    sample_node (level ? 900 : 200, level ? 80 : 900),
    sample_node (0, 200),
  };
  nodes[1].kind = PATTERN_NODE_SMOOTH;
  nodes[2].kind = c_kind;
  gboolean starts[] = { TRUE, FALSE, TRUE, TRUE, FALSE };
  pattern_piece_set_outline (piece, nodes, 5, starts, &p->next_id);
  pattern_put_piece (p, piece);
  return p;
}

static double
off_line (const PatternNode *node, GeoPoint handle, const PatternNode *beside)
{
  GeoPoint way = geo_unit (geo_sub (node->at, beside->at));
  g_assert_cmpfloat (geo_dot (geo_sub (handle, node->at), way), >, 0);
  return fabs (geo_cross (geo_sub (handle, node->at), way));
}

static void
assert_in_line (const PatternPiece *piece)
{
  const PatternNode *n = piece->nodes;
  g_assert_cmpint (n[1].kind, ==, PATTERN_NODE_SMOOTH);
  g_assert_cmpfloat (off_line (&n[1], n[1].out, &n[0]), <, 1e-9);
  if (n[2].kind == PATTERN_NODE_SMOOTH)
    g_assert_cmpfloat (off_line (&n[2], n[2].in, &n[3]), <, 1e-9);
}

/* What a node's next move does to the curve that was bent: carry it along, and no more. */
static void
assert_no_snap (Pattern *bent, guint piece, guint n_nodes)
{
  const PatternPiece *now = pattern_get_piece (bent, piece);
  guint ids[8];
  for (guint i = 0; i < n_nodes; i++)
    ids[i] = now->nodes[i].id;
  GError *error = NULL;
  g_autoptr (Pattern) moved = drafting_move_nodes (bent, piece, ids, n_nodes,
                                                   geo_point (16, 32), &error);
  g_assert_no_error (error);
  const PatternPiece *then = pattern_get_piece (moved, piece);
  for (guint i = 0; i < n_nodes; i++)
    {
      GeoPoint by = geo_sub (then->nodes[i].out, now->nodes[i].out);
      g_assert_cmpfloat (geo_distance (by, geo_point (16, 32)), <, 1e-9);
    }
}

/* One handle held to its line: the point goes where it is to, and by the smallest change that can
 * be had. Karush, Kuhn and Tucker's conditions for least |d1|^2 + |d2|^2: a y with d2 = b2 y and
 * d1 = b1 (u . y) u. */
static void
test_one_held (void)
{
  g_autoptr (Pattern) p = hook (PATTERN_NODE_CORNER, FALSE);
  const PatternPiece *old = p->pieces[0];
  for (double t = 0.3; t < 0.95; t += 0.1)
    for (int way = 0; way < 12; way++)
      {
        GeoPoint by = geo_scale (
            geo_point (cos (way * G_PI / 6), sin (way * G_PI / 6)), 5);
        GError *error = NULL;
        g_autoptr (Pattern) bent
            = drafting_bend (p, old->id, old->nodes[1].id, t, by, &error);
        g_assert_no_error (error);
        const PatternPiece *now = pattern_get_piece (bent, old->id);
        assert_in_line (now);
        GeoCubic before = pattern_piece_cubic (old, 1);
        GeoCubic after = pattern_piece_cubic (now, 1);
        g_assert_cmpfloat (
            geo_distance (geo_add (geo_cubic_point (&before, t), by),
                          geo_cubic_point (&after, t)),
            <, 1e-9);
        double b1 = 3 * (1 - t) * (1 - t) * t, b2 = 3 * (1 - t) * t * t;
        GeoPoint y = geo_scale (geo_sub (after.p[2], before.p[2]), 1 / b2);
        g_assert_cmpfloat_with_epsilon (after.p[1].x - before.p[1].x, b1 * y.x,
                                        1e-9);
        assert_no_snap (bent, old->id, 5);
      }
}

/* Both held, one level and one upright: each takes its own part of the way. */
static void
test_both_held (void)
{
  g_autoptr (Pattern) p = hook (PATTERN_NODE_SMOOTH, FALSE);
  const PatternPiece *old = p->pieces[0];
  GError *error = NULL;
  g_autoptr (Pattern) bent = drafting_bend (p, old->id, old->nodes[1].id, 0.5,
                                            geo_point (3, -6), &error);
  g_assert_no_error (error);
  const PatternPiece *now = pattern_get_piece (bent, old->id);
  assert_in_line (now);
  /* b1 = b2 = 3/8 in the middle. */
  g_assert_cmpfloat_with_epsilon (now->nodes[1].out.x, 140 + 8, 1e-9);
  g_assert_cmpfloat_with_epsilon (now->nodes[2].in.y, 30 - 16, 1e-9);
}

/* Both held to level lines: up and down there is no way to bend it, and nothing is thrown out. */
static void
test_no_way (void)
{
  g_autoptr (Pattern) p = hook (PATTERN_NODE_SMOOTH, TRUE);
  const PatternPiece *old = p->pieces[0];
  GError *error = NULL;
  g_autoptr (Pattern) bent = drafting_bend (p, old->id, old->nodes[1].id, 0.5,
                                            geo_point (6, 30), &error);
  g_assert_no_error (error);
  const PatternPiece *now = pattern_get_piece (bent, old->id);
  assert_in_line (now);
  GeoCubic before = pattern_piece_cubic (old, 1);
  GeoCubic after = pattern_piece_cubic (now, 1);
  GeoPoint went
      = geo_sub (geo_cubic_point (&after, 0.5), geo_cubic_point (&before, 0.5));
  g_assert_cmpfloat_with_epsilon (went.x, 6, 1e-9);
  g_assert_cmpfloat_with_epsilon (went.y, 0, 1e-9);
}

/* However it is pulled: in line, finite, and no handle gone through its node. */
static void
test_any_pull (void)
{
  for (int run = 0; run < 2000; run++)
    {
      g_autoptr (Pattern) p
          = hook (run & 1 ? PATTERN_NODE_SMOOTH : PATTERN_NODE_CORNER, run & 2);
      const PatternPiece *old = p->pieces[0];
      double t = g_test_rand_double_range (0.01, 0.99);
      GeoPoint by = { g_test_rand_double_range (-40, 40),
                      g_test_rand_double_range (-40, 40) };
      GError *error = NULL;
      g_autoptr (Pattern) bent
          = drafting_bend (p, old->id, old->nodes[1].id, t, by, &error);
      g_assert_no_error (error);
      const PatternPiece *now = pattern_get_piece (bent, old->id);
      assert_in_line (now);
      double far = geo_distance (now->nodes[2].in, old->nodes[2].in);
      g_assert_cmpfloat (far, <, 13 * 2 * geo_norm (by) + 100);
      assert_no_snap (bent, old->id, 5);
    }
}

/* An edge of a straight and a curve, and its neighbours: the lengths come out, the lines are kept. */
static void
test_lengths (void)
{
  for (int run = 0; run < 8; run++)
    {
      g_autoptr (Pattern) p
          = hook (run & 1 ? PATTERN_NODE_SMOOTH : PATTERN_NODE_CORNER, run & 2);
      const PatternPiece *old = p->pieces[0];
      for (guint e = 0; e < 3; e++)
        for (double factor = 0.7; factor < (e < 2 ? 1.5 : 1.1); factor += 0.15)
          {
            GeoChain chain;
            geo_chain_init (&chain);
            pattern_piece_edge_chain (old, e, &chain);
            double length = geo_chain_length (&chain, 1e-10) * factor;
            geo_chain_clear (&chain);
            GError *error = NULL;
            g_autoptr (Pattern) set = drafting_set_edge_length (
                p, old->id, old->edges[e].id, length, (run & 4) != 0, &error);
            g_assert_no_error (error);
            const PatternPiece *now = pattern_get_piece (set, old->id);
            geo_chain_init (&chain);
            pattern_piece_edge_chain (now, e, &chain);
            g_assert_cmpfloat_with_epsilon (geo_chain_length (&chain, 1e-10),
                                            length, 1e-6);
            geo_chain_clear (&chain);
            assert_in_line (now);
            assert_no_snap (set, old->id, 5);
          }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/bend/one-held", test_one_held);
  g_test_add_func ("/bend/both-held", test_both_held);
  g_test_add_func ("/bend/no-way", test_no_way);
  g_test_add_func ("/bend/any-pull", test_any_pull);
  g_test_add_func ("/bend/lengths", test_lengths);
  return g_test_run ();
}
