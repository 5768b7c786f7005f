/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A change carried over to a seam's other side. */
#include <glib/gi18n.h>

#include "drafting/shift-private.h"
#include "sewing/walk.h"
#include "sewing/words.h"

#define TOUCH 1.0 /* mm: less of an edge does not count */

typedef struct
{
  const SewingSeam *seam;
  int side;
  double from, to; /* the run, along its side */
  gboolean reversed;
} Facing;

/* The place across from one told by the length from the edge's start; beyond the edge it goes on
 * one to one. */
static double
across (const Facing *f, double local)
{
  double length = f->to - f->from;
  double inside = CLAMP (local, 0, length);
  double on_side = f->reversed ? f->to - inside : f->from + inside;
  double beyond = local - inside;
  return sewing_seam_facing (f->seam, f->side, on_side)
         + (f->reversed ? -beyond : beyond);
}

static double
width_at (const DraftingShifted *shift, double at)
{
  GeoProfile profile = { shift->knots, shift->n, GEO_PROFILE_EASED };
  return geo_profile_at (&profile, at, NULL);
}

/* Knots told along the other side, as an edge of that side has them. */
static DraftingShifted
carried (const DraftingShifted *shift, const Facing *f, const PatternRun *run,
         double from, double to)
{
  DraftingShifted one
      = { .piece = run->piece, .edge = run->edge, .n = shift->n };
  for (guint k = 0; k < shift->n; k++)
    {
      double at = across (f, shift->knots[k].at);
      one.knots[k] = (GeoProfileKnot){ run->reversed ? to - at : at - from,
                                       shift->knots[k].d };
    }
  if (one.n > 1 && one.knots[0].at > one.knots[one.n - 1].at)
    {
      GeoProfileKnot first = one.knots[0];
      one.knots[0] = one.knots[one.n - 1];
      one.knots[one.n - 1] = first;
    }
  return one;
}

static gboolean
has (const GArray *edges, guint piece, guint edge)
{
  for (guint i = 0; i < edges->len; i++)
    {
      const DraftingShifted *one = &g_array_index (edges, DraftingShifted, i);
      if (one->piece == piece && one->edge == edge)
        return TRUE;
    }
  return FALSE;
}

static gboolean
partly (const Pattern *p, guint piece, guint edge, GError **error)
{
  g_autofree char *name = sewing_words_edge_of (p, piece, edge);
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("Only a part of %s is sewn to what is shifted, "
                             "and the amount does not ease to nothing there. "
                             "Shift all edges of the seam's side together. "
                             "Nothing was changed."),
                          name);
}

/* Adds what faces one edge in one seam. */
static gboolean
add_facing (const Pattern *p, GArray *edges, const DraftingShifted *shift,
            const Facing *f, GError **error)
{
  const PatternSide *other = &f->seam->seam->sides[1 - f->side];
  const double *joints = f->seam->joints[1 - f->side];
  double a = sewing_seam_facing (f->seam, f->side, f->from);
  double b = sewing_seam_facing (f->seam, f->side, f->to);
  double low = MIN (a, b), high = MAX (a, b);
  for (guint r = 0; r < other->n_runs; r++)
    {
      double from = MAX (low, joints[r]), to = MIN (high, joints[r + 1]);
      const PatternRun *run = &other->runs[r];
      if (to - from < TOUCH || has (edges, run->piece, run->edge))
        continue;
      DraftingShifted one = carried (shift, f, run, joints[r], joints[r + 1]);
      double length = joints[r + 1] - joints[r];
      /* Where the edge reaches past what it faces, it has to be left alone there. */
      gboolean past_low = low > joints[r] + TOUCH;
      gboolean past_high = high < joints[r + 1] - TOUCH;
      double low_at = run->reversed ? joints[r + 1] - low : low - joints[r];
      double high_at = run->reversed ? joints[r + 1] - high : high - joints[r];
      if ((past_low && fabs (width_at (&one, CLAMP (low_at, 0, length))) > 1e-6)
          || (past_high
              && fabs (width_at (&one, CLAMP (high_at, 0, length))) > 1e-6))
        {
          /* Unless its neighbours in the run carry on. */
          if (f->seam->seam->sides[f->side].n_runs == 1)
            return partly (p, run->piece, run->edge, error);
        }
      g_array_append_val (edges, one);
    }
  return TRUE;
}

gboolean
drafting_shift_facing (const Pattern *p, GArray *edges, GError **error)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  guint n = edges->len;
  for (guint i = 0; i < n; i++)
    {
      DraftingShifted shift = g_array_index (edges, DraftingShifted, i);
      guint run = 0;
      Facing f = { 0 };
      const PatternSeam *seam
          = pattern_edge_seam (p, shift.piece, shift.edge, 0, &f.side, &run);
      f.seam = seam ? sewing_facts_seam (facts, p, seam) : NULL;
      if (!f.seam || seam->join == PATTERN_JOIN_DART)
        continue;
      f.from = f.seam->joints[f.side][run];
      f.to = f.seam->joints[f.side][run + 1];
      f.reversed = seam->sides[f.side].runs[run].reversed;
      if (!add_facing (p, edges, &shift, &f, error))
        return FALSE;
    }
  return TRUE;
}
