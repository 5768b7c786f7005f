/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Evening out the curvature of an edge. */
#include <glib/gi18n.h>

#include "drafting/true-private.h"
#include "geometry/apart.h"
#include "geometry/fair.h"
#include "geometry/length.h"

/* Joints that turn more are corners she drew, radians. */
#define CORNER 0.35
/* A stretch begins or ends at the edge's own end within this, mm. */
#define AT_END 1e-6
/* Roughness times length cubed, which has no unit: less of it no eye sees. */
#define EVEN 1e-3

/* The edge in three parts; before and after may be empty. */
typedef struct
{
  GeoChain before, stretch, after;
} Parts;

static void
parts_clear (Parts *parts)
{
  geo_chain_clear (&parts->before);
  geo_chain_clear (&parts->stretch);
  geo_chain_clear (&parts->after);
}

static gboolean
take_parts (const GeoChain *edge, const DraftingFairing *how, Parts *parts,
            GError **error)
{
  double length = geo_chain_length (edge, DRAFTING_EXACT);
  gboolean whole = how->to <= how->from;
  double from = whole ? 0 : CLAMP (how->from, 0, length);
  double to = whole ? length : CLAMP (how->to, 0, length);
  if (to - from < 1)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("That stretch is too short to be made fair. "
                               "Nothing was changed."));
  GeoChain tail = GEO_CHAIN_EMPTY;
  if (from > AT_END)
    drafting_cut_chain (edge, from, FALSE, &parts->before, &tail);
  else
    geo_chain_copy (&tail, edge);
  if (to < length - AT_END)
    drafting_cut_chain (&tail, to - from, FALSE, &parts->stretch,
                        &parts->after);
  else
    geo_chain_append_chain (&parts->stretch, &tail);
  geo_chain_clear (&tail);
  return TRUE;
}

/* A single cubic has little to give: it is cut in four, which is what a fair curve
 * over an edge can need. */
static void
give_nodes (GeoChain *chain)
{
  if (chain->count >= 3)
    return;
  double length = geo_chain_length (chain, DRAFTING_EXACT);
  for (int i = 1; i < 4; i++)
    {
      GeoPlace at = geo_chain_at_length (chain, length * i / 4, DRAFTING_EXACT);
      if (at.t > 0.05 && at.t < 0.95)
        geo_chain_insert_node (chain, at);
    }
}

static gboolean
make_fair (Parts *parts, const DraftingFairing *how)
{
  GeoFairWish wish = geo_fair_wish (how->within);
  wish.corner = CORNER;
  wish.keep_length = how->keep_length;
  if (parts->before.count > 0)
    wish.start_curvature = geo_chain_curvature (
        &parts->before, (GeoPlace){ parts->before.count - 1, 1 });
  if (parts->after.count > 0)
    wish.end_curvature
        = geo_chain_curvature (&parts->after, (GeoPlace){ 0, 0 });
  GeoChain fair = GEO_CHAIN_EMPTY;
  double was = geo_chain_roughness (&parts->stretch, CORNER);
  double length = geo_chain_length (&parts->stretch, DRAFTING_EXACT);
  gboolean rough = was * length * length * length > EVEN;
  gboolean good = rough && geo_chain_fair (&parts->stretch, &wish, &fair)
                  && geo_chain_roughness (&fair, CORNER) < was;
  if (rough && !good)
    {
      give_nodes (&parts->stretch);
      good = geo_chain_fair (&parts->stretch, &wish, &fair)
             && geo_chain_roughness (&fair, CORNER) < was;
    }
  if (good)
    geo_chain_copy (&parts->stretch, &fair);
  geo_chain_clear (&fair);
  return good;
}

static void
join (const Parts *parts, const GeoChain *edge, GeoChain *whole)
{
  geo_chain_append_chain (whole, &parts->before);
  geo_chain_append_chain (whole, &parts->stretch);
  geo_chain_append_chain (whole, &parts->after);
  whole->cubics[0].p[0] = geo_chain_start (edge);
  whole->cubics[whole->count - 1].p[3] = geo_chain_end (edge);
}

/* How far fairing may move what bending left, mm. */
#define AFTER_BENDING 0.5

Pattern *
drafting_bend_to_length (const Pattern *p, guint piece, guint edge,
                         double length, GError **error)
{
  guint index;
  if (!drafting_number_is_good (length, error))
    return NULL;
  g_autoptr (PatternPiece) copy
      = drafting_begin_edge (p, piece, edge, &index, error);
  if (!copy)
    return NULL;
  if (!pattern_piece_bend_edge (copy, index, length, NULL))
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("The edge can't be bent to that length between its "
                          "ends: it is straight, or too far from it. Move one "
                          "of its ends instead. Nothing was changed."));
      return NULL;
    }
  g_autoptr (Pattern) bent
      = drafting_finish (p, g_steal_pointer (&copy), NULL, error);
  if (!bent || !drafting_outline_is_good (p, bent, piece, error))
    return NULL;
  DraftingFairing how = { .within = AFTER_BENDING, .keep_length = TRUE };
  Pattern *fair = drafting_fair_edge (bent, piece, edge, &how, NULL, NULL);
  return fair ? fair : g_steal_pointer (&bent);
}

static gboolean
refuse (const Pattern *p, const DraftingFairing *how, GError **error)
{
  g_autofree char *within = pattern_length_format (how->within, p->unit, TRUE);
  return drafting_refuse (
      error, DRAFTING_ERROR_SHAPE,
      how->keep_length
          ? _ ("Within %s, at the same length, nothing fairer was found. Allow "
               "it to move farther, or let the length go. Nothing was "
               "changed.")
          : _ ("Within %s nothing fairer was found: the edge is as even as it "
               "can be there. Nothing was changed."),
      within);
}

Pattern *
drafting_fair_edge (const Pattern *p, guint piece, guint edge,
                    const DraftingFairing *how, DraftingFaired *told,
                    GError **error)
{
  g_return_val_if_fail (p != NULL && how != NULL, NULL);
  guint index, next = p->next_id;
  g_autoptr (PatternPiece) copy
      = drafting_begin_edge (p, piece, edge, &index, error);
  if (copy == NULL || !drafting_number_is_good (how->within, error)
      || !drafting_number_is_good (how->from, error)
      || !drafting_number_is_good (how->to, error))
    return NULL;
  if (how->within <= 0)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("Say how far the edge may move: more than "
                          "nothing."));
      return NULL;
    }
  GeoChain own = GEO_CHAIN_EMPTY, whole = GEO_CHAIN_EMPTY;
  Parts parts = { 0 };
  pattern_piece_edge_chain (copy, index, &own);
  Pattern *result = NULL;
  if (take_parts (&own, how, &parts, error))
    {
      if (!make_fair (&parts, how))
        refuse (p, how, error);
      else
        {
          join (&parts, &own, &whole);
          drafting_put_edge_chain (copy, index, &whole, &next);
          result = drafting_finish (p, g_steal_pointer (&copy), &next, error);
        }
    }
  if (result != NULL && !drafting_outline_is_good (p, result, piece, error))
    g_clear_pointer (&result, pattern_unref);
  if (result != NULL && told != NULL)
    *told = (DraftingFaired){
      .roughness = { geo_chain_roughness (&own, CORNER),
                     geo_chain_roughness (&whole, CORNER) },
      .length = { geo_chain_length (&own, DRAFTING_EXACT),
                  geo_chain_length (&whole, DRAFTING_EXACT) },
      .moved = geo_chain_apart (&own, &whole),
    };
  geo_chain_clear (&own);
  geo_chain_clear (&whole);
  parts_clear (&parts);
  return result;
}
