/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/history.h"
#include "sample.h"

static Pattern *
renamed (const Pattern *from, const char *name)
{
  Pattern *pattern = pattern_dup (from);
  pattern_set_string (&pattern->name, name);
  return pattern;
}

static void
push (PatternHistory *history, const char *label, const char *merge,
      const char *name)
{
  g_autoptr (Pattern) next
      = renamed (pattern_history_get_current (history), name);
  pattern_history_push_merged (history, label, merge, next);
}

static const char *
current (const PatternHistory *history)
{
  return pattern_history_get_current (history)->name;
}

static void
test_steps (void)
{
  g_autoptr (Pattern) first = sample_pattern ();
  g_autoptr (PatternHistory) history = pattern_history_new (first);
  g_assert_null (pattern_history_get_undo_label (history));
  g_assert_null (pattern_history_get_redo_label (history));
  g_assert_false (pattern_history_undo (history));
  g_assert_false (pattern_history_redo (history));
  push (history, "shorten hem", NULL, "one");
  push (history, "move node", NULL, "two");
  g_assert_cmpstr (pattern_history_get_undo_label (history), ==, "move node");
  g_assert_true (pattern_history_undo (history));
  g_assert_cmpstr (current (history), ==, "one");
  g_assert_cmpstr (pattern_history_get_undo_label (history), ==, "shorten hem");
  g_assert_cmpstr (pattern_history_get_redo_label (history), ==, "move node");
  g_assert_true (pattern_history_undo (history));
  g_assert_true (pattern_history_get_current (history) == first);
  g_assert_true (pattern_history_redo (history));
  /* A new step drops what was undone. */
  push (history, "add notch", NULL, "three");
  g_assert_null (pattern_history_get_redo_label (history));
  g_assert_cmpuint (pattern_history_get_length (history), ==, 3);
  g_assert_cmpstr (pattern_history_get_label (history, 1), ==, "shorten hem");
  g_assert_cmpstr (pattern_history_get_label (history, 2), ==, "add notch");
  g_assert_null (pattern_history_get_label (history, 0));
  g_assert_null (pattern_history_get_label (history, 3));
  g_assert_null (pattern_history_get_pattern (history, 3));
  g_assert_true (pattern_history_go (history, 0));
  g_assert_false (pattern_history_go (history, 3));
  g_assert_cmpuint (pattern_history_get_position (history), ==, 0);
}

static void
test_merging (void)
{
  g_autoptr (Pattern) first = sample_pattern ();
  g_autoptr (PatternHistory) history = pattern_history_new (first);
  push (history, "nudge", "node 5", "a");
  push (history, "nudge", "node 5", "b");
  g_assert_cmpuint (pattern_history_get_length (history), ==, 2);
  g_assert_cmpstr (current (history), ==, "b");
  push (history, "nudge", "node 6", "c"); /* another key */
  g_assert_cmpuint (pattern_history_get_length (history), ==, 3);
  pattern_history_seal (history);
  push (history, "nudge", "node 6", "d"); /* sealed */
  g_assert_cmpuint (pattern_history_get_length (history), ==, 4);
  pattern_history_mark_saved (history);
  push (history, "nudge", "node 6", "e"); /* saved in between */
  g_assert_cmpuint (pattern_history_get_length (history), ==, 5);
  g_assert_false (pattern_history_is_saved (history));
  pattern_history_undo (history);
  g_assert_true (pattern_history_is_saved (history));
  pattern_history_redo (history);
  push (history, "nudge", "node 6", "f"); /* undone and redone in between */
  g_assert_cmpuint (pattern_history_get_length (history), ==, 6);
  push (history, "cut", NULL, "g"); /* no key never merges */
  push (history, "cut", NULL, "h");
  g_assert_cmpuint (pattern_history_get_length (history), ==, 8);
  for (guint i = 7; i-- > 0;)
    g_assert_true (pattern_history_undo (history));
  g_assert_true (pattern_history_get_current (history) == first);
}

static void
test_saved (void)
{
  g_autoptr (Pattern) first = sample_pattern ();
  g_autoptr (PatternHistory) history = pattern_history_new (first);
  g_assert_true (pattern_history_is_saved (history));
  push (history, "a", NULL, "a");
  g_assert_false (pattern_history_is_saved (history));
  pattern_history_mark_saved (history);
  g_assert_true (pattern_history_is_saved (history));
  pattern_history_undo (history);
  g_assert_false (pattern_history_is_saved (history));
  /* The step that was saved is dropped: nothing here is what the file holds. */
  push (history, "b", NULL, "b");
  g_assert_false (pattern_history_is_saved (history));
  pattern_history_undo (history);
  g_assert_false (pattern_history_is_saved (history));
  pattern_history_mark_saved (history);
  pattern_history_mark_unsaved (history);
  g_assert_false (pattern_history_is_saved (history));
}

/* A random walk through pushes, undo and redo: each step revisited is the very
 * pattern that was put there, down to its address. */
static void
test_any_walk (void)
{
  g_autoptr (Pattern) first = sample_pattern ();
  g_autoptr (PatternHistory) history = pattern_history_new (first);
  g_autoptr (GPtrArray) steps
      = g_ptr_array_new_with_free_func ((GDestroyNotify)pattern_unref);
  g_ptr_array_add (steps, pattern_ref (first));
  guint position = 0;
  for (int i = 0; i < 5000; i++)
    {
      switch (g_test_rand_int_range (0, 4))
        {
        case 0:
          g_assert_true (pattern_history_undo (history) == (position > 0));
          position -= position > 0;
          break;
        case 1:
          g_assert_true (pattern_history_redo (history)
                         == (position + 1 < steps->len));
          position += position + 1 < steps->len;
          break;
        default:
          {
            Pattern *next = pattern_dup (pattern_history_get_current (history));
            guint which = (guint)g_test_rand_int_range (0, 2);
            PatternPiece *piece = pattern_piece_dup (next->pieces[which]);
            pattern_piece_move (piece, (GeoMotion){ 1, 0, 1, 0, false });
            pattern_put_piece (next, piece);
            pattern_history_push (history, "move", next);
            g_ptr_array_set_size (steps, (int)position + 1);
            g_ptr_array_add (steps, next);
            position++;
          }
        }
      g_assert_true (pattern_history_get_current (history)
                     == g_ptr_array_index (steps, position));
      g_assert_cmpuint (pattern_history_get_length (history), ==, steps->len);
    }
  for (guint i = 0; i < steps->len; i++)
    g_assert_true (pattern_history_get_pattern (history, i)
                   == g_ptr_array_index (steps, i));
  pattern_history_go (history, 0);
  g_autoptr (Pattern) fresh = sample_pattern ();
  g_assert_true (pattern_equal (pattern_history_get_current (history), fresh));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/history/steps", test_steps);
  g_test_add_func ("/history/merging", test_merging);
  g_test_add_func ("/history/saved", test_saved);
  g_test_add_func ("/history/any-walk", test_any_walk);
  return g_test_run ();
}
