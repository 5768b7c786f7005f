/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Paper and scissors: a piece cut along lines, its parts moved, and its outline
 * made good. What the verbs of change.h are made of.
 *
 * A place of the outline that is cut has two nodes, one that ends what comes
 * before and one that starts what comes after; so every part of the outline is
 * a run of nodes of its own, and moves as one. In the end the two are merged, or the
 * gap between them is filled, or the overlap taken away.
 */
#pragma once

#include "drafting/change.h"
#include "drafting/edit-private.h"

typedef struct
{
  const Pattern *before;
  Pattern *pattern;    /* a copy, for its seams and numbers */
  PatternPiece *piece; /* a copy, being altered */
  GArray *held;        /* where notches sit */
  gboolean crossed;    /* the outline crossed itself to begin with */
  double least;        /* area to be left */
} DraftingChange;

/* FALSE with the error set where the piece is gone. */
gboolean drafting_change_begin (DraftingChange *c, const Pattern *p,
                                guint piece, GError **error);
void drafting_change_clear (DraftingChange *c);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DraftingChange, drafting_change_clear)
/* The pattern with the changed piece; c is empty afterwards. NULL with the error set where
 * the piece would lie over itself or have no area left: AMOUNT, so that
 * drafting_try() looks for what can be done. */
Pattern *drafting_change_finish (DraftingChange *c, GError **error);

/* --- notches ------------------------------------------------------------------ */
/* Notches keep their places on the paper from here on, whatever becomes of their
 * edges. To be called when all places to be cut have nodes. */
void drafting_change_hold (DraftingChange *c);

/* --- nodes ------------------------------------------------------------------- */
guint drafting_change_index (const DraftingChange *c, guint node);
PatternNode *drafting_change_node (const DraftingChange *c, guint node);
/* The node at a length of an edge: one that is there, or a new one that leaves
 * the shape as it is. 0 with the error set where there is no such place. */
guint drafting_change_node_at (DraftingChange *c, guint edge, double at,
                               GError **error);
/* Makes two of a node, on one point: the number of the first; the second keeps
 * the node's, and what starts there. */
guint drafting_change_part (DraftingChange *c, guint node);
/* A node without handles, put before another; where an edge starts at that one, it
 * ends the edge before. */
guint drafting_change_insert (DraftingChange *c, guint before, GeoPoint at);
/* The two become one, that keeps the second's number: they lie on one point, or
 * nearly, and meet halfway. */
void drafting_change_merge (DraftingChange *c, guint first, guint second);
/* Takes out the nodes strictly between the two, and the edges that start there and
 * at last; notches on those edges with them. */
void drafting_change_remove_between (DraftingChange *c, guint first,
                                     guint last);
/* An edge from the node on: with like's name, kind and allowance; number 0 takes a new one,
 * which is returned. Where its nodes were of an edge in seams, they are not
 * told. */
guint drafting_change_edge (DraftingChange *c, guint node,
                            const PatternEdge *like, guint number);
/* The same for a cut through an edge: seams walk both parts. Nothing where an edge starts there. */
void drafting_change_cut_edge (DraftingChange *c, guint node);
gboolean drafting_change_starts_edge (const DraftingChange *c, guint node);
/* What was cut comes together again: the edge that starts at the node joins the one before it where the
 * two are alike and their seams do not tell them apart. */
void drafting_change_rejoin (DraftingChange *c, guint node);

/* --- moving ------------------------------------------------------------------- */
void drafting_change_move (DraftingChange *c, guint first, guint last,
                           GeoMotion motion);
/* Appends the outline from one node to another. */
void drafting_change_chain (const DraftingChange *c, guint first, guint last,
                            GeoChain *chain);
/* Marks inside the closed region, and nodes of inner lines, by the motion. The grainline
 * keeps its direction. */
void drafting_change_carry (DraftingChange *c, const GeoChain *region,
                            GeoMotion motion);
/* Which of two parts stays on the table: TRUE where it is the one inside the
 * region: the one with the fold, or else with the grainline's middle, or the larger. first and last: its
 * run of the outline. */
gboolean drafting_change_stays (const DraftingChange *c, const GeoChain *region,
                                guint first, guint last);

/* --- making good --------------------------------------------------------------- */
/* Between two nodes that were parted: merged where they meet, a gap filled by a fair curve (or a straight line), an
 * overlap taken from both sides by half each. FALSE with the error set where there is
 * too little to take it from. */
gboolean drafting_change_mend (DraftingChange *c, guint first, guint second,
                               gboolean overlap, gboolean fair, GError **error);
/* Makes an edge fair within a distance, ends and their directions kept. */
void drafting_change_fair (DraftingChange *c, guint edge, double within,
                           gboolean keep_length);
/* Smooth where both handles are in one line, else a corner. */
void drafting_set_kind_by_shape (PatternPiece *piece, guint index);

/* --- lines across --------------------------------------------------------------- */
/* FALSE with the error set where the straight line from one place of the outline to
 * another, or to a place inside, leaves the piece on the way. */
gboolean drafting_change_inside (const DraftingChange *c, GeoPoint from,
                                 GeoPoint to, GError **error);

/* --- what can be done --------------------------------------------------------- */
typedef Pattern *(*DraftingAttempt) (const Pattern *p, gconstpointer what,
                                     double share, GError **error);
typedef enum
{
  DRAFTING_WORDS_LENGTH,
  DRAFTING_WORDS_DEGREES,
  DRAFTING_WORDS_PER_CENT,
} DraftingWords;
/* Attempts the whole amount; where that fails with AMOUNT, seeks the largest share of
 * it that works and ends the message with that. */
Pattern *drafting_try (const Pattern *p, DraftingAttempt attempt,
                       gconstpointer what, double amount, DraftingWords words,
                       GError **error);

/* --- a loop put together ---------------------------------------------------------- */
typedef struct
{
  GArray *nodes; /* PatternNode */
  GArray *edges; /* PatternEdge, strings borrowed */
} DraftingLoop;

void drafting_loop_init (DraftingLoop *loop);
void drafting_loop_clear (DraftingLoop *loop);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DraftingLoop, drafting_loop_clear)
/* Appends a node; an edge starts at it where edge is not NULL. */
void drafting_loop_add (DraftingLoop *loop, const PatternNode *node,
                        const PatternEdge *edge);
/* Appends nodes first to last of a piece, and the edges that start at them, but for one that starts at
 * last. */
void drafting_loop_add_run (DraftingLoop *loop, const PatternPiece *piece,
                            guint first, guint last);
/* Appends the inner nodes of a chain, its ends' handles given to the last node there is and, by
 * leave, to the node that follows: the handle to arrive there by. */
void drafting_loop_add_chain (DraftingLoop *loop, const GeoChain *chain,
                              Pattern *numbers, GeoPoint *arrive);
/* Gives the piece this outline. The first edge begins its loop. */
void drafting_loop_close (const DraftingLoop *loop, PatternPiece *piece);
