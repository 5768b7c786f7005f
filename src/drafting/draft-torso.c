/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The recipe of the torso sloper: its amounts, its pieces, and what it says where a body can't be drafted.
 *
 * Sources of the amounts' beginnings, told in full in help/C/sloper.page:
 * [W] the worked draft for a bust of 88 cm (see torso.h): neck widths, rise, ease on the bust, across the
 *     back and under the arm, the back dart's width and lean;
 * [C] a college's proportional draft, from memory: the slopes; the bust dart's growth, a quarter of a degree with
 *     each cm of bust, from the 70 mm it is at 880 mm in [W];
 * [D] darts: blog.megannielsen.com 2013/01 (about 1 in from the bust point), pattern-making.com "lengthen
 *     dart" (front waist 1/2 in short, back shoulder 3 in long);
 * [E] ease: dresspatternmaking.com "instructions bodice front 2-dart" (waist and 1 in in all), and under a
 *     quarter inch for the back of a shoulder (Woman's encyclopaedia vol. 4).
 * The armhole's notches are 3 in up by common practice. The shares of what the waist takes in, and the places of the darts, are common practice and ours. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "drafting/amounts.h"
#include "drafting/draft-help.h"
#include "drafting/edit-private.h"
#include "drafting/torso-blame.h"
#include "drafting/torso.h"
#include "sewing/words.h"

#define L(key, label, start, least, most)                                      \
  {                                                                            \
    key, DRAFTING_LENGTH, label, start, NULL, NULL, least, most                \
  }
#define A(key, label, start, least, most)                                      \
  {                                                                            \
    key, DRAFTING_ANGLE, label, start, NULL, NULL, least, most                 \
  }
#define S(key, label, start, least, most)                                      \
  {                                                                            \
    key, DRAFTING_SHARE, label, start, NULL, NULL, least, most                 \
  }

static const DraftingParameter torso_parameters[] = {
  L ("bust", N_ ("Bust girth"), "bust girth", 500, 2000),
  L ("waist", N_ ("Waist girth"), "waist girth", 400, 2000),
  L ("neck", N_ ("Neck base girth"), "neck base girth", 250, 600),
  L ("back-waist", N_ ("Back waist length"), "back waist length", 250, 650),
  L ("front-waist", N_ ("Front waist length"), "front waist length", 260, 750),
  L ("scye", N_ ("Scye depth"), "scye depth", 100, 400),
  L ("shoulder", N_ ("Shoulder length"), "shoulder length", 60, 220),
  L ("back-width", N_ ("Back width"), "back width", 200, 700),
  L ("front-width", N_ ("Front chest width"), "front chest width", 200, 700),
  L ("point-width", N_ ("Bust point width"), "bust point width", 80, 400),
  L ("point-shoulder", N_ ("Shoulder to bust point"), "shoulder to bust point",
     120, 520),
  L ("bust-ease", N_ ("Ease at the bust"), "100 mm", -50, 500),
  L ("waist-ease", N_ ("Ease at the waist"), "25 mm", -50, 500),
  L ("back-ease", N_ ("Ease across the back"), "10 mm", -40, 200),
  L ("front-ease", N_ ("Ease across the front"), "0 mm", -40, 200),
  L ("scye-ease", N_ ("Armhole lower by"), "5 mm", -20, 120),
  L ("neck-ease", N_ ("Ease at the neck"), "0 mm", -30, 200),
  L ("shoulder-ease", N_ ("Back shoulder eased in by"), "5 mm", 0, 30),
  L ("back-neck", N_ ("Back neck, half its width"),
     "neck base girth / 5 - 2 mm", 30, 200),
  L ("back-rise", N_ ("Back neck rises by"), "15 mm", 2, 80),
  L ("front-neck", N_ ("Front neck, half its width"),
     "neck base girth / 5 - 7 mm", 30, 200),
  A ("back-slope", N_ ("Slope of the back shoulder"), "18", 0, 40),
  A ("front-slope", N_ ("Slope of the front shoulder"), "22", 0, 45),
  S ("place", N_ ("Shoulder darts from the neck"), "50", 10, 90),
  A ("bust-dart", N_ ("Bust dart, at the bust point"),
     "(bust girth - 255 mm) / 40 mm", 0, 45),
  L ("bust-short", N_ ("Bust dart ends before the point by"), "25 mm", 0, 120),
  L ("back-dart", N_ ("Back shoulder dart, width"), "10 mm", 0, 40),
  L ("back-dart-length", N_ ("Back shoulder dart, length"), "75 mm", 30, 160),
  L ("back-dart-in", N_ ("Back shoulder dart leans in by"), "10 mm", -40, 60),
  S ("front-share", N_ ("Front waist dart’s share"), "30", 0, 100),
  S ("back-share", N_ ("Back waist dart’s share"), "40", 0, 100),
  L ("front-short", N_ ("Front waist dart below the bust point"), "13 mm", 0,
     120),
  L ("back-dart-from", N_ ("Back waist dart from the centre"), "back width / 4",
     30, 250),
  L ("back-dart-below", N_ ("Back waist dart below the underarm"), "0 mm", -60,
     150),
  L ("taper", N_ ("Wide darts tapered over"), "80 mm", 0, 250),
  S ("side-place", N_ ("Back’s share of the armhole width"), "50", 10, 90),
  L ("notch", N_ ("Armhole notches up from the underarm"), "75 mm", 20, 150),
  L ("allowance", N_ ("Seam allowance"), "0 mm", 0, 60),
};

#define RADIANS (G_PI / 180)

typedef struct
{
  const char *key;
  gsize at; /* in the wish */
  double scale;
} Field;

#define F(key, member, scale)                                                  \
  {                                                                            \
    key, G_STRUCT_OFFSET (DraftingTorsoWish, member), scale                    \
  }

/* In the parameters' order: the figures first. */
static const Field fields[] = {
  F ("bust", bust, 1),
  F ("waist", waist, 1),
  F ("neck", neck, 1),
  F ("back-waist", back_waist, 1),
  F ("front-waist", front_waist, 1),
  F ("scye", scye, 1),
  F ("shoulder", shoulder, 1),
  F ("back-width", back_width, 1),
  F ("front-width", front_width, 1),
  F ("point-width", point_width, 1),
  F ("point-shoulder", point_shoulder, 1),
  F ("bust-ease", bust_ease, 1),
  F ("waist-ease", waist_ease, 1),
  F ("back-ease", back_ease, 1),
  F ("front-ease", front_ease, 1),
  F ("scye-ease", scye_ease, 1),
  F ("neck-ease", neck_ease, 1),
  F ("shoulder-ease", shoulder_ease, 1),
  F ("back-neck", back_neck, 1),
  F ("back-rise", back_rise, 1),
  F ("front-neck", front_neck, 1),
  F ("back-slope", back_slope, RADIANS),
  F ("front-slope", front_slope, RADIANS),
  F ("place", place, 0.01),
  F ("bust-dart", bust_dart, RADIANS),
  F ("bust-short", bust_short, 1),
  F ("back-dart", back_dart, 1),
  F ("back-dart-length", back_dart_length, 1),
  F ("back-dart-in", back_dart_in, 1),
  F ("front-share", front_share, 0.01),
  F ("back-share", back_share, 0.01),
  F ("front-short", front_short, 1),
  F ("back-dart-from", back_dart_from, 1),
  F ("back-dart-below", back_dart_below, 1),
  F ("taper", taper, 1),
  F ("side-place", side_place, 0.01),
};
#define N_FIELDS G_N_ELEMENTS (fields)

typedef struct
{
  double numbers[N_FIELDS]; /* as given: mm, degrees, per cent */
  DraftingTorsoWish wish;
  DraftingShape back, front;
  DraftingTorsoFacts facts;
} TorsoTry;

static void
torso_clear (TorsoTry *t)
{
  drafting_shape_clear (&t->back);
  drafting_shape_clear (&t->front);
}

static gboolean
torso_works (gpointer data)
{
  TorsoTry *t = data;
  for (guint i = 0; i < N_FIELDS; i++)
    *(double *)(gpointer)((char *)&t->wish + fields[i].at)
        = t->numbers[i] * fields[i].scale;
  return drafting_torso_shape (&t->wish, &t->back, &t->front, &t->facts);
}

/* --- what can't be ---------------------------------------------------------------------------- */

static const char *
trouble_words (DraftingTorsoTrouble trouble)
{
  switch (trouble)
    {
    case DRAFTING_TORSO_NECK:
      return _ ("No neckline of this length can be drawn between these "
                "shoulders.");
    case DRAFTING_TORSO_ACROSS:
      return _ ("Back width and front chest width leave too little of the "
                "bust for the armholes.");
    case DRAFTING_TORSO_SCYE:
      return _ ("The armhole would not reach below the shoulder.");
    case DRAFTING_TORSO_LENGTH:
      return _ ("The waist would lie at the armhole.");
    case DRAFTING_TORSO_BUST_POINT:
      return _ ("There is no place for the bust point.");
    case DRAFTING_TORSO_FRONT:
      return _ ("The front’s length does not go with the back’s.");
    case DRAFTING_TORSO_WAIST_WIDE:
      return _ ("The waist with its ease is no narrower than the bust with "
                "its own, so there is nothing for waist darts to take in.");
    case DRAFTING_TORSO_WAIST_NARROW:
      return _ ("The waist darts would be wider than there is room for.");
    case DRAFTING_TORSO_SHOULDER:
      return _ ("The shoulder ends too far from where the armhole runs.");
    case DRAFTING_TORSO_SOUND:
    case DRAFTING_TORSO_OUTLINE:
    default:
      return _ ("The outline would cross itself.");
    }
}

/* As an amount begins; those that hang on a figure from the figures given. */
static double
beginning (const TorsoTry *t, guint i)
{
  const double *body = t->numbers;
  if (g_str_equal (fields[i].key, "back-neck"))
    return body[DRAFTING_TORSO_NECK_GIRTH] / 5 - 2;
  if (g_str_equal (fields[i].key, "front-neck"))
    return body[DRAFTING_TORSO_NECK_GIRTH] / 5 - 7;
  if (g_str_equal (fields[i].key, "bust-dart"))
    return (body[DRAFTING_TORSO_BUST_GIRTH] - 255) / 40;
  if (g_str_equal (fields[i].key, "back-dart-from"))
    return body[DRAFTING_TORSO_ACROSS_BACK] / 4;
  return g_ascii_strtod (torso_parameters[i].start, NULL);
}

/* Names the figure that stands out against the others. */
static gboolean
refuse_body (const Pattern *p, const TorsoTry *t, DraftingTorsoTrouble trouble,
             GError **error)
{
  double expected;
  guint figure = drafting_torso_outlier (t->numbers, &expected);
  g_autofree char *is = sewing_words_length (p, t->numbers[figure]);
  g_autofree char *about = sewing_words_length (p, round (expected / 10) * 10);
  return drafting_refuse (
      error, DRAFTING_ERROR_AMOUNT,
      _ ("%s Look at “%s” first: %s, where the other figures would have about "
         "%s."),
      trouble_words (trouble), _ (torso_parameters[figure].label), is, about);
}

/* Where the figures by themselves can be drafted, it is an amount's fault. */
static gboolean
refuse_torso (const Pattern *p, TorsoTry *t, GError **error)
{
  DraftingTorsoTrouble trouble = t->facts.trouble;
  TorsoTry begun = { 0 };
  memcpy (begun.numbers, t->numbers, sizeof begun.numbers);
  DraftingAmount amounts[N_FIELDS];
  guint n = 0;
  for (guint i = DRAFTING_TORSO_FIGURES; i < N_FIELDS; i++)
    {
      begun.numbers[i] = beginning (t, i);
      amounts[n++] = (DraftingAmount){
        &t->numbers[i], begun.numbers[i], torso_parameters[i].label,
        torso_parameters[i].kind == DRAFTING_ANGLE   ? DRAFTING_AMOUNT_DEGREES
        : torso_parameters[i].kind == DRAFTING_SHARE ? DRAFTING_AMOUNT_SHARE
                                                     : DRAFTING_AMOUNT_LENGTH
      };
    }
  gboolean body = !torso_works (&begun);
  DraftingTorsoTrouble own = begun.facts.trouble;
  torso_clear (&begun);
  if (body)
    return refuse_body (p, t, own, error);
  return drafting_refuse_amounts (p, amounts, n, torso_works, t,
                                  trouble_words (trouble), error);
}

/* --- its pieces --------------------------------------------------------------------------------- */

typedef struct
{
  DraftingShape *shape;
  DraftingDraftPiece *piece;
  double width;
} Half;

static void
name_edges (const Half *h, const char *centre)
{
  struct
  {
    const char *part, *name;
  } edges[] = {
    { "neck", _ ("neck") },
    { "shoulder-neck", _ ("shoulder, neck side") },
    { "dart-neck", _ ("shoulder dart leg, neck side") },
    { "dart-arm", _ ("shoulder dart leg, arm side") },
    { "shoulder-arm", _ ("shoulder, arm side") },
    { "armhole", _ ("armhole") },
    { "side", _ ("side") },
    { "waist-side", _ ("waist") },
    { "waist-dart-side", _ ("waist dart leg, side") },
    { "waist-dart-centre", _ ("waist dart leg, centre") },
    { "waist-centre", _ ("waist") },
  };
  for (guint i = 0; i < G_N_ELEMENTS (edges); i++)
    drafting_give_edge (h->piece, h->shape, edges[i].part, edges[i].name,
                        PATTERN_EDGE_SEAM, h->width);
  drafting_give_edge (h->piece, h->shape, "centre", centre, PATTERN_EDGE_FOLD,
                      0);
}

/* So far up from the underarm; none where the armhole ends before. */
static void
notch_armhole (const Half *h, int count, double at)
{
  if (at < drafting_shape_length (h->shape, "armhole") - 20)
    drafting_draft_add_notch (
        h->piece, "armhole", "armhole", count,
        h->shape->turned ? PATTERN_FROM_START : PATTERN_FROM_END, at);
}

static gboolean
has_edge (const DraftingShape *shape, const char *part)
{
  return drafting_shape_get (shape, part)->count > 0;
}

/* Where the shape's two legs meet. */
static void
drill_point (const Half *h, const char *mark, const char *leg)
{
  const GeoChain *chain = drafting_shape_get (h->shape, leg);
  if (chain->count == 0)
    return;
  drafting_draft_add_drill (h->piece, mark,
                            h->shape->turned ? geo_chain_start (chain)
                                             : geo_chain_end (chain));
}

static void
give_half (Half *h, DraftingDraft *draft, const char *part, const char *name,
           const char *centre)
{
  h->piece = drafting_shape_give (h->shape, draft, part, name);
  name_edges (h, centre);
  drafting_draft_add_notch (h->piece, "side", "side", 1, PATTERN_FRACTION, 0.5);
  drill_point (h, "shoulder-dart", "dart-neck");
  drill_point (h, "waist-dart", "waist-dart-side");
  drafting_give_grain (h->piece, h->shape, geo_point (0, 1));
  drafting_draft_add_cut (h->piece, PATTERN_SHELL, 1, FALSE);
}

/* From the centre to the side, through the bust point. */
static void
mark_bust_line (const Half *h, GeoPoint point)
{
  double t[3];
  GeoPoint from = geo_chain_start (drafting_shape_get (h->shape, "centre"));
  GeoPoint ends[2] = { { from.x, point.y }, point };
  const GeoChain *side = drafting_shape_get (h->shape, "side");
  if (geo_cubic_crossings_line (&side->cubics[0], point, geo_point (1, 0), t)
      > 0)
    ends[1] = geo_cubic_point (&side->cubics[0], t[0]);
  PatternNode nodes[2];
  for (int i = 0; i < 2; i++)
    nodes[i]
        = (PatternNode){ 0, PATTERN_NODE_CORNER, ends[i], ends[i], ends[i] };
  drafting_draft_add_line (h->piece, "bust-line", _ ("bust line"), nodes, 2);
}

static void
sew_darts (const Half *h, DraftingDraft *draft, const char *piece,
           const char *const words[2])
{
  static const char *const legs[2][2]
      = { { "dart-neck", "dart-arm" },
          { "waist-dart-centre", "waist-dart-side" } };
  for (int i = 0; i < 2; i++)
    {
      if (!has_edge (h->shape, legs[i][0]))
        continue;
      g_autofree char *part = g_strdup_printf ("%s-%s", piece, legs[i][0]);
      DraftingDraftRun a
          = drafting_shape_run (h->shape, piece, legs[i][0], i == 1);
      DraftingDraftRun b
          = drafting_shape_run (h->shape, piece, legs[i][1], i == 0);
      drafting_draft_add_seam (draft, part, words[i], PATTERN_JOIN_DART, &a, 1,
                               &b, 1, 0, PATTERN_PRESS_TO_A);
    }
}

static void
sew_halves (const Half *back, const Half *front, double ease,
            DraftingDraft *draft)
{
  static const char *const shoulder[] = { "shoulder-neck", "shoulder-arm" };
  DraftingDraftRun a[2], b[2];
  for (int i = 0; i < 2; i++)
    {
      a[i] = drafting_shape_run (back->shape, "back", shoulder[i], FALSE);
      b[i] = drafting_shape_run (front->shape, "front", shoulder[i], FALSE);
    }
  drafting_draft_add_seam (draft, "shoulder", _ ("Shoulder seam"),
                           PATTERN_JOIN_SEAM, a, 2, b, 2, ease,
                           PATTERN_PRESS_OPEN);
  a[0] = drafting_shape_run (back->shape, "back", "side", FALSE);
  b[0] = drafting_shape_run (front->shape, "front", "side", FALSE);
  drafting_draft_add_seam (draft, "side", _ ("Side seam"), PATTERN_JOIN_SEAM, a,
                           1, b, 1, 0, PATTERN_PRESS_OPEN);
}

static void
say_torso (const Pattern *p, const DraftingTorsoFacts *f, DraftingDraft *draft)
{
  g_autofree char *back = sewing_words_length (p, f->back_armhole);
  g_autofree char *front = sewing_words_length (p, f->front_armhole);
  g_autofree char *taken = sewing_words_length (p, 2 * f->suppression);
  g_autofree char *depth = sewing_words_length (p, f->front_depth);
  g_autofree char *below = sewing_words_length (p, fabs (f->bust_below));
  g_autofree char *intake = sewing_words_length (p, f->bust_intake);
  drafting_draft_say (draft, _ ("Armhole: back %s, front %s."), back, front);
  drafting_draft_say (draft, _ ("Front neck %s deep."), depth);
  drafting_draft_say (draft,
                      f->bust_below >= 0
                          ? _ ("Bust dart %s wide at the shoulder; bust point "
                               "%s below the underarm line.")
                          : _ ("Bust dart %s wide at the shoulder; bust point "
                               "%s above the underarm line."),
                      intake, below);
  drafting_draft_say (draft, _ ("The waist takes in %s in all."), taken);
  drafting_draft_say (draft, _ ("Sew a muslin before you cut good cloth."));
}

static gboolean
draft_torso (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
             GError **error)
{
  TorsoTry t = { 0 };
  for (guint i = 0; i < N_FIELDS; i++)
    t.numbers[i] = drafting_values_get_number (v, fields[i].key);
  if (drafting_values_get_number (v, "front-share")
          + drafting_values_get_number (v, "back-share")
      > 100)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("The two waist darts’ shares come to more than "
                               "100 %%: the side has what they leave."));
  gboolean drawn = torso_works (&t) || refuse_torso (p, &t, error);
  if (drawn)
    {
      DraftingShape *shapes[] = { &t.back, &t.front };
      GeoPoint corner = geo_chain_end (drafting_shape_get (&t.front, "centre"));
      GeoPoint point = geo_sub (t.facts.bust_point, corner);
      drafting_lay_out (p, shapes, 2);
      corner = geo_chain_end (drafting_shape_get (&t.front, "centre"));
      double width = drafting_values_get_number (v, "allowance");
      Half back = { &t.back, NULL, width }, front = { &t.front, NULL, width };
      give_half (&back, draft, "back", _ ("Back"), _ ("centre back"));
      give_half (&front, draft, "front", _ ("Front"), _ ("centre front"));
      double notch = drafting_values_get_number (v, "notch");
      notch_armhole (&back, 2, notch);
      notch_armhole (&front, 1, notch);
      mark_bust_line (&front, geo_add (corner, point));
      sew_halves (&back, &front, t.wish.shoulder_ease, draft);
      const char *const back_words[2]
          = { _ ("Back shoulder dart"), _ ("Back waist dart") };
      const char *const front_words[2]
          = { _ ("Bust dart"), _ ("Front waist dart") };
      sew_darts (&back, draft, "back", back_words);
      sew_darts (&front, draft, "front", front_words);
      say_torso (p, &t.facts, draft);
    }
  torso_clear (&t);
  return drawn;
}

/* --- table ------------------------------------------------------------------------------------ */

static const DraftingVerb verbs[] = {
  { "torso-sloper", N_ ("Torso sloper"),
    N_ ("From body figures: a half back and a half front to the waist, with "
        "shoulder and waist darts."),
    DRAFTING_GROUP_DRAFT, torso_parameters, G_N_ELEMENTS (torso_parameters),
    NULL, draft_torso, NULL },
};

static const struct
{
  const char *first, *heading;
} headings[] = {
  { "bust", N_ ("Body") },
  { "bust-ease", N_ ("Ease") },
  { "back-neck", N_ ("Neck and shoulders") },
  { "bust-dart", N_ ("Darts") },
  { "side-place", N_ ("Finish") },
};

const char *
drafting_verb_heading (const DraftingVerb *verb, guint parameter)
{
  const char *heading = NULL;
  if (verb->parameters != torso_parameters)
    return NULL;
  for (guint i = 0; i <= parameter && i < verb->n_parameters; i++)
    for (guint k = 0; k < G_N_ELEMENTS (headings); k++)
      if (g_str_equal (torso_parameters[i].key, headings[k].first))
        heading = headings[k].heading;
  return heading;
}

const DraftingVerb *
drafting_verbs_of_torsos (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}
