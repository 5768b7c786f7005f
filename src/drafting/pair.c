/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pairing two edges as a seam: which way side B is walked.
 *
 * Pieces drawn as they are worn, beside each other, are sewn right sides
 * together: when A is walked with its outline, B is walked against its own, and
 * the pieces lie on opposite sides of the line. A facing drawn like the piece it
 * faces is walked the same way as that piece. Which it is, the notches say where
 * both edges have some: the direction in which more of them find a partner, and
 * those nearer. Else the ends do, as the pieces lie on the table: partners
 * are laid with the ends that belong together near each other. In doubt, against. */
#include <glib/gi18n.h>
#include <math.h>

#include "drafting/edit-private.h"
#include "geometry/length.h"
#include "sewing/match.h"
#include "sewing/words.h"

typedef struct
{
  const PatternPiece *piece;
  guint edge; /* index */
  double length;
} Side;

static int
compare_marks (gconstpointer a, gconstpointer b)
{
  const SewingMark *x = a, *y = b;
  return x->at < y->at ? -1 : x->at > y->at;
}

static GArray *
marks_of (const Side *side, gboolean reversed)
{
  GArray *marks = g_array_new (FALSE, FALSE, sizeof (SewingMark));
  for (guint i = 0; i < side->piece->n_notches; i++)
    {
      const PatternNotch *notch = &side->piece->notches[i];
      if (notch->edge != side->piece->edges[side->edge].id)
        continue;
      double at = pattern_notch_place (notch, side->length);
      SewingMark mark = { .at = reversed ? side->length - at : at,
                          .count = notch->count,
                          .piece = side->piece->id,
                          .notch = notch->id };
      g_array_append_val (marks, mark);
    }
  g_array_sort (marks, compare_marks);
  return marks;
}

/* How well the notches fall together: pairs found, less the share of the seam's
 * length by which they are apart on average. */
static double
notch_score (const Side *a, const Side *b, gboolean reversed)
{
  g_autoptr (GArray) on_a = marks_of (a, FALSE);
  g_autoptr (GArray) on_b = marks_of (b, reversed);
  g_autofree int *partner = g_new (int, on_a->len + 1);
  guint pairs = sewing_match (
      (const SewingMark *)(gpointer)on_a->data, on_a->len, a->length,
      (const SewingMark *)(gpointer)on_b->data, on_b->len, b->length, partner);
  double apart = 0;
  for (guint i = 0; i < on_a->len; i++)
    if (partner[i] >= 0)
      {
        double x = g_array_index (on_a, SewingMark, i).at / a->length;
        double y = g_array_index (on_b, SewingMark, (guint)partner[i]).at
                   / b->length;
        apart += fabs (x - y);
      }
  return pairs == 0 ? 0 : pairs - apart / pairs;
}

static GeoPoint
end_of (const Side *side, gboolean at_start)
{
  guint n = side->piece->n_nodes;
  guint node = at_start ? side->piece->edges[side->edge].first
                        : pattern_piece_edge_last (side->piece, side->edge);
  return side->piece->nodes[node % n].at;
}

/* TRUE: against B's outline. */
static gboolean
direction_by_ends (const Side *a, const Side *b)
{
  double with = geo_distance (end_of (a, TRUE), end_of (b, TRUE))
                + geo_distance (end_of (a, FALSE), end_of (b, FALSE));
  double against = geo_distance (end_of (a, TRUE), end_of (b, FALSE))
                   + geo_distance (end_of (a, FALSE), end_of (b, TRUE));
  return against <= with * 1.02;
}

static gboolean
direction (const Side *a, const Side *b)
{
  if (a->length > 0 && b->length > 0)
    {
      double with = notch_score (a, b, FALSE);
      double against = notch_score (a, b, TRUE);
      if (fabs (with - against) > 0.02)
        return against > with;
    }
  return direction_by_ends (a, b);
}

/* Two edges of one piece that meet in an inner corner are a dart's legs. */
static gboolean
are_dart_legs (const Side *a, const Side *b)
{
  const PatternPiece *piece = a->piece;
  guint n = piece->n_edges;
  if (piece != b->piece || n < 3)
    return FALSE;
  guint first = a->edge, second = b->edge;
  if ((second + 1) % n == first)
    {
      first = b->edge;
      second = a->edge;
    }
  else if ((first + 1) % n != second)
    return FALSE;
  guint corner = piece->edges[second].first;
  GeoCubic in = pattern_piece_cubic (piece, (corner + piece->n_nodes - 1)
                                                % piece->n_nodes);
  GeoCubic out = pattern_piece_cubic (piece, corner);
  return geo_cross (geo_cubic_tangent (&in, 1), geo_cubic_tangent (&out, 0))
         < 0;
}

/* TRUE where the two edges are sides of one seam already. */
static gboolean
are_paired (const Pattern *p, const Side *a, const Side *b)
{
  guint a_edge = a->piece->edges[a->edge].id;
  guint b_edge = b->piece->edges[b->edge].id;
  const PatternSeam *seam;
  int side;
  for (guint n = 0;
       (seam = pattern_edge_seam (p, a->piece->id, a_edge, n, &side, NULL));
       n++)
    for (guint r = 0; r < seam->sides[1 - side].n_runs; r++)
      if (seam->sides[1 - side].runs[r].piece == b->piece->id
          && seam->sides[1 - side].runs[r].edge == b_edge)
        return TRUE;
  return FALSE;
}

static gboolean
find_side (const Pattern *p, guint piece, guint edge, Side *side,
           GError **error)
{
  side->piece = drafting_find_piece (p, piece, error);
  int index = side->piece ? drafting_find_edge (side->piece, edge, error) : -1;
  if (index < 0)
    return FALSE;
  side->edge = (guint)index;
  side->length = drafting_edge_length (side->piece, side->edge);
  return TRUE;
}

static gboolean
can_pair (const Pattern *p, const Side *a, const Side *b, GError **error)
{
  if (a->piece == b->piece && a->edge == b->edge)
    return drafting_refuse (
        error, DRAFTING_ERROR_SHAPE,
        _ ("An edge can't be sewn to itself. Pick another edge for the "
           "seam's other side."));
  g_autofree char *first = sewing_words_edge (a->piece, a->edge);
  g_autofree char *second = sewing_words_edge (b->piece, b->edge);
  if (are_paired (p, a, b))
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("%s and %s are sewn to each other already."),
                            first, second);
  const Side *sides[] = { a, b };
  for (guint i = 0; i < 2; i++)
    if (sides[i]->piece->edges[sides[i]->edge].kind == PATTERN_EDGE_FOLD)
      return drafting_refuse (
          error, DRAFTING_ERROR_SHAPE,
          _ ("%s lies on the fold of the cloth and can't be sewn. Make it a "
             "seam edge first."),
          i == 0 ? first : second);
  return TRUE;
}

/* --- its name ------------------------------------------------------------------- */

static gboolean
is_seam_name (const char *name)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);
  g_autofree char *word = g_utf8_casefold (_ ("seam"), -1);
  return g_str_has_suffix (folded, word);
}

static const char *
piece_name (const PatternPiece *piece)
{
  return *piece->name != '\0' ? piece->name : _ ("unnamed piece");
}

/* What the seam is called by what it joins: by the edges where both have the same name, else by
 * the pieces. */
static char *
joining_name (const Side *a, const Side *b, gboolean dart)
{
  const char *first = a->piece->edges[a->edge].name;
  const char *second = b->piece->edges[b->edge].name;
  g_autofree char *same = g_utf8_casefold (first, -1);
  g_autofree char *other = g_utf8_casefold (second, -1);
  if (*first != '\0' && strcmp (same, other) == 0)
    return is_seam_name (first)
               ? g_strdup (first)
               /* Translators: the seam of two edges of that name */
               : g_strdup_printf (_ ("%s seam"), first);
  if (dart)
    return g_strdup_printf (_ ("%s dart"), piece_name (a->piece));
  if (a->piece != b->piece)
    /* Translators: a seam's name by the pieces it joins */
    return g_strdup_printf (_ ("%s to %s"), piece_name (a->piece),
                            piece_name (b->piece));
  if (*first != '\0' && *second != '\0')
    return g_strdup_printf (_ ("%s to %s"), first, second);
  return g_strdup_printf (_ ("%s seam"), piece_name (a->piece));
}

static gboolean
is_taken (const Pattern *p, const char *name)
{
  for (guint i = 0; i < p->n_seams; i++)
    if (strcmp (p->seams[i]->name, name) == 0)
      return TRUE;
  return FALSE;
}

/* The same with a number where another seam has it. */
static char *
free_name (const Pattern *p, char *name)
{
  g_autofree char *base = name;
  char *result = g_strdup (name);
  for (guint i = 2; is_taken (p, result); i++)
    {
      g_free (result);
      result = g_strdup_printf ("%s %u", base, i);
    }
  return result;
}

Pattern *
drafting_pair_edges (const Pattern *p, guint a_piece, guint a_edge,
                     guint b_piece, guint b_edge, guint *new_seam,
                     GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  Side a, b;
  if (!find_side (p, a_piece, a_edge, &a, error)
      || !find_side (p, b_piece, b_edge, &b, error)
      || !can_pair (p, &a, &b, error))
    return NULL;
  gboolean dart = are_dart_legs (&a, &b);
  g_autofree char *name = free_name (p, joining_name (&a, &b, dart));
  Pattern *result = pattern_dup (p);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (result), name);
  seam->join = dart ? PATTERN_JOIN_DART : PATTERN_JOIN_SEAM;
  seam->press = dart ? PATTERN_PRESS_TO_A : PATTERN_PRESS_OPEN;
  pattern_seam_add_run (seam, 0, (PatternRun){ a_piece, a_edge, FALSE });
  pattern_seam_add_run (
      seam, 1, (PatternRun){ b_piece, b_edge, dart || direction (&a, &b) });
  if (new_seam)
    *new_seam = seam->id;
  pattern_put_seam (result, seam);
  return result;
}
