/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an allowance asks for, the way its seam is pressed or its hem turned up:
 * which line it must lie on, what is too much or too little of it there, and
 * which cuts follow.
 *
 * A ply folded back on its own piece wants its own edge's curvature only: both plies
 * of a seam pressed open or turned, and the near ply of a seam pressed to one side.
 * The far ply lies over the other piece and wants the sum of both edges'
 * curvatures. Surplus wants wedges out, shortage wants slits. */
#pragma once

#include "sewing/facts.h"

/* Handbooks have slits and wedges every 1/4 to 1/2 in, closer on sharper curves, one
 * range for every curve (Goodheart-Willcox, Apparel, 2012, pp. 451-452). */
#define SEWING_HANDBOOK_LEAST 6.35
#define SEWING_HANDBOOK_MOST 12.7

/* A surplus of this share at a hem's raw edge is more than an ease-stitch line takes in:
 * a rule of ours, an estimate. */
#define SEWING_HEM_MOST 0.30

typedef enum
{
  SEWING_HEM_NONE,        /* no hem */
  SEWING_HEM_PRESS,       /* pressed up flat: what is over, the cloth gives */
  SEWING_HEM_EASE_STITCH, /* drawn in by a line of long stitches */
  SEWING_HEM_FACE,        /* too much for that: faced, or shallower */
  SEWING_HEM_CLIP, /* hollow: its raw edge is too short, and is clipped or
                             faced */
} SewingHemWay;

typedef struct
{
  const PatternSeam *seam; /* the first it is in; NULL of a hem and where it is
                              sewn to nothing */
  int side;
  gboolean over;  /* lies over the other piece; else folded back on its own */
  double width;   /* mm */
  double give;    /* of its cloth: 0.04 is 4 % */
  double surplus; /* mm at the cut edge over the whole edge, signed */
  double comes_out, opens; /* its two parts, each 0 or more */
  double most; /* the largest share of surplus or shortage over any 50 mm of the
                  stitch line, or over the whole where that is shorter; of hems
                  only */
  const GeoClipPlan *plan;     /* no cuts of hems */
  double by_hand;              /* spacing fixed by hand; 0: as computed */
  const GeoClipPlan *computed; /* what it would be without; else plan */
  SewingHemWay hem;
} SewingAllowance;

/* FALSE where the edge is gone or has no allowance. Costs microseconds once the plan
 * is known; borrowed parts hold as the facts do. */
gboolean sewing_facts_allowance (SewingFacts *facts, const Pattern *pattern,
                                 guint piece, guint edge,
                                 SewingAllowance *allowance);
/* "folded-back", "over"; "press", "ease-stitch", "face", "clip", "none": for
 * reports, not translated. */
const char *sewing_lies_word (const SewingAllowance *allowance);
const char *sewing_hem_word (SewingHemWay hem);
/* A sentence or two: where it lies, what follows from that, and whether it has to be
 * trimmed first. */
char *sewing_allowance_text (const Pattern *pattern,
                             const SewingAllowance *allowance);
/* "Handbooks: every 6 to 13 mm, closer on sharper curves." */
char *sewing_handbook_text (const Pattern *pattern);
