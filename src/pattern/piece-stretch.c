/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bringing an edge to a length.
 *
 * The edge runs from the end that stays, F, to the end that moves, M. With T
 * the unit tangent at M, pointing out of the edge, M moves by x T. A node of the
 * edge that stood at the share w of its length (0 at F, 1 at M) moves by w x T,
 * and every handle of the edge is drawn out by the one factor new length / old
 * length about its node. So directions of handles stay: the tangents at both
 * ends, and smoothness inside. Only where a straight side of the outline is turned by that does
 * the one handle of a smooth node beside it turn along, to stay in the side's line. The length L(x) is continuous and grows without
 * bound, so where the edge is to grow a root is bracketed by doubling. Where it is
 * to shrink, x goes down from 0 in small steps until L is short enough. Inside
 * the bracket: the secant held by halving (Illinois), to 1e-9 mm of true arc
 * length.
 *
 * A strongly curved edge may never get that short, for its end, going back along
 * its tangent, moves away from F. Such an edge is drawn together about F as a whole,
 * by a factor x that is found in the same way. That keeps the tangents at both ends, too,
 * and unless a handle turns with a straight side beside the edge it is new length / old. */
#include <math.h>

#include "geometry/length.h"
#include "pattern/piece.h"

#define EXACT 1e-10      /* mm, of arc lengths */
#define NEAR_ENOUGH 1e-9 /* mm */
#define STEPS_DOWN 200

typedef struct
{
  const PatternPiece *from; /* as it was */
  PatternPiece *to;         /* being altered */
  guint edge;
  guint first, count; /* nodes of the edge, both ends counted */
  double *share;      /* of each node */
  GeoPoint way;       /* T */
  gboolean at_start;  /* M is the edge's start */
  double factor;      /* of handles */
  gboolean *moved;    /* of the piece's nodes: those of the edge */
  gboolean together;  /* x is the factor it is drawn together by about F */
} Stretch;

static PatternNode *
node_of (const Stretch *s, PatternPiece *piece, guint i)
{
  return &piece->nodes[(s->first + i) % piece->n_nodes];
}

static GeoPoint
drawn_out (GeoPoint handle, GeoPoint old_at, GeoPoint new_at, double factor)
{
  if (geo_same (handle, old_at))
    return new_at;
  return geo_along (new_at, geo_sub (handle, old_at), factor);
}

/* Lays the edge for an x. Handles that belong to the neighbouring edges go with
 * their node and are not drawn out. */
static void
lay (const Stretch *s, double x)
{
  for (guint i = 0; i < s->count; i++)
    {
      const PatternNode *old = node_of (s, (PatternPiece *)s->from, i);
      PatternNode *node = node_of (s, s->to, i);
      double in = i > 0 ? s->factor : 1;
      double out = i + 1 < s->count ? s->factor : 1;
      node->at = geo_along (old->at, s->way, x * s->share[i]);
      node->in = drawn_out (old->in, old->at, node->at, in);
      node->out = drawn_out (old->out, old->at, node->at, out);
    }
  pattern_piece_keep_in_line (s->to, s->moved);
}

static double
edge_length (const PatternPiece *piece, guint edge)
{
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_edge_chain (piece, edge, &chain);
  double length = geo_chain_length (&chain, EXACT);
  geo_chain_clear (&chain);
  return length;
}

/* The whole edge by a factor about the end that stays. */
static void
draw_together (const Stretch *s, double factor)
{
  GeoPoint fixed
      = node_of (s, (PatternPiece *)s->from, s->at_start ? s->count - 1 : 0)
            ->at;
  for (guint i = 0; i < s->count; i++)
    {
      const PatternNode *old = node_of (s, (PatternPiece *)s->from, i);
      PatternNode *node = node_of (s, s->to, i);
      node->at = geo_along (fixed, geo_sub (old->at, fixed), factor);
      node->in = drawn_out (old->in, old->at, node->at, i > 0 ? factor : 1);
      node->out = drawn_out (old->out, old->at, node->at,
                             i + 1 < s->count ? factor : 1);
    }
  pattern_piece_keep_in_line (s->to, s->moved);
}

static double
length_at (const Stretch *s, double x)
{
  if (s->together)
    draw_together (s, x);
  else
    lay (s, x);
  return edge_length (s->to, s->edge);
}

/* A lower and an upper x about a root of L(x) - length; FALSE where none was
 * found. */
static gboolean
bracket (const Stretch *s, double length, double old, double *low, double *high)
{
  *low = *high = 0;
  if (length_at (s, 0) <= length)
    {
      double step = fmax (length - old, 1);
      for (*high = step; length_at (s, *high) < length; *high += step)
        step *= 2;
      return TRUE;
    }
  for (int i = 1; i <= STEPS_DOWN; i++)
    {
      *high = *low;
      *low = -2 * old * i / STEPS_DOWN;
      if (length_at (s, *low) <= length)
        return TRUE;
    }
  return FALSE;
}

static void
solve (const Stretch *s, double length, double low, double high)
{
  double f_low = length_at (s, low) - length;
  double f_high = length_at (s, high) - length;
  int side = 0;
  for (int i = 0; i < 200; i++)
    {
      double x = f_high != f_low
                     ? (low * f_high - high * f_low) / (f_high - f_low)
                     : (low + high) / 2;
      if (!(x > fmin (low, high) && x < fmax (low, high)))
        x = (low + high) / 2;
      double f = length_at (s, x) - length;
      if (fabs (f) < NEAR_ENOUGH)
        return;
      if (f < 0)
        {
          low = x;
          f_low = f;
          f_high *= side < 0 ? 0.5 : 1;
          side = -1;
        }
      else
        {
          high = x;
          f_high = f;
          f_low *= side > 0 ? 0.5 : 1;
          side = 1;
        }
    }
}

/* The same of factors: none of its length is left at 0. */
static void
bracket_together (const Stretch *s, double length, double *low, double *high)
{
  *low = 0;
  *high = s->factor;
  for (int i = 0; i < STEPS_DOWN && length_at (s, *high) < length; i++)
    *high *= 1.1;
}

/* Shares of the nodes, and the way the end moves; FALSE where the end has none. */
static gboolean
measure (Stretch *s)
{
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_edge_chain (s->from, s->edge, &chain);
  GeoRuler ruler;
  geo_ruler_init (&ruler, &chain, EXACT);
  double whole = geo_ruler_length (&ruler);
  for (guint i = 0; i < s->count; i++)
    {
      double share = whole > 0 ? ruler.before[i] / whole : 0;
      s->share[i] = s->at_start ? 1 - share : share;
    }
  s->way = s->at_start
               ? geo_scale (geo_chain_tangent (&chain, (GeoPlace){ 0, 0 }), -1)
               : geo_chain_tangent (&chain, (GeoPlace){ chain.count - 1, 1 });
  geo_ruler_clear (&ruler);
  geo_chain_clear (&chain);
  return s->way.x != 0 || s->way.y != 0;
}

static void
keep_kinds_true (const Stretch *s)
{
  PatternNode *ends[]
      = { node_of (s, s->to, 0), node_of (s, s->to, s->count - 1) };
  for (guint i = 0; i < 2; i++)
    if (ends[i]->kind == PATTERN_NODE_SYMMETRIC)
      ends[i]->kind = PATTERN_NODE_SMOOTH;
}

gboolean
pattern_piece_stretch_edge (PatternPiece *piece, guint edge, double length,
                            gboolean at_start)
{
  g_return_val_if_fail (piece != NULL && edge < piece->n_edges && length > 0,
                        FALSE);
  if (piece->n_edges < 2)
    return FALSE;
  double old = edge_length (piece, edge);
  if (fabs (old - length) <= NEAR_ENOUGH)
    return TRUE;
  g_autoptr (PatternPiece) from = pattern_piece_dup (piece);
  guint first = from->edges[edge].first;
  guint count = pattern_piece_edge_last (from, edge) - first + 1;
  g_autofree double *share = g_new0 (double, count);
  g_autofree gboolean *moved = g_new0 (gboolean, from->n_nodes);
  for (guint i = 0; i < count; i++)
    moved[(first + i) % from->n_nodes] = TRUE;
  Stretch s = { .from = from,
                .to = piece,
                .edge = edge,
                .first = first,
                .count = count,
                .share = share,
                .moved = moved,
                .at_start = at_start,
                .factor = old > 0 ? length / old : 1 };
  double low, high;
  if (!measure (&s))
    return FALSE;
  if (!bracket (&s, length, old, &low, &high))
    {
      s.together = TRUE;
      bracket_together (&s, length, &low, &high);
    }
  solve (&s, length, low, high);
  keep_kinds_true (&s);
  return TRUE;
}
