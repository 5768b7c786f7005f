/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces of one pattern added to another. */
#include <math.h>

#include "sample.h"

/* The sample's two pieces, cut from "canvas" besides its own shell. */
static Pattern *
other_pattern (guint *canvas)
{
  g_autoptr (Pattern) sample = sample_pattern ();
  PatternCloth cloth
      = { .name = (char *)"canvas", .use = PATTERN_INTERFACING, .width = 900 };
  GError *error = NULL;
  g_autoptr (Pattern) more
      = drafting_put_cloth (sample, &cloth, canvas, &error);
  g_assert_no_error (error);
  const PatternCut cuts[]
      = { { sample->cloths[0].id, 2, TRUE }, { *canvas, 1, FALSE } };
  Pattern *cut
      = drafting_set_cuts (more, sample->pieces[0]->id, cuts, 2, &error);
  g_assert_no_error (error);
  return cut;
}

static gboolean
has_id (const Pattern *pattern, guint id)
{
  return pattern_get_piece (pattern, id) != NULL;
}

/* Measures stay, places move by what was asked, numbers are new, seams are not
 * brought. */
static void
test_added (void)
{
  guint canvas = 0;
  g_autoptr (Pattern) p = sample_pattern ();
  g_autoptr (Pattern) untouched = deep_copy (p);
  g_autoptr (Pattern) from = other_pattern (&canvas);
  g_autoptr (Pattern) from_untouched = deep_copy (from);
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  GError *error = NULL;
  GeoPoint by = { 640, -25 };
  g_autoptr (Pattern) all = drafting_add_pieces_of (p, from, by, ids, &error);
  g_assert_no_error (error);
  assert_sound (all);
  g_assert_cmpuint (all->n_pieces, ==, 4);
  g_assert_cmpuint (all->n_seams, ==, p->n_seams);
  g_assert_cmpuint (ids->len, ==, 2);
  for (guint i = 0; i < ids->len; i++)
    {
      guint id = g_array_index (ids, guint, i);
      g_assert_false (has_id (p, id));
      const PatternPiece *copy = pattern_get_piece (all, id);
      const PatternPiece *own = from->pieces[i];
      g_assert_cmpstr (copy->name, ==, own->name);
      g_assert_cmpuint (copy->n_nodes, ==, own->n_nodes);
      for (guint n = 0; n < own->n_nodes; n++)
        {
          assert_near (copy->nodes[n].at.x, own->nodes[n].at.x + by.x, 1e-9);
          assert_near (copy->nodes[n].out.y, own->nodes[n].out.y + by.y, 1e-9);
        }
      for (guint e = 0; e < own->n_edges; e++)
        assert_near (edge_length (all, id, copy->edges[e].id),
                     edge_length (from, own->id, own->edges[e].id), 1e-9);
      assert_near (copy->drills[0].at.x, own->drills[0].at.x + by.x, 1e-9);
    }
  for (guint i = 0; i < p->n_pieces; i++)
    g_assert_true (pattern_get_piece (all, p->pieces[i]->id) == p->pieces[i]);
  g_assert_true (pattern_equal (p, untouched));
  g_assert_true (pattern_equal (from, from_untouched));
}

/* A cloth of the same name is the same; another is brought along, once. */
static void
test_cloths (void)
{
  guint canvas = 0;
  g_autoptr (Pattern) p = sample_pattern ();
  g_autoptr (Pattern) from = other_pattern (&canvas);
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  GError *error = NULL;
  g_autoptr (Pattern) once
      = drafting_add_pieces_of (p, from, geo_point (700, 0), ids, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (once->n_cloths, ==, 2);
  const PatternPiece *copy
      = pattern_get_piece (once, g_array_index (ids, guint, 0));
  g_assert_cmpuint (copy->n_cuts, ==, 2);
  g_assert_cmpuint (copy->cuts[0].cloth, ==, p->cloths[0].id);
  g_assert_cmpint (copy->cuts[0].count, ==, 2);
  g_assert_true (copy->cuts[0].mirrored);
  g_assert_cmpstr (pattern_get_cloth (once, copy->cuts[1].cloth)->name, ==,
                   "canvas");
  g_autoptr (Pattern) twice
      = drafting_add_pieces_of (once, from, geo_point (1400, 0), NULL, &error);
  g_assert_no_error (error);
  assert_sound (twice);
  g_assert_cmpuint (twice->n_pieces, ==, 6);
  g_assert_cmpuint (twice->n_cloths, ==, 2);
}

static void
test_refusals (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  GError *error = NULL;
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  g_assert_null (
      drafting_add_pieces_of (p, p, geo_point (NAN, 0), ids, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  g_assert_cmpuint (ids->len, ==, 0);
  /* Of nothing, nothing. */
  g_autoptr (Pattern) empty = pattern_new ("empty");
  g_autoptr (Pattern) same
      = drafting_add_pieces_of (p, empty, geo_point (0, 0), ids, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (same->n_pieces, ==, p->n_pieces);
  g_assert_cmpuint (ids->len, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paste/added", test_added);
  g_test_add_func ("/paste/cloths", test_cloths);
  g_test_add_func ("/paste/refusals", test_refusals);
  return g_test_run ();
}
