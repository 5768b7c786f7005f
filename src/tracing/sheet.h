/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finding a sheet of paper, or another rectangle lighter or darker than what it lies on, in a
 * picture: its four sides as lines to a part of a pixel. */
#pragma once

#include "tracing/plane.h"

typedef struct
{
  GeoPoint corners
      [4]; /* px, in order round; the first side is one of the shorter as far as the
                          view tells */
  double
      off; /* px: how far the worst place of its sides lies from its straight line: the residual */
  double quality; /* 0..1: how much of the sides was seen */
} TracingSheet;

/* The sheets there seem to be whose sides are as width to height (mm, either way round), best first; as
 * many as fit in room. near (or NULL): one that has this place in it. Takes a second for 12 megapixels. */
gsize tracing_find_sheets (TracingPicture *picture, double width, double height,
                           const GeoPoint *near, TracingSheet *sheets,
                           gsize room);
/* Four corners set by hand, each within reach px of the true one: each side is found within reach of
 * where it is, and the corners put where sides meet. FALSE, with the sheet's corners as given, where too little of a
 * side was seen; off then is NAN. */
gboolean tracing_refine_sheet (TracingPicture *picture,
                               const GeoPoint corners[4], double reach,
                               TracingSheet *sheet);
