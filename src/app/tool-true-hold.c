/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Taking hold of the laid line: its nodes, handles, and the curve between. */
#include <glib/gi18n.h>

#include "app/tool-true-private.h"
#include "geometry/nearest.h"
#include "sewing/words.h"

typedef struct
{
  const SewingLineRun *run;
  const PatternPiece *piece;
  guint edge, first, last;
} Place;

static gboolean
find_place (const AppTrue *t, const SewingLine *line, guint run, Place *place)
{
  const Pattern *p = app_session_get_shown (t->tool.session);
  place->run = &line->runs[run];
  place->piece = pattern_get_piece (p, place->run->piece);
  int edge = place->piece != NULL
                 ? pattern_piece_find_edge (place->piece, place->run->edge)
                 : -1;
  if (edge < 0)
    return FALSE;
  place->edge = (guint)edge;
  place->first = place->piece->edges[edge].first;
  place->last = pattern_piece_edge_last (place->piece, (guint)edge);
  return TRUE;
}

/* The i-th node of the run, the way the line runs. */
static const PatternNode *
node_of (const Place *place, guint i)
{
  guint index = place->run->reversed ? place->last - i : place->first + i;
  return &place->piece->nodes[index % place->piece->n_nodes];
}

GArray *
app_true_nodes (const AppTrue *t, const SewingLine *line)
{
  GArray *nodes = g_array_new (FALSE, FALSE, sizeof (AppTrueNode));
  for (guint r = 0; line != NULL && r < line->n_runs; r++)
    {
      Place place;
      if (!find_place (t, line, r, &place))
        continue;
      guint count = place.last - place.first;
      for (guint i = r == 0 ? 0 : 1; i <= count; i++)
        {
          const PatternNode *own = node_of (&place, i);
          gboolean joint = i == count && r + 1 < line->n_runs;
          AppTrueNode node
              = { r, own->id, geo_motion_apply (place.run->lay, own->at),
                  joint ? (int)r : -1, own->kind };
          g_array_append_val (nodes, node);
        }
    }
  return nodes;
}

static gboolean
is_node (const AppTrue *t, guint run, guint id)
{
  return t->has_node && t->run == run && t->node == id;
}

static void
add_handle (GArray *handles, const Place *place, guint run,
            const PatternNode *node, DraftingHandle which)
{
  GeoPoint at = which == DRAFTING_HANDLE_IN ? node->in : node->out;
  if (geo_same (at, node->at))
    return;
  AppTrueHandle handle
      = { run, node->id, which, geo_motion_apply (place->run->lay, at),
          geo_motion_apply (place->run->lay, node->at) };
  g_array_append_val (handles, handle);
}

/* Those at joints, those of the node that is picked, and of the curve pointed at. */
GArray *
app_true_handles (const AppTrue *t, const SewingLine *line)
{
  GArray *handles = g_array_new (FALSE, FALSE, sizeof (AppTrueHandle));
  for (guint r = 0; line != NULL && r < line->n_runs; r++)
    {
      Place place;
      if (!find_place (t, line, r, &place))
        continue;
      guint count = place.last - place.first, n = place.piece->n_nodes;
      for (guint i = 0; i <= count; i++)
        {
          guint index = place.first + i;
          const PatternNode *node = &place.piece->nodes[index % n];
          gboolean at_joint
              = place.run->reversed
                    ? (i == 0 && r + 1 < line->n_runs) || (i == count && r > 0)
                    : (i == 0 && r > 0) || (i == count && r + 1 < line->n_runs);
          const AppTrueHit *near
              = t->held.kind != APP_TRUE_NOTHING ? &t->held : &t->over;
          gboolean over
              = near->kind == APP_TRUE_CURVE && near->run == r
                && (near->id == node->id
                    || (i > 0
                        && near->id == place.piece->nodes[(index - 1) % n].id));
          gboolean held = near->kind == APP_TRUE_HANDLE && near->handle.run == r
                          && near->handle.id == node->id;
          if (!at_joint && !over && !held && !is_node (t, r, node->id))
            continue;
          if (i > 0)
            add_handle (handles, &place, r, node, DRAFTING_HANDLE_IN);
          if (i < count)
            add_handle (handles, &place, r, node, DRAFTING_HANDLE_OUT);
        }
    }
  return handles;
}

/* --- hits -------------------------------------------------------------------------- */

static AppTrueHit
hit_points (const AppTrue *t, GeoPoint at, double reach)
{
  AppTrueHit best = { 0 };
  double nearest = reach;
  g_autoptr (GArray) nodes = app_true_nodes (t, t->line);
  g_autoptr (GArray) handles = app_true_handles (t, t->line);
  for (guint i = 0; i < nodes->len; i++)
    {
      const AppTrueNode *node = &g_array_index (nodes, AppTrueNode, i);
      double d = geo_distance (node->at, at);
      if (d < nearest)
        {
          best = (AppTrueHit){ .kind = APP_TRUE_NODE,
                               .node = *node,
                               .point = node->at };
          nearest = d;
        }
    }
  for (guint i = 0; i < handles->len; i++)
    {
      const AppTrueHandle *handle = &g_array_index (handles, AppTrueHandle, i);
      double d = geo_distance (handle->at, at);
      if (d < nearest - 1e-9)
        {
          best = (AppTrueHit){ .kind = APP_TRUE_HANDLE,
                               .handle = *handle,
                               .point = handle->at };
          nearest = d;
        }
    }
  return best;
}

static AppTrueHit
hit_curve (const AppTrue *t, GeoPoint at, double reach)
{
  AppTrueHit best = { 0 };
  double nearest = reach;
  for (guint r = 0; r < t->line->n_runs; r++)
    {
      const SewingLineRun *run = &t->line->runs[r];
      GeoPlace where;
      Place place;
      double d = geo_chain_nearest (&run->laid, at, &where);
      if (d >= nearest || !find_place (t, t->line, r, &place))
        continue;
      guint cubic = (guint)where.cubic, count = place.last - place.first;
      /* On the piece the cubic starts at its other end where the run is
       * reversed. */
      guint index = run->reversed ? count - 1 - cubic : cubic;
      guint n = place.piece->n_nodes;
      best = (AppTrueHit){
        .kind = APP_TRUE_CURVE,
        .run = r,
        .id = place.piece->nodes[(place.first + index) % n].id,
        .t = run->reversed ? 1 - where.t : where.t,
        .point = geo_chain_point (&run->laid, where),
      };
      nearest = d;
    }
  return best;
}

AppTrueHit
app_true_hit (const AppTrue *t, const AppPointer *p)
{
  AppTrueHit hit = { 0 };
  if (t->line == NULL)
    return hit;
  double reach = app_pointer_reach (p);
  hit = hit_points (t, p->at, reach);
  if (hit.kind != APP_TRUE_NOTHING)
    return hit;
  hit = hit_curve (t, p->at, reach * 0.75);
  if (hit.kind != APP_TRUE_NOTHING)
    return hit;
  for (guint i = 0; i < t->line->n_joints; i++)
    {
      GeoPoint off = geo_sub (p->at, app_true_label_at (t, i, p->mm_per_px));
      if (fabs (off.x) < 46 * p->mm_per_px && fabs (off.y) < 13 * p->mm_per_px)
        return (AppTrueHit){ .kind = APP_TRUE_LABEL,
                             .node = { .joint = (int)i } };
    }
  return hit;
}

/* --- dragging ----------------------------------------------------------------------- */

static Pattern *
held_to (const AppTrue *t, GeoPoint to, GError **error)
{
  const AppTrueHit *held = &t->held;
  const Pattern *work = app_true_work (t);
  GeoPoint by = geo_sub (to, t->from);
  switch (held->kind)
    {
    case APP_TRUE_NODE:
      return drafting_line_move_node (work, t->held_line, held->node.run,
                                      held->node.id,
                                      geo_add (held->node.at, by), error);
    case APP_TRUE_HANDLE:
      return drafting_line_set_handle (work, t->held_line, held->handle.run,
                                       held->handle.id, held->handle.which,
                                       geo_add (held->handle.at, by), error);
    case APP_TRUE_CURVE:
      return drafting_line_bend (work, t->held_line, held->run, held->id,
                                 held->t, by, error);
    case APP_TRUE_NOTHING:
    case APP_TRUE_LABEL:
    default:
      return NULL;
    }
}

void
app_true_drop (AppTrue *t)
{
  t->held.kind = APP_TRUE_NOTHING;
  t->dragged = FALSE;
  g_clear_pointer (&t->held_line, sewing_line_free);
  app_tool_take_tag (&t->tool, NULL);
}

void
app_true_press (AppTool *tool, const AppPointer *p)
{
  AppTrue *t = (AppTrue *)tool;
  if (t->line == NULL)
    return;
  t->held = app_true_hit (t, p);
  t->from = p->at;
  t->dragged = FALSE;
  if (t->held.kind == APP_TRUE_LABEL)
    {
      guint joint = (guint)t->held.node.joint;
      app_true_drop (t);
      app_true_set_joint (tool, joint);
      return;
    }
  t->has_node = t->held.kind == APP_TRUE_NODE;
  if (!t->has_node)
    return;
  t->run = t->held.node.run;
  t->node = t->held.node.id;
  t->nudged = FALSE;
}

/* Blended or not, from here on it is what is shown that is dragged. */
static void
begin_drag (AppTrue *t)
{
  t->dragged = TRUE;
  t->nudged = FALSE;
  app_true_absorb (t);
  app_true_refresh (t);
  t->held_line = g_steal_pointer (&t->line);
  app_true_refresh (t);
}

static void
tell (AppTrue *t)
{
  if (t->line == NULL)
    return;
  g_autofree char *angle = app_true_angle_words (&t->tool);
  g_autofree char *length = app_true_length_words (&t->tool);
  g_autofree char *title = app_true_title (&t->tool);
  app_tool_take_tag (&t->tool, g_strdup_printf (_ ("%s  %s\nlength  %s"), title,
                                                angle, length));
}

void
app_true_drag (AppTool *tool, const AppPointer *p)
{
  AppTrue *t = (AppTrue *)tool;
  if (t->held.kind == APP_TRUE_NOTHING || t->line == NULL)
    return;
  if (!t->dragged && !app_pointer_dragged (p, t->from))
    return;
  if (!t->dragged)
    begin_drag (t);
  if (t->held_line == NULL)
    return;
  Pattern *result = held_to (t, p->at, NULL);
  if (result == NULL)
    return;
  /* Shown as though it were a step already. */
  g_ptr_array_add (t->steps, result);
  app_true_refresh (t);
  g_ptr_array_set_size (t->steps, t->steps->len - 1);
  tell (t);
}

void
app_true_release (AppTool *tool, const AppPointer *p)
{
  AppTrue *t = (AppTrue *)tool;
  GError *error = NULL;
  if (t->dragged && t->held_line != NULL)
    {
      Pattern *result = held_to (t, p->at, &error);
      app_true_drop (t);
      app_true_push (t, result, &error);
    }
  else
    app_true_drop (t);
  t->over = app_true_hit (t, p);
}

/* --- by keys --------------------------------------------------------------------------- */

void
app_true_next_node (AppTrue *t)
{
  g_autoptr (GArray) nodes = app_true_nodes (t, t->line);
  if (nodes->len == 0)
    return;
  guint next = 0;
  for (guint i = 0; t->has_node && i < nodes->len; i++)
    {
      const AppTrueNode *node = &g_array_index (nodes, AppTrueNode, i);
      if (is_node (t, node->run, node->id))
        next = (i + 1) % nodes->len;
    }
  const AppTrueNode *node = &g_array_index (nodes, AppTrueNode, next);
  t->has_node = TRUE;
  t->nudged = FALSE;
  t->run = node->run;
  t->node = node->id;
}

/* A run of nudges of one node is one step. */
gboolean
app_true_nudge (AppTrue *t, GeoPoint by)
{
  g_autoptr (GArray) nodes = app_true_nodes (t, t->line);
  app_true_absorb (t);
  app_true_refresh (t);
  for (guint i = 0; i < nodes->len; i++)
    {
      const AppTrueNode *node = &g_array_index (nodes, AppTrueNode, i);
      if (!is_node (t, node->run, node->id))
        continue;
      GError *error = NULL;
      /* A joint goes along its seam whichever way the arrow points most. */
      if (node->joint >= 0)
        {
          GeoPoint out = t->line->joints[node->joint].out;
          double far = geo_norm (by);
          by = geo_scale (out, geo_dot (by, out) < 0 ? -far : far);
        }
      Pattern *result
          = drafting_line_move_node (app_true_work (t), t->line, node->run,
                                     node->id, geo_add (node->at, by), &error);
      if (result != NULL && t->nudged)
        g_ptr_array_set_size (t->steps, t->steps->len - 1);
      t->nudged = app_true_push (t, result, &error) || t->nudged;
      return TRUE;
    }
  return FALSE;
}
