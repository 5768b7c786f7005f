/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures put under the table, moved, shown, kept and taken away. */
#include <math.h>
#include <string.h>

#include "sample.h"

#define assert_refused(call, code, words)                                      \
  do                                                                           \
    {                                                                          \
      g_autoptr (GError) no = NULL;                                            \
      GError **error = &no;                                                    \
      g_assert_null (call);                                                    \
      g_assert_error (no, DRAFTING_ERROR, code);                               \
      if (!strstr (no->message, words))                                        \
        g_error ("“%s” lacks “%s”", no->message, words);                       \
    }                                                                          \
  while (0)

typedef struct
{
  Pattern *p;
  guint picture;
} Sample;

static Sample
sample_with_picture (void)
{
  g_autoptr (Pattern) plain = sample_pattern ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new_static ("pixels", 6);
  g_autoptr (PatternPicture) picture
      = pattern_picture_new (0, "table.png", bytes, 400, 300);
  Sample s = { 0 };
  s.p = drafting_put_picture (plain, picture, &s.picture, &error);
  g_assert_no_error (error);
  assert_sound (s.p);
  g_assert_cmpuint (s.picture, ==, plain->next_id);
  g_assert_cmpuint (picture->id, ==, 0);
  g_assert_cmpuint (plain->n_pictures, ==, 0);
  return s;
}

static void
test_put_and_remove (void)
{
  Sample s = sample_with_picture ();
  g_autoptr (Pattern) p = s.p;
  g_autoptr (GError) no_error = NULL;
  g_autoptr (PatternPicture) again
      = pattern_picture_dup (pattern_get_picture (p, s.picture));
  again->size = PATTERN_SIZE_RESOLUTION;
  guint id = 0;
  g_autoptr (Pattern) sized = drafting_put_picture (p, again, &id, &no_error);
  g_assert_no_error (no_error);
  g_assert_cmpuint (id, ==, s.picture);
  g_assert_cmpuint (sized->n_pictures, ==, 1);
  g_assert_true (sized->pieces[0] == p->pieces[0]);
  g_assert_cmpint (pattern_get_picture (sized, id)->size, ==,
                   PATTERN_SIZE_RESOLUTION);
  again->plane[4] = 0;
  assert_refused (drafting_put_picture (p, again, NULL, error),
                  DRAFTING_ERROR_AMOUNT, "true size");
  again->id = 9999;
  assert_refused (drafting_put_picture (p, again, NULL, error),
                  DRAFTING_ERROR_GONE, "no longer under the table");
  g_autoptr (Pattern) without = drafting_remove_picture (p, id, &no_error);
  g_assert_cmpuint (without->n_pictures, ==, 0);
  assert_refused (drafting_remove_picture (without, id, error),
                  DRAFTING_ERROR_GONE, "no longer under the table");
  assert_refused (
      drafting_move_picture (without, id, geo_point (1, 0), 0, error),
      DRAFTING_ERROR_GONE, "no longer under the table");
}

static void
test_place (void)
{
  Sample s = sample_with_picture ();
  g_autoptr (Pattern) p = s.p;
  g_autoptr (GError) no_error = NULL;
  g_autoptr (Pattern) moved = drafting_move_picture (
      p, s.picture, geo_point (10, -5), G_PI / 2, &no_error);
  g_assert_no_error (no_error);
  assert_sound (moved);
  /* A quarter turn about the middle (200, 150), then moved: the corner (0, 0) is
   * (-200, -150) from the middle, and comes to (150, -200) from it. */
  GeoPoint corners[4];
  pattern_picture_corners (pattern_get_picture (moved, s.picture), corners);
  assert_near (corners[0].x, 200 + 150 + 10, 1e-9);
  assert_near (corners[0].y, 150 - 200 - 5, 1e-9);
  /* Ten thousand turns do not let it grow or shrink. */
  g_autoptr (Pattern) turned = pattern_ref (p);
  for (guint i = 0; i < 10000; i++)
    {
      Pattern *next = drafting_move_picture (
          turned, s.picture, geo_point (0, 0), 2 * G_PI / 10000, &no_error);
      g_assert_no_error (no_error);
      pattern_unref (turned);
      turned = next;
    }
  pattern_picture_corners (pattern_get_picture (turned, s.picture), corners);
  assert_near (geo_distance (corners[0], geo_point (0, 0)), 0, 1e-6);
  assert_near (geo_distance (corners[0], corners[2]), 500, 1e-9);
  assert_refused (
      drafting_place_picture (p, s.picture, geo_motion_move (2e5, 0), error),
      DRAFTING_ERROR_AMOUNT, "100 m");
  assert_refused (drafting_place_picture (
                      p, s.picture, (GeoMotion){ .c = NAN, .s = 1 }, error),
                  DRAFTING_ERROR_AMOUNT, "no number");
  assert_refused (
      drafting_place_picture (p, s.picture, (GeoMotion){ 0 }, error),
      DRAFTING_ERROR_AMOUNT, "nowhere");
  g_autoptr (Pattern) locked
      = drafting_show_picture (p, s.picture, 0.3, FALSE, TRUE, &no_error);
  assert_refused (
      drafting_move_picture (locked, s.picture, geo_point (1, 0), 0, error),
      DRAFTING_ERROR_SHAPE, "locked");
}

static void
test_show_and_keep (void)
{
  Sample s = sample_with_picture ();
  g_autoptr (Pattern) p = s.p;
  g_autoptr (GError) no_error = NULL;
  g_autoptr (Pattern) faint
      = drafting_show_picture (p, s.picture, 0.25, TRUE, TRUE, &no_error);
  g_assert_no_error (no_error);
  const PatternPicture *own = pattern_get_picture (faint, s.picture);
  assert_near (own->strength, 0.25, 0);
  g_assert_true (own->hidden && own->locked);
  assert_refused (
      drafting_show_picture (p, s.picture, NAN, FALSE, FALSE, error),
      DRAFTING_ERROR_AMOUNT, "100 %");
  g_autoptr (Pattern) beside = drafting_keep_picture (
      faint, s.picture, "/photos/table.png", &no_error);
  g_assert_no_error (no_error);
  assert_sound (beside);
  g_autoptr (Pattern) inside
      = drafting_keep_picture (beside, s.picture, NULL, &no_error);
  g_assert_true (pattern_equal (inside, faint));
  assert_refused (drafting_keep_picture (p, s.picture, "table.png", error),
                  DRAFTING_ERROR_AMOUNT, "no whole path");
  g_autoptr (PatternPicture) lost
      = pattern_picture_dup (pattern_get_picture (beside, s.picture));
  g_clear_pointer (&lost->bytes, g_bytes_unref);
  g_autoptr (Pattern) without
      = drafting_put_picture (beside, lost, NULL, &no_error);
  g_assert_no_error (no_error);
  assert_refused (drafting_keep_picture (without, s.picture, NULL, error),
                  DRAFTING_ERROR_SHAPE, "was not found");
  g_autoptr (Pattern) named
      = drafting_set_picture_name (p, s.picture, "card on the mat", &no_error);
  g_assert_cmpstr (pattern_get_picture (named, s.picture)->name, ==,
                   "card on the mat");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/pictures/put-and-remove", test_put_and_remove);
  g_test_add_func ("/pictures/place", test_place);
  g_test_add_func ("/pictures/show-and-keep", test_show_and_keep);
  return g_test_run ();
}
