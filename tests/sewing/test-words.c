/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Amounts as a person is told them. 1 in = 25.4 mm exactly (international yard
 * and pound agreement, 1959). */
#include "sewing/words.h"

static void
test_amounts (void)
{
  static const struct
  {
    PatternUnit unit;
    double mm;
    const char *length, *amount, *change;
  } cases[] = {
    { PATTERN_MM, 2.5, "2.5 mm", "2.5 mm", "+2.5 mm" },
    { PATTERN_MM, 63.3, "63.3 mm", "63.3 mm", "+63.3 mm" },
    { PATTERN_CM, 2.5, "0.25 cm", "2.5 mm", "+2.5 mm" },
    { PATTERN_CM, 9.94, "0.99 cm", "9.9 mm", "+9.9 mm" },
    /* What would round to ten millimetres is a centimetre. */
    { PATTERN_CM, 9.96, "1.0 cm", "1.0 cm", "+1.0 cm" },
    { PATTERN_CM, 63.3, "6.33 cm", "6.33 cm", "+6.33 cm" },
    { PATTERN_CM, 0.04, "0.0 cm", "0.0 mm", "0" },
    { PATTERN_INCH, 0, "0 in", "0 in", "0" },
    { PATTERN_INCH, 0.3, "scant 1/32 in", "scant 1/32 in", "+1/32 in scant" },
    { PATTERN_INCH, 0.79375, "1/32 in", "1/32 in", "+1/32 in" },
    { PATTERN_INCH, 1.1, "full 1/32 in", "full 1/32 in", "+1/32 in full" },
    { PATTERN_INCH, 1.5875, "1/16 in", "1/16 in", "+1/16 in" },
    { PATTERN_INCH, 2.5, "scant 1/8 in", "scant 1/8 in", "+1/8 in scant" },
    { PATTERN_INCH, 3.175, "1/8 in", "1/8 in", "+1/8 in" },
    /* A pencil line more is no news. */
    { PATTERN_INCH, 3.3, "1/8 in", "1/8 in", "+1/8 in" },
    { PATTERN_INCH, 29.5 * 25.4 - 0.3, "scant 29 1/2 in", "scant 29 1/2 in",
      "+29 1/2 in scant" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Pattern) p = pattern_new ("");
      p->unit = cases[i].unit;
      g_autofree char *length = sewing_words_length (p, cases[i].mm);
      g_autofree char *amount = sewing_words_amount (p, -cases[i].mm);
      g_autofree char *more = sewing_words_change (p, cases[i].mm);
      g_autofree char *less = sewing_words_change (p, -cases[i].mm);
      g_assert_cmpstr (length, ==, cases[i].length);
      g_assert_cmpstr (amount, ==, cases[i].amount);
      g_assert_cmpstr (more, ==, cases[i].change);
      /* The one minus is U+2212, and there is none before nought. */
      g_autofree char *wanted = g_str_equal (more, "0")
                                    ? g_strdup ("0")
                                    : g_strconcat ("\u2212", more + 1, NULL);
      g_assert_cmpstr (less, ==, wanted);
    }
}

/* Two lengths that differ never read alike. */
static void
test_two_lengths (void)
{
  g_autoptr (Pattern) p = pattern_new ("");
  p->unit = PATTERN_INCH;
  g_autofree char *a = NULL, *b = NULL, *c = NULL, *d = NULL;
  sewing_words_two_lengths (p, 15, 15.875, &a, &b);
  g_assert_cmpstr (a, ==, "full 9/16 in");
  g_assert_cmpstr (b, ==, "5/8 in");
  sewing_words_two_lengths (p, 15, 14.8, &c, &d);
  g_assert_cmpstr (c, ==, "15.0 mm");
  g_assert_cmpstr (d, ==, "14.8 mm");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/words/amounts", test_amounts);
  g_test_add_func ("/words/two-lengths", test_two_lengths);
  return g_test_run ();
}
