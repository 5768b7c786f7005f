/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading lengths. The grammar, by recursive descent:
 *
 *   sum      = product { ("+" | "-") product }
 *   product  = factor { ("*" | "/") factor }
 *   factor   = { "+" | "-" } ( "(" sum ")" [ unit ] | name | quantity )
 *   quantity = number [ unit ] [ after feet: number [ inch unit ] ]
 *   number   = decimal | whole [ " " | "-" ] fraction | fraction | whole vulgar
 *   fraction = whole "/" whole, not right after "/"
 *
 * Sums are told from products by kind: a bare number takes the unit given as
 * soon as it meets a length in a sum, and at the end; in a product it is a
 * plain factor. What has no such reading (a length times a length) is refused.
 * Names are read only for who gives a way to look them up (figure.c); each is a
 * length.
 */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "pattern/length-read.h"

#define LONGEST 1e5 /* mm: 100 m */
#define DEEPEST 32  /* brackets in brackets */

/* clang-format off */
G_DEFINE_QUARK (pattern-length-error-quark, pattern_length_error)
/* clang-format on */

typedef enum
{
  KIND_BARE,   /* a number that will take the unit given */
  KIND_LENGTH, /* millimetres */
  KIND_RATIO,  /* a length by a length: never takes a unit */
} Kind;

typedef struct
{
  Kind kind;
  double value;
} Value;

/* A unit is num / den millimetres, so that a product of it is rounded once:
 * 1 in = 127/5 mm. */
typedef struct
{
  const char *word;
  double num, den;
} Unit;

static const Unit units[] = {
  { "millimeters", 1, 1 }, { "millimetres", 1, 1 },  { "millimeter", 1, 1 },
  { "millimetre", 1, 1 },  { "centimeters", 10, 1 }, { "centimetres", 10, 1 },
  { "centimeter", 10, 1 }, { "centimetre", 10, 1 },  { "meters", 1000, 1 },
  { "metres", 1000, 1 },   { "meter", 1000, 1 },     { "metre", 1000, 1 },
  { "inches", 127, 5 },    { "inch", 127, 5 },       { "feet", 1524, 5 },
  { "foot", 1524, 5 },     { "mm", 1, 1 },           { "cm", 10, 1 },
  { "in", 127, 5 },        { "ft", 1524, 5 },        { "m", 1000, 1 },
  { "\"", 127, 5 },        { "″", 127, 5 },          { "”", 127, 5 },
  { "''", 127, 5 },        { "'", 1524, 5 },         { "′", 1524, 5 },
  { "’", 1524, 5 },
};

static const struct
{
  const char *sign;
  int over, under;
} vulgar[] = {
  { "¼", 1, 4 },  { "½", 1, 2 }, { "¾", 3, 4 }, { "⅐", 1, 7 }, { "⅑", 1, 9 },
  { "⅒", 1, 10 }, { "⅓", 1, 3 }, { "⅔", 2, 3 }, { "⅕", 1, 5 }, { "⅖", 2, 5 },
  { "⅗", 3, 5 },  { "⅘", 4, 5 }, { "⅙", 1, 6 }, { "⅚", 5, 6 }, { "⅛", 1, 8 },
  { "⅜", 3, 8 },  { "⅝", 5, 8 }, { "⅞", 7, 8 },
};

typedef struct
{
  const char *text, *at;
  PatternUnit unit;
  PatternNameReader name;
  gconstpointer data;
  int depth;
  GError *error;
} Reader;

/* --- errors ------------------------------------------------------------------- */
static void fail (Reader *r, const char *from, const char *format, ...)
    G_GNUC_PRINTF (3, 4);

/* Says what is wrong and where: from is the place in the text. */
static void
fail (Reader *r, const char *from, const char *format, ...)
{
  if (r->error)
    return;
  va_list args;
  va_start (args, format);
  g_autofree char *what = g_strdup_vprintf (format, args);
  va_end (args);
  if (*from == '\0')
    g_set_error (&r->error, PATTERN_LENGTH_ERROR,
                 PATTERN_LENGTH_ERROR_UNREADABLE, _ ("%s, at the end."), what);
  else
    g_set_error (&r->error, PATTERN_LENGTH_ERROR,
                 PATTERN_LENGTH_ERROR_UNREADABLE, _ ("%s, at character %ld."),
                 what, g_utf8_pointer_to_offset (r->text, from) + 1);
}

/* The run of letters, or the one other character, at a place. */
static char *
word_at (const char *from)
{
  const char *end = from;
  while (g_unichar_isalpha (g_utf8_get_char (end)))
    end = g_utf8_next_char (end);
  if (end == from && *end != '\0')
    end = g_utf8_next_char (end);
  glong count = g_utf8_strlen (from, end - from);
  return count > 20 ? g_utf8_substring (from, 0, 20)
                    : g_strndup (from, (gsize)(end - from));
}

/* --- small parts ----------------------------------------------------------------- */
static void
skip_space (Reader *r)
{
  while (g_unichar_isspace (g_utf8_get_char (r->at)))
    r->at = g_utf8_next_char (r->at);
}

static gboolean
take (Reader *r, const char *sign)
{
  if (!g_str_has_prefix (r->at, sign))
    return FALSE;
  r->at += strlen (sign);
  return TRUE;
}

static gboolean
take_minus (Reader *r)
{
  return take (r, "-") || take (r, "−") || take (r, "–");
}

static gboolean
take_times (Reader *r)
{
  return take (r, "*") || take (r, "×") || take (r, "·");
}

static gboolean
take_stroke (Reader *r)
{
  return take (r, "/") || take (r, "÷") || take (r, "⁄") || take (r, "∕");
}

static const Unit *
take_unit (Reader *r)
{
  const char *start = r->at;
  skip_space (r);
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    {
      gsize n = strlen (units[i].word);
      if (g_ascii_strncasecmp (r->at, units[i].word, n) != 0)
        continue;
      gboolean lettered = g_ascii_isalpha (units[i].word[0]);
      if (lettered && g_unichar_isalpha (g_utf8_get_char (r->at + n)))
        continue;
      r->at += n;
      if (lettered)
        take (r, ".");
      return &units[i];
    }
  r->at = start;
  return NULL;
}

/* Digits only; FALSE and nothing taken where there are none. */
static gboolean
take_whole (Reader *r, double *value)
{
  const char *end = r->at;
  while (g_ascii_isdigit (*end))
    end++;
  if (end == r->at)
    return FALSE;
  g_autofree char *digits = g_strndup (r->at, (gsize)(end - r->at));
  *value = g_ascii_strtod (digits, NULL);
  r->at = end;
  return TRUE;
}

static gboolean
take_vulgar (Reader *r, double *over, double *under)
{
  for (guint i = 0; i < G_N_ELEMENTS (vulgar); i++)
    if (take (r, vulgar[i].sign))
      {
        *over = vulgar[i].over;
        *under = vulgar[i].under;
        return TRUE;
      }
  return FALSE;
}

/* whole "/" whole, bare of unit and decimal mark; FALSE and nothing taken where
 * there is none. */
static gboolean
take_stroke_fraction (Reader *r, double *over, double *under)
{
  const char *start = r->at, *below = NULL;
  double above = 0, beneath = 0;
  gboolean found = take_whole (r, &above);
  if (found)
    {
      skip_space (r);
      found = take_stroke (r);
    }
  if (found)
    {
      skip_space (r);
      below = r->at;
      found = take_whole (r, &beneath) && *r->at != '.' && *r->at != ',';
    }
  if (!found)
    {
      r->at = start;
      return FALSE;
    }
  if (beneath == 0)
    fail (r, below, _ ("A fraction can't have 0 under its stroke"));
  *over = above;
  *under = beneath;
  return TRUE;
}

/* The fraction after a whole number: " 1/2", "-1/2", "½", " ½". Taken only where
 * it is one: "5 - 1/2" and "2 3" are not. */
static gboolean
take_tail (Reader *r, double *over, double *under)
{
  const char *start = r->at;
  if (take_vulgar (r, over, under))
    return TRUE;
  gboolean tight = take_minus (r);
  if (!tight)
    skip_space (r);
  if (tight || r->at != start)
    {
      const char *fraction = r->at;
      if (take_vulgar (r, over, under))
        return TRUE;
      if (g_ascii_isdigit (*r->at) && take_stroke_fraction (r, over, under))
        {
          if (tight && *over >= *under) /* 10-3/2 is a subtraction */
            {
              *over = 0;
              *under = 1;
              r->at = start;
              return FALSE;
            }
          if (*over >= *under)
            fail (r, fraction,
                  _ ("A fraction after a whole number has to be less than 1"));
          return TRUE;
        }
    }
  r->at = start;
  return FALSE;
}

/* The digits after a decimal mark, if there is one, joined to those before. */
static gboolean
take_decimals (Reader *r, const char *start, double *value)
{
  if (*r->at != '.' && *r->at != ',')
    return FALSE;
  const char *mark = r->at++;
  while (g_ascii_isdigit (*r->at))
    r->at++;
  if (*r->at == '.' || *r->at == ',')
    fail (r, r->at, _ ("A number has one decimal mark and no others"));
  if (r->at == mark + 1 && mark == start)
    {
      fail (r, start, _ ("“%c” alone is no number"), *mark);
      return TRUE;
    }
  g_autofree char *number = g_strndup (start, (gsize)(r->at - start));
  number[mark - start] = '.';
  *value = g_ascii_strtod (number, NULL);
  return TRUE;
}

typedef struct
{
  double value;       /* of a decimal, or the whole part */
  double over, under; /* and the fraction; under is 1 where there is none */
} Number;

static gboolean
take_number (Reader *r, gboolean after_stroke, Number *number)
{
  *number = (Number){ 0, 0, 1 };
  const char *start = r->at;
  if (take_vulgar (r, &number->over, &number->under))
    return TRUE;
  if (!g_ascii_isdigit (*start) && *start != '.' && *start != ',')
    return FALSE;
  if (!after_stroke && take_stroke_fraction (r, &number->over, &number->under))
    return TRUE;
  take_whole (r, &number->value);
  if (take_decimals (r, start, &number->value))
    return TRUE;
  if (after_stroke)
    take_vulgar (r, &number->over, &number->under);
  else
    take_tail (r, &number->over, &number->under);
  return TRUE;
}

/* (value + over / under) num / den with one division, so that 5/8 in gives
 * 15.875 and not its neighbour. */
static double
number_times (Number n, double num, double den)
{
  return (n.value * n.under + n.over) * num / (n.under * den);
}

static Unit
default_unit (PatternUnit unit)
{
  switch (unit)
    {
    case PATTERN_MM:
      return (Unit){ "mm", 1, 1 };
    case PATTERN_CM:
      return (Unit){ "cm", 10, 1 };
    case PATTERN_INCH:
      break;
    }
  return (Unit){ "in", 127, 5 };
}

static Value
to_length (Reader *r, Value v)
{
  Unit unit = default_unit (r->unit);
  return v.kind == KIND_BARE
             ? (Value){ KIND_LENGTH, v.value * unit.num / unit.den }
             : v;
}

/* --- the grammar ------------------------------------------------------------------- */
static Value read_sum (Reader *r);

/* 5 ft 6, 5'6 1/2": what follows feet is inches. */
static double
take_inches_after_feet (Reader *r)
{
  const char *start = r->at;
  skip_space (r);
  Number number;
  if (!take_number (r, FALSE, &number))
    {
      r->at = start;
      return 0;
    }
  const char *at = r->at;
  const Unit *unit = take_unit (r);
  if (unit && unit->num / unit->den != 25.4)
    {
      fail (r, at, _ ("Only inches can follow feet"));
      return 0;
    }
  return number_times (number, 127, 5);
}

static Value
read_quantity (Reader *r, gboolean after_stroke)
{
  Number number;
  if (!take_number (r, after_stroke, &number))
    {
      g_autofree char *word = word_at (r->at);
      if (*r->at == '\0')
        fail (r, r->at, _ ("A number is missing"));
      else
        fail (r, r->at, _ ("“%s” stands where a number should"), word);
      return (Value){ KIND_BARE, 0 };
    }
  const Unit *unit = take_unit (r);
  if (!unit)
    return (Value){ KIND_BARE, number_times (number, 1, 1) };
  double mm = number_times (number, unit->num, unit->den);
  if (unit->num == 1524)
    mm += take_inches_after_feet (r);
  return (Value){ KIND_LENGTH, mm };
}

static Value
read_bracket (Reader *r, const char *opened)
{
  Value v = { KIND_BARE, 0 };
  if (++r->depth > DEEPEST)
    {
      fail (r, opened, _ ("There are too many brackets in brackets"));
      return v;
    }
  v = read_sum (r);
  skip_space (r);
  if (!r->error && !take (r, ")"))
    fail (r, r->at, _ ("A bracket is not closed"));
  r->depth--;
  const char *at = r->at;
  const Unit *unit = r->error ? NULL : take_unit (r);
  if (!unit)
    return v;
  if (v.kind != KIND_BARE)
    fail (r, at, _ ("The bracket has a unit inside it already"));
  return (Value){ KIND_LENGTH, v.value * unit->num / unit->den };
}

/* A name that stands for a length; FALSE where none stands here. */
static gboolean
read_name (Reader *r, Value *v)
{
  if (!r->name || !g_unichar_isalpha (g_utf8_get_char (r->at)))
    return FALSE;
  gsize used = 0;
  *v = (Value){ KIND_LENGTH, 0 };
  if (r->name (r->at, &v->value, &used, r->data, &r->error))
    r->at += used;
  return TRUE;
}

static Value
read_factor (Reader *r, gboolean after_stroke)
{
  double sign = 1;
  for (skip_space (r);; skip_space (r))
    if (take_minus (r))
      sign = -sign;
    else if (!take (r, "+"))
      break;
  const char *start = r->at;
  Value v;
  if (take (r, "("))
    v = read_bracket (r, start);
  else if (!read_name (r, &v))
    v = read_quantity (r, after_stroke);
  v.value *= sign;
  return v;
}

static Value
multiply (Reader *r, Value a, Value b, const char *at)
{
  Value v = { KIND_BARE, a.value * b.value };
  if (a.kind == KIND_LENGTH && b.kind == KIND_LENGTH)
    fail (r, at, _ ("A length times a length is an area, not a length"));
  else if (a.kind == KIND_LENGTH || b.kind == KIND_LENGTH)
    v.kind = KIND_LENGTH;
  else if (a.kind == KIND_RATIO && b.kind == KIND_RATIO)
    v.kind = KIND_RATIO;
  return v;
}

static Value
divide (Reader *r, Value a, Value b, const char *at)
{
  Value v = { a.kind, 0 };
  if (b.value == 0)
    fail (r, at, _ ("Nothing can be divided by 0"));
  else if (b.kind == KIND_LENGTH && a.kind != KIND_LENGTH)
    fail (r, at,
          _ ("A number divided by a length is no length; put brackets round "
             "what the unit belongs to"));
  else
    v.value = a.value / b.value;
  if (a.kind == KIND_LENGTH && b.kind == KIND_LENGTH)
    v.kind = KIND_RATIO;
  return v;
}

static Value
read_product (Reader *r)
{
  Value v = read_factor (r, FALSE);
  while (!r->error)
    {
      skip_space (r);
      const char *at = r->at;
      if (take_times (r))
        v = multiply (r, v, read_factor (r, FALSE), at);
      else if (take_stroke (r))
        v = divide (r, v, read_factor (r, TRUE), at);
      else
        break;
    }
  return v;
}

static Value
add (Reader *r, Value a, Value b, double sign, const char *at)
{
  if (a.kind != b.kind)
    {
      if (a.kind == KIND_RATIO || b.kind == KIND_RATIO)
        fail (r, at,
              _ ("A length divided by a length is a plain number and can't be "
                 "added to a length"));
      a = to_length (r, a);
      b = to_length (r, b);
    }
  return (Value){ a.kind, a.value + sign * b.value };
}

static Value
read_sum (Reader *r)
{
  Value v = read_product (r);
  while (!r->error)
    {
      skip_space (r);
      const char *at = r->at;
      if (take (r, "+"))
        v = add (r, v, read_product (r), 1, at);
      else if (take_minus (r))
        v = add (r, v, read_product (r), -1, at);
      else
        break;
    }
  return v;
}

static void
refuse_rest (Reader *r, const char *rest)
{
  g_autofree char *word = word_at (rest);
  if (*rest == ')')
    fail (r, rest, _ ("A bracket is closed that was never opened"));
  else if (g_unichar_isalpha (g_utf8_get_char (rest)))
    fail (r, rest, _ ("“%s” is no unit known here (mm, cm, m, in and ft are)"),
          word);
  else if (g_ascii_isdigit (*rest) || *rest == '(')
    fail (r, rest, _ ("A sign such as + is missing before “%s”"), word);
  else
    fail (r, rest, _ ("“%s” could not be read"), word);
}

/* Takes the whole text. */
static gboolean
read_all (Reader *r, Value *v, GError **error)
{
  if (!g_utf8_validate (r->text, -1, NULL))
    {
      g_set_error_literal (error, PATTERN_LENGTH_ERROR,
                           PATTERN_LENGTH_ERROR_UNREADABLE,
                           _ ("The length is not readable text."));
      return FALSE;
    }
  skip_space (r);
  if (*r->at == '\0')
    {
      g_set_error_literal (
          error, PATTERN_LENGTH_ERROR, PATTERN_LENGTH_ERROR_UNREADABLE,
          _ ("A length is missing: type one such as 15 mm or 5/8 in."));
      return FALSE;
    }
  *v = read_sum (r);
  skip_space (r);
  if (!r->error && *r->at != '\0')
    refuse_rest (r, r->at);
  return TRUE;
}

/* What is wanted is of one kind, within the most there can be. */
static gboolean
finish (Reader *r, Value v, double *result, GError **error)
{
  if (!r->error && !(fabs (v.value) <= LONGEST))
    g_set_error_literal (
        &r->error, PATTERN_LENGTH_ERROR, PATTERN_LENGTH_ERROR_RANGE,
        _ ("That is longer than 100 m, which is the most there can be."));
  if (r->error)
    {
      g_propagate_error (error, r->error);
      return FALSE;
    }
  *result = v.value == 0 ? 0 : v.value;
  return TRUE;
}

gboolean
pattern_length_read (const char *text, PatternUnit unit, PatternNameReader name,
                     gconstpointer data, double *mm, GError **error)
{
  g_return_val_if_fail (text != NULL && mm != NULL, FALSE);
  Reader r = { text, text, unit, name, data, 0, NULL };
  Value v;
  if (!read_all (&r, &v, error))
    return FALSE;
  v = to_length (&r, v);
  if (!r.error && v.kind == KIND_RATIO)
    fail (&r, r.at,
          _ ("A length divided by a length is a plain number, not a length"));
  return finish (&r, v, mm, error);
}

gboolean
pattern_number_read (const char *text, PatternNameReader name,
                     gconstpointer data, double *number, GError **error)
{
  g_return_val_if_fail (text != NULL && number != NULL, FALSE);
  Reader r = { text, text, PATTERN_MM, name, data, 0, NULL };
  Value v;
  if (!read_all (&r, &v, error))
    return FALSE;
  if (!r.error && v.kind == KIND_LENGTH)
    fail (&r, r.at, _ ("A plain number is wanted here, not a length"));
  return finish (&r, v, number, error);
}

gboolean
pattern_length_parse (const char *text, PatternUnit unit, double *mm,
                      GError **error)
{
  return pattern_length_read (text, unit, NULL, NULL, mm, error);
}

gboolean
pattern_word_is_unit (const char *word)
{
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_ascii_strcasecmp (units[i].word, word) == 0)
      return TRUE;
  return FALSE;
}
