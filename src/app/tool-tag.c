/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the hang tag says. */
#include <glib/gi18n.h>

#include "app/tool-tag.h"
#include "app/words.h"

static double
edge_length (AppSession *session, guint piece_id, guint edge_id)
{
  const PatternPiece *piece
      = pattern_get_piece (app_session_get_shown (session), piece_id);
  int i = piece != NULL ? pattern_piece_find_edge (piece, edge_id) : -1;
  const SewingPiece *facts
      = i >= 0 ? sewing_facts_piece (app_session_get_facts (session), piece)
               : NULL;
  return facts != NULL ? facts->lengths[i] : -1;
}

char *
app_edge_name (const PatternPiece *piece, const PatternEdge *edge)
{
  if (edge->name != NULL && edge->name[0] != '\0')
    return g_strdup (edge->name);
  if (piece->name != NULL && piece->name[0] != '\0')
    return g_strdup_printf (_ ("edge of %s"), piece->name);
  return g_strdup (_ ("edge"));
}

char *
app_tag_edge (AppSession *session, guint piece_id, guint edge_id)
{
  const Pattern *p = app_session_get_shown (session);
  const PatternPiece *piece = NULL;
  const PatternEdge *edge = pattern_get_edge (p, piece_id, edge_id, &piece);
  if (edge == NULL)
    return NULL;
  g_autofree char *name = app_edge_name (piece, edge);
  g_autofree char *length = pattern_length_format (
      edge_length (session, piece_id, edge_id), p->unit, FALSE);
  return g_strdup_printf ("%s  %s", name, length);
}

static char *
seam_name (const Pattern *p, const PatternSeam *seam)
{
  if (seam->name != NULL && seam->name[0] != '\0')
    return g_strdup (seam->name);
  const PatternSide *other = &seam->sides[1];
  const PatternPiece *piece = NULL;
  const PatternEdge *edge = other->n_runs > 0
                                ? pattern_get_edge (p, other->runs[0].piece,
                                                    other->runs[0].edge, &piece)
                                : NULL;
  if (edge != NULL && edge->name[0] != '\0')
    return g_strdup_printf (_ ("seam at %s"), edge->name);
  return g_strdup (_ ("seam"));
}

char *
app_tag_seam (AppSession *session, const PatternSeam *seam)
{
  const Pattern *p = app_session_get_shown (session);
  const SewingSeam *facts
      = sewing_facts_seam (app_session_get_facts (session), p, seam);
  if (facts == NULL)
    return NULL;
  g_autofree char *name = seam_name (p, seam);
  g_autofree char *state = app_words_seam_state (p, facts, NULL);
  return g_strdup_printf ("%s  %s", name, state);
}

void
app_tag_start_edge (AppTagStart *start, AppSession *session, guint piece,
                    guint edge)
{
  for (guint i = 0; i < start->n; i++)
    if (start->edges[i].piece == piece && start->edges[i].edge == edge)
      return;
  double length = edge_length (session, piece, edge);
  if (start->n == G_N_ELEMENTS (start->edges) || length < 0)
    return;
  start->edges[start->n++] = (AppTagEdge){ piece, edge, length };
}

static void
start_beside (AppTagStart *start, AppSession *session,
              const PatternPiece *piece, guint node_index)
{
  guint edge = pattern_piece_edge_of_node (piece, node_index);
  app_tag_start_edge (start, session, piece->id, piece->edges[edge].id);
  if (piece->edges[edge].first == node_index)
    app_tag_start_edge (
        start, session, piece->id,
        piece->edges[(edge + piece->n_edges - 1) % piece->n_edges].id);
}

void
app_tag_start_pick (AppTagStart *start, AppSession *session)
{
  const AppPick *pick = app_session_get_pick (session);
  const PatternPiece *piece
      = pick->piece != 0
            ? pattern_get_piece (app_session_get_shown (session), pick->piece)
            : NULL;
  start->n = 0;
  if (piece == NULL
      || (pick->kind != APP_PICK_EDGE && pick->kind != APP_PICK_NODES))
    return;
  app_tag_start_edge (start, session, piece->id, pick->edge);
  int edge = pattern_piece_find_edge (piece, pick->edge);
  if (pick->kind == APP_PICK_EDGE && edge >= 0)
    {
      start_beside (start, session, piece, piece->edges[edge].first);
      start_beside (start, session, piece,
                    pattern_piece_edge_last (piece, (guint)edge)
                        % piece->n_nodes);
    }
  for (guint i = 0; pick->kind == APP_PICK_NODES && i < pick->n_ids; i++)
    {
      int node = pattern_piece_find_node (piece, pick->ids[i]);
      if (node >= 0)
        start_beside (start, session, piece, (guint)node);
    }
}

static void
add_line (GString *text, const char *line)
{
  if (text->len > 0)
    g_string_append_c (text, '\n');
  g_string_append (text, line);
}

static gboolean
seen_before (const guint *seen, guint n, guint id)
{
  for (guint i = 0; i < n; i++)
    if (seen[i] == id)
      return TRUE;
  return FALSE;
}

static void
add_seams (GString *text, AppSession *session, const AppTagStart *start)
{
  const Pattern *p = app_session_get_shown (session);
  guint seen[4], n_seen = 0;
  for (guint i = 0; i < start->n; i++)
    {
      const PatternSeam *seam;
      for (guint n = 0;
           n_seen < G_N_ELEMENTS (seen)
           && (seam = pattern_edge_seam (p, start->edges[i].piece,
                                         start->edges[i].edge, n, NULL, NULL))
                  != NULL;
           n++)
        {
          if (seen_before (seen, n_seen, seam->id))
            continue;
          seen[n_seen++] = seam->id;
          g_autofree char *line = app_tag_seam (session, seam);
          if (line != NULL)
            add_line (text, line);
        }
    }
}

/* The unit stands beside it already, but where a rest in mm is told with inches. */
static char *
change_words (double mm, PatternUnit unit)
{
  char *text = pattern_length_format_change (mm, unit);
  g_autofree char *tail = g_strconcat (" ", pattern_unit_word (unit), NULL);
  if (unit != PATTERN_INCH && g_str_has_suffix (text, tail))
    text[strlen (text) - strlen (tail)] = '\0';
  return text;
}

char *
app_tag_changes (const AppTagStart *start, AppSession *session)
{
  const Pattern *p = app_session_get_shown (session);
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < start->n; i++)
    {
      const AppTagEdge *edge = &start->edges[i];
      double now = edge_length (session, edge->piece, edge->edge);
      g_autofree char *line
          = now >= 0 ? app_tag_edge (session, edge->piece, edge->edge) : NULL;
      if (line == NULL)
        continue;
      g_autofree char *change = change_words (now - edge->length, p->unit);
      g_autofree char *whole = g_strdup_printf ("%s  %s", line, change);
      add_line (text, whole);
    }
  add_seams (text, session, start);
  if (text->len > 0)
    return g_string_free (text, FALSE);
  g_string_free (text, TRUE);
  return NULL;
}
