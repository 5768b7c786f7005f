/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where seams meet: corners are put together that seams bring together, and each
 * such heap is looked at: does it close up, and what is it short of a whole
 * turn? */
#include "sewing/joints.h"
#include "sewing/shaping.h"

#define DEGREES (180 / G_PI)

typedef struct
{
  const Pattern *pattern;
  GHashTable *index; /* piece id to its index */
  guint *first;      /* index of each piece's first corner */
  guint n_corners;
  guint *heap;      /* union-find over corners */
  guint8 *sewn;     /* how often each edge is in a seam */
  gboolean *joint;  /* the corner lies inside a side of several runs */
  gboolean *dart;   /* a dart's point */
  gboolean *turned; /* a turned seam ends here */
} Corners;

static guint
heap_of (Corners *c, guint corner)
{
  while (c->heap[corner] != corner)
    {
      c->heap[corner] = c->heap[c->heap[corner]];
      corner = c->heap[corner];
    }
  return corner;
}

static void
put_together (Corners *c, guint x, guint y)
{
  c->heap[heap_of (c, x)] = heap_of (c, y);
}

/* Of a run: the corner it comes from (end 0) or goes to (end 1), and its edge.
 * FALSE where it points nowhere. */
static gboolean
run_corner (const Corners *c, const PatternRun *run, int end, guint *corner,
            guint *edge)
{
  gpointer found;
  if (!g_hash_table_lookup_extended (c->index, GUINT_TO_POINTER (run->piece),
                                     NULL, &found))
    return FALSE;
  guint p = GPOINTER_TO_UINT (found);
  const PatternPiece *piece = c->pattern->pieces[p];
  int i = pattern_piece_find_edge (piece, run->edge);
  if (i < 0)
    return FALSE;
  *edge = c->first[p] + (guint)i;
  *corner = (end == 0) == !run->reversed
                ? *edge
                : c->first[p] + ((guint)i + 1) % piece->n_edges;
  return TRUE;
}

static gboolean
is_whole (const Corners *c, const PatternSeam *seam)
{
  guint corner, edge;
  for (int side = 0; side < 2; side++)
    {
      if (seam->sides[side].n_runs == 0)
        return FALSE;
      for (guint r = 0; r < seam->sides[side].n_runs; r++)
        if (!run_corner (c, &seam->sides[side].runs[r], 0, &corner, &edge))
          return FALSE;
    }
  return TRUE;
}

static void
put_side (Corners *c, const PatternSide *side)
{
  for (guint r = 0; r < side->n_runs; r++)
    {
      guint edge, enters, leaves;
      run_corner (c, &side->runs[r], 0, &enters, &edge);
      c->sewn[edge] += c->sewn[edge] < 2;
      if (r == 0)
        continue;
      run_corner (c, &side->runs[r - 1], 1, &leaves, &edge);
      put_together (c, leaves, enters);
      c->joint[leaves] = c->joint[enters] = TRUE;
    }
}

static void
put_ends (Corners *c, const PatternSeam *seam)
{
  for (int end = 0; end < 2; end++)
    {
      guint corner[2], edge[2];
      for (int side = 0; side < 2; side++)
        {
          const PatternSide *runs = &seam->sides[side];
          guint r = end == 0 ? 0 : runs->n_runs - 1;
          run_corner (c, &runs->runs[r], end, &corner[side], &edge[side]);
          if (seam->join == PATTERN_JOIN_SEAM
              && seam->press == PATTERN_PRESS_TURNED)
            c->turned[corner[side]] = TRUE;
        }
      put_together (c, corner[0], corner[1]);
      if (corner[0] == corner[1] && edge[0] != edge[1])
        c->dart[corner[0]] = TRUE;
    }
}

static void
corners_init (Corners *c, const Pattern *pattern)
{
  *c = (Corners){ .pattern = pattern };
  c->index = g_hash_table_new (NULL, NULL);
  c->first = g_new (guint, pattern->n_pieces + 1);
  for (guint p = 0; p < pattern->n_pieces; p++)
    {
      g_hash_table_insert (c->index, GUINT_TO_POINTER (pattern->pieces[p]->id),
                           GUINT_TO_POINTER (p));
      c->first[p] = c->n_corners;
      c->n_corners += pattern->pieces[p]->n_edges;
    }
  c->first[pattern->n_pieces] = c->n_corners;
  c->heap = g_new (guint, c->n_corners + 1);
  for (guint i = 0; i < c->n_corners; i++)
    c->heap[i] = i;
  c->sewn = g_new0 (guint8, c->n_corners + 1);
  c->joint = g_new0 (gboolean, c->n_corners + 1);
  c->dart = g_new0 (gboolean, c->n_corners + 1);
  c->turned = g_new0 (gboolean, c->n_corners + 1);
  for (guint i = 0; i < pattern->n_seams; i++)
    {
      const PatternSeam *seam = pattern->seams[i];
      if (!is_whole (c, seam))
        continue;
      put_side (c, &seam->sides[0]);
      put_side (c, &seam->sides[1]);
      put_ends (c, seam);
    }
}

static void
corners_clear (Corners *c)
{
  g_hash_table_unref (c->index);
  g_free (c->first);
  g_free (c->heap);
  g_free (c->sewn);
  g_free (c->joint);
  g_free (c->dart);
  g_free (c->turned);
}

/* What a heap has gathered. */
typedef struct
{
  double angle;
  guint corners, folds;
  gboolean open, dart, turned;
  guint piece, corner; /* indices: the first one met */
} Heap;

static void
gather (const Corners *c, guint p, guint i, Heap *heap)
{
  const PatternPiece *piece = c->pattern->pieces[p];
  guint beside[2] = { i, (i + piece->n_edges - 1) % piece->n_edges };
  for (int k = 0; k < 2; k++)
    {
      gboolean fold = piece->edges[beside[k]].kind == PATTERN_EDGE_FOLD;
      guint sewn = c->sewn[c->first[p] + beside[k]];
      heap->folds += fold && sewn == 0;
      heap->open |= fold ? sewn > 0 : sewn != 1;
    }
  heap->open |= c->joint[c->first[p] + i];
  heap->dart |= c->dart[c->first[p] + i];
  heap->turned |= c->turned[c->first[p] + i];
  if (heap->corners++ == 0)
    {
      heap->piece = p;
      heap->corner = i;
    }
}

/* Only of heaps that close up: angles are the dear part. */
static void
add_angles (Corners *c, SewingFacts *facts, Heap *heaps)
{
  for (guint p = 0; p < c->pattern->n_pieces; p++)
    {
      const PatternPiece *piece = c->pattern->pieces[p];
      for (guint i = 0; i < piece->n_edges; i++)
        {
          Heap *heap = &heaps[heap_of (c, c->first[p] + i)];
          double inside;
          if (heap->open)
            continue;
          if (sewing_corner_inside (sewing_facts_piece (facts, piece), i,
                                    &inside))
            heap->angle += inside;
          else
            heap->open = TRUE;
        }
    }
}

static void
add_point (const Pattern *pattern, const Heap *heap, GArray *points)
{
  double angle = heap->folds == 2 ? 2 * heap->angle : heap->angle;
  const PatternPiece *piece = pattern->pieces[heap->piece];
  const PatternEdge *edge = &piece->edges[heap->corner];
  SewingShapingPoint point = { .piece = piece->id,
                               .edge = edge->id,
                               .at = piece->nodes[edge->first].at,
                               .corners = heap->corners,
                               .dart = heap->dart && heap->corners == 1,
                               .turned = heap->turned,
                               .angle_deg = 360 - angle * DEGREES };
  g_array_append_val (points, point);
}

GArray *
sewing_shaping_points (SewingFacts *facts, const Pattern *pattern)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL, NULL);
  GArray *points = g_array_new (FALSE, FALSE, sizeof (SewingShapingPoint));
  Corners c;
  corners_init (&c, pattern);
  g_autofree Heap *heaps = g_new0 (Heap, c.n_corners + 1);
  for (guint p = 0; p < pattern->n_pieces; p++)
    for (guint i = 0; i < pattern->pieces[p]->n_edges; i++)
      gather (&c, p, i, &heaps[heap_of (&c, c.first[p] + i)]);
  add_angles (&c, facts, heaps);
  for (guint i = 0; i < c.n_corners; i++)
    /* A heap on a fold is one half of a point: two edges of it lie there. */
    if (heaps[i].corners > 0 && !heaps[i].open
        && (heaps[i].folds == 0 || heaps[i].folds == 2))
      add_point (pattern, &heaps[i], points);
  corners_clear (&c);
  return points;
}
