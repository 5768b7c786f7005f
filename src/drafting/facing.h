/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The geometry of facings, linings, welts and strips. */
#pragma once

#include "drafting/inset.h"
#include "drafting/lay.h"
#include "drafting/shape.h"

typedef struct
{
  double depth; /* up to the last corner of the run; all of a run without one */
  double depth_after; /* behind it: of the front edge, after the neck */
  double smooth;      /* the inner corner is rounded from so far off */
  double
      free; /* where the run ends at a hem, the inner edge is left free over that */
} DraftingFacingWish;

/* Edges: faced-1, faced-2... as the run's own, exactly; end; inner-free and inner; start. The
 * two ends follow the edges beside the run. Of either area. */
gboolean drafting_facing_shape (const Pattern *p, const DraftingLay *lay,
                                const DraftingFacingWish *wish,
                                DraftingShape *shape);

/* The facing's inner edge, from the edge beside the run's start to that beside its end. line need not be
 * initialised. */
gboolean drafting_facing_inner (const Pattern *p, const DraftingLay *lay,
                                const DraftingFacingWish *wish,
                                DraftingInsetLine *line);

typedef struct
{
  const PatternRun
      *faced; /* edges left to facings, in order, each the way it is
                              walked */
  guint n_faced;
  DraftingFacingWish facing;
  /* Where the edges are of several facings: of which, for each edge, and each one's wishes;
     NULL: all as above. */
  const guint *of;
  const DraftingFacingWish *wishes;
  double shorter; /* hems moved up */
  double pleat;   /* the fold moved out */
} DraftingLiningWish;

/* The shell less the facing. Edges: "e" and the number of the shell's edge; inner, innerb...
 * for what joins the facings, by the first faced edge of each stretch in the outline's
 * order; pleat and pleat-hem beside the fold. Where faced edges of several pieces follow each
 * other, the facing is drawn over all of them up to a dart, and cut at the seams. */
gboolean drafting_lining_shape (const Pattern *p, const PatternPiece *shell,
                                const DraftingLiningWish *wish,
                                DraftingShape *shape);
/* Part of the lining's edge that joins what faces the shell's edge; NULL where that is not faced. */
char *drafting_lining_inner (const PatternPiece *shell,
                             const DraftingLiningWish *wish, guint edge);

/* A rectangle. Edges top, right, bottom, left, from the top left at 0, 0. */
void drafting_strip_shape (double length, double width, DraftingShape *shape);
