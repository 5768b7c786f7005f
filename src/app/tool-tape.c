/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tape: a drag measures straight; a click on an edge measures along it from there. Nothing in the
 * pattern changes. */
#include <glib/gi18n.h>

#include "app/tool-private.h"

typedef enum
{
  NOTHING,
  STRAIGHT,
  ALONG, /* from a place on an edge to the place nearest the pointer on it */
} Measure;

typedef struct
{
  AppTool tool;
  Measure measure;
  gboolean running; /* follows the pointer still */
  gboolean pressed;
  gboolean ended; /* this press put the tape's end down */
  GeoPoint press;
  AppHit press_hit;
  GeoPoint a, b;
  guint piece, edge;
  double from, to; /* along the edge */
  AppSnap snap;
} Tape;

static const char *
tape_hint (const AppTool *tool)
{
  const Tape *t = (const Tape *)tool;
  if (t->measure == ALONG && t->running)
    return _ ("Click again on the edge where the tape ends");
  return _ ("Drag to measure straight; click an edge to measure along it. "
            "Ctrl leaves out snapping");
}

static const SewingPiece *
facts_of (const Tape *t, int *edge)
{
  AppSession *s = t->tool.session;
  const PatternPiece *piece
      = pattern_get_piece (app_session_get_shown (s), t->piece);
  *edge = piece != NULL ? pattern_piece_find_edge (piece, t->edge) : -1;
  return *edge >= 0 ? sewing_facts_piece (app_session_get_facts (s), piece)
                    : NULL;
}

/* Nodes first, then lines, then the nearest edge. */
static GeoPoint
place (Tape *t, const AppPointer *p, const GeoPoint *anchor)
{
  GeoPoint at = app_pointer_snap (t->tool.session, p, anchor, &t->snap);
  if (t->snap.snapped || (p->mods & APP_MOD_CTRL))
    return at;
  AppHit hit = app_hit_edge (t->tool.session, p->at, app_pointer_reach (p));
  if (hit.kind == APP_HIT_EDGE)
    t->snap = (AppSnap){ .point = hit.point,
                         .snapped = TRUE,
                         .from = hit.point,
                         .why = _ ("on the stitch line") };
  return hit.kind == APP_HIT_EDGE ? hit.point : p->at;
}

static void
tell_straight (Tape *t)
{
  PatternUnit unit = app_session_get_shown (t->tool.session)->unit;
  g_autofree char *length
      = pattern_length_format (geo_distance (t->a, t->b), unit, FALSE);
  g_autofree char *across
      = pattern_length_format (fabs (t->b.x - t->a.x), unit, FALSE);
  g_autofree char *down
      = pattern_length_format (fabs (t->b.y - t->a.y), unit, FALSE);
  g_autofree char *text = g_strdup_printf (
      _ ("straight  %s\nacross  %s\ndown  %s"), length, across, down);
  app_tool_take_tag (&t->tool,
                     t->snap.snapped && t->snap.why != NULL && t->running
                         ? g_strdup_printf ("%s\n%s", text, t->snap.why)
                         : g_strdup (text));
}

static void
tell_along (Tape *t)
{
  int e;
  const SewingPiece *facts = facts_of (t, &e);
  if (facts == NULL)
    {
      app_tool_take_tag (&t->tool, NULL);
      return;
    }
  PatternUnit unit = app_session_get_shown (t->tool.session)->unit;
  g_autofree char *whole = app_tag_edge (t->tool.session, t->piece, t->edge);
  g_autofree char *part
      = pattern_length_format (fabs (t->to - t->from), unit, FALSE);
  app_tool_take_tag (
      &t->tool, g_strdup_printf (_ ("along the edge  %s\n%s"), part, whole));
}

static void
hover_edge (Tape *t, const AppPointer *p)
{
  AppHit hit = app_hit_edge (t->tool.session, p->at, app_pointer_reach (p));
  AppHover hover = { 0 };
  char *text = NULL;
  if (hit.kind == APP_HIT_EDGE)
    {
      hover = (AppHover){ .piece = hit.piece, .edge = hit.edge };
      text = app_tag_edge (t->tool.session, hit.piece, hit.edge);
    }
  app_session_set_hover (t->tool.session, hover);
  /* What was measured is told until the next measure is begun. */
  if (t->measure == NOTHING)
    app_tool_take_tag (&t->tool, text);
  else
    g_free (text);
}

static void
tape_hover (AppTool *tool, const AppPointer *p)
{
  Tape *t = (Tape *)tool;
  int e;
  const SewingPiece *facts = facts_of (t, &e);
  if (t->measure == ALONG && t->running && facts != NULL)
    {
      t->to = app_edge_at (facts, (guint)e, p->at);
      tell_along (t);
    }
  else
    {
      hover_edge (t, p);
      if (t->measure == STRAIGHT)
        tell_straight (t);
      else if (t->measure == ALONG)
        tell_along (t);
    }
}

static void
tape_press (AppTool *tool, const AppPointer *p)
{
  Tape *t = (Tape *)tool;
  t->press = p->at;
  t->pressed = TRUE;
  t->press_hit = app_hit_edge (tool->session, p->at, app_pointer_reach (p));
  t->ended = t->measure == ALONG && t->running;
  if (t->ended)
    {
      tape_hover (tool, p);
      t->running = FALSE;
      return;
    }
  t->measure = NOTHING;
  t->a = place (t, p, NULL);
}

static void
tape_drag (AppTool *tool, const AppPointer *p)
{
  Tape *t = (Tape *)tool;
  if (!t->pressed || t->ended)
    return;
  if (t->measure == NOTHING && app_pointer_dragged (p, t->press))
    {
      t->measure = STRAIGHT;
      t->running = TRUE;
      app_session_set_hover (tool->session, (AppHover){ 0 });
    }
  if (t->measure != STRAIGHT)
    return;
  t->b = place (t, p, &t->a);
  tell_straight (t);
}

static void
tape_release (AppTool *tool, const AppPointer *p)
{
  Tape *t = (Tape *)tool;
  tape_drag (tool, p);
  t->pressed = FALSE;
  t->snap = (AppSnap){ 0 };
  if (t->measure == STRAIGHT)
    {
      t->running = FALSE;
      tell_straight (t);
    }
  else if (t->ended)
    tell_along (t);
  else if (t->press_hit.kind == APP_HIT_EDGE)
    {
      t->measure = ALONG;
      t->running = TRUE;
      t->piece = t->press_hit.piece;
      t->edge = t->press_hit.edge;
      t->from = t->to = t->press_hit.at;
      tell_along (t);
    }
  t->ended = FALSE;
}

static void
tape_leave (AppTool *tool)
{
  app_tool_take_tag (tool, NULL);
}

static gboolean
tape_key (AppTool *tool, AppKey key)
{
  Tape *t = (Tape *)tool;
  if (key != APP_KEY_ESCAPE || t->measure == NOTHING)
    return FALSE;
  t->measure = NOTHING;
  t->running = t->pressed = FALSE;
  t->snap = (AppSnap){ 0 };
  app_tool_take_tag (tool, NULL);
  return TRUE;
}

static void
along_chain (const Tape *t, GeoChain *chain)
{
  int e;
  const SewingPiece *facts = facts_of (t, &e);
  if (facts == NULL)
    return;
  geo_chain_slice (&facts->stitch[e],
                   geo_ruler_place (&facts->rulers[e], fmin (t->from, t->to)),
                   geo_ruler_place (&facts->rulers[e], fmax (t->from, t->to)),
                   chain);
}

/* Strokes across the tape at its ends, as on a drawing's measure line. */
static void
end_stroke (cairo_t *cr, GeoPoint at, GeoPoint along, double mm_per_px)
{
  GeoPoint across = geo_scale (geo_left (geo_unit (along)), 7 * mm_per_px);
  cairo_move_to (cr, at.x - across.x, at.y - across.y);
  cairo_line_to (cr, at.x + across.x, at.y + across.y);
}

static void
tape_paint (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
            double mm_per_px)
{
  const Tape *t = (const Tape *)tool;
  if (t->measure == STRAIGHT)
    {
      GeoPoint along = geo_sub (t->b, t->a);
      cairo_move_to (cr, t->a.x, t->a.y);
      cairo_line_to (cr, t->b.x, t->b.y);
      end_stroke (cr, t->a, along, mm_per_px);
      end_stroke (cr, t->b, along, mm_per_px);
      app_tool_stroke (cr, style, mm_per_px, 2);
    }
  else if (t->measure == ALONG)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      along_chain (t, &chain);
      if (chain.count > 0)
        {
          drawing_path_chain (cr, &chain);
          app_tool_stroke (cr, style, mm_per_px, 4);
          app_tool_dot (cr, style, geo_chain_start (&chain), mm_per_px);
          app_tool_dot (cr, style, geo_chain_end (&chain), mm_per_px);
        }
      geo_chain_clear (&chain);
    }
  if (t->pressed)
    app_tool_paint_snap (cr, style, &t->snap, mm_per_px);
}

static GeoBox
tape_paint_box (const AppTool *tool)
{
  const Tape *t = (const Tape *)tool;
  GeoBox box = app_snap_box (&t->snap);
  if (t->measure == STRAIGHT)
    box = geo_box_add (geo_box_add (box, t->a), t->b);
  if (t->measure == ALONG)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      along_chain (t, &chain);
      box = geo_box_join (box, geo_chain_bounds (&chain));
      geo_chain_clear (&chain);
    }
  return box;
}

static gboolean
tape_is_busy (const AppTool *tool)
{
  return ((const Tape *)tool)->measure != NOTHING;
}

const AppToolClass app_tool_tape = {
  .kind = APP_TOOL_TAPE,
  .size = sizeof (Tape),
  .cursor = "crosshair",
  .hint = tape_hint,
  .hover = tape_hover,
  .press = tape_press,
  .drag = tape_drag,
  .release = tape_release,
  .leave = tape_leave,
  .key = tape_key,
  .paint = tape_paint,
  .paint_box = tape_paint_box,
  .is_busy = tape_is_busy,
};
