/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/pattern.h"

#include <glib/gi18n.h>
#include <string.h>

#include "pattern/parts.h"

/* A copy may be altered only while nobody else holds it. */
#define RETURN_IF_SHARED(pattern)                                              \
  g_return_if_fail ((pattern) != NULL                                          \
                    && g_atomic_ref_count_compare (&(pattern)->refs, 1))
#define RETURN_VAL_IF_SHARED(pattern, val)                                     \
  g_return_val_if_fail (                                                       \
      (pattern) != NULL && g_atomic_ref_count_compare (&(pattern)->refs, 1),   \
      val)

/* --- life ---------------------------------------------------------------------- */
Pattern *
pattern_new (const char *name)
{
  Pattern *pattern = g_new0 (Pattern, 1);
  g_atomic_ref_count_init (&pattern->refs);
  pattern->name = g_strdup (name ? name : "");
  pattern->note = g_strdup ("");
  pattern->unit = PATTERN_CM;
  pattern->tolerance = 0.5;
  pattern->next_id = 1;
  PatternCloth shell = {
    .id = pattern_take_id (pattern),
    .name = (char *)_ ("shell"),
    .use = PATTERN_SHELL,
    .width = 1500,
    .thickness = 0.5,
    .give = 0.04,
  };
  pattern_put_cloth (pattern, &shell);
  return pattern;
}

static PatternCloth
copy_cloth (const PatternCloth *cloth)
{
  PatternCloth copy = *cloth;
  copy.name = g_strdup (cloth->name ? cloth->name : "");
  copy.extra = g_strdup (cloth->extra);
  return copy;
}

static void
clear_cloth (PatternCloth *cloth)
{
  g_free (cloth->name);
  g_free (cloth->extra);
}

static void
clear_set_aside (PatternSetAside *item)
{
  g_free (item->key);
  g_free (item->note);
}

static void
copy_arrays (Pattern *copy, const Pattern *pattern)
{
  copy->pieces = g_memdup2 (pattern->pieces,
                            pattern->n_pieces * sizeof *pattern->pieces);
  for (guint i = 0; i < copy->n_pieces; i++)
    pattern_piece_ref (copy->pieces[i]);
  copy->seams
      = g_memdup2 (pattern->seams, pattern->n_seams * sizeof *pattern->seams);
  for (guint i = 0; i < copy->n_seams; i++)
    pattern_seam_ref (copy->seams[i]);
  copy->cloths = g_new (PatternCloth, pattern->n_cloths);
  for (guint i = 0; i < copy->n_cloths; i++)
    copy->cloths[i] = copy_cloth (&pattern->cloths[i]);
  copy->lines = g_new (PatternLine, pattern->n_lines);
  for (guint i = 0; i < copy->n_lines; i++)
    {
      const PatternLine *line = &pattern->lines[i];
      copy->lines[i] = pattern_line_make (line->id, line->name, line->nodes,
                                          line->n_nodes);
    }
  copy->set_aside = g_new (PatternSetAside, pattern->n_set_aside);
  for (guint i = 0; i < copy->n_set_aside; i++)
    copy->set_aside[i]
        = (PatternSetAside){ g_strdup (pattern->set_aside[i].key),
                             g_strdup (pattern->set_aside[i].note) };
  pattern_copy_recipes (copy, pattern);
  pattern_copy_fittings (copy, pattern);
  pattern_copy_pictures (copy, pattern);
}

Pattern *
pattern_dup (const Pattern *pattern)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  Pattern *copy = g_new (Pattern, 1);
  *copy = *pattern;
  g_atomic_ref_count_init (&copy->refs);
  copy->name = g_strdup (pattern->name);
  copy->note = g_strdup (pattern->note);
  copy->extra = g_strdup (pattern->extra);
  copy_arrays (copy, pattern);
  return copy;
}

Pattern *
pattern_ref (const Pattern *pattern)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  Pattern *own = (Pattern *)pattern;
  g_atomic_ref_count_inc (&own->refs);
  return own;
}

void
pattern_unref (Pattern *pattern)
{
  g_return_if_fail (pattern != NULL);
  if (!g_atomic_ref_count_dec (&pattern->refs))
    return;
  for (guint i = 0; i < pattern->n_pieces; i++)
    pattern_piece_unref ((PatternPiece *)pattern->pieces[i]);
  for (guint i = 0; i < pattern->n_seams; i++)
    pattern_seam_unref ((PatternSeam *)pattern->seams[i]);
  for (guint i = 0; i < pattern->n_cloths; i++)
    clear_cloth (&pattern->cloths[i]);
  for (guint i = 0; i < pattern->n_lines; i++)
    pattern_line_clear (&pattern->lines[i]);
  for (guint i = 0; i < pattern->n_set_aside; i++)
    clear_set_aside (&pattern->set_aside[i]);
  pattern_clear_recipes (pattern);
  pattern_free_fittings (pattern);
  pattern_free_pictures (pattern);
  g_free (pattern->pieces);
  g_free (pattern->seams);
  g_free (pattern->cloths);
  g_free (pattern->lines);
  g_free (pattern->set_aside);
  g_free (pattern->name);
  g_free (pattern->note);
  g_free (pattern->extra);
  g_free (pattern);
}

/* --- altering a copy ------------------------------------------------------------ */
guint
pattern_take_id (Pattern *pattern)
{
  RETURN_VAL_IF_SHARED (pattern, 0);
  return pattern->next_id++;
}

/* A number above every id in use: what is put in may bring its own. */
static void
pass_id (Pattern *pattern, guint id)
{
  if (id >= pattern->next_id && id < G_MAXUINT)
    pattern->next_id = id + 1;
}

void
pattern_put_piece (Pattern *pattern, PatternPiece *piece)
{
  RETURN_IF_SHARED (pattern);
  g_return_if_fail (piece != NULL);
  pass_id (pattern, piece->id);
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (pattern->pieces[i]->id == piece->id)
      {
        pattern_piece_unref ((PatternPiece *)pattern->pieces[i]);
        pattern->pieces[i] = piece;
        return;
      }
  PATTERN_APPEND (pattern->pieces, pattern->n_pieces, piece);
}

/* Keeps what pattern_seam_without() leaves of every seam. */
static void
thin_seams (Pattern *pattern,
            gboolean (*gone) (const PatternRun *, gconstpointer),
            gconstpointer data)
{
  guint kept = 0;
  for (guint i = 0; i < pattern->n_seams; i++)
    {
      PatternSeam *left = pattern_seam_without (pattern->seams[i], gone, data);
      pattern_seam_unref ((PatternSeam *)pattern->seams[i]);
      if (left)
        pattern->seams[kept++] = left;
    }
  pattern->n_seams = kept;
}

static gboolean
run_is_on (const PatternRun *run, gconstpointer piece_id)
{
  return run->piece == GPOINTER_TO_UINT (piece_id);
}

gboolean
pattern_remove_piece (Pattern *pattern, guint id)
{
  RETURN_VAL_IF_SHARED (pattern, FALSE);
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (pattern->pieces[i]->id == id)
      {
        pattern_piece_unref ((PatternPiece *)pattern->pieces[i]);
        PATTERN_TAKE_OUT (pattern->pieces, pattern->n_pieces, i);
        thin_seams (pattern, run_is_on, GUINT_TO_POINTER (id));
        return TRUE;
      }
  return FALSE;
}

void
pattern_put_seam (Pattern *pattern, PatternSeam *seam)
{
  RETURN_IF_SHARED (pattern);
  g_return_if_fail (seam != NULL);
  pass_id (pattern, seam->id);
  for (guint i = 0; i < pattern->n_seams; i++)
    if (pattern->seams[i]->id == seam->id)
      {
        pattern_seam_unref ((PatternSeam *)pattern->seams[i]);
        pattern->seams[i] = seam;
        return;
      }
  PATTERN_APPEND (pattern->seams, pattern->n_seams, seam);
}

gboolean
pattern_remove_seam (Pattern *pattern, guint id)
{
  RETURN_VAL_IF_SHARED (pattern, FALSE);
  for (guint i = 0; i < pattern->n_seams; i++)
    if (pattern->seams[i]->id == id)
      {
        pattern_seam_unref ((PatternSeam *)pattern->seams[i]);
        PATTERN_TAKE_OUT (pattern->seams, pattern->n_seams, i);
        return TRUE;
      }
  return FALSE;
}

void
pattern_put_cloth (Pattern *pattern, const PatternCloth *cloth)
{
  RETURN_IF_SHARED (pattern);
  g_return_if_fail (cloth != NULL);
  PatternCloth copy = copy_cloth (cloth);
  pass_id (pattern, cloth->id);
  for (guint i = 0; i < pattern->n_cloths; i++)
    if (pattern->cloths[i].id == copy.id)
      {
        clear_cloth (&pattern->cloths[i]);
        pattern->cloths[i] = copy;
        return;
      }
  PATTERN_APPEND (pattern->cloths, pattern->n_cloths, copy);
}

static gboolean
is_cut_from (const Pattern *pattern, guint cloth)
{
  for (guint i = 0; i < pattern->n_pieces; i++)
    for (guint j = 0; j < pattern->pieces[i]->n_cuts; j++)
      if (pattern->pieces[i]->cuts[j].cloth == cloth)
        return TRUE;
  return FALSE;
}

gboolean
pattern_remove_cloth (Pattern *pattern, guint id)
{
  RETURN_VAL_IF_SHARED (pattern, FALSE);
  if (is_cut_from (pattern, id))
    return FALSE;
  for (guint i = 0; i < pattern->n_cloths; i++)
    if (pattern->cloths[i].id == id)
      {
        clear_cloth (&pattern->cloths[i]);
        PATTERN_TAKE_OUT (pattern->cloths, pattern->n_cloths, i);
        return TRUE;
      }
  return FALSE;
}

void
pattern_add_line (Pattern *pattern, const char *name, const PatternNode *nodes,
                  guint n_nodes)
{
  RETURN_IF_SHARED (pattern);
  PatternLine line
      = pattern_line_make (pattern_take_id (pattern), name, nodes, n_nodes);
  for (guint i = 0; i < n_nodes; i++)
    if (line.nodes[i].id == 0)
      line.nodes[i].id = pattern_take_id (pattern);
    else
      pass_id (pattern, line.nodes[i].id);
  PATTERN_APPEND (pattern->lines, pattern->n_lines, line);
}

gboolean
pattern_remove_line (Pattern *pattern, guint id)
{
  RETURN_VAL_IF_SHARED (pattern, FALSE);
  for (guint i = 0; i < pattern->n_lines; i++)
    if (pattern->lines[i].id == id)
      {
        pattern_line_clear (&pattern->lines[i]);
        PATTERN_TAKE_OUT (pattern->lines, pattern->n_lines, i);
        return TRUE;
      }
  return FALSE;
}

void
pattern_put_set_aside (Pattern *pattern, const char *key, const char *note)
{
  RETURN_IF_SHARED (pattern);
  g_return_if_fail (key != NULL);
  note = note ? note : "";
  for (guint i = 0; i < pattern->n_set_aside; i++)
    if (strcmp (pattern->set_aside[i].key, key) == 0)
      {
        pattern_set_string (&pattern->set_aside[i].note, note);
        return;
      }
  PatternSetAside item = { g_strdup (key), g_strdup (note) };
  PATTERN_APPEND (pattern->set_aside, pattern->n_set_aside, item);
}

gboolean
pattern_remove_set_aside (Pattern *pattern, const char *key)
{
  RETURN_VAL_IF_SHARED (pattern, FALSE);
  g_return_val_if_fail (key != NULL, FALSE);
  for (guint i = 0; i < pattern->n_set_aside; i++)
    if (strcmp (pattern->set_aside[i].key, key) == 0)
      {
        clear_set_aside (&pattern->set_aside[i]);
        PATTERN_TAKE_OUT (pattern->set_aside, pattern->n_set_aside, i);
        return TRUE;
      }
  return FALSE;
}

static gboolean
run_is_loose (const PatternRun *run, gconstpointer pattern)
{
  return pattern_get_edge (pattern, run->piece, run->edge, NULL) == NULL;
}

static void
drop_loose_cuts (Pattern *pattern, guint index)
{
  const PatternPiece *piece = pattern->pieces[index];
  guint sound = 0;
  for (guint j = 0; j < piece->n_cuts; j++)
    sound += pattern_get_cloth (pattern, piece->cuts[j].cloth) != NULL;
  if (sound == piece->n_cuts)
    return;
  PatternPiece *copy = pattern_piece_dup (piece);
  copy->n_cuts = 0;
  for (guint j = 0; j < piece->n_cuts; j++)
    if (pattern_get_cloth (pattern, piece->cuts[j].cloth))
      copy->cuts[copy->n_cuts++] = piece->cuts[j];
  pattern_piece_unref ((PatternPiece *)piece);
  pattern->pieces[index] = copy;
}

void
pattern_drop_loose_ends (Pattern *pattern)
{
  RETURN_IF_SHARED (pattern);
  thin_seams (pattern, run_is_loose, pattern);
  for (guint i = 0; i < pattern->n_pieces; i++)
    drop_loose_cuts (pattern, i);
}

void
pattern_turn_runs (Pattern *pattern, guint piece_id)
{
  RETURN_IF_SHARED (pattern);
  for (guint i = 0; i < pattern->n_seams; i++)
    {
      g_autoptr (PatternSeam) turned = NULL;
      for (int s = 0; s < 2; s++)
        for (guint r = 0; r < pattern->seams[i]->sides[s].n_runs; r++)
          if (pattern->seams[i]->sides[s].runs[r].piece == piece_id)
            {
              if (!turned)
                turned = pattern_seam_dup (pattern->seams[i]);
              PatternRun *run = &turned->sides[s].runs[r];
              run->reversed = !run->reversed;
            }
      if (turned)
        pattern_put_seam (pattern, g_steal_pointer (&turned));
    }
}
