/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines from any SVG file: closed paths and basic shapes become pieces, open
 * ones construction lines; true millimetres by its units and viewBox (96 px to the inch).
 *
 * Taken: every path, rect, circle, ellipse, line, polyline and polygon that is drawn, each
 * subpath a shape of its own, through groups, links, nested svg, switch and use. Not taken: what
 * display or visibility hides, what serves only as clip, mask, marker or pattern, words and
 * pictures; shapes beyond 100 m. Whether a shape has a fill or a line, and what a clip
 * leaves of it, is not looked at. Arcs are within 0.005 mm of the true ellipse. Where path data
 * is in error, what stands before the error is taken (W3C SVG 1.1, F.2). Ends that meet within 0.01 mm
 * close a path. References to other files are not followed. Of a piece that file_svg_save() wrote its
 * stitch line alone is taken, by the piece's name.
 */
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
/* Array of FileSvgShape, empty where there is none; width and height of the page in mm (0: it
 * does not say) may be NULL. */
GPtrArray *file_svg_parse (const char *text, gsize length, const char *name,
                           double *width, double *height, GError **error);
/* The same with everything that is drawn for pieces of our own. */
GPtrArray *file_svg_parse_all (const char *text, gsize length, const char *name,
                               double *width, double *height, GError **error);
/* A new pattern with a piece for each closed shape. options NULL: defaults. FILE_ERROR_NOT_OURS
 * where it is no SVG, and where nothing in it can be used, each with a message that says so. */
Pattern *file_svg_load (const char *path, const FileSvgOptions *options,
                        GError **error);
/* The same from text, as pasted; name is what to call it: a file's name, say. */
Pattern *file_svg_to_pattern (const char *text, gsize length, const char *name,
                              const FileSvgOptions *options, GError **error);
