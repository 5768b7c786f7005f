/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where two pieces of the run meet, the edges beside it there are sewn together: the
 * second piece is laid so that its one lies along the first's, directions at the
 * corner in line, the pieces on opposite sides.
 */
#include "drafting/lay.h"

#include <glib/gi18n.h>

#include "drafting/edit-private.h"

void
drafting_lay_clear (DraftingLay *lay)
{
  geo_chain_clear (&lay->chain);
}

double
drafting_lay_length (const DraftingLay *lay)
{
  return lay->starts[lay->n];
}

/* The edge beside a run's start or end, walked away from the corner. */
static guint
beside_edge (const PatternPiece *piece, guint edge, gboolean at_start,
             gboolean reversed, GeoChain *chain)
{
  gboolean edge_start = at_start != reversed;
  guint n = piece->n_edges;
  guint beside = edge_start ? (edge + n - 1) % n : (edge + 1) % n;
  if (chain != NULL)
    {
      geo_chain_reset (chain);
      pattern_piece_edge_chain (piece, beside, chain);
      if (edge_start)
        geo_chain_reverse (chain);
    }
  return beside;
}

typedef struct
{
  const PatternPiece *piece;
  guint edge;
  gboolean reversed;
} Run;

static gboolean
find_run (const Pattern *p, PatternRun run, Run *found, GError **error)
{
  found->piece = drafting_find_piece (p, run.piece, error);
  if (found->piece == NULL)
    return FALSE;
  int edge = drafting_find_edge (found->piece, run.edge, error);
  if (edge < 0)
    return FALSE;
  found->edge = (guint)edge;
  found->reversed = run.reversed;
  return TRUE;
}

static void
run_chain (const Run *run, GeoChain *chain)
{
  geo_chain_reset (chain);
  pattern_piece_edge_chain (run->piece, run->edge, chain);
  if (run->reversed)
    geo_chain_reverse (chain);
}

/* Index of the outline's corner where the run starts or ends: the edge that starts there. */
static guint
corner_of (const Run *run, gboolean at_start)
{
  gboolean edge_start = at_start != run->reversed;
  return edge_start ? run->edge : (run->edge + 1) % run->piece->n_edges;
}

/* The second follows the first on the outline. */
static gboolean
follows (const Run *a, const Run *b)
{
  return a->piece == b->piece && corner_of (a, FALSE) == corner_of (b, TRUE)
         && (a->edge != b->edge || a->piece->n_edges == 1);
}

static GeoPoint
direction (const GeoChain *chain)
{
  return chain->count > 0 ? geo_cubic_tangent (&chain->cubics[0], 0)
                          : geo_point (0, 0);
}

/* Lays b's piece beside a's: at is where a's run ends, beside the laid direction of its
 * edge there. */
static GeoMotion
motion_of (const Run *b, const GeoChain *own, GeoPoint at, GeoPoint beside,
           int inside)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  beside_edge (b->piece, b->edge, TRUE, b->reversed, &chain);
  GeoMotion m = geo_motion_none ();
  m.flip = (b->reversed ? -1 : 1) != inside;
  GeoPoint d = direction (&chain);
  if (m.flip)
    d.y = -d.y;
  geo_chain_clear (&chain);
  double turn = geo_angle_between (d, beside);
  m.c = cos (turn);
  m.s = sin (turn);
  GeoPoint start = geo_motion_apply (m, geo_chain_start (own));
  m.dx = at.x - start.x;
  m.dy = at.y - start.y;
  return m;
}

static double
span_of (const Run *run, gboolean at_start)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  beside_edge (run->piece, run->edge, at_start, run->reversed, &chain);
  double span = geo_distance (geo_chain_start (&chain), geo_chain_end (&chain));
  geo_chain_clear (&chain);
  return span;
}

static void
lay_next (DraftingLay *lay, guint i, const Run *before, const Run *run,
          const GeoChain *own)
{
  DraftingLayJoint *joint = &lay->joints[i - 1];
  joint->at = lay->starts[i];
  joint->corner = follows (before, run);
  if (joint->corner)
    {
      lay->motions[i] = lay->motions[i - 1];
      return;
    }
  joint->shoulder = fmin (span_of (before, FALSE), span_of (run, TRUE));
  GeoChain beside = GEO_CHAIN_EMPTY;
  beside_edge (before->piece, before->edge, FALSE, before->reversed, &beside);
  GeoPoint way = geo_motion_turn (lay->motions[i - 1], direction (&beside));
  geo_chain_clear (&beside);
  lay->motions[i]
      = motion_of (run, own, geo_chain_end (&lay->chain), way, lay->inside);
}

/* --- which way ------------------------------------------------------------------ */

static gboolean
share_seam (const Pattern *p, guint a_piece, guint a_edge, guint b_piece,
            guint b_edge)
{
  const PatternSeam *a, *b;
  for (guint i = 0;
       (a = pattern_edge_seam (p, a_piece, a_edge, i, NULL, NULL)) != NULL; i++)
    for (guint j = 0;
         (b = pattern_edge_seam (p, b_piece, b_edge, j, NULL, NULL)) != NULL;
         j++)
      if (a == b)
        return TRUE;
  return FALSE;
}

/* How unlike the two edges are that would be sewn together between the two: those
 * of a seam, and of one length, are most likely meant. */
static double
unlikeness (const Pattern *p, const Run *a, const Run *b)
{
  if (follows (a, b))
    return 0;
  guint x = beside_edge (a->piece, a->edge, FALSE, a->reversed, NULL);
  guint y = beside_edge (b->piece, b->edge, TRUE, b->reversed, NULL);
  if (share_seam (p, a->piece->id, a->piece->edges[x].id, b->piece->id,
                  b->piece->edges[y].id))
    return 0;
  double l = drafting_edge_length (a->piece, x);
  double m = drafting_edge_length (b->piece, y);
  return 0.01 + fabs (log (fmax (l, 1e-3) / fmax (m, 1e-3)));
}

static gboolean
is_fold_beside (const Run *run, gboolean at_start)
{
  guint x = beside_edge (run->piece, run->edge, at_start, run->reversed, NULL);
  return run->piece->edges[x].kind == PATTERN_EDGE_FOLD;
}

/* The ways that make the likeliest run; as they are told where that is as
 * likely. */
static void
find_ways (const Pattern *p, Run *all, guint n)
{
  double least = INFINITY;
  guint best = 0;
  for (guint ways = 0; ways < 1u << n; ways++)
    {
      double cost = 0;
      for (guint i = 0; i < n; i++)
        {
          all[i].reversed = (ways >> i) & 1;
          cost += all[i].reversed ? 1e-3 : 0;
          cost += i > 0 ? unlikeness (p, &all[i - 1], &all[i]) : 0;
        }
      cost -= is_fold_beside (&all[0], TRUE) ? 0.05 : 0;
      cost += is_fold_beside (&all[n - 1], FALSE) ? 0.05 : 0;
      if (cost < least)
        {
          least = cost;
          best = ways;
        }
    }
  for (guint i = 0; i < n; i++)
    all[i].reversed = (best >> i) & 1;
}

static gboolean
is_sewn (const Pattern *p, guint piece, guint edge)
{
  return pattern_edge_seam (p, piece, edge, 0, NULL, NULL) != NULL;
}

/* Of two edges that are not sewn together yet: how many times longer one may be and they
 * still be meant for each other; ease and darts that are not closed take their part. */
#define UNLIKE_LENGTHS 1.3

/* Whether the edges beside the joint can be meant to be sewn together. */
static gboolean
check_joint (const Pattern *p, const Run *a, const Run *b, GError **error)
{
  if (follows (a, b))
    return TRUE;
  const PatternEdge *x
      = &a->piece
             ->edges[beside_edge (a->piece, a->edge, FALSE, a->reversed, NULL)];
  const PatternEdge *y
      = &b->piece
             ->edges[beside_edge (b->piece, b->edge, TRUE, b->reversed, NULL)];
  gboolean fold = x->kind == PATTERN_EDGE_FOLD || y->kind == PATTERN_EDGE_FOLD;
  gboolean shared = share_seam (p, a->piece->id, x->id, b->piece->id, y->id);
  gboolean sewn
      = is_sewn (p, a->piece->id, x->id) || is_sewn (p, b->piece->id, y->id);
  if (!fold
      && (shared
          || (!sewn && unlikeness (p, a, b) < 0.01 + log (UNLIKE_LENGTHS))))
    return TRUE;
  return drafting_refuse (
      error, DRAFTING_ERROR_SHAPE,
      _ ("“%s” of %s and “%s” of %s do not follow each other: beside them lie "
         "“%s” and “%s”, which are not sewn together. Pick edges that follow "
         "each other, or baste those two first."),
      a->piece->edges[a->edge].name, a->piece->name,
      b->piece->edges[b->edge].name, b->piece->name, x->name, y->name);
}

static gboolean
lay_runs (const Pattern *p, const PatternRun *runs, guint n, gboolean told,
          DraftingLay *lay, GError **error)
{
  *lay = (DraftingLay){ .n = n };
  if (n == 0)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("Pick the edges it is to be drafted on."));
  if (n > DRAFTING_LAY_MOST)
    return drafting_refuse (
        error, DRAFTING_ERROR_SHAPE,
        _ ("It can be drafted on up to %d edges; join some of these first."),
        DRAFTING_LAY_MOST);
  Run all[DRAFTING_LAY_MOST];
  for (guint i = 0; i < n; i++)
    {
      if (!find_run (p, runs[i], &all[i], error))
        return FALSE;
      told = told || runs[i].reversed;
    }
  if (!told)
    find_ways (p, all, n);
  Run before = { 0 };
  GeoChain own = GEO_CHAIN_EMPTY;
  for (guint i = 0; i < n; i++)
    {
      Run run = all[i];
      if (i > 0 && !check_joint (p, &before, &run, error))
        {
          geo_chain_clear (&own);
          drafting_lay_clear (lay);
          return FALSE;
        }
      run_chain (&run, &own);
      lay->runs[i] = (PatternRun){ runs[i].piece, runs[i].edge, run.reversed };
      if (i == 0)
        {
          lay->inside = run.reversed ? -1 : 1;
          lay->motions[0] = geo_motion_none ();
          guint beside
              = beside_edge (run.piece, run.edge, TRUE, run.reversed, NULL);
          lay->fold = run.piece->edges[beside].kind == PATTERN_EDGE_FOLD;
          lay->allowance = pattern_edge_width (&run.piece->edges[run.edge]);
        }
      else
        lay_next (lay, i, &before, &run, &own);
      geo_chain_transform (&own, lay->motions[i]);
      lay->first[i] = lay->chain.count;
      geo_chain_append_chain (&lay->chain, &own);
      lay->first[i + 1] = lay->chain.count;
      lay->starts[i + 1] = geo_chain_length (&lay->chain, 1e-10);
      before = run;
    }
  geo_chain_clear (&own);
  return TRUE;
}

gboolean
drafting_lay_runs (const Pattern *p, const PatternRun *runs, guint n,
                   DraftingLay *lay, GError **error)
{
  return lay_runs (p, runs, n, FALSE, lay, error);
}

gboolean
drafting_lay_runs_told (const Pattern *p, const PatternRun *runs, guint n,
                        DraftingLay *lay, GError **error)
{
  return lay_runs (p, runs, n, TRUE, lay, error);
}

void
drafting_lay_beside_run (const Pattern *p, const DraftingLay *lay, guint i,
                         gboolean at_start, GeoChain *chain,
                         const PatternEdge **edge)
{
  Run run;
  geo_chain_reset (chain);
  if (edge != NULL)
    *edge = NULL;
  if (i >= lay->n || !find_run (p, lay->runs[i], &run, NULL))
    return;
  guint beside
      = beside_edge (run.piece, run.edge, at_start, run.reversed, chain);
  geo_chain_transform (chain, lay->motions[i]);
  if (edge != NULL)
    *edge = &run.piece->edges[beside];
}

void
drafting_lay_beside (const Pattern *p, const DraftingLay *lay,
                     gboolean at_start, GeoChain *chain,
                     const PatternEdge **edge)
{
  drafting_lay_beside_run (p, lay, at_start || lay->n == 0 ? 0 : lay->n - 1,
                           at_start, chain, edge);
}
