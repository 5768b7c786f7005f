/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A proper crossing is rounded to the grid and both lines
 * are bent to it; an end point that lies within a unit of another line cuts that
 * one and bends it there, so that lines which all but lie on each other become
 * the same. Bending moves a line by about a unit, which can make it cross a
 * neighbour it did not cross before, so the whole is repeated until a round
 * finds nothing: two or three rounds in practice, and ROUNDS at most. Every cut
 * leaves two shorter lines, so it must come to an end.
 *
 * Pairs are looked for in a binary tree of boxes over the lines in their
 * order along the chain, where neighbours in the tree are neighbours on the
 * paper: a stretch is tried against the next by their halves, as far as boxes
 * meet. */
#include "geometry/arrangement.h"
#include "geometry/memory.h"

#define ROUNDS 40

typedef struct
{
  size_t line;
  GeoGridPoint at;
  double along;
} Cut;

/* Empty when left > right. */
typedef struct
{
  int32_t left, right, low, high;
} Extent;

typedef struct
{
  GeoGridLines *lines;
  Extent *tree; /* node 1 is the root, i's halves are 2 i and 2 i + 1, line j
                   is leaf leaves + j */
  size_t leaves;
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

static Extent
extent_of (const GeoGridLine *l)
{
  bool right = l->a.x < l->b.x, up = l->a.y < l->b.y;
  return (Extent){ (int32_t)(right ? l->a.x : l->b.x),
                   (int32_t)(right ? l->b.x : l->a.x),
                   (int32_t)(up ? l->a.y : l->b.y),
                   (int32_t)(up ? l->b.y : l->a.y) };
}

/* Closer than a unit counts as meeting. */
static inline bool
extents_meet (const Extent *a, const Extent *b)
{
  return a->left - 1 <= b->right && b->left - 1 <= a->right
         && a->low - 1 <= b->high && b->low - 1 <= a->high
         && a->left <= a->right && b->left <= b->right;
}

static void
grow_tree (Cutter *cutter)
{
  size_t count = cutter->lines->count, leaves = 1;
  while (leaves < count)
    leaves *= 2;
  cutter->leaves = leaves;
  cutter->tree = geo_realloc (cutter->tree, 2 * leaves, sizeof (Extent));
  Extent *tree = cutter->tree;
  for (size_t i = 0; i < leaves; i++)
    tree[leaves + i] = i < count ? extent_of (&cutter->lines->lines[i])
                                 : (Extent){ 1, 0, 1, 0 };
  for (size_t i = leaves - 1; i > 0; i--)
    {
      const Extent *a = &tree[2 * i], *b = &tree[2 * i + 1];
      if (b->left > b->right)
        tree[i] = *a;
      else
        tree[i] = (Extent){ a->left < b->left ? a->left : b->left,
                            a->right > b->right ? a->right : b->right,
                            a->low < b->low ? a->low : b->low,
                            a->high > b->high ? a->high : b->high };
    }
}

/* All pairs of a line of one node with a line of another on the same level. */
static void
try_nodes (Cutter *cutter, size_t a, size_t b)
{
  if (!extents_meet (&cutter->tree[a], &cutter->tree[b]))
    return;
  if (a >= cutter->leaves)
    {
      try_pair (cutter, a - cutter->leaves, b - cutter->leaves);
      return;
    }
  for (size_t i = 2 * a; i < 2 * a + 2; i++)
    for (size_t j = 2 * b; j < 2 * b + 2; j++)
      try_nodes (cutter, i, j);
}

static void
find_cuts (Cutter *cutter)
{
  grow_tree (cutter);
  for (size_t i = 1; i < cutter->leaves; i++)
    try_nodes (cutter, 2 * i, 2 * i + 1);
}

/* The parts of one line between its cuts, from next on; returns the cut after
 * them. */
static size_t
append_parts (const Cutter *cutter, const GeoGridLine *whole, size_t index,
              size_t next, GeoGridLines *parts)
{
  GeoGridLine part = *whole;
  for (; next < cutter->cut_count && cutter->cuts[next].line == index; next++)
    {
      const Cut *cut = &cutter->cuts[next];
      part.b = cut->at;
      part.t1 = whole->t0 + cut->along * (whole->t1 - whole->t0);
      geo_grid_lines_append (parts, part);
      part.a = part.b;
      part.t0 = part.t1;
    }
  part.b = whole->b;
  part.t1 = whole->t1;
  geo_grid_lines_append (parts, part);
  return next;
}

static void
apply_cuts (Cutter *cutter)
{
  GeoGridLines *lines = cutter->lines, parts = { NULL, 0, 0, 0 };
  size_t next = 0;
  if (cutter->cut_count == 0)
    return;
  qsort (cutter->cuts, cutter->cut_count, sizeof *cutter->cuts, by_place);
  for (size_t i = 0; i < lines->count; i++)
    next = append_parts (cutter, &lines->lines[i], i, next, &parts);
  parts.cuts = lines->cuts + cutter->cut_count;
  free (lines->lines);
  *lines = parts;
}

bool
geo_grid_lines_cut (GeoGridLines *lines)
{
  Cutter cutter = { .lines = lines };
  bool settled = false;
  for (int round = 0; round < ROUNDS && !settled && lines->count > 0; round++)
    {
      cutter.cut_count = 0;
      find_cuts (&cutter);
      settled = cutter.cut_count == 0;
      apply_cuts (&cutter);
      if (lines->count > 1000000)
        break;
    }
  free (cutter.tree);
  free (cutter.cuts);
  return settled;
}
