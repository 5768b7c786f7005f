/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One piece of a pattern: an outline of edges, and the marks on it.
 *
 * A PatternPiece is immutable once it is part of a Pattern; readers hold a
 * const pointer. To change one, take pattern_piece_dup(), alter the copy with
 * the calls below, and put it into a new Pattern. Because nothing ever changes
 * in place, whatever is computed from a piece may be kept by its address.
 *
 * The outline is a closed loop of nodes. An edge starts at one node and runs to
 * where the next edge starts; edges[0] starts at nodes[0], edges follow each other in
 * the order of the loop. All coordinates are table coordinates (see
 * geometry/point.h); outlines are kept the way round that gives a positive area.
 * What is drawn is the stitch line; cutting lines are computed, never stored.
 */
#pragma once

#include <glib.h>

#include "geometry/chain.h"
#include "geometry/ring.h"

typedef enum
{
  PATTERN_NODE_CORNER,    /* handles are free of each other */
  PATTERN_NODE_SMOOTH,    /* handles in one line */
  PATTERN_NODE_SYMMETRIC, /* in one line and of equal length */
} PatternNodeKind;

/* A handle equal to at is no handle: the side is straight there. */
typedef struct
{
  guint id;
  PatternNodeKind kind;
  GeoPoint at;
  GeoPoint in;  /* handle on the side the outline comes from */
  GeoPoint out; /* handle on the side it goes to */
} PatternNode;

typedef enum
{
  PATTERN_EDGE_SEAM,  /* sewn to another edge, or to be */
  PATTERN_EDGE_HEM,   /* turned up */
  PATTERN_EDGE_FOLD,  /* laid on the fold of the cloth; no allowance */
  PATTERN_EDGE_BOUND, /* bound with tape; no allowance */
  PATTERN_EDGE_RAW,   /* left as cut; no allowance */
} PatternEdgeKind;

typedef struct
{
  guint id;
  char *name; /* "front neck", "panel seam"; never NULL, may be "" */
  PatternEdgeKind kind;
  double allowance; /* mm outward; read through pattern_edge_width() */
  GeoCorner corner; /* how the cutting lines meet at the edge's start */
  double
      clip_spacing; /* mm along the stitch line, fixed by hand; 0: computed */
  guint first;      /* index into nodes */
  char *extra;      /* unknown XML kept for the next save, or NULL */
} PatternEdge;

typedef enum
{
  PATTERN_FROM_START, /* mm from the edge's start */
  PATTERN_FROM_END,   /* mm from its end */
  PATTERN_FRACTION,   /* share of its length, 0 to 1, from the start */
} PatternNotchFrom;

typedef struct
{
  guint id;
  guint edge; /* id */
  int count;  /* 1, 2 or 3 strokes */
  PatternNotchFrom from;
  double amount;
} PatternNotch;

typedef struct
{
  guint cloth; /* id */
  int count;
  gboolean mirrored; /* cut as pairs of one and its mirror */
} PatternCut;

typedef struct
{
  guint id;
  GeoPoint at;  /* the end nearest the garment's edge */
  double angle; /* direction the hole runs in */
  double length;
} PatternButtonhole;

typedef struct
{
  guint id;
  GeoPoint at;
} PatternDrill;

typedef struct
{
  guint id;
  GeoPoint at;
  double angle;
  double size; /* height of a capital, mm */
  char *text;
} PatternText;

/* A line drawn inside a piece or on the table: nodes in order, not closed. */
typedef struct
{
  guint id;
  char *name;
  PatternNode *nodes;
  guint n_nodes;
} PatternLine;

typedef struct
{
  gatomicrefcount refs;
  guint id;
  char *name;
  PatternNode *nodes;
  guint n_nodes;
  PatternEdge *edges;
  guint n_edges;
  PatternNotch *notches;
  guint n_notches;
  PatternCut *cuts;
  guint n_cuts;
  gboolean has_grain;
  GeoPoint grain_from, grain_to;
  gboolean grain_both_ways;
  PatternButtonhole *buttonholes;
  guint n_buttonholes;
  PatternDrill *drills;
  guint n_drills;
  PatternText *texts;
  guint n_texts;
  PatternLine *lines;
  guint n_lines;
  char *note; /* never NULL */
  char *extra;
} PatternPiece;

PatternPiece *pattern_piece_new (guint id, const char *name);
/* A deep copy with one reference, to be altered. Ids stay. */
PatternPiece *pattern_piece_dup (const PatternPiece *piece);
PatternPiece *pattern_piece_ref (const PatternPiece *piece);
void pattern_piece_unref (PatternPiece *piece);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PatternPiece, pattern_piece_unref)

/* --- altering a copy that is not yet in a pattern ------------------------ */
/* Nodes; edges' first follow along. Inserting at the index of an edge's start puts
 * the node before that start, on the edge before (index 0 puts it last). The
 * node that starts the only edge can't be removed; where one of several edges
 * starts at a node removed, it joins the edge before it. */
void pattern_piece_insert_node (PatternPiece *piece, guint index,
                                PatternNode node);
void pattern_piece_remove_node (PatternPiece *piece, guint index);
/* A new edge from the node on; takes id, kind, allowance, corner and clips from edge and copies
 * its strings. Its first is set here. The edge it cuts off keeps its id and its start; notches on
 * it that now lie beyond its end move to the new edge. */
void pattern_piece_insert_edge (PatternPiece *piece, guint node_index,
                                PatternEdge edge);
/* The edge joins the one before it; no effect on the last edge left. */
void pattern_piece_remove_edge (PatternPiece *piece, guint index);
/* Where the outline runs straight from one node to the next. */
gboolean pattern_nodes_are_straight (const PatternNode *from,
                                     const PatternNode *to);
/* The handle of a smooth node beside a straight side lies in that side's line. Borrowed; NULL where
 * the node has no such handle. way: of length 1, from the node into its curved side; 0, 0
 * where the straight side has no length. */
GeoPoint *pattern_piece_handle_in_line (PatternPiece *piece, guint node_index,
                                        GeoPoint *way);
/* Turns such handles back into their lines, keeping their lengths, after nodes at either
 * end of a straight side moved; moved: one for each node. */
void pattern_piece_keep_in_line (PatternPiece *piece, const gboolean *moved);
/* Brings an edge to a length, mm, above 0, by moving its end (or its start) along
 * the tangent there; see piece-stretch.c. FALSE, and nothing is changed, where it
 * is the only edge or that end has no direction. */
gboolean pattern_piece_stretch_edge (PatternPiece *piece, guint edge_index,
                                     double length, gboolean at_start);
/* Brings an edge to a length, mm, with both its ends and the directions there kept: it
 * is bent as a whole, as little as serves; see piece-bend.c. moved (may be NULL): the
 * farthest any place has gone, mm. FALSE, and nothing is changed, where it is straight
 * or the length is out of reach. */
gboolean pattern_piece_bend_edge (PatternPiece *piece, guint edge_index,
                                  double length, double *moved);
/* Appends a straight-sided node run; for building outlines in one go: replaces
 * nodes and edges by one closed loop with an edge starting at each node whose flag is
 * set (at least nodes[0]). Turns the loop round where its area is negative.
 * Ids are taken from *next_id on. Notches, whose edges are gone, go. */
void pattern_piece_set_outline (PatternPiece *piece, const PatternNode *nodes,
                                guint n_nodes, const gboolean *starts_edge,
                                guint *next_id);
void pattern_piece_add_notch (PatternPiece *piece, PatternNotch notch);
void pattern_piece_add_cut (PatternPiece *piece, PatternCut cut);
void pattern_piece_add_buttonhole (PatternPiece *piece, PatternButtonhole hole);
void pattern_piece_add_drill (PatternPiece *piece, PatternDrill drill);
void pattern_piece_add_text (PatternPiece *piece, guint id, GeoPoint at,
                             double angle, double size, const char *text);
/* Copies the nodes. */
void pattern_piece_add_line (PatternPiece *piece, guint id, const char *name,
                             const PatternNode *nodes, guint n_nodes);
/* Removes the notch, buttonhole, drill, text or inner line with the id. */
gboolean pattern_piece_remove_mark (PatternPiece *piece, guint id);
/* Everything by a rigid motion; a flip also turns the outline round, so edges
 * swap start and end: notches are measured from the other end then and corner
 * treatments move with the corners. Edge ids stay. */
void pattern_piece_move (PatternPiece *piece, GeoMotion motion);
/* The same outline the other way round, for one whose area has become negative:
 * edges swap start and end as in a flip. Seams' runs on it have to be turned
 * too: pattern_turn_runs(). */
void pattern_piece_turn_round (PatternPiece *piece);
void pattern_set_string (char **field, const char *value);

/* --- asking ---------------------------------------------------------------- */
/* -1 where there is none. */
int pattern_piece_find_edge (const PatternPiece *piece, guint id);
int pattern_piece_find_node (const PatternPiece *piece, guint id);
/* One past the last node of the edge's run; may exceed n_nodes (take modulo). The edge
 * has last - first cubics, from node first to node last. */
guint pattern_piece_edge_last (const PatternPiece *piece, guint edge_index);
/* The edge a node lies on (inside it, or at its start). */
guint pattern_piece_edge_of_node (const PatternPiece *piece, guint node_index);
/* Cubic from node i to the next one round the loop. */
GeoCubic pattern_piece_cubic (const PatternPiece *piece, guint node_index);
/* Appends the edge's cubics. */
void pattern_piece_edge_chain (const PatternPiece *piece, guint edge_index,
                               GeoChain *chain);
void pattern_piece_outline (const PatternPiece *piece, GeoChain *chain);
/* Area inside the stitch line, mm2, signed; 0 where there is no outline. */
double pattern_piece_area (const PatternPiece *piece);
/* The node where cubic i of a chain starts, or where the last ends (i = count; open chains): a corner, its handles
 * those of its sides that are not straight. It has no number yet. */
PatternNode pattern_node_of_chain (const GeoChain *chain, size_t i,
                                   gboolean closed);
void pattern_line_chain (const PatternLine *line, GeoChain *chain);
/* Allowance that is really cut: 0 for fold, bound and raw edges. */
double pattern_edge_width (const PatternEdge *edge);
/* Has an edge laid on the fold. */
gboolean pattern_piece_on_fold (const PatternPiece *piece);
const PatternNotch *pattern_piece_get_notch (const PatternPiece *piece,
                                             guint id);
/* A notch, buttonhole, drill, text or inner line with the id. */
gboolean pattern_piece_has_mark (const PatternPiece *piece, guint id);
/* Length from the edge's start, for an edge of that length; clamped to it. */
double pattern_notch_place (const PatternNotch *notch, double edge_length);
gboolean pattern_piece_equal (const PatternPiece *a, const PatternPiece *b);
/* "seam", "hem", ... : the words of the document, not translated. */
const char *pattern_edge_kind_word (PatternEdgeKind kind);
