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
#include "geometry/fair-task.h"
#include "geometry/length.h"

#include <stdlib.h>

GeoFairWish
geo_fair_wish (double within)
{
  return (GeoFairWish){ within, 0.35, false, NAN, NAN, NULL, 0 };
}

bool
geo_fair_is_pinned (const GeoFairTask *task, size_t node)
{
  for (size_t i = 0; i < task->wish->pin_count; i++)
    if (task->wish->pins[i] == task->from + node)
      return true;
  return false;
}

static bool
has_pins (const GeoFairTask *task)
{
  for (size_t i = 0; i < task->stretch->count; i++)
    if (geo_fair_is_pinned (task, i))
      return true;
  return false;
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
          sum += geo_fair_change_of (&part);
        }
      const GeoCubic *d = &chain->cubics[i + 1 < n ? i + 1 : 0];
      if ((i + 1 == n && !geo_chain_is_closed (chain))
          || turn_between (c, d) > corner)
        continue;
      double jump = geo_cubic_curvature (d, 0) - geo_cubic_curvature (c, 1);
      double over
          = GEO_FAIR_JUMP
            * fmin (geo_fair_rough_length (c), geo_fair_rough_length (d));
      sum += jump * jump / fmax (over, 1e-9);
    }
  return fmin (sum, 1e30);
}

static void
task_clear (GeoFairTask *task)
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
is_better (const GeoFairTask *task, const GeoChain *made)
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

/* The stretch made fair, appended. */
static bool
append_fair (const GeoChain *stretch, bool closed, bool first, bool last,
             const GeoFairWish *wish, GeoChain *fair)
{
  GeoFairTask task = {
    .stretch = stretch, .wish = wish, .from = fair->count, .closed = closed
  };
  GeoChain made = GEO_CHAIN_EMPTY;
  bool better = false;
  task.length = geo_chain_length (stretch, 1e-10);
  task.holds_start = first && !closed && isfinite (wish->start_curvature);
  task.holds_end = last && !closed && isfinite (wish->end_curvature);
  geo_fair_take_samples (&task);
  for (double part = 0.97; part > 0.6 && !better && task.length > 1e-6;
       part -= 0.12)
    {
      task.wall = part * wish->within;
      task.push = 0;
      /* A smooth start finds nodes of its own, and pins are of the old. */
      bool smooth = !has_pins (&task) && geo_fair_find_smooth (&task, &made);
      geo_fair_start_run (&task, smooth ? &made : stretch);
      if (!geo_fair_start_feet (&task) && smooth)
        {
          geo_fair_start_run (&task, stretch);
          geo_fair_start_feet (&task);
        }
      geo_fair_run_down (&task);
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
