/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Truing and fairing: lines of the garment made smooth across seams and darts, square
 * to folds, and even in themselves. As in drafting/edit.h every verb gives a new
 * pattern, or NULL with an error in the sewist's words, and is one step over
 * all the pieces it changes.
 */
#pragma once

#include "drafting/edit.h"
#include "sewing/line.h"

/* --- across a seam or a dart (drafting/true.c) -------------------------------- */

typedef struct
{
  double angle[2];  /* of the cloth at the joint, before and after; radians */
  double length[2]; /* of both edges together, before and after; mm */
  double moved;     /* the farthest any place of either has gone, mm */
} DraftingTrued;

/* Lays the two pieces together at the seam's end (0 its start, 1 its end), and over the reach,
 * mm, on either side puts one fair curve in place of the edges that run on there
 * (geometry/blend.h). Tangent and curvature at both ends of the reach stay, and so does the seam:
 * both edges end where they did, at one point of it. A dart is closed for it and
 * opened again. told may be NULL.
 *
 * Where it can't be done over that reach the message says what is the largest
 * that can. */
Pattern *drafting_blend (const Pattern *p, guint seam, int end, double reach,
                         DraftingTrued *told, GError **error);
/* The same at every joint of the line through the seam's end that is out by more
 * than half a degree; at least at the one asked for. Each over the reach, or what there is room
 * for: half an edge that runs on at both its ends. angle is that of the joint that was worst. */
Pattern *drafting_blend_line (const Pattern *p, guint seam, int end,
                              double reach, DraftingTrued *told,
                              GError **error);
/* The largest reach at that joint, mm, 0 where there is none; and one to begin
 * with, sewing_joint_reach(). */
double drafting_blend_most (const Pattern *p, guint seam, int end);
double drafting_blend_start (const Pattern *p, guint seam, int end);

/* Makes the edge leave the fold at its end, or start, square: over the reach it is
 * blended with its own mirror image. With a reach of 0 only the handle there
 * is turned. */
Pattern *drafting_square (const Pattern *p, guint piece, guint edge,
                          gboolean at_end, double reach, DraftingTrued *told,
                          GError **error);

/* Moves the joint along the seam, out of the pieces by that much (mm; less than 0: into them):
 * the seam gets longer on both its sides by the same, and both edges end at
 * its new end. */
Pattern *drafting_slide_joint (const Pattern *p, guint seam, int end, double by,
                               GError **error);

/* --- the line as one curve (drafting/true-line.c) ------------------------------ */
/* Places and moves are those of the laid line, and are carried back into the piece of
 * the run. line is of the pattern p; node is of the run's edge. */

/* A node inside a run, or at the line's end. At a joint, where two pieces end, the
 * joint slides along the seam instead. */
Pattern *drafting_line_move_node (const Pattern *p, const SewingLine *line,
                                  guint run, guint node, GeoPoint to,
                                  GError **error);
/* which is the handle as the piece has it. At a joint the other piece's handle is
 * turned along, into one line with it. */
Pattern *drafting_line_set_handle (const Pattern *p, const SewingLine *line,
                                   guint run, guint node, DraftingHandle which,
                                   GeoPoint to, GError **error);
/* node starts the cubic on the piece, t is on it as the piece has it. Handles at joints
 * are turned along. */
Pattern *drafting_line_bend (const Pattern *p, const SewingLine *line,
                             guint run, guint node, double t, GeoPoint by,
                             GError **error);

/* --- fairing (drafting/true-fair.c) ---------------------------------------------- */

typedef struct
{
  double within; /* farthest any place may go, mm */
  gboolean keep_length;
  double from, to; /* the stretch, lengths from the edge's start; the whole edge
                      where to is not more than from */
} DraftingFairing;

typedef struct
{
  double roughness[2]; /* before and after; geometry/fair.h */
  double length[2];    /* of the edge */
  double moved;        /* the farthest any place has gone */
} DraftingFaired;

/* Evens out the edge's curvature. Ends and the directions there stay, corners inside it
 * too; a stretch keeps the curvature at its ends. Seams keep to their ends; with
 * keep_length they keep their length as well. told may be NULL. */
Pattern *drafting_fair_edge (const Pattern *p, guint piece, guint edge,
                             const DraftingFairing *how, DraftingFaired *told,
                             GError **error);
