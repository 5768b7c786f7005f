/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/torso-pieces.h"

#include <glib/gi18n.h>
#include <math.h>

#include "drafting/draft-help.h"
#include "sewing/words.h"

#define OVER 2.0 /* mm: allowances of two legs overlap by twice that */

typedef struct
{
  DraftingShape *shape;
  DraftingDraftPiece *piece;
  double width, neck_width; /* of allowances */
} Half;

/* Allowances of a dart's legs that meet in its middle, so that its cloth is kept and has a cap. */
static void
keep_dart (const Half *h, const char *one, const char *other,
           const char *const names[2])
{
  const char *const legs[2] = { one, other };
  const GeoChain *a = drafting_shape_get (h->shape, one);
  const GeoChain *b = drafting_shape_get (h->shape, other);
  if (a->count == 0 || h->width <= 0)
    return;
  double mouth = fmax (geo_distance (geo_chain_start (a), geo_chain_end (b)),
                       geo_distance (geo_chain_end (a), geo_chain_start (b)));
  for (int i = 0; i < 2; i++)
    drafting_give_corner (h->piece, h->shape, legs[i], names[i],
                          PATTERN_EDGE_SEAM, fmax (h->width, mouth / 2 + OVER),
                          GEO_CORNER_EXTENDED, TRUE);
}

static void
name_edges (const Half *h, const char *centre)
{
  struct
  {
    const char *part, *name;
  } edges[] = {
    { "neck", _ ("neck") },
    { "shoulder", _ ("shoulder") },
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
    { "hip", _ ("hip line") },
  };
  for (guint i = 0; i < G_N_ELEMENTS (edges); i++)
    drafting_give_edge (h->piece, h->shape, edges[i].part, edges[i].name,
                        PATTERN_EDGE_SEAM, h->width);
  drafting_give_edge (h->piece, h->shape, "neck", edges[0].name,
                      PATTERN_EDGE_SEAM, h->neck_width);
  drafting_give_edge (h->piece, h->shape, "centre", centre, PATTERN_EDGE_FOLD,
                      0);
  const char *const shoulder[2] = { edges[3].name, edges[4].name };
  const char *const waist[2] = { edges[9].name, edges[10].name };
  keep_dart (h, "dart-neck", "dart-arm", shoulder);
  keep_dart (h, "waist-dart-side", "waist-dart-centre", waist);
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
  const GeoChain *side = drafting_shape_get (h->shape, "side");
  gboolean hip = side->count > 1;
  double waist = geo_cubic_length (&side->cubics[0], 1e-9);
  h->piece = drafting_shape_give (h->shape, draft, part, name);
  name_edges (h, centre);
  /* Half way down, or at the waist. */
  if (hip)
    drafting_draft_add_notch (
        h->piece, "side", "side", 1,
        h->shape->turned ? PATTERN_FROM_END : PATTERN_FROM_START, waist);
  else
    drafting_draft_add_notch (h->piece, "side", "side", 1, PATTERN_FRACTION,
                              0.5);
  drill_point (h, "shoulder-dart", "dart-neck");
  drill_point (h, "waist-dart", "waist-dart-side");
  if (!hip)
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
  for (size_t i = 0; i < side->count; i++)
    if (geo_cubic_crossings_line (&side->cubics[i], point, geo_point (1, 0), t)
        > 0)
      ends[1] = geo_cubic_point (&side->cubics[i], t[0]);
  PatternNode nodes[2];
  for (int i = 0; i < 2; i++)
    nodes[i]
        = (PatternNode){ 0, PATTERN_NODE_CORNER, ends[i], ends[i], ends[i] };
  drafting_draft_add_line (h->piece, "bust-line", _ ("bust line"), nodes, 2);
}

/* A dart with two points lies inside its piece: a line and its points, not a seam. */
static void
mark_waist_dart (const Half *h, const GeoPoint points[4], GeoPoint moved)
{
  PatternNode nodes[5];
  if (geo_distance (points[1], points[3]) < 0.5)
    return;
  for (int i = 0; i < 5; i++)
    {
      GeoPoint at = geo_add (points[i % 4], moved);
      nodes[i] = (PatternNode){ 0, PATTERN_NODE_CORNER, at, at, at };
    }
  drafting_draft_add_line (h->piece, "waist-dart-line", _ ("waist dart"), nodes,
                           5);
  drafting_draft_add_drill (h->piece, "waist-dart", nodes[0].at);
  drafting_draft_add_drill (h->piece, "waist-dart-low", nodes[2].at);
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

/* One edge, or two with a dart between them. */
static guint
shoulder_runs (const Half *h, const char *piece, DraftingDraftRun runs[2])
{
  static const char *const parts[]
      = { "shoulder", "shoulder-neck", "shoulder-arm" };
  guint n = 0;
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    if (has_edge (h->shape, parts[i]))
      runs[n++] = drafting_shape_run (h->shape, piece, parts[i], FALSE);
  return n;
}

static void
sew_halves (const Half *back, const Half *front, double ease,
            DraftingDraft *draft)
{
  DraftingDraftRun a[2], b[2];
  guint n_a = shoulder_runs (back, "back", a);
  guint n_b = shoulder_runs (front, "front", b);
  drafting_draft_add_seam (draft, "shoulder", _ ("Shoulder seam"),
                           PATTERN_JOIN_SEAM, a, n_a, b, n_b, ease,
                           PATTERN_PRESS_OPEN);
  a[0] = drafting_shape_run (back->shape, "back", "side", FALSE);
  b[0] = drafting_shape_run (front->shape, "front", "side", FALSE);
  drafting_draft_add_seam (draft, "side", _ ("Side seam"), PATTERN_JOIN_SEAM, a,
                           1, b, 1, 0, PATTERN_PRESS_OPEN);
}

static void
say_torso (const Pattern *p, const DraftingTorsoPieces *t, DraftingDraft *draft)
{
  const DraftingTorsoFacts *f = t->facts;
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
  if (t->to_hip)
    drafting_draft_say (draft,
                        _ ("The waist darts lie inside their pieces and have "
                           "two points. They are lines, not seams: their legs "
                           "are equal as drafted, but nobody checks them."));
  drafting_draft_say (draft, _ ("Sew a muslin before you cut good cloth."));
}

/* Each moved to its place on the table; by how much. */
static void
lay_halves (const Pattern *p, const DraftingTorsoPieces *t, GeoPoint moved[2])
{
  DraftingShape *shapes[] = { t->back, t->front };
  for (int i = 0; i < 2; i++)
    moved[i] = geo_chain_end (drafting_shape_get (shapes[i], "centre"));
  drafting_lay_out (p, shapes, 2);
  for (int i = 0; i < 2; i++)
    moved[i] = geo_sub (
        geo_chain_end (drafting_shape_get (shapes[i], "centre")), moved[i]);
}

static void
sew_all (const Half *back, const Half *front, double ease, DraftingDraft *draft)
{
  const char *const back_words[2]
      = { _ ("Back shoulder dart"), _ ("Back waist dart") };
  const char *const front_words[2]
      = { _ ("Bust dart"), _ ("Front waist dart") };
  sew_halves (back, front, ease, draft);
  sew_darts (back, draft, "back", back_words);
  sew_darts (front, draft, "front", front_words);
}

/* Half way between the centre and the dart. */
static void
give_grain_beside (const Half *h, const GeoPoint points[4], GeoPoint moved)
{
  double centre = geo_chain_end (drafting_shape_get (h->shape, "centre")).x;
  double x = (centre + points[1].x + moved.x) / 2;
  drafting_draft_set_grain (h->piece, geo_point (x, points[0].y + moved.y),
                            geo_point (x, points[2].y + moved.y));
}

void
drafting_torso_give (const Pattern *p, const DraftingTorsoPieces *t,
                     DraftingDraft *draft)
{
  GeoPoint moved[2];
  lay_halves (p, t, moved);
  Half halves[2] = { { t->back, NULL, t->allowance, t->neck_allowance },
                     { t->front, NULL, t->allowance, t->neck_allowance } };
  give_half (&halves[0], draft, "back", _ ("Back"), _ ("centre back"));
  give_half (&halves[1], draft, "front", _ ("Front"), _ ("centre front"));
  notch_armhole (&halves[0], 2, t->notch);
  notch_armhole (&halves[1], 1, t->notch);
  mark_bust_line (&halves[1], geo_add (t->facts->bust_point, moved[1]));
  for (int i = 0; i < 2 && t->to_hip; i++)
    {
      mark_waist_dart (&halves[i], t->facts->waist_dart[i], moved[i]);
      give_grain_beside (&halves[i], t->facts->waist_dart[i], moved[i]);
    }
  sew_all (&halves[0], &halves[1], t->shoulder_ease, draft);
  say_torso (p, t, draft);
}
