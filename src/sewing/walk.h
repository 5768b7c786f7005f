/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A seam walked: one side rolled along the other without slipping, as a drafter
 * rolls one paper piece along another round the point of a pin.
 *
 * One side stays on the table, the other moves. A side of several pieces is
 * walked as they will be sewn: its pieces laid end to end, the first one where it
 * lies, every next one by the seam that joins the two at that place; where none
 * does, with its tangent running on.
 */
#pragma once

#include "sewing/joints.h"

typedef enum
{
  /* Ease is spread over its interval, so that matched marks meet: the place
   * on the other side by the share of the interval. */
  SEWING_WALK_MATCHED,
  /* One to one, as paper does it: marks pass each other by what the sides have
   * differed up to there. Where the shorter side ends both lie still, and the
   * pin goes on along what is left over of the longer. */
  SEWING_WALK_PAPER,
} SewingWalkBy;

/* A run of a side, as it is walked. */
typedef struct
{
  const SewingPiece *piece;
  guint edge; /* index */
  gboolean reversed;
  double from, to; /* lengths along the side */
  GeoMotion lay;   /* lays the run's piece end to end with the side's first */
} SewingWalkRun;

typedef struct
{
  const SewingSeam *seam;
  int fixed; /* the side that stays: 0 is A */
  SewingWalkBy by;
  double whole; /* length there is to walk */
  SewingWalkRun *runs[2];
  guint n_runs[2];
} SewingWalk;

typedef struct
{
  double walked;
  double along[2];   /* how far each side has been walked */
  guint run[2];      /* the runs that touch */
  GeoPoint at;       /* the pin: where they touch, on the table */
  GeoPoint tangent;  /* of the seam there, the way it is walked; (0, 0) where
                         the line has none */
  GeoMotion moving;  /* lays the moving side, as it lies end to end, on the
                         table */
  double difference; /* along[0] - along[1]: what A has been longer so far */
  guint interval;    /* of the seam's intervals: the one side A is in */
} SewingWalkStep;

/* A seam's end as it will be sewn. */
typedef struct
{
  SewingJoint joint;
  /* The edge that runs on across the joint: towards the seam on A's side, away from it on
   * B's; as laid by the walk at that end. */
  GeoChain across[2];
} SewingWalkCorner;

/* NULL where a side is empty or points nowhere, or has no length. Holds as long as
 * the facts do: make a new one for each pattern, it costs microseconds. */
SewingWalk *sewing_walk_new (SewingFacts *facts, const Pattern *pattern,
                             const PatternSeam *seam, int fixed,
                             SewingWalkBy by);
void sewing_walk_free (SewingWalk *walk);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SewingWalk, sewing_walk_free)

/* walked, from 0 to whole, is held to it. Where two runs meet, the step belongs to the one
 * that ends there, but at 0 to the first. */
void sewing_walk_step (const SewingWalk *walk, double walked,
                       SewingWalkStep *step);
/* What to do with a run's piece to see it as the step has it. */
GeoMotion sewing_walk_motion (const SewingWalk *walk,
                              const SewingWalkStep *step, int side, guint run);
/* A mark at this length of a side has been reached. */
gboolean sewing_walk_has_reached (const SewingWalkStep *step, int side,
                                  double at);
/* Length to walk to a place on a side: to a mark, say. */
double sewing_walk_to (const SewingWalk *walk, int side, double at);
/* The way the touching point has come on a side, as it lies at the step; appended. A
 * gap between pieces that nothing joins stays a gap. */
void sewing_walk_trail (const SewingWalk *walk, const SewingWalkStep *step,
                        int side, GeoChain *trail);
/* end: 0 the start, 1 the end. FALSE where nothing runs across: a dart's point, or a
 * piece of one edge. corner is to be initialised by sewing_walk_corner_init(). */
void sewing_walk_corner_init (SewingWalkCorner *corner);
void sewing_walk_corner_clear (SewingWalkCorner *corner);
gboolean sewing_walk_corner (const SewingWalk *walk, SewingFacts *facts,
                             const Pattern *pattern, int end,
                             SewingWalkCorner *corner);
/* The place on the other side that faces one, lengths along the sides. */
double sewing_seam_facing (const SewingSeam *seam, int side, double at);
