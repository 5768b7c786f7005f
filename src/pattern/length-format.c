/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing lengths. */
#include <langinfo.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "pattern/length-text.h"

#define MINUS "\u2212"
#define SIXTEENTH (25.4 / 16)
#define TOLD_FROM 0.05 /* mm off the sixteenth */

/* Decimals in the locale's way; the first always, the second only where it is
 * not 0. Never a sign. */
static char *
decimals (double value, int places)
{
  char *text = g_strdup_printf ("%.*f", places, fabs (value));
  gsize n = strlen (text);
  if (places > 1 && text[n - 1] == '0')
    text[n - 1] = '\0';
  return text;
}

static gboolean
rounds_to_zero (double value, int places)
{
  g_autofree char *text = decimals (value, places);
  return strpbrk (text, "123456789") == NULL;
}

static char *
inches (long sixteenths)
{
  long n = labs (sixteenths), whole = n / 16, over = n % 16, under = 16;
  while (over > 0 && over % 2 == 0)
    {
      over /= 2;
      under /= 2;
    }
  if (over == 0)
    return g_strdup_printf ("%ld", whole);
  if (whole == 0)
    return g_strdup_printf ("%ld/%ld", over, under);
  return g_strdup_printf ("%ld %ld/%ld", whole, over, under);
}

static const char *
sign_of (gboolean negative, const char *plus)
{
  return negative ? MINUS : plus;
}

static char *
format_inches (double mm, gboolean named, gboolean exact, const char *plus)
{
  long sixteenths = lround (mm / SIXTEENTH);
  double rest = mm - (double)sixteenths * SIXTEENTH;
  gboolean told = exact && fabs (rest) > TOLD_FROM;
  g_autofree char *whole = inches (sixteenths);
  g_autofree char *tail = decimals (rest, 1);
  if (sixteenths == 0 && told)
    return g_strdup_printf ("%s%s mm", sign_of (mm < 0, plus), tail);
  const char *sign = sixteenths == 0 ? "" : sign_of (sixteenths < 0, plus);
  if (!told)
    return g_strconcat (sign, whole, named ? " in" : "", NULL);
  return g_strdup_printf ("%s%s in %s %s mm", sign, whole,
                          sign_of (rest < 0, "+"), tail);
}

static char *
format (double mm, PatternUnit unit, gboolean named, gboolean exact,
        const char *plus)
{
  if (!isfinite (mm))
    return g_strdup ("–");
  if (unit == PATTERN_INCH)
    return format_inches (CLAMP (mm, -1e9, 1e9), named, exact, plus);
  int places = unit == PATTERN_CM ? 2 : 1;
  double value = unit == PATTERN_CM ? mm / 10 : mm;
  g_autofree char *text = decimals (value, places);
  const char *sign
      = rounds_to_zero (value, places) ? "" : sign_of (value < 0, plus);
  return g_strconcat (sign, text, named ? " " : "",
                      named ? pattern_unit_word (unit) : "", NULL);
}

char *
pattern_length_format (double mm, PatternUnit unit, gboolean exact)
{
  return format (mm, unit, TRUE, exact, "");
}

char *
pattern_length_format_bare (double mm, PatternUnit unit)
{
  return format (mm, unit, FALSE, FALSE, "");
}

char *
pattern_length_format_change (double mm, PatternUnit unit)
{
  return format (mm, unit, TRUE, TRUE, "+");
}

double
pattern_length_step (PatternUnit unit)
{
  return unit == PATTERN_INCH ? 1.5875 : 1;
}

const char *
pattern_unit_word (PatternUnit unit)
{
  switch (unit)
    {
    case PATTERN_MM:
      return "mm";
    case PATTERN_CM:
      return "cm";
    case PATTERN_INCH:
      return "in";
    }
  g_return_val_if_reached ("mm");
}

PatternUnit
pattern_unit_of_locale (void)
{
  const char *name = setlocale (LC_MEASUREMENT, NULL);
  /* The plain C locale claims United States units; nobody chose them there. */
  if (!name || strcmp (name, "C") == 0 || strcmp (name, "POSIX") == 0
      || g_str_has_prefix (name, "C."))
    return PATTERN_CM;
  return nl_langinfo (_NL_MEASUREMENT_MEASUREMENT)[0] == 2 ? PATTERN_INCH
                                                           : PATTERN_CM;
}
