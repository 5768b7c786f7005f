/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tables of verbs share. */
#pragma once

#include "drafting/change.h"
#include "drafting/edit-private.h"
#include "drafting/verb.h"

#define DRAFTING_TABLE(array, n)                                               \
  (*(n) = G_N_ELEMENTS (array), (const DraftingVerb *)(array))
#define DRAFTING_PARAMETERS(array) (array), G_N_ELEMENTS (array)

/* The place an edge's key and a length's key tell; without a length the edge's middle. */
DraftingPlace drafting_values_place (const Pattern *p, const DraftingValues *v,
                                     const char *edge, const char *at);
/* The first point, NULL where it was left empty. */
const GeoPoint *drafting_values_point (const DraftingValues *v,
                                       const char *key);
