/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "cape.h"
#include "drafting/edit.h"
#include "geometry/nearest.h"

typedef struct
{
  Cape c;
  AppTool *tool;
} Reshaping;

static Reshaping
start (void)
{
  Reshaping r = { cape_new (), NULL };
  g_signal_connect (r.c.session, "problem", G_CALLBACK (cape_no_problem), NULL);
  r.tool = app_tool_new (APP_TOOL_RESHAPE, r.c.session);
  return r;
}

static void
finish (Reshaping *r)
{
  app_tool_free (r->tool);
  cape_clear (&r->c);
}

static guint
steps (Reshaping *r)
{
  return pattern_history_get_length (app_session_get_history (r->c.session))
         - 1;
}

static void
test_hover (void)
{
  Reshaping r = start ();
  cape_hover (r.tool, 201, 150);
  AppHover hover = app_session_get_hover (r.c.session);
  g_assert_cmpuint (hover.edge, ==, r.c.side);
  g_assert_cmpstr (app_tool_get_tag (r.tool), ==, "side  300.0 mm");
  g_assert_cmpstr (app_tool_get_cursor (r.tool), ==, "pointer");
  cape_hover (r.tool, 100, 150);
  hover = app_session_get_hover (r.c.session);
  g_assert_cmpuint (hover.edge, ==, 0);
  g_assert_cmpuint (hover.piece, ==, r.c.front);
  g_assert_null (app_tool_get_tag (r.tool));
  app_tool_leave (r.tool);
  g_assert_cmpuint (app_session_get_hover (r.c.session).piece, ==, 0);
  finish (&r);
}

static void
test_click (void)
{
  Reshaping r = start ();
  const AppPick *pick = app_session_get_pick (r.c.session);
  cape_click (r.tool, 201, 150, 0);
  g_assert_cmpint (pick->kind, ==, APP_PICK_EDGE);
  g_assert_cmpuint (pick->edge, ==, r.c.side);
  cape_click (r.tool, 199, 1, 0);
  g_assert_cmpint (pick->kind, ==, APP_PICK_NODES);
  g_assert_cmpuint (pick->ids[0], ==, r.c.nodes[1]);
  cape_click (r.tool, 200, 300, APP_MOD_SHIFT);
  g_assert_cmpuint (pick->n_ids, ==, 2);
  cape_click (r.tool, 200, 300, APP_MOD_SHIFT);
  g_assert_cmpuint (pick->n_ids, ==, 1);
  cape_click (r.tool, 100, 150, 0);
  g_assert_cmpint (pick->kind, ==, APP_PICK_PIECES);
  cape_click (r.tool, 400, 30, APP_MOD_SHIFT);
  g_assert_cmpuint (pick->n_ids, ==, 2);
  cape_click (r.tool, 400, 30, 0);
  g_assert_cmpuint (pick->n_ids, ==, 1);
  g_assert_cmpuint (pick->piece, ==, r.c.collar);
  cape_click (r.tool, 250, 400, 0);
  g_assert_cmpint (pick->kind, ==, APP_PICK_NONE);
  g_assert_cmpuint (steps (&r), ==, 0);
  finish (&r);
}

/* The side is 300 long; its lower end goes straight down by 17.5. Hem: from (0,
 * 300) to (200, 317.5), 200.7642 by Pythagoras. */
static void
test_drag_node (void)
{
  Reshaping r = start ();
  app_session_pick_edge (r.c.session, r.c.front, r.c.side);
  const Pattern *before = app_session_get_pattern (r.c.session);
  cape_press (r.tool, 200.5, 299.5, APP_MOD_CTRL);
  cape_drag (r.tool, 200.5, 299.5, 200.5, 317, APP_MOD_CTRL);
  /* What was taken hold of off its middle does not jump to the pointer. */
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[2].at.x, 200, 1e-9);
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[2].at.y, 317.5,
                                  1e-9);
  g_assert_cmpstr (app_tool_get_tag (r.tool), ==,
                   "side  317.5 mm  +17.5\nhem  200.8 mm  +0.8");
  g_assert_true (app_session_get_pattern (r.c.session) == before);
  cape_release (r.tool, 200.5, 317, APP_MOD_CTRL);
  g_assert_cmpuint (steps (&r), ==, 1);
  g_assert_cmpstr (
      pattern_history_get_undo_label (app_session_get_history (r.c.session)),
      ==, "move node");
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[2].at.y, 317.5,
                                  1e-9);
  /* What is not touched is shared. */
  g_assert_true (app_session_get_pattern (r.c.session)->pieces[1]
                 == before->pieces[1]);
  app_session_undo (r.c.session);
  g_assert_true (app_session_get_pattern (r.c.session) == before);
  finish (&r);
}

static void
test_drag_several (void)
{
  Reshaping r = start ();
  guint nodes[2] = { r.c.nodes[2], r.c.nodes[3] };
  app_session_pick_nodes (r.c.session, r.c.front, r.c.hem, nodes, 2);
  cape_pull (r.tool, 0, 300, 7, 309, APP_MOD_CTRL);
  const PatternPiece *front = cape_front (&r.c);
  g_assert_cmpfloat_with_epsilon (front->nodes[2].at.x, 207, 1e-9);
  g_assert_cmpfloat_with_epsilon (front->nodes[3].at.y, 309, 1e-9);
  g_assert_cmpuint (app_session_get_pick (r.c.session)->n_ids, ==, 2);
  finish (&r);
}

/* Within 7 px (3.5 mm) of level with where it was, or with a neighbour, it is
 * drawn there. */
static void
test_snapping (void)
{
  Reshaping r = start ();
  app_session_pick_edge (r.c.session, r.c.front, r.c.hem);
  cape_press (r.tool, 200, 300, 0);
  cape_drag (r.tool, 200, 300, 240, 303, 0);
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[2].at.y, 300, 1e-9);
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[2].at.x, 240, 1e-9);
  g_assert_true (
      g_str_has_suffix (app_tool_get_tag (r.tool), "square to the grain"));
  g_assert_false (geo_box_is_empty (app_tool_get_paint_box (r.tool)));
  /* Ctrl leaves it where the pointer is. */
  cape_drag (r.tool, 240, 303, 240, 303, APP_MOD_CTRL);
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[2].at.y, 303, 1e-9);
  /* Shift keeps to the nearest direction however far off. */
  cape_drag (r.tool, 240, 303, 240, 322, APP_MOD_SHIFT);
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[2].at.y, 300, 1e-9);
  /* Another piece's node. */
  cape_drag (r.tool, 240, 322, 301, 59, 0);
  g_assert_true (
      geo_same (cape_front (&r.c)->nodes[2].at, geo_point (300, 60)));
  cape_release (r.tool, 301, 59, 0);
  finish (&r);
}

static void
test_escape (void)
{
  Reshaping r = start ();
  app_session_pick_edge (r.c.session, r.c.front, r.c.side);
  const Pattern *before = app_session_get_pattern (r.c.session);
  cape_press (r.tool, 200, 300, 0);
  cape_drag (r.tool, 200, 300, 260, 350, 0);
  g_assert_true (app_session_get_shown (r.c.session) != before);
  g_assert_true (app_tool_is_busy (r.tool));
  g_assert_true (app_tool_key (r.tool, APP_KEY_ESCAPE));
  g_assert_true (app_session_get_shown (r.c.session) == before);
  /* The button is still down: moving on and letting go does nothing. */
  cape_drag (r.tool, 260, 350, 290, 390, 0);
  g_assert_true (app_session_get_shown (r.c.session) == before);
  cape_release (r.tool, 290, 390, 0);
  g_assert_true (app_session_get_pattern (r.c.session) == before);
  g_assert_cmpuint (steps (&r), ==, 0);
  g_assert_false (app_tool_key (r.tool, APP_KEY_ESCAPE));
  finish (&r);
}

/* An undo by key in the middle of a drag ends it. */
static void
test_undo_in_drag (void)
{
  Reshaping r = start ();
  app_session_pick_edge (r.c.session, r.c.front, r.c.side);
  cape_pull (r.tool, 200, 300, 210, 310, APP_MOD_CTRL);
  cape_press (r.tool, 210, 310, APP_MOD_CTRL);
  cape_drag (r.tool, 210, 310, 250, 350, APP_MOD_CTRL);
  app_session_undo (r.c.session);
  const Pattern *first = app_session_get_pattern (r.c.session);
  cape_drag (r.tool, 250, 350, 260, 360, APP_MOD_CTRL);
  cape_release (r.tool, 260, 360, APP_MOD_CTRL);
  g_assert_true (app_session_get_shown (r.c.session) == first);
  g_assert_cmpfloat (cape_front (&r.c)->nodes[2].at.x, ==, 200);
  finish (&r);
}

/* A straight edge goes along as a whole; with Alt it is bent. */
static void
test_drag_straight_edge (void)
{
  Reshaping r = start ();
  cape_press (r.tool, 100, 300, APP_MOD_CTRL);
  cape_drag (r.tool, 100, 300, 100, 312, APP_MOD_CTRL);
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[2].at.y, 312, 1e-9);
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[3].at.y, 312, 1e-9);
  g_assert_cmpstr (app_tool_get_tag (r.tool), ==,
                   "hem  200.0 mm  0.0\nside  312.0 mm  +12.0\n"
                   "centre front  312.0 mm  +12.0");
  /* Alt in the middle of the drag: bent through the pointer, ends where they
   * were. */
  cape_drag (r.tool, 100, 312, 100, 312, APP_MOD_CTRL | APP_MOD_ALT);
  const PatternPiece *front = cape_front (&r.c);
  g_assert_cmpfloat (front->nodes[2].at.y, ==, 300);
  GeoChain hem = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (front, 2, &hem);
  g_assert_cmpfloat (geo_chain_nearest (&hem, geo_point (100, 312), NULL), <,
                     1e-6);
  geo_chain_clear (&hem);
  cape_release (r.tool, 100, 312, APP_MOD_CTRL | APP_MOD_ALT);
  g_assert_cmpstr (
      pattern_history_get_undo_label (app_session_get_history (r.c.session)),
      ==, "bend edge");
  finish (&r);
}

/* A curve is bent through the pointer, and the tag tells what its seam lacks.
 */
static void
test_bend (void)
{
  Reshaping r = start ();
  /* The neck's middle: (0 + 3*60 + 3*140 + 200)/8, 3*60*2/8 = (100, 45). */
  cape_press (r.tool, 100, 45, 0);
  cape_drag (r.tool, 100, 45, 104, 30, 0);
  GeoChain neck = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (cape_front (&r.c), 0, &neck);
  g_assert_cmpfloat (geo_chain_nearest (&neck, geo_point (104, 30), NULL), <,
                     1e-6);
  double length = geo_chain_length (&neck, 1e-9);
  geo_chain_clear (&neck);
  GeoCubic was = { { { 0, 0 }, { 60, 60 }, { 140, 60 }, { 200, 0 } } };
  g_autofree char *expected = g_strdup_printf (
      "front neck  %.1f mm  −%.1f\ncollar seam  collar %.1f mm too short",
      length, geo_cubic_length (&was, 1e-9) - length, length - 200);
  g_assert_cmpstr (app_tool_get_tag (r.tool), ==, expected);
  cape_release (r.tool, 104, 30, 0);
  g_assert_cmpuint (steps (&r), ==, 1);
  finish (&r);
}

/* Whichever side is dragged, the tag says what the strip says: the collar is short. */
static void
test_tag_other_side (void)
{
  Reshaping r = start ();
  cape_press (r.tool, 400, 60, APP_MOD_CTRL | APP_MOD_ALT);
  cape_drag (r.tool, 400, 60, 400, 61, APP_MOD_CTRL | APP_MOD_ALT);
  cape_drag (r.tool, 400, 61, 400, 63, APP_MOD_CTRL | APP_MOD_ALT);
  g_assert_nonnull (strstr (app_tool_get_tag (r.tool), "collar neck  200."));
  g_assert_true (g_str_has_suffix (app_tool_get_tag (r.tool), " mm too short"));
  app_tool_key (r.tool, APP_KEY_ESCAPE);
  cape_release (r.tool, 400, 63, 0);
  finish (&r);
}

static void
test_handle (void)
{
  Reshaping r = start ();
  app_session_pick_edge (r.c.session, r.c.front, r.c.neck);
  cape_press (r.tool, 60, 60, 0);
  /* Near square to the centre front: snapped level, square to the edge beside
   * it. */
  cape_drag (r.tool, 60, 60, 70, 2, 0);
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[0].out.y, 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (cape_front (&r.c)->nodes[0].out.x, 70, 1e-9);
  cape_release (r.tool, 70, 2, 0);
  g_assert_cmpstr (
      pattern_history_get_undo_label (app_session_get_history (r.c.session)),
      ==, "turn handle");
  finish (&r);
}

static void
test_double_click (void)
{
  Reshaping r = start ();
  AppPointer p = cape_pointer (80, 300, 0);
  cape_click (r.tool, 80, 300, 0);
  p.presses = 2;
  app_tool_press (r.tool, &p);
  app_tool_release (r.tool, &p);
  const PatternPiece *front = cape_front (&r.c);
  g_assert_cmpuint (front->n_nodes, ==, 5);
  g_assert_cmpuint (steps (&r), ==, 1);
  const AppPick *pick = app_session_get_pick (r.c.session);
  g_assert_cmpint (pick->kind, ==, APP_PICK_NODES);
  int i = pattern_piece_find_node (front, pick->ids[0]);
  g_assert_cmpfloat_with_epsilon (front->nodes[i].at.x, 80, 1e-6);
  g_assert_cmpfloat_with_epsilon (front->nodes[i].at.y, 300, 1e-6);
  /* On the node: corner to smooth and back. */
  PatternNodeKind kind = front->nodes[i].kind;
  app_tool_press (r.tool, &p);
  app_tool_release (r.tool, &p);
  g_assert_cmpint (cape_front (&r.c)->nodes[i].kind, !=, kind);
  /* Delete leaves the shape. */
  app_session_delete_pick (r.c.session);
  g_assert_cmpuint (cape_front (&r.c)->n_nodes, ==, 4);
  finish (&r);
}

static void
test_piece (void)
{
  Reshaping r = start ();
  cape_pull (r.tool, 400, 30, 409, 51, APP_MOD_CTRL);
  const PatternPiece *collar
      = pattern_get_piece (app_session_get_pattern (r.c.session), r.c.collar);
  g_assert_cmpfloat_with_epsilon (collar->nodes[0].at.x, 309, 1e-9);
  g_assert_cmpfloat_with_epsilon (collar->nodes[0].at.y, 21, 1e-9);
  g_assert_cmpuint (app_session_get_pick (r.c.session)->piece, ==, r.c.collar);
  finish (&r);
}

/* The ring stands 30 px above the picked piece. A quarter turn is drawn to, as the grain comes to lie
 * level then. */
static void
test_turn (void)
{
  Reshaping r = start ();
  app_session_pick_piece (r.c.session, r.c.front, FALSE);
  GeoBox box = app_session_pick_box (r.c.session);
  GeoPoint o = { (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2 };
  double arm = o.y - box.y0 + 15;
  cape_hover (r.tool, o.x, o.y - arm);
  g_assert_cmpstr (app_tool_get_cursor (r.tool), ==, "grab");
  cape_press (r.tool, o.x, o.y - arm, 0);
  cape_drag (r.tool, o.x, o.y - arm, o.x + arm, o.y - 4, 0);
  g_assert_cmpstr (app_tool_get_tag (r.tool), ==,
                   "clockwise  90.0°\ngrain level");
  cape_release (r.tool, o.x + arm, o.y - 4, 0);
  const PatternPiece *front = cape_front (&r.c);
  g_assert_cmpfloat_with_epsilon (front->grain_from.y, front->grain_to.y, 1e-9);
  /* The corner at (0, 0) goes clockwise about the middle. */
  g_assert_cmpfloat_with_epsilon (front->nodes[0].at.x, o.x + o.y, 1e-9);
  g_assert_cmpfloat_with_epsilon (front->nodes[0].at.y, o.y - o.x, 1e-9);
  g_assert_cmpstr (
      pattern_history_get_undo_label (app_session_get_history (r.c.session)),
      ==, "turn piece");
  app_session_undo (r.c.session);
  cape_press (r.tool, o.x, o.y - arm, APP_MOD_CTRL);
  cape_drag (r.tool, o.x, o.y - arm, o.x - arm * 0.1, o.y - arm * 0.9,
             APP_MOD_CTRL);
  /* atan (1/9) = 6.34 degrees. */
  g_assert_cmpstr (app_tool_get_tag (r.tool), ==, "anticlockwise  6.3°");
  app_tool_key (r.tool, APP_KEY_ESCAPE);
  cape_release (r.tool, 0, 0, 0);
  finish (&r);
}

static void
test_notch (void)
{
  Reshaping r = start ();
  guint notch = 0;
  app_session_do (r.c.session, "notch", NULL,
                  drafting_add_notch (app_session_get_pattern (r.c.session),
                                      r.c.front, r.c.side, 1,
                                      PATTERN_FROM_START, 100, &notch, NULL),
                  NULL);
  cape_press (r.tool, 206, 100, 0);
  cape_drag (r.tool, 206, 100, 190, 130, 0);
  g_assert_cmpstr (app_tool_get_tag (r.tool), ==,
                   "notch on side  130.0 mm | 170.0 mm");
  cape_release (r.tool, 190, 130, 0);
  g_assert_cmpfloat_with_epsilon (
      pattern_piece_get_notch (cape_front (&r.c), notch)->amount, 130, 1e-6);
  finish (&r);
}

static void
test_band (void)
{
  Reshaping r = start ();
  const AppPick *pick = app_session_get_pick (r.c.session);
  cape_press (r.tool, 250, -60, 0);
  cape_drag (r.tool, 250, -60, 560, 120, 0);
  g_assert_false (geo_box_is_empty (app_tool_get_paint_box (r.tool)));
  cape_release (r.tool, 560, 120, 0);
  g_assert_cmpint (pick->kind, ==, APP_PICK_PIECES);
  g_assert_cmpuint (pick->n_ids, ==, 1);
  g_assert_cmpuint (pick->piece, ==, r.c.collar);
  cape_pull (r.tool, -60, -60, 560, 380, 0);
  g_assert_cmpuint (pick->n_ids, ==, 2);
  /* With an edge picked its nodes come first. */
  app_session_pick_edge (r.c.session, r.c.front, r.c.hem);
  cape_pull (r.tool, 240, 250, 160, 340, 0);
  g_assert_cmpint (pick->kind, ==, APP_PICK_NODES);
  g_assert_cmpuint (pick->n_ids, ==, 1);
  g_assert_cmpuint (pick->ids[0], ==, r.c.nodes[2]);
  finish (&r);
}

/* Freed in the middle of a drag, it leaves nothing behind. */
static void
test_free (void)
{
  Reshaping r = start ();
  const Pattern *before = app_session_get_pattern (r.c.session);
  cape_press (r.tool, 400, 30, 0);
  cape_drag (r.tool, 400, 30, 450, 90, 0);
  app_tool_free (r.tool);
  g_assert_true (app_session_get_shown (r.c.session) == before);
  cape_clear (&r.c);
}

/* Lies at 1000, 1000, half a mm a pixel: 200 by 100 mm. */
static guint
lay_picture (Reshaping *r, gboolean locked, gboolean hidden)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static ("not looked at", 13);
  g_autoptr (PatternPicture) picture
      = pattern_picture_new (0, "table.png", bytes, 400, 200);
  const double plane[9] = { 0.5, 0, 0, 0, 0.5, 0, 0, 0, 1 };
  memcpy (picture->plane, plane, sizeof plane);
  picture->place = geo_motion_move (1000, 1000);
  picture->locked = locked;
  picture->hidden = hidden;
  guint id = 0;
  Pattern *laid = drafting_put_picture (app_session_get_pattern (r->c.session),
                                        picture, &id, NULL);
  g_assert_true (app_session_do (r->c.session, "lay", NULL, laid, NULL));
  return id;
}

static GeoPoint
picture_corner (Reshaping *r, guint id)
{
  const PatternPicture *picture
      = pattern_get_picture (app_session_get_shown (r->c.session), id);
  GeoPoint corners[4];
  g_assert_nonnull (picture);
  pattern_picture_corners (picture, corners);
  return corners[0];
}

static void
assert_corner (Reshaping *r, guint id, double x, double y)
{
  GeoPoint at = picture_corner (r, id);
  g_assert_cmpfloat_with_epsilon (at.x, x, 1e-9);
  g_assert_cmpfloat_with_epsilon (at.y, y, 1e-9);
}

static void
test_picture (void)
{
  Reshaping r = start ();
  const AppPick *pick = app_session_get_pick (r.c.session);
  guint id = lay_picture (&r, FALSE, FALSE);
  guint before = steps (&r);
  cape_click (r.tool, 1199, 1099, 0);
  g_assert_cmpint (pick->kind, ==, APP_PICK_PICTURE);
  g_assert_cmpuint (pick->ids[0], ==, id);
  g_autofree char *words = app_session_describe_pick (r.c.session);
  g_assert_cmpstr (words, ==, "Picture table.png");
  GeoBox box = app_session_pick_box (r.c.session);
  g_assert_cmpfloat_with_epsilon (geo_box_width (box), 200, 1e-9);
  g_assert_cmpfloat_with_epsilon (geo_box_height (box), 100, 1e-9);
  g_assert_cmpuint (steps (&r), ==, before);
  cape_pull (r.tool, 1100, 1050, 1107, 1041, 0);
  assert_corner (&r, id, 1007, 991);
  g_assert_cmpuint (steps (&r), ==, before + 1);
  /* Shift: level. */
  cape_pull (r.tool, 1100, 1050, 1130, 1041, APP_MOD_SHIFT);
  assert_corner (&r, id, 1037, 991);
  /* A run of arrow keys is one step. */
  app_session_nudge (r.c.session, 0, 1);
  app_session_nudge (r.c.session, 0, 1);
  assert_corner (&r, id, 1037, 993);
  g_assert_cmpuint (steps (&r), ==, before + 3);
  app_session_undo (r.c.session);
  app_session_undo (r.c.session);
  app_session_undo (r.c.session);
  assert_corner (&r, id, 1000, 1000);
  /* By a quarter about its middle. */
  app_session_turn_pick (r.c.session, G_PI_2);
  assert_corner (&r, id, 1150, 950);
  app_session_delete_pick (r.c.session);
  g_assert_null (
      pattern_get_picture (app_session_get_pattern (r.c.session), id));
  g_assert_cmpint (pick->kind, ==, APP_PICK_NONE);
  app_session_undo (r.c.session);
  assert_corner (&r, id, 1150, 950);
  cape_click (r.tool, 900, 900, 0);
  g_assert_cmpint (pick->kind, ==, APP_PICK_NONE);
  finish (&r);
}

/* A piece over a picture comes first; locked and hidden pictures are not there, and what lies below
 * them is. */
static void
test_picture_below (void)
{
  Reshaping r = start ();
  const AppPick *pick = app_session_get_pick (r.c.session);
  guint id = lay_picture (&r, FALSE, FALSE);
  guint locked = lay_picture (&r, TRUE, FALSE);
  lay_picture (&r, FALSE, TRUE);
  cape_click (r.tool, 1100, 1050, 0);
  g_assert_cmpuint (pick->ids[0], ==, id);
  app_session_do (r.c.session, "unlock", NULL,
                  drafting_show_picture (app_session_get_pattern (r.c.session),
                                         locked, 0.5, FALSE, FALSE, NULL),
                  NULL);
  cape_click (r.tool, 1100, 1050, 0);
  g_assert_cmpuint (pick->ids[0], ==, locked);
  guint both[2] = { id, locked };
  for (guint i = 0; i < 2; i++)
    app_session_do (
        r.c.session, "lock", NULL,
        drafting_show_picture (app_session_get_pattern (r.c.session), both[i],
                               0.5, FALSE, TRUE, NULL),
        NULL);
  cape_click (r.tool, 1100, 1050, 0);
  g_assert_cmpint (pick->kind, ==, APP_PICK_NONE);
  /* Under the front. */
  guint under = lay_picture (&r, FALSE, FALSE);
  app_session_do (r.c.session, "move", NULL,
                  drafting_move_picture (app_session_get_pattern (r.c.session),
                                         under, geo_point (-1000, -900), 0,
                                         NULL),
                  NULL);
  cape_click (r.tool, 100, 150, 0);
  g_assert_cmpint (pick->kind, ==, APP_PICK_PIECES);
  finish (&r);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/reshape/hover", test_hover);
  g_test_add_func ("/reshape/click", test_click);
  g_test_add_func ("/reshape/drag-node", test_drag_node);
  g_test_add_func ("/reshape/drag-several", test_drag_several);
  g_test_add_func ("/reshape/snapping", test_snapping);
  g_test_add_func ("/reshape/escape", test_escape);
  g_test_add_func ("/reshape/undo-in-drag", test_undo_in_drag);
  g_test_add_func ("/reshape/drag-straight-edge", test_drag_straight_edge);
  g_test_add_func ("/reshape/bend", test_bend);
  g_test_add_func ("/reshape/tag-other-side", test_tag_other_side);
  g_test_add_func ("/reshape/handle", test_handle);
  g_test_add_func ("/reshape/double-click", test_double_click);
  g_test_add_func ("/reshape/piece", test_piece);
  g_test_add_func ("/reshape/turn", test_turn);
  g_test_add_func ("/reshape/notch", test_notch);
  g_test_add_func ("/reshape/band", test_band);
  g_test_add_func ("/reshape/free", test_free);
  g_test_add_func ("/reshape/picture", test_picture);
  g_test_add_func ("/reshape/picture-below", test_picture_below);
  return g_test_run ();
}
