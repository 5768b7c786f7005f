/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <locale.h>
#include <math.h>
#include <string.h>

#include "pattern/length-text.h"

static double
read_ok (const char *text, PatternUnit unit)
{
  double mm = -12345;
  g_autoptr (GError) error = NULL;
  gboolean ok = pattern_length_parse (text, unit, &mm, &error);
  if (!ok)
    g_error ("“%s” was not read: %s", text, error->message);
  g_assert_no_error (error);
  return mm;
}

/* Exact to rounding: at most two units in the last place. */
static void
assert_reads (const char *text, PatternUnit unit, double expected)
{
  double mm = read_ok (text, unit);
  if (fabs (mm - expected) > 4.5e-16 * fabs (expected))
    g_error ("“%s” gave %.17g, not %.17g", text, mm, expected);
}

typedef struct
{
  const char *text;
  PatternUnit unit;
  double mm;
} Known;

/* 1 in = 25.4 mm exactly: international yard and pound agreement of 1959. */
static void
test_units (void)
{
  static const Known known[] = {
    { "1 in", PATTERN_MM, 25.4 },    { "15mm", PATTERN_INCH, 15 },
    { "2 cm", PATTERN_INCH, 20 },    { "1.5 m", PATTERN_CM, 1500 },
    { "12", PATTERN_MM, 12 },        { "12", PATTERN_CM, 120 },
    { "12", PATTERN_INCH, 304.8 },   { "5 ft", PATTERN_CM, 1524 },
    { "1 foot", PATTERN_CM, 304.8 }, { "3 INCHES", PATTERN_CM, 76.2 },
    { "1 inch", PATTERN_CM, 25.4 },  { "2\"", PATTERN_CM, 50.8 },
    { "2″", PATTERN_CM, 50.8 },      { "2”", PATTERN_CM, 50.8 },
    { "2''", PATTERN_CM, 50.8 },     { "1 in.", PATTERN_CM, 25.4 },
    { "3 CM", PATTERN_MM, 30 },      { "7 millimetres", PATTERN_CM, 7 },
    { "  4mm  ", PATTERN_CM, 4 },    { "0", PATTERN_INCH, 0 },
    { "100 m", PATTERN_CM, 100000 }, { "-100 m", PATTERN_CM, -100000 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    assert_reads (known[i].text, known[i].unit, known[i].mm);
}

/* Check values of common seam widths, exact by 1 in = 25.4 mm. */
static void
test_seam_widths (void)
{
  static const Known known[] = {
    { "5/8", PATTERN_INCH, 15.875 },  { "3/8", PATTERN_INCH, 9.525 },
    { "1/4", PATTERN_INCH, 6.35 },    { "1/2", PATTERN_INCH, 12.7 },
    { "1/16", PATTERN_INCH, 1.5875 }, { "1/8", PATTERN_INCH, 3.175 },
    { "5/8 in", PATTERN_MM, 15.875 }, { "5/8\"", PATTERN_MM, 15.875 },
    { "⅝", PATTERN_INCH, 15.875 },    { "5 / 8 in", PATTERN_CM, 15.875 },
    { "5⁄8 in", PATTERN_CM, 15.875 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    g_assert_cmpfloat (read_ok (known[i].text, known[i].unit), ==, known[i].mm);
  /* Four allowances of two side seams, 5/8 in against 15 mm: 3.5 mm apart. */
  g_assert_cmpfloat (read_ok ("4 * (5/8 in - 15 mm)", PATTERN_CM), ==, 3.5);
}

static void
test_fractions (void)
{
  static const Known known[] = {
    { "1 1/2 in", PATTERN_MM, 38.1 },
    { "1-1/2 in", PATTERN_MM, 38.1 },
    { "1½ in", PATTERN_MM, 38.1 },
    { "1 ½\"", PATTERN_MM, 38.1 },
    { "1-½\"", PATTERN_MM, 38.1 },
    { "16 1/4", PATTERN_INCH, 412.75 },
    { "1 1/2", PATTERN_CM, 15 },
    { "⅓", PATTERN_MM, 1. / 3 },
    { "⅔", PATTERN_MM, 2. / 3 },
    { "⅐", PATTERN_MM, 1. / 7 },
    { "⅑", PATTERN_MM, 1. / 9 },
    { "⅒", PATTERN_MM, 0.1 },
    { "⅕", PATTERN_MM, 0.2 },
    { "⅖", PATTERN_MM, 0.4 },
    { "⅗", PATTERN_MM, 0.6 },
    { "⅘", PATTERN_MM, 0.8 },
    { "⅙", PATTERN_MM, 1. / 6 },
    { "⅚", PATTERN_MM, 5. / 6 },
    { "⅛", PATTERN_MM, 0.125 },
    { "⅜", PATTERN_MM, 0.375 },
    { "⅞", PATTERN_MM, 0.875 },
    { "¼", PATTERN_MM, 0.25 },
    { "¾", PATTERN_MM, 0.75 },
    { "7/4", PATTERN_MM, 1.75 },
    { "5' 6 1/2\"", PATTERN_CM, 66.5 * 25.4 },
    { "5'6", PATTERN_CM, 1676.4 },
    { "5 ft 6 in", PATTERN_CM, 1676.4 },
    { "5 ft", PATTERN_CM, 1524 },
    { "-5'6\"", PATTERN_CM, -1676.4 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    assert_reads (known[i].text, known[i].unit, known[i].mm);
}

static void
test_arithmetic (void)
{
  static const Known known[] = {
    { "2 cm + 3/8 in", PATTERN_MM, 29.525 },
    { "2cm+3", PATTERN_MM, 23 },
    { "3+2cm", PATTERN_MM, 23 },
    { "5 - 1/2", PATTERN_INCH, 114.3 },
    { "10-3/2", PATTERN_MM, 8.5 },
    { "5-1", PATTERN_MM, 4 },
    { "2 * 15mm", PATTERN_CM, 30 },
    { "15mm × 2", PATTERN_CM, 30 },
    { "1 m / 4", PATTERN_CM, 250 },
    { "1 m ÷ 4", PATTERN_CM, 250 },
    { "100cm/3/8", PATTERN_MM, 1000. / 24 },
    { "2*3/8 in", PATTERN_MM, 19.05 },
    { "100 / 4", PATTERN_CM, 250 },
    { "100/4 cm", PATTERN_MM, 250 },
    { "(10 + 5) / 2", PATTERN_MM, 7.5 },
    { "(10 + 5) cm", PATTERN_MM, 150 },
    { "3 * (10 cm / 2 cm)", PATTERN_MM, 15 },
    { "1 cm * (30 mm / 1 cm)", PATTERN_MM, 30 },
    { "2 + 3 * 4", PATTERN_MM, 14 },
    { "(2 + 3) * 4", PATTERN_MM, 20 },
    { "8 - 3 - 2", PATTERN_MM, 3 },
    { "-(3 mm - 10 mm)", PATTERN_CM, 7 },
    { "--3", PATTERN_MM, 3 },
    { "−3", PATTERN_MM, -3 },
    { "+3", PATTERN_MM, 3 },
    { "((((2))))", PATTERN_MM, 2 },
    { "1,5", PATTERN_CM, 15 },
    { "1.5", PATTERN_CM, 15 },
    { ",5 cm", PATTERN_MM, 5 },
    { "5. mm", PATTERN_CM, 5 },
    { "12,25cm + 0.75 cm", PATTERN_MM, 130 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    assert_reads (known[i].text, known[i].unit, known[i].mm);
}

/* What can't be read says what and where, and leaves the number alone. */
static void
test_refusals (void)
{
  static const struct
  {
    const char *text, *what, *where;
  } bad[] = {
    { "", "missing", "" },
    { "   ", "missing", "" },
    { "abc", "abc", "character 1" },
    { "5 furlong", "furlong", "character 3" },
    { "5 mmm", "mmm", "character 3" },
    { "5 ein", "ein", "character 3" },
    { "3 +", "number is missing", "at the end" },
    { "3 + * 4", "*", "character 5" },
    { "(3 + 4", "not closed", "at the end" },
    { "3 + 4)", "never opened", "character 6" },
    { "2 3", "sign", "character 3" },
    { "2 cm 3 mm", "sign", "character 6" },
    { "2 (3)", "sign", "character 3" },
    { "1.2.3", "decimal mark", "character 4" },
    { "1.234,5", "decimal mark", "character 6" },
    { ".", "no number", "character 1" },
    { "3/0", "under its stroke", "character 3" },
    { "3 cm / 0", "divided by 0", "character 6" },
    { "3 / (2 - 2)", "divided by 0", "character 3" },
    { "2 cm * 3 cm", "area", "character 6" },
    { "10 cm / 2 cm", "plain number", "at the end" },
    { "10 / 2.5 cm", "no length", "character 4" },
    { "1 cm + 4 cm / 2 cm", "plain number", "character 6" },
    { "1 5/4 in", "less than 1", "character 3" },
    { "(2 cm) in", "unit inside", "character 7" },
    { "5 ft 6 cm", "inches", "character 7" },
    { "½½", "½", "character 2" },
    { "½ + é", "é", "character 5" },
    { "1e3", "“e”", "character 2" },
    { "0x10", "“x”", "character 2" },
    { "nan", "nan", "character 1" },
    { "inf", "inf", "character 1" },
    { "\xff\xfe", "not readable", "" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      double mm = 7;
      g_autoptr (GError) error = NULL;
      gboolean ok = pattern_length_parse (bad[i].text, PATTERN_CM, &mm, &error);
      if (ok)
        g_error ("“%s” was read as %g mm", bad[i].text, mm);
      g_assert_error (error, PATTERN_LENGTH_ERROR,
                      PATTERN_LENGTH_ERROR_UNREADABLE);
      g_assert_cmpfloat (mm, ==, 7);
      if (!strstr (error->message, bad[i].what)
          || !strstr (error->message, bad[i].where))
        g_error ("“%s” is refused with: %s", bad[i].text, error->message);
    }
}

static void
test_range (void)
{
  static const char *const far[]
      = { "100.001 m",
          "-100.001 m",
          "1000000",
          "1000 ft",
          "99999999999999999999999999999999999999999 mm",
          "1/3 * 9999999999 m" };
  for (guint i = 0; i < G_N_ELEMENTS (far); i++)
    {
      double mm = 7;
      g_autoptr (GError) error = NULL;
      g_assert_false (pattern_length_parse (far[i], PATTERN_CM, &mm, &error));
      g_assert_error (error, PATTERN_LENGTH_ERROR, PATTERN_LENGTH_ERROR_RANGE);
      g_assert_nonnull (strstr (error->message, "100 m"));
      g_assert_cmpfloat (mm, ==, 7);
    }
  /* Four hundred digits, and more brackets than anyone writes. */
  g_autofree char *digits = g_strnfill (400, '9');
  g_autofree char *open = g_strnfill (100000, '(');
  double mm = 7;
  g_assert_false (pattern_length_parse (digits, PATTERN_MM, &mm, NULL));
  g_assert_false (pattern_length_parse (open, PATTERN_MM, &mm, NULL));
  g_assert_cmpfloat (mm, ==, 7);
}

typedef struct
{
  double mm;
  PatternUnit unit;
  const char *exact, *plain, *bare, *change;
} Shown;

static void
test_format (void)
{
  static const Shown shown[] = {
    { 412.6, PATTERN_MM, "412.6 mm", "412.6 mm", "412.6", "+412.6 mm" },
    { 412.6, PATTERN_CM, "41.26 cm", "41.26 cm", "41.26", "+41.26 cm" },
    { 412.75, PATTERN_INCH, "16 1/4 in", "16 1/4 in", "16 1/4", "+16 1/4 in" },
    { 413.05, PATTERN_INCH, "16 1/4 in + 0.3 mm", "16 1/4 in", "16 1/4",
      "+16 1/4 in + 0.3 mm" },
    { 412.45, PATTERN_INCH, "16 1/4 in \u2212 0.3 mm", "16 1/4 in", "16 1/4",
      "+16 1/4 in \u2212 0.3 mm" },
    { -412.75, PATTERN_INCH, "\u221216 1/4 in", "\u221216 1/4 in",
      "\u221216 1/4", "\u221216 1/4 in" },
    { 15.875, PATTERN_INCH, "5/8 in", "5/8 in", "5/8", "+5/8 in" },
    { 25.4, PATTERN_INCH, "1 in", "1 in", "1", "+1 in" },
    { 0, PATTERN_INCH, "0 in", "0 in", "0", "0 in" },
    { 0.4, PATTERN_INCH, "0.4 mm", "0 in", "0", "+0.4 mm" },
    { -0.4, PATTERN_INCH, "\u22120.4 mm", "0 in", "0", "\u22120.4 mm" },
    { 15, PATTERN_MM, "15.0 mm", "15.0 mm", "15.0", "+15.0 mm" },
    { 150, PATTERN_CM, "15.0 cm", "15.0 cm", "15.0", "+15.0 cm" },
    { 0.04, PATTERN_MM, "0.0 mm", "0.0 mm", "0.0", "0.0 mm" },
    { -0.04, PATTERN_MM, "0.0 mm", "0.0 mm", "0.0", "0.0 mm" },
    { -1.1, PATTERN_MM, "\u22121.1 mm", "\u22121.1 mm", "\u22121.1",
      "\u22121.1 mm" },
    { 3.2, PATTERN_CM, "0.32 cm", "0.32 cm", "0.32", "+0.32 cm" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (shown); i++)
    {
      const Shown *s = &shown[i];
      g_autofree char *exact = pattern_length_format (s->mm, s->unit, TRUE);
      g_autofree char *plain = pattern_length_format (s->mm, s->unit, FALSE);
      g_autofree char *bare = pattern_length_format_bare (s->mm, s->unit);
      g_autofree char *change = pattern_length_format_change (s->mm, s->unit);
      g_assert_cmpstr (exact, ==, s->exact);
      g_assert_cmpstr (plain, ==, s->plain);
      g_assert_cmpstr (bare, ==, s->bare);
      g_assert_cmpstr (change, ==, s->change);
    }
}

/* What is shown exactly reads back within what showing promises. */
static void
test_round_trip (void)
{
  for (int i = 0; i < 20000; i++)
    {
      double mm = g_test_rand_double_range (-3000, 3000);
      PatternUnit unit = (PatternUnit)g_test_rand_int_range (0, 3);
      g_autofree char *text = pattern_length_format (mm, unit, TRUE);
      g_autofree char *bare = pattern_length_format_bare (mm, unit);
      double within = 0.05 + 1e-9;
      g_assert_cmpfloat (fabs (read_ok (text, unit) - mm), <=, within);
      if (unit == PATTERN_INCH)
        within = 25.4 / 32 + 1e-9;
      g_assert_cmpfloat (fabs (read_ok (bare, unit) - mm), <=, within);
    }
  for (int n = 0; n < 16 * 60; n++)
    {
      double mm = n * 1.5875;
      g_autofree char *text = pattern_length_format (mm, PATTERN_INCH, TRUE);
      g_assert_cmpfloat (fabs (read_ok (text, PATTERN_CM) - mm), <, 1e-12);
    }
}

/* No text of these signs crashes, hangs or leaves the range. */
static void
test_any_text (void)
{
  static const char *const parts[]
      = { "1",  "2",  "0", "/",  "-", " ", "+",  "*",  "(", ")", "½",
          "mm", "in", "'", "\"", ".", ",", "ft", "cm", "−", "x", "é" };
  for (int i = 0; i < 50000; i++)
    {
      g_autoptr (GString) text = g_string_new (NULL);
      for (int n = g_test_rand_int_range (0, 12); n > 0; n--)
        g_string_append (
            text, parts[g_test_rand_int_range (0, G_N_ELEMENTS (parts))]);
      double mm = 7;
      g_autoptr (GError) error = NULL;
      if (pattern_length_parse (text->str, PATTERN_INCH, &mm, &error))
        g_assert_true (error == NULL && fabs (mm) <= 1e5);
      else
        g_assert_true (error != NULL && mm == 7);
    }
}

static void
test_small_answers (void)
{
  g_assert_cmpfloat (pattern_length_step (PATTERN_MM), ==, 1);
  g_assert_cmpfloat (pattern_length_step (PATTERN_CM), ==, 1);
  g_assert_cmpfloat (pattern_length_step (PATTERN_INCH), ==, 25.4 / 16);
  g_assert_cmpstr (pattern_unit_word (PATTERN_MM), ==, "mm");
  g_assert_cmpstr (pattern_unit_word (PATTERN_CM), ==, "cm");
  g_assert_cmpstr (pattern_unit_word (PATTERN_INCH), ==, "in");
  setlocale (LC_ALL, "C");
  g_assert_cmpint (pattern_unit_of_locale (), ==, PATTERN_CM);
  if (setlocale (LC_MEASUREMENT, "en_US.UTF-8"))
    g_assert_cmpint (pattern_unit_of_locale (), ==, PATTERN_INCH);
  if (setlocale (LC_MEASUREMENT, "de_DE.UTF-8"))
    g_assert_cmpint (pattern_unit_of_locale (), ==, PATTERN_CM);
  setlocale (LC_ALL, "C");
}

/* The decimal mark shown is the locale's; both are read in any. */
static void
test_comma_locale (void)
{
  if (!setlocale (LC_NUMERIC, "de_DE.UTF-8")
      && !setlocale (LC_NUMERIC, "fr_FR.UTF-8"))
    {
      g_test_skip ("no locale with a decimal comma is installed");
      return;
    }
  g_autofree char *text = pattern_length_format (412.6, PATTERN_CM, FALSE);
  double comma = read_ok (text, PATTERN_CM);
  double point = read_ok ("41.26 cm", PATTERN_CM);
  setlocale (LC_NUMERIC, "C");
  g_assert_cmpstr (text, ==, "41,26 cm");
  g_assert_cmpfloat (comma, ==, point);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/length-text/units", test_units);
  g_test_add_func ("/length-text/seam-widths", test_seam_widths);
  g_test_add_func ("/length-text/fractions", test_fractions);
  g_test_add_func ("/length-text/arithmetic", test_arithmetic);
  g_test_add_func ("/length-text/refusals", test_refusals);
  g_test_add_func ("/length-text/range", test_range);
  g_test_add_func ("/length-text/format", test_format);
  g_test_add_func ("/length-text/round-trip", test_round_trip);
  g_test_add_func ("/length-text/any-text", test_any_text);
  g_test_add_func ("/length-text/small-answers", test_small_answers);
  g_test_add_func ("/length-text/comma-locale", test_comma_locale);
  return g_test_run ();
}
