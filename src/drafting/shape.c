/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/shape.h"

#include "geometry/crossing.h"
#include "geometry/length.h"
#include "geometry/region.h"

#define CLOSED 1e-6    /* mm */
#define LEAST_AREA 1.0 /* mm2 */

void
drafting_shape_clear (DraftingShape *shape)
{
  for (guint i = 0; i < shape->n_edges; i++)
    geo_chain_clear (&shape->edges[i].chain);
  shape->n_edges = 0;
  shape->turned = FALSE;
}

GeoChain *
drafting_shape_add (DraftingShape *shape, const char *part)
{
  g_return_val_if_fail (shape->n_edges < DRAFTING_SHAPE_EDGES, NULL);
  DraftingShapeEdge *edge = &shape->edges[shape->n_edges++];
  edge->part = g_intern_string (part);
  geo_chain_init (&edge->chain);
  return &edge->chain;
}

void
drafting_shape_add_line (DraftingShape *shape, const char *part, GeoPoint to)
{
  g_return_if_fail (shape->n_edges > 0);
  GeoPoint from = geo_chain_end (&shape->edges[shape->n_edges - 1].chain);
  geo_chain_append_line (drafting_shape_add (shape, part), from, to);
}

const GeoChain *
drafting_shape_get (const DraftingShape *shape, const char *part)
{
  static const GeoChain none = { NULL, 0, 0 };
  for (guint i = 0; i < shape->n_edges; i++)
    if (g_str_equal (shape->edges[i].part, part))
      return &shape->edges[i].chain;
  return &none;
}

double
drafting_shape_length (const DraftingShape *shape, const char *part)
{
  return geo_chain_length (drafting_shape_get (shape, part), 1e-9);
}

void
drafting_shape_outline (const DraftingShape *shape, GeoChain *outline)
{
  for (guint i = 0; i < shape->n_edges; i++)
    geo_chain_append_chain (outline, &shape->edges[i].chain);
  if (outline->count > 0)
    outline->cubics[outline->count - 1].p[3] = geo_chain_start (outline);
}

void
drafting_shape_move (DraftingShape *shape, GeoMotion motion)
{
  for (guint i = 0; i < shape->n_edges; i++)
    geo_chain_transform (&shape->edges[i].chain, motion);
}

void
drafting_shape_copy (DraftingShape *target, const DraftingShape *source)
{
  drafting_shape_clear (target);
  for (guint i = 0; i < source->n_edges; i++)
    geo_chain_append_chain (drafting_shape_add (target, source->edges[i].part),
                            &source->edges[i].chain);
}

GeoBox
drafting_shape_bounds (const DraftingShape *shape)
{
  GeoBox box = geo_box_empty ();
  for (guint i = 0; i < shape->n_edges; i++)
    box = geo_box_join (box, geo_chain_bounds (&shape->edges[i].chain));
  return box;
}

static gboolean
is_finite (const GeoChain *chain)
{
  for (size_t i = 0; i < chain->count; i++)
    for (int k = 0; k < 4; k++)
      if (!isfinite (chain->cubics[i].p[k].x)
          || !isfinite (chain->cubics[i].p[k].y))
        return FALSE;
  return TRUE;
}

/* Each edge starts where the one before it ended. */
static gboolean
is_closed (const DraftingShape *shape)
{
  for (guint i = 0; i < shape->n_edges; i++)
    {
      const GeoChain *chain = &shape->edges[i].chain;
      const GeoChain *next = &shape->edges[(i + 1) % shape->n_edges].chain;
      if (chain->count == 0 || !is_finite (chain)
          || geo_chain_length (chain, 1e-6) < CLOSED
          || geo_distance (geo_chain_end (chain), geo_chain_start (next))
                 > CLOSED)
        return FALSE;
    }
  return shape->n_edges > 1;
}

/* No part name twice. */
static gboolean
is_told_apart (const DraftingShape *shape)
{
  for (guint i = 0; i < shape->n_edges; i++)
    for (guint k = 0; k < i; k++)
      if (shape->edges[i].part == shape->edges[k].part)
        return FALSE;
  return TRUE;
}

gboolean
drafting_shape_is_sound (const DraftingShape *shape)
{
  if (!is_closed (shape) || !is_told_apart (shape))
    return FALSE;
  GeoChain outline = GEO_CHAIN_EMPTY;
  drafting_shape_outline (shape, &outline);
  gboolean sound = fabs (geo_chain_area (&outline)) >= LEAST_AREA
                   && !geo_chain_crosses_itself (&outline);
  geo_chain_clear (&outline);
  return sound;
}

void
drafting_shape_settle (DraftingShape *shape)
{
  GeoChain outline = GEO_CHAIN_EMPTY;
  drafting_shape_outline (shape, &outline);
  gboolean turn = geo_chain_area (&outline) < 0;
  geo_chain_clear (&outline);
  if (!turn)
    return;
  shape->turned = !shape->turned;
  for (guint i = 0; i < shape->n_edges; i++)
    geo_chain_reverse (&shape->edges[i].chain);
  for (guint i = 0, j = shape->n_edges - 1; i < j; i++, j--)
    {
      DraftingShapeEdge swap = shape->edges[i];
      shape->edges[i] = shape->edges[j];
      shape->edges[j] = swap;
    }
}
