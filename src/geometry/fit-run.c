/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For a given number of cubics all nodes are freed at once: places, directions
 * and handles. With u the foot of a point q on the run (where (q - C) . C' = 0)
 * and N the normal there, the distance is
 *
 *   e = (q - C (u)) . N,   de = -dC (u) . N
 *
 * to first order, whatever the foot does. Damped Gauss-Newton steps
 * (Levenberg, Marquardt) bring the sum of w e^2 down, then weights
 * w *= |e| / max |e| (Lawson) lead towards the least largest distance. Nodes
 * slide along the curve as they please, so the breaks are found with the rest.
 *
 * How many: the error of a cubic falls with the sixth power of its length, so
 * a cubic with the error e_k stands for about (e_k / tolerance)^(1/6) of them.
 * The sum is the next number to try, and breaks that share it out evenly are
 * where to start. The number is closed in on from both sides.
 */
#include "geometry/fit-run.h"

#include "geometry/fit-run-task.h"
#include "geometry/memory.h"

#include <string.h>

#define N GEO_FREEDOMS
#define STEPS 200
/* A step that gains less is the last before weights are changed. */
#define SLOW 0.995
#define LAWSON_STEPS 14
#define ATTEMPTS 40
#define FOOT_STEPS 5
#define MOST_TRIES 6 /* of runs that keep to the points, but do not hold */
#define MOST_EVEN 8
#define LONGEST_HANDLE 1.2 /* of the cubic's length */

static void
make_room (GeoRunTask *task, size_t cubics)
{
  if (cubics + 1 <= task->room)
    return;
  task->room = 2 * cubics + 2;
  task->breaks = geo_realloc (task->breaks, task->room, sizeof (double));
  task->errors = geo_realloc (task->errors, task->room, sizeof (double));
  task->cubics = geo_realloc (task->cubics, task->room, sizeof (GeoCubic));
}

static void
task_init (GeoRunTask *task, const GeoRunTarget *target, double tolerance)
{
  size_t n = target->count;
  memset (task, 0, sizeof *task);
  task->target = target;
  task->tolerance = tolerance;
  task->along = geo_realloc (NULL, n + 1, sizeof (double));
  task->feet = geo_realloc (NULL, n, sizeof (GeoFoot));
  task->tried = geo_realloc (NULL, n, sizeof (GeoFoot));
  task->weight = geo_realloc (NULL, n, sizeof (double));
  task->along[0] = 0;
  for (size_t i = 1; i <= n; i++)
    task->along[i]
        = task->along[i - 1]
          + geo_distance (target->points[i - 1], target->points[i < n ? i : 0]);
  task->length = task->along[target->closed ? n : n - 1];
}

static void
task_clear (GeoRunTask *task)
{
  free (task->along);
  free (task->feet);
  free (task->tried);
  free (task->weight);
  free (task->breaks);
  free (task->errors);
  free (task->cubics);
  geo_node_run_clear (&task->now);
  geo_node_run_clear (&task->next);
  geo_node_system_clear (&task->system);
}

/* Feet of all points on a run; returns the weighted sum of squares. */
static double
measure (GeoRunTask *task, const GeoNodeRun *run, GeoFoot *feet, double *worst)
{
  size_t n = geo_node_run_cubics (run);
  double sum = 0;
  *worst = 0;
  for (size_t k = 0; k < n; k++)
    {
      task->cubics[k] = geo_node_run_cubic (run, k);
      task->errors[k] = 0;
    }
  for (size_t i = 0; i < task->target->count; i++)
    {
      geo_foot_find (task->cubics, n, run->closed, task->target->points[i],
                     FOOT_STEPS, &feet[i]);
      sum += task->weight[i] * feet[i].off * feet[i].off;
      *worst = fmax (*worst, feet[i].far);
      double *most = &task->errors[feet[i].cubic];
      *most = fmax (*most, feet[i].far);
    }
  return sum;
}

/* All rows of the feet; task->cubics are those of the run. */
static void
build (GeoRunTask *task)
{
  const GeoNodeRun *run = &task->now;
  size_t n = geo_node_run_cubics (run), last = run->count - 1;
  geo_node_system_reset (&task->system, run->count);
  GeoNodeBlock *blocks = geo_realloc (NULL, n, sizeof *blocks);
  memset (blocks, 0, n * sizeof *blocks);
  for (size_t i = 0; i < task->target->count; i++)
    {
      const GeoFoot *f = &task->feet[i];
      const GeoCubic *c = &task->cubics[f->cubic];
      double u = f->u, s = 1 - u, by_point[8], row[2 * N];
      const double b[4]
          = { s * s * s, 3 * s * s * u, 3 * s * u * u, u * u * u };
      GeoPoint normal = geo_left (geo_unit (geo_cubic_velocity (c, u)));
      for (int k = 0; k < 4; k++)
        {
          by_point[2 * k] = b[k] * normal.x;
          by_point[2 * k + 1] = b[k] * normal.y;
        }
      size_t to = f->cubic + 1 < run->count ? f->cubic + 1 : 0;
      geo_node_row (&run->nodes[f->cubic], &run->nodes[to], by_point, row);
      geo_node_block_add (&blocks[f->cubic], row, task->weight[i], f->off);
    }
  for (size_t k = 0; k < n; k++)
    geo_node_system_add (&task->system, k, k + 1 < run->count ? k + 1 : 0,
                         &blocks[k]);
  free (blocks);
  if (run->closed)
    return;
  bool *start = task->system.held[0], *end = task->system.held[last];
  start[0] = start[1] = start[3] = true;
  end[0] = end[1] = end[4] = true;
  start[2] = task->target->start_tangent != NULL;
  end[2] = task->target->end_tangent != NULL;
}

static double
held_within (double x, double least, double most)
{
  return fmin (fmax (x, least), most);
}

/* The solved step, held to what keeps a run a run. */
static void
apply (GeoRunTask *task)
{
  size_t n = geo_node_run_cubics (&task->now);
  geo_node_run_copy (&task->next, &task->now);
  for (size_t i = 0; i < task->now.count; i++)
    {
      GeoNode *node = &task->next.nodes[i];
      const double *d = task->system.right[i][0];
      const GeoNode *before
          = &task->now.nodes[i > 0 ? i - 1 : task->now.count - 1];
      const GeoNode *after
          = &task->now.nodes[i + 1 < task->now.count ? i + 1 : 0];
      double in = geo_distance (before->at, node->at) + before->out + node->in;
      double out = geo_distance (after->at, node->at) + after->in + node->out;
      double most = 0.3 * fmin (in, out), far = hypot (d[0], d[1]);
      double k = far > most ? most / far : 1;
      node->at = geo_point (node->at.x + k * d[0], node->at.y + k * d[1]);
      node->angle += held_within (d[2], -0.5, 0.5);
      double longest = LONGEST_HANDLE * (task->breaks[n] / (double)n);
      node->in = held_within (node->in + d[3], 0.02 * in,
                              fmin (1.3 * in, 3 * longest));
      node->out = held_within (node->out + d[4], 0.02 * out,
                               fmin (1.3 * out, 3 * longest));
    }
}

static void
reweigh (GeoRunTask *task, double worst)
{
  size_t n = task->target->count;
  double sum = 0;
  for (size_t i = 0; i < n; i++)
    {
      task->weight[i] *= 0.2 + task->feet[i].far / worst;
      sum += task->weight[i];
    }
  for (size_t i = 0; i < n; i++)
    task->weight[i] *= (double)n / sum;
}

/* One accepted step, or none where nothing helps. */
static bool
improve (GeoRunTask *task, double *sum, double *worst, double *damping)
{
  size_t size = task->target->count * sizeof (GeoFoot);
  for (int i = 0; i < 6; i++)
    {
      double w;
      build (task);
      if (geo_node_system_solve (&task->system, *damping, 1))
        {
          apply (task);
          memcpy (task->tried, task->feet, size);
          double s = measure (task, &task->next, task->tried, &w);
          if (s < *sum)
            {
              geo_node_run_copy (&task->now, &task->next);
              memcpy (task->feet, task->tried, size);
              *sum = s;
              *worst = w;
              *damping = fmax (*damping * 0.15, 1e-9);
              return true;
            }
          measure (task, &task->now, task->feet, &w);
        }
      *damping = fmin (*damping * 10, 1e4);
    }
  return false;
}

static double
polygon_length (const GeoCubic *c, double from, double to)
{
  GeoCubic part = geo_cubic_part (c, from, to);
  double length = 0;
  for (int k = 0; k < 3; k++)
    length += geo_distance (part.p[k], part.p[k + 1]);
  return length;
}

/* Of the run from one foot to a later one, past its end if need be. Feet that go
 * back a little, as noise has them do, have nothing between them. */
static double
way_between (const GeoRunTask *task, const GeoFoot *a, const GeoFoot *b)
{
  size_t n = geo_node_run_cubics (&task->now);
  bool wraps = a->cubic > b->cubic && a->cubic - b->cubic > n / 2;
  size_t last = b->cubic + (wraps ? n : 0);
  if (a->cubic > last || (a->cubic == last && a->u >= b->u))
    return 0;
  double length = 0;
  for (size_t k = a->cubic; k <= last; k++)
    length += polygon_length (&task->cubics[k % n], k == a->cubic ? a->u : 0,
                              k == last ? b->u : 1);
  return length;
}

/* Whether there is no more of the run between two feet than there is between
 * their points: no loop hides there, and no cubic that no point looks after
 * strays. */
static bool
runs_on (const GeoRunTask *task)
{
  const GeoRunTarget *t = task->target;
  size_t n = t->count;
  for (size_t i = t->closed ? 0 : 1; i < n; i++)
    {
      size_t before = i > 0 ? i - 1 : n - 1;
      double gap = geo_distance (t->points[before], t->points[i]);
      if (way_between (task, &task->feet[before], &task->feet[i])
          > 2 * gap + 4 * task->tolerance)
        return false;
    }
  return true;
}

static bool
is_done (const GeoRunTask *task, double worst, GeoRunHolds holds, void *data)
{
  return worst <= task->tolerance && runs_on (task)
         && (!holds || holds (&task->now, data));
}

/* With n cubics and the breaks as they are. */
static bool
try_count (GeoRunTask *task, size_t n, GeoRunHolds holds, void *data,
           double *worst)
{
  double damping = 1e-3, before = INFINITY;
  int lawson = 0, tries = 0;
  for (size_t i = 0; i < task->target->count; i++)
    task->weight[i] = 1;
  geo_run_start (task, n);
  double sum = measure (task, &task->now, task->feet, worst);
  for (int i = 0; i < STEPS; i++)
    {
      bool level = sum > SLOW * before;
      if (*worst <= task->tolerance && is_done (task, *worst, holds, data))
        return true;
      tries += *worst <= task->tolerance;
      if (tries > MOST_TRIES || (i > 8 && *worst > 50 * task->tolerance))
        return false;
      before = sum;
      if (level && *worst > 4 * task->tolerance)
        return false;
      if (level && lawson++ == LAWSON_STEPS)
        return false;
      if (level)
        {
          reweigh (task, *worst);
          before = INFINITY;
          sum = measure (task, &task->now, task->feet, worst);
        }
      if (!improve (task, &sum, worst, &damping))
        {
          if (level || *worst > 4 * task->tolerance)
            return false;
          before = 0;
          damping = 1e-3;
        }
    }
  return false;
}

static void
even_breaks (GeoRunTask *task, size_t n)
{
  make_room (task, n);
  for (size_t k = 0; k <= n; k++)
    task->breaks[k] = task->length * (double)k / (double)n;
}

/* How many cubics each one tried stands for. */
static double
wanted (const GeoRunTask *task, size_t k)
{
  return fmin (fmax (pow (task->errors[k] / task->tolerance, 1.0 / 6), 0.4),
               50);
}

static double
wanted_in_all (const GeoRunTask *task, size_t n)
{
  double sum = 0;
  for (size_t k = 0; k < n; k++)
    sum += wanted (task, k);
  return sum;
}

/* Lengths at which the nodes stand by now: at the first foot on each cubic. */
static void
find_breaks (const GeoRunTask *task, size_t n, double *at)
{
  memcpy (at, task->breaks, n * sizeof (double));
  at[n] = task->length;
  if (task->target->closed)
    return;
  size_t k = 0;
  for (size_t i = 0; i < task->target->count; i++)
    while (k < task->feet[i].cubic)
      at[++k] = task->along[i];
  while (++k < n)
    at[k] = task->length;
}

/* n breaks in place of old, each with as much wanted after it. */
static void
share_out (GeoRunTask *task, size_t old, size_t n)
{
  double *want = geo_realloc (NULL, 2 * old + 1, sizeof (double));
  double *at = want + old, all = wanted_in_all (task, old);
  for (size_t k = 0; k < old; k++)
    want[k] = wanted (task, k);
  find_breaks (task, old, at);
  make_room (task, n);
  size_t k = 0;
  double before = 0;
  task->breaks[0] = 0;
  for (size_t i = 1; i < n; i++)
    {
      double goal = all * (double)i / (double)n;
      while (k + 1 < old && before + want[k] < goal)
        before += want[k++];
      double f = (goal - before) / want[k];
      task->breaks[i]
          = fmin (fmax (at[k] + f * (at[k + 1] - at[k]), task->breaks[i - 1]),
                  task->length);
    }
  task->breaks[n] = task->length;
  free (want);
}

/* Where nothing else does: a cubic an interval, through all points. */
static double
join_points (GeoRunTask *task, GeoNodeRun *run)
{
  const GeoRunTarget *t = task->target;
  size_t n = t->closed ? t->count : t->count - 1;
  make_room (task, n);
  for (size_t i = 0; i <= n; i++)
    task->breaks[i] = task->along[i];
  geo_run_start (task, n);
  geo_node_run_copy (run, &task->now);
  return 0;
}

typedef struct
{
  size_t fails, does; /* counts known to; does is 0 while there is none */
} Bounds;

static size_t
next_count (const GeoRunTask *task, const Bounds *b, size_t n, bool done,
            size_t most)
{
  if (done)
    return b->does - b->fails <= 4 ? b->does - 1 : (b->does + b->fails) / 2;
  double guess = fmin (ceil (wanted_in_all (task, n)), 4.0 * (double)n);
  size_t next = guess > (double)n + 1 ? (size_t)guess : n + 1;
  if (b->does > 0)
    return next < b->does ? next : b->does - 1;
  return next < most ? next : most;
}

/* Several starts: breaks as they are, then shared out anew after what came of
 * them, then even ones. */
static bool
try_starts (GeoRunTask *task, size_t n, GeoRunHolds holds, void *data,
            double *worst)
{
  for (int i = 0; i < GEO_RUN_SHARES; i++)
    {
      task->variant = n == 1 ? i : 0;
      if (try_count (task, n, holds, data, worst))
        return true;
      if (n > 1)
        share_out (task, n, n);
    }
  task->variant = 0;
  if (n == 1 || n > MOST_EVEN)
    return false;
  even_breaks (task, n);
  return try_count (task, n, holds, data, worst);
}

static double
fewest (GeoRunTask *task, GeoRunHolds holds, void *data, size_t limit,
        GeoNodeRun *run)
{
  const GeoRunTarget *t = task->target;
  size_t most = t->closed ? t->count : t->count - 1, n = t->closed ? 2 : 1;
  most = most < limit ? most : limit - 1;
  Bounds b = { n - 1, 0 };
  double worst = 0, best = 0;
  even_breaks (task, n);
  for (int i = 0; i < ATTEMPTS && n <= most; i++)
    {
      bool done = try_starts (task, n, holds, data, &worst);
      if (done)
        {
          geo_node_run_copy (run, &task->now);
          best = worst;
          b.does = n;
        }
      else
        b.fails = n;
      if (b.does == b.fails + 1 || (!done && n == most))
        break;
      size_t next = next_count (task, &b, n, done, most);
      share_out (task, n, next);
      n = next;
    }
  if (b.does > 0)
    return best;
  geo_node_run_reset (run, t->closed);
  return limit < SIZE_MAX ? INFINITY : join_points (task, run);
}

double
geo_run_fit (const GeoRunTarget *target, double tolerance, GeoRunHolds holds,
             void *data, size_t limit, GeoNodeRun *run)
{
  GeoRunTask task;
  geo_node_run_reset (run, target->closed);
  task_init (&task, target, tolerance);
  double worst = limit > 1 ? fewest (&task, holds, data, limit, run) : INFINITY;
  task_clear (&task);
  return worst;
}
