/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draw: a new outline, node by node. A click is a corner, a drag a smooth node with its handles; the
 * first node, or Enter, closes it. A number typed is how far the next corner lies from the last one,
 * in a straight line, towards the pointer or at the angle typed after it. */
#include <glib/gi18n.h>

#include "app/tool-private.h"
#include "app/tool-typed.h"

/* Allowance every edge of a new piece starts with, mm. */
static const double first_allowance = 10;

typedef struct
{
  AppTool tool;
  GArray *nodes; /* PatternNode */
  gboolean pressed;
  gboolean closing; /* pressed on the first node */
  GeoPoint from;    /* where it was pressed */
  GeoPoint pointer;
  AppSnap snap;
  AppTyped typed;
} Draw;

/* A corner typed this near the first one is meant to be it, mm. */
static const double closes_within = 0.05;

static PatternNode *
node_at (const Draw *d, guint i)
{
  return &g_array_index (d->nodes, PatternNode, i);
}

static const char *
draw_hint (const AppTool *tool)
{
  const Draw *d = (const Draw *)tool;
  if (d->nodes->len == 0)
    return _ ("Click where the outline begins: a click makes a corner, a drag "
              "a curve");
  if (app_typed_is_open (&d->typed))
    return _ ("Enter sets the corner; point or press an arrow for its "
              "direction, or Tab and an angle. Esc leaves it");
  if (d->nodes->len < 3)
    return _ ("Click for the next corner, drag for a curve, or type how far. "
              "Shift keeps level or upright");
  return _ ("Close it: click the first node or press Enter. Backspace takes "
            "one back, Esc leaves");
}

static void
draw_start (AppTool *tool)
{
  Draw *d = (Draw *)tool;
  d->nodes = g_array_new (FALSE, TRUE, sizeof (PatternNode));
}

static void
draw_clear (AppTool *tool)
{
  g_array_unref (((Draw *)tool)->nodes);
  app_typed_close (&((Draw *)tool)->typed);
}

static gboolean
over_first (const Draw *d, const AppPointer *p)
{
  return d->nodes->len >= 2
         && geo_distance (node_at (d, 0)->at, p->at) <= app_pointer_reach (p);
}

/* Own nodes come first, then the pattern's, then level and upright of the last and the
 * first node. */
static GeoPoint
place_node (Draw *d, const AppPointer *p)
{
  d->snap = (AppSnap){ .point = p->at };
  guint n = d->nodes->len;
  if (p->mods & APP_MOD_CTRL)
    return p->at;
  AppSnapLine lines[6];
  guint n_lines = 0;
  gboolean kept = (p->mods & APP_MOD_SHIFT) != 0 && n > 0;
  if (n > 0)
    n_lines += app_snap_directions (d->tool.session, 0, node_at (d, n - 1)->at,
                                    lines);
  if (kept)
    for (int sign = -1; sign <= 1; sign += 2)
      lines[n_lines++] = (AppSnapLine){ node_at (d, n - 1)->at,
                                        { M_SQRT1_2, sign * M_SQRT1_2 },
                                        _ ("half-way, 45°") };
  else if (n > 1)
    n_lines += app_snap_directions (d->tool.session, 0, node_at (d, 0)->at,
                                    lines + n_lines);
  d->snap = app_snap_lines (d->tool.session, p->at,
                            kept ? APP_SNAP_ALWAYS : app_pointer_pull (p),
                            lines, n_lines, !kept, NULL, 0);
  return d->snap.point;
}

/* --- typed ----------------------------------------------------------------- */

/* Where the corner comes to lie that is typed; FALSE where it can't be told, with error set. */
static gboolean
typed_corner (const Draw *d, GeoPoint *to, GError **error)
{
  PatternUnit unit = app_session_get_shown (d->tool.session)->unit;
  double length, angle;
  if (!app_typed_read (&d->typed, unit, &length, &angle, error))
    return FALSE;
  GeoPoint from = node_at (d, d->nodes->len - 1)->at;
  GeoPoint way = isnan (angle) ? geo_unit (geo_sub (d->pointer, from))
                               : geo_point (cos (angle), sin (angle));
  if (way.x == 0 && way.y == 0)
    {
      g_set_error (error, PATTERN_LENGTH_ERROR, PATTERN_LENGTH_ERROR_RANGE,
                   _ ("Point to where the side goes, press an arrow key, or "
                      "press Tab and type its angle."));
      return FALSE;
    }
  /* Straight down is exactly so. */
  if (fabs (way.x) < 1e-12)
    way.x = 0;
  if (fabs (way.y) < 1e-12)
    way.y = 0;
  *to = geo_along (from, way, length);
  return TRUE;
}

static gboolean
is_typing (const Draw *d)
{
  return app_typed_is_open (&d->typed);
}

/* Where the next corner would come to lie now. */
static GeoPoint
next_corner (const Draw *d)
{
  GeoPoint to = d->pointer;
  if (is_typing (d))
    typed_corner (d, &to, NULL);
  return to;
}

static void
tell_typed (Draw *d)
{
  GeoPoint from = node_at (d, d->nodes->len - 1)->at;
  GeoPoint way = geo_sub (d->pointer, from);
  PatternUnit unit = app_session_get_shown (d->tool.session)->unit;
  app_tool_take_tag (
      &d->tool,
      app_typed_words (&d->typed, unit,
                       way.x == 0 && way.y == 0 ? NAN : atan2 (way.y, way.x)));
}

static GeoCubic
rubber (const Draw *d, GeoPoint to)
{
  const PatternNode *last = node_at (d, d->nodes->len - 1);
  return (GeoCubic){ { last->at, last->out, to, to } };
}

static void
tell (Draw *d, GeoPoint to)
{
  if (d->nodes->len == 0)
    {
      app_tool_take_tag (&d->tool,
                         d->snap.snapped ? g_strdup (d->snap.why) : NULL);
      return;
    }
  if (is_typing (d))
    {
      tell_typed (d);
      return;
    }
  GeoCubic c = rubber (d, to);
  PatternUnit unit = app_session_get_shown (d->tool.session)->unit;
  g_autofree char *length
      = pattern_length_format (geo_cubic_length (&c, 1e-3), unit, FALSE);
  app_tool_take_tag (&d->tool,
                     d->snap.snapped && d->snap.why != NULL
                         ? g_strdup_printf ("%s\n%s", length, d->snap.why)
                         : g_strdup (length));
}

static void
draw_hover (AppTool *tool, const AppPointer *p)
{
  Draw *d = (Draw *)tool;
  d->pointer = place_node (d, p);
  if (over_first (d, p) && !is_typing (d))
    {
      d->pointer = node_at (d, 0)->at;
      d->snap = (AppSnap){ d->pointer, TRUE,       d->pointer, _ ("closes it"),
                           FALSE,      d->pointer, NULL };
    }
  tell (d, d->pointer);
}

static void place_typed (Draw *d);

static void
draw_press (AppTool *tool, const AppPointer *p)
{
  Draw *d = (Draw *)tool;
  if (is_typing (d))
    {
      /* The pointer says the direction only. */
      d->pointer = place_node (d, p);
      place_typed (d);
      return;
    }
  d->pressed = TRUE;
  d->from = p->at;
  d->closing = over_first (d, p);
  if (d->closing)
    return;
  GeoPoint at = place_node (d, p);
  /* A second click of a double click is no node of its own. */
  if (p->presses == 2 && d->nodes->len > 0)
    at = node_at (d, d->nodes->len - 1)->at;
  if (d->nodes->len > 0 && geo_same (at, node_at (d, d->nodes->len - 1)->at))
    return;
  PatternNode node
      = { .kind = PATTERN_NODE_CORNER, .at = at, .in = at, .out = at };
  g_array_append_val (d->nodes, node);
  d->pointer = at;
}

/* Pulls the handles of the node just set; of the first one when it closes. */
static void
pull_handles (Draw *d, GeoPoint to)
{
  PatternNode *node = node_at (d, d->closing ? 0 : d->nodes->len - 1);
  node->in = geo_sub (geo_scale (node->at, 2), to);
  if (!d->closing)
    {
      node->out = to;
      node->kind = PATTERN_NODE_SYMMETRIC;
    }
}

static void
draw_drag (AppTool *tool, const AppPointer *p)
{
  Draw *d = (Draw *)tool;
  if (!d->pressed || d->nodes->len == 0 || !app_pointer_dragged (p, d->from))
    return;
  GeoPoint at = node_at (d, d->closing ? 0 : d->nodes->len - 1)->at;
  AppSnapLine lines[4];
  guint n = app_snap_directions (tool->session, 0, at, lines);
  gboolean kept = (p->mods & APP_MOD_SHIFT) != 0;
  d->snap = (AppSnap){ .point = p->at };
  if (!(p->mods & APP_MOD_CTRL))
    d->snap = app_snap_lines (tool->session, p->at,
                              kept ? APP_SNAP_ALWAYS : app_pointer_pull (p),
                              lines, n, FALSE, NULL, 0);
  pull_handles (d, d->snap.point);
  d->pointer = at;
  app_tool_take_tag (tool, d->snap.snapped ? g_strdup (d->snap.why) : NULL);
}

static void
begin_anew (Draw *d)
{
  g_array_set_size (d->nodes, 0);
  d->pressed = d->closing = FALSE;
  d->snap = (AppSnap){ 0 };
  app_typed_close (&d->typed);
  app_tool_take_tag (&d->tool, NULL);
}

static gboolean
is_taken (const Pattern *p, const char *name)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);
  for (guint i = 0; i < p->n_pieces; i++)
    {
      g_autofree char *other = g_utf8_casefold (p->pieces[i]->name, -1);
      if (strcmp (folded, other) == 0)
        return TRUE;
    }
  return FALSE;
}

static char *
new_name (const Pattern *p)
{
  for (guint i = p->n_pieces + 1;; i++)
    {
      g_autofree char *name = g_strdup_printf (_ ("Piece %u"), i);
      if (!is_taken (p, name))
        return g_steal_pointer (&name);
    }
}

static gboolean
has_curve (const Draw *d)
{
  for (guint i = 0; i < d->nodes->len; i++)
    if (!geo_same (node_at (d, i)->at, node_at (d, i)->out)
        || !geo_same (node_at (d, i)->at, node_at (d, i)->in))
      return TRUE;
  return FALSE;
}

static void
finish (Draw *d)
{
  AppSession *s = d->tool.session;
  const Pattern *p = app_session_get_pattern (s);
  if (d->nodes->len < 2 || (d->nodes->len == 2 && !has_curve (d)))
    {
      g_signal_emit_by_name (s, "problem",
                             _ ("An outline needs three corners, or two with "
                                "a curve between them."));
      return;
    }
  GError *error = NULL;
  guint piece = 0;
  g_autofree char *name = new_name (p);
  Pattern *result = drafting_add_piece_nodes (
      p, name, node_at (d, 0), d->nodes->len, first_allowance, &piece, &error);
  /* What was drawn stays to be mended where it can't be made a piece of. */
  if (!app_session_do (s, _ ("draw piece"), NULL, result, &error))
    return;
  begin_anew (d);
  app_session_pick_piece (s, piece, FALSE);
  /* The last thing: whoever is told from here on may lay the tool down. */
  d->tool.done = TRUE;
}

static void
place_typed (Draw *d)
{
  AppSession *s = d->tool.session;
  g_autoptr (GError) error = NULL;
  GeoPoint at;
  if (!typed_corner (d, &at, &error))
    {
      g_signal_emit_by_name (s, "problem", error->message);
      return;
    }
  app_typed_close (&d->typed);
  d->snap = (AppSnap){ 0 };
  if (d->nodes->len >= 2
      && geo_distance (at, node_at (d, 0)->at) < closes_within)
    {
      finish (d);
      return;
    }
  GeoPoint from = node_at (d, d->nodes->len - 1)->at;
  PatternNode node
      = { .kind = PATTERN_NODE_CORNER, .at = at, .in = at, .out = at };
  g_array_append_val (d->nodes, node);
  d->pointer = at;
  app_tool_take_tag (&d->tool, NULL);
  GeoBox box = geo_box_add (geo_box_add (geo_box_empty (), from), at);
  g_signal_emit_by_name (s, "look-at", box.x0, box.y0, box.x1, box.y1);
}

static void
draw_release (AppTool *tool, const AppPointer *p)
{
  Draw *d = (Draw *)tool;
  gboolean closes = d->pressed && d->closing;
  d->pressed = d->closing = FALSE;
  if (closes)
    finish (d);
  else
    draw_hover (tool, p);
}

static void
take_back (Draw *d)
{
  g_array_set_size (d->nodes, d->nodes->len - 1);
  d->pressed = d->closing = FALSE;
  tell (d, d->pointer);
}

static gboolean
draw_key (AppTool *tool, AppKey key)
{
  Draw *d = (Draw *)tool;
  if (d->nodes->len == 0)
    return FALSE;
  if (is_typing (d) && key == APP_KEY_ENTER)
    {
      place_typed (d);
      return TRUE;
    }
  if (app_typed_key (&d->typed, key))
    {
      tell (d, d->pointer);
      return TRUE;
    }
  if (key == APP_KEY_ESCAPE)
    begin_anew (d);
  else if (key == APP_KEY_ENTER)
    finish (d);
  else if (key == APP_KEY_BACKSPACE)
    take_back (d);
  else
    return FALSE;
  return TRUE;
}

static gboolean
draw_type (AppTool *tool, gunichar c)
{
  Draw *d = (Draw *)tool;
  if (d->nodes->len == 0 || d->pressed || !app_typed_take (&d->typed, c))
    return FALSE;
  tell (d, d->pointer);
  return TRUE;
}

static gboolean
draw_tag_place (const AppTool *tool, GeoPoint *at)
{
  const Draw *d = (const Draw *)tool;
  if (!is_typing (d))
    return FALSE;
  *at = next_corner (d);
  return TRUE;
}

static void
draw_leave (AppTool *tool)
{
  Draw *d = (Draw *)tool;
  d->snap = (AppSnap){ 0 };
  if (!is_typing (d))
    app_tool_take_tag (tool, NULL);
}

static void
path_to (cairo_t *cr, const GeoCubic *c)
{
  cairo_curve_to (cr, c->p[1].x, c->p[1].y, c->p[2].x, c->p[2].y, c->p[3].x,
                  c->p[3].y);
}

static void
draw_paint (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
            double mm_per_px)
{
  const Draw *d = (const Draw *)tool;
  guint n = d->nodes->len;
  app_tool_paint_snap (cr, style, &d->snap, mm_per_px);
  if (n == 0)
    return;
  cairo_move_to (cr, node_at (d, 0)->at.x, node_at (d, 0)->at.y);
  for (guint i = 1; i < n; i++)
    path_to (cr, &(GeoCubic){ { node_at (d, i - 1)->at, node_at (d, i - 1)->out,
                                node_at (d, i)->in, node_at (d, i)->at } });
  if (d->closing)
    path_to (cr, &(GeoCubic){ { node_at (d, n - 1)->at, node_at (d, n - 1)->out,
                                node_at (d, 0)->in, node_at (d, 0)->at } });
  app_tool_stroke (cr, style, mm_per_px, 2);
  if (!d->pressed)
    {
      double dashes[] = { 6 * mm_per_px, 5 * mm_per_px };
      GeoCubic c = rubber (d, next_corner (d));
      cairo_set_dash (cr, dashes, 2, 0);
      cairo_move_to (cr, c.p[0].x, c.p[0].y);
      path_to (cr, &c);
      app_tool_stroke (cr, style, mm_per_px, 1.4);
      cairo_set_dash (cr, NULL, 0, 0);
    }
  const PatternNode *held = node_at (d, d->closing ? 0 : n - 1);
  if (!geo_same (held->in, held->out))
    {
      cairo_move_to (cr, held->in.x, held->in.y);
      cairo_line_to (cr, held->at.x, held->at.y);
      cairo_line_to (cr, held->out.x, held->out.y);
      app_tool_stroke (cr, style, mm_per_px, 1);
    }
  for (guint i = 0; i < n; i++)
    app_tool_dot (cr, style, node_at (d, i)->at, mm_per_px);
}

static GeoBox
draw_paint_box (const AppTool *tool)
{
  const Draw *d = (const Draw *)tool;
  GeoBox box = app_snap_box (&d->snap);
  if (d->nodes->len == 0)
    return box;
  box = geo_box_add (geo_box_add (box, d->pointer), next_corner (d));
  for (guint i = 0; i < d->nodes->len; i++)
    {
      const PatternNode *node = node_at (d, i);
      box = geo_box_add (geo_box_add (geo_box_add (box, node->at), node->in),
                         node->out);
    }
  return box;
}

static gboolean
draw_is_busy (const AppTool *tool)
{
  return ((const Draw *)tool)->nodes->len > 0;
}

const AppToolClass app_tool_draw = {
  .kind = APP_TOOL_DRAW,
  .size = sizeof (Draw),
  .cursor = "crosshair",
  .start = draw_start,
  .hint = draw_hint,
  .clear = draw_clear,
  .hover = draw_hover,
  .press = draw_press,
  .drag = draw_drag,
  .release = draw_release,
  .leave = draw_leave,
  .key = draw_key,
  .type = draw_type,
  .tag_place = draw_tag_place,
  .paint = draw_paint,
  .paint_box = draw_paint_box,
  .is_busy = draw_is_busy,
};
