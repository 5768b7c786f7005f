/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipes for capes. */
#include <glib/gi18n.h>

#include "drafting/amounts.h"
#include "drafting/cape.h"
#include "drafting/draft-help.h"
#include "drafting/edit-private.h"
#include "sewing/words.h"

/* --- cape from a sloper --------------------------------------------------------------- */

static const char *const darts[] = { "dart", "seam", NULL };
static const char *const dart_labels[] = { N_ ("A dart"), N_ ("A seam"), NULL };

static const DraftingParameter cape_parameters[] = {
  { "back-neck", DRAFTING_EDGE, N_ ("Back neck"), NULL, NULL, NULL, 0, 0 },
  { "back-shoulder", DRAFTING_EDGE, N_ ("Back shoulder"), NULL, NULL, NULL, 0,
    0 },
  { "front-neck", DRAFTING_EDGE, N_ ("Front neck"), NULL, NULL, NULL, 0, 0 },
  { "front-shoulder", DRAFTING_EDGE, N_ ("Front shoulder"), NULL, NULL, NULL, 0,
    0 },
  { "length", DRAFTING_LENGTH, N_ ("Length from neck point"), "760 mm", NULL,
    NULL, 100, 2000 },
  { "slope", DRAFTING_ANGLE, N_ ("Slope over the arm"), "50", NULL, NULL, 20,
    89 },
  { "ease", DRAFTING_LENGTH, N_ ("Ease over upper arm"), "15 mm", NULL, NULL,
    -30, 150 },
  { "round", DRAFTING_LENGTH, N_ ("Shoulder rounded from"), "85 mm", NULL, NULL,
    5, 300 },
  { "longer-front", DRAFTING_LENGTH, N_ ("Front longer by"), "10 mm", NULL,
    NULL, -100, 200 },
  { "longer-side", DRAFTING_LENGTH, N_ ("Side longer by"), "0 mm", NULL, NULL,
    -150, 200 },
  { "flare", DRAFTING_LENGTH, N_ ("Flare of panel edges"), "25 mm", NULL, NULL,
    0, 500 },
  { "lower-back", DRAFTING_LENGTH, N_ ("Neck lowered at the back"), "3 mm",
    NULL, NULL, -20, 200 },
  { "lower-side", DRAFTING_LENGTH, N_ ("Neck lowered at the side"), "6 mm",
    NULL, NULL, -20, 100 },
  { "lower-front", DRAFTING_LENGTH, N_ ("Neck lowered at the front"), "10 mm",
    NULL, NULL, -30, 300 },
  { "stand", DRAFTING_LENGTH, N_ ("Button stand"), "20 mm", NULL, NULL, 0,
    150 },
  { "back-panel", DRAFTING_LENGTH, N_ ("Back seam from neck point"), "34 mm",
    NULL, NULL, 5, 200 },
  { "front-panel", DRAFTING_LENGTH, N_ ("Front seam from neck point"), "40 mm",
    NULL, NULL, 5, 200 },
  { "back-share", DRAFTING_SHARE, N_ ("Back panel of the hem"), "50", NULL,
    NULL, 5, 95 },
  { "front-share", DRAFTING_SHARE, N_ ("Front panel of the hem"), "50", NULL,
    NULL, 5, 95 },
  { "opening-from", DRAFTING_LENGTH, N_ ("Arm opening from the neck"), "260 mm",
    NULL, NULL, 5, 1500 },
  { "opening", DRAFTING_LENGTH, N_ ("Arm opening long"), "200 mm", NULL, NULL,
    0, 800 },
  { "shoulder", DRAFTING_CHOICE, N_ ("Shoulder taken up by"), "dart", darts,
    dart_labels, 0, 0 },
  { "allowance", DRAFTING_LENGTH, N_ ("Seam allowance"), "15 mm", NULL, NULL, 0,
    60 },
  { "neck-allowance", DRAFTING_LENGTH, N_ ("Neck allowance"), "10 mm", NULL,
    NULL, 0, 60 },
  { "hem", DRAFTING_LENGTH, N_ ("Hem allowance"), "40 mm", NULL, NULL, 0, 150 },
};

typedef struct
{
  DraftingHalf back, front;
  DraftingCapeWish wish;
  DraftingShape panels[4]; /* back, side, front; the side's front part */
  DraftingCapeFacts facts;
  gboolean seam; /* the side panel is cut in two, from the dart's point down */
} CapeTry;

#define SIDE_FRONT(t) ((t)->seam ? 3 : 1)

static void
cape_clear (CapeTry *t)
{
  for (int i = 0; i < 4; i++)
    drafting_shape_clear (&t->panels[i]);
  drafting_half_clear (&t->back);
  drafting_half_clear (&t->front);
}

static gboolean
cape_works (gpointer data)
{
  CapeTry *t = data;
  return drafting_cape_shape (&t->back, &t->front, &t->wish, &t->panels[0],
                              &t->panels[1], &t->panels[2], &t->facts);
}

static gboolean
refuse_cape (const Pattern *p, CapeTry *t, GError **error)
{
  DraftingCapeWish *w = &t->wish;
  DraftingAmount amounts[] = {
    { &w->opening_length, 0, N_ ("Arm opening long"), DRAFTING_AMOUNT_LENGTH },
    { &w->back_panel, 30, N_ ("Back seam from neck point"),
      DRAFTING_AMOUNT_LENGTH },
    { &w->front_panel, 30, N_ ("Front seam from neck point"),
      DRAFTING_AMOUNT_LENGTH },
    { &w->slope, 50, N_ ("Slope over the arm"), DRAFTING_AMOUNT_DEGREES },
    { &w->round, 20, N_ ("Shoulder rounded from"), DRAFTING_AMOUNT_LENGTH },
    { &w->lower_side, 0, N_ ("Neck lowered at the side"),
      DRAFTING_AMOUNT_LENGTH },
    { &w->lower_front, 0, N_ ("Neck lowered at the front"),
      DRAFTING_AMOUNT_LENGTH },
    { &w->lower_back, 0, N_ ("Neck lowered at the back"),
      DRAFTING_AMOUNT_LENGTH },
    { &w->flare, 0, N_ ("Flare of panel edges"), DRAFTING_AMOUNT_LENGTH },
    { &w->ease, 15, N_ ("Ease over upper arm"), DRAFTING_AMOUNT_LENGTH },
    { &w->longer_front, 0, N_ ("Front longer by"), DRAFTING_AMOUNT_LENGTH },
    { &w->longer_side, 0, N_ ("Side longer by"), DRAFTING_AMOUNT_LENGTH },
    { &w->length, 700, N_ ("Length from neck point"), DRAFTING_AMOUNT_LENGTH },
  };
  return drafting_refuse_amounts (
      p, amounts, G_N_ELEMENTS (amounts), cape_works, t,
      _ ("No cape of these amounts can be drafted from this sloper: its "
         "pieces would fold over themselves."),
      error);
}

static void
read_cape (const DraftingValues *v, DraftingCapeWish *w)
{
  w->length = drafting_values_get_number (v, "length");
  w->slope = drafting_values_get_number (v, "slope");
  w->ease = drafting_values_get_number (v, "ease");
  w->round = drafting_values_get_number (v, "round");
  w->longer_front = drafting_values_get_number (v, "longer-front");
  w->longer_side = drafting_values_get_number (v, "longer-side");
  w->flare = drafting_values_get_number (v, "flare");
  w->lower_back = drafting_values_get_number (v, "lower-back");
  w->lower_side = drafting_values_get_number (v, "lower-side");
  w->lower_front = drafting_values_get_number (v, "lower-front");
  w->stand = drafting_values_get_number (v, "stand");
  w->back_panel = drafting_values_get_number (v, "back-panel");
  w->front_panel = drafting_values_get_number (v, "front-panel");
  w->back_share = drafting_values_get_number (v, "back-share") / 100;
  w->front_share = drafting_values_get_number (v, "front-share") / 100;
  w->opening_from = drafting_values_get_number (v, "opening-from");
  w->opening_length = drafting_values_get_number (v, "opening");
}

/* --- its pieces ------------------------------------------------------------------------- */

typedef struct
{
  double seam, neck, hem;
} Widths;

static void
give_back (CapeTry *t, const Widths *w, DraftingDraft *draft)
{
  DraftingShape *s = &t->panels[0];
  DraftingDraftPiece *piece
      = drafting_shape_give (s, draft, "back", _ ("Back"));
  drafting_give_edge (piece, s, "neck", _ ("neck"), PATTERN_EDGE_SEAM, w->neck);
  drafting_give_corner (piece, s, "panel", _ ("panel seam"), PATTERN_EDGE_SEAM,
                        w->seam, GEO_CORNER_MATCHED, TRUE);
  drafting_give_corner (piece, s, "hem", _ ("hem"), PATTERN_EDGE_HEM, w->hem,
                        GEO_CORNER_FOLDED_BACK, TRUE);
  drafting_give_edge (piece, s, "centre", _ ("centre back"), PATTERN_EDGE_FOLD,
                      0);
  drafting_draft_add_notch (piece, "upper", "panel", 2, PATTERN_FRACTION, 0.25);
  drafting_draft_add_notch (piece, "lower", "panel", 2, PATTERN_FRACTION, 0.7);
  drafting_give_grain (piece, s, geo_point (0, 1));
  drafting_draft_add_cut (piece, PATTERN_SHELL, 1, FALSE);
}

static void
copy_edge (DraftingShape *to, const DraftingShape *from, const char *part)
{
  const GeoChain *chain = drafting_shape_get (from, part);
  if (chain->count > 0)
    geo_chain_copy (drafting_shape_add (to, part), chain);
}

/* From the dart's point to where the hem's two halves meet, along the side line: the dart's legs
 * become the upper part of a seam. */
static void
cut_side (CapeTry *t)
{
  DraftingShape whole = t->panels[1], back = { 0 }, front = { 0 };
  const GeoChain *hem = drafting_shape_get (&whole, "hem");
  GeoPoint foot = hem->cubics[0].p[3];
  GeoPoint point = geo_chain_end (drafting_shape_get (&whole, "dart-back"));
  copy_edge (&back, &whole, "neck-back");
  GeoChain *side = drafting_shape_add (&back, "side");
  geo_chain_copy (side, drafting_shape_get (&whole, "dart-back"));
  geo_chain_append_line (side, point, foot);
  geo_chain_append (drafting_shape_add (&back, "hem"), hem->cubics[1]);
  copy_edge (&back, &whole, "panel-back");
  side = drafting_shape_add (&front, "side");
  geo_chain_append_line (side, foot, point);
  geo_chain_append_chain (side, drafting_shape_get (&whole, "dart-front"));
  static const char *const rest[]
      = { "neck-front", "panel-upper", "opening", "panel-lower" };
  for (guint i = 0; i < G_N_ELEMENTS (rest); i++)
    copy_edge (&front, &whole, rest[i]);
  geo_chain_append (drafting_shape_add (&front, "hem"), hem->cubics[0]);
  drafting_shape_clear (&whole);
  t->panels[1] = back;
  t->panels[3] = front;
}

static void
name_side (CapeTry *t, const DraftingShape *s, const Widths *w,
           DraftingDraftPiece *piece)
{
  gboolean opens = t->wish.opening_length > 0;
  drafting_give_corner (piece, s, "neck-back", _ ("back neck"),
                        PATTERN_EDGE_SEAM, w->neck, GEO_CORNER_MATCHED, FALSE);
  drafting_give_corner (piece, s, "dart-back", _ ("back dart leg"),
                        PATTERN_EDGE_SEAM, w->neck, GEO_CORNER_MATCHED, TRUE);
  drafting_give_edge (piece, s, "dart-front", _ ("front dart leg"),
                      PATTERN_EDGE_SEAM, w->neck);
  drafting_give_corner (piece, s, "side", _ ("side"), PATTERN_EDGE_SEAM,
                        w->seam, GEO_CORNER_MATCHED, TRUE);
  drafting_give_corner (piece, s, "neck-front", _ ("front neck"),
                        PATTERN_EDGE_SEAM, w->neck, GEO_CORNER_MATCHED, FALSE);
  drafting_give_corner (piece, s, "panel-upper",
                        opens ? _ ("upper front panel seam")
                              : _ ("front panel seam"),
                        PATTERN_EDGE_SEAM, w->seam, GEO_CORNER_MATCHED, TRUE);
  drafting_give_edge (piece, s, "opening", _ ("opening edge"),
                      PATTERN_EDGE_SEAM, w->seam);
  drafting_give_edge (piece, s, "panel-lower", _ ("lower front panel seam"),
                      PATTERN_EDGE_SEAM, w->seam);
  drafting_give_corner (piece, s, "hem", _ ("hem"), PATTERN_EDGE_HEM, w->hem,
                        GEO_CORNER_FOLDED_BACK, TRUE);
  drafting_give_corner (piece, s, "panel-back", _ ("back panel seam"),
                        PATTERN_EDGE_SEAM, w->seam, GEO_CORNER_FOLDED_BACK,
                        FALSE);
}

static void
notch_side (CapeTry *t, const DraftingShape *s, DraftingDraftPiece *piece)
{
  /* Struck from the other pieces: fractions from the other end. */
  if (drafting_shape_get (s, "panel-back")->count > 0)
    {
      drafting_draft_add_notch (piece, "back-upper", "panel-back", 2,
                                PATTERN_FRACTION, 0.75);
      drafting_draft_add_notch (piece, "back-lower", "panel-back", 2,
                                PATTERN_FRACTION, 0.3);
    }
  if (drafting_shape_get (s, "panel-upper")->count > 0)
    drafting_draft_add_notch (piece, "front-upper", "panel-upper", 1,
                              PATTERN_FRACTION, 0.5);
  if (drafting_shape_get (s, "panel-lower")->count > 0)
    drafting_draft_add_notch (piece, "front-lower", "panel-lower", 1,
                              PATTERN_FRACTION, 0.4);
  if (!t->seam)
    drafting_draft_add_drill (
        piece, "dart", geo_chain_end (drafting_shape_get (s, "dart-back")));
}

static void
give_side (CapeTry *t, const Widths *w, DraftingDraft *draft)
{
  for (int i = 1; i <= SIDE_FRONT (t); i += 2)
    {
      DraftingShape *s = &t->panels[i];
      DraftingDraftPiece *piece
          = drafting_shape_give (s, draft, i == 1 ? "side" : "side-front",
                                 i == 3    ? _ ("Side front")
                                 : t->seam ? _ ("Side back")
                                           : _ ("Side panel"));
      name_side (t, s, w, piece);
      notch_side (t, s, piece);
      drafting_give_grain (piece, s, geo_point (0, 1));
      drafting_draft_add_cut (piece, PATTERN_SHELL, 2, TRUE);
    }
}

static void
give_front (CapeTry *t, const Widths *w, DraftingDraft *draft)
{
  DraftingShape *s = &t->panels[2];
  DraftingDraftPiece *piece
      = drafting_shape_give (s, draft, "front", _ ("Front"));
  gboolean opens = t->wish.opening_length > 0;
  drafting_give_corner (piece, s, "neck", _ ("neck"), PATTERN_EDGE_SEAM,
                        w->neck, GEO_CORNER_MATCHED, FALSE);
  drafting_give_edge (piece, s, "stand", _ ("neck of the button stand"),
                      PATTERN_EDGE_SEAM, w->neck);
  drafting_give_edge (piece, s, "front", _ ("front edge"), PATTERN_EDGE_SEAM,
                      w->neck);
  drafting_give_corner (piece, s, "hem", _ ("hem"), PATTERN_EDGE_HEM, w->hem,
                        GEO_CORNER_FOLDED_BACK, TRUE);
  drafting_give_corner (piece, s, "panel-lower", _ ("lower panel seam"),
                        PATTERN_EDGE_SEAM, w->seam, GEO_CORNER_FOLDED_BACK,
                        FALSE);
  drafting_give_edge (piece, s, "opening", _ ("arm opening"), PATTERN_EDGE_SEAM,
                      w->seam);
  if (opens)
    drafting_give_edge (piece, s, "panel-upper", _ ("upper panel seam"),
                        PATTERN_EDGE_SEAM, w->seam);
  else
    drafting_give_corner (piece, s, "panel-upper", _ ("panel seam"),
                          PATTERN_EDGE_SEAM, w->seam, GEO_CORNER_FOLDED_BACK,
                          FALSE);
  drafting_draft_add_notch (piece, "upper", "panel-upper", 1, PATTERN_FRACTION,
                            0.5);
  if (opens)
    drafting_draft_add_notch (piece, "lower", "panel-lower", 1,
                              PATTERN_FRACTION, 0.6);
  if (t->wish.stand > 0)
    {
      GeoPoint a = geo_chain_start (drafting_shape_get (s, "stand"));
      GeoPoint b
          = geo_point (a.x, geo_chain_end (drafting_shape_get (s, "front")).y);
      PatternNode nodes[] = { { 0, PATTERN_NODE_CORNER, a, a, a },
                              { 0, PATTERN_NODE_CORNER, b, b, b } };
      drafting_draft_add_line (piece, "centre-front", _ ("centre front"), nodes,
                               2);
    }
  drafting_give_grain (piece, s, geo_point (0, 1));
  drafting_draft_add_cut (piece, PATTERN_SHELL, 2, TRUE);
}

/* One edge of a panel to one of another. */
typedef struct
{
  int panel;
  const char *edge;
  gboolean reversed;
} Sewn;

static void
sew (CapeTry *t, DraftingDraft *draft, const char *part, const char *name,
     Sewn a, Sewn b, PatternJoin join, double ease)
{
  static const char *const pieces[] = { "back", "side", "front", "side-front" };
  if (drafting_shape_get (&t->panels[a.panel], a.edge)->count == 0)
    return;
  DraftingDraftRun x = drafting_shape_run (&t->panels[a.panel], pieces[a.panel],
                                           a.edge, a.reversed);
  DraftingDraftRun y = drafting_shape_run (&t->panels[b.panel], pieces[b.panel],
                                           b.edge, b.reversed);
  drafting_draft_add_seam (draft, part, name, join, &x, 1, &y, 1, ease,
                           PATTERN_PRESS_OPEN);
}

static void
sew_cape (CapeTry *t, DraftingDraft *draft)
{
  gboolean opens = t->wish.opening_length > 0;
  int f = SIDE_FRONT (t);
  sew (t, draft, "back-panel", _ ("Back panel seam"),
       (Sewn){ 0, "panel", FALSE }, (Sewn){ 1, "panel-back", TRUE },
       PATTERN_JOIN_SEAM, 0);
  sew (t, draft, "front-upper",
       opens ? _ ("Upper front panel seam") : _ ("Front panel seam"),
       (Sewn){ 2, "panel-upper", TRUE }, (Sewn){ f, "panel-upper", FALSE },
       PATTERN_JOIN_SEAM, 0);
  sew (t, draft, "front-lower", _ ("Lower front panel seam"),
       (Sewn){ 2, "panel-lower", TRUE }, (Sewn){ f, "panel-lower", FALSE },
       PATTERN_JOIN_SEAM, 0);
  sew (t, draft, "dart", _ ("Shoulder dart"), (Sewn){ 1, "dart-back", FALSE },
       (Sewn){ 1, "dart-front", TRUE }, PATTERN_JOIN_DART, t->facts.dart_ease);
  sew (t, draft, "side", _ ("Side seam"), (Sewn){ 1, "side", FALSE },
       (Sewn){ f, "side", TRUE }, PATTERN_JOIN_SEAM, t->facts.dart_ease);
}

static void
say_cape (const Pattern *p, const CapeTry *t, DraftingDraft *draft)
{
  const DraftingCapeFacts *f = &t->facts;
  g_autofree char *sweep = sewing_words_length (p, f->sweep);
  g_autofree char *back = sewing_words_length (p, f->back_length);
  g_autofree char *side = sewing_words_length (p, f->side_length);
  g_autofree char *front = sewing_words_length (p, f->front_length);
  g_autofree char *ease = sewing_words_amount (p, f->dart_ease);
  drafting_draft_say (draft, _ ("Sweep of the whole hem %s."), sweep);
  drafting_draft_say (draft,
                      _ ("From the neck to the hem: centre back %s, over the "
                         "shoulder %s, centre front %s. Level by reckoning: "
                         "let it hang a day, then mark it from the floor."),
                      back, side, front);
  drafting_draft_say (draft,
                      _ ("The shoulder takes up %.0f°; its back is %s longer, "
                         "eased in over the shoulder blade."),
                      f->dart, ease);
}

static gboolean
draft_cape (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
            GError **error)
{
  guint n;
  PatternRun edges[4];
  static const char *const keys[]
      = { "back-neck", "back-shoulder", "front-neck", "front-shoulder" };
  for (int i = 0; i < 4; i++)
    edges[i] = drafting_values_get_runs (v, keys[i], &n)[0];
  CapeTry t = { 0 };
  gboolean drawn
      = drafting_half_take (p, edges[0], edges[1], &t.back, error)
        && drafting_half_take (p, edges[2], edges[3], &t.front, error);
  if (drawn)
    {
      read_cape (v, &t.wish);
      drawn = cape_works (&t) || refuse_cape (p, &t, error);
    }
  if (drawn)
    {
      t.seam = drafting_values_get_choice (v, "shoulder") == 1;
      if (t.seam)
        cut_side (&t);
      DraftingShape *shapes[] = { &t.panels[0], &t.panels[1],
                                  &t.panels[SIDE_FRONT (&t)], &t.panels[2] };
      if (!t.seam)
        shapes[2] = shapes[3];
      drafting_lay_out (p, shapes, t.seam ? 4 : 3);
      Widths w = { drafting_values_get_number (v, "allowance"),
                   drafting_values_get_number (v, "neck-allowance"),
                   drafting_values_get_number (v, "hem") };
      give_back (&t, &w, draft);
      give_side (&t, &w, draft);
      give_front (&t, &w, draft);
      sew_cape (&t, draft);
      say_cape (p, &t, draft);
    }
  cape_clear (&t);
  return drawn;
}

/* --- circular cape ------------------------------------------------------------------------- */

static const DraftingParameter circle_parameters[] = {
  { "neck", DRAFTING_LENGTH, N_ ("Neck girth"), "400 mm", NULL, NULL, 100,
    1500 },
  { "share", DRAFTING_SHARE, N_ ("Share of a circle"), "50", NULL, NULL, 5,
    100 },
  { "length", DRAFTING_LENGTH, N_ ("Length"), "700 mm", NULL, NULL, 20, 3000 },
  { "allowance", DRAFTING_LENGTH, N_ ("Seam allowance"), "10 mm", NULL, NULL, 0,
    60 },
  { "hem", DRAFTING_LENGTH, N_ ("Hem allowance"), "20 mm", NULL, NULL, 0, 100 },
};

static gboolean
draft_circle (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
              GError **error)
{
  double girth = drafting_values_get_number (v, "neck");
  double share = drafting_values_get_number (v, "share") / 100;
  double length = drafting_values_get_number (v, "length");
  double width = drafting_values_get_number (v, "allowance");
  g_auto (DraftingShape) shape = { 0 };
  if (!drafting_circle_shape (girth, share, length, &shape))
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("A circular cape needs a neck girth, a length, "
                               "and a share of up to one circle."));
  DraftingShape *shapes[] = { &shape };
  drafting_lay_out (p, shapes, 1);
  DraftingDraftPiece *piece
      = drafting_shape_give (&shape, draft, "cape", _ ("Cape"));
  drafting_give_edge (piece, &shape, "neck", _ ("neck"), PATTERN_EDGE_SEAM,
                      width);
  drafting_give_edge (piece, &shape, "centre", _ ("centre back"),
                      PATTERN_EDGE_FOLD, 0);
  drafting_give_edge (piece, &shape, "hem", _ ("hem"), PATTERN_EDGE_HEM,
                      drafting_values_get_number (v, "hem"));
  drafting_give_edge (piece, &shape, "front", _ ("front edge"),
                      PATTERN_EDGE_SEAM, width);
  drafting_give_grain (piece, &shape, geo_point (0, 1));
  drafting_draft_add_cut (piece, PATTERN_SHELL, 1, FALSE);
  double r = drafting_circle_radius (girth, share);
  g_autofree char *neck = sewing_words_length (p, r);
  g_autofree char *hem = sewing_words_length (p, r + length);
  g_autofree char *sweep
      = sewing_words_length (p, 2 * G_PI * share * (r + length));
  drafting_draft_say (draft,
                      _ ("Radius of the neck %s, of the hem %s; sweep %s."),
                      neck, hem, sweep);
  return TRUE;
}

/* --- table ---------------------------------------------------------------------------------- */

static const DraftingVerb verbs[] = {
  { "cape", N_ ("Cape from a sloper"),
    N_ ("Pick neck and shoulder of the back, then of the front: front, side "
        "and back panels of a cape come out, seams and all."),
    DRAFTING_GROUP_DRAFT, cape_parameters, G_N_ELEMENTS (cape_parameters), NULL,
    draft_cape, NULL },
  { "circular-cape", N_ ("Circular cape"),
    N_ ("A cape of any share of a circle, half of it, for the girth of a "
        "neck."),
    DRAFTING_GROUP_DRAFT, circle_parameters, G_N_ELEMENTS (circle_parameters),
    NULL, draft_circle, NULL },
};

const DraftingVerb *
drafting_verbs_of_capes (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}
