/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/fitting.h"

#include <math.h>

#include "drafting/verb.h"
#include "sample.h"

/* A pattern with a fitting kept, and changes made to it one after another as a
 * window makes them. */
typedef struct
{
  Pattern *p;
} Table;

static Table
table_new (void)
{
  g_autoptr (Pattern) p = sample_pattern ();
  Table table
      = { drafting_keep_fitting (p, NULL, "tight at the neck", NULL, NULL) };
  return table;
}

static void
take (Table *table, const char *label, const char *merge, Pattern *now)
{
  g_assert_nonnull (now);
  Pattern *with = drafting_record (table->p, now, label, merge, NULL);
  assert_sound (with);
  pattern_unref (table->p);
  table->p = with;
}

static const PatternPiece *
front (const Table *table)
{
  return table->p->pieces[0];
}

/* The same pieces and seams; numbers taken on the way aside. */
static void
assert_same_shape (const Pattern *a, const Pattern *b)
{
  g_assert_cmpuint (a->n_pieces, ==, b->n_pieces);
  for (guint i = 0; i < a->n_pieces; i++)
    g_assert_true (pattern_piece_equal (
        a->pieces[i], pattern_get_piece (b, a->pieces[i]->id)));
  g_assert_cmpuint (a->n_seams, ==, b->n_seams);
}

static void
test_keep (void)
{
  Table t = table_new ();
  g_assert_cmpuint (t.p->n_fittings, ==, 1);
  g_assert_cmpstr (t.p->fittings[0]->name, ==, "muslin 1");
  g_autoptr (Pattern) two = drafting_keep_fitting (t.p, NULL, NULL, NULL, NULL);
  g_assert_cmpstr (two->fittings[1]->name, ==, "muslin 2");
  g_assert_cmpuint (two->fittings[1]->kept->n_fittings, ==, 0);
  assert_sound (two);
  g_autoptr (Pattern) copy = pattern_dup (two);
  g_assert_true (pattern_equal (copy, two));
  g_assert_false (pattern_equal (t.p, two));
  pattern_unref (t.p);
}

/* One of four changes taken back: what the others did stays, to the bit. */
static void
test_take_back (void)
{
  for (guint gone = 0; gone < 4; gone++)
    {
      Table all = table_new (), others = table_new ();
      for (guint i = 0; i < 4; i++)
        for (int which = 0; which < 2; which++)
          {
            Table *t = which == 0 ? &all : &others;
            guint piece = front (t)->id, edge = front (t)->edges[1].id;
            guint node = front (t)->nodes[1].id;
            if (which == 1 && i == gone)
              continue;
            if (i == 0)
              take (t, "move", NULL,
                    drafting_move_nodes (t->p, piece, &node, 1,
                                         geo_point (5, -7), NULL));
            else if (i == 1)
              take (t, "allow", NULL,
                    drafting_set_allowance (t->p, piece, edge, 17, NULL));
            else if (i == 2)
              take (t, "move again", NULL,
                    drafting_move_nodes (t->p, piece, &node, 1,
                                         geo_point (0, 12), NULL));
            else
              take (t, "name", NULL,
                    drafting_set_piece_name (t->p, piece, "fore", NULL));
          }
      g_assert_cmpuint (all.p->n_changes, ==, 4);
      GError *error = NULL;
      g_autoptr (Pattern) back = drafting_take_back (all.p, gone, &error);
      g_assert_no_error (error);
      assert_sound (back);
      g_assert_cmpuint (back->n_changes, ==, 3);
      assert_same_shape (back, others.p);
      pattern_unref (all.p);
      pattern_unref (others.p);
    }
}

/* A node that was made and moved: the making can't be taken back alone. */
static void
test_refused (void)
{
  Table t = table_new ();
  guint made = 0;
  take (&t, "add a node", NULL,
        drafting_add_node (t.p, front (&t)->id, front (&t)->edges[1].id, 100,
                           &made, NULL));
  take (&t, "move it", NULL,
        drafting_move_nodes (t.p, front (&t)->id, &made, 1, geo_point (9, 0),
                             NULL));
  GError *error = NULL;
  g_assert_null (drafting_take_back (t.p, 0, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_assert_nonnull (strstr (error->message, "“move it”"));
  g_clear_error (&error);
  g_autoptr (Pattern) one = drafting_take_back (t.p, 1, &error);
  g_assert_no_error (error);
  g_autoptr (Pattern) none = drafting_take_back (one, 0, &error);
  g_assert_no_error (error);
  assert_same_shape (none, none->fittings[0]->kept);
  g_assert_null (drafting_take_back (none, 0, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  pattern_unref (t.p);
}

/* A piece moved on the table, and a drill mark put on it there: without the
 * move the mark is in the same place of the piece. */
static void
test_moved_piece (void)
{
  Table t = table_new ();
  guint piece = front (&t)->id, drill = 0;
  GeoMotion m = geo_motion_about (geo_point (100, 100), 0.5);
  m.dx += 40;
  take (&t, "turn", NULL, drafting_move_pieces (t.p, &piece, 1, m, NULL));
  GeoPoint at = geo_motion_apply (m, geo_point (60, 220));
  take (&t, "mark", NULL, drafting_add_drill (t.p, piece, at, &drill, NULL));
  GError *error = NULL;
  g_autoptr (Pattern) back = drafting_take_back (t.p, 0, &error);
  g_assert_no_error (error);
  const PatternPiece *now = pattern_get_piece (back, piece);
  gboolean found = FALSE;
  for (guint i = 0; i < now->n_drills; i++)
    if (now->drills[i].id == drill)
      {
        found = TRUE;
        assert_near (now->drills[i].at.x, 60, 1e-6);
        assert_near (now->drills[i].at.y, 220, 1e-6);
      }
  g_assert_true (found);
  pattern_unref (t.p);
}

static void
test_nudges (void)
{
  Table t = table_new ();
  guint piece = front (&t)->id, node = front (&t)->nodes[2].id;
  for (int i = 0; i < 3; i++)
    take (&t, "nudge", "nudge-1",
          drafting_move_nodes (t.p, piece, &node, 1, geo_point (1, 0), NULL));
  g_assert_cmpuint (t.p->n_changes, ==, 1);
  take (&t, "nudge", "nudge-2",
        drafting_move_nodes (t.p, piece, &node, 1, geo_point (0, 4), NULL));
  g_assert_cmpuint (t.p->n_changes, ==, 2);
  g_autoptr (Pattern) back = drafting_take_back (t.p, 0, NULL);
  const PatternPiece *was = back->fittings[0]->kept->pieces[0];
  assert_near (back->pieces[0]->nodes[2].at.x, was->nodes[2].at.x, 0);
  assert_near (back->pieces[0]->nodes[2].at.y, was->nodes[2].at.y + 4, 0);
  /* A run of nudges that ends where it began leaves nothing to take back. */
  take (&t, "nudge", "nudge-2",
        drafting_move_nodes (t.p, piece, &node, 1, geo_point (0, -4), NULL));
  g_assert_cmpuint (t.p->n_changes, ==, 1);
  pattern_unref (t.p);
}

static void
test_two_fittings (void)
{
  Table t = table_new ();
  guint piece = front (&t)->id, node = front (&t)->nodes[2].id;
  take (&t, "one", NULL,
        drafting_move_nodes (t.p, piece, &node, 1, geo_point (3, 0), NULL));
  take (&t, "keep", NULL,
        drafting_keep_fitting (t.p, "second", NULL, NULL, NULL));
  take (&t, "two", NULL,
        drafting_move_nodes (t.p, piece, &node, 1, geo_point (0, 5), NULL));
  g_assert_cmpuint (t.p->n_changes, ==, 2);
  g_assert_cmpuint (t.p->fittings[1]->at, ==, 1);
  g_assert_true (drafting_fitting_of (t.p, 0) == t.p->fittings[0]);
  g_assert_true (drafting_fitting_of (t.p, 1) == t.p->fittings[1]);
  /* From before the second fitting: that stays as it was sewn. */
  g_autoptr (Pattern) back = drafting_take_back (t.p, 0, NULL);
  assert_sound (back);
  g_assert_cmpuint (back->fittings[1]->at, ==, 0);
  g_assert_true (back->fittings[1]->kept == t.p->fittings[1]->kept);
  const PatternPiece *kept = back->fittings[0]->kept->pieces[0];
  assert_near (back->pieces[0]->nodes[2].at.x, kept->nodes[2].at.x, 0);
  assert_near (back->pieces[0]->nodes[2].at.y, kept->nodes[2].at.y + 5, 0);
  /* Forgetting the first forgets what was changed before the second. */
  GError *error = NULL;
  g_autoptr (Pattern) left
      = drafting_remove_fitting (t.p, t.p->fittings[0]->id, &error);
  g_assert_no_error (error);
  assert_sound (left);
  g_assert_cmpuint (left->n_changes, ==, 1);
  g_assert_cmpuint (left->fittings[0]->at, ==, 0);
  g_autoptr (Pattern) bare
      = drafting_remove_fitting (left, left->fittings[0]->id, &error);
  assert_sound (bare);
  g_assert_cmpuint (bare->n_changes + bare->n_fittings, ==, 0);
  assert_same_shape (bare, t.p);
  pattern_unref (t.p);
}

/* Pieces and seams made and taken away. */
static void
test_parts (void)
{
  Table t = table_new ();
  guint copy = 0, back = t.p->pieces[1]->id;
  take (&t, "copy", NULL,
        drafting_copy_piece (t.p, front (&t)->id, FALSE, &copy, NULL));
  take (&t, "remove the back", NULL, drafting_remove_piece (t.p, back, NULL));
  g_assert_cmpuint (t.p->n_seams, ==, 0);
  GError *error = NULL;
  g_autoptr (Pattern) again = drafting_take_back (t.p, 1, &error);
  g_assert_no_error (error);
  g_assert_nonnull (pattern_get_piece (again, back));
  g_assert_cmpuint (again->n_seams, ==, 1);
  g_assert_nonnull (pattern_get_piece (again, copy));
  g_autoptr (Pattern) without = drafting_take_back (t.p, 0, &error);
  g_assert_no_error (error);
  g_assert_null (pattern_get_piece (without, copy));
  g_assert_null (pattern_get_piece (without, back));
  pattern_unref (t.p);
}

/* A hem lengthened 20 mm, a node moved after it; then the 20 are made 35: as
 * though it had been 35 from the first. */
static Pattern *
lengthened (const Pattern *p, const char *by, PatternStep **told)
{
  const PatternPiece *piece = p->pieces[0];
  g_autofree char *edge
      = g_strdup_printf ("%u/%u", piece->id, piece->edges[2].id);
  PatternStep *step = pattern_step_new ("lengthen-hem");
  pattern_step_set (step, "edge", edge);
  pattern_step_set (step, "by", by);
  pattern_step_set (step, "all", "no");
  GError *error = NULL;
  Pattern *done = drafting_step_do (p, step, NULL, &error);
  g_assert_no_error (error);
  *told = step;
  return done;
}

static void
test_revise (void)
{
  Pattern *ends[2];
  for (int i = 0; i < 2; i++)
    {
      Table t = table_new ();
      g_autoptr (PatternStep) step = NULL;
      Pattern *now = lengthened (t.p, i == 0 ? "20 mm" : "35 mm", &step);
      Pattern *with = drafting_record (t.p, now, "lengthen", NULL, step);
      pattern_unref (t.p);
      t.p = with;
      guint node = front (&t)->nodes[1].id;
      take (&t, "move", NULL,
            drafting_move_nodes (t.p, front (&t)->id, &node, 1,
                                 geo_point (4, 6), NULL));
      ends[i] = t.p;
    }
  g_autoptr (PatternStep) step = pattern_step_dup (ends[0]->changes[0]->step);
  pattern_step_set (step, "by", "35 mm");
  GError *error = NULL;
  g_autoptr (Pattern) revised = drafting_revise (ends[0], 0, step, &error);
  g_assert_no_error (error);
  assert_sound (revised);
  assert_same_shape (revised, ends[1]);
  g_assert_cmpuint (revised->n_changes, ==, 2);
  g_assert_cmpstr (pattern_step_get (revised->changes[0]->step, "by"), ==,
                   "35 mm");
  /* Revising is no change of its own, or it would be done twice when all is done again. */
  g_autoptr (Pattern) told
      = drafting_record (ends[0], pattern_ref (revised), "revise", NULL, NULL);
  g_assert_cmpuint (told->n_changes, ==, 2);
  g_autoptr (Pattern) back = drafting_take_back (told, 1, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (back->n_changes, ==, 1);
  /* What can't be done is refused; what was done by hand has no amount. */
  pattern_step_set (step, "by", "-5 m");
  g_assert_null (drafting_revise (ends[0], 0, step, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  g_assert_null (drafting_revise (ends[0], 1, step, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  pattern_unref (ends[0]);
  pattern_unref (ends[1]);
}

/* Beyond 2,000 changes the list begins anew, and the newest can still be taken
 * back. */
static void
test_full (void)
{
  Table t = table_new ();
  guint piece = front (&t)->id, edge = front (&t)->edges[0].id;
  for (int i = 0; i < 2001; i++)
    take (&t, "allow", NULL,
          drafting_set_allowance (t.p, piece, edge, 11 + i % 2, NULL));
  g_assert_cmpuint (t.p->n_fittings, ==, 2);
  g_assert_cmpuint (t.p->n_changes, <, 2000);
  double now = front (&t)->edges[0].allowance;
  GError *error = NULL;
  g_autoptr (Pattern) back
      = drafting_take_back (t.p, t.p->n_changes - 1, &error);
  g_assert_no_error (error);
  assert_near (back->pieces[0]->edges[0].allowance, 23 - now, 0);
  pattern_unref (t.p);
}

/* Many random changes by hand: taking the last one back gives what was before
 * it; taking them back from the newest to the oldest gives the fitting. */
static void
test_random (void)
{
  for (int round = 0; round < 40; round++)
    {
      Table t = table_new ();
      g_autoptr (GPtrArray) before
          = g_ptr_array_new_with_free_func ((GDestroyNotify)pattern_unref);
      for (int i = 0; i < 8; i++)
        {
          guint which = (guint)g_test_rand_int_range (0, 2);
          const PatternPiece *piece = t.p->pieces[which];
          guint k = (guint)g_test_rand_int_range (0, (int)piece->n_nodes);
          guint node = piece->nodes[k].id;
          GeoPoint by = geo_point (g_test_rand_double_range (-5, 5),
                                   g_test_rand_double_range (-5, 5));
          Pattern *now = NULL;
          int kind = g_test_rand_int_range (0, 5);
          if (kind == 0)
            now = drafting_move_nodes (t.p, piece->id, &node, 1, by, NULL);
          else if (kind == 1)
            now = drafting_set_handle (t.p, piece->id, node,
                                       DRAFTING_HANDLE_OUT,
                                       geo_add (piece->nodes[k].out, by), NULL);
          else if (kind == 2)
            now = drafting_add_node (t.p, piece->id, piece->edges[1].id,
                                     g_test_rand_double_range (20, 150), NULL,
                                     NULL);
          else if (kind == 3)
            now = drafting_move_pieces (
                t.p, &piece->id, 1, geo_motion_about (by, 0.1 * by.x), NULL);
          else
            now = drafting_add_notch (t.p, piece->id, piece->edges[0].id, 1,
                                      PATTERN_FROM_START, 20 + by.x, NULL,
                                      NULL);
          if (now == NULL)
            continue;
          guint n = t.p->n_changes;
          Pattern *was = pattern_ref (t.p);
          take (&t, "change", NULL, now);
          if (t.p->n_changes > n)
            g_ptr_array_add (before, was);
          else
            pattern_unref (was);
        }
      g_assert_cmpuint (before->len, ==, t.p->n_changes);
      g_autoptr (Pattern) at = pattern_ref (t.p);
      for (guint i = before->len; i > 0; i--)
        {
          GError *error = NULL;
          Pattern *back = drafting_take_back (at, i - 1, &error);
          g_assert_no_error (error);
          assert_same_shape (back, g_ptr_array_index (before, i - 1));
          pattern_unref (at);
          at = back;
        }
      pattern_unref (t.p);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fitting/keep", test_keep);
  g_test_add_func ("/fitting/take-back", test_take_back);
  g_test_add_func ("/fitting/refused", test_refused);
  g_test_add_func ("/fitting/moved-piece", test_moved_piece);
  g_test_add_func ("/fitting/nudges", test_nudges);
  g_test_add_func ("/fitting/two-fittings", test_two_fittings);
  g_test_add_func ("/fitting/parts", test_parts);
  g_test_add_func ("/fitting/revise", test_revise);
  g_test_add_func ("/fitting/full", test_full);
  g_test_add_func ("/fitting/random", test_random);
  return g_test_run ();
}
