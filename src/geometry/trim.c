/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chain that does not cross itself and has a positive area is its own border.
 * One that crosses itself plainly is taken apart at its crossings
 * (trim-crossed.c). Of any other, what crosses what is settled on polylines, where it can be settled for good
 * (arrangement.h); where it crosses, on the cubics:
 *
 * 1. Each cubic is flattened, its lines remembering their part of it.
 * 2. The lines' border is found and walked. Lines that follow on each other in
 *    one cubic are one run of it.
 * 3. Where two runs meet at a crossing, Newton's method on A (s) = B (t) takes
 *    the joint from the polylines' crossing to the cubics' own.
 * 4. The runs' parts of the cubics, joined, are the answer, if every run still
 *    runs its way and the whole does not cross itself. Where it does, cubics
 *    passed each other so closely that the polylines missed it: all is done
 *    again with finer ones.
 * 5. Should the finest not do, the polyline itself is given, fine enough for the
 *    tolerance: it cannot cross itself.
 */
#include "geometry/trim.h"

#include "geometry/crossing.h"
#include "geometry/memory.h"
#include "geometry/region.h"
#include "geometry/trim-crossed.h"

#include <string.h>

#define MOST_LINES 400 /* a cubic */
#define FEWER_LINES 3  /* each time, so that they end elsewhere */
#define SLIP 16

typedef struct
{
  GeoPoint centre;
  double scale; /* grid units a mm, a power of 2 */
} Grid;

typedef struct
{
  size_t cubic;
  double t0, t1;
  bool forward;
  GeoPoint to; /* joint with the next run */
} Run;

typedef struct
{
  const GeoChain *raw;
  double tolerance, flat;
  double most; /* lines a cubic */
  Grid grid;
} Trim;

static bool
set_grid (Trim *trim)
{
  GeoBox box = geo_box_empty ();
  for (size_t i = 0; i < trim->raw->count; i++)
    for (int j = 0; j < 4; j++)
      box = geo_box_add (box, trim->raw->cubics[i].p[j]);
  double half = fmax (box.x1 - box.x0, box.y1 - box.y0) / 2;
  if (!(half > 1e-9) || !(half < 1e9))
    return false;
  trim->grid.centre = geo_point ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2);
  trim->grid.scale = exp2 (floor (log2 (0.98 * (double)GEO_GRID / half)));
  return true;
}

static GeoGridPoint
to_grid (const Grid *grid, GeoPoint p)
{
  return (GeoGridPoint){ llround ((p.x - grid->centre.x) * grid->scale),
                         llround ((p.y - grid->centre.y) * grid->scale) };
}

static GeoPoint
from_grid (const Grid *grid, GeoGridPoint p)
{
  return geo_point (grid->centre.x + (double)p.x / grid->scale,
                    grid->centre.y + (double)p.y / grid->scale);
}

/* Lines enough that no part of the cubic stands off its line by more than flat,
 * |P''| h^2 / 8, where only what of P'' is square to the line counts, and that
 * what runs along it misplaces no t by more than SLIP times that. P'' is at most 6
 * times the longer second difference. The lines' directions are within those of
 * the legs; off is the sine of the widest from the chord. */
static int
line_count (const GeoCubic *c, double flat, double most)
{
  GeoPoint u = geo_unit (geo_sub (c->p[3], c->p[0])), legs[3];
  double off = 0, across = 0, along = 0;
  for (int i = 0; i < 3; i++)
    {
      legs[i] = geo_sub (c->p[i + 1], c->p[i]);
      double length = geo_norm (legs[i]);
      if (!(geo_dot (u, legs[i]) >= 0))
        off = 1;
      else if (length > 0)
        off = geo_most (off, fabs (geo_cross (u, legs[i])) / length);
    }
  if (u.x == 0 && u.y == 0)
    u = geo_point (1, 0);
  for (int i = 0; i < 2; i++)
    {
      GeoPoint d = geo_sub (legs[i + 1], legs[i]);
      across = geo_most (across, fabs (geo_cross (u, d)));
      along = geo_most (along, fabs (geo_dot (u, d)));
    }
  double worst = geo_most (across + off * along, (across + along) / SLIP);
  double n = sqrt (0.75 * worst / flat);
  return (int)ceil (geo_least (geo_most (n, 1), most));
}

static void
flatten (const Trim *trim, GeoGridLines *lines)
{
  for (size_t i = 0; i < trim->raw->count; i++)
    {
      const GeoCubic *c = &trim->raw->cubics[i];
      int n = line_count (c, trim->flat, trim->most);
      GeoGridLine line = { .a = to_grid (&trim->grid, c->p[0]), .cubic = i };
      size_t before = lines->count;
      for (int j = 1; j <= n; j++)
        {
          double t = j == n ? 1 : (double)j / n;
          line.b = to_grid (&trim->grid, geo_cubic_point (c, t));
          line.t1 = t;
          size_t count = lines->count;
          geo_grid_lines_append (lines, line);
          if (lines->count == count)
            continue;
          line.a = line.b;
          line.t0 = t;
        }
      if (lines->count > before)
        lines->lines[lines->count - 1].t1 = 1;
    }
}

static bool
follows (const GeoGridLine *a, const GeoGridLine *b)
{
  return a->cubic == b->cubic && fabs (a->t1 - b->t0) < 1e-12
         && (a->t1 > a->t0) == (b->t1 > b->t0);
}

/* The loop's runs; room for as many as it has lines. */
static size_t
find_runs (const GeoGridLine *lines, size_t count, Run *runs)
{
  size_t start = 0, kept = 0;
  while (start < count
         && follows (&lines[(start + count - 1) % count], &lines[start]))
    start++;
  for (size_t i = 0; i < count; i++)
    {
      const GeoGridLine *l = &lines[(start + i) % count];
      if (i > 0 && follows (&lines[(start + i + count - 1) % count], l))
        runs[kept - 1].t1 = l->t1;
      else
        runs[kept++] = (Run){
          .cubic = l->cubic, .t0 = l->t0, .t1 = l->t1, .forward = l->t1 > l->t0
        };
    }
  return kept;
}

/* Newton's method for A (s) = B (t). */
static bool
find_crossing (const GeoCubic *a, const GeoCubic *b, double *s, double *t)
{
  for (int i = 0; i < 16; i++)
    {
      GeoPoint f = geo_sub (geo_cubic_point (b, *t), geo_cubic_point (a, *s));
      GeoPoint va = geo_cubic_velocity (a, *s), vb = geo_cubic_velocity (b, *t);
      double det = geo_cross (va, vb);
      if (geo_dot (f, f) < 1e-22)
        return true;
      if (fabs (det) < 1e-10 * geo_norm (va) * geo_norm (vb))
        return false;
      *s = fmin (fmax (*s + geo_cross (f, vb) / det, 0), 1);
      *t = fmin (fmax (*t + geo_cross (f, va) / det, 0), 1);
    }
  GeoPoint f = geo_sub (geo_cubic_point (b, *t), geo_cubic_point (a, *s));
  return geo_dot (f, f) < 1e-18;
}

static bool
join_runs (const Trim *trim, Run *run, Run *next)
{
  const GeoCubic *a = &trim->raw->cubics[run->cubic];
  const GeoCubic *b = &trim->raw->cubics[next->cubic];
  GeoPoint pa = geo_cubic_point (a, run->t1),
           pb = geo_cubic_point (b, next->t0);
  double s = run->t1, t = next->t0, gap = geo_distance (pa, pb);
  run->to = pa;
  if (gap <= GEO_TRIM_SAME)
    return true;
  if (find_crossing (a, b, &s, &t)
      && geo_distance (pa, geo_cubic_point (a, s)) <= 40 * trim->flat)
    {
      run->t1 = s;
      next->t0 = t;
      run->to = geo_cubic_point (a, s);
      return true;
    }
  /* Too nearly parallel to have a crossing that can be told. */
  run->to = geo_lerp (pa, pb, 0.5);
  return gap <= trim->tolerance / 2;
}

static bool
build_runs (const Trim *trim, const GeoGridLine *lines, size_t count,
            GeoTrimLoop *loop)
{
  Run *runs = geo_realloc (NULL, count, sizeof *runs);
  size_t n = find_runs (lines, count, runs);
  bool good = true;
  for (size_t i = 0; i < n && good; i++)
    good = join_runs (trim, &runs[i], &runs[(i + 1) % n]);
  for (size_t i = 0; i < n && good; i++)
    {
      GeoPoint from = runs[(i + n - 1) % n].to;
      good
          = runs[i].forward ? runs[i].t1 > runs[i].t0 : runs[i].t1 < runs[i].t0;
      GeoCubic part = geo_cubic_part (&trim->raw->cubics[runs[i].cubic],
                                      runs[i].t0, runs[i].t1);
      part = geo_trim_moved (part, from, runs[i].to);
      if (!geo_cubic_is_point (&part, GEO_TRIM_SAME))
        geo_trim_append (
            loop, part,
            (GeoTrimOrigin){ runs[i].cubic, runs[i].t0, runs[i].t1 });
    }
  free (runs);
  size_t kept = loop->chain.count;
  if (good && kept > 0)
    loop->chain.cubics[kept - 1].p[3] = loop->chain.cubics[0].p[0];
  return good && kept > 0;
}

static void
build_lines (const Trim *trim, const GeoGridLine *lines, size_t count,
             GeoTrimLoop *loop)
{
  for (size_t i = 0; i < count; i++)
    geo_trim_append (
        loop,
        geo_cubic_line (from_grid (&trim->grid, lines[i].a),
                        from_grid (&trim->grid, lines[i].b)),
        (GeoTrimOrigin){ lines[i].cubic, lines[i].t0, lines[i].t1 });
}

static bool
build_loop (const Trim *trim, const GeoGridBorder *border,
            const GeoGridLoop *found, bool as_lines, GeoTrimResult *result)
{
  const GeoGridLine *lines = border->lines + found->first;
  GeoTrimLoop loop = { .chain = GEO_CHAIN_EMPTY };
  loop.origins = geo_realloc (NULL, found->count, sizeof *loop.origins);
  bool good = true;
  if (as_lines)
    build_lines (trim, lines, found->count, &loop);
  else
    good = build_runs (trim, lines, found->count, &loop)
           && (found->pinched || !geo_chain_crosses_itself (&loop.chain));
  loop.area = geo_chain_area (&loop.chain);
  result->loops[result->count++] = loop;
  return good;
}

static int
by_area (const void *a, const void *b)
{
  double x = fabs (((const GeoGridLoop *)a)->area);
  double y = fabs (((const GeoGridLoop *)b)->area);
  return (x < y) - (x > y);
}

static void
copy_raw (const GeoChain *raw, double area, GeoTrimResult *result)
{
  size_t n = raw->count;
  result->loops = geo_realloc (NULL, 1, sizeof *result->loops);
  GeoTrimLoop *loop = &result->loops[result->count++];
  *loop = (GeoTrimLoop){ .chain = GEO_CHAIN_EMPTY };
  geo_chain_copy (&loop->chain, raw);
  loop->origins = geo_realloc (NULL, n, sizeof *loop->origins);
  for (size_t i = 0; i < n; i++)
    loop->origins[i] = (GeoTrimOrigin){ i, 0, 1 };
  loop->area = area;
  result->untouched = true;
}

static bool
build_border (const Trim *trim, GeoGridBorder *border, bool as_lines,
              GeoTrimResult *result)
{
  double unit = 1 / (trim->grid.scale * trim->grid.scale);
  bool good = true;
  qsort (border->loops, border->loop_count, sizeof *border->loops, by_area);
  for (size_t i = 0; i < border->loop_count && good; i++)
    if (i == 0 || fabs (border->loops[i].area) * unit > GEO_TRIM_SMALLEST)
      good = build_loop (trim, border, &border->loops[i], as_lines, result);
  return good;
}

static bool
trim_once (Trim *trim, GeoInsideRule rule, bool as_lines, GeoTrimResult *result)
{
  GeoGridLines lines = { NULL, 0, 0, 0 };
  GeoGridBorder border = { NULL, 0, NULL, 0 };
  flatten (trim, &lines);
  bool good = geo_grid_lines_cut (&lines);
  if (good)
    geo_grid_border (&lines, rule, &border);
  if (good && border.loop_count > 0)
    {
      result->loops
          = geo_realloc (NULL, border.loop_count, sizeof *result->loops);
      good = build_border (trim, &border, as_lines, result);
    }
  geo_grid_border_clear (&border);
  geo_grid_lines_clear (&lines);
  return good;
}

void
geo_trim_result_clear (GeoTrimResult *result)
{
  for (size_t i = 0; i < result->count; i++)
    {
      geo_chain_clear (&result->loops[i].chain);
      free (result->loops[i].origins);
    }
  free (result->loops);
  *result = (GeoTrimResult){ NULL, 0, false };
}

/* Without polylines, where that can be done. */
static bool
trim_exactly (const GeoChain *raw, GeoInsideRule rule, GeoTrimResult *result)
{
  double area = geo_chain_area (raw);
  GeoCrossings list;
  geo_crossings_init (&list);
  geo_chain_self_crossings (raw, &list);
  bool good = list.count == 0 && area > 0;
  if (good)
    copy_raw (raw, area, result);
  else if (list.count > 0)
    good = geo_trim_crossed (raw, &list, rule, result);
  geo_crossings_clear (&list);
  if (!good)
    geo_trim_result_clear (result);
  return good;
}

/* What one closed chain winds about hangs together, if only at a point. Where a
 * line ends just there, rounding may draw the point out into a bridge that has
 * nothing on either side, and the border into two. */
static bool
hangs_together (GeoInsideRule rule, const GeoTrimResult *result)
{
  size_t outlines = 0;
  for (size_t i = 0; i < result->count; i++)
    outlines += result->loops[i].area > 0;
  return rule != GEO_INSIDE_NONZERO || outlines == 1;
}

/* With finer polylines, and at last as lines, until one gives a border that is
 * good, and where wanted whole, in one. */
static bool
trim_finer (Trim *trim, GeoInsideRule rule, bool whole, GeoTrimResult *result)
{
  static const double finer[] = { 0.25, 0.03, 0.004, 0.5 };
  for (int i = 0; i < (whole ? 3 : 4); i++)
    {
      geo_trim_result_clear (result);
      trim->flat = finer[i] * trim->tolerance;
      trim->most = MOST_LINES - FEWER_LINES * i;
      if (trim_once (trim, rule, i == 3, result)
          && (!whole || hangs_together (rule, result)))
        return true;
    }
  return false;
}

bool
geo_trim (const GeoChain *raw, GeoInsideRule rule, double tolerance,
          GeoTrimResult *result)
{
  Trim trim = { .raw = raw, .tolerance = tolerance };
  *result = (GeoTrimResult){ NULL, 0, false };
  if (raw->count == 0 || !set_grid (&trim))
    return false;
  if (!trim_exactly (raw, rule, result)
      && !trim_finer (&trim, rule, true, result))
    trim_finer (&trim, rule, false, result);
  return result->count > 0 && result->loops[0].area > 0;
}
