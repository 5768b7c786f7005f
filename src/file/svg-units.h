/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers, lengths, transforms and view boxes as SVG writes them (W3C SVG 1.1, chapters 4, 7). */
#pragma once

#include <glib.h>

#include "geometry/cubic.h"

#define FILE_SVG_MM_PER_PX (25.4 / 96)

/* x' = a x + c y + e, y' = b x + d y + f */
typedef struct
{
  double a, b, c, d, e, f;
} FileSvgMatrix;

typedef struct
{
  double x, y, width, height;
} FileSvgBox;

#define FILE_SVG_IDENTITY ((FileSvgMatrix){ 1, 0, 0, 1, 0, 0 })

/* inner first, then outer */
FileSvgMatrix file_svg_matrix_multiply (FileSvgMatrix outer,
                                        FileSvgMatrix inner);
GeoPoint file_svg_matrix_apply (FileSvgMatrix m, GeoPoint p);
/* The most a length can grow. */
double file_svg_matrix_scale (FileSvgMatrix m);

/* Past blanks. */
void file_svg_skip_blanks (const char **at);
/* Past blanks and at most one comma between them; FALSE where there is a comma but nothing to be
 * separated may follow is the caller's to see. Returns whether there was a comma. */
gboolean file_svg_skip_comma (const char **at);
/* A number by the grammar, moved past; FALSE and not moved where there is none, or it is not
 * finite. */
gboolean file_svg_scan_number (const char **at, double *number);

/* User units; percent of the given whole; fallback where text is NULL or no length. em is 16 px
 * and ex 8 px: fonts are not looked at. */
double file_svg_length (const char *text, double whole, double fallback);
gboolean file_svg_is_percent (const char *text);
/* Identity where text is NULL or not a list of transforms. */
FileSvgMatrix file_svg_transform (const char *text);
/* FALSE where text is NULL, unreadable or without size. */
gboolean file_svg_view_box (const char *text, FileSvgBox *box);
/* From the box's units to those of the view it fills, by preserveAspectRatio (may
 * be NULL). */
FileSvgMatrix file_svg_fit (FileSvgBox box, FileSvgBox view,
                            const char *preserve);
