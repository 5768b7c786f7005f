/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A true-scale SVG: stitch lines, cutting lines, marks and names in named groups.
 *
 * One unit is a millimetre of the table, so coordinates are those of the pattern; to a millionth of
 * a millimetre. A group "piece-ID" for each piece holds groups "piece-ID-stitch", -cutting, -fold,
 * -notches, -clips, -grain, -marks, -lines and -words, those that have something in them, each
 * with a title for people. The size of words is approximate: it hangs on the reader's font.
 */
#pragma once

#include <gio/gio.h>

#include "pattern/pattern.h"

char *file_svg_write (const Pattern *pattern, gsize *length);
gboolean file_svg_save (const Pattern *pattern, const char *path,
                        GError **error);
