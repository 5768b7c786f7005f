/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipes for simple pieces from a block. */
#include <glib/gi18n.h>

#include "drafting/amounts.h"
#include "drafting/blocks.h"
#include "drafting/draft-help.h"
#include "drafting/edit-private.h"
#include "drafting/facing.h"
#include "drafting/lay.h"
#include "sewing/words.h"

/* --- flared skirt ------------------------------------------------------------------------ */

static const DraftingParameter skirt_parameters[] = {
  { "waist", DRAFTING_LENGTH, N_ ("Waist girth"), "700 mm", NULL, NULL, 200,
    2500 },
  { "ease", DRAFTING_LENGTH, N_ ("Ease at the waist"), "20 mm", NULL, NULL, 0,
    300 },
  { "length", DRAFTING_LENGTH, N_ ("Length"), "600 mm", NULL, NULL, 50, 2000 },
  { "flare", DRAFTING_LENGTH, N_ ("Flare of each quarter"), "120 mm", NULL,
    NULL, 0, 3000 },
  { "band", DRAFTING_LENGTH, N_ ("Height of the waistband"), "30 mm", NULL,
    NULL, 10, 200 },
  { "overlap", DRAFTING_LENGTH, N_ ("Waistband longer by"), "30 mm", NULL, NULL,
    0, 200 },
  { "allowance", DRAFTING_LENGTH, N_ ("Seam allowance"), "15 mm", NULL, NULL, 0,
    60 },
  { "hem", DRAFTING_LENGTH, N_ ("Hem allowance"), "30 mm", NULL, NULL, 0, 150 },
};

typedef struct
{
  double quarter, length, flare;
} SkirtTry;

static gboolean
skirt_works (gpointer data)
{
  SkirtTry *t = data;
  g_auto (DraftingShape) shape = { 0 };
  return drafting_skirt_shape (t->quarter, t->length, t->flare, &shape);
}

static void
give_panel (DraftingShape *shape, const DraftingValues *v, DraftingDraft *draft,
            const char *part, const char *name)
{
  double width = drafting_values_get_number (v, "allowance");
  DraftingDraftPiece *piece = drafting_shape_give (shape, draft, part, name);
  drafting_give_edge (piece, shape, "waist", _ ("waist"), PATTERN_EDGE_SEAM,
                      width);
  drafting_give_edge (piece, shape, "side", _ ("side"), PATTERN_EDGE_SEAM,
                      width);
  drafting_give_edge (piece, shape, "hem", _ ("hem"), PATTERN_EDGE_HEM,
                      drafting_values_get_number (v, "hem"));
  drafting_give_edge (piece, shape, "centre", _ ("centre"), PATTERN_EDGE_FOLD,
                      0);
  drafting_draft_add_notch (piece, "hip", "side", 1,
                            shape->turned ? PATTERN_FROM_END
                                          : PATTERN_FROM_START,
                            drafting_shape_length (shape, "side") / 3);
  drafting_give_grain (piece, shape, drafting_edge_way (shape, "centre"));
  drafting_draft_add_cut (piece, PATTERN_SHELL, 1, FALSE);
}

/* The band joins the waist of both panels, on their folds, all round: its seam is half of it. */
static void
give_waistband (DraftingShape *band, const DraftingValues *v,
                DraftingDraft *draft)
{
  double width = drafting_values_get_number (v, "allowance");
  DraftingDraftPiece *piece
      = drafting_shape_give (band, draft, "band", _ ("Waistband"));
  static const char *const edges[] = { "top", "right", "bottom", "left" };
  const char *const names[]
      = { _ ("long edge"), _ ("end"), _ ("inner long edge"), _ ("end") };
  for (int i = 0; i < 4; i++)
    drafting_give_edge (piece, band, edges[i], names[i], PATTERN_EDGE_SEAM,
                        width);
  drafting_give_grain (piece, band, geo_point (1, 0));
  drafting_draft_add_cut (piece, PATTERN_SHELL, 1, FALSE);
  drafting_draft_add_cut (piece, PATTERN_INTERFACING, 1, FALSE);
}

static gboolean
draft_skirt (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
             GError **error)
{
  double girth = drafting_values_get_number (v, "waist")
                 + drafting_values_get_number (v, "ease");
  SkirtTry t = { girth / 4, drafting_values_get_number (v, "length"),
                 drafting_values_get_number (v, "flare") };
  g_auto (DraftingShape) front = { 0 }, back = { 0 }, band = { 0 };
  if (!drafting_skirt_shape (t.quarter, t.length, t.flare, &front))
    {
      DraftingAmount amounts[] = { { &t.flare, 0, N_ ("Flare of each quarter"),
                                     DRAFTING_AMOUNT_LENGTH } };
      return drafting_refuse_amounts (
          p, amounts, 1, skirt_works, &t,
          _ ("No skirt of these amounts can be drafted."), error);
    }
  drafting_skirt_shape (t.quarter, t.length, t.flare, &back);
  drafting_strip_shape (girth + drafting_values_get_number (v, "overlap"),
                        2 * drafting_values_get_number (v, "band"), &band);
  DraftingShape *shapes[] = { &front, &back, &band };
  drafting_lay_out (p, shapes, 3);
  give_panel (&front, v, draft, "front", _ ("Skirt front"));
  give_panel (&back, v, draft, "back", _ ("Skirt back"));
  give_waistband (&band, v, draft);
  DraftingDraftRun a = drafting_shape_run (&front, "front", "side", FALSE);
  DraftingDraftRun b = drafting_shape_run (&back, "back", "side", FALSE);
  drafting_draft_add_seam (draft, "side", _ ("Side seam"), PATTERN_JOIN_SEAM,
                           &a, 1, &b, 1, 0, PATTERN_PRESS_OPEN);
  g_autofree char *sweep = sewing_words_length (p, girth + 4 * t.flare);
  drafting_draft_say (draft, _ ("Sweep of the whole hem %s."), sweep);
  if (t.flare > 0)
    {
      g_autofree char *radius = sewing_words_length (
          p, drafting_skirt_radius (t.quarter, t.length, t.flare));
      drafting_draft_say (draft, _ ("Radius of the waist %s."), radius);
    }
  return TRUE;
}

/* --- sleeve -------------------------------------------------------------------------------- */

static const DraftingParameter sleeve_parameters[] = {
  { "armhole", DRAFTING_EDGES, N_ ("Armhole edges"), NULL, NULL, NULL, 0, 0 },
  { "cap", DRAFTING_LENGTH, N_ ("Height of the cap"), "135 mm", NULL, NULL, 20,
    250 },
  { "ease", DRAFTING_LENGTH, N_ ("Ease in the cap"), "25 mm", NULL, NULL, 0,
    80 },
  { "length", DRAFTING_LENGTH, N_ ("Length"), "580 mm", NULL, NULL, 60, 1000 },
  { "width", DRAFTING_LENGTH, N_ ("Width at the hem"), "240 mm", NULL, NULL, 30,
    800 },
  { "allowance", DRAFTING_LENGTH, N_ ("Seam allowance"), "15 mm", NULL, NULL, 0,
    60 },
  { "hem", DRAFTING_LENGTH, N_ ("Hem allowance"), "30 mm", NULL, NULL, 0, 150 },
};

static gboolean
sleeve_works (gpointer data)
{
  g_auto (DraftingShape) shape = { 0 };
  double width;
  return drafting_sleeve_shape (data, &shape, &width);
}

static gboolean
refuse_sleeve (const Pattern *p, DraftingSleeveWish *w, GError **error)
{
  DraftingAmount amounts[]
      = { { &w->cap, 60, N_ ("Height of the cap"), DRAFTING_AMOUNT_LENGTH },
          { &w->hem, 200, N_ ("Width at the hem"), DRAFTING_AMOUNT_LENGTH },
          { &w->length, 600, N_ ("Length"), DRAFTING_AMOUNT_LENGTH } };
  return drafting_refuse_amounts (
      p, amounts, G_N_ELEMENTS (amounts), sleeve_works, w,
      _ ("No sleeve of these amounts can be drafted for these edges: pick the "
         "back's armhole, then the front's."),
      error);
}

static void
give_sleeve (DraftingShape *shape, const DraftingValues *v,
             const DraftingLay *lay, DraftingDraft *draft)
{
  double width = drafting_values_get_number (v, "allowance");
  DraftingDraftPiece *piece
      = drafting_shape_give (shape, draft, "sleeve", _ ("Sleeve"));
  drafting_give_edge (piece, shape, "back-cap", _ ("back of the cap"),
                      PATTERN_EDGE_SEAM, lay->allowance);
  drafting_give_edge (piece, shape, "front-cap", _ ("front of the cap"),
                      PATTERN_EDGE_SEAM, lay->allowance);
  drafting_give_edge (piece, shape, "front-side", _ ("underarm, front"),
                      PATTERN_EDGE_SEAM, width);
  drafting_give_corner (piece, shape, "hem", _ ("hem"), PATTERN_EDGE_HEM,
                        drafting_values_get_number (v, "hem"),
                        GEO_CORNER_FOLDED_BACK, TRUE);
  drafting_give_corner (piece, shape, "back-side", _ ("underarm, back"),
                        PATTERN_EDGE_SEAM, width, GEO_CORNER_FOLDED_BACK,
                        FALSE);
  drafting_give_grain (piece, shape, geo_point (0, 1));
  drafting_draft_add_cut (piece, PATTERN_SHELL, 2, TRUE);
}

static gboolean
draft_sleeve (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
              GError **error)
{
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, "armhole", &n);
  g_auto (DraftingLay) lay = { 0 };
  if (!drafting_lay_runs (p, runs, n, &lay, error))
    return FALSE;
  if (n != 2)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("Pick two edges: the back's armhole, then the "
                               "front's."));
  double ease = drafting_values_get_number (v, "ease");
  DraftingSleeveWish w = { .back = lay.starts[1] + ease / 2,
                           .front = lay.starts[2] - lay.starts[1] + ease / 2,
                           .cap = drafting_values_get_number (v, "cap"),
                           .length = drafting_values_get_number (v, "length"),
                           .hem = drafting_values_get_number (v, "width") };
  g_auto (DraftingShape) shape = { 0 };
  double width;
  if (!drafting_sleeve_shape (&w, &shape, &width))
    return refuse_sleeve (p, &w, error);
  DraftingShape *shapes[] = { &shape };
  drafting_lay_out (p, shapes, 1);
  give_sleeve (&shape, v, &lay, draft);
  DraftingDraftRun a[]
      = { drafting_shape_run (&shape, "sleeve", "back-cap", FALSE),
          drafting_shape_run (&shape, "sleeve", "front-cap", FALSE) };
  DraftingDraftRun b[]
      = { { NULL, NULL, lay.runs[0] }, { NULL, NULL, lay.runs[1] } };
  drafting_draft_add_seam (draft, "cap", _ ("Armhole seam"), PATTERN_JOIN_SEAM,
                           a, 2, b, 2, ease, PATTERN_PRESS_TO_A);
  DraftingDraftRun x
      = drafting_shape_run (&shape, "sleeve", "front-side", FALSE);
  DraftingDraftRun y = drafting_shape_run (&shape, "sleeve", "back-side", TRUE);
  drafting_draft_add_seam (draft, "underarm", _ ("Underarm seam"),
                           PATTERN_JOIN_SEAM, &x, 1, &y, 1, 0,
                           PATTERN_PRESS_OPEN);
  g_autofree char *words = sewing_words_length (p, width);
  drafting_draft_say (draft, _ ("Width under the arm %s."), words);
  return TRUE;
}

/* --- table ---------------------------------------------------------------------------------- */

static const DraftingVerb verbs[] = {
  { "flared-skirt", N_ ("Flared skirt"),
    N_ ("Front, back and waistband of a skirt, for a waist: the hem longer "
        "by the flare."),
    DRAFTING_GROUP_DRAFT, skirt_parameters, G_N_ELEMENTS (skirt_parameters),
    NULL, draft_skirt, NULL },
  { "sleeve", N_ ("Sleeve"),
    N_ ("Pick the back's armhole, then the front's: a plain sleeve whose cap "
        "is as long as they are, and its ease."),
    DRAFTING_GROUP_DRAFT, sleeve_parameters, G_N_ELEMENTS (sleeve_parameters),
    NULL, draft_sleeve, NULL },
};

const DraftingVerb *
drafting_verbs_of_blocks (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}
