/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Path data (W3C SVG 1.1, 8.3; the grammar of SVG 2, 9.3.9) as chains of cubics. */
#pragma once

#include <glib.h>

#include "geometry/chain.h"

typedef struct
{
  GeoChain chain;  /* at least one cubic */
  gboolean closed; /* by Z; the chain then ends exactly where it starts */
} FileSvgSubpath;

/* An array of FileSvgSubpath that clears them. */
GArray *file_svg_subpaths_new (void);

/* Appends the subpaths of d. Every command of the grammar; quadratics become cubics exactly, arcs
 * (appendix F.6) within tolerance, in d's units, of the true ellipse. At the first error FALSE,
 * with everything before the part in error, as the standard asks. Subpaths of no
 * segment are left out. */
gboolean file_svg_path_parse (const char *d, double tolerance,
                              GArray *subpaths);
/* Appends the arc from one point to another to the chain; F.6.5 and, for radii that are 0, too
 * small or negative, F.6.2 and F.6.6. */
void file_svg_arc (GeoChain *chain, GeoPoint from, double rx, double ry,
                   double turn_deg, gboolean large, gboolean sweep, GeoPoint to,
                   double tolerance);
/* Pairs of coordinates as of polyline; returns how many points could be read. */
guint file_svg_points_parse (const char *text, GArray *points);
