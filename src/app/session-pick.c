/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is picked and pointed at. */
#include "app/session-private.h"
#include "geometry/nearest.h"
#include "sewing/walk.h"

static const PatternPiece *
piece_of (AppSession *s, guint id)
{
  return id != 0 ? pattern_get_piece (app_session_get_shown (s), id) : NULL;
}

static gboolean
has_line (const Pattern *p, guint id)
{
  for (guint i = 0; i < p->n_lines; i++)
    if (p->lines[i].id == id)
      return TRUE;
  return FALSE;
}

static gboolean
id_stands (AppSession *s, AppPickKind kind, const PatternPiece *piece, guint id)
{
  const Pattern *p = app_session_get_shown (s);
  switch (kind)
    {
    case APP_PICK_PIECES:
      return pattern_get_piece (p, id) != NULL;
    case APP_PICK_EDGE:
      return piece != NULL && pattern_piece_find_edge (piece, id) >= 0;
    case APP_PICK_NODES:
      return piece != NULL && pattern_piece_find_node (piece, id) >= 0;
    case APP_PICK_MARK:
      return piece != NULL && pattern_piece_has_mark (piece, id);
    case APP_PICK_SEAM:
      return pattern_get_seam (p, id) != NULL;
    case APP_PICK_LINE:
      return has_line (p, id);
    case APP_PICK_PICTURE:
      return pattern_get_picture (p, id) != NULL;
    case APP_PICK_NONE:
    default:
      return FALSE;
    }
}

static void
clear_pick (AppPick *pick)
{
  g_free (pick->ids);
  *pick = (AppPick){ 0 };
}

gboolean
app_session_prune_pick (AppSession *s)
{
  AppPick *pick = &s->pick;
  const PatternPiece *piece = piece_of (s, pick->piece);
  guint kept = 0;
  guint before = pick->n_ids;
  for (guint i = 0; i < pick->n_ids; i++)
    if (id_stands (s, pick->kind, piece, pick->ids[i]))
      pick->ids[kept++] = pick->ids[i];
  pick->n_ids = kept;
  if (before == kept
      && (pick->kind != APP_PICK_NODES || pick->edge == 0
          || pattern_piece_find_edge (piece, pick->edge) >= 0))
    return FALSE;
  if (kept == 0)
    {
      /* Nodes that are gone leave their edge picked, an edge its piece. */
      guint piece_id = piece != NULL ? pick->piece : 0;
      guint edge = pick->edge;
      gboolean node = pick->kind == APP_PICK_NODES;
      clear_pick (pick);
      if (piece_id != 0 && node && pattern_piece_find_edge (piece, edge) >= 0)
        *pick = (AppPick){ APP_PICK_EDGE, piece_id, edge,
                           g_memdup2 (&edge, sizeof edge), 1 };
      else if (piece_id != 0)
        *pick = (AppPick){ APP_PICK_PIECES, piece_id, 0,
                           g_memdup2 (&piece_id, sizeof piece_id), 1 };
    }
  else if (pick->kind == APP_PICK_NODES)
    {
      int index = pattern_piece_find_node (piece, pick->ids[0]);
      pick->edge
          = piece->edges[pattern_piece_edge_of_node (piece, (guint)index)].id;
    }
  else if (pick->kind == APP_PICK_PIECES)
    pick->piece = pick->ids[0];
  return TRUE;
}

/* Everything that picks ends here. A run of nudges ends with its pick. */
static void
set_pick (AppSession *s, AppPickKind kind, guint piece, guint edge,
          const guint *ids, guint n)
{
  AppPick *old = &s->pick;
  if (old->kind == kind && old->piece == piece && old->edge == edge
      && old->n_ids == n
      && (n == 0 || memcmp (old->ids, ids, n * sizeof *ids) == 0))
    return;
  guint *copy = n > 0 ? g_memdup2 (ids, n * sizeof *ids) : NULL;
  g_free (old->ids);
  *old = (AppPick){ kind, piece, edge, copy, n };
  s->strip_at = -1;
  pattern_history_seal (s->history);
  app_session_prune_pick (s);
  g_signal_emit_by_name (s, "pick-changed");
}

const AppPick *
app_session_get_pick (AppSession *s)
{
  return &s->pick;
}

void
app_session_pick_none (AppSession *s)
{
  set_pick (s, APP_PICK_NONE, 0, 0, NULL, 0);
}

void
app_session_pick_piece (AppSession *s, guint piece, gboolean add)
{
  if (!add || s->pick.kind != APP_PICK_PIECES)
    {
      set_pick (s, APP_PICK_PIECES, piece, 0, &piece, 1);
      return;
    }
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  gboolean had = FALSE;
  for (guint i = 0; i < s->pick.n_ids; i++)
    if (s->pick.ids[i] == piece)
      had = TRUE;
    else
      g_array_append_val (ids, s->pick.ids[i]);
  if (!had)
    g_array_append_val (ids, piece);
  if (ids->len == 0)
    app_session_pick_none (s);
  else
    set_pick (s, APP_PICK_PIECES, g_array_index (ids, guint, 0), 0,
              (guint *)(void *)ids->data, ids->len);
}

void
app_session_pick_edge (AppSession *s, guint piece, guint edge)
{
  set_pick (s, APP_PICK_EDGE, piece, edge, &edge, 1);
}

void
app_session_pick_nodes (AppSession *s, guint piece, guint edge,
                        const guint *nodes, guint n)
{
  if (n == 0)
    app_session_pick_edge (s, piece, edge);
  else
    set_pick (s, APP_PICK_NODES, piece, edge, nodes, n);
}

void
app_session_pick_mark (AppSession *s, guint piece, guint mark)
{
  set_pick (s, APP_PICK_MARK, piece, 0, &mark, 1);
}

void
app_session_pick_seam (AppSession *s, guint seam)
{
  set_pick (s, APP_PICK_SEAM, 0, 0, &seam, 1);
}

void
app_session_pick_line (AppSession *s, guint line)
{
  set_pick (s, APP_PICK_LINE, 0, 0, &line, 1);
}

void
app_session_pick_picture (AppSession *s, guint picture)
{
  set_pick (s, APP_PICK_PICTURE, 0, 0, &picture, 1);
}

void
app_session_select_all (AppSession *s)
{
  const Pattern *p = app_session_get_shown (s);
  if (p->n_pieces == 0)
    return;
  g_autofree guint *ids = g_new (guint, p->n_pieces);
  for (guint i = 0; i < p->n_pieces; i++)
    ids[i] = p->pieces[i]->id;
  set_pick (s, APP_PICK_PIECES, ids[0], 0, ids, p->n_pieces);
}

static void
look_at (AppSession *s, GeoBox box)
{
  if (!geo_box_is_empty (box))
    g_signal_emit_by_name (s, "look-at", box.x0, box.y0, box.x1, box.y1);
}

void
app_session_pick_finding (AppSession *s, const SewingFinding *finding)
{
  g_return_if_fail (finding != NULL);
  /* Picking tells the panels, which may have the list run again. */
  GeoBox box = geo_box_add (geo_box_empty (), finding->at);
  guint seam = finding->seam, piece = finding->piece, edge = finding->edge;
  if (seam != 0)
    app_session_pick_seam (s, seam);
  else if (edge != 0)
    app_session_pick_edge (s, piece, edge);
  else if (piece != 0)
    app_session_pick_piece (s, piece, FALSE);
  if (seam == 0 || edge != 0)
    box = geo_box_join (box, edge != 0 ? app_session_edge_box (s, piece, edge)
                                       : app_session_piece_box (s, piece));
  look_at (s, geo_box_grow (box, 20));
}

gboolean
app_session_is_picked (AppSession *s, guint piece, guint edge)
{
  const AppPick *pick = &s->pick;
  if (pick->kind == APP_PICK_PIECES)
    {
      for (guint i = 0; i < pick->n_ids && edge == 0; i++)
        if (pick->ids[i] == piece)
          return TRUE;
      return FALSE;
    }
  if (edge == 0)
    return pick->kind != APP_PICK_SEAM && pick->piece == piece;
  if (pick->kind == APP_PICK_EDGE || pick->kind == APP_PICK_NODES)
    return pick->piece == piece && pick->edge == edge;
  if (pick->kind != APP_PICK_SEAM)
    return FALSE;
  const PatternSeam *seam
      = pattern_get_seam (app_session_get_shown (s), pick->ids[0]);
  for (int side = 0; seam != NULL && side < 2; side++)
    for (guint i = 0; i < seam->sides[side].n_runs; i++)
      if (seam->sides[side].runs[i].piece == piece
          && seam->sides[side].runs[i].edge == edge)
        return TRUE;
  return FALSE;
}

/* --- the strip and the pointer --------------------------------------------- */

guint
app_session_get_strip_seam (AppSession *s)
{
  const AppPick *pick = &s->pick;
  guint edge = pick->edge;
  if (pick->kind == APP_PICK_SEAM)
    return pick->ids[0];
  if (pick->kind == APP_PICK_MARK)
    {
      const PatternPiece *piece = piece_of (s, pick->piece);
      const PatternNotch *notch
          = piece != NULL ? pattern_piece_get_notch (piece, pick->ids[0])
                          : NULL;
      edge = notch != NULL ? notch->edge : 0;
    }
  if (edge == 0 || pick->kind == APP_PICK_PIECES)
    return 0;
  const PatternSeam *seam = pattern_edge_seam (
      app_session_get_shown (s), pick->piece, edge, 0, NULL, NULL);
  return seam != NULL ? seam->id : 0;
}

void
app_session_set_strip_at (AppSession *s, double at)
{
  if (at < 0)
    at = -1;
  if (s->strip_at == at)
    return;
  s->strip_at = at;
  g_signal_emit_by_name (s, "hover-changed");
}

double
app_session_get_strip_at (AppSession *s)
{
  return s->strip_at;
}

/* Distance from the point to a run, and the length along the side of the place on it that is
 * nearest. */
static double
from_run (AppSession *s, const SewingSeam *facts, int side, guint r,
          GeoPoint at, double *along)
{
  const PatternRun *run = &facts->seam->sides[side].runs[r];
  const PatternPiece *piece = piece_of (s, run->piece);
  int edge = piece != NULL ? pattern_piece_find_edge (piece, run->edge) : -1;
  if (edge < 0)
    return INFINITY;
  const GeoRuler *ruler = &sewing_facts_piece (s->facts, piece)->rulers[edge];
  GeoPlace place = { 0, 0 };
  double distance = geo_chain_nearest (ruler->chain, at, &place);
  double own = geo_ruler_length_to (ruler, place);
  *along = run->reversed ? facts->joints[side][r + 1] - own
                         : facts->joints[side][r] + own;
  return distance;
}

void
app_session_point_strip (AppSession *s, GeoPoint at, double reach)
{
  const Pattern *p = app_session_get_shown (s);
  guint id = app_session_get_strip_seam (s);
  const PatternSeam *seam = id != 0 ? pattern_get_seam (p, id) : NULL;
  const SewingSeam *facts
      = seam != NULL ? sewing_facts_seam (s->facts, p, seam) : NULL;
  double least = reach, place = -1;
  for (int side = 0; facts != NULL && side < 2; side++)
    for (guint r = 0; r < seam->sides[side].n_runs; r++)
      {
        double along = 0;
        double distance = from_run (s, facts, side, r, at, &along);
        if (distance > least)
          continue;
        least = distance;
        place = side == 0 ? along : sewing_seam_facing (facts, 1, along);
      }
  app_session_set_strip_at (s, place);
}

AppHover
app_session_get_hover (AppSession *s)
{
  return s->hover;
}

void
app_session_set_hover (AppSession *s, AppHover hover)
{
  if (hover.piece == s->hover.piece && hover.edge == s->hover.edge
      && hover.node == s->hover.node && hover.mark == s->hover.mark
      && hover.seam == s->hover.seam)
    return;
  s->hover = hover;
  g_signal_emit_by_name (s, "hover-changed");
}

/* --- by keyboard ----------------------------------------------------------- */

static gboolean
step_piece (AppSession *s, int by)
{
  const Pattern *p = app_session_get_shown (s);
  int n = (int)p->n_pieces;
  int at = by > 0 ? -1 : n;
  if (s->pick.kind == APP_PICK_PIECES)
    for (int i = 0; i < n; i++)
      if (p->pieces[i]->id == s->pick.ids[0])
        at = i;
  at += by > 0 ? 1 : -1;
  if (at < 0 || at >= n)
    {
      app_session_pick_none (s);
      return FALSE;
    }
  app_session_pick_piece (s, p->pieces[at]->id, FALSE);
  return TRUE;
}

static guint
round_about (guint at, int by, guint n)
{
  return by > 0 ? (at + 1) % n : (at + n - 1) % n;
}

/* Nodes of the picked edge, both its ends included. */
static void
step_node (AppSession *s, const PatternPiece *piece, int by)
{
  int edge = pattern_piece_find_edge (piece, s->pick.edge);
  int node = pattern_piece_find_node (piece, s->pick.ids[0]);
  if (edge < 0 || node < 0)
    return;
  guint first = piece->edges[edge].first;
  guint n = pattern_piece_edge_last (piece, (guint)edge) - first + 1;
  guint offset = ((guint)node + piece->n_nodes - first) % piece->n_nodes;
  offset = round_about (MIN (offset, n - 1), by, n);
  guint id = piece->nodes[(first + offset) % piece->n_nodes].id;
  app_session_pick_nodes (s, piece->id, piece->edges[edge].id, &id, 1);
}

static void
step_mark (AppSession *s, const PatternPiece *piece, int by)
{
  for (guint i = 0; i < piece->n_notches; i++)
    if (piece->notches[i].id == s->pick.ids[0])
      {
        guint next = round_about (i, by, piece->n_notches);
        app_session_pick_mark (s, piece->id, piece->notches[next].id);
        return;
      }
}

static void
step_seam (AppSession *s, int by)
{
  const Pattern *p = app_session_get_shown (s);
  for (guint i = 0; i < p->n_seams; i++)
    if (p->seams[i]->id == s->pick.ids[0])
      {
        app_session_pick_seam (s,
                               p->seams[round_about (i, by, p->n_seams)]->id);
        return;
      }
}

gboolean
app_session_step_pick (AppSession *s, int by)
{
  const PatternPiece *piece = piece_of (s, s->pick.piece);
  gboolean stepped = TRUE;
  if (s->pick.kind == APP_PICK_SEAM)
    step_seam (s, by);
  else if (piece != NULL && s->pick.kind == APP_PICK_EDGE)
    {
      int edge = pattern_piece_find_edge (piece, s->pick.edge);
      guint next = round_about ((guint)MAX (edge, 0), by, piece->n_edges);
      app_session_pick_edge (s, piece->id, piece->edges[next].id);
    }
  else if (piece != NULL && s->pick.kind == APP_PICK_NODES)
    step_node (s, piece, by);
  else if (piece != NULL && s->pick.kind == APP_PICK_MARK)
    step_mark (s, piece, by);
  else
    stepped = step_piece (s, by);
  look_at (s, app_session_pick_box (s));
  return stepped;
}

gboolean
app_session_step_into (AppSession *s)
{
  const PatternPiece *piece = piece_of (s, s->pick.piece);
  if (s->pick.kind == APP_PICK_NONE)
    return app_session_step_pick (s, 1);
  if (piece == NULL || piece->n_edges == 0)
    return FALSE;
  if (s->pick.kind == APP_PICK_PIECES)
    app_session_pick_edge (s, piece->id, piece->edges[0].id);
  else if (s->pick.kind == APP_PICK_EDGE)
    {
      int edge = pattern_piece_find_edge (piece, s->pick.edge);
      guint id = piece->nodes[piece->edges[MAX (edge, 0)].first].id;
      app_session_pick_nodes (s, piece->id, s->pick.edge, &id, 1);
    }
  else
    return FALSE;
  look_at (s, app_session_pick_box (s));
  return TRUE;
}

gboolean
app_session_step_out (AppSession *s)
{
  AppPick was = s->pick;
  if (was.kind == APP_PICK_NONE)
    return FALSE;
  const PatternPiece *piece = piece_of (s, was.piece);
  const PatternNotch *notch = piece != NULL && was.kind == APP_PICK_MARK
                                  ? pattern_piece_get_notch (piece, was.ids[0])
                                  : NULL;
  if (was.kind == APP_PICK_NODES)
    app_session_pick_edge (s, was.piece, was.edge);
  else if (notch != NULL)
    app_session_pick_edge (s, was.piece, notch->edge);
  else if (was.kind == APP_PICK_EDGE || was.kind == APP_PICK_MARK)
    app_session_pick_piece (s, was.piece, FALSE);
  else
    app_session_pick_none (s);
  return TRUE;
}
