/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arc length, and the place at an arc length.
 *
 * Gauss-Legendre quadrature of |P'|, split until an error bound holds. Checked
 * against GSL's adaptive quadrature and, for the ellipse, the complete elliptic
 * integral (NIST DLMF 19.30).
 */
#pragma once

#include "geometry/chain.h"

/* tolerance in mm; anything below 1e-10 is taken as 1e-10. */
double geo_cubic_length (const GeoCubic *c, double tolerance);
/* Length from t = 0 to t. */
double geo_cubic_length_to (const GeoCubic *c, double t, double tolerance);
/* The t at a length from the start; length is clamped to the segment.
 * Monotone: a longer length never gives a smaller t. */
double geo_cubic_at_length (const GeoCubic *c, double length, double tolerance);

double geo_chain_length (const GeoChain *chain, double tolerance);
double geo_chain_length_to (const GeoChain *chain, GeoPlace place,
                            double tolerance);
GeoPlace geo_chain_at_length (const GeoChain *chain, double length,
                              double tolerance);

/* A place on one cubic, the length up to it and the speed |P'| there. */
typedef struct
{
  double t, length, speed;
} GeoKnot;

/* Lengths of a chain measured once, for many questions: a table from which the
 * place at a length is found in a step or two of Newton's method, to the same
 * tolerance. Borrows the chain, which must outlive it unchanged. */
typedef struct
{
  const GeoChain *chain;
  double *before; /* count + 1: length before cubic i; last is the whole */
  double tolerance, grid;
  GeoKnot *knots;
  size_t *first; /* count + 1: the first knot of cubic i */
  size_t knot_count, knot_room;
} GeoRuler;

void geo_ruler_init (GeoRuler *ruler, const GeoChain *chain, double tolerance);
void geo_ruler_clear (GeoRuler *ruler);
double geo_ruler_length (const GeoRuler *ruler);
GeoPlace geo_ruler_place (const GeoRuler *ruler, double length);
double geo_ruler_length_to (const GeoRuler *ruler, GeoPlace place);
