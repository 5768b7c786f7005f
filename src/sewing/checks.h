/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The checks list: what is doubtful in a pattern, in the sewist's words, each
 * with the place it points at. A doubtful pattern is not an error; it is a
 * finding here. */
#pragma once

#include "sewing/facts.h"

typedef enum
{
  SEWING_CHECK_SEAM_LENGTH,    /* sides differ from the meant ease */
  SEWING_CHECK_SEAM_ALLOWANCE, /* allowances differ across a seam */
  SEWING_CHECK_HEM_ALLOWANCE,  /* hems that join differ, or one is missing */
  SEWING_CHECK_NOTCH,          /* a notch without a partner, or not facing it */
  SEWING_CHECK_FOLD_SQUARE,    /* an edge leaves the fold at other than 90 */
  SEWING_CHECK_JOINT, /* neckline, armhole, hem not smooth across a seam */
  SEWING_CHECK_DART_LEGS,
  SEWING_CHECK_HOLLOW,  /* allowance deeper than the hollow it lies in */
  SEWING_CHECK_OUTLINE, /* crosses itself, or has no area */
  SEWING_CHECK_GRAIN,   /* no grainline */
  SEWING_CHECK_CUT,     /* no cut count */
  SEWING_CHECK_EASE,    /* more ease than cloth and seam take: an estimate */
  SEWING_CHECK_POINTED, /* shaping crowded into a point: an estimate; degrees */
  SEWING_CHECK_BUTTONHOLE, /* stand or facing too narrow for it */
  SEWING_CHECK_RECIPE,     /* a linked piece could not be drafted again */
} SewingCheck;

typedef enum
{
  SEWING_MEND, /* would not sew as it is */
  SEWING_LOOK, /* worth a look */
} SewingWeight;

/* What can be done about a finding with one edit. */
typedef enum
{
  SEWING_REMEDY_NONE,
  SEWING_REMEDY_LENGTH,    /* set edge's length to amount, moving its end
                              or start; puts no other seam out */
  SEWING_REMEDY_ALLOWANCE, /* set the edge's allowance to amount */
  SEWING_REMEDY_SQUARE, /* turn the handle at the fold to 90 degrees; amount 0:
                              at the edge's start, 1: at its end */
  SEWING_REMEDY_GRAIN,  /* lay a grainline down the piece's middle */
  SEWING_REMEDY_CUT,    /* cut one from the first cloth */
  SEWING_REMEDY_NOTCH,  /* strike the missing notch on the partner: the notch
                          named, on piece and edge, across the seam named */
  SEWING_REMEDY_SPAN,   /* take away what ease the seam named is meant to have
                              between the marks from and to */
  SEWING_REMEDY_BLEND, /* one fair curve over the joint at the end of the seam named, at
                              its start where at_start; amount: the reach */
  SEWING_REMEDY_BEND,  /* bring the edge to the length amount with both its ends
                              kept, by bending it; puts no other seam out */
  SEWING_REMEDY_TAPER, /* spread the shaping of the seam named over a longer
                              stretch; amount: degrees now */
} SewingRemedyKind;

typedef struct
{
  SewingRemedyKind kind;
  guint piece, edge;
  guint seam, notch; /* SEWING_REMEDY_NOTCH, SPAN, BLEND and TAPER, else 0 */
  guint from, to;    /* SEWING_REMEDY_SPAN only, as in PatternEaseSpan */
  gboolean at_start; /* SEWING_REMEDY_LENGTH: the start moves, not the end */
  double amount;
  char *label; /* "Lengthen the collar's neck edge 2 mm"; NULL with NONE */
} SewingRemedy;

typedef struct
{
  SewingCheck check;
  SewingWeight weight;
  char *key;  /* stable from run to run: check and ids */
  char *text; /* one or two plain sentences, in the pattern's unit */
  guint piece, edge, seam; /* 0 where it does not apply */
  GeoPoint at;             /* on the table */
  double amount;           /* mm, or degrees for angles */
  gboolean set_aside;
  const char *note;     /* of setting aside; borrowed from the pattern */
  SewingRemedy remedy;  /* what is offered first */
  SewingRemedy *others; /* what would do as well, to choose from */
  guint n_others;
} SewingFinding;

void sewing_finding_free (SewingFinding *finding);
/* Array of SewingFinding, mend first, then look, then set aside; inside each in the
 * order of the pattern. */
GPtrArray *sewing_checks_run (SewingFacts *facts, const Pattern *pattern);
/* Whether edges that face each other across the seam are cut with the same allowance. */
gboolean sewing_seam_allowances_match (const Pattern *pattern,
                                       const SewingSeam *seam);
/* How many are not set aside. */
guint sewing_checks_open (const GPtrArray *findings);
const char *sewing_check_word (
    SewingCheck check); /* "seam-length": for reports, not translated */
