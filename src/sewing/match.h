/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which mark on one side of a seam belongs to which on the other.
 *
 * Marks are notches, told apart by their strokes, and joints where two runs of
 * a side meet (the shoulder seam in a neckline). A pairing keeps the order of both
 * sides; of all such pairings the one with the least cost is taken, see
 * match.c. */
#pragma once

#include <glib.h>

typedef struct
{
  double at;      /* length along the side */
  int count;      /* strokes of the notch; 0 for a joint without one */
  gboolean joint; /* two runs meet here */
  guint piece, notch;
} SewingMark;

/* Marks in ascending order of at. partner holds, for each mark of A, the index
 * of its partner in B or -1. Returns how many pairs there are. */
guint sewing_match (const SewingMark *a, guint n_a, double a_length,
                    const SewingMark *b, guint n_b, double b_length,
                    int *partner);
