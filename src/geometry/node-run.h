/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A smooth run of cubics told by its nodes, and the least-squares system over
 * all of them: what fit-run.c and fair.c work on.
 *
 * A node is a place, a direction and the lengths of its two handles; the
 * direction being one for both sides, whatever comes out is joined smoothly.
 */
#pragma once

#include "geometry/chain.h"

typedef struct
{
  GeoPoint at;
  double angle;     /* of the way on, from the x axis */
  double in, out;   /* handle lengths, not negative */
  double curvature; /* that both sides are to have; for fair.c */
} GeoNode;

typedef struct
{
  GeoNode *nodes;
  size_t count, room;
  bool closed; /* a last cubic runs from the last node to the first */
} GeoNodeRun;

/* x, y, angle, in, out, curvature */
#define GEO_FREEDOMS 6

void geo_node_run_clear (GeoNodeRun *run);
void geo_node_run_reset (GeoNodeRun *run, bool closed);
void geo_node_run_add (GeoNodeRun *run, GeoNode node);
void geo_node_run_copy (GeoNodeRun *target, const GeoNodeRun *source);
size_t geo_node_run_cubics (const GeoNodeRun *run);
GeoCubic geo_node_run_cubic (const GeoNodeRun *run, size_t k);
/* The cubics, appended; the first starts where the chain ends, if anywhere. */
void geo_node_run_append (const GeoNodeRun *run, GeoChain *chain);

/* Normal equations H x = g of one cubic's two nodes: of the freedoms of the
 * node it starts at, then of those of the node it ends at. */
typedef struct
{
  double h[2 * GEO_FREEDOMS][2 * GEO_FREEDOMS];
  double g[2 * GEO_FREEDOMS];
} GeoNodeBlock;

/* Adds weight (row . x - value)^2 / 2. */
void geo_node_block_add (GeoNodeBlock *block,
                         const double row[2 * GEO_FREEDOMS], double weight,
                         double value);
/* Turns a row over the eight coordinates x0, y0 ... x3, y3 of a cubic's points
 * into one over its nodes' freedoms. */
void geo_node_row (const GeoNode *from, const GeoNode *to,
                   const double by_point[8], double row[2 * GEO_FREEDOMS]);

/* The whole: blocks on and beside the diagonal, and those that couple a node to
 * the last one. Up to two right sides. */
typedef struct
{
  size_t count, room;
  double (*diagonal)[GEO_FREEDOMS][GEO_FREEDOMS];
  double (*next)[GEO_FREEDOMS][GEO_FREEDOMS];
  double (*last)[GEO_FREEDOMS][GEO_FREEDOMS];
  double (*right)[2][GEO_FREEDOMS];
  bool (*held)[GEO_FREEDOMS];
} GeoNodeSystem;

void geo_node_system_clear (GeoNodeSystem *system);
/* All zero, nothing held. */
void geo_node_system_reset (GeoNodeSystem *system, size_t nodes);
/* Adds the block of the cubic from one node to another. */
void geo_node_system_add (GeoNodeSystem *system, size_t from, size_t to,
                          const GeoNodeBlock *block);
/* Solves with the diagonal made greater by damping of itself (and a trifle,
 * for freedoms that nothing asks about); held freedoms get 0. The answers
 * replace the right sides. False where the system is not positive definite. */
bool geo_node_system_solve (GeoNodeSystem *system, double damping, int sides);
