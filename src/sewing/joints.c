/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/joints.h"

#include "geometry/walk.h"

/* A seam's end on one of its sides. */
typedef struct
{
  const PatternPiece *piece;
  guint corner;    /* index of the edge that starts at the corner */
  guint arriving;  /* index of the edge that ends there */
  guint beside;    /* index of whichever of the two is not in the seam */
  GeoPoint at;     /* the corner */
  GeoPoint walked; /* tangent of the seam there, the way it is walked */
  double inside;   /* angle of the cloth at the corner */
  int side;        /* where the inside lies, seen along the walk */
} End;

static gboolean
is_point (GeoPoint v)
{
  return v.x == 0 && v.y == 0;
}

/* Angle of the cloth between the edge that leaves the corner and the one that
 * arrives: turned from the leaving edge towards the inside, which is on its
 * left normal's side. In [0, 2 pi). */
static double
corner_angle (GeoPoint leaving, GeoPoint arriving)
{
  double a = geo_angle_between (leaving, geo_scale (arriving, -1));
  return a < 0 ? a + 2 * G_PI : a;
}

gboolean
sewing_corner_inside (const SewingPiece *piece, guint corner, double *angle)
{
  g_return_val_if_fail (piece != NULL && angle != NULL, FALSE);
  guint n = piece->piece->n_edges;
  g_return_val_if_fail (corner < n, FALSE);
  const GeoChain *in = &piece->stitch[(corner + n - 1) % n];
  const GeoChain *out = &piece->stitch[corner];
  if (in->count == 0 || out->count == 0)
    return FALSE;
  GeoPoint arrives = geo_chain_tangent (in, (GeoPlace){ in->count - 1, 1 });
  GeoPoint leaves = geo_chain_tangent (out, (GeoPlace){ 0, 0 });
  if (is_point (arrives) || is_point (leaves))
    return FALSE;
  *angle = corner_angle (leaves, arrives);
  return TRUE;
}

static gboolean
find_end (SewingFacts *facts, const Pattern *pattern, const PatternSide *runs,
          int end, End *found)
{
  if (runs->n_runs == 0)
    return FALSE;
  const PatternRun *run = &runs->runs[end == 0 ? 0 : runs->n_runs - 1];
  const PatternEdge *edge
      = pattern_get_edge (pattern, run->piece, run->edge, &found->piece);
  if (edge == NULL || found->piece->n_edges < 2)
    return FALSE;
  const SewingPiece *piece = sewing_facts_piece (facts, found->piece);
  guint n = found->piece->n_edges;
  guint own = (guint)(edge - found->piece->edges);
  gboolean at_start = (end == 0) == !run->reversed; /* of the edge */
  found->corner = at_start ? own : (own + 1) % n;
  found->arriving = (found->corner + n - 1) % n;
  found->beside = at_start ? found->arriving : found->corner;
  const GeoChain *in = &piece->stitch[found->arriving];
  const GeoChain *out = &piece->stitch[found->corner];
  if (in->count == 0 || out->count == 0)
    return FALSE;
  GeoPoint arrives = geo_chain_tangent (in, (GeoPlace){ in->count - 1, 1 });
  GeoPoint leaves = geo_chain_tangent (out, (GeoPlace){ 0, 0 });
  if (is_point (arrives) || is_point (leaves))
    return FALSE;
  found->at = geo_chain_start (out);
  found->walked = at_start ? leaves : arrives;
  if (run->reversed)
    found->walked = geo_scale (found->walked, -1);
  found->inside = corner_angle (leaves, arrives);
  found->side = run->reversed ? -1 : 1;
  return TRUE;
}

static gboolean
same_name (const PatternEdge *a, const PatternEdge *b)
{
  if (*a->name == '\0' || *b->name == '\0')
    return FALSE;
  g_autofree char *x = g_utf8_casefold (a->name, -1);
  g_autofree char *y = g_utf8_casefold (b->name, -1);
  return g_str_equal (x, y);
}

/* The corner an edge's run comes to at its start (walked) or its end. */
static gboolean
run_touches (const PatternRun *run, gboolean at_start, const End *end)
{
  if (run->piece != end->piece->id
      || run->edge != end->piece->edges[end->beside].id)
    return FALSE;
  gboolean edge_start = at_start != run->reversed;
  return edge_start == (end->beside == end->corner);
}

/* In the seam's side the edges follow each other, meeting at this joint. */
static gboolean
neighbours_in (const PatternSide *side, const End *a, const End *b)
{
  for (guint r = 0; r + 1 < side->n_runs; r++)
    {
      const PatternRun *x = &side->runs[r], *y = &side->runs[r + 1];
      if ((run_touches (x, FALSE, a) && run_touches (y, TRUE, b))
          || (run_touches (x, FALSE, b) && run_touches (y, TRUE, a)))
        return TRUE;
    }
  return FALSE;
}

static gboolean
side_has (const PatternSide *side, const End *end)
{
  for (guint r = 0; r < side->n_runs; r++)
    if (side->runs[r].piece == end->piece->id
        && side->runs[r].edge == end->piece->edges[end->beside].id)
      return TRUE;
  return FALSE;
}

static gboolean
runs_on (const Pattern *pattern, const End *a, const End *b)
{
  const PatternEdge *x = &a->piece->edges[a->beside];
  const PatternEdge *y = &b->piece->edges[b->beside];
  if (x->kind == PATTERN_EDGE_FOLD || y->kind == PATTERN_EDGE_FOLD)
    return FALSE;
  gboolean neighbours = FALSE;
  for (guint i = 0; i < pattern->n_seams; i++)
    {
      const PatternSide *sides = pattern->seams[i]->sides;
      /* Sewn to each other they are two plies of one seam, not one line. */
      if ((side_has (&sides[0], a) && side_has (&sides[1], b))
          || (side_has (&sides[0], b) && side_has (&sides[1], a)))
        return FALSE;
      neighbours = neighbours || neighbours_in (&sides[0], a, b)
                   || neighbours_in (&sides[1], a, b);
    }
  return neighbours
         || (x->kind == PATTERN_EDGE_HEM && y->kind == PATTERN_EDGE_HEM)
         || same_name (x, y);
}

gboolean
sewing_seam_joint (SewingFacts *facts, const Pattern *pattern,
                   const PatternSeam *seam, int end, SewingJoint *joint)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL && seam != NULL,
                        FALSE);
  End a, b;
  if (!find_end (facts, pattern, &seam->sides[0], end, &a)
      || !find_end (facts, pattern, &seam->sides[1], end, &b))
    return FALSE;
  /* A dart's point: the legs lie beside each other, nothing runs across. */
  if (a.piece == b.piece && a.corner == b.corner)
    return FALSE;
  *joint = (SewingJoint){
    .a_piece = a.piece->id,
    .a_edge = a.piece->edges[a.beside].id,
    .b_piece = b.piece->id,
    .b_edge = b.piece->edges[b.beside].id,
    .at = a.at,
    .angle = a.inside + b.inside,
    .motion = geo_walk_motion (a.at, a.walked, a.side, b.at, b.walked, b.side),
    .runs_on = runs_on (pattern, &a, &b),
  };
  return TRUE;
}
