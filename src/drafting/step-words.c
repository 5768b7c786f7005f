/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps as words typed: names are looked up and become numbers. */
#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edit-private.h"
#include "drafting/values.h"

/* --- finding by name --------------------------------------------------------------- */
static gboolean
same_name (const char *a, const char *b)
{
  g_autofree char *p = g_utf8_casefold (a, -1);
  g_autofree char *q = g_utf8_casefold (b, -1);
  return strcmp (p, q) == 0;
}

static guint
number_of (const char *word)
{
  guint64 id = 0;
  return g_ascii_string_to_unsigned (word, 10, 1, G_MAXUINT - 1, &id, NULL)
             ? (guint)id
             : 0;
}

/* How many bear the name; found gets the last. */
static guint
pieces_named (const Pattern *p, const char *name, guint *found)
{
  guint n = 0;
  for (guint i = 0; i < p->n_pieces; i++)
    if (same_name (p->pieces[i]->name, name))
      {
        *found = p->pieces[i]->id;
        n++;
      }
  if (n == 0 && pattern_get_piece (p, number_of (name)))
    {
      *found = number_of (name);
      n = 1;
    }
  return n;
}

static guint
edges_named (const PatternPiece *piece, const char *name, guint *found)
{
  guint n = 0;
  for (guint i = 0; i < piece->n_edges; i++)
    if (same_name (piece->edges[i].name, name))
      {
        *found = piece->edges[i].id;
        n++;
      }
  if (n == 0 && pattern_piece_find_edge (piece, number_of (name)) >= 0)
    {
      *found = number_of (name);
      n = 1;
    }
  return n;
}

/* "piece/edge", cut at whichever stroke makes sense; names may hold strokes. */
static guint
find_edges (const Pattern *p, const char *word, guint *piece, guint *edge)
{
  for (const char *cut = strchr (word, '/'); cut; cut = strchr (cut + 1, '/'))
    {
      g_autofree char *name = g_strndup (word, (gsize)(cut - word));
      guint n = pieces_named (p, name, piece);
      if (n > 1)
        return n;
      n = n == 1 ? edges_named (pattern_get_piece (p, *piece), cut + 1, edge)
                 : 0;
      if (n > 0)
        return n;
    }
  guint n = 0;
  for (guint i = 0; i < p->n_pieces && !strchr (word, '/'); i++)
    if (number_of (word) == 0)
      {
        guint found = 0, m = edges_named (p->pieces[i], word, &found);
        if (m > 0)
          {
            *piece = p->pieces[i]->id;
            *edge = found;
          }
        n += m;
      }
  return n;
}

static guint
seams_named (const Pattern *p, const char *word, gboolean darts, guint *found)
{
  guint n = 0;
  for (guint i = 0; i < p->n_seams; i++)
    if (same_name (p->seams[i]->name, word)
        && (!darts || p->seams[i]->join == PATTERN_JOIN_DART))
      {
        *found = p->seams[i]->id;
        n++;
      }
  if (n == 0 && word[0] == 's' && pattern_get_seam (p, number_of (word + 1)))
    {
      *found = number_of (word + 1);
      n = 1;
    }
  return n;
}

/* --- one thing ---------------------------------------------------------------------- */
/* TRUE where exactly one was found. */
static gboolean
is_one (guint n, const char *word, GError **error)
{
  if (n == 0)
    drafting_refuse (error, DRAFTING_ERROR_GONE,
                     _ ("“%s” names nothing in this pattern."), word);
  else if (n > 1)
    drafting_refuse (error, DRAFTING_ERROR_GONE,
                     _ ("“%s” is the name of %u; give its number, as “bodkin "
                        "report” lists them."),
                     word, n);
  return n == 1;
}

static gboolean
resolve_node (const Pattern *p, const char *word, guint *piece, guint *node,
              GError **error)
{
  const char *cut = strrchr (word, '/');
  if (!cut)
    return is_one (0, word, error);
  g_autofree char *before = g_strndup (word, (gsize)(cut - word));
  if (cut[1] == 'n' && number_of (cut + 2) != 0)
    {
      *node = number_of (cut + 2);
      return is_one (pieces_named (p, before, piece), before, error)
             && is_one (
                 pattern_piece_find_node (pattern_get_piece (p, *piece), *node)
                     >= 0,
                 word, error);
    }
  gboolean at_end = strcmp (cut, "/end") == 0;
  guint edge = 0;
  if (!at_end && strcmp (cut, "/start") != 0)
    return is_one (0, word, error);
  if (!is_one (find_edges (p, before, piece, &edge), before, error))
    return FALSE;
  const PatternPiece *own = pattern_get_piece (p, *piece);
  guint index = (guint)pattern_piece_find_edge (own, edge);
  guint place = at_end ? pattern_piece_edge_last (own, index) % own->n_nodes
                       : own->edges[index].first;
  *node = own->nodes[place].id;
  return TRUE;
}

/* The number a word stands for, as steps are written; NULL with the error set. */
static char *
resolve (const Pattern *p, DraftingParameterKind kind, const char *word,
         GError **error)
{
  guint piece = 0, id = 0;
  switch (kind)
    {
    case DRAFTING_PIECE:
    case DRAFTING_PIECES:
      return is_one (pieces_named (p, word, &piece), word, error)
                 ? g_strdup_printf ("%u", piece)
                 : NULL;
    case DRAFTING_EDGE:
    case DRAFTING_EDGES:
      {
        guint n = find_edges (p, word, &piece, &id);
        gboolean turned = n == 0 && word[0] == '-';
        if (turned)
          n = find_edges (p, word + 1, &piece, &id);
        return is_one (n, word, error)
                   ? g_strdup_printf ("%s%u/%u", turned ? "-" : "", piece, id)
                   : NULL;
      }
    case DRAFTING_NODE:
      return resolve_node (p, word, &piece, &id, error)
                 ? g_strdup_printf ("%u/n%u", piece, id)
                 : NULL;
    case DRAFTING_SEAM:
    case DRAFTING_DART:
      return is_one (seams_named (p, word, kind == DRAFTING_DART, &id), word,
                     error)
                 ? g_strdup_printf ("s%u", id)
                 : NULL;
    default:
      return g_strdup (word);
    }
}

/* --- lists ------------------------------------------------------------------------ */
static char *
resolve_each (const Pattern *p, DraftingParameterKind kind, const char *text,
              const char *marks, GError **error)
{
  g_auto (GStrv) words = g_strsplit_set (text, marks, -1);
  g_autoptr (GString) all = g_string_new (NULL);
  for (guint i = 0; words[i]; i++)
    {
      g_strstrip (words[i]);
      if (*words[i] == '\0')
        continue;
      g_autofree char *one = resolve (p, kind, words[i], error);
      if (!one)
        return NULL;
      g_string_append_printf (all, "%s%s", all->len > 0 ? " " : "", one);
    }
  return g_strdup (all->str);
}

static char *
resolve_text (const Pattern *p, const DraftingParameter *parameter,
              const char *text, GError **error)
{
  DraftingParameterKind kind = parameter->kind;
  if (kind < DRAFTING_PIECE || kind >= DRAFTING_POINT || *text == '\0')
    return g_strdup (text);
  if (kind != DRAFTING_PIECES && kind != DRAFTING_EDGES)
    return resolve (p, kind, text, error);
  if (strpbrk (text, ",;"))
    return resolve_each (p, kind, text, ",;", error);
  char *whole = resolve (p, kind, text, NULL);
  return whole ? whole : resolve_each (p, kind, text, " ", error);
}

PatternStep *
drafting_step_parse (const Pattern *p, int n_words, char *const *words,
                     GError **error)
{
  g_return_val_if_fail (p != NULL && n_words > 0 && words != NULL, NULL);
  const DraftingVerb *verb = drafting_verb_find (words[0]);
  if (!verb)
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("There is no verb “%s”. “bodkin draft --list” names "
                          "them all."),
                       words[0]);
      return NULL;
    }
  g_autoptr (PatternStep) step = pattern_step_new (verb->name);
  for (int i = 1; i < n_words; i++)
    {
      const char *equals = strchr (words[i], '=');
      g_autofree char *key
          = g_strndup (words[i], equals ? (gsize)(equals - words[i]) : 0);
      const DraftingParameter *parameter
          = equals ? drafting_verb_parameter (verb, key) : NULL;
      if (!parameter && (!equals || strcmp (key, "unit") != 0))
        {
          drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                           _ ("“%s” is no parameter of “%s”. “bodkin draft "
                              "--help %s” lists them."),
                           equals ? key : words[i], verb->name, verb->name);
          return NULL;
        }
      GError *cause = NULL;
      g_autofree char *text
          = parameter ? resolve_text (p, parameter, equals + 1, &cause)
                      : g_strdup (equals + 1);
      if (!text)
        {
          g_propagate_prefixed_error (error, cause, "%s: ", key);
          return NULL;
        }
      pattern_step_set (step, key, text);
    }
  return g_steal_pointer (&step);
}
