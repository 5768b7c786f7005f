/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two states of a pattern laid over each other: what differs, in figures.
 *
 * Parts are the same where their numbers are. A piece that was only moved or turned on
 * the table does not differ: the earlier one is laid on the later by the rigid motion
 * that brings most of its nodes together. */
#pragma once

#include "sewing/facts.h"

typedef struct
{
  guint edge;       /* id */
  const char *name; /* borrowed from the later piece */
  double was, is;   /* lengths, mm */
  double apart;     /* the most its stitch line moved, mm, the piece laid on */
} SewingEdgeDifference;

typedef struct
{
  guint piece;                  /* id */
  const PatternPiece *was, *is; /* NULL where it was made, or taken away */
  GeoMotion lay;                /* lays was on is */
  double apart;                 /* the most of any edge, mm */
  double area_was, area_is;     /* mm2 */
  SewingEdgeDifference
      *edges; /* those that moved by more than 0.005 mm, or are longer
                                   or shorter by as much; and edges made */
  guint n_edges;
} SewingPieceDifference;

/* Array of SewingPieceDifference, pieces that differ only, in the order of the later
 * pattern, those taken away last. Borrows from both patterns. */
GArray *sewing_compare (const Pattern *was, const Pattern *is);

/* Lays the nodes both have (by number) on each other: the motion, without turning over, for which the
 * sum of their distances is least, so that the few that were reshaped do not drag the
 * others along. None where no node is in both. Found by least squares, weighted anew
 * by one over the distance (Weiszfeld's way). */
GeoMotion sewing_lay_on (const PatternPiece *was, const PatternPiece *is);
