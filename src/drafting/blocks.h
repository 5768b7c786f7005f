/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The geometry of simple pieces from a block: skirt panels and sleeves. */
#pragma once

#include "drafting/shape.h"

/* A quarter of a skirt, on the fold: the waist an arc of the length, the hem its parallel, longer
 * by the flare; the two seams are straight and equal. Edges: waist, side, hem, centre. FALSE where the
 * panel would turn through more than half a circle. */
gboolean drafting_skirt_shape (double waist, double length, double flare,
                               DraftingShape *shape);
/* The radius of its waist; INFINITY for one without flare. */
double drafting_skirt_radius (double waist, double length, double flare);

typedef struct
{
  double back, front; /* lengths of the cap's halves */
  double cap;         /* its height */
  double length;      /* from the crown to the hem */
  double hem;         /* width there */
} DraftingSleeveWish;

/* Edges: back-cap, front-cap, front-side, hem, back-side. The cap's halves are of exactly the
 * lengths, the two sides equal; cap and hem leave both sides square. FALSE where the cap is too high for
 * its lengths, or the sleeve not long enough for its cap. */
gboolean drafting_sleeve_shape (const DraftingSleeveWish *wish,
                                DraftingShape *shape, double *width);
/* Finds the cap's height that makes the sleeve so wide under the arm. 0 where it is found, to 1e-6 mm; 1 where
 * the width is too great for the cap's lengths, -1 where it is too small. */
int drafting_sleeve_cap_for (DraftingSleeveWish *wish, double width);
