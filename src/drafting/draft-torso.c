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
#include "drafting/torso-pieces.h"
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

/* clang-format off */
#define TORSO_PARAMETERS                                                      \
  L ("bust", N_ ("Bust girth"), "bust girth", 500, 2000),                     \
  L ("waist", N_ ("Waist girth"), "waist girth", 400, 2000),                  \
  L ("neck", N_ ("Neck base girth"), "neck base girth", 250, 600),            \
  L ("back-waist", N_ ("Back waist length"), "back waist length", 250, 650),  \
  L ("front-waist", N_ ("Front waist length"), "front waist length", 260, 750),\
  L ("scye", N_ ("Scye depth"), "scye depth", 100, 400),                      \
  L ("shoulder", N_ ("Shoulder length"), "shoulder length", 60, 220),         \
  L ("back-width", N_ ("Back width"), "back width", 200, 700),                \
  L ("front-width", N_ ("Front chest width"), "front chest width", 200, 700), \
  L ("point-width", N_ ("Bust point width"), "bust point width", 80, 400),    \
  L ("point-shoulder", N_ ("Shoulder to bust point"), "shoulder to bust point",\
     120, 520),                                                               \
  L ("bust-ease", N_ ("Ease at the bust"), "100 mm", -50, 500),               \
  L ("waist-ease", N_ ("Ease at the waist"), "25 mm", -50, 500),              \
  L ("back-ease", N_ ("Ease across the back"), "10 mm", -40, 200),            \
  L ("front-ease", N_ ("Ease across the front"), "0 mm", -40, 200),           \
  L ("scye-ease", N_ ("Armhole lower by"), "5 mm", -20, 120),                 \
  L ("neck-ease", N_ ("Ease at the neck"), "0 mm", -30, 200),                 \
  L ("shoulder-ease", N_ ("Back shoulder eased in by"), "5 mm", 0, 30),       \
  L ("back-neck", N_ ("Back neck, half its width"),                           \
     "neck base girth / 5 - 2 mm", 30, 200),                                  \
  L ("back-rise", N_ ("Back neck rises by"), "15 mm", 2, 80),                 \
  L ("front-neck", N_ ("Front neck, half its width"),                         \
     "neck base girth / 5 - 7 mm", 30, 200),                                  \
  A ("back-slope", N_ ("Slope of the back shoulder"), "18", 0, 40),           \
  A ("front-slope", N_ ("Slope of the front shoulder"), "22", 0, 45),         \
  S ("place", N_ ("Shoulder darts from the neck"), "50", 10, 90),             \
  A ("bust-dart", N_ ("Bust dart, at the bust point"),                        \
     "(bust girth - 255 mm) / 40 mm", 0, 45),                                 \
  L ("bust-short", N_ ("Bust dart ends before the point by"), "25 mm", 0, 120),\
  L ("back-dart", N_ ("Back shoulder dart, width"), "10 mm", 0, 40),          \
  L ("back-dart-length", N_ ("Back shoulder dart, length"), "75 mm", 30, 160),\
  L ("back-dart-in", N_ ("Back shoulder dart leans in by"), "10 mm", -40, 60),\
  S ("front-share", N_ ("Front waist dart’s share"), "30", 0, 100),           \
  S ("back-share", N_ ("Back waist dart’s share"), "40", 0, 100),             \
  L ("front-short", N_ ("Front waist dart below the bust point"), "13 mm", 0, \
     120),                                                                    \
  L ("back-dart-from", N_ ("Back waist dart from the centre"), "back width / 4",\
     30, 250),                                                                \
  L ("back-dart-below", N_ ("Back waist dart below the underarm"), "0 mm", -60,\
     150),                                                                    \
  L ("taper", N_ ("Wide darts tapered over"), "80 mm", 0, 250),               \
  S ("side-place", N_ ("Back’s share of the armhole width"), "50", 10, 90),   \
  L ("notch", N_ ("Armhole notches up from the underarm"), "75 mm", 20, 150), \
  L ("allowance", N_ ("Seam allowance"), "0 mm", 0, 60),                      \
  L ("neck-allowance", N_ ("Neck allowance"), "0 mm", 0, 60)
/* clang-format on */

static const DraftingParameter torso_parameters[] = { TORSO_PARAMETERS };
/* Ease at the hip of [W]; how far the darts run down is common practice. */
static const DraftingParameter hip_parameters[] = {
  TORSO_PARAMETERS,
  L ("hip", N_ ("Hip girth"), "hip girth", 500, 2200),
  L ("waist-hip", N_ ("Waist to hip"), "waist to hip", 100, 400),
  L ("hip-ease", N_ ("Ease at the hip"), "50 mm", -50, 600),
  L ("front-tail", N_ ("Front waist dart below the waist"), "90 mm", 20, 250),
  L ("back-tail", N_ ("Back waist dart below the waist"), "140 mm", 20, 300),
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
  F ("hip", hip, 1),
  F ("waist-hip", waist_hip, 1),
  F ("hip-ease", hip_ease, 1),
  F ("front-tail", front_tail, 1),
  F ("back-tail", back_tail, 1),
};
#define N_FIELDS G_N_ELEMENTS (fields)
#define N_TO_WAIST (N_FIELDS - 5)

static const DraftingParameter *
parameter_of (guint field)
{
  guint i = 0;
  while (!g_str_equal (hip_parameters[i].key, fields[field].key))
    i++;
  return &hip_parameters[i];
}

typedef struct
{
  double numbers[N_FIELDS]; /* as given: mm, degrees, per cent */
  guint n_numbers;          /* to the waist, or all */
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
  for (guint i = 0; i < t->n_numbers; i++)
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
    case DRAFTING_TORSO_HIP:
      return _ ("The hip would be narrower than the waist, or lie too near "
                "it.");
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
  return g_ascii_strtod (parameter_of (i)->start, NULL);
}

/* To be narrower than the waist, or no lower, is the hip's own fault. */
static gboolean
refuse_hip (const Pattern *p, const TorsoTry *t, GError **error)
{
  double tail = fmax (t->wish.front_tail, t->wish.back_tail);
  gboolean narrow = t->wish.waist_hip > tail + 10;
  const char *key = narrow ? "hip" : "waist-hip";
  g_autofree char *is
      = sewing_words_length (p, narrow ? t->wish.hip : t->wish.waist_hip);
  guint i = N_TO_WAIST;
  while (!g_str_equal (fields[i].key, key))
    i++;
  return drafting_refuse (
      error, DRAFTING_ERROR_AMOUNT, _ ("%s Look at “%s” first: %s."),
      trouble_words (DRAFTING_TORSO_HIP), _ (parameter_of (i)->label), is);
}

/* Names the figure that stands out against the others. */
static gboolean
refuse_body (const Pattern *p, const TorsoTry *t, DraftingTorsoTrouble trouble,
             GError **error)
{
  double expected;
  guint figure = drafting_torso_outlier (t->numbers, &expected);
  if (trouble == DRAFTING_TORSO_HIP)
    return refuse_hip (p, t, error);
  g_autofree char *is = sewing_words_length (p, t->numbers[figure]);
  g_autofree char *about = sewing_words_length (p, round (expected / 10) * 10);
  return drafting_refuse (
      error, DRAFTING_ERROR_AMOUNT,
      _ ("%s Look at “%s” first: %s, where the other figures would have about "
         "%s."),
      trouble_words (trouble), _ (parameter_of (figure)->label), is, about);
}

/* The hip's two figures stand behind the amounts. */
static gboolean
is_amount (const DraftingParameter *one)
{
  return !g_str_equal (one->key, "hip") && !g_str_equal (one->key, "waist-hip");
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
  begun.n_numbers = t->n_numbers;
  for (guint i = DRAFTING_TORSO_FIGURES; i < t->n_numbers; i++)
    {
      const DraftingParameter *one = parameter_of (i);
      if (!is_amount (one))
        continue;
      begun.numbers[i] = beginning (t, i);
      amounts[n++] = (DraftingAmount){
        &t->numbers[i], begun.numbers[i], one->label,
        one->kind == DRAFTING_ANGLE   ? DRAFTING_AMOUNT_DEGREES
        : one->kind == DRAFTING_SHARE ? DRAFTING_AMOUNT_SHARE
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

static gboolean
draft_halves (const Pattern *p, const DraftingValues *v, gboolean hip,
              DraftingDraft *draft, GError **error)
{
  TorsoTry t = { .n_numbers = hip ? N_FIELDS : N_TO_WAIST };
  for (guint i = 0; i < t.n_numbers; i++)
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
      DraftingTorsoPieces pieces
          = { &t.back,
              &t.front,
              &t.facts,
              drafting_values_get_number (v, "allowance"),
              drafting_values_get_number (v, "neck-allowance"),
              drafting_values_get_number (v, "notch"),
              t.wish.shoulder_ease,
              hip };
      drafting_torso_give (p, &pieces, draft);
    }
  torso_clear (&t);
  return drawn;
}

static gboolean
draft_torso (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
             GError **error)
{
  return draft_halves (p, v, FALSE, draft, error);
}

static gboolean
draft_to_hip (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
              GError **error)
{
  return draft_halves (p, v, TRUE, draft, error);
}

/* --- table ------------------------------------------------------------------------------------ */

static const DraftingVerb verbs[] = {
  { "torso-sloper", N_ ("Torso sloper"),
    N_ ("From body figures: a half back and a half front to the waist, with "
        "shoulder and waist darts."),
    DRAFTING_GROUP_DRAFT, torso_parameters, G_N_ELEMENTS (torso_parameters),
    NULL, draft_torso, NULL },
  { "hip-sloper", N_ ("Torso sloper to the hip"),
    N_ ("From body figures: the torso sloper carried on to the hip, its waist "
        "darts drawn with two points."),
    DRAFTING_GROUP_DRAFT, hip_parameters, G_N_ELEMENTS (hip_parameters), NULL,
    draft_to_hip, NULL },
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
  { "hip", N_ ("Below the waist") },
};

const char *
drafting_verb_heading (const DraftingVerb *verb, guint parameter)
{
  const char *heading = NULL;
  if (verb->parameters != torso_parameters
      && verb->parameters != hip_parameters)
    return NULL;
  for (guint i = 0; i <= parameter && i < verb->n_parameters; i++)
    for (guint k = 0; k < G_N_ELEMENTS (headings); k++)
      if (g_str_equal (verb->parameters[i].key, headings[k].first))
        heading = headings[k].heading;
  return heading;
}

const DraftingVerb *
drafting_verbs_of_torsos (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}
