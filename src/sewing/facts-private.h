/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by facts.c, seam.c, clip-facts.c and shaping.c only. */
#pragma once

#include "sewing/shaping.h"

/* A clip plan of one run of a seam's side, for cloths of these gives. */
typedef struct
{
  int side;
  guint run;
  double *gives; /* one a run of the seam, side A's first */
  GeoClipPlan plan;
} SewingPlan;

/* Facts of a seam and what they were computed from: the seam and the piece of
 * every run, side A's first. References are held, so that an address can't
 * come back as another piece. */
typedef struct
{
  const PatternSeam *seam;
  const PatternPiece **pieces;
  guint n_pieces;
  SewingSeam facts;
  double *marks[2]; /* matched marks, ends included */
  guint n_marks;
  GPtrArray *plans;       /* of SewingPlan */
  SewingShaping *shaping; /* made when it is first asked for */
} SewingSeamEntry;

struct _SewingFacts
{
  GHashTable *pieces; /* piece address to SewingPiece */
  GHashTable *seams;  /* SewingSeamEntry to itself */
};

/* NULL where a side is empty or points nowhere. */
SewingSeamEntry *sewing_seam_entry (SewingFacts *facts, const Pattern *pattern,
                                    const PatternSeam *seam);
void sewing_seam_entry_free (SewingSeamEntry *entry);
guint sewing_seam_entry_hash (gconstpointer entry);
gboolean sewing_seam_entry_equal (gconstpointer a, gconstpointer b);
/* Every run is on the piece the pattern has now. */
gboolean sewing_seam_entry_is_of (const SewingSeamEntry *entry,
                                  const Pattern *pattern);
void sewing_shaping_free (SewingShaping *shaping);
