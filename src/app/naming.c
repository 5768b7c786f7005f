/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/naming.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/words.h"
#include "drafting/edge-names.h"
#include "sewing/words.h"

#define GUESSES 5

static const PatternPiece *
piece_in_hand (AppSession *s, int *edge)
{
  const AppPick *pick = app_session_get_pick (s);
  *edge = -1;
  if (pick->kind != APP_PICK_EDGE)
    return NULL;
  const PatternPiece *piece
      = pattern_get_piece (app_session_get_pattern (s), pick->piece);
  *edge = piece ? pattern_piece_find_edge (piece, pick->edge) : -1;
  return *edge < 0 ? NULL : piece;
}

static void
take_up (AppSession *s, const PatternPiece *piece, guint edge)
{
  app_session_pick_edge (s, piece->id, piece->edges[edge].id);
}

/* -1 where all have names. */
static int
next_unnamed (const PatternPiece *piece, guint from)
{
  for (guint i = 0; i < piece->n_edges; i++)
    {
      guint edge = (from + i) % piece->n_edges;
      if (piece->edges[edge].name[0] == '\0')
        return (int)edge;
    }
  return -1;
}

gboolean
app_naming_begin (AppSession *session)
{
  const AppPick *pick = app_session_get_pick (session);
  guint id = pick->kind == APP_PICK_PIECES && pick->n_ids > 0 ? pick->ids[0]
                                                              : pick->piece;
  const Pattern *p = app_session_get_pattern (session);
  const PatternPiece *piece = id ? pattern_get_piece (p, id) : NULL;
  if (!piece && p->n_pieces == 1)
    piece = p->pieces[0];
  if (!piece || piece->n_edges == 0)
    {
      g_signal_emit_by_name (session, "problem",
                             _ ("Pick the piece whose edges want names."));
      return FALSE;
    }
  int own = pick->kind == APP_PICK_EDGE
                ? pattern_piece_find_edge (piece, pick->edge)
                : -1;
  int edge = next_unnamed (piece, own < 0 ? 0 : (guint)own);
  take_up (session, piece, edge >= 0 ? (guint)edge : own < 0 ? 0 : (guint)own);
  return TRUE;
}

void
app_naming_step (AppSession *session, int by)
{
  int edge;
  const PatternPiece *piece = piece_in_hand (session, &edge);
  if (!piece)
    return;
  int n = (int)piece->n_edges;
  take_up (session, piece, (guint)(((edge + by) % n + n) % n));
}

/* --- what is offered --------------------------------------------------------------- */

static void
clear_offer (gpointer data)
{
  g_free (((AppNameOffer *)data)->name);
}

static void
add_offer (GArray *offers, guint room, const char *name, gboolean guess,
           gboolean typed)
{
  for (guint i = 0; i < offers->len; i++)
    if (strcmp (g_array_index (offers, AppNameOffer, i).name, name) == 0)
      return;
  AppNameOffer offer = { g_strdup (name), guess, typed };
  if (offers->len < room)
    g_array_append_val (offers, offer);
  else
    g_free (offer.name);
}

/* At the start of one of its words. */
static gboolean
has_word (const char *name, const char *typed)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);
  g_autofree char *wanted = g_utf8_casefold (typed, -1);
  for (const char *at = strstr (folded, wanted); at;
       at = strstr (at + 1, wanted))
    if (at == folded || at[-1] == ' ' || at[-1] == '-')
      return TRUE;
  return FALSE;
}

GArray *
app_naming_offers (AppSession *session, const char *typed, guint room)
{
  GArray *offers = g_array_new (FALSE, FALSE, sizeof (AppNameOffer));
  g_array_set_clear_func (offers, clear_offer);
  int edge;
  const PatternPiece *piece = piece_in_hand (session, &edge);
  if (!piece)
    return offers;
  guint n;
  const DraftingEdgeName *names = drafting_edge_names (&n);
  g_autofree char *plain = g_strstrip (g_strdup (typed ? typed : ""));
  g_autofree int *guesses = g_new (int, piece->n_edges *GUESSES);
  drafting_guess_edge_names (piece, GUESSES, guesses);
  const int *own = guesses + (guint)edge * GUESSES;
  for (guint i = 0; i < GUESSES && own[i] >= 0; i++)
    if (*plain == '\0' || has_word (_ (names[own[i]].name), plain))
      add_offer (offers, room, _ (names[own[i]].name), i == 0, FALSE);
  /* Room is left for her own word. */
  for (guint i = 0; i < n; i++)
    if (*plain == '\0' ? own[0] < 0 : has_word (_ (names[i].name), plain))
      add_offer (offers, *plain ? room - 1 : room, _ (names[i].name), FALSE,
                 FALSE);
  if (*plain != '\0')
    {
      if (offers->len >= room)
        g_array_set_size (offers, room - 1);
      add_offer (offers, room, plain, FALSE, TRUE);
    }
  return offers;
}

/* --- naming ------------------------------------------------------------------------- */

gboolean
app_naming_take (AppSession *session, const char *name)
{
  int edge;
  const PatternPiece *piece = piece_in_hand (session, &edge);
  if (!piece)
    return FALSE;
  guint id = piece->id, edge_id = piece->edges[edge].id;
  GError *error = NULL;
  g_autoptr (PatternStep) step = pattern_step_new ("name-edge");
  g_autofree char *where = g_strdup_printf ("%u/%u", id, edge_id);
  pattern_step_set (step, "edge", where);
  pattern_step_set (step, "name", name);
  Pattern *result = drafting_name_edge (app_session_get_pattern (session), id,
                                        edge_id, name, &error);
  if (result)
    app_session_tell_step (session, step);
  if (!app_session_do (session, _ ("name an edge"), NULL, result, &error))
    return FALSE;
  piece = pattern_get_piece (app_session_get_pattern (session), id);
  int next = piece ? next_unnamed (piece, (guint)edge) : -1;
  if (next >= 0)
    take_up (session, piece, (guint)next);
  return TRUE;
}

/* --- words ---------------------------------------------------------------------------- */

guint
app_naming_left (AppSession *session, guint *which, guint *of)
{
  int edge;
  const PatternPiece *piece = piece_in_hand (session, &edge);
  guint left = 0;
  for (guint i = 0; piece && i < piece->n_edges; i++)
    left += piece->edges[i].name[0] == '\0';
  if (which)
    *which = piece ? (guint)edge + 1 : 0;
  if (of)
    *of = piece ? piece->n_edges : 0;
  return left;
}

char *
app_naming_title (AppSession *session)
{
  int edge;
  const PatternPiece *piece = piece_in_hand (session, &edge);
  if (!piece)
    return g_strdup (_ ("Names of edges"));
  guint left = app_naming_left (session, NULL, NULL);
  const char *name = piece->name[0] ? piece->name : _ ("the piece");
  if (left == 0)
    return g_strdup_printf (_ ("All edges of %s have names"), name);
  return g_strdup_printf (ngettext ("%s: %u edge without a name",
                                    "%s: %u edges without a name", left),
                          name, left);
}

char *
app_naming_words (AppSession *session)
{
  int edge;
  const PatternPiece *piece = piece_in_hand (session, &edge);
  if (!piece)
    return g_strdup ("");
  const Pattern *p = app_session_get_pattern (session);
  const SewingPiece *facts
      = sewing_facts_piece (app_session_get_facts (session), piece);
  g_autofree char *length = sewing_words_length (p, facts->lengths[edge]);
  const char *name = piece->edges[edge].name;
  if (name[0] == '\0')
    return g_strdup_printf (_ ("edge %d of %u, %s"), edge + 1, piece->n_edges,
                            length);
  return g_strdup_printf (_ ("edge %d of %u, %s: %s"), edge + 1, piece->n_edges,
                          length, name);
}
