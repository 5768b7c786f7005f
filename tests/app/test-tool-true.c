/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Truing in hand: what the pointer and the keys do, without a display. */
#include <math.h>
#include <string.h>

#include "../sewing/builder.h"
#include "app/session.h"
#include "app/tool-true.h"
#include "geometry/length.h"

#define near_to(a, b, within) g_assert_cmpfloat (fabs ((a) - (b)), <=, (within))

/* Three panels with their hems out of true at both seams, on a fold at the left. */
static const char *const panels
    = "unit mm\n"
      "piece one\nat 0 0\nedge top seam 10\nline 100 0\nedge right seam 10\n"
      "line 100 300\nedge hem hem 40\nline 0 310\nedge left fold 0\n"
      "piece two\nat 200 0\nedge top seam 10\nline 300 0\nedge right seam 10\n"
      "line 300 300\nedge hem hem 40\ncurve 270 312 230 312 200 300\n"
      "edge left seam 10\n"
      "piece three\nat 400 0\nedge top seam 10\nline 500 0\n"
      "edge right seam 10\nline 500 320\nedge hem hem 40\nline 400 300\n"
      "edge left seam 10\n"
      "seam first open 0 one.right / two.left~\n"
      "seam second open 0 two.right / three.left~\n";

typedef struct
{
  AppSession *session;
  AppTool *tool;
  char *problem;
} Table;

static void
keep (AppSession *session, const char *text, char **kept)
{
  (void)session;
  g_free (*kept);
  *kept = g_strdup (text);
}

static guint
seam_of (Table *t, const char *name)
{
  return builder_seam (app_session_get_pattern (t->session), name)->id;
}

static void
table_init (Table *t)
{
  *t = (Table){ .session = app_session_new (builder_read (panels)) };
  g_signal_connect (t->session, "problem", G_CALLBACK (keep), &t->problem);
  t->tool = app_tool_new (APP_TOOL_TRUE, t->session);
  g_assert_false (app_true_is_open (t->tool));
  g_assert_true (app_true_open (t->tool, seam_of (t, "first"), 1));
}

static void
table_clear (Table *t)
{
  app_tool_free (t->tool);
  g_object_unref (t->session);
  g_free (t->problem);
}

static guint
steps (Table *t)
{
  return pattern_history_get_length (app_session_get_history (t->session)) - 1;
}

static double
length_of (Table *t, const char *piece, const char *edge)
{
  const Pattern *p = app_session_get_shown (t->session);
  const PatternPiece *own = builder_piece (p, piece);
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (
      own,
      (guint)pattern_piece_find_edge (own, builder_edge (p, piece, edge)->id),
      &chain);
  double length = geo_chain_length (&chain, 1e-10);
  geo_chain_clear (&chain);
  return length;
}

static double
angle_of (Table *t, guint joint)
{
  return app_true_get_line (t->tool)->joints[joint].angle;
}

static AppPointer
at (double x, double y)
{
  return (AppPointer){ .at = { x, y }, .mm_per_px = 0.5, .presses = 1 };
}

static void
pull (AppTool *tool, double x, double y, double to_x, double to_y)
{
  AppPointer p = at (x, y);
  app_tool_hover (tool, &p);
  app_tool_press (tool, &p);
  for (int i = 1; i <= 4; i++)
    {
      p = at (x + (to_x - x) * i / 4, y + (to_y - y) * i / 4);
      app_tool_drag (tool, &p);
    }
  app_tool_release (tool, &p);
}

static void
type (AppTool *tool, const char *text)
{
  for (; *text != '\0'; text++)
    g_assert_true (app_tool_type (tool, (gunichar)*text));
}

static void
test_open (void)
{
  Table t;
  table_init (&t);
  int end = -1;
  g_assert_true (app_true_find_end (t.session, seam_of (&t, "first"), &end));
  g_assert_cmpint (end, ==, 1);
  g_assert_cmpuint (app_true_n_joints (t.tool), ==, 2);
  g_assert_cmpuint (app_true_get_joint (t.tool), ==, 0);
  g_assert_true (app_true_can_square (t.tool));
  g_assert_false (app_true_is_changed (t.tool));
  g_assert_cmpuint (app_session_get_pick (t.session)->kind, ==, APP_PICK_SEAM);
  g_autofree char *title = app_true_title (t.tool);
  g_assert_cmpstr (title, ==, "Hem across first");
  g_assert_false (app_true_open (t.tool, 12345, 0));
  g_assert_nonnull (t.problem);
  table_clear (&t);
}

/* By keys alone: a reach typed blends at once; all joints; Enter is one step. */
static void
test_blend_by_keys (void)
{
  Table t;
  table_init (&t);
  type (t.tool, "30");
  g_assert_cmpstr (app_tool_get_tag (t.tool), ==, "reach  30|");
  near_to (app_true_get_reach (t.tool), 30, 0);
  g_assert_true (app_true_is_blending (t.tool));
  near_to (angle_of (&t, 0), G_PI, 1e-6);
  g_assert_cmpfloat (fabs (angle_of (&t, 1) - G_PI), >, 0.05);
  g_assert_cmpuint (steps (&t), ==, 0);
  g_assert_true (app_tool_key (t.tool, APP_KEY_ENTER)); /* ends typing */
  g_assert_null (app_tool_get_tag (t.tool));
  type (t.tool, "a");
  near_to (angle_of (&t, 0), G_PI, 1e-6);
  near_to (angle_of (&t, 1), G_PI, 1e-6);
  near_to (length_of (&t, "two", "left"), 300, 1e-6);
  near_to (length_of (&t, "two", "right"), 300, 1e-6);
  g_autofree char *angle = app_true_angle_words (t.tool);
  g_assert_cmpstr (angle, ==, "true");
  g_assert_true (app_tool_key (t.tool, APP_KEY_ENTER));
  g_assert_true (app_tool_is_done (t.tool));
  g_assert_cmpuint (steps (&t), ==, 1);
  g_assert_false (app_session_is_previewing (t.session));
  table_clear (&t);
}

static void
test_escape (void)
{
  Table t;
  table_init (&t);
  const Pattern *before = app_session_get_pattern (t.session);
  type (t.tool, "bq");
  g_assert_true (app_true_is_changed (t.tool));
  near_to (app_true_get_line (t.tool)->ends[0].angle, G_PI / 2, 1e-9);
  g_assert_true (app_tool_key (t.tool, APP_KEY_ESCAPE));
  g_assert_true (app_tool_is_done (t.tool));
  g_assert_true (app_session_get_shown (t.session) == before);
  g_assert_cmpuint (steps (&t), ==, 0);
  table_clear (&t);
}

/* A reach with no room: said, and nothing shown but what there was. */
static void
test_trouble (void)
{
  Table t;
  table_init (&t);
  app_true_set_reach (t.tool, 4000);
  g_assert_nonnull (app_true_get_trouble (t.tool));
  g_assert_false (app_true_is_changed (t.tool));
  app_true_set_reach (t.tool, 40);
  g_assert_null (app_true_get_trouble (t.tool));
  g_assert_true (app_true_is_changed (t.tool));
  table_clear (&t);
}

/* Dragging the curve bends it and keeps the joint smooth; the joint slides along its seam;
 * each is taken back by itself. */
static void
test_drag (void)
{
  Table t;
  table_init (&t);
  app_true_set_blending (t.tool, TRUE);
  const SewingLine *line = app_true_get_line (t.tool);
  double length = line->length;
  GeoPoint joint = line->joints[0].at;
  pull (t.tool, joint.x, joint.y, joint.x + 2, joint.y + 8);
  near_to (length_of (&t, "one", "right"), 308, 1e-6);
  near_to (length_of (&t, "two", "left"), 308, 1e-6);
  g_assert_false (app_true_is_blending (t.tool));
  g_assert_cmpuint (steps (&t), ==, 0);
  g_assert_true (app_true_take_back (t.tool));
  near_to (length_of (&t, "one", "right"), 300, 1e-6);
  near_to (app_true_get_line (t.tool)->length, length, 1e-6);
  g_assert_true (app_true_take_back (t.tool)); /* the blend */
  g_assert_false (app_true_is_changed (t.tool));
  g_assert_false (app_true_take_back (t.tool));

  /* The middle of two's hem, laid beside one. */
  line = app_true_get_line (t.tool);
  GeoPoint middle = geo_cubic_point (&line->runs[1].laid.cubics[0], 0.5);
  pull (t.tool, middle.x, middle.y, middle.x, middle.y + 6);
  g_assert_true (app_true_is_changed (t.tool));
  near_to (angle_of (&t, 0), G_PI, 1e-9);
  near_to (angle_of (&t, 1), G_PI, 1e-9);
  g_assert_true (app_tool_key (t.tool, APP_KEY_ENTER));
  g_assert_cmpuint (steps (&t), ==, 1);
  table_clear (&t);
}

/* Tab goes along the line's nodes; arrows move the one come to; a run of them is one
 * step to take back. */
static void
test_nudge (void)
{
  Table t;
  table_init (&t);
  g_assert_true (app_tool_key (t.tool, APP_KEY_TAB)); /* the fold's end */
  g_assert_true (app_tool_key (t.tool, APP_KEY_TAB)); /* the first joint */
  for (int i = 0; i < 3; i++)
    g_assert_true (app_tool_key (t.tool, APP_KEY_DOWN));
  near_to (length_of (&t, "one", "right"), 303, 1e-6);
  near_to (length_of (&t, "two", "left"), 303, 1e-6);
  g_assert_true (app_tool_key (t.tool, APP_KEY_BACKSPACE));
  near_to (length_of (&t, "one", "right"), 300, 1e-6);
  /* Escape lets go of the node first. */
  g_assert_true (app_tool_key (t.tool, APP_KEY_ESCAPE));
  g_assert_false (app_tool_is_done (t.tool));
  g_assert_true (app_tool_key (t.tool, APP_KEY_RIGHT));
  g_assert_cmpuint (app_true_get_joint (t.tool), ==, 1);
  table_clear (&t);
}

/* What is undone behind it begins it anew; a seam that is gone ends it. */
static void
test_follows (void)
{
  Table t;
  table_init (&t);
  guint seam = seam_of (&t, "first");
  app_true_set_blending (t.tool, TRUE);
  GError *error = NULL;
  g_assert_true (app_session_do (
      t.session, "x", NULL,
      drafting_set_seam_allowance (app_session_get_pattern (t.session), seam,
                                   12, &error),
      &error));
  app_tool_hint (t.tool);
  g_assert_true (app_true_is_open (t.tool));
  g_assert_false (app_true_is_changed (t.tool));
  g_assert_true (app_session_do (
      t.session, "x", NULL,
      drafting_remove_seam (app_session_get_pattern (t.session), seam, &error),
      &error));
  app_tool_hint (t.tool);
  g_assert_false (app_true_is_open (t.tool));
  g_assert_true (app_tool_is_done (t.tool));
  table_clear (&t);
}

/* All of it painted, on a small sheet; what it paints lies in the box it tells. */
static void
test_paint (void)
{
  Table t;
  table_init (&t);
  type (t.tool, "ca");
  app_true_set_reach (t.tool, 40);
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 400, 300);
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, 0.5, 0.5);
  DrawingStyle style = drawing_style_table (2, FALSE);
  app_tool_paint (t.tool, cr, &style, 2);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_flush (surface);
  guint painted = 0;
  const guint8 *data = cairo_image_surface_get_data (surface);
  for (int i = 0; i < 400 * 300; i++)
    painted += data[4 * i + 3] != 0;
  g_assert_cmpuint (painted, >, 10000);
  GeoBox box = app_tool_get_paint_box (t.tool);
  GeoBox view = app_true_view_box (t.tool);
  g_assert_true (box.x0 < view.x0 && box.y1 > view.y1);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  table_clear (&t);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/tool-true/open", test_open);
  g_test_add_func ("/app/tool-true/blend-by-keys", test_blend_by_keys);
  g_test_add_func ("/app/tool-true/escape", test_escape);
  g_test_add_func ("/app/tool-true/trouble", test_trouble);
  g_test_add_func ("/app/tool-true/drag", test_drag);
  g_test_add_func ("/app/tool-true/nudge", test_nudge);
  g_test_add_func ("/app/tool-true/follows", test_follows);
  g_test_add_func ("/app/tool-true/paint", test_paint);
  return g_test_run ();
}
