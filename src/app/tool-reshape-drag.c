/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a drag with the reshape tool makes of the pattern. */
#include <glib/gi18n.h>

#include "app/tool-reshape.h"

char *
app_reshape_notch_tag (AppSession *session, const AppHit *hit)
{
  const Pattern *p = app_session_get_shown (session);
  const PatternPiece *piece = NULL;
  const PatternEdge *edge = pattern_get_edge (p, hit->piece, hit->edge, &piece);
  const PatternNotch *notch
      = edge != NULL ? pattern_piece_get_notch (piece, hit->mark) : NULL;
  if (notch == NULL)
    return NULL;
  const SewingPiece *facts
      = sewing_facts_piece (app_session_get_facts (session), piece);
  double length = facts->lengths[edge - piece->edges];
  double at = pattern_notch_place (notch, length);
  g_autofree char *name = app_edge_name (piece, edge);
  g_autofree char *a = pattern_length_format (at, p->unit, FALSE);
  g_autofree char *b = pattern_length_format (length - at, p->unit, FALSE);
  /* Translators: edge, then how far the notch lies from its two ends */
  return g_strdup_printf (_ ("notch on %s  %s | %s"), name, a, b);
}

/* --- dragging -------------------------------------------------------------- */

static const PatternPiece *
base_piece (const Reshape *r)
{
  return pattern_get_piece (r->base, r->hit.piece);
}

/* Whose lengths the tag tells: the edge held first. A bend or a handle changes no other. */
static void
remember_edges (Reshape *r)
{
  AppSession *s = r->tool.session;
  r->start.n = 0;
  if (r->hit.kind == APP_HIT_HANDLE
      || (r->hit.kind == APP_HIT_EDGE && !r->moves_edge))
    app_tag_start_edge (&r->start, s, r->hit.piece, r->hit.edge);
  else if (r->hit.kind == APP_HIT_NODE || r->hit.kind == APP_HIT_EDGE)
    app_tag_start_pick (&r->start, s);
}

static gboolean
edge_side_is_straight (const Reshape *r)
{
  const PatternPiece *piece = base_piece (r);
  int node
      = piece != NULL ? pattern_piece_find_node (piece, r->hit.cubic_node) : -1;
  if (node < 0)
    return FALSE;
  GeoCubic c = pattern_piece_cubic (piece, (guint)node);
  return geo_cubic_is_straight (&c, 0.01);
}

void
app_reshape_begin (Reshape *r, const AppPointer *p)
{
  AppSession *s = r->tool.session;
  r->state = r->hit.kind == APP_HIT_NOTHING || r->hit.kind == APP_HIT_LINE
                 ? BAND
                 : DRAGGING;
  g_clear_pointer (&r->base, pattern_unref);
  r->base = pattern_ref (app_session_get_pattern (s));
  r->offset = geo_sub (r->hit.point, r->from);
  if (r->hit.kind == APP_HIT_NODE)
    /* Shift with the press may have let go of the node that is now dragged. */
    if (!app_reshape_node_is_picked (app_session_get_pick (s), r->hit.node))
      app_session_pick_nodes (s, r->hit.piece, r->hit.edge, &r->hit.node, 1);
  r->moves_edge = r->hit.kind == APP_HIT_EDGE
                  && edge_side_is_straight (r) != !!(p->mods & APP_MOD_ALT);
  GeoPoint at;
  if (!app_turn_handle (s, p->mm_per_px, &r->centre, &at))
    r->centre = r->hit.point;
  app_session_set_hover (s, (AppHover){ 0 });
  remember_edges (r);
}

/* Lines a node may be drawn onto: where it lay, and its neighbours. */
static guint
node_lines (Reshape *r, AppSnapLine *lines)
{
  const PatternPiece *piece = base_piece (r);
  int i = piece != NULL ? pattern_piece_find_node (piece, r->hit.node) : -1;
  guint n = app_snap_directions (r->tool.session, r->hit.piece, r->hit.point,
                                 lines);
  if (i < 0)
    return n;
  for (guint by = 1; by < piece->n_nodes && by <= piece->n_nodes - 1;
       by += MAX (piece->n_nodes - 2, 1))
    n += app_snap_directions (r->tool.session, r->hit.piece,
                              piece->nodes[((guint)i + by) % piece->n_nodes].at,
                              lines + n);
  return n;
}

/* Directions a handle may take: level, upright, the grain, and square to or in line with what
 * comes from the node's other side: square at a fold is how a neckline runs on. */
static guint
handle_lines (Reshape *r, AppSnapLine *lines)
{
  const PatternPiece *piece = base_piece (r);
  int i = piece != NULL ? pattern_piece_find_node (piece, r->hit.node) : -1;
  if (i < 0)
    return 0;
  GeoPoint at = piece->nodes[i].at;
  guint n = app_snap_directions (r->tool.session, r->hit.piece, at, lines);
  guint other = r->hit.handle == DRAFTING_HANDLE_OUT
                    ? ((guint)i + piece->n_nodes - 1) % piece->n_nodes
                    : (guint)i;
  GeoCubic c = pattern_piece_cubic (piece, other);
  GeoPoint along
      = geo_cubic_tangent (&c, r->hit.handle == DRAFTING_HANDLE_OUT ? 1 : 0);
  if (geo_same (along, geo_point (0, 0)))
    return n;
  lines[n++] = (AppSnapLine){ at, along, _ ("runs on") };
  lines[n++]
      = (AppSnapLine){ at, geo_left (along), _ ("square to the next edge") };
  return n;
}

static GeoPoint
snapped (Reshape *r, const AppPointer *p, GeoPoint at, const AppSnapLine *lines,
         guint n, gboolean nodes)
{
  r->snap = (AppSnap){ .point = at };
  r->pull = app_pointer_pull (p);
  if (p->mods & APP_MOD_CTRL)
    return at;
  const AppPick *pick = app_session_get_pick (r->tool.session);
  gboolean several = pick->kind == APP_PICK_NODES;
  /* Shift: onto the nearest line however far it is. */
  gboolean kept = (p->mods & APP_MOD_SHIFT) != 0;
  r->snap = app_snap_lines (r->tool.session, at,
                            kept ? APP_SNAP_ALWAYS : r->pull, lines, n,
                            nodes && !kept, several ? pick->ids : &r->hit.node,
                            several ? pick->n_ids : 1);
  return r->snap.point;
}

static Pattern *
drag_node (Reshape *r, const AppPointer *p, GError **error)
{
  AppSnapLine lines[12];
  const AppPick *pick = app_session_get_pick (r->tool.session);
  gboolean kept = (p->mods & APP_MOD_SHIFT) != 0;
  guint n = kept ? app_snap_directions (r->tool.session, r->hit.piece,
                                        r->hit.point, lines)
                 : node_lines (r, lines);
  GeoPoint to = snapped (r, p, geo_add (p->at, r->offset), lines, n, TRUE);
  return drafting_move_nodes (r->base, r->hit.piece, pick->ids, pick->n_ids,
                              geo_sub (to, r->hit.point), error);
}

static Pattern *
drag_handle (Reshape *r, const AppPointer *p, GError **error)
{
  AppSnapLine lines[6];
  guint n = handle_lines (r, lines);
  GeoPoint to = snapped (r, p, geo_add (p->at, r->offset), lines, n, FALSE);
  return drafting_set_handle (r->base, r->hit.piece, r->hit.node, r->hit.handle,
                              to, error);
}

static Pattern *
drag_edge (Reshape *r, const AppPointer *p, GError **error)
{
  gboolean moves = edge_side_is_straight (r) != !!(p->mods & APP_MOD_ALT);
  if (moves != r->moves_edge)
    {
      r->moves_edge = moves;
      app_session_cancel (r->tool.session);
      remember_edges (r);
    }
  GeoPoint to = geo_add (p->at, r->offset);
  r->snap = (AppSnap){ .point = to };
  if (!moves)
    /* Close to a node the handle there would have to fly off for the curve to follow. */
    return drafting_bend (r->base, r->hit.piece, r->hit.cubic_node,
                          CLAMP (r->hit.t, 0.12, 0.88),
                          geo_sub (to, r->hit.point), error);
  AppSnapLine lines[4];
  guint n = app_snap_directions (r->tool.session, r->hit.piece, r->hit.point,
                                 lines);
  to = snapped (r, p, to, lines, n, FALSE);
  return drafting_move_edge (r->base, r->hit.piece, r->hit.edge,
                             geo_sub (to, r->hit.point), error);
}

static Pattern *
drag_piece (Reshape *r, const AppPointer *p, GError **error)
{
  AppSnapLine lines[4];
  const AppPick *pick = app_session_get_pick (r->tool.session);
  guint n = app_snap_directions (r->tool.session, 0, r->from, lines);
  GeoPoint by = geo_sub (snapped (r, p, p->at, lines, n, FALSE), r->from);
  if (pick->kind != APP_PICK_PIECES)
    return NULL;
  return drafting_move_pieces (r->base, pick->ids, pick->n_ids,
                               (GeoMotion){ 1, 0, by.x, by.y, false }, error);
}

AppHit
app_reshape_hit (Reshape *r, const AppPointer *p)
{
  GeoPoint centre, at;
  if (app_turn_handle (r->tool.session, p->mm_per_px, &centre, &at)
      && geo_distance (at, p->at) <= app_pointer_reach (p))
    return (AppHit){ .kind = APP_HIT_TURN, .point = at };
  AppHit hit = app_hit (r->tool.session, p->at, app_pointer_reach (p));
  return hit.kind == APP_HIT_NOTHING ? app_hit_picture (r->tool.session, p->at)
                                     : hit;
}

/* What is missing from an angle to the nearest whole number of steps. */
static double
to_step (double angle, double step)
{
  return round (angle / step) * step - angle;
}

/* To the turn that brings a picked piece's grain upright or level, else to steps of 15 degrees. */
static double
snap_turn (Reshape *r, const AppPointer *p, double angle)
{
  const double near = 2.5 * G_PI / 180, step = G_PI / 12;
  const AppPick *pick = app_session_get_pick (r->tool.session);
  const PatternPiece *piece = pattern_get_piece (r->base, pick->ids[0]);
  r->why_turn = NULL;
  if (p->mods & APP_MOD_CTRL)
    return angle;
  if (piece != NULL && piece->has_grain)
    {
      GeoPoint grain = geo_sub (piece->grain_to, piece->grain_from);
      double turned = atan2 (grain.y, grain.x) + angle;
      double more = to_step (turned, G_PI / 2);
      if (fabs (more) < near)
        {
          r->why_turn = fabs (cos (turned + more)) < 0.5 ? _ ("grain upright")
                                                         : _ ("grain level");
          return angle + more;
        }
    }
  double more = to_step (angle, step);
  return (p->mods & APP_MOD_SHIFT) || fabs (more) < near ? angle + more : angle;
}

static Pattern *
drag_turn (Reshape *r, const AppPointer *p, GError **error)
{
  const AppPick *pick = app_session_get_pick (r->tool.session);
  if (pick->kind != APP_PICK_PIECES)
    return NULL;
  GeoPoint o = r->centre;
  double angle
      = snap_turn (r, p,
                   geo_angle_between (geo_sub (r->hit.point, o),
                                      geo_sub (geo_add (p->at, r->offset), o)));
  double c = cos (angle), s = sin (angle);
  r->turned = angle;
  return drafting_move_pieces (r->base, pick->ids, pick->n_ids,
                               (GeoMotion){ c, s, o.x - c * o.x + s * o.y,
                                            o.y - s * o.x - c * o.y, false },
                               error);
}

static char *
turn_tag (const Reshape *r)
{
  double degrees = fabs (r->turned) * 180 / G_PI;
  g_autofree char *text = g_strdup_printf (
      r->turned < 0 ? _ ("anticlockwise  %.1f°") : _ ("clockwise  %.1f°"),
      degrees);
  return r->why_turn != NULL ? g_strdup_printf ("%s\n%s", text, r->why_turn)
                             : g_steal_pointer (&text);
}

static Pattern *
drag_mark (Reshape *r, const AppPointer *p, GError **error)
{
  const PatternPiece *piece = base_piece (r);
  if (piece == NULL)
    return NULL;
  if (r->hit.edge != 0)
    {
      const SewingPiece *facts
          = sewing_facts_piece (app_session_get_facts (r->tool.session), piece);
      int e = pattern_piece_find_edge (piece, r->hit.edge);
      if (e < 0)
        return NULL;
      double at = app_edge_at (facts, (guint)e, p->at);
      return drafting_move_notch (r->base, r->hit.piece, r->hit.mark, at,
                                  error);
    }
  AppSnapLine lines[4];
  guint n = app_snap_directions (r->tool.session, r->hit.piece, r->from, lines);
  GeoPoint to = snapped (r, p, p->at, lines, n, FALSE);
  return drafting_move_mark (r->base, r->hit.piece, r->hit.mark,
                             geo_sub (to, r->from), error);
}

/* Shift: level or upright, whichever is the more. */
static Pattern *
drag_picture (Reshape *r, const AppPointer *p, GError **error)
{
  GeoPoint by = geo_sub (p->at, r->from);
  if (p->mods & APP_MOD_SHIFT)
    by = fabs (by.x) > fabs (by.y) ? geo_point (by.x, 0) : geo_point (0, by.y);
  return drafting_move_picture (r->base, r->hit.picture, by, 0, error);
}

static void
drag_tag (Reshape *r)
{
  AppSession *s = r->tool.session;
  char *text = NULL;
  if (r->hit.kind == APP_HIT_MARK && r->hit.edge != 0)
    text = app_reshape_notch_tag (s, &r->hit);
  else if (r->hit.kind == APP_HIT_TURN)
    text = turn_tag (r);
  else if (r->hit.kind != APP_HIT_PIECE && r->hit.kind != APP_HIT_MARK
           && r->hit.kind != APP_HIT_PICTURE)
    text = app_tag_changes (&r->start, s);
  if (r->snap.snapped && r->snap.why != NULL)
    {
      char *longer
          = r->snap.twice
                ? g_strdup_printf ("%s%s%s, %s", text != NULL ? text : "",
                                   text != NULL ? "\n" : "", r->snap.why,
                                   r->snap.why2)
                : g_strdup_printf ("%s%s%s", text != NULL ? text : "",
                                   text != NULL ? "\n" : "", r->snap.why);
      g_free (text);
      text = longer;
    }
  app_tool_take_tag (&r->tool, text);
}

void
app_reshape_show (Reshape *r, const AppPointer *p)
{
  GError *error = NULL;
  Pattern *result = NULL;
  switch (r->hit.kind)
    {
    case APP_HIT_NODE:
      result = drag_node (r, p, &error);
      break;
    case APP_HIT_HANDLE:
      result = drag_handle (r, p, &error);
      break;
    case APP_HIT_EDGE:
      result = drag_edge (r, p, &error);
      break;
    case APP_HIT_PIECE:
      result = drag_piece (r, p, &error);
      break;
    case APP_HIT_MARK:
      result = drag_mark (r, p, &error);
      break;
    case APP_HIT_TURN:
      result = drag_turn (r, p, &error);
      break;
    case APP_HIT_PICTURE:
      result = drag_picture (r, p, &error);
      break;
    case APP_HIT_NOTHING:
    case APP_HIT_LINE:
    default:
      break;
    }
  app_session_preview (r->tool.session, result, &error);
  drag_tag (r);
}
