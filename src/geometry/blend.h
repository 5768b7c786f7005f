/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One fair curve in place of two that meet at an angle. */
#pragma once

#include "geometry/chain.h"

/* before ends where after starts, at the joint. Finds the curve from the start of
 * before to the end of after that passes through the joint with one direction and
 * one curvature, keeps place, tangent and curvature of both outer ends, and
 * changes its curvature as evenly as is found (geometry/fair.h). It comes in two parts, left up to the joint
 * and right from there on, of as many cubics each, two to four; what they held is replaced. The joint stays where
 * it is, so a straight before or after comes out with a slight wave: for two of length r
 * that meet at a small angle 2 d it is the quintic d s (1 + s/r) (1 - s/r)^3,
 * 0.134 r d high.
 *
 * False, with copies of what was given, where either is empty or a point, where
 * they do not meet, where the outer tangents have no direction, or where no
 * such curve was found: because the lengths are too unequal for the angle, say. */
bool geo_blend (const GeoChain *before, const GeoChain *after, GeoChain *left,
                GeoChain *right);
