/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by checks*.c only. */
#pragma once

#include "sewing/checks.h"
#include "sewing/words.h"

/* Keeps lengths that differ by rounding alone out of the list; far below what
 * any pattern's tolerance is. */
#define CHECK_ROUNDING 1e-5
/* Allowances are entered, not computed: they are equal or they are not. */
#define CHECK_SAME_WIDTH 0.05
/* Seams and darts out by more would not sew as they are: what a careful maker
 * of paper patterns allows herself, 1/16 in (common practice). */
#define CHECK_MEND_LENGTH 1.6
/* Smoothness and squareness in degrees: below LOOK no eye sees it in cloth,
 * above MEND it shows as a point or a dip (common practice; no published figure
 * is known to us). A corner beyond MEANT is taken for one that was
 * drawn on purpose, as in a V neck, and only pointed at. */
#define CHECK_LOOK_ANGLE 2.0
#define CHECK_MEND_ANGLE 6.0
#define CHECK_MEANT_ANGLE 30.0

typedef struct
{
  SewingFacts *facts;
  const Pattern *pattern;
  GPtrArray *findings;
} SewingCheckRun;

/* A new finding at the end of the list. Takes over key (what tells it from
 * others of its check) and text, whose first letter is made a capital. */
SewingFinding *sewing_finding_add (SewingCheckRun *run, SewingCheck check,
                                   SewingWeight weight, char *key, char *text,
                                   GeoPoint at, double amount);
/* Takes over the label. */
void sewing_finding_set_remedy (SewingFinding *finding, SewingRemedyKind kind,
                                guint piece, guint edge, double amount,
                                char *label);
/* The same as a further way; what it returns holds until the next. */
SewingRemedy *sewing_finding_add_other (SewingFinding *finding,
                                        SewingRemedyKind kind, guint piece,
                                        guint edge, double amount, char *label);
/* Beyond the pattern's tolerance. */
gboolean sewing_check_is_out (const SewingCheckRun *run, double amount);
/* Offers to change the length of one edge of the seam so that it is true, or
 * says in the finding's text why none is offered. fitted is the side that is made
 * to fit the other, worst the interval most of the fault lies in. */
void sewing_offer_length (const SewingCheckRun *run, SewingFinding *finding,
                          const SewingSeam *seam, int fitted, guint worst);
SewingWeight sewing_weigh_length (double out);
SewingWeight sewing_weigh_angle (double out_deg);

void sewing_check_piece (SewingCheckRun *run, const PatternPiece *piece);
/* Room for buttons beside its buttonholes, and for the holes on what faces them. */
void sewing_check_holes (SewingCheckRun *run, const PatternPiece *piece);
void sewing_check_seam (SewingCheckRun *run, const PatternSeam *seam);
/* Smoothness across seams, and hems that join; for all seams at once. */
void sewing_check_joints (SewingCheckRun *run);
/* Ease beyond what cloth and seam take, and shaping crowded into a point; for all
 * seams at once. */
void sewing_check_shaping (SewingCheckRun *run);
/* Linked pieces that could not be drafted again, and changes by hand that wait. */
void sewing_check_recipes (SewingCheckRun *run);
