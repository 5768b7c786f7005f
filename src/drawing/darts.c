/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A dart's fold and its cap, where the cloth between the legs is not cut away. */
#include "drawing/parts.h"
#include "geometry/region.h"
#include "sewing/dart.h"

/* The intake is cloth: the allowances of both legs cover it up to its cap. */
static gboolean
is_kept (const SewingPiece *piece, const SewingDart *dart)
{
  const GeoChain *ring = &piece->ring.outline;
  for (int i = 1; i <= 4; i++)
    if (ring->count == 0
        || !geo_chain_contains (ring,
                                geo_lerp (dart->point, dart->fold, i / 4.2)))
      return FALSE;
  return TRUE;
}

static void
paint_dart (cairo_t *cr, const SewingDart *dart, const GeoChain *cap,
            const DrawingStyle *style)
{
  const double dashes[2] = { style->dash, style->dash * 0.55 };
  cairo_save (cr);
  drawing_set_line (cr, style, 0.8);
  cairo_set_dash (cr, dashes, 2, 0);
  drawing_set_colour (cr, style->stitch);
  drawing_path_chain (cr, cap);
  cairo_stroke (cr);
  drawing_set_line (cr, style, 0.6);
  drawing_set_chain_dash (cr, style);
  drawing_set_colour (cr, style->faint);
  cairo_move_to (cr, dart->point.x, dart->point.y);
  cairo_line_to (cr, dart->fold.x, dart->fold.y);
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
drawing_paint_darts (cairo_t *cr, SewingFacts *facts, const Pattern *pattern,
                     const SewingPiece *piece, const DrawingStyle *style)
{
  for (guint i = 0; i < pattern->n_seams; i++)
    {
      const PatternSeam *seam = pattern->seams[i];
      if (seam->join != PATTERN_JOIN_DART || seam->sides[0].n_runs == 0
          || seam->sides[0].runs[0].piece != piece->piece->id
          || pattern_get_piece (pattern, piece->piece->id) != piece->piece)
        continue;
      SewingDart dart;
      GeoChain cap = GEO_CHAIN_EMPTY;
      if (sewing_dart_cap (facts, pattern, seam, &dart, &cap)
          && is_kept (piece, &dart))
        paint_dart (cr, &dart, &cap, style);
      geo_chain_clear (&cap);
    }
}
