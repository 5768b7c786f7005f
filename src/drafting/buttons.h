/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sizes and places of buttons. Rules of the trade; sources beside the tests. */
#pragma once

#include "geometry/point.h"

/* A worked hole is the diameter, the thickness and 3 mm long, a bound one without the 3. */
double drafting_buttonhole_length (double diameter, double thickness,
                                   bool bound);
/* How far a front goes on past its centre: the diameter, of small buttons (up to 9.5 mm)
 * one and a half. */
double drafting_button_extension (double diameter);
/* One ligne is a fortieth of an inch. */
double drafting_ligne (double lignes);
/* From the first to the last in equal steps; 0 for fewer than two. */
double drafting_button_step (double first, double last, int count);
/* The largest diameter that stands clear of an edge so far from the centre. */
double drafting_button_largest (double extension);
