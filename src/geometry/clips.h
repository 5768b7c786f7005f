/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clips, notches and hem fullness: what a curved allowance needs before it lies
 * flat.
 *
 * At depth t from the stitch line an allowance was cut (1 + t k) ds long, with k
 * positive where its own edge bulges. Folded back on its own piece it must lie
 * in (1 - t k) ds: a surplus of 2 w k ds at the cut edge. Laid over the partner
 * instead (the far ply of a seam pressed to one side) the surplus is
 * w (k_own + k_partner) ds. Surplus wants wedges out, shortage wants slits.
 */
#pragma once

#include "geometry/length.h"

typedef enum
{
  GEO_CUT_SLIT,
  GEO_CUT_WEDGE
} GeoCutKind;

typedef struct
{
  double at;    /* length along the chain */
  double depth; /* from the cut edge toward the stitch line */
  double mouth; /* width at the cut edge that a wedge takes out; 0 for a slit */
  GeoCutKind kind;
} GeoCut;

typedef struct
{
  double width;    /* of the allowance */
  double give;     /* strain the cloth takes up: 0.04 means 4 % */
  double facet;    /* how far a facet may stand off the curve; default 0.3 */
  double opening;  /* of one slit or wedge at the cut edge; default 6 */
  double closest;  /* lower hold on the spacing; default 4 */
  double farthest; /* upper hold; default 25 */
  double keep_off; /* from balance marks; default 5 */
  bool stagger;    /* shift by half a step: the second ply */
  /* Fixed by hand, 0 where it is computed: cuts as nearly this far apart as the length
   * allows, wherever the strain is over 0.5 %, give or no give. */
  double spacing;
  /* Where the other ply's cuts fall on this chain: lengths along it, borrowed.
   * No cut is set nearer to one than apart (default 2), unless there is no room
   * for it elsewhere. */
  const double *facing;
  size_t facing_count;
  double apart;
} GeoClipRule;

typedef struct
{
  GeoCut *cuts;
  size_t count, room;
  double surplus;          /* over the whole edge at the cut edge, mm, signed:
                          positive must come out, negative must open */
  double comes_out, opens; /* the two parts of it, each 0 or more: an edge that
                              bulges and is hollow has both */
  double longest_gap, shortest_gap; /* between neighbouring cuts of one stretch
                                       of demand; 0 when there are none */
  double trim_to; /* width at which the spacing is met, 0 where it is met */
} GeoClipPlan;

GeoClipRule geo_clip_rule_default (double width, double give);
void geo_clip_plan_init (GeoClipPlan *plan);
void geo_clip_plan_clear (GeoClipPlan *plan);
/* Spacing at a curvature: min of sqrt (8 facet / |k|) and
 * opening / (2 w |k|), held between closest and farthest. INFINITY where the
 * demand 2 w |k| is within the give. */
double geo_clip_spacing (const GeoClipRule *rule, double curvature);
/* The plan for one edge. outside is +1 where the chain's own piece bulges when its
 * k > 0 (an outline of positive area walked forwards), -1 walked backwards.
 * partner is NULL for a ply folded back on its own piece; else it gives the
 * partner's curvature (positive where the partner bulges) at a length along
 * this chain, for a ply laid over the partner. marks are lengths of balance
 * marks to keep off. Cuts come ascending. Where nodes inside the edge turn inward
 * by more than 0.2 rad there is a slit at the node itself, marks or no marks. An
 * allowance of less than 2.5 mm is not cut. */
void geo_clip_plan (const GeoRuler *edge, int outside, const GeoClipRule *rule,
                    double (*partner) (double at, void *data), void *data,
                    const double *marks, size_t mark_count, GeoClipPlan *plan);
/* Surplus at the raw edge of a turned-up hem of depth h: 2 h theta; mm, signed. */
double geo_hem_surplus (const GeoChain *hem, int outside, double depth);
