/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A smooth node between a straight side and a curved one: its one handle lies in the straight
 * side's line. */
#include <math.h>

#include "pattern/piece.h"

/* A handle off its straight side's line by less than this is in it, mm. */
#define OFF_LINE 1e-9

gboolean
pattern_nodes_are_straight (const PatternNode *from, const PatternNode *to)
{
  return geo_same (from->out, from->at) && geo_same (to->in, to->at);
}

GeoPoint *
pattern_piece_handle_in_line (PatternPiece *piece, guint i, GeoPoint *way)
{
  g_return_val_if_fail (piece != NULL && i < piece->n_nodes, NULL);
  guint n = piece->n_nodes;
  PatternNode *node = &piece->nodes[i];
  const PatternNode *before = &piece->nodes[(i + n - 1) % n];
  const PatternNode *after = &piece->nodes[(i + 1) % n];
  gboolean in = !geo_same (node->in, node->at);
  gboolean out = !geo_same (node->out, node->at);
  if (node->kind != PATTERN_NODE_SMOOTH || in == out)
    return NULL;
  if (in && pattern_nodes_are_straight (node, after))
    *way = geo_unit (geo_sub (node->at, after->at));
  else if (out && pattern_nodes_are_straight (before, node))
    *way = geo_unit (geo_sub (node->at, before->at));
  else
    return NULL;
  return in ? &node->in : &node->out;
}

void
pattern_piece_keep_in_line (PatternPiece *piece, const gboolean *moved)
{
  g_return_if_fail (piece != NULL && (piece->n_nodes == 0 || moved != NULL));
  guint n = piece->n_nodes;
  for (guint i = 0; i < n; i++)
    {
      if (!moved[i] && !moved[(i + n - 1) % n] && !moved[(i + 1) % n])
        continue;
      GeoPoint way, at = piece->nodes[i].at;
      GeoPoint *handle = pattern_piece_handle_in_line (piece, i, &way);
      if (handle && (way.x != 0 || way.y != 0)
          && fabs (geo_cross (geo_sub (*handle, at), way)) > OFF_LINE)
        *handle = geo_along (at, way, geo_distance (*handle, at));
    }
}
