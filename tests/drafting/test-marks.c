/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "sample.h"

#define BEGIN                                                                  \
  g_autoptr (Pattern) p = sample_pattern ();                                   \
  g_autoptr (Pattern) untouched = deep_copy (p);                               \
  const PatternPiece *front = p->pieces[0];                                    \
  guint piece = front->id;                                                     \
  GError *error = NULL
#define END                                                                    \
  g_assert_no_error (error);                                                   \
  g_assert_true (pattern_equal (p, untouched))

static void
test_notches (void)
{
  BEGIN;
  guint hem = front->edges[2].id, id = 0;
  g_autoptr (Pattern) one
      = DO (drafting_add_notch, piece, hem, 3, PATTERN_FROM_END, 80, &id);
  const PatternPiece *now = pattern_get_piece (one, piece);
  const PatternNotch *notch = pattern_piece_get_notch (now, id);
  g_assert_cmpint (notch->count, ==, 3);
  assert_near (pattern_notch_place (notch, 200), 120, 1e-12);
  g_autoptr (Pattern) two = drafting_move_notch (one, piece, id, 30, &error);
  assert_done (two, one, piece, error);
  notch = pattern_piece_get_notch (pattern_get_piece (two, piece), id);
  g_assert_cmpint (notch->from, ==, PATTERN_FROM_END);
  assert_near (notch->amount, 170, 1e-9);
  /* Dragged past the end it stays at the end. */
  g_autoptr (Pattern) three = drafting_move_notch (one, piece, id, 900, &error);
  notch = pattern_piece_get_notch (pattern_get_piece (three, piece), id);
  assert_near (notch->amount, 0, 1e-9);
  g_autoptr (Pattern) four
      = drafting_set_notch (one, piece, id, 1, PATTERN_FRACTION, 0.5, &error);
  assert_done (four, one, piece, error);
  notch = pattern_piece_get_notch (pattern_get_piece (four, piece), id);
  g_assert_cmpint (notch->from, ==, PATTERN_FRACTION);
  g_autoptr (Pattern) five = drafting_move_notch (four, piece, id, 50, &error);
  notch = pattern_piece_get_notch (pattern_get_piece (five, piece), id);
  assert_near (notch->amount, 0.25, 1e-9);
  END;
}

static void
test_notch_refusals (void)
{
  BEGIN;
  guint hem = front->edges[2].id;
  static const struct
  {
    int count;
    PatternNotchFrom from;
    double amount;
  } bad[] = { { 0, PATTERN_FROM_START, 5 },     { 4, PATTERN_FROM_START, 5 },
              { 1, PATTERN_FROM_START, -1 },    { 1, PATTERN_FROM_START, 201 },
              { 1, PATTERN_FROM_END, 201 },     { 1, PATTERN_FRACTION, 1.1 },
              { 1, PATTERN_FRACTION, -0.1 },    { 1, PATTERN_FROM_START, NAN },
              { 1, PATTERN_FROM_END, INFINITY } };
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_assert_null (drafting_add_notch (p, piece, hem, bad[i].count,
                                         bad[i].from, bad[i].amount, NULL,
                                         &error));
      g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
      g_clear_error (&error);
      g_assert_null (drafting_set_notch (
          p, piece, front->notches[0].id, bad[i].count, bad[i].from,
          bad[i].amount + (i == 3 || i == 4 ? 200 : 0), &error));
      g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
      g_clear_error (&error);
    }
  /* The message says how long the edge is. */
  g_assert_null (drafting_add_notch (p, piece, hem, 1, PATTERN_FROM_START, 201,
                                     NULL, &error));
  g_assert_nonnull (strstr (error->message, "20.0 cm"));
  g_clear_error (&error);
  g_assert_null (drafting_move_notch (p, piece, 4711, 5, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  END;
}

static void
test_marks (void)
{
  BEGIN;
  GeoPoint at = { 40, 90 }, by = { 3, 4 };
  guint hole = 0, drill = 0, text = 0;
  g_autoptr (Pattern) a
      = DO (drafting_add_buttonhole, piece, at, 0.1, 22, &hole);
  g_autoptr (Pattern) b = DO (drafting_add_drill, piece, at, &drill);
  g_autoptr (Pattern) c = DO (drafting_add_text, piece, at, 0, 6, "CF", &text);
  g_assert_cmpuint (pattern_get_piece (a, piece)->n_buttonholes, ==, 2);
  g_assert_cmpuint (pattern_get_piece (b, piece)->n_drills, ==, 2);
  g_assert_cmpstr (pattern_get_piece (c, piece)->texts[1].text, ==, "CF");
  g_autoptr (Pattern) d
      = DO (drafting_move_mark, piece, front->buttonholes[0].id, by);
  g_assert_true (geo_same (pattern_get_piece (d, piece)->buttonholes[0].at,
                           geo_add (front->buttonholes[0].at, by)));
  g_autoptr (Pattern) e
      = DO (drafting_move_mark, piece, front->lines[0].id, by);
  g_assert_true (geo_same (pattern_get_piece (e, piece)->lines[0].nodes[1].in,
                           geo_add (front->lines[0].nodes[1].in, by)));
  g_autoptr (Pattern) f
      = DO (drafting_move_mark, piece, front->drills[0].id, by);
  g_autoptr (Pattern) g
      = DO (drafting_move_mark, piece, front->texts[0].id, by);
  g_assert_true (geo_same (pattern_get_piece (f, piece)->drills[0].at,
                           geo_add (front->drills[0].at, by)));
  g_assert_true (geo_same (pattern_get_piece (g, piece)->texts[0].at,
                           geo_add (front->texts[0].at, by)));
  g_autoptr (Pattern) h = DO (drafting_remove_mark, piece, front->texts[0].id);
  g_assert_cmpuint (pattern_get_piece (h, piece)->n_texts, ==, 0);
  END;
}

static void
test_mark_refusals (void)
{
  BEGIN;
  GeoPoint at = { 40, 90 }, off = { NAN, 0 };
  Pattern *none[] = {
    drafting_add_buttonhole (p, piece, off, 0, 20, NULL, NULL),
    drafting_add_buttonhole (p, piece, at, NAN, 20, NULL, NULL),
    drafting_add_buttonhole (p, piece, at, 0, 0, NULL, NULL),
    drafting_add_drill (p, piece, off, NULL, NULL),
    drafting_add_text (p, piece, at, 0, 0, "x", NULL, NULL),
    drafting_add_text (p, piece, at, 0, 5, "", NULL, NULL),
    drafting_move_mark (p, piece, front->notches[0].id, at, NULL),
    drafting_move_mark (p, piece, 4711, at, NULL),
    drafting_move_mark (p, piece, front->drills[0].id, off, NULL),
    drafting_remove_mark (p, piece, 4711, NULL),
    drafting_remove_mark (p, 4711, 1, NULL),
  };
  for (guint i = 0; i < G_N_ELEMENTS (none); i++)
    g_assert_null (none[i]);
  g_assert_no_error (error);
  END;
}

/* Another place, direction, size or wording: the mark keeps its number, and the
 * others of the piece are as they were. */
static void
test_set_marks (void)
{
  BEGIN;
  GeoPoint to = { 71, 133 };
  guint hole = front->buttonholes[0].id, drill = front->drills[0].id;
  guint text = front->texts[0].id;
  g_autoptr (Pattern) a
      = DO (drafting_set_buttonhole, piece, hole, to, -0.7, 18.5);
  const PatternPiece *now = pattern_get_piece (a, piece);
  g_assert_cmpuint (now->n_buttonholes, ==, 1);
  g_assert_cmpuint (now->buttonholes[0].id, ==, hole);
  g_assert_true (geo_same (now->buttonholes[0].at, to));
  assert_near (now->buttonholes[0].angle, -0.7, 0);
  assert_near (now->buttonholes[0].length, 18.5, 0);
  g_assert_true (geo_same (now->drills[0].at, front->drills[0].at));

  g_autoptr (Pattern) b = DO (drafting_set_drill, piece, drill, to);
  now = pattern_get_piece (b, piece);
  g_assert_cmpuint (now->drills[0].id, ==, drill);
  g_assert_true (geo_same (now->drills[0].at, to));
  g_assert_true (geo_same (now->buttonholes[0].at, front->buttonholes[0].at));

  g_autoptr (Pattern) c
      = DO (drafting_set_text, piece, text, to, 0.25, 7.5, "lap over");
  now = pattern_get_piece (c, piece);
  g_assert_cmpuint (now->texts[0].id, ==, text);
  g_assert_true (geo_same (now->texts[0].at, to));
  assert_near (now->texts[0].angle, 0.25, 0);
  assert_near (now->texts[0].size, 7.5, 0);
  g_assert_cmpstr (now->texts[0].text, ==, "lap over");
  g_assert_cmpstr (front->texts[0].text, ==, "lap");
  END;
}

static void
test_set_mark_refusals (void)
{
  BEGIN;
  GeoPoint at = { 40, 90 }, off = { 0, INFINITY };
  guint hole = front->buttonholes[0].id, drill = front->drills[0].id;
  guint text = front->texts[0].id;
  /* Not numbers, or sizes of nothing. */
  Pattern *none[] = {
    drafting_set_buttonhole (p, piece, hole, off, 0, 20, NULL),
    drafting_set_buttonhole (p, piece, hole, at, NAN, 20, NULL),
    drafting_set_buttonhole (p, piece, hole, at, 0, 0, NULL),
    drafting_set_buttonhole (p, piece, hole, at, 0, -5, NULL),
    drafting_set_drill (p, piece, drill, off, NULL),
    drafting_set_text (p, piece, text, off, 0, 5, "x", NULL),
    drafting_set_text (p, piece, text, at, 0, NAN, "x", NULL),
    drafting_set_text (p, piece, text, at, 0, 0, "x", NULL),
    drafting_set_text (p, piece, text, at, 0, 5, "", NULL),
    drafting_set_text (p, piece, text, at, 0, 5, NULL, NULL),
  };
  for (guint i = 0; i < G_N_ELEMENTS (none); i++)
    g_assert_null (none[i]);
  /* A mark of another sort, or of none, is gone. */
  for (int i = 0; i < 6; i++)
    {
      guint wrong = i < 3 ? 4711 : i == 3 ? drill : hole;
      Pattern *gone
          = i % 3 == 0
                ? drafting_set_buttonhole (p, piece, wrong, at, 0, 20, &error)
            : i % 3 == 1
                ? drafting_set_drill (p, piece, wrong, at, &error)
                : drafting_set_text (p, piece, wrong, at, 0, 5, "x", &error);
      g_assert_null (gone);
      g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
      g_clear_error (&error);
    }
  END;
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/marks/notches", test_notches);
  g_test_add_func ("/marks/notch-refusals", test_notch_refusals);
  g_test_add_func ("/marks/marks", test_marks);
  g_test_add_func ("/marks/mark-refusals", test_mark_refusals);
  g_test_add_func ("/marks/set", test_set_marks);
  g_test_add_func ("/marks/set-refusals", test_set_mark_refusals);
  return g_test_run ();
}
