/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edits: named verbs with amounts. Each takes a pattern and gives a new one that
 * shares what it did not touch, or NULL with an error in the sewist's words when it
 * can't be done; the pattern given is never changed. The same calls serve the
 * table, the panels, the command and the tests.
 *
 * Whoever calls owns the result. What a verb is called in the history is the
 * caller's to say. Numbers that are not finite or beyond 100 m are refused, and so is
 * what would leave a piece no area; an outline that an edit turned over is turned
 * round, its seams along.
 */
#pragma once

#include "sewing/checks.h"

#define DRAFTING_ERROR (drafting_error_quark ())
GQuark drafting_error_quark (void);
typedef enum
{
  DRAFTING_ERROR_GONE,   /* what was named is not in the pattern */
  DRAFTING_ERROR_AMOUNT, /* the amount can't be done; message says what can */
  DRAFTING_ERROR_SHAPE,  /* the shape does not allow it */
  DRAFTING_ERROR_LINKED, /* a linked piece would have to be let go first */
} DraftingError;

/* --- nodes (drafting/nodes.c) ---------------------------------------------- */
/* Moves nodes with their handles. Smooth nodes beside a straight side turn their
 * handle along when the side turns. */
Pattern *drafting_move_nodes (const Pattern *p, guint piece, const guint *nodes,
                              guint n_nodes, GeoPoint by, GError **error);
Pattern *drafting_set_node (const Pattern *p, guint piece, guint node,
                            GeoPoint to, GError **error);
typedef enum
{
  DRAFTING_HANDLE_IN,
  DRAFTING_HANDLE_OUT
} DraftingHandle;
/* The other handle follows as the node's kind asks: smooth keeps its length and
 * turns, symmetric mirrors, corner leaves it. The one handle of a smooth node beside
 * a straight side stays in that side's line. */
Pattern *drafting_set_handle (const Pattern *p, guint piece, guint node,
                              DraftingHandle which, GeoPoint to,
                              GError **error);
/* To smooth: the handles are put in one line, least turned; a node without handles
 * is given them a third of the way to its neighbours. To corner: nothing moves. */
Pattern *drafting_set_node_kind (const Pattern *p, guint piece, guint node,
                                 PatternNodeKind kind, GError **error);
/* A node on the edge at a length from its start; the curve keeps its shape
 * exactly. new_node may be NULL. */
Pattern *drafting_add_node (const Pattern *p, guint piece, guint edge,
                            double at, guint *new_node, GError **error);
/* Takes a node out; the cubic that replaces its two sides keeps ends and end
 * tangents and comes as near the old shape as one cubic can. A node between two edges joins them. */
Pattern *drafting_remove_node (const Pattern *p, guint piece, guint node,
                               GError **error);
/* Bends a cubic so that its point at t moves by the vector (least change of handles). node: the one it starts at.
 * A handle that lies in the line of a straight side beside it stays in that line; the point then comes
 * as near as the other handle can bring it without being thrown far out. */
Pattern *drafting_bend (const Pattern *p, guint piece, guint node, double t,
                        GeoPoint by, GError **error);
/* Straightens the side that starts at the node. */
Pattern *drafting_straighten (const Pattern *p, guint piece, guint node,
                              GError **error);

/* --- edges (drafting/edges.c) ---------------------------------------------- */
/* Whole edge, both its ends included. */
Pattern *drafting_move_edge (const Pattern *p, guint piece, guint edge,
                             GeoPoint by, GError **error);
/* Brings the edge to a length by moving one end along its end tangent, the inner
 * nodes shared out in proportion, so that the far end and its tangent stay. at_start: which end moves.
 * A strong curve that can't get so short that way is drawn together about the far end
 * as a whole. */
Pattern *drafting_set_edge_length (const Pattern *p, guint piece, guint edge,
                                   double length, gboolean at_start,
                                   GError **error);
/* Brings the edge to a length with both its ends and the directions there kept: bent as
 * a whole, and made fair again. Straight edges are refused. */
Pattern *drafting_bend_to_length (const Pattern *p, guint piece, guint edge,
                                  double length, GError **error);
Pattern *drafting_set_edge_name (const Pattern *p, guint piece, guint edge,
                                 const char *name, GError **error);
Pattern *drafting_set_edge_kind (const Pattern *p, guint piece, guint edge,
                                 PatternEdgeKind kind, GError **error);
Pattern *drafting_set_allowance (const Pattern *p, guint piece, guint edge,
                                 double allowance, GError **error);
/* Slits and wedges at this distance along the stitch line, wherever the edge is curved; 0:
 * as computed. */
Pattern *drafting_set_clip_spacing (const Pattern *p, guint piece, guint edge,
                                    double spacing, GError **error);
Pattern *drafting_set_corner (const Pattern *p, guint piece, guint edge,
                              GeoCorner corner, GError **error);
/* A new edge begins at the node; or, where one begins there, it joins the one
 * before it. */
Pattern *drafting_split_edge (const Pattern *p, guint piece, guint node,
                              guint *new_edge, GError **error);
Pattern *drafting_join_edge (const Pattern *p, guint piece, guint edge,
                             GError **error);

/* --- pieces (drafting/pieces.c) -------------------------------------------- */
/* From a closed chain; corners where the tangent turns more than corner_angle start
 * an edge each. Gives allowance to every edge. An open chain is closed by a line. */
Pattern *drafting_add_piece (const Pattern *p, const char *name,
                             const GeoChain *outline, double corner_angle,
                             double allowance, guint *new_piece,
                             GError **error);
/* From nodes as drawn (closed loop). */
Pattern *drafting_add_piece_nodes (const Pattern *p, const char *name,
                                   const PatternNode *nodes, guint n_nodes,
                                   double allowance, guint *new_piece,
                                   GError **error);
Pattern *drafting_add_line (const Pattern *p, const char *name,
                            const GeoChain *line, GError **error);
Pattern *drafting_remove_piece (const Pattern *p, guint piece, GError **error);
/* A copy moved aside, with new ids; mirrored turns it over. */
Pattern *drafting_copy_piece (const Pattern *p, guint piece, gboolean mirrored,
                              guint *new_piece, GError **error);
/* Copies of every piece of another pattern, moved and with new ids; a cloth of the same
 * name is taken for the same, others are brought along. Ids of the new pieces are
 * appended to new_pieces (guint), which may be NULL. */
Pattern *drafting_add_pieces_of (const Pattern *p, const Pattern *from,
                                 GeoPoint by, GArray *new_pieces,
                                 GError **error);
Pattern *drafting_move_pieces (const Pattern *p, const guint *pieces,
                               guint n_pieces, GeoMotion motion,
                               GError **error);
/* Turned about the middle of its bounds by the angle. */
Pattern *drafting_turn_piece (const Pattern *p, guint piece, double angle,
                              GError **error);
/* Turned over about its grainline, or the upright through its middle. */
Pattern *drafting_mirror_piece (const Pattern *p, guint piece, GError **error);
Pattern *drafting_set_piece_name (const Pattern *p, guint piece,
                                  const char *name, GError **error);
Pattern *drafting_set_piece_note (const Pattern *p, guint piece,
                                  const char *note, GError **error);
Pattern *drafting_set_cuts (const Pattern *p, guint piece,
                            const PatternCut *cuts, guint n_cuts,
                            GError **error);
Pattern *drafting_set_grain (const Pattern *p, guint piece, GeoPoint from,
                             GeoPoint to, gboolean both_ways, GError **error);
Pattern *drafting_remove_grain (const Pattern *p, guint piece, GError **error);

/* --- marks (drafting/marks.c) ---------------------------------------------- */
Pattern *drafting_add_notch (const Pattern *p, guint piece, guint edge,
                             int count, PatternNotchFrom from, double amount,
                             guint *new_notch, GError **error);
/* Keeps what it is measured from; at is a length from the edge's start. */
Pattern *drafting_move_notch (const Pattern *p, guint piece, guint notch,
                              double at, GError **error);
Pattern *drafting_set_notch (const Pattern *p, guint piece, guint notch,
                             int count, PatternNotchFrom from, double amount,
                             GError **error);
Pattern *drafting_add_buttonhole (const Pattern *p, guint piece, GeoPoint at,
                                  double angle, double length, guint *new_mark,
                                  GError **error);
Pattern *drafting_add_drill (const Pattern *p, guint piece, GeoPoint at,
                             guint *new_mark, GError **error);
Pattern *drafting_add_text (const Pattern *p, guint piece, GeoPoint at,
                            double angle, double size, const char *text,
                            guint *new_mark, GError **error);
/* Moves a buttonhole, drill mark, text or inner line. A notch moves along its edge instead. */
Pattern *drafting_move_mark (const Pattern *p, guint piece, guint mark,
                             GeoPoint by, GError **error);
/* Another place, direction, size or wording for a mark that is there. */
Pattern *drafting_set_buttonhole (const Pattern *p, guint piece, guint mark,
                                  GeoPoint at, double angle, double length,
                                  GError **error);
Pattern *drafting_set_drill (const Pattern *p, guint piece, guint mark,
                             GeoPoint at, GError **error);
Pattern *drafting_set_text (const Pattern *p, guint piece, guint mark,
                            GeoPoint at, double angle, double size,
                            const char *text, GError **error);
Pattern *drafting_remove_mark (const Pattern *p, guint piece, guint mark,
                               GError **error);

/* --- seams and cloths (drafting/seams.c) ------------------------------------ */
/* Pairs two edges as a seam, walked so that their notches, or else the longer piece's top
 * ends, come together; the direction can be turned with drafting_turn_seam(). It is named by what
 * it joins: "side seam" where both edges are called side, else "Patch pocket to Welt". */
Pattern *drafting_pair_edges (const Pattern *p, guint a_piece, guint a_edge,
                              guint b_piece, guint b_edge, guint *new_seam,
                              GError **error);
/* Adds an edge at the end of a side. */
Pattern *drafting_extend_seam (const Pattern *p, guint seam, int side,
                               PatternRun run, GError **error);
Pattern *drafting_turn_seam (const Pattern *p, guint seam, int side,
                             GError **error);
Pattern *drafting_remove_seam (const Pattern *p, guint seam, GError **error);
Pattern *drafting_set_seam (const Pattern *p, guint seam, const char *name,
                            double ease, PatternPress press, PatternJoin join,
                            GError **error);
/* Means ease between two marks of the seam (PatternEaseSpan), beside what is meant for
 * the whole of it; replaces what is meant between the same two. A mark is a notch
 * of either side that has its partner, 0 the seam's start (from) or end (to). */
Pattern *drafting_set_ease_span (const Pattern *p, guint seam,
                                 PatternEaseSpan span, GError **error);
Pattern *drafting_remove_ease_span (const Pattern *p, guint seam, guint from,
                                    guint to, GError **error);
/* Gives every edge of the seam that has an allowance this one: of both sides, but not folds,
 * bound and raw edges. */
Pattern *drafting_set_seam_allowance (const Pattern *p, guint seam,
                                      double allowance, GError **error);
/* Strikes the notch across to the other side at the walked place. */
Pattern *drafting_strike_notch (const Pattern *p, guint seam, guint piece,
                                guint notch, GError **error);
/* A notch of one to three strokes on a side at a length along it, held to the side; measured
 * from the nearer end of its edge (drafting/strike.c). new_notch may be NULL. */
Pattern *drafting_strike_on_side (const Pattern *p, guint seam, int side,
                                  double at, int count, guint *new_notch,
                                  GError **error);
Pattern *drafting_put_cloth (const Pattern *p, const PatternCloth *cloth,
                             guint *new_cloth, GError **error);
Pattern *drafting_remove_cloth (const Pattern *p, guint cloth, GError **error);

/* --- pictures under the table (drafting/pictures.c) -------------------------- */
/* Adds the picture with a number of its own where its id is 0, else puts it in the place of the one
 * with its id. It is copied; its bytes are shared. new_picture may be NULL. */
Pattern *drafting_put_picture (const Pattern *p, const PatternPicture *picture,
                               guint *new_picture, GError **error);
Pattern *drafting_remove_picture (const Pattern *p, guint picture,
                                  GError **error);
/* Where its sheet lies on the table, all anew; refused while it is locked. */
Pattern *drafting_place_picture (const Pattern *p, guint picture,
                                 GeoMotion place, GError **error);
/* Moved on from where it lies; turned about the middle of the picture by the angle first. */
Pattern *drafting_move_picture (const Pattern *p, guint picture, GeoPoint by,
                                double angle, GError **error);
/* strength: 0 not seen to 1 as it is. */
Pattern *drafting_show_picture (const Pattern *p, guint picture,
                                double strength, gboolean hidden,
                                gboolean locked, GError **error);
Pattern *drafting_set_picture_name (const Pattern *p, guint picture,
                                    const char *name, GError **error);
/* Kept beside the document, as the file at that (absolute) path, or, with NULL, inside; that
 * needs its bytes. */
Pattern *drafting_keep_picture (const Pattern *p, guint picture,
                                const char *beside, GError **error);

/* --- mending (drafting/mend.c) ---------------------------------------------- */
/* Carries a finding's remedy out. */
Pattern *drafting_mend (const Pattern *p, const SewingRemedy *remedy,
                        GError **error);
/* Spreads the shaping of a seam or dart that is pointed over as long a stretch as brings its
 * sharpest 20 mm below the limit (drafting/taper.c). Lengths of a seam stay; the legs of a
 * dart grow alike. */
Pattern *drafting_taper (const Pattern *p, guint seam, GError **error);
/* Grainline of a default length, upright, in the piece's middle. */
Pattern *drafting_default_grain (const Pattern *p, guint piece, GError **error);
Pattern *drafting_set_aside (const Pattern *p, const char *key,
                             const char *note, GError **error);
Pattern *drafting_take_up (const Pattern *p, const char *key, GError **error);
