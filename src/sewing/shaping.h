/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a seam does to the flat cloth.
 *
 * Where two sheets that bend but do not stretch are joined along an edge, the
 * joined surface carries along it the Gaussian curvature (k_A + k_B) ds, each k
 * positive where its own piece bulges, and at a point where corners meet 2 pi
 * less the sum of their angles (Gauss-Bonnet for a strip around the seam, and
 * for a disc around the point; M. P. do Carmo, Differential Geometry of Curves
 * and Surfaces, 1976, section 4-5). Its integral over a stretch is the angle of
 * the dart that would do the same: above zero a dome, below it a saddle, zero
 * where the two edges are complements and the joined cloth lies flat.
 *
 * All this is geometry of cloth that neither stretches nor shears; an edge that
 * is eased or gathered does something besides. Seams that are turned lie double,
 * and say nothing of a dome: they are for the caller to leave out. */
#pragma once

#include "sewing/facts.h"

/* The window shaping is called sharp over, mm, and how many degrees in it show
 * as a point in most cloths: a rule of ours, an estimate. */
#define SEWING_SHARP_WINDOW 20.0
#define SEWING_SHARP_DEG 12.0

/* The shaping up to a place on side A: before what sits at the place itself (a
 * joint, a dart's point), and with it. */
typedef struct
{
  double at;
  double before_deg, after_deg;
} SewingShapingKnot;

typedef struct
{
  SewingShapingKnot *knots; /* 0 to the seam's length on A, ascending, at most
                               2 mm apart; marks and joints are among them */
  guint n_knots;
  double total_deg;    /* of the whole seam, a dart's point with it */
  double point_deg[2]; /* at its start and its end where both sides meet in one
                           corner of one piece, a dart's point; else 0 */
  double sharp_deg; /* the largest over any 20 mm, 0 where none is above it */
  double sharp_from, sharp_to; /* where, on A */
  double hollow_deg; /* the most of a saddle over any 20 mm, negative or 0 */
  double hollow_from, hollow_to;
} SewingShaping;

/* Where seams meet inside the garment. */
typedef struct
{
  guint piece, edge; /* a corner there: where this edge starts; ids */
  GeoPoint at;       /* on the table */
  guint corners;     /* how many corners meet */
  gboolean dart;     /* both legs of one dart end there */
  gboolean turned;  /* a turned seam ends there: a corner of something that lies
                        double, no shaping */
  double angle_deg; /* 360 less their angles */
} SewingShapingPoint;

/* NULL where a side is empty or points nowhere. Kept with the seam's other facts;
 * side by side runs are taken to meet in their two corners alone. */
const SewingShaping *sewing_facts_shaping (SewingFacts *facts,
                                           const Pattern *pattern,
                                           const PatternSeam *seam);
/* Over a stretch of A, with what sits at its two ends; degrees. */
double sewing_shaping_between (const SewingShaping *shaping, double from,
                               double to);
/* Per length, over the 6 mm around the place: degrees per cm. */
double sewing_shaping_rate (const SewingShaping *shaping, double at);
/* Array of SewingShapingPoint: every place where sewn corners close up, edges
 * on the fold counting with their other half. A dart's point is in its seam's
 * total, too. Left out are points at the garment's edge, such where an edge is in
 * several seams, and such inside a side of several runs, which count with that
 * seam. Pieces cut more than once are taken as joined to the copy that the seams
 * name. */
GArray *sewing_shaping_points (SewingFacts *facts, const Pattern *pattern);
