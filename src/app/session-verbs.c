/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verbs on what is picked. */
#include <glib/gi18n.h>

#include "app/session-private.h"

/* Takes a step that is made of several verbs on to the next: owns what it is
 * given and returns. */
static Pattern *
then (Pattern *before, Pattern *after)
{
  pattern_unref (before);
  return after;
}

static Pattern *
delete_pieces (const Pattern *p, const AppPick *pick, GError **error)
{
  Pattern *result = pattern_ref (p);
  for (guint i = 0; i < pick->n_ids && result != NULL; i++)
    result = then (result, drafting_remove_piece (result, pick->ids[i], error));
  return result;
}

static Pattern *
delete_nodes (const Pattern *p, const AppPick *pick, GError **error)
{
  Pattern *result = pattern_ref (p);
  for (guint i = 0; i < pick->n_ids && result != NULL; i++)
    result = then (result, drafting_remove_node (result, pick->piece,
                                                 pick->ids[i], error));
  return result;
}

static Pattern *
delete_line (const Pattern *p, guint line)
{
  Pattern *result = pattern_dup (p);
  pattern_remove_line (result, line);
  return result;
}

void
app_session_delete_pick (AppSession *s)
{
  const Pattern *p = app_session_get_pattern (s);
  const AppPick *pick = &s->pick;
  GError *error = NULL;
  switch (pick->kind)
    {
    case APP_PICK_PIECES:
      app_session_do (s,
                      ngettext ("delete piece", "delete pieces", pick->n_ids),
                      NULL, delete_pieces (p, pick, &error), &error);
      break;
    case APP_PICK_NODES:
      app_session_do (s, ngettext ("delete node", "delete nodes", pick->n_ids),
                      NULL, delete_nodes (p, pick, &error), &error);
      break;
    case APP_PICK_MARK:
      app_session_do (
          s, _ ("delete mark"), NULL,
          drafting_remove_mark (p, pick->piece, pick->ids[0], &error), &error);
      break;
    case APP_PICK_SEAM:
      app_session_do (s, _ ("undo seam pairing"), NULL,
                      drafting_remove_seam (p, pick->ids[0], &error), &error);
      break;
    case APP_PICK_LINE:
      app_session_do (s, _ ("delete line"), NULL, delete_line (p, pick->ids[0]),
                      NULL);
      break;
    case APP_PICK_PICTURE:
      app_session_do (s, _ ("take a picture away"), NULL,
                      drafting_remove_picture (p, pick->ids[0], &error),
                      &error);
      break;
    case APP_PICK_EDGE:
      g_signal_emit_by_name (
          s, "problem",
          _ ("An edge is part of its piece's outline and can't be taken out. "
             "Pick a node on it, or the whole piece, and delete that."));
      break;
    case APP_PICK_NONE:
    default:
      break;
    }
}

/* The notch goes along its edge by what the arrow has along the edge's direction, at
 * least so far that the arrow always does something. */
static Pattern *
nudge_notch (AppSession *s, const PatternPiece *piece,
             const PatternNotch *notch, GeoPoint by, GError **error)
{
  const SewingPiece *facts = sewing_facts_piece (s->facts, piece);
  int edge = pattern_piece_find_edge (piece, notch->edge);
  if (facts == NULL || edge < 0)
    return pattern_ref (app_session_get_pattern (s));
  double at = pattern_notch_place (notch, facts->lengths[edge]);
  GeoPoint along = geo_chain_tangent (
      &facts->stitch[edge], geo_ruler_place (&facts->rulers[edge], at));
  double share = geo_dot (along, by);
  double whole = geo_norm (by);
  double step = share < 0 ? -whole : whole;
  return drafting_move_notch (app_session_get_pattern (s), piece->id, notch->id,
                              at + step, error);
}

static Pattern *
nudge_mark (AppSession *s, const AppPick *pick, GeoPoint by, GError **error)
{
  const Pattern *p = app_session_get_pattern (s);
  const PatternPiece *piece = pattern_get_piece (p, pick->piece);
  if (piece == NULL)
    return pattern_ref (app_session_get_pattern (s));
  const PatternNotch *notch = pattern_piece_get_notch (piece, pick->ids[0]);
  if (notch != NULL)
    return nudge_notch (s, piece, notch, by, error);
  return drafting_move_mark (p, pick->piece, pick->ids[0], by, error);
}

void
app_session_nudge (AppSession *s, double dx, double dy)
{
  const Pattern *p = app_session_get_pattern (s);
  const AppPick *pick = &s->pick;
  GeoPoint by = geo_point (dx, dy);
  GError *error = NULL;
  g_autofree char *merge = g_strdup_printf (
      "nudge %d %u %u %u %u", (int)pick->kind, pick->piece, pick->edge,
      pick->n_ids, pick->n_ids > 0 ? pick->ids[0] : 0);
  switch (pick->kind)
    {
    case APP_PICK_PIECES:
      app_session_do (
          s, ngettext ("move piece", "move pieces", pick->n_ids), merge,
          drafting_move_pieces (p, pick->ids, pick->n_ids,
                                (GeoMotion){ 1, 0, dx, dy, false }, &error),
          &error);
      break;
    case APP_PICK_EDGE:
      app_session_do (
          s, _ ("move edge"), merge,
          drafting_move_edge (p, pick->piece, pick->edge, by, &error), &error);
      break;
    case APP_PICK_NODES:
      app_session_do (s, ngettext ("move node", "move nodes", pick->n_ids),
                      merge,
                      drafting_move_nodes (p, pick->piece, pick->ids,
                                           pick->n_ids, by, &error),
                      &error);
      break;
    case APP_PICK_MARK:
      app_session_do (s, _ ("move mark"), merge,
                      nudge_mark (s, pick, by, &error), &error);
      break;
    case APP_PICK_PICTURE:
      app_session_do (s, _ ("move a picture"), merge,
                      drafting_move_picture (p, pick->ids[0], by, 0, &error),
                      &error);
      break;
    case APP_PICK_NONE:
    case APP_PICK_SEAM:
    case APP_PICK_LINE:
    default:
      break;
    }
}

/* The pieces a whole-piece verb is about. A copy: doing may change the pick. */
static guint *
picked_pieces (AppSession *s, guint *n)
{
  *n = 0;
  if (s->pick.kind == APP_PICK_PIECES)
    {
      *n = s->pick.n_ids;
      return g_memdup2 (s->pick.ids, s->pick.n_ids * sizeof (guint));
    }
  if (s->pick.piece == 0)
    return NULL;
  *n = 1;
  return g_memdup2 (&s->pick.piece, sizeof (guint));
}

void
app_session_turn_pick (AppSession *s, double angle)
{
  guint n;
  GError *error = NULL;
  if (s->pick.kind == APP_PICK_PICTURE)
    {
      app_session_do (s, _ ("turn a picture"), NULL,
                      drafting_move_picture (app_session_get_pattern (s),
                                             s->pick.ids[0], geo_point (0, 0),
                                             angle, &error),
                      &error);
      return;
    }
  g_autofree guint *pieces = picked_pieces (s, &n);
  if (n == 0)
    return;
  Pattern *result = pattern_ref (app_session_get_pattern (s));
  for (guint i = 0; i < n && result != NULL; i++)
    result
        = then (result, drafting_turn_piece (result, pieces[i], angle, &error));
  app_session_do (s, ngettext ("turn piece", "turn pieces", n), NULL, result,
                  &error);
}

void
app_session_mirror_pick (AppSession *s)
{
  guint n;
  g_autofree guint *pieces = picked_pieces (s, &n);
  if (n == 0)
    return;
  GError *error = NULL;
  Pattern *result = pattern_ref (app_session_get_pattern (s));
  for (guint i = 0; i < n && result != NULL; i++)
    result = then (result, drafting_mirror_piece (result, pieces[i], &error));
  app_session_do (s, ngettext ("turn piece over", "turn pieces over", n), NULL,
                  result, &error);
}

void
app_session_copy_pick (AppSession *s, gboolean mirrored)
{
  guint n;
  g_autofree guint *pieces = picked_pieces (s, &n);
  if (n == 0)
    return;
  GError *error = NULL;
  Pattern *result = pattern_ref (app_session_get_pattern (s));
  for (guint i = 0; i < n && result != NULL; i++)
    result = then (result, drafting_copy_piece (result, pieces[i], mirrored,
                                                &pieces[i], &error));
  if (!app_session_do (s, ngettext ("copy piece", "copy pieces", n), NULL,
                       result, &error))
    return;
  app_session_pick_piece (s, pieces[0], FALSE);
  for (guint i = 1; i < n; i++)
    app_session_pick_piece (s, pieces[i], TRUE);
}

void
app_session_mend_by (AppSession *s, const SewingRemedy *remedy)
{
  g_return_if_fail (remedy != NULL);
  if (remedy->kind == SEWING_REMEDY_NONE)
    return;
  GError *error = NULL;
  /* The step outlives the finding. */
  g_autofree char *label
      = g_strdup (remedy->label != NULL ? remedy->label : _ ("mend"));
  app_session_do (s, label, NULL,
                  drafting_mend (app_session_get_pattern (s), remedy, &error),
                  &error);
}

void
app_session_mend (AppSession *s, const SewingFinding *finding)
{
  g_return_if_fail (finding != NULL);
  app_session_mend_by (s, &finding->remedy);
}
