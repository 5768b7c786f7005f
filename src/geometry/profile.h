/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A width that changes along a line: how far to let out or take in, by the
 * length gone.
 */
#pragma once

#include <stdbool.h>
#include <stddef.h>

typedef enum
{
  GEO_PROFILE_EASED, /* as smooth as a second derivative, never past its knots */
  GEO_PROFILE_STRAIGHT /* straight from knot to knot */
} GeoProfileKind;

/* The width d, in mm, at mm along. */
typedef struct
{
  double at, d;
} GeoProfileKnot;

typedef struct
{
  const GeoProfileKnot *knots; /* borrowed */
  size_t count;
  GeoProfileKind kind;
} GeoProfile;

/* At least one knot, all finite, every at above the one before. */
bool geo_profile_is_sound (const GeoProfile *profile);
/* The width at a place, and its slope, which may be NULL. Before the first knot
 * and past the last the width is theirs. Eased, it is monotone from knot to
 * knot, level at the first, the last, and wherever it turns, and has no second
 * derivative at any knot. At a knot of a straight profile the slope is that of
 * what follows. */
double geo_profile_at (const GeoProfile *profile, double at, double *slope);
/* The same on one stretch: that before the first knot is 0, that after knot i
 * is i + 1; the slope at its ends is its own. */
double geo_profile_on (const GeoProfile *profile, size_t stretch, double at,
                       double *slope);
/* Whether the width is the same all along a stretch. */
bool geo_profile_is_level (const GeoProfile *profile, size_t stretch);

/* 0 at so far before the place, amount there, 0 again at so far past it; reach
 * > 0. Returns 3, the number of knots. */
size_t geo_profile_swell (double at, double reach, double amount,
                          GeoProfileKnot knots[3]);
