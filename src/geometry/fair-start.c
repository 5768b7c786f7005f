/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/fair-task.h"

#include "geometry/fit-run.h"
#include "geometry/fit.h"
#include "geometry/length.h"
#include "geometry/memory.h"
#include "geometry/nearest.h"

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

bool
geo_fair_find_smooth (GeoFairTask *task, GeoChain *smooth)
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

void
geo_fair_start_run (GeoFairTask *task, const GeoChain *s)
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

void
geo_fair_take_samples (GeoFairTask *task)
{
  size_t n = task->stretch->count;
  task->count = n * GEO_FAIR_SAMPLES;
  task->samples = geo_realloc (NULL, task->count, sizeof (GeoPoint));
  task->feet = geo_realloc (NULL, task->count, sizeof (GeoFoot));
  task->tried = geo_realloc (NULL, task->count, sizeof (GeoFoot));
  task->cubics = geo_realloc (NULL, n, sizeof (GeoCubic));
  task->by_length = geo_realloc (NULL, n + 1, sizeof *task->by_length);
  for (size_t i = 0; i < task->count; i++)
    {
      double t = ((double)(i % GEO_FAIR_SAMPLES) + 0.5) / GEO_FAIR_SAMPLES;
      task->samples[i]
          = geo_cubic_point (&task->stretch->cubics[i / GEO_FAIR_SAMPLES], t);
      task->feet[i] = (GeoFoot){ .cubic = i / GEO_FAIR_SAMPLES, .u = t };
    }
}

bool
geo_fair_start_feet (GeoFairTask *task)
{
  double length;
  size_t n = task->stretch->count;
  for (size_t k = 0; k < n; k++)
    task->cubics[k] = geo_node_run_cubic (&task->now, k);
  for (size_t i = 0; i < task->count; i++)
    {
      GeoFoot *foot = &task->feet[i];
      *foot = (GeoFoot){ .cubic = i / GEO_FAIR_SAMPLES,
                         .u = ((double)(i % GEO_FAIR_SAMPLES) + 0.5)
                              / GEO_FAIR_SAMPLES };
      geo_foot_find (task->cubics, n, task->closed, task->samples[i], 16, foot);
    }
  task->barrier = 0;
  return geo_fair_value (task, &task->now, task->feet, &length) < INFINITY;
}
