/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipes for small parts: interfacing, bias strips and welts. */
#include <glib/gi18n.h>

#include "drafting/draft-help.h"
#include "drafting/edit-private.h"
#include "drafting/facing.h"
#include "drafting/lay.h"
#include "drafting/small-parts.h"
#include "geometry/length.h"
#include "sewing/words.h"

/* --- interfacing ------------------------------------------------------------------------ */

static const DraftingParameter interfacing_parameters[] = {
  { "piece", DRAFTING_PIECE, N_ ("Piece"), NULL, NULL, NULL, 0, 0 },
  { "allowance", DRAFTING_LENGTH, N_ ("Allowance kept"), "2 mm", NULL, NULL, 0,
    60 },
};

static gboolean
draft_interfacing (const Pattern *p, const DraftingValues *v,
                   DraftingDraft *draft, GError **error)
{
  const PatternPiece *shell
      = drafting_find_piece (p, drafting_values_get_piece (v, "piece"), error);
  if (shell == NULL)
    return FALSE;
  if (shell->n_edges < 2 || shell->n_edges > DRAFTING_SHAPE_EDGES)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("A piece of between 2 and %d edges can be "
                               "interfaced like this."),
                            DRAFTING_SHAPE_EDGES);
  g_auto (DraftingShape) shape = { 0 };
  for (guint i = 0; i < shell->n_edges; i++)
    {
      g_autofree char *part = g_strdup_printf ("e%u", shell->edges[i].id);
      pattern_piece_edge_chain (shell, i, drafting_shape_add (&shape, part));
    }
  DraftingShape *shapes[] = { &shape };
  drafting_lay_out (p, shapes, 1);
  g_autofree char *name = g_strdup_printf (_ ("%s interfacing"), shell->name);
  DraftingDraftPiece *piece
      = drafting_shape_give (&shape, draft, "interfacing", name);
  double kept = drafting_values_get_number (v, "allowance");
  for (guint i = 0; i < shell->n_edges; i++)
    {
      const PatternEdge *e = &shell->edges[i];
      g_autofree char *part = g_strdup_printf ("e%u", e->id);
      drafting_give_edge (piece, &shape, part, e->name,
                          e->kind == PATTERN_EDGE_FOLD ? PATTERN_EDGE_FOLD
                                                       : PATTERN_EDGE_SEAM,
                          fmin (kept, pattern_edge_width (e)));
    }
  drafting_give_grain (piece, &shape,
                       shell->has_grain
                           ? geo_sub (shell->grain_to, shell->grain_from)
                           : geo_point (0, 1));
  for (guint i = 0; i < shell->n_cuts; i++)
    {
      const PatternCloth *cloth = pattern_get_cloth (p, shell->cuts[i].cloth);
      if (cloth != NULL && cloth->use == PATTERN_SHELL)
        drafting_draft_add_cut (piece, PATTERN_INTERFACING,
                                shell->cuts[i].count, shell->cuts[i].mirrored);
    }
  return TRUE;
}

/* --- bias strip --------------------------------------------------------------------------- */

static const DraftingParameter bias_parameters[] = {
  { "edges", DRAFTING_EDGES, N_ ("Edges bound"), NULL, NULL, NULL, 0, 0 },
  { "width", DRAFTING_LENGTH, N_ ("Width"), "30 mm", NULL, NULL, 5, 300 },
  { "more", DRAFTING_LENGTH, N_ ("Longer at each end by"), "10 mm", NULL, NULL,
    0, 200 },
};

static double
cloth_width (const Pattern *p)
{
  for (guint i = 0; i < p->n_cloths; i++)
    if (p->cloths[i].use == PATTERN_SHELL)
      return p->cloths[i].width;
  return 0;
}

static gboolean
draft_bias (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
            GError **error)
{
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, "edges", &n);
  double sum = 0;
  for (guint i = 0; i < n; i++)
    {
      const PatternPiece *piece;
      const PatternEdge *edge
          = pattern_get_edge (p, runs[i].piece, runs[i].edge, &piece);
      if (edge != NULL)
        sum += drafting_edge_length (piece, (guint)(edge - piece->edges));
    }
  double width = drafting_values_get_number (v, "width");
  double length = sum + 2 * drafting_values_get_number (v, "more");
  if (!(length > width))
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("The strip would be wider than long."));
  g_auto (DraftingShape) shape = { 0 };
  drafting_strip_shape (length, width, &shape);
  DraftingShape *shapes[] = { &shape };
  drafting_lay_out (p, shapes, 1);
  DraftingDraftPiece *piece
      = drafting_shape_give (&shape, draft, "strip", _ ("Bias strip"));
  static const char *const edges[] = { "top", "right", "bottom", "left" };
  for (int i = 0; i < 4; i++)
    drafting_give_edge (piece, &shape, edges[i], "", PATTERN_EDGE_RAW, 0);
  /* Across the strip it is short: through its middle. */
  GeoPoint middle = geo_box_centre (drafting_shape_bounds (&shape));
  GeoPoint half = geo_scale (geo_point (G_SQRT2 / 2, G_SQRT2 / 2), width / 2);
  drafting_draft_set_grain (piece, geo_sub (middle, half),
                            geo_add (middle, half));
  drafting_draft_add_cut (piece, PATTERN_SHELL, 1, FALSE);
  g_autofree char *long_words = sewing_words_length (p, length);
  int parts = drafting_bias_parts (length, width, cloth_width (p));
  if (parts > 1)
    drafting_draft_say (draft,
                        _ ("%s of bias strip, joined from %d lengths across "
                           "the cloth."),
                        long_words, parts);
  else
    drafting_draft_say (draft, _ ("%s of bias strip."), long_words);
  return TRUE;
}

/* --- welt --------------------------------------------------------------------------------- */

static const DraftingParameter welt_parameters[] = {
  { "edge", DRAFTING_EDGE, N_ ("Edge of the opening"), NULL, NULL, NULL, 0, 0 },
  { "other", DRAFTING_EDGE, N_ ("Other edge of the opening"), "", NULL, NULL, 0,
    0 },
  { "from", DRAFTING_LENGTH, N_ ("Begins along the edge at"), "", NULL, NULL, 0,
    3000 },
  { "length", DRAFTING_LENGTH, N_ ("Length"), "", NULL, NULL, 10, 1500 },
  { "width", DRAFTING_LENGTH, N_ ("Finished width"), "50 mm", NULL, NULL, 5,
    200 },
  { "folded", DRAFTING_YES, N_ ("Folded along its length"), "yes", NULL, NULL,
    0, 0 },
  { "allowance", DRAFTING_LENGTH, N_ ("Allowance"), "10 mm", NULL, NULL, 0,
    60 },
};

typedef struct
{
  const PatternPiece *piece;
  const PatternEdge *edge;
  double length;
} Opening;

static Opening
opening_of (const Pattern *p, const DraftingValues *v, const char *key)
{
  Opening o = { 0 };
  guint n;
  if (!drafting_values_has (v, key))
    return o;
  const PatternRun *runs = drafting_values_get_runs (v, key, &n);
  o.edge = n > 0 ? pattern_get_edge (p, runs[0].piece, runs[0].edge, &o.piece)
                 : NULL;
  if (o.edge != NULL)
    o.length = drafting_edge_length (o.piece, (guint)(o.edge - o.piece->edges));
  return o;
}

/* A stretch of an edge is marked where it begins and ends. */
static void
mark_stretch (DraftingDraft *draft, const Opening *o, double from,
              double length)
{
  g_autofree char *edge = g_strdup_printf ("%u", o->edge->id);
  DraftingDraftPiece *piece = drafting_draft_on_piece (draft, o->piece->id);
  drafting_draft_add_notch (piece, "begins", edge, 1, PATTERN_FROM_START, from);
  drafting_draft_add_notch (piece, "ends", edge, 1, PATTERN_FROM_START,
                            from + length);
}

static void
sew_opening (DraftingDraft *draft, const Opening *o, const char *part,
             const char *name, const DraftingShape *shape, const char *edge)
{
  if (o->edge == NULL)
    return;
  /* The welt's long edges, as drawn, run the outline's way, as the piece's do:
     sewn, one against the other. */
  DraftingDraftRun a = { NULL, NULL, { o->piece->id, o->edge->id, FALSE } };
  DraftingDraftRun b = drafting_shape_run (shape, "welt", edge, TRUE);
  drafting_draft_add_seam (draft, part, name, PATTERN_JOIN_SEAM, &a, 1, &b, 1,
                           0, PATTERN_PRESS_TURNED);
}

static gboolean
is_in_edge (const Pattern *p, const Opening *o, double from, double length,
            GError **error)
{
  if (from + length <= o->length + 1e-6)
    return TRUE;
  g_autofree char *most = sewing_words_length (p, fmax (o->length - from, 0));
  return drafting_refuse (
      error, DRAFTING_ERROR_AMOUNT,
      _ ("The welt runs past the end of its edge. The longest that works from "
         "there is %s."),
      most);
}

static void
give_welt (const DraftingValues *v, DraftingDraft *draft, DraftingShape *shape,
           double edge_width)
{
  double width = drafting_values_get_number (v, "allowance");
  DraftingDraftPiece *piece
      = drafting_shape_give (shape, draft, "welt", _ ("Welt"));
  drafting_give_edge (piece, shape, "right", _ ("front edge"),
                      PATTERN_EDGE_SEAM, edge_width);
  drafting_give_edge (piece, shape, "left", _ ("side edge"), PATTERN_EDGE_SEAM,
                      edge_width);
  drafting_give_edge (piece, shape, "top", _ ("upper end"), PATTERN_EDGE_SEAM,
                      width);
  drafting_give_edge (piece, shape, "bottom", _ ("lower end"),
                      PATTERN_EDGE_SEAM, width);
  drafting_give_grain (piece, shape, geo_point (0, 1));
  drafting_draft_add_cut (piece, PATTERN_SHELL, 2, TRUE);
  drafting_draft_add_cut (piece, PATTERN_INTERFACING, 2, TRUE);
}

static gboolean
draft_welt (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
            GError **error)
{
  Opening edge = opening_of (p, v, "edge"), other = opening_of (p, v, "other");
  if (edge.edge == NULL)
    return drafting_refuse (error, DRAFTING_ERROR_GONE,
                            _ ("Pick the edge of the opening."));
  double from = drafting_number_or (v, "from", 0);
  double length
      = drafting_number_or (v, "length", fmax (edge.length - from, 0));
  if (!is_in_edge (p, &edge, from, length, error))
    return FALSE;
  double width = drafting_values_get_number (v, "width");
  gboolean folded = drafting_values_get_yes (v, "folded");
  if (!(length >= width / 4))
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("No room is left for a welt there."));
  g_auto (DraftingShape) shape = { 0 };
  drafting_strip_shape (folded ? 2 * width : width, length, &shape);
  DraftingShape *shapes[] = { &shape };
  drafting_lay_out (p, shapes, 1);
  give_welt (v, draft, &shape, pattern_edge_width (edge.edge));
  gboolean whole = from < 1e-6 && fabs (length - edge.length) < 1e-6;
  if (whole)
    {
      sew_opening (draft, &edge, "front", _ ("Opening, front"), &shape,
                   "right");
      sew_opening (draft, &other, "side", _ ("Opening, side"), &shape, "left");
    }
  else
    mark_stretch (draft, &edge, from, length);
  return TRUE;
}

/* --- table -------------------------------------------------------------------------------- */

static const DraftingVerb verbs[] = {
  { "interfacing", N_ ("Interfacing"),
    N_ ("Pick a piece: interfacing of its shape, with less allowance."),
    DRAFTING_GROUP_DRAFT, interfacing_parameters,
    G_N_ELEMENTS (interfacing_parameters), NULL, draft_interfacing, NULL },
  { "bias-strip", N_ ("Bias strip"),
    N_ ("Pick the edges it is to bind: a strip on the bias, as long as they "
        "are together."),
    DRAFTING_GROUP_DRAFT, bias_parameters, G_N_ELEMENTS (bias_parameters), NULL,
    draft_bias, NULL },
  { "welt", N_ ("Welt"),
    N_ ("Pick the edge of a pocket or arm opening, or say where along an edge "
        "it lies: a welt for it."),
    DRAFTING_GROUP_DRAFT, welt_parameters, G_N_ELEMENTS (welt_parameters), NULL,
    draft_welt, NULL },
};

const DraftingVerb *
drafting_verbs_of_strips (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}
