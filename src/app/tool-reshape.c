/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reshape: pick by a click; drag nodes, handles, edges, marks and pieces.
 *
 * What a drag on an edge does is what one would expect of it in paper: a curve is bent through the
 * pointer, a straight edge goes along as a whole, as a hem is let down. Alt does the other of the
 * two, also when it is pressed with the drag under way (many desktops take Alt with a press for
 * themselves).
 */
#include <glib/gi18n.h>

#include "app/tool-reshape.h"

static const char *
reshape_hint (const AppTool *tool)
{
  const Reshape *r = (const Reshape *)tool;
  const AppPick *pick = app_session_get_pick (r->tool.session);
  if (r->state == DRAGGING && r->hit.kind == APP_HIT_EDGE)
    return r->moves_edge
               ? _ ("The whole edge moves. Alt bends it instead, Shift keeps "
                    "direction")
               : _ ("The curve bends through the pointer. Alt moves the whole "
                    "edge instead");
  if (r->state == DRAGGING && r->hit.kind == APP_HIT_TURN)
    return _ ("Shift turns by steps of 15°, Ctrl freely; Esc takes it back");
  if (r->state == DRAGGING && r->hit.kind == APP_HIT_PICTURE)
    return _ ("Shift keeps to level and upright; Esc takes it back");
  if (r->state == DRAGGING)
    return _ ("Shift keeps to level, upright and the grain; Ctrl snaps to "
              "nothing; Esc takes it back");
  switch (pick->kind)
    {
    case APP_PICK_EDGE:
      if (app_session_get_strip_seam (r->tool.session) != 0)
        return _ ("Drag a node, a handle or the edge; double-click adds a "
                  "node; S shows its seam");
      return _ ("Drag a node, a handle or the edge; double-click adds a node");
    case APP_PICK_NODES:
      return _ ("Drag it or use the arrow keys; double-click turns corner to "
                "smooth; Delete takes it out");
    case APP_PICK_PIECES:
      return _ ("Drag to move it, the ring above it to turn it; click an edge "
                "to reshape that");
    case APP_PICK_MARK:
      return _ ("Drag it along or use the arrow keys; Delete takes it away");
    case APP_PICK_SEAM:
      return _ ("Threads join the matched marks: hanging is eased as meant, "
                "tight is out");
    case APP_PICK_PICTURE:
      return _ ("Drag the picture or use the arrow keys; Delete takes it away; "
                "lock it once it lies right");
    case APP_PICK_LINE:
    case APP_PICK_NONE:
    default:
      return _ ("Click an edge to reshape it, a piece to move it");
    }
}

static void
set_cursor (Reshape *r, const AppHit *hit)
{
  static const char *const cursors[] = {
    [APP_HIT_NOTHING] = "default", [APP_HIT_HANDLE] = "crosshair",
    [APP_HIT_NODE] = "move",       [APP_HIT_MARK] = "pointer",
    [APP_HIT_EDGE] = "pointer",    [APP_HIT_PIECE] = "default",
    [APP_HIT_LINE] = "pointer",    [APP_HIT_TURN] = "grab",
    [APP_HIT_PICTURE] = "default",
  };
  r->tool.cursor = cursors[hit->kind];
}

static void
set_hover (Reshape *r, const AppHit *hit)
{
  AppHover hover = { 0 };
  if (hit->kind != APP_HIT_NOTHING && hit->kind != APP_HIT_LINE
      && hit->kind != APP_HIT_TURN)
    hover.piece = hit->piece;
  if (hit->kind == APP_HIT_EDGE)
    hover.edge = hit->edge;
  if (hit->kind == APP_HIT_NODE)
    hover.node = hit->node;
  if (hit->kind == APP_HIT_MARK)
    hover.mark = hit->mark;
  /* A node hovered does not light its whole piece, nor does a piece that is picked. */
  if (hit->kind == APP_HIT_NODE || hit->kind == APP_HIT_HANDLE
      || (hit->kind == APP_HIT_PIECE
          && app_session_is_picked (r->tool.session, hit->piece, 0)))
    hover.piece = 0;
  app_session_set_hover (r->tool.session, hover);
}

static void
hover_tag (Reshape *r, const AppHit *hit)
{
  char *text = NULL;
  if (hit->kind == APP_HIT_EDGE)
    text = app_tag_edge (r->tool.session, hit->piece, hit->edge);
  else if (hit->kind == APP_HIT_MARK && hit->edge != 0)
    text = app_reshape_notch_tag (r->tool.session, hit);
  app_tool_take_tag (&r->tool, text);
}

static void
reshape_hover (AppTool *tool, const AppPointer *p)
{
  Reshape *r = (Reshape *)tool;
  if (r->state != IDLE)
    return;
  AppHit hit = app_reshape_hit (r, p);
  set_hover (r, &hit);
  hover_tag (r, &hit);
  set_cursor (r, &hit);
}

gboolean
app_reshape_node_is_picked (const AppPick *pick, guint node)
{
  for (guint i = 0; pick->kind == APP_PICK_NODES && i < pick->n_ids; i++)
    if (pick->ids[i] == node)
      return TRUE;
  return FALSE;
}

/* --- pressing -------------------------------------------------------------- */

static void
add_node (Reshape *r, const AppHit *hit)
{
  AppSession *s = r->tool.session;
  GError *error = NULL;
  guint node = 0;
  Pattern *result = drafting_add_node (app_session_get_pattern (s), hit->piece,
                                       hit->edge, hit->at, &node, &error);
  if (app_session_do (s, _ ("add node"), NULL, result, &error) && node != 0)
    app_session_pick_nodes (s, hit->piece, hit->edge, &node, 1);
}

/* Corner to smooth, anything else to corner. */
static void
turn_node_kind (Reshape *r, const AppHit *hit)
{
  AppSession *s = r->tool.session;
  const Pattern *p = app_session_get_pattern (s);
  const PatternPiece *piece = pattern_get_piece (p, hit->piece);
  int i = piece != NULL ? pattern_piece_find_node (piece, hit->node) : -1;
  if (i < 0)
    return;
  gboolean corner = piece->nodes[i].kind == PATTERN_NODE_CORNER;
  GError *error = NULL;
  app_session_do (
      s, corner ? _ ("make node smooth") : _ ("make node a corner"), NULL,
      drafting_set_node_kind (
          p, hit->piece, hit->node,
          corner ? PATTERN_NODE_SMOOTH : PATTERN_NODE_CORNER, &error),
      &error);
}

static void
pick_node (Reshape *r, const AppHit *hit, gboolean add)
{
  AppSession *s = r->tool.session;
  const AppPick *pick = app_session_get_pick (s);
  if (!add || pick->kind != APP_PICK_NODES)
    {
      if (!app_reshape_node_is_picked (pick, hit->node))
        app_session_pick_nodes (s, hit->piece, hit->edge, &hit->node, 1);
      return;
    }
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < pick->n_ids; i++)
    if (pick->ids[i] != hit->node)
      g_array_append_val (ids, pick->ids[i]);
  if (ids->len == pick->n_ids)
    g_array_append_val (ids, hit->node);
  app_session_pick_nodes (s, hit->piece, hit->edge, (guint *)(void *)ids->data,
                          ids->len);
}

static void
pick_pressed (Reshape *r, const AppPointer *p)
{
  AppSession *s = r->tool.session;
  const AppHit *hit = &r->hit;
  gboolean add = (p->mods & APP_MOD_SHIFT) != 0;
  switch (hit->kind)
    {
    case APP_HIT_NODE:
      r->picked_before
          = app_reshape_node_is_picked (app_session_get_pick (s), hit->node);
      pick_node (r, hit, add);
      break;
    case APP_HIT_MARK:
      app_session_pick_mark (s, hit->piece, hit->mark);
      break;
    case APP_HIT_EDGE:
      app_session_pick_edge (s, hit->piece, hit->edge);
      break;
    case APP_HIT_PIECE:
      r->picked_before = app_session_is_picked (s, hit->piece, 0);
      if (add || !r->picked_before)
        app_session_pick_piece (s, hit->piece, add);
      break;
    case APP_HIT_LINE:
      app_session_pick_line (s, hit->line);
      break;
    case APP_HIT_PICTURE:
      app_session_pick_picture (s, hit->picture);
      break;
    case APP_HIT_HANDLE:
    case APP_HIT_TURN:
    case APP_HIT_NOTHING:
    default:
      break;
    }
}

static void
reshape_press (AppTool *tool, const AppPointer *p)
{
  Reshape *r = (Reshape *)tool;
  app_session_cancel (tool->session);
  r->hit = app_reshape_hit (r, p);
  r->from = p->at;
  r->picked_before = FALSE;
  r->snap = (AppSnap){ 0 };
  r->state = PRESSED;
  if (p->presses == 2 && r->hit.kind == APP_HIT_EDGE)
    {
      add_node (r, &r->hit);
      r->state = DEAD;
    }
  else if (p->presses == 2 && r->hit.kind == APP_HIT_NODE)
    {
      turn_node_kind (r, &r->hit);
      r->state = DEAD;
    }
  else
    pick_pressed (r, p);
}

static void
go_idle (Reshape *r, ReshapeState state)
{
  r->state = state;
  r->snap = (AppSnap){ 0 };
  r->start.n = 0;
  g_clear_pointer (&r->base, pattern_unref);
  app_tool_take_tag (&r->tool, NULL);
}

static void
reshape_drag (AppTool *tool, const AppPointer *p)
{
  Reshape *r = (Reshape *)tool;
  if (r->state == PRESSED && app_pointer_dragged (p, r->from))
    app_reshape_begin (r, p);
  if (r->state == DRAGGING
      && r->base != app_session_get_pattern (tool->session))
    {
      /* Something else made a step meanwhile (an undo by key): this drag is over. */
      app_session_cancel (tool->session);
      go_idle (r, DEAD);
    }
  if (r->state == DRAGGING)
    app_reshape_show (r, p);
  r->band = p->at;
}

/* --- letting go ------------------------------------------------------------ */

static const char *
step_label (const Reshape *r)
{
  const AppPick *pick = app_session_get_pick (r->tool.session);
  switch (r->hit.kind)
    {
    case APP_HIT_NODE:
      return ngettext ("move node", "move nodes", pick->n_ids);
    case APP_HIT_HANDLE:
      return _ ("turn handle");
    case APP_HIT_EDGE:
      return r->moves_edge ? _ ("move edge") : _ ("bend edge");
    case APP_HIT_MARK:
      return _ ("move mark");
    case APP_HIT_PICTURE:
      return _ ("move a picture");
    case APP_HIT_TURN:
      return ngettext ("turn piece", "turn pieces", pick->n_ids);
    case APP_HIT_PIECE:
    case APP_HIT_NOTHING:
    case APP_HIT_LINE:
    default:
      return ngettext ("move piece", "move pieces", pick->n_ids);
    }
}

static GeoBox
band_box (const Reshape *r)
{
  return geo_box_add (geo_box_add (geo_box_empty (), r->from), r->band);
}

static gboolean
holds (GeoBox outer, GeoPoint p)
{
  return p.x >= outer.x0 && p.x <= outer.x1 && p.y >= outer.y0
         && p.y <= outer.y1;
}

/* Nodes of the active edge, where there is one with nodes inside; else whole pieces. */
static gboolean
pick_band_nodes (Reshape *r, GeoBox box)
{
  const PatternPiece *piece;
  guint edge;
  if (!app_active_edge (r->tool.session, &piece, &edge))
    return FALSE;
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  guint last = pattern_piece_edge_last (piece, edge);
  for (guint i = piece->edges[edge].first; i <= last; i++)
    if (holds (box, piece->nodes[i % piece->n_nodes].at))
      g_array_append_val (ids, piece->nodes[i % piece->n_nodes].id);
  if (ids->len > 0)
    app_session_pick_nodes (r->tool.session, piece->id, piece->edges[edge].id,
                            (guint *)(void *)ids->data, ids->len);
  return ids->len > 0;
}

static void
pick_band (Reshape *r, gboolean add)
{
  AppSession *s = r->tool.session;
  GeoBox box = band_box (r);
  if (pick_band_nodes (r, box))
    return;
  const Pattern *p = app_session_get_shown (s);
  if (!add)
    app_session_pick_none (s);
  for (guint i = 0; i < p->n_pieces; i++)
    {
      const SewingPiece *facts
          = sewing_facts_piece (app_session_get_facts (s), p->pieces[i]);
      if (facts != NULL
          && holds (box, geo_point (facts->bounds.x0, facts->bounds.y0))
          && holds (box, geo_point (facts->bounds.x1, facts->bounds.y1))
          && !(app_session_get_pick (s)->kind == APP_PICK_PIECES
               && app_session_is_picked (s, p->pieces[i]->id, 0)))
        app_session_pick_piece (s, p->pieces[i]->id, TRUE);
    }
}

/* A click: what was pressed on and picked before among others is now picked alone. */
static void
click (Reshape *r, const AppPointer *p)
{
  AppSession *s = r->tool.session;
  if (r->hit.kind == APP_HIT_NOTHING)
    app_session_pick_none (s);
  else if (r->hit.kind == APP_HIT_HANDLE)
    app_session_pick_nodes (s, r->hit.piece, r->hit.edge, &r->hit.node, 1);
  else if (p->mods & APP_MOD_SHIFT || !r->picked_before)
    return;
  else if (r->hit.kind == APP_HIT_NODE)
    app_session_pick_nodes (s, r->hit.piece, r->hit.edge, &r->hit.node, 1);
  else if (r->hit.kind == APP_HIT_PIECE)
    app_session_pick_piece (s, r->hit.piece, FALSE);
}

static void
reshape_release (AppTool *tool, const AppPointer *p)
{
  Reshape *r = (Reshape *)tool;
  r->band = p->at;
  if (r->state == DRAGGING)
    {
      reshape_drag (tool, p);
      if (r->state == DRAGGING)
        app_session_commit (tool->session, step_label (r));
    }
  else if (r->state == BAND)
    pick_band (r, (p->mods & APP_MOD_SHIFT) != 0);
  else if (r->state == PRESSED)
    click (r, p);
  go_idle (r, IDLE);
  reshape_hover (tool, p);
}

static void
reshape_leave (AppTool *tool)
{
  Reshape *r = (Reshape *)tool;
  if (r->state == IDLE)
    app_tool_take_tag (tool, NULL);
}

static gboolean
reshape_key (AppTool *tool, AppKey key)
{
  Reshape *r = (Reshape *)tool;
  if (key != APP_KEY_ESCAPE || r->state == IDLE || r->state == DEAD)
    return FALSE;
  app_session_cancel (tool->session);
  go_idle (r, DEAD);
  return TRUE;
}

/* --- painting -------------------------------------------------------------- */

static void
reshape_paint (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
               double mm_per_px)
{
  const Reshape *r = (const Reshape *)tool;
  if (r->state == DRAGGING)
    app_tool_paint_snap (cr, style, &r->snap, mm_per_px);
  if (r->state != BAND)
    return;
  GeoBox box = band_box (r);
  double dashes[] = { 5 * mm_per_px, 4 * mm_per_px };
  cairo_rectangle (cr, box.x0, box.y0, box.x1 - box.x0, box.y1 - box.y0);
  cairo_set_source_rgba (cr, style->lit.r, style->lit.g, style->lit.b, 0.08);
  cairo_fill_preserve (cr);
  cairo_set_dash (cr, dashes, 2, 0);
  app_tool_stroke (cr, style, mm_per_px, 1.2);
}

static GeoBox
reshape_paint_box (const AppTool *tool)
{
  const Reshape *r = (const Reshape *)tool;
  if (r->state == BAND)
    return band_box (r);
  return r->state == DRAGGING ? app_snap_box (&r->snap) : geo_box_empty ();
}

static gboolean
reshape_is_busy (const AppTool *tool)
{
  const Reshape *r = (const Reshape *)tool;
  return r->state == PRESSED || r->state == DRAGGING || r->state == BAND;
}

static void
reshape_clear (AppTool *tool)
{
  g_clear_pointer (&((Reshape *)tool)->base, pattern_unref);
}

const AppToolClass app_tool_reshape = {
  .kind = APP_TOOL_RESHAPE,
  .size = sizeof (Reshape),
  .cursor = "default",
  .hint = reshape_hint,
  .clear = reshape_clear,
  .hover = reshape_hover,
  .press = reshape_press,
  .drag = reshape_drag,
  .release = reshape_release,
  .leave = reshape_leave,
  .key = reshape_key,
  .paint = reshape_paint,
  .paint_box = reshape_paint_box,
  .is_busy = reshape_is_busy,
};
