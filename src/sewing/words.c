/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/words.h"

#include <glib/gi18n.h>
#include <math.h>

#define MOST_RUNS_NAMED 3
#define SIXTEENTH (25.4 / 16)
#define PENCIL_LINE 0.2 /* mm */
/* Flatter than this is straight to the eye and the hand, mm. */
#define STRAIGHT 20000

char *
sewing_words_piece (const PatternPiece *piece)
{
  if (piece->name == NULL || *piece->name == '\0')
    return g_strdup (_ ("the piece without a name"));
  /* Translators: a piece inside a sentence: the collar */
  return g_strdup_printf (_ ("the %s"), piece->name);
}

char *
sewing_words_edge (const PatternPiece *piece, guint edge_index)
{
  const char *name = piece->edges[edge_index].name;
  g_autofree char *owner = sewing_words_piece (piece);
  if (name == NULL || *name == '\0')
    /* Translators: an edge without a name: the collar's edge 3 */
    return g_strdup_printf (_ ("%s's edge %u"), owner, edge_index + 1);
  /* Translators: piece and edge: the collar's neck edge */
  return g_strdup_printf (_ ("%s's %s"), owner, name);
}

char *
sewing_words_edge_of (const Pattern *pattern, guint piece_id, guint edge_id)
{
  const PatternPiece *piece;
  const PatternEdge *edge
      = pattern_get_edge (pattern, piece_id, edge_id, &piece);
  if (edge == NULL)
    return g_strdup (_ ("an edge that is gone"));
  return sewing_words_edge (piece, (guint)(edge - piece->edges));
}

/* The name all runs share, or NULL. */
static const char *
shared_name (const Pattern *pattern, const PatternSide *runs)
{
  const char *name = NULL;
  for (guint i = 0; i < runs->n_runs; i++)
    {
      const PatternEdge *edge = pattern_get_edge (pattern, runs->runs[i].piece,
                                                  runs->runs[i].edge, NULL);
      if (edge == NULL || edge->name == NULL || *edge->name == '\0')
        return NULL;
      if (name != NULL && g_utf8_collate (name, edge->name) != 0)
        return NULL;
      name = edge->name;
    }
  return name;
}

/* "Back, Side panel and Front": each once, in the order they are walked. */
static char *
piece_names (const Pattern *pattern, const PatternSide *runs)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  guint last = 0;
  for (guint i = 0; i < runs->n_runs; i++)
    {
      const PatternPiece *piece
          = pattern_get_piece (pattern, runs->runs[i].piece);
      if (piece == NULL || piece->id == last)
        continue;
      last = piece->id;
      g_ptr_array_add (names, piece->name);
    }
  GString *list = g_string_new (NULL);
  for (guint i = 0; i < names->len; i++)
    {
      if (i > 0)
        g_string_append (list, i + 1 < names->len ? _ (", ") : _ (" and "));
      g_string_append (list, names->pdata[i]);
    }
  return g_string_free (list, FALSE);
}

char *
sewing_words_side (const Pattern *pattern, const PatternSeam *seam, int side)
{
  const PatternSide *runs = &seam->sides[side];
  if (runs->n_runs == 1)
    return sewing_words_edge_of (pattern, runs->runs[0].piece,
                                 runs->runs[0].edge);
  const char *name = shared_name (pattern, runs);
  if (name != NULL)
    return g_strdup_printf (_ ("the %s"), name);
  if (runs->n_runs > MOST_RUNS_NAMED)
    {
      g_autofree char *pieces = piece_names (pattern, runs);
      return g_strdup_printf (_ ("the edges of %s"), pieces);
    }
  GString *list = g_string_new (NULL);
  for (guint i = 0; i < runs->n_runs; i++)
    {
      g_autofree char *edge = sewing_words_edge_of (
          pattern, runs->runs[i].piece, runs->runs[i].edge);
      if (i > 0)
        g_string_append (list, i + 1 < runs->n_runs
                                   ? _ (", ")
                                   /* Translators: between the last two of a
                                      list of edges */
                                   : _ (" and "));
      g_string_append (list, edge);
    }
  return g_string_free (list, FALSE);
}

char *
sewing_words_seam (const PatternSeam *seam)
{
  if (seam->name == NULL || *seam->name == '\0')
    return g_strdup (_ ("their seam"));
  return g_strdup_printf (_ ("the %s"), seam->name);
}

const char *
sewing_words_notch (int count)
{
  return count >= 3   ? _ ("triple notch")
         : count == 2 ? _ ("double notch")
                      : _ ("single notch");
}

/* To the sixteenth, or below one to the 32nd, as a tape is read: what is off
 * the mark by more than a pencil line is scant or full. */
static char *
inch_words (double size, double *rest)
{
  double step = size < SIXTEENTH ? SIXTEENTH / 2 : SIXTEENTH;
  double near = size < 0.05 ? 0 : fmax (round (size / step), 1) * step;
  *rest = fabs (size - near) > PENCIL_LINE ? size - near : 0;
  return near > 0 && near < 0.75 * SIXTEENTH
             ? g_strdup (_ ("1/32 in"))
             : pattern_length_format (near, PATTERN_INCH, FALSE);
}

char *
sewing_words_length (const Pattern *pattern, double mm)
{
  if (pattern->unit != PATTERN_INCH)
    return pattern_length_format (mm, pattern->unit, TRUE);
  double rest;
  char *near = inch_words (fabs (mm), &rest);
  if (rest == 0)
    return near;
  g_autofree char *bare = near;
  /* Translators: a little less, or more, than the fraction of an inch */
  return g_strdup_printf (rest < 0 ? _ ("scant %s") : _ ("full %s"), bare);
}

PatternUnit
sewing_words_unit (const Pattern *pattern, double mm)
{
  return pattern->unit == PATTERN_CM && fabs (mm) < 10 - 0.05 ? PATTERN_MM
                                                              : pattern->unit;
}

char *
sewing_words_amount (const Pattern *pattern, double mm)
{
  PatternUnit unit = sewing_words_unit (pattern, mm);
  return unit == PATTERN_INCH ? sewing_words_length (pattern, fabs (mm))
                              : pattern_length_format (fabs (mm), unit, TRUE);
}

char *
sewing_words_change (const Pattern *pattern, double mm)
{
  if (fabs (mm) < 0.05)
    return g_strdup ("0");
  const char *sign = mm < 0 ? "\u2212" : "+";
  PatternUnit unit = sewing_words_unit (pattern, mm);
  double rest = 0;
  g_autofree char *amount = unit == PATTERN_INCH
                                ? inch_words (fabs (mm), &rest)
                                : pattern_length_format (fabs (mm), unit, TRUE);
  if (rest == 0)
    return g_strconcat (sign, amount, NULL);
  /* Translators: the same behind a figure in a table: "+1/8 in scant" */
  return g_strdup_printf (rest < 0 ? _ ("%s%s scant") : _ ("%s%s full"), sign,
                          amount);
}

char *
sewing_words_radius (const Pattern *pattern, double mm)
{
  if (!(mm < STRAIGHT))
    return g_strdup (_ ("straight"));
  if (mm < 0.05)
    return g_strdup (_ ("corner"));
  return pattern_length_format (mm < 100 ? mm : round (mm), pattern->unit,
                                FALSE);
}

void
sewing_words_two_lengths (const Pattern *pattern, double a, double b,
                          char **a_words, char **b_words)
{
  *a_words = sewing_words_length (pattern, a);
  *b_words = sewing_words_length (pattern, b);
  if (!g_str_equal (*a_words, *b_words))
    return;
  g_free (*a_words);
  g_free (*b_words);
  *a_words = pattern_length_format (a, PATTERN_MM, TRUE);
  *b_words = pattern_length_format (b, PATTERN_MM, TRUE);
}

char *
sewing_words_area (const Pattern *pattern, double mm2)
{
  if (pattern->unit == PATTERN_INCH)
    return g_strdup_printf (_ ("%.1f sq in"), mm2 / (25.4 * 25.4));
  return g_strdup_printf (_ ("%.1f cm²"), mm2 / 100);
}

char *
sewing_words_capital (char *sentence)
{
  gunichar first = g_utf8_get_char (sentence);
  char capital[7];
  capital[g_unichar_to_utf8 (g_unichar_totitle (first), capital)] = '\0';
  char *result = g_strconcat (capital, g_utf8_next_char (sentence), NULL);
  g_free (sentence);
  return result;
}
