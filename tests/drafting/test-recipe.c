/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Linked pieces, by a small drafter of the tests' own: a band along an edge, as long as the
 * edge, of a set depth; and a recipe that puts drill marks on a piece. */
#include <string.h>

#include "drafting/recipe.h"
#include "drafting/verb.h"
#include "pattern/figure.h"
#include "sample.h"

/* --- a drafter --------------------------------------------------------------------- */
static GeoPoint
edge_end (const Pattern *p, PatternRun run, gboolean at_end)
{
  const PatternPiece *piece = pattern_get_piece (p, run.piece);
  guint e = (guint)pattern_piece_find_edge (piece, run.edge);
  guint node = at_end ? pattern_piece_edge_last (piece, e) % piece->n_nodes
                      : piece->edges[e].first;
  return piece->nodes[node].at;
}

static gboolean
draft_band (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
            GError **error)
{
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, "edge", &n);
  double depth = drafting_values_get_number (v, "depth");
  double length = geo_distance (edge_end (p, runs[0], FALSE),
                                edge_end (p, runs[0], TRUE));
  if (depth > length)
    {
      g_set_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT,
                   "At most %.1f mm deep.", length);
      return FALSE;
    }
  GeoPoint o = edge_end (p, runs[0], FALSE);
  GeoPoint x = geo_unit (geo_sub (edge_end (p, runs[0], TRUE), o));
  GeoPoint y = geo_point (-x.y, x.x);
  /* Walked the other way round than stored, to see that it is turned. */
  gboolean against = drafting_values_get_yes (v, "against");
  gboolean cut = drafting_values_get_yes (v, "cut-corner");
  struct
  {
    const char *part;
    double x, y;
    const char *edge;
  } rows[] = { { "a", 0, 0, "near" },
               { "b", length, 0, "right" },
               { "c", length, depth - (cut ? 5 : 0), cut ? "slant" : "far" },
               { "c2", length - 5, depth, "far" },
               { "d", 0, depth, "left" } };
  DraftingDraftNode nodes[5];
  guint m = 0;
  for (guint i = 0; i < 5; i++)
    {
      if (i == 3 && !cut)
        continue;
      GeoPoint at = geo_along (geo_along (o, x, rows[i].x), y,
                               (against ? -1 : 1) * (rows[i].y + 200));
      nodes[m++] = (DraftingDraftNode){ rows[i].part,
                                        { 0, PATTERN_NODE_CORNER, at, at, at },
                                        rows[i].edge };
    }
  DraftingDraftPiece *band
      = drafting_draft_add_piece (draft, "band", "Band", nodes, m);
  drafting_draft_set_edge (band, "far", "far edge", PATTERN_EDGE_HEM, 12,
                           (GeoCorner){ 0 });
  GeoPoint at = geo_along (nodes[0].node.at, x, 5);
  drafting_draft_set_grain (band, at, geo_along (at, x, 30));
  drafting_draft_add_cut (band, PATTERN_LINING, 1, FALSE);
  drafting_draft_add_notch (band, "middle", "near", 1, PATTERN_FRACTION, 0.25);
  drafting_draft_add_drill (band, "spot", geo_along (at, x, 10));
  DraftingDraftRun a = { "band", "near", { 0 } };
  DraftingDraftRun b = { NULL, NULL, runs[0] };
  drafting_draft_add_seam (draft, "near", "band seam", PATTERN_JOIN_SEAM, &a, 1,
                           &b, 1, 0, PATTERN_PRESS_OPEN);
  drafting_draft_say (draft, "%.1f long", length);
  return TRUE;
}

static gboolean
draft_spots (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
             GError **error)
{
  (void)error;
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, "edge", &n);
  DraftingDraftPiece *on = drafting_draft_on_piece (draft, runs[0].piece);
  GeoPoint a = edge_end (p, runs[0], FALSE), b = edge_end (p, runs[0], TRUE);
  int count = drafting_values_get_count (v, "count");
  for (int i = 0; i < count; i++)
    {
      g_autofree char *part = g_strdup_printf ("spot-%d", i);
      drafting_draft_add_drill (on, part,
                                geo_lerp (a, b, (i + 1.0) / (count + 1)));
    }
  return TRUE;
}

static Pattern *
run_raise (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint piece, node = drafting_values_get_node (v, "node", &piece);
  return drafting_move_nodes (
      p, piece, &node, 1, geo_point (0, -drafting_values_get_number (v, "by")),
      error);
}

static Pattern *
run_cut (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n;
  const PatternRun *run = drafting_values_get_runs (v, "edge", &n);
  return drafting_add_node (p, run->piece, run->edge, 20, NULL, error);
}

static const DraftingParameter band_parameters[] = {
  { .key = "edge", .kind = DRAFTING_EDGE, .label = "Edge" },
  { .key = "depth",
    .kind = DRAFTING_LENGTH,
    .label = "Depth",
    .start = "40 mm",
    .least = 1,
    .most = 500 },
  { .key = "against", .kind = DRAFTING_YES, .label = "Against", .start = "no" },
  { .key = "cut-corner",
    .kind = DRAFTING_YES,
    .label = "Cut corner",
    .start = "no" },
};
static const DraftingParameter spot_parameters[] = {
  { .key = "edge", .kind = DRAFTING_EDGE, .label = "Edge" },
  { .key = "count", .kind = DRAFTING_COUNT, .label = "Count", .start = "2" },
};
static const DraftingParameter raise_parameters[] = {
  { .key = "by", .kind = DRAFTING_LENGTH, .label = "By" },
  { .key = "node", .kind = DRAFTING_NODE, .label = "Node" },
};
static const DraftingVerb verbs[] = {
  { .name = "test-band",
    .title = "Band",
    .hint = "A band.",
    .group = DRAFTING_GROUP_DRAFT,
    .parameters = band_parameters,
    .n_parameters = G_N_ELEMENTS (band_parameters),
    .draft = draft_band },
  { .name = "test-spots",
    .title = "Spots",
    .hint = "Spots.",
    .group = DRAFTING_GROUP_DRAFT,
    .parameters = spot_parameters,
    .n_parameters = G_N_ELEMENTS (spot_parameters),
    .draft = draft_spots },
  { .name = "test-cut",
    .title = "Cut",
    .hint = "Cuts.",
    .group = DRAFTING_GROUP_EDGE,
    .parameters = spot_parameters,
    .n_parameters = 1,
    .run = run_cut },
  { .name = "test-raise",
    .title = "Raise",
    .hint = "Raises.",
    .group = DRAFTING_GROUP_EDGE,
    .parameters = raise_parameters,
    .n_parameters = G_N_ELEMENTS (raise_parameters),
    .run = run_raise },
};

static const DraftingVerb *
test_table (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}

/* --- patterns ---------------------------------------------------------------------- */
/* "front", 100 by 60 at the origin, edges top, right, bottom, left. */
static Pattern *
with_front (void)
{
  Pattern *p = pattern_new ("test");
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), "front");
  PatternNode nodes[] = { sample_node (0, 0), sample_node (100, 0),
                          sample_node (100, 60), sample_node (0, 60) };
  gboolean starts[] = { TRUE, TRUE, TRUE, TRUE };
  pattern_piece_set_outline (piece, nodes, 4, starts, &p->next_id);
  static const char *const names[] = { "top", "right", "bottom", "left" };
  for (guint i = 0; i < 4; i++)
    pattern_set_string (&piece->edges[i].name, names[i]);
  pattern_put_piece (p, piece);
  PatternFigure figure
      = { pattern_take_id (p), (char *)"bust girth", 880, (char *)"" };
  pattern_put_figure (p, &figure);
  return p;
}

static PatternStep *
parse (const Pattern *p, const char *line)
{
  g_auto (GStrv) words = g_strsplit (line, " ", -1);
  g_autoptr (GError) error = NULL;
  PatternStep *step
      = drafting_step_parse (p, (int)g_strv_length (words), words, &error);
  g_assert_no_error (error);
  return step;
}

static Pattern *
run (const Pattern *p, const char *line)
{
  g_autoptr (PatternStep) step = parse (p, line);
  g_autoptr (GError) error = NULL;
  Pattern *result = drafting_step_run (p, step, &error);
  g_assert_no_error (error);
  g_autofree char *unsound = pattern_unsound (result);
  g_assert_cmpstr (unsound, ==, NULL);
  return result;
}

static Pattern *
follow (const Pattern *before, Pattern *now)
{
  g_autoptr (Pattern) own = now;
  g_assert_nonnull (own);
  g_autoptr (GError) error = NULL;
  Pattern *result = drafting_follow (before, own, &error);
  g_assert_no_error (error);
  g_autofree char *unsound = pattern_unsound (result);
  g_assert_cmpstr (unsound, ==, NULL);
  /* Following what followed changes nothing. */
  g_autoptr (Pattern) again = drafting_follow (before, result, &error);
  g_assert_no_error (error);
  g_assert_true (pattern_equal (again, result));
  return result;
}

static const PatternPiece *
made_piece (const Pattern *p, const char *part)
{
  const PatternRecipe *r = p->recipes[p->n_recipes - 1];
  return pattern_get_piece (p, pattern_recipe_get_made (r, part));
}

static const PatternNode *
made_node (const Pattern *p, const char *part)
{
  const PatternRecipe *r = p->recipes[p->n_recipes - 1];
  g_autofree char *piece_part = pattern_part_piece (part);
  const PatternPiece *piece = made_piece (p, piece_part);
  int i = pattern_piece_find_node (piece, pattern_recipe_get_made (r, part));
  return i < 0 ? NULL : &piece->nodes[i];
}

static guint
made (const Pattern *p, const char *part)
{
  return pattern_recipe_get_made (p->recipes[p->n_recipes - 1], part);
}

static guint
front_node (const Pattern *p, guint i)
{
  return p->pieces[0]->nodes[i].id;
}

#define assert_at(node, X, Y)                                                  \
  do                                                                           \
    {                                                                          \
      assert_near ((node)->at.x, X, 1e-6);                                     \
      assert_near ((node)->at.y, Y, 1e-6);                                     \
    }                                                                          \
  while (0)

/* Keys of the findings about linked pieces, parted by blanks. */
static char *
findings (const Pattern *p)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) all = sewing_checks_run (facts, p);
  g_autoptr (GString) keys = g_string_new (NULL);
  for (guint i = 0; i < all->len; i++)
    {
      const SewingFinding *f = all->pdata[i];
      if (f->check == SEWING_CHECK_RECIPE)
        g_string_append_printf (keys, "%s/%s ", strrchr (f->key, ':') + 1,
                                f->weight == SEWING_MEND ? "mend" : "look");
    }
  return g_strdup (keys->str);
}

/* --- tests ------------------------------------------------------------------------- */
static void
test_values (void)
{
  g_autoptr (Pattern) p = with_front ();
  static const struct
  {
    const char *line, *says;
  } bad[] = {
    { "test-band", "Edge: nothing is picked" },
    { "test-band edge=front/top depth=600mm", "most" },
    { "test-band edge=front/top depth=0mm", "least" },
    { "test-band edge=front/top depth=hip", "hip" },
    { "test-band edge=front/top against=perhaps", "perhaps" },
    { "test-spots edge=front/top count=2.5", "whole" },
    { "test-raise node=front/top/end", "By: an amount is missing" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (PatternStep) step = parse (p, bad[i].line);
      g_autoptr (GError) error = NULL;
      g_assert_null (drafting_step_run (p, step, &error));
      g_assert_nonnull (error);
      g_assert_nonnull (strstr (error->message, bad[i].says));
    }
  g_autoptr (PatternStep) step
      = parse (p, "test-raise node=front/top/end by=1.5");
  g_autoptr (Pattern) raised = drafting_step_run (p, step, NULL);
  assert_near (raised->pieces[0]->nodes[1].at.y, -15, 1e-9);
  g_autofree char *words = drafting_step_describe (p, step);
  g_assert_nonnull (strstr (words, "Raise 1.5"));
  static const char *const unknown[]
      = { "test-band edge=back/top", "test-band edges=front/top", "no-verb",
          "test-band top" };
  for (guint i = 0; i < G_N_ELEMENTS (unknown); i++)
    {
      g_auto (GStrv) w = g_strsplit (unknown[i], " ", -1);
      g_autoptr (GError) error = NULL;
      g_assert_null (
          drafting_step_parse (p, (int)g_strv_length (w), w, &error));
      g_assert_nonnull (error);
    }
}

static void
test_drafted (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-band edge=front/top depth=4");
  g_assert_cmpuint (a->n_pieces, ==, 2);
  g_assert_cmpuint (a->n_recipes, ==, 1);
  /* Bare amounts keep the unit they were typed in. */
  g_assert_cmpstr (pattern_step_get (a->recipes[0]->step, "unit"), ==, "cm");
  const PatternPiece *band = made_piece (a, "band");
  assert_near (pattern_piece_area (band), 4000, 1e-6);
  g_assert_cmpuint (band->n_cuts, ==, 1);
  g_assert_cmpint (pattern_get_cloth (a, band->cuts[0].cloth)->use, ==,
                   PATTERN_LINING);
  int far = pattern_piece_find_edge (band, made (a, "band/e:far"));
  g_assert_cmpstr (band->edges[far].name, ==, "far edge");
  g_assert_cmpuint (a->n_seams, ==, 1);
  g_assert_true (drafting_recipe_of (a, band->id) == a->recipes[0]);
  g_autofree char *words = drafting_recipe_words (a, a->recipes[0]->id);
  g_assert_cmpstr (words, ==, "100.0 long");
  g_autoptr (Pattern) same = drafting_follow (p, p, NULL);
  g_assert_true (same == p);
}

/* Both ways round, and mirrored afterwards: the seam's runs lead from the same corner
 * to the same corner. */
static void
test_turned (void)
{
  for (int against = 0; against < 2; against++)
    {
      g_autoptr (Pattern) p = with_front ();
      g_autoptr (Pattern) a
          = run (p, against ? "test-band edge=front/top against=yes"
                            : "test-band edge=front/top");
      for (int mirrored = 0; mirrored < 2; mirrored++)
        {
          if (mirrored)
            {
              g_autoptr (Pattern) before = g_steal_pointer (&a);
              a = follow (before, drafting_mirror_piece (
                                      before, made (before, "band"), NULL));
              /* drafted again while it lies mirrored */
              g_autoptr (Pattern) over = g_steal_pointer (&a);
              guint node = front_node (over, 2);
              a = follow (over,
                          drafting_move_nodes (over, over->pieces[0]->id, &node,
                                               1, geo_point (1, 1), NULL));
            }
          const PatternPiece *band = made_piece (a, "band");
          g_assert_cmpfloat (pattern_piece_area (band), >, 0);
          const PatternRun *run = &a->seams[0]->sides[0].runs[0];
          guint e = (guint)pattern_piece_find_edge (band, run->edge);
          guint node = run->reversed
                           ? pattern_piece_edge_last (band, e) % band->n_nodes
                           : band->edges[e].first;
          g_assert_cmpuint (band->nodes[node].id, ==, made (a, "band/n:a"));
          const PatternNotch *notch
              = pattern_piece_get_notch (band, made (a, "band/m:middle"));
          assert_near (notch->amount, run->reversed ? 0.75 : 0.25, 1e-9);
        }
    }
}

static void
test_sources_followed (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-band edge=front/top depth=4");
  guint node = front_node (a, 1);
  g_autoptr (Pattern) b
      = follow (a, drafting_move_nodes (a, a->pieces[0]->id, &node, 1,
                                        geo_point (20, 0), NULL));
  assert_near (pattern_piece_area (made_piece (b, "band")), 4800, 1e-6);
  g_assert_cmpuint (made_piece (b, "band")->id, ==, made_piece (a, "band")->id);
  /* Moved and turned, the source leaves the band where and what it is. */
  guint front = b->pieces[0]->id;
  g_autoptr (Pattern) c = follow (b, drafting_turn_piece (b, front, 0.7, NULL));
  g_assert_true (made_piece (c, "band") == made_piece (b, "band"));
  /* Settings are hers. */
  g_autoptr (Pattern) d
      = follow (c, drafting_set_allowance (c, made (c, "band"),
                                           made (c, "band/e:far"), 33, NULL));
  g_autoptr (Pattern) e = follow (
      d, drafting_set_piece_name (d, made (d, "band"), "Waistband", NULL));
  guint corner = front_node (e, 0);
  g_autoptr (Pattern) f = follow (
      e, drafting_move_nodes (e, front, &corner, 1, geo_point (-5, 3), NULL));
  const PatternPiece *band = made_piece (f, "band");
  g_assert_true (band != made_piece (e, "band"));
  g_assert_cmpstr (band->name, ==, "Waistband");
  int far = pattern_piece_find_edge (band, made (f, "band/e:far"));
  assert_near (band->edges[far].allowance, 33, 0);
}

static void
test_moved_piece_stays (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-band edge=front/top depth=4");
  guint band = made (a, "band");
  g_autoptr (Pattern) b = follow (
      a, drafting_move_pieces (a, &band, 1, geo_motion_move (300, 50), NULL));
  g_assert_cmpuint (b->recipes[0]->n_changes, ==, 0);
  g_autoptr (Pattern) c
      = follow (b, drafting_turn_piece (b, band, G_PI / 2, NULL));
  g_assert_cmpuint (c->recipes[0]->n_changes, ==, 0);
  GeoPoint at = made_node (c, "band/n:a")->at;
  guint node = front_node (c, 1);
  g_autoptr (Pattern) d
      = follow (c, drafting_move_nodes (c, c->pieces[0]->id, &node, 1,
                                        geo_point (20, 0), NULL));
  assert_at (made_node (d, "band/n:a"), at.x, at.y);
  /* Turned a quarter, its length runs down the table. */
  GeoPoint along = geo_sub (made_node (d, "band/n:b")->at, at);
  assert_near (along.x, 0, 1e-6);
  assert_near (along.y, 120, 1e-6);
}

static void
test_hand_changes (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-band edge=front/top depth=4");
  guint band = made (a, "band"), c_node = made (a, "band/n:c");
  g_autoptr (Pattern) b = follow (
      a, drafting_move_nodes (a, band, &c_node, 1, geo_point (7, 3), NULL));
  g_assert_cmpuint (b->recipes[0]->n_changes, ==, 1);
  g_assert_true (made_piece (b, "band") != made_piece (a, "band"));
  guint node = front_node (b, 1);
  g_autoptr (Pattern) c
      = follow (b, drafting_move_nodes (b, b->pieces[0]->id, &node, 1,
                                        geo_point (20, 0), NULL));
  assert_at (made_node (c, "band/n:b"), 120, 200);
  assert_at (made_node (c, "band/n:c"), 127, 243);
  /* Turned and turned over, the change goes along. */
  g_autoptr (Pattern) d
      = follow (c, drafting_turn_piece (c, band, G_PI / 2, NULL));
  g_autoptr (Pattern) m = follow (d, drafting_mirror_piece (d, band, NULL));
  GeoPoint off
      = geo_sub (made_node (m, "band/n:c")->at, made_node (m, "band/n:b")->at);
  node = front_node (m, 0);
  g_autoptr (Pattern) e
      = follow (m, drafting_move_nodes (m, m->pieces[0]->id, &node, 1,
                                        geo_point (-10, 0), NULL));
  GeoPoint now
      = geo_sub (made_node (e, "band/n:c")->at, made_node (e, "band/n:b")->at);
  assert_near (now.x, off.x, 1e-6);
  assert_near (now.y, off.y, 1e-6);
  /* Moved back, there is no change any more. */
  g_autoptr (Pattern) f = follow (
      b, drafting_move_nodes (b, band, &c_node, 1, geo_point (-7, -3), NULL));
  g_assert_cmpuint (f->recipes[0]->n_changes, ==, 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) g
      = drafting_undo_hand (c, c->recipes[0]->id, "band/n:c", &error);
  g_assert_no_error (error);
  assert_at (made_node (g, "band/n:c"), 120, 240);
  g_assert_null (drafting_undo_hand (g, g->recipes[0]->id, "band/n:c", &error));
  g_assert_nonnull (error);
}

static void
test_handles_kept (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-band edge=front/top against=yes");
  guint band = made (a, "band"), d = made (a, "band/n:d");
  GeoPoint at = made_node (a, "band/n:d")->at;
  g_autoptr (Pattern) b
      = follow (a, drafting_set_handle (a, band, d, DRAFTING_HANDLE_OUT,
                                        geo_point (at.x + 9, at.y - 4), NULL));
  GeoPoint out = geo_sub (made_node (b, "band/n:d")->out, at);
  guint node = front_node (b, 1);
  g_autoptr (Pattern) c
      = follow (b, drafting_move_nodes (b, b->pieces[0]->id, &node, 1,
                                        geo_point (20, 0), NULL));
  const PatternNode *n = made_node (c, "band/n:d");
  assert_near (n->out.x - n->at.x, out.x, 1e-6);
  assert_near (n->out.y - n->at.y, out.y, 1e-6);
  g_assert_true (geo_same (n->in, n->at));
}

static void
test_marks_and_seams (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-band edge=front/top");
  guint band = made (a, "band");
  g_autoptr (Pattern) b = follow (
      a, drafting_move_notch (a, band, made (a, "band/m:middle"), 40, NULL));
  g_autoptr (Pattern) c
      = follow (b, drafting_move_mark (b, band, made (b, "band/m:spot"),
                                       geo_point (3, 4), NULL));
  g_autoptr (Pattern) d = follow (
      c, drafting_set_seam (c, made (c, "s:near"), "sewn", 2,
                            PATTERN_PRESS_TO_A, PATTERN_JOIN_SEAM, NULL));
  guint own = 0;
  g_autoptr (Pattern) e
      = follow (d, drafting_add_notch (d, band, made (d, "band/e:right"), 2,
                                       PATTERN_FROM_START, 11, &own, NULL));
  GeoPoint spot = e->pieces[1]->drills[0].at;
  guint node = front_node (e, 1);
  g_autoptr (Pattern) f
      = follow (e, drafting_move_nodes (e, e->pieces[0]->id, &node, 1,
                                        geo_point (100, 0), NULL));
  const PatternPiece *piece = made_piece (f, "band");
  /* A quarter of 200, and the 15 it was moved. */
  assert_near (
      pattern_notch_place (
          pattern_piece_get_notch (piece, made (f, "band/m:middle")), 200),
      65, 1e-6);
  assert_near (piece->drills[0].at.x, spot.x, 1e-6);
  assert_near (piece->drills[0].at.y, spot.y, 1e-6);
  g_assert_nonnull (pattern_piece_get_notch (piece, own));
  const PatternSeam *seam = pattern_get_seam (f, made (f, "s:near"));
  g_assert_cmpstr (seam->name, ==, "sewn");
  g_assert_cmpint (seam->press, ==, PATTERN_PRESS_TO_A);
  assert_near (seam->ease, 2, 1e-9);
  /* Taken away, they stay away; taken back, they come back. */
  g_autoptr (Pattern) g = follow (
      f, drafting_remove_mark (f, band, made (f, "band/m:spot"), NULL));
  g_autoptr (Pattern) h
      = follow (g, drafting_remove_seam (g, made (g, "s:near"), NULL));
  node = front_node (h, 1);
  g_autoptr (Pattern) i
      = follow (h, drafting_move_nodes (h, h->pieces[0]->id, &node, 1,
                                        geo_point (-50, 0), NULL));
  g_assert_cmpuint (made_piece (i, "band")->n_drills, ==, 0);
  g_assert_cmpuint (i->n_seams, ==, 0);
  g_autoptr (Pattern) j = drafting_undo_hand (i, i->recipes[0]->id, NULL, NULL);
  g_assert_cmpuint (made_piece (j, "band")->n_drills, ==, 1);
  g_assert_cmpuint (j->n_seams, ==, 1);
}

static void
test_trouble (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-band edge=front/left depth=50mm");
  guint node = front_node (a, 3);
  g_autoptr (Pattern) b
      = follow (a, drafting_move_nodes (a, a->pieces[0]->id, &node, 1,
                                        geo_point (0, -30), NULL));
  g_assert_nonnull (b->recipes[0]->trouble);
  g_assert_nonnull (strstr (b->recipes[0]->trouble, "At most 30.0"));
  g_assert_true (made_piece (b, "band") == made_piece (a, "band"));
  g_autofree char *found = findings (b);
  g_assert_cmpstr (found, ==, "trouble/mend ");
  g_autoptr (Pattern) c
      = follow (b, drafting_move_nodes (b, b->pieces[0]->id, &node, 1,
                                        geo_point (0, 40), NULL));
  g_assert_null (c->recipes[0]->trouble);
  g_autofree char *none = findings (c);
  g_assert_cmpstr (none, ==, "");
  assert_near (pattern_piece_area (made_piece (c, "band")), 3500, 1e-6);
  g_autoptr (Pattern) d
      = follow (c, drafting_remove_piece (c, c->pieces[0]->id, NULL));
  g_assert_nonnull (d->recipes[0]->trouble);
  g_assert_nonnull (made_piece (d, "band"));
  /* A change that waits for its node. */
  g_autoptr (Pattern) e = run (p, "test-band edge=front/top cut-corner=yes");
  guint c2 = made (e, "band/n:c2"), band = made (e, "band");
  g_autoptr (Pattern) f = follow (
      e, drafting_move_nodes (e, band, &c2, 1, geo_point (-2, 0), NULL));
  g_autoptr (PatternStep) step = pattern_step_dup (f->recipes[0]->step);
  pattern_step_set (step, "cut-corner", "no");
  g_autoptr (Pattern) g
      = drafting_set_recipe (f, f->recipes[0]->id, step, NULL);
  g_assert_null (made_node (g, "band/n:c2"));
  g_assert_cmpuint (g->recipes[0]->n_changes, ==, 1);
  g_assert_true (pattern_recipe_change_waits (g, g->recipes[0],
                                              &g->recipes[0]->changes[0]));
  g_autofree char *words = drafting_recipe_words (g, g->recipes[0]->id);
  g_assert_nonnull (strstr (words, "waits"));
  g_autofree char *waits = findings (g);
  g_assert_cmpstr (waits, ==, "waits/look ");
  pattern_step_set (step, "cut-corner", "yes");
  g_autoptr (Pattern) h
      = drafting_set_recipe (g, g->recipes[0]->id, step, NULL);
  assert_at (made_node (h, "band/n:c2"), 93, 240);
}

static void
test_make_up_refused (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-band edge=front/top");
  guint band = made (a, "band");
  g_autoptr (Pattern) added
      = drafting_add_node (a, band, made (a, "band/e:near"), 20, NULL, NULL);
  g_autoptr (GError) error = NULL;
  g_assert_null (drafting_follow (a, added, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_LINKED);
  g_assert_nonnull (strstr (error->message, "let it go"));
  /* A verb lets it go by itself, and says so. */
  g_autofree char *line
      = g_strdup_printf ("test-cut edge=%u/%u", band, made (a, "band/e:near"));
  g_autoptr (PatternStep) step = parse (a, line);
  g_autofree char *let_go = NULL;
  g_autoptr (Pattern) cut = drafting_step_do (a, step, &let_go, NULL);
  g_assert_cmpstr (let_go, ==, "Band");
  g_assert_cmpuint (cut->n_recipes, ==, 0);
  g_assert_cmpuint (pattern_get_piece (cut, band)->n_nodes, ==, 5);
  /* One that moves nodes alone is a change by hand. */
  g_autofree char *raise = g_strdup_printf ("test-raise node=%u/n%u by=1", band,
                                            made (a, "band/n:c"));
  g_autoptr (PatternStep) up = parse (a, raise);
  g_autofree char *none = NULL;
  g_autoptr (Pattern) raised = drafting_step_do (a, up, &none, NULL);
  g_assert_null (none);
  g_assert_cmpuint (raised->recipes[0]->n_changes, ==, 1);
  g_autoptr (Pattern) free = drafting_let_go (a, a->recipes[0]->id, NULL);
  g_assert_cmpuint (free->n_recipes, ==, 0);
  g_autoptr (Pattern) after
      = drafting_add_node (free, band, made (a, "band/e:near"), 20, NULL, NULL);
  g_autoptr (Pattern) b = follow (free, g_steal_pointer (&after));
  g_assert_cmpuint (pattern_get_piece (b, band)->n_nodes, ==, 5);
  g_assert_null (drafting_recipe_of (b, band));
}

/* A band along a band: both follow, in order; neither can be drafted from itself. */
static void
test_chain (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-band edge=front/top depth=4");
  g_autofree char *line
      = g_strdup_printf ("test-band edge=%u/%u depth=2", made (a, "band"),
                         made (a, "band/e:near"));
  g_autoptr (Pattern) b = run (a, line);
  guint node = front_node (b, 1);
  g_autoptr (Pattern) c
      = follow (b, drafting_move_nodes (b, b->pieces[0]->id, &node, 1,
                                        geo_point (20, 0), NULL));
  assert_near (pattern_piece_area (made_piece (c, "band")), 2400, 1e-6);
  g_autoptr (PatternStep) step = pattern_step_dup (c->recipes[0]->step);
  g_autofree char *round
      = g_strdup_printf ("%u/%u", made (c, "band"), made (c, "band/e:far"));
  pattern_step_set (step, "edge", round);
  g_autoptr (GError) error = NULL;
  g_assert_null (drafting_set_recipe (c, c->recipes[0]->id, step, &error));
  g_assert_nonnull (strstr (error->message, "from itself"));
  g_autoptr (PatternStep) deeper = pattern_step_dup (c->recipes[0]->step);
  pattern_step_set (deeper, "depth", "bust girth / 20");
  g_autoptr (Pattern) d
      = drafting_set_recipe (c, c->recipes[0]->id, deeper, NULL);
  assert_near (pattern_piece_area (d->pieces[1]), 120 * 44, 1e-6);
  g_autoptr (Pattern) e = pattern_dup (d);
  PatternFigure figure = e->figures[0];
  figure.mm = 1000;
  pattern_put_figure (e, &figure);
  g_autoptr (Pattern) f = follow (d, g_steal_pointer (&e));
  assert_near (pattern_piece_area (f->pieces[1]), 120 * 50, 1e-6);
}

static void
test_marks_on_a_piece (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-spots edge=front/top count=3");
  g_assert_cmpuint (a->n_pieces, ==, 1);
  g_assert_cmpuint (a->pieces[0]->n_drills, ==, 3);
  g_autoptr (Pattern) moved
      = follow (a, drafting_turn_piece (a, a->pieces[0]->id, 0.4, NULL));
  g_assert_cmpuint (moved->recipes[0]->n_changes, ==, 0);
  guint first = a->pieces[0]->drills[0].id;
  g_autoptr (Pattern) b
      = follow (a, drafting_move_mark (a, a->pieces[0]->id, first,
                                       geo_point (0, 5), NULL));
  guint node = front_node (b, 1);
  g_autoptr (Pattern) c
      = follow (b, drafting_move_nodes (b, b->pieces[0]->id, &node, 1,
                                        geo_point (20, 0), NULL));
  assert_near (c->pieces[0]->drills[0].at.x, 30, 1e-6);
  assert_near (c->pieces[0]->drills[0].at.y, 5, 1e-6);
  g_autoptr (PatternStep) step = pattern_step_dup (c->recipes[0]->step);
  pattern_step_set (step, "count", "1");
  g_autoptr (Pattern) d
      = drafting_set_recipe (c, c->recipes[0]->id, step, NULL);
  g_assert_cmpuint (d->pieces[0]->n_drills, ==, 1);
}

static void
test_removed (void)
{
  g_autoptr (Pattern) p = with_front ();
  g_autoptr (Pattern) a = run (p, "test-band edge=front/top");
  g_autoptr (Pattern) b
      = follow (a, drafting_remove_piece (a, made (a, "band"), NULL));
  g_assert_cmpuint (b->n_recipes, ==, 0);
  g_assert_cmpuint (b->n_pieces, ==, 1);
}

/* Any moves of any nodes of the source and the band: what stands is always the draft with her
 * changes on it, wherever the band lies. */
static void
test_any (void)
{
  for (int round = 0; round < 40; round++)
    {
      g_autoptr (Pattern) p = with_front ();
      g_autoptr (Pattern) now
          = run (p, g_test_rand_bit () ? "test-band edge=front/top against=yes"
                                       : "test-band edge=front/right");
      guint band = made (now, "band"), c = made (now, "band/n:c");
      for (int i = 0; i < 8; i++)
        {
          g_autoptr (Pattern) before = g_steal_pointer (&now);
          GeoPoint by = { g_test_rand_double_range (-3, 3),
                          g_test_rand_double_range (-3, 3) };
          guint node = front_node (before, (guint)g_test_rand_int_range (0, 4));
          Pattern *edit = NULL;
          switch (g_test_rand_int_range (0, 5))
            {
            case 0:
              edit = drafting_move_nodes (before, before->pieces[0]->id, &node,
                                          1, by, NULL);
              break;
            case 1:
              edit = drafting_move_nodes (before, band, &c, 1, by, NULL);
              break;
            case 2:
              edit = drafting_turn_piece (before, band, by.x, NULL);
              break;
            case 3:
              edit = drafting_mirror_piece (before, band, NULL);
              break;
            default:
              edit = drafting_turn_piece (before, before->pieces[0]->id, by.y,
                                          NULL);
            }
          now = follow (before, edit);
          g_assert_null (now->recipes[0]->trouble);
        }
      /* Drafted again from nothing changed: the same. */
      g_autoptr (Pattern) again = drafting_set_recipe (
          now, now->recipes[0]->id, now->recipes[0]->step, NULL);
      g_assert_nonnull (again);
      const PatternPiece *x = made_piece (now, "band");
      const PatternPiece *y = made_piece (again, "band");
      for (guint k = 0; k < x->n_nodes; k++)
        assert_near (geo_distance (x->nodes[k].at, y->nodes[k].at), 0, 1e-6);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  drafting_verbs_add_table (test_table);
  g_test_add_func ("/recipe/values", test_values);
  g_test_add_func ("/recipe/drafted", test_drafted);
  g_test_add_func ("/recipe/turned", test_turned);
  g_test_add_func ("/recipe/sources-followed", test_sources_followed);
  g_test_add_func ("/recipe/moved-piece-stays", test_moved_piece_stays);
  g_test_add_func ("/recipe/hand-changes", test_hand_changes);
  g_test_add_func ("/recipe/handles-kept", test_handles_kept);
  g_test_add_func ("/recipe/marks-and-seams", test_marks_and_seams);
  g_test_add_func ("/recipe/trouble", test_trouble);
  g_test_add_func ("/recipe/make-up-refused", test_make_up_refused);
  g_test_add_func ("/recipe/chain", test_chain);
  g_test_add_func ("/recipe/marks-on-a-piece", test_marks_on_a_piece);
  g_test_add_func ("/recipe/removed", test_removed);
  g_test_add_func ("/recipe/any", test_any);
  return g_test_run ();
}
