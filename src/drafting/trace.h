/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves a recipe draws from others: bent, moved by an amount that changes along
 * them, and told again by few nodes.
 *
 * What comes out of trace and bend is dense: a cubic every few millimetres, off
 * the exact curve by less than 1e-5 mm on pattern-sized curves. drafting_trace_fit()
 * brings it to a set number of cubics, so that a piece drafted anew has the same
 * nodes whatever the amounts.
 */
#pragma once

#include "geometry/length.h"

/* The point at a length. */
typedef GeoPoint (*DraftingTraceAt) (double s, const void *data);

/* The curve from one value to another (either way), appended. */
void drafting_trace (DraftingTraceAt at, const void *data, double from,
                     double to, GeoChain *out);

/* Turning put into a curve: angle, radians, by its left normal; spread over reach
 * on both sides of a place, with no jump of curvature. kink: instead of what the
 * curve itself turns by at a joint there. */
typedef struct
{
  double at, reach, angle;
} DraftingBend;

/* The curve with its joints, of any angle, and the bends spread out: the joint's
 * own turn over the reach of the bend at its place (1e-6 mm), or over 2 mm. Its length
 * is the chain's, exactly in the limit; it starts as the chain does. out is emptied first. */
void drafting_trace_bend (const GeoChain *chain, const DraftingBend *bends,
                          size_t n, GeoChain *out);

/* Cubics, one from each length to the next, first 0 and last the whole. Each keeps places
 * and directions at its ends. Returns the largest distance from the chain, mm. out is
 * emptied first. */
double drafting_trace_fit (const GeoChain *chain, const double *at, size_t n,
                           GeoChain *out);
/* The same with equal parts. */
double drafting_trace_fit_even (const GeoChain *chain, size_t cubics,
                                GeoChain *out);
/* The part between two lengths, exact; to before from gives it reversed. out is emptied first. */
void drafting_trace_part (const GeoChain *chain, double from, double to,
                          GeoChain *out);
/* 0 to 1 as x runs from 0 to 1, held beyond; level at both ends, its curvature
 * 0 there. */
double drafting_trace_step (double x);
/* One cubic between two points, directions given (unit), handles by the share of the chord that
 * fits an arc of that turn. */
GeoCubic drafting_trace_arc (GeoPoint from, GeoPoint out, GeoPoint to,
                             GeoPoint in);
