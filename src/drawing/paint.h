/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One way to paint a piece, for the table, for paper and for thumbnails.
 *
 * The cairo context is set up by the caller so that one user unit is one
 * millimetre of the table; widths and sizes that must not grow with the view are given
 * in mm by the style. Curves are handed on as curves. Line conventions of the
 * trade: cutting line solid and outermost, stitch line dashed inside it, fold line and
 * construction lines one-dot chains; grain, fold and matching marks stop short of the
 * cutting line.
 */
#pragma once

#include <cairo.h>

#include "sewing/facts.h"

typedef struct
{
  double r, g, b, a;
} DrawingColour;

/* Where sheets of paper meet, in the piece's own millimetres. */
typedef struct
{
  const GeoPoint *lines; /* pairs of ends; words keep off them where they can */
  guint n_lines;         /* of pairs */
  const GeoPoint *spots; /* places for words to be tried beside the usual */
  guint n_spots;
} DrawingJoins;

typedef struct
{
  DrawingColour paper; /* of the table, for whoever lays it under everything;
                          a = 0 for none */
  DrawingColour ink;   /* cutting line, text, grain */
  DrawingColour stitch;
  DrawingColour faint;    /* clip marks, construction lines, side words */
  DrawingColour lit;      /* what is picked */
  DrawingColour longer;   /* of two edges sewn together: the longer one, */
  DrawingColour shorter;  /* the shorter one, */
  DrawingColour even;     /* and where both agree */
  DrawingColour shaping;  /* what a seam does to the cloth */
  DrawingColour tints[8]; /* fill of a piece by its cloth's tint */
  double line;            /* width of a main line, mm */
  double dash;            /* length of a stitch line's dash, mm */
  double text;            /* height of a capital in names, mm */
  double least;           /* text with lower capitals is left out, mm */
  double mark; /* length of a notch stroke where it isn't the allowance's */
  const char *font;
  gboolean fill; /* lay the cloth's tint */
  gboolean stitch_line, cutting_line, notches, clips, folds, grain, words,
      inner, edge_names; /* edge_names: each edge's name and its allowance, and
                            what the piece lacks yet */
  const DrawingJoins *joins; /* NULL: one sheet shows it all */
} DrawingStyle;

/* For the table at a scale (mm per pixel), light or dark; for paper. */
DrawingStyle drawing_style_table (double mm_per_px, gboolean dark);
DrawingStyle drawing_style_paper (void);
DrawingStyle drawing_style_thumbnail (double mm_per_px, gboolean dark);

/* Everything the style asks for. pattern gives the cloths and the unit. */
void drawing_paint_piece (cairo_t *cr, SewingFacts *facts,
                          const Pattern *pattern, const PatternPiece *piece,
                          const DrawingStyle *style);
/* Parts, for a caller that composes its own. */
void drawing_path_chain (cairo_t *cr, const GeoChain *chain);
void drawing_paint_cutting_line (cairo_t *cr, const SewingPiece *piece,
                                 const DrawingStyle *style);
void drawing_paint_stitch_line (cairo_t *cr, const SewingPiece *piece,
                                const DrawingStyle *style);
void drawing_paint_notch (cairo_t *cr, const SewingPiece *piece,
                          const PatternNotch *notch, const DrawingStyle *style);
void drawing_paint_clips (cairo_t *cr, SewingFacts *facts,
                          const Pattern *pattern, const PatternPiece *piece,
                          guint edge_index, const DrawingStyle *style);
void drawing_paint_grain (cairo_t *cr, const PatternPiece *piece,
                          const DrawingStyle *style);
void drawing_paint_words (cairo_t *cr, const Pattern *pattern,
                          const SewingPiece *piece, const DrawingStyle *style);
/* Where drawing_paint_words() puts them, table mm; empty where it finds no room. */
GeoBox drawing_words_box (cairo_t *cr, const Pattern *pattern,
                          const SewingPiece *piece, const DrawingStyle *style);
void drawing_paint_lines (cairo_t *cr, const Pattern *pattern,
                          const DrawingStyle *style);
/* "Cut 2 (1 pair) in wool, 1 on the fold in lining": one line a cloth. */
char *drawing_cut_words (const Pattern *pattern, const PatternPiece *piece);
