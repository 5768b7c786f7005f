/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines from any SVG file: closed paths and basic shapes become pieces, open
 * ones construction lines; true millimetres by its units and viewBox (96 px to the inch). */
#pragma once

#include <gio/gio.h>

#include "pattern/pattern.h"

typedef struct
{
  double
      corner_angle; /* radians; default 20 degrees: a joint that turns more is a corner */
  double allowance; /* for every edge; default 10 mm */
  double
      least_size; /* closed paths smaller than this both ways are left out; default 5 mm */
} FileSvgOptions;

FileSvgOptions file_svg_options_default (void);
/* One shape as found, in mm, in document order. */
typedef struct
{
  char *name;     /* from title, label or id; may be "" */
  GeoChain chain; /* one subpath */
  gboolean closed;
} FileSvgShape;
void file_svg_shape_free (FileSvgShape *shape);
/* Array of FileSvgShape; width and height of the page in mm may be NULL. */
GPtrArray *file_svg_parse (const char *text, gsize length, const char *name,
                           double *width, double *height, GError **error);
/* A new pattern with a piece for each closed shape. options NULL: defaults. FILE_ERROR_NOT_OURS
 * where it is no SVG, and where nothing in it can be used, each with a message that says so. */
Pattern *file_svg_load (const char *path, const FileSvgOptions *options,
                        GError **error);
