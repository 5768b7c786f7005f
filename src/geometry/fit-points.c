/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A corner is where what comes before and what goes after, each told by a
 * parabola of its own over the points within reach,
 *
 *   q (s) = a + b s + c s^2, least squares, s from the point in question,
 *
 * disagree about the direction there. The point itself is left out, for it may
 * belong to either side. A smooth bend of radius r leaves an angle of the order
 * of (reach / r)^2 only; a corner keeps its whole angle. Noise is told off by
 * straight lines over the same points, which must turn as well. Of neighbours
 * that all look like a corner the one is taken whose two parabolas fit best.
 * Reach is REACH times the tolerance: noise of its size then turns a
 * parabola's end by about a tenth of a radian.
 */
#include "geometry/fit-points.h"

#include "geometry/fit-run.h"
#include "geometry/memory.h"

#define REACH 24.0
#define LEAST_POINTS 6 /* of a side, as far as there are so many */
#define MOST_POINTS 40

typedef struct
{
  GeoPoint *q;
  double *along; /* lengths to each point */
  size_t count;
  bool closed;
  double length, reach, corner, tolerance;
} Line;

typedef struct
{
  size_t point;    /* the nearest */
  ptrdiff_t after; /* the first point beyond it, maybe less than 0 */
  GeoPoint at;
} Corner;

/* One side of a point: where the parabola puts it, its slope there, the
 * direction of a straight line, and the sum of squares left over. */
typedef struct
{
  GeoPoint at, slope, line, line_at;
  double left, line_left;
  bool bent; /* the parabola tells more than the line */
  size_t points;
} Side;

static void
read_points (Line *line, const GeoPoint *points, size_t count)
{
  size_t n = 0;
  line->q = geo_realloc (NULL, count + 1, sizeof *line->q);
  line->along = geo_realloc (NULL, count + 1, sizeof *line->along);
  for (size_t i = 0; i < count; i++)
    if (n == 0 || !geo_same (points[i], line->q[n - 1]))
      line->q[n++] = points[i];
  while (line->closed && n > 1 && geo_same (line->q[0], line->q[n - 1]))
    n--;
  line->count = n;
  line->along[0] = 0;
  for (size_t i = 1; i <= n; i++)
    line->along[i] = line->along[i - 1]
                     + geo_distance (line->q[i - 1], line->q[i < n ? i : 0]);
  line->length = line->along[line->closed || n == 0 ? n : n - 1];
  double gap = line->length / (double)(n > 1 ? n : 1);
  line->reach = fmax (REACH * line->tolerance, LEAST_POINTS * gap);
}

/* Points of one side, from the point in question, by length in reaches. */
typedef struct
{
  double s[MOST_POINTS + 1];
  GeoPoint q[MOST_POINTS + 1];
  size_t count;
} Stretch;

/* way is 1 for what follows the point, -1 for what comes before. */
static void
gather (const Line *line, size_t point, int way, double reach, Stretch *stretch)
{
  double gap = line->length / (double)line->count, turn = 0;
  double dense = reach / gap / MOST_POINTS;
  size_t every = dense > 1 ? (size_t)ceil (dense) : 1, i = point;
  stretch->count = 0;
  for (size_t n = 1; n < line->count; n++)
    {
      bool last = way > 0 ? i + 1 == line->count : i == 0;
      if (last && !line->closed)
        break;
      turn += last ? way * line->length : 0;
      i = way > 0 ? (last ? 0 : i + 1) : (last ? line->count - 1 : i - 1);
      double at = (line->along[i] + turn - line->along[point]) / reach;
      if ((stretch->count >= LEAST_POINTS && fabs (at) > 1)
          || stretch->count == MOST_POINTS)
        break;
      if (n % every != 0 && fabs (at) < 1)
        continue;
      stretch->s[stretch->count] = at;
      stretch->q[stretch->count++] = geo_sub (line->q[i], line->q[point]);
    }
}

static double
left_over (const Stretch *t, GeoPoint a, GeoPoint b, GeoPoint c)
{
  double sum = 0;
  for (size_t i = 0; i < t->count; i++)
    {
      double x = t->s[i];
      GeoPoint r = geo_sub (t->q[i], geo_along (geo_along (a, b, x), c, x * x));
      sum += geo_dot (r, r);
    }
  return sum;
}

/* Solves the normal equations for a line and, of 3 points or more, for a
 * parabola. */
static Side
solve_side (const Stretch *t, GeoPoint origin, double tolerance)
{
  double s[5] = { 0 };
  GeoPoint q[3] = { { 0, 0 }, { 0, 0 }, { 0, 0 } };
  Side side = { origin, { 0, 0 }, { 0, 0 }, origin, 0, 0, false, t->count };
  for (size_t i = 0; i < t->count; i++)
    {
      double x = t->s[i], power = 1;
      for (int k = 0; k < 5; k++, power *= x)
        {
          s[k] += power;
          if (k < 3)
            q[k] = geo_along (q[k], t->q[i], power);
        }
    }
  double det = s[0] * s[2] - s[1] * s[1];
  if (!(det > 1e-12 * s[0] * s[2]))
    return side;
  GeoPoint a = geo_scale (
      geo_sub (geo_scale (q[0], s[2]), geo_scale (q[1], s[1])), 1 / det);
  GeoPoint b = geo_scale (
      geo_sub (geo_scale (q[1], s[0]), geo_scale (q[0], s[1])), 1 / det);
  GeoPoint c = { 0, 0 };
  side.line = b;
  side.line_left = side.left = left_over (t, a, b, c);
  side.line_at = geo_add (origin, a);
  double m0 = s[2] * s[4] - s[3] * s[3], m1 = s[1] * s[4] - s[2] * s[3];
  double m2 = s[1] * s[3] - s[2] * s[2];
  double whole = s[0] * m0 - s[1] * m1 + s[2] * m2;
  if (t->count >= 3 && fabs (whole) > 1e-9 * s[0] * s[2] * s[4])
    {
      double m3 = s[0] * s[4] - s[2] * s[2], m4 = s[0] * s[3] - s[1] * s[2];
      double m5 = s[0] * s[2] - s[1] * s[1];
      a = geo_scale (q[0], m0 / whole);
      a = geo_along (geo_along (a, q[1], -m1 / whole), q[2], m2 / whole);
      b = geo_scale (q[0], -m1 / whole);
      b = geo_along (geo_along (b, q[1], m3 / whole), q[2], -m4 / whole);
      c = geo_scale (q[0], m2 / whole);
      c = geo_along (geo_along (c, q[1], -m4 / whole), q[2], m5 / whole);
    }
  side.left = left_over (t, a, b, c);
  side.slope = b;
  side.at = geo_add (origin, a);
  /* A parabola that explains no more than noise would is not to be trusted
   * beyond its points. */
  double n = (double)t->count, noise = 0.05 * tolerance;
  double chance = n > 3 ? 1 + 14 / (2 * n - 6) : 1;
  side.bent = side.line_left > chance * side.left + n * noise * noise;
  return side;
}

static void
find_sides (const Line *line, size_t point, Side *before, Side *after)
{
  Stretch t;
  gather (line, point, -1, line->reach, &t);
  *before = solve_side (&t, line->q[point], line->tolerance);
  gather (line, point, 1, line->reach, &t);
  *after = solve_side (&t, line->q[point], line->tolerance);
}

/* One side of a corner by as many points as go on in the same way, for noise
 * weighs less the more there are; at corners of exact points none more than
 * reach are asked. */
static Side
find_long_side (const Line *line, size_t point, int way)
{
  Stretch t;
  Side best = { { 0, 0 }, { 0, 0 }, { 0, 0 }, { 0, 0 }, 0, 0, false, 0 };
  for (double k = 1; k < 50; k *= 2)
    {
      gather (line, point, way, k * line->reach, &t);
      Side side = solve_side (&t, line->q[point], line->tolerance);
      double left = side.bent ? side.left : side.line_left;
      double noise = sqrt (left / (double)(side.points + 1));
      if (k > 1 && noise > 0.7 * line->tolerance)
        break;
      best = side;
      if (noise < 0.05 * line->tolerance)
        break;
    }
  return best;
}

/* The points about a corner are of the side whose line is nearer. */
static ptrdiff_t
first_after (const Line *line, const Corner *corner, GeoPoint u, GeoPoint v)
{
  ptrdiff_t n = (ptrdiff_t)line->count, point = (ptrdiff_t)corner->point;
  ptrdiff_t after = point + 2;
  for (ptrdiff_t j = point + 1; j >= point - 1; j--)
    {
      if (!line->closed && (j < 1 || j >= n))
        continue;
      GeoPoint r = geo_sub (line->q[(j + n) % n], corner->at);
      if (fabs (geo_cross (v, r)) < fabs (geo_cross (u, r)))
        after = j;
      else
        break;
    }
  return !line->closed && after > n ? n : after;
}

/* The corner at a point, its place where the sides' tangents meet unless the
 * point itself is as good. */
static Corner
place_corner (const Line *line, size_t point)
{
  Side a = find_long_side (line, point, -1),
       b = find_long_side (line, point, 1);
  GeoPoint u = geo_unit (a.bent ? a.slope : a.line);
  GeoPoint v = geo_unit (b.bent ? b.slope : b.line);
  GeoPoint on_a = a.bent ? a.at : a.line_at, on_b = b.bent ? b.at : b.line_at;
  GeoPoint q = line->q[point];
  Corner corner = { point, (ptrdiff_t)point + 1, q };
  double sine = geo_cross (u, v);
  double gap = line->length / (double)line->count;
  if (fabs (sine) > 0.05)
    {
      double s = geo_cross (geo_sub (on_b, on_a), v) / sine;
      GeoPoint at = geo_along (on_a, u, s);
      double far = geo_distance (at, q);
      if (far > 0.25 * line->tolerance && far < 1.5 * gap + line->tolerance)
        corner.at = at;
    }
  if (!geo_same (corner.at, q))
    corner.after = first_after (line, &corner, u, v);
  return corner;
}

/* What speaks for a corner at a point: less is better, INFINITY for none. */
static double
judge (const Line *line, size_t point)
{
  Side a, b;
  if (!line->closed && (point == 0 || point + 1 == line->count))
    return INFINITY;
  find_sides (line, point, &a, &b);
  double turn = fabs (geo_angle_between (a.slope, b.slope));
  double bend = fabs (geo_angle_between (a.line, b.line));
  if (!(turn > line->corner) || !(bend > 0.7 * line->corner))
    return INFINITY;
  /* What lies in the noise is told apart by the angle. */
  double left = (a.left + b.left) / (double)(a.points + b.points);
  double least = 0.01 * line->tolerance * line->tolerance;
  return (left + least) * (1.2 * M_PI - turn);
}

/* Corners better than any other within half of the reach. */
static Corner *
find_corners (const Line *line, size_t *found)
{
  size_t n = line->count;
  double *rank = geo_realloc (NULL, n, sizeof *rank);
  Corner *corners = geo_realloc (NULL, n, sizeof *corners);
  *found = 0;
  for (size_t i = 0; i < n; i++)
    rank[i] = judge (line, i);
  for (size_t i = 0; i < n; i++)
    {
      bool best = rank[i] < INFINITY;
      for (int way = -1; way <= 1 && best; way += 2)
        for (size_t k = 1; k < n && best; k++)
          {
            bool wraps = way > 0 ? i + k >= n : k > i;
            if (wraps && !line->closed)
              break;
            size_t j = way > 0 ? (i + k) % n : (i + n - k) % n;
            double far = line->along[j] - line->along[i];
            far = fabs (wraps ? far + way * line->length : far);
            if (far > line->reach / 2 && k > 1)
              break;
            best = way > 0 ? rank[j] >= rank[i] : rank[j] > rank[i];
          }
      if (best)
        corners[(*found)++] = place_corner (line, i);
    }
  free (rank);
  return corners;
}

static bool
is_straight (const Line *line, const GeoPoint *q, size_t n)
{
  GeoPoint chord = geo_sub (q[n - 1], q[0]), u = geo_unit (chord);
  double length = geo_norm (chord), before = 0;
  if (!(length > 0))
    return false;
  for (size_t i = 1; i + 1 < n; i++)
    {
      GeoPoint r = geo_sub (q[i], q[0]);
      double along = geo_dot (r, u);
      double past = fmax (0, fmax (-along, along - length));
      if (hypot (geo_cross (u, r), past) > line->tolerance
          || along < before - line->tolerance)
        return false;
      before = fmax (before, along);
    }
  return true;
}

static void
append_run (const Line *line, const GeoPoint *q, size_t n, GeoChain *chain)
{
  if (n == 2 || is_straight (line, q, n))
    {
      geo_chain_append_line (chain, q[0], q[n - 1]);
      return;
    }
  GeoNodeRun run = { NULL, 0, 0, false };
  GeoRunTarget target = { q, n, false, NULL, NULL };
  geo_run_fit (&target, line->tolerance, NULL, NULL, SIZE_MAX, &run);
  geo_node_run_append (&run, chain);
  geo_node_run_clear (&run);
}

static void
append_loop (const Line *line, GeoChain *chain)
{
  GeoNodeRun run = { NULL, 0, 0, true };
  GeoRunTarget target = { line->q, line->count, true, NULL, NULL };
  geo_run_fit (&target, line->tolerance, NULL, NULL, SIZE_MAX, &run);
  geo_node_run_append (&run, chain);
  geo_node_run_clear (&run);
}

/* No point is passed over, or taken twice, where corners crowd. */
static void
keep_order (const Line *line, Corner *corners, size_t found)
{
  ptrdiff_t n = (ptrdiff_t)line->count;
  for (size_t i = 1; i < found; i++)
    if (corners[i].after < corners[i - 1].after)
      corners[i].after = corners[i - 1].after;
  if (line->closed && found > 0
      && corners[found - 1].after > corners[0].after + n)
    corners[found - 1].after = corners[0].after + n;
}

/* From one corner to the next, past the line's end where it is closed. An open
 * line's ends are corners here. */
static void
append_between (const Line *line, const Corner *from, const Corner *to,
                GeoPoint *room, GeoChain *chain)
{
  ptrdiff_t all = (ptrdiff_t)line->count, stop = to->after;
  size_t n = 0;
  if (line->closed && to->point <= from->point)
    stop += all;
  room[n++] = from->at;
  for (ptrdiff_t i = from->after; i < stop; i++)
    {
      GeoPoint q = line->q[(i + all) % all];
      bool end = !line->closed && i + 1 == all;
      if (!end && !geo_same (q, room[n - 1]) && !geo_same (q, to->at))
        room[n++] = q;
    }
  if (!geo_same (room[n - 1], to->at) || n > 1)
    room[n++] = to->at;
  if (n > 1)
    append_run (line, room, n, chain);
}

static void
append_all (const Line *line, const Corner *corners, size_t found,
            GeoChain *chain)
{
  size_t n = line->count;
  GeoPoint *room = geo_realloc (NULL, 2 * n + 3, sizeof *room);
  if (line->closed)
    for (size_t i = 0; i < found; i++)
      append_between (line, &corners[i], &corners[(i + 1) % found], room,
                      chain);
  else
    {
      Corner from = { 0, 1, line->q[0] },
             end = { n - 1, (ptrdiff_t)n, line->q[n - 1] };
      for (size_t i = 0; i <= found; i++)
        {
          Corner to = i < found ? corners[i] : end;
          append_between (line, &from, &to, room, chain);
          from = to;
        }
    }
  free (room);
}

bool
geo_fit_points (const GeoPoint *points, size_t count, bool closed,
                double corner, double tolerance, GeoChain *chain)
{
  Line line = { .closed = closed, .corner = corner };
  line.tolerance = fmax (tolerance, 1e-9);
  geo_chain_reset (chain);
  read_points (&line, points, count);
  if (line.count >= 2)
    {
      size_t found;
      line.closed = closed && line.count > 2;
      Corner *corners = find_corners (&line, &found);
      keep_order (&line, corners, found);
      if (line.closed && found == 0)
        append_loop (&line, chain);
      else
        append_all (&line, corners, found, chain);
      if (closed && !line.closed)
        geo_chain_append_line (chain, line.q[1], line.q[0]);
      if (closed && chain->count > 0)
        chain->cubics[chain->count - 1].p[3] = chain->cubics[0].p[0];
      free (corners);
    }
  free (line.q);
  free (line.along);
  return chain->count > 0;
}
