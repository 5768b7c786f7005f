/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is picked in words, and its box on the table. */
#include <glib/gi18n.h>

#include "app/session-private.h"

static const PatternPiece *
piece_of (AppSession *s, guint id)
{
  return id != 0 ? pattern_get_piece (app_session_get_shown (s), id) : NULL;
}

/* --- boxes ----------------------------------------------------------------- */

GeoBox
app_session_edge_box (AppSession *s, guint piece_id, guint edge_id)
{
  const PatternPiece *piece = NULL;
  const PatternEdge *edge
      = pattern_get_edge (app_session_get_shown (s), piece_id, edge_id, &piece);
  if (edge == NULL)
    return geo_box_empty ();
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, (guint)(edge - piece->edges), &chain);
  GeoBox box = geo_chain_bounds (&chain);
  geo_chain_clear (&chain);
  return box;
}

GeoBox
app_session_piece_box (AppSession *s, guint id)
{
  const PatternPiece *piece = piece_of (s, id);
  const SewingPiece *facts
      = piece != NULL ? sewing_facts_piece (s->facts, piece) : NULL;
  return facts != NULL ? facts->bounds : geo_box_empty ();
}

static GeoBox
seam_box (AppSession *s, guint id)
{
  GeoBox box = geo_box_empty ();
  const PatternSeam *seam = pattern_get_seam (app_session_get_shown (s), id);
  for (int side = 0; seam != NULL && side < 2; side++)
    for (guint i = 0; i < seam->sides[side].n_runs; i++)
      box = geo_box_join (
          box, app_session_edge_box (s, seam->sides[side].runs[i].piece,
                                     seam->sides[side].runs[i].edge));
  return box;
}

static GeoBox
mark_box (AppSession *s, guint piece_id, guint mark)
{
  const PatternPiece *piece = piece_of (s, piece_id);
  if (piece == NULL)
    return geo_box_empty ();
  const PatternNotch *notch = pattern_piece_get_notch (piece, mark);
  GeoPoint at, outward;
  if (notch != NULL
      && sewing_notch_place (sewing_facts_piece (s->facts, piece), notch, &at,
                             &outward))
    return geo_box_add (geo_box_empty (), at);
  for (guint i = 0; i < piece->n_buttonholes; i++)
    if (piece->buttonholes[i].id == mark)
      return geo_box_add (geo_box_empty (), piece->buttonholes[i].at);
  for (guint i = 0; i < piece->n_drills; i++)
    if (piece->drills[i].id == mark)
      return geo_box_add (geo_box_empty (), piece->drills[i].at);
  for (guint i = 0; i < piece->n_texts; i++)
    if (piece->texts[i].id == mark)
      return geo_box_add (geo_box_empty (), piece->texts[i].at);
  return app_session_piece_box (s, piece_id);
}

static GeoBox
line_box (AppSession *s, guint id)
{
  GeoBox box = geo_box_empty ();
  const Pattern *p = app_session_get_shown (s);
  for (guint i = 0; i < p->n_lines; i++)
    if (p->lines[i].id == id)
      {
        GeoChain chain = GEO_CHAIN_EMPTY;
        pattern_line_chain (&p->lines[i], &chain);
        box = geo_chain_bounds (&chain);
        geo_chain_clear (&chain);
      }
  return box;
}

static GeoBox
picture_box (AppSession *s, guint id)
{
  GeoBox box = geo_box_empty ();
  const PatternPicture *picture
      = pattern_get_picture (app_session_get_shown (s), id);
  GeoPoint corners[4];
  if (picture == NULL)
    return box;
  pattern_picture_corners (picture, corners);
  for (int i = 0; i < 4; i++)
    box = geo_box_add (box, corners[i]);
  return box;
}

GeoBox
app_session_pick_box (AppSession *s)
{
  const AppPick *pick = &s->pick;
  const PatternPiece *piece = piece_of (s, pick->piece);
  GeoBox box = geo_box_empty ();
  for (guint i = 0; i < pick->n_ids; i++)
    {
      guint id = pick->ids[i];
      if (pick->kind == APP_PICK_PIECES)
        box = geo_box_join (box, app_session_piece_box (s, id));
      else if (pick->kind == APP_PICK_EDGE)
        box = geo_box_join (box, app_session_edge_box (s, pick->piece, id));
      else if (pick->kind == APP_PICK_SEAM)
        box = geo_box_join (box, seam_box (s, id));
      else if (pick->kind == APP_PICK_MARK)
        box = geo_box_join (box, mark_box (s, pick->piece, id));
      else if (pick->kind == APP_PICK_LINE)
        box = geo_box_join (box, line_box (s, id));
      else if (pick->kind == APP_PICK_PICTURE)
        box = geo_box_join (box, picture_box (s, id));
      else if (pick->kind == APP_PICK_NODES && piece != NULL)
        {
          int index = pattern_piece_find_node (piece, id);
          if (index >= 0)
            box = geo_box_add (box, piece->nodes[index].at);
        }
    }
  return box;
}

/* --- in words -------------------------------------------------------------- */

static const char *
edge_words (const PatternEdge *edge)
{
  if (edge->name != NULL && edge->name[0] != '\0')
    return edge->name;
  return _ ("edge without a name");
}

static char *
describe_edge (AppSession *s, const PatternPiece *piece, guint edge_id)
{
  const Pattern *p = app_session_get_shown (s);
  int i = pattern_piece_find_edge (piece, edge_id);
  const SewingPiece *facts = sewing_facts_piece (s->facts, piece);
  if (i < 0 || facts == NULL)
    return g_strdup ("");
  g_autofree char *length
      = pattern_length_format (facts->lengths[i], p->unit, FALSE);
  const PatternSeam *seam
      = pattern_edge_seam (p, piece->id, edge_id, 0, NULL, NULL);
  if (seam != NULL)
    /* Translators: edge, piece, length, seam */
    return g_strdup_printf (_ ("%s, edge of %s, %s, in the seam %s"),
                            edge_words (&piece->edges[i]), piece->name, length,
                            seam->name);
  /* Translators: edge, piece, length */
  return g_strdup_printf (_ ("%s, edge of %s, %s"),
                          edge_words (&piece->edges[i]), piece->name, length);
}

static char *
describe_nodes (AppSession *s, const PatternPiece *piece)
{
  const Pattern *p = app_session_get_shown (s);
  if (s->pick.n_ids > 1)
    return g_strdup_printf (
        ngettext ("%u node of %s", "%u nodes of %s", s->pick.n_ids),
        s->pick.n_ids, piece->name);
  int i = pattern_piece_find_node (piece, s->pick.ids[0]);
  int edge = pattern_piece_find_edge (piece, s->pick.edge);
  if (i < 0)
    return g_strdup ("");
  g_autofree char *x
      = pattern_length_format (piece->nodes[i].at.x, p->unit, FALSE);
  g_autofree char *y
      = pattern_length_format (piece->nodes[i].at.y, p->unit, FALSE);
  const char *kind = piece->nodes[i].kind == PATTERN_NODE_CORNER ? _ ("Corner")
                     : piece->nodes[i].kind == PATTERN_NODE_SMOOTH
                         ? _ ("Smooth node")
                         : _ ("Even node");
  /* Translators: kind of node, edge, how far across, how far down */
  return g_strdup_printf (_ ("%s of %s, at %s across, %s down"), kind,
                          edge >= 0 ? edge_words (&piece->edges[edge]) : "", x,
                          y);
}

char *
app_session_describe_pick (AppSession *s)
{
  const Pattern *p = app_session_get_shown (s);
  const AppPick *pick = &s->pick;
  const PatternPiece *piece = piece_of (s, pick->piece);
  const PatternSeam *seam;
  const PatternPicture *picture;
  switch (pick->kind)
    {
    case APP_PICK_PIECES:
      if (pick->n_ids > 1)
        return g_strdup_printf (ngettext ("%u piece", "%u pieces", pick->n_ids),
                                pick->n_ids);
      return piece != NULL ? g_strdup_printf (_ ("Piece %s"), piece->name)
                           : g_strdup ("");
    case APP_PICK_EDGE:
      return piece != NULL ? describe_edge (s, piece, pick->edge)
                           : g_strdup ("");
    case APP_PICK_NODES:
      return piece != NULL ? describe_nodes (s, piece) : g_strdup ("");
    case APP_PICK_MARK:
      return piece != NULL ? g_strdup_printf (_ ("Mark on %s"), piece->name)
                           : g_strdup ("");
    case APP_PICK_SEAM:
      seam = pattern_get_seam (p, pick->ids[0]);
      return seam != NULL ? g_strdup_printf (_ ("Seam %s"), seam->name)
                          : g_strdup ("");
    case APP_PICK_LINE:
      return g_strdup (_ ("Construction line"));
    case APP_PICK_PICTURE:
      picture = pattern_get_picture (p, pick->ids[0]);
      return picture != NULL ? g_strdup_printf (_ ("Picture %s"), picture->name)
                             : g_strdup ("");
    case APP_PICK_NONE:
    default:
      return g_strdup ("");
    }
}
