/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dragging a laid line as one curve: each change is made in the piece it belongs to, and
 * at a joint the neighbour's handle follows, so that the line stays one. */
#include "drafting/true-private.h"
#include "geometry/length.h"

/* A handle given to a straight side is this share of it. */
#define THIRD (1.0 / 3)

/* The edge of a run, its nodes by index on the piece. */
typedef struct
{
  const SewingLineRun *run;
  const PatternPiece *piece;
  guint edge, first, last; /* last is not taken round the loop */
} Place;

static gboolean
find_run (const Pattern *p, const SewingLine *line, guint run, Place *place,
          GError **error)
{
  g_return_val_if_fail (p != NULL && line != NULL, FALSE);
  g_return_val_if_fail (run < line->n_runs, FALSE);
  place->run = &line->runs[run];
  place->piece = drafting_find_piece (p, place->run->piece, error);
  int edge = place->piece != NULL
                 ? drafting_find_edge (place->piece, place->run->edge, error)
                 : -1;
  if (edge < 0)
    return FALSE;
  place->edge = (guint)edge;
  place->first = place->piece->edges[edge].first;
  place->last = pattern_piece_edge_last (place->piece, (guint)edge);
  return TRUE;
}

/* The node's end of the run: -1 its start on the line, 1 its end, 0 inside. */
static int
end_of_node (const Place *place, guint node)
{
  guint n = place->piece->n_nodes;
  gboolean starts = place->piece->nodes[place->first].id == node;
  gboolean ends = place->piece->nodes[place->last % n].id == node;
  if (starts == ends)
    return 0;
  return starts != place->run->reversed ? -1 : 1;
}

/* The joint there; -1 where it is an inner node or the line's end. */
static int
joint_at (const SewingLine *line, guint run, int end)
{
  if (end < 0 && run > 0)
    return (int)run - 1;
  if (end > 0 && run + 1 < line->n_runs)
    return (int)run;
  return -1;
}

static GeoPoint
to_piece (const SewingLineRun *run, GeoPoint at)
{
  return geo_motion_apply (geo_motion_inverse (run->lay), at);
}

Pattern *
drafting_line_move_node (const Pattern *p, const SewingLine *line, guint run,
                         guint node, GeoPoint to, GError **error)
{
  Place place;
  if (!drafting_point_is_good (to, error)
      || !find_run (p, line, run, &place, error))
    return NULL;
  int joint = joint_at (line, run, end_of_node (&place, node));
  if (joint < 0)
    return drafting_set_node (p, place.piece->id, node,
                              to_piece (place.run, to), error);
  const SewingLineJoint *j = &line->joints[joint];
  return drafting_slide_joint (p, j->seam, j->end,
                               geo_dot (geo_sub (to, j->at), j->out), error);
}

/* The way the run has at its end on the line (1) or its start (-1), out of the run, as
 * laid. */
static GeoPoint
way_out (const Place *place, int end)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (place->piece, place->edge, &chain);
  gboolean at_end = (end > 0) != place->run->reversed;
  GeoPoint way
      = at_end ? geo_chain_tangent (&chain, (GeoPlace){ chain.count - 1, 1 })
               : geo_scale (geo_chain_tangent (&chain, (GeoPlace){ 0, 0 }), -1);
  geo_chain_clear (&chain);
  return geo_motion_turn (place->run->lay, way);
}

/* Turns the run's handle at its end into the way given (as laid, out of the run). */
static Pattern *
turn_end (const Pattern *p, const SewingLine *line, guint run, int end,
          GeoPoint way, GError **error)
{
  Place place;
  if (!find_run (p, line, run, &place, error))
    return NULL;
  gboolean at_end = (end > 0) != place.run->reversed;
  guint n = place.piece->n_nodes;
  const PatternNode *node
      = &place.piece->nodes[(at_end ? place.last : place.first) % n];
  const PatternNode *next
      = &place.piece->nodes[(at_end ? place.last - 1 : place.first + 1) % n];
  GeoPoint handle = at_end ? node->in : node->out;
  double length = geo_distance (handle, node->at);
  if (length == 0)
    length = geo_distance (node->at, next->at) * THIRD;
  GeoPoint back = geo_motion_turn (geo_motion_inverse (place.run->lay),
                                   geo_scale (geo_unit (way), -1));
  PatternPiece *copy = pattern_piece_dup (place.piece);
  PatternNode *own = &copy->nodes[(at_end ? place.last : place.first) % n];
  GeoPoint to = geo_along (own->at, back, length);
  *(at_end ? &own->in : &own->out) = to;
  own->kind = PATTERN_NODE_CORNER;
  return drafting_finish (p, copy, NULL, error);
}

/* After run's end has changed its way, the neighbour's follows. Takes over p. */
static Pattern *
follow (Pattern *p, const SewingLine *line, guint run, int end, GError **error)
{
  if (p == NULL)
    return NULL;
  Place place;
  g_autoptr (Pattern) own = p;
  if (joint_at (line, run, end) < 0)
    return g_steal_pointer (&own);
  if (!find_run (own, line, run, &place, error))
    return NULL;
  GeoPoint way = way_out (&place, end);
  return turn_end (own, line, end > 0 ? run + 1 : run - 1, -end,
                   geo_scale (way, -1), error);
}

Pattern *
drafting_line_set_handle (const Pattern *p, const SewingLine *line, guint run,
                          guint node, DraftingHandle which, GeoPoint to,
                          GError **error)
{
  Place place;
  if (!drafting_point_is_good (to, error)
      || !find_run (p, line, run, &place, error))
    return NULL;
  int end = end_of_node (&place, node);
  GeoPoint own = to_piece (place.run, to);
  if (joint_at (line, run, end) < 0)
    return drafting_set_handle (p, place.piece->id, node, which, own, error);
  /* The seam's handle at the corner is its own. */
  PatternPiece *copy = pattern_piece_dup (place.piece);
  int index = drafting_find_node (copy, node, error);
  if (index < 0)
    {
      pattern_piece_unref (copy);
      return NULL;
    }
  PatternNode *corner = &copy->nodes[index];
  *(which == DRAFTING_HANDLE_IN ? &corner->in : &corner->out) = own;
  corner->kind = PATTERN_NODE_CORNER;
  return follow (drafting_finish (p, copy, NULL, error), line, run, end, error);
}

Pattern *
drafting_line_bend (const Pattern *p, const SewingLine *line, guint run,
                    guint node, double t, GeoPoint by, GError **error)
{
  Place place;
  if (!drafting_point_is_good (by, error)
      || !find_run (p, line, run, &place, error))
    return NULL;
  int index = drafting_find_node (place.piece, node, error);
  if (index < 0)
    return NULL;
  guint next = ((guint)index + 1) % place.piece->n_nodes;
  Pattern *result = drafting_bend (
      p, place.piece->id, node, t,
      geo_motion_turn (geo_motion_inverse (place.run->lay), by), error);
  int ends[2] = { end_of_node (&place, node),
                  end_of_node (&place, place.piece->nodes[next].id) };
  if (place.last - place.first == 1)
    ends[0] = place.run->reversed ? 1 : -1, ends[1] = -ends[0];
  for (int i = 0; i < 2; i++)
    if (ends[i] != 0)
      result = follow (result, line, run, ends[i], error);
  return result;
}
