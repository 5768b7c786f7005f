/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/walk.h"

#include <glib/gi18n.h>

#include "app/draft.h"
#include "app/session-private.h"
#include "app/walk-private.h"
#include "geometry/nearest.h"

/* A walk by itself takes about so long, s, but goes no slower and no faster than these, mm a
 * second. */
#define RUN_SECONDS 8.0
#define SLOWEST 25.0
#define FASTEST 160.0
#define GLIDE_SECONDS 0.2
/* Closer marks are one stop. */
#define SAME_STOP 0.05

/* --- beginning and ending ------------------------------------------------------ */

static void
walk_free (AppWalk *walk)
{
  for (guint i = 0; i < G_N_ELEMENTS (walk->handlers); i++)
    /* A session on its way out has let go of them. */
    if (walk->handlers[i] != 0
        && g_signal_handler_is_connected (walk->session, walk->handlers[i]))
      g_signal_handler_disconnect (walk->session, walk->handlers[i]);
  sewing_walk_free (walk->walk);
  g_free (walk);
}

void
app_session_drop_walk (AppSession *s)
{
  if (s->walk == NULL)
    return;
  walk_free (s->walk);
  s->walk = NULL;
}

static void
walk_changed (AppWalk *walk)
{
  AppSession *s = walk->session;
  sewing_walk_step (walk->walk, walk->walked, &walk->step);
  walk->walked = walk->step.walked;
  app_session_set_strip_at (s, walk->step.along[0]);
  g_signal_emit_by_name (s, "walk-changed");
}

/* For the pattern that is shown now. FALSE where it can't be walked. */
static gboolean
make_walk (AppWalk *walk)
{
  const Pattern *p = app_session_get_shown (walk->session);
  const PatternSeam *seam = pattern_get_seam (p, walk->seam);
  g_clear_pointer (&walk->walk, sewing_walk_free);
  if (seam != NULL)
    walk->walk = sewing_walk_new (app_session_get_facts (walk->session), p,
                                  seam, walk->fixed, walk->by);
  return walk->walk != NULL;
}

void
app_walk_end (AppSession *session)
{
  g_return_if_fail (APP_IS_SESSION (session));
  if (session->walk == NULL)
    return;
  app_session_drop_walk (session);
  app_session_set_strip_at (session, -1);
  g_signal_emit_by_name (session, "walk-changed");
}

/* Before anybody looks at it: what the walk was made from is gone. */
void
app_session_follow_walk (AppSession *s)
{
  AppWalk *walk = s->walk;
  if (walk == NULL)
    return;
  if (!make_walk (walk))
    {
      app_session_drop_walk (s);
      return;
    }
  sewing_walk_step (walk->walk, walk->walked, &walk->step);
  walk->walked = walk->step.walked;
  walk->target = CLAMP (walk->target, 0, walk->walk->whole);
}

static void
on_shown_changed (AppSession *session)
{
  walk_changed (session->walk);
}

static void
on_pick_changed (AppSession *session)
{
  AppWalk *walk = session->walk;
  if (app_session_get_strip_seam (session) != walk->seam)
    app_walk_end (session);
  else /* picking forgets what is pointed at */
    app_session_set_strip_at (session, walk->step.along[0]);
}

gboolean
app_walk_begin (AppSession *session, guint seam)
{
  g_return_val_if_fail (APP_IS_SESSION (session), FALSE);
  const PatternSeam *own
      = pattern_get_seam (app_session_get_shown (session), seam);
  g_return_val_if_fail (own != NULL, FALSE);
  app_draft_end (session);
  app_session_cancel (session);
  app_walk_end (session);
  AppWalk *walk = g_new0 (AppWalk, 1);
  walk->session = session;
  walk->seam = seam;
  walk->fixed = own->sides[0].n_runs < own->sides[1].n_runs ? 1 : 0;
  walk->by = SEWING_WALK_MATCHED;
  if (!make_walk (walk))
    {
      walk_free (walk);
      g_signal_emit_by_name (session, "problem",
                             _ ("One side of this seam has no edge yet, or one "
                                "without length: there is nothing to walk."));
      return FALSE;
    }
  const AppPick *pick = app_session_get_pick (session);
  if (pick->kind != APP_PICK_SEAM || pick->ids[0] != seam)
    app_session_pick_seam (session, seam);
  session->walk = walk;
  walk->handlers[0] = g_signal_connect (session, "shown-changed",
                                        G_CALLBACK (on_shown_changed), NULL);
  walk->handlers[1] = g_signal_connect (session, "pick-changed",
                                        G_CALLBACK (on_pick_changed), NULL);
  walk_changed (walk);
  return TRUE;
}

gboolean
app_walk_begin_picked (AppSession *session)
{
  guint seam = app_session_get_strip_seam (session);
  if (seam != 0)
    return app_walk_begin (session, seam);
  g_signal_emit_by_name (session, "problem",
                         _ ("To walk a seam, first pick it, or an edge that is "
                            "sewn."));
  return FALSE;
}

AppWalk *
app_walk_get (AppSession *session)
{
  return session->walk;
}

guint
app_walk_get_seam (const AppWalk *walk)
{
  return walk->seam;
}

const SewingWalk *
app_walk_get_walk (const AppWalk *walk)
{
  return walk->walk;
}

const SewingWalkStep *
app_walk_get_step (const AppWalk *walk)
{
  return &walk->step;
}

double
app_walk_get_whole (const AppWalk *walk)
{
  return walk->walk->whole;
}

/* --- moving ----------------------------------------------------------------------- */

static double
snapped (AppWalk *walk, double walked, double snap)
{
  g_autoptr (GArray) marks = app_walk_marks (walk);
  double best = walked, least = snap;
  for (guint i = 0; snap > 0 && i < marks->len; i++)
    {
      double at = g_array_index (marks, AppWalkMark, i).walked;
      if (fabs (at - walked) <= least)
        {
          least = fabs (at - walked);
          best = at;
        }
    }
  return best;
}

static void
put (AppWalk *walk, double walked)
{
  if (walked == walk->walked)
    return;
  walk->walked = walked;
  walk_changed (walk);
}

void
app_walk_go (AppWalk *walk, double walked, double snap)
{
  g_return_if_fail (walk != NULL && isfinite (walked));
  gboolean ran = walk->way != 0;
  walk->way = 0;
  double to = snapped (walk, CLAMP (walked, 0, walk->walk->whole), snap);
  if (ran && to == walk->walked)
    walk_changed (walk); /* it stands now */
  else
    put (walk, to);
}

void
app_walk_go_near (AppWalk *walk, GeoPoint at, double snap)
{
  g_return_if_fail (walk != NULL);
  int fixed = walk->fixed;
  double least = INFINITY, along = walk->step.along[fixed];
  for (guint r = 0; r < walk->walk->n_runs[fixed]; r++)
    {
      const SewingWalkRun *run = &walk->walk->runs[fixed][r];
      const GeoRuler *ruler = &run->piece->rulers[run->edge];
      GeoPoint own = geo_motion_apply (geo_motion_inverse (run->lay), at);
      GeoPlace place = { 0, 0 };
      double distance = geo_chain_nearest (ruler->chain, own, &place);
      if (!(distance < least))
        continue;
      least = distance;
      double from_start = geo_ruler_length_to (ruler, place);
      along = run->reversed ? run->to - from_start : run->from + from_start;
    }
  app_walk_go (walk, sewing_walk_to (walk->walk, fixed, along), snap);
}

/* The next stop that way; where there is none, where it is. */
static double
next_stop (AppWalk *walk, int by)
{
  g_autoptr (GArray) marks = app_walk_marks (walk);
  double best = walk->walked;
  for (guint i = 0; i < marks->len; i++)
    {
      guint k = by > 0 ? i : marks->len - 1 - i;
      double at = g_array_index (marks, AppWalkMark, k).walked;
      if ((at - walk->walked) * by > SAME_STOP)
        return at;
    }
  return best;
}

static void
move_to (AppWalk *walk, double target, double speed)
{
  walk->way = target > walk->walked ? 1 : target < walk->walked ? -1 : 0;
  walk->target = target;
  walk->speed = speed;
  if (walk->still)
    {
      walk->way = 0;
      put (walk, target);
    }
  else
    walk_changed (walk);
}

gboolean
app_walk_to_mark (AppWalk *walk, int by)
{
  g_return_val_if_fail (walk != NULL && (by == 1 || by == -1), FALSE);
  /* A key pressed again on the way goes on from where it was going. */
  if (walk->way == by)
    put (walk, walk->target);
  double target = next_stop (walk, by);
  if (target == walk->walked)
    {
      app_walk_stop (walk);
      return FALSE;
    }
  move_to (walk, target, fabs (target - walk->walked) / GLIDE_SECONDS);
  return TRUE;
}

void
app_walk_run (AppWalk *walk, int way)
{
  g_return_if_fail (walk != NULL && (way == 1 || way == -1));
  double whole = walk->walk->whole;
  double end = way > 0 ? whole : 0;
  if (walk->walked == end)
    put (walk, whole - end);
  else if (walk->still)
    {
      app_walk_to_mark (walk, way);
      return;
    }
  if (!walk->still)
    move_to (walk, end, CLAMP (whole / RUN_SECONDS, SLOWEST, FASTEST));
}

void
app_walk_stop (AppWalk *walk)
{
  g_return_if_fail (walk != NULL);
  if (walk->way == 0)
    return;
  walk->way = 0;
  walk_changed (walk);
}

int
app_walk_get_way (const AppWalk *walk)
{
  return walk->way;
}

gboolean
app_walk_tick (AppWalk *walk, double seconds)
{
  g_return_val_if_fail (walk != NULL, FALSE);
  if (walk->way == 0 || !(seconds > 0))
    return walk->way != 0;
  double to = walk->walked + walk->way * walk->speed * seconds;
  if ((to - walk->target) * walk->way >= 0)
    {
      to = walk->target;
      walk->way = 0;
    }
  walk->walked = to;
  walk_changed (walk);
  return walk->way != 0;
}

void
app_walk_set_still (AppWalk *walk, gboolean still)
{
  walk->still = still;
}

/* --- how it is walked ----------------------------------------------------------------- */

/* The pin keeps its place on side A. */
static void
walk_anew (AppWalk *walk)
{
  double at = walk->step.along[0];
  walk->way = 0;
  if (!make_walk (walk))
    {
      app_walk_end (walk->session);
      return;
    }
  walk->walked = sewing_walk_to (walk->walk, 0, at);
  walk_changed (walk);
}

void
app_walk_set_by (AppWalk *walk, SewingWalkBy by)
{
  g_return_if_fail (walk != NULL && (guint)by <= SEWING_WALK_PAPER);
  if (walk->by == by)
    return;
  walk->by = by;
  walk_anew (walk);
}

void
app_walk_set_fixed (AppWalk *walk, int side)
{
  g_return_if_fail (walk != NULL && (side == 0 || side == 1));
  if (walk->fixed == side)
    return;
  walk->fixed = side;
  walk_anew (walk);
}
