/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small patterns for tests: pieces with every kind of mark. */
#pragma once

#include "pattern/pattern.h"

static inline PatternNode
sample_node (double x, double y)
{
  GeoPoint p = { x, y };
  return (PatternNode){ 0, PATTERN_NODE_CORNER, p, p, p };
}

/* 100 wide, 60 high at (x, y), walked so that its area is positive; an edge at
 * each corner: top, right, bottom, left. */
static inline PatternPiece *
sample_rectangle (Pattern *pattern, const char *name, double x, double y)
{
  PatternPiece *piece = pattern_piece_new (pattern_take_id (pattern), name);
  PatternNode nodes[]
      = { sample_node (x, y), sample_node (x + 100, y),
          sample_node (x + 100, y + 60), sample_node (x, y + 60) };
  gboolean starts[] = { TRUE, TRUE, TRUE, TRUE };
  static const char *const names[] = { "top", "right", "bottom", "left" };
  pattern_piece_set_outline (piece, nodes, 4, starts, &pattern->next_id);
  for (guint i = 0; i < 4; i++)
    {
      pattern_set_string (&piece->edges[i].name, names[i]);
      piece->edges[i].allowance = 10 + i;
    }
  return piece;
}

static inline void
sample_mark (Pattern *pattern, PatternPiece *piece)
{
  GeoPoint at = piece->nodes[0].at;
  PatternNotch notch = { pattern_take_id (pattern), piece->edges[0].id, 1,
                         PATTERN_FROM_START, 30 };
  pattern_piece_add_notch (piece, notch);
  notch.id = pattern_take_id (pattern);
  notch.from = PATTERN_FROM_END;
  notch.count = 2;
  pattern_piece_add_notch (piece, notch);
  notch.id = pattern_take_id (pattern);
  notch.from = PATTERN_FRACTION;
  notch.amount = 0.25;
  pattern_piece_add_notch (piece, notch);
  pattern_piece_add_cut (piece, (PatternCut){ pattern->cloths[0].id, 2, TRUE });
  pattern_piece_add_buttonhole (
      piece,
      (PatternButtonhole){ pattern_take_id (pattern),
                           geo_along (at, geo_point (1, 1), 10), 0.3, 18 });
  pattern_piece_add_drill (piece,
                           (PatternDrill){ pattern_take_id (pattern), at });
  pattern_piece_add_text (piece, pattern_take_id (pattern), at, 0.5, 6,
                          "lap over");
  PatternNode line[]
      = { sample_node (at.x + 5, at.y + 5), sample_node (at.x + 50, at.y + 5) };
  line[0].id = pattern_take_id (pattern);
  line[1].id = pattern_take_id (pattern);
  pattern_piece_add_line (piece, pattern_take_id (pattern), "pocket", line, 2);
  piece->has_grain = TRUE;
  piece->grain_from = geo_along (at, geo_point (1, 0), 50);
  piece->grain_to = geo_along (piece->grain_from, geo_point (0, 1), 40);
  pattern_set_string (&piece->note, "with the nap");
  pattern_set_string (&piece->extra, "<x/>");
  pattern_set_string (&piece->edges[1].extra, "<y/>");
}

/* Two rectangles, "front" and "back", front's right sewn to back's left. */
static inline Pattern *
sample_pattern (void)
{
  Pattern *pattern = pattern_new ("sample");
  PatternPiece *front = sample_rectangle (pattern, "front", 0, 0);
  PatternPiece *back = sample_rectangle (pattern, "back", 200, 0);
  sample_mark (pattern, front);
  sample_mark (pattern, back);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (pattern), "side");
  pattern_seam_add_run (seam, 0,
                        (PatternRun){ front->id, front->edges[1].id, FALSE });
  pattern_seam_add_run (seam, 1,
                        (PatternRun){ back->id, back->edges[3].id, TRUE });
  pattern_put_piece (pattern, front);
  pattern_put_piece (pattern, back);
  pattern_put_seam (pattern, seam);
  return pattern;
}
