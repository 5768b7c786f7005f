/* SPDX-License-Identifier: GPL-3.0-or-later */
/* O (t) = P (t) + d N (t) moves as O' = P' (1 - d k). The stretches of a cubic
 * are told apart so that the fit (parallel-fit.c) only ever sees regular ones:
 *
 * 1. A folded line (all control points in a line) is lines, with half turns
 *    about the turning points on the side away from the line.
 * 2. Near a cusp, or at a handle that has all but collapsed, the tangent swings
 *    while P hardly moves. Where P stays within tolerance / 8 of one point q
 *    and the tangent turns, O stays within tolerance / 8 of an arc of radius |d|
 *    about q, and an arc is what is given. With speed v and acceleration a at q
 *    the reach h of such a stretch satisfies v h + a h^2 / 2 = tolerance / 8.
 * 3. 1 - d k changes sign. Between its extrema k is monotone, so |P'| (1 - d k)
 *    has at most one root there, bracketed by the ends.
 * 4. What is left is fitted by as few cubics as will do (parallel-lay.c). A
 *    stretch that is too much at once is split, at an inflection if there is
 *    one inside, else where the tangent has turned half of the way:
 *    P' (t) x U = 0, a quadratic in Bernstein form.
 *
 * Every loop is capped: the depth of splitting by DEEPEST, the number of
 * splits of a cubic by BUDGET. When they run out the best fit so far is given;
 * curves of pattern size do not come near them.
 */
#include "geometry/parallel.h"

#include "geometry/lanes.h"
#include "geometry/parallel-arc.h"
#include "geometry/parallel-lay.h"
#include "geometry/parallel-zone.h"
#include "geometry/polynomial.h"

#define DEEPEST 24
#define BUDGET 1500
#define PROBES 9
/* Of the parameter: nearer to an end no turn is told. */
#define NO_WAY 1e-9

typedef struct
{
  GeoParallelSource source;
  double tolerance;
  GeoParallelMode mode;
  GeoChain *out;
  GeoParallelSpan *spans;
  int span_count, budget;
} Job;

/* Starts a span; what is appended from now on belongs to it. */
static void
open_span (Job *job, double t0, double t1, bool backwards)
{
  GeoParallelSpan span = { t0, t1, backwards, job->out->count, 0 };
  if (job->span_count < GEO_PARALLEL_SPANS)
    job->spans[job->span_count++] = span;
}

static void
close_span (Job *job)
{
  GeoParallelSpan *span = &job->spans[job->span_count - 1];
  span->count = job->out->count - span->first;
}

/* Where the tangent has the direction halfway between those at the ends. */
static double
halfway (const Job *job, double t0, double t1)
{
  const GeoParallelSource *s = &job->source;
  double middle = (t0 + t1) / 2, margin = 1e-3 * (t1 - t0);
  GeoPoint from = geo_parallel_sample (s, t0).tangent;
  GeoPoint to = geo_parallel_sample (s, t1).tangent;
  GeoPoint at = geo_cubic_velocity (s->c, middle);
  double turn = geo_angle_between (from, to);
  double half = geo_cross (from, at) >= 0 ? 1 : -1;
  if (turn * half < 0 && fabs (turn) > 0.5)
    turn += half * 2 * M_PI;
  if (fabs (turn) < 0.02)
    return middle;
  double c = cos (turn / 2), q = sin (turn / 2);
  GeoPoint u = { c * from.x - q * from.y, q * from.x + c * from.y };
  double f0 = geo_cross (s->v[0], u), f1 = geo_cross (s->v[1], u);
  double f2 = geo_cross (s->v[2], u), a = f0 - 2 * f1 + f2, b = f0 - f1;
  double root = b + copysign (sqrt (geo_most (b * b - a * f0, 0)), b);
  double t[2] = { root != 0 ? f0 / root : -1, a != 0 ? root / a : -1 };
  for (int i = 0; i < 2; i++)
    if (t[i] > t0 + margin && t[i] < t1 - margin
        && geo_dot (geo_cubic_velocity (s->c, t[i]), u) > 0)
      return t[i];
  return middle;
}

static double
split_place (const Job *job, double t0, double t1)
{
  double t[2], margin = 0.1 * (t1 - t0);
  int count = geo_cubic_inflections (job->source.c, t);
  for (int i = 0; i < count; i++)
    if (t[i] > t0 + margin && t[i] < t1 - margin)
      return t[i];
  return halfway (job, t0, t1);
}

/* A stretch so short that its parallel is arcs about it. */
static bool
append_dot (Job *job, double t0, double t1)
{
  GeoCubic part = geo_cubic_part (job->source.c, t0, t1);
  if (!geo_cubic_is_point (&part, job->tolerance / 8))
    return false;
  geo_parallel_append_arcs (&job->source, t0, t1,
                            geo_lerp (part.p[0], part.p[3], 0.5),
                            job->tolerance, job->out);
  return true;
}

static void
append_regular (Job *job, double t0, double t1, int depth)
{
  if (geo_parallel_lay (&job->source, t0, t1, job->tolerance, job->mode,
                        job->out))
    return;
  job->budget--;
  if (append_dot (job, t0, t1))
    return;
  if (depth >= DEEPEST || job->budget <= 0)
    {
      geo_parallel_lay_one (&job->source, t0, t1, job->tolerance, job->out);
      return;
    }
  double t = split_place (job, t0, t1);
  append_regular (job, t0, t, depth + 1);
  append_regular (job, t, t1, depth + 1);
}

static double
speed_at (const Job *job, double t)
{
  return geo_parallel_sample (&job->source, t).speed;
}

/* The root of 1 - d k between a and b, where it has opposite signs; false
 * position with the stale end halved, and a cap. */
static double
find_turn (const Job *job, double a, double b)
{
  double fa = speed_at (job, a), fb = speed_at (job, b);
  for (int i = 0; i < 60 && b - a > 1e-14; i++)
    {
      double t = i % 8 == 7 ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa);
      if (!(t > a && t < b))
        t = (a + b) / 2;
      double f = speed_at (job, t);
      if (fabs (f) <= 1e-13 * job->source.size)
        return t;
      if ((f > 0) == (fb > 0))
        {
          b = t;
          fb = f;
          fa /= 2;
        }
      else
        {
          a = t;
          fa = f;
          fb /= 2;
        }
    }
  return (a + b) / 2;
}

/* True where no place can be a cusp of the parallel, nor the source all but
 * stand still. Over each of eight parts |P'| is at least the least of its
 * Bernstein coefficients along their mean direction, and d P' x P'' at most the
 * largest of its own. */
GEO_WIDE static bool
find_regular (const GeoParallelSource *s, double tolerance)
{
  static const GeoLanes from = { 0, 1, 2, 3, 4, 5, 6, 7 };
  const GeoPoint *v = s->v, *a = s->a;
  GeoLanes t0 = from * 0.125, t1 = t0 + 0.125, s0 = 1 - t0, s1 = 1 - t1;
  GeoLanes w[3][3] = { { s0 * s0, 2 * s0 * t0, t0 * t0 },
                       { s0 * s1, s0 * t1 + s1 * t0, t0 * t1 },
                       { s1 * s1, 2 * s1 * t1, t1 * t1 } };
  /* d P' x P'' by its coefficients over the whole. */
  double c0 = 2 * s->d * geo_cross (v[0], v[1]);
  double c1 = s->d * geo_cross (v[0], v[2]);
  double c2 = 2 * s->d * geo_cross (v[1], v[2]);
  GeoLanes x[3], y[3], most = t0 - t0;
  for (int i = 0; i < 3; i++)
    {
      x[i] = w[i][0] * v[0].x + w[i][1] * v[1].x + w[i][2] * v[2].x;
      y[i] = w[i][0] * v[0].y + w[i][1] * v[1].y + w[i][2] * v[2].y;
      GeoLanes c = w[i][0] * c0 + w[i][1] * c1 + w[i][2] * c2;
      most = GEO_LANES_MAX (most, c);
    }
  GeoLanes ux = x[0] + 2 * x[1] + x[2], uy = y[0] + 2 * y[1] + y[2];
  GeoLanes n = ux * ux + uy * uy + 1e-300, least;
  geo_lanes_sqrt (&n, &n);
  least = (ux * x[0] + uy * y[0]) / n;
  for (int i = 1; i < 3; i++)
    {
      GeoLanes along = (ux * x[i] + uy * y[i]) / n;
      least = GEO_LANES_MIN (least, along);
    }
  double bend = 3 * geo_most (geo_norm (a[0]), geo_norm (a[1])) * tolerance;
  GeoLanesMask good = (least > 0) & (0.95 * least * least * least > most)
                      & (least * least > bend);
  for (int i = 0; i < GEO_LANES; i++)
    if (!good[i])
      return false;
  return true;
}

static bool
is_clearly_regular (const Job *job)
{
  bool regular = find_regular (&job->source, job->tolerance);
  geo_wide_leave ();
  return regular;
}

/* The regular spans between two zones. */
static void
append_between (Job *job, double from, double to, const double *extrema,
                int count)
{
  double start = from, before = from;
  for (int i = 0; i <= count; i++)
    {
      double place = i < count ? extrema[i] : to;
      if (i < count && (place <= before || place >= to))
        continue;
      if ((speed_at (job, before) < 0) != (speed_at (job, place) < 0))
        {
          double turn = find_turn (job, before, place);
          if (turn > geo_most (start, NO_WAY)
              && turn < geo_least (to, 1 - NO_WAY))
            {
              open_span (job, start, turn, speed_at (job, before) < 0);
              append_regular (job, start, turn, 0);
              close_span (job);
              start = turn;
            }
        }
      before = place;
    }
  open_span (job, start, to, speed_at (job, (start + to) / 2) < 0);
  append_regular (job, start, to, 0);
  close_span (job);
}

static void
append_zone (Job *job, const GeoParallelZone *zone)
{
  open_span (job, zone->from, zone->to, false);
  GeoPoint q = geo_cubic_point (job->source.c, zone->at);
  double sweep = geo_parallel_append_arcs (&job->source, zone->from, zone->to,
                                           q, job->tolerance, job->out);
  job->spans[job->span_count - 1].backwards = sweep * job->source.d > 0;
  close_span (job);
}

/* Beside a handle of next to no length that lies in line with the far one, curvature goes to its greatest and
 * back nearer to the end than extrema can be told apart from it: it begins within the way in which the
 * velocity v doubles by the acceleration a, v / a, and from there falls as one over the way. The sign of 1 - d k is looked
 * at on a ladder of ways, so that a stretch where it is negative is met if the parallel moves in it by
 * more than a part of the tolerance. Adds to places, ascending. */
static int
add_probes (const Job *job, double *places, int count)
{
  const GeoCubic *c = job->source.c;
  for (int end = 0; end < 2; end++)
    {
      double v = geo_norm (geo_cubic_velocity (c, end));
      double a = geo_norm (geo_cubic_acceleration (c, end));
      double way = geo_most (v / (2 * a + 1e-300), NO_WAY);
      if (way > 1e-4)
        continue;
      for (int i = 0; i < PROBES && way < 0.01; i++, way *= 8)
        {
          double t = end ? 1 - way : way;
          if (fabs (speed_at (job, t)) * way < job->tolerance / 64)
            continue;
          int at = count++;
          for (; at > 0 && places[at - 1] > t; at--)
            places[at] = places[at - 1];
          places[at] = t;
        }
    }
  return count;
}

static void
append_curve (Job *job)
{
  double extrema[5 + 2 * PROBES];
  GeoParallelZone zones[GEO_PARALLEL_ZONES];
  if (is_clearly_regular (job))
    {
      open_span (job, 0, 1, false);
      append_regular (job, 0, 1, 0);
      close_span (job);
      return;
    }
  int count = geo_cubic_curvature_extrema (job->source.c, extrema);
  count = add_probes (job, extrema, count);
  int zone_count = geo_parallel_zones (&job->source, job->tolerance, zones);
  double at = 0;
  for (int i = 0; i < zone_count; i++)
    {
      if (zones[i].from > at)
        append_between (job, at, zones[i].from, extrema, count);
      append_zone (job, &zones[i]);
      at = zones[i].to;
    }
  if (at < 1)
    append_between (job, at, 1, extrema, count);
}

/* Whether the legs of the control polygon have all the same direction, or none
 * but by rounding, and that direction, the way the curve sets out. (A handle
 * that is tiny but stands off makes an arc.) */
static bool
is_in_line (const GeoCubic *c, GeoPoint *direction)
{
  GeoPoint far = geo_point (0, 0);
  double scale = 0;
  for (int i = 0; i < 4; i++)
    {
      GeoPoint r = geo_sub (c->p[i], c->p[0]);
      if (geo_dot (r, r) > geo_dot (far, far))
        far = r;
      scale = geo_most (scale, geo_most (fabs (c->p[i].x), fabs (c->p[i].y)));
    }
  far = geo_scale (far, 1 / (geo_norm (far) + 1e-300));
  for (int i = 0; i < 3; i++)
    {
      GeoPoint leg = geo_sub (c->p[i + 1], c->p[i]);
      double straight = 1e-9 * geo_norm (leg) + 8e-16 * scale;
      if (fabs (geo_cross (far, leg)) > straight)
        return false;
    }
  bool back = geo_dot (far, geo_cubic_tangent (c, 0)) < 0;
  *direction = back ? geo_scale (far, -1) : far;
  return true;
}

/* A line, folded at up to two places. */
static void
append_line (Job *job, GeoPoint u)
{
  const GeoCubic *c = job->source.c;
  double d = job->source.d, f[3], t[4] = { 0 };
  int count = 1;
  for (int i = 0; i < 3; i++)
    f[i] = geo_dot (job->source.v[i], u);
  if (geo_least (geo_least (f[0], f[1]), f[2]) < 0)
    count += geo_polynomial_roots (f, 2, t + 1);
  t[count] = 1;
  GeoPoint from = c->p[0];
  double before = 1, done = 0;
  for (int i = 0; i < count; i++)
    {
      GeoPoint to = i + 1 == count ? c->p[3] : geo_cubic_point (c, t[i + 1]);
      double far = geo_dot (geo_sub (to, from), u);
      /* Two turns that are one in all but rounding, or a turn at an end. */
      if (fabs (far) <= 1e-9 * job->source.size || t[i + 1] <= done)
        continue;
      double way = far < 0 ? -1 : 1;
      GeoPoint shift = geo_scale (geo_left (u), way * d);
      GeoPoint start = geo_add (from, shift);
      if (job->span_count > 0 && way != before)
        {
          open_span (job, done, done, false);
          geo_parallel_append_arc (job->out, from, geo_sub (from, shift), start,
                                   fabs (d), -copysign (M_PI, d),
                                   job->tolerance);
          close_span (job);
        }
      open_span (job, done, t[i + 1], false);
      geo_chain_append_line (job->out, start, geo_add (to, shift));
      close_span (job);
      from = to;
      before = way;
      done = t[i + 1];
    }
  if (job->span_count > 0)
    job->spans[job->span_count - 1].t1 = 1;
}

static int
append_parallel (const GeoCubic *c, double d, double tolerance,
                 GeoParallelMode mode, GeoChain *out,
                 GeoParallelSpan spans[GEO_PARALLEL_SPANS])
{
  Job job = { .tolerance = geo_most (tolerance, 1e-6),
              .mode = mode,
              .out = out,
              .spans = spans,
              .budget = BUDGET };
  GeoCubic own = *c;
  GeoPoint u;
  geo_parallel_source_init (&job.source, &own, d);
  if (!(job.source.size > 0))
    return 0;
  if (d == 0)
    {
      open_span (&job, 0, 1, false);
      geo_chain_append (out, own);
      close_span (&job);
    }
  else if (is_in_line (c, &u))
    append_line (&job, u);
  else
    append_curve (&job);
  return job.span_count;
}

int
geo_cubic_parallel_spans (const GeoCubic *c, double d, double tolerance,
                          GeoChain *out,
                          GeoParallelSpan spans[GEO_PARALLEL_SPANS])
{
  return append_parallel (c, d, tolerance, GEO_PARALLEL_FAST, out, spans);
}

bool
geo_cubic_parallel_in (const GeoCubic *c, double d, double tolerance,
                       GeoParallelMode mode, GeoChain *out)
{
  GeoParallelSpan spans[GEO_PARALLEL_SPANS];
  return append_parallel (c, d, tolerance, mode, out, spans) > 0;
}

bool
geo_cubic_parallel (const GeoCubic *c, double d, double tolerance,
                    GeoChain *out)
{
  return geo_cubic_parallel_in (c, d, tolerance, GEO_PARALLEL_QUALITY, out);
}

bool
geo_chain_parallel (const GeoChain *chain, double d, double tolerance,
                    GeoChain *out)
{
  GeoPoint arriving = { 0, 0 }, first = { 0, 0 };
  size_t base = out->count;
  bool any = false;
  tolerance = geo_most (tolerance, 1e-6);
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      if (geo_cubic_is_point (c, 0))
        continue;
      GeoPoint leaving = geo_cubic_tangent (c, 0);
      if (any)
        geo_parallel_append_joint (out, c->p[0], arriving, leaving, d,
                                   tolerance);
      else
        first = leaving;
      geo_cubic_parallel (c, d, tolerance, out);
      arriving = geo_cubic_tangent (c, 1);
      any = true;
    }
  if (any && geo_chain_is_closed (chain))
    {
      geo_parallel_append_joint (out, geo_chain_start (chain), arriving, first,
                                 d, tolerance);
      out->cubics[out->count - 1].p[3] = out->cubics[base].p[0];
    }
  return any;
}
