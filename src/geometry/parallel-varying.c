/* SPDX-License-Identifier: GPL-3.0-or-later */
/* By t of a cubic of the source, v = |P'| and s' = v,
 *
 *   O' = (v - d (P' x P'') / v^2) T + d' v N.
 *
 * Each cubic is cut where the knots lie, where P' vanishes, and where the part
 * of O' along T changes sign: about there, where d' is small, O turns round
 * within a little way. Where the source all but stands still, at a distance v /
 * |P''| in t about the place of least v, its tangent swings: cuts are put
 * about that place, each eight times as far off as the one before, so that no
 * piece hides a swing from its feet. What lies between two cuts is fitted as
 * a stretch of the parallel is (parallel-lay.c), only that the feet ask for O
 * and the direction of O' one by one; and halved where that fails, which is
 * capped in depth and number.
 *
 * Where the width is nothing the source itself is given.
 */
#include "geometry/parallel-varying.h"

#include "geometry/length.h"
#include "geometry/memory.h"
#include "geometry/parallel-arc.h"
#include "geometry/parallel-lay.h"
#include "geometry/parallel.h"
#include "geometry/polynomial.h"

#include <stdlib.h>

#define DEEPEST 24
#define BUDGET 1500
/* Of the size of a cubic: no velocity at all; so little that it swings. */
#define NONE 1e-12
#define SLOW 0.03
#define LOOKS 8

typedef struct
{
  double t;
  bool cusp;
} Cut;

/* O along one piece of one cubic. The source is first, so that a pointer to it
 * is one to the whole. */
typedef struct
{
  GeoParallelSource source;
  const GeoProfile *profile;
  const GeoRuler *ruler;
  size_t index;   /* of the cubic in its chain */
  size_t stretch; /* of the profile */
  Cut from, to;
} Course;

typedef struct
{
  Course course;
  double tolerance;
  GeoChain *out;
  int budget;
  Cut *cuts;
  size_t cut_count, cut_room;
} Job;

/* The direction the source runs in; at a cusp that is an end of the piece, the
 * limit from inside of it. */
static GeoPoint
source_tangent (const Course *course, double t)
{
  const GeoCubic *c = course->source.c;
  GeoPoint v = geo_cubic_velocity (c, t), a = geo_cubic_acceleration (c, t);
  double n = geo_norm (a);
  if (course->from.cusp && t <= course->from.t && n > 0)
    return geo_scale (a, 1 / n);
  if (course->to.cusp && t >= course->to.t && n > 0)
    return geo_scale (a, -1 / n);
  n = geo_norm (v);
  return n > NONE * course->source.size ? geo_scale (v, 1 / n)
                                        : geo_cubic_tangent (c, t);
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
      double reach = part * (course->to.t - course->from.t);
      bool early = t < (course->from.t + course->to.t) / 2;
      v = velocity_at (course, early ? t + reach : t - reach);
      n = geo_norm (v);
    }
  sample->speed = n;
  sample->tangent = n > 0 ? geo_scale (v, 1 / n) : source_tangent (course, t);
}

static void
add_cut (Job *job, double t, bool cusp)
{
  if (!(t >= job->course.from.t && t <= job->course.to.t)
      || (cusp && !(t > job->course.from.t && t < job->course.to.t)))
    return;
  job->cuts
      = geo_grow (job->cuts, job->cut_count, &job->cut_room, sizeof *job->cuts);
  job->cuts[job->cut_count++] = (Cut){ t, cusp };
}

static int
compare_cuts (const void *a, const void *b)
{
  const Cut *x = a, *y = b;
  return (x->t > y->t) - (x->t < y->t);
}

/* In order, those that lie together taken for one. */
static void
sort_cuts (Job *job)
{
  size_t kept = 0;
  qsort (job->cuts, job->cut_count, sizeof *job->cuts, compare_cuts);
  for (size_t i = 0; i < job->cut_count; i++)
    {
      if (kept > 0 && job->cuts[i].t - job->cuts[kept - 1].t < 1e-12)
        job->cuts[kept - 1].cusp |= job->cuts[i].cusp;
      else
        job->cuts[kept++] = job->cuts[i];
    }
  job->cut_count = kept;
}

/* About a place where the source is slow, if it is. */
static void
cut_about (Job *job, double t)
{
  const GeoCubic *c = job->course.source.c;
  double size = job->course.source.size;
  double v = geo_norm (geo_cubic_velocity (c, t));
  double a = geo_norm (geo_cubic_acceleration (c, t));
  if (v > SLOW * size || v <= NONE * size)
    return;
  add_cut (job, t, false);
  double reach = geo_most (2 * v / (a + size), 1e-9);
  for (; reach < 0.2; reach *= 8)
    {
      add_cut (job, t - reach, false);
      add_cut (job, t + reach, false);
    }
}

static void
cut_slow (Job *job)
{
  const GeoPoint *v = job->course.source.v, *a = job->course.source.a;
  double b[4] = { geo_dot (v[0], a[0]),
                  (2 * geo_dot (v[1], a[0]) + geo_dot (v[0], a[1])) / 3,
                  (geo_dot (v[2], a[0]) + 2 * geo_dot (v[1], a[1])) / 3,
                  geo_dot (v[2], a[1]) };
  double t[3], cusps[2];
  int count = geo_polynomial_roots (b, 3, t);
  int cusp_count = geo_cubic_cusps (job->course.source.c, cusps);
  for (int i = 0; i < cusp_count; i++)
    add_cut (job, cusps[i], true);
  for (int i = 0; i < count; i++)
    {
      bool known = false;
      for (int j = 0; j < cusp_count; j++)
        known |= fabs (t[i] - cusps[j]) < 1e-6;
      if (!known)
        cut_about (job, t[i]);
    }
  cut_about (job, 0);
  cut_about (job, 1);
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
  add_cut (job, (a + b) / 2, false);
}

/* The pace is looked at between the extrema of the curvature. */
static void
cut_turns (Job *job)
{
  const Course *course = &job->course;
  double t[7] = { course->from.t }, extrema[5];
  int count = geo_cubic_curvature_extrema (course->source.c, extrema), n = 1;
  for (int i = 0; i < count; i++)
    if (extrema[i] > t[n - 1] && extrema[i] < course->to.t)
      t[n++] = extrema[i];
  t[n++] = course->to.t;
  for (int i = 1; i < n; i++)
    for (int j = 0; j < LOOKS; j++)
      {
        double step = (t[i] - t[i - 1]) / LOOKS;
        cut_turn (job, t[i - 1] + j * step, t[i - 1] + (j + 1) * step);
      }
}

static void
lay_piece (Job *job, double t0, double t1, int depth)
{
  const GeoParallelSource *source = &job->course.source;
  if (geo_parallel_lay (source, t0, t1, job->tolerance, GEO_PARALLEL_QUALITY,
                        job->out))
    return;
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
  GeoPoint u = source_tangent (course, course->from.t);
  for (int i = 0; i < 3; i++)
    if (fabs (geo_cross (u, course->source.v[i])) > 1e-9 * course->source.size)
      return false;
  GeoPoint way = geo_sub (geo_cubic_point (c, course->to.t),
                          geo_cubic_point (c, course->from.t));
  return geo_dot (u, way) >= 0
         && (course->profile->kind == GEO_PROFILE_STRAIGHT
             || geo_profile_is_level (course->profile, course->stretch));
}

static void
append_piece (Job *job)
{
  const Course *course = &job->course;
  double t0 = course->from.t, t1 = course->to.t;
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

/* About the point of a cusp, to where the next piece starts. */
static void
append_cusp (Job *job, double t)
{
  const Course *course = &job->course;
  double d = width_at (course, t, NULL);
  GeoPoint p = geo_cubic_point (course->source.c, t);
  GeoPoint to = geo_along (p, geo_left (source_tangent (course, t)), d);
  if (fabs (d) > job->tolerance / 8)
    geo_parallel_append_arc (job->out, p, geo_chain_end (job->out), to,
                             fabs (d), -copysign (M_PI, d), job->tolerance);
}

/* One cubic, or one stretch of the profile along it. */
static void
append_stretch (Job *job, double t0, double t1)
{
  Course *course = &job->course;
  const GeoCubic *c = course->source.c;
  bool level = geo_profile_is_level (course->profile, course->stretch);
  course->from = (Cut){ t0, false };
  course->to = (Cut){ t1, false };
  double d = width_at (course, t0, NULL);
  if (level && d == 0)
    {
      geo_chain_append (job->out, geo_cubic_part (c, t0, t1));
      return;
    }
  if (level && t0 == 0 && t1 == 1)
    {
      geo_cubic_parallel (c, d, job->tolerance, job->out);
      return;
    }
  job->cut_count = 0;
  add_cut (job, t0, false);
  add_cut (job, t1, false);
  cut_slow (job);
  cut_turns (job);
  sort_cuts (job);
  for (size_t i = 1; i < job->cut_count; i++)
    {
      course->from = job->cuts[i - 1];
      course->to = job->cuts[i];
      if (course->from.cusp && i > 1)
        append_cusp (job, course->from.t);
      append_piece (job);
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
  free (job.cuts);
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
