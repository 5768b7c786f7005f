/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a garment's own weight asks of its seams: an estimate, and to be called one
 * wherever it is shown.
 *
 * The mass is area as cut, times copies, times the weight of the cloth. Which seam
 * carries it is a rule of ours. Down is where a piece's hem lies, and down the
 * table for a piece without; an edge is a top edge when its outward side faces up within
 * 60 degrees. A seam of two top edges is a shoulder: what both pieces carry rests
 * there. Else a piece hangs by its top edges from what it is sewn to, in
 * proportion to their lengths. A piece no deeper than 80 mm that others hang from
 * is a band that lies round the body and bears them. Small parts (no hem, nothing
 * hangs from them, no top edge that is sewn) weigh on whatever they are sewn to. */
#pragma once

#include "sewing/facts.h"

/* Rules of ours, all of them estimates. */
#define SEWING_BIAS_HIGH 0.25 /* share of an edge's length */
#define SEWING_LOAD_HIGH 10.0 /* g per cm of seam */
#define SEWING_CUTS_HIGH 0.5  /* clips and wedges per cm */

typedef struct
{
  guint seam;     /* id */
  gboolean rests; /* the load ends here, as on a shoulder */
  double load;    /* g, of the whole garment */
  double length;  /* mm of this seam in the whole garment */
  double per_cm;  /* g per cm; 0 where there is no length */
} SewingLoad;

typedef enum
{
  SEWING_ADVICE_STAYSTITCH, /* a hollow edge that runs on the bias */
  SEWING_ADVICE_STAY_TAPE,  /* load with bias or cuts */
  SEWING_ADVICE_SECOND_ROW, /* load on a seam that is clipped closely */
} SewingAdviceKind;

typedef struct
{
  SewingAdviceKind kind;
  guint seam; /* 0 for an edge alone */
  guint piece,
      edge;      /* the edge it is for: of a seam, the one most on the bias */
  double bias;   /* share of its length */
  double per_cm; /* load, g per cm */
  double cuts;   /* per cm, of the seam's side that has more */
} SewingAdvice;

typedef struct
{
  double mass;        /* g */
  gboolean whole;     /* the weight of every cloth it is cut from is known */
  double *piece_mass; /* g, all copies; in the order of the pattern */
  double borne;       /* g that rests on the body without a seam's help */
  GArray *loads;      /* of SewingLoad, heaviest per cm first; only seams that
                           carry something */
  GArray *advice;     /* of SewingAdvice */
} SewingStrain;

SewingStrain *sewing_strain_new (SewingFacts *facts, const Pattern *pattern);
void sewing_strain_free (SewingStrain *strain);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SewingStrain, sewing_strain_free)

/* Share of an edge's length whose tangent lies within 22.5 degrees of the true bias
 * (45 degrees to the grain), 0 to 1; exact but for rounding. FALSE where the
 * piece has no grainline, or the edge no length. */
gboolean sewing_bias_share (const SewingPiece *piece, guint edge_index,
                            double *share);
/* Where: pairs of lengths from the edge's start, ascending, appended to runs (double).
 * FALSE likewise, and nothing is appended. */
gboolean sewing_bias_runs (const SewingPiece *piece, guint edge_index,
                           GArray *runs);
/* "staystitch", "stay-tape", "second-row": for reports, not translated. */
const char *sewing_advice_word (SewingAdviceKind kind);
/* What to do and why, in a sentence or two. */
char *sewing_advice_text (const Pattern *pattern, const SewingAdvice *advice);
