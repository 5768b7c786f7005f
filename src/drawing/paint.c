/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing/paint.h"

#include "drawing/parts.h"

void
drawing_set_colour (cairo_t *cr, DrawingColour colour)
{
  cairo_set_source_rgba (cr, colour.r, colour.g, colour.b, colour.a);
}

void
drawing_set_line (cairo_t *cr, const DrawingStyle *style, double factor)
{
  cairo_set_line_width (cr, style->line * factor);
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
}

void
drawing_set_chain_dash (cairo_t *cr, const DrawingStyle *style)
{
  double d = style->dash;
  double dashes[4] = { 2.4 * d, 0.5 * d, 0.25 * d, 0.5 * d };
  cairo_set_dash (cr, dashes, 4, 0);
}

void
drawing_path_chain (cairo_t *cr, const GeoChain *chain)
{
  g_return_if_fail (cr != NULL && chain != NULL);
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoPoint *p = chain->cubics[i].p;
      if (i == 0)
        cairo_move_to (cr, p[0].x, p[0].y);
      if (geo_cubic_is_straight (&chain->cubics[i], 1e-9))
        cairo_line_to (cr, p[3].x, p[3].y);
      else
        cairo_curve_to (cr, p[1].x, p[1].y, p[2].x, p[2].y, p[3].x, p[3].y);
    }
  if (geo_chain_is_closed (chain))
    cairo_close_path (cr);
}

static void
path_stitch (cairo_t *cr, const SewingPiece *piece)
{
  GeoChain all = GEO_CHAIN_EMPTY;
  for (guint e = 0; e < piece->piece->n_edges; e++)
    geo_chain_append_chain (&all, &piece->stitch[e]);
  drawing_path_chain (cr, &all);
  geo_chain_clear (&all);
}

/* The cutting line follows a fold where the cubic was made from a fold's edge. */
static gboolean
is_fold (const SewingPiece *piece, size_t cubic)
{
  size_t source = piece->ring.source[cubic];
  return source != GEO_RING_CORNER && source < piece->piece->n_edges
         && piece->piece->edges[source].kind == PATTERN_EDGE_FOLD;
}

static void
stroke_stretch (cairo_t *cr, const GeoChain *chain, size_t from, size_t to,
                gboolean fold, const DrawingStyle *style)
{
  GeoChain part = GEO_CHAIN_EMPTY;
  for (size_t i = from; i < to; i++)
    geo_chain_append (&part, chain->cubics[i % chain->count]);
  drawing_set_line (cr, style, 1);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  if (fold)
    drawing_set_chain_dash (cr, style);
  else
    cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  drawing_path_chain (cr, &part);
  cairo_stroke (cr);
  geo_chain_clear (&part);
}

void
drawing_paint_cutting_line (cairo_t *cr, const SewingPiece *piece,
                            const DrawingStyle *style)
{
  g_return_if_fail (cr != NULL && piece != NULL && style != NULL);
  const GeoChain *line = &piece->ring.outline;
  if (line->count == 0)
    return;
  cairo_save (cr);
  drawing_set_colour (cr, style->ink);
  /* Stretches of one kind, from where the kind first changes. */
  size_t start = 0;
  while (start < line->count
         && is_fold (piece, start)
                == is_fold (piece, start ? start - 1 : line->count - 1))
    start++;
  if (start == line->count)
    stroke_stretch (cr, line, 0, line->count, is_fold (piece, 0), style);
  else
    for (size_t from = start; from < start + line->count;)
      {
        gboolean fold = is_fold (piece, from % line->count);
        size_t to = from + 1;
        while (to < start + line->count
               && is_fold (piece, to % line->count) == fold)
          to++;
        stroke_stretch (cr, line, from, to, fold, style);
        from = to;
      }
  for (size_t i = 0; i < piece->ring.island_count; i++)
    stroke_stretch (cr, &piece->ring.islands[i], 0,
                    piece->ring.islands[i].count, FALSE, style);
  cairo_restore (cr);
}

void
drawing_paint_stitch_line (cairo_t *cr, const SewingPiece *piece,
                           const DrawingStyle *style)
{
  g_return_if_fail (cr != NULL && piece != NULL && style != NULL);
  const double dashes[2] = { style->dash, style->dash * 0.55 };
  gboolean ring = piece->ring.outline.count > 0;
  cairo_save (cr);
  drawing_set_line (cr, style, 0.8);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_dash (cr, dashes, 2, 0);
  drawing_set_colour (cr, style->stitch);
  for (guint e = 0; e < piece->piece->n_edges; e++)
    {
      /* Without an allowance the cutting line lies on it and says it all. */
      if (ring && style->cutting_line
          && !(pattern_edge_width (&piece->piece->edges[e]) > 0))
        continue;
      drawing_path_chain (cr, &piece->stitch[e]);
      cairo_stroke (cr);
    }
  cairo_restore (cr);
}

static guint
tint_of (const Pattern *pattern, const PatternPiece *piece)
{
  const PatternCloth *cloth
      = piece->n_cuts ? pattern_get_cloth (pattern, piece->cuts[0].cloth)
                      : NULL;
  return cloth ? cloth->tint % 8 : 0;
}

/* The cloth's tint, laid once over all that is cut and once more inside the
 * stitch line, so that the allowance shows as a lighter border. */
static void
paint_fill (cairo_t *cr, const Pattern *pattern, const SewingPiece *piece,
            const DrawingStyle *style)
{
  DrawingColour tint = style->tints[tint_of (pattern, piece->piece)];
  cairo_save (cr);
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  drawing_path_chain (cr, &piece->ring.outline);
  for (size_t i = 0; i < piece->ring.island_count; i++)
    drawing_path_chain (cr, &piece->ring.islands[i]);
  /* Pattern paper, a little lighter than the table it lies on, and the tint over
   * it, laid in one go. */
  double white = style->ink.r > 0.5 ? 0.035 : 0.55;
  double a = tint.a + white * (1 - tint.a), w = white * (1 - tint.a) / a;
  cairo_set_source_rgba (cr, w + tint.r * tint.a / a, w + tint.g * tint.a / a,
                         w + tint.b * tint.a / a, a);
  cairo_fill (cr);
  path_stitch (cr, piece);
  drawing_set_colour (cr, tint);
  cairo_fill (cr);
  cairo_restore (cr);
}

void
drawing_paint_piece (cairo_t *cr, SewingFacts *facts, const Pattern *pattern,
                     const PatternPiece *piece, const DrawingStyle *style)
{
  g_return_if_fail (cr != NULL && facts != NULL && pattern != NULL
                    && piece != NULL && style != NULL);
  const SewingPiece *known = sewing_facts_piece (facts, piece);
  if (known == NULL)
    return;
  if (style->fill)
    paint_fill (cr, pattern, known, style);
  if (style->clips)
    for (guint e = 0; e < piece->n_edges; e++)
      drawing_paint_clips (cr, facts, pattern, piece, e, style);
  if (style->stitch_line || known->ring.outline.count == 0)
    drawing_paint_stitch_line (cr, known, style);
  if (style->cutting_line)
    drawing_paint_cutting_line (cr, known, style);
  if (style->folds)
    {
      drawing_paint_folds (cr, known, style);
      drawing_paint_darts (cr, facts, pattern, known, style);
    }
  if (style->notches)
    for (guint i = 0; i < piece->n_notches; i++)
      drawing_paint_notch (cr, known, &piece->notches[i], style);
  if (style->inner)
    drawing_paint_inner (cr, piece, style);
  if (style->grain)
    drawing_paint_grain (cr, piece, style);
  if (style->edge_names)
    drawing_paint_edge_words (cr, facts, pattern, known, style);
  if (style->words)
    drawing_paint_words (cr, pattern, known, style);
}

void
drawing_paint_lines (cairo_t *cr, const Pattern *pattern,
                     const DrawingStyle *style)
{
  g_return_if_fail (cr != NULL && pattern != NULL && style != NULL);
  cairo_save (cr);
  drawing_set_line (cr, style, 0.8);
  drawing_set_chain_dash (cr, style);
  drawing_set_colour (cr, style->faint);
  for (guint i = 0; i < pattern->n_lines; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      pattern_line_chain (&pattern->lines[i], &chain);
      drawing_path_chain (cr, &chain);
      cairo_stroke (cr);
      geo_chain_clear (&chain);
    }
  cairo_restore (cr);
}
