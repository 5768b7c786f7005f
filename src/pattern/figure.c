/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Amounts are read by the length grammar (length-parse.c); here are only the names in
 * them. */
#include "pattern/figure.h"

#include <glib/gi18n.h>
#include <string.h>

#include "pattern/length-read.h"
#include "pattern/parts.h"

#define LONGEST_NAME 60 /* characters */

/* clang-format off */
G_DEFINE_QUARK (pattern-amount-error-quark, pattern_amount_error)
/* clang-format on */

/* --- names ---------------------------------------------------------------------- */
static gboolean
is_of_word (gunichar c)
{
  return g_unichar_isalnum (c) || g_unichar_ismark (c);
}

/* Bytes of the text that the name takes at its start, 0 where it does not stand
 * there; capitals do not matter, and any run of spaces is one. */
static gsize
name_at (const char *text, const char *name)
{
  const char *at = text;
  while (*name)
    {
      gunichar want = g_utf8_get_char (name), have = g_utf8_get_char (at);
      if (g_unichar_isspace (want))
        {
          if (!g_unichar_isspace (have))
            return 0;
          while (g_unichar_isspace (g_utf8_get_char (name)))
            name = g_utf8_next_char (name);
          while (g_unichar_isspace (g_utf8_get_char (at)))
            at = g_utf8_next_char (at);
          continue;
        }
      if (g_unichar_tolower (want) != g_unichar_tolower (have))
        return 0;
      name = g_utf8_next_char (name);
      at = g_utf8_next_char (at);
    }
  return is_of_word (g_utf8_get_char (at)) ? 0 : (gsize)(at - text);
}

static const PatternFigure *
longest_at (const Pattern *p, const char *text, gsize *used)
{
  const PatternFigure *best = NULL;
  *used = 0;
  for (guint i = 0; i < p->n_figures; i++)
    {
      gsize n = name_at (text, p->figures[i].name);
      if (n > *used)
        {
          best = &p->figures[i];
          *used = n;
        }
    }
  return best;
}

const PatternFigure *
pattern_find_figure (const Pattern *pattern, const char *name)
{
  g_return_val_if_fail (pattern != NULL && name != NULL, NULL);
  for (guint i = 0; i < pattern->n_figures; i++)
    {
      gsize n = name_at (name, pattern->figures[i].name);
      if (n > 0 && name[n] == '\0')
        return &pattern->figures[i];
    }
  return NULL;
}

char *
pattern_figure_name_unfit (const char *name)
{
  g_return_val_if_fail (name != NULL, NULL);
  if (!g_utf8_validate (name, -1, NULL) || *name == '\0')
    return g_strdup (_ ("A figure needs a name."));
  if (!g_unichar_isalpha (g_utf8_get_char (name)))
    return g_strdup (_ ("A figure's name begins with a letter."));
  if (g_utf8_strlen (name, -1) > LONGEST_NAME)
    return g_strdup (_ ("A figure's name has at most 60 characters."));
  gunichar last = 0;
  for (const char *at = name; *at; at = g_utf8_next_char (at))
    {
      last = g_utf8_get_char (at);
      if (!is_of_word (last) && last != ' ' && last != '-')
        return g_strdup (_ ("A figure's name holds letters, digits, spaces "
                            "and hyphens only, for amounts are written with "
                            "it."));
    }
  if (!is_of_word (last))
    return g_strdup (_ ("A figure's name ends with a letter or a digit."));
  if (pattern_word_is_unit (name))
    return g_strdup_printf (_ ("“%s” is a unit and can't name a figure."),
                            name);
  return NULL;
}

/* --- reading -------------------------------------------------------------------- */
typedef struct
{
  const Pattern *p;
  GPtrArray *names; /* of the figures met, or NULL */
} Names;

/* The words up to the next sign, for a message. */
static char *
words_at (const char *at)
{
  const char *end = at;
  while (is_of_word (g_utf8_get_char (end)) || *end == ' ')
    end = g_utf8_next_char (end);
  g_autofree char *words = g_strndup (at, (gsize)(end - at));
  g_strchomp (words);
  glong n = g_utf8_strlen (words, -1);
  return g_utf8_substring (words, 0, MIN (n, 40));
}

static gboolean
read_figure (const char *at, double *mm, gsize *used, gconstpointer data,
             GError **error)
{
  const Names *names = data;
  const PatternFigure *figure = longest_at (names->p, at, used);
  /* A word after the name is a name misspelt: nothing else can stand there. */
  const char *next = at + *used;
  while (*next == ' ')
    next++;
  if (!figure || g_unichar_isalpha (g_utf8_get_char (next)))
    {
      g_autofree char *words = words_at (at);
      g_set_error (error, PATTERN_AMOUNT_ERROR, PATTERN_AMOUNT_ERROR_FIGURE,
                   _ ("There is no figure called “%s” in this pattern. Add it "
                      "to the body figures, or type a length."),
                   words);
      return FALSE;
    }
  *mm = figure->mm;
  if (names->names
      && !g_ptr_array_find_with_equal_func (names->names, figure->name,
                                            g_str_equal, NULL))
    g_ptr_array_add (names->names, g_strdup (figure->name));
  return TRUE;
}

/* The length parser's errors, told as this file's. */
static gboolean
pass_error (GError *cause, GError **error)
{
  if (cause->domain == PATTERN_LENGTH_ERROR)
    {
      g_set_error_literal (error, PATTERN_AMOUNT_ERROR,
                           cause->code == PATTERN_LENGTH_ERROR_RANGE
                               ? PATTERN_AMOUNT_ERROR_RANGE
                               : PATTERN_AMOUNT_ERROR_UNREADABLE,
                           cause->message);
      g_error_free (cause);
    }
  else
    g_propagate_error (error, cause);
  return FALSE;
}

gboolean
pattern_amount_evaluate (const Pattern *p, const char *text, PatternUnit unit,
                         double *mm, GError **error)
{
  g_return_val_if_fail (p != NULL && text != NULL && mm != NULL, FALSE);
  Names names = { p, NULL };
  GError *cause = NULL;
  return pattern_length_read (text, unit, read_figure, &names, mm, &cause)
         || pass_error (cause, error);
}

gboolean
pattern_amount_evaluate_number (const Pattern *p, const char *text,
                                double *number, GError **error)
{
  g_return_val_if_fail (p != NULL && text != NULL && number != NULL, FALSE);
  Names names = { p, NULL };
  GError *cause = NULL;
  return pattern_number_read (text, read_figure, &names, number, &cause)
         || pass_error (cause, error);
}

gboolean
pattern_amount_needs_unit (const Pattern *p, const char *text)
{
  double mm, inch;
  return pattern_amount_evaluate (p, text, PATTERN_MM, &mm, NULL)
         && (!pattern_amount_evaluate (p, text, PATTERN_INCH, &inch, NULL)
             || mm != inch);
}

char **
pattern_amount_figures (const Pattern *p, const char *text)
{
  g_return_val_if_fail (p != NULL && text != NULL, NULL);
  g_autoptr (GPtrArray) found = g_ptr_array_new ();
  Names names = { p, found };
  double mm;
  pattern_length_read (text, PATTERN_MM, read_figure, &names, &mm, NULL);
  g_ptr_array_add (found, NULL);
  return (char **)g_ptr_array_free (g_steal_pointer (&found), FALSE);
}
