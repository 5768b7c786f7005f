/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fairing in hand: what the pointer and the keys do, without a display. */
#include <math.h>

#include "app/session.h"
#include "app/tool-fair.h"
#include "geometry/fair.h"
#include "geometry/length.h"

#define near_to(a, b, within) g_assert_cmpfloat (fabs ((a) - (b)), <=, (within))

enum
{
  N = 9
};

typedef struct
{
  AppSession *session;
  AppTool *tool;
  guint piece, hem, side;
} Table;

/* A flare whose hem lies on a circle of 400 mm, its nodes shaken by 0.4 mm. */
static Pattern *
flare (void)
{
  Pattern *p = pattern_new ("flare");
  p->unit = PATTERN_MM;
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), "flare");
  PatternNode nodes[N + 1];
  gboolean starts[N + 1] = { TRUE };
  for (int i = 0; i < N; i++)
    {
      double a = 0.35 * G_PI + 0.3 * G_PI * i / (N - 1);
      double r = 400 + (i > 0 && i < N - 1 ? 0.4 * (i % 2 ? 1 : -1) : 0);
      double h = 400 * 4.0 / 3 * tan (0.3 * G_PI / (N - 1) / 4);
      GeoPoint at = { r * cos (a), r * sin (a) };
      GeoPoint way = { -sin (a), cos (a) };
      nodes[i]
          = (PatternNode){ 0, PATTERN_NODE_SMOOTH, at, geo_along (at, way, -h),
                           geo_along (at, way, h) };
    }
  nodes[0].kind = nodes[N - 1].kind = PATTERN_NODE_CORNER;
  nodes[0].in = nodes[0].at;
  nodes[N - 1].out = nodes[N - 1].at;
  GeoPoint top = { 0, 0 };
  nodes[N] = (PatternNode){ 0, PATTERN_NODE_CORNER, top, top, top };
  starts[N - 1] = starts[N] = TRUE;
  pattern_piece_set_outline (piece, nodes, N + 1, starts, &p->next_id);
  pattern_set_string (&piece->edges[0].name, "hem");
  pattern_put_piece (p, piece);
  return p;
}

static void
table_init (Table *t)
{
  t->session = app_session_new (flare ());
  const PatternPiece *piece = app_session_get_pattern (t->session)->pieces[0];
  t->piece = piece->id;
  t->hem = piece->edges[0].id;
  t->side = piece->edges[1].id;
  t->tool = app_tool_new (APP_TOOL_FAIR, t->session);
  g_assert_true (app_fair_open (t->tool, t->piece, t->hem));
}

static void
table_clear (Table *t)
{
  app_tool_free (t->tool);
  g_object_unref (t->session);
}

static guint
steps (Table *t)
{
  return pattern_history_get_length (app_session_get_history (t->session)) - 1;
}

static GeoChain
hem (const Pattern *p)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (p->pieces[0], 0, &chain);
  return chain;
}

static void
type (AppTool *tool, const char *text)
{
  for (; *text != '\0'; text++)
    g_assert_true (app_tool_type (tool, (gunichar)*text));
}

/* Taken up, it shows; a distance typed shows that; Enter is one step. */
static void
test_by_keys (void)
{
  Table t;
  table_init (&t);
  near_to (app_fair_get_within (t.tool), 1, 0);
  g_assert_true (app_fair_is_changed (t.tool));
  g_assert_null (app_fair_get_trouble (t.tool));
  type (t.tool, "0.6");
  g_assert_cmpstr (app_tool_get_tag (t.tool), ==, "within  0.6|");
  near_to (app_fair_get_within (t.tool), 0.6, 1e-12);
  g_assert_true (app_tool_key (t.tool, APP_KEY_ENTER));
  g_assert_false (app_tool_is_done (t.tool));
  type (t.tool, "l");
  g_assert_true (app_fair_keeps_length (t.tool));
  GeoChain was = hem (app_session_get_pattern (t.session));
  GeoChain now = hem (app_session_get_shown (t.session));
  near_to (geo_chain_length (&was, 1e-9), geo_chain_length (&now, 1e-9), 1e-5);
  g_assert_cmpfloat (geo_chain_roughness (&now, 0.35), <,
                     0.1 * geo_chain_roughness (&was, 0.35));
  g_autofree char *title = app_fair_title (t.tool);
  g_assert_cmpstr (title, ==, "flare · hem");
  g_assert_true (app_tool_key (t.tool, APP_KEY_ENTER));
  g_assert_true (app_tool_is_done (t.tool));
  g_assert_cmpuint (steps (&t), ==, 1);
  geo_chain_clear (&was);
  geo_chain_clear (&now);
  table_clear (&t);
}

static void
test_leave (void)
{
  Table t;
  table_init (&t);
  const Pattern *before = app_session_get_pattern (t.session);
  g_assert_true (app_tool_key (t.tool, APP_KEY_ESCAPE));
  g_assert_true (app_tool_is_done (t.tool));
  g_assert_true (app_session_get_shown (t.session) == before);
  g_assert_cmpuint (steps (&t), ==, 0);
  table_clear (&t);
}

/* A straight edge is as fair as can be: said, and nothing shown. */
static void
test_trouble (void)
{
  Table t;
  table_init (&t);
  g_assert_true (app_fair_open (t.tool, t.piece, t.side));
  g_assert_nonnull (app_fair_get_trouble (t.tool));
  g_assert_false (app_fair_is_changed (t.tool));
  g_assert_false (app_fair_open (t.tool, t.piece, 9999));
  table_clear (&t);
}

/* A tick dragged to the edge's middle: only what is beyond it changes. */
static void
test_ticks (void)
{
  Table t;
  table_init (&t);
  GeoChain was = hem (app_session_get_pattern (t.session));
  double length = geo_chain_length (&was, 1e-9);
  GeoPoint start = geo_chain_start (&was);
  GeoPoint middle
      = geo_chain_point (&was, geo_chain_at_length (&was, length / 2, 1e-9));
  AppPointer p = { .at = start, .mm_per_px = 0.5, .presses = 1 };
  app_tool_hover (t.tool, &p);
  g_assert_cmpstr (app_tool_get_cursor (t.tool), ==, "pointer");
  app_tool_press (t.tool, &p);
  p.at = middle;
  app_tool_drag (t.tool, &p);
  app_tool_release (t.tool, &p);
  double from, to;
  app_fair_get_stretch (t.tool, &from, &to);
  near_to (from, length / 2, 1e-5);
  near_to (to, length, 1e-9);
  GeoChain now = hem (app_session_get_shown (t.session));
  g_assert_cmpfloat (
      geo_distance (
          geo_chain_point (&now, geo_chain_at_length (&now, 100, 1e-9)),
          geo_chain_point (&was, geo_chain_at_length (&was, 100, 1e-9))),
      <, 1e-6);
  /* By keys: Tab comes to a tick, arrows move it; they never pass each other. */
  g_assert_true (app_tool_key (t.tool, APP_KEY_TAB));
  for (int i = 0; i < 300; i++)
    g_assert_true (app_tool_key (t.tool, APP_KEY_LEFT));
  app_fair_get_stretch (t.tool, &from, &to);
  g_assert_cmpfloat (to - from, >=, 4.99);
  geo_chain_clear (&was);
  geo_chain_clear (&now);
  table_clear (&t);
}

/* An edit made elsewhere begins it anew; an edge that is gone ends it. */
static void
test_follows (void)
{
  Table t;
  table_init (&t);
  GError *error = NULL;
  g_assert_true (app_session_do (
      t.session, "x", NULL,
      drafting_set_allowance (app_session_get_pattern (t.session), t.piece,
                              t.hem, 12, &error),
      &error));
  app_tool_hint (t.tool);
  g_assert_true (app_fair_is_open (t.tool));
  g_assert_true (
      app_session_do (t.session, "x", NULL,
                      drafting_remove_piece (
                          app_session_get_pattern (t.session), t.piece, &error),
                      &error));
  app_tool_hint (t.tool);
  g_assert_false (app_fair_is_open (t.tool));
  g_assert_true (app_tool_is_done (t.tool));
  table_clear (&t);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/tool-fair/by-keys", test_by_keys);
  g_test_add_func ("/app/tool-fair/leave", test_leave);
  g_test_add_func ("/app/tool-fair/trouble", test_trouble);
  g_test_add_func ("/app/tool-fair/ticks", test_ticks);
  g_test_add_func ("/app/tool-fair/follows", test_follows);
  return g_test_run ();
}
