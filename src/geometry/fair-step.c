/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Damped Gauss-Newton steps down the barrier: the method stands in fair.c. */
#include "geometry/fair-task.h"

#include "geometry/fair-rows.h"
#include "geometry/length.h"
#include "geometry/memory.h"

#include <string.h>

#define N GEO_FREEDOMS
#define SOFTENING 12
#define STEPS 20
/* F is 0 on a circle; less of it than this no eye tells from that, and staying
 * near is worth more. */
#define EVEN 1e-2

static size_t
next_node (const GeoNodeRun *run, size_t i)
{
  return i + 1 < run->count ? i + 1 : 0;
}

/* Weight of a jump at either end of a cubic. */
static double
jump_weight (const GeoFairTask *task, const GeoCubic *c)
{
  double h = fmax (GEO_FAIR_JUMP * geo_fair_rough_length (c), 1e-9);
  return task->length * task->length * task->length / h;
}

double
geo_fair_value (GeoFairTask *task, const GeoNodeRun *run, GeoFoot *feet,
                double *length)
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
      sum += scale * geo_fair_change_of (c)
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
add_change (const GeoFairTask *task, size_t k, GeoNodeBlock *block)
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
add_wall (const GeoFairTask *task, const GeoFoot *foot, GeoNodeBlock *block)
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
add_length (GeoFairTask *task)
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
build (GeoFairTask *task)
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
    if (geo_fair_is_pinned (task, i))
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
combine (GeoFairTask *task, double l)
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
apply (GeoFairTask *task, double most)
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
multiplier (const GeoFairTask *task, double length)
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
merit (const GeoFairTask *task, double value, double length)
{
  if (!task->wish->keep_length)
    return value;
  return value + 2 * task->push * fabs (length - task->length);
}

/* Part of the step that was solved for, if that is better. */
static bool
take_step (GeoFairTask *task, double part, double before)
{
  double length;
  apply (task, part);
  memcpy (task->tried, task->feet, task->count * sizeof (GeoFoot));
  double value = geo_fair_value (task, &task->next, task->tried, &length);
  if (!(merit (task, value, length) < before))
    return false;
  geo_node_run_copy (&task->now, &task->next);
  memcpy (task->feet, task->tried, task->count * sizeof (GeoFoot));
  return true;
}

static bool
improve (GeoFairTask *task, double *damping)
{
  double length, value = geo_fair_value (task, &task->now, task->feet, &length);
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
                value = geo_fair_value (task, &task->now, task->feet, &length);
                return merit (task, value, length)
                       < before - 1e-6 * fabs (before);
              }
          geo_fair_value (task, &task->now, task->feet, &length);
        }
      *damping = fmin (*damping * 30, 1e6);
    }
  return false;
}

/* Brings the length to what it was, by the shortest way in the measure of the
 * last system. */
static void
settle_length (GeoFairTask *task)
{
  for (int i = 0; i < 6; i++)
    {
      double length;
      geo_fair_value (task, &task->now, task->feet, &length);
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
settle_end (GeoFairTask *task, bool start, double k)
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
  else if (n > 1 && !geo_fair_is_pinned (task, next) && fabs (move) < 0.1 * h)
    task->now.nodes[next].at
        = geo_along (task->now.nodes[next].at, geo_left (way), move);
}

static void
settle_curvature (GeoFairTask *task)
{
  if (task->holds_start)
    settle_end (task, true, task->wish->start_curvature);
  if (task->holds_end)
    settle_end (task, false, -task->wish->end_curvature);
}

void
geo_fair_run_down (GeoFairTask *task)
{
  double length, damping = 1e-3;
  task->barrier = 0;
  double value = geo_fair_value (task, &task->now, task->feet, &length);
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
