/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bringing an edge to a length without moving its ends.
 *
 * An edge of several cubics is pushed along its own left normal N by a w(s), where
 * w = sin^2 (pi s / L) runs smoothly from nothing at one end to nothing at the
 * other. With T the tangent and k the curvature (positive to the left),
 *
 *   d/ds (P + a w N) = (1 - a w k) T + a w' N,
 *
 * so each handle of a node is turned and stretched by just that: nodes stay smooth,
 * and at both ends, where w and w' are nothing, the directions stay. The length
 * changes by about -a times the integral of w k ds, and by a^2 / 2 times that of w'^2.
 * Small amounts are tried first, both ways, until the length asked for lies between
 * two of them; then the interval is halved.
 *
 * An edge of one cubic has no node to push: its two handles are made longer or
 * shorter by one factor, found in the same way.
 *
 * A straight edge would become an arc that nobody drew, and is left alone. */
#include <math.h>

#include "geometry/apart.h"
#include "geometry/length.h"
#include "pattern/piece.h"

#define EXACT 1e-10      /* mm, of arc lengths */
#define NEAR_ENOUGH 1e-9 /* mm */
#define STRAIGHT 0.05    /* mm */
#define STEPS 60
#define FARTHEST 30.0 /* mm */

typedef struct
{
  const PatternPiece *from;
  PatternPiece *to;
  guint edge, first, count; /* nodes of the edge, both ends counted */
  double *s;                /* lengths to them */
  double whole;
} Bend;

static PatternNode *
node_of (const Bend *b, PatternPiece *piece, guint i)
{
  return &piece->nodes[(b->first + i) % piece->n_nodes];
}

static GeoPoint
turned (GeoPoint v, GeoPoint t, double along, double across)
{
  /* v is along t; what is left of it is rounding. */
  double l = geo_dot (v, t);
  return geo_add (geo_scale (t, along * l),
                  geo_scale (geo_left (t), across * l));
}

static void
push (const Bend *b, guint i, double a)
{
  const PatternNode *old = node_of (b, (PatternPiece *)b->from, i);
  PatternNode *node = node_of (b, b->to, i);
  double phase = G_PI * b->s[i] / b->whole;
  double w = sin (phase) * sin (phase);
  double rate = G_PI / b->whole * sin (2 * phase);
  guint n = b->from->n_nodes, at = (b->first + i) % n;
  GeoCubic in = pattern_piece_cubic (b->from, (at + n - 1) % n);
  GeoCubic out = pattern_piece_cubic (b->from, at);
  GeoPoint t = geo_cubic_tangent (&out, 0), u = geo_cubic_tangent (&in, 1);
  GeoPoint middle = geo_left (geo_unit (geo_add (t, u)));
  node->at = geo_along (old->at, middle, a * w);
  double k_out = geo_cubic_curvature (&out, 0);
  double k_in = geo_cubic_curvature (&in, 1);
  node->out = node->at;
  node->in = node->at;
  if (!geo_same (old->out, old->at))
    node->out = geo_add (node->at, turned (geo_sub (old->out, old->at), t,
                                           1 - a * w * k_out, a * rate));
  if (!geo_same (old->in, old->at))
    node->in = geo_add (node->at, turned (geo_sub (old->in, old->at), u,
                                          1 - a * w * k_in, a * rate));
}

static void
draw_out (const Bend *b, double factor)
{
  const PatternNode *start = node_of (b, (PatternPiece *)b->from, 0);
  const PatternNode *end = node_of (b, (PatternPiece *)b->from, 1);
  node_of (b, b->to, 0)->out
      = geo_along (start->at, geo_sub (start->out, start->at), factor);
  node_of (b, b->to, 1)->in
      = geo_along (end->at, geo_sub (end->in, end->at), factor);
}

static double
length_at (const Bend *b, double x)
{
  if (b->count == 2)
    draw_out (b, exp (x / FARTHEST));
  else
    for (guint i = 1; i + 1 < b->count; i++)
      push (b, i, x);
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (b->to, b->edge, &chain);
  double length = geo_chain_length (&chain, EXACT);
  geo_chain_clear (&chain);
  return length;
}

/* FALSE where no amount in reach does it. */
static gboolean
solve (const Bend *b, double length)
{
  double last[2] = { 0, 0 }, off[2];
  off[0] = off[1] = b->whole - length;
  double reach = fmin (FARTHEST, b->whole / 4);
  for (int i = 1; i <= STEPS; i++)
    for (int way = 0; way < 2; way++)
      {
        double x = (way == 0 ? 1 : -1) * reach * i / STEPS;
        double now = length_at (b, x) - length;
        if (now * off[way] <= 0)
          {
            double low = last[way], high = x, at_low = off[way];
            for (int k = 0; k < 100; k++)
              {
                double middle = (low + high) / 2;
                double there = length_at (b, middle) - length;
                if (fabs (there) < NEAR_ENOUGH)
                  return TRUE;
                if (there * at_low > 0)
                  low = middle;
                else
                  high = middle;
              }
            return FALSE;
          }
        last[way] = x;
        off[way] = now;
      }
  return FALSE;
}

static gboolean
is_straight (const GeoChain *chain)
{
  GeoPoint a = geo_chain_start (chain), b = geo_chain_end (chain);
  GeoPoint way = geo_unit (geo_sub (b, a));
  for (size_t i = 0; i < chain->count; i++)
    for (int k = 1; k < 3; k++)
      if (fabs (geo_cross (way, geo_sub (chain->cubics[i].p[k], a))) > STRAIGHT)
        return FALSE;
  return TRUE;
}

/* Lengths to the edge's nodes. */
static void
measure (Bend *b, const GeoChain *chain)
{
  b->s = g_new0 (double, chain->count + 1);
  for (size_t i = 0; i < chain->count; i++)
    b->s[i + 1] = b->s[i] + geo_cubic_length (&chain->cubics[i], EXACT);
  b->whole = b->s[chain->count];
}

/* Handles that differ in length now are no longer a symmetric node's. */
static void
mend_kinds (const Bend *b)
{
  for (guint i = 0; i < b->count; i++)
    {
      PatternNode *node = node_of (b, b->to, i);
      if (node->kind == PATTERN_NODE_SYMMETRIC
          && fabs (geo_distance (node->in, node->at)
                   - geo_distance (node->out, node->at))
                 > 1e-9)
        node->kind = PATTERN_NODE_SMOOTH;
    }
}

gboolean
pattern_piece_bend_edge (PatternPiece *piece, guint edge, double length,
                         double *moved)
{
  g_return_val_if_fail (piece != NULL && edge < piece->n_edges, FALSE);
  GeoChain chain = GEO_CHAIN_EMPTY, after = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, edge, &chain);
  Bend b = { .edge = edge, .to = piece, .first = piece->edges[edge].first };
  g_autoptr (PatternPiece) from = pattern_piece_dup (piece);
  b.from = from;
  b.count = (guint)chain.count + 1;
  measure (&b, &chain);
  gboolean done = length > 0 && b.whole > 0 && !is_straight (&chain)
                  && solve (&b, length);
  if (done)
    {
      mend_kinds (&b);
      pattern_piece_edge_chain (piece, edge, &after);
      if (moved)
        *moved = geo_chain_apart (&chain, &after);
    }
  else
    memcpy (piece->nodes, from->nodes, piece->n_nodes * sizeof *piece->nodes);
  g_free (b.s);
  geo_chain_clear (&chain);
  geo_chain_clear (&after);
  return done;
}
