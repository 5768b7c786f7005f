/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a walk says. */
#include <glib/gi18n.h>

#include "app/walk-private.h"
#include "app/words.h"
#include "sewing/checks.h"
#include "sewing/words.h"

/* A corner within this of straight runs on: nobody sews finer. */
#define TRUE_DEG 1.0

char *
app_walk_side_name (const AppWalk *walk, int side)
{
  return app_words_side_piece (app_session_get_shown (walk->session),
                               walk->walk->seam->seam, side);
}

static void add_line (GString *text, const char *format, ...)
    G_GNUC_PRINTF (2, 3);

static void
add_line (GString *text, const char *format, ...)
{
  va_list args;
  if (text->len > 0)
    g_string_append_c (text, '\n');
  va_start (args, format);
  g_string_append_vprintf (text, format, args);
  va_end (args);
}

char *
app_walk_words_place (const AppWalk *walk)
{
  PatternUnit unit = app_session_get_shown (walk->session)->unit;
  g_autofree char *at = pattern_length_format_bare (walk->walked, unit);
  g_autofree char *whole
      = pattern_length_format (walk->walk->whole, unit, FALSE);
  return g_strdup_printf (_ ("%s of %s"), at, whole);
}

char *
app_walk_words_sides (const AppWalk *walk)
{
  g_autofree char *moving = app_walk_side_name (walk, 1 - walk->fixed);
  g_autofree char *still = app_walk_side_name (walk, walk->fixed);
  return g_strdup_printf (_ ("Rolling %s along %s"), moving, still);
}

/* Which side has been longer so far. */
static void
add_difference (GString *text, const AppWalk *walk)
{
  const Pattern *p = app_session_get_shown (walk->session);
  double difference = walk->step.difference;
  if (walk->by == SEWING_WALK_PAPER)
    {
      /* One to one the sides are as long as each other until the shorter one ends. What the marks
       * say so far stands at the mark last passed. */
      const SewingInterval *in
          = &walk->walk->seam->intervals[walk->step.interval];
      difference = in->a_from - in->b_from;
      if (walk->walked == walk->walk->whole)
        difference = walk->walk->seam->ease;
    }
  if (fabs (difference) < 0.05)
    {
      add_line (text, _ ("difference so far  none"));
      return;
    }
  g_autofree char *name = app_walk_side_name (walk, difference > 0 ? 0 : 1);
  g_autofree char *amount = sewing_words_amount (p, difference);
  add_line (text, _ ("%s longer so far  %s"), name, amount);
}

/* The end of the walk the pin is at, 0 the start and 1 the end; -1 between. */
static int
end_here (const AppWalk *walk)
{
  return walk->walked <= 0 ? 0 : walk->walked >= walk->walk->whole ? 1 : -1;
}

static void
add_corner (GString *text, const AppWalk *walk, int end)
{
  const Pattern *p = app_session_get_shown (walk->session);
  SewingWalkCorner corner;
  sewing_walk_corner_init (&corner);
  if (sewing_walk_corner (walk->walk, app_session_get_facts (walk->session), p,
                          end, &corner))
    {
      double deg = corner.joint.angle * 180 / G_PI;
      add_line (text, _ ("corner, sewn  %.1f°"), deg);
      if (!corner.joint.runs_on)
        ;
      else if (fabs (deg - 180) <= TRUE_DEG)
        add_line (text, _ ("the edge runs on  true"));
      else
        add_line (text,
                  deg < 180 ? _ ("the edge has a point of  %.1f°")
                            : _ ("the edge has a dip of  %.1f°"),
                  fabs (deg - 180));
      /* Laid end to end, what one side is longer is the step between them. */
      double left = walk->walk->seam->out;
      if (end == 1 && fabs (left) > p->tolerance)
        {
          g_autofree char *step = sewing_words_amount (p, left);
          add_line (text, _ ("step there  %s"), step);
        }
    }
  sewing_walk_corner_clear (&corner);
}

static void
add_notches (GString *text, const AppWalk *walk)
{
  guint piece;
  double at;
  const PatternNotch *here[2];
  for (int side = 0; side < 2; side++)
    here[side] = app_walk_notch_here (walk, side, &piece, &at);
  if (here[0] != NULL && here[1] != NULL)
    add_line (text, _ ("notches meet"));
  for (int side = 0; side < 2; side++)
    if (here[side] != NULL && here[1 - side] == NULL)
      {
        g_autofree char *name = app_walk_side_name (walk, side);
        add_line (text, _ ("notch on %s alone"), name);
      }
}

char *
app_walk_tag (AppWalk *walk)
{
  g_return_val_if_fail (walk != NULL, NULL);
  GString *text = g_string_new (NULL);
  g_autofree char *place = app_walk_words_place (walk);
  int end = end_here (walk);
  add_line (text, _ ("walked  %s"), place);
  add_difference (text, walk);
  if (end >= 0)
    add_corner (text, walk, end);
  else
    add_notches (text, walk);
  return g_string_free (text, FALSE);
}

char *
app_walk_words_strike (const AppWalk *walk)
{
  AppStrike strike = app_walk_can_strike (walk);
  if (strike == APP_STRIKE_BOTH)
    return g_strdup (_ ("Strike a notch on both"));
  if (strike == APP_STRIKE_NONE)
    return g_strdup (_ ("Strike a notch"));
  g_autofree char *name
      = app_walk_side_name (walk, strike == APP_STRIKE_ON_A ? 0 : 1);
  return g_strdup_printf (_ ("Strike it on %s"), name);
}

char *
app_walk_words_strike_short (const AppWalk *walk)
{
  AppStrike strike = app_walk_can_strike (walk);
  if (strike == APP_STRIKE_BOTH)
    return g_strdup (_ ("Strike on both"));
  if (strike == APP_STRIKE_NONE)
    return g_strdup (_ ("Strike a notch"));
  g_autofree char *name
      = app_walk_side_name (walk, strike == APP_STRIKE_ON_A ? 0 : 1);
  return g_strdup_printf (_ ("Strike on %s"), name);
}

const char *
app_walk_hint (const AppWalk *walk)
{
  (void)walk;
  return _ ("Space runs and stops · ← → to the next notch · N strikes one · "
            "Esc leaves");
}
