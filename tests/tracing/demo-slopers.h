/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The two slopers that come with the program as cut from card, for the picture of them that comes with it
 * too: waist darts cut out as notches, laid beside a sheet of A4. */
#pragma once

#include "picture-maker.h"

typedef struct
{
  GeoChain back, front; /* mm, on the table */
  GeoPoint sheet[4];
  GeoBox view;
} DemoSlopers;

/* From data/slopers.bodkin. */
void demo_slopers_init (DemoSlopers *demo, const char *path);
void demo_slopers_clear (DemoSlopers *demo);
TracingPicture *demo_slopers_make (const DemoSlopers *demo,
                                   TracingPlane *truth);
