/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mark: a click on an edge puts a notch there, another on the notch makes it double, triple, single
 * again; a drag slides it. Inside a piece a click puts a drill mark, a drag a buttonhole.
 * Shift strikes the notch across to the seam's other side.
 *
 * A notch is held by its distance from the nearer end of its edge. It is drawn to the edge's middle
 * and to the place that faces a notch on the seam's other side.
 */
#include <glib/gi18n.h>

#include "app/tool-private.h"
#include "geometry/walk.h"

typedef enum
{
  IDLE,
  ON_EDGE,  /* a new notch, previewed from the press on */
  ON_NOTCH, /* pressed on one: a click counts it up, a drag slides it */
  IN_PIECE, /* a drill mark, or with a drag a buttonhole */
  DEAD,
} State;

typedef struct
{
  AppTool tool;
  State state;
  AppHit hit;
  GeoPoint from;
  gboolean dragged;
  Pattern *base;
  AppSnap snap;
  guint made; /* the previewed mark */
} Mark;

static const char *
mark_hint (const AppTool *tool)
{
  const Mark *m = (const Mark *)tool;
  switch (m->state)
    {
    case ON_EDGE:
    case ON_NOTCH:
      return _ (
          "Drag to slide the notch; Shift strikes it across the seam as well");
    case IN_PIECE:
      return _ ("Let go for a drill mark, or drag on for a buttonhole");
    case IDLE:
    case DEAD:
    default:
      return _ ("Click an edge for a notch, again for more strokes; inside a "
                "piece click for a drill mark, drag for a buttonhole");
    }
}

/* --- where a notch goes ---------------------------------------------------- */

/* Places worth being drawn to, as lengths along the edge. */
typedef struct
{
  double at[12];
  const char *why[12];
  guint n;
} Places;

static void
add_place (Places *places, double at, const char *why)
{
  if (places->n == G_N_ELEMENTS (places->at))
    return;
  places->at[places->n] = at;
  places->why[places->n++] = why;
}

/* The place on the other side that is sewn to a place on one side. */
static double
walk_across (const SewingSeam *seam, int from, double at)
{
  gsize n = seam->n_intervals + 1;
  g_autofree double *here = g_new (double, n);
  g_autofree double *there = g_new (double, n);
  for (guint i = 0; i < seam->n_intervals; i++)
    {
      const SewingInterval *in = &seam->intervals[i];
      if (i == 0)
        {
          here[0] = from == 0 ? in->a_from : in->b_from;
          there[0] = from == 0 ? in->b_from : in->a_from;
        }
      here[i + 1] = from == 0 ? in->a_to : in->b_to;
      there[i + 1] = from == 0 ? in->b_to : in->a_to;
    }
  return n >= 2 ? geo_walk_map (here, there, n, at) : at;
}

/* From a length along a seam's side to one along the edge that is the run there; FALSE when that
 * length falls on another run. */
static gboolean
side_to_edge (const SewingSeam *seam, int side, guint run, double at,
              double *on_edge)
{
  double start = seam->joints[side][run], end = seam->joints[side][run + 1];
  if (at < start || at > end)
    return FALSE;
  *on_edge = seam->seam->sides[side].runs[run].reversed ? end - at : at - start;
  return TRUE;
}

static void
add_facing_places (Mark *m, const Pattern *p, Places *places)
{
  int side;
  guint run;
  const PatternSeam *seam;
  for (guint n = 0;
       (seam = pattern_edge_seam (p, m->hit.piece, m->hit.edge, n, &side, &run))
       != NULL;
       n++)
    {
      const SewingSeam *facts = sewing_facts_seam (
          app_session_get_facts (m->tool.session), p, seam);
      for (guint i = 0; facts != NULL && i < facts->n_loose; i++)
        {
          double on_edge;
          const SewingLooseNotch *loose = &facts->loose[i];
          if (loose->side != side
              && side_to_edge (facts, side, run,
                               walk_across (facts, loose->side, loose->at),
                               &on_edge))
            add_place (places, on_edge, _ ("faces the notch across the seam"));
        }
    }
}

/* The length along the edge for the pointer, drawn to a place near it. */
static double
notch_at (Mark *m, const AppPointer *p, const SewingPiece *facts, guint edge,
          const char **why)
{
  double at = app_edge_at (facts, edge, p->at);
  double length = facts->lengths[edge];
  Places places = { .n = 0 };
  *why = NULL;
  if (p->mods & APP_MOD_CTRL)
    return at;
  add_facing_places (m, m->base, &places);
  add_place (&places, length / 2, _ ("the middle"));
  double nearest = app_pointer_pull (p);
  double best = at;
  for (guint i = 0; i < places.n; i++)
    if (fabs (places.at[i] - at) < nearest)
      {
        nearest = fabs (places.at[i] - at);
        best = places.at[i];
        *why = places.why[i];
      }
  return best;
}

static void
tell_notch (Mark *m, double at, double length, const char *why)
{
  const Pattern *p = app_session_get_shown (m->tool.session);
  const PatternPiece *piece = NULL;
  const PatternEdge *edge
      = pattern_get_edge (p, m->hit.piece, m->hit.edge, &piece);
  if (edge == NULL)
    return;
  g_autofree char *name = app_edge_name (piece, edge);
  g_autofree char *a = pattern_length_format (at, p->unit, FALSE);
  g_autofree char *b = pattern_length_format (length - at, p->unit, FALSE);
  app_tool_take_tag (&m->tool,
                     why != NULL
                         ? g_strdup_printf ("%s  %s | %s\n%s", name, a, b, why)
                         : g_strdup_printf ("%s  %s | %s", name, a, b));
}

/* --- pointing -------------------------------------------------------------- */

static const SewingPiece *
facts_of_hit (Mark *m, const Pattern *p, const AppHit *hit, int *edge)
{
  const PatternPiece *piece = pattern_get_piece (p, hit->piece);
  *edge = piece != NULL ? pattern_piece_find_edge (piece, hit->edge) : -1;
  return piece != NULL ? sewing_facts_piece (
             app_session_get_facts (m->tool.session), piece)
                       : NULL;
}

static void
take_base (Mark *m)
{
  const Pattern *p = app_session_get_pattern (m->tool.session);
  if (m->base == p)
    return;
  g_clear_pointer (&m->base, pattern_unref);
  m->base = pattern_ref (p);
}

static void
mark_hover (AppTool *tool, const AppPointer *p)
{
  Mark *m = (Mark *)tool;
  if (m->state != IDLE)
    return;
  take_base (m);
  m->hit = app_hit_notch (tool->session, p->at, app_pointer_reach (p));
  if (m->hit.kind == APP_HIT_NOTHING)
    m->hit = app_hit (tool->session, p->at, app_pointer_reach (p));
  if (m->hit.kind == APP_HIT_NODE || m->hit.kind == APP_HIT_HANDLE)
    m->hit = app_hit_edge (tool->session, p->at, app_pointer_reach (p));
  AppHover hover = { 0 };
  app_tool_take_tag (tool, NULL);
  m->snap = (AppSnap){ 0 };
  int edge;
  const SewingPiece *facts = facts_of_hit (m, m->base, &m->hit, &edge);
  if (m->hit.kind == APP_HIT_MARK)
    hover = (AppHover){ .piece = m->hit.piece, .mark = m->hit.mark };
  if (m->hit.kind == APP_HIT_EDGE && facts != NULL && edge >= 0)
    {
      const char *why;
      double at = notch_at (m, p, facts, (guint)edge, &why);
      hover = (AppHover){ .piece = m->hit.piece, .edge = m->hit.edge };
      m->snap.point = geo_chain_point (
          &facts->stitch[edge], geo_ruler_place (&facts->rulers[edge], at));
      m->snap.from = m->snap.point;
      m->snap.snapped = TRUE;
      tell_notch (m, at, facts->lengths[edge], why);
    }
  else if (m->hit.kind == APP_HIT_MARK && m->hit.edge != 0 && facts != NULL
           && edge >= 0)
    tell_notch (m, m->hit.at, facts->lengths[edge], NULL);
  app_session_set_hover (tool->session, hover);
}

/* --- making ---------------------------------------------------------------- */

/* The seam a strike goes across: the picked one where the edge is in it, else its first. */
static guint
strike_seam (Mark *m, const Pattern *p, const AppHit *hit)
{
  const AppPick *pick = app_session_get_pick (m->tool.session);
  const PatternSeam *seam;
  guint found = 0;
  for (guint n = 0;
       (seam = pattern_edge_seam (p, hit->piece, hit->edge, n, NULL, NULL))
       != NULL;
       n++)
    if (found == 0 || (pick->kind == APP_PICK_SEAM && pick->ids[0] == seam->id))
      found = seam->id;
  return found;
}

/* Takes over before; with Shift the notch is struck across. */
static Pattern *
strike (Mark *m, Pattern *before, guint notch, const AppPointer *p,
        GError **error)
{
  if (before == NULL || !(p->mods & APP_MOD_SHIFT))
    return before;
  guint seam = strike_seam (m, before, &m->hit);
  if (seam == 0)
    return before;
  Pattern *after
      = drafting_strike_notch (before, seam, m->hit.piece, notch, error);
  pattern_unref (before);
  return after;
}

static Pattern *
new_notch (Mark *m, const AppPointer *p, GError **error)
{
  int edge;
  const SewingPiece *facts = facts_of_hit (m, m->base, &m->hit, &edge);
  if (facts == NULL || edge < 0)
    return NULL;
  const char *why;
  double at = notch_at (m, p, facts, (guint)edge, &why);
  double length = facts->lengths[edge];
  gboolean from_end = at > length / 2;
  Pattern *result
      = drafting_add_notch (m->base, m->hit.piece, m->hit.edge, 1,
                            from_end ? PATTERN_FROM_END : PATTERN_FROM_START,
                            from_end ? length - at : at, &m->made, error);
  tell_notch (m, at, length, why);
  return strike (m, result, m->made, p, error);
}

static Pattern *
slide_notch (Mark *m, const AppPointer *p, GError **error)
{
  int edge;
  const SewingPiece *facts = facts_of_hit (m, m->base, &m->hit, &edge);
  if (facts == NULL || edge < 0)
    return NULL;
  const char *why;
  double at = notch_at (m, p, facts, (guint)edge, &why);
  tell_notch (m, at, facts->lengths[edge], why);
  return drafting_move_notch (m->base, m->hit.piece, m->hit.mark, at, error);
}

static Pattern *
count_up (Mark *m, const AppPointer *p, GError **error)
{
  const PatternPiece *piece = pattern_get_piece (m->base, m->hit.piece);
  const PatternNotch *notch
      = piece != NULL ? pattern_piece_get_notch (piece, m->hit.mark) : NULL;
  if (notch == NULL)
    return NULL;
  if (p->mods & APP_MOD_SHIFT)
    return strike (m, pattern_ref (m->base), notch->id, p, error);
  return drafting_set_notch (m->base, m->hit.piece, notch->id,
                             notch->count % 3 + 1, notch->from, notch->amount,
                             error);
}

static GeoPoint
hole_end (Mark *m, const AppPointer *p)
{
  AppSnapLine lines[4];
  guint n = app_snap_directions (m->tool.session, m->hit.piece, m->from, lines);
  m->snap = (AppSnap){ .point = p->at };
  if (!(p->mods & APP_MOD_CTRL))
    m->snap = app_snap_lines (m->tool.session, p->at,
                              (p->mods & APP_MOD_SHIFT) ? APP_SNAP_ALWAYS
                                                        : app_pointer_pull (p),
                              lines, n, FALSE, NULL, 0);
  return m->snap.point;
}

static Pattern *
inner_mark (Mark *m, const AppPointer *p, GError **error)
{
  const Pattern *pattern = m->base;
  if (!m->dragged)
    return drafting_add_drill (pattern, m->hit.piece, m->from, &m->made, error);
  GeoPoint along = geo_sub (hole_end (m, p), m->from);
  double length = geo_norm (along);
  g_autofree char *text = pattern_length_format (length, pattern->unit, FALSE);
  app_tool_take_tag (
      &m->tool, m->snap.snapped ? g_strdup_printf (_ ("buttonhole  %s\n%s"),
                                                   text, m->snap.why)
                                : g_strdup_printf (_ ("buttonhole  %s"), text));
  return drafting_add_buttonhole (pattern, m->hit.piece, m->from,
                                  atan2 (along.y, along.x), length, &m->made,
                                  error);
}

static void
show (Mark *m, const AppPointer *p)
{
  GError *error = NULL;
  Pattern *result = NULL;
  if (m->state == ON_EDGE)
    result = new_notch (m, p, &error);
  else if (m->state == ON_NOTCH && m->dragged)
    result = slide_notch (m, p, &error);
  else if (m->state == IN_PIECE)
    result = inner_mark (m, p, &error);
  app_session_preview (m->tool.session, result, &error);
}

static void
mark_press (AppTool *tool, const AppPointer *p)
{
  Mark *m = (Mark *)tool;
  app_session_cancel (tool->session);
  m->state = IDLE;
  mark_hover (tool, p);
  take_base (m);
  m->from = p->at;
  m->dragged = FALSE;
  m->made = 0;
  app_session_set_hover (tool->session, (AppHover){ 0 });
  m->snap = (AppSnap){ 0 };
  if (m->hit.kind == APP_HIT_EDGE)
    m->state = ON_EDGE;
  else if (m->hit.kind == APP_HIT_MARK && m->hit.edge != 0)
    m->state = ON_NOTCH;
  else if (m->hit.kind == APP_HIT_PIECE)
    m->state = IN_PIECE;
  else if (m->hit.kind == APP_HIT_MARK)
    {
      app_session_pick_mark (tool->session, m->hit.piece, m->hit.mark);
      m->state = DEAD;
    }
  else
    m->state = DEAD;
  show (m, p);
}

static void
go_idle (Mark *m, State state)
{
  m->state = state;
  m->snap = (AppSnap){ 0 };
  app_tool_take_tag (&m->tool, NULL);
}

static void
mark_drag (AppTool *tool, const AppPointer *p)
{
  Mark *m = (Mark *)tool;
  if (m->state == IDLE || m->state == DEAD)
    return;
  if (m->base != app_session_get_pattern (tool->session))
    {
      /* Something else made a step meanwhile: this mark is not made. */
      app_session_cancel (tool->session);
      go_idle (m, DEAD);
      return;
    }
  if (!m->dragged && app_pointer_dragged (p, m->from))
    m->dragged = TRUE;
  show (m, p);
}

static const char *
step_label (const Mark *m)
{
  if (m->state == ON_EDGE)
    return _ ("add notch");
  if (m->state == ON_NOTCH)
    return _ ("move notch");
  return m->dragged ? _ ("add buttonhole") : _ ("add drill mark");
}

static void
mark_release (AppTool *tool, const AppPointer *p)
{
  Mark *m = (Mark *)tool;
  State was = m->state;
  mark_drag (tool, p);
  guint piece = m->hit.piece, made = m->made;
  if (m->state == ON_NOTCH && !m->dragged)
    {
      GError *error = NULL;
      Pattern *result = count_up (m, p, &error);
      gboolean struck = (p->mods & APP_MOD_SHIFT) != 0;
      if (result != NULL || error != NULL)
        app_session_do (tool->session,
                        struck ? _ ("strike notch across")
                               : _ ("change notch strokes"),
                        NULL, result, &error);
      made = m->hit.mark;
    }
  else if (m->state != IDLE && m->state != DEAD)
    app_session_commit (tool->session, step_label (m));
  if (was != IDLE && m->state != DEAD && made != 0
      && app_session_get_pick (tool->session)->kind != APP_PICK_SEAM)
    app_session_pick_mark (tool->session, piece, made);
  go_idle (m, IDLE);
}

static void
mark_leave (AppTool *tool)
{
  Mark *m = (Mark *)tool;
  if (m->state != IDLE)
    return;
  m->snap = (AppSnap){ 0 };
  app_tool_take_tag (tool, NULL);
}

/* Enter on a picked edge puts a notch at its middle, to be moved by the arrow keys; on a picked
 * notch it counts up. */
static gboolean
mark_enter (Mark *m)
{
  AppSession *s = m->tool.session;
  const AppPick *pick = app_session_get_pick (s);
  const AppPointer p = { .presses = 1 };
  GError *error = NULL;
  if (m->state != IDLE
      || (pick->kind != APP_PICK_EDGE && pick->kind != APP_PICK_MARK))
    return FALSE;
  take_base (m);
  m->hit = (AppHit){ .piece = pick->piece, .mark = pick->ids[0] };
  if (pick->kind == APP_PICK_MARK)
    {
      Pattern *result = count_up (m, &p, &error);
      if (result != NULL || error != NULL)
        app_session_do (s, _ ("change notch strokes"), NULL, result, &error);
      return TRUE;
    }
  guint piece = pick->piece, notch = 0;
  Pattern *result = drafting_add_notch (m->base, piece, pick->edge, 1,
                                        PATTERN_FRACTION, 0.5, &notch, &error);
  if (app_session_do (s, _ ("add notch"), NULL, result, &error))
    app_session_pick_mark (s, piece, notch);
  return TRUE;
}

static gboolean
mark_key (AppTool *tool, AppKey key)
{
  Mark *m = (Mark *)tool;
  if (key == APP_KEY_ENTER)
    return mark_enter (m);
  if (key != APP_KEY_ESCAPE || m->state == IDLE || m->state == DEAD)
    return FALSE;
  app_session_cancel (tool->session);
  go_idle (m, DEAD);
  return TRUE;
}

static void
mark_paint (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
            double mm_per_px)
{
  const Mark *m = (const Mark *)tool;
  if (m->state == IN_PIECE)
    app_tool_paint_snap (cr, style, &m->snap, mm_per_px);
  else if (m->snap.snapped)
    app_tool_dot (cr, style, m->snap.point, mm_per_px);
}

static GeoBox
mark_paint_box (const AppTool *tool)
{
  const Mark *m = (const Mark *)tool;
  return app_snap_box (&m->snap);
}

static gboolean
mark_is_busy (const AppTool *tool)
{
  const Mark *m = (const Mark *)tool;
  return m->state != IDLE && m->state != DEAD;
}

static void
mark_clear (AppTool *tool)
{
  g_clear_pointer (&((Mark *)tool)->base, pattern_unref);
}

const AppToolClass app_tool_mark = {
  .kind = APP_TOOL_MARK,
  .size = sizeof (Mark),
  .cursor = "crosshair",
  .hint = mark_hint,
  .clear = mark_clear,
  .hover = mark_hover,
  .press = mark_press,
  .drag = mark_drag,
  .release = mark_release,
  .leave = mark_leave,
  .key = mark_key,
  .paint = mark_paint,
  .paint_box = mark_paint_box,
  .is_busy = mark_is_busy,
};
