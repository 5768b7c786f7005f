/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A verb with amounts being filled in: from the pick, by clicks, by typing; preview, refusal,
 * doing it, leaving it. By a verb of the tests' own. */
#include <string.h>

#include "app/draft.h"
#include "pattern/figure.h"

#define assert_near(a, b, within)                                              \
  g_assert_cmpfloat (fabs ((a) - (b)), <=, (within))

/* --- verbs ------------------------------------------------------------------------- */
static Pattern *
run_push (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, "edges", &n);
  double by = drafting_values_get_number (v, "by");
  if (by > 50)
    {
      g_set_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT,
                   "At most 50 mm.");
      return NULL;
    }
  g_autoptr (Pattern) now = pattern_ref ((Pattern *)p);
  for (guint i = 0; now && i < n; i++)
    {
      g_autoptr (Pattern) before = g_steal_pointer (&now);
      now = drafting_move_edge (before, runs[i].piece, runs[i].edge,
                                geo_point (0, by), error);
    }
  return g_steal_pointer (&now);
}

static Pattern *
run_cut (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n;
  const PatternRun *run = drafting_values_get_runs (v, "edge", &n);
  return drafting_add_node (p, run->piece, run->edge,
                            drafting_values_get_number (v, "at"), NULL, error);
}

static gboolean
draft_square (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
              GError **error)
{
  (void)error;
  guint n;
  const PatternRun *run = drafting_values_get_runs (v, "edge", &n);
  const PatternPiece *piece = pattern_get_piece (p, run->piece);
  guint e = (guint)pattern_piece_find_edge (piece, run->edge);
  double side
      = geo_distance (
            piece->nodes[piece->edges[e].first].at,
            piece->nodes[pattern_piece_edge_last (piece, e) % piece->n_nodes]
                .at)
        * drafting_values_get_number (v, "share") / 100;
  static const char *const parts[] = { "a", "b", "c", "d" };
  GeoPoint at[]
      = { { 300, 0 }, { 300 + side, 0 }, { 300 + side, side }, { 300, side } };
  DraftingDraftNode nodes[4];
  for (guint i = 0; i < 4; i++)
    nodes[i] = (DraftingDraftNode){
      parts[i], { 0, PATTERN_NODE_CORNER, at[i], at[i], at[i] }, parts[i]
    };
  drafting_draft_add_piece (draft, "square", "Square", nodes, 4);
  return TRUE;
}

static const DraftingParameter push_parameters[] = {
  { .key = "edges", .kind = DRAFTING_EDGES, .label = "Edges" },
  { .key = "by",
    .kind = DRAFTING_LENGTH,
    .label = "By",
    .start = "10 mm",
    .least = -100,
    .most = 100 },
};
static const DraftingParameter cut_parameters[] = {
  { .key = "edge", .kind = DRAFTING_EDGE, .label = "Edge" },
  { .key = "at", .kind = DRAFTING_LENGTH, .label = "At", .start = "" },
  { .key = "share", .kind = DRAFTING_SHARE, .label = "Share", .start = "50" },
};
static const DraftingParameter square_parameters[] = {
  { .key = "edge", .kind = DRAFTING_EDGE, .label = "Edge" },
  { .key = "share",
    .kind = DRAFTING_SHARE,
    .label = "Share",
    .start = "50",
    .least = 1,
    .most = 100 },
  { .key = "about", .kind = DRAFTING_POINT, .label = "About", .start = "" },
};
static const DraftingVerb verbs[] = {
  { "test-push", "Push edges", "Pushes edges down.", DRAFTING_GROUP_EDGE,
    push_parameters, G_N_ELEMENTS (push_parameters), run_push, NULL, NULL },
  { "test-cut", "Cut edge", "Puts a node in.", DRAFTING_GROUP_EDGE,
    cut_parameters, G_N_ELEMENTS (cut_parameters), run_cut, NULL, NULL },
  { "test-square", "Square", "A square.", DRAFTING_GROUP_DRAFT,
    square_parameters, G_N_ELEMENTS (square_parameters), NULL, draft_square,
    NULL },
};

static const DraftingVerb *
test_table (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}

/* --- a session ---------------------------------------------------------------------- */
/* "front", 200 by 100 at the origin; edges top, right, bottom, left. */
static AppSession *
open_front (void)
{
  Pattern *p = pattern_new ("test");
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), "front");
  GeoPoint at[] = { { 0, 0 }, { 200, 0 }, { 200, 100 }, { 0, 100 } };
  PatternNode nodes[4];
  gboolean starts[] = { TRUE, TRUE, TRUE, TRUE };
  for (guint i = 0; i < 4; i++)
    nodes[i] = (PatternNode){ 0, PATTERN_NODE_CORNER, at[i], at[i], at[i] };
  pattern_piece_set_outline (piece, nodes, 4, starts, &p->next_id);
  static const char *const names[] = { "top", "right", "bottom", "left" };
  for (guint i = 0; i < 4; i++)
    pattern_set_string (&piece->edges[i].name, names[i]);
  pattern_put_piece (p, piece);
  return app_session_new (p);
}

static const PatternPiece *
front (AppSession *s)
{
  return app_session_get_shown (s)->pieces[0];
}

static void
test_picked_and_typed (void)
{
  g_autoptr (AppSession) s = open_front ();
  app_session_pick_edge (s, front (s)->id, front (s)->edges[2].id);
  g_assert_true (app_draft_fits_pick (s, &verbs[0]));
  g_assert_true (app_draft_begin (s, "test-push"));
  AppDraft *draft = app_draft_get (s);
  g_autofree char *words = app_draft_get_words (draft, 0);
  g_assert_cmpstr (words, ==, "bottom (front)");
  /* All is there, so it is shown, and the amount is what is typed next. */
  g_assert_cmpuint (app_draft_get_active (draft), ==, 1);
  g_assert_null (app_draft_get_trouble (draft, NULL));
  g_assert_true (app_session_is_previewing (s));
  assert_near (front (s)->nodes[2].at.y, 110, 1e-9);
  app_draft_set_text (draft, 1, "2");
  assert_near (front (s)->nodes[2].at.y, 120, 1e-9);
  g_assert_true (app_draft_step (draft, 1, -5));
  assert_near (front (s)->nodes[2].at.y, 115, 1e-9);
  g_assert_true (app_draft_do (draft));
  g_assert_null (app_draft_get (s));
  g_assert_false (app_session_is_previewing (s));
  assert_near (front (s)->nodes[2].at.y, 115, 1e-9);
  const PatternHistory *history = app_session_get_history (s);
  g_assert_cmpuint (pattern_history_get_length (history), ==, 2);
  g_assert_nonnull (
      strstr (pattern_history_get_undo_label (history), "Push edges"));
  app_session_undo (s);
  assert_near (front (s)->nodes[2].at.y, 100, 1e-9);
}

static void
test_refused (void)
{
  g_autoptr (AppSession) s = open_front ();
  app_session_pick_edge (s, front (s)->id, front (s)->edges[2].id);
  app_draft_begin (s, "test-push");
  AppDraft *draft = app_draft_get (s);
  static const struct
  {
    const char *text, *says;
    int field;
  } rows[] = { { "6", "At most 50", -1 },
               { "20", "most", 1 },
               { "bust", "bust", 1 },
               { "1 +", "By", 1 } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gboolean bad = FALSE;
      app_draft_set_text (draft, 1, rows[i].text);
      const char *trouble = app_draft_get_trouble (draft, &bad);
      g_assert_nonnull (trouble);
      g_assert_true (bad);
      g_assert_nonnull (strstr (trouble, rows[i].says));
      g_assert_cmpint (app_draft_get_trouble_field (draft), ==, rows[i].field);
      g_assert_false (app_session_is_previewing (s));
      g_assert_false (app_draft_do (draft));
      g_assert_true (app_draft_get (s) == draft);
    }
  app_draft_set_text (draft, 1, "");
  g_assert_nonnull (app_draft_get_trouble (draft, NULL));
  app_draft_end (s);
  g_assert_null (app_draft_get (s));
  g_assert_cmpuint (pattern_history_get_length (app_session_get_history (s)),
                    ==, 1);
}

static void
test_clicked (void)
{
  g_autoptr (AppSession) s = open_front ();
  g_assert_true (app_draft_begin (s, "test-push"));
  AppDraft *draft = app_draft_get (s);
  gboolean bad = TRUE;
  g_assert_nonnull (app_draft_get_trouble (draft, &bad));
  g_assert_false (bad);
  g_assert_cmpuint (app_draft_get_active (draft), ==, 0);
  g_assert_false (app_draft_click (draft, geo_point (500, 500), 3));
  g_assert_true (app_draft_click (draft, geo_point (199, 50), 3));
  /* The bottom as it is shown, its one end pushed. */
  g_assert_true (app_draft_click (draft, geo_point (120, 106), 3));
  /* Right, then bottom: the outline's own way. */
  const PatternPiece *piece = app_session_get_pattern (s)->pieces[0];
  g_autofree char *run
      = g_strdup_printf ("%u/%u %u/%u", piece->id, piece->edges[1].id,
                         piece->id, piece->edges[2].id);
  g_assert_cmpstr (app_draft_get_text (draft, 0), ==, run);
  g_assert_true (app_session_is_previewing (s));
  /* A second click takes it out. */
  g_assert_true (app_draft_click (draft, geo_point (199, 55), 3));
  g_autofree char *one
      = g_strdup_printf ("%u/%u", piece->id, piece->edges[2].id);
  g_assert_cmpstr (app_draft_get_text (draft, 0), ==, one);
  /* Bottom, then right: each against the outline. */
  g_assert_true (app_draft_click (draft, geo_point (199, 50), 3));
  g_autofree char *back
      = g_strdup_printf ("-%u/%u -%u/%u", piece->id, piece->edges[2].id,
                         piece->id, piece->edges[1].id);
  g_assert_cmpstr (app_draft_get_text (draft, 0), ==, back);
  /* Taken back click by click; a click that nothing took is none. */
  g_assert_true (app_draft_take_back (draft));
  g_assert_cmpstr (app_draft_get_text (draft, 0), ==, one);
  g_assert_true (app_draft_take_back (draft));
  g_assert_cmpstr (app_draft_get_text (draft, 0), ==, run);
  g_assert_true (app_draft_take_back (draft));
  g_assert_true (app_draft_take_back (draft));
  g_assert_cmpstr (app_draft_get_text (draft, 0), ==, "");
  g_assert_false (app_draft_take_back (draft));
}

static void
test_place (void)
{
  g_autoptr (AppSession) s = open_front ();
  app_draft_begin (s, "test-cut");
  AppDraft *draft = app_draft_get (s);
  g_assert_true (app_draft_click (draft, geo_point (70, 1), 3));
  g_assert_cmpstr (app_draft_get_text (draft, 1), ==, "7.0 cm");
  /* The place is known; the next amount is typed. */
  g_assert_cmpuint (app_draft_get_active (draft), ==, 2);
  g_assert_true (app_draft_do (draft));
  assert_near (front (s)->nodes[1].at.x, 70, 1e-6);
}

static void
test_recipe (void)
{
  g_autoptr (AppSession) s = open_front ();
  app_session_pick_edge (s, front (s)->id, front (s)->edges[0].id);
  app_draft_begin (s, "test-square");
  g_assert_true (app_draft_do (app_draft_get (s)));
  const Pattern *p = app_session_get_pattern (s);
  g_assert_cmpuint (p->n_recipes, ==, 1);
  /* What was drafted is picked. */
  g_assert_cmpint (app_session_get_pick (s)->kind, ==, APP_PICK_PIECES);
  g_assert_cmpuint (app_session_get_pick (s)->ids[0], ==, p->pieces[1]->id);
  assert_near (pattern_piece_area (p->pieces[1]), 1e4, 1e-6);
  /* A drag of the source is followed while it is shown. */
  guint node = front (s)->nodes[1].id;
  app_session_preview (
      s,
      drafting_move_nodes (p, front (s)->id, &node, 1, geo_point (40, 0), NULL),
      NULL);
  assert_near (pattern_piece_area (app_session_get_shown (s)->pieces[1]), 14400,
               1e-6);
  app_session_cancel (s);
  /* A node more in what is drafted is refused, and told. */
  GError *error = NULL;
  g_assert_false (app_session_do (s, "add", NULL,
                                  drafting_add_node (p, p->pieces[1]->id,
                                                     p->pieces[1]->edges[0].id,
                                                     5, NULL, &error),
                                  &error));
  g_assert_true (app_draft_begin_recipe (s, p->recipes[0]->id));
  AppDraft *draft = app_draft_get (s);
  app_draft_set_text (draft, 1, "100");
  g_assert_true (app_draft_do (draft));
  p = app_session_get_pattern (s);
  g_assert_cmpuint (p->n_recipes, ==, 1);
  assert_near (pattern_piece_area (p->pieces[1]), 4e4, 1e-6);
  app_draft_begin_recipe (s, p->recipes[0]->id);
  app_session_undo (s);
  app_session_undo (s);
  /* With its recipe gone it has nothing to change. */
  g_assert_null (app_draft_get (s));
}

static void
test_list (void)
{
  g_assert_true (app_draft_matches (&verbs[0], "EDGE push"));
  g_assert_false (app_draft_matches (&verbs[0], "collar"));
  g_autoptr (AppSession) s = open_front ();
  g_assert_false (app_draft_fits_pick (s, &verbs[0]));
  g_assert_false (app_draft_begin (s, "no-verb"));
  for (int g = DRAFTING_GROUP_DART; g <= DRAFTING_GROUP_DRAFT; g++)
    g_assert_nonnull (app_draft_group_name ((DraftingGroup)g));
}

/* Every verb there is can be begun on nothing, on an edge and on a piece, filled by any clicks and
 * left again, and leaves nothing behind. */
static void
test_every_verb (void)
{
  const DraftingVerb *verb;
  for (guint i = 0; (verb = drafting_verb_nth (i)) != NULL; i++)
    for (int pick = 0; pick < 3; pick++)
      {
        g_autoptr (AppSession) s = open_front ();
        if (pick == 1)
          app_session_pick_edge (s, front (s)->id, front (s)->edges[0].id);
        if (pick == 2)
          app_session_pick_piece (s, front (s)->id, FALSE);
        g_assert_true (app_draft_begin (s, verb->name));
        AppDraft *draft = app_draft_get (s);
        for (guint k = 0; k < 2 * verb->n_parameters; k++)
          {
            GeoPoint at = { g_test_rand_double_range (-10, 210),
                            g_test_rand_double_range (-10, 110) };
            app_draft_click (draft, at, 12);
            app_draft_move_active (draft, 1);
          }
        app_draft_end (s);
        g_assert_false (app_session_is_previewing (s));
        g_assert_cmpuint (
            pattern_history_get_length (app_session_get_history (s)), ==, 1);
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  drafting_verbs_add_table (test_table);
  g_test_add_func ("/draft/picked-and-typed", test_picked_and_typed);
  g_test_add_func ("/draft/refused", test_refused);
  g_test_add_func ("/draft/clicked", test_clicked);
  g_test_add_func ("/draft/place", test_place);
  g_test_add_func ("/draft/recipe", test_recipe);
  g_test_add_func ("/draft/list", test_list);
  g_test_add_func ("/draft/every-verb", test_every_verb);
  return g_test_run ();
}
