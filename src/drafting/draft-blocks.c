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

#define LEAST_FREE 5.0 /* mm: notches nearer an end mark the end */

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

/* Cap ease: 3/4 in, clothingpatterns101.com/sewing-ease.html; textbooks have 1 to 1 1/2 in
 * (madalynne.com/sleeve-cap-ease), more than most cloth takes. Ease round the arm
 * and the wrist: common practice. */
static const DraftingParameter arm_parameters[] = {
  { "armhole", DRAFTING_EDGES, N_ ("Armhole edges"), NULL, NULL, NULL, 0, 0 },
  { "arm", DRAFTING_LENGTH, N_ ("Arm length"), "arm length", NULL, NULL, 300,
    1000 },
  { "upper-arm", DRAFTING_LENGTH, N_ ("Upper arm girth"), "upper arm girth",
    NULL, NULL, 120, 800 },
  { "wrist", DRAFTING_LENGTH, N_ ("Wrist girth"), "wrist girth", NULL, NULL, 80,
    500 },
  { "ease", DRAFTING_LENGTH, N_ ("Ease in the cap"), "19 mm", NULL, NULL, 0,
    80 },
  { "arm-ease", DRAFTING_LENGTH, N_ ("Ease round the upper arm"), "65 mm", NULL,
    NULL, -20, 300 },
  { "wrist-ease", DRAFTING_LENGTH, N_ ("Ease round the wrist"), "50 mm", NULL,
    NULL, -20, 500 },
  { "allowance", DRAFTING_LENGTH, N_ ("Seam allowance"), "0 mm", NULL, NULL, 0,
    60 },
  { "hem", DRAFTING_LENGTH, N_ ("Hem allowance"), "0 mm", NULL, NULL, 0, 150 },
};

/* A notch of the armhole, so far from the underarm. */
typedef struct
{
  double at;
  int count;
  gboolean front;
} ArmholeMark;

typedef struct
{
  DraftingLay lay;
  GArray *marks;  /* of ArmholeMark, the highest of each half last */
  double free[2]; /* length under the arm that is not eased, back and front */
  double ease, allowance, hem;
  DraftingSleeveWish wish;
  double width;
} Sleeve;

static void
sleeve_clear (Sleeve *s)
{
  drafting_lay_clear (&s->lay);
  g_clear_pointer (&s->marks, g_array_unref);
}

static int
compare_marks (gconstpointer a, gconstpointer b)
{
  const ArmholeMark *x = a, *y = b;
  if (x->front != y->front)
    return x->front ? 1 : -1;
  return (x->at > y->at) - (x->at < y->at);
}

static double
half_length (const Sleeve *s, int half)
{
  return s->lay.starts[half + 1] - s->lay.starts[half];
}

/* The armhole's notches but those at its ends. */
static void
find_marks (const Pattern *p, Sleeve *s)
{
  s->marks = g_array_new (FALSE, FALSE, sizeof (ArmholeMark));
  for (int half = 0; half < 2; half++)
    {
      const PatternRun *run = &s->lay.runs[half];
      const PatternPiece *piece = pattern_get_piece (p, run->piece);
      double length = half_length (s, half);
      for (guint i = 0; i < piece->n_notches; i++)
        {
          const PatternNotch *notch = &piece->notches[i];
          if (notch->edge != run->edge)
            continue;
          double at = pattern_notch_place (notch, length);
          ArmholeMark mark
              = { (run->reversed != 0) == (half == 0) ? length - at : at,
                  notch->count, half == 1 };
          if (mark.at > LEAST_FREE && mark.at < length - LEAST_FREE)
            g_array_append_val (s->marks, mark);
        }
    }
  g_array_sort (s->marks, compare_marks);
}

/* Ease goes over the top, from the back's highest notch to the front's; where one has none, it is
 * spread evenly. Each half of the cap takes its share by length. */
static void
share_ease (Sleeve *s)
{
  for (guint i = 0; i < s->marks->len; i++)
    {
      const ArmholeMark *mark = &g_array_index (s->marks, ArmholeMark, i);
      s->free[mark->front] = mark->at;
    }
  if (s->free[0] == 0 || s->free[1] == 0)
    s->free[0] = s->free[1] = 0;
  double back = half_length (s, 0), front = half_length (s, 1);
  double top = back - s->free[0] + front - s->free[1];
  s->wish.back = back + s->ease * (back - s->free[0]) / top;
  s->wish.front = front + s->ease * (front - s->free[1]) / top;
}

/* How nearly the laid run goes along its piece's grain at one end: an armhole does at the
 * shoulder, and goes across it under the arm. */
static double
along_grain (const Pattern *p, const DraftingLay *lay, guint run,
             gboolean at_start)
{
  const PatternPiece *piece = pattern_get_piece (p, lay->runs[run].piece);
  GeoPoint grain = piece->has_grain
                       ? geo_sub (piece->grain_to, piece->grain_from)
                       : geo_point (0, 1);
  grain = geo_motion_turn (lay->motions[run], geo_unit (grain));
  size_t cubic = at_start ? lay->first[run] : lay->first[run + 1] - 1;
  GeoPoint way
      = geo_cubic_tangent (&lay->chain.cubics[cubic], at_start ? 0 : 1);
  return fabs (geo_dot (way, grain));
}

/* Two armholes that are sewn together at the side as well as at the shoulder might be laid
 * either way: the shoulder is where the cap's crown comes. */
static void
turn_to_shoulder (const Pattern *p, DraftingLay *lay)
{
  double joint = along_grain (p, lay, 0, FALSE) + along_grain (p, lay, 1, TRUE);
  double ends = along_grain (p, lay, 0, TRUE) + along_grain (p, lay, 1, FALSE);
  if (joint >= ends)
    return;
  PatternRun runs[2] = { lay->runs[0], lay->runs[1] };
  for (int i = 0; i < 2; i++)
    runs[i].reversed = !runs[i].reversed;
  DraftingLay other;
  if (drafting_lay_runs_told (p, runs, 2, &other, NULL))
    {
      drafting_lay_clear (lay);
      *lay = other;
    }
}

static gboolean
lay_armhole (const Pattern *p, const DraftingValues *v, Sleeve *s,
             GError **error)
{
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, "armhole", &n);
  if (!drafting_lay_runs (p, runs, n, &s->lay, error))
    return FALSE;
  if (n != 2)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("Pick two edges: the back's armhole, then the "
                               "front's."));
  turn_to_shoulder (p, &s->lay);
  s->ease = drafting_values_get_number (v, "ease");
  s->allowance = drafting_values_get_number (v, "allowance");
  s->hem = drafting_values_get_number (v, "hem");
  find_marks (p, s);
  share_ease (s);
  return TRUE;
}

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
  DraftingAmount amounts[] = {
    { &w->cap, 60, N_ ("Height of the cap"), DRAFTING_AMOUNT_LENGTH },
    { &w->hem, 200, N_ ("Width at the hem"), DRAFTING_AMOUNT_LENGTH },
    { &w->length, 600, N_ ("Length"), DRAFTING_AMOUNT_LENGTH },
  };
  return drafting_refuse_amounts (
      p, amounts, G_N_ELEMENTS (amounts), sleeve_works, w,
      _ ("No sleeve of these amounts can be drafted for these edges: pick the "
         "back's armhole, then the front's."),
      error);
}

/* --- its piece ----------------------------------------------------------------------------- */

static char *
mark_part (const Sleeve *s, guint i)
{
  return g_strdup_printf (
      g_array_index (s->marks, ArmholeMark, i).front ? "front-%u" : "back-%u",
      i);
}

/* So far along the cap from the underarm; the crown's is where the two halves meet. */
static void
notch_cap (const Sleeve *s, DraftingDraftPiece *piece,
           const DraftingShape *shape)
{
  double whole = half_length (s, 0) + half_length (s, 1);
  double stretch = s->free[0] > 0 ? 1 : (whole + s->ease) / whole;
  for (guint i = 0; i < s->marks->len; i++)
    {
      const ArmholeMark *mark = &g_array_index (s->marks, ArmholeMark, i);
      gboolean from_start = (mark->front != 0) == (shape->turned != 0);
      g_autofree char *part = mark_part (s, i);
      drafting_draft_add_notch (
          piece, part, mark->front ? "front-cap" : "back-cap", mark->count,
          from_start ? PATTERN_FROM_START : PATTERN_FROM_END,
          mark->at * stretch);
    }
  drafting_draft_add_notch (
      piece, "crown", "front-cap", 1,
      shape->turned ? PATTERN_FROM_END : PATTERN_FROM_START, 0);
}

/* Between the highest notches of the two halves. */
static void
ease_top (const Sleeve *s, DraftingDraft *draft)
{
  guint back = 0;
  while (back + 1 < s->marks->len
         && !g_array_index (s->marks, ArmholeMark, back + 1).front)
    back++;
  g_autofree char *from = mark_part (s, back);
  g_autofree char *to = mark_part (s, s->marks->len - 1);
  drafting_draft_add_ease (draft, "sleeve", from, to, s->ease);
}

static DraftingDraftPiece *
give_sleeve (const Sleeve *s, DraftingShape *shape, DraftingDraft *draft)
{
  DraftingDraftPiece *piece
      = drafting_shape_give (shape, draft, "sleeve", _ ("Sleeve"));
  drafting_give_edge (piece, shape, "back-cap", _ ("back of the cap"),
                      PATTERN_EDGE_SEAM, s->lay.allowance);
  drafting_give_edge (piece, shape, "front-cap", _ ("front of the cap"),
                      PATTERN_EDGE_SEAM, s->lay.allowance);
  drafting_give_edge (piece, shape, "front-side", _ ("underarm, front"),
                      PATTERN_EDGE_SEAM, s->allowance);
  drafting_give_corner (piece, shape, "hem", _ ("hem"), PATTERN_EDGE_HEM,
                        s->hem, GEO_CORNER_FOLDED_BACK, TRUE);
  drafting_give_corner (piece, shape, "back-side", _ ("underarm, back"),
                        PATTERN_EDGE_SEAM, s->allowance, GEO_CORNER_FOLDED_BACK,
                        FALSE);
  drafting_draft_add_notch (piece, "elbow-front", "front-side", 1,
                            PATTERN_FRACTION, 0.5);
  drafting_draft_add_notch (piece, "elbow-back", "back-side", 1,
                            PATTERN_FRACTION, 0.5);
  drafting_give_grain (piece, shape, geo_point (0, 1));
  drafting_draft_add_cut (piece, PATTERN_SHELL, 2, TRUE);
  return piece;
}

static void
finish_sleeve (const Pattern *p, const Sleeve *s, DraftingShape *shape,
               DraftingDraft *draft)
{
  DraftingShape *shapes[] = { shape };
  drafting_lay_out (p, shapes, 1);
  DraftingDraftPiece *piece = give_sleeve (s, shape, draft);
  DraftingDraftRun a[]
      = { drafting_shape_run (shape, "sleeve", "back-cap", FALSE),
          drafting_shape_run (shape, "sleeve", "front-cap", FALSE) };
  DraftingDraftRun b[]
      = { { NULL, NULL, s->lay.runs[0] }, { NULL, NULL, s->lay.runs[1] } };
  drafting_draft_add_seam (draft, "cap", _ ("Armhole seam"), PATTERN_JOIN_SEAM,
                           a, 2, b, 2, s->free[0] > 0 ? 0 : s->ease,
                           PATTERN_PRESS_TO_A);
  notch_cap (s, piece, shape);
  if (s->free[0] > 0)
    ease_top (s, draft);
  DraftingDraftRun x
      = drafting_shape_run (shape, "sleeve", "front-side", FALSE);
  DraftingDraftRun y = drafting_shape_run (shape, "sleeve", "back-side", TRUE);
  drafting_draft_add_seam (draft, "underarm", _ ("Underarm seam"),
                           PATTERN_JOIN_SEAM, &x, 1, &y, 1, 0,
                           PATTERN_PRESS_OPEN);
  g_autofree char *words = sewing_words_length (p, s->width);
  g_autofree char *cap = sewing_words_length (p, s->wish.cap);
  drafting_draft_say (draft, _ ("Width under the arm %s, cap %s high."), words,
                      cap);
}

static gboolean
draft_sleeve (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
              GError **error)
{
  Sleeve s = { 0 };
  g_auto (DraftingShape) shape = { 0 };
  gboolean drawn = lay_armhole (p, v, &s, error);
  s.wish.cap = drafting_values_get_number (v, "cap");
  s.wish.length = drafting_values_get_number (v, "length");
  s.wish.hem = drafting_values_get_number (v, "width");
  drawn = drawn
          && (drafting_sleeve_shape (&s.wish, &shape, &s.width)
              || refuse_sleeve (p, &s.wish, error));
  if (drawn)
    finish_sleeve (p, &s, &shape, draft);
  sleeve_clear (&s);
  return drawn;
}

/* --- sleeve from figures ----------------------------------------------------------------------- */

static gboolean
refuse_arm (const Pattern *p, const Sleeve *s, double wanted, gboolean wide,
            GError **error)
{
  g_autofree char *width = sewing_words_length (p, wanted);
  g_autofree char *hole
      = sewing_words_length (p, half_length (s, 0) + half_length (s, 1));
  return drafting_refuse (
      error, DRAFTING_ERROR_AMOUNT,
      wide ? _ ("A sleeve %s wide under the arm is too wide for an armhole of "
                "%s. Look at “Upper arm girth” first, then at its ease and "
                "the armhole’s depth.")
           : _ ("A sleeve %s wide under the arm is too narrow for an armhole "
                "of %s. Look at “Upper arm girth” first, then at its ease and "
                "the armhole’s depth."),
      width, hole);
}

static gboolean
draft_arm (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
           GError **error)
{
  Sleeve s = { 0 };
  g_auto (DraftingShape) shape = { 0 };
  gboolean drawn = lay_armhole (p, v, &s, error);
  double wanted = drafting_values_get_number (v, "upper-arm")
                  + drafting_values_get_number (v, "arm-ease");
  s.wish.length = drafting_values_get_number (v, "arm");
  s.wish.hem = drafting_values_get_number (v, "wrist")
               + drafting_values_get_number (v, "wrist-ease");
  if (drawn && s.wish.hem > wanted + 1e-6)
    drawn = drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                             _ ("The sleeve would be wider at the wrist than "
                                "under the arm. Look at “Wrist girth” first, "
                                "then at its ease."));
  if (drawn)
    {
      int fits = drafting_sleeve_cap_for (&s.wish, wanted);
      if (fits != 0)
        drawn = refuse_arm (p, &s, wanted, fits > 0, error);
    }
  if (drawn && !drafting_sleeve_shape (&s.wish, &shape, &s.width))
    drawn = drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                             _ ("The sleeve would end in its cap. Look at "
                                "“Arm length” first."));
  if (drawn)
    finish_sleeve (p, &s, &shape, draft);
  sleeve_clear (&s);
  return drawn;
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
  { "sleeve-sloper", N_ ("Straight sleeve sloper"),
    N_ ("From body figures: pick the back's armhole, then the front's. The "
        "cap is as high as the upper arm asks."),
    DRAFTING_GROUP_DRAFT, arm_parameters, G_N_ELEMENTS (arm_parameters), NULL,
    draft_arm, NULL },
};

const DraftingVerb *
drafting_verbs_of_blocks (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}
