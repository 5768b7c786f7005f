/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lining's outline is the shell's, changed twice: hems are moved up, then each
 * stretch of faced edges is replaced by the facing's inner edge, cut to what then lies
 * beside it. So a facing that ends at a hem and the lining beside it have one
 * inner edge between them. Near a seam that does not leave the faced edge square the
 * inner edge on one piece lies inside the faced edge of the next: so it is drawn on the pieces
 * laid together, as the facing is, and brought back to each.
 */
#include "drafting/edit-private.h"
#include "drafting/facing.h"
#include "drafting/inset.h"
#include "drafting/trace.h"

#define MOST_EDGES DRAFTING_SHAPE_EDGES
#define SLIVER 1e-4 /* mm */
#define MORE 10.0   /* mm a line is carried on, to be sure that it crosses */

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

/* Moves the end of a chain by next to nothing, the last handle along; a cubic of no
 * length left there by a cut has no direction, and goes. */
static void
put_end (GeoChain *chain, GeoPoint to)
{
  while (chain->count > 1
         && geo_cubic_length (&chain->cubics[chain->count - 1], 1e-9) < SLIVER)
    chain->count--;
  GeoCubic *last = &chain->cubics[chain->count - 1];
  GeoPoint by = geo_sub (to, last->p[3]);
  last->p[2] = geo_add (last->p[2], by);
  last->p[3] = to;
}

static GeoPoint
point_at (const GeoChain *chain, double length)
{
  return geo_chain_point (chain, geo_chain_at_length (chain, length, 1e-10));
}

/* Puts the line in place of sides first to first + count - 1 (round the loop); it is cut to the
 * sides before and after them, and they to it: at the lengths from the corner that are told, so that
 * two pieces sewn together there are cut alike, or where they cross (NAN). */
static gboolean
replace (Work *w, guint first, guint count, const GeoChain *line,
         double at_before, double at_after)
{
  GeoChain *before = &w->sides[(first + w->n - 1) % w->n].chain;
  GeoChain *after = &w->sides[(first + count) % w->n].chain;
  GeoPoint start = geo_chain_start (&w->sides[first].chain);
  GeoPoint end = geo_chain_end (&w->sides[(first + count - 1) % w->n].chain);
  double from, to, on_before, on_after;
  if (count + 1 >= w->n
      || !drafting_inset_cross (line, before, start, &from, &on_before)
      || !drafting_inset_cross (line, after, end, &to, &on_after)
      || to - from < 0.5)
    return FALSE;
  double length = geo_chain_length (before, 1e-10);
  on_before = isnan (at_before) ? on_before : length - at_before;
  on_after = isnan (at_after) ? on_after : at_after;
  if (on_before < 0.5 || geo_chain_length (after, 1e-9) - on_after < 0.5)
    return FALSE;
  GeoPoint left = point_at (before, on_before);
  GeoPoint right = point_at (after, on_after);
  cut (before, length - on_before, FALSE);
  cut (after, on_after, TRUE);
  for (guint i = 0; i < count; i++)
    geo_chain_reset (&w->sides[(first + i) % w->n].chain);
  GeoChain *own = &w->sides[first].chain;
  drafting_trace_part (line, from, to, own);
  put_end (own, right);
  geo_chain_reverse (own);
  put_end (own, left);
  geo_chain_reverse (own);
  /* One place, whatever the rounding. */
  before->cubics[before->count - 1].p[3] = geo_chain_start (own);
  after->cubics[0].p[0] = geo_chain_end (own);
  return TRUE;
}

static void
carry_on (GeoChain *line)
{
  for (int i = 0; i < 2; i++)
    {
      GeoPoint end = geo_chain_end (line);
      GeoPoint way = geo_cubic_tangent (&line->cubics[line->count - 1], 1);
      geo_chain_append_line (line, end, geo_along (end, way, MORE));
      geo_chain_reverse (line);
    }
}

static gboolean
move_hem (Work *w, guint i, double depth)
{
  GeoChain back = GEO_CHAIN_EMPTY;
  geo_chain_copy (&back, &w->sides[(i + w->n - 1) % w->n].chain);
  geo_chain_reverse (&back);
  DraftingInset inset = {
    &w->sides[i].chain, &depth, 1, 1, &back, &w->sides[(i + 1) % w->n].chain, 0
  };
  g_auto (DraftingInsetLine) line = { 0 };
  gboolean drawn = drafting_inset (&inset, &line);
  geo_chain_clear (&back);
  if (!drawn)
    return FALSE;
  carry_on (&line.inner);
  return replace (w, i, 1, &line.inner, NAN, NAN);
}

static gboolean
move_hems (Work *w)
{
  for (guint i = 0; i < w->n && w->wish->shorter > 0; i++)
    if (w->shell->edges[i].kind == PATTERN_EDGE_HEM && !w->sides[i].faced
        && !move_hem (w, i, w->wish->shorter))
      return FALSE;
  return TRUE;
}

/* --- faced edges ----------------------------------------------------------------------- */

/* Where the inner edge cuts the seam between runs i - 1 and i, from the faced edge: the mean of what it
 * cuts off the two pieces, whose edges may part a little. NAN at the ends of the lay. */
static double
seam_cut (const Pattern *p, const DraftingLay *lay, guint i,
          const GeoChain *inner)
{
  if (i == 0 || i >= lay->n)
    return NAN;
  GeoChain a = GEO_CHAIN_EMPTY, b = GEO_CHAIN_EMPTY;
  drafting_lay_beside_run (p, lay, i - 1, FALSE, &a, NULL);
  drafting_lay_beside_run (p, lay, i, TRUE, &b, NULL);
  GeoPoint corner = geo_chain_start (&a);
  double on_line, on_a, on_b;
  gboolean cuts = drafting_inset_cross (inner, &a, corner, &on_line, &on_a)
                  && drafting_inset_cross (inner, &b, corner, &on_line, &on_b);
  geo_chain_clear (&a);
  geo_chain_clear (&b);
  return cuts ? (on_a + on_b) / 2 : NAN;
}

/* Runs first to last - 1 of the lay follow each other on the shell: what of the inner edge lies there
 * takes their place. */
static gboolean
replace_runs (Work *w, const Pattern *p, const DraftingLay *lay, guint first,
              guint last, const GeoChain *inner)
{
  double at_start = seam_cut (p, lay, first, inner);
  double at_end = seam_cut (p, lay, last, inner);
  gboolean reversed = lay->runs[first].reversed;
  guint start = reversed ? last - 1 : first;
  int edge = pattern_piece_find_edge (w->shell, lay->runs[start].edge);
  GeoChain line = GEO_CHAIN_EMPTY;
  geo_chain_copy (&line, inner);
  geo_chain_transform (&line, geo_motion_inverse (lay->motions[first]));
  if (reversed)
    geo_chain_reverse (&line);
  carry_on (&line);
  gboolean done
      = edge >= 0
        && replace (w, (guint)edge, last - first, &line,
                    reversed ? at_end : at_start, reversed ? at_start : at_end);
  geo_chain_clear (&line);
  return done;
}

static gboolean
is_shells (const Work *w, const DraftingLay *lay, guint i)
{
  return lay->runs[i].piece == w->shell->id;
}

static gboolean
take_stretch (Work *w, const Pattern *p, const PatternRun *runs, guint n,
              const DraftingFacingWish *facing)
{
  gboolean here = FALSE;
  for (guint i = 0; i < n; i++)
    here = here || runs[i].piece == w->shell->id;
  if (!here)
    return TRUE;
  g_auto (DraftingLay) lay = { 0 };
  g_auto (DraftingInsetLine) line = { 0 };
  if (!drafting_lay_runs (p, runs, n, &lay, NULL)
      || !drafting_facing_inner (p, &lay, facing, &line))
    return FALSE;
  for (guint i = 0; i < n;)
    {
      guint last = i + 1;
      while (last < n && lay.joints[last - 1].corner)
        last++;
      if (is_shells (w, &lay, i)
          && !replace_runs (w, p, &lay, i, last, &line.inner))
        return FALSE;
      i = last;
    }
  return TRUE;
}

/* Facings end at darts: where two edges of one piece are no neighbours. */
static gboolean
take_faced (Work *w, const Pattern *p)
{
  const DraftingLiningWish *wish = w->wish;
  if (wish->n_faced == 0)
    return TRUE;
  g_auto (DraftingLay) all = { 0 };
  if (!drafting_lay_runs (p, wish->faced, wish->n_faced, &all, NULL))
    return FALSE;
  guint first = 0;
  for (guint i = 1; i <= all.n; i++)
    {
      gboolean ends = i == all.n
                      || (all.runs[i].piece == all.runs[i - 1].piece
                          && !all.joints[i - 1].corner)
                      || (wish->of != NULL && wish->of[i] != wish->of[i - 1]);
      if (!ends)
        continue;
      if (!take_stretch (w, p, &all.runs[first], i - first,
                         wish->of != NULL ? &wish->wishes[wish->of[first]]
                                          : &wish->facing))
        return FALSE;
      first = i;
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
  /* No "inner-2": a node inside the first could be called that. */
  return stretch == 0 ? g_strdup ("inner")
                      : g_strdup_printf ("inner%c", (int)('a' + stretch));
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
drafting_lining_shape (const Pattern *p, const PatternPiece *shell,
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
  gboolean drawn = move_hems (&w) && take_faced (&w, p);
  if (drawn)
    {
      assemble (&w, shape);
      drawn = drafting_shape_is_sound (shape);
    }
  work_clear (&w);
  return drawn;
}
