/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of a pattern: held, compared, looked at; and where their pixels lie. */
#include <math.h>
#include <string.h>

#include "pattern/change.h"
#include "sample.h"

static PatternPicture *
sample_picture (guint id)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static ("pixels", 6);
  PatternPicture *picture
      = pattern_picture_new (id, "table.png", bytes, 400, 300);
  picture->size = PATTERN_SIZE_DISTANCE;
  picture->places[1] = geo_point (200, 10);
  picture->true_width = 100;
  picture->plane[0] = picture->plane[4] = 0.5;
  return picture;
}

static void
test_life (void)
{
  g_autoptr (Pattern) plain = sample_pattern ();
  g_autoptr (Pattern) pattern = pattern_dup (plain);
  guint id = pattern->next_id + 4;
  pattern_put_picture (pattern, sample_picture (id));
  g_assert_cmpuint (pattern->next_id, ==, id + 1);
  g_assert_cmpuint (pattern->n_pictures, ==, 1);
  g_assert_false (pattern_equal (pattern, plain));
  /* SHA-256 of "pixels", by coreutils' sha256sum. */
  g_assert_cmpstr (
      pattern->pictures[0]->digest, ==,
      "6ec9c2b0eb14010746c8bce8939303b382344b296206612eb8a907a37b2b2f37");
  g_autoptr (Pattern) copy = pattern_dup (pattern);
  g_assert_true (pattern_equal (copy, pattern));
  g_assert_true (copy->pictures[0] == pattern->pictures[0]);
  PatternPicture *moved = pattern_picture_dup (copy->pictures[0]);
  g_assert_true (moved->bytes == copy->pictures[0]->bytes);
  moved->place.dx = 12;
  pattern_put_picture (copy, moved);
  g_assert_cmpuint (copy->n_pictures, ==, 1);
  g_assert_false (pattern_equal (copy, pattern));
  g_assert_cmpfloat (pattern_get_picture (pattern, id)->place.dx, ==, 0);
  g_assert_cmpfloat (pattern_get_picture (copy, id)->place.dx, ==, 12);
  g_assert_true (pattern_remove_picture (copy, id));
  g_assert_false (pattern_remove_picture (copy, id));
  g_assert_null (pattern_get_picture (copy, id));
  /* What is kept at a fitting is the pattern, not the photos it was made from. */
  g_autoptr (PatternFitting) fitting
      = pattern_fitting_new (id + 1, "first", "", pattern, 0);
  g_assert_cmpuint (fitting->kept->n_pictures, ==, 0);
  g_assert_cmpuint (fitting->kept->n_pieces, ==, pattern->n_pieces);
  g_assert_cmpuint (pattern->n_pictures, ==, 1);
}

/* Every field tells two pictures apart. */
static void
test_equal (void)
{
  for (guint i = 0; i < 19; i++)
    {
      g_autoptr (PatternPicture) a = sample_picture (7);
      g_autoptr (PatternPicture) b = sample_picture (7);
      g_assert_true (pattern_picture_equal (a, b));
      switch (i)
        {
        case 0:
          b->id = 8;
          break;
        case 1:
          pattern_set_string (&b->name, "other.png");
          break;
        case 2:
          b->beside = g_strdup ("/tmp/other.png");
          break;
        case 3:
          pattern_set_string (&b->digest, "00");
          break;
        case 4:
          b->width++;
          break;
        case 5:
          b->height++;
          break;
        case 6:
          b->size = PATTERN_SIZE_NONE;
          break;
        case 7:
          b->places[3].y = 1;
          break;
        case 8:
          b->true_width = 101;
          break;
        case 9:
          b->true_height = 101;
          break;
        case 10:
          b->plane[7] = 1e-6;
          break;
        case 11:
          b->place.s = 1e-3;
          break;
        case 12:
          b->place.dy = 1;
          break;
        case 13:
          b->place.flip = true;
          break;
        case 14:
          b->strength = 0.25;
          break;
        case 15:
          b->hidden = TRUE;
          break;
        case 16:
          b->locked = TRUE;
          break;
        case 17:
          b->extra = g_strdup ("<more/>");
          break;
        default:
          b->place.dx = 1;
          break;
        }
      g_assert_false (pattern_picture_equal (a, b));
    }
}

static void
assert_unsound (PatternPicture *picture, const char *words)
{
  g_autoptr (Pattern) pattern = pattern_new ("pictures");
  pattern_put_picture (pattern, picture);
  g_autofree char *said = pattern_unsound (pattern);
  g_assert_nonnull (said);
  if (!strstr (said, words))
    g_error ("“%s” lacks “%s”", said, words);
}

static void
test_unsound (void)
{
#define SPOIL(what, words)                                                     \
  do                                                                           \
    {                                                                          \
      PatternPicture *p = sample_picture (50);                                 \
      what;                                                                    \
      assert_unsound (p, words);                                               \
    }                                                                          \
  while (0)
  SPOIL (p->width = 0, "sides no picture has");
  SPOIL (p->height = 40000, "sides no picture has");
  SPOIL (p->strength = 1.5, "figure");
  SPOIL (p->strength = NAN, "figure");
  SPOIL (p->true_width = INFINITY, "figure");
  SPOIL (p->places[2].x = NAN, "figure");
  SPOIL (p->size = 17, "figure");
  SPOIL (p->place.c = 2, "100 m away");
  SPOIL (p->place.dx = 2e5, "100 m away");
  SPOIL (p->plane[0] = 0, "true size");
  SPOIL (p->plane[8] = NAN, "true size");
  SPOIL (p->plane[6] = -1.0 / 390, "true size"); /* the horizon at 390 px */
  SPOIL (p->plane[0] = 1e4, "true size");
  SPOIL (g_clear_pointer (&p->bytes, g_bytes_unref), "kept nowhere");
  SPOIL (pattern_set_string (&p->digest, "../x"), "digest");
  SPOIL (g_clear_pointer (&p->name, g_free), "no name");
  SPOIL (p->id = 0, "number 0");
#undef SPOIL
  g_autoptr (Pattern) pattern = sample_pattern ();
  PatternPicture *lost = sample_picture (60);
  lost->beside = g_strdup ("/tmp/table.png");
  g_clear_pointer (&lost->bytes, g_bytes_unref);
  pattern_put_picture (pattern, lost);
  g_autofree char *sound = pattern_unsound (pattern);
  g_assert_cmpstr (sound, ==, NULL);
  /* One number for a piece and a picture. */
  pattern_put_picture (pattern, sample_picture (pattern->pieces[0]->id));
  g_autofree char *twice = pattern_unsound (pattern);
  g_assert_nonnull (twice);
}

/* There and back, turned, with a perspective. */
static void
test_places (void)
{
  g_autoptr (PatternPicture) p = sample_picture (9);
  p->place = geo_motion_about (geo_point (30, 40), 0.7);
  p->plane[6] = 3e-4;
  p->plane[7] = -2e-4;
  p->plane[1] = 0.1;
  for (guint i = 0; i < 200; i++)
    {
      GeoPoint px = { g_test_rand_double_range (0, 400),
                      g_test_rand_double_range (0, 300) };
      GeoPoint at, back;
      g_assert_true (pattern_picture_to_table (p, px, &at));
      g_assert_true (pattern_picture_to_px (p, at, &back));
      g_assert_cmpfloat (geo_distance (px, back), <, 1e-9);
    }
  GeoPoint corners[4], at;
  pattern_picture_corners (p, corners);
  g_assert_true (pattern_picture_to_table (p, geo_point (400, 300), &at));
  g_assert_cmpfloat (geo_distance (corners[2], at), <, 1e-12);
  /* Beyond the horizon, 3e-4 x - 2e-4 y + 1 = 0. */
  g_assert_false (pattern_picture_to_table (p, geo_point (-4000, 0), &at));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/pictures/life", test_life);
  g_test_add_func ("/pictures/equal", test_equal);
  g_test_add_func ("/pictures/unsound", test_unsound);
  g_test_add_func ("/pictures/places", test_places);
  return g_test_run ();
}
