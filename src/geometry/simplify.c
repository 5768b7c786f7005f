/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between corners the chain is sampled closely, the samples are fitted
 * (fit-run.h), and each fit that keeps to the samples is held against the chain
 * itself before it is taken.
 *
 * The bridge has its ends and directions given, so its two handles a and b are
 * free. It minimises
 *
 *   F = L^3 int (dk/ds)^2 ds + L^2 (jump of k at either end)^2 / 4
 *
 * which does not change with the size of things; by ever smaller steps from the
 * best of a grid, for F has no derivative where a handle vanishes.
 */
#include "geometry/simplify.h"

#include "geometry/apart.h"
#include "geometry/fit-run.h"
#include "geometry/memory.h"
#include "geometry/nearest.h"

#define SAMPLES 12  /* a cubic */
#define MARGIN 0.97 /* of the tolerance, for the samples */
#define POINT 1e-9  /* a cubic this small has no direction to speak of */

typedef struct
{
  const GeoChain *stretch;
  double tolerance;
  GeoChain *trial;
} Check;

static bool
holds (const GeoNodeRun *run, void *data)
{
  Check *check = data;
  geo_chain_reset (check->trial);
  geo_node_run_append (run, check->trial);
  return geo_chain_apart (check->stretch, check->trial) <= check->tolerance;
}

/* As holds, for a closed run, which may start somewhere else than the stretch:
 * both ways round by the nearest. */
static bool
holds_loop (const GeoNodeRun *run, void *data)
{
  Check *check = data;
  geo_chain_reset (check->trial);
  geo_node_run_append (run, check->trial);
  GeoChain turned = GEO_CHAIN_EMPTY;
  GeoPlace start;
  geo_chain_nearest (check->stretch, geo_chain_start (check->trial), &start);
  geo_chain_slice (check->stretch, start, start, &turned);
  bool good = geo_chain_apart (&turned, check->trial) <= check->tolerance;
  geo_chain_clear (&turned);
  return good;
}

static double
turn_between (const GeoCubic *a, const GeoCubic *b)
{
  return fabs (
      geo_angle_between (geo_cubic_tangent (a, 1), geo_cubic_tangent (b, 0)));
}

static GeoPoint *
sample (const GeoChain *stretch, bool closed, size_t *count)
{
  GeoPoint *q
      = geo_realloc (NULL, SAMPLES * stretch->count + 1, sizeof (GeoPoint));
  size_t n = 0;
  q[n++] = geo_chain_start (stretch);
  for (size_t i = 0; i < stretch->count; i++)
    for (int k = 1; k <= SAMPLES; k++)
      {
        GeoPoint p = geo_cubic_point (&stretch->cubics[i], k / (double)SAMPLES);
        if (geo_distance (p, q[n - 1]) > POINT)
          q[n++] = p;
      }
  if (closed && n > 1)
    n--;
  else
    q[n - 1] = geo_chain_end (stretch);
  *count = n;
  return q;
}

/* One stretch without corners, appended to fewer. */
static void
append_stretch (const GeoChain *stretch, bool closed, double tolerance,
                GeoChain *fewer)
{
  GeoChain trial = GEO_CHAIN_EMPTY;
  GeoNodeRun run = { NULL, 0, 0, false };
  Check check = { stretch, tolerance, &trial };
  size_t n;
  GeoPoint *q = sample (stretch, closed, &n);
  GeoPoint from = geo_cubic_tangent (&stretch->cubics[0], 0);
  GeoPoint to = geo_cubic_tangent (&stretch->cubics[stretch->count - 1], 1);
  GeoRunTarget target
      = { q, n, closed, closed ? NULL : &from, closed ? NULL : &to };
  bool fitted = false;
  if (stretch->count > 1 && n > 2)
    {
      geo_run_fit (&target, MARGIN * tolerance, closed ? holds_loop : holds,
                   &check, stretch->count, &run);
      fitted = geo_node_run_cubics (&run) > 0
               && geo_node_run_cubics (&run) < stretch->count;
    }
  if (fitted)
    {
      size_t first = fewer->count;
      geo_node_run_append (&run, fewer);
      GeoPoint end
          = closed ? fewer->cubics[first].p[0] : geo_chain_end (stretch);
      fewer->cubics[fewer->count - 1].p[3] = end;
    }
  else
    geo_chain_append_chain (fewer, stretch);
  geo_node_run_clear (&run);
  geo_chain_clear (&trial);
  free (q);
}

static void
drop_points (const GeoChain *chain, GeoChain *kept)
{
  for (size_t i = 0; i < chain->count; i++)
    if (!geo_cubic_is_point (&chain->cubics[i], POINT))
      geo_chain_append (kept, chain->cubics[i]);
  if (kept->count == 0)
    geo_chain_append_chain (kept, chain);
  else
    {
      kept->cubics[0].p[0] = geo_chain_start (chain);
      kept->cubics[kept->count - 1].p[3] = geo_chain_end (chain);
    }
}

void
geo_chain_simplify (const GeoChain *chain, double corner, double tolerance,
                    GeoChain *fewer)
{
  GeoChain whole = GEO_CHAIN_EMPTY, stretch = GEO_CHAIN_EMPTY;
  geo_chain_reset (fewer);
  if (chain->count == 0)
    return;
  drop_points (chain, &whole);
  tolerance = fmax (tolerance, 1e-9);
  bool round
      = geo_chain_is_closed (&whole) && whole.count > 1
        && turn_between (&whole.cubics[whole.count - 1], &whole.cubics[0])
               <= corner;
  for (size_t i = 0; i < whole.count; i++)
    {
      geo_chain_append (&stretch, whole.cubics[i]);
      bool last = i + 1 == whole.count;
      if (!last
          && turn_between (&whole.cubics[i], &whole.cubics[i + 1]) <= corner)
        continue;
      append_stretch (&stretch, round && stretch.count == whole.count,
                      tolerance, fewer);
      geo_chain_reset (&stretch);
    }
  geo_chain_clear (&whole);
  geo_chain_clear (&stretch);
}

typedef struct
{
  GeoPoint p0, p3, t0, t1;
  double k0, k1;
} Bridge;

static GeoCubic
bridge_cubic (const Bridge *b, double in, double out)
{
  return (GeoCubic){ { b->p0, geo_along (b->p0, b->t0, in),
                       geo_along (b->p3, b->t1, -out), b->p3 } };
}

static double
roughness (const Bridge *b, double in, double out)
{
  GeoCubic c = bridge_cubic (b, in, out);
  double sum = 0, length = 0, before = geo_cubic_curvature (&c, 0);
  double from = before - b->k0;
  for (int i = 1; i <= 32; i++)
    {
      GeoPoint v = geo_cubic_velocity (&c, (i - 0.5) / 32);
      double ds = geo_norm (v) / 32, k = geo_cubic_curvature (&c, i / 32.0);
      length += ds;
      sum += ds > 0 ? (k - before) * (k - before) / ds : 0;
      before = k;
    }
  double to = before - b->k1;
  return length * length * (length * sum + (from * from + to * to) / 4);
}

static void
smooth_bridge (const Bridge *b, double *in, double *out)
{
  double chord = geo_distance (b->p0, b->p3), best = INFINITY;
  for (int i = 0; i < 64; i++)
    {
      double x = chord * 0.1 * exp2 (0.5 * (i % 8));
      double y = chord * 0.1 * exp2 (0.5 * (i / 8));
      double f = roughness (b, x, y);
      if (f < best || i == 0)
        {
          best = f;
          *in = x;
          *out = y;
        }
    }
  for (double move = 0.2; move > 1e-5; move /= 2)
    for (int i = 0; i < 8; i++)
      {
        static const int ways[8][2]
            = { { 1, 0 }, { -1, 0 },  { 0, 1 },  { 0, -1 },
                { 1, 1 }, { -1, -1 }, { 1, -1 }, { -1, 1 } };
        double x = *in * (1 + ways[i][0] * move);
        double y = *out * (1 + ways[i][1] * move);
        double f = roughness (b, x, y);
        if (f < best && x < 3 * chord && y < 3 * chord)
          {
            best = f;
            *in = x;
            *out = y;
          }
      }
}

GeoCubic
geo_chain_bridge (const GeoChain *before, const GeoChain *after)
{
  GeoPoint p0 = geo_chain_end (before), p3 = geo_chain_start (after);
  if (before->count == 0)
    p0 = p3;
  if (after->count == 0)
    p3 = p0;
  if (!(geo_distance (p0, p3) > POINT))
    return geo_cubic_line (p0, p3);
  GeoPlace end = { before->count - 1, 1 }, start = { 0, 0 };
  Bridge b = { .p0 = p0, .p3 = p3 };
  double in, out;
  b.t0 = geo_chain_tangent (before, end);
  b.t1 = geo_chain_tangent (after, start);
  b.k0 = geo_chain_curvature (before, end);
  b.k1 = geo_chain_curvature (after, start);
  smooth_bridge (&b, &in, &out);
  return bridge_cubic (&b, in, out);
}

bool
geo_chain_join (const GeoChain *before, const GeoChain *after, double corner,
                double tolerance, GeoChain *joined)
{
  GeoChain whole = GEO_CHAIN_EMPTY, fewer = GEO_CHAIN_EMPTY;
  geo_chain_reset (joined);
  geo_chain_append_chain (&whole, before);
  if (before->count > 0 && after->count > 0
      && geo_distance (geo_chain_end (before), geo_chain_start (after)) > POINT)
    geo_chain_append (&whole, geo_chain_bridge (before, after));
  size_t joint = whole.count;
  geo_chain_append_chain (&whole, after);
  bool smooth = joint == 0 || joint == whole.count
                || turn_between (&whole.cubics[joint - 1], &whole.cubics[joint])
                       <= corner;
  /* The two cubics at a sharp joint, made one where that stays near enough. */
  if (!smooth)
    {
      GeoChain pair = { &whole.cubics[joint - 1], 2, 2 };
      geo_chain_simplify (&pair, INFINITY, tolerance, &fewer);
      smooth = fewer.count == 1;
      if (smooth)
        geo_chain_replace (&whole, joint - 1, 2, &fewer);
    }
  geo_chain_simplify (&whole, corner, tolerance, joined);
  geo_chain_clear (&whole);
  geo_chain_clear (&fewer);
  return smooth;
}
