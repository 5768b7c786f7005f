/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines traced from a picture, put into a pattern. */
#pragma once

#include "pattern/pattern.h"
#include "tracing/shape.h"

typedef struct
{
  GeoMotion place;  /* the picture's sheet to the table: mm to mm */
  double allowance; /* mm, for every edge; 10 is usual */
  gboolean darts;   /* notches that look like darts become darts */
  gboolean
      grain; /* a grainline, upright in the piece; else none, for how a piece lay in its
                       picture says nothing of its grain */
  const char *const
      *names; /* of the pieces, in order; NULL or short: "piece 1" and so on */
} FileTracedWish;

#define FILE_TRACED_WISH                                                       \
  ((FileTracedWish){ { 1, 0, 0, 0, false }, 10, FALSE, FALSE, NULL })

/* A new pattern with all of p, and for each closed line a piece, its edges from corner to corner, smooth
 * nodes smooth. A hole is an inner line of the piece it lies in,
 * named "hole"; open lines are construction lines, named "traced line 1" and so on. Where darts are wanted each notch's
 * sides are two edges, "dart leg", joined as a dart.
 *
 * Ids of the new pieces are appended to new_pieces (guint, may be NULL), in the order of their lines. Fails with
 * TRACING_ERROR_NOTHING where there is no line, and TRACING_ERROR_SCALE where one reaches farther than 100 m. */
Pattern *file_traced_add (const Pattern *p, const TracingLine *lines, gsize n,
                          const FileTracedWish *wish, GArray *new_pieces,
                          GError **error);
