/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clips and notches of an edge's allowance, by how its seam is pressed.
 *
 * A ply folded back on its own piece wants its own edge's curvature only: both
 * plies of a seam pressed open or turned, and the near ply of a seam pressed to
 * one side. The far ply lies over the other piece, so it wants the sum of both
 * edges' curvatures. Side B is staggered against side A so that no two cuts
 * face. */
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

static gboolean
lies_over_partner (PatternPress press, int side)
{
  return (press == PATTERN_PRESS_TO_A && side == 1)
         || (press == PATTERN_PRESS_TO_B && side == 0);
}

/* As the header says: of the first cloth it is cut from. */
static double
give_of (const Pattern *pattern, const PatternPiece *piece)
{
  const PatternCloth *cloth = NULL;
  for (guint i = 0; i < piece->n_cuts && cloth == NULL; i++)
    cloth = pattern_get_cloth (pattern, piece->cuts[i].cloth);
  if (cloth == NULL && pattern->n_cloths > 0)
    cloth = &pattern->cloths[0];
  return cloth != NULL ? cloth->give : GIVE_UNKNOWN;
}

static SewingPlan *
make_plan (const SewingSeamEntry *entry, const SewingPiece *piece, guint edge,
           int side, guint run, double give)
{
  const PatternEdge *e = &piece->piece->edges[edge];
  g_autofree double *marks = g_new (double, piece->piece->n_notches + 1);
  size_t n_marks = 0;
  for (guint i = 0; i < piece->piece->n_notches; i++)
    if (piece->piece->notches[i].edge == e->id)
      marks[n_marks++] = pattern_notch_place (&piece->piece->notches[i],
                                              piece->lengths[edge]);
  GeoClipRule rule = geo_clip_rule_default (pattern_edge_width (e), give);
  rule.stagger = side == 1;
  Opposite opposite = { .entry = entry,
                        .side = side,
                        .reversed = entry->seam->sides[side].runs[run].reversed,
                        .from = entry->facts.joints[side][run],
                        .to = entry->facts.joints[side][run + 1] };
  gboolean far_ply = lies_over_partner (entry->seam->press, side);
  SewingPlan *plan = g_new0 (SewingPlan, 1);
  plan->side = side;
  plan->run = run;
  plan->give = give;
  geo_clip_plan_init (&plan->plan);
  geo_clip_plan (&piece->rulers[edge], 1, &rule,
                 far_ply ? opposite_curvature : NULL, &opposite, marks, n_marks,
                 &plan->plan);
  return plan;
}

const GeoClipPlan *
sewing_facts_clips (SewingFacts *facts, const Pattern *pattern, guint piece_id,
                    guint edge_id)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL, &no_plan);
  const PatternPiece *piece;
  const PatternEdge *edge
      = pattern_get_edge (pattern, piece_id, edge_id, &piece);
  if (edge == NULL || edge->kind != PATTERN_EDGE_SEAM
      || pattern_edge_width (edge) <= 0)
    return &no_plan;
  int side;
  guint run;
  const PatternSeam *seam
      = pattern_edge_seam (pattern, piece_id, edge_id, 0, &side, &run);
  SewingSeamEntry *entry
      = seam != NULL ? sewing_seam_entry (facts, pattern, seam) : NULL;
  if (entry == NULL)
    return &no_plan;
  double give = give_of (pattern, piece);
  for (guint i = 0; i < entry->plans->len; i++)
    {
      SewingPlan *plan = entry->plans->pdata[i];
      if (plan->side == side && plan->run == run && plan->give == give)
        return &plan->plan;
    }
  const SewingPiece *sewn = sewing_facts_piece (facts, piece);
  SewingPlan *plan
      = make_plan (entry, sewn, (guint)(edge - piece->edges), side, run, give);
  g_ptr_array_add (entry->plans, plan);
  return &plan->plan;
}
