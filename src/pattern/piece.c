/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/piece.h"

#include <string.h>

#include "pattern/parts.h"

/* --- lines ------------------------------------------------------------------ */
PatternLine
pattern_line_make (guint id, const char *name, const PatternNode *nodes,
                   guint n_nodes)
{
  return (PatternLine){
    .id = id,
    .name = g_strdup (name ? name : ""),
    .nodes = g_memdup2 (nodes, n_nodes * sizeof *nodes),
    .n_nodes = n_nodes,
  };
}

void
pattern_line_clear (PatternLine *line)
{
  g_free (line->name);
  g_free (line->nodes);
}

/* --- life -------------------------------------------------------------------- */
PatternPiece *
pattern_piece_new (guint id, const char *name)
{
  PatternPiece *piece = g_new0 (PatternPiece, 1);
  g_atomic_ref_count_init (&piece->refs);
  piece->id = id;
  piece->name = g_strdup (name ? name : "");
  piece->note = g_strdup ("");
  return piece;
}

static PatternEdge *
copy_edges (const PatternEdge *edges, guint n)
{
  PatternEdge *copy = g_memdup2 (edges, n * sizeof *edges);
  for (guint i = 0; i < n; i++)
    {
      copy[i].name = g_strdup (edges[i].name);
      copy[i].extra = g_strdup (edges[i].extra);
    }
  return copy;
}

#define COPY_PLAIN(field)                                                      \
  (copy->field                                                                 \
   = g_memdup2 (piece->field, piece->n_##field * sizeof *piece->field))

PatternPiece *
pattern_piece_dup (const PatternPiece *piece)
{
  g_return_val_if_fail (piece != NULL, NULL);
  PatternPiece *copy = g_new (PatternPiece, 1);
  *copy = *piece;
  g_atomic_ref_count_init (&copy->refs);
  copy->name = g_strdup (piece->name);
  copy->note = g_strdup (piece->note);
  copy->extra = g_strdup (piece->extra);
  COPY_PLAIN (nodes);
  COPY_PLAIN (notches);
  COPY_PLAIN (cuts);
  COPY_PLAIN (buttonholes);
  COPY_PLAIN (drills);
  COPY_PLAIN (texts);
  COPY_PLAIN (lines);
  copy->edges = copy_edges (piece->edges, piece->n_edges);
  for (guint i = 0; i < piece->n_texts; i++)
    copy->texts[i].text = g_strdup (piece->texts[i].text);
  for (guint i = 0; i < piece->n_lines; i++)
    {
      const PatternLine *line = &piece->lines[i];
      copy->lines[i] = pattern_line_make (line->id, line->name, line->nodes,
                                          line->n_nodes);
    }
  return copy;
}

PatternPiece *
pattern_piece_ref (const PatternPiece *piece)
{
  g_return_val_if_fail (piece != NULL, NULL);
  PatternPiece *own = (PatternPiece *)piece;
  g_atomic_ref_count_inc (&own->refs);
  return own;
}

static void
clear_edges (PatternPiece *piece)
{
  for (guint i = 0; i < piece->n_edges; i++)
    {
      g_free (piece->edges[i].name);
      g_free (piece->edges[i].extra);
    }
  g_clear_pointer (&piece->edges, g_free);
  piece->n_edges = 0;
}

void
pattern_piece_unref (PatternPiece *piece)
{
  g_return_if_fail (piece != NULL);
  if (!g_atomic_ref_count_dec (&piece->refs))
    return;
  clear_edges (piece);
  for (guint i = 0; i < piece->n_texts; i++)
    g_free (piece->texts[i].text);
  for (guint i = 0; i < piece->n_lines; i++)
    pattern_line_clear (&piece->lines[i]);
  g_free (piece->nodes);
  g_free (piece->notches);
  g_free (piece->cuts);
  g_free (piece->buttonholes);
  g_free (piece->drills);
  g_free (piece->texts);
  g_free (piece->lines);
  g_free (piece->name);
  g_free (piece->note);
  g_free (piece->extra);
  g_free (piece);
}

void
pattern_set_string (char **field, const char *value)
{
  g_return_if_fail (field != NULL);
  if (*field == value)
    return;
  char *copy = g_strdup (value);
  g_free (*field);
  *field = copy;
}

/* --- the outline in one go ----------------------------------------------------- */
/* The same loop the other way round, the first node staying first. */
static void
turn_nodes (PatternNode *nodes, gboolean *flags, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      GeoPoint in = nodes[i].in;
      nodes[i].in = nodes[i].out;
      nodes[i].out = in;
    }
  for (guint i = 1, j = n - 1; i < j; i++, j--)
    {
      PatternNode node = nodes[i];
      nodes[i] = nodes[j];
      nodes[j] = node;
      gboolean flag = flags[i];
      flags[i] = flags[j];
      flags[j] = flag;
    }
}

void
pattern_piece_set_outline (PatternPiece *piece, const PatternNode *nodes,
                           guint n_nodes, const gboolean *starts_edge,
                           guint *next_id)
{
  g_return_if_fail (piece != NULL && nodes != NULL && n_nodes > 0);
  g_return_if_fail (next_id != NULL);
  PatternNode *own = g_memdup2 (nodes, n_nodes * sizeof *nodes);
  gboolean *flags = g_new0 (gboolean, n_nodes);
  for (guint i = 0; i < n_nodes; i++)
    flags[i] = i == 0 || (starts_edge && starts_edge[i]);
  clear_edges (piece);
  piece->n_notches = 0;
  g_free (piece->nodes);
  piece->nodes = own;
  piece->n_nodes = n_nodes;
  if (pattern_piece_area (piece) < 0)
    turn_nodes (own, flags, n_nodes);
  for (guint i = 0; i < n_nodes; i++)
    own[i].id = (*next_id)++;
  for (guint i = 0; i < n_nodes; i++)
    if (flags[i])
      {
        PatternEdge edge
            = { .id = (*next_id)++, .name = g_strdup (""), .first = i };
        PATTERN_APPEND (piece->edges, piece->n_edges, edge);
      }
  g_free (flags);
}

/* --- marks --------------------------------------------------------------------- */
void
pattern_piece_add_notch (PatternPiece *piece, PatternNotch notch)
{
  g_return_if_fail (piece != NULL);
  PATTERN_APPEND (piece->notches, piece->n_notches, notch);
}

void
pattern_piece_add_cut (PatternPiece *piece, PatternCut cut)
{
  g_return_if_fail (piece != NULL);
  PATTERN_APPEND (piece->cuts, piece->n_cuts, cut);
}

void
pattern_piece_add_buttonhole (PatternPiece *piece, PatternButtonhole hole)
{
  g_return_if_fail (piece != NULL);
  PATTERN_APPEND (piece->buttonholes, piece->n_buttonholes, hole);
}

void
pattern_piece_add_drill (PatternPiece *piece, PatternDrill drill)
{
  g_return_if_fail (piece != NULL);
  PATTERN_APPEND (piece->drills, piece->n_drills, drill);
}

void
pattern_piece_add_text (PatternPiece *piece, guint id, GeoPoint at,
                        double angle, double size, const char *text)
{
  g_return_if_fail (piece != NULL);
  PatternText item = { .id = id,
                       .at = at,
                       .angle = angle,
                       .size = size,
                       .text = g_strdup (text ? text : "") };
  PATTERN_APPEND (piece->texts, piece->n_texts, item);
}

void
pattern_piece_add_line (PatternPiece *piece, guint id, const char *name,
                        const PatternNode *nodes, guint n_nodes)
{
  g_return_if_fail (piece != NULL);
  PatternLine line = pattern_line_make (id, name, nodes, n_nodes);
  PATTERN_APPEND (piece->lines, piece->n_lines, line);
}

#define REMOVE_MARK(field, clear)                                              \
  for (guint i = 0; i < piece->n_##field; i++)                                 \
    if (piece->field[i].id == id)                                              \
      {                                                                        \
        clear;                                                                 \
        PATTERN_TAKE_OUT (piece->field, piece->n_##field, i);                  \
        return TRUE;                                                           \
      }

gboolean
pattern_piece_remove_mark (PatternPiece *piece, guint id)
{
  g_return_val_if_fail (piece != NULL, FALSE);
  REMOVE_MARK (notches, (void)0)
  REMOVE_MARK (buttonholes, (void)0)
  REMOVE_MARK (drills, (void)0)
  REMOVE_MARK (texts, g_free (piece->texts[i].text))
  REMOVE_MARK (lines, pattern_line_clear (&piece->lines[i]))
  return FALSE;
}
