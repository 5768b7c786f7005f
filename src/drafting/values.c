/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/values.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "drafting/edit-private.h"
#include "pattern/figure.h"
#include "sewing/words.h"

typedef struct
{
  gboolean has;
  double number;
  guint choice; /* or yes */
  char *text;
  GArray *runs;   /* of PatternRun */
  GArray *points; /* of GeoPoint */
  guint id;       /* of a node or seam */
} Value;

struct _DraftingValues
{
  const DraftingVerb *verb;
  Value *values; /* one a parameter */
};

typedef struct
{
  const Pattern *p;
  PatternUnit unit;
  const DraftingParameter *parameter;
  Value *value;
} Reading;

/* --- numbers --------------------------------------------------------------------- */
static char *
number_words (const Reading *r, double number)
{
  if (r->parameter->kind == DRAFTING_LENGTH)
    return pattern_length_format (number, r->p->unit, FALSE);
  if (r->parameter->kind == DRAFTING_ANGLE)
    return g_strdup_printf ("%.4g°", number);
  if (r->parameter->kind == DRAFTING_SHARE)
    return g_strdup_printf ("%.4g %%", number);
  return g_strdup_printf ("%.6g", number);
}

static gboolean
within_limits (const Reading *r, GError **error)
{
  const DraftingParameter *parameter = r->parameter;
  double number = r->value->number;
  if (parameter->least == 0 && parameter->most == 0)
    return TRUE;
  gboolean low = number < parameter->least;
  if (!low && number <= parameter->most)
    return TRUE;
  g_autofree char *have = number_words (r, number);
  g_autofree char *limit
      = number_words (r, low ? parameter->least : parameter->most);
  return drafting_refuse (
      error, DRAFTING_ERROR_AMOUNT,
      low ? _ ("%s is too little; the least that can be is %s.")
          : _ ("%s is too much; the most that can be is %s."),
      have, limit);
}

/* A sign for the unit may stand behind plain numbers. */
static char *
without_sign (const char *text)
{
  char *copy = g_strstrip (g_strdup (text));
  static const char *const signs[] = { "°", "%", " per cent" };
  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    if (g_str_has_suffix (copy, signs[i]))
      {
        copy[strlen (copy) - strlen (signs[i])] = '\0';
        break;
      }
  return copy;
}

static gboolean
read_number (const Reading *r, const char *text, GError **error)
{
  gboolean read;
  if (r->parameter->kind == DRAFTING_LENGTH)
    read = pattern_amount_evaluate (r->p, text, r->unit, &r->value->number,
                                    error);
  else
    {
      g_autofree char *plain = without_sign (text);
      read = pattern_amount_evaluate_number (r->p, plain, &r->value->number,
                                             error);
    }
  if (!read)
    return FALSE;
  if (r->parameter->kind == DRAFTING_COUNT
      && (r->value->number != floor (r->value->number)
          || fabs (r->value->number) > 10000))
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("A whole number is wanted."));
  return within_limits (r, error);
}

/* --- words ------------------------------------------------------------------------ */
static gboolean
read_word (const Reading *r, const char *text, const char *const *words,
           GError **error)
{
  for (guint i = 0; words[i]; i++)
    if (g_ascii_strcasecmp (words[i], text) == 0)
      {
        r->value->choice = i;
        return TRUE;
      }
  g_autofree char *all = g_strjoinv (", ", (char **)words);
  return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                          _ ("“%s” is none of: %s."), text, all);
}

/* --- things of the pattern --------------------------------------------------------- */
/* Digits up to the end or to one of the marks given; 0 where there are none. */
static guint
take_id (const char **at, char mark)
{
  char *end = NULL;
  guint64 id
      = g_ascii_isdigit (**at) ? g_ascii_strtoull (*at, &end, 10) : G_MAXUINT64;
  if (id == 0 || id >= G_MAXUINT || (*end != '\0' && *end != mark))
    return 0;
  *at = *end == '\0' ? end : end + 1;
  return (guint)id;
}

static gboolean
unreadable (const char *word, GError **error)
{
  return drafting_refuse (error, DRAFTING_ERROR_GONE,
                          _ ("“%s” names nothing in this pattern."), word);
}

static gboolean
read_piece (const Reading *r, const char *word, GError **error)
{
  const char *at = word;
  PatternRun run = { .piece = take_id (&at, '\0') };
  if (run.piece == 0)
    return unreadable (word, error);
  if (!drafting_find_piece (r->p, run.piece, error))
    return FALSE;
  g_array_append_val (r->value->runs, run);
  return TRUE;
}

static gboolean
read_edge (const Reading *r, const char *word, GError **error)
{
  const char *at = word;
  PatternRun run = { .reversed = *at == '-' };
  at += run.reversed ? 1 : 0;
  run.piece = take_id (&at, '/');
  run.edge = take_id (&at, '\0');
  if (run.piece == 0 || run.edge == 0)
    return unreadable (word, error);
  const PatternPiece *piece = drafting_find_piece (r->p, run.piece, error);
  if (!piece || drafting_find_edge (piece, run.edge, error) < 0)
    return FALSE;
  g_array_append_val (r->value->runs, run);
  return TRUE;
}

static gboolean
read_node (const Reading *r, const char *word, GError **error)
{
  const char *at = word;
  PatternRun run = { .piece = take_id (&at, '/') };
  guint node = 0;
  if (run.piece != 0 && *at++ == 'n')
    node = take_id (&at, '\0');
  if (node == 0)
    return unreadable (word, error);
  const PatternPiece *piece = drafting_find_piece (r->p, run.piece, error);
  if (!piece || drafting_find_node (piece, node, error) < 0)
    return FALSE;
  g_array_append_val (r->value->runs, run);
  r->value->id = node;
  return TRUE;
}

static gboolean
read_seam (const Reading *r, const char *word, GError **error)
{
  const char *at = word;
  guint id = 0;
  if (*at++ == 's')
    id = take_id (&at, '\0');
  if (id == 0)
    return unreadable (word, error);
  const PatternSeam *seam = drafting_find_seam (r->p, id, error);
  if (!seam)
    return FALSE;
  if (r->parameter->kind == DRAFTING_DART && seam->join != PATTERN_JOIN_DART)
    {
      g_autofree char *name = sewing_words_seam (seam);
      return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                              _ ("%s is a seam, not a dart. Pair a dart's two "
                                 "legs and choose that they join as a dart."),
                              name);
    }
  r->value->id = id;
  return TRUE;
}

static gboolean
read_point (const Reading *r, const char *word, GError **error)
{
  char *comma = NULL, *end = NULL;
  GeoPoint point = { g_ascii_strtod (word, &comma), 0 };
  if (comma == word || *comma != ',')
    return unreadable (word, error);
  point.y = g_ascii_strtod (comma + 1, &end);
  if (end == comma + 1 || *end != '\0')
    return unreadable (word, error);
  if (!drafting_point_is_good (point, error))
    return FALSE;
  g_array_append_val (r->value->points, point);
  return TRUE;
}

static gboolean
read_each (const Reading *r, const char *text,
           gboolean (*read) (const Reading *, const char *, GError **),
           gboolean several, GError **error)
{
  g_auto (GStrv) words = g_strsplit_set (text, " \t\n", -1);
  guint n = 0;
  for (guint i = 0; words[i]; i++)
    if (*words[i] != '\0')
      {
        if (n++ > 0 && !several)
          return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                                  _ ("Only one can be given here."));
        if (!read (r, words[i], error))
          return FALSE;
      }
  return TRUE;
}

/* --- a parameter ------------------------------------------------------------------ */
static gboolean
read_value (const Reading *r, const char *text, GError **error)
{
  static const char *const no_yes[] = { "no", "yes", NULL };
  switch (r->parameter->kind)
    {
    case DRAFTING_LENGTH:
    case DRAFTING_ANGLE:
    case DRAFTING_SHARE:
    case DRAFTING_NUMBER:
    case DRAFTING_COUNT:
      return read_number (r, text, error);
    case DRAFTING_YES:
      return read_word (r, text, no_yes, error);
    case DRAFTING_CHOICE:
      return read_word (r, text, r->parameter->choices, error);
    case DRAFTING_TEXT:
      break;
    case DRAFTING_PIECE:
      return read_each (r, text, read_piece, FALSE, error);
    case DRAFTING_PIECES:
      return read_each (r, text, read_piece, TRUE, error);
    case DRAFTING_EDGE:
      return read_each (r, text, read_edge, FALSE, error);
    case DRAFTING_EDGES:
      return read_each (r, text, read_edge, TRUE, error);
    case DRAFTING_NODE:
      return read_each (r, text, read_node, FALSE, error);
    case DRAFTING_SEAM:
    case DRAFTING_DART:
      return read_each (r, text, read_seam, FALSE, error);
    case DRAFTING_POINT:
      return read_each (r, text, read_point, FALSE, error);
    case DRAFTING_POINTS:
      return read_each (r, text, read_point, TRUE, error);
    }
  return TRUE;
}

static gboolean
is_blank (const char *text)
{
  return text[strspn (text, " \t\n")] == '\0';
}

static gboolean
refuse_missing (const DraftingParameter *parameter, GError **error)
{
  if (parameter->kind >= DRAFTING_PIECE)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("nothing is picked for it yet."));
  return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                          _ ("an amount is missing."));
}

static gboolean
read_parameter (const Reading *r, const PatternStep *step, GError **error)
{
  gboolean from_start = FALSE;
  const char *text = drafting_step_text (step, r->parameter, &from_start);
  r->value->runs = g_array_new (FALSE, FALSE, sizeof (PatternRun));
  r->value->points = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  r->value->text = g_strdup (text ? text : "");
  /* Blank is nothing given where nothing has to be; a start that is not blank
   * is never meant by clearing a field. */
  if (is_blank (r->value->text) && r->parameter->kind != DRAFTING_TEXT)
    return (r->parameter->start && is_blank (r->parameter->start))
           || refuse_missing (r->parameter, error);
  if (!text)
    return refuse_missing (r->parameter, error);
  Reading own = *r;
  if (from_start)
    own.unit = PATTERN_MM;
  r->value->has = !is_blank (text);
  return read_value (&own, text, error);
}

/* --- life ------------------------------------------------------------------------ */
PatternUnit
drafting_step_unit (const Pattern *p, const PatternStep *step)
{
  const char *word = pattern_step_get (step, "unit");
  for (int unit = PATTERN_MM; word && unit <= PATTERN_INCH; unit++)
    if (strcmp (word, pattern_unit_word ((PatternUnit)unit)) == 0)
      return (PatternUnit)unit;
  return p->unit;
}

const DraftingParameter *
drafting_verb_parameter (const DraftingVerb *verb, const char *key)
{
  for (guint i = 0; i < verb->n_parameters; i++)
    if (strcmp (verb->parameters[i].key, key) == 0)
      return &verb->parameters[i];
  return NULL;
}

const char *
drafting_step_text (const PatternStep *step, const DraftingParameter *parameter,
                    gboolean *from_start)
{
  const char *text = pattern_step_get (step, parameter->key);
  if (from_start)
    *from_start = text == NULL;
  return text ? text : parameter->start;
}

static gboolean
knows_arguments (const DraftingVerb *verb, const PatternStep *step,
                 GError **error)
{
  for (guint i = 0; i < step->n_arguments; i++)
    {
      const char *key = step->arguments[i].key;
      if (strcmp (key, "unit") != 0 && !drafting_verb_parameter (verb, key))
        return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                                _ ("“%s” takes no “%s”."), verb->name, key);
    }
  return TRUE;
}

DraftingValues *
drafting_values_new (const Pattern *p, const DraftingVerb *verb,
                     const PatternStep *step, const DraftingParameter **bad,
                     GError **error)
{
  g_return_val_if_fail (p != NULL && verb != NULL && step != NULL, NULL);
  if (bad)
    *bad = NULL;
  if (!knows_arguments (verb, step, error))
    return NULL;
  g_autoptr (DraftingValues) v = g_new0 (DraftingValues, 1);
  v->verb = verb;
  v->values = g_new0 (Value, verb->n_parameters + 1);
  for (guint i = 0; i < verb->n_parameters; i++)
    {
      Reading r = { p, drafting_step_unit (p, step), &verb->parameters[i],
                    &v->values[i] };
      GError *cause = NULL;
      if (read_parameter (&r, step, &cause))
        continue;
      if (bad)
        *bad = r.parameter;
      g_propagate_prefixed_error (error, cause, "%s: ", _ (r.parameter->label));
      return NULL;
    }
  return g_steal_pointer (&v);
}

void
drafting_values_free (DraftingValues *v)
{
  if (v == NULL)
    return;
  for (guint i = 0; i < v->verb->n_parameters; i++)
    {
      g_free (v->values[i].text);
      if (v->values[i].runs)
        g_array_free (v->values[i].runs, TRUE);
      if (v->values[i].points)
        g_array_free (v->values[i].points, TRUE);
    }
  g_free (v->values);
  g_free (v);
}

/* --- asking ---------------------------------------------------------------------- */
static const Value *
find (const DraftingValues *v, const char *key)
{
  static const Value none = { .text = (char *)"" };
  g_return_val_if_fail (v != NULL && key != NULL, &none);
  for (guint i = 0; i < v->verb->n_parameters; i++)
    if (strcmp (v->verb->parameters[i].key, key) == 0)
      return &v->values[i];
  g_critical ("%s has no parameter “%s”", v->verb->name, key);
  return &none;
}

double
drafting_values_get_number (const DraftingValues *v, const char *key)
{
  return find (v, key)->number;
}

int
drafting_values_get_count (const DraftingValues *v, const char *key)
{
  return (int)find (v, key)->number;
}

gboolean
drafting_values_get_yes (const DraftingValues *v, const char *key)
{
  return find (v, key)->choice != 0;
}

guint
drafting_values_get_choice (const DraftingValues *v, const char *key)
{
  return find (v, key)->choice;
}

const char *
drafting_values_get_text (const DraftingValues *v, const char *key)
{
  return find (v, key)->text;
}

const PatternRun *
drafting_values_get_runs (const DraftingValues *v, const char *key, guint *n)
{
  const Value *value = find (v, key);
  if (n)
    *n = value->runs ? value->runs->len : 0;
  return value->runs ? (const PatternRun *)(gpointer)value->runs->data : NULL;
}

guint
drafting_values_get_piece (const DraftingValues *v, const char *key)
{
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, key, &n);
  return n > 0 ? runs[0].piece : 0;
}

guint
drafting_values_get_seam (const DraftingValues *v, const char *key)
{
  return find (v, key)->id;
}

guint
drafting_values_get_node (const DraftingValues *v, const char *key,
                          guint *piece)
{
  if (piece)
    *piece = drafting_values_get_piece (v, key);
  return find (v, key)->id;
}

const GeoPoint *
drafting_values_get_points (const DraftingValues *v, const char *key, guint *n)
{
  const Value *value = find (v, key);
  if (n)
    *n = value->points ? value->points->len : 0;
  return value->points ? (const GeoPoint *)(gpointer)value->points->data : NULL;
}

gboolean
drafting_values_has (const DraftingValues *v, const char *key)
{
  return find (v, key)->has;
}
