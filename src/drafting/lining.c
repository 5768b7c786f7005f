/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lining's outline is the shell's, changed twice: hems are moved up, then each
 * stretch of faced edges is replaced by the facing's inner edge, cut to what then lies
 * beside it. So a facing that ends at a hem and the lining beside it have one
 * inner edge between them.
 */
#include "drafting/edit-private.h"
#include "drafting/facing.h"
#include "drafting/inset.h"
#include "drafting/trace.h"

#define MOST_EDGES DRAFTING_SHAPE_EDGES
#define CORNER 0.35

typedef struct
{
  GeoChain chain;
  gboolean faced;
} Side;

typedef struct
{
  const PatternPiece *shell;
  const DraftingLiningWish *wish;
  Side sides[MOST_EDGES];
  guint n;
} Work;

static gboolean
is_faced (const PatternPiece *shell, const DraftingLiningWish *wish, guint i)
{
  for (guint k = 0; k < wish->n_faced; k++)
    if (wish->faced[k].piece == shell->id
        && wish->faced[k].edge == shell->edges[i].id)
      return TRUE;
  return FALSE;
}

static void
work_clear (Work *w)
{
  for (guint i = 0; i < w->n; i++)
    geo_chain_clear (&w->sides[i].chain);
}

/* Cuts a side at a length from its end or its start. */
static void
cut (GeoChain *chain, double by, gboolean at_start)
{
  double length = geo_chain_length (chain, 1e-9);
  GeoChain part = GEO_CHAIN_EMPTY;
  if (at_start)
    drafting_trace_part (chain, by, length, &part);
  else
    drafting_trace_part (chain, 0, length - by, &part);
  geo_chain_clear (chain);
  *chain = part;
}

/* Replaces sides first to first + count - 1 (round the loop) by the line at the depths inside them. The
 * line goes into the first. */
static gboolean
replace (Work *w, guint first, guint count, const double *depths, double smooth)
{
  guint before = (first + w->n - 1) % w->n, after = (first + count) % w->n;
  GeoChain runs[MOST_EDGES];
  for (guint i = 0; i < count; i++)
    runs[i] = w->sides[(first + i) % w->n].chain;
  GeoChain back = GEO_CHAIN_EMPTY;
  geo_chain_copy (&back, &w->sides[before].chain);
  geo_chain_reverse (&back);
  DraftingInset inset
      = { runs, depths, count, 1, &back, &w->sides[after].chain, smooth };
  g_auto (DraftingInsetLine) line = { 0 };
  gboolean drawn
      = count < w->n - 1 && drafting_inset (&inset, &line)
        && line.before < geo_chain_length (&back, 1e-9) - 0.5
        && line.after < geo_chain_length (&w->sides[after].chain, 1e-9) - 0.5;
  geo_chain_clear (&back);
  if (!drawn)
    return FALSE;
  cut (&w->sides[before].chain, line.before, FALSE);
  cut (&w->sides[after].chain, line.after, TRUE);
  for (guint i = 0; i < count; i++)
    geo_chain_reset (&w->sides[(first + i) % w->n].chain);
  geo_chain_copy (&w->sides[first].chain, &line.inner);
  /* One place, whatever the rounding. */
  GeoChain *b = &w->sides[before].chain, *a = &w->sides[after].chain;
  b->cubics[b->count - 1].p[3] = geo_chain_start (&line.inner);
  a->cubics[0].p[0] = geo_chain_end (&line.inner);
  return TRUE;
}

static gboolean
move_hems (Work *w)
{
  double depth = w->wish->shorter;
  for (guint i = 0; i < w->n && depth > 0; i++)
    if (w->shell->edges[i].kind == PATTERN_EDGE_HEM && !w->sides[i].faced
        && !replace (w, i, 1, &depth, 0))
      return FALSE;
  return TRUE;
}

static double
kink_after (const Work *w, guint i)
{
  const GeoChain *a = &w->sides[i].chain, *b = &w->sides[(i + 1) % w->n].chain;
  return geo_angle_between (geo_cubic_tangent (&a->cubics[a->count - 1], 1),
                            geo_cubic_tangent (&b->cubics[0], 0));
}

/* The front edge may be at either end of the stretch: it is the longer part, the
 * neck the hollow one beside it. */
static void
stretch_depths (const Work *w, guint first, guint count, double *depths)
{
  guint corner = count;
  for (guint i = 0; i + 1 < count; i++)
    if (fabs (kink_after (w, (first + i) % w->n)) >= CORNER)
      corner = i + 1;
  double before = 0, after = 0;
  for (guint i = 0; i < count; i++)
    {
      double length
          = geo_chain_length (&w->sides[(first + i) % w->n].chain, 1e-6);
      if (i < corner)
        before += length;
      else
        after += length;
    }
  gboolean front_first = corner < count && before > after;
  for (guint i = 0; i < count; i++)
    depths[i] = corner < count && (i < corner) == front_first
                    ? w->wish->facing.depth_after
                    : w->wish->facing.depth;
}

static gboolean
take_faced (Work *w)
{
  for (guint i = 0; i < w->n; i++)
    {
      guint before = (i + w->n - 1) % w->n, count = 0;
      if (!w->sides[i].faced || w->sides[before].faced)
        continue;
      while (count < w->n && w->sides[(i + count) % w->n].faced)
        count++;
      double depths[MOST_EDGES];
      if (count >= w->n - 1 || count > DRAFTING_LAY_MOST)
        return FALSE;
      stretch_depths (w, i, count, depths);
      if (!replace (w, i, count, depths, w->wish->facing.smooth))
        return FALSE;
    }
  return TRUE;
}

/* --- assembling ------------------------------------------------------------------------ */

/* Which stretch of faced edges, counted from 0 in the outline's order, starts here. */
static guint
stretch_of (const PatternPiece *shell, const DraftingLiningWish *wish,
            guint first)
{
  guint n = shell->n_edges, stretch = 0;
  for (guint i = 0; i < first; i++)
    stretch += is_faced (shell, wish, i)
               && !is_faced (shell, wish, (i + n - 1) % n);
  return stretch;
}

static char *
stretch_part (guint stretch)
{
  return stretch == 0 ? g_strdup ("inner")
                      : g_strdup_printf ("inner-%u", stretch + 1);
}

char *
drafting_lining_inner (const PatternPiece *shell,
                       const DraftingLiningWish *wish, guint edge)
{
  int index = pattern_piece_find_edge (shell, edge);
  guint n = shell->n_edges;
  if (index < 0 || !is_faced (shell, wish, (guint)index))
    return NULL;
  guint first = (guint)index;
  for (guint i = 0; i < n && is_faced (shell, wish, (first + n - 1) % n); i++)
    first = (first + n - 1) % n;
  return stretch_part (stretch_of (shell, wish, first));
}

/* The fold moved out by the pleat, straight pieces beside it. */
static void
add_fold (const Work *w, guint i, const char *part, DraftingShape *shape)
{
  const GeoChain *fold = &w->sides[i].chain;
  GeoPoint from = geo_chain_start (fold), to = geo_chain_end (fold);
  GeoPoint out
      = geo_scale (geo_left (geo_unit (geo_sub (to, from))), -w->wish->pleat);
  drafting_shape_add_line (shape, "pleat-hem", geo_add (from, out));
  drafting_shape_add_line (shape, part, geo_add (to, out));
  drafting_shape_add_line (shape, "pleat", to);
}

static void
assemble (const Work *w, DraftingShape *shape)
{
  /* Not to begin with the fold, whose beginning needs what lies before it. */
  guint first = 0;
  while (first + 1 < w->n && w->shell->edges[first].kind == PATTERN_EDGE_FOLD)
    first++;
  for (guint k = 0; k < w->n; k++)
    {
      guint i = (first + k) % w->n;
      const GeoChain *chain = &w->sides[i].chain;
      g_autofree char *part
          = w->sides[i].faced ? stretch_part (stretch_of (w->shell, w->wish, i))
                              : g_strdup_printf ("e%u", w->shell->edges[i].id);
      if (chain->count == 0)
        continue;
      if (w->shell->edges[i].kind == PATTERN_EDGE_FOLD && w->wish->pleat > 0
          && shape->n_edges > 0)
        add_fold (w, i, part, shape);
      else
        geo_chain_copy (drafting_shape_add (shape, part), chain);
    }
}

gboolean
drafting_lining_shape (const PatternPiece *shell,
                       const DraftingLiningWish *wish, DraftingShape *shape)
{
  drafting_shape_clear (shape);
  if (shell->n_edges < 3 || shell->n_edges + 2 > MOST_EDGES)
    return FALSE;
  Work w = { .shell = shell, .wish = wish, .n = shell->n_edges };
  for (guint i = 0; i < w.n; i++)
    {
      pattern_piece_edge_chain (shell, i, &w.sides[i].chain);
      w.sides[i].faced = is_faced (shell, wish, i);
    }
  gboolean drawn = move_hems (&w) && take_faced (&w);
  if (drawn)
    {
      assemble (&w, shape);
      drawn = drafting_shape_is_sound (shape);
    }
  work_clear (&w);
  return drawn;
}
