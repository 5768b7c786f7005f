/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/facing.h"

#include "drafting/edit-private.h"
#include "drafting/trace.h"
#include "geometry/parallel.h"

#define CORNER 0.35 /* radians: where the depth may change */

/* --- facing ------------------------------------------------------------------------ */

typedef struct
{
  GeoChain runs[DRAFTING_LAY_MOST];
  double depths[DRAFTING_LAY_MOST];
  GeoChain before, after;
  guint n;
} Faced;

static void
faced_clear (Faced *f)
{
  for (guint i = 0; i < f->n; i++)
    geo_chain_clear (&f->runs[i]);
  geo_chain_clear (&f->before);
  geo_chain_clear (&f->after);
}

/* The front edge's depth begins behind the last corner of the run. */
static void
set_depths (Faced *f, const DraftingFacingWish *wish)
{
  gboolean after = FALSE;
  for (guint i = f->n; i-- > 0;)
    {
      f->depths[i] = wish->depth;
      if (i == 0)
        continue;
      const GeoChain *a = &f->runs[i - 1], *b = &f->runs[i];
      double kink
          = geo_angle_between (geo_cubic_tangent (&a->cubics[a->count - 1], 1),
                               geo_cubic_tangent (&b->cubics[0], 0));
      if (after || fabs (kink) < CORNER)
        continue;
      after = TRUE;
      for (guint k = i; k < f->n; k++)
        f->depths[k] = wish->depth_after;
    }
}

static void
add_part (DraftingShape *shape, const char *part, const GeoChain *chain,
          double from, double to)
{
  GeoChain *edge = drafting_shape_add (shape, part);
  drafting_trace_part (chain, from, to, edge);
}

/* Length from its start up to which the inner edge is sewn: to where a lining's hem lies, so far
 * above the facing's. */
static double
sewn_length (const Faced *f, const DraftingInsetLine *line, double free,
             int inside)
{
  double length = geo_chain_length (&line->inner, 1e-9);
  if (free <= 0)
    return length;
  GeoChain hem = GEO_CHAIN_EMPTY;
  double sewn = length - free, on_hem;
  if (geo_chain_parallel (&f->after, free * inside, 1e-4, &hem))
    drafting_inset_cross (&line->inner, &hem, geo_chain_end (&line->inner),
                          &sewn, &on_hem);
  geo_chain_clear (&hem);
  return sewn;
}

static void
build_facing (const Faced *f, const DraftingInsetLine *line, double free,
              int inside, DraftingShape *shape)
{
  for (guint i = 0; i < f->n; i++)
    {
      g_autofree char *part = g_strdup_printf ("faced-%u", i + 1);
      geo_chain_copy (drafting_shape_add (shape, part), &f->runs[i]);
    }
  add_part (shape, "end", &f->after, 0, line->after);
  double length = geo_chain_length (&line->inner, 1e-9);
  double sewn = sewn_length (f, line, free, inside);
  if (sewn > 1 && sewn < length - 1)
    {
      add_part (shape, "inner-free", &line->inner, length, sewn);
      add_part (shape, "inner", &line->inner, sewn, 0);
    }
  else
    add_part (shape, "inner", &line->inner, length, 0);
  add_part (shape, "start", &f->before, line->before, 0);
  /* Cut ends are off by rounding: 1e-9 mm. */
  for (guint i = 0; i < shape->n_edges; i++)
    {
      GeoChain *edge = &shape->edges[i].chain;
      GeoChain *next = &shape->edges[(i + 1) % shape->n_edges].chain;
      if (edge->count > 0 && next->count > 0
          && geo_distance (geo_chain_end (edge), geo_chain_start (next)) < 1e-6)
        next->cubics[0].p[0] = geo_chain_end (edge);
    }
}

static gboolean
take_faced (const Pattern *p, const DraftingLay *lay,
            const DraftingFacingWish *wish, Faced *f, DraftingInsetLine *line)
{
  f->n = lay->n;
  for (guint i = 0; i < lay->n; i++)
    for (size_t k = lay->first[i]; k < lay->first[i + 1]; k++)
      geo_chain_append (&f->runs[i], lay->chain.cubics[k]);
  set_depths (f, wish);
  drafting_lay_beside (p, lay, TRUE, &f->before, NULL);
  drafting_lay_beside (p, lay, FALSE, &f->after, NULL);
  DraftingInset inset = { f->runs,    f->depths, f->n,        lay->inside,
                          &f->before, &f->after, wish->smooth };
  return drafting_inset (&inset, line);
}

gboolean
drafting_facing_inner (const Pattern *p, const DraftingLay *lay,
                       const DraftingFacingWish *wish, DraftingInsetLine *line)
{
  Faced f = { 0 };
  gboolean drawn = take_faced (p, lay, wish, &f, line);
  faced_clear (&f);
  return drawn;
}

gboolean
drafting_facing_shape (const Pattern *p, const DraftingLay *lay,
                       const DraftingFacingWish *wish, DraftingShape *shape)
{
  drafting_shape_clear (shape);
  Faced f = { 0 };
  g_auto (DraftingInsetLine) line = { 0 };
  gboolean drawn = take_faced (p, lay, wish, &f, &line);
  if (drawn)
    {
      GeoChain beside = GEO_CHAIN_EMPTY;
      const PatternEdge *end = NULL;
      drafting_lay_beside (p, lay, FALSE, &beside, &end);
      geo_chain_clear (&beside);
      gboolean hem = end != NULL && end->kind == PATTERN_EDGE_HEM;
      build_facing (&f, &line, hem ? wish->free : 0, lay->inside, shape);
      drawn = drafting_shape_is_sound (shape);
    }
  faced_clear (&f);
  return drawn;
}

/* --- strips -------------------------------------------------------------------------- */

void
drafting_strip_shape (double length, double width, DraftingShape *shape)
{
  drafting_shape_clear (shape);
  geo_chain_append_line (drafting_shape_add (shape, "top"), geo_point (0, 0),
                         geo_point (length, 0));
  drafting_shape_add_line (shape, "right", geo_point (length, width));
  drafting_shape_add_line (shape, "bottom", geo_point (0, width));
  drafting_shape_add_line (shape, "left", geo_point (0, 0));
}
