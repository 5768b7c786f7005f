/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Roots in [0, 1] of a polynomial in Bernstein form.
 *
 * Sign changes of the coefficients bound the number of roots and halving
 * never adds any (Farouki and Rajan 1987), so the search always ends and
 * misses no simple root. Where the signs cannot be told from rounding any
 * more, a cluster of roots (a double root, say) is given once.
 */
#pragma once

#define GEO_POLYNOMIAL_DEGREE 9

/* b holds degree + 1 coefficients; roots has room for degree numbers and is
 * filled ascending. degree is 0 to GEO_POLYNOMIAL_DEGREE. Returns how many; 0
 * for the zero polynomial. A root that is only touched (even multiplicity) is
 * given when rounding leaves it a chance of being one: check it. */
int geo_polynomial_roots (const double *b, int degree, double *roots);
/* Value at t. */
double geo_polynomial_value (const double *b, int degree, double t);
