/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands in a verb's fields, shown on the table: edges with the way they are walked, nodes,
 * places, whole pieces; the active field's strongest. Of the pattern that is shown where it is
 * there, else of the one before. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "app/draft-private.h"
#include "geometry/length.h"

#define ARROW_PX 7

typedef struct
{
  const AppDraft *draft;
  const Pattern *p;
  cairo_t *cr;
  const AppView *view;
  const AppPalette *colours;
  gboolean active;
} Painter;

static void
colour (const Painter *at)
{
  app_colour (at->cr, at->active ? at->colours->lit : at->colours->partner);
}

static void
path (const Painter *at, const GeoChain *chain)
{
  for (size_t i = 0; i < chain->count; i++)
    {
      GeoCubic c = chain->cubics[i];
      GeoPoint p[4] = { app_view_to_px (at->view, c.p[0]),
                        app_view_to_px (at->view, c.p[1]),
                        app_view_to_px (at->view, c.p[2]),
                        app_view_to_px (at->view, c.p[3]) };
      if (i == 0)
        cairo_move_to (at->cr, p[0].x, p[0].y);
      cairo_curve_to (at->cr, p[1].x, p[1].y, p[2].x, p[2].y, p[3].x, p[3].y);
    }
}

static void
stroke (const Painter *at, const GeoChain *chain)
{
  path (at, chain);
  app_colour (at->cr, at->colours->halo);
  cairo_set_line_width (at->cr, 7);
  cairo_stroke_preserve (at->cr);
  colour (at);
  cairo_set_line_width (at->cr, at->active ? 3.5 : 2.5);
  cairo_stroke (at->cr);
}

/* At the middle of the chain, pointing the way it is walked. */
static void
arrow (const Painter *at, const GeoChain *chain, gboolean reversed)
{
  GeoPlace place = { chain->count / 2, chain->count % 2 ? 0.5 : 0.0 };
  GeoPoint tip = app_view_to_px (at->view, geo_chain_point (chain, place));
  GeoPoint way = geo_unit (geo_chain_tangent (chain, place));
  if (reversed)
    way = geo_scale (way, -1);
  GeoPoint side = geo_point (-way.y, way.x);
  GeoPoint nose = geo_along (tip, way, ARROW_PX);
  GeoPoint a = geo_along (geo_along (tip, way, -ARROW_PX), side, ARROW_PX);
  GeoPoint b = geo_along (geo_along (tip, way, -ARROW_PX), side, -ARROW_PX);
  cairo_move_to (at->cr, nose.x, nose.y);
  cairo_line_to (at->cr, a.x, a.y);
  cairo_line_to (at->cr, b.x, b.y);
  cairo_close_path (at->cr);
  app_colour (at->cr, at->colours->halo);
  cairo_set_line_width (at->cr, 3);
  cairo_stroke_preserve (at->cr);
  colour (at);
  cairo_fill (at->cr);
}

static void
spot (const Painter *at, GeoPoint mm)
{
  GeoPoint px = app_view_to_px (at->view, mm);
  cairo_arc (at->cr, px.x, px.y, 6, 0, 2 * G_PI);
  app_colour (at->cr, at->colours->halo);
  cairo_set_line_width (at->cr, 4);
  cairo_stroke_preserve (at->cr);
  colour (at);
  cairo_set_line_width (at->cr, 2);
  cairo_stroke (at->cr);
  cairo_arc (at->cr, px.x, px.y, 2, 0, 2 * G_PI);
  cairo_fill (at->cr);
}

static void
paint_edge (const Painter *at, guint piece_id, guint edge, gboolean reversed,
            gboolean with_way)
{
  const PatternPiece *piece = pattern_get_piece (at->p, piece_id);
  int i = piece ? pattern_piece_find_edge (piece, edge) : -1;
  if (i < 0)
    return;
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, (guint)i, &chain);
  if (chain.count > 0)
    {
      stroke (at, &chain);
      if (with_way)
        arrow (at, &chain, reversed);
    }
  geo_chain_clear (&chain);
}

static void
paint_piece (const Painter *at, guint piece_id)
{
  const PatternPiece *piece = pattern_get_piece (at->p, piece_id);
  if (piece == NULL)
    return;
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_outline (piece, &chain);
  stroke (at, &chain);
  geo_chain_clear (&chain);
}

static void
paint_seam (const Painter *at, guint seam_id)
{
  const PatternSeam *seam = pattern_get_seam (at->p, seam_id);
  for (int s = 0; seam && s < 2; s++)
    for (guint r = 0; r < seam->sides[s].n_runs; r++)
      paint_edge (at, seam->sides[s].runs[r].piece, seam->sides[s].runs[r].edge,
                  FALSE, FALSE);
}

static void
paint_word (const Painter *at, DraftingParameterKind kind, const char *word)
{
  gboolean reversed = *word == '-';
  char *rest = NULL;
  guint id = (guint)g_ascii_strtoull (word + strspn (word, "-s"), &rest, 10);
  switch (kind)
    {
    case DRAFTING_PIECE:
    case DRAFTING_PIECES:
      paint_piece (at, id);
      break;
    case DRAFTING_EDGE:
    case DRAFTING_EDGES:
      if (*rest == '/')
        paint_edge (at, id, (guint)g_ascii_strtoull (rest + 1, NULL, 10),
                    reversed, kind == DRAFTING_EDGES);
      break;
    case DRAFTING_SEAM:
    case DRAFTING_DART:
      paint_seam (at, id);
      break;
    case DRAFTING_NODE:
      {
        const PatternPiece *piece = pattern_get_piece (at->p, id);
        guint node = *rest == '/' && rest[1] == 'n'
                         ? (guint)g_ascii_strtoull (rest + 2, NULL, 10)
                         : 0;
        int i = piece ? pattern_piece_find_node (piece, node) : -1;
        if (i >= 0)
          spot (at, piece->nodes[i].at);
        break;
      }
    case DRAFTING_POINT:
    case DRAFTING_POINTS:
      {
        GeoPoint mm = { g_ascii_strtod (word, &rest), 0 };
        mm.y = *rest == ',' ? g_ascii_strtod (rest + 1, NULL) : 0;
        spot (at, mm);
        break;
      }
    default:
      break;
    }
}

void
app_draft_paint (const AppDraft *draft, cairo_t *cr, const AppView *view,
                 gboolean dark)
{
  g_return_if_fail (draft != NULL && cr != NULL && view != NULL);
  Painter at = {
    draft, app_session_get_shown (draft->session), cr, view, app_palette (dark),
    FALSE
  };
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  /* The active field last, over the others. */
  for (int pass = 0; pass < 2; pass++)
    for (guint i = 0; i < draft->verb->n_parameters; i++)
      {
        const DraftingParameter *parameter = &draft->verb->parameters[i];
        at.active = i == draft->active;
        if (at.active != (pass == 1) || !app_draft_is_pick (parameter))
          continue;
        g_auto (GStrv) words = g_strsplit (draft->texts[i], " ", -1);
        for (guint k = 0; words[k]; k++)
          if (*words[k] != '\0')
            paint_word (&at, parameter->kind, words[k]);
      }
  cairo_restore (cr);
}
