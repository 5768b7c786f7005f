/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared inside this layer only. */
#pragma once

#include "sewing/shaping.h"

/* A clip plan of one run of a seam's side, for cloths of these gives. */
typedef struct
{
  int side;
  guint run;
  gboolean computed; /* although the edge's spacing is fixed by hand */
  double *gives;     /* one a run of the seam, side A's first */
  GeoClipPlan plan;
} SewingPlan;

/* Facts of a piece, and what is made when it is first asked for. */
typedef struct
{
  SewingPiece known; /* first: what sewing_facts_piece() hands out */
  double *bias; /* share of each edge on the bias; -1 where it can't be told */
  double *turning; /* of each edge, radians */
} SewingPieceEntry;

/* Makes them where they are not made yet. */
const SewingPieceEntry *sewing_piece_run (const SewingPiece *piece);

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

/* Where an edge is walked. */
typedef struct
{
  guint seam; /* index in the pattern */
  int side;
  guint run;
} SewingWalked;

/* Which seams an edge is in, for one list of seams: made anew when that is another. */
typedef struct
{
  const PatternSeam **seams; /* references are held */
  guint n_seams;
  GHashTable *edges; /* SewingEdgeKey to GArray of SewingWalked, in order */
} SewingEdgeIndex;

struct _SewingFacts
{
  GHashTable *pieces; /* piece address to SewingPiece */
  GHashTable *seams;  /* SewingSeamEntry to itself */
  SewingEdgeIndex index;
};

void sewing_edge_index_clear (SewingEdgeIndex *index);

/* Of the first cloth the piece is cut from; else of the pattern's first cloth. */
double sewing_give_of (const Pattern *pattern, const PatternPiece *piece);
/* Lies over the other piece when it is pressed so, and is not folded back. */
gboolean sewing_lies_over (PatternPress press, int side);
/* NULL where the edge is not cut into, or is in no seam. computed: as if no spacing were
 * fixed by hand on the edge. */
const GeoClipPlan *sewing_clip_plan (SewingFacts *facts, const Pattern *pattern,
                                     guint piece, guint edge,
                                     gboolean computed);
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
