/* SPDX-License-Identifier: GPL-3.0-or-later */
/* By t of a cubic of the source, v = |P'| and s' = v,
 *
 *   O' = (v - d (P' x P'') / v^2) T + d' v N.
 *
 * Each cubic is cut where the knots lie, and where the part of O' along T
 * changes sign: about there, where d' is small, O turns round within a little
 * way. Where the source can be taken for a point while its tangent swings, as
 * at a cusp, O is arcs about it (parallel-zone.c). What lies between is fitted
 * as a stretch of the parallel is (parallel-lay.c), only that the feet ask
 * for O and the direction of O' one by one; and halved where that fails, which
 * is capped in depth and number.
 *
 * Where the width is nothing the source itself is given.
 */
#include "geometry/parallel-varying.h"

#include "geometry/length.h"
#include "geometry/parallel-arc.h"
#include "geometry/parallel-lay.h"
#include "geometry/parallel-zone.h"
#include "geometry/parallel.h"

#define DEEPEST 24
#define BUDGET 1500
/* Of the size of a cubic: no velocity at all. */
#define NONE 1e-12
#define LOOKS 8
#define MOST_CUTS (8 * LOOKS)

/* O along one piece of one cubic. The source is first, so that a pointer to it
 * is one to the whole. */
typedef struct
{
  GeoParallelSource source;
  const GeoProfile *profile;
  const GeoRuler *ruler;
  size_t index;   /* of the cubic in its chain */
  size_t stretch; /* of the profile */
  double from, to;
} Course;

typedef struct
{
  Course course;
  double tolerance;
  GeoChain *out;
  int budget;
  double cuts[MOST_CUTS];
  int cut_count;
} Job;

static GeoPoint
source_tangent (const Course *course, double t)
{
  GeoPoint v = geo_cubic_velocity (course->source.c, t);
  double n = geo_norm (v);
  return n > NONE * course->source.size
             ? geo_scale (v, 1 / n)
             : geo_cubic_tangent (course->source.c, t);
}

static double
width_at (const Course *course, double t, double *slope)
{
  double s
      = geo_ruler_length_to (course->ruler, (GeoPlace){ course->index, t });
  return geo_profile_on (course->profile, course->stretch, s, slope);
}

/* The part of O' along T. */
static double
pace_at (const Course *course, double t)
{
  const GeoCubic *c = course->source.c;
  double slope, d = width_at (course, t, &slope);
  GeoPoint v = geo_cubic_velocity (c, t);
  double n = geo_norm (v);
  if (!(n > NONE * course->source.size))
    return 0;
  return n - d * geo_cross (v, geo_cubic_acceleration (c, t)) / (n * n);
}

/* O' where P' does not vanish. */
static GeoPoint
velocity_at (const Course *course, double t)
{
  GeoPoint u = source_tangent (course, t);
  double slope, n = geo_norm (geo_cubic_velocity (course->source.c, t));
  width_at (course, t, &slope);
  return geo_along (geo_scale (u, pace_at (course, t)), geo_left (u),
                    slope * n);
}

static void
sample_course (const GeoParallelSource *source, double t,
               GeoParallelSample *sample)
{
  const Course *course = (const Course *)source;
  double d = width_at (course, t, NULL);
  GeoPoint v = velocity_at (course, t), p = geo_cubic_point (source->c, t);
  double n = geo_norm (v), part = 1e-6;
  sample->t = t;
  sample->turn = 0;
  sample->at = geo_along (p, geo_left (source_tangent (course, t)), d);
  /* Where O stands still, the way it goes a little farther inside. */
  for (; !(n > 1e-9 * source->size) && part < 0.1; part *= 10)
    {
      double reach = part * (course->to - course->from);
      bool early = t < (course->from + course->to) / 2;
      v = velocity_at (course, early ? t + reach : t - reach);
      n = geo_norm (v);
    }
  sample->speed = n;
  sample->tangent = n > 0 ? geo_scale (v, 1 / n) : source_tangent (course, t);
}

/* Where the pace changes sign between a and b, if it does. */
static void
cut_turn (Job *job, double a, double b)
{
  double low = pace_at (&job->course, a), high = pace_at (&job->course, b);
  if (!(low * high < 0))
    return;
  for (int i = 0; i < 50 && b - a > 1e-14; i++)
    {
      double middle = (a + b) / 2;
      if ((pace_at (&job->course, middle) > 0) == (high > 0))
        b = middle;
      else
        a = middle;
    }
  if (job->cut_count < MOST_CUTS - 1)
    job->cuts[job->cut_count++] = (a + b) / 2;
}

/* The pace is looked at between the extrema of the curvature. */
static void
cut_turns (Job *job)
{
  const Course *course = &job->course;
  double t[7] = { course->from }, extrema[5];
  int count = geo_cubic_curvature_extrema (course->source.c, extrema), n = 1;
  for (int i = 0; i < count; i++)
    if (extrema[i] > t[n - 1] && extrema[i] < course->to)
      t[n++] = extrema[i];
  t[n++] = course->to;
  for (int i = 1; i < n; i++)
    for (int j = 0; j < LOOKS; j++)
      {
        double step = (t[i] - t[i - 1]) / LOOKS;
        cut_turn (job, t[i - 1] + j * step, t[i - 1] + (j + 1) * step);
      }
}

/* Where the source is all but the point q: arcs about it, with the ends moved to
 * where O is. */
static void
append_near (Job *job, double t0, double t1, GeoPoint q)
{
  GeoParallelSample from, to;
  GeoParallelSource plain;
  GeoChain *out = job->out;
  size_t first = out->count;
  double d = width_at (&job->course, (t0 + t1) / 2, NULL);
  job->course.from = t0;
  job->course.to = t1;
  sample_course (&job->course.source, t0, &from);
  sample_course (&job->course.source, t1, &to);
  if (fabs (d) <= job->tolerance / 8)
    {
      geo_chain_append_line (out, from.at, to.at);
      return;
    }
  geo_parallel_source_init (&plain, job->course.source.c, d);
  geo_parallel_append_arcs (&plain, t0, t1, q, job->tolerance, out);
  GeoCubic *c = &out->cubics[first], *last = &out->cubics[out->count - 1];
  GeoPoint start = geo_parallel_sample (&plain, t0).at;
  if (out->count - first > 1)
    c->p[1] = geo_add (c->p[1], geo_sub (c->p[0], start));
  last->p[2] = geo_add (last->p[2], geo_sub (to.at, last->p[3]));
  last->p[3] = to.at;
}

static void
lay_piece (Job *job, double t0, double t1, int depth)
{
  const GeoParallelSource *source = &job->course.source;
  if (geo_parallel_lay (source, t0, t1, job->tolerance, GEO_PARALLEL_QUALITY,
                        job->out))
    return;
  GeoCubic part = geo_cubic_part (source->c, t0, t1);
  if (geo_cubic_is_point (&part, job->tolerance / 16))
    {
      append_near (job, t0, t1, geo_lerp (part.p[0], part.p[3], 0.5));
      return;
    }
  if (depth >= DEEPEST || --job->budget <= 0)
    {
      geo_parallel_lay_one (source, t0, t1, job->tolerance, job->out);
      return;
    }
  double t = (t0 + t1) / 2;
  lay_piece (job, t0, t, depth + 1);
  lay_piece (job, t, t1, depth + 1);
}

/* Whether O is a straight line from cut to cut. */
static bool
is_line (const Course *course)
{
  const GeoCubic *c = course->source.c;
  GeoPoint u = source_tangent (course, course->from);
  for (int i = 0; i < 3; i++)
    if (fabs (geo_cross (u, course->source.v[i])) > 1e-9 * course->source.size)
      return false;
  GeoPoint way = geo_sub (geo_cubic_point (c, course->to),
                          geo_cubic_point (c, course->from));
  return geo_dot (u, way) >= 0
         && (course->profile->kind == GEO_PROFILE_STRAIGHT
             || geo_profile_is_level (course->profile, course->stretch));
}

static void
append_piece (Job *job)
{
  const Course *course = &job->course;
  double t0 = course->from, t1 = course->to;
  if (is_line (course))
    {
      GeoParallelSample from, to;
      sample_course (&course->source, t0, &from);
      sample_course (&course->source, t1, &to);
      geo_chain_append_line (job->out, from.at, to.at);
    }
  else
    lay_piece (job, t0, t1, 0);
}

/* Between two zones. */
static void
append_regular (Job *job, double t0, double t1)
{
  Course *course = &job->course;
  course->from = t0;
  course->to = t1;
  job->cut_count = 0;
  cut_turns (job);
  job->cuts[job->cut_count++] = t1;
  for (int i = 0; i < job->cut_count; i++)
    {
      course->to = job->cuts[i];
      if (course->to > course->from)
        append_piece (job);
      course->from = course->to;
    }
}

/* The zones of the source about which, as wide as O is there, arcs keep within
 * tolerance whatever the slope. */
static int
find_zones (const Job *job, GeoParallelZone zones[GEO_PARALLEL_ZONES])
{
  const GeoProfile *profile = job->course.profile;
  size_t stretch = job->course.stretch;
  const GeoProfileKnot *k = profile->knots, *a = k, *b = k;
  double steep = 0;
  if (stretch > 0)
    a = &k[stretch - 1];
  b = stretch < profile->count ? &k[stretch] : a;
  if (b->at > a->at)
    steep = 2.5 * fabs (b->d - a->d) / (b->at - a->at);
  GeoParallelSource widest;
  geo_parallel_source_init (&widest, job->course.source.c,
                            geo_most (fabs (a->d), fabs (b->d)));
  return geo_parallel_zones (&widest, job->tolerance / (1 + steep), zones);
}

/* One cubic, or one stretch of the profile along it. */
static void
append_stretch (Job *job, double t0, double t1)
{
  Course *course = &job->course;
  const GeoCubic *c = course->source.c;
  GeoParallelZone zones[GEO_PARALLEL_ZONES];
  bool level = geo_profile_is_level (course->profile, course->stretch);
  double d = width_at (course, t0, NULL), at = t0;
  if (level && d == 0)
    geo_chain_append (job->out, geo_cubic_part (c, t0, t1));
  else if (level && t0 == 0 && t1 == 1)
    geo_cubic_parallel (c, d, job->tolerance, job->out);
  else
    {
      int count = find_zones (job, zones);
      for (int i = 0; i < count; i++)
        {
          double from = geo_most (zones[i].from, at);
          double to = geo_least (zones[i].to, t1);
          if (to <= from)
            continue;
          if (from > at)
            append_regular (job, at, from);
          append_near (job, from, to, geo_cubic_point (c, zones[i].at));
          at = to;
        }
      if (at < t1)
        append_regular (job, at, t1);
    }
}

static void
append_cubic (Job *job, const GeoCubic *c, size_t index)
{
  Course *course = &job->course;
  const GeoProfile *profile = course->profile;
  const double *before = course->ruler->before;
  geo_parallel_source_init (&course->source, c, 0);
  course->source.course = sample_course;
  course->index = index;
  size_t i = 0;
  double t = 0;
  while (i < profile->count && profile->knots[i].at <= before[index])
    i++;
  for (; t < 1; i++)
    {
      double end = 1;
      if (i < profile->count && profile->knots[i].at < before[index + 1])
        {
          GeoPlace place
              = geo_ruler_place (course->ruler, profile->knots[i].at);
          end = place.cubic == index ? place.t : place.cubic < index ? 0 : 1;
        }
      course->stretch = i;
      if (1 - end < 1e-9)
        end = 1;
      if (end - t > 1e-9)
        append_stretch (job, t, end);
      if (end - t > 1e-9)
        t = end;
    }
}

static bool
is_level (const GeoProfile *profile)
{
  for (size_t i = 1; i < profile->count; i++)
    if (!geo_profile_is_level (profile, i))
      return false;
  return true;
}

/* All cubics that are not points, with what joins them. */
static bool
append_chain (Job *job, const GeoChain *chain)
{
  const Course *course = &job->course;
  GeoPoint arriving = { 0, 0 }, first = { 0, 0 };
  size_t base = job->out->count;
  const double *before = course->ruler->before;
  bool any = false;
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      if (geo_cubic_is_point (c, 0))
        continue;
      GeoPoint leaving = geo_cubic_tangent (c, 0);
      double d = geo_profile_at (course->profile, before[i], NULL);
      if (any)
        geo_parallel_append_joint (job->out, c->p[0], arriving, leaving, d,
                                   job->tolerance);
      else
        first = leaving;
      append_cubic (job, c, i);
      arriving = geo_cubic_tangent (c, 1);
      any = true;
    }
  double d = geo_profile_at (course->profile, 0, NULL);
  double last = geo_profile_at (course->profile, before[chain->count], NULL);
  if (any && geo_chain_is_closed (chain)
      && fabs (d - last) <= 1e-9 * (1 + fabs (d)))
    {
      geo_parallel_append_joint (job->out, geo_chain_start (chain), arriving,
                                 first, d, job->tolerance);
      job->out->cubics[job->out->count - 1].p[3] = job->out->cubics[base].p[0];
    }
  return any;
}

bool
geo_chain_parallel_varying (const GeoChain *chain, const GeoProfileKnot *knots,
                            size_t n, GeoProfileKind kind, double tolerance,
                            GeoChain *out)
{
  GeoProfile profile = { knots, n, kind };
  if (!geo_profile_is_sound (&profile))
    return false;
  if (is_level (&profile))
    return geo_chain_parallel (chain, knots[0].d, tolerance, out);
  GeoRuler ruler;
  geo_ruler_init (&ruler, chain, 1e-10);
  Job job = { .course = { .profile = &profile, .ruler = &ruler },
              .tolerance = geo_most (tolerance, 1e-6),
              .out = out,
              .budget = BUDGET };
  bool any = append_chain (&job, chain);
  geo_ruler_clear (&ruler);
  return any;
}

bool
geo_cubic_parallel_varying (const GeoCubic *c, const GeoProfileKnot *knots,
                            size_t n, GeoProfileKind kind, double tolerance,
                            GeoChain *out)
{
  GeoCubic own = *c;
  GeoChain chain = { &own, 1, 1 };
  return geo_chain_parallel_varying (&chain, knots, n, kind, tolerance, out);
}
