/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small patterns and pictures for the tests of drawing and of printing. */
#pragma once

#include "pattern/pattern.h"

static inline PatternNode
sample_corner (double x, double y)
{
  GeoPoint p = { x, y };
  return (
      PatternNode){ .kind = PATTERN_NODE_CORNER, .at = p, .in = p, .out = p };
}

/* A closed piece with one edge a side, all of one width and kind. */
static inline PatternPiece *
sample_polygon (Pattern *pattern, const char *name, const GeoPoint *points,
                guint count, PatternEdgeKind kind, double width)
{
  g_autofree PatternNode *nodes = g_new0 (PatternNode, count);
  g_autofree gboolean *starts = g_new (gboolean, count);
  for (guint i = 0; i < count; i++)
    {
      nodes[i] = sample_corner (points[i].x, points[i].y);
      starts[i] = TRUE;
    }
  PatternPiece *piece = pattern_piece_new (pattern_take_id (pattern), name);
  pattern_piece_set_outline (piece, nodes, count, starts, &pattern->next_id);
  for (guint e = 0; e < piece->n_edges; e++)
    {
      piece->edges[e].kind = kind;
      piece->edges[e].allowance = width;
    }
  return piece;
}

static inline PatternPiece *
sample_rectangle (Pattern *pattern, const char *name, double x, double y,
                  double w, double h, PatternEdgeKind kind, double width)
{
  const GeoPoint corners[4]
      = { { x, y }, { x + w, y }, { x + w, y + h }, { x, y + h } };
  return sample_polygon (pattern, name, corners, 4, kind, width);
}

/* Nodes of an arc of a circle, without the last where open is unset; each of
 * the cubics spans angle / steps. Handles by the usual rule, 4/3 tan (angle /
 * 4). */
static inline void
sample_arc (PatternNode *nodes, guint steps, GeoPoint centre, double radius,
            double from, double angle)
{
  double h = radius * 4 / 3 * tan (angle / steps / 4);
  for (guint i = 0; i <= steps; i++)
    {
      double a = from + angle * i / steps;
      GeoPoint out = { cos (a), sin (a) }, along = { -sin (a), cos (a) };
      nodes[i] = (PatternNode){ .kind = PATTERN_NODE_SMOOTH,
                                .at = geo_along (centre, out, radius) };
      nodes[i].in = geo_along (nodes[i].at, along, -h);
      nodes[i].out = geo_along (nodes[i].at, along, h);
    }
}

/* A whole circle as one edge of 16 cubics, which leave it by less than 1e-5 of
 * its radius. */
static inline PatternPiece *
sample_circle (Pattern *pattern, const char *name, GeoPoint centre,
               double radius, double width)
{
  PatternNode nodes[17];
  gboolean starts[16] = { TRUE };
  sample_arc (nodes, 16, centre, radius, 0, 2 * G_PI);
  PatternPiece *piece = pattern_piece_new (pattern_take_id (pattern), name);
  pattern_piece_set_outline (piece, nodes, 16, starts, &pattern->next_id);
  piece->edges[0].kind = PATTERN_EDGE_SEAM;
  piece->edges[0].allowance = width;
  return piece;
}

/* A strip of cloth whose upper edge is a straight line of a length, from left
 * to right: edge 0. */
static inline PatternPiece *
sample_band (Pattern *pattern, const char *name, double x, double y,
             double length)
{
  PatternPiece *piece = sample_rectangle (pattern, name, x, y, length, 60,
                                          PATTERN_EDGE_SEAM, 10);
  pattern_set_string (&piece->edges[0].name, name);
  return piece;
}

/* A piece whose edge 0 is a hollow quarter circle of a radius, left to right.
 */
static inline PatternPiece *
sample_hollow (Pattern *pattern, const char *name, double x, double y,
               double radius)
{
  PatternNode nodes[8];
  gboolean starts[7] = { TRUE, FALSE, FALSE, FALSE, TRUE, TRUE, TRUE };
  /* Round a centre above the edge: from lower left to lower right. */
  sample_arc (nodes, 4, geo_point (x, y), radius, G_PI * 3 / 4, -G_PI / 2);
  nodes[0].kind = nodes[4].kind = PATTERN_NODE_CORNER;
  nodes[0].in = nodes[0].at;
  nodes[4].out = nodes[4].at;
  double down = y + radius + 120;
  nodes[5] = sample_corner (nodes[4].at.x, down);
  nodes[6] = sample_corner (nodes[0].at.x, down);
  starts[4] = starts[5] = starts[6] = TRUE;
  PatternPiece *piece = pattern_piece_new (pattern_take_id (pattern), name);
  pattern_piece_set_outline (piece, nodes, 7, starts, &pattern->next_id);
  for (guint e = 0; e < piece->n_edges; e++)
    {
      piece->edges[e].kind = PATTERN_EDGE_SEAM;
      piece->edges[e].allowance = 10;
    }
  pattern_set_string (&piece->edges[0].name, name);
  return piece;
}
