/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines are sorted by their left ends and each is tried against those that
 * start before it ends. A proper crossing is rounded to the grid and both lines
 * are bent to it; an end point that lies within a unit of another line cuts that
 * one and bends it there, so that lines which all but lie on each other become
 * the same. Bending moves a line by about a unit, which can make it cross a
 * neighbour it did not cross before, so the whole is repeated until a round
 * finds nothing: two or three rounds in practice, and ROUNDS at most. Every cut
 * leaves two shorter lines, so it must come to an end. */
#include "geometry/arrangement.h"
#include "geometry/memory.h"

#define ROUNDS 40

typedef struct
{
  size_t line;
  GeoGridPoint at;
  double along;
} Cut;

typedef struct
{
  int64_t left, right, low, high;
  size_t line;
} Extent;

typedef struct
{
  GeoGridLines *lines;
  Extent *extents;
  Cut *cuts;
  size_t cut_count, cut_room;
} Cutter;

void
geo_grid_lines_append (GeoGridLines *lines, GeoGridLine line)
{
  if (line.a.x == line.b.x && line.a.y == line.b.y)
    return;
  lines->lines = geo_grow (lines->lines, lines->count, &lines->room,
                           sizeof *lines->lines);
  lines->lines[lines->count++] = line;
}

void
geo_grid_lines_clear (GeoGridLines *lines)
{
  free (lines->lines);
  *lines = (GeoGridLines){ NULL, 0, 0, 0 };
}

static int
by_left (const void *a, const void *b)
{
  int64_t x = ((const Extent *)a)->left, y = ((const Extent *)b)->left;
  return (x > y) - (x < y);
}

static int
by_place (const void *a, const void *b)
{
  const Cut *x = a, *y = b;
  if (x->line != y->line)
    return x->line < y->line ? -1 : 1;
  return (x->along > y->along) - (x->along < y->along);
}

static inline bool
same (GeoGridPoint a, GeoGridPoint b)
{
  return a.x == b.x && a.y == b.y;
}

/* Twice the area of a, b, c: its sign tells the side of ab that c is on. */
static inline int64_t
side_of (GeoGridPoint a, GeoGridPoint b, GeoGridPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static void
add_cut (Cutter *cutter, size_t index, GeoGridPoint at)
{
  const GeoGridLine *l = &cutter->lines->lines[index];
  double x = (double)(l->b.x - l->a.x), y = (double)(l->b.y - l->a.y);
  if (same (at, l->a) || same (at, l->b))
    return;
  double along = ((double)(at.x - l->a.x) * x + (double)(at.y - l->a.y) * y)
                 / (x * x + y * y);
  cutter->cuts = geo_grow (cutter->cuts, cutter->cut_count, &cutter->cut_room,
                           sizeof *cutter->cuts);
  cutter->cuts[cutter->cut_count++] = (Cut){ index, at, along };
}

/* Whether p, whose side of the line is known, lies within a unit of it and
 * between its ends. */
static bool
is_touched (const GeoGridLine *l, GeoGridPoint p, int64_t side)
{
  double x = (double)(l->b.x - l->a.x), y = (double)(l->b.y - l->a.y);
  double off = (double)side;
  int64_t dot
      = (p.x - l->a.x) * (p.x - l->b.x) + (p.y - l->a.y) * (p.y - l->b.y);
  return dot < 0 && off * off <= x * x + y * y;
}

static inline int64_t
reach (const GeoGridLine *l)
{
  return llabs (l->b.x - l->a.x) + llabs (l->b.y - l->a.y);
}

static void
try_pair (Cutter *cutter, size_t i, size_t j)
{
  const GeoGridLine *l = &cutter->lines->lines[i];
  const GeoGridLine *m = &cutter->lines->lines[j];
  int64_t ma = side_of (l->a, l->b, m->a), mb = side_of (l->a, l->b, m->b);
  int64_t near = reach (l);
  if ((ma > near && mb > near) || (ma < -near && mb < -near))
    return;
  int64_t la = side_of (m->a, m->b, l->a), lb = side_of (m->a, m->b, l->b);
  near = reach (m);
  if ((la > near && lb > near) || (la < -near && lb < -near))
    return;
  size_t before = cutter->cut_count;
  if (is_touched (l, m->a, ma))
    add_cut (cutter, i, m->a);
  if (is_touched (l, m->b, mb))
    add_cut (cutter, i, m->b);
  if (is_touched (m, l->a, la))
    add_cut (cutter, j, l->a);
  if (is_touched (m, l->b, lb))
    add_cut (cutter, j, l->b);
  if (cutter->cut_count > before || (ma > 0) == (mb > 0) || (la > 0) == (lb > 0)
      || ma == 0 || mb == 0 || la == 0 || lb == 0)
    return;
  double u = (double)la / ((double)la - (double)lb);
  GeoGridPoint at
      = { l->a.x + (int64_t)llround (u * (double)(l->b.x - l->a.x)),
          l->a.y + (int64_t)llround (u * (double)(l->b.y - l->a.y)) };
  add_cut (cutter, i, at);
  add_cut (cutter, j, at);
}

static void
find_cuts (Cutter *cutter)
{
  size_t count = cutter->lines->count;
  Extent *e = cutter->extents;
  for (size_t i = 0; i < count; i++)
    {
      const GeoGridLine *l = &cutter->lines->lines[i];
      bool right = l->a.x < l->b.x, up = l->a.y < l->b.y;
      e[i] = (Extent){ right ? l->a.x : l->b.x, right ? l->b.x : l->a.x,
                       up ? l->a.y : l->b.y, up ? l->b.y : l->a.y, i };
    }
  qsort (e, count, sizeof *e, by_left);
  for (size_t i = 0; i < count; i++)
    for (size_t j = i + 1; j < count && e[j].left - 1 <= e[i].right; j++)
      if (e[i].low - 1 <= e[j].high && e[j].low - 1 <= e[i].high)
        try_pair (cutter, e[i].line, e[j].line);
}

static void
apply_cuts (Cutter *cutter)
{
  GeoGridLines *lines = cutter->lines;
  size_t next = 0;
  if (cutter->cut_count > 0)
    qsort (cutter->cuts, cutter->cut_count, sizeof *cutter->cuts, by_place);
  while (next < cutter->cut_count)
    {
      size_t index = cutter->cuts[next].line;
      GeoGridLine whole = lines->lines[index], part = whole;
      bool first = true;
      for (; next <= cutter->cut_count; next++)
        {
          bool more
              = next < cutter->cut_count && cutter->cuts[next].line == index;
          const Cut *cut = &cutter->cuts[more ? next : 0];
          part.b = more ? cut->at : whole.b;
          part.t1
              = more ? whole.t0 + cut->along * (whole.t1 - whole.t0) : whole.t1;
          if (!same (part.a, part.b))
            {
              if (first)
                lines->lines[index] = part;
              else
                geo_grid_lines_append (lines, part);
              first = false;
            }
          part.a = part.b;
          part.t0 = part.t1;
          if (!more)
            break;
        }
    }
  lines->cuts += cutter->cut_count;
}

bool
geo_grid_lines_cut (GeoGridLines *lines)
{
  Cutter cutter = { .lines = lines };
  bool settled = false;
  for (int round = 0; round < ROUNDS && !settled; round++)
    {
      cutter.cut_count = 0;
      cutter.extents
          = geo_realloc (cutter.extents, lines->count, sizeof (Extent));
      find_cuts (&cutter);
      settled = cutter.cut_count == 0;
      apply_cuts (&cutter);
      if (lines->count > 1000000)
        break;
    }
  free (cutter.extents);
  free (cutter.cuts);
  return settled;
}
