/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/hit.h"

#include "geometry/nearest.h"
#include "geometry/region.h"

static const double fine = 0.75; /* share of the reach for all but nodes */
/* Of the reach too: this near a notch's stroke the pointer is on it, 3 px of 12. */
static const double on_stroke = 0.25, a_px = 1 / 12.0;

gboolean
app_active_edge (AppSession *session, const PatternPiece **piece,
                 guint *edge_index)
{
  const AppPick *pick = app_session_get_pick (session);
  if (pick->kind != APP_PICK_EDGE && pick->kind != APP_PICK_NODES)
    return FALSE;
  *piece = pattern_get_piece (app_session_get_shown (session), pick->piece);
  int index
      = *piece != NULL ? pattern_piece_find_edge (*piece, pick->edge) : -1;
  *edge_index = (guint)MAX (index, 0);
  return index >= 0;
}

gboolean
app_handle_shown (const PatternPiece *piece, guint edge_index, guint node_index,
                  DraftingHandle which, GeoPoint *at)
{
  const PatternNode *node = &piece->nodes[node_index];
  guint first = piece->edges[edge_index].first;
  guint last = pattern_piece_edge_last (piece, edge_index) % piece->n_nodes;
  gboolean only_edge = piece->n_edges == 1;
  *at = which == DRAFTING_HANDLE_IN ? node->in : node->out;
  if (!only_edge && node_index == first && which == DRAFTING_HANDLE_IN)
    return FALSE;
  if (!only_edge && node_index == last && which == DRAFTING_HANDLE_OUT)
    return FALSE;
  return !geo_same (*at, node->at);
}

gboolean
app_turn_handle (AppSession *session, double mm_per_px, GeoPoint *centre,
                 GeoPoint *at)
{
  static const double above_px = 30;
  const AppPick *pick = app_session_get_pick (session);
  GeoBox box = pick->kind == APP_PICK_PIECES ? app_session_pick_box (session)
                                             : geo_box_empty ();
  if (geo_box_is_empty (box))
    return FALSE;
  *centre = geo_point ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2);
  *at = geo_point (centre->x, box.y0 - above_px * mm_per_px);
  return TRUE;
}

/* Keeps the nearer; a tie goes to what came first. */
static void
offer (AppHit *best, double *distance, AppHit hit, double d)
{
  if (d < *distance)
    {
      *distance = d;
      *best = hit;
    }
}

static AppHit
hit_node (AppSession *session, GeoPoint at, double reach)
{
  AppHit best = { .kind = APP_HIT_NOTHING };
  const PatternPiece *piece;
  guint edge;
  if (!app_active_edge (session, &piece, &edge))
    return best;
  double distance = nextafter (reach, INFINITY);
  guint last = pattern_piece_edge_last (piece, edge);
  for (guint i = piece->edges[edge].first; i <= last; i++)
    {
      guint index = i % piece->n_nodes;
      const PatternNode *node = &piece->nodes[index];
      AppHit hit = { .kind = APP_HIT_NODE,
                     .piece = piece->id,
                     .edge = piece->edges[edge].id,
                     .node = node->id,
                     .point = node->at };
      offer (&best, &distance, hit, geo_distance (node->at, at));
    }
  for (guint i = piece->edges[edge].first; i <= last; i++)
    for (int which = 0; which < 2; which++)
      {
        guint index = i % piece->n_nodes;
        GeoPoint handle;
        if (!app_handle_shown (piece, edge, index, (DraftingHandle)which,
                               &handle))
          continue;
        AppHit hit = { .kind = APP_HIT_HANDLE,
                       .piece = piece->id,
                       .edge = piece->edges[edge].id,
                       .node = piece->nodes[index].id,
                       .handle = (DraftingHandle)which,
                       .point = handle };
        offer (&best, &distance, hit, geo_distance (handle, at));
      }
  return best;
}

static double
segment_distance (GeoPoint a, GeoPoint b, GeoPoint p, GeoPoint *foot)
{
  GeoPoint ab = geo_sub (b, a);
  double square = geo_dot (ab, ab);
  double t = square > 0 ? geo_dot (geo_sub (p, a), ab) / square : 0;
  *foot = geo_along (a, ab, fmin (fmax (t, 0), 1));
  return geo_distance (*foot, p);
}

static void
hit_notches (const SewingPiece *facts, GeoPoint at, AppHit *best,
             double *distance)
{
  const PatternPiece *piece = facts->piece;
  for (guint i = 0; i < piece->n_notches; i++)
    {
      const PatternNotch *notch = &piece->notches[i];
      GeoPoint place, outward, foot;
      if (!sewing_notch_place (facts, notch, &place, &outward))
        continue;
      int edge = pattern_piece_find_edge (piece, notch->edge);
      double depth = edge >= 0 ? pattern_edge_width (&piece->edges[edge]) : 0;
      AppHit hit = { .kind = APP_HIT_MARK,
                     .piece = piece->id,
                     .edge = notch->edge,
                     .mark = notch->id,
                     .point = place };
      if (edge >= 0)
        hit.at = pattern_notch_place (notch, facts->lengths[edge]);
      double d = segment_distance (place, geo_along (place, outward, depth), at,
                                   &foot);
      offer (best, distance, hit, d);
    }
}

static void
hit_inner_marks (const PatternPiece *piece, GeoPoint at, AppHit *best,
                 double *distance)
{
  AppHit hit = { .kind = APP_HIT_MARK, .piece = piece->id };
  for (guint i = 0; i < piece->n_drills; i++)
    {
      hit.mark = piece->drills[i].id;
      hit.point = piece->drills[i].at;
      offer (best, distance, hit, geo_distance (hit.point, at));
    }
  for (guint i = 0; i < piece->n_buttonholes; i++)
    {
      const PatternButtonhole *hole = &piece->buttonholes[i];
      GeoPoint along = geo_point (cos (hole->angle), sin (hole->angle));
      hit.mark = hole->id;
      double d = segment_distance (
          hole->at, geo_along (hole->at, along, hole->length), at, &hit.point);
      offer (best, distance, hit, d);
    }
  for (guint i = 0; i < piece->n_texts; i++)
    {
      /* About as wide as its letters; only its base line is known here. */
      const PatternText *text = &piece->texts[i];
      GeoPoint along = geo_point (cos (text->angle), sin (text->angle));
      double width = 0.7 * text->size * (double)g_utf8_strlen (text->text, -1);
      hit.mark = text->id;
      double d = segment_distance (text->at, geo_along (text->at, along, width),
                                   at, &hit.point);
      offer (best, distance, hit, fmax (0, d - text->size));
    }
  for (guint i = 0; i < piece->n_lines; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      GeoPlace place = { 0, 0 };
      pattern_line_chain (&piece->lines[i], &chain);
      hit.mark = piece->lines[i].id;
      double d = geo_chain_nearest (&chain, at, &place);
      if (chain.count > 0)
        hit.point = geo_chain_point (&chain, place);
      offer (best, distance, hit, d);
      geo_chain_clear (&chain);
    }
}

static gboolean
box_holds (GeoBox box, GeoPoint p)
{
  return p.x >= box.x0 && p.x <= box.x1 && p.y >= box.y0 && p.y <= box.y1;
}

typedef enum
{
  NOTCHES = 1 << 0,
  INNER = 1 << 1
} MarkSorts;

/* Pieces from the uppermost down, so that ties go to what lies above. distance: in the reach, out
 * how far the hit is. */
static AppHit
hit_mark (AppSession *session, GeoPoint at, MarkSorts sorts, double *distance)
{
  AppHit best = { .kind = APP_HIT_NOTHING };
  double reach = *distance;
  *distance = nextafter (reach, INFINITY);
  const Pattern *p = app_session_get_shown (session);
  for (guint i = p->n_pieces; i-- > 0;)
    {
      const SewingPiece *facts
          = sewing_facts_piece (app_session_get_facts (session), p->pieces[i]);
      if (facts == NULL || !box_holds (geo_box_grow (facts->bounds, reach), at))
        continue;
      if (sorts & NOTCHES)
        hit_notches (facts, at, &best, distance);
      if (sorts & INNER)
        hit_inner_marks (p->pieces[i], at, &best, distance);
    }
  return best;
}

static AppHit
edge_at (const SewingPiece *facts, guint index, GeoPlace place)
{
  const PatternPiece *piece = facts->piece;
  guint node
      = (piece->edges[index].first + (guint)place.cubic) % piece->n_nodes;
  return (AppHit){
    .kind = APP_HIT_EDGE,
    .piece = piece->id,
    .edge = piece->edges[index].id,
    .cubic_node = piece->nodes[node].id,
    .t = place.t,
    .at = geo_ruler_length_to (&facts->rulers[index], place),
    .point = geo_chain_point (&facts->stitch[index], place),
  };
}

AppHit
app_hit_edge (AppSession *session, GeoPoint at, double reach)
{
  AppHit best = { .kind = APP_HIT_NOTHING };
  double distance = nextafter (reach * fine, INFINITY);
  const Pattern *p = app_session_get_shown (session);
  for (guint i = p->n_pieces; i-- > 0;)
    {
      const SewingPiece *facts
          = sewing_facts_piece (app_session_get_facts (session), p->pieces[i]);
      if (facts == NULL || !box_holds (geo_box_grow (facts->bounds, reach), at))
        continue;
      for (guint e = 0; e < p->pieces[i]->n_edges; e++)
        {
          GeoPlace place;
          double d = geo_chain_nearest (&facts->stitch[e], at, &place);
          if (d < distance)
            {
              distance = d;
              best = edge_at (facts, e, place);
            }
        }
    }
  return best;
}

double
app_edge_at (const SewingPiece *facts, guint edge_index, GeoPoint point)
{
  GeoPlace place = { 0, 0 };
  geo_chain_nearest (&facts->stitch[edge_index], point, &place);
  return geo_ruler_length_to (&facts->rulers[edge_index], place);
}

static AppHit
hit_line (AppSession *session, GeoPoint at, double reach)
{
  AppHit best = { .kind = APP_HIT_NOTHING };
  double distance = nextafter (reach, INFINITY);
  const Pattern *p = app_session_get_shown (session);
  for (guint i = p->n_lines; i-- > 0;)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      GeoPlace place = { 0, 0 };
      pattern_line_chain (&p->lines[i], &chain);
      double d = geo_chain_nearest (&chain, at, &place);
      AppHit hit = { .kind = APP_HIT_LINE, .line = p->lines[i].id };
      if (chain.count > 0)
        hit.point = geo_chain_point (&chain, place);
      offer (&best, &distance, hit, d);
      geo_chain_clear (&chain);
    }
  return best;
}

static AppHit
hit_piece (AppSession *session, GeoPoint at)
{
  const Pattern *p = app_session_get_shown (session);
  for (guint i = p->n_pieces; i-- > 0;)
    {
      const SewingPiece *facts
          = sewing_facts_piece (app_session_get_facts (session), p->pieces[i]);
      if (facts == NULL || !box_holds (facts->bounds, at))
        continue;
      GeoChain outline = GEO_CHAIN_EMPTY;
      if (facts->ring.outline.count == 0)
        pattern_piece_outline (p->pieces[i], &outline);
      gboolean inside = geo_chain_contains (
          facts->ring.outline.count > 0 ? &facts->ring.outline : &outline, at);
      geo_chain_clear (&outline);
      if (inside)
        return (AppHit){ .kind = APP_HIT_PIECE,
                         .piece = p->pieces[i]->id,
                         .point = at };
    }
  return (AppHit){ .kind = APP_HIT_NOTHING };
}

AppHit
app_hit_notch (AppSession *session, GeoPoint at, double reach)
{
  double distance = reach * fine;
  return hit_mark (session, at, NOTCHES, &distance);
}

/* Where an edge is in reach, a notch is meant only with the pointer on its stroke, and farther from
 * every edge than from the stroke: along the stitch line the edge is meant. */
static AppHit
hit_mark_or_edge (AppSession *session, GeoPoint at, double reach)
{
  AppHit edge = app_hit_edge (session, at, reach);
  double off_edge = geo_distance (edge.point, at);
  double off_mark = reach * fine;
  AppHit mark = hit_mark (session, at, NOTCHES | INNER, &off_mark);
  if (edge.kind == APP_HIT_NOTHING || mark.kind == APP_HIT_NOTHING)
    return mark.kind != APP_HIT_NOTHING ? mark : edge;
  gboolean notch = mark.edge != 0;
  if (notch
      && (off_mark > reach * on_stroke || off_mark + reach * a_px >= off_edge))
    {
      off_mark = reach * fine;
      mark = hit_mark (session, at, INNER, &off_mark);
    }
  return mark.kind != APP_HIT_NOTHING ? mark : edge;
}

AppHit
app_hit (AppSession *session, GeoPoint at, double reach)
{
  AppHit hit = hit_node (session, at, reach);
  if (hit.kind == APP_HIT_NOTHING)
    hit = hit_mark_or_edge (session, at, reach);
  if (hit.kind == APP_HIT_NOTHING)
    hit = hit_line (session, at, reach * fine);
  if (hit.kind == APP_HIT_NOTHING)
    hit = hit_piece (session, at);
  return hit;
}

AppHit
app_hit_picture (AppSession *session, GeoPoint at)
{
  const Pattern *p = app_session_get_shown (session);
  for (guint i = p->n_pictures; i-- > 0;)
    {
      const PatternPicture *picture = p->pictures[i];
      GeoPoint px;
      if (!picture->hidden && !picture->locked && picture->strength > 0
          && pattern_picture_to_px (picture, at, &px) && px.x >= 0 && px.y >= 0
          && px.x <= picture->width && px.y <= picture->height)
        return (AppHit){ .kind = APP_HIT_PICTURE,
                         .picture = picture->id,
                         .point = at };
    }
  return (AppHit){ .kind = APP_HIT_NOTHING };
}
