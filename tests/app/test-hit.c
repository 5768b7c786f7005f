/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/hit.h"
#include "cape.h"

static void
test_priorities (void)
{
  Cape c = cape_new ();
  AppSession *s = c.session;
  /* Without a pick a corner is no node: its edges count. */
  AppHit hit = app_hit (s, geo_point (199, 150), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_EDGE);
  g_assert_cmpuint (hit.edge, ==, c.side);
  g_assert_cmpfloat_with_epsilon (hit.at, 150, 1e-9);
  g_assert_cmpfloat_with_epsilon (hit.point.x, 200, 1e-9);
  g_assert_cmpuint (hit.cubic_node, ==, c.nodes[1]);
  hit = app_hit (s, geo_point (100, 150), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_PIECE);
  g_assert_cmpuint (hit.piece, ==, c.front);
  /* The allowance belongs to the piece. */
  hit = app_hit (s, geo_point (208.5, 150), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_PIECE);
  hit = app_hit (s, geo_point (250, 150), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_NOTHING);
  app_session_pick_edge (s, c.front, c.side);
  hit = app_hit (s, geo_point (199, 299), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_NODE);
  g_assert_cmpuint (hit.node, ==, c.nodes[2]);
  g_assert_cmpuint (hit.edge, ==, c.side);
  /* Within 24 px in all: 12 to each side. */
  hit = app_hit (s, geo_point (194.5, 300), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_NODE);
  hit = app_hit (s, geo_point (193.5, 300), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_EDGE);
  g_assert_cmpuint (hit.edge, ==, c.hem);
  cape_clear (&c);
}

static void
test_handles (void)
{
  Cape c = cape_new ();
  AppSession *s = c.session;
  AppHit hit = app_hit (s, geo_point (60, 60), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_PIECE);
  app_session_pick_edge (s, c.front, c.neck);
  hit = app_hit (s, geo_point (62, 60), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_HANDLE);
  g_assert_cmpint (hit.handle, ==, DRAFTING_HANDLE_OUT);
  g_assert_cmpuint (hit.node, ==, c.nodes[0]);
  hit = app_hit (s, geo_point (140, 60), 6);
  g_assert_cmpint (hit.handle, ==, DRAFTING_HANDLE_IN);
  g_assert_cmpuint (hit.node, ==, c.nodes[1]);
  /* The side's own pick does not show the neck's handles, though the node is on
   * both. */
  app_session_pick_edge (s, c.front, c.side);
  hit = app_hit (s, geo_point (140, 60), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_PIECE);
  /* Nearest of nodes and handles; at a tie the node. */
  app_session_do (s, "h", NULL,
                  drafting_set_handle (app_session_get_pattern (s), c.front,
                                       c.nodes[1], DRAFTING_HANDLE_OUT,
                                       geo_point (200, 8), NULL),
                  NULL);
  g_assert_cmpint (app_hit (s, geo_point (200, 1), 6).kind, ==, APP_HIT_NODE);
  g_assert_cmpint (app_hit (s, geo_point (200, 7), 6).kind, ==, APP_HIT_HANDLE);
  g_assert_cmpint (app_hit (s, geo_point (200, 4), 6).kind, ==, APP_HIT_NODE);
  cape_clear (&c);
}

static void
test_marks (void)
{
  Cape c = cape_new ();
  AppSession *s = c.session;
  guint notch = 0, drill = 0, hole = 0;
  app_session_do (s, "notch", NULL,
                  drafting_add_notch (app_session_get_pattern (s), c.front,
                                      c.side, 1, PATTERN_FROM_START, 100,
                                      &notch, NULL),
                  NULL);
  app_session_do (s, "drill", NULL,
                  drafting_add_drill (app_session_get_pattern (s), c.front,
                                      geo_point (50, 200), &drill, NULL),
                  NULL);
  app_session_do (s, "hole", NULL,
                  drafting_add_buttonhole (app_session_get_pattern (s), c.front,
                                           geo_point (20, 250), 0, 20, &hole,
                                           NULL),
                  NULL);
  /* The stroke across the allowance is the notch; on the stitch line, and aside
   * of the stroke, the edge is meant. */
  AppHit hit = app_hit (s, geo_point (206, 100), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_MARK);
  g_assert_cmpuint (hit.mark, ==, notch);
  g_assert_cmpuint (hit.edge, ==, c.side);
  g_assert_cmpfloat_with_epsilon (hit.at, 100, 1e-9);
  g_assert_cmpint (app_hit (s, geo_point (200, 100), 6).kind, ==, APP_HIT_EDGE);
  g_assert_cmpint (app_hit (s, geo_point (200.4, 100.6), 6).kind, ==,
                   APP_HIT_EDGE);
  hit = app_hit (s, geo_point (199, 104), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_EDGE);
  g_assert_cmpint (app_hit (s, geo_point (204, 102), 6).kind, ==, APP_HIT_EDGE);
  g_assert_cmpint (app_hit (s, geo_point (204, 101), 6).kind, ==, APP_HIT_MARK);
  /* The whole pattern in view, 1.3 mm a pixel: the edge, 8 px about the notch. */
  for (double y = 90; y <= 110; y += 1)
    {
      hit = app_hit (s, geo_point (199, y), 15.6);
      g_assert_cmpint (hit.kind, ==, APP_HIT_EDGE);
      g_assert_cmpuint (hit.edge, ==, c.side);
    }
  g_assert_cmpint (app_hit (s, geo_point (207, 101), 15.6).kind, ==,
                   APP_HIT_MARK);
  /* Who looks for notches finds it there, too. */
  g_assert_cmpuint (app_hit_notch (s, geo_point (200, 100), 6).mark, ==, notch);
  g_assert_cmpint (app_hit_notch (s, geo_point (200, 108), 6).kind, ==,
                   APP_HIT_NOTHING);
  hit = app_hit (s, geo_point (51, 201), 6);
  g_assert_cmpuint (hit.mark, ==, drill);
  hit = app_hit (s, geo_point (38, 251), 6);
  g_assert_cmpuint (hit.mark, ==, hole);
  cape_clear (&c);
}

/* Of two pieces over each other the later one is met. */
static void
test_over (void)
{
  Cape c = cape_new ();
  AppSession *s = c.session;
  app_session_do (
      s, "move", NULL,
      drafting_move_pieces (app_session_get_pattern (s), &c.collar, 1,
                            (GeoMotion){ 1, 0, -200, 100, false }, NULL),
      NULL);
  AppHit hit = app_hit (s, geo_point (150, 130), 6);
  g_assert_cmpint (hit.kind, ==, APP_HIT_PIECE);
  g_assert_cmpuint (hit.piece, ==, c.collar);
  cape_clear (&c);
}

/* To nodes, and to the lines through anchor: as the tools put it together. */
static AppSnap
snap_at (AppSession *session, GeoPoint at, double reach, const GeoPoint *anchor,
         guint piece, const guint *without, guint n_without)
{
  AppSnapLine lines[4];
  guint n = anchor != NULL
                ? app_snap_directions (session, piece, *anchor, lines)
                : 0;
  return app_snap_lines (session, at, reach, lines, n, TRUE, without,
                         n_without);
}

static void
test_snap (void)
{
  Cape c = cape_new ();
  AppSession *s = c.session;
  GeoPoint anchor = geo_point (250, 150);
  AppSnap snap = snap_at (s, geo_point (202, 299), 3.5, &anchor, 0, NULL, 0);
  g_assert_true (snap.snapped);
  g_assert_true (geo_same (snap.point, geo_point (200, 300)));
  snap = snap_at (s, geo_point (202, 299), 3.5, &anchor, 0, &c.nodes[2], 1);
  g_assert_false (snap.snapped);
  g_assert_true (geo_same (snap.point, geo_point (202, 299)));
  snap = snap_at (s, geo_point (280, 152), 3.5, &anchor, 0, NULL, 0);
  g_assert_true (snap.snapped);
  g_assert_cmpstr (snap.why, ==, "level");
  g_assert_true (geo_same (snap.point, geo_point (280, 150)));
  g_assert_true (geo_same (snap.from, anchor));
  snap = snap_at (s, geo_point (248, 190), 3.5, &anchor, 0, NULL, 0);
  g_assert_cmpstr (snap.why, ==, "upright");
  /* With a piece whose grain is upright, that is what it is called. */
  snap = snap_at (s, geo_point (248, 190), 3.5, &anchor, c.front, NULL, 0);
  g_assert_cmpstr (snap.why, ==, "on the grain");
  snap = snap_at (s, geo_point (280, 152), 3.5, &anchor, c.front, NULL, 0);
  g_assert_cmpstr (snap.why, ==, "square to the grain");
  /* A grain aslant, 3-4-5: along it and square to it are places of their own.
   */
  app_session_do (s, "grain", NULL,
                  drafting_set_grain (app_session_get_pattern (s), c.front,
                                      geo_point (100, 100),
                                      geo_point (160, 180), FALSE, NULL),
                  NULL);
  snap = snap_at (s, geo_point (250 + 31, 150 + 40), 3.5, &anchor, c.front,
                  NULL, 0);
  g_assert_cmpstr (snap.why, ==, "on the grain");
  g_assert_cmpfloat_with_epsilon (
      geo_cross (geo_sub (snap.point, anchor), geo_point (0.6, 0.8)), 0, 1e-9);
  snap = snap_at (s, geo_point (250 - 40, 150 + 31), 3.5, &anchor, c.front,
                  NULL, 0);
  g_assert_cmpstr (snap.why, ==, "square to the grain");
  g_assert_cmpfloat_with_epsilon (
      geo_dot (geo_sub (snap.point, anchor), geo_point (0.6, 0.8)), 0, 1e-9);
  cape_clear (&c);
}

/* Two lines near: their crossing, with both guides. */
static void
test_snap_crossing (void)
{
  Cape c = cape_new ();
  AppSnapLine lines[2]
      = { { { 10, 20 }, { 1, 0 }, "a" }, { { 70, 90 }, { 0, 1 }, "b" } };
  AppSnap snap = app_snap_lines (c.session, geo_point (71, 21.5), 3, lines, 2,
                                 FALSE, NULL, 0);
  g_assert_true (snap.twice);
  g_assert_cmpfloat_with_epsilon (snap.point.x, 70, 1e-12);
  g_assert_cmpfloat_with_epsilon (snap.point.y, 20, 1e-12);
  g_assert_cmpstr (snap.why, ==, "b");
  g_assert_cmpstr (snap.why2, ==, "a");
  snap = app_snap_lines (c.session, geo_point (78, 21), 3, lines, 2, FALSE,
                         NULL, 0);
  g_assert_false (snap.twice);
  g_assert_cmpstr (snap.why, ==, "a");
  cape_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/hit/priorities", test_priorities);
  g_test_add_func ("/hit/handles", test_handles);
  g_test_add_func ("/hit/marks", test_marks);
  g_test_add_func ("/hit/over", test_over);
  g_test_add_func ("/snap/nodes-and-directions", test_snap);
  g_test_add_func ("/snap/crossing", test_snap_crossing);
  return g_test_run ();
}
