/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draw, mark, baste and tape. */
#include "app/draft.h"
#include "cape.h"

static guint
steps (Cape *c)
{
  return pattern_history_get_length (app_session_get_history (c->session)) - 1;
}

static void
keep_text (AppSession *session, const char *text, char **kept)
{
  (void)session;
  g_free (*kept);
  *kept = g_strdup (text);
}

/* --- draw ------------------------------------------------------------------
 */

static void
test_draw (void)
{
  Cape c = cape_new ();
  g_signal_connect (c.session, "problem", G_CALLBACK (cape_no_problem), NULL);
  AppTool *tool = app_tool_new (APP_TOOL_DRAW, c.session);
  cape_click (tool, 600, 100, APP_MOD_CTRL);
  cape_click (tool, 700, 100, APP_MOD_CTRL);
  cape_hover (tool, 700, 130);
  g_assert_cmpstr (app_tool_get_tag (tool), ==, "30.0 mm\nupright");
  cape_click (tool, 700, 220, APP_MOD_CTRL);
  cape_click (tool, 650, 300, APP_MOD_CTRL);
  g_assert_true (app_tool_key (tool, APP_KEY_BACKSPACE));
  /* A press with a drag is a smooth node. */
  cape_pull (tool, 600, 240, 570, 240, APP_MOD_CTRL);
  g_assert_cmpuint (steps (&c), ==, 0);
  g_assert_true (app_tool_is_busy (tool));
  /* On the first node it closes. */
  cape_hover (tool, 601, 101);
  g_assert_nonnull (strstr (app_tool_get_tag (tool), "closes it"));
  cape_click (tool, 601, 101, 0);
  g_assert_cmpuint (steps (&c), ==, 1);
  g_assert_false (app_tool_is_busy (tool));
  const Pattern *p = app_session_get_pattern (c.session);
  g_assert_cmpuint (p->n_pieces, ==, 3);
  const PatternPiece *piece = p->pieces[2];
  g_assert_cmpuint (piece->n_nodes, ==, 4);
  g_assert_cmpuint (app_session_get_pick (c.session)->piece, ==, piece->id);
  g_assert_cmpfloat (pattern_edge_width (&piece->edges[0]), ==, 10);
  gboolean smooth = FALSE;
  for (guint i = 0; i < 4; i++)
    if (geo_same (piece->nodes[i].at, geo_point (600, 240)))
      smooth = piece->nodes[i].kind != PATTERN_NODE_CORNER
               && fabs (piece->nodes[i].out.x - 570) < 1e-9
               && fabs (piece->nodes[i].in.x - 630) < 1e-9;
  g_assert_true (smooth);
  app_tool_free (tool);
  cape_clear (&c);
}

static void
test_draw_keys (void)
{
  Cape c = cape_new ();
  AppTool *tool = app_tool_new (APP_TOOL_DRAW, c.session);
  g_autofree char *told = NULL;
  g_signal_connect (c.session, "problem", G_CALLBACK (keep_text), &told);
  g_assert_false (app_tool_key (tool, APP_KEY_ESCAPE));
  cape_click (tool, 600, 100, APP_MOD_CTRL);
  cape_click (tool, 700, 100, APP_MOD_CTRL);
  /* Two corners are no outline; what is drawn stays. */
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_nonnull (told);
  g_assert_true (app_tool_is_busy (tool));
  cape_click (tool, 660, 200, APP_MOD_CTRL);
  g_assert_true (app_tool_key (tool, APP_KEY_ESCAPE));
  g_assert_false (app_tool_is_busy (tool));
  g_assert_cmpuint (steps (&c), ==, 0);
  cape_click (tool, 600, 100, APP_MOD_CTRL);
  cape_click (tool, 700, 100, APP_MOD_CTRL);
  cape_click (tool, 660, 200, APP_MOD_CTRL);
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_cmpuint (app_session_get_pattern (c.session)->n_pieces, ==, 3);
  /* Shift: the next corner keeps to a direction. */
  cape_click (tool, 900, 100, APP_MOD_CTRL);
  cape_press (tool, 980, 130, APP_MOD_SHIFT);
  GeoBox box = app_tool_get_paint_box (tool);
  g_assert_cmpfloat (box.y0, <, 101);
  cape_release (tool, 980, 130, APP_MOD_SHIFT);
  cape_click (tool, 960, 200, APP_MOD_CTRL);
  app_tool_key (tool, APP_KEY_ENTER);
  const PatternPiece *piece = app_session_get_pattern (c.session)->pieces[3];
  gboolean level = FALSE;
  for (guint i = 0; i < 3; i++)
    level |= geo_same (piece->nodes[i].at, geo_point (980, 100));
  g_assert_true (level);
  app_tool_free (tool);
  cape_clear (&c);
}

static void
type (AppTool *tool, const char *text)
{
  for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c))
    g_assert_true (app_tool_type (tool, g_utf8_get_char (c)));
}

static gboolean
has_node (const PatternPiece *piece, double x, double y)
{
  for (guint i = 0; i < piece->n_nodes; i++)
    if (geo_distance (piece->nodes[i].at, geo_point (x, y)) < 1e-9)
      return TRUE;
  return FALSE;
}

/* "Square down 24 cm, across 2 in, up at 60 degrees": every corner lies where the sums say. */
static void
test_draw_typed (void)
{
  Cape c = cape_new ();
  g_signal_connect (c.session, "problem", G_CALLBACK (cape_no_problem), NULL);
  AppTool *tool = app_tool_new (APP_TOOL_DRAW, c.session);
  /* Nothing to measure from yet; and a letter is a tool's key. */
  g_assert_false (app_tool_type (tool, '2'));
  cape_click (tool, 600, 100, APP_MOD_CTRL);
  g_assert_false (app_tool_type (tool, 'm'));
  g_assert_false (app_tool_key (tool, APP_KEY_TAB));
  cape_hover (tool, 601, 150);
  type (tool, "24 cm");
  GeoPoint at;
  g_assert_true (app_tool_get_tag_place (tool, &at));
  g_assert_cmpfloat_with_epsilon (geo_distance (at, geo_point (600, 100)), 240,
                                  1e-9);
  g_assert_true (
      g_str_has_prefix (app_tool_get_tag (tool), "length  24 cm|\nangle  "));
  g_assert_nonnull (strstr (app_tool_get_tag (tool), "\n=  240.0 mm"));
  /* Drawn to the upright, as a click there would be. */
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_false (app_tool_get_tag_place (tool, &at));
  type (tool, "2 in");
  g_assert_true (app_tool_key (tool, APP_KEY_RIGHT));
  g_assert_nonnull (strstr (app_tool_get_tag (tool), "angle  0"));
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  type (tool, "100");
  g_assert_true (app_tool_key (tool, APP_KEY_TAB));
  type (tool, "61");
  g_assert_true (app_tool_key (tool, APP_KEY_BACKSPACE));
  type (tool, "0,0");
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  const PatternPiece *piece = app_session_get_pattern (c.session)->pieces[2];
  g_assert_cmpuint (piece->n_nodes, ==, 4);
  g_assert_true (has_node (piece, 600, 340));
  g_assert_true (has_node (piece, 650.8, 340));
  g_assert_true (has_node (piece, 700.8, 340 - 50 * sqrt (3)));
  g_assert_cmpstr (piece->name, ==, "Piece 3");
  g_assert_true (app_tool_is_done (tool));
  app_tool_free (tool);
  cape_clear (&c);
}

static void
test_draw_typed_leaves (void)
{
  Cape c = cape_new ();
  AppTool *tool = app_tool_new (APP_TOOL_DRAW, c.session);
  g_autofree char *told = NULL;
  g_signal_connect (c.session, "problem", G_CALLBACK (keep_text), &told);
  cape_click (tool, 600, 100, APP_MOD_CTRL);
  /* What can't be read is told, and stays to be mended. */
  cape_hover (tool, 700, 100);
  type (tool, "12 x");
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_nonnull (told);
  g_clear_pointer (&told, g_free);
  for (int i = 0; i < 4; i++)
    g_assert_true (app_tool_key (tool, APP_KEY_BACKSPACE));
  g_assert_false (app_tool_key (tool, APP_KEY_TAB));
  g_assert_true (app_tool_is_busy (tool));
  /* Nothing is no length; where no direction is known, it is asked for. */
  type (tool, "0");
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_nonnull (told);
  g_clear_pointer (&told, g_free);
  g_assert_true (app_tool_key (tool, APP_KEY_ESCAPE));
  g_assert_true (app_tool_is_busy (tool));
  /* A click sets the corner at the typed length towards the pointer; one typed
   * back onto the first closes the outline. */
  type (tool, "50");
  cape_click (tool, 700, 100, APP_MOD_CTRL);
  type (tool, "50");
  g_assert_true (app_tool_key (tool, APP_KEY_DOWN));
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  type (tool, "50*2^0");
  g_assert_true (app_tool_key (tool, APP_KEY_ESCAPE));
  type (tool, "50");
  g_assert_true (app_tool_key (tool, APP_KEY_LEFT));
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  type (tool, "50");
  g_assert_true (app_tool_key (tool, APP_KEY_UP));
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_null (told);
  const PatternPiece *piece = app_session_get_pattern (c.session)->pieces[2];
  g_assert_cmpuint (piece->n_nodes, ==, 4);
  g_assert_true (has_node (piece, 650, 150));
  app_tool_free (tool);
  cape_clear (&c);
}

/* A name that stands already is not given again. */
static void
test_draw_names (void)
{
  Cape c = cape_new ();
  GError *error = NULL;
  app_session_do (c.session, "name", NULL,
                  drafting_set_piece_name (app_session_get_pattern (c.session),
                                           c.collar, "piece 3", &error),
                  &error);
  AppTool *tool = app_tool_new (APP_TOOL_DRAW, c.session);
  cape_click (tool, 600, 100, APP_MOD_CTRL);
  cape_click (tool, 700, 100, APP_MOD_CTRL);
  cape_click (tool, 660, 200, APP_MOD_CTRL);
  g_assert_false (app_tool_is_done (tool));
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_cmpstr (app_session_get_pattern (c.session)->pieces[2]->name, ==,
                   "Piece 4");
  app_tool_free (tool);
  cape_clear (&c);
}

/* --- mark ------------------------------------------------------------------
 */

static const PatternNotch *
only_notch (Cape *c)
{
  const PatternPiece *front = cape_front (c);
  g_assert_cmpuint (front->n_notches, ==, 1);
  return &front->notches[0];
}

static void
test_mark (void)
{
  Cape c = cape_new ();
  g_signal_connect (c.session, "problem", G_CALLBACK (cape_no_problem), NULL);
  AppTool *tool = app_tool_new (APP_TOOL_MARK, c.session);
  cape_hover (tool, 201, 80);
  g_assert_cmpstr (app_tool_get_tag (tool), ==, "side  80.0 mm | 220.0 mm");
  cape_click (tool, 201, 80, 0);
  const PatternNotch *notch = only_notch (&c);
  g_assert_cmpint (notch->from, ==, PATTERN_FROM_START);
  g_assert_cmpfloat_with_epsilon (notch->amount, 80, 1e-6);
  g_assert_cmpint (notch->count, ==, 1);
  g_assert_cmpuint (app_session_get_pick (c.session)->ids[0], ==, notch->id);
  /* Again and again: two strokes, three, one. */
  for (int i = 0; i < 3; i++)
    {
      cape_click (tool, 206, 80, 0);
      g_assert_cmpint (only_notch (&c)->count, ==, (i + 1) % 3 + 1);
    }
  g_assert_cmpuint (steps (&c), ==, 4);
  /* Drawn to the middle, unless Ctrl is held; past it, it counts from the other
   * end. */
  cape_pull (tool, 206, 80, 206, 152, 0);
  g_assert_cmpfloat_with_epsilon (only_notch (&c)->amount, 150, 1e-6);
  cape_pull (tool, 206, 150, 206, 152, APP_MOD_CTRL);
  cape_pull (tool, 206, 150, 206, 162, APP_MOD_CTRL);
  g_assert_cmpfloat_with_epsilon (only_notch (&c)->amount, 162, 1e-6);
  app_session_go (c.session, 0);
  cape_click (tool, 200, 280, 0);
  g_assert_cmpint (only_notch (&c)->from, ==, PATTERN_FROM_END);
  g_assert_cmpfloat_with_epsilon (only_notch (&c)->amount, 20, 1e-6);
  app_tool_free (tool);
  cape_clear (&c);
}

static void
test_mark_strike (void)
{
  Cape c = cape_new ();
  AppTool *tool = app_tool_new (APP_TOOL_MARK, c.session);
  const Pattern *p;
  cape_click (tool, 360, 60, APP_MOD_SHIFT | APP_MOD_CTRL);
  p = app_session_get_pattern (c.session);
  g_assert_cmpuint (pattern_get_piece (p, c.collar)->n_notches, ==, 1);
  g_assert_cmpuint (cape_front (&c)->n_notches, ==, 1);
  g_assert_cmpuint (steps (&c), ==, 1);
  app_session_undo (c.session);
  /* On one side first; hovering the other side draws to what faces it. Walked
   * from the centre front: the collar's neck runs the other way. */
  cape_click (tool, 360, 60, APP_MOD_CTRL);
  const SewingSeam *seam = sewing_facts_seam (
      app_session_get_facts (c.session), app_session_get_pattern (c.session),
      pattern_get_seam (app_session_get_pattern (c.session), c.seam));
  double faced = seam->lengths[0] * 60 / 200;
  const SewingPiece *front
      = sewing_facts_piece (app_session_get_facts (c.session), cape_front (&c));
  GeoPoint near = geo_chain_point (
      &front->stitch[0], geo_ruler_place (&front->rulers[0], faced + 2));
  cape_hover (tool, near.x, near.y);
  g_assert_nonnull (
      strstr (app_tool_get_tag (tool), "faces the notch across the seam"));
  cape_click (tool, near.x, near.y, 0);
  g_assert_cmpfloat_with_epsilon (only_notch (&c)->amount, faced, 1e-6);
  app_tool_free (tool);
  cape_clear (&c);
}

static void
test_mark_inside (void)
{
  Cape c = cape_new ();
  AppTool *tool = app_tool_new (APP_TOOL_MARK, c.session);
  cape_click (tool, 100, 180, 0);
  g_assert_cmpuint (cape_front (&c)->n_drills, ==, 1);
  g_assert_true (
      geo_same (cape_front (&c)->drills[0].at, geo_point (100, 180)));
  cape_press (tool, 40, 220, 0);
  cape_drag (tool, 40, 220, 65, 221, 0);
  g_assert_cmpstr (app_tool_get_tag (tool), ==,
                   "buttonhole  25.0 mm\nsquare to the grain");
  cape_release (tool, 65, 221, 0);
  const PatternPiece *front = cape_front (&c);
  g_assert_cmpuint (front->n_drills, ==, 1);
  g_assert_cmpuint (front->n_buttonholes, ==, 1);
  g_assert_cmpfloat_with_epsilon (front->buttonholes[0].length, 25, 1e-9);
  g_assert_cmpfloat_with_epsilon (front->buttonholes[0].angle, 0, 1e-9);
  /* Escape with the button down. */
  const Pattern *before = app_session_get_pattern (c.session);
  cape_press (tool, 120, 200, 0);
  g_assert_true (app_session_is_previewing (c.session));
  g_assert_true (app_tool_key (tool, APP_KEY_ESCAPE));
  cape_release (tool, 120, 200, 0);
  g_assert_true (app_session_get_shown (c.session) == before);
  app_tool_free (tool);
  cape_clear (&c);
}

/* --- baste -----------------------------------------------------------------
 */

static void
test_baste (void)
{
  Cape c = cape_new ();
  g_signal_connect (c.session, "problem", G_CALLBACK (cape_no_problem), NULL);
  AppTool *tool = app_tool_new (APP_TOOL_BASTE, c.session);
  cape_hover (tool, 100, 300);
  g_assert_cmpstr (app_tool_get_tag (tool), ==, "hem  200.0 mm");
  cape_click (tool, 100, 300, 0);
  g_assert_true (app_tool_is_busy (tool));
  cape_hover (tool, 200, 150);
  g_assert_cmpstr (app_tool_get_tag (tool), ==,
                   "hem  200.0 mm\nside  300.0 mm\n"
                   "the first is  100.0 mm shorter");
  cape_hover (tool, 400, 0);
  g_assert_cmpstr (app_tool_get_tag (tool), ==,
                   "hem  200.0 mm\ncollar outer  200.0 mm\nthey match");
  cape_click (tool, 400, 0, 0);
  g_assert_cmpuint (steps (&c), ==, 1);
  const AppPick *pick = app_session_get_pick (c.session);
  g_assert_cmpint (pick->kind, ==, APP_PICK_SEAM);
  const Pattern *p = app_session_get_pattern (c.session);
  const PatternSeam *seam = pattern_get_seam (p, pick->ids[0]);
  g_assert_cmpuint (seam->sides[0].runs[0].edge, ==, c.hem);
  g_assert_cmpuint (seam->sides[1].runs[0].edge, ==, c.collar_outer);
  g_assert_false (app_tool_is_busy (tool));
  /* Shift: one more edge, to the shorter side. Sides are equal, so it is side
   * A. */
  cape_click (tool, 200, 150, APP_MOD_SHIFT);
  p = app_session_get_pattern (c.session);
  seam = pattern_get_seam (p, pick->ids[0]);
  g_assert_cmpuint (seam->sides[0].n_runs, ==, 2);
  g_assert_cmpuint (seam->sides[0].runs[1].edge, ==, c.side);
  g_assert_true (seam->sides[0].runs[1].reversed
                 == seam->sides[0].runs[0].reversed);
  app_tool_free (tool);
  cape_clear (&c);
}

/* Without a pointer: Enter takes the edge that is picked. */
static void
test_keys (void)
{
  Cape c = cape_new ();
  AppSession *s = c.session;
  g_signal_connect (s, "problem", G_CALLBACK (cape_no_problem), NULL);
  AppTool *tool = app_tool_new (APP_TOOL_BASTE, s);
  g_assert_false (app_tool_key (tool, APP_KEY_ENTER));
  app_session_pick_edge (s, c.front, c.hem);
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_true (app_tool_key (tool, APP_KEY_ESCAPE));
  g_assert_cmpint (app_session_get_pick (s)->kind, ==, APP_PICK_PIECES);
  g_assert_true (app_tool_is_busy (tool));
  app_session_pick_edge (s, c.collar, c.collar_outer);
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_cmpint (app_session_get_pick (s)->kind, ==, APP_PICK_SEAM);
  g_assert_cmpuint (steps (&c), ==, 1);
  app_tool_free (tool);
  tool = app_tool_new (APP_TOOL_MARK, s);
  app_session_pick_edge (s, c.front, c.side);
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_cmpfloat (pattern_notch_place (&cape_front (&c)->notches[0], 300),
                     ==, 150);
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_cmpint (cape_front (&c)->notches[0].count, ==, 2);
  app_session_nudge (s, 0, 5);
  g_assert_cmpfloat_with_epsilon (
      pattern_notch_place (&cape_front (&c)->notches[0], 300), 155, 1e-9);
  app_tool_free (tool);
  cape_clear (&c);
}

static void
test_baste_leave (void)
{
  Cape c = cape_new ();
  AppTool *tool = app_tool_new (APP_TOOL_BASTE, c.session);
  cape_click (tool, 100, 300, 0);
  g_assert_true (app_tool_key (tool, APP_KEY_ESCAPE));
  g_assert_false (app_tool_key (tool, APP_KEY_ESCAPE));
  cape_click (tool, 100, 300, 0);
  cape_click (tool, 100, 300, 0);
  g_assert_false (app_tool_is_busy (tool));
  g_assert_cmpuint (steps (&c), ==, 0);
  /* What can't be sewn is told, and nothing is made. */
  g_autofree char *told = NULL;
  g_signal_connect (c.session, "problem", G_CALLBACK (keep_text), &told);
  cape_click (tool, 100, 45, 0);
  cape_click (tool, 400, 60, 0);
  g_assert_nonnull (told);
  g_assert_cmpuint (steps (&c), ==, 0);
  app_tool_free (tool);
  cape_clear (&c);
}

/* --- tape ------------------------------------------------------------------
 */

static void
test_tape (void)
{
  Cape c = cape_new ();
  AppTool *tool = app_tool_new (APP_TOOL_TAPE, c.session);
  /* Drawn to nodes at both ends: 300 across, 60 down from (0, 0) to (300, 60).
   */
  cape_pull (tool, 1, 1, 301, 61, 0);
  g_assert_cmpstr (app_tool_get_tag (tool), ==,
                   "straight  305.9 mm\nacross  300.0 mm\ndown  60.0 mm");
  g_assert_true (app_tool_key (tool, APP_KEY_ESCAPE));
  g_assert_null (app_tool_get_tag (tool));
  /* 3-4-5, no snapping. */
  cape_pull (tool, 20, 120, 50, 160, APP_MOD_CTRL);
  g_assert_true (
      g_str_has_prefix (app_tool_get_tag (tool), "straight  50.0 mm\n"));
  cape_click (tool, 200, 40, 0);
  cape_hover (tool, 190, 110);
  g_assert_cmpstr (app_tool_get_tag (tool), ==,
                   "along the edge  70.0 mm\nside  300.0 mm");
  cape_click (tool, 201, 140, 0);
  g_assert_cmpstr (app_tool_get_tag (tool), ==,
                   "along the edge  100.0 mm\nside  300.0 mm");
  g_assert_cmpuint (steps (&c), ==, 0);
  app_tool_free (tool);
  cape_clear (&c);
}

/* A line across the front begins a slash with its amounts to fill in; done, it is one step. Off all pieces
 * nothing begins. */
static void
test_slash (void)
{
  Cape c = cape_new ();
  AppTool *tool = app_tool_new (APP_TOOL_SLASH, c.session);
  cape_pull (tool, -20, 150, 90, 150, APP_MOD_CTRL);
  g_assert_null (app_draft_get (c.session));
  cape_pull (tool, -20, 150, 230, 150, APP_MOD_CTRL);
  AppDraft *draft = app_draft_get (c.session);
  g_assert_nonnull (draft);
  g_assert_cmpstr (app_draft_get_verb (draft)->name, ==, "slash-line");
  g_assert_true (app_session_is_previewing (c.session));
  guint open = app_draft_get_active (draft);
  g_assert_cmpstr (app_draft_get_verb (draft)->parameters[open].key, ==,
                   "open");
  app_draft_set_text (draft, open, "30");
  app_draft_set_text (draft, open + 1, "30");
  double before = pattern_piece_area (
      pattern_get_piece (app_session_get_pattern (c.session), c.front));
  g_assert_true (app_draft_do (draft));
  g_assert_cmpuint (steps (&c), ==, 1);
  g_assert_cmpfloat (fabs (pattern_piece_area (pattern_get_piece (
                               app_session_get_pattern (c.session), c.front))
                           - before - 200 * 30),
                     <, 1e-6);
  /* With Alt it is split in two. */
  cape_pull (tool, -20, 150, 230, 160, APP_MOD_CTRL | APP_MOD_ALT);
  draft = app_draft_get (c.session);
  g_assert_cmpstr (app_draft_get_verb (draft)->name, ==, "split-piece");
  g_assert_true (app_draft_do (draft));
  g_assert_cmpuint (app_session_get_pattern (c.session)->n_pieces, ==, 3);
  app_tool_free (tool);
  cape_clear (&c);
}

/* Every tool has a name, a hint and a cursor, and stands being fed anything. */
static void
test_all (void)
{
  Cape c = cape_new ();
  for (int kind = 0; kind < APP_N_TOOLS; kind++)
    {
      AppTool *tool = app_tool_new ((AppToolKind)kind, c.session);
      g_assert_cmpint (app_tool_get_kind (tool), ==, kind);
      g_assert_cmpuint (strlen (app_tool_name ((AppToolKind)kind)), >, 0);
      g_assert_cmpuint (strlen (app_tool_hint (tool)), >, 0);
      for (int i = 0; i < 1500; i++)
        {
          AppPointer p = cape_pointer (g_test_rand_double_range (-50, 560),
                                       g_test_rand_double_range (-50, 350),
                                       (guint)g_test_rand_int_range (0, 8));
          p.presses = g_test_rand_int_range (1, 3);
          switch (g_test_rand_int_range (0, 8))
            {
            case 0:
              app_tool_hover (tool, &p);
              break;
            case 1:
            case 2:
              app_tool_press (tool, &p);
              break;
            case 3:
            case 4:
              app_tool_drag (tool, &p);
              break;
            case 5:
              app_tool_release (tool, &p);
              break;
            case 6:
              app_tool_key (tool, (AppKey)g_test_rand_int_range (0, 4));
              break;
            default:
              if (g_test_rand_int_range (0, 6) == 0)
                app_session_undo (c.session);
              else
                app_tool_leave (tool);
              break;
            }
          g_assert_cmpuint (strlen (app_tool_get_cursor (tool)), >, 0);
          g_autofree char *unsound
              = pattern_unsound (app_session_get_shown (c.session));
          g_assert_cmpstr (unsound, ==, NULL);
        }
      app_tool_free (tool);
      app_draft_end (c.session); /* what Slash began goes on without it */
      app_session_go (c.session, 0);
      g_assert_false (app_session_is_previewing (c.session));
    }
  cape_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/click-and-drag", test_draw);
  g_test_add_func ("/draw/keys", test_draw_keys);
  g_test_add_func ("/draw/typed", test_draw_typed);
  g_test_add_func ("/draw/typed-leaves", test_draw_typed_leaves);
  g_test_add_func ("/draw/names", test_draw_names);
  g_test_add_func ("/mark/notch", test_mark);
  g_test_add_func ("/mark/strike", test_mark_strike);
  g_test_add_func ("/mark/inside", test_mark_inside);
  g_test_add_func ("/baste/pair", test_baste);
  g_test_add_func ("/baste/keys", test_keys);
  g_test_add_func ("/baste/leave", test_baste_leave);
  g_test_add_func ("/tape/measure", test_tape);
  g_test_add_func ("/slash/line", test_slash);
  g_test_add_func ("/tools/anything", test_all);
  return g_test_run ();
}
