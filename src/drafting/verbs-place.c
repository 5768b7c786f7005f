/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/verbs-private.h"

DraftingPlace
drafting_values_place (const Pattern *p, const DraftingValues *v,
                       const char *edge, const char *at)
{
  guint n = 0;
  const PatternRun *runs = drafting_values_get_runs (v, edge, &n);
  DraftingPlace place = { 0, 0, 0 };
  if (n == 0)
    return place;
  place.piece = runs[0].piece;
  place.edge = runs[0].edge;
  const PatternPiece *piece = pattern_get_piece (p, place.piece);
  int index = piece ? pattern_piece_find_edge (piece, place.edge) : -1;
  double length = index < 0 ? 0 : drafting_edge_length (piece, (guint)index);
  place.at = drafting_values_has (v, at) ? drafting_values_get_number (v, at)
                                         : length / 2;
  if (runs[0].reversed && drafting_values_has (v, at))
    place.at = length - place.at;
  return place;
}

const GeoPoint *
drafting_values_point (const DraftingValues *v, const char *key)
{
  guint n = 0;
  const GeoPoint *points = drafting_values_has (v, key)
                               ? drafting_values_get_points (v, key, &n)
                               : NULL;
  return n > 0 ? points : NULL;
}
