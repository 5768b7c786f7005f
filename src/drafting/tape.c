/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/tape.h"

#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edit-private.h"
#include "pattern/figure.h"

#define LEAD "tape "

void
drafting_tape_clear (gpointer tape)
{
  g_clear_pointer (&((DraftingTape *)tape)->runs, g_free);
}

/* --- what was measured, as a figure's note ------------------------------------------ */

static char *
note_of (const PatternRun *runs, guint n, guint piece, const guint nodes[2])
{
  GString *note = g_string_new ("tape");
  for (guint i = 0; i < n; i++)
    g_string_append_printf (note, " %s%u/%u", runs[i].reversed ? "-" : "",
                            runs[i].piece, runs[i].edge);
  for (guint i = 0; n == 0 && i < 2; i++)
    g_string_append_printf (note, " %u/n%u", piece, nodes[i]);
  return g_string_free (note, FALSE);
}

static guint
take_number (const char **at)
{
  char *end = NULL;
  guint64 number
      = g_ascii_isdigit (**at) ? g_ascii_strtoull (*at, &end, 10) : 0;
  if (number == 0 || number >= G_MAXUINT)
    return 0;
  *at = end;
  return (guint)number;
}

/* FALSE where the word names nothing of the pattern. */
static gboolean
read_word (const Pattern *p, const char *word, DraftingTape *tape, GArray *runs,
           guint *n_nodes)
{
  PatternRun run = { .reversed = *word == '-' };
  word += run.reversed ? 1 : 0;
  run.piece = take_number (&word);
  const PatternPiece *piece = pattern_get_piece (p, run.piece);
  if (!piece || *word++ != '/' || (tape->piece && tape->piece != run.piece))
    return FALSE;
  tape->piece = run.piece;
  gboolean is_node = *word == 'n';
  word += is_node ? 1 : 0;
  guint id = take_number (&word);
  if (id == 0 || *word != '\0')
    return FALSE;
  if (is_node)
    {
      if (*n_nodes == 2 || pattern_piece_find_node (piece, id) < 0)
        return FALSE;
      tape->nodes[(*n_nodes)++] = id;
      return TRUE;
    }
  run.edge = id;
  g_array_append_val (runs, run);
  return pattern_piece_find_edge (piece, id) >= 0;
}

static double
length_of (const Pattern *p, const DraftingTape *tape)
{
  const PatternPiece *piece = pattern_get_piece (p, tape->piece);
  double length = 0;
  for (guint i = 0; i < tape->n_runs; i++)
    length += drafting_edge_length (
        piece, (guint)pattern_piece_find_edge (piece, tape->runs[i].edge));
  if (tape->n_runs == 0)
    length = geo_distance (
        piece->nodes[pattern_piece_find_node (piece, tape->nodes[0])].at,
        piece->nodes[pattern_piece_find_node (piece, tape->nodes[1])].at);
  return length;
}

static gboolean
read_figure (const Pattern *p, const PatternFigure *figure, DraftingTape *tape)
{
  *tape = (DraftingTape){ .figure = figure->id,
                          .name = figure->name,
                          .tape = figure->mm };
  if (!g_str_has_prefix (figure->note, LEAD))
    return FALSE;
  g_auto (GStrv) words = g_strsplit (figure->note + strlen (LEAD), " ", -1);
  g_autoptr (GArray) runs = g_array_new (FALSE, FALSE, sizeof (PatternRun));
  guint n_nodes = 0;
  for (guint i = 0; words[i]; i++)
    if (!read_word (p, words[i], tape, runs, &n_nodes))
      return FALSE;
  if ((runs->len == 0) != (n_nodes == 2) || (runs->len > 0 && n_nodes > 0)
      || tape->tape <= 0)
    return FALSE;
  tape->n_runs = runs->len;
  tape->runs = g_memdup2 (runs->data, runs->len * sizeof (PatternRun));
  tape->length = length_of (p, tape);
  return TRUE;
}

GArray *
drafting_tapes (const Pattern *p, guint piece)
{
  GArray *tapes = g_array_new (FALSE, FALSE, sizeof (DraftingTape));
  g_array_set_clear_func (tapes, drafting_tape_clear);
  for (guint i = 0; i < p->n_figures; i++)
    {
      DraftingTape tape;
      if (!read_figure (p, &p->figures[i], &tape))
        continue;
      if (piece == 0 || piece == tape.piece)
        g_array_append_val (tapes, tape);
      else
        drafting_tape_clear (&tape);
    }
  return tapes;
}

/* --- putting one in ------------------------------------------------------------------ */

/* Letters, digits, hyphens and single spaces of a name; a figure's may hold no more. */
static void
append_plain (GString *into, const char *name)
{
  for (const char *c = name; *c; c = g_utf8_next_char (c))
    {
      gunichar u = g_utf8_get_char (c);
      if (g_unichar_isalnum (u) || u == '-')
        g_string_append_unichar (into, u);
      else if (into->len > 0 && into->str[into->len - 1] != ' ')
        g_string_append_c (into, ' ');
    }
  if (into->len > 0 && into->str[into->len - 1] != ' ')
    g_string_append_c (into, ' ');
}

static char *
new_name (const Pattern *p, const PatternPiece *piece, const PatternRun *runs,
          guint n)
{
  g_autoptr (GString) words = g_string_new (NULL);
  append_plain (words, piece->name);
  if (n > 0)
    {
      int edge = pattern_piece_find_edge (piece, runs[0].edge);
      g_autofree char *number = g_strdup_printf (_ ("edge %u"), edge + 1u);
      const char *name = piece->edges[edge].name;
      append_plain (words, *name ? name : number);
    }
  else
    append_plain (words, _ ("distance"));
  /* Figures' names are short: room is left for the words and number after it. */
  g_autofree char *whole = g_strdup (words->str);
  g_string_truncate (words, 0);
  for (const char *c = whole; *c != '\0' && words->len < 36;
       c = g_utf8_next_char (c))
    g_string_append_unichar (words, g_utf8_get_char (c));
  if (words->len > 0 && words->str[words->len - 1] != ' ')
    g_string_append_c (words, ' ');
  gboolean led = FALSE;
  for (guint i = 1;; i++)
    {
      g_autofree char *number
          = i > 1 ? g_strdup_printf (" %u", i) : g_strdup ("");
      g_autofree char *name
          = g_strdup_printf (_ ("%sby tape%s"), words->str, number);
      g_autofree char *unfit = pattern_figure_name_unfit (name);
      if (unfit && !led)
        g_string_prepend (words, _ ("piece "));
      else if (!pattern_find_figure (p, name))
        return g_steal_pointer (&name);
      led = led || unfit != NULL;
      if (i > 10000)
        return g_strdup (name);
    }
}

static gboolean
is_of_piece (const Pattern *p, const PatternRun *runs, guint n, guint piece,
             const guint nodes[2], GError **error)
{
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  for (guint i = 0; own && i < n; i++)
    {
      if (runs[i].piece != piece)
        return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                                _ ("What is measured in one go has to be of "
                                   "one piece."));
      if (drafting_find_edge (own, runs[i].edge, error) < 0)
        return FALSE;
    }
  for (guint i = 0; own && n == 0 && i < 2; i++)
    if (drafting_find_node (own, nodes[i], error) < 0)
      return FALSE;
  return own
         && (n > 0 || nodes[0] != nodes[1]
             || drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                                 _ ("A distance needs two different nodes.")));
}

Pattern *
drafting_set_tape (const Pattern *p, const PatternRun *runs, guint n_runs,
                   guint piece, const guint nodes[2], double mm, guint *figure,
                   GError **error)
{
  if (n_runs > 0)
    piece = runs[0].piece;
  if (!drafting_number_is_good (mm, error)
      || !is_of_piece (p, runs, n_runs, piece, nodes, error))
    return NULL;
  if (mm <= 0)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("What the tape says has to be more than nothing."));
      return NULL;
    }
  g_autofree char *note = note_of (runs, n_runs, piece, nodes);
  const PatternFigure *old = NULL;
  for (guint i = 0; i < p->n_figures; i++)
    if (strcmp (p->figures[i].note, note) == 0)
      old = &p->figures[i];
  g_autofree char *name
      = old ? g_strdup (old->name)
            : new_name (p, pattern_get_piece (p, piece), runs, n_runs);
  Pattern *result = pattern_dup (p);
  PatternFigure put
      = { old ? old->id : pattern_take_id (result), name, mm, note };
  pattern_put_figure (result, &put);
  if (figure)
    *figure = put.id;
  return result;
}
