/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Naming a piece's edges: what is offered, by guess and by typing, and the way round the piece. */
#include <string.h>

#include "app/naming.h"

static AppSession *
front (void)
{
  Pattern *p = pattern_new ("naming");
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), "Front");
  static const double at[][2] = { { 0, 90 },    { 75, 0 },    { 195, 40 },
                                  { 230, 205 }, { 225, 410 }, { 0, 420 } };
  PatternNode nodes[6];
  gboolean starts[6];
  for (guint i = 0; i < 6; i++)
    {
      GeoPoint point = { at[i][0], at[i][1] };
      nodes[i] = (PatternNode){ 0, PATTERN_NODE_CORNER, point, point, point };
      starts[i] = TRUE;
    }
  nodes[0].out = geo_point (40, 90);
  nodes[1].in = geo_point (70, 50);
  nodes[2].out = geo_point (175, 110);
  nodes[3].in = geo_point (180, 190);
  pattern_piece_set_outline (piece, nodes, 6, starts, &p->next_id);
  pattern_put_piece (p, piece);
  return app_session_new (p);
}

static const PatternEdge *
edge_of (AppSession *s, guint i)
{
  return &app_session_get_pattern (s)->pieces[0]->edges[i];
}

static void
assert_first (AppSession *s, const char *typed, const char *name,
              gboolean guess)
{
  g_autoptr (GArray) offers = app_naming_offers (s, typed, 4);
  g_assert_cmpuint (offers->len, >, 0);
  g_assert_cmpuint (offers->len, <=, 4);
  const AppNameOffer *offer = &g_array_index (offers, AppNameOffer, 0);
  g_assert_cmpstr (offer->name, ==, name);
  g_assert_cmpint (offer->guess, ==, guess);
}

static void
test_round (void)
{
  static const char *const names[]
      = { "front neck", "shoulder", "armhole",
          "side seam",  "waist",    "centre front" };
  g_autoptr (AppSession) s = front ();
  guint which, of;
  g_assert_true (app_naming_begin (s));
  for (guint i = 0; i < 6; i++)
    {
      g_assert_cmpuint (app_naming_left (s, &which, &of), ==, 6 - i);
      g_assert_cmpuint (which, ==, i + 1);
      g_assert_cmpuint (of, ==, 6);
      assert_first (s, "", names[i], TRUE);
      g_autoptr (GArray) offers = app_naming_offers (s, "", 4);
      g_assert_true (
          app_naming_take (s, g_array_index (offers, AppNameOffer, 0).name));
      g_assert_cmpstr (edge_of (s, i)->name, ==, names[i]);
    }
  g_assert_cmpuint (app_naming_left (s, &which, NULL), ==, 0);
  g_assert_cmpuint (which, ==, 6);
  /* One step each. */
  for (guint i = 0; i < 6; i++)
    app_session_undo (s);
  g_assert_cmpstr (edge_of (s, 0)->name, ==, "");
}

static void
test_typed (void)
{
  g_autoptr (AppSession) s = front ();
  g_assert_true (app_naming_begin (s));
  app_naming_step (s, -1);
  guint which;
  app_naming_left (s, &which, NULL);
  g_assert_cmpuint (which, ==, 6);
  assert_first (s, "FOLD", "centre front fold", FALSE);
  assert_first (s, "  hem ", "hem", FALSE);
  assert_first (s, "moth hole", "moth hole", FALSE);
  /* Her own word is always there, last; inside a word is no match. */
  g_autoptr (GArray) offers = app_naming_offers (s, "e", 4);
  const AppNameOffer *last
      = &g_array_index (offers, AppNameOffer, offers->len - 1);
  g_assert_true (last->typed);
  g_assert_cmpstr (last->name, ==, "e");
  assert_first (s, "eck", "eck", FALSE);
  g_assert_true (app_naming_take (s, "centre front fold"));
  g_assert_cmpint (edge_of (s, 5)->kind, ==, PATTERN_EDGE_FOLD);
  /* On to the next without a name, round the piece. */
  app_naming_left (s, &which, NULL);
  g_assert_cmpuint (which, ==, 1);
}

static void
note_problem (AppSession *s, const char *text, char **told)
{
  (void)s;
  g_free (*told);
  *told = g_strdup (text);
}

static void
test_nothing (void)
{
  g_autoptr (AppSession) s = app_session_new (pattern_new ("empty"));
  g_autofree char *told = NULL;
  g_signal_connect (s, "problem", G_CALLBACK (note_problem), &told);
  g_assert_false (app_naming_begin (s));
  g_assert_nonnull (told);
  g_assert_false (app_naming_take (s, "hem"));
  g_autoptr (GArray) offers = app_naming_offers (s, "", 4);
  g_assert_cmpuint (offers->len, ==, 0);
  app_naming_step (s, 1);
  g_autofree char *words = app_naming_words (s);
  g_assert_cmpstr (words, ==, "");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/naming/round", test_round);
  g_test_add_func ("/naming/typed", test_typed);
  g_test_add_func ("/naming/nothing", test_nothing);
  return g_test_run ();
}
