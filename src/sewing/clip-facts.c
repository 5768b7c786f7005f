/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clips and notches of an edge's allowance, by how its seam is pressed.
 *
 * A ply folded back on its own piece wants its own edge's curvature only: both
 * plies of a seam pressed open or turned, and the near ply of a seam pressed to
 * one side. The far ply lies over the other piece, so it wants the sum of both
 * edges' curvatures. Side B is staggered against side A and keeps off its
 * cuts, so that no two face. */
#include <math.h>
#include <string.h>

#include "geometry/walk.h"
#include "sewing/facts-private.h"

#define GIVE_UNKNOWN 0.04

/* No cuts; handed out for edges that want no plan. */
static const GeoClipPlan no_plan;

/* An edge on its seam, for asking what its partner does opposite a place. */
typedef struct
{
  const SewingSeamEntry *entry;
  int side;
  gboolean reversed;
  double from, to; /* of the edge's run along its side */
} Opposite;

/* The seam's side walks a run either with its outline, where k > 0 bulges, or
 * against it, where the sign is the other one. */
static double
opposite_curvature (double at, void *data)
{
  const Opposite *o = data;
  const SewingSeam *seam = &o->entry->facts;
  int other = 1 - o->side;
  double s = o->reversed ? o->to - at : o->from + at;
  double place = geo_walk_map (o->entry->marks[o->side], o->entry->marks[other],
                               o->entry->n_marks, s);
  double k = geo_chain_curvature (
      &seam->chains[other], geo_ruler_place (&seam->rulers[other], place));
  const PatternSide *runs = &seam->seam->sides[other];
  guint run = 0;
  while (run + 1 < runs->n_runs && place > seam->joints[other][run + 1])
    run++;
  return runs->runs[run].reversed ? -k : k;
}

gboolean
sewing_lies_over (PatternPress press, int side)
{
  return (press == PATTERN_PRESS_TO_A && side == 1)
         || (press == PATTERN_PRESS_TO_B && side == 0);
}

/* As the header says: of the first cloth it is cut from. */
double
sewing_give_of (const Pattern *pattern, const PatternPiece *piece)
{
  const PatternCloth *cloth = NULL;
  for (guint i = 0; i < piece->n_cuts && cloth == NULL; i++)
    cloth = pattern_get_cloth (pattern, piece->cuts[i].cloth);
  if (cloth == NULL && pattern->n_cloths > 0)
    cloth = &pattern->cloths[0];
  return cloth != NULL ? cloth->give : GIVE_UNKNOWN;
}

/* What a plan is asked for. */
typedef struct
{
  SewingFacts *facts;
  SewingSeamEntry *entry;
  const double *gives; /* as in SewingPlan */
} Asked;

static const GeoClipPlan *plan_of (const Asked *asked, int side, guint run,
                                   gboolean computed);

static gboolean
is_cut_into (const PatternEdge *edge)
{
  return edge->kind == PATTERN_EDGE_SEAM && pattern_edge_width (edge) > 0;
}

/* Of a run: which piece it is on, and which of its edges. */
static const PatternPiece *
piece_of_run (const SewingSeamEntry *entry, int side, guint run, guint *edge)
{
  const PatternSide *sides = entry->seam->sides;
  const PatternPiece *piece
      = entry->pieces[side == 0 ? run : sides[0].n_runs + run];
  *edge = (guint)pattern_piece_find_edge (piece, sides[side].runs[run].edge);
  return piece;
}

/* Side A's cuts, as this seam wants them, where they fall on an edge of side
 * B. */
static GArray *
facing_cuts (const Asked *asked, const Opposite *own)
{
  const SewingSeamEntry *entry = asked->entry;
  GArray *cuts = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint r = 0; r < entry->seam->sides[0].n_runs; r++)
    {
      guint edge;
      const PatternPiece *piece = piece_of_run (entry, 0, r, &edge);
      if (!is_cut_into (&piece->edges[edge]))
        continue;
      const double *joints = entry->facts.joints[0];
      gboolean reversed = entry->seam->sides[0].runs[r].reversed;
      const GeoClipPlan *plan = plan_of (asked, 0, r, FALSE);
      for (size_t i = 0; i < plan->count; i++)
        {
          double at = plan->cuts[i].at;
          double s = reversed ? joints[r + 1] - at : joints[r] + at;
          double on = geo_walk_map (entry->marks[0], entry->marks[1],
                                    entry->n_marks, s);
          on = own->reversed ? own->to - on : on - own->from;
          if (on >= 0 && on <= own->to - own->from)
            g_array_append_val (cuts, on);
        }
    }
  return cuts;
}

static GArray *
balance_marks (const SewingPiece *piece, guint edge)
{
  GArray *marks = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; i < piece->piece->n_notches; i++)
    {
      const PatternNotch *notch = &piece->piece->notches[i];
      double at = pattern_notch_place (notch, piece->lengths[edge]);
      if (notch->edge == piece->piece->edges[edge].id)
        g_array_append_val (marks, at);
    }
  return marks;
}

static SewingPlan *
make_plan (const Asked *asked, int side, guint run, gboolean computed)
{
  SewingSeamEntry *entry = asked->entry;
  const PatternSide *runs = &entry->seam->sides[side];
  guint edge, n_a = entry->seam->sides[0].n_runs;
  const SewingPiece *piece = sewing_facts_piece (
      asked->facts, piece_of_run (entry, side, run, &edge));
  Opposite opposite = { .entry = entry,
                        .side = side,
                        .reversed = runs->runs[run].reversed,
                        .from = entry->facts.joints[side][run],
                        .to = entry->facts.joints[side][run + 1] };
  g_autoptr (GArray) marks = balance_marks (piece, edge);
  g_autoptr (GArray) facing = side == 1 ? facing_cuts (asked, &opposite) : NULL;
  GeoClipRule rule
      = geo_clip_rule_default (pattern_edge_width (&piece->piece->edges[edge]),
                               asked->gives[side == 0 ? run : n_a + run]);
  rule.stagger = side == 1;
  if (!computed)
    rule.spacing = piece->piece->edges[edge].clip_spacing;
  if (facing != NULL)
    {
      rule.facing = (const double *)(gpointer)facing->data;
      rule.facing_count = facing->len;
    }
  SewingPlan *plan = g_new0 (SewingPlan, 1);
  plan->side = side;
  plan->run = run;
  plan->computed = computed;
  plan->gives
      = g_memdup2 (asked->gives, entry->n_pieces * sizeof *asked->gives);
  geo_clip_plan_init (&plan->plan);
  geo_clip_plan (
      &piece->rulers[edge], 1, &rule,
      sewing_lies_over (entry->seam->press, side) ? opposite_curvature : NULL,
      &opposite, (const double *)(gpointer)marks->data, marks->len,
      &plan->plan);
  return plan;
}

/* Kept from before, or made. */
static const GeoClipPlan *
plan_of (const Asked *asked, int side, guint run, gboolean computed)
{
  SewingSeamEntry *entry = asked->entry;
  gsize size = entry->n_pieces * sizeof *asked->gives;
  for (guint i = 0; i < entry->plans->len; i++)
    {
      SewingPlan *plan = entry->plans->pdata[i];
      if (plan->side == side && plan->run == run && plan->computed == computed
          && memcmp (plan->gives, asked->gives, size) == 0)
        return &plan->plan;
    }
  SewingPlan *plan = make_plan (asked, side, run, computed);
  g_ptr_array_add (entry->plans, plan);
  return &plan->plan;
}

/* A dart whose cloth is kept, for its legs' allowances meet, is folded: nothing of it is cut into. */
static gboolean
is_folded_dart (const Pattern *pattern, const SewingSeamEntry *entry)
{
  const PatternSeam *seam = entry->seam;
  if (seam->join != PATTERN_JOIN_DART || seam->sides[0].n_runs == 0
      || seam->sides[1].n_runs == 0)
    return FALSE;
  double widths = 0, mouth = 0;
  for (int side = 0; side < 2; side++)
    {
      const PatternRun *run = &seam->sides[side].runs[0];
      const PatternEdge *edge
          = pattern_get_edge (pattern, run->piece, run->edge, NULL);
      widths += edge != NULL ? pattern_edge_width (edge) : 0;
    }
  const GeoChain *chains = entry->facts.chains;
  mouth = fmax (
      geo_distance (geo_chain_start (&chains[0]), geo_chain_start (&chains[1])),
      geo_distance (geo_chain_end (&chains[0]), geo_chain_end (&chains[1])));
  return widths >= mouth;
}

const GeoClipPlan *
sewing_clip_plan (SewingFacts *facts, const Pattern *pattern, guint piece_id,
                  guint edge_id, gboolean computed)
{
  const PatternEdge *edge = pattern_get_edge (pattern, piece_id, edge_id, NULL);
  if (edge == NULL || !is_cut_into (edge))
    return NULL;
  int side;
  guint run;
  const PatternSeam *seam = sewing_facts_edge_seam (facts, pattern, piece_id,
                                                    edge_id, 0, &side, &run);
  SewingSeamEntry *entry
      = seam != NULL ? sewing_seam_entry (facts, pattern, seam) : NULL;
  if (entry == NULL
      || (edge->clip_spacing <= 0 && is_folded_dart (pattern, entry)))
    return NULL;
  g_autofree double *gives = g_new (double, entry->n_pieces);
  for (guint i = 0; i < entry->n_pieces; i++)
    gives[i] = sewing_give_of (pattern, entry->pieces[i]);
  return plan_of (&(Asked){ facts, entry, gives }, side, run,
                  computed && edge->clip_spacing > 0);
}

const GeoClipPlan *
sewing_facts_clips (SewingFacts *facts, const Pattern *pattern, guint piece_id,
                    guint edge_id)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL, &no_plan);
  const GeoClipPlan *plan
      = sewing_clip_plan (facts, pattern, piece_id, edge_id, FALSE);
  return plan != NULL ? plan : &no_plan;
}
