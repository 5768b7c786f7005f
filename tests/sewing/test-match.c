/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/match.h"

/* "1@100 j@150 2@200": strokes or j for a joint, at a length. A joint with a
 * notch at it is j1, j2, j3. */
static GArray *
marks (const char *text)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (SewingMark));
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  for (guint i = 0; words[i] != NULL; i++)
    {
      const char *word = words[i];
      if (*word == '\0')
        continue;
      SewingMark mark = { .joint = *word == 'j', .notch = i + 1 };
      if (mark.joint)
        word++;
      if (*word != '@')
        mark.count = *word++ - '0';
      g_assert_cmpint (*word, ==, '@');
      mark.at = g_ascii_strtod (word + 1, NULL);
      g_array_append_val (list, mark);
    }
  return list;
}

static void
expect (const char *a_text, double a_length, const char *b_text,
        double b_length, const char *pairs)
{
  g_autoptr (GArray) a = marks (a_text);
  g_autoptr (GArray) b = marks (b_text);
  g_autofree int *partner = g_new (int, a->len + 1);
  guint n = sewing_match ((SewingMark *)(gpointer)a->data, a->len, a_length,
                          (SewingMark *)(gpointer)b->data, b->len, b_length,
                          partner);
  g_autoptr (GString) found = g_string_new (NULL);
  guint counted = 0;
  for (guint i = 0; i < a->len; i++)
    {
      g_string_append_printf (found, "%s%d", i > 0 ? " " : "", partner[i]);
      counted += partner[i] >= 0;
    }
  g_assert_cmpstr (found->str, ==, pairs);
  g_assert_cmpuint (n, ==, counted);
}

static void
test_plain (void)
{
  expect ("", 100, "", 100, "");
  expect ("1@50", 100, "", 100, "-1");
  expect ("", 100, "1@50", 100, "");
  expect ("1@50", 100, "1@50", 100, "0");
  expect ("1@100 2@300", 400, "1@101 2@299", 400, "0 1");
}

/* Strokes are what tells notches apart. */
static void
test_strokes (void)
{
  expect ("1@50", 100, "2@50", 100, "-1");
  expect ("1@50 2@60", 100, "2@60", 100, "-1 0");
  expect ("2@30 1@50", 100, "1@50 2@70", 100, "-1 0");
}

/* One of two alike is missing: the one left goes to the nearer. */
static void
test_missing (void)
{
  expect ("1@100 1@300", 400, "1@298", 400, "-1 0");
  expect ("1@100 1@300", 400, "1@102", 400, "0 -1");
  expect ("1@100", 400, "1@98 1@300", 400, "0");
}

/* A misplaced notch still has its partner; one at the other end of the seam
 * has not. */
static void
test_misplaced (void)
{
  expect ("1@100", 400, "1@130", 400, "0");
  expect ("1@20", 400, "1@380", 400, "-1");
}

/* Sides of different lengths are compared by share. */
static void
test_eased (void)
{
  expect ("1@50 1@100 1@150", 200, "1@75 1@150 1@225", 300, "0 1 2");
}

static void
test_joints (void)
{
  /* A collar's notch faces the shoulder seam, whatever its strokes. */
  expect ("2@100", 200, "j@101", 200, "0");
  /* A joint far from any mark is left alone, and costs nothing. */
  expect ("1@100", 200, "j@30 1@101", 200, "1");
  /* Two joints belong together only where they nearly meet. */
  expect ("j@100", 200, "j@104", 200, "0");
  expect ("j@100", 200, "j@130", 200, "-1");
  /* A notch at a joint is still a notch. */
  expect ("j1@100", 200, "1@110", 200, "0");
}

/* Any pairing keeps the order on both sides, and pairs only what may be
 * paired. */
static void
test_order (void)
{
  for (int run = 0; run < 500; run++)
    {
      SewingMark side[2][8];
      guint n[2];
      for (int s = 0; s < 2; s++)
        {
          n[s] = (guint)g_test_rand_int_range (0, 9);
          double at = 0;
          for (guint i = 0; i < n[s]; i++)
            {
              at += g_test_rand_double_range (0.1, 40);
              gboolean joint = g_test_rand_int_range (0, 4) == 0;
              side[s][i] = (SewingMark){ .at = at,
                                         .joint = joint,
                                         .count = g_test_rand_int_range (
                                             joint ? 0 : 1, 4) };
            }
        }
      int partner[8];
      sewing_match (side[0], n[0], 330, side[1], n[1], 330, partner);
      int last = -1;
      for (guint i = 0; i < n[0]; i++)
        {
          if (partner[i] < 0)
            continue;
          g_assert_cmpint (partner[i], >, last);
          last = partner[i];
          g_assert_cmpint (last, <, (int)n[1]);
          const SewingMark *a = &side[0][i], *b = &side[1][last];
          g_assert_true (a->joint || b->joint || a->count == b->count);
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/match/plain", test_plain);
  g_test_add_func ("/match/strokes", test_strokes);
  g_test_add_func ("/match/missing", test_missing);
  g_test_add_func ("/match/misplaced", test_misplaced);
  g_test_add_func ("/match/eased", test_eased);
  g_test_add_func ("/match/joints", test_joints);
  g_test_add_func ("/match/order", test_order);
  return g_test_run ();
}
