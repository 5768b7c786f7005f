/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A front with a dart, and what is asked of every change of it. */
#pragma once

#include "drafting/change.h"
#include "geometry/crossing.h"
#include "sample.h"

#define DART_LEG 180.0
#define DART_INTAKE 40.0

/* The point at (150, 180) or so; 150 mm from the left edge, 260 from the right, 400 from
 * the hem; legs of 180 mm with 40 between them in the top edge. Edges: 0 left, 1 top left, 2, 3 legs,
 * 4 top right, 5 right, 6 hem. */
typedef struct
{
  Pattern *p;
  guint piece, dart, edges[7];
  GeoPoint point;
} DartSample;

static inline DartSample
dart_sample (void)
{
  DartSample s = { .p = pattern_new ("darts"), .point = { 150, 180 } };
  double half = asin (DART_INTAKE / 2 / DART_LEG);
  double top = 180 - DART_LEG * cos (half);
  PatternPiece *piece = pattern_piece_new (pattern_take_id (s.p), "front");
  PatternNode nodes[] = {
    sample_node (0, 580),
    sample_node (0, top),
    sample_node (150 - DART_INTAKE / 2, top),
    sample_node (150, 180),
    sample_node (150 + DART_INTAKE / 2, top),
    sample_node (410, top),
    sample_node (410, 580),
  };
  gboolean starts[7] = { TRUE, TRUE, TRUE, TRUE, TRUE, TRUE, TRUE };
  pattern_piece_set_outline (piece, nodes, 7, starts, &s.p->next_id);
  static const char *const names[]
      = { "left", "top", "leg", "leg", "top", "right", "hem" };
  for (guint i = 0; i < 7; i++)
    {
      s.edges[i] = piece->edges[i].id;
      pattern_set_string (&piece->edges[i].name, names[i]);
      piece->edges[i].allowance = 10;
    }
  PatternNotch notch
      = { pattern_take_id (s.p), s.edges[5], 1, PATTERN_FROM_START, 100 };
  pattern_piece_add_notch (piece, notch);
  pattern_piece_add_drill (
      piece, (PatternDrill){ pattern_take_id (s.p), { 300, 120 } });
  pattern_piece_add_drill (
      piece, (PatternDrill){ pattern_take_id (s.p), { 60, 500 } });
  piece->has_grain = TRUE;
  piece->grain_from = geo_point (100, 350);
  piece->grain_to = geo_point (100, 500);
  s.piece = piece->id;
  pattern_put_piece (s.p, piece);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (s.p), "bust dart");
  seam->join = PATTERN_JOIN_DART;
  pattern_seam_add_run (seam, 0, (PatternRun){ s.piece, s.edges[2], FALSE });
  pattern_seam_add_run (seam, 1, (PatternRun){ s.piece, s.edges[3], TRUE });
  s.dart = seam->id;
  pattern_put_seam (s.p, seam);
  return s;
}

static inline const PatternPiece *
piece_of (const Pattern *p, guint piece)
{
  const PatternPiece *own = pattern_get_piece (p, piece);
  g_assert_nonnull (own);
  return own;
}

static inline double
area_of (const Pattern *p, guint piece)
{
  return pattern_piece_area (piece_of (p, piece));
}

/* Done, sound, of positive area and not over itself. */
static inline void
assert_good (const Pattern *result, guint piece, GError *error)
{
  g_assert_no_error (error);
  g_assert_nonnull (result);
  assert_sound (result);
  g_assert_cmpfloat (area_of (result, piece), >, 0);
  GeoChain outline = GEO_CHAIN_EMPTY;
  pattern_piece_outline (piece_of (result, piece), &outline);
  g_assert_false (geo_chain_crosses_itself (&outline));
  geo_chain_clear (&outline);
}

/* Refused with these words in it, and nothing given. */
static inline void
assert_refused (Pattern *result, GError **error, int code, const char *words)
{
  g_assert_null (result);
  g_assert_error (*error, DRAFTING_ERROR, code);
  if (!strstr ((*error)->message, words))
    g_error ("“%s” does not say “%s”", (*error)->message, words);
  g_clear_error (error);
}

/* Length of a dart's leg by its run, and the distance of the legs' ends. */
static inline double
dart_leg (const Pattern *p, guint dart, int side)
{
  const PatternRun *run = &pattern_get_seam (p, dart)->sides[side].runs[0];
  return edge_length (p, run->piece, run->edge);
}

/* The angle a dart's mouth is seen under from a place. */
static inline double
dart_angle_at (const Pattern *p, guint dart, GeoPoint from)
{
  const PatternRun *run = &pattern_get_seam (p, dart)->sides[0].runs[0];
  const PatternPiece *piece = piece_of (p, run->piece);
  int leg = pattern_piece_find_edge (piece, run->edge);
  guint second = ((guint)leg + 1) % piece->n_edges;
  guint end = pattern_piece_edge_last (piece, second) % piece->n_nodes;
  return fabs (geo_angle_between (
      geo_sub (piece->nodes[piece->edges[leg].first].at, from),
      geo_sub (piece->nodes[end].at, from)));
}

static inline double
dart_mouth (const Pattern *p, guint dart)
{
  const PatternRun *run = &pattern_get_seam (p, dart)->sides[0].runs[0];
  const PatternPiece *piece = piece_of (p, run->piece);
  int leg = pattern_piece_find_edge (piece, run->edge);
  guint m = piece->n_edges, second = ((guint)leg + 1) % m;
  return geo_distance (
      piece->nodes[piece->edges[leg].first].at,
      piece->nodes[pattern_piece_edge_last (piece, second) % piece->n_nodes]
          .at);
}

#define DEGREES (180 / G_PI)
