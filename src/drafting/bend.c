/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bending a side through a point, and straightening it.
 *
 * The point at t of a cubic goes by b1 d1 + b2 d2 where its inner control points go by d1 and d2, with
 * b1 = 3 (1 - t)^2 t and b2 = 3 (1 - t) t^2. Of all d1, d2 that take it where it is to go, by, the
 * smallest are taken. A handle may be free, or held to a line (the handle of a smooth node beside
 * a straight side), or held fast. With P = I, u u' or 0 for these three, the smallest solution is
 *
 *     d1 = b1 P1 y,  d2 = b2 P2 y,  W y = by,  W = b1^2 P1 + b2^2 P2
 *
 * (the minimum-norm solution x = A' (A A')^-1 by of A x = by). W is symmetric; along an eigenvector
 * whose eigenvalue is small the point can't be moved without throwing the handles far
 * out, so there 1 / lambda is held to MOST_GAIN^2 and the point comes only part of the way: a least
 * squares solution of what can be had. */
#include <glib/gi18n.h>
#include <math.h>

#include "drafting/edit-private.h"

/* A bend this near an end would throw the handles far out. */
#define NEAREST_BEND 0.01
/* A handle held to its line goes at most so many times as far as the point. */
#define MOST_GAIN 12
/* And keeps this share of its length at least: it says the node's direction. */
#define LEAST_LEFT 0.05

typedef struct
{
  double xx, xy, yy;
} Symmetric;

typedef struct
{
  GeoPoint *at;     /* the control point */
  GeoPoint node;    /* its node */
  double weight;    /* b */
  gboolean in_line; /* held to a line: */
  GeoPoint way;     /* along it, away from the node */
  gboolean held;    /* held fast: as near to the node as it may come */
} Handle;

static Symmetric
share_of (const Handle *h)
{
  double square = h->weight * h->weight;
  if (h->held)
    return (Symmetric){ 0, 0, 0 };
  if (!h->in_line)
    return (Symmetric){ square, 0, square };
  return (Symmetric){ square * h->way.x * h->way.x,
                      square * h->way.x * h->way.y,
                      square * h->way.y * h->way.y };
}

/* W^-1 by, each eigenvalue's inverse held. */
static GeoPoint
solve_held (Symmetric w, GeoPoint by)
{
  double middle = (w.xx + w.yy) / 2;
  double reach = hypot ((w.xx - w.yy) / 2, w.xy);
  double turn = 0.5 * atan2 (w.xy, (w.xx - w.yy) / 2);
  GeoPoint along = { cos (turn), sin (turn) };
  GeoPoint axes[2] = { along, geo_left (along) };
  double values[2] = { middle + reach, fmax (middle - reach, 0) };
  GeoPoint y = { 0, 0 };
  for (int i = 0; i < 2; i++)
    {
      double most = (double)MOST_GAIN * MOST_GAIN;
      double inverse = values[i] * most > 1 ? 1 / values[i] : most;
      y = geo_along (y, axes[i], inverse * geo_dot (axes[i], by));
    }
  return y;
}

static GeoPoint
step_of (const Handle *h, GeoPoint y)
{
  if (h->held)
    return (GeoPoint){ 0, 0 };
  if (!h->in_line)
    return geo_scale (y, h->weight);
  return geo_scale (h->way, h->weight * geo_dot (h->way, y));
}

/* Where a step would take the handle past its node it is held short of it, and what that
 * leaves to do is the other's. FALSE where nothing had to be held. */
static gboolean
hold_short (Handle *h, GeoPoint step, GeoPoint *by)
{
  double length = geo_distance (*h->at, h->node);
  if (!h->in_line || h->held
      || length + geo_dot (step, h->way) >= LEAST_LEFT * length)
    return FALSE;
  GeoPoint done = geo_scale (h->way, (LEAST_LEFT - 1) * length);
  *h->at = geo_add (*h->at, done);
  *by = geo_along (*by, done, -h->weight);
  h->held = TRUE;
  return TRUE;
}

static void
pull_held (Handle handles[2], GeoPoint by)
{
  for (int turn = 0; turn < 3; turn++)
    {
      Symmetric a = share_of (&handles[0]), b = share_of (&handles[1]);
      GeoPoint y = solve_held (
          (Symmetric){ a.xx + b.xx, a.xy + b.xy, a.yy + b.yy }, by);
      GeoPoint steps[2]
          = { step_of (&handles[0], y), step_of (&handles[1], y) };
      if (hold_short (&handles[0], steps[0], &by)
          || hold_short (&handles[1], steps[1], &by))
        continue;
      for (int i = 0; i < 2; i++)
        if (handles[i].in_line && !handles[i].held)
          /* Out of the line by not even a rounding. */
          *handles[i].at
              = geo_along (handles[i].node, handles[i].way,
                           geo_dot (geo_sub (geo_add (*handles[i].at, steps[i]),
                                             handles[i].node),
                                    handles[i].way));
        else
          *handles[i].at = geo_add (*handles[i].at, steps[i]);
      return;
    }
}

static void
bend_side (PatternPiece *piece, guint i, double t, GeoPoint by)
{
  guint k = (i + 1) % piece->n_nodes;
  PatternNode *from = &piece->nodes[i], *to = &piece->nodes[k];
  double s = 1 - t;
  Handle handles[2] = {
    { .at = &from->out, .node = from->at, .weight = 3 * s * s * t },
    { .at = &to->in, .node = to->at, .weight = 3 * s * t * t },
  };
  handles[0].in_line
      = pattern_piece_handle_in_line (piece, i, &handles[0].way) == &from->out;
  handles[1].in_line
      = pattern_piece_handle_in_line (piece, k, &handles[1].way) == &to->in;
  if (handles[0].in_line || handles[1].in_line)
    pull_held (handles, by);
  else
    {
      GeoCubic c = { { from->at, from->out, to->in, to->at } };
      if (pattern_nodes_are_straight (from, to))
        c = geo_cubic_line (from->at, to->at);
      c = geo_cubic_pull (&c, t, by);
      from->out = c.p[1];
      to->in = c.p[2];
    }
  drafting_follow_handle (from, DRAFTING_HANDLE_OUT);
  drafting_follow_handle (to, DRAFTING_HANDLE_IN);
}

Pattern *
drafting_bend (const Pattern *p, guint piece, guint node, double t, GeoPoint by,
               GError **error)
{
  guint i;
  if (!drafting_point_is_good (by, error)
      || !drafting_number_is_good (t, error))
    return NULL;
  g_autoptr (PatternPiece) copy
      = drafting_begin_node (p, piece, node, &i, error);
  if (!copy)
    return NULL;
  if (t < NEAREST_BEND || t > 1 - NEAREST_BEND)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("That is too near a node to bend the line there. "
                          "Move the node or its handle instead."));
      return NULL;
    }
  bend_side (copy, i, t, by);
  return drafting_finish (p, g_steal_pointer (&copy), NULL, error);
}

Pattern *
drafting_straighten (const Pattern *p, guint piece, guint node, GError **error)
{
  guint i;
  PatternPiece *copy = drafting_begin_node (p, piece, node, &i, error);
  if (!copy)
    return NULL;
  PatternNode *from = &copy->nodes[i];
  PatternNode *to = &copy->nodes[(i + 1) % copy->n_nodes];
  if (pattern_nodes_are_straight (from, to))
    return drafting_finish (p, copy, NULL, error);
  from->out = from->at;
  to->in = to->at;
  from->kind = to->kind = PATTERN_NODE_CORNER;
  return drafting_finish (p, copy, NULL, error);
}
