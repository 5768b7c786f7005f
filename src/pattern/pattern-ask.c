/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be asked of a pattern without changing it. */
#include "pattern/parts.h"

/* Pieces mostly stand in the order they were made in, so halving finds nearly all; what
 * it does not find is looked for one by one. */
const PatternPiece *
pattern_get_piece (const Pattern *pattern, guint id)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  guint low = 0, high = pattern->n_pieces;
  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      if (pattern->pieces[middle]->id == id)
        return pattern->pieces[middle];
      if (pattern->pieces[middle]->id < id)
        low = middle + 1;
      else
        high = middle;
    }
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (pattern->pieces[i]->id == id)
      return pattern->pieces[i];
  return NULL;
}

const PatternSeam *
pattern_get_seam (const Pattern *pattern, guint id)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  for (guint i = 0; i < pattern->n_seams; i++)
    if (pattern->seams[i]->id == id)
      return pattern->seams[i];
  return NULL;
}

const PatternCloth *
pattern_get_cloth (const Pattern *pattern, guint id)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  for (guint i = 0; i < pattern->n_cloths; i++)
    if (pattern->cloths[i].id == id)
      return &pattern->cloths[i];
  return NULL;
}

const PatternEdge *
pattern_get_edge (const Pattern *pattern, guint piece_id, guint edge_id,
                  const PatternPiece **piece)
{
  const PatternPiece *own = pattern_get_piece (pattern, piece_id);
  int index = own ? pattern_piece_find_edge (own, edge_id) : -1;
  if (piece)
    *piece = index < 0 ? NULL : own;
  return index < 0 ? NULL : &own->edges[index];
}

const PatternSeam *
pattern_edge_seam (const Pattern *pattern, guint piece_id, guint edge_id,
                   guint n, int *side, guint *run)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  for (guint i = 0; i < pattern->n_seams; i++)
    for (int s = 0; s < 2; s++)
      for (guint r = 0; r < pattern->seams[i]->sides[s].n_runs; r++)
        {
          const PatternRun *own = &pattern->seams[i]->sides[s].runs[r];
          if (own->piece != piece_id || own->edge != edge_id || n-- > 0)
            continue;
          if (side)
            *side = s;
          if (run)
            *run = r;
          return pattern->seams[i];
        }
  return NULL;
}

static gboolean
cloths_equal (const Pattern *a, const Pattern *b)
{
  if (a->n_cloths != b->n_cloths)
    return FALSE;
  for (guint i = 0; i < a->n_cloths; i++)
    {
      const PatternCloth *p = &a->cloths[i], *q = &b->cloths[i];
      if (p->id != q->id || p->use != q->use || p->width != q->width
          || p->thickness != q->thickness || p->give != q->give
          || p->weight != q->weight || p->tint != q->tint
          || g_strcmp0 (p->name, q->name) != 0
          || g_strcmp0 (p->extra, q->extra) != 0)
        return FALSE;
    }
  return TRUE;
}

static gboolean
members_equal (const Pattern *a, const Pattern *b)
{
  if (a->n_pieces != b->n_pieces || a->n_seams != b->n_seams
      || a->n_lines != b->n_lines || a->n_set_aside != b->n_set_aside)
    return FALSE;
  for (guint i = 0; i < a->n_pieces; i++)
    if (!pattern_piece_equal (a->pieces[i], b->pieces[i]))
      return FALSE;
  for (guint i = 0; i < a->n_seams; i++)
    if (!pattern_seam_equal (a->seams[i], b->seams[i]))
      return FALSE;
  for (guint i = 0; i < a->n_lines; i++)
    if (!pattern_line_equal (&a->lines[i], &b->lines[i]))
      return FALSE;
  for (guint i = 0; i < a->n_set_aside; i++)
    if (g_strcmp0 (a->set_aside[i].key, b->set_aside[i].key) != 0
        || g_strcmp0 (a->set_aside[i].note, b->set_aside[i].note) != 0)
      return FALSE;
  return TRUE;
}

gboolean
pattern_equal (const Pattern *a, const Pattern *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);
  return a == b
         || (g_strcmp0 (a->name, b->name) == 0 && a->unit == b->unit
             && a->tolerance == b->tolerance && a->next_id == b->next_id
             && g_strcmp0 (a->note, b->note) == 0
             && g_strcmp0 (a->extra, b->extra) == 0 && cloths_equal (a, b)
             && members_equal (a, b) && pattern_recipes_equal (a, b)
             && pattern_fittings_equal (a, b) && pattern_pictures_equal (a, b));
}
