/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An edge drawn to what a picture under it shows. */
#pragma once

#include "drafting/edit.h"
#include "tracing/stroke.h"

typedef struct
{
  double seen;  /* share of the edge along which something was seen */
  double off;   /* mm: how far the worst place seen lies from the new edge */
  double moved; /* mm: the farthest any place has gone */
} DraftingDrawn;

/* The edge, its ends with it, moves to the nearest drawn line or border between light and dark within
 * reach (mm), and is laid anew within 0.15 mm. plane: pixels to the table's mm. Refused where less than half of it has
 * something to be seen beside it, and where the outline would cross itself. told may be NULL. */
Pattern *drafting_draw_to_picture (const Pattern *p, guint piece, guint edge,
                                   TracingPicture *picture,
                                   const TracingPlane *plane, double reach,
                                   DraftingDrawn *told, GError **error);
