/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verbs on seams and cloths, but for pairing: pair.c. */
#include <glib/gi18n.h>
#include <math.h>

#include "drafting/edit-private.h"
#include "geometry/walk.h"
#include "sewing/words.h"

/* A notch this near to another on its edge is the same, mm. */
#define SAME_PLACE 0.05

static PatternSeam *
begin_seam (const Pattern *p, guint seam, GError **error)
{
  const PatternSeam *own = drafting_find_seam (p, seam, error);
  return own ? pattern_seam_dup (own) : NULL;
}

static Pattern *
finish_seam (const Pattern *p, PatternSeam *seam)
{
  Pattern *result = pattern_dup (p);
  pattern_put_seam (result, seam);
  return result;
}

Pattern *
drafting_extend_seam (const Pattern *p, guint seam, int side, PatternRun run,
                      GError **error)
{
  g_return_val_if_fail (side == 0 || side == 1, NULL);
  const PatternPiece *piece = drafting_find_piece (p, run.piece, error);
  if (!piece || drafting_find_edge (piece, run.edge, error) < 0)
    return NULL;
  g_autoptr (PatternSeam) copy = begin_seam (p, seam, error);
  if (!copy)
    return NULL;
  for (int s = 0; s < 2; s++)
    for (guint r = 0; r < copy->sides[s].n_runs; r++)
      if (copy->sides[s].runs[r].piece == run.piece
          && copy->sides[s].runs[r].edge == run.edge)
        {
          g_autofree char *name = sewing_words_edge_of (p, run.piece, run.edge);
          drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                           _ ("%s is in this seam already."), name);
          return NULL;
        }
  pattern_seam_add_run (copy, side, run);
  return finish_seam (p, g_steal_pointer (&copy));
}

Pattern *
drafting_turn_seam (const Pattern *p, guint seam, int side, GError **error)
{
  g_return_val_if_fail (side == 0 || side == 1, NULL);
  PatternSeam *copy = begin_seam (p, seam, error);
  if (!copy)
    return NULL;
  PatternSide *own = &copy->sides[side];
  for (guint i = 0, j = own->n_runs; i < j--; i++)
    {
      PatternRun run = own->runs[i];
      own->runs[i] = own->runs[j];
      own->runs[j] = run;
    }
  for (guint i = 0; i < own->n_runs; i++)
    own->runs[i].reversed = !own->runs[i].reversed;
  return finish_seam (p, copy);
}

Pattern *
drafting_remove_seam (const Pattern *p, guint seam, GError **error)
{
  if (!drafting_find_seam (p, seam, error))
    return NULL;
  Pattern *result = pattern_dup (p);
  pattern_remove_seam (result, seam);
  return result;
}

Pattern *
drafting_set_seam (const Pattern *p, guint seam, const char *name, double ease,
                   PatternPress press, PatternJoin join, GError **error)
{
  g_return_val_if_fail ((guint)press <= PATTERN_PRESS_TURNED
                            && (guint)join <= PATTERN_JOIN_DART,
                        NULL);
  if (!drafting_number_is_good (ease, error))
    return NULL;
  PatternSeam *copy = begin_seam (p, seam, error);
  if (!copy)
    return NULL;
  pattern_set_string (&copy->name, name ? name : "");
  copy->ease = ease;
  copy->press = press;
  copy->join = join;
  return finish_seam (p, copy);
}

/* Of either side, matched with one of the other; 0, an end of the seam, is always
 * one. */
static gboolean
is_mark (const SewingSeam *facts, guint notch)
{
  gboolean is = notch == 0;
  for (guint i = 0; i < facts->n_intervals; i++)
    is = is || facts->intervals[i].a_notch == notch
         || facts->intervals[i].b_notch == notch;
  return is;
}

static gboolean
span_is_good (const Pattern *p, const PatternSeam *seam,
              const PatternEaseSpan *span, GError **error)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *known = sewing_facts_seam (facts, p, seam);
  if (!drafting_number_is_good (span->amount, error))
    return FALSE;
  if (!known || !is_mark (known, span->from) || !is_mark (known, span->to))
    return drafting_refuse (
        error, DRAFTING_ERROR_GONE,
        _ ("Ease can be meant between notches that face each other across the "
           "seam: one of these has no partner there."));
  if (span->from == span->to && span->from != 0)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("Ease needs two different marks to lie "
                               "between."));
  return TRUE;
}

Pattern *
drafting_set_ease_span (const Pattern *p, guint seam, PatternEaseSpan span,
                        GError **error)
{
  PatternSeam *copy = begin_seam (p, seam, error);
  if (!copy)
    return NULL;
  if (!span_is_good (p, copy, &span, error))
    {
      pattern_seam_unref (copy);
      return NULL;
    }
  pattern_seam_put_span (copy, span);
  return finish_seam (p, copy);
}

Pattern *
drafting_remove_ease_span (const Pattern *p, guint seam, guint from, guint to,
                           GError **error)
{
  PatternSeam *copy = begin_seam (p, seam, error);
  if (!copy)
    return NULL;
  if (!pattern_seam_remove_span (copy, from, to))
    {
      pattern_seam_unref (copy);
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("No ease is meant between those two marks any "
                          "more."));
      return NULL;
    }
  return finish_seam (p, copy);
}

Pattern *
drafting_set_seam_allowance (const Pattern *p, guint seam, double allowance,
                             GError **error)
{
  const PatternSeam *own = drafting_find_seam (p, seam, error);
  if (!own)
    return NULL;
  g_autoptr (Pattern) result = pattern_dup (p);
  for (int side = 0; side < 2; side++)
    for (guint i = 0; i < own->sides[side].n_runs; i++)
      {
        const PatternRun *run = &own->sides[side].runs[i];
        const PatternEdge *edge
            = pattern_get_edge (result, run->piece, run->edge, NULL);
        if (!edge
            || (edge->kind != PATTERN_EDGE_SEAM
                && edge->kind != PATTERN_EDGE_HEM))
          continue;
        Pattern *more = drafting_set_allowance (result, run->piece, run->edge,
                                                allowance, error);
        if (!more)
          return NULL;
        pattern_unref (result);
        result = more;
      }
  return g_steal_pointer (&result);
}

/* --- striking a notch across ------------------------------------------------------- */
typedef struct
{
  const SewingSeam *facts;
  const PatternPiece *piece;
  const PatternNotch *notch;
  int side;  /* the notch's */
  guint run; /* its place there */
} Strike;

/* FALSE where the notch's edge is not in the seam. */
static gboolean
find_run (Strike *strike)
{
  const PatternSeam *seam = strike->facts->seam;
  for (strike->side = 0; strike->side < 2; strike->side++)
    for (strike->run = 0; strike->run < seam->sides[strike->side].n_runs;
         strike->run++)
      {
        const PatternRun *run = &seam->sides[strike->side].runs[strike->run];
        if (run->piece == strike->piece->id && run->edge == strike->notch->edge)
          return TRUE;
      }
  return FALSE;
}

/* Length along the other side that is walked when the notch is passed. */
static double
walked_place (const Strike *strike)
{
  const SewingSeam *facts = strike->facts;
  const double *joints = facts->joints[strike->side];
  double length = joints[strike->run + 1] - joints[strike->run];
  double at = pattern_notch_place (strike->notch, length);
  if (facts->seam->sides[strike->side].runs[strike->run].reversed)
    at = length - at;
  guint n = facts->n_intervals + 1;
  g_autofree double *a = g_new0 (double, n), *b = g_new0 (double, n);
  for (guint i = 0; i < facts->n_intervals; i++)
    {
      a[i + 1] = facts->intervals[i].a_to;
      b[i + 1] = facts->intervals[i].b_to;
    }
  return strike->side == 0 ? geo_walk_map (a, b, n, joints[strike->run] + at)
                           : geo_walk_map (b, a, n, joints[strike->run] + at);
}

/* The notch on the run it falls on, measured from the same end of the seam. */
static PatternNotch
struck_notch (const Strike *strike, double walked, const PatternRun **on)
{
  int other = 1 - strike->side;
  const PatternSide *runs = &strike->facts->seam->sides[other];
  const double *joints = strike->facts->joints[other];
  guint r = 0;
  while (r + 1 < runs->n_runs && walked > joints[r + 1])
    r++;
  double length = joints[r + 1] - joints[r];
  double at = CLAMP (walked - joints[r], 0, length);
  if (runs->runs[r].reversed)
    at = length - at;
  *on = &runs->runs[r];
  PatternNotch notch = *strike->notch;
  notch.edge = runs->runs[r].edge;
  const PatternRun *own
      = &strike->facts->seam->sides[strike->side].runs[strike->run];
  if (notch.from == PATTERN_FRACTION)
    notch.amount = length > 0 ? at / length : 0;
  else
    {
      gboolean walk_start = (notch.from == PATTERN_FROM_START) != own->reversed;
      notch.from = walk_start != runs->runs[r].reversed ? PATTERN_FROM_START
                                                        : PATTERN_FROM_END;
      notch.amount = notch.from == PATTERN_FROM_START ? at : length - at;
    }
  return notch;
}

static gboolean
is_there (const PatternPiece *piece, const PatternNotch *notch)
{
  int index = pattern_piece_find_edge (piece, notch->edge);
  double length = drafting_edge_length (piece, (guint)index);
  double at = pattern_notch_place (notch, length);
  for (guint i = 0; i < piece->n_notches; i++)
    if (piece->notches[i].edge == notch->edge
        && fabs (pattern_notch_place (&piece->notches[i], length) - at)
               < SAME_PLACE)
      return TRUE;
  return FALSE;
}

static Pattern *
strike_across (const Pattern *p, const Strike *strike, GError **error)
{
  const PatternRun *on;
  PatternNotch notch = struck_notch (strike, walked_place (strike), &on);
  g_autoptr (PatternPiece) copy = drafting_begin (p, on->piece, error);
  if (!copy || !drafting_number_is_good (notch.amount, error))
    return NULL;
  if (is_there (copy, &notch))
    {
      g_autofree char *name = sewing_words_edge_of (p, on->piece, on->edge);
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("There is a notch at that place on %s already."),
                       name);
      return NULL;
    }
  notch.id = p->next_id;
  guint next = notch.id + 1;
  pattern_piece_add_notch (copy, notch);
  return drafting_finish_marks (p, g_steal_pointer (&copy), &next);
}

Pattern *
drafting_strike_notch (const Pattern *p, guint seam, guint piece, guint notch,
                       GError **error)
{
  const PatternSeam *own = drafting_find_seam (p, seam, error);
  Strike strike = { 0 };
  strike.piece = own ? drafting_find_piece (p, piece, error) : NULL;
  if (!strike.piece)
    return NULL;
  strike.notch = pattern_piece_get_notch (strike.piece, notch);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  strike.facts = sewing_facts_seam (facts, p, own);
  if (!strike.notch || !strike.facts || !find_run (&strike))
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       strike.notch
                           ? _ ("That notch's edge is not in the seam, so "
                                "there is no other side to strike it on.")
                           : _ ("That notch is no longer there: it was "
                                "deleted, or its making was undone."));
      return NULL;
    }
  return strike_across (p, &strike, error);
}

/* --- cloths ------------------------------------------------------------------------ */
static gboolean
cloth_is_good (const PatternCloth *cloth, GError **error)
{
  const double figures[]
      = { cloth->width, cloth->thickness, cloth->give, cloth->weight };
  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      if (!drafting_number_is_good (figures[i], error))
        return FALSE;
      if (figures[i] < 0)
        return drafting_refuse (
            error, DRAFTING_ERROR_AMOUNT,
            _ ("A cloth's width, thickness, give and weight can't be less "
               "than nothing. Nothing was changed."));
    }
  g_return_val_if_fail (
      cloth->tint <= 7 && (guint)cloth->use <= PATTERN_OTHER_CLOTH, FALSE);
  return TRUE;
}

Pattern *
drafting_put_cloth (const Pattern *p, const PatternCloth *cloth,
                    guint *new_cloth, GError **error)
{
  g_return_val_if_fail (p != NULL && cloth != NULL, NULL);
  if (!cloth_is_good (cloth, error))
    return NULL;
  PatternCloth own = *cloth;
  if (own.id != 0 && !pattern_get_cloth (p, own.id))
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("That cloth is no longer in the pattern."));
      return NULL;
    }
  Pattern *result = pattern_dup (p);
  if (own.id == 0)
    own.id = pattern_take_id (result);
  pattern_put_cloth (result, &own);
  if (new_cloth)
    *new_cloth = own.id;
  return result;
}

Pattern *
drafting_remove_cloth (const Pattern *p, guint cloth, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  if (!pattern_get_cloth (p, cloth))
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("That cloth is no longer in the pattern."));
      return NULL;
    }
  for (guint i = 0; i < p->n_pieces; i++)
    for (guint k = 0; k < p->pieces[i]->n_cuts; k++)
      if (p->pieces[i]->cuts[k].cloth == cloth)
        {
          g_autofree char *name = sewing_words_piece (p->pieces[i]);
          drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                           _ ("Pieces are still cut from this cloth (%s is). "
                              "Cut them from another first."),
                           name);
          return NULL;
        }
  Pattern *result = pattern_dup (p);
  pattern_remove_cloth (result, cloth);
  return result;
}
