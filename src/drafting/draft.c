/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a drafter says it drafts, gathered. */
#include <string.h>

#include "drafting/recipe.h"

/* --- life ------------------------------------------------------------------------- */
static void
clear_edge (gpointer data)
{
  DraftEdge *edge = data;
  g_free (edge->part);
  g_free (edge->name);
}

static void
clear_notch (gpointer data)
{
  DraftNotch *notch = data;
  g_free (notch->part);
  g_free (notch->edge);
}

static void
clear_mark (gpointer data)
{
  g_free (((DraftMark *)data)->part);
}

static void
clear_line (gpointer data)
{
  DraftLine *line = data;
  g_free (line->part);
  g_free (line->line.name);
  g_free (line->line.nodes);
}

static void
clear_run (gpointer data)
{
  DraftRun *run = data;
  g_free (run->piece);
  g_free (run->edge);
}

static void
clear_span (gpointer data)
{
  DraftSpan *span = data;
  g_free (span->from);
  g_free (span->to);
}

static void
clear_seam (gpointer data)
{
  DraftSeam *seam = data;
  g_free (seam->part);
  g_free (seam->name);
  g_array_free (seam->sides[0], TRUE);
  g_array_free (seam->sides[1], TRUE);
  g_array_free (seam->spans, TRUE);
}

static GArray *
new_array (gsize size, GDestroyNotify clear)
{
  GArray *array = g_array_new (FALSE, FALSE, (guint)size);
  if (clear)
    g_array_set_clear_func (array, clear);
  return array;
}

static DraftingDraftPiece *
piece_new (void)
{
  DraftingDraftPiece *piece = g_new0 (DraftingDraftPiece, 1);
  piece->edges = new_array (sizeof (DraftEdge), clear_edge);
  piece->notches = new_array (sizeof (DraftNotch), clear_notch);
  piece->marks = new_array (sizeof (DraftMark), clear_mark);
  piece->lines = new_array (sizeof (DraftLine), clear_line);
  piece->cuts = new_array (sizeof (PatternCut), NULL);
  return piece;
}

static void
piece_free (gpointer data)
{
  DraftingDraftPiece *piece = data;
  g_array_free (piece->edges, TRUE);
  g_array_free (piece->notches, TRUE);
  g_array_free (piece->marks, TRUE);
  g_array_free (piece->lines, TRUE);
  g_array_free (piece->cuts, TRUE);
  for (guint i = 0; i < piece->n_nodes; i++)
    g_free (piece->node_parts[i]);
  g_free (piece->node_parts);
  g_free (piece->nodes);
  g_free (piece->firsts);
  g_free (piece->part);
  g_free (piece->name);
  g_free (piece->note);
  g_free (piece);
}

DraftingDraft *
drafting_draft_new (void)
{
  DraftingDraft *draft = g_new0 (DraftingDraft, 1);
  draft->pieces = g_ptr_array_new_with_free_func (piece_free);
  draft->seams = new_array (sizeof (DraftSeam), clear_seam);
  draft->words = g_string_new (NULL);
  return draft;
}

void
drafting_draft_free (DraftingDraft *draft)
{
  if (draft == NULL)
    return;
  g_ptr_array_free (draft->pieces, TRUE);
  g_array_free (draft->seams, TRUE);
  g_string_free (draft->words, TRUE);
  g_free (draft);
}

/* --- pieces ----------------------------------------------------------------------- */
static void
add_edge (DraftingDraftPiece *piece, const char *part, guint first)
{
  DraftEdge edge = { .part = g_strdup_printf ("%s/e:%s", piece->part, part),
                     .name = g_strdup ("") };
  g_array_append_val (piece->edges, edge);
  piece->firsts = g_renew (guint, piece->firsts, piece->edges->len);
  piece->firsts[piece->edges->len - 1] = first;
}

DraftingDraftPiece *
drafting_draft_add_piece (DraftingDraft *draft, const char *part,
                          const char *name, const DraftingDraftNode *outline,
                          guint n_nodes)
{
  g_return_val_if_fail (draft != NULL && part != NULL && outline != NULL, NULL);
  g_return_val_if_fail (n_nodes > 0 && outline[0].edge != NULL, NULL);
  g_return_val_if_fail (pattern_part_is_piece (part), NULL);
  DraftingDraftPiece *piece = piece_new ();
  piece->part = g_strdup (part);
  piece->name = g_strdup (name ? name : "");
  piece->nodes = g_new (PatternNode, n_nodes);
  piece->node_parts = g_new (char *, n_nodes);
  piece->n_nodes = n_nodes;
  for (guint i = 0; i < n_nodes; i++)
    {
      piece->nodes[i] = outline[i].node;
      piece->node_parts[i] = g_strdup_printf ("%s/n:%s", part, outline[i].part);
      if (outline[i].edge)
        add_edge (piece, outline[i].edge, i);
    }
  g_ptr_array_add (draft->pieces, piece);
  return piece;
}

DraftingDraftPiece *
drafting_draft_on_piece (DraftingDraft *draft, guint piece)
{
  g_return_val_if_fail (draft != NULL && piece != 0, NULL);
  for (guint i = 0; i < draft->pieces->len; i++)
    {
      DraftingDraftPiece *own = draft->pieces->pdata[i];
      if (own->on == piece)
        return own;
    }
  DraftingDraftPiece *own = piece_new ();
  own->on = piece;
  own->part = g_strdup_printf ("on%u", piece);
  g_ptr_array_add (draft->pieces, own);
  return own;
}

void
drafting_draft_set_edge (DraftingDraftPiece *piece, const char *edge,
                         const char *name, PatternEdgeKind kind,
                         double allowance, GeoCorner corner)
{
  g_return_if_fail (piece != NULL && edge != NULL);
  g_autofree char *part = g_strdup_printf ("%s/e:%s", piece->part, edge);
  for (guint i = 0; i < piece->edges->len; i++)
    {
      DraftEdge *own = &g_array_index (piece->edges, DraftEdge, i);
      if (strcmp (own->part, part) != 0)
        continue;
      pattern_set_string (&own->name, name ? name : "");
      own->kind = kind;
      own->allowance = allowance;
      own->corner = corner;
      return;
    }
  g_critical ("no edge “%s” is drafted", part);
}

void
drafting_draft_set_grain (DraftingDraftPiece *piece, GeoPoint from, GeoPoint to)
{
  g_return_if_fail (piece != NULL && piece->on == 0);
  piece->has_grain = TRUE;
  piece->grain_from = from;
  piece->grain_to = to;
}

void
drafting_draft_add_cut (DraftingDraftPiece *piece, PatternClothUse use,
                        int count, gboolean mirrored)
{
  g_return_if_fail (piece != NULL && piece->on == 0);
  PatternCut cut = { (guint)use, count, mirrored };
  g_array_append_val (piece->cuts, cut);
}

void
drafting_draft_set_note (DraftingDraftPiece *piece, const char *note)
{
  g_return_if_fail (piece != NULL);
  pattern_set_string (&piece->note, note);
}

/* --- marks ------------------------------------------------------------------------ */
static char *
mark_part (const DraftingDraftPiece *piece, const char *part)
{
  return g_strdup_printf ("%s/m:%s", piece->part, part);
}

void
drafting_draft_add_notch (DraftingDraftPiece *piece, const char *part,
                          const char *edge, int count, PatternNotchFrom from,
                          double amount)
{
  g_return_if_fail (piece != NULL && part != NULL && edge != NULL);
  DraftNotch notch = {
    .part = mark_part (piece, part),
    .edge = g_strdup_printf ("%s/e:%s", piece->part, edge),
    .notch = { .count = count, .from = from, .amount = amount },
  };
  if (piece->on != 0)
    notch.notch.edge = (guint)g_ascii_strtoull (edge, NULL, 10);
  g_array_append_val (piece->notches, notch);
}

void
drafting_draft_add_buttonhole (DraftingDraftPiece *piece, const char *part,
                               GeoPoint at, double angle, double length)
{
  g_return_if_fail (piece != NULL && part != NULL);
  DraftMark mark = { mark_part (piece, part), { 0, at, angle, length } };
  g_array_append_val (piece->marks, mark);
}

void
drafting_draft_add_drill (DraftingDraftPiece *piece, const char *part,
                          GeoPoint at)
{
  drafting_draft_add_buttonhole (piece, part, at, 0, -1);
}

void
drafting_draft_add_line (DraftingDraftPiece *piece, const char *part,
                         const char *name, const PatternNode *nodes,
                         guint n_nodes)
{
  g_return_if_fail (piece != NULL && part != NULL && nodes != NULL);
  DraftLine line = {
    mark_part (piece, part),
    { .name = g_strdup (name ? name : ""),
      .nodes = g_memdup2 (nodes, n_nodes * sizeof *nodes),
      .n_nodes = n_nodes },
  };
  g_array_append_val (piece->lines, line);
}

/* --- seams and words --------------------------------------------------------------- */
static GArray *
copy_runs (const DraftingDraftRun *runs, guint n)
{
  GArray *copy = new_array (sizeof (DraftRun), clear_run);
  for (guint i = 0; i < n; i++)
    {
      DraftRun run = { g_strdup (runs[i].piece_part), NULL, runs[i].run };
      if (run.piece)
        run.edge = g_strdup_printf ("%s/e:%s", run.piece, runs[i].edge_part);
      g_array_append_val (copy, run);
    }
  return copy;
}

void
drafting_draft_add_seam (DraftingDraft *draft, const char *part,
                         const char *name, PatternJoin join,
                         const DraftingDraftRun *a, guint n_a,
                         const DraftingDraftRun *b, guint n_b, double ease,
                         PatternPress press)
{
  g_return_if_fail (draft != NULL && part != NULL && a != NULL && b != NULL);
  g_return_if_fail (n_a > 0 && n_b > 0);
  DraftSeam seam = {
    .part = g_strdup_printf ("s:%s", part),
    .name = g_strdup (name ? name : ""),
    .join = join,
    .sides = { copy_runs (a, n_a), copy_runs (b, n_b) },
    .ease = ease,
    .press = press,
    .spans = new_array (sizeof (DraftSpan), clear_span),
  };
  g_array_append_val (draft->seams, seam);
}

void
drafting_draft_add_ease (DraftingDraft *draft, const char *piece_part,
                         const char *from_notch, const char *to_notch,
                         double amount)
{
  g_return_if_fail (draft != NULL && draft->seams->len > 0);
  const DraftSeam *seam
      = &g_array_index (draft->seams, DraftSeam, draft->seams->len - 1);
  DraftSpan span
      = { g_strdup_printf ("%s/m:%s", piece_part, from_notch),
          g_strdup_printf ("%s/m:%s", piece_part, to_notch), amount };
  g_array_append_val (seam->spans, span);
}

void
drafting_draft_say (DraftingDraft *draft, const char *format, ...)
{
  g_return_if_fail (draft != NULL && format != NULL);
  va_list args;
  va_start (args, format);
  if (draft->words->len > 0)
    g_string_append_c (draft->words, '\n');
  g_string_append_vprintf (draft->words, format, args);
  va_end (args);
}
