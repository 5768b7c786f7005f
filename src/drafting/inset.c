/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs that follow each other smoothly, at one depth, are taken as one; what they turn by where
 * they meet is spread a little. The parallel of each such group is carried on straight at
 * both ends, and cut where it crosses the next one's, or the edge beside the run: of several
 * crossings at that nearest the corner it belongs to.
 */
#include "drafting/inset.h"

#include "drafting/trace.h"
#include "geometry/crossing.h"

#define SMOOTH 0.06      /* radians: no corner */
#define LEAST_RATIO 0.02 /* of the parallel's speed: less folds over */
#define STRAIGHT 1e-6    /* mm */
#define SPREAD 12.0      /* mm to both sides */
#define MOST_RUNS 12

/* A group of runs and its parallel. */
typedef struct
{
  GeoChain run; /* the runs, smooth */
  double depth;
  guint n;         /* runs in it */
  GeoChain chain;  /* the parallel, carried on at both ends */
  double from, to; /* lengths: what of it is used */
  gboolean straight;
} Line;

typedef struct
{
  const GeoRuler *ruler;
  double depth;
} Parallel;

static GeoPoint
parallel_at (double s, const void *data)
{
  const Parallel *p = data;
  GeoPlace place = geo_ruler_place (p->ruler, s);
  GeoPoint n = geo_left (geo_chain_tangent (p->ruler->chain, place));
  return geo_along (geo_chain_point (p->ruler->chain, place), n, p->depth);
}

/* The parallel runs the way the run does, everywhere. */
static gboolean
runs_on (const GeoChain *chain, double depth)
{
  for (size_t i = 0; i < chain->count; i++)
    for (int k = 0; k <= 8; k++)
      if (1 - depth * geo_cubic_curvature (&chain->cubics[i], k / 8.0)
          < LEAST_RATIO)
        return FALSE;
  return TRUE;
}

static double
kink_between (const GeoChain *a, const GeoChain *b)
{
  return geo_angle_between (geo_cubic_tangent (&a->cubics[a->count - 1], 1),
                            geo_cubic_tangent (&b->cubics[0], 0));
}

static gboolean
is_straight (const GeoChain *chain)
{
  GeoPoint way
      = geo_unit (geo_sub (geo_chain_end (chain), geo_chain_start (chain)));
  for (size_t i = 0; i < chain->count; i++)
    if (!geo_cubic_is_straight (&chain->cubics[i], STRAIGHT)
        || fabs (geo_cross (way, geo_cubic_tangent (&chain->cubics[i], 0)))
               > 1e-6)
      return FALSE;
  return TRUE;
}

/* Takes the runs from first on that go on smoothly. */
static guint
take_group (const DraftingInset *inset, guint first, Line *line)
{
  DraftingBend bends[MOST_RUNS];
  GeoChain all = GEO_CHAIN_EMPTY;
  guint i = first;
  geo_chain_append_chain (&all, &inset->runs[i]);
  while (i + 1 < inset->n && inset->depths[i] == inset->depths[i + 1]
         && fabs (kink_between (&inset->runs[i], &inset->runs[i + 1]))
                <= SMOOTH)
    {
      double at = geo_chain_length (&all, 1e-10);
      double room = fmin (geo_chain_length (&inset->runs[i], 1e-6),
                          geo_chain_length (&inset->runs[i + 1], 1e-6));
      bends[i - first] = (DraftingBend){ at, fmin (SPREAD, room / 2), 0 };
      geo_chain_append_chain (&all, &inset->runs[++i]);
    }
  line->n = i + 1 - first;
  line->depth = inset->depths[first] * inset->inside;
  line->straight = is_straight (&all);
  if (line->straight)
    geo_chain_append_line (&line->run, geo_chain_start (&all),
                           geo_chain_end (&all));
  else
    drafting_trace_bend (&all, bends, line->n - 1, &line->run);
  geo_chain_clear (&all);
  return i + 1;
}

static gboolean
draw_line (Line *line)
{
  const GeoChain *run = &line->run;
  if (run->count == 0 || !runs_on (run, line->depth))
    return FALSE;
  GeoRuler ruler;
  geo_ruler_init (&ruler, run, 1e-10);
  double length = geo_ruler_length (&ruler);
  Parallel p = { &ruler, line->depth };
  GeoPoint start = parallel_at (0, &p), end = parallel_at (length, &p);
  GeoPoint in = geo_cubic_tangent (&run->cubics[0], 0);
  GeoPoint out = geo_cubic_tangent (&run->cubics[run->count - 1], 1);
  double more = 3 * fabs (line->depth) + 20;
  geo_chain_append_line (&line->chain, geo_along (start, in, -more), start);
  if (line->straight)
    geo_chain_append_line (&line->chain, start, end);
  else
    drafting_trace (parallel_at, &p, 0, length, &line->chain);
  geo_chain_append_line (&line->chain, end, geo_along (end, out, more));
  geo_ruler_clear (&ruler);
  line->from = more;
  line->to = geo_chain_length (&line->chain, 1e-9) - more;
  return TRUE;
}

gboolean
drafting_inset_cross (const GeoChain *a, const GeoChain *b, GeoPoint near,
                      double *on_a, double *on_b)
{
  GeoCrossings list;
  geo_crossings_init (&list);
  geo_chain_crossings (a, b, &list);
  double least = INFINITY;
  for (size_t i = 0; i < list.count; i++)
    {
      double off = geo_distance (list.items[i].at, near);
      if (off >= least)
        continue;
      least = off;
      *on_a = geo_chain_length_to (a, list.items[i].a, 1e-9);
      *on_b = geo_chain_length_to (b, list.items[i].b, 1e-9);
    }
  geo_crossings_clear (&list);
  return least < INFINITY;
}

static gboolean
cut_lines (const DraftingInset *inset, Line *lines, guint n,
           DraftingInsetLine *result)
{
  Line *last = &lines[n - 1];
  if (!drafting_inset_cross (&lines[0].chain, inset->before,
                             geo_chain_start (&lines[0].run), &lines[0].from,
                             &result->before)
      || !drafting_inset_cross (&last->chain, inset->after,
                                geo_chain_end (&last->run), &last->to,
                                &result->after))
    return FALSE;
  for (guint i = 0; i + 1 < n; i++)
    if (!drafting_inset_cross (&lines[i].chain, &lines[i + 1].chain,
                               geo_chain_end (&lines[i].run), &lines[i].to,
                               &lines[i + 1].from))
      return FALSE;
  for (guint i = 0; i < n; i++)
    if (lines[i].to - lines[i].from < 0.5)
      return FALSE;
  return result->before > 1e-6 && result->after > 1e-6;
}

/* Room for the rounding at both sides of a corner. */
static double
rounding (const DraftingInset *inset, const Line *lines, guint corner)
{
  double r = inset->smooth;
  for (guint i = corner; i <= corner + 1; i++)
    r = fmin (r, 0.45 * (lines[i].to - lines[i].from));
  return r;
}

static void
round_over (GeoChain *inner, const GeoChain *next)
{
  GeoPlace end = { inner->count - 1, 1 }, start = { 0, 0 };
  geo_chain_append (
      inner, drafting_trace_arc (
                 geo_chain_end (inner), geo_chain_tangent (inner, end),
                 geo_chain_start (next), geo_chain_tangent (next, start)));
}

static void
build (const DraftingInset *inset, const Line *lines, guint n, GeoChain *inner)
{
  GeoChain part = GEO_CHAIN_EMPTY, fit = GEO_CHAIN_EMPTY;
  double before = 0;
  for (guint i = 0; i < n; i++)
    {
      double after = i + 1 < n ? rounding (inset, lines, i) : 0;
      drafting_trace_part (&lines[i].chain, lines[i].from + before,
                           lines[i].to - after, &part);
      drafting_trace_fit_even (&part, lines[i].straight ? 1 : 2 * lines[i].n,
                               &fit);
      if (before > 0)
        round_over (inner, &fit);
      geo_chain_append_chain (inner, &fit);
      before = after;
    }
  geo_chain_clear (&part);
  geo_chain_clear (&fit);
}

void
drafting_inset_clear (DraftingInsetLine *line)
{
  geo_chain_clear (&line->inner);
}

gboolean
drafting_inset (const DraftingInset *inset, DraftingInsetLine *line)
{
  *line = (DraftingInsetLine){ 0 };
  g_return_val_if_fail (inset->n > 0 && inset->n <= MOST_RUNS, FALSE);
  Line lines[MOST_RUNS] = { 0 };
  gboolean drawn = inset->before->count > 0 && inset->after->count > 0;
  for (guint i = 0; i < inset->n; i++)
    drawn = drawn && inset->depths[i] > 0 && inset->runs[i].count > 0;
  guint n = 0;
  for (guint i = 0; drawn && i < inset->n; n++)
    {
      i = take_group (inset, i, &lines[n]);
      drawn = draw_line (&lines[n]);
    }
  drawn = drawn && cut_lines (inset, lines, n, line);
  if (drawn)
    build (inset, lines, n, &line->inner);
  for (guint i = 0; i < n; i++)
    {
      geo_chain_clear (&lines[i].run);
      geo_chain_clear (&lines[i].chain);
    }
  return drawn;
}
