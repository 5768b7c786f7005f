/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Construction lines: guides drawn on the table with ruler, square and compass, to draw over. In
 * the manner of edit.h. Each becomes a line of the pattern with a name; a guide point is a small cross.
 *
 * Angles are degrees, 0 to the right, and on from there against the clock: 90 is up the
 * table.
 */
#pragma once

#include "drafting/change.h"

#define DRAFTING_CROSS 4.0 /* mm: half the height of a guide point's cross */

/* The middle of a guide point; FALSE for a line that is none. */
gboolean drafting_guide_is_point (const PatternLine *line, GeoPoint *at);
/* By its name, capitals the same; the first of several. NULL. */
const PatternLine *drafting_find_guide (const Pattern *p, const char *name);

Pattern *drafting_guide_point (const Pattern *p, GeoPoint from, double distance,
                               double angle, const char *name, GError **error);
/* From a point so far that way. */
Pattern *drafting_guide_line (const Pattern *p, GeoPoint from, double distance,
                              double angle, const char *name, GError **error);
Pattern *drafting_guide_on_edge (const Pattern *p, DraftingPlace at,
                                 const char *name, GError **error);
/* Square to the edge there, so far into the piece; below 0 out of it. */
Pattern *drafting_guide_square (const Pattern *p, DraftingPlace at,
                                double length, const char *name,
                                GError **error);
/* Where two guides meet, each drawn on straight at its ends where they do not reach; the place
 * nearest to where they would. A cross. */
Pattern *drafting_guide_meeting (const Pattern *p, const char *one,
                                 const char *two, const char *name,
                                 GError **error);
/* An arc of a length, from a point about a centre, against the clock; below 0 with it. At
 * most the whole circle. */
Pattern *drafting_guide_arc (const Pattern *p, GeoPoint centre, GeoPoint from,
                             double length, const char *name, GError **error);
/* A fair curve through points, two at least. */
Pattern *drafting_guide_curve (const Pattern *p, const GeoPoint *points,
                               guint n, const char *name, GError **error);
Pattern *drafting_remove_guide (const Pattern *p, const char *name,
                                GError **error);

/* The curve itself, appended: passes the points in order; points of a circle give that circle,
 * nearly (see guides.c); two points a straight line. Points on one place are taken once. */
void drafting_curve_through (const GeoPoint *points, guint n, GeoChain *curve);
