/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Button stands and facings cut in one with the piece. */
#include <glib/gi18n.h>

#include "drafting/join-private.h"
#include "geometry/crossing.h"
#include "sewing/words.h"

#define LEAST_WIDTH 1.0 /* mm */

/* The edge as an inner line, with new numbers. */
static void
keep_as_line (Pattern *numbers, PatternPiece *piece, const PatternPiece *was,
              guint edge)
{
  guint n = was->n_nodes, first = was->edges[edge].first;
  guint count = pattern_piece_edge_last (was, edge) - first + 1;
  g_autofree PatternNode *nodes = g_new (PatternNode, count);
  for (guint i = 0; i < count; i++)
    {
      nodes[i] = was->nodes[(first + i) % n];
      nodes[i].id = pattern_take_id (numbers);
    }
  nodes[0].in = nodes[0].at;
  nodes[count - 1].out = nodes[count - 1].at;
  const char *name = was->edges[edge].name;
  pattern_piece_add_line (piece, pattern_take_id (numbers),
                          *name ? name : _ ("fold line"), nodes, count);
}

static Pattern *
run_on (const Pattern *p, guint piece, guint edge, double width, GError **error)
{
  PatternRun run = { piece, edge, FALSE };
  DraftingShift shift = { .by = width };
  g_autoptr (Pattern) wider = drafting_shift_edges (p, &run, 1, &shift, error);
  if (!wider)
    return NULL;
  const PatternPiece *was = pattern_get_piece (p, piece);
  Pattern *result = pattern_dup (wider);
  PatternPiece *own = pattern_piece_dup (pattern_get_piece (wider, piece));
  keep_as_line (result, own, was, (guint)pattern_piece_find_edge (was, edge));
  pattern_put_piece (result, own);
  return result;
}

/* The strip of the piece along the edge, that wide: split off a copy. */
static PatternPiece *
strip_along (const Pattern *p, guint piece, guint edge, double width,
             guint *next, GError **error)
{
  const PatternPiece *own = pattern_get_piece (p, piece);
  int index = pattern_piece_find_edge (own, edge);
  guint n = own->n_nodes;
  GeoPoint from = own->nodes[own->edges[index].first].at;
  GeoPoint to = own->nodes[pattern_piece_edge_last (own, (guint)index) % n].at;
  GeoPoint in = geo_scale (geo_left (geo_unit (geo_sub (to, from))), width);
  GeoChain line = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&line, geo_add (from, in), geo_add (to, in));
  guint other = 0;
  g_autoptr (Pattern) two
      = drafting_split_piece (p, piece, &line, 0, NULL, &other, NULL, error);
  geo_chain_clear (&line);
  if (!two)
    return NULL;
  *next = two->next_id;
  for (guint i = 0; i < two->n_pieces; i++)
    if ((two->pieces[i]->id == piece || two->pieces[i]->id == other)
        && pattern_piece_find_edge (two->pieces[i], edge) >= 0)
      return pattern_piece_dup (two->pieces[i]);
  return NULL;
}

static gboolean
is_line (const PatternPiece *piece, guint edge)
{
  guint last = pattern_piece_edge_last (piece, edge);
  GeoPoint way = { 0, 0 };
  for (guint i = piece->edges[edge].first; i < last; i++)
    {
      GeoCubic side = pattern_piece_cubic (piece, i % piece->n_nodes);
      GeoPoint on = geo_unit (geo_sub (side.p[3], side.p[0]));
      if (!geo_cubic_is_straight (&side, 0.01)
          || (geo_norm (way) > 0 && fabs (geo_angle_between (way, on)) > 1e-4))
        return FALSE;
      way = on;
    }
  return TRUE;
}

static Pattern *
with_facing (const Pattern *p, guint piece, guint edge, double width,
             GError **error)
{
  const PatternPiece *own = pattern_get_piece (p, piece);
  guint index = (guint)pattern_piece_find_edge (own, edge);
  if (!is_line (own, index))
    {
      g_autofree char *name = sewing_words_edge (own, index);
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("%s is not straight; a facing can't be turned back "
                          "along it in one with the piece. Nothing was "
                          "changed."),
                       name);
      return NULL;
    }
  guint next = 0;
  g_autoptr (PatternPiece) strip
      = strip_along (p, piece, edge, width, &next, error);
  g_auto (DraftingChange) c = { 0 };
  if (!strip || !drafting_change_begin (&c, p, piece, error))
    return NULL;
  c.pattern->next_id = MAX (c.pattern->next_id, next);
  GeoPoint from = own->nodes[own->edges[index].first].at;
  GeoPoint to
      = own->nodes[pattern_piece_edge_last (own, index) % own->n_nodes].at;
  for (guint i = strip->n_lines; i-- > 0;)
    pattern_piece_remove_mark (strip, strip->lines[i].id);
  strip->n_notches = strip->n_buttonholes = strip->n_drills = 0;
  for (guint i = strip->n_texts; i-- > 0;)
    pattern_piece_remove_mark (strip, strip->texts[i].id);
  int at = pattern_piece_find_edge (strip, edge);
  guint number = c.pattern->next_id;
  drafting_renumber (strip, &number);
  c.pattern->next_id = number;
  guint gone = strip->edges[at].id;
  pattern_piece_move (strip, geo_motion_mirror (from, geo_sub (to, from)));
  g_autofree gboolean *a_gone = g_new0 (gboolean, c.piece->n_edges);
  g_autofree gboolean *b_gone = g_new0 (gboolean, strip->n_edges);
  a_gone[index] = TRUE;
  b_gone[pattern_piece_find_edge (strip, gone)] = TRUE;
  for (guint e = 0; e < strip->n_edges; e++)
    if (g_str_equal (strip->edges[e].name, _ ("split")))
      pattern_set_string (&strip->edges[e].name, _ ("facing edge"));
  guint joints[2];
  if (!drafting_put_together (c.piece, a_gone, strip, b_gone, joints))
    return NULL;
  keep_as_line (c.pattern, c.piece, own, index);
  Pattern *result = drafting_change_finish (&c, error);
  if (result)
    pattern_drop_loose_ends (result);
  return result;
}

typedef struct
{
  guint piece, edge;
  double width;
  DraftingExtend how;
} Extension;

static Pattern *
attempt (const Pattern *p, gconstpointer what, double share, GError **error)
{
  const Extension *e = what;
  return e->how == DRAFTING_EXTEND_FACING
             ? with_facing (p, e->piece, e->edge, share * e->width, error)
             : run_on (p, e->piece, e->edge, share * e->width, error);
}

Pattern *
drafting_extend_edge (const Pattern *p, guint piece, guint edge, double width,
                      DraftingExtend how, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  if (!own || drafting_find_edge (own, edge, error) < 0
      || !drafting_number_is_good (width, error))
    return NULL;
  if (width < LEAST_WIDTH)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("What is added has to be 1 mm wide at least. Nothing "
                          "was changed."));
      return NULL;
    }
  Extension extension = { piece, edge, width, how };
  return drafting_try (p, attempt, &extension, width, DRAFTING_WORDS_LENGTH,
                       error);
}
