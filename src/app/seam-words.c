/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words about a seam and its sides, called by the pieces they lie on. */
#include <glib/gi18n.h>
#include <math.h>

#include "app/words.h"
#include "sewing/checks.h"
#include "sewing/words.h"

/* A side's pieces are all named up to this many. */
#define MOST_NAMED 2

static const char *
edge_name (const PatternEdge *edge, const PatternPiece *piece)
{
  return edge->name[0] != '\0' ? edge->name : piece->name;
}

/* Pieces of a side, each once. */
static GPtrArray *
side_pieces (const Pattern *pattern, const PatternSide *side)
{
  GPtrArray *pieces = g_ptr_array_new ();
  for (guint i = 0; i < side->n_runs; i++)
    {
      PatternPiece *piece
          = (PatternPiece *)pattern_get_piece (pattern, side->runs[i].piece);
      if (piece != NULL && !g_ptr_array_find (pieces, piece, NULL))
        g_ptr_array_add (pieces, piece);
    }
  return pieces;
}

/* Both sides on one piece, as of a dart: the edges tell them apart. */
static gboolean
is_within_piece (const GPtrArray *own, const GPtrArray *other)
{
  return own->len == 1 && other->len == 1 && own->pdata[0] == other->pdata[0];
}

char *
app_words_side_piece (const Pattern *pattern, const PatternSeam *seam, int side)
{
  g_autoptr (GPtrArray) own = side_pieces (pattern, &seam->sides[side]);
  g_autoptr (GPtrArray) other = side_pieces (pattern, &seam->sides[1 - side]);
  if (own->len == 0)
    return g_strdup (side == 0 ? _ ("side A") : _ ("side B"));
  const PatternPiece *first = own->pdata[0];
  if (is_within_piece (own, other))
    {
      const PatternRun *run = &seam->sides[side].runs[0];
      const PatternRun *facing = &seam->sides[1 - side].runs[0];
      const PatternEdge *edge
          = pattern_get_edge (pattern, run->piece, run->edge, NULL);
      const PatternEdge *across
          = pattern_get_edge (pattern, facing->piece, facing->edge, NULL);
      if (edge != NULL && across != NULL
          && !g_str_equal (edge->name, across->name))
        return g_strdup (edge_name (edge, first));
      return g_strdup_printf (side == 0 ? _ ("%s (A)") : _ ("%s (B)"),
                              first->name);
    }
  if (own->len == 1)
    return g_strdup (first->name[0] != '\0' ? first->name
                                            : _ ("unnamed piece"));
  if (own->len == MOST_NAMED)
    return g_strdup_printf (_ ("%s and %s"), first->name,
                            ((const PatternPiece *)own->pdata[1])->name);
  return g_strdup_printf (_ ("%s and %u more"), first->name, own->len - 1);
}

static char *
words_out (const Pattern *pattern, const SewingSeam *facts)
{
  /* The collar is spoken of, not the neckline it is sewn to. */
  const PatternSide *sides = facts->seam->sides;
  int side = sides[0].n_runs < sides[1].n_runs ? 0 : 1;
  double own = side == 0 ? facts->out : -facts->out;
  g_autofree char *name = app_words_side_piece (pattern, facts->seam, side);
  g_autofree char *amount = sewing_words_amount (pattern, own);
  return g_strdup_printf (
      own > 0 ? _ ("%s %s too long") : _ ("%s %s too short"), name, amount);
}

char *
app_words_seam_state (const Pattern *pattern, const SewingSeam *facts,
                      gboolean *is_out)
{
  gboolean out = fabs (facts->out) > pattern->tolerance;
  gboolean uneven = !sewing_seam_allowances_match (pattern, facts);
  if (is_out != NULL)
    *is_out = out || uneven;
  if (out)
    return words_out (pattern, facts);
  if (fabs (facts->meant) > pattern->tolerance)
    {
      g_autofree char *amount = sewing_words_amount (pattern, facts->ease);
      return g_strdup_printf (uneven
                                  ? _ ("eased %s, as meant; allowances differ")
                                  : _ ("eased %s, as meant"),
                              amount);
    }
  return g_strdup (uneven ? _ ("lengths true, allowances differ") : _ ("true"));
}

/* --- ease ------------------------------------------------------------------------ */

/* How much longer a side may be than the other to be eased in without gathers, as a share
 * of the shorter. Estimates from common practice: 3 % in tightly woven cloth, 5 % in
 * ordinary, 8 % in loose wool; which one, by the give of the cloth. */
static double
ease_share (const Pattern *pattern, const PatternSide *longer)
{
  const PatternPiece *piece
      = longer->n_runs > 0 ? pattern_get_piece (pattern, longer->runs[0].piece)
                           : NULL;
  const PatternCloth *cloth = NULL;
  for (guint i = 0; piece != NULL && i < piece->n_cuts && cloth == NULL; i++)
    cloth = pattern_get_cloth (pattern, piece->cuts[i].cloth);
  if (cloth == NULL)
    return 0.05;
  return cloth->give < 0.03 ? 0.03 : cloth->give < 0.06 ? 0.05 : 0.08;
}

char *
app_words_too_much_ease (const Pattern *pattern, const SewingSeam *facts)
{
  double ease = facts->meant;
  double shorter = facts->lengths[ease > 0 ? 1 : 0];
  const PatternSide *longer = &facts->seam->sides[ease > 0 ? 0 : 1];
  double most = ease_share (pattern, longer);
  if (ease == 0 || shorter <= 0 || fabs (ease) <= most * shorter)
    return NULL;
  g_autofree char *name
      = app_words_side_piece (pattern, facts->seam, ease > 0 ? 0 : 1);
  g_autofree char *amount
      = pattern_length_format (most * shorter, pattern->unit, FALSE);
  return g_strdup_printf (
      _ ("More than the cloth of %s usually takes in without gathers: about "
         "%.0f %%, here %s. (An estimate from common practice: tightly woven "
         "3 %%, ordinary 5 %%, loose wool 8 %%.)"),
      name, 100 * most, amount);
}
