/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipes for collars. */
#include <glib/gi18n.h>

#include "drafting/amounts.h"
#include "drafting/collar.h"
#include "drafting/draft-help.h"
#include "drafting/edit-private.h"
#include "sewing/words.h"

/* --- what collars share --------------------------------------------------------------- */

static gboolean
lay_neck (const Pattern *p, const DraftingValues *v, DraftingLay *lay,
          GError **error)
{
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, "neck", &n);
  return drafting_lay_runs (p, runs, n, lay, error);
}

static const char *const centres[] = { "auto", "fold", "ends", NULL };
static const char *const centre_labels[]
    = { N_ ("By itself"), N_ ("On the fold"), N_ ("Whole neck"), NULL };

/* A neckline that begins at a fold is half of one. One that does not is taken to be
 * half as well where it is of one or two edges, the first of which begins square to what is beside
 * it: a centre back with a seam. */
static gboolean
is_whole (const DraftingValues *v, const DraftingLay *lay)
{
  switch (drafting_values_get_choice (v, "centre"))
    {
    case 1:
      return FALSE;
    case 2:
      return TRUE;
    default:
      return !lay->fold && lay->n > 2;
    }
}

/* Names the edges of a collar's piece; the neck edge is as wide as what it is sewn to. */
static void
name_edges (DraftingDraftPiece *piece, const DraftingShape *shape,
            gboolean whole, double neck_width, double width)
{
  drafting_give_edge (piece, shape, "neck", _ ("neck edge"), PATTERN_EDGE_SEAM,
                      neck_width);
  drafting_give_edge (piece, shape, "extension", _ ("extension"),
                      PATTERN_EDGE_SEAM, neck_width);
  drafting_give_edge (piece, shape, "other-extension", _ ("extension"),
                      PATTERN_EDGE_SEAM, neck_width);
  drafting_give_edge (piece, shape, "end", _ ("end"), PATTERN_EDGE_SEAM, width);
  drafting_give_edge (piece, shape, "tip", _ ("corner"), PATTERN_EDGE_SEAM,
                      width);
  drafting_give_edge (piece, shape, "outer", _ ("outer edge"),
                      PATTERN_EDGE_SEAM, width);
  drafting_give_edge (piece, shape, "other-tip", _ ("other corner"),
                      PATTERN_EDGE_SEAM, width);
  drafting_give_edge (piece, shape, "other-end", _ ("other end"),
                      PATTERN_EDGE_SEAM, width);
  if (!whole)
    drafting_give_edge (piece, shape, "centre", _ ("centre back"),
                        PATTERN_EDGE_FOLD, 0);
}

/* Along the centre back: the way from the neck out. */
static GeoPoint
grain_of (const DraftingShape *shape, gboolean whole)
{
  if (!whole)
    return drafting_edge_way (shape, "centre");
  const GeoChain *neck = drafting_shape_get (shape, "neck");
  double half = geo_chain_length (neck, 1e-6) / 2;
  return geo_left (
      geo_chain_tangent (neck, geo_chain_at_length (neck, half, 1e-6)));
}

static DraftingDraftPiece *
give_collar (DraftingDraft *draft, DraftingShape *shape, const char *part,
             const char *name, gboolean whole, double neck_width, double width,
             int count)
{
  DraftingDraftPiece *piece = drafting_shape_give (shape, draft, part, name);
  name_edges (piece, shape, whole, neck_width, width);
  drafting_give_grain (piece, shape, grain_of (shape, whole));
  drafting_draft_add_cut (piece, PATTERN_SHELL, count, FALSE);
  return piece;
}

/* The garment's neckline to the piece's neck edge. */
static void
sew_neck (DraftingDraft *draft, const DraftingLay *lay,
          const DraftingShape *shape, const char *part, double ease)
{
  DraftingDraftRun a[DRAFTING_LAY_MOST];
  for (guint i = 0; i < lay->n; i++)
    a[i] = (DraftingDraftRun){ NULL, NULL, lay->runs[i] };
  DraftingDraftRun b = drafting_shape_run (shape, part, "neck", FALSE);
  drafting_draft_add_seam (draft, "neck", _ ("Neck seam"), PATTERN_JOIN_SEAM, a,
                           lay->n, &b, 1, ease, PATTERN_PRESS_TO_B);
}

/* Upper to under collar all round the outer edges, and at the neck. */
static void
sew_collars (DraftingDraft *draft, const DraftingShape *upper,
             const DraftingShape *under, gboolean whole)
{
  static const char *const edges[]
      = { "end", "tip", "outer", "other-tip", "other-end" };
  DraftingDraftRun a[5], b[5];
  guint n_a = 0, n_b = 0;
  double ease = 0;
  for (guint i = 0; i < (whole ? 5u : 3u); i++)
    {
      if (drafting_shape_get (upper, edges[i])->count > 0)
        a[n_a++] = drafting_shape_run (upper, "upper", edges[i], FALSE);
      if (drafting_shape_get (under, edges[i])->count > 0)
        b[n_b++] = drafting_shape_run (under, "under", edges[i], FALSE);
      ease += drafting_shape_length (upper, edges[i])
              - drafting_shape_length (under, edges[i]);
    }
  drafting_draft_add_seam (draft, "edge", _ ("Collar edge"), PATTERN_JOIN_SEAM,
                           a, n_a, b, n_b, ease, PATTERN_PRESS_TURNED);
  DraftingDraftRun inner = drafting_shape_run (upper, "upper", "neck", FALSE);
  DraftingDraftRun outer = drafting_shape_run (under, "under", "neck", FALSE);
  drafting_draft_add_seam (draft, "inner-neck", _ ("Inner neck seam"),
                           PATTERN_JOIN_SEAM, &inner, 1, &outer, 1, 0,
                           PATTERN_PRESS_TURNED);
}

/* A mark where the shoulder comes, for a neckline that has one. */
static void
notch_shoulder (DraftingDraftPiece *piece, const DraftingShape *shape,
                const DraftingLay *lay, double at)
{
  if (lay->n < 2 || at <= 0)
    return;
  drafting_draft_add_notch (
      piece, "shoulder", "neck", 1,
      shape->turned ? PATTERN_FROM_END : PATTERN_FROM_START, at);
}

/* --- flat collar ------------------------------------------------------------------------ */

static const DraftingParameter flat_parameters[] = {
  { "neck", DRAFTING_EDGES, N_ ("Neck edges"), NULL, NULL, NULL, 0, 0 },
  { "overlap", DRAFTING_LENGTH, N_ ("Shoulder overlap"), "12 mm", NULL, NULL,
    -60, 300 },
  { "depth", DRAFTING_LENGTH, N_ ("Depth at the back"), "76 mm", NULL, NULL, 5,
    600 },
  { "front-depth", DRAFTING_LENGTH, N_ ("Depth at the front"), "", NULL, NULL,
    5, 600 },
  { "corner", DRAFTING_LENGTH, N_ ("Corner radius"), "30 mm", NULL, NULL, 0,
    300 },
  { "point", DRAFTING_LENGTH, N_ ("Point set forward"), "0 mm", NULL, NULL,
    -100, 150 },
  { "raise-back", DRAFTING_LENGTH, N_ ("Neck raised at back"), "0 mm", NULL,
    NULL, -40, 40 },
  { "raise-shoulder", DRAFTING_LENGTH, N_ ("Neck raised at shoulder"), "0 mm",
    NULL, NULL, -40, 40 },
  { "raise-front", DRAFTING_LENGTH, N_ ("Neck raised at front"), "0 mm", NULL,
    NULL, -40, 40 },
  { "ease", DRAFTING_LENGTH, N_ ("Neckline longer by"), "0 mm", NULL, NULL, -20,
    20 },
  { "under", DRAFTING_YES, N_ ("Under collar"), "yes", NULL, NULL, 0, 0 },
  { "turn", DRAFTING_LENGTH, N_ ("Turn of cloth"), "", NULL, NULL, 0, 20 },
  { "shoulder", DRAFTING_LENGTH, N_ ("Overlap measured at"), "", NULL, NULL, 10,
    400 },
  { "centre", DRAFTING_CHOICE, N_ ("Centre back"), "auto", centres,
    centre_labels, 0, 0 },
  { "allowance", DRAFTING_LENGTH, N_ ("Allowance"), "10 mm", NULL, NULL, 0,
    60 },
};

typedef struct
{
  const DraftingLay *lay;
  DraftingCollarWish wish;
  double less;
  gboolean under;
} FlatTry;

static gboolean
flat_works (gpointer data)
{
  FlatTry *t = data;
  g_auto (DraftingShape) shape = { 0 };
  DraftingCollarFacts facts;
  return drafting_collar_shape (t->lay, &t->wish, 0, &shape, &facts)
         && (!t->under
             || drafting_collar_shape (t->lay, &t->wish, t->less, &shape,
                                       &facts));
}

static gboolean
refuse_flat (const Pattern *p, FlatTry *t, GError **error)
{
  DraftingCollarWish *w = &t->wish;
  DraftingAmount amounts[] = {
    { &w->overlap, 0, N_ ("Shoulder overlap"), DRAFTING_AMOUNT_LENGTH },
    { &w->corner, 0, N_ ("Corner radius"), DRAFTING_AMOUNT_LENGTH },
    { &w->point, 0, N_ ("Point set forward"), DRAFTING_AMOUNT_LENGTH },
    { &w->raise_back, 0, N_ ("Neck raised at back"), DRAFTING_AMOUNT_LENGTH },
    { &w->raise_shoulder, 0, N_ ("Neck raised at shoulder"),
      DRAFTING_AMOUNT_LENGTH },
    { &w->raise_front, 0, N_ ("Neck raised at front"), DRAFTING_AMOUNT_LENGTH },
    { &t->less, 0, N_ ("Turn of cloth"), DRAFTING_AMOUNT_LENGTH },
    { &w->depth_front, 40, N_ ("Depth at the front"), DRAFTING_AMOUNT_LENGTH },
    { &w->depth_back, 40, N_ ("Depth at the back"), DRAFTING_AMOUNT_LENGTH },
  };
  return drafting_refuse_amounts (
      p, amounts, G_N_ELEMENTS (amounts), flat_works, t,
      _ ("No collar of these amounts can be drafted on these edges: it would "
         "fold over itself."),
      error);
}

static void
say_flat (const Pattern *p, const FlatTry *t, const DraftingCollarFacts *facts,
          DraftingDraft *draft)
{
  g_autofree char *neck = sewing_words_length (p, facts->neck);
  g_autofree char *stand = sewing_words_length (p, fmax (facts->stand, 0));
  drafting_draft_say (draft, _ ("Neck edge %s."), neck);
  if (facts->turned != 0)
    drafting_draft_say (draft,
                        _ ("The front is swung by %.1f°; the collar stands "
                           "about %s (an estimate)."),
                        facts->turned * 180 / G_PI, stand);
  else
    drafting_draft_say (draft, _ ("No overlap: it lies flat, and its seam may "
                                  "show."));
  if (t->under && t->less > 0)
    {
      g_autofree char *less = sewing_words_amount (p, t->less);
      drafting_draft_say (draft,
                          _ ("The under collar is %s smaller at its outer "
                             "edges, for the turn of the cloth: roll two "
                             "layers to be sure."),
                          less);
    }
}

static void
read_flat (const Pattern *p, const DraftingValues *v, const DraftingLay *lay,
           FlatTry *t)
{
  DraftingCollarWish *w = &t->wish;
  t->lay = lay;
  w->overlap = drafting_values_get_number (v, "overlap");
  w->shoulder = drafting_number_or (v, "shoulder", 0);
  w->depth_back = drafting_values_get_number (v, "depth");
  w->depth_front = drafting_number_or (v, "front-depth", w->depth_back);
  w->raise_back = drafting_values_get_number (v, "raise-back");
  w->raise_shoulder = drafting_values_get_number (v, "raise-shoulder");
  w->raise_front = drafting_values_get_number (v, "raise-front");
  w->corner = drafting_values_get_number (v, "corner");
  w->point = drafting_values_get_number (v, "point");
  w->ease = drafting_values_get_number (v, "ease");
  w->whole = is_whole (v, lay);
  t->under = drafting_values_get_yes (v, "under");
  t->less = drafting_number_or (
      v, "turn",
      drafting_turn_of_cloth (drafting_cloth_thickness (p, PATTERN_SHELL)));
}

static gboolean
draft_flat (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
            GError **error)
{
  g_auto (DraftingLay) lay = { 0 };
  if (!lay_neck (p, v, &lay, error))
    return FALSE;
  FlatTry t = { 0 };
  read_flat (p, v, &lay, &t);
  g_auto (DraftingShape) upper = { 0 }, under = { 0 };
  DraftingCollarFacts facts;
  if (!drafting_collar_shape (&lay, &t.wish, 0, &upper, &facts)
      || (t.under
          && !drafting_collar_shape (&lay, &t.wish, t.less, &under, &facts)))
    return refuse_flat (p, &t, error);
  DraftingShape *shapes[] = { &upper, &under };
  drafting_lay_out (p, shapes, t.under ? 2 : 1);
  gboolean whole = t.wish.whole;
  double width = drafting_values_get_number (v, "allowance");
  DraftingDraftPiece *piece = give_collar (
      draft, &upper, "upper", t.under ? _ ("Upper collar") : _ ("Collar"),
      whole, lay.allowance, width, t.under ? 1 : 2);
  notch_shoulder (piece, &upper, &lay, facts.shoulder_at);
  if (t.under)
    {
      piece = give_collar (draft, &under, "under", _ ("Under collar"), whole,
                           lay.allowance, width, 1);
      notch_shoulder (piece, &under, &lay, facts.shoulder_at);
      sew_collars (draft, &upper, &under, whole);
    }
  sew_neck (draft, &lay, t.under ? &under : &upper, t.under ? "under" : "upper",
            t.wish.ease);
  say_flat (p, &t, &facts, draft);
  return TRUE;
}

/* --- band --------------------------------------------------------------------------------- */

static const DraftingParameter band_parameters[] = {
  { "neck", DRAFTING_EDGES, N_ ("Neck edges"), NULL, NULL, NULL, 0, 0 },
  { "height", DRAFTING_LENGTH, N_ ("Height"), "35 mm", NULL, NULL, 3, 200 },
  { "shorter", DRAFTING_LENGTH, N_ ("Upper edge shorter by"), "8 mm", NULL,
    NULL, -200, 200 },
  { "extension", DRAFTING_LENGTH, N_ ("Carried past the front by"), "0 mm",
    NULL, NULL, 0, 100 },
  { "corner", DRAFTING_LENGTH, N_ ("Corner radius"), "12 mm", NULL, NULL, 0,
    150 },
  { "ease", DRAFTING_LENGTH, N_ ("Neckline longer by"), "0 mm", NULL, NULL, -20,
    20 },
  { "centre", DRAFTING_CHOICE, N_ ("Centre back"), "auto", centres,
    centre_labels, 0, 0 },
  { "allowance", DRAFTING_LENGTH, N_ ("Allowance"), "10 mm", NULL, NULL, 0,
    60 },
};

typedef struct
{
  DraftingBandWish wish;
  double bend, sign; /* as its field has it */
} BandTry;

static gboolean
band_works (gpointer data)
{
  BandTry *t = data;
  t->wish.bend = t->sign * t->bend;
  g_auto (DraftingShape) shape = { 0 };
  return drafting_band_shape (&t->wish, &shape);
}

static gboolean
refuse_band (const Pattern *p, const DraftingBandWish *wish, const char *bend,
             double sign, const char *height, GError **error)
{
  BandTry t = { *wish, sign * wish->bend, sign };
  DraftingAmount amounts[] = {
    { &t.wish.corner, 0, N_ ("Corner radius"), DRAFTING_AMOUNT_LENGTH },
    { &t.bend, 0, bend, FALSE },
    { &t.wish.point, 0, N_ ("Point set forward"), DRAFTING_AMOUNT_LENGTH },
    { &t.wish.extension, 0, N_ ("Carried past the front by"),
      DRAFTING_AMOUNT_LENGTH },
    { &t.wish.height, 20, height, FALSE },
  };
  return drafting_refuse_amounts (
      p, amounts, G_N_ELEMENTS (amounts), band_works, &t,
      _ ("No band of these amounts can be drafted on these edges."), error);
}

static gboolean
draft_band (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
            GError **error)
{
  g_auto (DraftingLay) lay = { 0 };
  if (!lay_neck (p, v, &lay, error))
    return FALSE;
  double ease = drafting_values_get_number (v, "ease");
  DraftingBandWish w
      = { .neck = drafting_lay_length (&lay) - ease,
          .height = drafting_values_get_number (v, "height"),
          .bend = drafting_values_get_number (v, "shorter"),
          .extension = drafting_values_get_number (v, "extension"),
          .corner = drafting_values_get_number (v, "corner"),
          .whole = is_whole (v, &lay) };
  g_auto (DraftingShape) band = { 0 };
  if (!drafting_band_shape (&w, &band))
    return refuse_band (p, &w, N_ ("Upper edge shorter by"), 1, N_ ("Height"),
                        error);
  DraftingShape *shapes[] = { &band };
  drafting_lay_out (p, shapes, 1);
  DraftingDraftPiece *piece = give_collar (
      draft, &band, "band", _ ("Collar band"), w.whole, lay.allowance,
      drafting_values_get_number (v, "allowance"), 2);
  int joint = drafting_collar_shoulder (&lay, w.whole);
  if (joint >= 0)
    notch_shoulder (piece, &band, &lay,
                    lay.joints[joint].at * w.neck / drafting_lay_length (&lay));
  sew_neck (draft, &lay, &band, "band", ease);
  g_autofree char *upper
      = sewing_words_length (p, drafting_shape_length (&band, "outer"));
  drafting_draft_say (draft, _ ("Upper edge %s."), upper);
  return TRUE;
}

/* --- stand and fall ------------------------------------------------------------------------- */

static const DraftingParameter fall_parameters[] = {
  { "neck", DRAFTING_EDGES, N_ ("Neck edges"), NULL, NULL, NULL, 0, 0 },
  { "stand", DRAFTING_LENGTH, N_ ("Height of the stand"), "32 mm", NULL, NULL,
    3, 150 },
  { "shorter", DRAFTING_LENGTH, N_ ("Stand upper edge shorter"), "6 mm", NULL,
    NULL, -100, 100 },
  { "fall", DRAFTING_LENGTH, N_ ("Depth of the fall"), "62 mm", NULL, NULL, 5,
    400 },
  { "longer", DRAFTING_LENGTH, N_ ("Fall outer edge longer"), "24 mm", NULL,
    NULL, -50, 300 },
  { "corner", DRAFTING_LENGTH, N_ ("Corner radius"), "15 mm", NULL, NULL, 0,
    200 },
  { "point", DRAFTING_LENGTH, N_ ("Point set forward"), "12 mm", NULL, NULL,
    -60, 120 },
  { "ease", DRAFTING_LENGTH, N_ ("Neckline longer by"), "0 mm", NULL, NULL, -20,
    20 },
  { "centre", DRAFTING_CHOICE, N_ ("Centre back"), "auto", centres,
    centre_labels, 0, 0 },
  { "allowance", DRAFTING_LENGTH, N_ ("Allowance"), "10 mm", NULL, NULL, 0,
    60 },
};

static gboolean
draft_fall (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
            GError **error)
{
  g_auto (DraftingLay) lay = { 0 };
  if (!lay_neck (p, v, &lay, error))
    return FALSE;
  double ease = drafting_values_get_number (v, "ease");
  gboolean whole = is_whole (v, &lay);
  DraftingBandWish s = { .neck = drafting_lay_length (&lay) - ease,
                         .height = drafting_values_get_number (v, "stand"),
                         .bend = drafting_values_get_number (v, "shorter"),
                         .whole = whole };
  g_auto (DraftingShape) stand = { 0 }, fall = { 0 };
  if (!drafting_band_shape (&s, &stand))
    return refuse_band (p, &s, N_ ("Stand upper edge shorter"), 1,
                        N_ ("Height of the stand"), error);
  DraftingBandWish f = { .neck = drafting_shape_length (&stand, "outer"),
                         .height = drafting_values_get_number (v, "fall"),
                         .bend = -drafting_values_get_number (v, "longer"),
                         .corner = drafting_values_get_number (v, "corner"),
                         .point = drafting_values_get_number (v, "point"),
                         .whole = whole };
  if (!drafting_band_shape (&f, &fall))
    return refuse_band (p, &f, N_ ("Fall outer edge longer"), -1,
                        N_ ("Depth of the fall"), error);
  DraftingShape *shapes[] = { &stand, &fall };
  drafting_lay_out (p, shapes, 2);
  double width = drafting_values_get_number (v, "allowance");
  DraftingDraftPiece *piece
      = give_collar (draft, &stand, "stand", _ ("Collar stand"), whole,
                     lay.allowance, width, 2);
  int joint = drafting_collar_shoulder (&lay, whole);
  if (joint >= 0)
    notch_shoulder (piece, &stand, &lay,
                    lay.joints[joint].at * s.neck / drafting_lay_length (&lay));
  piece = give_collar (draft, &fall, "fall", _ ("Collar fall"), whole, width,
                       width, 2);
  /* Not one line with the stand's end: the fall may go past it. */
  drafting_give_edge (piece, &fall, "end", _ ("front end"), PATTERN_EDGE_SEAM,
                      width);
  sew_neck (draft, &lay, &stand, "stand", ease);
  DraftingDraftRun a = drafting_shape_run (&stand, "stand", "outer", TRUE);
  DraftingDraftRun b = drafting_shape_run (&fall, "fall", "neck", FALSE);
  drafting_draft_add_seam (draft, "collar", _ ("Collar seam"),
                           PATTERN_JOIN_SEAM, &a, 1, &b, 1, 0,
                           PATTERN_PRESS_TO_A);
  g_autofree char *outer
      = sewing_words_length (p, drafting_shape_length (&fall, "outer"));
  drafting_draft_say (draft, _ ("Outer edge of the fall %s."), outer);
  return TRUE;
}

/* --- table ---------------------------------------------------------------------------------- */

static const DraftingVerb verbs[] = {
  { "flat-collar", N_ ("Flat collar"),
    N_ ("Pick the neck edges in order from the centre back to the front: a "
        "collar is drafted on them, front and back lapped at the shoulder."),
    DRAFTING_GROUP_DRAFT, flat_parameters, G_N_ELEMENTS (flat_parameters), NULL,
    draft_flat, NULL },
  { "band-collar", N_ ("Band collar"),
    N_ ("Pick the neck edges in order from the centre back to the front: a "
        "stand-up band is drafted on them."),
    DRAFTING_GROUP_DRAFT, band_parameters, G_N_ELEMENTS (band_parameters), NULL,
    draft_band, NULL },
  { "stand-and-fall-collar", N_ ("Stand and fall collar"),
    N_ ("Pick the neck edges in order from the centre back to the front: a "
        "stand is drafted on them, and a fall on the stand."),
    DRAFTING_GROUP_DRAFT, fall_parameters, G_N_ELEMENTS (fall_parameters), NULL,
    draft_fall, NULL },
};

const DraftingVerb *
drafting_verbs_of_collars (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}
