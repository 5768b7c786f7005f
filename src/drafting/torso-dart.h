/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A dart of two mirrored legs, tapered where it is too wide for a straight point.
 *
 * Straight legs put the whole angle into the point. Above the limit of sewing/shaping.h the last part of
 * both legs is bent towards the middle line, evenly, so that no 20 mm of the seam take up more
 * than 11 degrees ("curve the last part inward to a fine taper", salmesewingpatterns.com "Sewing a straight
 * dart"; the figure is ours). A narrower dart stays straight.
 */
#pragma once

#include "geometry/cubic.h"

typedef struct
{
  GeoCubic legs[2][2]; /* from the mouth to the point: straight, then tapered */
  double length;       /* along the middle line */
  double leg;          /* along a leg */
  double half_angle;   /* of a leg off the middle line, at the mouth: radians */
} DraftingTorsoDart;

/* The mouth's ends are as far from the point as each other; taper: the longest stretch that may be
 * bent, mm, 0 for straight legs. Any input gives finite legs. */
void drafting_torso_dart (DraftingTorsoDart *dart, GeoPoint point, GeoPoint one,
                          GeoPoint other, double taper);
