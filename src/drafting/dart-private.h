/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files about darts share. */
#pragma once

#include "drafting/change-private.h"

typedef struct
{
  const PatternSeam *seam;
  const PatternPiece *piece;
  guint leg[2];      /* edges: to the point, and away from it */
  guint a0, tip, a1; /* nodes: where the first leg starts, the point, where the
                        second ends */
  GeoPoint mouth[2], point;
} DraftingDart;

/* FALSE with the error set where the seam is gone, or is no dart of two legs that
 * meet. */
gboolean drafting_find_dart (const Pattern *p, guint seam, DraftingDart *dart,
                             GError **error);
/* Signed angle at a point from the mouth's second end to its first. */
double drafting_dart_turn (const DraftingDart *dart, GeoPoint about);
/* Moves the point, and each leg with it: by the similarity that keeps the leg's mouth
 * end and takes its other end from where it is, from[], to the point. */
void drafting_dart_lay_legs (DraftingChange *c, const DraftingDart *dart,
                             const GeoPoint from[2], GeoPoint point);
/* A new dart between two nodes parted on one point and drawn apart: legs straight from them to
 * the point. Legs take like's allowance; where dart is given, its numbers, names and
 * seam are used again, else a new seam is made, whose number is returned. */
guint drafting_dart_open (DraftingChange *c, guint first, guint second,
                          GeoPoint point, const PatternEdge *like,
                          const DraftingDart *dart);
/* Drill marks that were in the dart's opening go to where it is now: so far from its point as they
 * were, on the line from that to the middle of its mouth. */
void drafting_dart_carry_drills (DraftingChange *c, const DraftingDart *dart,
                                 GeoPoint point, GeoPoint mouth);
/* The dart's legs are taken out and its mouth's ends, which meet, made one. */
void drafting_dart_remove (DraftingChange *c, const DraftingDart *dart);
