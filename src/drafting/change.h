/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes of the draft, as they are made with paper and scissors: darts turned,
 * pieces slashed and spread, edges shifted, pieces split and joined. In the manner of
 * edit.h: each takes a pattern and gives a new one, or NULL with an error in the
 * sewist's words; amounts that can't be done are refused with the largest that can.
 *
 * Edges that are not cut keep their length; marks, notches and inner lines go
 * with the part of the paper they are on; seams follow their edges.
 */
#pragma once

#include "drafting/edit.h"

/* A place on an outline: a length, mm, from the start of an edge. */
typedef struct
{
  guint piece, edge;
  double at;
} DraftingPlace;

/* The place of a piece's outline nearest to a point. FALSE where it has no outline. */
gboolean drafting_place_near (const PatternPiece *piece, GeoPoint point,
                              DraftingPlace *place);

/* --- darts (drafting/darts.c, dart-shape.c, dart-end.c) ------------------------- */
/* A dart is a seam that joins as a dart: its sides are two edges of one piece, the
 * legs, that meet at its point. A turned dart's legs are straight, and equal. */

/* Turned about a pivot (NULL: its point) to another place on the outline: cut from there to the
 * pivot, and turned until the old dart has closed by a share, above 0 to 1, of its
 * angle. With all of it the dart keeps its number and goes to the new place. Where
 * the pivot is not its point, the legs are drawn on to the pivot first, and a whole
 * turned dart points there. Where a part stays, the new dart's point stops 1.6 mm short of the
 * pivot, so that the two do not touch. The part with the fold, or the grainline, stays. */
Pattern *drafting_turn_dart (const Pattern *p, guint dart, DraftingPlace to,
                             double share, const GeoPoint *pivot,
                             GError **error);
/* Over several places, by shares of the angle (above 0, together at most 1); what is left stays. */
Pattern *drafting_split_dart (const Pattern *p, guint dart,
                              const DraftingPlace *to, const double *shares,
                              guint n, const GeoPoint *pivot, GError **error);
/* As a turn, but what opens is cloth: the edge there gains width. */
Pattern *drafting_dart_to_flare (const Pattern *p, guint dart, DraftingPlace to,
                                 double share, const GeoPoint *pivot,
                                 GError **error);
/* The dart is no longer sewn: the edge runs on across its mouth, and the seam it is in is
 * to ease that much in. */
Pattern *drafting_dart_to_ease (const Pattern *p, guint dart, GError **error);
/* The piece is split from the dart's point to a place on the outline, so that the dart's legs become
 * the ends of the seam made there. */
Pattern *drafting_dart_to_seam (const Pattern *p, guint dart, DraftingPlace to,
                                double apart, guint *new_piece, GError **error);
/* A new dart that takes `intake` mm out of an edge, about the place: square to it and
 * of a length; or, with a point, towards that (the longer leg is then shortened to the other's
 * length at the mouth). */
Pattern *drafting_make_dart (const Pattern *p, DraftingPlace at, double intake,
                             double length, const GeoPoint *point,
                             guint *new_dart, GError **error);
/* The point goes back towards the mouth by so many mm, on its middle line; negative: farther in. */
Pattern *drafting_move_dart_point (const Pattern *p, guint dart, double back,
                                   GError **error);
/* Legs bowed by so many mm at their middle; above 0 takes more cloth, below less, 0
 * straight. */
Pattern *drafting_curve_dart (const Pattern *p, guint dart, double by,
                              GError **error);
/* Another intake, mm between the legs' ends; both legs turn by half about the point. */
Pattern *drafting_set_dart_intake (const Pattern *p, guint dart, double intake,
                                   GError **error);
/* The angle between the directions from the point to the mouth's ends; 0 where gone. */
double drafting_dart_angle (const Pattern *p, guint dart);

/* --- slashes (drafting/slash.c, sweep.c) ------------------------------------------ */
/* Cut straight from one place to the other and spread: at `from` by so many mm, at `to` by
 * so many; 0 is a hinge, equal amounts are parallel, below 0 pinches out. fair: gaps are
 * filled by fair curves, else by straight lines. */
Pattern *drafting_slash (const Pattern *p, DraftingPlace from, DraftingPlace to,
                         double open_from, double open_to, gboolean fair,
                         GError **error);
/* Where the straight line between two points crosses a piece, from edge to edge: the longest stretch, if it is not
 * only begun. */
gboolean drafting_stretch_across (const PatternPiece *piece, GeoPoint a,
                                  GeoPoint b, GeoPoint *from, GeoPoint *to);
/* The same along the straight line through two points, where it goes across the piece. */
Pattern *drafting_slash_line (const Pattern *p, guint piece, GeoPoint a,
                              GeoPoint b, double open_a, double open_b,
                              gboolean fair, GError **error);
/* count slashes, evenly spaced along a run of edges of one piece, each to the same share
 * of another run; `total` is shared out evenly over their ends at the first run, total_to at the
 * second. smooth: both runs are made fair. Runs as they are walked; where slashes would
 * cross, the second is walked the other way. */
Pattern *drafting_sweep (const Pattern *p, const PatternRun *open, guint n_open,
                         const PatternRun *hinge, guint n_hinge, guint count,
                         double total, double total_to, gboolean smooth,
                         GError **error);
/* Lengthens (or below 0 shortens) a piece at a line square to its grainline, or to the upright, through a
 * point: what lies beyond it goes along the grain. */
Pattern *drafting_lengthen_at (const Pattern *p, guint piece, GeoPoint at,
                               double by, GError **error);

/* --- edges (drafting/shift.c, shift-even.c, lower.c) -------------------------------- */
typedef enum
{
  DRAFTING_SHIFT_EVEN,  /* all along */
  DRAFTING_SHIFT_SWELL, /* nothing, the amount at a place, nothing again */
  DRAFTING_SHIFT_START, /* the amount at the run's start, easing to nothing */
  DRAFTING_SHIFT_END,   /* nothing, easing to the amount at the run's end */
} DraftingShiftShape;

typedef struct
{
  double by; /* mm outward: lets out; below 0 takes in */
  DraftingShiftShape shape;
  double at;     /* of a swell: along the run */
  double reach;  /* over which it eases to nothing, to either side of a swell */
  gboolean both; /* the edges sewn to these as well, where they face them */
} DraftingShift;

/* Edges of one piece, in a row, shifted along their normals. Where they end shifted, the edges beside
 * them are cut off or go on straight until they meet; notches keep their distance from the end they are
 * measured from. Where the edge beside runs on smoothly, the amount has to ease to nothing. */
Pattern *drafting_shift_edges (const Pattern *p, const PatternRun *runs,
                               guint n, const DraftingShift *shift,
                               GError **error);
/* A hem, evenly; with all, so the hems of all pieces that it runs on into across seams. */
Pattern *drafting_lengthen_hem (const Pattern *p, guint piece, guint edge,
                                double by, gboolean all, GError **error);
/* The edge's end (or start) slides along the edge beside it: into that by so many mm, or below
 * 0 beyond it, straight on. The edge goes along, less and less; its far end, and the direction
 * there, stay, and so does the direction at the end that moves. */
Pattern *drafting_lower_end (const Pattern *p, guint piece, guint edge,
                             gboolean at_start, double by, GError **error);
/* The other side of a seam is brought to the length of this one (from: 0 A, 1 B), less or more the ease that is
 * meant: its longest edge, by the end that is the seam's. */
Pattern *drafting_carry_over (const Pattern *p, guint seam, int from,
                              GError **error);

/* --- whole pieces (drafting/split.c, join.c, fold.c, extend.c) ------------------------ */
/* Splits along a drawn line, drawn on straight to the outline where it ends inside: two pieces `apart` mm from each
 * other, with a seam between them. Seams, notches and marks go along; the part with the fold, or the
 * grainline, keeps the piece's number, and both get a grainline. name NULL: from the piece's. */
Pattern *drafting_split_piece (const Pattern *p, guint piece,
                               const GeoChain *line, double apart,
                               const char *name, guint *new_piece,
                               guint *new_seam, GError **error);
/* Joins the two pieces of a seam along it: side B's is laid to side A's, whose number stays. Refused
 * where the two sides do not lie on each other to within 1 mm: such a seam shapes the cloth. */
Pattern *drafting_join_pieces (const Pattern *p, guint seam, GError **error);
/* A half, cut on the fold, made whole: with its mirror image, whose edges are in no seam. */
Pattern *drafting_unfold (const Pattern *p, guint piece, GError **error);
/* The half of a piece that is its own mirror image, to 0.5 mm, about the line through two of its
 * nodes; that line becomes an edge on the fold. */
Pattern *drafting_fold (const Pattern *p, guint piece, GError **error);
typedef enum
{
  DRAFTING_EXTEND_RUN_ON, /* a button stand: the edges beside go straight on */
  DRAFTING_EXTEND_FACING, /* a facing cut on: the mirror image of what it faces */
} DraftingExtend;
/* What the piece gains beyond an edge; the edge as it was becomes an inner line. A facing is turned back along
 * the edge, which has to be straight for that. */
Pattern *drafting_extend_edge (const Pattern *p, guint piece, guint edge,
                               double width, DraftingExtend how,
                               GError **error);
