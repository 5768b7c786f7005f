/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A line of the garment as it will be sewn: the edges that run on into each other
 * across seams and closed darts, laid together as a drafter lays her paper pieces
 * with their seams on each other. A neckline over the shoulder, an armhole, a hem
 * over all its panels. */
#pragma once

#include "sewing/joints.h"

/* One edge of the line, the way the line runs. */
typedef struct
{
  guint piece, edge; /* ids */
  gboolean reversed; /* from the edge's end to its start */
  GeoMotion lay;     /* lays the piece in the line */
  GeoChain laid;     /* the edge as it lies there, the way the line runs */
  double from, to;   /* lengths along the line */
} SewingLineRun;

/* Where one edge runs into the next: the end of a seam or a dart. */
typedef struct
{
  guint seam;       /* id */
  int end;          /* 0 the seam's start, 1 its end */
  gboolean a_first; /* the edge before the joint is beside the seam's side A */
  GeoPoint at;      /* as laid */
  GeoPoint out;     /* unit: along the seam, out of the pieces */
  double angle;     /* of the cloth there; pi is true, more is a dip */
  double
      step; /* what the seam's sides differ beyond the meant ease: how far one
                       edge stands out when the seam is walked from its other end, mm */
  gboolean dart;
} SewingLineJoint;

/* What the line comes to at either end. */
typedef struct
{
  gboolean fold; /* an edge on the fold; the line is to leave it square */
  double angle;  /* of the cloth there; pi / 2 is square. 0 where not known */
  GeoPoint at,
      in; /* as laid; in: unit, along the fold into the piece, (0, 0) where
                      no fold */
} SewingLineEnd;

typedef struct
{
  SewingLineRun *runs;
  guint n_runs; /* 2 at least */
  SewingLineJoint *joints;
  guint n_joints; /* n_runs - 1 */
  guint asked;    /* the joint it was made for */
  SewingLineEnd ends[2];
  double length;
} SewingLine;

/* The line through the seam's end (0 its start, 1 its end), followed both ways as
 * far as it runs on (but not round a turned edge, into a facing); it runs towards the side B. The edge beside side A stays
 * where it lies on the table. A line that closes (an armhole) is cut open at the
 * joint that is farthest on. Holds no borrowed facts. NULL where nothing runs
 * across: a dart's point, or a side with nothing there. */
SewingLine *sewing_line_new (SewingFacts *facts, const Pattern *pattern,
                             const PatternSeam *seam, int end);
/* A reach to begin with, over which a joint is blended on either side, mm: a quarter of the
 * shorter of its two edges, but 20 mm to 120 mm where there is room, in whole steps of
 * the pattern's unit (5 mm, 1/2 in). */
double sewing_joint_reach (SewingFacts *facts, const Pattern *pattern,
                           const SewingJoint *joint);
void sewing_line_free (SewingLine *line);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SewingLine, sewing_line_free)
/* The whole line; appended. */
void sewing_line_chain (const SewingLine *line, GeoChain *chain);
GeoBox sewing_line_bounds (const SewingLine *line);
