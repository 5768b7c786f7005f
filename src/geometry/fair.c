/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between corners the freedoms are those of the nodes (node-run.h). Minimised is
 *
 *   F = L^3 (int (dk/ds)^2 ds + sum over nodes of ((k- - K)^2 + (k+ - K)^2) / h)
 *       - m sum over samples of log (1 - (e / d)^2)
 *
 * K is a freedom of each node, the curvature both its sides are to have, so that
 * rows reach from one node to the next only; h is a fiftieth of the
 * neighbouring length. e is the distance of a sample of the chain as it was
 * from its foot on the run, d the most allowed: the second line is a wall that
 * rises without end at d, and m goes down step by step, so the way there never
 * leaves what is allowed (Frisch's logarithmic barrier). It starts from the
 * fewest cubics that keep within reach, cut again into as many as there were. All terms are squares
 * to first order, or convex in e: the steps are damped Gauss-Newton steps,
 *
 *   p (e) = -m log (1 - e^2/d^2):  p' = 2 m e / (d^2 - e^2),
 *                                  p'' = 2 m (d^2 + e^2) / (d^2 - e^2)^2.
 *
 * A length to keep is a condition a . x = L0 - L on each step x: of H x = g + l a
 * two solutions are found, for g and for a, and l taken to fit.
 */
#include "geometry/fair.h"

#include "geometry/apart.h"
#include "geometry/fair-rows.h"
#include "geometry/fit-run.h"
#include "geometry/fit.h"
#include "geometry/foot.h"
#include "geometry/length.h"
#include "geometry/memory.h"
#include "geometry/nearest.h"
#include "geometry/node-run.h"

#include <string.h>

#define N GEO_FREEDOMS
#define SAMPLES 8 /* a cubic */
#define SOFTENING 12
#define STEPS 20
#define JUMP 0.02
/* F is 0 on a circle; less of it than this no eye tells from that, and staying
 * near is worth more. */
#define EVEN 1e-2

typedef struct
{
  const GeoChain *stretch;
  const GeoFairWish *wish;
  size_t from; /* the chain's cubic that the stretch starts with */
  bool closed, holds_start, holds_end; /* curvatures at the ends */
  double length, wall, barrier;        /* d and m above */
  GeoPoint *samples;
  GeoFoot *feet, *tried;
  size_t count;
  GeoCubic *cubics;
  GeoNodeRun now, next;
  GeoNodeSystem system;
  double (*by_length)[N]; /* a above */
  double push;            /* the largest l met */
} Task;

GeoFairWish
geo_fair_wish (double within)
{
  return (GeoFairWish){ within, 0.35, false, NAN, NAN, NULL, 0 };
}

/* A node of the stretch is to keep its place. */
static bool
is_pinned (const Task *task, size_t node)
{
  for (size_t i = 0; i < task->wish->pin_count; i++)
    if (task->wish->pins[i] == task->from + node)
      return true;
  return false;
}

static bool
has_pins (const Task *task)
{
  for (size_t i = 0; i < task->stretch->count; i++)
    if (is_pinned (task, i))
      return true;
  return false;
}

static size_t
next_node (const GeoNodeRun *run, size_t i)
{
  return i + 1 < run->count ? i + 1 : 0;
}

static double
rough_length (const GeoCubic *c)
{
  double sum = 0, rate[8];
  for (int i = 0; i < GEO_FAIR_NODES; i++)
    sum += geo_fair_nodes[i][1]
           * geo_fair_speed (c, geo_fair_nodes[i][0], rate);
  return sum;
}

static double
change_of (const GeoCubic *c)
{
  double sum = 0, rate[8];
  for (int i = 0; i < GEO_FAIR_NODES; i++)
    {
      double r = geo_fair_change (c, geo_fair_nodes[i][0], rate);
      sum += geo_fair_nodes[i][1] * r * r;
    }
  return sum;
}

static double
turn_between (const GeoCubic *a, const GeoCubic *b)
{
  return fabs (
      geo_angle_between (geo_cubic_tangent (a, 1), geo_cubic_tangent (b, 0)));
}

double
geo_chain_roughness (const GeoChain *chain, double corner)
{
  double sum = 0;
  size_t n = chain->count;
  for (size_t i = 0; i < n; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      /* In four parts, for a bend may be tight. */
      for (int k = 0; k < 4; k++)
        {
          GeoCubic part = geo_cubic_part (c, k / 4.0, (k + 1) / 4.0);
          sum += change_of (&part);
        }
      const GeoCubic *d = &chain->cubics[i + 1 < n ? i + 1 : 0];
      if ((i + 1 == n && !geo_chain_is_closed (chain))
          || turn_between (c, d) > corner)
        continue;
      double jump = geo_cubic_curvature (d, 0) - geo_cubic_curvature (c, 1);
      double over = JUMP * fmin (rough_length (c), rough_length (d));
      sum += jump * jump / fmax (over, 1e-9);
    }
  return fmin (sum, 1e30);
}

/* whole in as many cubics as like, each as far along. */
static void
cut_like (const GeoChain *like, const GeoChain *whole, GeoChain *cut)
{
  double all = geo_chain_length (like, 1e-6), before = 0, length;
  length = geo_chain_length (whole, 1e-6);
  GeoPlace from = { 0, 0 };
  geo_chain_reset (cut);
  for (size_t i = 0; i < like->count; i++)
    {
      GeoChain part = GEO_CHAIN_EMPTY;
      GeoPlace to = { whole->count - 1, 1 };
      GeoCubic c;
      before += geo_cubic_length (&like->cubics[i], 1e-6);
      if (i + 1 < like->count)
        to = geo_chain_at_length (whole, before / all * length, 1e-6);
      if (geo_place_compare (from, to) < 0)
        geo_chain_slice (whole, from, to, &part);
      if (part.count > 0)
        {
          geo_chain_fit_single (&part, &c);
          geo_chain_append (cut, c);
        }
      geo_chain_clear (&part);
      from = to;
    }
}

/* The fewest cubics within reach, cut at as many places as the stretch has
 * joints, each as far along: smooth from the start, where the stretch's own
 * nodes, shaking, would have to find the way together. False where fewer do not
 * serve. */
static bool
find_smooth (Task *task, GeoChain *smooth)
{
  const GeoChain *s = task->stretch;
  size_t n = s->count, count = task->count + (task->closed ? 0 : 2);
  GeoPoint *q = geo_realloc (NULL, count, sizeof (GeoPoint));
  GeoPoint from = geo_cubic_tangent (&s->cubics[0], 0);
  GeoPoint to = geo_cubic_tangent (&s->cubics[n - 1], 1);
  size_t used = 0;
  if (!task->closed)
    q[used++] = geo_chain_start (s);
  for (size_t i = 0; i < task->count; i++)
    if (used == 0 || geo_distance (task->samples[i], q[used - 1]) > 1e-9)
      q[used++] = task->samples[i];
  if (!task->closed)
    q[used++] = geo_chain_end (s);
  GeoNodeRun run = { NULL, 0, 0, false };
  GeoRunTarget target = { q, used, task->closed, task->closed ? NULL : &from,
                          task->closed ? NULL : &to };
  if (used > 3)
    geo_run_fit (&target, 0.9 * task->wall, NULL, NULL, n, &run);
  bool found = geo_node_run_cubics (&run) > 0;
  if (found)
    {
      GeoChain fit = GEO_CHAIN_EMPTY, turned = GEO_CHAIN_EMPTY;
      geo_node_run_append (&run, &fit);
      if (task->closed)
        {
          GeoPlace start;
          fit.cubics[fit.count - 1].p[3] = fit.cubics[0].p[0];
          geo_chain_nearest (&fit, geo_chain_start (s), &start);
          geo_chain_slice (&fit, start, start, &turned);
        }
      cut_like (s, task->closed ? &turned : &fit, smooth);
      geo_chain_clear (&fit);
      geo_chain_clear (&turned);
    }
  geo_node_run_clear (&run);
  free (q);
  return found && smooth->count == n;
}

static void
start_run (Task *task, const GeoChain *s)
{
  size_t n = s->count, nodes = task->closed ? n : n + 1;
  geo_node_run_reset (&task->now, task->closed);
  for (size_t i = 0; i < nodes; i++)
    {
      bool first = i == 0 && !task->closed, last = i == n;
      const GeoCubic *before = first ? NULL : &s->cubics[i > 0 ? i - 1 : n - 1];
      const GeoCubic *after = last ? NULL : &s->cubics[i];
      GeoPoint in = before ? geo_cubic_tangent (before, 1) : geo_point (0, 0);
      GeoPoint out = after ? geo_cubic_tangent (after, 0) : geo_point (0, 0);
      GeoPoint way = geo_add (in, out);
      GeoNode node = { .at = after ? after->p[0] : before->p[3] };
      node.angle = atan2 (way.y, way.x);
      double ki = before ? geo_cubic_curvature (before, 1) : 0;
      double ko = after ? geo_cubic_curvature (after, 0) : 0;
      node.in = before ? geo_distance (before->p[2], before->p[3]) : 1;
      node.out = after ? geo_distance (after->p[0], after->p[1]) : 1;
      node.curvature = before && after ? (ki + ko) / 2 : ki + ko;
      if (first && task->holds_start)
        node.curvature = task->wish->start_curvature;
      if (last && task->holds_end)
        node.curvature = task->wish->end_curvature;
      geo_node_run_add (&task->now, node);
    }
}

static void
take_samples (Task *task)
{
  size_t n = task->stretch->count;
  task->count = n * SAMPLES;
  task->samples = geo_realloc (NULL, task->count, sizeof (GeoPoint));
  task->feet = geo_realloc (NULL, task->count, sizeof (GeoFoot));
  task->tried = geo_realloc (NULL, task->count, sizeof (GeoFoot));
  task->cubics = geo_realloc (NULL, n, sizeof (GeoCubic));
  task->by_length = geo_realloc (NULL, n + 1, sizeof *task->by_length);
  for (size_t i = 0; i < task->count; i++)
    {
      double t = ((double)(i % SAMPLES) + 0.5) / SAMPLES;
      task->samples[i]
          = geo_cubic_point (&task->stretch->cubics[i / SAMPLES], t);
      task->feet[i] = (GeoFoot){ .cubic = i / SAMPLES, .u = t };
    }
}

/* Weight of a jump at either end of a cubic. */
static double
jump_weight (const Task *task, const GeoCubic *c)
{
  double h = fmax (JUMP * rough_length (c), 1e-9);
  return task->length * task->length * task->length / h;
}

/* F and the wall; INFINITY beyond it. */
static double
value_of (Task *task, const GeoNodeRun *run, GeoFoot *feet, double *length)
{
  size_t n = geo_node_run_cubics (run);
  double scale = task->length * task->length * task->length, sum = 0, rate[8];
  *length = 0;
  for (size_t k = 0; k < n; k++)
    {
      GeoCubic *c = &task->cubics[k];
      *c = geo_node_run_cubic (run, k);
      double from = geo_fair_curvature (c, 0, rate) - run->nodes[k].curvature;
      double to = geo_fair_curvature (c, 1, rate)
                  - run->nodes[next_node (run, k)].curvature;
      sum += scale * change_of (c)
             + jump_weight (task, c) * (from * from + to * to);
      *length += geo_cubic_length (c, 1e-10);
    }
  for (size_t i = 0; i < task->count; i++)
    {
      geo_foot_find (task->cubics, n, run->closed, task->samples[i], 4,
                     &feet[i]);
      double e = feet[i].far / task->wall;
      if (!(e < 0.999))
        return INFINITY;
      sum -= task->barrier * log (1 - e * e);
    }
  return sum;
}

static void
add_change (const Task *task, size_t k, GeoNodeBlock *block)
{
  const GeoNode *a = &task->now.nodes[k];
  const GeoNode *b = &task->now.nodes[next_node (&task->now, k)];
  const GeoCubic *c = &task->cubics[k];
  double scale = task->length * task->length * task->length;
  double rate[8], row[2 * N], weight = jump_weight (task, c);
  for (int i = 0; i < GEO_FAIR_NODES; i++)
    {
      double r = geo_fair_change (c, geo_fair_nodes[i][0], rate);
      geo_node_row (a, b, rate, row);
      geo_node_block_add (block, row, scale * geo_fair_nodes[i][1], -r);
    }
  double r = geo_fair_curvature (c, 0, rate) - a->curvature;
  geo_node_row (a, b, rate, row);
  row[5] = -1;
  geo_node_block_add (block, row, weight, -r);
  r = geo_fair_curvature (c, 1, rate) - b->curvature;
  geo_node_row (a, b, rate, row);
  row[N + 5] = -1;
  geo_node_block_add (block, row, weight, -r);
}

static void
add_wall (const Task *task, const GeoFoot *foot, GeoNodeBlock *block)
{
  const GeoNodeRun *run = &task->now;
  const GeoCubic *c = &task->cubics[foot->cubic];
  double u = foot->u, s = 1 - u, by_point[8], row[2 * N];
  const double b[4] = { s * s * s, 3 * s * s * u, 3 * s * u * u, u * u * u };
  GeoPoint normal = geo_left (geo_unit (geo_cubic_velocity (c, u)));
  for (int k = 0; k < 4; k++)
    {
      by_point[2 * k] = -b[k] * normal.x;
      by_point[2 * k + 1] = -b[k] * normal.y;
    }
  geo_node_row (&run->nodes[foot->cubic],
                &run->nodes[next_node (run, foot->cubic)], by_point, row);
  double e = foot->off, d2 = task->wall * task->wall, gap = d2 - e * e;
  double slope = 2 * task->barrier * e / gap;
  double bend = 2 * task->barrier * (d2 + e * e) / (gap * gap);
  geo_node_block_add (block, row, bend, -slope / bend);
}

/* Rates of the whole length, into the second right side too. */
static void
add_length (Task *task)
{
  const GeoNodeRun *run = &task->now;
  size_t n = geo_node_run_cubics (run);
  memset (task->by_length, 0, run->count * sizeof *task->by_length);
  for (size_t k = 0; k < n; k++)
    for (int i = 0; i < GEO_FAIR_NODES; i++)
      {
        double rate[8], row[2 * N];
        size_t to = next_node (run, k);
        geo_fair_speed (&task->cubics[k], geo_fair_nodes[i][0], rate);
        geo_node_row (&run->nodes[k], &run->nodes[to], rate, row);
        for (int f = 0; f < N; f++)
          {
            task->by_length[k][f] += geo_fair_nodes[i][1] * row[f];
            task->by_length[to][f] += geo_fair_nodes[i][1] * row[N + f];
          }
      }
  for (size_t i = 0; i < run->count; i++)
    memcpy (task->system.right[i][1], task->by_length[i],
            sizeof *task->by_length);
}

static void
build (Task *task)
{
  const GeoNodeRun *run = &task->now;
  size_t n = geo_node_run_cubics (run), next = 0;
  geo_node_system_reset (&task->system, run->count);
  GeoNodeBlock *blocks = geo_realloc (NULL, n, sizeof *blocks);
  memset (blocks, 0, n * sizeof *blocks);
  for (size_t i = 0; i < task->count; i++)
    add_wall (task, &task->feet[i], &blocks[task->feet[i].cubic]);
  for (next = 0; next < n; next++)
    {
      add_change (task, next, &blocks[next]);
      geo_node_system_add (&task->system, next, next_node (run, next),
                           &blocks[next]);
    }
  free (blocks);
  add_length (task);
  for (size_t i = 0; i < run->count; i++)
    if (is_pinned (task, i))
      task->system.held[i][0] = task->system.held[i][1] = true;
  if (run->closed)
    return;
  bool *start = task->system.held[0], *end = task->system.held[run->count - 1];
  start[0] = start[1] = start[2] = start[3] = true;
  end[0] = end[1] = end[2] = end[4] = true;
  start[5] = task->holds_start;
  end[5] = task->holds_end;
}

/* How much of the step of one node may be taken at once. */
static double
most_of (const GeoNode *node, const double x[N])
{
  double most = 1;
  double move = hypot (x[0], x[1]), far = 0.5 * fmin (node->in, node->out);
  if (move > far)
    most = far / move;
  if (fabs (x[2]) > 0.3)
    most = fmin (most, 0.3 / fabs (x[2]));
  if (fabs (x[3]) > 0.4 * node->in)
    most = fmin (most, 0.4 * node->in / fabs (x[3]));
  if (fabs (x[4]) > 0.4 * node->out)
    most = fmin (most, 0.4 * node->out / fabs (x[4]));
  return most;
}

/* The step x + l y of the two solutions x and y, in place of x. Returns how much of
 * it may be taken. */
static double
combine (Task *task, double l)
{
  double most = 1;
  for (size_t i = 0; i < task->now.count; i++)
    {
      double *x = task->system.right[i][0];
      for (int f = 0; f < N; f++)
        x[f] += l * task->system.right[i][1][f];
      most = fmin (most, most_of (&task->now.nodes[i], x));
    }
  return most;
}

static void
apply (Task *task, double most)
{
  geo_node_run_copy (&task->next, &task->now);
  for (size_t i = 0; i < task->now.count; i++)
    {
      GeoNode *node = &task->next.nodes[i];
      const double *x = task->system.right[i][0];
      node->at = geo_point (node->at.x + most * x[0], node->at.y + most * x[1]);
      node->angle += most * x[2];
      node->in += most * x[3];
      node->out += most * x[4];
      node->curvature += most * x[5];
    }
}

/* The l that brings the length to what it was. */
static double
multiplier (const Task *task, double length)
{
  double ax = 0, ay = 0;
  for (size_t i = 0; i < task->now.count; i++)
    for (int f = 0; f < N; f++)
      {
        ax += task->by_length[i][f] * task->system.right[i][0][f];
        ay += task->by_length[i][f] * task->system.right[i][1][f];
      }
  return ay > 0 ? (task->length - length - ax) / ay : 0;
}

static double
merit (const Task *task, double value, double length)
{
  if (!task->wish->keep_length)
    return value;
  return value + 2 * task->push * fabs (length - task->length);
}

/* Part of the step that was solved for, if that is better. */
static bool
take_step (Task *task, double part, double before)
{
  double length;
  apply (task, part);
  memcpy (task->tried, task->feet, task->count * sizeof (GeoFoot));
  double value = value_of (task, &task->next, task->tried, &length);
  if (!(merit (task, value, length) < before))
    return false;
  geo_node_run_copy (&task->now, &task->next);
  memcpy (task->feet, task->tried, task->count * sizeof (GeoFoot));
  return true;
}

static bool
improve (Task *task, double *damping)
{
  double length, value = value_of (task, &task->now, task->feet, &length);
  for (int i = 0; i < 8; i++)
    {
      build (task);
      if (geo_node_system_solve (&task->system, *damping, 2))
        {
          double l = task->wish->keep_length ? multiplier (task, length) : 0;
          task->push = fmax (task->push, fabs (l));
          double most = combine (task, l), before = merit (task, value, length);
          for (double part = 1; part > 0.05; part *= 0.3)
            if (take_step (task, part * most, before))
              {
                if (part * most > 0.9)
                  *damping = fmax (*damping * 0.05, 1e-15);
                else if (part < 0.2)
                  *damping = fmin (*damping * 20, 1e6);
                value = value_of (task, &task->now, task->feet, &length);
                return merit (task, value, length)
                       < before - 1e-6 * fabs (before);
              }
          value_of (task, &task->now, task->feet, &length);
        }
      *damping = fmin (*damping * 30, 1e6);
    }
  return false;
}

/* Brings the length to what it was, by the shortest way in the measure of the
 * last system. */
static void
settle_length (Task *task)
{
  for (int i = 0; i < 6; i++)
    {
      double length;
      value_of (task, &task->now, task->feet, &length);
      if (fabs (length - task->length) < 1e-9)
        return;
      build (task);
      if (!geo_node_system_solve (&task->system, 1e-6, 2))
        return;
      for (size_t k = 0; k < task->now.count; k++)
        memset (task->system.right[k][0], 0, sizeof task->system.right[k][0]);
      apply (task, combine (task, multiplier (task, length)));
      geo_node_run_copy (&task->now, &task->next);
    }
}

/* An end handle of just the length that gives the curvature asked for:
 * k = 2/3 (T x (P2 - P0)) / h^2. Where none near does, as for k = 0, the next
 * node is moved square to T by what P2 wants. */
static void
settle_end (Task *task, bool start, double k)
{
  size_t n = geo_node_run_cubics (&task->now), next = start ? 1 : n - 1;
  GeoCubic c = geo_node_run_cubic (&task->now, start ? 0 : n - 1);
  if (!start)
    c = geo_cubic_reverse (&c);
  GeoPoint way = geo_unit (geo_sub (c.p[1], c.p[0]));
  double h = geo_distance (c.p[0], c.p[1]);
  double side = geo_cross (way, geo_sub (c.p[2], c.p[0]));
  double want = k != 0 ? sqrt (fmax (0, 2 * side / (3 * k))) : 0;
  GeoNode *end = &task->now.nodes[start ? 0 : n];
  double move = 1.5 * k * h * h - side;
  if (fabs (want - h) < 0.2 * h)
    *(start ? &end->out : &end->in) = want;
  else if (n > 1 && !is_pinned (task, next) && fabs (move) < 0.1 * h)
    task->now.nodes[next].at
        = geo_along (task->now.nodes[next].at, geo_left (way), move);
}

static void
settle_curvature (Task *task)
{
  if (task->holds_start)
    settle_end (task, true, task->wish->start_curvature);
  if (task->holds_end)
    settle_end (task, false, -task->wish->end_curvature);
}

static void
run_down (Task *task)
{
  double length, damping = 1e-3;
  task->barrier = 0;
  double value = value_of (task, &task->now, task->feet, &length);
  if (!(value < INFINITY))
    return;
  task->barrier = fmax (value, 1e-3) / (double)task->count;
  double least = fmin (EVEN, 1e-4 * value) / (double)task->count;
  for (int i = 0; i < SOFTENING && task->barrier > least; i++)
    {
      for (int k = 0; k < STEPS && improve (task, &damping); k++)
        ;
      task->barrier *= 0.15;
      damping = fmin (damping, 1e-2);
    }
  settle_curvature (task);
  if (task->wish->keep_length)
    settle_length (task);
}

static void
task_clear (Task *task)
{
  free (task->samples);
  free (task->feet);
  free (task->tried);
  free (task->cubics);
  free (task->by_length);
  geo_node_run_clear (&task->now);
  geo_node_run_clear (&task->next);
  geo_node_system_clear (&task->system);
}

/* Whether what came of it is allowed, and better. */
static bool
is_better (const Task *task, const GeoChain *made)
{
  const GeoFairWish *wish = task->wish;
  double start = geo_cubic_curvature (&made->cubics[0], 0);
  double end = geo_cubic_curvature (&made->cubics[made->count - 1], 1);
  if (wish->keep_length
      && fabs (geo_chain_length (made, 1e-10) - task->length) > 1e-6)
    return false;
  bool asked = task->holds_start || task->holds_end;
  if ((task->holds_start && fabs (start - wish->start_curvature) > 1e-6)
      || (task->holds_end && fabs (end - wish->end_curvature) > 1e-6))
    return false;
  return geo_chain_apart (task->stretch, made) <= wish->within
         && (asked
             || geo_chain_roughness (made, wish->corner)
                    < geo_chain_roughness (task->stretch, wish->corner));
}

/* False where a sample is beyond the wall. */
static bool
start_feet (Task *task)
{
  double length;
  size_t n = task->stretch->count;
  for (size_t k = 0; k < n; k++)
    task->cubics[k] = geo_node_run_cubic (&task->now, k);
  for (size_t i = 0; i < task->count; i++)
    {
      GeoFoot *foot = &task->feet[i];
      *foot = (GeoFoot){ .cubic = i / SAMPLES,
                         .u = ((double)(i % SAMPLES) + 0.5) / SAMPLES };
      geo_foot_find (task->cubics, n, task->closed, task->samples[i], 16, foot);
    }
  task->barrier = 0;
  return value_of (task, &task->now, task->feet, &length) < INFINITY;
}

/* The stretch made fair, appended. */
static bool
append_fair (const GeoChain *stretch, bool closed, bool first, bool last,
             const GeoFairWish *wish, GeoChain *fair)
{
  Task task = { .stretch = stretch,
                .wish = wish,
                .from = fair->count,
                .closed = closed };
  GeoChain made = GEO_CHAIN_EMPTY;
  bool better = false;
  task.length = geo_chain_length (stretch, 1e-10);
  task.holds_start = first && !closed && isfinite (wish->start_curvature);
  task.holds_end = last && !closed && isfinite (wish->end_curvature);
  take_samples (&task);
  for (double part = 0.97; part > 0.6 && !better && task.length > 1e-6;
       part -= 0.12)
    {
      task.wall = part * wish->within;
      task.push = 0;
      /* A smooth start finds nodes of its own, and pins are of the old. */
      bool smooth = !has_pins (&task) && find_smooth (&task, &made);
      start_run (&task, smooth ? &made : stretch);
      if (!start_feet (&task) && smooth)
        {
          start_run (&task, stretch);
          start_feet (&task);
        }
      run_down (&task);
      geo_chain_reset (&made);
      geo_node_run_append (&task.now, &made);
      if (closed)
        made.cubics[made.count - 1].p[3] = made.cubics[0].p[0];
      better = is_better (&task, &made);
    }
  geo_chain_append_chain (fair, better ? &made : stretch);
  geo_chain_clear (&made);
  task_clear (&task);
  return better;
}

bool
geo_chain_fair (const GeoChain *chain, const GeoFairWish *wish, GeoChain *fair)
{
  GeoChain stretch = GEO_CHAIN_EMPTY;
  size_t n = chain->count;
  bool better = false;
  geo_chain_reset (fair);
  if (n == 0 || !(wish->within > 0))
    {
      geo_chain_append_chain (fair, chain);
      return false;
    }
  bool round = geo_chain_is_closed (chain) && n > 1
               && turn_between (&chain->cubics[n - 1], &chain->cubics[0])
                      <= wish->corner;
  for (size_t i = 0; i < n; i++)
    {
      geo_chain_append (&stretch, chain->cubics[i]);
      if (i + 1 < n
          && turn_between (&chain->cubics[i], &chain->cubics[i + 1])
                 <= wish->corner)
        continue;
      better |= append_fair (&stretch, round && stretch.count == n,
                             stretch.count == i + 1, i + 1 == n, wish, fair);
      geo_chain_reset (&stretch);
    }
  geo_chain_clear (&stretch);
  return better;
}
