/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/overlays.h"

#include "app/hit.h"
#include "sewing/walk.h"

typedef struct
{
  cairo_t *cr;
  AppSession *session;
  const AppView *view;
  const AppPalette *colours;
} Painter;

static void
path_of_chain (const Painter *at, const GeoChain *chain)
{
  cairo_save (at->cr);
  cairo_scale (at->cr, at->view->scale, at->view->scale);
  cairo_translate (at->cr, -at->view->origin.x, -at->view->origin.y);
  drawing_path_chain (at->cr, chain);
  cairo_restore (at->cr);
}

/* A line over its halo, so that it reads on paper and on any cloth's tint. */
static void
stroke_lit (const Painter *at, DrawingColour colour, double width)
{
  cairo_set_line_cap (at->cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (at->cr, CAIRO_LINE_JOIN_ROUND);
  app_colour (at->cr, at->colours->halo);
  cairo_set_line_width (at->cr, width + 3);
  cairo_stroke_preserve (at->cr);
  app_colour (at->cr, colour);
  cairo_set_line_width (at->cr, width);
  cairo_stroke (at->cr);
}

static const SewingPiece *
facts_of (AppSession *session, guint id)
{
  const PatternPiece *piece
      = pattern_get_piece (app_session_get_shown (session), id);
  return piece != NULL
             ? sewing_facts_piece (app_session_get_facts (session), piece)
             : NULL;
}

static void
light_edge (const Painter *at, guint piece, guint edge, DrawingColour colour,
            double width)
{
  const SewingPiece *facts = facts_of (at->session, piece);
  int i = facts != NULL ? pattern_piece_find_edge (facts->piece, edge) : -1;
  if (i < 0)
    return;
  path_of_chain (at, &facts->stitch[i]);
  stroke_lit (at, colour, width);
}

static void
light_piece (const Painter *at, guint piece, DrawingColour colour, double width)
{
  const SewingPiece *facts = facts_of (at->session, piece);
  if (facts == NULL)
    return;
  for (guint i = 0; i < facts->piece->n_edges; i++)
    path_of_chain (at, &facts->stitch[i]);
  stroke_lit (at, colour, width);
}

static void
light_runs (const Painter *at, const PatternSide *side, DrawingColour colour,
            double width)
{
  for (guint i = 0; i < side->n_runs; i++)
    light_edge (at, side->runs[i].piece, side->runs[i].edge, colour, width);
}

/* Side B is dashed as well as of another colour. */
static void
light_seam (const Painter *at, guint id)
{
  static const double dashes[] = { 9, 6 };
  const PatternSeam *seam
      = pattern_get_seam (app_session_get_shown (at->session), id);
  if (seam == NULL)
    return;
  light_runs (at, &seam->sides[0], at->colours->lit, 3);
  cairo_set_dash (at->cr, dashes, 2, 0);
  light_runs (at, &seam->sides[1], at->colours->partner, 3);
  cairo_set_dash (at->cr, NULL, 0, 0);
}

/* The other side of the seams a picked edge is in, thin. */
static void
light_partners (const Painter *at, guint piece, guint edge)
{
  static const double dashes[] = { 5, 5 };
  const Pattern *p = app_session_get_shown (at->session);
  const PatternSeam *seam;
  int side;
  cairo_set_dash (at->cr, dashes, 2, 0);
  for (guint n = 0;
       (seam = pattern_edge_seam (p, piece, edge, n, &side, NULL)) != NULL; n++)
    light_runs (at, &seam->sides[1 - side], at->colours->partner, 1.6);
  cairo_set_dash (at->cr, NULL, 0, 0);
}

static gboolean
mark_place (AppSession *session, guint piece_id, guint mark, GeoPoint *at)
{
  const SewingPiece *facts = facts_of (session, piece_id);
  if (facts == NULL)
    return FALSE;
  const PatternPiece *piece = facts->piece;
  const PatternNotch *notch = pattern_piece_get_notch (piece, mark);
  GeoPoint outward;
  if (notch != NULL)
    return sewing_notch_place (facts, notch, at, &outward);
  for (guint i = 0; i < piece->n_drills; i++)
    if (piece->drills[i].id == mark)
      return *at = piece->drills[i].at, TRUE;
  for (guint i = 0; i < piece->n_buttonholes; i++)
    if (piece->buttonholes[i].id == mark)
      {
        const PatternButtonhole *hole = &piece->buttonholes[i];
        *at = geo_along (hole->at,
                         geo_point (cos (hole->angle), sin (hole->angle)),
                         hole->length / 2);
        return TRUE;
      }
  for (guint i = 0; i < piece->n_texts; i++)
    if (piece->texts[i].id == mark)
      return *at = piece->texts[i].at, TRUE;
  return FALSE;
}

static const PatternLine *
find_line (AppSession *session, guint piece_id, guint id)
{
  const Pattern *p = app_session_get_shown (session);
  const PatternPiece *piece
      = piece_id != 0 ? pattern_get_piece (p, piece_id) : NULL;
  const PatternLine *lines = piece != NULL ? piece->lines : p->lines;
  guint n = piece != NULL ? piece->n_lines : p->n_lines;
  for (guint i = 0; i < n; i++)
    if (lines[i].id == id)
      return &lines[i];
  return NULL;
}

static void
light_line (const Painter *at, guint piece, guint id, DrawingColour colour)
{
  const PatternLine *line = find_line (at->session, piece, id);
  if (line == NULL)
    return;
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_line_chain (line, &chain);
  path_of_chain (at, &chain);
  stroke_lit (at, colour, 2);
  geo_chain_clear (&chain);
}

static void
light_mark (const Painter *at, guint piece, guint mark, DrawingColour colour)
{
  GeoPoint place;
  if (mark_place (at->session, piece, mark, &place))
    {
      GeoPoint px = app_view_to_px (at->view, place);
      cairo_new_sub_path (at->cr);
      cairo_arc (at->cr, px.x, px.y, 9, 0, 2 * G_PI);
      stroke_lit (at, colour, 2);
    }
  else
    light_line (at, piece, mark, colour);
}

/* Its frame on the table. */
static void
light_picture (const Painter *at, guint id)
{
  const PatternPicture *picture
      = pattern_get_picture (app_session_get_shown (at->session), id);
  GeoPoint corners[4];
  if (picture == NULL)
    return;
  pattern_picture_corners (picture, corners);
  cairo_new_path (at->cr);
  for (int i = 0; i < 4; i++)
    {
      GeoPoint px = app_view_to_px (at->view, corners[i]);
      cairo_line_to (at->cr, px.x, px.y);
    }
  cairo_close_path (at->cr);
  stroke_lit (at, at->colours->lit, 2);
}

static void
light_pick (const Painter *at)
{
  const AppPick *pick = app_session_get_pick (at->session);
  for (guint i = 0; i < pick->n_ids; i++)
    switch (pick->kind)
      {
      case APP_PICK_PIECES:
        light_piece (at, pick->ids[i], at->colours->lit, 2.4);
        break;
      case APP_PICK_EDGE:
        light_partners (at, pick->piece, pick->edge);
        light_edge (at, pick->piece, pick->edge, at->colours->lit, 3);
        break;
      case APP_PICK_NODES:
        if (i == 0)
          light_edge (at, pick->piece, pick->edge, at->colours->lit, 2.4);
        break;
      case APP_PICK_MARK:
        light_mark (at, pick->piece, pick->ids[i], at->colours->lit);
        break;
      case APP_PICK_SEAM:
        light_seam (at, pick->ids[i]);
        break;
      case APP_PICK_LINE:
        light_line (at, 0, pick->ids[i], at->colours->lit);
        break;
      case APP_PICK_PICTURE:
        light_picture (at, pick->ids[i]);
        break;
      case APP_PICK_NONE:
      default:
        break;
      }
}

static void
light_hover (const Painter *at)
{
  AppHover hover = app_session_get_hover (at->session);
  if (hover.mark != 0)
    light_mark (at, hover.piece, hover.mark, at->colours->hover);
  else if (hover.edge != 0)
    light_edge (at, hover.piece, hover.edge, at->colours->hover, 3);
  else if (hover.piece != 0)
    light_piece (at, hover.piece, at->colours->hover, 1.2);
  else if (hover.seam != 0)
    light_seam (at, hover.seam);
}

/* The place pointed at in the seam strip, on both sides. */
static void
light_strip_at (const Painter *at)
{
  double s = app_session_get_strip_at (at->session);
  const Pattern *p = app_session_get_shown (at->session);
  guint id = app_session_get_strip_seam (at->session);
  const PatternSeam *seam = id != 0 ? pattern_get_seam (p, id) : NULL;
  const SewingSeam *facts
      = seam != NULL && s >= 0
            ? sewing_facts_seam (app_session_get_facts (at->session), p, seam)
            : NULL;
  if (facts == NULL)
    return;
  double at_side[2] = { s, sewing_seam_facing (facts, 0, s) };
  for (int side = 0; side < 2; side++)
    {
      GeoPoint px = app_view_to_px (
          at->view, sewing_seam_point (facts, side, at_side[side]));
      cairo_new_sub_path (at->cr);
      cairo_arc (at->cr, px.x, px.y, 6, 0, 2 * G_PI);
      stroke_lit (at, side == 0 ? at->colours->lit : at->colours->partner, 2.5);
    }
}

void
app_paint_lit (cairo_t *cr, AppSession *session, const AppView *view,
               const AppPalette *colours)
{
  Painter at = { cr, session, view, colours };
  cairo_save (cr);
  cairo_new_path (cr);
  light_hover (&at);
  light_pick (&at);
  light_strip_at (&at);
  cairo_restore (cr);
}

/* --- nodes and handles ----------------------------------------------------- */

static void
node_path (cairo_t *cr, GeoPoint px, PatternNodeKind kind)
{
  double r = APP_NODE_PX;
  cairo_new_sub_path (cr);
  if (kind == PATTERN_NODE_CORNER)
    cairo_rectangle (cr, px.x - r, px.y - r, 2 * r, 2 * r);
  else if (kind == PATTERN_NODE_SMOOTH)
    cairo_arc (cr, px.x, px.y, r + 0.5, 0, 2 * G_PI);
  else
    {
      cairo_move_to (cr, px.x, px.y - r - 2);
      cairo_line_to (cr, px.x + r + 2, px.y);
      cairo_line_to (cr, px.x, px.y + r + 2);
      cairo_line_to (cr, px.x - r - 2, px.y);
      cairo_close_path (cr);
    }
}

static void
paint_handle (const Painter *at, GeoPoint node, GeoPoint handle)
{
  GeoPoint a = app_view_to_px (at->view, node);
  GeoPoint b = app_view_to_px (at->view, handle);
  cairo_move_to (at->cr, a.x, a.y);
  cairo_line_to (at->cr, b.x, b.y);
  stroke_lit (at, at->colours->lit, 1);
  cairo_arc (at->cr, b.x, b.y, APP_NODE_PX - 0.5, 0, 2 * G_PI);
  app_colour (at->cr, at->colours->lit);
  cairo_fill_preserve (at->cr);
  app_colour (at->cr, at->colours->halo);
  cairo_set_line_width (at->cr, 1.5);
  cairo_stroke (at->cr);
}

static gboolean
node_picked (const AppPick *pick, guint id)
{
  for (guint i = 0; pick->kind == APP_PICK_NODES && i < pick->n_ids; i++)
    if (pick->ids[i] == id)
      return TRUE;
  return FALSE;
}

static void
paint_node (const Painter *at, const PatternNode *node)
{
  gboolean picked = node_picked (app_session_get_pick (at->session), node->id);
  gboolean hovered = app_session_get_hover (at->session).node == node->id;
  node_path (at->cr, app_view_to_px (at->view, node->at), node->kind);
  app_colour (at->cr, at->colours->halo);
  cairo_set_line_width (at->cr, hovered ? 7 : 4);
  cairo_stroke_preserve (at->cr);
  app_colour (at->cr, picked ? at->colours->lit : at->colours->node);
  cairo_fill_preserve (at->cr);
  app_colour (at->cr, at->colours->lit);
  cairo_set_line_width (at->cr, hovered ? 3 : 1.6);
  cairo_stroke (at->cr);
}

/* A ring on a stalk above the picked pieces. It stays where it was while they are turned, as
 * their box changes under way. */
static void
paint_turn_handle (const Painter *at)
{
  GeoPoint centre, ring;
  if (app_session_is_previewing (at->session)
      || !app_turn_handle (at->session, 1 / at->view->scale, &centre, &ring))
    return;
  GeoPoint px = app_view_to_px (at->view, ring);
  cairo_move_to (at->cr, px.x, px.y + 5);
  cairo_line_to (at->cr, px.x, px.y + 24);
  stroke_lit (at, at->colours->lit, 1);
  cairo_arc (at->cr, px.x, px.y, 5, 0, 2 * G_PI);
  app_colour (at->cr, at->colours->node);
  cairo_fill_preserve (at->cr);
  app_colour (at->cr, at->colours->lit);
  cairo_set_line_width (at->cr, 2);
  cairo_stroke (at->cr);
}

void
app_paint_nodes (cairo_t *cr, AppSession *session, const AppView *view,
                 const AppPalette *colours)
{
  const PatternPiece *piece;
  guint edge;
  Painter at = { cr, session, view, colours };
  cairo_new_path (cr);
  paint_turn_handle (&at);
  if (!app_active_edge (session, &piece, &edge))
    return;
  cairo_save (cr);
  guint first = piece->edges[edge].first;
  guint last = pattern_piece_edge_last (piece, edge);
  for (guint i = first; i <= last; i++)
    for (int which = 0; which < 2; which++)
      {
        GeoPoint handle;
        guint index = i % piece->n_nodes;
        if (app_handle_shown (piece, edge, index, (DraftingHandle)which,
                              &handle))
          paint_handle (&at, piece->nodes[index].at, handle);
      }
  for (guint i = first; i <= last; i++)
    paint_node (&at, &piece->nodes[i % piece->n_nodes]);
  cairo_restore (cr);
}

/* --- boxes ----------------------------------------------------------------- */

static GeoBox
box_of_edge (AppSession *session, guint piece, guint edge)
{
  const SewingPiece *facts = facts_of (session, piece);
  int i = facts != NULL ? pattern_piece_find_edge (facts->piece, edge) : -1;
  return i >= 0 ? geo_chain_bounds (&facts->stitch[i]) : geo_box_empty ();
}

static GeoBox
box_of_hover (AppSession *session)
{
  AppHover hover = app_session_get_hover (session);
  if (hover.edge != 0)
    return box_of_edge (session, hover.piece, hover.edge);
  const SewingPiece *facts
      = hover.piece != 0 ? facts_of (session, hover.piece) : NULL;
  GeoBox box = facts != NULL ? facts->bounds : geo_box_empty ();
  const PatternSeam *seam
      = hover.seam != 0
            ? pattern_get_seam (app_session_get_shown (session), hover.seam)
            : NULL;
  for (int side = 0; seam != NULL && side < 2; side++)
    for (guint i = 0; i < seam->sides[side].n_runs; i++)
      box = geo_box_join (box,
                          box_of_edge (session, seam->sides[side].runs[i].piece,
                                       seam->sides[side].runs[i].edge));
  return box;
}

static GeoBox
box_of_partners (AppSession *session)
{
  const AppPick *pick = app_session_get_pick (session);
  GeoBox box = geo_box_empty ();
  const Pattern *p = app_session_get_shown (session);
  const PatternSeam *seam;
  for (guint n = 0;
       pick->kind == APP_PICK_EDGE
       && (seam = pattern_edge_seam (p, pick->piece, pick->edge, n, NULL, NULL))
              != NULL;
       n++)
    for (int side = 0; side < 2; side++)
      for (guint i = 0; i < seam->sides[side].n_runs; i++)
        box = geo_box_join (box, box_of_edge (session,
                                              seam->sides[side].runs[i].piece,
                                              seam->sides[side].runs[i].edge));
  return box;
}

static GeoBox
box_of_nodes (AppSession *session)
{
  GeoBox box = geo_box_empty ();
  const PatternPiece *piece;
  guint edge;
  if (!app_active_edge (session, &piece, &edge))
    return box;
  box = box_of_edge (session, piece->id, piece->edges[edge].id);
  guint last = pattern_piece_edge_last (piece, edge);
  for (guint i = piece->edges[edge].first; i <= last; i++)
    {
      const PatternNode *node = &piece->nodes[i % piece->n_nodes];
      box = geo_box_add (geo_box_add (box, node->in), node->out);
    }
  return box;
}

GeoBox
app_lit_box (AppSession *session, const AppView *view)
{
  GeoBox box = geo_box_join (box_of_hover (session), box_of_nodes (session));
  box = geo_box_join (box, app_session_pick_box (session));
  box = geo_box_join (box, box_of_partners (session));
  GeoPoint centre, ring;
  if (app_turn_handle (session, 1 / view->scale, &centre, &ring))
    box = geo_box_add (box, ring);
  if (geo_box_is_empty (box))
    return box;
  return geo_box_grow (app_view_box_to_px (view, box), 20);
}
