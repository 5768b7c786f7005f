/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a walk stops, and notches struck at the pin. */
#include <glib/gi18n.h>

#include "app/walk-private.h"

/* Nearer to a side's end than this, mm, there is no room for a notch. */
#define END_ROOM 1.0

GeoPoint
app_walk_place (const AppWalk *walk, int side, double at)
{
  const SewingWalk *w = walk->walk;
  guint r = 0;
  while (r + 1 < w->n_runs[side] && at > w->runs[side][r].to)
    r++;
  const SewingWalkRun *run = &w->runs[side][r];
  const GeoRuler *ruler = &run->piece->rulers[run->edge];
  double own = CLAMP (at - run->from, 0, run->to - run->from);
  GeoPlace place = geo_ruler_place (
      ruler, run->reversed ? run->to - run->from - own : own);
  return geo_motion_apply (sewing_walk_motion (w, &walk->step, side, r),
                           geo_chain_point (ruler->chain, place));
}

static void
add_mark (const AppWalk *walk, GArray *marks, AppWalkMark mark)
{
  mark.walked = mark.side < 0 ? mark.at
                              : sewing_walk_to (walk->walk, mark.side, mark.at);
  if (mark.side >= 0)
    {
      mark.place = app_walk_place (walk, mark.side, mark.at);
      mark.reached = sewing_walk_has_reached (&walk->step, mark.side, mark.at);
    }
  g_array_append_val (marks, mark);
}

static void
add_run (const AppWalk *walk, GArray *marks, int side, guint r)
{
  const SewingWalkRun *run = &walk->walk->runs[side][r];
  const PatternPiece *piece = run->piece->piece;
  double length = run->to - run->from;
  for (guint i = 0; i < piece->n_notches; i++)
    {
      const PatternNotch *notch = &piece->notches[i];
      if (notch->edge != piece->edges[run->edge].id)
        continue;
      double own = pattern_notch_place (notch, length);
      double at = run->reversed ? run->to - own : run->from + own;
      add_mark (walk, marks,
                (AppWalkMark){ .side = side,
                               .at = at,
                               .piece = piece->id,
                               .notch = notch->id,
                               .strokes = notch->count });
    }
  if (r > 0)
    add_mark (
        walk, marks,
        (AppWalkMark){ .side = side, .at = run->from, .piece = piece->id });
}

static int
compare (gconstpointer a, gconstpointer b)
{
  const AppWalkMark *x = a, *y = b;
  return x->walked < y->walked ? -1 : x->walked > y->walked;
}

GArray *
app_walk_marks (const AppWalk *walk)
{
  g_return_val_if_fail (walk != NULL, NULL);
  GArray *marks = g_array_new (FALSE, TRUE, sizeof (AppWalkMark));
  add_mark (walk, marks, (AppWalkMark){ .side = -1, .at = 0 });
  add_mark (walk, marks, (AppWalkMark){ .side = -1, .at = walk->walk->whole });
  for (int side = 0; side < 2; side++)
    for (guint r = 0; r < walk->walk->n_runs[side]; r++)
      add_run (walk, marks, side, r);
  g_array_sort (marks, compare);
  return marks;
}

/* --- striking -------------------------------------------------------------------- */

const PatternNotch *
app_walk_notch_here (const AppWalk *walk, int side, guint *piece, double *at)
{
  g_autoptr (GArray) marks = app_walk_marks (walk);
  const PatternNotch *best = NULL;
  double least = APP_WALK_AT;
  const Pattern *p = app_session_get_shown (walk->session);
  for (guint i = 0; i < marks->len; i++)
    {
      const AppWalkMark *mark = &g_array_index (marks, AppWalkMark, i);
      double off = fabs (mark->at - walk->step.along[side]);
      if (mark->side != side || mark->notch == 0 || off > least)
        continue;
      least = off;
      best = pattern_piece_get_notch (pattern_get_piece (p, mark->piece),
                                      mark->notch);
      *piece = mark->piece;
      *at = mark->at;
    }
  return best;
}

/* The far end of the side has been come to, or its start not left. */
static gboolean
is_at_end (const AppWalk *walk, int side)
{
  double at = walk->step.along[side];
  return at < END_ROOM || at > walk->walk->seam->lengths[side] - END_ROOM;
}

AppStrike
app_walk_can_strike (const AppWalk *walk)
{
  g_return_val_if_fail (walk != NULL, APP_STRIKE_NONE);
  guint piece;
  double at;
  gboolean a = app_walk_notch_here (walk, 0, &piece, &at) != NULL;
  gboolean b = app_walk_notch_here (walk, 1, &piece, &at) != NULL;
  if (a && b)
    return APP_STRIKE_NONE;
  if ((!a && is_at_end (walk, 0)) || (!b && is_at_end (walk, 1)))
    return APP_STRIKE_NONE;
  return a ? APP_STRIKE_ON_B : b ? APP_STRIKE_ON_A : APP_STRIKE_BOTH;
}

/* The place of the other side that touches a place of this one. */
static double
touching (const AppWalk *walk, int side, double at)
{
  return walk->by == SEWING_WALK_PAPER
             ? at
             : sewing_seam_facing (walk->walk->seam, side, at);
}

static Pattern *
strike_across (const AppWalk *walk, int from, GError **error)
{
  guint piece = 0;
  double at = 0;
  const PatternNotch *notch = app_walk_notch_here (walk, from, &piece, &at);
  const Pattern *p = app_session_get_pattern (walk->session);
  return drafting_strike_on_side (p, walk->seam, 1 - from,
                                  touching (walk, from, at), notch->count, NULL,
                                  error);
}

static Pattern *
strike_both (const AppWalk *walk, GError **error)
{
  const Pattern *p = app_session_get_pattern (walk->session);
  g_autoptr (Pattern) first = drafting_strike_on_side (
      p, walk->seam, 0, walk->step.along[0], 1, NULL, error);
  return first == NULL
             ? NULL
             : drafting_strike_on_side (first, walk->seam, 1,
                                        walk->step.along[1], 1, NULL, error);
}

gboolean
app_walk_strike (AppWalk *walk)
{
  g_return_val_if_fail (walk != NULL, FALSE);
  AppSession *s = walk->session;
  g_autoptr (GError) error = NULL;
  Pattern *result = NULL;
  walk->way = 0;
  switch (app_walk_can_strike (walk))
    {
    case APP_STRIKE_ON_A:
      result = strike_across (walk, 1, &error);
      break;
    case APP_STRIKE_ON_B:
      result = strike_across (walk, 0, &error);
      break;
    case APP_STRIKE_BOTH:
      result = strike_both (walk, &error);
      break;
    case APP_STRIKE_NONE:
    default:
      g_signal_emit_by_name (
          s, "problem",
          is_at_end (walk, 0) || is_at_end (walk, 1)
              ? _ ("At the end of a side there is no notch to strike: ends are "
                   "matched anyhow.")
              : _ ("Both sides have a notch here already."));
      return FALSE;
    }
  /* The walk follows the new pattern by "shown-changed". */
  return app_session_do (s, _ ("strike a notch"), NULL, result, &error);
}
