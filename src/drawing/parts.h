/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the painters of this layer share and nobody else needs. */
#pragma once

#include "drawing/paint.h"

void drawing_set_colour (cairo_t *cr, DrawingColour colour);
/* One long, one short: folds and construction lines. */
void drawing_set_chain_dash (cairo_t *cr, const DrawingStyle *style);
/* Full line, no dash, butt ends, of the style's width times a factor. */
void drawing_set_line (cairo_t *cr, const DrawingStyle *style, double factor);
/* A filled arrow head whose tip is at a point. */
void drawing_arrow_head (cairo_t *cr, GeoPoint tip, GeoPoint towards,
                         double length);
void drawing_paint_folds (cairo_t *cr, const SewingPiece *piece,
                          const DrawingStyle *style);
/* The cap and the fold of each dart on the piece whose intake is kept. */
void drawing_paint_darts (cairo_t *cr, SewingFacts *facts,
                          const Pattern *pattern, const SewingPiece *piece,
                          const DrawingStyle *style);
/* Buttonholes, drill marks, texts and inner lines. */
void drawing_paint_inner (cairo_t *cr, const PatternPiece *piece,
                          const DrawingStyle *style);
/* Each edge's name and allowance. */
void drawing_paint_edge_words (cairo_t *cr, SewingFacts *facts,
                               const Pattern *pattern, const SewingPiece *piece,
                               const DrawingStyle *style);
/* Distance of a fold's bracket from the fold, mm. */
double drawing_fold_reach (const SewingPiece *piece, guint edge_index,
                           const DrawingStyle *style);
