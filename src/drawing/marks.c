/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing/parts.h"

#include <glib/gi18n.h>

#include "drawing/text.h"

void
drawing_arrow_head (cairo_t *cr, GeoPoint tip, GeoPoint towards, double length)
{
  GeoPoint back = geo_along (tip, towards, -length);
  GeoPoint side = geo_scale (geo_left (towards), length * 0.3);
  GeoPoint waist = geo_along (tip, towards, -length * 0.8);
  cairo_move_to (cr, tip.x, tip.y);
  cairo_line_to (cr, back.x + side.x, back.y + side.y);
  cairo_line_to (cr, waist.x, waist.y);
  cairo_line_to (cr, back.x - side.x, back.y - side.y);
  cairo_close_path (cr);
  cairo_fill (cr);
}

static void
stroke_line (cairo_t *cr, GeoPoint from, GeoPoint to)
{
  cairo_move_to (cr, from.x, from.y);
  cairo_line_to (cr, to.x, to.y);
  cairo_stroke (cr);
}

/* Strokes across the allowance from the stitch line to the cutting line; where
 * nothing is allowed, from the edge into the piece. */
void
drawing_paint_notch (cairo_t *cr, const SewingPiece *piece,
                     const PatternNotch *notch, const DrawingStyle *style)
{
  g_return_if_fail (cr != NULL && piece != NULL && notch != NULL
                    && style != NULL);
  int edge = pattern_piece_find_edge (piece->piece, notch->edge);
  if (edge < 0 || piece->stitch[edge].count == 0)
    return;
  double length = piece->lengths[edge];
  double width = pattern_edge_width (&piece->piece->edges[edge]);
  double place = pattern_notch_place (notch, length);
  int count = CLAMP (notch->count, 1, 3);
  /* Strokes of one mark stand 3 mm apart, or as far as can be told apart. */
  double apart = fmax (3, 2.6 * style->line);
  cairo_save (cr);
  drawing_set_colour (cr, style->ink);
  drawing_set_line (cr, style, 1);
  for (int i = 0; i < count; i++)
    {
      double at = CLAMP (place + (i - (count - 1) / 2.0) * apart, 0, length);
      GeoPlace on = geo_ruler_place (&piece->rulers[edge], at);
      GeoPoint p = geo_chain_point (&piece->stitch[edge], on);
      GeoPoint outward = geo_scale (
          geo_left (geo_chain_tangent (&piece->stitch[edge], on)), -1);
      stroke_line (cr, p,
                   geo_along (p, outward, width > 0 ? width : -style->mark));
    }
  cairo_restore (cr);
}

static void
paint_cut (cairo_t *cr, const SewingPiece *piece, guint edge, const GeoCut *cut,
           double width)
{
  GeoPlace on = geo_ruler_place (&piece->rulers[edge], cut->at);
  GeoPoint p = geo_chain_point (&piece->stitch[edge], on);
  GeoPoint along = geo_chain_tangent (&piece->stitch[edge], on);
  GeoPoint outward = geo_scale (geo_left (along), -1);
  GeoPoint mouth = geo_along (p, outward, width);
  GeoPoint point = geo_along (p, outward, width - cut->depth);
  if (cut->kind == GEO_CUT_SLIT)
    {
      stroke_line (cr, mouth, point);
      return;
    }
  GeoPoint a = geo_along (mouth, along, -cut->mouth / 2);
  GeoPoint b = geo_along (mouth, along, cut->mouth / 2);
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, point.x, point.y);
  cairo_line_to (cr, b.x, b.y);
  cairo_stroke (cr);
}

void
drawing_paint_clips (cairo_t *cr, SewingFacts *facts, const Pattern *pattern,
                     const PatternPiece *piece, guint edge_index,
                     const DrawingStyle *style)
{
  g_return_if_fail (cr != NULL && facts != NULL && pattern != NULL
                    && piece != NULL && style != NULL);
  g_return_if_fail (edge_index < piece->n_edges);
  const PatternEdge *edge = &piece->edges[edge_index];
  const SewingPiece *known = sewing_facts_piece (facts, piece);
  const GeoClipPlan *plan
      = sewing_facts_clips (facts, pattern, piece->id, edge->id);
  if (known == NULL || plan == NULL || plan->count == 0)
    return;
  cairo_save (cr);
  drawing_set_colour (cr, style->faint);
  drawing_set_line (cr, style, 0.7);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_BEVEL);
  for (size_t i = 0; i < plan->count; i++)
    paint_cut (cr, known, edge_index, &plan->cuts[i],
               pattern_edge_width (edge));
  cairo_restore (cr);
}

void
drawing_paint_grain (cairo_t *cr, const PatternPiece *piece,
                     const DrawingStyle *style)
{
  g_return_if_fail (cr != NULL && piece != NULL && style != NULL);
  double length = geo_distance (piece->grain_from, piece->grain_to);
  if (!piece->has_grain || !(length > 0))
    return;
  GeoPoint along = geo_unit (geo_sub (piece->grain_to, piece->grain_from));
  double head = fmin (style->text * 1.1, length / 4);
  cairo_save (cr);
  drawing_set_colour (cr, style->ink);
  drawing_set_line (cr, style, 0.8);
  GeoPoint from = piece->grain_both_ways
                      ? geo_along (piece->grain_from, along, head * 0.7)
                      : piece->grain_from;
  stroke_line (cr, from, geo_along (piece->grain_to, along, -head * 0.7));
  drawing_arrow_head (cr, piece->grain_to, along, head);
  if (piece->grain_both_ways)
    drawing_arrow_head (cr, piece->grain_from, geo_scale (along, -1), head);
  cairo_restore (cr);
}

double
drawing_fold_reach (const SewingPiece *piece, guint edge_index,
                    const DrawingStyle *style)
{
  return fmin (style->text * 1.5, piece->lengths[edge_index] / 8);
}

/* A bar inside the piece whose two ends turn to the fold and point at it. */
static void
paint_fold (cairo_t *cr, const SewingPiece *piece, guint edge,
            const DrawingStyle *style)
{
  const GeoChain *line = &piece->stitch[edge];
  double length = piece->lengths[edge];
  if (line->count == 0 || !(length > 0))
    return;
  double reach = drawing_fold_reach (piece, edge, style);
  double head = reach * 0.62;
  /* Not so long that the bar could be taken for a line to cut on. */
  double half = fmin (0.38 * length, 15 * style->text);
  GeoPoint ends[2], inner[2], inward[2];
  for (int i = 0; i < 2; i++)
    {
      GeoPlace on = geo_ruler_place (&piece->rulers[edge],
                                     length / 2 + (i ? half : -half));
      ends[i] = geo_chain_point (line, on);
      inward[i] = geo_left (geo_chain_tangent (line, on));
      inner[i] = geo_along (ends[i], inward[i], reach);
    }
  drawing_set_line (cr, style, 0.8);
  GeoPoint a = geo_along (ends[0], inward[0], head * 0.7);
  GeoPoint b = geo_along (ends[1], inward[1], head * 0.7);
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, inner[0].x, inner[0].y);
  cairo_line_to (cr, inner[1].x, inner[1].y);
  cairo_line_to (cr, b.x, b.y);
  cairo_stroke (cr);
  for (int i = 0; i < 2; i++)
    drawing_arrow_head (cr, ends[i], geo_scale (inward[i], -1), head);

  double capital = fmin (style->text * 0.55, reach);
  if (!style->words || capital < style->least)
    return;
  DrawingTextLook look = { style->font, capital, 0, DRAWING_TEXT_CENTRE };
  GeoPoint along = geo_sub (inner[1], inner[0]);
  GeoPoint at = geo_along (geo_lerp (inner[0], inner[1], 0.5),
                           geo_left (geo_unit (along)), capital * 1.1);
  const char *const words[] = { _ ("place on the fold"), _ ("fold") };
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      double width;
      drawing_text_size (cr, words[i], &look, &width, NULL);
      if (width > geo_norm (along))
        continue;
      drawing_text_line (cr, words[i], at,
                         drawing_text_upright (cr, atan2 (along.y, along.x)),
                         &look);
      return;
    }
}

void
drawing_paint_folds (cairo_t *cr, const SewingPiece *piece,
                     const DrawingStyle *style)
{
  cairo_save (cr);
  drawing_set_colour (cr, style->ink);
  for (guint e = 0; e < piece->piece->n_edges; e++)
    if (piece->piece->edges[e].kind == PATTERN_EDGE_FOLD)
      paint_fold (cr, piece, e, style);
  cairo_restore (cr);
}

static void
paint_buttonhole (cairo_t *cr, const PatternButtonhole *hole, double bar)
{
  GeoPoint along = { cos (hole->angle), sin (hole->angle) };
  GeoPoint side = geo_scale (geo_left (along), bar / 2);
  GeoPoint end = geo_along (hole->at, along, hole->length);
  stroke_line (cr, hole->at, end);
  stroke_line (cr, geo_add (hole->at, side), geo_sub (hole->at, side));
  stroke_line (cr, geo_add (end, side), geo_sub (end, side));
}

static void
paint_drill (cairo_t *cr, GeoPoint at, double radius)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, at.x, at.y, radius, 0, 2 * G_PI);
  cairo_stroke (cr);
  stroke_line (cr, geo_point (at.x - radius * 1.6, at.y),
               geo_point (at.x + radius * 1.6, at.y));
  stroke_line (cr, geo_point (at.x, at.y - radius * 1.6),
               geo_point (at.x, at.y + radius * 1.6));
}

void
drawing_paint_inner (cairo_t *cr, const PatternPiece *piece,
                     const DrawingStyle *style)
{
  cairo_save (cr);
  drawing_set_line (cr, style, 0.8);
  drawing_set_chain_dash (cr, style);
  drawing_set_colour (cr, style->faint);
  for (guint i = 0; i < piece->n_lines; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      pattern_line_chain (&piece->lines[i], &chain);
      drawing_path_chain (cr, &chain);
      cairo_stroke (cr);
      geo_chain_clear (&chain);
    }
  drawing_set_line (cr, style, 0.9);
  drawing_set_colour (cr, style->ink);
  double bar = fmin (style->mark, 6);
  for (guint i = 0; i < piece->n_buttonholes; i++)
    paint_buttonhole (cr, &piece->buttonholes[i],
                      fmin (bar, piece->buttonholes[i].length * 0.5));
  for (guint i = 0; i < piece->n_drills; i++)
    paint_drill (cr, piece->drills[i].at, fmax (1.5, 2.6 * style->line));
  for (guint i = 0; i < piece->n_texts; i++)
    {
      const PatternText *text = &piece->texts[i];
      DrawingTextLook look = { style->font, text->size, 0, DRAWING_TEXT_LEFT };
      if (text->size >= style->least * 0.8)
        drawing_text_line (cr, text->text, text->at, text->angle, &look);
    }
  cairo_restore (cr);
}
