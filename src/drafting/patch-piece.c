/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One piece: was -> is, laid on now. Three states of one outline; parts are the same
 * where their numbers are. */
#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edit-private.h"
#include "drafting/patch.h"

static gboolean
same_nodes (const PatternPiece *a, const PatternPiece *b)
{
  if (a->n_nodes != b->n_nodes || a->n_edges != b->n_edges)
    return FALSE;
  for (guint i = 0; i < a->n_nodes; i++)
    if (a->nodes[i].id != b->nodes[i].id)
      return FALSE;
  for (guint i = 0; i < a->n_edges; i++)
    if (a->edges[i].id != b->edges[i].id
        || a->edges[i].first != b->edges[i].first)
      return FALSE;
  return TRUE;
}

static gboolean
nodes_stand_alike (const PatternPiece *a, const PatternPiece *b)
{
  if (!same_nodes (a, b))
    return FALSE;
  for (guint i = 0; i < a->n_nodes; i++)
    if (memcmp (&a->nodes[i].at, &b->nodes[i].at, sizeof (GeoPoint)) != 0
        || memcmp (&a->nodes[i].in, &b->nodes[i].in, sizeof (GeoPoint)) != 0
        || memcmp (&a->nodes[i].out, &b->nodes[i].out, sizeof (GeoPoint)) != 0)
      return FALSE;
  return TRUE;
}

static GeoPoint
moved (GeoPoint now, GeoPoint was, GeoPoint is)
{
  return (GeoPoint){ now.x + (is.x - was.x), now.y + (is.y - was.y) };
}

/* Nodes moved by as much as they were. A handle is carried with its node, so one
 * that was set off from its node is set off by as much. */
static gboolean
move_nodes (PatternPiece *piece, const PatternPiece *was,
            const PatternPiece *is, GError **error)
{
  for (guint i = 0; i < was->n_nodes; i++)
    {
      const PatternNode *a = &was->nodes[i], *b = &is->nodes[i];
      if (memcmp (&a->at, &b->at, sizeof a->at) == 0
          && memcmp (&a->in, &b->in, sizeof a->in) == 0
          && memcmp (&a->out, &b->out, sizeof a->out) == 0
          && a->kind == b->kind)
        continue;
      int at = pattern_piece_find_node (piece, a->id);
      if (at < 0)
        return drafting_refuse (
            error, DRAFTING_ERROR_GONE,
            _ ("a node it moved on “%s” is no longer there"), piece->name);
      PatternNode *n = &piece->nodes[at];
      n->at = moved (n->at, a->at, b->at);
      n->in = moved (n->in, a->in, b->in);
      n->out = moved (n->out, a->out, b->out);
      n->kind = b->kind;
    }
  return TRUE;
}

/* Takes the outline of is whole: where the nodes it was made of stand as they did. */
static void
take_outline (PatternPiece *piece, const PatternPiece *is)
{
  g_autoptr (PatternPiece) copy = pattern_piece_dup (is);
  /* Swapped, so that what piece had is freed with the copy. */
  PatternNode *nodes = piece->nodes;
  PatternEdge *edges = piece->edges;
  guint n_nodes = piece->n_nodes, n_edges = piece->n_edges;
  piece->nodes = copy->nodes;
  piece->n_nodes = copy->n_nodes;
  piece->edges = copy->edges;
  piece->n_edges = copy->n_edges;
  copy->nodes = nodes;
  copy->n_nodes = n_nodes;
  copy->edges = edges;
  copy->n_edges = n_edges;
}

/* What is set on the edge, its place in the outline apart. Compared as bytes, strings by
 * what they say: one field more in PatternEdge is compared, too. */
static gboolean
edges_set_alike (const PatternEdge *a, const PatternEdge *b)
{
  PatternEdge x = *a, y = *b;
  gboolean same
      = g_strcmp0 (x.name, y.name) == 0 && g_strcmp0 (x.extra, y.extra) == 0;
  x.name = y.name = x.extra = y.extra = NULL;
  x.first = y.first = 0;
  return same && memcmp (&x, &y, sizeof x) == 0;
}

/* Settings of edges that were set. */
static gboolean
set_edges (PatternPiece *piece, const PatternPiece *was, const PatternPiece *is,
           GError **error)
{
  g_autoptr (PatternPiece) copy = pattern_piece_dup (is);
  for (guint i = 0; i < is->n_edges; i++)
    {
      int old = pattern_piece_find_edge (was, is->edges[i].id);
      if (old >= 0 && edges_set_alike (&was->edges[old], &is->edges[i]))
        continue;
      int at = pattern_piece_find_edge (piece, is->edges[i].id);
      if (at < 0)
        return drafting_refuse (error, DRAFTING_ERROR_GONE,
                                _ ("the edge “%s” of “%s” is no longer there"),
                                is->edges[i].name, piece->name);
      guint first = piece->edges[at].first;
      PatternEdge before = piece->edges[at];
      piece->edges[at] = copy->edges[i];
      piece->edges[at].first = first;
      copy->edges[i] = before;
    }
  return TRUE;
}

/* Where the shape was drawn anew, it can be laid only on the shape it was drawn on. */
static gboolean
lay_outline (PatternPiece *piece, const PatternPiece *was,
             const PatternPiece *is, GError **error)
{
  if (same_nodes (was, is))
    return move_nodes (piece, was, is, error)
           && set_edges (piece, was, is, error);
  if (!nodes_stand_alike (piece, was))
    return drafting_refuse (
        error, DRAFTING_ERROR_SHAPE,
        _ ("nodes or edges of “%s” were made or taken away then, and its "
           "outline is another one now"),
        piece->name);
  take_outline (piece, is);
  return TRUE;
}

/* --- marks ---------------------------------------------------------------------- */

/* Makes, changes and takes away elements of a plain array by their numbers. */
typedef struct
{
  gconstpointer data;
  guint n;
} Array;

static gconstpointer
find_in (Array array, gsize size, guint id)
{
  for (guint i = 0; i < array.n; i++)
    {
      const char *element = (const char *)array.data + i * size;
      guint own;
      memcpy (&own, element, sizeof own); /* id stands first in all of them */
      if (own == id)
        return element;
    }
  return NULL;
}

static guint
id_at (Array array, gsize size, guint i)
{
  guint id;
  memcpy (&id, (const char *)array.data + i * size, sizeof id);
  return id;
}

/* Ids of elements of is that have to be put on the piece: made, or changed. */
static gboolean
is_news (Array was, Array is, gsize size, guint i)
{
  gconstpointer old = find_in (was, size, id_at (is, size, i));
  return old == NULL
         || memcmp (old, (const char *)is.data + i * size, size) != 0;
}

static void
drop_gone (PatternPiece *piece, Array was, Array is, gsize size)
{
  for (guint i = 0; i < was.n; i++)
    if (find_in (is, size, id_at (was, size, i)) == NULL)
      pattern_piece_remove_mark (piece, id_at (was, size, i));
}

#define ARRAY(of, field) ((Array){ (of)->field, (of)->n_##field })

static gboolean
lay_notches (PatternPiece *piece, const PatternPiece *was,
             const PatternPiece *is, GError **error)
{
  gsize size = sizeof *is->notches;
  drop_gone (piece, ARRAY (was, notches), ARRAY (is, notches), size);
  for (guint i = 0; i < is->n_notches; i++)
    if (is_news (ARRAY (was, notches), ARRAY (is, notches), size, i))
      {
        if (pattern_piece_find_edge (piece, is->notches[i].edge) < 0)
          return drafting_refuse (
              error, DRAFTING_ERROR_GONE,
              _ ("the edge a notch of “%s” stands on is no longer there"),
              piece->name);
        pattern_piece_remove_mark (piece, is->notches[i].id);
        pattern_piece_add_notch (piece, is->notches[i]);
      }
  return TRUE;
}

static void
lay_holes_and_drills (PatternPiece *piece, const PatternPiece *was,
                      const PatternPiece *is)
{
  gsize hole = sizeof *is->buttonholes, drill = sizeof *is->drills;
  drop_gone (piece, ARRAY (was, buttonholes), ARRAY (is, buttonholes), hole);
  drop_gone (piece, ARRAY (was, drills), ARRAY (is, drills), drill);
  for (guint i = 0; i < is->n_buttonholes; i++)
    if (is_news (ARRAY (was, buttonholes), ARRAY (is, buttonholes), hole, i))
      {
        pattern_piece_remove_mark (piece, is->buttonholes[i].id);
        pattern_piece_add_buttonhole (piece, is->buttonholes[i]);
      }
  for (guint i = 0; i < is->n_drills; i++)
    if (is_news (ARRAY (was, drills), ARRAY (is, drills), drill, i))
      {
        pattern_piece_remove_mark (piece, is->drills[i].id);
        pattern_piece_add_drill (piece, is->drills[i]);
      }
}

static gboolean
texts_alike (const PatternText *a, const PatternText *b)
{
  return a != NULL && a->at.x == b->at.x && a->at.y == b->at.y
         && a->angle == b->angle && a->size == b->size
         && g_strcmp0 (a->text, b->text) == 0;
}

static void
lay_texts (PatternPiece *piece, const PatternPiece *was, const PatternPiece *is)
{
  gsize size = sizeof *is->texts;
  drop_gone (piece, ARRAY (was, texts), ARRAY (is, texts), size);
  for (guint i = 0; i < is->n_texts; i++)
    {
      const PatternText *t = &is->texts[i];
      if (texts_alike (find_in (ARRAY (was, texts), size, t->id), t))
        continue;
      pattern_piece_remove_mark (piece, t->id);
      pattern_piece_add_text (piece, t->id, t->at, t->angle, t->size, t->text);
    }
}

static gboolean
lines_alike (const PatternLine *a, const PatternLine *b)
{
  return a != NULL && g_strcmp0 (a->name, b->name) == 0
         && a->n_nodes == b->n_nodes
         && (a->n_nodes == 0
             || memcmp (a->nodes, b->nodes, a->n_nodes * sizeof *a->nodes)
                    == 0);
}

static void
lay_lines (PatternPiece *piece, const PatternPiece *was, const PatternPiece *is)
{
  gsize size = sizeof *is->lines;
  drop_gone (piece, ARRAY (was, lines), ARRAY (is, lines), size);
  for (guint i = 0; i < is->n_lines; i++)
    {
      const PatternLine *l = &is->lines[i];
      if (lines_alike (find_in (ARRAY (was, lines), size, l->id), l))
        continue;
      pattern_piece_remove_mark (piece, l->id);
      pattern_piece_add_line (piece, l->id, l->name, l->nodes, l->n_nodes);
    }
}

static gboolean
cuts_alike (const PatternPiece *a, const PatternPiece *b)
{
  if (a->n_cuts != b->n_cuts)
    return FALSE;
  for (guint i = 0; i < a->n_cuts; i++)
    if (a->cuts[i].cloth != b->cuts[i].cloth
        || a->cuts[i].count != b->cuts[i].count
        || a->cuts[i].mirrored != b->cuts[i].mirrored)
      return FALSE;
  return TRUE;
}

static gboolean
points_alike (GeoPoint a, GeoPoint b)
{
  return a.x == b.x && a.y == b.y;
}

/* Name, note, cuts and grainline. */
static void
lay_settings (PatternPiece *piece, const PatternPiece *was,
              const PatternPiece *is)
{
  if (g_strcmp0 (was->name, is->name) != 0)
    pattern_set_string (&piece->name, is->name);
  if (g_strcmp0 (was->note, is->note) != 0)
    pattern_set_string (&piece->note, is->note);
  if (!cuts_alike (was, is))
    {
      g_free (piece->cuts);
      piece->cuts = g_memdup2 (is->cuts, is->n_cuts * sizeof *is->cuts);
      piece->n_cuts = is->n_cuts;
    }
  if (was->has_grain && is->has_grain && piece->has_grain)
    {
      if (!points_alike (was->grain_from, is->grain_from)
          || !points_alike (was->grain_to, is->grain_to))
        {
          piece->grain_from
              = moved (piece->grain_from, was->grain_from, is->grain_from);
          piece->grain_to
              = moved (piece->grain_to, was->grain_to, is->grain_to);
        }
    }
  else if (was->has_grain != is->has_grain)
    {
      piece->has_grain = is->has_grain;
      piece->grain_from = is->grain_from;
      piece->grain_to = is->grain_to;
    }
  if (was->grain_both_ways != is->grain_both_ways)
    piece->grain_both_ways = is->grain_both_ways;
}

PatternPiece *
drafting_patch_piece (const PatternPiece *was, const PatternPiece *is,
                      const PatternPiece *now, GError **error)
{
  if (now == was)
    return pattern_piece_ref (is);
  g_autoptr (PatternPiece) piece = pattern_piece_dup (now);
  if (!lay_outline (piece, was, is, error)
      || !lay_notches (piece, was, is, error))
    return NULL;
  lay_holes_and_drills (piece, was, is);
  lay_texts (piece, was, is);
  lay_lines (piece, was, is);
  lay_settings (piece, was, is);
  return g_steal_pointer (&piece);
}
