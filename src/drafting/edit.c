/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/edit.h"

#include <glib/gi18n.h>
#include <math.h>

#include "drafting/edit-private.h"
#include "geometry/length.h"
#include "sewing/words.h"

/* clang-format off */
G_DEFINE_QUARK (drafting-error-quark, drafting_error)
/* clang-format on */

/* --- refusing --------------------------------------------------------------- */
gboolean
drafting_refuse (GError **error, DraftingError code, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *words = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, DRAFTING_ERROR, (gint)code, words);
  return FALSE;
}

gboolean
drafting_number_is_good (double number, GError **error)
{
  if (!isfinite (number))
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("That is no number. Nothing was changed."));
  if (fabs (number) > DRAFTING_FARTHEST)
    return drafting_refuse (
        error, DRAFTING_ERROR_AMOUNT,
        _ ("That is more than 100 m, which is the most there can be. Nothing "
           "was changed."));
  return TRUE;
}

gboolean
drafting_point_is_good (GeoPoint point, GError **error)
{
  return drafting_number_is_good (point.x, error)
         && drafting_number_is_good (point.y, error);
}

/* --- finding ---------------------------------------------------------------- */
const PatternPiece *
drafting_find_piece (const Pattern *p, guint piece, GError **error)
{
  const PatternPiece *found = pattern_get_piece (p, piece);
  if (!found)
    drafting_refuse (error, DRAFTING_ERROR_GONE,
                     _ ("That piece is no longer in the pattern: it was "
                        "deleted, or its making was undone."));
  return found;
}

const PatternSeam *
drafting_find_seam (const Pattern *p, guint seam, GError **error)
{
  const PatternSeam *found = pattern_get_seam (p, seam);
  if (!found)
    drafting_refuse (error, DRAFTING_ERROR_GONE,
                     _ ("That seam is no longer in the pattern: its pairing "
                        "was taken away or undone."));
  return found;
}

int
drafting_find_edge (const PatternPiece *piece, guint edge, GError **error)
{
  int index = pattern_piece_find_edge (piece, edge);
  if (index < 0)
    {
      g_autofree char *name = sewing_words_piece (piece);
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("That edge of %s is no longer there: it was joined "
                          "to another, or its making was undone."),
                       name);
    }
  return index;
}

int
drafting_find_node (const PatternPiece *piece, guint node, GError **error)
{
  int index = pattern_piece_find_node (piece, node);
  if (index < 0)
    {
      g_autofree char *name = sewing_words_piece (piece);
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("That node of %s is no longer there: it was taken "
                          "out, or its making was undone."),
                       name);
    }
  return index;
}

/* --- changing ---------------------------------------------------------------- */
PatternPiece *
drafting_begin (const Pattern *p, guint piece, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  const PatternPiece *found = drafting_find_piece (p, piece, error);
  return found ? pattern_piece_dup (found) : NULL;
}

PatternPiece *
drafting_begin_edge (const Pattern *p, guint piece, guint edge, guint *index,
                     GError **error)
{
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  int found = copy ? drafting_find_edge (copy, edge, error) : -1;
  if (found < 0)
    return NULL;
  *index = (guint)found;
  return g_steal_pointer (&copy);
}

PatternPiece *
drafting_begin_node (const Pattern *p, guint piece, guint node, guint *index,
                     GError **error)
{
  g_autoptr (PatternPiece) copy = drafting_begin (p, piece, error);
  int found = copy ? drafting_find_node (copy, node, error) : -1;
  if (found < 0)
    return NULL;
  *index = (guint)found;
  return g_steal_pointer (&copy);
}

static gboolean
in_reach (GeoPoint p)
{
  return isfinite (p.x) && isfinite (p.y) && fabs (p.x) <= DRAFTING_FARTHEST
         && fabs (p.y) <= DRAFTING_FARTHEST;
}

static gboolean
nodes_in_reach (const PatternNode *nodes, guint n)
{
  for (guint i = 0; i < n; i++)
    if (!in_reach (nodes[i].at) || !in_reach (nodes[i].in)
        || !in_reach (nodes[i].out))
      return FALSE;
  return TRUE;
}

gboolean
drafting_piece_in_reach (const PatternPiece *piece)
{
  gboolean in = nodes_in_reach (piece->nodes, piece->n_nodes);
  for (guint i = 0; i < piece->n_lines; i++)
    in = in && nodes_in_reach (piece->lines[i].nodes, piece->lines[i].n_nodes);
  for (guint i = 0; i < piece->n_buttonholes; i++)
    in = in && in_reach (piece->buttonholes[i].at);
  for (guint i = 0; i < piece->n_drills; i++)
    in = in && in_reach (piece->drills[i].at);
  for (guint i = 0; i < piece->n_texts; i++)
    in = in && in_reach (piece->texts[i].at);
  for (guint i = 0; i < piece->n_notches; i++)
    in = in && fabs (piece->notches[i].amount) <= DRAFTING_FARTHEST;
  if (piece->has_grain)
    in = in && in_reach (piece->grain_from) && in_reach (piece->grain_to);
  return in;
}

Pattern *
drafting_finish_marks (const Pattern *p, PatternPiece *piece, const guint *next)
{
  Pattern *result = pattern_dup (p);
  if (next && *next > result->next_id)
    result->next_id = *next;
  pattern_put_piece (result, piece);
  return result;
}

Pattern *
drafting_finish (const Pattern *p, PatternPiece *piece, const guint *next,
                 GError **error)
{
  g_autoptr (PatternPiece) own = piece;
  g_autofree char *name = sewing_words_piece (piece);
  if (!drafting_piece_in_reach (piece))
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("That would put a part of %s more than 100 m away. "
                          "Nothing was changed."),
                       name);
      return NULL;
    }
  const PatternPiece *old = pattern_get_piece (p, piece->id);
  double area = pattern_piece_area (piece);
  if (fabs (area) < DRAFTING_LEAST_AREA
      && !(old && pattern_piece_area (old) < DRAFTING_LEAST_AREA))
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("That would leave no area in %s, and nothing could "
                          "be cut from it. Nothing was changed; move it less "
                          "far, or another way."),
                       name);
      return NULL;
    }
  gboolean turned = area < 0;
  if (turned)
    pattern_piece_turn_round (piece);
  Pattern *result = drafting_finish_marks (p, g_steal_pointer (&own), next);
  if (turned)
    pattern_turn_runs (result, piece->id);
  return result;
}

/* --- seams that follow edges ------------------------------------------------- */
static gboolean
run_is (const PatternRun *run, guint piece, guint edge)
{
  return run->piece == piece && run->edge == edge;
}

/* The side with `added` walked after `edge` in the edge's own direction. */
static gboolean
split_side (PatternSide *side, guint piece, guint edge, guint added)
{
  g_autoptr (GArray) runs = g_array_new (FALSE, FALSE, sizeof (PatternRun));
  for (guint r = 0; r < side->n_runs; r++)
    {
      PatternRun run = side->runs[r], more = run;
      more.edge = added;
      if (run_is (&run, piece, edge) && run.reversed)
        g_array_append_val (runs, more);
      g_array_append_val (runs, run);
      if (run_is (&run, piece, edge) && !run.reversed)
        g_array_append_val (runs, more);
    }
  gboolean changed = runs->len != side->n_runs;
  g_free (side->runs);
  side->n_runs = runs->len;
  side->runs
      = (PatternRun *)(gpointer)g_array_free (g_steal_pointer (&runs), FALSE);
  return changed;
}

void
drafting_runs_split (Pattern *p, guint piece, guint edge, guint added)
{
  for (guint i = 0; i < p->n_seams; i++)
    {
      g_autoptr (PatternSeam) seam = pattern_seam_dup (p->seams[i]);
      gboolean a = split_side (&seam->sides[0], piece, edge, added);
      gboolean b = split_side (&seam->sides[1], piece, edge, added);
      if (a || b)
        pattern_put_seam (p, g_steal_pointer (&seam));
    }
}

static gboolean
join_side (PatternSide *side, guint piece, guint gone, guint heir)
{
  gboolean has_heir = FALSE, changed = FALSE;
  for (guint r = 0; r < side->n_runs; r++)
    has_heir = has_heir || run_is (&side->runs[r], piece, heir);
  guint kept = 0;
  for (guint r = 0; r < side->n_runs; r++)
    {
      PatternRun run = side->runs[r];
      if (run_is (&run, piece, gone))
        {
          changed = TRUE;
          if (has_heir)
            continue;
          has_heir = TRUE;
          run.edge = heir;
        }
      side->runs[kept++] = run;
    }
  side->n_runs = kept;
  return changed;
}

void
drafting_runs_join (Pattern *p, guint piece, guint gone, guint heir)
{
  for (guint i = 0; i < p->n_seams; i++)
    {
      g_autoptr (PatternSeam) seam = pattern_seam_dup (p->seams[i]);
      gboolean a = join_side (&seam->sides[0], piece, gone, heir);
      gboolean b = join_side (&seam->sides[1], piece, gone, heir);
      if (a || b)
        pattern_put_seam (p, g_steal_pointer (&seam));
    }
}

/* --- shapes ------------------------------------------------------------------- */
double
drafting_edge_length (const PatternPiece *piece, guint edge_index)
{
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_edge_chain (piece, edge_index, &chain);
  double length = geo_chain_length (&chain, DRAFTING_EXACT);
  geo_chain_clear (&chain);
  return length;
}

GeoBox
drafting_bounds (const PatternPiece *piece)
{
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_outline (piece, &chain);
  GeoBox box
      = chain.count > 0 ? geo_chain_bounds (&chain) : (GeoBox){ 0, 0, 0, 0 };
  geo_chain_clear (&chain);
  return box;
}
