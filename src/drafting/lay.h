/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A run of edges of several pieces laid end to end as they will be sewn: what
 * collars and facings are drafted on.
 */
#pragma once

#include "drafting/edit.h"

#define DRAFTING_LAY_MOST 8

/* Where one edge of the run meets the next. */
typedef struct
{
  double at; /* length along the run */
  /* Length of the shorter of the two edges that are sewn together there (shoulders, panel
   * seams, legs of a dart), end to end as the crow flies; 0 where the two edges of the run
   * follow each other on one piece's corner. */
  double shoulder;
  gboolean corner; /* they follow each other on one piece */
} DraftingLayJoint;

typedef struct
{
  guint n;
  PatternRun runs[DRAFTING_LAY_MOST];
  GeoMotion motions[DRAFTING_LAY_MOST]; /* lays each run's piece */
  GeoChain chain;                      /* the run, in the first piece's place */
  size_t first[DRAFTING_LAY_MOST + 1]; /* cubics of each edge in it */
  double starts[DRAFTING_LAY_MOST + 1];       /* lengths */
  DraftingLayJoint joints[DRAFTING_LAY_MOST]; /* n - 1 */
  int inside;    /* +1: the pieces lie on the left normal's side of the run */
  gboolean fold; /* it starts at an edge laid on the fold */
  double allowance; /* of the first edge */
} DraftingLay;

void drafting_lay_clear (DraftingLay *lay);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DraftingLay, drafting_lay_clear)
/* FALSE where an edge is gone, where there are more than DRAFTING_LAY_MOST, or where they can
 * be no run. Where no edge is told to be walked against its outline, the ways are found that make the likeliest
 * run: what is sewn together between its edges is one seam's or of like length, and
 * it starts at a fold. lay need not be initialised. */
gboolean drafting_lay_runs (const Pattern *p, const PatternRun *runs, guint n,
                            DraftingLay *lay, GError **error);
/* The same with each edge walked as it is told, whatever is likely. */
gboolean drafting_lay_runs_told (const Pattern *p, const PatternRun *runs,
                                 guint n, DraftingLay *lay, GError **error);
double drafting_lay_length (const DraftingLay *lay);
/* The outline's edge beside the run at its start or end, laid, walked away from
 * the run. */
void drafting_lay_beside (const Pattern *p, const DraftingLay *lay,
                          gboolean at_start, GeoChain *chain,
                          const PatternEdge **edge);
/* The same for any edge of the run. */
void drafting_lay_beside_run (const Pattern *p, const DraftingLay *lay,
                              guint run, gboolean at_start, GeoChain *chain,
                              const PatternEdge **edge);
