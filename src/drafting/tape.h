/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A piece held against the tape: lengths she measured on the paper or card beside those of the piece, and the
 * piece adjusted to them evenly.
 *
 * A measure is kept with the pattern as a figure ("front neck by tape"), whose note says what
 * was measured as a step's argument would ("tape 3/7 3/8", "tape 3/n5 3/n9"), so that amounts can use it by
 * name as any other figure.
 */
#pragma once

#include "drafting/edit.h"

/* What is evened out at most: beyond, the picture's true size is wrong, or the tape was misread. */
#define DRAFTING_TAPE_MOST 0.05

typedef struct
{
  guint figure;     /* its number in the pattern */
  const char *name; /* the figure's; borrowed from the pattern */
  guint piece;
  PatternRun *runs; /* edges of the piece; none: a distance between two nodes */
  guint n_runs;
  guint nodes[2];
  double tape, length; /* mm: as measured; on the piece now */
} DraftingTape;

void drafting_tape_clear (gpointer tape);
/* Of DraftingTape, in the figures' order; piece 0: of all. Figures whose edges or nodes are gone are left out. */
GArray *drafting_tapes (const Pattern *p, guint piece);
/* What was measured: edges of one piece (n_runs > 0), or the straight distance between two of its nodes. A measure
 * of the same is replaced. figure (may be NULL) gets its number. */
Pattern *drafting_set_tape (const Pattern *p, const PatternRun *runs,
                            guint n_runs, guint piece, const guint nodes[2],
                            double mm, guint *figure, GError **error);

/* --- one of them (drafting/tape-one.c) --------------------------------------------- */
typedef enum
{
  DRAFTING_FIT_LEAST, /* bent where that alters its shape little, else spread */
  DRAFTING_FIT_BEND,  /* ends and directions there stay: one curved edge */
  DRAFTING_FIT_SPREAD, /* made larger or smaller about the middle between its ends: each goes by half */
} DraftingFitWay;

/* Edges of one piece, one after the other, brought together to a length. moved (may be NULL): the farthest any place of
 * them has gone, mm. */
Pattern *drafting_fit_length (const Pattern *p, const PatternRun *runs,
                              guint n_runs, double length, DraftingFitWay way,
                              double *moved, GError **error);
/* Two nodes brought to a distance, each going half the way. */
Pattern *drafting_fit_distance (const Pattern *p, guint piece,
                                const guint nodes[2], double distance,
                                GError **error);

/* --- all of them (drafting/tape-all.c) ---------------------------------------------- */
typedef struct
{
  double across,
      along; /* factors, to the upright or the grainline; equal for one factor */
  double rms[2], worst[2]; /* mm: how far the lengths were off, and are */
  guint worst_row;         /* the index of the row that is then most out */
  double *lengths;         /* of each row, after */
  guint n;
} DraftingTapeFit;

void drafting_tape_fit_clear (DraftingTapeFit *fit);
/* The factors that bring the lengths measured nearest to the tape, by least squares of the differences in
 * mm; two: one across the grainline (or the upright) and another along it. FALSE with the error set where there is no
 * measure, or for two factors fewer than two or only such as run one way, and where a factor is off by more than
 * DRAFTING_TAPE_MOST: the fit is then filled in all the same. */
gboolean drafting_tape_fit (const Pattern *p, guint piece, gboolean two,
                            DraftingTapeFit *fit, GError **error);
/* The whole piece by those factors, about its middle; notches keep their shares of their edges, buttonholes and texts
 * their size. */
Pattern *drafting_tape_scale (const Pattern *p, guint piece, gboolean two,
                              GError **error);
/* A piece by two factors, across and along an upright way of length 1, about a place: exact, an affine
 * image of a cubic being the cubic of the images. */
void drafting_scale_piece (PatternPiece *piece, GeoPoint about, GeoPoint way,
                           double across, double along);
